#include <algorithm>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <thole/error.hpp>
#include <thole/material.hpp>
#include <thole/reading.hpp>

#include "reading/document.hpp"
#include "reading/embedded.hpp"
#include "reading/quoting.hpp"

namespace thole {
namespace {

using reading::characters;
using reading::Document;
using reading::Mark;
using reading::Node;
using reading::shown;

using Words = std::vector<std::string>;

constexpr std::size_t longest_name = 200;
constexpr std::size_t longest_value = 100;

constexpr Basis all_bases[] = {Basis::minimum, Basis::characteristic, Basis::mean_yield,
                               Basis::rated,   Basis::mean,           Basis::typical,
                               Basis::nominal, Basis::exact,          Basis::judgement};
constexpr Seen all_seen[] = {Seen::page,     Seen::copy,      Seen::memory,
                             Seen::practice, Seen::judgement, Seen::computed};

std::string list_of(const Words& words) {
  std::string out;
  for (const std::string& w : words) out += (out.empty() ? "" : ", ") + w;
  return out;
}

/// The end of a message about an unknown word.
std::string help(std::string_view word, const Words& known) {
  const std::string near = nearest_spelling(word, known);
  if (!near.empty()) return "; did you mean \"" + near + "\"?";
  if (known.empty()) return "";
  return "; expected " + (known.size() == 1 ? known[0] : "one of " + list_of(known));
}

std::string_view word_for_kind(Node::Kind kind) {
  switch (kind) {
    case Node::Kind::empty:
      return "nothing";
    case Node::Kind::text:
      return "a text";
    case Node::Kind::list:
      return "a list";
    case Node::Kind::map:
      return "a map";
  }
  throw InternalError("a kind of node without a name");
}

int width_of(const Node& node) {
  return node.kind == Node::Kind::text ? characters(node.text) + (node.quoted ? 2 : 0) : 1;
}

/// Turns the tree of one table into entries and collects what is wrong with it.
class TableReader {
 public:
  TableReader(const Document& doc, MaterialLibrary& library, bool by_user)
      : doc_(doc), library_(library), by_user_(by_user) {}

  /// Adds the entries that are right. The problems are in the order of their places.
  std::vector<Problem> read() {
    const Node& root = doc_.root;
    if (root.kind != Node::Kind::map) {
      add(root.mark, 1,
          "a table begins with the keys description, kind, sources and entries; found " +
              std::string(word_for_kind(root.kind)));
    } else {
      read_table(root);
    }
    return reading::first_problems(std::move(problems_));
  }

 private:
  /// Where a value takes a missing basis, source or seen from. A word that was wrong is reported
  /// once, where it stands, and then counts as given.
  template <class T>
  struct Given {
    bool given = false;
    T value{};
  };
  struct Origin {
    Given<Basis> basis;
    Given<std::string> source;  ///< the title
    Given<Seen> seen;
  };

  void add(Mark mark, int width, std::string message) {
    problems_.push_back(doc_.problem(mark, width, std::move(message)));
  }
  void add(const Node& node, std::string message) {
    add(node.mark, width_of(node), std::move(message));
  }

  void check_keys(const Node& map, const Words& known) {
    for (std::size_t i = 0; i < map.keys.size(); ++i) {
      const std::string& key = map.keys[i];
      if (std::find(known.begin(), known.end(), key) != known.end()) continue;
      add(map.key_marks[i], characters(key), "unknown key " + shown(key) + help(key, known));
    }
  }

  /// Says what stands where something else is expected.
  void add_wrong_kind(const Node& node, const std::string& what, const char* wanted) {
    std::string message = what;
    if (node.kind == Node::Kind::empty) {
      message += " has no value, expected " + std::string(wanted);
      if (begins_comment(node.mark)) {
        message += "; what begins with \"#\" is a comment unless it stands in quotes";
      }
    } else {
      message += " is " + std::string(word_for_kind(node.kind)) + ", expected " + wanted;
    }
    add(node, std::move(message));
  }

  [[nodiscard]] bool begins_comment(Mark mark) const {
    if (mark.line < 1 || std::size_t(mark.line) > doc_.lines.size()) return false;
    const std::string& line = doc_.lines[std::size_t(mark.line) - 1];
    const std::size_t hash = line.find('#');
    return hash != std::string::npos && characters(line.substr(0, hash)) == mark.column - 1;
  }

  /// The text of a node; reports everything else.
  const std::string* text_of(const Node& node, const std::string& what) {
    if (node.kind != Node::Kind::text) {
      add_wrong_kind(node, what, "a text");
      return nullptr;
    }
    if (node.text.empty()) {
      add(node, what + " is empty, expected a text");
      return nullptr;
    }
    return &node.text;
  }

  /// A key that a map must have.
  const Node* need(const Node& map, std::string_view key, Mark mark, int width) {
    const Node* node = map.find(key);
    if (node == nullptr) add(mark, width, "the key \"" + std::string(key) + "\" is missing");
    return node;
  }

