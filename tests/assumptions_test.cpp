// What the models assume, which way it errs, and that no report hides it.

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <fstream>
#include <functional>
#include <iterator>
#include <set>
#include <string>
#include <vector>

#include <thole/assumptions.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>
#include <thole/sheet.hpp>

#include "core/assumption_rows.hpp"
#include "report/html.hpp"
#include "report/text.hpp"

using namespace thole;

namespace {

Setup example(const std::string& name) {
  std::ifstream in(std::string(THOLE_ROOT) + "/examples/" + name + ".yaml");
  REQUIRE_MESSAGE(in, name);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  return read_setup(text, name, built_in_materials());
}

Setup changed(Setup s, const std::function<void(Setup&)>& how) {
  how(s);
  return s;
}

// Boards and plates that differ in all that a row may ask for. The predicates are looked at alone:
// not all of these could be built.
const std::vector<Setup>& setups() {
  static const std::vector<Setup> all = [] {
    std::vector<Setup> out;
    for (const char* name : {"fjord-skiff", "fjord-skiff-first-fix", "lake-cartopper", "lough-boat",
                             "reservoir-jon-boat", "highland-dinghy", "bay-boat"}) {
      out.push_back(example(name));
    }
    const Setup skiff = out[1];
    const auto vary = [&](const std::function<void(Setup&)>& how) {
      out.push_back(changed(skiff, how));
    };
    vary([](Setup& s) { s.board().legs.front().beside = true; });
    vary([](Setup& s) { s.board().board.form = BoardForm::plank_with_strip; });
    vary([](Setup& s) { s.board().port.kind = LedgeKind::gunwale_top; });
    vary([](Setup& s) {
      s.board().port.fastening = LedgeFastening{};
      s.board().port.fastening->hull = HullKind::laminate;
    });
    vary([](Setup& s) {
      s.gear.push_back(s.gear.front());
      s.use.gear_off_on_road = true;
      s.use.running_peak = 3;
    });
    vary([](Setup& s) {
      for (Gear& g : s.gear) {
        g.foot.reset();
        g.downrigger->brake_slip.reset();
        g.downrigger->wire_break.reset();
        g.downrigger->powered = true;
        g.downrigger->winch_stall = Force{};
      }
      s.board().hold_downs.clear();
      s.board().legs.clear();
      s.boat.reset();
    });
    vary([](Setup& s) {
      for (Gear& g : s.gear) {
        g.downrigger->wire_break = Force::from_value(600);
        g.downrigger->powered = false;
        g.foot->plate = Backing{};
      }
      s.boat->wave_height = Length::from_value(0.4);
      s.boat->lean_test = LeanTest{};
    });
    vary([](Setup& s) {
      for (Gear& g : s.gear) {
        g.downrigger.reset();
        g.plain_load = PlainLoad{};
      }
    });
    return out;
  }();
  return all;
}

// Without line ends and the spaces of wrapping.
std::string one_line(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool space = std::isspace(static_cast<unsigned char>(c)) != 0;
    if (!space) out += c;
    if (space && !out.empty() && out.back() != ' ') out += ' ';
  }
  return out;
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_SUITE_BEGIN("unit");

TEST_CASE("assumptions: every id stands once and every row has all of its words") {
  std::set<std::string> ids;
  for (const Assumption& a : all_assumptions()) {
    CAPTURE(a.id);
    CHECK(ids.insert(a.id).second);
    CHECK(a.id.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string::npos);
    for (const std::string& words : {a.about, a.text, a.why, a.said}) {
      CHECK_FALSE(words.empty());
      CHECK(words.find_first_of("\n\t<>&") == std::string::npos);
      if (!words.empty()) CHECK(words.back() != '.');
    }
    for (const std::string never : {" safe", "approved", "certified", "guarantee"}) {
      CHECK_FALSE(holds(" " + a.text + " " + a.why + " " + a.said, never));
    }
  }
  CHECK(ids.size() >= 60);
}

TEST_CASE("assumptions: a row of loads and boards bears on some setups and only a few on all") {
  const std::set<std::string> always{"loads-steady",    "loads-wind",        "answers-directions",
                                     "answers-going",   "answers-fatigue",   "answers-new",
                                     "answers-setting", "answers-one-input", "answers-size"};
  for (const auto& list : {assumptions_of_loads(), assumptions_of_boards()}) {
    for (const AssumptionRow& r : list) {
      CAPTURE(r.id);
      const auto n = std::count_if(setups().begin(), setups().end(),
                                   [&](const Setup& s) { return r.applies(s); });
      CHECK(n > 0);
      CHECK((n == std::ptrdiff_t(setups().size())) == (always.count(r.id) > 0));
    }
  }
}

TEST_CASE("assumptions: rows of boards bear on no plate and rows of plates on no board") {
  for (const Setup& s : setups()) {
    const auto& others = s.on_board() ? assumptions_of_plates() : assumptions_of_boards();
    CHECK(std::none_of(others.begin(), others.end(),
                       [&](const AssumptionRow& r) { return r.applies(s); }));
  }
}

TEST_CASE("assumptions: no report leaves out what may err the other way") {
  for (const char* name : {"reservoir-jon-boat", "lake-cartopper", "bay-boat-best-fix"}) {
    CAPTURE(name);
    const Setup s = example(name);
    const Assessment a = assess(s, sheet_options());
    ReportStyle style;
    const std::string screen = one_line(terminal_report(s, a, style));
    style.details = true;
    const std::string details = one_line(terminal_report(s, a, style));
    const std::string json = json_report(s, a);
    const SheetContent content{s, a, built_in_materials(), {}, {}, "a.yaml", "", "", Paper::a4};
    const std::string sheet = sheet_html(content);
    std::size_t told = 0;
    for (const Assumption& row : assumptions_of(s)) {
      CAPTURE(row.id);
      CHECK(holds(json, "\"" + row.id + "\""));
      if (row.errs == Errs::cautious) continue;
      ++told;
      CHECK(holds(details, row.text + " (" + std::string(word_for(row.errs)) + "): " + row.why));
      CHECK(holds(sheet, html::text(row.text.substr(1)).substr(0, 60)));
      CHECK(holds(sheet, html::text(row.why)));
    }
    CHECK(told > 3);
    const std::string count = std::to_string(told) + " assumptions may err the other way";
    CHECK(holds(screen, count));
    CHECK(holds(sheet, count));
  }
}

TEST_CASE("assumptions: the table has every row and counts them and keeps to 80 columns") {
  const std::string table = assumption_table(all_assumptions());
  std::size_t from = 0;
  for (std::size_t end = table.find('\n'); end != std::string::npos; end = table.find('\n', from)) {
    CHECK(text::width(table.substr(from, end - from)) <= 79);
    from = end + 1;
  }
  for (const Assumption& a : all_assumptions()) CHECK(holds(table, a.id + ":"));
  CHECK(holds(table, std::to_string(all_assumptions().size()) + " assumptions"));
  const auto few = assumptions_of(example("reservoir-jon-boat"));
  CHECK(few.size() < all_assumptions().size());
  CHECK(holds(assumption_table(few), std::to_string(few.size()) + " assumptions"));
}

TEST_SUITE_END();
