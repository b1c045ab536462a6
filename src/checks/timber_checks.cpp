#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <span>

#include <thole/thread.hpp>
#include <thole/wood_strength.hpp>

#include "checks/checks.hpp"
#include "checks/least_distances.hpp"
#include "core/geometry.hpp"

namespace thole::checks {

using namespace literals;

namespace {

constexpr double pi = std::numbers::pi;

// A place or a force along the grain and across it.
struct Along {
  double along = 0;
  double across = 0;
};

Along by_grain(const Host& h, double x, double y, bool turned = false) {
  const bool fore_aft = (h.kind != HostKind::timber || h.wood.grain_fore_aft) != turned;
  return fore_aft ? Along{x, y} : Along{y, x};
}

Along place(const Setup& s, std::size_t i, bool turned = false) {
  const PlanPoint& p = s.plate().fastening.holes[i];
  return by_grain(s.plate().host, p.x.value(), p.y.value(), turned);
}

// Which way the face of a panel runs is not asked: what depends on it is taken both ways.
std::span<const bool> ways_of(const Host& h) {
  static constexpr std::array<bool, 2> both{false, true};
  return std::span(both).first(h.kind == HostKind::timber ? 1 : 2);
}

Along push(const Setup& s, const Actions& a, std::size_t i) {
  return by_grain(s.plate().host, a.shear[i].x.value(), a.shear[i].y.value());
}

// Base centre to the nearest end of the wood. The nearest edge of a panel may be any.
double end_distance(const Host& h) {
  return h.kind == HostKind::timber ? h.to_end->value() : h.to_edge.value();
}

// Of a screw in the wood: beyond the base and a pad below it.
Length in_the_wood(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  return f.length - s.plate().base.thickness - f.packing;
}

// Bearing length in the wood, half a tip that stays inside left out.
Length bearing_in_wood(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!f.screw) return s.plate().host.thickness;
  return std::min<Length>(bearing_length(in_the_wood(s), f.screw->tip), s.plate().host.thickness);
}

// Thread within the wood, the tip left out.
Length thread_in_wood(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  const Length top = f.length - in_the_wood(s);
  const Length from = std::max<Length>(f.length - f.threaded, top);
  const Length to = std::min<Length>(f.length - f.screw->tip, top + s.plate().host.thickness);
  return std::max<Length>(to - from, Length{});
}

Stress bearing_of_wood(const Host& h, Length diameter, Angle to_grain) {
  const double g = h.wood.specific_gravity;
  if (h.kind == HostKind::timber) return dowel_bearing(g, diameter, to_grain);
  // A panel has plies both ways: the lower of the rule for thin dowels and that across the grain.
  return std::min(dowel_bearing(g, diameter, 90.0_deg), dowel_bearing(g, 0.249_in, 0.0_deg));
}

// The base as the member on the other side. A base of unknown stuff counts as wood like the host
// across its grain (judgement: plastics of bases are not softer).
Stress bearing_of_base(const Setup& s) {
  const BasePlate& b = s.plate().base;
  if (!b.metal) {
    return bearing_of_wood(s.plate().host, s.plate().fastening.thread.diameter, 90.0_deg);
  }
  return b.metal->aluminium ? aluminium_dowel_bearing(b.metal->ultimate)
                            : steel_dowel_bearing(b.metal->ultimate, b.thickness);
}

Length root_of(const Fastening& f) {
  if (f.screw) return f.screw->root;
  return std::sqrt(root_area(f.thread).value() / (0.25 * pi)) * si::metre;
}

// Two lie in one row when they hardly differ in the other direction.
bool in_row(const Fastening& f, double a, double b) {
  return std::abs(a - b) < 0.5 * f.thread.diameter.value();
}

// Reduction for distances shorter than those of the full value; the smallest holds for all.
double geometry_factor(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  if (!thick(f)) return 1;
  const bool hardwood = h.wood.wood && h.wood.wood->hardwood;
  double least = 1;
  for (const bool turned : ways_of(h)) {
    for (std::size_t i = 0; i < f.holes.size(); ++i) {
      const Along p = place(s, i, turned);
      const Length end = std::max(0.0, end_distance(h) - std::abs(p.along)) * si::metre;
      least = std::min(least,
                       end_distance_factor(end, f.thread.diameter, EndLoad::toward_end, hardwood));
      for (std::size_t j = 0; j < i; ++j) {
        const Along q = place(s, j, turned);
        if (!in_row(f, p.across, q.across)) continue;
        const Length spacing = std::abs(p.along - q.along) * si::metre;
        least = std::min(least, row_spacing_factor(spacing, f.thread.diameter));
      }
    }
  }
  return least;
}

struct Row {
  int count = 0;
  double spacing = 0;  ///< the least one
};

// The longest row along the grain, or across it.
Row longest_row(const Setup& s, bool along, bool turned) {
  const Fastening& f = s.plate().fastening;
  Row longest;
  for (std::size_t i = 0; i < f.holes.size(); ++i) {
    const Along p = place(s, i, turned);
    Row row{0, std::numeric_limits<double>::infinity()};
    for (std::size_t j = 0; j < f.holes.size(); ++j) {
      const Along q = place(s, j, turned);
      if (!(along ? in_row(f, p.across, q.across) : in_row(f, p.along, q.along))) continue;
      ++row.count;
      const double d = along ? std::abs(p.along - q.along) : std::abs(p.across - q.across);
      if (j != i) row.spacing = std::min(row.spacing, d);
    }
    if (row.count > longest.count) longest = row;
  }
  return longest;
}

// Group action of the longer row along or across the grain.
double group_factor(const Setup& s) {
  const GunwalePlate& m = s.plate();
  const Fastening& f = m.fastening;
  const Host& h = m.host;
  if (!thick(f)) return 1;
  // A panel: the modulus of a weak softwood, wet (judgement).
  const Stress modulus = h.wood.strength ? h.wood.strength->modulus : 900.0_ksi;
  const Stress base_modulus = m.base.metal ? m.base.metal->modulus : modulus;
  const Length base_width = geometry::smallest_width(m.base.outline);
  double least = 1;
  for (const bool turned : ways_of(h)) {
    double low = 0, high = 0;
    for (std::size_t i = 0; i < f.holes.size(); ++i) {
      low = std::min(low, place(s, i, turned).along);
      high = std::max(high, place(s, i, turned).along);
    }
    for (const bool along : {true, false}) {
      const Row row = longest_row(s, along, turned);
      if (row.count < 2) continue;
      const Length width =
          along ? (h.kind == HostKind::timber ? h.wood.width : Length(2.0 * h.to_edge))
                : std::max<Length>((high - low) * si::metre, 3.0 * f.thread.diameter);
      least = std::min(least, group_action(row.count, f.thread.diameter, row.spacing * si::metre,
                                           modulus * Area(h.thickness * width),
                                           base_modulus * Area(m.base.thickness * base_width),
                                           m.base.metal.has_value()));
    }
  }
  return least;
}

// What one fastener carries sideways.
class Lateral {
 public:
  explicit Lateral(const Setup& s)
      : host_(s.plate().host),
        factor_(host_.wood.connection * geometry_factor(s) * group_factor(s)) {
    const Fastening& f = s.plate().fastening;
    dowel_.nominal = f.thread.diameter;
    dowel_.diameter = std::min(root_of(f), dowel_.nominal);
    dowel_.main = bearing_in_wood(s);
    dowel_.side = s.plate().base.thickness;
    dowel_.side_bearing = bearing_of_base(s);
    dowel_.bending_yield = bending_yield_strength(f.material.yield, f.material.ultimate);
    if (f.screw) dowel_.bending_yield = std::min(dowel_.bending_yield, f.screw->bending_yield);
  }
  [[nodiscard]] Force strength(const Along& push) const {
    Dowel d = dowel_;
    const bool loaded = std::abs(push.along) + std::abs(push.across) > 0;
    const double angle = loaded && host_.kind == HostKind::timber
                             ? std::atan2(std::abs(push.across), std::abs(push.along))
                             : 0.5 * pi;
    d.to_grain = std::min(Angle(angle * si::radian), 90.0_deg);
    d.main_bearing = bearing_of_wood(host_, d.nominal, d.to_grain);
    return factor_ * dowel_yield(d).reference;
  }

