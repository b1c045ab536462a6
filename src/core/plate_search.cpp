#include "core/plate_search.hpp"

namespace thole::plate {

std::vector<Columns> Survey::kept_of(const Columns& columns,
                                     const std::vector<double>& most) const {
  std::vector<Columns> out(units());
  for (std::size_t u = 0; u < units(); ++u) {
    for (const std::size_t c : columns) {
      if (moves_[u] || (lowest(u, c) <= most[c] && !again(u, c))) out[u].push_back(c);
    }
  }
  return out;
}

std::vector<Columns> Survey::near(const Columns& columns) const {
  std::vector<Columns> out(units());
  for (const std::size_t c : columns) {
    const double low = least(c);
    for (std::size_t u = 0; u < units(); ++u) {
      const double own = lowest(u, c);
      if (moves_[u] || (own < infinite && own <= Field::basin * low && !again(u, c))) {
        out[u].push_back(c);
      }
    }
  }
  return out;
}

Limits::Limits(Engine& engine, std::vector<Setting> settings, LoadPath path,
               const std::vector<DirectionRange>& ranges, Force pull, Angle step, bool details)
    : engine_(engine), settings_(std::move(settings)), path_(path) {
  const Category category = category_of_limits(path, true);
  for (const DirectionRange& r : ranges) fields_.emplace_back(r, step);
  const auto& modes = engine.modes();
  shares_ = details ? std::vector<double>{1.0, 0.1, 0.5, 4.0} : std::vector<double>{1.0};
  Columns all;
  for (std::size_t i = 0; i < modes.size(); ++i) {
    if (modes[i].mode->needs_load && !modes[i].mode->fatigue) all.push_back(i);
  }
  const auto take = [&](const Acting& a, const Columns& columns, double* own,
                        const Direction<Boat>&) {
    for (const std::size_t i : columns) own[i] = engine.use(modes[i], a, category).factor();
  };
  const auto go_on = [](const std::string&, const Direction<Boat>&, double*) { return false; };
  // The load of a rod is not straight between two directions.
  const Survey::Near near = path == LoadPath::line ? Survey::Near::all : Survey::Near::of_column;
  for (const double share : shares_) {
    Survey& survey = surveys_.emplace_back(engine, settings_, path, modes.size());
    auto& tables = factors_.emplace_back();
    for (const Field& f : fields_) tables.emplace_back(f, modes.size());
    (void)survey.over(fields_, tables, all, share * pull, near, take, go_on);
  }
}

double Limits::scale(std::size_t column, bool full) const {
  const Standby& w = engine_.modes()[column];
  if (full) return engine_.full_factor(w, path_);
  return w.mode->spoils ? infinite : 1.0;  // nothing goes by a dent
}

std::vector<Columns> Limits::deciding(const Columns& columns, bool full) const {
  // More than a basin: at another pull they may change places.
  constexpr double margin = 1.25;
  std::vector<Columns> out(surveys_.front().units());
  for (const Survey& s : surveys_) {
    double least = infinite;
    for (const std::size_t c : columns) least = std::min(least, s.least(c) / scale(c, full));
    for (std::size_t u = 0; u < out.size(); ++u) {
      for (const std::size_t c : columns) {
        const double own = s.lowest(u, c) / scale(c, full);
        if (!s.moves(u) && !(own < infinite && own <= margin * least && !s.again(u, c))) continue;
        if (std::find(out[u].begin(), out[u].end(), c) == out[u].end()) out[u].push_back(c);
      }
    }
  }
  return out;
}

Limits::Limit Limits::largest_pull(const Standby* only, bool full) {
  constexpr double most = 1e6;  // N; above it nothing on a small boat matters
  Limit out;
  const auto& modes = engine_.modes();
  const auto all_ratio = [&](double pull, const Direction<Boat>& d) {
    return engine_.worst_ratio(settings_, path_, pull * si::newton, d, only, full, &out.mode,
                               &out.setting);
  };
  const Field& first = fields_.front();
  // The weight of the gear must be carried before any pull is.
  if (all_ratio(0, first.direction(first.coarse().front())) < 1) {
    out.pull = Force{};
    return out;
  }
  Columns columns;
  for (std::size_t i = 0; i < modes.size(); ++i) {
    const FailureMode& m = *modes[i].mode;
    if (only != nullptr && only != &modes[i]) continue;
    if (m.needs_load && !m.fatigue && scale(i, full) < infinite) columns.push_back(i);
  }
  double best = most;
  std::vector<Columns> near(surveys_.front().units());
  if (only != nullptr) {
    for (const Survey& s : surveys_) {
      const std::vector<Columns> own = s.near(columns);
      for (std::size_t u = 0; u < near.size(); ++u) {
        if (near[u].empty()) near[u] = own[u];
      }
    }
  } else {
    near = deciding(columns, full);
  }
  if (std::all_of(near.begin(), near.end(), [](const Columns& c) { return c.empty(); })) {
    near.assign(near.size(), columns);
  }
  const auto lower_unit = [&](std::size_t unit, const Direction<Boat>& d, const Columns& look_at) {
    bool lower = false;
    // Few lower it, and only the one mode that does is followed to its own pull.
    for (std::size_t round = 0; round <= look_at.size() && best > 0; ++round) {
      std::size_t worst = modes.size();
      const double enough = round == 0 ? 1 : 1 - 1e-10;  // rounding of the root just found
      if (ratio(unit, best, d, look_at, full, &worst) >= enough) break;
      best = root(unit, d, best, worst < modes.size() ? Columns{worst} : look_at, full);
      out.direction = d;
      lower = true;
    }
    return lower;
  };
  const auto lower = [&](const Field& f, int spot) {
    const Direction<Boat> d = f.direction(spot);
    bool found = false;
    for (std::size_t u = 0; u < near.size(); ++u) {
      if (!near[u].empty() && lower_unit(u, d, near[u])) found = true;
    }
    return found;
  };
  for (std::size_t n = 0; n < fields_.size(); ++n) {
    const Field& f = fields_[n];
    const auto value = [&](std::size_t share, int spot) {
      const double* row = factors_[share][n].row(spot);
      double worst = infinite;
      for (const std::size_t i : columns) worst = std::min(worst, row[i] / scale(i, full));
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
      const Force at = best * si::newton;
      Survey survey(engine_, settings_, path_, 1 + modes.size());
      Table table(f, 1 + modes.size());
      const Category category = category_of_limits(path_, full);
      double least = infinite;
      const auto take = [&](const Acting& a, const Columns& of, double* own,
                            const Direction<Boat>&) {
        for (const std::size_t i : of) {
          own[i] = engine_.use(modes[i], a, category).factor() / scale(i, full);
          least = std::min(least, own[i]);
        }
      };
      const auto value_at = [&](int spot) {
        const double* row = table.row(spot);
        return *std::min_element(row, row + modes.size() + 1);
      };
      (void)survey.over({&f, 1}, {&table, 1}, columns, at,
                        path_ == LoadPath::line ? Survey::Near::all : Survey::Near::of_all, take,
                        [&](const std::string&, const Direction<Boat>&, double* row) {
                          row[modes.size()] = 0;
                          return false;
                        });
      for (std::size_t u = 0; u < near.size(); ++u) {
        for (const std::size_t c : columns) {
          const double own = survey.lowest(u, c);
          if (!survey.moves(u) && (own > std::max(1.0, Field::basin * least) || survey.again(u, c)))
            continue;
          if (std::find(near[u].begin(), near[u].end(), c) == near[u].end()) near[u].push_back(c);
        }
      }
      for (const int k : f.coarse()) {
        if (value_at(k) < 1) (void)lower(f, k);
      }
      add(f.basins(value_at));
    }
    for (const int k : starts) {
      f.descend(k, [&](int spot) { return lower(f, spot); });
    }
    // A rod's load has narrow valleys that the eight ways round a spot leave: wider rings, once
    // more down from what they find.
    if (path_ != LoadPath::line || only != nullptr || !out.direction) continue;
    bool again = true;
    for (int round = 0; round < 16 && again && best > 0; ++round) {
      again = false;
      for (const int k : f.rings(*out.direction)) {
        if (!lower(f, k)) continue;
        f.descend(k, [&](int spot) { return lower(f, spot); });
        again = true;
        break;
      }
    }
  }
  if (best >= most) return {};
  if (best <= 0) best = 0;
  out.pull = best * si::newton;
  // What has no strength at all goes at no pull, under which it feels nothing: a hair of one.
  if (out.direction) (void)all_ratio(std::max(best, 1e-6), *out.direction);
  return out;
}

double Limits::ratio(std::size_t unit, double pull, const Direction<Boat>& d,
                     const Columns& columns, bool full, std::size_t* worst) {
  if (!surveys_.front().act(unit, pull * si::newton, d).empty()) return 0;
  const Category category = category_of_limits(path_, full);
  const auto& modes = engine_.modes();
  double least = infinite;
  for (const std::size_t i : columns) {
    const double f = engine_.use(modes[i], engine_.acting(), category).factor() / scale(i, full);
    if (f >= least) continue;
    least = f;
    if (worst != nullptr) *worst = i;
  }
  return least;
}

// Pull below `high`, which is too much, at which the ratio is one; from below, to 1e-12.
double Limits::root(std::size_t unit, const Direction<Boat>& d, double high, const Columns& columns,
                    bool full) {
  const auto use = [&](double p) { return 1 / ratio(unit, p, d, columns, full); };
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
