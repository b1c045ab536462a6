#include <thole/assessment.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include <thole/error.hpp>
#include <thole/metal_strength.hpp>

#include "core/assessment_parts.hpp"
#include "core/geometry.hpp"

namespace thole {

using namespace literals;

namespace {

using namespace parts;

constexpr double infinite = std::numeric_limits<double>::infinity();

// How stiff the bed is against the fasteners is a guess: (stiffness of all fasteners) / (bed
// stiffness x contact area) from a hard to a soft bed. Every check takes its bad end (judgement).
constexpr std::array bed_softness{0.05, 0.25, 1.0};
const LinearStiffness fastener_stiffness = LinearStiffness::from_value(8e6);
// Bed for the bending of the base: that of the solid models behind `flexible_base_factor`.
const BedStiffness bed_for_flex = BedStiffness::from_value(20e9);

struct Standby {
  const FailureMode* mode = nullptr;
  Applicability applicable;
  double needed = 0;
  double full = 0;  ///< never below the stored one: limits are at full factors
  bool lowered = false;
};

// One base, ready for any load.
class Engine {
 public:
  explicit Engine(const Setup& s) : setup_(s), gear_(s.gear.front()) {
    const Outline bed = geometry::bed_of(s.plate());
    const auto& holes = s.plate().fastening.holes;
    const double n = double(holes.size());
    const Area area = area_of(bed);
    for (const double softness : bed_softness) {
      contacts_.emplace_back(bed, BedStiffness(n * fastener_stiffness / (softness * area)), holes,
                             fastener_stiffness);
    }
    growth_ = base_growth();
    for (const FailureMode& m : catalogue()) {
      Standby w;
      w.mode = &m;
      w.applicable = m.applies(s);
      const GroupFactor f = group_factor(s, m);
      w.needed = f.needed;
      w.full = f.full;
      w.lowered = f.lowered;
      if (w.applicable.standing == Standing::applies) modes_.push_back(w);
      all_.push_back(w);
    }
  }

  [[nodiscard]] const std::vector<Standby>& modes() const { return modes_; }
  [[nodiscard]] const std::vector<Standby>& all() const { return all_; }

  [[nodiscard]] double needed(const Standby& w, Category c) const {
    return needed_factor(*w.mode, w.needed, c,
                         setup_.required_factors.at("metal yield in an accident").measure.si);
  }

  // Calls `visit(actions)` for each bed; returns the motion of a mechanism, or "".
  template <class Visit>
  std::string act(LoadPath path, Force pull, const Direction<Boat>& d, Visit visit) const {
    Actions a;
    a.load = base_load(setup_.plate().host, gear_, path, pull, d);
    const auto& holes = setup_.plate().fastening.holes;
    a.count = int(holes.size());
    try {
      const auto shear =
          share_in_plane(holes, a.load.force.x(), a.load.force.y(), a.load.moment.z());
      std::copy(shear.begin(), shear.end(), a.shear.begin());
    } catch (const DomainError&) {
      return "the base spins about its only fastener";
    }
    for (const BaseContact& contact : contacts_) {
      a.contact = &contact;
      a.result = contact.solve(a.load.force.z(), a.load.moment.x(), a.load.moment.y());
      if (a.result.balance == Balance::mechanism) return a.result.motion;
      for (int i = 0; i < a.count; ++i) {
        a.tension[std::size_t(i)] = growth_ * a.result.tension[std::size_t(i)];
      }
      visit(a);
    }
    return "";
  }

  // Smallest factor / target over the modes; 0 for a mechanism.
  double worst_ratio(LoadPath path, Force pull, const Direction<Boat>& d, const Standby* only,
                     bool full_factors) const {
    double worst = infinite;
    // A limit must allow the everyday pull too, where pull-over is halved; what goes once does not.
    const Category category = full_factors ? Category::everyday : Category::occasional;
    const std::string motion = act(path, pull, d, [&](const Actions& a) {
      for (const Standby& w : modes_) {
        if ((only != nullptr && only != &w) || !w.mode->needs_load) continue;
        const double f = w.mode->use(setup_, a, category).factor();
        worst = std::min(worst, f / (full_factors ? w.full : 1.0));
      }
    });
    return motion.empty() ? worst : 0;
  }

