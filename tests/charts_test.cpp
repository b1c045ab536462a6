// The charts of the sheet: what they draw against the figures that they are drawn from, and against
// geometry worked by hand. The marks of a scale are read back from the drawing itself.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include <thole/reading.hpp>
#include <thole/sheet.hpp>

#include "report/chart_labels.hpp"
#include "report/pictures.hpp"
#include "report/pull_items.hpp"
#include "support/boards.hpp"
#include "support/markup.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using doctest::Approx;
using pictures::Picture;
using test::Markup;
using test::Tag;

namespace {

constexpr double pound = 4.4482216152605;  // N: 0.45359237 kg x 9.80665 m/s2, exact

struct Drawn {
  Setup setup;
  Assessment assessment;
  std::vector<BoomRow> booms;

  [[nodiscard]] SheetContent content() const {
    return {setup, assessment, built_in_materials(), {}, booms, "x.yaml", "", "", Paper::a4};
  }
};

Drawn drawn_from(Setup s) {
  AssessOptions o;
  o.by_direction = true;
  o.forces = true;
  Assessment a = assess(s, o);
  return {std::move(s), std::move(a), {}};
}

// Every example, assessed once.
const std::map<std::string, Drawn>& examples() {
  static const std::map<std::string, Drawn> all = [] {
    std::map<std::string, Drawn> out;
    for (const auto& e : std::filesystem::directory_iterator(THOLE_ROOT "/examples")) {
      if (e.path().extension() != ".yaml") continue;
      std::ifstream in(e.path());
      std::ostringstream text;
      text << in.rdbuf();
      out.emplace(
          e.path().stem().string(),
          drawn_from(read_setup(text.str(), e.path().filename().string(), built_in_materials())));
    }
    return out;
  }();
  return all;
}

std::vector<Picture> all_of(const SheetContent& c) {
  std::vector<Picture> out = pictures::pull_rulers(c);
  for (const auto& more : {pictures::directions(c), pictures::hole_forces(c)}) {
    out.insert(out.end(), more.begin(), more.end());
  }
  if (const Picture p = pictures::movement(c); !p.element.empty()) out.push_back(p);
  return out;
}

std::vector<Tag> of_class(const std::vector<Tag>& tags, std::string_view name) {
  std::vector<Tag> out;
  std::copy_if(tags.begin(), tags.end(), std::back_inserter(out),
               [&](const Tag& t) { return t.is(name); });
  return out;
}

struct Box {
  double left, right, top, bottom;
  std::string text;
};

// Upper and lower edge of letters: 0.76 and 0.24 of the size, as most faces have them.
std::vector<Box> boxes_of(const std::vector<Tag>& tags) {
  std::vector<Box> out;
  for (const Tag& t : tags) {
    if (t.name != "text") continue;
    const double size = t.number("font-size");
    const double width = charts::width_of(t.text, t.is("strong")) * size / charts::text_size;
    const std::string anchor = t.of("text-anchor");
    const double x = t.number("x") - (anchor == "end" ? width : anchor == "middle" ? width / 2 : 0);
    const double y = t.number("y");
    out.push_back({x, x + width, y - 0.76 * size, y + 0.24 * size, t.text});
  }
  return out;
}

void check_texts(const std::vector<Tag>& tags, bool apart, double wide = 340,
                 double least_size = 12) {
  double width = 0;
  double height = 0;
  std::istringstream view(tags.front().of("viewBox"));
  double zero = 0;
  view >> zero >> zero >> width >> height;
  REQUIRE(width == Approx(wide));
  const std::vector<Box> all = boxes_of(tags);
  REQUIRE(!all.empty());
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Box& a = all[i];
    CAPTURE(a.text);
    CHECK(a.left >= -0.01);
    CHECK(a.right <= width + 0.01);
    CHECK(a.top >= -0.01);
    CHECK(a.bottom <= height + 0.01);
    for (std::size_t k = i + 1; apart && k < all.size(); ++k) {
      const Box& b = all[k];
      CAPTURE(b.text);
      const bool over = std::min(a.right, b.right) - std::max(a.left, b.left) > 0.5 &&
                        std::min(a.bottom, b.bottom) - std::max(a.top, b.top) > 1.5;
      CHECK(!over);
    }
  }
  for (const Tag& t : tags) {
    if (t.name == "text") CHECK(t.number("font-size") >= least_size);
  }
}

std::string words_of(const Picture& p) {
  std::string out;
  for (const Tag& t : Markup::read(p.element)) out += t.text + " ";
  for (const Tag& t : Markup::read("<div>" + p.caption + "</div>")) out += t.text + " ";
  return out;
}

// The scale as drawn: (height above zero)^power is pull x gain.
struct DrawnScale {
  double zero = 0;
  double power = 1;
  double gain = 0;
  std::size_t ticks = 0;
  double worst = 0;  // of the ticks' heights from that rule

  [[nodiscard]] double y(double newtons) const {
    return zero - std::pow(newtons * gain, 1 / power);
  }
};