 private:
  const Host& host_;
  double factor_;
  Dowel dowel_;
};

Force withdrawal(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  const LineLoad w = f.hold == HoldBy::lag_screw
                         ? lag_withdrawal(h.wood.specific_gravity, f.thread.diameter)
                         : wood_screw_withdrawal(h.wood.specific_gravity, f.thread.diameter);
  return h.wood.connection * (w * thread_in_wood(s));
}

// Nut or washer below; not wider than four diameters, which a usual washer is stiff for.
Length ring_below(const Fastening& f) {
  const Length ring = f.washer ? f.washer->outside : f.thread.head_across_flats;
  return std::max<Length>(std::min<Length>(ring, 4.0 * f.thread.diameter),
                          1.05 * f.thread.clearance);
}

// What one bolt presses on below: its washer, or a plate as far as that is stiff, twice its
// thickness on every side (judgement), never more than its part of the plate.
Area pressed_below(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!f.backing) return washer_area(ring_below(f), f.thread.clearance);
  const Length side = ring_below(f) + 4.0 * f.backing->thickness;
  // Only where there is both plate and wood.
  const geometry::Flat flat = geometry::flat_of(s.plate());
  const Length forward = std::min<Length>(0.5 * f.backing->fore_aft, flat.forward);
  const Length aft = std::max<Length>(-0.5 * f.backing->fore_aft, flat.aft);
  const Length outboard = std::min<Length>(0.5 * f.backing->athwart, flat.outboard);
  const Length inboard = std::max<Length>(-0.5 * f.backing->athwart, flat.inboard);
  const Area part = (forward - aft) * (outboard - inboard) / double(f.holes.size());
  const Area hole = 0.25 * pi * f.thread.clearance * f.thread.clearance;
  Area least = part;
  for (const PlanPoint& p : f.holes) {
    // The nearest neighbour shares what lies between.
    Length gap = side;
    for (const PlanPoint& q : f.holes) {
      const Length off = std::hypot((p.x - q.x).value(), (p.y - q.y).value()) * si::metre;
      if (off.value() > 0) gap = std::min(gap, off);
    }
    const Length x = std::min<Length>(side, 2.0 * std::min<Length>(forward - p.x, p.x - aft));
    const Length y = std::min<Length>(side, 2.0 * std::min<Length>(outboard - p.y, p.y - inboard));
    const Area own = std::min<Area>(x * y, std::max(x, y) * std::max(gap, ring_below(f)));
    least = std::min(least, own);
  }
  return std::max<Area>(least - hole, 1e-12 * si::square_metre);
}

