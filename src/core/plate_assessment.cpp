#include <thole/assessment.hpp>

#include <algorithm>
#include <tuple>
#include <utility>

#include <thole/error.hpp>

#include "core/assessment_parts.hpp"
#include "core/geometry.hpp"
#include "core/load_list.hpp"
#include "core/plate_forces.hpp"
#include "core/plate_search.hpp"
#include "core/plate_words.hpp"
#include "core/ties.hpp"

namespace thole {

using namespace literals;

namespace {

using namespace parts;
using namespace plate;

std::string gives_way(const Standby& w) {
  return std::string(w.mode->gives_way) + (w.part.empty() ? "" : " (" + w.part + ")");
}

struct Worst {
  double ratio = infinite;
  Use use;
  double needed = 0;
  const LoadCase* load_case = nullptr;
  std::string direction;
};

// "down", "up and outboard", "down, inboard and aft"
std::string describe(const Shake& s) {
  std::vector<std::string_view> words;
  const auto add = [&](double v, std::string_view plus, std::string_view minus) {
    if (std::abs(v) > 1e-9) words.push_back(v > 0 ? plus : minus);
  };
  add(s.up, "up", "down");
  add(s.starboard, "outboard", "inboard");
  add(s.forward, "forward", "aft");
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? " and " : ", ";
    out += words[i];
  }
  return out.empty() ? "at rest" : out;
}

// Inputs that enter every load check: sizes, places and angles, that is all that belong neither to
// one check nor to one load case.
bool enters_every_check(const std::string& path, const std::vector<LoadCase>& listed) {
  if (!path.starts_with("mount.") && !path.starts_with("gear.")) return false;
  for (const std::string_view own : {"gear.drag", "gear.spool_growth", "gear.running_pull",
                                     "gear.line_test", "gear.mass", "gear.pull"}) {
    if (path == own) return false;
  }
  if (path.starts_with("gear.planer") || only_beside(path)) return false;
  for (const FailureMode& m : catalogue()) {
    for (const std::string_view own : m.depends_on) {
      if (path == own) return false;
    }
  }
  return std::none_of(listed.begin(), listed.end(), [&](const LoadCase& c) {
    return std::find(c.depends_on.begin(), c.depends_on.end(), path) != c.depends_on.end();
  });
}

// On the line, at the tip or at the point of a gear, not a hand on it.
LoadPath own_path(const Gear& g) {
  return g.downrigger ? LoadPath::tip : g.rod_holder ? LoadPath::line : LoadPath::point;
}

bool by_hand(const LoadCase& c) { return c.path == LoadPath::rim || c.path == LoadPath::post; }

// Ranges of a gear's own pull: those of the list whatever its owner did to it, and the owner's.
// More directions never raise a limit.
struct OwnPull {
  std::vector<DirectionRange> ranges;
  Force pull{};
};

OwnPull own_pull(const std::vector<LoadCase>& cases, const std::vector<LoadCase>& listed,
                 std::size_t gear) {
  OwnPull out;
  const auto add = [&](const LoadCase& c) {
    if (c.gear != int(gear) || !load_list::is_a_pull(c.path)) return;
    out.pull = std::max(out.pull, c.pull);
    join(out.ranges, c.ranges);
  };
  for (const LoadCase& c : listed) add(c);
  for (const LoadCase& c : cases) {
    if (!c.left_out) add(c);
  }
  return out;
}

void least(std::optional<Force>& a, const std::optional<Force>& b) {
  if (b && (!a || *b < *a)) a = b;
}

// All together, seen from another gear, or the same pull on a gear alike.
bool is_the_same_load(const Engine& engine, const LoadCase& a, const LoadCase& b) {
  if (a.others != b.others || a.path != b.path || a.category != b.category ||
      a.decides != b.decides || a.heave != b.heave || a.ranges != b.ranges) {
    return false;
  }
  if (a.others == Others::together) return a.pulls == b.pulls;
  return a.pull == b.pull && a.gear >= 0 && b.gear >= 0 &&
         engine.load_alike(std::size_t(a.gear), std::size_t(b.gear));
}

// Pull of each gear that the base takes when all balls hang up at once, at full factors or until
// something goes, as the list has that whatever its owner made of it.
std::vector<std::optional<Force>> all_at_once(Engine& engine, std::size_t gears,
                                              const std::vector<LoadCase>& listed, Angle step,
                                              bool full) {
  std::vector<std::optional<Force>> out(gears);
  std::vector<const LoadCase*> done;
  for (const LoadCase& c : listed) {
    if (c.kind != "both-hung-up" || !(c.pull.value() > 0)) continue;
    if (std::any_of(done.begin(), done.end(),
                    [&](const LoadCase* o) { return is_the_same_load(engine, c, *o); })) {
      continue;
    }
    done.push_back(&c);
    const auto limit = Limits(engine, engine.settings(c), c.path, c.ranges, c.pull, step, false)
                           .largest_pull(nullptr, full);
    for (std::size_t g = 0; limit.pull && g < c.pulls.size(); ++g) {
      if (c.pulls[g].value() > 0) least(out[g], Force(c.pulls[g] / c.pull * *limit.pull));
    }
  }
  return out;
}

// Limits of a gear in each part of its directions: where the boom points, or a sector. `hold` and
// `goes`: those of the whole.
void limits_by_direction(Engine& engine, const Setup& s, std::size_t g, const OwnPull& own,
                         Angle step, const Limits::Limit& hold, const Limits::Limit& goes,
                         GearLimit& whole) {
  const Gear& gear = s.gear[g];
  const auto add = [&](RangeLimit row, std::vector<Setting> settings,
                       const std::vector<DirectionRange>& ranges, const auto& has) {
    Limits limits(engine, std::move(settings), own_path(gear), ranges, own.pull, step, false);
    const auto lower = [&](bool full, const Limits::Limit& of_whole) {
      const Limits::Limit own_limit = limits.largest_pull(nullptr, full);
      std::optional<Force> pull = own_limit.pull;
      const Standby* mode = own_limit.mode;
      if (of_whole.pull && has(of_whole) && (!pull || *of_whole.pull < *pull)) {
        pull = of_whole.pull;
        mode = of_whole.mode;
      }
      return std::pair{pull, mode != nullptr ? gives_way(*mode) : std::string()};
    };
    std::tie(row.hold_limit, row.set_by) = lower(true, hold);
    std::tie(row.not_before, row.first) = lower(false, goes);
    whole.by_direction.push_back(std::move(row));
  };
  if (gear.downrigger) {
    const std::size_t angles = gear.downrigger->boom_angles.size();
    for (std::size_t a = 0; a < angles; ++a) {
      std::vector<Setting> there = engine.beside(g);
      std::erase_if(there, [&](const Setting& o) { return o.booms[g] % angles != a; });
      add(row_of(*gear.downrigger, a), std::move(there), own.ranges, [&](const Limits::Limit& l) {
        return l.setting != nullptr && l.setting->booms[g] % angles == a;
      });
    }
  } else {
    for (const Sector& sector : sectors_of(own.ranges)) {
      add(row_of(gear, sector), engine.beside(g), sector.ranges, [&](const Limits::Limit& l) {
        return l.direction && std::any_of(sector.ranges.begin(), sector.ranges.end(),
                                          [&](const DirectionRange& r) {
                                            return !Field(r, step).close_to(*l.direction).empty();
                                          });
      });
    }
  }
  lower_to_rows(whole);
}

// Every deciding case in every direction.
class Sweep {
 public:
  Sweep(Engine& engine, Assessment& out)
      : engine_(engine), out_(out), deciding_(engine.modes().size()) {
    // Distances need no case.
    const auto& modes = engine.modes();
    for (std::size_t i = 0; i < modes.size(); ++i) {
      if (modes[i].mode->needs_load) {
        with_load_.push_back(i);
        continue;
      }
      const Use use = engine.use(modes[i], engine.at_rest(), Category::everyday);
      const double needed = engine.needed(modes[i], Category::everyday);
      deciding_[i] = {use.factor() / needed, use, needed, nullptr, ""};
    }
  }

