// What the program said of the examples and of random setups when somebody last read it: no proof,
// and no reference value. Every figure that changes must be seen; those of tests/data/recorded/ are
// written anew with THOLE_UPDATE=1 in the environment, after reading the difference.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <string_view>

#include <thole/assessment.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>

#include "support/json.hpp"
#include "support/random_setup.hpp"

using namespace thole;
using test::JsonValue;

namespace {

using Record = std::map<std::string, std::string>;

// Compilers agree far better; seven digits are written down.
constexpr double within = 1e-6;
constexpr double nothing = 1e-9;  // N, m, Pa: rounding about zero

std::string name_of(const JsonValue& item, std::size_t i) {
  for (const char* key : {"mode", "id", "name", "gear"}) {
    if (item.kind == JsonValue::Kind::object && item.has(key)) return item[key].text;
  }
  return std::to_string(i);
}

void take(const JsonValue& v, const std::string& path, Record& out) {
  switch (v.kind) {
    case JsonValue::Kind::object:
      for (const auto& [key, member] : v.members) take(member, path + "." + key, out);
      return;
    case JsonValue::Kind::list:
      for (std::size_t i = 0; i < v.items.size(); ++i) {
        take(v.items[i], path + "[" + name_of(v.items[i], i) + "]", out);
      }
      return;
    case JsonValue::Kind::number: {
      char text[32];
      std::snprintf(text, sizeof text, "%.7g", v.number());
      std::string key = path;  // several of one name
      for (int k = 2; !out.emplace(key, text).second; ++k) key = path + "#" + std::to_string(k);
      return;
    }
    default:
      return;
  }
}

// What is computed: the rest is read from the file or the tables.
const char* const computed[] = {"limits",      "checks",      "cases",      "fasteners",
                                "ladder",      "losses",      "walls",      "margins",
                                "one_missing", "gear_limits", "supports",   "movements",
                                "towing",      "sockets",     "tightening", "boat"};

Record figures(const Setup& s, bool whole) {
  AssessOptions o;
  o.step = degrees(whole ? 10 : 30);
  o.neighbours = o.one_missing = o.by_direction = o.after_loss = o.margins = whole;
  const Assessment a = assess(s, o);
  const JsonValue report = test::JsonReader(json_report(s, a)).whole();
  Record out;
  for (const char* key : computed) {
    if (report.has(key)) take(report[key], key, out);
  }
  out["verdict"] = report["verdict"].text;
  return out;
}

bool same(const std::string& a, const std::string& b) {
  char* end_a = nullptr;
  char* end_b = nullptr;
  const double x = std::strtod(a.c_str(), &end_a);
  const double y = std::strtod(b.c_str(), &end_b);
  if (*end_a != '\0' || *end_b != '\0' || a.empty() || b.empty()) return a == b;
  return std::abs(x - y) <= std::max(nothing, within * std::max(std::abs(x), std::abs(y)));
}

void compare(const Record& now, const std::string& name) {
  const std::string path = THOLE_ROOT "/tests/data/recorded/" + name + ".txt";
  if (const char* update = std::getenv("THOLE_UPDATE"); update != nullptr && *update == '1') {
    std::ofstream out(path);
    for (const auto& [key, value] : now) out << key << "\t" << value << "\n";
    REQUIRE(out.good());
    return;
  }
  std::ifstream in(path);
  Record before;
  for (std::string line; std::getline(in, line);) {
    const std::size_t tab = line.rfind('\t');
    REQUIRE(tab != std::string::npos);
    before[line.substr(0, tab)] = line.substr(tab + 1);
  }
  REQUIRE_FALSE(before.empty());
  int told = 0;
  const auto differs = [&](const std::string& key, const std::string& was, const std::string& is) {
    if (++told <= 5) FAIL_CHECK(name << ": " << key << ": " << is << ", recorded " << was);
  };
  for (const auto& [key, value] : before) {
    const auto is = now.find(key);
    if (is == now.end()) differs(key, value, "no figure");
    if (is != now.end() && !same(value, is->second)) differs(key, value, is->second);
  }
  for (const auto& [key, value] : now) {
    if (before.count(key) == 0) differs(key, "no figure", value);
  }
  CHECK_MESSAGE(told == 0, told, " figures differ");
}

void example(const std::string& name) {
  std::ifstream in(THOLE_ROOT "/examples/" + name + ".yaml");
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  REQUIRE_FALSE(text.empty());
  compare(figures(read_setup(text, name, built_in_materials()), true), name);
}

// `count` random setups that the reader takes.
void random(std::uint64_t first, int count) {
  Record all;
  for (std::uint64_t seed = first; count > 0; ++seed) {
    try {
      const Setup s = read_setup(test::setup_text({seed, {}}), "random", built_in_materials());
      for (const auto& [key, value] : figures(s, false)) {
        const bool kept = key == "verdict" || key.rfind("limits", 0) == 0 ||
                          key.rfind("boat", 0) == 0 ||
                          (key.rfind("checks", 0) == 0 && key.find("].factor") != key.npos);
        if (kept) all[std::to_string(seed) + " " + key] = value;
      }
      --count;
    } catch (const InputError&) {
    }
  }
  compare(all, "random-from-" + std::to_string(first));
}

}  // namespace

TEST_SUITE("recorded") {
  TEST_CASE("recorded: bay boat best fix") { example("bay-boat-best-fix"); }
  TEST_CASE("recorded: bay boat") { example("bay-boat"); }
  TEST_CASE("recorded: fjord skiff best fix") { example("fjord-skiff-best-fix"); }
  TEST_CASE("recorded: fjord skiff") { example("fjord-skiff"); }
  TEST_CASE("recorded: highland dinghy best fix") { example("highland-dinghy-best-fix"); }
  TEST_CASE("recorded: highland dinghy") { example("highland-dinghy"); }
  TEST_CASE("recorded: lake cartopper best fix") { example("lake-cartopper-best-fix"); }
  TEST_CASE("recorded: lake cartopper") { example("lake-cartopper"); }
  TEST_CASE("recorded: lough boat best fix") { example("lough-boat-best-fix"); }
  TEST_CASE("recorded: lough boat") { example("lough-boat"); }
  TEST_CASE("recorded: reservoir jon boat best fix") { example("reservoir-jon-boat-best-fix"); }
  TEST_CASE("recorded: reservoir jon boat") { example("reservoir-jon-boat"); }
  TEST_CASE("recorded: six random setups from 9000") { random(9000, 6); }
  TEST_CASE("recorded: six random setups from 9100") { random(9100, 6); }
  TEST_CASE("recorded: six random setups from 9200") { random(9200, 6); }
  TEST_CASE("recorded: six random setups from 9300") { random(9300, 6); }
  TEST_CASE("recorded: six random setups from 9400") { random(9400, 6); }
  TEST_CASE("recorded: six random setups from 9500") { random(9500, 6); }
  TEST_CASE("recorded: six random setups from 9600") { random(9600, 6); }
  TEST_CASE("recorded: six random setups from 9700") { random(9700, 6); }
}
