#include "fe_deck.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <map>
#include <sstream>
#include <stdexcept>

#include <fmt/format.h>
#include <Eigen/LU>

namespace thole::fe {

namespace {

using Eigen::Vector3d;
using Wrench = Eigen::Matrix<double, 6, 1>;

constexpr double mm = 1000;         // per m
constexpr double far = 10000;       // m, from a board node to the held end of its spring
constexpr double stretch = 0.5;     // m, half the length of a spring's table
constexpr double same_line = 1e-6;  // m

// Mesh lines through all the places, with steps no longer than `step` between them.
std::vector<double> lines(std::vector<double> places, double step) {
  std::sort(places.begin(), places.end());
  std::vector<double> out{places.front()};
  for (const double p : places) {
    const double from = out.back();
    if (p - from < same_line) continue;
    const int n = std::max(1, int(std::ceil((p - from) / step - 1e-9)));
    for (int i = 1; i <= n; ++i) out.push_back(from + (p - from) * i / n);
  }
  return out;
}

int line_at(const std::vector<double>& all, double place) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (std::abs(all[i] - place) < 2 * same_line) return int(i);
  }
  throw std::runtime_error("no mesh line at " + std::to_string(place));
}

// Twenty-node bricks on a grid. Half steps: even indices are corners, one odd index a middle node.
class Grid {
 public:
  Grid(std::vector<double> x, std::vector<double> y, std::vector<double> z)
      : axes_{std::move(x), std::move(y), std::move(z)} {
    for (int i = 0; i <= 2 * steps(0); ++i) {
      for (int j = 0; j <= 2 * steps(1); ++j) {
        for (int k = 0; k <= 2 * steps(2); ++k) {
          if (i % 2 + j % 2 + k % 2 > 1) continue;
          number_[{i, j, k}] = int(places_.size()) + 1;
          places_.emplace_back(along(0, i), along(1, j), along(2, k));
        }
      }
    }
  }

  [[nodiscard]] int steps(int axis) const { return int(axes_[std::size_t(axis)].size()) - 1; }
  [[nodiscard]] int node(int i, int j, int k) const { return number_.at({i, j, k}); }
  [[nodiscard]] const Vector3d& place(int node) const { return places_[std::size_t(node) - 1]; }
  [[nodiscard]] int nodes() const { return int(places_.size()); }
  [[nodiscard]] int elements() const { return steps(0) * steps(1) * steps(2); }
  [[nodiscard]] const std::vector<double>& axis(int a) const { return axes_[std::size_t(a)]; }

  // Nodes of the element, in the order of CalculiX.
  [[nodiscard]] std::array<int, 20> brick(int i, int j, int k) const {
    static constexpr int order[20][3] = {{0, 0, 0}, {2, 0, 0}, {2, 2, 0}, {0, 2, 0}, {0, 0, 2},
                                         {2, 0, 2}, {2, 2, 2}, {0, 2, 2}, {1, 0, 0}, {2, 1, 0},
                                         {1, 2, 0}, {0, 1, 0}, {1, 0, 2}, {2, 1, 2}, {1, 2, 2},
                                         {0, 1, 2}, {0, 0, 1}, {2, 0, 1}, {2, 2, 1}, {0, 2, 1}};
    std::array<int, 20> out{};
    for (std::size_t n = 0; n < 20; ++n) {
      out[n] = node(2 * i + order[n][0], 2 * j + order[n][1], 2 * k + order[n][2]);
    }
    return out;
  }

  // Nodes of the section at a mesh line with their part of an even traction over it.
  [[nodiscard]] std::map<int, double> section(int i) const {
    std::map<int, double> out;
    for (int j = 0; j < steps(1); ++j) {
      for (int k = 0; k < steps(2); ++k) {
        const double area =
            (along(1, 2 * j + 2) - along(1, 2 * j)) * (along(2, 2 * k + 2) - along(2, 2 * k));
        for (const int b : {0, 1, 2}) {
          for (const int c : {0, 1, 2}) {
            if (b == 1 && c == 1) continue;
            const bool corner = b != 1 && c != 1;
            out[node(2 * i, 2 * j + b, 2 * k + c)] += area * (corner ? -1.0 / 12 : 1.0 / 3);
          }
        }
      }
    }
    return out;
  }

 private:
  [[nodiscard]] double along(int axis, int half) const {
    const std::vector<double>& a = axes_[std::size_t(axis)];
    const auto at = std::size_t(half / 2);
    return half % 2 == 0 ? a[at] : 0.5 * (a[at] + a[at + 1]);
  }

  std::array<std::vector<double>, 3> axes_;
  std::map<std::array<int, 3>, int> number_;
  std::vector<Vector3d> places_;
};

