#include "core/board_engine.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <Eigen/Geometry>

#include <thole/error.hpp>

#include "checks/board_checks.hpp"
#include "core/assessment_parts.hpp"
#include "core/board_motion.hpp"
#include "core/load_list.hpp"

namespace thole::board {

using namespace literals;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

FatigueWay way_of(const Setup& s, const Trial& t) {
  if (t.gear < 0) return t.person < 0 ? FatigueWay::riding : FatigueWay::straight;
  return s.gear[std::size_t(t.gear)].plain_load ? FatigueWay::straight : fatigue_way_of(t.way);
}

bool linear(LoadPath p) { return p == LoadPath::tip || p == LoadPath::point; }

// Another list than the owner's, where its directions count: the range of a hold limit.
bool ranges_edited(const LoadCase& c, const std::vector<LoadCase>& edited) {
  const auto now =
      std::find_if(edited.begin(), edited.end(), [&](const LoadCase& e) { return e.id == c.id; });
  return now != edited.end() && (now->left_out || now->ranges != c.ranges);
}

bool edited(const LoadCase& c, const std::vector<LoadCase>& now) {
  return std::any_of(now.begin(), now.end(), [&](const LoadCase& e) {
    return e.id == c.id && (e.left_out || e.origin == CaseOrigin::changed);
  });
}

bool same_side(const Gear& a, const Gear& b) { return a.place.side == b.place.side; }

double azimuth_of(const Direction<Boat>& d) { return std::atan2(d.y(), -d.x()); }
double dip_of(const Direction<Boat>& d) { return std::atan2(-d.z(), std::hypot(d.x(), d.y())); }

bool within(const DirectionRange& r, double azimuth, double dip) {
  constexpr double turn = 2 * std::numbers::pi;
  const double slack = 1e-9;
  if (dip < r.dip_from.value() - slack || dip > r.dip_to.value() + slack) return false;
  for (const double a : {azimuth, azimuth + turn, azimuth - turn}) {
    if (a >= r.azimuth_from.value() - slack && a <= r.azimuth_to.value() + slack) return true;
  }
  return false;
}

// Directions no farther apart than `step`: near straight down fewer azimuths will do. The edges of
// the range are on the grid.
std::vector<Direction<Boat>> grid(const std::vector<DirectionRange>& ranges, Angle step) {
  std::vector<Direction<Boat>> out;
  const auto count = [](double span, double most) {
    return span > 1e-9 ? std::max(1, int(std::ceil(span / most - 1e-9))) : 0;
  };
  bool pole = false;
  for (const DirectionRange& r : ranges) {
    const double tilt = (r.dip_to - r.dip_from).value();
    const int dips = count(tilt, step.value());
    for (int i = 0; i <= dips; ++i) {
      const double dip = r.dip_from.value() + (dips > 0 ? tilt * i / dips : 0.0);
      const double level = std::cos(dip);
      if (level < 1e-9) {
        if (!pole || dip < 0) out.push_back(line_direction(r.azimuth_from, dip * si::radian));
        pole = pole || dip > 0;
        continue;
      }
      const double span = (r.azimuth_to - r.azimuth_from).value();
      const int azimuths = count(span * level, step.value());
      for (int k = 0; k <= azimuths; ++k) {
        // To and fro, so that one load is near the last: contact states come back.
        const int step_k = i % 2 == 0 ? k : azimuths - k;
        const double a = r.azimuth_from.value() + (azimuths > 0 ? span * step_k / azimuths : 0.0);
        out.push_back(line_direction(a * si::radian, dip * si::radian));
      }
    }
  }
  return out;
}

}  // namespace

bool lies_in(const std::vector<DirectionRange>& ranges, const Direction<Boat>& d) {
  const bool pole = std::hypot(d.x(), d.y()) < 1e-9;
  return std::any_of(ranges.begin(), ranges.end(), [&](const DirectionRange& r) {
    return within(r, pole ? r.azimuth_from.value() : azimuth_of(d), dip_of(d));
  });
}

