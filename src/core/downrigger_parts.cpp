// What the assessments of all mounts say of a downrigger: its boom, the setting of its brake.

#include <algorithm>
#include <cmath>

#include <thole/display.hpp>

#include "core/assessment_parts.hpp"

namespace thole::parts {

std::string boom_words(const Downrigger& d, std::size_t position) {
  const Downrigger::Position p = d.position(position % d.positions());
  const auto whole = [](Angle a) { return std::to_string(std::lround(in_degrees(a))) + " deg"; };
  const bool raised = d.boom_raised.size() > 1 || in_degrees(p.raised) != 0;
  return "boom " + whole(p.azimuth) + " from astern" +
         (raised ? ", raised " + whole(p.raised) : "") + ", wire ";
}

std::optional<Force> setting_within(const Gear& g, Force hold_limit,
                                    const std::optional<Force>& all_hung_up) {
  if (!(g.downrigger || g.rod_holder)) return std::nullopt;
  const double growth = g.rod_holder ? g.rod_holder->spool_growth : 1.0;
  return std::min(hold_limit, all_hung_up.value_or(hold_limit)) / (1.5 * growth);
}

void add_setting(const Setup& s, std::size_t gear, const std::vector<LoadCase>& cases,
                 GearLimit& l) {
  const Gear& g = s.gear[gear];
  if (!l.hold_limit || !(g.downrigger || g.rod_holder)) return;
  // What its own holder takes by a rating bounds the setting as the mount does.
  l.holder = holder_takes(s, gear);
  l.setting = setting_within(g, l.holder ? std::min(*l.hold_limit, *l.holder) : *l.hold_limit,
                             l.all_hung_up);
  if (g.downrigger) {
    for (const LoadCase& c : cases) {
      if (c.gear == int(gear) && c.kind == "trolling-in-waves" && !c.left_out) {
        l.least_useful = std::max(l.least_useful, c.pull);
      }
    }
    const Force twice = 2.0 / 1.5 * (g.downrigger->ball * standard_gravity);
    l.least_useful = std::max(l.least_useful, twice);
  }
  if (l.not_before) l.test_pull = std::min<Force>(1.25 * *l.setting, 0.6 * *l.not_before);
}

void advise_brake(const Downrigger& d, const GearLimit& l, ReaderUnits u,
                  std::vector<std::string>& to_do) {
  if (!l.setting) return;
  if (!d.brake_slip) {
    add_condition(to_do,
                  "measure with a scale at which pull the brake slips, and write it "
                  "down as brake_slip");
  } else if (*l.setting < d.brake_slip->value) {
    add_condition(to_do, "as it stands: set the brake to slip at " +
                             about(*l.setting, u, Rounding::down) +
                             " or less, measured with a scale at the clip");
  }
}

std::string if_seized(const Assessment& a, ReaderUnits u) {
  const GearLimit* weakest = nullptr;
  for (const GearLimit& l : a.gear_limits) {
    if (l.not_before && (weakest == nullptr || *l.not_before < *weakest->not_before)) weakest = &l;
  }
  for (const CaseResult& r : a.cases) {
    const LoadCase& c = r.load_case;
    if (c.kind != "hung-up-seized" || c.decides || c.left_out) continue;
    if (!r.motion.empty()) return "if the brake seizes: " + r.motion + " before the wire parts";
    if (weakest != nullptr && *weakest->not_before < c.pull) {
      return "if the brake seizes: " + weakest->first + " at about " +
             about(*weakest->not_before, u, Rounding::down) + ", before the wire parts";
    }
  }
  return "";
}

}  // namespace thole::parts
