#include <thole/sizing.hpp>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <limits>
#include <map>
#include <numeric>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "core/quick_look.hpp"
#include "core/stable_order.hpp"
#include "reading/on_threads.hpp"
#include "reading/sizing_space.hpp"

namespace thole {

using namespace literals;

std::string_view word_for(LegPlan plan) {
  switch (plan) {
    case LegPlan::none:
      return "no legs";
    case LegPlan::as_drawn:
      return "legs as drawn";
    case LegPlan::below_gear:
      return "a leg below each gear";
  }
  throw InternalError("a plan of legs without words");
}

bool SizeDesign::holds() const {
  return fits() && (verdict == Verdict::holds || verdict == Verdict::holds_if);
}

namespace {

using reading::Choice;
using reading::SizeSpace;

// A step of the trade curve gains at least this much; what gains surely less than half of it is not
// assessed.
constexpr double gain = 1.02;
constexpr double surely_gains = 1.01;
constexpr double no_limit = 1e6;  // N; above it nothing on a small boat matters

// Full assessments at a time and designs looked at between two lists of hard loads: not the number
// of threads, so that results do not depend on that.
constexpr std::size_t batch = 2;
constexpr std::size_t first_chunk = 16;
constexpr std::size_t most_chunk = 1024;
constexpr std::size_t most_loads = 64;

// Calls `one(i)` for each of `count`, on several threads.
template <class Work>
void each_of(std::size_t count, [[maybe_unused]] unsigned threads, Work one) {
  std::vector<std::exception_ptr> errors(count);
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        one(i);
      } catch (...) {
        errors[i] = std::current_exception();
      }
    }
  };
  reading::on_threads(threads, count, work);
  for (const std::exception_ptr& e : errors) {
    if (e) std::rethrow_exception(e);
  }
}

// Loads that were hard for some design, those that ruled out most of late first.
class Hardest {
 public:
  [[nodiscard]] const std::vector<HardLoad>& loads() const { return loads_; }

  void add(const HardLoad& k) {
    const bool there = std::any_of(loads_.begin(), loads_.end(),
                                   [&](const HardLoad& o) { return are_alike(k, o); });
    if (there) return;
    loads_.insert(loads_.begin(), k);
    scores_.insert(scores_.begin(), scores_.empty() ? 1.0 : scores_.front());
    if (loads_.size() > most_loads) {
      loads_.pop_back();
      scores_.pop_back();
    }
  }

  // How many each of them ruled out since.
  void rank(const std::vector<std::size_t>& hits) {
    std::vector<std::size_t> order(loads_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    for (std::size_t i = 0; i < order.size(); ++i) {
      scores_[i] = 0.7 * scores_[i] + (i < hits.size() ? double(hits[i]) : 0.0);
    }
    sort_stably(order, [&](std::size_t a, std::size_t b) { return scores_[a] > scores_[b]; });
    std::vector<HardLoad> loads;
    std::vector<double> scores;
    for (const std::size_t i : order) {
      loads.push_back(loads_[i]);
      scores.push_back(scores_[i]);
    }
    loads_ = std::move(loads);
    scores_ = std::move(scores);
  }

 private:
  static bool same_way(const Direction<Boat>& a, const Direction<Boat>& b) {
    return a.si_values().dot(b.si_values()) > 0.9998;  // a degree
  }
  static bool are_alike(const HardLoad& a, const HardLoad& b) {
    const board::Trial& s = a.trial;
    const board::Trial& t = b.trial;
    return a.kind == b.kind && a.load_case == b.load_case && a.variant == b.variant &&
           a.of_feet == b.of_feet && s.gear == t.gear && s.boom == t.boom && s.others == t.others &&
           s.alone == t.alone && s.idle == t.idle && s.person == t.person &&
           (s.y < 0) == (t.y < 0) && s.near == t.near && s.acceleration == t.acceleration &&
           same_way(s.way, t.way) && a.setting.booms == b.setting.booms &&
           a.setting.shake == b.setting.shake && a.setting.pulling == b.setting.pulling &&
           a.setting.steady.force.si_values() == b.setting.steady.force.si_values() &&
           a.setting.steady.moment.si_values() == b.setting.steady.moment.si_values() &&
           same_way(a.way, b.way);
  }

  std::vector<HardLoad> loads_;
  std::vector<double> scores_;
};

void read(SizeDesign& d, const Assessment& a) {
  d.verdict = a.verdict;
  d.conditions = a.holds_if;
  d.reasons = a.reasons;
  // What helps a mount that moves as a whole; against other reasons that would be beside the point.
  const bool moves = std::any_of(a.cases.begin(), a.cases.end(),
                                 [](const CaseResult& c) { return !c.motion.empty(); });
  if (a.verdict == Verdict::no_verdict && moves && !a.to_do.empty()) d.remedy = a.to_do.front();
  d.hold_limit = a.hold_limit;
  if (a.verdict == Verdict::no_verdict) return;
  for (const CheckResult& r : a.checks) {
    if (r.standing != Standing::applies) continue;
    const SizeCheck k{r.mode, r.gives_way, r.where, r.case_title, r.factor, r.needed, r.advice};
    if (!d.worst) d.worst = k;
    if (!r.holds) d.failed.push_back(k);
  }
}

double limit_of(const SizeDesign& d) { return d.hold_limit ? d.hold_limit->value() : no_limit; }

class Search {
 public:
  Search(const Setup& s, const SizeQuestion& q, const MaterialLibrary& library)
      : q_(q), space_(reading::space_of(s, q, library)), look_(s) {
    space_->describe(out_);
    n_ = space_->designs();
    if (n_ > q.most_designs) {
      throw DomainError(std::to_string(n_) + " designs are more than " +
                        std::to_string(q.most_designs) + ": leave fewer quantities free");
    }
  }

