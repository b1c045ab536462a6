#include <thole/changes.hpp>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdlib>
#include <exception>
#include <mutex>
#include <set>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "core/stable_order.hpp"
#include "reading/change_kinds.hpp"
#include "reading/on_threads.hpp"
#include "reading/quoting.hpp"
#include "reading/tree_edits.hpp"
#include "reading/variants.hpp"

namespace thole {

namespace reading {

// ---- What drafts share
// ---------------------------------------------------------------------------

namespace {

// `find_path` changes nothing, but hands out places to change.
Node& unlocked(const Node& n) { return const_cast<Node&>(n); }

}  // namespace

const Node* node_at(const Drawn& drawn, const std::string& path) {
  const Target t = find_path(unlocked(drawn.document.root), path);
  if (!t.trouble.empty() || t.index >= t.parent->items.size()) return nullptr;
  return &t.parent->items[t.index];
}

std::string text_at(const Drawn& drawn, const std::string& path) {
  const Node* n = node_at(drawn, path);
  if (n != nullptr && n->kind == Node::Kind::map) n = n->find("is");
  return n != nullptr && n->kind == Node::Kind::text ? n->text : std::string();
}

std::string value_path(const Drawn& drawn, const std::string& path) {
  const Node* n = node_at(drawn, path);
  const bool marked = n != nullptr && n->kind == Node::Kind::map && n->find("is") != nullptr;
  return marked ? path + ".is" : path;
}

std::string item_path(const Drawn& drawn, const std::string& list, std::size_t item) {
  std::string path = list + "." + std::to_string(item);
  const Node* all = node_at(drawn, list);
  const bool there = all != nullptr && all->kind == Node::Kind::list && item < all->items.size();
  return there && node_at(drawn, path) == &all->items[item] ? path : std::string();
}

std::string written(const Drawn& drawn, Length v) { return show(v, drawn.setup.units); }

std::string quoted(std::string_view name) {
  const bool plain = !name.empty() &&
                     name.find_first_of(":,[]{}#&*!|>'\"%@`?\\") == std::string_view::npos &&
                     name.front() != '-' && name.front() != ' ' && name.back() != ' ';
  return plain ? std::string(name) : in_single_quotes(name);
}

std::vector<Length> stock_sizes(const Drawn& drawn, std::string_view kind,
                                std::string_view property) {
  std::vector<Length> out;
  const std::string_view market = drawn.inch() ? "inch" : "metric";
  for (const Entry& e : drawn.library.entries()) {
    if (e.kind != kind) continue;
    const auto sold = e.about.find("market");
    const auto value = e.values.find(std::string(property));
    if (sold == e.about.end() || sold->second != market || value == e.values.end()) continue;
    out.push_back(Length::from_value(value->second.measure.si));
  }
  std::sort(out.begin(), out.end());
  const auto alike = [](Length a, Length b) { return abs(a - b).value() < 1e-7; };
  out.erase(std::unique(out.begin(), out.end(), alike), out.end());
  return out;
}

std::vector<Length> above(const std::vector<Length>& sizes, Length than, std::size_t most) {
  std::vector<Length> out;
  for (const Length& v : sizes) {
    if (v.value() > than.value() + 1e-5 && out.size() < most) out.push_back(v);
  }
  return out;
}

std::vector<Length> below(const std::vector<Length>& sizes, Length than, std::size_t most) {
  std::vector<Length> out;
  for (std::size_t i = sizes.size(); i-- > 0;) {
    if (sizes[i].value() < than.value() - 1e-5 && out.size() < most) out.push_back(sizes[i]);
  }
  return out;
}

std::optional<Density> density_of(const MaterialLibrary& library, std::string_view material) {
  for (const char* kind : {"metal", "backing_sheet", "wood_grade"}) {
    const Entry* e = library.find(kind, material);
    if (e == nullptr) continue;
    const auto it = e->values.find("density");
    if (it != e->values.end()) return Density::from_value(it->second.measure.si);
  }
  return std::nullopt;
}

void weigh(Trouble& trouble, const MaterialLibrary& library, std::string_view material,
           Volume piece, double times) {
  if (const auto density = density_of(library, material)) {
    trouble.added += times * *density * piece;
  } else {
    trouble.mass_known = false;
  }
}

namespace {

// ---- Edits
// ---------------------------------------------------------------------------------------

Node value_node(const std::string& value) {
  const Document d = read_yaml("x: " + value + "\n", "edit");
  if (d.root.kind != Node::Kind::map || d.root.items.size() != 1) {
    throw DomainError("a value on one line is expected");
  }
  return d.root.items.front();
}

// The reason where an edit leads nowhere.
std::string put_in(Node& root, const Edit& e) {
  if (!e.value.empty()) return put(root, e.path, value_node(e.value), root.mark);
  const Target t = find_path(root, e.path);
  if (!t.trouble.empty()) return t.trouble;
  if (t.index >= t.parent->items.size()) return e.path + " is not there to be left out";
  erase(*t.parent, t.index);
  return "";
}

bool same(const Node& a, const Node& b) {
  if (a.kind != b.kind || a.text != b.text || a.keys != b.keys ||
      a.items.size() != b.items.size()) {
    return false;
  }
  for (std::size_t i = 0; i < a.items.size(); ++i) {
    if (!same(a.items[i], b.items[i])) return false;
  }
  return true;
}

// What counts the items of a list would mean another one when the one at `index` goes: the paths of
// variants, as in gear.1.ball, and the load cases of a gear, as in lift-2.
void refuse_counted(const Node& at, const std::string& list, int index, bool cases) {
  const auto look = [&](const std::string& text) {
    const std::size_t begin = cases ? text.rfind('-') + 1 : list.size() + 1;
    const bool counts = cases ? begin > 0 : text.starts_with(list + ".");
    const std::size_t end = std::min(text.find_first_not_of("0123456789", begin), text.size());
    if (!counts || end <= begin || (cases && end < text.size())) return;
    if (std::atoi(text.c_str() + begin) < index + int(cases)) return;
    throw DomainError(shown(text) + " counts the items of " + list + "; change it first");
  };
  look(at.text);
  for (const std::string& key : at.keys) look(key);
  for (std::size_t i = 0; i < at.items.size(); ++i) {
    const bool words = i < at.keys.size() && (at.keys[i] == "why" || at.keys[i] == "name");
    if (!words) refuse_counted(at.items[i], list, index, cases);
  }
}

// Test pulls, cases and what is round the mount name gear. One without a name of its own is called
// by its kind and number, which another may be called by when one goes.
void refuse_named(const Node& at, const Node& gear, std::size_t index) {
  for (std::size_t i = 0; i < at.items.size(); ++i) {
    refuse_named(at.items[i], gear, index);
    if (i >= at.keys.size() || at.keys[i] != "gear" || at.items[i].kind != Node::Kind::text)
      continue;
    const std::string& named = at.items[i].text;
    bool stays = false;
    for (std::size_t k = 0; k < gear.items.size(); ++k) {
      const Node* name = gear.items[k].find("name");
      stays = stays || (k != index && name != nullptr && name->text == named);
    }
    if (!stays) throw DomainError(shown(named) + " may mean other gear then; change it first");
  }
}

// Whatever of the file would mean another item of `items` when the one at `index` goes.
void refuse_shifted(const Node& root, const std::string& list, const Node& items,
                    std::size_t index) {
  if (const Node* n = root.find("variants")) refuse_counted(*n, list, int(index), false);
  if (list != "gear") return;
  if (const Node* n = root.find("cases")) refuse_counted(*n, list, int(index), true);
  for (const char* part : {"test_pulls", "cases", "fit"}) {
    if (const Node* n = root.find(part)) refuse_named(*n, items, index);
  }
}

// The text of a file under change: one edit at a time, read anew after each.
class Page {
 public:
  Page(std::string text, Document document)
      : text_(std::move(text)), file_(document.file), document_(std::move(document)) {
    find_lines();
  }

