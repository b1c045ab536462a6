#include <algorithm>
#include <array>

#include <thole/wood_strength.hpp>

#include "core/json_text.hpp"
#include "reading/setup_parts.hpp"

namespace thole::reading {

using namespace literals;

constexpr auto assumed = Knowledge::assumed;

namespace {

constexpr std::array<std::string_view, 5> kind_names{"metal_wall", "timber", "plywood", "laminate",
                                                     "cored_panel"};

constexpr Key kind_key{"kind", "kind of host",
                       "metal_wall (when left out); timber: solid wood; plywood; laminate: solid "
                       "fibreglass; cored_panel: two skins on a core"};

// The kind of host; nothing when its word is unknown.
std::optional<HostKind> read_kind(Fields& f) {
  const std::string word = f.choice(kind_key, {kind_names.begin(), kind_names.end()}, false).value;
  if (word.empty()) {
    if (f.has("kind")) return std::nullopt;
    return HostKind::metal_wall;
  }
  for (std::size_t i = 0; i < kind_names.size(); ++i) {
    if (word == kind_names[i]) return HostKind(i);
  }
  return std::nullopt;
}

constexpr Key thickness_key{"thickness", "thickness of the wall",
                            "without paint; timber, panel: the whole piece", assumed};
constexpr Key to_edge_key{"to_edge", "base centre to the nearest edge",
                          "all but metal_wall; timber: the nearest edge along the grain, to the "
                          "side of it"};
constexpr Key to_support_key{"to_support", "base centre to the nearest support",
                             "sheet: to the nearest rib, bend or stiffener; panels: to what "
                             "carries the panel, a bulkhead or the turned edge of a cap"};
constexpr Key punch_key{"punch_shear", "punching strength of the panel",
                        "plywood, laminate, skins: shear through the thickness, with its source"};
constexpr Key bearing_key{"bearing", "bearing strength of the laminate",
                          "laminate, skins: of a bolt on its hole, with its source"};
constexpr Key flexural_key{"flexural", "bending strength of the panel",
                           "plywood, laminate: in bending, across its weaker way; skins: along "
                           "the skin, pulled or pressed; with its source"};

// The gunwale between what ties it to the hull.
void read_bar(Fields& f, Host& h, const std::string& form) {
  ObjectSchema schema;
  const Key key{"bar", "the gunwale between its ties",
                "closed_section, open_lip: the gunwale as a bar that turns; the rolling of the "
                "gunwale is not checked when left out"};
  Fields b = f.map(key, false, &schema);
  if (b.node() != nullptr || b.describing()) {
    const auto between = b.need<Length>({.name = "between_ties",
                                         .label = "gunwale between its ties",
                                         .help = "from the rib, knee, thwart or gusset ahead of "
                                                 "the base to the one behind it",
                                         .example = "30 in"});
    const auto depth = b.need<Length>({.name = "depth",
                                       .label = "depth of the gunwale",
                                       .help = "of its section, square to the flat",
                                       .example = "1 1/2 in"});
    refuse_above(b, "between_ties", between.value, 3.0_m,
                 "above 10 ft (3 m), no gunwale of a small boat runs so far without a tie");
    refuse_above(b, "depth", depth.value, 8.0_in,
                 "above 8 in (200 mm), no gunwale of a small boat");
    if (form == "closed_section" && depth.value.value() > 0 && 2.0 * h.thickness >= depth.value) {
      complain_at(b, "depth", ": two walls of host.thickness leave no room in it");
    }
    if (form == "open_lip" && depth.value.value() > 0 && h.thickness >= depth.value) {
      complain_at(b, "depth", ": not above the thickness of the wall: a lip hangs on a leg");
    }
    if (between.value.value() > 0 && depth.value.value() > 0) {
      h.bar = GunwaleBar{between.value, depth.value};
    }
    b.finish();
  }
  f.close(key, schema);
}

// The keys of a metal wall.
void read_wall(Fields& f, Host& h, const MaterialLibrary& library, bool weld, bool metal) {
  const std::string form = f.choice({"form", "form of the wall",
                                     "metal_wall: closed_section: a flat between two bends; "
                                     "open_lip: a flange with a free edge; sheet: a wide sheet"},
                                    {"closed_section", "open_lip", "sheet"}, metal)
                               .value;
  h.form = form == "open_lip" ? WallForm::open_lip
           : form == "sheet"  ? WallForm::sheet
                              : WallForm::closed_section;
  if (auto m = read_metal(f,
                          {"alloy", "wall alloy",
                           "metal of the wall by its name in the tables, "
                           "or {name, ultimate, yield, source}",
                           assumed},
                          metal, library, weld)) {
    h.metal = *m;
  }
  if (metal) {
    h.thickness =
        f.need<Length>({"thickness", "wall thickness", "metal only, no paint", assumed}).value;
    refuse_thick(f, h.thickness);
  }
  const auto flat = f.optional<Length>(
      {"flat", "width of the flat", "across the flat, edge to edge (closed_section, open_lip)"});
  if (flat) h.flat = flat->value;
  if (metal && !f.has("flat") && !f.describing() && form != "sheet" && !form.empty() &&
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
  if (metal && form == "open_lip" && f.node() != nullptr && !f.has("root")) {
    f.complain_here(f.path() + ".root is missing: side the lip hangs on, inboard or outboard");
  }
  read_bar(f, h, metal ? form : "");
  if (auto v = f.optional<Length>(to_support_key)) {
    h.to_support = v->value;
  } else if (metal && form == "sheet" && f.node() != nullptr && !f.has("to_support")) {
    f.complain_here(f.path() +
                    ".to_support is missing: base centre to the nearest stiffener, a "
                    "length, for example 4 in");
  }
  h.screw_channel =
      f.choice({"holes", "what the fasteners enter",
                "round: drilled holes; screw_channel: an open channel of an extrusion"},
               {"round", "screw_channel"}, false)
          .value == "screw_channel";
  if (metal && (form == "closed_section" || form == "open_lip")) {
    complain_at(f, "to_support", ": belongs to form: sheet, but the form is " + form);
  }
  if (metal && form == "sheet") {
    complain_at(f, "bar", ": belongs to form: closed_section and open_lip, but the form is sheet");
  }
  if (metal && (form == "closed_section" || form == "sheet")) {
    complain_at(f, "root", ": belongs to form: open_lip, but the form is " + form);
  }
}

// `wood: not known` counts as the lowest softwood, as for boards.
constexpr const char* lowest_wood = "unknown softwood";

void read_timber_strength(Fields& f, Host& h, bool incised, const MaterialLibrary& library) {
  WoodHost& w = h.wood;
  if (!w.wood || !(h.thickness.value() > 0) || !(w.width.value() > 0)) return;
  w.specific_gravity = w.wood->specific_gravity;
  w.strength = look_up(f, "wood", [&] {
    return nominal_wood(*w.wood,
                        {.thickness = std::min(h.thickness, w.width),
                         .width = std::max(h.thickness, w.width),
                         .wet = w.wet,
                         .incised = incised},
                        library);
  });
  if (!w.strength) return;
  w.bearing = w.strength->bearing;
  w.connection = w.strength->lateral;
}

// Timber and plywood.
void read_wooden(Fields& f, Host& h, bool timber, bool plywood, const MaterialLibrary& library) {
  WoodHost& w = h.wood;
  if (const auto name = f.text({"wood", "wood and grade",
                                "timber: its name in the tables, as the stamp says; \"not known\" "
                                "takes the lowest softwood",
                                assumed},
                               timber && !f.describing(), timber)) {
    const bool unknown = name->value == "not known";
    if (timber) {
      if (unknown) f.reading().inputs.back().known = assumed;
      w.wood =
          look_up(f, "wood", [&] { return library.wood(unknown ? lowest_wood : name->value); });
    }
  }
  if (auto v = f.optional<Length>({"width", "width of the timber", "across the grain"})) {
    w.width = v->value;
  } else if (timber && !f.has("width")) {
    complain_missing(f, "width", "width of the timber across the grain, for example 3 1/2 in");
  }
  const std::string grain =
      f.choice({"grain", "way of the grain",
                "timber: fore_aft or athwart; a face of end grain holds no mount"},
               {"fore_aft", "athwart"}, false, timber)
          .value;
  w.grain_fore_aft = grain != "athwart";
  if (timber && !f.has("grain")) {
    complain_missing(f, "grain", "which way the grain of the timber runs, fore_aft or athwart");
  }
  const std::string service =
      f.choice({"service", "how wet the wood gets", "wet (when left out): any open boat; or dry"},
               {"wet", "dry"}, false, timber || plywood)
          .value;
  w.wet = service != "dry";
  w.treated = f.choice({"treated", "treated with preservative", "waterborne, often green"},
                       {"yes", "no"}, false, timber || plywood)
                  .value == "yes";
  const bool incised = f.choice({"incised", "incised", "rows of small slits for the preservative"},
                                {"yes", "no"}, false, timber)
                           .value == "yes";
  const std::string plies =
      f.choice({"plies", "kind of plywood",
                "structural_1 or marine, both stamped PS 1; other: stamped PS 1 or PS 2; "
                "not_known, also the light tropical ones"},
               {"structural_1", "marine", "other", "not_known"}, false, plywood)
          .value;
  if (plywood && !f.has("plies")) {
    complain_missing(f, "plies",
                     "kind of plywood by its stamp: structural_1, marine, other or not_known");
  }
  if (timber) read_timber_strength(f, h, incised, library);
  if (plywood) {
    // Gravities that NDS 12.3.3 gives panels; a panel without stamp takes the least of its range.
    w.specific_gravity = plies == "structural_1" || plies == "marine" ? 0.50
                         : plies == "other"                           ? 0.42
                                                                      : 0.31;
    // Bearing on the face of the panel: 360 psi dry (APA), half of it wet.
    w.bearing = library.wood_factor("KF compression_perp") *
                (w.wet ? library.wood_factor("CM plywood bearing") : 1.0) * 360.0_psi;
    w.connection =
        nominal_connection(1.0 * si::newton, ConnectionLoad::lateral, w.wet, library).value();
  }
}

// Skins and core; the thickness of all three.
void read_cored(Fields& f, Host& h, bool cored) {
  PanelHost& p = h.panel;
  const auto top = f.optional<Length>({"skin_top", "upper skin", "thickness", assumed});
  const auto below = f.optional<Length>({"skin_below", "lower skin", "thickness", assumed});
  const auto core_thickness = f.optional<Length>({"core_thickness", "core", "thickness", assumed});
  const auto core = f.text({"core", "what the core is", "balsa, foam, plywood ..."}, false);
  p.core_crush = read_given(f, {"core_crush", "crushing strength of the core",
                                "across the panel, wet as it may be, with its source"});
  const std::string solid =
      f.choice({"solid_at_bolts", "solid plug or sleeve in the core at each bolt",
                "yes: the core is cut out there and filled, or a sleeve takes the clamping"},
               {"yes", "no", "not_known"}, false, cored)
          .value;
  p.solid_at_bolts = solid == "yes";
  if (!cored) return;
  for (const auto& [key, what] :
       {std::pair{"skin_top", "upper skin"}, std::pair{"skin_below", "lower skin"},
        std::pair{"core_thickness", "core"}}) {
    if (!f.has(key)) {
      complain_missing(f, key, std::string("thickness of the ") + what + ", for example 1/8 in");
    }
  }
  if (!f.has("core")) complain_missing(f, "core", "what the core is, in words, as in balsa");
  if (!f.has("solid_at_bolts")) {
    complain_missing(f, "solid_at_bolts",
                     "is the core solid (plug or sleeve) at each bolt: yes, no or not_known");
  }
  if (core) p.core = core->value;
  if (!top || !below || !core_thickness) return;
  p.skin = std::min(top->value, below->value);
  p.between_skins = core_thickness->value + 0.5 * (top->value + below->value);
  h.thickness = top->value + below->value + core_thickness->value;
  for (const char* key : {"skin_top", "skin_below"}) {
    const auto& v = std::string_view(key) == "skin_top" ? top : below;
    refuse_above(f, key, v->value, 1.0_in, "above 1 in (25 mm), no skin of a small boat");
  }
  refuse_above(f, "core_thickness", core_thickness->value, 3.0_in,
               "above 3 in (75 mm), no core of a small boat");
}

// A slipped unit, or another strength of the same data sheet.
void refuse_strong(Fields& f, std::string_view key, const std::optional<GivenStrength>& given,
                   Stress most, const std::string& text) {
  if (!given || !(given->value > most) || given->value.value() > 1e9) return;
  f.complain(*f.node()->find(key)->find("is"), f.path() + "." + std::string(key) + ".is: " + text);
}

// Above what is known of any panel of a boat, dry and new (from memory): glass and epoxy plate
// shears at 130 to 150 MPa through its thickness and bears 250 to 450 MPa, carbon up to 600; birch
// plywood shears at 10 to 14 MPa; the densest end-grain balsa crushes at 26 MPa.
void refuse_too_strong(Fields& f, const Host& h) {
  if (f.node() == nullptr) return;
  const PanelHost& p = h.panel;
  if (h.kind == HostKind::plywood) {
    refuse_strong(f, "punch_shear", p.punch_shear, 15.0_MPa,
                  "above 15 MPa (2.2 ksi), no plywood shears so hard through its thickness; is it "
                  "its bending strength?");
  } else {
    refuse_strong(f, "punch_shear", p.punch_shear, 150.0_MPa,
                  "above 150 MPa (22 ksi), no laminate shears so hard through its thickness; is it "
                  "its tension or bending strength?");
  }
  refuse_strong(f, "bearing", p.bearing, 600.0_MPa,
                "above 600 MPa (87 ksi), no laminate bears so much on a bolt");
  refuse_strong(f, "core_crush", p.core_crush, 40.0_MPa,
                "above 40 MPa (5.8 ksi), no core; is it that of a skin?");
}

// Keys of every host.
void read_place(Fields& f, Host& h, bool timber) {
  if (auto v =
          f.optional<Length>({"to_end", "base centre to the free end of the wall",
                              "fore or aft, the nearer; leave out when the end is far or capped "
                              "and welded; timber: the nearest end of the piece"})) {
    h.to_end = v->value;
  } else if (timber && !f.has("to_end")) {
    complain_missing(f, "to_end", "base centre to the nearest end of the timber, for example 2 ft");
  }
  if (auto v = f.optional<Angle>({"slope", "slope of the wall toward outboard",
                                  "0 level; 90 deg a face that looks outboard"},
                                 Sign::any)) {
    h.slope = v->value;
  }
}

// The schema of a metal wall and that of all others, which needs its kind.
std::string describe_hosts(Reading& reading, const std::string& path, const Key& key,
                           const MaterialLibrary& library) {
  Host h;
  ObjectSchema metal;
  metal.help = key.help;
  Fields m(reading, nullptr, path, &metal);
  (void)m.choice(kind_key, {"metal_wall"}, false);
  read_wall(m, h, library, false, true);
  read_place(m, h, false);
  ObjectSchema other;
  other.help = key.help;
  Fields o(reading, nullptr, path, &other);
  (void)o.choice(kind_key, {kind_names.begin() + 1, kind_names.end()}, true);
  (void)o.optional<Length>(thickness_key);
  (void)o.need<Length>(to_edge_key);
  read_place(o, h, false);
  read_wooden(o, h, false, false, library);
  (void)read_given(o, punch_key);
  (void)read_given(o, bearing_key);
  (void)read_given(o, flexural_key);
  (void)o.optional<Length>(to_support_key);
  read_cored(o, h, false);
  return one_of({metal, other});
}

Host read_host_map(Fields f, const MaterialLibrary& library, bool weld) {
  Host h;
  const std::optional<HostKind> kind = read_kind(f);
  const auto is = [&](HostKind k) { return kind == k && f.node() != nullptr; };
  const bool metal = kind == HostKind::metal_wall;
  const bool timber = is(HostKind::timber);
  const bool plywood = is(HostKind::plywood);
  const bool laminate = is(HostKind::laminate);
  const bool cored = is(HostKind::cored_panel);
  if (kind) h.kind = *kind;
  read_wall(f, h, library, weld, metal);
  if (!metal) {
    if (auto v = f.optional<Length>(thickness_key)) {
      h.thickness = v->value;
      refuse_above(f, "thickness", h.thickness, timber ? 8.0_in : 2.0_in,
                   timber ? "above 8 in (200 mm), no gunwale of a small boat"
                          : "above 2 in (50 mm), no panel of a small boat");
    } else if ((timber || plywood || laminate) && !f.has("thickness")) {
      complain_missing(f, "thickness", "thickness under the base, for example 3/4 in");
    }
  }
  const auto to_edge = f.optional<Length>(to_edge_key);
  if (to_edge) {
    h.to_edge = to_edge->value;
  } else if ((timber || plywood || laminate || cored) && !f.has("to_edge")) {
    complain_missing(f, "to_edge", "base centre to the nearest edge, for example 1 3/4 in");
  }
  read_place(f, h, timber);
  read_wooden(f, h, timber, plywood, library);
  if (timber && to_edge && h.wood.width.value() > 0 && 2.0 * h.to_edge > h.wood.width * 1.000001) {
    complain_at(f, "to_edge", ": the nearest edge lies within half the width of the timber");
  }
  h.panel.punch_shear = read_given(f, punch_key);
  h.panel.bearing = read_given(f, bearing_key);
  h.panel.flexural = read_given(f, flexural_key);
  read_cored(f, h, cored);
  refuse_too_strong(f, h);
  if (kind && f.node() != nullptr) {
    refuse_foreign(f, "kind", std::string(kind_names[std::size_t(*kind)]),
                   {{"form", {"metal_wall"}},
                    {"alloy", {"metal_wall"}},
                    {"flat", {"metal_wall"}},
                    {"root", {"metal_wall"}},
                    {"bar", {"metal_wall"}},
                    {"to_support", {"metal_wall", "plywood", "laminate", "cored_panel"}},
                    {"holes", {"metal_wall"}},
                    {"thickness", {"metal_wall", "timber", "plywood", "laminate"}},
                    {"to_edge", {"timber", "plywood", "laminate", "cored_panel"}},
                    {"to_end", {"metal_wall", "timber"}},
                    {"wood", {"timber"}},
                    {"width", {"timber"}},
                    {"grain", {"timber"}},
                    {"incised", {"timber"}},
                    {"service", {"timber", "plywood"}},
                    {"treated", {"timber", "plywood"}},
                    {"plies", {"plywood"}},
                    {"punch_shear", {"plywood", "laminate", "cored_panel"}},
                    {"bearing", {"laminate", "cored_panel"}},
                    {"flexural", {"plywood", "laminate", "cored_panel"}},
                    {"skin_top", {"cored_panel"}},
                    {"skin_below", {"cored_panel"}},
                    {"core", {"cored_panel"}},
                    {"core_thickness", {"cored_panel"}},
                    {"core_crush", {"cored_panel"}},
                    {"solid_at_bolts", {"cored_panel"}}});
  }
  if (!h.is_metal()) h.form = WallForm::sheet;  // no bends
  f.finish();
  return h;
}

BasePlate read_base_map(Fields f, const MaterialLibrary& library, const Host& host, Angle& turned) {
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
    if (!host.is_metal()) {
      complain_at(f, "from_inboard_edge", ": belongs to a metal wall; host.to_edge says the place");
    }
  } else {
    b.from_inboard_edge = 0.5 * host.flat;
  }
  f.finish();
  return b;
}

// What lies between base and host lies under all fasteners: said once, it counts for both kinds.
void share_pad(Fields& m, Fastening& one, Fastening& other) {
  Length& a = one.packing;
  Length& b = other.packing;
  if (!(a.value() > 0)) a = b;
  if (!(b.value() > 0)) b = a;
  if (a != b) complain_at(m, "also_fastened", ".packing: not that of fastening: one base, one pad");
  auto& c = one.assembly.bedding;
  auto& d = other.assembly.bedding;
  if (!c) c = d;
  if (!d) d = c;
  if (c != d) {
    complain_at(m, "also_fastened", ".bedding: not that of fastening: one base, one bedding");
  }
}

}  // namespace

Host read_host(Fields& m, const MaterialLibrary& library, bool weld) {
  const Key key{"host", "the wall of the boat", "what the fasteners enter"};
  if (m.describing()) {
    (void)m.raw(key, true, describe_hosts(m.reading(), m.path() + ".host", key, library));
    return {};
  }
  ObjectSchema unused;
  return read_host_map(m.map(key, true, &unused), library, weld);
}

BasePlate read_base(Fields& m, const MaterialLibrary& library, const Host& host, Angle& turned) {
  ObjectSchema schema;
  const Key key{"base", "the base plate", "what sits on the wall"};
  const BasePlate out = read_base_map(m.map(key, true, &schema), library, host, turned);
  m.close(key, schema);
  return out;
}

GunwalePlate read_plate(Fields& m, const MaterialLibrary& library, bool weld) {
  GunwalePlate out;
  out.host = read_host(m, library, weld);
  Angle turned{};
  out.base = read_base(m, library, out.host, turned);
  ObjectSchema fastening_schema;
  const Key fastening{"fastening", "the fastening", "like fasteners and how they hold"};
  out.fastening = read_fastening(m.map(fastening, true, &fastening_schema), library, out, turned);
  m.close(fastening, fastening_schema);
  ObjectSchema second_schema;
  const Key second{"also_fastened", "other fasteners of the same base",
                   "of another kind; how stiff they are against the first is not known, so that "
                   "both ends of a wide range count"};
  if (m.describing() || m.has(second.name)) {
    const Fastening other =
        read_fastening(m.map(second, false, &second_schema), library, out, turned);
    if (!m.describing()) {
      out.second = other;
      share_pad(m, out.fastening, *out.second);
    }
    out.fastening.rows_along_sides = out.fastening.rows_along_sides && other.rows_along_sides;
  }
  m.close(second, second_schema);
  if (out.base.outline.size() == 4 && out.fastening.rows_along_sides) {
    out.base.sides_turned = turned;
  }
  return out;
}

}  // namespace thole::reading
