#include "core/board_mirror.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>

namespace thole::board {

namespace {

bool nearly(double a, double b, double within) { return std::abs(a - b) <= within; }

template <class Part>
Part without_side(Part p) {
  p.name.clear();
  p.place.side = Side::port;
  return p;
}

// Of each part the one that is its like on the other side; nothing where one has none.
template <class Part>
std::optional<std::vector<int>> pairs(const std::vector<Part>& parts) {
  std::vector<int> out(parts.size(), -1);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    for (std::size_t k = i + 1; k < parts.size() && out[i] < 0; ++k) {
      if (out[k] >= 0 || parts[i].place.side == parts[k].place.side) continue;
      if (!(without_side(parts[i]) == without_side(parts[k]))) continue;
      out[i] = int(k);
      out[k] = int(i);
    }
    if (out[i] < 0) return std::nullopt;
  }
  return out;
}

// Of a person's push, whose azimuth counts from astern to one side of the boat.
bool both_ways(const std::vector<DirectionRange>& ranges) {
  return std::all_of(ranges.begin(), ranges.end(), [](const DirectionRange& r) {
    const double from = r.azimuth_from.value();
    const double to = r.azimuth_to.value();
    return nearly(from, -to, 1e-9) || to - from >= 2 * std::numbers::pi - 1e-9;
  });
}

bool both_ways(const std::vector<Shake>& shakes) {
  return std::all_of(shakes.begin(), shakes.end(), [&](const Shake& a) {
    return std::any_of(shakes.begin(), shakes.end(), [&](const Shake& b) {
      return a.forward == b.forward && a.up == b.up && a.starboard == -b.starboard;
    });
  });
}

bool alike(const LoadCase& a, const LoadCase& b, const std::vector<int>& gear) {
  if (a.kind != b.kind || a.category != b.category || a.decides != b.decides || a.path != b.path ||
      a.pull != b.pull || a.ranges != b.ranges || a.others != b.others || a.heave != b.heave ||
      a.cycles_per_hour != b.cycles_per_hour || a.times_per_season != b.times_per_season ||
      a.left_out != b.left_out || a.pulls.size() != b.pulls.size()) {
    return false;
  }
  for (std::size_t g = 0; g < a.pulls.size(); ++g) {
    if (a.pulls[g] != b.pulls[std::size_t(gear[g])]) return false;
  }
  return true;
}

}  // namespace

std::optional<Mirror> Mirror::of(const Setup& s, const std::vector<LoadCase>& cases) {
  const CrossBoard& b = s.board();
  const Length starboard_overhang = b.board.length - b.clear_width - b.port_overhang;
  const double tie = 1e-9 * b.board.length.value();
  if (!s.case_edits.empty() || b.starboard_higher.value() != 0 || !(b.port == b.starboard) ||
      !nearly(b.port_overhang.value(), starboard_overhang.value(), tie) || !pairs(b.hold_downs) ||
      !pairs(b.legs)) {
    return std::nullopt;
  }
  const std::optional<std::vector<int>> gear = pairs(s.gear);
  const auto downriggers = std::count_if(s.gear.begin(), s.gear.end(),
                                         [](const Gear& g) { return g.downrigger.has_value(); });
  // A trial has one position of the boom for all gears but one.
  if (!gear || downriggers > 2) return std::nullopt;
  Mirror out;
  out.gear_ = *gear;
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const LoadCase& c = cases[i];
    out.case_.push_back(i);
    if (c.gear < 0) {
      if (c.path == LoadPath::board && !both_ways(c.ranges)) return std::nullopt;
      if (c.path == LoadPath::ride && !both_ways(c.shakes)) return std::nullopt;
      continue;
    }
    for (std::size_t k = 0; k < cases.size(); ++k) {
      if (cases[k].gear == out.gear(c.gear) && alike(c, cases[k], out.gear_)) out.case_[i] = k;
    }
    // All gears at once may be one case for both sides.
    if (out.case_[i] != i) continue;
    if (c.others != Others::together || !alike(c, c, out.gear_)) return std::nullopt;
  }
  for (std::size_t i = 0; i < cases.size(); ++i) {
    if (out.case_[out.case_[i]] != i) return std::nullopt;
  }
  return out;
}

Trial Mirror::image(const Trial& t) const {
  Trial out = t;
  out.near = t.near == Side::port ? Side::starboard : Side::port;
  out.acceleration.y() = -t.acceleration.y();
  if (t.gear >= 0) out.gear = gear(t.gear);
  out.idle = 0;
  for (std::size_t i = 0; i < gear_.size(); ++i) {
    if ((t.idle >> i & 1U) != 0) out.idle |= 1U << unsigned(gear_[i]);
  }
  if (t.gear < 0 && t.person < 0 && t.others >= 0) {  // on a ride: of one downrigger, the other
    out.boom = t.others;
    out.others = t.boom;
  }
  if (t.person >= 0) {
    constexpr int across[people_points] = {0, 2, 1, 4, 3};
    out.person = across[t.person];
    const Eigen::Vector3d& way = t.way.si_values();  // forward, starboard, up
    out.way = Direction<Boat>(Eigen::Vector3d(way.x(), -way.y(), way.z()));
  }
  return out;
}

bool Mirror::repeats(const LoadCase& c, const Trial& t) {
  const bool from_starboard = t.near == Side::starboard;
  if (c.path == LoadPath::ride) {
    const double aside = t.acceleration.y();
    return aside > 0 || (!(aside < 0) && from_starboard);
  }
  if (c.path != LoadPath::board) return false;
  return t.person == 2 || t.person == 4 || (t.person == 0 && from_starboard);
}

std::string Mirror::image(const std::string& words) {
  constexpr std::string_view port = "port";
  constexpr std::string_view starboard = "starboard";
  const auto letter = [&](std::size_t i) {
    return i < words.size() && words[i] >= 'a' && words[i] <= 'z';
  };
  std::string out;
  for (std::size_t i = 0; i < words.size();) {
    const bool begins = i == 0 || !letter(i - 1);
    const auto is = [&](std::string_view w) {
      return begins && words.compare(i, w.size(), w) == 0 && !letter(i + w.size());
    };
    if (is(port)) {
      out += starboard;
      i += port.size();
    } else if (is(starboard)) {
      out += port;
      i += starboard.size();
    } else {
      out += words[i++];
    }
  }
  return out;
}

}  // namespace thole::board
