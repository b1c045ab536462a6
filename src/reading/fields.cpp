#include "reading/fields.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <set>

#include "reading/quoting.hpp"

namespace thole::reading {
namespace {

const std::vector<std::string> knowledge_words{"measured", "tagged", "assumed"};

std::string quoted_list(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& w : words) out += (out.empty() ? "" : ", ") + w;
  return out;
}

std::string enum_json(const std::vector<std::string>& words) {
  std::string out = "[";
  for (const std::string& w : words) out += (out.size() > 1 ? ", " : "") + json_text(w);
  return out + "]";
}

std::string measuring(const Key& key) {
  return key.how.empty() ? std::string() : ". To measure it: " + std::string(key.how);
}

// A text, or {is: text, known: measured}.
std::string value_schema(const Key& key, const std::string& inner) {
  return "{\"description\": " + json_text(std::string(key.help) + measuring(key)) +
         ", \"oneOf\": [" + inner + ", {\"type\": \"object\", \"properties\": {\"is\": " + inner +
         ", \"known\": {\"enum\": " + enum_json(knowledge_words) +
         "}}, \"required\": [\"is\"], \"additionalProperties\": false}]}";
}

std::string measure_schema(Dimension d) {
  if (d == Dimension::number) return "{\"type\": [\"number\", \"string\"]}";
  return "{\"type\": \"string\", \"pattern\": \"^ *[-+]?[0-9.].*[A-Za-z0-9'\\\"]$\", "
         "\"description\": " +
         json_text(std::string(name_of(d)) + ", for example " + std::string(example_of(d))) + "}";
}

// Octal, hexadecimal or binary to some readers of YAML: 017, 0o17, 0x11, 0b11.
bool odd_base(std::string_view text) {
  if (text.starts_with("-") || text.starts_with("+")) text.remove_prefix(1);
  if (text.size() < 2 || text[0] != '0') return false;
  return (text[1] >= '0' && text[1] <= '9') ||
         std::string_view("xXoObB").find(text[1]) != std::string_view::npos;
}

/// Of any list of maps; most are shorter, as their readers and the core say.
constexpr std::size_t most_items = 60;

// Beyond it: a slipped unit or digit, not a boat.
double most_of(Dimension d) {
  switch (d) {
    case Dimension::length:
      return 30;
    case Dimension::force:
      return 1e6;
    case Dimension::mass:
      return 1e4;
    case Dimension::stress:
      return 1e12;
    case Dimension::bending_stiffness:
      return 1e6;
    default:
      return 1e300;
  }
}

}  // namespace

std::string show_temperature(double celsius, ReaderUnits units) {
  return units == ReaderUnits::inch ? show_number(celsius * 1.8 + 32) + " F"
                                    : show_number(celsius) + " C";
}

std::string ObjectSchema::json() const {
  std::string out = "{\"type\": \"object\", \"description\": " + json_text(help);
  out += ", \"additionalProperties\": false, \"properties\": {";
  bool first = true;
  for (const auto& [key, schema] : properties) {
    out += (first ? "\n" : ",\n") + json_text(key) + ": " + schema;
    first = false;
  }
  out += "}";
  if (!required.empty()) out += ", \"required\": " + enum_json(required);
  return out + "}";
}

Fields::Fields(Reading& reading, const Node* node, std::string path, ObjectSchema* schema)
    : reading_(reading), node_(node), path_(std::move(path)), schema_(schema) {
  if (node_ != nullptr && node_->kind != Node::Kind::map) {
    complain(*node_, (path_.empty() ? "the file" : path_) + ": keys with values are expected here");
    node_ = nullptr;
  }
}

std::string Fields::full(std::string_view key) const {
  return path_.empty() ? std::string(key) : path_ + "." + std::string(key);
}

bool Fields::has(std::string_view key) const {
  return node_ != nullptr && node_->find(key) != nullptr;
}

void Fields::complain(const Node& node, const std::string& message) {
  if (describing()) return;
  const int width = node.kind == Node::Kind::text
                        ? std::max(1, characters(node.text) + (node.quoted ? 2 : 0))
                        : 1;
  reading_.problems.push_back(reading_.document->problem(node.mark, width, message));
  // No more of them are shown, but a reader may count them.
  if (reading_.problems.size() > 2 * most_problems) reading_.problems.back().excerpt.clear();
}