  void read_table(const Node& root) {
    check_keys(root, {"description", "kind", "sources", "entries"});
    if (const Node* n = need(root, "description", root.mark, 1)) text_of(*n, "description");
    if (const Node* n = need(root, "kind", root.mark, 1)) read_kind(*n);
    if (const Node* n = need(root, "sources", root.mark, 1)) read_sources(*n);
    const Node* entries = need(root, "entries", root.mark, 1);
    if (entries == nullptr) return;
    if (entries->kind != Node::Kind::list) {
      add_wrong_kind(*entries, "entries", "a list (each entry begins with \"- name:\")");
      return;
    }
    if (entries->items.empty()) add(*entries, "entries is empty, expected at least one entry");
    for (const Node& entry : entries->items) read_entry(entry);
  }

  void read_kind(const Node& node) {
    const std::string* word = text_of(node, "kind");
    if (word == nullptr) return;
    Words known;
    for (const KindRule& rule : table_kinds()) {
      if (rule.kind == *word) rule_ = &rule;
      known.emplace_back(rule.kind);
    }
    if (rule_ == nullptr) {
      add(node, "no kind of table is called " + shown(*word) + help(*word, known));
      return;
    }
    for (const PropertyRule& p : rule_->properties) properties_.emplace_back(p.name);
  }

  void read_sources(const Node& node) {
    if (node.kind != Node::Kind::map) {
      add_wrong_kind(node, "sources", "a map from short keys to titles");
      return;
    }
    sources_known_ = true;
    for (std::size_t i = 0; i < node.items.size(); ++i) {
      const std::string* title = text_of(node.items[i], "the source " + shown(node.keys[i]));
      sources_[node.keys[i]] = title == nullptr ? std::string() : *title;
      source_keys_.push_back(node.keys[i]);
    }
  }

  template <class T, std::size_t n>
  Given<T> read_word(const Node& map, const char* key, const T (&all)[n]) {
    const Node* node = map.find(key);
    if (node == nullptr) return {};
    Given<T> out;
    out.given = true;
    const std::string* word = text_of(*node, key);
    if (word == nullptr) return out;
    Words known;
    for (const T value : all) {
      if (word_for(value) == *word) {
        out.value = value;
        return out;
      }
      known.emplace_back(word_for(value));
    }
    add(*node, shown(*word) + " is not known as " + key + help(*word, known));
    return out;
  }

  Origin read_origin(const Node& map) {
    Origin out;
    out.basis = read_word(map, "basis", all_bases);
    out.seen = read_word(map, "seen", all_seen);
    if (const Node* node = map.find("source")) {
      out.source.given = true;
      const std::string* key = text_of(*node, "source");
      if (key != nullptr && sources_known_) {
        const auto it = sources_.find(*key);
        if (it != sources_.end()) {
          out.source.value = it->second;
        } else {
          add(*node, "the source " + shown(*key) + " is not among the sources of this table" +
                         help(*key, source_keys_));
        }
      }
    }
    return out;
  }

  void read_entry(const Node& node) {
    const std::size_t before = problems_.size();
    if (node.kind != Node::Kind::map) {
      add_wrong_kind(node, "an entry", "a map with name and values");
      return;
    }
    check_keys(node, {"name", "also", "about", "basis", "source", "seen", "values", "note"});
    Entry entry;
    if (rule_ != nullptr) entry.kind = rule_->kind;
    entry.table = doc_.file;
    entry.by_user = by_user_;
    Mark place = node.mark;
    int width = 1;
    if (const Node* n = need(node, "name", node.mark, 1)) {
      place = n->mark;
      width = width_of(*n);
      if (const std::string* name = text_of(*n, "name")) {
        entry.name = *name;
        check_name(*n);
      }
    }
    if (const Node* n = node.find("also")) read_also(*n, entry);
    if (const Node* n = node.find("about")) read_about(*n, entry);
    if (const Node* n = node.find("note")) {
      if (const std::string* note = text_of(*n, "note")) entry.note = *note;
    }
    const Origin defaults = read_origin(node);
    if (const Node* n = need(node, "values", place, width)) {
      if (n->kind == Node::Kind::map) {
        for (std::size_t i = 0; i < n->items.size(); ++i) read_value(*n, i, defaults, entry);
      } else {
        add_wrong_kind(*n, "values", "a map from properties to values");
      }
    }
    // An entry with a problem would only be refused again for what it seems to lack.
    if (rule_ == nullptr || problems_.size() != before) return;
    try {
      library_.add(std::move(entry));
    } catch (const DomainError& e) {
      add(place, width, e.what());
    }
  }

