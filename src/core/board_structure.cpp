#include "core/board_structure.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include <thole/error.hpp>

namespace thole::board {

using namespace literals;

namespace {

// Wood across the grain against along it, E_T/E_L of softwoods about 0.05 (Wood Handbook Table 5-1,
// from memory).
constexpr double across = 1.0 / 20;
// A metal tube or channel on its seat: stiff, whole seat (judgement).
constexpr double metal_seat = 50e6;  // N/m
// What a leg stands on gives as well (judgement).
constexpr double hull_stiffness = 2e6;  // N/m
constexpr double steel = 193e9;         // Pa, stainless bolts

constexpr int rows_fore_aft = 4;
// Weights of points at both edges and between: a trapezoidal rule.
constexpr std::array<double, rows_fore_aft> row_share{1.0 / 6, 1.0 / 3, 1.0 / 3, 1.0 / 6};

double series(std::initializer_list<double> k) {
  double flexibility = 0;
  for (const double x : k) flexibility += 1 / x;
  return 1 / flexibility;
}

Stress modulus_of(const BoardPiece& b) {
  return b.wood_strength ? b.wood_strength->modulus : b.metal->modulus;
}

// Stiffness of the leg of an angle for a load at c from its root on a length b along it.
double leg_of_angle(const Ledge& ledge, double c, double b) {
  const double t = ledge.leg_thickness.value();
  const double E = ledge.metal ? ledge.metal->modulus.value() : 69e9;
  const double reach = std::max(c, 0.2 * ledge.along.value());
  return 3 * E * b * t * t * t / 12 / (reach * reach * reach);
}

// Load/slip modulus of a bolt between wood and metal, 270 000 D^1.5 lbf/in (NDS 11.3.6).
double load_slip(Length diameter) {
  const double inch = 0.0254;
  return 270000.0 * std::pow(diameter.value() / inch, 1.5) * 4.4482216152605 / inch;
}

}  // namespace

Eigen::Matrix3d axes_from(const CrossBoard& m, Side side) {
  const double out = side == Side::starboard ? 1 : -1;
  const double rise =
      std::asin(std::clamp((m.starboard_higher / m.clear_width).value(), -0.99, 0.99));
  const double bow = radians(m.bow_up);
  // Board axes in (to starboard, forward, up).
  const Eigen::Vector3d x = Eigen::Vector3d(std::cos(rise), 0, std::sin(rise));
  Eigen::Vector3d y(0, std::cos(bow), std::sin(bow));
  y = (y - y.dot(x) * x).normalized();
  const Eigen::Vector3d z = x.cross(y);
  Eigen::Matrix3d rows;
  rows.row(0) = x;
  rows.row(1) = y;
  rows.row(2) = z;
  // (forward, outboard, up) -> (to starboard, forward, up).
  Eigen::Matrix3d swap;
  swap << 0, out, 0,  //
      1, 0, 0,        //
      0, 0, 1;
  return rows * swap;
}

bool holds_along(const HoldDown& h) { return h.kind != HoldDownKind::u_bolt; }

Length from_root(const Ledge& ledge, const BoardPlace& place) {
  return ledge.root_outboard ? Length(ledge.along - place.outboard) : place.outboard;
}

Length stiff_washer(Length outside, Length diameter) { return std::min(outside, 4.0 * diameter); }

Section make_section(const BoardPiece& b) {
  switch (b.form) {
    case BoardForm::plank:
      return rectangle(b.width, b.thickness);
    case BoardForm::plank_with_strip:
      return plank_with_strip(b.width, b.thickness, b.strip_thickness, b.strip_depth,
                              b.strip_forward);
    case BoardForm::rectangular_tube:
      return rectangular_tube(b.width, b.thickness, b.wall);
    case BoardForm::round_tube:
      return round_tube(b.width, b.wall);
    case BoardForm::channel_down:
      return channel(b.width, b.thickness, b.wall, Flanges::down);
    case BoardForm::channel_up:
      return channel(b.width, b.thickness, b.wall, Flanges::up);
  }
  throw InternalError("a form of board without a section");
}

// A search looks at many boards of few sections, and warping takes long series: the last ones are
// kept.
Section section_of(const BoardPiece& b) {
  using Sizes = std::array<double, 7>;
  const Sizes sizes{double(int(b.form)),    b.width.value(),           b.thickness.value(),
                    b.wall.value(),         b.strip_thickness.value(), b.strip_depth.value(),
                    b.strip_forward.value()};
  constexpr std::size_t most_kept = 32;
  thread_local std::vector<std::pair<Sizes, Section>> kept;
  const auto it =
      std::find_if(kept.begin(), kept.end(), [&](const auto& one) { return one.first == sizes; });
  if (it != kept.end()) return it->second;
  if (kept.size() == most_kept) kept.erase(kept.begin());
  kept.emplace_back(sizes, make_section(b));
  return kept.back().second;
}

LineLoad weight_of(const BoardPiece& b, const Section& s) {
  double density = 2700;  // aluminium
  if (b.metal && !b.metal->aluminium) density = 7900;
  // Oven-dry mass on oven-dry volume, with the water of wet or dry service.
  if (b.wood) density = 1000 * b.wood->specific_gravity * (b.wet ? 1.20 : 1.10);
  return LineLoad::from_value(density * s.area.value() * standard_gravity.value());
}

Structure structure_of(const Setup& setup, const Choice& choice, const Section* section) {
  const CrossBoard& m = setup.board();
  const BoardPiece& b = m.board;
  Structure out;
  out.beam.section = section != nullptr ? *section : section_of(b);
  out.beam.modulus = modulus_of(b);
  out.beam.shear_modulus =
      b.wood_strength ? b.wood_strength->shear_modulus : b.metal->modulus / (2 * 1.33);
  out.beam.length = b.length;
  out.beam.weight = weight_of(b, out.beam.section);
  const Eigen::Matrix3d level = axes_from(m, Side::starboard);
  out.beam.down = Direction<Board>(level * Eigen::Vector3d(0, 0, -1));
  out.beam.warping = true;

  const double L = b.length.value();
  const double t = b.thickness.value();
  const double width = b.width.value();
  const double bottom = -0.5 * t;
  const double e_across = across * modulus_of(b).value();
  const auto at = [](double x, double y, double z) {
    return Position<Board>(x * si::metre, y * si::metre, z * si::metre);
  };
  const auto stiff = [&](double k) { return LinearStiffness::from_value(choice.stiffness * k); };
  const Eigen::Vector3d up(0, 0, 1);

  for (const Side side : {Side::port, Side::starboard}) {
    const Ledge& ledge = m.ledge(side);
    const double outward = side == Side::starboard ? 1 : -1;
    const double inner = m.station({side, Length{}, Length{}}).value();
    const double outer = std::clamp(inner + outward * ledge.along.value(), 0.0, L);
    const double along = std::abs(outer - inner);
    // A round tube touches a flat seat along a line.
    const bool line = b.form == BoardForm::round_tube && ledge.kind != LedgeKind::saddle;
    const double seat = line ? 0.002 : std::min(ledge.fore_aft.value(), width);
    const double angle_length = ledge.fore_aft.value();
    for (const bool at_inner : {true, false}) {
      const double x = at_inner ? inner : outer;
      for (int row = 0; row < rows_fore_aft; ++row) {
        BoardSupport s;
        s.role = Role::seat;
        s.side = side;
        const double y = (-0.5 + double(row) / (rows_fore_aft - 1)) * seat;
        const double share = row_share[std::size_t(row)];
        const double area = 0.5 * along * share * seat;
        s.share = area * si::square_metre;
        const bool near_root = ledge.root_outboard != at_inner;
        const double from_root = near_root ? ledge.along.value() - along : ledge.along.value();
        s.from_root = std::max(from_root, 0.0) * si::metre;
        s.from_end = std::max(0.0, 0.5 * angle_length - std::abs(y)) * si::metre;
        double k = b.wood_strength ? e_across * area / t : 0.5 * share * metal_seat;
        if (ledge.kind == LedgeKind::angle) {
          k = series({k, leg_of_angle(ledge, from_root, 0.5 * share * angle_length)});
        }
        s.support.name = std::string(word_for(side)) + " seat, " + (at_inner ? "inner" : "outer") +
                         " edge, " + (row < rows_fore_aft / 2 ? "aft" : "forward");
        s.support.at = at(x, y, bottom);
        s.support.push = Direction<Board>(up);
        s.support.stiffness = stiff(k);
        double gap = choice.tight ? 0.0 : ledge.gap.value();
        if (!ledge.packed) {
          // The higher edge carries first.
          const double rise = std::tan(radians(ledge.flare));
          const double from_high = rise > 0 ? std::abs(x - inner) : std::abs(x - outer);
          gap += std::abs(rise) * from_high;
        }
        s.support.gap = gap * si::metre;
        out.supports.push_back(s);
      }
    }
  }

  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    const HoldDown& h = m.hold_downs[i];
    const Ledge& ledge = m.ledge(h.place.side);
    const double x = m.station(h.place).value();
    const double y = h.place.forward.value();
    const double d = h.thread.diameter.value();
    BoardSupport s;
    s.side = h.place.side;
    s.part = int(i);
    s.support.name = h.name;
    if (h.kind != HoldDownKind::pin) {
      s.role = Role::hold_down;
      const double bolt_area = 0.75 * 0.25 * std::numbers::pi * d * d;
      const double shank = t + h.standoff.value() + ledge.leg_thickness.value() + d;
      const double legs = h.kind == HoldDownKind::u_bolt ? 2 : 1;
      double k = legs * steel * bolt_area / shank;
      if (b.wood_strength) {
        const double ring =
            0.25 * std::numbers::pi *
            std::max(std::pow(stiff_washer(h.washer, h.thread.diameter).value(), 2) -
                         h.hole.value() * h.hole.value(),
                     d * d);
        k = series({k, e_across * ring / t});
      }
      if (ledge.kind == LedgeKind::angle) {
        const double c = from_root(ledge, h.place).value();
        // Effective width about 2 c (cantilever plate under a point load).
        k = series({k, leg_of_angle(ledge, c, 2 * std::max(c, 0.2 * ledge.along.value()))});
        s.from_root = std::max(c, 0.0) * si::metre;
        s.from_end = std::max(0.0, 0.5 * ledge.fore_aft.value() - std::abs(y)) * si::metre;
      }
      s.support.at = at(x, y, -bottom);
      s.support.push = Direction<Board>(-up);
      s.support.stiffness = stiff(k);
      s.support.gap = choice.tight ? Length{} : Length(h.slack + choice.extra_slack * si::metre);
      out.supports.push_back(s);
    }
    // Sideways both ends hold fore and aft.
    BoardSupport q;
    q.role = Role::shank;
    q.side = h.place.side;
    q.part = int(i);
    q.support.two_way = true;
    q.support.at = at(x, y, bottom);
    q.support.stiffness = stiff(load_slip(h.thread.diameter));
    q.support.name = h.name + ", fore and aft";
    q.support.push = Direction<Board>(Eigen::Vector3d(0, 1, 0));
    out.supports.push_back(q);
    out.stations.push_back(x * si::metre);
  }
  // Along the board: holes have clearance, so one end holds, and its bolts act together at their
  // middle. Without play they would feel a couple as well, which crushes the wood by hundredths of
  // a millimetre and is gone: the load is carried without it.
  bool port_bolts = false, starboard_bolts = false;
  for (const HoldDown& h : m.hold_downs) {
    if (holds_along(h)) (h.place.side == Side::port ? port_bolts : starboard_bolts) = true;
  }
  const bool port_holds = port_bolts && (choice.held_at_port || !starboard_bolts);
  const Side holder = port_holds ? Side::port : Side::starboard;
  BoardSupport together;
  double sum = 0, sum_x = 0, sum_y = 0;
  for (const HoldDown& h : m.hold_downs) {
    if (h.place.side != holder || !holds_along(h)) continue;
    const double k = load_slip(h.thread.diameter);
    sum += k;
    sum_x += k * m.station(h.place).value();
    sum_y += k * h.place.forward.value();
  }
  if (sum > 0) {
    together.role = Role::shank;
    together.along = true;
    together.side = holder;
    together.support.name = std::string(word_for(holder)) + " bolts, along the board";
    together.support.two_way = true;
    together.support.at = at(sum_x / sum, sum_y / sum, bottom);
    together.support.push = Direction<Board>(Eigen::Vector3d(1, 0, 0));
    together.support.stiffness = stiff(sum);
    out.supports.push_back(together);
    out.stations.push_back(sum_x / sum * si::metre);
  }

