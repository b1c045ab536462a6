// One-way contacts on random problems from a fixed seed. The number of cases is 20 000 (1000
// without NDEBUG), or what the environment variable THOLE_CONTACT_CASES says: the long run has
// 1000000.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include <Eigen/Dense>

#include <thole/error.hpp>

#include "core/one_way.hpp"

using namespace thole::one_way;

namespace {

/// Numbers that are the same on every platform: the top 53 bits of the engine.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (double(engine_() >> 11U) * 0x1p-53);
  }
  int below(int n) { return std::min(int(between(0, n)), n - 1); }
  bool one_in(int n) { return below(n) == 0; }

 private:
  std::mt19937_64 engine_;
};

long cases() {
  const char* const text = std::getenv("THOLE_CONTACT_CASES");
#ifdef NDEBUG
  constexpr long usual = 20000;
#else
  constexpr long usual = 1000;
#endif
  return text != nullptr ? std::max(1L, std::atol(text)) : usual;
}

Eigen::Vector3d direction(Random& random) {
  Eigen::Vector3d d;
  do {
    d = {random.between(-1, 1), random.between(-1, 1), random.between(-1, 1)};
  } while (d.norm() < 0.1);
  return d.normalized();
}

struct Case {
  Problem problem;
  Vector F;
};

/// Loads: 0 to 5 the load on each rigid motion, with openings of its own; 6 gaps; 7 a share of a
/// contact's own push, which puts a load exactly on the edge of what can be balanced.
constexpr int load_count = 8;

Case random_case(Random& random) {
  const int n = 2 + random.below(23);
  Problem p;
  p.two_way = random.one_in(3) ? 0 : random.below(std::min(n, 7));
  p.E = Matrix::Zero(6, n);
  const int shape = random.below(6);
  const bool same = random.one_in(40);           // all contacts identical
  const bool copies = random.one_in(4);          // some are
  const bool wild_stiffness = random.one_in(3);  // a ratio up to 10^6
  const double thin = std::pow(10, -random.between(3, 7));
  const Eigen::Vector3d tilt_x = direction(random);
  const Eigen::Vector3d tilt_y = tilt_x.cross(direction(random)).normalized();
  const Eigen::Vector3d tilt_z = tilt_x.cross(tilt_y);
  Matrix B(n, 10);
  Vector own(n);
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < 10; ++j)
      B(i, j) = random.between(-1, 1) * std::pow(10, random.between(-3, -1));
    own(i) = 1e-7 * std::pow(10, wild_stiffness ? random.between(-4, 2) : random.between(-1, 1));
    if (i > 0 && (same || (copies && random.one_in(2)))) {
      const int of = same ? 0 : random.below(i);
      p.E.col(i) = p.E.col(of);
      B.row(i) = B.row(of);
      continue;
    }
    Eigen::Vector3d r(random.between(-1, 1), random.between(-0.2, 0.2),
                      random.between(-0.05, 0.05));
    Eigen::Vector3d d(0, 0, 1);
    switch (shape) {
      case 0:
        d = direction(random);
        break;  // any direction
      case 1:
        r.z() = 0;
        break;  // a plate on a plate
      case 2:
        d.z() = random.one_in(3) ? -1 : 1;
        break;  // from both sides
      case 3:
        r.y() = thin * random.between(-1, 1);
        break;  // almost on a line
      case 4:   // the same, turned
        r = tilt_x * r.x() + tilt_y * (thin * random.between(-1, 1));
        d = tilt_z;
        break;
      default:  // on a grid: many ties
        r = {0.25 * random.below(4), 0.25 * random.below(3), 0};
        d.z() = random.one_in(8) ? -1 : 1;
    }
    if (i < p.two_way) d = shape == 0 ? direction(random) : Eigen::Vector3d(i % 2, 1 - i % 2, 0);
    p.E.col(i) << d, r.cross(d);
  }
  p.M = 1e-6 * B * B.transpose();
  p.M.diagonal() += own;
  p.Q = Matrix::Zero(n, load_count);
  p.P = Matrix::Zero(6, load_count);
  p.P.leftCols(6).setIdentity();
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < 6; ++j) p.Q(i, j) = 1e-5 * random.between(-1, 1);
    if (random.one_in(2)) p.Q(i, 6) = 1e-3 * random.between(-0.3, 1);
  }
  for (int k = 1 + random.below(3); k > 0; --k) {
    p.P.col(7) -= p.E.col(random.below(n)) * (random.one_in(2) ? 1.0 : random.between(0, 1));
  }
  Case c;
  c.F = Vector::Zero(load_count);
  const int kind = random.below(8);
  if (kind <= 2) {
    for (int j = 0; j < 6; ++j) c.F(j) = random.between(-100, 100);
  }
  if (kind == 3) c.F.head(6) << 0, 0, -50, random.between(-3, 3), random.between(-20, 20), 0;
  if (kind == 4 || kind == 5) c.F(7) = random.between(0, 300);
  if (kind == 6) {  // within the cone
    for (int i = 0; i < n; ++i)
      c.F.head(6) -= p.E.col(i) * random.between(i < p.two_way ? -50 : 0, 50);
  }
  if (!random.one_in(4)) c.F(6) = random.between(0, 1);
  if (random.one_in(50)) c.F.setZero();
  c.problem = std::move(p);
  return c;
}

