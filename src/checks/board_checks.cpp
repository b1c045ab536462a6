// Failure modes of a cross-board. Each gets the forces of one load (plain SI) and answers with
// demand and strength where their ratio is worst.

#include <algorithm>
#include <array>
#include <cmath>

#include <thole/error.hpp>

#include "checks/board_checks.hpp"
#include "checks/board_model.hpp"
#include "checks/least_distances.hpp"
#include "core/ties.hpp"

namespace thole::checks {

namespace {

using namespace board;
using namespace board_kernel;

// Keeps the worst of many demand/strength pairs.
class Worst {
 public:
  explicit Worst(Dimension d) : dimension_(d) {}
  void take(double demand, double strength, int item) {
    const double ratio = strength > 0 ? demand / strength : (demand > 0 ? 1e300 : 0.0);
    if (!(ratio >= 0)) throw InternalError("a check of a board without a number");
    if (parts::above(ratio, ratio_)) {
      ratio_ = ratio;
      demand_ = demand;
      strength_ = strength;
      item_ = item;
    }
  }
  [[nodiscard]] Use use() const { return {{demand_, dimension_}, {strength_, dimension_}, item_}; }

 private:
  Dimension dimension_;
  double ratio_ = -1, demand_ = 0, strength_ = 0;
  int item_ = -1;
};

// The same forces about the plank's own middle: all of the torque where a strip has ended.
std::array<double, cut_forces> about_the_plank(const double* f, const Model& m) {
  std::array<double, cut_forces> out{};
  std::copy(f, f + cut_forces, out.begin());
  const Shape& s = m.shape;
  out[torque] = f[torque] - f[shear_y] * s.zs + f[shear_z] * s.ys;
  out[free_torque] = out[torque];
  out[bend_flat] = f[bend_flat] + f[axial] * s.zc;
  out[bend_edge] = f[bend_edge] - f[axial] * s.yc;
  return out;
}

// Largest demand over all cuts against one strength.
template <class Demand>
Use over_cuts(const BoardActions& a, double strength, Demand demand) {
  const Model& m = *a.model;
  double most = 0;
  int where = -1;
  const double* f = a.cut;
  for (std::size_t i = 0; i < m.cuts.size(); ++i, f += cut_forces) {
    const double d = m.cuts[i].bare ? demand(about_the_plank(f, m).data(), m.cuts[i], m.bare)
                                    : demand(f, m.cuts[i], m.shape);
    if (parts::above(d, most)) {
      most = d;
      where = int(i);
    }
  }
  return {{most, Dimension::stress}, {strength, Dimension::stress}, where};
}

double length_of(double a, double b) { return std::sqrt(a * a + b * b); }

double pull(const BoardActions& a, int row) { return row < 0 ? 0.0 : a.support[row]; }

double sideways(const BoardActions& a, const HoldDownData& h) {
  return length_of(h.share_x * pull(a, h.shank_x), pull(a, h.shank_y));
}

bool wooden(const Setup& s) { return s.board().board.wood.has_value(); }

Applicability no(const char* why) { return {Standing::not_concerned, why}; }

bool any_hold_down(const Setup& s, HoldDownKind k) {
  const auto& all = s.board().hold_downs;
  return std::any_of(all.begin(), all.end(), [&](const HoldDown& h) { return h.kind == k; });
}

bool any_pull(const Setup& s) {
  const auto& all = s.board().hold_downs;
  return std::any_of(all.begin(), all.end(),
                     [](const HoldDown& h) { return h.kind != HoldDownKind::pin; });
}

bool any_foot(const Setup& s) {
  return std::any_of(s.gear.begin(), s.gear.end(),
                     [](const Gear& g) { return g.foot.has_value(); });
}

// The forces of the ledge's own bolts. About the bolt row: x forward, y up, z from the hull to the
// inside. The seat presses down at its distance from the hull, hold-downs pull up, shanks push
// level.
void ledge_bolts(const LedgeData& l, const Model& m, BoardActions& a, std::size_t side) {
  a.ledge_tension[side] = a.ledge_shear[side] = a.ledge_upright[side] = 0;
  if (l.holes.empty()) return;
  const double n = double(l.holes.size());
  double polar = 0, far = 0;
  for (const PlanPoint& p : l.holes) {
    polar += p.x.value() * p.x.value();
    far = std::max(far, std::abs(p.x.value()));
  }
  // A load off the middle is shared along the row in proportion to the distance: beyond the row the
  // outer bolt takes more than the whole of it, as the inner one is pushed the other way.
  const auto share = [&](double force, double roll) {
    return 1 / n + (force > 0 && polar > 0 ? std::abs(roll) * far / (polar * force) : 0.0);
  };
  double level = 0, aside = 0;
  double pressed = 0, pressed_turn = 0, pressed_roll = 0;
  for (const SeatPoint& p : l.seats) {
    const double f = a.support[p.row];
    pressed += f;
    pressed_turn += f * p.from_root;
    pressed_roll += f * p.y;
  }
  double pulled = 0, pulled_turn = 0, pulled_roll = 0;
  for (const int i : l.hold_downs) {
    const HoldDownData& h = m.hold_downs[std::size_t(i)];
    const double f = pull(a, h.row);
    pulled += f;
    pulled_turn += f * h.from_root;
    pulled_roll += f * h.forward;
    aside += std::abs(pull(a, h.shank_y));
    level += std::abs(h.share_x * pull(a, h.shank_x));
  }
  // Seat and hold-downs turn the upright leg opposite ways, but at different places along it: each
  // counts alone. The level pull acts at the seat and is taken the way that turns the leg on.
  const double more = level * l.below;
  const double out = n * l.tension_out * (pressed_turn + more) * share(pressed, pressed_roll);
  const double in = n * l.tension_in * (pulled_turn + more) * share(pulled, pulled_roll);
  a.ledge_tension[side] = l.growth * (std::max(out, in) + level);
  // The push along the row acts at the seat, above it, and turns the row as well.
  const double rolled = polar > 0 ? aside * l.below * far / polar : 0.0;
  const double down =
      std::max(pressed * share(pressed, pressed_roll), pulled * share(pulled, pulled_roll)) +
      rolled;
  a.ledge_shear[side] = length_of(down, aside / n);
  // Moment that the upright leg hands on over what its holes leave of it.
  a.ledge_upright[side] = (std::max(pressed_turn, pulled_turn) + more) / l.upright_width;
}

}  // namespace

void complete_ledges(BoardActions& a) {
  for (std::size_t side = 0; side < 2; ++side) {
    ledge_bolts(a.model->ledges[side], *a.model, a, side);
  }
}

void complete_feet(BoardActions& a) {
  const Model& m = *a.model;
  for (std::size_t g = 0; g < m.gear.size(); ++g) {
    const GearData& d = m.gear[g];
    if (!a.loaded[g] || d.contact.empty()) continue;
    const auto& w = a.gear[g];
    for (std::size_t bed = 0; bed < d.contact.size(); ++bed) {
      a.foot[g][bed] = d.contact[bed].solve(w(2) * si::newton, Moment::from_value(w(3)),
                                            Moment::from_value(w(4)));
    }
  }
}

// ---- The board itself
// ----------------------------------------------------------------------------

Applicability wooden_board(const Setup& s) {
  return wooden(s) ? Applicability{} : no("the board is metal");
}

// Walls that buckle before they yield have no check here: beyond the compact limits of the Aluminum
// Design Manual for 6061-T6 (from memory) there is no verdict.
Applicability metal_board(const Setup& s) {
  if (wooden(s)) return no("the board is wood");
  const BoardPiece& b = s.board().board;
  const double t = b.wall.value();
  const double flat = std::max(b.width, b.thickness).value() - 2 * t;
  bool slender = false;
  switch (b.form) {
    case BoardForm::rectangular_tube:
      slender = flat > 21 * t;
      break;
    case BoardForm::round_tube:
      slender = b.width.value() > 50 * t;
      break;
    case BoardForm::channel_down:
    case BoardForm::channel_up:
      slender = b.thickness.value() - t > 6.7 * t || b.width.value() - 2 * t > 21 * t;
      break;
    case BoardForm::plank:
    case BoardForm::plank_with_strip:
      break;
  }
  if (slender) {
    return {Standing::refused,
            "the walls of the tube or channel are so thin that they may buckle first, which is not "
            "covered"};
  }
  return {};
}

Use board_bending(const BoardActions& a, Category) {
  const Model& m = *a.model;
  const double ratio = m.bend_edge > 0 ? m.bend_flat / m.bend_edge : 1e9;
  return over_cuts(a, m.bend_flat, [&](const double* f, const Cut&, const Shape& s) {
    double most = 0;
    for (const Corner& c : s.corners) {
      most =
          std::max(most, std::abs(f[bend_flat] * c.flat) + ratio * std::abs(f[bend_edge] * c.edge));
    }
    return most + std::abs(f[axial]) / s.area;
  });
}

Applicability net_applies(const Setup& s) {
  if (!wooden(s)) return no("the board is metal");
  return s.board().hold_downs.empty() && !any_foot(s) ? no("no holes in the board")
                                                      : Applicability{};
}

Use board_net_section(const BoardActions& a, Category) {
  const Model& m = *a.model;
  const double ratio = m.bend_edge > 0 ? m.bend_flat / m.bend_edge : 1e9;
  return over_cuts(a, m.bend_flat, [&](const double* f, const Cut& cut, const Shape& s) {
    double most = 0;
    if (!cut.hole) return most;
    for (const Corner& c : s.corners) {
      most = std::max(most, cut.net_flat * std::abs(f[bend_flat] * c.flat) +
                                ratio * cut.net_edge * std::abs(f[bend_edge] * c.edge));
    }
    return most + cut.net_area * std::abs(f[axial]) / s.area;
  });
}

Applicability edge_stress_applies(const Setup& s) {
  if (!wooden(s)) return no("the board is metal");
  return {};
}

Use board_edge_stress(const BoardActions& a, Category) {
  const Model& m = *a.model;
  return over_cuts(a, m.edge_stress, [&](const double* f, const Cut& cut, const Shape& s) {
    double most = 0;
    for (const Corner& c : s.corners) {
      const double twist = f[bimoment] * c.warp;
      const double both = twist + cut.net_flat * f[bend_flat] * c.flat +
                          cut.net_edge * f[bend_edge] * c.edge + f[axial] / s.area;
      most = std::max({most, std::abs(twist), std::abs(both)});
    }
    return most;
  });
}

Use board_torsion(const BoardActions& a, Category) {
  const Model& m = *a.model;
  // At holes the area that is left carries it, torque as well.
  return over_cuts(a, m.shear, [&](const double* f, const Cut& cut, const Shape& s) {
    // Near a step of torque warping carries part of it; the whole is taken.
    const double t = std::max(std::abs(f[torque]), std::abs(f[free_torque])) / s.torsion_modulus;
    const double along_wide = 1.5 * std::abs(m.flat ? f[shear_y] : f[shear_z]) / s.area;
    const double along_narrow = 1.5 * std::abs(m.flat ? f[shear_z] : f[shear_y]) / s.area;
    return cut.net_area * std::max(t + along_wide, s.narrow_side * t + along_narrow);
  });
}

Use board_shear(const BoardActions& a, Category) {
  const Model& m = *a.model;
  return over_cuts(a, m.shear, [&](const double* f, const Cut& cut, const Shape& s) {
    return cut.net_area * 1.5 * length_of(f[shear_y], f[shear_z]) / s.area;
  });
}

// Tubes and channels: normal stress of bending and warping, and shear, by von Mises.
Use metal_board_yield(const BoardActions& a, Category) {
  const Model& m = *a.model;
  return over_cuts(a, m.bend_flat, [&](const double* f, const Cut&, const Shape& s) {
    double normal = 0;
    for (const Corner& c : s.corners) {
      normal = std::max(normal, std::abs(f[bimoment] * c.warp) + std::abs(f[bend_flat] * c.flat) +
                                    std::abs(f[bend_edge] * c.edge));
    }
    normal += std::abs(f[axial]) / s.area;
    const double shear =
        std::max(std::abs(f[torque]), std::abs(f[free_torque])) / s.torsion_modulus +
        1.2 * (std::abs(f[shear_y]) / m.shear_area_y + std::abs(f[shear_z]) / m.shear_area_z);
    return std::sqrt(normal * normal + 3 * shear * shear);
  });
}

Applicability metal_net_applies(const Setup& s) {
  if (wooden(s)) return no("the board is wood");
  return s.board().hold_downs.empty() && !any_foot(s) ? no("no holes in the board")
                                                      : Applicability{};
}

Use metal_board_net_section(const BoardActions& a, Category) {
  const Model& m = *a.model;
  return over_cuts(a, m.net_strength, [&](const double* f, const Cut& cut, const Shape& s) {
    double most = 0;
    if (!cut.hole) return most;
    for (const Corner& c : s.corners) {
      most = std::max(most, std::abs(f[bimoment] * c.warp) +
                                cut.net_flat * std::abs(f[bend_flat] * c.flat) +
                                cut.net_edge * std::abs(f[bend_edge] * c.edge));
    }
    return most;
  });
}

// ---- Seats and ledges
// ----------------------------------------------------------------------------

Use ledge_dent(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::stress);
  for (std::size_t side = 0; side < 2; ++side) {
    for (const SeatPoint& p : m.ledges[side].seats) {
      if (p.area > 0) w.take(a.support[p.row] / p.area, m.bearing, int(side));
    }
  }
  return w.use();
}

