#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/plate_bending.hpp>

#include "checks/checks.hpp"
#include "checks/least_distances.hpp"
#include "core/geometry.hpp"

namespace thole::checks {

using namespace literals;

namespace {

constexpr double pi = std::numbers::pi;

// What a bolt punches through or bears on: of a cored panel one skin, the thinner.
Length resisting(const Host& h) {
  return h.kind == HostKind::cored_panel ? h.panel.skin : h.thickness;
}

Length to_panel_edge(const Setup& s, const PlanPoint& p) {
  const geometry::Flat f = geometry::flat_of(s.plate());
  return std::min({Length(p.x - f.aft), Length(f.forward - p.x), Length(p.y - f.inboard),
                   Length(f.outboard - p.y)});
}

// Diameter of what presses round one bolt: washer or nut, and a plate as far as it is stiff, twice
// its thickness beyond it (judgement) and within its edges.
Length pressing(const Setup& s, const PlanPoint& p) {
  const Fastening& f = s.plate().fastening;
  const Length ring = std::min<Length>(f.washer ? f.washer->outside : f.thread.head_across_flats,
                                       4.0 * f.thread.diameter);
  const Length edge = 2.0 * to_panel_edge(s, p);
  if (!f.backing) return std::max(f.thread.diameter, std::min(ring, edge));
  const Length widest = std::min<Length>(2.0 * geometry::to_backing_edge(*f.backing, p), edge);
  return std::max(f.thread.diameter, std::min<Length>(ring + 4.0 * f.backing->thickness, widest));
}

// Shortest line along which a piece between these corners, pressed `wide` beyond the fasteners,
// breaks out: round it, out to one edge of the panel, or across the panel.
Length outline_of(const Setup& s, const PlanPoint& low, const PlanPoint& high, Length wide) {
  const geometry::Flat f = geometry::flat_of(s.plate());
  const Length x = high.x - low.x;
  const Length y = high.y - low.y;
  const Length reach = 0.5 * wide;
  Length out = 2.0 * (x + y) + pi * wide;
  for (const Length& far : {Length(f.outboard - low.y), Length(high.y - f.inboard)}) {
    out = std::min(out, Length(x + wide + 2.0 * (far + reach)));
  }
  for (const Length& far : {Length(f.forward - low.x), Length(high.x - f.aft)}) {
    out = std::min(out, Length(y + wide + 2.0 * (far + reach)));
  }
  return std::min({out, Length(2.0 * (f.outboard - f.inboard)), Length(2.0 * (f.forward - f.aft))});
}

Applicability unless_given(const std::optional<GivenStrength>& value, const char* key) {
  if (value) return {};
  return {Standing::refused, std::string("no published source: give ") + key + " with its source"};
}

}  // namespace

Applicability panel_punch_applies(const Setup& s) {
  return unless_given(s.plate().host.panel.punch_shear, "punch_shear");
}

Use panel_punch(const Setup& s, const Actions& a, Category) {
  const Host& h = s.plate().host;
  const auto& holes = s.plate().fastening.holes;
  const Stress shear = h.panel.punch_shear->value;
  const Length t = resisting(h);
  Use worst = worst_fastener(a, [&](int i) {
    const PlanPoint& p = holes[std::size_t(i)];
    const Length round = outline_of(s, p, p, pressing(s, p));
    return Use{measured(a.tension[std::size_t(i)]), measured(Force(shear * Area(round * t))), i};
  });
  // Those that pull together may punch out one piece, round the box of them.
  for (int i = 0; i < a.count; ++i) {
    for (int j = 0; j < i; ++j) {
      const PlanPoint& p = holes[std::size_t(i)];
      const PlanPoint& q = holes[std::size_t(j)];
      const Length low_x = std::min(p.x, q.x);
      const Length high_x = std::max(p.x, q.x);
      const Length low_y = std::min(p.y, q.y);
      const Length high_y = std::max(p.y, q.y);
      Force sum{};
      Length widest{};
      for (int k = 0; k < a.count; ++k) {
        const PlanPoint& r = holes[std::size_t(k)];
        const double hair = 1e-9;
        if (r.x.value() < low_x.value() - hair || r.x.value() > high_x.value() + hair ||
            r.y.value() < low_y.value() - hair || r.y.value() > high_y.value() + hair) {
          continue;
        }
        sum += a.tension[std::size_t(k)];
        widest = std::max(widest, pressing(s, r));
      }
      const Length round = outline_of(s, {low_x, low_y}, {high_x, high_y}, widest);
      const Use group{measured(sum), measured(Force(shear * Area(round * t))), -1};
      if (group.factor() < worst.factor()) worst = group;
    }
  }
  return worst;
}

Applicability laminate_bearing_applies(const Setup& s) {
  return unless_given(s.plate().host.panel.bearing, "bearing");
}

Use laminate_bearing(const Setup& s, const Actions& a, Category) {
  const Host& h = s.plate().host;
  const Force strength =
      h.panel.bearing->value * Area(s.plate().fastening.thread.diameter * resisting(h));
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.shear[std::size_t(i)].size()), measured(strength), i};
  });
}

