#include <algorithm>
#include <string>
#include <utility>

#include "checks/least_distances.hpp"
#include "core/geometry.hpp"
#include "core/hole_parts.hpp"

namespace thole::hole_parts {

using namespace literals;

namespace {

const char* turned_over =
    " side turn the paper over, so that the print shows through: all is its mirror image there. A "
    "base or gear that is no mirror image of itself does not turn over with it: hold it to the "
    "pattern first";

class Plate {
 public:
  Plate(const Setup& s, const MaterialLibrary& library)
      : s_(s), m_(s.plate()), u_(s.units), library_(library) {}

  std::vector<HoleSet> all() {
    const auto pattern = [&](const Fastening& f, const std::string& of) {
      if (!geometry::is_clasped(m_)) sets_.push_back(host(f, of));
      if (f.backing) sets_.push_back(behind(f, of));
    };
    pattern(m_.fastening, m_.second ? ", first fasteners" : "");
    if (m_.second) pattern(*m_.second, ", other fasteners");
    if (m_.base.metal) sets_.push_back(base());
    return std::move(sets_);
  }

 private:
  // The checks number the other fasteners on from the first ones.
  [[nodiscard]] int first_number(const Fastening& f) const {
    return m_.second && &f == &*m_.second ? int(m_.fastening.holes.size()) + 1 : 1;
  }

  // What all of them share: they lie flat on each other and are seen from the same side.
  HoleSet start(const Fastening& f, Length diameter) const {
    HoleSet set;
    const bool starboard = s_.fit && s_.fit->starboard;
    set.x_is = "forward";
    set.y_is = "outboard";
    set.y_left = !starboard;
    set.other_side = s_.fit ? std::string("drawn for the ") + (starboard ? "starboard" : "port") +
                                  " side of the file; for the " +
                                  (starboard ? "port" : "starboard") + turned_over
                            : std::string(
                                  "the file does not say which side of the boat: drawn for "
                                  "the port side; for the starboard") +
                                  turned_over;
    for (std::size_t i = 0; i < f.holes.size(); ++i)
      set.holes.push_back({first_number(f) + int(i), f.holes[i], false, diameter, ""});
    set.datum = datum();
    set.assumed = guessed(s_, {"mount."});
    return set;
  }

  std::string datum() const {
    const std::string middle = m_.bracket ? "middle of the fasteners" : "middle of the base";
    if (!m_.host.is_metal()) {
      return middle + ", " + size(m_.host.to_edge, u_) + " from the nearest edge";
    }
    if (m_.host.form == WallForm::sheet) {
      return middle + ", " + size(m_.host.to_support, u_) +
             " from the nearest stiffener, bend or support";
    }
    return middle + ", " + size(m_.base.from_inboard_edge, u_) +
           " from the inboard edge of the flat, which is " + size(m_.host.flat, u_) + " wide";
  }

  HoleSet host(const Fastening& f, const std::string& of) const {
    const auto drills = into_host(f);
    HoleSet set = start(f, drilled(drills));
    set.drills = drills;
    set.name =
        (m_.host.is_metal() ? "gunwale wall" : "gunwale, " + std::string(word_for(m_.host.kind))) +
        of;
    set.into = size_of_host();
    set.face = "from outside, square to the face that the base stands on";
    set.part = m_.base.outline;
    if (m_.bracket) {
      for (const Outline& o : m_.bracket->bears_on) add_other(set, o, "here the plate bears");
    }
    flat_edges(set);
    if (m_.host.is_metal()) {
      note_wall_edges(set, f);
      note_spacing(set, checks::least_spacing_in_wall(f));
    } else {
      note_panel_edges(set, f);
      note_spacing(set, std::nullopt);
    }
    set.behind = behind_the_skin(f.hold == HoldBy::through_bolt || f.backing);
    host_notes(set, f);
    return set;
  }

  std::string size_of_host() const {
    const Host& h = m_.host;
    if (h.is_metal()) return show(h.thickness, u_) + " wall of " + h.metal.name;
    std::string out = show(h.thickness, u_) + " " + std::string(word_for(h.kind));
    if (h.wood.wood) out += ", " + h.wood.wood->name;
    if (!h.panel.core.empty()) out += ", core " + h.panel.core;
    return out;
  }