void Fields::complain_here(const std::string& message) {
  if (node_ != nullptr) complain(*node_, message);
}

void Fields::note_asked(const Key& key, AskedKey::Kind kind, bool needed, bool marked,
                        Dimension dimension, const std::vector<std::string>& choices) {
  if (reading_.asked == nullptr || node_ == nullptr) return;
  AskedKey a;
  a.in = node_;
  a.name = key.name;
  a.label = key.label;
  a.help = std::string(key.help) + measuring(key);
  a.example = key.example;
  if (a.example.empty() && kind == AskedKey::Kind::measure) a.example = example_of(dimension);
  a.kind = kind;
  a.dimension = dimension;
  a.choices = choices;
  a.needed = needed;
  a.marked = marked;
  a.known = key.known;
  reading_.asked->keys.push_back(std::move(a));
}

const Node* Fields::take(const Key& key, bool needed, const std::string& expected) {
  asked_.emplace_back(key.name);
  if (describing()) {
    if (needed && schema_ != nullptr) schema_->required.emplace_back(key.name);
    return nullptr;
  }
  const Node* found = node_ != nullptr ? node_->find(key.name) : nullptr;
  if (found == nullptr) {
    if (needed && node_ != nullptr) {
      complain(*node_, full(key.name) + " is missing: " + std::string(key.label) + ", " + expected +
                           measuring(key));
    }
    return nullptr;
  }
  if (found->kind == Node::Kind::empty) {
    std::string message =
        full(key.name) + " has no value: " + expected + " is expected" + measuring(key);
    if (key.name == "thread") message += "; a thread that begins with # must be quoted: '#10-24'";
    complain(*found, message);
    return nullptr;
  }
  return found;
}

// Takes {is: ..., known: ...} apart.
const Node* Fields::unwrap(const Node& node, const Key& key, Knowledge* known) {
  *known = key.known;
  if (node.kind != Node::Kind::map) return &node;
  if (node.find("is") == nullptr && node.find("known") == nullptr) {
    complain(node, full(key.name) +
                       ": one value is expected here, alone or as in {is: 1.8 mm, "
                       "known: measured}");
    return nullptr;
  }
  const Node* is = nullptr;
  for (std::size_t i = 0; i < node.keys.size(); ++i) {
    const Node& item = node.items[i];
    if (node.keys[i] == "is") {
      is = &item;
    } else if (node.keys[i] == "known") {
      const auto it = std::find(knowledge_words.begin(), knowledge_words.end(), item.text);
      if (item.kind != Node::Kind::text || it == knowledge_words.end()) {
        std::string message = full(key.name) + ".known: " + shown(item.text) + " is not one of " +
                              quoted_list(knowledge_words);
        const std::string near = nearest_spelling(item.text, knowledge_words);
        if (!near.empty()) message += "; did you mean \"" + near + "\"?";
        complain(item, message);
      } else {
        *known = static_cast<Knowledge>(it - knowledge_words.begin());
      }
    } else {
      Node at;
      at.kind = Node::Kind::text;
      at.text = node.keys[i];
      at.mark = node.key_marks[i];
      complain(at, full(key.name) + ": unknown key " + shown(node.keys[i]) +
                       " beside a value; only \"is\" and \"known\" stand here");
    }
  }
  if (is == nullptr) {
    complain(node, full(key.name) + ": the value is missing, as in {is: 1.8 mm, known: measured}");
    return nullptr;
  }
  if (is->kind == Node::Kind::empty) {
    complain(*is, full(key.name) + ": the value is missing");
    return nullptr;
  }
  return is;
}

