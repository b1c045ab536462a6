// Drawings to scale: read back from their SVG and compared with geometry worked by hand.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

#include <thole/thole.hpp>

#include "report/pictures.hpp"
#include "report/scene_render.hpp"
#include "support/boards.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using scene::View;

namespace {

constexpr View all_views[] = {View::plan, View::side, View::stern};

const char* const examples[] = {"bay-boat",       "fjord-skiff", "highland-dinghy",
                                "lake-cartopper", "lough-boat",  "reservoir-jon-boat"};
const char* const states[] = {"", "-first-fix", "-best-fix"};

Setup example(const std::string& name) {
  std::ifstream in(THOLE_ROOT "/examples/" + name + ".yaml");
  std::ostringstream text;
  text << in.rdbuf();
  return read_setup(text.str(), name + ".yaml", built_in_materials());
}

// The cases of a setup without their checks: all that a picture needs, at no cost.
Assessment listed(const Setup& s) {
  Assessment a;
  for (const LoadCase& c : load_cases(s)) {
    CaseResult r;
    r.load_case = c;
    a.cases.push_back(r);
  }
  return a;
}

// A pull of 450 N as the worst.
void pull_at(Assessment& a, const std::string& gear, LoadPath path, const Direction<Boat>& way,
             std::optional<Angle> boom = {}) {
  CaseForces f;
  for (std::size_t i = 0; i < a.cases.size(); ++i) {
    if (a.cases[i].load_case.path == path) f.loading.load_case = i;
  }
  f.loading.gear = gear;
  f.loading.pull = 450.0_N;
  f.loading.way = way;
  f.loading.boom = boom;
  f.loading.words = "as the test has it";
  a.forces = {f};
  a.worst_forces = 0;
}

void worst_check(Assessment& a, const std::string& mode, const std::string& where,
                 int fastener = -1) {
  CheckResult c;
  c.mode = mode;
  c.gives_way = "washer of a hold-down dents the plank";
  c.where = where;
  c.fastener = fastener;
  a.checks = {c};
}

SheetContent content_of(const Setup& s, const Assessment& a) {
  return {s, a, built_in_materials(), {}, {}, "test.yaml", "", "2026-11-27", Paper::a4};
}

using pictures::Form;

pictures::Picture picture(const SheetContent& c, View view, Form form = Form::screen) {
  return view == View::plan   ? pictures::plan(c, form)
         : view == View::side ? pictures::side(c, form)
                              : pictures::stern(c, form);
}

// ---- reading an SVG back ------------------------------------------------------------------------

double attribute(const std::string& tag, const std::string& name) {
  const std::size_t at = tag.find(" " + name + "=\"");
  if (at == std::string::npos) return std::numeric_limits<double>::quiet_NaN();
  return std::stod(tag.substr(at + name.size() + 3));
}

// Tags of one name and class, whole.
std::vector<std::string> tags(const std::string& svg, const std::string& name,
                              const std::string& of) {
  std::vector<std::string> out;
  const std::string start = "<" + name + " class=\"" + of + "\"";
  for (std::size_t at = svg.find(start); at != std::string::npos; at = svg.find(start, at + 1)) {
    out.push_back(svg.substr(at, svg.find('>', at) - at));
  }
  return out;
}

std::vector<svg::Point> points_of(const std::string& tag) {
  const std::size_t at = tag.find("points=\"") + 8;
  std::istringstream in(tag.substr(at, tag.find('"', at) - at));
  std::vector<svg::Point> out;
  svg::Point p;
  char comma = 0;
  while (in >> p.x >> comma >> p.y) out.push_back(p);
  return out;
}

svg::Point middle_of(const std::vector<svg::Point>& points) {
  double x0 = 1e9, x1 = -1e9, y0 = 1e9, y1 = -1e9;
  for (const svg::Point& p : points) {
    x0 = std::min(x0, p.x);
    x1 = std::max(x1, p.x);
    y0 = std::min(y0, p.y);
    y1 = std::max(y1, p.y);
  }
  return {0.5 * (x0 + x1), 0.5 * (y0 + y1)};
}

std::vector<svg::Point> middles(const std::string& svg, const std::string& of) {
  std::vector<svg::Point> out;
  for (const std::string& t : tags(svg, "polygon", of)) out.push_back(middle_of(points_of(t)));
  return out;
}

double apart(const svg::Point& a, const svg::Point& b) { return std::hypot(a.x - b.x, a.y - b.y); }

// Units of the drawing for a metre, by the metric scale bar as a reader would take it: the first
// text with its line before it.
double units_per_metre(const std::string& svg, std::size_t from = 0) {
  for (const auto& [words, metres] : {std::pair{">1 m<", 1.0},
                                      {">500 mm<", 0.5},
                                      {">200 mm<", 0.2},
                                      {">100 mm<", 0.1},
                                      {">50 mm<", 0.05},
                                      {">20 mm<", 0.02},
                                      {">2 m<", 2.0}}) {
    for (std::size_t at = svg.find(words, from); at != std::string::npos;
         at = svg.find(words, at + 1)) {
      const std::size_t text = svg.rfind("<text", at);
      const std::size_t third = svg.rfind("<line class=\"axis\"", text);
      if (third == std::string::npos || text - third > 120) continue;
      const std::size_t second = svg.rfind("<line class=\"axis\"", third - 1);
      const std::size_t first = svg.rfind("<line class=\"axis\"", second - 1);
      const std::string bar = svg.substr(first, second - first);
      return (attribute(bar, "x2") - attribute(bar, "x1")) / metres;
    }
  }
  return 0;
}

// Opens and closes in order, quoted attributes, known entities only.
std::string fault_of(const std::string& xml) {
  std::vector<std::string> open;
  for (std::size_t i = 0; i < xml.size(); ++i) {
    if (xml[i] == '&') {
      const std::string entity = xml.substr(i, xml.find(';', i) - i + 1);
      if (entity != "&amp;" && entity != "&lt;" && entity != "&gt;" && entity != "&quot;" &&
          entity != "&#39;") {
        return "entity " + entity;
      }
    }
    if (xml[i] != '<') continue;
    const std::size_t end = xml.find('>', i);
    if (end == std::string::npos) return "no end of a tag";
    const std::string tag = xml.substr(i + 1, end - i - 1);
    if (tag.find('<') != std::string::npos) return "< in " + tag;
    if (std::count(tag.begin(), tag.end(), '"') % 2 != 0) return "quotes in " + tag;
    const std::string name =
        tag.substr(tag[0] == '/' ? 1 : 0, tag.find_first_of(" />", 1) - (tag[0] == '/' ? 1 : 0));
    if (tag[0] == '/') {
      if (open.empty() || open.back() != tag.substr(1)) return "closes " + tag;
      open.pop_back();
    } else if (tag.back() != '/') {
      open.push_back(name);
    }
    i = end;
  }
  return open.empty() ? "" : "left open: " + open.back();
}

void check_sound(const pictures::Picture& p) {
  CHECK_FALSE(p.element.empty());
  CHECK(fault_of(p.element) == "");
  CHECK(fault_of(p.caption) == "");
  for (const char* bad : {"nan", "inf", "<script", "url(", "onload=", "style=", "href"}) {
    CHECK_MESSAGE(p.element.find(bad) == std::string::npos, bad);
  }
}

// No text runs out of the drawing to the right.
void check_widths(const std::string& svg, double wide) {
  for (std::size_t at = svg.find("<text"); at != std::string::npos;
       at = svg.find("<text", at + 1)) {
    const std::size_t end = svg.find('>', at);
    const std::string tag = svg.substr(at, end - at);
    if (tag.find("anchor") != std::string::npos) continue;
    std::string words = svg.substr(end + 1, svg.find('<', end) - end - 1);
    for (const auto& [entity, sign] : {std::pair{"&lt;", "<"},
                                       {"&gt;", ">"},
                                       {"&quot;", "\""},
                                       {"&#39;", "'"},
                                       {"&amp;", "&"}}) {
      for (std::size_t i = words.find(entity); i != std::string::npos; i = words.find(entity)) {
        words.replace(i, std::string(entity).size(), sign);
        if (std::string(sign) == "&") break;
      }
    }
    const bool bold = tag.find("strong") != std::string::npos ||
                      tag.find("load") != std::string::npos ||
                      tag.find("worst") != std::string::npos;
    CHECK_MESSAGE(attribute(tag, "x") + scene::width_of(words, bold) < wide + 1, words);
  }
}

void check_words(const SheetContent& c, View view, Form form = Form::screen) {
  const double wide = form == Form::paper ? 240 : 340;
  const scene::Rendered r = scene::render(scene::scene_of(c, form == Form::screen), view,
                                          {"test", "title", "description"}, form);
  REQUIRE_FALSE(r.texts.empty());
  check_widths(r.element, wide);
  for (std::size_t i = 0; i < r.texts.size(); ++i) {
    const scene::Box& a = r.texts[i];
    CHECK(a.x >= 0);
    CHECK(a.y >= 0);
    CHECK(a.x + a.width <= wide + 1e-9);
    CHECK(a.y + a.height <= r.height + 1e-9);
    for (std::size_t k = 0; k < i; ++k) CHECK_FALSE(scene::overlap(a, r.texts[k]));
  }
}

// Width and height of the whole drawing.
svg::Point size_of(const std::string& svg) {
  std::istringstream in(svg.substr(svg.find("viewBox=\"0 0 ") + 13));
  svg::Point out;
  in >> out.x >> out.y;
  return out;
}

// All three alike in height, as wide as a third of the page asks, none above 200.
void check_paper(const SheetContent& c) {
  double height = 0;
  for (const View view : all_views) {
    const pictures::Picture p = picture(c, view, Form::paper);
    check_sound(p);
    check_words(c, view, Form::paper);
    const svg::Point size = size_of(p.element);
    CHECK(size.x == 240);
    CHECK(size.y <= 200);
    CHECK(size.y >= 60);
    if (height > 0) CHECK(size.y == height);
    height = size.y;
  }
}

Setup fjord() { return test::fjord_board(); }

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("pictures: hold-downs lie as far apart on the drawing as on the board") {
    const Setup s = fjord();
    const Assessment a = listed(s);
    const std::string svg = pictures::plan(content_of(s, a)).element;
    const std::vector<svg::Point> bolts = middles(svg, "axis");
    REQUIRE(bolts.size() == 4);
    const double scale = units_per_metre(svg);
    REQUIRE(scale > 20);
    const auto& all = s.board().hold_downs;
    const auto place = [&](const HoldDown& h) {
      const double y = (0.5 * s.board().clear_width + h.place.outboard).value();
      return svg::Point{h.place.side == Side::port ? -y : y, -h.place.forward.value()};
    };
    for (std::size_t i = 1; i < 4; ++i) {
      double nearest = 1e9;  // drawn in another order
      for (std::size_t k = 0; k < 4; ++k) {
        const double want = apart(place(all[0]), place(all[i])) * scale;
        for (std::size_t m = 0; m < 4; ++m) {
          if (k != m) nearest = std::min(nearest, std::abs(apart(bolts[k], bolts[m]) - want));
        }
      }
      CHECK(nearest < 0.02);
    }
  }

