// What every answer of a setup keeps to, tried on random setups from fixed seeds: limits by
// direction, more and less pull, the ladder, changes, sweeps, sizes and fit.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <memory>
#include <numbers>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <thole/changes.hpp>
#include <thole/error.hpp>
#include <thole/fit.hpp>
#include <thole/reading.hpp>
#include <thole/sizing.hpp>
#include <thole/sweep.hpp>
#include <thole/thole.hpp>

#include "reading/sizing_space.hpp"
#include "support/boards.hpp"
#include "support/hosts.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;
using Dice = thole::test::PlateDice;

namespace {

// Fewer where nothing is optimised.
int tries(int n) { return boards(n); }
bool all_tried() { return boards(100) == 100; }

AssessOptions coarse(double step = 15) {
  AssessOptions o;
  o.step = degrees(step);
  o.neighbours = false;
  o.by_direction = true;  // as every command
  return o;
}

// Also what only a report needs: the pulls at which things go, and with them the ladder.
AssessOptions full(double step = 15) {
  AssessOptions o = coarse(step);
  o.neighbours = true;
  return o;
}

// A grid of 15 deg is followed by a search: two grids may differ by this.
constexpr double of_search = 0.02;

double value(const std::optional<Force>& f) {
  return f ? f->value() : std::numeric_limits<double>::infinity();
}

const RangeLimit* row_of(const GearLimit& l, const std::string& where) {
  for (const RangeLimit& r : l.by_direction) {
    if (r.where == where) return &r;
  }
  return nullptr;
}

Setup ranged_load(Dice& dice) {
  for (;;) {
    Setup s = random_load(dice);
    DirectionRange& r = s.gear.front().plain_load->range;
    r.azimuth_to = r.azimuth_from + degrees(dice.between(0, 200));
    r.dip_to = std::min(r.dip_from + degrees(dice.between(0, 60)), degrees(90));
    if (is_valid_plate(s)) return s;
  }
}

// Legs that lean are refused: these stand upright.
Setup upright_board(BoardDice& dice) {
  for (;;) {
    Setup s = random_board(dice);
    if (!s.board().legs.empty()) s.board().bow_up = {};
    for (Leg& l : s.board().legs) l.foot_outboard = l.foot_forward = {};
    if (is_valid(s)) return s;
  }
}

Setup any_plate(Dice& dice) { return dice.below(3) == 0 ? random_rod(dice) : ranged_load(dice); }

void check_rows(const GearLimit& l) {
  if (l.by_direction.empty()) return;
  double least = std::numeric_limits<double>::infinity();
  double least_pull = least;
  double least_setting = least;
  for (const RangeLimit& r : l.by_direction) {
    CAPTURE(r.where);
    least = std::min(least, value(r.hold_limit));
    least_pull = std::min(least_pull, value(r.not_before));
    least_setting = std::min(least_setting, value(r.setting));
    // What holds with its factors is below what goes.
    CHECK(value(r.hold_limit) <= value(r.not_before) * (1 + 1e-9));
    if (value(r.hold_limit) > 0) CHECK_FALSE((r.set_by.empty() && r.tips.empty()));
    if (r.setting && r.hold_limit) CHECK(1.5 * *r.setting <= (1 + 1e-9) * *r.hold_limit);
  }
  CHECK(relative(least, value(l.hold_limit)) <= 1e-9);
  CHECK(value(l.not_before) <= least_pull * (1 + 1e-9));
  CHECK(value(l.not_before) >= least_pull * (1 - of_search));
  if (std::isfinite(least_setting)) CHECK(value(l.setting) <= least_setting * (1 + 1e-9));
}

// ---- Texts

double rank(Order o) { return o == Order::wanted ? 0 : o == Order::not_certain ? 1 : 2; }

std::string sixteenths(Dice& dice, int from, int to) {
  const int n = from + dice.below(to - from + 1);
  return (n / 16 > 0 ? std::to_string(n / 16) + " " : std::string()) + std::to_string(n % 16) +
         "/16 in";
}

// A rod, a plain pull on metal, and one on timber, with values of their own.
std::string random_text(Dice& dice) {
  const auto number = [&](double from, double to) {
    return std::to_string(std::round(100 * dice.between(from, to)) / 100);
  };
  const char* const walls[] = {"0.063 in", "0.080 in", "0.090 in", "0.125 in", "0.190 in"};
  const char* const threads[] = {"'#10-24'", "1/4-20", "5/16-18"};
  switch (dice.below(3)) {
    case 0: {
      std::string text = with(jon_boat, "0.090 in", walls[dice.below(5)]);
      text = with(text, "height: 4 in", "height: " + sixteenths(dice, 40, 100));
      text = with(text, "7 lbf", number(2, 9) + " lbf");
      text = with(text, "lean: 60 deg", "lean: " + number(10, 75) + " deg");
      text = with(text, "5 lbf, known", number(1, 5) + " lbf, known");
      return with(text, "1/4-20", threads[dice.below(3)]);
    }
    case 1: {
      std::string text = with(load_text, "0.125 in", walls[dice.below(5)]);
      text = with(text, "pull: 40 lbf", "pull: " + number(5, 80) + " lbf");
      text = with(text, "up: 6 in", "up: " + sixteenths(dice, 16, 160));
      text = with(text, "azimuth: 30 deg", "azimuth: [0 deg, " + number(1, 180) + " deg]");
      return with(text, "1/4-20", threads[dice.below(3)]);
    }
    default: {
      std::string text = with(timber_text, "pull: 20 lbf", "pull: " + number(10, 150) + " lbf");
      text = with(text, "thickness: 1/4 in", "thickness: " + sixteenths(dice, 2, 6));
      text = with(text, "up: 4 in", "up: " + sixteenths(dice, 16, 160));
      return with(text, "outboard: 1 in", "outboard: " + number(-2, 2) + " in");
    }
  }
}

bool same_worth(const Worth& a, const Worth& b) {
  return a.verdict == b.verdict && a.ratio == b.ratio && a.gives_way == b.gives_way &&
         a.factor == b.factor && a.hold_limit == b.hold_limit && a.setting == b.setting &&
         a.conditions == b.conditions && a.reasons == b.reasons;
}

Worth worth_of_text(const std::string& text, double step) {
  const Setup s = read(text);
  return worth_of(s, assess(s, coarse(step)));
}

// ---- Fit

FitPoint at(double x, double y) { return {x * si::metre, y * si::metre}; }
Length metres(double v) { return v * si::metre; }
double gap(const FitShape& a, const FitShape& b) { return gap_between(a, b).distance.value(); }

FitShape box_shape(double x, double y) {
  FitShape s;
  s.points = {at(0, 0), at(x, 0), at(x, y), at(0, y)};
  return s;
}

FitShape moved(FitShape s, double x, double y, double turn = 0) {
  for (FitPoint& p : s.points) {
    const double px = p.x.value();
    const double py = p.y.value();
    p = at(x + std::cos(turn) * px - std::sin(turn) * py,
           y + std::sin(turn) * px + std::cos(turn) * py);
  }
  s.from += turn * si::radian;
  s.to += turn * si::radian;
  return s;
}

FitShape in_a_mirror(FitShape s) {
  for (FitPoint& p : s.points) p.y = -p.y;
  const Angle from = s.from;
  s.from = -s.to;
  s.to = -from;
  return s;
}

FitShape random_shape(Dice& dice) {
  FitShape s;
  switch (dice.below(4)) {
    case 0: {
      // A star about its middle is simple, and mostly not convex.
      const int n = 3 + dice.below(6);
      for (int i = 0; i < n; ++i) {
        const double r = dice.between(0.05, 0.4);
        const double a = 2 * std::numbers::pi * (i + dice.between(-0.3, 0.3)) / n;
        s.points.push_back(at(r * std::cos(a), r * std::sin(a)));
      }
      break;
    }
    case 1:
      s.form = FitShape::Form::sector;
      s.points = {at(0, 0)};
      s.outer = metres(dice.between(0.05, 0.5));
      s.inner = dice.below(2) == 0 ? Length{} : dice.between(0, 0.9) * s.outer;
      s.from = degrees(dice.between(-180, 180));
      s.to = s.from + degrees(dice.between(5, 360));
      break;
    case 2: {
      s.form = FitShape::Form::path;
      s.points = {at(0, 0), at(dice.between(0.1, 0.8), dice.between(-0.4, 0.4))};
      if (dice.below(2) == 0)
        s.points.push_back(at(dice.between(0.9, 1.2), dice.between(-0.4, 0.4)));
      s.width = metres(dice.between(0, 0.1));
      break;
    }
    default:
      s = box_shape(dice.between(0.02, 0.5), dice.between(0.02, 0.5));
  }
  return moved(s, dice.between(-0.8, 0.8), dice.between(-0.8, 0.8), dice.between(-3, 3));
}

bool convex(const FitShape& s) {
  if (s.form != FitShape::Form::outline) {
    return s.form == FitShape::Form::path && s.points.size() == 2;
  }
  const std::size_t n = s.points.size();
  for (std::size_t i = 0; i < n; ++i) {
    const FitPoint& p = s.points[i];
    const FitPoint& q = s.points[(i + 1) % n];
    const FitPoint& r = s.points[(i + 2) % n];
    const Area turn = (q.x - p.x) * (r.y - q.y) - (q.y - p.y) * (r.x - q.x);
    if (turn.value() < 0) return false;
  }
  return true;
}

}  // namespace