  [[nodiscard]] const std::vector<Worst>& deciding() const { return deciding_; }
  [[nodiscard]] const std::string& mechanism() const { return mechanism_; }
  /// Of the case that ran last; nothing where no load was looked at.
  [[nodiscard]] const std::optional<Hardest>& hardest() const { return hardest_; }
  /// Index of the case whose fasteners are in the assessment.
  [[nodiscard]] std::optional<std::size_t> worst_case() const { return worst_case_; }

  // `follow`: to finer directions, else on the coarse grid only.
  CaseResult run(const LoadCase& c, Angle step, bool follow) {
    follow_ = follow && c.decides;
    if (const auto same = std::find_if(done_.begin(), done_.end(),
                                       [&](const Done& d) {
                                         return d.followed == follow_ &&
                                                is_the_same_load(engine_, c, d.result.load_case);
                                       });
        same != done_.end()) {
      CaseResult r = same->result;
      r.load_case = c;
      hardest_ = same->hardest;
      if (r.motion.empty() && hardest_) {
        r.direction = engine_.describe(hardest_->setting, c.gear, c.path, hardest_->way);
      }
      return r;
    }
    hardest_.reset();
    result_ = {};
    result_.load_case = c;
    case_ = &c;
    case_worst_ = infinite;
    needed_.clear();
    for (const Standby& w : engine_.modes()) needed_.push_back(engine_.needed(w, c.category));
    const std::vector<Setting> settings = engine_.settings(c);
    if (c.path == LoadPath::ride) {
      for (std::size_t i = 0; i < settings.size(); ++i) {
        look({&settings[i], 1}, Force{}, Direction<Boat>(Eigen::Vector3d(0, 0, -1)),
             [&] { return describe(c.shakes[settings[i].shake]); });
      }
    } else {
      for (const DirectionRange& range : c.ranges) over(Field(range, step), settings);
    }
    result_.holds = result_.motion.empty() && case_worst_ >= 1;
    done_.push_back({result_, hardest_, follow_});
    return result_;
  }

