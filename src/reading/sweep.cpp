#include <thole/sweep.hpp>

#include <cmath>
#include <cstdlib>
#include <numbers>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "reading/quoting.hpp"
#include "reading/tree_edits.hpp"
#include "reading/trials.hpp"
#include "reading/variants.hpp"

namespace thole {

namespace reading {
namespace {

constexpr std::size_t most_points = 500;
constexpr int usual_steps = 10;

/// THE names. The first pattern that finds something in the file is what is meant.
struct NameRule {
  SweepName name;
  std::vector<const char*> patterns;
  bool other_sign = false;
  const char* where_not = "";  ///< what to say where no pattern finds anything
};

const std::vector<NameRule>& name_rules() {
  static const std::vector<NameRule> rules{
      {{"inboard distance", "how far the gear stands inboard; outboard is below zero"},
       {"gear.*.on_board.outboard", "mount.gear_foot.outboard"},
       true,
       "a gunwale_plate stands on its gear; what moves is mount.base.from_inboard_edge"},
      {{"outboard distance", "how far the gear stands outboard; inboard is below zero"},
       {"gear.*.on_board.outboard", "mount.gear_foot.outboard"},
       false,
       "a gunwale_plate stands on its gear; what moves is mount.base.from_inboard_edge"},
      {{"boom angle", "from astern toward outboard, each as the only one"},
       {"gear.*downrigger.boom_angles"}},
      {{"boom length", "middle of the base to the tip"}, {"gear.*downrigger.boom_length"}},
      {{"tip height", "of the boom above board or wall"}, {"gear.*downrigger.tip_height"}},
      {{"brake", "pull at which the brake slips"}, {"gear.*downrigger.brake_slip"}},
      {{"weak link", "its breaking load"}, {"gear.*downrigger.weak_link"}},
      {{"ball", "its mass"}, {"gear.*downrigger.ball"}},
      {{"depth", "of the ball"}, {"gear.*downrigger.depth"}},
      {{"speed", "through the water, each as the only one"}, {"gear.*downrigger.speed"}},
      {{"drag", "pull at which the reel gives line"}, {"gear.*rod_holder.drag"}},
      {{"line", "test of the line"}, {"gear.*rod_holder.line_test"}},
      {{"rod angle", "tube from upright"}, {"gear.*rod_holder.lean"}},
      {{"rim height", "of the rod's tube above the wall"}, {"gear.*rod_holder.height"}},
      {{"pull", "of a plain load"}, {"gear.*plain_load.pull"}},
      {{"wall", "thickness: host, tube of the board, hull at the ledges"},
       {"mount.host.thickness", "mount.board.wall", "mount.ledges.*.fastening.hull_thickness"}},
      {{"plank thickness", "up and down, as it lies"}, {"mount.board.thickness"}},
      {{"plank width", "fore and aft, as it lies"}, {"mount.board.width"}},
      {{"base thickness", "of the plate or bracket"}, {"mount.base.thickness"}},
      {{"plate behind", "its thickness"}, {"mount.fastening.behind.thickness"}},
      {{"holes fore and aft", "spacing along the boat"}, {"mount.fastening.holes.fore_aft"}},
      {{"holes athwart", "spacing across the boat"}, {"mount.fastening.holes.athwart"}},
      {{"bumps", "peak of a running boat, in g on top of gravity"}, {"use.running_peak"}},
  };
  return rules;
}

std::string as_words(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const char d = c == '_' || c == '-' ? ' ' : c;
    out += d >= 'A' && d <= 'Z' ? static_cast<char>(d - 'A' + 'a') : d;
  }
  return out;
}

const NameRule* rule_called(const std::string& of) {
  for (const NameRule& r : name_rules()) {
    if (r.name.name == as_words(of)) return &r;
  }
  return nullptr;
}

std::vector<std::string> split(std::string_view path) {
  std::vector<std::string> out;
  std::size_t at = 0;
  for (;;) {
    const std::size_t dot = path.find('.', at);
    out.emplace_back(path.substr(at, dot - at));
    if (dot == std::string_view::npos) return out;
    at = dot + 1;
  }
}

bool of_kind(const Node& item, std::string_view kind) {
  const Node* k = item.find("kind");
  if (k != nullptr && k->kind == Node::Kind::map) k = k->find("is");
  return k != nullptr && k->text == kind;
}

void expand(const Node& at, const std::vector<std::string>& keys, std::size_t i,
            const std::string& seen, bool by_kind, std::vector<std::string>& out) {
  if (i == keys.size()) {
    out.push_back(seen);
    return;
  }
  const std::string& key = keys[i];
  if (!key.starts_with('*')) {
    if (at.kind == Node::Kind::list) {
      const bool number =
          !key.empty() && key.size() < 4 &&
          std::all_of(key.begin(), key.end(), [](char c) { return c >= '0' && c <= '9'; });
      const std::size_t n = number ? std::size_t(std::atoi(key.c_str())) : at.items.size();
      if (n < at.items.size()) {
        expand(at.items[n], keys, i + 1, joined(seen, key), false, out);
      }
      return;
    }
    const Node* below = at.find(key);
    if (below != nullptr) {
      expand(*below, keys, i + 1, joined(seen, key), false, out);
    } else if (by_kind && i + 1 == keys.size()) {
      out.push_back(joined(seen, key));
    }
    return;
  }
  const std::string kind = key.substr(1);
  for (std::size_t n = 0; n < at.items.size(); ++n) {
    if (at.kind == Node::Kind::list) {
      if (!kind.empty() && !of_kind(at.items[n], kind)) continue;
      expand(at.items[n], keys, i + 1, joined(seen, std::to_string(n)), !kind.empty(), out);
    } else if (at.kind == Node::Kind::map && kind.empty()) {
      expand(at.items[n], keys, i + 1, joined(seen, at.keys[n]), false, out);
    }
  }
}

struct SiUnit {
  Dimension dimension;
  const char* name;
};
constexpr SiUnit si_units[]{
    {Dimension::number, ""},
    {Dimension::length, "m"},
    {Dimension::area, "m2"},
    {Dimension::force, "N"},
    {Dimension::moment, "N m"},
    {Dimension::stress, "Pa"},
    {Dimension::mass, "kg"},
    {Dimension::density, "kg/m3"},
    {Dimension::speed, "m/s"},
    {Dimension::angle, "rad"},
    {Dimension::bending_stiffness, "N m2"},
};

std::string si_unit(Dimension d) {
  for (const SiUnit& u : si_units) {
    if (u.dimension == d) return u.name;
  }
  throw InternalError("a dimension without a unit");
}

// Ten figures: what is in the unit of a person reads as such.
std::string figures(double v) {
  if (v == 0 || !std::isfinite(v)) return "0";
  const int digits = 9 - int(std::floor(std::log10(std::abs(v))));
  const double scale = std::pow(10.0, digits);
  std::string out = exact_number(std::round(v * scale) / scale);
  if (out.size() > 15) out = exact_number(std::strtod(out.substr(0, 15).c_str(), nullptr));
  return out;
}

// The unit behind the number of a text; "" where there is none.
std::string unit_behind(const std::string& text) {
  std::size_t i = text.find_first_not_of("0123456789.+-/ ");
  if (i == std::string::npos) return "";
  if ((text[i] == 'e' || text[i] == 'E') && i + 1 < text.size() &&
      std::string_view("0123456789+-").find(text[i + 1]) != std::string_view::npos) {
    i = text.find_first_not_of("0123456789+-. ", i + 1);
    if (i == std::string::npos) return "";
  }
  std::string unit = text.substr(i);
  while (!unit.empty() && unit.back() == ' ') unit.pop_back();
  return unit;
}

}  // namespace

namespace {

std::optional<std::size_t> number_in(const std::string& key) {
  if (key.empty() || key.size() > 3 ||
      !std::all_of(key.begin(), key.end(), [](char c) { return c >= '0' && c <= '9'; })) {
    return std::nullopt;
  }
  return std::size_t(std::atoi(key.c_str()));
}

Node* below(Node& at, const std::string& key) {
  if (at.kind == Node::Kind::list) {
    const auto n = number_in(key);
    return n && *n < at.items.size() ? &at.items[*n] : nullptr;
  }
  for (std::size_t i = 0; at.kind == Node::Kind::map && i < at.keys.size(); ++i) {
    if (at.keys[i] == key) return &at.items[i];
  }
  return nullptr;
}

}  // namespace

Node* value_at(Node& root, const std::string& path) {
  Node* at = &root;
  for (const std::string& key : split(path)) {
    if (at != nullptr) at = below(*at, key);
  }
  Node* is = at != nullptr && at->kind == Node::Kind::map ? below(*at, "is") : nullptr;
  return is != nullptr ? is : at;
}

std::string put_value(Node& root, const std::string& path, const Node& value) {
  if (Node* at = value_at(root, path)) {
    const Mark mark = at->mark;
    *at = value;
    at->mark = mark;
    return "";
  }
  const std::size_t dot = path.rfind('.');
  Node* map = dot == std::string::npos ? &root : value_at(root, path.substr(0, dot));
  if (map == nullptr || map->kind != Node::Kind::map) {
    return "nothing stands above " + shown(path) + " in this file; write it there first";
  }
  add(*map, path.substr(dot == std::string::npos ? 0 : dot + 1).c_str(), value);
  return "";
}

std::vector<std::string> expanded(const Node& root, std::string_view pattern) {
  std::vector<std::string> out;
  expand(root, split(pattern), 0, "", false, out);
  return out;
}

std::string without_items(const Node& root, const std::string& path) {
  std::string out;
  const Node* at = &root;
  for (const std::string& key : split(path)) {
    if (at != nullptr && at->kind == Node::Kind::list) {
      const auto n = number_in(key);
      at = n && *n < at->items.size() ? &at->items[*n] : nullptr;
      continue;
    }
    if (key == "is") break;
    out = joined(out, key);
    if (at != nullptr) at = at->find(key);
  }
  return out;
}

std::optional<Measure> measure_in(const std::string& text) {
  try {
    if (unit_behind(text).empty()) return Measure{parse_number(text), Dimension::number};
    return parse_measure(text);
  } catch (const UnitError&) {
    return std::nullopt;
  }
}

std::string in_unit_of(const std::string& text, const Measure& value) {
  if (value.dimension == Dimension::number) return figures(value.si);
  const std::string unit = unit_behind(text);
  for (const UnitRow& row : unit_table()) {
    if (row.name == unit && row.dimension == value.dimension) {
      return figures(value.si / row.factor) + " " + unit;
    }
  }
  if (value.dimension == Dimension::length) return figures(value.si * 1e3) + " mm";
  return figures(value.si) + " " + si_unit(value.dimension);
}

void write_size_out(Node& root, const Setup& drawn) {
  if (!drawn.on_board()) return;
  Node* piece = value_at(root, "mount.board");
  if (piece == nullptr || piece->find("size") == nullptr) return;
  Node& board = *piece;
  const Mark mark = board.mark;
  const BoardPiece& p = drawn.board().board;
  const auto text = [&](Length v) {
    return text_node(in_unit_of(drawn.units == ReaderUnits::inch ? "1 in" : "1 mm",
                                {v.value(), Dimension::length}),
                     mark);
  };
  board = without(board, {"size", "laid"});
  board.mark = mark;
  if (p.form == BoardForm::round_tube) {
    add(board, "diameter", text(p.width));
  } else {
    add(board, "width", text(p.width));
    add(board, "thickness", text(p.thickness));
  }
  if (p.form != BoardForm::plank && p.form != BoardForm::plank_with_strip) {
    add(board, "wall", text(p.wall));
  }
}

std::string one_line(const InputError& error) {
  std::string out;
  for (const Problem& p : error.problems()) {
    if (out.find(p.message) != std::string::npos) continue;
    out += (out.empty() ? "" : "; ") + p.message;
  }
  return out;
}

Worth worth_under_load(const Setup& setup, Assessment assessment) {
  std::erase_if(assessment.checks, [](const CheckResult& c) {
    return c.case_title.empty() && std::isfinite(c.factor);
  });
  return worth_of(setup, assessment);
}

std::optional<Setup> read_changed(const Node& root, const std::string& file,
                                  const MaterialLibrary& library, std::string& why_not) {
  Document changed;
  changed.file = file;
  changed.root = root;
  try {
    return read_tree(changed, library);
  } catch (const InputError& e) {
    why_not = one_line(e);
  }
  return std::nullopt;
}

namespace {

// ---- What is asked
// -------------------------------------------------------------------------------

// A path as written may name items by their names; then as numbers.
std::string numbered(const Node& root, const std::string& path) {
  std::string out;
  const Node* at = &root;
  std::string rest = path;
  while (!rest.empty()) {
    if (at->kind == Node::Kind::list) {
      std::optional<std::size_t> found;
      std::size_t length = 0;
      for (std::size_t i = 0; i < at->items.size(); ++i) {
        const Node* name = at->items[i].find("name");
        if (name == nullptr || name->text.empty() || !covers(name->text, rest)) continue;
        if (name->text.size() < length) continue;
        length = name->text.size();
        found = i;
      }
      if (!found) {
        length = std::min(rest.find('.'), rest.size());
        found = std::size_t(std::atoi(rest.substr(0, length).c_str()));
      }
      out = joined(out, std::to_string(*found));
      rest.erase(0, std::min(rest.size(), length + 1));
      if (*found >= at->items.size()) return joined(out, rest);
      at = &at->items[*found];
    } else {
      const std::string key = rest.substr(0, rest.find('.'));
      out = joined(out, key);
      rest.erase(0, std::min(rest.size(), key.size() + 1));
      const Node* below = at->find(key);
      if (below == nullptr) return rest.empty() ? out : joined(out, rest);
      at = below;
    }
  }
  return out;
}

struct Asked {
  Node root;  // into which the values are put
  std::vector<std::string> paths;
  const NameRule* rule = nullptr;
  std::optional<Dimension> dimension;  // nothing: words
  bool size_written_out = false;
};

std::string list_of_names() {
  std::string out;
  for (const NameRule& r : name_rules()) {
    out += (out.empty() ? "" : ", ") + std::string(r.name.name);
  }
  return out;
}

std::optional<Dimension> dimension_at(Node& root, const std::string& path) {
  const Node* at = value_at(root, path);
  if (at == nullptr) return std::nullopt;
  while (at->kind == Node::Kind::list && !at->items.empty()) at = &at->items.front();
  if (at->kind != Node::Kind::text) return std::nullopt;
  const auto m = measure_in(at->text);
  return m ? std::optional<Dimension>(m->dimension) : std::nullopt;
}

Asked find(const Document& document, const Setup& drawn, const std::string& of) {
  Asked out;
  out.root = bare(document.root);
  if (of.empty()) {
    throw UnknownName("what is swept? A path of the file, as in mount.host.thickness, or one of: " +
                      list_of_names());
  }
  out.rule = rule_called(of);
  if (out.rule != nullptr) {
    const std::string name(out.rule->name.name);
    const bool of_board = drawn.on_board();
    if (of_board &&
        (name.starts_with("plank ") || (name == "wall" && drawn.board().board.wall.value() > 0))) {
      const Node* board = value_at(out.root, "mount.board");
      out.size_written_out = board != nullptr && board->find("size") != nullptr;
      write_size_out(out.root, drawn);
    }
    for (const char* pattern : out.rule->patterns) {
      out.paths = expanded(out.root, pattern);
      if (!out.paths.empty()) break;
    }
    // Where the usual peak counts, nothing stands there.
    const std::string only = out.rule->patterns.front();
    if (out.paths.empty() && only.starts_with("use.")) {
      if (out.root.find("use") == nullptr) {
        Node use;
        use.kind = Node::Kind::map;
        use.mark = out.root.mark;
        add(out.root, "use", std::move(use));
      }
      out.paths = {only};
    }
    if (out.paths.empty()) {
      std::string places;
      for (const char* pattern : out.rule->patterns) {
        places += (places.empty() ? "" : ", ") + std::string(pattern);
      }
      throw UnknownName("this setup has no " + name + ": " +
                        (out.rule->where_not[0] != '\0' ? std::string(out.rule->where_not)
                                                        : "nothing stands at " + places));
    }
  } else if (of.find('*') != std::string::npos) {
    out.paths = expanded(out.root, of);
    if (out.paths.empty()) throw UnknownName("nothing stands at " + shown(of) + " in this file");
  } else {
    const Target t = find_path(out.root, of);
    if (of.find('.') == std::string::npos) {
      std::vector<std::string> names;
      for (const NameRule& r : name_rules()) names.emplace_back(r.name.name);
      const std::string near = nearest_spelling(as_words(of), names);
      throw UnknownName(
          shown(of) + " is no path with dots and none of our names" +
          (near.empty() ? ": " + list_of_names() : "; did you mean \"" + near + "\"?"));
    }
    if (!t.trouble.empty()) throw UnknownName(t.trouble);
    out.paths = {numbered(out.root, of)};
  }
  for (const std::string& path : out.paths) {
    for (const char* fixed : {"thole", "units", "title", "variants", "patterns"}) {
      if (covers(fixed, path)) throw UnknownName(std::string(fixed) + " is nothing to be swept");
    }
    const Node* at = value_at(out.root, path);
    if (at != nullptr && at->kind == Node::Kind::map) {
      std::string below;
      for (const std::string& key : at->keys) below += (below.empty() ? "" : ", ") + key;
      throw UnknownName(shown(path) + " is a group of keys, one value is expected: add one of " +
                        below);
    }
    if (!out.dimension) out.dimension = dimension_at(out.root, path);
  }
  return out;
}

// The unit and the dimension are looked at before anything is calculated.
std::optional<Measure> measured(const std::string& text, const std::optional<Dimension>& want) {
  if (!want) return measure_in(text);
  if (*want == Dimension::number) return Measure{parse_number(text), Dimension::number};
  return parse_measure(text, *want);
}

std::vector<std::string> values_of(const SweepQuestion& q, const Asked& asked, const Setup& drawn,
                                   const MaterialLibrary& library) {
  const bool range = !q.from.empty() || !q.to.empty();
  if (!q.values.empty() && (range || q.steps != 0)) {
    throw DomainError("values or a range with from and to are expected, not both");
  }
  std::vector<std::string> out = q.values;
  if (range) {
    if (q.from.empty() || q.to.empty()) {
      throw DomainError(std::string("a range needs ") + (q.from.empty() ? "from" : "to") +
                        " as well");
    }
    const auto a = measured(q.from, asked.dimension);
    const auto b = measured(q.to, a ? std::optional(a->dimension) : asked.dimension);
    if (!a || !b) {
      throw UnitError(shown(!a ? q.from : q.to) +
                      " is no value of a range; a number with its unit is expected");
    }
    const int steps = q.steps == 0 ? usual_steps : q.steps;
    if (steps < 0) throw DomainError("the steps of a range are one or more");
    if (a->si == b->si) throw DomainError("the range is empty: from and to are the same");
    if (std::size_t(steps) + 1 > most_points) {
      throw DomainError("at most 500 values; these are " + std::to_string(std::size_t(steps) + 1));
    }
    for (int i = 0; i <= steps; ++i) {
      const double t = double(i) / steps;
      double v = a->si + (b->si - a->si) * t;
      // Zero is zero, not what rounding leaves of it.
      if (std::abs(v) < 1e-9 * std::max(std::abs(a->si), std::abs(b->si))) v = 0;
      out.push_back(i == 0 ? q.from : i == steps ? q.to : in_unit_of(q.from, {v, a->dimension}));
    }
  } else if (out.empty()) {
    if (asked.rule == nullptr || asked.rule->name.name != "wall") {
      throw DomainError("values are expected: each with its unit, or from, to and steps");
    }
    const std::string market = drawn.units == ReaderUnits::inch ? "inch" : "metric";
    for (const Length& wall : library.walls(market)) {
      for (const Entry& e : library.entries()) {
        const auto of = e.about.find("market");
        if (e.kind != "wall" || of == e.about.end() || of->second != market) continue;
        const TableValue& t = e.values.at("thickness");
        if (t.measure.si == wall.value()) out.push_back(t.written);
      }
    }
  }
  if (out.size() > most_points) {
    throw DomainError("at most 500 values; these are " + std::to_string(out.size()));
  }
  for (const std::string& v : out) {
    if (v.find_first_not_of(' ') == std::string::npos) throw DomainError("a value is empty");
    (void)measured(v, asked.dimension);
  }
  return out;
}

// ---- One point
// -----------------------------------------------------------------------------------

// How far the hull side is outboard of where gear counts its place from, and the transom aft of it.
struct HullEdges {
  Length side{};
  Length stern{};
  std::string why_not;
};

HullEdges hull_edges(const Setup& s) {
  HullEdges out;
  if (!s.boat) {
    out.why_not = "not known: it needs the beam, and where the mount is, under boat";
    return out;
  }
  out.stern = s.boat->mount_from_stern;
  if (s.on_board()) {
    out.side = Length(0.5 * (s.boat->beam - s.board().clear_width));
    return out;
  }
  const GunwalePlate& p = s.plate();
  if (p.bracket || !p.host.is_metal() || p.host.form == WallForm::sheet ||
      !(p.host.flat > p.base.from_inboard_edge)) {
    out.why_not =
        "not known: how far the base stands from the outer edge of the gunwale is not "
        "in the file";
    return out;
  }
  out.side = Length(p.host.flat - p.base.from_inboard_edge);
  return out;
}

std::optional<Length> cable_gap(const Setup& s) {
  const HullEdges hull = hull_edges(s);
  if (!hull.why_not.empty()) return std::nullopt;
  std::optional<Length> least;
  for (const Gear& g : s.gear) {
    if (!g.downrigger) continue;
    const Length outboard = s.on_board() ? g.place.outboard : Length{};
    const Length forward = s.on_board() ? g.place.forward : Length{};
    for (std::size_t i = 0; i < g.downrigger->positions(); ++i) {
      const Downrigger::Position at = g.downrigger->position(i);
      const double reach = g.downrigger->boom_length.value() * std::cos(at.raised.value());
      const double abeam =
          outboard.value() + reach * std::sin(at.azimuth.value()) - hull.side.value();
      const double astern =
          reach * std::cos(at.azimuth.value()) - hull.stern.value() - forward.value();
      const double gap =
          abeam > 0 && astern > 0 ? std::hypot(abeam, astern) : std::max(abeam, astern);
      if (!least || gap < least->value()) least = Length::from_value(gap);
    }
  }
  return least;
}

void assess_point(SweepPoint& p, const Setup& s, const SweepOptions& options) {
  p.cable_gap = cable_gap(s);
  try {
    // By direction, as `thole check`: its limits are looked at more closely then.
    const Assessment a =
        assess(s, {.step = options.step, .neighbours = true, .by_direction = true});
    p.worth = worth_of(s, a);
    p.loaded_ratio = worth_under_load(s, a).ratio;
    p.not_before = a.not_before;
    const GearLimit* weakest = nullptr;
    for (const GearLimit& l : a.gear_limits) {
      if (l.not_before && (weakest == nullptr || *l.not_before < *weakest->not_before)) {
        weakest = &l;
      }
    }
    if (weakest != nullptr) p.first = weakest->first;
    p.gear_limits = a.gear_limits;
    for (const HeelPull& h : a.boat.pulls) {
      if (h.setting && (!p.boat_setting || *h.setting < *p.boat_setting))
        p.boat_setting = h.setting;
    }
  } catch (const DomainError& e) {
    p.why_not = e.what();
  }
}

std::optional<double> for_plots(const std::optional<Measure>& m) {
  if (!m) return std::nullopt;
  return m->dimension == Dimension::angle ? m->si * 180 / std::numbers::pi : m->si;
}

class Sweep {
 public:
  Sweep(std::string_view text, const std::string& file, const MaterialLibrary& library,
        const SweepQuestion& question, const SweepOptions& options)
      : document_(read_yaml(text, file)),
        library_(library),
        options_(options),
        drawn_(read_tree(document_, library)),
        asked_(find(document_, drawn_, question.of)) {
    out_.of = question.of;
    out_.paths = asked_.paths;
    name_it();
    for (const std::string& v : values_of(question, asked_, drawn_, library)) point(v);
    as_drawn();
  }

