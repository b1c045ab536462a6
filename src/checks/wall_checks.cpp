#include <cmath>
#include <limits>

#include <thole/metal_strength.hpp>

#include "checks/checks.hpp"
#include "checks/least_distances.hpp"
#include "core/bracket.hpp"
#include "core/geometry.hpp"

namespace thole::checks {

using namespace literals;

namespace {

// Waves and towing pull again and again: half the pull-over strength (EN 1993-1-3 Table 8.2, the
// row for repeated wind load).
double repeated(Category c) { return c == Category::everyday ? 0.5 : 1.0; }

// What presses on the wall from behind or holds it: radius of the stiff round piece. A plate counts
// only as far as it is stiff, three times its thickness beyond the washer or screw.
Length boss_radius(const Setup& s, const PlanPoint& p) {
  const Fastening& f = s.plate().fastening;
  Length r = 0.5 * f.thread.diameter;
  if (f.hold == HoldBy::through_bolt) {
    r = 0.5 * (f.washer ? f.washer->outside : f.thread.head_across_flats);
  }
  if (f.backing) {
    const Length overhang = geometry::to_backing_edge(*f.backing, p) - r;
    r += std::clamp(overhang, Length{}, 3.0 * f.backing->thickness);
  }
  return r;
}

bool wall_edges_held(const Host& h) { return h.form != WallForm::open_lip; }

// Pull on a stiff boss at p that yields the wall round it. Of a sheet only the nearest support is
// known: the one on the other side counts as three times as far (judgement).
Force pull_at(const GunwalePlate& m, MomentPerWidth mp, Length boss, const PlanPoint& p,
              bool held) {
  const Length far = std::max(geometry::to_far_support(m, p), 1.0_mm);
  if (!held) return fan_pull(mp, boss, far, false);
  if (m.host.form == WallForm::sheet) return held_pull(mp, boss, far, 3.0 * far);
  return held_pull(mp, boss, std::max(geometry::to_support(m, p), 1.0_mm), far);
}

Length flat_width(const Host& h) {
  return h.form == WallForm::sheet ? Length(2.0 * h.to_support) : h.flat;
}

// The box round some points, square to the boat.
struct Box {
  PlanPoint low{geometry::far_away, geometry::far_away};
  PlanPoint high{-1.0 * geometry::far_away, -1.0 * geometry::far_away};
  [[nodiscard]] Length along() const { return high.x - low.x; }
  [[nodiscard]] Length across() const { return high.y - low.y; }
};

Box box_of(const std::vector<PlanPoint>& points) {
  Box box;
  for (const PlanPoint& p : points) {
    box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
    box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
  }
  return box;
}

// Where the base presses on the wall: the centre of the pressure from the balance of moments, and
// the patch that lies evenly about it inside the bed.
struct Pressed {
  PlanPoint centre;
  Length along;   // fore and aft
  Length across;  // across the boat
};

// The part of the box that lies evenly about a point.
Pressed evenly_about(const PlanPoint& centre, const Box& box) {
  const auto evenly = [](Length low, Length at, Length high) {
    return Length(2.0 * std::max<Length>(std::min(high - at, at - low), Length{}));
  };
  return {centre, evenly(box.low.x, centre.x, box.high.x), evenly(box.low.y, centre.y, box.high.y)};
}

Pressed pressed_zone(const Setup& s, const Actions& a) {
  Pressed z;
  const Force press = a.result.bed_force;
  Moment about_x = -1.0 * a.load.moment.x();
  Moment about_y = a.load.moment.y();
  for (int i = 0; i < a.count; ++i) {
    const PlanPoint& p = s.plate().fastening.holes[std::size_t(i)];
    about_x += a.result.tension[std::size_t(i)] * p.y;
    about_y += a.result.tension[std::size_t(i)] * p.x;
  }
  z.centre = {about_y / press, about_x / press};
  Box bed{z.centre, z.centre};  // between two parts of the bed: a point
  for (const Outline& part : geometry::bed_of(s.plate())) {
    const Box b = box_of(part);
    const bool inside = z.centre.x >= b.low.x && z.centre.x <= b.high.x && z.centre.y >= b.low.y &&
                        z.centre.y <= b.high.y;
    if (inside) bed = b;
  }
  return evenly_about(z.centre, bed);
}

}  // namespace

Applicability always(const Setup&) { return {}; }

Applicability pull_over_base_applies(const Setup& s) {
  if (!s.plate().base.metal) {
    return {Standing::not_checked, "the base is not of a known metal"};
  }
  if (s.plate().fastening.hold == HoldBy::clamp) {
    return {Standing::not_concerned, "clamps have no heads"};
  }
  return {};
}

Use pull_over_base(const Setup& s, const Actions& a, Category c) {
  const Fastening& f = s.plate().fastening;
  const Force strength = repeated(c) * pull_over(s.plate().base.thickness, f.head,
                                                 f.thread.clearance, *s.plate().base.metal)
                                           .strength;
  // Of a U-bolt each leg has its nut.
  const double share = f.hold == HoldBy::u_bolt ? bracket::share_of_leg : 1.0;
  return worst_fastener(a, [&](int i) {
    return Use{measured(Force(share * a.tension[std::size_t(i)])), measured(strength), i};
  });
}

Applicability pull_over_behind_applies(const Setup& s) {
  if (s.plate().fastening.hold != HoldBy::through_bolt) {
    return {Standing::not_concerned, "nothing clamps from behind"};
  }
  if (!s.plate().host.is_metal() && !s.plate().fastening.backing) {
    return {Standing::not_concerned, "the washers lie on no metal"};
  }
  return {};
}

Use pull_over_behind(const Setup& s, const Actions& a, Category c) {
  const Fastening& f = s.plate().fastening;
  const Length dw = f.washer ? f.washer->outside : f.thread.head_across_flats;
  const Length sheet = f.backing ? f.backing->thickness : s.plate().host.thickness;
  const Metal& metal = f.backing ? f.backing->metal : s.plate().host.metal;
  const Force strength = repeated(c) * pull_over(sheet, dw, f.thread.clearance, metal).strength;
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Use wall_bearing(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  return worst_fastener(a, [&](int i) {
    const Length edge = geometry::to_free_wall_edge(s.plate(), f.holes[std::size_t(i)]);
    return Use{measured(a.shear[std::size_t(i)].size()),
               measured(bearing(f.thread.diameter, h.thickness, edge, h.metal)), i};
  });
}

Applicability tear_out_applies(const Setup& s) {
  for (const PlanPoint& p : s.plate().fastening.holes) {
    if (geometry::to_free_wall_edge(s.plate(), p) < geometry::far_away) return {};
  }
  return {Standing::not_concerned, "no free edge of the wall near the base"};
}

Use wall_tear_out(const Setup& s, const Actions& a, Category) {
  // Cautious: the whole shear is taken to act toward the nearest free edge.
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  return worst_fastener(a, [&](int i) {
    const Length edge = geometry::to_free_wall_edge(s.plate(), f.holes[std::size_t(i)]);
    return Use{measured(a.shear[std::size_t(i)].size()),
               measured(tear_out(geometry::widest_hole(f), h.thickness, edge, h.metal)), i};
  });
}

Use wall_yield(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  const MomentPerWidth mp = plate_moment(h.thickness, h.metal);
  const bool held = wall_edges_held(h);
  const auto fan = [&](const PlanPoint& p) {
    const Length boss =
        std::min(boss_radius(s, p), Length(0.9 * geometry::to_support(s.plate(), p)));
    const Length support = geometry::to_far_support(s.plate(), p);
    // A free edge nearer than the support holds nothing.
    const bool here = held && !(geometry::to_free_wall_edge(s.plate(), p) < support);
    return pull_at(s.plate(), mp, boss, p, here);
  };
  Use worst = worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(fan(f.holes[std::size_t(i)])), i};
  });
  // All that pull together lift one stiff patch.
  {
    Force sum{};
    PlanPoint middle;
    int pulling = 0;
    for (int i = 0; i < a.count; ++i) {
      if (!(a.tension[std::size_t(i)].value() > 0)) continue;
      sum += a.tension[std::size_t(i)];
      middle.x += f.holes[std::size_t(i)].x;
      middle.y += f.holes[std::size_t(i)].y;
      ++pulling;
    }
    if (pulling > 1) {
      middle.x /= double(pulling);
      middle.y /= double(pulling);
      Length radius{};
      for (int i = 0; i < a.count; ++i) {
        if (!(a.tension[std::size_t(i)].value() > 0)) continue;
        const PlanPoint& p = f.holes[std::size_t(i)];
        const Length from_middle =
            std::hypot((p.x - middle.x).value(), (p.y - middle.y).value()) * si::metre;
        radius = std::max(radius, Length(from_middle + boss_radius(s, p)));
      }
      // In a narrow flat the bends are nearer than the patch is long: the rows below govern there.
      if (radius < geometry::to_support(s.plate(), middle)) {
        const Length support = geometry::to_far_support(s.plate(), middle);
        const bool here = held && !(geometry::to_free_wall_edge(s.plate(), middle) < support);
        const Use group{measured(sum), measured(pull_at(s.plate(), mp, radius, middle, here)), -1};
        if (group.factor() < worst.factor()) worst = group;
      }
    }
  }
  if (h.form == WallForm::sheet) return worst;
  const Use free_standing = worst;
  // Fasteners in a line along the flat yield the wall together. A plate or bar behind the wall ties
  // a line of them into one, so that no single one can dish the wall by itself.
  if (f.backing && free_standing.fastener >= 0) {
    worst = {measured(Force{}), measured(Force(mp * 1.0)), -1};
  }
  const geometry::Flat flat = geometry::flat_of(s.plate());
  for (int i = 0; i < a.count; ++i) {
    const PlanPoint& p = f.holes[std::size_t(i)];
    const auto in_line = [&](const PlanPoint& q) {
      return abs(q.y - p.y) <= 0.5 * f.thread.diameter;
    };
    Length near = p.y - flat.inboard;
    Length other = flat.outboard - p.y;
    if (h.form == WallForm::open_lip) other = near = geometry::to_support(s.plate(), p);
    const Length boss = std::min(boss_radius(s, p), Length(0.9 * std::min(near, other)));
    // From this fastener on to each other one: a fastener that hardly pulls lends the others no
    // length. A plate or bar behind ties the whole line.
    for (int j = 0; !f.backing && j < a.count; ++j) {
      const PlanPoint& end = f.holes[std::size_t(j)];
      if (j == i || !in_line(end) || end.x < p.x) continue;
      Force sum{};
      for (int k = 0; k < a.count; ++k) {
        const PlanPoint& q = f.holes[std::size_t(k)];
        if (in_line(q) && q.x >= p.x && q.x <= end.x) sum += a.tension[std::size_t(k)];
      }
      const Use row{measured(sum),
                    measured(row_pull(mp, {boss, Length{}, end.x - p.x, near, other}, held)), i};
      if (row.factor() < worst.factor()) worst = row;
    }
    if (!f.backing) continue;
    // Behind a plate even a single fastener is a line.
    Force sum{};
    Length first = p.x;
    Length last = p.x;
    for (int k = 0; k < a.count; ++k) {
      const PlanPoint& q = f.holes[std::size_t(k)];
      if (!in_line(q)) continue;
      sum += a.tension[std::size_t(k)];
      first = std::min(first, q.x);
      last = std::max(last, q.x);
    }
    const Force strength = row_pull(mp, {boss, boss, last - first, near, other}, held);
    const Use row{measured(sum), measured(strength), i};
    if (row.factor() < worst.factor()) worst = row;
  }
  return worst;
}

