#include "page/handles.hpp"

#include <cmath>
#include <numbers>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/unit_text.hpp>

#include "page/text_edits.hpp"

namespace thole::page {
namespace {

using reading::Node;
using scene::Spot;
using scene::Stand;
using scene::View;
using Way = Axis::Way;

constexpr double turn_low = -std::numbers::pi;
constexpr double turn_high = std::numbers::pi;
constexpr double widest_reach = 1.5;  // of what stands off its base; judgement

std::string joined_list(const std::vector<std::string>& items) {
  std::string out;
  for (const std::string& i : items) out += (out.empty() ? "" : ", ") + i;
  return "[" + out + "]";
}

double azimuth(const Stand& stand, const Spot& about, const Spot& p) {
  return std::atan2(stand.side * (p.y - about.y), -(p.x - about.x));
}

void boom_handles(const ReadText& read, const Gear& g, const Stand& stand, const std::string& path,
                  const std::string& id_end, std::vector<Handle>& out) {
  const Downrigger& d = *g.downrigger;
  const std::string list = path + ".boom_angles";
  const Node* node = read.at(list);
  if (node == nullptr) return;
  std::vector<std::string> texts;
  for (const Node& n : node->items) texts.push_back(n.text);
  const Spot about = stand.at(0, 0, d.tip_height.value());
  const double reach = std::cos(d.position(0).raised.value()) * d.boom_length.value();
  const double up = std::sin(d.position(0).raised.value()) * d.boom_length.value();
  for (std::size_t i = 0; i < d.boom_angles.size(); ++i) {
    const double a = d.boom_angles[i].value();
    Handle h;
    h.id = path + ".boom." + std::to_string(i) + id_end;
    h.label = g.name + ": boom " + std::to_string(i + 1) + ", angle from astern";
    if (d.boom_angles.size() == 1) h.label = g.name + ": boom, angle from astern";
    h.at = stand.at(-std::cos(a) * reach, std::sin(a) * reach, d.tip_height.value() + up);
    h.about = about;
    Axis x;
    x.path = list;
    x.like = texts.empty() ? node->text : texts[i];
    x.value = a;
    x.low = turn_low;
    x.high = turn_high;
    x.angle = true;
    x.way = Way::turning;
    x.of = [stand, about](const Spot& p) { return azimuth(stand, about, p); };
    if (!texts.empty()) {
      x.written = [texts, i](const std::string& v) {
        std::vector<std::string> all = texts;
        all[i] = v;
        return joined_list(all);
      };
    }
    h.axes.push_back(std::move(x));
    out.push_back(std::move(h));
  }
}

void upright_handle(const ReadText& read, const std::string& path, const std::string& id,
                    const std::string& label, const Spot& at, double otherwise, double low,
                    std::vector<Handle>& out) {
  Handle h;
  h.id = id;
  h.view = View::stern;
  h.label = label;
  h.at = at;
  h.axes.push_back(length_axis(read, path, otherwise, low, widest_reach));
  h.axes.back().way = Way::upright;
  follows(h.axes.back(), at, {0, 0, 1});
  out.push_back(std::move(h));
}

// Where the tube leans, seen from above, and how far, where it is seen from astern.
void lean_handles(const ReadText& read, const Gear& g, const Stand& stand, const std::string& path,
                  const std::string& id_end, const Spot& rim, std::vector<Handle>& out) {
  const RodHolder& r = *g.rod_holder;
  const double lean = r.lean.value();
  const double toward = r.toward.value();
  const double along = std::min(0.3, 0.5 * r.rod_length.value());
  const Spot way{-std::sin(lean) * std::cos(toward), stand.side * std::sin(lean) * std::sin(toward),
                 std::cos(lean)};
  const auto turning = [&](const char* key, View view, double value, double low, double high) {
    Handle h;
    h.id = path + "." + key + id_end;
    h.view = view;
    h.at = rim + along * way;
    h.about = rim;
    Axis x;
    x.path = path + "." + key;
    x.like = read.text_at(x.path);
    x.value = value;
    x.low = low;
    x.high = high;
    x.angle = true;
    x.there = read.at(x.path) != nullptr;
    x.way = Way::turning;
    h.axes.push_back(std::move(x));
    return h;
  };
  if (std::sin(lean) > 0.1) {
    Handle h = turning("toward", View::plan, toward, turn_low, turn_high);
    h.label = g.name + ": way the tube leans, from astern";
    h.axes[0].of = [stand, rim](const Spot& p) { return azimuth(stand, rim, p); };
    out.push_back(std::move(h));
  }
  const double across = std::sin(toward);
  if (std::abs(across) > 0.99) {
    Handle h = turning("lean", View::stern, lean, 0, 0.5 * std::numbers::pi);
    h.label = g.name + ": lean of the tube, from upright";
    const double side = stand.side * (across > 0 ? 1 : -1);
    h.axes[0].of = [side, rim](const Spot& p) {
      return std::atan2(side * (p.y - rim.y), p.z - rim.z);
    };
    out.push_back(std::move(h));
  }
}

void rod_handles(const ReadText& read, const Gear& g, const Stand& stand, const std::string& path,
                 const std::string& id_end, std::vector<Handle>& out) {
  const RodHolder& r = *g.rod_holder;
  const Spot rim = stand.at(r.forward.value(), r.outboard.value(), r.height.value());
  Handle h;
  h.id = path + ".rim" + id_end;
  h.label = g.name + ": rim of the tube, outboard and forward";
  h.at = rim;
  h.axes.push_back(
      length_axis(read, path + ".outboard", r.outboard.value(), -widest_reach, widest_reach));
  follows(h.axes.back(), rim, {0, stand.side / std::cos(stand.slope), 0});
  h.axes.push_back(
      length_axis(read, path + ".forward", r.forward.value(), -widest_reach, widest_reach));
  h.axes.back().way = Way::upright;
  follows(h.axes.back(), rim, {1, 0, 0});
  out.push_back(std::move(h));
  upright_handle(read, path + ".height", path + ".height" + id_end, g.name + ": height of the rim",
                 rim, r.height.value(), 0.001, out);
  lean_handles(read, g, stand, path, id_end, rim, out);
}

}  // namespace

Axis length_axis(const ReadText& read, const std::string& path, double otherwise, double low,
                 double high) {
  Axis out;
  out.path = path;
  out.like = read.text_at(path);
  out.value = otherwise;
  out.there = read.at(path) != nullptr;
  out.low = low;
  out.high = high;
  try {
    if (out.there) out.value = parse<Length>(out.like).value();
  } catch (const UnitError&) {
    out.like.clear();
  }
  // What stands in the file is never out of reach.
  out.low = std::min(low, out.value);
  out.high = std::max(high, out.value);
  return out;
}

void follows(Axis& axis, const Spot& at, const Spot& way) {
  axis.of = [value = axis.value, at, way](const Spot& p) {
    return value + way.x * (p.x - at.x) + way.y * (p.y - at.y) + way.z * (p.z - at.z);
  };
}

void add_gear_handles(const ReadText& read, const Gear& g, const Stand& stand,
                      const std::string& path, const std::string& id_end,
                      std::vector<Handle>& out) {
  if (g.rod_holder) rod_handles(read, g, stand, path, id_end, out);
  if (!g.downrigger) return;
  boom_handles(read, g, stand, path, id_end, out);
  const double height = g.downrigger->tip_height.value();
  upright_handle(read, path + ".tip_height", path + ".tip_height" + id_end,
                 g.name + ": height of the boom tip", stand.at(0, 0, height), height, -0.5, out);
}

std::vector<std::size_t> items_of(const ReadText& read, const std::string& list, bool sides,
                                  std::size_t count) {
  std::vector<std::size_t> out;
  const Node* n = read.at(list);
  if (n == nullptr) return out;
  for (std::size_t i = 0; i < n->items.size(); ++i) {
    const std::string item = list + "." + std::to_string(i);
    const bool both = sides && (read.text_at(item + ".side") == "both" ||
                                read.text_at(item + ".on_board.side") == "both");
    out.insert(out.end(), both ? 2 : 1, i);
  }
  if (out.size() != count) out.clear();
  return out;
}

}  // namespace thole::page
