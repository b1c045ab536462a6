#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/sweep.hpp>

#include "reading/trials.hpp"

using namespace thole;

namespace {

std::string example(const std::string& name) {
  std::ifstream in(std::string(THOLE_ROOT) + "/examples/" + name + ".yaml");
  REQUIRE(in.good());
  std::stringstream out;
  out << in.rdbuf();
  return out.str();
}

// One pull straight outboard at one height, without weight: statics by hand.
const std::string post = R"(thole: 1
units: metric
water: fresh
mount:
  kind: gunwale_plate
  host:
    form: closed_section
    alloy: {is: 6063-T5 extrusion, known: tagged}
    thickness: {is: 2.5 mm, known: measured}
    flat: 60 mm
  base: {fore_aft: 80 mm, athwart: 50 mm, material: 6061-T6 sheet, thickness: 6 mm}
  fastening:
    hold: tapped
    thread: M6
    material: A4-70
    holes: {fore_aft: 60 mm, athwart: 30 mm}
gear:
  - {kind: plain_load, name: post, at: {forward: 0 mm, outboard: 0 mm, up: 200 mm}, pull: 40 N,
     azimuth: [90 deg, 90 deg], dip: [0 deg, 0 deg]}
condition: {cracks: no, loose_rivets: no, bent_or_corroded: no, soft_wood_or_core: no,
            weld_near_base: no, within_6_in: rib}
)";

// A coarse grid is as good here, and five times as fast.
const Angle coarse = degrees(15);

SweepAnswer swept(const std::string& text, const SweepQuestion& question, unsigned threads = 2,
                  Angle step = coarse) {
  return sweep(text, "test.yaml", built_in_materials(), question,
               {.threads = threads, .step = step, .watch = {}});
}

InputAnswer inputs_of(const std::string& text, unsigned threads = 2) {
  return which_inputs_decide(text, "test.yaml", built_in_materials(),
                             {.threads = threads, .step = coarse, .watch = {}});
}

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  REQUIRE(text.find(from, at + 1) == std::string::npos);
  return text.replace(at, from.size(), to);
}

// By hand: the text with another value, read and assessed.
Assessment by_hand(const std::string& text, Angle step = coarse) {
  return assess(read_setup(text, "test.yaml", built_in_materials()),
                {.step = step, .by_direction = true});
}

// Independent of `worth_of`: least ratio of what counts and has a factor needed.
double least_ratio(const Assessment& a, bool under_load) {
  double least = 1e9;
  for (const CheckResult& c : a.checks) {
    if (c.standing != Standing::applies || !(c.needed > 0) || !std::isfinite(c.factor)) continue;
    if (c.mode.find("fatigue") != std::string::npos ||
        c.gives_way.find("in time") != std::string::npos) {
      continue;
    }
    if (under_load && c.case_title.empty()) continue;
    least = std::min(least, c.factor / c.needed);
  }
  return least;
}

const InputEffect* effect_of(const InputAnswer& a, const std::string& label) {
  for (const InputEffect& e : a.effects) {
    if (e.label == label) return &e;
  }
  return nullptr;
}

bool same_worth(const Worth& a, const Worth& b) {
  return a.verdict == b.verdict && a.ratio == b.ratio && a.gives_way == b.gives_way &&
         a.hold_limit == b.hold_limit && a.setting == b.setting;
}

}  // namespace

TEST_SUITE_BEGIN("unit");

TEST_CASE("sweep: the factor of a plain load falls as its pull grows") {
  const SweepAnswer a = swept(
      post, {.of = "pull", .values = {"20 N", "40 N", "80 N", "160 N"}, .from = {}, .to = {}});
  REQUIRE(a.points.size() == 4);
  CHECK(a.unit == "N");
  for (const SweepPoint& p : a.points) {
    CAPTURE(p.value);
    REQUIRE(p.loaded_ratio);
    REQUIRE(a.as_drawn.loaded_ratio);
    REQUIRE(p.plots);
    CHECK(*p.loaded_ratio * *p.plots ==
          doctest::Approx(*a.as_drawn.loaded_ratio * 40).epsilon(1e-6));
  }
}

