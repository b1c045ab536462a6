#include <thole/comparison.hpp>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <initializer_list>
#include <iterator>
#include <set>
#include <tuple>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "core/geometry.hpp"
#include "core/stable_order.hpp"
#include "reading/on_threads.hpp"
#include "reading/quoting.hpp"
#include "reading/setup_parts.hpp"
#include "reading/tree_edits.hpp"
#include "reading/variants.hpp"

namespace thole {

using namespace literals;

namespace reading {
namespace {

constexpr std::size_t most_variants = 24;
constexpr std::size_t most_patterns = 500;
constexpr std::size_t most_values = 24;
constexpr int most_in_line = 12;
constexpr int longest_name = 60;
constexpr const char* drawn_name = "as drawn";

// ---- The form of `variants`
// ----------------------------------------------------------------------

struct Change {
  std::string path;
  Mark mark;
  int width = 1;
  const Node* value = nullptr;  // nothing: it is left out
};

struct Variant {
  std::string name;
  const Node* node = nullptr;
  std::vector<Change> set;
  std::vector<Change> drop;
};

int width_of(const Node& n) { return std::max(1, characters(n.text) + (n.quoted ? 2 : 0)); }

const std::vector<std::string>& fixed_keys() {
  static const std::vector<std::string> keys{"thole", "units", "variants", "patterns"};
  return keys;
}

void read_set(Fields& f, const Node& set, Variant& v) {
  if (set.kind != Node::Kind::map || set.keys.empty()) {
    f.complain(set,
               "variants.set: paths with their values are expected, as in {mount.base.turned: 90 "
               "deg}");
    return;
  }
  for (std::size_t i = 0; i < set.keys.size(); ++i) {
    v.set.push_back(
        {set.keys[i], set.key_marks[i], std::max(1, characters(set.keys[i])), &set.items[i]});
  }
}

void read_drop(Fields& f, const Node& drop, Variant& v) {
  const char* expected =
      "variants.drop: a list of paths is expected, as in [mount.fastening.behind]";
  if (drop.kind != Node::Kind::list || drop.items.empty()) {
    f.complain(drop, expected);
    return;
  }
  for (const Node& item : drop.items) {
    if (item.kind != Node::Kind::text) {
      f.complain(item, expected);
      continue;
    }
    v.drop.push_back({item.text, item.mark, width_of(item), nullptr});
  }
}

void check_paths(Fields& f, const Variant& v) {
  std::vector<const Change*> all;
  for (const Change& c : v.set) all.push_back(&c);
  for (const Change& c : v.drop) all.push_back(&c);
  const auto complain = [&](const Change& c, const std::string& message) {
    Node at;
    at.kind = Node::Kind::text;
    at.text = std::string(std::size_t(std::max(c.width, 1)), 'x');  // as wide as the path
    at.mark = c.mark;
    f.complain(at, message);
  };
  for (const Change* c : all) {
    for (const std::string& key : fixed_keys()) {
      if (covers(key, c->path)) {
        complain(*c, "variants: " + key + " is the same for all variants, so it stands outside");
      }
    }
  }
  for (const Change& d : v.drop) {
    for (const Change& s : v.set) {
      if (covers(d.path, s.path) || covers(s.path, d.path)) {
        complain(d, "variants.drop: " + shown(d.path) + " is set by the same variant; " +
                        (d.path == s.path ? "to set it is enough" : "set it whole, or drop it"));
        break;
      }
    }
  }
}

void check_name(Fields& f, const std::string& name, const std::vector<Variant>& others) {
  if (name.find_first_not_of(" \t\n") == std::string::npos) {
    complain_value(f, "name", "is no name; words are expected");
  } else if (name.find_first_of("\t\n") != std::string::npos) {
    complain_value(f, "name", "is more than one line");
  } else if (characters(name) > longest_name) {
    complain_value(f, "name", "is longer than 60 characters");
  } else if (name == drawn_name) {
    complain_value(f, "name", "is what the setup without changes is called");
  } else if (std::any_of(others.begin(), others.end(),
                         [&](const Variant& o) { return o.name == name; })) {
    complain_value(f, "name", "is the name of another variant");
  }
}

std::vector<Variant> read_variants(Fields& top) {
  ObjectSchema schema;
  const Key list{"variants", "variants",
                 "the setup with a few values changed; thole compare shows all side by side"};
  std::vector<Fields> items = top.list(list, false, &schema);
  std::vector<Variant> out;
  if (items.size() > most_variants) {
    top.complain(*top.node()->find("variants"),
                 "variants: at most 24, these are " + std::to_string(items.size()));
    items.clear();
  }
  for (Fields& f : items) {
    if (f.node() == nullptr && !f.describing()) continue;
    Variant v;
    v.node = f.node();
    if (auto name = f.text({"name", "name of the variant", "your own words"}, true)) {
      v.name = name->value;
      check_name(f, v.name, out);
    }
    const Node* set = f.raw(
        {"set", "what is set", "paths in the setup with their values, as in mount.base.turned"},
        false,
        R"({"type": "object", "minProperties": 1, "description": "paths with values: keys between )"
        R"(dots; an item of a list by its number from 0 or by its name"})");
    const Node* drop = f.raw({"drop", "what is left out", "a list of paths"}, false,
                             R"({"type": "array", "minItems": 1, "items": {"type": "string"}, )"
                             R"("description": "paths that are left out"})");
    if (set != nullptr) read_set(f, *set, v);
    if (drop != nullptr) read_drop(f, *drop, v);
    const std::size_t before = f.reading().problems.size();
    f.finish();
    if (f.describing()) continue;
    if (!f.has("set") && !f.has("drop") && f.reading().problems.size() == before) {
      f.complain_here("variants: nothing is changed: set or drop is expected");
    }
    check_paths(f, v);
    out.push_back(std::move(v));
  }
  top.close_list(list, schema);
  return out;
}

// ---- The form of `patterns`
// ----------------------------------------------------------------------

struct Spacing {
  Length length{};
  std::string text;
};

struct Family {
  const Node* node = nullptr;
  std::vector<int> holes_fore_aft{2};
  std::vector<int> holes_athwart{2};
  std::vector<Spacing> fore_aft;
  std::vector<Spacing> athwart;
  bool rectangles = true;
  std::vector<Spacing> circles;
  std::vector<int> on_circle;
  std::vector<Thread> threads;  // none: that of the setup
  std::vector<const Node*> thread_nodes;
  bool either_way_round = false;