  TEST_CASE("pictures: bow is up and starboard is right in the plan") {
    Setup s = fjord();
    s.board().hold_downs.clear();
    s.board().hold_downs.push_back(test::hold_down(Side::starboard, 30.0_mm, 75.0_mm));
    const Assessment a = listed(s);
    const std::string svg = pictures::plan(content_of(s, a)).element;
    const svg::Point bolt = middles(svg, "axis").at(0);
    const svg::Point board = middles(svg, "part").at(0);
    CHECK(bolt.x > board.x);
    CHECK(bolt.y < board.y);
  }

  TEST_CASE("pictures: the arrow starts at the tip of the boom") {
    // By hand: foot 120 mm outboard of the ledge at 900 mm, boom 600 mm at 45 deg from astern:
    // the tip is 900 + 120 + 600 sin 45 = 1444.3 mm to port, 600 cos 45 = 424.3 mm aft.
    Setup s = fjord();
    Assessment a = listed(s);
    pull_at(a, "port downrigger", LoadPath::tip, line_direction(degrees(0), degrees(30)),
            degrees(45));
    const SheetContent c = content_of(s, a);
    const std::string svg = pictures::plan(c).element;
    const std::vector<svg::Point> bolts = middles(svg, "axis");
    svg::Point origin;
    for (const svg::Point& b : bolts) origin = {origin.x + b.x / 4, origin.y + b.y / 4};
    const std::string tail = tags(svg, "circle", "load head").at(0);
    const double scale = units_per_metre(svg);
    const double outboard = s.gear.front().place.outboard.value();
    CHECK((attribute(tail, "cx") - origin.x) / scale ==
          doctest::Approx(-(0.9 + outboard + 0.6 * std::sqrt(0.5))).epsilon(0.002));
    CHECK((attribute(tail, "cy") - origin.y) / scale ==
          doctest::Approx(0.6 * std::sqrt(0.5)).epsilon(0.002));
    // In the view from astern 200 mm above the board.
    const std::string stern = pictures::stern(c).element;
    const double up = attribute(tags(stern, "circle", "load head").at(0), "cy");
    double top = 1e9;
    for (const svg::Point& p : points_of(tags(stern, "polygon", "part").at(0))) {
      top = std::min(top, p.y);
    }
    CHECK((top - up) / units_per_metre(stern) == doctest::Approx(0.2).epsilon(0.01));
  }