  for (std::size_t i = 0; i < m.legs.size(); ++i) {
    const Leg& leg = m.legs[i];
    const double outward = leg.place.side == Side::starboard ? 1 : -1;
    const double dx = outward * leg.foot_outboard.value();
    const double dy = leg.foot_forward.value();
    const double l = leg.length.value();
    const double drop = std::sqrt(std::max(l * l - dx * dx - dy * dy, 0.01 * l * l));
    const double area =
        leg.wall ? 2 * leg.wall->value() *
                       (leg.fore_aft.value() + leg.athwart.value() - 2 * leg.wall->value())
                 : (leg.fore_aft * leg.athwart).value();
    const double E =
        leg.wood_strength ? leg.wood_strength->modulus.value() : leg.metal->modulus.value();
    double k = series({E * area / l, hull_stiffness});
    if (b.wood_strength) {
      k = series({k, e_across * (leg.fore_aft * leg.athwart).value() / t});
    }
    BoardSupport s;
    s.role = Role::leg;
    s.side = leg.place.side;
    s.part = int(i);
    s.support.name = leg.name;
    s.support.at = at(m.station(leg.place).value(), leg.place.forward.value(), bottom);
    s.support.push = Direction<Board>(Eigen::Vector3d(-dx, -dy, drop));
    s.support.stiffness = stiff(k);
    s.support.gap = choice.tight ? Length{} : leg.gap;
    out.supports.push_back(s);
  }

