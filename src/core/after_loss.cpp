// What the rest of a mount does when one item after another is gone, under a pull on one gear: what
// goes first is taken away and the rest solved anew.

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <set>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "core/assessment_parts.hpp"
#include "core/board_engine.hpp"
#include "core/board_limits.hpp"
#include "core/plate_search.hpp"
#include "core/plate_words.hpp"
#include "core/ties.hpp"

namespace thole {

std::string_view word_for(Then t) {
  switch (t) {
    case Then::holds:
      return "holds";
    case Then::follows:
      return "follows";
    case Then::drops:
      return "drops";
    case Then::tears:
      return "tears";
    case Then::gear_off:
      return "gear off";
    case Then::bends:
      return "bends";
    case Then::unknown:
      return "unknown";
  }
  throw InternalError("what comes after a loss, without a word");
}

}  // namespace thole

namespace thole::parts {

namespace {

constexpr std::size_t most_losses = 6;
// Items whose forces differ by less are loaded alike.
constexpr double alike = 0.02;

constexpr double at_one_pull = 1.01;  // pulls no farther apart are searched as one
constexpr const char* stays_dented = "it stays in place, dented or crushed (look at it)";
constexpr const char* bent_for_good = "it is bent for good, and nothing is counted on after it";
constexpr const char* at_once_is = "at once: ";

// Crushed at a bolt or on its seat a part keeps its shape and what it bears on. All else that
// bends has another shape afterwards, which no model here knows (judgement).
bool is_a_dent(const FailureMode& mode) {
  constexpr std::array<std::string_view, 10> dents{
      "wall-bearing-bolt",    "base-bearing",       "wood-washer-crushing", "wood-base-crushing",
      "ledge-crushing",       "ledge-bolt-bearing", "washer-crushing",      "board-bolt-bearing",
      "gear-washer-crushing", "gear-bolt-bearing"};
  return std::find(dents.begin(), dents.end(), mode.id) != dents.end();
}

// A mode of a part that was crushed before: it stays as it is and ends no pull any more.
using Bent = std::set<std::pair<std::string, std::string>>;

// What goes next on what is left.
struct Next {
  std::optional<Force> pull;  ///< nothing: no pull of use
  std::string motion;         ///< it moves
  std::string why_not;        ///< it cannot be calculated
  const FailureMode* mode = nullptr;
  std::string gives_way;
  std::string part;
  std::optional<Taken> taken;  ///< the item that is gone with it
  std::string where;           ///< on a board, where no item is lost
  int as_hard = 1;             ///< items loaded like it
};

// Of the items of one kind, the one that is loaded most, and how many like it.
int count_alike(const std::vector<double>& pull, const std::vector<double>& shear, std::size_t at) {
  const double most = std::max(pull[at], shear[at]);
  int n = 0;
  for (std::size_t i = 0; i < pull.size(); ++i) {
    if (std::abs(pull[i] - pull[at]) <= alike * most &&
        std::abs(shear[i] - shear[at]) <= alike * most) {
      ++n;
    }
  }
  return std::max(n, 1);
}

// ---- Plates

void take_item(const Setup& s, plate::Engine& engine, const plate::Limits::Limit& goes,
               LoadPath path, const Direction<Boat>& way, Next& out) {
  const plate::Standby& mode = *goes.mode;
  const Category category = plate::category_of_limits(path, false);
  double worst = plate::infinite;
  int item = -1;
  std::vector<double> pull, shear;
  (void)engine.act({goes.setting, 1}, path, *goes.pull, way, [&](const plate::Acting& all) {
    const Use use = engine.use(mode, all, category);
    if (!(use.factor() < worst)) return;
    worst = use.factor();
    item = use.fastener;
    const Actions& a = all[mode.stage];
    pull.clear();
    shear.clear();
    for (int i = 0; i < a.count; ++i) {
      pull.push_back(a.tension[std::size_t(i)].value());
      shear.push_back(a.shear[std::size_t(i)].size().value());
    }
  });
  if (pull.empty()) return;
  if (item < 0) item = int(std::max_element(pull.begin(), pull.end()) - pull.begin());
  const auto& bracket = s.plate().bracket;
  const bool fitting = bracket && bracket->fitting && mode.part == bracket->fitting->name;
  out.as_hard = count_alike(pull, shear, std::size_t(item));
  out.taken = Taken{fitting ? Taken::What::of_fitting : Taken::What::fastener,
                    std::size_t(engine.number_of(mode.stage, item))};
}

Next next_of_plate(const Setup& s, std::size_t gear, const Bent& bent, Angle step) {
  plate::Engine engine(s);
  engine.leave_out(bent);
  const LoadPath path = path_of_pull(s.gear[gear]);
  const std::vector<DirectionRange> ranges = own_ranges(s, gear);
  Next out;
  if (ranges.empty()) return out;
  Force pull{};
  for (const LoadCase& c : load_cases(s)) {
    if (c.gear == int(gear) && c.path == path && !c.left_out) pull = std::max(pull, c.pull);
  }
  if (!(pull.value() > 0)) pull = Force::from_value(100);
  const bool jumps = s.plate().host.form == WallForm::open_lip;
  plate::Limits limits(engine, engine.beside(gear), path, ranges, pull, (jumps ? 1.0 : 2.0) * step,
                       false);
  const plate::Limits::Limit goes = limits.largest_pull(nullptr, false);
  if (!goes.pull) return out;
  out.pull = goes.pull;
  const Direction<Boat> way =
      goes.direction.value_or(line_direction(ranges.front().azimuth_from, ranges.front().dip_from));
  if (goes.mode == nullptr || goes.setting == nullptr) {
    const std::vector<plate::Setting> all = engine.beside(gear);
    const Force beyond = (1 + 1e-6) * *goes.pull;
    out.motion = engine.act(all, path, goes.pull->value() > 0 ? beyond : Force{}, way,
                            [](const plate::Acting&) {});
    if (out.motion.empty()) out.motion = "the mount moves";
    return out;
  }
  out.mode = goes.mode->mode;
  out.part = goes.mode->part;
  out.gives_way =
      std::string(out.mode->gives_way) + (out.part.empty() ? "" : " (" + out.part + ")");
  if (out.mode->loss == Loss::fastener) take_item(s, engine, goes, path, way, out);
  return out;
}

// ---- Boards

// Where the search of the same board with more of its parts ended: there the rest is weak as well.
struct Hint {
  std::optional<board::Trial> trial;
  int variant = 0;
};

class BoardSearch {
 public:
  BoardSearch(const Setup& s, std::size_t gear, const Bent& bent, Angle step)
      : s_(s), engine_(s), gear_(gear), step_(step) {
    engine_.leave_out(bent);
  }