  TEST_CASE("pictures: an arrow is as short as its dip makes it") {
    const Setup s = fjord();
    Assessment a = listed(s);
    const auto length = [&](double dip, View view) {
      pull_at(a, "port downrigger", LoadPath::tip, line_direction(degrees(0), degrees(dip)));
      const std::string svg = picture(content_of(s, a), view).element;
      const std::string tail = tags(svg, "circle", "load head").at(0);
      const svg::Point from{attribute(tail, "cx"), attribute(tail, "cy")};
      return apart(from, points_of(tags(svg, "polygon", "load head").at(0)).at(0));
    };
    CHECK(length(60, View::plan) / length(0, View::plan) == doctest::Approx(0.5).epsilon(0.001));
    CHECK(length(30, View::stern) == doctest::Approx(0.5 * length(0, View::plan)).epsilon(0.001));
    CHECK(length(37, View::side) == doctest::Approx(length(0, View::plan)).epsilon(0.001));
  }

  TEST_CASE("pictures: a pull straight down is a crossed ring from above") {
    const Setup s = fjord();
    Assessment a = listed(s);
    pull_at(a, "port downrigger", LoadPath::tip, line_direction(degrees(0), degrees(90)));
    const std::string svg = pictures::plan(content_of(s, a)).element;
    CHECK(tags(svg, "circle", "load").size() == 1);
    CHECK(tags(svg, "line", "load").size() == 2);
    CHECK(svg.find("450 N, straight down") != std::string::npos);
  }

