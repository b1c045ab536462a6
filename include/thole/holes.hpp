#pragma once

/// Where the holes go: every pattern of a mount at its true size, with drills, edges and what to
/// look for behind. Geometry and tables only.

#include <optional>
#include <string>
#include <vector>

#include <thole/setup.hpp>

namespace thole {

/// One drill or tap by name and size.
struct Drill {
  std::string use;    ///< "tap drill", "clearance", "pilot", "tap", "counterbore"
  std::string name;   ///< "No. 7", "letter F", "5.1 mm", "1/4-20 tap"
  Length diameter{};  ///< 0: not known, its maker says
  Citation source;
  std::vector<int> only;  ///< numbers of the holes it is for; empty: all
};

struct Hole {
  int number = 0;            ///< from 1, as in the checks
  PlanPoint at;              ///< frame of its `HoleSet`
  bool marked_only = false;  ///< not drilled through this part
  Length diameter{};         ///< as drilled in this part; 0: not known
  std::string name;          ///< "port forward eye bolt"; may be empty
};

/// The least distance of a hole to an edge, a bend or another hole that the checks ask for.
struct EdgeNote {
  int number = 0;               ///< of the hole
  PlanPoint to;                 ///< foot of the perpendicular on the edge
  Length distance{};            ///< as drawn
  std::optional<Length> least;  ///< that the rules ask for; nothing: no rule in hand
  std::string words;            ///< "to the bend", "to the end of the board"

  [[nodiscard]] bool is_short() const;
};

/// A flat piece of metal, or a flat leg of an angle, that is made.
struct FlatPiece {
  std::string material;
  Length thickness{};
  int count = 1;
  std::string advice;  ///< grain or extrusion direction, corners
};

/// Part of a long piece that a template shows.
struct HoleWindow {
  PlanPoint low, high;
};

/// Holes that are marked out together on one face.
struct HoleSet {
  std::string name;             ///< "gunwale wall", "board, port end", "port ledge, upright leg"
  std::string into;             ///< "0.090 in wall of 6063-T5"
  std::string face;             ///< seen from: "from above", "from outside"
  std::string x_is;             ///< what +x points to: "forward"
  std::string y_is;             ///< what +y points to: "outboard"
  bool y_left = true;           ///< seen so, +y lies to the left of +x; else to its right
  Outline part;                 ///< outline of the piece or base, same frame; may be not convex
  std::vector<Outline> others;  ///< edges to line up with: flat, bend lines (two points), seat
  std::vector<std::string> others_are;  ///< what each of them is
  std::vector<Hole> holes;
  std::vector<Drill> drills;  ///< in the order of use
  std::vector<EdgeNote> edges;
  std::string datum;   ///< what the pattern is laid out from: "middle of the base, 1 in from ..."
  PlanPoint datum_at;  ///< where that is
  std::vector<std::string> behind;  ///< tick list before drilling; empty: nothing behind it
  std::vector<std::string> notes;   ///< "deburr both sides", "stop collar at 5 mm"
  std::string other_side;  ///< of a pattern that serves the other side of the boat too: how
  std::optional<HoleWindow> window;
  std::optional<FlatPiece> made;
  bool assumed = false;  ///< a place or size hangs on a guess
};

/// Source:   drills from the tables; edge distances from the checks that ask for them; behind the
///           hole: common practice, no source. Valid: what the setup describes; holes that are
///           there already (a cleat's) are marked, not drilled.
/// Accuracy: as the file has it.
[[nodiscard]] std::vector<HoleSet> hole_sets(const Setup& setup, const MaterialLibrary& library);

}  // namespace thole
