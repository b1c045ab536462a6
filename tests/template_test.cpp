// Templates and plate drawings: true size, every hole on paper, nothing wider than the page.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include <thole/reading.hpp>
#include <thole/sheet.hpp>

#include "report/html.hpp"
#include "support/hosts.hpp"
#include "support/markup.hpp"
#include "support/plates.hpp"

using namespace thole;
using thole::test::jon_boat;
using thole::test::Markup;
using thole::test::read;
using thole::test::Tag;
using thole::test::with;

namespace {

std::string example_text(const std::string& name) {
  std::ifstream file(THOLE_ROOT "/examples/" + name + ".yaml");
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

// A setup with its assessment and what a sheet is made from.
struct Made {
  explicit Made(const std::string& text) : setup(read(text)), assessment(assess(setup)) {}
  [[nodiscard]] SheetContent content() const {
    return {setup,       assessment, built_in_materials(), {},       {},
            "name.yaml", "",         "2026-11-27",         Paper::a4};
  }
  [[nodiscard]] std::vector<HoleSet> sets() const { return hole_sets(setup, built_in_materials()); }
  Setup setup;
  Assessment assessment;
};

std::vector<Tag> tags_of_pages(const std::string& html) {
  const std::size_t from = html.find("<main>");
  const std::size_t to = html.find("</main>") + 7;
  REQUIRE(from != std::string::npos);
  return Markup::read(html.substr(from, to - from));
}

std::vector<std::vector<Tag>> pages_of(const std::string& html) {
  std::vector<std::vector<Tag>> out;
  for (const Tag& t : tags_of_pages(html)) {
    if (t.name == "section") out.emplace_back();
    if (!out.empty()) out.back().push_back(t);
  }
  return out;
}

double millimetres(const std::string& length) {
  REQUIRE(length.ends_with("mm"));
  return std::stod(length.substr(0, length.size() - 2));
}

std::vector<Tag> of_class(const std::vector<Tag>& tags, std::string_view name) {
  std::vector<Tag> out;
  for (const Tag& t : tags) {
    if (t.is(name)) out.push_back(t);
  }
  return out;
}

double between(const Tag& a, const Tag& b) {
  return std::hypot(a.number("cx") - b.number("cx"), a.number("cy") - b.number("cy"));
}

struct Dxf {
  std::vector<std::pair<int, std::string>> groups;
  explicit Dxf(const std::string& text) {
    std::istringstream in(text);
    for (std::string code, value; std::getline(in, code) && std::getline(in, value);)
      groups.emplace_back(std::stoi(code), value);
  }
  // Every entity of a kind as a map of its groups.
  [[nodiscard]] std::vector<std::map<int, std::string>> all(const std::string& kind) const {
    std::vector<std::map<int, std::string>> out;
    bool in = false;
    for (const auto& [code, value] : groups) {
      if (code == 0) {
        in = value == kind;
        if (in) out.emplace_back();
      } else if (in) {
        out.back()[code] = value;
      }
    }
    return out;
  }
};

const char* const every_example[] = {"fjord-skiff",       "reservoir-jon-boat",
                                     "bay-boat-best-fix", "highland-dinghy-best-fix",
                                     "lake-cartopper",    "lough-boat-first-fix"};

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("template: an SVG is as large in millimetres as in units and its holes lie true") {
    const Made made(jon_boat);
    const std::string svg = template_svg(made.content(), made.sets().front());
    const auto tags = Markup::read(svg.substr(svg.find("<svg")));
    const Tag& root = tags.front();
    CHECK(root.of("viewBox") == "0 0 " + root.of("width").substr(0, root.of("width").size() - 2) +
                                    " " +
                                    root.of("height").substr(0, root.of("height").size() - 2));
    const auto holes = of_class(tags, "hole");
    REQUIRE(holes.size() == 4);
    // 2 1/4 in by 1 1/8 in: 57.15 and 28.575 mm; the drill of 0.201 in has a radius of 2.553 mm.
    CHECK(between(holes[0], holes[1]) == doctest::Approx(57.15).epsilon(1e-4));
    CHECK(between(holes[1], holes[2]) == doctest::Approx(28.575).epsilon(1e-4));
    CHECK(holes[0].number("r") == doctest::Approx(2.5527).epsilon(1e-3));
    CHECK(holes[3].of("data-number") == "4");
  }

  TEST_CASE("template: every page has its bars of 100 mm and 4 in and 50 mm and the deferral") {
    for (const Paper paper : {Paper::a4, Paper::letter}) {
      const Made made(example_text("fjord-skiff"));
      SheetContent c = made.content();
      c.paper = paper;
      const auto pages = pages_of(template_html(c));
      CHECK(pages.size() > 10);
      for (const auto& page : pages) {
        const auto bars = of_class(page, "check-bar");
        REQUIRE(bars.size() == 3);
        double wide = 0, wider = 0, high = 0;
        for (const Tag& b : bars) {
          if (b.of("data-mm") == "100") wide = b.number("width");
          if (b.of("data-mm") == "101.6") wider = b.number("width");
          if (b.of("data-mm") == "50") high = b.number("height");
        }
        CHECK(wide == 100);
        CHECK(wider == 101.6);
        CHECK(high == 50);
        REQUIRE(of_class(page, "defer").size() == 1);
        const std::string words = of_class(page, "defer").front().text;
        CHECK(words.find("Before you drill") != std::string::npos);
        CHECK(words.find("marine professional") != std::string::npos);
      }
    }
  }

  TEST_CASE("template: nothing on a page is wider or higher than 180 by 245 mm") {
    for (const char* const name : every_example) {
      const Made made(example_text(name));
      const std::string html = template_html(made.content());
      CHECK(html.find("overflow:hidden;contain:paint") != std::string::npos);
      for (const auto& page : pages_of(html)) {
        for (const Tag& t : page) {
          if (t.name != "svg") continue;
          CHECK(millimetres(t.of("width")) <= 180);
          CHECK(millimetres(t.of("height")) <= 245);
        }
      }
    }
  }

  TEST_CASE("template: every hole is on some page at its true distance from the others") {
    for (const char* const name : every_example) {
      const Made made(example_text(name));
      const std::string html = template_html(made.content());
      // By pattern: number -> place in the whole drawing; tiles know where they begin.
      std::map<std::string, std::map<int, std::pair<double, double>>> found;
      std::string pattern;
      double x = 0, y = 0;
      for (const Tag& t : tags_of_pages(html)) {
        if (t.is("body")) x = y = 0;
        if (t.is("tile")) {
          x = t.number("data-x");
          y = t.number("data-y");
        }
        if (t.name == "svg" && t.of("id").starts_with("pattern-")) {
          pattern = t.of("id").substr(0, t.of("id").find('-', 8));
        }
        if (!t.is("hole") && !t.is("mark-only")) continue;
        const int number = int(t.number("data-number"));
        const std::pair<double, double> at{x + t.number("cx"), y + t.number("cy")};
        const auto [old, fresh] = found[pattern].emplace(number, at);
        // On two tiles: the same place.
        CHECK(std::abs(old->second.first - at.first) < 2e-3);
        CHECK(std::abs(old->second.second - at.second) < 2e-3);
        if (fresh) CHECK(t.number("r") > 0);
      }
      const auto sets = made.sets();
      REQUIRE(found.size() == sets.size());
      for (std::size_t i = 0; i < sets.size(); ++i) {
        const auto& on_paper = found["pattern-" + std::to_string(i + 1)];
        REQUIRE(on_paper.size() == sets[i].holes.size());
        for (const Hole& a : sets[i].holes) {
          for (const Hole& b : sets[i].holes) {
            const auto p = on_paper.at(a.number);
            const auto q = on_paper.at(b.number);
            const double true_mm =
                1000 * std::hypot((a.at.x - b.at.x).value(), (a.at.y - b.at.y).value());
            CHECK(std::abs(std::hypot(p.first - q.first, p.second - q.second) - true_mm) < 5e-3);
          }
        }
      }
    }
  }

  TEST_CASE("template: register marks of a name lie at one true place on both neighbours") {
    const Made made(example_text("fjord-skiff"));
    std::map<std::string, int> times;
    std::map<std::string, std::pair<std::string, std::string>> places;
    std::string pattern;
    double x = 0, y = 0;
    std::pair<double, double> wanted;
    bool marked = false;
    for (const Tag& t : tags_of_pages(template_html(made.content()))) {
      if (t.is("tile")) {
        x = t.number("data-x");
        y = t.number("data-y");
      }
      if (t.name == "svg" && t.of("id").starts_with("pattern-"))
        pattern = t.of("id").substr(0, t.of("id").find('-', 8));
      if (t.is("register-mark")) {
        const std::string name = pattern + t.of("data-mark");
        const std::pair<std::string, std::string> at{t.of("data-x"), t.of("data-y")};
        ++times[name];
        CHECK(places.emplace(name, at).first->second == at);
        wanted = {t.number("data-x"), t.number("data-y")};
        marked = true;
      }
      if (marked && t.name == "circle" && t.is("register")) {
        CHECK(std::abs(x + t.number("cx") - wanted.first) < 2e-3);
        CHECK(std::abs(y + t.number("cy") - wanted.second) < 2e-3);
        marked = false;
      }
    }
    CHECK(times.size() >= 4);
    for (const auto& [name, n] : times) CHECK(n >= 2);
  }

  TEST_CASE("template: starboard is drawn as the mirror image of port and neither is mirrored") {
    // Three holes that no turn maps onto their mirror image. From above, forward up the page: on
    // the port side outboard is to the left, on the starboard side to the right.
    const auto corner = [](const std::string& side) {
      std::string text =
          with(jon_boat, "holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}",
               "holes: {points: [[1 in, 0 in], [-1 in, 0.5 in], [-1 in, -0.5 in], [0.5 in, 0.5 "
               "in]]}");
      text += "fit:\n  mount_at: {forward: 34 in, off_middle: 27 in, side: " + side + "}\n";
      const Made made(text);
      const std::string svg = template_svg(made.content(), made.sets().front());
      const auto holes = of_class(Markup::read(svg.substr(svg.find("<svg"))), "hole");
      REQUIRE(holes.size() == 4);
      // Hole 2 is outboard of hole 3, hole 1 forward of both.
      CHECK(holes[0].number("cy") < holes[1].number("cy"));
      return holes[1].number("cx") - holes[2].number("cx");
    };
    CHECK(corner("port") == doctest::Approx(-25.4).epsilon(1e-4));
    CHECK(corner("starboard") == doctest::Approx(25.4).epsilon(1e-4));
  }

  TEST_CASE("template: a mount that does not hold says so across every page") {
    const Made made(example_text("reservoir-jon-boat"));
    REQUIRE(made.assessment.verdict == Verdict::does_not_hold);
    for (const auto& page : pages_of(template_html(made.content()))) {
      REQUIRE(of_class(page, "band").size() == 1);
      CHECK(of_class(page, "band").front().text ==
            "DOES NOT HOLD AS DRAWN: do not drill from this");
    }
    CHECK(plates_dxf(made.content()).find("DOES NOT HOLD AS DRAWN") != std::string::npos);
    CHECK(template_svg(made.content(), made.sets().front()).find("DOES NOT HOLD AS DRAWN") !=
          std::string::npos);
  }

  TEST_CASE("template: without a verdict there are reasons and no hole to drill") {
    const Made made(example_text("lough-boat"));
    REQUIRE(made.assessment.verdict == Verdict::no_verdict);
    const std::string html = template_html(made.content());
    CHECK(of_class(tags_of_pages(html), "hole").empty());
    CHECK(html.find("NO VERDICT: no template to drill from") != std::string::npos);
    CHECK(plates_svg(made.content()).empty());
    CHECK(plates_dxf(made.content()).empty());
    const std::string svg = template_svg(made.content(), made.sets().front());
    CHECK(svg.find("class=\"hole\"") == std::string::npos);
  }

  TEST_CASE("template: a pattern too large for paper is told and not printed in hundreds") {
    Made made(jon_boat);
    HoleSet wide = made.sets().front();
    made.setup.plate().base.outline = test::rectangle(5.0 * si::metre, 5.0 * si::metre);
    const std::string html = template_html(made.content());
    CHECK(html.find("Too large to print") != std::string::npos);
    CHECK(pages_of(html).size() < 30);
  }

  TEST_CASE("template: hostile names stay text and widen nothing") {
    const std::string hostile[] = {"<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>",
                                   std::string(10000, 'W'),
                                   "\xe2\x80\xae"
                                   "evil \xf0\x9f\x98\x80 \xd7\xa9\xd7\x9c",
                                   "a\nb\r\n  0\nSECTION\n"};
    for (const std::string& name : hostile) {
      Made made(example_text("highland-dinghy-best-fix"));
      made.setup.title = name;
      made.setup.plate().base.metal->name = name;
      made.setup.plate().host.metal.name = name;
      for (Gear& g : made.setup.gear) g.name = name;
      SheetContent c = made.content();
      c.file = name;
      const std::string html = template_html(c);
      for (const char* const bad : {"<script", "<img", "url(", "\xe2\x80\xae"})
        CHECK(html.find(bad) == std::string::npos);
      CHECK(tags_of_pages(html).size() > 100);
      CHECK(html.size() < 400000);
      for (const HoleSet& set : made.sets()) {
        const std::string svg = template_svg(c, set);
        CHECK(svg.find("<script") == std::string::npos);
        CHECK(Markup::read(svg.substr(svg.find("<svg"))).size() > 10);
      }
      const std::string plates = plates_svg(c);
      REQUIRE_FALSE(plates.empty());
      CHECK(Markup::read(plates.substr(plates.find("<svg"))).size() > 10);
      const std::string dxf = plates_dxf(c);
      for (const char ch : dxf) {
        const bool plain = (ch >= 0x20 && ch < 0x7f) || ch == '\n';
        if (!plain) FAIL("a character that is no plain ASCII");
      }
      CHECK(Dxf(dxf).all("SECTION").size() == 3);
    }
  }

  TEST_CASE("template: the DXF is pairs of groups with circles in the right places") {
    const Made made(example_text("fjord-skiff"));
    const std::string text = plates_dxf(made.content());
    CHECK(std::count(text.begin(), text.end(), '\n') % 2 == 0);
    const Dxf dxf(text);
    CHECK(dxf.groups.back() == std::pair<int, std::string>(0, "EOF"));
    CHECK(text.find("AC1009") != std::string::npos);
    CHECK(text.find("$INSUNITS") == std::string::npos);  // not known to that release
    std::size_t holes = 0;
    std::vector<double> radii;
    for (const HoleSet& s : made.sets()) {
      if (s.made) holes += s.holes.size();
    }
    const auto circles = dxf.all("CIRCLE");
    REQUIRE(circles.size() == holes);
    for (const auto& c : circles) {
      CHECK(c.at(8) == "HOLES");
      CHECK(std::stod(c.at(40)) == doctest::Approx(4.5));  // 9 mm clearance of M8, ISO 273
    }
    // The first piece, the level leg: 250 x 60 mm; holes 75 mm to either side of its middle, 30 mm
    // from its inner edge.
    std::vector<std::pair<double, double>> first;
    for (std::size_t i = 0; i < 2; ++i)
      first.emplace_back(std::stod(circles[i].at(10)), std::stod(circles[i].at(20)));
    std::sort(first.begin(), first.end());
    CHECK(first[0].first == doctest::Approx(125 - 75));
    CHECK(first[1].first == doctest::Approx(125 + 75));
    CHECK(first[0].second == doctest::Approx(30));
    const auto lines = dxf.all("LINE");
    CHECK(std::stod(lines[0].at(10)) == doctest::Approx(0));
    CHECK(std::stod(lines[0].at(11)) == doctest::Approx(250));
    CHECK(std::count_if(lines.begin(), lines.end(),
                        [](const auto& l) { return l.at(8) == "BENDS"; }) == 4);
  }

  TEST_CASE("template: beside a hole for a screw in wood stands the lead drill not the shank's") {
    // A hole drilled through at the shank's diameter holds no thread.
    const Made made(thole::test::with_screws("lag_screw", "5/16", "2 1/2 in"));
    const HoleSet wood = made.sets().front();
    const auto lead = std::find_if(wood.drills.begin(), wood.drills.end(),
                                   [](const Drill& d) { return d.use.starts_with("lead hole"); });
    REQUIRE(lead != wood.drills.end());
    CHECK(lead->diameter < 0.86 * made.setup.plate().fastening.screw->diameter);
    const std::string svg = template_svg(made.content(), wood);
    const auto tags = Markup::read(svg.substr(svg.find("<svg")));
    const auto named = [&](const std::string& text) {
      return std::count_if(tags.begin(), tags.end(), [&](const Tag& t) { return t.text == text; });
    };
    CHECK(named(lead->name) == 4);
    CHECK(named("5/16 in") == 0);
    for (const Hole& h : wood.holes) CHECK(h.diameter == lead->diameter);
  }

  TEST_CASE("template: what is asked for is never rounded down") {
    const Made made(with(jon_boat, "form: closed_section", "form: open_lip\n    root: outboard"));
    const std::string page = template_html(made.content());
    int asked = 0;
    for (const HoleSet& s : made.sets()) {
      for (const EdgeNote& e : s.edges) {
        if (!e.least) continue;
        ++asked;
        const std::string up = html::both(*e.least, ReaderUnits::inch, Rounding::up);
        CHECK(page.find("asked for: " + up) != std::string::npos);
      }
    }
    CHECK(asked > 0);
    // 0.3855 in is 9.79 mm, 6.17 sixteenths; 3/8 in is 9.525 mm.
    using namespace thole::literals;
    CHECK(html::both(0.3855_in, ReaderUnits::inch, Rounding::up) == "about 7/16 in (9.8 mm)");
    CHECK(html::both(0.375_in, ReaderUnits::inch, Rounding::up) == "3/8 in (9.6 mm)");
    CHECK(html::both(56.0_mm, ReaderUnits::metric, Rounding::up) == "56 mm (about 2 1/4 in)");
  }

  TEST_CASE("template: long words of the DXF go on below and codes of its readers are gone") {
    Made made(example_text("fjord-skiff"));
    made.setup.title = "%%c plate ^J";
    const std::string text = plates_dxf(made.content());
    CHECK(text.find("%%") == std::string::npos);
    CHECK(text.find('^') == std::string::npos);
    std::string all;
    for (const auto& t : Dxf(text).all("TEXT")) all += t.at(1) + " ";
    CHECK(all.find("corners rounded to about 3/8 in (10 mm), edges broken; the grain, as rolled "
                   "or extruded, along the longer side (common practice)") != std::string::npos);
    CHECK(all.find("a place or size in the file is a guess") != std::string::npos);
  }

  TEST_CASE("template: the plates of a drawing name material thickness and how many") {
    const Made made(example_text("fjord-skiff"));
    const std::string svg = plates_svg(made.content());
    const auto tags = Markup::read(svg.substr(svg.find("<svg")));
    const auto says = [&](const std::string& words) {
      return std::any_of(tags.begin(), tags.end(),
                         [&](const Tag& t) { return t.text.find(words) != std::string::npos; });
    };
    CHECK(says("plate under the board, port downrigger: make 2"));
    CHECK(says("5052-H32 sheet, 10 mm (0.394 in) thick"));
    CHECK(says("Deburr both sides"));
    CHECK(of_class(tags, "hole").size() == 2 * (2 + 3) + 4 + 3);
  }

  TEST_CASE("template: the same input gives the same page") {
    const Made a(example_text("lake-cartopper"));
    const Made b(example_text("lake-cartopper"));
    CHECK(template_html(a.content()) == template_html(b.content()));
    CHECK(plates_dxf(a.content()) == plates_dxf(b.content()));
  }
}
