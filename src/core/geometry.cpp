#include "core/geometry.hpp"

#include <algorithm>
#include <cmath>

#include <thole/error.hpp>
#include <thole/thread.hpp>

#include "core/board_rules.hpp"

namespace thole {

using namespace literals;

std::string_view word_for(Category c) {
  switch (c) {
    case Category::everyday:
      return "everyday";
    case Category::occasional:
      return "occasional";
    case Category::accident:
      return "accident";
  }
  throw InternalError("a category without a word");
}

std::string_view word_for(HostKind kind) {
  switch (kind) {
    case HostKind::metal_wall:
      return "metal wall";
    case HostKind::timber:
      return "timber";
    case HostKind::plywood:
      return "plywood";
    case HostKind::laminate:
      return "laminate";
    case HostKind::cored_panel:
      return "cored panel";
  }
  throw InternalError("a host without a word");
}

std::string_view plural_of(HoldBy hold) {
  switch (hold) {
    case HoldBy::tapped:
      return "tapped screws";
    case HoldBy::tapped_bar:
      return "screws in a bar";
    case HoldBy::through_bolt:
      return "through bolts";
    case HoldBy::lag_screw:
      return "lag screws";
    case HoldBy::wood_screw:
      return "wood screws";
    case HoldBy::thread_insert:
      return "screws in thread inserts";
    case HoldBy::blind_insert:
      return "screws in blind inserts";
    case HoldBy::self_tapping:
      return "self-tapping screws";
    case HoldBy::rivet:
      return "rivets";
    case HoldBy::u_bolt:
      return "U-bolts";
    case HoldBy::clamp:
      return "clamps";
  }
  throw InternalError("a kind of fastener without a word");
}

namespace geometry {

bool is_clasped(const GunwalePlate& m) {
  return m.fastening.hold == HoldBy::u_bolt || m.fastening.hold == HoldBy::clamp;
}

GunwalePlate stand_of(const GunwalePlate& m) {
  const Fitting& f = *m.bracket->fitting;
  GunwalePlate out;
  out.host = m.host;
  out.base = f.foot;
  out.base.from_inboard_edge = m.base.from_inboard_edge + f.at.y;
  out.fastening = f.fastening;
  const Length off = std::hypot(f.at.x.value(), f.at.y.value()) * si::metre;
  const auto nearer = [&](Length& to) { to = std::max<Length>(to - off, Length{}); };
  nearer(out.host.to_support);
  nearer(out.host.to_edge);
  if (out.host.to_end) nearer(*out.host.to_end);
  return out;
}

Flat flat_of(const GunwalePlate& m) {
  Flat f;
  const Host& h = m.host;
  if (!h.is_metal()) {
    const Length along = h.kind == HostKind::timber ? h.to_end.value_or(far_away) : h.to_edge;
    const bool fore_aft = h.kind != HostKind::timber || h.wood.grain_fore_aft;
    f.forward = fore_aft ? along : h.to_edge;
    f.outboard = fore_aft ? h.to_edge : along;
    f.aft = -f.forward;
    f.inboard = -f.outboard;
    f.inboard_free = f.outboard_free = f.ends_free = true;
    return f;
  }
  if (h.form == WallForm::sheet) {
    f.inboard = -1.0 * far_away;
    f.outboard = far_away;
  } else {
    f.inboard = -m.base.from_inboard_edge;
    f.outboard = h.flat - m.base.from_inboard_edge;
    f.inboard_free = h.form == WallForm::open_lip && !h.lip_root_inboard;
    f.outboard_free = h.form == WallForm::open_lip && h.lip_root_inboard;
  }
  f.aft = h.to_end ? -1.0 * *h.to_end : -1.0 * far_away;
  f.forward = h.to_end ? *h.to_end : far_away;  // which end is free is not asked: both are taken
  f.ends_free = h.to_end.has_value();
  return f;
}

Length to_free_wall_edge(const GunwalePlate& m, const PlanPoint& p) {
  const Flat f = flat_of(m);
  Length d = far_away;
  if (f.inboard_free) d = std::min(d, p.y - f.inboard);
  if (f.outboard_free) d = std::min(d, f.outboard - p.y);
  if (f.ends_free) d = std::min({d, p.x - f.aft, f.forward - p.x});
  return d;
}

namespace {

// Calls `visit(inside)` for each side; inside(p) is how far p lies within it.
template <class Visit>
void each_side(const Outline& o, Visit visit) {
  for (std::size_t i = 0; i < o.size(); ++i) {
    const PlanPoint& a = o[i];
    const PlanPoint& b = o[(i + 1) % o.size()];
    const Length dx = b.x - a.x;
    const Length dy = b.y - a.y;
    const Length side = std::hypot(dx.value(), dy.value()) * si::metre;
    if (!(side.value() > 0)) continue;
    visit([&](const PlanPoint& p) { return Length((dx * (p.y - a.y) - dy * (p.x - a.x)) / side); });
  }
}

}  // namespace

Length to_outline_edge(const Outline& o, const PlanPoint& p) {
  Length nearest = far_away;
  each_side(o, [&](const auto& inside) { nearest = std::min(nearest, inside(p)); });
  return nearest;
}

Length smallest_width(const Outline& o) {
  Length smallest = far_away;
  each_side(o, [&](const auto& inside) {
    Length across{};
    for (const PlanPoint& p : o) across = std::max(across, inside(p));
    smallest = std::min(smallest, across);
  });
  return smallest;
}

Length chord(const Outline& o, double nx, double ny, Length distance) {
  Length low = far_away;
  Length high = -1.0 * far_away;
  for (std::size_t i = 0; i < o.size(); ++i) {
    const PlanPoint& a = o[i];
    const PlanPoint& b = o[(i + 1) % o.size()];
    const double ua = (nx * a.x + ny * a.y - distance).value();
    const double ub = (nx * b.x + ny * b.y - distance).value();
    if ((ua < 0) == (ub < 0)) continue;
    const double t = ua / (ua - ub);
    const Length x = a.x + t * (b.x - a.x);
    const Length y = a.y + t * (b.y - a.y);
    const Length along = -ny * x + nx * y;
    low = std::min(low, along);
    high = std::max(high, along);
  }
  return high > low ? Length(high - low) : Length{};
}

Length to_backing_edge(const Backing& b, const PlanPoint& p) {
  const Length x = 0.5 * b.fore_aft - abs(p.x);
  const Length y = 0.5 * b.athwart - abs(p.y);
  return std::min(x, y);
}

Length to_support(const GunwalePlate& m, const PlanPoint& p) {
  const Flat f = flat_of(m);
  switch (m.host.form) {
    case WallForm::closed_section:
      return std::min(p.y - f.inboard, f.outboard - p.y);
    case WallForm::open_lip:
      return m.host.lip_root_inboard ? p.y - f.inboard : f.outboard - p.y;
    case WallForm::sheet: {
      const double r = std::hypot(p.x.value(), p.y.value());
      return m.host.to_support - r * si::metre;
    }
  }
  throw InternalError("a wall form without a support");
}

Length to_far_support(const GunwalePlate& m, const PlanPoint& p) {
  const Flat f = flat_of(m);
  switch (m.host.form) {
    case WallForm::closed_section:
      return std::max(p.y - f.inboard, f.outboard - p.y);
    case WallForm::open_lip:
      return to_support(m, p);
    case WallForm::sheet: {
      const double r = std::hypot(p.x.value(), p.y.value());
      return m.host.to_support + r * si::metre;
    }
  }
  throw InternalError("a wall form without a support");
}

std::vector<Outline> bed_of(const GunwalePlate& m) {
  const Flat f = flat_of(m);
  std::vector<Outline> out;
  const auto add = [&](const Outline& o) {
    Outline part = clip_to(o, {f.aft, f.inboard}, {f.forward, f.outboard});
    if (!part.empty()) out.push_back(std::move(part));
  };
  if (m.bracket) {
    for (const Outline& o : m.bracket->bears_on) {
      if (m.host.is_metal() && m.host.form != WallForm::sheet) {
        add(o);
      } else {
        out.push_back(o);  // its owner says what finds the host
      }
    }
  } else {
    add(m.base.outline);
  }
  return out;
}

bool in_bar(const Fastening& f) {
  return f.backing && (f.hold == HoldBy::tapped_bar || f.hold == HoldBy::thread_insert);
}

Length thread_depth(const Fastening& f, const Host& h) {
  const Length t = in_bar(f) ? f.backing->thickness : h.thickness;
  const Length lost = f.countersunk_wall ? 0.5 * f.thread.pitch : Length{};
  return t - lost;
}

const Metal& threaded_metal(const Fastening& f, const Host& h) {
  return in_bar(f) ? f.backing->metal : h.metal;
}

Length widest_hole(const Fastening& f) {
  if (f.blind) return f.blind->hole;
  // Tapped for a coil: the thread of the screw and twice its depth. A solid piece is up to half as
  // wide again as its screw (common practice).
  if (f.insert && f.insert->solid) return 1.5 * f.thread.diameter;
  if (f.insert) return f.thread.diameter + 1.2990 * f.thread.pitch;
  return f.thread.diameter;
}

}  // namespace geometry

namespace {

void rule(bool good, const std::string& text) {
  if (!good) throw DomainError(text);
}

template <class Q>
void above_zero(Q v, const char* what) {
  rule(v.value() > 0 && std::isfinite(v.value()), std::string(what) + " must be above zero");
}

}  // namespace

namespace {

void validate_rating(const std::optional<GearRating>& r) {
  if (!r) return;
  rule(r->moment.has_value() != r->pull.has_value(), "a rating is a moment or a pull");
  if (r->moment) above_zero(*r->moment, "the rating of the gear");
  if (r->pull) above_zero(*r->pull, "the rating of the gear");
  rule(!r->source.empty(), "a rating of the gear needs its source");
}

}  // namespace

void validate_gear(const Gear& g) {
  const int kinds =
      int(g.rod_holder.has_value()) + int(g.plain_load.has_value()) + int(g.downrigger.has_value());
  rule(kinds == 1, "a gear is one of rod holder, load and downrigger");
  if (g.rod_holder) {
    above_zero(g.rod_holder->rod_length, "the rod length");
    above_zero(g.rod_holder->line_test, "the line test");
    above_zero(g.rod_holder->drag.value, "the drag");
    rule(g.rod_holder->height.value() >= 0, "the height of the holder must not be negative");
    rule(g.rod_holder->spool_growth >= 1, "the spool growth is at least 1");
    if (g.rod_holder->weak_link) {
      above_zero(*g.rod_holder->weak_link, "the weak link");
      rule(*g.rod_holder->weak_link > g.rod_holder->running_pull,
           "a weak link of no more than the running pull parts while trolling");
    }
    validate_rating(g.rod_holder->holder_rating);
  }
  if (g.downrigger) validate_rating(g.downrigger->body_rating);
  if (g.plain_load) above_zero(g.plain_load->pull, "the pull");
}

namespace {

void validate_metal_wall(const GunwalePlate& m, ReaderUnits u) {
  above_zero(m.host.thickness, "the wall thickness");
  above_zero(m.host.metal.yield, "the yield strength of the wall");
  above_zero(m.host.metal.ultimate, "the ultimate strength of the wall");
  if (m.host.form == WallForm::sheet) {
    above_zero(m.host.to_support, "the distance to the nearest stiffener");
  } else {
    above_zero(m.host.flat, "the width of the flat");
    rule(m.base.from_inboard_edge.value() >= 0 && m.base.from_inboard_edge <= m.host.flat,
         std::string(m.bracket ? "the middle of the fasteners" : "the base centre") +
             " must lie on the flat, between 0 and " + show(m.host.flat, u) +
             " from its inboard edge");
  }
  if (m.host.bar) {
    const GunwaleBar& b = *m.host.bar;
    above_zero(b.between_ties, "the distance between the ties of the gunwale");
    above_zero(b.depth, "the depth of the gunwale");
    rule(m.host.form != WallForm::sheet, "a sheet is no gunwale that turns between ties");
    const bool closed = m.host.form == WallForm::closed_section;
    rule(b.depth > (closed ? 2.0 : 1.0) * m.host.thickness &&
             (!closed || m.host.flat > 2.0 * m.host.thickness),
         "the walls of the gunwale leave no room in its section");
  }
  rule(!in_wood(m.fastening.hold), "lag and wood screws hold in timber only");
}

void given(const std::optional<GivenForce>& g, const char* what) {
  if (!g) return;
  above_zero(g->value, what);
  rule(!g->source.empty(), std::string(what) + " needs its source");
}

// What kinds of fasteners need of their own.
void validate_hold(const Fastening& f) {
  const bool coil = f.hold == HoldBy::thread_insert;
  const bool blind = f.hold == HoldBy::blind_insert;
  const bool rivet = f.hold == HoldBy::rivet;
  rule(coil == f.insert.has_value(), "a thread insert needs its length, and nothing else has one");
  rule(blind == f.blind.has_value(), "a blind insert needs its sizes, and nothing else has them");
  rule(rivet == f.rivet.has_value(), "a rivet needs its kind, and nothing else has one");
  rule(!is_spaced(f.thread) || f.hold == HoldBy::self_tapping,
       "a spaced thread belongs to self-tapping screws");
  if (f.insert) {
    above_zero(f.insert->length, "the length of the insert");
    given(f.insert->pull_out, "the pull-out of the insert");
    rule(f.insert->solid || f.insert->length >= (1 - 1e-6) * f.thread.diameter,
         "the shortest coil is as long as its thread is wide");
  }
  if (f.blind) {
    const BlindInsert& b = *f.blind;
    rule(b.hole > f.thread.diameter, "the hole of a blind insert is wider than its thread");
    rule(b.bulb > b.hole, "the bulb of a blind insert is wider than its hole");
    rule(b.flange > b.hole, "the flange of a blind insert is wider than its hole");
    given(b.pull_out, "the pull-out of the insert");
    given(b.thread_holds, "the proof load of the insert's thread");
    if (b.turns_at) above_zero(b.turns_at->value, "the torque at which the insert turns");
    rule(!b.turns_at || !b.turns_at->source.empty(),
         "the torque at which the insert turns needs its source");
  }
  if (f.rivet) {
    given(f.rivet->tension, "the tension strength of the rivet");
    given(f.rivet->shear, "the shear strength of the rivet");
  }
  const bool alone = blind || f.hold == HoldBy::self_tapping;
  rule(!alone || !f.backing, "blind inserts and self-tapping screws hold in the wall alone");
}

void validate_in_plane(const GunwalePlate& m) {
  const Fastening& f = m.fastening;
  if (!f.instantaneous_centre) return;
  const bool steel = m.host.is_metal() && !m.host.metal.aluminium && m.base.metal &&
                     !m.base.metal->aluminium && f.material.modulus > 22000.0_ksi &&
                     f.hold == HoldBy::through_bolt && !m.second;
  rule(steel,
       "the instantaneous centre is for like steel through bolts between a steel base and a steel "
       "wall");
}

void validate_other_host(const GunwalePlate& m) {
  const Host& h = m.host;
  const Fastening& f = m.fastening;
  above_zero(h.thickness, "the thickness under the base");
  above_zero(h.to_edge, "the distance to the nearest edge");
  rule(f.hold == HoldBy::through_bolt || in_wood(f.hold) || geometry::is_clasped(m),
       f.hold == HoldBy::tapped || f.hold == HoldBy::tapped_bar
           ? "threads are tapped in metal only"
           : std::string(plural_of(f.hold)) + " hold in a metal wall only");
  const bool timber = h.kind == HostKind::timber;
  if (timber) {
    rule(h.wood.wood && h.wood.strength, "the timber needs its wood and its strengths");
    rule(h.to_end.has_value(), "the timber needs the distance to its nearest end");
    above_zero(*h.to_end, "the distance to the nearest end");
    above_zero(h.wood.width, "the width of the timber");
    rule(2.0 * h.to_edge <= (1 + 1e-5) * h.wood.width,
         "the nearest edge lies within half the width of the timber");
  }
  if (timber || h.kind == HostKind::plywood) {
    (void)dowel_bearing(h.wood.specific_gravity, f.thread.diameter, 0.0_deg);  // within its range
    above_zero(h.wood.bearing, "the bearing strength of the wood");
    rule(h.wood.connection > 0, "the wood needs the factor of its fastenings");
    rule(m.base.thickness.value() > 0,
         "on wood the base needs its thickness: it bears on the sides of the fasteners");
  }
  if (h.kind == HostKind::cored_panel) {
    above_zero(h.panel.skin, "the thickness of the skins");
    above_zero(h.panel.between_skins, "the distance of the skins");
  }
  rule(h.to_support.value() >= 0, "the distance to the nearest support must not be negative");
  for (const auto* g :
       {&h.panel.punch_shear, &h.panel.bearing, &h.panel.core_crush, &h.panel.flexural}) {
    if (!*g) continue;
    above_zero((*g)->value, "a strength of the panel");
    rule(!(*g)->source.empty(), "a strength that no table has needs its source");
  }
  if (in_wood(f.hold)) {
    rule(timber, "lag and wood screws hold in timber only");
    rule(f.screw.has_value(), "a screw in wood needs its size");
    rule(f.length > m.base.thickness + f.packing + 0.5 * f.screw->tip,
         "the screws do not reach through the base into the timber");
    rule(f.threaded.value() > 0 && f.threaded <= f.length, "the screws need a thread");
  }
}

// What a base is called where something is wrong with it.
struct BaseWords {
  std::string_view base = "base";
  std::string_view middle = "base centre";
};

// A base, its fasteners and what they enter.
void validate_base(const GunwalePlate& m, ReaderUnits u, const BaseWords& words = {}) {
  const Fastening& f = m.fastening;
  const bool clasped = geometry::is_clasped(m);
  if (m.host.is_metal()) {
    validate_metal_wall(m, u);
  } else {
    validate_other_host(m);
  }
  rule(is_convex(m.base.outline), "the outline of the base must be convex, corners in order");
  rule(!m.base.metal || m.base.thickness.value() > 0, "the base needs its thickness");
  rule(!f.holes.empty(), "the fastening needs at least one hole");
  rule(f.holes.size() <= std::size_t(max_fasteners), "at most 24 fasteners in one pattern");
  above_zero(f.thread.diameter, "the thread diameter");
  validate_hold(f);
  validate_in_plane(m);
  above_zero(f.head, "the diameter of the head");
  const geometry::Flat flat = geometry::flat_of(m);
  for (const PlanPoint& p : f.holes) {
    const std::string at = "the hole at " + show(p.x, u) + " forward, " + show(p.y, u) +
                           " outboard of the " + std::string(words.middle);
    rule(geometry::to_outline_edge(m.base.outline, p).value() > 0,
         at + " lies outside the " + std::string(words.base));
    if (clasped) continue;  // nothing enters the host
    rule(p.y > flat.inboard && p.y < flat.outboard && p.x > flat.aft && p.x < flat.forward,
         at + " lies beyond the edge of the " +
             (m.host.is_metal() ? "wall" : std::string(word_for(m.host.kind))));
    if (m.host.is_metal() && m.host.form == WallForm::sheet) {
      rule(geometry::to_support(m, p).value() > 0, at + " lies beyond the nearest stiffener");
    }
    if (f.backing) {
      rule(geometry::to_backing_edge(*f.backing, p) > 0.5 * geometry::widest_hole(f),
           at + " breaks out of the edge of the " +
               (geometry::in_bar(f) ? "bar" : "backing plate") + " behind the wall");
    }
  }
  for (std::size_t i = 0; i < f.holes.size(); ++i) {
    for (std::size_t j = i + 1; j < f.holes.size(); ++j) {
      const double d =
          std::hypot((f.holes[i].x - f.holes[j].x).value(), (f.holes[i].y - f.holes[j].y).value());
      rule(d > geometry::widest_hole(f).value(), "two holes run into each other");
    }
  }
  if (f.hold == HoldBy::tapped_bar) {
    rule(f.backing.has_value(), "threads in a bar need the bar behind the wall");
  }
  if (f.backing) {
    above_zero(f.backing->thickness, "the thickness behind the wall");
    if (m.host.is_metal() && m.host.form == WallForm::closed_section) {
      const Length room = m.host.flat - 2.0 * m.host.thickness;
      rule(f.backing->athwart <= room, "a piece " + show(f.backing->athwart, u) +
                                           " wide does not go into a section that is " +
                                           show(room, u) + " clear inside");
    }
  }
}

bool overlap(const Outline& a, const Outline& b) {
  // Two convex outlines lie apart when a side of one of them has the other beyond it.
  const auto parted = [](const Outline& o, const Outline& other) {
    bool out = false;
    geometry::each_side(o, [&](const auto& inside) {
      out = out || std::all_of(other.begin(), other.end(),
                               [&](const PlanPoint& p) { return inside(p) <= 1e-6 * si::metre; });
    });
    return out;
  };
  return !parted(a, b) && !parted(b, a);
}

void validate_fitting(const GunwalePlate& m, ReaderUnits u) {
  const Fitting& f = *m.bracket->fitting;
  const GunwalePlate stand = geometry::stand_of(m);
  const std::string whose = "the fitting under the U-bolts: ";
  rule(!geometry::is_clasped(stand), whose + "it stands on fasteners of its own");
  try {
    validate_base(stand, u, {"foot", "middle of its foot"});
    rule(!geometry::bed_of(stand).empty(), "it does not stand on the wall");
  } catch (const DomainError& e) {
    throw DomainError(whose + e.what());
  }
  rule(f.height.value() >= 0, whose + "its height must not be negative");
  for (const PlanPoint& p : m.fastening.holes) {
    rule(geometry::to_outline_edge(f.foot.outline, {p.x - f.at.x, p.y - f.at.y}).value() > 0,
         "the U-bolt hole at " + show(p.x, u) + " forward, " + show(p.y, u) +
             " outboard of the middle of the fasteners is not over the foot of the " + f.name);
  }
}

void validate_bracket(const GunwalePlate& m, ReaderUnits u) {
  const HoldBy hold = m.fastening.hold;
  if (!m.bracket) {
    rule(!geometry::is_clasped(m), std::string(plural_of(hold)) + " hold a bracket only");
    return;
  }
  const Bracket& b = *m.bracket;
  rule((hold == HoldBy::u_bolt) == b.fitting.has_value(),
       "U-bolts need the fitting that they go over, and nothing else has one");
  rule((hold == HoldBy::clamp) == b.clamp.has_value(),
       "clamps need their kind, and nothing else has one");
  rule(!b.bears_on.empty(), "the bracket bears on nothing");
  rule(b.bears_on.size() <= std::size_t(max_patches), "a bracket bears on at most 6 parts");
  rule(b.firm.size() == b.bears_on.size(), "each part that the bracket bears on is firm or not");
  for (std::size_t i = 0; i < b.bears_on.size(); ++i) {
    const std::string part = "part " + std::to_string(i + 1) + " of what the bracket bears on";
    rule(is_convex(b.bears_on[i]), part + " must be convex, corners in order");
    for (const PlanPoint& p : b.bears_on[i]) {
      rule(geometry::to_outline_edge(m.base.outline, p).value() >= -1e-6,
           part + " reaches beyond the plate");
    }
    for (std::size_t j = 0; j < i; ++j) {
      rule(!overlap(b.bears_on[i], b.bears_on[j]), "parts " + std::to_string(j + 1) + " and " +
                                                       std::to_string(i + 1) +
                                                       " of what the bracket bears on overlap");
    }
  }
  rule(geometry::bed_of(m).size() == b.bears_on.size(),
       "a part of what the bracket bears on lies beyond the wall");
  above_zero(b.gear_width, "the width of the gear's foot");
  rule(geometry::to_outline_edge(m.base.outline, b.gear_at) >= (0.5 - 1e-6) * b.gear_width,
       "the foot of the gear reaches beyond the plate");
  rule(!b.friction || (*b.friction > 0 && *b.friction < 1), "friction lies between 0 and 1");
  if (b.clamp) {
    given(b.clamp->holds, "what a clamp holds");
    rule(b.clamp->tightened.value() >= 0, "the torque of a clamp must not be negative");
  }
  for (const Stiffener& a : b.stiffeners) {
    above_zero(a.thickness, "the thickness of the angle");
    rule(a.leg > 2.0 * a.thickness, "the leg of the angle is hardly longer than it is thick");
    for (const PlanPoint& p : {a.from, a.to}) {
      rule(geometry::to_outline_edge(m.base.outline, p).value() >= -1e-6,
           "the angle reaches beyond the plate");
    }
    rule(std::hypot((a.to.x - a.from.x).value(), (a.to.y - a.from.y).value()) > a.leg.value(),
         "the angle is shorter than its leg");
  }
  if (b.fitting) validate_fitting(m, u);
}

// Fasteners of another kind in the same base.
void validate_second(const GunwalePlate& m, ReaderUnits u) {
  if (!m.second) return;
  rule(!geometry::is_clasped(m), "other fasteners stand beside bolts or screws only");
  rule(m.fastening.holes.size() + m.second->holes.size() <= std::size_t(max_fasteners),
       "at most 24 fasteners in one base");
  GunwalePlate other = m;
  other.fastening = *m.second;
  other.second.reset();
  rule(!geometry::is_clasped(other), "U-bolts and clamps hold a bracket alone");
  rule(m.second->packing == m.fastening.packing &&
           m.second->assembly.bedding == m.fastening.assembly.bedding,
       "one base lies on one pad");
  validate_base(other, u);
  const Length widest =
      std::max(geometry::widest_hole(m.fastening), geometry::widest_hole(*m.second));
  for (const PlanPoint& a : m.fastening.holes) {
    for (const PlanPoint& b : m.second->holes) {
      rule(std::hypot((a.x - b.x).value(), (a.y - b.y).value()) > widest.value(),
           "two holes run into each other");
    }
  }
}

void validate_plate(const Setup& s) {
  const GunwalePlate& m = s.plate();
  validate_base(m, s.units,
                m.bracket ? BaseWords{"plate", "middle of the fasteners"} : BaseWords{});
  validate_second(m, s.units);
  validate_bracket(m, s.units);
  rule(!geometry::bed_of(m).empty(), "the base does not touch the wall");
  rule(!s.gear.empty() && s.gear.size() <= 4, "one to four gears sit on a gunwale plate");
  for (const Gear& g : s.gear) {
    validate_gear(g);
    rule(!g.foot,
         "a gear on a gunwale plate has no foot of its own: its base is that of the mount");
  }
  const std::vector<BrokenRule> broken = broken_gear_rules(s);
  if (!broken.empty()) throw DomainError(broken.front().text);
}

}  // namespace

namespace {

void validate_boat(const BoatData& b) {
  above_zero(b.length, "the length of the boat");
  above_zero(b.beam, "the beam of the boat");
  above_zero(b.freeboard, "the freeboard of the boat");
  above_zero(b.loaded_mass, "the loaded mass of the boat");
  above_zero(b.waterline_length, "the waterline length of the boat");
  above_zero(b.waterline_beam, "the waterline beam of the boat");
  above_zero(b.chine_beam, "the chine beam of the boat");
  rule(b.deadrise.value() >= 0 && b.deadrise < degrees(90), "the deadrise lies in 0 to 90 deg");
  rule(b.wave_height.value() >= 0 && std::isfinite(b.wave_height.value()),
       "the wave height must not be negative");
  rule(b.mount_from_stern.value() >= 0 && b.mount_from_stern <= b.length,
       "the mount lies between the stern and the bow");
  rule(b.wind.has_value() == b.fetch.has_value(), "wind and fetch are given both or not at all");
  if (b.wind) above_zero(*b.wind, "the wind");
  if (b.fetch) above_zero(*b.fetch, "the fetch");
  if (b.top_speed) above_zero(*b.top_speed, "the top speed");
  if (b.centre_height) above_zero(*b.centre_height, "the height of the centre of gravity");
  if (b.lean_test) {
    above_zero(b.lean_test->moved, "the mass moved in the lean test");
    above_zero(b.lean_test->across, "the distance of the lean test");
    rule(b.lean_test->heel.value() > 0 && b.lean_test->heel < degrees(45),
         "the heel of the lean test lies in 0 to 45 deg");
  }
}

void validate_use(const Setup& s) {
  const auto peak_is_sane = [](double g) { return g >= 0 && g <= 20; };
  rule(!s.use.running_peak || peak_is_sane(*s.use.running_peak),
       "the peak of running lies in 0 to 20 g");
  rule(s.use.hours_per_season > 0 && std::isfinite(s.use.hours_per_season),
       "the hours in a season must be above zero");
  rule(s.use.road_hours_per_season >= 0 && std::isfinite(s.use.road_hours_per_season),
       "the hours on the road in a season must not be negative");
  rule(
      !s.use.water_temperature || (*s.use.water_temperature >= 0 && *s.use.water_temperature <= 35),
      "the water temperature lies in 0 to 35 deg C");
  for (const CaseEdit& e : s.case_edits) {
    if (e.pull) above_zero(*e.pull, "the pull of a load case");
    rule(!e.peak || peak_is_sane(*e.peak), "the peak of a load case lies in 0 to 20 g");
    if (e.range) {
      const auto sane = [](Angle from, Angle to, double most) {
        return from <= to && from.value() >= -most - 1e-9 && to.value() <= most + 1e-9;
      };
      rule(sane(e.range->azimuth_from, e.range->azimuth_to, 2 * std::numbers::pi) &&
               sane(e.range->dip_from, e.range->dip_to, 0.5 * std::numbers::pi),
           "directions of a load case go from less to more, dips within 90 deg");
    }
  }
}

}  // namespace

void validate(const Setup& s) {
  if (s.boat) validate_boat(*s.boat);
  validate_use(s);
  if (s.on_board()) {
    validate_board(s);
  } else {
    validate_plate(s);
  }
  for (const auto& [group, factor] : s.factor_overrides) {
    rule(factor > 0 && std::isfinite(factor), "the factor for " + group + " must be above zero");
  }
}

}  // namespace thole
