#include <thole/board_frame.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <Eigen/Geometry>

#include <thole/error.hpp>

#include "core/board_kernel.hpp"
#include "core/board_motion.hpp"
#include "core/linear_program.hpp"

namespace thole {

using board_kernel::Column;
using board_kernel::Matrix;
using NumberVector = board_kernel::Vector;
using board_kernel::Wrench;

MotionWords describe_motion(const Eigen::Matrix<double, 6, 1>& motion, double length,
                            double width) {
  const Eigen::Vector3d r = motion.tail<3>();
  const Eigen::Vector3d t =
      motion.head<3>() + r.cross(Eigen::Vector3d(0.5 * length, 0, 0));  // of the middle
  // Travel of the farthest points in each way.
  const std::array<double, 6> travel{
      t.x(), t.y(), t.z(), r.x() * 0.5 * width, r.y() * 0.5 * length, r.z() * 0.5 * length};
  std::size_t most = 0;
  for (std::size_t i = 1; i < 6; ++i) {
    if (std::abs(travel[i]) > std::abs(travel[most]) * (1 + 1e-9)) most = i;
  }
  const bool up = travel[most] > 0;
  // A board that lifts at one end or along one edge also moves in its middle: the turn tells more.
  if (most == 2 && std::abs(travel[3]) > 0.5 * std::abs(travel[2])) most = 3;
  if (most == 2 && std::abs(travel[4]) > 0.5 * std::abs(travel[2])) most = 4;
  switch (most) {
    case 0:
      return {std::string("the board can slide along itself to ") + (up ? "starboard" : "port"),
              "a bolt or pin through board and seat at one end"};
    case 1:
      return {std::string("the board can slide ") + (up ? "forward" : "aft") + " off its seats",
              "bolts or pins through board and seat on both sides"};
    case 2:
      return {std::string("the board can ") + (up ? "lift off its seats" : "drop through"),
              up ? "hold-downs on both sides" : "seats under both ends"};
    case 3:
      if (travel[3] > 0) {
        return {"the board can tip aft about its aft edge",
                "hold-downs near its forward edge, or legs under its aft edge"};
      }
      return {"the board can tip forward about its forward edge",
              "hold-downs near its aft edge, or legs under its forward edge"};
    case 4:
      return {
          std::string("the ") + (travel[4] > 0 ? "port" : "starboard") +
              " end of the board can lift",
          std::string("a hold-down on the ") + (travel[4] > 0 ? "port" : "starboard") + " side"};
    default:
      return {"the board can turn level on its seats",
              "bolts or pins through board and seat on both sides"};
  }
}

board_kernel::BeamData board_kernel::data_of(const BeamProperties& beam) {
  const Section& s = beam.section;
  BeamData d;
  d.length = beam.length.value();
  d.E = beam.modulus.value();
  d.G = beam.shear_modulus.value();
  d.area = s.area.value();
  d.i_flat = s.bending_flat.value();
  d.i_edge = s.bending_edge.value();
  d.j = s.torsion.value();
  d.gamma = s.warping.value();
  d.kappa_y = s.shear_area_y;
  d.kappa_z = s.shear_area_z;
  d.yc = s.centroid_y.value();
  d.zc = s.centroid_z.value();
  d.ys = s.shear_centre_y.value();
  d.zs = s.shear_centre_z.value();
  d.warping = beam.warping && !s.closed && d.gamma > 0;
  d.line_load = beam.weight.value();
  return d;
}

struct BoardFrame::Kernel {
  BeamProperties beam;
  std::vector<Support> supports;  // two-way first
  std::vector<int> place;         // index given -> row
  std::vector<LoadPoint> points;
  std::unique_ptr<board_kernel::Beam> body;
  board_kernel::Condensed condensed;
  std::vector<std::pair<int, int>> cuts;
  Matrix watched_rigid;  // watched rows x 6
  std::unique_ptr<one_way::Contacts> contacts;