  SizeAnswer run() {
    weigh();
    if (light_first_.empty()) {
      conclude();
      return std::move(out_);
    }
    probe();
    if (!out_.stopped) by_mass();
    if (!out_.stopped && !curve_.empty()) by_section();
    if (!out_.stopped && curve_.empty()) without_any();
    conclude();
    return std::move(out_);
  }

 private:
  static constexpr std::size_t none_of_all = std::numeric_limits<std::size_t>::max();
  // Designs that do not fit for one reason, and one of them; none where the reason is in words.
  struct Misfit {
    std::size_t example = none_of_all;
    std::size_t designs = 0;
  };

  // Barred: by a distance or a refusal, whatever the load.
  enum class State : unsigned char { open, misfit, barred, ruled_out, outweighed, assessed };

  // Masses and sections of all, and their orders.
  void weigh() {
    mass_.resize(n_);
    section_.resize(n_);
    state_.assign(n_, State::open);
    constexpr std::size_t slice = 256;
    const std::size_t slices = (n_ + slice - 1) / slice;
    std::vector<std::map<std::string, std::size_t>> misfits(slices);
    each_of(slices, q_.threads, [&](std::size_t k) {
      Setup work = space_->bare();
      for (std::size_t i = k * slice; i < std::min(n_, (k + 1) * slice); ++i) {
        try {
          space_->build(space_->choice(i), work);
          mass_[i] = space_->mass(work).value();
          section_[i] = space_->section(work).value();
        } catch (const DomainError& e) {
          state_[i] = State::misfit;
          ++misfits[k][e.what()];
        }
      }
    });
    for (const auto& some : misfits) {
      for (const auto& [text, count] : some) misfits_[text].designs += count;
    }
    for (std::size_t i = 0; i < n_; ++i) {
      if (state_[i] == State::open) light_first_.push_back(i);
    }
    small_first_ = light_first_;
    // Whole tenths of a gram and of a square millimetre: rounding must not order.
    const auto grams = [&](std::size_t i) { return std::llround(mass_[i] * 1e4); };
    const auto square = [&](std::size_t i) { return std::llround(section_[i] * 1e7); };
    sort_stably(light_first_, [&](std::size_t a, std::size_t b) {
      return std::pair(grams(a), square(a)) < std::pair(grams(b), square(b));
    });
    sort_stably(small_first_, [&](std::size_t a, std::size_t b) {
      return std::pair(square(a), grams(a)) < std::pair(square(b), grams(b));
    });
  }

  // ---- Looking at many

