#include <thole/sizing.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/wood_strength.hpp>

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

bool SizeCandidate::holds() const {
  return fits() && (verdict == Verdict::holds || verdict == Verdict::holds_if);
}

std::optional<std::size_t> SizeAnswer::smallest_with(LegPlan plan) const {
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    if (candidates[i].plan == plan && candidates[i].holds()) return i;
  }
  return std::nullopt;
}

namespace {

constexpr const char* unknown_wood = "not known";
constexpr const char* lowest_wood = "unknown softwood";

// ---- Stock
// ---------------------------------------------------------------------------------------

struct Stock {
  std::string name;
  std::string market;
  bool inch = false;
  Length thickness{};  // the smaller side
  Length width{};
};

bool in_inches(const std::string& written) {
  return written.ends_with("in") || written.ends_with("\"") || written.ends_with("ft");
}

std::string lower(std::string s) {
  for (char& c : s) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return s;
}

std::vector<Stock> all_stock(const MaterialLibrary& library) {
  std::vector<Stock> out;
  for (const Entry& e : library.entries()) {
    if (e.kind != "lumber_size") continue;
    const auto thickness = e.values.find("thickness");
    const auto width = e.values.find("width");
    if (thickness == e.values.end() || width == e.values.end()) continue;
    Stock s;
    s.name = e.name;
    const auto market = e.about.find("market");
    if (market != e.about.end()) s.market = market->second;
    s.inch = in_inches(thickness->second.written);
    const double a = thickness->second.measure.si;
    const double b = width->second.measure.si;
    s.thickness = std::min(a, b) * si::metre;
    s.width = std::max(a, b) * si::metre;
    out.push_back(s);
  }
  return out;
}

bool same_size(const Stock& s, const BoardPiece& b) {
  const auto near = [](Length x, Length y) { return abs(x - y) < 0.1_mm; };
  return near(s.thickness, std::min(b.width, b.thickness)) &&
         near(s.width, std::max(b.width, b.thickness));
}

// The sizes of one market or of all in these units; `words` becomes the market in words.
std::vector<Stock> stock_for(const Setup& s, const std::string& asked,
                             const MaterialLibrary& library, std::string& words) {
  const std::vector<Stock> all = all_stock(library);
  const bool inch = s.units == ReaderUnits::inch;
  std::vector<std::string> markets;
  std::vector<std::string> home;
  const auto note = [](std::vector<std::string>& list, const std::string& name) {
    if (std::find(list.begin(), list.end(), name) == list.end()) list.push_back(name);
  };
  for (const Stock& k : all) {
    note(markets, k.market);
    if (s.board().board.wood && same_size(k, s.board().board)) note(home, k.market);
  }
  std::vector<Stock> out;
  if (asked.empty() && home.size() == 1 && !home.front().empty()) {
    words = home.front();
  } else if (asked.empty() || lower(asked) == "all") {
    words = inch ? "all inch sizes" : "all metric sizes";
    std::copy_if(all.begin(), all.end(), std::back_inserter(out),
                 [&](const Stock& k) { return k.inch == inch; });
    return out;
  } else {
    std::vector<std::string> found;
    for (const std::string& m : markets) {
      if (lower(m).find(lower(asked)) != std::string::npos) found.push_back(m);
    }
    if (found.size() != 1) {
      std::string list;
      for (const std::string& m : markets) list += m.empty() ? "" : "\"" + m + "\", ";
      const std::string near = found.empty() ? nearest_spelling(asked, markets) : "";
      throw UnknownName((found.empty() ? "no lumber of the tables is sold in \"" + asked + "\""
                                       : "\"" + asked + "\" is more than one market") +
                        (near.empty() ? "" : "; did you mean \"" + near + "\"?") +
                        "; the markets are " + list + "or all");
    }
    words = found.front();
  }
  std::copy_if(all.begin(), all.end(), std::back_inserter(out),
               [&](const Stock& k) { return k.market == words; });
  return out;
}

// The smallest that does for a leg: 2x4 or the like.
const Stock* leg_stock(const std::vector<Stock>& stock) {
  const Stock* best = nullptr;
  for (const Stock& k : stock) {
    if (k.thickness < 38.0_mm || k.width < 88.0_mm) continue;
    if (best == nullptr || k.thickness * k.width < best->thickness * best->width) best = &k;
  }
  return best;
}

// ---- Wood
// ----------------------------------------------------------------------------------------

// Values of Southern Pine belong to one width: "Southern Pine No.2 2x8" for a 2x10 is another row.
Wood wood_for(const Wood& wood, const Stock& size, const MaterialLibrary& library) {
  if (!wood.southern_pine) return wood;
  const std::size_t space = wood.name.rfind(' ');
  if (space == std::string::npos) return wood;
  const std::string other = wood.name.substr(0, space + 1) + size.name;
  return library.find("wood_grade", other) != nullptr ? library.wood(other) : wood;
}

// Slits for preservative are not kept in a piece, only in its strengths.
bool is_incised(const BoardPiece& b, const MaterialLibrary& library) {
  if (!b.wood || !b.wood_strength) return false;
  try {
    const WoodStrength whole = nominal_wood(
        *b.wood, {std::min(b.width, b.thickness), std::max(b.width, b.thickness), b.wet, false},
        library);
    return b.wood_strength->tension.value() < 0.999 * whole.tension.value();
  } catch (const DomainError&) {
    return false;
  }
}

// ---- Trials
// --------------------------------------------------------------------------------------

class Search {
 public:
  Search(const Setup& s, const SizeQuestion& q, const MaterialLibrary& library)
      : s_(s), q_(q), library_(library) {
    if (!s.on_board()) {
      throw DomainError(std::string("size works on a cross_board; this setup is a ") +
                        (s.plate().bracket ? "bracket" : "gunwale_plate"));
    }
    if (s.board().board.metal && q.woods.empty()) {
      throw DomainError(
          "size looks for a plank, but the board of this setup is of metal: name a wood to try "
          "instead");
    }
  }

