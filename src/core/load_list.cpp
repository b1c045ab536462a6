#include "core/load_list.hpp"

#include <algorithm>
#include <cmath>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/motions.hpp>
#include <thole/stability.hpp>
#include <thole/waves.hpp>

namespace thole {

using namespace literals;

namespace load_list {

std::vector<Shake> running_shakes(double peak) {
  const double side = std::min(0.5 * peak, 1.0);
  std::vector<Shake> out;
  // The rebound lifts the gear with its own weight (judgement). Straight, and to every corner: what
  // lies between the corners is no worse where contacts stay as they are.
  for (const double up : {-(1 + peak), 1.0}) {
    out.push_back({0, 0, up});
    for (const double aside : {-side, side}) {
      for (const double fore : {-0.4, 0.4}) out.push_back({fore, aside, up});
    }
  }
  return out;
}

bool is_a_pull(LoadPath p) {
  return p == LoadPath::tip || p == LoadPath::line || p == LoadPath::point;
}

double peak_of(const LoadCase& c) {
  double peak = 0;
  for (const Shake& s : c.shakes) peak = std::max(peak, -s.up - 1);
  return peak;
}

// Angle from straight down and azimuth, as people draw a wire.
static DirectionRange cone(double azimuth_from, double azimuth_to, double down_from,
                           double down_to) {
  return {degrees(azimuth_from), degrees(azimuth_to), degrees(90 - down_to),
          degrees(90 - down_from)};
}

// Aft steep to nearly level, abeam less, under the hull and ahead of the beam little.
std::vector<DirectionRange> hung_up() {
  return {cone(-30, 30, 0, 75), cone(30, 90, 0, 60), cone(-90, -30, 0, 30), cone(90, 270, 0, 45)};
}

// A fish takes the line down to straight below and out to abeam on either side.
DirectionRange strike_cone() { return {-90.0_deg, 90.0_deg, 5.0_deg, 90.0_deg}; }

DirectionRange every_way() { return {-180.0_deg, 180.0_deg, -90.0_deg, 90.0_deg}; }

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

}  // namespace load_list

namespace {

using load_list::cone;
using load_list::every_way;
using load_list::hung_up;
using load_list::running_shakes;
using load_list::strike_cone;

// Factors on the pull of the towed line, and events (judgement).
constexpr double in_waves = 2.0;
constexpr double in_a_turn = 1.5;
constexpr double brake_jerk = 6.0;
constexpr double waves_on_gear = 0.3;  // g
constexpr double track_of_fin = 15;    // degrees either side
constexpr double cycles_in_an_hour = 1500;
constexpr double strikes_in_a_season = 50;
constexpr double jerks_in_a_season = 200;
// A short wire on a boom: as stiff as the boom. Speed of a falling ball when the brake bites, and
// of a slack wire that comes tight beside the boat.
const LinearStiffness boom_alone = LinearStiffness::from_value(2400);
const Speed falling = Speed::from_value(2.0);
const Speed coming_tight = Speed::from_value(1.5);
const Force stall = 60.0_lbf;  // common practice, no source
const Force hand = 200.0_lbf;  // ASCE 7-10 4.5.1, hand-rail point load
constexpr double line_in_waves = 1.5;
constexpr double drag_sticks = 1.5;
constexpr double labels_run_low = 1.3;
constexpr double link_runs_high = 1.2;

bool carries_in_waves(const Downrigger& d, Force towed) {
  return d.brake_slip->value >= in_waves * towed;
}

// Downriggers: the wire goes no farther than it can; a boat that heaves and rolls more than the
// factor in waves covers gets more.
double wave_factor(const Setup& s, const Downrigger& d, const TowedLine& line, std::string& why) {
  why = "2.0 x the towed pull (upper bound of tip accelerations, judgement)";
  if (!s.boat) return in_waves;
  const BoatData& b = *s.boat;
  const double h = b.wave_height.value();
  if (!(h > 0)) return in_waves;
  // Waves thirty times as long as high; roll of 8, 12 and 15 deg in 0.3, 0.6 and 1 m, on a stiff
  // boat: what rolls quickly jerks most (judgement).
  const double roll = h < 0.6 ? 8 + (h - 0.3) / 0.3 * 4 : 12 + (h - 0.6) / 0.4 * 3;
  const Time period =
      std::sqrt(2 * std::numbers::pi * 30 * h / standard_gravity.value()) * si::second;
  const StabilityEstimate e = estimate_stability(b, line.water);
  const Length gm = std::max<Length>(
      b.lean_test ? gm_from_lean_test(*b.lean_test, b.loaded_mass) : Length(1.3 * e.gm), 0.05_m);
  const bool bracket = !s.on_board() && s.plate().bracket.has_value();
  const Length off = 0.5 * b.beam + d.boom_length +
                     (bracket ? std::max(s.plate().bracket->gear_at.y, Length{}) : Length{});
  const Acceleration a = tip_acceleration(b.wave_height, period, degrees(std::max(roll, 0.0)),
                                          roll_period(b.beam, gm), off)
                             .in_phase;
  const double c = wave_coefficient(d.ball_density, line.water);
  const double factor = 1 + c * (a / standard_gravity);
  if (factor <= in_waves) return in_waves;
  why = show_number(std::ceil(100 * factor) / 100) + " x the towed pull: the tip accelerates by " +
        show_number(std::ceil(100 * (a / standard_gravity)) / 100) +
        " g in the waves given (derived; rolls and wave lengths are judgement)";
  return factor;
}

class List {
 public:
  explicit List(const Setup& s) : s_(s), many_(s.gear.size() > 1) {
    for (const Gear& g : s.gear) {
      towing_.push_back(g.downrigger ? trolling_pull(*g.downrigger, s) : PullRange{});
    }
  }

