// Random bases on every kind of host: what must hold whatever the numbers are.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <thole/assessment.hpp>

#include "support/hosts.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;

namespace {

constexpr HostKind kinds[] = {HostKind::metal_wall, HostKind::timber, HostKind::plywood,
                              HostKind::laminate, HostKind::cored_panel};

Setup start(HostKind kind) {
  switch (kind) {
    case HostKind::metal_wall:
      return read(light());
    case HostKind::timber:
      return read(timber_text);
    case HostKind::plywood:
      return read(on_host(plywood_keys));
    case HostKind::laminate:
      return read(on_host(laminate_keys));
    case HostKind::cored_panel:
      return read(on_host(core_keys));
  }
  throw std::runtime_error("a host without a setup");
}

// One load at one point from one direction, through bolts, no weights.
Setup random_on(PlateDice& dice, HostKind kind) {
  static const std::vector<Setup> starts = [] {
    std::vector<Setup> out;
    for (const HostKind k : kinds) out.push_back(start(k));
    return out;
  }();
  for (;;) {
    Setup s = starts[std::size_t(kind)];
    if (kind == HostKind::metal_wall) {
      random_mount(dice, s);
    } else {
      Host& h = s.plate().host;
      if (kind == HostKind::cored_panel) {
        h.panel.skin = dice.inches(0.08, 0.25);
        h.thickness = 2.0 * h.panel.skin + dice.inches(0.3, 1);
      } else {
        h.thickness = kind == HostKind::laminate ? dice.inches(0.15, 0.5) : dice.inches(0.5, 2);
      }
      h.to_edge = dice.inches(1.5, 5);
      if (kind == HostKind::timber) {
        h.wood.width = 2.0 * h.to_edge;
        h.to_end = dice.inches(6, 60);
        h.wood.grain_fore_aft = dice.below(2) == 0;
      }
      BasePlate& b = s.plate().base;
      Fastening& f = s.plate().fastening;
      const Length x = dice.inches(0.9, 2.2);
      const Length y = dice.inches(0.9, 2.2);
      b.outline = rectangle(x, y);
      b.thickness = dice.inches(0.125, 0.4);
      b.body = dice.inches(0.5, 1.2);
      f.holes = rectangle(dice.between(0.4, 0.75) * x, dice.between(0.4, 0.75) * y);
      if (dice.below(4) == 0) f.holes.push_back({Length{}, Length{}});
      f.washer = Washer{"test washer", dice.inches(0.6, 1.1), f.thread.clearance, 1.5_mm};
      f.backing.reset();
      if (dice.below(3) == 0)
        f.backing = Backing{alloy(dice), dice.inches(0.1, 0.3), 2.0 * x, 2.0 * y};
    }
    PlainLoad& p = *s.gear.front().plain_load;
    p.at = Position<Base>(dice.inches(-2, 2), dice.inches(-2, 2), dice.inches(0.5, 8));
    p.pull = dice.between(5, 80) * 1.0_lbf;
    p.range.azimuth_from = p.range.azimuth_to = degrees(dice.between(-180, 180));
    p.range.dip_from = p.range.dip_to = degrees(dice.between(-50, 80));
    p.category = dice.below(2) == 0 ? Category::everyday : Category::occasional;
    if (is_valid_plate(s)) return s;
  }
}

int rounds() { return 8; }

// No check of these modes is worse than before.
void never_worse(const Assessment& before, const Assessment& now,
                 const std::vector<std::string_view>& modes, double hair = 1e-6) {
  for (const CheckResult& c : before.checks) {
    if (std::find(modes.begin(), modes.end(), c.mode) == modes.end() || !concerned(c)) continue;
    CAPTURE(c.mode);
    const CheckResult& d = check_of(now, c.mode);
    if (!concerned(d)) continue;
    CHECK(d.factor / d.needed >= c.factor / c.needed * (1 - hair));
  }
}

std::vector<std::string_view> all_modes(const Assessment& a) {
  std::vector<std::string_view> out;
  for (const CheckResult& c : a.checks) out.push_back(c.mode);
  return out;
}

void same_factors(const Assessment& a, const Assessment& b, double hair = 1e-6) {
  CHECK(a.verdict == b.verdict);
  REQUIRE(a.checks.size() == b.checks.size());
  for (const CheckResult& c : a.checks) {
    CAPTURE(c.mode);
    const CheckResult& d = check_of(b, c.mode);
    CHECK(c.standing == d.standing);
    if (concerned(c)) CHECK(relative(c.factor, d.factor) < hair);
  }
}

void stronger(Stress& s) { s *= 1.3; }

}  // namespace

