#include "core/plate_forces.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <Eigen/Geometry>

#include "core/gear_tip.hpp"

namespace thole::plate {

namespace {

bool is_ride(const LoadCase& c) { return c.path == LoadPath::ride; }

// What was found for a gear alike, as a load of the gear of this case.
Setting as_of_its_gear(Setting s, const LoadCase& c) {
  if (c.gear < 0 || c.others == Others::together || s.pulling.empty()) return s;
  const auto own = std::size_t(c.gear);
  std::size_t& pulling = s.pulling.front().first;
  std::swap(s.booms[pulling], s.booms[own]);
  pulling = own;
  return s;
}

// Which of the gears that pull the words are about.
std::optional<std::pair<std::size_t, double>> puller(const Setting& s, const LoadCase& c) {
  if (s.pulling.empty()) return std::nullopt;
  const auto own = std::find_if(s.pulling.begin(), s.pulling.end(),
                                [&](const auto& p) { return int(p.first) == c.gear; });
  return own != s.pulling.end() ? *own : s.pulling.front();
}

Loading loading_of(const Setup& s, const LoadCase& c, const Setting& setting, const Hardest& h) {
  Loading out;
  const auto pulls = puller(setting, c);
  if (!pulls) return out;
  const Gear& gear = s.gear[pulls->first];
  out.gear = gear.name;
  out.pull = pulls->second * h.pull;
  if (out.pull.value() > 0) out.way = h.way;
  if (const auto boom = parts::boom_at(gear, setting.booms[pulls->first], false)) {
    out.boom = boom->azimuth;
    out.raised = boom->raised;
  }
  return out;
}

void add_fasteners(const Setup& s, const Engine& engine, std::vector<FastenerForce>& out) {
  const Actions& base = engine.on_base();
  const std::size_t first = s.plate().fastening.holes.size();
  const auto add = [&](const std::string& part, const Actions& a, std::size_t i, PlanPoint at) {
    out.push_back(
        {part, int(i) + 1, at, a.tension[i], a.shear[i].x, a.shear[i].y, a.result.tension[i]});
  };
  for (std::size_t i = 0; i < engine.fasteners().size(); ++i) {
    add(i < first ? "" : "other fasteners", base, i, engine.fasteners()[i]);
  }
  const Actions* fitting = engine.on_fitting();
  if (fitting == nullptr) return;
  const Fitting& f = *s.plate().bracket->fitting;
  for (std::size_t i = 0; i < f.fastening.holes.size(); ++i) {
    add(f.name, *fitting, i, f.fastening.holes[i]);
  }
}

std::vector<AppliedLoad<Base>> loads_of(const Setup& s, const Setting& setting,
                                        const BaseLoad& all) {
  std::vector<AppliedLoad<Base>> out;
  const auto add = [&](const std::string& name, const ForceVector<Base>& force,
                       const MomentVector<Base>& moment) {
    if (force.si_values().isZero(0) && moment.si_values().isZero(0)) return;
    out.push_back({name, Position<Base>{}, force, moment});
  };
  if (!setting.pulling.empty()) {
    const bool one = setting.pulling.size() == 1;
    add(one ? "pull on " + s.gear[setting.pulling.front().first].name : "pulls on all gear",
        all.force - setting.steady.force, all.moment - setting.steady.moment);
  }
  add(s.gear.size() > 1 ? "weights and pulls on other gear" : "weight", setting.steady.force,
      setting.steady.moment);
  return out;
}

// The middle of what presses follows from balance: what load and bolts leave.
std::optional<BedForce> bed_of(const Actions& a, const std::vector<PlanPoint>& fasteners) {
  const ContactResult& r = a.result;
  if (!(r.bed_force.value() > 0)) return std::nullopt;
  Moment x = -a.load.moment.x();
  Moment y = -a.load.moment.y();
  for (std::size_t i = 0; i < fasteners.size(); ++i) {
    x += fasteners[i].y * r.tension[i];
    y -= fasteners[i].x * r.tension[i];
  }
  return BedForce{{-y / r.bed_force, x / r.bed_force}, r.bed_force};
}

// Lift and turn of the rigid base about the middle of its frame.
struct Pose {
  Eigen::Vector3d lift = Eigen::Vector3d::Zero();
  Eigen::Vector3d turn = Eigen::Vector3d::Zero();
};

Pose pose_of(const ContactResult& r) {
  return {{0, 0, r.lift.value()}, {r.tilt_x.value(), r.tilt_y.value(), 0}};
}

// The same booms, nothing pulls, nothing shakes.
Setting at_rest(const Setup& s, const LoadCase& c, const Setting& setting) {
  const Ball ball = !is_ride(c) ? Ball::in_the_water : c.ball_on_tip ? Ball::on_tip : Ball::stowed;
  Setting out{{}, setting.booms, {}};
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    const BaseLoad w = weight_load(s.plate(), s.gear[i], Shake{}, ball, setting.booms[i]);
    out.steady.force += w.force;
    out.steady.moment += w.moment;
  }
  return out;
}

// Base and gear as one rigid piece on its bed; nothing slides along the wall.
std::vector<GearMotion> motions_of(const Setup& s, const LoadCase& c, const Setting& setting,
                                   const Pose& loaded, const Pose& rest) {
  const Eigen::Vector3d lift = loaded.lift - rest.lift;
  const Eigen::Vector3d turn = loaded.turn - rest.turn;
  const auto& bracket = s.plate().bracket;
  Position<Base> foot;
  if (bracket) foot = Position<Base>(bracket->gear_at.x, bracket->gear_at.y, Length{});
  const Rotation<Base, Boat> to_boat = to_base(s.plate().host).inverse();
  const auto moved = [&](const Position<Base>& at) {
    return to_boat * Vector<Length, Base>::from_si(lift + turn.cross(at.si_values()));
  };
  std::vector<GearMotion> out;
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    const bool stowed = is_ride(c) && !c.ball_on_tip;
    const Position<Base> tip = foot + parts::tip_of(s.gear[i], setting.booms[i], stowed);
    out.push_back({s.gear[i].name, moved(foot), moved(tip), Angle::from_value(turn.norm())});
  }
  return out;
}