TEST_CASE("sweep: the hold limit of a pull on a high post falls as its arm grows") {
  // The couple on the fasteners is pull x height; the side load of the pull itself matters less the
  // higher it acts.
  const SweepAnswer a = swept(
      post,
      {.of = "gear.post.at.up", .values = {"400 mm", "800 mm", "1600 mm"}, .from = {}, .to = {}});
  REQUIRE(a.points.size() == 3);
  CHECK(a.paths == std::vector<std::string>{"gear.0.at.up"});
  std::vector<double> moments;
  for (const SweepPoint& p : a.points) {
    REQUIRE(p.worth);
    REQUIRE(p.worth->hold_limit);
    moments.push_back(p.worth->hold_limit->value() * *p.plots);
  }
  CHECK(moments[1] == doctest::Approx(moments[0]).epsilon(0.02));
  CHECK(moments[2] == doctest::Approx(moments[1]).epsilon(0.01));
  CHECK(moments[0] <= moments[1] * (1 + 1e-9));
}

TEST_CASE("sweep: each wall is what assess says of the text edited by hand") {
  const std::string jon = example("reservoir-jon-boat");
  const SweepAnswer a = swept(jon, {.of = "wall", .values = {}, .from = {}, .to = {}});
  CHECK(a.points.size() == 9);  // the common walls of the tables in inches
  CHECK(a.unit == "m");
  std::size_t figures = 0;
  for (const SweepPoint& p : a.points) {
    if (p.value != "0.070 in" && p.value != "0.125 in") continue;
    CAPTURE(p.value);
    const Assessment hand =
        by_hand(with(jon, "thickness: {is: 0.090 in", "thickness: {is: " + p.value));
    REQUIRE(p.worth);
    CHECK(p.worth->verdict == hand.verdict);
    CHECK(p.worth->ratio == doctest::Approx(least_ratio(hand, false)).epsilon(1e-12));
    CHECK(p.worth->hold_limit == hand.hold_limit);
    CHECK(p.not_before == hand.not_before);
    ++figures;
  }
  CHECK(figures == 2);
}

TEST_CASE("sweep: the row as drawn is what thole check says") {
  const std::string jon = example("reservoir-jon-boat");
  const SweepAnswer a = swept(
      jon, {.of = "mount.host.thickness", .values = {"0.080 in", "0.09 in"}, .from = {}, .to = {}},
      2, SweepOptions{}.step);
  const Assessment check = by_hand(jon, AssessOptions{}.step);
  REQUIRE(a.drawn_at);
  CHECK(*a.drawn_at == 1);
  REQUIRE(a.points[1].worth);
  CHECK(same_worth(*a.points[1].worth, *a.as_drawn.worth));
  CHECK(a.as_drawn.worth->hold_limit == check.hold_limit);
  CHECK(a.as_drawn.not_before == check.not_before);
  CHECK(a.as_drawn.worth->ratio == doctest::Approx(least_ratio(check, false)).epsilon(1e-12));
  CHECK(a.label == "wall thickness");
  const std::string table = sweep_table(read_setup(jon, "test.yaml", built_in_materials()), a);
  CHECK(table.find("\n> 0.09 in ") != std::string::npos);
  CHECK(table.find("\n  0.080 in ") != std::string::npos);
}

TEST_CASE("sweep: one and two threads give the same") {
  const std::string jon = example("reservoir-jon-boat");
  const SweepQuestion q{.of = "drag", .values = {}, .from = "3 lbf", .to = "9 lbf", .steps = 3};
  const SweepAnswer one = swept(jon, q, 1);
  const SweepAnswer two = swept(jon, q, 2);
  const Setup s = read_setup(jon, "test.yaml", built_in_materials());
  CHECK(sweep_json(s, one) == sweep_json(s, two));
  CHECK(sweep_table(s, one) == sweep_table(s, two));
  const InputAnswer first = inputs_of(jon, 1);
  const InputAnswer second = inputs_of(jon, 2);
  CHECK(input_json(s, first) == input_json(s, second));
}