  Next run(Hint& hint) {
    Next out;
    const int index = board::widest_case(engine_.cases(), int(gear_));
    if (index < 0) return out;
    const LoadCase c = board::own_pull(engine_, index);
    board::LimitSearch search(engine_, c, step_, false, true);
    std::vector<board::Hard> all;
    for (int v = 0; hint.trial && v < board::Engine::variants(); ++v) {
      all.push_back({search.lower(v, *hint.trial), v, *hint.trial});
    }
    search.look_round(all, [](const board::Trial&) { return true; });
    search.follow_hardest(all);
    best_ = search.limit();
    where_ = search.at();
    variant_ = search.variant();
    if (!search.found()) return out;
    hint = {where_, variant_};
    out.pull = best_.pull * si::newton;
    if (best_.mode == nullptr) {
      out.motion = best_.tips;
      if (out.motion.empty()) {
        out.motion = engine_.act(variant_, where_, engine_.load(c, where_, best_.pull)).motion;
      }
      if (out.motion.empty()) out.motion = "the board moves";
      return out;
    }
    out.mode = best_.mode->mode;
    out.gives_way = out.mode->gives_way;
    item(c, out);
    return out;
  }

 private:
  // Which hold-down or leg it is, or where on the board.
  void item(const LoadCase& c, Next& out) {
    const board::Vector F = engine_.load(c, where_, best_.pull);
    if (best_.mode->of_foot) {
      engine_.stand(F, where_);
    } else if (engine_.act(variant_, where_, F).mechanism) {
      return;
    }
    const int i = out.mode->use_on_board(engine_.actions(), Category::occasional).fastener;
    if (i < 0) return;
    const auto at = std::size_t(i);
    const board::Model& m = engine_.common();
    const auto names = [&](const auto& all) {
      out.where = all[at].name;
      std::vector<double> force(all.size(), 0.0);
      return force;
    };
    switch (out.mode->item) {
      case Item::hold_down: {
        std::vector<double> pull = names(s_.board().hold_downs);
        std::vector<double> shear(pull.size(), 0.0);
        const double* support = engine_.actions().support;
        for (std::size_t k = 0; k < pull.size(); ++k) {
          const board::HoldDownData& h = m.hold_downs[k];
          if (h.row >= 0) pull[k] = support[h.row];
          const double aside = h.shank_y >= 0 ? support[h.shank_y] : 0.0;
          const double along = h.shank_x >= 0 ? h.share_x * support[h.shank_x] : 0.0;
          shear[k] = std::hypot(aside, along);
        }
        out.as_hard = count_alike(pull, shear, at);
        out.taken = Taken{Taken::What::hold_down, at};
        break;
      }
      case Item::leg: {
        std::vector<double> push = names(s_.board().legs);
        for (std::size_t k = 0; k < push.size(); ++k) {
          if (m.legs[k].row >= 0) push[k] = engine_.actions().support[m.legs[k].row];
        }
        out.as_hard = count_alike(push, std::vector<double>(push.size(), 0.0), at);
        out.taken = Taken{Taken::What::leg, at};
        break;
      }
      case Item::ledge:
        out.where = std::string(word_for(i == 0 ? Side::port : Side::starboard)) + " ledge";
        break;
      case Item::cut:
        out.where = show(Length::from_value(std::round(m.cuts[at].x * 1000) / 1000), s_.units) +
                    " from the port end";
        break;
      case Item::gear:
        out.where = s_.gear[at].name;
        break;
      case Item::fastener:
        break;
    }
  }

