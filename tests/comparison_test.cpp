// Variants and patterns side by side: each is what the same setup written by hand is, none is
// dropped in silence, and the order is the one that is promised.

#include <thole/comparison.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstddef>
#include <fstream>
#include <numeric>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>

using namespace thole;
using namespace thole::literals;

namespace {

const char* const plate = R"(thole: 1
title: a plate
units: inch
mount:
  kind: gunwale_plate
  host: {form: closed_section, alloy: {is: 6063-T5 extrusion, known: tagged},
         thickness: {is: 0.125 in, known: measured}, flat: 4 in}
  base: {fore_aft: 3 in, athwart: 3 in, material: 5052-H32 sheet, thickness: 1/4 in, body: 1 in}
  fastening: {hold: tapped, thread: 1/4-20, material: {is: "stainless, unmarked", known: tagged},
              holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}}
gear:
  - kind: plain_load
    name: port no. 1
    at: {forward: 0 in, outboard: 0 in, up: 3 in}
    pull: {is: 20 lbf, known: measured}
    azimuth: [0 deg, 180 deg]
    dip: [0 deg, 60 deg]
condition: {cracks: no, loose_rivets: no, bent_or_corroded: no, soft_wood_or_core: no,
            weld_near_base: no, within_6_in: rib}
)";

// A plain sweep is as good here, and five times as fast.
CompareOptions coarse(unsigned threads = 2, std::size_t going = 0) {
  return {.threads = threads, .step = degrees(15), .going = going};
}

Comparison compared(const std::string& text, const CompareOptions& options = coarse()) {
  return compare(text, "t.yaml", built_in_materials(), options);
}

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, from);
  return text.replace(at, from.size(), to);
}

std::string file_text(const std::string& path) {
  std::ifstream in(std::string(THOLE_ROOT) + "/" + path);
  REQUIRE(in.good());
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

const Candidate& called(const Comparison& c, const std::string& name) {
  const auto it = std::find_if(c.candidates.begin(), c.candidates.end(),
                               [&](const Candidate& k) { return k.name == name; });
  REQUIRE_MESSAGE(it != c.candidates.end(), name);
  return *it;
}

// Every figure, input and sentence of the report.
std::string report_of(const Candidate& k) {
  REQUIRE(k.setup);
  REQUIRE(k.assessment);
  return json_report(*k.setup, *k.assessment);
}

std::string by_hand(const std::string& text) {
  const Setup s = read_setup(text, "t.yaml", built_in_materials());
  return json_report(s,
                     assess(s, {.step = degrees(15), .neighbours = false, .by_direction = true}));
}

std::string problems(const std::string& text) {
  try {
    (void)compared(text);
  } catch (const InputError& e) {
    std::string out;
    for (const Problem& p : e.problems()) {
      out += std::to_string(p.line) + ":" + std::to_string(p.column) + ": " + p.message + "\n";
    }
    return out;
  }
  return "";
}

// ---- JSON, as RFC 8259 has it

struct JsonReader {
  const std::string& text;
  std::size_t at = 0;

  void blank() {
    while (at < text.size() && std::isspace(static_cast<unsigned char>(text[at])) != 0) ++at;
  }
  bool take(char c) {
    blank();
    if (at >= text.size() || text[at] != c) return false;
    ++at;
    return true;
  }
  bool word(const std::string& w) {
    if (text.compare(at, w.size(), w) != 0) return false;
    at += w.size();
    return true;
  }
  bool string() {
    if (!take('"')) return false;
    for (; at < text.size() && text[at] != '"'; ++at) {
      if (static_cast<unsigned char>(text[at]) < 0x20) return false;
      if (text[at] == '\\') ++at;
    }
    return take('"');
  }
  bool list(char end, bool keys) {
    if (take(end)) return true;
    do {
      if (keys && (!string() || !take(':'))) return false;
      if (!value()) return false;
    } while (take(','));
    return take(end);
  }
  bool value() {
    blank();
    if (take('{')) return list('}', true);
    if (take('[')) return list(']', false);
    if (at < text.size() && text[at] == '"') return string();
    if (word("true") || word("false") || word("null")) return true;
    const std::size_t from = at;
    while (at < text.size() && std::string("+-.eE0123456789").find(text[at]) != std::string::npos) {
      ++at;
    }
    return at > from;
  }
  bool whole() { return value() && (blank(), at == text.size()); }
};

// ---- Random families

struct Dice {
  std::mt19937 bits;
  int below(int n) { return int(bits() % unsigned(n)); }
  // Some of these, each once, in their order.
  std::string some(const std::vector<std::string>& all) {
    std::vector<std::string> out;
    for (const std::string& a : all) {
      if (below(2) == 0) out.push_back(a);
    }
    if (out.empty()) out.push_back(all[std::size_t(below(int(all.size())))]);
    std::string text = "[";
    for (const std::string& t : out) text += (text.size() > 1 ? ", " : "") + t;
    return text + "]";
  }
};

std::string random_family(Dice& d) {
  std::string out = "patterns:\n";
  out += "  holes_fore_aft: " + d.some({"1", "2", "3"}) + "\n";
  out += "  holes_athwart: " + d.some({"1", "2"}) + "\n";
  out += "  fore_aft: " + d.some({"1 in", "2 1/4 in", "2 3/4 in"}) + "\n";
  out += "  athwart: " + d.some({"1 1/8 in", "2 1/4 in"}) + "\n";
  out += "  threads: " + d.some({"'#10-24'", "1/4-20"}) + "\n";
  if (d.below(2) == 0) out += "  either_way_round: yes\n";
  return out;
}

}  // namespace

