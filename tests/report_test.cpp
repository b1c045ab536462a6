// What every report keeps to, and the stored reports of the examples.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <thole/error.hpp>
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
      if (entry.path().extension() != ".yaml") continue;
#ifndef NDEBUG
      // Where nothing is optimised each mount as drawn is enough: every test assesses them anew.
      if (entry.path().stem().string().ends_with("-fix")) continue;
#endif
      files.push_back(entry.path());
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

const Example& board_example() {
  for (const Example& e : examples()) {
    if (e.setup.on_board() && e.setup.title.ends_with("as drawn")) return e;
  }
  throw InternalError("no example of a board");
}

Example assessed(const std::string& name, Setup s) {
  Assessment a = assess(s);
  return {name, std::move(s), std::move(a)};
}

// Boards that a report has to say different things about.
const std::vector<Example>& boards() {
  static const std::vector<Example> all = [] {
    std::vector<Example> out{board_example()};
    Setup s = board_example().setup;
    s.gear.back().downrigger->boom_length = 1.5 * s.gear.back().downrigger->boom_length;
    out.push_back(assessed("unlike gears", s));
    s = board_example().setup;
    s.gear.pop_back();
    out.push_back(assessed("one gear", s));
    s = board_example().setup;
    s.board().hold_downs.clear();
    out.push_back(assessed("no hold-downs", s));
    // As if all held, on many conditions.
    Example e = board_example();
    e.name = "many conditions";
    e.result.verdict = Verdict::holds_if;
    e.result.to_do.clear();
    for (int i = 0; i < 40; ++i) {
      e.result.holds_if.push_back("condition number " + std::to_string(i));
      e.result.holds_if.push_back("not \"part " + std::to_string(i) + "\": not checked, no source");
    }
    out.push_back(e);
    return out;
  }();
  return all;
}

const Example& board_called(const std::string& name) {
  for (const Example& e : boards()) {
    if (e.name == name) return e;
  }
  throw InternalError("no such board");
}