  TEST_CASE("pictures: the mirrored setup gives the mirrored picture") {
    const Setup s = fjord();
    const Setup m = test::mirrored(s);
    Assessment a = listed(s);
    Assessment b = listed(m);
    pull_at(a, s.gear[0].name, LoadPath::tip, line_direction(degrees(20), degrees(40)));
    pull_at(b, m.gear[0].name, LoadPath::tip, line_direction(degrees(20), degrees(40)));
    for (const View view : {View::plan, View::stern}) {
      const std::string one = picture(content_of(s, a), view).element;
      const std::string two = picture(content_of(m, b), view).element;
      for (const char* look : {"part", "part2", "gear", "sector", "hull"}) {
        std::vector<svg::Point> left = middles(one, look);
        std::vector<svg::Point> right = middles(two, look);
        REQUIRE(left.size() == right.size());
        // About the middle of the board; how high it lies on the page is up to its words.
        const svg::Point from = middles(one, "part").at(0);
        const svg::Point to = middles(two, "part").at(0);
        for (const svg::Point& p : left) {
          double nearest = 1e9;
          for (const svg::Point& q : right)
            nearest = std::min(nearest, apart({to.x + from.x - p.x, to.y + p.y - from.y}, q));
          CHECK(nearest < 0.01);
        }
      }
    }
  }