Use ledge_crushing(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::stress);
  w.take(0, 1.5 * m.crushing, 0);
  for (std::size_t side = 0; side < 2; ++side) {
    // Mean pressure, each point weighing by its push: a point that barely touches does not count.
    double force = 0, weighed = 0;
    for (const SeatPoint& p : m.ledges[side].seats) {
      const double f = a.support[p.row];
      if (f <= 0 || p.area <= 0) continue;
      force += f;
      weighed += f * f / p.area;
    }
    if (force > 0) w.take(weighed / force, 1.5 * m.crushing, int(side));
  }
  return w.use();
}

Applicability angle_applies(const Setup& s) {
  const CrossBoard& m = s.board();
  const auto metal_angle = [](const Ledge& l) { return l.kind == LedgeKind::angle && l.metal; };
  if (metal_angle(m.port) || metal_angle(m.starboard)) return {};
  return no("the ledges are no angles");
}

// Root moment per width: the pushes in a line add where the leg feels them together. Away from a
// push it is taken to die away evenly over the length that keeps the whole moment.
Use ledge_leg_bending(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::force);  // moment per width is a force
  for (std::size_t side = 0; side < 2; ++side) {
    const LedgeData& l = m.ledges[side];
    if (l.leg_moment <= 0) continue;
    for (const SeatPoint& here : l.seats) {
      double moment = 0;
      for (const SeatPoint& p : l.seats) {
        if (p.reach <= 0) continue;
        const double share = 1 - std::abs(p.y - here.y) / p.reach;
        if (share > 0) moment += share * a.support[p.row] * p.leg_down;
      }
      w.take(moment, l.leg_moment, int(side));
    }
    w.take(a.ledge_upright[side], l.leg_moment, int(side));
  }
  return w.use();
}

