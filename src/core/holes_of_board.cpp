#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "checks/least_distances.hpp"
#include "core/geometry.hpp"
#include "core/hole_parts.hpp"

namespace thole::hole_parts {

using namespace literals;

namespace {

const Length margin = 3.0_mm;
// A board's end farther away than this is not on the template: a line says how far.
const Length near_end = 60.0_mm;

bool same(Length a, Length b) { return abs(a - b) < 1e-9 * si::metre; }

class Board {
 public:
  Board(const Setup& s, const MaterialLibrary& library)
      : s_(s), b_(s.board()), u_(s.units), library_(library) {}

  std::vector<HoleSet> all() {
    for (const Side side : {Side::port, Side::starboard}) {
      through_board(side);
      through_seat(side);
      upright_leg(side);
    }
    for (const Gear& g : s_.gear) {
      if (!g.foot) continue;
      under_gear(g, *g.foot);
    }
    for (const Gear& g : s_.gear) {
      if (g.foot && g.foot->plate) plate_under(g, *g.foot);
    }
    for (const Side side : {Side::port, Side::starboard}) plate_behind_hull(side);
    return std::move(sets_);
  }

 private:
  [[nodiscard]] bool wooden() const { return b_.board.wood.has_value(); }
  [[nodiscard]] Length overhang(Side s) const {
    return s == Side::port ? b_.port_overhang : b_.board.length - b_.clear_width - b_.port_overhang;
  }
  [[nodiscard]] static std::string name_of(Side s) { return std::string(word_for(s)); }

  static HoleSet start(Side side) {
    HoleSet set;
    set.x_is = "forward";
    set.y_is = "outboard";
    set.y_left = side == Side::port;
    return set;
  }

  // Drills of holes that need not be alike: each once, with the numbers that it is for.
  void add_drills(HoleSet& set, const std::vector<Drill>& drills, int number) const {
    for (const Drill& d : drills) {
      const auto have = std::find_if(set.drills.begin(), set.drills.end(), [&](const Drill& o) {
        return o.use == d.use && o.name == d.name;
      });
      if (have != set.drills.end()) {
        have->only.push_back(number);
      } else {
        set.drills.push_back(d);
        set.drills.back().only = {number};
      }
    }
  }

  static void for_all(HoleSet& set) {
    for (Drill& d : set.drills) {
      if (d.only.size() == set.holes.size()) d.only.clear();
    }
  }

  static Citation as_file() { return {"as the file has it", "hole in the board", Seen::practice}; }

  // ---- The board
  // ---------------------------------------------------------------------------------

  [[nodiscard]] std::string what_it_is() const {
    const BoardPiece& p = b_.board;
    if (wooden()) return show(p.thickness, u_) + " board of " + p.wood->name;
    const bool channel = p.form == BoardForm::channel_down || p.form == BoardForm::channel_up;
    return show(p.wall, u_) + " wall of a " + (channel ? "channel" : "tube") +
           (p.metal ? " of " + p.metal->name : std::string());
  }

  HoleSet on_board(Side side) const {
    HoleSet set = start(side);
    const Length half = 0.5 * b_.board.width;
    const Length end = overhang(side);
    set.part = box(-half, end - b_.board.length, half, end);
    set.face = "from above";
    set.into = what_it_is();
    set.datum = "the " + name_of(side) + " end of the board and its middle line";
    set.datum_at = {Length{}, end};
    set.notes.emplace_back(
        "clamp a scrap of wood below, drill square, from both faces where it "
        "splinters; on a tube through both walls");
    if (wooden()) {
      set.notes.emplace_back("seal the wall of every hole and the end grain of the board");
    } else {
      set.notes.emplace_back("deburr both sides; no hole in the radius of a corner");
    }
    return set;
  }

  void window(HoleSet& set, Side side, Length low, Length high) const {
    const Length end = overhang(side);
    const Length half = 0.5 * b_.board.width;
    if (end - high < near_end) high = end;
    set.window = {{-half, std::max<Length>(low, end - b_.board.length)}, {half, high}};
    add_other(set, {{Length{}, set.window->low.y}, {Length{}, high}}, "middle line of the board");
  }

