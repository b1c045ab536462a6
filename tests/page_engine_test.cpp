// The engine of the offline page against the library and the command line, and what it does to a
// text: nothing but what was asked.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include <thole/reading.hpp>
#include <thole/report.hpp>
#include <thole/sheet.hpp>

#include "page/page_engine.hpp"
#include "support/json.hpp"
#include "support/markup.hpp"

using namespace thole;
using test::JsonValue;
using test::read_json;

namespace {

std::string file_text(const std::string& path) {
  std::ifstream in(path);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

std::string example(const std::string& name) {
  return file_text(THOLE_ROOT "/examples/" + name + ".yaml");
}

std::vector<std::string> files_in(const std::string& folder) {
  std::vector<std::string> out;
  for (const auto& e : std::filesystem::directory_iterator(THOLE_ROOT "/" + folder)) {
    if (e.path().extension() == ".yaml") out.push_back(e.path().stem().string());
  }
  std::sort(out.begin(), out.end());
  return out;
}

JsonValue ask(std::string_view what, std::string_view text, std::string_view request = "{}") {
  return read_json(page::answer(what, text, request));
}

// The lines of one text that are not in the other at the same place.
std::vector<std::string> changed_lines(const std::string& before, const std::string& after) {
  std::vector<std::string> out;
  std::istringstream a(before), b(after);
  for (std::string x, y;;) {
    const bool more_a = bool(std::getline(a, x));
    const bool more_b = bool(std::getline(b, y));
    if (!more_a && !more_b) return out;
    if (!more_a || !more_b || x != y) out.push_back(y);
  }
}

const JsonValue& handle(const JsonValue& draw, const std::string& id) {
  for (const JsonValue& h : draw["handles"].items) {
    if (h["id"].text == id) return h;
  }
  FAIL("no handle " << id);
  return draw;
}

const JsonValue* field(const JsonValue& draw, const std::string& path) {
  for (const JsonValue& f : draw["fields"].items) {
    if (f["path"].text == path) return &f;
  }
  return nullptr;
}

std::string starter(const std::string& mount) {
  const JsonValue about = ask("about", "");
  for (const JsonValue& s : about["starters"].items) {
    if (s["mount"].text == mount) return s["inch"].text;
  }
  FAIL("no starter for " << mount);
  return "";
}

std::string move_request(const std::string& id, double x, double y, bool hold = false) {
  return "{\"handle\":\"" + id + "\",\"x\":" + std::to_string(x) + ",\"y\":" + std::to_string(y) +
         (hold ? ",\"hold\":true}" : "}");
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("page: the report of a check is that of the library to the last byte") {
    // Of all examples tests/page/same_numbers.mjs compares with the program.
    for (const std::string name : {"reservoir-jon-boat", "highland-dinghy", "lake-cartopper"}) {
      CAPTURE(name);
      const std::string file = name + ".yaml";
      const std::string text = example(name);
      const JsonValue a = ask("check", text, "{\"file\":\"" + file + "\"}");
      REQUIRE(a["ok"].yes());
      const Setup s = read_setup(text, file, built_in_materials());
      AssessOptions o;
      o.one_missing = o.after_loss = o.by_direction = o.margins = true;
      CHECK(a["report"].text == json_report(s, assess(s, o)));
      CHECK(a["terminal"].text == file_text(THOLE_ROOT "/examples/" + name + ".txt"));
      CHECK(a["words"]["deferral"].text.find("a calculation is not an inspection") !=
            std::string::npos);
      CHECK_FALSE(a["words"]["worst"].items.empty());
      (void)test::Markup::read(a["draw"]["views"]["plan"]["svg"].text);
      CHECK(a["draw"]["views"]["plan"]["svg"].text.find("class=\"worst\"") != std::string::npos);
    }
  }

  TEST_CASE("page: every example is drawn with handles and entries and without an assessment") {
    for (const std::string& name : files_in("examples")) {
      CAPTURE(name);
      const std::string text = example(name);
      const JsonValue d = ask("draw", text);
      REQUIRE(d["ok"].yes());
      CHECK(d["handles"].items.size() >= 4);
      for (const char* view : {"plan", "stern"}) {
        (void)test::Markup::read(d["views"][view]["svg"].text);
      }
      CHECK(d["views"]["plan"]["svg"].text.find("class=\"worst\"") == std::string::npos);
      for (const JsonValue& h : d["handles"].items) {
        CAPTURE(h["id"].text);
        CHECK(h["x"].number() >= 0);
        CHECK(h["x"].number() <= 340);
        CHECK(h["y"].number() >= 0);
        // A place that says what the handle already says changes nothing.
        const JsonValue m =
            ask("move", text, move_request(h["id"].text, h["x"].number(), h["y"].number()));
        if (m["ok"].yes()) CHECK(changed_lines(text, m["text"].text).size() <= 1);
      }
      // What stands in the file stands at an entry.
      const JsonValue* title = field(d, "title");
      REQUIRE(title != nullptr);
      CHECK((*title)["text"].text == d["title"].text);
      const JsonValue* kind = field(d, "gear.0.kind");
      REQUIRE(kind != nullptr);
      CHECK((*kind)["kind"].text == "choice");
      CHECK((*kind)["required"].yes());
    }
  }

  TEST_CASE("page: every blank setup is drawn with handles") {
    const JsonValue about = ask("about", "");
    REQUIRE(about["starters"].items.size() == 3);
    for (const JsonValue& s : about["starters"].items) {
      for (const char* units : {"inch", "metric"}) {
        CAPTURE(s["mount"].text);
        CAPTURE(units);
        const JsonValue d = ask("draw", s[units].text);
        REQUIRE(d["ok"].yes());
        CHECK(d["units"].text == units);
        CHECK(d["mount"].text == s["mount"].text);
        CHECK(d["handles"].items.size() >= 3);
        // Where a name of a table stands the page has the names.
        std::size_t named = 0;
        for (const JsonValue& f : d["fields"].items) {
          if (!f.has("names")) continue;
          ++named;
          CHECK(about["names"][f["names"].text].items.size() > 3);
        }
        CHECK(named > 0);
      }
    }
    CHECK(about["examples"].items.size() == files_in("examples").size());
    for (const JsonValue& e : about["examples"].items) {
      CHECK(e["text"].text == example(e["id"].text));
    }
  }

  TEST_CASE("page: the first verdict is that of the whole check") {
    // A board of which one part of the directions lowers the limit that the whole had found.
    const char* wide_ledges = R"({"edits":[
        {"path":"mount.board.size","value":"2x10"},
        {"path":"mount.board.length","value":"76 1/2 in"},
        {"path":"mount.clear_width","value":"58 in"},
        {"path":"mount.ledges.both.angle","value":"4 x 4 x 3/16 in"},
        {"path":"mount.hold_downs.0.outboard","value":"3 in"},
        {"path":"mount.hold_downs.1.outboard","value":"3 in"},
        {"path":"mount.hold_downs.0.washer_diameter","value":"3 in"},
        {"path":"mount.hold_downs.1.washer_diameter","value":"3 in"},
        {"path":"gear.0.on_board.outboard","value":"6 in"},
        {"path":"gear.0.boom_length","value":"18 in"},
        {"path":"gear.0.ball","value":"8 lb"}]})";
    const JsonValue board = ask("apply", starter("cross_board"), wide_ledges);
    REQUIRE(board["ok"].yes());
    for (const std::string& text :
         {example("reservoir-jon-boat"), example("lough-boat"), board["text"].text}) {
      const JsonValue whole = ask("check", text);
      const JsonValue first = ask("check", text, R"({"first":true})");
      REQUIRE(first["ok"].yes());
      CAPTURE(whole["words"]["sentence"].text);
      CHECK_FALSE(first.has("report"));
      for (const char* key : {"verdict", "sign", "sentence", "hold_limit", "setting"}) {
        CHECK(first["words"][key].text == whole["words"][key].text);
      }
    }
  }

  TEST_CASE("page: an example may be asked for by its name") {
    const std::string asked = R"({"first": true, "file": "bay-boat.yaml")";
    CHECK(page::answer("check", "", asked + R"(, "example": "bay-boat"})") ==
          page::answer("check", example("bay-boat"), asked + "}"));
    const JsonValue none = ask("check", "", R"({"example": "bay-boats"})");
    CHECK_FALSE(none["ok"].yes());
    CHECK(none["problems"].items.at(0)["message"].text == "no example is called \"bay-boats\"");
  }

  TEST_CASE("page: handles lie on the picture with loads as they lie on that without") {
    // The picture with loads may have another scale and middle, the same both ways; places are
    // rounded to a tenth.
    for (const std::string name : {"lake-cartopper", "fjord-skiff"}) {
      CAPTURE(name);
      const JsonValue plain = ask("draw", example(name));
      const JsonValue loaded = ask("check", example(name), R"({"first":true})")["draw"];
      REQUIRE(loaded["handles"].items.size() == plain["handles"].items.size());
      const auto spread = [](const JsonValue& draw, const char* way) {
        double least = 1e9;
        double most = -1e9;
        for (const JsonValue& h : draw["handles"].items) {
          if (h["view"].text != "plan") continue;
          least = std::min(least, h[way].number());
          most = std::max(most, h[way].number());
        }
        return std::pair(least, most - least);
      };
      const auto [left, wide] = spread(plain, "x");
      const auto [new_left, new_wide] = spread(loaded, "x");
      const auto [top, high] = spread(plain, "y");
      const auto [new_top, new_high] = spread(loaded, "y");
      const double scale = new_wide / wide;
      CHECK(new_high == doctest::Approx(scale * high).epsilon(0.02));
      for (const JsonValue& h : plain["handles"].items) {
        if (h["view"].text != "plan") continue;
        const JsonValue& now = handle(loaded, h["id"].text);
        CHECK(std::abs(now["x"].number() - new_left - scale * (h["x"].number() - left)) < 0.3);
        CHECK(std::abs(now["y"].number() - new_top - scale * (h["y"].number() - top)) < 0.3);
      }
    }
  }

  TEST_CASE("page: every wrong input is told in the words of the command line") {
    std::size_t with_path = 0;
    std::size_t all = 0;
    for (const std::string& name : files_in("tests/data/bad")) {
      CAPTURE(name);
      const std::string base = THOLE_ROOT "/tests/data/bad/" + name;
      const JsonValue d =
          ask("draw", file_text(base + ".yaml"), "{\"file\":\"" + name + ".yaml\"}");
      const std::string expected = file_text(base + ".err");
      if (d["ok"].yes()) {  // what only one of these finds
        const char* what = name.starts_with("compare-") ? "compare" : "check";
        CHECK_FALSE(ask(what, file_text(base + ".yaml"))["ok"].yes());
        continue;
      }
      std::string told;
      for (const JsonValue& p : d["problems"].items) {
        told += "error: " + p["text"].text;
        ++all;
        if (!p["path"].text.empty()) ++with_path;
      }
      CHECK(expected.substr(0, told.size()) == told);
    }
    CHECK(all > 400);
    CHECK(with_path > all / 2);
  }

  TEST_CASE("page: a problem belongs to the entry that is wrong") {
    struct Wrong {
      const char* path;
      const char* value;
      const char* message;
    };
    for (const Wrong& w : {Wrong{"gear.0.ball", "90", "unit"},
                           Wrong{"gear.0.boom_length", "zwei Meter", "boom_length"},
                           Wrong{"mount.clear_width", "0 mm", "above zero"},
                           Wrong{"mount.board.size", "48x199", "no lumber size"},
                           Wrong{"gear.0.wire", "rope", "is not one of"},
                           Wrong{"mount.hold_downs.1.thread", "M9", "M9"}}) {
      CAPTURE(w.path);
      const JsonValue a =
          ask("edit", example("fjord-skiff"),
              std::string("{\"path\":\"") + w.path + "\",\"value\":\"" + w.value + "\"}");
      CHECK_FALSE(a["ok"].yes());
      REQUIRE_FALSE(a["problems"].items.empty());
      CHECK(a["problems"].items[0]["path"].text == w.path);
      CHECK(a["problems"].items[0]["message"].text.find(w.message) != std::string::npos);
      CHECK(a["text"].text.find(w.value) != std::string::npos);
      const JsonValue* f = field(a, w.path);
      REQUIRE(f != nullptr);
      CHECK((*f)["text"].text == w.value);
    }
    // A key that is needed and not there.
    const JsonValue gone =
        ask("edit", example("fjord-skiff"), R"({"path":"gear.0.boom_length","value":""})");
    CHECK_FALSE(gone["ok"].yes());
    CHECK(gone["problems"].items[0]["path"].text == "gear.0.boom_length");
    REQUIRE(field(gone, "gear.0.boom_length") != nullptr);
    CHECK((*field(gone, "gear.0.boom_length"))["required"].yes());
  }

  TEST_CASE("page: an edit changes one line and keeps its comment") {
    const std::string text = example("fjord-skiff");
    const JsonValue a =
        ask("edit", text, R"({"path":"mount.hold_downs.0.outboard","value":"35 mm"})");
    REQUIRE(a["ok"].yes());
    CHECK(changed_lines(text, a["text"].text) ==
          std::vector<std::string>{"      outboard: 35 mm             # middle of the seat"});
    // A new value is nobody's measurement.
    const JsonValue b = ask("edit", text, R"({"path":"mount.clear_width","value":"1.79 m"})");
    REQUIRE(b["ok"].yes());
    CHECK(changed_lines(text, b["text"].text) ==
          std::vector<std::string>{"  clear_width: {is: 1.79 m, known: assumed}"});
    // The same value again is the same text.
    const JsonValue c = ask("edit", text, R"({"path":"mount.clear_width","value":"1.80 m"})");
    CHECK(c["text"].text == text);
  }

  TEST_CASE("page: the only key of a map goes with the map and an item of a list stays") {
    const std::string text = example("fjord-skiff");
    REQUIRE(text.find("\nuse:") != std::string::npos);
    std::string alone = text;
    for (const char* key : {"running_peak", "hours_per_season", "gear_off_on_road"}) {
      const JsonValue a =
          ask("edit", alone, R"({"path":"use.)" + std::string(key) + R"(","value":""})");
      REQUIRE(a["ok"].yes());
      alone = a["text"].text;
    }
    REQUIRE(alone.find("\n  not_a_seat: yes") != std::string::npos);
    const JsonValue b = ask("edit", alone, R"({"path":"use.not_a_seat","value":""})");
    REQUIRE(b["ok"].yes());
    CHECK(b["text"].text.find("\nuse:") == std::string::npos);
    CHECK(b["text"].text.find("not_a_seat") == std::string::npos);
  }

  TEST_CASE("page: each entry names the part that the setup may do without") {
    const JsonValue a = ask("draw", example("fjord-skiff"));
    REQUIRE(a["ok"].yes());
    const auto part = [&](const char* path) {
      const JsonValue* f = field(a, path);
      REQUIRE(f != nullptr);
      return f->has("part") ? (*f)["part"].text : std::string();
    };
    CHECK(part("mount.clear_width") == "");
    CHECK(part("mount.board.length") == "");
    CHECK(part("gear.0.boom_length") == "");
    CHECK(part("gear.0.foot.fore_aft") == "gear.0.foot");
    CHECK(part("boat.length") == "boat");
  }

  TEST_CASE("page: a word that YAML would take otherwise is quoted") {
    const std::string text = example("reservoir-jon-boat");
    for (const char* title :
         {"#1: port, [odd]", "- dash", "null", "a 'b' \\\"c\\\"", "{x: 1}", "* *"}) {
      CAPTURE(title);
      const JsonValue a =
          ask("edit", text, std::string("{\"path\":\"title\",\"value\":\"") + title + "\"}");
      REQUIRE(a["ok"].yes());
      const std::string plain = read_json(std::string("\"") + title + "\"").text;
      CHECK(a["draw"]["title"].text == plain);
      CHECK(changed_lines(text, a["text"].text).size() == 1);
    }
    const JsonValue thread =
        ask("edit", text, R"({"path":"mount.fastening.thread","value":"#10-24"})");
    REQUIRE(thread["ok"].yes());
    CHECK(changed_lines(text, thread["text"].text) ==
          std::vector<std::string>{"    thread: '#10-24'"});
    const JsonValue lines = ask("edit", text, R"({"path":"title","value":"two\nlines"})");
    CHECK_FALSE(lines["ok"].yes());
  }

  TEST_CASE("page: a tap says how a value is known and nothing else changes") {
    const std::string text = example("reservoir-jon-boat");
    const JsonValue a = ask("mark", text, R"({"path":"mount.host.flat","known":"measured"})");
    REQUIRE(a["ok"].yes());
    CHECK(changed_lines(text, a["text"].text) ==
          std::vector<std::string>{"    flat: {is: 2 in, known: measured}"});
    CHECK((*field(a["draw"], "mount.host.flat"))["known"].text == "measured");
    const JsonValue b =
        ask("mark", a["text"].text, R"({"path":"mount.host.flat","known":"assumed"})");
    CHECK(changed_lines(text, b["text"].text) ==
          std::vector<std::string>{"    flat: {is: 2 in, known: assumed}"});
    const JsonValue none = ask("mark", text, R"({"path":"mount.host.to_end","known":"measured"})");
    CHECK_FALSE(none["ok"].yes());
    const JsonValue odd = ask("mark", text, R"({"path":"mount.host.flat","known":"sure"})");
    CHECK_FALSE(odd["ok"].yes());
  }

  TEST_CASE("page: several values are marked in one answer and all comments stay") {
    const std::string text = starter("cross_board");
    const JsonValue a = ask("mark", text,
                            R"({"marks":[{"path":"gear.0.ball","value":"assumed"},)"
                            R"({"path":"gear.0.wire","value":"assumed"},)"
                            R"({"path":"gear.0.brake_slip","value":"measured"}]})");
    REQUIRE(a["ok"].yes());
    CHECK(changed_lines(text, a["text"].text) ==
          std::vector<std::string>{
              "    ball: {is: 10 lb, known: assumed}",
              "    wire: {is: strand_1x7, known: assumed}        # strand_1x7, strand_7x7, braid",
              "    brake_slip: {is: 40 lbf, known: measured}   # counts only when measured: hook a "
              "luggage scale"});
    CHECK_FALSE(
        ask("mark", text, R"({"marks":[{"path":"gear.0.ball","value":"sure"}]})")["ok"].yes());
    CHECK_FALSE(
        ask("mark", text, R"({"marks":[{"path":"gear.0.finned","value":"assumed"}]})")["ok"].yes());
  }

  TEST_CASE("page: another like an item is added where there is room and the rest stays") {
    for (const char* mount : {"cross_board", "gunwale_plate", "bracket"}) {
      CAPTURE(mount);
      const std::string text = starter(mount);
      const JsonValue a = ask("another", text, R"({"path":"gear.0"})");
      REQUIRE(a["ok"].yes());
      CHECK(field(a["draw"], "gear.1.kind") != nullptr);
      CHECK((*field(a["draw"], "gear.1.name"))["text"].text.empty());
      const std::string after = a["text"].text;
      std::istringstream lines(text);
      for (std::string line; std::getline(lines, line);) {
        CAPTURE(line);
        CHECK(after.find(line) != std::string::npos);
      }
      // And it is left out again by its path.
      const JsonValue b = ask("apply", after, R"({"edits":[{"path":"gear.1","value":""}]})");
      REQUIRE(b["ok"].yes());
      CHECK(b["text"].text == text);
    }
  }

  TEST_CASE("page: an item is left out where its dash stands on a line of its own") {
    std::string text = starter("cross_board");
    const JsonValue two = ask("another", text, R"({"path":"gear.0"})");
    REQUIRE(two["ok"].yes());
    const std::size_t first = two["text"].text.find("  - kind: downrigger");
    REQUIRE(first != std::string::npos);
    for (const std::string dash :
         {"  -\n    kind: downrigger", "  -   # the first\n    # of two\n    kind: downrigger"}) {
      CAPTURE(dash);
      std::string apart = two["text"].text;
      apart.replace(first, std::string("  - kind: downrigger").size(), dash);
      const JsonValue one = ask("apply", apart, R"({"edits":[{"path":"gear.0","value":""}]})");
      REQUIRE(one["ok"].yes());
      CHECK(one["text"].text.find("of two") == std::string::npos);
      CHECK(field(one["draw"], "gear.0.kind") != nullptr);
      CHECK(field(one["draw"], "gear.1.kind") == nullptr);
      CHECK(one["text"].text.find("\ngear:") != std::string::npos);
    }
  }

  TEST_CASE("page: no item goes before another that variants or cases count") {
    const std::string text =
        ask("another", starter("cross_board"), R"({"path":"gear.0"})")["text"].text;
    const auto left = [](const std::string& whole, int item) {
      return ask("apply", whole,
                 "{\"edits\":[{\"path\":\"gear." + std::to_string(item) + "\",\"value\":\"\"}]}");
    };
    for (const std::string more :
         {"variants:\n  - {name: lighter, set: {gear.1.ball: 6 lb}}\n",
          "variants:\n  - name: none\n    drop: [gear.1.wire]\n",
          "cases:\n  - {change: hung-up-seized-1, pull: 100 lbf, why: measured}\n"}) {
      CAPTURE(more);
      REQUIRE(left(text, 0)["ok"].yes());
      const JsonValue a = left(text + more, 0);
      REQUIRE_FALSE(a["ok"].yes());
      CHECK(a["problems"].items.front()["message"].text.find("change it first") !=
            std::string::npos);
    }
    // What is counted before it stays what it was.
    CHECK(left(text + "variants:\n  - {name: lighter, set: {gear.0.ball: 6 lb}}\n", 1)["ok"].yes());
  }

  TEST_CASE("page: no gear goes that is named or whose name another may get") {
    std::string text = starter("gunwale_plate");
    for (int k = 0; k < 2; ++k) text = ask("another", text, R"({"path":"gear.0"})")["text"].text;
    const auto left = [](const std::string& whole, int item) {
      return ask("apply", whole,
                 "{\"edits\":[{\"path\":\"gear." + std::to_string(item) + "\",\"value\":\"\"}]}");
    };
    const auto with = [&](const std::string& name) {
      return text + "cases:\n  - {add: my snag, gear: " + name +
             ", pull: 40 lbf, azimuth: [0 deg, 30 deg], dip: [0 deg, 20 deg], category: "
             "occasional, "
             "why: a float}\n";
    };
    REQUIRE(ask("draw", with("rod holder"))["ok"].yes());
    REQUIRE(ask("draw", with("starboard rod"))["ok"].yes());
    CHECK_FALSE(left(with("rod holder"), 1)["ok"].yes());
    CHECK_FALSE(left(with("rod holder"), 2)["ok"].yes());
    CHECK_FALSE(left(with("starboard rod"), 0)["ok"].yes());
    CHECK(left(with("starboard rod"), 1)["ok"].yes());
    CHECK(left(text, 1)["ok"].yes());
  }

  TEST_CASE("page: a name that reads like the number of an item is refused") {
    const std::string text =
        ask("another", starter("cross_board"), R"({"path":"gear.0"})")["text"].text;
    for (const std::string name : {"0", "12", "0.ball"}) {
      CAPTURE(name);
      const JsonValue a = ask("edit", text, R"({"path":"gear.1.name","value":")" + name + "\"}");
      REQUIRE_FALSE(a["ok"].yes());
      CHECK(a["problems"].items.front()["message"].text.find("reads like the number of an item") !=
            std::string::npos);
    }
    for (const std::string name : {"2.5 lb ball", "gear 0", "0 lb"}) {
      CAPTURE(name);
      CHECK(ask("edit", text, R"({"path":"gear.1.name","value":")" + name + "\"}")["ok"].yes());
    }
  }

  TEST_CASE("page: what is on one side gets another on the other side") {
    const std::string text = starter("cross_board");
    const JsonValue one =
        ask("edit", text, R"({"path":"gear.0.on_board.side","value":"starboard"})");
    const JsonValue two = ask("another", one["text"].text, R"({"path":"gear.0"})");
    REQUIRE(two["ok"].yes());
    CHECK((*field(two["draw"], "gear.1.on_board.side"))["text"].text == "port");
    CHECK((*field(two["draw"], "gear.1.on_board.outboard"))["text"].text == "4 in");
  }

  TEST_CASE("page: another is added until there is no more room and then the reader says why") {
    for (const std::string list : {"gear", "mount.hold_downs"}) {
      CAPTURE(list);
      std::string text = starter("cross_board");
      std::string said;
      for (int n = 0; n < 20 && said.empty(); ++n) {
        const JsonValue a = ask("another", text, "{\"path\":\"" + list + ".0\"}");
        if (!a["ok"].yes()) said = a["problems"].items.front()["message"].text;
        if (a["ok"].yes()) text = a["text"].text;
      }
      CHECK(said != "");
      CHECK(text != starter("cross_board"));
    }
    for (const char* path : {"gear", "gear.7", "mount.board", "", "mount.board.length"}) {
      CAPTURE(path);
      CHECK_FALSE(
          ask("another", starter("cross_board"), std::string("{\"path\":\"") + path + "\"}")["ok"]
              .yes());
    }
  }

  TEST_CASE("page: units change the reader's units and nothing else") {
    const std::string text = example("reservoir-jon-boat");
    const JsonValue a = ask("units", text, R"({"units":"metric"})");
    REQUIRE(a["ok"].yes());
    CHECK(changed_lines(text, a["text"].text) == std::vector<std::string>{"units: metric"});
    CHECK(a["draw"]["units"].text == "metric");
    CHECK_FALSE(ask("units", text, R"({"units":"fathoms"})")["ok"].yes());
  }

  TEST_CASE("page: handles lie where the drawing has what they move") {
    // The middles of the gear are 1.80 m + 2 x 120 mm apart, those of the hold-downs 1.80 m + 2 x
    // 30 mm, the ends of the plank 2.20 m: by hand, from the file.
    const JsonValue d = ask("draw", example("fjord-skiff"));
    const auto x = [&](const char* id) { return handle(d, id)["x"].number(); };
    const auto y = [&](const char* id) { return handle(d, id)["y"].number(); };
    const double scale = (x("mount.board.length") - x("mount.port_overhang")) / 2.20;
    CHECK(x("gear.0.place.starboard") - x("gear.0.place.port") ==
          doctest::Approx(2.04 * scale).epsilon(0.001));
    CHECK(x("mount.hold_downs.0.place.starboard") - x("mount.hold_downs.0.place.port") ==
          doctest::Approx(1.86 * scale).epsilon(0.001));
    CHECK(y("mount.hold_downs.1.place.port") - y("mount.hold_downs.0.place.port") ==
          doctest::Approx(0.150 * scale).epsilon(0.01));
    // A boom of 600 mm: astern it points down the picture, abeam of port to the left.
    CHECK(y("gear.0.boom.0.port") - y("gear.0.place.port") ==
          doctest::Approx(0.600 * scale).epsilon(0.005));
    CHECK(x("gear.0.place.port") - x("gear.0.boom.2.port") ==
          doctest::Approx(0.600 * scale).epsilon(0.005));
  }

  TEST_CASE("page: a drag writes the place in whole millimetres into both keys and no others") {
    const std::string text = example("fjord-skiff");
    const JsonValue d = ask("draw", text);
    const double scale = (handle(d, "mount.board.length")["x"].number() -
                          handle(d, "mount.port_overhang")["x"].number()) /
                         2.20;
    const JsonValue& h = handle(d, "mount.hold_downs.0.place.starboard");
    const JsonValue m = ask("move", text,
                            move_request(h["id"].text, h["x"].number() + 0.020 * scale,
                                         h["y"].number() - 0.010 * scale));
    REQUIRE(m["ok"].yes());
    const std::vector<std::string> lines = changed_lines(text, m["text"].text);
    REQUIRE(lines.size() == 2);
    // Within the tenth of a unit that handles are told to: 1 mm.
    const auto millimetres = [](const std::string& line) {
      return std::atof(line.c_str() + line.find(':') + 1);
    };
    CHECK(std::abs(millimetres(lines[0]) - 50) <= 1);
    CHECK(lines[0].ends_with(" mm             # middle of the seat"));
    CHECK(std::abs(millimetres(lines[1]) - 85) <= 1);
    CHECK(lines[1].find('.') == std::string::npos);
  }

  TEST_CASE("page: a boom turns in steps of 5 deg and the others stay") {
    const std::string text = example("fjord-skiff");
    const JsonValue d = ask("draw", text);
    const JsonValue& h = handle(d, "gear.0.boom.1.starboard");
    const double reach = std::hypot(h["x"].number() - h["about"]["x"].number(),
                                    h["y"].number() - h["about"]["y"].number());
    for (const double degrees : {31.0, 120.0, -20.0}) {
      const double a = degrees * 3.14159265358979 / 180;
      const JsonValue m =
          ask("move", text,
              move_request(h["id"].text, h["about"]["x"].number() + reach * std::sin(a),
                           h["about"]["y"].number() + reach * std::cos(a)));
      REQUIRE(m["ok"].yes());
      const std::string rounded = std::to_string(int(5 * std::lround(degrees / 5)));
      CHECK(changed_lines(text, m["text"].text) ==
            std::vector<std::string>{"    boom_angles: [0 deg, " + rounded + " deg, 90 deg]"});
    }
  }

  TEST_CASE("page: a held drawing keeps its scale while the board grows") {
    const std::string text = example("fjord-skiff");
    const JsonValue d = ask("draw", text);
    const JsonValue& h = handle(d, "mount.board.length");
    const JsonValue m =
        ask("move", text, move_request(h["id"].text, h["x"].number() + 6, h["y"].number(), true));
    REQUIRE(m["ok"].yes());
    CHECK(handle(m["draw"], "mount.board.length")["x"].number() ==
          doctest::Approx(h["x"].number() + 6).epsilon(0.002));
    CHECK(handle(m["draw"], "gear.0.place.port")["x"].number() ==
          handle(d, "gear.0.place.port")["x"].number());
    (void)test::Markup::read(m["draw"]["views"]["plan"]["svg"].text);
  }

  TEST_CASE("page: whatever is dragged lies where it was let go") {
    // Steps of 1/16 in, 1 mm and 5 deg are less than two units of these pictures but for booms,
    // which reach up to 80 units: 5 deg of that is 7.
    std::size_t dragged = 0;
    for (const std::string& name : files_in("examples")) {
      const std::string text = example(name);
      const JsonValue d = ask("draw", text);
      for (const JsonValue& h : d["handles"].items) {
        const std::string& id = h["id"].text;
        // The middle of the base, or of the fasteners of a bracket, is the middle of the picture.
        if (id.ends_with("from_inboard_edge")) continue;
        if (d["mount"].text == "bracket" && id.starts_with("mount.fastening")) continue;
        const std::string& moves = h["moves"].text;
        const double x = h["x"].number() + (moves == "y" ? 0 : -4);
        const double y = h["y"].number() + (moves == "x" ? 0 : 3);
        const JsonValue m = ask("move", text, move_request(id, x, y, true));
        if (!m["ok"].yes()) continue;  // what the mount cannot be
        CAPTURE(name);
        CAPTURE(id);
        ++dragged;
        const JsonValue& now = handle(m["draw"], id);
        const double within = moves == "turn" ? 9 : 2;
        CHECK(std::abs(now["x"].number() - x) <= within);
        CHECK(std::abs(now["y"].number() - y) <= within);
      }
    }
    CHECK(dragged > 100);
  }

  TEST_CASE("page: an arrow key moves a handle the way it points") {
    const std::string text = example("fjord-skiff");
    const JsonValue d = ask("draw", text);
    for (const char* id : {"gear.0.place.port", "gear.0.place.starboard"}) {
      const JsonValue m = ask(
          "step", text, std::string("{\"handle\":\"") + id + "\",\"steps\":10,\"key\":\"left\"}");
      REQUIRE(m["ok"].yes());
      CHECK(handle(m["draw"], id)["x"].number() < handle(d, id)["x"].number());
      // One key of the file serves both sides: outboard to port, inboard to starboard.
      const bool port = std::string(id).ends_with("port");
      CHECK((*field(m["draw"], "gear.0.on_board.outboard"))["text"].text ==
            (port ? "130 mm" : "110 mm"));
    }
    const JsonValue up =
        ask("step", text, R"({"handle":"gear.0.tip_height.port","steps":1,"key":"up"})");
    CHECK((*field(up["draw"], "gear.0.tip_height"))["text"].text == "201 mm");
  }

  TEST_CASE("page: inches move by sixteenths and are written as fractions") {
    const std::string text = example("reservoir-jon-boat");
    const JsonValue a = ask("step", text, R"({"handle":"gear.0.height","steps":3})");
    REQUIRE(a["ok"].yes());
    CHECK(changed_lines(text, a["text"].text) == std::vector<std::string>{"    height: 4 3/16 in"});
    const JsonValue low = ask("step", text, R"({"handle":"gear.0.height","steps":-900})");
    CHECK((*field(low["draw"], "gear.0.height"))["text"].text == "1/16 in");
    const JsonValue lean = ask("step", text, R"({"handle":"gear.0.lean","steps":-2})");
    CHECK(changed_lines(text, lean["text"].text) == std::vector<std::string>{"    lean: 50 deg"});
  }

  TEST_CASE("page: a value that is left out is written where it belongs") {
    const std::string text = example("fjord-skiff");
    const JsonValue m = ask("step", text, R"({"handle":"gear.0.place.port","steps":4,"key":"up"})");
    REQUIRE(m["ok"].yes());
    CHECK(changed_lines(text, m["text"].text) ==
          std::vector<std::string>{"    on_board: {side: both, outboard: 120 mm, forward: 4 mm}"});
  }

  TEST_CASE("page: a change of the list is applied as the command line applies it") {
    const std::string text = example("reservoir-jon-boat");
    const std::vector<Edit> edits{
        {"mount.fastening.hold", "tapped_bar"},
        {"mount.fastening.behind",
         "{material: 6061-T6 extrusion, thickness: 1/4 in, fore_aft: 3 in, "
         "athwart: 1 3/4 in}"}};
    std::string request = "{\"edits\":[";
    for (const Edit& e : edits) {
      request += (e.path == edits[0].path ? "" : ",") + ("{\"path\":\"" + e.path) +
                 "\",\"value\":\"" + e.value + "\"}";
    }
    const JsonValue a = ask("apply", text, request + "]}");
    REQUIRE(a["ok"].yes());
    CHECK(a["text"].text == apply_edits(text, "x.yaml", edits));
  }

  TEST_CASE("page: sheet template and files of the mount are those of the library") {
    const std::string text = example("reservoir-jon-boat");
    const std::string request =
        R"({"file":"reservoir-jon-boat.yaml","date":"2026-11-27","paper":"letter"})";
    const Setup s = read_setup(text, "reservoir-jon-boat.yaml", built_in_materials());
    const Assessment a = assess(s, sheet_options());
    const SheetContent content{s,
                               a,
                               built_in_materials(),
                               {},
                               {},
                               "reservoir-jon-boat.yaml",
                               file_hash(text),
                               "2026-11-27",
                               Paper::letter};
    CHECK(ask("sheet", text, request)["html"].text == sheet_html(content));
    CHECK(ask("template", text, request)["html"].text == template_html(content));
    CHECK(ask("csv", text, request)["text"].text == forces_csv(s, a));
    CHECK(ask("dxf", text, request)["text"].text == plates_dxf(content));
    CHECK(ask("svg", text, request)["text"].text == plates_svg(content));
    CHECK_FALSE(ask("sheet", text, R"({"date":"yesterday"})")["ok"].yes());
    CHECK_FALSE(ask("sheet", text, R"({"paper":"a3"})")["ok"].yes());
  }

  TEST_CASE("page: whatever is asked gets an answer in JSON") {
    const std::string text = example("fjord-skiff");
    const std::string deep(5000, '[');
    const std::string long_name(10000, 'x');
    for (const std::string& request :
         {std::string(""),
          std::string("null"),
          std::string("[]"),
          std::string("{"),
          std::string("{\"handle\":1}"),
          std::string("{\"handle\":[1]}"),
          deep,
          "{\"path\":\"" + long_name + "\",\"value\":\"1\"}",
          std::string("{\"path\":\"\",\"value\":\"1\"}"),
          std::string("{\"path\":\"..\",\"value\":\"1\"}"),
          std::string("{\"path\":\"mount.x.y.z\",\"value\":\"1\"}"),
          std::string("{\"path\":\"gear.99\",\"value\":\"1\"}"),
          std::string("{\"handle\":\"gear.0.place.port\",\"x\":1e300,\"y\":\"nan\"}"),
          std::string("{\"handle\":\"gear.0.place.port\",\"x\":\"a\",\"y\":2}"),
          std::string("{\"handle\":\"gear.0.place.port\",\"steps\":1e9}"),
          std::string("{\"edits\":[{\"path\":\"title\"}]}"),
          std::string("{\"edits\":3}"),
          std::string("{\"a\":1,\"a\":2}"),
          std::string("\xff\xfe"),
          std::string(1, '\0')}) {
      for (const char* what :
           {"draw", "edit", "move", "step", "mark", "units", "apply", "no such"}) {
        CAPTURE(what);
        CAPTURE(request.substr(0, 60));
        const JsonValue a = ask(what, text, request);
        if (!a["ok"].yes()) CHECK_FALSE(a["problems"].items[0]["message"].text.empty());
      }
    }
    for (const std::string& bad :
         {std::string(""), std::string("thole: 1"), std::string("[1, 2"), deep, std::string("\xff"),
          std::string(2 << 20, ' '), std::string("mount: {kind: cross_board}\ngear: 3")}) {
      for (const char* what :
           {"draw", "edit", "move", "check", "sheet", "changes", "size", "compare"}) {
        const JsonValue a =
            ask(what, bad, R"({"path":"title","value":"x","handle":"a","x":1,"y":2})");
        CHECK_FALSE(a["ok"].yes());
      }
    }
  }

  TEST_CASE("page: hostile names stay text on the drawing") {
    const std::string text = example("fjord-skiff");
    const std::string evil = "<script>alert(1)</script>\\\" onload=x";
    for (const char* path : {"title", "gear.0.name"}) {
      const JsonValue a =
          ask("edit", text, std::string("{\"path\":\"") + path + "\",\"value\":\"" + evil + "\"}");
      REQUIRE(a["ok"].yes());
      for (const char* view : {"plan", "stern"}) {
        const std::string& svg = a["draw"]["views"][view]["svg"].text;
        (void)test::Markup::read(svg);
        CHECK(svg.find("<script") == std::string::npos);
      }
    }
  }

  TEST_CASE("page: sizes and comparisons carry the tables of the command line") {
    std::size_t told = 0;
    const Watch watch = [&](const Progress&) {
      ++told;
      return true;
    };
    const JsonValue a = read_json(
        page::answer("size", example("reservoir-jon-boat"), R"({"free":["bolts"]})", watch));
    REQUIRE(a["ok"].yes());
    CHECK(a["table"].text.find("a calculation is not an inspection") != std::string::npos);
    CHECK(told > 0);
    const std::string two = example("reservoir-jon-boat") +
                            "variants:\n  - name: thicker wall\n    set: "
                            "{mount.host.thickness: 1/8 in}\n";
    const JsonValue c = ask("compare", two);
    REQUIRE(c["ok"].yes());
    CHECK(c["rows"].items.size() == 2);
    CHECK(c["table"].text.find("thicker wall") != std::string::npos);
    CHECK_FALSE(ask("compare", example("reservoir-jon-boat"))["ok"].yes());
    CHECK_FALSE(ask("size", example("reservoir-jon-boat"), R"({"free":["colour"]})")["ok"].yes());
  }
}
