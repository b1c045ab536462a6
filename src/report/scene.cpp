#include "report/scene.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "report/text.hpp"

namespace thole::scene {
namespace {

constexpr int sides_of_drum = 20;
constexpr std::size_t longest_name = 26;

Spot cross(const Spot& a, const Spot& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
double length_of(const Spot& a) { return std::sqrt(a.x * a.x + a.y * a.y + a.z * a.z); }

}  // namespace

std::vector<Spot> box(const Spot& low, const Spot& high) {
  std::vector<Spot> out;
  for (const double x : {low.x, high.x}) {
    for (const double y : {low.y, high.y}) {
      for (const double z : {low.z, high.z}) out.push_back({x, y, z});
    }
  }
  return out;
}

std::vector<Spot> bar(const Spot& from, const Spot& to, double width) {
  const Spot along = to + -1.0 * from;
  const double length = length_of(along);
  if (!(length > 0)) return drum(from, 0, 0.5 * width);
  const Spot unit = (1 / length) * along;
  const Spot up = std::abs(unit.z) > 0.9 ? Spot{1, 0, 0} : Spot{0, 0, 1};
  Spot a = cross(unit, up);
  a = (0.5 * width / length_of(a)) * a;
  const Spot b = cross(unit, a);
  std::vector<Spot> out;
  for (const Spot& end : {from, to}) {
    for (const Spot& across : {a + b, a + -1.0 * b, -1.0 * a + b, -1.0 * a + -1.0 * b}) {
      out.push_back(end + across);
    }
  }
  return out;
}

std::vector<Spot> drum(const Spot& foot, double height, double radius) {
  std::vector<Spot> out;
  for (int i = 0; i < sides_of_drum; ++i) {
    const double a = 2 * std::numbers::pi * i / sides_of_drum;
    const Spot round{radius * std::cos(a), radius * std::sin(a), 0};
    out.push_back(foot + round);
    out.push_back(foot + round + Spot{0, 0, height});
  }
  return out;
}

Solid break_line(const Spot& from, const Spot& to, const Spot& tooth, Set views) {
  Solid out;
  out.look = "thin";
  out.layer = Layer::boat;
  out.form = Solid::Form::line;
  out.views = views;
  const Spot along = to + -1.0 * from;
  for (const auto& [part, size] :
       {std::pair{0.0, 0.0}, {0.4, 0.0}, {0.45, 1.0}, {0.55, -1.0}, {0.6, 0.0}, {1.0, 0.0}}) {
    out.corners.push_back(from + part * along + size * tooth);
  }
  return out;
}

std::vector<Spot> fan(const Spot& middle, double inner, double outer, double from, double to) {
  const int steps = std::max(2, int(std::ceil(std::abs(to - from) / 0.1)));
  std::vector<Spot> out;
  const auto arc = [&](double radius, bool back) {
    for (int i = 0; i <= steps; ++i) {
      const double part = double(back ? steps - i : i) / steps;
      const double a = from + part * (to - from);
      out.push_back(middle + Spot{-radius * std::cos(a), radius * std::sin(a), 0});
    }
  };
  arc(outer, false);
  arc(inner, true);
  return out;
}

std::string brief(const std::string& name) {
  return text::plain(text::printable(name).substr(0, 4 * longest_name), longest_name);
}

std::vector<std::string> lines_of(const std::string& words, std::size_t most) {
  std::vector<std::string> out;
  std::size_t at = 0;
  while (at < words.size()) {
    std::size_t end = words.find(' ', at);
    if (end == std::string::npos) end = words.size();
    const std::string word = text::plain(words.substr(at, end - at), most - 3);
    if (out.empty() || out.back().size() + 1 + word.size() > most) {
      out.push_back(word);
    } else {
      out.back() += " " + word;
    }
    at = end + 1;
  }
  return out;
}

Spot Stand::at(double forward, double outboard, double up) const {
  const double c = std::cos(slope);
  const double s = std::sin(slope);
  return foot + Spot{forward, side * (c * outboard + s * up), -s * outboard + c * up};
}

const Loading* worst_loading(const Assessment& a) {
  if (!a.worst_forces || *a.worst_forces >= a.forces.size()) return nullptr;
  return &a.forces[*a.worst_forces].loading;
}

Scene scene_of(const SheetContent& content, bool on_board) {
  return content.setup.on_board() ? board_scene(content, on_board) : plate_scene(content, on_board);
}

}  // namespace thole::scene
