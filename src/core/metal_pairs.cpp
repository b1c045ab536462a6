#include <thole/metal_pairs.hpp>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <initializer_list>
#include <tuple>

#include <thole/error.hpp>

namespace thole {

namespace {

Voltage volts(double v) { return v * si::volt; }

std::string lower(std::string text) {
  for (char& c : text) c = char(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

bool has(const std::string& text, std::initializer_list<const char*> parts) {
  return std::any_of(parts.begin(), parts.end(),
                     [&](const char* p) { return text.find(p) != std::string::npos; });
}

// "0.40 V"
std::string show_volts(Voltage v) {
  const long hundredths = std::lround(100 * v.value());
  const std::string digits = std::to_string(hundredths % 100);
  return std::to_string(hundredths / 100) + "." + (digits.size() < 2 ? "0" : "") + digits + " V";
}

bool copper_metal(GalvanicKind k) {
  return k == GalvanicKind::brass_or_bronze || k == GalvanicKind::copper;
}

bool aluminium_metal(GalvanicKind k) {
  return k == GalvanicKind::aluminium || k == GalvanicKind::aluminium_2xxx;
}

std::optional<GalvanicKind> by_name(const std::string& name) {
  if (has(name, {"galvani", "zinc", "hot-dip"})) return GalvanicKind::zinc;
  if (has(name, {"brass", "bronze"})) return GalvanicKind::brass_or_bronze;
  if (has(name, {"copper"})) return GalvanicKind::copper;
  if (has(name, {"stainless", "18-8", "f593", "a2-", "a4-", "304", "316"})) {
    return GalvanicKind::stainless;
  }
  if (has(name, {"2024", "2014", "2011", "2017"})) return GalvanicKind::aluminium_2xxx;
  return std::nullopt;
}

// Coils and solid inserts are of stainless, unless somebody made them of anything else.
std::optional<GalvanicKind> kind_of_insert(const Fastening& f) {
  if (f.insert) return GalvanicKind::stainless;
  if (!f.blind) return std::nullopt;
  switch (f.blind->metal) {
    case BlindInsert::Metal::aluminium:
      return GalvanicKind::aluminium;
    case BlindInsert::Metal::steel:
      return GalvanicKind::zinc;  // sold plated
    case BlindInsert::Metal::stainless:
      return GalvanicKind::stainless;
  }
  throw InternalError("a metal of an insert without its place");
}

}  // namespace

const std::vector<GalvanicEntry>& galvanic_series() {
  static const std::vector<GalvanicEntry> series{
      {GalvanicKind::zinc, "galvanised steel", volts(1.20), Seen::memory, volts(-1.14)},
      {GalvanicKind::aluminium, "aluminium", volts(0.90), Seen::copy, volts(-0.82)},
      {GalvanicKind::steel, "steel", volts(0.85), Seen::copy, volts(-0.79)},
      {GalvanicKind::aluminium_2xxx, "aluminium with copper", volts(0.75), Seen::page,
       std::nullopt},
      {GalvanicKind::stainless, "stainless", volts(0.50), Seen::page, volts(-0.08)},
      {GalvanicKind::brass_or_bronze, "brass or bronze", volts(0.40), Seen::page, volts(-0.45)},
      {GalvanicKind::copper, "copper", volts(0.35), Seen::page, std::nullopt}};
  return series;
}

const GalvanicEntry& galvanic_entry(GalvanicKind kind) {
  for (const GalvanicEntry& e : galvanic_series()) {
    if (e.kind == kind) return e;
  }
  throw InternalError("a metal without a place in the galvanic series");
}

Voltage permitted_difference(bool salt_water) { return volts(salt_water ? 0.15 : 0.25); }

std::optional<GalvanicKind> galvanic_kind(const Metal& metal) {
  if (metal.name.empty()) return std::nullopt;
  if (const auto k = by_name(lower(metal.name))) return k;
  return metal.aluminium ? GalvanicKind::aluminium : GalvanicKind::steel;
}

std::optional<GalvanicKind> galvanic_kind(const FastenerMaterial& material) {
  const std::string name = lower(material.name);
  if (const auto k = by_name(name)) return k;
  if (has(name, {"alumin", "6061", "7075", "5056"})) return GalvanicKind::aluminium;
  if (has(name, {"steel", "j429", "898-1", "grade"})) return GalvanicKind::steel;
  return std::nullopt;
}

PairRule pair_rule(GalvanicKind part, bool is_fastener, GalvanicKind other, bool salt_water) {
  if (part == other) return PairRule::fine;
  if ((copper_metal(part) && aluminium_metal(other)) ||
      (copper_metal(other) && aluminium_metal(part))) {
    return PairRule::never_bare;
  }
  const Voltage a = galvanic_entry(part).index;
  const Voltage b = galvanic_entry(other).index;
  const Voltage apart = abs(Voltage(a - b));
  // The steps of the list are hundredths of a volt.
  if (apart.value() <= permitted_difference(salt_water).value() + 1e-9) return PairRule::fine;
  const bool zinc = part == GalvanicKind::zinc || other == GalvanicKind::zinc;
  if (zinc && (aluminium_metal(part) || aluminium_metal(other))) return PairRule::coat_first;
  if (!is_fastener) return PairRule::large_cathode;
  return a < b ? PairRule::small_cathode : PairRule::small_anode;
}

std::vector<MetalPair> metal_pairs(const Setup& s) {
  std::vector<MetalPair> out;
  const auto touch = [&](const char* part, std::optional<GalvanicKind> a, bool fastener,
                         const char* other, std::optional<GalvanicKind> b) {
    if (!a || !b) return;
    MetalPair p;
    p.part = part;
    p.other = other;
    p.kind = *a;
    p.other_kind = *b;
    p.fastener = fastener;
    p.difference = abs(Voltage(galvanic_entry(*a).index - galvanic_entry(*b).index));
    p.rule = pair_rule(*a, fastener, *b, s.salt_water);
    const bool known = std::any_of(out.begin(), out.end(), [&](const MetalPair& o) {
      return std::tie(o.part, o.other, o.kind, o.other_kind) ==
             std::tie(p.part, p.other, p.kind, p.other_kind);
    });
    if (!known) out.push_back(std::move(p));
  };
  const auto of = [](const std::optional<Metal>& m) {
    return m ? galvanic_kind(*m) : std::optional<GalvanicKind>();
  };
  if (!s.on_board()) {
    const GunwalePlate& m = s.plate();
    const auto wall = galvanic_kind(m.host.metal);
    const auto base = of(m.base.metal);
    const auto bolt = galvanic_kind(m.fastening.material);
    touch("the fasteners", bolt, true, "the wall", wall);
    touch("the fasteners", bolt, true, "the base", base);
    touch("the base", base, false, "the wall", wall);
    for (const Fastening* f : {&m.fastening, m.second ? &*m.second : nullptr}) {
      const auto insert = f != nullptr ? kind_of_insert(*f) : std::optional<GalvanicKind>();
      if (!insert) continue;
      const bool behind = f->insert && f->backing;
      touch("the inserts", insert, true, behind ? "the piece behind the wall" : "the wall",
            behind ? galvanic_kind(f->backing->metal) : wall);
      touch("the fasteners", galvanic_kind(f->material), true, "the inserts", insert);
    }
    if (m.fastening.backing) {
      const auto behind = galvanic_kind(m.fastening.backing->metal);
      touch("the fasteners", bolt, true, "the piece behind the wall", behind);
      touch("the piece behind the wall", behind, false, "the wall", wall);
    }
    if (m.second) {
      const auto other = galvanic_kind(m.second->material);
      touch("the other fasteners", other, true, "the wall", wall);
      touch("the other fasteners", other, true, "the base", base);
      if (m.second->backing) {
        const auto behind = galvanic_kind(m.second->backing->metal);
        touch("the other fasteners", other, true, "the piece behind the wall", behind);
        touch("the piece behind the wall", behind, false, "the wall", wall);
      }
    }
    if (m.bracket && m.bracket->fitting) {
      const Fitting& f = *m.bracket->fitting;
      const auto foot = of(f.foot.metal);
      const auto its = galvanic_kind(f.fastening.material);
      touch("the U-bolts", bolt, true, "the fitting", foot);
      touch("the fasteners of the fitting", its, true, "the fitting", foot);
      touch("the fasteners of the fitting", its, true, "the wall", wall);
      touch("the fitting", foot, false, "the wall", wall);
    }
    return out;
  }
  const CrossBoard& m = s.board();
  const auto board = of(m.board.metal);
  for (const Side side : {Side::port, Side::starboard}) {
    const Ledge& l = m.ledge(side);
    const auto ledge = l.kind == LedgeKind::angle ? of(l.metal) : std::optional<GalvanicKind>();
    touch("the board", board, false, "the ledge", ledge);
    for (const HoldDown& h : m.hold_downs) {
      if (h.place.side == side) {
        touch("the hold-downs", galvanic_kind(h.material), true, "the ledge", ledge);
      }
    }
    if (!l.fastening) continue;
    const LedgeFastening& f = *l.fastening;
    const auto bolt = galvanic_kind(f.material);
    const auto hull =
        f.hull == HullKind::metal_wall ? of(f.hull_metal) : std::optional<GalvanicKind>();
    touch("the bolts of the ledge", bolt, true, "the ledge", ledge);
    touch("the bolts of the ledge", bolt, true, "the hull", hull);
    touch("the ledge", ledge, false, "the hull", hull);
    if (f.backing) {
      const auto behind = galvanic_kind(f.backing->metal);
      touch("the bolts of the ledge", bolt, true, "the plate behind the hull", behind);
      touch("the plate behind the hull", behind, false, "the hull", hull);
    }
  }
  for (const HoldDown& h : m.hold_downs) {
    touch("the hold-downs", galvanic_kind(h.material), true, "the board", board);
  }
  for (const Leg& l : m.legs) touch("the legs", of(l.metal), false, "the board", board);
  for (const Gear& g : s.gear) {
    if (!g.foot) continue;
    const auto bolt = galvanic_kind(g.foot->material);
    touch("the bolts of the gear", bolt, true, "the board", board);
    if (!g.foot->plate) continue;
    const auto plate = galvanic_kind(g.foot->plate->metal);
    touch("the bolts of the gear", bolt, true, "the plate under the gear", plate);
    touch("the plate under the gear", plate, false, "the board", board);
  }
  return out;
}

namespace {

// The first part of plain steel, in words; "" without one. In wood or laminate it touches no other
// metal, and rusts all the same.
std::string part_of_steel(const Setup& s) {
  std::string out;
  const auto look = [&](const char* part, std::optional<GalvanicKind> k) {
    if (out.empty() && k == GalvanicKind::steel) out = part;
  };
  const auto of = [](const std::optional<Metal>& m) {
    return m ? galvanic_kind(*m) : std::optional<GalvanicKind>();
  };
  if (!s.on_board()) {
    const GunwalePlate& m = s.plate();
    look("the fasteners", galvanic_kind(m.fastening.material));
    look("the base", of(m.base.metal));
    if (m.fastening.backing) {
      look("the piece behind the wall", galvanic_kind(m.fastening.backing->metal));
    }
    if (m.second) {
      look("the other fasteners", galvanic_kind(m.second->material));
      if (m.second->backing) {
        look("the piece behind the wall", galvanic_kind(m.second->backing->metal));
      }
    }
    return out;
  }
  const CrossBoard& m = s.board();
  for (const HoldDown& h : m.hold_downs) look("the hold-downs", galvanic_kind(h.material));
  for (const Ledge* l : {&m.port, &m.starboard}) {
    look("the ledge", of(l->metal));
    if (l->fastening) look("the bolts of the ledge", galvanic_kind(l->fastening->material));
  }
  for (const Leg& l : m.legs) look("the legs", of(l.metal));
  for (const Gear& g : s.gear) {
    if (g.foot) look("the bolts of the gear", galvanic_kind(g.foot->material));
  }
  return out;
}

}  // namespace

std::vector<std::string> pair_cautions(const Setup& s) {
  std::vector<std::string> out;
  const auto say = [&](const std::string& text) {
    if (std::find(out.begin(), out.end(), text) == out.end()) out.push_back(text);
  };
  const std::vector<MetalPair> pairs = metal_pairs(s);
  const char* where = s.salt_water ? " in salt water" : "";
  for (const MetalPair& p : pairs) {
    const GalvanicEntry& part = galvanic_entry(p.kind);
    const GalvanicEntry& other = galvanic_entry(p.other_kind);
    const std::string apart = show_volts(p.difference) + " apart";
    switch (p.rule) {
      case PairRule::fine:
        break;
      case PairRule::small_cathode:
        say(std::string(part.name) + " in " + std::string(other.name) + where + " (" + apart +
            "): small fasteners only; " +
            (s.salt_water ? "paste, sleeves and pads; look twice a season"
                          : "paste on the threads, turn slowly"));
        break;
      case PairRule::large_cathode: {
        const bool first = part.index < other.index;
        say((first ? p.part : p.other) + " of " + std::string((first ? part : other).name) +
            " on " + std::string((first ? other : part).name) + where + " (" + apart +
            "): a large noble plate eats it: a pad between them, paint the plate, or take like "
            "metals");
        break;
      }
      case PairRule::small_anode:
        say(p.part + " of " + std::string(part.name) + " in " + std::string(other.name) + where +
            " (" + apart + "): they go first: take " + std::string(other.name));
        break;
      case PairRule::never_bare:
        say(std::string((copper_metal(p.kind) ? part : other).name) +
            " on aluminium: never in bare contact, in any water: take stainless, or isolate all "
            "of it");
        break;
      case PairRule::coat_first:
        say(std::string("galvanised on aluminium") + where +
            ": the zinc goes first; replace it when it is spent");
        break;
    }
  }
  // Steel hardly drives a current against aluminium, but rusts all the same.
  std::string rusting;
  for (const MetalPair& p : pairs) {
    for (const bool first : {true, false}) {
      if ((first ? p.kind : p.other_kind) == GalvanicKind::steel) {
        rusting = first ? p.part : p.other;
      }
    }
  }
  if (rusting.empty()) rusting = part_of_steel(s);
  if (!rusting.empty()) {
    say(rusting + " of plain or plated steel rust" + (rusting.back() == 's' ? "" : "s") +
        ": hot-dip galvanised or stainless on a boat");
  }
  if (!s.on_board() && s.plate().host.wood.treated && !rusting.empty()) {
    say("treated wood eats plain steel: stainless or hot-dip galvanised hardware");
  }
  if (s.on_board() && s.board().board.wood && s.board().board.treated) {
    bool aluminium = false;
    bool plain = false;
    const auto look = [&](std::optional<GalvanicKind> k) {
      aluminium = aluminium || (k && aluminium_metal(*k));
      plain = plain || (k && *k == GalvanicKind::steel);
    };
    const CrossBoard& m = s.board();
    for (const Ledge* l : {&m.port, &m.starboard}) {
      if (l->kind == LedgeKind::angle && l->metal) look(galvanic_kind(*l->metal));
    }
    for (const HoldDown& h : m.hold_downs) look(galvanic_kind(h.material));
    for (const Leg& l : m.legs) {
      if (l.metal) look(galvanic_kind(*l.metal));
    }
    for (const Gear& g : s.gear) {
      if (!g.foot) continue;
      look(galvanic_kind(g.foot->material));
      if (g.foot->plate) look(galvanic_kind(g.foot->plate->metal));
    }
    // A gunwale or saddle is often aluminium.
    const bool unknown = m.port.kind != LedgeKind::angle || m.starboard.kind != LedgeKind::angle;
    if (aluminium || unknown) {
      say("copper in treated wood eats aluminium: a barrier between them, no bare contact");
    }
    if (plain) say("treated wood eats plain steel: stainless or hot-dip galvanised hardware");
  }
  return out;
}

}  // namespace thole
