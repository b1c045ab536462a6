#include <thole/cautions.hpp>

#include <algorithm>
#include <string_view>

#include <thole/fit.hpp>

#include "core/geometry.hpp"

namespace thole {

namespace {

constexpr double cold_water = 10;            // deg C (judgement)
constexpr double near_fuel = 0.3048;         // m, 12 in, common practice
constexpr double lead_from_density = 10500;  // kg/m3, lead with some antimony

bool always(const Setup&) { return true; }

bool wire(const Setup& s) {
  return std::any_of(s.gear.begin(), s.gear.end(),
                     [](const Gear& g) { return g.downrigger.has_value(); });
}
bool no_wire(const Setup& s) { return !wire(s); }

// One of which nobody said that it is cranked by hand.
bool powered(const Setup& s) {
  return std::any_of(s.gear.begin(), s.gear.end(),
                     [](const Gear& g) { return g.downrigger && g.downrigger->powered; });
}

bool lead(const Setup& s) {
  return std::any_of(s.gear.begin(), s.gear.end(), [](const Gear& g) {
    return g.downrigger && g.downrigger->ball_density.value() > lead_from_density;
  });
}

bool drilled(const Setup& s) { return s.on_board() || !geometry::is_clasped(s.plate()); }

bool panel(const Setup& s) {
  return !s.on_board() && (s.plate().host.kind == HostKind::laminate ||
                           s.plate().host.kind == HostKind::cored_panel);
}

bool welded(const Setup& s) { return s.condition.weld_near_base == Answer::yes; }
bool salt(const Setup& s) { return s.salt_water; }
bool on_the_road(const Setup& s) { return !s.use.gear_off_on_road; }
bool cold(const Setup& s) {
  return s.use.water_temperature && *s.use.water_temperature < cold_water;
}

// Whether a part of the mount comes that near to a thing of one of the kinds.
bool near(const Setup& s, std::initializer_list<std::string_view> kinds, double distance) {
  const FitAnswer fit = look_at_fit(s);
  return std::any_of(fit.rows.begin(), fit.rows.end(), [&](const FitRow& r) {
    if (r.rule != FitRule::keep_clear || r.distance.value() >= distance) return false;
    return std::any_of(fit.things.begin(), fit.things.end(), [&](const FitThing& t) {
      return !t.of_mount && t.name == r.other &&
             std::find(kinds.begin(), kinds.end(), t.kind) != kinds.end();
    });
  });
}

bool fuel(const Setup& s) { return near(s, {"filler", "hose"}, near_fuel); }

// Rods and booms before a light count as close only: they hide it all the same, now and then.
bool hides_light(const Setup& s) {
  const FitAnswer fit = look_at_fit(s);
  return std::any_of(fit.rows.begin(), fit.rows.end(), [&](const FitRow& r) {
    return r.clear != Clear::clear &&
           std::any_of(fit.things.begin(), fit.things.end(),
                       [&](const FitThing& t) { return t.kind == "light" && t.name == r.other; });
  });
}

struct Row {
  bool (*applies)(const Setup&);
  const char* text;
};

// THE list. What the checks raise themselves (not a handhold, never tie off, snagged, look behind,
// pairs of metals, treated wood, cores) is said where they are made.
constexpr Row rows[] = {
    {always, "a snag at the stern quarter can swamp or capsize the boat"},
    {fuel, "fuel filler, vent or hose within 12 in (300 mm) of the mount: stop, a yard's job"},
    {wire,
     "a one-hand cutter on a lanyard at each side; a cut wire throws the boom up: face clear"},
    {no_wire, "a one-hand knife on a lanyard within reach"},
    {always, "a weak link below the mount's limit; a lanyard on the gear is no second tie-down"},
    {wire,
     "hands and sleeves off a loaded wire, no turns round a hand; cut back damaged strands; motor "
     "off with wire near it; ball aboard before you run"},
    {no_wire,
     "hands and sleeves off a loaded line, no turns round a hand; motor off with line near it"},
    {always, "mount, gear and who reaches aft count on the capacity label; crew inboard at a snag"},
    {drilled,
     "no hole near waterline or flotation, nor within 12 in (300 mm) of fuel; stop collar, eye "
     "protection"},
    {always, "wear flotation and the kill cord; in places it is law"},
    {always, "old metal, wood and core weaken unseen"},
    {panel, "laminate: have moisture, core and liner looked at; solid plugs at bolts; ask a yard"},
    {welded,
     "welds and bends weaken and crack: a qualified welder, never near fuel, electronics off"},
    {hides_light, "mount or gear may hide the stern light: move one of them"},
    {salt, "salt water: look under pads and washers twice a season"},
    {on_the_road, "gear left on for the road: width, lamps, cracks: take it off"},
    {powered,
     "electric winch: fuse and fixed, vented battery, cable to suit, no return through an "
     "aluminium "
     "hull: marine electrician"},
    {wire, "children aboard: boom and wire are at the height of a head"},
    {lead, "lead balls: stow them low; local rules may forbid them"},
    {always, "local rules on rods, bait and gear differ"},
    {cold, "cold water: brittle plastic, stiff hands, short survival: set less"},
};

}  // namespace

std::vector<std::string> standing_cautions(const Setup& setup) {
  std::vector<std::string> out;
  for (const Row& row : rows) {
    if (row.applies(setup)) out.emplace_back(row.text);
  }
  return out;
}

}  // namespace thole
