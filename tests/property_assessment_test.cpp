// Properties that hold for every setup, tried on random ones from a fixed seed.

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <limits>
#include <numbers>
#include <random>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <thole/error.hpp>
#include <thole/metal_strength.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>

#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;
using Dice = thole::test::PlateDice;

namespace {

bool of_load(const CheckResult& c) { return concerned(c) && !c.case_title.empty(); }

// Splits a JSON text into its numbers and all the rest.
void split_numbers(const std::string& json, std::vector<double>& numbers, std::string& rest) {
  bool in_text = false;
  for (std::size_t i = 0; i < json.size();) {
    const char c = json[i];
    if (c == '"') in_text = !in_text;
    if (in_text && c == '\\') {
      rest += json.substr(i, 2);
      i += 2;
      continue;
    }
    if (!in_text && (c == '-' || (c >= '0' && c <= '9'))) {
      char* end = nullptr;
      numbers.push_back(std::strtod(json.c_str() + i, &end));
      rest += '#';
      i = std::size_t(end - json.c_str());
      continue;
    }
    rest += c;
    ++i;
  }
}

PlanPoint turned(const PlanPoint& p, double angle) {
  return {std::cos(angle) * p.x - std::sin(angle) * p.y,
          std::sin(angle) * p.x + std::cos(angle) * p.y};
}

}  // namespace

