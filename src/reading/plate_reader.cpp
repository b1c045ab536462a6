#include <algorithm>

#include "reading/setup_parts.hpp"

namespace thole::reading {

constexpr auto assumed = Knowledge::assumed;

namespace {

Host read_host(Fields f, const MaterialLibrary& library, bool weld) {
  Host h;
  const std::string form = f.choice({"form", "form of the wall",
                                     "closed_section: a flat between two bends; open_lip: a "
                                     "flange with a free edge; sheet: a wide sheet"},
                                    {"closed_section", "open_lip", "sheet"}, true)
                               .value;
  h.form = form == "open_lip" ? WallForm::open_lip
           : form == "sheet"  ? WallForm::sheet
                              : WallForm::closed_section;
  if (auto m = read_metal(f,
                          {"alloy", "wall alloy",
                           "metal of the wall by its name in the tables, "
                           "or {name, ultimate, yield, source}",
                           assumed},
                          true, library, weld)) {
    h.metal = *m;
  }
  h.thickness =
      f.need<Length>({"thickness", "wall thickness", "metal only, no paint", assumed}).value;
  refuse_thick(f, h.thickness);
  const auto flat = f.optional<Length>(
      {"flat", "width of the flat", "across the flat, edge to edge (closed_section, open_lip)"});
  if (flat) h.flat = flat->value;
  if (!f.has("flat") && !f.describing() && form != "sheet" && !form.empty() &&
      f.node() != nullptr) {
    f.complain_here(f.path() + ".flat is missing: width of the flat, a length, for example 2 in");
  }
  if (form == "closed_section" && flat && h.thickness.value() > 0 &&
      2.0 * h.thickness >= flat->value) {
    f.complain(*f.node()->find("thickness"),
               f.path() +
                   ".thickness: two such walls leave no room in a section as wide as its "
                   "flat");
  }
  h.lip_root_inboard = f.choice({"root", "side the lip hangs on", "open_lip: inboard or outboard"},
                                {"inboard", "outboard"}, false)
                           .value != "outboard";
  if (form == "open_lip" && f.node() != nullptr && !f.has("root")) {
    f.complain_here(f.path() + ".root is missing: side the lip hangs on, inboard or outboard");
  }
  if (auto v = f.optional<Length>({"to_support", "base centre to the nearest stiffener",
                                   "sheet: distance to the nearest rib, bend or stiffener"})) {
    h.to_support = v->value;
  } else if (form == "sheet" && f.node() != nullptr && !f.has("to_support")) {
    f.complain_here(f.path() +
                    ".to_support is missing: base centre to the nearest stiffener, a "
                    "length, for example 4 in");
  }
  if (auto v =
          f.optional<Length>({"to_end", "base centre to the free end of the wall",
                              "fore or aft, the nearer; leave out when the end is far or capped "
                              "and welded"})) {
    h.to_end = v->value;
  }
  if (auto v = f.optional<Angle>({"slope", "slope of the wall toward outboard",
                                  "0 level; 90 deg a face that looks outboard"},
                                 Sign::any)) {
    h.slope = v->value;
  }
  h.screw_channel =
      f.choice({"holes", "what the fasteners enter",
                "round: drilled holes; screw_channel: an open channel of an extrusion"},
               {"round", "screw_channel"}, false)
          .value == "screw_channel";
  if (form == "closed_section" || form == "open_lip") {
    complain_at(f, "to_support", ": belongs to form: sheet, but the form is " + form);
  }
  if (form == "closed_section" || form == "sheet") {
    complain_at(f, "root", ": belongs to form: open_lip, but the form is " + form);
  }
  f.finish();
  return h;
}

BasePlate read_base(Fields f, const MaterialLibrary& library, const Host& host, Angle& turned) {
  BasePlate b;
  const BaseShape shape = read_base_shape(f);
  b.outline = shape.outline;
  turned = shape.turn;
  const Key material{"material", "base material",
                     "metal of the base, or \"not known\" for plastic or unknown"};
  const Node* m = f.node() != nullptr ? f.node()->find("material") : nullptr;
  if (m != nullptr && m->kind == Node::Kind::text && m->text == "not known") {
    (void)f.text(material, false);
  } else {
    b.metal = read_metal(f, material, true, library, false);
  }
  if (auto v = f.optional<Length>({"thickness", "base thickness", "of the plate itself"})) {
    b.thickness = v->value;
    refuse_thick(f, b.thickness);
  } else if (b.metal && f.node() != nullptr && !f.has("thickness")) {
    f.complain_here(f.path() +
                    ".thickness is missing: base thickness, a length, for example 1/8 "
                    "in");
  }
  if (auto v = f.optional<Length>({"body", "foot of the body on the base",
                                   "smaller width of the tube, boss or post where it meets the "
                                   "base"})) {
    b.body = v->value;
    if (!b.outline.empty() && *b.body > shape.smaller_size) {
      complain_at(f, "body", ": wider than the base");
    }
  }
  if (auto v = f.optional<Length>({"from_inboard_edge", "base centre from the inboard edge",
                                   "on the flat; middle when left out"},
                                  Sign::not_negative)) {
    b.from_inboard_edge = v->value;
  } else {
    b.from_inboard_edge = 0.5 * host.flat;
  }
  f.finish();
  return b;
}

Fastening read_fastening(Fields f, const MaterialLibrary& library, Angle turned) {
  Fastening out;
  const std::string hold =
      f.choice({"hold", "how the fasteners hold",
                "tapped: threads in the wall; tapped_bar: threads in a bar behind it; "
                "through_bolt: nuts behind"},
               {"tapped", "tapped_bar", "through_bolt"}, true)
          .value;
  out.hold = hold == "tapped_bar"     ? HoldBy::tapped_bar
             : hold == "through_bolt" ? HoldBy::through_bolt
                                      : HoldBy::tapped;
  out.thread = read_thread(f, library);
  out.material = read_fastener_material(f, library);
  if (auto v = f.optional<Length>({"head", "head or washer on the base",
                                   "diameter; the hexagon of the thread when left out"})) {
    out.head = v->value;
    const Length d = out.thread.diameter;
    if (d.value() > 0 && (out.head <= d || out.head > 10.0 * d)) {
      complain_at(f, "head", ": a head or washer is 1 to 10 times as wide as its thread");
    }
  } else {
    out.head = out.thread.head_across_flats;
  }
  out.countersunk_wall =
      f.choice({"countersunk_wall", "chamfer on the tapped hole", "takes half a thread away"},
               {"yes", "no"}, false)
          .value == "yes";
  if (auto name = f.text({"washer", "washer under the nut", "through_bolt: its name in the tables"},
                         false)) {
    out.washer = look_up(f, "washer", [&] { return library.washer(name->value); });
    if (hold == "tapped" || hold == "tapped_bar") {
      f.complain(*f.node()->find("washer"),
                 f.path() + ".washer: lies under a nut, but there is none; hold: through_bolt");
    }
  }
  const Holes holes = read_holes(f);
  out.holes = holes.points;
  out.rows_along_sides = holes.rows_along_sides;
  turn(out.holes, turned);
  out.backing = read_backing(f,
                             {"behind", "plate or bar behind the wall",
                              "backing plate of through bolts, or the tapped bar"},
                             out.hold == HoldBy::tapped_bar, library, "behind the wall");
  if (hold == "tapped" && out.backing) {
    f.complain(*f.node()->find("behind"),
               f.path() +
                   ".behind: threads in the wall itself leave the plate behind it unused; "
                   "hold: tapped_bar or through_bolt");
  }
  f.finish();
  return out;
}

}  // namespace

GunwalePlate read_plate(Fields& m, const MaterialLibrary& library, bool weld) {
  GunwalePlate out;
  ObjectSchema host_schema;
  const Key host{"host", "the wall of the boat", "what the fasteners enter"};
  out.host = read_host(m.map(host, true, &host_schema), library, weld);
  m.close(host, host_schema);
  Angle turned{};
  ObjectSchema base_schema;
  const Key base{"base", "the base plate", "what sits on the wall"};
  out.base = read_base(m.map(base, true, &base_schema), library, out.host, turned);
  m.close(base, base_schema);
  ObjectSchema fastening_schema;
  const Key fastening{"fastening", "the fastening", "like fasteners and how they hold"};
  out.fastening = read_fastening(m.map(fastening, true, &fastening_schema), library, turned);
  m.close(fastening, fastening_schema);
  if (out.base.outline.size() == 4 && out.fastening.rows_along_sides) {
    out.base.sides_turned = turned;
  }
  return out;
}

}  // namespace thole::reading
