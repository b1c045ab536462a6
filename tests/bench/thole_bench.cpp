// Speed of the parts that matter, as times and as ratios to other solvers run here and now. Never
// part of pass or fail. Run: thole_bench [--benchmark_filter=...]; the ratios need scipy and ccx.

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include <thole/reading.hpp>
#include <thole/sizing.hpp>
#include <thole/thole.hpp>

#include "../support/light_plank.hpp"
#include "core/board_engine.hpp"
#include "fe_deck.hpp"

using namespace thole;

namespace {

const Setup& setup_of(const std::string& name) {
  static std::map<std::string, Setup> read;
  auto found = read.find(name);
  if (found == read.end()) {
    std::ifstream in(std::string(THOLE_ROOT) + "/" + name);
    std::stringstream text;
    text << in.rdbuf();
    found = read.emplace(name, read_setup(text.str(), name, built_in_materials())).first;
  }
  return found->second;
}

const char* const skiff = "examples/fjord-skiff.yaml";
const char* const cartopper = "examples/lake-cartopper.yaml";
const char* const jon_boat = "examples/reservoir-jon-boat.yaml";

// The loads of one hung-up ball in a sweep of directions, in order.
struct Sweep {
  explicit Sweep(const Setup& s) : engine(s) {
    for (const LoadCase& c : engine.cases()) {
      if (c.id.starts_with("hung-up-seized") && load_case == nullptr) load_case = &c;
    }
    trials = engine.trials(*load_case, degrees(5));
    for (const board::Trial& t : trials) {
      loads.push_back(engine.load(*load_case, t, load_case->pull.value()));
    }
  }
  board::Engine engine;
  const LoadCase* load_case = nullptr;
  std::vector<board::Trial> trials;
  std::vector<board::Vector> loads;
};

void contacts_of_a_sweep(benchmark::State& state) {
  Sweep s(setup_of(skiff));
  one_way::Contacts& contacts = *s.engine.model(0, Side::port).for_gear;
  one_way::Answer answer;
  for (const auto& F : s.loads) contacts.solve(F, answer);
  std::size_t i = 0;
  for (auto _ : state) {
    contacts.solve(s.loads[i++ % s.loads.size()], answer);
    benchmark::DoNotOptimize(answer.s.data());
  }
  state.counters["states"] = double(contacts.states_known());
  state.counters["directions"] = double(s.loads.size());
}
BENCHMARK(contacts_of_a_sweep);

void contacts_in_any_order(benchmark::State& state) {
  Sweep s(setup_of(skiff));
  one_way::Contacts& contacts = *s.engine.model(0, Side::port).for_gear;
  one_way::Answer answer;
  std::mt19937 random(1);
  std::shuffle(s.loads.begin(), s.loads.end(), random);
  for (const auto& F : s.loads) contacts.solve(F, answer);
  std::size_t i = 0;
  for (auto _ : state) {
    contacts.solve(s.loads[i++ % s.loads.size()], answer);
    benchmark::DoNotOptimize(answer.s.data());
  }
}
BENCHMARK(contacts_in_any_order);

void contact_state_met_first(benchmark::State& state) {
  Sweep s(setup_of(skiff));
  const one_way::Problem& problem = s.engine.model(0, Side::port).for_gear->problem();
  one_way::Answer answer;
  std::size_t i = 0;
  for (auto _ : state) {
    state.PauseTiming();
    one_way::Contacts fresh(problem);
    state.ResumeTiming();
    fresh.solve(s.loads[(i++ * 37) % s.loads.size()], answer);
    benchmark::DoNotOptimize(answer.s.data());
  }
}
BENCHMARK(contact_state_met_first);

void one_direction_with_all_checks(benchmark::State& state) {
  Sweep s(setup_of(skiff));
  double worst = 0;
  for (const auto& F : s.loads) {
    worst += s.engine.worst_ratio(0, s.trials[0], F, Category::occasional, true, nullptr);
  }
  std::size_t i = 0;
  for (auto _ : state) {
    worst += s.engine.worst_ratio(0, s.trials[0], s.loads[i++ % s.loads.size()],
                                  Category::occasional, true, nullptr);
  }
  benchmark::DoNotOptimize(worst);
}
BENCHMARK(one_direction_with_all_checks);

void model_made(benchmark::State& state) {
  for (auto _ : state) {
    board::Model m(setup_of(skiff), {});
    benchmark::DoNotOptimize(m.shape.area);
  }
}
BENCHMARK(model_made)->Unit(benchmark::kMicrosecond);

void setup_read(benchmark::State& state) {
  std::ifstream in(std::string(THOLE_ROOT) + "/" + skiff);
  std::stringstream text;
  text << in.rdbuf();
  const MaterialLibrary& library = built_in_materials();
  for (auto _ : state) benchmark::DoNotOptimize(read_setup(text.str(), "x", library).title.data());
}
BENCHMARK(setup_read)->Unit(benchmark::kMicrosecond);

void assess_whole(benchmark::State& state, const char* name) {
  const Setup& s = setup_of(name);
  for (auto _ : state) benchmark::DoNotOptimize(assess(s).checks.data());
}
BENCHMARK_CAPTURE(assess_whole, fjord_skiff, skiff)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(assess_whole, lake_cartopper, cartopper)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(assess_whole, jon_boat, jon_boat)->Unit(benchmark::kMillisecond);

void verdict_only(benchmark::State& state) {
  const Setup& s = setup_of(skiff);
  AssessOptions plain;
  plain.neighbours = false;
  for (auto _ : state) benchmark::DoNotOptimize(assess(s, plain).checks.data());
}
BENCHMARK(verdict_only)->Unit(benchmark::kMillisecond);

// A search for sizes: seconds by the clock on two threads, how many designs, how many of them were
// assessed in full, and the time by design.
void sizes(benchmark::State& state, const Setup& s, const std::vector<std::string>& free) {
  SizeQuestion q;
  q.free = free;
  q.threads = 2;
  if (s.on_board()) q.leg_length = 0.3 * si::metre;
  SizeAnswer a;
  for (auto _ : state) a = size_mount(s, q, built_in_materials());
  state.counters["designs"] = double(a.designs);
  state.counters["fit"] = double(a.designs - a.do_not_fit);
  state.counters["assessed"] = double(a.assessed);
  state.counters["by_design"] =
      benchmark::Counter(double(a.designs), benchmark::Counter::kIsIterationInvariantRate |
                                                benchmark::Counter::kInvert);
}

void sizes_of_a_plank(benchmark::State& state, bool many) {
  const Setup s = read_setup(test::plank, "plank.yaml", built_in_materials());
  std::vector<std::string> free{"stock", "laid", "legs", "bolts", "washer", "spacing"};
  if (many) free.emplace_back("wood");
  sizes(state, s, free);
}
void sizes_of_a_plate(benchmark::State& state, bool many) {
  std::vector<std::string> free{"hold", "bolts", "washer", "pattern"};
  if (many) free.emplace_back("base");
  sizes(state, setup_of(jon_boat), free);
}
BENCHMARK_CAPTURE(sizes_of_a_plank, some, false)
    ->Unit(benchmark::kSecond)
    ->UseRealTime()
    ->Iterations(1);
BENCHMARK_CAPTURE(sizes_of_a_plank, many, true)
    ->Unit(benchmark::kSecond)
    ->UseRealTime()
    ->Iterations(1);
BENCHMARK_CAPTURE(sizes_of_a_plate, some, false)
    ->Unit(benchmark::kSecond)
    ->UseRealTime()
    ->Iterations(1);
BENCHMARK_CAPTURE(sizes_of_a_plate, many, true)
    ->Unit(benchmark::kSecond)
    ->UseRealTime()
    ->Iterations(1);

// ---- Ratios to other solvers, run here and now
// ---------------------------------------------------

void write(std::ostream& out, const char* name, const board::Matrix& m) {
  out << '"' << name << "\": [";
  for (Eigen::Index i = 0; i < m.rows(); ++i) {
    out << (i > 0 ? ", [" : "[");
    for (Eigen::Index j = 0; j < m.cols(); ++j) out << (j > 0 ? ", " : "") << m(i, j);
    out << ']';
  }
  out << "], ";
}

void write(std::ostream& out, const char* name, const board::Vector& v) {
  out << '"' << name << "\": [";
  for (Eigen::Index i = 0; i < v.size(); ++i) out << (i > 0 ? ", " : "") << v(i);
  out << "], ";
}

template <class Run>
double seconds_of(int times, Run run) {
  const auto start = std::chrono::steady_clock::now();
  for (int i = 0; i < times; ++i) run();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count() / times;
}

// The same contact problem by scipy.
void ratio_to_scipy() {
  Sweep s(setup_of(skiff));
  one_way::Contacts& contacts = *s.engine.model(0, Side::port).for_gear;
  const one_way::Problem& p = contacts.problem();
  const board::Vector& F = s.loads[s.loads.size() / 2];
  const std::filesystem::path file =
      std::filesystem::temp_directory_path() / "thole_bench_case.json";
  {
    std::ofstream out(file);
    out.precision(17);
    out << '{';
    write(out, "M", p.M);
    write(out, "q", board::Vector(p.Q * F));
    write(out, "E", p.E);
    write(out, "e", board::Vector(-(p.P * F)));
    out << "\"two_way\": " << p.two_way << "}\n";
  }
  const std::string command = std::string("python3 ") + THOLE_ROOT +
                              "/tests/bench/same_case.py < " + file.string() + " 2>/dev/null";
  std::string answer;
  if (FILE* pipe = popen(command.c_str(), "r")) {
    char buffer[4096];
    while (std::fgets(buffer, sizeof buffer, pipe) != nullptr) answer += buffer;
    pclose(pipe);
  }
  std::filesystem::remove(file);
  double theirs = 0;
  if (std::sscanf(answer.c_str(), "{\"seconds\": %lf", &theirs) != 1) {
    std::puts("scipy: not installed, no ratio");
    return;
  }
  one_way::Answer ours;
  contacts.solve(F, ours);
  std::vector<double> forces;
  std::stringstream list(answer.substr(answer.find("\"forces\": [") + 11));
  for (double f = 0; list >> f; list.ignore(1)) forces.push_back(f);
  double off = 0;
  for (std::size_t i = 0; i < forces.size(); ++i) {
    off = std::max(off, std::abs(forces[i] - ours.s(Eigen::Index(i))));
  }
  const double known = seconds_of(100000, [&] { contacts.solve(F, ours); });
  const double cold = seconds_of(2000, [&] {
    one_way::Contacts fresh(p);
    fresh.solve(F, ours);
  });
  std::printf(
      "scipy SLSQP, %zu contacts: %.3g s; here %.3g s with a known state (ratio %.3g), %.3g s from "
      "nothing (ratio %.3g); forces differ by %.2g of %.3g N\n",
      forces.size(), theirs, known, theirs / known, cold, theirs / cold, off,
      ours.s.cwiseAbs().maxCoeff());
}

// The same board by solid elements.
void ratio_to_ccx() {
  if (fe::find_ccx().empty()) {
    std::puts("CalculiX: not installed, no ratio");
    return;
  }
  const Setup& s = setup_of("tests/fe/plank-with-legs.yaml");
  const board::Structure structure = board::structure_of(s);
  std::vector<Support> supports;
  for (const board::BoardSupport& x : structure.supports) supports.push_back(x.support);
  const std::vector<PointLoad> loads{
      {0, ForceVector<Board>(Force{}, -300.0 * si::newton, -500.0 * si::newton),
       MomentVector<Board>(Moment::from_value(-400), Moment{}, Moment{})}};
  const fe::Deck deck = fe::write_deck(structure.beam, supports, structure.points, loads);
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "thole_bench_ccx";
  std::filesystem::create_directories(folder);
  const double theirs = fe::seconds_of_ccx(deck, folder);
  std::filesystem::remove_all(folder);
  const BoardFrame frame(structure.beam, supports, structure.points);
  const double made = seconds_of(20, [&] {
    benchmark::DoNotOptimize(
        BoardFrame(structure.beam, supports, structure.points).solve(loads).supports.data());
  });
  const double again =
      seconds_of(2000, [&] { benchmark::DoNotOptimize(frame.solve(loads).supports.data()); });
  std::printf(
      "CalculiX, %d solid elements: %.3g s; here %.3g s made and solved (ratio %.3g), %.3g s "
      "solved "
      "again (ratio %.3g)\n",
      deck.elements, theirs, made, theirs / made, again, theirs / again);
}

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  const bool ratios = argc < 2 || std::string(argv[1]) != "--no-ratios";
  benchmark::RunSpecifiedBenchmarks();
  if (ratios) {
    ratio_to_scipy();
    ratio_to_ccx();
  }
  return 0;
}