  static Length drilled(const std::vector<Drill>& drills) {
    Length out{};
    for (const Drill& d : drills) {
      if (d.use != "tap" && !d.use.starts_with("in its place")) out = d.diameter;
      if (d.use.starts_with("lead hole")) break;
    }
    return out;
  }

  std::vector<Drill> into_host(const Fastening& f) const {
    const Thread& t = f.thread;
    switch (f.hold) {
      case HoldBy::tapped:
        return tapping(t, library_);
      case HoldBy::lag_screw:
      case HoldBy::wood_screw:
        return leading(*f.screw, m_.host.wood.specific_gravity, t, library_);
      case HoldBy::blind_insert:
        return boring(f.blind->hole, t, library_, "hole for the insert",
                      {"as the file has it; the maker of the insert governs", "", Seen::practice});
      case HoldBy::thread_insert:
        if (f.backing) return clearing(t, library_);
        return by_kit();
      case HoldBy::self_tapping:
        return {
            {"pilot", "as the maker of the screw says for this wall", Length{}, practice(), {}}};
      case HoldBy::rivet:
        return {drill_between(t.diameter, t.clearance, t.clearance, t, library_,
                              "hole for the rivet", t.source)};
      default:
        break;
    }
    if (m_.host.kind == HostKind::timber || m_.host.kind == HostKind::plywood) {
      return boring(hole_in_wood(t), t, library_, "hole for the bolt",
                    {"NDS 2018, holes of bolts 1/32 to 1/16 in wider", "12.1.3.2", Seen::memory});
    }
    return clearing(t, library_);
  }

  static Length hole_in_wood(const Thread& t) {
    return std::clamp<Length>(t.clearance, t.diameter + 1.0_in / 32.0, t.diameter + 1.0_in / 16.0);
  }

  static std::vector<Drill> by_kit() {
    return {
        {"drill and tap of the insert's own kit", "as its maker says", Length{}, practice(), {}}};
  }

  // Long edges beside the base, as far as it reaches and a hand's breadth more.
  void flat_edges(HoleSet& set) const {
    if (!m_.host.is_metal() || m_.host.form == WallForm::sheet) return;
    const geometry::Flat f = geometry::flat_of(m_);
    Length low = geometry::far_away, high = -1.0 * geometry::far_away;
    for (const PlanPoint& p : set.part) {
      low = std::min(low, p.x);
      high = std::max(high, p.x);
    }
    low -= 15.0_mm;
    high += 15.0_mm;
    add_other(set, {{low, f.inboard}, {high, f.inboard}},
              f.inboard_free ? "inboard edge, free" : "inboard edge of the flat: bend");
    add_other(set, {{low, f.outboard}, {high, f.outboard}},
              f.outboard_free ? "outboard edge, free" : "outboard edge of the flat: bend");
  }

  void note_wall_edges(HoleSet& set, const Fastening& f) const {
    const geometry::Flat flat = geometry::flat_of(m_);
    const Length least = checks::least_edge_in_wall(f);
    if (m_.host.form != WallForm::sheet) {
      const auto note = [&](bool free, Length at, const std::string& side) {
        note_line(
            set, false, at,
            free ? "to the " + side + " free edge" : "to the " + side + " bend (edge of the flat)",
            free ? std::optional<Length>(least) : std::nullopt);
      };
      note(flat.inboard_free, flat.inboard, "inboard");
      note(flat.outboard_free, flat.outboard, "outboard");
    }
    if (flat.ends_free) {
      note_nearer(set, true, flat.aft, flat.forward,
                  "to the free end of the wall, if it lies that way", least);
    }
  }

  void note_panel_edges(HoleSet& set, const Fastening& f) const {
    const geometry::Flat flat = geometry::flat_of(m_);
    const bool wooden = m_.host.kind == HostKind::timber || m_.host.kind == HostKind::plywood;
    const bool hardwood = m_.host.wood.wood && m_.host.wood.wood->hardwood;
    const Length edge = wooden ? checks::least_edge_in_wood(f) : checks::least_edge_in_laminate(f);
    Length along = wooden ? checks::least_end_in_wood(f, hardwood) : edge;
    Length across = edge;
    // Plywood: the grain of its face is not asked.
    if (m_.host.kind == HostKind::plywood) along = across = std::max(along, edge);
    const bool fore_aft = m_.host.kind != HostKind::timber || m_.host.wood.grain_fore_aft;
    const auto note = [&](bool ends, Length low, Length high, Length least,
                          const std::string& words) {
      if (high < 0.5 * geometry::far_away) note_nearer(set, ends, low, high, words, least);
    };
    note(false, flat.inboard, flat.outboard, fore_aft ? across : along,
         "to the long edge, if it lies that way");
    note(true, flat.aft, flat.forward, fore_aft ? along : across,
         "to the end, if it lies that way");
  }

