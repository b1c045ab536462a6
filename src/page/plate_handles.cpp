// Handles of a base plate or bracket, in the frame of its drawing (src/report/scene_plate.cpp).

#include <algorithm>
#include <cmath>

#include <thole/setup.hpp>
#include <thole/unit_text.hpp>

#include "page/handles.hpp"

namespace thole::page {
namespace {

using scene::Spot;
using scene::Stand;
using scene::View;
using Way = Axis::Way;

constexpr double least_size = 0.005;
constexpr double largest = 0.6;  // of a base or pattern; judgement

class PlateHandles {
 public:
  explicit PlateHandles(const ReadText& read)
      : read_(read), s_(*read.setup), p_(s_.plate()), turned_(angle_at("mount.base.turned")) {
    base_.side = s_.fit && !s_.fit->starboard ? -1 : 1;
    base_.slope = p_.host.slope.value();
    top_ = p_.fastening.packing.value() +
           (p_.base.thickness.value() > 0 ? p_.base.thickness.value() : 0.01);
  }

  std::vector<Handle> made() {
    base();
    holes();
    if (p_.bracket) {
      spot("mount.gear_foot", "foot of the gear", p_.bracket->gear_at);
      if (p_.bracket->fitting) {
        spot("mount.fitting", p_.bracket->fitting->name, p_.bracket->fitting->at);
      }
    } else {
      place();
    }
    const auto gear = items_of(read_, "gear", false, s_.gear.size());
    Stand stand = base_;
    if (p_.bracket) stand.foot = at(p_.bracket->gear_at, 0);
    for (std::size_t i = 0; i < gear.size(); ++i) {
      add_gear_handles(read_, s_.gear[i], stand, "gear." + std::to_string(gear[i]), "", out_);
    }
    return std::move(out_);
  }

 private:
  [[nodiscard]] double angle_at(const std::string& path) const {
    try {
      return read_.at(path) == nullptr ? 0 : parse<Angle>(read_.text_at(path)).value();
    } catch (const UnitError&) {
      return 0;
    }
  }
  [[nodiscard]] Spot at(const PlanPoint& p, double up) const {
    return base_.at(p.x.value(), p.y.value(), up);
  }

  // Directions in the drawing that are one metre along a key of the file: along the boat and across
  // it as the base lies before it is turned.
  [[nodiscard]] Spot along(bool athwart) const {
    const double c = std::cos(turned_);
    const double s = std::sin(turned_);
    const double x = athwart ? -s : c;
    const double y = athwart ? c : s;
    return {x, base_.side * y / std::cos(base_.slope), 0};
  }
  [[nodiscard]] Axis axis(const std::string& path, double otherwise, double low, double high,
                          const Spot& from, bool athwart, double times = 1) const {
    Axis out = length_axis(read_, path, otherwise, low, high);
    out.way = athwart == (std::abs(std::cos(turned_)) > 0.7) ? Way::across : Way::upright;
    follows(out, from, times * along(athwart));
    return out;
  }
  Handle& add(const std::string& id, const std::string& label, const Spot& spot) {
    Handle h;
    h.id = id;
    h.label = label;
    h.at = spot;
    h.detail = true;
    out_.push_back(std::move(h));
    return out_.back();
  }

  // A size grows by twice what its corner moves. `path`: with keys fore_aft and athwart.
  void sizes(const std::string& path, const std::string& label, const Spot& corner) {
    Handle& h = add(path, label, corner);
    for (const bool athwart : {true, false}) {
      const std::string key = path + (athwart ? ".athwart" : ".fore_aft");
      if (read_.at(key) == nullptr) continue;
      h.axes.push_back(axis(key, 0, least_size, largest, corner, athwart, 2));
    }
    if (h.axes.empty()) out_.pop_back();
  }

  void radius(const std::string& path, const std::string& label, const Spot& middle,
              const Spot& rim) {
    Handle& h = add(path, label, rim);
    h.about = middle;
    Axis a = length_axis(read_, path, 0, least_size, largest);
    a.way = Way::outward;
    const double before = std::hypot(rim.x - middle.x, rim.y - middle.y);
    a.of = [value = a.value, middle, before](const Spot& p) {
      return before > 0 ? value * std::hypot(p.x - middle.x, p.y - middle.y) / before : value;
    };
    h.axes.push_back(std::move(a));
  }