bool covers(const std::vector<DirectionRange>& ranges, const DirectionRange& other) {
  const std::vector<Direction<Boat>> all = directions(other, 5.0_deg);
  return std::all_of(all.begin(), all.end(),
                     [&](const Direction<Boat>& d) { return lies_in(ranges, d); });
}

Engine::Engine(const Setup& s, const KnownLoads* known)
    : setup_(s),
      cases_(known != nullptr ? known->cases : load_cases(s)),
      starboard_axes_(axes_from(s.board(), Side::starboard)) {
  if (!s.case_edits.empty()) {
    std::vector<LoadCase> listed = known != nullptr ? known->listed : listed_cases(s);
    for (LoadCase& c : listed) {
      const bool pull = c.path == LoadPath::tip || c.path == LoadPath::line;
      // All hung up at once, for the setting: as listed, whatever the owner makes of it.
      const bool at_once = c.kind == "both-hung-up" && edited(c, cases_);
      if (!at_once && (!pull || c.others == Others::together || !ranges_edited(c, cases_)))
        continue;
      c.decides = false;
      cases_.push_back(std::move(c));
      ++hidden_;
    }
  }
  models_.resize(std::size_t(2 * variants()));
  first_ = &model(0, Side::port);
  accident_least_ = s.required_factors.at("metal yield in an accident").measure.si;
  actions_.life = known != nullptr ? known->life : fatigue_life_of(s);
  for (const FailureMode& m : board_catalogue()) {
    Mode w;
    w.mode = &m;
    w.applicable = m.applies(s);
    const parts::GroupFactor f = parts::group_factor(s, m);
    w.needed = f.needed;
    w.full = f.full;
    w.lowered = f.lowered;
    w.of_foot = m.item == Item::gear;
    if (w.applicable.standing == Standing::applies) modes_.push_back(w);
    all_.push_back(w);
  }
  for (const HoldDown& h : s.board().hold_downs) {
    if (h.eye && h.eye->rated && h.eye->breaking.value() > 0) {
      rated_going_ = std::max(rated_going_, (h.eye->in_line / h.eye->breaking).value());
    }
  }
  if (rated_going_ == 0) rated_going_ = 1;
  if (known != nullptr) {
    towing_ = known->towing;
    return;
  }
  for (const Gear& g : s.gear) {
    towing_.push_back(g.downrigger ? trolling_pull(*g.downrigger, s) : PullRange{});
  }
}

Model& Engine::model(int variant, Side near) {
  auto& m = models_[std::size_t(2 * variant + (near == Side::port ? 0 : 1))];
  if (!m) {
    // Stiffnesses, which end holds the board along itself, and slack are guesses: the bad end of
    // them counts. A mirrored boat must meet the same choices, hence `near`.
    const bool port = near == Side::port;
    const std::array<Choice, 4> choices{Choice{1, port, 0, false}, Choice{3, !port, 0, true},
                                        Choice{1.0 / 3, port, 0, false},
                                        Choice{1, !port, 0.0005, false}};
    m = std::make_unique<Model>(setup_, choices[std::size_t(variant)],
                                first_ != nullptr ? &first_->structure.beam.section : nullptr);
  }
  return *m;
}

double Engine::needed(const Mode& m, Category c) const {
  return needed_factor(*m.mode, m.needed, c, accident_least_);
}

double Engine::reach_of_people(const LoadCase& c) const {
  const double half = 0.5 * setup_.board().board.width.value();
  // A person sits on a patch of 100 mm.
  return c.kind == "sit-on-board" ? std::max(half - 0.05, 0.0) : half;
}