  void edit(const Edit& e) {
    const Target t = find_path(document_.root, e.path);
    if (!t.trouble.empty()) throw DomainError(t.trouble);
    const bool there = t.index < t.parent->items.size();
    if (e.value.empty()) {
      if (!there) throw DomainError(e.path + " is not there to be left out");
      if (t.parent->kind == Node::Kind::list) {
        refuse_shifted(document_.root, e.path.substr(0, e.path.rfind('.')), *t.parent, t.index);
      }
      leave_out(*t.parent, t.index);
    } else if (there) {
      replace(*t.parent, t.index, e.value);
    } else {
      insert(*t.parent, t.key, e.value);
    }
    read();
  }

  [[nodiscard]] const Node& root() const { return document_.root; }
  [[nodiscard]] EditedText taken() { return {std::move(text_), std::move(document_)}; }

 private:
  static constexpr std::size_t columns = 79;

  void read() {
    document_ = read_yaml(text_, file_);
    find_lines();
  }

  void find_lines() {
    starts_.assign(1, 0);
    for (std::size_t i = 0; i < text_.size(); ++i) {
      if (text_[i] == '\n') starts_.push_back(i + 1);
    }
  }

  [[nodiscard]] std::size_t at(Mark m) const {
    std::size_t i = m.line > 0 && std::size_t(m.line) <= starts_.size()
                        ? starts_[std::size_t(m.line) - 1]
                        : text_.size();
    for (int c = 1; c < m.column && i < text_.size(); ++c) {
      ++i;
      while (i < text_.size() && (static_cast<unsigned char>(text_[i]) & 0xC0U) == 0x80U) ++i;
    }
    return i;
  }
  [[nodiscard]] char char_at(std::size_t i) const { return i < text_.size() ? text_[i] : '\0'; }
  [[nodiscard]] std::size_t line_start(std::size_t i) const {
    const std::size_t n = i == 0 ? std::string::npos : text_.rfind('\n', i - 1);
    return n == std::string::npos ? 0 : n + 1;
  }
  [[nodiscard]] std::size_t line_end(std::size_t i) const {
    std::size_t end = std::min(text_.find('\n', i), text_.size());
    if (end > i && text_[end - 1] == '\r') --end;
    return end;
  }
  [[nodiscard]] std::string line_break() const {
    const std::size_t n = text_.find('\n');
    return n != std::string::npos && n > 0 && text_[n - 1] == '\r' ? "\r\n" : "\n";
  }

  [[nodiscard]] bool flow(const Node& n) const {
    const char c = char_at(at(n.mark));
    return (n.kind == Node::Kind::map || n.kind == Node::Kind::list) && (c == '{' || c == '[');
  }

  // Behind a quoted text.
  [[nodiscard]] std::size_t behind_quote(std::size_t i) const {
    const char quote = text_[i];
    for (++i; i < text_.size(); ++i) {
      if (quote == '"' && text_[i] == '\\') {
        ++i;
      } else if (text_[i] == quote) {
        if (quote == '\'' && char_at(i + 1) == '\'') {
          ++i;
        } else {
          return i + 1;
        }
      }
    }
    return text_.size();
  }

