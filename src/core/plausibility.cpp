#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/loads.hpp>
#include <thole/stability.hpp>

#include "core/assessment_parts.hpp"

namespace thole::parts {

using namespace literals;

namespace {

constexpr double mile_per_hour = 0.44704;  // m/s
constexpr double knot = 1852.0 / 3600;

// ---- Where a figure is looked at again (judgement, with the reason of each)
// ----------------------

/// A pull up to 1.1 x the ball's weight: a brake or link that lets go there never carries a ball.
constexpr double of_ball = 1.1;
/// A pull within 2 % of the weight of a piece of gear: the same label was read twice.
constexpr double same_figure = 0.02;
/// Drag over line test: a quarter to a third is usual; above 0.6 knots part first.
constexpr double drag_of_test = 0.6;
/// With a ball down people troll at 0.5 to 4 mph; a hull at 4 kn is the usual slip.
constexpr double slow_trolling = 0.5 * mile_per_hour;
constexpr double fast_trolling = 4.0 * mile_per_hour;
/// Current between surface and ball: a difference above 1.5 mph is a river, not a lake.
constexpr double shear = 1.5 * mile_per_hour;
/// Small open boats run at 8 to 50 kn; below they do not plane, above they race.
constexpr double slow_run = 8 * knot;
constexpr double fast_run = 50 * knot;
/// Balls of more than 25 lb are no gear of a small boat.
constexpr double heavy_ball = 25 * 0.45359237;
/// No drum of a small boat holds more wire.
constexpr double long_wire = 400;
/// Booms are sold up to about 1.5 m, telescopes to 2.4 m.
constexpr double long_boom = 2.5;
/// Boats of 14 to 22 ft with crew and gear weigh about 7 kg times the cube of their length in
/// metres; half and twice that is rare. Below 3 x 85 kg there is no boat under the crew.
constexpr double usual_mass = 7;
constexpr double light = 0.45;
constexpr double heavy = 2.2;
constexpr double least_mass = 3 * 85;
constexpr double greatest_mass = 4000;
/// Freeboard above half the beam, beam beyond a half and a fifth of the length: no open boat.
constexpr double high_side = 0.5;
constexpr double wide = 0.5;
constexpr double narrow = 0.2;
/// A lean below 2 deg is lost in the reading, below 3 deg weak; above 10 deg the side is not
/// straight.
constexpr double lean_lost = 2;
constexpr double lean_weak = 3;
constexpr double lean_far = 10;
/// Lean test against the estimate from main sizes, which is good for 30 %.
constexpr double far_below = 0.4;
constexpr double far_above = 2;

// --------------------------------------------------------------------------------------------------

std::string speed(Speed v, ReaderUnits u) {
  const std::string both =
      fmt::format("{:.1f} mph, {:.1f} kn", v.value() / mile_per_hour, v.value() / knot);
  return u == ReaderUnits::inch ? both : fmt::format("{:.2f} m/s ({})", v.value(), both);
}

bool near(double a, double b, double by) { return b > 0 && std::abs(a - b) <= by * b; }

Force weight_of(Mass m) { return m * standard_gravity; }

const char* const on_the_wire =
    "read it with a luggage scale on the wire, wet, three times, and take the highest";

struct Said {
  std::string what;
  std::string whose;
  std::string text;
};

class Look {
 public:
  explicit Look(const Setup& s) : s_(s), u_(s.units) {}

  std::vector<std::string> run() {
    for (const Gear& g : s_.gear) {
      whose_ = s_.gear.size() > 1 && !g.name.empty() ? " of " + g.name : "";
      if (g.downrigger) downrigger(g, *g.downrigger);
      if (g.rod_holder) rod_holder(*g.rod_holder);
      if (g.plain_load) plain_load(*g.plain_load);
    }
    whose_.clear();
    if (s_.boat) boat(*s_.boat);
    std::vector<std::string> out;
    for (const Said& o : said_) {
      out.push_back(std::string(o.what).append(o.whose).append(" ").append(o.text));
    }
    return out;
  }

