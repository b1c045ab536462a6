// What no other test noticed when tests/mutate changed it: checks of plates, of the boat, and texts
// of numbers.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include <thole/error.hpp>
#include <thole/metal_strength.hpp>
#include <thole/plate_bending.hpp>
#include <thole/reading.hpp>
#include <thole/rod.hpp>
#include <thole/stability.hpp>
#include <thole/thole.hpp>
#include <thole/thread.hpp>
#include <thole/unit_text.hpp>
#include <thole/wood_strength.hpp>

#include "core/plate_engine.hpp"
#include "core/pulled_mount.hpp"
#include "support/hosts.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;

namespace {

// Bolts through timber so wide and long that no edge is near.
Setup wide_timber(std::vector<PlanPoint> holes) {
  Setup s = read(timber_text);
  GunwalePlate& m = s.plate();
  m.host.to_edge = 20.0_in;
  m.host.to_end = 100.0_in;
  m.fastening.holes = std::move(holes);
  return s;
}

Use distances(const Setup& s) {
  Actions a;
  a.count = int(s.plate().fastening.holes.size());
  return mode_of("wood-distance").use(s, a, Category::occasional);
}

const char* const bolted_bracket = R"(thole: 1
units: metric
mount:
  kind: bracket
  host: {form: sheet, alloy: 5052-H32 sheet, thickness: {is: 1.6 mm, known: measured},
         to_support: 300 mm}
  base:
    fore_aft: 150 mm
    athwart: 350 mm
    material: {name: 6060-T5 flat bar, ultimate: 160 MPa, yield: 120 MPa, source: a certificate}
    thickness: 3 mm
  bears_on: [{fore_aft: [-75 mm, 75 mm], athwart: [-175 mm, 65 mm]}]
  gear_foot: {outboard: 125 mm, width: 80 mm}
  fastening:
    hold: through_bolt
    head: 24 mm
    thread: M8
    material: A2-50
    holes: {points: [[-30 mm, -55 mm], [30 mm, -55 mm]]}
)";