  // Goes through designs in order; those that nothing is known against are assessed in full, in
  // order, and `take(design)` decides what that means. `wanted(i)`: is it to be looked at?
  // `ends()`: nothing more is to be found.
  template <class Wanted, class Take, class Ends>
  void go_through(const std::vector<std::size_t>& order, bool breaking, bool limiting,
                  Wanted wanted, Take take, Ends ends) {
    std::size_t chunk = first_chunk;
    for (std::size_t begin = 0; begin < order.size() && !ends();) {
      std::vector<std::size_t> open;
      std::size_t end = begin;
      for (; end < order.size() && open.size() < chunk; ++end) {
        if (wanted(order[end])) open.push_back(order[end]);
      }
      looked_at_ = std::max(looked_at_, end);
      while (!open.empty()) {
        open = looked(open, breaking, limiting);
        if (!go_on()) return;
        if (open.empty()) break;
        const std::size_t some = std::min(batch, open.size());
        assess_all({open.begin(), open.begin() + std::ptrdiff_t(some)}, limiting);
        for (std::size_t k = 0; k < some; ++k) {
          if (!ends()) take(open[k]);
        }
        open.erase(open.begin(), open.begin() + std::ptrdiff_t(some));
        if (!go_on() || ends()) return;
      }
      begin = end;
      chunk = std::min(2 * chunk, most_chunk);
    }
  }

  // Those of some designs that nothing is known against.
  std::vector<std::size_t> looked(const std::vector<std::size_t>& some, bool breaking,
                                  bool limiting) {
    std::vector<Look> looks(some.size());
    const std::vector<HardLoad> none;
    const std::vector<HardLoad>& break_it = breaking ? breaking_.loads() : moving_.loads();
    const std::vector<HardLoad>& limit_it = limiting ? limiting_.loads() : none;
    std::optional<Force> more_than;
    if (limiting && best_limit_ > 0) more_than = surely_gains * best_limit_ * si::newton;
    constexpr std::size_t slice = 8;
    each_of((some.size() + slice - 1) / slice, q_.threads, [&](std::size_t k) {
      Setup work = space_->bare();
      for (std::size_t i = k * slice; i < std::min(some.size(), (k + 1) * slice); ++i) {
        if (state_[some[i]] == State::assessed) continue;
        space_->build(space_->choice(some[i]), work);
        looks[i] = look_.look(work, break_it, limit_it, more_than);
      }
    });
    std::vector<std::size_t> open;
    std::vector<std::size_t> broke(break_it.size(), 0), limited(limit_it.size(), 0);
    for (std::size_t i = 0; i < some.size(); ++i) {
      const Look& l = looks[i];
      State& state = state_[some[i]];
      switch (l.result) {
        case Look::Result::open:
          open.push_back(some[i]);
          continue;
        case Look::Result::does_not_fit:
          state = State::misfit;
          ++misfits_.try_emplace(l.why, Misfit{some[i], 0}).first->second.designs;
          continue;
        case Look::Result::refused:
          state = State::barred;
          ++counts_["no verdict: " + l.why];
          continue;
        case Look::Result::distance:
          state = State::barred;
          ++counts_[l.why];
          continue;
        case Look::Result::breaks:
          // Where nothing holds, most are looked at twice.
          if (state != State::ruled_out) ++counts_[l.why];
          state = State::ruled_out;
          ++broke[std::size_t(l.by)];
          continue;
        case Look::Result::outweighed:
          if (state == State::open) state = State::outweighed;
          ++limited[std::size_t(l.by)];
          continue;
      }
    }
    (breaking ? breaking_ : moving_).rank(broke);
    limiting_.rank(limited);
    return open;
  }

  bool go_on() {
    if (out_.stopped) return false;
    if (!q_.watch) return true;
    Progress p;
    p.done = looked_at_;
    p.all = light_first_.size();
    if (!curve_.empty()) {
      p.best = words(full_.at(curve_.front()));
    } else if (probed_) {
      p.best = words(full_.at(*probed_));
    }
    out_.stopped = !q_.watch(p);
    return !out_.stopped;
  }

