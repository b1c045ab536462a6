// The shop sheet as a page: what must stand on it, and that nobody's text becomes markup.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <thole/cautions.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>
#include <thole/sheet.hpp>

#include "report/beside.hpp"
#include "report/html.hpp"
#include "report/short_names.hpp"
#include "report/wording.hpp"

using namespace thole;

namespace {

std::string contents(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

struct Example {
  std::string file;
  Setup setup;
  Assessment result;
};

const MaterialLibrary& library() {
  static const MaterialLibrary all = built_in_materials();
  return all;
}

const std::vector<Example>& examples() {
  static const std::vector<Example> all = [] {
    std::vector<std::filesystem::path> files;
    for (const auto& f : std::filesystem::directory_iterator(THOLE_ROOT "/examples")) {
      if (f.path().extension() == ".yaml") files.push_back(f.path());
    }
    std::sort(files.begin(), files.end());
    std::vector<Example> out;
    for (const auto& f : files) {
      Example e;
      e.file = f.filename().string();
      e.setup = read_setup(contents(f), e.file, library());
      e.result = assess(e.setup, sheet_options());
      out.push_back(std::move(e));
    }
    return out;
  }();
  return all;
}

const Example& example(const std::string& file) {
  const auto at = std::find_if(examples().begin(), examples().end(),
                               [&](const Example& e) { return e.file == file; });
  REQUIRE(at != examples().end());
  return *at;
}

SheetContent content_of(const Example& e) {
  return {e.setup, e.result, library(), {}, {}, e.file, file_hash("x"), "2026-11-27", Paper::a4};
}

// A strict reader of the HTML that is written here. Every problem as a text.
class Page {
 public:
  explicit Page(const std::string& html) : in_(html) { read(); }

  std::vector<std::string> problems;
  std::string text;  // of the body, entities kept
  std::map<std::string, int> tags;
  std::set<std::string> ids;
  std::vector<std::pair<std::string, std::string>> attributes;

 private:
  void problem(const std::string& what) {
    if (problems.size() < 5) problems.push_back(what + " at byte " + std::to_string(at_));
  }

  void read() {
    const std::string doctype = "<!DOCTYPE html>";
    if (in_.rfind(doctype, 0) != 0) return problem("no doctype");
    at_ = doctype.size();
    while (at_ < in_.size()) {
      if (in_[at_] == '<') {
        tag();
      } else if (in_[at_] == '&') {
        entity();
      } else {
        if (in_[at_] == '>') problem("bare >");
        if (static_cast<unsigned char>(in_[at_]) < 0x20 && in_[at_] != '\n') problem("control");
        text += in_[at_++];
      }
    }
    if (!open_.empty()) problem("left open: " + open_.back());
    for (const auto& [name, value] : attributes) {
      if (name == "href" && (value.rfind('#', 0) != 0 || ids.count(value.substr(1)) == 0)) {
        problem("leads nowhere: " + value);
      }
      if (name == "for" && ids.count(value) == 0) problem("label of nothing: " + value);
    }
  }

  void entity() {
    static const std::regex known("^&(amp|lt|gt|quot|#39|nbsp);");
    std::smatch m;
    const std::string rest = in_.substr(at_, 8);
    if (!std::regex_search(rest, m, known)) {
      problem("bare &");
      ++at_;
      return;
    }
    text += m.str();
    at_ += m.str().size();
  }

  void tag() {
    static const std::set<std::string> empty{"meta", "input", "br", "hr"};
    const std::size_t begin = at_;
    ++at_;
    const bool closes = in_[at_] == '/';
    if (closes) ++at_;
    std::string name;
    while (at_ < in_.size() && (std::isalnum(static_cast<unsigned char>(in_[at_])) != 0)) {
      name += in_[at_++];
    }
    if (name.empty()) return problem("no tag");
    bool self = false;
    while (at_ < in_.size() && in_[at_] != '>') {
      if (in_[at_] == '/') {
        self = true;
        ++at_;
      } else if (in_[at_] == ' ' || in_[at_] == '\n') {
        ++at_;
      } else {
        attribute(name);
      }
    }
    ++at_;
    if (closes) {
      if (open_.empty() || open_.back() != name) {
        return problem("closes " + name + " in " + (open_.empty() ? "nothing" : open_.back()));
      }
      open_.pop_back();
      return;
    }
    ++tags[name];
    if (self || empty.count(name) > 0) return;
    open_.push_back(name);
    if (name == "style") {
      const std::size_t end = in_.find("</style>", begin);
      if (end == std::string::npos) return problem("style without end");
      if (in_.substr(at_, end - at_).find('<') != std::string::npos) problem("< in style");
      at_ = end;
    }
  }

  void attribute(const std::string& tag) {
    std::string name;
    while (at_ < in_.size() && in_[at_] != '=' && in_[at_] != ' ' && in_[at_] != '>') {
      name += in_[at_++];
    }
    if (name.empty() || in_[at_] != '=' || in_[at_ + 1] != '"') {
      problem("attribute without quotes in " + tag + ": " + name.substr(0, 40));
      ++at_;
      return;
    }
    at_ += 2;
    std::string value;
    while (at_ < in_.size() && in_[at_] != '"') value += in_[at_++];
    ++at_;
    if (value.find('<') != std::string::npos) problem("< in an attribute");
    if (name == "id" && !ids.insert(value).second) problem("a second " + value);
    attributes.emplace_back(name, value);
  }

  const std::string& in_;
  std::size_t at_ = 0;
  std::vector<std::string> open_;
};

std::string all_of(const std::vector<std::string>& list) {
  std::string out;
  for (const std::string& t : list) out += t + "\n";
  return out;
}

bool has(const std::string& html, const std::string& what) {
  return html.find(what) != std::string::npos;
}

// Nothing is loaded and nothing runs.
void check_self_contained(const std::string& html) {
  for (const char* word :
       {"http", "<script", "url(", "@import", "javascript:", "src=", "<iframe"}) {
    CAPTURE(word);
    CHECK_FALSE(has(html, word));
  }
}

void check_page(const std::string& html) {
  const Page page(html);
  CHECK(all_of(page.problems) == "");
  for (const auto& [name, value] : page.attributes) {
    const std::string& written = name;  // clang captures no structured binding
    CAPTURE(written);
    CHECK(name.rfind("on", 0) != 0);
    if (name == "style") CHECK(std::regex_match(value, std::regex("--high:[0-9.]+")));
  }
}

}  // namespace

TEST_SUITE_BEGIN("unit");

TEST_CASE("sheet: the page of every example is whole HTML that loads and runs nothing") {
  CHECK(examples().size() == 18);
  for (const Example& e : examples()) {
    CAPTURE(e.file);
    const std::string html = sheet_html(content_of(e));
    check_page(html);
    check_self_contained(html);
    const Page page(html);
    CHECK(page.tags.at("html") == 1);
    CHECK(page.tags.at("main") == 1);
    CHECK(page.tags.at("h1") == 1);
    CHECK(page.tags.at("title") >= 1);
    for (const auto& [name, value] : page.attributes) {
      if (name == "lang") CHECK(value == "en");
    }
  }
}

TEST_CASE("sheet: every example says its verdict with number and word and where it may be set") {
  for (const Example& e : examples()) {
    CAPTURE(e.file);
    const std::string html = sheet_html(content_of(e));
    const std::string line = wording::headline(e.result.verdict);
    CHECK(has(html, line.substr(line.find("] ") + 2) + "</h1>"));
    for (const char* id :
         {"answer", "limits", "order", "cautions", "figures", "inputs", "not-checked", "sources"}) {
      CAPTURE(id);
      CHECK(has(html, "id=\"" + std::string(id) + "\""));
    }
    const bool says = has(html, "Brake not above") || has(html, "Drag not above") ||
                      has(html, "Pull not above") || has(html, "No useful setting") ||
                      has(html, "No setting");
    CHECK(says);
    if (e.result.verdict == Verdict::no_verdict) CHECK_FALSE(has(html, "not above <b>"));
  }
}

TEST_CASE("sheet: the figure set large is the lower of what mount and boat allow") {
  for (const Example& e : examples()) {
    if (e.result.verdict == Verdict::no_verdict) continue;
    CAPTURE(e.file);
    const std::string html = sheet_html(content_of(e));
    for (const GearLimit& l : e.result.gear_limits) {
      const HeelPull* heel = beside::heel_pull(e.result, l.gear);
      if (!l.setting || heel == nullptr || !heel->setting) continue;
      const Force lower = std::min(*l.setting, *heel->setting);
      const std::string figure = "<b>" + about(lower, e.setup.units, Rounding::down) + "</b>";
      // Gears within 2 % share the least of them.
      const std::string near = "<b>" + about(0.98 * lower, e.setup.units, Rounding::down) + "</b>";
      const bool shown = has(html, figure) || has(html, near) || has(html, "No useful setting");
      CHECK(shown);
    }
  }
}

TEST_CASE("sheet: every caution and the deferral are on the first page of every example") {
  for (const Example& e : examples()) {
    CAPTURE(e.file);
    const std::string html = sheet_html(content_of(e));
    const std::string first = html.substr(0, html.find("id=\"figures\""));
    const ShortNames names(e.setup);
    for (const std::string& c : beside::cautions(e.result)) {
      CHECK_MESSAGE(has(first, html::text(names.in(c))), c);
    }
    for (const std::string& c : standing_cautions(e.setup))
      CHECK_MESSAGE(has(first, html::text(c)), c);
    CHECK(has(first, wording::deferral));
    CHECK(has(html.substr(html.find("id=\"figures\"")), wording::deferral));
  }
}

// What practice asks for on every sheet, by words that cannot be missed.
TEST_CASE("sheet: what every user must be told is said for every mount") {
  for (const Example& e : examples()) {
    CAPTURE(e.file);
    const std::string html = sheet_html(content_of(e));
    for (const char* words :
         {"stern quarter can swamp", "never tie off, tow, moor, anchor or lift",
          "never power against it", "weak link", "step", "turns round a hand", "capacity label",
          "flotation", "weaken unseen", "a calculation is not an inspection"}) {
      CAPTURE(words);
      CHECK(has(html, words));
    }
  }
}

// Issue 7: what the first printed page shows, what the second.
TEST_CASE(
    "sheet: pictures of both forms stand on the page that prints them under names of their own") {
  for (const Example& e : examples()) {
    CAPTURE(e.file);
    const std::string html = sheet_html(content_of(e));
    check_page(html);  // no id twice
    const std::size_t overleaf = html.find("id=\"figures\"");
    const std::size_t views = html.find("class=\"views on-paper\"");
    const std::size_t ruler = html.find("class=\"ruler on-paper\"");
    CHECK(views < overleaf);
    CHECK(ruler < overleaf);
    for (const char* id : {"view-plan-paper", "view-side-paper", "view-stern-paper"}) {
      CAPTURE(id);
      const std::size_t at = html.find("<svg id=\"" + std::string(id) + "\"");
      CHECK(at > views);
      CHECK(at < overleaf);
    }
    CHECK(html.find("<svg id=\"movement\"") > overleaf);
  }
}

TEST_CASE("sheet: cautions follow what the setup gives cause for") {
  const auto told = [](const Setup& s, const std::string& words) {
    const auto all = standing_cautions(s);
    return std::any_of(all.begin(), all.end(), [&](const auto& c) { return has(c, words); });
  };
  Setup s = example("reservoir-jon-boat.yaml").setup;
  s.salt_water = false;
  s.use.water_temperature = 20;
  s.use.gear_off_on_road = true;
  s.condition.weld_near_base = Answer::no;
  CHECK_FALSE(told(s, "salt water"));
  CHECK_FALSE(told(s, "cold water"));
  CHECK_FALSE(told(s, "for the road"));
  CHECK_FALSE(told(s, "welder"));
  CHECK_FALSE(told(s, "laminate"));
  CHECK_FALSE(told(s, "electric winch"));
  s.salt_water = true;
  s.use.water_temperature = 4;
  s.use.gear_off_on_road = false;
  s.condition.weld_near_base = Answer::yes;
  CHECK(told(s, "salt water"));
  CHECK(told(s, "cold water"));
  CHECK(told(s, "for the road"));
  CHECK(told(s, "welder"));
  s.plate().host.kind = HostKind::laminate;
  CHECK(told(s, "laminate"));
  const Setup skiff = example("fjord-skiff.yaml").setup;
  CHECK_FALSE(told(skiff, "electric winch"));  // cranked by hand
  CHECK(told(skiff, "one-hand cutter"));
  CHECK_FALSE(told(skiff, "one-hand knife"));
}

TEST_CASE("sheet: no example is called safe or approved or certified or guaranteed") {
  const std::regex forbidden("\\b(safe|safely|approved|certified|guaranteed)\\b",
                             std::regex::icase);
  for (const Example& e : examples()) {
    CAPTURE(e.file);
    const Page page(sheet_html(content_of(e)));
    std::smatch found;
    const bool any = std::regex_search(page.text, found, forbidden);
    CHECK_MESSAGE(!any, found.str());
  }
}

TEST_CASE("sheet: words of a hostile setup stay text") {
  const std::vector<std::string> hostile{"<script>alert(1)</script>",
                                         "\"><img src=x onerror=alert(1)>",
                                         "' onload='x",
                                         "</style></title><h1>",
                                         "&lt;b&gt; & \xc3\x28 \xff",
                                         "\xe2\x80\xae"
                                         "desrever",
                                         std::string(10000, 'W'),
                                         "a\nb\tc\x01\x7f",
                                         "\xf0\x9f\x8e\xa3 \xd7\xa9\xd7\x9c"};
  const char* const files[] = {"reservoir-jon-boat.yaml", "fjord-skiff.yaml"};
  for (const char* file : files) {
    for (const std::string& evil : hostile) {
      CAPTURE(file);
      CAPTURE(evil.substr(0, 60));
      Example e = example(file);
      const std::string old = e.setup.gear.front().name;
      e.setup.title = evil;
      e.setup.gear.front().name = evil;
      for (Input& i : e.setup.inputs) i.value = evil;
      for (GearLimit& l : e.result.gear_limits) {
        if (l.gear == old) l.gear = evil;
        l.first = evil;
      }
      e.result.sentence = "First to go: " + evil;
      for (CheckResult& c : e.result.checks) {
        c.where = evil;
        c.case_title = evil;
        c.source.title = evil;
      }
      for (CaseResult& c : e.result.cases) c.load_case.title = evil;
      e.result.cautions.push_back(evil);
      e.result.not_checked.push_back(evil);
      e.result.sources.push_back({evil, evil, Seen::memory});
      e.result.look_again = {evil};
      e.result.case_changes = {evil};
      SheetContent content = content_of(e);
      content.file = evil;
      const std::string html = sheet_html(content);
      check_page(html);
      CHECK_FALSE(has(html, "<script"));
      CHECK_FALSE(has(html, "<img"));
      CHECK_FALSE(has(html, "\xe2\x80\xae"));
      CHECK_FALSE(has(html, "\xff"));
    }
  }
}

TEST_CASE("sheet: the same setup gives the same bytes") {
  for (const char* file : {"reservoir-jon-boat.yaml", "lough-boat.yaml"}) {
    Example again = example(file);
    again.result = assess(again.setup, sheet_options());
    CHECK(sheet_html(content_of(example(file))) == sheet_html(content_of(again)));
  }
}

TEST_CASE("sheet: changes are told best first with what they ask") {
  const Example& e = example("reservoir-jon-boat.yaml");
  SheetContent content = content_of(e);
  content.changes =
      suggest_changes(contents(THOLE_ROOT "/examples/reservoir-jon-boat.yaml"), e.file, library());
  const std::string html = sheet_html(content);
  check_page(html);
  REQUIRE(content.changes->ranking.size() >= 3);
  std::size_t last = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    const Change& c = content.changes->changes[content.changes->ranking[k]];
    // Its first letter is large on the page.
    const std::size_t at = html.find(html::text(c.words.substr(1)), last);
    CAPTURE(c.words);
    REQUIRE(at != std::string::npos);
    CHECK(at > last);
    last = at;
  }
  CHECK(has(html, "Trouble: "));
}