TEST_CASE("sweep: a range has equal steps in the unit of its first value") {
  const SweepAnswer a = swept(
      post, {.of = "gear.0.at.up", .values = {}, .from = "4 in", .to = "203.2 mm", .steps = 4});
  std::vector<std::string> values;
  for (const SweepPoint& p : a.points) values.push_back(p.value);
  CHECK(values == std::vector<std::string>{"4 in", "5 in", "6 in", "7 in", "203.2 mm"});
  const SweepAnswer through = swept(
      post,
      {.of = "mount.base.turned", .values = {}, .from = "-30 deg", .to = "60 deg", .steps = 3});
  CHECK(through.points[1].value == "0 deg");
  CHECK(through.unit == "deg");
  REQUIRE(through.points[2].plots);
  CHECK(*through.points[2].plots == doctest::Approx(30));
}

TEST_CASE("sweep: what cannot be read is kept with its reason and the others are calculated") {
  const SweepAnswer a = swept(
      post, {.of = "holes athwart", .values = {"30 mm", "80 mm", "24 mm"}, .from = {}, .to = {}});
  REQUIRE(a.points.size() == 3);
  CHECK(a.points[0].why_not.empty());
  CHECK_FALSE(a.points[1].why_not.empty());
  CHECK(a.points[1].why_not.find('\n') == std::string::npos);
  CHECK_FALSE(a.points[1].worth);
  CHECK(a.points[2].worth);
  CHECK(a.drawn_at == std::size_t(0));
}

TEST_CASE("sweep: a row of a board has the limits that thole check tells") {
  // There the search by direction finds less than the one over all directions.
  const std::string skiff = example("fjord-skiff-best-fix");
  const SweepAnswer a =
      swept(skiff, {.of = "mount.legs.0.outboard", .values = {"-80 mm"}, .from = {}, .to = {}}, 2,
            SweepOptions{}.step);
  const Assessment check = by_hand(skiff, AssessOptions{}.step);
  REQUIRE(a.points.at(0).worth);
  CHECK(a.points[0].worth->hold_limit == check.hold_limit);
  CHECK(a.points[0].not_before == check.not_before);
}

TEST_CASE("sweep: bumps are swept where the file leaves the usual peak") {
  const auto bumps = [](const std::string& text) {
    return swept(text, {.of = "bumps", .values = {"3", "7"}, .from = {}, .to = {}});
  };
  REQUIRE(example("bay-boat-best-fix").find("running_peak") == std::string::npos);
  const SweepAnswer a = bumps(example("bay-boat-best-fix"));
  CHECK(a.paths == std::vector<std::string>{"use.running_peak"});
  REQUIRE(a.points.size() == 2);
  REQUIRE(a.points[1].worth);
  CHECK(a.points[1].worth->ratio < a.points[0].worth->ratio);
  REQUIRE(post.find("use:") == std::string::npos);
  CHECK(bumps(post).points[0].why_not.empty());
}

TEST_CASE("sweep: how a value is known stays as it is") {
  // 0.090 in is measured there; plain text in its place would be assumed and hold if.
  const SweepAnswer a = swept(post, {.of = "wall", .values = {"3 mm"}, .from = {}, .to = {}});
  REQUIRE(a.points.at(0).worth);
  for (const std::string& c : a.points[0].worth->conditions)
    CHECK(c.find("wall thickness") == std::string::npos);
}

