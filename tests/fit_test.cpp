// Distances in plan against hand geometry and against points sampled on the shapes; what a setup
// makes of its mount; the rules at their borders.

#include <thole/fit.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <numbers>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>

#include "support/boards.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;

namespace {

constexpr double pi = std::numbers::pi;

FitPoint at(double x, double y) { return {x * si::metre, y * si::metre}; }
Length metres(double v) { return v * si::metre; }

FitShape outline(const std::vector<FitPoint>& points) {
  FitShape s;
  s.points = points;
  return s;
}
FitShape box(double x0, double y0, double x1, double y1) {
  return outline({at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)});
}
FitShape sector(double x, double y, double inner, double outer, double from, double to) {
  FitShape s;
  s.form = FitShape::Form::sector;
  s.points = {at(x, y)};
  s.inner = metres(inner);
  s.outer = metres(outer);
  s.from = degrees(from);
  s.to = degrees(to);
  return s;
}
FitShape circle(double x, double y, double r) { return sector(x, y, 0, r, 0, 360); }
FitShape path(double x0, double y0, double x1, double y1, double width) {
  FitShape s;
  s.form = FitShape::Form::path;
  s.points = {at(x0, y0), at(x1, y1)};
  s.width = metres(width);
  return s;
}
FitShape between(FitShape s, double bottom, double top) {
  s.bottom = metres(bottom);
  s.top = metres(top);
  return s;
}

double gap(const FitShape& a, const FitShape& b) { return gap_between(a, b).distance.value(); }

FitShape moved(FitShape s, double turned, double x, double y) {
  for (FitPoint& p : s.points) {
    const double px = p.x.value();
    const double py = p.y.value();
    p = at(x + std::cos(turned) * px - std::sin(turned) * py,
           y + std::sin(turned) * px + std::cos(turned) * py);
  }
  // x forward, y to starboard: turning from x to y is clockwise seen from above.
  s.from += turned * si::radian;
  s.to += turned * si::radian;
  return s;
}
FitShape mirrored(FitShape s) {
  for (FitPoint& p : s.points) p.y = -p.y;
  const Angle from = s.from;
  s.from = -s.to;
  s.to = -from;
  return s;
}

// ---- The same by points, without the code under test
// ---------------------------------------------

bool holds_point(const FitShape& s, double x, double y) {
  if (s.form == FitShape::Form::sector) {
    const double dx = x - s.points[0].x.value();
    const double dy = y - s.points[0].y.value();
    const double r = std::hypot(dx, dy);
    if (r < s.inner.value() || r > s.outer.value()) return false;
    double a = std::atan2(-dy, -dx);  // from astern, to port
    while (a < s.from.value()) a += 2 * pi;
    while (a - 2 * pi >= s.from.value()) a -= 2 * pi;
    return a <= s.to.value();
  }
  if (s.form == FitShape::Form::path) {
    const double ax = s.points[0].x.value();
    const double ay = s.points[0].y.value();
    const double ux = s.points[1].x.value() - ax;
    const double uy = s.points[1].y.value() - ay;
    const double n = std::hypot(ux, uy);
    const double t = ((x - ax) * ux + (y - ay) * uy) / n;
    const double v = ((x - ax) * uy - (y - ay) * ux) / n;
    return t >= 0 && t <= n && std::abs(v) <= 0.5 * s.width.value();
  }
  bool inside = false;
  for (std::size_t i = 0, k = s.points.size() - 1; i < s.points.size(); k = i++) {
    const double xi = s.points[i].x.value();
    const double yi = s.points[i].y.value();
    const double xk = s.points[k].x.value();
    const double yk = s.points[k].y.value();
    if ((yi > y) != (yk > y) && x < (xk - xi) * (y - yi) / (yk - yi) + xi) inside = !inside;
  }
  return inside;
}

using Points = std::vector<std::pair<double, double>>;

void walk(Points& out, double ax, double ay, double bx, double by, double step) {
  const int n = 1 + int(std::hypot(bx - ax, by - ay) / step);
  for (int i = 0; i <= n; ++i) {
    out.emplace_back(ax + (bx - ax) * i / n, ay + (by - ay) * i / n);
  }
}

Points rim_of(const FitShape& s, double step) {
  Points out;
  if (s.form == FitShape::Form::sector) {
    const double x = s.points[0].x.value();
    const double y = s.points[0].y.value();
    const auto on = [&](double r, double a) {
      return std::pair{x - r * std::cos(a), y - r * std::sin(a)};
    };
    for (const double r : {s.inner.value(), s.outer.value()}) {
      const double span = s.to.value() - s.from.value();
      const int n = 1 + int(r * span / step);
      for (int i = 0; i <= n; ++i) out.push_back(on(r, s.from.value() + span * i / n));
    }
    for (const double a : {s.from.value(), s.to.value()}) {
      const auto p = on(s.inner.value(), a);
      const auto q = on(s.outer.value(), a);
      walk(out, p.first, p.second, q.first, q.second, step);
    }
    return out;
  }
  std::vector<FitPoint> c = s.points;
  if (s.form == FitShape::Form::path) {
    const double ux = (c[1].x - c[0].x).value();
    const double uy = (c[1].y - c[0].y).value();
    const double h = 0.5 * s.width.value() / std::hypot(ux, uy);
    const FitPoint a = c[0];
    const FitPoint b = c[1];
    c = {{a.x - metres(h * uy), a.y + metres(h * ux)},
         {b.x - metres(h * uy), b.y + metres(h * ux)},
         {b.x + metres(h * uy), b.y - metres(h * ux)},
         {a.x + metres(h * uy), a.y - metres(h * ux)}};
  }
  for (std::size_t i = 0; i < c.size(); ++i) {
    const FitPoint& p = c[i];
    const FitPoint& q = c[(i + 1) % c.size()];
    walk(out, p.x.value(), p.y.value(), q.x.value(), q.y.value(), step);
  }
  return out;
}

