#pragma once

/// Where a plate is hardest loaded: directions on a grid that is followed down, and the pulls at
/// which things go. Private to the core.

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "core/plate_engine.hpp"

namespace thole::plate {

// Directions of one range: a coarse grid with its corners, each of its steps in `fine` parts. What
// is found at a direction is kept.
//
// A demand is the largest of smooth ones (fasteners, beds, settings), so its peaks are smooth or
// lie on the border of the range, which the grid has: a coarse peak within `basin` of the highest
// is followed down to one part.
class Field {
 public:
  static constexpr int fine = 16;
  static constexpr double basin = 1.08;

  Field(const DirectionRange& range, Angle step) : range_(range) {
    const auto parts = [&](Angle from, Angle to) {
      const double span = (to - from).value();
      return span > 1e-9 ? int(std::ceil(span / step.value() - 1e-9)) : 0;
    };
    azimuths_ = fine * parts(range.azimuth_from, range.azimuth_to);
    dips_ = fine * parts(range.dip_from, range.dip_to);
    round_ = (range.azimuth_to - range.azimuth_from).value() > 2 * std::numbers::pi - 1e-9;
    for (int j = 0; j <= dips_; j += fine) {
      for (int i = 0; i <= azimuths_; i += fine) {
        const int k = spot(i, j);
        if (std::find(coarse_.begin(), coarse_.end(), k) == coarse_.end()) coarse_.push_back(k);
      }
    }
  }

  [[nodiscard]] int size() const { return (azimuths_ + 1) * (dips_ + 1); }
  [[nodiscard]] const std::vector<int>& coarse() const { return coarse_; }

  [[nodiscard]] Direction<Boat> direction(int spot) const {
    const auto at = [](Angle from, Angle to, int i, int n) {
      return n == 0 ? from : Angle(from + (to - from) * (double(i) / n));
    };
    return line_direction(
        at(range_.azimuth_from, range_.azimuth_to, spot % (azimuths_ + 1), azimuths_),
        at(range_.dip_from, range_.dip_to, spot / (azimuths_ + 1), dips_));
  }

  // Calls `visit(spot)` for those round a spot, `by` parts away.
  template <class Visit>
  void around(int spot, int by, Visit visit) const {
    const int i = spot % (azimuths_ + 1);
    const int j = spot / (azimuths_ + 1);
    if (is_pole(j)) {  // all azimuths of the next circle
      const int next = j + by <= dips_ ? j + by : j - by;
      if (next < 0 || next > dips_) return;
      for (int k = 0; k <= azimuths_; k += fine) visit(this->spot(k, next));
      return;
    }
    for (int dj = -by; dj <= by; dj += by) {
      for (int di = -by; di <= by; di += by) {
        if (di == 0 && dj == 0) continue;
        int a = i + di;
        const int d = j + dj;
        if (round_ && azimuths_ > 0) a = (a % azimuths_ + azimuths_) % azimuths_;
        // A corner or border nearer than the step is looked at itself.
        a = std::clamp(a, 0, azimuths_);
        const int next = this->spot(a, std::clamp(d, 0, dips_));
        if (next != spot) visit(next);
      }
    }
  }

  // Spots close round a direction, if it lies in the range.
  [[nodiscard]] std::vector<int> close_to(const Direction<Boat>& d) const {
    constexpr double turn = 2 * std::numbers::pi;
    constexpr double slack = 0.02;
    const double from = range_.azimuth_from.value();
    const double to = range_.azimuth_to.value();
    const double low = range_.dip_from.value();
    const double high = range_.dip_to.value();
    const double dip = std::atan2(-d.z(), std::hypot(d.x(), d.y()));
    double azimuth = std::atan2(d.y(), -d.x());
    while (azimuth < from - slack) azimuth += turn;
    while (azimuth > to + slack) azimuth -= turn;
    const bool pole = std::abs(std::cos(dip)) < slack;
    if (!(dip >= low - slack && dip <= high + slack)) return {};
    if (!pole && azimuth < from - slack) return {};
    const auto part = [](double v, double a, double b, int n) {
      return n == 0 ? 0 : int(std::lround(std::clamp((v - a) / (b - a), 0.0, 1.0) * n));
    };
    const int middle = spot(part(azimuth, from, to, azimuths_), part(dip, low, high, dips_));
    std::vector<int> out;
    for (const int by : {1, 3}) {
      around(middle, by, [&](int k) { out.push_back(k); });
    }
    return out;
  }

  // Spots of the coarse grid no neighbour of which has less, and little more than the least.
  template <class Value>
  [[nodiscard]] std::vector<int> basins(Value value) const {
    double least = infinite;
    for (const int k : coarse_) least = std::min(least, value(k));
    std::vector<int> out;
    if (!(least < infinite)) return out;
    for (const int k : coarse_) {
      const double own = value(k);
      if (own > basin * least) continue;
      bool low = true;
      around(k, fine, [&](int n) { low = low && !(value(n) < own); });
      if (low) out.push_back(k);
    }
    std::stable_sort(out.begin(), out.end(), [&](int a, int b) { return value(a) < value(b); });
    // Level ground has no end of basins.
    constexpr std::size_t most = 6;
    if (out.size() > most) out.resize(most);
    return out;
  }

