#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <string>

#include <thole/cautions.hpp>
#include <thole/reading.hpp>

using namespace thole;

namespace {

std::string example(const std::string& name) {
  std::ifstream in(std::string(THOLE_ROOT) + "/examples/" + name);
  REQUIRE(in);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string replaced(std::string text, const std::string& old, const std::string& by) {
  const std::size_t at = text.find(old);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old.size(), by);
}

bool told(const std::string& yaml, const std::string& words) {
  const auto all = standing_cautions(read_setup(yaml, "a.yaml", built_in_materials()));
  return std::any_of(all.begin(), all.end(),
                     [&](const std::string& c) { return c.find(words) != std::string::npos; });
}

// The best fix has no block `fit`; its base is 3 in x 1 7/8 in.
std::string beside(const std::string& thing) {
  return example("reservoir-jon-boat-best-fix.yaml") +
         "\nfit:\n  mount_at: {forward: 30 in, off_middle: 27 in, side: port}\n  things:\n    - {" +
         thing + "}\n";
}

}  // namespace

TEST_SUITE_BEGIN("unit");

TEST_CASE(
    "cautions: an electric winch is spoken of unless the winch is said to be cranked by hand") {
  const std::string skiff = example("fjord-skiff.yaml");
  REQUIRE(skiff.find("winch: hand") != std::string::npos);
  CHECK_FALSE(told(skiff, "electric winch"));
  CHECK(told(replaced(skiff, "winch: hand", "winch: powered"), "electric winch"));
  CHECK(told(replaced(skiff, "winch: hand", ""), "electric winch"));
}

// 12 in by common practice: from the base, whose forward edge is at 31 1/2 in, or its gear.
TEST_CASE("cautions: fuel within 12 in of the mount stops the work and farther off does not") {
  const std::string fuel = "fuel filler, vent or hose within";
  const std::string across = "in], athwart: [-28 in, -26 in]}";
  CHECK(told(beside("kind: filler, box: {forward: [43 in, 45 " + across), fuel));
  CHECK_FALSE(told(beside("kind: filler, box: {forward: [60 in, 62 " + across), fuel));
  CHECK(told(beside("kind: hose, line: {from: [10 in, -27 in], to: [40 in, -20 in], width: 1 in}"),
             fuel));
  CHECK_FALSE(told(beside("kind: cleat, box: {forward: [35 in, 37 " + across), fuel));
}

TEST_CASE("cautions: a mount before the stern light is told to be moved") {
  const std::string light = "hide the stern light";
  CHECK(told(beside("kind: light, at: [30 in, -27 in], height: 3 in"), light));
  CHECK_FALSE(told(beside("kind: light, at: [-2 in, 0 in], height: 40 in"), light));
  CHECK_FALSE(told(example("reservoir-jon-boat-best-fix.yaml"), light));
}

TEST_SUITE_END();