 private:
  // `what` is the key of the setup file. What is true of several gears is said once, of none.
  void say(const std::string& what, const std::string& text) {
    for (Said& o : said_) {
      if (o.what != what || o.text != text) continue;
      if (o.whose != whose_) o.whose.clear();
      return;
    }
    said_.push_back({what, whose_, text});
  }

  void against_ball(const std::string& key, const std::optional<Force>& pull, Mass ball,
                    const std::string& meant, const std::string& how) {
    if (!pull || pull->value() <= 0 || *pull > of_ball * weight_of(ball)) return;
    say(key,
        fmt::format("{} is {} the weight of the ball ({}), not {}: {}", show(*pull, u_),
                    near(pull->value(), weight_of(ball).value(), of_ball - 1) ? "about" : "below",
                    show(ball, u_), meant, how));
  }

  void downrigger(const Gear& gear, const Downrigger& d) {
    against_ball("brake_slip", d.brake_slip ? std::optional(d.brake_slip->value) : std::nullopt,
                 d.ball, "the pull at which the brake lets go", on_the_wire);
    if (d.brake_slip && d.brake_slip->value > of_ball * weight_of(d.ball) &&
        d.brake_slip->value < 2.0 * weight_of(d.ball)) {
      say("brake_slip",
          fmt::format(
              "{} is below twice the weight of the ball ({}): a brake that lets go there runs "
              "out in every wave; {}",
              show(d.brake_slip->value, u_), show(d.ball, u_), on_the_wire));
    }
    against_ball(
        "weak_link", d.weak_link, d.ball, "the pull at which the link parts",
        "a link that weak parts when the ball is lifted; pull one apart on a luggage scale");
    against_ball("wire_break", d.wire_break, d.ball, "the pull at which the wire parts",
                 "it stands on the label of the spool, mostly 100 to 300 lbf (450 to 1300 N)");
    if (d.winch_stall.value() > 0) {
      against_ball("winch_stall", d.winch_stall, d.ball, "the pull at which the winch stalls",
                   "hook the wire to a luggage scale and let the winch haul until it stands");
    }
    if (d.brake_slip && d.wire_break && d.brake_slip->value >= *d.wire_break) {
      say("brake_slip",
          fmt::format("{} is not below the breaking load of the wire ({}): the wire "
                      "parts before the brake lets go; {}",
                      show(d.brake_slip->value, u_), show(*d.wire_break, u_), on_the_wire));
    }
    if (d.ball.value() > heavy_ball) {
      say("ball",
          fmt::format("{} is heavy for a small boat, where 4 to 20 lb (2 to 9 kg) are usual: "
                      "was it pounds or kilograms? weigh it",
                      show(d.ball, u_)));
    }
    if (d.boom_length.value() > long_boom) {
      say("boom_length", fmt::format("{} is longer than booms are sold: measure level from the "
                                     "middle of the base to the tip",
                                     show(d.boom_length, u_)));
    }
    speeds(d);
    wire_out(gear, d);
  }

  void speeds(const Downrigger& d) {
    const std::string units =
        "knots and mph differ by 15 %, the drag of the wire by 32 %. Take it through the water, "
        "or as the mean of two runs by satellite, there and back";
    if (d.fastest.value() > fast_trolling) {
      say("speed", fmt::format("{} is fast with a ball down, where 1 to 4 mph is usual: {}",
                               speed(d.fastest, u_), units));
    }
    if (d.slowest.value() > 0 && d.slowest.value() < slow_trolling) {
      say("speed", fmt::format("{} is slow for trolling: {}", speed(d.slowest, u_), units));
    }
    const auto apart = [&](const std::optional<Speed>& below, Speed above) {
      return below && std::abs(below->value() - above.value()) > shear;
    };
    const bool fast = apart(d.fastest_at_ball, d.fastest);
    if (fast || apart(d.slowest_at_ball, d.slowest)) {
      say("speed_at_ball",
          fmt::format("{} is far from {} at the surface: only a strong current below does that. It "
                      "is the speed of the water past the ball, read by a probe there",
                      speed(fast ? *d.fastest_at_ball : *d.slowest_at_ball, u_),
                      speed(fast ? d.fastest : d.slowest, u_)));
    }
  }