TEST_SUITE("property") {
  TEST_CASE("assessment: factors of a plain load scale with 1/load and the limit stays") {
    Dice dice(1);
    for (int n = 0; n < 120; ++n) {
      const Setup s = random_load(dice);
      const Assessment a = quick(s);
      for (const double by : {2.0, 0.25, 3.7, 0.1}) {
        Setup t = s;
        t.gear.front().plain_load->pull = by * s.gear.front().plain_load->pull;
        const Assessment b = quick(t);
        const double tolerance = by == 2 || by == 0.25 ? 1e-12 : 1e-9;
        CAPTURE(n);
        CAPTURE(by);
        for (const CheckResult& c : a.checks) {
          if (!of_load(c)) continue;
          CAPTURE(c.mode);
          CHECK(relative(c.factor, by * check_of(b, c.mode).factor) <= tolerance);
        }
        REQUIRE(a.hold_limit.has_value() == b.hold_limit.has_value());
        if (a.hold_limit) {
          CHECK(relative(a.hold_limit->value(), b.hold_limit->value()) <= 1e-9);
        }
      }
    }
  }

  TEST_CASE("assessment: a turn of base and load together changes no fastener force") {
    // The growth by a bending base is taken along the axes of the boat; a body as wide as the
    // hole pattern leaves it out.
    Dice dice(2);
    for (int n = 0; n < 120; ++n) {
      Setup s = random_load(dice);
      s.plate().host.form = WallForm::sheet;
      s.plate().host.slope = {};
      s.plate().host.to_support = 20.0_in;
      s.plate().host.to_end.reset();
      s.plate().base.body = 10.0_in;
      s.plate().fastening.hold = HoldBy::tapped;
      s.plate().fastening.backing.reset();
      const double angle = dice.between(-3, 3);
      Setup t = s;
      for (PlanPoint& p : t.plate().base.outline) p = turned(p, angle);
      for (PlanPoint& p : t.plate().fastening.holes) p = turned(p, angle);
      PlainLoad& load = *t.gear.front().plain_load;
      const PlanPoint at = turned({load.at.x(), load.at.y()}, angle);
      load.at = Position<Base>(at.x, at.y, load.at.z());
      // Azimuth runs from astern toward outboard: against the turn from forward to outboard.
      load.range.azimuth_from -= angle * si::radian;
      load.range.azimuth_to = load.range.azimuth_from;
      const Assessment a = quick(s);
      const Assessment b = quick(t);
      CAPTURE(n);
      for (const char* mode : {"screw-tension", "screw-shear"}) {
        CHECK(relative(check_of(a, mode).demand.si, check_of(b, mode).demand.si) <= 1e-9);
      }
      // And every single one on one bed.
      const auto forces = [](const Setup& u) {
        const BaseContact contact(u.plate().base.outline, BedStiffness::from_value(20e9),
                                  u.plate().fastening.holes, LinearStiffness::from_value(8e6));
        const PlainLoad& p = *u.gear.front().plain_load;
        const BaseLoad l = base_load(u.plate().host, u.gear.front(), LoadPath::point, p.pull,
                                     line_direction(p.range.azimuth_from, p.range.dip_from));
        return contact.solve(l.force.z(), l.moment.x(), l.moment.y());
      };
      const ContactResult one = forces(s);
      const ContactResult two = forces(t);
      REQUIRE(one.balance == Balance::stable);
      REQUIRE(two.balance == Balance::stable);
      double most = 0;
      for (std::size_t i = 0; i < s.plate().fastening.holes.size(); ++i) {
        most = std::max(most, one.tension[i].value());
      }
      for (std::size_t i = 0; i < s.plate().fastening.holes.size(); ++i) {
        CHECK(std::abs(one.tension[i].value() - two.tension[i].value()) <= 1e-9 * most);
      }
    }
  }

  TEST_CASE("assessment: inches and millimetres give the same JSON") {
    const std::vector<std::pair<std::string, std::string>> rod = {
        {"0.090 in", "2.286 mm"},
        {"flat: 2 in", "flat: 50.8 mm"},
        {"3 in", "76.2 mm"},
        {"1 7/8 in", "47.625 mm"},
        {"3/16 in", "4.7625 mm"},
        {"body: 7/8 in", "body: 22.225 mm"},
        {"2 1/4 in", "57.15 mm"},
        {"1 1/8 in", "28.575 mm"},
        {"4 in", "101.6 mm"},
        {"7 ft", "2133.6 mm"},
        {"20 lbf", "88.96443230521 N"},
        {"7 lbf", "31.1375513068235 N"},
        {"5 lbf", "22.2411080763025 N"},
        {"4 lb", "1.81436948 kg"}};
    const std::vector<std::pair<std::string, std::string>> load = {
        {"0.125 in", "3.175 mm"},
        {"to_support: 6 in", "to_support: 152.4 mm"},
        {"fore_aft: 3 in", "fore_aft: 76.2 mm"},
        {"athwart: 3 in", "athwart: 7.62 cm"},
        {"3/16 in", "4.7625 mm"},
        {"body: 1 in", "body: 25.4 mm"},
        {"fore_aft: 2 in", "fore_aft: 50.8 mm"},
        {"athwart: 2 in", "athwart: 50.8 mm"},
        {"forward: 1 in", "forward: 25.4 mm"},
        {"outboard: 2 in", "outboard: 50.8 mm"},
        {"up: 6 in", "up: 0.1524 m"},
        {"40 lbf", "177.92886461042 N"}};
    const auto same = [](const std::string& inches,
                         const std::vector<std::pair<std::string, std::string>>& swaps) {
      std::string metric = inches;
      for (const auto& [from, to] : swaps) metric = with(metric, from, to);
      const Setup s = read(inches);
      const Setup t = read(metric);
      std::vector<double> a;
      std::vector<double> b;
      std::string text_a;
      std::string text_b;
      split_numbers(json_report(s, assess(s)), a, text_a);
      split_numbers(json_report(t, assess(t)), b, text_b);
      CHECK(text_a == text_b);
      REQUIRE(a.size() == b.size());
      for (std::size_t i = 0; i < a.size(); ++i) CHECK(relative(a[i], b[i]) <= 1e-12);
    };
    same(rod_text, rod);
    same(load_text, load);
    same(with(rod_text, "units: inch", "units: metric"), rod);
    same(with(load_text, "up: 6 in", "up: 7.25 in"), [&] {
      auto swaps = load;
      swaps[10] = {"up: 7.25 in", "up: 184.15 mm"};
      return swaps;
    }());
  }

  TEST_CASE("assessment: stronger or thicker or longer or larger never lowers its own check") {
    Dice dice(3);
    const auto not_lower = [](const Assessment& a, const Assessment& b, const char* mode) {
      const CheckResult& x = check_of(a, mode);
      const CheckResult& y = check_of(b, mode);
      if (!concerned(x) || !concerned(y)) return;
      CAPTURE(mode);
      CHECK(y.factor >= x.factor * (1 - 1e-12));
    };
    for (int n = 0; n < 120; ++n) {
      const Setup s = random_load(dice);
      const Assessment a = quick(s);
      CAPTURE(n);
      const double by = dice.between(1.01, 1.8);
      {  // the alloy of the wall, same modulus: no check at all is lowered
        Setup t = s;
        Metal& m = t.plate().host.metal;
        m.ultimate *= by;
        m.yield *= by;
        m.shear_ultimate *= by;
        const Assessment b = quick(t);
        for (const CheckResult& c : a.checks) {
          if (concerned(c)) not_lower(a, b, c.mode.c_str());
        }
        if (a.hold_limit && b.hold_limit) {
          CHECK(b.hold_limit->value() >= a.hold_limit->value() * (1 - 1e-9));
        }
      }
      {  // the wall
        Setup t = s;
        t.plate().host.thickness = by * s.plate().host.thickness;
        if (is_valid_plate(t)) {
          const Assessment b = quick(t);
          for (const char* mode : {"thread-pull-out", "thread-strip-hole", "thread-strip-screw",
                                   "pull-out-with-bearing", "pull-over-behind",
                                   "wall-bearing-screw", "wall-bearing-bolt", "tear-out",
                                   "wall-yield", "lip-bending", "wall-rotation", "wall-press"}) {
            not_lower(a, b, mode);
          }
        }
      }
      if (s.plate().fastening.hold == HoldBy::tapped_bar) {  // the thread
        Setup t = s;
        t.plate().fastening.backing->thickness = by * s.plate().fastening.backing->thickness;
        const Assessment b = quick(t);
        for (const char* mode :
             {"thread-pull-out", "thread-strip-hole", "thread-strip-screw", "backing-bending"}) {
          not_lower(a, b, mode);
        }
      }
      {  // the heads and washers
        Setup t = s;
        t.plate().fastening.head = by * s.plate().fastening.head;
        if (t.plate().fastening.washer) t.plate().fastening.washer->outside *= by;
        const Assessment b = quick(t);
        not_lower(a, b, "pull-over");
        not_lower(a, b, "pull-over-behind");
        not_lower(a, b, "wall-yield");
      }
    }
  }

  TEST_CASE("assessment: the pull-out strength never falls with depth") {
    const Thread thread = built_in_materials().thread("1/4-20");
    for (const char* name : {"6063-T5 extrusion", "6061-T6 extrusion", "5052-H32 sheet"}) {
      const Metal metal = built_in_materials().metal(name);
      double last = 0;
      for (int i = 0; i <= 1000; ++i) {
        const Length depth = (0.05 + 0.0005 * i) * 1.0_in;
        const double f = thin_wall_pull_out(thread, depth, metal, 50.0_ksi).strength.value();
        CAPTURE(name);
        CAPTURE(i);
        CHECK(f >= last * (1 - 1e-12));
        last = f;
      }
    }
  }

  TEST_CASE("assessment: a higher factor needed never raises the hold limit") {
    Dice dice(4);
    for (int n = 0; n < 100; ++n) {
      const Setup s = random_load(dice);
      const Assessment a = quick(s);
      for (const auto& row : s.required_factors) {
        const std::string& name = row.first;
        Setup t = s;
        t.factor_overrides[name] = row.second.measure.si * dice.between(1, 3);
        const Assessment b = quick(t);
        CAPTURE(name);
        CAPTURE(std::string(name));
        if (a.hold_limit && b.hold_limit) {
          CHECK(b.hold_limit->value() <= a.hold_limit->value() * (1 + 1e-11));
        } else if (b.hold_limit) {
          CHECK(refused(a) == false);
        }
      }
    }
  }

  TEST_CASE("assessment: the hold limit is where the worst ratio crosses 1") {
    Dice dice(5);
    int tried = 0;
    for (int n = 0; n < 150; ++n) {
      const Setup s = random_load(dice);
      const Assessment a = quick(s);
      if (!a.hold_limit || refused(a)) continue;
      CAPTURE(n);
      const auto at = [&](double by, Category category) {
        Setup t = s;
        t.gear.front().plain_load->pull = by * *a.hold_limit;
        t.gear.front().plain_load->category = category;
        return worst_ratio(quick(t), false);
      };
      if (!(a.hold_limit->value() > 0)) {  // a hole that touches the edge of the wall
        CHECK(worst_ratio(a, false) <= 0);
        continue;
      }
      ++tried;
      // The limit must allow the everyday pull, where pull-over is halved.
      CHECK(at(0.999, Category::everyday) >= 1);
      CHECK(at(0.999, Category::occasional) >= 1);
      CHECK(at(0.999, Category::accident) >= 1);
      CHECK(at(1.001, Category::everyday) < 1);
    }
    CHECK(tried > 60);
  }

  TEST_CASE("assessment: half the direction grid moves no factor of any check by 1 percent") {
    const auto compare = [](const Setup& s, const std::string& name) {
      const Assessment a = quick(s, 5);
      const Assessment b = quick(s, 2.5);
      if (refused(a)) return;
      CAPTURE(name);
      for (const CheckResult& c : a.checks) {
        if (!of_load(c)) continue;
        CAPTURE(c.mode);
        CHECK(relative(c.factor / c.needed,
                       check_of(b, c.mode).factor / check_of(b, c.mode).needed) <= 0.01);
      }
      REQUIRE(a.hold_limit.has_value() == b.hold_limit.has_value());
      if (a.hold_limit) {
        CHECK(relative(a.hold_limit->value(), b.hold_limit->value()) <= 0.01);
      }
    };
    compare(read(rod_text), "example");
    compare(read(with(rod_text, "hold: tapped",
                      "hold: tapped_bar\n    behind: {material: 6061-T6 "
                      "extrusion, thickness: 1/4 in, fore_aft: 4 in, athwart: 1 3/4 in}")),
            "bar");
    compare(read(with(rod_text, "toward: outboard", "toward: 45 deg")), "aft");
    compare(read(with(rod_text, "toward: outboard", "toward: astern")), "astern");
    compare(read(with(rod_text, "0.090 in", "0.125 in")), "thick wall");
    Dice dice(6);
    for (int n = 0; n < 20; ++n) compare(random_rod(dice), "random " + std::to_string(n));
  }

  TEST_CASE("assessment: a mirror image changes no factor") {
    Dice dice(7);
    for (int n = 0; n < 120; ++n) {
      Setup s = random_load(dice);
      s.plate().host.form = WallForm::sheet;
      s.plate().host.slope = {};
      s.plate().host.to_support = 20.0_in;
      s.plate().fastening.holes.front().x *= 0.9;  // no symmetry of its own
      Setup t = s;
      for (PlanPoint& p : t.plate().fastening.holes) p.y = -p.y;
      Outline turned_back(t.plate().base.outline.rbegin(), t.plate().base.outline.rend());
      for (PlanPoint& p : turned_back) p.y = -p.y;
      t.plate().base.outline = turned_back;
      PlainLoad& load = *t.gear.front().plain_load;
      load.at = Position<Base>(load.at.x(), -load.at.y(), load.at.z());
      load.range.azimuth_from = -load.range.azimuth_from;
      load.range.azimuth_to = load.range.azimuth_from;
      if (!is_valid_plate(s)) continue;
      const Assessment a = quick(s);
      const Assessment b = quick(t);
      CAPTURE(n);
      for (const CheckResult& c : a.checks) {
        CAPTURE(c.mode);
        if (concerned(c)) CHECK(relative(c.factor, check_of(b, c.mode).factor) <= 1e-9);
      }
    }
  }

  TEST_CASE("assessment: the same setup gives the same JSON") {
    Dice dice(8);
    const Setup rod = read(rod_text);
    CHECK(json_report(rod, assess(rod)) == json_report(rod, assess(rod)));
    for (int n = 0; n < 20; ++n) {
      const Setup s = random_load(dice);
      CHECK(json_report(s, assess(s)) == json_report(s, assess(s)));
    }
  }

  TEST_CASE("assessment: a mirror image with several masses under way changes no factor") {
    Dice dice(9);
    for (int n = 0; n < 40; ++n) {
      Setup s = random_load(dice);
      s.plate().host.form = WallForm::sheet;
      s.plate().host.slope = {};
      s.plate().host.to_support = 20.0_in;
      s.plate().fastening.holes.front().x *= 0.9;
      s.gear.push_back(random_load(dice).gear.front());
      for (Gear& g : s.gear) {
        g.plain_load->mass = dice.between(0.5, 10) * 1.0_kg;
        g.plain_load->category = dice.below(2) == 0 ? Category::everyday : Category::occasional;
      }
      Setup t = s;
      for (PlanPoint& p : t.plate().fastening.holes) p.y = -p.y;
      Outline turned_back(t.plate().base.outline.rbegin(), t.plate().base.outline.rend());
      for (PlanPoint& p : turned_back) p.y = -p.y;
      t.plate().base.outline = turned_back;
      for (Gear& g : t.gear) {
        PlainLoad& load = *g.plain_load;
        load.at = Position<Base>(load.at.x(), -load.at.y(), load.at.z());
        load.range.azimuth_from = -load.range.azimuth_from;
        load.range.azimuth_to = load.range.azimuth_from;
      }
      if (!is_valid_plate(s)) continue;
      const Assessment a = quick(s);
      const Assessment b = quick(t);
      CAPTURE(n);
      REQUIRE(a.cases.size() == b.cases.size());
      for (std::size_t i = 0; i < a.cases.size(); ++i) {
        CHECK(relative(a.cases[i].factor, b.cases[i].factor) <= 1e-9);
      }
      for (const CheckResult& c : a.checks) {
        CAPTURE(c.mode);
        if (concerned(c)) CHECK(relative(c.factor, check_of(b, c.mode).factor) <= 1e-9);
      }
    }
  }

  TEST_CASE("assessment: a case added never raises a limit or a factor") {
    Dice dice(10);
    for (int n = 0; n < 12; ++n) {
      Setup s = random_rod(dice);
      s.gear.front().name = "rod";
      const Assessment a = quick(s);
      Setup t = s;
      CaseEdit edit;
      edit.what = CaseEdit::What::add;
      edit.name = "towing a float";
      edit.why = "a test";
      edit.gear = dice.below(3) == 0 ? "" : "rod";
      edit.pull = dice.between(1, 60) * 1.0_lbf;
      const double azimuth = dice.between(-180, 100);
      const double dip = dice.between(-80, 20);
      edit.range = DirectionRange{degrees(azimuth), degrees(azimuth + dice.between(0, 80)),
                                  degrees(dip), degrees(dip + dice.between(0, 60))};
      edit.category = dice.below(2) == 0 ? Category::everyday : Category::occasional;
      t.case_edits.push_back(edit);
      const Assessment b = quick(t);
      CAPTURE(n);
      REQUIRE(b.cases.size() == a.cases.size() + 1);
      for (const CheckResult& c : a.checks) {
        CAPTURE(c.mode);
        if (!of_load(c)) continue;
        const CheckResult& d = check_of(b, c.mode);
        CHECK(d.factor / d.needed <= c.factor / c.needed * (1 + 1e-9));
      }
      if (a.hold_limit && b.hold_limit) {
        CHECK(b.hold_limit->value() <= a.hold_limit->value() * (1 + 1e-6));
      }
    }
  }

  TEST_CASE("assessment: another rod without mass never raises a factor of the first") {
    Dice dice(11);
    for (int n = 0; n < 12; ++n) {
      Setup s = random_rod(dice);
      Setup t = s;
      t.gear.push_back(random_rod(dice).gear.front());
      t.gear.back().rod_holder->mass = {};
      const Assessment a = quick(s);
      const Assessment b = quick(t);
      CAPTURE(n);
      for (const CheckResult& c : a.checks) {
        CAPTURE(c.mode);
        if (!of_load(c)) continue;
        const CheckResult& d = check_of(b, c.mode);
        CHECK(d.factor / d.needed <= c.factor / c.needed * (1 + 0.003));
      }
      if (a.hold_limit && b.hold_limit) {
        CHECK(b.hold_limit->value() <= a.hold_limit->value() * (1 + 0.003));
      }
    }
  }

  TEST_CASE("assessment: a base found from the position before is the one found from nothing") {
    Dice dice(12);
    for (int n = 0; n < 60; ++n) {
      const Setup s = random_load(dice);
      const auto& holes = s.plate().fastening.holes;
      const BaseContact contact(s.plate().base.outline,
                                BedStiffness::from_value(std::pow(10, dice.between(9, 12))), holes,
                                LinearStiffness::from_value(8e6));
      ContactStart start;
      ContactResult warm;
      for (int i = 0; i < 60; ++i) {
        // Small steps, and now and then a load from quite another side.
        const double turn = i % 9 == 8 ? dice.between(0, 6) : 0.1 * i;
        const Force up = dice.between(-200, 200) * 1.0_lbf;
        const Moment mx = 20 * std::cos(turn) * 1.0_lbf * 1.0_in;
        const Moment my = 300 * std::sin(turn) * 1.0_lbf * 1.0_in;
        const ContactResult cold = contact.solve(up, mx, my);
        contact.solve(up, mx, my, start, warm);
        REQUIRE(cold.balance == warm.balance);
        double most = std::abs(up.value());
        for (const Force& f : cold.tension) most = std::max(most, f.value());
        for (std::size_t k = 0; k < holes.size(); ++k) {
          CHECK(std::abs(cold.tension[k].value() - warm.tension[k].value()) <= 1e-9 * most);
        }
        CHECK(std::abs((cold.bed_force - warm.bed_force).value()) <= 1e-9 * most);
      }
    }
  }
}
