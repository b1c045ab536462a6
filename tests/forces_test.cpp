// Forces under the hardest load of each case: against statics and beam formulas worked by hand, and
// as a table.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <numbers>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include <Eigen/Geometry>

#include <thole/reading.hpp>
#include <thole/sheet.hpp>
#include <thole/thole.hpp>

#include "support/boards.hpp"
#include "support/light_plank.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using doctest::Approx;
using Eigen::Vector3d;
using test::jon_boat;
using test::load_text;
using test::read;
using test::with;

namespace {

constexpr double inch = 0.0254;
constexpr double lbf = 4.4482216152605;
constexpr double g0 = 9.80665;

Assessment with_forces(const Setup& s, bool neighbours = false) {
  AssessOptions o;
  o.neighbours = neighbours;
  o.forces = true;
  return assess(s, o);
}

const CaseForces& forces_of(const Assessment& a, std::string_view kind) {
  for (const CaseForces& f : a.forces) {
    if (a.cases[f.loading.load_case].load_case.kind == kind) return f;
  }
  throw std::runtime_error("no forces of " + std::string(kind));
}

std::vector<std::filesystem::path> examples() {
  std::vector<std::filesystem::path> out;
  for (const auto& e : std::filesystem::directory_iterator(THOLE_ROOT "/examples")) {
    if (e.path().extension() == ".yaml") out.push_back(e.path());
  }
  std::sort(out.begin(), out.end());
  return out;
}

Setup example(const std::filesystem::path& path) {
  std::ifstream in(path);
  REQUIRE(in);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  return read_setup(text, path.filename().string(), built_in_materials());
}

void weaken(FastenerMaterial& m) {
  m.yield = 1e-3 * m.yield;
  m.ultimate = 1e-3 * m.ultimate;
  m.shear_ultimate = 1e-3 * m.shear_ultimate;
}

double shear_of(const FastenerForce& f) {
  return std::hypot(f.forward.value(), f.outboard.value());
}

bool same(double a, double b, double scale) {
  return std::abs(a - b) <= 1e-8 * std::max(scale, 1e-6);
}

// A base so thick that it does not bend: tension holds no growth.
std::string stiff_load() {
  return with(load_text, "thickness: 3/16 in, body: 1 in", "thickness: 2 in, body: 3 in");
}

// ---- A plank on two narrow blocks, worked by hand --------------------------------------------

// Of the real size 1.5 x 7.25 in and 72 in; the port block begins 8 in from the port end.
constexpr double plank_length = 72 * inch;
constexpr double plank_height = 1.5 * inch;
constexpr double plank_width = 7.25 * inch;

std::string narrow(std::string text) {
  text = with(text, "along: 7 in", "along: 3/4 in");
  text = with(text, "outboard: 3 in", "outboard: 3/8 in");
  return with(text, "outboard: 3 in", "outboard: 3/8 in");
}

double plank_weight(const Setup& s) {
  // Oven-dry specific gravity with a fifth more for water, as the board's weight is documented.
  return 1000 * s.board().board.wood->specific_gravity * 1.2 * plank_width * plank_height *
         plank_length * g0;
}

// Force and moment about the port end on the middle line, in axes of the board.
struct Sum {
  Vector3d force = Vector3d::Zero();
  Vector3d moment = Vector3d::Zero();
  double size = 0;  ///< of all that is added
  void add(const Vector3d& at, const Vector3d& f) {
    force += f;
    moment += at.cross(f);
    size += f.norm();
  }
};

Sum of_supports(const CaseForces& f) {
  Sum out;
  for (const SupportForce& s : f.supports) out.add(s.at.si_values(), s.on_board.si_values());
  return out;
}

// ---- A strict reader of RFC 4180 ---------------------------------------------------------------

using Table = std::vector<std::vector<std::string>>;

// Throws on a bare CR or LF, on a quote inside a bare cell, on a last line without an end.
Table read_csv(const std::string& text) {
  Table out;
  std::vector<std::string> row;
  std::size_t i = 0;
  const auto fail = [&](const char* what) {
    throw std::runtime_error(std::string(what) + " at " + std::to_string(i));
  };
  while (i < text.size()) {
    std::string cell;
    if (text[i] == '"') {
      for (++i;; ++i) {
        if (i >= text.size()) fail("open quote");
        if (text[i] != '"') {
          cell += text[i];
          continue;
        }
        if (i + 1 < text.size() && text[i + 1] == '"') {
          cell += text[i++];
          continue;
        }
        ++i;
        break;
      }
    } else {
      while (i < text.size() && text[i] != ',' && text[i] != '\r') {
        if (text[i] == '"' || text[i] == '\n') fail("a quote or line end in a bare cell");
        cell += text[i++];
      }
    }
    row.push_back(cell);
    if (i >= text.size()) fail("no line end");
    if (text[i] == ',') {
      ++i;
      continue;
    }
    if (text.compare(i, 2, "\r\n") != 0) fail("no line end");
    i += 2;
    out.push_back(row);
    row.clear();
  }
  if (!row.empty()) fail("half a row");
  return out;
}

std::size_t column(const Table& t, std::string_view name) {
  const auto at = std::find(t.front().begin(), t.front().end(), name);
  REQUIRE(at != t.front().end());
  return std::size_t(at - t.front().begin());
}

std::size_t rows_of(const Assessment& a) {
  std::size_t n = 0;
  for (const CaseForces& f : a.forces) {
    n += f.fasteners.size() + f.supports.size() + f.cuts.size() + 2 * f.motions.size();
    n += f.on_board.size() + f.on_base.size() + (f.bed ? 1 : 0);
  }
  return n;
}

}  // namespace

