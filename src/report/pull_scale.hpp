#pragma once

/// What a pull ruler upright on the screen and one across the paper share: the scale and a few
/// words. Private to the reports.

#include <string>
#include <vector>

#include "report/pull_items.hpp"

namespace thole::ruler {

/// From pulls to places along a ruler, in units of the drawing.
class Scale {
 public:
  /// `between`: least distance of two of its round numbers.
  Scale(const Ruler& r, double length, double between);

  /// From zero of the scale.
  [[nodiscard]] double along(double newtons) const;
  [[nodiscard]] double along(Force f) const { return along(f.value()); }
  [[nodiscard]] double length() const { return length_; }
  /// Else it is drawn closer toward its upper end, so that small pulls are told apart.
  [[nodiscard]] bool even() const { return even_; }
  /// So large that numbers in units of so many newtons are written in thousands.
  [[nodiscard]] bool in_thousands(double newtons) const { return top_ / newtons >= 9999; }
  /// Round numbers in units of so many newtons, zero first.
  [[nodiscard]] std::vector<double> ticks(double newtons) const;

 private:
  double length_;
  double between_;
  double top_;
  bool even_ = true;
};

/// "each downrigger", the names, or the kind of the only gear.
[[nodiscard]] std::string heading(const Setup& s, const Ruler& r);
/// "pull at the boom tip".
[[nodiscard]] const char* where_pulled(const Gear& g);
/// All that stands on it, from the least up, to be read aloud.
[[nodiscard]] std::string in_words(const Ruler& r);
/// The words of an item with what is wrong with it: "too early: ..."
[[nodiscard]] std::string words_of(const Item& i);
/// "bolts of the gear" and "shear off" of "bolts of the gear shear off"; all and nothing where it
/// does not read so.
struct PartAndWay {
  std::string part;
  std::string way;
};
[[nodiscard]] PartAndWay part_and_way(const std::string& what);
/// It is crossed.
[[nodiscard]] bool is_marked(const Item& i);
/// What the marks of a ruler do not tell, as sentences; "" where they tell all.
[[nodiscard]] std::string cautions_of(const Ruler& r);

}  // namespace thole::ruler