  // Largest pull that every direction allows. Directions are tried against the best so far, so
  // that only a few need the root.
  std::optional<Force> largest_pull(LoadPath path, const std::vector<Direction<Boat>>& ways,
                                    const Standby* only, bool full_factors,
                                    const DirectionRange& range, Angle step) const {
    constexpr double most = 1e6;  // N; above it nothing on a small boat matters
    // The weight of the gear must be carried before any pull is.
    if (worst_ratio(path, Force{}, ways.front(), only, full_factors) < 1) return Force{};
    double best = most;
    std::vector<Direction<Boat>> all = ways;
    std::optional<Direction<Boat>> limiting;
    for (std::size_t k = 0; k < all.size(); ++k) {
      const Direction<Boat> d = all[k];
      const bool last_coarse = k + 1 == ways.size();
      const auto passes = [&](double p) {
        return worst_ratio(path, p * si::newton, d, only, full_factors) >= 1;
      };
      const auto refine = [&] {
        if (!last_coarse || !limiting) return;
        const auto near = directions_near(*limiting, range, step);
        all.insert(all.end(), near.begin(), near.end());
      };
      if (passes(best)) {
        refine();
        continue;
      }
      double low = 0;
      double high = best;
      // Down by halves first: limits are far below the start on the first direction.
      while (high > 1e-6 && !passes(high / 2)) high /= 2;
      low = high / 2;
      if (high <= 1e-6) return Force{};
      for (int i = 0; i < 50 && high - low > 1e-12 * high; ++i) {
        const double mid = 0.5 * (low + high);
        (passes(mid) ? low : high) = mid;
      }
      best = low;
      limiting = d;
      refine();
    }
    if (best >= most) return std::nullopt;
    return best * si::newton;
  }

 private:
  double base_growth() const {
    const BasePlate& b = setup_.plate().base;
    const Fastening& f = setup_.plate().fastening;
    // Lever from the foot of the body to the farthest fastener line, and on to the edge.
    const Length half = b.body ? 0.5 * *b.body : Length{};
    double growth = 1;
    const auto grow = [&](Length lever, Length beyond) {
      if (!(lever.value() > 0)) return;
      growth =
          std::max(growth, b.metal ? flexible_base_factor(b.thickness, b.metal->modulus, lever,
                                                          beyond, f.thread.diameter, bed_for_flex)
                                         .factor
                                   : prying_bound(lever, beyond, f.thread.diameter));
    };
    for (const PlanPoint& p : f.holes) {
      if (!b.sides_turned) {
        grow(std::hypot(p.x.value(), p.y.value()) * si::metre - half,
             geometry::to_outline_edge(b.outline, p));
        continue;
      }
      const double c = std::cos(radians(*b.sides_turned));
      const double n = std::sin(radians(*b.sides_turned));
      for (const auto& axis : {std::pair{c, n}, std::pair{-n, c}}) {
        const Length at = abs(Length(axis.first * p.x + axis.second * p.y));
        Length edge{};
        for (const PlanPoint& corner : b.outline) {
          edge = std::max(edge, Length(axis.first * corner.x + axis.second * corner.y));
        }
        grow(at - half, edge - at);
      }
    }
    return growth;
  }

