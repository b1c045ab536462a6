// Handles of a cross-board, in the frame of its drawing (src/report/scene_board.cpp).

#include <cmath>

#include <thole/setup.hpp>

#include "page/handles.hpp"

namespace thole::page {
namespace {

using scene::Spot;
using scene::Stand;
using scene::View;
using Way = Axis::Way;

constexpr double widest_overhang = 1.0;  // judgement
constexpr double forward_reach = 0.6;    // of the board's middle line; judgement

class BoardHandles {
 public:
  explicit BoardHandles(const ReadText& read)
      : read_(read),
        s_(*read.setup),
        b_(s_.board()),
        half_(0.5 * b_.clear_width.value()),
        thick_(b_.board.thickness.value()) {}

  std::vector<Handle> made() {
    ends();
    const auto gear = items_of(read_, "gear", true, s_.gear.size());
    for (std::size_t i = 0; i < gear.size(); ++i) {
      const Gear& g = s_.gear[i];
      const std::string path = "gear." + std::to_string(gear[i]);
      place(g.place, path + ".on_board", path, g.name + ": place on the board", false);
      add_gear_handles(read_, g, stand_of(g), path, end_of(g.place), out_);
    }
    const auto holds = items_of(read_, "mount.hold_downs", true, b_.hold_downs.size());
    for (std::size_t i = 0; i < holds.size(); ++i) {
      const std::string path = "mount.hold_downs." + std::to_string(holds[i]);
      place(b_.hold_downs[i].place, path, path, b_.hold_downs[i].name + ": place", false);
    }
    const auto legs = items_of(read_, "mount.legs", true, b_.legs.size());
    for (std::size_t i = 0; i < legs.size(); ++i) {
      const std::string path = "mount.legs." + std::to_string(legs[i]);
      place(b_.legs[i].place, path, path, b_.legs[i].name + ": place", b_.legs[i].beside);
    }
    for (Handle& h : out_) lift(h);
    return std::move(out_);
  }

 private:
  static double sign_of(Side s) { return s == Side::starboard ? 1 : -1; }
  static std::string end_of(const BoardPlace& p) {
    return p.side == Side::starboard ? ".starboard" : ".port";
  }
  [[nodiscard]] double port_end() const { return -half_ - b_.port_overhang.value(); }
  [[nodiscard]] double starboard_end() const { return port_end() + b_.board.length.value(); }
  [[nodiscard]] Spot spot(const BoardPlace& p) const {
    return {p.forward.value(), sign_of(p.side) * (half_ + p.outboard.value()), thick_};
  }
  [[nodiscard]] Stand stand_of(const Gear& g) const {
    return {spot(g.place), sign_of(g.place.side), 0};
  }

  // Laid in the middle both ends move alike; else the one end is sawn, the other slides the board.
  void ends() {
    const std::string overhang = "mount.port_overhang";
    const bool placed = read_.at(overhang) != nullptr;
    const double least = b_.clear_width.value();
    Handle h;
    h.id = "mount.board.length";
    h.label = "board: length";
    h.at = {0, starboard_end(), thick_};
    h.axes.push_back(length_axis(read_, "mount.board.length", b_.board.length.value(), least,
                                 least + 2 * widest_overhang));
    follows(h.axes.back(), h.at, {0, placed ? 1.0 : 2.0, 0});
    out_.push_back(h);
    if (!placed) return;
    h.id = overhang;
    h.label = "board: overhang to port";
    h.at = {0, port_end(), thick_};
    h.axes[0] =
        length_axis(read_, overhang, b_.port_overhang.value(), 0, b_.board.length.value() - least);
    follows(h.axes[0], h.at, {0, -1, 0});
    out_.push_back(h);
  }

  void place(const BoardPlace& p, const std::string& path, const std::string& id,
             const std::string& label, bool only_across) {
    Handle h;
    h.id = id + ".place" + end_of(p);
    h.label = label + ", outboard of the ledge's edge" + (only_across ? "" : " and forward");
    h.at = spot(p);
    const double beyond = p.side == Side::starboard ? starboard_end() - half_ : -port_end() - half_;
    h.axes.push_back(length_axis(read_, path + ".outboard", p.outboard.value(), -half_, beyond));
    follows(h.axes.back(), h.at, {0, sign_of(p.side), 0});
    if (!only_across) {
      h.axes.push_back(
          length_axis(read_, path + ".forward", p.forward.value(), -forward_reach, forward_reach));
      h.axes.back().way = Way::upright;
      follows(h.axes.back(), h.at, {1, 0, 0});
    }
    out_.push_back(std::move(h));
  }

  // As the drawing does where the seats slope.
  void lift(Handle& h) const {
    if (h.view == View::plan) return;
    const double rise = half_ > 0 ? 0.5 * b_.starboard_higher.value() / half_ : 0;
    const double fore = std::tan(b_.bow_up.value());
    if (rise == 0 && fore == 0) return;
    const double up = rise * h.at.y + fore * h.at.x;
    for (Axis& a : h.axes) {
      a.of = [of = a.of, up](const Spot& p) { return of(p + Spot{0, 0, -up}); };
    }
    h.at.z += up;
    h.about.z += up;
  }

  const ReadText& read_;
  const Setup& s_;
  const CrossBoard& b_;
  double half_, thick_;
  std::vector<Handle> out_;
};

}  // namespace

std::vector<Handle> board_handles(const ReadText& read) { return BoardHandles(read).made(); }

}  // namespace thole::page