  SizeAnswer run() {
    stock_ = stock_for(s_, q_.market, library_, out_.market);
    woods();
    plans();
    incised_ = is_incised(s_.board().board, library_);
    const bool strip = s_.board().board.form == BoardForm::plank_with_strip;
    if (strip && q_.on_edge) {
      out_.remarks.emplace_back("on edge: not tried, a plank with a strip below lies flat");
    }
    for (const Stock& size : stock_) {
      for (const bool on_edge : {false, true}) {
        if (on_edge ? !q_.on_edge || strip : !q_.flat) continue;
        if (on_edge && size.thickness == size.width) continue;
        for (const Wood& wood : woods_) {
          for (const LegPlan plan : plans_) attempt(size, on_edge, wood, plan);
        }
      }
    }
    if (out_.candidates.empty()) {
      throw DomainError(strip && !q_.flat ? "a plank with a strip below lies flat: nothing to try"
                                          : "no lumber size is left to try");
    }
    sort();
    judge();
    return std::move(out_);
  }

 private:
  void woods() {
    if (q_.woods.empty()) {
      woods_.push_back(*s_.board().board.wood);
      return;
    }
    for (const std::string& name : q_.woods) {
      Wood w = library_.wood(name == unknown_wood ? lowest_wood : name);
      const bool twice = std::any_of(woods_.begin(), woods_.end(),
                                     [&](const Wood& o) { return o.name == w.name; });
      if (!twice) woods_.push_back(std::move(w));
    }
  }

