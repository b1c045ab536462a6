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

Example example_of(const std::filesystem::path& file) {
  Example e;
  e.name = file.stem().string();
  e.setup = read_setup(contents(file), e.name + ".yaml", built_in_materials());
  AssessOptions options;
  options.one_missing = !e.setup.on_board();  // as the program does
  e.result = assess(e.setup, options);
  return e;
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
    for (const auto& file : files) out.push_back(example_of(file));
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
  static const Example drawn =
      example_of(std::filesystem::path(THOLE_EXAMPLES_DIR) / "fjord-skiff.yaml");
  return drawn;
}

Example assessed(const std::string& name, Setup s) {
  Assessment a = assess(s);
  return {name, std::move(s), std::move(a)};
}

Force newtons(double n) { return n * si::newton; }

LoadCase a_case(const std::string& id, const std::string& title) {
  LoadCase c;
  c.id = id;
  c.kind = id;
  c.title = title;
  c.why = "because";
  c.pull = newtons(100);
  c.ranges = {c.range};
  return c;
}

// A boat whose limit lies below the mount's, figures to look at again, changed cases.
void say_much(Example& e) {
  using namespace literals;
  Assessment& a = e.result;
  a.boat = {};
  a.boat.described = true;
  a.boat.gm = 0.45_m;
  a.boat.gm_from = "lean test";
  a.boat.edge_angle = 25.0_deg;
  a.boat.threshold = 300.0_N * 1.0_m;
  for (std::size_t i = 0; i < a.gear_limits.size(); ++i) {
    GearLimit& l = a.gear_limits[i];
    l.hold_limit = newtons(200);
    l.not_before = newtons(500);
    l.setting = newtons(130);
    l.test_pull = newtons(162);
    l.all_hung_up.reset();
    HeelPull p;
    p.gear = l.gear;
    p.notice = newtons(90 + 60 * double(i));
    p.strong = newtons(180);
    p.swamping = newtons(420);
    p.setting = p.notice / 1.5;
    a.boat.pulls.push_back(p);
    HeelRow r;
    r.load_case = "hung-up-seized-" + std::to_string(i + 1);
    r.title = "ball hung up, brake seized, " + l.gear;
    r.gear = l.gear;
    r.pull = newtons(1330);
    r.moment = 1330.0_N * 1.0_m;
    r.person_off_middle = 1.6_m;
    r.level = HeelLevel::swamping;
    a.boat.rows.push_back(r);
  }
  a.boat.cautions = {"the boat leans far by then",
                     "a comparison with published figures, no stability check"};
  a.look_again.clear();
  for (int i = 0; i < 5; ++i) {
    a.look_again.push_back("figure number " + std::to_string(i) +
                           " looks like another quantity: a speed in knots taken for miles");
  }
  a.case_changes = {
      "changed: trolling in waves, 130 N, everyday in place of 82 N, everyday (scale)",
      "left out: somebody leans on the board (nobody is there)",
      "added: towing a float, 150 N, occasional (the children)"};
  a.to_do.emplace_back(
      "as it stands: set the brake to slip at 130 N or less, measured with a "
      "scale at the clip");
  CaseResult left;
  left.load_case = a_case("lean-on-board", "somebody leans on the board");
  left.load_case.left_out = true;
  left.load_case.owners_why = "nobody is there";
  a.cases.push_back(left);
  CaseResult warning;
  warning.load_case = a_case("dock-knock", "a boom left out meets a dock");
  warning.load_case.path = LoadPath::warning;
  a.cases.push_back(warning);
}

