#include "report/pull_items.hpp"

#include <algorithm>
#include <limits>

#include "core/stable_order.hpp"
#include "report/text.hpp"

namespace thole::ruler {
namespace {

using namespace literals;
using text::alike;
using text::lesser;

constexpr std::size_t most_named = 3;   // items of the mount beside the scale
constexpr std::size_t most_wrong = 6;   // the same, of those that may go too early
constexpr double worth_the_room = 1.5;  // times the rest: what lies higher is listed

std::string from(const std::optional<Force>& low, ReaderUnits u) {
  if (!low) return "";
  return *low < 0.5_lbf ? "at next to nothing" : "from " + about(*low, u, Rounding::down);
}

std::string at_most(Force pull, ReaderUnits u) {
  return pull < 0.5_lbf ? "next to nothing" : about(pull, u, Rounding::down);
}

// "300 to 450 N".
std::string band(const LadderStep& step, ReaderUnits u) {
  const std::string low = about(*step.low, u, Rounding::down);
  return low.substr(0, low.find(' ')) + " to " + about(*step.high, u, Rounding::up);
}

// Without its place on a board, which checks and sentence have.
std::string without_place(const LadderStep& step, const Setup& s, const Assessment& a) {
  if (!s.on_board()) return step.what;
  for (const CheckResult& c : a.checks) {
    if (!c.where.empty() && step.what == c.gives_way + " (" + c.where + ")") return c.gives_way;
  }
  return step.what;
}

// The same without the name of its gear.
std::string bare(const LadderStep& step) {
  std::string what = step.what;
  const std::string end = " (" + step.gear + ")";
  if (text::ends_with(what, end)) what.resize(what.size() - end.size());
  return what;
}

std::vector<const LadderStep*> links_of(const Assessment& a, const std::string& gear) {
  std::vector<const LadderStep*> out;
  for (const LadderStep& step : a.ladder) {
    if (step.link && step.gear == gear) out.push_back(&step);
  }
  return out;
}

const GearLimit* limit_of(const Assessment& a, const std::string& gear) {
  for (const GearLimit& l : a.gear_limits) {
    if (l.gear == gear) return &l;
  }
  return nullptr;
}

const OrderRow* order_of(const Assessment& a, const std::string& gear) {
  for (const OrderRow& r : a.orders) {
    if (r.gear == gear) return &r;
  }
  return nullptr;
}

bool same_links(const Assessment& a, const std::string& x, const std::string& y) {
  const auto mine = links_of(a, x);
  const auto theirs = links_of(a, y);
  return std::equal(mine.begin(), mine.end(), theirs.begin(), theirs.end(),
                    [](const LadderStep* m, const LadderStep* t) {
                      return bare(*m) == bare(*t) && alike(m->low, t->low) &&
                             alike(m->high, t->high);
                    });
}

bool same_boat(const HeelPull* x, const HeelPull* y) {
  if (x == nullptr || y == nullptr) return x == y;
  return alike(x->notice, y->notice) && alike(x->strong, y->strong) &&
         alike(x->swamping, y->swamping);
}

bool same_order(const OrderRow* x, const OrderRow* y) {
  if (x == nullptr || y == nullptr) return x == y;
  return x->order == y->order;
}

bool same(const Assessment& a, const Gear& x, const Gear& y) {
  if (beside::kind_of(x) != beside::kind_of(y) || !same_links(a, x.name, y.name)) return false;
  if (x.plain_load && !alike(x.plain_load->pull, y.plain_load->pull)) return false;
  if (!same_order(order_of(a, x.name), order_of(a, y.name))) return false;
  if (!same_boat(beside::heel_pull(a, x.name), beside::heel_pull(a, y.name))) return false;
  const GearLimit* mine = limit_of(a, x.name);
  const GearLimit* theirs = limit_of(a, y.name);
  if (mine == nullptr || theirs == nullptr) return mine == theirs;
  const beside::Setting set = beside::setting_of(a, *mine);
  const beside::Setting other = beside::setting_of(a, *theirs);
  return alike(mine->hold_limit, theirs->hold_limit) &&
         alike(mine->not_before, theirs->not_before) && alike(set.pull, other.pull) &&
         alike(mine->all_hung_up, theirs->all_hung_up) && set.by_boat == other.by_boat &&
         alike(set.test_pull, other.test_pull);
}

// What has no lower end stands last.
double low_end(const std::optional<Force>& low) {
  return low ? low->value() : std::numeric_limits<double>::infinity();
}

class Maker {
 public:
  Maker(const Setup& s, const Assessment& a, Ruler& out) : s_(s), a_(a), u_(s.units), out_(out) {}