  const Setup& s_;
  board::Engine engine_;
  std::size_t gear_;
  Angle step_;
  board::Engine::Limit best_;
  board::Trial where_;
  int variant_ = 0;
};

// ---- One loss after another

std::string number_word(std::size_t n) {
  constexpr std::array<const char*, 9> words{"no",   "one", "two",   "three", "four",
                                             "five", "six", "seven", "eight"};
  return n < words.size() ? words[n] : std::to_string(n);
}

// What is left, numbered as in the setup that was given.
class Rest {
 public:
  explicit Rest(const Setup& s) : setup(s) {
    if (s.on_board()) return;
    number(Taken::What::fastener, base_);
    if (s.plate().bracket && s.plate().bracket->fitting) number(Taken::What::of_fitting, fitting_);
  }

  [[nodiscard]] std::string name_of(const Taken& t) const {
    switch (t.what) {
      case Taken::What::hold_down:
        return setup.board().hold_downs[t.number].name;
      case Taken::What::leg:
        return setup.board().legs[t.number].name;
      case Taken::What::fastener:
        return "no. " + std::to_string(base_[t.number] + 1);
      case Taken::What::of_fitting:
        return "no. " + std::to_string(fitting_[t.number] + 1);
    }
    throw InternalError("an item without a name");
  }

  void take(const Taken& t) {
    take_away(setup, t);
    if (t.what == Taken::What::fastener) base_.erase(base_.begin() + std::ptrdiff_t(t.number));
    if (t.what == Taken::What::of_fitting) {
      fitting_.erase(fitting_.begin() + std::ptrdiff_t(t.number));
    }
  }

  // How it comes off when too few are left to calculate; "" where that is not so.
  [[nodiscard]] std::string too_few(Taken::What what) const {
    if (setup.on_board()) return "";
    const std::size_t n = count_of(setup, what);
    const bool fitting = what == Taken::What::of_fitting;
    const std::string the = "the " + (fitting ? setup.plate().bracket->fitting->name : base_word());
    if (n == 0) return the + " comes off: nothing holds it any more";
    const HoldBy hold = setup.plate().fastening.hold;
    const bool clasped = !fitting && (hold == HoldBy::u_bolt || hold == HoldBy::clamp);
    if (n == 1 && !clasped) return the + " turns about the one fastener left and comes off";
    return "";
  }

  [[nodiscard]] std::string base_word() const {
    return setup.on_board() ? "board" : setup.plate().bracket ? "bracket" : "base";
  }

  Setup setup;