TEST_SUITE_BEGIN("unit");

TEST_CASE("comparison: a variant is the setup with its values written by hand") {
  const std::string variants = R"(variants:
  - name: turned
    set:
      mount.base.turned: 90 deg
      mount.fastening.holes: {fore_aft: 1 1/8 in, athwart: 2 1/4 in}
  - name: through-bolted
    set:
      mount.fastening.hold: through_bolt
      mount.fastening.washer: 1/4 fender 1
      mount.fastening.behind: {material: 6061-T6 extrusion, thickness: 1/4 in, fore_aft: 4 in,
                               athwart: 3 in}
  - name: by name
    set: {gear.port no. 1.pull: 10 lbf}
  - name: by number
    set: {gear.0.pull: 10 lbf}
  - name: dropped
    drop: [mount.base.body, condition]
  - name: more gear
    set:
      gear.1: {kind: plain_load, at: {forward: 1 in, outboard: 0 in, up: 2 in}, pull: 5 lbf,
               azimuth: 0 deg, dip: 0 deg}
)";
  const Comparison c = compared(plate + variants);
  REQUIRE(c.candidates.size() == 7);
  CHECK(report_of(c.candidates[0]) == by_hand(plate));
  const std::string holes = "holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}";
  CHECK(report_of(called(c, "turned")) ==
        by_hand(with(with(plate, holes, "holes: {fore_aft: 1 1/8 in, athwart: 2 1/4 in}"),
                     "body: 1 in", "body: 1 in, turned: 90 deg")));
  CHECK(report_of(called(c, "through-bolted")) ==
        by_hand(with(with(plate, "hold: tapped", "hold: through_bolt, washer: 1/4 fender 1"), holes,
                     holes + ", behind: {material: 6061-T6 extrusion, thickness: 1/4 in, fore_aft: "
                             "4 in, athwart: 3 in}")));
  const std::string ten =
      by_hand(with(plate, "pull: {is: 20 lbf, known: measured}", "pull: 10 lbf"));
  CHECK(report_of(called(c, "by name")) == ten);
  CHECK(report_of(called(c, "by number")) == ten);
  const std::string no_condition =
      std::string(plate).substr(0, std::string(plate).find("condition"));
  CHECK(report_of(called(c, "dropped")) == by_hand(with(no_condition, ", body: 1 in", "")));
  CHECK(called(c, "more gear").setup->gear.size() == 2);
}

