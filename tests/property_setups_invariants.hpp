#pragma once

/// What holds for every setup that the reader takes, whatever is in it.

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include <thole/assessment.hpp>
#include <thole/setup.hpp>

namespace thole::test {

/// A setup as read from its text, and its assessment on a coarse grid.
struct Sample {
  std::string text;
  bool whole = false;  ///< also with the pulls at which things go, and the ladder
  Setup setup;
  Assessment assessment;
};

/// The text is read and assessed: throws what reader and assessment throw.
[[nodiscard]] Sample sample_of(const std::string& text, bool whole);

/// What is wrong; nothing when all is well.
using Complaint = std::optional<std::string>;

struct Invariant {
  std::string_view name;
  Complaint (*broken)(const Sample&);
  int one_in;  ///< of the random setups: the dear ones are asked more seldom
};
[[nodiscard]] std::span<const Invariant> invariants();

/// Asked on a coarse grid of directions and, where that complains, on the one that people get: the
/// coarse grid misses more of what is searched. An exception is a complaint.
[[nodiscard]] Complaint broken(const Invariant& invariant, const Sample& sample);

/// Calls of `assess` on a setup of its own so far: the counts of the tests.
[[nodiscard]] long setups_assessed();

}  // namespace thole::test
