#include <algorithm>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "core/board_rules.hpp"
#include "reading/setup_parts.hpp"

namespace thole {
namespace {

using reading::BoardPlaces;
using reading::Document;
using reading::Fields;
using reading::Key;
using reading::Mark;
using reading::Node;
using reading::ObjectSchema;
using reading::one_of;
using reading::read_board;
using reading::read_gear;
using reading::read_plate;
using reading::read_yes;
using reading::Reading;

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
    "gunwale_plate: a base on a metal wall; cross_board: a board from side to side";

// Reads the map `mount`; gives its kind, "" after a problem.
std::string read_mount(Fields& top, Setup& s, const MaterialLibrary& library, bool weld,
                       BoardPlaces& places) {
  const Key key{"mount", "the mount", "what is built"};
  if (top.describing()) {
    std::vector<ObjectSchema> schemas(2);
    for (std::size_t i = 0; i < 2; ++i) {
      schemas[i].help = key.help;
      Fields m(top.reading(), nullptr, "mount", &schemas[i]);
      const std::string kind = i == 0 ? "gunwale_plate" : "cross_board";
      (void)m.choice({"kind", "kind of mount", mount_help}, {kind}, true);
      if (i == 0) {
        (void)read_plate(m, library, weld);
      } else {
        (void)read_board(m, library, weld, places);
      }
    }
    (void)top.raw(key, true, one_of(schemas));
    return "";
  }
  Fields m = top.map(key, true, nullptr);
  const std::string kind =
      m.choice({"kind", "kind of mount", mount_help}, {"gunwale_plate", "cross_board"}, true).value;
  if (kind == "gunwale_plate") s.mount = read_plate(m, library, weld);
  if (kind == "cross_board") s.mount = read_board(m, library, weld, places);
  if (!kind.empty()) m.finish();
  return kind;
}

void read_use(Fields& top, Setup& s, const std::string& kind) {
  if (kind == "gunwale_plate" && !top.has("use")) return;
  ObjectSchema schema;
  const Key key{"use", "how the mount is used", "cross_board only"};
  Fields f = top.map(key, false, &schema);
  if (kind == "gunwale_plate" && f.node() != nullptr) {
    f.complain_here("use: belongs to mount kind: cross_board, but the kind is gunwale_plate");
    return;
  }
  s.use.not_a_seat = read_yes(
      f, {"not_a_seat", "not a seat", "yes: nobody sits, steps or leans on the board"}, false);
  const Key peak{"running_peak", "bumps when running",
                 "vertical acceleration on top of gravity, in g", Knowledge::assumed};
  if (auto v = f.number(peak, 0, 20)) {
    s.use.running_peak = v->value;
  } else if (kind == "cross_board" && !f.describing() && !f.has("running_peak")) {
    f.reading().inputs.push_back({.path = "use.running_peak",
                                  .label = std::string(peak.label),
                                  .value = show_number(s.use.running_peak),
                                  .si = s.use.running_peak,
                                  .is_text = false,
                                  .known = Knowledge::assumed,
                                  .defaulted = true});
  }
  f.finish();
  top.close(key, schema);
}

Setup read_all(Fields top, const MaterialLibrary& library, BoardPlaces& places) {
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
  const std::string kind = read_mount(top, s, library, weld, places);
  read_use(top, s, kind);
  if (kind.empty() && !top.describing()) {
    (void)top.raw({"gear", "the gear", "a list"}, true, "");  // unreadable without its mount
  } else {
    s.gear = read_gear(top, library, kind == "cross_board", places);
  }
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
      {"a piece", {"mount", "fastening", "behind", "athwart"}},
      {"hole", {"mount", "fastening", "holes"}},
      {"fasteners in one pattern", {"mount", "fastening", "holes"}},
      {"the outline of the base", {"mount", "base", "outline"}},
      {"base centre must lie", {"mount", "base", "from_inboard_edge"}},
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

// Both sides of one item are one mistake.
void add_once(std::vector<Problem>& problems, const Problem& p) {
  const bool known = std::any_of(problems.begin(), problems.end(), [&](const Problem& o) {
    return o.line == p.line && o.column == p.column;
  });
  if (!known) problems.push_back(p);
}

}  // namespace

Setup read_setup(std::string_view text, const std::string& file, const MaterialLibrary& library) {
  const Document document = reading::read_yaml(text, file);
  Reading r;
  r.document = &document;
  if (document.root.kind != Node::Kind::map) {
    throw InputError({document.problem({1, 1}, 1,
                                       "a setup is expected: keys with values, see "
                                       "`thole new`")});
  }
  BoardPlaces places;
  Setup s = read_all(Fields(r, &document.root, "", nullptr), library, places);
  if (r.problems.empty() && s.on_board()) {
    for (const BrokenRule& rule : broken_board_rules(s)) {
      add_once(r.problems, document.problem(place_of(document.root, places, rule), 1, rule.text));
    }
  }
  if (r.problems.empty()) {
    s.file = file;
    s.inputs = std::move(r.inputs);
    try {
      validate(s);
      return s;
    } catch (const DomainError& e) {
      r.problems.push_back(document.problem(place_of(document.root, e.what()).mark, 1, e.what()));
    }
  }
  std::stable_sort(r.problems.begin(), r.problems.end(), [](const Problem& a, const Problem& b) {
    return a.line != b.line ? a.line < b.line : a.column < b.column;
  });
  throw InputError(std::move(r.problems));
}

std::string setup_schema() {
  Reading r;
  ObjectSchema schema;
  schema.help = "A setup of thole: boat, mount, gear and use in one YAML file.";
  Fields top(r, nullptr, "", &schema);
  BoardPlaces places;
  (void)read_all(top, built_in_materials(), places);
  schema.required.insert(schema.required.begin(), "thole");
  const std::string body = schema.json();
  return "{\"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n\"title\": \"thole "
         "setup, format 1\",\n" +
         body.substr(1) + "\n";
}

}  // namespace thole