std::optional<Measure> Fields::measure_of(const Node& node, std::string_view label, Dimension want,
                                          Sign sign, double most, std::string_view example) {
  if (example.empty()) example = example_of(want);
  if (node.kind != Node::Kind::text) {
    complain(node,
             std::string(label) + ": one value is expected, for example " + std::string(example));
    return std::nullopt;
  }
  if (odd_base(node.text)) {
    complain(node, std::string(label) + ": " + shown(node.text) +
                       ": write a decimal number without a zero or a letter in front, for "
                       "example " +
                       std::string(example_of(want)));
    return std::nullopt;
  }
  try {
    const Measure m = parse_measure(node.text, want);
    if (sign == Sign::above_zero && !(m.si > 0)) {
      complain(node, std::string(label) + ": " + shown(node.text) + " must be above zero");
      return std::nullopt;
    }
    if (sign == Sign::not_negative && !(m.si >= 0)) {
      complain(node, std::string(label) + ": " + shown(node.text) + " must not be negative");
      return std::nullopt;
    }
    if (want == Dimension::angle && std::abs(m.si) > 2 * std::numbers::pi * (1 + 1e-9)) {
      complain(node, std::string(label) + ": " + shown(node.text) + " is more than one turn");
      return std::nullopt;
    }
    if (std::abs(m.si) > (most > 0 ? most : most_of(want))) {
      complain(node, std::string(label) + ": " + shown(node.text) + " is far beyond a small boat");
      return std::nullopt;
    }
    return m;
  } catch (const UnitError& e) {
    complain(node, std::string(label) + ": " + e.what());
    return std::nullopt;
  }
}

std::optional<Known<Measure>> Fields::measure(const Key& key, Dimension want, Sign sign,
                                              bool needed) {
  if (describing() && schema_ != nullptr) {
    schema_->properties.emplace_back(key.name, value_schema(key, measure_schema(want)));
  }
  const std::string expected = std::string(name_of(want)) + ", for example " +
                               std::string(key.example.empty() ? example_of(want) : key.example);
  note_asked(key, AskedKey::Kind::measure, needed, true, want);
  const Node* found = take(key, needed, expected);
  if (found == nullptr) return std::nullopt;
  Knowledge known = key.known;
  const Node* value = unwrap(*found, key, &known);
  if (value == nullptr) return std::nullopt;
  const auto m = measure_of(*value, full(key.name), want, sign, key.most, key.example);
  if (!m) return std::nullopt;
  reading_.inputs.push_back({.path = full(key.name),
                             .label = std::string(key.label),
                             .value = show(*m, reading_.units),
                             .si = m->si,
                             .is_text = false,
                             .known = known,
                             .defaulted = false});
  return Known<Measure>{*m, known};
}

void Fields::note_default(const Key& key, const Measure& m) {
  if (describing()) return;
  reading_.inputs.push_back({.path = full(key.name),
                             .label = std::string(key.label),
                             .value = show(m, reading_.units),
                             .si = m.si,
                             .is_text = false,
                             .known = Knowledge::assumed,
                             .defaulted = true});
}

std::optional<Known<double>> Fields::number(const Key& key, double least, double most) {
  if (describing() && schema_ != nullptr) {
    schema_->properties.emplace_back(key.name,
                                     value_schema(key, measure_schema(Dimension::number)));
  }
  note_asked(key, AskedKey::Kind::number, false, true);
  const Node* found = take(key, false, "a bare number");
  if (found == nullptr) return std::nullopt;
  Knowledge known = key.known;
  const Node* value = unwrap(*found, key, &known);
  if (value == nullptr) return std::nullopt;
  const auto m = measure_of(*value, full(key.name), Dimension::number, Sign::any);
  if (!m) return std::nullopt;
  if (!(m->si >= least && m->si <= most)) {
    complain(*value, full(key.name) + ": " + shown(value->text) +
                         (least == most ? " is not known here; expected " + show_number(least)
                                        : " must lie between " + show_number(least) + " and " +
                                              show_number(most)));
    return std::nullopt;
  }
  reading_.inputs.push_back({.path = full(key.name),
                             .label = std::string(key.label),
                             .value = show_number(m->si),
                             .si = m->si,
                             .is_text = false,
                             .known = known,
                             .defaulted = false});
  return Known<double>{m->si, known};
}

double Fields::defaulted_number(const Key& key, double least, double most, double otherwise) {
  const auto v = number(key, least, most);
  if (v) return v->value;
  if (!has(key.name)) note_default(key, {otherwise, Dimension::number});
  return otherwise;
}