 private:
  void number(Taken::What what, std::vector<std::size_t>& out) const {
    out.resize(count_of(setup, what));
    std::iota(out.begin(), out.end(), 0);
  }
  std::vector<std::size_t> base_, fitting_;
};

// "legs" and so on, of what is left: "the other three", "the one that is left".
std::string the_others(const Setup& s, Taken::What what) {
  const std::size_t n = count_of(s, what);
  const std::string of = what == Taken::What::hold_down ? " hold-down"
                         : what == Taken::What::leg     ? " leg"
                                                        : "";
  if (n == 0) return "the rest";
  if (n == 1) return "the" + (of.empty() ? std::string(" one") : of) + " that is left";
  return "the other " + number_word(n) + (of.empty() ? "" : of + "s");
}

class Chain {
 public:
  Chain(const Setup& s, std::size_t gear, Angle step)
      : rest_(s), gear_(gear), step_(step), units_(s.units) {}

  // `first`: id of the mode that goes at `not_before`, "" when it moves.
  std::vector<LossRow> run(Force not_before, std::string_view first, std::optional<Force> most,
                           const std::string& link) {
    const Setup& s = rest_.setup;
    Next now = find();
    if (!now.pull) return {};
    // The limits of the report are searched at more pulls: the lower counts. Where several go at
    // one pull the one that the report tells is the first here as well.
    Force at = std::min(not_before, *now.pull);
    if (now.mode != nullptr && now.mode->id != first && not_before < at_one_pull * *now.pull) {
      now = told(first, now);
    }
    Force carried = at;
    while (rows_.size() < most_losses) {
      LossRow& row = rows_.emplace_back();
      row.gear = s.gear[gear_].name;
      row.what = what_of(now);
      row.at = at;
      row.mode = now.mode != nullptr ? std::string(now.mode->id) : "";
      if (ends_with(now, row)) break;
      const Loss loss = now.mode->loss;
      std::string others;
      if (loss == Loss::bends) {
        bent_.emplace(std::string(now.mode->id), now.part);
      } else {
        const Taken taken = *now.taken;
        rest_.take(taken);
        others = the_others(s, taken.what);
        row.words = rest_.too_few(taken.what);
        if (!row.words.empty()) {
          row.then = Then::drops;
          break;
        }
      }
      const Next next = find();
      if (!next.why_not.empty()) {
        row.then = Then::unknown;
        row.words = "the rest cannot be calculated: " + next.why_not;
        break;
      }
      if (!next.pull) {
        row.then = loss == Loss::bends ? Then::bends : Then::holds;
        row.words = loss == Loss::bends
                        ? std::string(stays_dented) + "; nothing else is found to go"
                        : others + ": nothing of it is found to go";
        break;
      }
      row.next = what_of(next);
      if (*next.pull < at_one_pull * carried) {
        if (at_once(next, row)) break;
      } else {
        row.holds_to = next.pull;
        row.then = loss == Loss::bends ? Then::bends : Then::holds;
        const std::string about_pull = "about " + about(*next.pull, units_, Rounding::down);
        row.words =
            loss == Loss::bends
                ? stays_dented + ("; the next then not before " + about_pull)
                : others + (others.ends_with("left") ? " holds to " : " hold to ") + about_pull;
        if (most && *next.pull > *most) {
          row.words += ", beyond what the " + link + " can pull";
          break;
        }
        carried = *next.pull;
      }
      at = *next.pull;
      now = next;
    }
    tell_the_end();
    return std::move(rows_);
  }

 private:
  Next find() {
    Next out;
    try {
      validate(rest_.setup);
      out = rest_.setup.on_board() ? BoardSearch(rest_.setup, gear_, bent_, step_).run(hint_)
                                   : next_of_plate(rest_.setup, gear_, bent_, step_);
    } catch (const DomainError& e) {
      out.why_not = e.what();
    }
    return out;
  }

  // The report's first, of which no item is known.
  [[nodiscard]] Next told(std::string_view first, const Next& own) const {
    const auto all = rest_.setup.on_board() ? board_catalogue() : catalogue();
    const auto mode =
        std::find_if(all.begin(), all.end(), [&](const FailureMode& m) { return m.id == first; });
    if (mode == all.end()) return own;
    Next out;
    out.pull = own.pull;
    out.mode = &*mode;
    out.gives_way = mode->gives_way;
    return out;
  }