  [[nodiscard]] std::size_t combinations() const {
    const std::size_t of_rectangles = rectangles ? holes_fore_aft.size() * holes_athwart.size() *
                                                       std::max<std::size_t>(1, fore_aft.size()) *
                                                       std::max<std::size_t>(1, athwart.size())
                                                 : 0;
    return (of_rectangles + circles.size() * on_circle.size()) *
           std::max<std::size_t>(1, threads.size()) * (either_way_round ? 2 : 1);
  }
};

// One value or a list of them.
std::vector<const Node*> values_of(Fields& f, const Key& key, const std::string& example) {
  const std::string item = R"({"type": ["string", "number"]})";
  const Node* n =
      f.raw(key, false,
            "{\"description\": " + json_text(key.help) + ", \"oneOf\": [" + item +
                R"(, {"type": "array", "minItems": 1, "maxItems": 24, "items": )" + item + "}]}");
  std::vector<const Node*> out;
  if (n == nullptr) return out;
  const std::string expected = f.path() + "." + std::string(key.name) + ": ";
  if (n->kind == Node::Kind::text) return {n};
  if (n->kind != Node::Kind::list || n->items.empty() || n->items.size() > most_values) {
    f.complain(*n, expected + "one value or a list of 1 to 24 is expected, as in " + example);
    return out;
  }
  for (const Node& i : n->items) {
    if (i.kind == Node::Kind::text) {
      out.push_back(&i);
      continue;
    }
    std::string message = expected;
    if (i.kind == Node::Kind::empty && key.name == "threads") {
      message += "nothing stands here; a thread that begins with # must be quoted: '#10-24'";
    } else {
      message += "one value is expected, as in " + example;
    }
    f.complain(i, message);
  }
  return out;
}

std::vector<int> read_counts(Fields& f, const Key& key, int least, int most) {
  std::vector<int> out;
  const std::string label = f.path() + "." + std::string(key.name);
  for (const Node* n : values_of(f, key, "[2, 3]")) {
    const auto m = f.measure_of(*n, label, Dimension::number, Sign::any);
    if (!m) continue;
    if (std::floor(m->si) != m->si || m->si < least || m->si > most) {
      f.complain(*n, label + ": " + shown(n->text) + " is no number of holes from " +
                         std::to_string(least) + " to " + std::to_string(most));
      continue;
    }
    out.push_back(int(m->si));
  }
  return out;
}

std::vector<Spacing> read_spacings(Fields& f, const Key& key) {
  std::vector<Spacing> out;
  for (const Node* n : values_of(f, key, "[2 in, 2 1/4 in]")) {
    const std::string label = f.path() + "." + std::string(key.name);
    const auto m = f.measure_of(*n, label, Dimension::length, Sign::above_zero);
    if (m) out.push_back({Length::from_value(m->si), n->text});
  }
  return out;
}

void read_threads(Fields& f, const MaterialLibrary& library, Family& out) {
  for (const Node* n : values_of(
           f, {"threads", "threads to try", "one or a list; that of the fastening when left out"},
           "[1/4-20, '#10-24']")) {
    try {
      out.threads.push_back(library.thread(n->text));
      out.thread_nodes.push_back(n);
    } catch (const UnknownName& e) {
      f.complain(*n, f.path() + ".threads: " + e.what());
    }
  }
}

Family read_family(Fields& top, const std::string& kind, const MaterialLibrary& library) {
  ObjectSchema schema;
  const Key key{"patterns", "patterns of holes",
                "gunwale_plate: every combination of them, side by side, by thole compare"};
  Fields f = top.map(key, false, &schema);
  Family out;
  out.node = f.node();
  if (f.node() == nullptr && !f.describing()) return out;
  if (kind == "cross_board") {
    top.complain(*f.node(),
                 "patterns: a family of hole patterns belongs to mount kind: gunwale_plate; on a "
                 "cross_board write variants, each with the bolts, feet or legs that it changes");
    return out;
  }
  if (kind == "bracket") {
    top.complain(*f.node(),
                 "patterns: a family of hole patterns belongs to mount kind: gunwale_plate; on a "
                 "bracket write variants, each with its own holes");
    return out;
  }
  // Nobody agrees which of them is a row.
  if (!f.describing()) {
    for (const char* word : {"rows", "columns"}) {
      if (!f.has(word)) continue;
      complain_at(f, word,
                  ": say holes_fore_aft (holes in a line along the boat) and holes_athwart (in a "
                  "line across it)");
      (void)f.raw({word, "", ""}, false, "");
    }
  }
  const std::size_t before = f.reading().problems.size();
  const Key fore_aft_count{"holes_fore_aft", "holes in a line along the boat",
                           "one number or a list; 2 when left out"};
  const Key athwart_count{"holes_athwart", "holes in a line across the boat",
                          "one number or a list; 2 when left out"};
  if (auto v = read_counts(f, fore_aft_count, 1, most_in_line); !v.empty()) {
    out.holes_fore_aft = std::move(v);
  }
  if (auto v = read_counts(f, athwart_count, 1, most_in_line); !v.empty()) {
    out.holes_athwart = std::move(v);
  }
  out.fore_aft = read_spacings(
      f, {"fore_aft", "spacing along the boat", "between the outer holes; one or a list"});
  out.athwart = read_spacings(
      f, {"athwart", "spacing across the boat", "between the outer holes; one or a list"});
  out.circles = read_spacings(
      f, {"circle", "circles of holes", "diameter, one or a list; first hole forward"});
  out.on_circle =
      read_counts(f, {"count", "holes on a circle", "one number or a list"}, 2, int(max_fasteners));
  if (!f.describing() && f.has("circle") && !f.has("count")) {
    complain_missing(f, "count",
                     "how many holes lie on a circle, a number or a list, as in [3, 4]");
  }
  if (!f.has("circle")) complain_at(f, "count", ": belongs to circle");
  out.rectangles = !f.has("circle") || f.has("holes_fore_aft") || f.has("holes_athwart") ||
                   f.has("fore_aft") || f.has("athwart");
  read_threads(f, library, out);
  out.either_way_round = f.choice({"either_way_round", "either way round",
                                   "yes: each also with base and holes turned by 90 deg"},
                                  {"yes", "no"}, false)
                             .value == "yes";
  const auto need = [&](const char* name, const std::vector<int>& counts, const char* way) {
    if (f.describing() || f.has(name) || !out.rectangles ||
        *std::max_element(counts.begin(), counts.end()) < 2) {
      return;
    }
    complain_missing(f, name,
                     std::string("spacing ") + way +
                         " between the outer holes, a length or a list of lengths, for example [2 "
                         "in, 2 1/4 in]");
  };
  need("fore_aft", out.holes_fore_aft, "along the boat");
  need("athwart", out.holes_athwart, "across the boat");
  f.finish();
  top.close(key, schema);
  if (out.combinations() > most_patterns && f.reading().problems.size() == before) {
    f.complain_here("patterns: these are " + std::to_string(out.combinations()) +
                    " combinations; at most 500 are compared at once");
  }
  return out;
}

// ---- The tree of a variant
// -------------------------------------------------------------------------

std::string of_variant(const Variant& v, const std::string& message) {
  return "variant " + shown(v.name) + ": " + message;
}

// The tree of a variant. Numbers of list items count as in the setup as drawn, so what is left out
// goes last, the deepest first.
Node tree_of(const Document& document, const Variant& v, std::vector<Problem>& problems) {
  Node root = bare(document.root);
  const auto complain = [&](const Change& c, const std::string& message) {
    problems.push_back(document.problem(c.mark, c.width, of_variant(v, message)));
  };
  for (const Change& c : v.set) {
    const std::string trouble = put(root, c.path, *c.value, c.mark);
    if (!trouble.empty()) complain(c, trouble);
  }
  std::vector<Target> targets;
  for (const Change& c : v.drop) {
    Target t = find_path(root, c.path);
    if (t.trouble.empty() && t.index >= t.parent->items.size()) {
      t.trouble = "there is no " + c.path + " to leave out";
      const std::size_t dot = c.path.rfind('.');
      const std::string above = dot == std::string::npos ? "" : c.path.substr(0, dot);
      const std::string near = nearest_spelling(t.key, t.parent->keys);
      const std::string meant = near.empty() ? path_of_key(root, t.key) : joined(above, near);
      if (!meant.empty()) t.trouble += "; did you mean " + meant + "?";
    }
    if (!t.trouble.empty()) {
      complain(c, t.trouble);
      continue;
    }
    const bool twice = std::any_of(targets.begin(), targets.end(), [&](const Target& o) {
      return o.parent == t.parent && o.index == t.index;
    });
    if (!twice) targets.push_back(t);
  }
  std::sort(targets.begin(), targets.end(), [](const Target& a, const Target& b) {
    return std::pair(a.depth, a.index) > std::pair(b.depth, b.index);
  });
  for (const Target& t : targets) erase(*t.parent, t.index);
  return root;
}

// ---- Reading a variant
// ---------------------------------------------------------------------------

using Places = std::set<std::pair<int, int>>;

void places_of(const Node& n, Places& out) {
  out.emplace(n.mark.line, n.mark.column);
  for (const Mark& m : n.key_marks) out.emplace(m.line, m.column);
  for (const Node& i : n.items) places_of(i, out);
}

// How many keys two paths have in common at their front.
std::size_t keys_in_common(std::string_view a, std::string_view b) {
  std::size_t n = 0;
  while (!a.empty() && !b.empty()) {
    const std::size_t i = std::min(a.find('.'), a.size());
    const std::size_t j = std::min(b.find('.'), b.size());
    if (a.substr(0, i) != b.substr(0, j)) break;
    ++n;
    a.remove_prefix(std::min(a.size(), i + 1));
    b.remove_prefix(std::min(b.size(), j + 1));
  }
  return n;
}

// The path of the deepest value that stands in a place of the file; "" where there is none.
std::string path_at(const Node& at, int line, int column, const std::string& seen = {}) {
  for (std::size_t i = 0; i < at.items.size(); ++i) {
    std::string here = joined(seen, at.kind == Node::Kind::map ? at.keys[i] : std::to_string(i));
    std::string below = path_at(at.items[i], line, column, here);
    if (!below.empty()) return below;
    if (at.items[i].mark.line == line && at.items[i].mark.column == column) return here;
  }
  return "";
}

// What the reader found, at the place in the variant that has to do with it.
Problem at_its_change(const Document& document, const Node& changed, const Variant& v,
                      const Places& own, const Problem& p) {
  Problem out = p;
  out.message = of_variant(v, p.message);
  if (own.count({p.line, p.column}) > 0) return out;
  const std::string_view path =
      std::string_view(p.message).substr(0, p.message.find_first_of(": "));
  const std::string place = path_at(changed, p.line, p.column);
  const Change* nearest = nullptr;
  std::size_t most = 0;
  for (const auto* list : {&v.set, &v.drop}) {
    for (const Change& c : *list) {
      const std::size_t n = std::max(keys_in_common(c.path, path), keys_in_common(c.path, place));
      if (n > most) {
        most = n;
        nearest = &c;
      }
    }
  }
  const Change* only = v.set.size() + v.drop.size() != 1 ? nullptr
                       : v.set.empty()                   ? &v.drop.front()
                                                         : &v.set.front();
  if (nearest == nullptr) nearest = only;
  const Node* name = v.node->find("name");
  if (nearest != nullptr) return document.problem(nearest->mark, nearest->width, out.message);
  return document.problem((name != nullptr ? *name : *v.node).mark, 1, out.message);
}

// Nothing with its problems added.
std::optional<Setup> read_variant(const Document& document, const Variant& v,
                                  const MaterialLibrary& library, std::vector<Problem>& problems) {
  const std::size_t before = problems.size();
  Document changed;
  changed.file = document.file;
  changed.lines = document.lines;
  changed.root = tree_of(document, v, problems);
  if (problems.size() > before) return std::nullopt;
  try {
    return read_tree(changed, library);
  } catch (const InputError& e) {
    Places own;
    for (const Change& c : v.set) {
      own.emplace(c.mark.line, c.mark.column);
      places_of(*c.value, own);
    }
    for (const Problem& p : e.problems()) {
      Problem q = at_its_change(document, changed.root, v, own, p);
      const bool known = std::any_of(problems.begin(), problems.end(), [&](const Problem& o) {
        return o.line == q.line && o.column == q.column && o.message == q.message;
      });
      if (!known) problems.push_back(std::move(q));
    }
  }
  return std::nullopt;
}

// ---- In what a variant differs
// ------------------------------------------------------------------------

// Does a path lead to this key, or below it?
bool has_key(const std::string& path, std::initializer_list<std::string_view> keys) {
  return std::any_of(keys.begin(), keys.end(), [&](std::string_view key) {
    return ("." + path + ".").find("." + std::string(key) + ".") != std::string::npos;
  });
}

// `given`: the value stands beside a source of its owner.
Difference::Kind kind_of_path(const std::string& path, bool given) {
  using Kind = Difference::Kind;
  if (path.ends_with(".known") || path.ends_with(".source") || given) return Kind::claim;
  if (path.starts_with("condition") || path.starts_with("boat")) return Kind::claim;
  if (!path.starts_with("mount.")) return Kind::load;
  if (has_key(path, {"friction", "service", "treated", "incised"})) return Kind::claim;
  if (path.starts_with("mount.host.")) {
    // Where on the boat it stands, and what is done to it there.
    const bool done = has_key(path, {"to_edge", "to_end", "to_support", "solid_at_bolts"});
    return done ? Kind::part : Kind::claim;
  }
  if (path.starts_with("mount.ledges.") && has_key(path, {"hull_thickness", "hull_alloy"})) {
    return Kind::claim;
  }
  if (has_key(path, {"material", "alloy", "wood", "grade", "plies", "eye"})) return Kind::material;
  return Kind::part;
}

class Differ {
 public:
  // What stands on one side only is told once, as a whole. {is: ..., known: ...} stands for its
  // value, with what else it says below it.
  void compare(const Node* a, const Node* b, const std::string& path, bool given = false) {
    if (a == nullptr && b == nullptr) return;
    if (a == nullptr || b == nullptr) return add(path, given);
    const Node* value_a = a->kind == Node::Kind::map ? a->find("is") : nullptr;
    const Node* value_b = b->kind == Node::Kind::map ? b->find("is") : nullptr;
    if (value_a != nullptr || value_b != nullptr) {
      const bool sourced = a->find("source") != nullptr || b->find("source") != nullptr;
      compare(value_a != nullptr ? value_a : a, value_b != nullptr ? value_b : b, path, sourced);
      for (const char* key : {"known", "source"}) {
        compare(value_a != nullptr ? a->find(key) : nullptr,
                value_b != nullptr ? b->find(key) : nullptr, joined(path, key));
      }
      return;
    }
    if (a->kind != b->kind) return add(path, given);
    if (a->kind == Node::Kind::map) return maps(*a, *b, path);
    if (a->kind == Node::Kind::list) return lists(*a, *b, path);
    if (a->text != b->text) add(path, given);
  }