  TEST_CASE("pictures: the ring stands round the hold-down that the check names") {
    const Setup s = fjord();
    for (const HoldDown& h : s.board().hold_downs) {
      Assessment a = listed(s);
      worst_check(a, "washer-dent", h.name);
      const pictures::Picture p = pictures::plan(content_of(s, a));
      const std::vector<std::string> rings = tags(p.element, "circle", "worst");
      REQUIRE(rings.size() == 2);
      const svg::Point ring{attribute(rings[0], "cx"), attribute(rings[0], "cy")};
      svg::Point nearest{1e9, 1e9};
      for (const svg::Point& b : middles(p.element, "axis")) {
        if (apart(b, ring) < apart(nearest, ring)) nearest = b;
      }
      CHECK(apart(nearest, ring) < 0.01);
      const svg::Point board = middles(p.element, "part").at(0);
      CHECK((ring.x > board.x) == (h.place.side == Side::starboard));
      CHECK((ring.y < board.y) == (h.place.forward.value() > 0));
    }
  }

  TEST_CASE("pictures: a place that nobody can tell is no ring but words") {
    const Setup s = fjord();
    for (const char* mode : {"board-bending", "washer-dent", "no-such-mode"}) {
      Assessment a = listed(s);
      worst_check(a, mode, "somewhere else");
      const pictures::Picture p = pictures::plan(content_of(s, a));
      CHECK(tags(p.element, "circle", "worst").empty());
      CHECK(p.caption.find("its place not told") != std::string::npos);
      CHECK(p.caption.find("dents the plank") != std::string::npos);
    }
  }

  TEST_CASE("pictures: a cut is ringed at its distance from the port end") {
    const Setup s = fjord();
    Assessment a = listed(s);
    worst_check(a, "board-bending", "310 mm from the port end");
    const std::string svg = pictures::plan(content_of(s, a)).element;
    double end = 1e9;
    for (const svg::Point& p : points_of(tags(svg, "polygon", "part").at(0))) {
      end = std::min(end, p.x);
    }
    const double at = attribute(tags(svg, "circle", "worst").at(0), "cx");
    CHECK((at - end) / units_per_metre(svg) == doctest::Approx(0.31).epsilon(0.002));
  }

  TEST_CASE("pictures: without the forces of a case there is no arrow and they say so") {
    const Setup s = fjord();
    const Assessment a = listed(s);
    const pictures::Picture p = pictures::plan(content_of(s, a));
    CHECK(p.element.find("class=\"load") == std::string::npos);
    CHECK(p.caption.find("Load of the worst case not drawn") != std::string::npos);
  }