TEST_CASE(
    "sweep: inboard is the other sign of what stands in the file and the cable comes nearer") {
  const std::string boat = example("lake-cartopper");
  const SweepAnswer a = swept(
      boat, {.of = "inboard distance", .values = {"-5 in", "0 in", "5 in"}, .from = {}, .to = {}});
  REQUIRE(a.points.size() == 3);
  CHECK(a.points[0].written == "5 in");
  CHECK(a.points[2].written == "-5 in");
  CHECK(a.drawn_at == std::size_t(0));
  // By hand, boom of 24 in abeam: 5 + 24 - (58 - 50) / 2 = 25 in off the side; at 45 deg
  // 5 + 16.97 - 4 = 17.97 in; astern 24 - 18 = 6 in off the transom and 5 - 4 = 1 in off the side.
  REQUIRE(a.points[0].cable_gap);
  CHECK(a.points[0].cable_gap->value() == doctest::Approx(std::hypot(6.0, 1.0) * 0.0254));
  // 5 in inboard and 45 deg: 7.97 in off the side, still more than 6 in astern.
  REQUIRE(a.points[2].cable_gap);
  CHECK(a.points[2].cable_gap->value() == doctest::Approx(6.0 * 0.0254));
  const SweepAnswer shorter =
      swept(boat, {.of = "boom length", .values = {"12 in"}, .from = {}, .to = {}});
  // Astern the tip is 6 in ahead of the transom and 5 - 4 = 1 in outboard of the side.
  REQUIRE(shorter.points[0].cable_gap);
  CHECK(shorter.points[0].cable_gap->value() == doctest::Approx(0.0254));
}

TEST_CASE("sweep: a wrong question is refused with what was meant") {
  const std::string jon = example("reservoir-jon-boat");
  const auto ask = [&](SweepQuestion q) { return swept(jon, q); };
  CHECK_THROWS_WITH_AS(ask({.of = "mount.host.thicknes", .values = {"2 mm"}, .from = {}, .to = {}}),
                       doctest::Contains("did you mean \"thickness\""), UnknownName);
  CHECK_THROWS_WITH_AS(
      ask({.of = "mount.hots.thickness", .values = {"2 mm"}, .from = {}, .to = {}}),
      doctest::Contains("did you mean mount.host"), UnknownName);
  CHECK_THROWS_WITH_AS(ask({.of = "wal", .values = {"2 mm"}, .from = {}, .to = {}}),
                       doctest::Contains("did you mean \"wall\""), UnknownName);
  CHECK_THROWS_AS(ask({.of = "boom length", .values = {"20 in"}, .from = {}, .to = {}}),
                  UnknownName);
  CHECK_THROWS_AS(ask({.of = "inboard distance", .values = {"2 in"}, .from = {}, .to = {}}),
                  UnknownName);
  CHECK_THROWS_AS(ask({.of = "mount.base", .values = {"2 in"}, .from = {}, .to = {}}), UnknownName);
  CHECK_THROWS_AS(ask({.of = "thole", .values = {"2"}, .from = {}, .to = {}}), UnknownName);
  CHECK_THROWS_WITH_AS(ask({.of = "wall", .values = {"2"}, .from = {}, .to = {}}),
                       doctest::Contains("a unit is required"), UnitError);
  CHECK_THROWS_AS(ask({.of = "wall", .values = {"2 lbf"}, .from = {}, .to = {}}), UnitError);
  CHECK_THROWS_AS(ask({.of = "wall", .values = {}, .from = "2 mm", .to = "2 mm"}), DomainError);
  CHECK_THROWS_AS(ask({.of = "wall", .values = {}, .from = "2 mm", .to = {}}), DomainError);
  CHECK_THROWS_AS(ask({.of = "wall", .values = {}, .from = "2 mm", .to = "3 mm", .steps = 500}),
                  DomainError);
  CHECK_THROWS_AS(ask({.of = "wall", .values = {}, .from = "2 mm", .to = "3 mm", .steps = -1}),
                  DomainError);
  CHECK_THROWS_AS(ask({.of = "drag", .values = {}, .from = {}, .to = {}}), DomainError);
  CHECK_THROWS_AS(ask({.of = "wall", .values = {"2 mm"}, .from = "2 mm", .to = "3 mm"}),
                  DomainError);
  CHECK_THROWS_AS(
      swept(with(jon, "flat: 2 in", "flat: 2"), {.of = "wall", .values = {}, .from = {}, .to = {}}),
      InputError);
}

