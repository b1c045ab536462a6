#pragma once

/// How a long search tells how far it is, and how it is stopped.

#include <cstddef>
#include <functional>
#include <string>

namespace thole {

struct Progress {
  std::size_t done = 0;
  std::size_t all = 0;  ///< an upper bound: what is ruled out early counts as done
  std::string best;     ///< in words; "" so far none
};

/// Called now and then, from one thread at a time. False stops the search: what it has by then is
/// its answer, marked as stopped.
using Watch = std::function<bool(const Progress&)>;

}  // namespace thole