  // Behind what stands between brackets.
  [[nodiscard]] std::size_t behind_brackets(std::size_t i) const {
    int depth = 0;
    bool fresh = true;  // a value may begin: only there a quote is one
    for (; i < text_.size(); ++i) {
      const char c = text_[i];
      if (fresh && (c == '\'' || c == '"')) {
        i = behind_quote(i) - 1;
        fresh = false;
      } else if (c == '#' && i > 0 && (text_[i - 1] == ' ' || text_[i - 1] == '\n')) {
        i = line_end(i);
      } else if (c == '{' || c == '[') {
        ++depth;
        fresh = true;
      } else if (c == '}' || c == ']') {
        if (--depth == 0) return i + 1;
        fresh = false;
      } else if (c == ',' || c == ':') {
        fresh = true;
      } else if (c != ' ' && c != '\n' && c != '\r') {
        fresh = false;
      }
    }
    return text_.size();
  }

  // The comma behind an entry, a comment between the two or not; npos: none.
  [[nodiscard]] std::size_t comma_behind(std::size_t i) const {
    for (; i < text_.size(); ++i) {
      const char c = text_[i];
      if (c == ',') return i;
      if (c == '#') {
        i = line_end(i);
      } else if (c != ' ' && c != '\n' && c != '\r') {
        break;
      }
    }
    return std::string::npos;
  }

  // Behind a text without quotes, on its own line, spaces left out.
  [[nodiscard]] std::size_t behind_plain(std::size_t i, bool in_flow) const {
    const std::size_t from = i;
    for (; i < text_.size() && text_[i] != '\n'; ++i) {
      const char c = text_[i];
      if (in_flow && (c == ',' || c == ']' || c == '}')) break;
      if (c == '#' && i > from && text_[i - 1] == ' ') break;
    }
    while (i > from && (text_[i - 1] == ' ' || text_[i - 1] == '\r')) --i;
    return i;
  }

  // The column (from 0) that the lines of a value lie beyond: that of its key or dash.
  [[nodiscard]] std::size_t indent_of(const Node& parent, std::size_t index) const {
    if (parent.kind == Node::Kind::map) {
      return std::size_t(std::max(1, parent.key_marks[index].column)) - 1;
    }
    return std::size_t(std::max(1, parent.mark.column)) - 1;
  }

  // End of the last line that belongs to a value in a block, its own comment included.
  [[nodiscard]] std::size_t end_of_block(std::size_t from, std::size_t indent, bool dashes) const {
    std::size_t end = line_end(from);
    for (std::size_t next = text_.find('\n', from); next != std::string::npos;
         next = text_.find('\n', next + 1)) {
      const std::size_t begin = next + 1;
      if (begin >= text_.size()) break;
      std::size_t i = begin;
      while (char_at(i) == ' ') ++i;
      const char c = char_at(i);
      if (c == '\n' || c == '\r' || c == '#' || c == '\0') continue;
      const bool dash =
          c == '-' && (char_at(i + 1) == ' ' || char_at(i + 1) == '\n' || char_at(i + 1) == '\r');
      if (i - begin > indent || (dashes && dash && i - begin == indent)) {
        end = line_end(i);
      } else {
        break;
      }
    }
    return end;
  }

  // Where a value stands; `block`: on lines of its own, or on several.
  struct Place {
    std::size_t from = 0;
    std::size_t to = 0;
    bool block = false;
  };
  [[nodiscard]] Place place_of(const Node& parent, std::size_t index) const {
    const Node& v = parent.items[index];
    const bool in_flow = flow(parent);
    Place p;
    p.from = at(v.mark);
    const std::size_t indent = indent_of(parent, index);
    const bool map = parent.kind == Node::Kind::map;
    if (v.kind == Node::Kind::empty) {
      p.from = p.to = map ? behind_colon(parent, index) : p.from;
      return p;
    }
    if (flow(v)) {
      p.to = behind_brackets(p.from);
      return p;
    }
    if (v.kind == Node::Kind::text) {
      const char c = char_at(p.from);
      if (v.quoted && (c == '\'' || c == '"')) {
        p.to = behind_quote(p.from);
        return p;
      }
      if (in_flow || (c != '|' && c != '>')) {
        p.to = behind_plain(p.from, in_flow);
        if (in_flow || line_end(p.from) >= end_of_block(p.from, indent, false)) return p;
      }
      p.to = end_of_block(p.from, indent, false);
      p.block = true;
      return p;
    }
    p.to = end_of_block(p.from, indent, map && v.kind == Node::Kind::list);
    p.block = true;
    return p;
  }

  [[nodiscard]] std::size_t behind_colon(const Node& map, std::size_t index) const {
    std::size_t i = at(map.key_marks[index]);
    const char c = char_at(i);
    i = c == '\'' || c == '"' ? behind_quote(i) : i + map.keys[index].size();
    while (char_at(i) == ' ') ++i;
    return std::min(i + 1, text_.size());
  }

  // ---- Writing values

  // What follows a colon or dash at column `indent` whose line is `used` long by then.
  [[nodiscard]] std::string block_text(const std::string& value, std::size_t indent,
                                       std::size_t used, bool behind_dash) const {
    const Node n = value_node(value);
    const std::string line = " " + value;
    const bool collection = n.kind == Node::Kind::map || n.kind == Node::Kind::list;
    if (!collection || used + line.size() <= columns || n.items.empty()) return line;
    std::string out;
    const bool map = n.kind == Node::Kind::map;
    for (std::size_t i = 0; i < n.items.size(); ++i) {
      const std::string entry =
          (map ? n.keys[i] + ": " : std::string("- ")) + flow_text(n.items[i]);
      if (i == 0 && behind_dash) {
        out += " " + entry;
      } else {
        out += line_break() + std::string(indent + 2, ' ') + entry;
      }
    }
    return out;
  }

  [[nodiscard]] static std::string in_flow(const std::string& value) {
    const Node n = value_node(value);
    return n.kind == Node::Kind::text ? flow_text(n) : value;
  }

