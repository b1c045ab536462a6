// Cross-boards against statics and strengths written down by hand, and what a verdict may say.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include <Eigen/Geometry>

#include <thole/reading.hpp>
#include <thole/thole.hpp>

#include "core/board_engine.hpp"
#include "support/boards.hpp"

using namespace thole;
using namespace thole::literals;
using board::Engine;
using board::Trial;
using test::BoardDice;
using test::fjord_board;
using test::hold_down;
using test::mm;
using test::random_board;

namespace {

constexpr double g0 = 9.80665;

Setup fjord_file() {
  std::ifstream in(THOLE_ROOT "/examples/fjord-skiff.yaml");
  REQUIRE(in);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  return read_setup(text, "fjord-skiff.yaml", built_in_materials());
}

Assessment quick(const Setup& s) {
  AssessOptions o;
  o.neighbours = false;
  return assess(s, o);
}

const CheckResult& check_of(const Assessment& a, std::string_view mode) {
  for (const CheckResult& c : a.checks) {
    if (c.mode == mode) return c;
  }
  throw std::runtime_error("no check " + std::string(mode));
}

double ratio(const Assessment& a, std::string_view mode) {
  const CheckResult& c = check_of(a, mode);
  return c.factor / c.needed;
}

const LoadCase& case_of(const Engine& e, std::string_view id) {
  for (const LoadCase& c : e.cases()) {
    if (c.id == id) return c;
  }
  throw std::runtime_error("no case " + std::string(id));
}

CaseResult case_of(const Assessment& a, std::string_view id) {
  for (const CaseResult& c : a.cases) {
    if (c.load_case.id == id) return c;
  }
  throw std::runtime_error("no case " + std::string(id));
}

/// One setup under any load, for one end of the ranges of guesses.
class Bench {
 public:
  explicit Bench(const Setup& s) : engine_(s) {}
  /// False: nothing balances the load.
  bool solve(const LoadCase& c, const Trial& t, double pull, int variant = 0) {
    const auto F = engine_.load(c, t, pull);
    if (c.path != LoadPath::board) engine_.stand(F, t);  // a person loads no gear
    if (engine_.act(variant, t, F).mechanism) return false;
    model_ = &engine_.model(variant, t.near);
    return true;
  }
  /// Smallest factor over factor needed at full factors, under a pull of `trial`.
  double worst_ratio(const LoadCase& c, const Trial& t, double pull, int variant,
                     const board::Mode** mode) {
    return engine_.worst_ratio(variant, t, engine_.load(c, t, pull), Category::occasional, true,
                               nullptr, mode);
  }
  [[nodiscard]] const Engine& engine() const { return engine_; }
  [[nodiscard]] const board::Model& model() const { return *model_; }
  [[nodiscard]] double force(int row) const {
    return row < 0 ? 0.0 : engine_.answer().s(Eigen::Index(row));
  }
  [[nodiscard]] std::vector<board::BoardSupport> supports() const {
    return model_->structure.supports;
  }