std::vector<Trial> Engine::trials(const LoadCase& c, Angle step) const {
  std::vector<Trial> out;
  if (c.left_out || c.path == LoadPath::warning) return out;
  if (c.path == LoadPath::ride) {
    // The first downrigger with every position of the others. Booms stowed any way point alike:
    // their weights then span the extremes.
    int first = -1;
    bool alike = !c.ball_on_tip;
    std::size_t booms = 1;
    std::size_t others = 1;
    for (std::size_t i = 0; i < setup_.gear.size(); ++i) {
      if (!setup_.gear[i].downrigger) continue;
      const Downrigger& d = *setup_.gear[i].downrigger;
      alike = alike && d.stowed_angles.empty();
      std::size_t& most = first < 0 ? booms : others;
      most = std::max(most, c.ball_on_tip ? d.positions() : stowed_angles(d).size());
      if (first < 0) first = int(i);
    }
    if (alike) others = 1;
    for (std::size_t k = 0; k < booms * others; ++k) {
      for (const Shake& shake : c.shakes) {
        Trial t;
        t.acceleration = {shake.forward, shake.starboard, shake.up};
        t.boom = int(k % booms);
        if (!alike) t.others = int(k / booms);
        for (const Side near : {Side::port, Side::starboard}) {
          // The variants hold either end in turn: of a load to one side, from that side.
          // What cracks in time need not lie there: both.
          const bool one = c.category != Category::everyday;
          if (one && shake.starboard > 0 && near == Side::port) continue;
          if (one && shake.starboard < 0 && near == Side::starboard) continue;
          t.near = near;
          out.push_back(t);
        }
      }
    }
    return out;
  }
  const std::vector<Direction<Boat>> ways = grid(c.ranges, step);
  if (c.path == LoadPath::board) {
    const double reach = reach_of_people(c);
    for (int point = 0; point < people_points; ++point) {
      for (const double y : {-reach, reach}) {
        for (const Direction<Boat>& d : ways) {
          Trial t;
          t.person = point;
          t.y = y;
          t.way = d;
          for (const Side near : {Side::port, Side::starboard}) {
            // Near an end from that end, the other one in `otherwise`.
            if ((point == 1 || point == 3) && near == Side::starboard) continue;
            if ((point == 2 || point == 4) && near == Side::port) continue;
            t.near = near;
            out.push_back(t);
          }
        }
      }
    }
    return out;
  }
  const Gear& g = setup_.gear[std::size_t(c.gear)];
  const int booms = c.path == LoadPath::tip ? int(g.downrigger->positions()) : 1;
  int most_positions = 1;
  for (std::size_t i = 0; i < setup_.gear.size(); ++i) {
    const auto& d = setup_.gear[i].downrigger;
    if (int(i) != c.gear && d) most_positions = std::max(most_positions, int(d->positions()));
  }
  for (int boom = 0; boom < booms; ++boom) {
    for (const Direction<Boat>& d : ways) {
      Trial t;
      t.gear = c.gear;
      t.boom = boom;
      t.way = d;
      t.near = g.place.side;
      t.acceleration.z() = -1 - c.heave;  // the lighter end is looked at in `otherwise`
      // Hung up at once: nobody says that the booms point the same way.
      const bool each = c.kind == "both-hung-up";
      for (int k = 0; k < (each ? most_positions : 1); ++k) {
        t.others = each ? k : -1;
        out.push_back(t);
      }
    }
  }
  return out;
}

std::vector<Trial> Engine::around(const LoadCase& c, const Trial& t, Angle step) const {
  std::vector<Trial> out;
  if (c.path == LoadPath::ride) return out;
  const double dip = dip_of(t.way);
  const double level = std::cos(dip);
  const auto add = [&](double a, double d) {
    if (std::abs(d) > 0.5 * std::numbers::pi + 1e-9) return;
    const bool inside = std::any_of(c.ranges.begin(), c.ranges.end(),
                                    [&](const DirectionRange& r) { return within(r, a, d); });
    if (!inside) return;
    Trial n = t;
    n.way = line_direction(a * si::radian, d * si::radian);
    out.push_back(n);
  };
  if (level < 1e-6) {  // straight down or up: a ring about it
    const double d = dip > 0 ? dip - step.value() : dip + step.value();
    for (int k = 0; k < 8; ++k) add((k - 4) * 0.25 * std::numbers::pi, d);
    return out;
  }
  const double az = azimuth_of(t.way);
  const double aside = std::min(step.value() / level, 0.25 * std::numbers::pi);
  for (int i = -1; i <= 1; ++i) {
    for (int j = -1; j <= 1; ++j) {
      if (i != 0 || j != 0) add(az + i * aside, dip + j * step.value());
    }
  }
  return out;
}