  [[nodiscard]] std::vector<Difference> take() { return std::move(out_); }

 private:
  void add(const std::string& path, bool given) {
    if (path == "title") return;
    const Difference d{kind_of_path(path, given), path};
    if (std::find(out_.begin(), out_.end(), d) == out_.end()) out_.push_back(d);
  }

  void maps(const Node& a, const Node& b, const std::string& path) {
    for (std::size_t i = 0; i < a.keys.size(); ++i) {
      compare(&a.items[i], b.find(a.keys[i]), joined(path, a.keys[i]));
    }
    for (std::size_t i = 0; i < b.keys.size(); ++i) {
      if (a.find(b.keys[i]) == nullptr) compare(nullptr, &b.items[i], joined(path, b.keys[i]));
    }
  }

  static std::string name_of(const Node& item, std::size_t number) {
    const Node* name = item.kind == Node::Kind::map ? item.find("name") : nullptr;
    return name != nullptr && name->kind == Node::Kind::text ? name->text : std::to_string(number);
  }

  // By their names, where they have any: one that is left out moves the numbers of the others.
  void lists(const Node& a, const Node& b, const std::string& path) {
    std::vector<bool> met(b.items.size(), false);
    for (std::size_t i = 0; i < a.items.size(); ++i) {
      const std::string name = name_of(a.items[i], i);
      const Node* other = nullptr;
      for (std::size_t k = 0; k < b.items.size() && other == nullptr; ++k) {
        if (met[k] || name_of(b.items[k], k) != name) continue;
        met[k] = true;
        other = &b.items[k];
      }
      compare(&a.items[i], other, joined(path, name));
    }
    for (std::size_t k = 0; k < b.items.size(); ++k) {
      if (!met[k]) compare(nullptr, &b.items[k], joined(path, name_of(b.items[k], k)));
    }
  }