Applicability leg_lift_applies(const Setup& s) {
  const Applicability angle = angle_applies(s);
  if (angle.standing != Standing::applies) return angle;
  return any_pull(s) ? Applicability{} : no("nothing pulls the ledge up");
}

Use ledge_leg_lift(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::force);
  for (std::size_t side = 0; side < 2; ++side) {
    const LedgeData& l = m.ledges[side];
    if (l.leg_moment <= 0) continue;
    for (const int i : l.hold_downs) {
      const HoldDownData& here = m.hold_downs[std::size_t(i)];
      double moment = 0;
      for (const int k : l.hold_downs) {
        const HoldDownData& h = m.hold_downs[std::size_t(k)];
        if (h.leg_lift <= 0) continue;
        const double reach = h.from_root / h.leg_lift;
        const double share = 1 - std::abs(h.forward - here.forward) / reach;
        if (share > 0) moment += share * pull(a, h.row) * h.leg_lift;
      }
      w.take(moment, l.leg_moment, int(side));
    }
  }
  return w.use();
}

Applicability ledge_bolts_apply(const Setup& s) {
  // Sides without a described fastening are named among what is not checked.
  for (const Ledge* l : {&s.board().port, &s.board().starboard}) {
    if (l->kind == LedgeKind::angle && l->metal && l->fastening) return {};
  }
  return {Standing::not_checked, "how the ledges are held to the hull is not described"};
}

