#pragma once

/// Labels along a level scale: in a few rows, each with a stem down to its mark, none over another
/// and no stem through a label. Private to the reports.

#include <optional>
#include <string>
#include <vector>

namespace thole::ruler {

inline constexpr double flag_text = 11;  ///< size of the letters, units of the drawing

struct Flag {
  std::string figure;  ///< bold, next to its stem
  std::string what;    ///< cut where there is no room
  bool cross = false;
  double mark = 0;  ///< where its mark stands along the scale
  // Where it was put:
  double stem = 0;
  std::size_t row = 0;  ///< from the scale away
  bool left = false;    ///< it flies to the left of its stem

  /// Of the whole flag from its stem on.
  [[nodiscard]] double width() const;
  [[nodiscard]] double from() const { return left ? stem - width() : stem; }
  [[nodiscard]] double to() const { return left ? stem : stem + width(); }
};

inline constexpr double flag_gap = 3;  ///< between stem and words
inline constexpr double cross_room = 13;
inline constexpr double word_gap = 4;  ///< between figure and words
[[nodiscard]] double flag_width(const std::string& text, bool bold);

/// `flags` in the order of their marks, their words cut to `room` each where they must; between 2
/// and `width` - 2. `far`: stems may lean far. Nothing where there is no way in so few rows.
[[nodiscard]] std::optional<std::vector<Flag>> placed(std::vector<Flag> flags, std::size_t rows,
                                                      double room, double width, bool far);

}  // namespace thole::ruler
