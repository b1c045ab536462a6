#include <algorithm>
#include <cmath>

#include <thole/error.hpp>
#include <thole/rod.hpp>

#include "core/assessment_parts.hpp"

namespace thole::parts {

using namespace literals;

namespace {

const Angle grid = 5.0_deg;
const Length presumed_tube_depth = 0.2_m;

/// Pull of a case on the line of one gear; zero when that line only tows or has no part in it.
Force pull_on(const LoadCase& c, std::size_t gear) {
  if (gear < c.pulls.size()) return c.pulls[gear];
  return c.gear < 0 || c.gear == int(gear) ? c.pull : Force{};
}

/// Angle between the tube, upward, and the line.
Angle between(const RodHolder& r, const Direction<Boat>& line) {
  const double lean = radians(r.lean);
  const double toward = radians(r.toward);
  const Eigen::Vector3d axis(-std::sin(lean) * std::cos(toward), std::sin(lean) * std::sin(toward),
                             std::cos(lean));
  return std::acos(std::clamp(axis.dot(line.si_values()), -1.0, 1.0)) * si::radian;
}

/// Directions are outboard of the gear whose case it is: the other side of a board sees them
/// mirrored.
bool mirrored(const Setup& s, const LoadCase& c, std::size_t gear) {
  return s.on_board() && c.gear >= 0 &&
         s.gear[std::size_t(c.gear)].place.side != s.gear[gear].place.side;
}

/// About the middle of the base; on a board that counts as level.
Moment twist_of(const Setup& s, const Gear& g, Force pull, const Direction<Boat>& way) {
  return (s.on_board() ? pull_load(Host{}, g, LoadPath::line, pull, way)
                       : pull_load(s.plate(), g, LoadPath::line, pull, way))
      .moment.z();
}

}  // namespace

std::vector<TowingRow> towing_rows(const Setup& s) {
  std::vector<TowingRow> rows;
  for (const Gear& gear : s.gear) {
    if (!gear.downrigger) continue;
    const Downrigger& d = *gear.downrigger;
    const PullRange range = trolling_pull(d, s);
    TowingRow row;
    row.gear = gear.name;
    row.depth = d.depth;
    row.greatest_wire_out = range.greatest_wire_out;
    row.least_pull = range.least_tension;
    row.greatest_pull = range.greatest_tension;
    row.least_angle = range.least_angle;
    row.greatest_angle = range.greatest_angle;
    row.slowest = d.slowest;
    row.fastest = d.fastest;
    row.too_flat = range.too_flat;
    try {
      TowedLine line = towed_line_of(d, s, d.fastest);
      line.normal_drag = 1.5;
      const LinePull pull = line_pull(line);
      row.wire_out = pull.wire_out;
      row.layback = pull.layback;
    } catch (const DomainError&) {
      row.too_flat = true;  // the range came through, so nothing else is wrong with the line
    }
    rows.push_back(row);
  }
  return rows;
}

// Every figure is the greatest over the directions, each by itself: together they are on the high
// side.
std::vector<SocketRow> socket_rows(const Setup& s, const std::vector<LoadCase>& cases) {
  std::vector<SocketRow> rows;
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    if (!s.gear[i].rod_holder) continue;
    const RodHolder& r = *s.gear[i].rod_holder;
    const Length depth = r.tube_depth.value() > 0 ? r.tube_depth : presumed_tube_depth;
    SocketRow row;
    row.gear = s.gear[i].name;
    bool any = false;
    for (const LoadCase& c : cases) {
      if (!c.decides || c.left_out || c.path != LoadPath::line) continue;
      const Force pull = pull_on(c, i);
      if (!(pull.value() > 0)) continue;
      const bool flip = mirrored(s, c, i);
      for (const DirectionRange& range : c.ranges) {
        for (const Direction<Boat>& listed : directions(range, grid)) {
          const Direction<Boat> way =
              flip ? Direction<Boat>({listed.x(), -listed.y(), listed.z()}) : listed;
          const Angle beta = between(r, way);
          const Length lever = rod_lever_bound(r.rod_length, r.butt_stiffness, beta, pull);
          const SocketLoad load = socket_load(pull, beta, lever, depth);
          if (!any || load.bending > row.bending) {
            row.case_title = c.title;
            row.pull = pull;
            row.bending = load.bending;
          }
          row.along = any ? std::max(row.along, load.along) : load.along;
          row.across = std::max(row.across, load.across);
          row.at_rim = std::max(row.at_rim, load.at_rim);
          row.at_foot = std::max(row.at_foot, load.at_foot);
          row.twist = std::max(row.twist, abs(twist_of(s, s.gear[i], pull, way)));
          any = true;
        }
      }
    }
    if (any) rows.push_back(row);
  }
  return rows;
}

std::vector<std::string> snag_notes(const Setup& s) {
  std::vector<std::string> out;
  if (!s.boat) return out;
  for (const Gear& g : s.gear) {
    if (!g.downrigger) continue;
    const Downrigger& d = *g.downrigger;
    SnagSupport support;
    support.boat = s.boat->loaded_mass;
    support.off_middle = 0.5 * s.boat->beam + d.boom_length;
    support.gm = heel_model(*s.boat, towed_line_of(d, s, d.fastest).water).gm;
    const Force parts = d.wire_break.value_or(presumed_breaking_strength(d.wire));
    // The wire at the depth that is fished, and no shorter: a longer one takes up more.
    const SnagRide ride = snag_ride(d.wire, parts, d.depth, d.fastest, support);
    const auto joules = [](Energy e) { return std::to_string(std::lround(e.value())) + " J"; };
    std::string text = "a ball that hangs up at " +
                       show(Measure{d.fastest.value(), Dimension::speed}, s.units) +
                       ": the boat carries " + joules(ride.of_boat) +
                       ", wire and roll take up about " + joules(ride.to_break) +
                       " before the wire parts at " + about(parts, s.units) + " (" + g.name + "); ";
    text += ride.wire_breaks ? "stretch saves nothing: something must slip or part"
                             : "nearer to the bottom or with the boom astern less: do not count on "
                               "stretch";
    out.push_back(std::move(text));
  }
  return out;
}

}  // namespace thole::parts