  // ---- The three kinds of edits

  void replace(const Node& parent, std::size_t index, const std::string& value) {
    const Place p = place_of(parent, index);
    const bool map = parent.kind == Node::Kind::map;
    if (flow(parent)) {
      const bool gap = parent.items[index].kind == Node::Kind::empty;
      text_.replace(p.from, p.to - p.from, (gap ? " " : "") + in_flow(value));
      return;
    }
    const std::size_t indent = indent_of(parent, index);
    if (!map) {
      text_.replace(p.from, p.to - p.from, block_text(value, indent, indent + 1, true).substr(1));
      return;
    }
    const std::size_t colon = behind_colon(parent, index);
    const std::string text = block_text(value, indent, colon - line_start(colon), false);
    if (!p.block) {
      const bool empty = parent.items[index].kind == Node::Kind::empty;
      const std::size_t from = empty ? colon : p.from;
      if (text.front() == ' ') {
        text_.replace(from, p.to - from, text.substr(empty ? 0 : 1));
      } else {  // on lines of its own: behind what else stands on the line
        text_.replace(colon, p.to - colon, text);
      }
      return;
    }
    // What stood on lines of its own goes; a comment behind the key stays.
    const bool below = line_start(p.from) > colon;
    const std::size_t rest = below ? line_end(colon) : p.from;
    text_.erase(rest, p.to - rest);
    if (text.front() == ' ') {
      text_.insert(colon, below ? text : text.substr(1));
    } else {
      text_.insert(rest, text);
    }
  }

  void insert(const Node& parent, const std::string& key, const std::string& value) {
    const bool map = parent.kind == Node::Kind::map;
    const std::string lead = map ? key + ":" : "-";
    if (flow(parent)) {
      // Right behind the last: a comment may stand between that and the bracket.
      const bool first = parent.items.empty();
      const std::size_t end =
          first ? at(parent.mark) + 1 : place_of(parent, parent.items.size() - 1).to;
      text_.insert(end, (first ? "" : ", ") + (map ? lead + " " : "") + in_flow(value));
      return;
    }
    if (parent.items.empty()) throw DomainError("nothing stands there to add " + key + " to");
    const std::size_t last = parent.items.size() - 1;
    const std::size_t indent = indent_of(parent, last);
    const Place p = place_of(parent, last);
    std::size_t end = p.block ? p.to : line_end(p.to);
    std::string text = line_break() + std::string(indent, ' ') + lead +
                       block_text(value, indent, indent + lead.size(), !map);
    if (end >= text_.size()) end = text_.size();
    text_.insert(end, text);
  }

  // Of the item whose value begins at `own`: comments may stand between the two.
  [[nodiscard]] std::size_t line_of_dash(std::size_t own, std::size_t indent) const {
    std::size_t begin = line_start(own);
    if (text_.find_first_not_of(' ', begin) != own) return begin;
    for (std::size_t line = begin; line > 0;) {
      line = line_start(line - 1);
      const std::size_t first = text_.find_first_not_of(' ', line);
      const char c = char_at(first);
      if (c == '\n' || c == '\r' || c == '#') continue;
      return c == '-' && first == line + indent ? line : begin;
    }
    return begin;
  }

  void leave_out(const Node& parent, std::size_t index) {
    const Place p = place_of(parent, index);
    const bool map = parent.kind == Node::Kind::map;
    const std::size_t own = map ? at(parent.key_marks[index]) : p.from;
    if (flow(parent)) {
      std::size_t from = own;
      std::size_t to = comma_behind(p.to);
      const bool last = to == std::string::npos;
      if (last) {
        to = p.to;
        const std::size_t before = index > 0 ? place_of(parent, index - 1).to : own;
        const std::size_t comma = comma_behind(before);
        if (text_.find('#', before) < own && comma < own) {  // a comment between the two stays
          text_.erase(own, to - own);
          text_.erase(comma, 1);
          return;
        }
        from = before;
      } else {
        ++to;
        while (char_at(to) == ' ') ++to;
      }
      text_.erase(from, to - from);
      return;
    }
    const std::size_t indent = indent_of(parent, index);
    const std::size_t begin = map ? line_start(own) : line_of_dash(own, indent);
    const bool alone = text_.find_first_not_of(' ', begin) ==
                       (map ? own : begin + indent);  // nothing else begins on its line
    if (!alone) {
      if (index + 1 >= parent.items.size() || !map) {
        throw DomainError("the only value of an item cannot be left out");
      }
      text_.erase(own, at(parent.key_marks[index + 1]) - own);
      return;
    }
    const std::size_t end =
        std::min(text_.find('\n', p.block ? p.to : line_end(p.to)), text_.size());
    text_.erase(begin, std::min(end + 1, text_.size()) - begin);
  }