  TEST_CASE("pictures: where the boom may point and holds is told from where it does not") {
    const Setup s = fjord();
    Assessment a = listed(s);
    a.verdict = Verdict::holds;
    SheetContent c = content_of(s, a);
    for (int deg = -180; deg < 180; deg += 15) {
      BoomRow r;
      r.gear = s.gear[0].name;
      r.azimuth = degrees(deg);
      r.allowed = deg == 0 || deg == 45 || deg == 90;
      r.worst_ratio = deg < 50 ? 2 : 0.5;
      c.booms.push_back(r);
    }
    const pictures::Picture p = pictures::plan(c);
    // One part each of this gear; the other gear has no rows and is shaded as a whole.
    CHECK(tags(p.element, "polygon", "sector").size() == 2);
    CHECK(tags(p.element, "polygon", "forbidden").size() == 1);
    CHECK(tags(p.element, "path", "mark tick").size() == 2);
    CHECK(tags(p.element, "path", "mark cross").size() == 1);
    CHECK(p.caption.find("cross: they do not hold there") != std::string::npos);
    // A refused setup has no tick, however well single directions come out.
    a.verdict = Verdict::no_verdict;
    const pictures::Picture refused = pictures::plan(c);
    CHECK(tags(refused.element, "path", "mark tick").empty());
    CHECK(tags(refused.element, "path", "mark question").size() == 2);
    CHECK(tags(refused.element, "path", "mark cross").size() == 1);
    a.verdict = Verdict::holds_if;
    CHECK(tags(pictures::plan(c).element, "path", "mark triangle").size() == 2);
  }

  TEST_CASE("pictures: fasteners of a plate lie as far apart as in the setup and are numbered") {
    const Setup s = example("reservoir-jon-boat");
    Assessment a = listed(s);
    worst_check(a, "thread-pull-out", "", 1);
    const std::string svg = pictures::plan(content_of(s, a)).element;
    const std::size_t larger = svg.find("The base, larger");
    REQUIRE(larger != std::string::npos);
    const std::vector<svg::Point> holes = middles(svg.substr(larger), "axis");
    const std::vector<PlanPoint>& want = s.plate().fastening.holes;
    REQUIRE(holes.size() == want.size());
    const double scale = units_per_metre(svg, larger);
    double most = 0;
    double farthest = 0;
    for (std::size_t i = 0; i < want.size(); ++i) {
      most = std::max(most, apart(holes[0], holes[i]) / scale);
      farthest = std::max(
          farthest, std::hypot((want[0].x - want[i].x).value(), (want[0].y - want[i].y).value()));
    }
    CHECK(most == doctest::Approx(farthest).epsilon(0.002));
    for (const char* number : {">1<", ">2<", ">3<", ">4<"}) {
      CHECK(svg.find(number, larger) != std::string::npos);
    }
    CHECK(tags(svg, "circle", "worst").size() == 2);
    CHECK(svg.find("no. 2") != std::string::npos);
  }

  TEST_CASE("pictures: no words overlap or leave the drawing in any example") {
    for (const char* boat : examples) {
      for (const char* state : states) {
        const Setup s = example(std::string(boat) + state);
        Assessment a = listed(s);
        const bool board = s.on_board();
        worst_check(a, board ? "washer-dent" : "pull-over",
                    board ? s.board().hold_downs[0].name : "", board ? -1 : 0);
        for (const LoadPath path : {LoadPath::tip, LoadPath::line, LoadPath::post}) {
          const Gear& g = s.gear.back();
          if (g.rod_holder.has_value() != (path == LoadPath::line)) continue;
          pull_at(a, g.name, path, line_direction(degrees(50), degrees(50)));
          const SheetContent c = content_of(s, a);
          CAPTURE(s.title);
          for (const View view : all_views) {
            check_words(c, view);
            check_sound(picture(c, view));
          }
          check_paper(c);
        }
      }
    }
  }

  TEST_CASE("pictures: no words overlap or leave the drawing on random boards and plates") {
    test::BoardDice boards(7);
    test::PlateDice plates(7);
    for (int i = 0; i < 12; ++i) {
      const Setup s = i % 3 == 0   ? test::random_board(boards)
                      : i % 3 == 1 ? test::random_load(plates)
                                   : test::random_rod(plates);
      Assessment a = listed(s);
      worst_check(a, "base-bending", "");
      const Gear& g = s.gear.front();
      const LoadPath path = g.rod_holder   ? LoadPath::line
                            : g.downrigger ? LoadPath::tip
                                           : LoadPath::point;
      pull_at(a, g.name, path, line_direction(degrees(37 * i), degrees(13 * i - 60)));
      CAPTURE(i);
      for (const View view : all_views) {
        check_words(content_of(s, a), view);
        check_sound(picture(content_of(s, a), view));
      }
      check_paper(content_of(s, a));
    }
  }

