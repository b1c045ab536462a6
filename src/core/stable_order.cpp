#include "core/stable_order.hpp"

#include <algorithm>
#include <numeric>

namespace thole {

std::vector<std::size_t> stable_order(std::size_t count,
                                      const std::function<bool(std::size_t, std::size_t)>& before) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), before);
  return order;
}

}  // namespace thole
