// Inserts, self-tapping screws and rivets in a metal wall.

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include <thole/metal_pairs.hpp>
#include <thole/metal_strength.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>

#include "support/inserts.hpp"

using namespace thole;
using namespace thole::test;
using namespace thole::literals;

namespace {

double factor_of(const Setup& s, std::string_view mode) { return check_of(quick(s), mode).factor; }

Standing standing_of(const Setup& s, std::string_view mode) {
  return check_of(quick(s, 30), mode).standing;
}

const char* const own_modes[] = {
    "self-tapping-pull-out", "thread-insert-pull-out", "blind-insert-pull-out",  "insert-thread",
    "rivet-shear",           "rivet-tension",          "rivet-tension-and-shear"};

void only_these(const Setup& s, const std::vector<std::string_view>& expected) {
  const Assessment a = quick(s, 30);
  for (const char* mode : own_modes) {
    CAPTURE(std::string(mode));
    const bool wanted = std::find(expected.begin(), expected.end(), mode) != expected.end();
    CHECK((check_of(a, mode).standing == Standing::not_concerned) == !wanted);
  }
}

bool complains(const std::string& text, const std::string& part) {
  try {
    (void)read(text);
  } catch (const InputError& e) {
    return std::any_of(e.problems().begin(), e.problems().end(),
                       [&](const Problem& p) { return p.message.find(part) != std::string::npos; });
  }
  return false;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("insert: every kind is looked at in its own modes and no other") {
    only_these(read(in_coil), {"thread-insert-pull-out"});
    only_these(read(blind_insert), {"blind-insert-pull-out", "insert-thread"});
    only_these(read(self_tapping), {"self-tapping-pull-out"});
    only_these(read(solid_rivet), {"rivet-shear", "rivet-tension", "rivet-tension-and-shear"});
    only_these(read(light()), {});
    for (const std::string& text : {in_coil, blind_insert, self_tapping}) {
      const Assessment a = quick(read(text), 30);
      CHECK(concerned(check_of(a, "screw-tension")));
      CHECK(concerned(check_of(a, "screw-shear")));
      CHECK(concerned(check_of(a, "wall-bearing-screw")));
      CHECK(concerned(check_of(a, "pull-out-with-bearing")));
      CHECK(check_of(a, "thread-pull-out").standing == Standing::not_concerned);
      CHECK(check_of(a, "bolt-tension").standing == Standing::not_concerned);
    }
    CHECK(concerned(check_of(quick(read(solid_rivet), 30), "wall-bearing-rivet")));
    CHECK_FALSE(concerned(check_of(quick(read(solid_rivet), 30), "screw-tension")));
  }

  TEST_CASE("insert: a coil in metal thinner than it is long is impossible") {
    const Setup s = read(with(in_coil, "thickness: 3/8 in", "thickness: 3/16 in"));
    const Assessment a = quick(s, 30);
    CHECK(a.verdict == Verdict::no_verdict);
    CHECK(says(a.reasons, "impossible in 3/16 in"));
    CHECK(standing_of(s, "pull-out-with-bearing") == Standing::refused);
    // In the wall itself.
    const Setup wall = read(with(in_coil, bar_line, ""));
    CHECK(says(quick(wall, 30).reasons, "impossible in 0.090 in"));
  }

  TEST_CASE("insert: a coil holds by the chart and in thin metal not above the bare screw") {
    const Setup s = read(in_coil);
    const Thread t = built_in_materials().thread("1/4-20");
    const Metal bar = built_in_materials().metal("6061-T6 extrusion");
    const CheckResult c = check_of(quick(s), "thread-insert-pull-out");
    // 2.95 At per diameter, 1 1/2 of them, by hand.
    CHECK(c.strength.si == doctest::Approx(2.95 * 1.5 * tensile_stress_area(t).value() *
                                           bar.shear_ultimate.value()));
    const Force thin = coil_insert_pull_out(t, 0.25_in, 0.249_in, bar,
                                            s.plate().fastening.material.shear_ultimate);
    CHECK(
        thin <=
        thin_wall_pull_out(t, 0.249_in, bar, s.plate().fastening.material.shear_ultimate).strength);
    CHECK(factor_of(read(with(in_coil, "length: 3/8 in", "length: 1/4 in")),
                    "thread-insert-pull-out") < c.factor);
  }

  TEST_CASE("insert: a solid insert has no figure of its own") {
    const std::string solid = with(in_coil, "kind: coil", "kind: solid");
    CHECK(says(quick(read(solid), 30).reasons, "no published source for solid inserts"));
    const std::string given =
        with(solid, "length: 3/8 in", "length: 3/8 in, pull_out: {is: 900 lbf, source: its maker}");
    const CheckResult c = check_of(quick(read(given)), "thread-insert-pull-out");
    CHECK(concerned(c));
    CHECK(c.strength.si == doctest::Approx((900.0_lbf).value()));
    // No more than a cylinder of 1.5 D sheared out of the bar.
    const Setup much = read(with(given, "is: 900 lbf", "is: 90000 lbf"));
    const double shear = much.plate().fastening.backing->metal.shear_ultimate.value();
    CHECK(check_of(quick(much), "thread-insert-pull-out").strength.si ==
          doctest::Approx(3.14159265 * 0.00635 * 1.5 * 0.009525 * shear));
    // Of a coil the lower of both counts.
    const CheckResult coil =
        check_of(quick(read(with(in_coil, "length: 3/8 in",
                                 "length: 3/8 in, pull_out: {is: 9000 lbf, source: its maker}"))),
                 "thread-insert-pull-out");
    CHECK(coil.strength.si == check_of(quick(read(in_coil)), "thread-insert-pull-out").strength.si);
  }

  TEST_CASE("insert: a blind insert needs what pulls it out and is never above its bulb") {
    CHECK(says(quick(read(with(blind_insert, given_pull_out, "")), 30).reasons,
               "no published source for what pulls a blind insert out of a sheet"));
    Setup s = read(blind_insert);
    s.gear.front().plain_load->category = Category::occasional;
    const CheckResult c = check_of(quick(s), "blind-insert-pull-out");
    REQUIRE(concerned(c));
    CHECK(c.strength.si == doctest::Approx((100.0_lbf).value()));
    Setup much = read(with(blind_insert, "is: 100 lbf", "is: 30000 lbf"));
    much.gear.front().plain_load->category = Category::occasional;
    const BlindInsert& b = *much.plate().fastening.blind;
    const Host& h = much.plate().host;
    const double bulb = pull_over(h.thickness, b.bulb, b.hole, h.metal).strength.value();
    CHECK(check_of(quick(much), "blind-insert-pull-out").strength.si == doctest::Approx(bulb));
    // Everyday loads come again and again: half.
    Setup everyday = s;
    everyday.gear.front().plain_load->category = Category::everyday;
    CHECK(check_of(quick(everyday), "blind-insert-pull-out").strength.si ==
          doctest::Approx(0.5 * (100.0_lbf).value()));
    CHECK(check_of(quick(everyday), "pull-out-with-bearing").factor <
          check_of(quick(s), "pull-out-with-bearing").factor);
  }

  TEST_CASE("insert: a figure given for this wall says nothing of the next wall up or down") {
    AssessOptions o;
    o.step = degrees(30);
    CHECK(assess(read(blind_insert), o).walls.size() == 1);
    CHECK(assess(read(self_tapping), o).walls.size() == 3);
  }

  TEST_CASE("insert: its thread counts as given or as the tables have it whichever is less") {
    const double table = check_of(quick(read(blind_insert)), "insert-thread").strength.si;
    CHECK(table == doctest::Approx(7800));
    const auto with_thread = [](const char* force) {
      return read(with(
          blind_insert, given_pull_out,
          given_pull_out + std::string(", thread_holds: {is: ") + force + ", source: its maker}"));
    };
    CHECK(check_of(quick(with_thread("5 kN")), "insert-thread").strength.si ==
          doctest::Approx(5000));
    CHECK(check_of(quick(with_thread("50 kN")), "insert-thread").strength.si ==
          doctest::Approx(7800));
  }

  TEST_CASE("insert: self-tapping screws follow the rule of their own thread") {
    const Setup s = read(self_tapping);
    const Thread& t = s.plate().fastening.thread;
    CHECK(is_spaced(t));
    CHECK(t.name == "1/4-14");
    const CheckResult c = check_of(quick(s), "self-tapping-pull-out");
    CHECK(c.strength.si == spaced_pull_out(t, 0.090_in, s.plate().host.metal).strength.value());
    // A machine thread that taps itself counts as tapped.
    const Setup machine = read(with(self_tapping, "thread: 1/4-14", "thread: 1/4-20"));
    CHECK(concerned(check_of(quick(machine), "thread-pull-out")));
    CHECK_FALSE(concerned(check_of(quick(machine), "self-tapping-pull-out")));
    // The root of the table, not that of a full thread of its pitch.
    CHECK(root_area(t) / (1.0_in * 1.0_in) == doctest::Approx(0.25 * 3.14159265 * 0.185 * 0.185));
    // Below one thread no joint, below two no margin.
    const Assessment thin = quick(read(with(self_tapping, "is: 0.090 in", "is: 0.063 in")), 30);
    CHECK(says(thin.reasons, "less than one full thread"));
    AssessOptions o;
    o.step = degrees(30);
    CHECK(says(assess(s, o).cautions, "only 1.2 threads engaged"));
  }

  TEST_CASE("insert: screw channels and other metals have no rule") {
    const std::string channel = "    flat: 2 in\n    holes: screw_channel\n";
    for (const std::string& text : {self_tapping, blind_insert, with(in_coil, bar_line, "")}) {
      CHECK(quick(read(with(text, "    flat: 2 in\n", channel)), 30).verdict ==
            Verdict::no_verdict);
    }
    CHECK(standing_of(read(with(self_tapping, "6063-T5 extrusion", "A36 plate")),
                      "self-tapping-pull-out") == Standing::refused);
    CHECK(standing_of(read(with(in_coil, "6061-T6 extrusion, thickness: 3/8 in",
                                "A36 plate, thickness: 3/8 in")),
                      "thread-insert-pull-out") == Standing::refused);
  }

  TEST_CASE("insert: rivets have no tension of their own and the report says what has") {
    const Setup s = read(solid_rivet);
    const Assessment a = quick(s, 30);
    CHECK(a.verdict == Verdict::no_verdict);
    CHECK(says(a.reasons, "no published source for rivets in tension"));
    CHECK(says(a.reasons, "through bolts with a plate behind"));
    CHECK(a.tightening.empty());
    CHECK_FALSE(terminal_report(s, a).empty());
    CHECK_FALSE(json_report(s, a).empty());
    // Area x shear strength of its metal.
    const Fastening& f = s.plate().fastening;
    CHECK(check_of(quick(s), "rivet-shear").strength.si ==
          doctest::Approx(3.14159265 / 4 * f.thread.diameter.value() * f.thread.diameter.value() *
                          f.material.shear_ultimate.value()));
    const std::string blind = with(solid_rivet, "kind: solid", "kind: blind");
    CHECK(standing_of(read(blind), "rivet-shear") == Standing::refused);
    const std::string figures =
        "diameter: 3/16 in, tension: {is: 200 lbf, source: a test}, shear: {is: 250 lbf, source: "
        "a test}";
    const Assessment known = quick(read(with(blind, "diameter: 3/16 in", figures)));
    CHECK(check_of(known, "rivet-shear").strength.si == doctest::Approx((250.0_lbf).value()));
    CHECK(concerned(check_of(known, "rivet-tension")));
    // The head behind is drawn through the wall first: half of t Ftu (1.3 - 1.04) D everyday.
    CHECK(check_of(known, "rivet-tension").strength.si ==
          doctest::Approx((0.5 * 0.090 * 22000 * 0.26 * 0.1875 * 1.0_lbf).value()));
    CHECK(concerned(check_of(known, "rivet-tension-and-shear")));
  }

  TEST_CASE("insert: what is not checked or stands beside a weld is a condition of the verdict") {
    // No data sheet has this size.
    Setup s = read(with(blind_insert, "thread: M6", "thread: 1/4-28"));
    s.gear.front().plain_load->pull = 1.0_lbf;
    CHECK(says(quick(s, 30).holds_if, "the threads of the blind inserts are strong enough"));
    s.condition.weld_near_base = Answer::yes;
    CHECK(says(quick(s, 30).holds_if, "are of metal beside a weld"));
    CHECK(says(quick(read(with(solid_rivet, "    flat: 2 in\n",
                               "    flat: 2 in\n    holes: screw_channel\n")),
                     30)
                   .reasons,
               "a rivet needs a flat wall"));
  }

  TEST_CASE("insert: rivets stand three diameters apart") {
    Setup s = read(solid_rivet);
    const Length d = s.plate().fastening.thread.diameter;
    const auto apart = [&](double diameters) {
      s.plate().fastening.holes = rectangle(0.5 * diameters * d, 0.75_in);
      return check_of(quick(s, 30), "hole-spacing").holds;
    };
    CHECK(apart(3.01));
    CHECK_FALSE(apart(2.9));
  }

  TEST_CASE("insert: the torque at which a blind insert turns sets the ceiling") {
    const auto row = [](const std::string& text) {
      // Screws strong enough not to set it.
      const auto rows = tightening_rows(read(with(text, "\"stainless, unmarked\"", "A4-80")));
      REQUIRE(rows.size() == 1);
      return rows.front();
    };
    const TighteningRow table = row(blind_insert);
    CHECK(table.to == TightenTo::torque);
    CHECK(table.layer == "insert turns in the wall");
    CHECK(table.ceiling->value() == doctest::Approx(0.75 * 3.5));  // M6, aluminium
    CHECK(says(table.cautions, "another maker's insert"));
    CHECK_FALSE(table.holds_preload);
    const auto turns = [&](const char* torque) {
      return row(with(
          blind_insert, given_pull_out,
          given_pull_out + std::string(", turns_at: {is: ") + torque + ", source: its maker}"));
    };
    CHECK(turns("2 N m").ceiling->value() == doctest::Approx(0.75 * 2));
    CHECK(turns("20 N m").ceiling->value() == doctest::Approx(0.75 * 3.5));
    // No size of the tables: no figure.
    const TighteningRow none = row(with(blind_insert, "thread: M6", "thread: 1/4-28"));
    CHECK(none.to == TightenTo::snug);
    CHECK(none.layer == "insert turns in the wall");
  }

  TEST_CASE("insert: coils and self-tapping screws have a row of tightening") {
    const auto coil = tightening_rows(read(in_coil));
    REQUIRE(coil.size() == 1);
    CHECK(coil.front().joint == "1/4-20 in a coil insert in 3/8 in bar");
    CHECK(coil.front().holds_preload);
    CHECK(coil.front().to == TightenTo::torque);
    const auto screws = tightening_rows(read(self_tapping));
    REQUIRE(screws.size() == 1);
    CHECK(screws.front().joint == "1/4-14 self-tapping in 0.090 in wall");
    CHECK(screws.front().layer == "threads in the wall");
    REQUIRE(screws.front().engagement);
    CHECK(screws.front().engagement->threads == doctest::Approx(0.090 * 14));
    const Setup thin = read(with(in_coil, "thickness: 3/8 in", "thickness: 1/4 in"));
    CHECK(tightening_rows(thin).front().to == TightenTo::snug);
  }

  TEST_CASE("insert: fasteners of a second kind have a row and metals of their own") {
    Setup s = read(light());
    Fastening other = read(blind_insert).plate().fastening;
    other.holes = {{0.4_in, Length{}}, {-0.4_in, Length{}}};
    s.plate().second = other;
    validate(s);
    const auto rows = tightening_rows(s);
    REQUIRE(rows.size() == 2);
    CHECK(rows[0].joint == "1/4-20 tapped in 0.090 in wall");
    CHECK(rows[1].joint == "M6 in a blind insert in 0.090 in wall");
    CHECK(rows[1].count == 2);
    const auto pairs = metal_pairs(s);
    CHECK(std::any_of(pairs.begin(), pairs.end(),
                      [](const MetalPair& p) { return p.part == "the inserts"; }));
    s.plate().second = read(solid_rivet).plate().fastening;
    CHECK(tightening_rows(s).size() == 1);
  }

  TEST_CASE("insert: metals of inserts meet the wall and the screws") {
    const auto part = [](const Setup& s, std::string_view a, std::string_view b) {
      for (const MetalPair& p : metal_pairs(s)) {
        if (p.part == a && p.other == b) return p.kind;
      }
      throw std::runtime_error("no such pair");
    };
    CHECK(part(read(in_coil), "the inserts", "the piece behind the wall") ==
          GalvanicKind::stainless);
    CHECK(part(read(blind_insert), "the inserts", "the wall") == GalvanicKind::aluminium);
    CHECK(part(read(blind_insert), "the fasteners", "the inserts") == GalvanicKind::stainless);
    CHECK(part(read(with(blind_insert, "metal: aluminium", "metal: stainless")), "the inserts",
               "the wall") == GalvanicKind::stainless);
  }

  TEST_CASE("insert: mistakes in the file have their own words") {
    CHECK(complains(with(in_coil, "length: 3/8 in", "length: 0.30 in"), "coils are 1, 1 1/2, 2"));
    CHECK(complains(with(in_coil, coil_line, ""), "thread_insert is missing"));
    CHECK(complains(with(in_coil, "hold: thread_insert", "hold: tapped_bar"),
                    "belongs to hold: thread_insert"));
    CHECK(complains(with(blind_insert, "bulb: 11 mm", "bulb: 8 mm"), "1 to 2 times as wide"));
    CHECK(complains(with(blind_insert, "is: 100 lbf, source: a test in scrap", "is: 100 lbf"),
                    "source is missing"));
    CHECK(complains(with(blind_insert, "is: 100 lbf", "is: 100 lb"), "mass"));
    CHECK(complains(with(self_tapping, "thread: 1/4-14", "thread: 1/4-15"), "did you mean"));
    CHECK(complains(with(solid_rivet, "diameter: 3/16 in", "diameter: 3/16 in, hole: 0.2 in"),
                    "4 % wider"));
    CHECK(complains(with(solid_rivet, "hold: rivet", "hold: rivet\n    thread: 1/4-20"),
                    "a rivet has no thread"));
    for (const char* hold : {"u_bolt", "clamp"}) {
      CHECK(complains(with(light(), "hold: tapped", std::string("hold: ") + hold),
                      "holds a bracket only"));
    }
    CHECK(
        complains(with(light(), "hold: tapped", "in_plane: instantaneous_centre\n    hold: tapped"),
                  "for steel through bolts"));
    CHECK(complains(with(self_tapping, "    holes:", bar_line + "    holes:"),
                    "holds in the wall alone"));
  }

  TEST_CASE("insert: a setup made by a program must be complete too") {
    const auto refuses = [](Setup s) { CHECK_THROWS_AS(validate(s), DomainError); };
    Setup s = read(in_coil);
    s.plate().fastening.insert.reset();
    refuses(s);
    s = read(in_coil);
    s.plate().fastening.insert->length = 0.2_in;
    refuses(s);
    s = read(blind_insert);
    s.plate().fastening.blind->bulb = s.plate().fastening.blind->hole;
    refuses(s);
    s = read(blind_insert);
    s.plate().fastening.blind->pull_out->source.clear();
    refuses(s);
    s = read(self_tapping);
    s.plate().fastening.hold = HoldBy::tapped;
    refuses(s);
    s = read(solid_rivet);
    s.plate().fastening.rivet.reset();
    refuses(s);
    s = read(light());
    s.plate().fastening.instantaneous_centre = true;
    refuses(s);
  }

  TEST_CASE("insert: steel bolts in steel carry more by their instantaneous centre") {
    std::string steel = with(light(), "hold: tapped", "hold: through_bolt");
    steel = with(steel, "{is: 6063-T5 extrusion, known: tagged}", "A36 plate");
    steel = with(steel, "material: 5052-H32 sheet", "material: A36 plate");
    Setup s = read(with(steel, "hold: through_bolt",
                        "hold: through_bolt\n    in_plane: instantaneous_centre"));
    CHECK(s.plate().fastening.instantaneous_centre);
    PlainLoad& p = *s.gear.front().plain_load;
    p.at = Position<Base>(3.0_in, 4.0_in, 1.0_in);  // twists
    const double by_centre = factor_of(s, "bolt-shear");
    s.plate().fastening.instantaneous_centre = false;
    const double elastic = factor_of(s, "bolt-shear");
    CHECK(by_centre > elastic);
    CHECK(by_centre < 2 * elastic);
    // Straight through the middle all bolts share alike, at 0.98 of their strength.
    p.at = Position<Base>(Length{}, Length{}, 1.0_in);
    const double even = factor_of(s, "bolt-shear");
    s.plate().fastening.instantaneous_centre = true;
    CHECK(factor_of(s, "bolt-shear") / even == doctest::Approx(0.9815).epsilon(1e-3));
    CHECK(complains(with(with(light(), "hold: tapped", "hold: through_bolt"), "hold: through_bolt",
                         "hold: through_bolt\n    in_plane: instantaneous_centre"),
                    "for steel through bolts"));
  }
}

TEST_SUITE("property") {
  TEST_CASE("insert: more metal is never weaker") {
    const Metal wall = built_in_materials().metal("5052-H32 sheet");
    for (const char* name : {"#8-18", "#10-16", "#12-14", "1/4-14", "ST4.8", "ST6.3"}) {
      const Thread t = built_in_materials().spaced_thread(name);
      Force before{};
      for (double mm = 0.5; mm < 9.5; mm += 0.05) {
        const Force now = spaced_pull_out(t, mm * 1.0_mm, wall).strength;
        CHECK_MESSAGE(now >= (1 - 1e-12) * before, name, " ", mm);
        before = now;
      }
    }
    const Thread t = built_in_materials().thread("1/4-20");
    Force before{};
    for (double inches = 0.25; inches < 1; inches += 0.01) {
      const Force now = coil_insert_pull_out(t, 0.75_in, inches * 1.0_in, wall, 40.0_ksi);
      CHECK(now >= (1 - 1e-12) * before);
      before = now;
    }
  }

  TEST_CASE("insert: more load is never safer and a stronger figure never weaker") {
    for (const std::string& text : {in_coil, blind_insert, self_tapping}) {
      double before = std::numeric_limits<double>::infinity();
      for (double pull = 2; pull < 200; pull *= 2) {
        Setup s = read(text);
        s.gear.front().plain_load->pull = pull * 1.0_lbf;
        const double worst = worst_ratio(quick(s, 15), false);
        CHECK(worst <= before * (1 + 1e-6));
        before = worst;
      }
    }
    Setup s = read(blind_insert);
    const double before = factor_of(s, "blind-insert-pull-out");
    s.plate().fastening.blind->pull_out->value *= 1.5;
    CHECK(factor_of(s, "blind-insert-pull-out") >= before);
  }
}