namespace {

// One row of equal length for each item, notes in rows of their own.
void check_table(const Setup& s, const Assessment& a) {
  const std::string text = forces_csv(s, a);
  CHECK(text == forces_csv(s, a));
  const Table t = read_csv(text);
  std::size_t items = 0;
  bool defers = false;
  for (std::size_t i = 1; i < t.size(); ++i) {
    const auto& row = t[i];
    REQUIRE(row.size() == t.front().size());
    const bool notes = !row.front().empty();
    defers = defers || row.front().find("marine professional") != std::string::npos;
    items += notes ? 0 : 1;
    CHECK(notes == row[1].empty());
    for (std::size_t k = 1; notes && k < row.size(); ++k) CHECK(row[k].empty());
  }
  CHECK(defers);
  CHECK(items == rows_of(a));
}

}  // namespace

TEST_SUITE("unit") {
  // Statics by hand: 40 lbf at (1, 2, 6) in, 30 deg outboard of astern and 20 deg down.
  TEST_CASE("forces: shears of a plate add up to the pull along the wall and to its twist") {
    const Assessment a = with_forces(read(load_text));
    REQUIRE(a.forces.size() == 1);
    const CaseForces& f = a.forces.front();
    const double level = 40 * lbf * std::cos(20 * std::numbers::pi / 180);
    const double fx = -level * std::cos(30 * std::numbers::pi / 180);
    const double fy = level * std::sin(30 * std::numbers::pi / 180);
    double x = 0, y = 0, twist = 0;
    for (const FastenerForce& b : f.fasteners) {
      x += b.forward.value();
      y += b.outboard.value();
      twist += b.at.x.value() * b.outboard.value() - b.at.y.value() * b.forward.value();
    }
    CHECK(x == Approx(fx));
    CHECK(y == Approx(fy));
    CHECK(twist == Approx(1 * inch * fy - 2 * inch * fx));
    CHECK(f.loading.gear == a.cases.front().load_case.title);
    CHECK(f.loading.pull.value() == Approx(40 * lbf));
    REQUIRE(f.loading.way);
    CHECK(f.loading.way->z() == Approx(-std::sin(20 * std::numbers::pi / 180)));
    CHECK_FALSE(f.loading.boom);
  }

  // What the fasteners pull beyond the load the bed must push, at one point inside its outline.
  TEST_CASE("forces: pulls of a thick plate leave a push of the bed inside the base") {
    const Assessment a = with_forces(read(stiff_load()));
    const CaseForces& f = a.forces.front();
    const double level = 40 * lbf * std::cos(20 * std::numbers::pi / 180);
    const Vector3d force(-level * std::cos(30 * std::numbers::pi / 180),
                         level * std::sin(30 * std::numbers::pi / 180),
                         -40 * lbf * std::sin(20 * std::numbers::pi / 180));
    const Vector3d moment = Vector3d(inch, 2 * inch, 6 * inch).cross(force);
    double pulls = 0, mx = 0, my = 0;
    for (const FastenerForce& b : f.fasteners) {
      pulls += b.tension.value();
      mx += b.at.y.value() * b.tension.value();
      my -= b.at.x.value() * b.tension.value();
    }
    const double bed = pulls - force.z();
    REQUIRE(bed > 0);
    // The bolts pull the base down, the bed pushes it up.
    const double y = (mx - moment.x()) / bed;
    const double x = -(my - moment.y()) / bed;
    CHECK(std::abs(x) <= 1.5 * inch);
    CHECK(std::abs(y) <= 1.5 * inch);
    // It tips outboard: hardly anything lies nearer to that edge than the middle of what presses.
    CHECK(y > 0.75 * inch);
  }

  // Straight up in the middle no bed presses: a quarter each, and the lift of four springs of
  // 8e6 N/m, the stiffness that is taken for a fastener.
  TEST_CASE("forces: a straight pull up is shared evenly and lifts the base by its bolts") {
    std::string text = with(stiff_load(), "{forward: 1 in, outboard: 2 in, up: 6 in}",
                            "{forward: 0 in, outboard: 0 in, up: 6 in}");
    text = with(with(text, "azimuth: 30 deg", "azimuth: 0 deg"), "dip: 20 deg", "dip: -90 deg");
    const Assessment a = with_forces(read(text));
    const CaseForces& f = a.forces.front();
    REQUIRE(f.fasteners.size() == 4);
    for (const FastenerForce& b : f.fasteners) {
      CHECK(b.part.empty());
      CHECK(b.tension.value() == Approx(10 * lbf));
      CHECK(std::abs(b.forward.value()) < 1e-9);
    }
    CHECK(f.fasteners[3].number == 4);
    REQUIRE(f.motions.size() == 1);
    CHECK(f.motions[0].foot.z().value() == Approx(40 * lbf / (4 * 8e6)));
    CHECK(f.motions[0].tip.z().value() == Approx(40 * lbf / (4 * 8e6)));
    CHECK(f.motions[0].turn.value() < 1e-12);
  }

  TEST_CASE("forces: of two kinds of fasteners the second is a part that counts on") {
    const std::string text = with(load_text, "gear:",
                                  "  also_fastened:\n    hold: through_bolt\n"
                                  "    thread: '#10-24'\n    material: stainless, unmarked\n"
                                  "    holes: {points: [[0 in, 1 in], [0 in, -1 in]]}\ngear:");
    const Assessment a = with_forces(read(text));
    const auto& all = a.forces.front().fasteners;
    REQUIRE(all.size() == 6);
    for (std::size_t i = 0; i < all.size(); ++i) {
      CHECK(all[i].number == int(i) + 1);
      CHECK(all[i].part == (i < 4 ? "" : "other fasteners"));
    }
  }

  // The highland dinghy of the examples stands on a cleat that U-bolts go over: what they pull and
  // what pushes along the wall goes on into the screws of the cleat.
  TEST_CASE("forces: a cleat takes all that pulls along the wall") {
    const Assessment a = with_forces(example(THOLE_ROOT "/examples/highland-dinghy.yaml"));
    REQUIRE(!a.forces.empty());
    for (const CaseForces& f : a.forces) {
      double base_x = 0, base_y = 0, cleat_x = 0, cleat_y = 0, size = 0;
      int screws = 0;
      for (const FastenerForce& b : f.fasteners) {
        const bool cleat = b.part == "cleat";
        screws += cleat ? 1 : 0;
        (cleat ? cleat_x : base_x) += b.forward.value();
        (cleat ? cleat_y : base_y) += b.outboard.value();
        size += std::abs(b.forward.value()) + std::abs(b.outboard.value());
      }
      CHECK(screws > 0);
      CHECK(same(base_x, cleat_x, size));
      CHECK(same(base_y, cleat_y, size));
    }
  }

  // Made so weak that they are the worst of all. Both together: root of the sum of squares, with
  // the strengths that the checks of either alone report.
  TEST_CASE("forces: tension and shear of the worst screw make up the demand of its check") {
    Setup s = read(jon_boat);
    weaken(s.plate().fastening.material);
    const Assessment a = with_forces(s);
    const CheckResult& both = test::check_of(a, "screw-tension-and-shear");
    const double T = test::check_of(a, "screw-tension").strength.si;
    const double V = test::check_of(a, "screw-shear").strength.si;
    REQUIRE(both.fastener >= 0);
    REQUIRE(a.worst_forces);
    const CaseForces& f = a.forces[*a.worst_forces];
    const CaseResult& c = a.cases[f.loading.load_case];
    CHECK(c.worst_mode == both.mode);
    CHECK(c.load_case.title == both.case_title);
    const FastenerForce& b = f.fasteners[std::size_t(both.fastener)];
    CHECK(std::hypot(b.tension.value() / T, shear_of(b) / V) ==
          Approx(both.demand.si).epsilon(1e-8));
  }

  TEST_CASE("forces: bolts of the foot and of the ledge make up the demands of their checks") {
    for (const bool ledge : {false, true}) {
      Setup s = test::fjord_board();
      if (ledge) {
        weaken(s.board().port.fastening->material);
        weaken(s.board().starboard.fastening->material);
      } else {
        for (Gear& g : s.gear) weaken(g.foot->material);
      }
      const std::string of = ledge ? "ledge-bolt" : "gear-bolt";
      const Assessment a = with_forces(s);
      const CheckResult& both = test::check_of(a, of + "-tension-and-shear");
      const double T = test::check_of(a, of + "-tension").strength.si;
      const double V = test::check_of(a, of + "-shear").strength.si;
      REQUIRE(a.worst_forces);
      const CaseForces& f = a.forces[*a.worst_forces];
      REQUIRE(a.cases[f.loading.load_case].worst_mode == both.mode);
      double most = 0;
      for (const std::string& part : ledge
                                         ? std::vector<std::string>{"port ledge", "starboard ledge"}
                                         : std::vector<std::string>{f.loading.gear}) {
        double tension = 0, shear = 0;
        for (const FastenerForce& b : f.fasteners) {
          CHECK(b.at_most == b.part.ends_with(" ledge"));
          if (b.part != part) continue;
          tension = std::max(tension, b.tension.value());
          shear = std::max(shear, shear_of(b));
        }
        most = std::max(most, std::hypot(tension / T, shear / V));
      }
      CHECK(most == Approx(both.demand.si).epsilon(1e-8));
    }
  }

  // Bolts of one size hold the board along itself with half of it each.
  TEST_CASE("forces: pulls and pushes of a hold-down make up the demand of its check") {
    Setup s = test::fjord_board();
    for (HoldDown& h : s.board().hold_downs) weaken(h.material);
    const Assessment a = with_forces(s);
    const CheckResult& both = test::check_of(a, "hold-down-tension-and-shear");
    const double T = test::check_of(a, "hold-down-tension").strength.si;
    const double V = test::check_of(a, "hold-down-shear").strength.si;
    REQUIRE(a.worst_forces);
    const CaseForces& f = a.forces[*a.worst_forces];
    REQUIRE(a.cases[f.loading.load_case].worst_mode == both.mode);
    const auto part = [&](const std::string& name) {
      for (const SupportForce& p : f.supports) {
        if (p.name == name) return p.on_board.si_values();
      }
      return Vector3d(0, 0, 0);
    };
    const std::string side = both.where.substr(0, both.where.find(' '));
    const double pull = -part(both.where).z();
    const double aside = part(both.where + ", fore and aft").y();
    const double along = 0.5 * part(side + " bolts, along the board").x();
    CHECK(std::hypot(pull / T, std::hypot(aside, along) / V) ==
          Approx(both.demand.si).epsilon(1e-8));
  }

  // Statics by hand: pull, person and weight of the plank against what all supports push.
  TEST_CASE("forces: supports of a plank balance its weight and the pull in force and moment") {
    // A load of every day would stand on the board beside a person.
    const Setup s = read(with(test::plank, "azimuth: [0", "category: occasional\n    azimuth: [0"));
    const Assessment a = with_forces(s);
    int looked_at = 0;
    for (const CaseForces& f : a.forces) {
      const LoadCase& c = a.cases[f.loading.load_case].load_case;
      if (c.path == LoadPath::ride || !f.loading.way) continue;
      ++looked_at;
      Sum all = of_supports(f);
      all.add(Vector3d(0.5 * plank_length, 0, 0), Vector3d(0, 0, -plank_weight(s)));
      const double pull = f.loading.pull.value();
      const Vector3d way = f.loading.way->si_values();
      if (f.loading.person_at) {
        // Axes forward, starboard, up.
        all.add(f.loading.person_at->si_values(), pull * Vector3d(way.y(), way.x(), way.z()));
      } else {
        // Outboard of a gear on the port side is to port. 6 in inboard of the block, 3 in above.
        const Vector3d at(14 * inch, 0, 0.5 * plank_height + 3 * inch);
        all.add(at, pull * Vector3d(-way.y(), way.x(), way.z()));
      }
      INFO(c.id);
      CHECK(all.force.norm() < 1e-8 * all.size);
      CHECK(all.moment.norm() < 1e-8 * all.size * plank_length);
    }
    CHECK(looked_at >= 2);
  }

  // Statics: what a fabricator does with the table alone.
  TEST_CASE("forces: loads and supports of every board of the examples balance in every case") {
    int looked_at = 0;
    for (const auto& path : examples()) {
      INFO(path.filename().string());
      const Setup s = example(path);
      if (!s.on_board()) continue;
      for (const CaseForces& f : with_forces(s).forces) {
        INFO(f.loading.words);
        ++looked_at;
        Sum all = of_supports(f);
        for (const AppliedLoad<Board>& l : f.on_board) {
          all.add(l.at.si_values(), l.force.si_values());
          all.moment += l.moment.si_values();
        }
        CHECK(f.on_base.empty());
        CHECK(all.force.norm() < 1e-8 * all.size);
        CHECK(all.moment.norm() < 1e-8 * all.size * s.board().board.length.value());
      }
    }
    CHECK(looked_at > 100);
  }

  TEST_CASE("forces: loads bed and bolts of every plate of the examples balance in every case") {
    int looked_at = 0;
    for (const auto& path : examples()) {
      INFO(path.filename().string());
      const Setup s = example(path);
      if (s.on_board()) continue;
      for (const CaseForces& f : with_forces(s).forces) {
        INFO(f.loading.words);
        ++looked_at;
        Vector3d force = Vector3d::Zero();
        Vector3d moment = Vector3d::Zero();
        double size = 0;
        const auto add = [&](const PlanPoint& at, double up) {
          force.z() += up;
          moment += Vector3d(at.x.value(), at.y.value(), 0).cross(Vector3d(0, 0, up));
          size += std::abs(up);
        };
        for (const AppliedLoad<Base>& l : f.on_base) {
          CHECK(l.at.norm().value() == 0);
          force += l.force.si_values();
          moment += l.moment.si_values();
          size += l.force.norm().value();
        }
        for (const FastenerForce& b : f.fasteners) {
          if (!b.part.empty() && b.part != "other fasteners") continue;
          add(b.at, -b.stiff.value());
          force -= Vector3d(b.forward.value(), b.outboard.value(), 0);
          CHECK(b.stiff <= b.tension);
        }
        if (f.bed) {
          add(f.bed->at, f.bed->up.value());
          double reach = 0;
          for (const PlanPoint& p : s.plate().base.outline) {
            reach = std::max(reach, std::hypot(p.x.value(), p.y.value()));
          }
          CHECK(std::hypot(f.bed->at.x.value(), f.bed->at.y.value()) <= reach * (1 + 1e-6));
        }
        CHECK(force.norm() < 1e-8 * size);
        CHECK(moment.head<2>().norm() < 1e-8 * size);
      }
    }
    CHECK(looked_at > 50);
  }

  // By hand: lever of the boom, masses times acceleration, pulls of the ones that only tow.
  TEST_CASE("forces: the loads on a board are its pulls and its shaken weights") {
    const Setup s = test::fjord_board();
    const Assessment a = with_forces(s);
    const auto load = [](const CaseForces& f, const std::string& name) {
      for (const AppliedLoad<Board>& l : f.on_board) {
        if (l.name == name) return l;
      }
      throw std::runtime_error("no load " + name);
    };
    const CaseForces& hung = forces_of(a, "hung-up-slipping");
    const AppliedLoad<Board> pull = load(hung, "pull on " + hung.loading.gear);
    CHECK(pull.force.norm().value() == Approx(hung.loading.pull.value()));
    const Downrigger& d = *s.gear.front().downrigger;
    REQUIRE(hung.loading.boom);
    const double azimuth = hung.loading.boom->value();
    const double raised = hung.loading.raised->value();
    const double level = d.boom_length.value() * std::cos(raised);
    const double port = s.gear.front().place.side == Side::port ? -1 : 1;
    REQUIRE(hung.loading.gear == s.gear.front().name);
    const Vector3d tip(port * level * std::sin(azimuth), -level * std::cos(azimuth),
                       d.tip_height.value() + d.boom_length.value() * std::sin(raised));
    CHECK((tip.cross(pull.force.si_values()) - pull.moment.si_values()).norm() <
          1e-9 * pull.moment.norm().value());

    const CaseForces& ride = forces_of(a, "running-peak");
    const double g = load(ride, "weight of the board").force.norm().value() /
                     load(hung, "weight of the board").force.norm().value();
    CHECK(g > 3);
    const double mass = d.mass.value() + d.ball.value();
    CHECK(load(ride, "weight of " + s.gear.front().name).force.norm().value() ==
          Approx(mass * g0 * g));
    for (const AppliedLoad<Board>& l : ride.on_board) CHECK_FALSE(l.name.starts_with("pull"));

    const CaseForces& sat = forces_of(a, "sit-on-board");
    const AppliedLoad<Board> person = load(sat, "person");
    CHECK(person.force.norm().value() == Approx(sat.loading.pull.value()));
    CHECK((person.at.si_values() - sat.loading.person_at->si_values()).norm() < 1e-12);
    CHECK(person.moment.norm().value() == 0);
  }

  // Simply supported beam with one load at a (from one end) and b (from the other):
  //     M = P a b / L, d = P a^2 b^2 / (3 E I L), and P a b / (kappa G A L) of shear
  // (AISC Manual, table 3-23, case 8, and Timoshenko's shear deflection with kappa = 5/6, all from
  // memory). The weight of the plank adds w x (L - x) / 2 between the blocks less that of the ends.
  TEST_CASE("forces: a plank on two narrow blocks bends as a simply supported beam") {
    std::string text = with(narrow(test::plank), "azimuth: [0 deg, 180 deg]", "azimuth: 0 deg");
    text = with(text, "dip: [0 deg, 60 deg]", "dip: 90 deg");
    const Setup s = read(text);
    const Assessment a = with_forces(s);
    const CaseForces& f = forces_of(a, "plain-load");
    const double P = f.loading.pull.value();
    REQUIRE(P == Approx(30 * lbf));
    CHECK(f.supports[0].name == "port ledge");
    CHECK(f.supports[1].name == "starboard ledge");
    // Where all that holds one end up or down acts.
    const auto reaction = [&](bool port) {
      double force = 0, turn = 0;
      for (const SupportForce& p : f.supports) {
        if ((p.at.x().value() < 0.5 * plank_length) != port) continue;
        force += p.on_board.z().value();
        turn += p.on_board.z().value() * p.at.x().value();
      }
      return turn / force;
    };
    const double from = reaction(true);
    const double L = reaction(false) - from;
    // The bolts hold the ends down a little, so that they act inboard of the blocks.
    CHECK(L < 57.5 * inch);
    CHECK(L > 52 * inch);
    const double at = 14 * inch;
    const double x = at - from;
    const double b = L - x;
    const double w = plank_weight(s) / plank_length;
    const double left = from;
    const double right = plank_length - from - L;
    // Of the overhanging ends: moments over the blocks, in between along a straight line.
    const double ends = -0.5 * w * (left * left * b + right * right * x) / L;
    const double moment = P * x * b / L + 0.5 * w * x * b + ends;
    const auto cut = std::find_if(f.cuts.begin(), f.cuts.end(), [&](const CutForce& c) {
      return std::abs(c.from_port.value() - at) < 1e-6;
    });
    REQUIRE(cut != f.cuts.end());
    CHECK(-cut->flat.value() == Approx(moment).epsilon(1e-6));
    CHECK(std::abs(cut->twist.value()) < 1e-9);
    CHECK(std::abs(cut->edge.value()) < 1e-9);

    const auto lift_at = [&](double place) {
      const CutForce* best = &f.cuts.front();
      for (const CutForce& c : f.cuts) {
        if (std::abs(c.from_port.value() - place) < std::abs(best->from_port.value() - place)) {
          best = &c;
        }
      }
      return best->lift.value();
    };
    const double E = s.board().board.wood_strength->modulus.value();
    const double G = s.board().board.wood_strength->shear_modulus.value();
    const double I = plank_width * std::pow(plank_height, 3) / 12;
    const double sag = P * x * x * b * b / (3 * E * I * L) +
                       P * x * b / (5.0 / 6 * G * plank_width * plank_height * L);
    const double of_blocks = lift_at(from) + (lift_at(from + L) - lift_at(from)) * x / L;
    CHECK(of_blocks - cut->lift.value() == Approx(sag).epsilon(0.02));
  }

  TEST_CASE("forces: along a plank they end at nothing and jump by what the supports push") {
    for (const std::string& text : {std::string(test::plank), narrow(test::plank)}) {
      const Setup s = read(text);
      const Assessment a = with_forces(s);
      for (const CaseForces& f : a.forces) {
        const LoadCase& c = a.cases[f.loading.load_case].load_case;
        if (f.loading.person_at || c.path == LoadPath::ride) continue;
        REQUIRE(f.cuts.size() > 6);
        for (const CutForce* end : {&f.cuts.front(), &f.cuts.back()}) {
          CHECK(end->up_down.value() == 0);
          CHECK(end->twist.value() == 0);
          CHECK(end->flat.value() == 0);
          CHECK(end->warping.value() == 0);
        }
        CHECK(f.cuts.back().from_port.value() == Approx(plank_length));
        // Over each block and its bolts, the middle of the plank between them.
        for (const bool port : {true, false}) {
          double up = 0, forward = 0, size = 0;
          for (std::size_t i = 0; i + 1 < f.cuts.size(); ++i) {
            const CutForce& before = f.cuts[i];
            const CutForce& behind = f.cuts[i + 1];
            const double x = before.from_port.value();
            if (x != behind.from_port.value()) continue;
            if (port ? x > 9 * inch : x < 60 * inch) continue;
            up += before.up_down.value() - behind.up_down.value();
            forward += before.fore_aft.value() - behind.fore_aft.value();
          }
          for (const SupportForce& p : f.supports) {
            const double x = p.at.x().value();
            if (port ? x > 9 * inch : x < 60 * inch) continue;
            up -= p.on_board.z().value();
            forward -= p.on_board.y().value();
            size += p.on_board.norm().value();
          }
          CHECK(std::abs(up) < 1e-8 * std::max(size, 1.0));
          CHECK(std::abs(forward) < 1e-8 * std::max(size, 1.0));
        }
      }
    }
  }

  // Two ways through the program: motions of nodes, and motions that the load points are watched
  // by. The foot stands on top of the plank, over its middle line.
  TEST_CASE("forces: the foot of a gear moves with the board below it") {
    const Setup s = read(test::plank);
    const Assessment a = with_forces(s);
    int moved = 0;
    for (const CaseForces& f : a.forces) {
      REQUIRE(f.motions.size() == 1);
      const GearMotion& m = f.motions.front();
      for (const CutForce& c : f.cuts) {
        if (std::abs(c.from_port.value() - 14 * inch) > 1e-9) continue;
        CHECK(std::abs(m.foot.z().value() - c.lift.value()) < 1e-12);
        const double on_top = c.shift.value() - 0.5 * plank_height * c.turn.value();
        CHECK(std::abs(m.foot.x().value() - on_top) < 1e-12);
        moved += std::abs(c.lift.value()) > 1e-5 ? 1 : 0;
      }
    }
    CHECK(moved > 0);
  }

  TEST_CASE("forces: every calculated case of the examples has its entry its words and its rows") {
    for (const auto& path : examples()) {
      INFO(path.filename().string());
      const Setup s = example(path);
      const Assessment a = with_forces(s);
      check_table(s, a);
      std::vector<bool> has(a.cases.size(), false);
      for (const CaseForces& f : a.forces) {
        const CaseResult& c = a.cases[f.loading.load_case];
        CHECK_FALSE(has[f.loading.load_case]);
        has[f.loading.load_case] = true;
        CHECK(f.loading.words == c.direction);
        CHECK(f.supports.empty() != s.on_board());
        CHECK((s.on_board() || !f.fasteners.empty()));
        if (c.load_case.gear >= 0 && c.load_case.others != Others::together) {
          CHECK(f.loading.gear == s.gear[std::size_t(c.load_case.gear)].name);
        }
        if (f.loading.boom) {
          const std::string degrees = std::to_string(std::lround(in_degrees(*f.loading.boom)));
          if (c.load_case.path == LoadPath::tip) {
            CHECK(f.loading.words.starts_with("boom " + degrees + " deg"));
          }
        }
      }
      for (std::size_t i = 0; i < has.size(); ++i) {
        const CaseResult& c = a.cases[i];
        CHECK(has[i] == (c.motion.empty() && !c.worst_mode.empty()));
      }
      if (a.verdict == Verdict::no_verdict && a.forces.empty()) continue;
      REQUIRE(a.worst_forces);
      const CaseForces& worst = a.forces[*a.worst_forces];
      const CaseResult& c = a.cases[worst.loading.load_case];
      CHECK(c.load_case.decides);
      for (const CaseResult& other : a.cases) {
        if (!other.load_case.decides || other.worst_mode.empty()) continue;
        CHECK(c.factor / c.needed <= other.factor / other.needed * (1 + 1e-6));
      }
      if (s.on_board()) continue;
      REQUIRE(a.fasteners.size() <= worst.fasteners.size());
      for (std::size_t i = 0; i < a.fasteners.size(); ++i) {
        const FastenerForce& b = worst.fasteners[i];
        const double shear = shear_of(b);
        const double size = std::max(a.fasteners[i].tension, a.fasteners[i].shear).value() + 1;
        CHECK(same(a.fasteners[i].tension.value(), b.tension.value(), size));
        CHECK(same(a.fasteners[i].shear.value(), shear, size));
      }
    }
  }

  TEST_CASE("forces: to ask for them changes nothing else in a report") {
    for (const auto& path : examples()) {
      INFO(path.filename().string());
      const Setup s = example(path);
      const std::string name = path.filename().string();
      AssessOptions o;
      o.neighbours = name.find("-fix") == std::string::npos;
      o.one_missing = o.after_loss = o.by_direction = o.margins =
          name == "reservoir-jon-boat.yaml" || name == "lake-cartopper.yaml";
      const Assessment without = assess(s, o);
      CHECK(without.forces.empty());
      CHECK_FALSE(without.worst_forces);
      o.forces = true;
      CHECK(json_report(s, assess(s, o)) == json_report(s, without));
    }
  }

  TEST_CASE("forces: a load found for a gear alike is told of the gear of its case") {
    Setup s = read(load_text);
    Gear port = test::downrigger(Side::port, Length{});
    port.foot.reset();
    port.downrigger->brake_slip->value = 60.0 * si::newton;
    s.gear = {port, port};
    s.gear[0].name = "forward winch";
    s.gear[1].name = "after winch";
    const Assessment a = with_forces(s);
    int seen = 0;
    for (const CaseForces& f : a.forces) {
      const LoadCase& c = a.cases[f.loading.load_case].load_case;
      if (c.gear != 1 || c.others == Others::together) continue;
      ++seen;
      CHECK(f.loading.gear == "after winch");
      REQUIRE(f.loading.boom);
      // Statics: shears against the pull and nothing but gravity, which does not push sideways on a
      // level wall, unless the other one tows.
      CHECK(f.fasteners.size() == 4);
      REQUIRE(f.motions.size() == 2);
      CHECK(f.motions[1].gear == "after winch");
    }
    CHECK(seen > 2);
  }

  TEST_CASE("forces: a board that moves as a whole has none") {
    Setup s = test::fjord_board();
    s.board().hold_downs.clear();
    for (const Side side : {Side::port, Side::starboard}) {
      HoldDown pin = test::hold_down(side, test::mm(30), Length{}, HoldDownKind::pin);
      pin.eye.reset();
      s.board().hold_downs.push_back(pin);
    }
    const Assessment a = with_forces(s);
    REQUIRE(a.verdict == Verdict::no_verdict);
    CHECK(a.forces.empty());
    CHECK_FALSE(a.worst_forces);
    const Table t = read_csv(forces_csv(s, a));
    CHECK(t.back().front().find("there are no forces") != std::string::npos);
  }
}