 private:
  // A case and where it is hardest.
  struct Done {
    CaseResult result;
    std::optional<Hardest> hardest;
    bool followed = true;
  };

  void over(const Field& field, const std::vector<Setting>& settings) {
    const std::size_t n = engine_.modes().size();
    // The weight of the gear alone is looked at first.
    const Direction<Boat> first = field.direction(field.coarse().front());
    look(settings, Force{}, first, [&] { return words(first); });
    if (!result_.motion.empty()) return;
    pull_ = case_->pull;
    Survey survey(engine_, settings, case_->path, n);
    Table table(field, n);
    const bool rod = case_->path == LoadPath::line;
    const auto take_at = [&](const Acting& a, const Columns& columns, double* own,
                             const Direction<Boat>& d) {
      take(a, columns, own, d, [&] { return words(d); });
    };
    const auto stop = [&](const std::string& motion, const Direction<Boat>& d, double*) {
      moved(motion, [&] { return words(d); });
      return true;
    };
    if (!survey.over({&field, 1}, {&table, 1}, with_load_, case_->pull,
                     rod ? Survey::Near::all : Survey::Near::of_column, take_at, stop) ||
        !follow_) {
      return;
    }
    // Where the load jumps belongs to the grid.
    std::vector<int> close;
    for (const Direction<Boat>& d : engine_.jumps(settings, case_->path)) {
      for (const int k : field.close_to(d)) close.push_back(k);
    }
    if (!survey.at(field, close, table, with_load_, case_->pull, take_at, stop)) return;
    // Each mode follows its own units; what is found at a spot is kept. A rod's load has narrow
    // valleys: each mode looks at all spots that any other went to.
    std::vector<Columns> near = survey.near(with_load_);
    for (Columns& c : near) {
      if (rod && !c.empty()) c = with_load_;
    }
    std::vector<std::vector<std::size_t>> units_of(n);
    for (std::size_t u = 0; u < near.size(); ++u) {
      for (const std::size_t m : near[u]) units_of[m].push_back(u);
    }
    std::vector<bool> on_grid(std::size_t(field.size()), false);
    for (const std::vector<int>& spots : {field.coarse(), close}) {
      for (const int k : spots) on_grid[std::size_t(k)] = true;
    }
    std::vector<bool> known;  // of each row of the table and unit
    const auto at = [&](int spot, std::size_t m) {
      const std::size_t r = table.index(spot) * near.size();
      if (known.size() < r + near.size()) known.resize(r + near.size(), false);
      for (const std::size_t u : units_of[m]) {
        if (on_grid[std::size_t(spot)] || known[r + u]) continue;
        known[r + u] = true;
        const Direction<Boat> d = field.direction(spot);
        if (const std::string motion = survey.act(u, case_->pull, d); motion.empty()) {
          take(engine_.acting(), near[u], table.row(spot), d, [&] { return words(d); });
        } else {
          moved(motion, [&] { return words(d); });
        }
      }
      return table.row(spot)[m];
    };
    std::vector<double> lowest(n, infinite);
    std::vector<int> ends;
    const auto descend = [&](std::size_t m, int from) {
      double low = at(from, m);
      int end = from;
      field.descend(from, [&](int spot) {
        const double v = at(spot, m);
        const bool lower = v < low;
        if (lower) {
          low = v;
          end = spot;
        }
        return lower;
      });
      lowest[m] = std::min(lowest[m], low);
      if (std::find(ends.begin(), ends.end(), end) == ends.end()) ends.push_back(end);
    };
    for (const std::size_t m : with_load_) {
      std::vector<int> starts = field.basins([&](int spot) { return at(spot, m); });
      const auto lowest_close = std::min_element(close.begin(), close.end(),
                                                 [&](int a, int b) { return at(a, m) < at(b, m); });
      if (lowest_close != close.end()) starts.push_back(*lowest_close);
      for (const int k : starts) descend(m, k);
    }
    // A valley along which the descent stopped: where others ended it may be lower.
    const std::vector<int> all_ends = ends;
    for (const std::size_t m : with_load_) {
      int lower = -1;
      double low = lowest[m];
      for (const int k : all_ends) {
        if (!(at(k, m) < low)) continue;
        low = at(k, m);
        lower = k;
      }
      if (lower >= 0) descend(m, lower);
    }
  }

