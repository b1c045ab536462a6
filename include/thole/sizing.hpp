#pragma once

/// The smallest and the lightest mount of store sizes that holds, what stops the next smaller one,
/// and what more weight buys (the search: target thole::reading, since it needs the tables; the
/// reports: thole::core).
///
/// A space is a list of quantities, each free among its options or fixed as drawn; a design takes
/// one option of each. Every design is looked at. One that does not fit, or that a single load of
/// its own deciding cases breaks, is ruled out by that alone; what is left is assessed in full, so
/// that the answer is that of an assessment of every design.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/material.hpp>
#include <thole/progress.hpp>
#include <thole/setup.hpp>

namespace thole {

enum class LegPlan {
  none,
  as_drawn,    ///< those of the setup
  below_gear,  ///< one below each gear under the aft edge, instead of those of the setup
};
/// "no legs", "legs as drawn", "a leg below each gear".
[[nodiscard]] std::string_view word_for(LegPlan plan);

/// A quantity that may be free: its word, what it is, and which mounts have it.
struct SizeWord {
  std::string_view word;
  std::string_view what;
  bool on_board = false;
  bool on_plate = false;
};
/// THE list of quantities.
[[nodiscard]] const std::vector<SizeWord>& size_words();

struct SizeQuestion {
  /// Words of `size_words()`. None: what its owner is most likely to choose, by kind of mount.
  std::vector<std::string> free;
  /// Names in the tables, or "not known" for the lowest softwood; makes `wood` free. None: the wood
  /// of the setup, or where `wood` is free all of its rules.
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
  unsigned threads = 2;     ///< results do not depend on it
  std::size_t most_designs = 2'000'000;
  Watch watch;
};

/// One quantity of the space.
struct SizeQuantity {
  std::string word;
  std::string label;                 ///< "plank", "thread of the hold-downs"
  std::vector<std::string> options;  ///< in words; one: fixed
  std::string as_drawn;              ///< in words, where the setup has it
};

/// A check of one design.
struct SizeCheck {
  std::string mode;       ///< id in the catalogue
  std::string gives_way;  ///< "plank bends and breaks"
  std::string where;
  std::string case_title;
  double factor = 0;
  double needed = 0;
  std::string advice;
};

/// One design, assessed in full.
struct SizeDesign {
  std::vector<std::size_t> choice;  ///< option of each quantity of the space
  Mass mass{};                      ///< of what is built, see `SizeAnswer::mass_of`
  Area section{};                   ///< see `SizeAnswer::section_of`
  std::vector<Leg> legs;            ///< below the gear: where they stand
  std::string why_not;  ///< not empty: it does not fit, or cannot be calculated; no verdict then
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
};

/// What the winner becomes with one option changed.
struct SizeStep {
  std::size_t quantity = 0;  ///< of the space
  /// The next lighter (or smaller) that this quantity alone gives; nothing: there is none. Where
  /// the quantity changes neither mass nor section, the option before.
  std::optional<SizeDesign> down;
};

struct SizeCount {
  std::string what;  ///< "does not fit", "the plank bends and breaks"
  std::size_t designs = 0;
};

struct SizeAnswer {
  std::vector<SizeQuantity> space;
  std::vector<std::string> fixed;    ///< what is not free, in words
  std::vector<std::string> remarks;  ///< what was not tried and why, what was taken for granted
  std::string section_of;            ///< "the section of the board", "what is drilled away"
  std::string mass_of;               ///< what is weighed
  std::vector<std::string> not_weighed;
  std::string market;    ///< of the stock, in words
  std::string leg_size;  ///< of legs below the gear, its name in the tables

  std::size_t designs = 0;        ///< the product of the options
  std::size_t do_not_fit = 0;     ///< no assessment possible: edges, distances, sizes
  std::size_t ruled_out = 0;      ///< by one load, a distance or a refusal
  std::size_t outweighed = 0;     ///< no lighter and no stronger than one that holds
  std::size_t assessed = 0;       ///< in full
  std::vector<SizeCount> counts;  ///< most first: by what they were ruled out

  std::optional<SizeDesign> smallest;  ///< of the least section, of those the lightest
  std::optional<SizeDesign> lightest;  ///< of those the one of the greatest hold limit
  /// One for each free quantity, from the lightest and, where it is another, from the smallest.
  std::vector<SizeStep> below_lightest;
  std::vector<SizeStep> below_smallest;
  /// Each heavier than the one before with a hold limit greater by more than 2 %. Where nothing
  /// holds: of all designs with a hold limit.
  std::vector<SizeDesign> curve;
  bool curve_holds = true;
  /// Where nothing holds: the one with the greatest hold limit, else the one that fits and is
  /// heaviest.
  std::optional<SizeDesign> nearest;
  bool stopped = false;  ///< by the watch: what is there is the best so far
};

/// Finds the smallest and the lightest mount that holds.
///
/// Source:   `assess` of what cannot be ruled out, `nominal_wood` for the strength of planks.
/// Valid:    boards of planks, also with a strip below (flat only, the strip as it is), of tubes
///           and channels; gunwale plates and brackets. What is changed is bought as its option
///           says; all else stays as the setup has it. A Southern Pine grade is taken at the values
///           of each width. A leg below a gear stands flush with the aft edge, inboard of the ledge
///           and clear of nuts, is of store size (2x4 or the like) and of the board's wood,
///           upright, its foot held; level ground under it is assumed. Legs beside the board move
///           with its edge.
/// Accuracy: of the assessment, about 1 %: a load rules a design out where it breaks it by more
///           than that. Masses from the densities of the tables, plain shapes; they compare
///           designs.
/// Throws DomainError where a quantity that was asked for does not exist on this mount, for a
/// length that is not known, for more designs than `most_designs`, and where nothing is left to
/// try; UnknownName, with the nearest spelling, for a word, a wood or a market.
[[nodiscard]] SizeAnswer size_mount(const Setup& setup, const SizeQuestion& question,
                                    const MaterialLibrary& library);

/// About one screen; the whole list of counts and options with `details`.
[[nodiscard]] std::string size_table(const Setup& setup, const SizeAnswer& answer,
                                     bool details = false);
[[nodiscard]] std::string size_json(const Setup& setup, const SizeAnswer& answer);

}  // namespace thole