Use ledge_bolt_tension(const BoardActions& a, Category) {
  Worst w(Dimension::force);
  for (std::size_t side = 0; side < 2; ++side) {
    const LedgeData& l = a.model->ledges[side];
    if (!l.holes.empty()) w.take(a.ledge_tension[side], l.bolt_tension, int(side));
  }
  return w.use();
}

Use ledge_bolt_shear(const BoardActions& a, Category) {
  Worst w(Dimension::force);
  for (std::size_t side = 0; side < 2; ++side) {
    const LedgeData& l = a.model->ledges[side];
    if (!l.holes.empty()) w.take(a.ledge_shear[side], l.bolt_shear, int(side));
  }
  return w.use();
}

Use ledge_bolt_both(const BoardActions& a, Category) {
  Worst w(Dimension::number);
  for (std::size_t side = 0; side < 2; ++side) {
    const LedgeData& l = a.model->ledges[side];
    if (l.holes.empty()) continue;
    w.take(length_of(a.ledge_tension[side] / l.bolt_tension, a.ledge_shear[side] / l.bolt_shear), 1,
           int(side));
  }
  return w.use();
}

namespace {

bool metal_hull(const Ledge& l) {
  return l.kind == LedgeKind::angle && l.metal && l.fastening &&
         l.fastening->hull == HullKind::metal_wall;
}

}  // namespace