  std::vector<Difference> out_;
};

std::vector<Difference> differences(const Node& drawn, const Node& changed) {
  Differ d;
  d.compare(&drawn, &changed, "");
  return d.take();
}

std::string kind_of(const Setup& s) { return s.on_board() ? "cross_board" : "gunwale_plate"; }

// A named washer belongs to one size of thread: its hole is the clearance hole of it, more or less.
// Source: judgement; tables of clearance holes differ by up to 0.6 mm for one size.
bool goes_with(const Washer& w, const Thread& t) {
  return w.hole >= t.diameter && abs(w.hole - t.clearance) <= 0.6_mm;
}

void check_family(const Document& document, const Family& f, const Setup& drawn,
                  std::vector<Problem>& problems) {
  const Fastening& own = drawn.plate().fastening;
  const Node* fastening = document.root.find("mount")->find("fastening");
  if (!f.threads.empty() && fastening->find("thread") == nullptr) {
    const Node* hold = fastening->find("hold");
    problems.push_back(document.problem(
        f.thread_nodes.front()->mark, width_of(*f.thread_nodes.front()),
        "patterns.threads: the fasteners of mount.fastening have no thread of these" +
            (hold != nullptr ? " (hold: " + hold->text + ")" : std::string()) +
            "; leave threads out here, and write other sizes as variants"));
    return;
  }
  if (!own.washer) return;
  for (std::size_t i = 0; i < f.threads.size(); ++i) {
    const Thread& t = f.threads[i];
    if (t.name == own.thread.name || goes_with(*own.washer, t)) continue;
    problems.push_back(document.problem(
        f.thread_nodes[i]->mark, width_of(*f.thread_nodes[i]),
        "patterns.threads: " + shown(f.thread_nodes[i]->text) + ": the washer " +
            shown(own.washer->name) + " of mount.fastening has a hole of " +
            show(own.washer->hole, drawn.units) +
            ", which is for another size; write this thread with its own washer as a variant"));
  }
}

// Both keys of a tree that was found sound.
struct Keys {
  std::vector<Variant> variants;
  Family family;
};

Keys keys_of(const Document& document, const std::string& kind, const MaterialLibrary& library) {
  Reading r;
  r.document = &document;
  Fields top(r, &document.root, "", nullptr);
  Keys k;
  k.variants = read_variants(top);
  k.family = read_family(top, kind, library);
  return k;
}

}  // namespace

