// The gunwale as a bar between its ties, and the metal between holes and a free edge.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include <thole/gunwale_bar.hpp>
#include <thole/reading.hpp>
#include <thole/section.hpp>
#include <thole/thole.hpp>

#include "support/hosts.hpp"
#include "support/validation.hpp"

using namespace thole;
using namespace thole::test;
using namespace thole::literals;

namespace {

const Source& gere =
    proves({"gunwale-roll"}, "Gere, Mechanics of Materials, problem 3.10-3 (solution)", Seen::page);
const Source& narrow_box =
    proves({"gunwale-roll"}, "public lecture notes on thin-walled tubes, problem 1", Seen::copy);

constexpr Stress given = 1.0 * si::pascal;

/// A closed box by the sizes of its centre line.
Host box(Length width, Length depth, Length wall) {
  Host h;
  h.form = WallForm::closed_section;
  h.thickness = wall;
  h.flat = width + wall;
  h.metal = built_in_materials().metal("6061-T6 extrusion");
  h.bar = GunwaleBar{30.0_in, depth + wall};
  return h;
}

/// The jon-boat on a gunwale whose ties are given.
std::string tied() {
  return with(jon_boat, "flat: 2 in",
              "flat: 2 in\n    bar: {between_ties: 30 in, depth: {is: 1 1/2 in, known: measured}}");
}

/// A lip 3 in wide that hangs on its inboard side; four bolts, 1 in aft and forward, 1/2 in to
/// either side of its middle.
Setup lip() {
  Setup s = read(with(jon_boat, "form: closed_section", "form: open_lip\n    root: inboard"));
  GunwalePlate& m = s.plate();
  m.host.flat = 3.0_in;
  m.host.thickness = 0.125_in;
  m.host.metal.ultimate = 38.0_ksi;
  m.host.metal.yield = 35.0_ksi;
  m.host.metal.shear_ultimate = 24.0_ksi;
  m.base.from_inboard_edge = 1.5_in;
  m.fastening.hold = HoldBy::through_bolt;
  m.fastening.thread.clearance = 0.266_in;
  m.fastening.holes = test::rectangle(1.0_in, 0.5_in);
  return s;
}

Use use_of(const Setup& s, std::string_view mode, Actions a) {
  a.count = int(s.plate().fastening.holes.size());
  return mode_of(mode).use(s, a, Category::occasional);
}

BaseLoad load_of(double fy, double fz, double mx) {
  BaseLoad b;
  b.force = ForceVector<Base>(Force{}, fy * si::newton, fz * si::newton);
  b.moment = MomentVector<Base>(Moment::from_value(mx), Moment{}, Moment{});
  return b;
}

}  // namespace

TEST_SUITE("published") {
  // Centre line 6.0 x 4.0 in, 0.25 in, 15 kip in: 1250 psi, J = 28.8 in4; 50 in with G = 4.0e6 psi
  // turn by 0.0065104 rad.
  TEST_CASE("gunwale: a box turns and shears as a textbook says") {
    const Against against(gere);
    Host h = box(6.0_in, 4.0_in, 0.25_in);
    h.metal.yield = 1250.0_psi / 0.6;
    const BarTorsion b = bar_torsion(h);
    const SecondMoment in4 = 1.0_in2 * 1.0_in2;
    CHECK(compared(b.torsion / in4, 28.8, "in^4") == doctest::Approx(1).epsilon(1e-9));
    CHECK(compared(b.yields_at / (1.0_lbf * 1.0_in), 15000, "lbf in") ==
          doctest::Approx(1).epsilon(1e-9));
    CHECK_FALSE(b.buckles);
    // Halfway between two ties each side takes half the torque over half the length.
    h.bar->between_ties = 200.0_in;
    h.metal.modulus = 2.66 * 4000.0_ksi;
    CHECK(compared(radians(bar_turn(h, 15000.0 * (1.0_lbf * 1.0_in))), 0.0065104, "rad") ==
          doctest::Approx(1).epsilon(1e-4));
  }

  // Centre line 5 x 2 in, 0.25 in, 10 kip in: 2000 psi.
  TEST_CASE("gunwale: a narrower box shears as a worked example says") {
    const Against against(narrow_box);
    Host h = box(5.0_in, 2.0_in, 0.25_in);
    h.metal.yield = 2000.0_psi / 0.6;
    CHECK(compared(bar_torsion(h).yields_at / (1.0_lbf * 1.0_in), 10000, "lbf in") ==
          doctest::Approx(1).epsilon(1e-9));
  }
}

