#pragma once

/// From a setup to a verdict: one plain value from which every report is drawn.

#include <optional>
#include <string>
#include <vector>

#include <thole/check.hpp>

namespace thole {

enum class Verdict { holds, holds_if, does_not_hold, no_verdict };
[[nodiscard]] std::string_view word_for(Verdict v);

/// One failure mode under the case and direction that is worst for it.
struct CheckResult {
  std::string mode;
  std::string gives_way;
  Standing standing = Standing::applies;
  std::string why;  ///< when not checked or refused
  Measure demand;
  Measure strength;
  double factor = 0;
  double needed = 0;
  bool lowered = false;  ///< the user lowered the factor needed
  bool holds = false;
  int fastener = -1;
  std::string where;  ///< on a board: "port forward eye bolt", "310 mm from the port end"
  std::string case_title;
  std::string direction;
  Citation source;
  std::string valid;
  std::string accuracy;
  int outside_checks = 0;
  std::string advice;
  std::vector<std::string> assumed;  ///< inputs of this check that are assumed
  std::optional<Force> goes_at;      ///< pull at which strength is used up
  std::optional<Force> limit_at;     ///< pull at which the factor needed is used up
};

struct CaseResult {
  LoadCase load_case;
  std::string worst_mode;
  std::string worst_gives_way;
  double factor = 0;
  double needed = 0;
  bool holds = true;
  std::string direction;
  std::optional<Force> goes_at;
  std::string motion;  ///< a mechanism: no number
};

struct LadderStep {
  std::string what;
  std::optional<Force> low;   ///< not before about
  std::optional<Force> high;  ///< upper bound of a link that is meant to give way
  bool link = false;          ///< drag, line, holder: not part of the mount
};

struct WallRow {
  Length thickness{};
  std::string position;  ///< thinner, this, thicker
  std::string verdict;
  double worst_ratio = 0;  ///< factor / factor needed
  std::string gives_way;
  std::optional<Force> hold_limit;
};

struct FastenerRow {
  PlanPoint at;
  Force tension{};
  Force shear{};
};

/// One support of a board under the worst deciding case.
struct SupportRow {
  std::string name;
  Force force{};
  bool open = false;
};

/// How far the boom tip and the base of a gear move under its deciding pull.
struct MovementRow {
  std::string gear;
  Force pull{};
  Length tip{};
  Length base{};
  Angle turn{};
  std::string feel;    ///< in words
  bool rough = false;  ///< too large for the small rotations of the model
};

/// Limits of one gear on a board.
struct GearLimit {
  std::string gear;
  std::optional<Force> hold_limit;
  std::optional<Force> not_before;
  std::optional<Force> setting;
  std::optional<Force> test_pull;
  std::string set_by;     ///< the mode that ends the hold limit
  std::string first;      ///< the mode that goes first
  std::string direction;  ///< of the hold limit
  std::string tips;       ///< the motion, when tipping ends it
};

struct Assessment {
  Verdict verdict = Verdict::no_verdict;
  std::string sentence;
  std::vector<std::string> reasons;   ///< of a refusal
  std::vector<std::string> holds_if;  ///< assumed inputs that the governing check hangs on
  std::vector<CheckResult> checks;    ///< worst first
  std::vector<CaseResult> cases;
  std::vector<FastenerRow> fasteners;  ///< under the worst deciding case and direction
  std::optional<Force> hold_limit;
  std::optional<Force> not_before;
  std::optional<Force> setting;  ///< largest drag to set
  std::optional<Force> test_pull;
  std::optional<Force> handhold;  ///< a hand on the holder: gives way at
  std::vector<LadderStep> ladder;
  std::string ladder_verdict;  ///< is the order benign
  std::vector<WallRow> walls;
  std::vector<SupportRow> supports;  ///< of a board
  std::vector<MovementRow> movements;
  std::vector<GearLimit> gear_limits;
  std::vector<std::string> notes;  ///< mechanisms' remedies, ranges assessed
  std::vector<std::string> to_do;
  std::vector<std::string> cautions;
  std::vector<std::string> not_checked;
  std::vector<Citation> sources;
};

struct AssessOptions {
  Angle step = degrees(5);  ///< grid of directions
  bool neighbours = true;   ///< also the next thinner and thicker wall
};

/// Source: each check names its own. Valid: a setup that `validate` takes. Accuracy: per check; the
/// direction grid moves no governing factor by 1 %. Throws DomainError for an unusable setup.
[[nodiscard]] Assessment assess(const Setup& setup, const AssessOptions& options = {});

}  // namespace thole