std::optional<Known<double>> Fields::temperature(const Key& key) {
  if (describing() && schema_ != nullptr) {
    schema_->properties.emplace_back(
        key.name, value_schema(key, R"({"type": "string", "pattern": "^ *[-+]?[0-9.].*[CF]$"})"));
  }
  const std::string expected = "a temperature, for example 12 C or 54 F";
  note_asked(key, AskedKey::Kind::temperature, false, true);
  const Node* found = take(key, false, expected);
  if (found == nullptr) return std::nullopt;
  Knowledge known = key.known;
  const Node* value = unwrap(*found, key, &known);
  if (value == nullptr) return std::nullopt;
  const std::string label = full(key.name) + ": ";
  if (value->kind != Node::Kind::text) {
    complain(*value, label + "one value is expected, for example 12 C or 54 F");
    return std::nullopt;
  }
  const std::string& text = value->text;
  const std::size_t digits = text.find_last_of("0123456789.") + 1;  // 0: none
  std::string unit = text.substr(digits);
  std::erase(unit, ' ');
  const std::string quoted = shown(text);
  if (odd_base(text)) {
    complain(*value,
             label + quoted + ": write a decimal number without a zero or a letter in front");
    return std::nullopt;
  }
  try {
    const double degrees = parse_number(text.substr(0, digits));
    const bool celsius = unit == "C" || unit == "degC" ||
                         unit ==
                             "\xC2\xB0"
                             "C";
    const bool fahrenheit = unit == "F" || unit == "degF" ||
                            unit ==
                                "\xC2\xB0"
                                "F";
    if (!celsius && !fahrenheit) {
      complain(*value, label + quoted +
                           (unit.empty() ? ": a unit is required here"
                                         : ": " + shown(unit) + " is neither C nor F") +
                           "; expected " + expected);
      return std::nullopt;
    }
    const double si = celsius ? degrees : (degrees - 32) / 1.8;
    if (!(si >= 0 && si <= 35)) {
      complain(*value, label + quoted + " must lie between 0 C and 35 C (32 F and 95 F)");
      return std::nullopt;
    }
    reading_.inputs.push_back({.path = full(key.name),
                               .label = std::string(key.label),
                               .value = show_temperature(si, reading_.units),
                               .si = si + 273.15,
                               .is_text = false,
                               .known = known,
                               .defaulted = false});
    return Known<double>{si, known};
  } catch (const UnitError&) {
    complain(*value, label + quoted + ": expected " + expected);
  }
  return std::nullopt;
}

std::optional<Known<std::string>> Fields::text(const Key& key, bool needed, bool is_input) {
  if (describing() && schema_ != nullptr) {
    schema_->properties.emplace_back(
        key.name, value_schema(key, "{\"type\": [\"string\", \"number\"], \"maxLength\": 200}"));
  }
  note_asked(key, AskedKey::Kind::text, needed, is_input);
  const Node* found = take(key, needed, "a word or a name");
  if (found == nullptr) return std::nullopt;
  Knowledge known = key.known;
  const Node* value = unwrap(*found, key, &known);
  if (value == nullptr) return std::nullopt;
  if (value->kind != Node::Kind::text) {
    complain(*value, full(key.name) + ": a word or a name is expected here");
    return std::nullopt;
  }
  if (characters(value->text) > 200) {
    complain(*value, full(key.name) + ": at most 200 characters");
    return std::nullopt;
  }
  if (is_input) {
    reading_.inputs.push_back({.path = full(key.name),
                               .label = std::string(key.label),
                               .value = value->text,
                               .si = 0,
                               .is_text = true,
                               .known = known,
                               .defaulted = false});
  }
  return Known<std::string>{value->text, known};
}

Known<std::string> Fields::choice(const Key& key, const std::vector<std::string>& choices,
                                  bool needed, bool is_input) {
  if (describing() && schema_ != nullptr) {
    schema_->properties.emplace_back(key.name,
                                     value_schema(key, "{\"enum\": " + enum_json(choices) + "}"));
  }
  note_asked(key, AskedKey::Kind::choice, needed, is_input, Dimension::number, choices);
  const Node* found = take(key, needed, "one of " + quoted_list(choices));
  if (found == nullptr) return {};
  Knowledge known = key.known;
  const Node* value = unwrap(*found, key, &known);
  if (value == nullptr) return {};
  if (value->kind != Node::Kind::text ||
      std::find(choices.begin(), choices.end(), value->text) == choices.end()) {
    if (value->kind != Node::Kind::text) {
      complain(*value, full(key.name) + ": one of " + quoted_list(choices) + " is expected here");
      return {};
    }
    std::string message =
        full(key.name) + ": " + shown(value->text) + " is not one of " + quoted_list(choices);
    const std::string near = nearest_spelling(value->text, choices);
    if (!near.empty()) message += "; did you mean \"" + near + "\"?";
    complain(*value, message);
    return {};
  }
  if (is_input) {
    reading_.inputs.push_back({.path = full(key.name),
                               .label = std::string(key.label),
                               .value = value->text,
                               .si = 0,
                               .is_text = true,
                               .known = known,
                               .defaulted = false});
  }
  return {value->text, known};
}