DrawnScale scale_of(const std::vector<Tag>& tags, bool inch_left) {
  DrawnScale out;
  struct Tick {
    double newtons, y;
  };
  std::vector<Tick> ticks;
  for (const Tag& t : tags) {
    if (t.text.find("closer toward its top") != std::string::npos) out.power = 2;
  }
  for (const Tag& t : of_class(tags, "ruler-staff")) out.zero = t.number("y") + t.number("height");
  for (const Tag& t : of_class(tags, "ruler-number")) {
    const bool left = t.of("text-anchor") != "end";
    const double unit = left == inch_left ? pound : 1;
    const double value = std::stod(t.text) * unit;
    if (value > 0) ticks.push_back({value, t.number("y") - 4});
  }
  out.ticks = ticks.size();
  for (const Tick& t : ticks) out.gain += std::pow(out.zero - t.y, out.power) / t.newtons;
  out.gain /= double(ticks.size());
  for (const Tick& t : ticks) out.worst = std::max(out.worst, std::abs(out.y(t.newtons) - t.y));
  return out;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("charts: blocks are moved apart as little as can be") {
    // Worked by hand: 10 high with a gap of 2, the first two want one place and share it.
    const std::vector<charts::Block> blocks{{50, 10}, {50, 10}, {200, 10}};
    const std::vector<double> at = charts::moved_apart(blocks, 2, 0, 300);
    REQUIRE(at.size() == 3);
    CHECK(at[0] == Approx(44));
    CHECK(at[1] == Approx(56));
    CHECK(at[2] == Approx(200));
    // All at the upper end: they stack up from there.
    const std::vector<double> top = charts::moved_apart({{-5, 10}, {-5, 10}, {0, 10}}, 2, 0, 300);
    CHECK(top[0] == Approx(5));
    CHECK(top[1] == Approx(17));
    CHECK(top[2] == Approx(29));
    const std::vector<double> low = charts::moved_apart({{299, 10}, {299, 10}}, 2, 0, 300);
    CHECK(low[1] == Approx(295));
    CHECK(low[0] == Approx(283));
  }

  TEST_CASE("charts: a text keeps to its width and loses no word that fits") {
    const std::vector<std::string> lines =
        charts::lines_of("the washers pull through from behind", 110, 9);
    std::string joined;
    for (const std::string& l : lines) {
      CHECK(charts::width_of(l) <= 110);
      joined += (joined.empty() ? "" : " ") + l;
    }
    CHECK(joined == "the washers pull through from behind");
    const std::vector<std::string> cut = charts::lines_of(std::string(10000, 'w'), 110, 3);
    REQUIRE(cut.size() == 3);
    for (const std::string& l : cut) CHECK(charts::width_of(l) <= 110);
    CHECK(cut.back().substr(cut.back().size() - 3) == "...");
    CHECK(charts::lines_of("", 110, 3).empty());
  }

  TEST_CASE("charts: every mark of a ruler stands where its scale says") {
    std::size_t bands = 0;
    std::size_t wedges = 0;
    for (const auto& example : examples()) {
      const std::string& name = example.first;
      const Drawn& k = example.second;
      CAPTURE(name);
      const std::vector<ruler::Ruler> rulers = ruler::rulers(k.setup, k.assessment);
      const std::vector<Picture> drawn = pictures::pull_rulers(k.content());
      REQUIRE(rulers.size() == drawn.size());
      for (std::size_t i = 0; i < drawn.size(); ++i) {
        const std::vector<Tag> tags = Markup::read(drawn[i].element);
        const DrawnScale scale = scale_of(tags, k.setup.units == ReaderUnits::inch);
        // Pounds and newtons lie on one curve, 4.448 N to the pound.
        REQUIRE(scale.ticks >= 6);
        CHECK(scale.worst < 0.6);
        std::vector<double> wanted_bands;
        std::vector<double> wanted_wedges;
        for (const LadderStep& step : k.assessment.ladder) {
          if (!step.link || step.gear != rulers[i].gear->name || !step.high) continue;
          wanted_bands.push_back(scale.y(step.high->value()));
          wanted_bands.push_back(scale.y(step.low->value()));
        }
        std::vector<double> found_bands;
        for (const Tag& t : of_class(tags, "ruler-band")) {
          found_bands.push_back(t.number("y"));
          found_bands.push_back(t.number("y") + t.number("height"));
        }
        std::sort(wanted_bands.begin(), wanted_bands.end());
        std::sort(found_bands.begin(), found_bands.end());
        REQUIRE(found_bands.size() == wanted_bands.size());
        for (std::size_t b = 0; b < found_bands.size(); ++b) {
          CHECK(std::abs(found_bands[b] - wanted_bands[b]) < 1);
        }
        bands += found_bands.size() / 2;
        // Wedges: as many of the mount's items, the lowest first, as are drawn.
        for (const LadderStep& step : k.assessment.ladder) {
          if (!step.link) wanted_wedges.push_back(step.low->value());
        }
        std::sort(wanted_wedges.begin(), wanted_wedges.end());
        std::vector<double> found_wedges;
        for (const Tag& t : of_class(tags, "ruler-wedge")) {
          found_wedges.push_back(t.points().front().second);
        }
        std::sort(found_wedges.rbegin(), found_wedges.rend());
        if (rulers.size() == 1 && !found_wedges.empty()) {
          REQUIRE(found_wedges.size() <= wanted_wedges.size());
          for (std::size_t w = 0; w < found_wedges.size(); ++w) {
            CHECK(std::abs(found_wedges[w] - scale.y(wanted_wedges[w])) < 1);
          }
        }
        wedges += found_wedges.size();
      }
    }
    CHECK(bands > 30);
    CHECK(wedges > 40);
  }

  TEST_CASE("charts: every step of the ladder stands beside a ruler or is counted") {
    std::size_t steps = 0;
    std::size_t counted = 0;
    for (const auto& example : examples()) {
      const std::string& name = example.first;
      const Drawn& k = example.second;
      CAPTURE(name);
      std::string words;
      std::size_t more = 0;
      std::size_t least_more = 0;
      for (const Picture& p : pictures::pull_rulers(k.content())) {
        const std::string own = words_of(p);
        words += own;
        const std::string of = "; and ";
        const std::size_t at = own.rfind(of);
        const std::size_t here =
            at == std::string::npos ? 0 : std::stoul(own.substr(at + of.size()));
        least_more = std::max(least_more, here);
        more += here;
      }
      std::size_t missing = 0;
      for (const LadderStep& step : k.assessment.ladder) {
        std::string what = step.what;
        const std::string gear = " (" + step.gear + ")";
        if (step.link && what.size() > gear.size() &&
            what.compare(what.size() - gear.size(), gear.size(), gear) == 0) {
          what.resize(what.size() - gear.size());
        }
        what = what.substr(0, what.find(" ("));
        CAPTURE(what);
        ++steps;
        if (words.find(what.substr(0, 40)) != std::string::npos) continue;
        // In the list by part: "hold-down ... shears off from 19000 N".
        const std::string figure =
            step.low ? "from " + about(*step.low, k.setup.units, Rounding::down) : "";
        const std::string way = what.substr(what.rfind(' ', what.size() - 6) + 1);
        const std::string part = step.part.empty() ? "" : " (" + step.part + ")";
        const bool listed = words.find(way + " " + figure) != std::string::npos ||
                            words.find(way + part + " " + figure) != std::string::npos;
        if (!figure.empty() && listed) continue;
        CHECK(!step.link);
        CHECK(!step.wrong);
        ++missing;
      }
      CHECK(missing <= more);
      counted += missing;
      if (least_more == 0) CHECK(missing == 0);
    }
    CHECK(steps > 200);
    CHECK(counted > 10);
  }

  TEST_CASE("charts: what goes too early is crossed and said on a ruler") {
    std::size_t wrong = 0;
    for (const auto& example : examples()) {
      const std::string& name = example.first;
      const Drawn& k = example.second;
      CAPTURE(name);
      std::size_t crosses = 0;
      std::string words;
      for (const Picture& p : pictures::pull_rulers(k.content())) {
        crosses += of_class(Markup::read(p.element), "cross").size();
        words += words_of(p);
      }
      for (const LadderStep& step : k.assessment.ladder) {
        if (!step.wrong) continue;
        ++wrong;
        CHECK(crosses > 0);
        const std::string what = step.what.substr(0, step.what.find(" ("));
        CHECK(words.find("too early: " + what.substr(0, 35)) != std::string::npos);
      }
    }
    CHECK(wrong > 3);
  }

  TEST_CASE("charts: texts of all examples stand apart and inside") {
    for (const auto& example : examples()) {
      const std::string& name = example.first;
      const Drawn& k = example.second;
      for (const Picture& p : all_of(k.content())) {
        CAPTURE(name);
        CAPTURE(p.title);
        check_texts(Markup::read(p.element), true);
        CHECK(p.element.find("nan") == std::string::npos);
        CHECK(p.element.find("inf") == std::string::npos);
        CHECK_NOTHROW(Markup::read("<div>" + p.caption + "</div>"));
      }
    }
  }

  TEST_CASE("charts: a ruler on paper is low and its words and stems stand apart") {
    std::size_t stems = 0;
    for (const auto& example : examples()) {
      const std::string& name = example.first;
      const Drawn& k = example.second;
      const std::vector<Picture> drawn = pictures::pull_rulers(k.content(), pictures::Form::paper);
      REQUIRE(!drawn.empty());
      for (const Picture& p : drawn) {
        CAPTURE(name);
        CAPTURE(p.title);
        CHECK(p.id.substr(p.id.size() - 6) == "-paper");
        const std::vector<Tag> tags = Markup::read(p.element);
        check_texts(tags, true, 720, 11);
        std::istringstream view(tags.front().of("viewBox"));
        double zero = 0, width = 0, height = 0;
        view >> zero >> zero >> width >> height;
        CHECK(height <= (drawn.size() == 1 ? 170 : 120));
        // No stem goes through words; the last part of each is upright.
        const std::vector<Box> all = boxes_of(tags);
        for (const Tag& t : of_class(tags, "thin")) {
          if (t.name != "polyline") continue;
          const auto points = t.points();
          REQUIRE(points.size() == 3);
          const double x = points[2].first;
          CHECK(points[1].first == Approx(x));
          const double upper = std::min(points[1].second, points[2].second);
          const double lower = std::max(points[1].second, points[2].second);
          for (const Box& b : all) {
            CAPTURE(b.text);
            const bool across = x > b.left - 0.5 && x < b.right + 0.5;
            CHECK(!(across && std::min(lower, b.bottom) - std::max(upper, b.top) > 1.5));
          }
          ++stems;
        }
        std::size_t named = 0;
        for (const Tag& t : of_class(tags, "ruler-wedge")) named += t.name == "polygon" ? 1U : 0U;
        CHECK(named <= 3);
        CHECK(p.caption.size() < 1200);
      }
    }
    CHECK(stems > 120);
  }

  TEST_CASE("charts: marks on a ruler on paper stand where its numbers say") {
    std::size_t marks = 0;
    for (const auto& example : examples()) {
      const std::string& name = example.first;
      const Drawn& k = example.second;
      CAPTURE(name);
      const std::vector<ruler::Ruler> rulers = ruler::rulers(k.setup, k.assessment);
      const std::vector<Picture> drawn = pictures::pull_rulers(k.content(), pictures::Form::paper);
      REQUIRE(rulers.size() == drawn.size());
      for (std::size_t i = 0; i < drawn.size(); ++i) {
        const std::vector<Tag> tags = Markup::read(drawn[i].element);
        const double power = drawn[i].element.find("closer toward") != std::string::npos ||
                                     words_of(drawn[i]).find("scale clo") != std::string::npos
                                 ? 2
                                 : 1;
        const double zero = of_class(tags, "ruler-staff").front().number("x");
        const double top = of_class(tags, "ruler-staff").front().number("y");
        // The upper row of numbers is in the reader's unit.
        std::vector<std::pair<double, double>> numbers;  // newtons, place
        for (const Tag& t : of_class(tags, "ruler-number")) {
          const bool upper = t.number("y") < top + 14;
          const bool pounds = upper == (k.setup.units == ReaderUnits::inch);
          numbers.emplace_back(std::stod(t.text) * (pounds ? pound : 1), t.number("x"));
        }
        REQUIRE(numbers.size() >= 6);
        const auto gain_as = [&](double p) {
          double most = 0, least = 1e9;
          for (const auto& [n, x] : numbers) {
            most = std::max(most, std::pow(x - zero, p) / n);
            least = std::min(least, std::pow(x - zero, p) / n);
          }
          return std::pair(least, most);
        };
        // Which of the two laws it is the numbers tell themselves.
        const auto even = gain_as(1);
        const auto closer = gain_as(2);
        const bool is_even = even.second / even.first < closer.second / closer.first;
        const auto law = is_even ? even : closer;
        if (power > 1) CHECK(!is_even);
        CHECK(law.second / law.first < 1.01);
        const double gain = (law.first + law.second) / 2;
        const auto at = [&](double newtons) {
          return zero + std::pow(newtons * gain, is_even ? 1 : 0.5);
        };
        const auto lines = [&](std::string_view of) {
          std::vector<double> out;
          for (const Tag& t : of_class(tags, of)) {
            if (t.name == "line") out.push_back(t.number("x1"));
          }
          return out;
        };
        const auto stands_at = [&](const std::vector<double>& found, double newtons) {
          return std::any_of(found.begin(), found.end(),
                             [&](double x) { return std::abs(x - at(newtons)) < 1.5; });
        };
        for (const ruler::Item& item : rulers[i].items) {
          const double low = item.low->value();
          CAPTURE(item.what);
          if (item.look == ruler::Look::setting) CHECK(stands_at(lines("ruler-setting"), low));
          if (item.look == ruler::Look::limit) CHECK(stands_at(lines("ruler-limit"), low));
          if (item.look == ruler::Look::band) {
            std::vector<double> left, right;
            for (const Tag& t : of_class(tags, "ruler-band")) {
              left.push_back(t.number("x"));
              right.push_back(t.number("x") + t.number("width"));
            }
            CHECK(stands_at(left, low));
            CHECK(stands_at(right, item.high.value_or(*item.low).value()));
          }
          ++marks;
        }
      }
    }
    CHECK(marks > 100);
  }

  TEST_CASE("charts: of many unlike gears the paper has the worst and says so") {
    Drawn k{examples().at("lough-boat").setup, examples().at("lough-boat").assessment, {}};
    REQUIRE(k.setup.gear.size() == 2);
    Gear third = k.setup.gear.front();
    third.name = "third";
    const std::string like = k.setup.gear.front().name;
    k.setup.gear.push_back(third);
    std::vector<LadderStep> more;
    for (LadderStep step : k.assessment.ladder) {
      if (!step.link || step.gear != like) continue;
      step.gear = "third";
      step.what = step.what.substr(0, step.what.find(" (")) + " (third)";
      if (step.high) step.high = 1.3 * *step.high;
      more.push_back(step);
    }
    k.assessment.ladder.insert(k.assessment.ladder.end(), more.begin(), more.end());
    REQUIRE(pictures::pull_rulers(k.content()).size() == 3);
    const std::vector<Picture> drawn = pictures::pull_rulers(k.content(), pictures::Form::paper);
    REQUIRE(drawn.size() == 1);
    CHECK(words_of(drawn.front()).find("worst of 3 gears") != std::string::npos);
    CHECK(words_of(drawn.front()).find("too early") != std::string::npos);
  }

  TEST_CASE("charts: without a verdict a ruler shows no setting and no order as right") {
    std::size_t refused = 0;
    for (const auto& example : examples()) {
      const std::string& name = example.first;
      const Drawn& k = example.second;
      if (k.assessment.verdict != Verdict::no_verdict) continue;
      CAPTURE(name);
      ++refused;
      for (const pictures::Form form : {pictures::Form::screen, pictures::Form::paper}) {
        for (const Picture& p : pictures::pull_rulers(k.content(), form)) {
          const std::vector<Tag> tags = Markup::read(p.element);
          CHECK(of_class(tags, "ruler-setting").empty());
          CHECK(of_class(tags, "ruler-test").empty());
          CHECK(of_class(tags, "tick").empty());
          CHECK(!of_class(tags, "ruler-hatch").empty());
          const std::string words = words_of(p);
          CHECK(words.find("wanted order") == std::string::npos);
          CHECK(words.find("? no verdict") != std::string::npos);
          CHECK(words.find("largest setting") == std::string::npos);
        }
      }
    }
    CHECK(refused >= 3);
  }

  TEST_CASE("charts: what the file sets above the setting is crossed") {
    std::size_t crossed = 0;
    for (const auto& example : examples()) {
      const Drawn& k = example.second;
      CAPTURE(example.first);
      for (const GearLimit& l : k.assessment.gear_limits) {
        const auto most = beside::setting_of(k.assessment, l).pull;
        if (!most) continue;
        for (const LadderStep& step : k.assessment.ladder) {
          const bool set = step.what.rfind("brake", 0) == 0 || step.what.rfind("drag", 0) == 0;
          if (!set || step.gear != l.gear || !(*step.low > 1.02 * *most)) continue;
          std::string words;
          for (const Picture& p : pictures::pull_rulers(k.content())) words += words_of(p);
          const bool said = words.find("too high:") != std::string::npos ||
                            words.find("too early:") != std::string::npos;
          CHECK(said);
          ++crossed;
        }
      }
    }
    CHECK(crossed > 3);
  }

  TEST_CASE("charts: no figure of a ruler is milder than one of its gears") {
    // Unlike by less than two per cent they share a ruler; it has the worse of each.
    Drawn k{examples().at("fjord-skiff").setup, examples().at("fjord-skiff").assessment, {}};
    REQUIRE(k.assessment.gear_limits.size() == 2);
    GearLimit& second = k.assessment.gear_limits[1];
    second.hold_limit = 0.985 * *second.hold_limit;
    for (HeelPull& p : k.assessment.boat.pulls) {
      if (p.gear == second.gear) p.notice = 0.985 * p.notice;
    }
    for (LadderStep& step : k.assessment.ladder) {
      if (step.gear == second.gear && step.high) step.high = 1.015 * *step.high;
    }
    const std::vector<ruler::Ruler> rulers = ruler::rulers(k.setup, k.assessment);
    REQUIRE(rulers.size() == 1);
    for (const ruler::Item& i : rulers.front().items) {
      if (i.what == "hold limit of the mount") CHECK(*i.low == *second.hold_limit);
      if (i.what.find("freeboard") != std::string::npos) {
        CHECK(*i.low <= beside::heel_pull(k.assessment, second.gear)->notice);
      }
      for (const LadderStep& step : k.assessment.ladder) {
        if (i.high && step.high && step.what.rfind(i.what, 0) == 0) CHECK(*i.high >= *step.high);
      }
    }
  }

  TEST_CASE("charts: hung up together nothing of the mount is put higher than the ladder has it") {
    Drawn k{examples().at("lough-boat").setup, examples().at("lough-boat").assessment, {}};
    k.assessment.verdict = Verdict::does_not_hold;
    Force least = 1e9 * si::newton;
    for (const LadderStep& step : k.assessment.ladder) {
      if (!step.link && step.low) least = std::min(least, *step.low);
    }
    const auto first_of = [&] {
      Force out = 1e9 * si::newton;
      const auto made = ruler::rulers(k.setup, k.assessment);
      for (const ruler::Item& i : made.front().items) {
        if (i.look == ruler::Look::item) out = std::min(out, *i.low);
      }
      return out;
    };
    GearLimit& own = k.assessment.gear_limits.front();
    REQUIRE(own.not_before);
    REQUIRE(*own.not_before > least);
    // Alone: not before its own first. Together: nothing tells that the rest waits for it.
    own.all_hung_up.reset();
    CHECK(first_of() == *own.not_before);
    own.all_hung_up = 100.0_N;
    CHECK(first_of() == least);
  }

  TEST_CASE("charts: what nobody has given a strength is hatched with a question mark") {
    const Drawn& skiff = examples().at("fjord-skiff");
    Drawn rated{skiff.setup, skiff.assessment, {}};
    for (LadderStep& step : rated.assessment.ladder) {
      if (step.known) continue;
      step.known = true;
      step.low = 900.0_N;
    }
    const auto hatched = [](const Drawn& k) {
      return of_class(Markup::read(pictures::pull_rulers(k.content()).front().element),
                      "ruler-hatch")
          .size();
    };
    CHECK(hatched(skiff) > 10);
    CHECK(hatched(rated) == 0);
    const std::string words = words_of(pictures::pull_rulers(skiff.content()).front());
    CHECK(words.find("? gear body:") != std::string::npos);
    CHECK(words_of(pictures::pull_rulers(rated.content()).front()).find("by its rating") !=
          std::string::npos);
  }

  TEST_CASE("charts: like gears share a ruler and unlike ones do not") {
    CHECK(pictures::pull_rulers(examples().at("fjord-skiff").content()).size() == 1);
    CHECK(pictures::pull_rulers(examples().at("lough-boat").content()).size() == 2);
    Drawn other{examples().at("fjord-skiff").setup, examples().at("fjord-skiff").assessment, {}};
    for (LadderStep& step : other.assessment.ladder) {
      if (step.gear == "port downrigger" && step.high) step.high = 1.5 * *step.high;
    }
    CHECK(pictures::pull_rulers(other.content()).size() == 2);
  }

  TEST_CASE("charts: a ruler shows the lower setting of mount and boat") {
    const Drawn& k = examples().at("lake-cartopper");
    const beside::Setting set = beside::setting_of(k.assessment, k.assessment.gear_limits.front());
    REQUIRE(set.by_boat);
    const Picture p = pictures::pull_rulers(k.content()).front();
    const std::vector<Tag> tags = Markup::read(p.element);
    const DrawnScale scale = scale_of(tags, true);
    const std::vector<Tag> line = of_class(tags, "ruler-setting");
    REQUIRE(line.size() == 1);
    CHECK(std::abs(line.front().number("y1") - scale.y(set.pull->value())) < 1);
    CHECK(words_of(p).find("for the boat's sake") != std::string::npos);
  }

  TEST_CASE("charts: a plain load without limits has a ruler with its own pull") {
    Drawn k = drawn_from(test::read(test::load_text));
    k.assessment.gear_limits.clear();
    k.assessment.ladder.clear();
    const std::vector<Picture> drawn = pictures::pull_rulers(k.content());
    REQUIRE(drawn.size() == 1);
    CHECK(words_of(drawn.front()).find("your load in the file") != std::string::npos);
  }

  TEST_CASE("charts: radii of the directions are as the limits and a mirrored gear is mirrored") {
    Drawn k{examples().at("fjord-skiff").setup, examples().at("fjord-skiff").assessment, {}};
    for (const char* gear : {"port downrigger", "starboard downrigger"}) {
      for (int i = 0; i < 24; ++i) {
        BoomRow r;
        r.gear = gear;
        r.azimuth = degrees(15.0 * i - 165);
        r.hold_limit = (200.0 + 10 * i) * si::newton;
        r.worst_ratio = i % 2 == 0 ? 2 : 0.5;
        k.booms.push_back(r);
      }
    }
    const std::vector<Picture> drawn = pictures::directions(k.content());
    REQUIRE(drawn.size() == 2);
    std::vector<std::vector<Tag>> petals;
    for (const Picture& p : drawn) {
      std::vector<Tag> own;
      for (const Tag& t : Markup::read(p.element)) {
        if (t.name == "polygon" && (t.is("polar-holds") || t.is("polar-fails"))) own.push_back(t);
      }
      REQUIRE(own.size() == 24);
      petals.push_back(own);
    }
    double per_newton = 0;
    for (std::size_t i = 0; i < 24; ++i) {
      const auto port = petals[0][i].points();
      const auto starboard = petals[1][i].points();
      const auto [mx, my] = starboard.back();  // all petals begin in the middle
      const double limit = 200.0 + 10 * double(i);
      // The middle of its arc lies toward its azimuth: down the page astern, right outboard.
      const auto [x, y] = starboard[(starboard.size() - 2) / 2];
      const double azimuth = std::atan2(x - mx, y - my) * 180 / std::numbers::pi;
      CHECK(std::abs(std::remainder(azimuth - (15.0 * double(i) - 165), 360)) < 8);
      const double radius = std::hypot(x - mx, y - my);
      if (i == 0) per_newton = radius / limit;
      CHECK(radius / limit == Approx(per_newton).epsilon(1e-3));
      CHECK(starboard[0].first - mx == Approx(-(port[0].first - mx)).epsilon(1e-6));
      CHECK(starboard[0].second == Approx(port[0].second));
      CHECK(petals[1][i].is(i % 2 == 0 ? "polar-holds" : "polar-fails"));
    }
    // What fails is hatched, so that it is told apart without colour.
    CHECK(!of_class(Markup::read(drawn[0].element), "polar-hatch").empty());
  }

  TEST_CASE("charts: a boom without a limit goes to the rim and it is said") {
    Drawn k{examples().at("fjord-skiff").setup, examples().at("fjord-skiff").assessment, {}};
    BoomRow r;
    r.gear = "port downrigger";
    r.worst_ratio = 3;
    r.allowed = true;
    k.booms = {r};
    const Picture p = pictures::directions(k.content()).front();
    const std::vector<Tag> tags = Markup::read(p.element);
    const auto points = of_class(tags, "polar-holds").front().points();
    double rim = 0;
    for (const Tag& t : of_class(tags, "polar-rim")) {
      if (t.name == "circle") rim = t.number("r");
    }
    CHECK(std::hypot(points[0].first - points.back().first,
                     points[0].second - points.back().second) == Approx(rim).epsilon(1e-4));
    CHECK(words_of(p).find("no limit found") != std::string::npos);
    // Not calculated at all: a question, not a limit.
    k.booms.front().worst_ratio = std::numeric_limits<double>::infinity();
    const std::string words = words_of(pictures::directions(k.content()).front());
    CHECK(words.find("not known") != std::string::npos);
    CHECK(words.find("no limit found") == std::string::npos);
  }

  TEST_CASE("charts: without a verdict no direction is drawn or said to hold") {
    const Drawn& as_is = examples().at("bay-boat");
    REQUIRE(as_is.assessment.verdict == Verdict::no_verdict);
    Drawn k{as_is.setup, as_is.assessment, {}};
    for (int i = 0; i < 4; ++i) {
      BoomRow r;
      r.gear = k.setup.gear.front().name;
      r.azimuth = degrees(90.0 * i - 90);
      r.allowed = true;
      r.worst_ratio = 5;
      if (i % 2 == 0) r.hold_limit = 500.0_N;
      k.booms.push_back(r);
    }
    const Picture p = pictures::directions(k.content()).front();
    const std::vector<Tag> tags = Markup::read(p.element);
    CHECK(of_class(tags, "polar-holds").empty());
    CHECK(of_class(tags, "tick").empty());
    CHECK(of_class(tags, "question").size() >= 4);
    const std::string words = words_of(p);
    CHECK(words.find("There is no verdict") != std::string::npos);
    CHECK(words.find(", holds") == std::string::npos);
    CHECK(words_of(pictures::pull_rulers(k.content()).front()).find("There is no verdict") !=
          std::string::npos);
  }

  TEST_CASE("charts: a boom of a setup that holds only if is marked so") {
    const Drawn& as_is = examples().at("lake-cartopper");
    REQUIRE(as_is.assessment.verdict == Verdict::holds_if);
    Drawn k{as_is.setup, as_is.assessment, {}};
    BoomRow r;
    r.gear = k.setup.gear.front().name;
    r.allowed = true;
    r.worst_ratio = 3;
    r.hold_limit = 500.0_N;
    k.booms = {r};
    const Picture p = pictures::directions(k.content()).front();
    const std::vector<Tag> tags = Markup::read(p.element);
    CHECK(of_class(tags, "tick").empty());
    CHECK(of_class(tags, "triangle").size() == 1);
    const std::string words = words_of(p);
    CHECK(words.find("holds if what is assumed is so") != std::string::npos);
    // The boat sets less than the mount: its setting is drawn and said.
    const beside::Setting set = beside::setting_of(k.assessment, k.assessment.gear_limits.front());
    REQUIRE(set.by_boat);
    REQUIRE(of_class(tags, "polar-set").size() == 2);
    CHECK(words.find("largest setting to use: " +
                     about(*set.pull, k.setup.units, Rounding::down)) != std::string::npos);
    CHECK(words.find("The boat comes first") != std::string::npos);
  }

  TEST_CASE("charts: hole numbers of the forces are those of the holes to be drilled") {
    std::size_t compared = 0;
    for (const auto& example : examples()) {
      const Drawn& k = example.second;
      CAPTURE(example.first);
      const std::vector<HoleSet> sets = hole_sets(k.setup, built_in_materials());
      const auto begins = [](const std::string& text, const std::string& with) {
        return text.rfind(with, 0) == 0;
      };
      for (const CaseForces& forces : k.assessment.forces) {
        for (const FastenerForce& f : forces.fasteners) {
          CAPTURE(f.part);
          CAPTURE(f.number);
          const bool base = f.part.empty() || f.part == "other fasteners";
          const Gear* gear = beside::gear_called(k.setup, f.part);
          std::size_t found = 0;
          for (const HoleSet& set : sets) {
            PlanPoint at = f.at;
            if (k.setup.on_board()) {
              const bool leg = begins(set.name, f.part + ", upright leg");
              const bool foot = set.name == "board, foot of the " + f.part;
              const bool plate = set.name == "plate under the board, " + f.part;
              if (!leg && !foot && !plate) continue;
              if (leg) at.y = -1.0 * at.y;  // there up is above zero
              if (foot) at = {at.x + gear->place.forward, at.y + gear->place.outboard};
            } else {
              const bool own = begins(set.name, "gunwale") || begins(set.name, "base plate") ||
                               begins(set.name, "bracket plate");
              if (!base || !own) continue;
            }
            for (const Hole& h : set.holes) {
              if (h.number != f.number) continue;
              CHECK(h.at.x.value() == Approx(at.x.value()).epsilon(1e-9));
              CHECK(h.at.y.value() == Approx(at.y.value()).epsilon(1e-9));
              ++found;
            }
          }
          if (base || k.setup.on_board()) CHECK(found > 0);
          compared += found;
        }
      }
    }
    CHECK(compared > 300);
  }

  TEST_CASE("charts: a hole picture draws each hole where the template has it") {
    // Both are seen from the side from which one drills; forward is the same way on both sides.
    const Drawn& k = examples().at("fjord-skiff");
    for (const HoleSet& set : hole_sets(k.setup, built_in_materials())) {
      const std::size_t end = set.name.find(", upright leg");
      if (end == std::string::npos) continue;
      const std::string ledge = set.name.substr(0, end);
      CAPTURE(ledge);
      bool drawn = false;
      for (const Picture& p : pictures::hole_forces(k.content())) {
        if (p.title != "Bolts of the " + ledge) continue;
        drawn = true;
        std::vector<std::pair<double, std::string>> numbers;  // x on the page
        for (const Tag& t : of_class(Markup::read(p.element), "chart-figure")) {
          numbers.emplace_back(t.number("x"), t.text);
        }
        REQUIRE(numbers.size() == set.holes.size());
        std::sort(numbers.begin(), numbers.end());
        // Seen from inside looking outboard, forward is to the right on port.
        std::vector<const Hole*> holes;
        for (const Hole& h : set.holes) holes.push_back(&h);
        const double way = ledge == "port ledge" ? -1 : 1;
        std::sort(holes.begin(), holes.end(), [&](const Hole* a, const Hole* b) {
          return way * a->at.x.value() > way * b->at.x.value();
        });
        // Up is to the left of +x where forward is to the right.
        CHECK(set.x_is == "forward");
        CHECK(set.y_is == "up");
        CHECK(set.y_left == (ledge == "port ledge"));
        for (std::size_t i = 0; i < holes.size(); ++i) {
          CHECK(numbers[i].second == std::to_string(holes[i]->number));
        }
      }
      CHECK(drawn);
    }
  }

  TEST_CASE("charts: shear arrows of the holes are as the forces and point as they do") {
    Drawn k = drawn_from(test::read(test::rod_text));
    CaseForces f;
    f.loading.words = "straight astern";
    for (int i = 0; i < 4; ++i) {
      FastenerForce one;
      one.number = i + 1;
      one.at = {i % 2 == 0 ? 25.0_mm : -25.0_mm, i < 2 ? 10.0_mm : -10.0_mm};
      one.tension = (100.0 * (i + 1)) * si::newton;
      one.forward = (i == 3 ? -40.0 : 10.0 * (i + 1)) * si::newton;
      f.fasteners.push_back(one);
    }
    k.assessment.forces = {f};
    k.assessment.worst_forces = 0;
    for (CheckResult& c : k.assessment.checks) c.fastener = -1;
    const std::vector<Picture> drawn = pictures::hole_forces(k.content());
    REQUIRE(drawn.size() == 1);
    const std::vector<Tag> tags = Markup::read(drawn.front().element);
    std::vector<Tag> holes;
    std::vector<Tag> heads;
    for (const Tag& t : tags) {
      if (t.is("hole-rim")) holes.push_back(t);
      if (t.is("load") && t.name == "polygon") heads.push_back(t);
    }
    REQUIRE(holes.size() == 4);
    REQUIRE(heads.size() == 4);
    std::vector<double> length;
    for (std::size_t i = 0; i < 4; ++i) {
      const auto tip = heads[i].points().front();
      CHECK(tip.first == Approx(holes[i].number("cx")));  // forward is up the page
      length.push_back(holes[i].number("cy") - tip.second);
    }
    CHECK(length[1] == Approx(2 * length[0]).epsilon(1e-3));
    CHECK(length[2] == Approx(3 * length[0]).epsilon(1e-3));
    CHECK(length[3] == Approx(-4 * length[0]).epsilon(1e-3));
    // True proportions: 50 mm fore and aft, 20 mm across.
    const double down = holes[1].number("cy") - holes[0].number("cy");
    const double across = holes[0].number("cx") - holes[2].number("cx");
    CHECK(down / across == Approx(50.0 / 20.0).epsilon(1e-3));
    // The hardest loaded is ringed twice, and the table has its figures.
    const std::vector<Tag> rings = of_class(tags, "worst");
    REQUIRE(rings.size() == 2);
    CHECK(rings.front().number("cx") == Approx(holes[3].number("cx")));
    CHECK(rings.front().number("cy") == Approx(holes[3].number("cy")));
    const std::string words = words_of(drawn.front());
    CHECK(words.find("Ringed: no. 4") != std::string::npos);
    CHECK(words.find("straight astern") != std::string::npos);
    CHECK(words.find(show(400.0_N, k.setup.units)) != std::string::npos);
  }

  TEST_CASE("charts: holes without forces fall back to the rows of the assessment") {
    Drawn k = drawn_from(test::read(test::rod_text));
    k.assessment.forces.clear();
    k.assessment.worst_forces.reset();
    const std::vector<Picture> drawn = pictures::hole_forces(k.content());
    REQUIRE(drawn.size() == 1);
    CHECK(of_class(Markup::read(drawn.front().element), "load").empty());
    CHECK(words_of(drawn.front()).find("Which way the shear points is not drawn") !=
          std::string::npos);
    k.assessment.fasteners.clear();
    CHECK(pictures::hole_forces(k.content()).empty());
  }

  TEST_CASE("charts: a moved board is drawn larger by the round factor that is named") {
    Drawn k{examples().at("fjord-skiff").setup, examples().at("fjord-skiff").assessment, {}};
    CaseForces f;
    const double length = k.setup.board().board.length.value();
    for (int i = 0; i <= 4; ++i) {
      CutForce c;
      c.from_port = Length::from_value(length * i / 4);
      c.lift = Length::from_value(0.001 * (i - 1));
      c.turn = Angle::from_value(0.002 * i);
      f.cuts.push_back(c);
    }
    SupportForce open;
    open.name = "port ledge";
    open.at = Position<Board>(0.2_m, Length{}, Length{});
    open.open = true;
    SupportForce closed = open;
    closed.name = "starboard ledge";
    closed.at = Position<Board>(2.0_m, Length{}, Length{});
    closed.open = false;
    f.supports = {open, closed};
    k.assessment.forces = {f};
    k.assessment.worst_forces = 0;
    const Picture p = pictures::movement(k.content());
    const std::vector<Tag> tags = Markup::read(p.element);
    // 3 mm at a scale of 316 units to 2.2 m is 0.43 units: 50 x fits into 34, 100 x does not.
    CHECK(p.title == "Movement, drawn 50 x");
    const auto points = of_class(tags, "moved").front().points();
    const double per_metre = (points[4].first - points[0].first) / length;
    CHECK(points[0].second - points[4].second == Approx(0.004 * 50 * per_metre).epsilon(1e-3));
    CHECK(of_class(tags, "moved-open").size() == 1);
    CHECK(of_class(tags, "moved-seat").size() == 1);
    std::size_t off = 0;
    for (const Tag& t : tags) off += t.text == "lifts off here" ? 1U : 0U;
    CHECK(off == 1);
    check_texts(tags, true);
    // Its own pull moves a tip farther than the worst load of all: that is said.
    k.assessment.forces.front().motions = {GearMotion{}};
    k.assessment.forces.front().motions.front().gear = k.setup.gear.front().name;
    MovementRow row;
    row.gear = k.setup.gear.front().name;
    row.pull = 450.0_N;
    row.tip = 9.0_mm;
    k.assessment.movements = {row};
    CHECK(words_of(pictures::movement(k.content())).find("up to 9.0 mm") != std::string::npos);
    // Nothing moved, nothing drawn.
    for (CutForce& c : k.assessment.forces.front().cuts) {
      c.lift = Length{};
      c.turn = Angle{};
    }
    CHECK(pictures::movement(k.content()).element.empty());
  }

  TEST_CASE("charts: a moved base shows its tip by the named factor") {
    Drawn k = drawn_from(test::read(test::rod_text));
    CaseForces f;
    GearMotion m;
    m.gear = k.setup.gear.front().name;
    m.tip = Vector<Length, Boat>(-2.0_mm, Length{}, Length{});
    m.turn = 1.0_deg;
    f.motions = {m};
    f.loading.gear = m.gear;
    k.assessment.forces = {f};
    k.assessment.worst_forces = 0;
    const Picture p = pictures::movement(k.content());
    const std::vector<Tag> tags = Markup::read(p.element);
    std::vector<Tag> tips;
    for (const Tag& t : tags) {
      if (t.name == "circle") tips.push_back(t);
    }
    REQUIRE(tips.size() == 2);
    const double factor = std::stod(p.title.substr(p.title.find("drawn ") + 6));
    // The scale from the height of the rim over the floor, which is the setup's.
    double floor_y = 0;
    for (const Tag& t : of_class(tags, "hull")) floor_y = t.number("y1");
    const double per_metre =
        (floor_y - tips[0].number("cy")) / k.setup.gear.front().rod_holder->height.value();
    CHECK(tips[1].number("cx") - tips[0].number("cx") ==
          Approx(0.002 * factor * per_metre).epsilon(1e-3));
    CHECK(words_of(p).find("turned 1.0 deg") != std::string::npos);
    check_texts(tags, true);
  }

  TEST_CASE("charts: names of any kind stay text") {
    const std::vector<std::string> names{"<script>alert(1)</script>",
                                         "\" onload=\"x",
                                         "a & b 'c'",
                                         std::string(10000, 'x'),
                                         std::string(3000, '<'),
                                         "\xd7\x90\xd7\x91\xd7\x92 \xe2\x80\xae evil",
                                         "\xf0\x9f\x90\x9f\xf0\x9f\x90\x9f",
                                         "broken \xc3 \xff utf"};
    for (const char* of : {"fjord-skiff", "reservoir-jon-boat", "lough-boat"}) {
      const Drawn& as_is = examples().at(of);
      for (const std::string& name : names) {
        Drawn k{as_is.setup, as_is.assessment, {}};
        const auto rename = [&](std::string& where, const std::string& from) {
          for (std::size_t at = where.find(from); at != std::string::npos;
               at = where.find(from, at + name.size())) {
            where.replace(at, from.size(), name);
          }
        };
        const std::string old = k.setup.gear.front().name;
        rename(k.setup.gear.front().name, old);
        for (LadderStep& step : k.assessment.ladder) {
          rename(step.what, old);
          rename(step.gear, old);
          if (!step.link) step.what += " (" + name + ")";
        }
        for (GearLimit& l : k.assessment.gear_limits) {
          rename(l.gear, old);
          for (RangeLimit& r : l.by_direction) r.set_by += name;
        }
        for (OrderRow& r : k.assessment.orders) {
          rename(r.gear, old);
          r.words += name;
        }
        for (CaseResult& c : k.assessment.cases) c.load_case.title += name;
        for (CaseForces& f : k.assessment.forces) {
          rename(f.loading.gear, old);
          for (FastenerForce& one : f.fasteners) rename(one.part, old);
          for (GearMotion& m : f.motions) rename(m.gear, old);
        }
        std::vector<Picture> all;
        CHECK_NOTHROW(all = all_of(k.content()));
        REQUIRE(!all.empty());
        for (const Picture& p : all) {
          CAPTURE(of);
          CAPTURE(p.title.substr(0, 60));
          std::vector<Tag> tags;
          CHECK_NOTHROW(tags = Markup::read(p.element + "<div>" + p.caption + "</div>"));
          for (const Tag& t : tags) {
            CHECK(t.name != "script");
            CHECK(t.of("onload").empty());
          }
          CHECK(p.element.size() < 60000);
          CHECK(p.caption.size() < 12000);
          check_texts(Markup::read(p.element), true);
        }
      }
    }
  }

  TEST_CASE("charts: figures that are no numbers or huge leave a drawing") {
    const double huge = 1e12;
    Drawn k{examples().at("fjord-skiff").setup, examples().at("fjord-skiff").assessment, {}};
    for (LadderStep& step : k.assessment.ladder) {
      if (step.high) step.high = Force::from_value(huge);
    }
    for (GearLimit& l : k.assessment.gear_limits) l.hold_limit = Force{};
    for (const Picture& p : all_of(k.content())) {
      CHECK_NOTHROW(Markup::read(p.element));
      CHECK(p.element.find("nan") == std::string::npos);
      CHECK(p.element.find("e+") == std::string::npos);
    }
  }
}