  [[nodiscard]] std::string words(const Direction<Boat>& d) const {
    return engine_.describe(engine_.now(), case_->gear, case_->path, d);
  }

  // All that one load does in some settings.
  template <class Words>
  void look(std::span<const Setting> settings, Force pull, const Direction<Boat>& d, Words words) {
    std::vector<double> ratios(engine_.modes().size());
    pull_ = pull;
    const std::string motion = engine_.act(
        settings, case_->path, pull, d,
        [&](const Acting& acting) { take(acting, with_load_, ratios.data(), d, words); });
    if (!motion.empty()) moved(motion, words);
  }

  // Some modes under one load on one bed; lowers their numbers in `row`.
  template <class Words>
  void take(const Acting& acting, const Columns& columns, double* row, const Direction<Boat>& d,
            Words words) {
    const auto& modes = engine_.modes();
    const Actions& a = engine_.on_base();
    const bool everyday = case_->decides && case_->category == Category::everyday;
    for (int k = 0; everyday && k < a.count; ++k) {
      const Force t = a.tension[std::size_t(k)];
      if (!out_.everyday_tension || t > *out_.everyday_tension) out_.everyday_tension = t;
    }
    for (const std::size_t i : columns) {
      const Use use = engine_.use(modes[i], acting, case_->category);
      const double factor = use.factor();
      const double ratio = factor / needed_[i];
      row[i] = std::min(row[i], ratio);
      if (case_->decides && parts::below(ratio, deciding_[i].ratio)) {
        deciding_[i] = {ratio, use, needed_[i], case_, words()};
      }
      if (modes[i].mode->fatigue || !parts::below(ratio, case_worst_)) continue;
      case_worst_ = ratio;
      result_.worst_mode = modes[i].mode->id;
      result_.worst_gives_way = gives_way(modes[i]);
      result_.factor = factor;
      result_.needed = needed_[i];
      result_.direction = words();
      hardest_ = Hardest{engine_.now(), d, pull_, engine_.bed_now()};
      if (!case_->decides || !parts::below(ratio, worst_of_all_)) continue;
      worst_of_all_ = ratio;
      worst_case_ = out_.cases.size();  // it is added when it is done
      out_.fasteners.clear();
      for (int k = 0; k < a.count; ++k) {
        out_.fasteners.push_back({engine_.fasteners()[std::size_t(k)], a.tension[std::size_t(k)],
                                  a.shear[std::size_t(k)].size()});
      }
    }
  }