TEST_CASE("comparison: a variant of a board is the setup with its values written by hand") {
  const std::string board = file_text("examples/fjord-skiff.yaml");
  const Comparison c = compared(board + R"(
variants:
  - name: wider washers
    set: {mount.hold_downs.0.washer_diameter: 40 mm, mount.hold_downs.1.washer_diameter: 40 mm}
  - name: two bolts
    drop: [mount.hold_downs.0]
    set: {mount.hold_downs.1.forward: 0 mm}
)");
  std::string hand = with(board, "washer_diameter: 24 mm", "washer_diameter: 40 mm");
  hand = with(hand, "washer_diameter: 24 mm", "washer_diameter: 40 mm");
  CHECK(report_of(called(c, "wider washers")) == by_hand(hand));
  // Numbers count as in the setup as drawn, whatever is left out.
  const CrossBoard& two = called(c, "two bolts").setup->board();
  REQUIRE(two.hold_downs.size() == 2);
  CHECK(two.hold_downs[0].place.forward.value() == 0);
  CHECK(called(c, "two bolts").fasteners == 2);
}

TEST_CASE("comparison: a pattern is the setup with its holes written by hand") {
  const Comparison c = compared(std::string(plate) + R"(patterns:
  holes_fore_aft: [1, 2, 3]
  holes_athwart: [1, 2]
  fore_aft: 2 1/4 in
  athwart: 1 1/8 in
  threads: ['#10-24', 1/4-20]
  either_way_round: yes
)");
  const std::string holes = "holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}";
  CHECK(report_of(called(c, "2 x 2 holes, 2 1/4 in fore-aft, 1 1/8 in athwart, 1/4-20")) ==
        by_hand(plate));
  CHECK(report_of(called(c, "2 x 1 holes, 2 1/4 in fore-aft, 1/4-20")) ==
        by_hand(with(plate, holes, "holes: {fore_aft: 2 1/4 in}")));
  CHECK(report_of(called(c, "1 x 2 holes, 1 1/8 in athwart, #10-24")) ==
        by_hand(with(with(plate, holes, "holes: {athwart: 1 1/8 in}"), "1/4-20", "'#10-24'")));
  CHECK(report_of(called(c, "3 x 2 holes, 2 1/4 in fore-aft, 1 1/8 in athwart, 1/4-20")) ==
        by_hand(with(plate, holes,
                     "holes: {points: [[-1 1/8 in, -9/16 in], [0 in, -9/16 in], [1 1/8 in, -9/16 "
                     "in], [-1 1/8 in, 9/16 in], [0 in, 9/16 in], [1 1/8 in, 9/16 in]]}")));
  CHECK(
      report_of(called(c, "2 x 2 holes, 2 1/4 in fore-aft, 1 1/8 in athwart, #10-24, turned")) ==
      by_hand(with(with(plate, "body: 1 in", "body: 1 in, turned: 90 deg"), "1/4-20", "'#10-24'")));
}

TEST_CASE("comparison: a base turned one way or the other and a mirrored mount are alike") {
  const Comparison c = compared(std::string(plate) + R"(variants:
  - name: left
    set: {mount.base.turned: 90 deg}
  - name: right
    set: {mount.base.turned: -90 deg}
  - name: inboard
    set: {mount.base.from_inboard_edge: 1 7/8 in, gear.0.azimuth: [20 deg, 160 deg]}
  - name: outboard
    set: {mount.base.from_inboard_edge: 2 1/8 in, gear.0.azimuth: [-160 deg, -20 deg]}
)");
  const auto limit = [&](const char* name) {
    REQUIRE(called(c, name).assessment->hold_limit);
    return called(c, name).assessment->hold_limit->value();
  };
  CHECK(limit("left") == doctest::Approx(limit("right")).epsilon(1e-6));
  CHECK(limit("inboard") == doctest::Approx(limit("outboard")).epsilon(1e-6));
  // The other way round is not the same.
  CHECK(std::abs(limit("left") - limit("inboard")) > 0.01 * limit("left"));
}

