// What isolates, seals and locks; what keeps people out of harm; tools. Common practice, no source,
// but for the pairs of metals.

#include <algorithm>
#include <cmath>

#include <thole/metal_pairs.hpp>
#include <thole/tightening.hpp>

#include "core/geometry.hpp"
#include "core/hole_parts.hpp"
#include "core/parts.hpp"

namespace thole::parts {

namespace {

bool aluminium(std::optional<GalvanicKind> k) {
  return k == GalvanicKind::aluminium || k == GalvanicKind::aluminium_2xxx;
}

// ---- Counts of the parts that `metal_pairs` names

int count_on_plate(const GunwalePlate& m, const std::string& part) {
  const auto holes = [](const Fastening& f) { return int(f.holes.size()); };
  if (part == "the fasteners" || part == "the U-bolts") return holes(m.fastening);
  if (part == "the other fasteners") return m.second ? holes(*m.second) : 0;
  if (part == "the inserts") {
    int n = 0;
    for (const Fastening* f : {&m.fastening, m.second ? &*m.second : nullptr}) {
      if (f != nullptr && (f->insert || f->blind)) n += holes(*f);
    }
    return n;
  }
  if (part == "the fasteners of the fitting") {
    return m.bracket && m.bracket->fitting ? holes(m.bracket->fitting->fastening) : 0;
  }
  return 1;
}

int count_on_board(const Setup& s, const std::string& part) {
  const CrossBoard& m = s.board();
  int n = 0;
  if (part == "the hold-downs") return int(m.hold_downs.size());
  if (part == "the legs") return int(m.legs.size());
  for (const Ledge* l : {&m.port, &m.starboard}) {
    if (part == "the ledge" && l->kind == LedgeKind::angle) ++n;
    if (!l->fastening) continue;
    if (part == "the bolts of the ledge") n += l->fastening->count;
    if (part == "the plate behind the hull" && l->fastening->backing) ++n;
  }
  for (const Gear& g : s.gear) {
    if (!g.foot) continue;
    if (part == "the bolts of the gear") n += int(g.foot->holes.size());
    if (part == "the plate under the gear" && g.foot->plate) ++n;
  }
  return std::max(n, 1);
}

// ---- Isolation

// Threads cut in the other part, or in an insert in it: no sleeve goes in.
bool threaded_in(const Setup& s, const MetalPair& p) {
  if (s.on_board()) return false;
  if (p.other == "the inserts" || p.part == "the inserts") return true;
  if (p.other != "the wall" && p.other != "the piece behind the wall") return false;
  const GunwalePlate& m = s.plate();
  const Fastening* f = p.part == "the fasteners"         ? &m.fastening
                       : p.part == "the other fasteners" ? (m.second ? &*m.second : nullptr)
                                                         : nullptr;
  if (f == nullptr) return false;
  const bool in_bar = f->backing.has_value();
  switch (f->hold) {
    case HoldBy::tapped:
    case HoldBy::self_tapping:
      return p.other == "the wall";
    case HoldBy::tapped_bar:
      return p.other == "the piece behind the wall";
    case HoldBy::thread_insert:
      return in_bar == (p.other == "the piece behind the wall");
    case HoldBy::blind_insert:
      return p.other == "the wall";
    default:
      return false;
  }
}

std::string pair_words(const MetalPair& p) { return p.part + " against " + p.other; }

constexpr const char* paste = "paste for threads (lanolin, zinc or PTFE)";

void isolate_pairs(Builder& b) {
  for (const MetalPair& p : metal_pairs(b.setup())) {
    if (p.rule == PairRule::fine) continue;
    const std::string why = pair_words(p);
    if (!p.fastener) {
      const int n = count_of(b.setup(), p.part);
      b.once(PartKind::isolation, "plastic pad 1/16 to 1/8 in (1.5 to 3 mm) as large as " + p.part,
             n, why);
      continue;
    }
    // In fresh water paste is enough for the accepted order, a small noble part in a large base
    // one.
    const bool threaded = threaded_in(b.setup(), p);
    const bool sleeve = !threaded && (b.setup().salt_water || p.rule != PairRule::small_cathode);
    if (sleeve) {
      b.once(PartKind::isolation, "plastic washer and shrink sleeve for " + p.part,
             count_of(b.setup(), p.part), why);
      b.note("plastic washers creep: lay them under metal ones, tighten again after a week");
    }
    if (!sleeve || aluminium(p.kind) || aluminium(p.other_kind)) {
      b.once(PartKind::isolation, paste, 1, why);
    }
  }
}

// Wet or treated wood on bare aluminium.
void isolate_wood(Builder& b) {
  const Setup& s = b.setup();
  int faces = 0;
  bool treated = false;
  if (s.on_board()) {
    const CrossBoard& m = s.board();
    if (!m.board.wood) return;
    treated = m.board.treated;
    if (!treated && !s.salt_water) return;
    for (const Ledge* l : {&m.port, &m.starboard}) {
      const bool angle = l->kind == LedgeKind::angle;
      if (angle ? l->metal && aluminium(galvanic_kind(*l->metal)) : treated) ++faces;
    }
    for (const Leg& l : m.legs) {
      if (l.metal && aluminium(galvanic_kind(*l.metal))) ++faces;
    }
    for (const Gear& g : s.gear) {
      if (g.foot && g.foot->plate && aluminium(galvanic_kind(g.foot->plate->metal))) ++faces;
    }
  } else {
    const GunwalePlate& m = s.plate();
    if (m.host.kind != HostKind::timber && m.host.kind != HostKind::plywood) return;
    treated = m.host.wood.treated;
    if (!treated && !s.salt_water) return;
    if (m.base.metal && aluminium(galvanic_kind(*m.base.metal))) ++faces;
    for (const Fastening* f : {&m.fastening, m.second ? &*m.second : nullptr}) {
      if (f != nullptr && f->backing && aluminium(galvanic_kind(f->backing->metal))) ++faces;
    }
  }
  if (faces == 0) return;
  b.small(PartKind::isolation,
          "barrier between wood and aluminium: plastic sheet or two coats of paint", faces,
          treated ? "copper in treated wood eats aluminium" : "wet wood on bare aluminium pits it",
          "chandlery");
}

void lock_and_oil(Builder& b) {
  bool locker = false, dry = false, galls = false;
  for (const TighteningRow& r : tightening_rows(b.setup())) {
    locker = locker || r.lock.find("thread locker") != std::string::npos;
    dry = dry || r.lubricated == false;
    galls = galls || r.lubricated == true;
  }
  if (locker) {
    b.small(PartKind::isolation, "removable thread locker, small bottle", 1,
            "screws without a locknut", "chandlery");
  }
  if (galls) {
    b.once(PartKind::isolation, paste, 1, "the file says oiled or pasted threads");
  }
  if (dry) {
    b.note(
        "the file says dry threads: with paste or oil on them they must be turned less tight; "
        "write lubricated: yes and ask again");
  }
}

// ---- Sealing

bool bedded(const Assembly& a) { return !a.bedding || *a.bedding == Bedding::sealant; }

void pad_under(Builder& b, const Assembly& a, const std::string& of) {
  if (a.bedding == Bedding::plastic || a.bedding == Bedding::rubber) {
    b.small(PartKind::sealing, std::string(word_for(*a.bedding)) + " pad under " + of, 1,
            "as in the file", "chandlery");
  }
}

void sealant(Builder& b, const std::string& why) {
  b.once(PartKind::sealing, "bedding sealant or butyl tape", 1, why);
}

void seal_plate(Builder& b) {
  const GunwalePlate& m = b.setup().plate();
  const bool holes = !geometry::is_clasped(m);
  pad_under(b, m.fastening.assembly, "the base");
  if (holes && bedded(m.fastening.assembly)) {
    sealant(b, "under the base and in every hole; no silicone");
  }
  const int n = int(m.fastening.holes.size()) + (m.second ? int(m.second->holes.size()) : 0);
  if (m.host.kind == HostKind::cored_panel && holes) {
    b.small(
        PartKind::sealing, "epoxy with thickener: a solid plug at each bolt", n,
        m.host.panel.solid_at_bolts
            ? "solid at the bolts as in the file: seal the edge of the core all the same"
            : "clear the core back, fill, let it set, drill again; a yard's job where it is wet",
        "chandlery");
  }
  if ((m.host.kind == HostKind::timber || m.host.kind == HostKind::plywood) && holes) {
    b.small(PartKind::sealing, "wood sealer or epoxy for the inside of the holes", 1,
            "bare grain drinks", "chandlery");
  }
}

void seal_board(Builder& b) {
  const CrossBoard& m = b.setup().board();
  bool wood = m.board.wood.has_value();
  for (const Leg& l : m.legs) wood = wood || l.wood;
  if (wood) {
    b.small(PartKind::sealing, "end-grain sealer, two coats", 1,
            "both ends and the inside of every hole, before anything is bolted on", "chandlery");
  }
  bool through_hull = false;
  for (const Ledge* l : {&m.port, &m.starboard}) through_hull = through_hull || l->fastening;
  if (through_hull) sealant(b, "every bolt through the hull; no silicone");
  if (!m.board.wood) {
    b.small(PartKind::sealing, "end plug, one with a hole to drain", 2, "ends of the board",
            "chandlery");
  }
}

// ---- Tools

std::string both_ways(const Thread& t, Length v) {
  const std::string in = show(v, ReaderUnits::inch), mm = show(v, ReaderUnits::metric);
  return hole_parts::is_metric(t) ? mm + " (" + in + ")" : in + " (" + mm + ")";
}

// By the name that the hole template gives it.
std::string named(const Thread& t, const Drill& d) {
  const std::string size = both_ways(t, d.diameter);
  return size.rfind(d.name + " ", 0) == 0 ? size : d.name + ", " + size;
}

void clearance(Builder& b, const Thread& t, Length hole, const std::string& where) {
  const Length d = hole.value() > 0 ? hole : t.clearance;
  if (!(d.value() > 0)) return;
  const Drill drill = hole_parts::drill_of(d, t, b.library(), "", {});
  b.tool("drill " + named(t, drill), "clearance of " + t.name + " in " + where);
}

void tap(Builder& b, const Thread& t, const std::string& where) {
  for (const Drill& d : hole_parts::tapping(t, b.library())) {
    if (d.use == "tap drill") b.tool("tap drill " + named(t, d), t.name + " in " + where);
  }
  b.tool("tap " + t.name, where);
}

void tools_of(Builder& b, const Fastening& f, const std::string& base) {
  const Thread& t = f.thread;
  switch (f.hold) {
    case HoldBy::tapped:
      tap(b, t, "the wall");
      return clearance(b, t, {}, base);
    case HoldBy::tapped_bar:
      tap(b, t, "the bar");
      return clearance(b, t, {}, base + " and wall");
    case HoldBy::thread_insert:
      b.tool("thread insert kit " + t.name + " with its own drill and tap", "the inserts");
      return clearance(b, t, {}, base);
    case HoldBy::blind_insert:
      if (f.blind) {
        b.tool("drill " + named(t, hole_parts::drill_of(f.blind->hole, t, b.library(), "", {})),
               "the inserts");
      }
      b.tool("setting tool for threaded rivets " + t.name, "the inserts");
      return clearance(b, t, {}, base);
    case HoldBy::self_tapping:
      b.tool("pilot drill for " + t.name + " screws, by the wall: see their pack", "the wall");
      return clearance(b, t, {}, base);
    case HoldBy::lag_screw:
    case HoldBy::wood_screw:
      b.tool("pilot and shank drills for " + t.name + " screws: see the hole template", "the wood");
      return clearance(b, t, {}, base);
    case HoldBy::rivet:
      b.tool("drill for rivets of " + both_ways(t, t.diameter) + ": see the hole template",
             "the rivets");
      b.tool(f.rivet && f.rivet->blind ? "rivet puller" : "rivet set and bucking bar",
             "the rivets");
      return;
    case HoldBy::clamp:
      return;
    default:
      return clearance(b, t, {}, f.hold == HoldBy::u_bolt ? base : base + " and host");
  }
}

// In the reader's units.
Moment two_figures_down(Moment m, ReaderUnits u) {
  const double unit = u == ReaderUnits::inch ? 4.4482216152605 * 0.0254 : 1;
  const double v = m.value() / unit;
  const double step = std::pow(10.0, std::floor(std::log10(v)) - 1);
  return Moment::from_value(std::floor(v / step + 1e-9) * step * unit);
}

void board_tools(Builder& b) {
  const CrossBoard& m = b.setup().board();
  for (const Ledge* l : {&m.port, &m.starboard}) {
    if (l->fastening) clearance(b, l->fastening->thread, {}, "ledge and hull");
  }
  for (const HoldDown& h : m.hold_downs) {
    if (h.kind != HoldDownKind::u_bolt) clearance(b, h.thread, h.hole, "board");
    clearance(b, h.thread, {}, "ledge");
  }
  for (const Gear& g : b.setup().gear) {
    if (g.foot) clearance(b, g.foot->thread, g.foot->hole, "board");
  }
}

}  // namespace

int count_of(const Setup& setup, const std::string& part) {
  return setup.on_board() ? count_on_board(setup, part) : count_on_plate(setup.plate(), part);
}

void add_between(Builder& b) {
  isolate_pairs(b);
  isolate_wood(b);
  lock_and_oil(b);
  if (b.setup().on_board()) {
    seal_board(b);
  } else {
    seal_plate(b);
  }
}

void add_safety(Builder& b) {
  const Setup& s = b.setup();
  int sides = 1;
  if (s.on_board()) {
    const auto on = [&](Side side) {
      return std::any_of(s.gear.begin(), s.gear.end(),
                         [&](const Gear& g) { return g.place.side == side; });
    };
    sides = std::max(1, int(on(Side::port)) + int(on(Side::starboard)));
  }
  for (const Gear& g : s.gear) {
    const auto& link = g.downrigger   ? g.downrigger->weak_link
                       : g.rod_holder ? g.rod_holder->weak_link
                                      : std::optional<Force>();
    if (!link) continue;
    b.small(PartKind::safety, "weak link that parts at " + show(*link, s.units), 1,
            g.downrigger ? "at the clip of each downrigger; knots weaken it, pull-test one"
                         : "at the end of the line",
            "chandlery");
  }
  b.small(PartKind::safety, "one-hand line and wire cutter on a lanyard", sides,
          "within reach at each side that has gear", "chandlery");
  b.small(PartKind::safety, "label: not a handhold, seat or step; no towing, mooring or lifting", 1,
          "on the mount, where a hand would go", "chandlery");
}

void add_tools(Builder& b) {
  const Setup& s = b.setup();
  if (s.on_board()) {
    board_tools(b);
  } else {
    const GunwalePlate& m = s.plate();
    tools_of(b, m.fastening, m.bracket ? "plate" : "base");
    if (m.second) tools_of(b, *m.second, m.bracket ? "plate" : "base");
  }
  b.tool("stop collar or tape on the drill", "nothing behind the hole is hit");
  b.tool("deburring tool or countersink turned by hand", "both sides of every hole in metal");
  b.tool("eye protection", "drilling");
  b.tool("luggage scale 50 kg (110 lb)", "brake or drag, and the test pull");
  std::optional<Moment> least;
  for (const TighteningRow& r : tightening_rows(s)) {
    if (r.ceiling && (!least || *r.ceiling < *least)) least = r.ceiling;
  }
  if (least) {
    b.tool("torque wrench or driver that reads " + show(two_figures_down(*least, s.units), s.units),
           "smallest ceiling of the tightening card");
  }
}

}  // namespace thole::parts
