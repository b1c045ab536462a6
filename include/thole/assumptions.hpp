#pragma once

/// What the models take for granted, which way each of it errs, why that is the cautious way, and
/// where a report says it. What may err the other way is told with every report that it concerns.

#include <string>
#include <string_view>
#include <vector>

#include <thole/setup.hpp>

namespace thole {

enum class Errs {
  cautious,  ///< toward "does not hold"
  either,    ///< not known which way, or both
  unsafe,    ///< toward "holds": by how much, or what it hides, is in `why`
};
[[nodiscard]] std::string_view word_for(Errs e);

struct Assumption {
  std::string id;     ///< "board-one-end-along"
  std::string about;  ///< "loads", "boat", "board", "plate", "answers" ...
  std::string text;   ///< what is assumed
  Errs errs = Errs::cautious;
  std::string why;   ///< why that is the cautious side; else by how much it errs, what it hides
  std::string said;  ///< where else a report says it: "caution", "note", "range of a check" ...
};

/// The rows that bear on this setup.
/// Source:   reviews of each model against its own source; the rows name figures they come from.
/// Valid:    a setup that `validate` takes. Accuracy: words, no calculation.
[[nodiscard]] std::vector<Assumption> assumptions_of(const Setup& setup);
/// All rows, of every kind of setup.
[[nodiscard]] std::vector<Assumption> all_assumptions();
/// Those that may err the other way: each as one sentence for a report.
[[nodiscard]] std::vector<std::string> other_way(const std::vector<Assumption>& assumptions);

}  // namespace thole