Applicability core_applies(const Setup& s) {
  const PanelHost& p = s.plate().host.panel;
  if (!p.solid_at_bolts) {
    return {Standing::refused,
            "a bolt through a core without a solid plug or sleeve crushes it: no verdict"};
  }
  if (s.condition.soft_wood_or_core == Answer::not_known) {
    return {Standing::refused, "a core that nobody has looked at counts as wet: no verdict"};
  }
  return unless_given(p.core_crush, "core_crush");
}

// The skin spreads nothing (cautious): the core takes the highest pressure under the base.
Use core_crushing(const Setup& s, const Actions& a, Category) {
  return {measured(a.result.highest_pressure), measured(s.plate().host.panel.core_crush->value),
          -1};
}

Applicability panel_bending_applies(const Setup& s) {
  const Host& h = s.plate().host;
  if (!h.panel.flexural || !(h.to_support.value() > 0)) {
    return {Standing::not_checked,
            "flexural, its strength with its source, and to_support are not both given"};
  }
  if (h.to_edge < (1 - 1e-6) * h.to_support) {
    return {Standing::not_checked, "a free edge lies nearer than what carries the panel"};
  }
  return {};
}

Use panel_bending(const Setup& s, const Actions& a, Category) {
  const GunwalePlate& m = s.plate();
  const Host& h = m.host;
  // Stresses do not depend on the modulus. A long panel between two supports bends at a load as a
  // round one of 4/pi of their distance.
  const double poisson = 0.3;
  const Sheet sheet{h.thickness, 1.0_ksi, poisson};
  const Length edge = (4.0 / pi) * h.to_support;
  const auto stiff = [&](Length r) { return std::min<Length>(r, 0.8 * edge); };
  // What is pressed: a stiff middle as wide as the base at its narrowest.
  Length boss = geometry::far_away;
  for (const Outline& part : geometry::bed_of(m)) {
    boss = std::min<Length>(boss, 0.5 * geometry::smallest_width(part));
  }
  boss = stiff(boss);
  const Moment couple =
      std::hypot(a.load.moment.x().value(), a.load.moment.y().value()) * Moment::from_value(1);
  const Force normal = abs(a.load.force.z());
  Stress highest{};
  if (couple.value() > 0) {
    highest += turned_boss(sheet, boss, edge, couple, SheetEdge::supported).stress;
  }
  if (normal.value() > 0) {
    highest += pulled_boss(sheet, boss, edge, normal, SheetEdge::supported).stress;
  }
  // What is pulled: each bolt by its washer or plate, in the bending that the others make, less
  // what the base takes back that presses beside it, as if all of that pressed at its farthest
  // corner.
  const auto spread = [&](double apart) {
    return (1 + poisson) * std::max(std::log(edge.value() / apart), 0.0);
  };
  int worst = -1;
  for (std::size_t i = 0; i < std::size_t(a.count); ++i) {
    const PlanPoint& p = m.fastening.holes[i];
    const auto apart = [&](const PlanPoint& q) {
      return std::hypot((p.x - q.x).value(), (p.y - q.y).value());
    };
    const Force own = std::max<Force>(a.tension[i], Force{});
    if (!(own.value() > 0)) continue;
    Force others{};
    for (std::size_t j = 0; j < std::size_t(a.count); ++j) {
      if (j == i || !(a.tension[j].value() > 0)) continue;
      others += (spread(apart(m.fastening.holes[j])) + 1 - poisson) * a.tension[j];
    }
    double farthest = 0;
    for (const Outline& part : geometry::bed_of(m)) {
      for (const PlanPoint& corner : part) farthest = std::max(farthest, apart(corner));
    }
    others -= spread(farthest) * std::max<Force>(a.result.bed_force, Force{});
    const Stress stress =
        pulled_boss(sheet, stiff(0.5 * pressing(s, p)), edge, own, SheetEdge::supported).stress +
        6.0 / (4 * pi) * others / (h.thickness * h.thickness);
    if (stress > highest) {
      highest = stress;
      worst = int(i);
    }
  }
  // Of a cored panel the skins carry the moment.
  if (h.kind == HostKind::cored_panel) {
    highest *= double(h.thickness * h.thickness / (6.0 * h.panel.skin * h.panel.between_skins));
  }
  return {measured(highest), measured(h.panel.flexural->value), worst};
}

Use laminate_distance(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  return worst_fastener(a, [&](int i) {
    const Length edge = geometry::to_free_wall_edge(s.plate(), f.holes[std::size_t(i)]);
    return Use{measured(least_edge_in_laminate(f)), measured(std::max(edge, Length{})), i};
  });
}

}  // namespace thole::checks
