#include <thole/wood_strength.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <thole/error.hpp>

// Departures from the documents, in one place:
// - sizes between two rows of a table take the less favourable row, sizes outside the least factor;
// - crushing of NDS grades is 0.54 of the mean dent limit, EN bearing and modulus are reduced by
//   the NDS wet factors, and incising counts for EN 338 pieces too (judgement);
// - stability factors are taken from nominal values on both sides, not from allowable ones;
// - aluminium side plates use the rule for steel;
// - splitting takes the lower of NDS and EN although their footing differs (see the header).

namespace thole {

using namespace literals;

namespace {

constexpr double pi = std::numbers::pi;

void require(bool good, const char* otherwise) {
  if (!good) throw DomainError(otherwise);
}

bool positive(Length l) { return l.value() > 0; }
bool positive(Stress s) { return s.value() > 0; }
bool positive(Force f) { return f.value() > 0; }

double in_inches(Length l) { return l / 1.0_in; }

/// Sizes vary by this much within one row of the tables: 38 mm counts as 1.5 in.
const Length size_tolerance = 0.0625_in;

struct Row {
  int nominal;
  Length actual;
};
const std::array<Row, 9>& width_rows() {
  static const std::array<Row, 9> rows{Row{2, 1.5_in},   Row{3, 2.5_in},    Row{4, 3.5_in},
                                       Row{5, 4.5_in},   Row{6, 5.5_in},    Row{8, 7.25_in},
                                       Row{10, 9.25_in}, Row{12, 11.25_in}, Row{14, 13.25_in}};
  return rows;
}

/// Thickness groups of the tables.
enum class Group { two, between, four, outside };

Group group_of(Length thickness) {
  if (thickness < 1.5_in - size_tolerance || thickness > 3.5_in + size_tolerance) {
    return Group::outside;
  }
  if (thickness <= 2.5_in + size_tolerance) return Group::two;
  return thickness < 3.5_in - size_tolerance ? Group::between : Group::four;
}

/// CF of NDS Supplement Table 4A falls with the width: the next wider row holds.
double size_factor(const WoodPiece& p, const char* property, const MaterialLibrary& library) {
  const std::string name = std::string("CF ") + property + " ";
  const Group group = group_of(p.thickness);
  int nominal = 14;
  for (const Row& row : width_rows()) {
    if (p.width <= row.actual + size_tolerance) {
      nominal = row.nominal;
      break;
    }
  }
  if (group == Group::outside || p.width < 1.5_in - size_tolerance) {
    return library.wood_factor(name + "2x14");
  }
  // Only bending has rows of its own for 4 in, never below those for 2 and 3 in.
  const bool fours = group == Group::four && name == "CF bending " && nominal >= 4;
  return library.wood_factor(name + (fours ? "4x" : "2x") + std::to_string(nominal));
}

/// Cfu of Tables 4A and 4B grows with the width: the next narrower row holds.
double flat_use_factor(const WoodPiece& p, const MaterialLibrary& library) {
  const Group group = group_of(p.thickness);
  if (group == Group::outside) return 1;
  const std::string thick = group == Group::two ? "2" : "4";
  int nominal = 0;
  for (const Row& row : width_rows()) {
    if (p.width >= row.actual - size_tolerance) nominal = std::min(row.nominal, 12);
  }
  if (nominal < (group == Group::two ? 2 : 4)) return 1;
  return library.wood_factor("Cfu " + thick + " in thick " + std::to_string(nominal) + " in wide");
}

/// Table 4B: values by size, a bonus for 4 in and a reduction above 12 in.
double southern_pine_factor(const Wood& wood, const WoodPiece& p, bool bending,
                            const MaterialLibrary& library) {
  const Length widest_row = 11.25_in;
  const bool above_12 = p.width > widest_row + size_tolerance;
  if (above_12 ? wood.tabulated_width < widest_row - size_tolerance
               : p.width > wood.tabulated_width + size_tolerance) {
    throw DomainError("the values of \"" + wood.name + "\" do not hold for a wider piece");
  }
  const Group group = group_of(p.thickness);
  if (above_12 || group == Group::outside)
    return library.wood_factor("CF Southern Pine above 12 in");
  if (bending && group == Group::four && p.width >= 7.25_in - size_tolerance) {
    return library.wood_factor("CF bending Southern Pine 4 in thick");
  }
  return library.wood_factor("CF Southern Pine to 12 in");
}

void check_gravity(double g) {
  require(g >= 0.31 / 1.2 && g <= 0.73,
          "the specific gravity of the wood is outside the range of the fastening formulas");
}

Stress to_50_psi(double psi) { return std::round(psi / 50) * 50 * 1.0_psi; }

void check_angle(Angle a) {
  require(a.value() >= 0 && a.value() <= pi / 2 * (1 + 1e-12),
          "the angle must lie between 0 and 90 degrees");
}

template <class Q>
Q at_angle(Q along, Q across, Angle a) {
  const double s = std::sin(radians(a));
  const double c = std::cos(radians(a));
  return along * (across / (along * s * s + across * c * c));
}

/// Smaller root of the buckling interaction of NDS 3.3.3.8 and 3.7.1.5.
double stability(double ratio, double c) {
  const double half = (1 + ratio) / (2 * c);
  return half - std::sqrt(half * half - ratio / c);
}

}  // namespace

// ---- Pieces
// --------------------------------------------------------------------------------------

WoodStrength nominal_wood(const Wood& wood, const WoodPiece& p, const MaterialLibrary& library) {
  require(positive(p.thickness) && p.thickness <= p.width,
          "the thickness of a piece of wood must be above zero and not above its width");
  const auto factor = [&](const std::string& name) { return library.wood_factor(name); };
  const auto incised = [&](const char* property) {
    return p.incised ? factor(std::string("Ci ") + property) : 1.0;
  };
  const auto wet = [&](const char* property) {
    return p.wet ? factor(std::string("CM ") + property) : 1.0;
  };
  WoodStrength s;
  s.modulus = wood.modulus * wet("modulus") * incised("modulus");
  s.shear_modulus = s.modulus / 16.0;
  s.lateral = nominal_connection(1.0 * si::newton, ConnectionLoad::lateral, p.wet, library).value();
  const double wet_min = wet("modulus_min") * incised("modulus_min");
  const double wet_perp = wet("compression_perp") * incised("compression_perp");

  if (!wood.nds) {
    const double moist =
        p.wet ? factor("kmod wet instantaneous") / factor("kmod dry instantaneous") : 1.0;
    s.bending_on_edge = wood.bending * moist * incised("bending");
    s.bending_flat = s.bending_on_edge;
    s.edge_stress = s.bending_on_edge;
    s.tension = wood.tension * moist * incised("tension");
    s.shear = wood.shear * moist * incised("shear");
    s.compression = wood.compression * moist * incised("compression");
    s.bearing = wood.compression_perp * wet_perp;
    s.crushing = s.bearing;
    s.modulus_min = wood.modulus_min * wet_min;
    return s;
  }

  const auto size = [&](const char* property, bool bending) {
    return wood.southern_pine ? southern_pine_factor(wood, p, bending, library)
                              : size_factor(p, property, library);
  };
  const Stress sized_bending = wood.bending * size("bending", true);
  const Stress sized_compression = wood.compression * size("compression", false);
  // The sum of two conversions may hang on the last bit: a hair is forgiven.
  const auto low = [](Stress s0, Stress limit) { return s0 <= limit * (1 + 1e-9); };
  const double wet_bending = wet(low(sized_bending, 1150.0_psi) ? "bending low stress" : "bending");
  const double wet_compression =
      wet(low(sized_compression, 750.0_psi) ? "compression low stress" : "compression");

  s.bending_on_edge = factor("KF bending") * sized_bending * wet_bending * incised("bending");
  s.bending_flat = s.bending_on_edge * flat_use_factor(p, library);
  s.edge_stress = s.bending_on_edge;
  s.tension = factor("KF tension") * wood.tension * size("tension", false) * wet("tension") *
              incised("tension");
  s.shear = factor("KF shear") * wood.shear * wet("shear") * incised("shear");
  s.compression =
      factor("KF compression") * sized_compression * wet_compression * incised("compression");
  s.bearing = factor("KF compression_perp") * wood.compression_perp * wet_perp;
  s.crushing = 0.54 * wood.compression_perp * wet_perp;
  s.modulus_min = factor("KF modulus_min") * wood.modulus_min * wet_min;
  return s;
}

Stress least_modulus(Stress modulus) {
  require(positive(modulus), "the modulus must be above zero");
  return modulus * ((1 - 1.645 * 0.25) * 1.03 / 1.66);
}

double load_duration(double seconds) {
  require(seconds >= 1, "the duration must be at least one second");
  const auto level = [](double t) { return 18.3 + 108.4 * std::pow(t, -0.04635); };
  constexpr double ten_years = 10 * 365.25 * 86400;
  return level(seconds) / level(ten_years);
}

Volume net_modulus_flat(const WoodPiece& p, Length hole, int holes) {
  return net_area(p, hole, holes) * p.thickness / 6.0;
}

Volume net_modulus_on_edge(const WoodPiece& p, Length hole, Length offset) {
  require(positive(p.thickness) && positive(p.width), "a piece of wood needs a size");
  require(hole.value() >= 0 && units::abs(offset) + 0.5 * hole < 0.5 * p.width,
          "the hole does not lie within the piece");
  const Area gross = p.thickness * p.width;
  const Area cut = p.thickness * hole;
  const Length e = units::abs(offset);
  const Length axis = -(cut * e) / (gross - cut);  // centroid moves away from the hole
  const SecondMoment about_middle =
      gross * p.width * p.width / 12.0 - cut * hole * hole / 12.0 - cut * e * e;
  const SecondMoment net = about_middle - (gross - cut) * axis * axis;
  return net / (0.5 * p.width - axis);  // the edge on the side of the hole is the farther one
}

Area net_area(const WoodPiece& p, Length hole, int holes) {
  require(positive(p.thickness) && positive(p.width), "a piece of wood needs a size");
  require(hole.value() >= 0 && holes >= 0 && double(holes) * hole < p.width,
          "the holes leave nothing of the piece");
  return p.thickness * (p.width - double(holes) * hole);
}

Moment torsion_strength(Stress shear, double alpha, Length thickness, Length width) {
  require(positive(thickness) && thickness <= width,
          "the thickness of a piece of wood must be above zero and not above its width");
  require(alpha >= 0.2 && alpha <= 1.0 / 3 + 1e-9, "no torsion coefficient of a rectangle");
  return shear * alpha * width * thickness * thickness;
}

Stress hankinson(Stress parallel, Stress perpendicular, Angle to_grain) {
  require(positive(parallel) && positive(perpendicular), "strengths must be above zero");
  check_angle(to_grain);
  return at_angle(parallel, perpendicular, to_grain);
}

// ---- Bearing across the grain
// --------------------------------------------------------------------

double bearing_area_factor(Length length, bool near_end) {
  require(positive(length), "the bearing length must be above zero");
  if (near_end || length >= 6.0_in) return 1;
  return (length + 0.375_in) / length;
}

Area washer_area(Length outside, Length hole) {
  require(hole.value() >= 0 && hole < outside, "the hole must be smaller than the washer");
  return pi / 4 * (outside * outside - hole * hole);
}

Force washer_bearing(const WoodStrength& s, Length outside, Length hole, bool near_end) {
  return s.bearing * bearing_area_factor(outside, near_end) * washer_area(outside, hole);
}

Force crushing_strength(const WoodStrength& s, Area contact) { return 3.0 * s.crushing * contact; }

// ---- Dowel-type fasteners
// ------------------------------------------------------------------------

WoodFastener lag_screw(std::string_view size) {
  struct Lag {
    std::string_view size;
    Length diameter, root, tip;
    Stress yield;
  };
  static const Lag table[] = {
      {"1/4", 0.25_in, 0.173_in, 0.15625_in, 70.0_ksi},
      {"5/16", 0.3125_in, 0.227_in, 0.1875_in, 60.0_ksi},
      {"3/8", 0.375_in, 0.265_in, 0.21875_in, 45.0_ksi},
      {"7/16", 0.4375_in, 0.328_in, 0.28125_in, 45.0_ksi},
      {"1/2", 0.5_in, 0.371_in, 0.3125_in, 45.0_ksi},
      {"5/8", 0.625_in, 0.471_in, 0.40625_in, 45.0_ksi},
      {"3/4", 0.75_in, 0.579_in, 0.5_in, 45.0_ksi},
  };
  for (const Lag& l : table) {
    if (l.size == size) {
      return {WoodFastenerKind::lag_screw,
              std::string(size) + " in lag screw",
              l.diameter,
              l.root,
              l.yield,
              l.tip,
              Length{}};
    }
  }
  throw UnknownName("no lag screw of size \"" + std::string(size) + "\"; 1/4 to 3/4 are known");
}

WoodFastener wood_screw(int number) {
  struct Screw {
    int number;
    Length diameter, root;
    Stress yield;
    Length head;
  };
  static const Screw table[] = {
      {6, 0.138_in, 0.113_in, 100.0_ksi, 0.262_in}, {7, 0.151_in, 0.122_in, 90.0_ksi, 0.287_in},
      {8, 0.164_in, 0.131_in, 90.0_ksi, 0.312_in},  {9, 0.177_in, 0.142_in, 90.0_ksi, 0.337_in},
      {10, 0.190_in, 0.152_in, 80.0_ksi, 0.363_in}, {12, 0.216_in, 0.171_in, 80.0_ksi, 0.414_in},
      {14, 0.242_in, 0.196_in, 70.0_ksi, 0.480_in}, {16, 0.268_in, 0.209_in, 70.0_ksi, 0.515_in},
      {18, 0.294_in, 0.232_in, 60.0_ksi, 0.602_in}, {20, 0.320_in, 0.255_in, 60.0_ksi, 0.616_in},
  };
  for (const Screw& s : table) {
    if (s.number == number) {
      return {WoodFastenerKind::wood_screw,
              "No. " + std::to_string(number) + " wood screw",
              s.diameter,
              s.root,
              s.yield,
              2.0 * s.diameter,
              s.head};
    }
  }
  throw UnknownName("no wood screw No. " + std::to_string(number) +
                    "; 6 to 10 and even numbers to 20 are known");
}

Length thread_length(const WoodFastener& f, Length length) {
  require(positive(length), "the length of a screw must be above zero");
  if (f.kind == WoodFastenerKind::lag_screw) {
    return std::min({length, 6.0_in, 0.5 * length + 0.5_in});
  }
  return std::min(length, std::max(4.0 * f.diameter, 2.0 / 3.0 * length));
}

Length least_penetration(const WoodFastener& f) {
  return (f.kind == WoodFastenerKind::lag_screw ? 4.0 : 6.0) * f.diameter;
}

Length bearing_length(Length penetration, Length tip) {
  require(tip.value() >= 0 && penetration > 0.5 * tip,
          "the screw reaches no further than half of its tip");
  return penetration - 0.5 * tip;
}

Stress bending_yield_strength(Stress yield, Stress ultimate) {
  require(positive(yield) && yield <= ultimate, "the yield strength must be above zero");
  return 0.5 * (yield + ultimate);
}

Stress dowel_bearing(double g, Length diameter, Angle to_grain) {
  check_gravity(g);
  check_angle(to_grain);
  const double d = in_inches(diameter);
  require(d > 0 && d <= 1 + 1e-9, "the fastening formulas end at a diameter of 1 in");
  if (d < 0.25 * (1 - 1e-9)) return to_50_psi(16600 * std::pow(g, 1.84));
  const Stress along = to_50_psi(11200 * g);
  const Stress across = to_50_psi(6100 * std::pow(g, 1.45) / std::sqrt(d));
  return at_angle(along, across, to_grain);
}

Stress steel_dowel_bearing(Stress ultimate, Length thickness) {
  require(positive(ultimate) && positive(thickness), "a plate needs strength and thickness");
  return (thickness >= 0.25_in * (1 - 1e-9) ? 1.5 : 1.375) * ultimate;
}

Stress aluminium_dowel_bearing(Stress ultimate) {
  require(positive(ultimate), "a plate needs a strength");
  return 1.25 * ultimate;
}

DowelYield dowel_yield(const Dowel& in) {
  require(positive(in.diameter) && positive(in.nominal) && positive(in.main) && positive(in.side),
          "diameters and bearing lengths of a fastener must be above zero");
  require(positive(in.main_bearing) && positive(in.side_bearing) && positive(in.bending_yield),
          "strengths of a fastening must be above zero");
  require(in.nominal <= 1.0_in * (1 + 1e-9) && in.diameter <= in.nominal * (1 + 1e-9),
          "the fastening formulas end at a diameter of 1 in, and the root is not above it");
  check_angle(in.to_grain);
  const Length d = in.diameter;
  const Stress fem = in.main_bearing;
  const Stress fyb = in.bending_yield;
  const double re = fem / in.side_bearing;
  const double rt = in.main / in.side;
  const double bend = 2 * (fyb / fem) * (d * d / (in.main * in.main)) / 3;
  const double bend_side = 2 * (fyb / fem) * (d * d / (in.side * in.side)) / 3;
  const double k1 =
      (std::sqrt(re + 2 * re * re * (1 + rt + rt * rt) + rt * rt * re * re * re) - re * (1 + rt)) /
      (1 + re);
  const double k2 = -1 + std::sqrt(2 * (1 + re) + bend * (1 + 2 * re));
  const double k3 = -1 + std::sqrt(2 * (1 + re) / re + bend_side * (2 + re));

  constexpr double hair = 1 - 1e-9;
  const double kt = 1 + 0.25 * in_degrees(in.to_grain) / 90;
  const double di = in_inches(d);
  double rd_i = 4 * kt;
  double rd_ii = 3.6 * kt;
  double rd_iii = 3.2 * kt;
  if (di < 0.25 * hair) {
    double kd = di <= 0.17 / hair ? 2.2 : 10 * di + 0.5;
    if (in.nominal >= 0.25_in * hair) kd *= kt;
    rd_i = rd_ii = rd_iii = kd;
  }

  DowelYield out;
  const double planes = in.double_shear ? 2 : 1;
  out.modes.push_back({"Im", d * in.main * fem / rd_i});
  out.modes.push_back({"Is", planes * d * in.side * in.side_bearing / rd_i});
  if (!in.double_shear) {
    out.modes.push_back({"II", k1 * d * in.side * in.side_bearing / rd_ii});
    out.modes.push_back({"IIIm", k2 * d * in.main * fem / ((1 + 2 * re) * rd_iii)});
  }
  out.modes.push_back({"IIIs", planes * k3 * d * in.side * fem / ((2 + re) * rd_iii)});
  out.modes.push_back(
      {"IV", planes * std::sqrt(2 * (fyb / fem) / (3 * (1 + re))) * d * d * fem / rd_iii});
  const auto least =
      std::min_element(out.modes.begin(), out.modes.end(),
                       [](const YieldMode& a, const YieldMode& b) { return a.value < b.value; });
  out.reference = least->value;
  out.governing = least->name;
  return out;
}

Force nominal_connection(Force reference, ConnectionLoad load, bool wet,
                         const MaterialLibrary& library) {
  const Force dry = library.wood_factor("KF connection") * reference;
  if (!wet) return dry;
  switch (load) {
    case ConnectionLoad::lateral:
      return library.wood_factor("CM connection lateral") * dry;
    case ConnectionLoad::withdrawal:
      return library.wood_factor("CM connection withdrawal") * dry;
    case ConnectionLoad::pull_through:
      return library.wood_factor("CM connection pull-through") * dry;
  }
  throw InternalError("a load on a connection without a wet factor");
}

LineLoad lag_withdrawal(double g, Length diameter, bool end_grain) {
  check_gravity(g);
  const double d = in_inches(diameter);
  require(d >= 0.25 * (1 - 1e-9) && d <= 1.25 * (1 + 1e-9),
          "lag screws reach from 1/4 to 1 1/4 in");
  const double w = 1800 * std::pow(g, 1.5) * std::pow(d, 0.75);
  return (end_grain ? 0.75 : 1.0) * w * 1.0_lbf / 1.0_in;
}

LineLoad wood_screw_withdrawal(double g, Length diameter) {
  check_gravity(g);
  const double d = in_inches(diameter);
  require(d >= 0.138 * (1 - 1e-9) && d <= 0.372 * (1 + 1e-9),
          "wood screws reach from No. 6 to No. 24");
  return 2850 * g * g * d * 1.0_lbf / 1.0_in;
}

Force head_pull_through(double g, Length head, Length thickness) {
  check_gravity(g);
  require(positive(head) && positive(thickness), "head and wood need a size");
  const Length counted = std::min(thickness, 2.5 * head);
  return 690 * pi * g * g * in_inches(head) * in_inches(counted) * 1.0_lbf;
}

double combined_utilisation(Force lateral, Force axial, Force lateral_strength,
                            Force axial_strength) {
  require(positive(lateral_strength) && positive(axial_strength), "strengths must be above zero");
  require(lateral.value() >= 0 && axial.value() >= 0, "loads must not be below zero");
  const Force load = units::sqrt(lateral * lateral + axial * axial);
  if (!positive(load)) return 0;
  return (lateral / load) * (lateral / lateral_strength) +
         (axial / load) * (axial / axial_strength);
}

Force combined_strength(Force lateral_strength, Force axial_strength, Angle from_surface) {
  require(positive(lateral_strength) && positive(axial_strength), "strengths must be above zero");
  check_angle(from_surface);
  return at_angle(lateral_strength, axial_strength, from_surface);
}

Force end_grain_lateral(Force lateral, const MaterialLibrary& library) {
  return library.wood_factor("Ceg lateral") * lateral;
}

double group_action(int count, Length diameter, Length spacing, Force main, Force side,
                    bool metal_side) {
  require(count >= 1, "a row has at least one fastener");
  require(positive(diameter) && positive(spacing) && positive(main) && positive(side),
          "diameter, spacing and stiffness of a row must be above zero");
  const double d = in_inches(diameter);
  if (count == 1 || d < 0.25 * (1 - 1e-9)) return 1;
  const double gamma = (metal_side ? 270000 : 180000) * std::pow(d, 1.5);  // lbf/in
  const double m_ea = main / 1.0_lbf;
  const double s_ea = side / 1.0_lbf;
  const double rea = std::min(m_ea / s_ea, s_ea / m_ea);
  const double u = 1 + gamma * in_inches(spacing) / 2 * (1 / m_ea + 1 / s_ea);
  const double m = u - std::sqrt(u * u - 1);
  const double n = count;
  const double m2n = std::pow(m, 2 * n);
  return std::min(1.0, m * (1 - m2n) / (n * ((1 + rea * std::pow(m, n)) * (1 + m) - 1 + m2n)) *
                           (1 + rea) / (1 - m));
}

namespace {
double geometry(Length actual, Length least, Length full) {
  // A distance that meets the least but for the last bit is permitted.
  if (actual < least * (1 - 1e-9)) return 0;
  return std::min<double>(1.0, actual / full);
}
}  // namespace

double end_distance_factor(Length end, Length d, EndLoad load, bool hardwood) {
  require(positive(d) && end.value() >= 0, "diameter and end distance must not be below zero");
  if (d < 0.25_in * (1 - 1e-9)) return 1;
  const double full = load != EndLoad::toward_end ? 4 : hardwood ? 5 : 7;
  return geometry(end, 0.5 * full * d, full * d);
}

double row_spacing_factor(Length spacing, Length d) {
  require(positive(d) && spacing.value() >= 0, "diameter and spacing must not be below zero");
  if (d < 0.25_in * (1 - 1e-9)) return 1;
  return geometry(spacing, 3.0 * d, 4.0 * d);
}

Length least_edge_distance(Length d, Length bearing, bool load_across_grain, bool loaded_edge,
                           Length row_spacing) {
  require(positive(d), "the diameter must be above zero");
  if (load_across_grain) return (loaded_edge ? 4.0 : 1.5) * d;
  if (bearing <= 6.0 * d) return 1.5 * d;
  return std::max(1.5 * d, 0.5 * row_spacing);
}

Length least_row_distance(Length d, Length bearing, bool load_across_grain) {
  require(positive(d), "the diameter must be above zero");
  if (!load_across_grain) return 1.5 * d;
  const Length counted = std::clamp(bearing, 2.0 * d, 6.0 * d);
  return (5.0 * counted + 10.0 * d) / 8.0;
}

Length most_across_grain() { return 5.0_in; }

// ---- Tear-out and splitting
// ----------------------------------------------------------------------

Force row_tear_out(Stress shear, Length thickness, int count, Length critical) {
  require(positive(shear) && positive(thickness) && count >= 1 && positive(critical),
          "a row of fasteners needs strength, thickness and distances above zero");
  return double(count) * shear * thickness * critical;
}

Force group_tear_out(Force first_row, Force last_row, Stress tension, Area between) {
  require(positive(first_row) && positive(last_row) && positive(tension) && between.value() >= 0,
          "a group of fasteners needs strengths above zero");
  return 0.5 * first_row + 0.5 * last_row + tension * between;
}

Splitting splitting_strength(Stress shear, Length b, Length h, Length he, bool near_end, bool wet) {
  require(positive(shear) && positive(b), "strength and thickness must be above zero");
  require(positive(he) && he < h, "the fastener must lie between the edges of the piece");
  const double ratio = he / h;
  Splitting out;
  out.nds = 2.0 / 3.0 * shear * b * he * (near_end ? ratio * ratio : 1.0);
  out.en = 14 * (b / 1.0_mm) * std::sqrt(he / 1.0_mm / (1 - ratio)) * 1.0_N;
  if (wet) out.en *= 0.9 / 1.1;  // EN 1995-1-1 Table 3.1
  out.strength = std::min(out.nds, out.en);
  return out;
}

// ---- Stability
// -----------------------------------------------------------------------------------

Length beam_effective_length(Length lu, Length d, BeamLoad load) {
  require(positive(lu) && positive(d), "span and depth must be above zero");
  const bool deep = lu < 7.0 * d;
  switch (load) {
    case BeamLoad::uniform:
      return deep ? 2.06 * lu : 1.63 * lu + 3.0 * d;
    case BeamLoad::centre:
      return deep ? 1.80 * lu : 1.37 * lu + 3.0 * d;
    case BeamLoad::centre_braced:
      return 1.11 * lu;
    case BeamLoad::cantilever_end:
      return deep ? 1.87 * lu : 1.44 * lu + 3.0 * d;
    case BeamLoad::other:
      return deep ? 2.06 * lu : lu <= 14.3 * d ? 1.63 * lu + 3.0 * d : 1.84 * lu;
  }
  throw InternalError("a beam load without an effective length");
}

double beam_slenderness(Length le, Length d, Length b) {
  require(positive(le) && positive(d) && positive(b), "a beam needs a size");
  return std::sqrt(le * d / (b * b));
}

double beam_stability(Stress bending, Stress modulus_min, Length le, Length d, Length b) {
  require(positive(bending) && positive(modulus_min), "strength and modulus must be above zero");
  const double rb = beam_slenderness(le, d, b);
  if (d <= b) return 1;
  require(rb <= 50, "a plank on edge more slender than 50 is not permitted");
  return stability(1.20 * (modulus_min / bending) / (rb * rb), 0.95);
}

double column_stability(Stress compression, Stress modulus_min, Length le, Length side, double c) {
  require(positive(compression) && positive(modulus_min),
          "strength and modulus must be above zero");
  require(positive(le) && positive(side), "a leg needs a length and a side");
  require(c > 0 && c <= 1, "the column factor c lies between 0 and 1");
  const double slenderness = le / side;
  require(slenderness <= 50, "a leg more slender than 50 is not permitted");
  return stability(0.822 * (modulus_min / compression) / (slenderness * slenderness), c);
}

ColumnStrength column_strength(const WoodStrength& s, const WoodPiece& p, Length across_thickness,
                               Length across_width) {
  const double weak = column_stability(s.compression, s.modulus_min, across_thickness, p.thickness);
  const double strong = column_stability(s.compression, s.modulus_min, across_width, p.width);
  ColumnStrength out;
  out.about_weak_axis = weak <= strong;
  out.stability = std::min(weak, strong);
  out.crushing = s.compression * p.thickness * p.width;
  out.strength = out.stability * out.crushing;
  return out;
}

}  // namespace thole
