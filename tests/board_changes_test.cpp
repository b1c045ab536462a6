// Drafts of single changes to boards: what they touch, what they leave alone, store sizes, room.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "reading/change_kinds.hpp"
#include "reading/tree_edits.hpp"
#include "reading/variants.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::reading;

namespace {

const std::vector<std::string> boards{"fjord-skiff", "fjord-skiff-first-fix", "lough-boat",
                                      "lough-boat-first-fix", "lake-cartopper"};

std::string text_of(const std::string& name) {
  std::ifstream in(std::string(THOLE_ROOT "/examples/") + name + ".yaml");
  return {std::istreambuf_iterator<char>(in), {}};
}

struct Tried {
  std::string id;
  Draft draft;
  std::optional<Setup> setup;  // nothing: the reader refuses it
  std::string refusal;
};

struct Bench {
  Document document;
  Setup setup;
  Assessment assessment;
  std::vector<Tried> all;

  explicit Bench(const std::string& text)
      : document(read_yaml(text, "board.yaml")),
        setup(read_setup(text, "board.yaml", built_in_materials())) {
    AssessOptions coarse;
    coarse.step = degrees(30);
    coarse.neighbours = false;
    assessment = assess(setup, coarse);
    const Drawn drawn{document, setup, assessment, built_in_materials()};
    for (const DraftKind& kind : board_changes()) {
      std::vector<Draft> drafts;
      kind.draft(drawn, drafts);
      CHECK(drafts.size() <= 6);
      for (Draft& d : drafts) {
        Tried t;
        t.id = std::string(kind.row.id);
        t.draft = std::move(d);
        read(t);
        all.push_back(std::move(t));
      }
    }
  }

  void read(Tried& t) const {
    Document changed = document;
    changed.root = bare(changed.root);
    for (const Edit& e : t.draft.edits) {
      if (e.value.empty()) {
        const Target at = find_path(changed.root, e.path);
        REQUIRE(at.trouble.empty());
        REQUIRE(at.index < at.parent->items.size());
        erase(*at.parent, at.index);
      } else {
        const Document value = read_yaml("x: " + e.value, "edit");
        REQUIRE(put(changed.root, e.path, value.root.items.front(), {}).empty());
      }
    }
    try {
      t.setup = read_tree(changed, built_in_materials());
    } catch (const InputError& e) {
      t.refusal = e.problems().front().message;
    }
  }

  [[nodiscard]] std::vector<const Tried*> of(const std::string& id) const {
    std::vector<const Tried*> out;
    for (const Tried& t : all) {
      if (t.id == id) out.push_back(&t);
    }
    return out;
  }
};

const Bench& bench(const std::string& name) {
  static std::map<std::string, Bench> made;
  auto it = made.find(name);
  if (it == made.end()) it = made.emplace(name, Bench(text_of(name))).first;
  return it->second;
}

std::string last_key(const std::string& path) { return path.substr(path.rfind('.') + 1); }

bool near(Length a, Length b) { return std::abs((a - b).value()) < 1e-6; }

// The hull at the upright leg of a ledge, from the middle of the clear width.
Length hull_at(const CrossBoard& b, Side side) { return 0.5 * b.clear_width + b.ledge(side).along; }

}  // namespace

TEST_SUITE_BEGIN("unit");

TEST_CASE("board changes: every draft of the examples reads or says what is missing") {
  for (const std::string& name : boards) {
    for (const Tried& t : bench(name).all) {
      CAPTURE(name);
      CAPTURE(t.draft.words);
      CHECK_FALSE(t.draft.edits.empty());
      CHECK_FALSE(t.draft.words.empty());
      CHECK(t.draft.words.back() != '.');
      const bool may_be_refused = t.id == "legs-aft" || t.id == "board-on-edge";
      CHECK((t.setup.has_value() || may_be_refused));
      CHECK(t.setup.has_value() == t.refusal.empty());
      CHECK(t.draft.trouble.holes >= 0);
      CHECK(t.draft.trouble.trips == (t.draft.trouble.cost == Cost::nothing ? 0 : 1));
    }
  }
}