TEST_CASE("sweep: stopped on the way it says so and keeps what it has") {
  std::atomic<int> calls{0};
  const SweepAnswer a =
      sweep(post, "test.yaml", built_in_materials(),
            {.of = "pull", .values = {"10 N", "20 N", "30 N", "50 N"}, .from = {}, .to = {}},
            {.threads = 1, .watch = [&](const Progress& p) {
               CHECK(p.all == 5);
               return ++calls < 2;
             }});
  CHECK(a.stopped);
  CHECK(a.points[0].worth);
  CHECK_FALSE(a.points[3].worth);
  CHECK(a.points[3].why_not.find("stopped") != std::string::npos);
}

TEST_CASE("inputs: on the jon-boat a thinner wall decides and a caliper is off by less") {
  const std::string jon = example("reservoir-jon-boat");
  const InputAnswer a = inputs_of(jon);
  const InputEffect* thinner = effect_of(a, "next thinner wall");
  const InputEffect* caliper = effect_of(a, "wall thickness");
  REQUIRE(thinner != nullptr);
  REQUIRE(caliper != nullptr);
  CHECK(thinner->decides);
  CHECK(caliper->change < 0);
  CHECK(thinner->change < caliper->change);
  // By hand: 0.080 in is the next thinner, and 0.085 in what the caliper may miss.
  const double drawn = least_ratio(by_hand(jon), true);
  const auto wall = [&](const char* v) {
    return least_ratio(
        by_hand(with(jon, "thickness: {is: 0.090 in", std::string("thickness: {is: ") + v)), true);
  };
  CHECK(thinner->change == doctest::Approx(wall("0.080 in") / drawn - 1).epsilon(1e-9));
  CHECK(caliper->change == doctest::Approx(wall("0.085 in") / drawn - 1).epsilon(1e-9));

  // A wall that nobody measured is tried one common wall thinner, and is to be measured first.
  const InputAnswer guessed =
      inputs_of(with(jon, "{is: 0.090 in, known: measured}", "{is: 0.090 in, known: assumed}"));
  const InputEffect* assumed = effect_of(guessed, "wall thickness");
  REQUIRE(assumed != nullptr);
  CHECK(assumed->decides);
  CHECK(assumed->change == doctest::Approx(thinner->change).epsilon(1e-9));
  CHECK(std::count(guessed.measure_first.begin(), guessed.measure_first.end(), "wall thickness") ==
        1);
  CHECK(effect_of(guessed, "next thinner wall") == nullptr);
}

TEST_CASE("inputs: more load is worth what more pull is") {
  const InputAnswer a = inputs_of(post);
  const InputEffect* load = effect_of(a, "load");
  const InputEffect* pull = effect_of(a, "pull");
  REQUIRE(load != nullptr);
  REQUIRE(pull != nullptr);
  CHECK_FALSE(load->is_input);
  // Statics: a fifth more pull leaves 1 / 1.2 of every factor.
  CHECK(load->change == doctest::Approx(1 / 1.2 - 1).epsilon(1e-6));
  CHECK(pull->change == doctest::Approx(load->change).epsilon(1e-6));
  for (std::size_t i = 1; i < a.effects.size(); ++i) {
    CHECK(a.effects[i - 1].change <= a.effects[i].change);
  }
}

TEST_CASE("inputs: every input is tried or listed with a reason") {
  for (const std::string& text : {post, example("reservoir-jon-boat"),
                                  example("highland-dinghy-best-fix"), example("bay-boat")}) {
    const Setup s = read_setup(text, "test.yaml", built_in_materials());
    CAPTURE(s.title);
    const InputAnswer a = inputs_of(text);
    std::set<std::string> told;
    reading::Document document = reading::read_yaml(text, "test.yaml");
    for (const InputEffect& e : a.effects) {
      CHECK_FALSE(e.tried.empty());
      CHECK_FALSE(e.why_tried.empty());
      for (const std::string& p : e.paths) {
        if (e.is_input) told.insert(reading::without_items(document.root, p));
      }
    }
    for (const InputNotTried& n : a.not_tried) {
      CHECK_FALSE(n.why.empty());
      for (const std::string& p : n.paths) {
        told.insert(p);
        told.insert(reading::without_items(document.root, p));
      }
    }
    for (const Input& i : s.inputs) {
      CAPTURE(i.path);
      CHECK(told.count(i.path) == 1);
    }
  }
}

