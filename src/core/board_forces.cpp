#include "core/board_forces.hpp"

#include <algorithm>
#include <cmath>

#include <Eigen/Geometry>

#include <thole/fastener_group.hpp>

#include "core/gear_tip.hpp"

namespace thole::board {

namespace {

using board_kernel::Column;
using Eigen::Vector3d;

// Forces of a mount that cannot hold at all: the checks say so, there is no number.
constexpr double no_number = 1e100;

Length metres(double v) { return Length::from_value(v); }
Force newtons(double v) { return Force::from_value(v); }

Loading loading_of(const Engine& engine, const Setup& s, const LoadCase& c, const Hardest& h) {
  const Trial& t = h.trial;
  Loading out;
  out.pull = newtons(h.pull);
  if (c.path == LoadPath::ride) {
    out.pull = Force{};
    return out;
  }
  if (h.pull > 0) out.way = t.way;
  if (t.person >= 0) {
    const Model& m = engine.common();
    const Vector3d at = m.structure.points[std::size_t(m.gears + t.person)].at.si_values();
    out.person_at = Position<Board>::from_si(at + Vector3d(0, t.y, 0));
    return out;
  }
  const Gear& gear = s.gear[std::size_t(t.gear)];
  out.gear = gear.name;
  if (const auto boom = parts::boom_at(gear, std::size_t(t.boom), false)) {
    out.boom = boom->azimuth;
    out.raised = boom->raised;
  }
  return out;
}

// Of a load vector in all columns, what acts at one of the load points.
AppliedLoad<Board> at_point(const Model& m, const Vector& all, std::size_t point,
                            const std::string& name) {
  const Eigen::Index first = 4 + 6 * Eigen::Index(point);
  return {name, m.structure.points[point].at,
          ForceVector<Board>::from_si(Vector3d(all.segment<3>(first))),
          MomentVector<Board>::from_si(Vector3d(all.segment<3>(first + 3)))};
}

bool is_nothing(const AppliedLoad<Board>& l) {
  return l.force.si_values().isZero(0) && l.moment.si_values().isZero(0);
}

std::vector<AppliedLoad<Board>> loads_of(const Engine& engine, const Model& m, const Setup& s,
                                         const LoadCase& c, const Trial& t, const Vector& F) {
  const board_kernel::BeamData& d = m.beam->data();
  const Vector all = engine.in_all_columns(t, F);
  Vector heavy = Vector::Zero(all.size());
  const Vector weights = engine.weights(c, t);
  heavy.head(weights.size()) = weights;
  const Vector pulls = all - heavy;
  std::vector<AppliedLoad<Board>> out;
  out.push_back({"weight of the board", Position<Board>::from_si({0.5 * d.length, d.yc, d.zc}),
                 ForceVector<Board>::from_si(d.length * d.line_load * Vector3d(all.segment<3>(1))),
                 MomentVector<Board>{}});
  for (std::size_t g = 0; g < s.gear.size(); ++g) {
    for (const auto& load : {at_point(m, heavy, g, "weight of " + s.gear[g].name),
                             at_point(m, pulls, g, "pull on " + s.gear[g].name)}) {
      if (!is_nothing(load)) out.push_back(load);
    }
  }
  if (t.person < 0) return out;
  AppliedLoad<Board> person = at_point(m, all, std::size_t(m.gears + t.person), "person");
  // Where they push: no moment is left about that.
  person.at = person.at + thole::Vector<Length, Board>::from_si({0, t.y, 0});
  person.moment = MomentVector<Board>{};
  out.push_back(person);
  return out;
}

// One ledge: its points together, at the middle of what they press.
SupportForce seat_of(const Model& m, const Vector& s, Side side) {
  SupportForce out;
  out.name = std::string(word_for(side)) + " ledge";
  double force = 0, count = 0;
  Vector3d pressed = Vector3d::Zero();
  Vector3d middle = Vector3d::Zero();
  for (std::size_t i = 0; i < m.structure.supports.size(); ++i) {
    const BoardSupport& b = m.structure.supports[i];
    if (b.role != Role::seat || b.side != side) continue;
    const double f = s(Eigen::Index(i));
    force += f;
    pressed += f * b.support.at.si_values();
    middle += b.support.at.si_values();
    count += 1;
  }
  out.open = !(force > 0);
  out.at =
      Position<Board>::from_si(out.open ? Vector3d(middle / count) : Vector3d(pressed / force));
  out.on_board = ForceVector<Board>::from_si(Vector3d(0, 0, force));
  return out;
}

std::vector<SupportForce> supports_of(const Model& m, const Vector& s) {
  std::vector<SupportForce> out{seat_of(m, s, Side::port), seat_of(m, s, Side::starboard)};
  for (const Role role : {Role::hold_down, Role::shank, Role::leg}) {
    for (std::size_t i = 0; i < m.structure.supports.size(); ++i) {
      const BoardSupport& b = m.structure.supports[i];
      if (b.role != role) continue;
      const double f = s(Eigen::Index(i));
      out.push_back({b.support.name, b.support.at,
                     ForceVector<Board>::from_si(f * b.support.push.si_values()),
                     !b.support.two_way && !(f > 0)});
    }
  }
  return out;
}

// Bolts of a gear through the board, on the bed on which one of them is pulled hardest, as the
// checks take it.
void add_foot(const Gear& g, const BoardActions& a, std::size_t gear,
              std::vector<FastenerForce>& out) {
  const GearData& d = a.model->gear[gear];
  if (d.contact.empty()) return;
  const auto hardest_of = [](const ContactResult& r) {
    return *std::max_element(r.tension.begin(), r.tension.begin() + r.count);
  };
  const ContactResult* worst = nullptr;
  for (std::size_t bed = 0; bed < d.contact.size(); ++bed) {
    const ContactResult& r = a.foot[gear][bed];
    if (r.balance == Balance::mechanism) return;
    if (worst == nullptr || hardest_of(r) > hardest_of(*worst)) worst = &r;
  }
  const auto& w = a.gear[gear];
  const bool one_point = std::all_of(d.holes.begin(), d.holes.end(),
                                     [&](const PlanPoint& p) { return p == d.holes.front(); });
  const double twist =
      one_point ? (d.holes.front().x * w(1) - d.holes.front().y * w(0)).value() : w(5);
  const std::vector<PlaneForce> shear =
      share_in_plane(d.holes, newtons(w(0)), newtons(w(1)), Moment::from_value(twist));
  for (std::size_t i = 0; i < d.holes.size(); ++i) {
    out.push_back({g.name, int(i) + 1, d.holes[i], worst->tension[i], shear[i].x, shear[i].y});
  }
}

// The checks know no more of a ledge's own bolts than what none of them exceeds.
void add_ledge_bolts(const BoardActions& a, std::size_t side, std::vector<FastenerForce>& out) {
  const LedgeData& l = a.model->ledges[side];
  if (l.holes.empty() || !(a.ledge_tension[side] < no_number)) return;
  double aside = 0;
  for (const int i : l.hold_downs) {
    const int row = a.model->hold_downs[std::size_t(i)].shank_y;
    if (row >= 0) aside += std::abs(a.support[row]) / double(l.holes.size());
  }
  const double shear = a.ledge_shear[side];
  const double down = std::sqrt(std::max(0.0, shear * shear - aside * aside));
  for (std::size_t i = 0; i < l.holes.size(); ++i) {
    FastenerForce f;
    f.part = std::string(word_for(side == 0 ? Side::port : Side::starboard)) + " ledge";
    f.number = int(i) + 1;
    f.at = {l.holes[i].x, metres(l.below)};
    f.tension = newtons(a.ledge_tension[side]);
    f.forward = newtons(aside);
    f.outboard = newtons(down);
    f.at_most = true;
    out.push_back(f);
  }
}

// How a board lies: the freedoms of its nodes, and the bases of the gears.
struct Pose {
  Vector nodes;
  std::vector<Eigen::Matrix<double, 6, 1>> bases;
};

// After `act`. All that pushes on the beam as one column: its motion is linear in that.
Pose pose_of(Engine& engine, const Model& m, const Trial& t, const Vector& F) {
  const board_kernel::Beam& beam = *m.beam;
  const one_way::Answer& answer = engine.answer();
  const Vector all = engine.in_all_columns(t, F);
  Column acting = beam.own_weight(all.segment<3>(1));
  const auto add = [&](Column column, double size) {
    for (board_kernel::NodeWrench& w : column) {
      w.wrench *= size;
      acting.push_back(w);
    }
  };
  for (std::size_t i = 0; i < m.structure.supports.size(); ++i) {
    const Support& x = m.structure.supports[i].support;
    const Vector3d at = x.at.si_values();
    add(beam.push(at, std::clamp(at.x(), 0.0, beam.data().length), x.push.si_values()),
        answer.s(Eigen::Index(i)));
  }
  for (std::size_t i = 0; i < m.structure.points.size(); ++i) {
    const auto columns = beam.loads_at(tie_of(m.structure.points[i]));
    for (std::size_t k = 0; k < columns.size(); ++k) {
      add(columns[k], all(4 + 6 * Eigen::Index(i) + Eigen::Index(k)));
    }
  }
  board_kernel::Wrench rigid = answer.a;
  rigid.tail<3>() /= m.motion_length;
  Pose out;
  out.nodes = beam.motion_under(acting) + beam.rigid(rigid);
  for (int g = 0; g < m.gears; ++g) out.bases.push_back(engine.base_motion(g));
  return out;
}

CutForce cut_at(const Model& m, double x, const double* f, const Vector* moved) {
  CutForce c;
  c.from_port = metres(x);
  if (f != nullptr) {
    c.along = newtons(f[board_kernel::axial]);
    c.fore_aft = newtons(f[board_kernel::shear_y]);
    c.up_down = newtons(f[board_kernel::shear_z]);
    c.twist = Moment::from_value(f[board_kernel::torque]);
    c.flat = Moment::from_value(f[board_kernel::bend_flat]);
    c.edge = Moment::from_value(f[board_kernel::bend_edge]);
    c.warping = Bimoment::from_value(f[board_kernel::bimoment]);
  }
  if (moved == nullptr) return c;
  // Sideways motion belongs to the shear centre; the middle of the section turns about it.
  const board_kernel::BeamData& d = m.beam->data();
  const Eigen::Index at = 7 * m.beam->node_at(x);
  const double turn = (*moved)(at + 3);
  c.shift = metres((*moved)(at + 1) + turn * d.zs);
  c.lift = metres((*moved)(at + 2) - turn * d.ys);
  c.turn = Angle::from_value(turn);
  return c;
}

// `forces`: of every cut of the model. Beyond the ends there is nothing.
std::vector<CutForce> cuts_of(const Model& m, const std::vector<double>& forces,
                              const Vector* moved) {
  std::vector<CutForce> out{cut_at(m, 0, nullptr, moved)};
  for (std::size_t i = 0; i < m.cuts.size(); ++i) {
    out.push_back(cut_at(m, m.cuts[i].x, forces.data() + i * board_kernel::cut_forces, moved));
  }
  out.push_back(cut_at(m, m.beam->data().length, nullptr, moved));
  return out;
}

std::vector<GearMotion> motions_of(const Engine& engine, const Setup& s, const LoadCase& c,
                                   const Trial& t, const Pose& loaded, const Pose& rest) {
  std::vector<GearMotion> out;
  for (std::size_t g = 0; g < s.gear.size(); ++g) {
    const Eigen::Matrix3d& to_board = engine.common().gear[g].to_board;
    const Eigen::Matrix<double, 6, 1> m = loaded.bases[g] - rest.bases[g];
    const Vector3d turn = m.tail<3>();
    const bool stowed = c.path == LoadPath::ride && !c.ball_on_tip;
    const auto boom = std::size_t(engine.boom_of(c, t, int(g)));
    const Vector3d tip = to_board * parts::tip_of(s.gear[g], boom, stowed).si_values();
    const auto of_boat = [&](const Vector3d& v) {
      return Position<Boat>::from_si(to_board.transpose() * v);
    };
    out.push_back({s.gear[g].name, of_boat(m.head<3>()), of_boat(m.head<3>() + turn.cross(tip)),
                   Angle::from_value(turn.norm())});
  }
  return out;
}

}  // namespace

std::optional<CaseForces> forces_of(Engine& engine, const Setup& s, const LoadCase& c,
                                    const Hardest& h) {
  Trial t = h.trial;
  // Beside a person with all lines slack the booms lie as in `Engine::load`.
  if (t.person >= 0 && t.alone) t.boom = t.others = 0;
  const Vector F = engine.load(c, t, h.pull);
  if (engine.act(h.variant, t, F).mechanism) return std::nullopt;
  const Model& m = engine.model(h.variant, t.near);
  const BoardActions& a = engine.actions();
  CaseForces out;
  out.loading = loading_of(engine, s, c, h);
  out.on_board = loads_of(engine, m, s, c, t, F);
  out.supports = supports_of(m, engine.answer().s);
  for (const std::size_t side : {0U, 1U}) add_ledge_bolts(a, side, out.fasteners);
  const std::vector<double> cuts(a.cut, a.cut + m.cuts.size() * board_kernel::cut_forces);
  const Pose loaded = pose_of(engine, m, t, F);
  if (t.person < 0) {
    // Every gear, those that only stand or tow meanwhile as well.
    Trial all = t;
    all.gear = -1;
    engine.stand(F, all);
    for (std::size_t g = 0; g < s.gear.size(); ++g) add_foot(s.gear[g], a, g, out.fasteners);
  }
  Trial rest = t;
  rest.person = -1;
  const Vector weights = engine.at_rest(c, t);
  if (engine.act(h.variant, rest, weights).mechanism) {
    out.cuts = cuts_of(m, cuts, nullptr);
    return out;
  }
  const Pose still = pose_of(engine, m, rest, weights);
  const Vector moved = loaded.nodes - still.nodes;
  out.cuts = cuts_of(m, cuts, &moved);
  out.motions = motions_of(engine, s, c, t, loaded, still);
  return out;
}

}  // namespace thole::board
