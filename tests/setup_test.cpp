#include <thole/error.hpp>
#include <thole/reading.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <string>

using namespace thole;
using namespace thole::literals;

namespace {

std::string text_of(const std::string& path) {
  std::ifstream in(std::string(THOLE_ROOT) + "/" + path);
  REQUIRE(in.good());
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

std::string example() { return text_of("examples/reservoir-jon-boat.yaml"); }

std::string board_example() { return text_of("examples/fjord-skiff.yaml"); }

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

Setup read(const std::string& text) { return read_setup(text, "test.yaml", built_in_materials()); }

std::vector<Problem> problems_of(const std::string& text) {
  try {
    (void)read(text);
  } catch (const InputError& e) {
    return e.problems();
  }
  return {};
}

const Input& input(const Setup& s, const std::string& path) {
  const auto it = std::find_if(s.inputs.begin(), s.inputs.end(),
                               [&](const Input& i) { return i.path == path; });
  REQUIRE_MESSAGE(it != s.inputs.end(), path);
  return *it;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("setup: the starter is a setup") {
    const Setup s = read(starter_setup());
    CHECK(s.gear.size() == 1);
    CHECK(s.condition.cracks == Answer::not_known);
    CHECK_FALSE(s.plate().base.metal.has_value());
    CHECK_FALSE(measuring_list().empty());
  }

  TEST_CASE("setup: the starter of a cross-board is a setup") {
    const Setup s = read(starter_setup("cross_board"));
    REQUIRE(s.on_board());
    CHECK(s.gear.size() == 2);
    CHECK(s.board().hold_downs.size() == 4);
    REQUIRE(s.board().board.wood.has_value());
    CHECK(s.board().board.wood->name == "unknown softwood");
    CHECK(input(s, "mount.board.wood").known == Knowledge::assumed);
    CHECK(input(s, "mount.board.wood").value == "not known");
    CHECK_FALSE(s.use.not_a_seat);
    CHECK_FALSE(measuring_list("cross_board").empty());
    CHECK_THROWS_AS(starter_setup("crossboard"), UnknownName);
  }

  TEST_CASE("setup: the example gives its values") {
    const Setup s = read(example());
    CHECK(s.title == "Rod holder on a reservoir jon-boat, as drawn");
    CHECK(s.file == "test.yaml");
    CHECK(s.units == ReaderUnits::inch);
    CHECK_FALSE(s.salt_water);
    const Host& host = s.plate().host;
    CHECK(host.form == WallForm::closed_section);
    CHECK(host.metal.name == "6063-T5 extrusion");
    CHECK(host.metal.ultimate == parse<Stress>("22 ksi"));
    CHECK(host.metal.yield == parse<Stress>("16 ksi"));
    CHECK(host.thickness == parse<Length>("0.090 in"));
    CHECK(host.flat == parse<Length>("2 in"));
    CHECK_FALSE(host.to_end.has_value());
    const BasePlate& base = s.plate().base;
    REQUIRE(base.outline.size() == 4);
    CHECK(base.outline[2] == PlanPoint{parse<Length>("1 1/2 in"), parse<Length>("15/16 in")});
    REQUIRE(base.metal.has_value());
    CHECK(base.metal->name == "5052-H32 sheet");
    CHECK(base.thickness == parse<Length>("3/16 in"));
    CHECK(base.body == parse<Length>("7/8 in"));
    CHECK(base.from_inboard_edge == parse<Length>("1 in"));
    const Fastening& f = s.plate().fastening;
    CHECK(f.hold == HoldBy::tapped);
    CHECK(f.thread.diameter == parse<Length>("1/4 in"));
    REQUIRE(f.holes.size() == 4);
    CHECK(f.holes[0] == PlanPoint{parse<Length>("-1 1/8 in"), parse<Length>("-9/16 in")});
    CHECK(f.head == f.thread.head_across_flats);
    REQUIRE(s.gear.size() == 1);
    CHECK(s.gear[0].name == "starboard rod");
    REQUIRE(s.gear[0].rod_holder.has_value());
    const RodHolder& rod = *s.gear[0].rod_holder;
    CHECK(rod.height == parse<Length>("4 in"));
    CHECK(rod.lean == 60.0_deg);
    CHECK(rod.toward == 90.0_deg);
    CHECK(rod.rod_length == parse<Length>("84 in"));
    CHECK(rod.line_test == parse<Force>("20 lbf"));
    CHECK(rod.drag.value == parse<Force>("7 lbf"));
    CHECK(rod.drag.known == Knowledge::measured);
    CHECK(rod.spool_growth == 1.3);
    CHECK(rod.mass == parse<Mass>("4 lb"));
    CHECK(rod.butt_stiffness == parse<BendingStiffness>("25 N m^2"));
    CHECK(s.condition.cracks == Answer::no);
    CHECK(s.condition.within_150_mm == "rib");
    CHECK_FALSE(s.required_factors.empty());
    CHECK(s.factor_overrides.empty());
  }

  TEST_CASE("setup: how a value is known when the file does not say") {
    std::string text = with(example(), "{is: 0.090 in, known: measured}", "0.090 in");
    text = with(text, "{is: 6063-T5 extrusion, known: assumed}", "6063-T5 extrusion");
    text = with(text, "{is: 7 lbf, known: measured}", "7 lbf");
    text = with(text, "    spool_growth: {is: 1.3, known: measured}\n", "");
    text = with(text, "    running_pull: {is: 5 lbf, known: measured}\n", "");
    const Setup s = read(text);
    CHECK(input(s, "mount.host.thickness").known == Knowledge::assumed);
    CHECK(input(s, "mount.host.alloy").known == Knowledge::assumed);
    CHECK(input(s, "gear.drag").known == Knowledge::assumed);
    CHECK(input(s, "mount.host.flat").known == Knowledge::tagged);
    CHECK(input(s, "gear.line_test").known == Knowledge::tagged);
    CHECK_FALSE(input(s, "mount.host.thickness").defaulted);
    CHECK(input(s, "gear.spool_growth").defaulted);
    CHECK(input(s, "gear.spool_growth").known == Knowledge::assumed);
    CHECK(input(s, "gear.running_pull").defaulted);
    CHECK(s.gear[0].rod_holder->spool_growth == 1.5);
    CHECK(s.gear[0].rod_holder->running_pull == 8.0_lbf);

    const Setup told = read(example());
    CHECK(input(told, "mount.host.thickness").known == Knowledge::measured);
    CHECK(input(told, "mount.host.thickness").value == "0.090 in");
    CHECK(input(told, "mount.host.thickness").si == parse<Length>("0.090 in").value());
  }

  TEST_CASE("setup: five mistakes are five problems in their order") {
    const std::vector<Problem> found = problems_of(text_of("tests/data/bad/five-mistakes.yaml"));
    REQUIRE(found.size() == 5);
    const char* starts[] = {"mount.host.thickness: ", "mount.base.material: ", "gear.lean: ",
                            "gear.line_test: ", "condition.loose_rivets: "};
    for (std::size_t i = 0; i < 5; ++i) {
      CAPTURE(found[i].message);
      CHECK(found[i].message.starts_with(starts[i]));
      CHECK(found[i].file == "test.yaml");
      if (i > 0) CHECK(found[i].line > found[i - 1].line);
    }
  }

  TEST_CASE("setup: one mistake is one problem") {
    const std::pair<const char*, const char*> slips[] = {
        {"flat: 2 in", "flat: 2 lbf"},
        {"rod_length: 7 ft", "rod_lenght: 7 ft"},
        {"fastening:", "fastenig:"},
        {"gear:", "gaer:"},
        {"height: 4 in", "height: {low: 3 in, high: 4 in}"},
        {"thickness: 3/16 in", "thickness: 3/16 im"},
        {"hold: tapped", "hold: taped"},
    };
    for (const auto& [from, to] : slips) {
      const std::vector<Problem> found = problems_of(with(example(), from, to));
      std::string all;
      for (const Problem& p : found) all += to_text(p);
      INFO(all);
      CHECK(found.size() == 1);
    }
  }

  TEST_CASE("setup: a weld near the base takes the strength of the weld zone") {
    const Setup s = read(with(example(), "weld_near_base: no", "weld_near_base: yes"));
    CHECK(s.condition.weld_near_base == Answer::yes);
    CHECK(s.plate().host.metal.weld_affected);
    CHECK(s.plate().host.metal.ultimate == parse<Stress>("17 ksi"));
    CHECK(s.plate().host.metal.yield == parse<Stress>("8 ksi"));
    REQUIRE(s.plate().base.metal.has_value());
    CHECK_FALSE(s.plate().base.metal->weld_affected);
  }

  TEST_CASE("setup: a metal written out in place") {
    const Setup s = read(with(example(), "{is: 6063-T5 extrusion, known: assumed}",
                              "{name: mill stock, ultimate: 30 ksi, yield: 25 ksi, source: "
                              "certificate 17}"));
    const Metal& m = s.plate().host.metal;
    CHECK(m.name == "mill stock");
    CHECK(m.ultimate == parse<Stress>("30 ksi"));
    CHECK(m.yield == parse<Stress>("25 ksi"));
    CHECK(m.shear_ultimate == 0.6 * parse<Stress>("30 ksi"));
    CHECK(to_text(m.source).find("certificate 17") != std::string::npos);
    CHECK(input(s, "mount.host.alloy").value == "mill stock");
  }

  TEST_CASE("setup: holes on a circle and a turned base") {
    std::string text =
        with(example(), "{fore_aft: 2 1/4 in, athwart: 1 1/8 in}", "{circle: 1 1/2 in, count: 3}");
    const Setup round = read(text);
    REQUIRE(round.plate().fastening.holes.size() == 3);
    CHECK(round.plate().fastening.holes[0].x == parse<Length>("3/4 in"));

    text = with(text, "thickness: 3/16 in", "thickness: 3/16 in\n    turned: 90 deg");
    const Setup turned = read(text);
    CHECK(turned.plate().fastening.holes[0].y.value() ==
          doctest::Approx(parse<Length>("3/4 in").value()).epsilon(1e-12));
    CHECK(turned.plate().base.outline[0].x.value() ==
          doctest::Approx(parse<Length>("15/16 in").value()).epsilon(1e-12));
  }

  TEST_CASE("setup: a plain load with a range of directions") {
    std::string text = example();
    const std::size_t from = text.find("gear:");
    text.replace(from, text.find("condition:") - from,
                 "gear:\n  - kind: plain_load\n    at: {forward: 0 in, outboard: -1 in, up: 4 in}\n"
                 "    pull: 40 lbf\n    azimuth: [0 deg, 90 deg]\n    dip: -10 deg\n"
                 "    category: accident\n\n");
    const Setup s = read(text);
    REQUIRE(s.gear[0].plain_load.has_value());
    const PlainLoad& load = *s.gear[0].plain_load;
    CHECK(load.pull == parse<Force>("40 lbf"));
    CHECK(load.at.y() == parse<Length>("-1 in"));
    CHECK(load.range == DirectionRange{0.0_deg, 90.0_deg, -10.0_deg, -10.0_deg});
    CHECK(load.category == Category::accident);
  }

  TEST_CASE("setup: factors of the reader's own") {
    const Setup s = read(example() + "\nfactors: {screw: 4}\n");
    REQUIRE(s.factor_overrides.contains("screw"));
    CHECK(s.factor_overrides.at("screw") == 4);
  }

  TEST_CASE("setup: validate refuses what a program fills in wrongly") {
    Setup s = read(example());
    CHECK_NOTHROW(validate(s));
    s.plate().host.thickness = Length{};
    CHECK_THROWS_AS(validate(s), DomainError);
    s = read(example());
    s.gear.push_back(s.gear[0]);
    CHECK_THROWS_AS(validate(s), DomainError);
    s = read(example());
    s.plate().fastening.holes.clear();
    CHECK_THROWS_AS(validate(s), DomainError);
  }

  TEST_CASE("setup: the cross-board example gives its values") {
    const Setup s = read(board_example());
    REQUIRE(s.on_board());
    CHECK(s.salt_water);
    CHECK(s.units == ReaderUnits::metric);
    CHECK(s.use.not_a_seat);
    CHECK(s.use.running_peak == 5);
    const CrossBoard& b = s.board();
    CHECK(b.board.form == BoardForm::plank);
    CHECK(b.board.width == 198.0_mm);
    CHECK(b.board.thickness == 48.0_mm);
    CHECK(b.board.length == parse<Length>("2.20 m"));
    CHECK(b.board.wet);
    CHECK_FALSE(b.board.treated);
    CHECK_FALSE(b.board.metal.has_value());
    REQUIRE(b.board.wood.has_value());
    CHECK(b.board.wood->name == "C24");
    REQUIRE(b.board.wood_strength.has_value());
    const WoodStrength direct =
        nominal_wood(*b.board.wood, {.thickness = 48.0_mm, .width = 198.0_mm, .wet = true},
                     built_in_materials());
    CHECK(b.board.wood_strength->bending_flat == direct.bending_flat);
    CHECK(b.board.wood_strength->shear == direct.shear);
    CHECK(b.clear_width == parse<Length>("1.80 m"));
    CHECK(b.port_overhang == 200.0_mm);
    for (const Side side : {Side::port, Side::starboard}) {
      const Ledge& l = b.ledge(side);
      CHECK(l.kind == LedgeKind::angle);
      CHECK(l.along == 60.0_mm);
      CHECK(l.fore_aft == 250.0_mm);
      CHECK(l.leg_thickness == 6.0_mm);
      CHECK(l.root_outboard);
      CHECK(l.packed);
      CHECK(l.gap == Length{});
      REQUIRE(l.metal.has_value());
      CHECK(l.metal->yield == 250.0_MPa);
      REQUIRE(l.fastening.has_value());
      CHECK(l.fastening->hull == HullKind::laminate);
      CHECK(l.fastening->hull_thickness == 6.0_mm);
      CHECK_FALSE(l.fastening->hull_metal.has_value());
      CHECK(l.fastening->count == 3);
      CHECK(l.fastening->spacing == 90.0_mm);
      CHECK(l.fastening->foot_below == 60.0_mm);  // the other leg
      REQUIRE(l.fastening->backing.has_value());
      CHECK(l.fastening->backing->thickness == 5.0_mm);
    }
    CHECK(b.legs.empty());

    REQUIRE(s.gear.size() == 2);
    const Downrigger& d = s.gear[0].downrigger.value();
    CHECK(d.mass == 6.0_kg);
    CHECK(d.boom_length == 600.0_mm);
    REQUIRE(d.boom_angles.size() == 3);
    CHECK(d.boom_angles[1] == 45.0_deg);
    CHECK(d.ball_density == ball_density(BallMaterial::lead));
    CHECK(d.wire == WireKind::braid);
    CHECK(d.wire_break == 1112.0_N);
    CHECK(d.depth == parse<Length>("30 m"));
    CHECK(d.slowest == parse<Speed>("1.5 kn"));
    CHECK(d.fastest == parse<Speed>("2.5 kn"));
    REQUIRE(d.brake_slip.has_value());
    CHECK(d.brake_slip->value == 300.0_N);
    CHECK(d.brake_slip->known == Knowledge::measured);
    CHECK_FALSE(d.weak_link.has_value());
    const GearFoot& foot = s.gear[0].foot.value();
    CHECK(foot.outline[2] == PlanPoint{95.0_mm, 75.0_mm});
    REQUIRE(foot.holes.size() == 4);
    CHECK(foot.holes[0] == PlanPoint{-75.0_mm, -55.0_mm});
    CHECK(foot.hole == foot.thread.clearance);
    REQUIRE(foot.plate.has_value());
    CHECK(foot.plate->thickness == 10.0_mm);
    CHECK_NOTHROW(validate(s));
  }

  TEST_CASE("setup: what is written for both sides is two things that mirror each other") {
    const Setup s = read(board_example());
    const CrossBoard& b = s.board();
    REQUIRE(b.hold_downs.size() == 4);
    const char* names[] = {"port forward eye bolt", "starboard forward eye bolt",
                           "port aft eye bolt", "starboard aft eye bolt"};
    for (std::size_t i = 0; i < 4; ++i) {
      CHECK(b.hold_downs[i].name == names[i]);
      CHECK(b.hold_downs[i].place.outboard == 30.0_mm);
      CHECK(b.hold_downs[i].hole == b.hold_downs[i].thread.clearance);
      REQUIRE(b.hold_downs[i].eye.has_value());
      CHECK(b.hold_downs[i].eye->name == "forged collar M8");
    }
    CHECK(b.hold_downs[0].place.forward == b.hold_downs[1].place.forward);
    CHECK(b.hold_downs[0].place.side == Side::port);
    CHECK(b.hold_downs[1].place.side == Side::starboard);
    // The port end is 200 mm beyond the inner edge: 30 mm outboard is 170 mm from the end.
    CHECK(b.station(b.hold_downs[0].place).value() == doctest::Approx(0.170));
    CHECK(b.station(b.hold_downs[1].place).value() == doctest::Approx(2.20 - 0.170));
    CHECK(s.gear[0].name == "port downrigger");
    CHECK(s.gear[1].name == "starboard downrigger");
    CHECK(b.station(s.gear[0].place).value() == doctest::Approx(0.080));
    CHECK(b.station(s.gear[1].place).value() == doctest::Approx(2.20 - 0.080));
    CHECK(s.gear[0].place.outboard == s.gear[1].place.outboard);
    // One input each, though there are two of them.
    CHECK(std::count_if(s.inputs.begin(), s.inputs.end(), [](const Input& i) {
            return i.path == "gear.brake_slip" || i.path == "mount.ledges.both.fore_aft";
          }) == 2);
  }

  TEST_CASE("setup: how a value of a cross-board is known when the file does not say") {
    std::string text = with(board_example(), "{is: C24, known: tagged}", "C24");
    text = with(text, "      flare: {is: 0 deg, known: measured}\n", "");
    text = with(text, "      root: outboard\n", "");
    text = with(text, "{is: 6 mm, known: measured}", "6 mm");
    text = with(text, "  running_peak: {is: 5, known: assumed}\n", "");
    text = with(text, "  port_overhang: 200 mm\n", "");
    text = with(text, "{is: 300 N, known: measured}", "300 N");
    text = with(text, "    ball_metal: {is: lead, known: tagged}\n", "");
    const Setup s = read(text);
    CHECK(input(s, "mount.board.wood").known == Knowledge::assumed);
    CHECK(input(s, "mount.board.size").known == Knowledge::tagged);
    CHECK(input(s, "mount.ledges.both.flare").known == Knowledge::assumed);
    CHECK(input(s, "mount.ledges.both.flare").defaulted);
    CHECK(input(s, "mount.ledges.both.root").defaulted);
    CHECK(input(s, "mount.ledges.both.alloy").known == Knowledge::tagged);  // written out
    CHECK(input(s, "mount.ledges.both.fastening.hull_thickness").known == Knowledge::assumed);
    CHECK(input(s, "mount.hold_downs.eye").known == Knowledge::assumed);
    CHECK(input(s, "mount.hold_downs.washer_diameter").known == Knowledge::tagged);
    CHECK(input(s, "use.running_peak").defaulted);
    CHECK(input(s, "mount.port_overhang").defaulted);
    CHECK(input(s, "mount.port_overhang").known == Knowledge::tagged);
    CHECK(s.board().port_overhang.value() == doctest::Approx(0.200));
    CHECK(input(s, "gear.brake_slip").known == Knowledge::assumed);
    CHECK(s.gear[1].downrigger->brake_slip->known == Knowledge::assumed);
    CHECK(input(s, "gear.ball_metal").defaulted);
    CHECK(input(s, "gear.boom_angles").value == "0 deg, 45 deg, 90 deg");
    CHECK(input(s, "gear.depth").si == 30);
    CHECK(input(s, "gear.speed").known == Knowledge::tagged);
  }

  TEST_CASE("setup: stock sizes lie as they are laid") {
    const auto board_of = [](const std::string& keys) {
      std::string text = with(board_example(), "    form: plank\n", "");
      text = with(text, "    service: wet\n", "");
      text = with(text, "    wood: {is: C24, known: tagged}   # stamp on the plank\n", "");
      const std::size_t size = text.find("    size: 48x198");
      text.erase(size, text.find('\n', size) + 1 - size);
      for (const auto& [first, next] : {std::pair("  hold_downs:\n", "\ngear:\n"),
                                        std::pair("    foot:\n", "\ncondition:\n")}) {
        const std::size_t at = text.find(first);
        text.erase(at, text.find(next) - at);
      }
      return read(with(text, "    length: 2.20 m\n", "    length: 2.20 m\n" + keys)).board().board;
    };
    const BoardPiece edge =
        board_of("    form: plank\n    size: 48x98\n    laid: on_edge\n    wood: C24\n");
    CHECK(edge.width == 48.0_mm);
    CHECK(edge.thickness == 98.0_mm);
    const BoardPiece tube = board_of(
        "    form: rectangular_tube\n    width: 100 mm\n    thickness: 50 mm\n"
        "    wall: 3 mm\n    alloy: 6061-T6 extrusion\n");
    CHECK(tube.width == 100.0_mm);
    CHECK(tube.wall == 3.0_mm);
    REQUIRE(tube.metal.has_value());
    CHECK_FALSE(tube.wood_strength.has_value());
    const BoardPiece round = board_of(
        "    form: round_tube\n    diameter: 100 mm\n    wall: 4 mm\n"
        "    alloy: 6061-T6 extrusion\n");
    CHECK(round.width == 100.0_mm);
    CHECK(round.thickness == 100.0_mm);
    const BoardPiece channel = board_of(
        "    form: channel_down\n    size: 3 x 1 1/2 x 1/8 in\n    alloy: 6061-T6 extrusion\n");
    CHECK(channel.width == parse<Length>("3 in"));
    CHECK(channel.thickness == parse<Length>("1 1/2 in"));
    CHECK(channel.wall == parse<Length>("1/8 in"));
    const BoardPiece strip = board_of(
        "    form: plank_with_strip\n    size: 48x198\n    wood: C24\n    treated: yes\n"
        "    strip: {thickness: 48 mm, depth: 98 mm}\n");
    CHECK(strip.strip_thickness == 48.0_mm);
    CHECK(strip.strip_depth == 98.0_mm);
    CHECK(strip.strip_forward == 0.0_mm);
    CHECK(strip.treated);
  }

  TEST_CASE("setup: a ledge for each side and legs of wood and metal") {
    std::string text = board_example();
    const std::size_t from = text.find("    both:\n");
    text.replace(from, text.find("  hold_downs:\n") - from,
                 "    port: {kind: saddle, along: 80 mm, fore_aft: 220 mm, gap: 2 mm}\n"
                 "    starboard: {kind: angle, angle: 60 x 60 x 5 mm, alloy: 6061-T6 extrusion, "
                 "fore_aft: 250 mm, flare: 8 deg, packed: no, root: inboard}\n");
    text =
        with(text, "\ngear:\n",
             "  legs:\n"
             "    - {side: both, outboard: -300 mm, forward: 80 mm, length: 300 mm, "
             "fore_aft: 48 mm, athwart: 98 mm, wood: not known, stands_on: thwart}\n"
             "    - {side: port, name: strut, outboard: -200 mm, forward: -99 mm, beside: yes, "
             "length: 350 mm, foot_outboard: 50 mm, fore_aft: 40 mm, athwart: 40 mm, wall: 3 mm, "
             "alloy: 6061-T6 extrusion, stands_on: hull, foot_slope: 12 deg, friction: 0.3, "
             "foot_held: yes}\n\ngear:\n");
    text = with(text, "  port_overhang: 200 mm\n",
                "  port_overhang: 190 mm\n  starboard_higher: -10 mm\n  bow_up: -3 deg\n");
    const CrossBoard b = read(text).board();
    CHECK(b.port_overhang == 190.0_mm);
    CHECK(b.starboard_higher == -10.0_mm);
    CHECK(in_degrees(b.bow_up) == doctest::Approx(-3));
    CHECK(b.port.kind == LedgeKind::saddle);
    CHECK(b.port.gap == 2.0_mm);
    CHECK(b.starboard.leg_thickness == 5.0_mm);
    CHECK_FALSE(b.starboard.packed);
    CHECK_FALSE(b.starboard.root_outboard);
    CHECK_FALSE(b.starboard.fastening.has_value());
    REQUIRE(b.legs.size() == 3);
    CHECK(b.legs[0].name == "port forward leg");
    CHECK(b.legs[1].name == "starboard forward leg");
    CHECK(b.legs[1].wood.value().name == "unknown softwood");
    CHECK(b.legs[1].wood_strength.has_value());
    CHECK_FALSE(b.legs[1].friction.has_value());
    CHECK(b.legs[2].name == "strut");
    CHECK(b.legs[2].beside);
    CHECK(b.legs[2].wall == 3.0_mm);
    CHECK(b.legs[2].friction == 0.3);
    CHECK(b.legs[2].foot_held);
  }

  TEST_CASE("setup: a rod holder and a load on a board") {
    std::string text = board_example();
    const std::size_t from = text.find("gear:\n");
    text.replace(from, text.find("condition:") - from,
                 "gear:\n  - kind: rod_holder\n    name: tall holder\n"
                 "    on_board: {side: starboard, outboard: -200 mm, forward: 20 mm}\n"
                 "    height: 100 mm\n    lean: 30 deg\n    toward: astern\n"
                 "    rod_length: 2.1 m\n    line_test: 100 N\n    drag: 30 N\n"
                 "  - kind: plain_load\n    on_board: {side: both, outboard: -600 mm}\n"
                 "    at: {forward: 0 mm, outboard: 0 mm, up: 300 mm}\n    pull: 50 N\n"
                 "    azimuth: 0 deg\n    dip: [0 deg, 45 deg]\n\n");
    const Setup s = read(text);
    REQUIRE(s.gear.size() == 3);
    CHECK(s.gear[0].name == "tall holder");
    CHECK(s.gear[0].rod_holder.has_value());
    CHECK(s.gear[0].place.side == Side::starboard);
    CHECK(s.gear[0].place.forward == 20.0_mm);
    CHECK_FALSE(s.gear[0].foot.has_value());
    CHECK(s.gear[2].name == "starboard load");
    CHECK(s.gear[2].plain_load->range.dip_to == 45.0_deg);
  }

  TEST_CASE("setup: an eye bolt is rated by kind and thread") {
    const MaterialLibrary& library = built_in_materials();
    const Thread m8 = library.thread("M8");
    const EyeRating collar = library.eye_bolt("forged collar", m8);
    CHECK(collar.in_line == parse<Force>("140 kgf"));
    CHECK(collar.at_45_deg == parse<Force>("100 kgf"));
    CHECK(collar.breaking == parse<Force>("840 kgf"));
    CHECK(collar.shouldered);
    CHECK(collar.rated);
    CHECK(library.eye_bolt("forged collar M8", m8).in_line == collar.in_line);
    CHECK(library.eye_bolt("machinery", m8).in_line == 1110.0_lbf);
    const EyeRating shoulder = library.eye_bolt("forged shoulder", library.thread("5/16-18"));
    CHECK(shoulder.in_line == 1200.0_lbf);
    CHECK(shoulder.at_45_deg == 300.0_lbf);
    CHECK_FALSE(library.eye_bolt("bent wire", m8).rated);
    CHECK_FALSE(library.eye_bolt("bent wire", m8).shouldered);
    CHECK_THROWS_AS(library.eye_bolt("forged shoulder 5/16", m8), DomainError);
    CHECK_THROWS_AS(library.eye_bolt("forged shoulder", m8), DomainError);
    CHECK_THROWS_AS(library.eye_bolt("forged", m8), DomainError);
    CHECK_THROWS_AS(library.eye_bolt("welded", m8), UnknownName);
  }

  TEST_CASE("setup: mistakes of a board on both sides are reported once and all together") {
    std::string text = with(board_example(), "forward: 75 mm", "forward: 110 mm");
    text = with(text, "wire_diameter: 0.8 mm", "wire_diameter: 8 mm");
    text = with(text, "below_seat: 35 mm", "below_seat: 59 mm");
    const std::vector<Problem> found = problems_of(text);
    REQUIRE(found.size() == 3);
    CHECK(found[0].excerpt.find("below_seat: 59 mm") != std::string::npos);
    CHECK(found[1].excerpt.find("forward: 110 mm") != std::string::npos);
    CHECK(found[2].excerpt.find("wire_diameter: 8 mm") != std::string::npos);
  }

  TEST_CASE("setup: validate refuses a board that a program fills in wrongly") {
    const Setup good = read(board_example());
    CHECK_NOTHROW(validate(good));
    const auto refused = [&](auto change) {
      Setup s = good;
      change(s);
      CHECK_THROWS_AS(validate(s), DomainError);
    };
    refused([](Setup& s) { s.gear.clear(); });
    refused([](Setup& s) { s.gear.resize(5, s.gear[0]); });
    refused([](Setup& s) { s.gear[0].plain_load = PlainLoad{}; });
    refused([](Setup& s) { s.gear[0].downrigger->boom_angles.clear(); });
    refused([](Setup& s) { s.gear[0].downrigger->boom_angles.resize(25); });
    refused([](Setup& s) { s.gear[0].downrigger->fastest = Speed{}; });
    refused([](Setup& s) { s.gear[0].foot->holes.clear(); });
    refused([](Setup& s) { s.gear[0].foot->plate.reset(); });
    refused([](Setup& s) { s.board().board.wood_strength.reset(); });
    refused([](Setup& s) { s.board().board.wood.reset(); });
    refused([](Setup& s) { s.board().board.thickness = Length{}; });
    refused([](Setup& s) { s.board().clear_width = 3.0_m; });
    refused([](Setup& s) { s.board().starboard.along = 300.0_mm; });
    refused([](Setup& s) { s.board().port.metal.reset(); });
    refused([](Setup& s) { s.board().port.fastening->count = 0; });
    refused([](Setup& s) { s.board().hold_downs[0].hole = 300.0_mm; });
    refused([](Setup& s) { s.board().hold_downs[0].eye.reset(); });
    refused([](Setup& s) { s.board().hold_downs[2].place = s.board().hold_downs[0].place; });
    refused([](Setup& s) { s.board().bow_up = 45.0_deg; });
    refused([](Setup& s) { s.factor_overrides["screw"] = 0; });
    Setup plate = read(example());
    plate.gear[0].rod_holder.reset();
    plate.gear[0].downrigger = good.gear[0].downrigger;
    CHECK_THROWS_AS(validate(plate), DomainError);
  }
}