  const Setup& setup_;
  const Gear& gear_;
  std::vector<BaseContact> contacts_;
  std::vector<Standby> modes_;
  std::vector<Standby> all_;
  double growth_ = 1;
};

struct Worst {
  double ratio = infinite;
  Use use;
  double needed = 0;
  const LoadCase* load_case = nullptr;
  std::string direction;
};

// The directions that are hardest for one mode. Its own going pull is read from these; the hold
// limit and the first to go are found over all directions.
std::vector<Direction<Boat>> hardest(const std::vector<Direction<Boat>>& ways,
                                     const std::vector<std::vector<std::vector<double>>>& factors,
                                     std::size_t mode) {
  constexpr std::size_t kept = 24;  // of each pull
  std::vector<bool> taken(ways.size(), false);
  std::vector<Direction<Boat>> out;
  for (const auto& at : factors) {
    std::vector<std::pair<double, std::size_t>> rank;
    for (std::size_t d = 0; d < ways.size(); ++d) rank.emplace_back(at[mode][d], d);
    const std::size_t n = std::min(kept, rank.size());
    std::partial_sort(rank.begin(), rank.begin() + std::ptrdiff_t(n), rank.end());
    for (std::size_t i = 0; i < n; ++i) {
      if (taken[rank[i].second]) continue;
      taken[rank[i].second] = true;
      out.push_back(ways[rank[i].second]);
    }
  }
  return out;
}

// Inputs that enter every load check: sizes, places and angles, that is all that belong neither to
// one check nor to one load case.
bool enters_every_check(const std::string& path) {
  if (!path.starts_with("mount.") && !path.starts_with("gear.")) return false;
  for (const std::string_view own : {"gear.drag", "gear.spool_growth", "gear.running_pull",
                                     "gear.line_test", "gear.mass", "gear.pull"}) {
    if (path == own) return false;
  }
  for (const FailureMode& m : catalogue()) {
    for (const std::string_view own : m.depends_on) {
      if (path == own) return false;
    }
  }
  return true;
}

std::string wall_words(const Setup& s) {
  const GunwalePlate& m = s.plate();
  if (m.fastening.hold == HoldBy::tapped_bar) {
    return show(m.fastening.backing->thickness, s.units) + " bar behind the wall";
  }
  return show(m.host.thickness, s.units) + " wall";
}

// "the 1/4-20 threads pull out of the 0.090 in wall"
std::string in_words(const Setup& s, const CheckResult& c) {
  if (c.mode == "thread-pull-out" || c.mode == "pull-out-with-bearing") {
    return "the " + s.plate().fastening.thread.name + " threads pull out of the " + wall_words(s) +
           (c.mode == "thread-pull-out" ? "" : " (side load counted)");
  }
  return "the " + c.gives_way;
}

void write_ladder(const Setup& s, Assessment& out) {
  const Gear& g = s.gear.front();
  for (const CheckResult& c : out.checks) {
    if (c.standing == Standing::applies && c.goes_at) {
      out.ladder.push_back({in_words(s, c), c.goes_at, std::nullopt, false});
    }
  }
  if (g.rod_holder) {
    const RodHolder& r = *g.rod_holder;
    out.ladder.push_back(
        {"drag slips", r.drag.value, Force(1.5 * r.spool_growth * r.drag.value), true});
    out.ladder.push_back({"line parts", r.line_test, Force(1.3 * r.line_test), true});
    out.ladder.push_back({"holder body", std::nullopt, std::nullopt, true});
  }
  std::stable_sort(out.ladder.begin(), out.ladder.end(),
                   [](const LadderStep& a, const LadderStep& b) {
                     const double x = a.low ? a.low->value() : infinite;
                     const double y = b.low ? b.low->value() : infinite;
                     return x < y;
                   });
  if (!g.rod_holder) return;
  const RodHolder& r = *g.rod_holder;
  const Force drag_high = 1.5 * r.spool_growth * r.drag.value;
  const Force line_high = 1.3 * r.line_test;
  if (!out.not_before) return;
  const Force mount = *out.not_before;
  if (line_high < mount) {
    out.ladder_verdict = "the line parts before the mount: the wanted order";
  } else if (r.drag.known == Knowledge::measured && drag_high < mount) {
    out.ladder_verdict = "the drag slips first; a locked reel may take the mount before the line";
  } else {
    out.ladder_verdict = "wrong order: the mount may go before drag or line";
  }
}

void write_cautions(const Setup& s, Assessment& out) {
  const GunwalePlate& m = s.plate();
  const ReaderUnits u = s.units;
  auto& c = out.cautions;
  if (out.handhold && out.handhold->value() < (300.0_lbf).value()) {
    c.push_back("not a handhold, seat or step: a hand at the rim may tear it off at " +
                about(*out.handhold, u, Rounding::down));
  } else {
    c.emplace_back("not a handhold, seat or step");
  }
  c.emplace_back("never tie off, tow, moor, anchor or lift from this mount");
  c.emplace_back("snagged: throttle off, let it slip or cut the line; never power against it");
  c.emplace_back("before drilling look behind: fuel, wires, cables, foam, outer hull");
  if (m.fastening.hold != HoldBy::through_bolt) {
    const PullOut p = thin_wall_pull_out(
        m.fastening.thread, geometry::thread_depth(m.fastening, m.host),
        geometry::threaded_metal(m.fastening, m.host), m.fastening.material.shear_ultimate);
    if (p.threads < 2) {
      c.push_back("only " + show_number(std::floor(p.threads * 10) / 10) +
                  " threads engaged: below two, no margin for wear" +
                  (p.threads < 1.5 ? "; advised against" : ""));
    }
    if (p.extrapolated) {
      c.emplace_back("thread size or depth outside the tests: the pull-out figure is extrapolated");
    }
    // F0 <= 0.5 Rn with the low end of the nut factor, K = 0.15 (judgement).
    const Moment torque = 0.15 * m.fastening.thread.diameter * 0.5 * p.strength;
    c.push_back("bolt torque charts strip these threads: at most " + show(torque, u) +
                ", lubricated");
  }
  const auto named = [&](const char* part) {
    return m.fastening.material.name.find(part) != std::string::npos;
  };
  if (named("tainless") || named("18-8") || named("F593") || named("A2-") || named("A4-")) {
    c.emplace_back(s.salt_water ? "stainless in aluminium in salt water: paste, sleeves and a pad; "
                                  "look twice a season"
                                : "stainless in aluminium: paste on the threads, turn slowly");
  }
  if (s.condition.within_150_mm == "nothing" || s.condition.within_150_mm.empty()) {
    c.emplace_back(s.condition.within_150_mm.empty()
                       ? "nobody said what ties the gunwale within 6 in (150 mm): it may roll"
                       : "nothing ties the gunwale within 6 in (150 mm): it may roll");
  }
  for (const CheckResult& r : out.checks) {
    if (r.lowered) c.push_back("the factor needed for \"" + r.gives_way + "\" was lowered");
  }
}

void write_not_checked(const Setup& s, Assessment& out) {
  auto& n = out.not_checked;
  n.emplace_back("the holder's own body");
  n.emplace_back("rolling of the gunwale as a whole");
  n.emplace_back("working loose, wear, corrosion");
  n.emplace_back("fatigue");
  n.emplace_back("bouncing of the gear's own weight when running or on the road");
  n.emplace_back("stability of the boat");
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::not_checked) n.push_back(r.gives_way + ": " + r.why);
  }
  if (!s.plate().base.metal) n.emplace_back("strength of the base itself");
}

