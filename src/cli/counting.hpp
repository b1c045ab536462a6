#pragma once

/// A line on stderr that counts, only where somebody looks on.

#include <unistd.h>

#include <cstdio>

#include <thole/progress.hpp>

namespace thole::cli {

class Counting {
 public:
  Counting() : shown_(isatty(STDERR_FILENO) != 0) {}
  Counting(const Counting&) = delete;
  Counting& operator=(const Counting&) = delete;
  ~Counting() { clear(); }
  void tell(const Progress& p) {
    if (!shown_) return;
    std::fprintf(stderr, "\r%zu of %zu changes tried ", p.done, p.all);
    std::fflush(stderr);
    told_ = true;
  }
  void clear() {
    if (told_) std::fprintf(stderr, "\r%40s\r", "");
    told_ = false;
  }

 private:
  bool shown_ = false;
  bool told_ = false;
};

}  // namespace thole::cli