  std::vector<LoadCase> run() {
    for (std::size_t i = 0; i < s_.gear.size(); ++i) {
      const Gear& g = s_.gear[i];
      gear_ = int(i);
      whose_ = many_ && !g.name.empty() ? ", " + g.name : "";
      if (g.downrigger) downrigger(*g.downrigger);
      if (g.rod_holder) rod_holder(*g.rod_holder);
      if (g.plain_load) plain_load(g, *g.plain_load);
    }
    gear_ = -1;
    whose_.clear();
    all_hung_up();
    motions();
    if (s_.on_board()) {
      people_on_board();
    } else {
      boarding_by_the_gear();
    }
    dock();
    return std::move(out_);
  }

 private:
  // A new case of the gear at hand; its ranges must follow.
  LoadCase& add(std::string kind, std::string title, Category category, LoadPath path) {
    LoadCase c;
    c.kind = std::move(kind);
    c.id = c.kind + (gear_ >= 0 && many_ ? "-" + std::to_string(gear_ + 1) : "");
    c.title = std::move(title) + whose_;
    c.category = category;
    c.path = path;
    c.gear = gear_;
    out_.push_back(std::move(c));
    return out_.back();
  }
  static void over(LoadCase& c, std::vector<DirectionRange> ranges) {
    c.ranges = std::move(ranges);
    c.range = load_list::about(c.ranges);
  }

  std::vector<Force> of_each(Force (*pull)(const Setup&, const Gear&)) const {
    std::vector<Force> out;
    for (const Gear& g : s_.gear) out.push_back(pull(s_, g));
    return out;
  }

  // Each downrigger its own towed pull.
  std::vector<Force> towed(double factor) const {
    std::vector<Force> out;
    for (const PullRange& p : towing_) out.push_back(factor * p.greatest_tension);
    return out;
  }