using Long = long double;
using LongVector = Eigen::Matrix<Long, Eigen::Dynamic, 1>;
using LongMatrix = Eigen::Matrix<Long, Eigen::Dynamic, Eigen::Dynamic>;

/// Largest violation of balance, relative to the largest of load and contact force terms, and of
/// complementarity, relative to the largest force and opening.
double violation(const Problem& p, const Vector& F, const Answer& answer) {
  const int n = int(p.M.rows());
  const LongVector f = F.cast<Long>();
  const LongVector s = answer.s.cast<Long>();
  const LongVector w = p.M.cast<Long>() * s + p.Q.cast<Long>() * f +
                       p.E.transpose().cast<Long>() * answer.a.cast<Long>();
  const LongVector load = p.P.cast<Long>() * f;
  Long size = load.norm();
  Long force = 0;
  Long opening = 0;
  Long terms = 0;
  Long stiffest = 0;
  for (int i = 0; i < n; ++i) {
    const Long unit = std::sqrt(Long(p.M(i, i)));
    size = std::max(size, std::abs(s(i)) * Long(p.E.col(i).norm()));
    force = std::max(force, std::abs(s(i)) * unit);
    opening = std::max(opening, std::abs(w(i)) / unit);
    terms = std::max(terms, Long(p.E.col(i).cwiseAbs().dot(answer.a.cwiseAbs())) / unit);
    stiffest = std::max(stiffest, Long(p.E.col(i).norm()) / unit);
  }
  // Openings are differences of these terms, and forces feel their rounding (without load they are
  // nothing else): with 1e-6 of them, 1e-9 asks for 15 digits.
  terms = std::max({terms, opening, force});
  opening = std::max({opening, force, 1e-6L * terms});
  force = std::max(force, 1e-6L * terms);
  size = std::max(size, 1e-6L * terms * stiffest);
  Long worst = size > 0 ? Long((p.E.cast<Long>() * s + load).norm()) / size : 0.0L;
  for (int i = 0; i < n; ++i) {
    const Long unit = std::sqrt(Long(p.M(i, i)));
    const Long si = force > 0 ? s(i) * unit / force : 0.0L;
    const Long wi = opening > 0 ? w(i) / unit / opening : 0.0L;
    if (i < p.two_way) {
      worst = std::max(worst, std::abs(wi));
    } else {
      worst = std::max({worst, -si, -wi, std::min(std::abs(si), std::abs(wi))});
    }
  }
  return std::isfinite(worst) ? double(worst) : std::numeric_limits<double>::infinity();
}