  TEST_CASE("pictures: hostile names stay short text") {
    const std::string names[] = {"<script>alert(1)</script>",
                                 "\"quoted\" & 'single'",
                                 std::string(10000, 'W'),
                                 "\xd7\xa9\xd7\x9c\xd7\x95\xd7\x9d",
                                 "\xf0\x9f\x8e\xa3 line",
                                 "\xe2\x80\xae reversed",
                                 "broken \xc3(",
                                 "a\nb\tc"};
    for (const std::string& name : names) {
      Setup s = fjord();
      s.title = name;
      for (Gear& g : s.gear) g.name = name;
      for (HoldDown& h : s.board().hold_downs) h.name = name;
      Assessment a = listed(s);
      worst_check(a, "washer-dent", name);
      pull_at(a, name, LoadPath::tip, line_direction(degrees(10), degrees(40)));
      for (const View view : all_views) {
        const pictures::Picture p = picture(content_of(s, a), view);
        check_sound(p);
        CHECK(p.element.size() < 40000);
        CHECK(p.element.find("\xe2\x80\xae") == std::string::npos);
        check_words(content_of(s, a), view);
      }
      check_paper(content_of(s, a));
    }
  }

  TEST_CASE("pictures: sizes from a plate of 1 mm to a board of 6 m stay finite") {
    Setup plate = example("reservoir-jon-boat-best-fix");
    plate.plate().base.outline = test::rectangle(0.5_mm, 0.5_mm);
    plate.plate().fastening.holes = {{0.1_mm, 0.1_mm}, {-0.1_mm, -0.1_mm}};
    Setup board = fjord();
    board.board().clear_width = 5.6_m;
    board.board().board.length = 6.0_m;
    Setup nothing = fjord();
    nothing.board().hold_downs.clear();
    nothing.gear.clear();
    for (const Setup& s : {plate, board, nothing}) {
      const Assessment a = listed(s);
      for (const View view : all_views) {
        check_sound(picture(content_of(s, a), view));
        check_words(content_of(s, a), view);
      }
      check_paper(content_of(s, a));
    }
  }

  TEST_CASE("pictures: on paper the worst item is ringed and named and the load has its value") {
    for (const char* boat : examples) {
      const Setup s = example(boat);
      Assessment a = listed(s);
      const bool board = s.on_board();
      worst_check(a, board ? "washer-dent" : "pull-over", board ? s.board().hold_downs[0].name : "",
                  board ? -1 : 0);
      const Gear& g = s.gear.front();
      pull_at(a, g.name, g.rod_holder ? LoadPath::line : LoadPath::tip,
              line_direction(degrees(50), degrees(50)));
      const SheetContent c = content_of(s, a);
      CAPTURE(boat);
      const std::string plan = pictures::plan(c, Form::paper).element;
      CHECK(tags(plan, "circle", "worst").size() == 2);
      CHECK(plan.find(">worst: ") != std::string::npos);
      // 450 N are 101.2 lbf: demands go up.
      const char* value = s.units == ReaderUnits::inch ? "110 lbf, 50 deg" : "450 N, 50 deg";
      const std::string side = pictures::side(c, Form::paper).element;
      CHECK(side.find(value) != std::string::npos);
      CHECK(tags(side, "polygon", "load head").size() == 1);
      // The base alone has no room for the gear that is pulled.
      CHECK((plan.find("class=\"load") != std::string::npos) == board);
    }
  }