  void wire_out(const Gear& gear, const Downrigger& d) {
    PullRange pull;
    try {
      pull = trolling_pull(*gear.downrigger, s_);
    } catch (const DomainError&) {
      return;  // whoever needs the line says so
    }
    if (pull.too_flat) {
      say("depth", fmt::format("{} is not reached at {} with a ball of {}: the wire lies flat. The "
                               "counter shows wire, not depth; check speed, ball and depth",
                               show(d.depth, u_), speed(d.fastest, u_), show(d.ball, u_)));
    } else if (pull.greatest_wire_out.value() > long_wire) {
      say("depth",
          fmt::format("{} takes up to {} of wire at {}, more than a drum holds: check "
                      "speed, ball and depth",
                      show(d.depth, u_), show(pull.greatest_wire_out, u_), speed(d.fastest, u_)));
    }
  }

  // By a figure that stands for any planer, weight or lure.
  [[nodiscard]] bool taken_for_granted(Force running) const {
    return std::any_of(s_.inputs.begin(), s_.inputs.end(), [&](const Input& i) {
      return i.path.ends_with(".running_pull") && i.defaulted && i.si == running.value() &&
             i.value == show(running, u_);
    });
  }

  void like_a_weight(const std::string& key, Force pull, Mass mass, const std::string& of,
                     const std::string& meant) {
    if (pull.value() > 0 && near(pull.value(), weight_of(mass).value(), same_figure)) {
      say(key, fmt::format("{} is the weight of {} ({}), not {}: read it with a luggage scale",
                           show(pull, u_), of, show(mass, u_), meant));
    }
  }

  void rod_holder(const RodHolder& r) {
    const std::string scale =
        "read it with a luggage scale on the line, when the spool creeps; a quarter to a third of "
        "the line test is usual";
    if (r.drag.value > r.line_test) {
      say("drag", fmt::format("{} is above the line test ({}): the line parts before the drag "
                              "gives; {}",
                              show(r.drag.value, u_), show(r.line_test, u_), scale));
    } else if (r.drag.value > drag_of_test * r.line_test) {
      say("drag", fmt::format("{} is {:.0f} % of the line test: {}", show(r.drag.value, u_),
                              100 * double(r.drag.value / r.line_test), scale));
    }
    if (r.running_pull > r.drag.value) {
      say("running_pull",
          fmt::format("{} is above the drag ({}): line would run out all day. Read both with a "
                      "luggage scale on the line",
                      taken_for_granted(r.running_pull)
                          ? fmt::format("(not given, taken as {})", show(r.running_pull, u_))
                          : show(r.running_pull, u_),
                      show(r.drag.value, u_)));
    }
    like_a_weight("running_pull", r.running_pull, r.mass, "rod, reel and holder",
                  "the pull of the running line");
    like_a_weight("drag", r.drag.value, r.mass, "rod, reel and holder",
                  "the pull at which the reel gives line");
    for (const Gear& g : s_.gear) {
      if (!g.downrigger) continue;
      like_a_weight("running_pull", r.running_pull, g.downrigger->ball, "a ball",
                    "the pull of the running line");
    }
  }

  void plain_load(const PlainLoad& p) {
    like_a_weight("pull", p.pull, p.mass, "the gear itself",
                  "a pull on it: its weight is counted by mass");
  }

