#pragma once

/// Bolt patterns and variants of any other part, side by side: each is the setup with a few values
/// changed in its text, read and assessed like a setup of its own.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/material.hpp>
#include <thole/setup.hpp>

namespace thole {

/// A rectangular pattern of holes in the middle of the base.
struct HolePattern {
  int holes_fore_aft = 0;  ///< in a line along the boat
  int holes_athwart = 0;   ///< in a line across the boat
  Length fore_aft{};       ///< between the outer holes; zero where there is one
  Length athwart{};
  std::string thread;
  bool turned = false;  ///< base and holes by a quarter turn; the sizes are those before it

  friend bool operator==(const HolePattern&, const HolePattern&) = default;
};

struct Candidate {
  enum class Origin { as_drawn, variant, pattern };
  Origin origin = Origin::as_drawn;
  std::string name;  ///< "as drawn", the name of the variant, or the pattern in words
  std::optional<HolePattern> pattern;  ///< of a family
  std::size_t fasteners = 0;           ///< of the base of a plate; hold-downs of a board
  /// Why it does not fit: edges, spacing, a hole off the base. As drawn or a variant it is assessed
  /// all the same.
  std::string why_not;
  std::optional<Setup> setup;            ///< as read; nothing where it cannot be made
  std::optional<Assessment> assessment;  ///< nothing for a pattern that does not fit
  /// The first to go and its pull, where it was looked for: not for patterns far down the ranking.
  std::string first;
  std::optional<Force> not_before;

  [[nodiscard]] bool fits() const { return why_not.empty(); }
  [[nodiscard]] Verdict verdict() const;
  /// `holds` or `holds if`.
  [[nodiscard]] bool holds() const;
  /// The check nearest to giving way; none without a verdict.
  [[nodiscard]] const CheckResult* worst() const;
};

struct Comparison {
  std::vector<Candidate> candidates;  ///< as drawn, variants, patterns; in the order of the file
  std::size_t combinations = 0;       ///< of the family of patterns
  std::size_t repeats = 0;            ///< of them: the same pattern as another, so listed once
  /// Places in `candidates`: as drawn, then by verdict, hold limit, fewer fasteners, file order;
  /// what was not assessed last.
  std::vector<std::size_t> ranking;
  std::optional<std::size_t>
      best;  ///< the first of the ranking when as drawn takes its place in it

  [[nodiscard]] bool any_holds() const;
};

struct CompareOptions {
  unsigned threads = 2;     ///< results do not depend on it
  Angle step = degrees(5);  ///< grid of directions, as in AssessOptions
  std::size_t going = 24;   ///< so many patterns, best first, are searched for what goes first
};

/// Reads a setup with its keys `variants` and `patterns` and assesses every candidate
/// (target thole::reading).
///
/// Source:   `assess` of each candidate, without neighbouring walls.
/// Valid:    any setup; families of patterns on a gunwale plate. The fastening of a pattern is that
///           of the setup but for holes and thread.
/// Accuracy: of the assessment.
/// Throws InputError with every problem of the text, its variants included, each at its place.
[[nodiscard]] Comparison compare(std::string_view text, const std::string& file,
                                 const MaterialLibrary& library,
                                 const CompareOptions& options = {});

/// "through-bolted is best: ...", compared with the setup as drawn.
[[nodiscard]] std::string comparison_sentence(const Comparison& comparison);
/// Which is best and why, then one line for each candidate, at most 79 columns. `as_given`: in the
/// order of the file.
[[nodiscard]] std::string comparison_table(const Comparison& comparison, bool as_given = false);
/// The same complete, as JSON, SI values.
[[nodiscard]] std::string comparison_json(const Comparison& comparison, bool as_given = false);

}  // namespace thole