Applicability lip_applies(const Setup& s) {
  if (s.plate().host.form != WallForm::open_lip) {
    return {Standing::not_concerned, "the wall is no open lip"};
  }
  return {};
}

Use lip_bending(const Setup& s, const Actions& a, Category) {
  // What pulls and what presses bend the lip at its root, each on its own length along the lip and
  // as much beyond it as a load at the very end of a lip would find (0.76 of its distance from the
  // root).
  const geometry::Flat flat = geometry::flat_of(s.plate());
  const Host& h = s.plate().host;
  const MomentPerWidth mp = plate_moment(h.thickness, h.metal);
  const auto reach = [&](Length y) {
    return h.lip_root_inboard ? Length(y - flat.inboard) : Length(flat.outboard - y);
  };
  Use worst{measured(Moment{}), measured(Moment(mp * flat_width(h))), -1};
  // U-bolts go over a fitting, which is looked at by itself.
  const bool pulled = s.plate().fastening.hold != HoldBy::u_bolt;
  // Every stretch of the row by itself: one that pulls hardly at all lends the others no length.
  for (int i = 0; pulled && i < a.count; ++i) {
    const Length low = s.plate().fastening.holes[std::size_t(i)].x;
    for (int j = 0; j < a.count; ++j) {
      const Length high = s.plate().fastening.holes[std::size_t(j)].x;
      if (high < low) continue;
      Moment pull{};
      Force sum{};
      for (int k = 0; k < a.count; ++k) {
        const PlanPoint& p = s.plate().fastening.holes[std::size_t(k)];
        if (p.x < low || p.x > high) continue;
        pull += a.tension[std::size_t(k)] * reach(p.y);
        sum += a.tension[std::size_t(k)];
      }
      if (!(sum.value() > 0)) continue;
      const Use stretch{measured(pull),
                        measured(Moment(mp * Length(high - low + 0.76 * (pull / sum)))), -1};
      if (stretch.factor() < worst.factor()) worst = stretch;
    }
  }
  if (a.result.bed_force.value() > 0) {
    const Pressed z = pressed_zone(s, a);
    const Length arm = std::max(reach(z.centre.y), Length{});
    const Use press{measured(Moment(a.result.bed_force * arm)),
                    measured(Moment(mp * Length(z.along + 0.76 * arm))), -1};
    if (press.factor() < worst.factor()) worst = press;
  }
  return worst;
}

