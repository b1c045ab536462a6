// The space of a cross-board.

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/section.hpp>
#include <thole/wood_strength.hpp>

#include "core/stable_order.hpp"
#include "reading/sizing_space.hpp"

namespace thole::reading {

using namespace literals;

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
  Length wall{};  // of a tube or channel
  bool drawn = false;
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

std::string about(const Entry& e, const char* key) {
  const auto it = e.about.find(key);
  return it == e.about.end() ? std::string() : it->second;
}

std::optional<Length> length_of(const Entry& e, const char* key) {
  const auto it = e.values.find(key);
  if (it == e.values.end()) return std::nullopt;
  return Length::from_value(it->second.measure.si);
}

Stock stock_of(const Entry& e, Length a, Length b) {
  Stock s;
  s.name = e.name;
  s.market = about(e, "market");
  s.thickness = std::min(a, b);
  s.width = std::max(a, b);
  return s;
}

std::vector<Stock> all_planks(const MaterialLibrary& library) {
  std::vector<Stock> out;
  for (const Entry& e : library.entries()) {
    if (e.kind != "lumber_size") continue;
    const auto thickness = length_of(e, "thickness");
    const auto width = length_of(e, "width");
    if (!thickness || !width) continue;
    Stock s = stock_of(e, *thickness, *width);
    s.inch = in_inches(e.values.at("thickness").written);
    out.push_back(s);
  }
  return out;
}

// Tubes and channels of one form in the units of the setup.
std::vector<Stock> all_metal(BoardForm form, bool inch, const MaterialLibrary& library) {
  std::vector<Stock> out;
  for (const Entry& e : library.entries()) {
    const bool channel = form == BoardForm::channel_down || form == BoardForm::channel_up;
    if (e.kind != (channel ? "channel" : "tube")) continue;
    const bool round = about(e, "shape") == "round";
    if (!channel && round != (form == BoardForm::round_tube)) continue;
    const auto a = length_of(e, channel ? "depth" : "outside_a");
    const auto b = length_of(e, channel ? "flange" : "outside_b");
    const auto wall = length_of(e, channel ? "thickness" : "wall");
    if (!a || !b || !wall) continue;
    Stock s = stock_of(e, *a, *b);
    s.wall = *wall;
    s.inch = s.market == "inch";
    if (s.inch == inch) out.push_back(s);
  }
  return out;
}

bool same_size(const Stock& s, const BoardPiece& b) {
  const auto near = [](Length x, Length y) { return abs(x - y) < 0.1_mm; };
  return near(s.thickness, std::min(b.width, b.thickness)) &&
         near(s.width, std::max(b.width, b.thickness)) && (!b.metal || near(s.wall, b.wall));
}

// The planks of one market or of all in these units; `words` becomes the market in words.
std::vector<Stock> planks_for(const Setup& s, const std::string& asked,
                              const MaterialLibrary& library, std::string& words) {
  const std::vector<Stock> all = all_planks(library);
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
std::optional<Stock> leg_stock(const std::vector<Stock>& stock) {
  std::optional<Stock> best;
  for (const Stock& k : stock) {
    if (k.thickness < 38.0_mm || k.width < 88.0_mm) continue;
    if (!best || k.thickness * k.width < best->thickness * best->width) best = k;
  }
  return best;
}

// ---- Wood
// ----------------------------------------------------------------------------------------

std::string grade_of(const Wood& wood);

// Values of Southern Pine belong to one width: those of the least width that holds for the piece.
// "Southern Pine No.2 2x8" for a 2x10 is another row, and so it is for a 4x8 or a 1x4.
Wood wood_for(const Wood& wood, Length width, const MaterialLibrary& library) {
  if (!wood.southern_pine) return wood;
  std::optional<Wood> best;
  for (const Entry& e : library.entries()) {
    if (e.kind != "wood_grade" || !e.name.starts_with(grade_of(wood) + " ")) continue;
    Wood row = library.wood(e.name);
    if (row.tabulated_width < width - 0.5_mm) continue;
    if (!best || row.tabulated_width < best->tabulated_width) best = std::move(row);
  }
  return best ? *best : wood;
}

std::string grade_of(const Wood& wood) {
  const std::size_t space = wood.name.rfind(' ');
  return wood.southern_pine && space != std::string::npos ? wood.name.substr(0, space) : wood.name;
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

// ---- Other parts
// ---------------------------------------------------------------------------------

struct AngleSize {
  std::string name;
  Length level{};
  Length upright{};
  Length thickness{};
};

struct WasherChoice {
  enum class Kind { as_drawn, plain, wide, cut } kind = Kind::as_drawn;
  Length diameter{};  ///< of one cut from plate
};

template <class T>
std::string words_or_drawn(const std::optional<T>& v, ReaderUnits u) {
  return v ? show(*v, u) : "as drawn";
}

class BoardSpace final : public SizeSpace {
 public:
  BoardSpace(const Setup& s, const SizeQuestion& q, const MaterialLibrary& library)
      : SizeSpace(s, q, library), drawn_(s.board()) {
    incised_ = is_incised(drawn_.board, library);
    treated_as_wood_ = drawn_.board.wood.has_value() || !q.woods.empty();
    choose_stock();
    choose_laid();
    choose_wood();
    make_strengths();
    choose_legs();
    choose_ledge();
    choose_bolts();
    choose_washer();
    choose_spacing();
    choose_plates();
    words_.section_of = "the section of the board";
    words_.mass_of =
        "board, legs, angles of the ledges with their bolts and plates, hold-downs, washers, "
        "plates "
        "and bolts under the gear";
    if (drawn_.port.kind != LedgeKind::angle || drawn_.starboard.kind != LedgeKind::angle) {
      words_.not_weighed.emplace_back("ledges that are no angles");
    }
    if (drawn_.board.form == BoardForm::plank_with_strip) {
      words_.remarks.emplace_back("the strip below the plank stays as it is");
    }
    words_.fixed.emplace_back("places of ledges and gear");
    if (quantities_[spacing_].options.size() == 1) {
      words_.fixed.emplace_back("places of hold-downs");
    }
    words_.fixed.emplace_back("the kind of the hold-downs and what they are made of");
  }

  void build(const Choice& c, Setup& out) const override {
    out.mount = drawn_;
    CrossBoard& b = out.board();
    const Stock& size = stock_[c[stocks_]];
    const bool on_edge = laid_[c[lays_]];
    if (on_edge && size.thickness == size.width) {
      throw DomainError("a square piece on edge is the same as flat");
    }
    BoardPiece& piece = b.board;
    const Length old_width = piece.width;
    piece.width = on_edge ? size.thickness : size.width;
    piece.thickness = on_edge ? size.width : size.thickness;
    if (treated_as_wood_) {
      if (piece.form != BoardForm::plank_with_strip) piece.form = BoardForm::plank;
      const Piece& p = pieces_[c[stocks_] * woods_.size() + c[wood_axis_]];
      if (!p.strength) throw DomainError(p.why_not);
      piece.wall = Length{};
      piece.metal.reset();
      piece.wood = p.wood;
      piece.wood_strength = p.strength;
    } else {
      piece.wall = size.wall;
    }
    set_ledge(b, c[ledge_]);
    set_hold_downs(b, c);
    if (const auto& t = plates_[c[plate_]]) {
      for (Gear& g : out.gear) {
        if (g.foot && g.foot->plate) g.foot->plate->thickness = *t;
      }
    }
    if (const auto& t = behind_[c[behind_axis_]]) {
      for (Ledge* l : {&b.port, &b.starboard}) {
        if (l->fastening && l->fastening->backing) l->fastening->backing->thickness = *t;
      }
    }
    // Last: legs stand clear of nuts.
    switch (plans_[c[legs_]]) {
      case LegPlan::none:
        b.legs.clear();
        break;
      case LegPlan::as_drawn:
        for (Leg& l : b.legs) {
          if (!l.beside) continue;
          const Length shift = 0.5 * (piece.width - old_width);
          l.place.forward += l.place.forward.value() < 0 ? Length(-shift) : shift;
        }
        break;
      case LegPlan::below_gear:
        b.legs = legs_below(b, c[wood_axis_]);
        break;
    }
  }

  [[nodiscard]] Area section(const Setup& d) const override {
    return d.board().board.width * d.board().board.thickness;
  }

  [[nodiscard]] Mass mass(const Setup& d) const override {
    const CrossBoard& b = d.board();
    const BoardPiece& p = b.board;
    double kg =
        p.length.value() * area_of(p) * (p.wood ? density(*p.wood, p.wet) : density(*p.metal));
    for (const Leg& l : b.legs) {
      double area = (l.fore_aft * l.athwart).value();
      if (l.wall) {
        area -= ((l.fore_aft - 2.0 * *l.wall) * (l.athwart - 2.0 * *l.wall)).value();
      }
      kg += area * l.length.value() * (l.wood ? density(*l.wood, p.wet) : density(*l.metal));
    }
    for (const Ledge* l : {&b.port, &b.starboard}) {
      if (l->kind != LedgeKind::angle || !l->metal) continue;
      const Length upright = l->fastening && l->fastening->foot_below.value() > 0
                                 ? l->fastening->foot_below
                                 : l->along;
      kg += ((l->along + upright - l->leg_thickness) * l->leg_thickness * l->fore_aft).value() *
            density(*l->metal);
      if (!l->fastening) continue;
      const LedgeFastening& f = *l->fastening;
      Length grip = l->leg_thickness + f.hull_thickness;
      if (f.backing) {
        grip += f.backing->thickness;
        kg += (f.backing->thickness * f.backing->fore_aft * f.backing->athwart).value() *
              density(f.backing->metal);
      }
      double each = bolt(f.thread, f.material, grip, true);
      if (f.washer) each += washer(f.washer->outside, f.washer->hole, density(f.material));
      kg += f.count * each;
    }
    for (const HoldDown& h : b.hold_downs) {
      const Ledge& l = b.ledge(h.place.side);
      const Length grip =
          p.thickness + h.standoff + (l.kind == LedgeKind::angle ? l.leg_thickness : Length{});
      double each = bolt(h.thread, h.material, grip, true);
      if (h.kind == HoldDownKind::u_bolt) {
        each = 2 * each + bolt(h.thread, h.material, p.width, false);
      }
      if (h.kind == HoldDownKind::eye_bolt) {
        // A ring three diameters across in place of the head (judgement).
        const double bar = h.thread.diameter.value();
        each += density(h.material) * 7.4 * bar * bar * bar;
      }
      if (h.kind != HoldDownKind::pin) {
        each += washer(h.washer, std::max(h.hole, h.thread.diameter), density(h.material));
      }
      kg += each;
    }
    for (const Gear& g : d.gear) {
      if (!g.foot) continue;
      Length grip = p.thickness;
      if (g.foot->plate) {
        const Backing& k = *g.foot->plate;
        grip += k.thickness;
        kg += (k.thickness * k.fore_aft * k.athwart).value() * density(k.metal);
      }
      double each = bolt(g.foot->thread, g.foot->material, grip, true);
      if (!g.foot->plate) each += washer(g.foot->washer, g.foot->hole, density(g.foot->material));
      kg += double(g.foot->holes.size()) * each;
    }
    return kg * si::kilogram;
  }

 protected:
  void set_inputs(const Choice& c, Setup& out) const override {
    const Stock& size = stock_[c[stocks_]];
    if (!size.drawn) {
      forget(out, {"mount.board.size", "mount.board.width", "mount.board.thickness",
                   "mount.board.form", "mount.board.wall", "mount.board.diameter"});
      note(out, "mount.board.size", "size", size.name);
    }
    if (!size.drawn || laid_[c[lays_]] != drawn_on_edge()) {
      forget(out, {"mount.board.laid"});
      note(out, "mount.board.laid", "how the size lies", laid_[c[lays_]] ? "on_edge" : "flat");
    }
    if (treated_as_wood_ && (own_woods_ || !drawn_.board.wood)) {
      forget(out, {"mount.board.wood", "mount.board.alloy"});
      const std::string& name = out.board().board.wood->name;
      note(out, "mount.board.wood", "wood and grade", name,
           name == lowest_wood ? Knowledge::assumed : Knowledge::tagged);
    } else if (treated_as_wood_) {
      // The same grade, in the row of another width.
      for (Input& i : out.inputs) {
        const std::string& name = out.board().board.wood->name;
        if (i.path == "mount.board.wood" && drawn_.board.wood->name != name) i.value = name;
      }
    }
    const LegPlan plan = plans_[c[legs_]];
    if (plan != LegPlan::as_drawn) forget(out, {"mount.legs."});
    if (plan == LegPlan::below_gear) {
      note(out, "mount.legs.foot_slope", "slope under the foot of a leg", "0 deg, level",
           Knowledge::assumed);
      note(out, "mount.legs.friction", "friction under the foot", "not measured",
           Knowledge::assumed);
    }
    if (angles_[c[ledge_]]) {
      for (const char* side : {"both", "port", "starboard"}) {
        const std::string at = "mount.ledges." + std::string(side) + ".";
        for (const char* key : {"angle", "along", "leg_thickness", "fastening.foot_below"}) {
          forget(out, {at + key});
        }
      }
      note(out, "mount.ledges.both.angle", "angle", angles_[c[ledge_]]->name);
    }
    if (threads_[c[bolts_]]) {
      forget(out, {"mount.hold_downs.thread", "mount.hold_downs.hole"});
      note(out, "mount.hold_downs.thread", "thread", threads_[c[bolts_]]->name);
    }
    if (washers_[c[washer_]].kind != WasherChoice::Kind::as_drawn) {
      forget(out, {"mount.hold_downs.washer", "mount.hold_downs.washer_diameter"});
      note(out, "mount.hold_downs.washer_diameter", "washer on the board",
           quantities_[washer_].options[c[washer_]]);
    }
    if (const auto& v = spacings_[c[spacing_]]) {
      forget(out, {"mount.hold_downs.forward"});
      note(out, "mount.hold_downs.forward", "hold-down forward of the middle line of the board",
           show(*v, s_.units));
    }
  }

 private:
  struct Piece {
    Wood wood;
    std::optional<WoodStrength> strength;
    std::string why_not;
  };

  [[nodiscard]] bool drawn_on_edge() const { return drawn_.board.thickness > drawn_.board.width; }

  static double area_of(const BoardPiece& p) {
    const double w = p.width.value();
    const double t = p.thickness.value();
    const double wall = p.wall.value();
    switch (p.form) {
      case BoardForm::plank:
        return w * t;
      case BoardForm::plank_with_strip:
        return w * t + (p.strip_thickness * p.strip_depth).value();
      case BoardForm::rectangular_tube:
        return w * t - (w - 2 * wall) * (t - 2 * wall);
      case BoardForm::round_tube:
        return 0.25 * std::numbers::pi * (w * w - (w - 2 * wall) * (w - 2 * wall));
      case BoardForm::channel_down:
      case BoardForm::channel_up:
        return wall * (w + 2 * (t - wall));
    }
    return 0;
  }

  // ---- What may be chosen

  void choose_stock() {
    const BoardPiece& b = drawn_.board;
    const bool planks = treated_as_wood_;
    market_stock_ = planks ? planks_for(s_, q_.market, library_, words_.market)
                           : all_metal(b.form, inch(), library_);
    if (!planks) words_.market = inch() ? "inch sizes" : "metric sizes";
    Stock as_drawn;
    as_drawn.drawn = true;
    as_drawn.thickness = std::min(b.width, b.thickness);
    as_drawn.width = std::max(b.width, b.thickness);
    as_drawn.wall = b.wall;
    as_drawn.name = show(as_drawn.width, s_.units) + " x " + show(as_drawn.thickness, s_.units);
    for (const Stock& k : market_stock_) {
      if (same_size(k, b)) as_drawn.name = k.name;
    }
    for (const Input& i : s_.inputs) {
      if (i.path == "mount.board.size") as_drawn.name = i.value;
    }
    const bool must_be_plank = planks && !b.wood;
    if (is_free("stock") || must_be_plank) {
      stock_ = market_stock_;
      sort_stably(stock_, [](const Stock& x, const Stock& y) {
        const auto size = [](const Stock& k) {
          return std::round((k.thickness * k.width).value() * 1e8);
        };
        return size(x) != size(y) ? size(x) < size(y) : x.wall < y.wall;
      });
      if (stock_.empty()) throw DomainError("no size of the stock is left to try");
    } else {
      stock_ = {as_drawn};
    }
    SizeQuantity q{"stock", planks ? "plank" : "tube or channel", {}, as_drawn.name};
    for (const Stock& k : stock_) q.options.push_back(k.name);
    stocks_ = add(q);
  }

  void choose_laid() {
    const BoardPiece& b = drawn_.board;
    const bool strip = b.form == BoardForm::plank_with_strip;
    const bool turns = treated_as_wood_ ? !strip : b.form == BoardForm::rectangular_tube;
    if (strip && !q_.flat) {
      throw DomainError("a plank with a strip below lies flat: nothing to try");
    }
    if (!turns) {
      laid_ = {drawn_on_edge()};
      cannot("laid", strip ? "on edge: not tried, a plank with a strip below lies flat"
                           : "this form lies as it is drawn");
    } else if (is_free("laid") || q_.flat != q_.on_edge) {
      if (q_.flat) laid_.push_back(false);
      if (q_.on_edge) laid_.push_back(true);
      if (laid_.empty()) throw DomainError("flat or on edge: one of them must be allowed");
    } else {
      laid_ = {drawn_on_edge()};
    }
    SizeQuantity q{"laid", "how it lies", {}, drawn_on_edge() ? "on edge" : "flat"};
    for (const bool edge : laid_) q.options.emplace_back(edge ? "on edge" : "flat");
    lays_ = add(q);
  }

  void choose_wood() {
    const std::optional<Wood>& own = drawn_.board.wood;
    SizeQuantity q{"wood", "wood", {}, own ? grade_of(*own) : ""};
    if (!treated_as_wood_) {
      cannot("wood", "the board is of metal; name a wood with --wood");
      q.label = "alloy";
      q.as_drawn = drawn_.board.metal->name;
      q.options = {q.as_drawn};
      wood_axis_ = add(q);
      return;
    }
    std::vector<std::string> names = q_.woods;
    own_woods_ = !names.empty();
    if (names.empty() && is_free("wood")) {
      own_woods_ = true;
      for (const Entry& e : library_.entries()) {
        if (e.kind != "wood_grade" || e.name == lowest_wood) continue;
        const Wood w = library_.wood(e.name);
        if (w.nds == own->nds) names.push_back(e.name);
      }
    }
    for (const std::string& name : names) {
      Wood w = library_.wood(name == unknown_wood ? lowest_wood : name);
      const bool twice = std::any_of(woods_.begin(), woods_.end(),
                                     [&](const Wood& o) { return grade_of(o) == grade_of(w); });
      if (!twice) woods_.push_back(std::move(w));
    }
    if (names.empty()) woods_.push_back(*own);
    for (const Wood& w : woods_) q.options.push_back(grade_of(w));
    wood_axis_ = add(q);
  }

  // The strengths of each size in each wood, once.
  void make_strengths() {
    for (const Stock& size : stock_) {
      for (const Wood& asked : woods_) {
        Piece p;
        p.wood = wood_for(asked, size.width, library_);
        try {
          p.strength = nominal_wood(
              p.wood, {size.thickness, size.width, drawn_.board.wet, incised_}, library_);
        } catch (const DomainError& e) {
          p.why_not = e.what();
        }
        pieces_.push_back(std::move(p));
      }
    }
  }

  void choose_legs() {
    const std::vector<Leg>& drawn = drawn_.legs;
    if (q_.leg_length) {
      if (!(q_.leg_length->value() > 0)) {
        throw DomainError("the length of the legs must be above zero");
      }
      leg_length_ = *q_.leg_length;
    } else {
      for (const Leg& l : drawn) leg_length_ = std::max(leg_length_, l.length);
    }
    if (treated_as_wood_) leg_ = leg_stock(market_stock_);
    if (leg_) words_.leg_size = leg_->name;
    const bool known = leg_length_.value() > 0 && leg_.has_value();
    const bool free = is_free("legs") || !q_.legs.empty();
    for (const LegPlan plan : {LegPlan::none, LegPlan::as_drawn, LegPlan::below_gear}) {
      const bool asked = std::find(q_.legs.begin(), q_.legs.end(), plan) != q_.legs.end();
      if (!q_.legs.empty() && !asked) continue;
      const std::string what(word_for(plan));
      if (!free && plan != (drawn.empty() ? LegPlan::none : LegPlan::as_drawn)) continue;
      if (plan == LegPlan::as_drawn && drawn.empty()) {
        if (asked) throw DomainError(what + ": the setup has no legs");
        continue;
      }
      if (plan == LegPlan::below_gear && !known) {
        const std::string why = !treated_as_wood_ ? "the board is of metal"
                                : !leg_           ? "no size of the stock does for a leg"
                                                  : "their length is not known; measure from "
                                                    "board to hull";
        if (asked) throw DomainError(what + ": " + why);
        words_.remarks.push_back(what + ": not tried, " + why);
        continue;
      }
      plans_.push_back(plan);
    }
    SizeQuantity q{"legs", "legs", {}, drawn.empty() ? "no legs" : "legs as drawn"};
    for (const LegPlan p : plans_) {
      std::string words(word_for(p));
      if (p == LegPlan::below_gear) words += " (" + leg_->name + ")";
      q.options.push_back(words);
    }
    legs_ = add(q);
    if (!leg_) return;
    for (const Wood& w : woods_) {
      const Wood own = wood_for(w, leg_->width, library_);
      Piece p{own, std::nullopt, ""};
      try {
        p.strength =
            nominal_wood(own, {leg_->thickness, leg_->width, drawn_.board.wet, incised_}, library_);
      } catch (const DomainError& e) {
        p.why_not = e.what();
      }
      leg_pieces_.push_back(p);
    }
  }

  void choose_ledge() {
    SizeQuantity q{"ledge", "angle of the ledges", {}, ""};
    const auto is_angle = [](const Ledge& l) { return l.kind == LedgeKind::angle && l.metal; };
    for (const Input& i : s_.inputs) {
      if (i.path.starts_with("mount.ledges.") && i.path.ends_with(".angle")) q.as_drawn = i.value;
    }
    angles_ = {std::nullopt};
    if (!is_angle(drawn_.port) || !is_angle(drawn_.starboard)) {
      cannot("ledge", "not all of the ledges are angles");
    } else if (is_free("ledge")) {
      angles_.clear();
      for (const Entry& e : library_.entries()) {
        if (e.kind != "angle" || about(e, "market") != (inch() ? "inch" : "metric")) continue;
        const auto a = length_of(e, "leg_a");
        const auto b = length_of(e, "leg_b");
        const auto t = length_of(e, "thickness");
        if (!a || !b || !t) continue;
        if (about(e, "sold") == "shelf") {
          shelf_ = true;  // a soft alloy
          continue;
        }
        angles_.push_back(AngleSize{e.name, *a, *b, *t});
        if (abs(*a - *b) > 0.1_mm) {
          angles_.push_back(AngleSize{e.name + ", " + show(*b, s_.units) + " level", *b, *a, *t});
        }
      }
      if (angles_.empty()) throw DomainError("ledge: no angle of the tables is left to try");
      if (shelf_) {
        words_.remarks.emplace_back(
            "shelf angle is a soft alloy: not tried; all angles are taken in the alloy as drawn");
      }
      words_.remarks.emplace_back("the bolts of the ledges stay where they are below the seat");
    }
    for (const auto& a : angles_) q.options.push_back(a ? a->name : "as drawn");
    ledge_ = add(q);
  }

  void set_ledge(CrossBoard& b, std::size_t option) const {
    const auto& a = angles_[option];
    if (!a) return;
    for (Ledge* l : {&b.port, &b.starboard}) {
      l->along = a->level;
      l->leg_thickness = a->thickness;
      if (l->fastening) l->fastening->foot_below = a->upright;
    }
  }

  void choose_bolts() {
    SizeQuantity q{"bolts", "thread of the hold-downs", {}, ""};
    const auto& all = drawn_.hold_downs;
    threads_ = {std::nullopt};
    if (!all.empty()) q.as_drawn = all.front().thread.name;
    const bool alike = std::all_of(all.begin(), all.end(), [&](const HoldDown& h) {
      return h.thread.name == all.front().thread.name;
    });
    if (all.empty()) {
      cannot("bolts", "there are no hold-downs");
    } else if (!alike) {
      cannot("bolts", "the hold-downs have threads of several sizes");
    } else if (is_free("bolts")) {
      threads_.clear();
      for (const Thread& t : threads(5.9_mm, 13.0_mm, all.front().thread)) {
        // An eye bolt needs a rating of its size.
        bool rated = true;
        std::vector<std::optional<EyeRating>> eyes;
        for (const HoldDown& h : all) {
          eyes.push_back(h.eye ? eye_of(*h.eye, h.thread, t) : std::nullopt);
          rated = rated && h.eye.has_value() == eyes.back().has_value();
        }
        if (!rated) continue;
        threads_.emplace_back(t);
        eyes_.push_back(std::move(eyes));
      }
    }
    for (const auto& t : threads_) q.options.push_back(t ? t->name : "as drawn");
    bolts_ = add(q);
  }

  // The same kind of eye in another size.
  [[nodiscard]] std::optional<EyeRating> eye_of(const EyeRating& drawn, const Thread& from,
                                                const Thread& to) const {
    if (from.name == to.name) return drawn;
    const std::size_t space = drawn.name.rfind(' ');
    if (space == std::string::npos) return std::nullopt;
    try {
      return library_.eye_bolt(drawn.name.substr(0, space), to);
    } catch (const UnknownName&) {
      return std::nullopt;
    } catch (const DomainError&) {
      return std::nullopt;
    }
  }

  void choose_washer() {
    SizeQuantity q{"washer", "washers on the board", {}, "as drawn"};
    using Kind = WasherChoice::Kind;
    const auto& all = drawn_.hold_downs;
    washers_ = {WasherChoice{}};
    if (!all.empty()) q.as_drawn = show(all.front().washer, s_.units);
    q.options = {"as drawn, " + q.as_drawn};
    const bool some = std::any_of(all.begin(), all.end(),
                                  [](const HoldDown& h) { return h.kind != HoldDownKind::pin; });
    if (!some) {
      cannot("washer", "there are no hold-downs with washers");
      q.options = {"none"};
    } else if (is_free("washer")) {
      const auto put = [&](WasherChoice w, const std::string& words) {
        washers_.push_back(w);
        q.options.push_back(words);
      };
      put({Kind::plain, {}}, "plain of the thread");
      put({Kind::wide, {}}, inch() ? "fender of the thread" : "penny of the thread");
      const std::vector<Length> cut = inch() ? std::vector<Length>{1.5_in, 2.0_in, 2.5_in}
                                             : std::vector<Length>{40.0_mm, 50.0_mm, 60.0_mm};
      for (const Length& d : cut) put({Kind::cut, d}, show(d, s_.units) + " plate");
    }
    washer_ = add(q);
  }

  void choose_spacing() {
    SizeQuantity q{"spacing", "hold-downs forward and aft", {}, "as drawn"};
    spacings_ = {std::nullopt};
    Length outer{};
    for (const HoldDown& h : drawn_.hold_downs) {
      outer = std::max<Length>(outer, abs(h.place.forward));
    }
    if (outer.value() > 0) q.as_drawn = show(outer, s_.units);
    if (!(outer.value() > 0)) {
      cannot("spacing", "the hold-downs stand on the middle line");
    } else if (is_free("spacing")) {
      Length widest{};
      for (const Stock& k : stock_) widest = std::max<Length>(widest, k.width);
      const Length step = inch() ? Length(0.5_in) : Length(10.0_mm);
      spacings_.clear();
      for (Length v = inch() ? Length(1.0_in) : Length(30.0_mm); v < 0.5 * widest - 12.0_mm;
           v += step) {
        spacings_.emplace_back(v);
      }
      const bool there = std::any_of(spacings_.begin(), spacings_.end(),
                                     [&](const auto& v) { return abs(*v - outer) < 0.1_mm; });
      if (!there) spacings_.emplace_back(outer);
      std::sort(spacings_.begin(), spacings_.end());
    }
    q.options.clear();
    for (const auto& v : spacings_) q.options.push_back(v ? show(*v, s_.units) : "as drawn");
    outer_ = outer;
    spacing_ = add(q);
  }

  void set_hold_downs(CrossBoard& b, const Choice& c) const {
    const auto& thread = threads_[c[bolts_]];
    const auto& spacing = spacings_[c[spacing_]];
    const WasherChoice& w = washers_[c[washer_]];
    for (std::size_t i = 0; i < b.hold_downs.size(); ++i) {
      HoldDown& h = b.hold_downs[i];
      if (thread && thread->name != h.thread.name) {
        if (h.eye) h.eye = eyes_[c[bolts_]][i];
        if (h.kind != HoldDownKind::u_bolt) {
          h.hole = thread->clearance + std::max<Length>(h.hole - h.thread.clearance, Length{});
        }
        h.thread = *thread;
      }
      if (spacing) h.place.forward *= double(*spacing / outer_);
      if (h.kind == HoldDownKind::pin) continue;
      if (w.kind == WasherChoice::Kind::cut) h.washer = w.diameter;
      if (w.kind == WasherChoice::Kind::plain || w.kind == WasherChoice::Kind::wide) {
        const bool wide = w.kind == WasherChoice::Kind::wide;
        const auto found = table_washer(h.thread, wide);
        if (!found) {
          throw DomainError(std::string("no ") + (wide ? "wide" : "plain") + " washer of " +
                            h.thread.name + " is in the tables");
        }
        h.washer = found->outside;
      }
    }
  }

  void choose_plates() {
    SizeQuantity under{"plate", "plate under the gear", {}, ""};
    plates_ = {std::nullopt};
    for (const Gear& g : s_.gear) {
      if (g.foot && g.foot->plate && under.as_drawn.empty()) {
        under.as_drawn = show(g.foot->plate->thickness, s_.units);
      }
    }
    if (under.as_drawn.empty()) {
      cannot("plate", "no gear has a plate under the board");
    } else if (is_free("plate")) {
      plates_.clear();
      for (const Length& t : bar_thicknesses()) plates_.emplace_back(t);
    }
    for (const auto& t : plates_) under.options.push_back(words_or_drawn(t, s_.units));
    plate_ = add(under);

    SizeQuantity hull{"behind", "plate behind the hull", {}, ""};
    behind_ = {std::nullopt};
    for (const Ledge* l : {&drawn_.port, &drawn_.starboard}) {
      if (l->fastening && l->fastening->backing && hull.as_drawn.empty()) {
        hull.as_drawn = show(l->fastening->backing->thickness, s_.units);
      }
    }
    if (hull.as_drawn.empty()) {
      cannot("behind", "no ledge has a plate behind the hull");
    } else if (is_free("behind")) {
      behind_.clear();
      for (const Length& t : bar_thicknesses()) behind_.emplace_back(t);
    }
    for (const auto& t : behind_) hull.options.push_back(words_or_drawn(t, s_.units));
    behind_axis_ = add(hull);
  }

  // ---- Legs below the gear

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

  [[nodiscard]] std::vector<Leg> legs_below(const CrossBoard& b, std::size_t wood) const {
    std::vector<Leg> out;
    const Piece& own = leg_pieces_[wood];
    if (!own.strength) throw DomainError(own.why_not);
    for (const Gear& g : s_.gear) {
      Leg l;
      l.name = "leg below " + g.name;
      l.length = leg_length_;
      l.fore_aft = leg_->thickness;
      l.athwart = leg_->width;
      l.wood = own.wood;
      l.wood_strength = own.strength;
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

  const CrossBoard drawn_;
  bool incised_ = false;
  bool treated_as_wood_ = true;
  bool own_woods_ = false;
  bool shelf_ = false;
  std::vector<Stock> market_stock_;
  std::optional<Stock> leg_;
  Length leg_length_{};
  Length outer_{};
  // Options, and their quantities.
  std::vector<Stock> stock_;
  std::vector<bool> laid_;
  std::vector<Wood> woods_;
  std::vector<Piece> pieces_;      ///< of each size and wood
  std::vector<Piece> leg_pieces_;  ///< of each wood
  std::vector<LegPlan> plans_;
  std::vector<std::optional<AngleSize>> angles_;
  std::vector<std::optional<Thread>> threads_;
  std::vector<std::vector<std::optional<EyeRating>>> eyes_;  ///< of each thread and hold-down
  std::vector<WasherChoice> washers_;
  std::vector<std::optional<Length>> spacings_, plates_, behind_;
  std::size_t stocks_ = 0, lays_ = 0, wood_axis_ = 0, legs_ = 0, ledge_ = 0, bolts_ = 0,
              washer_ = 0, spacing_ = 0, plate_ = 0, behind_axis_ = 0;
};

}  // namespace

std::unique_ptr<SizeSpace> board_space(const Setup& s, const SizeQuestion& q,
                                       const MaterialLibrary& library) {
  return std::make_unique<BoardSpace>(s, q, library);
}

}  // namespace thole::reading