void write_sources(const Setup& s, Assessment& out) {
  auto& all = out.sources;
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::applies) add_source(all, r.source);
  }
  add_source(all, s.plate().host.metal.source);
  if (s.plate().base.metal) add_source(all, s.plate().base.metal->source);
  if (s.plate().fastening.backing) add_source(all, s.plate().fastening.backing->metal.source);
  add_source(all, s.plate().fastening.material.source);
  add_source(all, s.plate().fastening.thread.source);
  for (const auto& [group, value] : s.required_factors) add_source(all, value.source);
  if (s.gear.front().rod_holder) {
    add_source(all, {"elastica with a dead load (Bisshopp & Drucker 1945), energy bound on the "
                     "lever of a bent rod",
                     "", Seen::computed});
    add_source(all, {"ASCE 7-10, 4.5.1, hand-rail point load", "", Seen::page});
  }
}

void write_to_do(const Setup& s, Assessment& out) {
  const Gear& g = s.gear.front();
  const ReaderUnits u = s.units;
  std::vector<std::string> advice;
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::applies && !r.holds) {
      if (std::find(advice.begin(), advice.end(), r.advice) == advice.end()) {
        advice.push_back(r.advice);
      }
    }
  }
  if (advice.size() > 2) advice.resize(2);
  out.to_do = advice;
  if (!g.rod_holder || !out.setting) return;
  const RodHolder& r = *g.rod_holder;
  if (*out.setting < r.drag.value) {
    out.to_do.push_back("as it stands: set the drag to " + about(*out.setting, u, Rounding::down) +
                        " or less, measured with a scale at the line");
  }
  if (!advice.empty() && !r.butt_stiffness) {
    out.to_do.emplace_back(
        "measure how the rod's butt bends: without it the rod counts as a rigid lever");
  }
}