  void board_edges(HoleSet& set, Side side, std::optional<Length> edge,
                   std::optional<Length> end) const {
    const Length half = 0.5 * b_.board.width;
    note_nearer(set, true, -half, half, "to the edge of the board", edge);
    note_nearer(set, false, overhang(side) - b_.board.length, overhang(side),
                "to the end of the board", end);
  }

  void through_board(Side side) {
    HoleSet set = on_board(side);
    Length low = geometry::far_away, high = -1.0 * geometry::far_away, widest{};
    for (std::size_t i = 0; i < b_.hold_downs.size(); ++i) {
      const HoldDown& h = b_.hold_downs[i];
      if (h.place.side != side || h.kind == HoldDownKind::u_bolt) continue;
      const int number = int(i) + 1;
      set.holes.push_back({number, {h.place.forward, h.place.outboard}, false, h.hole, h.name});
      add_drills(set, boring(h.hole, h.thread, library_, "hole through the board", as_file()),
                 number);
      low = std::min(low, h.place.outboard);
      high = std::max(high, h.place.outboard);
      widest = std::max(widest, h.thread.diameter);
    }
    if (set.holes.empty()) return;
    for_all(set);
    set.name = "board, " + name_of(side) + " end, hold-downs";
    if (wooden()) {
      board_edges(set, side, checks::least_edge_in_board(widest),
                  checks::least_end_in_board(widest));
    } else {
      board_edges(set, side, std::nullopt, std::nullopt);
    }
    note_spacing(set, std::nullopt);
    window(set, side, std::min<Length>(low, Length{}) - margin, high + margin);
    if (set.window->high.y < overhang(side)) row_line(set, side, high);
    add_other(set, {{-0.5 * b_.board.width, Length{}}, {0.5 * b_.board.width, Length{}}},
              "inner edge of the ledge below");
    set.notes.emplace_back(
        "lay the board in its place first: the holes go through board and seat in one line");
    set.assumed = guessed(
        s_, {"mount.hold_downs", "mount.board", "mount.port_overhang", "mount.clear_width"});
    sets_.push_back(std::move(set));
  }

  void under_gear(const Gear& g, const GearFoot& f) {
    const Side side = g.place.side;
    HoleSet set = on_board(side);
    set.name = "board, foot of the " + g.name;
    for (std::size_t i = 0; i < f.holes.size(); ++i) {
      set.holes.push_back({int(i) + 1,
                           {g.place.forward + f.holes[i].x, g.place.outboard + f.holes[i].y},
                           false,
                           f.hole,
                           ""});
    }
    set.drills = boring(f.hole, f.thread, library_, "hole through the board", as_file());
    const auto placed = [&](Outline o) {
      for (PlanPoint& p : o) p = {g.place.forward + p.x, g.place.outboard + p.y};
      return o;
    };
    Length low = geometry::far_away, high = -1.0 * geometry::far_away;
    const auto reach = [&](const Outline& o) {
      for (const PlanPoint& p : o) {
        low = std::min(low, p.y);
        high = std::max(high, p.y);
      }
    };
    const Outline foot = placed(f.outline);
    reach(foot);
    add_other(set, foot, "foot of the " + g.name);
    if (f.plate) {
      const Outline plate = placed(box(-0.5 * f.plate->fore_aft, -0.5 * f.plate->athwart,
                                       0.5 * f.plate->fore_aft, 0.5 * f.plate->athwart));
      reach(plate);
      add_other(set, plate, "plate under the board");
    }
    window(set, side, low - margin, std::min<Length>(high + margin, overhang(side)));
    middle_of_foot(set, g);
    board_edges(set, side, std::nullopt, std::nullopt);
    note_spacing(set, std::nullopt);
    near_edge_note(set, f.thread.diameter);
    set.notes.emplace_back("hold the gear's own foot to the holes first: it governs");
    set.assumed = guessed(s_, {"gear.", "mount.board", "mount.port_overhang", "mount.clear_width"});
    sets_.push_back(std::move(set));
  }