/// What remains of the load that no pushes balance, relative to the load: first phase of the
/// simplex method with Bland's rule, which needs no other means against cycles.
double unbalanced_part(const Problem& p, const Vector& F) {
  const int n = int(p.M.rows());
  const int rows = int(p.E.rows());
  LongMatrix A = p.E.cast<Long>();
  LongVector b = -(p.P.cast<Long>() * F.cast<Long>());
  for (int k = 0; k < rows; ++k) {
    const Long length = A.row(k).norm();
    if (length > 1e-9L) {
      A.row(k) /= length;
      b(k) /= length;
    }
  }
  const Long size = b.norm();
  if (size == 0) return 0;
  b /= size;
  const int columns = n + p.two_way;
  LongMatrix T = LongMatrix::Zero(rows, columns + 1);
  for (int i = 0; i < n; ++i) {
    const Long length = A.col(i).norm();
    T.col(i) = length > 0 ? LongVector(A.col(i) / length) : LongVector(A.col(i));
    if (i < p.two_way) T.col(n + i) = -T.col(i);
  }
  const LongMatrix first = T.leftCols(columns);
  T.col(columns) = b;
  for (int k = 0; k < rows; ++k) {
    if (T(k, columns) < 0) T.row(k) *= -1;
  }
  std::vector<int> basis(std::size_t(rows), -1);  // -1: artificial
  for (int round = 0; round < 100000; ++round) {
    // Price of a column: what it takes off the sum of the artificials.
    int enter = -1;
    for (int j = 0; j < columns && enter < 0; ++j) {
      Long price = 0;
      for (int k = 0; k < rows; ++k) {
        if (basis[std::size_t(k)] < 0) price += T(k, j);
      }
      if (price > 1e-13L) enter = j;
    }
    int leave = -1;
    for (int k = 0; k < rows && enter >= 0; ++k) {
      if (T(k, enter) <= 1e-14L) continue;
      if (leave < 0) {
        leave = k;
        continue;
      }
      const Long mine = T(k, columns) * T(leave, enter);
      const Long best = T(leave, columns) * T(k, enter);
      if (mine < best || (mine == best && basis[std::size_t(k)] < basis[std::size_t(leave)])) {
        leave = k;
      }
    }
    if (leave < 0) break;
    T.row(leave) /= Long(T(leave, enter));
    for (int k = 0; k < rows; ++k) {
      if (k != leave) T.row(k) -= Long(T(k, enter)) * T.row(leave);
    }
    for (int k = 0; k < rows; ++k) T(k, columns) = std::max(T(k, columns), 0.0L);
    basis[std::size_t(leave)] = enter;
  }
  // The pushes found are put into the equations again: long tableaus gather rounding.
  Long rest = 0;
  for (int k = 0; k < rows; ++k) {
    const int j = basis[std::size_t(k)];
    if (j < 0) {
      rest += T(k, columns);
    } else {
      b -= T(k, columns) * first.col(j);
    }
  }
  return double(std::max(rest, b.norm()));
}

/// Does the motion press no contact and hold the two-way springs still?
bool presses_nothing(const Problem& p, const Vector& motion) {
  if (motion.size() != p.E.rows() || !motion.allFinite()) return false;
  for (int i = 0; i < int(p.M.rows()); ++i) {
    const double opens = p.E.col(i).dot(motion);
    const double rounding = 1e-9 * p.E.col(i).norm() * motion.norm();
    if (i < p.two_way ? std::abs(opens) > rounding : opens < -rounding) return false;
  }
  return true;
}

/// Does the motion prove that the loads cannot be balanced? It presses no contact, holds the
/// two-way springs still, and the load does work on it.
bool proves_mechanism(const Problem& p, const Vector& F, const Vector& motion) {
  if (!presses_nothing(p, motion)) return false;
  const Vector load = p.P * F;
  return motion.dot(load) > 1e-10 * motion.norm() * load.norm();
}