std::vector<Trial> Engine::otherwise(const LoadCase& c, const Trial& t) const {
  std::vector<Trial> out;
  if (c.path == LoadPath::ride) return out;
  if (c.others == Others::towing && setup_.gear.size() > (t.person >= 0 ? 0U : 1U)) {
    // What the other gears tow may hold against this load.
    Trial n = t;
    n.alone = !t.alone;
    n.idle = 0;
    out.push_back(n);
    // Of three gears and more any may tow: one more or one less at a time.
    const auto all = unsigned(setup_.gear.size());
    for (unsigned i = 0; all > (t.person >= 0 ? 1U : 2U) && i < all; ++i) {
      if (int(i) == t.gear) continue;
      n = t;
      n.alone = false;
      n.idle = (t.alone ? (1U << all) - 1U : t.idle) ^ (1U << i);
      out.push_back(n);
    }
  }
  {
    Trial n = t;
    n.near = t.near == Side::port ? Side::starboard : Side::port;
    out.push_back(n);
  }
  if (!t.alone && setup_.gear.size() > 1) {
    // Nobody says that they point the same way.
    std::size_t positions = 1;
    for (std::size_t i = 0; i < setup_.gear.size(); ++i) {
      const auto& d = setup_.gear[i].downrigger;
      if (int(i) != t.gear && d) positions = std::max(positions, d->positions());
    }
    for (std::size_t k = 0; k < positions; ++k) {
      if (int(k) == t.boom_of_others()) continue;
      Trial n = t;
      n.others = int(k);
      out.push_back(n);
    }
  }
  if (c.heave > 0) {
    Trial n = t;
    n.acceleration.z() = -2 - t.acceleration.z();
    out.push_back(n);
  }
  return out;
}

std::string Engine::describe(const LoadCase& c, const Trial& t) const {
  if (c.path == LoadPath::ride) {
    const auto part = [](double v, double still, const char* plus, const char* minus) {
      if (std::abs(v - still) < 1e-9) return std::string();
      return std::string(v > 0 ? plus : minus) + " " +
             show_number(std::round(100 * std::abs(v)) / 100) + " g";
    };
    std::string out;
    for (const std::string& p : {part(t.acceleration.z(), -1, "up", "down"),
                                 part(t.acceleration.y(), 0, "to starboard", "to port"),
                                 part(t.acceleration.x(), 0, "forward", "aft")}) {
      if (!p.empty()) out += (out.empty() ? "" : ", ") + p;
    }
    return out;
  }
  if (c.path == LoadPath::board) {
    const char* at[] = {"in the middle", "at the port end", "at the starboard end",
                        "a quarter from the port end", "a quarter from the starboard end"};
    return std::string(at[t.person]) + (t.y < 0 ? ", aft edge" : ", forward edge");
  }
  std::string out;
  if (c.path == LoadPath::tip) {
    out = parts::boom_words(*setup_.gear[std::size_t(t.gear)].downrigger, std::size_t(t.boom));
  }
  return out + thole::describe(t.way);
}

void Engine::add_weight(Vector& F, int gear, const Eigen::Vector3d& g_board, Ball ball,
                        int boom) const {
  const Gear& g = setup_.gear[std::size_t(gear)];
  const GearData& d = first_->gear[std::size_t(gear)];
  const double g0 = standard_gravity.value();
  const auto put = [&](const Eigen::Vector3d& arm_gear, double mass) {
    const Eigen::Vector3d f = mass * g0 * g_board;
    const Eigen::Vector3d arm = d.to_board * arm_gear;
    F.segment<3>(4 + 6 * gear) += f;
    F.segment<3>(7 + 6 * gear) += arm.cross(f);
  };
  if (g.downrigger) {
    const Downrigger& r = *g.downrigger;
    const auto index = std::size_t(boom);
    const double a = ball == Ball::stowed
                         ? radians(stowed_angles(r)[index % stowed_angles(r).size()])
                         : radians(r.position(index % r.positions()).azimuth);
    const double reach = r.mass_reach.value();
    put({-reach * std::cos(a), reach * std::sin(a), r.mass_height.value()},
        r.mass.value() + (ball == Ball::stowed ? r.ball.value() : 0.0));
    if (ball == Ball::on_tip) put(boom_tip(r, index).si_values(), r.ball.value());
  } else if (g.rod_holder) {
    // Rod and reel balance at about 0.3 of the rod's length, as on a plate (judgement).
    const RodHolder& r = *g.rod_holder;
    const double lean = radians(r.lean);
    const double toward = radians(r.toward);
    const double along = 0.3 * r.rod_length.value();
    put({r.forward.value() - along * std::sin(lean) * std::cos(toward),
         r.outboard.value() + along * std::sin(lean) * std::sin(toward),
         r.height.value() + along * std::cos(lean)},
        r.mass.value());
  } else if (g.plain_load) {
    put(g.plain_load->at.si_values(), g.plain_load->mass.value());
  }
}