Use wall_press(const Setup& s, const Actions& a, Category) {
  const Host& h = s.plate().host;
  const MomentPerWidth mp = plate_moment(h.thickness, h.metal);
  Use worst{measured(Force{}), measured(Force(mp * 1.0)), -1};
  if (!(a.result.bed_force.value() > 0)) return worst;
  const bool held = wall_edges_held(h);
  const auto press = [&](const Pressed& z, Force force) {
    const Length support = std::max(geometry::to_support(s.plate(), z.centre), 1.0_mm);
    const Length far = std::max(geometry::to_far_support(s.plate(), z.centre), support);
    const Length boss = std::min(Length(0.5 * z.across), Length(0.9 * support));
    const Force strength = h.form == WallForm::closed_section
                               ? row_pull(mp, {boss, boss, z.along, support, far}, held)
                               : pull_at(s.plate(), mp, boss, z.centre, held);
    const Use use{measured(force), measured(strength), -1};
    if (use.factor() < worst.factor()) worst = use;
  };
  if (!s.plate().bracket) {
    press(pressed_zone(s, a), a.result.bed_force);
    return worst;
  }
  // Each part by itself; what stands behind a firm one does not give.
  const std::vector<Outline> bed = geometry::bed_of(s.plate());
  const bracket::Reactions reactions(s.plate(), a.result);
  for (std::size_t i = 0; i < bed.size(); ++i) {
    const bracket::Push& p = reactions.parts()[i];
    if (s.plate().bracket->firm[i] || !(p.force.value() > 0)) continue;
    press(evenly_about({p.about_y / p.force, p.about_x / p.force}, box_of(bed[i])), p.force);
  }
  return worst;
}

