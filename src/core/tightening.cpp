#include <thole/tightening.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "core/board_structure.hpp"
#include "core/geometry.hpp"
#include "core/metal_hold.hpp"
#include "core/stable_order.hpp"

namespace thole {

using namespace literals;

namespace {

constexpr double dry_over_lubricated = 1 / 0.59;
constexpr double share_of_yield = 0.65;
constexpr double share_of_pull_out = 0.5;
constexpr double closed = 1.2;
// A plank that is described as dry gets wet once: NDS wet factor of bearing across the grain.
constexpr double wet_bearing = 0.67;
const Length holds_preload_from = 0.25_in;
// A torque wrench by hand lies 25 % off.
constexpr double by_hand = 0.75;

const Citation nasa{"NASA TM-106943 (1995), torque, preload and nut factors", "", Seen::page};
const Citation half_judged{"half of the pull-out of tapped threads as their preload", "",
                           Seen::judgement};
const Citation face_judged{"metal under head and nut at yield, mean pressure", "", Seen::judgement};
const Citation snug_judged{"snug where no strength is published", "", Seen::judgement};
const Citation rules_of_practice{
    "locking nuts, thread locker, tightening again, galling: rules of the trade", "",
    Seen::practice};

bool is_stainless(const FastenerMaterial& m) {
  const auto named = [&](const char* part) { return m.name.find(part) != std::string::npos; };
  return named("tainless") || named("18-8") || named("F593") || named("A2-") || named("A4-");
}

Area ring(Length outside, Length hole) {
  const double a = 0.25 * std::numbers::pi * (outside * outside - hole * hole).value();
  return Area::from_value(std::max(a, 0.0));
}

// What a plate under a head presses, twice its thickness on every side (judgement), as the check of
// dents takes it.
Area under_plate(Length across, Length thickness, Area part, Length hole) {
  const Length side = across + 4.0 * thickness;
  const double a = std::min((side * side).value(), part.value()) -
                   0.25 * std::numbers::pi * (hole * hole).value();
  return Area::from_value(std::max(a, 0.0));
}

class Builder {
 public:
  Builder(Fastened what, const Thread& thread, const FastenerMaterial& material,
          const Assembly& assembly, ReaderUnits units)
      : units_(units), material_(material) {
    row_.what = what;
    row_.thread = thread;
    row_.lubricated = assembly.lubricated;
    row_.locking = assembly.locking;
    row_.k = nut_factor(is_stainless(material), assembly.lubricated);
    row_.bedding = assembly.bedding;
    row_.to = TightenTo::torque;
    row_.sources = {nasa, rules_of_practice};
  }

  TighteningRow& row() { return row_; }

  void limit(const std::string& layer, Force preload, double k) {
    row_.limits.push_back({layer, preload, torque_for(preload, row_.thread.diameter, k)});
  }
  void limit(const std::string& layer, Force preload) { limit(layer, preload, row_.k.low); }
  void limit_torque(const std::string& layer, Moment torque) {
    row_.limits.push_back({layer, preload_of(torque, row_.thread.diameter, row_.k.low), torque});
  }
  void caution(const std::string& text) { row_.cautions.push_back(text); }

  void metal_face(const std::string& layer, Length across, Length hole, const Metal& metal) {
    const Area a = ring(across, hole);
    if (!(a.value() > 0)) {
      snug(layer, "what presses on the metal is no wider than its hole");
      return;
    }
    limit(layer, a * metal.yield);
    source(face_judged);
  }

  void wood(const std::string& layer, Stress bearing, Area area, bool wet) {
    soft_ = wooden_ = true;
    // Preload stays: half of the nominal bearing, as of tapped threads (judgement).
    limit(layer, 0.5 * (wet ? 1.0 : wet_bearing) * bearing * area);
    source({"NDS 3.10.2, compression across the grain, wet", "", Seen::copy});
  }

  // No figure: the first reason stands.
  void snug(const std::string& layer, const std::string& why) {
    soft_ = true;
    if (row_.to != TightenTo::torque) return;
    row_.to = TightenTo::snug;
    row_.layer = layer;
    row_.why = why;
    source(snug_judged);
  }
  void loose(const std::string& why) {
    if (row_.to == TightenTo::loose) return;
    row_.to = TightenTo::loose;
    row_.layer.clear();
    row_.why = why;
  }
  void wooden() { wooden_ = soft_ = true; }
  void no_preload() { soft_ = true; }
  void source(const Citation& c) {
    if (std::find(row_.sources.begin(), row_.sources.end(), c) == row_.sources.end()) {
      row_.sources.push_back(c);
    }
  }
  [[nodiscard]] ReaderUnits units() const { return units_; }

