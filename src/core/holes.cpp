#include <thole/holes.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/geometry.hpp"
#include "core/hole_parts.hpp"

namespace thole {

bool EdgeNote::is_short() const { return least && distance < Length(*least * (1 - 1e-9)); }

std::vector<HoleSet> hole_sets(const Setup& setup, const MaterialLibrary& library) {
  return setup.on_board() ? hole_parts::of_board(setup, library)
                          : hole_parts::of_plate(setup, library);
}

namespace hole_parts {

using namespace literals;

Citation practice() { return {"common practice, no source", "", Seen::practice}; }

std::string size(Length v, ReaderUnits u) {
  const Length sixteenth = std::round(v.value() / (1.0_in).value() * 16) / 16 * 1.0_in;
  const std::string inch =
      (abs(v - sixteenth) > 0.1_mm ? "about " : "") + show(sixteenth, ReaderUnits::inch);
  const std::string mm =
      show(Length(std::round(v.value() * 1e4) * 1e-4 * si::metre), ReaderUnits::metric);
  return u == ReaderUnits::inch ? inch + " (" + mm + ")" : mm + " (" + inch + ")";
}

Outline box(Length low_x, Length low_y, Length high_x, Length high_y) {
  return {{low_x, low_y}, {high_x, low_y}, {high_x, high_y}, {low_x, high_y}};
}

void note_sides(HoleSet& set, const Outline& o, const std::string& words,
                std::optional<Length> least) {
  for (const Hole& h : set.holes) {
    EdgeNote nearest;
    double best = geometry::far_away.value();
    for (std::size_t i = 0; i < o.size(); ++i) {
      const PlanPoint& a = o[i];
      const PlanPoint& b = o[(i + 1) % o.size()];
      const double dx = (b.x - a.x).value();
      const double dy = (b.y - a.y).value();
      const double length2 = dx * dx + dy * dy;
      if (!(length2 > 0)) continue;
      const double px = (h.at.x - a.x).value();
      const double py = (h.at.y - a.y).value();
      const double t = std::clamp((px * dx + py * dy) / length2, 0.0, 1.0);
      const double off = std::hypot(px - t * dx, py - t * dy);
      if (off >= best) continue;
      best = off;
      nearest = {
          h.number, {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)}, off * si::metre, least, words};
    }
    if (!o.empty()) set.edges.push_back(nearest);
  }
}

void note_spacing(HoleSet& set, std::optional<Length> least) {
  for (const Hole& h : set.holes) {
    EdgeNote nearest;
    double best = geometry::far_away.value();
    for (const Hole& other : set.holes) {
      if (&other == &h) continue;
      const double off = std::hypot((h.at.x - other.at.x).value(), (h.at.y - other.at.y).value());
      if (off >= best) continue;
      best = off;
      nearest = {h.number, other.at, off * si::metre, least,
                 "to the middle of no. " + std::to_string(other.number)};
    }
    if (set.holes.size() > 1) set.edges.push_back(nearest);
  }
}

void note_nearer(HoleSet& set, bool across, Length low, Length high, const std::string& words,
                 std::optional<Length> least) {
  for (const Hole& h : set.holes) {
    const Length p = across ? h.at.x : h.at.y;
    const Length at = abs(p - low) < abs(p - high) ? low : high;
    const PlanPoint foot = across ? PlanPoint{at, h.at.y} : PlanPoint{h.at.x, at};
    set.edges.push_back({h.number, foot, abs(p - at), least, words});
  }
}

void note_line(HoleSet& set, bool across, Length at, const std::string& words,
               std::optional<Length> least) {
  note_nearer(set, across, at, at, words, least);
}

void add_other(HoleSet& set, Outline outline, std::string is) {
  set.others.push_back(std::move(outline));
  set.others_are.push_back(std::move(is));
}

std::string corners(const Metal& metal) {
  std::string out = "corners rounded to about 3/8 in (10 mm), edges broken";
  if (metal.aluminium) {
    out += "; the grain, as rolled or extruded, along the longer side (common practice)";
  }
  return out;
}

std::string sleeve_note(const Thread& thread, ReaderUnits u) {
  return "with a sleeve to keep metals apart the hole is as wide as the sleeve: measure it; the "
         "checks reckon with " +
         size(thread.clearance, u);
}

std::vector<std::string> behind_the_skin(bool upward) {
  std::vector<std::string> out{
      "fuel tank, filler, vent and hose: none within 12 in (300 mm), else stop: a yard's job",
      "wires, lamps, battery cables: none",
      "steering, throttle and shift cables: none",
      "flotation foam or an air chamber: not opened",
      "the outer hull: the drill cannot reach it; nothing at or near the waterline",
      "no pocket below that would trap water; the drain stays open",
      "rib, knee, weld or rivet: not drilled into",
  };
  if (upward) out.emplace_back("room for nut, washer and a spanner behind every hole");
  return out;
}

bool guessed(const Setup& setup, const std::vector<std::string>& paths) {
  static const std::vector<std::string> sizes{
      "flat",        "fore_aft", "athwart",    "outboard",          "forward",       "to_edge",
      "to_end",      "root",     "below_seat", "foot_below",        "spacing",       "points",
      "clear_width", "along",    "hole",       "from_inboard_edge", "port_overhang", "thread",
      "length",      "width",    "size",       "to_support"};
  return std::any_of(setup.inputs.begin(), setup.inputs.end(), [&](const Input& i) {
    if (i.known != Knowledge::assumed) return false;
    const std::string last = i.path.substr(i.path.rfind('.') + 1);
    if (std::find(sizes.begin(), sizes.end(), last) == sizes.end()) return false;
    return std::any_of(paths.begin(), paths.end(),
                       [&](const std::string& p) { return i.path.starts_with(p); });
  });
}

}  // namespace hole_parts
}  // namespace thole