TEST_SUITE("unit") {
  TEST_CASE("gunwale: a lip turns as a strip of its unfolded width") {
    Host h = box(2.0_in, 1.0_in, 0.1_in);
    h.form = WallForm::open_lip;
    const BarTorsion b = bar_torsion(h);
    // (2.1 + 1.1 - 0.1) x 0.1^3 / 3
    CHECK(b.torsion / (1.0_in2 * 1.0_in2) == doctest::Approx(3.1e-3 / 3).epsilon(1e-9));
    // Saint-Venant's exact strip has less by 0.63 t/b.
    const Section strip = thole::rectangle(3.1_in, 0.1_in);
    CHECK(strip.torsion / b.torsion == doctest::Approx(1 - 0.63 * 0.1 / 3.1).epsilon(1e-3));
    CHECK(b.yields_at / (0.6 * h.metal.yield * strip.torsion_modulus) ==
          doctest::Approx(1).epsilon(0.03));
    // A box of the same walls is stiffer by orders.
    h.form = WallForm::closed_section;
    CHECK(bar_torsion(h).torsion > 100.0 * b.torsion);
  }

  // By hand, in N and mm: k = 5.34, 70 GPa (its own modulus), b/t = 3/0.03 = 100.
  TEST_CASE("gunwale: a thin wide wall buckles before it yields") {
    const Host h = box(3.0_in, 1.0_in, 0.03_in);
    const BarTorsion b = bar_torsion(h);
    CHECK(b.buckles);
    const double e = h.metal.modulus / given;
    const double stress =
        5.34 * std::numbers::pi * std::numbers::pi * e / (12 * (1 - 0.1089)) / 1e4;
    CHECK(b.yields_at / (given * (2.0 * 3.0_in * 1.0_in * 0.03_in)) ==
          doctest::Approx(stress).epsilon(1e-6));
  }

  TEST_CASE("gunwale: the torque is about the middle of a box and the root of a lip") {
    Setup s = lip();
    GunwalePlate& m = s.plate();
    m.host.bar = GunwaleBar{30.0_in, 60.0_mm};
    const Moment unit = 1.0 * si::newton * (1.0_m);
    // A push outboard at the root's own height does not turn a lip, a press does.
    CHECK(bar_torque(m, load_of(100, 0, 0)) / unit == doctest::Approx(0));
    CHECK(bar_torque(m, load_of(0, -100, 0)) / unit == doctest::Approx(-100 * 0.0381));
    m.host.lip_root_inboard = false;
    CHECK(bar_torque(m, load_of(0, -100, 0)) / unit == doctest::Approx(100 * 0.0381));
    m.host.form = WallForm::closed_section;
    CHECK(bar_torque(m, load_of(0, -100, 0)) / unit == doctest::Approx(0));
    CHECK(bar_torque(m, load_of(0, 0, 7)) / unit == doctest::Approx(7));
    // Outboard at the top, 30 mm above the middle: it turns over outboard, about -x.
    CHECK(bar_torque(m, load_of(100, 0, 0)) / unit == doctest::Approx(-3));
    // A base 1/2 in outboard of the middle, pressed: the same way.
    m.base.from_inboard_edge = 2.0_in;
    CHECK(bar_torque(m, load_of(0, -100, 0)) / unit == doctest::Approx(-100 * 0.0127));
  }

  TEST_CASE("gunwale: with its ties it is checked, without them it is not and says what to give") {
    const Setup s = read(tied());
    CHECK(s.plate().host.bar->between_ties == 30.0_in);
    CHECK(s.plate().host.bar->depth == 1.5_in);
    const CheckResult c = check_of(quick(s), "gunwale-roll");
    CHECK(c.standing == Standing::applies);
    CHECK(c.factor > 0);
    const Assessment whole = assess(s, {});
    CHECK(says(whole.cautions, "the gunwale turns by about"));
    CHECK_FALSE(says(whole.not_checked, "rolling of the gunwale"));
    CHECK(says(assess(read(jon_boat), {}).not_checked, "gunwale turns between what ties it"));
    CHECK(says(assess(read(load_text), {}).not_checked, "rolling of the gunwale as a whole"));
    const Assessment plain = quick(read(jon_boat));
    const CheckResult& none = check_of(plain, "gunwale-roll");
    CHECK(none.standing == Standing::not_checked);
    CHECK(none.why.find("host.bar") != std::string::npos);
    const CheckResult sheet = check_of(quick(read(load_text)), "gunwale-roll");
    CHECK(sheet.standing == Standing::not_concerned);
  }

  // Box 2 x 1.5 in of 0.09 in, 6063-T5 (yield 16 ksi): 2 x 1.91 x 1.41 x 0.09 x 9.6 ksi = 4654 lbf
  // in, whatever the way of the load.
  TEST_CASE("gunwale: the torque of the jon-boat's gunwale is that of a hand example") {
    const Setup s = read(tied());
    Actions a;
    a.load = load_of(0, 0, 100);
    const Use u = use_of(s, "gunwale-roll", a);
    CHECK(u.strength.si / (1.0_lbf * 1.0_in).value() ==
          doctest::Approx(2 * 1.91 * 1.41 * 0.09 * 9600).epsilon(1e-6));
    CHECK(u.demand.si == doctest::Approx(100));
  }

  // By hand, edge 1 in from the outer row: the block of all four, 2 in wide and deep. Shear 2 x 2 -
  // 3 x 0.266 = 3.202 in net, pulled side 2 - 0.266 = 1.734 in net; times 1/8 in: 24 ksi x 3.202 =
  // 9.606 kip is more than 38 ksi x 1.734 = 8.237; 9.606 + 35 ksi x 2 in is above 9.606 + 8.237 =
  // 17.843 kip.
  TEST_CASE("block: four bolts pushed to the edge of a lip tear out as by hand") {
    const Setup s = lip();
    const Use u = use_of(s, "block-shear", pushed(true));
    CHECK(u.demand.si / (1.0_lbf).value() == doctest::Approx(4));
    CHECK(u.strength.si / (1.0_lbf).value() == doctest::Approx(17842.5).epsilon(1e-4));
  }

  // Two bolts in one line to the edge: 2 x (2 - 1.5 x 0.266) x 1/8 in x 24 ksi = 9.606 kip.
  TEST_CASE("block: a line of bolts to the edge shears along both sides") {
    Setup s = lip();
    s.plate().fastening.holes = {{Length{}, -0.5_in}, {Length{}, 0.5_in}};
    const Use u = use_of(s, "block-shear", pushed(true));
    CHECK(u.demand.si / (1.0_lbf).value() == doctest::Approx(2));
    CHECK(u.strength.si / (1.0_lbf).value() == doctest::Approx(9606).epsilon(1e-4));
  }

  TEST_CASE("block: a push away from the free edge or along it tears nothing out") {
    const Setup s = lip();
    Actions inboard = pushed(true);
    for (PlaneForce& p : inboard.shear) p.y = -p.y;
    CHECK(use_of(s, "block-shear", inboard).demand.si == 0);
    CHECK(use_of(s, "block-shear", pushed(false)).demand.si == 0);
    // Beside a free end it does.
    Setup end = s;
    end.plate().host.to_end = 2.0_in;
    CHECK(use_of(end, "block-shear", pushed(false)).demand.si > 0);
    // A corner of the lip goes along one line and across to its long edge: from the after hole of
    // the outboard pair, shear 3 - 1.5 x 0.266, pulled side 1 - 0.133 in: (24 x 2.601 + 38 x 0.867)
    // / 8 = 11.921 kip for two bolts.
    const Use u = use_of(end, "block-shear", pushed(false));
    CHECK(u.factor() <= 11921.0 / 2 * (1 + 1e-4));
  }

  TEST_CASE("block: closed gunwales without an end and single fasteners are not concerned") {
    CHECK(check_of(quick(read(jon_boat)), "block-shear").standing == Standing::not_concerned);
    Setup s = lip();
    s.plate().fastening.holes.resize(1);
    CHECK(mode_of("block-shear").applies(s).standing == Standing::not_concerned);
    CHECK(mode_of("net-section").applies(read(jon_boat)).standing == Standing::not_concerned);
  }

  // By hand: the cut through the after pair carries all four; 3 - 2 x 0.266 in x 1/8 in x 38 ksi.
  TEST_CASE("net section: a lip tears across a row of holes as by hand") {
    const Setup s = lip();
    const Use u = use_of(s, "net-section", pushed(false));
    CHECK(u.demand.si / (1.0_lbf).value() == doctest::Approx(4));
    CHECK(u.strength.si / (1.0_lbf).value() == doctest::Approx(2.468 * 125 * 38).epsilon(1e-4));
    CHECK(use_of(s, "net-section", pushed(true)).demand.si == 0);
  }

  TEST_CASE("gunwale: a setup made by a program must have room in its section") {
    Setup s = read(tied());
    s.plate().host.bar->depth = 0.18_in;
    CHECK_THROWS_AS(validate(s), DomainError);
    s = read(tied());
    s.plate().host.bar->between_ties = Length{};
    CHECK_THROWS_AS(validate(s), DomainError);
    s = read(load_text);
    s.plate().host.bar = GunwaleBar{30.0_in, 2.0_in};
    CHECK_THROWS_AS(validate(s), DomainError);
  }
}