  void check_name(const Node& spelling) {
    if (spelling.text.size() > longest_name ||
        spelling.text.find_first_of("\t\n") != std::string::npos) {
      add(spelling, "a name is one line of at most " + std::to_string(longest_name) +
                        " bytes; found " + shown(spelling.text));
      return;
    }
    const auto [it, fresh] = lines_.emplace(spelling.text, spelling.mark.line);
    if (!fresh) {
      add(spelling, "the name " + shown(spelling.text) +
                        " stands here a second time; the first is in line " +
                        std::to_string(it->second));
      return;
    }
    if (rule_ == nullptr) return;
    if (const Entry* other = library_.find(rule_->kind, spelling.text)) {
      add(spelling, "there is a " + std::string(rule_->kind) + " called " + shown(spelling.text) +
                        " already, in " + other->table);
    }
  }

  void read_also(const Node& node, Entry& entry) {
    if (node.kind != Node::Kind::list) {
      add_wrong_kind(node, "also", "a list of other spellings");
      return;
    }
    for (const Node& item : node.items) {
      if (const std::string* spelling = text_of(item, "a spelling under also")) {
        check_name(item);
        entry.also.push_back(*spelling);
      }
    }
  }

  void read_about(const Node& node, Entry& entry) {
    if (node.kind != Node::Kind::map) {
      add_wrong_kind(node, "about", "a map of short facts");
      return;
    }
    for (std::size_t i = 0; i < node.items.size(); ++i) {
      if (const std::string* fact = text_of(node.items[i], shown(node.keys[i]))) {
        entry.about[node.keys[i]] = *fact;
      }
    }
  }

  void read_value(const Node& values, std::size_t i, const Origin& defaults, Entry& entry) {
    const std::string& property = values.keys[i];
    const Mark mark = values.key_marks[i];
    const Node& node = values.items[i];
    const PropertyRule* rule = nullptr;
    if (rule_ != nullptr) {
      for (const PropertyRule& p : rule_->properties) {
        if (p.name == property) rule = &p;
      }
      if (rule == nullptr) {
        add(mark, characters(property),
            "a " + std::string(rule_->kind) + " has no property " + shown(property) +
                help(property, properties_));
        return;
      }
    }

    Origin origin = defaults;
    const Node* figure = &node;
    if (node.kind == Node::Kind::map) {
      check_keys(node, {"is", "basis", "source", "seen"});
      Origin own = read_origin(node);
      if (own.basis.given) origin.basis = own.basis;
      if (own.source.given) origin.source = std::move(own.source);
      if (own.seen.given) origin.seen = own.seen;
      figure = need(node, "is", node.mark, 1);
    }
    Words lacking;
    if (!origin.basis.given) lacking.emplace_back("basis");
    if (!origin.source.given) lacking.emplace_back("source");
    if (!origin.seen.given) lacking.emplace_back("seen");
    if (!lacking.empty()) {
      add(mark, characters(property),
          shown(property) + " lacks " + list_of(lacking) +
              "; give it at the entry or write {is: ..., basis: ..., source: ..., seen: ...}");
    }
    if (figure == nullptr) return;
    if (figure->kind != Node::Kind::text) {
      add_wrong_kind(
          *figure, shown(property),
          figure == &node ? "a value, or a map with is, basis, source and seen" : "a value");
      return;
    }
    if (rule == nullptr) return;
    if (figure->text.size() > longest_value) {
      add(*figure, property + " is " + shown(figure->text) + ", expected " +
                       std::string(name_of(rule->dimension)) + ", for example " +
                       std::string(example_of(rule->dimension)));
      return;
    }
    try {
      TableValue value;
      value.measure = parse_measure(figure->text, rule->dimension);
      value.basis = origin.basis.value;
      value.source = {origin.source.value, "", origin.seen.value};
      value.written = figure->text;
      entry.values[property] = std::move(value);
    } catch (const UnitError& e) {
      add(*figure, e.what());
    }
  }

  const Document& doc_;
  MaterialLibrary& library_;
  bool by_user_;
  const KindRule* rule_ = nullptr;
  Words properties_;
  bool sources_known_ = false;
  std::map<std::string, std::string> sources_;
  Words source_keys_;
  std::map<std::string, int> lines_;  ///< of the names in this file
  std::vector<Problem> problems_;
};

MaterialLibrary read_built_in() {
  MaterialLibrary library;
  for (std::size_t i = 0; i < reading::embedded_table_count; ++i) {
    const Document doc = reading::unflatten(reading::embedded_tables[i]);
    std::vector<Problem> problems = TableReader(doc, library, false).read();
    if (!problems.empty()) throw InputError(std::move(problems));
  }
  return library;
}

}  // namespace

const MaterialLibrary& built_in_materials() {
  static const MaterialLibrary library = read_built_in();
  return library;
}

void add_table(MaterialLibrary& library, std::string_view text, const std::string& file,
               bool by_user) {
  const Document doc = reading::read_yaml(text, file);
  MaterialLibrary copy = library;  // the caller's stays as it is when anything is wrong
  std::vector<Problem> problems = TableReader(doc, copy, by_user).read();
  if (!problems.empty()) throw InputError(std::move(problems));
  library = std::move(copy);
}

}  // namespace thole