void Engine::add_pull(Vector& F, LoadPath path, int gear, int boom, const Direction<Boat>& way,
                      double pull) const {
  const Gear& g = setup_.gear[std::size_t(gear)];
  const GearData& d = first_->gear[std::size_t(gear)];
  if (path == LoadPath::tip || path == LoadPath::post) {
    const Downrigger& r = *g.downrigger;
    const Position<Base> point =
        path == LoadPath::tip ? boom_tip(r, std::size_t(boom)) : post_of(r);
    const Eigen::Vector3d& at = point.si_values();
    const Eigen::Vector3d f = d.to_board * (pull * way.si_values());
    F.segment<3>(4 + 6 * gear) += f;
    F.segment<3>(7 + 6 * gear) += (d.to_board * at).cross(f);
    return;
  }
  // Rods and plain loads by the same function as on a plate.
  const BaseLoad l = pull_load(Host{}, g, path, pull * si::newton, way);
  const double hand = d.to_board.determinant();
  F.segment<3>(4 + 6 * gear) += d.to_board * l.force.si_values();
  F.segment<3>(7 + 6 * gear) += hand * (d.to_board * l.moment.si_values());
}

// What an idle gear does meanwhile: trolls straight, wire as flat as it comes.
void Engine::add_towing(Vector& F, int gear, int boom) const {
  const Gear& g = setup_.gear[std::size_t(gear)];
  if (g.downrigger) {
    const PullRange& p = towing_[std::size_t(gear)];
    add_pull(F, LoadPath::tip, gear, boom,
             line_direction(Angle{}, 0.5 * std::numbers::pi * si::radian - p.greatest_angle),
             setup_.pull_scale * p.greatest_tension.value());
  } else if (g.rod_holder) {
    add_pull(F, LoadPath::line, gear, 0, line_direction(Angle{}, 15.0_deg),
             setup_.pull_scale * load_list::running_pull(*g.rod_holder).value());
  } else if (g.plain_load && g.plain_load->category == Category::everyday) {
    // A load of every day stands meanwhile, in the middle of its directions.
    const DirectionRange& r = g.plain_load->range;
    add_pull(F, LoadPath::point, gear, 0,
             line_direction(0.5 * (r.azimuth_from + r.azimuth_to), 0.5 * (r.dip_from + r.dip_to)),
             setup_.pull_scale * g.plain_load->pull.value());
  }
}

// Gaps and own weight.
Vector Engine::steady(const Eigen::Vector3d& g_board) const {
  Vector F = Vector::Zero(first_->gear_columns());
  F(0) = 1;
  F.segment<3>(1) = g_board;
  return F;
}

Engine::Person& Engine::person(int variant, const Trial& t) {
  const int booms = t.alone ? -1 : t.boom_of_others();
  Person& p = persons_[{variant, t.near == Side::port ? 0 : 1, t.person, t.y, booms, t.idle}];
  if (p.contacts) return p;
  Model& m = model(variant, t.near);
  const Matrix place = place_of_person(t);
  one_way::Problem problem = m.for_gear->problem();
  problem.Q = m.Q_all * place;
  problem.P = m.P_all * place;
  p.contacts = std::make_unique<one_way::Contacts>(std::move(problem));
  p.response_f = m.response_f * place;
  return p;
}

