#include "checks/board_model.hpp"

#include <algorithm>
#include <cmath>

#include <Eigen/Geometry>

#include <thole/error.hpp>
#include <thole/metal_strength.hpp>
#include <thole/thread.hpp>
#include <thole/wood_strength.hpp>

namespace thole::board {

using namespace literals;
using board_kernel::Column;

namespace {

constexpr double pi = std::numbers::pi;
// The foot of a gear where its bolts bear sideways: a soft casting, thin (judgement).
const Length foot_thickness = 4.0_mm;
const Stress foot_ultimate = Stress::from_value(160e6);

Shape shape_of(const Section& s) {
  Shape out;
  out.area = s.area.value();
  out.torsion_modulus = s.torsion_modulus.value();
  out.narrow_side = s.narrow_side;
  out.yc = s.centroid_y.value();
  out.zc = s.centroid_z.value();
  out.ys = s.shear_centre_y.value();
  out.zs = s.shear_centre_z.value();
  for (const SectionPoint& p : s.points) {
    Corner c;
    c.flat = (p.z.value() - out.zc) / s.bending_flat.value();
    c.edge = -(p.y.value() - out.yc) / s.bending_edge.value();
    const bool warps = !s.closed && s.warping.value() > 0;
    c.warp = warps ? -p.sectorial_peak.value() / s.warping.value() : 0.0;
    out.corners.push_back(c);
  }
  return out;
}

// The board's own strengths for loads up and down and fore and aft.
void strengths(Model& m) {
  const CrossBoard& mount = m.setup->board();
  const BoardPiece& b = mount.board;
  const Section& s = m.structure.beam.section;
  m.width = s.width.value();
  m.depth = s.depth.value();
  m.flat = b.width >= b.thickness;
  m.shape = shape_of(s);
  // The twist of the plank alone is that of the whole beam, larger as it is softer (estimate).
  if (b.form == BoardForm::plank_with_strip) {
    const Section plank = rectangle(b.width, b.thickness);
    m.bare = shape_of(plank);
    const double share = double(plank.warping / s.warping) * double(s.torsion / plank.torsion);
    for (Corner& c : m.bare.corners) c.warp *= share;
  }
  m.shear_area_y = s.shear_area_y * m.shape.area;
  m.shear_area_z = s.shear_area_z * m.shape.area;
  m.wood = b.wood_strength.has_value();
  if (!m.wood) {
    const Metal& metal = *b.metal;
    m.bend_flat = m.bend_edge = m.edge_stress = metal.yield.value();
    m.net_strength = metal.ultimate.value();
    m.shear = 0.6 * metal.yield.value();
    return;
  }
  const WoodStrength& w = *b.wood_strength;
  m.edge_stress = w.edge_stress.value();
  m.shear = w.shear.value();
  m.bearing = w.bearing.value();
  m.crushing = w.crushing.value();
  double on_edge = w.bending_on_edge.value();
  const Length wide = std::max(b.width, b.thickness);
  const Length thin = std::min(b.width, b.thickness);
  if (b.form == BoardForm::plank && wide > thin) {
    const Length free_length = std::max(mount.clear_width, 0.5 * b.length);
    const Length effective = beam_effective_length(free_length, wide, BeamLoad::other);
    if (beam_slenderness(effective, wide, thin) <= 50) {
      on_edge *= beam_stability(w.bending_on_edge, w.modulus_min, effective, wide, thin);
    } else {
      on_edge = 0;  // beyond the code: nothing holds
    }
  }
  if (b.form == BoardForm::plank_with_strip) {
    // No flat-use bonus for a built-up section.
    m.bend_flat = m.bend_edge = std::min(w.bending_on_edge, w.edge_stress).value();
  } else if (m.flat) {
    m.bend_flat = w.bending_flat.value();
    m.bend_edge = on_edge;
  } else {
    m.bend_flat = on_edge;
    m.bend_edge = w.bending_flat.value();
  }
}

// A strip below the plank ends where the seats begin.
bool between_seats(const CrossBoard& m, double x) {
  const double port = m.station({Side::port, Length{}, Length{}}).value();
  const double starboard = m.station({Side::starboard, Length{}, Length{}}).value();
  return x > port + 1e-6 && x < starboard - 1e-6;
}

struct Hole {
  double x, y, diameter;
};

std::vector<Hole> holes_of(const Setup& setup) {
  const CrossBoard& mount = setup.board();
  std::vector<Hole> out;
  for (const HoldDown& h : mount.hold_downs) {
    if (h.kind == HoldDownKind::u_bolt) continue;
    const double d = std::max(h.hole, h.thread.diameter).value();
    out.push_back({mount.station(h.place).value(), h.place.forward.value(), d});
  }
  for (const Gear& g : setup.gear) {
    if (!g.foot) continue;
    const double outward = g.place.side == Side::starboard ? 1 : -1;
    for (const PlanPoint& p : g.foot->holes) {
      out.push_back({mount.station(g.place).value() + outward * p.y.value(),
                     g.place.forward.value() + p.x.value(),
                     std::max(g.foot->hole, g.foot->thread.diameter).value()});
    }
  }
  return out;
}

// Gross over net section modulus at x. Holes within two diameters along the board count together.
void net_section(const Model& m, const std::vector<Hole>& holes, Cut& cut) {
  const BoardPiece& b = m.setup->board().board;
  double lost_width = 0, lost_edge = 0;
  double reach = 0;
  for (const Hole& h : holes) reach = std::max(reach, 2 * h.diameter);
  for (const Hole& h : holes) {
    if (std::abs(h.x - cut.x) > reach) continue;
    cut.hole = cut.hole || std::abs(h.x - cut.x) < 2 * board_kernel::same_station;
    lost_width += h.diameter;
    lost_edge += h.diameter * (h.y * h.y + h.diameter * h.diameter / 12);
  }
  if (lost_width == 0) return;
  const Section& s = cut.bare ? rectangle(b.width, b.thickness) : m.structure.beam.section;
  const double through = b.wall.value() > 0 ? 2 * b.wall.value() : b.thickness.value();
  const double i_edge = s.bending_edge.value() - lost_edge * through;
  double i_flat = s.bending_flat.value();
  if (b.wall.value() > 0) {
    const double arm = 0.5 * (b.thickness.value() - b.wall.value());
    i_flat -= lost_width * through * arm * arm;
  } else {
    const double t = b.thickness.value();
    i_flat -= lost_width * t * t * t / 12;
  }
  const double none = 1e9;  // nothing left
  const double area = s.area.value() - lost_width * through;
  cut.net_area = area > 0 ? s.area.value() / area : none;
  cut.net_flat = i_flat > 0 ? s.bending_flat.value() / i_flat : none;
  cut.net_edge = i_edge > 0 ? s.bending_edge.value() / i_edge : none;
}

// Strength of one bolt sideways in the wood, beside a metal of that bearing or else beside wood
// like the board's. The angle of load to grain is not followed: the worse of along and across
// counts.
double sideways_in_board(const BoardPiece& b, const Thread& thread,
                         const FastenerMaterial& material, Length beside,
                         const std::optional<Stress>& bearing) {
  Dowel dowel;
  dowel.diameter = Length::from_value(std::sqrt(root_area(thread).value() / (0.25 * pi)));
  dowel.nominal = thread.diameter;
  dowel.side = b.thickness;
  dowel.main = beside;
  dowel.bending_yield = bending_yield_strength(material.yield, material.ultimate);
  double least = 0;
  for (const Angle& to_grain : {0.0_deg, 90.0_deg}) {
    dowel.side_bearing = dowel_bearing(b.wood->specific_gravity, thread.diameter, to_grain);
    dowel.main_bearing = bearing.value_or(dowel.side_bearing);
    dowel.to_grain = to_grain;
    const double z = dowel_yield(dowel).reference.value();
    if (least == 0 || z < least) least = z;
  }
  return b.wood_strength->lateral * least;
}

HoldDownData hold_down_data(const Model& m, const HoldDown& h) {
  const CrossBoard& mount = m.setup->board();
  const BoardPiece& b = mount.board;
  const Ledge& ledge = mount.ledge(h.place.side);
  HoldDownData d;
  const double shanks = h.kind == HoldDownKind::u_bolt ? 2 : 1;
  const double root = root_area(h.thread).value();
  d.tension = shanks * root * h.material.ultimate.value();
  d.shear = shanks * root * h.material.shear_ultimate.value();
  const double root_diameter = std::sqrt(root / (0.25 * pi));
  d.bending = shanks * std::pow(root_diameter, 3) / 6 * h.material.yield.value();
  d.standoff = h.standoff.value();
  d.forward = h.place.forward.value();
  if (h.eye && h.eye->rated) {
    d.rated = h.eye->in_line.value();
    d.rated_45 = h.eye->at_45_deg.value();
  }
  if (m.wood) {
    const WoodStrength& w = *b.wood_strength;
    if (h.kind != HoldDownKind::pin && h.washer > h.hole) {
      const Length washer = std::max(stiff_washer(h.washer, h.thread.diameter), 1.05 * h.hole);
      d.dent = washer_bearing(w, washer, h.hole, true).value();
      d.crush = crushing_strength(w, washer_area(washer, h.hole)).value();
    }
    // Sideways: the board between washer and seat.
    const bool angle = ledge.kind == LedgeKind::angle && ledge.metal;
    d.lateral = shanks * (angle ? sideways_in_board(b, h.thread, h.material, ledge.leg_thickness,
                                                    aluminium_dowel_bearing(ledge.metal->ultimate))
                                : sideways_in_board(b, h.thread, h.material, b.thickness, {}));
  }
  if (ledge.kind == LedgeKind::angle && ledge.metal) {
    const double a = ledge.along.value();
    const double c = from_root(ledge, h.place).value();
    const double y = h.place.forward.value();
    const double half = 0.5 * ledge.fore_aft.value();
    d.from_root = std::max(c, 0.0);
    if (c > 0) {
      d.leg_lift = ledge_leg_root_moment(std::clamp(c / a, 0.01, 1.0),
                                         std::max(0.0, (half - std::abs(y)) / a),
                                         std::max(0.0, (half + std::abs(y)) / a));
    }
  }
  return d;
}

// What draws a nut through the hull. A plate behind helps as a wider washer, three times its
// thickness beyond the nut's own (judgement) and within its edges, as long as the nut does not come
// through the plate first.
Force hull_pull_through(const LedgeFastening& f) {
  const Length nut = f.washer ? f.washer->outside : f.thread.head_across_flats;
  const auto through = [&](Length t, Length wide, const Metal& metal) {
    return pull_over(t, wide, f.thread.clearance, metal).strength;
  };
  const Force bare = through(f.hull_thickness, nut, *f.hull_metal);
  if (!f.backing) return bare;
  const Backing& b = *f.backing;
  const Length wide =
      std::max(nut, std::min<Length>({nut + 6.0 * b.thickness, b.fore_aft, b.athwart}));
  return std::max(bare, std::min(through(b.thickness, nut, b.metal),
                                 through(f.hull_thickness, wide, *f.hull_metal)));
}

LedgeData ledge_data(const Model& m, Side side) {
  const CrossBoard& mount = m.setup->board();
  const Ledge& ledge = mount.ledge(side);
  LedgeData d;
  const double a = ledge.along.value();
  const double half = 0.5 * ledge.fore_aft.value();
  for (std::size_t i = 0; i < m.structure.supports.size(); ++i) {
    const BoardSupport& s = m.structure.supports[i];
    if (s.role != Role::seat || s.side != side) continue;
    SeatPoint p;
    p.row = int(i);
    p.area = s.share.value();
    p.x = s.support.at.x().value();
    p.y = s.support.at.y().value();
    p.from_root = s.from_root.value();
    if (ledge.kind == LedgeKind::angle && p.from_root > 1e-6) {
      const double c = std::clamp(p.from_root / a, 0.01, 1.0);
      p.leg_down = ledge_leg_root_moment(c, std::max(0.0, (half - std::abs(p.y)) / a),
                                         std::max(0.0, (half + std::abs(p.y)) / a));
      p.reach = p.from_root / p.leg_down;
    }
    d.seats.push_back(p);
  }
  for (std::size_t i = 0; i < mount.hold_downs.size(); ++i) {
    if (mount.hold_downs[i].place.side == side) d.hold_downs.push_back(int(i));
  }
  // Split across the grain: from the loaded edge to the farthest bolt of the row, push either way.
  const BoardPiece& b = mount.board;
  if (m.wood && m.flat) {
    const double half_width = 0.5 * b.width.value();
    double forward = 0, aft = 0, near = 1e9;
    for (const int i : d.hold_downs) {
      const HoldDown& h = mount.hold_downs[std::size_t(i)];
      if (h.kind == HoldDownKind::u_bolt) continue;
      const double y = h.place.forward.value();
      forward = std::max(forward, half_width - y);
      aft = std::max(aft, half_width + y);
      const double x = mount.station(h.place).value();
      near = std::min({near, x, b.length.value() - x});
    }
    const double he = std::min(forward, aft);
    if (he > 0 && he < b.width.value()) {
      d.split = splitting_strength(b.wood_strength->shear, b.thickness, b.width, he * si::metre,
                                   near < 5 * b.width.value(), b.wet)
                    .strength.value();
    }
  }
  if (ledge.kind != LedgeKind::angle || !ledge.metal) return d;
  d.leg_moment = plate_moment(ledge.leg_thickness, *ledge.metal).value();
  if (!ledge.fastening) return d;
  const LedgeFastening& f = *ledge.fastening;
  // The upright leg as a base on the hull: x forward, y up from the seat, origin at the bolt row.
  const double below = f.below_seat.value();
  const double foot = std::max(f.foot_below.value(), below + 0.5 * f.thread.diameter.value());
  d.below = below;
  d.upright_width = std::max((ledge.fore_aft - double(f.count) * f.thread.clearance).value(), 1e-3);
  const Length L = 0.5 * ledge.fore_aft;
  const Outline bed{{-L, (below - foot) * si::metre},
                    {L, (below - foot) * si::metre},
                    {L, below * si::metre},
                    {-L, below * si::metre}};
  for (int i = 0; i < f.count; ++i) {
    d.holes.push_back({(i - 0.5 * (f.count - 1)) * f.spacing, Length{}});
  }
  const LinearStiffness bolt = LinearStiffness::from_value(8e6);
  const double n = f.count;
  // As for plates, the middle of the range of bed stiffness; the leg is far from rigid anyway.
  const BaseContact upright(bed, BedStiffness(n * bolt / (0.25 * area_of(bed))), d.holes, bolt);
  const auto tension = [&](double moment) {
    const ContactResult r = upright.solve(Force{}, Moment::from_value(moment), Moment{});
    return r.balance == Balance::mechanism ? 1e300 : r.tension[0].value();
  };
  d.tension_out = tension(1);
  d.tension_in = tension(-1);
  const double root = root_area(f.thread).value();
  d.bolt_tension = root * f.material.ultimate.value();
  d.bolt_shear = root * f.material.shear_ultimate.value();
  d.growth = prying_bound(std::max(f.below_seat - ledge.leg_thickness, 0.001 * si::metre),
                          (foot - below) * si::metre, f.thread.diameter);
  if (f.hull == HullKind::metal_wall && f.hull_metal) {
    d.pull_through = hull_pull_through(f).value();
    d.hull_bearing = bearing(f.thread.diameter, f.hull_thickness, 1000.0_mm, *f.hull_metal).value();
  }
  return d;
}

LegData leg_data(const Model& m, const Leg& leg, int index) {
  LegData d;
  for (std::size_t i = 0; i < m.structure.supports.size(); ++i) {
    const BoardSupport& s = m.structure.supports[i];
    if (s.role == Role::leg && s.part == index) d.row = int(i);
  }
  const double l = leg.length.value();
  const Length thin = std::min(leg.fore_aft, leg.athwart);
  const Length wide = std::max(leg.fore_aft, leg.athwart);
  if (leg.wood_strength) {
    const WoodStrength& w = *leg.wood_strength;
    WoodPiece piece;
    piece.thickness = thin;
    piece.width = wide;
    d.crushing = (w.compression * thin * wide).value();
    // Free at the top but for the board, which may shift: fixed nowhere, held at both ends by
    // friction at best, so twice the length counts where the foot is not held.
    const Length effective = (leg.foot_held ? 1.0 : 2.1) * leg.length;
    d.buckling = effective > 50.0 * thin
                     ? 0.0
                     : column_strength(w, piece, effective, effective).strength.value();
  } else {
    const Metal& metal = *leg.metal;
    const double t = leg.wall ? leg.wall->value() : 0;
    const double a = thin.value(), b = wide.value();
    const double area = leg.wall ? 2 * t * (a + b - 2 * t) : a * b;
    const double i =
        leg.wall ? (b * a * a * a - (b - 2 * t) * std::pow(a - 2 * t, 3)) / 12 : b * a * a * a / 12;
    const double effective = (leg.foot_held ? 1.0 : 2.1) * l;
    d.crushing = area * metal.yield.value();
    // Rankine: squash and Euler loads together, below either.
    const double euler = pi * pi * metal.modulus.value() * i / (effective * effective);
    d.buckling = 1 / (1 / d.crushing + 1 / euler);
  }
  // Beside the board its bolts carry, not its top.
  if (m.wood && !leg.beside) d.dent = m.bearing * thin.value() * wide.value();
  // Thrust along the leg onto ground that slopes whichever way is worse: lean and slope added.
  const double dx = leg.foot_outboard.value(), dy = leg.foot_forward.value();
  const double lean = std::asin(std::min(0.995, std::sqrt(dx * dx + dy * dy) / l));
  const double tilt = std::min(lean + std::abs(radians(leg.foot_slope)), 0.499 * pi);
  d.push_down = std::cos(tilt);
  d.push_aside = std::sin(tilt);
  d.friction = leg.friction.value_or(0);
  d.half_foot = 0.5 * thin.value();
  return d;
}

// The bolts of a gear sideways: each in the wood, all of them across the grain, each toward an end.
void bolts_in_wood(const Model& m, const Gear& g, GearData& d) {
  const CrossBoard& mount = m.setup->board();
  const BoardPiece& b = mount.board;
  const GearFoot& f = *g.foot;
  const Stress shear = b.wood_strength->shear;
  d.lateral = sideways_in_board(b, f.thread, f.material, foot_thickness,
                                aluminium_dowel_bearing(foot_ultimate));
  const Length half = 0.5 * b.width;
  Length forward{}, aft{}, near = b.length;
  for (const PlanPoint& p : f.holes) {
    const Length x = mount.station({g.place.side, g.place.outboard + p.y, g.place.forward + p.x});
    const Length end = std::min<Length>(x, b.length - x);
    d.tear.push_back(row_tear_out(shear, b.thickness, 1, end).value());
    near = std::min(near, end);
    forward = std::max<Length>(forward, half - g.place.forward - p.x);
    aft = std::max<Length>(aft, half + g.place.forward + p.x);
  }
  const Length loaded = std::min(forward, aft);
  if (m.flat && loaded < b.width) {
    d.split = splitting_strength(shear, b.thickness, b.width, loaded, near < 5.0 * b.width, b.wet)
                  .strength.value();
  }
}

GearData gear_data(const Model& m, const Gear& g) {
  const CrossBoard& mount = m.setup->board();
  GearData d;
  d.to_board = axes_from(mount, g.place.side);
  if (!g.foot) return d;
  const GearFoot& f = *g.foot;
  d.holes = f.holes;
  const double root = root_area(f.thread).value();
  d.tension = root * f.material.ultimate.value();
  d.shear = root * f.material.shear_ultimate.value();
  // Only what lies on the board is a bed.
  const Length fore = 0.5 * mount.board.width - g.place.forward;
  const Length aft = -0.5 * mount.board.width - g.place.forward;
  const Length L = mount.board.length;
  const Length x = mount.station(g.place);
  const Length out = g.place.side == Side::starboard ? Length(L - x) : x;
  const Length in = g.place.side == Side::starboard ? Length(-1.0 * x) : Length(x - L);
  const Outline bed = clip_to(f.outline, {aft, in}, {fore, out});
  d.bed_area = area_of(bed).value();
  const double n = double(f.holes.size());
  const LinearStiffness bolt = LinearStiffness::from_value(8e6);
  for (const double softness : {0.05, 1.0}) {
    d.contact.emplace_back(bed, BedStiffness(n * bolt / (softness * area_of(bed))), f.holes, bolt);
  }
  if (m.wood) {
    const WoodStrength& w = *mount.board.wood_strength;
    if (f.plate) {
      // Each bolt presses through its head and as far as the plate is stiff, twice its thickness on
      // every side (judgement), never more than its part of the plate.
      const double side = f.thread.head_across_flats.value() + 4 * f.plate->thickness.value();
      const double part = (f.plate->fore_aft * f.plate->athwart).value() / n;
      const double area = std::min(side * side, part) - 0.25 * pi * f.hole.value() * f.hole.value();
      d.dent = m.bearing * std::max(area, 0.0);
      d.crush = 3 * m.crushing * std::max(area, 0.0);
    } else if (f.washer > f.hole) {
      const Length washer = std::max(stiff_washer(f.washer, f.thread.diameter), 1.05 * f.hole);
      d.dent = washer_bearing(w, washer, f.hole, true).value();
      d.crush = crushing_strength(w, washer_area(washer, f.hole)).value();
    }
    d.press = m.bearing;
    bolts_in_wood(m, g, d);
  }
  return d;
}

}  // namespace

board_kernel::Tie tie_of(const LoadPoint& p) {
  board_kernel::Tie tie;
  tie.at = p.at.si_values();
  tie.station = p.station.value();
  if (p.second) tie.second = p.second->value();
  return tie;
}

Model::Model(const Setup& s, const Choice& choice, const Section* section_known)
    : setup(&s), structure(structure_of(s, choice, section_known)), gears(int(s.gear.size())) {
  if (gears > most_gears) throw DomainError("at most 4 gears on a board");
  strengths(*this);
  // Two-way supports first, as the contact problem wants them.
  std::stable_partition(structure.supports.begin(), structure.supports.end(),
                        [](const BoardSupport& x) { return x.support.two_way; });
  const board_kernel::BeamData d = board_kernel::data_of(structure.beam);
  std::vector<double> stations;
  for (const Length& x : structure.stations) stations.push_back(x.value());
  for (const BoardSupport& x : structure.supports) {
    stations.push_back(x.support.at.x().value());
  }
  for (const LoadPoint& p : structure.points) {
    stations.push_back(p.station.value());
    if (p.second) stations.push_back(p.second->value());
  }
  for (double& x : stations) {
    if (!(x >= -1e-9 && x <= d.length + 1e-9)) throw DomainError("a part lies off the board");
    x = std::clamp(x, 0.0, d.length);
  }
  beam = std::make_unique<board_kernel::Beam>(d, stations);

  std::vector<std::pair<int, int>> sides;
  const std::vector<Hole> holes = holes_of(s);
  for (int node = 0; node < beam->nodes(); ++node) {
    for (const int side : {0, 1}) {
      if ((node == 0 && side == 0) || (node == beam->nodes() - 1 && side == 1)) continue;
      sides.emplace_back(node, side);
      Cut c;
      c.x = beam->x(node);
      c.bare = !bare.corners.empty() && !between_seats(s.board(), c.x);
      net_section(*this, holes, c);
      cuts.push_back(c);
    }
  }

  std::vector<Column> pushes;
  int two_way = 0;
  for (const BoardSupport& x : structure.supports) {
    two_way += x.support.two_way ? 1 : 0;
    const Eigen::Vector3d at = x.support.at.si_values();
    pushes.push_back(beam->push(at, std::clamp(at.x(), 0.0, d.length), x.support.push.si_values()));
  }
  // Gaps; own weight along each axis; gears; people.
  const std::vector<Eigen::Vector3d> axes{Eigen::Vector3d::UnitX(), Eigen::Vector3d::UnitY(),
                                          Eigen::Vector3d::UnitZ()};
  std::vector<Column> loads{Column{}};
  for (const Eigen::Vector3d& axis : axes) loads.push_back(beam->own_weight(axis));
  std::vector<Column> watched;
  for (std::size_t i = 0; i < structure.points.size(); ++i) {
    for (Column& c : beam->loads_at(tie_of(structure.points[i]))) {
      if (int(i) < gears) watched.push_back(c);
      loads.push_back(std::move(c));
    }
  }
  for (std::size_t i = 0; i < s.board().legs.size(); ++i) {
    for (const Eigen::Vector3d& way : {Eigen::Vector3d(1, 0, 0), Eigen::Vector3d(0, 1, 0)}) {
      for (const BoardSupport& x : structure.supports) {
        if (x.role != Role::leg || x.part != int(i)) continue;
        watched.push_back(beam->push(x.support.at.si_values(), x.support.at.x().value(), way));
      }
    }
  }
  // Sag of the middle.
  sag_watch = int(watched.size());
  watched.push_back(loads[std::size_t(gear_columns() + 2)]);
  board_kernel::Condensed c = board_kernel::condense(*beam, pushes, loads, sides, watched, 1, axes);
  watched_rigid.resize(Eigen::Index(watched.size()), 6);
  for (std::size_t i = 0; i < watched.size(); ++i) {
    watched_rigid.row(Eigen::Index(i)) = beam->resultant(watched[i]);
  }
  watched_rigid.rightCols(3) /= c.motion_length;
  motion_length = c.motion_length;
  first_watch = int(sides.size()) * cut_forces;
  response_s = std::move(c.response_s);
  response_f = std::move(c.response_f);
  one_way::Problem p;
  p.two_way = two_way;
  p.M = std::move(c.M);
  p.Q = std::move(c.Q);
  p.E = std::move(c.E);
  p.P = std::move(c.P);
  for (std::size_t i = 0; i < structure.supports.size(); ++i) {
    const auto row = Eigen::Index(i);
    const Support& x = structure.supports[i].support;
    p.M(row, row) += 1 / x.stiffness.value();
    if (!x.two_way) p.Q(row, 0) += x.gap.value();
  }
  Q_all = p.Q;
  P_all = p.P;
  p.Q = Q_all.leftCols(gear_columns());
  p.P = P_all.leftCols(gear_columns());
  for_gear = std::make_unique<one_way::Contacts>(std::move(p));

  for (std::size_t i = 0; i < s.board().hold_downs.size(); ++i) {
    HoldDownData h = hold_down_data(*this, s.board().hold_downs[i]);
    for (std::size_t k = 0; k < structure.supports.size(); ++k) {
      const BoardSupport& x = structure.supports[k];
      const HoldDown& own = s.board().hold_downs[i];
      if (x.role == Role::shank && x.along && x.side == own.place.side && holds_along(own)) {
        h.shank_x = int(k);
      }
      if (x.part != int(i) || x.along) continue;
      if (x.role == Role::hold_down) h.row = int(k);
      if (x.role == Role::shank) h.shank_y = int(k);
    }
    hold_downs.push_back(h);
  }
  for (std::size_t i = 0; i < hold_downs.size(); ++i) {
    if (hold_downs[i].shank_x < 0) continue;
    // Those of one end together by stiffness, D^1.5; U-bolts hold nothing along the board.
    const auto weight = [&](std::size_t k) {
      return std::pow(s.board().hold_downs[k].thread.diameter.value(), 1.5);
    };
    double all = 0;
    for (std::size_t k = 0; k < hold_downs.size(); ++k) {
      if (hold_downs[k].shank_x == hold_downs[i].shank_x) all += weight(k);
    }
    hold_downs[i].share_x = weight(i) / all;
  }
  ledges = {ledge_data(*this, Side::port), ledge_data(*this, Side::starboard)};
  for (std::size_t i = 0; i < s.board().legs.size(); ++i) {
    legs.push_back(leg_data(*this, s.board().legs[i], int(i)));
    legs.back().watch = 6 * gears + 2 * int(i);
  }
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    gear.push_back(gear_data(*this, s.gear[i]));
    gear.back().watch = 6 * int(i);
  }
}

}  // namespace thole::board