  // From a spot to lower ones: `better(spot)` says whether it is lower than the best so far.
  template <class Better>
  void descend(int from, Better better) const {
    int at = from;
    for (int by = fine / 2; by >= 1; by /= 2) {
      for (int round = 0; round < 16; ++round) {
        int best = at;
        around(at, by, [&](int n) {
          if (better(n)) best = n;
        });
        if (best == at) break;
        at = best;
      }
    }
  }

 private:
  [[nodiscard]] bool is_pole(int j) const {
    const Angle dip =
        dips_ == 0
            ? range_.dip_from
            : Angle(range_.dip_from + (range_.dip_to - range_.dip_from) * (double(j) / dips_));
    return std::abs(std::cos(radians(dip))) < 1e-9;
  }
  [[nodiscard]] int spot(int i, int j) const {
    if (is_pole(j)) i = 0;  // straight up or down: one direction
    if (round_ && i == azimuths_) i = 0;
    return j * (azimuths_ + 1) + i;
  }

  DirectionRange range_;
  int azimuths_ = 0;
  int dips_ = 0;
  bool round_ = false;
  std::vector<int> coarse_;
};

// Numbers of each mode at the spots of a field, found when first asked for.
class Table {
 public:
  Table(const Field& field, std::size_t columns)
      : row_(std::size_t(field.size()), -1), columns_(columns) {}
  // Calls `fill(row)` for a row that is not known yet.
  template <class Fill>
  double* row(int spot, Fill fill) {
    int& r = row_[std::size_t(spot)];
    if (r < 0) {
      r = int(numbers_.size() / columns_);
      numbers_.resize(numbers_.size() + columns_, infinite);
      fill(numbers_.data() + std::size_t(r) * columns_);
    }
    return numbers_.data() + std::size_t(r) * columns_;
  }

 private:
  std::vector<int> row_;
  std::size_t columns_;
  std::vector<double> numbers_;
};

inline bool contains(const DirectionRange& a, const DirectionRange& b) {
  return a.azimuth_from <= b.azimuth_from && b.azimuth_to <= a.azimuth_to &&
         a.dip_from <= b.dip_from && b.dip_to <= a.dip_to;
}

/// Which settings come near the hardest of a mode. A search that has looked at all of them on the
/// coarse grid follows only those: what lies farther off does not overtake within a step.
class Near {
 public:
  Near(std::size_t settings, std::size_t modes)
      : modes_(modes), lowest_(settings * modes, infinite), moves_(settings, false) {}

  void take(std::size_t setting, const double* row) {
    for (std::size_t i = 0; i < modes_; ++i) {
      double& low = lowest_[setting * modes_ + i];
      low = std::min(low, row[i]);
    }
  }
  void takes_off(std::size_t setting) { moves_[setting] = true; }

  /// Marks those of one mode.
  void mark(std::size_t mode, std::vector<bool>& near) const {
    double least = infinite;
    for (std::size_t s = 0; s < moves_.size(); ++s) {
      least = std::min(least, lowest_[s * modes_ + mode]);
    }
    for (std::size_t s = 0; s < moves_.size(); ++s) {
      const double own = lowest_[s * modes_ + mode];
      if (moves_[s] || (own < infinite && own <= Field::basin * least)) near[s] = true;
    }
  }

 private:
  std::size_t modes_;
  std::vector<double> lowest_;  ///< of each setting and mode
  std::vector<bool> moves_;     ///< a mechanism: never left out
};

[[nodiscard]] inline std::vector<Setting> only_near(const std::vector<Setting>& all,
                                                    const std::vector<bool>& near) {
  std::vector<Setting> out;
  for (std::size_t s = 0; s < all.size(); ++s) {
    if (near[s]) out.push_back(all[s]);
  }
  return out.empty() ? all : out;
}

/// Pulls of one gear, or of several together, at which things go: in every direction of its own
/// cases, in every setting.
class Limits {
 public:
  Limits(Engine& engine, std::vector<Setting> settings, LoadPath path,
         const std::vector<DirectionRange>& ranges, Force pull, Angle step, bool details);

  struct Limit {
    std::optional<Force> pull;
    const Standby* mode = nullptr;
    std::optional<Direction<Boat>> direction;
    const Setting* setting = nullptr;  ///< where the direction is; one of these limits' own
  };

  /// Largest pull that every direction allows, for all modes or one. A single mode is looked at
  /// only where it is hardest.
  Limit largest_pull(const Standby* only, bool full);

 private:
  double ratio(std::span<const Setting> settings, double pull, const Direction<Boat>& d,
               const Standby* only, bool full, Limit* where = nullptr);
  double root(std::span<const Setting> settings, const Direction<Boat>& d, double high,
              const Standby* only, bool full);

  Engine& engine_;
  std::vector<Setting> settings_;
  std::vector<std::vector<Setting>> near_;  ///< of each mode; after them, of any
  LoadPath path_;
  std::vector<double> shares_;
  std::vector<Field> fields_;
  std::vector<std::vector<Table>> factors_;  ///< of each field and share
};

}  // namespace thole::plate