  [[nodiscard]] double cycles() const {
    if (!s_.boat || !s_.boat->wind || !s_.boat->fetch) return cycles_in_an_hour;
    Speed speed{};
    for (const Gear& g : s_.gear) {
      if (g.downrigger) speed = std::max(speed, g.downrigger->fastest);
    }
    if (!(speed.value() > 0)) speed = Speed::from_value(1.1176);  // 2.5 mph
    const Sea sea = fetch_limited_sea(*s_.boat->wind, *s_.boat->fetch);
    return encounters_per_hour(zero_crossing_period(sea.peak_period), speed, Angle{});
  }

  void downrigger(const Downrigger& d) {
    const PullRange& pull = towing_[std::size_t(gear_)];
    const TowedLine line = towed_line_of(d, s_, d.fastest);
    const double steep = std::max(60.0, std::ceil(in_degrees(pull.greatest_angle)));
    const double fin = d.finned ? track_of_fin : 0.0;
    const Force weight = d.ball * standard_gravity;
    const SnagPull seized = snag_pull(d.ball, d.wire, d.wire_break);
    const std::vector<std::string> towing{"gear.ball",  "gear.ball_metal",    "gear.depth",
                                          "gear.speed", "gear.speed_at_ball", "gear.wire_diameter"};
    const bool others = many_;
    {
      LoadCase& c = add("trolling", "trolling straight", Category::everyday, LoadPath::tip);
      c.why = "towed wire by integration over its speeds and drag coefficients 1.0 to 2.5" +
              std::string(others ? ", all gears" : "");
      c.pull = pull.greatest_tension;
      over(c, {cone(-15 - fin, 15 + fin, 0, steep)});
      c.depends_on = towing;
      c.others = Others::together;
      c.pulls = towed(1);
    }
    {
      std::string why;
      const double factor = wave_factor(s_, d, line, why);
      LoadCase& c =
          add("trolling-in-waves", "trolling in waves", Category::everyday, LoadPath::tip);
      c.why = why + (others ? ", all gears" : "");
      c.pull = factor * pull.greatest_tension;
      over(c, {cone(-30 - fin, 30 + fin, 0, steep)});
      c.depends_on = towing;
      c.depends_on.emplace_back("boat.wave_height");
      c.others = Others::together;
      c.pulls = towed(factor);
      c.heave = waves_on_gear;
      c.cycles_per_hour = cycles();
    }
    {
      LoadCase& c =
          add("trolling-in-a-turn", "trolling in a turn", Category::everyday, LoadPath::tip);
      c.why = "1.5 x the towed pull (judgement), outer and inner gear the same way over the ground";
      c.pull = in_a_turn * pull.greatest_tension;
      over(c, {cone(-30, 90, 0, steep), cone(-90, -30, 0, 30)});
      c.depends_on = towing;
      c.others = Others::together;
      c.pulls = towed(in_a_turn);
    }
    const Force snatch = snatch_pull(d.ball, d.ball_density, line.water, falling, boom_alone);
    {
      LoadCase& c =
          add("brake-jerk", "brake clamped on a falling ball", Category::occasional, LoadPath::tip);
      const bool six = brake_jerk * weight >= snatch;
      c.why = six ? "6 x the ball's weight (computed snatches of 3.6 to 5.8, judgement)"
                  : "a ball falling at 2 m/s on a short wire, boom 2.4 kN/m (derived): above 6 x "
                    "its weight";
      c.pull = std::min<Force>(six ? Force(brake_jerk * weight) : snatch, seized.pull);
      over(c, {cone(-180, 180, 0, 20)});
      c.depends_on = {"gear.ball", "gear.ball_metal"};
      c.times_per_season = jerks_in_a_season;
    }
    {
      LoadCase& c = add("surface-snatch", "slack wire comes tight beside the boat",
                        Category::occasional, LoadPath::tip);
      c.why =
          "1.5 m/s on a short wire, boom 2.4 kN/m (derived; speed by judgement): a wire goes slack "
          "when the tip drops faster than about 0.9 g";
      c.pull = std::min<Force>(
          snatch_pull(d.ball, d.ball_density, line.water, coming_tight, boom_alone), seized.pull);
      over(c, {cone(-180, 180, 0, 30)});
      c.depends_on = {"gear.ball", "gear.ball_metal"};
    }
    {
      const bool given = d.winch_stall.value() > 0;
      LoadCase& c =
          add("winch-stalls", "winch hauls a stuck ball", Category::occasional, LoadPath::tip);
      c.why = given ? "stall of the winch as given"
                    : std::string("60 lbf ") +
                          (d.powered ? "where the stall of a powered winch is not known"
                                     : "by the crank") +
                          " (common practice, no source)";
      c.pull = std::min<Force>(given ? d.winch_stall : stall, seized.pull);
      over(c, {cone(-180, 180, 0, 45)});
      c.depends_on = {"gear.winch_stall", "gear.winch"};
    }
    hung_up_cases(d, seized);
    {
      LoadCase& c =
          add("lean-on-gear", "somebody holds on to it", Category::occasional, LoadPath::post);
      c.why =
          "200 lbf any way at the height of its tip (ASCE 7-10 4.5.1, page seen); shown, not "
          "deciding";
      c.decides = false;
      c.pull = hand;
      over(c, {every_way()});
    }
  }