  void plans() {
    const std::vector<Leg>& drawn = s_.board().legs;
    if (q_.leg_length) {
      if (!(q_.leg_length->value() > 0)) {
        throw DomainError("the length of the legs must be above zero");
      }
      leg_length_ = *q_.leg_length;
    } else {
      for (const Leg& l : drawn) leg_length_ = std::max(leg_length_, l.length);
    }
    leg_ = leg_stock(stock_);
    const bool known = leg_length_.value() > 0 && leg_ != nullptr;
    if (leg_ != nullptr) out_.leg_size = leg_->name;
    for (const LegPlan plan : {LegPlan::none, LegPlan::as_drawn, LegPlan::below_gear}) {
      const bool asked = std::find(q_.legs.begin(), q_.legs.end(), plan) != q_.legs.end();
      if (!q_.legs.empty() && !asked) continue;
      const std::string what(word_for(plan));
      if (plan == LegPlan::as_drawn && drawn.empty()) {
        if (asked) throw DomainError(what + ": the setup has no legs");
        continue;
      }
      if (plan == LegPlan::below_gear && !known) {
        const std::string why = leg_ == nullptr
                                    ? "no size of the stock does for a leg"
                                    : "their length is not known; measure from board to hull";
        if (asked) throw DomainError(what + ": " + why);
        out_.remarks.push_back(what + ": not tried, " + why);
        continue;
      }
      plans_.push_back(plan);
    }
  }

  // ---- One candidate

  // Inputs of the copy, as its report would list them.
  void set_inputs(Setup& copy, const SizeCandidate& c) const {
    const bool own_wood = q_.woods.empty();
    const bool new_legs = c.plan != LegPlan::as_drawn;
    std::erase_if(copy.inputs, [&](const Input& i) {
      for (const char* path :
           {"mount.board.size", "mount.board.laid", "mount.board.width", "mount.board.thickness",
            "mount.board.form", "mount.board.alloy", "mount.board.wall"}) {
        if (i.path == path) return true;
      }
      return (!own_wood && i.path == "mount.board.wood") ||
             (new_legs && i.path.starts_with("mount.legs."));
    });
    const auto add = [&](const char* path, const char* label, const std::string& value,
                         Knowledge known) {
      copy.inputs.push_back({.path = path,
                             .label = label,
                             .value = value,
                             .is_text = true,
                             .known = known,
                             .defaulted = true});
    };
    add("mount.board.size", "size", c.size, Knowledge::tagged);
    add("mount.board.laid", "how the size lies", c.on_edge ? "on_edge" : "flat", Knowledge::tagged);
    if (!own_wood) {
      add("mount.board.wood", "wood and grade", c.wood,
          c.wood == lowest_wood ? Knowledge::assumed : Knowledge::tagged);
    }
    if (c.plan == LegPlan::below_gear) {
      add("mount.legs.foot_slope", "slope under the foot of a leg", "0 deg, level",
          Knowledge::assumed);
      add("mount.legs.friction", "friction under the foot", "not measured", Knowledge::assumed);
    }
  }

  // Does a rectangle round `p` meet a circle round `q`?
  static bool meets(const BoardPlace& p, Length half_along, Length half_across, const BoardPlace& q,
                    Length radius) {
    if (p.side != q.side) return false;
    const double dx = std::max(0.0, (abs(p.outboard - q.outboard) - half_across).value());
    const double dy = std::max(0.0, (abs(p.forward - q.forward) - half_along).value());
    return std::hypot(dx, dy) < radius.value();
  }

  // A leg under a nut would stand on the nut.
  [[nodiscard]] bool under_a_nut(const CrossBoard& b, const Leg& l) const {
    const auto hit = [&](const BoardPlace& q, Length radius) {
      return meets(l.place, 0.5 * l.fore_aft, 0.5 * l.athwart, q, radius);
    };
    for (const HoldDown& h : b.hold_downs) {
      if (h.kind != HoldDownKind::u_bolt && hit(h.place, 0.5 * std::max(h.washer, h.hole))) {
        return true;
      }
    }
    for (const Gear& g : s_.gear) {
      if (!g.foot) continue;
      for (const PlanPoint& p : g.foot->holes) {
        BoardPlace q = g.place;
        q.forward += p.x;
        q.outboard += p.y;
        if (hit(q, std::max(0.5 * g.foot->washer, 0.6 * g.foot->thread.head_across_flats))) {
          return true;
        }
      }
    }
    return false;
  }