  template <class Words>
  void moved(const std::string& motion, Words words) {
    if (!result_.motion.empty()) return;
    result_.motion = motion;
    if (case_->decides) mechanism_ = motion + " (" + case_->title + ", " + words() + ")";
  }

  Engine& engine_;
  Assessment& out_;
  std::vector<Worst> deciding_;
  Columns with_load_;  ///< modes that a load is looked at for
  double worst_of_all_ = infinite;
  std::optional<std::size_t> worst_case_;
  std::string mechanism_;
  // Of the case at hand.
  const LoadCase* case_ = nullptr;
  bool follow_ = true;
  std::vector<double> needed_;
  double case_worst_ = infinite;
  CaseResult result_;
  Force pull_{};  ///< that is on
  std::optional<Hardest> hardest_;
  std::vector<Done> done_;
};

// Does another deciding case of the same kind pull harder in all directions of this one? Then it is
// not followed to finer ones.
bool is_surpassed(const LoadCase& c, const std::vector<LoadCase>& cases) {
  return load_list::is_a_pull(c.path) &&
         std::any_of(cases.begin(), cases.end(), [&](const LoadCase& o) {
           return &o != &c && o.decides && !o.left_out && o.gear == c.gear && o.path == c.path &&
                  o.category == c.category && o.others == c.others && o.pull > c.pull &&
                  o.heave >= c.heave &&
                  std::all_of(c.ranges.begin(), c.ranges.end(), [&](const DirectionRange& r) {
                    return std::any_of(
                        o.ranges.begin(), o.ranges.end(),
                        [&](const DirectionRange& wide) { return contains(wide, r); });
                  });
         });
}

// What the verdict takes for granted about the fasteners.
std::vector<std::string> unchecked_fasteners(const Setup& s,
                                             const std::vector<CheckResult>& checks) {
  std::vector<std::string> out;
  for (const CheckResult& r : checks) {
    if (r.standing != Standing::not_checked) continue;
    if (r.mode == "insert-thread") {
      out.emplace_back("the threads of the blind inserts are strong enough: they are not checked");
    } else if (r.mode == "bolt-bending") {
      out.emplace_back("the fasteners do not bend over the pad: it is not checked");
    }
  }
  if (s.condition.weld_near_base != Answer::yes) return out;
  const auto as_given = [](const Fastening& f) {
    return f.blind || f.rivet || (f.insert && f.insert->solid && !geometry::in_bar(f));
  };
  const GunwalePlate& m = s.plate();
  if (as_given(m.fastening) || (m.second && as_given(*m.second))) {
    out.emplace_back("the strengths given for inserts or rivets are of metal beside a weld");
  }
  return out;
}

bool is_calculated(const LoadCase& c) {
  return !c.left_out && (load_list::is_a_pull(c.path) || by_hand(c) || c.path == LoadPath::ride);
}

}  // namespace