// Motion of a point at r of a rigid body: columns are shifts of the origin, then rotations.
Eigen::Matrix<double, 3, 6> rigid(const Vector3d& r) {
  Eigen::Matrix<double, 3, 6> out;
  out << Eigen::Matrix3d::Identity(), Eigen::Matrix3d::Zero();
  for (int c = 0; c < 3; ++c) out.col(3 + c) = Vector3d::Unit(c).cross(r);
  return out;
}

// Shares of unit wrenches about the middle of the section.
std::vector<Share> spread(const Grid& grid, double station) {
  const auto nodes = grid.section(line_at(grid.axis(0), station));
  const Vector3d middle(station, 0, 0);
  Eigen::Matrix<double, 6, 6> gram = Eigen::Matrix<double, 6, 6>::Zero();
  for (const auto& [node, weight] : nodes) {
    const auto r = rigid(grid.place(node) - middle);
    gram += weight * r.transpose() * r;
  }
  const Eigen::Matrix<double, 6, 6> inverse = gram.inverse();
  std::vector<Share> out;
  for (const auto& [node, weight] : nodes) {
    out.push_back({node, weight * rigid(grid.place(node) - middle) * inverse});
  }
  return out;
}

// Shares of unit wrenches at a load point: on its section, or on two of which each takes half of
// force and torque, and a couple of forces for the moments across the board.
std::vector<Share> shares_of(const Grid& grid, const LoadPoint& p) {
  const double first = p.station.value();
  const double second = p.second ? p.second->value() : first;
  const Vector3d arm = p.at.si_values() - Vector3d(0.5 * (first + second), 0, 0);
  Eigen::Matrix<double, 6, 6> to_middle = Eigen::Matrix<double, 6, 6>::Identity();
  for (int c = 0; c < 3; ++c) to_middle.col(c).tail<3>() = arm.cross(Vector3d::Unit(c));
  std::vector<Share> out;
  for (const double station : {first, second}) {
    if (!p.second && !out.empty()) break;
    Eigen::Matrix<double, 6, 6> part = Eigen::Matrix<double, 6, 6>::Identity();
    if (p.second) {
      const double sign = station == first ? 1 : -1;
      part *= 0.5;
      part.block<2, 6>(4, 0).setZero();
      part(2, 4) = sign / (second - first);
      part(1, 5) = -sign / (second - first);
    }
    for (Share s : spread(grid, station)) {
      s.of = s.of * part * to_middle;
      out.push_back(s);
    }
  }
  return out;
}

// A support's spring: its own force along its length, below zero when pressed.
double law(const Support& s, double longer) {
  const double k = s.stiffness.value();
  return s.two_way ? k * longer : -k * std::max(0.0, -longer - s.gap.value());
}

// The same as a table for CalculiX. It starts with all contacts without a gap closed (pressed by a
// millionth of a millimetre) and leaves a trace of stiffness in an open one: else the first
// iteration would find a board that floats.
constexpr double pressed = 1e-9;  // m
constexpr double trace = 1e-7;    // of the stiffness

std::vector<std::pair<double, double>> table_of(const Support& s) {
  const double k = s.stiffness.value();
  if (s.two_way) return {{-stretch, -k * stretch}, {stretch, k * stretch}};
  const double knee = -s.gap.value() + pressed;
  return {{-stretch, k * (-stretch - knee)}, {knee, 0}, {stretch, trace * k * (stretch - knee)}};
}

// A number that CalculiX cannot take for an integer.
std::string real(double v) { return fmt::format("{:.9e}", v); }

std::string quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

// Displacements of the last increment that the .dat file prints, m.
std::map<int, Vector3d> read_displacements(const std::filesystem::path& file) {
  std::ifstream in(file);
  std::map<int, Vector3d> out;
  std::string line;
  while (std::getline(in, line)) {
    if (line.find("displacements") != std::string::npos) {
      out.clear();
      continue;
    }
    std::istringstream words(line);
    int node = 0;
    double x = 0;
    double y = 0;
    double z = 0;
    if (words >> node >> x >> y >> z) out[node] = Vector3d(x, y, z) / mm;
  }
  return out;
}

}  // namespace

