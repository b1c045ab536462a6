// Speed of the parts that matter, as times and as ratios to other solvers run here and now. Never
// part of pass or fail. Run: thole_bench [--benchmark_filter=...]; the ratios need scipy and ccx.

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <map>
#include <random>
#include <sstream>
#include <string>

#include <thole/reading.hpp>
#include <thole/thole.hpp>

#include "core/board_engine.hpp"

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
    benchmark::DoNotOptimize(m.area);
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
BENCHMARK_CAPTURE(assess_whole, cross_board_6B, skiff)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(assess_whole, gunwale_plate_6A, jon_boat)->Unit(benchmark::kMillisecond);

void verdict_only(benchmark::State& state) {
  const Setup& s = setup_of(skiff);
  AssessOptions plain;
  plain.neighbours = false;
  for (auto _ : state) benchmark::DoNotOptimize(assess(s, plain).checks.data());
}
BENCHMARK(verdict_only)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