void read_comparison_keys(Fields& top, const std::string& mount_kind,
                          const MaterialLibrary& library) {
  (void)read_variants(top);
  (void)read_family(top, mount_kind, library);
}

std::vector<Problem> problems_of_comparison(const Document& document, const Setup& drawn,
                                            const MaterialLibrary& library) {
  std::vector<Problem> problems;
  if (document.root.find("variants") == nullptr && document.root.find("patterns") == nullptr) {
    return problems;
  }
  const Keys k = keys_of(document, kind_of(drawn), library);
  for (const Variant& v : k.variants) (void)read_variant(document, v, library, problems);
  if (k.family.node != nullptr && !drawn.on_board()) {
    check_family(document, k.family, drawn, problems);
  }
  sort_stably(problems, [](const Problem& a, const Problem& b) {
    return std::pair(a.line, a.column) < std::pair(b.line, b.column);
  });
  return problems;
}

namespace {

// ---- A pattern of the family
// ---------------------------------------------------------------------

// As a person would write it: four holes or two by their spacing, more as points.
Node holes_node(const HolePattern& p, const std::string& fore_aft, const std::string& athwart,
                Mark mark) {
  Node map;
  map.kind = Node::Kind::map;
  map.mark = mark;
  if (p.on_circle > 0) {
    add(map, "circle", text_node(fore_aft, mark));
    add(map, "count", text_node(std::to_string(p.on_circle), mark));
    return map;
  }
  const bool one = p.holes_fore_aft == 1 && p.holes_athwart == 1;
  if (!one && p.holes_fore_aft <= 2 && p.holes_athwart <= 2) {
    if (p.holes_fore_aft == 2) add(map, "fore_aft", text_node(fore_aft, mark));
    if (p.holes_athwart == 2) add(map, "athwart", text_node(athwart, mark));
    return map;
  }
  Node list;
  list.kind = Node::Kind::list;
  list.mark = mark;
  const auto at = [](int i, int n, Length whole) {
    return n == 1 ? 0.0 : 0.5 * whole.value() * (2 * i - (n - 1)) / (n - 1);
  };
  for (int j = 0; j < p.holes_athwart; ++j) {
    for (int i = 0; i < p.holes_fore_aft; ++i) {
      Node point;
      point.kind = Node::Kind::list;
      point.mark = mark;
      point.items.push_back(text_node(metres(at(i, p.holes_fore_aft, p.fore_aft)), mark));
      point.items.push_back(text_node(metres(at(j, p.holes_athwart, p.athwart)), mark));
      list.items.push_back(std::move(point));
    }
  }
  add(map, "points", std::move(list));
  return map;
}

std::string turned_text(const Node& root) {
  double degrees = 90;
  const Node* mount = root.find("mount");
  const Node* base = mount != nullptr ? mount->find("base") : nullptr;
  const Node* turned = base != nullptr ? base->find("turned") : nullptr;
  if (turned != nullptr && turned->kind == Node::Kind::map) turned = turned->find("is");
  if (turned != nullptr) {
    degrees += parse_measure(turned->text, Dimension::angle).si * 180 / 3.14159265358979323846;
    if (degrees > 360) degrees -= 360;
    degrees = std::round(degrees * 1e9) / 1e9;  // whole degrees stay whole
  }
  return exact_number(degrees) + " deg";
}

// Does a quarter turn bring the base back onto itself?
bool quarter_symmetric(const Outline& outline) {
  return std::all_of(outline.begin(), outline.end(), [&](const PlanPoint& p) {
    return std::any_of(outline.begin(), outline.end(), [&](const PlanPoint& q) {
      return abs(q.x + p.y) < 0.001_mm && abs(q.y - p.x) < 0.001_mm;
    });
  });
}

std::string words_of(const HolePattern& p, ReaderUnits u) {
  std::string out;
  if (p.on_circle > 0) {
    out = std::to_string(p.on_circle) + " holes on a circle of " + show(p.circle, u);
  } else {
    out = std::to_string(p.holes_fore_aft) + " x " + std::to_string(p.holes_athwart) +
          (p.count() == 1 ? " hole" : " holes");
    if (p.holes_fore_aft > 1) out += ", " + show(p.fore_aft, u) + " fore-aft";
    if (p.holes_athwart > 1) out += ", " + show(p.athwart, u) + " athwart";
  }
  if (!p.thread.empty()) out += ", " + p.thread;
  return p.turned ? out + ", turned" : out;
}

// What the checks of distances say against a mount, in words; "" where all are kept.
std::string distances(const Setup& s, const Assessment& a) {
  std::string out;
  if (!s.on_board() && !s.plate().second && s.plate().fastening.holes.size() == 1) {
    out = "one fastener lets the base turn about it: only friction would hold it, never counted";
  }
  for (const CheckResult& r : a.checks) {
    // A check without a load case: nothing but distances.
    if (r.standing != Standing::applies || r.holds || !r.case_title.empty() ||
        !std::isfinite(r.factor)) {
      continue;
    }
    std::string where = r.where.empty() ? "" : " (" + r.where + ")";
    if (r.mode == "edge-distance" && r.fastener >= 0 && !s.on_board()) {
      const PlanPoint& p = s.plate().fastening.holes[std::size_t(r.fastener)];
      const auto near = [&](Length edge) {
        return std::abs(std::max(edge.value(), 0.0) - r.strength.si) < 1e-9;
      };
      if (near(geometry::to_free_wall_edge(s.plate(), p))) {
        where = " of the wall";
      } else if (near(geometry::to_outline_edge(s.plate().base.outline, p))) {
        where = " of the base";
      } else if (s.plate().fastening.backing) {
        where = " of the piece behind the wall";
      }
    }
    out += (out.empty() ? "" : "; ") + r.gives_way + where;
    if (r.strength.dimension == Dimension::length) {
      out += ": " + show(r.strength, s.units) + " where " +
             show(Measure{r.needed * r.demand.si, Dimension::length}, s.units) + " is needed";
    }
  }
  return out;
}

// One reason for many patterns: which hole it is does not matter to them.
std::string of_any_hole(const std::string& message) {
  constexpr std::string_view end = " of the base centre ";
  const std::size_t at = message.find(end);
  if (!message.starts_with("the hole at ") || at == std::string::npos) return message;
  return "a hole " + message.substr(at + end.size());
}

class Builder {
 public:
  Builder(const Document& document, const MaterialLibrary& library)
      : document_(document), library_(library), drawn_(read_tree(document, library)) {
    std::vector<Problem> problems = problems_of_comparison(document, drawn_, library);
    if (problems.empty() && document.root.find("variants") == nullptr &&
        document.root.find("patterns") == nullptr) {
      problems.push_back(document.problem(
          document.root.mark, 1,
          "nothing to compare: variants, or on a gunwale_plate patterns, is expected"));
    }
    if (!problems.empty()) throw InputError(first_problems(std::move(problems)));
  }