// Overlap: below zero.
double sampled_gap(const FitShape& a, const FitShape& b, double step) {
  const Points pa = rim_of(a, step);
  const Points pb = rim_of(b, step);
  for (const auto& p : pa) {
    if (holds_point(b, p.first, p.second)) return -1;
  }
  for (const auto& p : pb) {
    if (holds_point(a, p.first, p.second)) return -1;
  }
  double least = 1e9;
  for (const auto& p : pa) {
    for (const auto& q : pb) {
      const double dx = p.first - q.first;
      const double dy = p.second - q.second;
      least = std::min(least, dx * dx + dy * dy);
    }
  }
  return std::sqrt(least);
}

class Shapes {
 public:
  explicit Shapes(unsigned seed) : random_(seed) {}
  double within(double low, double high) {
    return low + (high - low) * (double(random_()) / double(std::mt19937::max()));
  }
  FitShape any() {
    switch (random_() % 4) {
      case 0: {
        // A star about its middle is simple, and mostly not convex.
        std::vector<FitPoint> c;
        const int n = 3 + int(random_() % 6);
        for (int i = 0; i < n; ++i) {
          const double r = within(0.05, 0.4);
          const double a = 2 * pi * (i + within(-0.3, 0.3)) / n;
          c.push_back(at(r * std::cos(a), r * std::sin(a)));
        }
        return place(outline(c));
      }
      case 1: {
        const double outer = within(0.05, 0.5);
        const double from = within(-180, 180);
        return place(sector(0, 0, within(0, 1) < 0.5 ? 0 : within(0, 0.9) * outer, outer, from,
                            from + within(5, 359)));
      }
      case 2:
        return place(path(0, 0, within(0.1, 0.8), within(-0.4, 0.4), within(0.01, 0.1)));
      default:
        return place(box(0, 0, within(0.02, 0.5), within(0.02, 0.5)));
    }
  }
  FitShape place(const FitShape& s) {
    return moved(s, within(0, 2 * pi), within(-0.6, 0.6), within(-0.6, 0.6));
  }

 private:
  std::mt19937 random_;
};

// ---- Setups
// --------------------------------------------------------------------------------------

std::string text_of(const std::string& name) {
  std::ifstream in(std::string(THOLE_ROOT "/examples/") + name);
  std::stringstream out;
  out << in.rdbuf();
  return out.str();
}
Setup read(const std::string& text) { return read_setup(text, "t.yaml", built_in_materials()); }

// A plate with rods, and what stands in `fit`.
std::string plate(const std::string& gear, const std::string& fit) {
  return R"(thole: 1
units: metric
water: fresh
mount:
  kind: gunwale_plate
  host: {form: closed_section, alloy: 6063-T5 extrusion, thickness: 3 mm, flat: 60 mm}
  base: {fore_aft: 80 mm, athwart: 50 mm, material: not known}
  fastening: {hold: tapped, thread: M6, material: A4-70,
              holes: {fore_aft: 60 mm, athwart: 30 mm}}
gear:
)" + gear +
         "fit:\n" + fit;
}
std::string rod(const std::string& name, const std::string& forward, const std::string& lean,
                const std::string& toward) {
  return "  - {kind: rod_holder, name: " + name + ", height: 100 mm, forward: " + forward +
         ", lean: " + lean + ", toward: " + toward +
         ", rod_length: 2 m, line_test: 100 N, drag: 30 N, mass: 1 kg, tube_depth: 200 mm}\n";
}
const FitRow* row_of(const FitAnswer& a, const std::string& one, const std::string& other) {
  for (const FitRow& r : a.rows) {
    if (r.one == one && r.other == other) return &r;
  }
  return nullptr;
}
const FitThing& thing_of(const FitAnswer& a, const std::string& name) {
  for (const FitThing& t : a.things) {
    if (t.name == name) return t;
  }
  throw DomainError("no thing " + name);
}