bool near_end(const Setup& s) {
  double farthest = 0;
  for (std::size_t i = 0; i < s.plate().fastening.holes.size(); ++i) {
    farthest = std::max(farthest, std::abs(place(s, i).along));
  }
  return end_distance(s.plate().host) - farthest < (3.0_in).value();
}

// Mean pressure over the pressed part of the base, as the code takes bearing stress.
Stress mean_pressure(const Setup& s, const Actions& a) {
  Area bed{};
  for (const Outline& part : geometry::bed_of(s.plate())) bed += area_of(part);
  const Area pressed = a.result.contact_fraction * bed;
  return pressed.value() > 0 ? Stress(a.result.bed_force / pressed) : Stress{};
}

}  // namespace

Applicability wood_screw_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!f.screw) return {Standing::not_concerned, "through-bolted"};
  const double d = f.thread.diameter.value();
  const bool lag = f.hold == HoldBy::lag_screw;
  // A lag screw counts without its tip, which may stick out below.
  const double deep = std::min(in_the_wood(s).value() - (lag ? f.screw->tip.value() : 0.0),
                               s.plate().host.thickness.value());
  const double least = lag ? 4 : 6;
  if (deep < least * d * (1 - 1e-9)) {
    return {Standing::refused, "the screws reach only " + show(Length(deep * si::metre), s.units) +
                                   " into the timber: below " + show_number(least) +
                                   " diameters no value is published"};
  }
  if (!(thread_in_wood(s).value() > 0)) {
    return {Standing::refused, "no thread of the screws lies in the timber"};
  }
  return {};
}

