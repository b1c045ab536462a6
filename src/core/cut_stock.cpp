// From finished lengths to what to ask for in a store.

#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/parts.hpp"
#include "core/stable_order.hpp"

namespace thole::parts {
namespace {

using namespace literals;

bool same(Length a, Length b) { return abs(Length(a - b)) < 0.2_mm; }

Length value(const Entry& e, const char* name) {
  return Length::from_value(e.values.at(name).measure.si);
}

std::string about(const Entry& e, const char* what) {
  const auto it = e.about.find(what);
  return it == e.about.end() ? std::string() : it->second;
}

// All pieces of one section and material are sawn from the same stock.
bool together(const Cut& a, const Cut& b) {
  return a.section == b.section && a.material == b.material && a.lumber == b.lumber &&
         a.market == b.market;
}

struct Choice {
  int count = 0;
  StoreLength stock;
};

// The least length bought in all; of equals the fewest pieces.
Choice choose(const std::vector<StoreLength>& stores, const std::vector<Length>& lengths) {
  Choice best;
  for (const StoreLength& s : stores) {
    const int n = pieces_needed(lengths, s.length);
    if (n == 0) continue;
    const double whole = n * s.length.value();
    const double least = best.count * best.stock.length.value();
    if (best.count == 0 || whole < least - 1e-6 ||
        (std::abs(whole - least) <= 1e-6 && n < best.count)) {
      best = {n, s};
    }
  }
  return best;
}

}  // namespace

std::vector<StoreLength> store_lengths(const MaterialLibrary& library, std::string_view of,
                                       std::string_view market) {
  std::vector<StoreLength> out;
  for (const Entry& e : library.entries()) {
    if (e.kind != "store_length" || about(e, "of") != of || about(e, "market") != market) continue;
    out.push_back({value(e, "length"), e.values.at("length").written});
  }
  sort_stably(out, [](const auto& a, const auto& b) { return a.length < b.length; });
  return out;
}

int pieces_needed(std::vector<Length> lengths, Length stock) {
  std::sort(lengths.begin(), lengths.end(), [](Length a, Length b) { return a > b; });
  const Length hair = 1e-9 * si::metre;
  std::vector<Length> left;
  for (const Length& l : lengths) {
    if (l > stock + hair) return 0;
    auto room =
        std::find_if(left.begin(), left.end(), [&](Length free) { return free + hair >= l; });
    if (room == left.end()) room = left.insert(left.end(), stock);
    *room -= l + saw_kerf;
  }
  return int(left.size());
}

std::string_view metal_market(ReaderUnits units) {
  return units == ReaderUnits::inch ? "inch" : "metric";
}

Lumber lumber_of(const MaterialLibrary& library, Length a, Length b, ReaderUnits units) {
  for (const Entry& e : library.entries()) {
    if (e.kind != "lumber_size") continue;
    const Length t = value(e, "thickness"), w = value(e, "width");
    if ((same(t, a) && same(w, b)) || (same(t, b) && same(w, a))) {
      return {e.name, about(e, "market")};
    }
  }
  const std::string market = units == ReaderUnits::inch ? "North America" : "UK and Ireland";
  return {"plank " + show(std::min(a, b), units) + " x " + show(std::max(a, b), units), market};
}

std::string angle_of(const MaterialLibrary& library, Length leg, Length thickness,
                     Length other_at_least, ReaderUnits units) {
  const Entry* best = nullptr;
  Length best_other{};
  for (const Entry& e : library.entries()) {
    if (e.kind != "angle" || !same(value(e, "thickness"), thickness)) continue;
    const Length a = value(e, "leg_a"), b = value(e, "leg_b");
    if (!same(a, leg) && !same(b, leg)) continue;
    const Length other = same(a, leg) ? b : a;
    if (other < other_at_least - 0.2_mm) continue;
    // Equal legs before unequal ones, then the smaller.
    const bool equal = same(a, b);
    if (best == nullptr || equal || other < best_other) {
      best = &e;
      best_other = other;
      if (equal) break;
    }
  }
  if (best != nullptr) return "angle " + best->name;
  return "angle, one leg " + show(leg, units) +
         (other_at_least.value() > 0 ? ", the other at least " + show(other_at_least, units) : "") +
         ", " + show(thickness, units) + " thick";
}

void Builder::place_cuts() {
  std::vector<bool> done(cuts_.size(), false);
  for (std::size_t i = 0; i < cuts_.size(); ++i) {
    const Cut& c = cuts_[i];
    PartRow r;
    r.kind = PartKind::cut;
    r.what = c.what;
    r.material = c.material;
    r.count = c.count;
    r.length = c.length;
    r.width = c.width;
    r.thickness = c.thickness;
    r.why = c.why;
    r.assumed = c.assumed;
    r.shelf = c.lumber ? "lumber" : "metal";
    if (done[i]) {
      const auto first = std::find_if(cuts_.begin(), cuts_.end(),
                                      [&](const Cut& other) { return together(other, c); });
      r.stock = "from the same stock as the " + first->what;
      row(std::move(r));
      continue;
    }
    std::vector<Length> lengths;
    for (std::size_t k = i; k < cuts_.size(); ++k) {
      if (!together(cuts_[k], c)) continue;
      done[k] = true;
      lengths.insert(lengths.end(), std::size_t(cuts_[k].count), cuts_[k].length + cuts_[k].on_top);
    }
    const Choice best =
        choose(store_lengths(library_, c.lumber ? "lumber" : "metal", c.market), lengths);
    if (best.count > 0) {
      r.stock_count = best.count;
      r.stock_length = best.stock.length;
      r.stock = std::to_string(best.count) + " x " + best.stock.written + " of " + c.section;
      const double used = std::accumulate(lengths.begin(), lengths.end(), Length{}).value() /
                          (best.count * best.stock.length.value());
      if (used < 0.5) r.stock += ", or an offcut";
      if (c.lumber && used > 0.999) r.stock += "; nothing to trim: look at its ends";
    } else {
      const Length longest = *std::max_element(lengths.begin(), lengths.end());
      r.stock_count = int(lengths.size());
      r.stock_length = longest;
      r.stock = c.section + ", " + std::to_string(r.stock_count) + " x at least " + shown(longest) +
                ": longer than shelves have, ask a yard or merchant";
    }
    row(std::move(r));
  }
  for (PartRow& r : offcuts_) row(std::move(r));
}

void Builder::flat_piece(const std::string& what, const Metal& metal, Length along, Length across,
                         Length thickness, int count, const std::string& why, bool assumed) {
  const std::string material = metal.name.empty() ? "not known" : metal.name;
  if (material.find("sheet") == std::string::npos) {
    for (const Entry& e : library_.entries()) {
      if (e.kind != "flat_bar" || !same(value(e, "thickness"), thickness)) continue;
      const bool by_across = same(value(e, "width"), across);
      if (!by_across && !same(value(e, "width"), along)) continue;
      Cut c{what,
            material,
            count,
            by_across ? along : across,
            by_across ? across : along,
            thickness,
            why,
            assumed,
            "flat bar " + e.name,
            false,
            std::string(metal_market(units())),
            {}};
      cut(c);
      return;
    }
  }
  PartRow r;
  r.kind = PartKind::cut;
  r.what = what;
  r.material = material;
  r.count = count;
  r.length = std::max(along, across);
  r.width = std::min(along, across);
  r.thickness = thickness;
  r.stock = "offcut " + shown(thickness) + " thick, at least " + shown(*r.length) + " x " +
            shown(*r.width) + " each";
  r.why = why;
  r.assumed = assumed;
  r.shelf = "metal";
  offcuts_.push_back(std::move(r));
}

void Builder::plate_behind(const std::string& what, const Backing& backing, int count,
                           const std::string& why, bool assumed) {
  flat_piece(what, backing.metal, backing.fore_aft, backing.athwart, backing.thickness, count, why,
             assumed);
}

}  // namespace thole::parts