  SweepAnswer run() {
    std::vector<SweepPoint*> all{&out_.as_drawn};
    std::vector<const Setup*> setups{&drawn_};
    for (std::size_t i = 0; i < out_.points.size(); ++i) {
      if (out_.drawn_at == i || !setups_[i]) continue;
      all.push_back(&out_.points[i]);
      setups.push_back(&*setups_[i]);
    }
    std::vector<char> done(all.size(), 0);
    out_.stopped =
        !each_by_itself(all.size(), options_.threads, options_.watch, [&](std::size_t i) {
          assess_point(*all[i], *setups[i], options_);
          done[i] = 1;
        });
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (done[i] == 0) all[i]->why_not = "not looked at: stopped before";
    }
    if (out_.drawn_at) {
      SweepPoint& same = out_.points[*out_.drawn_at];
      SweepPoint copy = out_.as_drawn;
      copy.value = same.value;
      copy.written = same.written;
      copy.plots = same.plots;
      same = std::move(copy);
    }
    return std::move(out_);
  }

 private:
  void name_it() {
    const std::string path = without_items(asked_.root, asked_.paths.front());
    if (asked_.rule != nullptr) out_.what = std::string(asked_.rule->name.what);
    out_.label = asked_.rule != nullptr ? std::string(asked_.rule->name.name) : path;
    for (const Input& i : drawn_.inputs) {
      if (asked_.rule == nullptr && i.path == path) out_.label = i.label;
    }
    if (asked_.size_written_out) out_.label += " (in place of mount.board.size)";
    if (std::none_of(drawn_.gear.begin(), drawn_.gear.end(),
                     [](const Gear& g) { return g.downrigger.has_value(); })) {
      return;
    }
    const HullEdges hull = hull_edges(drawn_);
    out_.cable = !hull.why_not.empty()
                     ? hull.why_not
                     : "plumb below the boom tip, the least of all boom positions, from a hull "
                       "square at side and transom; in a turn the cable comes nearer";
    for (const Input& i : drawn_.inputs) {
      if (hull.why_not.empty() && i.path == "boat.mount_from_stern" && i.defaulted) {
        out_.cable += "; the mount is taken to stand at the stern: give boat.mount_from_stern";
      }
    }
  }