// All columns from the four of a person at one place.
Matrix Engine::place_of_person(const Trial& t) const {
  const Model& m = *first_;
  const int booms = t.alone ? -1 : t.boom_of_others();
  const Eigen::Vector3d down = starboard_axes_ * Eigen::Vector3d(0, 0, -1);
  Vector F = steady(down);
  for (int i = 0; i < m.gears; ++i) {
    add_weight(F, i, down, Ball::in_the_water, std::max(booms, 0));
    if (t.tows(i)) add_towing(F, i, booms);
  }
  // Three forces at the edge of the board: with their moment about the load point in the middle.
  Matrix place = Matrix::Zero(m.all_columns(), 4);
  place.col(0).head(F.size()) = F;
  const Eigen::Index at = m.gear_columns() + 6 * t.person;
  for (int k = 0; k < 3; ++k) {
    const Eigen::Vector3d f = Eigen::Vector3d::Unit(k);
    place.col(1 + k).segment<3>(at) = f;
    place.col(1 + k).segment<3>(at + 3) = Eigen::Vector3d(0, t.y, 0).cross(f);
  }
  return place;
}

Vector Engine::in_all_columns(const Trial& t, const Vector& F) const {
  if (t.person >= 0) return place_of_person(t) * F;
  Vector all = Vector::Zero(first_->all_columns());
  all.head(F.size()) = F;
  return all;
}

int Engine::boom_of(const LoadCase& c, const Trial& t, int gear) const {
  // On a ride no gear is the one at hand: the first downrigger has `boom`, the rest `others`.
  int lead = t.gear;
  for (int i = first_->gears - 1; c.path == LoadPath::ride && i >= 0; --i) {
    if (setup_.gear[std::size_t(i)].downrigger) lead = i;
  }
  return gear == lead ? t.boom : t.boom_of_others();
}

void Engine::add_weights(Vector& F, const LoadCase& c, const Trial& t,
                         const Eigen::Vector3d& g_board) const {
  const Ball ball = c.path != LoadPath::ride ? Ball::in_the_water
                    : c.ball_on_tip          ? Ball::on_tip
                                             : Ball::stowed;
  for (int i = 0; i < first_->gears; ++i) add_weight(F, i, g_board, ball, boom_of(c, t, i));
}

Vector Engine::weights(const LoadCase& c, const Trial& t) const {
  const Eigen::Vector3d g_board =
      starboard_axes_ * (t.person >= 0 ? Eigen::Vector3d(0, 0, -1) : t.acceleration);
  Vector F = steady(g_board);
  add_weights(F, c, t, g_board);
  return F;
}

Vector Engine::at_rest(const LoadCase& c, const Trial& t) const {
  Trial still = t;
  still.acceleration = {0, 0, -1};
  return weights(c, still);
}

Vector Engine::load(const LoadCase& c, const Trial& t, double pull) const {
  const Model& m = *first_;
  if (c.path == LoadPath::board) {
    // A person pushes the way `way` points, in axes forward, starboard, up.
    Vector F(4);
    F << 1, starboard_axes_ * (pull * t.way.si_values());
    return F;
  }
  const Eigen::Vector3d g_board = starboard_axes_ * t.acceleration;
  Vector F = steady(g_board);
  add_weights(F, c, t, g_board);
  if (c.path == LoadPath::ride) return F;
  add_pull(F, c.path, t.gear, t.boom, t.way, pull);
  const Gear& main = setup_.gear[std::size_t(t.gear)];
  const double share = c.pull.value() > 0 ? pull / c.pull.value() : 0.0;
  for (int i = 0; i < m.gears; ++i) {
    if (i == t.gear) continue;
    const Gear& other = setup_.gear[std::size_t(i)];
    if (c.others == Others::towing) {
      if (t.tows(i)) add_towing(F, i, t.boom_of_others());
      continue;
    }
    const Force own = c.pulls[std::size_t(i)];
    if (!(own.value() > 0)) {
      add_towing(F, i, t.boom_of_others());
      continue;
    }
    // The same way over the ground: for a gear on the other side the azimuth changes sign.
    double az = azimuth_of(t.way);
    double dip = dip_of(t.way);
    if (!same_side(main, other)) az = -az;
    // Under the hull a wire stays steep; a rod's line does not go there.
    if (other.downrigger && az < degrees(-30).value()) dip = std::max(dip, degrees(60).value());
    add_pull(F, other.downrigger ? LoadPath::tip : LoadPath::line, i, t.boom_of_others(),
             line_direction(az * si::radian, dip * si::radian), share * own.value());
  }
  return F;
}