Applicability hull_pull_applies(const Setup& s) {
  for (const Ledge* l : {&s.board().port, &s.board().starboard}) {
    if (metal_hull(*l)) return {};
  }
  return {Standing::not_checked, "no metal hull, or none described"};
}

Use ledge_bolt_pull_through(const BoardActions& a, Category category) {
  Worst w(Dimension::force);
  for (std::size_t side = 0; side < 2; ++side) {
    const LedgeData& l = a.model->ledges[side];
    if (l.holes.empty() || l.pull_through <= 0) continue;
    // Halved under wave and towing cycles (EN 1993-1-3 Table 8.2).
    const double strength = category == Category::everyday ? 0.5 * l.pull_through : l.pull_through;
    w.take(a.ledge_tension[side], strength, int(side));
  }
  return w.use();
}

Applicability hull_bearing_applies(const Setup& s) {
  for (const Ledge* l : {&s.board().port, &s.board().starboard}) {
    if (metal_hull(*l)) return {};
  }
  return {Standing::not_checked, "no metal hull, or none described"};
}

Use ledge_bolt_bearing(const BoardActions& a, Category) {
  Worst w(Dimension::force);
  for (std::size_t side = 0; side < 2; ++side) {
    const LedgeData& l = a.model->ledges[side];
    if (!l.holes.empty() && l.hull_bearing > 0) {
      w.take(a.ledge_shear[side], l.hull_bearing, int(side));
    }
  }
  return w.use();
}

// ---- Hold-downs
// ----------------------------------------------------------------------------------

Applicability pulls_apply(const Setup& s) {
  return any_pull(s) ? Applicability{} : no("no hold-downs");
}

Applicability hold_downs_apply(const Setup& s) {
  return s.board().hold_downs.empty() ? no("no hold-downs") : Applicability{};
}

Applicability eye_applies(const Setup& s) {
  if (!any_hold_down(s, HoldDownKind::eye_bolt)) return no("no eye bolts");
  for (const HoldDown& h : s.board().hold_downs) {
    if (h.kind == HoldDownKind::eye_bolt && (!h.eye || !h.eye->rated)) {
      return {Standing::refused,
              "an eye bolt without a published rating (bent wire or unknown) holds the board down"};
    }
  }
  return {};
}

// By the angle between pull and shank: full in line, the rating at 45 deg from there on.
Use eye_bolt_rating(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    const HoldDownData& h = m.hold_downs[i];
    if (h.rated <= 0) continue;
    const double t = pull(a, h.row);
    const double v = sideways(a, h);
    const double angle = std::atan2(v, t) / (0.25 * std::numbers::pi);
    const double rated = h.rated + std::min(angle, 1.0) * (h.rated_45 - h.rated);
    w.take(length_of(t, v), rated, int(i));
  }
  return w.use();
}

Use hold_down_tension(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    const HoldDownData& h = m.hold_downs[i];
    if (h.row >= 0) w.take(pull(a, h.row), h.tension, int(i));
  }
  return w.use();
}

Use hold_down_shear(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    w.take(sideways(a, m.hold_downs[i]), m.hold_downs[i].shear, int(i));
  }
  return w.use();
}

Use hold_down_both(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::number);
  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    const HoldDownData& h = m.hold_downs[i];
    w.take(length_of(pull(a, h.row) / h.tension, sideways(a, h) / h.shear), 1, int(i));
  }
  return w.use();
}

Applicability standoff_applies(const Setup& s) {
  const auto& all = s.board().hold_downs;
  return std::any_of(all.begin(), all.end(),
                     [](const HoldDown& h) { return h.standoff.value() > 0; })
             ? Applicability{}
             : no("no shank stands free between board and seat");
}

