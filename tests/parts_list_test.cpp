// What to buy and to cut, and the sheet to measure by. Lengths worked by hand from the setup's
// figures and the heights of nuts and washers as published.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <stdexcept>
#include <string>
#include <tuple>
#include <vector>

#include <thole/measuring.hpp>
#include <thole/metal_pairs.hpp>
#include <thole/parts_list.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>

#include "report/cards.hpp"
#include "support/hosts.hpp"
#include "support/inserts.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using doctest::Approx;
using test::read;
using test::with;

namespace {

const MaterialLibrary& library() { return built_in_materials(); }

std::string text_of(const std::filesystem::path& file) {
  std::ifstream in(file);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string example_text(const std::string& name) {
  return text_of(THOLE_ROOT "/examples/" + name + ".yaml");
}

std::vector<std::filesystem::path> examples() {
  std::vector<std::filesystem::path> out;
  for (const auto& e : std::filesystem::directory_iterator(THOLE_ROOT "/examples")) {
    if (e.path().extension() == ".yaml") out.push_back(e.path());
  }
  std::sort(out.begin(), out.end());
  REQUIRE(out.size() == 18);
  return out;
}

PartsList list_of(const std::string& text) { return parts_list(read(text), library()); }

bool starts(const std::string& text, const std::string& start) { return text.rfind(start, 0) == 0; }

const PartRow& row_of(const PartsList& list, const std::string& start) {
  for (const PartRow& r : list.rows) {
    if (starts(r.what, start)) return r;
  }
  throw std::runtime_error("no row \"" + start + "\"");
}

bool noted(const PartsList& list, const std::string& part) {
  return std::any_of(list.notes.begin(), list.notes.end(),
                     [&](const std::string& n) { return n.find(part) != std::string::npos; });
}

double mm(const std::optional<Length>& v) {
  REQUIRE(v.has_value());
  return v->value() * 1000;
}

int count(const std::string& text, const std::string& part) {
  int n = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
  return n;
}

std::string card(cards::Card (*of)(const SheetContent&), const Setup& s,
                 const Assessment& a = Assessment{}) {
  return of(SheetContent{s, a, library(), {}, {}, "test.yaml", "", "", Paper::a4}).html;
}

// Fasteners that go through a hole, by how their row begins.
int in_holes(const PartsList& list) {
  int n = 0;
  for (const PartRow& r : list.rows) {
    if (r.kind != PartKind::fastener) continue;
    for (const char* head : {"bolt ", "eye bolt", "machine screw", "U-bolt", "pin ", "lag screw",
                             "wood screw", "self-tapping", "blind rivet", "solid rivet", "clamp"}) {
      if (starts(r.what, head)) n += r.count;
    }
  }
  return n;
}

int holes_of(const Setup& s) {
  std::size_t n = 0;
  if (!s.on_board()) {
    const GunwalePlate& m = s.plate();
    n = m.fastening.holes.size() + (m.second ? m.second->holes.size() : 0);
    if (m.bracket && m.bracket->fitting) n += m.bracket->fitting->fastening.holes.size();
    return int(n);
  }
  const CrossBoard& m = s.board();
  n = m.hold_downs.size();
  for (const Ledge* l : {&m.port, &m.starboard}) {
    if (l->fastening) n += std::size_t(l->fastening->count);
  }
  for (const Gear& g : s.gear) {
    if (g.foot) n += g.foot->holes.size();
  }
  return int(n);
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("parts: nuts and washers are no thinner than the published ones") {
    // Greatest heights: ISO 7040 and ASME B18.16.6 (NE, NM) from memory, in mm and inches; washers
    // ISO 7089 and ASME B18.21.1 type A, from memory.
    struct Published {
      const char* thread;
      double nut, washer;
    };
    constexpr double in = 25.4;
    for (const Published& p : {Published{"M5", 6.8, 1.1},
                               {"M6", 8.0, 1.6},
                               {"M8", 9.5, 1.6},
                               {"M10", 11.9, 2.0},
                               {"M12", 14.9, 2.5},
                               {"#8-32", 0.240 * in, 0.040 * in},
                               {"#10-24", 0.240 * in, 0.049 * in},
                               {"1/4-20", 0.328 * in, 0.065 * in},
                               {"5/16-18", 0.359 * in, 0.083 * in},
                               {"3/8-16", 0.468 * in, 0.083 * in},
                               {"1/2-13", 0.609 * in, 0.109 * in}}) {
      CAPTURE(p.thread);
      const Thread t = library().thread(p.thread);
      CHECK(mm(nut_height(t)) >= p.nut);
      CHECK(mm(nut_height(t)) < p.nut + 2);
      CHECK(mm(washer_thickness(t)) >= p.washer);
    }
  }

  TEST_CASE("parts: a store's bolt is never shorter than needed and never two steps longer") {
    const Thread metric = library().thread("M8"), inch = library().thread("1/4-20");
    // ISO 888 and the usual inch steps, from memory.
    CHECK(mm(store_bolt_length(library(), metric, 25.0_mm)) == Approx(25));
    CHECK(mm(store_bolt_length(library(), metric, 25.1_mm)) == Approx(30));
    CHECK(mm(store_bolt_length(library(), metric, 71.0_mm)) == Approx(80));
    CHECK(mm(store_bolt_length(library(), inch, 1.01_in)) == Approx(31.75));
    CHECK(mm(store_bolt_length(library(), inch, 3.51_in)) == Approx(101.6));
    CHECK_FALSE(store_bolt_length(library(), metric, 301.0_mm).has_value());
    for (double need = 3; need < 290; need += 0.7) {
      for (const Thread& t : {metric, inch}) {
        const double got = mm(store_bolt_length(library(), t, need * 1e-3 * si::metre));
        CHECK(got >= need - 1e-6);
        CHECK(got <= std::max(need + 51, 13.0));
      }
    }
  }

  TEST_CASE("parts: lengths of screws in metal are those worked by hand") {
    // Base 3/16 in, wall 0.090 in; two threads of 1/4-20 are 0.1 in: 0.378 in.
    const PartsList tapped = list_of(test::jon_boat);
    const PartRow& screw = row_of(tapped, "machine screw 1/4-20");
    CHECK(mm(screw.length) == Approx(12.7));
    CHECK(screw.what == "machine screw 1/4-20 x 1/2 in");
    CHECK(screw.count == 4);
    CHECK(screw.spare == 1);
    CHECK_FALSE(screw.assumed);
    // With a bar of 3/8 in: 0.753 in.
    const std::string bar = test::held("tapped_bar", "1/4-20", test::bar_line);
    CHECK(mm(row_of(list_of(bar), "machine screw").length) == Approx(25.4));
    // A coil of 3/8 in in that bar: the same depth of thread.
    const PartsList coil = list_of(test::in_coil);
    CHECK(mm(row_of(coil, "machine screw").length) == Approx(25.4));
    CHECK(row_of(coil, "coil insert").count == 4);
    // Threaded rivet M6: 4.76 + 2.29 + 9 = 16.05 mm.
    const PartsList blind = list_of(test::blind_insert);
    CHECK(mm(row_of(blind, "machine screw M6").length) == Approx(20));
    CHECK(row_of(blind, "machine screw M6").assumed);
    CHECK(row_of(blind, "threaded rivet insert").count == 4);
    CHECK(row_of(blind, "threaded rivet insert").spare == 2);
    // 3/16 + 0.090 + 1/4 in for the point: 0.528 in.
    CHECK(mm(row_of(list_of(test::self_tapping), "self-tapping").length) == Approx(15.875));
    // Solid rivet: 0.1875 + 0.090 + 1.5 x 0.1875 = 0.5588 in.
    CHECK(mm(row_of(list_of(test::solid_rivet), "solid rivet").length) == Approx(0.55875 * 25.4));
  }

  TEST_CASE("parts: lengths of bolts and screws in other hosts are those worked by hand") {
    // 1/4 in base + 1 1/2 in oak + washer 0.068 + nut 0.35 + 0.1 in = 2.27 in.
    const PartsList bolts = list_of(test::timber_text);
    CHECK(mm(row_of(bolts, "bolt 1/4-20").length) == Approx(63.5));
    CHECK(row_of(bolts, "locknut 1/4-20").count == 4);
    CHECK(row_of(bolts, "washer 1/4 fender 1").count == 4);
    // A screw keeps the length of the file.
    const PartsList lag = list_of(test::with_screws("lag_screw", "5/16", "2 in"));
    CHECK(mm(row_of(lag, "lag screw").length) == Approx(50.8));
    CHECK(row_of(lag, "lag screw").count == 4);
    // Backing plate of 1/2 in, base without a thickness: a choice of lengths.
    // 3/4 + 1/2 + 0.084 + 0.425 + 0.111 = 1.870 in; 2 1/4 in leaves 0.380: 3/8 in.
    const PartsList bay = list_of(example_text("bay-boat-best-fix"));
    const PartRow& open = row_of(bay, "bolt 5/16-18");
    CHECK_FALSE(open.length.has_value());
    CHECK(open.assumed);
    CHECK(open.what.find("2 1/4 in up to 3/8 in") != std::string::npos);
    CHECK(noted(bay, "no thickness"));
  }

  TEST_CASE("parts: lengths of a board's bolts are those worked by hand") {
    const PartsList list = list_of(example_text("fjord-skiff-best-fix"));
    // Ledge 8 + hull 6 + backing 5 + washer 2.2 + nut 10.9 + two threads 2.5 = 34.5 mm.
    const PartRow& ledge = row_of(list, "bolt M8 x");
    CHECK(mm(ledge.length) == Approx(35));
    CHECK(ledge.count == 6);
    // Board 48 + ledge 8 + washers 6 and 3.2 + nut 15.7 + two threads 3.5 = 84.4 mm.
    const PartRow& down = row_of(list, "bolt M12 x 90");
    CHECK(mm(down.length) == Approx(90));
    CHECK(down.count == 4);
    CHECK(row_of(list, "plate washer M12, 50 mm").count == 4);
    // 6 ledge bolts; 4 hold-downs and 8 bolts of the gears.
    CHECK(row_of(list, "locknut M8").count == 6);
    CHECK(row_of(list, "locknut M12").count == 12);
    const PartsList eyes = list_of(example_text("fjord-skiff"));
    CHECK(row_of(eyes, "eye bolt, forged collar, M8").count == 4);
    CHECK(noted(eyes, "long shank"));
  }

  TEST_CASE("parts: bolts of a flared ledge are longer by the wedge under the board") {
    // 70 mm outboard of the edge that a flare of 12 deg touches: 70 x tan 12 deg = 14.88 mm, on top
    // of 84.4 mm: 99.3 mm, where 90 mm would do on a level seat.
    // The gear's holes closer together, out of the way of the bolts.
    const std::string flat = with(
        with(example_text("fjord-skiff-best-fix"), "holes: {fore_aft: 150 mm, athwart: 150 mm}",
             "holes: {fore_aft: 150 mm, athwart: 110 mm}"),
        "      thread: M12\n      material: A4-70\n      plate",
        "      thread: M8\n      material: A4-70\n      plate");
    std::string text = with(flat, "flare: {is: 0 deg, known: measured}",
                            "flare: {is: 12 deg, known: measured}\n      packed: yes");
    for (std::size_t at = text.find("outboard: 20 mm"); at != std::string::npos;
         at = text.find("outboard: 20 mm")) {
      text.replace(at, 15, "outboard: 70 mm");
    }
    CHECK(mm(row_of(list_of(flat), "bolt M12").length) == Approx(90));
    const PartsList list = list_of(text);
    CHECK(mm(row_of(list, "bolt M12").length) == Approx(100));
    CHECK(row_of(list, "bolt M12").why.find("wedge 14.9 mm") != std::string::npos);
    // Its thick end: 100 x tan 12 deg = 21.26 mm.
    CHECK(row_of(list, "wedge").why.find("21.3 mm") != std::string::npos);
  }

  TEST_CASE("parts: washers under heads that the checks reckon with are bought") {
    // 3/4 in under the heads of the best fix: 0.1875 + 0.090 + 0.25 in = 13.40 mm, washer
    // 0.27 x 5 = 1.35, two threads 1.6: 16.35 mm. 16 mm would not reach through the bar.
    const PartsList list = list_of(example_text("reservoir-jon-boat-best-fix"));
    const PartRow& washer = row_of(list, "washer #10 fender 3/4");
    CHECK(washer.count == 4);
    CHECK(washer.why.find("under the heads") != std::string::npos);
    CHECK(mm(row_of(list, "machine screw M5").length) == Approx(20));
    const PartsList bracket = list_of(example_text("highland-dinghy-best-fix"));
    CHECK(row_of(bracket, "washer M8 penny 24").count == 8);  // under heads and nuts
    for (const PartRow& r : list_of(test::jon_boat).rows) {
      CHECK(r.what.find("washer") == std::string::npos);
    }
  }

  TEST_CASE("parts: no tool is bought twice and drills go by the names of the template") {
    for (const std::string& text : {std::string(test::blind_insert), std::string(test::in_coil)}) {
      for (const PartRow& r : list_of(text).rows) {
        if (r.kind == PartKind::tool) CHECK(r.spare == 0);
      }
    }
    const PartsList fine = list_of(with(test::jon_boat, "thread: 1/4-20", "thread: 5/16-24"));
    CHECK(row_of(fine, "tap drill").what == "tap drill letter I, 0.272 in (6.91 mm)");
    CHECK(row_of(fine, "drill").what == "drill 11/32 in, 0.344 in (8.73 mm)");
  }

  TEST_CASE("parts: a locknut behind tapped threads makes the screw longer") {
    const std::string locked =
        with(test::jon_boat, "    thread: 1/4-20\n", "    thread: 1/4-20\n    locking: nut\n");
    // 0.378 + nut 0.35 + washer 0.068 = 0.795 in.
    const PartsList list = list_of(locked);
    CHECK(mm(row_of(list, "machine screw").length) == Approx(25.4));
    CHECK(row_of(list, "locknut 1/4-20").count == 4);
  }

  TEST_CASE("parts: a guessed wall makes the screws a guess") {
    const std::string guess =
        with(test::jon_boat, "0.090 in, known: measured", "0.090 in, known: assumed");
    CHECK(row_of(list_of(guess), "machine screw").assumed);
  }

  TEST_CASE("parts: there are as many fasteners as holes in every example") {
    for (const auto& file : examples()) {
      CAPTURE(file.string());
      const Setup s = read(text_of(file));
      const PartsList list = parts_list(s, library());
      CHECK(in_holes(list) == holes_of(s));
      for (std::size_t i = 1; i < list.rows.size(); ++i) {
        CHECK(int(list.rows[i - 1].kind) <= int(list.rows[i].kind));
      }
      for (const PartRow& r : list.rows) {
        CAPTURE(r.what);
        CHECK(r.count >= 1);
        CHECK_FALSE(r.shelf.empty());
        if (r.kind == PartKind::fastener) CHECK(10 * r.spare >= r.count);
        if (r.length) CHECK(r.length->value() > 0);
      }
    }
  }

  TEST_CASE("parts: every pair of metals that is flagged is isolated") {
    int pairs = 0;
    for (const auto& file : examples()) {
      for (const bool salt : {false, true}) {
        for (const char* bolts : {"", "silicon bronze", "galvanised steel"}) {
          Setup s = read(text_of(file));
          s.salt_water = salt;
          if (*bolts != 0 && !s.on_board()) s.plate().fastening.material.name = bolts;
          if (*bolts != 0 && s.on_board()) {
            for (HoldDown& h : s.board().hold_downs) h.material.name = bolts;
          }
          const PartsList list = parts_list(s, library());
          for (const MetalPair& p : metal_pairs(s)) {
            if (p.rule == PairRule::fine) continue;
            ++pairs;
            CAPTURE(file.string());
            CAPTURE(p.part);
            CAPTURE(p.other);
            const std::string both = p.part + " against " + p.other;
            CHECK(std::any_of(list.rows.begin(), list.rows.end(), [&](const PartRow& r) {
              return r.kind == PartKind::isolation && r.why.find(both) != std::string::npos;
            }));
          }
        }
      }
    }
    CHECK(pairs > 100);
  }

  TEST_CASE("parts: a large noble plate gets a pad and treated wood a barrier") {
    Setup s = read(test::jon_boat);
    s.salt_water = true;
    s.plate().base.metal->name = "316 stainless sheet";
    s.plate().base.metal->aluminium = false;
    CHECK(row_of(parts_list(s, library()), "plastic pad").count == 1);
    Setup board = read(example_text("fjord-skiff"));
    board.salt_water = false;
    CHECK_THROWS(row_of(parts_list(board, library()), "barrier"));
    board.board().board.treated = true;
    // Two ledges and two plates under the gears, of aluminium.
    CHECK(row_of(parts_list(board, library()), "barrier").count == 4);
  }

  TEST_CASE("parts: the pieces of every example fit in what is asked for") {
    for (const auto& file : examples()) {
      CAPTURE(file.string());
      const PartsList list = list_of(text_of(file));
      for (const PartRow& r : list.rows) {
        if (r.stock_count == 0) continue;
        CAPTURE(r.what);
        double used = 0;
        int pieces = 0;
        double longest = 0;
        for (const PartRow& other : list.rows) {
          const bool here = &other == &r || other.stock == "from the same stock as the " + r.what;
          if (!here || other.kind != PartKind::cut) continue;
          used += other.count * mm(other.length);
          longest = std::max(longest, mm(other.length));
          pieces += other.count;
        }
        const double stock = r.stock_count * mm(r.stock_length);
        CHECK(longest <= mm(r.stock_length) + 1e-6);
        CHECK(used + (pieces - r.stock_count) * saw_kerf.value() * 1000 <= stock + 1e-6);
      }
    }
  }

  TEST_CASE("parts: stock is the least that the pieces can be cut from") {
    // 2300 + 2 x 320 mm and two kerfs of 3 mm: 2946 mm of 48x223.
    const std::string text =
        with(example_text("fjord-skiff-best-fix"), "athwart: 98 mm", "athwart: 223 mm");
    const PartsList list = list_of(text);
    CHECK(row_of(list, "board").stock == "1 x 3.0 m of 48x223");
    CHECK(row_of(list, "leg").stock == "from the same stock as the board");
    CHECK(row_of(list, "leg").count == 2);
    // By itself the board comes out of the next longer Nordic length.
    CHECK(row_of(list_of(example_text("fjord-skiff-best-fix")), "board").stock ==
          "1 x 2.4 m of 48x223");
    // Two ledges of 250 mm out of one metre of angle.
    CHECK(starts(row_of(list, "ledge").stock, "1 x 1 m of angle 100 x 100 x 8 mm"));
    // 66 in of tube: six feet.
    const PartsList tube = list_of(example_text("lake-cartopper"));
    CHECK(mm(row_of(tube, "board").stock_length) == Approx(72 * 25.4));
  }

  TEST_CASE("parts: a leaning leg takes more stock and says at what angle it is cut") {
    // Foot 100 mm aside of 320 mm: asin(0.3125) = 18.2 deg.
    const std::string text = with(example_text("fjord-skiff-best-fix"), "      length: 320 mm\n",
                                  "      length: 320 mm\n      foot_forward: -100 mm\n");
    const PartRow leg = row_of(list_of(text), "leg");
    CHECK(leg.why.find("18 deg") != std::string::npos);
  }

  TEST_CASE("parts: links cutters and labels follow the gear") {
    const PartsList bay = list_of(example_text("bay-boat-best-fix"));
    CHECK(row_of(bay, "weak link that parts at 45 lbf").count == 1);
    CHECK_THROWS(row_of(list_of(example_text("bay-boat")), "weak link"));
    CHECK(row_of(bay, "one-hand line and wire cutter").count == 1);
    const PartsList skiff = list_of(example_text("fjord-skiff"));
    CHECK(row_of(skiff, "one-hand line and wire cutter").count == 2);
    CHECK(row_of(skiff, "label: not a handhold, seat or step").count == 1);
  }

  TEST_CASE("parts: tap and drill are named as in the table of threads") {
    const PartsList list = list_of(test::jon_boat);
    CHECK(row_of(list, "tap drill No. 7, 0.201 in").kind == PartKind::tool);
    CHECK(row_of(list, "tap 1/4-20").kind == PartKind::tool);
    CHECK(row_of(list, "drill 9/32 in, 0.281 in (7.14 mm)").kind == PartKind::tool);
  }

  TEST_CASE("parts: every assumed input is on the measuring sheet once") {
    for (const auto& file : examples()) {
      CAPTURE(file.string());
      const Setup s = read(text_of(file));
      const std::string html = card(cards::measuring, s);
      std::set<std::tuple<std::string, std::string, std::string>> rows;
      std::map<std::string, int> paths;
      for (const Input& i : s.inputs) {
        if (i.known != Knowledge::assumed) continue;
        if (rows.insert({i.path, i.label, i.value}).second) ++paths[i.path];
      }
      CHECK_FALSE(paths.empty());
      for (const auto& [path, n] : paths) {
        const std::string& written = path;  // clang captures no structured binding
        CAPTURE(written);
        CHECK(count(html, "<code>" + path + "</code>") == n);
      }
      for (const Input& i : s.inputs) {
        if (i.known != Knowledge::assumed && paths.count(i.path) == 0 &&
            !starts(i.path, "condition.")) {
          CHECK(count(html, "<code>" + i.path + "</code>") == 0);
        }
      }
    }
  }

  TEST_CASE("parts: every assumed input of the examples has its own way to be measured") {
    const std::string_view any = how_to_measure("no.such_path");
    std::vector<std::string> texts;
    for (const auto& file : examples()) texts.push_back(text_of(file));
    for (const char* kind : {"gunwale_plate", "bracket", "cross_board"}) {
      texts.push_back(starter_setup(kind));
    }
    for (const std::string& text : texts) {
      for (const Input& i : read(text).inputs) {
        if (i.known != Knowledge::assumed) continue;
        CAPTURE(i.path);
        CHECK(how_to_measure(i.path) != any);
      }
    }
    CHECK(how_to_measure("gear.brake_slip").find("luggage scale") != std::string_view::npos);
    CHECK(how_to_measure("mount.board.thickness") != how_to_measure("mount.host.thickness"));
  }

  TEST_CASE("parts: what the answer hangs on comes first on the measuring sheet") {
    const Setup s = read(test::rod_text);
    const std::string html = card(cards::measuring, s, assess(s));
    const std::size_t alloy = html.find("<code>mount.host.alloy</code>");
    const std::size_t hours = html.find("<code>use.hours_per_season</code>");
    REQUIRE(alloy != std::string::npos);
    REQUIRE(hours != std::string::npos);
    CHECK(alloy < hours);
    CHECK(html.find("the answer hangs on these") < alloy);
  }

  TEST_CASE("parts: with nothing assumed the measuring sheet says so") {
    Setup s = read(test::jon_boat);
    for (Input& i : s.inputs) i.known = Knowledge::measured;
    const std::string html = card(cards::measuring, s);
    CHECK(html.find("Nothing in the file is a guess") != std::string::npos);
    CHECK(html.find("hangs on") == std::string::npos);
  }

  TEST_CASE("parts: a base without a piece to cut has no cut list") {
    CHECK(card(cards::cutting, read(test::jon_boat)).empty());
    CHECK_FALSE(card(cards::shopping, read(test::jon_boat)).empty());
    CHECK_FALSE(card(cards::cutting, read(example_text("lough-boat"))).empty());
  }

  TEST_CASE("parts: the shopping list refuses what applies and nothing else") {
    const std::string lake = card(cards::shopping, read(example_text("reservoir-jon-boat")));
    CHECK(lake.find("Zinc-plated") == std::string::npos);
    CHECK(lake.find("bent wire") == std::string::npos);
    CHECK(lake.find("copper or graphite") != std::string::npos);
    const std::string fjord = card(cards::shopping, read(example_text("fjord-skiff")));
    CHECK(fjord.find("Zinc-plated") != std::string::npos);
    CHECK(fjord.find("bent wire") != std::string::npos);
    CHECK(fjord.find("Treated lumber") != std::string::npos);
  }

  TEST_CASE("parts: lists of a design that does not hold warn before money is spent") {
    const Setup s = read(example_text("fjord-skiff"));
    for (auto of : {cards::cutting, cards::shopping}) {
      Assessment a;
      a.verdict = Verdict::does_not_hold;
      CHECK(card(of, s, a).find("change it before you cut or buy") != std::string::npos);
      a.verdict = Verdict::no_verdict;
      CHECK(card(of, s, a).find("no verdict on this design") != std::string::npos);
      a.verdict = Verdict::holds;
      CHECK(card(of, s, a).find("cut or buy") == std::string::npos);
    }
  }

  TEST_CASE("parts: hostile names stay text on every card") {
    const std::string evil = "<script>alert('x')</script>\"&";
    for (const std::string& name :
         {evil, std::string(10000, 'x'), std::string("\xe2\x80\xae") + "abc"}) {
      Setup s = read(example_text("fjord-skiff"));
      s.board().port.metal->name = name;
      s.board().starboard.metal->name = name;
      s.board().board.wood->name = name;
      for (HoldDown& h : s.board().hold_downs) h.material.name = name;
      for (Input& i : s.inputs) i.value = name;
      s.condition.within_150_mm = name;
      for (auto of : {cards::measuring, cards::cutting, cards::shopping}) {
        const std::string html = card(of, s);
        CHECK(html.find("<script") == std::string::npos);
        CHECK(html.find("\xe2\x80\xae") == std::string::npos);
        CHECK(html.find(std::string(300, 'x')) == std::string::npos);
      }
      if (name == evil) {
        CHECK(card(cards::cutting, s).find("&lt;script&gt;") != std::string::npos);
      }
    }
  }
}