  Comparison build() {
    const Keys keys = keys_of(document_, kind_of(drawn_), library_);
    add(Candidate::Origin::as_drawn, drawn_name, drawn_);
    for (const Variant& v : keys.variants) {
      std::vector<Problem> none;
      std::optional<Setup> s = read_variant(document_, v, library_, none);
      if (!s) throw InternalError("a variant that was read cannot be read again");
      add(Candidate::Origin::variant, v.name, std::move(*s));
      out_.candidates.back().differences =
          differences(bare(document_.root), tree_of(document_, v, none));
    }
    if (keys.family.node != nullptr) family(keys.family);
    return std::move(out_);
  }

 private:
  void add(Candidate::Origin origin, const std::string& name, Setup s) {
    Candidate c;
    c.origin = origin;
    c.name = name;
    c.fasteners = s.on_board() ? s.board().hold_downs.size() : s.plate().fastening.holes.size();
    c.setup.emplace(std::move(s));
    out_.candidates.push_back(std::move(c));
  }

  void family(const Family& f) {
    out_.combinations = f.combinations();
    symmetric_ = quarter_symmetric(drawn_.plate().base.outline);
    turned_ = turned_text(document_.root);
    bare_ = bare(document_.root);
    const std::vector<Spacing> none(1);
    const auto& along = f.fore_aft.empty() ? none : f.fore_aft;
    const auto& across = f.athwart.empty() ? none : f.athwart;
    const std::size_t threads = std::max<std::size_t>(1, f.threads.size());
    for (std::size_t t = 0; t < threads; ++t) {
      HolePattern p;
      p.thread = (f.threads.empty() ? drawn_.plate().fastening.thread : f.threads[t]).name;
      for (const int nf : f.holes_fore_aft) {
        for (const int na : f.holes_athwart) {
          for (const Spacing& x : along) {
            for (const Spacing& y : across) {
              if (!f.rectangles) continue;
              p.holes_fore_aft = nf;
              p.holes_athwart = na;
              p.fore_aft = nf > 1 ? x.length : Length{};
              p.athwart = na > 1 ? y.length : Length{};
              both_ways(f, p, x.text, y.text);
            }
          }
        }
      }
      for (const Spacing& circle : f.circles) {
        for (const int n : f.on_circle) {
          HolePattern round;
          round.thread = p.thread;
          round.on_circle = n;
          round.circle = circle.length;
          both_ways(f, round, circle.text, "");
        }
      }
    }
  }