/// Is a load that the solver calls a mechanism and the simplex method balances neutral? Both
/// measure the distance to the edge of what can be balanced in their own ways and with their own
/// rounding, so that a load within about 1e-9 of the edge may be called either. Neutral means: the
/// motion presses no contact; moved by 1e-8 of its size outward along that motion, the load is one
/// that the simplex method balances no more; moved inward as far, the solver balances it. A solver
/// that calls a load a mechanism which lies inside by more than that fails the second, a simplex
/// method that balances one which lies outside by more fails the third: each moved load is judged
/// by the method that had said otherwise.
bool is_neutral(const Problem& p, const Vector& F, const Vector& motion) {
  if (!presses_nothing(p, motion)) return false;
  // The motion and the load in rows of equal length, as both methods measure.
  Vector length = p.E.rowwise().norm();
  for (double& x : length) x = x > 1e-9 ? x : 1.0;
  const Vector load = (p.P * F).cwiseQuotient(length);
  const Vector way = motion.cwiseProduct(length).normalized();
  const Vector step = 1e-8 * load.norm() * way.cwiseProduct(length);
  Vector outward = F;
  Vector inward = F;
  outward.head(6) += step;  // the first six columns of P are those of the identity
  inward.head(6) -= step;
  Contacts contacts(p);
  Answer answer;
  contacts.solve(inward, answer);
  return answer.outcome == Outcome::solved && violation(p, inward, answer) <= 1e-9 &&
         unbalanced_part(p, outward) > 1e-10;
}

/// Difference of the forces of two answers, relative to the largest; see above for the rounding.
double difference(const Problem& p, const Answer& x, const Answer& y) {
  double most = 0;
  double differs = 0;
  for (int i = 0; i < int(p.M.rows()); ++i) {
    const double unit = std::sqrt(p.M(i, i));
    differs = std::max(differs, std::abs(x.s(i) - y.s(i)) * unit);
    for (const Answer* const z : {&x, &y}) {
      most = std::max({most, std::abs(z->s(i)) * unit, 1e-6 * std::abs(z->w(i)) / unit,
                       1e-6 * p.E.col(i).cwiseAbs().dot(z->a.cwiseAbs()) / unit});
    }
  }
  return most > 0 ? differs / most : differs;
}

/// n contacts along one axis, each resisting that one motion; load 0 pushes along it, load 1 is all
/// gaps.
Problem in_line(int n, int two_way) {
  Problem p;
  p.two_way = two_way;
  p.M = Matrix::Identity(n, n) * 1e-6;
  p.E = Matrix::Ones(1, n);
  p.P = Matrix::Zero(1, 2);
  p.P(0, 0) = -1;
  p.Q = Matrix::Zero(n, 2);
  for (int i = 0; i < n; ++i) p.Q(i, 1) = 1e-4 * (i + 1);
  return p;
}

Vector loads(double push, double gaps) {
  Vector F(2);
  F << push, gaps;
  return F;
}

}  // namespace

