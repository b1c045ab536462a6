#include "core/plate_search.hpp"

namespace thole::plate {

Limits::Limits(Engine& engine, std::vector<Setting> settings, LoadPath path,
               const std::vector<DirectionRange>& ranges, Force pull, Angle step, bool details)
    : engine_(engine), settings_(std::move(settings)), path_(path) {
  const Category category = category_of_limits(path, true);
  for (const DirectionRange& r : ranges) fields_.emplace_back(r, step);
  const auto& modes = engine.modes();
  shares_ = details ? std::vector<double>{1.0, 0.1, 0.5, 4.0} : std::vector<double>{1.0};
  // At each pull and for each mode: settings that come near its hardest.
  const std::size_t n = modes.size();
  std::vector<Near> near(shares_.size(), Near(settings_.size(), n));
  std::vector<double> own(n);
  for (const Field& f : fields_) {
    auto& at = factors_.emplace_back();
    for (std::size_t share = 0; share < shares_.size(); ++share) {
      Table table(f, n);
      for (const int k : f.coarse()) {
        double* row = table.row(k, [](double*) {});
        for (std::size_t s = 0; s < settings_.size(); ++s) {
          std::fill(own.begin(), own.end(), infinite);
          const std::string motion =
              engine.act({&settings_[s], 1}, path, shares_[share] * pull, f.direction(k),
                         [&](const Acting& a) {
                           for (std::size_t i = 0; i < n; ++i) {
                             if (!modes[i].mode->needs_load || modes[i].mode->fatigue) continue;
                             own[i] = std::min(own[i], engine.use(modes[i], a, category).factor());
                           }
                         });
          near[share].take(s, own.data());
          if (!motion.empty()) near[share].takes_off(s);
          for (std::size_t i = 0; i < n; ++i) row[i] = std::min(row[i], own[i]);
        }
      }
      at.push_back(std::move(table));
    }
  }
  std::vector<bool> any(settings_.size(), false);
  for (std::size_t i = 0; i < n; ++i) {
    std::vector<bool> of_mode(settings_.size(), false);
    for (const Near& one : near) one.mark(i, of_mode);
    for (std::size_t s = 0; s < any.size(); ++s) any[s] = any[s] || of_mode[s];
    near_.push_back(only_near(settings_, of_mode));
  }
  near_.push_back(only_near(settings_, any));
}

Limits::Limit Limits::largest_pull(const Standby* only, bool full) {
  constexpr double most = 1e6;  // N; above it nothing on a small boat matters
  Limit out;
  const Field& first = fields_.front();
  // The weight of the gear must be carried before any pull is.
  if (ratio(settings_, 0, first.direction(first.coarse().front()), only, full, &out) < 1) {
    out.pull = Force{};
    return out;
  }
  double best = most;
  const auto& modes = engine_.modes();
  const std::span<const Setting> near =
      only != nullptr ? near_[std::size_t(only - modes.data())] : near_.back();
  const auto lower_in = [&](std::span<const Setting> settings, const Field& f, int spot) {
    const Direction<Boat> d = f.direction(spot);
    bool lower = false;
    for (std::size_t s = 0; s < settings.size(); ++s) {
      // One by one: few lower it, and only those are followed to their own pull.
      const std::span<const Setting> one = settings.subspan(s, 1);
      if (ratio(one, best, d, only, full) >= 1) continue;
      best = root(one, d, best, only, full);
      lower = true;
    }
    if (lower) out.direction = d;
    return lower;
  };
  const auto lower = [&](const Field& f, int spot) { return lower_in(near, f, spot); };
  for (std::size_t n = 0; n < fields_.size(); ++n) {
    const Field& f = fields_[n];
    const auto value = [&](std::size_t share, int spot) {
      const double* row = factors_[n][share].row(spot, [](double*) {});
      if (only != nullptr) return row[only - modes.data()];
      double worst = infinite;
      for (std::size_t i = 0; i < modes.size(); ++i) {
        worst = std::min(worst, row[i] / (full ? engine_.full_factor(modes[i], path_) : 1.0));
      }
      return worst;
    };
    std::vector<int> starts;
    const auto add = [&](const std::vector<int>& more) {
      for (const int k : more) {
        if (std::find(starts.begin(), starts.end(), k) == starts.end()) starts.push_back(k);
      }
    };
    for (std::size_t share = 0; share < shares_.size(); ++share) {
      add(f.basins([&](int k) { return value(share, k); }));
    }
    for (const Direction<Boat>& d : engine_.jumps(settings_, path_)) {
      for (const int k : f.close_to(d)) {
        if (lower(f, k)) starts.push_back(k);
      }
    }
    for (const int k : starts) (void)lower(f, k);
    if (only == nullptr && best < most) {
      // Which directions are hard changes with the pull: a rod bends. So all at the pull found.
      const double at = best;
      Table table(f, 1);
      for (const int k : f.coarse()) {
        *table.row(k, [](double*) {}) = ratio(settings_, at, f.direction(k), only, full);
      }
      for (const int k : f.coarse()) {
        if (*table.row(k, [](double*) {}) < 1) (void)lower_in(settings_, f, k);
      }
      add(f.basins([&](int k) { return *table.row(k, [](double*) {}); }));
    }
    for (const int k : starts) {
      f.descend(k, [&](int spot) { return lower(f, spot); });
    }
  }
  if (best >= most) return {};
  if (best <= 0) best = 0;
  out.pull = best * si::newton;
  if (out.direction) (void)ratio(settings_, best, *out.direction, only, full, &out);
  return out;
}

double Limits::ratio(std::span<const Setting> settings, double pull, const Direction<Boat>& d,
                     const Standby* only, bool full, Limit* where) {
  return engine_.worst_ratio(settings, path_, pull * si::newton, d, only, full,
                             where != nullptr ? &where->mode : nullptr,
                             where != nullptr ? &where->setting : nullptr);
}

// Pull below `high`, which is too much, at which the ratio is one; from below, to 1e-12.
double Limits::root(std::span<const Setting> settings, const Direction<Boat>& d, double high,
                    const Standby* only, bool full) {
  const auto use = [&](double p) { return 1 / ratio(settings, p, d, only, full); };
  double use_high = use(high);
  double low = 0;
  double use_low = 0;
  // The use is about in proportion to the pull: from above by leaps, then by chords.
  for (;;) {
    const double guess =
        use_high < infinite ? std::clamp(0.7 / use_high, 1e-3, 0.5) * high : 0.5 * high;
    const double u = use(guess);
    if (u <= 1) {
      low = guess;
      use_low = u;
      break;
    }
    high = guess;
    use_high = u;
    if (high <= 1e-6) return 0;
  }
  int same = 0;
  double err_low = use_low - 1;
  double err_high = use_high - 1;
  for (int i = 0; i < 100 && high - low > 1e-12 * high; ++i) {
    double at = 0.5 * (low + high);
    if (err_high < infinite && i % 8 != 7) {
      at = low - err_low * (high - low) / (err_high - err_low);
      const double margin = std::min(2.5e-13 * high, 0.25 * (high - low));
      at = std::clamp(at, low + margin, high - margin);
    }
    const double e = use(at) - 1;
    if (e <= 0) {
      low = at;
      err_low = e;
      if (same < 0) err_high *= 0.5;
      same = -1;
    } else {
      high = at;
      err_high = e;
      if (same > 0) err_low *= 0.5;
      same = 1;
    }
  }
  return low;
}

}  // namespace thole::plate