// Free shank between board and seat, held at both: half the standoff, as a cantilever when the nut
// below does not keep it from turning, which is taken.
Use hold_down_bending(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::number);
  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    const HoldDownData& h = m.hold_downs[i];
    if (h.standoff <= 0) continue;
    const double bend = sideways(a, h) * h.standoff / h.bending;
    const double pulled = pull(a, h.row) / h.tension;
    w.take(bend + pulled * pulled, 1, int(i));
  }
  return w.use();
}

Applicability washer_applies(const Setup& s) {
  if (!wooden(s)) return no("the board is metal");
  if (!any_pull(s)) return no("no hold-downs");
  return {};
}

Use washer_dent(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    const HoldDownData& h = m.hold_downs[i];
    if (h.row >= 0) w.take(pull(a, h.row), h.dent, int(i));
  }
  return w.use();
}

Use washer_crushing(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    const HoldDownData& h = m.hold_downs[i];
    if (h.row >= 0) w.take(pull(a, h.row), h.crush, int(i));
  }
  return w.use();
}

Applicability lateral_applies(const Setup& s) {
  if (!wooden(s)) return no("the board is metal");
  return hold_downs_apply(s);
}

Use board_bolt_bearing(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    w.take(sideways(a, m.hold_downs[i]), m.hold_downs[i].lateral, int(i));
  }
  return w.use();
}

Applicability split_applies(const Setup& s) {
  if (!wooden(s)) return no("the board is metal");
  if (s.board().board.thickness > s.board().board.width) {
    return {Standing::not_checked, "bolts across a plank on edge are not covered"};
  }
  for (const HoldDown& h : s.board().hold_downs) {
    if (h.kind != HoldDownKind::u_bolt) return {};
  }
  return no("no bolts through the board");
}

// Fore-and-aft push of the row of bolts of one side, whatever way it points.
Use board_splits(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::force);
  w.take(0, m.shear * m.shape.area, -1);
  for (const LedgeData& l : m.ledges) {
    if (l.split <= 0 || l.hold_downs.empty()) continue;
    double push = 0;
    for (const int i : l.hold_downs) push += pull(a, m.hold_downs[std::size_t(i)].shank_y);
    w.take(std::abs(push), l.split, l.hold_downs.front());
  }
  return w.use();
}

// Least distance over the distance needed.
Applicability bolt_distance_applies(const Setup& s) {
  if (!wooden(s)) return no("the board is metal");
  return hold_downs_apply(s);
}

Use board_bolt_distance(const BoardActions& a, Category) {
  const Model& m = *a.model;
  const CrossBoard& mount = m.setup->board();
  const double width = mount.board.width.value();
  const double length = mount.board.length.value();
  Worst w(Dimension::length);
  for (std::size_t i = 0; i < mount.hold_downs.size(); ++i) {
    const HoldDown& h = mount.hold_downs[i];
    if (h.kind == HoldDownKind::u_bolt) continue;
    const Length d = h.thread.diameter;
    const double x = mount.station(h.place).value();
    const double edge = 0.5 * width - std::abs(h.place.forward.value());
    const double end = std::min(x, length - x);
    w.take(least_edge_in_board(d).value(), edge, int(i));
    w.take(least_end_in_board(d).value(), end, int(i));
  }
  return w.use();
}

// ---- Legs
// ----------------------------------------------------------------------------------------

Applicability legs_apply(const Setup& s) {
  if (s.board().legs.empty()) return no("no legs");
  for (const Leg& l : s.board().legs) {
    if (l.wall && std::max(l.fore_aft, l.athwart) > 23.0 * *l.wall) {
      return {Standing::refused,
              "the walls of a leg are so thin that they may buckle first, which is not covered"};
    }
  }
  return {};
}

Use leg_crushing(const BoardActions& a, Category) {
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < a.model->legs.size(); ++i) {
    const LegData& l = a.model->legs[i];
    w.take(pull(a, l.row), l.crushing, int(i));
  }
  return w.use();
}

Applicability leg_dent_applies(const Setup& s) {
  if (s.board().legs.empty()) return no("no legs");
  if (std::all_of(s.board().legs.begin(), s.board().legs.end(),
                  [](const Leg& l) { return l.beside; })) {
    return no("legs stand beside the board");
  }
  return wooden(s) ? Applicability{} : no("the board is metal");
}

