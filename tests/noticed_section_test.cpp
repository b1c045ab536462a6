// Sections against sums over small pieces, written apart from what they check, and a printed table.
// Found missing by tests/mutate.

#include <thole/section.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include <thole/error.hpp>

#include "support/published.hpp"

using namespace thole;
using namespace thole::literals;
using thole::test::Against;
using thole::test::PublishedNumber;

namespace {

double mm(Length v) { return v.value() * 1e3; }
double mm2(Area v) { return v.value() * 1e6; }
double mm3(Volume v) { return v.value() * 1e9; }
double mm4(SecondMoment v) { return v.value() * 1e12; }
double mm6(WarpingConstant v) { return v.value() * 1e18; }
double cm2(Area v) { return v.value() * 1e4; }
double cm3(Volume v) { return v.value() * 1e6; }
double cm4(SecondMoment v) { return v.value() * 1e8; }

struct Block {
  double y1, y2, z1, z2;
};

// Area, centroid and second moments of rectangles, by strips of a thousandth of their sides.
struct Sums {
  double area = 0, y = 0, z = 0, flat = 0, edge = 0, product = 0;
};
Sums sums_of(const std::vector<Block>& blocks) {
  constexpr int n = 1000;
  Sums out;
  const auto each = [&](auto take) {
    for (const Block& b : blocks) {
      const double area = (b.y2 - b.y1) * (b.z2 - b.z1);
      const double y = (b.y1 + b.y2) / 2;
      const double z = (b.z1 + b.z2) / 2;
      for (int i = 0; i < n; ++i) {
        const double f = (i + 0.5) / n - 0.5;
        take(area / n, y + f * (b.y2 - b.y1), y, z + f * (b.z2 - b.z1), z);
      }
    }
  };
  each([&](double a, double y, double, double z, double) {
    out.area += a;
    out.y += a * y;
    out.z += a * z;
  });
  out.y /= out.area;
  out.z /= out.area;
  each([&](double a, double y, double y_middle, double z, double z_middle) {
    out.edge += a * (y - out.y) * (y - out.y);
    out.flat += a * (z - out.z) * (z - out.z);
    out.product += a * (y_middle - out.y) * (z_middle - out.z);
  });
  return out;
}

struct Node {
  double u, v;  // along the load, across it
};
// Shear area over area of a thin wall along a path that starts and ends without shear flow, by the
// energy of the flow: I^2 / (A integral S^2 ds), unit thickness.
double shear_share(const std::vector<Node>& path) {
  constexpr int n = 2000;
  const auto walk = [&](auto take) {
    for (std::size_t k = 0; k + 1 < path.size(); ++k) {
      const double du = path[k + 1].u - path[k].u;
      const double piece = std::hypot(du, path[k + 1].v - path[k].v) / n;
      for (int i = 0; i < n; ++i) take(piece, path[k].u + du * (i + 0.5) / n);
    }
  };
  double length = 0, middle = 0, second = 0, flow = 0, energy = 0;
  walk([&](double ds, double u) {
    length += ds;
    middle += u * ds;
  });
  middle /= length;
  walk([&](double ds, double u) {
    second += (u - middle) * (u - middle) * ds;
    const double half = flow + (u - middle) * ds / 2;
    energy += half * half * ds;
    flow += (u - middle) * ds;
  });
  REQUIRE(std::abs(flow) < 1e-6 * second);
  return second * second / (length * energy);
}

std::vector<Block> channel_blocks(double tall, double wide, double t) {
  return {{-wide / 2, -wide / 2 + t, -tall / 2, tall / 2},
          {-wide / 2 + t, wide / 2, -tall / 2, -tall / 2 + t},
          {-wide / 2 + t, wide / 2, tall / 2 - t, tall / 2}};
}

// The point nearest to a place.
const SectionPoint& at(const Section& s, double y, double z) {
  const SectionPoint* best = nullptr;
  for (const SectionPoint& p : s.points) {
    const double far = std::hypot(mm(p.y) - y, mm(p.z) - z);
    if (best == nullptr || far < std::hypot(mm(best->y) - y, mm(best->z) - z)) best = &p;
  }
  REQUIRE(best != nullptr);
  CHECK(std::hypot(mm(best->y) - y, mm(best->z) - z) < 1e-9);
  return *best;
}

}  // namespace