  // The slip counts only when it was measured; a weak link is a published minimum.
  void hung_up_cases(const Downrigger& d, const SnagPull& seized) {
    const bool carries =
        d.brake_slip && carries_in_waves(d, towing_[std::size_t(gear_)].greatest_tension);
    const bool measured = carries && d.brake_slip->known == Knowledge::measured;
    Force least = seized.pull;  // what lets go for certain
    Force accident = seized.pull;
    bool tamed = false;
    if (d.brake_slip) {
      LoadCase& c =
          add("hung-up-slipping", "ball hung up, brake slips", Category::occasional, LoadPath::tip);
      c.why = measured  ? "1.5 x the measured slip, never below twice the ball (judgement)"
              : carries ? "1.5 x the slip as given, not measured"
                        : "1.5 x the slip as given, which could not even carry the ball in waves";
      c.pull = std::min(load_list::slip_bound(d), seized.pull);
      over(c, hung_up());
      c.depends_on = {"gear.brake_slip", "gear.ball"};
      if (measured) {
        tamed = true;
        least = std::min(least, c.pull);
      }
    }
    if (d.weak_link) {
      LoadCase& c = add("hung-up-weak-link", "ball hung up, weak link parts", Category::occasional,
                        LoadPath::tip);
      c.why = "1.2 x the breaking load of the link (judgement)";
      c.pull = std::min<Force>(1.2 * *d.weak_link, seized.pull);
      over(c, hung_up());
      c.depends_on = {"gear.weak_link"};
      tamed = true;
      least = std::min(least, c.pull);
      accident = std::min(accident, c.pull);
    }
    LoadCase& c =
        add("hung-up-seized", "ball hung up, brake seized", Category::accident, LoadPath::tip);
    c.why =
        std::string(accident < seized.pull ? "the weak link parts first: 1.2 x its breaking load"
                    : d.wire_break         ? "1.2 x the breaking strength of the wire"
                                           : "1.2 x a presumed breaking strength: none is given") +
        (tamed ? " (judgement)"
               : " (judgement); decides because nothing weaker is known: measure the slip or "
                 "fit a weak link");
    c.pull = accident;
    c.decides = !tamed;
    over(c, hung_up());
    c.depends_on = {"gear.wire_break"};
    hung_.push_back(least);
    tamed_ = tamed_ && tamed;
  }