Applicability rotation_applies(const Setup& s) {
  if (s.plate().host.form == WallForm::open_lip) {
    return {Standing::not_concerned, "an open lip bends at its root first"};
  }
  return {};
}

Use wall_rotation(const Setup& s, const Actions& a, Category) {
  // The base presses along one side of the footprint and the fasteners pull along the other: a
  // hinge line on each, Mp (B1 + B2). Bends near the footprint add strips that must fold as well:
  // across the boat M (1 + 2 h/s), along it Mp L^2/s, with the farther of the two distances s.
  const Host& h = s.plate().host;
  const MomentPerWidth mp = plate_moment(h.thickness, h.metal);
  const Box base = box_of(s.plate().base.outline);
  const Box holes = box_of(s.plate().fastening.holes);
  Length boss = geometry::far_away;
  for (const PlanPoint& p : s.plate().fastening.holes) boss = std::min(boss, boss_radius(s, p));
  Length pull_x = holes.along() + 2.0 * boss;
  Length pull_y = holes.across() + 2.0 * boss;
  Length base_x = base.along();
  Length base_y = base.across();
  const double quarter =
      s.plate().base.sides_turned
          ? std::remainder(radians(*s.plate().base.sides_turned), 0.5 * std::numbers::pi)
          : 1.0;
  if (s.plate().bracket) {  // what lies beyond the host presses on nothing
    base_x = pull_x;
    base_y = pull_y;
  } else if (std::abs(quarter) > 1e-9) {  // not square to the boat: the smallest width both ways
    base_x = base_y = geometry::smallest_width(s.plate().base.outline);
    pull_x = pull_y = std::min({pull_x, pull_y, base_x});
  }
  Moment about_x = mp * Length(base_x + pull_x);
  Moment about_y = mp * Length(base_y + pull_y);
  if (h.form == WallForm::closed_section) {
    const geometry::Flat flat = geometry::flat_of(s.plate());
    const Length half = 0.25 * (base_y + pull_y);
    const Length gap =
        std::max<Length>(std::max(-1.0 * flat.inboard, flat.outboard) - 0.5 * base_y, 1.0_mm);
    const double fold = 1 + 2.0 * double(half / gap);
    about_x = fold * about_x;
    about_y += mp * Area(pull_x * pull_x) / gap;
  }
  Moment turns_x = a.load.moment.x();
  Moment turns_y = a.load.moment.y();
  if (s.plate().bracket) {
    // Its middle is no pivot: the couple of what pulls the wall against what presses it where it is
    // not firm.
    Force pull{}, press{};
    PlanPoint up, down;
    const auto weigh = [](PlanPoint& sum, const PlanPoint& p, Force f) {
      sum = {sum.x + f.value() * p.x, sum.y + f.value() * p.y};
    };
    for (int i = 0; i < a.count; ++i) {
      const Force t = a.result.tension[std::size_t(i)];
      pull += t;
      weigh(up, s.plate().fastening.holes[std::size_t(i)], t);
    }
    const bracket::Reactions reactions(s.plate(), a.result);
    for (std::size_t i = 0; i < reactions.parts().size(); ++i) {
      const bracket::Push& p = reactions.parts()[i];
      if (s.plate().bracket->firm[i] || !(p.force.value() > 0)) continue;
      press += p.force;
      weigh(down, {p.about_y / p.force, p.about_x / p.force}, p.force);
    }
    turns_x = turns_y = Moment{};
    if (pull.value() > 0 && press.value() > 0) {
      const Force both = std::min(pull, press);
      turns_x = both * (up.y / pull.value() - down.y / press.value());
      turns_y = both * (up.x / pull.value() - down.x / press.value());
    }
  }
  const double sum = abs(turns_x) / about_x + abs(turns_y) / about_y;
  return {{sum, Dimension::number}, {1.0, Dimension::number}, -1};
}

