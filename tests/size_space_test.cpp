// The search for sizes against brute force: every design of the space assessed in full.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <optional>
#include <sstream>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/sizing.hpp>

#include "reading/sizing_space.hpp"
#include "support/light_plank.hpp"

using namespace thole;
using namespace thole::literals;

namespace {

Setup example(const std::string& name) {
  std::ifstream in(std::string(THOLE_ROOT) + "/examples/" + name + ".yaml");
  std::ostringstream text;
  text << in.rdbuf();
  return read_setup(text.str(), name + ".yaml", built_in_materials());
}

// A design by brute force.
struct Tried {
  std::size_t number = 0;
  long long grams = 0;    // tenths
  long long section = 0;  // tenths of a square millimetre
  bool holds = false;
  bool barred = false;  // by a distance or a refusal, whatever the load
  double limit = 0;
};

std::vector<Tried> all_of(const reading::SizeSpace& space, Angle step) {
  std::vector<std::optional<Tried>> found(space.designs());
  const auto work = [&](std::size_t from) {
    for (std::size_t i = from; i < found.size(); i += 2) {
      try {
        const Setup s = space.setup_of(space.choice(i));
        const Assessment a = assess(s, {.step = step, .neighbours = false});
        Tried t;
        t.number = i;
        t.grams = std::llround(space.mass(s).value() * 1e4);
        t.section = std::llround(space.section(s).value() * 1e7);
        t.holds = a.verdict == Verdict::holds || a.verdict == Verdict::holds_if;
        t.barred = std::any_of(a.checks.begin(), a.checks.end(), [](const CheckResult& r) {
          return r.standing == Standing::refused ||
                 (r.standing == Standing::applies && r.case_title.empty() && !r.holds);
        });
        t.limit = a.hold_limit ? a.hold_limit->value() : 1e6;
        found[i] = t;
      } catch (const DomainError&) {
        // It does not fit.
      }
    }
  };
  std::thread other(work, 1);
  work(0);
  other.join();
  std::vector<Tried> out;
  for (const auto& t : found) {
    if (t) out.push_back(*t);
  }
  return out;
}

std::size_t number_of(const reading::SizeSpace& space, const SizeDesign& d) {
  return space.number(d.choice);
}

void check_against_brute_force(const Setup& s, SizeQuestion q, std::size_t least_designs) {
  q.step = degrees(15);
  const auto space = reading::space_of(s, q, built_in_materials());
  REQUIRE(space->designs() >= least_designs);
  const SizeAnswer a = size_mount(s, q, built_in_materials());
  std::vector<Tried> all = all_of(*space, q.step);
  CHECK(a.designs == space->designs());
  CHECK(a.do_not_fit == space->designs() - all.size());
  CHECK(a.assessed < a.designs / 2);
  MESSAGE(a.designs << " designs, " << a.assessed << " assessed in full");

  // In the order of weight: the trade curve, each step 2 % up. Where nothing holds, of all.
  std::stable_sort(all.begin(), all.end(), [](const Tried& x, const Tried& y) {
    return std::pair(x.grams, x.section) < std::pair(y.grams, y.section);
  });
  const bool any = std::any_of(all.begin(), all.end(), [](const Tried& t) { return t.holds; });
  std::vector<Tried> curve;
  double best = 0;
  for (const Tried& t : all) {
    if ((any ? !t.holds : t.barred) || !(t.limit > 1.02 * best)) continue;
    best = t.limit;
    if (!curve.empty() && curve.back().grams == t.grams) {
      curve.back() = t;
    } else {
      curve.push_back(t);
    }
  }
  REQUIRE_FALSE(curve.empty());
  CHECK(a.curve_holds == any);
  REQUIRE(a.curve.size() == curve.size());
  for (std::size_t i = 0; i < curve.size(); ++i) {
    CHECK(number_of(*space, a.curve[i]) == curve[i].number);
    if (a.curve[i].hold_limit) {
      CHECK(a.curve[i].hold_limit->value() == doctest::Approx(curve[i].limit).epsilon(0.005));
    }
  }
  CHECK(a.lightest.has_value() == any);
  CHECK(a.smallest.has_value() == any);
  if (!any) return;
  REQUIRE(a.lightest.has_value());
  CHECK(number_of(*space, *a.lightest) == curve.front().number);

  std::stable_sort(all.begin(), all.end(), [](const Tried& x, const Tried& y) {
    return std::tuple(x.section, x.grams, x.number) < std::tuple(y.section, y.grams, y.number);
  });
  const auto smallest =
      std::find_if(all.begin(), all.end(), [](const Tried& t) { return t.holds; });
  REQUIRE(smallest != all.end());
  REQUIRE(a.smallest.has_value());
  const bool tie =
      smallest->grams == curve.front().grams && smallest->section == curve.front().section;
  CHECK(number_of(*space, *a.smallest) == (tie ? curve.front().number : smallest->number));

  // Nothing below the lightest holds.
  for (const SizeStep& step : a.below_lightest) {
    if (step.down && step.down->mass < a.lightest->mass - 0.0001_kg) {
      CHECK_FALSE(step.down->holds());
    }
  }
}

}  // namespace

TEST_SUITE("property") {
  TEST_CASE("size: a board found by the search is that of brute force") {
    SizeQuestion q;
    q.free = {"stock", "laid", "washer"};
    const Setup s = read_setup(test::plank, "plank.yaml", built_in_materials());
    check_against_brute_force(s, q, 100);
  }

  TEST_CASE("size: a gunwale plate found by the search is that of brute force") {
    SizeQuestion q;
    q.free = {"hold", "bolts", "washer"};
    check_against_brute_force(example("reservoir-jon-boat"), q, 150);
  }

  TEST_CASE("size: where no plate holds the pulls that could be held are those of brute force") {
    SizeQuestion q;
    q.free = {"hold", "bolts"};
    check_against_brute_force(example("reservoir-jon-boat"), q, 100);
  }

  TEST_CASE("size: a tube board found by the search is that of brute force") {
    SizeQuestion q;
    q.free = {"stock", "laid", "bolts"};
    Setup s = example("lake-cartopper");
    for (Gear& g : s.gear) g.downrigger->boom_angles = {degrees(0), degrees(90)};
    check_against_brute_force(s, q, 60);
  }

  TEST_CASE("size: one thread and two give the same answer") {
    const auto both = [](const Setup& s, SizeQuestion q) {
      q.step = degrees(15);
      q.threads = 1;
      const SizeAnswer one = size_mount(s, q, built_in_materials());
      q.threads = 2;
      const SizeAnswer two = size_mount(s, q, built_in_materials());
      CHECK(size_json(s, one) == size_json(s, two));
      CHECK(one.assessed > 1);
    };
    SizeQuestion q;
    q.free = {"hold", "bolts", "washer"};
    both(example("reservoir-jon-boat"), q);
    q.free = {"stock", "bolts", "washer"};
    q.on_edge = false;
    both(read_setup(test::plank, "plank.yaml", built_in_materials()), q);
  }
}
