#pragma once

/// Where a number comes from. Every strength, factor and formula carries a `Citation`, and a report
/// prints the list of those it used; it never contains a number whose origin it cannot name.

#include <string>
#include <string_view>

namespace thole {

/// How far the page behind a figure was looked at.
enum class Seen {
  page,       ///< the page itself, or a published number reproduced by the formula
  copy,       ///< only public copies of it
  memory,     ///< known to the author, page not seen
  practice,   ///< common practice, no source
  judgement,  ///< a choice of this project, named as one
  computed,   ///< derived here and checked numerically
};

[[nodiscard]] std::string_view word_for(Seen seen);      ///< `page`, `copy`, ... as in the tables
[[nodiscard]] std::string_view sentence_for(Seen seen);  ///< "page seen", "from memory", ...

/// A document and the place in it.
struct Citation {
  std::string title;
  std::string place;
  Seen seen = Seen::memory;
  friend bool operator==(const Citation&, const Citation&) = default;
};

/// "ASTM B221 (page seen)".
[[nodiscard]] std::string to_text(const Citation& citation);

}  // namespace thole