Deck write_deck(const BeamProperties& beam, const std::vector<Support>& supports,
                const std::vector<LoadPoint>& points, const std::vector<PointLoad>& loads,
                const Mesh& mesh) {
  const double length = beam.length.value();
  const double width = beam.section.width.value();
  const double depth = beam.section.depth.value();
  if (std::abs(beam.section.area.value() - width * depth) > 1e-9 * width * depth) {
    throw std::runtime_error("the solid model takes full rectangles only");
  }

  std::vector<double> xs{0, length};
  std::vector<double> ys{-0.5 * width, 0, 0.5 * width};
  std::vector<double> zs{-0.5 * depth, 0, 0.5 * depth};
  for (const Support& s : supports) {
    xs.push_back(s.at.x().value());
    ys.push_back(s.at.y().value());
    zs.push_back(s.at.z().value());
  }
  for (const LoadPoint& p : points) {
    xs.push_back(p.station.value());
    if (p.second) xs.push_back(p.second->value());
  }
  for (const auto& [places, half] : {std::pair{&ys, 0.5 * width}, std::pair{&zs, 0.5 * depth}}) {
    for (const double p : *places) {
      if (std::abs(p) > half + same_line) throw std::runtime_error("a support beside the board");
    }
  }
  const Grid grid(lines(xs, mesh.step), lines(ys, mesh.step),
                  lines(zs, std::min(mesh.step, depth / mesh.layers)));

  Deck out;
  out.supports = supports;
  out.elements = grid.elements();
  out.applied.setZero();
  std::string& t = out.text;
  auto end = std::back_inserter(t);

  t += "** Written by thole's tests. N, mm, MPa; x along the board from port, y forward, z up.\n";
  t += "*NODE,NSET=BOARD\n";
  const auto write_node = [&](int number, const Vector3d& at) {
    fmt::format_to(end, "{},{},{},{}\n", number, real(at.x() * mm), real(at.y() * mm),
                   real(at.z() * mm));
  };
  for (int n = 1; n <= grid.nodes(); ++n) write_node(n, grid.place(n));
  t += "*ELEMENT,TYPE=C3D20R,ELSET=BOARD\n";
  int element = 0;
  for (int i = 0; i < grid.steps(0); ++i) {
    for (int j = 0; j < grid.steps(1); ++j) {
      for (int k = 0; k < grid.steps(2); ++k) {
        fmt::format_to(end, "{}", ++element);
        int column = 1;
        for (const int n : grid.brick(i, j, k)) {
          t += column++ == 10 ? ",\n" : ",";
          fmt::format_to(end, "{}", n);
        }
        t += "\n";
      }
    }
  }
  const double e = beam.modulus.value() / 1e6;
  const double g = beam.shear_modulus.value() / 1e6;
  t += "*MATERIAL,NAME=GRAIN\n*ELASTIC,TYPE=ENGINEERING CONSTANTS\n";
  fmt::format_to(end, "{},{},{},0.,0.,0.,{},{}\n{}\n", real(e), real(20 * e), real(20 * e), real(g),
                 real(g), real(5 * e));
  // Density in t/mm^3, gravity 1 mm/s^2 in its direction: together the weight.
  t += "*DENSITY\n" + real(beam.weight.value() / (width * depth) / 1e9) + "\n";
  t += "*SOLID SECTION,ELSET=BOARD,MATERIAL=GRAIN\n";

  // Without a material that is not linear CalculiX would not iterate on the contacts: a brick that
  // stands aside, held all round.
  int number = grid.nodes();
  const int aside = number + 1;
  t += "*NODE,NSET=HELD\n";
  for (const double z : {0.0, 0.01}) {
    for (const auto& [x, y] : {std::pair{0.0, 0.0}, {0.01, 0.0}, {0.01, 0.01}, {0.0, 0.01}}) {
      write_node(++number, Vector3d(x - 1, y, z));
    }
  }
  t += "*ELEMENT,TYPE=C3D8,ELSET=ASIDE\n" + std::to_string(++element);
  for (int n = aside; n < aside + 8; ++n) t += "," + std::to_string(n);
  t += "\n*MATERIAL,NAME=STEEL\n*ELASTIC\n200000.,0.3\n*PLASTIC\n200.,0.\n";
  t += "*SOLID SECTION,ELSET=ASIDE,MATERIAL=STEEL\n";

  for (std::size_t i = 0; i < supports.size(); ++i) {
    const Support& s = supports[i];
    const int node = grid.node(2 * line_at(grid.axis(0), s.at.x().value()),
                               2 * line_at(grid.axis(1), s.at.y().value()),
                               2 * line_at(grid.axis(2), s.at.z().value()));
    out.support_nodes.push_back(node);
    fmt::format_to(end, "** {}\n*NODE,NSET=HELD\n", s.name);
    write_node(++number, grid.place(node) - far * s.push.si_values());
    fmt::format_to(end, "*ELEMENT,TYPE=SPRINGA,ELSET=S{}\n{},{},{}\n", i, ++element, number, node);
    fmt::format_to(end, "*SPRING,ELSET=S{},NONLINEAR\n", i);
    for (const auto& [longer, force] : table_of(s)) {
      fmt::format_to(end, "{},{}\n", real(force), real(longer * mm));
    }
  }
  t += "*BOUNDARY\nHELD,1,3\n";

  std::map<int, Vector3d> forces;
  for (const LoadPoint& p : points) out.points.push_back(shares_of(grid, p));
  for (const PointLoad& l : loads) {
    Wrench w;
    w << l.force.si_values(), l.moment.si_values();
    for (const Share& s : out.points[std::size_t(l.point)]) {
      const Vector3d f = s.of * w;
      const auto at = forces.try_emplace(s.node, Vector3d::Zero()).first;
      at->second += f;
      out.applied.head<3>() += f;
      out.applied.tail<3>() += grid.place(s.node).cross(f);
    }
  }
  const Vector3d down = beam.down.si_values();
  const Vector3d weight = length * beam.weight.value() * down;
  out.applied.head<3>() += weight;
  out.applied.tail<3>() += Vector3d(0.5 * length, 0, 0).cross(weight);

  t += "*NSET,NSET=WATCHED\n";
  std::map<int, bool> watched;
  for (const int n : out.support_nodes) watched[n] = true;
  for (const auto& point : out.points) {
    for (const Share& s : point) watched[s.node] = true;
  }
  for (const auto& [n, yes] : watched) fmt::format_to(end, "{},\n", n);

  // Contacts open and close between iterations: more of them before an increment is cut.
  t += "*STEP,INC=1000,NLGEOM=NO\n*STATIC\n1.,1.,1.e-4,1.\n";
  t += "*CONTROLS,PARAMETERS=TIME INCREMENTATION\n30,40,9,80,10,4,,5,,\n";
  t += "*CONTROLS,PARAMETERS=FIELD\n1.e-4,1.e-3,,,,,,\n";
  t += "*DLOAD\nBOARD,GRAV,1.," + real(down.x()) + "," + real(down.y()) + "," + real(down.z()) +
       "\n*CLOAD\n";
  for (const auto& [n, f] : forces) {
    for (int c = 0; c < 3; ++c) fmt::format_to(end, "{},{},{}\n", n, c + 1, real(f(c)));
  }
  t += "*NODE PRINT,NSET=WATCHED,FREQUENCY=1000\nU\n*END STEP\n";
  return out;
}