Use wood_screw_withdrawal_use(const Setup& s, const Actions& a, Category) {
  const Force strength = withdrawal(s);
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Use wood_screw_combined(const Setup& s, const Actions& a, Category) {
  const Lateral lateral(s);
  const Force axial = withdrawal(s);
  return worst_fastener(a, [&](int i) {
    const auto k = std::size_t(i);
    const Force sideways = lateral.strength(push(s, a, k));
    const Force pull = std::max<Force>(a.tension[k], Force{});
    const double used = sideways.value() > 0
                            ? combined_utilisation(a.shear[k].size(), pull, sideways, axial)
                            : 1e300;
    return Use{{used, Dimension::number}, {1.0, Dimension::number}, i};
  });
}

Use wood_screw_breaks(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Area root = 0.25 * pi * f.screw->root * f.screw->root;
  const Force tension = root * f.material.ultimate;
  const Force shear = root * f.material.shear_ultimate;
  return worst_fastener(a, [&](int i) {
    const double t = a.tension[std::size_t(i)] / tension;
    const double v = a.shear[std::size_t(i)].size() / shear;
    return Use{{std::hypot(t, v), Dimension::number}, {1.0, Dimension::number}, i};
  });
}

Applicability wood_lateral_applies(const Setup& s) {
  if (s.plate().fastening.packing.value() > 0) {
    return {Standing::refused,
            "the yield modes are for parts that touch: with a pad between base and wood no "
            "published source"};
  }
  return s.plate().fastening.screw ? wood_screw_applies(s) : Applicability{};
}

Use wood_lateral(const Setup& s, const Actions& a, Category) {
  const Lateral lateral(s);
  return worst_fastener(a, [&](int i) {
    const auto k = std::size_t(i);
    return Use{measured(a.shear[k].size()), measured(lateral.strength(push(s, a, k))), i};
  });
}

Applicability wood_washer_applies(const Setup& s) {
  if (s.plate().fastening.screw) return {Standing::not_concerned, "nothing presses from below"};
  return {};
}

Use wood_washer_dent(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  const bool round = !f.backing;
  const double longer =
      round && h.kind == HostKind::timber ? bearing_area_factor(ring_below(f), near_end(s)) : 1.0;
  const Force strength = longer * (h.wood.bearing * pressed_below(s));
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Use wood_washer_crushing(const Setup& s, const Actions& a, Category) {
  const Force strength = crushing_strength(*s.plate().host.wood.strength, pressed_below(s));
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Use wood_base_dent(const Setup& s, const Actions& a, Category) {
  return {measured(mean_pressure(s, a)), measured(s.plate().host.wood.bearing), -1};
}

Use wood_base_crushing(const Setup& s, const Actions& a, Category) {
  const Stress crushing = s.plate().host.wood.strength->crushing;
  return {measured(mean_pressure(s, a)), measured(Stress(1.5 * crushing)), -1};
}

Use wood_splits(const Setup& s, const Actions& a, Category) {
  const Host& h = s.plate().host;
  // From the nearest edge to the farthest fastener, whichever side that edge is on.
  double low = 0, high = 0, farthest = 0;
  double one_way = 0, other_way = 0;
  for (std::size_t i = 0; i < std::size_t(a.count); ++i) {
    const Along p = place(s, i);
    low = i == 0 ? p.across : std::min(low, p.across);
    high = i == 0 ? p.across : std::max(high, p.across);
    farthest = std::max(farthest, std::abs(p.along));
    const double across = push(s, a, i).across;
    (across > 0 ? one_way : other_way) += std::abs(across);
  }
  const Length he = h.to_edge + std::min(-low, high) * si::metre;
  const Length depth = h.wood.width;
  const bool end = *h.to_end - farthest * si::metre < 5.0 * depth;
  const Length deep = std::min(bearing_in_wood(s), h.thickness);
  const Length inside = std::clamp<Length>(he, 1e-3 * depth, 0.999 * depth);
  const Force strength =
      splitting_strength(h.wood.strength->shear, deep, depth, inside, end, h.wood.wet).strength;
  return {measured(Force(std::max(one_way, other_way) * si::newton)), measured(strength), -1};
}

Applicability wood_lifts_applies(const Setup& s) {
  if (!s.plate().fastening.screw) {
    return {Standing::not_concerned, "bolts clamp the whole depth of the timber"};
  }
  return wood_screw_applies(s);
}

Use wood_lifts(const Setup& s, const Actions& a, Category) {
  // The screws lift what lies above their points off the rest: a push across the grain, from the
  // face to the points. The timber counts as wide as the pattern and 4 D, all the pull on one side.
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  Force pull{};
  double low = 0, high = 0, farthest = 0;
  for (std::size_t i = 0; i < std::size_t(a.count); ++i) {
    const Along p = place(s, i);
    low = i == 0 ? p.across : std::min(low, p.across);
    high = i == 0 ? p.across : std::max(high, p.across);
    farthest = std::max(farthest, std::abs(p.along));
    pull += std::max<Force>(a.tension[i], Force{});
  }
  const Length wide =
      std::min<Length>((high - low) * si::metre + 4.0 * f.thread.diameter, h.wood.width);
  const Length points = in_the_wood(s);
  const Length inside = std::min<Length>(points, 0.999 * h.thickness);
  const bool end = *h.to_end - farthest * si::metre < 5.0 * h.thickness;
  const Force strength =
      splitting_strength(h.wood.strength->shear, wide, h.thickness, inside, end, h.wood.wet)
          .strength;
  return {measured(pull), measured(strength), -1};
}

Use wood_tear_out(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  const WoodStrength& w = *h.wood.strength;
  const Length deep = std::min(bearing_in_wood(s), h.thickness);
  Use worst{measured(Force{}), measured(Force(w.shear * Area(deep * h.wood.width))), -1};
  const auto take = [&](const Use& u) {
    if (u.factor() < worst.factor()) worst = u;
  };
  struct Torn {
    double across;
    Force strength;
  };
  std::vector<Torn> rows;
  double all_one = 0, all_other = 0;
  for (std::size_t i = 0; i < std::size_t(a.count); ++i) {
    const Along p = place(s, i);
    const double along = push(s, a, i).along;
    (along > 0 ? all_one : all_other) += std::abs(along);
    int count = 0;
    bool first = true;
    double critical = std::numeric_limits<double>::infinity();
    double one = 0, other = 0;
    for (std::size_t j = 0; j < std::size_t(a.count); ++j) {
      const Along q = place(s, j);
      if (!in_row(f, p.across, q.across)) continue;
      if (j < i) first = false;
      ++count;
      critical = std::min(critical, end_distance(h) - std::abs(q.along));
      for (std::size_t k = 0; k < j; ++k) {
        const Along r = place(s, k);
        if (in_row(f, p.across, r.across)) {
          critical = std::min(critical, std::abs(q.along - r.along));
        }
      }
      const double force = push(s, a, j).along;
      (force > 0 ? one : other) += std::abs(force);
    }
    if (!first) continue;
    // Where holes meet an end the distances say so already.
    const Force strength = row_tear_out(w.shear, deep, count, std::max(critical, 1e-6) * si::metre);
    rows.push_back({p.across, strength});
    take({measured(Force(std::max(one, other) * si::newton)), measured(strength), int(i)});
  }
  if (rows.size() < 2) return worst;
  const auto [near, far] = std::minmax_element(
      rows.begin(), rows.end(), [](const Torn& x, const Torn& y) { return x.across < y.across; });
  const Length between =
      std::max((far->across - near->across) - f.thread.clearance.value(), 0.0) * si::metre;
  if (between.value() > 0) {
    const Force strength =
        group_tear_out(near->strength, far->strength, w.tension, Area(deep * between));
    take({measured(Force(std::max(all_one, all_other) * si::newton)), measured(strength), -1});
  }
  return worst;
}

Use wood_distance(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  const Length d = f.thread.diameter;
  const bool hardwood = h.wood.wood && h.wood.wood->hardwood;
  const SmallFastenerDistances small;
  Use worst{measured(d), measured(Length(1e3 * d)), -1};
  const auto take = [&](Length least, double actual, int i) {
    const Use u{measured(least), measured(Length(std::max(actual, 0.0) * si::metre)), i};
    if (u.factor() < worst.factor()) worst = u;
  };
  const Length bearing = std::min(bearing_in_wood(s), s.plate().base.thickness);
  const Length rows = std::max(3.0 * d, least_row_distance(d, bearing, true));
  double low = 0, high = 0;
  for (const bool turned : ways_of(h)) {
    for (int i = 0; i < a.count; ++i) {
      const Along p = place(s, std::size_t(i), turned);
      low = i == 0 ? p.across : std::min(low, p.across);
      high = i == 0 ? p.across : std::max(high, p.across);
      const double edge = h.to_edge.value() - std::abs(p.across);
      const double end = end_distance(h) - std::abs(p.along);
      // Loads come from any side: the loaded edge, and half the full distance to the loaded end.
      take(least_edge_in_wood(f), edge, i);
      take(least_end_in_wood(f, hardwood), end, i);
      for (int j = 0; j < i; ++j) {
        const Along q = place(s, std::size_t(j), turned);
        const double along = std::abs(p.along - q.along);
        const double across = std::abs(p.across - q.across);
        if (across < 1.5 * d.value()) {
          take(thick(f) ? rows : Length(small.in_row_along * d), along, i);
        } else if (along < 1.5 * d.value()) {
          take((thick(f) ? 3.0 : small.in_row_across) * d, across, i);
        } else {
          take(3.0 * d, std::hypot(along, across), i);
        }
      }
    }
  }
  // A stiff base holds the wood from shrinking: outermost bolts 5 in apart at most.
  if (thick(f) && h.kind == HostKind::timber && high > low) {
    const Use span{measured(Length((high - low) * si::metre)), measured(most_across_grain()), -1};
    if (span.factor() < worst.factor()) worst = span;
  }
  return worst;
}

}  // namespace thole::checks