  [[nodiscard]] std::vector<Leg> legs_below(const CrossBoard& b, const Wood& wood) const {
    std::vector<Leg> out;
    const Wood own = wood_for(wood, *leg_, library_);
    for (const Gear& g : s_.gear) {
      Leg l;
      l.name = "leg below " + g.name;
      l.length = leg_length_;
      l.fore_aft = leg_->thickness;
      l.athwart = leg_->width;
      l.wood = own;
      l.wood_strength =
          nominal_wood(own, {leg_->thickness, leg_->width, b.board.wet, incised_}, library_);
      l.stands_on = LegFoot::hull;
      l.foot_held = true;
      l.place.side = g.place.side;
      // Flush with the aft edge; in the middle of a board that is narrower than the leg.
      l.place.forward = -std::max<Length>(0.5 * (b.board.width - l.fore_aft), Length{});
      l.place.outboard = std::min<Length>(g.place.outboard, -0.5 * l.athwart);
      const Length most_inboard = -0.5 * b.clear_width + 0.5 * l.athwart;
      while (under_a_nut(b, l)) {
        l.place.outboard -= 1.0_mm;
        if (l.place.outboard < most_inboard) {
          throw DomainError("the " + l.name + " finds no place clear of the nuts");
        }
      }
      out.push_back(l);
    }
    for (std::size_t i = 0; i < out.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (out[i].place.side == out[j].place.side &&
            abs(out[i].place.outboard - out[j].place.outboard) < leg_->width) {
          throw DomainError("the " + out[j].name + " and the " + out[i].name +
                            " run into each other");
        }
      }
    }
    return out;
  }

  void attempt(const Stock& size, bool on_edge, const Wood& asked, LegPlan plan) {
    SizeCandidate c;
    c.size = size.name;
    c.wood = asked.name;
    c.on_edge = on_edge;
    c.plan = plan;
    c.width = on_edge ? size.thickness : size.width;
    c.thickness = on_edge ? size.width : size.thickness;
    try {
      const Wood wood = wood_for(asked, size, library_);
      c.wood = wood.name;
      Setup copy = s_;
      CrossBoard& b = copy.board();
      BoardPiece& piece = b.board;
      const Length old_width = piece.width;
      if (piece.form != BoardForm::plank_with_strip) piece.form = BoardForm::plank;
      piece.width = c.width;
      piece.thickness = c.thickness;
      piece.wall = Length{};
      piece.metal.reset();
      piece.wood = wood;
      piece.wood_strength =
          nominal_wood(wood, {size.thickness, size.width, piece.wet, incised_}, library_);
      switch (plan) {
        case LegPlan::none:
          b.legs.clear();
          break;
        case LegPlan::as_drawn:
          for (Leg& l : b.legs) {
            if (!l.beside) continue;
            const Length shift = 0.5 * (c.width - old_width);
            l.place.forward += l.place.forward.value() < 0 ? Length(-shift) : shift;
          }
          break;
        case LegPlan::below_gear:
          b.legs = legs_below(b, asked);
          break;
      }
      c.legs = b.legs;
      set_inputs(copy, c);
      read(c, assess(copy, {.step = q_.step, .neighbours = false}));
    } catch (const DomainError& e) {
      c.why_not = e.what();
    }
    out_.candidates.push_back(std::move(c));
  }

  static void read(SizeCandidate& c, const Assessment& a) {
    c.verdict = a.verdict;
    c.conditions = a.holds_if;
    c.reasons = a.reasons;
    if (a.verdict == Verdict::no_verdict && !a.to_do.empty()) c.remedy = a.to_do.front();
    c.hold_limit = a.hold_limit;
    if (a.verdict == Verdict::no_verdict) return;
    for (const CheckResult& r : a.checks) {
      if (r.standing != Standing::applies) continue;
      const SizeCheck k{r.mode, r.gives_way, r.where, r.case_title, r.factor, r.needed, r.advice};
      if (!c.worst) c.worst = k;
      if (!r.holds) c.failed.push_back(k);
    }
  }

  // ---- All of them