  [[nodiscard]] std::string what_of(const Next& n) const {
    if (n.mode == nullptr) return n.motion;
    std::string item = n.taken ? rest_.name_of(*n.taken) : n.where;
    if (n.taken && n.as_hard > 1) {
      item += ", one of " + number_word(std::size_t(n.as_hard)) + " that are loaded alike";
    }
    return n.gives_way + (item.empty() ? "" : " (" + item + ")");
  }

  [[nodiscard]] std::string boat_word() const {
    return rest_.setup.on_board() ? "the hull" : "the gunwale";
  }

  // What is over with it: the mount itself, the boat, the gear.
  bool ends_with(const Next& n, LossRow& row) const {
    if (n.mode == nullptr) {
      row.then = Then::drops;
      row.words = "the " + rest_.base_word() + " does not stay where it is";
      return true;
    }
    switch (n.mode->loss) {
      case Loss::mount:
        row.then = Then::drops;
        row.words = "the " + rest_.base_word() + " is lost with it";
        return true;
      case Loss::boat:
        row.then = Then::tears;
        row.words = boat_word() + " itself is torn";
        return true;
      case Loss::gear:
        row.then = Then::gear_off;
        row.words = "the gear comes off the " + rest_.base_word();
        return true;
      case Loss::bends:
        if (is_a_dent(*n.mode)) return false;
        row.then = Then::bends;
        row.words = bent_for_good;
        return true;
      case Loss::fastener:
        if (n.taken) return false;
        row.then = Then::unknown;
        row.words = "which one it is cannot be told: nothing is counted on after it";
        return true;
    }
    return false;
  }

  // The next goes at a pull that acts already; true when nothing is left after it.
  bool at_once(const Next& next, LossRow& row) const {
    LossRow end;
    if (!ends_with(next, end)) {
      row.then = Then::follows;
      row.words = "the next goes at once: " + row.next;
      return false;
    }
    row.then = end.then;
    row.words =
        at_once_is +
        (next.mode == nullptr ? next.motion : "the " + next.gives_way + ", and " + end.words);
    return true;
  }

  // The first of several that follow one another says how it ends.
  void tell_the_end() {
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      if (rows_[i].then != Then::follows || (i > 0 && rows_[i - 1].then == Then::follows)) continue;
      std::size_t end = i;
      while (end + 1 < rows_.size() && rows_[end].then == Then::follows) ++end;
      const LossRow& last = rows_[end];
      std::string& words = rows_[i].words;
      const std::string rest = "the rest follows at once";
      const bool at_once = last.words.rfind(at_once_is, 0) == 0;
      const std::string told = last.words.substr(at_once ? std::string(at_once_is).size() : 0);
      switch (last.then) {
        case Then::drops:
          words = rest + ": " + told;
          break;
        case Then::tears:
          words = rest + " and " + boat_word() + " tears";
          break;
        case Then::gear_off:
          words = rest + " and the gear comes off";
          break;
        case Then::holds:
        case Then::bends:
          words = number_word(end - i) + (end - i == 1 ? " more goes" : " more go") +
                  " at once; then " + told;
          break;
        case Then::unknown:
          words = rest + ": " + told;
          break;
        case Then::follows:
          words = rest + ", as far as it was followed";
          break;
      }
    }
  }

  Rest rest_;
  std::size_t gear_;
  Angle step_;
  ReaderUnits units_;
  Bent bent_;
  Hint hint_;
  std::vector<LossRow> rows_;
};

}  // namespace

std::vector<LossRow> losses(const Setup& s, const Assessment& a, const AssessOptions& options) {
  std::vector<LossRow> out;
  for (std::size_t g = 0; g < s.gear.size(); ++g) {
    const auto limit = std::find_if(a.gear_limits.begin(), a.gear_limits.end(),
                                    [&](const GearLimit& l) { return l.gear == s.gear[g].name; });
    // What was refused or moves by itself has no first to go.
    if (limit == a.gear_limits.end() || !limit->not_before) continue;
    const std::optional<Links> links = links_of(s, g, "");
    std::vector<LossRow> rows = Chain(s, g, options.step)
                                    .run(*limit->not_before, limit->first_mode,
                                         links ? std::optional(links->parts) : std::nullopt,
                                         links ? links->what_parts : "");
    std::move(rows.begin(), rows.end(), std::back_inserter(out));
  }
  return out;
}

}  // namespace thole::parts
