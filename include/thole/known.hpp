#pragma once

/// A value together with how it is known.

#include <string>
#include <string_view>

namespace thole {

enum class Knowledge {
  measured,  ///< measured on this boat or gear
  tagged,    ///< from a label, a stamp or the maker
  assumed,   ///< a guess: a verdict that hangs on it is `holds if`
};

[[nodiscard]] std::string_view word_for(Knowledge k);

template <class T>
struct Known {
  T value{};
  Knowledge known = Knowledge::assumed;
  friend bool operator==(const Known&, const Known&) = default;
};

/// One input as the report lists it: its place in the setup, its value in words, how it is known.
struct Input {
  std::string path;   ///< `mount.host.thickness`
  std::string label;  ///< "wall thickness"
  std::string value;  ///< "0.090 in", in the reader's units
  double si = 0;      ///< SI value, 0 for texts
  bool is_text = false;
  Knowledge known = Knowledge::assumed;
  bool defaulted = false;  ///< not in the setup at all
};

}  // namespace thole