namespace {

// Values with a unit below a node; of `{is: ...}` the path of the map.
void sizes(const reading::Node& at, const std::string& path, std::vector<std::string>& out) {
  if (at.kind == reading::Node::Kind::text) {
    const auto m = reading::measure_in(at.text);
    if (m && m->dimension != Dimension::number) out.push_back(path);
    return;
  }
  for (std::size_t i = 0; i < at.items.size(); ++i) {
    const bool list = at.kind == reading::Node::Kind::list;
    const std::string key = list ? std::to_string(i) : at.keys[i];
    sizes(at.items[i], key == "is" ? path : path + (path.empty() ? "" : ".") + key, out);
  }
}

bool at_or_below(const std::string& path, const std::string& above) {
  return path == above || path.starts_with(above + ".");
}

}  // namespace

TEST_CASE("inputs: every size in the file of a board and a bracket is tried or listed") {
  for (const char* name : {"lake-cartopper", "highland-dinghy-best-fix"}) {
    CAPTURE(name);
    const std::string text = example(name);
    const InputAnswer a = inputs_of(text);
    std::vector<std::string> told;
    for (const InputEffect& e : a.effects) {
      CHECK((e.paths.empty() || !e.value.empty()));
      told.insert(told.end(), e.paths.begin(), e.paths.end());
    }
    for (const InputNotTried& n : a.not_tried) {
      told.insert(told.end(), n.paths.begin(), n.paths.end());
    }
    const reading::Document document = reading::read_yaml(text, "test.yaml");
    std::vector<std::string> all;
    for (const char* part : {"mount", "gear", "boat", "use"}) {
      if (const reading::Node* at = document.root.find(part)) sizes(*at, part, all);
    }
    CHECK(all.size() > 15);
    for (const std::string& path : all) {
      CAPTURE(path);
      const std::string plain = reading::without_items(document.root, path);
      CHECK(std::any_of(told.begin(), told.end(), [&](const std::string& t) {
        return at_or_below(path, t) || at_or_below(plain, t);
      }));
    }
    // Each input of a board, too.
    for (const Input& i : read_setup(text, "test.yaml", built_in_materials()).inputs) {
      CAPTURE(i.path);
      CHECK(std::any_of(told.begin(), told.end(), [&](const std::string& t) {
        return t == i.path || reading::without_items(document.root, t) == i.path;
      }));
    }
  }
}

TEST_CASE("inputs: what is tried of the boat is what a full assessment says") {
  // Rows of the boat that leave the load list as it is are not assessed again; speed and mass
  // change it here, and running governs.
  const std::string boat =
      with(example("bay-boat-best-fix"), "\nmount:",
           "\nboat: {length: 18 ft, beam: 7 ft, freeboard: 24 in, loaded_mass: 2200 lb,\n"
           "       top_speed: 45 mph, wave_height: 2 ft}\n\nmount:");
  const InputAnswer a = inputs_of(boat);
  CHECK(effect_of(a, "host, bearing") == nullptr);  // told once, as an input
  struct Row {
    const char *label, *from, *to;
    bool felt;
  };
  for (const Row& row :
       {Row{"freeboard", "freeboard: 24 in", "freeboard: ", false},
        Row{"wave height", "wave_height: 2 ft", "wave_height: ", false},
        Row{"mass of the loaded boat", "loaded_mass: 2200 lb", "loaded_mass: ", true},
        Row{"top speed", "top_speed: 45 mph", "top_speed: ", true}}) {
    CAPTURE(row.label);
    const InputEffect* e = effect_of(a, row.label);
    REQUIRE(e != nullptr);
    const std::string to = row.to + e->tried.substr(0, e->tried.find(','));
    CAPTURE(to);
    const Assessment hand =
        assess(read_setup(with(boat, row.from, to), "test.yaml", built_in_materials()),
               {.step = coarse, .neighbours = false, .by_direction = true});
    CHECK(e->worth.verdict == hand.verdict);
    CHECK(e->worth.hold_limit == hand.hold_limit);
    CHECK(e->worth.ratio == doctest::Approx(least_ratio(hand, false)).epsilon(1e-12));
    CHECK((e->change < -0.001) == row.felt);
  }
}