Use leg_dent(const BoardActions& a, Category) {
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < a.model->legs.size(); ++i) {
    const LegData& l = a.model->legs[i];
    if (!a.model->setup->board().legs[i].beside) w.take(pull(a, l.row), l.dent, int(i));
  }
  return w.use();
}

Use leg_buckling(const BoardActions& a, Category) {
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < a.model->legs.size(); ++i) {
    const LegData& l = a.model->legs[i];
    w.take(pull(a, l.row), l.buckling, int(i));
  }
  return w.use();
}

namespace {

bool leans(const Leg& l) {
  return std::abs(l.foot_forward.value()) > 1e-6 || std::abs(l.foot_outboard.value()) > 1e-6;
}

// A foot may be blocked, but under the board a leaning leg is held by nothing but friction.
bool by_friction(const Leg& l) {
  if (leans(l) && !l.beside) return true;
  return !l.foot_held && (leans(l) || std::abs(l.foot_slope.value()) > 1e-6);
}

}  // namespace

Applicability leg_slides_applies(const Setup& s) {
  if (s.board().legs.empty()) return no("no legs");
  bool any = false;
  for (const Leg& l : s.board().legs) {
    if (l.stands_on == LegFoot::ledge) {
      return {Standing::refused,
              "a leg that stands on the ledge: what its thrust does to the ledge is not covered"};
    }
    if (!by_friction(l)) continue;
    any = true;
    if (!l.friction) {
      return {Standing::refused,
              "a leg that leans or stands on a slope is held by friction alone, and friction on a "
              "wet boat has no published value: set it upright, fasten it beside the board and "
              "block its foot, or measure it"};
    }
  }
  return any ? Applicability{} : no("feet are blocked or stand level");
}

Use leg_slides(const BoardActions& a, Category) {
  Worst w(Dimension::force);
  for (std::size_t i = 0; i < a.model->legs.size(); ++i) {
    const LegData& l = a.model->legs[i];
    if (!by_friction(a.model->setup->board().legs[i])) continue;
    const double f = pull(a, l.row);
    w.take(f * l.push_aside, f * l.push_down * l.friction, int(i));
  }
  return w.use();
}

Applicability leg_tips_applies(const Setup& s) {
  if (s.board().legs.empty()) return no("no legs");
  for (const Leg& l : s.board().legs) {
    if (!l.foot_held) return {};
  }
  return no("feet are held");
}

// A loose leg stands while the line of its thrust stays within its foot: shift of the board above
// it and 2 % out of plumb against half the foot.
Use leg_tips(const BoardActions& a, Category) {
  const Model& m = *a.model;
  Worst w(Dimension::length);
  for (std::size_t i = 0; i < m.legs.size(); ++i) {
    const LegData& l = m.legs[i];
    const Leg& leg = m.setup->board().legs[i];
    if (leg.foot_held || pull(a, l.row) <= 0) continue;
    const double shift = length_of(a.watched[l.watch], a.watched[l.watch + 1]);
    w.take(shift + 0.02 * leg.length.value(), l.half_foot, int(i));
  }
  if (w.use().fastener < 0 && !m.legs.empty()) w.take(0, m.legs[0].half_foot, 0);
  return w.use();
}

// ---- Gear on the board
// ---------------------------------------------------------------------------

Applicability foot_applies(const Setup& s) {
  // Gears without a described foot are named among what is not checked.
  if (any_foot(s)) return {};
  return {Standing::not_checked, "the bolts of the gear through the board are not described"};
}

Applicability foot_on_wood(const Setup& s) {
  if (!wooden(s)) return no("the board is metal");
  return foot_applies(s);
}