TEST_SUITE("property") {
  TEST_CASE("answers: the least row by direction is the limit of the gear of a plate") {
    Dice dice(101);
    for (int n = 0; n < tries(12); ++n) {
      const Setup s = any_plate(dice);
      AssessOptions o = full();
      const Assessment whole = assess(s, o);
      o.by_direction = true;
      const Assessment a = assess(s, o);
      CAPTURE(n);
      REQUIRE(a.reasons == whole.reasons);
      REQUIRE(a.gear_limits.size() == whole.gear_limits.size());
      for (std::size_t g = 0; g < a.gear_limits.size(); ++g) {
        check_rows(a.gear_limits[g]);
        // More is looked at: never more than without rows.
        const double plain = value(whole.gear_limits[g].hold_limit);
        CHECK(value(a.gear_limits[g].hold_limit) <= plain * (1 + 1e-9));
        CHECK(value(a.gear_limits[g].hold_limit) >= plain * (1 - of_search));
      }
      // The verdict is none of their business.
      CHECK(a.verdict == whole.verdict);
    }
  }

  TEST_CASE("answers: a wider range never raises a row or the limit") {
    Dice dice(102);
    for (int n = 0; n < tries(12); ++n) {
      const Setup s = ranged_load(dice);
      Setup t = s;
      DirectionRange& r = t.gear.front().plain_load->range;
      r.azimuth_from -= degrees(dice.between(0, 60));
      r.azimuth_to += degrees(dice.between(0, 60));
      r.dip_from = std::max(r.dip_from - degrees(dice.between(0, 30)), degrees(-90));
      r.dip_to = std::min(r.dip_to + degrees(dice.between(0, 30)), degrees(90));
      if (!is_valid_plate(t)) continue;
      AssessOptions o = coarse();
      o.by_direction = true;
      const Assessment a = assess(s, o);
      const Assessment b = assess(t, o);
      CAPTURE(n);
      if (a.gear_limits.empty() || b.gear_limits.empty()) continue;
      const GearLimit& narrow = a.gear_limits.front();
      const GearLimit& wide = b.gear_limits.front();
      CHECK(value(wide.hold_limit) <= value(narrow.hold_limit) * (1 + of_search));
      CHECK(value(wide.not_before) <= value(narrow.not_before) * (1 + of_search));
      for (const RangeLimit& row : narrow.by_direction) {
        const RangeLimit* now = row_of(wide, row.where);
        CAPTURE(row.where);
        if (now == nullptr) {
          CHECK(row.where.find("straight") != std::string::npos);
          continue;
        }
        CHECK(value(now->hold_limit) <= value(row.hold_limit) * (1 + of_search));
        CHECK(value(now->not_before) <= value(row.not_before) * (1 + of_search));
      }
    }
  }

  TEST_CASE("answers: bow and stern exchanged gives each row to the other end") {
    Dice dice(103);
    for (int n = 0; n < tries(10); ++n) {
      Setup s = ranged_load(dice);
      s.plate().fastening.holes.front().x *= 0.9;  // no symmetry of its own
      if (!is_valid_plate(s)) continue;
      Setup t = s;
      for (PlanPoint& p : t.plate().fastening.holes) p.x = -p.x;
      Outline back(t.plate().base.outline.rbegin(), t.plate().base.outline.rend());
      for (PlanPoint& p : back) p.x = -p.x;
      t.plate().base.outline = back;
      PlainLoad& p = *t.gear.front().plain_load;
      p.at = Position<Base>(-p.at.x(), p.at.y(), p.at.z());
      const PlainLoad& q = *s.gear.front().plain_load;
      p.range.azimuth_from = degrees(180) - q.range.azimuth_to;
      p.range.azimuth_to = degrees(180) - q.range.azimuth_from;
      if (!is_valid_plate(t)) continue;
      AssessOptions o = coarse();
      o.by_direction = true;
      const Assessment a = assess(s, o);
      const Assessment b = assess(t, o);
      CAPTURE(n);
      CHECK(a.verdict == b.verdict);
      REQUIRE(a.gear_limits.size() == b.gear_limits.size());
      for (std::size_t g = 0; g < a.gear_limits.size(); ++g) {
        CHECK(relative(value(a.gear_limits[g].hold_limit), value(b.gear_limits[g].hold_limit)) <=
              of_search);
        CHECK(relative(value(a.gear_limits[g].not_before), value(b.gear_limits[g].not_before)) <=
              of_search);
        for (const char* where : {"pull abeam outboard", "pull abeam inboard"}) {
          const RangeLimit* one = row_of(a.gear_limits[g], where);
          const RangeLimit* two = row_of(b.gear_limits[g], where);
          REQUIRE((one == nullptr) == (two == nullptr));
          if (one == nullptr) continue;
          CAPTURE(where);
          CHECK(relative(value(one->hold_limit), value(two->hold_limit)) <= of_search);
        }
      }
    }
  }

  TEST_CASE("answers: port and starboard exchanged gives a board the same rows") {
    BoardDice dice(104);
    for (int n = 0; n < tries(4); ++n) {
      const Setup s = upright_board(dice);
      AssessOptions o = coarse(30);
      o.by_direction = true;
      const Assessment a = assess(s, o);
      const Assessment b = assess(mirrored(s), o);
      CAPTURE(n);
      CHECK(a.verdict == b.verdict);
      REQUIRE(a.gear_limits.size() == b.gear_limits.size());
      for (std::size_t g = 0; g < a.gear_limits.size(); ++g) {
        const GearLimit& one = a.gear_limits[g];
        const GearLimit& two = b.gear_limits[g];
        check_rows(one);
        CHECK(relative(value(one.hold_limit), value(two.hold_limit)) <= of_search);
        REQUIRE(one.by_direction.size() == two.by_direction.size());
        for (std::size_t r = 0; r < one.by_direction.size(); ++r) {
          CAPTURE(one.by_direction[r].where);
          CHECK(one.by_direction[r].where == two.by_direction[r].where);
          CHECK(relative(value(one.by_direction[r].hold_limit),
                         value(two.by_direction[r].hold_limit)) <= of_search);
        }
      }
    }
  }

  TEST_CASE("answers: one more boom angle never raises a row or the limit of a board") {
    BoardDice dice(105);
    for (int n = 0; n < tries(4); ++n) {
      const Setup s = upright_board(dice);
      Setup t = s;
      t.gear.front().downrigger->boom_angles.push_back(degrees(dice.between(30, 50)));
      if (!is_valid(t)) continue;
      AssessOptions o = coarse(30);
      o.by_direction = true;
      const Assessment a = assess(s, o);
      const Assessment b = assess(t, o);
      CAPTURE(n);
      if (a.gear_limits.empty() || b.gear_limits.empty()) continue;
      REQUIRE(a.gear_limits.size() == b.gear_limits.size());
      for (std::size_t g = 0; g < a.gear_limits.size(); ++g) {
        CHECK(value(b.gear_limits[g].hold_limit) <=
              value(a.gear_limits[g].hold_limit) * (1 + of_search));
        CHECK(value(b.gear_limits[g].not_before) <=
              value(a.gear_limits[g].not_before) * (1 + of_search));
        for (const RangeLimit& row : a.gear_limits[g].by_direction) {
          const RangeLimit* now = row_of(b.gear_limits[g], row.where);
          CAPTURE(row.where);
          REQUIRE(now != nullptr);
          CHECK(value(now->hold_limit) <= value(row.hold_limit) * (1 + of_search));
        }
      }
    }
  }

  TEST_CASE("answers: a scale of the pulls divides factors and leaves the limit") {
    Dice dice(106);
    for (int n = 0; n < tries(15); ++n) {
      const Setup s = ranged_load(dice);
      const Assessment a = assess(s, coarse());
      for (const double k : {0.3, 1.7}) {
        AssessOptions o = coarse();
        o.pull_scale = k;
        const Assessment b = assess(s, o);
        CAPTURE(n);
        CAPTURE(k);
        REQUIRE(a.hold_limit.has_value() == b.hold_limit.has_value());
        CHECK(relative(value(a.hold_limit), value(b.hold_limit)) <= 1e-9);
        CHECK(relative(value(a.not_before), value(b.not_before)) <= 1e-9);
        for (const CheckResult& c : a.checks) {
          if (!concerned(c) || c.mode.ends_with("-fatigue")) continue;
          CAPTURE(c.mode);
          const double by = c.case_title.empty() ? 1 : k;
          CHECK(relative(c.factor, by * check_of(b, c.mode).factor) <= 1e-9);
        }
      }
    }
  }

  TEST_CASE("answers: a scale of the pulls on a rod is heavier tackle") {
    Dice dice(107);
    for (int n = 0; n < tries(10); ++n) {
      Setup s = random_rod(dice);
      RodHolder& r = *s.gear.front().rod_holder;
      r.drag.known = dice.below(2) == 0 ? Knowledge::assumed : Knowledge::measured;
      if (dice.below(2) == 0) r.weak_link = dice.between(5, 30) * 1.0_lbf;
      const double k = dice.between(0.4, 2.5);
      Setup t = s;
      RodHolder& m = *t.gear.front().rod_holder;
      m.drag.value *= k;
      m.line_test *= k;
      m.running_pull *= k;
      if (m.weak_link) m.weak_link = k * *m.weak_link;
      AssessOptions o = coarse();
      const Assessment plain = assess(s, o);
      const Assessment heavy = assess(t, o);
      o.pull_scale = k;
      const Assessment a = assess(s, o);
      CAPTURE(n);
      CAPTURE(k);
      CHECK(a.verdict == heavy.verdict);
      CHECK(relative(value(a.hold_limit), value(heavy.hold_limit)) <= 1e-6);
      // Weights stay, so that the limit in pull does.
      CHECK(relative(value(a.hold_limit), value(plain.hold_limit)) <= of_search);
      for (const CheckResult& c : a.checks) {
        if (!concerned(c)) continue;
        CAPTURE(c.mode);
        CHECK(relative(c.factor, check_of(heavy, c.mode).factor) <= 1e-6);
      }
    }
  }

  TEST_CASE("answers: nothing that is a little worse off does better than as drawn") {
    Dice dice(108);
    AssessOptions o = coarse();
    o.margins = true;
    for (int n = 0; n < tries(15); ++n) {
      const Setup s = any_plate(dice);
      const Assessment a = assess(s, o);
      CAPTURE(n);
      if (!a.reasons.empty()) continue;
      REQUIRE_FALSE(a.margins.empty());
      const double drawn = worst_ratio(a, false);
      const bool holds = a.verdict == Verdict::holds || a.verdict == Verdict::holds_if;
      for (const MarginRow& m : a.margins) {
        CAPTURE(m.what);
        CHECK(m.worst_ratio <= drawn * (1 + 1e-6));
        const bool then = m.verdict == Verdict::holds || m.verdict == Verdict::holds_if;
        CHECK((holds || !then));
      }
    }
    BoardDice more(109);
    o.step = degrees(30);
    for (int n = 0; n < tries(2); ++n) {
      const Setup s = upright_board(more);
      const Assessment a = assess(s, o);
      CAPTURE(n);
      if (!a.reasons.empty()) continue;
      const double drawn = worst_ratio(a, false);
      // A softer ledge may ease another part: only more load is never better.
      for (const MarginRow& m : a.margins) {
        CAPTURE(m.what);
        if (m.more_load) CHECK(m.worst_ratio <= drawn * (1 + 1e-6));
      }
    }
  }

  TEST_CASE(
      "answers: no order of a rod is the wanted one where a link may outlast mount or holder") {
    Dice dice(201);
    std::array<int, 3> seen{};
    for (int n = 0; n < tries(8); ++n) {
      Setup s = random_rod(dice);
      RodHolder& r = *s.gear.front().rod_holder;
      r.drag.known = dice.below(3) == 0 ? Knowledge::assumed : Knowledge::measured;
      r.drag.value = dice.between(1, 15) * 1.0_lbf;
      r.line_test = dice.between(2, 40) * 1.0_lbf;
      r.spool_growth = dice.between(1, 1.6);
      r.running_pull = std::min<Force>(r.running_pull, r.drag.value);
      if (dice.below(2) == 0) {
        r.weak_link = r.running_pull + dice.between(1, 30) * 1.0_lbf;
      }
      if (dice.below(4) != 0) {
        r.holder_rating = GearRating{{}, dice.between(2, 60) * 1.0_lbf, "a test"};
      }
      const Assessment a = assess(s, full());
      CAPTURE(n);
      if (a.orders.empty()) {
        CHECK((a.gear_limits.empty() || !a.gear_limits.front().not_before));
        continue;
      }
      const double mount = value(a.gear_limits.front().not_before);
      double parts = 1.3 * r.line_test.value();
      if (r.weak_link) parts = std::min(parts, 1.2 * r.weak_link->value());
      const double slips = 1.5 * r.spool_growth * r.drag.value.value();
      const bool measured = r.drag.known == Knowledge::measured;
      const double highest = measured ? std::min(parts, slips) : parts;
      const Order order = a.orders.front().order;
      ++seen[std::size_t(order)];
      CAPTURE(a.orders.front().words);
      if (!(highest < mount)) CHECK(order == Order::wrong);
      if (r.holder_rating && !(highest < r.holder_rating->pull->value())) {
        CHECK(order == Order::wrong);
      }
      if (!(parts < mount) || !r.holder_rating) CHECK(order != Order::wanted);
      // The least of the ladder's items of the mount is what the gear's limit says.
      double least = 1e300;
      for (const LadderStep& l : a.ladder) {
        if (!l.link && l.low) least = std::min(least, l.low->value());
        if (l.high && l.low) CHECK(*l.high >= *l.low);
      }
      CHECK(relative(least, mount) <= of_search);
      for (std::size_t i = 1; i < a.ladder.size(); ++i) {
        if (!a.ladder[i].low) continue;
        REQUIRE(a.ladder[i - 1].low);
        CHECK(*a.ladder[i - 1].low <= *a.ladder[i].low);
      }
      // A stronger link, line, drag, and a weaker holder never make it better.
      for (const int what : {dice.below(2), 2 + dice.below(2)}) {
        Setup t = s;
        RodHolder& m = *t.gear.front().rod_holder;
        const double by = dice.between(1, 3);
        if (what == 0 && m.weak_link) *m.weak_link *= by;
        if (what == 1) m.line_test *= by;
        if (what == 2) m.drag.value *= by;
        if (what == 3 && m.holder_rating) m.holder_rating->pull = *m.holder_rating->pull / by;
        const Assessment b = assess(t, full());
        CAPTURE(what);
        CAPTURE(by);
        REQUIRE(b.orders.size() == a.orders.size());
        CHECK(rank(b.orders.front().order) >= rank(order));
        CHECK(relative(value(b.gear_limits.front().not_before), mount) <= 1e-3);
      }
    }
    if (all_tried()) CHECK((seen[0] + seen[1] > 0 && seen[2] > 0));
  }

  TEST_CASE("answers: a stronger weak link on a board never makes the order better") {
    BoardDice dice(202);
    for (int n = 0; n < tries(3); ++n) {
      Setup s = upright_board(dice);
      s.gear.resize(1);
      Downrigger& d = *s.gear.front().downrigger;
      if (dice.one_in(2)) {
        d.body_rating = GearRating{{}, dice.between(100, 900) * si::newton, "a test"};
      }
      // A weaker one parts while trolling.
      d.weak_link = 3.0 * d.ball * standard_gravity + dice.between(1, 400) * si::newton;
      double before = -1;
      for (const double by : {1.0, 2.0, 5.0}) {
        Setup t = s;
        *t.gear.front().downrigger->weak_link *= by;
        const Assessment a = assess(t, full(30));
        CAPTURE(n);
        CAPTURE(by);
        if (a.orders.empty()) continue;
        const double now = rank(a.orders.front().order);
        CHECK(now >= before);
        before = now;
        const double mount = value(a.gear_limits.front().not_before);
        double lets_go = 1.2 * std::min(by * d.weak_link->value(), d.wire_break->value());
        if (d.brake_slip->known == Knowledge::measured) {
          lets_go = std::min(lets_go, 1.5 * d.brake_slip->value.value());
        }
        if (!(lets_go < mount)) CHECK(a.orders.front().order == Order::wrong);
        if (d.body_rating && !(lets_go < d.body_rating->pull->value())) {
          CHECK(a.orders.front().order == Order::wrong);
        }
        if (!d.body_rating) CHECK(a.orders.front().order != Order::wanted);
      }
    }
  }

  TEST_CASE("answers: what is told of a loss is what the mount without it does") {
    Dice dice(203);
    int by_hand = 0;
    for (int n = 0; n < tries(20); ++n) {
      Setup s = dice.below(4) == 0 ? random_rod(dice) : ranged_load(dice);
      if (dice.below(4) != 0) {
        // A wall and a base that are stronger than what holds them.
        s.plate().host.thickness = dice.inches(0.3, 0.6);
        s.plate().host.form = WallForm::sheet;
        s.plate().host.to_support = dice.inches(3, 6);
        s.plate().base.thickness = dice.inches(0.3, 0.6);
        s.plate().fastening.material.ultimate *= 0.3;
        s.plate().fastening.material.yield *= 0.3;
      }
      if (!is_valid_plate(s)) continue;
      AssessOptions o = full();
      o.after_loss = true;
      const Assessment a = assess(s, o);
      CAPTURE(n);
      if (a.gear_limits.empty() || !a.gear_limits.front().not_before) {
        CHECK(a.losses.empty());
        continue;
      }
      REQUIRE_FALSE(a.losses.empty());
      const LossRow& first = a.losses.front();
      CAPTURE(first.what);
      CHECK(first.at <= *a.gear_limits.front().not_before);
      CHECK(relative(first.at.value(), value(a.gear_limits.front().not_before)) <= 0.02);
      double carried = 0;
      for (std::size_t i = 0; i < a.losses.size(); ++i) {
        const LossRow& r = a.losses[i];
        carried = std::max(carried, r.at.value());
        CHECK_FALSE(r.words.empty());
        // What goes within 1 % of a pull goes at once.
        if (r.holds_to) CHECK(r.holds_to->value() >= 1.01 * carried);
        if (r.then == Then::follows && i + 1 < a.losses.size()) {
          CHECK(a.losses[i + 1].at.value() < 1.01 * carried);
        }
        const bool over = r.then == Then::drops || r.then == Then::tears ||
                          r.then == Then::gear_off || r.then == Then::unknown;
        CHECK((!over || i + 1 == a.losses.size()));
      }
      const std::size_t at = first.what.find("(no. ");
      if (at == std::string::npos) continue;
      if (mode_of(first.mode).loss != Loss::fastener) continue;
      Setup rest = s;
      auto& holes = rest.plate().fastening.holes;
      holes.erase(holes.begin() + (std::stoi(first.what.substr(at + 5)) - 1));
      if (!is_valid_plate(rest)) continue;
      const Assessment b = assess(rest, full());
      if (!b.reasons.empty() && b.gear_limits.empty()) continue;
      const double next = value(b.gear_limits.front().not_before);
      const double told = a.losses.size() > 1 ? a.losses[1].at.value() : value(first.holds_to);
      CAPTURE(first.words);
      if (a.losses.size() > 1 || first.holds_to) CHECK(relative(told, next) <= 0.03);
      if (first.then == Then::holds) CHECK(next >= 0.98 * first.at.value());
      if (next < 0.97 * first.at.value()) CHECK(first.then != Then::holds);
      ++by_hand;
    }
    if (all_tried()) CHECK(by_hand > 0);
  }

  TEST_CASE("answers: every ranked change keeps its promise and its claims") {
    Dice dice(204);
    for (int n = 0; n < tries(3); ++n) {
      const std::string text = random_text(dice);
      CAPTURE(text);
      ChangeOptions o;
      o.step = degrees(30);
      o.threads = 1;
      const ChangeAnswer a = suggest_changes(text, "test.yaml", built_in_materials(), o);
      const Setup s = read(text);
      CHECK(same_worth(a.as_drawn, worth_of_text(text, 30)));
      o.threads = 2;
      CHECK(change_list_json(s, a) ==
            change_list_json(s, suggest_changes(text, "test.yaml", built_in_materials(), o)));
      for (const std::size_t i : a.ranking) {
        const Change& c = a.changes[i];
        CAPTURE(c.id);
        CAPTURE(c.words);
        REQUIRE(c.fits());
        REQUIRE(c.after);
        const std::string edited = apply_edits(text, "test.yaml", c.edits);
        CHECK(same_worth(*c.after, worth_of_text(edited, 30)));
        const Setup t = read(edited);
        if (a.as_drawn.verdict != Verdict::no_verdict) {
          CHECK(c.after->ratio >= a.as_drawn.ratio * (1 - 1e-9));
        }
        // What its owner measured or guessed of the boat stays as it was.
        for (const Input& was : s.inputs) {
          for (const Input& now : t.inputs) {
            if (now.path != was.path) continue;
            if (now.value == was.value) CHECK(now.known >= was.known);
            const bool boat = was.path.starts_with("mount.host") || was.path.starts_with("boat") ||
                              was.path.starts_with("condition");
            if (boat) {
              CAPTURE(was.path);
              CHECK(now.value == was.value);
              CHECK(now.known == was.known);
            }
          }
        }
        CHECK(t.factor_overrides == s.factor_overrides);
        CHECK(t.condition.cracks == s.condition.cracks);
        CHECK(t.condition.within_150_mm == s.condition.within_150_mm);
        if (!c.of_use) {
          REQUIRE(t.gear.size() == s.gear.size());
          if (s.gear.front().plain_load) {
            CHECK(t.gear.front().plain_load->pull == s.gear.front().plain_load->pull);
          }
        }
      }
    }
  }

  TEST_CASE("answers: pull times ratio stays in a sweep over the pull") {
    Dice dice(205);
    for (int n = 0; n < tries(4); ++n) {
      std::string text;
      do {
        text = random_text(dice);
      } while (text.find("plain_load") == std::string::npos);
      CAPTURE(text);
      SweepOptions o;
      o.step = degrees(30);
      o.threads = 1;
      const SweepAnswer a = sweep(text, "test.yaml", built_in_materials(),
                                  {"gear.0.pull", {}, "5 lbf", "95 lbf", 4}, o);
      REQUIRE(a.points.size() == 5);
      const SweepPoint& one = a.points.front();
      for (const SweepPoint& p : a.points) {
        CAPTURE(p.value);
        REQUIRE(p.worth);
        REQUIRE(p.plots);
        if (!p.loaded_ratio || !one.loaded_ratio) continue;
        CHECK(relative(*p.loaded_ratio * *p.plots, *one.loaded_ratio * *one.plots) <= 1e-9);
        CHECK(relative(value(p.worth->hold_limit), value(one.worth->hold_limit)) <= of_search);
      }
      SweepOptions two = o;
      two.threads = 2;
      CHECK(sweep_json(read(text), a) ==
            sweep_json(read(text), sweep(text, "test.yaml", built_in_materials(),
                                         {"gear.0.pull", {}, "5 lbf", "95 lbf", 4}, two)));
    }
  }

  TEST_CASE("answers: a level pull never gains by a higher point") {
    Dice dice(206);
    for (int n = 0; n < tries(6); ++n) {
      std::string text =
          with(load_text, "forward: 1 in, outboard: 2 in, up", "forward: 0 in, outboard: 0 in, up");
      text = with(text, "dip: 20 deg", "dip: 0 deg");
      text = with(text, "30 deg", std::to_string(dice.below(360) - 180) + " deg");
      text = with(text, "0.125 in", std::to_string(dice.between(0.06, 0.3)) + " in");
      SweepOptions o;
      o.step = degrees(30);
      const SweepAnswer a = sweep(text, "test.yaml", built_in_materials(),
                                  {"gear.0.at.up", {}, "1 in", "13 in", 6}, o);
      CAPTURE(text);
      for (std::size_t i = 1; i < a.points.size(); ++i) {
        const SweepPoint& low = a.points[i - 1];
        const SweepPoint& high = a.points[i];
        CAPTURE(high.value);
        REQUIRE(high.worth);
        CHECK(value(high.worth->hold_limit) <= value(low.worth->hold_limit) * (1 + 1e-9));
        REQUIRE((high.loaded_ratio && low.loaded_ratio));
        CHECK(*high.loaded_ratio <= *low.loaded_ratio * (1 + 1e-9));
      }
    }
  }

  TEST_CASE("answers: no plate lighter than the one found holds") {
    Dice dice(207);
    int found = 0;
    for (int n = 0; n < tries(12); ++n) {
      const std::string text = random_text(dice);
      CAPTURE(text);
      const Setup s = read(text);
      SizeQuestion q;
      std::vector<std::string> words;
      for (const SizeWord& w : size_words()) {
        if (w.on_plate) words.emplace_back(w.word);
      }
      q.free = {words[std::size_t(dice.below(int(words.size())))],
                words[std::size_t(dice.below(int(words.size())))]};
      q.step = degrees(30);
      CAPTURE(q.free.front());
      CAPTURE(q.free.back());
      std::unique_ptr<reading::SizeSpace> space;
      SizeAnswer a;
      try {
        space = reading::space_of(s, q, built_in_materials());
        if (space->designs() > 150) continue;
        a = size_mount(s, q, built_in_materials());
      } catch (const DomainError& e) {
        // Threads in the wall have nothing behind them.
        CHECK(std::string(e.what()).find("nothing behind") != std::string::npos);
        continue;
      }
      double lightest = 1e300;
      double smallest = 1e300;
      double best = 0;
      std::size_t unfit = 0;
      for (std::size_t i = 0; i < space->designs(); ++i) {
        try {
          const Setup d = space->setup_of(space->choice(i));
          const Assessment made = assess(d, coarse(30));
          if (made.verdict != Verdict::holds && made.verdict != Verdict::holds_if) continue;
          lightest = std::min(lightest, space->mass(d).value());
          smallest = std::min(smallest, space->section(d).value());
          best = std::max(best, value(made.hold_limit));
        } catch (const DomainError&) {
          ++unfit;
        }
      }
      CHECK(a.designs == space->designs());
      CHECK(a.do_not_fit == unfit);
      CHECK(a.do_not_fit + a.ruled_out + a.outweighed <= a.designs);
      CHECK(a.do_not_fit + a.ruled_out + a.outweighed + a.assessed >= a.designs);
      REQUIRE(a.lightest.has_value() == (lightest < 1e300));
      REQUIRE(a.smallest.has_value() == a.lightest.has_value());
      if (!a.lightest) continue;
      ++found;
      CHECK(a.lightest->mass.value() <= lightest + 1e-9);
      CHECK(a.smallest->section.value() <= smallest + 1e-12);
      for (const SizeDesign* d : {&*a.lightest, &*a.smallest}) {
        const Setup made = space->setup_of(d->choice);
        const Assessment b = assess(made, coarse(30));
        CHECK((b.verdict == Verdict::holds || b.verdict == Verdict::holds_if));
        CHECK(d->verdict == b.verdict);
        CHECK(relative(value(d->hold_limit), value(b.hold_limit)) <= 1e-9);
        CHECK(relative(d->mass.value(), space->mass(made).value()) <= 1e-12);
      }
      for (std::size_t i = 1; i < a.curve.size(); ++i) {
        CHECK(a.curve[i].mass >= a.curve[i - 1].mass);
        CHECK(value(a.curve[i].hold_limit) > value(a.curve[i - 1].hold_limit));
      }
      if (!a.curve.empty()) CHECK(value(a.curve.back().hold_limit) * 1.02 >= best);
    }
    if (all_tried()) CHECK(found > 0);
  }

  TEST_CASE("answers: a search that is stopped says so and what it has holds") {
    Dice dice(208);
    for (int n = 0; n < tries(3); ++n) {
      const std::string text = random_text(dice);
      const Setup s = read(text);
      SizeQuestion q;
      q.free = {"hold", "bolts"};
      q.step = degrees(30);
      int calls = 0;
      const int most = 1 + dice.below(6);
      std::size_t done = 0;
      q.watch = [&](const Progress& p) {
        CHECK(p.done >= done);
        CHECK(p.done <= p.all);
        done = p.done;
        return ++calls < most;
      };
      CAPTURE(text);
      const auto space = reading::space_of(s, q, built_in_materials());
      const SizeAnswer a = size_mount(s, q, built_in_materials());
      CHECK(a.stopped == (calls >= most));
      for (const auto& d : {a.lightest, a.smallest}) {
        if (!d) continue;
        const Assessment b = assess(space->setup_of(d->choice), coarse(30));
        CHECK((b.verdict == Verdict::holds || b.verdict == Verdict::holds_if));
      }
    }
  }

  TEST_CASE("answers: a gap is the same from either side and wherever both are seen from") {
    Dice dice(301);
    for (int n = 0; n < tries(400); ++n) {
      const FitShape a = random_shape(dice);
      const FitShape b = random_shape(dice);
      const double d = gap(a, b);
      CAPTURE(n);
      CAPTURE(d);
      CAPTURE(int(a.form));
      CAPTURE(int(b.form));
      // An arc of each is told to 0.1 mm.
      const double exact = d > 0 ? 4e-4 : 2e-3;
      CHECK(std::abs(gap(b, a) - d) <= 1e-9);
      CHECK(std::abs(gap(in_a_mirror(a), in_a_mirror(b)) - d) <= exact);
      const double x = dice.between(-2, 2);
      const double y = dice.between(-2, 2);
      CHECK(std::abs(gap(moved(a, x, y), moved(b, x, y)) - d) <= exact);
      const double turn = dice.between(-3, 3);
      CHECK(std::abs(gap(moved(a, 0, 0, turn), moved(b, 0, 0, turn)) - d) <= exact);
    }
  }
  TEST_CASE("answers: who moves one thing changes its gap by no more") {
    Dice dice(302);
    for (int n = 0; n < tries(400); ++n) {
      const FitShape a = random_shape(dice);
      const FitShape b = random_shape(dice);
      const double d = gap(a, b);
      const double x = dice.between(-0.3, 0.3);
      const double y = dice.between(-0.3, 0.3);
      const double then = gap(a, moved(b, x, y));
      CAPTURE(n);
      CAPTURE(d);
      CAPTURE(then);
      CAPTURE(int(a.form));
      CAPTURE(int(b.form));
      // The depth of what is not convex is told too great.
      if ((d > 0 && then > 0) || (convex(a) && convex(b))) {
        CHECK(std::abs(then - d) <= std::hypot(x, y) + 4e-4);
      }
      if (d > 0) CHECK(then <= d + std::hypot(x, y) + 4e-4);
    }
  }
  TEST_CASE("answers: what touches has no gap and what lies within has less than none") {
    Dice dice(303);
    for (int n = 0; n < tries(200); ++n) {
      CAPTURE(n);
      const double x = dice.between(0.05, 0.8);
      const double y = dice.between(0.05, 0.8);
      const double turn = dice.between(-3, 3);
      const double cx = dice.between(-2, 2);
      const double cy = dice.between(-2, 2);
      const FitShape a = box_shape(x, y);
      const FitShape b = box_shape(dice.between(0.05, 0.5), dice.between(0.05, 0.5));
      const double shift = dice.between(-0.05, 0.9) * y;
      CHECK(std::abs(gap(moved(a, cx, cy, turn), moved(moved(b, x, shift), cx, cy, turn))) <= 1e-9);
      // A disc against the same side, and against a corner.
      FitShape disc;
      disc.form = FitShape::Form::sector;
      disc.outer = metres(dice.between(0.02, 0.4));
      disc.to = degrees(360);
      disc.points = {at(x + disc.outer.value(), 0.5 * y)};
      CHECK(std::abs(gap(moved(a, cx, cy, turn), moved(disc, cx, cy, turn))) <= 2e-4);
      // Within.
      const FitShape big = random_shape(dice);
      FitShape small = disc;
      small.outer = metres(0.002);
      FitPoint in = big.points.front();
      bool known = true;
      if (big.form == FitShape::Form::sector) {
        const double r = 0.5 * (big.inner + big.outer).value();
        const double mid = 0.5 * (big.from + big.to).value();
        in = at(in.x.value() - r * std::cos(mid), in.y.value() - r * std::sin(mid));
        known = (big.outer - big.inner).value() > 0.02 && r > 0.03;
      } else if (big.form == FitShape::Form::path) {
        in.x = 0.5 * (in.x + big.points[1].x);
        in.y = 0.5 * (in.y + big.points[1].y);
      } else {
        known = convex(big);
        in = at(0, 0);
        for (const FitPoint& p : big.points) {
          in.x += p.x / double(big.points.size());
          in.y += p.y / double(big.points.size());
        }
      }
      if (!known) continue;
      small.points = {in};
      CAPTURE(int(big.form));
      CHECK(gap(big, small) < 0);
      CHECK(gap(small, big) < 0);
    }
  }
}
