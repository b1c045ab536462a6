#pragma once

/// What sweeps and trials of inputs share: values put into the tree of a setup, each then read and
/// assessed by itself. Private to reading.

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/changes.hpp>
#include <thole/progress.hpp>
#include <thole/setup.hpp>
#include <thole/unit_text.hpp>

#include "reading/document.hpp"
#include "reading/on_threads.hpp"

namespace thole::reading {

/// The value at a path: the node itself, or its `is`; nullptr where nothing stands. Items of lists
/// by number alone.
[[nodiscard]] Node* value_at(Node& root, const std::string& path);
/// Puts a value where a path leads; how it is known stays. The reason where it leads nowhere.
[[nodiscard]] std::string put_value(Node& root, const std::string& path, const Node& value);
/// A size from a store says width, thickness and wall of a board at once: they are written out, as
/// it lies.
void write_size_out(Node& root, const Setup& drawn);

/// Paths that a pattern means in this tree. Between dots: a key; `*`, every item of a list or every
/// value of a map; `*downrigger`, every item of a list whose `kind` is that. Of those by kind the
/// last key need not be there.
[[nodiscard]] std::vector<std::string> expanded(const Node& root, std::string_view pattern);
/// A path as inputs have it: without the numbers of items.
[[nodiscard]] std::string without_items(const Node& root, const std::string& path);

/// Any value with a unit, or a bare number; nothing for words.
[[nodiscard]] std::optional<Measure> measure_in(const std::string& text);
/// A value in the unit of another text: in_unit_of("7 1/4 in", 0.0254) is "1 in".
[[nodiscard]] std::string in_unit_of(const std::string& text, const Measure& value);

/// One line of all problems.
[[nodiscard]] std::string one_line(const InputError& error);

/// What the checks under load say, without those of distances.
[[nodiscard]] Worth worth_under_load(const Setup& setup, Assessment assessment);

/// A tree read as a setup; nothing with the reason in `why_not`.
[[nodiscard]] std::optional<Setup> read_changed(const Node& root, const std::string& file,
                                                const MaterialLibrary& library,
                                                std::string& why_not);

/// Each by itself on several threads; nothing is shared between two. False: stopped on the way, and
/// some were not done.
template <class Work>
bool each_by_itself(std::size_t n, [[maybe_unused]] unsigned threads, const Watch& watch,
                    Work one) {
  std::vector<std::exception_ptr> errors(n);
  std::atomic<std::size_t> next{0};
  std::atomic<bool> stop{false};
  std::mutex guard;
  std::size_t done = 0;
  const auto work = [&] {
    for (std::size_t i = next++; i < n && !stop; i = next++) {
      try {
        one(i);
      } catch (...) {
        errors[i] = std::current_exception();
      }
      const std::lock_guard<std::mutex> lock(guard);
      ++done;
      try {
        if (watch && !watch(Progress{.done = done, .all = n, .best = {}})) stop = true;
      } catch (...) {
        errors[i] = std::current_exception();
        stop = true;
      }
    }
  };
  on_threads(threads, n, work);
  for (const std::exception_ptr& e : errors) {
    if (e) std::rethrow_exception(e);
  }
  return done == n;
}

}  // namespace thole::reading
