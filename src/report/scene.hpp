#pragma once

/// What the drawings to scale show: solids in one frame of the boat, with labels, dimensions, the
/// pull and the worst item. Plain metres: x forward, y to starboard, z up. Private to the reports.

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <thole/sheet.hpp>

#include "report/html.hpp"

namespace thole::scene {

enum class View { plan, side, stern };

/// Sets of views and of panels, as bits.
using Set = unsigned;
[[nodiscard]] constexpr Set only(View v) { return 1U << unsigned(v); }
inline constexpr Set in_plan = only(View::plan);
inline constexpr Set in_side = only(View::side);
inline constexpr Set in_stern = only(View::stern);
inline constexpr Set everywhere = in_plan | in_side | in_stern;
/// A gear and its mount may differ too much in size for one scale.
inline constexpr Set whole = 1;     ///< with booms, rods and the boat
inline constexpr Set detail = 2;    ///< the base alone
inline constexpr Set overview = 4;  ///< only in the first of two panels
inline constexpr Set cut_away = 8;  ///< only in the second of two panels
inline constexpr Set both_panels = whole | detail;

struct Spot {
  double x = 0;
  double y = 0;
  double z = 0;
};
[[nodiscard]] inline Spot operator+(const Spot& a, const Spot& b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
[[nodiscard]] inline Spot operator*(double s, const Spot& a) { return {s * a.x, s * a.y, s * a.z}; }

enum class Layer { boat, mount, gear, marks };

struct Solid {
  enum class Form {
    hull,     ///< its silhouette: the convex hull of its corners as they are seen
    outline,  ///< a polygon, corners in order
    line,     ///< a polyline
  };
  std::string look;  ///< class of the style sheet
  Layer layer = Layer::mount;
  std::vector<Spot> corners;
  Form form = Form::hull;
  Set views = everywhere;
  Set panels = both_panels;
  bool frames = true;  ///< the picture is wide enough to show all of it
};

/// Words beside a point, with a leader to it.
struct Label {
  std::vector<std::string> lines;
  Spot at;
  std::string look = "text";
  Set views = everywhere;
  Set panels = both_panels;
  std::optional<Spot> to{};  ///< any point from `at` to here will do
};

/// From one point to another along one axis of the picture.
struct Dimension {
  Spot from;
  Spot to;
  std::string text;
  View view = View::plan;
  bool upright = false;
  Set panels = both_panels;
};

struct Sign {
  html::Mark mark = html::Mark::tick;
  Spot at;
  Set views = in_plan;
};

/// The pull of the worst case where it acts.
struct Pull {
  Spot at;
  Spot way;  ///< of length one
  std::string value;
  std::string title;  ///< of the case
  /// Where else the line may go in that case: in plan, radians from astern toward starboard.
  std::vector<std::pair<double, double>> sectors{};
};

/// The worst item: a ring where its place is known, else words alone.
struct Worst {
  std::optional<Spot> at;
  std::vector<Spot> area;  ///< the whole base: its outline in plan
  std::string words;
  std::string in_short;  ///< for views after the first
};

struct Note {
  std::string words;  ///< of a caption
  Set views = everywhere;
};

struct Scene {
  std::vector<Solid> solids;
  std::vector<Label> labels;
  std::vector<Dimension> dimensions;
  std::vector<Sign> signs;
  std::optional<Pull> pull;
  std::optional<Worst> worst;
  std::optional<double> water;  ///< its level
  bool base_alone = false;      ///< the base may be drawn again at a larger scale
  std::string what;             ///< the mount in words, for readers aloud
  std::string load;             ///< the worst case in words
  std::vector<Note> notes;

  void note(std::string words, Set views) { notes.push_back({std::move(words), views}); }
};

/// The scene of a setup: boards, or plates and brackets. `on_board`: with the hull down to its
/// water line and what else is on board.
[[nodiscard]] Scene scene_of(const SheetContent& content, bool on_board = true);
[[nodiscard]] Scene board_scene(const SheetContent& content, bool on_board);
[[nodiscard]] Scene plate_scene(const SheetContent& content, bool on_board);

// ---- pieces -------------------------------------------------------------------------------------

/// Box between two corners.
[[nodiscard]] std::vector<Spot> box(const Spot& low, const Spot& high);
/// A bar of some width between two points, square where it is seen end-on.
[[nodiscard]] std::vector<Spot> bar(const Spot& from, const Spot& to, double width);
/// An upright cylinder.
[[nodiscard]] std::vector<Spot> drum(const Spot& foot, double height, double radius);
/// A line that says "broken off here", from one point to the other; teeth along `tooth`.
[[nodiscard]] Solid break_line(const Spot& from, const Spot& to, const Spot& tooth, Set views);
/// Part of a ring in plan, azimuths in radians from astern toward starboard.
[[nodiscard]] std::vector<Spot> fan(const Spot& middle, double inner, double outer, double from,
                                    double to);
/// A name of any origin, short enough for a drawing.
[[nodiscard]] std::string brief(const std::string& name);
/// Lines of at most so many bytes, broken between words; longer words are cut.
[[nodiscard]] std::vector<std::string> lines_of(const std::string& words, std::size_t most = 26);

// ---- gear, loads, boat --------------------------------------------------------------------------

/// Where a gear stands.
struct Stand {
  Spot foot;
  double side = 1;   ///< outboard: 1 starboard, -1 port
  double slope = 0;  ///< of what it stands on, falling toward outboard
  /// From forward, outboard, up, as measured on what it stands on.
  [[nodiscard]] Spot at(double forward, double outboard, double up) const;
};
/// Every gear with its booms, rod or point; sectors; the pull where it acts. `stands` in the order
/// of the setup's gear.
void add_gear(Scene& scene, const SheetContent& content, const std::vector<Stand>& stands);
/// Whether a boom's own pulls hold there: a tick only where the whole setup holds.
[[nodiscard]] html::Mark boom_mark(const Assessment& assessment, const BoomRow& row);
/// The item that the worst check names, without its place.
[[nodiscard]] std::optional<Worst> worst_of(const SheetContent& content);
/// What the setup names round the mount, in plan. `transom`: x of its inner face; `middle`: y of
/// the middle line of the boat.
void add_things(Scene& scene, const SheetContent& content, double transom, double middle);
/// The load of the worst case.
[[nodiscard]] const Loading* worst_loading(const Assessment& assessment);

}  // namespace thole::scene
