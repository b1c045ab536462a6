// A plate over an edge, held by U-bolts over a cleat, by clamps or by bolts.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include <thole/reading.hpp>
#include <thole/thole.hpp>

#include "core/bracket.hpp"
#include "core/plate_engine.hpp"
#include "support/hosts.hpp"
#include "support/validation.hpp"

using namespace thole;
using namespace thole::test;

namespace {

const Source& sand_heap =
    proves({"bracket-bends"}, "plastic torque of a thin strip, tau w t^2 / 2 (Nadai's sand heap)",
           Seen::memory);
const Source& angle_table =
    proves({"bracket-bends"}, "DIN 1028, angle 40 x 40 x 3: Wx = 1.18 cm3", Seen::memory);
const Source& breaking_load =
    proves({"u-bolt-breaks"}, "ISO 3506-1, least breaking load of M8-50: 18.3 kN", Seen::memory);

// The plate of 350 x 150 mm, 65 mm of it inboard of the edge; cleat line 120 mm inboard of that.
struct Plate {
  std::string bears = "[{fore_aft: [-75 mm, 75 mm], athwart: [-175 mm, 65 mm]}]";
  std::string gear_foot = "{outboard: 125 mm, width: 80 mm}";
  std::string thickness = "3 mm";
  std::string more = "  stop: yes\n";
  std::string at = "{forward: 0 mm, outboard: 440 mm, up: 0 mm}";
  std::string pull = "200 N";
  std::string azimuth = "0 deg";
  std::string dip = "90 deg";