  std::string text_;
  std::string file_;
  Document document_;
  std::vector<std::size_t> starts_;
};

// ---- Worth
// ---------------------------------------------------------------------------------------

const FailureMode* mode_of(const Setup& s, const std::string& id) {
  for (const FailureMode& m : catalogue_for(s)) {
    if (m.id == id) return &m;
  }
  return nullptr;
}

bool counts(const Setup& s, const CheckResult& c) {
  if (c.standing != Standing::applies || !(c.needed > 0)) return false;
  const FailureMode* m = mode_of(s, c.mode);
  return m == nullptr || !m->fatigue;
}

double ratio_of(const CheckResult& c) {
  return std::isfinite(c.factor) ? c.factor / c.needed : 1e9;
}

std::string placed(const CheckResult& c) {
  const std::string& where = c.where.empty() ? c.part : c.where;
  const bool said = where.empty() || c.gives_way.find(where) != std::string::npos;
  return c.gives_way + (said ? "" : " (" + where + ")");
}

// How much is missing in all: ratios of the checks that fail, as logarithms. A change may cure one
// of two that fail alike, which the least ratio does not show.
double deficit_of(const Setup& s, const Assessment& a) {
  double out = 0;
  for (const CheckResult& c : a.checks) {
    if (counts(s, c) && !c.holds) out -= std::log(std::max(ratio_of(c), 0.02));
  }
  return out + 4 * double(a.reasons.size());
}

// A distance that was kept and is not any more, or that was short and is shorter still.
std::string broken_distance(const Setup& s, const Assessment& before, const Assessment& after) {
  for (const CheckResult& c : after.checks) {
    const FailureMode* m = mode_of(s, c.mode);
    if (m == nullptr || m->needs_load || c.standing != Standing::applies || c.holds) continue;
    bool worse = true;
    for (const CheckResult& b : before.checks) {
      if (b.mode != c.mode || b.part != c.part || b.standing != Standing::applies) continue;
      if (!b.holds && ratio_of(c) > 0.999 * ratio_of(b)) worse = false;
    }
    if (!worse) continue;
    std::string out = placed(c);
    if (c.strength.dimension == Dimension::length) {
      out += ": " + show(c.strength, s.units) + " where " +
             show(Measure{c.needed * c.demand.si, Dimension::length}, s.units) + " is needed";
    }
    return out;
  }
  return "";
}

// ---- Trying
// --------------------------------------------------------------------------------------

struct Trial {
  Change change;
  std::size_t kind = 0;  // row of the catalogue; of a pair: unused
  double deficit = 0;
  std::vector<Edit> beside;  // what of the file goes because it does not fit the change
};

std::vector<DraftKind> all_kinds() {
  std::vector<DraftKind> out;
  for (const auto list : {plate_changes(), board_changes(), use_changes()}) {
    out.insert(out.end(), list.begin(), list.end());
  }
  return out;
}

class Trying {
 public:
  Trying(std::string_view text, const std::string& file, const MaterialLibrary& library,
         const ChangeOptions& options)
      : library_(library),
        options_(options),
        text_(text),
        document_(read_yaml(text, file)),
        drawn_(read_setup(text, file, library)),
        assessment_(assess(drawn_, assess_options())) {
    answer_.as_drawn = worth_of(drawn_, assessment_);
    deficit_ = deficit_of(drawn_, assessment_);
  }

  ChangeAnswer run() {
    draft();
    try_all(0);
    rank();
    const bool enough =
        answer_.as_drawn.holds() || std::any_of(trials_.begin(), trials_.end(), [](const Trial& t) {
          return t.change.fits() && t.change.after && t.change.after->holds();
        });
    if (!enough && options_.pairs && !stopped_) {
      const std::size_t singles = trials_.size();
      pair();
      answer_.pairs_tried = trials_.size() > singles;
      try_all(singles);
      rank();
    }
    // Closer limits may rank otherwise.
    promise();
    rank();
    promise();
    answer_.stopped = stopped_;
    for (Trial& t : trials_) {
      auto& edits = t.change.edits;
      edits.insert(edits.end(), t.beside.begin(), t.beside.end());
      answer_.changes.push_back(std::move(t.change));
    }
    return std::move(answer_);
  }

 private:
  [[nodiscard]] AssessOptions assess_options() const {
    AssessOptions o;
    o.step = options_.step;
    o.neighbours = false;
    return o;
  }

  void draft() {
    const Drawn drawn{document_, drawn_, assessment_, library_};
    const std::vector<DraftKind> kinds = all_kinds();
    for (std::size_t k = 0; k < kinds.size(); ++k) {
      std::vector<Draft> drafts;
      kinds[k].draft(drawn, drafts);
      for (Draft& d : drafts) {
        const bool known = std::any_of(trials_.begin(), trials_.end(),
                                       [&](const Trial& t) { return t.change.edits == d.edits; });
        if (known || d.edits.empty()) continue;
        Trial t;
        t.kind = k;
        t.change.id = std::string(kinds[k].row.id);
        t.change.words = std::move(d.words);
        t.change.edits = std::move(d.edits);
        t.change.notes = std::move(d.notes);
        t.change.trouble = d.trouble;
        t.change.of_use = d.of_use;
        trials_.push_back(std::move(t));
      }
    }
  }

  // The best of each kind by what is missing in all then, for its trouble; then the second best of
  // the kinds while there is room.
  void pair() {
    constexpr std::size_t most_kinds = 9;
    constexpr std::size_t most = 12;
    std::vector<std::size_t> list;
    for (std::size_t i = 0; i < trials_.size(); ++i) {
      const Trial& t = trials_[i];
      if (t.change.fits() && t.change.after && t.deficit < deficit_ - 0.02) list.push_back(i);
    }
    const auto gain_of = [&](std::size_t i) {
      const Trial& t = trials_[i];
      return (deficit_ - t.deficit) / std::sqrt(t.change.trouble.points());
    };
    sort_stably(list, [&](std::size_t a, std::size_t b) { return gain_of(a) > gain_of(b); });
    std::vector<std::size_t> best;
    const auto of_kind = [&](std::size_t kind) {
      return std::count_if(best.begin(), best.end(),
                           [&](std::size_t i) { return trials_[i].kind == kind; });
    };
    for (const long already : {0L, 1L}) {
      for (const std::size_t i : list) {
        if (best.size() >= (already == 0 ? most_kinds : most)) break;
        if (std::find(best.begin(), best.end(), i) != best.end()) continue;
        if (of_kind(trials_[i].kind) == already) best.push_back(i);
      }
    }
    std::sort(best.begin(), best.end());
    std::vector<Trial> pairs;
    for (std::size_t i = 0; i < best.size(); ++i) {
      for (std::size_t j = i + 1; j < best.size(); ++j) {
        const Trial& a = trials_[best[i]];
        const Trial& b = trials_[best[j]];
        if (a.kind == b.kind || touch(a.change.edits, b.change.edits)) continue;
        // What ends no refusal leaves it standing beside another such.
        const auto ends = [&](const Trial& t) { return tier(t).value_or(9) <= 2; };
        if (answer_.as_drawn.verdict == Verdict::no_verdict && !ends(a) && !ends(b)) continue;
        Trial t;
        Change& c = t.change;
        c.of = {best[i], best[j]};
        c.id = a.change.id + "+" + b.change.id;
        c.words = a.change.words + "; and " + b.change.words;
        c.edits = a.change.edits;
        c.edits.insert(c.edits.end(), b.change.edits.begin(), b.change.edits.end());
        c.notes = a.change.notes;
        for (const std::string& n : b.change.notes) {
          if (std::find(c.notes.begin(), c.notes.end(), n) == c.notes.end()) c.notes.push_back(n);
        }
        c.trouble = both(a.change.trouble, b.change.trouble);
        c.of_use = a.change.of_use && b.change.of_use;
        pairs.push_back(std::move(t));
      }
    }
    for (Trial& t : pairs) trials_.push_back(std::move(t));
  }

