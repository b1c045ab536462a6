// Parts of a cross-board.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/parts.hpp"

namespace thole::parts {
namespace {

using namespace literals;

std::string measures(const Builder& b, std::initializer_list<Length> sizes) {
  std::string out;
  for (const Length& v : sizes) out += (out.empty() ? "" : " x ") + b.shown(v);
  return out;
}

std::string material_of(const std::optional<Wood>& wood, const std::optional<Metal>& metal) {
  if (wood) return wood->name;
  if (metal && !metal->name.empty()) return metal->name;
  return "not known";
}

// Thickness that a bolt down through the board passes.
Stack through_board(const Builder& b, const BoardPiece& board) {
  Stack s = b.stack();
  s.add("board", board.thickness);
  return s;
}

void add_piece(Builder& b, const BoardPiece& p) {
  const bool guess =
      b.guessed("mount.board", {"thickness", "width", "length", "wall", "diameter"}) ||
      b.guessed("mount", {"clear_width"});
  Cut c;
  c.what = "board";
  c.material = material_of(p.wood, p.metal);
  c.length = p.length;
  c.width = p.width;
  c.thickness = p.thickness;
  c.assumed = guess;
  c.lumber = p.wood.has_value();
  switch (p.form) {
    case BoardForm::plank:
    case BoardForm::plank_with_strip: {
      if (!p.wood) {
        c.section = "flat bar " + measures(b, {p.width, p.thickness});
        break;
      }
      const Lumber l = lumber_of(b.library(), p.width, p.thickness, b.units());
      c.section = l.name;
      c.market = l.market;
      c.why = std::string("laid ") + (p.width < p.thickness ? "on edge" : "flat") +
              ", grain along it; no split, no knot in the middle third";
      break;
    }
    case BoardForm::rectangular_tube:
      c.section = "rectangular tube " + measures(b, {p.width, p.thickness, p.wall});
      break;
    case BoardForm::round_tube:
      c.section = "round tube " + measures(b, {p.width, p.wall});
      break;
    case BoardForm::channel_down:
    case BoardForm::channel_up:
      c.section = "channel " + measures(b, {p.width, p.thickness, p.wall});
      break;
  }
  if (!c.lumber) {
    c.market = metal_market(b.units());
    c.why = "deburr the ends, close them with plugs that drain";
  }
  b.cut(c);
  if (p.wood && p.wood->name.find("unknown") != std::string::npos) {
    b.note(
        "the wood of the board is not known: buy it with a grade stamp and write that into the "
        "file");
  }
  if (p.form != BoardForm::plank_with_strip) return;
  Cut strip = c;
  strip.what = "strip";
  strip.width = p.strip_depth;
  strip.thickness = p.strip_thickness;
  const Lumber l = lumber_of(b.library(), p.strip_depth, p.strip_thickness, b.units());
  strip.section = l.name;
  strip.market = l.market;
  strip.why = "on edge below the board, glued and bolted; cut it back where the board bears";
  b.cut(strip);
  b.note("glue and bolts of the strip are not in the file, nor checked");
}

// ---- Ledges

std::string ledge_path(const Builder& b, Side side) {
  const std::string both = "mount.ledges.both";
  const bool has_both = std::any_of(b.setup().inputs.begin(), b.setup().inputs.end(),
                                    [&](const Input& i) { return i.path.rfind(both, 0) == 0; });
  return has_both ? both : "mount.ledges." + std::string(word_for(side));
}

void add_ledge_bolts(Builder& b, const Ledge& l, const std::string& path) {
  if (!l.fastening) {
    b.note("bolts of the ledges are not in the file: neither listed nor checked");
    return;
  }
  const LedgeFastening& f = *l.fastening;
  Stack s = b.stack();
  s.add("ledge", l.leg_thickness);
  s.add("hull", f.hull_thickness);
  if (f.backing) s.add("backing", f.backing->thickness);
  Through t;
  t.of = "the ledges";
  t.thread = f.thread;
  t.material = f.material;
  t.count = f.count;
  t.assembly = f.assembly;
  if (f.washer) t.washer = washer_words(f.washer->name);
  t.assumed = b.guessed(path, {"leg_thickness"}) ||
              b.guessed(path + ".fastening", {"hull_thickness", "behind.thickness"});
  b.through(t, s);
  if (f.backing) {
    b.plate_behind("plate behind the hull", *f.backing, 1,
                   "round corners, at least 6 mm (1/4 in), no hard edge on the hull",
                   b.guessed(path + ".fastening.behind", {"thickness", "fore_aft", "athwart"}));
  }
}

bool same_angle(const Ledge& a, const Ledge& b) {
  return a.kind == b.kind && a.along == b.along && a.fore_aft == b.fore_aft &&
         a.leg_thickness == b.leg_thickness && a.metal.has_value() == b.metal.has_value() &&
         (!a.metal || a.metal->name == b.metal->name) &&
         (a.fastening ? a.fastening->foot_below : Length{}) ==
             (b.fastening ? b.fastening->foot_below : Length{});
}

void add_ledge(Builder& b, const Ledge& l, Side side, int count) {
  const std::string name =
      count == 2 ? std::string("ledge") : std::string(word_for(side)) + " ledge";
  const std::string path = ledge_path(b, side);
  if (l.kind == LedgeKind::gunwale_top) return;
  if (l.kind == LedgeKind::saddle) {
    PartRow r;
    r.kind = PartKind::cut;
    r.what = count == 2 ? "saddle" : std::string(word_for(side)) + " saddle";
    r.material = "material not in the file";
    r.count = count;
    r.length = l.fore_aft;
    r.width = l.along;
    r.stock = "block, each at least " + measures(b, {l.fore_aft, l.along});
    r.why = "its height is not in the file";
    r.assumed = b.guessed(path, {"fore_aft", "along"});
    r.shelf = "chandlery";
    b.offcut(std::move(r));
    b.note("height, material and fastening of the saddles are not in the file");
    return;
  }
  const Length upright = l.fastening ? l.fastening->foot_below : Length{};
  Cut c;
  c.what = name;
  c.material = material_of(std::nullopt, l.metal);
  c.count = count;
  c.length = l.fore_aft;
  c.width = l.along;
  c.thickness = l.leg_thickness;
  c.section = angle_of(b.library(), l.along, l.leg_thickness, upright, b.units());
  c.market = metal_market(b.units());
  c.why = std::string("upright leg ") + (l.root_outboard ? "outboard" : "inboard") +
          " of the seat; deburr, round the corners that hands meet";
  c.assumed = b.guessed(path, {"along", "leg_thickness", "fore_aft"});
  b.cut(c);
  if (l.flare.value() > 0 && l.packed) {
    PartRow r;
    r.kind = PartKind::cut;
    r.what = "wedge under the board";
    r.material = "hard plastic or hardwood";
    r.count = count;
    r.length = l.fore_aft;
    r.width = l.along;
    r.stock = "block, each at least " + measures(b, {l.fore_aft, l.along});
    r.why = "takes up " + show(l.flare) + " of flare: from nothing at the inner edge to " +
            b.shown(std::tan(l.flare.value()) * l.along);
    r.assumed = b.guessed(path, {"flare"});
    r.shelf = "chandlery";
    b.offcut(std::move(r));
  }
}

// ---- Hold-downs

// Under the board of a hold-down: only an angle says how thick it is.
void add_seat(Stack& s, const Ledge& l) {
  if (l.kind == LedgeKind::angle && l.leg_thickness.value() > 0) {
    s.add("ledge", l.leg_thickness);
    return;
  }
  s.add_unknown(l.kind == LedgeKind::saddle ? "the saddle" : "the gunwale");
}

// Where the seat falls away outboard, a wedge or a gap lies between it and the board.
Length under_the_board(const HoldDown& h, const Ledge& l) {
  const Length flared = std::tan(l.flare.value()) * std::max<Length>(h.place.outboard, Length{});
  return std::max<Length>(flared - h.standoff, Length{});
}

// "forged collar" of "forged collar M12".
std::string kind_of_eye(const HoldDown& h) {
  const std::string& name = h.eye->name;
  const std::string size = " " + h.thread.name;
  const bool sized =
      name.size() > size.size() && name.compare(name.size() - size.size(), size.size(), size) == 0;
  return sized ? name.substr(0, name.size() - size.size()) : name;
}

void add_u_bolt(Builder& b, const HoldDown& h, const CrossBoard& m) {
  const Length leg = m.board.thickness + washer_thickness(h.thread) + nut_height(h.thread) +
                     2.0 * h.thread.pitch + h.standoff + under_the_board(h, m.ledge(h.place.side));
  PartRow r;
  r.kind = PartKind::fastener;
  r.what = "U-bolt " + h.thread.name + " round the board, inside at least " +
           b.shown(m.board.width) + " wide, legs at least " + b.shown(leg) + " and the ledge";
  r.material = h.material.name;
  r.count = 1;
  r.assumed = true;
  r.shelf = "bolts";
  r.why = "the hold-downs: board, washer, nut, two threads";
  b.row(std::move(r));
  b.small(PartKind::fastener, "locknut " + h.thread.name, 2, "two on each U-bolt", "bolts",
          h.material.name);
  b.small(PartKind::fastener, "plain washer " + h.thread.name, 2, "the hold-downs, under the nuts",
          "bolts", h.material.name);
}

void add_pin(Builder& b, const HoldDown& h, const CrossBoard& m) {
  Stack s = through_board(b, m.board);
  s.add("wedge or gap", under_the_board(h, m.ledge(h.place.side)));
  add_seat(s, m.ledge(h.place.side));
  PartRow r;
  r.kind = PartKind::fastener;
  r.what = "pin " + b.shown(h.thread.diameter) + ", at least " +
           b.shown(s.known() + h.thread.diameter) +
           (s.unknown().empty() ? "" : " and " + s.unknown()) + " long, with its clip";
  r.material = h.material.name;
  r.count = 1;
  r.shelf = "bolts";
  r.why = "the hold-downs: " + s.words() + " + one diameter for the clip";
  r.assumed = !s.unknown().empty();
  b.row(std::move(r));
}

void add_hold_down(Builder& b, const HoldDown& h, const CrossBoard& m) {
  if (h.kind == HoldDownKind::u_bolt) return add_u_bolt(b, h, m);
  if (h.kind == HoldDownKind::pin) return add_pin(b, h, m);
  Stack s = through_board(b, m.board);
  s.add("packing", h.standoff);
  const Ledge& seat = m.ledge(h.place.side);
  s.add(seat.packed ? "wedge" : "gap of the flare", under_the_board(h, seat));
  s.add("slack", h.slack);
  add_seat(s, seat);
  Through t;
  t.of = "the hold-downs";
  const bool eye = h.kind == HoldDownKind::eye_bolt;
  if (eye) t.head = h.eye ? "eye bolt, " + kind_of_eye(h) + "," : "eye bolt";
  if (eye && h.eye && h.eye->name.find("collar") != std::string::npos) {
    // Shanks of DIN 580, from memory: 13, 17 and 20.5 mm.
    b.note(
        "collar eyes of the usual kind have a shank of 13 mm (M8) to 20 mm (M12): for a board "
        "ask for a long shank of the same rating, no longer nut or welded rod");
  }
  t.thread = h.thread;
  t.material = h.material;
  t.count = 1;
  t.assembly = h.assembly;
  if (h.washer.value() > 0) t.head_washer = wide_washer(b.library(), h.thread, h.washer, b.units());
  t.assumed = b.guessed("mount.board", {"thickness"}) ||
              b.guessed("mount.hold_downs", {"standoff", "slack"}) ||
              b.guessed(ledge_path(b, h.place.side), {"leg_thickness", "flare"});
  b.through(t, s);
}

// ---- Legs

bool same_leg(const Leg& a, const Leg& b) {
  return a.length == b.length && a.fore_aft == b.fore_aft && a.athwart == b.athwart &&
         a.wall == b.wall && material_of(a.wood, a.metal) == material_of(b.wood, b.metal) &&
         a.foot_forward == b.foot_forward && a.foot_outboard == b.foot_outboard &&
         a.foot_slope == b.foot_slope;
}

void add_leg(Builder& b, const Leg& l, int count, const std::string& name) {
  const double aside = std::hypot(l.foot_forward.value(), l.foot_outboard.value());
  const double lean = std::asin(std::min(0.995, aside / l.length.value()));
  const Angle leans = lean * si::radian;
  Cut c;
  c.what = name;
  c.material = material_of(l.wood, l.metal);
  c.count = count;
  c.length = l.length;
  c.width = std::max(l.fore_aft, l.athwart);
  c.thickness = std::min(l.fore_aft, l.athwart);
  c.on_top = std::tan(lean) * c.width;
  c.lumber = l.wood.has_value();
  if (l.wood) {
    const Lumber found = lumber_of(b.library(), l.fore_aft, l.athwart, b.units());
    c.section = found.name;
    c.market = found.market;
  } else {
    c.section = (l.wall ? "tube " + measures(b, {c.width, c.thickness, *l.wall})
                        : "bar " + measures(b, {c.width, c.thickness}));
    c.market = metal_market(b.units());
  }
  c.why = "length along its middle, top to foot";
  if (leans > 0.5_deg) c.why += "; cut the top " + show(leans) + " off square, it leans";
  if (l.foot_slope > 0.5_deg || leans > 0.5_deg) c.why += "; fit the foot to what it stands on";
  c.why += "; cut it long, fit it at the boat";
  c.assumed = b.guessed("mount.legs", {"length", "fore_aft", "athwart", "wall", "foot_forward",
                                       "foot_outboard", "foot_slope"});
  b.cut(c);
  if (l.foot_held) {
    b.note("the block or screw that holds the foot of a leg is in the file by name only");
  }
}

void add_legs(Builder& b, const std::vector<Leg>& legs) {
  std::vector<bool> done(legs.size(), false);
  const bool all_alike =
      std::all_of(legs.begin(), legs.end(), [&](const Leg& l) { return same_leg(l, legs[0]); });
  for (std::size_t i = 0; i < legs.size(); ++i) {
    if (done[i]) continue;
    int count = 0;
    for (std::size_t k = i; k < legs.size(); ++k) {
      if (!done[k] && same_leg(legs[k], legs[i])) {
        done[k] = true;
        ++count;
      }
    }
    add_leg(b, legs[i], count, all_alike ? "leg" : legs[i].name);
  }
  if (!legs.empty()) b.note("how the legs are fastened to the board is not in the file");
}

// ---- Gear

void add_gear(Builder& b, const Gear& g, const CrossBoard& m) {
  if (!g.foot) {
    b.note("a gear has no foot in the file: how it is bolted to the board is not listed");
    return;
  }
  const GearFoot& f = *g.foot;
  Stack s = through_board(b, m.board);
  if (f.plate) s.add("plate below", f.plate->thickness);
  s.add_unknown("the foot of the gear");
  Through t;
  t.of = "the gear";
  t.thread = f.thread;
  t.material = f.material;
  t.count = int(f.holes.size());
  if (f.washer.value() > 0) t.washer = wide_washer(b.library(), f.thread, f.washer, b.units());
  b.through(t, s);
  if (!f.plate) return;
  b.plate_behind("plate under the gear", *f.plate, 1,
                 "under the board; round corners, at least 6 mm (1/4 in)",
                 b.guessed("gear.foot.plate", {"thickness", "fore_aft", "athwart"}));
}

}  // namespace

void add_board(Builder& b) {
  const CrossBoard& m = b.setup().board();
  add_piece(b, m.board);
  if (same_angle(m.port, m.starboard)) {
    add_ledge(b, m.port, Side::port, 2);
  } else {
    add_ledge(b, m.port, Side::port, 1);
    add_ledge(b, m.starboard, Side::starboard, 1);
  }
  for (const Side side : {Side::port, Side::starboard}) {
    if (m.ledge(side).kind == LedgeKind::angle) {
      add_ledge_bolts(b, m.ledge(side), ledge_path(b, side));
    }
  }
  for (const HoldDown& h : m.hold_downs) add_hold_down(b, h, m);
  add_legs(b, m.legs);
  for (const Gear& g : b.setup().gear) add_gear(b, g, m);
  b.note("heads of bolts are not in the file: hexagon heads, flat underneath");
}

}  // namespace thole::parts
