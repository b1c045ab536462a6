#include <thole/section.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

#include <thole/error.hpp>
#include <thole/metal_strength.hpp>

namespace thole {

namespace {

constexpr double pi = std::numbers::pi;
// Sums over odd n of 1/n^3, 1/n^5, 1/n^7, and of (-1)^((n-1)/2)/n^2 (Catalan).
constexpr double odd_3 = 7.0 / 8 * 1.2020569031595942854;
constexpr double odd_5 = 31.0 / 32 * 1.0369277551433699263;
constexpr double odd_7 = 127.0 / 128 * 1.0083492773819228268;
constexpr double catalan = 0.91596559417721901505;
// Terms fall at least as exp(-n pi / 2).
constexpr int last_term = 41;

void require_ratio(double r) {
  if (!(r >= 1 && r <= 1e6)) throw DomainError("the ratio of the sides must be 1 to 1e6");
}

void require(bool good, const char* text) {
  if (!good) throw DomainError(text);
}

bool finite_positive(Length l) { return std::isfinite(l.value()) && l.value() > 0; }

/// 1 - tanh(n pi r / 2) without cancellation.
double tail(int n, double r) { return 2 / (std::exp(n * pi * r) + 1); }

double power(double x, int n) {
  double p = 1;
  for (int i = 0; i < n; ++i) p *= x;
  return p;
}

/// Sum over odd n of tanh(n pi r / 2) / n^k, given the sum without the tanh.
double tanh_sum(double all, int k, double r) {
  double s = all;
  for (int n = 1; n <= last_term; n += 2) s -= tail(n, r) / power(n, k);
  return s;
}

/// tau_max / (G phi' b): k1 / k2.
double stress_factor(double r) {
  double s = 0;
  for (int n = 1; n <= last_term; n += 2) s += 1 / (power(n, 2) * std::cosh(n * pi * r / 2));
  return 1 - 8 / (pi * pi) * s;
}

/// sinh or cosh (sign -1 or +1) of n pi y over cosh(n pi r/2), y = r/2 - d, without overflow.
double decay(int n, double d, double r, int sign) {
  return std::exp(-n * pi * d) * (1 + sign * std::exp(-n * pi * (r - 2 * d))) /
         (1 + std::exp(-n * pi * r));
}

struct Rectangle {
  double y_size, z_size;
  double y, z;  // middle