  void make() {
    out_.refused = a_.verdict == Verdict::no_verdict;
    settings();
    for (const LadderStep& step : links()) link(step);
    if (out_.gear->plain_load) plain_load();
    limits();
    boat();
    mount();
    // Without a verdict no order is told to be right.
    const OrderRow* row = order_of(a_, out_.gear->name);
    if (row != nullptr && (!out_.refused || row->order == Order::wrong)) out_.order = row->words;
    sort_stably(out_.items,
                [](const Item& x, const Item& y) { return low_end(x.low) < low_end(y.low); });
  }

 private:
  Item& add(Look look, bool left, const std::string& what, const std::string& figure, Force low,
            const std::optional<Force>& high = std::nullopt) {
    Item i;
    i.what = what;
    i.figure = figure;
    i.look = look;
    i.left = left;
    i.low = low;
    i.high = high;
    out_.top = std::max(out_.top, high.value_or(low));
    out_.items.push_back(i);
    return out_.items.back();
  }

  // The least of all gears that share the ruler.
  template <class Of>
  [[nodiscard]] std::optional<Force> least(Of of) const {
    std::optional<Force> out;
    for (const std::string& name : out_.names) {
      if (const GearLimit* l = limit_of(a_, name)) out = lesser(out, of(*l));
    }
    return out;
  }
  template <class Of>
  [[nodiscard]] std::optional<Force> least_of_boat(Of of) const {
    std::optional<Force> out;
    for (const std::string& name : out_.names) {
      if (const HeelPull* p = beside::heel_pull(a_, name)) out = lesser(out, of(*p));
    }
    return out;
  }

  // Of gears that share the ruler they are alike, not equal: the widest bounds.
  [[nodiscard]] std::vector<LadderStep> links() const {
    std::vector<LadderStep> out;
    for (const LadderStep* step : links_of(a_, out_.gear->name)) out.push_back(*step);
    for (const std::string& name : out_.names) {
      const std::vector<const LadderStep*> own = links_of(a_, name);
      for (std::size_t i = 0; i < std::min(out.size(), own.size()); ++i) {
        out[i].low = lesser(out[i].low, own[i]->low);
        if (out[i].high && own[i]->high) out[i].high = std::max(*out[i].high, *own[i]->high);
        out[i].wrong = out[i].wrong || own[i]->wrong;
      }
    }
    return out;
  }

  void plain_load() {
    Force most = out_.gear->plain_load->pull;
    for (const std::string& name : out_.names) {
      const Gear* g = beside::gear_called(s_, name);
      if (g != nullptr && g->plain_load) most = std::max(most, g->plain_load->pull);
    }
    Item& own =
        add(Look::band, false, "your load in the file", about(most, u_, Rounding::up), most);
    const auto hold = least([](const GearLimit& l) { return l.hold_limit; });
    own.over = hold && *hold < most;
  }

  [[nodiscard]] std::optional<Force> setting() const {
    return least([&](const GearLimit& l) { return beside::setting_of(a_, l).pull; });
  }

  void settings() {
    const GearLimit* first = limit_of(a_, out_.gear->name);
    if (first == nullptr || out_.refused) return;
    const auto pull = setting();
    const auto test =
        least([&](const GearLimit& l) { return beside::setting_of(a_, l).test_pull; });
    if (!pull) return;
    const bool boat = beside::setting_of(a_, *first).by_boat;
    beside::Setting set;
    set.pull = pull;
    set.least_useful = first->least_useful;
    if (!beside::of_use(set)) {
      const std::string why =
          first->least_useful > 0.5_lbf
              ? "; a brake cannot hold the ball in waves below " + about(first->least_useful, u_)
              : std::string();
      add(Look::setting, false, "nothing to set that is of use" + why, at_most(*pull, u_), *pull)
          .useless = true;
      return;
    }
    add(Look::setting, false,
        std::string("largest setting to use") + (boat ? ", for the boat's sake" : ""),
        at_most(*pull, u_), *pull);
    if (test) add(Look::test, false, "test pull", at_most(*test, u_), *test);
  }

  // A band with the setting of the file at its low end, or what a body takes.
  void link(const LadderStep& step) {
    if (!step.known || !step.low) {
      Item i;
      i.what = bare(step);
      i.left = !step.high;
      out_.unknown.push_back(i);
      return;
    }
    if (!step.high) {
      add(Look::item, true, bare(step) + ", by its rating", from(step.low, u_), *step.low).wrong =
          step.wrong;
      return;
    }
    std::string what = bare(step);
    const bool set = what.rfind("brake", 0) == 0 || what.rfind("drag", 0) == 0;
    if (set) what += "; set to " + about(*step.low, u_) + " in the file";
    Item& own = add(Look::band, false, what, band(step, u_), *step.low, step.high);
    own.wrong = step.wrong;
    const auto most = setting();
    own.over = set && most && *most < *step.low * (1 - 1e-9);
  }