TEST_CASE("board changes: no draft touches what was measured or claimed") {
  const std::set<std::string> never{
      "service",    "hull",       "hull_thickness", "hull_alloy",       "flare",      "friction",
      "foot_slope", "brake_slip", "drag",           "line_test",        "wire_break", "mass",
      "depth",      "speed",      "boom_length",    "boom_angles",      "tip_height", "treated",
      "incised",    "source",     "bow_up",         "starboard_higher", "root"};
  for (const std::string& name : boards) {
    const Bench& b = bench(name);
    for (const Tried& t : b.all) {
      CAPTURE(name);
      CAPTURE(t.draft.words);
      bool soft = false;
      for (const Edit& e : t.draft.edits) {
        CAPTURE(e.path);
        CHECK(never.count(last_key(e.path)) == 0);
        if (e.path == "condition.soft_wood_or_core") {
          soft = true;
        } else {
          const bool part = e.path.starts_with("mount.") || e.path.starts_with("gear.");
          CHECK(part);
        }
        if (last_key(e.path) == "is") CHECK(e.path == "mount.clear_width.is");
      }
      CHECK(soft == (t.id == "board-new"));
      if (!t.setup) continue;
      const Setup& s = *t.setup;
      CHECK(s.use.not_a_seat == b.setup.use.not_a_seat);
      CHECK(s.use.running_peak == b.setup.use.running_peak);
      CHECK(s.salt_water == b.setup.salt_water);
      CHECK(s.boat.has_value() == b.setup.boat.has_value());
      CHECK(s.condition.cracks == b.setup.condition.cracks);
      CHECK(s.case_edits.size() == b.setup.case_edits.size());
      CHECK(s.board().board.wet == b.setup.board().board.wet);
      REQUIRE(s.gear.size() == b.setup.gear.size());
      for (std::size_t i = 0; i < s.gear.size(); ++i) {
        const Gear& now = s.gear[i];
        const Gear& was = b.setup.gear[i];
        CHECK(now.name == was.name);
        CHECK(now.place.side == was.place.side);
        REQUIRE(now.downrigger.has_value() == was.downrigger.has_value());
        if (now.downrigger) {
          CHECK(now.downrigger->boom_length == was.downrigger->boom_length);
          CHECK(now.downrigger->mass == was.downrigger->mass);
          CHECK(now.downrigger->brake_slip->value == was.downrigger->brake_slip->value);
        }
        if (now.rod_holder) CHECK(now.rod_holder->drag.value == was.rod_holder->drag.value);
      }
      // What was measured stays so, and as it was; a wider seat alone moves the clear width.
      for (const Input& i : b.setup.inputs) {
        if (i.known != Knowledge::measured || i.path.starts_with("mount.board.")) continue;
        CAPTURE(i.path);
        const auto now = std::find_if(s.inputs.begin(), s.inputs.end(),
                                      [&](const Input& o) { return o.path == i.path; });
        REQUIRE(now != s.inputs.end());
        CHECK(now->known == Knowledge::measured);
        if (i.path != "mount.clear_width") CHECK(now->si == i.si);
      }
    }
  }
}