Outcome Engine::act(int variant, const Trial& t, const Vector& F) {
  Model& m = model(variant, t.near);
  Person* who = t.person >= 0 ? &person(variant, t) : nullptr;
  one_way::Contacts& contacts = who != nullptr ? *who->contacts : *m.for_gear;
  const Matrix& response_f = who != nullptr ? who->response_f : m.response_f;
  contacts.solve(F, answer_);
  if (answer_.outcome == one_way::Outcome::mechanism) {
    board_kernel::Wrench motion = answer_.motion;
    motion.tail<3>() /= m.motion_length;
    const MotionWords words =
        describe_motion(motion, m.setup->board().board.length.value(), m.width);
    return {true, words.motion, words.remedy};
  }
  const Eigen::Index columns = F.size();
  // The gains of a contact state for all that is looked at pay once the state comes back.
  constexpr int often = 8;
  auto* gains = const_cast<one_way::Gains*>(answer_.gains);  // owned by this kernel
  if (gains != nullptr && !gains->response && ++gains->used > often) {
    gains->response = std::make_unique<Matrix>(response_f.leftCols(columns));
    gains->response->noalias() += m.response_s * gains->s;
    gains->response->bottomRows(m.watched_rigid.rows()).noalias() += m.watched_rigid * gains->a;
  }
  if (gains != nullptr && gains->response) {
    response_.noalias() = *gains->response * F;
  } else {
    response_.noalias() = response_f.leftCols(columns) * F;
    response_.noalias() += m.response_s * answer_.s;
    response_.tail(m.watched_rigid.rows()).noalias() += m.watched_rigid * answer_.a;
  }
  actions_.model = &m;
  actions_.way = way_of(setup_, t);
  actions_.support = answer_.s.data();
  actions_.cut = response_.data();
  actions_.watched = response_.data() + m.first_watch;
  checks::complete_ledges(actions_);
  return {};
}

void Engine::stand(const Vector& F, const Trial& t) {
  const int gear = t.gear;
  const Model& m = *first_;
  actions_.model = &m;
  actions_.way = way_of(setup_, t);
  for (int i = 0; i < m.gears; ++i) {
    const GearData& d = m.gear[std::size_t(i)];
    actions_.loaded[std::size_t(i)] = gear < 0 || i == gear;
    if (!actions_.loaded[std::size_t(i)]) continue;
    auto& w = actions_.gear[std::size_t(i)];
    const double hand = d.to_board.determinant();
    w.head<3>().noalias() = d.to_board.transpose() * F.segment<3>(4 + 6 * i);
    w.tail<3>().noalias() = hand * (d.to_board.transpose() * F.segment<3>(7 + 6 * i));
  }
  checks::complete_feet(actions_);
}

Eigen::Matrix<double, 6, 1> Engine::base_motion(int gear) const {
  Eigen::Matrix<double, 6, 1> out;
  for (int i = 0; i < 6; ++i) out(i) = actions_.watched[6 * gear + i];
  return out;
}

double Engine::sag() const { return actions_.watched[first_->sag_watch]; }

double Engine::worst_ratio(int variant, const Trial& t, const Vector& F, Category category,
                           bool full, const Mode* only, const Mode** which, bool stop, bool feet) {
  double worst = infinite;
  const auto look = [&](bool of_feet) {
    for (const Mode& m : modes_) {
      if ((only != nullptr && only != &m) || !m.mode->needs_load || m.of_foot != of_feet) continue;
      if ((!full && m.mode->spoils) || m.mode->fatigue) continue;
      // A rated part goes at its breaking load, not at its rating.
      const double gone = m.mode->group == "rated" ? rated_going_ : 1.0;
      const double target = full ? needed_factor(*m.mode, m.full, category, accident_least_) : gone;
      const double ratio = m.mode->use_on_board(actions_, category).factor() / target;
      if (ratio < worst) {
        worst = ratio;
        if (which != nullptr) *which = &m;
      }
    }
  };
  if (only == nullptr || !only->of_foot) {
    if (act(variant, t, F).mechanism) return 0;
    look(false);
    if (only != nullptr || !feet || (stop && worst < 1)) return worst;
  }
  if (t.person >= 0) return worst;  // on the board, not on a gear
  stand(F, t);
  look(true);
  return worst;
}

