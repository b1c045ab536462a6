#include <thole/loads.hpp>

#include <algorithm>
#include <cmath>

#include <thole/error.hpp>
#include <thole/rod.hpp>

namespace thole {

Direction<Boat> line_direction(Angle azimuth, Angle dip) {
  const double a = radians(azimuth);
  const double d = radians(dip);
  return Direction<Boat>(
      Eigen::Vector3d(-std::cos(d) * std::cos(a), std::cos(d) * std::sin(a), -std::sin(d)));
}

Rotation<Boat, Base> to_base(const Host& host) {
  const double s = radians(host.slope);
  Eigen::Matrix3d m;
  m << 1, 0, 0,                      //
      0, std::cos(s), -std::sin(s),  //
      0, std::sin(s), std::cos(s);
  return Rotation<Boat, Base>(m);
}

namespace {

// The tube of a rod holder, upward.
Direction<Boat> tube_axis(const RodHolder& r) {
  const double lean = radians(r.lean);
  const double toward = radians(r.toward);
  return Direction<Boat>(Eigen::Vector3d(-std::sin(lean) * std::cos(toward),
                                         std::sin(lean) * std::sin(toward), std::cos(lean)));
}

// From the middle of the foot, `reach` along the boom seen from above.
Position<Base> along_boom(Angle azimuth, Length reach, Length up) {
  return {Length(-std::cos(radians(azimuth)) * reach), Length(std::sin(radians(azimuth)) * reach),
          up};
}

void put(BaseLoad& out, const Position<Base>& at, const ForceVector<Base>& force) {
  out.force += force;
  out.moment += cross(at, force);
}

// The same load about the middle of a base whose gear does not stand there.
BaseLoad moved(BaseLoad load, const GunwalePlate& plate) {
  if (plate.bracket) {
    const PlanPoint& p = plate.bracket->gear_at;
    load.moment += cross(Position<Base>(p.x, p.y, Length{}), load.force);
  }
  return load;
}

}  // namespace

Position<Base> boom_tip(const Downrigger& d, std::size_t position) {
  const Downrigger::Position p = d.position(position % d.positions());
  return along_boom(p.azimuth, std::cos(radians(p.raised)) * d.boom_length,
                    d.tip_height + std::sin(radians(p.raised)) * d.boom_length);
}

Position<Base> post_of(const Downrigger& d) {
  return {Length{}, Length{}, std::max(d.mass_height, d.tip_height)};
}

const std::vector<Angle>& stowed_angles(const Downrigger& d) {
  static const std::vector<Angle> any_way = [] {
    std::vector<Angle> out;
    for (int i = 0; i < 36; ++i) out.push_back(degrees(10 * i));
    return out;
  }();
  return d.stowed_angles.empty() ? any_way : d.stowed_angles;
}

BaseLoad pull_load(const Host& host, const Gear& gear, LoadPath path, Force pull,
                   const Direction<Boat>& direction, std::size_t boom) {
  const Rotation<Boat, Base> turn = to_base(host);
  BaseLoad out;
  const ForceVector<Base> force = turn * along(pull, direction);
  if (gear.plain_load) {
    put(out, gear.plain_load->at, force);
    return out;
  }
  if (gear.downrigger) {
    const Downrigger& d = *gear.downrigger;
    put(out, path == LoadPath::tip ? boom_tip(d, boom) : post_of(d), force);
    return out;
  }
  const RodHolder& r = *gear.rod_holder;
  put(out, {r.forward, r.outboard, r.height}, force);
  if (path != LoadPath::line) return out;
  const Direction<Boat> axis = tube_axis(r);
  const double cosine = std::clamp(axis.si_values().dot(direction.si_values()), -1.0, 1.0);
  const Angle beta = std::acos(cosine) * si::radian;
  const Length lever = rod_lever_bound(r.rod_length, r.butt_stiffness, beta, pull);
  Eigen::Vector3d plane = axis.si_values().cross(direction.si_values());
  if (plane.norm() < 1e-9) {
    // The line runs back along the rod: it may bend any way; take the base's weaker axis, x.
    plane = axis.si_values().cross(Eigen::Vector3d(1, 0, 0)).cross(axis.si_values());
  }
  out.moment += turn * along(Moment(pull * lever), Direction<Boat>(plane));
  return out;
}

BaseLoad pull_load(const GunwalePlate& plate, const Gear& gear, LoadPath path, Force pull,
                   const Direction<Boat>& direction, std::size_t boom) {
  return moved(pull_load(plate.host, gear, path, pull, direction, boom), plate);
}

BaseLoad weight_load(const Host& host, const Gear& gear, const Shake& shake, Ball ball,
                     std::size_t boom) {
  const Rotation<Boat, Base> turn = to_base(host);
  BaseLoad out;
  const Eigen::Vector3d g(shake.forward, shake.starboard, shake.up);
  const auto hang = [&](Mass mass, const Position<Base>& centre) {
    if (!(mass.value() > 0) || !(g.norm() > 0)) return;
    put(out, centre, turn * along(Force(mass * standard_gravity * g.norm()), Direction<Boat>(g)));
  };
  if (gear.plain_load) {
    hang(gear.plain_load->mass, gear.plain_load->at);
  } else if (gear.downrigger) {
    const Downrigger& d = *gear.downrigger;
    const bool stowed = ball == Ball::stowed;
    const std::vector<Angle>& away = stowed_angles(d);
    const Angle azimuth =
        stowed ? away[boom % away.size()] : d.position(boom % d.positions()).azimuth;
    hang(stowed ? Mass(d.mass + d.ball) : d.mass, along_boom(azimuth, d.mass_reach, d.mass_height));
    if (ball == Ball::on_tip) hang(d.ball, boom_tip(d, boom));
  } else {
    // Rod and reel balance at about 0.3 of the rod's length (judgement).
    const RodHolder& r = *gear.rod_holder;
    hang(r.mass, Position<Base>(r.forward, r.outboard, r.height) +
                     turn * along(Length(0.3 * r.rod_length), tube_axis(r)));
  }
  return out;
}

BaseLoad weight_load(const GunwalePlate& plate, const Gear& gear, const Shake& shake, Ball ball,
                     std::size_t boom) {
  return moved(weight_load(plate.host, gear, shake, ball, boom), plate);
}

BaseLoad base_load(const Host& host, const Gear& gear, LoadPath path, Force pull,
                   const Direction<Boat>& direction, std::size_t boom) {
  BaseLoad out = pull_load(host, gear, path, pull, direction, boom);
  const BaseLoad weight = weight_load(host, gear, {}, Ball::in_the_water, boom);
  out.force += weight.force;
  out.moment += weight.moment;
  return out;
}

TowedLine towed_line_of(const Downrigger& g, const Setup& s, Speed surface) {
  TowedLine line;
  const auto& t = s.use.water_temperature;
  const Water water = s.salt_water ? sea_water(t ? WaterTemperature{*t} : WaterTemperature{15})
                                   : fresh_water(t ? WaterTemperature{*t} : WaterTemperature{10});
  line.ball = g.ball;
  line.ball_density = g.ball_density;
  line.ball_drag = g.ball_drag;
  line.wire_diameter = g.wire_diameter;
  line.water = water.density;
  line.wire_weight = wire_weight_in_water(g.wire, g.wire_diameter, water.density);
  line.depth = g.depth;
  line.surface_speed = surface;
  if (g.fastest_at_ball) {
    line.ball_speed = surface < g.fastest ? *g.slowest_at_ball : *g.fastest_at_ball;
  }
  return line;
}

PullRange trolling_pull(const Downrigger& g, const Setup& s) {
  TowedLine line = towed_line_of(g, s, g.fastest);
  line.ball_speed.reset();
  const SpeedRange surface{g.slowest, g.fastest};
  if (!g.slowest_at_ball) return pull_range(line, surface);
  return pull_range(line, surface, SpeedRange{*g.slowest_at_ball, *g.fastest_at_ball});
}

std::vector<Direction<Boat>> directions(const DirectionRange& range, Angle step) {
  const auto points = [&](Angle from, Angle to) {
    const double span = (to - from).value();
    const int n = span > 1e-9 ? int(std::ceil(span / step.value() - 1e-9)) : 0;
    std::vector<Angle> out;
    for (int i = 0; i <= n; ++i) out.push_back(n == 0 ? from : from + span * i / n * si::radian);
    return out;
  };
  std::vector<Direction<Boat>> out;
  for (const Angle& dip : points(range.dip_from, range.dip_to)) {
    const bool pole = std::abs(std::cos(radians(dip))) < 1e-9;
    for (const Angle& azimuth : points(range.azimuth_from, range.azimuth_to)) {
      out.push_back(line_direction(azimuth, dip));
      if (pole) break;  // straight up or down: one direction
    }
  }
  return out;
}

std::vector<Direction<Boat>> directions_near(const Direction<Boat>& centre,
                                             const DirectionRange& range, Angle step) {
  constexpr double turn = 2 * std::numbers::pi;
  const double dip = std::atan2(-centre.z(), std::hypot(centre.x(), centre.y()));
  double azimuth = std::atan2(centre.y(), -centre.x());
  // The same azimuth, counted so that it lies in the range.
  while (azimuth < range.azimuth_from.value() - 1e-9) azimuth += turn;
  while (azimuth > range.azimuth_to.value() + 1e-9) azimuth -= turn;
  if (azimuth < range.azimuth_from.value() - 1e-9) azimuth = range.azimuth_from.value();
  std::vector<Direction<Boat>> out;
  for (int i = -4; i <= 4; ++i) {
    for (int j = -4; j <= 4; ++j) {
      const double a = std::clamp(azimuth + i * step.value() / 4, range.azimuth_from.value(),
                                  range.azimuth_to.value());
      const double d =
          std::clamp(dip + j * step.value() / 4, range.dip_from.value(), range.dip_to.value());
      out.push_back(line_direction(a * si::radian, d * si::radian));
    }
  }
  return out;
}

std::string describe(const Direction<Boat>& d) {
  const double level = std::hypot(d.x(), d.y());
  const long dip = std::lround(std::atan2(-d.z(), level) * 180 / std::numbers::pi);
  const std::string tilt =
      dip == 0 ? "level" : std::to_string(std::abs(dip)) + (dip > 0 ? " deg down" : " deg up");
  if (std::abs(dip) == 90) return dip > 0 ? "straight down" : "straight up";
  const long azimuth = std::lround(std::atan2(d.y(), -d.x()) * 180 / std::numbers::pi);
  const long off = std::abs(azimuth);
  const std::string side = azimuth >= 0 ? "outboard" : "inboard";
  std::string where;
  if (off == 0) {
    where = "astern";
  } else if (off == 180) {
    where = "ahead";
  } else if (off == 90) {
    where = "abeam " + side;
  } else {
    where = std::to_string(off) + " deg " + side + " of astern";
  }
  return where + ", " + tilt;
}

}  // namespace thole