TEST_SUITE("property") {
  TEST_CASE("hosts: a stronger panel or wood of the same stiffness lowers no factor") {
    PlateDice dice(101);
    for (const HostKind kind : kinds) {
      if (kind == HostKind::metal_wall) continue;  // a test of its own for metal
      for (int n = 0; n < rounds(); ++n) {
        const Setup s = random_on(dice, kind);
        CAPTURE(n);
        CAPTURE(word_for(kind));
        Setup t = s;
        Host& h = t.plate().host;
        for (auto* given : {&h.panel.punch_shear, &h.panel.bearing, &h.panel.core_crush}) {
          if (*given) stronger((*given)->value);
        }
        stronger(h.wood.bearing);
        if (h.wood.strength) {
          WoodStrength& w = *h.wood.strength;
          for (Stress* p : {&w.bending_on_edge, &w.bending_flat, &w.edge_stress, &w.tension,
                            &w.shear, &w.bearing, &w.crushing, &w.compression}) {
            stronger(*p);
          }
        }
        const Assessment a = quick(s, 30);
        never_worse(a, quick(t, 30), all_modes(a));
      }
    }
  }

  TEST_CASE("hosts: stronger bolts and a stronger base lower no factor") {
    PlateDice dice(102);
    for (const HostKind kind : kinds) {
      for (int n = 0; n < rounds(); ++n) {
        const Setup s = random_on(dice, kind);
        CAPTURE(n);
        CAPTURE(word_for(kind));
        Setup t = s;
        FastenerMaterial& m = t.plate().fastening.material;
        for (Stress* p : {&m.yield, &m.ultimate, &m.shear_ultimate}) stronger(*p);
        if (t.plate().base.metal) {
          stronger(t.plate().base.metal->yield);
          stronger(t.plate().base.metal->ultimate);
        }
        const Assessment a = quick(s, 30);
        never_worse(a, quick(t, 30), all_modes(a));
      }
    }
  }

  TEST_CASE("hosts: a thicker host never lowers its own checks") {
    PlateDice dice(103);
    const std::vector<std::string_view> own{
        "thread-pull-out", "pull-over-behind", "wall-bearing-screw", "wall-bearing-bolt",
        "tear-out",        "wall-yield",       "lip-bending",        "wall-press",
        "wall-rotation",   "wall-fatigue",     "wood-splits",        "wood-tear-out",
        "panel-punch",     "laminate-bearing"};
    for (const HostKind kind : kinds) {
      for (int n = 0; n < rounds(); ++n) {
        const Setup s = random_on(dice, kind);
        CAPTURE(n);
        CAPTURE(word_for(kind));
        Setup t = s;
        t.plate().host.thickness *= 1.2;
        t.plate().host.panel.skin *= 1.2;
        if (!is_valid_plate(t)) continue;
        never_worse(quick(s, 30), quick(t, 30), own);
      }
    }
  }

  TEST_CASE("hosts: a mirror image changes no factor") {
    PlateDice dice(104);
    for (const HostKind kind : kinds) {
      for (int n = 0; n < rounds(); ++n) {
        Setup s = random_on(dice, kind);
        s.plate().host.slope = Angle{};
        CAPTURE(n);
        CAPTURE(word_for(kind));
        Setup t = s;
        GunwalePlate& m = t.plate();
        const auto turn = [](std::vector<PlanPoint>& points) {
          for (PlanPoint& q : points) q.y = -q.y;
          std::reverse(points.begin(), points.end());
        };
        turn(m.base.outline);
        turn(m.fastening.holes);
        m.host.lip_root_inboard = !m.host.lip_root_inboard;
        if (m.host.is_metal()) m.base.from_inboard_edge = m.host.flat - m.base.from_inboard_edge;
        PlainLoad& p = *t.gear.front().plain_load;
        p.at = Position<Base>(p.at.x(), -p.at.y(), p.at.z());
        p.range.azimuth_from = p.range.azimuth_to = -p.range.azimuth_from;
        same_factors(quick(s, 30), quick(t, 30));
      }
    }
  }

  TEST_CASE("hosts: a panel turned with its base and load changes no factor") {
    PlateDice dice(105);
    for (const HostKind kind : kinds) {
      if (kind == HostKind::metal_wall) continue;  // its flat runs along the boat
      for (int n = 0; n < rounds(); ++n) {
        Setup s = random_on(dice, kind);
        s.plate().host.slope = Angle{};
        CAPTURE(n);
        CAPTURE(word_for(kind));
        Setup t = s;
        GunwalePlate& m = t.plate();
        const auto turn = [](PlanPoint q) { return PlanPoint{Length(-q.y), q.x}; };
        for (PlanPoint& q : m.base.outline) q = turn(q);
        for (PlanPoint& q : m.fastening.holes) q = turn(q);
        m.host.wood.grain_fore_aft = !m.host.wood.grain_fore_aft;
        if (m.base.sides_turned) m.base.sides_turned = *m.base.sides_turned + degrees(90);
        if (m.fastening.backing) {
          std::swap(m.fastening.backing->fore_aft, m.fastening.backing->athwart);
        }
        PlainLoad& p = *t.gear.front().plain_load;
        p.at = Position<Base>(-p.at.y(), p.at.x(), p.at.z());
        p.range.azimuth_from = p.range.azimuth_to = p.range.azimuth_from - degrees(90);
        same_factors(quick(s, 30), quick(t, 30));
      }
    }
  }

  TEST_CASE("hosts: factors of a plain load go with one over the load and the limit stays") {
    PlateDice dice(106);
    int limits = 0;
    for (const HostKind kind : kinds) {
      for (int n = 0; n < rounds(); ++n) {
        const Setup s = random_on(dice, kind);
        CAPTURE(n);
        CAPTURE(word_for(kind));
        Setup t = s;
        t.gear.front().plain_load->pull *= 2;
        const Assessment a = quick(s, 30);
        const Assessment b = quick(t, 30);
        for (const CheckResult& c : a.checks) {
          if (!concerned(c) || c.case_title.empty() || !std::isfinite(c.factor)) continue;
          CAPTURE(c.mode);
          const CheckResult& d = check_of(b, c.mode);
          // Wood splits and screws under both loads at once go by formulas that are not straight.
          const bool straight = c.mode != "wood-screw-combined";
          if (straight) CHECK(d.factor == doctest::Approx(0.5 * c.factor).epsilon(1e-3));
          CHECK(d.factor <= c.factor);
        }
        if (!a.hold_limit || !b.hold_limit || refused(a) || !(a.hold_limit->value() > 0)) continue;
        ++limits;
        CHECK(b.hold_limit->value() == doctest::Approx(a.hold_limit->value()).epsilon(5e-3));
        // Below the limit all that a load decides holds; above it something fails, but for modes
        // that are cut off early.
        Setup u = s;
        u.gear.front().plain_load->pull = 0.98 * *a.hold_limit;
        const Assessment below = quick(u, 30);
        for (const CheckResult& c : below.checks) {
          if (!concerned(c) || c.case_title.empty() || c.mode.ends_with("-fatigue")) continue;
          CAPTURE(c.mode);
          CAPTURE(c.case_title);
          CAPTURE(a.hold_limit->value());
          CHECK(c.factor / c.needed >= 1);
        }
      }
    }
    CHECK(limits > 10);
  }

  TEST_CASE("hosts: a larger washer never lowers what it presses on") {
    PlateDice dice(107);
    for (const HostKind kind : kinds) {
      for (int n = 0; n < rounds(); ++n) {
        const Setup s = random_on(dice, kind);
        if (!s.plate().fastening.washer) continue;
        CAPTURE(n);
        CAPTURE(word_for(kind));
        Setup t = s;
        t.plate().fastening.washer->outside *= 1.25;
        if (!is_valid_plate(t)) continue;
        never_worse(quick(s, 30), quick(t, 30),
                    {"wood-washer-dent", "wood-washer-crushing", "panel-punch", "pull-over-behind",
                     "wall-yield", "wall-fatigue", "backing-bending"});
      }
    }
  }

  TEST_CASE("hosts: a longer screw never pulls out sooner") {
    PlateDice dice(108);
    for (const char* hold : {"wood_screw", "lag_screw"}) {
      Setup s = read(with_screws(hold, hold[0] == 'w' ? "12" : "5/16", "2 1/4 in"));
      for (int n = 0; n < 2 * rounds(); ++n) {
        Fastening& f = s.plate().fastening;
        f.length = dice.inches(1.2, 4);
        f.threaded = thread_length(*f.screw, f.length);
        // Deeper than the screws: one that comes out below has its thread in the air.
        s.plate().host.thickness = 1.2 * f.length;
        CAPTURE(f.length.value());
        Setup t = s;
        t.plate().fastening.length *= 1.15;
        t.plate().fastening.threaded = thread_length(*f.screw, t.plate().fastening.length);
        if (!is_valid_plate(s) || !is_valid_plate(t)) continue;
        const Assessment a = quick(s, 30);
        const Assessment b = quick(t, 30);
        never_worse(a, b, {"wood-withdrawal", "wood-screw-combined", "wood-lateral"}, 2e-3);
        // What was deep enough stays so.
        if (concerned(check_of(a, "wood-withdrawal")))
          CHECK(concerned(check_of(b, "wood-withdrawal")));
      }
    }
  }

  TEST_CASE("hosts: more hours on the water or on the road never raise a factor") {
    PlateDice dice(109);
    for (int n = 0; n < rounds(); ++n) {
      const Setup s = random_rod(dice);
      CAPTURE(n);
      const Assessment before = quick(s, 30);
      for (const bool road : {false, true}) {
        Setup t = s;
        (road ? t.use.road_hours_per_season : t.use.hours_per_season) *= 3;
        const Assessment now = quick(t, 30);
        for (const CheckResult& c : before.checks) {
          if (!c.mode.ends_with("-fatigue") || !concerned(c)) continue;
          CAPTURE(c.mode);
          CHECK(check_of(now, c.mode).factor <= c.factor * (1 + 1e-9));
        }
      }
      Setup off = s;
      off.use.gear_off_on_road = true;
      never_worse(before, quick(off, 30),
                  {"wall-fatigue", "base-fatigue", "backing-fatigue", "fastener-fatigue",
                   "thread-fatigue"});
    }
  }

  TEST_CASE("hosts: a soft pad never lowers the pull on the hardest fastener") {
    PlateDice dice(110);
    for (int n = 0; n < rounds(); ++n) {
      const Setup s = random_on(dice, HostKind::metal_wall);
      CAPTURE(n);
      Setup t = s;
      t.plate().fastening.assembly.bedding = Bedding::rubber;
      const Assessment a = quick(s, 30);
      never_worse(quick(t, 30), a, all_modes(a));
    }
  }
}
