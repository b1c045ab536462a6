#pragma once

/// The smallest store-size plank of a cross-board that holds, and what stops the next smaller
/// (target thole::reading, since it needs the tables).
///
/// A search by trying: every store size, flat and on edge, of every wood asked for, with every kind
/// of legs is put into a copy of the setup and assessed. Ledges, hold-downs and gear stay where the
/// setup has them. Nothing is shared between two trials.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/material.hpp>
#include <thole/setup.hpp>

namespace thole {

enum class LegPlan {
  none,
  as_drawn,    ///< those of the setup
  below_gear,  ///< one below each gear under the aft edge, instead of those of the setup
};
/// "no legs", "legs as drawn", "a leg below each gear".
[[nodiscard]] std::string_view word_for(LegPlan plan);

struct SizeQuestion {
  /// Names in the tables, or "not known" for the lowest softwood. None: the wood of the setup.
  std::vector<std::string> woods;
  bool flat = true;
  bool on_edge = true;
  /// Where the sizes are sold, any part of the words of the table ("Nordic"), or "all" for every
  /// inch or metric size, as the setup has its units. Empty: where the size of the board as drawn
  /// is sold, or all where it is no store size of one market.
  std::string market;
  /// None: no legs, legs as drawn where there are any, and a leg below each gear where its length
  /// is known.
  std::vector<LegPlan> legs;
  /// Of legs below the gear, top to foot. Nothing: that of the longest leg of the setup.
  std::optional<Length> leg_length;
  Angle step = degrees(5);  ///< grid of directions, as in AssessOptions
};

/// A check of one candidate.
struct SizeCheck {
  std::string mode;       ///< id in the catalogue
  std::string gives_way;  ///< "plank bends and breaks"
  std::string where;
  std::string case_title;
  double factor = 0;
  double needed = 0;
  std::string advice;
};

struct SizeCandidate {
  std::string size;  ///< its name in the tables
  std::string wood;
  bool on_edge = false;
  LegPlan plan = LegPlan::none;
  Length width{};         ///< fore and aft, as laid
  Length thickness{};     ///< up and down, as laid
  std::vector<Leg> legs;  ///< under this board
  std::string why_not;    ///< not empty: it does not fit, or cannot be calculated; no verdict then
  Verdict verdict = Verdict::no_verdict;
  std::vector<std::string> conditions;  ///< of `holds if`
  std::vector<std::string> reasons;     ///< of `no verdict`
  std::string remedy;                   ///< of `no verdict`, where there is one
  std::optional<SizeCheck> worst;       ///< nearest to giving way
  std::vector<SizeCheck> failed;        ///< worst first
  std::optional<Force> hold_limit;      ///< least of all gears

  [[nodiscard]] bool fits() const { return why_not.empty(); }
  /// `holds` or `holds if`.
  [[nodiscard]] bool holds() const;
  [[nodiscard]] Area section() const { return width * thickness; }
};

struct SizeAnswer {
  /// By area of the section, then fewer legs, flat before on edge, woods in the order asked.
  std::vector<SizeCandidate> candidates;
  std::optional<std::size_t> smallest;  ///< first that holds
  /// The largest of less section with the same wood and the same legs; of those that fit, if any.
  std::optional<std::size_t> next_smaller;
  /// The next narrower (on edge: lower) of the same thickness, wood, lay and legs.
  std::optional<std::size_t> one_size_down;
  std::optional<std::size_t> largest;  ///< that fits
  /// Where nothing holds: checks that fail in every candidate with a verdict, each as it is in the
  /// candidate that comes nearest to passing it. No plank of the stock cures them.
  std::vector<SizeCheck> stops_every;
  /// The first candidate that fails nothing but `stops_every`.
  std::optional<std::size_t> but_for;
  std::string market;                ///< of the stock, in words
  std::string leg_size;              ///< of legs below the gear, its name in the tables
  std::vector<std::string> remarks;  ///< what was not tried and why

  /// The first that holds with these legs.
  [[nodiscard]] std::optional<std::size_t> smallest_with(LegPlan plan) const;
};

/// Finds the smallest plank that holds.
///
/// Source:   `assess` of each candidate, `nominal_wood` for its strength.
/// Valid:    planks, also with a strip below (then flat only, the strip as it is). A Southern Pine
///           grade is taken at the values of each width. A leg below a gear stands flush with the
///           aft edge, inboard of the ledge and clear of nuts, is of store size (2x4 or the like)
///           and of the board's wood, upright, its foot held; level ground under it is assumed.
///           Legs beside the board move with its edge.
/// Accuracy: of the assessment; the larger of two planks is not always the stronger mount (a
/// stiffer
///           one loads its hold-downs otherwise), so everything is tried and nothing bisected.
/// Throws DomainError for a gunwale plate, for a board of metal unless woods are named, and where
/// nothing is left to try; UnknownName, with the nearest spelling, for a wood or a market.
[[nodiscard]] SizeAnswer size_board(const Setup& setup, const SizeQuestion& question,
                                    const MaterialLibrary& library);

}  // namespace thole