 private:
  Engine engine_;
  const board::Model* model_ = nullptr;
};

/// A load of the gear `gear`, the board held along itself at its end.
Trial wire(const Setup& s, int gear, int boom, double azimuth, double down) {
  Trial t;
  t.gear = gear;
  t.boom = boom;
  t.way = line_direction(degrees(azimuth), degrees(down));
  t.near = s.gear[std::size_t(gear)].place.side;
  return t;
}

/// Both ends may hold the board along itself.
std::vector<Trial> held_either_way(const std::vector<Trial>& all) {
  std::vector<Trial> out;
  for (Trial t : all) {
    for (const Side near : {Side::port, Side::starboard}) {
      t.near = near;
      out.push_back(t);
    }
  }
  return out;
}

/// What a mode finds in the load that the engine solved last.
Use use_of(const Engine& e, std::string_view mode, Category category) {
  for (const board::Mode& m : e.modes()) {
    if (m.mode->id == mode) return m.mode->use_on_board(e.actions(), category);
  }
  throw std::runtime_error("no mode " + std::string(mode));
}

bool says(const std::vector<std::string>& texts, std::string_view part) {
  return std::any_of(texts.begin(), texts.end(),
                     [&](const std::string& t) { return t.find(part) != std::string::npos; });
}

// ---- Statics by hand
// ------------------------------------------------------------------------------

/// Forces and moments about the middle of the port end. Axes of a level boat: x to starboard, y
/// forward, z up. Written from the measures in the setup alone.
struct Statics {
  Eigen::Vector3d force = Eigen::Vector3d::Zero();
  Eigen::Vector3d moment = Eigen::Vector3d::Zero();
  double size = 0;
  double turn = 0;
  void add(const Eigen::Vector3d& at, const Eigen::Vector3d& f) {
    force += f;
    moment += at.cross(f);
    size += f.norm();
    turn += at.cross(f).norm();
  }
};

double metres(Length x) { return x.value(); }

/// From the port end, measured as the setup says it: outboard of the inner edge of the ledge.
double from_port_end(const CrossBoard& m, const BoardPlace& p) {
  return p.side == Side::port
             ? metres(m.port_overhang) - metres(p.outboard)
             : metres(m.port_overhang) + metres(m.clear_width) + metres(p.outboard);
}

/// Wire of a downrigger: boom from astern toward its own outboard, wire toward `azimuth` (0 astern,
/// 90 deg its own outboard), `down` from level.
void add_wire(Statics& s, const CrossBoard& m, const Gear& g, double boom, double azimuth,
              double down, double pull) {
  const double outboard = g.place.side == Side::starboard ? 1 : -1;
  const Downrigger& d = *g.downrigger;
  const double x = from_port_end(m, g.place);
  const double top = 0.5 * metres(m.board.thickness);
  const double l = metres(d.boom_length);
  const Eigen::Vector3d tip(x + outboard * l * std::sin(boom),
                            metres(g.place.forward) - l * std::cos(boom),
                            top + metres(d.tip_height));
  const Eigen::Vector3d way(outboard * std::cos(down) * std::sin(azimuth),
                            -std::cos(down) * std::cos(azimuth), -std::sin(down));
  s.add(tip, pull * way);
}

/// Weights of a level plank and of its downriggers, all booms in the same position of theirs.
Statics weights(const Setup& setup, int boom) {
  const CrossBoard& m = setup.board();
  Statics s;
  const double density = 1000 * 1.20 * m.board.wood->specific_gravity;  // wet service
  const double volume = metres(m.board.length) * metres(m.board.width) * metres(m.board.thickness);
  s.add({0.5 * metres(m.board.length), 0, 0}, {0, 0, -density * volume * g0});
  for (const Gear& g : setup.gear) {
    const Downrigger& d = *g.downrigger;
    const double outboard = g.place.side == Side::starboard ? 1 : -1;
    const double a = radians(d.position(std::size_t(boom) % d.positions()).azimuth);
    const double reach = metres(d.mass_reach);
    s.add({from_port_end(m, g.place) + outboard * reach * std::sin(a),
           metres(g.place.forward) - reach * std::cos(a),
           0.5 * metres(m.board.thickness) + metres(d.mass_height)},
          {0, 0, -d.mass.value() * g0});
  }
  return s;
}

/// What the supports of the last solution give the board.
Statics supports(const Bench& b) {
  Statics s;
  int row = 0;
  for (const board::BoardSupport& x : b.supports()) {
    s.add(x.support.at.si_values(), b.force(row++) * x.support.push.si_values());
  }
  return s;
}

/// Is the board of the setup in balance for every boom angle and many directions of one gear?
void check_balance(const Setup& setup) {
  int balanced = 0;
  Bench b(setup);
  const Engine& e = b.engine();
  for (int gear = 0; gear < int(setup.gear.size()); ++gear) {
    const std::string id = setup.gear.size() > 1 ? "-" + std::to_string(gear + 1) : "";
    const LoadCase& c = case_of(e, "hung-up-seized" + id);
    const Gear& g = setup.gear[std::size_t(gear)];
    for (int boom = 0; boom < int(g.downrigger->boom_angles.size()); ++boom) {
      for (const double azimuth : {-150.0, -90.0, -20.0, 0.0, 35.0, 90.0, 170.0}) {
        for (const double down : {0.0, 20.0, 60.0, 90.0, -10.0}) {
          for (int variant = 0; variant < Engine::variants(); ++variant) {
            const double pull = 321;
            if (!b.solve(c, wire(setup, gear, boom, azimuth, down), pull, variant)) continue;
            ++balanced;
            Statics s = weights(setup, boom);
            add_wire(s, setup.board(), g, radians(g.downrigger->boom_angles[std::size_t(boom)]),
                     radians(degrees(azimuth)), radians(degrees(down)), pull);
            for (int i = 0; i < int(setup.gear.size()); ++i) {
              if (i == gear) continue;
              // The other gear trolls straight.
              const Gear& idle = setup.gear[std::size_t(i)];
              const PullRange p = trolling_pull(*idle.downrigger, setup);
              const auto& angles = idle.downrigger->boom_angles;
              add_wire(s, setup.board(), idle, radians(angles[std::size_t(boom) % angles.size()]),
                       0, 0.5 * std::numbers::pi - radians(p.greatest_angle),
                       p.greatest_tension.value());
            }
            const Statics held = supports(b);
            CAPTURE(gear);
            CAPTURE(boom);
            CAPTURE(azimuth);
            CAPTURE(down);
            CAPTURE(variant);
            REQUIRE((s.force + held.force).norm() < 1e-6 * (s.size + held.size));
            REQUIRE((s.moment + held.moment).norm() < 1e-6 * (s.turn + held.turn));
          }
        }
      }
    }
  }
  CHECK(balanced > 100);
}

/// One downrigger less than the fjord skiff has.
Setup one_gear(Side side) {
  Setup s = fjord_board();
  s.gear = {test::downrigger(side, mm(120))};
  return s;
}

struct Seats {
  double pull = 0;   ///< of the hold-downs
  double push = 0;   ///< of the seats
  double front = 0;  ///< of the forward rows of the seats
};

Seats seats_of(const Bench& b, Side side) {
  Seats out;
  int row = 0;
  for (const board::BoardSupport& x : b.supports()) {
    const double f = b.force(row++);
    if (x.side != side) continue;
    if (x.role == board::Role::hold_down) out.pull += f;
    if (x.role != board::Role::seat) continue;
    out.push += f;
    if (x.support.at.y().value() > 0) out.front += f;
  }
  return out;
}

/// A board that nothing but a person loads.
Setup bare_board() {
  Setup s = fjord_board();
  Gear g;
  g.name = "flag";
  g.place = {Side::port, mm(120), Length{}};
  g.plain_load.emplace();
  g.plain_load->pull = 1.0_N;
  g.plain_load->range = {0.0_deg, 0.0_deg, 90.0_deg, 90.0_deg};
  s.gear = {g};
  return s;
}

/// Smallest factor over factor needed of every mode: all deciding cases, all directions of a grid,
/// all ends of the ranges of stiffness, hold and slack. No search, nothing left out.
std::vector<std::pair<double, std::string>> without_search(Bench& b, double step) {
  const Engine& e = b.engine();
  std::vector<std::pair<double, std::string>> out(e.modes().size(), {1e300, ""});
  for (const LoadCase& c : e.cases()) {
    if (!c.decides || c.left_out) continue;
    const double own = c.path == LoadPath::board ? 3 * step : step;
    for (int variant = 0; variant < Engine::variants(); ++variant) {
      for (const Trial& t : held_either_way(e.trials(c, degrees(own)))) {
        if (!b.solve(c, t, c.pull.value(), variant)) continue;
        for (std::size_t i = 0; i < out.size(); ++i) {
          const board::Mode& m = e.modes()[i];
          if (!m.mode->needs_load || (m.of_foot && c.path == LoadPath::board)) continue;
          const double r =
              m.mode->use_on_board(e.actions(), c.category).factor() / e.needed(m, c.category);
          if (r < out[i].first) {
            out[i] = {r, c.title + ", " + e.describe(c, t) + ", end " + std::to_string(variant)};
          }
        }
      }
    }
  }
  return out;
}

/// Is the report of a board nowhere more than 1 % above what a grid without search finds?
void check_nothing_worse(const Setup& s, int number, double step) {
  const Assessment a = quick(s);
  if (!a.reasons.empty()) return;
  Bench b(s);
  const auto worst = without_search(b, step);
  double most = 0;
  std::string where;
  std::string others;
  for (std::size_t i = 0; i < worst.size(); ++i) {
    const FailureMode& mode = *b.engine().modes()[i].mode;
    // What has twice the factor needed decides nothing.
    if (!mode.needs_load || worst[i].first > 2) continue;
    const double above = ratio(a, mode.id) / worst[i].first - 1;
    if (above > 0.01) others += " " + std::string(mode.id);
    if (above <= most) continue;
    most = above;
    where = std::string(mode.id) + ": reported " + std::to_string(ratio(a, mode.id)) + " in " +
            check_of(a, mode.id).case_title + ", found " + std::to_string(worst[i].first) + " in " +
            worst[i].second;
  }
  CAPTURE(number);
  CAPTURE(where);
  CAPTURE(others);
  CHECK(most <= 0.01);
}

}  // namespace