  TighteningRow finish(bool nut, bool in_aluminium) {
    bed();
    limit(nut ? "bolt" : "screw", bolt_preload_limit(row_.thread, material_));
    sort_stably(row_.limits, [](const auto& a, const auto& b) { return a.torque < b.torque; });
    if (row_.to == TightenTo::torque) {
      row_.ceiling = row_.limits.front().torque;
      row_.layer = row_.limits.front().layer;
    }
    row_.holds_preload = row_.to == TightenTo::torque && !soft_;
    locks(nut);
    if (row_.bedding == Bedding::sealant) {
      row_.look_again.emplace_back("when the sealant has cured");
    }
    row_.look_again.emplace_back("after the first trip");
    row_.look_again.emplace_back("after a week");
    if (row_.bedding == Bedding::plastic || row_.bedding == Bedding::rubber) {
      row_.look_again.emplace_back("after the first hot day");
    }
    if (wooden_) row_.look_again.emplace_back("after the wood has dried for the first time");
    row_.look_again.emplace_back(soft_ ? "each month" : "each season");
    if (wooden_) {
      row_.cautions.emplace_back("wood shrinks and creeps: no tightness lasts by itself");
    }
    say_bedding();
    if (is_stainless(material_)) galls(nut, in_aluminium);
    return std::move(row_);
  }

 private:
  void locks(bool nut) {
    const Locking l = row_.locking.value_or(Locking::none);
    if (l == Locking::nut) {
      row_.lock = "locking nut";
      if (!nut) row_.lock = "locking nut behind the threads";
      return;
    }
    if (l == Locking::thread_locker) {
      row_.lock = "thread locker";
      return;
    }
    row_.lock = nut ? "fit locking nuts, two threads showing; a split washer is no lock"
                    : "add removable thread locker";
  }

  // What lies under the part takes the tightness away; a pad has no published strength either.
  void bed() {
    switch (row_.bedding.value_or(Bedding::none)) {
      case Bedding::none:
        return;
      case Bedding::sealant:
        no_preload();
        return;
      case Bedding::plastic:
        snug("plastic pad", "no published strength");
        return;
      case Bedding::rubber:
        snug("rubber pad", "no published strength");
        return;
      case Bedding::wood:
        wooden();
        snug("wooden pad", "its kind is not known");
        return;
    }
  }

  void say_bedding() {
    if (!row_.bedding) {
      row_.cautions.emplace_back(
          "bedding is not said: on sealant or a pad it cannot be kept tight by tightening; "
          "sealant: bed it, snug it, let it cure, then tighten");
      return;
    }
    switch (*row_.bedding) {
      case Bedding::none:
      case Bedding::wood:  // said of all wood
        return;
      case Bedding::sealant:
        row_.cautions.emplace_back(
            "sealant creeps: bed it, snug it, let it cure, then tighten, and go on doing so");
        return;
      case Bedding::plastic:
        row_.cautions.emplace_back(
            "plastic creeps under a nut, in the sun most: sleeves through the pad keep it tight");
        return;
      case Bedding::rubber:
        row_.cautions.emplace_back(
            "rubber goes on giving: snug until it just bulges; sleeves through it keep it tight");
        return;
    }
  }

  void galls(bool nut, bool in_aluminium) {
    if (row_.lubricated == false) {
      row_.cautions.emplace_back(
          "dry stainless seizes: paste or oil it, then not above 0.59 of these torques");
      return;
    }
    std::string where = nut ? "stainless on stainless nuts" : "stainless threads";
    if (in_aluminium && !nut) where += " in aluminium";
    row_.cautions.push_back(where + " may seize: paste or oil, turn slowly, no power driver" +
                            (row_.lubricated ? "" : "; the torque allows for paste"));
  }

