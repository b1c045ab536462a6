#pragma once

/// The least pull of a gear that a board ends at, over directions, booms and what the other gears
/// do: the search that limits and losses share. Numeric kernel, private to the core.

#include <functional>
#include <optional>
#include <vector>

#include "core/board_engine.hpp"

namespace thole::board {

constexpr double most_pull = 1e5;  // N; above it nothing on a small boat matters
// Loads kept of a gear's own pull, hardest first, to look for its limits.
constexpr std::size_t hardest_kept = 40;
constexpr double same_peak = 0.9;  // cosine: nearer directions are taken for one peak

/// A load that is hard for some mode, at one end of the ranges.
struct Hard {
  double ratio = 0;
  int variant = 0;
  Trial trial;
};
void hardest_first(std::vector<Hard>& all);

/// A gear's own pull, the others towing: not one that its owner added or left out.
[[nodiscard]] bool can_limit(const LoadCase& c, int gear);
/// The widest such case; -1: there is none.
[[nodiscard]] int widest_case(const std::vector<LoadCase>& cases, int gear);
/// That case in every direction of the gear's own pulls. More directions never raise a limit.
[[nodiscard]] LoadCase own_pull(const Engine& engine, int index);

class LimitSearch {
 public:
  /// `full`: at full factors, else until something goes. `feet`: with the feet of gears. Engine and
  /// case must outlive it. `step`: as in `AssessOptions`.
  LimitSearch(Engine& engine, const LoadCase& load_case, Angle step, bool full, bool feet)
      : engine_(engine), case_(load_case), step_(step), full_(full), feet_(feet) {
    limit_.pull = most_pull;
  }

  [[nodiscard]] bool found() const { return limit_.pull < most_pull; }
  [[nodiscard]] const Engine::Limit& limit() const { return limit_; }
  [[nodiscard]] double pull() const { return limit_.pull; }
  [[nodiscard]] const Trial& at() const { return at_; }
  [[nodiscard]] int variant() const { return variant_; }

  /// Lowers the limit to that of a load. An estimate of the load's own limit: its share of use is
  /// about in proportion to the pull.
  double lower(int variant, const Trial& t);
  /// A grid of the directions that `has` takes at every end of the ranges, and of the hardest what
  /// is `otherwise`. `all`: loads looked at before, to which these are added.
  void look_round(std::vector<Hard>& all, const std::function<bool(const Trial&)>& has);
  /// The hardest of each part of the sky to finer directions; `ratio`: by `lower`.
  void follow_hardest(std::vector<Hard>& all);

 private:
  [[nodiscard]] Angle grid() const { return 2.5 * step_; }
  [[nodiscard]] Category category() const {
    return case_.path == LoadPath::tip || !full_ ? Category::occasional : Category::everyday;
  }

  Engine& engine_;
  const LoadCase& case_;
  Angle step_;
  bool full_;
  bool feet_;
  Engine::Limit limit_;
  Trial at_;
  int variant_ = 0;
};

}  // namespace thole::board