TEST_SUITE("published") {
  TEST_CASE("noticed: a round tube has the figures of a table of hollow sections") {
    const Against against("EN 10210-2, circular hollow section 48.3 x 3.2", Seen::memory);
    const Section s = round_tube(48.3_mm, 3.2_mm);
    CHECK(cm2(s.area) == PublishedNumber("4.53"));
    CHECK(cm4(s.bending_flat) == PublishedNumber("11.6"));
    CHECK(cm4(s.bending_edge) == PublishedNumber("11.6"));
    CHECK(cm4(s.torsion) == PublishedNumber("23.2"));
    CHECK(cm3(s.torsion_modulus) == PublishedNumber("9.59"));
    CHECK(mm(s.width) == doctest::Approx(48.3));
    CHECK(mm(s.depth) == doctest::Approx(48.3));
    CHECK(mm(s.thickness) == doctest::Approx(3.2));
  }

  TEST_CASE("noticed: the shear area of a round tube lies between those of a thin one and a bar") {
    // Cowper 1966 with nu = 0, from memory: 6/7 of a bar, 1/2 of a thin tube; for d/D = 1/2
    // 6 (1 + m)^2 / (7 (1 + m)^2 + 20 m) with m = 1/4 is 150/255.
    CHECK(round_tube(100.0_mm, 49.999_mm).shear_area_y == doctest::Approx(6.0 / 7).epsilon(1e-4));
    CHECK(round_tube(100.0_mm, 0.01_mm).shear_area_y == doctest::Approx(0.5).epsilon(1e-4));
    CHECK(round_tube(100.0_mm, 25.0_mm).shear_area_z == doctest::Approx(150.0 / 255));
  }

  TEST_CASE("noticed: points of a round tube lie on it every 45 degrees") {
    const Section s = round_tube(50.0_mm, 2.0_mm);
    REQUIRE(s.points.size() == 8);
    for (int i = 0; i < 8; ++i) {
      const double turn = 0.78539816339744831 * i;
      const SectionPoint& p = at(s, 25 * std::cos(turn), 25 * std::sin(turn));
      CHECK(p.sectorial.value() == 0);
      CHECK(p.sectorial_peak.value() == 0);
    }
  }

  TEST_CASE("noticed: a rectangular tube is its outside less its inside") {
    const Section s = rectangular_tube(60.0_mm, 40.0_mm, 3.0_mm);
    const Sums sums =
        sums_of({{-30, 30, -20, -17}, {-30, 30, 17, 20}, {-30, -27, -17, 17}, {27, 30, -17, 17}});
    CHECK(mm2(s.area) == doctest::Approx(sums.area));
    CHECK(mm4(s.bending_flat) == doctest::Approx(sums.flat).epsilon(1e-5));
    CHECK(mm4(s.bending_edge) == doctest::Approx(sums.edge).epsilon(1e-5));
    CHECK(mm(s.width) == doctest::Approx(60));
    CHECK(mm(s.depth) == doctest::Approx(40));
    CHECK(mm(s.thickness) == doctest::Approx(3));
    REQUIRE(s.points.size() == 4);
    for (const double y : {-30.0, 30.0}) {
      for (const double z : {-20.0, 20.0}) CHECK(at(s, y, z).sectorial.value() == 0);
    }
  }

  TEST_CASE("noticed: shear areas of rectangular tubes are those of the shear flow") {
    for (const double depth : {23.0, 43.0, 83.0}) {
      CAPTURE(depth);
      const Section s = rectangular_tube(63.0_mm, depth * 1.0_mm, 3.0_mm);
      const double b = 60;
      const double h = depth - 3;
      // One half of the tube, cut where there is no flow.
      CHECK(s.shear_area_z ==
            doctest::Approx(shear_share({{-h / 2, 0}, {-h / 2, b / 2}, {h / 2, b / 2}, {h / 2, 0}}))
                .epsilon(1e-5));
      CHECK(s.shear_area_y ==
            doctest::Approx(shear_share({{-b / 2, 0}, {-b / 2, h / 2}, {b / 2, h / 2}, {b / 2, 0}}))
                .epsilon(1e-5));
    }
  }

  TEST_CASE("noticed: a channel has the area and second moments of its three plates") {
    const double tall = 80, wide = 40, t = 4;
    const Sums sums = sums_of(channel_blocks(tall, wide, t));
    const Section s = channel(80.0_mm, 40.0_mm, 4.0_mm, Flanges::forward);
    CHECK(mm2(s.area) == doctest::Approx(sums.area));
    CHECK(mm(s.centroid_y) == doctest::Approx(sums.y));
    CHECK(mm(s.centroid_z) == doctest::Approx(0));
    CHECK(mm4(s.bending_flat) == doctest::Approx(sums.flat).epsilon(1e-5));
    CHECK(mm4(s.bending_edge) == doctest::Approx(sums.edge).epsilon(1e-5));
    // Thin walls, tau_max = T t / J.
    CHECK(mm3(s.torsion_modulus) == doctest::Approx(mm4(s.torsion) / t));
    CHECK(mm(s.width) == doctest::Approx(40));
    CHECK(mm(s.depth) == doctest::Approx(80));
    CHECK(mm(s.thickness) == doctest::Approx(4));
  }

  TEST_CASE("noticed: shear areas of channels are those of the shear flow") {
    for (const double flange : {24.0, 42.0, 80.0}) {
      CAPTURE(flange);
      const Section s = channel(84.0_mm, flange * 1.0_mm, 4.0_mm, Flanges::forward);
      const double h = 80;
      const double b = flange - 2;
      const std::vector<Node> along_web{{-h / 2, b}, {-h / 2, 0}, {h / 2, 0}, {h / 2, b}};
      const std::vector<Node> along_flanges{{b, -h / 2}, {0, -h / 2}, {0, h / 2}, {b, h / 2}};
      CHECK(s.shear_area_z == doctest::Approx(shear_share(along_web)).epsilon(1e-5));
      CHECK(s.shear_area_y == doctest::Approx(shear_share(along_flanges)).epsilon(1e-5));
      const Section up = channel(84.0_mm, flange * 1.0_mm, 4.0_mm, Flanges::up);
      CHECK(up.shear_area_y == s.shear_area_z);
      CHECK(up.shear_area_z == s.shear_area_y);
    }
  }

  TEST_CASE("noticed: corners of a channel turn with its flanges and warp as the web is walked") {
    const double tall = 80, wide = 40, t = 4;
    const double h = tall - t, b = wide - t / 2;
    // From the shear centre, 3 b^2 / (6 b + h) behind the web: omega grows by the distance of the
    // wall from it times the way.
    const double e = 3 * b * b / (6 * b + h);
    const double at_corner = e * h / 2;           // half the web
    const double at_tip = at_corner - b * h / 2;  // and back along the flange
    const double across_tip = t / 2 * (b + e);    // across the thickness, foot e behind the web
    const double across_corner = t / 2 * h / 2;   // of the web, which is farther off than e
    REQUIRE(h / 2 > e);
    const struct {
      Flanges flanges;
      double cosine, sine;
    } turns[] = {{Flanges::forward, 1, 0},
                 {Flanges::up, 0, 1},
                 {Flanges::aft, -1, 0},
                 {Flanges::down, 0, -1}};
    for (const auto& turn : turns) {
      const Section s = channel(80.0_mm, 40.0_mm, 4.0_mm, turn.flanges);
      REQUIRE(s.points.size() == 4);
      for (const double up : {-1.0, 1.0}) {
        for (const bool tip : {false, true}) {
          const double y = (tip ? 1 : -1) * wide / 2;
          const double z = up * tall / 2;
          const SectionPoint& p =
              at(s, turn.cosine * y - turn.sine * z, turn.sine * y + turn.cosine * z);
          const double omega = up * (tip ? at_tip : at_corner);
          const double more = tip ? across_tip : across_corner;
          CHECK(mm2(p.sectorial) == doctest::Approx(omega));
          CHECK(mm2(p.sectorial_peak) == doctest::Approx(omega + std::copysign(more, omega)));
        }
      }
      const Sums sums = sums_of(channel_blocks(tall, wide, t));
      CHECK(mm(s.centroid_y) == doctest::Approx(turn.cosine * sums.y));
      CHECK(mm(s.centroid_z) == doctest::Approx(turn.sine * sums.y));
      const double behind = -wide / 2 + t / 2 - e;
      CHECK(mm(s.shear_centre_y) == doctest::Approx(turn.cosine * behind));
      CHECK(mm(s.shear_centre_z) == doctest::Approx(turn.sine * behind));
      const bool lying = turn.sine != 0;
      CHECK(mm(s.width) == doctest::Approx(lying ? tall : wide));
      CHECK(mm(s.depth) == doctest::Approx(lying ? wide : tall));
    }
    // A wide flange: there the corner is farther off along the flange.
    const Section low = channel(34.0_mm, 102.0_mm, 4.0_mm, Flanges::forward);
    const double far = 3 * 100.0 * 100 / (6 * 100.0 + 30);
    REQUIRE(far > 15);
    const SectionPoint& corner = at(low, -51, 17);
    CHECK(mm2(corner.sectorial_peak) == doctest::Approx(far * 15 + 2 * far));
  }

  TEST_CASE("noticed: channels and tubes without room inside are refused") {
    CHECK_THROWS_AS((void)channel(8.0_mm, 40.0_mm, 4.0_mm, Flanges::up), DomainError);
    CHECK_THROWS_AS((void)channel(7.9_mm, 40.0_mm, 4.0_mm, Flanges::up), DomainError);
    CHECK_NOTHROW((void)channel(8.1_mm, 40.0_mm, 4.0_mm, Flanges::up));
    CHECK_THROWS_AS((void)channel(40.0_mm, 4.0_mm, 4.0_mm, Flanges::up), DomainError);
    CHECK_THROWS_AS((void)rectangular_tube(20.0_mm, 40.0_mm, 10.0_mm), DomainError);
    CHECK_NOTHROW((void)rectangular_tube(20.1_mm, 40.0_mm, 10.0_mm));
    CHECK_NOTHROW((void)round_tube(20.1_mm, 10.0_mm));
  }

  TEST_CASE("noticed: two boards on one another bend as one of both") {
    for (const double offset : {0.0, 15.0, -15.0}) {
      CAPTURE(offset);
      const double strip = 100 - 2 * std::abs(offset);
      const Section s =
          plank_with_strip(100.0_mm, 20.0_mm, strip * 1.0_mm, 30.0_mm, offset * 1.0_mm);
      const Sums sums =
          sums_of({{-50, 50, -10, 10}, {offset - strip / 2, offset + strip / 2, -40, -10}});
      CHECK(mm2(s.area) == doctest::Approx(sums.area));
      CHECK(mm(s.centroid_y) == doctest::Approx(sums.y));
      CHECK(mm(s.centroid_z) == doctest::Approx(sums.z));
      CHECK(mm4(s.bending_flat) == doctest::Approx(sums.flat).epsilon(1e-5));
      CHECK(mm4(s.bending_edge) == doctest::Approx(sums.edge).epsilon(1e-5));
      CHECK(mm4(s.bending_product) == doctest::Approx(sums.product).epsilon(1e-5));
      CHECK(mm(s.depth) == doctest::Approx(50));
      CHECK(mm(s.width) == doctest::Approx(100));
    }
  }

  TEST_CASE("noticed: a strip of next to nothing leaves a board as it was") {
    const Section plain = rectangle(100.0_mm, 20.0_mm);
    const Section s = plank_with_strip(100.0_mm, 20.0_mm, 0.01_mm, 0.01_mm, 0.0_mm);
    CHECK(mm6(s.warping) == doctest::Approx(mm6(plain.warping)).epsilon(1e-4));
    CHECK(mm4(s.torsion) == doctest::Approx(mm4(plain.torsion)).epsilon(1e-4));
    CHECK(mm3(s.torsion_modulus) == doctest::Approx(mm3(plain.torsion_modulus)).epsilon(1e-4));
    CHECK(s.narrow_side == doctest::Approx(plain.narrow_side));
    CHECK(std::abs(mm(s.shear_centre_y)) < 1e-3);
    CHECK(std::abs(mm(s.shear_centre_z)) < 1e-2);
    for (const SectionPoint& p : plain.points) {
      const SectionPoint& same = at(s, mm(p.y), mm(p.z));
      CHECK(mm2(same.sectorial) == doctest::Approx(mm2(p.sectorial)).epsilon(1e-3));
      // 5 % for what joined rectangles show above this.
      const double more = 0.05 * std::abs(mm2(p.sectorial));
      CHECK(std::abs(mm2(same.sectorial_peak)) ==
            doctest::Approx(std::abs(mm2(p.sectorial_peak)) + more).epsilon(1e-3));
    }
  }
}
