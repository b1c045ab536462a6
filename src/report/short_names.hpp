#pragma once

/// Names are the user's own words, and other texts repeat them: long ones are cut wherever they
/// stand. Private to the reports.

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <thole/setup.hpp>

namespace thole {

class ShortNames {
 public:
  explicit ShortNames(const Setup& setup, std::size_t longest = 30);
  /// The text with every long name cut, control characters dropped.
  [[nodiscard]] std::string in(std::string text) const;

 private:
  void add(const std::string& name, std::size_t longest);
  std::vector<std::pair<std::string, std::string>> names_;  // as given, as shown
};

}  // namespace thole
