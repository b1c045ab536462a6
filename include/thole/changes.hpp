#pragma once

/// What to change: single changes to a setup, each written as values of its file, read and assessed
/// anew, ranked by what they bring for their trouble (target thole::reading).

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

/// One value in the file, as its owner would write it.
struct Edit {
  std::string path;   ///< keys between dots, items of lists by number from 0: "gear.0.lean"
  std::string value;  ///< YAML on one line; "": the key is left out
  friend bool operator==(const Edit&, const Edit&) = default;
};

/// What a change asks of its owner's purse and time.
enum class Cost {
  nothing,   ///< a setting, or turned round with what is there
  coins,     ///< washers, a few bolts, a weak link
  store,     ///< a trip to a store for a piece of stock
  yard_job,  ///< tools or access that few owners have
};
[[nodiscard]] std::string_view word_for(Cost cost);

struct Trouble {
  Cost cost = Cost::nothing;
  int trips = 0;  ///< to a store
  int holes = 0;  ///< new ones in the boat
  Mass added{};   ///< below zero: lighter; nothing counted where no density is in the tables
  bool mass_known = true;
  double given_up = 0;  ///< of a setting or sector: the part that its owner does without, 0 to 1
  /// One figure to rank by. All weights are judgement (common practice, no source): 3 for doing
  /// anything at all + cost (nothing 0, coins 1, store 2.5, yard job 6) + 0.5 for each trip and
  /// each hole in the boat + 0.5 for each kg added (not known: 0.5) + 8 x `given_up`.
  [[nodiscard]] double points() const;
};

/// What a setup is worth, of one assessment.
struct Worth {
  Verdict verdict = Verdict::no_verdict;
  /// Least factor over factor needed of the checks that count for the verdict; distances that are
  /// too small count too. Of a refusal: of the checks that could be made; 0 where it moves.
  double ratio = 0;
  std::string gives_way;  ///< of that check, with its place
  double factor = 0;
  double needed = 0;
  std::optional<Force> hold_limit;  ///< least of all gears
  std::optional<Force> setting;     ///< least of all gears that have one
  /// Setting by the boat's heel over that in use, least of all gears; nothing: not described.
  std::optional<double> boat_ratio;
  std::vector<std::string> conditions;  ///< of `holds if`
  std::vector<std::string> reasons;     ///< of `no verdict`
  [[nodiscard]] bool holds() const {
    return verdict == Verdict::holds || verdict == Verdict::holds_if;
  }
};
[[nodiscard]] Worth worth_of(const Setup& setup, const Assessment& assessment);

struct Change {
  std::string id;     ///< kebab-case, of the catalogue: "through-bolt"; of a pair "a+b"
  std::string words;  ///< "through-bolt it: M6, nut and a 5 mm plate of 6061-T6 behind"
  std::vector<Edit> edits;
  std::vector<std::string> notes;  ///< what to look at first: "only with access behind the wall"
  Trouble trouble;
  bool of_use = false;          ///< a setting or a sector to keep to, nothing built otherwise
  std::vector<std::size_t> of;  ///< a pair: the single changes in the answer's list
  std::string why_not;  ///< not empty: it does not fit (edges, sizes) or cannot be calculated
  std::optional<Setup> setup;
  std::optional<Worth> after;  ///< nothing where it does not fit

  [[nodiscard]] bool fits() const { return why_not.empty(); }
};

/// One row of THE catalogue of single changes: what it is, and on which mounts.
struct ChangeKind {
  std::string_view id;
  std::string_view what;    ///< "nut and plate behind in place of threads in the wall"
  std::string_view mounts;  ///< "plate, bracket", "board", "all"
};
[[nodiscard]] const std::vector<ChangeKind>& change_catalogue();

struct ChangeAnswer {
  Worth as_drawn;
  std::vector<Change> changes;       ///< singles in the order of the catalogue, then pairs
  std::vector<std::size_t> ranking;  ///< those that help, best first
  bool pairs_tried = false;          ///< no single change was enough
  bool stopped = false;
};

struct ChangeOptions {
  unsigned threads = 2;  ///< results do not depend on it
  Angle step = degrees(5);
  bool pairs = true;
  Watch watch;
};

/// Tries every single change of the catalogue that concerns the setup; where none makes it hold,
/// pairs of those that help most.
///
/// Ranking: what makes it hold before what does not (of a refusal: what ends it, then what ends one
/// of its reasons), then by gain over `Trouble::points`. Gain: logarithm of the ratio after over
/// that before, a quarter of it beyond 1 and none beyond 2, and a quarter of the logarithm of the
/// hold limits, within a factor of 4. Better by less than 2 % does not rank; where it holds as
/// drawn, the limit must rise by a quarter. Of one kind only what is better than one before it, and
/// the best of each kind before the second of any.
///
/// Source:   `assess` of each; sizes of the tables in `library`; ranking: judgement.
/// Valid:    any setup. Only store sizes; a change that breaks a distance to an edge or does not
///           fit is listed with its reason and never ranked.
/// Accuracy: of the assessment. The edits put into the file by hand give the same assessment.
/// Throws InputError with every problem of the text.
[[nodiscard]] ChangeAnswer suggest_changes(std::string_view text, const std::string& file,
                                           const MaterialLibrary& library,
                                           const ChangeOptions& options = {});

/// The text of a setup with edits put into it, comments and order kept where a value is replaced.
/// Throws DomainError for a path that leads nowhere.
[[nodiscard]] std::string apply_edits(std::string_view text, const std::string& file,
                                      const std::vector<Edit>& edits);

/// The best `most` with before and after, cost, holes, weight, and what to write; `all`: every one.
[[nodiscard]] std::string change_list(const Setup& setup, const ChangeAnswer& answer,
                                      std::size_t most = 3, bool all = false);
[[nodiscard]] std::string change_list_json(const Setup& setup, const ChangeAnswer& answer);

}  // namespace thole