  void rod_holder(const RodHolder& r) {
    const Force line = labels_run_low * r.line_test;
    const Force parts = r.weak_link ? std::min<Force>(line, link_runs_high * *r.weak_link) : line;
    const bool link = parts < line;
    const Force strike = std::min(Force(drag_sticks * r.spool_growth * r.drag.value), parts);
    const bool drag_known = r.drag.known == Knowledge::measured;
    {
      LoadCase& c = add("rod-running", "rod running", Category::everyday, LoadPath::line);
      c.why =
          "1.5 x the running pull for waves, no more than the drag lets by (common practice, no "
          "source)";
      // 45 deg either side of astern, 90 deg in turns.
      over(c, {{-90.0_deg, 90.0_deg, 5.0_deg, 40.0_deg}});
      c.depends_on = {"gear.running_pull"};
      c.others = Others::together;
      c.pulls = of_each([](const Setup&, const Gear& g) {
        return g.rod_holder ? load_list::running_pull(*g.rod_holder) : Force{};
      });
      c.pull = c.pulls[std::size_t(gear_)];
      c.cycles_per_hour = cycles();
    }
    {
      LoadCase& c = add("fish-strike", "fish strikes", Category::occasional, LoadPath::line);
      c.why =
          link ? "1.5 x drag x spool growth, no more than the weak link parts at (common practice, "
                 "no source)"
               : "1.5 x drag x spool growth, no more than the line parts at (common practice, no "
                 "source)";
      c.pull = strike;
      over(c, {strike_cone()});
      c.depends_on = {"gear.drag", "gear.spool_growth"};
      c.times_per_season = strikes_in_a_season;
    }
    {
      LoadCase& c = add("line-locked", link ? "line locked, weak link parts" : "line locked, parts",
                        Category::accident, LoadPath::line);
      const std::string bound = link         ? "1.2 x the breaking load of the weak link"
                                : drag_known ? "1.3 x line test, labels run low"
                                             : "1.3 x line test";
      c.why = bound + (drag_known ? " (judgement)"
                                  : " (judgement); decides because the drag was not measured");
      c.decides = !drag_known;
      c.pull = parts;
      over(c, {strike_cone()});
      c.depends_on = {link ? "gear.weak_link" : "gear.line_test"};
    }
    {
      LoadCase& c =
          add("lean-on-holder", "somebody leans on it", Category::occasional, LoadPath::rim);
      c.why = "200 lbf any way at the rim (ASCE 7-10 4.5.1, page seen); shown, not deciding";
      c.decides = false;
      c.pull = hand;
      over(c, {every_way()});
    }
  }

  void plain_load(const Gear& g, const PlainLoad& p) {
    const std::string whose = std::exchange(whose_, "");
    LoadCase& c =
        add("plain-load", g.name.empty() ? "the load" : g.name, p.category, LoadPath::point);
    whose_ = whose;
    c.why = "as given";
    c.pull = p.pull;
    over(c, {p.range});
    c.depends_on = {"gear.pull"};
  }

  void all_hung_up() {
    if (hung_.size() < 2) return;
    std::vector<Force> pulls;
    std::size_t next = 0;
    for (const Gear& g : s_.gear) pulls.push_back(g.downrigger ? hung_[next++] : Force{});
    // Seen from each of them: outboard for one is inboard for one on the other side.
    for (std::size_t i = 0; i < s_.gear.size(); ++i) {
      if (!s_.gear[i].downrigger) continue;
      gear_ = int(i);
      LoadCase& c = add("both-hung-up", "all balls hung up", Category::accident, LoadPath::tip);
      c.why = std::string("every gear at once, the same way over the ground, each at ") +
              (tamed_ ? "what its brake or link lets by" : "its slip, link or wire") +
              (s_.on_board() ? "; one board carries them (judgement)"
                             : "; one base carries them (judgement)");
      c.others = Others::together;
      c.pulls = pulls;
      c.pull = pulls[i];
      over(c, hung_up());
      c.depends_on = {"gear.brake_slip", "gear.weak_link", "gear.wire_break", "gear.ball"};
    }
    gear_ = -1;
  }

  [[nodiscard]] bool any_mass() const {
    return s_.on_board() || std::any_of(s_.gear.begin(), s_.gear.end(), [](const Gear& g) {
             return (g.rod_holder && g.rod_holder->mass.value() > 0) ||
                    (g.plain_load && g.plain_load->mass.value() > 0) ||
                    (g.downrigger && g.downrigger->mass.value() > 0);
           });
  }