  void both_ways(const Family& f, HolePattern p, const std::string& x, const std::string& y) {
    p.turned = false;
    pattern(f, p, x, y);
    p.turned = true;
    if (f.either_way_round) pattern(f, p, x, y);
  }

  void pattern(const Family& f, const HolePattern& p, const std::string& x, const std::string& y) {
    if (!seen_.insert(key_of(p)).second) {
      ++out_.repeats;
      return;
    }
    Candidate c;
    c.origin = Candidate::Origin::pattern;
    c.name = words_of(p, drawn_.units);
    c.pattern = p;
    c.fasteners = std::size_t(p.count());
    Document changed;
    changed.file = document_.file;
    changed.root = bare_;
    const Mark mark = f.node->mark;
    std::string trouble =
        put(changed.root, "mount.fastening.holes", holes_node(p, x, y, mark), mark);
    if (trouble.empty() && !f.threads.empty()) {
      trouble = put(changed.root, "mount.fastening.thread", text_node(p.thread, mark), mark);
    }
    if (trouble.empty() && p.turned) {
      trouble = put(changed.root, "mount.base.turned", text_node(turned_, mark), mark);
    }
    if (!trouble.empty()) throw InternalError("a pattern finds no place: " + trouble);
    try {
      c.setup.emplace(read_tree(changed, library_));
    } catch (const InputError& e) {
      for (const Problem& problem : e.problems()) {
        const std::string why = of_any_hole(problem.message);
        if (c.why_not.find(why) != std::string::npos) continue;
        c.why_not += (c.why_not.empty() ? "" : "; ") + why;
      }
    }
    out_.candidates.push_back(std::move(c));
  }