TEST_SUITE("property") {
  TEST_CASE("gunwale: a deeper, wider or thicker section is never weaker and turns less") {
    double strength[3] = {0, 0, 0};
    double turn[3] = {1e9, 1e9, 1e9};
    for (const WallForm form : {WallForm::closed_section, WallForm::open_lip}) {
      std::fill(strength, strength + 3, 0.0);
      std::fill(turn, turn + 3, 1e9);
      for (double k = 1; k < 3; k += 0.2) {
        Host h[3] = {box(k * 2.0_in, 1.5_in, 0.1_in), box(2.0_in, k * 1.5_in, 0.1_in),
                     box(2.0_in, 1.5_in, k * 0.1_in)};
        for (int i = 0; i < 3; ++i) {
          h[i].form = form;
          // A wide wall that buckles first is no stronger for its width.
          if (!bar_torsion(h[i]).buckles) CHECK(bar_torsion(h[i]).yields_at.value() >= strength[i]);
          const double angle = radians(bar_turn(h[i], Moment::from_value(100)));
          CHECK(angle <= turn[i]);
          strength[i] = bar_torsion(h[i]).yields_at.value();
          turn[i] = angle;
        }
      }
    }
  }

  // Against a search of its own over every choice of sides and rows, for random patterns: a block
  // is never stronger than the weakest of all pairs of holes.
  TEST_CASE("block: a pattern turned over, renumbered or mirrored tears out the same") {
    PlateDice dice(77);
    for (int k = 0; k < 50; ++k) {
      Setup s = lip();
      auto& holes = s.plate().fastening.holes;
      holes.clear();
      Actions a;
      const int n = 2 + dice.below(6);
      for (int i = 0; i < n; ++i) {
        holes.push_back({dice.inches(-2, 2), dice.inches(-1, 1)});
        a.shear[std::size_t(i)] = {dice.between(-1, 1) * 1.0_lbf, dice.between(0, 1) * 1.0_lbf};
      }
      const double factor = use_of(s, "block-shear", a).factor();
      Setup mirror = s;
      Actions b = a;
      for (int i = 0; i < n; ++i) {
        const auto from = std::size_t(i);
        const auto to = std::size_t(n - 1 - i);
        mirror.plate().fastening.holes[to] = {-1.0 * holes[from].x, holes[from].y};
        b.shear[to] = {-1.0 * a.shear[from].x, a.shear[from].y};
      }
      CHECK(use_of(mirror, "block-shear", b).factor() == doctest::Approx(factor).epsilon(1e-9));
      // Root on the other side, all turned by half a turn.
      Setup turned = s;
      turned.plate().host.lip_root_inboard = false;
      Actions c = a;
      for (int i = 0; i < n; ++i) {
        const auto at = std::size_t(i);
        turned.plate().fastening.holes[at] = {-1.0 * holes[at].x, -1.0 * holes[at].y};
        c.shear[at] = {-1.0 * a.shear[at].x, -1.0 * a.shear[at].y};
      }
      CHECK(use_of(turned, "block-shear", c).factor() == doctest::Approx(factor).epsilon(1e-9));
    }
  }

  // The manual's form alone steps: more Fsu takes a block from one expression to a lower one.
  TEST_CASE("block: a stronger metal is never weaker, whichever of its strengths rises") {
    PlateDice dice(78);
    for (int k = 0; k < 40; ++k) {
      Setup s = lip();
      s.plate().fastening.holes = test::rectangle(dice.inches(0.3, 2), dice.inches(0.3, 1));
      s.plate().host.metal.yield = dice.between(8, 30) * 1.0_ksi;
      s.plate().host.metal.ultimate = dice.between(12, 40) * 1.0_ksi;
      s.plate().host.metal.shear_ultimate = dice.between(5, 20) * 1.0_ksi;
      for (const int which : {0, 1, 2}) {
        Setup t = s;
        Metal& m = t.plate().host.metal;
        double before = 0;
        for (int step = 0; step < 20; ++step) {
          const double f = use_of(t, "block-shear", pushed(true)).factor();
          CHECK(f >= before * (1 - 1e-12));
          before = f;
          Stress& v = which == 0 ? m.yield : which == 1 ? m.ultimate : m.shear_ultimate;
          v *= 1.1;
        }
      }
    }
  }

  TEST_CASE("block: a thicker wall, a wider lip and smaller holes are never weaker") {
    for (const char* mode : {"block-shear", "net-section"}) {
      const bool across = std::string_view(mode) == "block-shear";
      double before = 0;
      for (double t = 0.06; t < 0.3; t += 0.03) {
        Setup s = lip();
        s.plate().host.thickness = t * 1.0_in;
        const double f = use_of(s, mode, pushed(across)).factor();
        CHECK(f > before);
        before = f;
      }
      before = 0;
      for (double wide = 2.8; wide < 5; wide += 0.3) {
        Setup s = lip();
        s.plate().host.flat = wide * 1.0_in;
        const double f = use_of(s, mode, pushed(across)).factor();
        CHECK(f > before);
        before = f;
      }
      before = 0;
      for (double hole = 0.4; hole > 0.24; hole -= 0.02) {
        Setup s = lip();
        s.plate().fastening.thread.clearance = hole * 1.0_in;
        const double f = use_of(s, mode, pushed(across)).factor();
        CHECK(f > before);
        before = f;
      }
    }
  }
}
