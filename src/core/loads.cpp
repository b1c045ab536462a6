#include <thole/loads.hpp>

#include <algorithm>
#include <cmath>

#include <thole/error.hpp>
#include <thole/rod.hpp>

namespace thole {

using namespace literals;

namespace {

// Cones of the rod cases: 5 to 40 deg below level and 45 deg either side of astern while running,
// 90 deg in turns; a fish takes the line down to straight below and out to abeam on either side.
const DirectionRange running_cone{-90.0_deg, 90.0_deg, 5.0_deg, 40.0_deg};
const DirectionRange strike_cone{-90.0_deg, 90.0_deg, 5.0_deg, 90.0_deg};
const DirectionRange every_way{-180.0_deg, 180.0_deg, -90.0_deg, 90.0_deg};

constexpr double line_break = 1.3;   // labels run low
constexpr double drag_sticks = 1.5;  // a drag that sticks, or a pull that comes suddenly
const Force hand = 200.0_lbf;        // ASCE 7-10 4.5.1, hand-rail point load

}  // namespace

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

std::vector<LoadCase> load_cases(const Gear& gear) {
  std::vector<LoadCase> cases;
  if (gear.plain_load) {
    const PlainLoad& p = *gear.plain_load;
    cases.push_back({.id = "plain-load",
                     .title = gear.name.empty() ? "the load" : gear.name,
                     .why = "as given",
                     .category = p.category,
                     .decides = true,
                     .path = LoadPath::point,
                     .pull = p.pull,
                     .range = p.range,
                     .depends_on = {"gear.pull"}});
    return cases;
  }
  const RodHolder& r = *gear.rod_holder;
  const Force parts = line_break * r.line_test;
  const Force strike = std::min(drag_sticks * r.spool_growth * r.drag.value, parts);
  const Force running = std::min(1.5 * r.running_pull, strike);
  const bool drag_known = r.drag.known == Knowledge::measured;
  cases.push_back({.id = "rod-running",
                   .title = "rod running",
                   .why = "1.5 x the running pull for waves, no more than the drag lets by "
                          "(common practice, no source)",
                   .category = Category::everyday,
                   .decides = true,
                   .path = LoadPath::line,
                   .pull = running,
                   .range = running_cone,
                   .depends_on = {"gear.running_pull"}});
  cases.push_back({.id = "fish-strike",
                   .title = "fish strikes",
                   .why = "1.5 x drag x spool growth, no more than the line parts at (common "
                          "practice, no source)",
                   .category = Category::occasional,
                   .decides = true,
                   .path = LoadPath::line,
                   .pull = strike,
                   .range = strike_cone,
                   .depends_on = {"gear.drag", "gear.spool_growth"}});
  cases.push_back({.id = "line-locked",
                   .title = "line locked, parts",
                   .why = drag_known ? "1.3 x line test, labels run low (judgement)"
                                     : "1.3 x line test (judgement); decides because the drag was "
                                       "not measured",
                   .category = Category::accident,
                   .decides = !drag_known,
                   .path = LoadPath::line,
                   .pull = parts,
                   .range = strike_cone,
                   .depends_on = {"gear.line_test"}});
  cases.push_back({.id = "lean-on-holder",
                   .title = "somebody leans on it",
                   .why = "200 lbf any way at the rim (ASCE 7-10 4.5.1, page seen); shown, not "
                          "deciding",
                   .category = Category::occasional,
                   .decides = false,
                   .path = LoadPath::rim,
                   .pull = hand,
                   .range = every_way,
                   .depends_on = {}});
  return cases;
}

BaseLoad base_load(const Host& host, const Gear& gear, LoadPath path, Force pull,
                   const Direction<Boat>& direction) {
  const Rotation<Boat, Base> turn = to_base(host);
  const ForceVector<Base> force = turn * along(pull, direction);
  const Direction<Boat> down(Eigen::Vector3d(0, 0, -1));
  BaseLoad out;
  out.force = force;
  if (gear.plain_load) {
    const PlainLoad& p = *gear.plain_load;
    out.moment = cross(p.at, force);
    if (p.mass.value() > 0) {
      const ForceVector<Base> weight = turn * along(Force(p.mass * standard_gravity), down);
      out.force += weight;
      out.moment += cross(p.at, weight);
    }
    return out;
  }
  const RodHolder& r = *gear.rod_holder;
  const Position<Base> rim(r.forward, r.outboard, r.height);
  out.moment = cross(rim, force);
  const double lean = radians(r.lean);
  const double toward = radians(r.toward);
  const Direction<Boat> axis(Eigen::Vector3d(-std::sin(lean) * std::cos(toward),
                                             std::sin(lean) * std::sin(toward), std::cos(lean)));
  if (path == LoadPath::line) {
    const double cosine = std::clamp(axis.si_values().dot(direction.si_values()), -1.0, 1.0);
    const Angle beta = std::acos(cosine) * si::radian;
    const Length lever = rod_lever_bound(r.rod_length, r.butt_stiffness, beta, pull);
    Eigen::Vector3d plane = axis.si_values().cross(direction.si_values());
    if (plane.norm() < 1e-9) {
      // The line runs back along the rod: it may bend any way; take the base's weaker axis, x.
      plane = axis.si_values().cross(Eigen::Vector3d(1, 0, 0)).cross(axis.si_values());
    }
    out.moment += turn * along(Moment(pull * lever), Direction<Boat>(plane));
  }
  if (r.mass.value() > 0) {
    // Rod and reel balance at about 0.3 of the rod's length (judgement).
    const ForceVector<Base> weight = turn * along(Force(r.mass * standard_gravity), down);
    const Position<Base> centre = rim + turn * along(Length(0.3 * r.rod_length), axis);
    out.force += weight;
    out.moment += cross(centre, weight);
  }
  return out;
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