  static bool touch(const std::vector<Edit>& a, const std::vector<Edit>& b) {
    for (const Edit& x : a) {
      for (const Edit& y : b) {
        if (covers(x.path, y.path) || covers(y.path, x.path)) return true;
      }
    }
    return false;
  }

  // One trip does for both.
  static Trouble both(const Trouble& a, const Trouble& b) {
    Trouble t;
    t.cost = std::max(a.cost, b.cost);
    t.trips = std::max(a.trips, b.trips);
    t.holes = a.holes + b.holes;
    t.added = a.added + b.added;
    t.mass_known = a.mass_known && b.mass_known;
    t.given_up = 1 - (1 - a.given_up) * (1 - b.given_up);
    return t;
  }

  void try_one(Trial& t) const {
    Document changed = document_;
    for (const Edit& e : t.change.edits) {
      const std::string trouble = put_in(changed.root, e);
      if (!trouble.empty()) {
        t.change.why_not = trouble;
        return;
      }
    }
    const bool compares =
        changed.root.find("variants") != nullptr || changed.root.find("patterns") != nullptr;
    const Document whole = compares ? changed : Document{};
    changed.root = bare(changed.root);
    try {
      Setup s = read_tree(changed, library_);
      if (compares) drop_comparison(whole, s, t);
      const Assessment a = assess(s, assess_options());
      t.change.why_not = broken_distance(s, assessment_, a);
      if (t.change.fits()) t.change.why_not = lacks_room(drawn_, s);
      if (t.change.fits()) t.change.why_not = lacks_room_on_plate(drawn_, s);
      t.change.after = worth_of(s, a);
      t.deficit = deficit_of(s, a);
      t.change.setup = std::move(s);
    } catch (const InputError& e) {
      t.change.why_not = e.problems().front().message;
    } catch (const DomainError& e) {
      t.change.why_not = e.what();
    }
    if (!t.change.fits()) {
      t.change.after.reset();
      t.change.setup.reset();
    }
  }

  // The program refuses a file whose variants do not fit its mount.
  void drop_comparison(const Document& whole, const Setup& s, Trial& t) const {
    if (problems_of_comparison(whole, s, library_).empty()) return;
    for (const char* key : {"variants", "patterns"}) {
      if (whole.root.find(key) != nullptr) t.beside.push_back({key, ""});
    }
    t.change.notes.emplace_back("what the file lists to compare does not fit it and is left out");
  }

  // Each by itself, on several threads: nothing is shared between two.
  void try_all(std::size_t from) {
    const std::size_t n = trials_.size() - from;
    std::vector<std::exception_ptr> errors(n);
    std::atomic<std::size_t> next{0};
    std::atomic<bool> stop{false};
    std::mutex telling;
    std::size_t done = 0;
    std::vector<char> tried(n, 0);
    const auto work = [&] {
      for (std::size_t i = next++; i < n && !stop; i = next++) {
        try {
          try_one(trials_[from + i]);
          tried[i] = 1;
        } catch (...) {
          errors[i] = std::current_exception();
        }
        if (!options_.watch) continue;
        const std::lock_guard<std::mutex> lock(telling);
        Progress p;
        p.done = ++done;
        p.all = n;
        if (!options_.watch(p)) stop = true;
      }
    };
    on_threads(options_.threads, n, work);
    for (const std::exception_ptr& e : errors) {
      if (e) std::rethrow_exception(e);
    }
    for (std::size_t i = 0; i < n; ++i) {
      if (!tried[i] && errors[i] == nullptr) trials_[from + i].change.why_not = "not tried";
    }
    stopped_ = stopped_ || stop;
  }

  // What is ranked is shown with its limits, and `thole check` looks at them more closely,
  // direction by direction: no limit is promised that it would not find.
  void promise() {
    AssessOptions as_check = assess_options();
    as_check.neighbours = true;
    as_check.by_direction = true;
    const auto closer = [&](const Setup& s, Worth& w) {
      const Worth found = worth_of(s, assess(s, as_check));
      w.hold_limit = found.hold_limit;
      w.setting = found.setting;
    };
    if (promised_.empty()) closer(drawn_, answer_.as_drawn);
    std::vector<std::size_t> shown;
    for (const std::size_t i : answer_.ranking) {
      if (promised_.insert(i).second) shown.push_back(i);
    }
    std::vector<std::exception_ptr> errors(shown.size());
    std::atomic<std::size_t> next{0};
    on_threads(options_.threads, shown.size(), [&] {
      for (std::size_t i = next++; i < shown.size(); i = next++) {
        try {
          Change& c = trials_[shown[i]].change;
          if (c.setup && c.after) closer(*c.setup, *c.after);
        } catch (...) {
          errors[i] = std::current_exception();
        }
      }
    });
    for (const std::exception_ptr& e : errors) {
      if (e) std::rethrow_exception(e);
    }
  }

