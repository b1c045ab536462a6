#pragma once

/// Where a plate is hardest loaded: directions on a grid that is followed down, and the pulls at
/// which things go. Private to the core.

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "core/plate_engine.hpp"
#include "core/stable_order.hpp"

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

  Field(const DirectionRange& range, Angle step)
      : range_(range),
        doubt_(std::max(1.25, 1 + 8 * (1 - std::cos(std::sqrt(2.0) * step.value())))) {
    const auto parts = [&](Angle from, Angle to) {
      const double span = (to - from).value();
      return span > 1e-9 ? int(std::ceil(span / step.value() - 1e-9)) : 0;
    };
    azimuths_ = fine * parts(range.azimuth_from, range.azimuth_to);
    dips_ = fine * parts(range.dip_from, range.dip_to);
    round_ = (range.azimuth_to - range.azimuth_from).value() > 2 * std::numbers::pi - 1e-9;
    std::vector<bool> known(std::size_t(size()), false);
    for (int j = 0; j <= dips_; j += fine) {
      for (int i = 0; i <= azimuths_; i += fine) {
        const int k = spot(i, j);
        if (known[std::size_t(k)]) continue;
        known[std::size_t(k)] = true;
        coarse_.push_back(k);
        const bool first = (i % (2 * fine) == 0 || i == azimuths_) &&
                           (j % (2 * fine) == 0 || j == dips_ || is_pole(j));
        (first ? first_ : then_).push_back(k);
      }
    }
  }

  [[nodiscard]] int size() const { return (azimuths_ + 1) * (dips_ + 1); }
  [[nodiscard]] const std::vector<int>& coarse() const { return coarse_; }
  /// The coarse grid in two parts: every other spot of it and its borders, then the rest.
  [[nodiscard]] const std::vector<int>& first() const { return first_; }
  [[nodiscard]] const std::vector<int>& then() const { return then_; }
  /// What lies that far from the least of the first part is no longer looked at. A straight load
  /// between four spots of it is harder than all four by no more than an eighth of that, which is
  /// about what `basin` has to spare on the whole grid.
  [[nodiscard]] double doubt() const { return doubt_; }

  [[nodiscard]] Direction<Boat> direction(int spot) const {
    const auto at = [](Angle from, Angle to, int i, int n) {
      return n == 0 ? from : Angle(from + (to - from) * (double(i) / n));
    };
    return line_direction(
        at(range_.azimuth_from, range_.azimuth_to, spot % (azimuths_ + 1), azimuths_),
        at(range_.dip_from, range_.dip_to, spot / (azimuths_ + 1), dips_));
  }

  // Spots of the first part that a spot of the coarse grid lies between.
  [[nodiscard]] std::array<int, 4> between(int spot) const {
    const auto ends = [](int at, int most) {
      if (at % (2 * fine) == 0 || at == most) return std::pair{at, at};
      return std::pair{at - fine, std::min(at + fine, most)};
    };
    const auto i = ends(spot % (azimuths_ + 1), azimuths_);
    const auto j = ends(spot / (azimuths_ + 1), dips_);
    return {this->spot(i.first, j.first), this->spot(i.second, j.first),
            this->spot(i.first, j.second), this->spot(i.second, j.second)};
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

  // The spot nearest to a direction; -1: outside of the range.
  [[nodiscard]] int nearest(const Direction<Boat>& d) const {
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
    if (!(dip >= low - slack && dip <= high + slack)) return -1;
    if (!pole && azimuth < from - slack) return -1;
    const auto part = [](double v, double a, double b, int n) {
      return n == 0 ? 0 : int(std::lround(std::clamp((v - a) / (b - a), 0.0, 1.0) * n));
    };
    return spot(part(azimuth, from, to, azimuths_), part(dip, low, high, dips_));
  }

  // Spots close round a direction, if it lies in the range.
  [[nodiscard]] std::vector<int> close_to(const Direction<Boat>& d) const {
    const int middle = nearest(d);
    std::vector<int> out;
    for (const int by : {1, 3}) {
      if (middle >= 0) around(middle, by, [&](int k) { out.push_back(k); });
    }
    return out;
  }

  // Spots of squares round a direction of the field, near ones first, in sixteen ways and more.
  [[nodiscard]] std::vector<int> rings(const Direction<Boat>& d) const {
    std::vector<int> out;
    const int middle = nearest(d);
    if (middle < 0) return out;
    const int i = middle % (azimuths_ + 1);
    const int j = middle / (azimuths_ + 1);
    for (const int by : {2, 4, 8, 16}) {
      const int step = std::max(1, by / 4);
      for (int dj = -by; dj <= by; dj += step) {
        for (int di = -by; di <= by; di += step) {
          if (std::max(std::abs(di), std::abs(dj)) != by) continue;
          const int a = i + di;
          const int b = j + dj;
          if (a >= 0 && a <= azimuths_ && b >= 0 && b <= dips_) out.push_back(spot(a, b));
        }
      }
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
    sort_stably(out, [&](int a, int b) { return value(a) < value(b); });
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
  double doubt_ = 0;
  int azimuths_ = 0;
  int dips_ = 0;
  bool round_ = false;
  std::vector<int> coarse_;
  std::vector<int> first_;
  std::vector<int> then_;
};

// Numbers of each mode at the spots of a field, found when first asked for.
class Table {
 public:
  Table(const Field& field, std::size_t columns)
      : row_(std::size_t(field.size()), -1), columns_(columns) {}
  double* row(int spot) {
    const std::size_t r = index(spot);  // may move the numbers
    return numbers_.data() + r * columns_;
  }
  // Counted from the first that was asked for.
  std::size_t index(int spot) {
    int& r = row_[std::size_t(spot)];
    if (r < 0) {
      r = int(numbers_.size() / columns_);
      numbers_.resize(numbers_.size() + columns_, infinite);
    }
    return std::size_t(r);
  }

 private:
  std::vector<int> row_;
  std::size_t columns_;
  std::vector<double> numbers_;
};

using Columns = std::vector<std::size_t>;

/// Each setting on each bed, a "unit", and how hard it is for each mode, a "column": the least that
/// was found in one field or several.
///
/// Half of the coarse grid is looked at by all units. A load between its spots is hardly harder
/// than the hardest of those round it, so that at the other half only those units and columns are
/// looked at that came near the least of their column, within `Field::doubt`, at one of the spots
/// there. A search that has done that follows the units within `Field::basin` to finer directions:
/// the others do not overtake within a step.
class Survey {
 public:
  Survey(Engine& engine, std::span<const Setting> settings, LoadPath path, std::size_t columns)
      : engine_(engine),
        settings_(settings),
        path_(path),
        columns_(columns),
        beds_(engine.beds()),
        may_move_(!engine.never_moves()),
        lowest_(settings.size() * beds_ * columns, infinite),
        moves_(settings.size() * beds_, false),
        as_first_(settings.size() * beds_ * columns, true),
        starts_(settings.size() * beds_) {}

  [[nodiscard]] std::size_t units() const { return moves_.size(); }
  [[nodiscard]] const Setting& setting_of(std::size_t unit) const {
    return settings_[unit / beds_];
  }
  [[nodiscard]] bool moves(std::size_t unit) const { return moves_[unit]; }
  [[nodiscard]] double lowest(std::size_t unit, std::size_t column) const {
    return lowest_[unit * columns_ + column];
  }
  /// The bed changes nothing: what the first bed has is the same.
  [[nodiscard]] bool again(std::size_t unit, std::size_t column) const {
    return unit % beds_ > 0 && as_first_[unit * columns_ + column];
  }
  [[nodiscard]] double least(std::size_t column) const {
    double out = infinite;
    for (std::size_t u = 0; u < units(); ++u) out = std::min(out, lowest(u, column));
    return out;
  }

  /// Which numbers are near: those near the least of their own column, of all together (or one, if
  /// that is more), or all.
  enum class Near { of_column, of_all, all };

  /// Looks over the coarse grid of some fields. `take(acting, columns, own, d)` puts numbers into
  /// those columns of `own`; `stop(motion, d, row)` says whether a mechanism ends the search.
  /// False: it did. Where a mount may move it is looked at in all units at every spot.
  template <class Take, class Stop>
  bool over(std::span<const Field> fields, std::span<Table> tables, const Columns& columns,
            Force pull, Near near, Take take, Stop stop) {
    const std::vector<Columns> all(units(), columns);
    std::vector<std::vector<double>> found(fields.size());  // of each spot of the first part
    std::vector<std::vector<int>> place(fields.size());     // of a spot among them
    const std::size_t size = units() * columns_;
    for (std::size_t f = 0; f < fields.size(); ++f) {
      const std::vector<int>& first = fields[f].first();
      if (near != Near::all) {
        found[f].assign(first.size() * size, infinite);
        place[f].assign(std::size_t(fields[f].size()), -1);
      }
      for (std::size_t k = 0; k < first.size(); ++k) {
        double* kept = nullptr;
        if (near != Near::all) {
          place[f][std::size_t(first[k])] = int(k);
          kept = found[f].data() + k * size;
        }
        if (!look(all, pull, fields[f], first[k], tables[f], true, kept, take, stop)) return false;
      }
    }
    std::vector<double> most(columns_, infinite);
    const double doubt = fields.front().doubt();
    if (near == Near::of_column) {
      for (const std::size_t c : columns) most[c] = doubt * least(c);
    } else if (near == Near::of_all) {
      double low = infinite;
      for (const std::size_t c : columns) low = std::min(low, least(c));
      most.assign(columns_, doubt * std::max(1.0, low));
    }
    const std::vector<Columns> open = kept_of(columns, most);
    std::vector<Columns> here = open;
    for (std::size_t f = 0; f < fields.size(); ++f) {
      for (const int k : fields[f].then()) {
        if (near != Near::all) {
          std::array<const double*, 4> round{};
          const std::array<int, 4> spots = fields[f].between(k);
          for (std::size_t n = 0; n < round.size(); ++n) {
            round[n] = found[f].data() + std::size_t(place[f][std::size_t(spots[n])]) * size;
          }
          for (std::size_t u = 0; u < units(); ++u) {
            here[u].clear();
            for (const std::size_t c : open[u]) {
              const std::size_t at = u * columns_ + c;
              const double low = std::min(std::min(round[0][at], round[1][at]),
                                          std::min(round[2][at], round[3][at]));
              if (low <= most[c] || moves_[u]) here[u].push_back(c);
            }
            if (here[u].empty() && may_move_) here[u].push_back(columns.front());
          }
        }
        if (!look(here, pull, fields[f], k, tables[f], false, nullptr, take, stop)) return false;
      }
    }
    return true;
  }

  /// More spots, with all units.
  template <class Take, class Stop>
  bool at(const Field& field, const std::vector<int>& spots, Table& table, const Columns& columns,
          Force pull, Take take, Stop stop) {
    const std::vector<Columns> all(units(), columns);
    return std::all_of(spots.begin(), spots.end(), [&](int k) {
      return look(all, pull, field, k, table, false, nullptr, take, stop);
    });
  }

  /// One unit at any direction.
  [[nodiscard]] std::string act(std::size_t unit, Force pull, const Direction<Boat>& d) {
    engine_.put_on(setting_of(unit), path_, pull, d);
    return engine_.on_bed(unit % beds_, starts_[unit]);
  }

  /// Of each unit the columns that it is followed for.
  [[nodiscard]] std::vector<Columns> near(const Columns& columns) const;

 private:
  /// Of each unit the columns with no more than that, one that the bed changes nothing of on the
  /// first bed only.
  [[nodiscard]] std::vector<Columns> kept_of(const Columns& columns,
                                             const std::vector<double>& most) const;

  template <class Take, class Stop>
  bool look(const std::vector<Columns>& open, Force pull, const Field& field, int spot,
            Table& table, bool first, double* kept, Take& take, Stop& stop) {
    own_.assign(columns_, infinite);
    on_first_.assign(columns_, infinite);
    const Direction<Boat> d = field.direction(spot);
    double* row = table.row(spot);
    for (std::size_t s = 0; s < settings_.size(); ++s) {
      bool put = false;
      for (std::size_t bed = 0; bed < beds_; ++bed) {
        const std::size_t u = s * beds_ + bed;
        if (open[u].empty()) continue;
        if (!put) engine_.put_on(settings_[s], path_, pull, d);
        put = true;
        const std::string motion = engine_.on_bed(bed, starts_[u]);
        if (!motion.empty()) {
          moves_[u] = true;
          if (stop(motion, d, row)) return false;
          continue;
        }
        take(engine_.acting(), open[u], own_.data(), d);
        for (const std::size_t c : open[u]) {
          const double own = own_[c];
          own_[c] = infinite;
          row[c] = std::min(row[c], own);
          double& low = lowest_[u * columns_ + c];
          low = std::min(low, own);
          if (kept != nullptr) kept[u * columns_ + c] = own;
          if (!first) continue;
          if (bed == 0) on_first_[c] = own;
          if (own != on_first_[c]) as_first_[u * columns_ + c] = false;
        }
      }
    }
    return true;
  }

  Engine& engine_;
  std::span<const Setting> settings_;
  LoadPath path_;
  std::size_t columns_;
  std::size_t beds_;
  bool may_move_;
  std::vector<double> lowest_;  ///< of each unit and column
  std::vector<bool> moves_;     ///< a mechanism: never left out
  std::vector<bool> as_first_;  ///< the column has the same numbers as on the first bed
  std::vector<Start> starts_;
  std::vector<double> own_;
  std::vector<double> on_first_;
};

/// Pulls of one gear, or of several together, at which things go: in every direction of its own
/// cases, in every setting.
class Limits {
 public:
  Limits(Engine& engine, std::vector<Setting> settings, LoadPath path,
         const std::vector<DirectionRange>& ranges, Force pull, Angle step, bool details);

  Limits(Limits&&) = default;  // what is moved keeps its settings in their place
  Limits(const Limits&) = delete;

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
  /// One over the share of use of those columns; 0 for a mechanism, which no column is the `worst`
  /// of.
  double ratio(std::size_t unit, double pull, const Direction<Boat>& d, const Columns& columns,
               bool full, std::size_t* worst = nullptr);
  double root(std::size_t unit, const Direction<Boat>& d, double high, const Columns& columns,
              bool full);
  /// What a mode counts in a limit: the factor that it needs, infinite where it does not count.
  [[nodiscard]] double scale(std::size_t column, bool full) const;
  /// Columns of each unit that come near what ends the pull.
  [[nodiscard]] std::vector<Columns> deciding(const Columns& columns, bool full) const;

  Engine& engine_;
  std::vector<Setting> settings_;
  LoadPath path_;
  std::vector<double> shares_;
  std::vector<Field> fields_;
  std::vector<Survey> surveys_;              ///< of each share
  std::vector<std::vector<Table>> factors_;  ///< of each share and field
};

}  // namespace thole::plate