  void host_notes(HoleSet& set, const Fastening& f) const {
    auto& n = set.notes;
    if (m_.host.is_metal()) {
      n.push_back("stop collar: the drill comes no farther than " +
                  size(Length(m_.host.thickness + 3.0_mm), u_) + " into the wall");
      n.emplace_back("no hole, washer or chamfer in the radius of a bend; deburr both sides");
    } else if (in_wood(f.hold)) {
      n.push_back("stop collar: no deeper than the screw goes, " +
                  size(Length(f.length - m_.base.thickness - f.packing), u_) + " into the wood");
    } else {
      n.push_back("stop collar at " + size(Length(m_.host.thickness + 3.0_mm), u_));
    }
    tapping_notes(n, f);
    if (m_.host.kind == HostKind::timber || m_.host.kind == HostKind::plywood)
      n.emplace_back("seal the wall of every hole and the end grain before anything goes in");
    if (m_.host.kind == HostKind::cored_panel && !m_.host.panel.solid_at_bolts) {
      n.emplace_back(
          "core: drill over size, clear the core back, fill with thickened epoxy, drill again");
    }
    if (m_.host.kind == HostKind::laminate || m_.host.kind == HostKind::cored_panel)
      n.emplace_back("tape over the gelcoat, first turns backwards, chamfer the gelcoat");
    if (f.hold == HoldBy::through_bolt) n.push_back(sleeve_note(f.thread, u_));
    n.emplace_back(
        "bed the base and each fastener; the first hole holds the template for the next");
  }

  static void tapping_notes(std::vector<std::string>& n, const Fastening& f) {
    if (f.hold != HoldBy::tapped && f.hold != HoldBy::tapped_bar &&
        f.hold != HoldBy::thread_insert) {
      return;
    }
    n.emplace_back(
        "start the tap square, with cutting oil: half a turn on, a quarter back; the drill no size "
        "larger than named");
    n.emplace_back("stainless screws: paste, by hand, slowly; a driver strips or seizes them");
  }

  // Bar or plate behind the wall: centred under the base.
  HoleSet behind(const Fastening& f, const std::string& of) const {
    const Backing& b = *f.backing;
    const bool bar = geometry::in_bar(f);
    std::vector<Drill> drills = !bar                              ? clearing(f.thread, library_)
                                : f.hold == HoldBy::thread_insert ? by_kit()
                                                                  : tapping(f.thread, library_);
    HoleSet set = start(f, drilled(drills));
    set.drills = std::move(drills);
    set.name = (bar ? "bar behind the wall" : "plate behind") + of;
    set.into = show(b.thickness, u_) + " " + b.metal.name;
    set.face = "from outside, as it lies behind the wall";
    set.part = box(-0.5 * b.fore_aft, -0.5 * b.athwart, 0.5 * b.fore_aft, 0.5 * b.athwart);
    note_sides(
        set, set.part, "to the edge of the piece",
        m_.host.is_metal() ? std::optional<Length>(checks::least_edge_in_wall(f)) : std::nullopt);
    note_spacing(set, m_.host.is_metal() ? std::optional<Length>(checks::least_spacing_in_wall(f))
                                         : std::nullopt);
    set.datum = "middle of the piece, under the middle of the base";
    set.notes.emplace_back("deburr both sides; round the corners");
    tapping_notes(set.notes, f);
    set.notes.emplace_back(
        "drill it through the holes of the wall, clamped in its place, or by "
        "this pattern on the bench: not by both");
    set.made = FlatPiece{b.metal.name, b.thickness, 1, corners(b.metal)};
    return set;
  }

  std::vector<Drill> into_base(const Fastening& f) const {
    return f.hold == HoldBy::rivet ? into_host(f) : clearing(f.thread, library_);
  }