  [[nodiscard]] std::string words(const SizeDesign& d) const {
    std::string text;
    for (std::size_t i = 0; i < d.choice.size(); ++i) {
      const SizeQuantity& q = space_->quantities()[i];
      if (q.options.size() < 2) continue;
      text += (text.empty() ? "" : ", ") + q.options[d.choice[i]];
    }
    return text;
  }

  // ---- Assessing in full

  void assess_all(const std::vector<std::size_t>& some, bool limits) {
    struct Result {
      SizeDesign design;
      std::vector<HardLoad> hard;
    };
    std::vector<Result> results(some.size());
    each_of(some.size(), q_.threads, [&](std::size_t k) {
      if (full_.count(some[k]) > 0) {
        // Known from another order: only its limits may not be.
        if (!limits || limited_.count(some[k]) > 0) return;
      }
      results[k].design = assessed(some[k], limits, &results[k].hard);
    });
    for (std::size_t k = 0; k < some.size(); ++k) {
      if (limits) limited_.insert({some[k], true});
      // Hardest last, so that it is tried first.
      for (auto it = results[k].hard.rbegin(); it != results[k].hard.rend(); ++it) {
        (it->kind == HardLoad::Kind::limits ? limiting_ : breaking_).add(*it);
        if (it->kind == HardLoad::Kind::moves) moving_.add(*it);
      }
      if (full_.count(some[k]) > 0) continue;
      count(some[k], results[k].design);
      full_.emplace(some[k], std::move(results[k].design));
    }
  }

  [[nodiscard]] SizeDesign assessed(std::size_t number, bool limits,
                                    std::vector<HardLoad>* hard) const {
    SizeDesign d;
    d.choice = space_->choice(number);
    d.mass = mass_[number] * si::kilogram;
    d.section = section_[number] * si::square_metre;
    try {
      const Setup setup = space_->setup_of(d.choice);
      if (setup.on_board()) d.legs = setup.board().legs;
      const Assessment a = assess(setup, {.step = q_.step, .neighbours = false});
      read(d, a);
      // Of one that holds nothing breaks; its limit rules others out.
      if (hard != nullptr) {
        *hard = look_.hard_loads(setup, a, q_.step, limits && a.hold_limit.has_value());
      }
    } catch (const DomainError& e) {
      d.why_not = e.what();
    }
    return d;
  }

  void count(std::size_t number, const SizeDesign& d) {
    State& state = state_[number];
    const bool counted = state == State::ruled_out;
    state = d.fits() ? State::assessed : State::misfit;
    if (counted) return;
    if (!d.fits()) {
      ++misfits_.try_emplace(d.why_not, Misfit{number, 0}).first->second.designs;
    } else if (d.verdict == Verdict::no_verdict) {
      ++counts_["no verdict: " + (d.reasons.empty() ? std::string("?") : d.reasons.front())];
    } else if (!d.failed.empty()) {
      ++counts_[d.failed.front().gives_way];
    }
  }

  // ---- The three orders

  // A few from light to heavy until one holds: something to show from the first seconds on.
  void probe() {
    constexpr std::size_t most = 64;
    std::vector<std::size_t> some;
    const std::size_t n = light_first_.size();
    for (std::size_t k = 1; k <= most; ++k) {
      const std::size_t i = light_first_[(k * n - 1) / most];
      if (some.empty() || some.back() != i) some.push_back(i);
    }
    go_through(
        some, true, true, [](std::size_t) { return true; },
        [&](std::size_t i) {
          if (!probed_ && full_.at(i).holds()) probed_ = i;
        },
        [&] { return probed_.has_value(); });
  }

  void by_mass() {
    go_through(
        light_first_, true, true,
        [&](std::size_t i) { return state_[i] == State::open || state_[i] == State::assessed; },
        [&](std::size_t i) {
          const SizeDesign& d = full_.at(i);
          if (d.holds() && limit_of(d) > gain * best_limit_) {
            curve_.push_back(i);
            best_limit_ = limit_of(d);
          }
        },
        [] { return false; });
  }

