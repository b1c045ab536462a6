// What a text may cost: time, memory and lines of messages. All limits are judgement, far above a
// setup that describes a boat; they are listed in DEVELOPERS.md.

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "reading/document.hpp"

using namespace thole;

namespace {

std::string file_text(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  REQUIRE(in.good());
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string repeated(const std::string& text, int times) {
  std::string out;
  for (int i = 0; i < times; ++i) out += text;
  return out;
}

std::vector<Problem> problems_of(const std::string& text) {
  try {
    (void)read_setup(text, "limits.yaml", built_in_materials());
  } catch (const InputError& e) {
    return e.problems();
  }
  return {};
}

std::string first_message(const std::string& text) {
  const std::vector<Problem> problems = problems_of(text);
  return problems.empty() ? "read" : problems.front().message;
}

/// The jon-boat with `to` in place of `from`.
std::string jon_boat(const std::string& from, const std::string& to) {
  std::string text = file_text(THOLE_ROOT "/examples/reservoir-jon-boat.yaml");
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

/// RFC 3629: no stray byte, no character cut off. Overlong forms cannot come from a text that was
/// read.
bool whole_utf8(const std::string& text) {
  int open = 0;
  for (const char c : text) {
    const unsigned b = static_cast<unsigned char>(c);
    const bool continues = (b & 0xC0U) == 0x80U;
    if (continues != (open > 0)) return false;
    open = continues ? open - 1 : b >= 0xF0U ? 3 : b >= 0xE0U ? 2 : b >= 0xC0U ? 1 : 0;
  }
  return open == 0;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("resources: a text above 1 MiB is refused with both sizes") {
    const std::string most(std::size_t{1} << 20U, '#');
    CHECK_NOTHROW(reading::read_yaml(most, "limits.yaml"));
    CHECK(first_message(most + "#") == "the file has 1048577 bytes; at most 1048576 are read");
  }

  TEST_CASE("resources: sixteen levels are read and the seventeenth is refused") {
    const auto nested = [](int levels) {
      return repeated("[", levels) + "1" + repeated("]", levels);
    };
    CHECK_NOTHROW(reading::read_yaml(nested(16), "limits.yaml"));
    CHECK(first_message(nested(17)) == "this is nested deeper than 16 levels");
    // The parser itself gives up at 500 without running out of stack.
    for (const char* open : {"[", "{a: ", "- ", "? "}) {
      CAPTURE(open);
      CHECK(problems_of(repeated(open, 200000)).size() == 1);
    }
  }

  TEST_CASE("resources: twenty thousand values are read and the next is refused") {
    // The list itself is a value.
    CHECK_NOTHROW(reading::read_yaml("[" + repeated("1,", 19999) + "]", "limits.yaml"));
    CHECK(first_message("[" + repeated("1,", 20000) + "]") ==
          "the file has more than 20000 values");
  }

  TEST_CASE("resources: aliases that would unfold to a thousand million values are refused") {
    std::string text = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n";
    for (int i = 1; i < 9; ++i) {
      const std::string before = "*a" + std::to_string(i - 1);
      text += "a" + std::to_string(i) + ": &a" + std::to_string(i) + " [" +
              repeated(before + ", ", 9) + before + "]\n";
    }
    const std::vector<Problem> problems = problems_of(text);
    REQUIRE(problems.size() == 50);  // as many as are looked for in a text that is no plain YAML
    CHECK(problems[0].message.find("is an anchor, and anchors are not read here") !=
          std::string::npos);
    CHECK(problems[2].message.find("is an alias, and aliases are not read here") !=
          std::string::npos);
    CHECK(problems_of("a: &a [1, *a]\n").size() == 2);
  }

  TEST_CASE("resources: lists end where their message says") {
    CHECK(first_message(jon_boat("gear:\n", "gear:\n" + repeated("  - {kind: rod_holder}\n", 60)))
              .starts_with("gear: at most 60 items are read; found 61"));
    const std::string holes = "holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}";
    const auto row = [&](int n) {
      std::string list = "[";
      for (int i = 0; i < n; ++i) {
        list += (i == 0 ? "[" : ", [") + std::to_string(i % 40 - 20) + " mm, " +
                std::to_string(i / 40 - 12) + " mm]";
      }
      return first_message(jon_boat(holes, "holes: {points: " + list + "]}"));
    };
    CHECK(row(25).find("at most 24 fasteners in one pattern") != std::string::npos);
    CHECK(row(1000).find("a list of 1 to 48 points is expected") != std::string::npos);
  }

  // Found with 48 positions on each of four: more than five million sets, and no memory left.
  TEST_CASE("resources: boom positions of the gears of one plate are counted together") {
    Setup s = read_setup(file_text(THOLE_ROOT "/examples/bay-boat.yaml"), "limits.yaml",
                         built_in_materials());
    Gear other = s.gear[0];
    other.name = "other";
    s.gear.push_back(other);
    const auto with_angles = [&](std::size_t own, std::size_t others) {
      s.gear[0].downrigger->boom_angles.assign(own, degrees(0));
      s.gear[1].downrigger->boom_angles.assign(others, degrees(0));
      try {
        validate(s);
      } catch (const DomainError& e) {
        return std::string(e.what());
      }
      return std::string("taken");
    };
    CHECK(with_angles(5, 20) == "taken");
    CHECK(with_angles(20, 6).find("120 sets of boom positions on one plate, each with each: at "
                                  "most 100") != std::string::npos);
    s.gear.pop_back();
    s.gear[0].downrigger->boom_angles.assign(24, degrees(0));
    CHECK_NOTHROW(validate(s));
  }

  TEST_CASE("resources: the words of a user are cut off in messages") {
    const std::string name(900000, 'x');
    CHECK(first_message(jon_boat("Rod holder on", name)) == "title: at most 200 characters");
    for (const char* value :
         {"4 in", "closed_section", "no", "rod_holder", "7 lbf", "6063-T5 extr"}) {
      CAPTURE(value);
      for (const Problem& p : problems_of(jon_boat(value, name))) {
        CHECK(p.message.size() < 600);
        CHECK(to_text(p).size() < 1000);
      }
    }
  }

  TEST_CASE("resources: a hundred problems are told and then how many more there are") {
    std::string words = "wrd";
    for (int i = 0; i < 150; ++i) words += ", wrd" + std::to_string(i);
    const std::vector<Problem> problems =
        problems_of(jon_boat("none: [oar, hatch]", "none: [" + words + "]"));
    REQUIRE(problems.size() == 101);
    CHECK(problems.back().message ==
          "from here on there are 51 more problems; mend those above first");
    std::string keys;
    for (int i = 0; i < 15000; ++i) keys += "key" + std::to_string(i) + ": 1\n";
    const std::vector<Problem> unknown = problems_of(jon_boat("thole: 1\n", "thole: 1\n" + keys));
    REQUIRE(unknown.size() == 101);
    CHECK(unknown.back().message ==
          "from here on there are 14900 more problems; mend those above first");
  }

  TEST_CASE("resources: a number is as long and as great as a boat needs") {
    const auto height = [](const std::string& value) {
      return first_message(jon_boat("height: 4 in", "height: " + value));
    };
    CHECK(height(std::string(97, '0') + "4 in").find("without a zero") != std::string::npos);
    CHECK(height(std::string(98, '.') + "4 in").find("longer than 100 bytes") != std::string::npos);
    CHECK(height("4." + std::string(15, '0') + " in").find("more than 15 digits") !=
          std::string::npos);
    CHECK(height("4." + std::string(14, '0') + " in") == "read");
    CHECK(
        height("0." + std::string(23, '0') + " in").find("more than 22 digits behind the point") !=
        std::string::npos);
    CHECK(height("9999999999999999 in").find("more than 15 digits") != std::string::npos);
    CHECK(height("1e16 in").find("the power of ten is beyond 15") != std::string::npos);
    CHECK(height("1e15 in").find("is far beyond a small boat") != std::string::npos);
    CHECK(height("1/999999999999999 in") != "");
  }

  TEST_CASE("resources: no run of zeros makes a value that is no number") {
    for (const int zeros : {1, 14, 22, 23, 80, 290, 310, 400, 5000}) {
      for (const char* feet : {"0 ft 0.", "0' 0.", "0."}) {
        CAPTURE(zeros);
        CAPTURE(feet);
        try {
          const double si = parse_measure(feet + std::string(std::size_t(zeros), '0') + " in").si;
          CHECK(si == 0);
        } catch (const UnitError&) {
          CHECK(zeros > 14);
        }
      }
    }
  }

  TEST_CASE("resources: what a fuzz target once found stays mended") {
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(THOLE_ROOT "/tests/data/found")) {
      if (entry.path().extension() == ".md") continue;
      ++files;
      CAPTURE(entry.path().filename().string());
      const std::string text = file_text(entry.path());
      const auto try_to = [&](auto work) {
        try {
          work();
        } catch (const InternalError& e) {
          FAIL(e.what());
        } catch (const Error& e) {
          CHECK(whole_utf8(e.what()));
          CHECK(std::string(e.what()).size() < 100000);
        }
      };
      try_to([&] {
        const double si = parse_measure(text).si;
        CHECK(std::isfinite(si));
      });
      try_to([&] {
        MaterialLibrary library;
        add_table(library, text, "found");
      });
      try_to([&] {
        const Setup setup = read_setup(text, "found", built_in_materials());
        AssessOptions coarse;
        coarse.step = degrees(30);
        for (const CheckResult& c : assess(setup, coarse).checks) {
          CHECK_FALSE(std::isnan(c.factor));
        }
      });
    }
    CHECK(files >= 4);
  }
}