  // Where the end is off the paper: how far from it the outermost holes lie.
  void row_line(HoleSet& set, Side side, Length row) const {
    const Length half = 0.5 * b_.board.width;
    add_other(set, {{-half, row}, {half, row}},
              size(Length(overhang(side) - row), u_) + " from the " + name_of(side) +
                  " end of the board");
  }

  void middle_of_foot(HoleSet& set, const Gear& g) const {
    const Length half = 0.5 * b_.board.width;
    const Length to_end = overhang(g.place.side) - g.place.outboard;
    add_other(set, {{-half, g.place.outboard}, {half, g.place.outboard}},
              "middle of the foot: " + size(to_end, u_) + " from the " + name_of(g.place.side) +
                  " end of the board");
  }

  // No check asks for these; the rule for hold-downs is the nearest in hand.
  void near_edge_note(HoleSet& set, Length diameter) const {
    if (!wooden()) return;
    std::string which;
    for (const EdgeNote& e : set.edges) {
      const bool edge = e.words == "to the edge of the board";
      const bool end = e.words == "to the end of the board";
      const Length least =
          end ? checks::least_end_in_board(diameter) : checks::least_edge_in_board(diameter);
      if ((!edge && !end) || e.distance >= least * (1 - 1e-9)) continue;
      const std::string number = "no. " + std::to_string(e.number);
      if (which.find(number) != std::string::npos) continue;
      which += (which.empty() ? "" : ", ") + number;
    }
    if (which.empty()) return;
    set.notes.push_back(which + ": nearer to an edge than " +
                        size(checks::least_edge_in_board(diameter), u_) + " or to an end than " +
                        size(checks::least_end_in_board(diameter), u_) +
                        ", the timber rule for bolts that push that way; the checks do not look "
                        "at these bolts: the wood may split");
  }

  // ---- Ledges
  // ------------------------------------------------------------------------------------

  void through_seat(Side side) {
    const Ledge& l = b_.ledge(side);
    HoleSet set = start(side);
    for (std::size_t i = 0; i < b_.hold_downs.size(); ++i) {
      const HoldDown& h = b_.hold_downs[i];
      if (h.place.side != side) continue;
      const int number = int(i) + 1;
      const bool mark = h.kind == HoldDownKind::u_bolt;
      set.holes.push_back({number,
                           {h.place.forward, h.place.outboard},
                           mark,
                           mark ? Length{} : h.thread.clearance,
                           h.name});
      add_drills(set, clearing(h.thread, library_), number);
      if (mark) {
        set.notes.push_back("no. " + std::to_string(number) +
                            " is the middle of a U-bolt: its legs go down at both edges of the "
                            "board, as far apart as the one in hand");
      }
    }
    if (set.holes.empty()) return;
    for_all(set);
    const bool angle = l.kind == LedgeKind::angle;
    set.name = name_of(side) + (angle                         ? " ledge, level leg"
                                : l.kind == LedgeKind::saddle ? " saddle"
                                                              : " gunwale top under the board");
    set.into = angle ? show(l.leg_thickness, u_) + " leg of " + l.metal->name
                     : (l.kind == LedgeKind::saddle ? std::string("the saddle")
                                                    : std::string("the gunwale"));
    set.face = "from above";
    const Length half = 0.5 * l.fore_aft;
    set.part = box(-half, Length{}, half, l.along);
    set.datum = "inner edge of the seat and the middle line of the board";
    if (angle) {
      const Length bend = l.root_outboard ? Length(l.along - l.leg_thickness) : l.leg_thickness;
      add_other(set, {{-half, bend}, {half, bend}}, "inner face of the upright leg: bend");
      note_line(set, false, bend, "to the upright leg", std::nullopt);
      set.notes.emplace_back(
          "the washer or nut must not ride on the fillet in the corner of the angle");
      set.made = leg_piece(l);
    }
    note_line(set, false, l.root_outboard || !angle ? Length{} : l.along, "to the toe of the seat",
              std::nullopt);
    note_nearer(set, true, -half, half, "to the end of the seat", std::nullopt);
    note_spacing(set, std::nullopt);
    add_other(set, {{Length{}, Length{}}, {Length{}, l.along}}, "middle line of the board");
    if (!angle) set.behind = behind_the_skin(true);
    if (l.flare.value() > 0) {
      set.notes.emplace_back(
          "the seat is not level: outboard distances are level ones, longer along the leg; drill "
          "through the board's holes in its place, upright");
    }
    set.notes.emplace_back(
        "deburr both sides; drill through the board's holes in its place, or by "
        "this pattern: not by both");
    set.assumed = guessed(s_, {"mount.hold_downs", "mount.ledges"});
    sets_.push_back(std::move(set));
  }