TEST_CASE("board changes: only sizes of the tables are drafted") {
  const MaterialLibrary& library = built_in_materials();
  for (const std::string& name : boards) {
    const Bench& b = bench(name);
    const Drawn drawn{b.document, b.setup, b.assessment, library};
    const auto sold = [&](const char* property, Length v) {
      const auto sizes = stock_sizes(drawn, "flat_bar", property);
      return std::any_of(sizes.begin(), sizes.end(), [&](Length s) { return near(s, v); });
    };
    for (const Tried& t : b.all) {
      CAPTURE(name);
      CAPTURE(t.draft.words);
      for (const Edit& e : t.draft.edits) {
        const std::string key = last_key(e.path);
        if (e.value.empty()) continue;
        CAPTURE(e.path);
        CAPTURE(e.value);
        if (key == "washer_diameter") CHECK(sold("width", parse<Length>(e.value)));
        if (key == "thickness" && e.path.find("board.thickness") == std::string::npos) {
          const auto walls = library.walls(drawn.inch() ? "inch" : "metric");
          const Length v = parse<Length>(e.value);
          const bool sheet =
              std::any_of(walls.begin(), walls.end(), [&](Length w) { return near(w, v); });
          CHECK((sheet || sold("thickness", v)));
        }
        const std::map<std::string, std::string> tables{
            {"thread", "thread"}, {"washer", "washer"}, {"angle", "angle"}};
        const auto table = tables.find(key);
        if (table != tables.end()) {
          std::string plain = e.value;
          std::erase(plain, '\'');
          CHECK(library.find(table->second, plain) != nullptr);
        }
      }
      if (t.setup && t.id.starts_with("board-") && t.setup->board().board.wood) {
        // Bolts keep 4 D of wood to the edges where a change moves them.
        for (std::size_t i = 0; i < t.setup->board().hold_downs.size(); ++i) {
          const HoldDown& h = t.setup->board().hold_downs[i];
          const double edge =
              0.5 * t.setup->board().board.width.value() - std::abs(h.place.forward.value());
          const auto& was = b.setup.board().hold_downs;
          const bool moved = i >= was.size() || !near(was[i].place.forward, h.place.forward);
          if (moved) CHECK(edge >= 4 * h.thread.diameter.value() - 1e-6);
        }
      }
    }
  }
}

TEST_CASE("board changes: a wider angle leaves hull and gear and board where they are") {
  const Bench& b = bench("fjord-skiff");
  int seen = 0;
  for (const Tried* t : b.of("ledge-larger")) {
    REQUIRE(t->setup);
    const CrossBoard& was = b.setup.board();
    const CrossBoard& now = t->setup->board();
    CHECK(now.port.along > was.port.along);
    CHECK(near(hull_at(now, Side::port), hull_at(was, Side::port)));
    // From the hull inboard: gear and the end of the board.
    const Length gear_was = was.port.along - b.setup.gear.front().place.outboard;
    const Length gear_now = now.port.along - t->setup->gear.front().place.outboard;
    CHECK(near(gear_was, gear_now));
    CHECK(near(was.port.along - was.port_overhang, now.port.along - now.port_overhang));
    ++seen;
  }
  CHECK(seen >= 4);
}

TEST_CASE("board changes: legs of unknown length are named but never given a length") {
  const auto legs = bench("fjord-skiff").of("legs-aft");
  REQUIRE(legs.size() == 1);
  CHECK(legs.front()->refusal.find("length") != std::string::npos);
  CHECK(legs.front()->draft.edits.front().value.find("length") == std::string::npos);
  // Beside legs that are there the new ones are as long.
  const auto more = bench("fjord-skiff-first-fix").of("legs-forward");
  REQUIRE(more.size() == 1);
  REQUIRE(more.front()->setup);
  const auto& now = more.front()->setup->board().legs;
  REQUIRE(now.size() == 4);
  for (const Leg& l : now) {
    CHECK(near(l.length, 320.0_mm));
    CHECK(l.foot_held);
    // Inboard of the ledge, under the board.
    CHECK(l.place.outboard + 0.5 * l.athwart <= 0.0_mm);
    CHECK(abs(l.place.forward) + 0.5 * l.fore_aft <= 99.0_mm);
  }
}

TEST_CASE("board changes: a soft board is replaced and a sound one is not") {
  const auto drafts = bench("lough-boat").of("board-new");
  REQUIRE_FALSE(drafts.empty());
  for (const Tried* t : drafts) {
    REQUIRE(t->setup);
    CHECK(t->setup->condition.soft_wood_or_core == Answer::no);
    CHECK(t->draft.trouble.cost == Cost::store);
    const bool told = std::any_of(t->draft.notes.begin(), t->draft.notes.end(), [](auto& n) {
      return n.find("nothing but the board is soft") != std::string::npos;
    });
    CHECK(told);
    // Never a weaker section than the one that it replaces.
    CHECK(t->setup->board().board.thickness >= 37.9_mm);
    CHECK(t->setup->board().board.width >= 224.9_mm);
  }
  for (const std::string& name : boards) {
    if (name != "lough-boat") CHECK(bench(name).of("board-new").empty());
  }
}