  // The same for patterns that are the same on the boat. Tenths of a micrometre: two units.
  using PatternKey = std::tuple<int, int, long long, long long, std::string, bool>;
  [[nodiscard]] PatternKey key_of(const HolePattern& p) const {
    const auto round = [](Length v) { return std::llround(v.value() * 1e7); };
    if (p.on_circle > 0) {
      // Every quarter turn of four holes, or of eight, is the same one.
      const bool same = symmetric_ && p.on_circle % 4 == 0;
      return {-1, p.on_circle, round(p.circle), 0, p.thread, p.turned && !same};
    }
    if (p.turned && symmetric_) {
      return {p.holes_athwart,   p.holes_fore_aft, round(p.athwart),
              round(p.fore_aft), p.thread,         false};
    }
    return {p.holes_fore_aft, p.holes_athwart, round(p.fore_aft),
            round(p.athwart), p.thread,        p.turned};
  }

  const Document& document_;
  const MaterialLibrary& library_;
  Setup drawn_;
  Comparison out_;
  Node bare_;
  std::string turned_;
  bool symmetric_ = false;
  std::set<PatternKey> seen_;
};

// ---- Assessing them all
// --------------------------------------------------------------------------

void assess_one(Candidate& c, const CompareOptions& options) {
  if (!c.setup) return;
  try {
    // By direction, as `thole check`: its limits are looked at more closely then.
    c.assessment =
        assess(*c.setup, {.step = options.step, .neighbours = false, .by_direction = true});
    c.why_not = distances(*c.setup, *c.assessment);
  } catch (const DomainError& e) {
    c.why_not = e.what();
  }
  // Figures of a pattern that nobody should drill help nobody.
  if (c.pattern && !c.fits()) c.assessment.reset();
}

// Each by itself, on several threads: nothing is shared between two.
template <class Work>
void each_of(const std::vector<Candidate*>& all, [[maybe_unused]] unsigned threads, Work one) {
  std::vector<std::exception_ptr> errors(all.size());
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t i = next++; i < all.size(); i = next++) {
      try {
        one(*all[i]);
      } catch (...) {
        errors[i] = std::current_exception();
      }
    }
  };
  on_threads(threads, all.size(), work);
  for (const std::exception_ptr& e : errors) {
    if (e) std::rethrow_exception(e);
  }
}

int place_of(const Candidate& c) {
  if (!c.assessment) return 4;
  switch (c.verdict()) {
    case Verdict::holds:
      return 0;
    case Verdict::holds_if:
      return 1;
    case Verdict::does_not_hold:
      return 2;
    case Verdict::no_verdict:
      return 3;
  }
  throw InternalError("a verdict without a place");
}

// The pull at which the first goes. On a board every assessment has it; on a plate only one with
// neighbours, which takes five times as long.
void find_going(Candidate& c, const CompareOptions& options) {
  if (!c.assessment || c.assessment->verdict == Verdict::no_verdict) return;
  const auto take = [&](const Assessment& a) {
    c.not_before = a.not_before;
    const GearLimit* weakest = nullptr;
    for (const GearLimit& l : a.gear_limits) {
      if (l.not_before && (weakest == nullptr || *l.not_before < *weakest->not_before)) {
        weakest = &l;
      }
    }
    if (weakest != nullptr) c.first = weakest->first;
  };
  if (c.setup->on_board()) {
    take(*c.assessment);
  } else {
    take(assess(*c.setup, {.step = options.step, .neighbours = true}));
  }
}

void rank(Comparison& c) {
  std::vector<std::size_t> order(c.candidates.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  // Whole millinewtons: rounding must not order.
  const auto limit = [](const Candidate& k) {
    return k.verdict() != Verdict::no_verdict && k.assessment->hold_limit
               ? std::llround(k.assessment->hold_limit->value() * 1e3)
               : -1;
  };
  sort_stably(order, [&](std::size_t i, std::size_t j) {
    const Candidate& a = c.candidates[i];
    const Candidate& b = c.candidates[j];
    const int pa = place_of(a);
    const int pb = place_of(b);
    if (pa != pb) return pa < pb;
    const auto la = limit(a);
    const auto lb = limit(b);
    if (la != lb) return la > lb;
    return a.fasteners < b.fasteners;
  });
  if (!order.empty() && place_of(c.candidates[order.front()]) < 3) c.best = order.front();
  c.ranking = {0};
  std::copy_if(order.begin(), order.end(), std::back_inserter(c.ranking),
               [](std::size_t i) { return i != 0; });
}

}  // namespace
}  // namespace reading

Comparison compare(std::string_view text, const std::string& file, const MaterialLibrary& library,
                   const CompareOptions& options) {
  const reading::Document document = reading::read_yaml(text, file);
  Comparison out = reading::Builder(document, library).build();
  std::vector<Candidate*> all;
  for (Candidate& c : out.candidates) all.push_back(&c);
  reading::each_of(all, options.threads, [&](Candidate& c) { reading::assess_one(c, options); });
  reading::rank(out);
  std::vector<Candidate*> foremost;
  std::size_t patterns = 0;
  for (const std::size_t i : out.ranking) {
    Candidate& c = out.candidates[i];
    if (!c.pattern || ++patterns <= options.going) foremost.push_back(&c);
  }
  reading::each_of(foremost, options.threads,
                   [&](Candidate& c) { reading::find_going(c, options); });
  return out;
}

}  // namespace thole