Assessment assess_plate(const Setup& s, const AssessOptions& options) {
  Engine engine(s);
  Assessment out;
  const std::vector<LoadCase> cases = load_cases(s);
  const std::vector<LoadCase> listed = s.case_edits.empty() ? cases : listed_cases(s);
  const auto& modes = engine.modes();
  // What is found at twice the step is followed to an eighth of it; the sphere of a hand is smooth.
  // The root of a lip carries along the row of those that pull: its strength jumps where one more
  // begins to, so that its peaks are narrow.
  const bool jumps = s.plate().host.form == WallForm::open_lip;
  const Angle coarse = (jumps ? 1.0 : 2.0) * options.step;
  const Angle coarse_hand = 3.0 * options.step;
  Sweep sweep(engine, out);
  std::vector<std::optional<Hardest>> hardest;  // of each case of the report
  for (const LoadCase& c : cases) {
    if (!c.decides && !options.neighbours) continue;  // a neighbour's verdict needs no more
    if (is_calculated(c)) {
      out.cases.push_back(sweep.run(c, by_hand(c) ? coarse_hand : coarse, !is_surpassed(c, cases)));
      hardest.push_back(sweep.hardest());
    } else {
      out.cases.emplace_back();
      out.cases.back().load_case = c;
      hardest.emplace_back();
    }
  }
  const std::vector<Worst>& deciding = sweep.deciding();
  const std::string& mechanism = sweep.mechanism();

  // Pulls at which things go, of each gear by itself.
  const bool refused_mode =
      std::any_of(engine.all().begin(), engine.all().end(),
                  [](const Standby& w) { return w.applicable.standing == Standing::refused; });
  std::vector<std::optional<Force>> at_once(s.gear.size());
  if (mechanism.empty() && !refused_mode)
    at_once = all_at_once(engine, s.gear.size(), listed, coarse, true);
  std::vector<Limits> limits;
  std::vector<OwnPull> pulls;
  for (std::size_t g = 0; g < s.gear.size(); ++g) {
    const Gear& gear = s.gear[g];
    GearLimit l;
    const OwnPull own = own_pull(cases, listed, g);
    pulls.push_back(own);
    std::size_t alike = 0;
    while (alike < g && !(engine.load_alike(alike, g) && pulls[alike].pull == own.pull &&
                          pulls[alike].ranges == own.ranges)) {
      ++alike;
    }
    if (alike < g) {
      const GearLimit& same = out.gear_limits[alike];
      l.hold_limit = same.hold_limit;
      l.not_before = same.not_before;
      l.set_by = same.set_by;
      l.first = same.first;
      l.direction = same.direction;
      l.by_direction = same.by_direction;
    } else if (mechanism.empty() && !own.ranges.empty()) {
      limits.emplace_back(engine, engine.beside(g), own_path(gear), own.ranges, own.pull, coarse,
                          options.neighbours);
      const auto words = [](const Standby* m) {
        return m != nullptr ? gives_way(*m) : std::string();
      };
      if (!refused_mode) {
        const Limits::Limit hold = limits.back().largest_pull(nullptr, true);
        l.hold_limit = hold.pull;
        l.set_by = words(hold.mode);
        if (hold.direction && hold.setting != nullptr) {
          l.direction = engine.describe(*hold.setting, int(g), own_path(gear), *hold.direction);
        }
        if (options.neighbours || options.by_direction) {
          const Limits::Limit goes = limits.back().largest_pull(nullptr, false);
          l.not_before = goes.pull;
          l.first = words(goes.mode);
          if (options.by_direction) {
            limits_by_direction(engine, s, g, own, coarse, hold, goes, l);
          }
        }
      }
    }
    l.gear = gear.name;
    if (l.hold_limit) l.all_hung_up = at_once[g];
    add_settings(s, g, cases, l);
    add_setting(s, g, cases, l);
    out.gear_limits.push_back(l);
    least(out.hold_limit, l.hold_limit);
    least(out.not_before, l.not_before);
    least(out.setting, l.setting);
    least(out.test_pull, l.test_pull);
  }
  std::string hand;  // where it tears the mount off first
  for (CaseResult& r : out.cases) {
    const LoadCase& c = r.load_case;
    if (!by_hand(c) || !is_calculated(c) || !options.neighbours || refused_mode) continue;
    const auto gear = std::size_t(std::max(c.gear, 0));
    r.goes_at = Limits(engine, engine.beside(gear), c.path, c.ranges, c.pull, coarse_hand, false)
                    .largest_pull(nullptr, false)
                    .pull;
    if (r.goes_at && (!out.handhold || *r.goes_at < *out.handhold)) {
      out.handhold = r.goes_at;
      hand = c.path == LoadPath::rim ? "a hand at the rim" : "a hand on the gear";
      if (s.gear.size() > 1) hand += " of " + s.gear[gear].name;
    }
  }

  // One result per mode.
  for (const Standby& w : engine.all()) {
    CheckResult r;
    r.mode = w.mode->id;
    r.part = w.part;
    r.gives_way = gives_way(w);
    r.standing = w.applicable.standing;
    r.why = w.applicable.why;
    r.source = {std::string(w.mode->source), "", w.mode->seen};
    r.valid = w.mode->valid;
    r.accuracy = w.mode->accuracy;
    r.outside_checks = w.mode->outside_checks;
    r.advice = w.mode->advice;
    r.lowered = w.lowered;
    if (r.standing == Standing::applies) {
      const auto index = std::size_t(
          std::find_if(modes.begin(), modes.end(),
                       [&](const Standby& m) { return m.mode == w.mode && m.stage == w.stage; }) -
          modes.begin());
      const Worst& worst = deciding[index];
      r.demand = worst.use.demand;
      r.strength = worst.use.strength;
      r.factor = worst.use.factor();
      r.needed = worst.load_case != nullptr ? worst.needed : w.needed;
      r.holds = worst.ratio >= 1;
      r.fastener = engine.number_of(w.stage, worst.use.fastener);
      std::vector<std::string> inputs;
      for (const std::string_view p : w.mode->depends_on) {
        if (!p.empty()) inputs.emplace_back(p);
      }
      if (worst.load_case != nullptr && w.mode->needs_load) {
        r.case_title = worst.load_case->title;
        r.direction = worst.direction;
        for (const std::string& p : worst.load_case->depends_on) inputs.push_back(p);
        for (const Input& i : s.inputs) {
          if (enters_every_check(i.path, listed)) inputs.push_back(i.path);
        }
      }
      for (const std::string& p : inputs) {
        if (is_assumed(s, p) && !hardly_counts(p, r)) add_condition(r.assumed, p);
      }
      if (w.mode->needs_load && !w.mode->fatigue && mechanism.empty() && options.neighbours) {
        for (Limits& l : limits) {
          if (!w.mode->spoils) least(r.goes_at, l.largest_pull(&modes[index], false).pull);
          least(r.limit_at, l.largest_pull(&modes[index], true).pull);
        }
      }
    }
    out.checks.push_back(r);
  }
  parts::sort_checks(out.checks);

  // Verdict.
  out.reasons = refusals(s);
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::refused &&
        std::find(out.reasons.begin(), out.reasons.end(), r.why) == out.reasons.end()) {
      out.reasons.push_back(r.why);
    }
  }
  if (!mechanism.empty()) out.reasons.push_back(mechanism);
  if (std::none_of(cases.begin(), cases.end(),
                   [](const LoadCase& c) { return c.decides && is_calculated(c); })) {
    out.reasons.emplace_back("no load case is left that decides");
  }
  const CheckResult* governing = nullptr;
  bool all_hold = true;
  for (const CheckResult& r : out.checks) {
    if (r.standing != Standing::applies) continue;
    if (limits_life(s, r.mode)) continue;
    if (governing == nullptr && !r.case_title.empty()) governing = &r;  // a load, no distance
    all_hold = all_hold && r.holds;
  }
  if (out.reasons.empty() && all_hold) {
    for (const CheckResult& r : out.checks) {
      if (r.standing != Standing::applies || r.factor / r.needed >= 1.5) continue;
      if (limits_life(s, r.mode)) continue;
      if (std::find(r.assumed.begin(), r.assumed.end(), "mount.host.thickness") ==
          r.assumed.end()) {
        continue;
      }
      out.reasons.emplace_back("the " + host_word(s) + " thickness is not measured and \"" +
                               r.gives_way + "\" lies within 1.5 x of the limit: measure the " +
                               host_word(s));
      break;
    }
  }
  if (!out.reasons.empty()) {
    out.verdict = Verdict::no_verdict;
  } else if (!all_hold) {
    out.verdict = Verdict::does_not_hold;
  } else {
    // Whatever is assumed and enters a check is named: an alloy guessed wrong halves a strength.
    for (const CheckResult& r : out.checks) {
      if (r.standing != Standing::applies || limits_life(s, r.mode)) continue;
      for (const std::string& p : r.assumed) {
        if (p.starts_with("condition.")) continue;  // asked for below
        // Gears share the names of their inputs.
        for (const Input& i : s.inputs) {
          if (i.path == p && i.known == Knowledge::assumed) {
            add_condition(out.holds_if, i.label + " is " + i.value);
          }
        }
      }
    }
    if (const std::string cracks = may_crack(s, out.checks); !cracks.empty()) {
      out.holds_if.push_back("no crack grows in time, an estimate: " + cracks);
    }
    parts::add_assumed_of_cases(s, out.cases, out.holds_if);
    for (const std::string& text : owners_conditions(s, cases)) add_condition(out.holds_if, text);
    const Condition& c = s.condition;
    const auto ask = [&](Answer a, const char* text) {
      if (a == Answer::not_known) out.holds_if.emplace_back(text);
    };
    if (!s.plate().base.metal) {
      out.holds_if.emplace_back("the base itself is strong enough: it is not checked");
    }
    for (const std::string& text : unchecked_fasteners(s, out.checks)) {
      add_condition(out.holds_if, text);
    }
    if (const auto& b = s.plate().bracket) {
      if (b->stop && geometry::is_clasped(s.plate())) {
        out.holds_if.emplace_back("the stop against sliding takes the pull: it is not checked");
      }
      if (clamped_edge(s.plate())) {
        out.holds_if.emplace_back("the edge of the wall takes the clamps: it is not checked");
      }
      if (b->fitting) {
        out.holds_if.push_back("the " + b->fitting->name +
                               " itself takes what its fasteners take: it is not checked");
      }
    }
    if (!s.plate().host.is_metal()) {
      const std::string unseen = bending_of_host(s, out.checks);
      if (!unseen.empty()) out.holds_if.push_back(unseen + " does no harm: it is not checked");
      ask(c.soft_wood_or_core, "nothing under the base is soft: an awl tells");
    }
    ask(c.cracks, "there is no crack near the base");
    const bool metal = s.plate().host.is_metal();
    if (metal) ask(c.loose_rivets, "no rivet in reach is loose");
    ask(c.bent_or_corroded, "no hardware is bent or corroded");
    if (metal) ask(c.weld_near_base, "no weld lies within 1 in (25 mm) of the base");
    out.verdict = out.holds_if.empty() ? Verdict::holds : Verdict::holds_if;
  }
  if (options.neighbours) {
    write_to_do(s, out);
    const bool known = mechanism.empty() && !refused_mode;
    write_ladder(s,
                 known ? all_at_once(engine, s.gear.size(), listed, coarse, false)
                       : std::vector<std::optional<Force>>{},
                 out);
    write_walls(s, options, out);
    write_cautions(s, hand, out);
    write_not_checked(s, cases, out);
    write_sources(s, out);
  }
  write_slip(s, out);
  write_sentence(s, cases, out);
  if (options.margins) {
    AssessOptions plain;
    plain.step = options.step;
    plain.neighbours = false;
    for (const Worsening& w : worsenings(s)) {
      try {
        validate(w.setup);
        out.margins.push_back(margin_row(w, assess_plate(w.setup, plain)));
      } catch (const DomainError& e) {
        out.margins.push_back(margin_row(w, e.what()));
      }
    }
  }
  if (options.forces) write_forces(engine, s, hardest, sweep.worst_case(), out);
  return out;
}

}  // namespace thole