Fields Fields::map(const Key& key, bool needed, ObjectSchema* schema) {
  note_asked(key, AskedKey::Kind::map, needed, false);
  const Node* found = take(key, needed, "keys with values");
  if (schema != nullptr) schema->help = std::string(key.help) + measuring(key);
  return {reading_, found, full(key.name), schema};
}

void Fields::close(const Key& key, const ObjectSchema& schema) {
  if (describing() && schema_ != nullptr) {
    schema_->properties.emplace_back(key.name, schema.json());
  }
}

std::vector<Fields> Fields::list(const Key& key, bool needed, ObjectSchema* item_schema) {
  note_asked(key, AskedKey::Kind::list, needed, false);
  const Node* found = take(key, needed, "a list");
  std::vector<Fields> out;
  if (describing()) {
    if (item_schema != nullptr) item_schema->help = key.help;
    out.emplace_back(reading_, nullptr, full(key.name), item_schema);
    return out;
  }
  if (found == nullptr) return out;
  if (found->kind != Node::Kind::list || found->items.empty()) {
    complain(*found, full(key.name) + ": a list is expected, each item behind a dash");
    return out;
  }
  if (found->items.size() > most_items) {
    complain(*found, full(key.name) + ": at most " + std::to_string(most_items) +
                         " items are read; found " + std::to_string(found->items.size()));
    return out;
  }
  for (const Node& item : found->items) {
    out.emplace_back(reading_, &item, full(key.name), item_schema);
  }
  return out;
}

void Fields::close_list(const Key& key, const ObjectSchema& item_schema) {
  if (describing() && schema_ != nullptr) {
    schema_->properties.emplace_back(
        key.name, "{\"type\": \"array\", \"minItems\": 1, \"items\": " + item_schema.json() + "}");
  }
}

const Node* Fields::raw(const Key& key, bool needed, std::string schema_json) {
  if (describing() && schema_ != nullptr) {
    schema_->properties.emplace_back(key.name, std::move(schema_json));
  }
  note_asked(key, AskedKey::Kind::other, needed, false);
  return take(key, needed, std::string(key.help));
}

void Fields::finish() {
  if (describing() || node_ == nullptr) return;
  // Rather a key that the map does not have yet.
  std::vector<std::string> absent;
  std::copy_if(asked_.begin(), asked_.end(), std::back_inserter(absent),
               [&](const std::string& known) { return !has(known); });
  std::set<std::string> slips;  // needed keys that are told as slips: once is enough, for time
  for (std::size_t i = 0; i < node_->keys.size(); ++i) {
    const std::string& key = node_->keys[i];
    if (std::find(asked_.begin(), asked_.end(), key) != asked_.end()) continue;
    std::string message =
        "unknown key " + shown(key) + " in " + (path_.empty() ? std::string("the setup") : path_);
    std::string near = nearest_spelling(key, absent);
    if (!near.empty() && slips.insert(near).second) {
      // A slip in a needed key is one mistake, so it is not missing as well.
      const std::string missing = full(near) + " is missing";
      std::erase_if(reading_.problems,
                    [&](const Problem& p) { return p.message.starts_with(missing); });
    }
    if (near.empty()) near = nearest_spelling(key, asked_);
    if (!near.empty()) {
      message += "; did you mean \"" + near + "\"?";
    } else {
      message += "; known here: " + quoted_list(asked_);
    }
    Node at;
    at.kind = Node::Kind::text;
    at.text = key;
    at.mark = node_->key_marks[i];
    complain(at, message);
  }
}

}  // namespace thole::reading