const char* const bracket_gear = R"(gear:
  - kind: plain_load
    at: {forward: 0 mm, outboard: 440 mm, up: 0 mm}
    pull: 200 N
    azimuth: 0 deg
    dip: 90 deg
)";

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("noticed: a row on edges that rest is a beam on two supports at its plastic load") {
    // Textbook of plastic design: P = Mp L (1/a + 1/c), twice that where both ends are held.
    const MomentPerWidth mp = plate_moment(2.0_mm, built_in_materials().metal("5052-H32 sheet"));
    const auto beam = [&](bool held) {
      const auto of = [&](Length row) {
        return row_pull(mp, {5.0_mm, Length{}, row, 10.0_mm, 40.0_mm}, held);
      };
      return Force(of(60.0_mm) - of(Length{})).value() / mp.value();
    };
    CHECK(beam(false) == doctest::Approx(60.0 / 10 + 60.0 / 40));
    CHECK(beam(true) == doctest::Approx(2 * (60.0 / 10 + 60.0 / 40)));
  }

  TEST_CASE("noticed: half a wave over a gunwale that is low enough counts as strong heel") {
    BoatData b;
    b.length = 4.5_m;
    b.beam = 2.2_m;
    b.freeboard = 0.7_m;
    b.loaded_mass = 700.0_kg;
    HeelModel m = heel_model(b, 1000.0 * si::kilogrammes_per_cubic_metre);
    const Moment moment = Moment::from_value(50);
    const Force down = 100.0 * si::newton;
    const Heel heel = heel_of(m, moment, down);
    REQUIRE(heel.with_person);
    REQUIRE(*heel.with_person < 14.0_deg);
    const Length left = freeboard_left(m, *heel.with_person, down);
    REQUIRE(left > 0.12_m);
    // 0.10 m above the crest, which stands half the height of the wave above still water.
    m.wave_height = 2.0 * (left - 0.10_m) * 0.99;
    const HeelLevel before = heel_of(m, moment, down).level;
    CHECK(before != HeelLevel::strong);
    CHECK(before != HeelLevel::swamping);
    m.wave_height = 2.0 * (left - 0.10_m) * 1.01;
    CHECK(heel_of(m, moment, down).level == HeelLevel::strong);
  }

  TEST_CASE("noticed: bolts beside one another keep their distance across the grain") {
    // Nearly in one line across the grain, 1.45 D off it: that 2.8 D stay counts, not the way over
    // the diagonal (the rule of 1.5 D is that of this project).
    const Length d = 0.25_in;
    const Use across = distances(wide_timber({{Length{}, Length{}}, {1.45 * d, 2.8 * d}}));
    CHECK(across.factor() == doctest::Approx(2.8 / 3));
    const Use apart = distances(wide_timber({{Length{}, Length{}}, {1.55 * d, 2.8 * d}}));
    CHECK(apart.factor() > 1);
    // Along the grain: no nearer than rows under a load across it.
    const Use along = distances(wide_timber({{Length{}, Length{}}, {2.8 * d, 1.45 * d}}));
    CHECK(along.factor() < 2.8 / 3 * (1 + 1e-9));
  }

  TEST_CASE("noticed: bolts loaded across the grain share over the width of their group") {
    // NDS 11.3.6: a member as wide as the group along the grain, here 3 in.
    const Setup one = wide_timber({{Length{}, Length{}}});
    const Setup six = wide_timber({{-1.5_in, -1.0_in},
                                   {-1.5_in, Length{}},
                                   {-1.5_in, 1.0_in},
                                   {1.5_in, -1.0_in},
                                   {1.5_in, Length{}},
                                   {1.5_in, 1.0_in}});
    const GunwalePlate& m = six.plate();
    const Force base = m.base.metal->modulus * Area(m.base.thickness * 2.5_in);
    const auto wood = [&](Length width) {
      return Force(m.host.wood.strength->modulus * Area(m.host.thickness * width));
    };
    const double across = group_action(3, 0.25_in, 1.0_in, wood(3.0_in), base, true);
    const double along = group_action(2, 0.25_in, 3.0_in, wood(m.host.wood.width), base, true);
    REQUIRE(across < along);
    const auto each = [](const Setup& s) {
      return strength(s, "wood-lateral", pushed(true), 1.0_lbf);
    };
    CHECK(each(six) == doctest::Approx(across * each(one)));
  }

  TEST_CASE("noticed: bending that turns round while the boat runs is a third harder") {
    // 1.3 (judgement): a range begins at free fall. The foot of the body governs, not its holes.
    const Setup s = read(with(jon_boat, "body: 7/8 in", "body: 1/4 in"));
    plate::Engine engine(s);
    int seen = 0;
    const std::string motion =
        engine.act(engine.beside(0), LoadPath::line, 5.0_lbf, line_direction(90.0_deg, 20.0_deg),
                   [&](const plate::Acting& acting) {
                     Actions a = acting.front();
                     for (FatigueLife::Way& w : a.life.ways) w.allowed.fill(10.0_ksi);
                     const auto demand = [&](FatigueWay way) {
                       a.way = way;
                       return mode_of("base-fatigue").use(s, a, Category::everyday).demand.si;
                     };
                     const double straight = demand(FatigueWay::straight);
                     CHECK(straight > 0);
                     CHECK(demand(FatigueWay::turning) == doctest::Approx(straight));
                     CHECK(demand(FatigueWay::riding) == doctest::Approx(1.3 * straight));
                     ++seen;
                   });
    CHECK(motion.empty());
    CHECK(seen > 0);
  }

  TEST_CASE("noticed: fasteners in a line on a narrow flat pull at its wall with all they carry") {
    // Three an inch apart on a flat of 2 in: bends half as far away as the line is long.
    Setup s = read(jon_boat);
    s.plate().fastening.holes = {{-1.0_in, Length{}}, {Length{}, Length{}}, {1.0_in, Length{}}};
    Actions a;
    a.count = 3;
    for (std::size_t i = 0; i < 3; ++i) a.tension[i] = 20.0_lbf;
    const Use u = mode_of("wall-yield").use(s, a, Category::occasional);
    CHECK(u.demand.si == doctest::Approx(Force(60.0_lbf).value()));
    // Each alone holds less than all three on the longer line.
    Actions one;
    one.count = 3;
    one.tension[2] = 20.0_lbf;
    const Use alone = mode_of("wall-yield").use(s, one, Category::occasional);
    CHECK(alone.demand.si == doctest::Approx(Force(20.0_lbf).value()));
    CHECK(alone.strength.si < u.strength.si);
    CHECK(alone.factor() > u.factor());
  }

  TEST_CASE("noticed: a thin plate behind a sheet is a washer wider by three thicknesses a side") {
    // The three thicknesses are judgement.
    Setup plate = read(with(with(load_text, "hold: tapped", "hold: through_bolt"),
                            "holes: {fore_aft: 2 in, athwart: 2 in}",
                            "holes: {points: [[0 in, 0 in], [1.25 in, 0 in]]}\n    "
                            "behind: {material: 6061-T6 extrusion, thickness: 1/8 in, "
                            "fore_aft: 6 in, athwart: 6 in}"));
    Fastening& f = plate.plate().fastening;
    f.washer = Washer{"5/8 in", 0.625_in, 0.28_in, 0.06_in};
    Setup washer = plate;
    washer.plate().fastening.backing.reset();
    washer.plate().fastening.washer->outside = 0.625_in + 6.0 * 0.125_in;
    Actions a;
    a.count = 2;
    a.tension[0] = 10.0_lbf;
    const auto holds = [&](const Setup& s) {
      return mode_of("wall-yield").use(s, a, Category::occasional).strength.si;
    };
    CHECK(holds(plate) == doctest::Approx(holds(washer)));
  }

  TEST_CASE("noticed: only a near spelling is offered") {
    // One letter off in short words, two in words of five, then a third of them and one more.
    CHECK(nearest_spelling("ab", {"ac"}) == "ac");
    CHECK(nearest_spelling("ab", {"cd"}).empty());
    CHECK(nearest_spelling("thred", {"thread"}) == "thread");
    CHECK(nearest_spelling("fastenning", {"fastening"}) == "fastening");
    CHECK(nearest_spelling("fastening", {"outboards"}).empty());
  }

  TEST_CASE("noticed: values that mean nothing are refused where formulas take them") {
    const Metal metal = built_in_materials().metal("5052-H32 sheet");
    const MomentPerWidth mp = plate_moment(2.0_mm, metal);
    CHECK_THROWS_AS((void)fan_pull(mp, 10.0_mm, 10.0_mm, true), DomainError);
    CHECK_NOTHROW((void)fan_pull(mp, 9.9_mm, 10.0_mm, true));
    CHECK_THROWS_AS((void)pressed_sheet({2.0_mm, metal.modulus, 0.5}, 1.0_m, 1.0_m, 1e-3_MPa),
                    DomainError);
    CHECK_THROWS_AS((void)pressed_sheet({2.0_mm, metal.modulus, -0.01}, 1.0_m, 1.0_m, 1e-3_MPa),
                    DomainError);
    CHECK_NOTHROW((void)pressed_sheet({2.0_mm, metal.modulus, 0.0}, 1.0_m, 1.0_m, 1e-3_MPa));
    CHECK_THROWS_AS((void)unified_2a_2b_limits(1.01_in, 0.1_in), DomainError);
    CHECK_THROWS_AS((void)unified_2a_2b_limits(0.059_in, 0.01_in), DomainError);
    CHECK_NOTHROW((void)unified_2a_2b_limits(0.0600_in, 1.0_in / 80.0));  // the least, #0-80
    CHECK_THROWS_AS((void)unified_2a_2b_limits(0.25_in, 0.25_in), DomainError);
    CHECK_NOTHROW((void)unified_2a_2b_limits(1.0_in, 0.125_in));
    CHECK_THROWS_AS((void)butt_stiffness_from_test(Force{}, 2.0_m, 0.1_m), DomainError);
    CHECK_THROWS_AS((void)butt_stiffness_from_test(1.0_lbf, Length{}, 0.1_m), DomainError);
    CHECK_THROWS_AS((void)butt_stiffness_from_test(1.0_lbf, 2.0_m, Length{}), DomainError);
  }

  TEST_CASE("noticed: lag and wood screws have the sizes of NDS Tables L2 and L3") {
    // Diameters, roots and tips: page seen; bending yield: Table I1, page seen; heads from memory.
    struct Row {
      double diameter, root, tip, yield, head;
    };
    const auto same = [](const WoodFastener& f, const Row& row) {
      CAPTURE(f.name);
      CHECK(f.diameter / 1.0_in == doctest::Approx(row.diameter));
      CHECK(f.root / 1.0_in == doctest::Approx(row.root));
      CHECK(f.tip / 1.0_in == doctest::Approx(row.tip));
      CHECK(f.bending_yield / 1.0_ksi == doctest::Approx(row.yield));
      CHECK(f.head / 1.0_in == doctest::Approx(row.head));
    };
    same(lag_screw("1/4"), {0.250, 0.173, 5.0 / 32, 70, 0});
    same(lag_screw("5/16"), {0.3125, 0.227, 3.0 / 16, 60, 0});
    same(lag_screw("3/8"), {0.375, 0.265, 7.0 / 32, 45, 0});
    same(lag_screw("7/16"), {0.4375, 0.328, 9.0 / 32, 45, 0});
    same(lag_screw("1/2"), {0.500, 0.371, 5.0 / 16, 45, 0});
    same(lag_screw("5/8"), {0.625, 0.471, 13.0 / 32, 45, 0});
    same(lag_screw("3/4"), {0.750, 0.579, 1.0 / 2, 45, 0});
    // The tip of a wood screw is two diameters.
    same(wood_screw(6), {0.138, 0.113, 0.276, 100, 0.262});
    same(wood_screw(7), {0.151, 0.122, 0.302, 90, 0.287});
    same(wood_screw(8), {0.164, 0.131, 0.328, 90, 0.312});
    same(wood_screw(9), {0.177, 0.142, 0.354, 90, 0.337});
    same(wood_screw(10), {0.190, 0.152, 0.380, 80, 0.363});
    same(wood_screw(12), {0.216, 0.171, 0.432, 80, 0.414});
    same(wood_screw(14), {0.242, 0.196, 0.484, 70, 0.480});
    same(wood_screw(16), {0.268, 0.209, 0.536, 70, 0.515});
    same(wood_screw(18), {0.294, 0.232, 0.588, 60, 0.602});
    same(wood_screw(20), {0.320, 0.255, 0.640, 60, 0.616});
  }

  TEST_CASE("noticed: bounds of the rules for wood are taken at their edge") {
    // At the very end nothing holds, which is an answer; beyond it is none.
    CHECK(end_distance_factor(Length{}, 0.25_in, EndLoad::toward_end, false) == 0);
    CHECK_THROWS_AS((void)end_distance_factor(-0.1_in, 0.25_in, EndLoad::toward_end, false),
                    DomainError);
    // NDS 3.7.1: c is 0.8 to 0.9; slenderness up to 50.
    const auto column = [](double c, double slender) {
      return column_stability(1.0_ksi, 400.0_ksi, slender * 1.0_in, 1.0_in, c);
    };
    CHECK_NOTHROW((void)column(1, 50));
    CHECK_THROWS_AS((void)column(1.01, 20), DomainError);
    CHECK_THROWS_AS((void)column(0, 20), DomainError);
    CHECK_THROWS_AS((void)column(0.8, 50.1), DomainError);
  }

  TEST_CASE("noticed: the edge of a base that lifts is the one away from the pull") {
    const std::string text = load_text;
    const Setup s = read(with(text, "{forward: 1 in, outboard: 2 in, up: 6 in}",
                              "{forward: 0 in, outboard: 0 in, up: 6 in}"));
    const auto mount = pulled_mount(s);
    // Azimuth from astern, outboard is 90 deg.
    const auto pulled = [&](Angle azimuth) {
      HandPull p;
      p.way = line_direction(azimuth, Angle{});
      p.pull = 40.0_lbf;
      const auto place = mount->place_to_watch(p);
      REQUIRE(place);
      const auto moves = mount->movement(p, *place);
      REQUIRE(moves);
      CHECK(moves->most.value() > 0);
      CHECK(moves->most >= moves->least);
      return mount->words(*place).substr(0, mount->words(*place).find(' '));
    };
    CHECK(pulled(0.0_deg) == "forward");
    CHECK(pulled(180.0_deg) == "aft");
    CHECK(pulled(90.0_deg) == "inboard");
    CHECK(pulled(-90.0_deg) == "outboard");
  }

  TEST_CASE("noticed: an angle shorter than its leg is refused wherever it lies") {
    const auto angle = [](const char* runs, const char* ends) {
      return std::string(bolted_bracket) + "  angles: [{alloy: 6061-T6 extrusion, leg: 20 mm, " +
             "thickness: 3 mm, runs: " + runs + ", ends: " + ends + "}]\n" + bracket_gear;
    };
    for (const char* runs : {"athwart", "fore_aft"}) {
      CAPTURE(runs);
      CHECK_NOTHROW((void)read(angle(runs, "[50 mm, 71 mm]")));
      CHECK_THROWS_AS((void)read(angle(runs, "[50 mm, 69 mm]")), InputError);
      CHECK_THROWS_AS((void)read(angle(runs, "[-69 mm, -50 mm]")), InputError);
    }
  }

  TEST_CASE("noticed: a fraction of one whole is refused like any above") {
    CHECK_THROWS_AS((void)parse<Length>("1 2/2 in"), UnitError);
    CHECK_THROWS_AS((void)parse<Length>("1 3/2 in"), UnitError);
    CHECK(parse<Length>("1 1/2 in") == 1.5_in);
  }

  TEST_CASE("noticed: parts of a foot add up with inches") {
    CHECK(parse<Length>("5.5 ft 6 in").value() == doctest::Approx(72 * 0.0254));
    CHECK(parse<Length>("1/2 ft 3 in").value() == doctest::Approx(9 * 0.0254));
    CHECK(parse<Length>("-2.5 ft 3 in").value() == doctest::Approx(-33 * 0.0254));
  }

  TEST_CASE("noticed: effective lengths of beams are those of NDS Table 3.3.3") {
    // From memory. Below and above seven depths.
    const auto of = [](double span, BeamLoad load) {
      return beam_effective_length(span * 1.0_in, 1.0_in, load) / 1.0_in;
    };
    CHECK(of(6, BeamLoad::uniform) == doctest::Approx(2.06 * 6));
    CHECK(of(10, BeamLoad::uniform) == doctest::Approx(1.63 * 10 + 3));
    CHECK(of(6, BeamLoad::centre) == doctest::Approx(1.80 * 6));
    CHECK(of(10, BeamLoad::centre) == doctest::Approx(1.37 * 10 + 3));
    CHECK(of(6.9, BeamLoad::uniform) == doctest::Approx(2.06 * 6.9));
    CHECK(of(7.1, BeamLoad::uniform) == doctest::Approx(1.63 * 7.1 + 3));
    CHECK(of(6.9, BeamLoad::centre) == doctest::Approx(1.80 * 6.9));
    CHECK(of(7.1, BeamLoad::centre) == doctest::Approx(1.37 * 7.1 + 3));
    CHECK(of(20, BeamLoad::centre_braced) == doctest::Approx(1.11 * 20));
    CHECK(of(6.9, BeamLoad::cantilever_end) == doctest::Approx(1.87 * 6.9));
    CHECK(of(7.1, BeamLoad::cantilever_end) == doctest::Approx(1.44 * 7.1 + 3));
    CHECK(of(6.9, BeamLoad::other) == doctest::Approx(2.06 * 6.9));
    CHECK(of(14.2, BeamLoad::other) == doctest::Approx(1.63 * 14.2 + 3));
    CHECK(of(14.4, BeamLoad::other) == doctest::Approx(1.84 * 14.4));
  }

  TEST_CASE("noticed: fasteners below a quarter inch lose nothing by geometry factors") {
    // NDS 12.5.1: the factors are for dowels of 1/4 in and more. From memory.
    CHECK(end_distance_factor(0.1_in, 0.245_in, EndLoad::toward_end, false) == 1);
    CHECK(end_distance_factor(0.1_in, 0.25_in, EndLoad::toward_end, false) == 0);
    CHECK(row_spacing_factor(0.1_in, 0.245_in) == 1);
    CHECK(row_spacing_factor(0.1_in, 0.25_in) == 0);
  }

  TEST_CASE("noticed: a wire insert in a thin wall counts no more than its screw cut into it") {
    const Thread& thread = built_in_materials().thread("1/4-20");
    const Metal wall = built_in_materials().metal("6063-T5 extrusion");
    for (const double depth : {0.07, 0.09, 0.11}) {
      CAPTURE(depth);
      const Force cut = thin_wall_pull_out(thread, depth * 1.0_in, wall, 40.0_ksi).strength;
      const Force insert = coil_insert_pull_out(thread, 0.25_in, depth * 1.0_in, wall, 40.0_ksi);
      CHECK(insert.value() <= cut.value() * (1 + 1e-12));
    }
  }

  TEST_CASE("noticed: a gram in a cubic centimetre is a tonne in a cubic metre") {
    CHECK(parse<Density>("1.025 g/cm^3").value() == doctest::Approx(1025));
    CHECK(parse<Density>("1.025 g/cm3").value() == doctest::Approx(1025));
  }

  // The tests of AISI S905 reach from No. 8 to 1/4 in and 3/8 in deep.
  TEST_CASE("noticed: a pull-out beyond the sizes and walls that were tested says so") {
    const MaterialLibrary& tables = built_in_materials();
    const Metal wall = tables.metal("6063-T5 extrusion");
    const auto beyond = [&](const char* thread, Length deep) {
      return thin_wall_pull_out(tables.thread(thread), deep, wall, 40.0_ksi).extrapolated;
    };
    CHECK_FALSE(beyond("#8-32", 0.090_in));
    CHECK_FALSE(beyond("1/4-20", 0.375_in));
    CHECK(beyond("1/4-20", 0.380_in));
    CHECK(beyond("5/16-18", 0.090_in));
    CHECK(beyond("M8", 0.090_in));
    CHECK_THROWS_AS((void)beyond("M8", 0.0_in), DomainError);
  }

  TEST_CASE("noticed: a screw without a tip bears over all of its length") {
    CHECK(bearing_length(20.0_mm, 0.0_mm) == 20.0_mm);
    CHECK_THROWS_AS((void)bearing_length(20.0_mm, -1.0_mm), DomainError);
  }
}
