#pragma once

/// One description of the keys of a map serves twice: it reads a document, and it writes the JSON
/// Schema. A reading function asks for each key once; the description it gives is all there is.

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <thole/display.hpp>
#include <thole/known.hpp>
#include <thole/unit_text.hpp>

#include "core/json_text.hpp"
#include "reading/document.hpp"

namespace thole::reading {

/// What a key means, to people and to the schema.
struct Key {
  std::string_view name;
  std::string_view label;               ///< "wall thickness", for the report
  std::string_view help;                ///< one sentence for editors
  Knowledge known = Knowledge::tagged;  ///< when the file does not say
  std::string_view how = {};            ///< to measure it: for editors, and where it is missing
  double most = 0;                      ///< SI, in place of what a small boat has; 0: that
  std::string_view example = {};        ///< in place of that of the dimension
};

enum class Sign { above_zero, not_negative, any };

/// A JSON object schema under construction.
struct ObjectSchema {
  std::string help;
  std::vector<std::pair<std::string, std::string>> properties;  ///< key, JSON text
  std::vector<std::string> required;
  [[nodiscard]] std::string json() const;
};

/// "54 F" or "12 C".
[[nodiscard]] std::string show_temperature(double celsius, ReaderUnits units);

/// A key that a map of a document was asked for, whether it has it or not.
struct AskedKey {
  enum class Kind { measure, number, temperature, choice, text, map, list, other };
  const Node* in = nullptr;  ///< the map
  std::string name;
  std::string label;
  std::string help;  ///< with how to measure it
  std::string example;
  Kind kind = Kind::other;
  Dimension dimension = Dimension::number;  ///< of a measure
  std::vector<std::string> choices;         ///< of a choice
  bool needed = false;
  bool marked = false;                   ///< how it is known counts
  Knowledge known = Knowledge::assumed;  ///< when the file does not say
};

/// Everything that a document was asked for, in order: what an editor offers.
struct Asked {
  std::vector<AskedKey> keys;
  /// Keys that belong to another choice than the one made, with their maps.
  std::vector<std::pair<const Node*, std::string>> foreign;
};

/// Shared by all maps of one reading.
struct Reading {
  const Document* document = nullptr;  ///< none while describing
  std::vector<Problem> problems;
  std::vector<Input> inputs;
  ReaderUnits units = ReaderUnits::inch;
  Asked* asked = nullptr;  ///< filled where somebody wants it
  [[nodiscard]] bool describing() const { return document == nullptr; }
};

class Fields {
 public:
  /// `path` is empty for the top map.
  Fields(Reading& reading, const Node* node, std::string path, ObjectSchema* schema);

  [[nodiscard]] bool describing() const { return reading_.describing(); }
  [[nodiscard]] bool has(std::string_view key) const;

  template <class Q>
  std::optional<Known<Q>> optional(const Key& key, Sign sign = Sign::above_zero) {
    const auto m = measure(key, DimensionOf<Q>::value, sign, false);
    if (!m) return std::nullopt;
    return Known<Q>{Q::from_value(m->value.si), m->known};
  }
  /// Reports a missing key; then the value is zero.
  template <class Q>
  Known<Q> need(const Key& key, Sign sign = Sign::above_zero) {
    const auto m = measure(key, DimensionOf<Q>::value, sign, true);
    if (!m) return {};
    return Known<Q>{Q::from_value(m->value.si), m->known};
  }
  /// The default counts as assumed and is listed among the inputs.
  template <class Q>
  Known<Q> defaulted(const Key& key, Q otherwise, Sign sign = Sign::above_zero) {
    if (auto v = optional<Q>(key, sign)) return *v;
    note_default(key, {otherwise.value(), DimensionOf<Q>::value});
    return {otherwise, Knowledge::assumed};
  }
  std::optional<Known<double>> number(const Key& key, double least, double most);
  double defaulted_number(const Key& key, double least, double most, double otherwise);
  /// Degrees Celsius of "12 C" or "54 F", within 0 to 35 C.
  std::optional<Known<double>> temperature(const Key& key);

  /// Lists a value that was left out as assumed.
  void note_default(const Key& key, const Measure& m);

  /// One of the choices; "" when missing (reported if needed) or unknown (reported).
  Known<std::string> choice(const Key& key, const std::vector<std::string>& choices, bool needed,
                            bool is_input = false);
  std::optional<Known<std::string>> text(const Key& key, bool needed, bool is_input = false);

  /// A map below; its node may be null when absent.
  Fields map(const Key& key, bool needed, ObjectSchema* schema);
  void close(const Key& key, const ObjectSchema& schema);
  /// The items of a list of maps; when describing, one item without a node.
  std::vector<Fields> list(const Key& key, bool needed, ObjectSchema* item_schema);
  void close_list(const Key& key, const ObjectSchema& item_schema);
  /// A node for a reader of its own (lists of points, ranges), with a schema written by the caller.
  const Node* raw(const Key& key, bool needed, std::string schema_json);

  /// Values of any node.
  std::optional<Measure> measure_of(const Node& node, std::string_view label, Dimension want,
                                    Sign sign, double most = 0, std::string_view example = {});

  void complain(const Node& node, const std::string& message);
  void complain_here(const std::string& message);
  [[nodiscard]] const Node* node() const { return node_; }
  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] Reading& reading() { return reading_; }

  /// Reports keys that nobody asked for.
  void finish();

 private:
  std::optional<Known<Measure>> measure(const Key& key, Dimension want, Sign sign, bool needed);
  const Node* take(const Key& key, bool needed, const std::string& expected);
  void note_asked(const Key& key, AskedKey::Kind kind, bool needed, bool marked,
                  Dimension dimension = Dimension::number,
                  const std::vector<std::string>& choices = {});
  const Node* unwrap(const Node& node, const Key& key, Knowledge* known);
  [[nodiscard]] std::string full(std::string_view key) const;

  Reading& reading_;
  const Node* node_ = nullptr;
  std::string path_;
  ObjectSchema* schema_ = nullptr;
  std::vector<std::string> asked_;
};

}  // namespace thole::reading