  void limits() {
    const auto hold = least([](const GearLimit& l) { return l.hold_limit; });
    const auto together = least([](const GearLimit& l) { return l.all_hung_up; });
    if (!hold) return;
    const std::string by =
        out_.refused ? "hold limit by what is calculated" : "hold limit of the mount";
    add(Look::limit, true, by, at_most(*hold, u_), *hold);
    if (together && *together < *hold) {
      add(Look::limit, true, "hold limit, all balls hung up", at_most(*together, u_) + " each",
          *together);
    }
  }

  void boat() {
    const auto notice = least_of_boat([](const HeelPull& p) { return std::optional(p.notice); });
    const auto strong = least_of_boat([](const HeelPull& p) { return p.strong; });
    const auto swamping = least_of_boat([](const HeelPull& p) { return p.swamping; });
    if (notice) maybe_beyond(Look::boat, "boat: a third of its freeboard gone", *notice);
    out_.person_heels = strong && *strong < 0.5_lbf;
    if (strong && !out_.person_heels)
      maybe_beyond(Look::boat, "boat heels strongly, a person at that side", *strong);
    if (swamping) maybe_beyond(Look::boat, "boat may swamp, a person at that side", *swamping);
  }

  void maybe_beyond(Look look, const std::string& what, Force low) {
    if (out_.top.value() > 0 && low > worth_the_room * out_.top) {
      Item i;
      i.what = what;
      i.figure = from(low, u_);
      i.look = look;
      i.left = true;
      i.low = low;
      out_.beyond.push_back(i);
      return;
    }
    add(look, true, what, from(low, u_), low);
  }

  // What goes too early always, of the rest the first few.
  void mount() {
    // Under a pull on this gear alone nothing goes before its own first.
    const auto own = least([](const GearLimit& l) { return l.not_before; });
    const bool together =
        least([](const GearLimit& l) { return l.all_hung_up; }).has_value() || out_.refused;
    out_.least_of_any = out_.mixed && (together || !own);
    std::vector<LadderStep> steps;
    for (LadderStep step : a_.ladder) {
      if (step.link || !step.low) continue;
      if (out_.mixed && !out_.least_of_any) step.low = std::max(*step.low, *own);
      steps.push_back(step);
    }
    sort_stably(steps, [](const LadderStep& x, const LadderStep& y) {
      return low_end(x.low) < low_end(y.low);
    });
    const OrderRow* row = order_of(a_, out_.gear->name);
    const bool may_be_wrong = row == nullptr || out_.refused || row->order == Order::wrong;
    std::size_t named = 0;
    for (const LadderStep& step : steps) {
      const bool wrong = step.wrong && may_be_wrong;
      const bool near = named == 0 || *step.low <= worth_the_room * out_.top;
      const std::string what = without_place(step, s_, a_);
      if ((named < most_named && near) || (named < most_wrong && wrong)) {
        add(Look::item, true, what, from(step.low, u_), *step.low).wrong = wrong;
        ++named;
        continue;
      }
      Item i;
      i.what = what;
      i.wrong = wrong;
      i.figure = from(step.low, u_);
      i.left = true;
      i.low = step.low;
      out_.beyond.push_back(i);
    }
    sort_stably(out_.beyond,
                [](const Item& x, const Item& y) { return low_end(x.low) < low_end(y.low); });
  }

  const Setup& s_;
  const Assessment& a_;
  ReaderUnits u_;
  Ruler& out_;
};

}  // namespace

std::vector<Ruler> rulers(const Setup& s, const Assessment& a) {
  std::vector<Ruler> out;
  for (const Gear& g : s.gear) {
    const auto known =
        std::find_if(out.begin(), out.end(), [&](const Ruler& r) { return same(a, *r.gear, g); });
    if (known != out.end()) {
      known->names.push_back(g.name);
      continue;
    }
    out.emplace_back();
    out.back().gear = &g;
    out.back().names = {g.name};
  }
  for (Ruler& r : out) {
    r.mixed = out.size() > 1;
    Maker(s, a, r).make();
  }
  out.erase(std::remove_if(out.begin(), out.end(), [](const Ruler& r) { return r.items.empty(); }),
            out.end());
  return out;
}

}  // namespace thole::ruler
