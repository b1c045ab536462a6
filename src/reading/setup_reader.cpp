#include <algorithm>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/loads.hpp>
#include <thole/reading.hpp>

#include "core/board_rules.hpp"
#include "reading/fit_reader.hpp"
#include "reading/quoting.hpp"
#include "reading/setup_parts.hpp"
#include "reading/test_pull_reader.hpp"
#include "reading/variants.hpp"

namespace thole {
namespace {

using namespace literals;
using reading::BoardPlaces;
using reading::complain_at;
using reading::complain_missing;
using reading::complain_value;
using reading::Document;
using reading::Fields;
using reading::Key;
using reading::Mark;
using reading::Node;
using reading::note_default;
using reading::ObjectSchema;
using reading::one_of;
using reading::read_board;
using reading::read_bracket;
using reading::read_directions;
using reading::read_gear;
using reading::read_plate;
using reading::read_yes;
using reading::Reading;
using reading::refuse_outside;
using reading::Sign;

constexpr auto assumed = Knowledge::assumed;

Answer read_answer(Fields& f, const char* key, const char* label, const char* help) {
  const auto a =
      f.choice({key, label, help, Knowledge::measured}, {"no", "yes", "not known"}, false, true);
  if (a.value == "yes") return Answer::yes;
  if (a.value == "no") return Answer::no;
  if (!f.describing() && !f.has(key)) {
    f.reading().inputs.push_back({.path = f.path() + "." + key,
                                  .label = label,
                                  .value = "not answered",
                                  .si = 0,
                                  .is_text = true,
                                  .known = assumed,
                                  .defaulted = true});
  }
  return Answer::not_known;
}

Condition read_condition(Fields f) {
  Condition c;
  c.cracks = read_answer(f, "cracks", "cracks at or near the base",
                         "cracks in metal or paint near the base, old holes or welds");
  c.loose_rivets = read_answer(f, "loose_rivets", "loose or weeping rivets in reach",
                               "rivets within 12 in (300 mm) that move, weep or are missing");
  c.bent_or_corroded =
      read_answer(f, "bent_or_corroded", "bent or corroded hardware", "any bent or pitted part");
  c.soft_wood_or_core = read_answer(f, "soft_wood_or_core", "soft wood or core",
                                    "an awl sinks in, a tap sounds dull");
  c.weld_near_base = read_answer(f, "weld_near_base", "a weld within 1 in of the base",
                                 "a weld within 1 in (25 mm): the metal is softer there");
  c.within_150_mm =
      f.choice({"within_6_in", "what ties the wall within 6 in of the base",
                "what is within 6 in (150 mm) of the base"},
               {"rib", "knee", "thwart", "gusset", "nothing", "not known"}, false, true)
          .value;
  if (c.within_150_mm == "not known") c.within_150_mm.clear();
  f.finish();
  return c;
}

constexpr const char* mount_help =
    "gunwale_plate: a base on the gunwale; bracket: a plate over or beside an edge or a gap; "
    "cross_board: a board from side to side";
const std::vector<std::string> mount_kinds{"gunwale_plate", "bracket", "cross_board"};

void read_mount_of(Fields& m, const std::string& kind, Setup& s, const MaterialLibrary& library,
                   bool weld, BoardPlaces& places) {
  if (kind == "gunwale_plate") s.mount = read_plate(m, library, weld);
  if (kind == "bracket") s.mount = read_bracket(m, library, weld);
  if (kind == "cross_board") s.mount = read_board(m, library, weld, places);
}

// Reads the map `mount`; gives its kind, "" after a problem.
std::string read_mount(Fields& top, Setup& s, const MaterialLibrary& library, bool weld,
                       BoardPlaces& places) {
  const Key key{"mount", "the mount", "what is built"};
  const Key kind_key{"kind", "kind of mount", mount_help};
  if (top.describing()) {
    std::vector<ObjectSchema> schemas;
    for (const std::string& kind : mount_kinds) {
      ObjectSchema& schema = schemas.emplace_back();
      schema.help = key.help;
      Fields m(top.reading(), nullptr, "mount", &schema);
      (void)m.choice(kind_key, {kind}, true);
      read_mount_of(m, kind, s, library, weld, places);
    }
    (void)top.raw(key, true, one_of(schemas));
    return "";
  }
  Fields m = top.map(key, true, nullptr);
  const std::string kind = m.choice(kind_key, mount_kinds, true).value;
  read_mount_of(m, kind, s, library, weld, places);
  if (!kind.empty()) m.finish();
  return kind;
}

// ---- Use of the mount
// --------------------------------------------------------------------------------

const Key running_peak_key{"running_peak", "bumps when running",
                           "vertical acceleration on top of gravity, in g; left out: from boat, "
                           "with its top speed, else 5",
                           assumed};
const Key hours_key{"hours_per_season", "hours of fishing in a season", "for fatigue"};
const Key road_key{"road_hours_per_season", "hours on the trailer in a season",
                   "with the gear on its mount, for fatigue"};
const Key temperature_key{"water_temperature", "temperature of the water",
                          "12 C or 54 F; left out: 10 C fresh, 15 C salt"};

void read_use(Fields& top, Setup& s, const std::string& kind) {
  ObjectSchema schema;
  const Key key{"use", "how the mount is used", "seat, bumps, road, hours and water"};
  Fields f = top.map(key, false, &schema);
  const Key seat{"not_a_seat", "not a seat",
                 "cross_board: yes, where a notice on the board says so: sitting counts as 200 lbf "
                 "(890 N), not 300"};
  s.use.not_a_seat = read_yes(f, seat, false);
  if (!kind.empty() && kind != "cross_board") {
    complain_at(f, seat.name, ": belongs to mount kind: cross_board, but the kind is " + kind);
  }
  if (auto v = f.number(running_peak_key, 0, 20)) s.use.running_peak = v->value;
  s.use.gear_off_on_road = read_yes(
      f, {"gear_off_on_road", "gear off on the trailer", "yes: it travels off its mount"}, false);
  if (auto v = f.number(hours_key, 1, 2000)) s.use.hours_per_season = v->value;
  if (auto v = f.number(road_key, 0, 1000)) s.use.road_hours_per_season = v->value;
  if (auto v = f.temperature(temperature_key)) s.use.water_temperature = v->value;
  f.finish();
  top.close(key, schema);
}

double water_temperature(const Setup& s) {
  return s.use.water_temperature.value_or(s.salt_water ? 15 : 10);
}

Density water_of(const Setup& s) {
  const WaterTemperature t{water_temperature(s)};
  return (s.salt_water ? sea_water(t) : fresh_water(t)).density;
}

// Only what the loads of this setup ask for.
void note_use_defaults(Fields& top, const Setup& s) {
  Reading& r = top.reading();
  const Node* use = top.node() != nullptr ? top.node()->find("use") : nullptr;
  const auto given = [&](std::string_view key) {
    return use != nullptr && use->find(key) != nullptr;
  };
  const auto note = [&](const Key& key, const std::string& value, double si) {
    if (given(key.name)) return;
    r.inputs.push_back({.path = "use." + std::string(key.name),
                        .label = std::string(key.label),
                        .value = value,
                        .si = si,
                        .is_text = false,
                        .known = assumed,
                        .defaulted = true});
  };
  if (!s.boat || !s.boat->top_speed) note(running_peak_key, "5 g, cautious default", 5);
  if (!given("gear_off_on_road")) {
    r.inputs.push_back({.path = "use.gear_off_on_road",
                        .label = "gear off on the trailer",
                        .value = "no",
                        .si = 0,
                        .is_text = true,
                        .known = assumed,
                        .defaulted = true});
  }
  note(hours_key, show_number(s.use.hours_per_season), s.use.hours_per_season);
  if (!s.use.gear_off_on_road) {
    note(road_key, show_number(s.use.road_hours_per_season), s.use.road_hours_per_season);
  }
  const bool in_water = s.boat.has_value() ||
                        std::any_of(s.gear.begin(), s.gear.end(),
                                    [](const Gear& g) { return g.downrigger.has_value(); }) ||
                        std::any_of(r.inputs.begin(), r.inputs.end(), [](const Input& i) {
                          return i.path.starts_with("gear.planer.");
                        });
  if (in_water) {
    const double celsius = water_temperature(s);
    note(temperature_key, reading::show_temperature(celsius, s.units), celsius + 273.15);
  }
}

// ---- The boat
// ----------------------------------------------------------------------------------------

LeanTest read_lean_test(Fields& f, Length beam) {
  LeanTest t;
  const auto how = reading::how::lean;
  const auto moved = f.need<Mass>(
      {"moved", "what is moved across the boat", "a person, weighed", Knowledge::tagged, how});
  refuse_outside<Mass>(f, "moved", moved, 1.0_kg, 500.0_kg, "1 and 500 kg (2.2 and 1100 lb)");
  const auto across = f.need<Length>(
      {"across", "how far it is moved", "straight across the boat", Knowledge::tagged, how});
  if (beam.value() > 0) {
    refuse_outside<Length>(f, "across", across, 50.0_mm, beam, "50 mm (2 in) and the beam");
  }
  const auto heel =
      f.need<Angle>({"heel", "change of heel", "between its two places", Knowledge::tagged, how});
  refuse_outside<Angle>(f, "heel", heel, 0.5_deg, 20.0_deg, "0.5 and 20 deg");
  t.moved = moved.value;
  t.across = across.value;
  t.heel = heel.value;
  f.finish();
  return t;
}

BoatData read_boat(Fields& f) {
  BoatData b;
  const Key length_key{"length",
                       "length of the boat",
                       "of the hull, without motor and platform",
                       Knowledge::tagged,
                       {},
                       0,
                       "14 ft or 4.3 m"};
  const Key beam_key{
      "beam", "beam of the boat", "over the gunwales where the mount is", Knowledge::tagged, {},
      0,      "58 in or 1.5 m"};
  // What is refused bounds nothing else: one mistake is one problem.
  const auto length = f.need<Length>(length_key);
  if (!refuse_outside<Length>(f, "length", length, 2.0_m, 12.0_m,
                              "2 and 12 m (6 ft 7 in and 39 ft)")) {
    b.length = length.value;
  }
  const auto beam = f.need<Length>(beam_key);
  if (!refuse_outside<Length>(f, "beam", beam, 0.8_m, 4.0_m, "0.8 and 4 m (32 in and 13 ft)")) {
    b.beam = beam.value;
  }
  if (b.length.value() > 0 && b.beam > b.length) {
    complain_value(f, "beam", "is more than the length of the boat");
  }
  const auto freeboard = f.need<Length>({"freeboard", "freeboard",
                                         "least height of the gunwale above the water where the "
                                         "mount is, afloat and loaded as when fishing"});
  refuse_outside<Length>(f, "freeboard", freeboard, 0.05_m, 2.0_m,
                         "0.05 and 2 m (2 in and 6 ft "
                         "7 in)");
  b.freeboard = freeboard.value;
  const auto mass =
      f.need<Mass>({"loaded_mass", "mass of the loaded boat", "boat, motor, fuel, people, gear"});
  refuse_outside<Mass>(f, "loaded_mass", mass, 50.0_kg, 10000.0_kg,
                       "50 and 10000 kg (110 and 22000 lb)");
  b.loaded_mass = mass.value;

  // A share of a size when left out; given, it cannot be much more or less than the size.
  const auto part = [&](const Key& key, Length whole, double share, double least, double most,
                        const std::string& bounds) -> Length {
    if (auto v = f.optional<Length>(key)) {
      if (whole.value() > 0) refuse_outside(f, key.name, v, least * whole, most * whole, bounds);
      return v->value;
    }
    if (whole.value() > 0) note_default(f, key, Length(share * whole));
    return share * whole;
  };
  b.waterline_length =
      part({"waterline_length", "length in the water", "0.88 of the length when left out"},
           b.length, 0.88, 0.4, 1.05, "0.4 and 1.05 of the length of the boat");
  b.waterline_beam = part({"waterline_beam", "beam in the water", "0.90 of the beam when left out"},
                          b.beam, 0.90, 0.4, 1, "0.4 of the beam and the beam");
  b.chine_beam = part({"chine_beam", "beam at the chines, where bottom and side meet",
                       "0.80 of the beam when left out"},
                      b.beam, 0.80, 0.3, 1, "0.3 of the beam and the beam");
  const auto deadrise = f.defaulted<Angle>({"deadrise", "deadrise",
                                            "rise of the bottom at 0.4 of the waterline length "
                                            "from aft; 10 deg when left out"},
                                           10.0_deg, Sign::not_negative);
  refuse_outside<Angle>(f, "deadrise", deadrise, Angle{}, 40.0_deg, "0 and 40 deg");
  b.deadrise = deadrise.value;
  {
    ObjectSchema schema;
    const Key key{"lean_test", "lean test", "how far the boat leans under a known weight",
                  Knowledge::tagged, reading::how::lean};
    Fields t = f.map(key, false, &schema);
    if (t.node() != nullptr || t.describing()) b.lean_test = read_lean_test(t, b.beam);
    f.close(key, schema);
  }
  {
    const Key key{"centre_height", "centre of gravity above the keel",
                  "loaded, people seated; 0.7 m when left out; not needed with a lean test",
                  assumed};
    if (auto v = f.optional<Length>(key)) {
      refuse_outside(f, key.name, v, 0.1_m, 2.0_m, "0.1 and 2 m (4 in and 6 ft 7 in)");
      b.centre_height = v->value;
    } else if (!b.lean_test) {
      note_default(f, key, 0.7_m);  // by the estimate of stability
    }
  }
  const Speed fastest = Speed::from_value(60.0 * 1852 / 3600);
  if (auto v = f.optional<Speed>(
          {"top_speed", "top speed", "the fastest that is run with the gear on board"})) {
    refuse_outside(f, "top_speed", v, Speed{}, fastest, "0 and 60 kn (69 mph)");
    b.top_speed = v->value;
  }
  const auto wave = f.defaulted<Length>(
      {"wave_height", "wave height", "the largest that is fished in; 0.3 m when left out"}, 0.3_m,
      Sign::not_negative);
  refuse_outside<Length>(f, "wave_height", wave, Length{}, 3.0_m, "0 and 3 m (9 ft 10 in)");
  b.wave_height = wave.value;
  const auto aft = f.defaulted<Length>(
      {"mount_from_stern", "mount forward of the stern", "at the stern when left out"}, Length{},
      Sign::not_negative);
  if (b.length.value() > 0) {
    refuse_outside<Length>(f, "mount_from_stern", aft, Length{}, b.length,
                           "0 and the length of the boat");
  }
  b.mount_from_stern = aft.value;
  if (auto v = f.optional<Speed>({"wind", "wind",
                                  "with fetch: waves by the hour from the sea that "
                                  "it raises"})) {
    refuse_outside(f, "wind", v, Speed{}, fastest, "0 and 60 kn (69 mph)");
    b.wind = v->value;
  }
  const Key fetch{
      "fetch", "open water upwind", "with wind: how far it blows over it", Knowledge::tagged, {},
      1e9,     "20 km or 12 mi"};
  if (auto v = f.optional<Length>(fetch)) {
    refuse_outside(f, "fetch", v, 10.0_m, 1e6 * si::metre, "10 m and 1000 km (33 ft and 620 mi)");
    b.fetch = v->value;
    const bool inch = f.reading().units == ReaderUnits::inch;
    f.reading().inputs.back().value =
        show_number(v->value.value() / (inch ? 1609.344 : 1000)) + (inch ? " mi" : " km");
  }
  if (f.node() != nullptr && f.has("wind") != f.has("fetch")) {
    complain_missing(f, f.has("wind") ? "fetch" : "wind",
                     "the sea is reckoned from wind and fetch together");
  }
  f.finish();
  return b;
}

void read_boat_of(Fields& top, Setup& s) {
  ObjectSchema schema;
  const Key key{"boat", "the boat",
                "afloat and loaded as when fishing: for running, waves and heel"};
  Fields f = top.map(key, false, &schema);
  if (f.node() != nullptr || f.describing()) {
    const BoatData b = read_boat(f);
    if (!f.describing()) s.boat = b;
  }
  top.close(key, schema);
}

// ---- What the owner does to the load cases
// -----------------------------------------------------------

constexpr std::size_t most_edits = 40;
constexpr int longest_words = 120;

struct EditKind {
  CaseEdit::What what;
  std::string_view key;
  std::string_view label;
};
constexpr EditKind edit_kinds[] = {
    {CaseEdit::What::change, "change", "load case that is changed"},
    {CaseEdit::What::leave_out, "leave_out", "load case that is left out"},
    {CaseEdit::What::add, "add", "new load case"},
};

// One line of words.
std::string read_words(Fields& f, const Key& key) {
  const auto words = f.text(key, true);
  if (!words) return {};
  const std::string& t = words->value;
  if (t.find_first_not_of(" \t\n") == std::string::npos) {
    complain_at(f, key.name, ": words are expected");
  } else if (t.find_first_of("\t\n") != std::string::npos) {
    complain_at(f, key.name, ": one line is expected");
  } else if (reading::characters(t) > longest_words) {
    complain_at(f, key.name, ": at most 120 characters");
  }
  return t;
}

CaseEdit read_edit(Fields& f, const EditKind& kind) {
  CaseEdit e;
  e.what = kind.what;
  const bool add = kind.what == CaseEdit::What::add;
  e.name = read_words(
      f, {kind.key, kind.label, add ? "your own words" : "its name, as thole loads lists it"});
  e.why = read_words(f, {"why", "your reason", "for the report: at most 120 characters"});
  if (kind.what == CaseEdit::What::leave_out) {
    for (const char* key : {"pull", "peak", "category", "decides", "azimuth", "dip", "gear"}) {
      if (!f.has(key)) continue;
      complain_at(f, key, ": belongs to change or add; leave_out takes only why");
      (void)f.raw({key, "", ""}, false, "");
    }
    f.finish();
    return e;
  }
  const auto pull =
      f.optional<Force>({"pull", "pull of the load case", "its size", Knowledge::tagged,
                         "read it off a luggage scale in the line, three times, and "
                         "take the largest"});
  if (pull) e.pull = pull->value;
  const Key peak{"peak", "peak of the load case",
                 "of a running case: vertical acceleration on top of gravity, in g"};
  if (auto v = f.number(peak, 0, 20)) e.peak = v->value;
  const std::string category =
      f.choice({"category", "how often", "everyday, occasional or accident"},
               {"everyday", "occasional", "accident"}, add)
          .value;
  if (category == "everyday") e.category = Category::everyday;
  if (category == "occasional") e.category = Category::occasional;
  if (category == "accident") e.category = Category::accident;
  const std::string decides =
      f.choice({"decides", "counts for the verdict", "yes or no"}, {"yes", "no"}, false).value;
  if (!decides.empty()) e.decides = decides == "yes";
  e.range = read_directions(f, "of the load case", false);
  if (add) {
    const Key gear{"gear", "gear that pulls",
                   "its name: at its tip, on its line or at its point; left out: on the board or "
                   "the rim"};
    if (auto v = f.text(gear, false)) e.gear = v->value;
  } else if (f.has("gear")) {
    complain_at(f, "gear", ": belongs to add; a case of one gear is changed by its own name");
    (void)f.raw({"gear", "", ""}, false, "");
  }
  if (f.has("pull") && f.has("peak")) {
    complain_at(f, "peak", ": give pull, or peak for a running case, not both");
  } else if (f.has("peak")) {
    for (const char* key : {"azimuth", "dip", "gear"}) {
      if (add || key != std::string_view("gear")) {
        complain_at(f, key, ": belongs to a case with a pull; a peak shakes all the gear");
      }
    }
  }
  // A slip in a key is told as such.
  const std::size_t before = f.reading().problems.size();
  f.finish();
  if (f.describing() || f.reading().problems.size() > before) return e;
  const char* const changes[] = {"pull", "peak", "category", "decides", "azimuth", "dip"};
  if (add) {
    if (!f.has("pull") && !f.has("peak")) {
      f.complain_here("cases: add needs pull, or peak for a running case");
    }
  } else if (std::none_of(std::begin(changes), std::end(changes),
                          [&](const char* key) { return f.has(key); })) {
    f.complain_here(
        "cases: nothing is changed: pull, peak, category, decides, or azimuth and dip is expected");
  }
  return e;
}

void read_cases(Fields& top, Setup& s, std::vector<const Node*>& nodes) {
  const Key list{"cases", "load cases of your own",
                 "what is changed, left out and added; thole loads lists the cases"};
  if (top.describing()) {
    std::vector<ObjectSchema> schemas(std::size(edit_kinds));
    for (std::size_t i = 0; i < schemas.size(); ++i) {
      schemas[i].help = list.help;
      Fields f(top.reading(), nullptr, "cases", &schemas[i]);
      (void)read_edit(f, edit_kinds[i]);
    }
    (void)top.raw(
        list, false,
        R"({"type": "array", "minItems": 1, "maxItems": 40, "items": )" + one_of(schemas) + "}");
    return;
  }
  std::vector<Fields> items = top.list(list, false, nullptr);
  if (items.size() > most_edits) {
    top.complain(*top.node()->find("cases"), "cases: at most 40 items");
    return;
  }
  for (Fields& f : items) {
    if (f.node() == nullptr) continue;
    const EditKind* kind = nullptr;
    bool two = false;
    for (const EditKind& k : edit_kinds) {
      if (!f.has(k.key)) continue;
      if (kind != nullptr) {
        complain_at(f, k.key,
                    ": an item is one of change, leave_out and add; this one is " +
                        std::string(kind->key) + " already");
        two = true;
      } else {
        kind = &k;
      }
    }
    if (two) continue;
    if (kind == nullptr) {
      std::string message = "cases: change, leave_out or add is expected in each item";
      for (const std::string& key : f.node()->keys) {
        const std::string near = nearest_spelling(key, {"change", "leave_out", "add"});
        if (near.empty()) continue;
        message += "; did you mean \"" + near + "\" by " + reading::shown(key) + "?";
        break;
      }
      f.complain_here(message);
      continue;
    }
    s.case_edits.push_back(read_edit(f, *kind));
    nodes.push_back(f.node());
  }
}

// Where the parts of a setup stand in its file.
struct Places {
  BoardPlaces board;
  std::vector<const Node*> cases;
};

Setup read_all(Fields top, const MaterialLibrary& library, Places& places) {
  Setup s;
  Reading& r = top.reading();
  if (auto v = top.number({"thole", "format of this file", "1"}, 1, 1);
      !v && !top.has("thole") && !top.describing()) {
    top.complain_here("thole is missing: the format of the file, thole: 1");
  }
  if (auto v = top.text({"title", "title", "your own words"}, false)) s.title = v->value;
  s.units =
      top.choice({"units", "units of the report", "inch or metric"}, {"inch", "metric"}, false)
                  .value == "metric"
          ? ReaderUnits::metric
          : ReaderUnits::inch;
  r.units = s.units;
  s.salt_water =
      top.choice({"water", "water", "fresh or salt"}, {"fresh", "salt"}, false).value == "salt";
  {
    ObjectSchema schema;
    const Key key{"condition", "what somebody saw who looked",
                  "answers: no, yes, not "
                  "known"};
    s.condition = read_condition(top.map(key, false, &schema));
    top.close(key, schema);
  }
  const bool weld = s.condition.weld_near_base == Answer::yes;
  const std::string kind = read_mount(top, s, library, weld, places.board);
  read_use(top, s, kind);
  read_boat_of(top, s);
  if (kind.empty() && !top.describing()) {
    (void)top.raw({"gear", "the gear", "a list"}, true, "");  // unreadable without its mount
  } else {
    s.gear = read_gear(top, library, kind == "cross_board", water_of(s), places.board);
  }
  reading::read_fit(top, s, kind);
  reading::read_test_pulls(top, s);
  read_cases(top, s, places.cases);
  if (!top.describing()) note_use_defaults(top, s);
  {
    ObjectSchema schema;
    const Key key{"factors", "factors needed",
                  "raise freely; lowering is marked in the "
                  "report"};
    Fields f = top.map(key, false, &schema);
    for (const std::string& group : library.names("required_factor")) {
      const TableValue& stored = library.required_factor(group);
      s.required_factors[group] = stored;
      std::string name = group;
      std::replace(name.begin(), name.end(), ' ', '_');
      if (auto v = f.number({name, "factor needed", group}, 0.1, 100)) {
        s.factor_overrides[group] = v->value;
      }
    }
    f.finish();
    top.close(key, schema);
  }
  s.common_walls = library.walls(s.units == ReaderUnits::inch ? "inch" : "metric");
  reading::read_comparison_keys(top, kind, library);
  top.finish();
  return s;
}

// The value that a rule of `validate` is about, as far as its text tells; else the mount.
const Node& place_of(const Node& root, std::string_view rule) {
  struct Place {
    std::string_view word;
    std::vector<std::string_view> path;
  };
  const Place places[] = {
      {"the fitting under the U-bolts", {"mount", "fitting"}},
      {"the bracket bears on", {"mount", "bears_on"}},
      {"foot of the gear", {"mount", "gear_foot"}},
      {"the angle", {"mount", "angles"}},
      {"a piece", {"mount", "fastening", "behind", "athwart"}},
      {"hole", {"mount", "fastening", "holes"}},
      {"fasteners in one pattern", {"mount", "fastening", "holes"}},
      {"the outline of the base", {"mount", "base", "outline"}},
      {"must lie on the flat", {"mount", "base", "from_inboard_edge"}},
      {"base", {"mount", "base"}},
      {"", {"mount"}},
  };
  for (const Place& place : places) {
    if (rule.find(place.word) == std::string_view::npos) continue;
    const Node* at = &root;
    for (const std::string_view key : place.path) {
      const Node* next = at->find(key);
      if (next == nullptr) break;
      at = next;
    }
    return *at;
  }
  return root;
}

// The value that a rule of a cross-board is about.
Mark place_of(const Node& root, const BoardPlaces& places, const BrokenRule& rule) {
  const auto item = [&](const std::vector<const Node*>& nodes) -> const Node* {
    return rule.index < nodes.size() ? nodes[rule.index] : nullptr;
  };
  const Node* mount = root.find("mount");
  const Node* at = nullptr;
  switch (rule.part) {
    case BoardPart::mount:
      at = mount;
      break;
    case BoardPart::board:
      at = mount != nullptr ? mount->find("board") : nullptr;
      break;
    case BoardPart::port_ledge:
      at = places.port;
      break;
    case BoardPart::starboard_ledge:
      at = places.starboard;
      break;
    case BoardPart::hold_down:
      at = item(places.hold_downs);
      break;
    case BoardPart::leg:
      at = item(places.legs);
      break;
    case BoardPart::gear:
      at = item(places.gear);
      break;
  }
  if (at == nullptr) at = mount != nullptr ? mount : &root;
  std::string_view key = rule.key;
  while (!key.empty()) {
    const std::size_t dot = std::min(key.find('.'), key.size());
    const Node* next = at->find(key.substr(0, dot));
    if (next == nullptr) break;
    at = next;
    key.remove_prefix(std::min(dot + 1, key.size()));
  }
  return at->mark;
}

// What the list of load cases says against an item of `cases` begins with its place in the setup;
// all else comes from the gear.
Problem problem_of_cases(const Document& document, const std::vector<const Node*>& items,
                         std::string_view text) {
  constexpr std::string_view prefix = "case_edits[";
  const std::size_t end = text.find("]: ");
  if (text.starts_with(prefix) && end != std::string_view::npos) {
    std::size_t i = 0;
    for (const char c : text.substr(prefix.size(), end - prefix.size())) {
      i = 10 * i + std::size_t(c - '0');
    }
    if (i < items.size()) {
      const Node& item = *items[i];
      return document.problem(item.mark, 1, "cases: " + std::string(text.substr(end + 3)));
    }
  }
  const Node* gear = document.root.find("gear");
  return document.problem((gear != nullptr ? *gear : document.root).mark, 1,
                          "gear: " + std::string(text));
}

// Both sides of one item are one mistake.
void add_once(std::vector<Problem>& problems, const Problem& p) {
  const bool known = std::any_of(problems.begin(), problems.end(), [&](const Problem& o) {
    return o.line == p.line && o.column == p.column;
  });
  if (!known) problems.push_back(p);
}

}  // namespace

Setup reading::read_tree(const Document& document, const MaterialLibrary& library, Asked* asked) {
  Reading r;
  r.document = &document;
  r.asked = asked;
  if (document.root.kind != Node::Kind::map) {
    throw InputError({document.problem({1, 1}, 1,
                                       "a setup is expected: keys with values, see "
                                       "`thole new`")});
  }
  Places places;
  Setup s = read_all(Fields(r, &document.root, "", nullptr), library, places);
  if (r.problems.empty()) {
    for (const BrokenRule& rule : s.on_board() ? broken_board_rules(s) : broken_gear_rules(s)) {
      add_once(r.problems,
               document.problem(place_of(document.root, places.board, rule), 1, rule.text));
    }
  }
  if (r.problems.empty()) {
    s.file = document.file;
    s.inputs = std::move(r.inputs);
    try {
      validate(s);
    } catch (const DomainError& e) {
      r.problems.push_back(document.problem(place_of(document.root, e.what()).mark, 1, e.what()));
    }
  }
  if (r.problems.empty()) {
    try {
      (void)load_cases(s);
      return s;
    } catch (const DomainError& e) {
      r.problems.push_back(problem_of_cases(document, places.cases, e.what()));
    } catch (const UnknownName& e) {
      r.problems.push_back(problem_of_cases(document, places.cases, e.what()));
    }
  }
  throw InputError(first_problems(std::move(r.problems)));
}

Setup read_setup(std::string_view text, const std::string& file, const MaterialLibrary& library) {
  const Document document = reading::read_yaml(text, file);
  Setup s = reading::read_tree(document, library);
  std::vector<Problem> problems = reading::problems_of_comparison(document, s, library);
  if (!problems.empty()) throw InputError(reading::first_problems(std::move(problems)));
  return s;
}

std::string setup_schema() {
  Reading r;
  ObjectSchema schema;
  schema.help = "A setup of thole: boat, mount, gear and use in one YAML file.";
  Fields top(r, nullptr, "", &schema);
  Places places;
  (void)read_all(top, built_in_materials(), places);
  schema.required.insert(schema.required.begin(), "thole");
  const std::string body = schema.json();
  return "{\"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n\"title\": \"thole "
         "setup, format 1\",\n" +
         body.substr(1) + "\n";
}

}  // namespace thole
