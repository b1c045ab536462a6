#pragma once

/// The one place that starts threads: the same work on several, which share it among themselves.
/// Private to reading.

#include <algorithm>
#include <cstddef>
#include <system_error>
#include <vector>

#ifndef __EMSCRIPTEN__
#include <thread>
#endif

namespace thole::reading {

/// Runs `work` on as many threads as wanted, this one among them, at most one for each of `count`
/// pieces and 64; returns when all are done. `work` must not throw.
template <class Work>
void on_threads([[maybe_unused]] unsigned threads, [[maybe_unused]] std::size_t count, Work work) {
#ifndef __EMSCRIPTEN__
  std::vector<std::thread> helpers;
  try {
    const auto wanted = std::min<std::size_t>({threads, count, 64});
    for (std::size_t i = 1; i < wanted; ++i) helpers.emplace_back([&work] { work(); });
  } catch (const std::system_error&) {
    // Without help it takes longer.
  }
  work();
  for (std::thread& t : helpers) t.join();
#else
  work();
#endif
}

}  // namespace thole::reading