  [[nodiscard]] std::string text() const {
    return "thole: 1\nunits: metric\nmount:\n  kind: bracket\n"
           "  host: {form: sheet, alloy: 5052-H32 sheet, thickness: {is: 1.6 mm, known: measured},"
           " to_support: 80 mm}\n"
           "  base:\n    fore_aft: 150 mm\n    athwart: 350 mm\n"
           "    material: {name: 6060-T5 flat bar, ultimate: 160 MPa, yield: 120 MPa,"
           " source: a certificate}\n    thickness: " +
           thickness + "\n  bears_on: " + bears + "\n  gear_foot: " + gear_foot +
           "\n  fastening:\n    hold: u_bolt\n    thread: M8\n    material: A2-50\n"
           "    holes: {points: [[-30 mm, -55 mm], [30 mm, -55 mm]]}\n"
           "  fitting:\n    outboard: -55 mm\n    height: 30 mm\n"
           "    foot: {fore_aft: 110 mm, athwart: 30 mm}\n"
           "    fastening: {hold: through_bolt, thread: M6, material: A2-50,"
           " holes: {fore_aft: 80 mm}, washer: M6 plain}\n" +
           more + "gear:\n  - kind: plain_load\n    at: " + at + "\n    pull: " + pull +
           "\n    azimuth: " + azimuth + "\n    dip: " + dip +
           "\ncondition: {cracks: no, loose_rivets: no, bent_or_corroded: no,"
           " soft_wood_or_core: no, weld_near_base: no, within_6_in: rib}\n";
  }
  [[nodiscard]] Setup setup() const { return read(text()); }
};

const std::string thin_edge = "[{fore_aft: [-75 mm, 75 mm], athwart: [64 mm, 65 mm]}]";

struct Pulls {
  std::vector<double> u_bolts;  // N
  std::vector<double> screws;
};

// Under the pull of the load, for the bed and the shares that `better` likes best.
template <class Better>
Pulls pulls_of(const Setup& s, Better better) {
  plate::Engine engine(s);
  const PlainLoad& load = *s.gear[0].plain_load;
  const Direction<Boat> d = line_direction(load.range.azimuth_from, load.range.dip_from);
  Pulls out;
  const std::string motion =
      engine.act(engine.beside(0), LoadPath::point, load.pull, d, [&](const plate::Acting& a) {
        Pulls p;
        for (int i = 0; i < a.front().count; ++i) {
          p.u_bolts.push_back(a.front().tension[std::size_t(i)].value());
        }
        for (int i = 0; i < a.back().count; ++i) {
          p.screws.push_back(a.back().tension[std::size_t(i)].value());
        }
        if (out.u_bolts.empty() || better(p, out)) out = p;
      });
  REQUIRE(motion.empty());
  return out;
}

double sum(const std::vector<double>& v) {
  double out = 0;
  for (const double x : v) out += x;
  return out;
}

const auto least = [](const Pulls& a, const Pulls& b) { return sum(a.u_bolts) < sum(b.u_bolts); };
const auto most = [](const Pulls& a, const Pulls& b) { return sum(a.u_bolts) > sum(b.u_bolts); };

CheckResult result_of(const Setup& s, std::string_view mode, std::string_view part = "") {
  const Assessment a = quick(s);
  for (const CheckResult& c : a.checks) {
    if (c.mode == mode && c.part == part) return c;
  }
  throw std::runtime_error("no check " + std::string(mode));
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

// Rows of two fasteners each under the plate of `Plate`, on a bed from -175 to 65 mm.
struct Rows {
  bool bolts = true;
  double thickness = 10;  // mm
  std::vector<double> outboard;
  double apart = 60;

  [[nodiscard]] Setup setup(double gear_outboard, const std::string& at) const {
    Plate p;
    p.thickness = std::to_string(thickness) + " mm";
    p.gear_foot = "{outboard: " + std::to_string(gear_outboard) + " mm, width: 80 mm}";
    p.at = at;
    std::string text = replaced(p.text(), "to_support: 80 mm", "to_support: 300 mm");
    std::string holes;
    for (const double y : outboard) {
      for (const double x : {-0.5, 0.5}) {
        holes += (holes.empty() ? "[" : ", [") + std::to_string(x * apart) + " mm, " +
                 std::to_string(y) + " mm]";
      }
    }
    text = replaced(text, "[[-30 mm, -55 mm], [30 mm, -55 mm]]", "[" + holes + "]");
    if (!bolts) return read(text);
    text = replaced(text, "    hold: u_bolt\n", "    hold: through_bolt\n    head: 24 mm\n");
    const std::size_t from = text.find("  fitting:");
    return read(text.erase(from, text.find("gear:") - from));
  }
};

// The hardest pull on a fastener and how nearly the bracket bends, for the worst of the beds.
struct Worked {
  double pull = 0;     // N
  double bends = 1e9;  // factor
};
Worked worked(const Setup& s) {
  plate::Engine engine(s);
  const PlainLoad& load = *s.gear[0].plain_load;
  Worked out;
  const std::string motion = engine.act(
      engine.beside(0), LoadPath::point, load.pull,
      line_direction(load.range.azimuth_from, load.range.dip_from), [&](const plate::Acting& a) {
        for (int i = 0; i < a.front().count; ++i) {
          out.pull = std::max(out.pull, a.front().tension[std::size_t(i)].value());
        }
        for (const plate::Standby& w : engine.modes()) {
          if (w.mode->id != "bracket-bends") continue;
          out.bends = std::min(out.bends, engine.use(w, a, Category::occasional).factor());
        }
      });
  REQUIRE(motion.empty());
  return out;
}

// The same plate as a beam 150 mm wide with a stop every 2.5 mm, 200 N down at `arm` outboard of
// its gear: slopes and rises of all stops by Gauss, one-way springs by trial. Written apart from
// what it checks.
Worked beam_of(const Rows& r, double gear_mm, double arm_mm, double modulus, double yield) {
  constexpr int n = 141;
  constexpr double h = 0.0025;
  constexpr double width = 0.150;
  const double t = 1e-3 * r.thickness;
  const auto x_of = [](int i) { return -0.175 + h * i; };
  const auto stop_at = [](double mm) { return int(std::lround((mm + 175) / 2.5)); };
  Worked out;
  for (const double soft : {0.05, 0.25, 1.0}) {
    std::vector<double> pulls(n, 0.0);
    std::vector<double> pushes(n, 0.0);
    for (const double y : r.outboard) pulls[std::size_t(stop_at(y))] += 2 * 8e6;
    const double bed = 2 * double(r.outboard.size()) * 8e6 / soft / 0.240;
    for (int i = 0; i <= 96; ++i) {
      pushes[std::size_t(i)] = bed * h * (i == 0 || i == 96 ? 0.5 : 1.0);
    }
    std::vector<double> rise(n, 0.0);
    std::vector<int> pulled(n, -1);  // not known: both
    bool settled = false;
    for (int round = 0; round < 60 && !settled; ++round) {
      std::vector<std::array<double, 4>> k(2 * n, std::array<double, 4>{});  // upper band
      std::vector<double> v(2 * n, 0.0);
      for (int i = 0; i + 1 < n; ++i) {
        const bool foot = std::abs(x_of(i) + 0.5 * h - 1e-3 * gear_mm) < 0.040;
        const double ei = modulus * width * t * t * t / 12 * (foot ? 1e4 : 1.0);
        const double f[4][4] = {{12, 6 * h, -12, 6 * h},
                                {0, 4 * h * h, -6 * h, 2 * h * h},
                                {0, 0, 12, -6 * h},
                                {0, 0, 0, 4 * h * h}};
        for (int a = 0; a < 4; ++a) {
          for (int b = a; b < 4; ++b) {
            k[std::size_t(2 * i + a)][std::size_t(b - a)] += ei / (h * h * h) * f[a][b];
          }
        }
      }
      for (std::size_t i = 0; i < n; ++i) {
        k[2 * i][0] += 1e-2 + (pulled[i] != 0 ? pulls[i] : 0) + (pulled[i] != 1 ? pushes[i] : 0);
      }
      v[std::size_t(2 * stop_at(gear_mm))] = -200;
      v[std::size_t(2 * stop_at(gear_mm)) + 1] = -200 * 1e-3 * arm_mm;
      for (std::size_t i = 0; i < v.size(); ++i) {
        for (std::size_t a = 1; a < 4 && i + a < v.size(); ++a) {
          const double m = k[i][a] / k[i][0];
          for (std::size_t b = a; b < 4; ++b) k[i + a][b - a] -= m * k[i][b];
          v[i + a] -= m * v[i];
        }
      }
      for (std::size_t i = v.size(); i-- > 0;) {
        for (std::size_t a = 1; a < 4 && i + a < v.size(); ++a) v[i] -= k[i][a] * v[i + a];
        v[i] /= k[i][0];
      }
      settled = true;
      for (std::size_t i = 0; i < n; ++i) {
        rise[i] = v[2 * i];
        settled = settled && pulled[i] == int(rise[i] > 0);
        pulled[i] = rise[i] > 0;
      }
    }
    REQUIRE(settled);
    for (const double y : r.outboard) {
      out.pull = std::max(out.pull, 8e6 * rise[std::size_t(stop_at(y))]);
    }
    for (int i = 0; i < n; ++i) {
      if (std::abs(x_of(i) - 1e-3 * gear_mm) < 0.0399) continue;
      const bool inboard = x_of(i) < 1e-3 * gear_mm;
      double moment = 0;
      for (int j = inboard ? 0 : i; j < (inboard ? i : n); ++j) {
        const double u = rise[std::size_t(j)];
        const double spring = u > 0 ? pulls[std::size_t(j)] : pushes[std::size_t(j)];
        moment += spring * u * std::abs(x_of(j) - x_of(i));
      }
      const bool holes = pulls[std::size_t(i)] > 0;
      const double holds = 0.25 * yield * t * t * (width - (holes ? 0.018 : 0.0));
      out.bends = std::min(out.bends, holds / std::max(std::abs(moment), 1e-9));
    }
  }
  return out;
}

}  // namespace

TEST_SUITE("published") {
  TEST_CASE("bracket: an angle takes what its section modulus by the standard allows") {
    const Against against(angle_table);
    // Wx is with round corners, e = 10.7 mm; thick angles have no
    // reduction: 40 x 40 x 8 by its rectangles alone.
    Plate p;
    p.more =
        "  angles: [{alloy: 6061-T6 extrusion, leg: 40 mm, thickness: 3 mm, runs: athwart, "
        "ends: [-170 mm, 170 mm]}]\n  stop: yes\n";
    const CheckResult thin = result_of(p.setup(), "bracket-bends");
    // Local buckling as EN 1999-1-1 6.1.5 has it: epsilon^2 = 250/240 x 69.6/70.
    const double epsilon = std::sqrt(250.0 / 241.3 * 69.64 / 70);
    const double slender = 40.0 / 3 / epsilon;
    const double by_table = 1.18e-6 * 241.3e6 * (9 / slender - 20 / (slender * slender));
    CHECK(compared(thin.strength.si, by_table, "N m") == doctest::Approx(1).epsilon(0.07));
    CHECK(thin.strength.si > 4 * result_of(Plate{}.setup(), "bracket-bends").strength.si);
  }

  // EN 1999-1-1 Tables 6.2 and 6.3, outstand of class B (from memory): the reduction begins at 5,
  // where 9/5 - 20/25 is one.
  TEST_CASE("bracket: an angle is reduced from where the curve of the standard leaves one") {
    const double epsilon = std::sqrt(250.0 / 241.3 * 69.64 / 70);
    const auto of_sharp_section = [](double t) {
      Plate p;
      p.more = "  angles: [{alloy: 6061-T6 extrusion, leg: 40 mm, thickness: " + std::to_string(t) +
               " mm, runs: athwart, ends: [-170 mm, 170 mm]}]\n  stop: yes\n";
      const double flat = 40 * t, stem = (40 - t) * t;
      const double middle = (flat * t / 2 + stem * (40 + t) / 2) / (flat + stem);
      const double inertia = 40 * t * t * t / 12 + flat * std::pow(middle - t / 2, 2) +
                             t * std::pow(40 - t, 3) / 12 +
                             stem * std::pow((40 + t) / 2 - middle, 2);
      return result_of(p.setup(), "bracket-bends").strength.si / (inertia / (40 - middle));
    };
    const double whole = of_sharp_section(40 / (4.9 * epsilon));
    for (const double slender : {5.05, 5.2, 5.5, 5.95, 6.2, 7.0}) {
      CAPTURE(slender);
      const double curve = 9 / slender - 20 / (slender * slender);
      CHECK(of_sharp_section(40 / (slender * epsilon)) / whole ==
            doctest::Approx(curve).epsilon(0.002));
    }
  }

  TEST_CASE("bracket: twist yields a strip at its plastic torque") {
    const Against against(sand_heap);
    // Straight down 0.44 m astern of the foot, which stands 60 mm beyond the edge: bending 12 N m
    // and twist 88 N m over all of its 150 mm. Fully plastic strip: tau w t^2/2 with
    // tau = Fty/sqrt(3).
    Plate p;
    p.at = "{forward: -440 mm, outboard: 0 mm, up: 0 mm}";
    const CheckResult c = result_of(p.setup(), "bracket-bends");
    const double torque = 120e6 / std::sqrt(3) * 0.150 * 9e-6 / 2;
    const double bending = 120e6 * 0.150 * 9e-6 / 4;
    CHECK(compared(c.factor, 1 / std::hypot(88 / torque, 12 / bending)) ==
          doctest::Approx(1).epsilon(0.01));
  }

  TEST_CASE("bracket: a U-bolt holds no more than two legs of its least breaking load") {
    const Against against(breaking_load);
    // 18.3 kN each leg. One leg may have 0.65 of the pull.
    const Setup s = Plate{}.setup();
    Actions a;
    a.count = 2;
    a.tension[0] = Force::from_value(10000);
    const Use use = mode_of("u-bolt-breaks").use(s, a, Category::occasional);
    CHECK(use.fastener == 0);
    const double holds = 10000 * use.factor();
    CHECK(holds < 2 * 18300);
    const double share = compared(holds, 18300 / 0.652, "N");
    CHECK(share == doctest::Approx(1).epsilon(0.11));
    CHECK(share < 1);
    // A side force bends the leg over the 27 mm between plate and cleat: A2-50 yields at 210 MPa.
    a.tension[0] = Force{};
    a.shear[0] = {Force::from_value(100), Force{}};
    const double root = 8 - 1.191 * 1.25;
    const double bends = std::pow(root * 1e-3, 3) / 6 * 210e6;
    const double alone = mode_of("u-bolt-breaks").use(s, a, Category::occasional).demand.si;
    CHECK(alone == doctest::Approx(100 * 0.027 / bends).epsilon(0.02));
  }
}

TEST_SUITE("published") {
  TEST_CASE("bracket: a thin plate pulls at its fasteners as a beam over three supports") {
    // Clapeyron's three moments (any textbook, from memory): 100 N m over the edge, the screws
    // L1 = 84.5 mm behind it, the next support L2 = 120 mm behind them:
    // Mb = M L1 / (2 (L1 + L2)), pull = (M + Mb)/L1 + Mb/L2; a thick plate pulls M/L1.
    Plate p;
    p.bears =
        "[{fore_aft: [-75 mm, 75 mm], athwart: [64 mm, 65 mm]},"
        " {fore_aft: [-75 mm, 75 mm], athwart: [-140.5 mm, -139.5 mm]}]";
    std::string text = p.text();
    text = replaced(text, "    hold: u_bolt\n", "    hold: through_bolt\n");
    text = replaced(text, "[[-30 mm, -55 mm], [30 mm, -55 mm]]",
                    "[[-30 mm, -20 mm], [30 mm, -20 mm]]");
    const std::size_t from = text.find("  fitting:");
    text.erase(from, text.find("gear:") - from);
    const auto pull = [&](const std::string& thickness, const std::string& holes) {
      std::string with = replaced(text, "thickness: 3 mm", "thickness: " + thickness);
      with = replaced(with, "[[-30 mm, -20 mm], [30 mm, -20 mm]]", holes);
      return check_of(quick(read(replaced(with, "to_support: 80 mm", "to_support: 300 mm"))),
                      "bolt-tension")
          .demand.si;
    };
    const std::string one = "[[-30 mm, -20 mm], [30 mm, -20 mm]]";
    const double mb = 100 * 84.5 / (2 * (84.5 + 120));
    const double thin = 0.5 * ((100 + mb) / 0.0845 + mb / 0.120);
    CHECK(pull("3 mm", one) == doctest::Approx(thin).epsilon(0.03));
    CHECK(pull("25 mm", one) == doctest::Approx(0.5 * 100 / 0.0845).epsilon(0.03));
    // Over the whole bed a thick plate works the farther of two rows, a thin one the nearer, harder
    // (beam with one-way springs, calculated apart: 1260 N at 6 mm).
    text = replaced(text, p.bears, Plate{}.bears);
    const std::string two =
        "[[-30 mm, 40 mm], [30 mm, 40 mm], [-30 mm, -140 mm], [30 mm, -140 mm]]";
    CHECK(pull("6 mm", two) > 1260);
    CHECK(pull("6 mm", two) < 1.25 * 1260);
    CHECK(pull("25 mm", two) < 400);
  }
}

TEST_SUITE("unit") {
  TEST_CASE("bracket: abeam the hold-down at the cleat is the moment over its distance") {
    // By hand: 200 N at 0.5 m outboard of the edge over 0.12 m: 833 N, half of it on each screw.
    Plate p;
    p.bears = thin_edge;
    const Pulls narrow = pulls_of(p.setup(), least);
    CHECK(sum(narrow.u_bolts) == doctest::Approx(200 * 0.5 / 0.12).epsilon(0.01));
    CHECK(narrow.screws[0] == doctest::Approx(417).epsilon(0.01));
    CHECK(narrow.screws[1] == doctest::Approx(417).epsilon(0.01));
    // Over the whole bed the pressure has a middle inboard of the edge: more, never less.
    p.bears = Plate{}.bears;
    CHECK(sum(pulls_of(p.setup(), least).u_bolts) > 833);
    p.thickness = "12 mm";  // a thin plate curls and pries
    CHECK(sum(pulls_of(p.setup(), most).u_bolts) < 1.6 * 833);
  }

  TEST_CASE("bracket: astern the forward U-bolt and the forward screw take most") {
    // By hand: 100 N m about the aft edge, arms of 105 and 45 mm: 0.80 and 0.34 kN; on screws 80 mm
    // apart 0.75 kN forward and 0.40 kN aft.
    Plate p;
    p.bears = "[{fore_aft: [-75 mm, -74 mm], athwart: [-175 mm, 65 mm]}]";
    p.gear_foot = "{outboard: -55 mm, width: 80 mm}";
    p.at = "{forward: -575 mm, outboard: 0 mm, up: 0 mm}";
    const Pulls f = pulls_of(p.setup(), most);
    CHECK(f.u_bolts[1] == doctest::Approx(805).epsilon(0.07));
    CHECK(f.u_bolts[0] == doctest::Approx(345).epsilon(0.07));
    const double forward = std::max(f.screws[0], f.screws[1]);
    CHECK(forward == doctest::Approx((805 * 70 + 345 * 10) / 80.0).epsilon(0.07));
    CHECK(sum(f.screws) == doctest::Approx(1150).epsilon(0.07));
  }

  TEST_CASE("bracket: a side force turns the cleat over at the height of its barrel") {
    // 100 N outboard at the plate, 30 mm above the foot: 3 N m about its length; the foot pivots
    // on its outboard edge, 15 mm from the screws: 200 N more on both together than without.
    Plate p;
    p.at = "{forward: 0 mm, outboard: -180 mm, up: 0 mm}";  // over the cleat: no U-bolt is pulled
    p.pull = "100 N";
    p.azimuth = "90 deg";
    p.dip = "0 deg";
    const Setup s = p.setup();
    const Pulls f = pulls_of(s, least);
    CHECK(sum(f.u_bolts) == doctest::Approx(0).epsilon(1e-6));
    CHECK(sum(f.screws) > 3 / 0.015);
    CHECK(sum(f.screws) < 1.8 * 3 / 0.015);
  }

  TEST_CASE("bracket: at the edge it bends as a cantilever") {
    // 200 N at 0.5 m: 100 N m; 150 mm wide: Fty w t^2/4 = 40.5 N m.
    Plate p;
    p.bears = thin_edge;
    const CheckResult c = result_of(p.setup(), "bracket-bends");
    CHECK(c.strength.si == doctest::Approx(120e6 * 0.150 * 9e-6 / 4));
    CHECK(c.demand.si == doctest::Approx(100).epsilon(0.01));
    CHECK(c.factor == doctest::Approx(0.405).epsilon(0.01));
    // A narrow foot: at its edge 45 degrees from its middle give 40 mm; 200 N at 0.43 m.
    Plate narrow = p;
    narrow.gear_foot = "{outboard: 125 mm, width: 20 mm}";
    const CheckResult n = result_of(narrow.setup(), "bracket-bends");
    CHECK(n.strength.si == doctest::Approx(120e6 * 0.040 * 9e-6 / 4));
    CHECK(n.demand.si == doctest::Approx(200 * 0.45).epsilon(0.01));
    // Twice as thick takes four times as much.
    p.thickness = "6 mm";
    CHECK(result_of(p.setup(), "bracket-bends").factor == doctest::Approx(4 * 0.405).epsilon(0.01));
  }

  TEST_CASE("bracket: what the bed does adds up to its resultant") {
    const Setup s =
        read(replaced(Plate{}.text(), "[{fore_aft: [-75 mm, 75 mm], athwart: [-175 mm, 65 mm]}]",
                      "[{fore_aft: [-75 mm, 75 mm], athwart: [-175 mm, 25 mm]}, "
                      "{fore_aft: [-75 mm, 75 mm], athwart: [25 mm, 65 mm]}]"));
    plate::Engine engine(s);
    const Direction<Boat> d = line_direction(Angle{}, degrees(40));
    const std::string motion = engine.act(
        engine.beside(0), LoadPath::point, Force::from_value(200), d, [&](const plate::Acting& a) {
          const Actions& on = a.front();
          const bracket::Reactions r(s.plate(), on.result);
          Force all{};
          for (const bracket::Push& p : r.parts()) all += p.force;
          CHECK(all.value() == doctest::Approx(on.result.bed_force.value()).epsilon(1e-9));
          // Nothing is left out beyond a line far away on the other side: balance with the load.
          const bracket::Push whole = r.beyond(1, 0, Length::from_value(-10));
          CHECK((whole.force + on.load.force.z()).value() ==
                doctest::Approx(0).scale(200).epsilon(1e-6));
          CHECK((whole.about_x + on.load.moment.x()).value() ==
                doctest::Approx(0).scale(100).epsilon(1e-6));
          CHECK((whole.about_y - on.load.moment.y()).value() ==
                doctest::Approx(0).scale(100).epsilon(1e-6));
          // And as BaseContact has it, whose sign is that of a pull down.
          const Length at = Length::from_value(0.01);
          const bracket::Push part = r.beyond(0, 1, at);
          CHECK((part.about_x - at * part.force).value() ==
                doctest::Approx(-on.contact->moment_beyond(on.result, 0, 1, at).value())
                    .epsilon(1e-6));
        });
    CHECK(motion.empty());
  }

  TEST_CASE("bracket: friction against turning round by hand") {
    // Two U-bolts of two M8 legs in A2-50 (210 MPa, 36.6 mm2), a fifth of their yield, half of it
    // left: 1537 N each. Friction 0.1 at 30 mm: 9.2 N m. 150 N aft at 0.62 m: 93 N m.
    Plate p;
    p.more = "  stop: no\n";
    const Setup s = p.setup();
    Actions a;
    a.count = 2;
    a.load.force = {Force::from_value(-150), Force{}, Force{}};
    a.load.moment = {Moment{}, Moment{}, Moment::from_value(93)};
    const Use use = mode_of("bracket-slip").use(s, a, Category::occasional);
    CHECK(use.strength.si == doctest::Approx(0.1 * 2 * 1537).epsilon(0.01));
    CHECK(use.demand.si == doctest::Approx(150 + 93 / 0.03).epsilon(1e-6));
    // What lifts it takes from the clamping; measured friction counts up to 0.2.
    a.load.force = {Force::from_value(-150), Force{}, Force::from_value(1000)};
    CHECK(mode_of("bracket-slip").use(s, a, Category::occasional).strength.si ==
          doctest::Approx(0.1 * (2 * 1537 - 1000)).epsilon(0.01));
    p.more = "  stop: no\n  friction: 0.5\n";
    CHECK(mode_of("bracket-slip").use(p.setup(), a, Category::occasional).strength.si ==
          doctest::Approx(0.2 * (2 * 1537 - 1000)).epsilon(0.01));
  }

  TEST_CASE("bracket: friction alone is refused and its figure is told") {
    Plate p;
    p.pull = "5 N";
    p.dip = "0 deg";
    p.thickness = "10 mm";
    for (const char* more : {"  stop: no\n", "  stop: no\n  friction: 0.9\n", ""}) {
      p.more = more;
      const Assessment a = assess(p.setup());
      CHECK(a.verdict == Verdict::no_verdict);
      CHECK(a.sentence.find("friction") != std::string::npos);
      CHECK(a.sentence.find("slips or turns round at about") != std::string::npos);
      CHECK_FALSE(a.hold_limit.has_value());
    }
    p.more = "  stop: yes\n";
    const Assessment a = assess(p.setup());
    CHECK(a.verdict == Verdict::holds_if);
    CHECK(std::any_of(a.holds_if.begin(), a.holds_if.end(),
                      [](const std::string& t) { return t.find("stop") != std::string::npos; }));
    CHECK(std::any_of(a.cautions.begin(), a.cautions.end(), [](const std::string& t) {
      return t.find("do not moor") != std::string::npos;
    }));
  }

  TEST_CASE("bracket: a clamp needs a jaw under the edge and a figure with its source") {
    std::string text = Plate{}.text();
    text = replaced(text, "    hold: u_bolt\n", "    hold: clamp\n");
    const std::size_t from = text.find("  fitting:");
    const std::size_t to = text.find("  stop: yes");
    text.erase(from, to - from);
    const auto with_clamp = [&](const std::string& clamp) {
      return quick(read(replaced(text, "  stop: yes\n", "  stop: yes\n  clamp: " + clamp + "\n")));
    };
    const Assessment faces = with_clamp("{jaw: two_faces, holds: {is: 9 kN, source: its maker}}");
    CHECK(faces.verdict == Verdict::no_verdict);
    CHECK(check_of(faces, "clamp-opens").standing == Standing::refused);
    const Assessment bare = with_clamp("{jaw: under_edge}");
    CHECK(bare.verdict == Verdict::no_verdict);
    CHECK(check_of(bare, "clamp-opens").why.find("no published source") != std::string::npos);
    const Assessment given = with_clamp("{jaw: under_edge, holds: {is: 2 kN, source: its maker}}");
    const CheckResult c = check_of(given, "clamp-opens");
    CHECK(c.standing == Standing::applies);
    CHECK(c.strength.si == doctest::Approx(2000));
    CHECK(given.verdict != Verdict::no_verdict);
    const Assessment full = assess(
        read(replaced(replaced(text, "200 N", "5 N"), "  stop: yes\n",
                      "  stop: yes\n  clamp: {jaw: under_edge, holds: {is: 2 kN, source: it}}\n")));
    CHECK(std::any_of(full.holds_if.begin(), full.holds_if.end(), [](const std::string& t) {
      return t.find("edge of the wall") != std::string::npos;
    }));
  }

  TEST_CASE(
      "bracket: nothing enters the host where U-bolts hold and the cleat has its own checks") {
    const Assessment a = quick(Plate{}.setup());
    for (const CheckResult& c : a.checks) {
      const bool of_host = c.mode == "wall-yield" || c.mode == "pull-over-behind" ||
                           c.mode == "wall-bearing-bolt" || c.mode == "bolt-tension";
      if (of_host) CHECK(c.part == "cleat");
    }
    CHECK(check_of(a, "pull-over-behind").gives_way.find("(cleat)") != std::string::npos);
  }

  TEST_CASE("bracket: bolts through the host are one part with all their checks") {
    std::string text = Plate{}.text();
    text = replaced(text, "    hold: u_bolt\n", "    hold: through_bolt\n");
    const std::size_t from = text.find("  fitting:");
    text.erase(from, text.find("gear:") - from);
    const Assessment a = quick(read(text));
    CHECK(a.verdict != Verdict::no_verdict);
    CHECK(check_of(a, "bolt-tension").part.empty());
    CHECK(check_of(a, "bracket-slip").standing == Standing::not_concerned);
    CHECK(check_of(a, "bracket-bends").standing == Standing::applies);
    // Two screws more, farther from the gear: where the bracket bends they help little, and a thin
    // one pries at them.
    text = replaced(text, "thickness: 3 mm", "thickness: 10 mm");
    const auto tension = [&](const std::string& holes) {
      return check_of(quick(read(replaced(text, "[[-30 mm, -55 mm], [30 mm, -55 mm]]", holes))),
                      "bolt-tension")
          .demand.si;
    };
    const double two = tension("[[-30 mm, -20 mm], [30 mm, -20 mm]]");
    const double four =
        tension("[[-30 mm, -20 mm], [30 mm, -20 mm], [-30 mm, -80 mm], [30 mm, -80 mm]]");
    CHECK(four < two);
    CHECK(four > 0.45 * two);  // rigid, they would leave 0.26 of it
  }

  TEST_CASE("bracket: a pad beside the gear works no more of the plate than it covers") {
    Plate p;
    p.gear_foot = "{outboard: 125 mm, width: 20 mm}";
    const double without = result_of(p.setup(), "bracket-bends").factor;
    p.bears =
        "[{fore_aft: [-75 mm, 75 mm], athwart: [-175 mm, 65 mm]},"
        " {fore_aft: [-75 mm, -72 mm], athwart: [100 mm, 150 mm]}]";
    CHECK(result_of(p.setup(), "bracket-bends").factor < 1.1 * without);
  }

  TEST_CASE("bracket: an angle away from the gear does not help the plate at its foot") {
    Plate p;
    p.gear_foot = "{forward: 35 mm, outboard: 125 mm, width: 40 mm}";
    const double bare = result_of(p.setup(), "bracket-bends").factor;
    const auto with_angle = [&](const std::string& at) {
      p.more =
          "  angles: [{alloy: 6061-T6 extrusion, leg: 40 mm, thickness: 4 mm, runs: athwart, "
          "ends: [-170 mm, 170 mm], at: " +
          at + "}]\n  stop: yes\n";
      return result_of(p.setup(), "bracket-bends").factor;
    };
    CHECK(with_angle("-70 mm") == doctest::Approx(bare));
    CHECK(with_angle("35 mm") > 3 * bare);
  }

  TEST_CASE("bracket: firm ground does not give under it") {
    Plate p;
    const CheckResult soft = result_of(p.setup(), "wall-press");
    p.bears = "[{fore_aft: [-75 mm, 75 mm], athwart: [-175 mm, 65 mm], firm: yes}]";
    const CheckResult firm = result_of(p.setup(), "wall-press");
    CHECK(soft.demand.si > 200);
    CHECK_FALSE(firm.demand.si > 0);
  }
}

TEST_SUITE("property") {
  TEST_CASE("bracket: fasteners pull and a plate bends no less than those of a finer beam") {
    for (const Rows& r :
         {Rows{true, 3, {-150, 0}, 110}, Rows{true, 10, {-150, 0}, 110}, Rows{true, 4, {-140, 40}},
          Rows{true, 12, {-140, 40}}, Rows{true, 5, {-80, -20}}, Rows{false, 3, {-55}},
          Rows{false, 10, {-55}}}) {
      for (const double arm : {440.0, -400.0}) {
        for (double gear = -60; gear <= 135; gear += 7.5) {
          CAPTURE(r.thickness);
          CAPTURE(r.outboard.front());
          CAPTURE(arm);
          CAPTURE(gear);
          const Setup s =
              r.setup(gear, "{forward: 0 mm, outboard: " + std::to_string(arm) + " mm, up: 0 mm}");
          const Metal& metal = *s.plate().base.metal;
          const Worked ours = worked(s);
          const Worked finer = beam_of(r, gear, arm, metal.modulus.value(), metal.yield.value());
          CHECK(ours.pull > 0.98 * finer.pull);
          CHECK(ours.bends < 1.01 * finer.bends);
          // Nor much more: a plate that does not bend pulls as its exact bed has it.
          CHECK(ours.pull < 1.35 * finer.pull);
        }
      }
    }
  }

  TEST_CASE("bracket: a gear a little farther out changes little") {
    for (const Rows& r :
         {Rows{true, 4, {-150, 0}, 110}, Rows{true, 10, {-150, 0}, 110}, Rows{true, 12, {-140, 40}},
          Rows{false, 3, {-55}}, Rows{false, 10, {-55}}}) {
      for (const char* at : {"{forward: 0 mm, outboard: 440 mm, up: 0 mm}",
                             "{forward: -310 mm, outboard: 310 mm, up: 0 mm}"}) {
        Worked last;
        for (double gear = -60; gear <= 135; gear += 2.5) {
          CAPTURE(r.thickness);
          CAPTURE(r.outboard.front());
          CAPTURE(at);
          CAPTURE(gear);
          const Worked now = worked(r.setup(gear, at));
          if (gear > -60) {
            CHECK(now.pull < 1.15 * last.pull);
            CHECK(last.pull < 1.15 * now.pull);
            CHECK(now.bends < 1.15 * last.bends);
            CHECK(last.bends < 1.15 * now.bends);
          }
          last = now;
        }
      }
    }
  }

  TEST_CASE("bracket: a thicker plate never bends sooner and a longer overhang never later") {
    for (const char* azimuth : {"0 deg", "45 deg", "90 deg"}) {
      Plate p;
      p.azimuth = azimuth;
      p.dip = "[0 deg, 90 deg]";
      p.at = "{forward: -200 mm, outboard: 300 mm, up: 100 mm}";
      double last = 0;
      for (const char* thickness : {"2 mm", "3 mm", "5 mm", "8 mm", "12 mm"}) {
        p.thickness = thickness;
        const double factor = result_of(p.setup(), "bracket-bends").factor;
        CHECK(factor >= last);
        last = factor;
      }
      p.thickness = "5 mm";
      p.dip = "90 deg";
      last = 1e300;
      for (const char* edge : {"65 mm", "45 mm", "25 mm", "5 mm"}) {
        p.bears = std::string("[{fore_aft: [-75 mm, 75 mm], athwart: [-175 mm, ") + edge + "]}]";
        const double factor = result_of(p.setup(), "bracket-bends").factor;
        CAPTURE(edge);
        CHECK(factor <= last * (1 + 1e-9));
        last = factor;
      }
    }
  }

  TEST_CASE("bracket: bow and stern may be swapped") {
    Plate p;
    p.more = "  stop: no\n";
    p.bears = "[{fore_aft: [-75 mm, 40 mm], athwart: [-175 mm, 65 mm]}]";
    p.gear_foot = "{forward: 20 mm, outboard: 125 mm, width: 60 mm}";
    p.at = "{forward: -200 mm, outboard: 300 mm, up: 100 mm}";
    p.azimuth = "30 deg";
    p.dip = "35 deg";
    Plate q = p;
    q.bears = "[{fore_aft: [-40 mm, 75 mm], athwart: [-175 mm, 65 mm]}]";
    q.gear_foot = "{forward: -20 mm, outboard: 125 mm, width: 60 mm}";
    q.at = "{forward: 200 mm, outboard: 300 mm, up: 100 mm}";
    q.azimuth = "150 deg";
    const Assessment a = quick(p.setup());
    const Assessment b = quick(q.setup());
    for (const CheckResult& c : a.checks) {
      if (c.standing != Standing::applies) continue;
      const auto same = std::find_if(b.checks.begin(), b.checks.end(), [&](const CheckResult& o) {
        return o.mode == c.mode && o.part == c.part;
      });
      REQUIRE(same != b.checks.end());
      CAPTURE(c.mode);
      if (std::isfinite(c.factor)) {
        CHECK(same->factor == doctest::Approx(c.factor).epsilon(1e-6));
      }
    }
  }

  TEST_CASE("bracket: the same plate drawn lengthwise and turned is the same") {
    Plate p;
    p.more =
        "  stop: no\n  angles: [{alloy: 6061-T6 extrusion, leg: 40 mm, thickness: 5 mm, "
        "runs: athwart, ends: [-170 mm, 170 mm], at: 40 mm}]\n";
    p.azimuth = "50 deg";
    p.dip = "35 deg";
    const std::string drawn = p.text();
    std::string turned = drawn;
    for (const auto& [from, to] :
         {std::pair{"    fore_aft: 150 mm\n    athwart: 350 mm\n",
                    "    fore_aft: 350 mm\n    athwart: 150 mm\n    turned: 90 deg\n"},
          std::pair{"{fore_aft: [-75 mm, 75 mm], athwart: [-175 mm, 65 mm]}",
                    "{fore_aft: [-175 mm, 65 mm], athwart: [-75 mm, 75 mm]}"},
          std::pair{"{outboard: 125 mm, width", "{forward: 125 mm, outboard: 0 mm, width"},
          std::pair{"[[-30 mm, -55 mm], [30 mm, -55 mm]]", "[[-55 mm, 30 mm], [-55 mm, -30 mm]]"},
          std::pair{"    outboard: -55 mm\n", "    forward: -55 mm\n    outboard: 0 mm\n"},
          std::pair{"runs: athwart, ends: [-170 mm, 170 mm], at: 40 mm",
                    "runs: fore_aft, ends: [-170 mm, 170 mm], at: -40 mm"}}) {
      turned = replaced(turned, from, to);
    }
    const Assessment a = quick(read(drawn));
    const Assessment b = quick(read(turned));
    for (const CheckResult& c : a.checks) {
      if (c.standing != Standing::applies || !std::isfinite(c.factor)) continue;
      const auto same = std::find_if(b.checks.begin(), b.checks.end(), [&](const CheckResult& o) {
        return o.mode == c.mode && o.part == c.part;
      });
      REQUIRE(same != b.checks.end());
      CAPTURE(c.mode);
      CHECK(same->factor == doctest::Approx(c.factor).epsilon(1e-6));
    }
  }

  TEST_CASE("bracket: factors scale with the load") {
    Plate p;
    p.azimuth = "60 deg";
    p.dip = "30 deg";
    Plate twice = p;
    twice.pull = "400 N";
    for (const char* mode : {"bracket-bends", "u-bolt-breaks", "pull-over"}) {
      CHECK(result_of(p.setup(), mode).factor ==
            doctest::Approx(2 * result_of(twice.setup(), mode).factor).epsilon(1e-6));
    }
    CHECK(
        result_of(p.setup(), "wall-yield", "cleat").factor ==
        doctest::Approx(2 * result_of(twice.setup(), "wall-yield", "cleat").factor).epsilon(1e-6));
  }
}