  static FlatPiece leg_piece(const Ledge& l) {
    return {l.metal->name, l.leg_thickness, 1,
            "a flat leg of the angle, seen square; the angle lies along the boat, as extruded; "
            "outer corners rounded to about 3/8 in (10 mm)"};
  }

  static Outline row_of(const LedgeFastening& f, Length at) {
    Outline out;
    for (int i = 0; i < f.count; ++i) out.push_back({(i - 0.5 * (f.count - 1)) * f.spacing, at});
    return out;
  }

  void upright_leg(Side side) {
    const Ledge& l = b_.ledge(side);
    if (l.kind != LedgeKind::angle || !l.fastening) return;
    const LedgeFastening& f = *l.fastening;
    HoleSet set = start(side);
    set.y_is = "up";
    set.name = name_of(side) + " ledge, upright leg and hull";
    set.into = show(l.leg_thickness, u_) + " leg of " + l.metal->name + ", then " +
               show(f.hull_thickness, u_) + " hull" + hull_word(f);
    set.face = "from inside the boat, looking outboard";
    const Length half = 0.5 * l.fore_aft;
    set.part = box(-half, -1.0 * f.foot_below, half, Length{});
    const Outline row = row_of(f, -1.0 * f.below_seat);
    for (std::size_t i = 0; i < row.size(); ++i)
      set.holes.push_back({int(i) + 1, row[i], false, f.thread.clearance, ""});
    set.drills = clearing(f.thread, library_);
    set.datum = "seat of the ledge (top of the level leg) and the middle of its length";
    add_other(set, {{-half, -1.0 * l.leg_thickness}, {half, -1.0 * l.leg_thickness}},
              "underside of the level leg: bend");
    if (f.backing) {
      const Length up = 0.5 * f.backing->athwart;
      const Length along = 0.5 * f.backing->fore_aft;
      add_other(set, box(-along, -1.0 * f.below_seat - up, along, up - f.below_seat),
                "plate behind the hull");
    }
    note_line(set, false, -1.0 * l.leg_thickness, "to the level leg", std::nullopt);
    note_line(set, false, -1.0 * f.foot_below, "to the foot of the leg", std::nullopt);
    note_nearer(set, true, -half, half, "to the end of the ledge", std::nullopt);
    note_spacing(set, std::nullopt);
    set.behind = behind_the_skin(true);
    hull_notes(set, l, f);
    set.made = leg_piece(l);
    set.assumed = guessed(s_, {"mount.ledges"});
    sets_.push_back(std::move(set));
  }

  static std::string hull_word(const LedgeFastening& f) {
    if (f.hull_metal) return " of " + f.hull_metal->name;
    return f.hull == HullKind::timber ? " of timber" : " of laminate";
  }

  void hull_notes(HoleSet& set, const Ledge& l, const LedgeFastening& f) const {
    set.notes.emplace_back(
        "the leg first, on the bench; then clamp it level in its place and drill "
        "the hull through it, the outermost holes first");
    set.notes.push_back("stop collar: the drill comes no farther than " +
                        size(Length(l.leg_thickness + f.hull_thickness + 3.0_mm), u_) +
                        " into leg and hull");
    set.notes.emplace_back(
        "deburr both sides; bed the leg and each bolt; above the waterline only");
    if (f.hull == HullKind::timber)
      set.notes.emplace_back("seal the wall of every hole in the wood");
    set.notes.emplace_back(
        "washers and nuts must not ride on the fillet in the corner of the angle");
    set.notes.push_back(sleeve_note(f.thread, u_));
  }

