#include "report/pull_scale.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "report/chart_labels.hpp"
#include "report/text.hpp"

namespace thole::ruler {
namespace {

constexpr double least_part = 0.005;  // of the top: a smaller round number says nothing
constexpr double linear_from = 0.06;  // of the top: the lowest mark that an even scale can show

}  // namespace

Scale::Scale(const Ruler& r, double length, double between)
    : length_(length), between_(between), top_(r.top.value() * 1.02) {
  if (!(top_ > 0) || !std::isfinite(top_)) top_ = 1;
  for (const Item& i : r.items) {
    const double v = i.low->value();
    if (v > 1e-9 && v < linear_from * top_) even_ = false;
  }
}

double Scale::along(double newtons) const {
  const double part = std::clamp(newtons / top_, 0.0, 1.0);
  return length_ * (even_ ? part : std::sqrt(part));
}

std::vector<double> Scale::ticks(double newtons) const {
  std::vector<double> out{0};
  if (even_) {
    const double step = charts::round_up(between_ / length_ * top_ / newtons);
    for (double v = step; v * newtons <= top_; v += step) out.push_back(v);
    return out;
  }
  const auto offer = [&](double v) {
    const bool free = std::all_of(out.begin(), out.end(), [&](double other) {
      return std::abs(along(v * newtons) - along(other * newtons)) >= between_;
    });
    if (v * newtons <= top_ && v * newtons >= least_part * top_ && free) out.push_back(v);
  };
  for (const auto& step : {std::vector<double>{1}, {2, 5}, {3, 4, 1.5}, {6, 7, 8, 9, 2.5, 3.5}}) {
    // From above: the largest number is worth most.
    for (int k = 6; k >= -2; --k) {
      for (const double m : step) offer(m * std::pow(10.0, k));
    }
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::string heading(const Setup& s, const Ruler& r) {
  std::vector<std::string> names;
  for (const std::string& n : r.names) names.push_back(charts::short_name(n, 30));
  std::string of = beside::whose(s, r.names);
  if (of.rfind("each ", 0) != 0) of = text::joined(names) + ": ";
  of.resize(of.size() - 2);
  return of.empty() ? beside::word_for_kind(*r.gear) : of;
}

const char* where_pulled(const Gear& g) {
  return g.downrigger ? "pull at the boom tip" : g.rod_holder ? "pull on the line" : "pull";
}

PartAndWay part_and_way(const std::string& what) {
  // What the items of the catalogues do.
  constexpr std::array<std::string_view, 14> ways{
      " break",  " bend", " shear", " split", " crush", " yield", " beyond",
      " buckle", " fold", " dish",  " pull",  " tilt",  " give",  " dent"};
  std::size_t at = what.size();
  for (const std::string_view w : ways) at = std::min(at, what.find(w));
  if (at == what.size()) return {what, ""};
  return {what.substr(0, at), what.substr(at + 1)};
}

bool is_marked(const Item& i) { return i.wrong || i.useless || i.over; }

std::string words_of(const Item& i) {
  return (i.wrong ? "too early: " : i.over ? "too high: " : "") + i.what;
}

std::string in_words(const Ruler& r) {
  std::string out = std::string(where_pulled(*r.gear)) + ", from the least up: ";
  if (r.refused) out = "No verdict: something else may go before all of this. " + out;
  bool begun = false;
  for (const Item& i : r.items) {
    out += (begun ? "; " : "") + charts::short_name(words_of(i), 70) + " " + i.figure;
    begun = true;
  }
  for (const Item& i : r.unknown) out += "; not known: " + charts::short_name(i.what, 60);
  return out + ".";
}

std::string cautions_of(const Ruler& r) {
  std::string out;
  if (!r.unknown.empty()) out += " Hatched: nobody has said what that takes.";
  if (r.person_heels) out += " A person at that side alone heels the boat strongly.";
  if (r.refused) {
    out +=
        " There is no verdict: what cannot be calculated may go before all of it, so no setting is "
        "shown.";
  }
  if (r.least_of_any) {
    out += " Items of the mount stand at the least pull on any gear.";
  } else if (r.mixed) {
    out +=
        " Items of the mount stand at the least pull on any gear, but not below the first to go "
        "under this one.";
  }
  return out;
}

}  // namespace thole::ruler