  [[nodiscard]] double longer() const { return std::max(y_size, z_size); }
  [[nodiscard]] double shorter() const { return std::min(y_size, z_size); }
  [[nodiscard]] double ratio() const { return longer() / shorter(); }
  [[nodiscard]] double area() const { return y_size * z_size; }
  [[nodiscard]] double own_flat() const { return y_size * power(z_size, 3) / 12; }
  [[nodiscard]] double own_edge() const { return z_size * power(y_size, 3) / 12; }
  [[nodiscard]] double torsion() const {
    return torsion_k1(ratio()) * longer() * power(shorter(), 3);
  }
  [[nodiscard]] double warping() const { return warping_ratio(ratio()) * power(area(), 3) / 144; }
  /// omega at the corner with y and z both above the middle: a long side along y gives +.
  [[nodiscard]] double corner() const {
    return (y_size >= z_size ? 1 : -1) * area() / 4 * warping_corner(ratio());
  }
  [[nodiscard]] double peak_above_corner() const {
    return area() / 4 * (warping_peak(ratio()) - warping_corner(ratio()));
  }
};

Length metres(double v) { return v * si::metre; }
Area square_metres(double v) { return v * si::square_metre; }

SectionPoint point(double y, double z, double omega, double near_by) {
  const double peak = std::abs(omega) + near_by;
  return {metres(y), metres(z), square_metres(omega), square_metres(omega < 0 ? -peak : peak)};
}

void set_tube_points(Section& s, double y, double z) {
  s.points = {point(-y, -z, 0, 0), point(y, -z, 0, 0), point(y, z, 0, 0), point(-y, z, 0, 0)};
}

/// Shear area / area of a thin rectangular tube, h along the load, b across (centre lines):
/// I^2 / (A integral (S/t)^2 dA).
double tube_shear_area(double h, double b) {
  const double second = h * h * h / 6 + b * h * h / 2;
  const double flanges = h * h * b * b * b / 24;
  const double webs = 2 * h * h * h * (b * b / 16 + h * b / 24 + h * h / 120);
  return second * second / (2 * (h + b) * (flanges + webs));
}

}  // namespace

double torsion_k1(double r) {
  require_ratio(r);
  return (1 - 192 / power(pi, 5) / r * tanh_sum(odd_5, 5, r)) / 3;
}

double torsion_k2(double r) { return torsion_k1(r) / stress_factor(r); }

double torsion_gamma(double r) {
  require_ratio(r);
  double s = catalan;
  int sign = 1;
  for (int n = 1; n <= last_term; n += 2, sign = -sign) s -= sign * tail(n, r) / power(n, 2);
  return 8 / (pi * pi) * s / stress_factor(r);
}

double warping_ratio(double r) {
  require_ratio(r);
  double sech = 0;
  for (int n = 1; n <= last_term; n += 2) {
    const double t = tail(n, r);
    sech += t * (2 - t) / power(n, 6);
  }
  // With b = 1; sum over odd n of 1/n^6 = pi^6/960.
  const double gamma = r * r * r / 144 - r / 30 + 96 / power(pi, 7) * tanh_sum(odd_7, 7, r) -
                       16 * r / power(pi, 6) * sech;
  return gamma / (r * r * r / 144);
}

double warping_corner(double r) {
  require_ratio(r);
  if (r == 1) return 0;
  return 1 - 32 / (power(pi, 3) * r) * tanh_sum(odd_3, 3, r);
}

double warping_peak(double r) {
  require_ratio(r);
  constexpr int terms = 199;
  // Slope of omega along the long side (b = 1) at the distance d from the corner: rises with d.
  const auto slope = [&](double d) {
    double s = 0;
    for (int n = 1; n <= terms; n += 2) s += decay(n, d, r, 1) / power(n, 2);
    return 0.5 - 8 / (pi * pi) * s;
  };
  double low = 0;
  double high = 0.5;
  for (int i = 0; i < 60; ++i) {
    const double mid = 0.5 * (low + high);
    (slope(mid) < 0 ? low : high) = mid;
  }
  double s = 0;
  for (int n = 1; n <= terms; n += 2) s += decay(n, low, r, -1) / power(n, 3);
  return ((r / 2 - low) / 2 - 8 / power(pi, 3) * s) / (r / 4);
}

Section rectangle(Length width, Length thickness) {
  require(finite_positive(width) && finite_positive(thickness),
          "the sides of a rectangle must be above zero");
  const Rectangle q{width.value(), thickness.value(), 0, 0};
  require_ratio(q.ratio());
  Section s;
  s.area = width * thickness;
  s.bending_flat = SecondMoment::from_value(q.own_flat());
  s.bending_edge = SecondMoment::from_value(q.own_edge());
  s.torsion = SecondMoment::from_value(q.torsion());
  s.warping = WarpingConstant::from_value(q.warping());
  const double y = q.y_size / 2;
  const double z = q.z_size / 2;
  const double w = q.corner();
  const double more = q.peak_above_corner();
  s.points = {point(-y, -z, w, more), point(y, -z, -w, more), point(y, z, w, more),
              point(-y, z, -w, more)};
  s.torsion_modulus =
      Volume::from_value(torsion_k2(q.ratio()) * q.longer() * power(q.shorter(), 2));
  s.narrow_side = torsion_gamma(q.ratio());
  s.width = width;
  s.depth = thickness;
  s.thickness = std::min(width, thickness);
  return s;
}

Section rectangular_tube(Length width, Length depth, Length wall) {
  require(finite_positive(width) && finite_positive(depth) && finite_positive(wall),
          "the sizes of a tube must be above zero");
  require(2.0 * wall < std::min(width, depth), "the wall must leave a tube hollow");
  const double t = wall.value();
  const Rectangle out{width.value(), depth.value(), 0, 0};
  const Rectangle in{out.y_size - 2 * t, out.z_size - 2 * t, 0, 0};
  const double b = out.y_size - t;
  const double h = out.z_size - t;
  Section s;
  s.area = square_metres(out.area() - in.area());
  s.bending_flat = SecondMoment::from_value(out.own_flat() - in.own_flat());
  s.bending_edge = SecondMoment::from_value(out.own_edge() - in.own_edge());
  s.torsion = SecondMoment::from_value(2 * b * b * h * h * t / (b + h));
  s.torsion_modulus = Volume::from_value(2 * b * h * t);
  s.shear_area_y = tube_shear_area(b, h);
  s.shear_area_z = tube_shear_area(h, b);
  s.closed = true;
  set_tube_points(s, out.y_size / 2, out.z_size / 2);
  s.width = width;
  s.depth = depth;
  s.thickness = wall;
  return s;
}

Section round_tube(Length outside, Length wall) {
  require(finite_positive(outside) && finite_positive(wall),
          "the sizes of a tube must be above zero");
  require(2.0 * wall < outside, "the wall must leave a tube hollow");
  const double d = outside.value();
  const double inside = d - 2 * wall.value();
  const double second = pi / 64 * (power(d, 4) - power(inside, 4));
  Section s;
  s.area = square_metres(pi / 4 * (d * d - inside * inside));
  s.bending_flat = SecondMoment::from_value(second);
  s.bending_edge = s.bending_flat;
  s.torsion = SecondMoment::from_value(2 * second);
  s.torsion_modulus = Volume::from_value(4 * second / d);
  const double m = power(inside / d, 2);
  s.shear_area_y = 6 * power(1 + m, 2) / (7 * power(1 + m, 2) + 20 * m);
  s.shear_area_z = s.shear_area_y;
  s.closed = true;
  const double r = d / 2;
  s.points = {point(-r, 0, 0, 0), point(0, -r, 0, 0), point(r, 0, 0, 0), point(0, r, 0, 0)};
  for (int i = 0; i < 4; ++i) {  // between: two bending moments together
    const double y = i == 0 || i == 3 ? -r : r;
    const double z = i < 2 ? -r : r;
    s.points.push_back(point(y / std::numbers::sqrt2, z / std::numbers::sqrt2, 0, 0));
  }
  s.width = outside;
  s.depth = outside;
  s.thickness = wall;
  return s;
}

Section channel(Length depth, Length flange, Length thickness, Flanges flanges) {
  require(finite_positive(depth) && finite_positive(flange) && finite_positive(thickness),
          "the sizes of a channel must be above zero");
  require(2.0 * thickness < depth && thickness < flange,
          "the thickness must leave a channel its opening");
  const double t = thickness.value();
  const double tall = depth.value();
  const double wide = flange.value();
  const double h = tall - t;
  const double b = wide - t / 2;

  // Flanges forward: web at the aft side of the bounding box, symmetric about z = 0.
  const double web = -wide / 2 + t / 2;
  const double area = t * (h + 2 * b);
  const double flange_own = wide - t;  // clear of the web
  const double flange_y = web + t / 2 + flange_own / 2;
  const double cy = (tall * t * web + 2 * flange_own * t * flange_y) / area;
  const double flat = (wide * power(tall, 3) - flange_own * power(tall - 2 * t, 3)) / 12;
  const double edge =
      tall * power(t, 3) / 12 + tall * t * power(web - cy, 2) +
      2 * (t * power(flange_own, 3) / 12 + flange_own * t * power(flange_y - cy, 2));
  const double e = 3 * b * b / (6 * b + h);
  const double shear_y = web - e;

  // Shear along the web (z) and along the flanges (y): I^2 / (A integral (S/t)^2 dA) with t = 1.
  const double line = h + 2 * b;
  const double i_z = h * h * h / 12 + b * h * h / 2;
  const double q_z =
      h * h * b * b * b / 6 + h * h * h * b * b / 4 + h * h * h * h * b / 12 + power(h, 5) / 120;
  const double c = b - b * b / line;  // tip to centroid
  const double i_y = 2 * (b * b * b / 12 + b * power(c - b / 2, 2)) + h * power(b - c, 2);
  const double q_y = 2 * (c * c * b * b * b / 3 - c * power(b, 4) / 4 + power(b, 5) / 20) +
                     power(c * b - b * b / 2, 2) * h / 3;
  const double along_web = i_z * i_z / (line * q_z);
  const double along_flanges = i_y * i_y / (line * q_y);

  const double corner = e * h / 2;
  const double tip = h / 2 * (e - b);
  // Across the thickness omega changes by the distance along the wall to the foot of the
  // perpendicular from the shear centre.
  const double more_tip = t / 2 * (b + e);
  const double more_corner = t / 2 * std::max(e, h / 2);
  struct P {
    double y, z, omega, more;
  };
  const P corners[] = {{-wide / 2, -tall / 2, -corner, more_corner},
                       {wide / 2, -tall / 2, -tip, more_tip},
                       {wide / 2, tall / 2, tip, more_tip},
                       {-wide / 2, tall / 2, corner, more_corner}};

  // Turned by quarters: y toward z.
  double cosine = 1;
  double sine = 0;
  switch (flanges) {
    case Flanges::forward:
      break;
    case Flanges::up:
      cosine = 0;
      sine = 1;
      break;
    case Flanges::aft:
      cosine = -1;
      break;
    case Flanges::down:
      cosine = 0;
      sine = -1;
      break;
  }
  const bool lying = sine != 0;
  Section s;
  s.area = square_metres(area);
  s.bending_flat = SecondMoment::from_value(lying ? edge : flat);
  s.bending_edge = SecondMoment::from_value(lying ? flat : edge);
  s.torsion = SecondMoment::from_value((h + 2 * b) * t * t * t / 3);
  s.torsion_modulus = Volume::from_value((h + 2 * b) * t * t / 3);
  s.warping =
      WarpingConstant::from_value(t * b * b * b * h * h * (3 * b + 2 * h) / (12 * (6 * b + h)));
  s.shear_area_y = lying ? along_web : along_flanges;
  s.shear_area_z = lying ? along_flanges : along_web;
  s.centroid_y = metres(cosine * cy);
  s.centroid_z = metres(sine * cy);
  s.shear_centre_y = metres(cosine * shear_y);
  s.shear_centre_z = metres(sine * shear_y);
  for (const P& p : corners) {
    s.points.push_back(
        point(cosine * p.y - sine * p.z, sine * p.y + cosine * p.z, p.omega, p.more));
  }
  s.narrow_side = torsion_gamma(std::max(1.0, std::min(wide, tall) / t));
  s.width = lying ? depth : flange;
  s.depth = lying ? flange : depth;
  s.thickness = thickness;
  return s;
}

Section plank_with_strip(Length width, Length thickness, Length strip_width, Length strip_depth,
                         Length strip_offset_y) {
  require(finite_positive(width) && finite_positive(thickness) && finite_positive(strip_width) &&
              finite_positive(strip_depth) && std::isfinite(strip_offset_y.value()),
          "the sizes of a board and its strip must be above zero");
  const double offset = strip_offset_y.value();
  const double half_gap = (width.value() - strip_width.value()) / 2;
  require(std::abs(offset) <= half_gap + 1e-9 * width.value(),
          "the strip must lie within the width of the board");
  const double apart = (thickness.value() + strip_depth.value()) / 2;
  const Rectangle board{width.value(), thickness.value(), 0, 0};
  const Rectangle strip{strip_width.value(), strip_depth.value(), offset, -apart};
  require_ratio(board.ratio());
  require_ratio(strip.ratio());

  Section s;
  const double area = board.area() + strip.area();
  const double reduced = board.area() * strip.area() / area;
  s.area = square_metres(area);
  s.centroid_y = metres(strip.area() * strip.y / area);
  s.centroid_z = metres(strip.area() * strip.z / area);
  s.bending_flat =
      SecondMoment::from_value(board.own_flat() + strip.own_flat() + reduced * strip.z * strip.z);
  s.bending_edge =
      SecondMoment::from_value(board.own_edge() + strip.own_edge() + reduced * strip.y * strip.y);
  s.bending_product = SecondMoment::from_value(reduced * strip.y * strip.z);
  const double j = board.torsion() + strip.torsion();
  s.torsion = SecondMoment::from_value(j);
  s.torsion_modulus =
      Volume::from_value(j / std::max(board.shorter() * stress_factor(board.ratio()),
                                      strip.shorter() * stress_factor(strip.ratio())));
  s.narrow_side = torsion_gamma(board.ratio());

  // omega_i = own + (zs - z_i)(y - y_i) - (ys - y_i)(z - z_i) + c_i, equal at the middle of the
  // contact: c_strip - c_board = zs offset + (ys - offset) apart. Then, with R = A1 A2/(A1 + A2),
  //   integral omega y:  zs (Iz1 + Iz2) + apart Iz2 + R offset (c_strip - c_board) = 0
  //   integral omega z:  ys Iy1 + (ys - offset) Iy2 + R apart (c_strip - c_board) = 0
  const double a11 = board.own_edge() + strip.own_edge() + reduced * offset * offset;
  const double a12 = reduced * offset * apart;
  const double a22 = board.own_flat() + strip.own_flat() + reduced * apart * apart;
  const double b1 = -apart * strip.own_edge() + reduced * offset * offset * apart;
  const double b2 = offset * (strip.own_flat() + reduced * apart * apart);
  const double det = a11 * a22 - a12 * a12;
  const double zs = (b1 * a22 - a12 * b2) / det;
  const double ys = (a11 * b2 - a12 * b1) / det;
  s.shear_centre_y = metres(ys);
  s.shear_centre_z = metres(zs);
  const double step = zs * offset + (ys - offset) * apart;
  const double c_board = -step * strip.area() / area;
  const double c_strip = step * board.area() / area;

  const auto sum = [&](const Rectangle& q, double constant) {
    return q.warping() + power(zs - q.z, 2) * q.own_edge() + power(ys - q.y, 2) * q.own_flat() +
           constant * constant * q.area();
  };
  s.warping = WarpingConstant::from_value(sum(board, c_board) + sum(strip, c_strip));
  const auto corner = [&](const Rectangle& q, double constant, int side, int level) {
    const double y = side * q.y_size / 2;
    const double z = level * q.z_size / 2;
    const double omega = side * level * q.corner() + (zs - q.z) * y - (ys - q.y) * z + constant;
    // 5 %: what finite elements of joined rectangles show above this.
    s.points.push_back(
        point(q.y + y, q.z + z, omega, q.peak_above_corner() + 0.05 * std::abs(omega)));
  };
  corner(board, c_board, -1, -1);
  corner(board, c_board, 1, -1);
  corner(board, c_board, 1, 1);
  corner(board, c_board, -1, 1);
  corner(strip, c_strip, -1, -1);
  corner(strip, c_strip, 1, -1);

  s.width = width;
  s.depth = thickness + strip_depth;
  s.thickness = std::min(width, thickness);
  s.rough_torsion = strip_width > 1.001 * std::min(thickness, strip_depth);
  return s;
}

Length warping_length(const Section& section, Stress modulus, Stress shear_modulus) {
  require(modulus.value() > 0 && shear_modulus.value() > 0 && section.torsion.value() > 0,
          "the warping length needs moduli and a torsion constant above zero");
  return metres(std::sqrt(modulus.value() * section.warping.value() /
                          (shear_modulus.value() * section.torsion.value())));
}

namespace {

// Largest root moment anywhere along the root for a point load, by finite elements with nu = 0.33,
// rounded up. Rows: position 1/4, 1/2, 3/4, 1; columns: distance from the end.
constexpr double end_at[] = {0, 0.05, 0.1, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 2, 2.5};
constexpr int end_count = int(std::size(end_at));
constexpr double end_moment[4][end_count] = {
    {1.200, 0.955, 0.760, 0.433, 0.3585, 0.3435, 0.3377, 0.3348, 0.3335, 0.3327, 0.3325},
    {1.265, 1.130, 1.010, 0.711, 0.4635, 0.4115, 0.3915, 0.3812, 0.3759, 0.3718, 0.3708},
    {1.355, 1.255, 1.162, 0.912, 0.6245, 0.5160, 0.4735, 0.4518, 0.4412, 0.4332, 0.4311},
    {1.475, 1.385, 1.302, 1.075, 0.7955, 0.6495, 0.5818, 0.5478, 0.5303, 0.5180, 0.5147},
};

double at_position(int row, double distance) {
  if (distance >= end_at[end_count - 1]) return end_moment[row][end_count - 1];
  int i = 0;
  while (distance > end_at[i + 1]) ++i;
  const double f = (distance - end_at[i]) / (end_at[i + 1] - end_at[i]);
  return end_moment[row][i] * (1 - f) + end_moment[row][i + 1] * f;
}

/// One end alone.
double one_end(double c, double distance) {
  const double at = std::max(c, 0.25) * 4 - 1;
  const int row = std::min(2, int(at));
  const double f = at - row;
  const double m = at_position(row, distance) * (1 - f) + at_position(row + 1, distance) * f;
  // Near an end the curve over the position is bent the other way: 3 % between the rows.
  const double near = std::max(0.0, 1 - distance / 2.5);
  return m * (1 + 0.12 * f * (1 - f) * near);
}

double two_ends(double c, double d1, double d2) {
  const double far = one_end(c, no_end);
  const double nearer = one_end(c, std::min(d1, d2));
  const double other = std::max(d1, d2);
  if (other >= 2.5) return nearer;
  const double together = nearer * one_end(c, other) / far * 1.04;
  return std::max(together, 1.3 * c / (d1 + d2));
}

/// Root moment amplitude per load amplitude cos(s y/a) on the line x = c a, over a.
double amplitude(double s, double c) {
  if (s < 1e-6) return c;
  if (s > 10) return c * std::exp(-s * c);  // half plane; the free edge adds exp(-s (2 - c))
  // Deflection of the strip with unit slope at the root and a free edge (reciprocity).
  constexpr double nu = 0.33;
  const double ch = std::cosh(s);
  const double sh = std::sinh(s);
  const double a11 = -(1 + nu) * sh - (1 - nu) * s * ch;
  const double a12 = 2 * ch + (1 - nu) * s * sh;
  const double a21 = -2 * ch + (1 - nu) * s * sh;
  const double a22 = (1 + nu) * sh - (1 - nu) * s * ch;
  const double r1 = -(2 * sh + (1 - nu) * s * ch);
  const double r2 = -((1 + nu) * ch - (1 - nu) * s * sh);
  const double det = a11 * a22 - a12 * a21;
  const double p = (r1 * a22 - a12 * r2) / det;
  const double q = (a11 * r2 - a21 * r1) / det;
  const double t = s * c;
  return (t * std::cosh(t) + p * (std::sinh(t) - t * std::cosh(t)) + q * t * std::sinh(t)) / s;
}

/// Moment in the middle of a line load on a leg without ends, over the whole load: Simpson's rule.
double long_leg_line(double c, double length) {
  constexpr double step = 0.05;
  const int n = 2 * int(std::ceil(std::max(12.0, 16 / c) / (2 * step)));
  double sum = 0;
  for (int i = 0; i <= n; ++i) {
    const double s = i * step;
    const double half = s * length / 2;
    const double spread = half < 1e-6 ? 1 : std::sin(half) / half;
    const double weight = i == 0 || i == n ? 1 : (i % 2 == 1 ? 4 : 2);
    sum += weight * amplitude(s, c) * spread;
  }
  return sum * step / 3 / pi;
}

void require_leg(double c, double d1, double d2) {
  require(c > 0 && c <= 1, "the load must lie between the root and the edge of the leg");
  require(d1 >= 0 && d2 >= 0, "the load must lie within the length of the angle");
}

}  // namespace

double ledge_leg_root_moment(double c, double d1, double d2) {
  require_leg(c, d1, d2);
  require(d1 + d2 > 0, "the angle must have a length");
  if (std::min(d1, d2) >= 2.5) return lip_root_moment(std::max(c, 0.25));
  return two_ends(c, d1, d2);
}

double ledge_leg_line_moment(double c, double length, double d1, double d2) {
  require_leg(c, d1, d2);
  require(length >= 0 && std::isfinite(length), "the length of a line load must not be negative");
  require(length + d1 + d2 > 0, "the angle must have a length");
  const double leg = length + d1 + d2;
  if (length == 0) return ledge_leg_root_moment(c, d1, d2);
  const double whole = c / length * (1.045 + 0.21 * std::exp(-leg));
  if (length > 8) return whole;
  const double position = std::max(c, 0.05);
  const double ends = two_ends(c, d1 + length / 4, d2 + length / 4) / one_end(c, no_end);
  const double margin = std::min(d1, d2) >= 2.5 ? 1 : 1.05;
  return std::min(long_leg_line(position, length) * ends * margin, whole);
}

}  // namespace thole