TEST_SUITE("property") {
  TEST_CASE("contact: every random problem is balanced or proved a mechanism") {
    Random random(20240611);
    const long count = cases();
    long wrong = 0;
    long mechanisms = 0;
    long pivoted = 0;
    long without_gains = 0;
    long neutral = 0;
    double worst = 0;
    for (long k = 0; k < count; ++k) {
      const Case c = random_case(random);
      std::string what;
      try {
        Contacts contacts(c.problem);
        Answer answer;
        contacts.solve(c.F, answer);
        if (answer.outcome == Outcome::mechanism) {
          ++mechanisms;
          if (!proves_mechanism(c.problem, c.F, answer.motion)) what = "motion proves nothing";
          const double rest = unbalanced_part(c.problem, c.F);
          if (!(rest > 1e-10)) {
            what += " simplex balances it but for " + std::to_string(rest * 1e9);
            if (is_neutral(c.problem, c.F, answer.motion)) {
              ++neutral;
              what.clear();
            }
          }
        } else {
          const double error = violation(c.problem, c.F, answer);
          worst = std::max(worst, error);
          if (!(error <= 1e-9)) what = "violation of 1e-9 times " + std::to_string(error * 1e9);
          pivoted += answer.by_pivoting ? 1 : 0;
          without_gains += answer.gains == nullptr ? 1 : 0;
        }
      } catch (const std::exception& e) {
        what = e.what();
      }
      if (!what.empty() && ++wrong <= 10) MESSAGE("case ", k, ": ", what);
    }
    MESSAGE(count, " cases, ", mechanisms, " mechanisms, ", pivoted, " by the second way, ",
            without_gains, " without gains, ", neutral, " neutral, largest violation ", worst);
    CHECK(wrong == 0);
    CHECK(neutral <= 1 + count / 200000);
    CHECK(mechanisms > count / 10);
    CHECK(mechanisms < count - count / 10);
    CHECK(pivoted > 0);
  }

  TEST_CASE("contact: the answer does not depend on the loads solved before") {
    Random random(77);
    const long count = std::max(300L, cases() / 10);
    long wrong = 0;
    double worst = 0;
    for (long k = 0; k < count; ++k) {
      const Case c = random_case(random);
      Contacts used(c.problem);
      Answer before;
      for (int j = 0; j < 3; ++j) {
        Vector F = Vector::Zero(load_count);
        for (int i = 0; i < load_count; ++i) F(i) = random.between(-100, 100);
        F(6) = random.between(0, 1);
        used.solve(F, before);
      }
      used.solve(c.F, before);
      Contacts fresh(c.problem);
      Answer first;
      fresh.solve(c.F, first);
      Answer second;
      fresh.solve_by_pivoting(c.F, second);
      bool good = before.outcome == first.outcome && second.outcome == first.outcome;
      if (good && first.outcome == Outcome::solved) {
        const double d =
            std::max(difference(c.problem, before, first), difference(c.problem, second, first));
        worst = std::max(worst, d);
        good = d <= 1e-9;
        if (!good && wrong < 10) MESSAGE("case ", k, " differs by ", d);
      } else if (!good && wrong < 10) {
        MESSAGE("case ", k, " has two outcomes");
      }
      if (!good) ++wrong;
    }
    MESSAGE(count, " cases, largest difference ", worst);
    CHECK(wrong == 0);
  }

  TEST_CASE("contact: gains stay where they are while other states are met") {
    Random random(5);
    Case c = random_case(random);
    while (c.problem.M.rows() < 20 || c.problem.two_way > 6) c = random_case(random);
    Contacts contacts(c.problem);
    Answer answer;
    contacts.solve(c.F, answer);
    State state = 0;
    const Gains* gains = nullptr;
    while (gains == nullptr) gains = contacts.gains_of(--state);
    const Matrix s = gains->s;
    for (State other = 0; other < contacts.most_states() + 100 && other < 3000; ++other) {
      (void)contacts.gains_of(other);
    }
    CHECK(contacts.states_known() <= contacts.most_states());
    CHECK(gains == contacts.gains_of(state));
    CHECK(gains->s == s);
  }
}

TEST_SUITE("published") {
  // A problem on which a careless choice of the entering variable stops early. Discussed after
  // Cottle, Pang & Stone, The Linear Complementarity Problem, algorithm 4.2.11. Source: copy
  // (quoted in the text of a question; the book was not seen).
  TEST_CASE("contact: three contacts of a published example push as printed") {
    Problem p;
    p.M.resize(3, 3);
    p.M << 60, 26, 37, 26, 36, 29, 37, 29, 30;
    p.Q = Matrix::Constant(3, 1, -1);
    p.E.resize(0, 3);
    p.P.resize(0, 1);
    Contacts contacts(p);
    Answer answer;
    for (const bool second : {false, true}) {
      CAPTURE(second);
      if (second) {
        contacts.solve_by_pivoting(Vector::Ones(1), answer);
      } else {
        contacts.solve(Vector::Ones(1), answer);
      }
      REQUIRE(answer.outcome == Outcome::solved);
      CHECK(answer.s(0) == 0);
      CHECK(std::abs(answer.s(1) - 0.004184) < 5e-7);
      CHECK(std::abs(answer.s(2) - 0.029289) < 5e-7);
      CHECK(violation(p, Vector::Ones(1), answer) < 1e-12);
    }
  }
}