std::string find_ccx() {
  if (const char* given = std::getenv("THOLE_CCX")) {
    return std::filesystem::exists(given) ? given : "";
  }
  const char* path = std::getenv("PATH");
  std::istringstream folders(path != nullptr ? path : "");
  for (std::string folder; std::getline(folders, folder, ':');) {
    const auto program = std::filesystem::path(folder) / "ccx";
    if (!folder.empty() && std::filesystem::exists(program)) return program.string();
  }
  return "";
}

Solid run_ccx(const Deck& deck, const std::filesystem::path& folder) {
  const std::string ccx = find_ccx();
  if (ccx.empty()) throw std::runtime_error("CalculiX (ccx) is not installed");
  std::filesystem::create_directories(folder);
  const auto dat = folder / "board.dat";
  std::filesystem::remove(dat);
  std::ofstream(folder / "board.inp") << deck.text;
  const std::string command = "cd " + quoted(folder.string()) + " && OMP_NUM_THREADS=1 " +
                              quoted(ccx) + " -i board >board.log 2>&1";
  const auto start = std::chrono::steady_clock::now();
  const int code = std::system(command.c_str());
  Solid out;
  out.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  const auto moved = read_displacements(dat);
  std::ostringstream log;
  log << std::ifstream(folder / "board.log").rdbuf();
  const bool complaint = log.str().find("*ERROR") != std::string::npos ||
                         log.str().find("Job finished") == std::string::npos;
  if (code != 0 || complaint || moved.empty()) {
    throw std::runtime_error("CalculiX gave no answer, see " + (folder / "board.log").string());
  }

  Wrench sum = deck.applied;
  for (std::size_t i = 0; i < deck.supports.size(); ++i) {
    const Support& s = deck.supports[i];
    const double longer = s.push.si_values().dot(moved.at(deck.support_nodes[i]));
    const double force = -law(s, longer);
    out.forces.push_back(force);
    out.openings.push_back(longer + s.gap.value());
    const Vector3d f = force * s.push.si_values();
    sum.head<3>() += f;
    sum.tail<3>() += s.at.si_values().cross(f);
  }
  out.unbalanced = std::max(sum.head<3>().norm() / deck.applied.head<3>().norm(),
                            sum.tail<3>().norm() / deck.applied.tail<3>().norm());
  for (const auto& point : deck.points) {
    Wrench motion = Wrench::Zero();
    for (const Share& s : point) motion += s.of.transpose() * moved.at(s.node);
    out.points.push_back({Vector<Length, Board>::from_si(motion.head<3>()),
                          Vector<Angle, Board>::from_si(motion.tail<3>())});
  }
  return out;
}

double seconds_of_ccx(const Deck& deck, const std::filesystem::path& folder) {
  return run_ccx(deck, folder).seconds;
}

}  // namespace thole::fe