Use edge_distance(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  // The hole of an insert is in the wall or the bar; the base has that of its screw.
  const Length least = least_edge_in_wall(f);
  const Length least_in_base = least_edge_in_base(f);
  return worst_fastener(a, [&](int i) {
    const PlanPoint& p = f.holes[std::size_t(i)];
    Length edge = geometry::to_free_wall_edge(s.plate(), p);
    if (f.backing) edge = std::min(edge, geometry::to_backing_edge(*f.backing, p));
    const Use behind{measured(least), measured(std::max(edge, Length{})), i};
    if (!s.plate().base.metal) return behind;
    const Length in_base = geometry::to_outline_edge(s.plate().base.outline, p);
    const Use base{measured(least_in_base), measured(std::max(in_base, Length{})), i};
    return base.factor() < behind.factor() ? base : behind;
  });
}

Use hole_spacing(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Length least = least_spacing_in_wall(f);
  return worst_fastener(a, [&](int i) {
    double nearest = geometry::far_away.value();
    for (int j = 0; j < a.count; ++j) {
      if (j == i) continue;
      nearest = std::min(
          nearest, std::hypot((f.holes[std::size_t(i)].x - f.holes[std::size_t(j)].x).value(),
                              (f.holes[std::size_t(i)].y - f.holes[std::size_t(j)].y).value()));
    }
    return Use{measured(least), measured(Length(nearest * si::metre)), i};
  });
}

}  // namespace thole::checks