TEST_SUITE("unit") {
  TEST_CASE("contact: only a load at the edge of what can be balanced is neutral") {
    // Two contacts push up, at the origin and 1 m to starboard: a load beyond the first tips.
    Problem p;
    p.M = Matrix::Identity(2, 2) * 1e-6;
    p.E = Matrix::Zero(6, 2);
    p.E(2, 0) = p.E(2, 1) = 1;
    p.E(4, 1) = -1;
    p.P = Matrix::Identity(6, 6);
    p.Q = Matrix::Zero(2, 6);
    Vector tips = Vector::Zero(6);
    tips(4) = -1;
    for (const double arm : {0.0, 2e-9, -2e-9, 1e-6, -1e-6, 0.5, -0.5}) {
      Vector F = Vector::Zero(6);
      F(2) = -100;
      F(4) = 100 * arm;
      CAPTURE(arm);
      CHECK(is_neutral(p, F, tips) == (std::abs(arm) < 1e-8));
      CHECK_FALSE(is_neutral(p, F, Vector(-tips)));
    }
  }

  TEST_CASE("contact: without load nothing pushes") {
    for (const int n : {1, 3, 64}) {
      Contacts contacts(in_line(n, 0));
      Answer answer;
      contacts.solve(loads(0, 0), answer);
      CHECK(answer.outcome == Outcome::solved);
      CHECK(answer.s.isZero(0));
      CHECK(answer.w.isZero(0));
      contacts.solve(loads(0, 1), answer);  // gaps alone
      CHECK(answer.outcome == Outcome::solved);
      CHECK(answer.s.isZero(0));
      CHECK(violation(contacts.problem(), loads(0, 1), answer) < 1e-12);
    }
  }

  TEST_CASE("contact: a single contact carries a push and lets go of a pull") {
    Contacts contacts(in_line(1, 0));
    Answer answer;
    contacts.solve(loads(5, 1), answer);
    REQUIRE(answer.outcome == Outcome::solved);
    CHECK(answer.s(0) == doctest::Approx(5));
    CHECK(answer.a(0) == doctest::Approx(-1e-4 - 5e-6));
    contacts.solve(loads(-5, 1), answer);
    REQUIRE(answer.outcome == Outcome::mechanism);
    CHECK(answer.gains == nullptr);
    CHECK(proves_mechanism(contacts.problem(), loads(-5, 1), answer.motion));
    CHECK(contacts.can_balance(loads(5, 1), nullptr));
    CHECK_FALSE(contacts.can_balance(loads(-5, 1), nullptr));
  }

  TEST_CASE("contact: no contacts balance no load") {
    Contacts contacts(in_line(0, 0));
    Answer answer;
    contacts.solve(loads(0, 1), answer);
    CHECK(answer.outcome == Outcome::solved);
    CHECK(answer.s.size() == 0);
    contacts.solve_by_pivoting(loads(0, 1), answer);
    CHECK(answer.outcome == Outcome::solved);
    contacts.solve(loads(1, 0), answer);
    REQUIRE(answer.outcome == Outcome::mechanism);
    CHECK(proves_mechanism(contacts.problem(), loads(1, 0), answer.motion));
    Vector motion;
    CHECK_FALSE(contacts.can_balance(loads(1, 0), &motion));
    CHECK(proves_mechanism(contacts.problem(), loads(1, 0), motion));
  }

  TEST_CASE("contact: two-way springs alone take any load that they resist") {
    Contacts contacts(in_line(4, 4));
    Answer answer;
    for (const double push : {-8.0, 0.0, 8.0}) {
      CAPTURE(push);
      contacts.solve(loads(push, 0), answer);
      REQUIRE(answer.outcome == Outcome::solved);
      for (int i = 0; i < 4; ++i) CHECK(answer.s(i) == doctest::Approx(push / 4));
      contacts.solve_by_pivoting(loads(push, 1), answer);
      REQUIRE(answer.outcome == Outcome::solved);
      CHECK(violation(contacts.problem(), loads(push, 1), answer) < 1e-12);
    }
  }

  TEST_CASE("contact: with springs that carry everything all contacts may be open") {
    Contacts contacts(in_line(6, 2));
    Answer answer;
    contacts.solve(loads(-3, 1), answer);
    REQUIRE(answer.outcome == Outcome::solved);
    CHECK(answer.s.head(2).sum() == doctest::Approx(-3));
    CHECK(answer.s.tail(4).isZero(0));
    CHECK(answer.w.tail(4).minCoeff() > 0);
    CHECK(violation(contacts.problem(), loads(-3, 1), answer) < 1e-12);
  }

  TEST_CASE("contact: sixty-four contacts close one after the other") {
    Contacts contacts(in_line(64, 0));
    Answer answer;
    int before = 0;
    for (const double push : {1.0, 1e3, 1e4, 1e5, 1e6}) {
      CAPTURE(push);
      contacts.solve(loads(push, 1), answer);
      REQUIRE(answer.outcome == Outcome::solved);
      CHECK(violation(contacts.problem(), loads(push, 1), answer) < 1e-12);
      // Contact k + 1 closes when the first k carry 100 N more each: k (k + 1) / 2 of them.
      int expected = 1;
      while (expected < 64 && 100.0 * expected * (expected + 1) / 2 < push) ++expected;
      const int closed = int((answer.s.array() > 0).count());
      CHECK(closed == expected);
      CHECK(closed >= before);
      before = closed;
      Answer second;
      contacts.solve_by_pivoting(loads(push, 1), second);
      CHECK(difference(contacts.problem(), answer, second) < 1e-12);
    }
    Problem too_many = in_line(65, 0);
    CHECK_THROWS_AS(Contacts{too_many}, thole::InternalError);
    CHECK_NOTHROW(Contacts{in_line(65, 1)});
  }

  TEST_CASE("contact: a load on the edge of tipping is carried by the contacts on the edge") {
    // Two contacts a metre apart; the load sits on the first. Beyond it the body tips.
    Problem p;
    p.M = Matrix::Identity(2, 2) * 1e-6;
    p.E.resize(2, 2);
    p.E << 1, 1, 0, 1;
    p.P = -Matrix::Identity(2, 2);
    p.Q = Matrix::Zero(2, 2);
    Contacts contacts(p);
    Answer answer;
    contacts.solve(loads(10, 0), answer);
    REQUIRE(answer.outcome == Outcome::solved);
    CHECK(answer.s(0) == doctest::Approx(10));
    CHECK(answer.s(1) < 1e-12);
    contacts.solve(loads(10, -1e-7), answer);
    CHECK(answer.outcome == Outcome::mechanism);
    contacts.solve(loads(10, -1e-12), answer);
    CHECK(answer.outcome == Outcome::solved);
    CHECK(violation(p, loads(10, -1e-12), answer) < 1e-9);
  }

  TEST_CASE("contact: the unit of length does not decide what holds") {
    // The same plate with moments in N m and in N mm.
    Random random(31);
    for (int k = 0; k < 300; ++k) {
      const Case c = random_case(random);
      Problem mm = c.problem;
      mm.E.bottomRows(3) *= 1000;
      mm.P.bottomRows(3) *= 1000;
      Contacts in_m(c.problem);
      Contacts in_mm(mm);
      Answer x;
      Answer y;
      in_m.solve(c.F, x);
      in_mm.solve(c.F, y);
      CAPTURE(k);
      REQUIRE(x.outcome == y.outcome);
      if (x.outcome == Outcome::solved) CHECK(difference(c.problem, x, y) < 1e-9);
    }
  }

  TEST_CASE("contact: sizes that do not fit and numbers that are none are refused") {
    Problem p = in_line(3, 0);
    p.Q.resize(2, 2);
    CHECK_THROWS_AS(Contacts{p}, thole::InternalError);
    p = in_line(3, 0);
    p.M(1, 1) = 0;
    CHECK_THROWS_AS(Contacts{p}, thole::InternalError);
    Contacts contacts(in_line(3, 0));
    Answer answer;
    CHECK_THROWS_AS(contacts.solve(loads(std::nan(""), 0), answer), thole::InternalError);
    CHECK_THROWS_AS(contacts.solve(Vector::Ones(3), answer), thole::InternalError);
  }
}
