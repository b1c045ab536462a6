#pragma once

/// A strict little reader of JSON (RFC 8259) for what the library writes. Throws std::runtime_error
/// with the place.

#include <cctype>
#include <cstdlib>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace thole::test {

struct JsonValue {
  enum class Kind { null, yes_no, number, text, list, object };
  Kind kind = Kind::null;
  std::string text;  ///< of a text; of a number as written; "true" or "false"
  std::vector<JsonValue> items;
  std::map<std::string, JsonValue> members;

  [[nodiscard]] const JsonValue& operator[](const std::string& key) const {
    const auto it = members.find(key);
    if (it == members.end()) throw std::runtime_error("no key " + key);
    return it->second;
  }
  [[nodiscard]] bool has(const std::string& key) const { return members.count(key) > 0; }
  [[nodiscard]] bool yes() const { return kind == Kind::yes_no && text == "true"; }
  [[nodiscard]] double number() const { return std::strtod(text.c_str(), nullptr); }
};

class JsonReader {
 public:
  explicit JsonReader(std::string_view text) : text_(text) {}

  JsonValue whole() {
    JsonValue v = value();
    blanks();
    if (at_ != text_.size()) fail("something stands behind the value");
    return v;
  }

 private:
  [[noreturn]] void fail(const std::string& why) const {
    throw std::runtime_error("JSON, byte " + std::to_string(at_) + ": " + why);
  }
  [[nodiscard]] char here() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  void blanks() {
    while (at_ < text_.size() &&
           std::string_view(" \n\r\t").find(here()) != std::string_view::npos) {
      ++at_;
    }
  }
  bool take(std::string_view word) {
    if (text_.substr(at_, word.size()) != word) return false;
    at_ += word.size();
    return true;
  }
  void need(char c) {
    blanks();
    if (here() != c) fail(std::string("expected ") + c);
    ++at_;
  }

  JsonValue value() {
    blanks();
    JsonValue v;
    if (here() == '{') return object();
    if (here() == '[') return list();
    if (here() == '"') {
      v.kind = JsonValue::Kind::text;
      v.text = string();
    } else if (take("null")) {
      v.kind = JsonValue::Kind::null;
    } else if (take("true") || take("false")) {
      v.kind = JsonValue::Kind::yes_no;
      v.text = text_[at_ - 2] == 'u' ? "true" : "false";
    } else {
      number(v);
    }
    return v;
  }

  void digits() {
    if (std::isdigit(here()) == 0) fail("a digit is expected");
    while (std::isdigit(here()) != 0) ++at_;
  }
  void number(JsonValue& v) {
    const std::size_t from = at_;
    v.kind = JsonValue::Kind::number;
    (void)take("-");
    if (!take("0")) digits();
    if (take(".")) digits();
    if (here() == 'e' || here() == 'E') {
      ++at_;
      if (here() == '+' || here() == '-') ++at_;
      digits();
    }
    v.text = text_.substr(from, at_ - from);
  }

  std::string string() {
    need('"');
    std::string out;
    while (here() != '"') {
      if (at_ >= text_.size()) fail("a text that never ends");
      if (static_cast<unsigned char>(here()) < 0x20) fail("a control character in a text");
      if (here() != '\\') {
        out += text_[at_++];
        continue;
      }
      ++at_;
      const char c = here();
      ++at_;
      constexpr std::string_view from = "\"\\/bfnrt", to = "\"\\/\b\f\n\r\t";
      if (c == 'u') {
        out += char(std::strtol(std::string(text_.substr(at_, 4)).c_str(), nullptr, 16));
        at_ += 4;
      } else if (from.find(c) != std::string_view::npos) {
        out += to[from.find(c)];
      } else {
        fail("an escape that is none");
      }
    }
    ++at_;
    return out;
  }

  JsonValue list() {
    JsonValue v;
    v.kind = JsonValue::Kind::list;
    need('[');
    blanks();
    if (take("]")) return v;
    do {
      v.items.push_back(value());
      blanks();
    } while (take(","));
    need(']');
    return v;
  }

  JsonValue object() {
    JsonValue v;
    v.kind = JsonValue::Kind::object;
    need('{');
    blanks();
    if (take("}")) return v;
    do {
      blanks();
      const std::string key = string();
      need(':');
      if (!v.members.emplace(key, value()).second) fail("the key " + key + " twice");
      blanks();
    } while (take(","));
    need('}');
    return v;
  }

  std::string_view text_;
  std::size_t at_ = 0;
};

[[nodiscard]] inline JsonValue read_json(std::string_view text) { return JsonReader(text).whole(); }

}  // namespace thole::test