namespace {

template <class Take>
Use over_feet(const BoardActions& a, Dimension dimension, Take take) {
  const Model& m = *a.model;
  Worst w(dimension);
  for (std::size_t g = 0; g < m.gear.size(); ++g) {
    if (m.gear[g].contact.empty() || !a.loaded[g]) continue;
    for (const ContactResult& r : a.foot[g]) {
      if (r.balance == Balance::mechanism) {
        w.take(1e300, 1, int(g));
        continue;
      }
      take(w, m.gear[g], r, int(g));
    }
  }
  if (w.use().fastener < 0) w.take(0, 1, -1);
  return w.use();
}

double most_tension(const ContactResult& r) {
  double most = 0;
  for (int i = 0; i < r.count; ++i) most = std::max(most, r.tension[std::size_t(i)].value());
  return most;
}

// In the plane of the foot: shared evenly and by the twist about the middle of the bolts. Calls
// `take(i, forward, outboard)` for each bolt.
template <class Take>
void each_shear(const GearData& g, const Eigen::Matrix<double, 6, 1>& w, Take take) {
  double cx = 0, cy = 0;
  const double n = double(g.holes.size());
  for (const PlanPoint& p : g.holes) {
    cx += p.x.value() / n;
    cy += p.y.value() / n;
  }
  double polar = 0;
  for (const PlanPoint& p : g.holes) {
    polar += std::pow(p.x.value() - cx, 2) + std::pow(p.y.value() - cy, 2);
  }
  const double twist = w(5) - cx * w(1) + cy * w(0);
  for (std::size_t i = 0; i < g.holes.size(); ++i) {
    const double rx = g.holes[i].x.value() - cx, ry = g.holes[i].y.value() - cy;
    const double k = polar > 0 ? twist / polar : 0;
    take(i, w(0) / n - k * ry, w(1) / n + k * rx);
  }
}

double most_shear(const GearData& g, const Eigen::Matrix<double, 6, 1>& w) {
  double most = 0;
  each_shear(g, w,
             [&](std::size_t, double x, double y) { most = std::max(most, length_of(x, y)); });
  return most;
}

}  // namespace

Use foot_bolt_tension(const BoardActions& a, Category) {
  return over_feet(a, Dimension::force,
                   [](Worst& w, const GearData& g, const ContactResult& r, int i) {
                     w.take(most_tension(r), g.tension, i);
                   });
}

Use foot_bolt_shear(const BoardActions& a, Category) {
  return over_feet(a, Dimension::force,
                   [&](Worst& w, const GearData& g, const ContactResult&, int i) {
                     w.take(most_shear(g, a.gear[std::size_t(i)]), g.shear, i);
                   });
}

Use foot_bolt_both(const BoardActions& a, Category) {
  return over_feet(
      a, Dimension::number, [&](Worst& w, const GearData& g, const ContactResult& r, int i) {
        w.take(
            length_of(most_tension(r) / g.tension, most_shear(g, a.gear[std::size_t(i)]) / g.shear),
            1, i);
      });
}

Use foot_bolt_bearing(const BoardActions& a, Category) {
  return over_feet(a, Dimension::force,
                   [&](Worst& w, const GearData& g, const ContactResult&, int i) {
                     w.take(most_shear(g, a.gear[std::size_t(i)]), g.lateral, i);
                   });
}

Applicability foot_splits_applies(const Setup& s) {
  const Applicability foot = foot_on_wood(s);
  if (foot.standing != Standing::applies) return foot;
  if (s.board().board.thickness > s.board().board.width) {
    return {Standing::not_checked, "bolts across a plank on edge are not covered"};
  }
  return {};
}

// Across the grain all bolts that push the same way, along it each toward the end nearest to it.
Use foot_splits(const BoardActions& a, Category) {
  return over_feet(a, Dimension::force,
                   [&](Worst& w, const GearData& g, const ContactResult&, int i) {
                     double forward = 0, aft = 0;
                     each_shear(g, a.gear[std::size_t(i)], [&](std::size_t k, double x, double y) {
                       (x > 0 ? forward : aft) += std::abs(x);
                       w.take(std::abs(y), g.tear[k], i);
                     });
                     if (g.split > 0) w.take(std::max(forward, aft), g.split, i);
                   });
}

Use foot_washer_dent(const BoardActions& a, Category) {
  return over_feet(a, Dimension::force,
                   [](Worst& w, const GearData& g, const ContactResult& r, int i) {
                     w.take(most_tension(r), g.dent, i);
                   });
}

Use foot_washer_crushing(const BoardActions& a, Category) {
  return over_feet(a, Dimension::force,
                   [](Worst& w, const GearData& g, const ContactResult& r, int i) {
                     w.take(most_tension(r), g.crush, i);
                   });
}

Use foot_press(const BoardActions& a, Category) {
  return over_feet(a, Dimension::stress,
                   [](Worst& w, const GearData& g, const ContactResult& r, int i) {
                     // Mean over the pressed part, as the code takes bearing stress.
                     const double pressed = r.contact_fraction * g.bed_area;
                     w.take(pressed > 0 ? r.bed_force.value() / pressed : 0.0, g.press, i);
                   });
}

}  // namespace thole::checks