// Boards that a report has to say different things about.
const std::vector<Example>& boards() {
  static const std::vector<Example> all = [] {
    std::vector<Example> out{board_example()};
    Setup s = board_example().setup;
    s.boat.reset();
    out.push_back(assessed("boat not described", s));
    s.gear.back().downrigger->boom_length = 1.5 * s.gear.back().downrigger->boom_length;
    out.push_back(assessed("unlike gears", s));
    s = board_example().setup;
    s.boat.reset();
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
    // With everything to say at once.
    e = board_example();
    e.name = "much to say";
    say_much(e);
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
        if (!details) CHECK(lines_of(text).size() <= 48);
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
    // Any brake setting shall do here.
    const auto any_brake = [](Example e) {
      for (GearLimit& l : e.result.gear_limits) l.least_useful = Force{};
      return e;
    };
    const Example both = any_brake(board_called("boat not described"));
    const std::string same = on_one_line(terminal_report(both.setup, both.result));
    CHECK(same.find("Hold limit each downrigger: ") != std::string::npos);
    CHECK(same.find("Setting each downrigger: change it first; by its pulls alone brake to slip at "
                    "not above ") != std::string::npos);
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

    const Example one = any_brake(board_called("one gear"));
    const std::string single = on_one_line(terminal_report(one.setup, one.result));
    CHECK(single.find("Setting change it first; by its pulls alone brake to slip at not above ") !=
          std::string::npos);
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
    CHECK(text.find("\n  The board can ") != std::string::npos);
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

  TEST_CASE("report: the lower of mount and boat is what may be set") {
    Example e = board_called("much to say");
    for (GearLimit& l : e.result.gear_limits) l.least_useful = Force{};
    // Else there is no room for each gear by itself.
    e.result.look_again.clear();
    e.result.case_changes.clear();
    e.setup.fit.reset();
    const std::string text = on_one_line(terminal_report(e.setup, e.result));
    REQUIRE(e.result.gear_limits.size() == 2);
    const std::string first = e.result.gear_limits[0].gear;
    const std::string second = e.result.gear_limits[1].gear;
    // Two limits side by side, and never without the words.
    CHECK(text.find(first + ": 200 N (mount) | a third of the freeboard gone from 90 N (boat)") !=
          std::string::npos);
    CHECK(text.find(second + ": 200 N (mount) | a third of the freeboard gone from 150 N (boat)") !=
          std::string::npos);
    CHECK(text.find("no stability check") != std::string::npos);
    // 90 / 1.5 and 150 / 1.5 are below the mount's 130 N.
    CHECK(text.find(first +
                    ": change it first; by its pulls alone brake to slip at not above 60 N (set by "
                    "the boat, not the mount)") != std::string::npos);
    e.result.verdict = Verdict::holds;
    CHECK(on_one_line(terminal_report(e.setup, e.result))
              .find(first + ": brake to slip at not above 60 N (set by the boat, not the mount)") !=
          std::string::npos);
    e.result.verdict = Verdict::does_not_hold;
    CHECK(text.find(second + ": 100 N (set by the boat, not the mount)") != std::string::npos);
    CHECK(text.find("130 N or less") == std::string::npos);
    const std::string json = json_report(e.setup, e.result);
    CHECK(json.find("\"setting_by\": \"boat\"") != std::string::npos);
    CHECK(json.find("130 N or less") == std::string::npos);
    CHECK(json.find("set the brake to slip at 60 N or less") != std::string::npos);

    // A boat that stands more than the mount.
    Example stiff = e;
    for (HeelPull& p : stiff.result.boat.pulls) {
      p.notice = newtons(900);
      p.strong = p.swamping = std::nullopt;
      p.setting = newtons(600);
    }
    const std::string mount = on_one_line(terminal_report(stiff.setup, stiff.result));
    CHECK(mount.find(
              "each downrigger: 200 N (mount) | a third of the freeboard gone from 900 N (boat)") !=
          std::string::npos);
    CHECK(mount.find("not above 130 N (set by the mount, not the boat)") != std::string::npos);

    // Where it may swamp first, that counts, and what is set keeps below it.
    for (HeelPull& p : stiff.result.boat.pulls) {
      p.strong = newtons(0);
      p.swamping = newtons(150);
      p.setting = newtons(100);
    }
    const std::string swamps = on_one_line(terminal_report(stiff.setup, stiff.result));
    CHECK(swamps.find("(mount) | may swamp from 150 N (boat)") != std::string::npos);
    CHECK(swamps.find("not above 100 N (set by the boat, not the mount)") != std::string::npos);
    CHECK(swamps.find("strong heel at any pull, may swamp from 150 N") != std::string::npos);

    // No setting of the mount: none by the boat either.
    for (GearLimit& l : stiff.result.gear_limits) l.setting.reset();
    CHECK(terminal_report(stiff.setup, stiff.result).find("\nSetting") == std::string::npos);
  }

  TEST_CASE("report: four unlike gears with everything to say keep to a screen") {
    for (const Example& e : {board_called("much to say"), board_called("boat not described")}) {
      Example four = e;
      four.result.boat.described = true;
      for (int i = 0; i < 2; ++i) {
        for (const GearLimit& l : e.result.gear_limits) {
          Gear g = *std::find_if(four.setup.gear.begin(), four.setup.gear.end(),
                                 [&](const Gear& o) { return o.name == l.gear; });
          g.name += " with a name of some length " + std::to_string(i);
          GearLimit own = l;
          own.gear = g.name;
          own.hold_limit = (2.0 + i) * *l.hold_limit;
          own.setting = (2.0 + i) * newtons(100);
          own.set_by += " " + std::to_string(i);
          HeelPull p;
          p.gear = g.name;
          p.notice = newtons(300 + 90 * i);
          p.strong = newtons(500);
          p.setting = newtons(250 + 60 * i);
          four.setup.gear.push_back(g);
          four.result.gear_limits.push_back(own);
          four.result.boat.pulls.push_back(p);
          TowingRow r;
          r.gear = g.name;
          r.depth = newtons(10 + i) / newtons(1) * si::metre;
          four.result.towing.push_back(r);
        }
      }
      four.result.look_again = {std::string(400, 'x'), std::string(400, 'y'), "z"};
      four.result.case_changes = {std::string(4000, 'x'), "left out: " + std::string(4000, 'y')};
      const std::string text = terminal_report(four.setup, four.result);
      CAPTURE(text);
      for (const std::string& line : lines_of(text)) CHECK_MESSAGE(width(line) <= 79, line);
      CHECK(lines_of(text).size() <= 48);
      CHECK(text.find("no stability check") != std::string::npos);
      CHECK(text.find("\nChanged") != std::string::npos);
      CHECK(text.find("\nSetting") != std::string::npos);
      CHECK(text.find("\nLook again") != std::string::npos);
    }
  }

  TEST_CASE("report: a rod's drag on a plate keeps to the lower of mount and boat") {
    for (const Example& e : examples()) {
      if (e.setup.on_board() || !e.result.setting) continue;
      if (!e.setup.gear.front().rod_holder) continue;
      CAPTURE(e.name);
      Example b = e;
      b.result.gear_limits.clear();
      b.result.boat = {};
      b.result.boat.described = true;
      HeelPull p;
      p.gear = b.setup.gear.front().name;
      p.notice = 0.9 * *e.result.setting;
      p.setting = 0.6 * *e.result.setting;
      b.result.boat.pulls = {p};
      const std::string text = on_one_line(terminal_report(b.setup, b.result));
      CHECK(text.find(" (mount) | a third of the freeboard gone from ") != std::string::npos);
      CHECK(text.find("drag not above " + about(*p.setting, b.setup.units, Rounding::down) +
                      " (set by the boat, not the mount)") != std::string::npos);
      CHECK(text.find("no stability check") != std::string::npos);
      CHECK(lines_of(terminal_report(b.setup, b.result)).size() <= 48);
    }
  }

  TEST_CASE("report: figures to look at again stand under the headline") {
    const Example& e = board_called("much to say");
    const std::string text = terminal_report(e.setup, e.result);
    const std::size_t look = text.find("\nLook again  Figure number 0");
    REQUIRE(look != std::string::npos);
    CHECK(look < text.find("\nHold limit"));
    CHECK(text.find("Figure number 2") == std::string::npos);
    CHECK(text.find(" more, see --details.") != std::string::npos);
    const std::string all = terminal_report(e.setup, e.result, {.colour = false, .details = true});
    CHECK(all.find("Figure number 4") != std::string::npos);
    CHECK(json_report(e.setup, e.result).find("\"look_again\": [\n    \"figure number 0") !=
          std::string::npos);
  }

  TEST_CASE("report: what the owner did to the cases is never dropped") {
    Example e = board_called("much to say");
    CHECK(on_one_line(terminal_report(e.setup, e.result))
              .find("Changed 3 load cases are changed, left out or added by the owner, see "
                    "--details") != std::string::npos);
    const std::string all =
        on_one_line(terminal_report(e.setup, e.result, {.colour = false, .details = true}));
    for (const char* part :
         {"Changed trolling in waves, 130 N, everyday in place of 82 N, everyday (scale)",
          "left out: somebody leans on the board (nobody is there)",
          "added: towing a float, 150 N, occasional (the children)",
          "somebody leans on the board (everyday): left out by the owner, not calculated: nobody",
          "a boom left out meets a dock (everyday): a warning, not calculated: because"}) {
      CAPTURE(part);
      CHECK(all.find(part) != std::string::npos);
    }
    e.result.case_changes.resize(2);
    const std::string two = on_one_line(terminal_report(e.setup, e.result));
    CHECK(two.find("Changed trolling in waves, 130 N") != std::string::npos);
    CHECK(two.find("left out: somebody leans") != std::string::npos);
    // Cases without figures have none in JSON.
    const std::string json = json_report(e.setup, e.result);
    const std::size_t at = json.find(
        "\"id\": \"dock-knock\",\n      \"kind\": \"dock-knock\",\n"
        "      \"title\": \"a boom left out meets a dock\"");
    REQUIRE(at != std::string::npos);
    CHECK(json.find("\"holds\": null", at) < json.find("\"motion\"", at));
    CHECK(json.find("\"factor\": null", at) < json.find("\"motion\"", at));
  }

  TEST_CASE("report: wire out and layback of equal downriggers share a line") {
    using namespace literals;
    Example e = board_called("boat not described");
    TowingRow r;
    r.depth = 30.48_m;
    r.wire_out = 32.0_m;
    r.layback = 13.7_m;
    r.greatest_wire_out = 36.0_m;
    r.least_pull = 9.1_lbf;
    r.greatest_pull = 9.6_lbf;
    r.least_angle = 8.0_deg;
    r.greatest_angle = 38.0_deg;
    r.slowest = 1.0 * si::metres_per_second;
    r.fastest = 1.34112 * si::metres_per_second;
    e.setup.units = ReaderUnits::inch;
    e.setup.fit.reset();  // else there is no room for wires
    e.result.towing.clear();
    for (const Gear& g : e.setup.gear) {
      e.result.towing.push_back(r);
      e.result.towing.back().gear = g.name;
    }
    const std::string said = "100 ft down needs about 105 ft of wire at 3 mph, trails 45 ft";
    const std::string text = on_one_line(terminal_report(e.setup, e.result));
    CHECK(times(text, said) == 1);
    const std::string all =
        on_one_line(terminal_report(e.setup, e.result, {.colour = false, .details = true}));
    CHECK(all.find(said + "; pulls 9.1 to 9.6 lbf, 8 to 38 deg from straight down") !=
          std::string::npos);
    CHECK(all.find("at the fastest about 105 ft of wire out") != std::string::npos);
    for (TowingRow& row : e.result.towing) row.too_flat = true;
    const std::string flat = on_one_line(terminal_report(e.setup, e.result));
    CHECK(flat.find("the ball will not reach 100 ft at 3 mph") != std::string::npos);
    CHECK(flat.find("needs about") == std::string::npos);
  }

  TEST_CASE("report: a boat that is not described is a caution and no block") {
    const Example& e = board_called("boat not described");
    const std::string text = terminal_report(e.setup, e.result);
    CHECK(text.find("\nBoat ") == std::string::npos);
    CHECK(text.find("(mount)") == std::string::npos);
    REQUIRE_FALSE(e.result.boat.cautions.empty());
    for (const std::string& c : e.result.boat.cautions) {
      CHECK(times(on_one_line(text), on_one_line("! " + c)) == 1);
    }
    CHECK(on_one_line(text).find("no stability check") != std::string::npos);
  }

  TEST_CASE("report: the table of loads names every case and what the owner did") {
    for (const Example& e : examples()) {
      CAPTURE(e.name);
      std::vector<LoadCase> cases = load_cases(e.setup);
      if (cases.size() <= 4) continue;  // plain loads alone
      cases[0].left_out = true;
      cases[0].owners_why = "it never happens here";
      cases[1].origin = CaseOrigin::changed;
      cases[1].before = "12 lbf, everyday";
      LoadCase own = a_case("a-float", "a float behind");
      own.origin = CaseOrigin::added;
      own.why = "added by the owner: the children";
      cases.push_back(own);
      const Assessment side = beside_the_checks(e.setup, cases);
      for (const bool details : {false, true}) {
        const std::string text =
            load_table(e.setup, cases, side, {.colour = false, .details = details});
        for (const std::string& line : lines_of(text)) CHECK_MESSAGE(width(line) <= 79, line);
        for (const LoadCase& c : cases) {
          CAPTURE(c.id);
          CHECK(text.find(c.id) != std::string::npos);
        }
        CHECK_FALSE(has_control(text));
        CHECK_FALSE(has_word(lower(text), "nan"));
        CHECK_FALSE(has_word(lower(text), "inf"));
        CHECK_FALSE(has_word(lower(text), "safe"));
        const std::string all = on_one_line(text);
        CHECK(all.find("Left out by the owner: not calculated " + cases[0].id) !=
              std::string::npos);
        CHECK(all.find("* left out; why: it never happens here") != std::string::npos);
        CHECK(all.find("* changed by the owner, it was 12 lbf, everyday") != std::string::npos);
        CHECK(all.find("* added by the owner") != std::string::npos);
        CHECK(all.find("why: the children") != std::string::npos);
        CHECK(all.find("each comes alone") != std::string::npos);
        CHECK(all.find("Measure with a luggage scale") != std::string::npos);
        CHECK(all.find("no stability check") != std::string::npos);
        CHECK(all.find("marine professional") != std::string::npos);
      }
      const std::string json = load_table_json(e.setup, cases, side);
      for (const LoadCase& c : cases) {
        CHECK(json.find("\"id\": \"" + c.id + "\"") != std::string::npos);
      }
      CHECK_FALSE(has_word(json, "nan"));
    }
  }

  TEST_CASE("report: the table of booms says at which angles it holds") {
    using namespace literals;
    const Setup& s = board_example().setup;
    std::vector<BoomRow> rows;
    for (const Gear& g : s.gear) {
      for (int d = -165; d <= 180; d += 15) {
        BoomRow r;
        r.gear = g.name;
        r.azimuth = degrees(d);
        r.allowed = d == 0 || d == 90;
        r.worst_ratio = d == 180 ? 0 : d > 60 && d < 120 ? 0.8 : 1.3;
        r.gives_way = "plank dents on its seat";
        r.case_title = "ball hung up, brake slips, " + g.name;
        r.hold_limit = newtons(200);
        r.heeling = 200.0_N * 1.0_m;
        rows.push_back(r);
      }
    }
    const std::string text = boom_table(s, rows);
    for (const std::string& line : lines_of(text)) CHECK_MESSAGE(width(line) <= 79, line);
    const std::string all = on_one_line(text);
    CHECK(all.find(s.gear[0].name + " and " + s.gear[1].name) != std::string::npos);
    CHECK(all.find("> 90 outboard [x] 0.80 200 N 200 N m (1)") != std::string::npos);
    CHECK(all.find("> 0 astern [ok] 1.30 200 N 200 N m (1)") != std::string::npos);
    CHECK(all.find("180 ahead [x] tips") != std::string::npos);
    CHECK(all.find("(1) plank dents on its seat; ball hung up, brake slips") != std::string::npos);
    CHECK(all.find("90 deg (outboard) is the hardest on the mount: it does not hold.") !=
          std::string::npos);
    CHECK(all.find("no stability check") != std::string::npos);
    CHECK(all.find("marine professional") != std::string::npos);
    const std::string json = boom_table_json(s, rows);
    CHECK(times(json, "\"gives_way\": ") == rows.size());
    // Unlike gears are told apart.
    rows.back().worst_ratio = 2;
    CHECK(times(boom_table(s, rows), "what gives way") == 2);
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
      const std::vector<LoadCase> cases = load_cases(s);
      const Assessment side = beside_the_checks(s, cases);
      BoomRow boom;
      boom.gear = boom.gives_way = boom.case_title = name;
      for (const std::string& text :
           {load_table(s, cases, side, {.colour = false, .details = true}),
            boom_table(s, {boom})}) {
        CHECK_FALSE(has_control(text));
        CHECK_FALSE(has_c1(text));
        CHECK(valid_utf8(text));
        for (const std::string& line : lines_of(text)) CHECK_MESSAGE(width(line) <= 79, line);
      }
    }
  }

  TEST_CASE("report: the stored report of each example is the one written now") {
    for (const Example& e : examples()) {
      const std::filesystem::path file =
          std::filesystem::path(THOLE_EXAMPLES_DIR) / (e.name + ".txt");
      CAPTURE(e.name);
      AssessOptions options;
      options.one_missing = !e.setup.on_board();  // as the program does
      options.after_loss = options.by_direction = options.margins = true;
      const std::string now = terminal_report(e.setup, assess(e.setup, options));
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
