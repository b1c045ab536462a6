// Cards for the yard and the boat: how tight, what to look at, how to stow.

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <thole/check.hpp>
#include <thole/reading.hpp>
#include <thole/sheet.hpp>
#include <thole/test_pull.hpp>

#include "report/cards.hpp"
#include "report/inspection_card.hpp"
#include "support/plates.hpp"

using namespace thole;
using thole::test::jon_boat;
using thole::test::read;
using thole::test::with;

namespace {

struct Made {
  Setup setup;
  Assessment assessment;

  explicit Made(Setup s) : setup(std::move(s)), assessment(assess(setup)) {}

  [[nodiscard]] SheetContent content() const {
    return {setup,       assessment, built_in_materials(), {},       {},
            "file.yaml", "",         "2026-11-27",         Paper::a4};
  }
  [[nodiscard]] std::string tightening() const { return cards::tightening(content()).html; }
  [[nodiscard]] std::string inspection() const { return cards::inspection(content()).html; }
  [[nodiscard]] std::string stow() const { return cards::stow_and_tow(content()).html; }
};

std::string text_of(const std::string& example) {
  std::ifstream in(std::string(THOLE_ROOT "/examples/") + example + ".yaml", std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

const Made& jon() {
  static const Made made(read(jon_boat));
  return made;
}
const Made& skiff() {
  static const Made made(read(text_of("fjord-skiff")));
  return made;
}
const Made& cored() {
  static const Made made(read(text_of("bay-boat")));
  return made;
}

bool has(const std::string& text, std::string_view piece) {
  return text.find(piece) != std::string::npos;
}

std::size_t times(const std::string& text, std::string_view piece) {
  std::size_t n = 0;
  for (std::size_t at = text.find(piece); at != std::string::npos; at = text.find(piece, at + 1)) {
    ++n;
  }
  return n;
}

// The lines of the list, in order.
std::vector<std::string> lines_of(const std::string& card) {
  std::vector<std::string> out;
  for (std::size_t at = card.find("<li>"); at != std::string::npos; at = card.find("<li>", at)) {
    const std::size_t end = card.find("</li>", at);
    out.push_back(card.substr(at, end - at));
    at = end;
  }
  return out;
}

std::string words(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c; });
  return text;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("cards: every failure mode has an inspection text with a reject limit") {
    std::size_t modes = 0;
    for (const auto list : {catalogue(), board_catalogue()}) {
      for (const FailureMode& m : list) {
        CAPTURE(m.id);
        ++modes;
        const cards::Look* look = nullptr;
        CHECK_NOTHROW(look = &cards::look_for(m.id));
        REQUIRE(look);
        CHECK_FALSE(look->what.empty());
        CHECK_FALSE(look->how.empty());
        CHECK_FALSE(look->reject.empty());
        const std::set<std::string_view> rounds{"before each trip", "each month", "each season"};
        CHECK(rounds.count(look->when) == 1);
      }
    }
    CHECK(modes > 90);
    CHECK_THROWS_AS((void)cards::look_for("no-such-mode"), InternalError);
  }

  TEST_CASE("cards: a ceiling of torque reads the same in both units") {
    const std::string card = jon().tightening();
    // 1 lbf in = 0.112 984 8 N m (NIST SP 811): the ceiling of the jon-boat by hand from both.
    REQUIRE(jon().assessment.tightening.front().ceiling);
    const double nm = jon().assessment.tightening.front().ceiling->value();
    const double in_lbf = nm / 0.1129848;
    CHECK(in_lbf >= 6.9);
    CHECK(in_lbf < 7.0);
    CHECK(nm >= 0.78);
    CHECK(nm < 0.79);
    CHECK(has(card, "6.9 lbf in (0.78 N m)"));
    CHECK(has(card, "threads in the wall"));
    CHECK(has(card, "screwdriver"));
  }

  TEST_CASE("cards: every kind of fastening has a box and says how tight") {
    const std::string card = skiff().tightening();
    CHECK(skiff().assessment.tightening.size() == 3);
    CHECK(times(card, "type=\"checkbox\"") == 3);
    CHECK(times(card, "<label>") == 3);
    CHECK(has(card, "<b>Snug only</b>: turn until the parts touch all round"));
    CHECK(has(card, "Never above"));
    CHECK(has(card, "no power or impact driver"));
    CHECK(has(card, "from the middle outward"));
  }

  TEST_CASE("cards: a floor of torque is told where tightness lasts") {
    Made made = jon();
    TighteningRow& r = made.assessment.tightening.front();
    r.holds_preload = r.kept_tight = true;
    r.floor = Moment(0.5 * r.ceiling->value() * si::newton * si::metre);
    r.separating = Force(10.0 * si::newton);
    CHECK(has(made.tightening(), "At least"));
    CHECK_FALSE(has(jon().tightening(), "At least"));
  }

  TEST_CASE("cards: what fails is looked at first and by its number") {
    const Assessment& a = jon().assessment;
    const std::vector<std::string> lines = lines_of(jon().inspection());
    REQUIRE(lines.size() > 5);
    REQUIRE(a.checks.front().standing == Standing::applies);
    std::string all;
    for (const std::string& l : lines) all += l;
    for (const CheckResult& c : a.checks) {
      if (c.standing != Standing::applies || c.holds) continue;
      CAPTURE(c.mode);
      const std::string what(cards::look_for(c.mode).what);
      const auto line = std::find_if(lines.begin(), lines.end(), [&](const std::string& l) {
        return has(words(l), words(what)) && has(l, cards::look_for(c.mode).reject);
      });
      REQUIRE(line != lines.end());
      const bool said = has(*line, "does not hold as drawn") || has(*line, "may crack in time");
      CHECK(said);
      if (c.fastener >= 0) CHECK(has(*line, "no. "));
    }
    CHECK(has(lines.front(), "no. "));
    CHECK(times(jon().inspection(), "<th scope=\"row\">") == lines.size() + 1);
  }

  TEST_CASE("cards: the order of looking follows the least share of what is needed") {
    Made made = jon();
    for (CheckResult& c : made.assessment.checks) {
      c.factor = c.mode == "screw-shear" ? 0.01 : 10;
      c.holds = c.mode != "screw-shear";
    }
    const std::vector<std::string> lines = lines_of(made.inspection());
    REQUIRE_FALSE(lines.empty());
    CHECK(has(lines.front(), cards::look_for("screw-shear").reject));
  }

  TEST_CASE("cards: wood cores metals in contact and open questions have lines of their own") {
    CHECK(has(skiff().inspection(), "an awl"));
    CHECK(has(skiff().inspection(), "twice a season"));  // salt water
    CHECK_FALSE(has(jon().inspection(), "awl"));
    CHECK(has(jon().inspection(), "White or brown powder"));  // stainless in aluminium
    CHECK(has(cored().inspection(), "Sealing of every hole"));
    CHECK(has(cored().inspection(), "Nobody has looked yet: soft wood or core"));
    CHECK_FALSE(has(jon().inspection(), "Nobody has looked"));
    CHECK(has(cored().inspection(), "no figure for it: look harder"));
    for (const Made* m : {&jon(), &skiff(), &cored()}) {
      CHECK(has(m->inspection(), "line of paint"));
      CHECK(has(m->inspection(), "common practice, no source"));
    }
  }

  TEST_CASE("cards: only a mount with a test pull is to be pulled again") {
    int pulled = 0;
    int not_pulled = 0;
    for (const char* file : {"fjord-skiff", "fjord-skiff-best-fix", "bay-boat", "bay-boat-best-fix",
                             "lough-boat", "reservoir-jon-boat-best-fix"}) {
      CAPTURE(file);
      const Made m(read(text_of(file)));
      const bool any = !test_pull_card(m.setup, m.assessment).steps.empty();
      CHECK(has(m.inspection(), "The test pull again") == any);
      (any ? pulled : not_pulled) += 1;
    }
    CHECK(pulled > 0);
    CHECK(not_pulled > 0);
  }

  TEST_CASE("cards: the road claims no more than its own row") {
    const Made refused(read(text_of("lough-boat")));
    REQUIRE(refused.assessment.verdict == Verdict::no_verdict);
    CHECK(has(refused.stow(),
              "on the trailer by the figures: what can be calculated holds, the "
              "design has no verdict"));
    Made unknown = refused;
    for (CaseResult& c : unknown.assessment.cases) {
      if (c.load_case.kind == "on-the-trailer") c.load_case.left_out = true;
    }
    CHECK(has(unknown.stow(), "the trailer was not calculated"));
  }

  TEST_CASE("cards: what shakes the mount to pieces is told with its verdict") {
    CHECK(has(jon().stow(), "<b>Running, gear stowed</b>: <b>does not hold</b>"));
    CHECK(has(jon().stow(), "<b>On the trailer</b>: holds"));
    CHECK(has(jon().stow(), "Take the gear off.</b> The file leaves it on for 20 h"));
    const Made off(read(with(jon_boat, "mount:\n", "use: {gear_off_on_road: yes}\nmount:\n")));
    CHECK_FALSE(has(off.stow(), "On the trailer"));
    CHECK(has(off.stow(), "the figures hold for that alone"));
  }

  TEST_CASE("cards: a road that is too much for the mount says so") {
    Made made = jon();
    for (CaseResult& c : made.assessment.cases) {
      if (c.load_case.kind == "on-the-trailer") c.holds = false;
    }
    CHECK(has(made.stow(), "the road alone is too much for the mount"));
    CHECK(has(made.stow(), "<b>On the trailer</b>: <b>does not hold</b>"));
  }

  TEST_CASE("cards: no row of a design without a verdict gets a tick") {
    REQUIRE(cored().assessment.verdict == Verdict::no_verdict);
    CHECK_FALSE(has(cored().stow(), "mark tick"));
    CHECK(has(cored().stow(), "the design has no verdict"));
  }

  TEST_CASE("cards: booms are stowed where the file says or the card says that it does not") {
    CHECK(has(cored().stow(), "boom straight astern, pinned there"));
    CHECK(has(skiff().stow(), "where its boom is stowed is not said"));
    CHECK_FALSE(has(jon().stow(), "Balls up"));
    CHECK(has(jon().stow(), "Rods out"));
  }

  TEST_CASE("cards: width and weight are those of the file") {
    // Plank of 2.20 m on a beam of 2.05 m: 75 mm proud of each rail.
    CHECK(has(skiff().stow(), "too wide by 75 mm"));
    // Twice a winch of 6 kg with a ball of 4.5 kg.
    CHECK(times(skiff().stow(), "10.5 kg with its ball") == 2);
    CHECK(has(skiff().stow(), "<b>21 kg</b> in all"));
    CHECK(has(jon().stow(), "Measure the width over everything"));
    CHECK(has(jon().stow(), "8 ft to 8 ft 6 in"));
  }

  TEST_CASE("cards: names stay text") {
    const std::string name = "starboard rod";
    const std::string hostile = "</b><script>window.hit=1</script><img src=x onerror=y>";
    const Made plain(read(jon_boat));
    const Made bad(read(with(jon_boat, name, "\"" + hostile + "\"")));
    const auto tags = [](const Made& m) {
      return times(m.tightening() + m.inspection() + m.stow(), "<");
    };
    CHECK(has(bad.stow(), "&lt;script&gt;"));
    CHECK(tags(bad) == tags(plain));
    Made board = skiff();
    for (CheckResult& c : board.assessment.checks) {
      if (!c.where.empty()) c.where = hostile;
    }
    for (TighteningRow& r : board.assessment.tightening) r.names = {hostile, hostile};
    CHECK_FALSE(has(board.tightening() + board.inspection() + board.stow(), "<script"));
    CHECK(has(board.inspection(), "&lt;script&gt;"));
  }

  TEST_CASE("cards: nothing is called safe or approved") {
    for (const Made* m : {&jon(), &skiff(), &cored()}) {
      const std::string all = words(m->tightening() + m->inspection() + m->stow());
      for (const char* never : {"safe", "approved", "certified", "guarantee"}) {
        CHECK_FALSE(has(all, never));
      }
    }
  }
}