  // ---- Plates
  // ------------------------------------------------------------------------------------

  // The same piece again: one more of it. A flat plate turns over for the other side.
  void add_piece(HoleSet set) {
    for (HoleSet& o : sets_) {
      if (!o.made || o.into != set.into || o.holes.size() != set.holes.size() ||
          o.name.find("plate") == std::string::npos || o.part.size() != set.part.size()) {
        continue;
      }
      bool alike = true;
      for (std::size_t i = 0; i < o.holes.size(); ++i) {
        alike = alike && same(o.holes[i].at.x, set.holes[i].at.x) &&
                same(o.holes[i].at.y, set.holes[i].at.y) &&
                same(o.holes[i].diameter, set.holes[i].diameter);
      }
      for (std::size_t i = 0; i < o.part.size(); ++i)
        alike = alike && same(o.part[i].x, set.part[i].x) && same(o.part[i].y, set.part[i].y);
      if (!alike) continue;
      ++o.made->count;
      o.other_side =
          "one for each place: for the other side of the boat turn the plate over, its "
          "holes are the mirror image there";
      return;
    }
    sets_.push_back(std::move(set));
  }

  HoleSet flat_plate(Side side, const Backing& b) const {
    HoleSet set = start(side);
    set.into = show(b.thickness, u_) + " " + b.metal.name;
    set.part = box(-0.5 * b.fore_aft, -0.5 * b.athwart, 0.5 * b.fore_aft, 0.5 * b.athwart);
    set.datum = "middle of the plate";
    set.made = FlatPiece{b.metal.name, b.thickness, 1, corners(b.metal)};
    set.notes.emplace_back("deburr both sides; round the corners");
    return set;
  }

  void plate_under(const Gear& g, const GearFoot& f) {
    HoleSet set = flat_plate(g.place.side, *f.plate);
    set.name = "plate under the board, " + g.name;
    set.face = "from above, as it lies under the board";
    for (std::size_t i = 0; i < f.holes.size(); ++i)
      set.holes.push_back({int(i) + 1, f.holes[i], false, f.hole, ""});
    set.drills = boring(f.hole, f.thread, library_, "clearance", as_file());
    note_sides(set, set.part, "to the edge of the plate", std::nullopt);
    note_spacing(set, std::nullopt);
    if (wooden() && f.plate->metal.aluminium && b_.board.treated)
      set.notes.emplace_back("a pad or paint between the plate and the treated wood");
    set.assumed = guessed(s_, {"gear."});
    add_piece(std::move(set));
  }

  void plate_behind_hull(Side side) {
    const Ledge& l = b_.ledge(side);
    if (l.kind != LedgeKind::angle || !l.fastening || !l.fastening->backing) return;
    const LedgeFastening& f = *l.fastening;
    HoleSet set = flat_plate(side, *f.backing);
    set.y_is = "up";
    set.name = "plate behind the hull, " + name_of(side);
    set.face = "from inside the boat, as it lies behind the hull";
    const Outline row = row_of(f, Length{});
    for (std::size_t i = 0; i < row.size(); ++i)
      set.holes.push_back({int(i) + 1, row[i], false, f.thread.clearance, ""});
    set.drills = clearing(f.thread, library_);
    note_sides(set, set.part, "to the edge of the plate", std::nullopt);
    note_spacing(set, std::nullopt);
    set.assumed = guessed(s_, {"mount.ledges"});
    add_piece(std::move(set));
  }

  const Setup& s_;
  const CrossBoard& b_;
  ReaderUnits u_;
  const MaterialLibrary& library_;
  std::vector<HoleSet> sets_;
};

}  // namespace

std::vector<HoleSet> of_board(const Setup& setup, const MaterialLibrary& library) {
  return Board(setup, library).all();
}

}  // namespace thole::hole_parts