std::string on_one_line(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c != ' ' && c != '\n') {
      out += c;
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  return out;
}

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t n = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
  return n;
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
        // A longer name may make the report give something up, never add a line of its own.
        if (!details) CHECK(lines_of(text).size() <= plain_lines);
      }
      const std::string json = json_report(s, a);
      CHECK_FALSE(has_control(json));
      CHECK(valid_utf8(json));
    }
  }

  TEST_CASE("report: every board fits a screen with verdict and cautions and deferral") {
    for (const Example& e : boards()) {
      CAPTURE(e.name);
      for (const bool details : {false, true}) {
        const std::string text =
            terminal_report(e.setup, e.result, {.colour = false, .details = details});
        for (const std::string& line : lines_of(text)) CHECK_MESSAGE(width(line) <= 79, line);
        if (!details) CHECK(lines_of(text).size() <= 48);
        CHECK_FALSE(has_control(text));
        CHECK_FALSE(has_word(lower(text), "nan"));
        CHECK_FALSE(has_word(lower(text), "inf"));
        const std::string all = on_one_line(text);
        CHECK(lower(all).find(word_for(e.result.verdict)) != std::string::npos);
        CHECK(all.find("! never tie off, tow, moor, anchor or lift") != std::string::npos);
        CHECK(all.find("marine professional") != std::string::npos);
      }
      const std::string json = json_report(e.setup, e.result);
      CHECK_FALSE(has_word(json, "nan"));
      CHECK_FALSE(has_word(json, "inf"));
    }
  }

  TEST_CASE("report: gears with the same limits share a line and others are named") {
    const std::string same =
        on_one_line(terminal_report(board_example().setup, board_example().result));
    CHECK(same.find("Hold limit each downrigger: ") != std::string::npos);
    CHECK(same.find("Setting each downrigger: brake to slip at not above ") != std::string::npos);
    CHECK(same.find(" at the boom tip, at full factors for a pull of minutes") !=
          std::string::npos);
    CHECK(same.find("drag") == std::string::npos);
    CHECK(same.find("on the line") == std::string::npos);

    const Example& unlike = board_called("unlike gears");
    const std::string two = on_one_line(terminal_report(unlike.setup, unlike.result));
    CHECK(two.find("each downrigger") == std::string::npos);
    REQUIRE(unlike.result.gear_limits.size() == 2);
    for (const GearLimit& l : unlike.result.gear_limits) {
      REQUIRE(l.hold_limit);
      CHECK(two.find(l.gear + ": " + about(*l.hold_limit, unlike.setup.units, Rounding::down) +
                     " at the boom tip") != std::string::npos);
    }

    const Example& one = board_called("one gear");
    const std::string single = on_one_line(terminal_report(one.setup, one.result));
    CHECK(single.find("Setting brake to slip at not above ") != std::string::npos);
  }

  TEST_CASE("report: equal links of mirrored gears are one link of the ladder") {
    const Example& e = board_example();
    const std::string text = on_one_line(terminal_report(e.setup, e.result));
    CHECK(times(text, "brakes slip 300 N to 450 N") == 1);
    CHECK(text.find("brake slips (") == std::string::npos);
    CHECK(times(text, "wires part ") == 1);
    // With a weaker wire on one side they are two.
    Setup s = e.setup;
    s.gear.back().downrigger->wire_break = 0.8 * *s.gear.back().downrigger->wire_break;
    const std::string two = on_one_line(terminal_report(s, assess(s)));
    CHECK(times(two, "wire parts (") == 2);
  }

  TEST_CASE("report: a dent has no pull at which it goes and each row has its place") {
    Example e = board_example();
    REQUIRE(e.result.checks.size() > 1);
    for (CheckResult& c : e.result.checks) {
      if (c.mode == "ledge-dent") std::swap(c, e.result.checks.front());
    }
    REQUIRE(e.result.checks.front().mode == "ledge-dent");
    const std::string text = terminal_report(e.setup, e.result);
    const auto lines = lines_of(text);
    const auto row = std::find_if(lines.begin(), lines.end(), [](const std::string& line) {
      return line.rfind("  plank dents on its seat", 0) == 0;
    });
    REQUIRE(row != lines.end());
    CHECK(row->find(" dents ", 10) != std::string::npos);
    CHECK(row->find(e.result.checks.front().where) != std::string::npos);
    CHECK(json_report(e.setup, e.result).find("\"limit_of_use\": true") != std::string::npos);
  }

  TEST_CASE("report: a board that moves as a whole has a motion and a remedy and no numbers") {
    const Example& e = board_called("no hold-downs");
    REQUIRE(e.result.verdict == Verdict::no_verdict);
    const std::string text = terminal_report(e.setup, e.result);
    const auto lines = lines_of(text);
    REQUIRE(lines.size() > 6);
    CHECK(lines[3].rfind("  The board can ", 0) == 0);
    CHECK(text.find("\n  What would stop it: ") != std::string::npos);
    CHECK(text.find("Hold limit") == std::string::npos);
    CHECK(text.find("Setting") == std::string::npos);
    CHECK(text.find("Gives way") == std::string::npos);
    const std::string json = json_report(e.setup, e.result);
    CHECK(json.find("\"hold_limit_N\": null") != std::string::npos);
    CHECK(json.find("\"mode\": \"board-bending\"") != std::string::npos);
    CHECK(json.find("\"case\": \"trolling") == std::string::npos);
  }

  TEST_CASE("report: a board's details name supports and movement and the limits of each gear") {
    const Example& e = board_example();
    const std::string text = terminal_report(e.setup, e.result, {.colour = false, .details = true});
    for (const char* heading : {"\nLimits of each gear\n", "\nMovement\n", "\nNotes\n",
                                "\nForces on the supports, worst deciding case\n"}) {
      CAPTURE(heading);
      CHECK(text.find(heading) != std::string::npos);
    }
    CHECK(text.find("Forces on the fasteners") == std::string::npos);
    const std::string json = json_report(e.setup, e.result);
    for (const char* key :
         {"\"gear_limits\": [\n", "\"supports\": [\n", "\"movements\": [\n", "\"notes\": [\n",
          "\"ranges_deg\": [\n", "\"first_to_go\": ", "\"tip_m\": ", "\"force_N\": "}) {
      CAPTURE(key);
      CHECK(json.find(key) != std::string::npos);
    }
  }

  TEST_CASE("report: hostile names on a board stay harmless") {
    std::string boats;
    for (int i = 0; i < 100; ++i) boats += "\xf0\x9f\x9b\xb6";
    const std::string hostile[] = {std::string(10240, 'x'), "\x1b[2J\x1b[31mred\x07",
                                   "\xc2\x9b"
                                   "2J",
                                   boats, "two\nlines \"quoted\" \\"};
    for (const std::string& name : hostile) {
      Setup s = board_example().setup;
      s.title = name;
      s.gear.front().name = name + " 1";
      s.gear.back().name = name + " 2";
      for (HoldDown& h : s.board().hold_downs) h.name = name;
      const Assessment a = assess(s);
      for (const bool details : {false, true}) {
        const std::string text = terminal_report(s, a, {.colour = false, .details = details});
        CAPTURE(text.substr(0, 100));
        CHECK_FALSE(has_control(text));
        CHECK_FALSE(has_c1(text));
        CHECK(valid_utf8(text));
        for (const std::string& line : lines_of(text)) CHECK_MESSAGE(width(line) <= 79, line);
        if (!details) CHECK(lines_of(text).size() <= 48);
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