  [[nodiscard]] NumberVector load_vector(const std::vector<PointLoad>& loads) const {
    NumberVector F = NumberVector::Zero(Eigen::Index(1 + 6 * points.size()));
    for (const PointLoad& l : loads) {
      if (l.point < 0 || std::size_t(l.point) >= points.size()) {
        throw DomainError("a load names a load point that does not exist");
      }
      F.segment<3>(1 + 6 * l.point) += l.force.si_values();
      F.segment<3>(4 + 6 * l.point) += l.moment.si_values();
    }
    if (!F.allFinite()) throw DomainError("a load is not a finite number");
    return F;
  }
};

namespace {

void above_zero(double v, const char* what) {
  if (!(v > 0) || !std::isfinite(v)) throw DomainError(std::string(what) + " must be above zero");
}

}  // namespace

BoardFrame::BoardFrame(const BeamProperties& beam, const std::vector<Support>& supports,
                       const std::vector<LoadPoint>& points,
                       const std::vector<Length>& more_stations)
    : kernel_(std::make_unique<Kernel>()) {
  Kernel& k = *kernel_;
  k.beam = beam;
  k.points = points;
  const Section& s = beam.section;
  above_zero(beam.length.value(), "the length of the board");
  above_zero(beam.modulus.value(), "the modulus of the board");
  above_zero(beam.shear_modulus.value(), "the shear modulus of the board");
  above_zero(s.area.value(), "the area of the section");
  above_zero(s.bending_flat.value(), "the second moment of the section");
  above_zero(s.bending_edge.value(), "the second moment of the section");
  above_zero(s.torsion.value(), "the torsion constant of the section");
  if (std::abs(s.bending_product.value()) >
      1e-9 * std::sqrt(s.bending_flat.value() * s.bending_edge.value())) {
    throw DomainError("a section whose bending up and down is coupled with bending fore and aft");
  }
  const board_kernel::BeamData d = board_kernel::data_of(beam);

  std::vector<double> stations;
  const auto on_beam = [&](Length x, const std::string& what) {
    if (!(x.value() >= -1e-9 && x.value() <= d.length + 1e-9)) {
      throw DomainError(what + " lies off the board");
    }
    stations.push_back(std::clamp(x.value(), 0.0, d.length));
    return stations.back();
  };
  for (const Length& x : more_stations) (void)on_beam(x, "a station");
  for (const bool two_way : {true, false}) {
    for (std::size_t i = 0; i < supports.size(); ++i) {
      if (supports[i].two_way != two_way) continue;
      above_zero(supports[i].stiffness.value(), "the stiffness of a support");
      (void)on_beam(supports[i].at.x(), "the support " + supports[i].name);
      k.supports.push_back(supports[i]);
    }
  }
  k.place.resize(supports.size());
  int two_way_seen = 0;
  int one_way_seen = int(
      std::count_if(supports.begin(), supports.end(), [](const Support& x) { return x.two_way; }));
  const int two_way = one_way_seen;
  for (std::size_t i = 0; i < supports.size(); ++i) {
    k.place[i] = supports[i].two_way ? two_way_seen++ : one_way_seen++;
  }
  if (int(supports.size()) - two_way > one_way::most_contacts) {
    throw DomainError("more than 64 one-way supports");
  }
  for (const LoadPoint& p : points) {
    (void)on_beam(p.station, "the load point " + p.name);
    if (p.second) (void)on_beam(*p.second, "the load point " + p.name);
  }
  k.body = std::make_unique<board_kernel::Beam>(d, stations);
  std::vector<Column> pushes;
  for (const Support& x : k.supports) {
    pushes.push_back(k.body->push(x.at.si_values(), std::clamp(x.at.x().value(), 0.0, d.length),
                                  x.push.si_values()));
  }
  std::vector<Column> loads{k.body->own_weight(beam.down.si_values())};
  std::vector<Column> watched;
  for (const LoadPoint& p : points) {
    board_kernel::Tie tie;
    tie.at = p.at.si_values();
    tie.station = std::clamp(p.station.value(), 0.0, d.length);
    if (p.second) tie.second = std::clamp(p.second->value(), 0.0, d.length);
    for (Column& c : k.body->loads_at(tie)) {
      watched.push_back(c);
      loads.push_back(std::move(c));
    }
  }
  for (int i = 0; i < k.body->nodes(); ++i) {
    k.cuts.emplace_back(i, 0);
    k.cuts.emplace_back(i, 1);
  }
  k.condensed =
      board_kernel::condense(*k.body, pushes, loads, k.cuts, watched, 0, {beam.down.si_values()});
  k.watched_rigid.resize(Eigen::Index(watched.size()), 6);
  for (std::size_t i = 0; i < watched.size(); ++i) {
    k.watched_rigid.row(Eigen::Index(i)) = k.body->resultant(watched[i]);
  }
  k.watched_rigid.rightCols(3) /= k.condensed.motion_length;
  one_way::Problem p;
  p.two_way = two_way;
  p.M = k.condensed.M;
  p.Q = k.condensed.Q;
  p.E = k.condensed.E;
  p.P = k.condensed.P;
  for (std::size_t i = 0; i < k.supports.size(); ++i) {
    const auto row = Eigen::Index(i);
    p.M(row, row) += 1 / k.supports[i].stiffness.value();
    // Column 0 is the weight at multiplier 1 and carries the gaps.
    if (!k.supports[i].two_way) p.Q(row, 0) += k.supports[i].gap.value();
  }
  k.contacts = std::make_unique<one_way::Contacts>(std::move(p));
}

BoardFrame::~BoardFrame() = default;
BoardFrame::BoardFrame(BoardFrame&&) noexcept = default;
BoardFrame& BoardFrame::operator=(BoardFrame&&) noexcept = default;

BeamAnswer BoardFrame::solve(const std::vector<PointLoad>& loads) const {
  const Kernel& k = *kernel_;
  NumberVector F = k.load_vector(loads);
  F(0) = 1;
  one_way::Answer a;
  k.contacts->solve(F, a);
  BeamAnswer out;
  if (a.outcome == one_way::Outcome::mechanism) {
    out.balance = Balance::mechanism;
    Wrench motion = a.motion;
    motion.tail<3>() /= k.condensed.motion_length;
    const MotionWords words =
        describe_motion(motion, k.beam.length.value(), k.beam.section.width.value());
    out.motion = words.motion;
    out.remedy = words.remedy;
    return out;
  }
  for (const int row : k.place) {
    out.supports.push_back(a.s(row) * si::newton);
    out.openings.push_back(a.w(row) * si::metre);
  }
  const NumberVector r = k.condensed.response_f * F + k.condensed.response_s * a.s;
  Eigen::Index row = 0;
  for (const auto& [node, side] : k.cuts) {
    CutForces c;
    c.x = k.body->x(node) * si::metre;
    c.behind = side == 1;
    const auto at = [&](board_kernel::CutForce f) { return r(row + f); };
    c.axial = at(board_kernel::axial) * si::newton;
    c.shear_y = at(board_kernel::shear_y) * si::newton;
    c.shear_z = at(board_kernel::shear_z) * si::newton;
    c.torsion = Moment::from_value(at(board_kernel::torque));
    c.free_torsion = Moment::from_value(at(board_kernel::free_torque));
    c.bending_flat = Moment::from_value(at(board_kernel::bend_flat));
    c.bending_edge = Moment::from_value(at(board_kernel::bend_edge));
    c.bimoment = Bimoment::from_value(at(board_kernel::bimoment));
    out.cuts.push_back(c);
    row += board_kernel::cut_forces;
  }
  const NumberVector motion = r.tail(r.size() - row) + k.watched_rigid * a.a;
  for (std::size_t i = 0; i < k.points.size(); ++i) {
    PointMotion m;
    m.shift = Vector<Length, Board>::from_si(motion.segment<3>(Eigen::Index(6 * i)));
    m.turn = Vector<Angle, Board>::from_si(motion.segment<3>(Eigen::Index(6 * i + 3)));
    out.points.push_back(m);
  }
  return out;
}

BeamLimit BoardFrame::first_capacity(const std::vector<PointLoad>& steady,
                                     const std::vector<PointLoad>& growing,
                                     const std::vector<Force>& capacity) const {
  const Kernel& k = *kernel_;
  if (capacity.size() != k.supports.size()) throw DomainError("one capacity for each support");
  NumberVector F0 = k.load_vector(steady);
  F0(0) = 1;
  const NumberVector F1 = k.load_vector(growing);
  constexpr double infinite = std::numeric_limits<double>::infinity();
  BeamLimit out;
  one_way::Answer a;
  double mu = 0;
  k.contacts->solve(F0, a);
  if (a.outcome == one_way::Outcome::mechanism) {
    throw DomainError("the steady loads alone cannot be held");
  }
  for (std::size_t i = 0; i < capacity.size(); ++i) {
    if (a.s(k.place[i]) > capacity[i].value() * (1 + 1e-12)) {
      throw DomainError("the steady loads alone are beyond the capacity of " +
                        k.supports[std::size_t(k.place[i])].name);
    }
  }
  // From state to state: inside one everything is affine in mu.
  for (long step = 0; step < 100000; ++step) {
    if (a.gains == nullptr)
      throw InternalError("board: a limit from a state at the edge of tipping");
    const one_way::Gains& g = *a.gains;
    const NumberVector s0 = g.s * F0, s1 = g.s * F1, w0 = g.w * F0, w1 = g.w * F1;
    double end = infinite;
    const int n = k.contacts->count();
    const int two_way = k.contacts->problem().two_way;
    for (int i = two_way; i < n; ++i) {
      const bool closed = (g.state & (one_way::State{1} << (i - two_way))) != 0;
      const double v0 = closed ? s0(i) : w0(i);
      const double v1 = closed ? s1(i) : w1(i);
      if (v1 < 0) end = std::min(end, std::max(mu, -v0 / v1));
    }
    double first = infinite;
    int which = -1;
    for (std::size_t i = 0; i < capacity.size(); ++i) {
      const double c = capacity[i].value();
      const double slope = s1(k.place[i]);
      if (!std::isfinite(c) || slope <= 0) continue;
      const double at = (c - s0(k.place[i])) / slope;
      if (at < first) {
        first = at;
        which = int(i);
      }
    }
    if (first <= end) {
      out.multiplier = first;
      out.support = which;
      return out;
    }
    if (end == infinite) {
      out.multiplier = infinite;
      return out;
    }
    // Just behind the change: the next state, found from this one.
    const one_way::State before = g.state;
    double ahead = std::max(std::abs(end), 1e-6) * 1e-10;
    for (;;) {
      k.contacts->solve(F0 + (end + ahead) * F1, a);
      if (a.outcome == one_way::Outcome::mechanism) {
        out.multiplier = end;
        out.tips = true;
        return out;
      }
      if (a.gains != nullptr && a.gains->state != before) break;
      ahead *= 4;
      if (ahead > 1e-3 * std::max(1.0, std::abs(end))) {
        throw InternalError("board: no next contact state");
      }
    }
    mu = end;
  }
  throw InternalError("board: the walk along a load did not end");
}

BeamLimit BoardFrame::balance_limit(const std::vector<PointLoad>& steady,
                                    const std::vector<PointLoad>& growing,
                                    const std::vector<Force>& capacity) const {
  const Kernel& k = *kernel_;
  if (capacity.size() != k.supports.size()) throw DomainError("one capacity for each support");
  NumberVector F0 = k.load_vector(steady);
  F0(0) = 1;
  const NumberVector F1 = k.load_vector(growing);
  // Variables: pushes (two-way springs as two), mu, slacks of finite capacities.
  const int n = k.contacts->count();
  const int two_way = k.contacts->problem().two_way;
  std::vector<double> cap(std::size_t(n), std::numeric_limits<double>::infinity());
  for (std::size_t i = 0; i < capacity.size(); ++i) {
    cap[std::size_t(k.place[i])] = capacity[i].value();
  }
  int limited = 0;
  for (int i = two_way; i < n; ++i) limited += std::isfinite(cap[std::size_t(i)]) ? 1 : 0;
  const int columns = n + two_way + 1 + limited;
  Matrix A = Matrix::Zero(6 + limited, columns);
  NumberVector b = NumberVector::Zero(6 + limited);
  A.block(0, 0, 6, n) = k.condensed.E;
  A.block(0, n, 6, two_way) = -k.condensed.E.leftCols(two_way);
  A.col(n + two_way).head(6) = k.condensed.P * F1;
  b.head(6) = -(k.condensed.P * F0);
  int row = 6;
  for (int i = two_way; i < n; ++i) {
    if (!std::isfinite(cap[std::size_t(i)])) continue;
    A(row, i) = 1;
    A(row, n + two_way + 1 + (row - 6)) = 1;
    b(row) = cap[std::size_t(i)];
    ++row;
  }
  NumberVector c = NumberVector::Zero(columns);
  c(n + two_way) = 1;
  NumberVector x;
  BeamLimit out;
  switch (linear_program::maximise(c, A, b, &x)) {
    case linear_program::Result::infeasible:
      throw DomainError("the steady loads alone cannot be held");
    case linear_program::Result::unbounded:
      out.multiplier = std::numeric_limits<double>::infinity();
      return out;
    case linear_program::Result::optimal:
      out.multiplier = x(n + two_way);
      out.tips = limited == 0;
      return out;
  }
  return out;
}

}  // namespace thole