void write_sentence(const Setup& s, Assessment& out) {
  const Gear& g = s.gear.front();
  const ReaderUnits u = s.units;
  const CheckResult* first = nullptr;  // first to go, by pull
  const CheckResult* worst = nullptr;  // worst against its factor
  for (const CheckResult& c : out.checks) {
    if (c.standing != Standing::applies) continue;
    if (worst == nullptr) worst = &c;
    if (c.goes_at && (first == nullptr || *c.goes_at < *first->goes_at)) first = &c;
  }
  std::string text;
  if (out.verdict == Verdict::no_verdict) {
    for (const std::string& r : out.reasons) text += (text.empty() ? "" : "; ") + r;
    out.sentence = text;
    return;
  }
  const bool by_distance = worst != nullptr && !worst->goes_at && !worst->holds;
  if (by_distance) {
    text = "the " + worst->gives_way + ": " + show(worst->strength, u) + " where " +
           show(worst->demand, u) + " is the least";
  } else if (first != nullptr) {
    text = "first to go: " + in_words(s, *first) + ", not before about " +
           about(*first->goes_at, u, Rounding::down) + (g.rod_holder ? " on the line" : " of pull");
  }
  if (g.rod_holder) {
    const RodHolder& r = *g.rod_holder;
    const Force high = std::min<Force>(1.5 * r.spool_growth * r.drag.value, 1.3 * r.line_test);
    text += "; your drag is set to " + about(r.drag.value, u) + " and may reach " +
            about(high, u, Rounding::up);
  } else {
    text += "; the load is " + about(g.plain_load->pull, u);
  }
  if (worst != nullptr && !worst->holds && !by_distance) {
    text += "; factor " + show_factor(worst->factor) + " where " + show_number(worst->needed) +
            " is needed";
  }
  out.sentence = text;
}