FitThing part(const std::string& kind, const FitShape& s, const std::string& gear = "") {
  FitThing t = fit_thing(kind, "the " + kind, {s});
  t.gear = gear;
  return t;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("fit: distances of boxes and circles are those of a ruler") {
    CHECK(gap(box(0, 0, 1, 1), box(1.25, 0, 2, 1)) == doctest::Approx(0.25));
    CHECK(gap(box(0, 0, 1, 1), box(1.3, 1.4, 2, 2)) == doctest::Approx(0.5));
    CHECK(gap(box(0, 0, 1, 1), circle(1.5, 0.5, 0.2)) == doctest::Approx(0.3).epsilon(0.0003));
    CHECK(gap(circle(0, 0, 0.3), circle(3, 4, 0.7)) == doctest::Approx(4).epsilon(0.00003));
    // Corner to circle: a 3-4-5 triangle.
    CHECK(gap(box(0, 0, 1, 1), circle(1.3, 1.4, 0.1)) == doctest::Approx(0.4).epsilon(0.0003));
    CHECK(gap(path(0, 0, 1, 0, 0), path(0.5, 0.2, 0.5, 1, 0)) == doctest::Approx(0.2));
    CHECK(gap(path(0, 0, 1, 0, 0.1), path(0.5, 0.2, 0.5, 1, 0)) == doctest::Approx(0.15));
    const Gap g = gap_between(box(0, 0, 1, 1), box(1.2, 0.2, 2, 0.4));
    CHECK(g.at.x.value() == doctest::Approx(1.1));
  }

  TEST_CASE("fit: a ring sector is near with its arcs and with its ends") {
    // From astern (x < 0) a quarter to port (y < 0), radii 0.4 and 0.6.
    const FitShape s = sector(0, 0, 0.4, 0.6, 0, 90);
    CHECK(gap(s, path(-1, 0, -0.7, 0, 0)) == doctest::Approx(0.1).epsilon(0.001));
    CHECK(gap(s, path(0, 0, -0.1, -0.1, 0)) ==
          doctest::Approx(0.4 - 0.1 * std::numbers::sqrt2).epsilon(0.001));  // from within
    CHECK(gap(s, path(-0.5, 0.1, -0.5, 0.5, 0)) == doctest::Approx(0.1));    // its end astern
    CHECK(gap(s, path(0.25, -0.5, 0.5, -0.5, 0)) == doctest::Approx(0.25));  // its end to port
    CHECK(gap(s, path(0.3, 0.4, 0.6, 0.8, 0)) ==
          doctest::Approx(std::hypot(0.7, 0.4)).epsilon(0.001));
    CHECK(gap(s, path(0, 0, -1, -1, 0)) <= 0);
    CHECK(gap(s, circle(0, 0, 0.3)) == doctest::Approx(0.1).epsilon(0.002));
  }

  TEST_CASE("fit: the depth of an overlap is the least move that parts convex shapes") {
    CHECK(gap(box(0, 0, 1, 1), box(0.9, 0, 2, 1)) == doctest::Approx(-0.1));
    CHECK(gap(box(0, 0, 1, 1), box(0.4, 0.4, 0.5, 0.5)) == doctest::Approx(-0.5));
    CHECK(gap(box(0, 0, 1, 1), circle(1.1, 0.5, 0.3)) == doctest::Approx(-0.2).epsilon(0.001));
    CHECK(gap(circle(0, 0, 0.5), circle(0.7, 0, 0.4)) == doctest::Approx(-0.2).epsilon(0.001));
    CHECK(gap(box(0, 0, 1, 1), path(-1, 0.8, 2, 0.8, 0)) == doctest::Approx(-0.2));
    CHECK(gap(path(0, 0, 1, 1, 0), path(0, 1, 1, 0, 0)) <= 0);
    // A swung boom over a box: not cut into slices.
    CHECK(gap(sector(0, 0, 0, 1, 0, 90), box(-0.3, -0.3, -0.2, -0.2)) < -0.29);
    Shapes shapes(5);
    for (int i = 0; i < 25; ++i) {
      const FitShape a = shapes.place(box(0, 0, shapes.within(0.1, 0.5), shapes.within(0.1, 0.5)));
      const FitShape b = shapes.place(sector(0, 0, 0, shapes.within(0.1, 0.5), 0, 120));
      const double depth = -gap(a, b);
      if (depth < 0.003) continue;
      bool parted = false;
      for (int k = 0; k < 720; ++k) {
        const double c = std::cos(pi * k / 360);
        const double s = std::sin(pi * k / 360);
        const double far = depth + 0.001;
        const double near = depth - 0.001;
        parted = parted || gap(moved(a, 0, far * c, far * s), b) > 0;
        CHECK(gap(moved(a, 0, near * c, near * s), b) <= 0);
      }
      CHECK(parted);
    }
  }

  TEST_CASE("fit: shapes without an extent are refused") {
    const FitShape good = box(0, 0, 1, 1);
    CHECK_THROWS_AS((void)gap_between(good, outline({at(0, 0), at(1, 0)})), DomainError);
    CHECK_THROWS_AS((void)gap_between(good, outline({at(0, 0), at(1, 0), at(2, 0)})), DomainError);
    CHECK_THROWS_WITH_AS(
        (void)gap_between(good, outline({at(0, 0), at(2, 0), at(0, 1), at(1, -1)})),
        "the outline crosses or touches itself", DomainError);
    CHECK_THROWS_AS((void)gap_between(good, sector(0, 0, 0, 0, 0, 90)), DomainError);
    CHECK_THROWS_AS((void)gap_between(good, sector(0, 0, 2, 1, 0, 90)), DomainError);
    CHECK_THROWS_AS((void)gap_between(good, sector(0, 0, 0, 1, 90, 0)), DomainError);
    CHECK_THROWS_AS((void)gap_between(good, path(1, 1, 1, 1, 0.1)), DomainError);
    CHECK_THROWS_AS((void)gap_between(good, path(0, 0, 1, 1, -0.1)), DomainError);
    CHECK_THROWS_AS((void)gap_between(good, circle(std::nan(""), 0, 1)), DomainError);
  }

  TEST_CASE("fit: a motor on full lock reaches as far as its corners") {
    FitMotor m;
    m.pivot = at(-0.1, 0);
    m.cowl_forward = 300.0_mm;
    m.cowl_aft = 300.0_mm;
    m.width = 400.0_mm;
    m.tilted_forward = 600.0_mm;
    m.lock = 35.0_deg;
    m.tiller = 700.0_mm;
    const std::vector<FitThing> things = motor_things(m);
    REQUIRE(things.size() == 3);
    const auto reach = [](const FitThing& t, const FitShape& to) {
      double least = 1e9;
      for (const FitShape& s : t.shapes) least = std::min(least, gap(s, to));
      return least;
    };
    // Corner at atan(0.2 / 0.3) = 33.7 deg, so that it passes dead ahead: hypot(0.3, 0.2) from it.
    const FitShape ahead = path(0.5, -1, 0.5, 1, 0);
    CHECK(reach(things[0], ahead) == doctest::Approx(0.6 - std::hypot(0.3, 0.2)).epsilon(0.0005));
    // To the side: at 33.7 + 35 = 68.7 deg.
    const double side = std::hypot(0.3, 0.2) * std::sin(std::atan2(0.2, 0.3) + 35 * pi / 180);
    CHECK(reach(things[0], path(-1, 1, 1, 1, 0)) == doctest::Approx(1 - side).epsilon(0.0005));
    CHECK(reach(things[0], path(-1, -1, 1, -1, 0)) == doctest::Approx(1 - side).epsilon(0.0005));
    // Tilted: corner at 18.4 deg, which comes to 16.6 deg past dead ahead: it sweeps it too.
    CHECK(reach(things[1], path(0.7, -1, 0.7, 1, 0)) ==
          doctest::Approx(0.8 - std::hypot(0.6, 0.2)).epsilon(0.001));
    CHECK(things[2].kind == "hand");
    CHECK(things[2].clearance.value() == doctest::Approx(0.075));
    // With a lock less than the corner's own angle the middle of the front edge lies behind.
    m.lock = 10.0_deg;
    const double corner = std::atan2(0.2, 0.3) - 10 * pi / 180;
    CHECK(reach(motor_things(m)[0], ahead) ==
          doctest::Approx(0.6 - std::hypot(0.3, 0.2) * std::cos(corner)).epsilon(0.0005));
  }

  TEST_CASE("fit: a thing passes above another where heights say so") {
    const FitShape boom = between(path(0, 0, 1, 0, 0.05), 0.15, 0.20);
    const FitShape cleat = between(box(0.4, -0.05, 0.6, 0.05), 0, 0.06);
    FitAnswer a = look_at_fit({part("cleat", cleat), part("board", boom)});
    REQUIRE(a.rows.size() == 1);
    CHECK(a.rows[0].distance.value() == doctest::Approx(0.09));
    CHECK(a.rows[0].note == "passes above it");
    CHECK(a.rows[0].clear == Clear::clear);
    // Higher cleat: so close that a gloved hand does not pass.
    a = look_at_fit({part("cleat", between(cleat, 0, 0.10)), part("board", boom)});
    CHECK(a.rows[0].clear == Clear::close);
    // At one height it hits, as deep as the lesser of both overlaps.
    a = look_at_fit({part("cleat", between(cleat, 0, 0.16)), part("board", boom)});
    CHECK(a.rows[0].clear == Clear::hits);
    CHECK(a.rows[0].distance.value() == doctest::Approx(-0.01));
    CHECK(a.any_hit());
    // Without heights it hits at any.
    a = look_at_fit({part("cleat", box(0.4, -0.05, 0.6, 0.05)), part("board", boom)});
    CHECK(a.rows[0].clear == Clear::hits);
    // Beside and above: across the corner.
    a = look_at_fit(
        {part("cleat", between(box(0.4, 0.065, 0.6, 0.2), 0, 0.12)), part("board", boom)});
    CHECK(a.rows[0].distance.value() == doctest::Approx(0.05));
  }

  TEST_CASE("fit: clear and close and hits change at their borders") {
    const auto of = [](double distance) {
      return look_at_fit(
                 {part("motor", box(0, 0, 1, 1)), part("board", box(1 + distance, 0, 2, 1))})
          .rows.at(0);
    };
    CHECK(of(0.050).clear == Clear::clear);
    CHECK(of(0.0499).clear == Clear::close);
    CHECK(of(0.0251).note.empty());
    CHECK(of(0.0249).note == "touches when anything moves");
    CHECK(of(0.0001).clear == Clear::close);
    CHECK(of(0).clear == Clear::hits);
    CHECK(of(-0.01).distance.value() == doctest::Approx(-0.01));
    CHECK(of(-0.01).clear == Clear::hits);
    // A boom that can be swung away is no more than close to what is used now and then.
    CHECK(look_at_fit({part("hatch", box(0, 0, 1, 1)), part("boom", box(0.9, 0, 2, 1))})
              .rows.at(0)
              .clear == Clear::close);
    CHECK(look_at_fit({part("motor", box(0, 0, 1, 1)), part("boom", box(0.9, 0, 2, 1))})
              .rows.at(0)
              .clear == Clear::hits);
  }

  TEST_CASE("fit: rows come worst first whatever the order of the things") {
    std::vector<FitThing> things{part("motor", box(0, 0, 1, 1)), part("cleat", box(3, 0, 3.2, 1)),
                                 part("other", box(5, 0, 6, 1)),
                                 part("board", box(0.9, 0, 2.95, 1))};
    const FitAnswer first = look_at_fit(things);
    REQUIRE(first.rows.size() == 3);
    CHECK(first.rows[0].other == "the motor");
    CHECK(first.rows[1].other == "the cleat");
    CHECK(first.rows[2].clear == Clear::clear);
    std::reverse(things.begin(), things.end());
    const FitAnswer second = look_at_fit(things);
    for (std::size_t i = 0; i < 3; ++i) {
      CHECK(first.rows[i].other == second.rows[i].other);
      CHECK(first.rows[i].distance.value() == second.rows[i].distance.value());
    }
  }

  TEST_CASE("fit: every kind has one row with what it needs") {
    std::vector<std::string_view> keys;
    for (const FitKind& k : fit_kinds()) {
      CAPTURE(k.key);
      CHECK(std::find(keys.begin(), keys.end(), k.key) == keys.end());
      keys.push_back(k.key);
      CHECK_FALSE(k.name.empty());
      if (k.of_boat) {
        CHECK_FALSE(k.advice.empty());
        CHECK_FALSE(k.help.empty());
      }
      CHECK((k.seen == Seen::practice || k.seen == Seen::judgement));
      CHECK(k.close <= k.clearance);
    }
    CHECK_THROWS_WITH_AS((void)fit_kind("cleet"),
                         "\"cleet\" is no kind of thing that fit knows; did you mean \"cleat\"?",
                         UnknownName);
  }

  TEST_CASE("fit: rod holders stand 600 mm apart and never less than 450 mm") {
    const auto spacing = [](const std::string& forward, const std::string& more = "") {
      const Setup s = read(plate(
          rod("one", "0 mm", "30 deg", "outboard") + rod("two", forward, "30 deg", "outboard"),
          "  mount_at: {forward: 1 m, off_middle: 700 mm, side: port}\n" + more));
      const FitAnswer a = look_at_fit(s);
      const FitRow* r = row_of(a, "one, holder", "two, holder");
      REQUIRE(r != nullptr);
      return *r;
    };
    CHECK(spacing("600 mm").clear == Clear::clear);
    CHECK(spacing("599 mm").clear == Clear::close);
    CHECK(spacing("450 mm").clear == Clear::close);
    CHECK(spacing("449 mm").clear == Clear::hits);
    CHECK(spacing("449 mm").distance.value() == doctest::Approx(0.449));
    CHECK(word_for(spacing("449 mm")) == "too near");
    const FitRow own = spacing("449 mm", "  clearances: {spacing: 400 mm}\n");
    CHECK(own.clear == Clear::clear);
    CHECK(own.wanted_given);
  }

  TEST_CASE("fit: rods that cross in plan are told and splayed ones are not") {
    const auto crossing = [](const std::string& toward_aft, const std::string& toward_fore) {
      const Setup s = read(plate(
          rod("aft", "0 mm", "60 deg", toward_aft) + rod("fore", "700 mm", "60 deg", toward_fore),
          "  mount_at: {forward: 1 m, off_middle: 700 mm, side: starboard}\n"));
      const FitAnswer a = look_at_fit(s);
      for (const FitRow& r : a.rows) {
        if (r.one == "aft, rod" && r.other == "fore, rod") return r.clear == Clear::hits;
        if (r.one == "fore, rod" && r.other == "aft, rod") return r.clear == Clear::hits;
      }
      return false;
    };
    CHECK(crossing("110 deg", "70 deg"));
    CHECK_FALSE(crossing("70 deg", "110 deg"));
  }

  TEST_CASE("fit: rods that cross in plan are told however high one passes over the other") {
    const std::string high = [] {
      std::string t = rod("fore", "700 mm", "30 deg", "50 deg");
      return t.replace(t.find("height: 100 mm"), 14, "height: 400 mm");
    }();
    const FitAnswer a =
        look_at_fit(read(plate(rod("aft", "0 mm", "60 deg", "130 deg") + high,
                               "  mount_at: {forward: 1 m, off_middle: 700 mm, side: port}\n")));
    const FitRow* r = row_of(a, "aft, rod", "fore, rod");
    REQUIRE(r != nullptr);
    CHECK(r->clear == Clear::hits);
    CHECK(r->note.find("seen from above") != std::string::npos);
  }

  TEST_CASE("fit: nothing blocks the place where one climbs back in") {
    // Who falls in does so while the boom is out.
    const FitAnswer a =
        look_at_fit({part("boarding", box(0, 0, 1, 1)), part("boom", box(0.9, 0, 2, 1))});
    REQUIRE(a.rows.size() == 1);
    CHECK(a.rows[0].clear == Clear::hits);
  }

  TEST_CASE("fit: a rod lies where its tube points") {
    // Rim 700 mm to port and 1 m forward, 30 deg from upright, toward 90 deg outboard.
    const Setup s = read(plate(rod("one", "0 mm", "30 deg", "outboard"),
                               "  mount_at: {forward: 1 m, off_middle: 700 mm, side: port}\n"));
    const FitAnswer a = look_at_fit(s);
    const FitThing& r = thing_of(a, "one, rod");
    const FitPoint tip = r.shapes.back().points.back();
    CHECK(tip.x.value() == doctest::Approx(1.0));
    CHECK(tip.y.value() == doctest::Approx(-0.7 - 1.8 * 0.5));
    CHECK(r.shapes.back().top->value() == doctest::Approx(0.1 + 1.8 * std::cos(pi / 6) + 0.005));
    const FitThing& butt = thing_of(a, "one, butt");
    CHECK(butt.shapes.front().points.front().y.value() == doctest::Approx(-0.7 + 0.5 * 0.5));
    CHECK(butt.shapes.front().bottom->value() ==
          doctest::Approx(0.1 - 0.5 * std::cos(pi / 6) - 0.025));
  }

  TEST_CASE("fit: the mirrored boat gives the mirrored answer") {
    const std::string things = R"(
  motor: {forward: -150 mm, athwart: SIGN20 mm, width: 400 mm, cowl_forward: 250 mm, cowl_aft: 300 mm,
          tilted_forward: 600 mm, tiller: 700 mm}
  things:
    - {kind: cleat, box: {forward: [900 mm, 950 mm], athwart: CLEAT}}
    - {kind: hatch, arc: {at: [600 mm, SIGN200 mm], radius: 500 mm, from: ARC}}
    - {kind: sitting, at: [900 mm, SIGN150 mm]}
    - {kind: oar, line: {from: [1200 mm, SIGN300 mm], to: [1000 mm, SIGN1100 mm], width: 60 mm}}
)";
    const auto with = [&](bool port) {
      std::string t = things;
      const auto put = [&](const std::string& word, const std::string& by) {
        for (std::size_t p = t.find(word); p != std::string::npos; p = t.find(word)) {
          t.replace(p, word.size(), by);
        }
      };
      put("SIGN", port ? "-" : "");
      put("CLEAT", port ? "[-720 mm, -660 mm]" : "[660 mm, 720 mm]");
      put("ARC", port ? "10 deg, to: 120 deg" : "-120 deg, to: -10 deg");
      return look_at_fit(read(
          plate(rod("one", "0 mm", "50 deg", "70 deg") + rod("two", "500 mm", "50 deg", "120 deg"),
                std::string("  mount_at: {forward: 1 m, off_middle: 700 mm, side: ") +
                    (port ? "port}" : "starboard}") + t)));
    };
    const FitAnswer port = with(true);
    const FitAnswer starboard = with(false);
    REQUIRE(port.rows.size() == starboard.rows.size());
    CHECK(port.rows.size() >= 8);
    for (std::size_t i = 0; i < port.rows.size(); ++i) {
      CAPTURE(port.rows[i].one);
      CAPTURE(port.rows[i].other);
      CHECK(port.rows[i].one == starboard.rows[i].one);
      CHECK(port.rows[i].other == starboard.rows[i].other);
      CHECK(port.rows[i].clear == starboard.rows[i].clear);
      CHECK(std::abs((port.rows[i].distance - starboard.rows[i].distance).value()) < 1e-7);
    }
  }

  TEST_CASE(
      "fit: a boom of the skiff sweeps where its angles say and the board lies on its ledges") {
    const Setup s = read(text_of("fjord-skiff.yaml"));
    const FitAnswer a = look_at_fit(s);
    const FitThing& board = thing_of(a, "board");
    const auto [low, high] =
        std::minmax_element(board.shapes[0].points.begin(), board.shapes[0].points.end(),
                            [](const FitPoint& p, const FitPoint& q) { return p.y < q.y; });
    CHECK(low->y.value() == doctest::Approx(-1.1));  // 1.80 / 2 + 0.20
    CHECK(high->y.value() == doctest::Approx(1.1));
    // Tip of the port boom abeam: 0.9 + 0.12 + 0.6 to port; astern 0.6 aft of the board's middle.
    const FitThing& line = thing_of(a, s.gear[0].name + ", line at the tip");
    CHECK(gap(line.shapes[0], circle(0.52, -1.62, 0.001)) <= 0);
    CHECK(gap(line.shapes[0], circle(-0.08, -1.02, 0.001)) <= 0);
    CHECK(gap(line.shapes[0], circle(1.12, -1.02, 0.001)) > 0.5);
  }

  TEST_CASE("fit: the board of the skiff stands proud of the rub rail by what the file says") {
    const FitAnswer a = look_at_fit(read(text_of("fjord-skiff.yaml")));
    const auto it = std::find_if(a.rows.begin(), a.rows.end(),
                                 [](const FitRow& r) { return r.other == "rub rail"; });
    REQUIRE(it != a.rows.end());
    CHECK(it->clear == Clear::hits);
    CHECK(it->distance.value() == doctest::Approx(1.025 - 1.1));
  }

  TEST_CASE("fit: free rail is what the mount leaves of it") {
    const auto net = [](const std::string& line) {
      const FitAnswer a = look_at_fit(
          read(plate(rod("one", "0 mm", "0 deg", "outboard"),
                     "  mount_at: {forward: 1 m, off_middle: 700 mm, side: port}\n  things:\n"
                     "    - {kind: net, name: rail, line: " +
                         line + "}\n")));
      const FitRow* r = row_of(a, "the mount", "rail");
      REQUIRE(r != nullptr);
      return *r;
    };
    // The reel's circle of 90 mm is the widest thing on it: from 1090 mm on it is free.
    const FitRow ok = net("{from: [300 mm, -700 mm], to: [2600 mm, -700 mm]}");
    CHECK(ok.distance.value() == doctest::Approx(1.51).epsilon(0.001));
    CHECK(ok.clear == Clear::clear);
    CHECK(net("{from: [300 mm, -700 mm], to: [2585 mm, -700 mm]}").clear == Clear::hits);
    CHECK(net("{from: [300 mm, 700 mm], to: [1800 mm, 700 mm]}").clear == Clear::clear);
    CHECK(word_for(net("{from: [300 mm, 700 mm], to: [1799 mm, 700 mm]}")) == "too short");
  }

  TEST_CASE("fit: reach is a most") {
    const auto reach = [](const std::string& at) {
      const FitAnswer a = look_at_fit(
          read(plate(rod("one", "0 mm", "0 deg", "outboard"),
                     "  mount_at: {forward: 1 m, off_middle: 700 mm, side: port}\n  things:\n"
                     "    - {kind: sitting, at: " +
                         at + "}\n")));
      const FitRow* r = row_of(a, "one, reel", "place to sit");
      REQUIRE(r != nullptr);
      return *r;
    };
    CHECK(reach("[1 m, -50 mm]").clear == Clear::clear);
    CHECK(reach("[1 m, -49 mm]").clear == Clear::hits);
    CHECK(word_for(reach("[1 m, 0 mm]")) == "too far");
    CHECK(reach("[400 mm, -700 mm]").distance.value() == doctest::Approx(0.6));
  }

  TEST_CASE("fit: a solid part before the stern light hides it and a rod does not") {
    const std::string light = "    - {kind: light, at: [1.5 m, -700 mm], height: HEIGHT}\n";
    const auto row = [&](const std::string& height) {
      std::string t = light;
      t.replace(t.find("HEIGHT"), 6, height);
      const FitAnswer a = look_at_fit(read(
          plate(rod("one", "0 mm", "0 deg", "outboard"),
                "  mount_at: {forward: 1 m, off_middle: 700 mm, side: port}\n  things:\n" + t)));
      Clear worst = Clear::clear;
      for (const FitRow& r : a.rows) {
        if (r.other == "stern light" && r.clear == Clear::hits) worst = Clear::hits;
        if (r.other == "stern light" && r.clear == Clear::close && worst == Clear::clear) {
          worst = Clear::close;
        }
      }
      return worst;
    };
    CHECK(row("50 mm") == Clear::hits);    // the holder
    CHECK(row("800 mm") == Clear::close);  // the rod
    CHECK(row("3 m") == Clear::clear);     // above all of it
  }

  TEST_CASE("fit: clearances of the owner take the place of the usual ones and are told") {
    const std::string place = "  mount_at: {forward: 1 m, off_middle: 700 mm, side: port}\n";
    const std::string cleat =
        "  things: [{kind: cleat, box: {forward: [600 mm, 900 mm], athwart: [-720 mm, -680 "
        "mm]}MORE}]\n";
    const auto row = [&](const std::string& more, const std::string& all) {
      std::string t = cleat;
      t.replace(t.find("MORE"), 4, more);
      const Setup s = read(plate(rod("one", "0 mm", "0 deg", "outboard"), place + t + all));
      const FitAnswer a = look_at_fit(s);
      CHECK((fit_table(s, a).find("as the owner wants it") != std::string::npos) ==
            !(more + all).empty());
      const FitRow* r = row_of(a, "base", "cleat");
      return r != nullptr ? *r : FitRow{};
    };
    CHECK(row("", "").clear == Clear::close);  // 60 mm of 75
    CHECK(row("", "").distance.value() == doctest::Approx(0.06));
    CHECK(row(", clearance: 100 mm", "").wanted.value() == doctest::Approx(0.1));
    CHECK(row("", "  clearances: {cleat: 90 mm}\n").wanted.value() == doctest::Approx(0.09));
    CHECK(row("", "  clearances: {cleat: 90 mm}\n").wanted_given);
  }

  TEST_CASE("fit: inputs of fit are none of the checks and change no verdict") {
    const std::string with = text_of("reservoir-jon-boat.yaml");
    const std::string without = with.substr(0, with.find("\n# What is round it"));
    REQUIRE(without.size() < with.size());
    const Setup a = read(with);
    const Setup b = read(without);
    REQUIRE(a.fit.has_value());
    REQUIRE_FALSE(b.fit.has_value());
    CHECK(a.inputs.size() == b.inputs.size());
    CHECK_FALSE(look_at_fit(b).described);
    CHECK(look_at_fit(b).not_looked_at == std::vector<std::string>{"fit: not described"});
    CHECK(fit_line(b, look_at_fit(b)).empty());
  }

  TEST_CASE("fit: the block of every starter reads when its marks are taken away") {
    for (const char* mount : {"gunwale_plate", "bracket", "cross_board"}) {
      CAPTURE(mount);
      const std::string text = starter_setup(mount);
      const std::size_t from = text.find("\n# fit:\n");
      REQUIRE(from != std::string::npos);
      std::string out = text.substr(0, from + 1);
      std::stringstream lines(text.substr(from + 1));
      for (std::string line; std::getline(lines, line);) {
        REQUIRE(line.starts_with("#"));
        CHECK(line.size() <= 100);
        out += (line.size() > 2 ? line.substr(2) : "") + "\n";
      }
      const Setup s = read(out);
      REQUIRE(s.fit.has_value());
      CHECK(s.fit->motor.has_value());
      CHECK(look_at_fit(s).rows.size() > 8);
      CHECK(measuring_list(mount).find("full stroke") != std::string::npos);
    }
  }
  TEST_CASE("fit: the one line of fit names the worst first") {
    const Setup s = read(text_of("reservoir-jon-boat.yaml"));
    FitAnswer a;
    CHECK(fit_line(s, a).empty());
    a = look_at_fit({part("motor", box(0, 0, 1, 1)), part("board", box(0.9492, 0, 2, 1)),
                     part("cleat", box(2.0254, 0, 3, 1))});
    CHECK(fit_line(s, a) == "the board hits the motor, 2 in deep; 1 close; see thole fit");
    CHECK(fit_line(s, a, true) == "the board hits the motor; 1 close; see thole fit");
    a = look_at_fit({part("cleat", box(2.0254, 0, 3, 1)), part("board", box(1, 0, 2, 1))});
    CHECK(fit_line(s, a) == "nothing hits; the board close to the cleat, 1 in; see thole fit");
    a = look_at_fit({part("cleat", box(2.2, 0, 3, 1)), part("board", box(1, 0, 2, 1))});
    CHECK(fit_line(s, a) == "nothing hits; 1 clear");
  }
  TEST_CASE("fit: the table keeps to 79 columns and twice reads the same") {
    for (const char* name :
         {"fjord-skiff.yaml", "reservoir-jon-boat.yaml", "lake-cartopper.yaml"}) {
      CAPTURE(name);
      const Setup s = read(text_of(name));
      REQUIRE(s.fit.has_value());
      const FitAnswer a = look_at_fit(s);
      const std::string table = fit_table(s, a);
      std::stringstream lines(table);
      for (std::string line; std::getline(lines, line);) {
        CAPTURE(line);
        CHECK(line.size() <= 79);
      }
      CHECK(table == fit_table(s, look_at_fit(s)));
      CHECK(fit_table_json(s, a) == fit_table_json(s, look_at_fit(s)));
    }
  }
}