  void point(const std::string& value) {
    SweepPoint p;
    p.value = value;
    p.written = value;
    const auto m = measured(value, asked_.dimension);
    if (m && !asked_.dimension) asked_.dimension = m->dimension;
    p.plots = for_plots(m);
    if (m && asked_.rule != nullptr && asked_.rule->other_sign) {
      p.written = in_unit_of(value, {m->si == 0 ? 0 : -m->si, m->dimension});
    }
    Node root = asked_.root;
    for (const std::string& path : asked_.paths) {
      const std::string trouble = put_value(root, path, text_node(p.written, {}));
      if (!trouble.empty()) throw UnknownName(trouble);
    }
    setups_.push_back(read_changed(root, document_.file, library_, p.why_not));
    // A key that nobody knows is a slip of the path, not of the value.
    if (!setups_.back() && p.why_not.starts_with("unknown key ")) throw UnknownName(p.why_not);
    out_.points.push_back(std::move(p));
  }

  void as_drawn() {
    std::string words;
    std::optional<Measure> one;
    bool alike = true;
    bool first = true;
    for (const std::string& path : asked_.paths) {
      const Node* at = value_at(asked_.root, path);
      std::string text = "left out";
      std::optional<Measure> m;
      if (at != nullptr && at->kind == Node::Kind::text) {
        text = at->text;
        m = measure_in(text);
      } else if (at != nullptr && at->kind == Node::Kind::list) {
        text.clear();
        for (const Node& item : at->items) text += (text.empty() ? "" : ", ") + item.text;
        if (at->items.size() == 1) m = measure_in(text);
      }
      if (m && asked_.rule != nullptr && asked_.rule->other_sign) {
        m->si = m->si == 0 ? 0 : -m->si;
        text = in_unit_of(text, *m);
      }
      if (("; " + words + "; ").find("; " + text + "; ") == std::string::npos) {
        words += (words.empty() ? "" : "; ") + text;
      }
      alike = alike && (first || (m && one && m->si == one->si));
      one = m;
      first = false;
    }
    out_.as_drawn.value = words;
    out_.as_drawn.written = words;
    if (asked_.dimension) {
      out_.unit = *asked_.dimension == Dimension::angle ? "deg" : si_unit(*asked_.dimension);
    }
    if (one && alike) out_.as_drawn.plots = for_plots(one);
    for (std::size_t i = 0; i < out_.points.size(); ++i) {
      const SweepPoint& p = out_.points[i];
      const bool same =
          out_.as_drawn.plots && p.plots
              ? std::abs(*p.plots - *out_.as_drawn.plots) <= 1e-12 * std::abs(*out_.as_drawn.plots)
              : !p.plots && p.value == words;
      if (same && setups_[i]) out_.drawn_at = i;
    }
  }

  Document document_;
  const MaterialLibrary& library_;
  const SweepOptions& options_;
  Setup drawn_;
  Asked asked_;
  SweepAnswer out_;
  std::vector<std::optional<Setup>> setups_;  // of the points
};

}  // namespace
}  // namespace reading

const std::vector<SweepName>& sweep_names() {
  static const std::vector<SweepName> names = [] {
    std::vector<SweepName> out;
    for (const reading::NameRule& r : reading::name_rules()) out.push_back(r.name);
    return out;
  }();
  return names;
}

SweepAnswer sweep(std::string_view text, const std::string& file, const MaterialLibrary& library,
                  const SweepQuestion& question, const SweepOptions& options) {
  return reading::Sweep(text, file, library, question, options).run();
}

}  // namespace thole