Engine::Limit Engine::largest_pull(int variant, const LoadCase& c, const Trial& t, double most,
                                   bool full, const Mode* only, bool feet) {
  // A pull of minutes counts as occasional; rods and plain loads as everyday, as on a plate.
  const Category category =
      c.path == LoadPath::tip || !full ? Category::occasional : Category::everyday;
  Limit out;
  const auto ratio = [&](double pull, const Mode** which) {
    return worst_ratio(variant, t, load(c, t, pull), category, full, only, which, false, feet);
  };
  const Mode* which = nullptr;
  if (ratio(0, &which) < 1) {
    out.mode = which;
    return out;
  }
  const Vector F0 = load(c, t, 0);
  const Vector F1 = load(c, t, 1) - F0;
  Model& m = model(variant, t.near);
  const int two_way = m.for_gear->problem().two_way;
  // 1/ratio is the share used up: within a contact state a convex function of the pull.
  const auto root = [&](double low, double high) {
    double f_low = 1 / ratio(low, nullptr) - 1;
    double f_high = 1 / ratio(high, &which) - 1;
    int side = 0;
    for (int i = 0; i < 100 && high - low > 1e-10 * high; ++i) {
      double mid = std::isfinite(f_high) ? (low * f_high - high * f_low) / (f_high - f_low)
                                         : 0.5 * (low + high);
      if (!(mid > low && mid < high) || i % 8 == 7) mid = 0.5 * (low + high);
      const double f = 1 / ratio(mid, &which) - 1;
      if (f > 0) {
        high = mid;
        f_high = f;
        if (side == 1) f_low *= 0.5;
        side = 1;
      } else {
        low = mid;
        f_low = f;
        if (side == -1) f_high *= 0.5;
        side = -1;
      }
    }
    (void)ratio(high, &which);
    out.mode = which;
    out.pull = low;
  };
  if (!linear(c.path)) {
    // A rod bends: not linear in the pull. By halves.
    if (ratio(most, nullptr) >= 1) {
      out.pull = most;
      return out;
    }
    root(0, most);
    return out;
  }
  double mu = 0;
  (void)act(variant, t, F0);
  for (int step = 0; step < 100000; ++step) {
    const one_way::Gains* g = answer_.gains;
    double end = most;
    if (g != nullptr) {
      for (int i = two_way; i < m.for_gear->count(); ++i) {
        const bool closed = (g->state & (one_way::State{1} << (i - two_way))) != 0;
        const Matrix& rows = closed ? g->s : g->w;
        const double v1 = rows.row(i).dot(F1);
        if (v1 >= 0) continue;
        const double at = -rows.row(i).dot(F0) / v1;
        if (at > mu) end = std::min(end, at);
      }
    } else {
      end = std::min(most, mu + std::max(1e-3 * mu, 1e-3));
    }
    if (ratio(end, nullptr) < 1) {
      root(mu, end);
      return out;
    }
    if (end >= most) {
      out.pull = most;
      return out;
    }
    // Just beyond the change.
    double ahead = std::max(end, 1.0) * 1e-9;
    const one_way::State before = g != nullptr ? g->state : 0;
    for (;;) {
      if (act(variant, t, F0 + (end + ahead) * F1).mechanism) {
        out.tips = act(variant, t, F0 + (end + ahead) * F1).motion;
        out.pull = end;
        return out;
      }
      if (answer_.gains == nullptr || answer_.gains->state != before || g == nullptr) break;
      ahead *= 4;
      if (ahead > 1e-3 * std::max(1.0, end)) break;
    }
    mu = end + ahead;
  }
  throw InternalError("board: the walk along a pull did not end");
}

}  // namespace thole::board
