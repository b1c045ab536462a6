#include <thole/assessment.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <fstream>
#include <sstream>
#include <string>
#include <utility>

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

bool has_input(const Setup& s, const std::string& path) {
  return std::any_of(s.inputs.begin(), s.inputs.end(),
                     [&](const Input& i) { return i.path == path; });
}

bool is_default(const Setup& s, const std::string& path) {
  const Input& i = input(s, path);
  return i.defaulted && i.known == Knowledge::assumed;
}

// Without the new keys, so that each test says its own.
std::string without(std::string text, const std::string& block) {
  const std::size_t at = text.find("\n" + block + ":");
  if (at == std::string::npos) return text;
  std::size_t end = text.find('\n', at + 1);
  while (end != std::string::npos && end + 1 < text.size() &&
         (text[end + 1] == ' ' || text[end + 1] == '#')) {
    end = text.find('\n', end + 1);
  }
  return text.erase(at, (end == std::string::npos ? text.size() : end) - at);
}

std::string bare_board() {
  std::string text = board_example();
  for (const char* block : {"use", "boat", "cases"}) text = without(text, block);
  for (const char* key : {"mass_reach", "boom_raised", "stowed_angles", "speed_at_ball", "finned",
                          "ball_drag", "winch", "winch_stall"}) {
    const std::size_t at = text.find("\n    " + std::string(key) + ":");
    if (at != std::string::npos) text.erase(at, text.find('\n', at + 1) - at);
  }
  return text;
}

std::string bare_plate() {
  std::string text = example();
  for (const char* block : {"use", "boat", "cases"}) text = without(text, block);
  const std::size_t at = text.find("\n    tube_depth:");
  if (at != std::string::npos) text.erase(at, text.find('\n', at + 1) - at);
  return text;
}

std::string with_gear(const std::string& lines) {
  return with(bare_board(), "    mass: 6 kg\n", "    mass: 6 kg\n" + lines);
}

std::string boat(const std::string& lines = "") {
  return "\nboat:\n  length: 14 ft\n  beam: 58 in\n  freeboard: 16 in\n  loaded_mass: 640 lb\n" +
         lines;
}

std::string cases(const std::string& items) { return "\ncases:\n" + items; }

// The lines of commented blocks are read as well.
std::string uncommented(const std::string& text) {
  std::istringstream in(text);
  std::string out, line;
  bool on = false;
  while (std::getline(in, line)) {
    if (line.starts_with("# use:") || line.starts_with("# boat:") || line.starts_with("# cases:")) {
      on = true;
    }
    if (!line.starts_with("#")) on = false;
    std::string l = on ? line.substr(std::min<std::size_t>(2, line.size())) : line;
    const std::size_t mark = l.find_first_not_of(' ');
    if (mark != std::string::npos && l.compare(mark, 2, "# ") == 0) {
      for (const char* key :
           {"running_peak:", "gear_off_on_road:", "hours_per_season:", "water_temperature:",
            "tube_depth:", "planer:", "mass_reach:", "boom_raised:", "stowed_angles:", "ball_drag:",
            "finned:", "speed_at_ball:", "winch:", "winch_stall:"}) {
        if (l.compare(mark + 2, std::string(key).size(), key) == 0) l.erase(mark, 2);
      }
    }
    out += l + "\n";
  }
  return out;
}

// "-2 1/2 in", "12 ft 4 in", "5 lbf ft": whatever of a line reads as a measure, the longest first.
std::vector<std::string> measure_texts(const std::string& line) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const std::size_t sign = i > 1 && line[i - 1] == '-' ? i - 1 : i;
    const bool begins = std::isdigit(static_cast<unsigned char>(line[i])) && sign > 0 &&
                        std::string_view(" [(").find(line[sign - 1]) != std::string_view::npos;
    if (!begins) continue;
    std::size_t end = line.find_first_of(",;]}#:()", i);
    for (end = std::min(end, line.size()); end > i; --end) {
      const std::string text = line.substr(i, end - i);
      if (text.back() == ' ' || std::isdigit(static_cast<unsigned char>(text.back()))) continue;
      try {
        (void)parse_measure(text);
      } catch (const UnitError&) {
        continue;
      }
      out.push_back(text);
      i = end - 1;
      break;
    }
  }
  return out;
}