TEST_CASE("sheet: tables have heads of columns and rows and each reference leads to its source") {
  for (const Example& e : examples()) {
    CAPTURE(e.file);
    const std::string html = sheet_html(content_of(e));
    const Page page(html);
    if (page.tags.count("table") == 0) continue;
    CHECK(page.tags.count("caption") == 1);
    CHECK(has(html, "<th scope=\"col\">"));
    CHECK(has(html, "<th scope=\"row\">"));
  }
}

TEST_CASE("sheet: headings go down by one step at a time") {
  const std::regex heading("<h([1-6])");
  for (const Example& e : examples()) {
    CAPTURE(e.file);
    const std::string html = sheet_html(content_of(e));
    int last = 0;
    for (std::sregex_iterator i(html.begin(), html.end(), heading), end; i != end; ++i) {
      const int level = std::stoi((*i)[1]);
      CHECK(level <= last + 1);
      last = level;
    }
  }
}

TEST_CASE("sheet: paper and date and hash are on the page") {
  const Example& e = example("reservoir-jon-boat.yaml");
  SheetContent content = content_of(e);
  CHECK(has(sheet_html(content), "size:A4"));
  content.paper = Paper::letter;
  const std::string html = sheet_html(content);
  CHECK(has(html, "size:letter"));
  CHECK(has(html, "2026-11-27"));
  CHECK(has(html, content.hash));
}

// FIPS 180-4, as sha1sum of coreutils prints it for the text "abc" and for no text.
TEST_CASE("sheet: the hash of a file is that of sha1sum") {
  CHECK(file_hash("abc") == "a9993e364706816aba3e25717850c26c9cd0d89d");
  CHECK(file_hash("") == "da39a3ee5e6b4b0d3255bfef95601890afd80709");
}

TEST_SUITE_END();