  void motions() {
    if (!any_mass()) return;
    const RunningPeak peak = running_peak(s_);
    const std::vector<std::string> inputs{"use.running_peak",     "gear.mass",
                                          "gear.mass_reach",      "gear.mass_height",
                                          "boat.length",          "boat.chine_beam",
                                          "boat.deadrise",        "boat.loaded_mass",
                                          "boat.top_speed",       "boat.waterline_length",
                                          "boat.mount_from_stern"};
    const std::string ways =
        ", down and rebounding, with side and fore-and-aft accelerations (judgement)";
    const auto ride = [&](const char* kind, const char* title, Category category, double n,
                          const std::string& why) -> LoadCase& {
      LoadCase& c = add(kind, title, category, LoadPath::ride);
      c.shakes = running_shakes(n);
      c.why = why;
      c.ranges = {DirectionRange{}};
      c.depends_on = inputs;
      return c;
    };
    (void)ride("running", "running, gear stowed", Category::everyday, 0.5 * peak.peak,
               "half the peak: " + peak.from + ways);
    (void)ride("running-peak", "running hard, gear stowed", Category::occasional, peak.peak,
               peak.from + ways);
    const bool ball = std::any_of(s_.gear.begin(), s_.gear.end(),
                                  [](const Gear& g) { return g.downrigger.has_value(); });
    if (ball) {
      ride("running-ball-on-tip", "running with the ball left on the tip", Category::occasional,
           peak.peak, peak.from + ways + "; ball at the tip of the boom")
          .ball_on_tip = true;
    }
    LoadCase& c = add("on-the-trailer", "on the trailer", Category::occasional, LoadPath::ride);
    const RoadAcceleration a = road_acceleration();
    for (const double way : {-1.0, 1.0}) {
      c.shakes.push_back({way * a.fore_aft, 0, -1});
      c.shakes.push_back({0, way * a.sideways, -1});
    }
    c.shakes.push_back({0, 0, -a.down});
    c.shakes.push_back({0, 0, a.up});
    c.ranges = {DirectionRange{}};
    c.why =
        "1.0 g fore-and-aft, 0.6 g sideways, 2.0 g down, 0.5 g up, each by itself (judgement; EN "
        "12195-1 and 49 CFR 393.102, pages seen, have 0.8, 0.5 to 0.6 and 1.0 for heavier "
        "vehicles)";
    c.depends_on = {"gear.mass", "gear.mass_reach", "gear.mass_height"};
    if (s_.use.gear_off_on_road) {
      c.left_out = true;
      c.owners_why = "the gear travels off its mount";
    }
  }

  void people_on_board() {
    {
      LoadCase& c = add("lean-on-board", "somebody leans on the board", Category::occasional,
                        LoadPath::board);
      c.pull = hand;
      c.why = "200 lbf any way at the edge of the board (ASCE 7-10 4.5.1, page seen)";
      over(c, {every_way()});
    }
    {
      const bool no_seat = s_.use.not_a_seat;
      LoadCase& c = add("sit-on-board",
                        no_seat ? "somebody sits on the board all the same"
                                : "somebody sits or steps on the board",
                        Category::occasional, LoadPath::board);
      c.pull = no_seat ? hand : 300.0_lbf;
      c.why = no_seat ? "200 lbf: declared no seat (judgement)"
                      : "300 lbf, a person of 200 lbf x 1.5 (ASCE 7-10 4.5.4 rung load)";
      over(c, {{-180.0_deg, 180.0_deg, 75.0_deg, 90.0_deg}});
      c.depends_on = {"use.not_a_seat"};
    }
    LoadCase& c =
        add("boarding-grab", "a swimmer climbs in by it", Category::accident, LoadPath::board);
    grab(c);
  }