TEST_CASE("comparison: what does not fit says why and has no figures") {
  const Comparison c = compared(std::string(plate) + R"(patterns:
  holes_fore_aft: [2, 6]
  fore_aft: [2 1/4 in, 2 3/4 in, 3 1/4 in]
  athwart: 1 1/8 in
)");
  const auto why = [&](const char* name) {
    const Candidate& k = called(c, name);
    CHECK_FALSE(k.assessment);
    return k.why_not;
  };
  CHECK(called(c, "2 x 2 holes, 2 1/4 in fore-aft, 1 1/8 in athwart, 1/4-20").fits());
  CHECK(why("2 x 2 holes, 2 3/4 in fore-aft, 1 1/8 in athwart, 1/4-20") ==
        "holes too near an edge of the base: 1/8 in where 3/8 in is needed");
  CHECK(why("2 x 2 holes, 3 1/4 in fore-aft, 1 1/8 in athwart, 1/4-20") ==
        "a hole lies outside the base");
  CHECK(why("6 x 2 holes, 2 1/4 in fore-aft, 1 1/8 in athwart, 1/4-20") ==
        "holes too near each other: 0.450 in where 5/8 in is needed");
  const std::string table = comparison_table(c);
  CHECK(table.find("Do not fit\n") != std::string::npos);
  CHECK(table.find("2x2 3 1/4 x 1 1/8 1/4-20") != std::string::npos);
}

TEST_CASE("comparison: the same pattern is listed once") {
  const Comparison c = compared(std::string(plate) + R"(patterns:
  holes_fore_aft: [1, 2]
  fore_aft: [2 1/4 in, 57.15 mm]
  athwart: 2 1/4 in
  threads: [1/4-20, 1/4-20 UNC]
  either_way_round: yes
)");
  CHECK(c.combinations == 16);
  // The base is square: 1 x 2, the same turned, and 2 x 2.
  CHECK(c.candidates.size() == 1 + 3);
  CHECK(c.repeats == 13);
}

TEST_CASE("comparison: a named washer goes with its own size of thread only") {
  const std::string bolted =
      with(plate, "hold: tapped", "hold: through_bolt, washer: 1/4 fender 1");
  const std::string family = "patterns: {fore_aft: 2 in, athwart: 1 in, threads: ";
  CHECK(problems(bolted + family + "[1/4-20, M6]}\n").empty());
  CHECK(problems(bolted + family + "['#10-24']}\n").find("for another size") != std::string::npos);
  CHECK(problems(bolted + family + "[5/16-18]}\n").find("for another size") != std::string::npos);
  CHECK(problems(plate + family + "['#10-24', 5/16-18]}\n").empty());
}

TEST_CASE("comparison: thole check reads variants as well and is not changed by them") {
  const std::string good = std::string(plate) +
                           "variants:\n  - name: a\n    set: {mount.base.thickness: 3/8 in}\n"
                           "patterns: {fore_aft: 2 in, athwart: 1 in}\n";
  CHECK(by_hand(good) == by_hand(plate));
  CHECK_THROWS_AS(
      read_setup(with(good, "base.thickness", "base.thicknes"), "t.yaml", built_in_materials()),
      InputError);
}