std::vector<Measure> measures_in(const std::string& line) {
  std::vector<Measure> out;
  for (const std::string& text : measure_texts(line)) out.push_back(parse_measure(text));
  return out;
}

bool any_measure_ends(const std::string& line, const std::string& unit) {
  for (const std::string& text : measure_texts(line)) {
    if (text.ends_with(unit)) return true;
  }
  return false;
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
    const std::string slack = with(text, "drag: 7 lbf", "drag: 6 lbf");
    const auto again = assess(read(slack)).look_again;
    CHECK(std::count(again.begin(), again.end(),
                     "running_pull (not given, taken as 8 lbf) is above the drag (6 lbf): line "
                     "would run out all day. Read both with a luggage scale on the line") == 1);

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
    s.gear.resize(4, s.gear[0]);
    CHECK_NOTHROW(validate(s));
    s.gear.resize(5, s.gear[0]);
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
    refused([](Setup& s) { s.gear[0].downrigger->boom_raised.clear(); });
    refused([](Setup& s) { s.gear[0].downrigger->boom_raised = {100.0_deg}; });
    refused([](Setup& s) { s.gear[0].downrigger->boom_raised.resize(7); });
    refused([](Setup& s) {
      s.gear[0].downrigger->boom_angles.resize(24);
      s.gear[0].downrigger->boom_raised.resize(3);
    });
    refused([](Setup& s) { s.gear[0].downrigger->stowed_angles.resize(25); });
    refused([](Setup& s) { s.gear[0].downrigger->mass_reach = 601.0_mm; });
    refused([](Setup& s) { s.gear[0].downrigger->mass_reach = -501.0_mm; });
    refused([](Setup& s) { s.gear[0].downrigger->slowest_at_ball = Speed{}; });
    refused([](Setup& s) {
      s.gear[0].downrigger->slowest_at_ball = parse<Speed>("2 kn");
      s.gear[0].downrigger->fastest_at_ball = parse<Speed>("1 kn");
    });
    refused([](Setup& s) { s.gear[0].downrigger->ball_drag = 0.1; });
    refused([](Setup& s) { s.gear[0].downrigger->ball_drag = 2.1; });
    refused([](Setup& s) { s.gear[0].downrigger->winch_stall = 40.0_N; });
    refused([](Setup& s) { s.gear[0].downrigger->winch_stall = -40.0_N; });
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
    CHECK_NOTHROW(validate(plate));
    plate.gear[0].foot = good.gear[0].foot;  // it stands on the base of the mount
    CHECK_THROWS_AS(validate(plate), DomainError);
  }

  TEST_CASE("setup: the use of a mount for both kinds") {
    for (const std::string& base : {bare_board(), bare_plate()}) {
      const Setup s =
          read(base +
               "\nuse: {running_peak: {is: 4, known: measured}, gear_off_on_road: yes, "
               "hours_per_season: 250, water_temperature: {is: 54 F, known: measured}}\n");
      CHECK(s.use.running_peak == 4);
      CHECK(s.use.gear_off_on_road);
      CHECK(s.use.hours_per_season == 250);
      REQUIRE(s.use.water_temperature.has_value());
      CHECK(*s.use.water_temperature == doctest::Approx(22 / 1.8).epsilon(1e-14));
      CHECK(input(s, "use.running_peak").known == Knowledge::measured);
      CHECK(input(s, "use.hours_per_season").known == Knowledge::tagged);
      CHECK_FALSE(input(s, "use.hours_per_season").defaulted);
      CHECK(input(s, "use.water_temperature").known == Knowledge::measured);
      CHECK(input(s, "use.water_temperature").si == doctest::Approx(273.15 + 22 / 1.8));
      const Setup left_out = read(base);
      CHECK_FALSE(left_out.use.running_peak.has_value());
      CHECK_FALSE(left_out.use.water_temperature.has_value());
      CHECK_FALSE(left_out.use.gear_off_on_road);
      CHECK(left_out.use.hours_per_season == 100);
      CHECK(is_default(left_out, "use.running_peak"));
      CHECK(input(left_out, "use.running_peak").value == "5 g, cautious default");
      CHECK(input(left_out, "use.running_peak").si == 5);
      CHECK(is_default(left_out, "use.hours_per_season"));
      CHECK(is_default(left_out, "use.gear_off_on_road"));
    }
    CHECK(is_default(read(bare_board()), "use.water_temperature"));
    CHECK(input(read(bare_board()), "use.water_temperature").value == "15 C");  // salt
    CHECK_FALSE(has_input(read(bare_plate()), "use.water_temperature"));        // of no use
    CHECK(read(bare_board() + "\nuse: {not_a_seat: yes}\n").use.not_a_seat);
  }

  TEST_CASE("setup: temperatures as people write them") {
    const auto celsius = [](const std::string& text) {
      return read(bare_board() + "\nuse: {water_temperature: " + text + "}\n")
          .use.water_temperature.value();
    };
    CHECK(celsius("12 C") == 12);
    CHECK(celsius("12C") == 12);
    CHECK(celsius("12 degC") == 12);
    CHECK(celsius("12 \xC2\xB0"
                  "C") == 12);
    CHECK(celsius("0 C") == 0);
    CHECK(celsius("35 C") == 35);
    CHECK(celsius("32 F") == 0);
    CHECK(celsius("50 F") == 10);
    CHECK(celsius("95 degF") == 35);
    CHECK(celsius("53 1/2 F") == doctest::Approx(21.5 / 1.8));
    for (const char* text :
         {"12", "12 K", "285 K", "12 c", "12 f", "-1 C", "35.1 C", "31 F", "95.1 F", "C", "12 C C",
          "1,5 C", "0x1 C", "012 C", "nan C", "12 kg", "[12 C]"}) {
      CAPTURE(text);
      CHECK(problems_of(bare_board() + "\nuse: {water_temperature: " + std::string(text) + "}\n")
                .size() == 1);
    }
  }

  TEST_CASE("setup: the boat and what is taken for it when left out") {
    for (const std::string& base : {bare_board(), bare_plate()}) {
      CHECK_FALSE(read(base).boat.has_value());
      const Setup s = read(base + boat());
      REQUIRE(s.boat.has_value());
      CHECK(s.boat->length == parse<Length>("14 ft"));
      CHECK(s.boat->beam == parse<Length>("58 in"));
      CHECK(s.boat->freeboard == parse<Length>("16 in"));
      CHECK(s.boat->loaded_mass == parse<Mass>("640 lb"));
      CHECK(s.boat->waterline_length.value() == doctest::Approx(0.88 * 14 * 0.3048));
      CHECK(s.boat->waterline_beam.value() == doctest::Approx(0.90 * 58 * 0.0254));
      CHECK(s.boat->chine_beam.value() == doctest::Approx(0.80 * 58 * 0.0254));
      CHECK(in_degrees(s.boat->deadrise) == doctest::Approx(10));
      CHECK(s.boat->wave_height == 0.3_m);
      CHECK(s.boat->mount_from_stern == Length{});
      CHECK_FALSE(s.boat->centre_height.has_value());
      CHECK_FALSE(s.boat->lean_test.has_value());
      CHECK_FALSE(s.boat->top_speed.has_value());
      CHECK_FALSE(s.boat->wind.has_value());
      for (const char* key : {"waterline_length", "waterline_beam", "chine_beam", "deadrise",
                              "centre_height", "wave_height", "mount_from_stern"}) {
        CAPTURE(key);
        CHECK(is_default(s, "boat." + std::string(key)));
      }
      CHECK(input(s, "boat.centre_height").si == 0.7);
      CHECK(input(s, "boat.length").known == Knowledge::tagged);
      CHECK(is_default(s, "use.running_peak"));  // no top speed
      CHECK(is_default(s, "use.water_temperature"));
    }
  }

  TEST_CASE("setup: a boat that is measured all over") {
    const Setup s =
        read(bare_board() +
             boat("  waterline_length: 12 ft\n  waterline_beam: 50 in\n  chine_beam: 44 in\n"
                  "  deadrise: 0 deg\n  centre_height: 0.6 m\n"
                  "  lean_test: {moved: 80 kg, across: 0.6 m, heel: {is: 4 deg, known: measured}}\n"
                  "  top_speed: 22 mph\n  wave_height: 1 ft\n  mount_from_stern: 2 ft\n"
                  "  wind: 15 kn\n  fetch: 20 km\n"));
    const BoatData& b = s.boat.value();
    CHECK(b.waterline_length == parse<Length>("12 ft"));
    CHECK(b.waterline_beam == parse<Length>("50 in"));
    CHECK(b.chine_beam == parse<Length>("44 in"));
    CHECK(b.deadrise == Angle{});
    CHECK(b.centre_height == 0.6_m);
    REQUIRE(b.lean_test.has_value());
    CHECK(b.lean_test->moved == 80.0_kg);
    CHECK(b.lean_test->across == 0.6_m);
    CHECK(in_degrees(b.lean_test->heel) == doctest::Approx(4));
    CHECK(b.top_speed == parse<Speed>("22 mph"));
    CHECK(b.wave_height == parse<Length>("1 ft"));
    CHECK(b.mount_from_stern == parse<Length>("2 ft"));
    CHECK(b.wind == parse<Speed>("15 kn"));
    CHECK(b.fetch == 20000.0_m);
    CHECK(input(s, "boat.fetch").value == "20 km");
    CHECK(input(s, "boat.lean_test.heel").known == Knowledge::measured);
    CHECK_FALSE(has_input(s, "use.running_peak"));  // from the boat
    CHECK(std::none_of(s.inputs.begin(), s.inputs.end(),
                       [](const Input& i) { return i.path.starts_with("boat.") && i.defaulted; }));
    CHECK_FALSE(has_input(
        read(bare_board() + boat("  lean_test: {moved: 80 kg, across: 0.6 m, heel: 4 deg}\n")),
        "boat.centre_height"));
  }

  TEST_CASE("setup: sizes of a boat at their bounds are read and a hair beyond are not") {
    const auto count = [](const std::string& line) {
      return problems_of(bare_board() + boat("  " + line + "\n")).size();
    };
    for (const char* line :
         {"deadrise: 40 deg", "mount_from_stern: 14 ft", "waterline_beam: 58 in",
          "chine_beam: 58 in", "wave_height: 3 m", "wave_height: 0 m", "top_speed: 60 kn",
          "waterline_length: 14.7 ft", "lean_test: {moved: 500 kg, across: 58 in, heel: 20 deg}",
          "lean_test: {moved: 1 kg, across: 50 mm, heel: 0.5 deg}",
          "{wind: 60 kn, fetch: 1000 km}"}) {
      CAPTURE(line);
      const std::string l = line;
      CHECK(count(l[0] == '{' ? "wind: 60 kn\n  fetch: 1000 km" : l) == 0);
    }
    for (const char* line :
         {"deadrise: 40.1 deg", "mount_from_stern: 14 ft 1 in", "waterline_beam: 58.1 in",
          "chine_beam: 58.1 in", "wave_height: 3.01 m", "top_speed: 60.1 kn", "top_speed: 0 kn",
          "waterline_length: 14.8 ft", "lean_test: {moved: 501 kg, across: 1 m, heel: 4 deg}",
          "lean_test: {moved: 80 kg, across: 1 m, heel: 20.1 deg}",
          "lean_test: {moved: 80 kg, across: 1 m, heel: 0.4 deg}", "wind: 15 kn", "fetch: 20 km",
          "deadrise: -1 deg", "top_speed: 22", "top_speed: 22 ft"}) {
      CAPTURE(line);
      CHECK(count(line) == 1);
    }
  }

  TEST_CASE("setup: the new keys of a downrigger") {
    const Setup s = read(with_gear(
        "    mass_reach: 8 in\n    boom_raised: [0 deg, 60 deg]\n    stowed_angles: 180 deg\n"
        "    speed_at_ball: [0 mph, 3.5 mph]\n    finned: yes\n    ball_drag: 1\n"
        "    winch: powered\n    winch_stall: {is: 50 lbf, known: measured}\n"));
    const Downrigger& d = s.gear[1].downrigger.value();
    CHECK(d.mass_reach == parse<Length>("8 in"));
    REQUIRE(d.boom_raised.size() == 2);
    CHECK(d.boom_raised[1] == parse<Angle>("60 deg"));
    CHECK(d.positions() == 6);
    REQUIRE(d.stowed_angles.size() == 1);
    CHECK(in_degrees(d.stowed_angles[0]) == doctest::Approx(180));
    CHECK(d.slowest_at_ball == Speed{});
    CHECK(d.fastest_at_ball == parse<Speed>("3.5 mph"));
    CHECK(d.finned);
    CHECK(d.ball_drag == 1);
    CHECK(d.powered);
    CHECK(d.winch_stall == parse<Force>("50 lbf"));
    CHECK(input(s, "gear.winch_stall").known == Knowledge::measured);
    CHECK(input(s, "gear.speed_at_ball").si == parse<Speed>("3.5 mph").value());
    const Setup one = read(with_gear("    boom_raised: 90 deg\n    speed_at_ball: 2 kn\n"));
    CHECK(one.gear[0].downrigger->boom_raised == std::vector<Angle>{parse<Angle>("90 deg")});
    CHECK(one.gear[0].downrigger->slowest_at_ball == one.gear[0].downrigger->fastest_at_ball);
  }

  TEST_CASE("setup: what is taken for a downrigger when left out") {
    const Setup s = read(bare_board());
    const Downrigger& d = s.gear[0].downrigger.value();
    CHECK(d.mass_reach == 0.3_m);  // half of a boom of 600 mm
    CHECK(d.boom_raised == std::vector<Angle>{Angle{}});
    CHECK(d.stowed_angles.empty());
    CHECK_FALSE(d.slowest_at_ball.has_value());
    CHECK_FALSE(d.fastest_at_ball.has_value());
    CHECK_FALSE(d.finned);
    CHECK(d.ball_drag == 0.5);
    CHECK(d.powered);
    CHECK(d.winch_stall == Force{});
    for (const char* key : {"mass_reach", "boom_raised", "stowed_angles", "finned", "ball_drag",
                            "winch", "winch_stall"}) {
      CAPTURE(key);
      CHECK(is_default(s, "gear." + std::string(key)));
    }
    CHECK(input(s, "gear.winch_stall").si == doctest::Approx((60.0_lbf).value()));
    CHECK(input(s, "gear.winch").value == "powered");
    const Setup small = read(with(bare_board(), "boom_length: 600 mm", "boom_length: 400 mm"));
    CHECK(small.gear[0].downrigger->mass_reach == 0.2_m);
    CHECK(input(small, "gear.mass_reach").si == 0.2);

    const Setup hand = read(with_gear("    winch: hand\n"));
    CHECK_FALSE(hand.gear[0].downrigger->powered);
    CHECK(hand.gear[0].downrigger->winch_stall == Force{});
    CHECK_FALSE(has_input(hand, "gear.winch_stall"));
    CHECK(input(hand, "gear.winch").known == Knowledge::tagged);
    const Setup geared = read(with_gear("    winch: hand\n    winch_stall: 50 lbf\n"));
    CHECK_FALSE(geared.gear[0].downrigger->powered);
    CHECK(geared.gear[0].downrigger->winch_stall == parse<Force>("50 lbf"));
  }

  TEST_CASE("setup: the butt in its tube and the pull of a planer") {
    CHECK(read(bare_plate()).gear[0].rod_holder->tube_depth == 0.2_m);
    CHECK(is_default(read(bare_plate()), "gear.tube_depth"));
    const std::string rod = "    running_pull: {is: 5 lbf, known: measured}\n";
    const Setup deep = read(with(bare_plate(), rod, rod + "    tube_depth: 9 in\n"));
    CHECK(deep.gear[0].rod_holder->tube_depth == parse<Length>("9 in"));
    CHECK(input(deep, "gear.tube_depth").known == Knowledge::tagged);

    // 1/2 rho U^2 C_R S by hand: fresh water of 10 C has 999.70 kg/m^3 (open tables).
    const double area = 0.25 * 3.14159265358979 * 0.124 * 0.124;
    const double pull = 0.5 * 999.70 * 1.1176 * 1.1176 * 1.4 * area;
    const Setup s =
        read(with(bare_plate(), rod, "    planer: {diameter: 124 mm, speed: 2.5 mph}\n"));
    CHECK(s.gear[0].rod_holder->running_pull.value() == doctest::Approx(pull).epsilon(1e-5));
    CHECK(is_default(s, "gear.running_pull"));
    CHECK(input(s, "gear.running_pull").value == "2.37 lbf, computed from the planer");
    CHECK(input(s, "gear.planer.diameter").si == 0.124);
    CHECK(is_default(s, "use.water_temperature"));
    CHECK(input(s, "use.water_temperature").value == "50 F");  // fresh
    const Setup flat =
        read(with(bare_plate(), rod, "    planer: {area: 12076.28 mm2, speed: 2.5 mph}\n"));
    CHECK(flat.gear[0].rod_holder->running_pull.value() == doctest::Approx(pull).epsilon(1e-5));
    // Sea water of 15 C: 1025.97 kg/m^3 (as above), 2.63 % more.
    const Setup salt =
        read(with(with(bare_plate(), rod, "    planer: {diameter: 124 mm, speed: 2.5 mph}\n"),
                  "water: fresh", "water: salt"));
    CHECK(salt.gear[0].rod_holder->running_pull.value() ==
          doctest::Approx(pull * 1025.97 / 999.70).epsilon(1e-5));
    CHECK(problems_of(
              with(bare_plate(), rod, rod + "    planer: {diameter: 124 mm, speed: 2.5 mph}\n"))
              .size() == 1);
  }

  TEST_CASE("setup: several gears on one plate have names of their own") {
    const std::string rod =
        "  - kind: rod_holder\n    height: 4 in\n    lean: 60 deg\n    toward: outboard\n"
        "    rod_length: 7 ft\n    line_test: 20 lbf\n    drag: 7 lbf\n";
    const std::string load =
        "  - kind: plain_load\n    at: {forward: 0 in, outboard: -1 in, up: 4 in}\n"
        "    pull: 40 lbf\n    azimuth: 0 deg\n    dip: 0 deg\n";
    const Setup s = read(with(bare_plate(), "\ncondition:", rod + rod + load + "\ncondition:"));
    REQUIRE(s.gear.size() == 4);
    CHECK(s.gear[0].name == "starboard rod");
    CHECK(s.gear[1].name == "rod holder");
    CHECK(s.gear[2].name == "rod holder 2");
    CHECK(s.gear[3].name == "load");
    CHECK(problems_of(with(bare_plate(), "\ncondition:", rod + rod + load + load + "\ncondition:"))
              .size() == 1);
    const std::string named = with(rod, "    height", "    name: starboard rod\n    height");
    CHECK(problems_of(with(bare_plate(), "\ncondition:", named + "\ncondition:")).size() == 1);
  }

  TEST_CASE("setup: what the owner does to the load cases") {
    const Setup s = read(
        bare_board() +
        cases(
            "  - change: trolling-in-waves\n    pull: {is: 30 lbf, known: measured}\n"
            "    category: occasional\n    decides: no\n    azimuth: [-30 deg, 30 deg]\n"
            "    dip: 45 deg\n    why: read off a scale in a chop\n"
            "  - leave_out: boarding-grab\n    why: nobody swims from this boat\n"
            "  - add: towing a float behind\n    gear: port downrigger\n    pull: 40 lbf\n"
            "    azimuth: [-30 deg, 30 deg]\n    dip: [0 deg, 20 deg]\n    category: occasional\n"
            "    why: the float of the kids\n"
            "  - add: a line made fast\n    pull: 20 lbf\n    category: everyday\n    why: at "
            "anchor\n"
            "  - add: a hard landing\n    peak: 6\n    category: accident\n    why: seen once\n"));
    REQUIRE(s.case_edits.size() == 5);
    const CaseEdit& change = s.case_edits[0];
    CHECK(change.what == CaseEdit::What::change);
    CHECK(change.name == "trolling-in-waves");
    CHECK(change.why == "read off a scale in a chop");
    CHECK(change.pull == 30.0_lbf);
    CHECK(change.category == Category::occasional);
    CHECK(change.decides == false);
    REQUIRE(change.range.has_value());
    CHECK(*change.range == DirectionRange{parse<Angle>("-30 deg"), parse<Angle>("30 deg"),
                                          parse<Angle>("45 deg"), parse<Angle>("45 deg")});
    CHECK_FALSE(change.peak.has_value());
    CHECK(change.gear.empty());
    CHECK(input(s, "cases.pull").known == Knowledge::measured);
    const CaseEdit& out = s.case_edits[1];
    CHECK(out.what == CaseEdit::What::leave_out);
    CHECK(out.name == "boarding-grab");
    CHECK_FALSE(out.pull.has_value());
    CHECK_FALSE(out.category.has_value());
    const CaseEdit& add = s.case_edits[2];
    CHECK(add.what == CaseEdit::What::add);
    CHECK(add.name == "towing a float behind");
    CHECK(add.gear == "port downrigger");
    CHECK(add.range->dip_to == parse<Angle>("20 deg"));
    CHECK_FALSE(add.decides.has_value());
    CHECK(s.case_edits[3].gear.empty());
    CHECK_FALSE(s.case_edits[3].range.has_value());
    CHECK(s.case_edits[4].peak == 6);
    CHECK(s.case_edits[4].category == Category::accident);
    CHECK(read(bare_board()).case_edits.empty());
    CHECK(read(bare_plate() + cases("  - leave_out: fish-strike\n    why: no fish here\n"))
              .case_edits.size() == 1);
  }

  TEST_CASE("setup: a mistake of the list of load cases stands at its item") {
    const std::vector<Problem> found =
        problems_of(bare_board() + cases("  - leave_out: boarding-grab\n    why: nobody swims\n"
                                         "  - leave_out: sea-monster\n    why: never seen\n"));
    REQUIRE(found.size() == 1);
    CHECK(found[0].message.starts_with("cases: no load case is called \"sea-monster\""));
    CHECK(found[0].excerpt.find("leave_out: sea-monster") != std::string::npos);
    // 40 characters of three bytes each are 120 bytes; 121 of one byte are too many.
    const auto why = [](const std::string& words) {
      return problems_of(bare_board() +
                         cases("  - leave_out: boarding-grab\n    why: '" + words + "'\n"))
          .size();
    };
    CHECK(why(std::string(120, 'a')) == 0);
    CHECK(why(std::string(121, 'a')) == 1);
    CHECK(why("") == 1);
    CHECK(why("   ") == 1);
    std::string long_word;
    for (int i = 0; i < 120; ++i) long_word += "\xC3\xA5";
    CHECK(why(long_word) == 0);  // characters, not bytes
  }

  TEST_CASE("setup: what is missing tells how to measure it") {
    const std::vector<Problem> found =
        problems_of(with(bare_plate(), "    drag: {is: 7 lbf, known: measured}\n", ""));
    REQUIRE(found.size() == 1);
    CHECK(found[0].message.find("luggage scale") != std::string::npos);
    const std::string schema = setup_schema();
    for (const char* key : {"drag", "brake_slip", "running_pull", "winch_stall", "planer"}) {
      CAPTURE(key);
      const std::size_t at = schema.find("\"" + std::string(key) + "\": {");
      REQUIRE(at != std::string::npos);
      CHECK(schema.substr(at, schema.find('\n', at) - at).find("luggage scale") !=
            std::string::npos);
    }
    CHECK(schema.find("phone held as a level") != std::string::npos);
    for (const char* kind : {"gunwale_plate", "cross_board"}) {
      CAPTURE(kind);
      CHECK(starter_setup(kind).find("luggage scale") != std::string::npos);
      CHECK(measuring_list(kind).find("luggage scale") != std::string::npos);
      CHECK(measuring_list(kind).find("Lean test") != std::string::npos);
      std::istringstream list(measuring_list(kind));
      for (std::string line; std::getline(list, line);) {
        CAPTURE(line);
        CHECK(line.size() <= 79);
      }
    }
  }

  TEST_CASE("setup: a starter in metric units names no inch and each of its measures is near") {
    for (const char* kind : {"gunwale_plate", "bracket", "cross_board"}) {
      CAPTURE(kind);
      const std::string inch = starter_setup(kind);
      const std::string metric = starter_setup(kind, ReaderUnits::metric);
      std::istringstream of_inch(inch), of_metric(metric);
      bool begun = false;
      std::string a, b;
      while (std::getline(of_inch, a) && std::getline(of_metric, b)) {
        CAPTURE(a);
        CAPTURE(b);
        CHECK(b.size() <= 102);
        begun = begun || a == "thole: 1";
        if (!begun) {
          CHECK(a == b);
          continue;
        }
        const std::vector<Measure> was = measures_in(a), is = measures_in(b);
        for (const char* unit : {" in", " ft", " lb", " lbf", " mph", " mi"}) {
          CHECK_FALSE(any_measure_ends(b, unit));
        }
        REQUIRE(was.size() == is.size());
        for (std::size_t i = 0; i < was.size(); ++i) {
          CHECK(is[i].dimension == was[i].dimension);
          CHECK(is[i].si == doctest::Approx(was[i].si).epsilon(0.08));
        }
      }
      CHECK_FALSE(std::getline(of_metric, b));
      const Setup s = read(metric);
      CHECK(s.units == ReaderUnits::metric);
      CHECK(s.gear.size() == read(inch).gear.size());
    }
  }

  TEST_CASE("setup: the commented keys of the starters are keys") {
    for (const auto& blank : {std::pair{"gunwale_plate", ReaderUnits::inch},
                              {"gunwale_plate", ReaderUnits::metric},
                              {"cross_board", ReaderUnits::inch},
                              {"cross_board", ReaderUnits::metric}}) {
      const auto kind = blank.first;
      const auto units = blank.second;
      CAPTURE(kind);
      const std::string text = uncommented(starter_setup(kind, units));
      const std::vector<Problem> found = problems_of(text);
      std::string all;
      for (const Problem& p : found) all += to_text(p);
      INFO(all);
      REQUIRE(found.empty());
      const Setup s = read(text);
      CHECK(s.units == units);
      REQUIRE(s.boat.has_value());
      CHECK(s.boat->lean_test.has_value());
      CHECK(s.boat->fetch.has_value());
      CHECK(s.use.water_temperature == 10);
      CHECK(s.case_edits.size() == 3);
    }
    const Setup board = read(uncommented(starter_setup("cross_board")));
    CHECK(board.gear[0].downrigger->boom_raised.size() == 2);
    CHECK_FALSE(board.gear[0].downrigger->powered);
    CHECK(read(uncommented(starter_setup())).gear[0].rod_holder->running_pull < 8.0_lbf);
  }
}