CaseForces forces_of(Engine& engine, const Setup& s, const LoadCase& c, const Hardest& h) {
  CaseForces out;
  const Setting setting = as_of_its_gear(h.setting, c);
  out.loading = loading_of(s, c, setting, h);
  Start start;
  engine.put_on(setting, c.path, h.pull, h.way);
  if (!engine.on_bed(h.bed, start).empty()) return out;
  add_fasteners(s, engine, out.fasteners);
  out.on_base = loads_of(s, setting, engine.on_base().load);
  out.bed = bed_of(engine.on_base(), engine.fasteners());
  const Pose loaded = pose_of(engine.on_base().result);
  const Setting rest = at_rest(s, c, setting);
  Start from_rest;
  engine.put_on(rest, c.path, Force{}, h.way);
  if (!engine.on_bed(h.bed, from_rest).empty()) return out;
  out.motions = motions_of(s, c, setting, loaded, pose_of(engine.on_base().result));
  return out;
}

}  // namespace

void write_forces(Engine& engine, const Setup& s,
                  const std::vector<std::optional<Hardest>>& hardest,
                  std::optional<std::size_t> worst, Assessment& out) {
  for (std::size_t i = 0; i < out.cases.size(); ++i) {
    const CaseResult& c = out.cases[i];
    if (!hardest[i] || !c.motion.empty()) continue;
    CaseForces f = forces_of(engine, s, c.load_case, *hardest[i]);
    if (f.fasteners.empty()) continue;
    f.loading.load_case = i;
    f.loading.words = c.direction;
    if (worst == i) out.worst_forces = out.forces.size();
    out.forces.push_back(std::move(f));
  }
}

}  // namespace thole::plate