TEST_CASE("comparison: what is wrong in a variant is told at its own place") {
  const std::string text = std::string(plate) + R"(variants:
  - name: lost
    drop: [mount.fastening.holes]
  - name: long
    set:
      mount.base.turned: 90 deg
      gear.port no. 1:
        kind: plain_load
        pull: 20
)";
  const int first = int(std::count(plate, plate + std::string(plate).size(), '\n')) + 1;
  const std::string said = problems(text);
  CHECK(said.find(std::to_string(first + 2) + ":12: variant \"lost\": mount.fastening.holes is "
                                              "missing") != std::string::npos);
  CHECK(said.find(std::to_string(first + 8) + ":15: variant \"long\": gear.pull: \"20\"") !=
        std::string::npos);
}

TEST_CASE("comparison: the sentence on top names the best and compares it with as drawn") {
  const std::string stronger = std::string(plate) +
                               "variants:\n  - name: thick\n    set: {mount.host.thickness: {is: "
                               "0.25 in, known: measured}}\n";
  const Comparison up = compared(with(stronger, "20 lbf", "4 lbf"));
  CHECK(up.best == std::size_t(1));
  // The wall is the boat's: nobody builds it thicker.
  CHECK(comparison_sentence(up).find(
            "\"thick\" comes first, but by words alone: it holds up to ") == 0);
  CHECK(comparison_sentence(up).find("mount.host.thickness") != std::string::npos);
  CHECK(comparison_sentence(up).find("in parts alone nothing is better than as drawn") !=
        std::string::npos);
  CHECK(comparison_sentence(up).find("as drawn") != std::string::npos);
  const Comparison down = compared(with(with(stronger, "20 lbf", "4 lbf"), "0.25 in", "0.1 in"));
  CHECK(comparison_sentence(down).find("As drawn is best: it holds up to ") == 0);
  const Comparison none = compared(with(stronger, "20 lbf", "2000 lbf"));
  CHECK_FALSE(none.any_holds());
  CHECK(comparison_sentence(none).find("Nothing holds. \"thick\" comes nearest: ") == 0);
  const Comparison refused = compared(with(stronger, "cracks: no", "cracks: yes"));
  CHECK_FALSE(refused.best);
  CHECK(comparison_sentence(refused).find("No candidate has a verdict") == 0);
}

TEST_CASE("comparison: what is built and what is only said are told apart") {
  const Comparison c = compared(with(plate, "20 lbf", "4 lbf") + R"(variants:
  - name: measured
    set: {mount.host.alloy: {is: 6063-T5 extrusion, known: measured}}
  - name: lighter
    set: {gear.0.pull: 3 lbf}
  - name: another metal
    set: {mount.base.material: 6061-T6 extrusion}
  - name: moved
    set: {mount.host.to_end: 9 in, mount.base.thickness: 3/8 in}
  - name: seen
    set: {condition.within_6_in: knee, mount.fastening.holes: {circle: 2 in, count: 3}}
)");
  using Kind = Difference::Kind;
  CHECK(called(c, "as drawn").only_parts());
  CHECK(called(c, "measured").differences ==
        std::vector<Difference>{{Kind::claim, "mount.host.alloy.known"}});
  // Left out, `known` is the default.
  CHECK(called(c, "lighter").differences ==
        std::vector<Difference>{{Kind::load, "gear.port no. 1.pull"},
                                {Kind::claim, "gear.port no. 1.pull.known"}});
  CHECK(called(c, "another metal").differences ==
        std::vector<Difference>{{Kind::material, "mount.base.material"}});
  CHECK(called(c, "moved").only_parts());
  CHECK(called(c, "seen").differs_in(Kind::claim));
  CHECK(called(c, "seen").differs_in(Kind::part));
  const std::string table = comparison_table(c);
  for (const char* text : {"]* measured", "]* lighter", "]* another metal", "]  moved", "]* seen",
                           "Not by parts alone"}) {
    CHECK_MESSAGE(table.find(text) != std::string::npos, text);
  }
}