TEST_SUITE("property") {
  TEST_CASE("fit: any board of the generator has shapes and its mirror image the same gaps") {
    test::BoardDice dice(17);
    for (int i = 0; i < 60; ++i) {
      CAPTURE(i);
      Setup board = test::random_board(dice);
      FitPlan plan;
      plan.mount_at = at(0.6, 0);
      plan.board_top = metres(i % 3 == 0 ? 0.02 : -0.1);
      if (i % 5 == 0) plan.board_top.reset();
      FitMotor motor;
      motor.pivot = at(-0.1, 0);
      motor.width = motor.cowl_aft = motor.cowl_forward = metres(0.3);
      motor.tilted_forward = metres(0.6);
      plan.motor = motor;
      for (const double to : {-1.0, 1.0}) {
        plan.things.push_back(fit_thing("cleat", to < 0 ? "port" : "starboard",
                                        {box(0.2, to * 0.8, 0.3, to * 0.95)}));
      }
      board.fit = plan;
      Setup other = test::mirrored(board);
      const FitAnswer a = look_at_fit(board);
      const FitAnswer b = look_at_fit(other);
      CHECK(std::none_of(a.not_looked_at.begin(), a.not_looked_at.end(),
                         [](const std::string& t) { return t.starts_with("shape of"); }));
      REQUIRE(a.rows.size() == b.rows.size());
      std::vector<double> one;
      std::vector<double> two;
      for (const FitRow& r : a.rows) one.push_back(r.distance.value());
      for (const FitRow& r : b.rows) two.push_back(r.distance.value());
      std::sort(one.begin(), one.end());
      std::sort(two.begin(), two.end());
      for (std::size_t k = 0; k < one.size(); ++k) CHECK(std::abs(one[k] - two[k]) < 1e-7);
    }
  }
  TEST_CASE("fit: any plate of the generator has shapes") {
    test::PlateDice dice(5);
    for (int i = 0; i < 40; ++i) {
      Setup s = i % 2 == 0 ? test::random_rod(dice) : test::random_load(dice);
      FitPlan plan;
      plan.mount_at = at(1, -0.7);
      plan.things = {fit_thing("hatch", "", {circle(0.5, 0, 0.3)})};
      s.fit = plan;
      const FitAnswer a = look_at_fit(s);
      CHECK(a.rows.size() >= 2);
      CHECK(std::none_of(a.not_looked_at.begin(), a.not_looked_at.end(),
                         [](const std::string& t) { return t.starts_with("shape of"); }));
    }
  }
  TEST_CASE("fit: random shapes are as far apart as points sampled on them") {
    Shapes shapes(11);
    constexpr double step = 0.001;
    int apart = 0;
    int over = 0;
    for (int i = 0; i < 160; ++i) {
      CAPTURE(i);
      const FitShape a = shapes.any();
      const FitShape b = shapes.any();
      const double exact = gap(a, b);
      const double sampled = sampled_gap(a, b, step);
      if (sampled < 0) {
        ++over;
        CHECK(exact <= 0.0001);
      } else {
        ++apart;
        CHECK(exact <= sampled + 1e-9);
        CHECK(exact >= sampled - step);
      }
    }
    CHECK(apart > 30);
    CHECK(over > 30);
  }

  TEST_CASE("fit: a distance is the same from either side and turned and mirrored") {
    Shapes shapes(3);
    for (int i = 0; i < 150; ++i) {
      CAPTURE(i);
      const FitShape a = shapes.any();
      const FitShape b = shapes.any();
      const double d = gap(a, b);
      CHECK(gap(b, a) == doctest::Approx(d).epsilon(1e-9));
      CHECK(std::abs(gap(mirrored(a), mirrored(b)) - d) < 1e-9);
      const double turned = shapes.within(0, 6);
      CHECK(std::abs(gap(moved(a, turned, 2, -1), moved(b, turned, 2, -1)) - d) < 1e-7);
    }
  }

  TEST_CASE("fit: a box that swings covers what it covers on the way and no more") {
    Shapes shapes(7);
    for (int i = 0; i < 40; ++i) {
      CAPTURE(i);
      // Every fourth about a point outside the box, where only too much is allowed.
      const bool outside = i % 4 == 3;
      FitSwing s;
      s.about = at(shapes.within(-0.2, 0.2), shapes.within(-0.2, 0.2));
      s.back = metres(outside ? shapes.within(0.05, 0.2) : -shapes.within(0, 0.4));
      s.front = metres(outside ? shapes.within(0.25, 0.6) : shapes.within(0.05, 0.5));
      s.half_width = metres(shapes.within(0.05, 0.3));
      const double lock = i % 5 == 0 ? 0 : shapes.within(1, 50);
      const double ahead = shapes.within(0, 360);
      s.from = degrees(ahead - lock);
      s.to = degrees(ahead + lock);
      const std::vector<FitShape> all = swept(s, std::nullopt, std::nullopt);
      for (int k = 0; k < 400; ++k) {
        const double x = shapes.within(-0.9, 0.9);
        const double y = shapes.within(-0.9, 0.9);
        bool truly = false;
        bool nearly = false;
        for (double a = ahead - lock; a <= ahead + lock + 1e-9; a += std::max(lock / 200, 1e-3)) {
          const double ux = -std::cos(a * pi / 180);
          const double uy = -std::sin(a * pi / 180);
          const double dx = x - s.about.x.value();
          const double dy = y - s.about.y.value();
          const double u = dx * ux + dy * uy;
          const double v = std::abs(dx * uy - dy * ux);
          truly =
              truly || (u >= s.back.value() && u <= s.front.value() && v <= s.half_width.value());
          nearly = nearly || (u >= s.back.value() - 0.004 && u <= s.front.value() + 0.004 &&
                              v <= s.half_width.value() + 0.004);
        }
        double least = 1;
        for (const FitShape& shape : all) least = std::min(least, gap(shape, circle(x, y, 1e-6)));
        if (truly) CHECK(least <= 1e-5);
        if (!nearly && !outside) CHECK(least > 0);
      }
    }
  }
}