  void boarding_by_the_gear() {
    for (std::size_t i = 0; i < s_.gear.size(); ++i) {
      if (s_.gear[i].plain_load) continue;
      gear_ = int(i);
      whose_ = many_ && !s_.gear[i].name.empty() ? ", " + s_.gear[i].name : "";
      grab(add("boarding-grab", "a swimmer climbs in by it", Category::accident,
               s_.gear[i].downrigger ? LoadPath::post : LoadPath::rim));
    }
    gear_ = -1;
    whose_.clear();
  }

  static void grab(LoadCase& c) {
    c.decides = false;
    c.pull = 400.0_lbf;
    c.why = "400 lbf (voluntary boat practice for handholds, copy); shown, not deciding";
    over(c, {{-90.0_deg, 90.0_deg, 30.0_deg, 90.0_deg}});
  }

  void dock() {
    const bool boom = std::any_of(s_.gear.begin(), s_.gear.end(),
                                  [](const Gear& g) { return g.downrigger.has_value(); });
    if (!boom) return;
    LoadCase& c = add("dock-knock", "a boom left out meets a dock or a piling", Category::accident,
                      LoadPath::warning);
    c.decides = false;
    c.why =
        "the moving boat carries hundreds of joules, more than any boom takes up: no check, "
        "swing the boom in";
    over(c, {{-180.0_deg, 180.0_deg, Angle{}, Angle{}}});
  }

  const Setup& s_;
  const bool many_;
  int gear_ = -1;
  std::string whose_;
  std::vector<PullRange> towing_;  ///< of each gear, downriggers only
  std::vector<Force> hung_;        ///< of each downrigger: what lets go
  bool tamed_ = true;
  std::vector<LoadCase> out_;
};

}  // namespace

Force load_list::slip_bound(const Downrigger& d) {
  return std::max<Force>(1.5 * d.brake_slip->value, 2.0 * (d.ball * standard_gravity));
}

bool load_list::slip_counts(const Setup& s, const Downrigger& d) {
  return d.brake_slip && d.brake_slip->known == Knowledge::measured &&
         carries_in_waves(d, trolling_pull(d, s).greatest_tension);
}

Force load_list::running_pull(const RodHolder& r) {
  const Force line = labels_run_low * r.line_test;
  return std::min({Force(line_in_waves * r.running_pull),
                   Force(drag_sticks * r.spool_growth * r.drag.value), line,
                   r.weak_link ? Force(link_runs_high * *r.weak_link) : line});
}

RunningPeak running_peak(const Setup& s) {
  if (s.use.running_peak) return {*s.use.running_peak, "peak acceleration as given"};
  if (s.boat && s.boat->top_speed) {
    const PlaningHull hull = planing_hull(*s.boat);
    const double place = place_factor(s.boat->mount_from_stern, s.boat->length);
    const double n = std::min(7.0, place * planing_acceleration(hull, *s.boat->top_speed));
    return {n,
            "peak acceleration by the boat's data (ISO 12215-5:2008 7.3, public copies; the "
            "cautious reading above 3 g)"};
  }
  return {5,
          "peak of 5 g where boat and top speed are not given (ISO 12215-5:2008 7.3, public "
          "copies, at 30 kn in a light boat)"};
}

namespace {

// What pulls on lines, wires, tips and points; people, hands and weights stay as they are.
std::vector<LoadCase> scaled(std::vector<LoadCase> cases, double by) {
  if (by == 1) return cases;
  for (LoadCase& c : cases) {
    if (c.path != LoadPath::tip && c.path != LoadPath::line && c.path != LoadPath::point) continue;
    c.pull *= by;
    for (Force& pull : c.pulls) pull *= by;
  }
  return cases;
}

}  // namespace

std::vector<LoadCase> listed_cases(const Setup& s) { return scaled(List(s).run(), s.pull_scale); }

std::vector<LoadCase> load_cases(const Setup& s) {
  std::vector<LoadCase> cases = List(s).run();
  load_list::apply_edits(s, cases);
  return scaled(std::move(cases), s.pull_scale);
}

}  // namespace thole
