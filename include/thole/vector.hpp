#pragma once

/// Vectors of quantities that know the axes they are written in.
///
/// Eigen's own matrices of quantities store and add but cannot be scaled, crossed or rotated (a
/// product of two forces is not a force), so this is a thin wrapper over `Eigen::Vector3d`.
/// Only a `Rotation` takes a vector from one frame to another.

#include <Eigen/Core>
#include <Eigen/Geometry>

#include <thole/quantities.hpp>

namespace thole {

/// Axes of the boat: x forward, y outboard on the side of the gear, z up.
struct Boat {};
/// Axes of a cross-board: x along the board from its port to its starboard end, y forward, z up.
/// Origin: port end of the board, on the centre line of its section.
struct Board {};

/// Axes of a base on its host wall: x forward along the wall, y across it toward outboard,
/// z out of the wall. Origin: base centre, on the wall surface (bed level).
struct Base {};

template <class Q, class Frame>
class Vector {
 public:
  Vector() = default;
  Vector(Q x, Q y, Q z) : v_(x.value(), y.value(), z.value()) {}
  /// For kernels: SI numbers in, SI numbers out.
  [[nodiscard]] static Vector from_si(const Eigen::Vector3d& v) {
    Vector r;
    r.v_ = v;
    return r;
  }
  [[nodiscard]] const Eigen::Vector3d& si_values() const { return v_; }

  [[nodiscard]] Q x() const { return Q::from_value(v_.x()); }
  [[nodiscard]] Q y() const { return Q::from_value(v_.y()); }
  [[nodiscard]] Q z() const { return Q::from_value(v_.z()); }
  [[nodiscard]] Q norm() const { return Q::from_value(v_.norm()); }

  Vector& operator+=(const Vector& o) {
    v_ += o.v_;
    return *this;
  }
  friend Vector operator+(Vector a, const Vector& b) { return a += b; }
  friend Vector operator-(const Vector& a, const Vector& b) { return from_si(a.v_ - b.v_); }
  friend Vector operator-(const Vector& a) { return from_si(-a.v_); }
  friend Vector operator*(double s, const Vector& a) { return from_si(s * a.v_); }
  friend bool operator==(const Vector&, const Vector&) = default;

 private:
  Eigen::Vector3d v_ = Eigen::Vector3d::Zero();
};

template <class Frame>
using Position = Vector<Length, Frame>;
template <class Frame>
using ForceVector = Vector<Force, Frame>;
template <class Frame>
using MomentVector = Vector<Moment, Frame>;

/// A direction without dimension and with length one.
template <class Frame>
class Direction {
 public:
  /// Normalises; throws nothing, a zero vector stays zero.
  explicit Direction(const Eigen::Vector3d& v) : v_(v.norm() > 0 ? v.normalized().eval() : v) {}
  [[nodiscard]] const Eigen::Vector3d& si_values() const { return v_; }
  [[nodiscard]] double x() const { return v_.x(); }
  [[nodiscard]] double y() const { return v_.y(); }
  [[nodiscard]] double z() const { return v_.z(); }

 private:
  Eigen::Vector3d v_;
};

template <class Q, class Frame>
[[nodiscard]] Vector<Q, Frame> along(Q size, const Direction<Frame>& d) {
  return Vector<Q, Frame>::from_si(size.value() * d.si_values());
}

template <class A, class B, class Frame>
[[nodiscard]] auto cross(const Vector<A, Frame>& a, const Vector<B, Frame>& b) {
  return Vector<decltype(A{} * B{}), Frame>::from_si(a.si_values().cross(b.si_values()));
}

template <class A, class B, class Frame>
[[nodiscard]] auto dot(const Vector<A, Frame>& a, const Vector<B, Frame>& b) {
  return decltype(A{} * B{})::from_value(a.si_values().dot(b.si_values()));
}

/// Turns vectors written in `From` into vectors written in `To`.
template <class From, class To>
class Rotation {
 public:
  /// Rows of the matrix are the axes of `To` written in `From`.
  explicit Rotation(const Eigen::Matrix3d& m) : m_(m) {}
  template <class Q>
  [[nodiscard]] Vector<Q, To> operator*(const Vector<Q, From>& v) const {
    return Vector<Q, To>::from_si(m_ * v.si_values());
  }
  [[nodiscard]] Direction<To> operator*(const Direction<From>& d) const {
    return Direction<To>(m_ * d.si_values());
  }
  [[nodiscard]] Rotation<To, From> inverse() const {
    return Rotation<To, From>(m_.transpose().eval());
  }

 private:
  Eigen::Matrix3d m_;
};

/// A point in the plane of a base: x forward, y outboard (frame `Base`).
struct PlanPoint {
  Length x{};
  Length y{};
  friend bool operator==(const PlanPoint&, const PlanPoint&) = default;
};

}  // namespace thole