  // Each drill with the holes that it is for.
  void add_second(HoleSet& set, std::vector<Drill>& drills, const Fastening& other) const {
    const std::vector<Drill> own = into_base(other);
    std::vector<int> ones, others;
    for (const Hole& h : set.holes) ones.push_back(h.number);
    for (const PlanPoint& p : other.holes) {
      others.push_back(first_number(other) + int(others.size()));
      set.holes.push_back({others.back(), p, false, drilled(own), "other fasteners"});
    }
    for (Drill& d : drills) d.only = ones;
    for (Drill d : own) {
      d.only = others;
      drills.push_back(std::move(d));
    }
  }

  // The base itself, or the plate of a bracket.
  HoleSet base() const {
    const Fastening& f = m_.fastening;
    const bool clasped = geometry::is_clasped(m_);
    std::vector<Drill> drills = into_base(f);
    HoleSet set = start(f, drilled(drills));
    if (m_.second) add_second(set, drills, *m_.second);
    set.name = m_.bracket ? "bracket plate" : "base plate";
    set.into = show(m_.base.thickness, u_) + " " + m_.base.metal->name;
    set.face = "from above, the side that the gear stands on";
    set.part = m_.base.outline;
    set.drills = std::move(drills);
    if (clasped) around(set, f);
    if (m_.bracket) on_bracket(set);
    note_sides(set, set.part, "to the edge of the plate",
               clasped ? std::nullopt : std::optional<Length>(checks::least_edge_in_base(f)));
    if (m_.second) {
      for (EdgeNote& e : set.edges) {
        if (e.number >= first_number(*m_.second)) e.least = checks::least_edge_in_base(*m_.second);
      }
    }
    note_spacing(set, std::nullopt);
    set.notes.emplace_back("deburr both sides; round the corners");
    if (!m_.bracket) {
      set.notes.emplace_back(
          "only if you make this plate: a base that came with the gear has its holes, and they "
          "govern");
    }
    set.made = FlatPiece{m_.base.metal->name, m_.base.thickness, 1, corners(*m_.base.metal)};
    return set;
  }

  // U-bolts and clamps: the file has their middle, not the places of their legs.
  void around(HoleSet& set, const Fastening& f) const {
    const bool u_bolts = f.hold == HoldBy::u_bolt;
    for (Hole& h : set.holes) {
      h.marked_only = true;
      h.diameter = Length{};
      h.name = u_bolts ? "middle of a U-bolt" : "clamp screw";
    }
    if (!u_bolts) {
      set.drills.clear();
      set.notes.emplace_back(
          "clamps: nothing is drilled here, the marks are where their screws press");
      return;
    }
    set.notes.emplace_back(
        "each mark is the middle of a U-bolt: its two legs go to either side of it, as far apart "
        "as the U-bolt in hand; measure it, the file does not have it");
    if (const auto& fitting = m_.bracket->fitting) {
      Outline foot = fitting->foot.outline;
      for (PlanPoint& p : foot) p = {p.x + fitting->at.x, p.y + fitting->at.y};
      add_other(set, std::move(foot), "foot of the " + fitting->name + " below");
      set.notes.push_back("the holes of the " + fitting->name + " are there already: drill none");
    }
  }

  void on_bracket(HoleSet& set) const {
    const Bracket& b = *m_.bracket;
    for (std::size_t i = 0; i < b.bears_on.size(); ++i) {
      add_other(set, b.bears_on[i],
                i < b.firm.size() && b.firm[i] ? "bears here, firm" : "bears here");
    }
    const Length arm = 0.5 * b.gear_width;
    add_other(set, {{b.gear_at.x - arm, b.gear_at.y}, {b.gear_at.x + arm, b.gear_at.y}},
              "middle of the gear's foot");
    add_other(set, {{b.gear_at.x, b.gear_at.y - arm}, {b.gear_at.x, b.gear_at.y + arm}}, "");
    for (const Stiffener& a : b.stiffeners)
      add_other(set, {a.from, a.to}, "angle along the lower side");
    set.notes.emplace_back(
        "the gear's own holes are not in the file: mark them from the gear, its middle on the "
        "cross");
  }

  const Setup& s_;
  const GunwalePlate& m_;
  ReaderUnits u_;
  const MaterialLibrary& library_;
  std::vector<HoleSet> sets_;
};

}  // namespace

std::vector<HoleSet> of_plate(const Setup& setup, const MaterialLibrary& library) {
  return Plate(setup, library).all();
}

}  // namespace thole::hole_parts