  // The smallest of those that hold: what was only outweighed may be it.
  void by_section() {
    const std::vector<std::size_t> holders = all_holders();
    std::vector<std::size_t> place(n_, n_);
    for (std::size_t k = 0; k < small_first_.size(); ++k) place[small_first_[k]] = k;
    std::size_t best = small_first_.size();
    for (const std::size_t i : holders) best = std::min(best, place[i]);
    go_through(
        small_first_, true, false,
        [&](std::size_t i) { return place[i] < best && state_[i] == State::outweighed; },
        [&](std::size_t i) {
          if (full_.at(i).holds()) best = std::min(best, place[i]);
        },
        [] { return false; });
    if (best < small_first_.size()) smallest_ = small_first_[best];
  }

  [[nodiscard]] std::vector<std::size_t> all_holders() const {
    std::vector<std::size_t> out;
    for (const auto& [i, d] : full_) {
      if (d.holds()) out.push_back(i);
    }
    return out;
  }

  // Nothing holds: what pull could be held, at which weight. What moves as a whole holds none.
  void without_any() {
    out_.curve_holds = false;
    best_limit_ = 0;
    go_through(
        light_first_, false, true,
        [&](std::size_t i) { return state_[i] != State::misfit && state_[i] != State::barred; },
        [&](std::size_t i) {
          const SizeDesign& d = full_.at(i);
          if (d.fits() && d.hold_limit && d.hold_limit->value() > gain * best_limit_) {
            curve_.push_back(i);
            best_limit_ = d.hold_limit->value();
          }
        },
        [] { return false; });
  }

  // ---- The answer

  void conclude() {
    for (const State s : state_) {
      out_.do_not_fit += s == State::misfit ? 1 : 0;
      out_.ruled_out += s == State::barred || s == State::ruled_out ? 1 : 0;
      out_.outweighed += s == State::outweighed ? 1 : 0;
      out_.assessed += s == State::assessed ? 1 : 0;
    }
    if (out_.stopped && curve_.empty() && probed_) curve_ = {*probed_};
    // Of two that weigh the same the stronger stays.
    std::vector<std::size_t> curve;
    for (const std::size_t i : curve_) {
      if (!curve.empty() &&
          std::llround(1e4 * mass_[curve.back()]) == std::llround(1e4 * mass_[i])) {
        curve.back() = i;
      } else {
        curve.push_back(i);
      }
    }
    promise(curve);
    for (const std::size_t i : curve) out_.curve.push_back(full_.at(i));
    if (out_.curve_holds && !curve.empty()) {
      out_.lightest = full_.at(curve.front());
      if (!smallest_ && out_.stopped) smallest_ = curve.front();
      if (smallest_) {
        const bool same =
            std::llround(1e4 * mass_[*smallest_]) == std::llround(1e4 * mass_[curve.front()]) &&
            std::llround(1e7 * section_[*smallest_]) == std::llround(1e7 * section_[curve.front()]);
        out_.smallest = same ? out_.lightest : full_.at(*smallest_);
      }
    } else if (!out_.curve.empty()) {
      out_.nearest = out_.curve.back();
    } else if (!out_.stopped) {
      name_the_heaviest();
    }
    if (!out_.stopped && out_.lightest) {
      out_.below_lightest = steps_below(*out_.lightest, true);
      if (out_.smallest->choice != out_.lightest->choice) {
        out_.below_smallest = steps_below(*out_.smallest, false);
      }
    }
    for (const auto& [what, designs] : counts_) out_.counts.push_back({what, designs});
    for (const auto& [what, misfit] : misfits_) {
      out_.counts.push_back({"does not fit: " + why_not(what, misfit), misfit.designs});
    }
    sort_stably(out_.counts,
                [](const SizeCount& a, const SizeCount& b) { return a.designs > b.designs; });
  }

  // `thole check` looks at limits more closely, direction by direction: of what is shown no limit
  // is promised that it would not find.
  void promise(std::vector<std::size_t> shown) {
    if (smallest_ && std::find(shown.begin(), shown.end(), *smallest_) == shown.end()) {
      shown.push_back(*smallest_);
    }
    each_of(shown.size(), q_.threads, [&](std::size_t k) {
      SizeDesign& d = full_.at(shown[k]);
      if (!d.hold_limit) return;
      const Setup setup = space_->setup_of(d.choice);
      d.hold_limit =
          assess(setup, {.step = q_.step, .neighbours = true, .by_direction = true}).hold_limit;
    });
  }

