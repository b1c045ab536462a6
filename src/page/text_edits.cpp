#include "page/text_edits.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/unit_text.hpp>

#include "reading/quoting.hpp"
#include "reading/tree_edits.hpp"

namespace thole::page {
namespace {

using reading::AskedKey;
using reading::Node;

constexpr double sixteenth = 0.0254 / 16;
constexpr double thousandth = 0.001;
constexpr double five_degrees = 5 * std::numbers::pi / 180;

bool digit(char c) { return c >= '0' && c <= '9'; }

bool word_letter(char c) {
  return static_cast<unsigned char>(c) >= 0x80 || digit(c) || (c >= 'a' && c <= 'z') ||
         (c >= 'A' && c <= 'Z');
}

bool plain_letter(char c) {
  return word_letter(c) || std::string_view(" ./_+()^-'\";=*<").find(c) != std::string_view::npos;
}

// Whether it is read back as the same text without quotes.
bool is_plain(const std::string& v) {
  if (!std::all_of(v.begin(), v.end(), plain_letter)) return false;
  const bool number = v.size() > 1 &&
                      std::string_view("+-.").find(v[0]) != std::string_view::npos &&
                      (digit(v[1]) || v[1] == '.');
  return (word_letter(v[0]) || number) && v != "null" && v != "Null" && v != "NULL";
}

std::string scalar(const std::string& value) {
  return is_plain(value) ? value : reading::in_single_quotes(value);
}

std::string trimmed(std::string v) {
  v.erase(0, v.find_first_not_of(' '));
  v.erase(v.find_last_not_of(' ') + 1);
  return v;
}

// A key that is read as a list, a range or a map of its own is typed as it stands in the file.
bool as_it_stands(const ReadText& read, const std::string& path) {
  for (const AskedKey& k : read.asked.keys) {
    if (read.path_of(k) == path) return k.kind == AskedKey::Kind::other;
  }
  return false;
}

bool is_collection(const std::string& v) { return v[0] == '[' || v[0] == '{'; }

enum class Unit { inch, millimetre, centimetre, metre };

Unit unit_of(const std::string& like, ReaderUnits units) {
  const std::size_t at = like.find_last_of("0123456789. ");
  const std::string unit = at == std::string::npos ? like : like.substr(at + 1);
  if (unit == "mm") return Unit::millimetre;
  if (unit == "cm") return Unit::centimetre;
  if (unit == "m") return Unit::metre;
  if (!unit.empty()) return Unit::inch;
  return units == ReaderUnits::inch ? Unit::inch : Unit::millimetre;
}

std::string above(const std::string& path) {
  const std::size_t dot = path.rfind('.');
  return dot == std::string::npos ? "" : path.substr(0, dot);
}

// A map without keys is none: the only key of one goes with it. Items of lists stay.
std::string with_its_map(const ReadText& read, const std::string& path) {
  const std::string map = above(path);
  const Node* in = map.empty() ? nullptr : read.at(map);
  if (in == nullptr || in->kind != Node::Kind::map || in->keys.size() != 1) return path;
  const Node* over = map.find('.') == std::string::npos ? nullptr : read.at(above(map));
  const bool item = over != nullptr && over->kind == Node::Kind::list;
  return item ? path : with_its_map(read, map);
}

}  // namespace

std::string value_path(const ReadText& read, const std::string& path) {
  const Node* n = read.at(path);
  const bool said = n != nullptr && n->kind == Node::Kind::map && n->find("is") != nullptr;
  return said ? path + ".is" : path;
}

std::vector<Edit> typed(const ReadText& read, const std::string& path, const std::string& value) {
  const std::string v = trimmed(value);
  if (v.find_first_of("\n\r\t") != std::string::npos) {
    throw Error(path + ": one line is expected");
  }
  const Node* there = read.at(path);
  if (v.empty()) {
    if (there == nullptr) return {};
    std::vector<Edit> out{{with_its_map(read, path), ""}};
    // Of no use without its size, and refused then: what says how that lies.
    if (path == "mount.board.size" && read.at("mount.board.laid") != nullptr) {
      out.push_back({"mount.board.laid", ""});
    }
    return out;
  }
  const bool ready = is_collection(v) && as_it_stands(read, path);
  return {{value_path(read, path), ready ? v : scalar(v)}};
}

std::vector<Edit> not_measured_now(const ReadText& read, std::vector<Edit> edits) {
  for (std::size_t i = 0, count = edits.size(); i < count; ++i) {
    if (!edits[i].path.ends_with(".is")) continue;
    const std::string path = above(edits[i].path);
    if (read.text_at(path + ".known") != "measured") continue;
    if (edits[i].value == scalar(read.text_at(path))) continue;
    edits.push_back({path + ".known", "assumed"});
  }
  return edits;
}

std::vector<Edit> marked(const ReadText& read, const std::string& path, const std::string& known) {
  const std::vector<std::string> words{"measured", "tagged", "assumed"};
  if (std::find(words.begin(), words.end(), known) == words.end()) {
    throw Error(reading::shown(known) + " is not one of measured, tagged, assumed");
  }
  const Node* n = read.at(path);
  if (n == nullptr || n->kind == Node::Kind::empty) throw Error(path + " has no value to mark");
  if (n->kind == Node::Kind::map && n->find("is") != nullptr) return {{path + ".known", known}};
  if (n->kind != Node::Kind::text) throw Error(path + " takes no mark");
  return {{path, "{is: " + scalar(n->text) + ", known: " + known + "}"}};
}

std::vector<std::vector<Edit>> others_like(const ReadText& read, const std::string& path) {
  const std::string of = above(path);
  const Node* list = of.empty() ? nullptr : read.at(of);
  const Node* item = read.at(path);
  if (item == nullptr || list == nullptr || list->kind != Node::Kind::list) {
    throw Error(reading::shown(path) + " is no item of a list");
  }
  const std::string made = of + "." + std::to_string(list->items.size());
  const Edit copy{made, reading::flow_text(reading::without(*item, {"name"}))};
  std::vector<std::vector<Edit>> out;
  const std::string place = path + (item->find("on_board") != nullptr ? ".on_board" : "");
  const auto put = [&](const char* key, const std::string& value) {
    const std::string at = value_path(read, place + key).substr(path.size());
    out.push_back({copy, {made + at, scalar(value)}});
  };
  const std::string side = read.text_at(place + ".side");
  if (side == "port") put(".side", "starboard");
  if (side == "starboard") put(".side", "port");
  const std::string forward = read.text_at(place + ".forward");
  if (!forward.empty()) put(".forward", forward[0] == '-' ? forward.substr(1) : "-" + forward);
  out.push_back({copy});
  const std::string outboard = read.text_at(place + ".outboard");
  if (side.empty() || outboard.empty() || !read.setup) return out;
  const ReaderUnits units = read.setup->units;
  if (!forward.empty()) put(".forward", written_like(forward, units, 0, 0, 0));
  // Inboard of it, beyond a hand's breadth.
  const double from = parse_measure(outboard, Dimension::length).si;
  const double far = step_of(outboard, units) > thousandth ? 96 * sixteenth : 150 * thousandth;
  for (int n = 1; n <= 4; ++n) {
    put(".outboard", written_like(outboard, units, from - n * far, -2, 2));
  }
  return out;
}

double step_of(const std::string& like, ReaderUnits units) {
  return unit_of(like, units) == Unit::inch ? sixteenth : thousandth;
}

std::string step_words(const std::string& like, ReaderUnits units) {
  return unit_of(like, units) == Unit::inch ? "1/16 in" : "1 mm";
}

std::string written_like(const std::string& like, ReaderUnits units, double metres, double low,
                         double high) {
  const Unit unit = unit_of(like, units);
  const double step = step_of(like, units);
  constexpr double hair = 1e-6;
  const double least = std::ceil(low / step - hair);
  const double most = std::max(least, std::floor(high / step + hair));
  const auto steps = std::lround(std::clamp(metres / step, least, most));
  switch (unit) {
    case Unit::inch:
      return show(Length::from_value(double(steps) * sixteenth), ReaderUnits::inch);
    case Unit::millimetre:
      return std::to_string(steps) + " mm";
    case Unit::centimetre:
      return show_number(double(steps) / 10) + " cm";
    case Unit::metre:
      break;
  }
  return show_number(double(steps) / 1000) + " m";
}

std::string written_angle(double radians) {
  return std::to_string(5 * std::lround(radians / five_degrees)) + " deg";
}

}  // namespace thole::page
