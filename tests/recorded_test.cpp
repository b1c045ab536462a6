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
#include <thole/changes.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>
#include <thole/sheet.hpp>
#include <thole/sizing.hpp>

#include "support/json.hpp"
#include "support/random_setup.hpp"

using namespace thole;
using test::JsonValue;

namespace {

using Record = std::map<std::string, std::string>;

// Compilers agree far better; seven digits are written down.
constexpr double of_figures = 1e-6;
constexpr double of_sums = 1e-7;
constexpr double nothing = 1e-9;  // N, m, Pa: rounding about zero

std::string name_of(const JsonValue& item, std::size_t i) {
  for (const char* key : {"mode", "id", "name", "gear"}) {
    if (item.kind == JsonValue::Kind::object && item.has(key)) return item[key].text;
  }
  return std::to_string(i);
}

std::string written(double x, int digits = 7) {
  char text[32];
  std::snprintf(text, sizeof text, "%.*g", digits, x);
  return text;
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
      const std::string text = written(v.number());
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

bool same(const std::string& a, const std::string& b, double within) {
  char* end_a = nullptr;
  char* end_b = nullptr;
  const double x = std::strtod(a.c_str(), &end_a);
  const double y = std::strtod(b.c_str(), &end_b);
  if (*end_a != '\0' || *end_b != '\0' || a.empty() || b.empty()) return a == b;
  return std::abs(x - y) <= std::max(nothing, within * std::max(std::abs(x), std::abs(y)));
}

void compare(const Record& now, const std::string& name, double within = of_figures) {
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
    if (is != now.end() && !same(value, is->second, within)) differs(key, value, is->second);
  }
  for (const auto& [key, value] : now) {
    if (before.count(key) == 0) differs(key, "no figure", value);
  }
  CHECK_MESSAGE(told == 0, told, " figures differ");
}

std::string text_of(const std::string& name) {
  std::ifstream in(THOLE_ROOT "/examples/" + name + ".yaml");
  std::string text{std::istreambuf_iterator<char>(in), {}};
  REQUIRE_FALSE(text.empty());
  return text;
}

Setup setup_of(const std::string& name) {
  return read_setup(text_of(name), name, built_in_materials());
}

void example(const std::string& name) { compare(figures(setup_of(name), true), name); }

// How many designs each rule of the search ended, and what came of it.
void size(const std::string& name) {
  const Setup s = setup_of(name);
  Record out;
  take(test::JsonReader(size_json(s, size_mount(s, {}, built_in_materials()))).whole(), "size",
       out);
  compare(out, "size-of-" + name);
}

void changes(const std::string& name) {
  ChangeOptions o;
  o.step = degrees(10);
  const ChangeAnswer a = suggest_changes(text_of(name), name, built_in_materials(), o);
  Record out;
  take(test::JsonReader(change_list_json(setup_of(name), a)).whole(), "changes", out);
  compare(out, "changes-of-" + name);
}

void booms(const std::string& name) {
  AssessOptions o;
  o.step = degrees(10);
  Record out;
  for (const BoomRow& row : boom_sweep(setup_of(name), degrees(30), o)) {
    const std::string key =
        row.gear + " " + std::to_string(std::lround(row.azimuth.value() * 180 / M_PI));
    out[key + " worst ratio"] = written(row.worst_ratio);
    if (row.hold_limit) out[key + " hold limit"] = written(row.hold_limit->value());
    if (row.heeling) out[key + " heeling"] = written(row.heeling->value());
  }
  compare(out, "booms-of-" + name);
}

// What is recorded `of` each of `count` random setups that the reader takes.
template <class Of>
Record of_random(std::uint64_t first, int count, const Of& of) {
  Record all;
  for (std::uint64_t seed = first; count > 0; ++seed) {
    try {
      const Setup s = read_setup(test::setup_text({seed, {}}), "random", built_in_materials());
      for (const auto& [key, value] : of(s)) all[std::to_string(seed) + " " + key] = value;
      --count;
    } catch (const InputError&) {
    }
  }
  return all;
}

void random(std::uint64_t first, int count) {
  const Record all = of_random(first, count, [](const Setup& s) {
    Record out = figures(s, false);
    std::erase_if(out, [](const auto& one) {
      const std::string& key = one.first;
      const bool kept = key == "verdict" || key.rfind("limits", 0) == 0 ||
                        key.rfind("boat", 0) == 0 ||
                        (key.rfind("checks", 0) == 0 && key.find("].factor") != key.npos);
      return !kept;
    });
    return out;
  });
  compare(all, "random-from-" + std::to_string(first));
}

// How many figures, and the sum of their logarithms: one that moves by a per cent is seen.
struct Sum {
  int count = 0;
  double of = 0;
  void add(double x) {
    ++count;
    of += std::asinh(x);
  }
};

void add_csv(const std::string& table, Sum& sum) {
  for (std::size_t at = 0; at < table.size();) {
    const std::size_t end = std::min(table.find_first_of(",\n", at), table.size());
    const std::string cell = table.substr(at, end - at);
    char* stop = nullptr;
    const double x = std::strtod(cell.c_str(), &stop);
    if (!cell.empty() && *stop == '\0' && std::isfinite(x)) sum.add(x);
    at = end + 1;
  }
}

// All that is computed of one setup in a few sums.
Record in_brief(const Setup& s) {
  AssessOptions o;
  o.step = degrees(30);
  o.one_missing = o.by_direction = o.after_loss = o.margins = o.forces = true;
  const Assessment a = assess(s, o);
  const JsonValue report = test::JsonReader(json_report(s, a)).whole();
  std::map<std::string, Sum> sums;
  for (const std::string key : computed) {
    if (!report.has(key)) continue;
    Record own;
    take(report[key], key, own);
    const bool alone = key == "checks" || key == "cases" || key == "gear_limits";
    for (const auto& [path, value] : own) {
      sums[alone ? key : "rest"].add(std::strtod(value.c_str(), nullptr));
    }
  }
  add_csv(forces_csv(s, a), sums["forces"]);
  Record out;
  for (const auto& [key, sum] : sums) {
    out[key + " " + std::to_string(sum.count)] = written(sum.of, 9);
  }
  return out;
}

void random_in_brief(std::uint64_t first, int count) {
  compare(of_random(first, count, in_brief), "brief-from-" + std::to_string(first), of_sums);
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
  TEST_CASE("recorded: 25 random setups in brief from 20000") { random_in_brief(20000, 25); }
  TEST_CASE("recorded: 25 random setups in brief from 20100") { random_in_brief(20100, 25); }
  TEST_CASE("recorded: 25 random setups in brief from 20200") { random_in_brief(20200, 25); }
  TEST_CASE("recorded: 25 random setups in brief from 20300") { random_in_brief(20300, 25); }
  TEST_CASE("recorded: 25 random setups in brief from 20400") { random_in_brief(20400, 25); }
  TEST_CASE("recorded: 25 random setups in brief from 20500") { random_in_brief(20500, 25); }
  TEST_CASE("recorded: 25 random setups in brief from 20600") { random_in_brief(20600, 25); }
  TEST_CASE("recorded: 25 random setups in brief from 20700") { random_in_brief(20700, 25); }
  TEST_CASE("recorded: sizes of the jon boat") { size("reservoir-jon-boat"); }
  TEST_CASE("recorded: sizes of the lough boat") { size("lough-boat"); }
  TEST_CASE("recorded: sizes of the cartopper") { size("lake-cartopper"); }
  TEST_CASE("recorded: sizes of the skiff") { size("fjord-skiff"); }
  TEST_CASE("recorded: changes of the bay boat") { changes("bay-boat"); }
  TEST_CASE("recorded: changes of the jon boat") { changes("reservoir-jon-boat"); }
  TEST_CASE("recorded: booms of the skiff") { booms("fjord-skiff"); }
  TEST_CASE("recorded: booms of the lough boat") { booms("lough-boat"); }
}
