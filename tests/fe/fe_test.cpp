// The frame against a solid model that CalculiX computes now, from the same setup file.
//
//   thole_fe [--middle] [--times] [--step MM] [--folder FOLDER] SETUP...
//
// --step: the largest element, 25 mm when left out. --times: seconds of CalculiX and of the frame.
//
// Of each setup: the first gear is pulled at its boom tip with its slipping brake, astern and 60
// degrees down, the boom at the first of its angles; every gear has its weight, every other gear
// its ball. Exit code 0: as near as stated, 1: not, 2: no answer, 77: CalculiX is not installed.
//
// Stated (with recorded solid results, see published_board_test.cpp): contact forces within 2.5 %
// of the largest, the same contacts open, the tip within 10 %.
//
// Not compared: what bolts and pins take along the board. They lie off the middle of the section,
// where warping moves the wood along the board (some hundredths of a millimetre), and in the frame
// a support moves rigidly with its station. In the solid two such springs at one end hold the
// warping and get forces against each other that the frame does not have. --middle puts them at
// half the thickness in both models, where a rectangle does not warp along its middle line, and
// compares them as well: there they agree.

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include <thole/board_frame.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/towed_line.hpp>

#include <fmt/format.h>

#include "core/board_structure.hpp"
#include "fe_deck.hpp"