  // ---- Ranking

  // Only its owner can settle it, by a test or by looking.
  static bool is_missing_figure(const std::string& reason) {
    return reason.starts_with("no published source") ||
           reason.find("nobody has looked") != std::string::npos;
  }
  static bool among(const std::vector<std::string>& list, const std::string& r) {
    return std::find(list.begin(), list.end(), r) != list.end();
  }

  // As drawn it holds: what raises the lower of its two limits by much.
  [[nodiscard]] std::optional<int> tier_beyond(const Worth& after) const {
    const Worth& before = answer_.as_drawn;
    constexpr double much = 1.25;
    if (!after.holds()) return std::nullopt;
    if (before.boat_ratio && *before.boat_ratio < 1) {  // the boat decides, not the mount
      if (!after.boat_ratio) return std::nullopt;
      if (*after.boat_ratio >= 1) return 0;
      return *after.boat_ratio > 1.1 * *before.boat_ratio ? std::optional<int>(2) : std::nullopt;
    }
    const bool both = before.hold_limit && after.hold_limit;
    if (both && *after.hold_limit < 0.98 * *before.hold_limit) return std::nullopt;
    const bool sure = after.verdict == Verdict::holds && before.verdict != Verdict::holds;
    if (sure || (both && *after.hold_limit > much * *before.hold_limit)) return 1;
    return after.ratio > much * before.ratio ? std::optional<int>(2) : std::nullopt;
  }

  // 0: makes it hold (or, where it holds, cures the heel); 1: ends a refusal; 2: ends a reason of
  // it; 3: better; nothing: does not rank.
  [[nodiscard]] std::optional<int> tier(const Trial& t) const {
    const Change& c = t.change;
    if (!c.fits() || !c.after) return std::nullopt;
    const Worth& before = answer_.as_drawn;
    const Worth& after = *c.after;
    if (before.holds()) return tier_beyond(after);
    if (after.holds()) return 0;
    const bool refused = before.verdict == Verdict::no_verdict;
    if (after.verdict == Verdict::no_verdict) {
      if (!refused) return std::nullopt;
      // Figures that are missing then are asked for; any other new reason is a worse mount.
      for (const std::string& r : after.reasons) {
        if (!is_missing_figure(r) && !among(before.reasons, r)) return std::nullopt;
      }
      for (const std::string& r : before.reasons) {
        if (!is_missing_figure(r) && !among(after.reasons, r)) return 2;
      }
      if (after.reasons.size() < before.reasons.size()) return 2;
      if (before.ratio >= 1) return std::nullopt;  // what can be calculated is not what is wrong
    } else if (refused) {
      return 1;
    }
    constexpr double least = 1.02;
    if (after.ratio < 0.98 * before.ratio) return std::nullopt;
    const bool both = before.hold_limit && after.hold_limit;
    if (both && *after.hold_limit < 0.98 * *before.hold_limit) return std::nullopt;
    const bool limit = both && *after.hold_limit > least * *before.hold_limit;
    return after.ratio > least * before.ratio || limit ? std::optional<int>(3) : std::nullopt;
  }

  // A ratio as a worth: beyond 1 only a little more counts, beyond 2 nothing.
  static double level(double ratio) {
    if (ratio > 1) return 0.25 * std::log(std::min(ratio, 2.0));
    return std::log(std::max(ratio, 0.02));
  }

  [[nodiscard]] double gain(const Worth& after) const {
    const Worth& before = answer_.as_drawn;
    double out = level(after.ratio) - level(before.ratio);
    if (before.hold_limit && after.hold_limit && before.hold_limit->value() > 0 &&
        after.hold_limit->value() > 0) {
      const double limits = double(*after.hold_limit / *before.hold_limit);
      out += 0.25 * std::log(std::min(std::max(limits, 0.25), 4.0));
    }
    return out;
  }

  struct Row {
    std::size_t i = 0;
    int tier = 0;
    double score = 0;
    double points = 0;
  };

  // A pair ranks where it brings more than each of its two.
  [[nodiscard]] bool worth_two(const Trial& pair, int tier_of_pair) const {
    for (const std::size_t i : pair.change.of) {
      const std::optional<int> t = tier(trials_[i]);
      if (!t || *t > tier_of_pair) continue;
      if (*t < tier_of_pair || tier_of_pair == 0) return false;
      if (!(pair.change.after->ratio > 1.25 * trials_[i].change.after->ratio)) return false;
    }
    return true;
  }

  // Not better than one of its kind that ranks before it.
  [[nodiscard]] bool outdone(const Row& row, const std::vector<Row>& before) const {
    const Change& c = trials_[row.i].change;
    return std::any_of(before.begin(), before.end(), [&](const Row& r) {
      const Change& o = trials_[r.i].change;
      if (o.id != c.id || r.tier != row.tier) return false;
      const bool limit = c.after->hold_limit && o.after->hold_limit &&
                         *c.after->hold_limit > 1.02 * *o.after->hold_limit;
      return !limit && c.after->ratio < 1.02 * o.after->ratio;
    });
  }

