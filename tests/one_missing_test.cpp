// The mount without its hardest loaded fastener: the same as the setup written without it.

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include <thole/assessment.hpp>

#include "support/boards.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;

namespace {

AssessOptions with_one_missing() {
  AssessOptions o;
  o.neighbours = false;
  o.one_missing = true;
  return o;
}

AssessOptions plain() {
  AssessOptions o;
  o.neighbours = false;
  return o;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("one missing: a board without its hardest hold-down is that board written so") {
    const Setup s = test::fjord_board();
    const Assessment a = assess(s, with_one_missing());
    REQUIRE(a.one_missing);
    Setup t = s;
    auto& all = t.board().hold_downs;
    const auto lost = std::find_if(
        all.begin(), all.end(), [&](const HoldDown& h) { return h.name == a.one_missing->what; });
    REQUIRE(lost != all.end());
    // No other hold-down pulls harder in the worst case.
    const auto pull = [&](const std::string& name) {
      double most = 0;
      for (const SupportRow& r : a.supports) {
        if (r.name == name) most = std::max(most, r.force.value());
      }
      return most;
    };
    for (const HoldDown& h : all) CHECK(pull(h.name) <= pull(lost->name));
    all.erase(lost);
    const Assessment b = assess(t, plain());
    CHECK(a.one_missing->verdict == b.verdict);
    CHECK(a.one_missing->hold_limit.has_value() == b.hold_limit.has_value());
    if (b.hold_limit) CHECK(*a.one_missing->hold_limit == *b.hold_limit);
  }

  TEST_CASE("one missing: a plate without its hardest fastener is that plate written so") {
    const Setup s = read_setup(test::jon_boat, "t.yaml", built_in_materials());
    const Assessment a = assess(s, with_one_missing());
    REQUIRE(a.one_missing);
    REQUIRE(a.fasteners.size() == 4);
    std::size_t lost = 0;
    for (std::size_t i = 1; i < 4; ++i) {
      if (a.fasteners[i].tension > a.fasteners[lost].tension) lost = i;
    }
    CHECK(a.one_missing->what == "fastener no. " + std::to_string(lost + 1));
    Setup t = s;
    auto& holes = t.plate().fastening.holes;
    holes.erase(holes.begin() + std::ptrdiff_t(lost));
    const Assessment b = assess(t, plain());
    CHECK(a.one_missing->verdict == b.verdict);
    REQUIRE(b.hold_limit);
    CHECK(*a.one_missing->hold_limit == *b.hold_limit);
    CHECK(*b.hold_limit < *a.hold_limit);
  }

  TEST_CASE("one missing: two fasteners less one leave none that takes a twist") {
    Setup s = read_setup(test::jon_boat, "t.yaml", built_in_materials());
    auto& holes = s.plate().fastening.holes;
    holes.resize(2);
    const Assessment a = assess(s, with_one_missing());
    REQUIRE(a.one_missing);
    CHECK(a.one_missing->verdict == Verdict::no_verdict);
    CHECK_FALSE(a.one_missing->reasons.empty());
    CHECK_FALSE(a.one_missing->hold_limit);
  }

  TEST_CASE("one missing: random boards hold no more without a hold-down") {
    test::BoardDice dice(71);
    int compared = 0;
    for (int n = 0; n < test::boards(10); ++n) {
      const Setup s = test::random_board(dice);
      const Assessment a = assess(s, with_one_missing());
      if (!a.one_missing || !a.hold_limit || !a.one_missing->hold_limit) continue;
      CAPTURE(n);
      ++compared;
      // A lost hold-down may spare another part, so that some limits rise a little.
      CHECK(*a.one_missing->hold_limit <= 1.25 * *a.hold_limit);
    }
    CHECK(compared > 0);
  }

  TEST_CASE("one missing: nothing is said unless it is asked for") {
    CHECK_FALSE(assess(test::fjord_board(), plain()).one_missing);
  }
}
