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
    CHECK_FALSE(s.mount.base.metal.has_value());
    CHECK_FALSE(measuring_list().empty());
  }

  TEST_CASE("setup: the example gives its values") {
    const Setup s = read(example());
    CHECK(s.title == "Rod holder on a reservoir jon-boat, as drawn");
    CHECK(s.file == "test.yaml");
    CHECK(s.units == ReaderUnits::inch);
    CHECK_FALSE(s.salt_water);
    const Host& host = s.mount.host;
    CHECK(host.form == WallForm::closed_section);
    CHECK(host.metal.name == "6063-T5 extrusion");
    CHECK(host.metal.ultimate == parse<Stress>("22 ksi"));
    CHECK(host.metal.yield == parse<Stress>("16 ksi"));
    CHECK(host.thickness == parse<Length>("0.090 in"));
    CHECK(host.flat == parse<Length>("2 in"));
    CHECK_FALSE(host.to_end.has_value());
    const BasePlate& base = s.mount.base;
    REQUIRE(base.outline.size() == 4);
    CHECK(base.outline[2] == PlanPoint{parse<Length>("1 1/2 in"), parse<Length>("15/16 in")});
    REQUIRE(base.metal.has_value());
    CHECK(base.metal->name == "5052-H32 sheet");
    CHECK(base.thickness == parse<Length>("3/16 in"));
    CHECK(base.body == parse<Length>("7/8 in"));
    CHECK(base.from_inboard_edge == parse<Length>("1 in"));
    const Fastening& f = s.mount.fastening;
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
    CHECK(s.mount.host.metal.weld_affected);
    CHECK(s.mount.host.metal.ultimate == parse<Stress>("17 ksi"));
    CHECK(s.mount.host.metal.yield == parse<Stress>("8 ksi"));
    REQUIRE(s.mount.base.metal.has_value());
    CHECK_FALSE(s.mount.base.metal->weld_affected);
  }

  TEST_CASE("setup: a metal written out in place") {
    const Setup s = read(with(example(), "{is: 6063-T5 extrusion, known: assumed}",
                              "{name: mill stock, ultimate: 30 ksi, yield: 25 ksi, source: "
                              "certificate 17}"));
    const Metal& m = s.mount.host.metal;
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
    REQUIRE(round.mount.fastening.holes.size() == 3);
    CHECK(round.mount.fastening.holes[0].x == parse<Length>("3/4 in"));

    text = with(text, "thickness: 3/16 in", "thickness: 3/16 in\n    turned: 90 deg");
    const Setup turned = read(text);
    CHECK(turned.mount.fastening.holes[0].y.value() ==
          doctest::Approx(parse<Length>("3/4 in").value()).epsilon(1e-12));
    CHECK(turned.mount.base.outline[0].x.value() ==
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
    s.mount.host.thickness = Length{};
    CHECK_THROWS_AS(validate(s), DomainError);
    s = read(example());
    s.gear.push_back(s.gear[0]);
    CHECK_THROWS_AS(validate(s), DomainError);
    s = read(example());
    s.mount.fastening.holes.clear();
    CHECK_THROWS_AS(validate(s), DomainError);
  }
}