  TEST_CASE("pictures: each form of a view has an id of its own") {
    const Setup s = fjord();
    const Assessment a = listed(s);
    std::vector<std::string> ids;
    for (const Form form : {Form::screen, Form::paper}) {
      for (const View view : all_views) {
        const pictures::Picture p = picture(content_of(s, a), view, form);
        CHECK(p.element.find("id=\"" + p.id + "\"") != std::string::npos);
        const bool paper = p.id.size() > 6 && p.id.substr(p.id.size() - 6) == "-paper";
        CHECK(paper == (form == Form::paper));
        CHECK(std::find(ids.begin(), ids.end(), p.id) == ids.end());
        ids.push_back(p.id);
      }
    }
  }

  TEST_CASE("pictures: the sector round a pull spans the directions of its case") {
    Setup s = example("reservoir-jon-boat-best-fix");
    Assessment a = listed(s);
    const Gear& g = s.gear.front();
    REQUIRE(g.rod_holder.has_value());
    pull_at(a, g.name, LoadPath::line, line_direction(degrees(60), degrees(20)));
    std::vector<DirectionRange>& ranges = a.cases[a.forces[0].loading.load_case].load_case.ranges;
    ranges = {{degrees(30), degrees(90), degrees(0), degrees(45)}};
    const pictures::Picture p = pictures::plan(content_of(s, a));
    const std::vector<std::string> sectors = tags(p.element, "polygon", "sector");
    REQUIRE(sectors.size() == 1);
    const std::string tail = tags(p.element, "circle", "load head").at(0);
    const svg::Point from{attribute(tail, "cx"), attribute(tail, "cy")};
    double least = 1e9;
    double most = -1e9;
    for (const svg::Point& q : points_of(sectors[0])) {
      if (apart(q, from) < 1) continue;
      // From astern, which is down, toward starboard, which is right.
      const double angle = std::atan2(q.x - from.x, q.y - from.y) * 180 / 3.14159265358979;
      least = std::min(least, angle);
      most = std::max(most, angle);
    }
    CHECK(least == doctest::Approx(30).epsilon(0.002));
    CHECK(most == doctest::Approx(90).epsilon(0.002));
    CHECK(p.caption.find("where else it may go") != std::string::npos);
    ranges = {{degrees(60), degrees(60), degrees(0), degrees(45)}};
    CHECK(tags(pictures::plan(content_of(s, a)).element, "polygon", "sector").empty());
  }

  TEST_CASE("pictures: a picture of a plate is no higher than a phone") {
    for (const char* boat : {"bay-boat", "highland-dinghy", "reservoir-jon-boat"}) {
      for (const char* state : states) {
        const Setup s = example(std::string(boat) + state);
        Assessment a = listed(s);
        worst_check(a, "pull-over", "", 0);
        const Gear& g = s.gear.back();
        pull_at(a, g.name, g.rod_holder ? LoadPath::line : LoadPath::tip,
                line_direction(degrees(50), degrees(50)));
        CAPTURE(s.title);
        // 640 is what a phone of 360 units width shows at least.
        for (const View view : all_views) {
          CHECK(size_of(picture(content_of(s, a), view).element).y <= 560);
        }
      }
    }
  }

  TEST_CASE("pictures: what is read aloud names the mount and the worst item") {
    const Setup s = fjord();
    Assessment a = listed(s);
    worst_check(a, "washer-dent", s.board().hold_downs[0].name);
    pull_at(a, s.gear[0].name, LoadPath::tip, line_direction(degrees(0), degrees(40)));
    const std::string svg = pictures::stern(content_of(s, a)).element;
    const std::string aloud =
        svg.substr(svg.find("<desc"), svg.find("</desc>") - svg.find("<desc"));
    for (const char* part : {"Seen from astern", "plank 48 mm x 198 mm", "2200 mm long", "450 N",
                             "washer of a hold-down dents the plank"}) {
      CHECK_MESSAGE(aloud.find(part) != std::string::npos, part);
    }
  }
}
