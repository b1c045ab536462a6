// What every report keeps to, and the stored reports of the examples.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <thole/reading.hpp>
#include <thole/thole.hpp>

#ifndef THOLE_EXAMPLES_DIR
#define THOLE_EXAMPLES_DIR THOLE_ROOT "/examples"
#endif

using namespace thole;

namespace {

struct Example {
  std::string name;  // of the file, without .yaml
  Setup setup;
  Assessment result;
};

std::string contents(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

const std::vector<Example>& examples() {
  static const std::vector<Example> all = [] {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(THOLE_EXAMPLES_DIR)) {
      if (entry.path().extension() == ".yaml") files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    std::vector<Example> out;
    for (const auto& file : files) {
      Example e;
      e.name = file.stem().string();
      e.setup = read_setup(contents(file), e.name + ".yaml", built_in_materials());
      e.result = assess(e.setup);
      out.push_back(std::move(e));
    }
    return out;
  }();
  return all;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

// Columns of a terminal: code points of UTF-8.
std::size_t width(const std::string& line) {
  return std::size_t(std::count_if(line.begin(), line.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xc0) != 0x80;
  }));
}

std::string lower(std::string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

bool has_word(const std::string& text, const std::string& word) {
  const auto letter = [](char c) { return c >= 'a' && c <= 'z'; };
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    if ((at == 0 || !letter(text[at - 1])) && (end == text.size() || !letter(text[end]))) {
      return true;
    }
  }
  return false;
}

bool has_control(const std::string& text) {
  return std::any_of(text.begin(), text.end(), [](char c) {
    const auto u = static_cast<unsigned char>(c);
    return (u < 0x20 && c != '\n') || u == 0x7f;
  });
}

// C1 controls, U+0080 to U+009F: some terminals obey them as escape sequences.
bool has_c1(const std::string& text) {
  for (std::size_t i = 0; i + 1 < text.size(); ++i) {
    const auto b = static_cast<unsigned char>(text[i + 1]);
    if (text[i] == '\xc2' && b >= 0x80 && b <= 0x9f) return true;
  }
  return false;
}

bool valid_utf8(const std::string& s) {
  for (std::size_t i = 0; i < s.size();) {
    const auto c = static_cast<unsigned char>(s[i]);
    const std::size_t n = c < 0x80         ? 1
                          : (c >> 5) == 6  ? 2
                          : (c >> 4) == 14 ? 3
                          : (c >> 3) == 30 ? 4
                                           : 0;
    if (n == 0 || i + n > s.size()) return false;
    for (std::size_t k = 1; k < n; ++k) {
      if ((static_cast<unsigned char>(s[i + k]) & 0xc0) != 0x80) return false;
    }
    i += n;
  }
  return true;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("report: there are examples") { CHECK_FALSE(examples().empty()); }

  TEST_CASE("report: the terminal report of each example fits a screen") {
    for (const Example& e : examples()) {
      CAPTURE(e.name);
      for (const bool details : {false, true}) {
        const std::string text =
            terminal_report(e.setup, e.result, {.colour = false, .details = details});
        const std::vector<std::string> lines = lines_of(text);
        for (const std::string& line : lines) CHECK_MESSAGE(width(line) <= 80, line);
        if (!details) CHECK(lines.size() <= 48);
      }
    }
  }

  TEST_CASE("report: the verdict stands at the top and the deferral is there") {
    for (const Example& e : examples()) {
      CAPTURE(e.name);
      std::string word = lower(std::string(word_for(e.result.verdict)));
      const std::string text = lower(terminal_report(e.setup, e.result));
      const std::vector<std::string> lines = lines_of(text);
      REQUIRE(lines.size() > 4);
      bool at_top = false;
      for (std::size_t i = 0; i < 4; ++i) {
        at_top = at_top || lines[i].find(word) != std::string::npos;
      }
      CHECK(at_top);
      std::string one_line = text;
      std::replace(one_line.begin(), one_line.end(), '\n', ' ');
      CHECK(one_line.find("marine professional") != std::string::npos);
      CHECK(one_line.find("a calculation is not an inspection") != std::string::npos);
      CHECK(json_report(e.setup, e.result).find("marine professional") != std::string::npos);
    }
  }

  TEST_CASE("report: no report says safe or approved or certified") {
    for (const Example& e : examples()) {
      CAPTURE(e.name);
      Setup s = e.setup;
      s.title.clear();  // the user's own words are theirs
      for (const std::string& report :
           {terminal_report(s, e.result, {.colour = false, .details = true}),
            json_report(s, e.result)}) {
        const std::string text = lower(report);
        for (const char* word : {"safe", "safely", "approved", "certified", "guaranteed"}) {
          CAPTURE(word);
          CHECK_FALSE(has_word(text, word));
        }
      }
    }
  }

  TEST_CASE("report: colour only where it is asked for") {
    for (const Example& e : examples()) {
      CAPTURE(e.name);
      CHECK_FALSE(has_control(terminal_report(e.setup, e.result)));
      CHECK_FALSE(
          has_control(terminal_report(e.setup, e.result, {.colour = false, .details = true})));
      CHECK_FALSE(has_control(json_report(e.setup, e.result)));
      CHECK(has_control(terminal_report(e.setup, e.result, {.colour = true, .details = false})));
    }
  }

  TEST_CASE("report: hostile titles and names stay harmless") {
    REQUIRE_FALSE(examples().empty());
    const Example& e = examples().front();
    std::string control;
    for (int c = 1; c < 32; ++c) control += char(c);
    std::string boats;
    for (int i = 0; i < 200; ++i) boats += "\xf0\x9f\x9b\xb6";
    const std::string hostile[] = {std::string(10240, 'x'),
                                   std::string(10240, ' '),
                                   control + "\x7f title",
                                   "\x1b[2J\x1b[31mred\x1b]0;owned\x07",
                                   "\xc2\x9b"
                                   "2J",
                                   boats,
                                   "a" + boats,
                                   "ab" + boats,
                                   "abc" + boats,
                                   "quotes \" and \\ and \n newline",
                                   "</script><script>alert(1)</script>",
                                   std::string("nul\0byte", 8)};
    const auto plain_lines = lines_of(terminal_report(e.setup, e.result)).size();
    for (const std::string& title : hostile) {
      Setup s = e.setup;
      s.title = title;
      s.gear.front().name = title;
      for (Input& i : s.inputs) {
        if (i.is_text) i.value = title;
      }
      const Assessment a = assess(s);
      for (const bool details : {false, true}) {
        const std::string text = terminal_report(s, a, {.colour = false, .details = details});
        CAPTURE(text.substr(0, 100));
        CHECK_FALSE(has_control(text));
        CHECK_FALSE(has_c1(text));
        CHECK(valid_utf8(text));
        CHECK(text.find('\0') == std::string::npos);
        if (!details) CHECK(lines_of(text).size() == plain_lines);
      }
      const std::string json = json_report(s, a);
      CHECK_FALSE(has_control(json));
      CHECK(valid_utf8(json));
    }
  }

  TEST_CASE("report: the stored report of each example is the one written now") {
    for (const Example& e : examples()) {
      const std::filesystem::path file =
          std::filesystem::path(THOLE_EXAMPLES_DIR) / (e.name + ".txt");
      CAPTURE(e.name);
      const std::string now = terminal_report(e.setup, e.result);
      const std::string hint = "if the change is meant: thole check examples/" + e.name +
                               ".yaml > examples/" + e.name + ".txt";
      CHECK_MESSAGE(std::filesystem::exists(file), hint);
      if (!std::filesystem::exists(file)) continue;
      const std::string stored = contents(file);
      if (stored == now) continue;
      const std::vector<std::string> a = lines_of(stored);
      const std::vector<std::string> b = lines_of(now);
      std::size_t i = 0;
      while (i < a.size() && i < b.size() && a[i] == b[i]) ++i;
      FAIL_CHECK("line " << i + 1 << "\n  stored: " << (i < a.size() ? a[i] : "(end)")
                         << "\n  now:    " << (i < b.size() ? b[i] : "(end)") << "\n"
                         << hint);
    }
  }
}