  ReaderUnits units_;
  const FastenerMaterial& material_;
  TighteningRow row_;
  bool wooden_ = false;
  bool soft_ = false;  // something in the stack holds no preload
};

bool measured(const Setup& s, std::string_view path) {
  return std::any_of(s.inputs.begin(), s.inputs.end(), [&](const Input& i) {
    return i.path == path && i.known == Knowledge::measured;
  });
}

// ---- Gunwale plate
// -------------------------------------------------------------------------------

// Why threads or an insert have no figure; "" where they have one.
std::string no_figure(const GunwalePlate& m, bool in_bar, const Metal& metal) {
  if (!in_bar && m.host.screw_channel) return "no published strength of a screw channel";
  if (!metal.aluminium) return "no published strength of threads tapped in this metal";
  return "";
}

void tapped(const Setup& s, Builder& b) {
  const GunwalePlate& m = s.plate();
  const Fastening& f = m.fastening;
  const bool in_bar = geometry::in_bar(f);
  const Length thickness = in_bar ? f.backing->thickness : m.host.thickness;
  const std::string path = in_bar ? "mount.fastening.behind.thickness" : "mount.host.thickness";
  const std::string layer = in_bar ? "threads in the bar" : "threads in the wall";
  b.row().joint = f.thread.name +
                  (f.hold == HoldBy::self_tapping ? " self-tapping in " : " tapped in ") +
                  show(thickness, b.units()) + (in_bar ? " bar" : " wall");
  if (!(thickness.value() > 0)) {
    b.snug(layer, "how thick the metal is, is not known");
    return;
  }
  const Engagement e =
      engagement(f.thread, thickness, f.countersunk_wall ? 1 : 0, measured(s, path));
  b.row().engagement = e;
  const Length depth = (1 - e.tolerance) * e.drawing - e.lead_in;
  const Metal& metal = geometry::threaded_metal(f, m.host);
  if (e.drawing - e.lead_in < (1 - 1e-9) * holds_preload_from) b.no_preload();
  if (const std::string why = no_figure(m, in_bar, metal); !why.empty()) {
    b.snug(layer, why);
  } else if (e.least_threads < 1) {
    b.snug(layer, "less than one thread: no joint");
  } else {
    const bool spaced = is_spaced(f.thread);
    if (f.hold == HoldBy::self_tapping) {
      b.caution(
          "the torque counts on top of what drives the screw: the last turn by hand, and a "
          "screw that turns on at the end holds nothing");
    }
    const PullOut p = spaced
                          ? spaced_pull_out(f.thread, depth, metal)
                          : thin_wall_pull_out(f.thread, depth, metal, f.material.shear_ultimate);
    if (p.below_scope) {
      b.snug(layer, spaced ? "the rule for spaced threads begins at 0.038 in (1 mm)"
                           : "the rule for tapped walls begins at 0.060 in (1.5 mm)");
      return;
    }
    b.limit(layer, tapped_preload_limit(p.strength), tapped_nut_factor);
    b.source(half_judged);
  }
}

void thread_insert(const Setup& s, Builder& b) {
  const GunwalePlate& m = s.plate();
  const Fastening& f = m.fastening;
  const ThreadInsert& i = *f.insert;
  const bool in_bar = geometry::in_bar(f);
  const Length thickness = in_bar ? f.backing->thickness : m.host.thickness;
  const std::string layer = "metal round the insert";
  b.row().joint = f.thread.name + (i.solid ? " in a solid insert in " : " in a coil insert in ") +
                  show(thickness, b.units()) + (in_bar ? " bar" : " wall");
  const Length depth = geometry::thread_depth(f, m.host);
  if (depth < (1 - 1e-9) * holds_preload_from) b.no_preload();
  if (thickness < (1 - 1e-6) * i.length) {
    b.snug(layer, "the metal is thinner than the insert is long: no joint");
    return;
  }
  const std::string why = no_figure(m, in_bar, geometry::threaded_metal(f, m.host));
  const std::optional<Force> holds = held_in_metal(f, m.host);
  if (!holds) {
    b.snug(layer, "no published strength of a solid insert");
  } else if (!why.empty() && !i.solid) {
    b.snug(layer, why);
  } else {
    b.limit(layer, tapped_preload_limit(*holds), tapped_nut_factor);
    b.source(half_judged);
  }
}

void blind_insert(const Setup& s, Builder& b) {
  const GunwalePlate& m = s.plate();
  const Fastening& f = m.fastening;
  const BlindInsert& i = *f.blind;
  const std::string turns = "insert turns in the wall";
  b.row().joint =
      f.thread.name + " in a blind insert in " + show(m.host.thickness, b.units()) + " wall";
  b.no_preload();
  std::optional<Moment> torque = i.like.turns_at;
  if (i.turns_at && (!torque || i.turns_at->value < *torque)) torque = i.turns_at->value;
  if (!torque) {
    b.snug(turns, "no figure of the torque at which it does: one that has turned is lost");
  } else {
    b.limit_torque(turns, by_hand * *torque);
    if (i.turns_at && *torque == i.turns_at->value) {
      b.source({i.turns_at->source + " (as its owner has it)", "", Seen::copy});
    } else {
      b.source(i.like.source);
    }
    if (!i.turns_at) {
      b.caution("the torque is that of another maker's insert: try one in scrap of this wall");
    }
  }
  // The base rests on the flange: preload goes round inside the insert and does not pull it out.
  if (const std::optional<Force> thread = insert_thread_strength(i)) {
    b.limit("thread of the insert", tapped_preload_limit(*thread), tapped_nut_factor);
    b.source(half_judged);
  }
  b.caution("set for this grip, in the drilled hole its maker asks; in soft sheet it turns early");
}

// Wood or core under the parts that press on it from both sides.
void soft_host(const Setup& s, Builder& b, const std::string& layer, Stress strength, bool wood) {
  const GunwalePlate& m = s.plate();
  const Fastening& f = m.fastening;
  const Length hole = f.thread.clearance;
  const double n = std::max<double>(1.0, double(f.holes.size()));
  const Area base_part = area_of(m.base.outline) / n;
  const Area above = under_plate(f.head, m.base.thickness, base_part, hole);
  Area below = ring(f.washer ? board::stiff_washer(f.washer->outside, f.thread.diameter)
                             : f.thread.head_across_flats,
                    hole);
  if (f.backing) {
    below = under_plate(f.thread.head_across_flats, f.backing->thickness,
                        f.backing->fore_aft * f.backing->athwart / n, hole);
  }
  const Area least = std::min(above, below);
  const std::string where =
      layer + (below <= above ? (f.backing ? " under the plate behind" : " under the washer")
                              : " under the base");
  if (wood) {
    b.wood(where, strength, least, m.host.wood.wet);
  } else {
    b.no_preload();
    b.limit(where, strength * least);
  }
}

void through(const Setup& s, Builder& b) {
  const GunwalePlate& m = s.plate();
  const Fastening& f = m.fastening;
  const Host& h = m.host;
  b.row().joint = f.thread.name + " through " + show(h.thickness, b.units()) +
                  (h.is_metal() ? " wall" : " " + std::string(word_for(h.kind)));
  const Length nut = f.washer ? f.washer->outside : f.thread.head_across_flats;
  if (f.backing) {
    b.metal_face("plate under the nut", nut, f.thread.clearance, f.backing->metal);
  }
  switch (h.kind) {
    case HostKind::metal_wall:
      if (!f.backing) b.metal_face("wall under the nut", nut, f.thread.clearance, h.metal);
      break;
    case HostKind::timber:
      if (h.wood.bearing.value() > 0) {
        soft_host(s, b, "wood", h.wood.bearing, true);
      } else {
        b.wooden();
        b.snug("wood", "its strength across the grain is not known");
      }
      break;
    case HostKind::plywood:
      b.wooden();
      if (h.wood.bearing.value() > 0) {
        soft_host(s, b, "plywood", h.wood.bearing, true);
      } else {
        b.snug("plywood", "no published strength across its face");
      }
      break;
    case HostKind::laminate:
      b.snug("laminate", "no published strength");
      break;
    case HostKind::cored_panel:
      if (h.panel.solid_at_bolts) {
        b.snug("laminate", "no published strength of skins and plug");
      } else if (h.panel.core_crush) {
        soft_host(s, b, "core", h.panel.core_crush->value, false);
        b.source({h.panel.core_crush->source, "", Seen::copy});
      } else {
        b.snug("core", "it crushes, and no strength is known: solid plugs or sleeves first");
      }
      break;
  }
}

TighteningRow base_row(const Setup& s) {
  const GunwalePlate& m = s.plate();
  const Fastening& f = m.fastening;
  Builder b(Fastened::base, f.thread, f.material, f.assembly, s.units);
  b.row().count = int(f.holes.size());
  if (in_wood(f.hold)) {
    b.row().joint = f.thread.name + (f.hold == HoldBy::lag_screw ? " lag screw" : " wood screw") +
                    " in " + std::string(word_for(m.host.kind));
    b.wooden();
    b.snug("threads in the wood",
           "no published torque; one that turns on at the end holds nothing: plug and drill anew");
  } else if (f.hold == HoldBy::through_bolt) {
    through(s, b);
  } else if (f.insert) {
    thread_insert(s, b);
  } else if (f.blind) {
    blind_insert(s, b);
  } else if (!m.host.is_metal() && f.hold == HoldBy::tapped) {
    b.row().joint = f.thread.name + " tapped in " + std::string(word_for(m.host.kind));
    b.snug("threads", "no published strength of threads tapped in it");
  } else {
    tapped(s, b);
    if (!m.host.is_metal()) b.snug(std::string(word_for(m.host.kind)), "no published strength");
  }
  if (m.base.metal) {
    b.metal_face("base under the heads", f.head, f.thread.clearance, *m.base.metal);
  } else {
    b.snug("plastic or unknown base", "no published strength");
  }
  const bool nut = f.hold == HoldBy::through_bolt;
  TighteningRow out = b.finish(nut, !nut && geometry::threaded_metal(f, m.host).aluminium);
  if (in_wood(f.hold)) out.lock = "no lock: a fresh hole or a through bolt when it turns by itself";
  return out;
}

// ---- Cross-board
// ---------------------------------------------------------------------------------

TighteningRow ledge_row(const Setup& s, const Ledge& l, const std::string& name) {
  const LedgeFastening& f = *l.fastening;
  Builder b(Fastened::ledge, f.thread, f.material, f.assembly, s.units);
  b.row().names = {name};
  b.row().count = f.count;
  const char* hull = f.hull == HullKind::metal_wall ? " hull"
                     : f.hull == HullKind::laminate ? " laminate"
                                                    : " timber";
  b.row().joint = f.thread.name + " through " + show(f.hull_thickness, s.units) + hull;
  if (l.metal) {
    b.metal_face("angle under the heads", f.thread.head_across_flats, f.thread.clearance, *l.metal);
  }
  const Length nut = f.washer ? f.washer->outside : f.thread.head_across_flats;
  if (f.backing) {
    b.metal_face("plate under the nut", nut, f.thread.clearance, f.backing->metal);
  } else if (f.hull == HullKind::metal_wall && f.hull_metal) {
    b.metal_face("hull under the nut", nut, f.thread.clearance, *f.hull_metal);
  }
  if (f.hull == HullKind::laminate) b.snug("laminate", "no published strength");
  if (f.hull == HullKind::timber) {
    b.wooden();
    b.snug("timber of the hull", "its kind is not known");
  }
  if (f.hull == HullKind::metal_wall && !f.hull_metal) b.snug("hull", "its metal is not known");
  return b.finish(true, false);
}

bool hollow(const BoardPiece& piece, Fastened what, HoldDownKind kind) {
  switch (piece.form) {
    case BoardForm::plank:
    case BoardForm::plank_with_strip:
      return false;
    case BoardForm::rectangular_tube:
    case BoardForm::round_tube:
      return true;
    // Between the flanges only one wall is clamped where head and nut both sit on the web.
    case BoardForm::channel_down:
      return what == Fastened::hold_down;
    case BoardForm::channel_up:
      return what == Fastened::gear || kind == HoldDownKind::u_bolt;
  }
  throw InternalError("a form of board without a stack");
}

const char* word_for_piece(const BoardPiece& b) {
  switch (b.form) {
    case BoardForm::plank:
    case BoardForm::plank_with_strip:
      return " plank";
    case BoardForm::rectangular_tube:
    case BoardForm::round_tube:
      return " tube";
    case BoardForm::channel_down:
    case BoardForm::channel_up:
      return " channel";
  }
  throw InternalError("a form of board without a word");
}

void board_under(const Setup& s, Builder& b, Length washer, Length hole) {
  const BoardPiece& p = s.board().board;
  if (p.wood_strength) {
    const Length stiff = board::stiff_washer(washer, b.row().thread.diameter);
    b.wood("wood under the washer", p.wood_strength->bearing, ring(stiff, hole), p.wet);
  } else if (p.metal) {
    b.metal_face("board under the washer", washer, hole, *p.metal);
  } else {
    b.wooden();
    b.snug("wood under the washer", "its kind is not known");
  }
}

TighteningRow hold_down_row(const Setup& s, const HoldDown& h) {
  const CrossBoard& m = s.board();
  const BoardPiece& p = m.board;
  const Ledge& l = m.ledge(h.place.side);
  const bool u_bolt = h.kind == HoldDownKind::u_bolt;
  Builder b(Fastened::hold_down, h.thread, h.material, h.assembly, s.units);
  b.row().names = {h.name};
  b.row().count = u_bolt ? 2 : 1;
  b.row().joint = h.thread.name +
                  (u_bolt                             ? " U-bolt over the "
                   : h.kind == HoldDownKind::eye_bolt ? " eye bolt through the "
                                                      : " bolt through the ") +
                  show(p.thickness, s.units) + word_for_piece(p);
  if (h.kind == HoldDownKind::eye_bolt) {
    if (h.eye && h.eye->rated && h.eye->shouldered) {
      b.limit("eye bolt, as rated", h.eye->in_line);
      b.source(h.eye->source);
    } else {
      b.snug("eye bolt", h.eye && h.eye->rated ? "no shoulder to tighten on"
                                               : "no published rating of its kind");
    }
  }
  if (h.standoff.value() > 0) b.snug("packing", "no published strength");
  if (l.gap.value() > 0) {
    b.snug("board", "it stands clear of its seat, and tightening bends it: pack the gap first");
  }
  if (hollow(p, Fastened::hold_down, h.kind)) {
    b.snug("walls of the " + std::string(word_for_piece(p)).substr(1),
           "no figure for crushing a hollow section: a sleeve round each bolt first");
  } else {
    const Length hole = std::max(h.hole, u_bolt ? Length{} : h.thread.diameter);
    board_under(s, b, h.washer, hole);
    if (p.wood_strength && h.washer > hole) {
      // Under 45 degrees through the board, no farther than the seat reaches.
      const Length spread = board::stiff_washer(h.washer, h.thread.diameter) + 2.0 * p.thickness;
      const Length along = std::min(spread, l.along);
      const Length across = std::min({spread, l.fore_aft, p.width});
      const Area seat = Area::from_value(std::max(
          (along * across).value() - 0.25 * std::numbers::pi * (hole * hole).value(), 0.0));
      b.wood("wood on the seat", p.wood_strength->bearing, seat, p.wet);
    }
  }
  if (h.slack.value() > 0) {
    b.loose("left with " + show(h.slack, s.units) + " of lift: nothing to tighten, only to lock");
  }
  return b.finish(true, false);
}

TighteningRow gear_row(const Setup& s, const Gear& g) {
  const BoardPiece& p = s.board().board;
  const GearFoot& f = *g.foot;
  Builder b(Fastened::gear, f.thread, f.material, Assembly{}, s.units);
  b.row().names = {g.name};
  b.row().count = int(f.holes.size());
  b.row().joint = f.thread.name + " through the " + show(p.thickness, s.units) + word_for_piece(p);
  if (hollow(p, Fastened::gear, HoldDownKind::bolt)) {
    b.snug("walls of the " + std::string(word_for_piece(p)).substr(1),
           "no figure for crushing a hollow section: a sleeve round each bolt first");
  } else if (f.plate) {
    b.metal_face("plate under the board", f.thread.head_across_flats, f.hole, f.plate->metal);
    if (p.wood_strength) {
      const double n = std::max<double>(1.0, double(f.holes.size()));
      b.wood("wood under the plate", p.wood_strength->bearing,
             under_plate(f.thread.head_across_flats, f.plate->thickness,
                         f.plate->fore_aft * f.plate->athwart / n, f.hole),
             p.wet);
    } else if (!p.metal) {
      b.wooden();
      b.snug("wood under the plate", "its kind is not known");
    }
  } else {
    board_under(s, b, f.washer, f.hole);
  }
  // Its foot may be plastic or cast.
  b.no_preload();
  TighteningRow out = b.finish(true, false);
  out.cautions.emplace_back("the maker's torque for the gear's own foot counts where it is lower");
  return out;
}

bool alike(const TighteningRow& a, const TighteningRow& b) {
  return a.what == b.what && a.joint == b.joint && a.to == b.to && a.why == b.why &&
         a.layer == b.layer && a.ceiling == b.ceiling && a.lubricated == b.lubricated &&
         a.locking == b.locking && a.bedding == b.bedding;
}

void add(std::vector<TighteningRow>& rows, TighteningRow row) {
  for (TighteningRow& r : rows) {
    if (!alike(r, row)) continue;
    r.count += row.count;
    r.names.insert(r.names.end(), row.names.begin(), row.names.end());
    return;
  }
  rows.push_back(std::move(row));
}

}  // namespace

std::string_view word_for(Fastened f) {
  switch (f) {
    case Fastened::base:
      return "base";
    case Fastened::ledge:
      return "ledge";
    case Fastened::hold_down:
      return "hold-down";
    case Fastened::gear:
      return "gear";
  }
  throw InternalError("a kind of fastening without a word");
}

NutFactor nut_factor(bool stainless, std::optional<bool> lubricated) {
  constexpr NutFactor oiled{0.11, 0.28};
  const NutFactor dry =
      stainless ? NutFactor{oiled.low * dry_over_lubricated, 0.48} : NutFactor{0.15, 0.25};
  if (!lubricated) return {std::min(oiled.low, dry.low), std::max(oiled.high, dry.high)};
  return *lubricated ? oiled : dry;
}

Moment torque_for(Force preload, Length diameter, double k) {
  if (!(k > 0) || !(diameter.value() > 0)) {
    throw DomainError("a torque needs a diameter and a nut factor above zero");
  }
  return k * diameter * preload;
}

Force preload_of(Moment torque, Length diameter, double k) {
  if (!(k > 0) || !(diameter.value() > 0)) {
    throw DomainError("a preload needs a diameter and a nut factor above zero");
  }
  return torque / diameter / k;
}

Force bolt_preload_limit(const Thread& thread, const FastenerMaterial& material) {
  return share_of_yield * material.yield * tensile_stress_area(thread);
}

Force tapped_preload_limit(Force pull_out) { return share_of_pull_out * pull_out; }

Force closing_preload(Force separating) { return closed * separating; }

Engagement engagement(const Thread& thread, Length thickness, int chamfers, bool measured) {
  if (!(thickness.value() > 0) || !(thread.pitch.value() > 0)) {
    throw DomainError("threads need a thickness and a pitch above zero");
  }
  Engagement e;
  e.drawing = thickness;
  e.tolerance = measured ? 0 : 0.10;
  e.lead_in = 0.5 * double(chamfers) * thread.pitch;
  const auto count = [&](Length t) {
    return std::max(0.0, threads_engaged(thread, t - e.lead_in));
  };
  e.threads = count(thickness);
  e.least_threads = count((1 - e.tolerance) * thickness);
  if (e.least_threads < 1) {
    e.advice = "less than one thread: no joint";
  } else if (e.least_threads < 1.5) {
    e.advice = "below one and a half threads: advised against";
  } else if (e.least_threads < 2) {
    e.advice = "below two threads: no margin for wear";
  }
  return e;
}

std::vector<TighteningRow> tightening_rows(const Setup& s) {
  std::vector<TighteningRow> rows;
  if (!s.on_board()) {
    const auto look = [&](const Setup& one) {
      // Nothing to tighten on a rivet; U-bolts and clamps have no figure.
      const bool figure = !one.plate().fastening.rivet && !geometry::is_clasped(one.plate());
      if (figure) rows.push_back(base_row(one));
    };
    look(s);
    if (s.plate().second) {
      Setup other = s;
      other.plate().fastening = *s.plate().second;
      other.plate().second.reset();
      look(other);
    }
    return rows;
  }
  const CrossBoard& m = s.board();
  for (const Side side : {Side::port, Side::starboard}) {
    const Ledge& l = m.ledge(side);
    if (l.kind == LedgeKind::angle && l.fastening) {
      add(rows, ledge_row(s, l, std::string(word_for(side)) + " ledge"));
    }
  }
  for (const HoldDown& h : m.hold_downs) {
    if (h.kind != HoldDownKind::pin) add(rows, hold_down_row(s, h));
  }
  for (const Gear& g : s.gear) {
    if (g.foot) add(rows, gear_row(s, g));
  }
  return rows;
}

void set_floor(TighteningRow& row, Force separating, const std::string& from) {
  row.separating = separating;
  row.separating_from = from;
  if (!row.holds_preload || !row.ceiling) return;
  row.floor = torque_for(closing_preload(separating), row.thread.diameter, row.k.high);
  row.kept_tight = *row.floor <= *row.ceiling;
  // Not said: the ceiling is that of oiled threads already.
  if (!row.lubricated) {
    row.floor_oiled =
        torque_for(closing_preload(separating), row.thread.diameter, nut_factor(true, true).high);
  }
}

}  // namespace thole
