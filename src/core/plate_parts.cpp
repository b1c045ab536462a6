// Parts of a gunwale plate or a bracket.

#include <algorithm>
#include <cmath>

#include <thole/error.hpp>

#include "core/parts.hpp"

namespace thole::parts {
namespace {

using namespace literals;

// Fastenings of the plate itself, of its second kind, of a fitting under it.
struct Where {
  std::string path;
  std::string of;
};

bool no_thickness(const BasePlate& base) { return !(base.thickness.value() > 0); }

Stack above_host(const Builder& b, const Fastening& f, const BasePlate& base,
                 const std::string& name) {
  Stack s = b.stack();
  if (no_thickness(base)) {
    s.add_unknown("the " + name);
  } else {
    s.add(name, base.thickness);
  }
  s.add("packing", f.packing);
  return s;
}

std::string host_word(const Host& host) {
  return host.is_metal() ? "wall" : std::string(word_for(host.kind));
}

bool guessed_stack(const Builder& b, const Where& w) {
  return b.guessed("mount.host", {"thickness", "skin_top", "skin_below", "core_thickness"}) ||
         b.guessed("mount.base", {"thickness"}) ||
         b.guessed(w.path, {"packing", "behind.thickness"});
}

// The checks reckon with a head as wide as the file has it: wider than that of the thread it is a
// washer.
std::string head_washer(const Builder& b, const Fastening& f) {
  if (f.head <= 1.1 * f.thread.head_across_flats) return "";
  return wide_washer(b.library(), f.thread, f.head, b.units());
}

// The washer of the file.
std::string washer_word(const Fastening& f) { return f.washer ? washer_words(f.washer->name) : ""; }

void add_backing(Builder& b, const Fastening& f, const Where& w) {
  if (!f.backing) return;
  const bool bar = f.hold == HoldBy::tapped_bar || f.hold == HoldBy::thread_insert;
  b.plate_behind(bar ? "tapped bar" : "backing plate", *f.backing, 1,
                 bar ? "behind the wall, tapped; round off what a hand may reach"
                     : "behind the " + host_word(b.setup().plate().host) +
                           "; round corners, at least 6 mm (1/4 in), no hard edge",
                 b.guessed(w.path, {"behind.thickness", "behind.fore_aft", "behind.athwart"}));
}

void through_bolts(Builder& b, const Fastening& f, const BasePlate& base, const Where& w,
                   const std::string& base_name) {
  const Host& host = b.setup().plate().host;
  Stack s = above_host(b, f, base, base_name);
  s.add(host_word(host), host.thickness);
  if (f.backing) s.add("backing", f.backing->thickness);
  Through t;
  t.of = w.of;
  t.thread = f.thread;
  t.material = f.material;
  t.count = int(f.holes.size());
  t.assembly = f.assembly;
  t.washer = washer_word(f);
  t.head_washer = head_washer(b, f);
  t.assumed = guessed_stack(b, w);
  b.through(t, s);
}

void screws_in_metal(Builder& b, const Fastening& f, const BasePlate& base, const Where& w,
                     const std::string& base_name) {
  const Host& host = b.setup().plate().host;
  const int n = int(f.holes.size());
  const bool guess = guessed_stack(b, w);
  Stack s = above_host(b, f, base, base_name);
  const Thread& t = f.thread;
  const std::string under_heads = head_washer(b, f);
  s.add("washer", thickness_of(under_heads, t));
  if (!under_heads.empty()) {
    b.small(PartKind::fastener, under_heads, n,
            w.of + ", under the heads, unless these are as wide", "bolts", f.material.name);
  }
  const bool nut = f.assembly.locking == Locking::nut;
  const Length showing =
      2.0 * t.pitch + (nut ? Length(nut_height(t) + washer_thickness(t)) : Length{});
  const std::string with_nut = nut ? ", washer and locknut" : "";
  if (nut) {
    b.small(PartKind::fastener, "locknut " + t.name, n, "behind the threads", "bolts",
            f.material.name);
    b.small(PartKind::fastener, "plain washer " + t.name, n, w.of + ", under the nuts", "bolts",
            f.material.name);
  }
  switch (f.hold) {
    case HoldBy::tapped:
      s.add("wall", host.thickness);
      b.screw("machine screw", w.of, t, f.material, n, s, showing,
              "two threads beyond the wall" + with_nut, guess);
      b.note("screws end " + b.shown(showing) +
             " or more behind the wall: look what is there before you buy them longer");
      return;
    case HoldBy::tapped_bar:
      s.add("wall", host.thickness);
      if (f.backing) s.add("bar", f.backing->thickness);
      b.screw("machine screw", w.of, t, f.material, n, s, showing,
              "two threads beyond the bar" + with_nut, guess);
      b.note("screws must reach through the bar and not press on what lies behind it");
      return;
    case HoldBy::thread_insert: {
      if (f.backing) s.add("wall", host.thickness);
      s.add("insert", f.insert ? f.insert->length : Length{});
      b.screw("machine screw", w.of, t, f.material, n, s, showing, "two threads" + with_nut, guess);
      if (f.insert) {
        b.small(PartKind::fastener,
                std::string(f.insert->solid ? "solid, keyed thread insert " : "coil insert ") +
                    t.name + " x " + b.shown(f.insert->length),
                n, w.of, "bolts", f.insert->solid ? "as its maker has it" : "stainless");
      }
      return;
    }
    case HoldBy::blind_insert: {
      s.add("wall", host.thickness);
      b.screw("machine screw", w.of, t, f.material, n, s, 1.5 * t.diameter,
              "1.5 D for the insert's thread (judgement: its sheet tells)", true);
      if (f.blind) {
        static const char* const metals[] = {"aluminium", "steel", "stainless"};
        b.small(PartKind::fastener,
                "threaded rivet insert " + t.name + ", grip range with " + b.shown(host.thickness) +
                    " in it",
                n, w.of + ", hole " + b.shown(f.blind->hole), "bolts", metals[int(f.blind->metal)]);
      }
      return;
    }
    case HoldBy::self_tapping:
      s.add("wall", host.thickness);
      b.screw("self-tapping screw", w.of, t, f.material, n, s, t.diameter,
              "one diameter for the point", guess);
      return;
    default:
      throw InternalError("a screw in metal that is none");
  }
}

void screws_in_wood(Builder& b, const Fastening& f, const Where& w) {
  const bool lag = f.hold == HoldBy::lag_screw;
  const std::string head = lag ? "lag screw " : "wood screw ";
  PartRow r;
  r.kind = PartKind::fastener;
  r.what = head + f.thread.name + " x " + b.shown(f.length);
  r.material = f.material.name;
  r.count = int(f.holes.size());
  r.length = f.length;
  r.shelf = "bolts";
  r.why = w.of + ": length under the head as in the file";
  r.assumed = b.guessed(w.path, {"length"});
  b.row(std::move(r));
  if (lag) {
    b.small(PartKind::fastener, "plain washer " + f.thread.name, int(f.holes.size()),
            w.of + ", under the heads", "bolts", f.material.name);
  }
  const Host& host = b.setup().plate().host;
  const Length in = f.length - f.packing - b.setup().plate().base.thickness;
  if (in > host.thickness) {
    b.note(head + f.thread.name + " comes out below " + b.shown(host.thickness) +
           " of wood: look what is there");
  }
}

void rivets(Builder& b, const Fastening& f, const BasePlate& base, const Where& w,
            const std::string& base_name) {
  const Host& host = b.setup().plate().host;
  Stack s = above_host(b, f, base, base_name);
  s.add(host_word(host), host.thickness);
  if (f.backing) s.add("backing", f.backing->thickness);
  const bool blind = f.rivet && f.rivet->blind;
  PartRow r;
  r.kind = PartKind::fastener;
  r.count = int(f.holes.size());
  r.material = f.material.name;
  r.shelf = "bolts";
  r.assumed = guessed_stack(b, w) || !s.unknown().empty();
  r.what = std::string(blind ? "blind rivet " : "solid rivet ") + b.shown(f.thread.diameter);
  const std::string more = s.unknown().empty() ? "" : " and " + s.unknown();
  if (blind) {
    r.what += ", grip range with " + b.shown(s.known()) + more + " in it";
  } else {
    r.length = s.known() + 1.5 * f.thread.diameter;
    r.what += ", at least " + b.shown(*r.length) + more + " long";
  }
  r.why = w.of + ": " + s.words() + (blind ? "" : " + 1.5 D to form the head");
  b.row(std::move(r));
}

// Round something of the boat: how far their legs reach is not in the file.
void u_bolts(Builder& b, const Fastening& f, const BasePlate& base, const Where& w) {
  const int n = int(f.holes.size());
  const std::string below = b.shown(base.thickness + washer_thickness(f.thread) +
                                    nut_height(f.thread) + 2.0 * f.thread.pitch);
  const std::string over = b.setup().plate().bracket && b.setup().plate().bracket->fitting
                               ? b.setup().plate().bracket->fitting->name
                               : "fitting";
  PartRow r;
  r.kind = PartKind::fastener;
  r.what =
      "U-bolt " + f.thread.name + ", thread to reach " + below + " past the near side of the plate";
  r.material = f.material.name;
  r.count = n;
  r.assumed = true;
  r.shelf = "bolts";
  r.why = w.of + ", round the " + over + "; plate, washer, nut, two threads";
  b.row(std::move(r));
  b.small(PartKind::fastener, "locknut " + f.thread.name, 2 * n, "two on each U-bolt", "bolts",
          f.material.name);
  b.small(PartKind::fastener, "plain washer " + f.thread.name, 2 * n, w.of + ", under the nuts",
          "bolts", f.material.name);
  b.note("inside width and height of the U-bolts are not in the file: measure over the " + over +
         " before you buy");
}

void add_fastening(Builder& b, const Fastening& f, const BasePlate& base, const Where& w,
                   const std::string& base_name) {
  add_backing(b, f, w);
  switch (f.hold) {
    case HoldBy::through_bolt:
      return through_bolts(b, f, base, w, base_name);
    case HoldBy::lag_screw:
    case HoldBy::wood_screw:
      return screws_in_wood(b, f, w);
    case HoldBy::rivet:
      return rivets(b, f, base, w, base_name);
    case HoldBy::u_bolt:
      return u_bolts(b, f, base, w);
    case HoldBy::clamp:
      b.small(PartKind::fastener, "clamp with a screw of " + f.thread.name, int(f.holes.size()),
              w.of + "; its maker's figure counts, see the file", "bolts", f.material.name);
      return;
    default:
      return screws_in_metal(b, f, base, w, base_name);
  }
}

void add_bracket(Builder& b, const GunwalePlate& m) {
  const Outline& o = m.base.outline;
  const auto span = [&](Length PlanPoint::*axis) {
    const auto [low, high] = std::minmax_element(
        o.begin(), o.end(), [&](const auto& p, const auto& q) { return p.*axis < q.*axis; });
    return Length((*high).*axis - (*low).*axis);
  };
  if (!o.empty()) {
    b.flat_piece("bracket plate", m.base.metal ? *m.base.metal : Metal{}, span(&PlanPoint::x),
                 span(&PlanPoint::y), m.base.thickness, 1,
                 "round corners, at least 6 mm (1/4 in); deburr all edges",
                 b.guessed("mount.base", {"thickness", "fore_aft", "athwart"}));
  }
  int at = 0;
  for (const Stiffener& s : m.bracket->stiffeners) {
    const double long_x = s.to.x.value() - s.from.x.value();
    const double long_y = s.to.y.value() - s.from.y.value();
    Cut c;
    c.what = m.bracket->stiffeners.size() > 1 ? "angle " + std::to_string(++at) + " under the plate"
                                              : "angle under the plate";
    c.material = s.metal.name;
    c.length = std::hypot(long_x, long_y) * si::metre;
    c.width = s.leg;
    c.thickness = s.thickness;
    c.why = "stiffens the plate; deburr the ends";
    c.section = angle_of(b.library(), s.leg, s.thickness, {}, b.units());
    c.market = metal_market(b.units());
    b.cut(c);
    b.note(
        "how the angles are fastened to the plate is not in the file: ask a yard about bolts "
        "and their spacing");
  }
  if (m.bracket->fitting) {
    const Fitting& f = *m.bracket->fitting;
    add_fastening(b, f.fastening, f.foot,
                  {"mount.fitting.fastening", "the " + f.name + " (only if they are renewed)"},
                  "foot of the " + f.name);
  }
}

}  // namespace

void add_plate(Builder& b) {
  const GunwalePlate& m = b.setup().plate();
  const std::string name = m.bracket ? "plate" : "base";
  if (m.bracket) {
    add_bracket(b, m);
  } else {
    b.note("the base comes with its gear: it is not in the list");
    if (no_thickness(m.base)) {
      b.note("the base has no thickness in the file: measure it at the holes before you buy bolts");
    }
  }
  add_fastening(b, m.fastening, m.base, {"mount.fastening", "the " + name}, name);
  if (m.second) {
    add_fastening(b, *m.second, m.base, {"mount.also_fastened", "the other fasteners"}, name);
  }
  if (m.fastening.hold != HoldBy::u_bolt && m.fastening.hold != HoldBy::clamp &&
      m.fastening.hold != HoldBy::rivet) {
    b.note(
        "heads are not in the file: hexagon or pan heads, flat underneath; a countersunk head "
        "only where the base is made for it");
  }
}

}  // namespace thole::parts