  // In the words of one that does not fit.
  [[nodiscard]] std::string why_not(const std::string& rule, const Misfit& misfit) const {
    if (misfit.example == none_of_all) return rule;
    try {
      Setup work = space_->bare();
      space_->build(space_->choice(misfit.example), work);
      validate(work);
    } catch (const DomainError& e) {
      return e.what();
    }
    return rule;
  }

  // Without any limit to go by.
  void name_the_heaviest() {
    for (auto it = light_first_.rbegin(); it != light_first_.rend(); ++it) {
      if (state_[*it] == State::misfit) continue;
      out_.nearest = whole(*it);
      return;
    }
  }

  // A design assessed in full, for the report only: it is not counted.
  [[nodiscard]] SizeDesign whole(std::size_t i) const {
    const auto known = full_.find(i);
    return known != full_.end() ? known->second : assessed(i, false, nullptr);
  }

  [[nodiscard]] std::vector<SizeStep> steps_below(const SizeDesign& from, bool by_weight) const {
    std::vector<SizeStep> out;
    for (std::size_t q = 0; q < from.choice.size(); ++q) {
      if (space_->quantities()[q].options.size() < 2) continue;
      out.push_back({q, std::nullopt});
    }
    each_of(out.size(), q_.threads, [&](std::size_t k) {
      const std::optional<std::size_t> next = next_below(from, out[k].quantity, by_weight);
      if (next) out[k].down = whole(*next);
    });
    return out;
  }

  // One option changed: the nearest below in the order of the objective that fits, else the nearest
  // below at all. Where the quantity changes neither mass nor section: the option before.
  [[nodiscard]] std::optional<std::size_t> next_below(const SizeDesign& from, std::size_t quantity,
                                                      bool by_weight) const {
    const std::size_t own = space_->number(from.choice);
    const auto rank = [&](std::size_t i) {
      const auto m = std::llround(mass_[i] * 1e4);
      const auto a = std::llround(section_[i] * 1e7);
      return by_weight ? std::pair(m, a) : std::pair(a, m);
    };
    std::vector<std::size_t> below, misfits;
    bool matters = false;
    const std::size_t options = space_->quantities()[quantity].options.size();
    Setup work = space_->bare();
    for (std::size_t k = 0; k < options; ++k) {
      Choice c = from.choice;
      c[quantity] = k;
      const std::size_t i = space_->number(c);
      if (i == own) continue;
      const bool made = mass_[i] > 0;
      if (!made) continue;
      matters = matters || rank(i) != rank(own);
      if (!(rank(i) < rank(own))) continue;
      (state_[i] == State::misfit ? misfits : below).push_back(i);
    }
    const auto nearest = [&](const std::vector<std::size_t>& list) -> std::optional<std::size_t> {
      const auto it = std::max_element(list.begin(), list.end(), [&](std::size_t a, std::size_t b) {
        return rank(a) < rank(b);
      });
      if (it == list.end()) return std::nullopt;
      return *it;
    };
    if (!below.empty()) return nearest(below);
    if (!misfits.empty()) return nearest(misfits);
    if (matters || from.choice[quantity] == 0) return std::nullopt;
    Choice c = from.choice;
    --c[quantity];
    return space_->number(c);
  }

  const SizeQuestion& q_;
  std::unique_ptr<SizeSpace> space_;
  QuickLook look_;
  std::size_t n_ = 0;
  std::vector<double> mass_, section_;
  std::vector<State> state_;
  std::vector<std::size_t> light_first_, small_first_;
  std::size_t looked_at_ = 0;
  Hardest breaking_, moving_, limiting_;
  std::map<std::size_t, SizeDesign> full_;
  std::map<std::size_t, bool> limited_;
  std::map<std::string, std::size_t> counts_;
  std::map<std::string, Misfit> misfits_;
  std::vector<std::size_t> curve_;
  double best_limit_ = 0;
  std::optional<std::size_t> smallest_, probed_;
  SizeAnswer out_;
};

}  // namespace

SizeAnswer size_mount(const Setup& setup, const SizeQuestion& question,
                      const MaterialLibrary& library) {
  return Search(setup, question, library).run();
}

}  // namespace thole