  // Gears: their foot spreads the load over its two outermost bolt rows along the board.
  for (const Gear& g : setup.gear) {
    LoadPoint p;
    p.name = g.name;
    const double x = m.station(g.place).value();
    p.at = at(x, g.place.forward.value(), -bottom);
    double reach = 0;
    if (g.foot) {
      for (const PlanPoint& hole : g.foot->holes) reach = std::max(reach, std::abs(hole.y.value()));
      for (const PlanPoint& hole : g.foot->holes) {
        const double outward = g.place.side == Side::starboard ? 1 : -1;
        out.stations.push_back(std::clamp(x + outward * hole.y.value(), 0.0, L) * si::metre);
      }
    }
    const double a = x - reach;
    const double z = x + reach;
    if (reach > 1e-3 && a >= 0 && z <= L) {
      p.station = a * si::metre;
      p.second = z * si::metre;
    } else {
      p.station = std::clamp(x, 0.0, L) * si::metre;
    }
    out.points.push_back(p);
  }
  const double hand = std::min(0.05, 0.25 * L);
  for (const double x : {0.5 * L, hand, L - hand, 0.25 * L, 0.75 * L}) {
    LoadPoint p;
    p.name = "board";
    p.at = at(x, 0, -bottom);
    p.station = x * si::metre;
    out.points.push_back(p);
  }
  return out;
}

}  // namespace thole::board
