#include <algorithm>
#include <cmath>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/loads.hpp>

namespace thole {

using namespace literals;

namespace {

constexpr double in_waves = 2.0;
constexpr double in_a_turn = 1.5;
constexpr double brake_jerk = 6.0;

// Angle from straight down and azimuth, as people draw a wire.
DirectionRange cone(double azimuth_from, double azimuth_to, double down_from, double down_to) {
  return {degrees(azimuth_from), degrees(azimuth_to), degrees(90 - down_to),
          degrees(90 - down_from)};
}

// Ball hung up: aft steep to nearly level, abeam less, under the hull and ahead of the beam little.
std::vector<DirectionRange> hung_up() {
  return {cone(-30, 30, 0, 75), cone(30, 90, 0, 60), cone(-90, -30, 0, 30), cone(90, 270, 0, 45)};
}

DirectionRange about(const std::vector<DirectionRange>& parts) {
  DirectionRange out = parts.front();
  for (const DirectionRange& p : parts) {
    out.azimuth_from = std::min(out.azimuth_from, p.azimuth_from);
    out.azimuth_to = std::max(out.azimuth_to, p.azimuth_to);
    out.dip_from = std::min(out.dip_from, p.dip_from);
    out.dip_to = std::max(out.dip_to, p.dip_to);
  }
  return out;
}

}  // namespace

PullRange trolling_pull(const Downrigger& g, bool salt_water) {
  TowedLine line;
  const Water water = salt_water ? sea_water() : fresh_water();
  line.ball = g.ball;
  line.ball_density = g.ball_density;
  line.wire_diameter = g.wire_diameter;
  line.water = water.density;
  line.wire_weight = wire_weight_in_water(g.wire, g.wire_diameter, water.density);
  line.depth = g.depth;
  line.surface_speed = g.fastest;
  return pull_range(line, {g.slowest, g.fastest});
}

std::vector<LoadCase> board_load_cases(const Setup& s) {
  std::vector<LoadCase> out;
  const auto add = [&](LoadCase c) {
    if (c.ranges.empty()) c.ranges = {c.range};
    c.range = about(c.ranges);
    out.push_back(std::move(c));
  };
  const bool many = s.gear.size() > 1;
  bool any_downrigger = false;
  double both_pull = 0;
  int downriggers = 0;
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    const Gear& gear = s.gear[i];
    const int index = int(i);
    const std::string whose = many && !gear.name.empty() ? ", " + gear.name : "";
    if (!gear.downrigger) {
      for (LoadCase c : load_cases(gear)) {
        c.id += many ? "-" + std::to_string(i + 1) : "";
        c.title += whose;
        c.gear = index;
        add(std::move(c));
      }
      continue;
    }
    any_downrigger = true;
    ++downriggers;
    const Downrigger& d = *gear.downrigger;
    const PullRange pull = trolling_pull(d, s.salt_water);
    const double steep = std::max(60.0, std::ceil(in_degrees(pull.greatest_angle)));
    const Force weight = d.ball * standard_gravity;
    const std::vector<std::string> towing{"gear.ball", "gear.depth", "gear.speed"};
    const std::string id = many ? "-" + std::to_string(i + 1) : "";
    LoadCase c;
    c.path = LoadPath::tip;
    c.gear = index;
    c.depends_on = towing;
    c.category = Category::everyday;

    c.id = "trolling" + id;
    c.title = "trolling straight" + whose;
    c.why = "towed wire by integration over its speeds and drag coefficients 1.0 to 2.5, all gears";
    c.pull = pull.greatest_tension;
    c.ranges = {cone(-15, 15, 0, steep)};
    c.all_gears = true;
    add(c);
    c.id = "trolling-in-waves" + id;
    c.title = "trolling in waves" + whose;
    c.why = "2.0 x the towed pull (upper bound of tip accelerations, judgement), all gears";
    c.pull = in_waves * pull.greatest_tension;
    c.ranges = {cone(-30, 30, 0, steep)};
    add(c);
    c.id = "trolling-in-a-turn" + id;
    c.title = "trolling in a turn" + whose;
    c.why = "1.5 x the towed pull (judgement), outer and inner gear the same way over the ground";
    c.pull = in_a_turn * pull.greatest_tension;
    c.ranges = {cone(-30, 90, 0, steep), cone(-90, -30, 0, 30)};
    add(c);
    c.all_gears = false;

    c.category = Category::occasional;
    c.depends_on = {"gear.ball"};
    c.id = "brake-jerk" + id;
    c.title = "brake clamped on a falling ball" + whose;
    c.why = "6 x the ball's weight (computed snatches of 3.6 to 5.8, judgement)";
    c.pull = brake_jerk * weight;
    c.ranges = {cone(-180, 180, 0, 20)};
    add(c);
    if (d.winch_stall) {
      c.id = "winch-stalls" + id;
      c.title = "winch hauls a stuck ball" + whose;
      c.why = "stall of the winch as given";
      c.pull = *d.winch_stall;
      c.ranges = {cone(-180, 180, 0, 45)};
      c.depends_on = {"gear.winch_stall"};
      add(c);
    }
    // Hung up. The slip counts only when it was measured; a weak link is a published minimum.
    const bool measured = d.brake_slip && d.brake_slip->known == Knowledge::measured;
    const SnagPull seized = snag_pull(d.ball, d.wire, d.wire_break);
    Force least = seized.pull;
    bool tamed = false;
    c.ranges = hung_up();
    if (d.brake_slip) {
      const Force slips = std::max<Force>(1.5 * d.brake_slip->value, 2.0 * weight);
      c.id = "hung-up-slipping" + id;
      c.title = "ball hung up, brake slips" + whose;
      c.why = measured ? "1.5 x the measured slip, never below twice the ball (judgement)"
                       : "1.5 x the slip as given, not measured";
      c.pull = std::min(slips, seized.pull);
      c.depends_on = {"gear.brake_slip"};
      add(c);
      if (measured) tamed = true;
    }
    if (d.weak_link) {
      c.id = "hung-up-weak-link" + id;
      c.title = "ball hung up, weak link parts" + whose;
      c.why = "1.2 x the breaking load of the link (judgement)";
      c.pull = std::min<Force>(1.2 * *d.weak_link, seized.pull);
      c.depends_on = {"gear.weak_link"};
      add(c);
      tamed = true;
      least = std::min<Force>(least, 1.2 * *d.weak_link);
    }
    c.category = Category::accident;
    c.id = "hung-up-seized" + id;
    c.title = "ball hung up, brake seized" + whose;
    c.why = std::string(d.wire_break ? "1.2 x the breaking strength of the wire"
                                     : "1.2 x a presumed breaking strength: none is given") +
            (tamed ? " (judgement)"
                   : " (judgement); decides because nothing weaker is known: measure the slip or "
                     "fit a weak link");
    c.pull = d.weak_link ? least : seized.pull;
    c.decides = !tamed;
    c.depends_on = {"gear.wire_break"};
    add(c);
    both_pull = std::max(both_pull, c.pull.value());
  }
  if (downriggers > 1) {
    LoadCase c;
    c.id = "both-hung-up";
    c.title = "all balls hung up, brakes seized";
    c.why = "every gear at once, the same way; shown, not deciding";
    c.category = Category::accident;
    c.decides = false;
    c.path = LoadPath::tip;
    for (std::size_t i = 0; i < s.gear.size() && c.gear < 0; ++i) {
      if (s.gear[i].downrigger) c.gear = int(i);
    }
    c.all_gears = true;
    c.pull = both_pull * si::newton;
    c.ranges = {cone(-30, 30, 0, 75)};
    add(c);
  }
  // Running: accelerations on gear, ball and board.
  LoadCase r;
  r.path = LoadPath::ride;
  r.depends_on = {"use.running_peak", "gear.mass"};
  r.id = "running";
  r.title = "running, gear stowed";
  r.category = Category::everyday;
  r.peak = 0.5 * s.use.running_peak;
  r.why =
      "half the peak acceleration, both ways up and down, with side and fore-and-aft (judgement)";
  r.range = {};
  add(r);
  r.id = "running-peak";
  r.title = "running hard, gear stowed";
  r.category = Category::occasional;
  r.peak = s.use.running_peak;
  r.why =
      "peak acceleration of planing boats (ISO 12215-5:2008 7.3, public copies), with side and "
      "fore-and-aft (judgement)";
  add(r);
  if (any_downrigger) {
    r.id = "running-ball-on-tip";
    r.title = "running with the ball left on the tip";
    r.why += "; ball at the tip of the boom";
    add(r);
  }
  // People.
  LoadCase p;
  p.path = LoadPath::board;
  p.id = "lean-on-board";
  p.title = "somebody leans on the board";
  p.category = Category::occasional;
  p.pull = 200.0_lbf;
  p.why = "200 lbf any way at the edge of the board (ASCE 7-10 4.5.1, page seen)";
  p.range = {-180.0_deg, 180.0_deg, -90.0_deg, 90.0_deg};
  add(p);
  p.id = "sit-on-board";
  p.title =
      s.use.not_a_seat ? "somebody sits on the board all the same" : "somebody sits on the board";
  p.pull = s.use.not_a_seat ? 200.0_lbf : 300.0_lbf;
  p.why = s.use.not_a_seat ? "200 lbf: declared no seat (judgement)"
                           : "300 lbf, a person of 200 lbf x 1.5 (ASCE 7-10 4.5.4 rung load)";
  p.range = {-180.0_deg, 180.0_deg, 75.0_deg, 90.0_deg};
  p.depends_on = {"use.not_a_seat"};
  add(p);
  p.depends_on = {};
  p.id = "boarding-grab";
  p.title = "a swimmer climbs in by it";
  p.category = Category::accident;
  p.decides = false;
  p.pull = 400.0_lbf;
  p.why = "400 lbf (voluntary boat practice for handholds, copy); shown, not deciding";
  p.range = {-90.0_deg, 90.0_deg, 30.0_deg, 90.0_deg};
  add(p);
  return out;
}

}  // namespace thole