TEST_CASE("board changes: a draft never pushes one part into another") {
  for (const std::string& name : boards) {
    const Bench& b = bench(name);
    CHECK(lacks_room(b.setup, b.setup).empty());
    for (const Tried& t : b.all) {
      CAPTURE(t.draft.words);
      if (t.setup) CHECK(lacks_room(b.setup, *t.setup).empty());
    }
  }
  // By hand: the foot of the skiff's gear begins 120 - 75 = 45 mm outboard, its hold-downs stand at
  // 30 mm: washers to 30 mm wide have room, wider ones have none. At 150 mm apart they would only
  // meet each other above 150 mm, and reach the edges, 24 mm away, above 48 mm.
  Setup s = bench("fjord-skiff").setup;
  for (HoldDown& h : s.board().hold_downs) h.washer = 29.9_mm;
  CHECK(lacks_room(bench("fjord-skiff").setup, s).empty());
  for (HoldDown& h : s.board().hold_downs) h.washer = 32.0_mm;
  CHECK(lacks_room(bench("fjord-skiff").setup, s).find("the foot of") != std::string::npos);
  for (Gear& g : s.gear) g.place.outboard += 4.0_mm;
  CHECK(lacks_room(bench("fjord-skiff").setup, s).empty());
  for (Gear& g : s.gear) g.foot.reset();
  for (HoldDown& h : s.board().hold_downs) h.washer = 50.0_mm;
  CHECK(lacks_room(bench("fjord-skiff").setup, s).find("edge of the board") != std::string::npos);
}

TEST_CASE("board changes: no boom ends where its wire comes down inside the boat") {
  const Setup was = bench("fjord-skiff").setup;
  Setup s = was;
  // 120 mm outboard of the inner edge of a ledge: 150 mm beyond its outer one.
  const Length least = was.board().port.along + 150.0_mm - was.gear.front().place.outboard;
  for (Gear& g : s.gear) g.downrigger->boom_length = least + 1.0_mm;
  CHECK(lacks_room(was, s).empty());
  for (Gear& g : s.gear) g.downrigger->boom_length = least - 1.0_mm;
  CHECK(lacks_room(was, s).find("the wire of the") != std::string::npos);
  s = was;
  for (Gear& g : s.gear) g.downrigger->boom_angles = {degrees(0)};
  CHECK(lacks_room(was, s).find("the wire of the") != std::string::npos);
}

TEST_CASE("board changes: weights are those of the pieces") {
  // 48 x 25 mm more of C24, 2.2 m long: what the table and the assessment take for it, wet.
  const Bench& b = bench("fjord-skiff");
  const auto drafts = b.of("board-bigger");
  REQUIRE_FALSE(drafts.empty());
  const double density = 1200 * b.setup.board().board.wood->specific_gravity;
  CHECK(drafts.front()->draft.trouble.added.value() ==
        doctest::Approx(0.048 * 0.025 * 2.2 * density).epsilon(1e-6));
  CHECK(drafts.front()->draft.trouble.mass_known);
  // Four squares of 30 x 30 x 5 mm, 0.0975 lb/in3.
  for (const Tried* t : b.of("board-washers")) {
    if (t->draft.words.find("30 mm") == std::string::npos) continue;
    CHECK(t->draft.trouble.added.value() ==
          doctest::Approx(4 * 0.03 * 0.03 * 0.005 * 2698.79).epsilon(1e-3));
  }
}

TEST_CASE("board changes: nothing is drafted for a plate") {
  const std::string text = text_of("reservoir-jon-boat");
  CHECK(Bench(text).all.empty());
}

TEST_SUITE_END();