void write_walls(const Setup& s, const AssessOptions& options, Assessment& out) {
  const auto row = [&](const Setup& t, const Assessment& a, const char* position) {
    WallRow r;
    r.thickness = t.plate().host.thickness;
    r.position = position;
    r.verdict = word_for(a.verdict);
    for (const CheckResult& c : a.checks) {
      if (c.standing == Standing::refused) {
        r.worst_ratio = 0;
        r.gives_way = c.gives_way + ": " + c.why;
        break;
      }
      if (c.standing == Standing::applies) {
        r.worst_ratio = c.factor / c.needed;
        r.gives_way = c.gives_way;
        break;
      }
    }
    r.hold_limit = a.hold_limit;
    return r;
  };
  const Length t = s.plate().host.thickness;
  const Length* thinner = nullptr;
  const Length* thicker = nullptr;
  for (const Length& w : s.common_walls) {
    if (w < (1 - 1e-6) * t) thinner = &w;
    if (w > (1 + 1e-6) * t && thicker == nullptr) thicker = &w;
  }
  const auto add = [&](const Length* w, const char* position) {
    if (w == nullptr) return;
    Setup other = s;
    other.plate().host.thickness = *w;
    AssessOptions plain = options;
    plain.neighbours = false;
    try {
      validate(other);
      out.walls.push_back(row(other, assess_plate(other, plain), position));
    } catch (const DomainError&) {
      // The neighbour does not fit the geometry: no row.
    }
  };
  add(thinner, "thinner");
  out.walls.push_back(row(s, out, "this wall"));
  add(thicker, "thicker");
}

}  // namespace