TEST_SUITE("unit") {
  // ---- Balance
  // -----------------------------------------------------------------------------------

  TEST_CASE("board: supports balance weights and pull by hand statics on the fjord skiff") {
    check_balance(fjord_board());
  }

  TEST_CASE("board: supports balance weights and pull by hand statics on random level boards") {
    BoardDice dice(21);
    for (int n = 0; n < test::boards(12); ++n) {
      Setup s = random_board(dice);
      s.board().starboard_higher = {};
      s.board().bow_up = {};
      CAPTURE(n);
      check_balance(s);
    }
  }

  TEST_CASE("board: a boom abeam pulled straight down raises the other end") {
    for (const Side side : {Side::port, Side::starboard}) {
      const Setup s = one_gear(side);
      Bench b(s);
      const LoadCase& c = case_of(b.engine(), "hung-up-slipping");
      const Trial t = wire(s, 0, 2, 0, 90);  // boom 90 deg
      const double pull = 1000;
      for (int variant = 0; variant < Engine::variants(); ++variant) {
        REQUIRE(b.solve(c, t, pull, variant));
        const Seats here = seats_of(b, side);
        const Seats there = seats_of(b, test::other(side));
        CAPTURE(variant);
        CHECK(there.pull > 0);
        CHECK(here.push > pull);
        // About the inner edge of its own ledge, 0.72 m inboard of the tip: the far hold-downs,
        // 1.83 m away, take at most the whole turn.
        CHECK(there.pull - there.push < pull * 0.72 / 1.83);
      }
    }
  }

  TEST_CASE("board: a boom astern pulls the forward hold-downs and an upward pull all of them") {
    for (const Side side : {Side::port, Side::starboard}) {
      const Setup s = one_gear(side);
      Bench b(s);
      const LoadCase& c = case_of(b.engine(), "hung-up-slipping");
      REQUIRE(b.solve(c, wire(s, 0, 0, 0, 90), 300));
      double forward = 0;
      double aft = 0;
      for (const board::HoldDownData& h : b.model().hold_downs) {
        (h.forward > 0 ? forward : aft) += b.force(h.row);
      }
      CHECK(forward > 0);
      CHECK(aft < 0.05 * forward);
      // Straight up above the base: everything is lifted.
      REQUIRE(b.solve(c, wire(s, 0, 0, 0, -90), 3000));
      CHECK(seats_of(b, side).pull > 0);
      CHECK(seats_of(b, Side::port).pull + seats_of(b, Side::starboard).pull > 2500);
    }
  }

  TEST_CASE("board: with twice the weight of a gear its own end presses harder by that weight") {
    Setup s = one_gear(Side::starboard);
    Setup heavy = s;
    heavy.gear[0].downrigger->mass = 46.0_kg;
    Bench b(s);
    Bench h(heavy);
    const Trial t = wire(s, 0, 0, 0, 90);
    REQUIRE(b.solve(case_of(b.engine(), "hung-up-slipping"), t, 0));
    REQUIRE(h.solve(case_of(h.engine(), "hung-up-slipping"), t, 0));
    const double more = (supports(h).force - supports(b).force).z();
    CHECK(more == doctest::Approx(40 * g0).epsilon(1e-9));
    const double own = seats_of(h, Side::starboard).push - seats_of(b, Side::starboard).push;
    CHECK(own > 40 * g0);
  }

  // ---- By hand
  // -----------------------------------------------------------------------------------

  TEST_CASE("board: bending under a person in the middle is that of a simple beam") {
    Setup s = bare_board();
    // Pins hold no end down: the board rests on the inner edges of the ledges.
    s.board().hold_downs = {hold_down(Side::port, mm(30), Length{}, HoldDownKind::pin),
                            hold_down(Side::starboard, mm(30), Length{}, HoldDownKind::pin)};
    Bench bench(s);
    const Engine& e = bench.engine();
    const LoadCase& c = case_of(e, "sit-on-board");
    Trial t;
    t.person = 0;
    t.way = line_direction(0.0_deg, 90.0_deg);
    const double P = 890;
    REQUIRE(bench.solve(c, t, P));
    const double b = 0.198;
    const double h = 0.048;
    const double w = 1000 * 1.20 * s.board().board.wood->specific_gravity * b * h * g0;
    const double moment = P * 1.8 / 4 + w * 1.8 * 1.8 / 8 - w * 0.2 * 0.2 / 2;
    const double stress = moment / (b * h * h / 6);
    const Use use = use_of(e, "board-bending", c.category);
    CHECK(use.demand.si == doctest::Approx(stress).epsilon(1e-6));
    CHECK(use.strength.si == s.board().board.wood_strength->bending_flat.value());
    // With hold-downs the ends are held a little: between a simple and a fixed beam.
    const Setup held = bare_board();
    Bench f(held);
    REQUIRE(f.solve(case_of(f.engine(), "sit-on-board"), t, P));
    const double less = use_of(f.engine(), "board-bending", c.category).demand.si;
    CHECK(less < stress);
    CHECK(less > 0.5 * stress);
    // The shear of a simple beam: half the person and half the weight.
    CHECK(use_of(e, "board-shear", c.category).demand.si ==
          doctest::Approx(1.5 * (P / 2 + w * 0.9) / (b * h)).epsilon(1e-6));
  }

  TEST_CASE("board: the forward hold-downs take the turn of a boom astern over their lever") {
    Setup s = one_gear(Side::starboard);
    s.board().hold_downs = {hold_down(Side::port, mm(30), mm(75)),
                            hold_down(Side::starboard, mm(30), mm(75))};
    Bench b(s);
    const Engine& e = b.engine();
    const LoadCase& c = case_of(e, "hung-up-slipping");
    const double P = 450;
    REQUIRE(b.solve(c, wire(s, 0, 0, 0, 90), P));
    const double W = -weights(s, 0).force.z();
    double bolts = 0;
    double most = 0;
    for (const board::HoldDownData& h : b.model().hold_downs) {
      bolts += b.force(h.row);
      most = std::max(most, b.force(h.row));
    }
    // About the aft edge of the board: every seat pushes up forward of it.
    CHECK(bolts > (P * (0.600 - 0.099) - W * 0.099) / (0.075 + 0.099));
    // About the row 33 mm aft of the middle: only the forward rows push up forward of it.
    const double front = seats_of(b, Side::port).front + seats_of(b, Side::starboard).front;
    CHECK(front < 0.1 * P);
    CHECK(bolts < (P * (0.600 - 0.033) - W * 0.033 + front * (0.099 + 0.033)) / (0.075 + 0.033));
    // Tension: root of M8 from d - 1.2268 p.
    const Use tension = use_of(e, "hold-down-tension", c.category);
    const double root = std::numbers::pi / 4 * std::pow(8.0 - 1.2268 * 1.25, 2);
    CHECK(tension.demand.si == most);
    CHECK(tension.strength.si == doctest::Approx(root * 700).epsilon(0.03));
    // Dent: bearing strength on the ring of the washer.
    const HoldDown& h = s.board().hold_downs[0];
    const double ring =
        std::numbers::pi / 4 * (std::pow(h.washer.value(), 2) - std::pow(h.hole.value(), 2));
    const double bearing = s.board().board.wood_strength->bearing.value();
    const Use dent = use_of(e, "washer-dent", c.category);
    CHECK(dent.strength.si == doctest::Approx(bearing * ring).epsilon(1e-9));
    CHECK(dent.factor() == doctest::Approx(bearing * ring / most).epsilon(1e-9));
  }

  TEST_CASE("board: an eye bolt is compared with its rating at the angle of its pull") {
    const Setup s = one_gear(Side::port);
    Bench b(s);
    const Engine& e = b.engine();
    const LoadCase& c = case_of(e, "hung-up-slipping");
    REQUIRE(b.solve(c, wire(s, 0, 0, 30, 30), 450));
    double worst = 0;
    for (const board::HoldDownData& h : b.model().hold_downs) {
      const double pull = b.force(h.row);
      const double aside = std::hypot(h.share_x * b.force(h.shank_x), b.force(h.shank_y));
      const EyeRating& r = *s.board().hold_downs[0].eye;
      const double angle = std::atan2(aside, pull) * 180 / std::numbers::pi;
      const double rated =
          r.in_line.value() + std::min(angle / 45, 1.0) * (r.at_45_deg.value() - r.in_line.value());
      worst = std::max(worst, std::hypot(pull, aside) / rated);
    }
    CHECK(1 / use_of(e, "eye-bolt-rating", c.category).factor() ==
          doctest::Approx(worst).epsilon(1e-9));
  }

  TEST_CASE("board: a leaning leg slides by friction over its lean whatever it carries") {
    Setup s = one_gear(Side::port);
    Leg l = test::leg(Side::port, mm(-40), mm(-70), mm(400));
    l.foot_held = false;
    l.friction = 0.3;
    l.foot_forward = mm(-100);
    s.board().legs = {l};
    Bench b(s);
    const Engine& e = b.engine();
    const LoadCase& c = case_of(e, "hung-up-slipping");
    const double drop = std::sqrt(0.4 * 0.4 - 0.1 * 0.1);
    double before = 0;
    for (const double pull : {100.0, 300.0, 450.0}) {
      REQUIRE(b.solve(c, wire(s, 0, 0, 0, 90), pull));
      const double thrust = b.force(b.model().legs[0].row);
      CHECK(thrust > before);
      before = thrust;
      // Never more than all that presses down and a lever of the boom over the leg could ask for.
      CHECK(thrust * drop / 0.4 < pull * 0.6 / 0.07 + 2 * 300);
      CHECK(use_of(e, "leg-slides", c.category).factor() ==
            doctest::Approx(0.3 * drop / 0.1).epsilon(1e-9));
      CHECK(use_of(e, "leg-crushing", c.category).demand.si == doctest::Approx(thrust));
    }
  }

  // ---- The fjord skiff
  // ---------------------------------------------------------------------------

  TEST_CASE("board: on the fjord skiff twist and uplift come before plain bending") {
    const Assessment a = quick(fjord_file());
    REQUIRE(a.reasons.empty());
    const double bending = ratio(a, "board-bending");
    CHECK(ratio(a, "board-torsion") < bending);
    CHECK(ratio(a, "board-edge-stress") < bending);
    const double held = std::min({ratio(a, "eye-bolt-rating"), ratio(a, "hold-down-tension"),
                                  ratio(a, "hold-down-shear"), ratio(a, "washer-dent")});
    CHECK(held < bending);
  }

  TEST_CASE("board: on the fjord skiff loads of the hand example are near") {
    // Boom astern with 300 N: a torque of 180 N m, and about 1.2 kN at the forward bolt of that
    // end when it takes the whole turn about the aft edge.
    const Setup s = one_gear(Side::starboard);
    Bench b(s);
    REQUIRE(b.solve(case_of(b.engine(), "hung-up-slipping"), wire(s, 0, 0, 0, 90), 300));
    double most = 0;
    for (const board::HoldDownData& h : b.model().hold_downs) most = std::max(most, b.force(h.row));
    CHECK(most > 500);
    CHECK(most < 1200);
  }

  TEST_CASE("board: below the hold limit every check holds and above it one fails") {
    for (const bool even : {true, false}) {
      for (std::size_t gear = 0; gear < 2; ++gear) {
        Setup s = fjord_file();
        if (!even) {
          s.board().port_overhang += mm(40);
          s.board().board.length += mm(40);
        }
        const Assessment a = quick(s);
        REQUIRE(a.gear_limits.size() == 2);
        REQUIRE(a.gear_limits[gear].hold_limit);
        const Force limit = *a.gear_limits[gear].hold_limit;
        const std::string id = "hung-up-slipping-" + std::to_string(gear + 1);
        CAPTURE(limit.value());
        CAPTURE(even);
        for (const double by : {0.999, 1.01}) {
          Setup t = s;
          t.gear[gear].downrigger->brake_slip = {by / 1.5 * limit, Knowledge::measured};
          const CaseResult r = case_of(quick(t), id);
          CHECK(r.load_case.pull.value() == doctest::Approx(by * limit.value()).epsilon(1e-9));
          CAPTURE(r.worst_mode);
          CAPTURE(r.direction);
          CHECK(r.holds == (by < 1));
        }
        // Every end of the ranges on a grid without search, at full factors.
        Setup t = s;
        t.gear[gear].downrigger->brake_slip = {0.99 / 1.5 * limit, Knowledge::measured};
        Bench b(t);
        const LoadCase& c = case_of(b.engine(), id);
        double below = 1e300;
        double above = 1e300;
        for (int variant = 0; variant < Engine::variants(); ++variant) {
          for (const Trial& trial : held_either_way(b.engine().trials(c, 5.0_deg))) {
            const double pull = limit.value();
            below = std::min(below, b.worst_ratio(c, trial, 0.99 * pull, variant, nullptr));
            above = std::min(above, b.worst_ratio(c, trial, 1.01 * pull, variant, nullptr));
          }
        }
        CHECK(below >= 1);
        CHECK(above < 1);
      }
    }
  }

  TEST_CASE("board: no load of a grid without search is worse than reported on the fjord skiff") {
    check_nothing_worse(fjord_file(), 0, 5);
  }

  TEST_CASE("board: no load of a grid without search is worse than reported on random boards") {
    BoardDice dice(12);
    for (int n = 0; n < test::boards(6); ++n) check_nothing_worse(random_board(dice), n, 5);
  }

  TEST_CASE("board: no pull below the hold limit of random boards is one too many") {
    BoardDice dice(12);
    for (int n = 0; n < test::boards(8); ++n) {
      const Setup s = random_board(dice);
      const Assessment a = quick(s);
      if (!a.reasons.empty()) continue;
      Bench b(s);
      const Engine& e = b.engine();
      for (int gear = 0; gear < int(s.gear.size()); ++gear) {
        const GearLimit& l = a.gear_limits[std::size_t(gear)];
        if (!l.hold_limit) continue;
        const std::string id = s.gear.size() > 1 ? "-" + std::to_string(gear + 1) : "";
        LoadCase c = case_of(e, "hung-up-seized" + id);
        // Wherever its wire leads in any case of its own, whatever the other gears do meanwhile.
        for (const LoadCase& o : e.cases()) {
          if (o.gear != gear || o.path != c.path) continue;
          c.ranges.insert(c.ranges.end(), o.ranges.begin(), o.ranges.end());
        }
        std::vector<Trial> all;
        for (const Trial& t : held_either_way(e.trials(c, 7.5_deg))) {
          all.push_back(t);
          for (const Trial& other : e.otherwise(c, t)) all.push_back(other);
        }
        for (const double by : {0.25, 0.5, 0.75, 0.99}) {
          double worst = 1e300;
          std::string where;
          for (int variant = 0; variant < Engine::variants(); ++variant) {
            for (const Trial& t : all) {
              const board::Mode* mode = nullptr;
              const double r = b.worst_ratio(c, t, by * l.hold_limit->value(), variant, &mode);
              if (r >= worst) continue;
              worst = r;
              where = (mode != nullptr ? std::string(mode->mode->id) : "") + ", " +
                      e.describe(c, t) + ", end " + std::to_string(variant);
            }
          }
          CAPTURE(n);
          CAPTURE(by);
          CAPTURE(where);
          CHECK(worst >= 1);
        }
      }
    }
  }

  // ---- No verdict
  // --------------------------------------------------------------------------------

  TEST_CASE("board: without hold-downs no verdict names the motion until what stops it is there") {
    std::vector<std::string> all;
    for (const bool straddled : {false, true}) {
      Setup s = fjord_file();
      s.board().hold_downs.clear();
      std::vector<std::string> seen;
      const auto add_both = [&](double forward, HoldDownKind kind) {
        for (const Side side : {Side::port, Side::starboard}) {
          s.board().hold_downs.push_back(hold_down(side, mm(30), mm(forward), kind));
        }
      };
      // U-bolts straddle the board: they keep it down, not from sliding.
      if (straddled) {
        add_both(75, HoldDownKind::u_bolt);
        add_both(-75, HoldDownKind::u_bolt);
      }
      Assessment a = quick(s);
      for (int step = 0; step < 8 && !a.reasons.empty(); ++step) {
        CHECK(a.verdict == Verdict::no_verdict);
        CHECK_FALSE(a.hold_limit);
        REQUIRE(a.reasons.size() == 1);
        const std::string& reason = a.reasons.front();
        CAPTURE(reason);
        CHECK_FALSE(says(seen, reason));  // what was named before has helped
        seen.push_back(reason);
        CHECK(a.sentence == reason);
        REQUIRE(a.to_do.size() == 1);
        const std::string& remedy = a.to_do.front();
        CHECK(reason.find("what would stop it: " + remedy) != std::string::npos);
        // Do what the remedy says, in order of how much it says.
        if (remedy.starts_with("hold-downs near its forward edge")) {
          add_both(75, HoldDownKind::eye_bolt);
        } else if (remedy.starts_with("hold-downs near its aft edge")) {
          add_both(-75, HoldDownKind::eye_bolt);
        } else if (remedy == "hold-downs on both sides") {
          add_both(step, HoldDownKind::eye_bolt);
        } else if (remedy.starts_with("a hold-down on the ")) {
          const Side side = remedy.ends_with("port side") ? Side::port : Side::starboard;
          s.board().hold_downs.push_back(hold_down(side, mm(20), mm(step)));
        } else {
          CHECK((remedy.starts_with("bolts or pins through board and seat on both sides") ||
                 remedy == "a bolt or pin through board and seat at one end"));
          add_both(40, HoldDownKind::pin);
        }
        a = quick(s);
      }
      CHECK(a.reasons.empty());
      CHECK(a.verdict != Verdict::no_verdict);
      CHECK(a.hold_limit);
      CHECK_FALSE(seen.empty());
      all.insert(all.end(), seen.begin(), seen.end());
    }
    CHECK((says(all, "slide") || says(all, "turn level")));
    CHECK((says(all, "tip") || says(all, "lift")));
  }

  TEST_CASE("board: a leg that nothing blocks and whose friction nobody measured is refused") {
    Setup s = one_gear(Side::port);
    Leg l = test::leg(Side::port, mm(-40), mm(-70), mm(400));
    l.foot_held = false;
    l.foot_forward = mm(-100);
    s.board().legs = {l};
    const Assessment a = quick(s);
    CHECK(a.verdict == Verdict::no_verdict);
    CHECK(says(a.reasons, "friction"));
    // A block holds the foot; the top, under the board, still hangs on friction.
    s.board().legs[0].foot_held = true;
    CHECK(quick(s).verdict == Verdict::no_verdict);
    s.board().legs[0].beside = true;
    s.board().legs[0].place.forward = -0.5 * s.board().board.width;
    CHECK(quick(s).verdict != Verdict::no_verdict);
  }

  TEST_CASE("board: stations a hair apart change no force") {
    const Setup s = fjord_board();
    const board::Structure st = board::structure_of(s);
    std::vector<Support> all;
    for (const board::BoardSupport& x : st.supports) all.push_back(x.support);
    const std::vector<PointLoad> loads{
        {0, ForceVector<Board>(0.0_N, -200.0_N, -200.0_N),
         MomentVector<Board>::from_si(Eigen::Vector3d(120, -30, 50))}};
    const BeamAnswer plain = BoardFrame(st.beam, all, st.points, st.stations).solve(loads);
    double most = 0;
    for (const Force& f : plain.supports) most = std::max(most, std::abs(f.value()));
    for (const double hair : {1e-3, 1e-4, 1e-5, 3e-6, 1e-6, 5e-7, 1e-8}) {
      std::vector<Length> stations = st.stations;
      for (const double x : {0.23, 1.0, 1.0 + hair, 1.97 + hair}) {
        stations.push_back(x * si::metre);
      }
      CAPTURE(hair);
      BeamAnswer close;
      CHECK_NOTHROW(close = BoardFrame(st.beam, all, st.points, stations).solve(loads));
      if (close.supports.size() != all.size()) continue;
      double apart = 0;
      for (std::size_t i = 0; i < all.size(); ++i) {
        apart = std::max(apart, std::abs((close.supports[i] - plain.supports[i]).value()));
      }
      CHECK(apart < 1e-3 * most);
    }
  }
}