TEST_SUITE("unit") {
  TEST_CASE("forces: figures of the table are those of the assessment") {
    const Setup s = read(load_text);
    const Assessment a = with_forces(s);
    const Table t = read_csv(forces_csv(s, a));
    const FastenerForce& b = a.forces.front().fasteners.front();
    const std::size_t kind = column(t, "kind");
    const auto row =
        std::find_if(t.begin() + 1, t.end(), [&](const auto& r) { return r[kind] == "fastener"; });
    REQUIRE(row != t.end());
    const auto figure = [&](std::string_view name) { return std::stod((*row)[column(t, name)]); };
    CHECK((*row)[column(t, "decides")] == "yes");
    CHECK((*row)[column(t, "worst")] == "yes");
    CHECK(figure("number") == 1);
    CHECK(figure("pull N") == Approx(40 * lbf).epsilon(1e-5));
    CHECK(figure("pull lbf") == Approx(40));
    CHECK(std::abs(figure("x mm")) == Approx(25.4));
    CHECK(std::abs(figure("tension N") - b.tension.value()) < 1e-3);
    CHECK(std::abs(figure("tension lbf") * lbf - b.tension.value()) < 5e-3);
    CHECK(std::abs(figure("force x N") - b.forward.value()) < 1e-3);
    CHECK(std::abs(figure("shear N") - shear_of(b)) < 1e-3);
  }

  TEST_CASE("forces: hostile names stay one cell that no spreadsheet calculates") {
    const std::vector<std::string> names{"=1+1",
                                         "+cmd|' /C calc'!A0",
                                         "-2+3",
                                         "@SUM(A1)",
                                         "a\"b,c;d",
                                         "two\r\nlines",
                                         "\t=1",
                                         "  =1+1",
                                         "\xef\xbc\x9d"
                                         "1",
                                         "<script>alert(1)</script>",
                                         std::string(10000, 'x'),
                                         "\xe2\x80\xae"
                                         "gnp.exe",
                                         "bell\x07\x1b[31m"};
    for (const std::string& name : names) {
      Setup s = read(load_text);
      s.title = name;
      s.gear.front().name = name;
      const Assessment a = with_forces(s);
      const std::string text = forces_csv(s, a);
      const Table t = read_csv(text);
      INFO(name.substr(0, 40));
      CHECK(t.size() > rows_of(a));
      bool seen = false;
      for (const auto& row : t) {
        REQUIRE(row.size() == t.front().size());
        for (std::size_t i = 0; i < row.size(); ++i) {
          const std::string& cell = row[i];
          CHECK(cell.size() < 200);
          for (const char c : cell) CHECK_FALSE((unsigned(c) < 0x20U || c == 0x7f));
          const std::size_t from = cell.find_first_not_of(' ');
          if (from == std::string::npos) continue;
          const bool sign = std::string("=+-@").find(cell[from]) != std::string::npos;
          // A figure may be below zero, nothing else begins with a sign.
          const bool figure = cell.find_first_not_of("-.0123456789") == std::string::npos;
          CHECK((!sign || figure));
        }
        seen = seen || row[column(t, "gear")].size() > 0;
      }
      CHECK(seen);
    }
  }
}
