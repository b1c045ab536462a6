#pragma once

/// A strict little reader of XML fragments: every tag closed in its turn, attributes in quotes,
/// nothing but the five entities and numbers escaped. Throws std::runtime_error with the place.
/// HTML of the sheet is written so that it is XML as well.

#include <cctype>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace thole::test {

struct Tag {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;  ///< directly in it, entities resolved

  [[nodiscard]] std::string of(const std::string& key) const {
    const auto found = attributes.find(key);
    return found == attributes.end() ? "" : found->second;
  }
  [[nodiscard]] double number(const std::string& key) const { return std::stod(of(key)); }
  /// Whether one of its classes is this.
  [[nodiscard]] bool is(std::string_view one) const {
    std::istringstream classes(of("class"));
    for (std::string c; classes >> c;) {
      if (c == one) return true;
    }
    return false;
  }
  /// "x,y x,y" of polygons and polylines.
  [[nodiscard]] std::vector<std::pair<double, double>> points() const {
    std::vector<std::pair<double, double>> out;
    std::istringstream list(of("points"));
    for (std::string p; list >> p;) {
      const std::size_t comma = p.find(',');
      out.emplace_back(std::stod(p.substr(0, comma)), std::stod(p.substr(comma + 1)));
    }
    return out;
  }
};

class Markup {
 public:
  /// All tags in the order in which they begin.
  [[nodiscard]] static std::vector<Tag> read(const std::string& text) {
    Markup m(text);
    m.all();
    return m.tags_;
  }

 private:
  explicit Markup(const std::string& text) : s_(text) {}

  [[noreturn]] void fail(const std::string& why) const {
    throw std::runtime_error(why + " at: " + s_.substr(at_ > 30 ? at_ - 30 : 0, 80));
  }

  [[nodiscard]] std::string entity() {
    const std::size_t end = s_.find(';', at_);
    if (end == std::string::npos || end - at_ > 8) fail("an entity without an end");
    const std::string name = s_.substr(at_ + 1, end - at_ - 1);
    at_ = end + 1;
    if (name == "amp") return "&";
    if (name == "lt") return "<";
    if (name == "gt") return ">";
    if (name == "quot") return "\"";
    if (name == "#39" || name == "apos") return "'";
    if (name.size() > 1 && name[0] == '#') return "?";
    fail("unknown entity " + name);
  }

  void all() {
    std::vector<std::size_t> open;
    while (at_ < s_.size()) {
      if (s_[at_] == '&') {
        const std::string c = entity();
        if (!open.empty()) tags_[open.back()].text += c;
      } else if (s_[at_] != '<') {
        if (s_[at_] == '>') fail("a bare >");
        if (!open.empty()) tags_[open.back()].text += s_[at_];
        ++at_;
      } else if (s_.compare(at_, 2, "</") == 0) {
        const std::size_t end = s_.find('>', at_);
        if (end == std::string::npos || open.empty()) fail("a closing tag alone");
        if (tags_[open.back()].name != s_.substr(at_ + 2, end - at_ - 2)) fail("crossed tags");
        open.pop_back();
        at_ = end + 1;
      } else if (tag()) {
        open.push_back(tags_.size() - 1);
      }
    }
    if (!open.empty()) fail("not closed: " + tags_[open.back()].name);
  }

  // One opening tag; whether it stays open.
  bool tag() {
    ++at_;
    Tag t;
    while (at_ < s_.size() && std::isalnum(static_cast<unsigned char>(s_[at_])) != 0) {
      t.name += s_[at_++];
    }
    if (t.name.empty()) fail("a bare <");
    for (;;) {
      while (at_ < s_.size() && s_[at_] == ' ') ++at_;
      if (s_.compare(at_, 2, "/>") == 0) {
        at_ += 2;
        tags_.push_back(t);
        return false;
      }
      if (at_ < s_.size() && s_[at_] == '>') {
        ++at_;
        tags_.push_back(t);
        return true;
      }
      attribute(t);
    }
  }

  void attribute(Tag& t) {
    const std::size_t equals = s_.find("=\"", at_);
    if (equals == std::string::npos || equals - at_ > 30) fail("an attribute without a value");
    const std::string key = s_.substr(at_, equals - at_);
    at_ = equals + 2;
    std::string value;
    while (at_ < s_.size() && s_[at_] != '"') {
      if (s_[at_] == '<') fail("a < in an attribute");
      if (s_[at_] == '&') {
        value += entity();
      } else {
        value += s_[at_++];
      }
    }
    if (at_ == s_.size()) fail("an attribute without an end");
    ++at_;
    if (!t.attributes.emplace(key, value).second) fail("twice: " + key);
  }

  const std::string& s_;
  std::size_t at_ = 0;
  std::vector<Tag> tags_;
};

}  // namespace thole::test
