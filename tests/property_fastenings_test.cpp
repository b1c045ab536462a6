// Whatever holds a base in metal: more of anything is never weaker, and no mixture beats its better
// half.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <thole/reading.hpp>
#include <thole/report.hpp>

#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;

namespace {

constexpr double rounding = 1e-6;
const Angle step = degrees(15);

GivenForce figure(Force f) { return {f, "a test in scrap"}; }

// Kinds in metal. Those with threads behind the wall have a bar there.
constexpr HoldBy kinds[] = {HoldBy::tapped,        HoldBy::tapped_bar,   HoldBy::through_bolt,
                            HoldBy::thread_insert, HoldBy::blind_insert, HoldBy::self_tapping,
                            HoldBy::rivet};

Fastening of_kind(HoldBy hold, test::PlateDice& dice, const Fastening& like) {
  const MaterialLibrary& tables = built_in_materials();
  Fastening f = like;
  f.hold = hold;
  f.washer.reset();
  f.backing.reset();
  f.insert.reset();
  f.blind.reset();
  f.rivet.reset();
  f.thread = tables.thread(dice.below(2) == 0 ? "1/4-20" : "M6");
  const Backing bar{test::alloy(dice), dice.inches(0.5, 0.7), 3.0_in, 1.4_in};
  switch (hold) {
    case HoldBy::tapped_bar:
      f.backing = bar;
      break;
    case HoldBy::through_bolt:
      f.washer = Washer{"test washer", dice.inches(0.45, 0.6), f.thread.clearance, 1.0_mm};
      break;
    case HoldBy::thread_insert:
      f.backing = bar;
      f.insert = ThreadInsert{dice.below(2) == 0, f.thread.diameter, figure(900.0_lbf)};
      break;
    case HoldBy::blind_insert:
      f.blind = BlindInsert{.flange = 13.0_mm,
                            .bulb = dice.between(10, 13) * 1.0_mm,
                            .hole = 9.0_mm,
                            .pull_out = figure(dice.between(100, 900) * 1.0_lbf),
                            .thread_holds = figure(900.0_lbf),
                            .turns_at = std::nullopt,
                            .like = {}};
      break;
    case HoldBy::self_tapping:
      f.thread = tables.spaced_thread("1/4-14");
      break;
    case HoldBy::rivet:
      f.rivet = RivetKind{true, figure(300.0_lbf), figure(400.0_lbf)};
      f.thread.name = "3/16 in";
      f.thread.diameter = 3.0 / 16 * 1.0_in;
      f.thread.pitch = Length{};
      f.thread.clearance = 1.04 * f.thread.diameter;
      f.thread.head_across_flats = 1.75 * f.thread.diameter;
      break;
    default:
      break;
  }
  return f;
}

// A random plate held by that kind, in metal that its rule covers.
Setup random_held(HoldBy hold, test::PlateDice& dice) {
  for (;;) {
    Setup s = test::random_load(dice);
    s.plate().host.thickness = dice.inches(0.085, 0.2);
    s.plate().fastening = of_kind(hold, dice, s.plate().fastening);
    if (test::is_valid_plate(s)) return s;
  }
}

Assessment assessed(const Setup& s) { return test::quick(s, in_degrees(step)); }

// No check of the better one has a smaller factor.
void never_weaker(const Setup& plain, const Setup& better, const char* what) {
  if (!test::is_valid_plate(better)) return;
  const Assessment a = assessed(plain);
  const Assessment b = assessed(better);
  CAPTURE(what);
  for (const CheckResult& c : a.checks) {
    if (!test::concerned(c)) continue;
    for (const CheckResult& d : b.checks) {
      if (d.mode != c.mode || d.part != c.part || !test::concerned(d)) continue;
      CHECK_MESSAGE(d.factor >= c.factor * (1 - rounding), c.mode);
    }
  }
  if (a.hold_limit && b.hold_limit) {
    CHECK(b.hold_limit->value() >= a.hold_limit->value() * (1 - 1e-3));
  }
  CHECK(!(a.hold_limit && !b.hold_limit));
}

void stronger(Metal& m) {
  m.yield *= 1.15;
  m.ultimate *= 1.15;
  m.shear_ultimate *= 1.15;
}

template <class Visit>
void each_kind(unsigned seed, int of_each, Visit visit) {
  test::PlateDice dice(seed);
  for (const HoldBy hold : kinds) {
    for (int n = 0; n < of_each; ++n) {
      const Setup s = random_held(hold, dice);
      CAPTURE(std::string(plural_of(hold)));
      CAPTURE(n);
      visit(s);
    }
  }
}

}  // namespace

