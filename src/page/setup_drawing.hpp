#pragma once

/// The live drawing: plan and stern view of a setup, without any assessment, and the handles on
/// what a person moves. Units of the pictures are those of their viewBox.

#include <array>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "page/read_text.hpp"
#include "report/scene_render.hpp"

namespace thole::page {

/// One value that a handle sets.
struct Axis {
  enum class Way { across, upright, turning, outward };  ///< on the picture; outward: from a middle
  std::string path;
  std::string like;  ///< the value as written, for its unit
  double value = 0;  ///< SI
  double low = 0;    ///< SI
  double high = 0;
  bool angle = false;
  bool there = true;  ///< in the file; else it counts as `value`
  Way way = Way::across;
  std::function<double(const scene::Spot&)> of;            ///< the value for a place of the handle
  std::function<std::string(const std::string&)> written;  ///< whole value of a list; none: plain
};

struct Handle {
  std::string id;
  scene::View view = scene::View::plan;
  bool detail = false;  ///< on the second panel, where there are two
  std::string label;
  scene::Spot at;
  scene::Spot about;  ///< of one that turns
  std::vector<Axis> axes;
};

struct Drawn {
  std::unique_ptr<ReadText> read;
  std::array<scene::Rendered, 2> views;  ///< plan, stern
  std::vector<Handle> handles;
};

/// `read` must hold a setup. `before`: in the scale of another drawing.
[[nodiscard]] std::shared_ptr<const Drawn> drawn(std::unique_ptr<ReadText> read,
                                                 const MaterialLibrary& library,
                                                 const Drawn* before = nullptr);

/// The same on pictures that are drawn already, such as those with loads: handles lie on these.
[[nodiscard]] std::shared_ptr<const Drawn> on_pictures(std::unique_ptr<ReadText> read,
                                                       std::array<scene::Rendered, 2> views);

/// The pictures of one view of any scene, as on the sheet: with loads where it has them.
[[nodiscard]] scene::Rendered picture_of(const scene::Scene& scene, scene::View view);
[[nodiscard]] std::string_view word_for(scene::View view);

/// Where a handle lies on its picture.
[[nodiscard]] svg::Point place_of(const Drawn& drawn, const Handle& handle);
[[nodiscard]] svg::Point place_of(const Drawn& drawn, const Handle& handle, const scene::Spot& at);
/// What a place on the picture means for a handle, as edits; none where nothing changes.
[[nodiscard]] std::vector<Edit> moved(const Drawn& drawn, const Handle& handle, double x, double y);
/// Some steps along an axis, more than 0: more of its value. `key`, where not empty: left, right,
/// up or down on the picture, and of a turn right and up are more.
[[nodiscard]] std::vector<Edit> stepped(const Drawn& drawn, const Handle& handle, long steps,
                                        std::string_view key);
/// The value of an axis in words, its least and its most.
[[nodiscard]] std::string words_of(const Drawn& drawn, const Axis& axis, double value);
[[nodiscard]] std::string step_of(const Drawn& drawn, const Axis& axis);

}  // namespace thole::page