namespace {

using Eigen::Vector3d;
using namespace thole;

constexpr double force_share = 0.025;  // of the largest contact
constexpr double tip_share = 0.10;
constexpr double slight = 0.005;     // of the largest contact: may be open or closed
constexpr double unbalanced = 1e-3;  // the .dat file has seven figures
constexpr double degree = 0.017453292519943295;

std::string text_of(const std::string& file) {
  std::ifstream in(file);
  if (!in) throw std::runtime_error(file + ": no such file");
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

struct Loads {
  std::vector<PointLoad> all;
  int pulled = 0;                   // load point
  Vector3d arm = Vector3d::Zero();  // of the tip from that load point
};

Loads loads_of(const Setup& setup) {
  Loads out;
  bool first = true;
  for (std::size_t i = 0; i < setup.gear.size(); ++i) {
    const Gear& gear = setup.gear[i];
    if (!gear.downrigger) throw std::runtime_error("a gear that is no downrigger");
    const Downrigger& d = *gear.downrigger;
    const Eigen::Matrix3d axes = board::axes_from(setup.board(), gear.place.side);
    const double angle = d.boom_angles.at(0).value();
    const Vector3d tip =
        axes * Vector3d(-std::cos(angle) * d.boom_length.value(),
                        std::sin(angle) * d.boom_length.value(), d.tip_height.value());
    const Vector3d drum = axes * Vector3d(0, 0, d.mass_height.value());
    const Vector3d weight = axes * Vector3d(0, 0, -d.mass.value() * 9.80665);
    Vector3d pull = axes * Vector3d(0, 0, -d.ball.value() * 9.80665);
    if (first) {
      if (!d.brake_slip) throw std::runtime_error("no brake_slip to pull with");
      const double dip = 60 * degree;
      pull = d.brake_slip->value.value() * (axes * Vector3d(-std::cos(dip), 0, -std::sin(dip)));
      out.pulled = int(i);
      out.arm = tip;
      first = false;
    }
    out.all.push_back({int(i), ForceVector<Board>::from_si(pull + weight),
                       MomentVector<Board>::from_si(tip.cross(pull) + drum.cross(weight))});
  }
  return out;
}

Vector3d tip_of(const PointMotion& m, const Vector3d& arm) {
  return m.shift.si_values() + m.turn.si_values().cross(arm);
}

// Best of several runs.
template <class Run>
double seconds_of(int runs, Run run) {
  double best = 1e9;
  for (int i = 0; i < runs; ++i) {
    const auto start = std::chrono::steady_clock::now();
    run();
    best = std::min(
        best, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
  }
  return best;
}

struct Options {
  bool middle = false;
  bool times = false;
  fe::Mesh mesh;
  std::filesystem::path folder = std::filesystem::temp_directory_path() / "thole-fe";
};

bool compare(const std::string& file, const Options& options) {
  const Setup setup = read_setup(text_of(file), file, built_in_materials());
  const board::Structure s = board::structure_of(setup);
  std::vector<Support> supports;
  for (const board::BoardSupport& b : s.supports) {
    Support one = b.support;
    const Vector3d at = one.at.si_values();
    if (b.along && options.middle) one.at = Position<Board>::from_si({at.x(), at.y(), 0});
    if (b.role == board::Role::seat) one.name += fmt::format(", y {:.0f} mm", 1000 * at.y());
    supports.push_back(one);
  }
  const Loads loads = loads_of(setup);

  const BoardFrame frame(s.beam, supports, s.points);
  const BeamAnswer answer = frame.solve(loads.all);
  if (answer.balance != Balance::stable) {
    throw std::runtime_error(file + ": the frame finds no balance, " + answer.motion);
  }
  const fe::Deck deck = fe::write_deck(s.beam, supports, s.points, loads.all, options.mesh);
  const fe::Solid solid = fe::run_ccx(deck, options.folder / std::filesystem::path(file).stem());

  fmt::print("{}{}\n{} elements, CalculiX's supports and loads balance to {:.1e}\n\n", setup.title,
             options.middle ? ", held along the board at half its thickness" : "", deck.elements,
             solid.unbalanced);
  fmt::print("  {:46}{:>10}{:>10}{:>12}\n", "force on the board, N", "frame", "solid",
             "difference");
  double largest = 0;
  for (std::size_t i = 0; i < supports.size(); ++i) {
    if (!supports[i].two_way) largest = std::max(largest, solid.forces[i]);
  }
  bool good = solid.unbalanced <= unbalanced;
  double worst = 0;
  for (std::size_t i = 0; i < supports.size(); ++i) {
    const double found = answer.supports[i].value();
    const double there = solid.forces[i];
    if (found == 0 && there == 0) continue;
    const double share = (found - there) / largest;
    const bool compared = options.middle || !s.supports[i].along;
    const bool differs = !supports[i].two_way && (found > 0) != (there > 0) &&
                         std::max(found, there) > slight * largest;
    if (compared) {
      worst = std::max(worst, std::abs(share));
      good = good && std::abs(share) <= force_share && !differs;
    }
    fmt::print("  {:46}{:10.1f}{:10.1f}{:10.2f} %{}\n", supports[i].name, found, there, 100 * share,
               differs     ? "  open or closed?"
               : !compared ? "  not compared"
                           : "");
  }
  const auto point = std::size_t(loads.pulled);
  const Vector3d tip = 1000 * tip_of(answer.points[point], loads.arm);
  const Vector3d tip_there = 1000 * tip_of(solid.points[point], loads.arm);
  const double tip_differs = (tip - tip_there).norm() / tip_there.norm();
  good = good && tip_differs <= tip_share;
  fmt::print("  tip, mm: frame ({:.2f}, {:.2f}, {:.2f}), solid ({:.2f}, {:.2f}, {:.2f})\n", tip.x(),
             tip.y(), tip.z(), tip_there.x(), tip_there.y(), tip_there.z());
  fmt::print("  largest difference: forces {:.2f} % of the largest, tip {:.1f} %: {}\n\n",
             100 * worst, 100 * tip_differs, good ? "as near as stated" : "NOT AS STATED");
  if (options.times) {
    const double whole =
        seconds_of(5, [&] { (void)BoardFrame(s.beam, supports, s.points).solve(loads.all); });
    const double again = seconds_of(50, [&] { (void)frame.solve(loads.all); });
    fmt::print(
        "  seconds: CalculiX {:.2f}, frame made and solved {:.2e} ({:.0f} times), "
        "solved again {:.2e} ({:.0f} times)\n\n",
        solid.seconds, whole, solid.seconds / whole, again, solid.seconds / again);
  }
  std::fflush(stdout);
  return good;
}

}  // namespace

int main(int argc, char** argv) {
  Options options;
  std::vector<std::string> files;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    if (word == "--middle") {
      options.middle = true;
    } else if (word == "--times") {
      options.times = true;
    } else if (word == "--step" && i + 1 < argc) {
      options.mesh.step = std::max(1.0, std::atof(argv[++i])) / 1000;
    } else if (word == "--folder" && i + 1 < argc) {
      options.folder = argv[++i];
    } else {
      files.push_back(word);
    }
  }
  if (files.empty()) {
    fmt::print(stderr,
               "usage: thole_fe [--middle] [--times] [--step MM] [--folder FOLDER] SETUP...\n");
    return 2;
  }
  if (fe::find_ccx().empty()) {
    fmt::print("skipped: CalculiX (ccx) is not installed\n");
    return 77;
  }
  bool good = true;
  try {
    for (const std::string& file : files) {
      good = compare(file, options) && good;
    }
  } catch (const std::exception& e) {
    fmt::print(stderr, "error: {}\n", e.what());
    return 2;
  }
  return good ? 0 : 1;
}