TEST_SUITE("property") {
  TEST_CASE("fastenings: a thicker or stronger part never lowers a factor") {
    each_kind(501, 3, [](const Setup& s) {
      const auto with = [&](const char* what, auto change) {
        Setup t = s;
        change(t.plate());
        never_weaker(s, t, what);
      };
      with("thicker wall", [](GunwalePlate& m) { m.host.thickness *= 1.3; });
      with("stronger wall", [](GunwalePlate& m) { stronger(m.host.metal); });
      with("thicker base", [](GunwalePlate& m) { m.base.thickness *= 1.3; });
      with("stronger fastener", [](GunwalePlate& m) {
        m.fastening.material.ultimate *= 1.2;
        m.fastening.material.yield *= 1.2;
        m.fastening.material.shear_ultimate *= 1.2;
      });
      with("larger head", [](GunwalePlate& m) { m.fastening.head *= 1.2; });
      if (s.plate().fastening.backing) {
        with("stronger bar", [](GunwalePlate& m) { stronger(m.fastening.backing->metal); });
      }
      if (s.plate().fastening.insert) {
        with("longer insert", [](GunwalePlate& m) { m.fastening.insert->length *= 1.5; });
        with("higher figure", [](GunwalePlate& m) { m.fastening.insert->pull_out->value *= 2; });
      }
      if (s.plate().fastening.blind) {
        with("wider bulb", [](GunwalePlate& m) { m.fastening.blind->bulb *= 1.2; });
        with("higher figure", [](GunwalePlate& m) {
          m.fastening.blind->pull_out->value *= 2;
          m.fastening.blind->thread_holds->value *= 2;
        });
      }
      if (s.plate().fastening.rivet) {
        with("higher figure", [](GunwalePlate& m) {
          m.fastening.rivet->tension->value *= 2;
          m.fastening.rivet->shear->value *= 2;
        });
      }
    });
  }

  TEST_CASE("fastenings: twice the load takes half of each factor and no more") {
    each_kind(502, 3, [](const Setup& s) {
      Setup twice = s;
      twice.gear.front().plain_load->pull *= 2.0;
      const Assessment a = assessed(s);
      const Assessment b = assessed(twice);
      for (const CheckResult& c : a.checks) {
        if (!test::concerned(c) || c.case_title.empty()) continue;
        const double now = test::check_of(b, c.mode).factor;
        CHECK_MESSAGE(now <= c.factor * (1 + rounding), c.mode);
        CHECK_MESSAGE(now >= 0.5 * c.factor * (1 - rounding), c.mode);
      }
    });
  }

  TEST_CASE("fastenings: the mirrored mount has the same factors") {
    each_kind(503, 3, [](const Setup& s) {
      Setup t = s;
      GunwalePlate& m = t.plate();
      if (m.host.form != WallForm::sheet) {
        m.base.from_inboard_edge = m.host.flat - m.base.from_inboard_edge;
      }
      m.host.lip_root_inboard = !m.host.lip_root_inboard;
      m.host.slope = -m.host.slope;
      for (PlanPoint& p : m.base.outline) p.y = -p.y;
      std::reverse(m.base.outline.begin(), m.base.outline.end());
      for (PlanPoint& p : m.fastening.holes) p.y = -p.y;
      PlainLoad& p = *t.gear.front().plain_load;
      p.at = Position<Base>(p.at.x(), -p.at.y(), p.at.z());
      const Angle from = p.range.azimuth_from;
      p.range.azimuth_from = -p.range.azimuth_to;
      p.range.azimuth_to = -from;
      validate(t);
      const Assessment a = assessed(s);
      const Assessment b = assessed(t);
      REQUIRE(a.checks.size() == b.checks.size());
      for (const CheckResult& c : a.checks) {
        if (!test::concerned(c)) continue;
        CHECK_MESSAGE(test::relative(c.factor, test::check_of(b, c.mode).factor) < 1e-4, c.mode);
      }
    });
  }

  TEST_CASE("fastenings: two kinds under one base are no better than all of the better one") {
    test::PlateDice dice(504);
    int compared = 0;
    for (int n = 0; n < 24; ++n) {
      CAPTURE(n);
      Setup one = random_held(kinds[std::size_t(dice.below(7))], dice);
      Setup other = one;
      const HoldBy hold = kinds[std::size_t(dice.below(7))];
      other.plate().fastening = of_kind(hold, dice, one.plate().fastening);
      Setup mixed = one;
      mixed.plate().second = other.plate().fastening;
      auto& first = mixed.plate().fastening.holes;
      auto& second = mixed.plate().second->holes;
      second.erase(second.begin(), second.begin() + 2);
      first.resize(2);
      if (!test::is_valid_plate(other) || !test::is_valid_plate(mixed)) continue;
      CAPTURE(std::string(plural_of(one.plate().fastening.hold)));
      CAPTURE(std::string(plural_of(hold)));
      const Assessment a = assessed(one);
      const Assessment b = assessed(other);
      const Assessment c = assessed(mixed);
      if (test::refused(a) || test::refused(b)) {
        // A wall that nobody measured is refused by how near the limit it is: that may differ.
        const auto by_a_check = [](const Assessment& x) {
          return std::any_of(x.checks.begin(), x.checks.end(),
                             [](const CheckResult& r) { return r.standing == Standing::refused; });
        };
        if (by_a_check(a) || by_a_check(b)) CHECK(test::refused(c));
        continue;
      }
      ++compared;
      const double best = std::max(test::worst_ratio(a, true), test::worst_ratio(b, true));
      CHECK(test::worst_ratio(c, true) <= best * (1 + rounding));
      REQUIRE((a.hold_limit && b.hold_limit && c.hold_limit));
      CHECK(c.hold_limit->value() <=
            std::max(a.hold_limit->value(), b.hold_limit->value()) * (1 + 1e-3));
    }
    CHECK(compared >= 8);
  }

  TEST_CASE("fastenings: every word of the JSON report is one of its schema") {
    const std::string schema = report_schema();
    each_kind(505, 1, [&](const Setup& s) {
      const std::string json = json_report(s, assessed(s));
      for (const std::string key : {"verdict", "standing"}) {
        const std::string start = "\"" + key + "\": \"";
        std::size_t at = json.find(start);
        CHECK(at != std::string::npos);
        for (; at != std::string::npos; at = json.find(start, at + 1)) {
          const std::size_t from = at + start.size();
          const std::string word = json.substr(from, json.find('"', from) - from);
          CHECK_MESSAGE(schema.find("\"" + word + "\"") != std::string::npos, key, ": ", word);
        }
      }
    });
  }
}