  void boat(const BoatData& b) {
    if (b.top_speed && b.top_speed->value() > fast_run) {
      say("top_speed",
          fmt::format("{} is faster than a small open boat is run: mph, knots or km/h?",
                      speed(*b.top_speed, u_)));
    } else if (b.top_speed && b.top_speed->value() < slow_run) {
      say("top_speed", fmt::format("{} is no running speed: give the fastest that is run with the "
                                   "gear on board, not the trolling speed",
                                   speed(*b.top_speed, u_)));
    }
    const double mass = b.loaded_mass.value();
    const double usual = usual_mass * std::pow(b.length.value(), 3);
    if (mass < least_mass || mass < light * usual) {
      say("loaded_mass",
          fmt::format("{} is little for {} with people, motor and fuel: was the bare hull meant? "
                      "Add crew, motor, fuel, battery and gear, or weigh boat and trailer on a "
                      "public scale",
                      show(b.loaded_mass, u_), show(b.length, u_)));
    } else if (mass > greatest_mass || mass > heavy * usual) {
      say("loaded_mass", fmt::format("{} is much for {}: pounds or kilograms? Weigh boat and "
                                     "trailer on a public scale, less the trailer",
                                     show(b.loaded_mass, u_), show(b.length, u_)));
    }
    if (b.freeboard > high_side * b.beam) {
      say("freeboard", fmt::format("{} is more than half the beam ({}): measure from the water to "
                                   "the gunwale at the mount, crew aboard, not from the keel",
                                   show(b.freeboard, u_), show(b.beam, u_)));
    }
    if (b.beam > wide * b.length || b.beam < narrow * b.length) {
      say("beam", fmt::format("{} does not go with a length of {}: measure over the gunwales where "
                              "the mount is",
                              show(b.beam, u_), show(b.length, u_)));
    }
    const std::string at_rest = "afloat and loaded, where the hull meets the water";
    if (b.waterline_length > b.length) {
      say("waterline_length",
          fmt::format("{} is longer than the hull ({}): measure {}", show(b.waterline_length, u_),
                      show(b.length, u_), at_rest));
    }
    if (b.waterline_beam > b.beam) {
      say("waterline_beam", fmt::format("{} is wider than the gunwales ({}): measure {}",
                                        show(b.waterline_beam, u_), show(b.beam, u_), at_rest));
    }
    if (b.wave_height > b.freeboard) {
      say("wave_height",
          fmt::format(
              "{} is above the freeboard ({}): trough to crest of the waves that are fished "
              "in, not of the worst ever met",
              show(b.wave_height, u_), show(b.freeboard, u_)));
    }
    if (b.lean_test) lean(b, *b.lean_test);
  }

  void lean(const BoatData& b, const LeanTest& t) {
    const double heel = in_degrees(t.heel);
    const std::string again =
        "move more, or farther, for 3 to 8 deg: moor slack, smooth water, everyone still, phone "
        "level across the thwart, the mean of both sides";
    const std::string found = fmt::format("{:.1f} deg", heel);
    if (heel < lean_lost) {
      say("lean_test", found + " is lost in the reading: " + again);
    } else if (heel < lean_weak) {
      say("lean_test", found + " is weak: half a degree amiss is a sixth or more of it; " + again);
    } else if (heel > lean_far) {
      say("lean_test", found + " is far over for a lean test: " + again);
    }
    if (t.across > b.beam) {
      say("lean_test", fmt::format("across {} is wider than the boat ({}): how far the mass moved "
                                   "from its first place to its second",
                                   show(t.across, u_), show(b.beam, u_)));
    }
    const StabilityEstimate e = estimate_stability(b, 1000.0 * si::kilogrammes_per_cubic_metre);
    const double gm = gm_from_lean_test(t, b.loaded_mass).value();
    if (e.gm.value() <= 0) return;
    const bool low = gm < far_below * e.gm.value();
    if (low || gm > far_above * e.gm.value()) {
      say("lean_test",
          fmt::format(
              "makes the boat {} than its sizes suggest ({} against about {} of metacentric "
              "height): check moved, across, heel and loaded_mass",
              low ? "much more tender" : "much stiffer", show(round(gm), u_),
              show(round(e.gm.value()), u_)));
    }
  }

  // Centimetres or inches: what such a figure is good for.
  [[nodiscard]] Length round(double metres) const {
    const double step = u_ == ReaderUnits::inch ? 0.0254 : 0.01;
    return Length::from_value(std::round(metres / step) * step);
  }

  const Setup& s_;
  const ReaderUnits u_;
  std::string whose_;
  std::vector<Said> said_;
};

}  // namespace

std::vector<std::string> look_again(const Setup& s) { return Look(s).run(); }

}  // namespace thole::parts