  [[nodiscard]] PlanPoint middle_of(const std::vector<PlanPoint>& points) const {
    PlanPoint out;
    const auto n = double(points.size());
    for (const PlanPoint& p : points) out = {out.x + p.x / n, out.y + p.y / n};
    return out;
  }

  void base() {
    const Outline& o = p_.base.outline;
    if (o.size() < 3) return;
    if (read_.at("mount.base.diameter") != nullptr) {
      radius("mount.base.diameter", "base: diameter", at(middle_of(o), top_),
             at(o[o.size() / 8], top_));
    } else if (read_.at("mount.base.outline") != nullptr) {
      points("mount.base.outline", "base: corner", corners());
    } else {
      // Corners begin aft and inboard; the forward inboard one is free of the pull and the gear.
      sizes("mount.base", "base: size across and along the boat", at(o[2], top_));
    }
  }

  void holes() {
    const std::string path = "mount.fastening.holes";
    const std::vector<PlanPoint>& h = p_.fastening.holes;
    if (h.empty()) return;
    const PlanPoint middle = middle_of(h);
    if (read_.at(path + ".circle") != nullptr) {
      radius(path + ".circle", "holes: diameter of their circle", at(middle, top_), at(h[0], top_));
    } else if (read_.at(path + ".points") != nullptr) {
      points(path + ".points", "hole", h);
    } else {
      sizes(path, "holes: spacing across and along the boat", at(h.size() > 2 ? h[2] : h[1], top_));
    }
  }

  // A list of [forward, outboard], `where` they lie on the drawing.
  void points(const std::string& path, const std::string& label,
              const std::vector<PlanPoint>& where) {
    const reading::Node* list = read_.at(path);
    if (list->items.size() != where.size()) return;
    for (std::size_t i = 0; i < where.size(); ++i) {
      const std::string item = path + "." + std::to_string(i);
      const Spot spot = at(where[i], top_);
      Handle& h = add(item, label + " " + std::to_string(i + 1), spot);
      h.axes.push_back(axis(item + ".1", 0, -largest, largest, spot, true));
      h.axes.push_back(axis(item + ".0", 0, -largest, largest, spot, false));
    }
  }

  // In the order of the file, which the reader turns about where it runs clockwise.
  [[nodiscard]] std::vector<PlanPoint> corners() const {
    std::vector<PlanPoint> out = p_.base.outline;
    const std::string first = "mount.base.outline.0.";
    const std::string second = "mount.base.outline.1.";
    const auto step = [&](const char* key) {
      return length_axis(read_, second + key, 0, 0, 0).value -
             length_axis(read_, first + key, 0, 0, 0).value;
    };
    const double x = std::cos(turned_) * step("0") - std::sin(turned_) * step("1");
    const double y = std::sin(turned_) * step("0") + std::cos(turned_) * step("1");
    const bool same = std::abs((out[1].x - out[0].x).value() - x) < 1e-9 &&
                      std::abs((out[1].y - out[0].y).value() - y) < 1e-9;
    if (!same) std::reverse(out.begin(), out.end());
    return out;
  }

  // A part with keys forward and outboard of its own.
  void spot(const std::string& path, const std::string& name, const PlanPoint& where) {
    const Spot from = at(where, top_);
    Handle& h = add(path + ".place", name + ": outboard and forward", from);
    h.axes.push_back(axis(path + ".outboard", 0, -largest, largest, from, true));
    h.axes.push_back(axis(path + ".forward", 0, -largest, largest, from, false));
  }

  // Where the base sits on a flat of known width. It stays in the middle of the picture, the flat
  // moves.
  void place() {
    if (!p_.host.is_metal() || p_.host.form == WallForm::sheet) return;
    const double flat = p_.host.flat.value();
    if (!(flat > 0)) return;
    const Spot from = base_.at(0, 0, top_);
    Handle& h = add("mount.base.from_inboard_edge", "base: middle from the inboard edge", from);
    Axis a = length_axis(read_, "mount.base.from_inboard_edge", p_.base.from_inboard_edge.value(),
                         0, flat);
    follows(a, from, {0, base_.side / std::cos(base_.slope), 0});
    h.axes.push_back(std::move(a));
  }

  const ReadText& read_;
  const Setup& s_;
  const GunwalePlate& p_;
  double turned_;
  Stand base_;
  double top_ = 0;
  std::vector<Handle> out_;
};

}  // namespace

std::vector<Handle> plate_handles(const ReadText& read) { return PlateHandles(read).made(); }

}  // namespace thole::page
