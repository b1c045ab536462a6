// The horizon of a pull in the trade's words.

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/assessment_parts.hpp"
#include "core/load_list.hpp"

namespace thole::parts {

namespace {

struct Named {
  const char* words;
  double from, to;  // deg from astern toward outboard
};

// A sector of 45 deg about each of the eight winds, those ahead as one of either side.
constexpr std::array<Named, 7> horizon{{{"astern", -22.5, 22.5},
                                        {"on the outboard quarter", 22.5, 67.5},
                                        {"abeam outboard", 67.5, 112.5},
                                        {"forward of abeam, outboard", 112.5, 180},
                                        {"forward of abeam, inboard", -180, -112.5},
                                        {"abeam inboard", -112.5, -67.5},
                                        {"on the inboard quarter", -67.5, -22.5}}};

// Nothing of its azimuth counts: straight down, or straight up.
bool is_upright(const DirectionRange& r) {
  return std::cos(r.dip_from.value()) < 1e-9 && std::cos(r.dip_to.value()) < 1e-9 &&
         r.dip_from == r.dip_to;
}

// The part of a range between two azimuths, counted so that it lies in the range.
void add_part(std::vector<DirectionRange>& out, const DirectionRange& r, double from, double to) {
  constexpr double slack = 1e-9;
  const double a = std::max(from, r.azimuth_from.value());
  const double b = std::min(to, r.azimuth_to.value());
  const bool one_azimuth = (r.azimuth_to - r.azimuth_from).value() <= slack;
  // One azimuth on a border belongs to the sector that begins there.
  const double only = r.azimuth_from.value();
  if (one_azimuth ? !(only >= from - slack && only < to - slack) : !(b - a > slack)) return;
  DirectionRange part = r;
  if (!one_azimuth) {
    part.azimuth_from = a * si::radian;
    part.azimuth_to = b * si::radian;
  }
  out.push_back(part);
}

}  // namespace

bool contains(const DirectionRange& a, const DirectionRange& b) {
  return a.azimuth_from <= b.azimuth_from && b.azimuth_to <= a.azimuth_to &&
         a.dip_from <= b.dip_from && b.dip_to <= a.dip_to;
}

void join(std::vector<DirectionRange>& all, const std::vector<DirectionRange>& more) {
  for (const DirectionRange& r : more) {
    const auto holds_it = [&](const DirectionRange& o) { return contains(o, r); };
    if (std::any_of(all.begin(), all.end(), holds_it)) continue;
    std::erase_if(all, [&](const DirectionRange& o) { return contains(r, o); });
    all.push_back(r);
  }
}

std::vector<Sector> sectors_of(const std::vector<DirectionRange>& ranges) {
  std::vector<Sector> out;
  for (const double dip : {1.0, -1.0}) {
    Sector upright{dip > 0 ? "straight down" : "straight up", {}};
    for (const DirectionRange& r : ranges) {
      if (is_upright(r) && dip * r.dip_from.value() > 0) upright.ranges.push_back(r);
    }
    if (!upright.ranges.empty()) out.push_back(std::move(upright));
  }
  for (const Named& n : horizon) {
    Sector sector{n.words, {}};
    for (const DirectionRange& r : ranges) {
      if (is_upright(r)) continue;
      for (const int turn : {-1, 0, 1, 2}) {
        add_part(sector.ranges, r, degrees(n.from + 360 * turn).value(),
                 degrees(n.to + 360 * turn).value());
      }
    }
    if (!sector.ranges.empty()) out.push_back(std::move(sector));
  }
  return out;
}

RangeLimit row_of(const Gear& gear, const Sector& sector) {
  RangeLimit out;
  out.where = (gear.rod_holder ? "line " : "pull ") + sector.where;
  out.range = load_list::about(sector.ranges);
  return out;
}

RangeLimit row_of(const Downrigger& gear, std::size_t angle) {
  RangeLimit out;
  out.boom = gear.boom_angles[angle];
  const long whole = std::lround(in_degrees(*out.boom));
  out.where = "boom " + std::to_string(std::abs(whole)) + " deg from astern" +
              (whole < 0 ? ", inboard" : "");
  return out;
}

void lower_to_rows(GearLimit& whole) {
  for (const RangeLimit& r : whole.by_direction) {
    if (r.hold_limit && (!whole.hold_limit || *r.hold_limit < *whole.hold_limit)) {
      whole.hold_limit = r.hold_limit;
      whole.set_by = r.set_by;
      whole.tips = r.tips;
    }
    // What goes first stays as the whole has it: the two hardly differ.
    if (r.not_before && whole.not_before && *r.not_before < *whole.not_before) {
      whole.not_before = r.not_before;
    }
  }
}

void add_settings(const Setup& s, std::size_t gear, const std::vector<LoadCase>& cases,
                  GearLimit& whole) {
  const Gear& g = s.gear[gear];
  for (RangeLimit& r : whole.by_direction) {
    const std::optional<Force> holder = holder_takes(s, gear, &r);
    if (r.hold_limit) {
      r.setting = setting_within(g, holder ? std::min(*r.hold_limit, *holder) : *r.hold_limit,
                                 whole.all_hung_up);
    }
    r.boat_setting = boat_setting(s, cases, gear, r);
  }
}

}  // namespace thole::parts
