#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "core/hole_parts.hpp"

namespace thole::hole_parts {

using namespace literals;

namespace {

// Drills are told apart to half a thousandth of an inch: tables round to that.
const Length alike = 0.0006_in;

std::string fraction(long numerator, long denominator) {
  const long whole = numerator / denominator;
  const long rest = numerator % denominator;
  const long common = std::gcd(rest, denominator);
  if (rest == 0) return std::to_string(whole) + " in";
  return (whole > 0 ? std::to_string(whole) + " " : "") + std::to_string(rest / common) + "/" +
         std::to_string(denominator / common) + " in";
}

struct Named {
  std::string name;
  Length diameter;
};

Named millimetres(Length d) {
  const double tenths = std::ceil(d.value() * 1e4 - 1e-3);
  return {fmt::format("{:.1f} mm", tenths / 10), tenths * 1e-4 * si::metre};
}

// A fraction where one is as wide, since it is in every box; then a number or letter; then the next
// larger fraction.
Named inches(Length d, const MaterialLibrary& library) {
  const double step = d.value() <= (1.0_in).value() ? 64 : 32;
  const double in = d.value() / (1.0_in).value();
  const long nearest = std::lround(in * step);
  if (abs(d - double(nearest) / step * 1.0_in) < alike)
    return {fraction(nearest, long(step)), double(nearest) / step * 1.0_in};
  const Entry* best = nullptr;
  for (const Entry& e : library.entries()) {
    if (e.kind != "drill") continue;
    const double off = std::abs(e.values.at("diameter").measure.si - d.value());
    if (off >= alike.value()) continue;
    if (best == nullptr || off < std::abs(best->values.at("diameter").measure.si - d.value()))
      best = &e;
  }
  if (best != nullptr) return {best->name, best->values.at("diameter").measure.si * si::metre};
  const long above = long(std::ceil(in * step));
  return {fraction(above, long(step)), double(above) / step * 1.0_in};
}

Named named(Length d, const Thread& of, const MaterialLibrary& library) {
  return is_metric(of) ? millimetres(d) : inches(d, library);
}

const TableValue* tabulated(const Thread& t, const MaterialLibrary& library, const char* value) {
  const Entry* e = library.find("thread", t.name);
  if (e == nullptr) return nullptr;
  const auto it = e->values.find(value);
  return it == e->values.end() ? nullptr : &it->second;
}

// A wide drill wanders where no small one went before it.
void add_pilot(std::vector<Drill>& out, Length before, const Thread& t) {
  const Length pilot = is_metric(t) ? Length(3.0_mm) : Length(0.125_in);
  if (before < 1.4 * pilot) return;
  out.push_back({"pilot", is_metric(t) ? "3.0 mm" : "1/8 in", pilot, practice(), {}});
}

std::string lead_source(const WoodFastener& s) {
  return s.kind == WoodFastenerKind::lag_screw ? "12.1.4.2" : "12.1.5";
}

// Least and greatest share of the diameter (lag) or of the root (wood screw) for the threaded part.
// The code gives wood screws a single share and light wood none: a tenth to either side.
std::pair<double, double> lead_share(const WoodFastener& s, double g) {
  if (s.kind == WoodFastenerKind::wood_screw) {
    return g > 0.6 ? std::pair(0.80, 0.90) : std::pair(0.60, 0.70);
  }
  if (g > 0.6) return {0.65, 0.85};
  return g > 0.5 ? std::pair(0.60, 0.75) : std::pair(0.40, 0.70);
}

}  // namespace

bool is_metric(const Thread& t) {
  return t.name.starts_with("M") || t.name.starts_with("ST") || t.name.ends_with("mm");
}

Drill drill_between(Length low, Length aim, Length high, const Thread& of,
                    const MaterialLibrary& library, std::string use, Citation source) {
  Named best;
  const auto take = [&](const Named& n) {
    if (n.diameter < low || n.diameter > high) return;
    if (best.name.empty() || abs(n.diameter - aim) < abs(best.diameter - aim)) best = n;
  };
  if (is_metric(of)) {
    for (long tenth = long(low.value() * 1e4); tenth <= long(high.value() * 1e4) + 1; ++tenth)
      take(millimetres(double(tenth) * 1e-4 * si::metre));
  } else {
    for (long n = long(low.value() / (1.0_in).value() * 64);
         n <= long(high.value() / (1.0_in).value() * 64) + 1; ++n)
      take({fraction(n, 64), double(n) / 64 * 1.0_in});
    for (const Entry& e : library.entries()) {
      if (e.kind == "drill") take({e.name, e.values.at("diameter").measure.si * si::metre});
    }
  }
  if (best.name.empty()) return drill_of(low, of, library, std::move(use), std::move(source));
  return {std::move(use), best.name, best.diameter, std::move(source), {}};
}

Drill drill_of(Length diameter, const Thread& of, const MaterialLibrary& library, std::string use,
               Citation source) {
  const Named n = named(diameter, of, library);
  return {std::move(use), n.name, n.diameter, std::move(source), {}};
}

std::vector<Drill> tapping(const Thread& t, const MaterialLibrary& library) {
  std::vector<Drill> out;
  add_pilot(out, t.tap_drill, t);
  const TableValue* row = tabulated(t, library, "tap_drill");
  if (row == nullptr) {
    // The drill nearest to one pitch less, within 70 to 85 % of a full thread: the next larger one
    // of the box may leave half of it.
    const auto full = [&](double share) { return Length(t.diameter - 1.299 * share * t.pitch); };
    out.push_back(
        drill_between(full(0.85), t.tap_drill, full(0.70), t, library, "tap drill",
                      {"diameter less one pitch: common practice, no table", "", Seen::practice}));
  } else if (t.tap_drill_name.empty()) {
    out.push_back(drill_of(t.tap_drill, t, library, "tap drill", row->source));
  } else {
    out.push_back({"tap drill", t.tap_drill_name, t.tap_drill, row->source, {}});
  }
  out.push_back({"tap", t.name + " tap", t.diameter, t.source, {}});
  return out;
}

std::vector<Drill> clearing(const Thread& t, const MaterialLibrary& library) {
  const TableValue* row = tabulated(t, library, "clearance_normal");
  const Citation source = row != nullptr ? row->source
                                         : Citation{
                                               "1.1 times the diameter: common practice, no "
                                               "table",
                                               "", Seen::practice};
  std::vector<Drill> out = boring(t.clearance, t, library, "clearance, normal fit", source);
  if (const TableValue* close = tabulated(t, library, "clearance_close")) {
    out.push_back(drill_of(close->measure.si * si::metre, t, library,
                           "in its place, close fit: only where parts are drilled together",
                           close->source));
  }
  return out;
}

std::vector<Drill> boring(Length diameter, const Thread& t, const MaterialLibrary& library,
                          const std::string& use, const Citation& source) {
  std::vector<Drill> out;
  add_pilot(out, diameter, t);
  out.push_back(drill_of(diameter, t, library, use, source));
  return out;
}

std::vector<Drill> leading(const WoodFastener& s, double g, const Thread& t,
                           const MaterialLibrary& library) {
  if (!(g > 0)) {
    return {{"lead hole",
             "not known: the wood is not; drill one, never hammer the screw",
             Length{},
             practice(),
             {}}};
  }
  const bool lag = s.kind == WoodFastenerKind::lag_screw;
  const Citation source{"NDS 2018, lead holes", lead_source(s), Seen::memory};
  const Length whole = lag ? s.diameter : s.root;
  const auto [low, high] = lead_share(s, g);
  return {
      drill_between(low * whole, 0.5 * (low + high) * whole, high * whole, t, library,
                    "lead hole for the thread, as deep as the screw goes", source),
      drill_of(s.diameter, t, library, "hole for the shank, as deep as the shank goes", source)};
}

}  // namespace thole::hole_parts