  void rank() {
    std::vector<Row> rows;
    for (std::size_t i = 0; i < trials_.size(); ++i) {
      const Trial& t = trials_[i];
      const std::optional<int> own = tier(t);
      if (!own || (!t.change.of.empty() && !worth_two(t, *own))) continue;
      const double points = t.change.trouble.points();
      const double g = gain(*t.change.after);
      // Less gain than none is not made better by much trouble.
      rows.push_back({i, *own, g > 0 ? g / points : g * points, points});
    }
    sort_stably(rows, [](const Row& a, const Row& b) {
      if (a.tier != b.tier) return a.tier < b.tier;
      if (a.score != b.score) return a.score > b.score;
      return a.points < b.points;
    });
    std::vector<Row> kept;
    for (const Row& r : rows) {
      if (!outdone(r, kept)) kept.push_back(r);
    }
    // The best of each kind first: three sizes of one thing are no choice of three.
    std::vector<Row> order;
    std::vector<Row> last;
    std::set<std::string> better;
    for (int t = 0; t <= 3; ++t) {
      std::set<std::string> seen;
      std::vector<Row> rest;
      for (const Row& r : kept) {
        if (r.tier != t) continue;
        const std::string& id = trials_[r.i].change.id;
        if (better.count(id) > 0) {
          last.push_back(r);
        } else {
          (seen.insert(id).second ? order : rest).push_back(r);
        }
      }
      order.insert(order.end(), rest.begin(), rest.end());
      better.merge(seen);
    }
    order.insert(order.end(), last.begin(), last.end());
    answer_.ranking.clear();
    for (const Row& r : order) answer_.ranking.push_back(r.i);
  }

  const MaterialLibrary& library_;
  const ChangeOptions& options_;
  std::string text_;
  Document document_;
  Setup drawn_;
  Assessment assessment_;
  double deficit_ = 0;
  bool stopped_ = false;
  std::set<std::size_t> promised_;  // trials with limits as `thole check` finds them
  std::vector<Trial> trials_;
  ChangeAnswer answer_;
};

}  // namespace
}  // namespace reading

Worth worth_of(const Setup& setup, const Assessment& a) {
  Worth w;
  w.verdict = a.verdict;
  w.conditions = a.holds_if;
  w.reasons = a.reasons;
  const CheckResult* worst = nullptr;
  for (const CheckResult& c : a.checks) {
    if (!reading::counts(setup, c)) continue;
    // A distance that is kept has nothing to give way.
    if (c.case_title.empty() && c.holds) continue;
    if (worst == nullptr || reading::ratio_of(c) < reading::ratio_of(*worst)) worst = &c;
  }
  const bool moves = std::any_of(a.cases.begin(), a.cases.end(), [](const CaseResult& c) {
    return c.load_case.decides && !c.motion.empty();
  });
  if (worst != nullptr && !moves) {
    w.ratio = reading::ratio_of(*worst);
    w.gives_way = reading::placed(*worst);
    w.factor = worst->factor;
    w.needed = worst->needed;
  }
  const auto lesser = [](std::optional<Force>& least, const std::optional<Force>& v) {
    if (v && (!least || *v < *least)) least = *v;
  };
  lesser(w.hold_limit, a.hold_limit);
  lesser(w.setting, a.setting);
  for (const GearLimit& l : a.gear_limits) {
    lesser(w.hold_limit, l.hold_limit);
    lesser(w.setting, l.setting);
  }
  for (const Gear& g : setup.gear) {
    std::optional<Force> used;
    if (g.rod_holder) used = g.rod_holder->drag.value;
    if (g.downrigger && g.downrigger->brake_slip) used = g.downrigger->brake_slip->value;
    for (const HeelPull& p : a.boat.pulls) {
      if (p.gear != g.name || !p.setting || !used || !(used->value() > 0)) continue;
      const double r = double(*p.setting / *used);
      if (!w.boat_ratio || r < *w.boat_ratio) w.boat_ratio = r;
    }
  }
  return w;
}

const std::vector<ChangeKind>& change_catalogue() {
  static const std::vector<ChangeKind> list = [] {
    std::vector<ChangeKind> out;
    for (const reading::DraftKind& k : reading::all_kinds()) out.push_back(k.row);
    return out;
  }();
  return list;
}

ChangeAnswer suggest_changes(std::string_view text, const std::string& file,
                             const MaterialLibrary& library, const ChangeOptions& options) {
  return reading::Trying(text, file, library, options).run();
}

std::string reading::flow_text(const Node& n, bool bare) {
  std::string out;
  if (n.kind == Node::Kind::text) {
    if (bare) return n.text;
    return n.quoted || n.text.find_first_of(",[]{}") != std::string::npos || n.text.empty()
               ? in_single_quotes(n.text)
               : n.text;
  }
  if (n.kind == Node::Kind::empty) return "";
  const bool map = n.kind == Node::Kind::map;
  for (std::size_t i = 0; i < n.items.size(); ++i) {
    if (i > 0) out += ", ";
    if (map) out += n.keys[i] + ": ";
    out += flow_text(n.items[i], bare);
  }
  return (map ? "{" : "[") + out + (map ? "}" : "]");
}

reading::EditedText reading::edited(const Document& document, std::string text,
                                    const std::vector<Edit>& edits) {
  Node wanted = document.root;
  Page page(std::move(text), document);
  for (const Edit& e : edits) {
    const std::string trouble = put_in(wanted, e);
    if (!trouble.empty()) throw DomainError(trouble);
    page.edit(e);
  }
  if (!same(page.root(), wanted)) {
    throw DomainError("the layout of " + document.file +
                      " does not let the change be written into it");
  }
  return page.taken();
}

std::string apply_edits(std::string_view text, const std::string& file,
                        const std::vector<Edit>& edits) {
  return reading::edited(reading::read_yaml(text, file), std::string(text), edits).text;
}

}  // namespace thole