TEST_CASE("comparison: circles are the circles of a setup and one hole never fits") {
  const std::string family =
      std::string(plate) + "patterns: {circle: [1 1/2 in, 2 in], count: [1, 3, 4]}\n";
  CHECK(problems(family).find("\"1\" is no number of holes from 2 to 24") != std::string::npos);
  CHECK(problems(std::string(plate) + "patterns: {circle: 2 in}\n").find("count is missing") !=
        std::string::npos);
  const Comparison c = compared(with(family, "count: [1, 3, 4]", "count: [3, 4]"));
  REQUIRE(c.candidates.size() == 5);
  CHECK(c.combinations == 4);
  const Candidate& round = called(c, "3 holes on a circle of 2 in, 1/4-20");
  CHECK(round.fasteners == 3);
  CHECK(report_of(round) == by_hand(with(plate, "holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}",
                                         "holes: {circle: 2 in, count: 3}")));
  const Comparison one = compared(std::string(plate) + R"(variants:
  - name: one
    set: {mount.fastening.holes: {points: [[0 in, 0 in]]}}
patterns: {holes_fore_aft: 1, holes_athwart: 1}
)");
  CHECK_FALSE(called(one, "one").fits());
  CHECK(called(one, "one").why_not.find("only friction") != std::string::npos);
  CHECK_FALSE(called(one, "1 x 1 hole, 1/4-20").assessment);
}

TEST_CASE("comparison: only a best one that holds without an if is a success") {
  const std::string light = with(plate, "20 lbf", "2 lbf") +
                            "variants:\n  - name: v\n    set: {mount.base.thickness: 3/8 in}\n";
  const Comparison holds = compared(light);
  CHECK(holds.any_holds());
  CHECK(holds.best_holds());
  const Comparison if_only = compared(with(light, "cracks: no", "cracks: not known"));
  CHECK(if_only.any_holds());
  CHECK_FALSE(if_only.best_holds());
}

TEST_CASE("comparison: the table keeps to 79 columns and claims nothing") {
  const std::string name(60, 'W');
  const Comparison c = compared(with(plate, "title: a plate", "title: " + std::string(150, 'T')) +
                                "variants:\n  - name: " + name +
                                "\n    set: {mount.base.thickness: 3/8 in}\n  - name: drei "
                                "Bl\xC3\xB6"
                                "cke \xE2\x80\x93 gegen\xC3\xBC"
                                "ber, sehr "
                                "lang\n    set: {mount.host.thickness: 1/16 in}\n"
                                "patterns: {fore_aft: 2 in, athwart: [1 in, 2 7/8 in]}\n");
  for (const bool as_given : {false, true}) {
    std::istringstream lines(comparison_table(c, as_given));
    for (std::string line; std::getline(lines, line);) {
      const auto width = std::count_if(line.begin(), line.end(), [](char ch) {
        return (static_cast<unsigned char>(ch) & 0xC0U) != 0x80U;
      });
      if (line.find("TTTT") == std::string::npos) CHECK_MESSAGE(width <= 79, line);
    }
  }
  const std::string table = comparison_table(c);
  for (const char* word : {"safe", "Safe", "certified", "approved"}) {
    CHECK(table.find(word) == std::string::npos);
  }
  CHECK(table.find("a calculation is not an inspection") != std::string::npos);
  CHECK(table.find("as drawn") != std::string::npos);
}

TEST_CASE("comparison: the JSON is JSON") {
  const Comparison c = compared(std::string(plate) +
                                "variants:\n  - name: 'a \"b\" \\ c'\n    set: "
                                "{mount.base.thickness: 3/8 in}\npatterns: {holes_fore_aft: [1, "
                                "2], holes_athwart: [1, 2], fore_aft: 2 in, athwart: [1 in, 4 "
                                "in]}\n");
  for (const bool as_given : {false, true}) {
    const std::string text = comparison_json(c, as_given);
    CHECK(JsonReader{text}.whole());
    std::size_t names = 0;
    for (std::size_t at = 0; (at = text.find("\"origin\":", at)) != std::string::npos; ++at)
      ++names;
    CHECK(names == c.candidates.size());
  }
}