Assessment assess_plate(const Setup& s, const AssessOptions& options) {
  const Engine engine(s);
  const Gear& gear = s.gear.front();
  Assessment out;
  const std::vector<LoadCase> cases = load_cases(gear);
  const auto& modes = engine.modes();
  std::vector<Worst> deciding(modes.size());
  double worst_of_all = infinite;
  std::string mechanism;

  for (const LoadCase& c : cases) {
    if (!c.decides && !options.neighbours) continue;  // a neighbour's verdict needs no more
    // The sphere of a hand is smooth: twice the step.
    const Angle step = c.path == LoadPath::rim ? 2.0 * options.step : options.step;
    CaseResult result;
    result.load_case = c;
    double case_worst = infinite;
    std::vector<double> mode_worst(modes.size(), infinite);
    std::vector<std::optional<Direction<Boat>>> mode_way(modes.size());
    const auto look = [&](const Direction<Boat>& d, Force pull) {
      return engine.act(c.path, pull, d, [&](const Actions& a) {
        for (std::size_t i = 0; i < modes.size(); ++i) {
          const Use use = modes[i].mode->use(s, a, c.category);
          const double needed = engine.needed(modes[i], c.category);
          const double ratio = use.factor() / needed;
          if (ratio < mode_worst[i]) {
            mode_worst[i] = ratio;
            mode_way[i] = d;
          }
          if (c.decides && ratio < deciding[i].ratio) {
            deciding[i] = {ratio, use, needed, &c, describe(d)};
          }
          if (ratio < case_worst && modes[i].mode->needs_load) {
            case_worst = ratio;
            result.worst_mode = modes[i].mode->id;
            result.worst_gives_way = modes[i].mode->gives_way;
            result.factor = use.factor();
            result.needed = needed;
            result.direction = describe(d);
            if (c.decides && ratio < worst_of_all) {
              worst_of_all = ratio;
              out.fasteners.clear();
              for (int k = 0; k < a.count; ++k) {
                out.fasteners.push_back({s.plate().fastening.holes[std::size_t(k)],
                                         a.tension[std::size_t(k)],
                                         a.shear[std::size_t(k)].size()});
              }
            }
          }
        }
      });
    };
    std::vector<Direction<Boat>> ways = directions(c.range, step);
    const std::size_t coarse = ways.size();
    for (std::size_t k = 0; k < ways.size(); ++k) {
      const Direction<Boat> d = ways[k];
      // The weight of the gear alone is looked at first.
      std::string motion = k == 0 ? look(d, Force{}) : std::string();
      if (motion.empty()) motion = look(d, c.pull);
      if (k + 1 == coarse && c.decides) {
        // Finer about the worst directions of each mode.
        std::vector<Direction<Boat>> centres;
        for (const auto& way : mode_way) {
          if (!way) continue;
          const bool known =
              std::any_of(centres.begin(), centres.end(), [&](const Direction<Boat>& o) {
                return (o.si_values() - way->si_values()).norm() < 1e-12;
              });
          if (!known) centres.push_back(*way);
        }
        for (const Direction<Boat>& centre : centres) {
          const auto near = directions_near(centre, c.range, step);
          ways.insert(ways.end(), near.begin(), near.end());
        }
      }
      if (!motion.empty()) {
        result.motion = motion;
        if (c.decides) mechanism = motion + " (" + c.title + ", " + describe(d) + ")";
        break;
      }
    }
    result.holds = result.motion.empty() && case_worst >= 1;
    out.cases.push_back(result);
  }

  // Pulls at which things go: over the widest cone of the gear's own pull.
  const LoadPath path = gear.rod_holder ? LoadPath::line : LoadPath::point;
  const LoadCase* widest = nullptr;
  for (const LoadCase& c : cases) {
    if (c.path == path && (widest == nullptr || c.range.dip_to >= widest->range.dip_to)) {
      widest = &c;
    }
  }
  const std::vector<Direction<Boat>> ways = directions(widest->range, options.step);
  // Factors of every mode in every direction at a few pulls: the hardest directions are tried
  // first, so that few need a root. Which ones are hard changes with the pull: a rod bends.
  std::vector<std::vector<std::vector<double>>> factors;
  std::vector<std::pair<double, std::size_t>> order;
  for (const double share : {1.0, 0.1, 0.5, 4.0}) {
    auto& at = factors.emplace_back(modes.size(), std::vector<double>(ways.size(), infinite));
    for (std::size_t d = 0; d < ways.size(); ++d) {
      double worst = infinite;
      const std::string motion =
          engine.act(path, share * widest->pull, ways[d], [&](const Actions& a) {
            for (std::size_t i = 0; i < modes.size(); ++i) {
              if (!modes[i].mode->needs_load) continue;
              const double f = modes[i].mode->use(s, a, Category::everyday).factor();
              at[i][d] = std::min(at[i][d], f);
              worst = std::min(worst, f / modes[i].needed);
            }
          });
      if (share == 1.0) order.emplace_back(motion.empty() ? worst : 0, d);
    }
    if (!options.neighbours) break;
  }
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Direction<Boat>> sorted;
  for (const auto& [ratio, i] : order) sorted.push_back(ways[i]);
  if (mechanism.empty()) {
    out.hold_limit = engine.largest_pull(path, sorted, nullptr, true, widest->range, options.step);
    if (options.neighbours)
      out.not_before =
          engine.largest_pull(path, sorted, nullptr, false, widest->range, options.step);
  }
  const bool refused_mode =
      std::any_of(engine.all().begin(), engine.all().end(),
                  [](const Standby& w) { return w.applicable.standing == Standing::refused; });
  if (refused_mode) out.hold_limit = out.not_before = std::nullopt;
  for (const LoadCase& c : cases) {
    if (c.path == LoadPath::rim && options.neighbours && !refused_mode) {
      const DirectionRange& r = c.range;
      out.handhold = engine.largest_pull(c.path, directions(r, 2.0 * options.step), nullptr, false,
                                         r, 2.0 * options.step);
      for (CaseResult& cr : out.cases) {
        if (cr.load_case.id == c.id) cr.goes_at = out.handhold;
      }
    }
  }

  // One result per mode.
  for (const Standby& w : engine.all()) {
    CheckResult r;
    r.mode = w.mode->id;
    r.gives_way = w.mode->gives_way;
    r.standing = w.applicable.standing;
    r.why = w.applicable.why;
    r.source = {std::string(w.mode->source), "", w.mode->seen};
    r.valid = w.mode->valid;
    r.accuracy = w.mode->accuracy;
    r.outside_checks = w.mode->outside_checks;
    r.advice = w.mode->advice;
    r.lowered = w.lowered;
    if (r.standing == Standing::applies) {
      const auto index =
          std::size_t(std::find_if(modes.begin(), modes.end(),
                                   [&](const Standby& m) { return m.mode == w.mode; }) -
                      modes.begin());
      const Worst& worst = deciding[index];
      r.demand = worst.use.demand;
      r.strength = worst.use.strength;
      r.factor = worst.use.factor();
      r.needed = worst.load_case != nullptr ? worst.needed : w.needed;
      r.holds = worst.ratio >= 1;
      r.fastener = worst.use.fastener;
      std::vector<std::string> inputs;
      for (const std::string_view p : w.mode->depends_on) {
        if (!p.empty()) inputs.emplace_back(p);
      }
      if (worst.load_case != nullptr && w.mode->needs_load) {
        r.case_title = worst.load_case->title;
        r.direction = worst.direction;
        for (const std::string& p : worst.load_case->depends_on) inputs.push_back(p);
        for (const Input& i : s.inputs) {
          if (enters_every_check(i.path)) inputs.push_back(i.path);
        }
      }
      for (const std::string& p : inputs) {
        if (is_assumed(s, p)) r.assumed.push_back(p);
      }
      if (w.mode->needs_load && mechanism.empty() && options.neighbours) {
        const std::vector<Direction<Boat>> own = hardest(ways, factors, index);
        r.goes_at =
            engine.largest_pull(path, own, &modes[index], false, widest->range, options.step);
        r.limit_at =
            engine.largest_pull(path, own, &modes[index], true, widest->range, options.step);
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
  const CheckResult* governing = nullptr;
  bool all_hold = true;
  for (const CheckResult& r : out.checks) {
    if (r.standing != Standing::applies) continue;
    if (governing == nullptr && !r.case_title.empty()) governing = &r;  // a load, no distance
    all_hold = all_hold && r.holds;
  }
  if (out.reasons.empty() && all_hold) {
    for (const CheckResult& r : out.checks) {
      if (r.standing != Standing::applies || r.factor / r.needed >= 1.5) continue;
      if (std::find(r.assumed.begin(), r.assumed.end(), "mount.host.thickness") ==
          r.assumed.end()) {
        continue;
      }
      out.reasons.emplace_back("the wall thickness is not measured and \"" + r.gives_way +
                               "\" lies within 1.5 x of the limit: measure the wall");
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
      if (r.standing != Standing::applies) continue;
      for (const std::string& p : r.assumed) {
        if (p.starts_with("condition.")) continue;  // asked for below
        const std::string label = label_of(s, p);
        if (std::find(out.holds_if.begin(), out.holds_if.end(), label) == out.holds_if.end()) {
          out.holds_if.push_back(label);
        }
      }
    }
    const Condition& c = s.condition;
    const auto ask = [&](Answer a, const char* text) {
      if (a == Answer::not_known) out.holds_if.emplace_back(text);
    };
    if (!s.plate().base.metal) {
      out.holds_if.emplace_back("the base itself is strong enough: it is not checked");
    }
    ask(c.cracks, "there is no crack near the base");
    ask(c.loose_rivets, "no rivet in reach is loose");
    ask(c.bent_or_corroded, "no hardware is bent or corroded");
    ask(c.weld_near_base, "no weld lies within 1 in (25 mm) of the base");
    out.verdict = out.holds_if.empty() ? Verdict::holds : Verdict::holds_if;
  }
  if (gear.rod_holder && out.hold_limit) {
    out.setting = *out.hold_limit / (1.5 * gear.rod_holder->spool_growth);
    if (out.not_before) out.test_pull = std::min<Force>(1.25 * *out.setting, 0.6 * *out.not_before);
  }
  if (options.neighbours) {
    write_to_do(s, out);
    write_ladder(s, out);
    write_walls(s, options, out);
    write_cautions(s, out);
    write_not_checked(s, out);
    write_sources(s, out);
  }
  write_sentence(s, out);
  return out;
}

}  // namespace thole