  void sort() {
    std::stable_sort(out_.candidates.begin(), out_.candidates.end(),
                     [](const SizeCandidate& a, const SizeCandidate& b) {
                       // Whole square tenths of a millimetre: rounding must not order.
                       const auto area = [](const SizeCandidate& c) {
                         return std::round(c.section().value() * 1e8);
                       };
                       if (area(a) != area(b)) return area(a) < area(b);
                       if (a.legs.size() != b.legs.size()) return a.legs.size() < b.legs.size();
                       return !a.on_edge && b.on_edge;
                     });
  }

  static double ratio(const SizeCheck& k) { return k.factor / k.needed; }

  void judge() {
    const std::vector<SizeCandidate>& all = out_.candidates;
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (!out_.smallest && all[i].holds()) out_.smallest = i;
      if (all[i].fits()) out_.largest = i;
    }
    if (out_.smallest) {
      next_smaller(all[*out_.smallest]);
    } else {
      common();
    }
  }

  void next_smaller(const SizeCandidate& winner) {
    const auto better = [](const SizeCandidate& a, const SizeCandidate& b) {
      if (a.fits() != b.fits()) return a.fits();
      const double d = a.section().value() - b.section().value();
      if (std::abs(d) > 1e-8) return d > 0;
      return a.worst && (!b.worst || ratio(*a.worst) > ratio(*b.worst));
    };
    for (std::size_t i = 0; i < *out_.smallest; ++i) {
      const SizeCandidate& c = out_.candidates[i];
      if (c.plan != winner.plan || winner.section() - c.section() < 1e-8 * si::square_metre) {
        continue;
      }
      // Southern Pine changes its name with the width.
      if (c.wood != winner.wood && woods_.size() > 1) continue;
      if (c.on_edge == winner.on_edge &&
          std::abs(std::min(c.width, c.thickness).value() -
                   std::min(winner.width, winner.thickness).value()) < 1e-4) {
        out_.one_size_down = i;  // in order of section: the last is the largest
      }
      if (!out_.next_smaller || better(c, out_.candidates[*out_.next_smaller])) {
        out_.next_smaller = i;
      }
    }
  }

  void common() {
    bool first = true;
    for (const SizeCandidate& c : out_.candidates) {
      if (!c.fits() || c.verdict == Verdict::no_verdict) continue;
      if (first) {
        out_.stops_every = c.failed;
        first = false;
        continue;
      }
      std::erase_if(out_.stops_every, [&](SizeCheck& k) {
        for (const SizeCheck& f : c.failed) {
          if (f.mode != k.mode) continue;
          if (ratio(f) > ratio(k)) k = f;
          return false;
        }
        return true;
      });
    }
    std::stable_sort(out_.stops_every.begin(), out_.stops_every.end(),
                     [](const SizeCheck& a, const SizeCheck& b) { return ratio(a) < ratio(b); });
    if (out_.stops_every.empty()) return;
    for (std::size_t i = 0; i < out_.candidates.size() && !out_.but_for; ++i) {
      const SizeCandidate& c = out_.candidates[i];
      if (!c.fits() || c.verdict == Verdict::no_verdict) continue;
      const bool only = std::all_of(c.failed.begin(), c.failed.end(), [&](const SizeCheck& f) {
        return std::any_of(out_.stops_every.begin(), out_.stops_every.end(),
                           [&](const SizeCheck& k) { return k.mode == f.mode; });
      });
      if (only) out_.but_for = i;
    }
  }

  const Setup& s_;
  const SizeQuestion& q_;
  const MaterialLibrary& library_;
  std::vector<Stock> stock_;
  std::vector<Wood> woods_;
  std::vector<LegPlan> plans_;
  const Stock* leg_ = nullptr;
  Length leg_length_{};
  bool incised_ = false;
  SizeAnswer out_;
};

}  // namespace

SizeAnswer size_board(const Setup& setup, const SizeQuestion& question,
                      const MaterialLibrary& library) {
  return Search(setup, question, library).run();
}

}  // namespace thole