TEST_SUITE_END();

TEST_SUITE_BEGIN("property");

TEST_CASE("comparison: every pattern of a family is counted and the order is the promised one") {
  Dice d{std::mt19937(11)};
  for (int round = 0; round < 6; ++round) {
    const std::string text = std::string(plate) + random_family(d);
    CAPTURE(text);
    const Comparison c = compared(text, coarse(2, 0));
    const auto fit = std::count_if(c.candidates.begin() + 1, c.candidates.end(),
                                   [](const Candidate& k) { return k.fits(); });
    const auto unfit = std::ptrdiff_t(c.candidates.size()) - 1 - fit;
    CHECK(std::size_t(fit + unfit) + c.repeats == c.combinations);
    for (const Candidate& k : c.candidates) CHECK(k.fits() == k.assessment.has_value());
    for (std::size_t i = 1; i < c.candidates.size(); ++i) {
      for (std::size_t j = 1; j < i; ++j) CHECK(c.candidates[i].pattern != c.candidates[j].pattern);
    }

    std::vector<std::size_t> all = c.ranking;
    std::sort(all.begin(), all.end());
    std::vector<std::size_t> numbers(c.candidates.size());
    std::iota(numbers.begin(), numbers.end(), std::size_t{0});
    CHECK(all == numbers);
    REQUIRE(c.ranking.front() == 0);
    const auto verdict = [](const Candidate& k) { return k.assessment ? int(k.verdict()) : 4; };
    const auto limit = [](const Candidate& k) {
      return k.verdict() != Verdict::no_verdict && k.assessment->hold_limit
                 ? k.assessment->hold_limit->value()
                 : -1;
    };
    const auto in_order = [&](const Candidate& a, const Candidate& b) {
      if (verdict(a) != verdict(b)) return verdict(a) < verdict(b);
      if (std::abs(limit(a) - limit(b)) > 2e-3) return limit(a) > limit(b);
      return limit(a) > limit(b) - 2e-3 || a.fasteners <= b.fasteners;
    };
    for (std::size_t i = 2; i < c.ranking.size(); ++i) {
      CHECK(in_order(c.candidates[c.ranking[i - 1]], c.candidates[c.ranking[i]]));
    }
    if (c.best) {
      for (const Candidate& k : c.candidates) CHECK(in_order(c.candidates[*c.best], k));
    }
  }
}

TEST_CASE("comparison: fewer fasteners come first where all else is equal") {
  // Nothing has a limit where a crack refuses the verdict.
  const Comparison c = compared(with(plate, "cracks: no", "cracks: yes") + R"(patterns:
  holes_fore_aft: [3, 2, 1]
  holes_athwart: 2
  fore_aft: 2 1/4 in
  athwart: 1 1/8 in
)");
  REQUIRE(c.candidates.size() == 4);
  CHECK(c.ranking == std::vector<std::size_t>{0, 3, 2, 1});
  CHECK_FALSE(c.best);
}

TEST_CASE("comparison: results do not depend on the number of threads") {
  Dice d{std::mt19937(5)};
  const std::string text = std::string(plate) +
                           "variants:\n  - name: a\n    set: {mount.base.thickness: 3/8 in}\n" +
                           random_family(d);
  const Comparison one = compared(text, coarse(1, 4));
  for (const unsigned threads : {2U, 7U}) {
    const Comparison many = compared(text, coarse(threads, 4));
    CHECK(comparison_json(one) == comparison_json(many));
    CHECK(comparison_table(one) == comparison_table(many));
    REQUIRE(one.candidates.size() == many.candidates.size());
    for (std::size_t i = 0; i < one.candidates.size(); ++i) {
      if (!one.candidates[i].assessment) continue;
      CHECK(report_of(one.candidates[i]) == report_of(many.candidates[i]));
    }
  }
}

TEST_SUITE_END();