TEST_CASE("inputs: an assumed wall is told one size thinner even where it changes nothing") {
  // A wall so thick that the next thinner one changes nothing: the base plate governs.
  const std::string jon = with(example("reservoir-jon-boat"), "{is: 0.090 in, known: measured}",
                               "{is: 0.375 in, known: assumed}");
  const InputAnswer a = inputs_of(jon);
  const InputEffect* wall = effect_of(a, "wall thickness");
  REQUIRE(wall != nullptr);
  CHECK_FALSE(wall->decides);
  const std::string table = input_table(read_setup(jon, "test.yaml", built_in_materials()), a);
  const std::size_t always = table.find("Always shown");
  const std::size_t end = table.find("\n\n", always);
  REQUIRE(end != std::string::npos);
  CHECK(table.substr(always, end - always).find("wall thickness") != std::string::npos);
  CHECK(table.substr(end).find("wall thickness") == std::string::npos);
}

TEST_CASE("inputs: without a verdict nothing is tried and the reason is told") {
  const std::string text = example("bay-boat");
  const InputAnswer a = inputs_of(text);
  CHECK(a.as_drawn.verdict == Verdict::no_verdict);
  CHECK(a.effects.empty());
  const std::string table = input_table(read_setup(text, "test.yaml", built_in_materials()), a);
  CHECK(table.find("Nothing is tried") != std::string::npos);
}

TEST_CASE("inputs: no line of the tables is wider than a terminal") {
  const std::string jon = example("reservoir-jon-boat");
  const Setup s = read_setup(jon, "test.yaml", built_in_materials());
  const std::string both =
      input_table(s, inputs_of(jon)) +
      sweep_table(s, swept(jon, {.of = "wall", .values = {}, .from = {}, .to = {}}));
  std::istringstream lines(both);
  for (std::string line; std::getline(lines, line);) {
    CAPTURE(line);
    CHECK(line.size() <= 79);
  }
  CHECK(both.find("afe") == std::string::npos);
}

TEST_CASE("values: a unit is kept and numbers read back") {
  using reading::in_unit_of;
  const auto length = [](double m) { return Measure{m, Dimension::length}; };
  CHECK(in_unit_of("7 1/4 in", length(0.0254)) == "1 in");
  CHECK(in_unit_of("7.25in", length(-0.0127)) == "-0.5 in");
  CHECK(in_unit_of("184 mm", length(0.0123)) == "12.3 mm");
  CHECK(in_unit_of("5 ft 10 in", length(1.5)) == "1500 mm");
  CHECK(in_unit_of("25 N m^2", Measure{30, Dimension::bending_stiffness}) == "30 N m^2");
  CHECK(in_unit_of("2e3 N", Measure{1500, Dimension::force}) == "1500 N");
  CHECK(in_unit_of("3", Measure{4.5, Dimension::number}) == "4.5");
  for (const double v : {1e-6, 0.1 + 0.2, 1.0 / 3, 123.456789, 2.0 / 3 * 0.0254}) {
    const std::string text = in_unit_of("1 in", length(v));
    CAPTURE(text);
    CHECK(parse<Length>(text).value() == doctest::Approx(v).epsilon(1e-9));
  }
}

TEST_SUITE_END();
