#pragma once

#include <cstddef>
#include <functional>
#include <utility>
#include <vector>

namespace thole {

/// The numbers 0 to `count` - 1 in the order of `before`; what is equal keeps its order.
[[nodiscard]] std::vector<std::size_t> stable_order(
    std::size_t count, const std::function<bool(std::size_t, std::size_t)>& before);

/// As std::stable_sort, whose whole text a compiler writes once for every kind of thing: an eighth
/// of the size of the offline page.
template <class Thing, class Before>
void sort_stably(std::vector<Thing>& all, const Before& before) {
  std::vector<Thing> sorted;
  sorted.reserve(all.size());
  for (const std::size_t i : stable_order(
           all.size(), [&](std::size_t a, std::size_t b) { return before(all[a], all[b]); })) {
    sorted.push_back(std::move(all[i]));
  }
  all = std::move(sorted);
}

}  // namespace thole
