#include "core/test_puller.hpp"

#include <algorithm>
#include <cmath>

#include <thole/loads.hpp>

#include "core/assessment_parts.hpp"

namespace thole {

using namespace literals;

namespace {

// Never above this share of the pull at which the first item goes.
constexpr double most_of_going = 0.6;
// Less shows nothing on a luggage scale.
const Force least_pull = 10.0_N;

// Azimuth of a word from astern toward outboard; "down" has none.
double azimuth_of(std::string_view word) {
  if (word == "outboard") return 90;
  if (word == "inboard") return -90;
  return word == "ahead" ? 180 : 0;
}

bool reaches(const DirectionRange& r, double azimuth) {
  constexpr double hair = 1e-6;
  for (const double a : {azimuth, azimuth + 360, azimuth - 360}) {
    if (a >= in_degrees(r.azimuth_from) - hair && a <= in_degrees(r.azimuth_to) + hair) return true;
  }
  return false;
}

// The shallowest pull that way which a load case has: steeper than this it is a pull down.
std::optional<Direction<Boat>> way_of(const std::vector<DirectionRange>& ranges,
                                      std::string_view word) {
  constexpr double steepest = 70;
  constexpr double straight_down = 90;
  double dip = straight_down;
  for (const DirectionRange& r : ranges) {
    if (word == "down") {
      if (in_degrees(r.dip_to) > straight_down - 1e-6) {
        return Direction<Boat>(Eigen::Vector3d(0, 0, -1));
      }
      continue;
    }
    const double own = std::max(in_degrees(r.dip_from), 0.0);
    if (reaches(r, azimuth_of(word)) && own <= in_degrees(r.dip_to) + 1e-6) {
      dip = std::min(dip, own);
    }
  }
  if (dip > steepest) return std::nullopt;
  return line_direction(degrees(azimuth_of(word)), degrees(dip));
}

std::string hook_at(const Gear& g) {
  if (g.downrigger) return "a loop of cord round the boom tip, the wire slack beside it";
  if (g.rod_holder)
    return "the line, an arm's length past the rod tip, rod in the holder, drag shut";
  return "a loop of cord where the load acts";
}

// What moves or opens when such a pull is too much.
std::vector<std::string> look_for(const Setup& s, std::string_view word) {
  if (!s.on_board()) {
    return {"an edge of the base that lifts, the wall that dents or bulges round the fasteners"};
  }
  if (word == "down") return {"a dent or crack at the edge of the ledge under this gear"};
  if (word == "astern" || word == "ahead") {
    return {"the board that twists: an edge lifting off its ledge, a leg that walks"};
  }
  return {"the far end of the board lifting off its ledge, a bolt there that bends"};
}

}  // namespace

TestPuller::TestPuller(const Setup& s, const Assessment& a)
    : setup_(s), assessment_(a), mount_(pulled_mount(s)) {
  for (std::size_t g = 0; g < s.gear.size(); ++g) ranges_.push_back(parts::own_ranges(s, g));
}

std::optional<Direction<Boat>> TestPuller::way(std::size_t gear, std::string_view word) const {
  return way_of(ranges_[gear], word);
}

HandPull TestPuller::hardest(std::size_t gear, const Direction<Boat>& way, Force pull,
                             const std::optional<Angle>& boom) {
  HandPull out{gear, 0, way, pull};
  const auto& d = setup_.gear[gear].downrigger;
  if (!d) return out;
  double least = 0;
  bool any = false;
  for (std::size_t k = 0; k < d->positions(); ++k) {
    if (boom && std::abs(in_degrees(d->position(k).azimuth) - in_degrees(*boom)) > 1e-6) continue;
    const double f = mount_->factor({gear, k, way, pull});
    // Alike within a hair: the first, whatever the last digit.
    if (any && f >= least * (1 - 1e-6)) continue;
    least = f;
    any = true;
    out.position = k;
  }
  return out;
}

void TestPuller::lower(HandPull& p) {
  const auto fits = [&](Force pull) {
    HandPull at = p;
    at.pull = pull / most_of_going;
    return mount_->factor(at) >= 1 - 1e-6;
  };
  if (fits(p.pull)) return;
  Force low{};
  Force high = p.pull;
  for (int i = 0; i < 30; ++i) {
    const Force middle = 0.5 * (low + high);
    (fits(middle) ? low : high) = middle;
  }
  p.pull = low;
}

std::optional<TestPullStep> TestPuller::step(std::size_t gear, std::string_view word, Force pull,
                                             double& factor) {
  const auto d = way(gear, word);
  if (!d) return std::nullopt;
  HandPull p = hardest(gear, *d, pull, std::nullopt);
  factor = mount_->factor(p);
  lower(p);
  if (p.pull < least_pull) return std::nullopt;
  const auto watch = mount_->place_to_watch(p);
  if (!watch) return std::nullopt;
  const auto moves = mount_->movement(p, *watch);
  if (!moves) return std::nullopt;
  const Gear& g = setup_.gear[gear];
  TestPullStep out;
  out.gear = g.name;
  out.toward = std::string(word);
  out.way = *d;
  out.pull = p.pull;
  if (g.downrigger) {
    const Downrigger::Position at = g.downrigger->position(p.position);
    out.boom = at.azimuth;
    if (g.downrigger->boom_raised.size() > 1 || in_degrees(at.raised) != 0) {
      out.raised = at.raised;
    }
  }
  out.hook_at = hook_at(g);
  out.watch_at = mount_->words(*watch);
  out.least = moves->least;
  out.most = moves->most;
  out.rough = moves->rough;
  out.wall_gives = mount_->wall_gives();
  out.look_for = look_for(setup_, word);
  return out;
}

std::vector<TestPullStep> TestPuller::steps(std::size_t gear, Force pull) {
  constexpr std::size_t everyday = 3;
  std::vector<TestPullStep> out;
  double least = 0;
  for (std::size_t i = 0; i < test_pull_ways.size(); ++i) {
    double factor = 0;
    auto s = step(gear, test_pull_ways[i], pull, factor);
    if (!s) continue;
    if (i >= everyday && !out.empty() && factor >= least) continue;
    least = out.empty() ? factor : std::min(least, factor);
    out.push_back(std::move(*s));
  }
  return out;
}

std::optional<Force> TestPuller::pull_of(std::size_t gear) const {
  if (assessment_.verdict == Verdict::no_verdict) return std::nullopt;
  const Gear& g = setup_.gear[gear];
  const GearLimit* l = limit_of(g.name);
  std::optional<Force> out = l != nullptr ? test_pull_of(assessment_, *l) : std::nullopt;
  if (!out || !g.rod_holder) return out;
  // A line that parts under a hand flies back, and a knot holds less than its label (judgement).
  const Force line = g.rod_holder->line_test;
  out = std::min<Force>(*out, 0.5 * std::min<Force>(line, g.rod_holder->weak_link.value_or(line)));
  if (*out < least_pull) return std::nullopt;
  return out;
}

const GearLimit* TestPuller::limit_of(const std::string& gear) const {
  for (const GearLimit& l : assessment_.gear_limits) {
    if (l.gear == gear) return &l;
  }
  return nullptr;
}

std::optional<Force> test_pull_of(const Assessment& a, const GearLimit& l) {
  if (!l.setting || !l.test_pull) return std::nullopt;
  Force setting = *l.setting;
  Force pull = *l.test_pull;
  for (const HeelPull& p : a.boat.pulls) {
    if (!a.boat.described || p.gear != l.gear || !p.setting || *p.setting >= setting) continue;
    setting = *p.setting;
    pull = std::min<Force>(pull, 1.25 * setting);
  }
  if (setting < l.least_useful || pull < least_pull) return std::nullopt;
  return pull;
}

}  // namespace thole
