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

/// A pattern of holes in the middle of the base: a rectangle or a circle.
struct HolePattern {
  int holes_fore_aft = 0;  ///< in a line along the boat
  int holes_athwart = 0;   ///< in a line across the boat
  int on_circle = 0;       ///< holes on a circle; then no rectangle
  Length circle{};         ///< its diameter
  Length fore_aft{};       ///< between the outer holes; zero where there is one
  Length athwart{};
  std::string thread;
  bool turned = false;  ///< base and holes by a quarter turn; the sizes are those before it

  [[nodiscard]] int count() const {
    return on_circle > 0 ? on_circle : holes_fore_aft * holes_athwart;
  }
  friend bool operator==(const HolePattern&, const HolePattern&) = default;
};

/// A value in which a variant differs from the setup as drawn.
struct Difference {
  enum class Kind {
    part,      ///< something is built otherwise, or stands elsewhere
    material,  ///< another material is named: true of a piece that is bought so
    claim,     ///< the boat as it is, how a value is known, a strength that its owner gives
    load,      ///< gear, use, cases, factors: another thing is asked of the mount
  };
  Kind kind = Kind::part;
  std::string path;  ///< "mount.host.thickness"; ".known" where only that differs
  friend bool operator==(const Difference&, const Difference&) = default;
};

struct Candidate {
  enum class Origin { as_drawn, variant, pattern };
  Origin origin = Origin::as_drawn;
  std::string name;  ///< "as drawn", the name of the variant, or the pattern in words
  std::optional<HolePattern> pattern;   ///< of a family
  std::vector<Difference> differences;  ///< of a variant, by their paths
  std::size_t fasteners = 0;            ///< of the base of a plate; hold-downs of a board
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
  [[nodiscard]] bool differs_in(Difference::Kind kind) const;
  /// Nothing differs but what can be built: such rows can be compared.
  [[nodiscard]] bool only_parts() const;
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

  /// `holds` or `holds if`.
  [[nodiscard]] bool any_holds() const;
  /// The best one holds, on nothing that is assumed: what the exit code of the program says.
  [[nodiscard]] bool best_holds() const;
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
