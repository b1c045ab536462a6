// Single changes to a board across a boat. Every draft is read once here, for room only: what would
// run into something else is left out (`lacks_room`), what the reader refuses is left to it.
//
// Judgement, common practice without a source:
//   - a plate washer cut from flat bar is at least half as thick as its bolt
//   - 2 D from a bolt to the end of a ledge of metal; 4 D to the edges of timber
//   - a nut under an angle keeps off its fillet, which is taken as thick as the angle
//   - the end of a board runs 100 mm past the bolts, or the 7 D of the tables where that is more
//   - the tip of a boom stays 150 mm beyond the ledge in one of its positions at least
//   - a new ledge keeps the hull where it is: with its upright leg outboard a wider seat reaches
//     further inboard, so that the clear width shrinks and all places outboard of it grow

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/section.hpp>

#include "core/stable_order.hpp"
#include "reading/change_kinds.hpp"
#include "reading/tree_edits.hpp"
#include "reading/variants.hpp"

namespace thole::reading {

using namespace literals;

namespace {

constexpr std::size_t most_drafts = 6;
/// As far as two sizes may differ to be the same size.
const Length same_size = 0.2_mm;

// ---- Words and figures
// ---------------------------------------------------------------------------

// To what a tape shows: 1 mm or 1/16 in.
Length step_of(const Drawn& d) { return d.inch() ? Length(1.0_in / 16.0) : Length(1.0_mm); }
Length rounded_down(const Drawn& d, Length v) {
  const double s = step_of(d).value();
  return std::floor(v.value() / s + 1e-6) * s * si::metre;
}
Length rounded_up(const Drawn& d, Length v) { return -rounded_down(d, -v); }
// The next full step of 50 mm or 2 in.
Length full_step(const Drawn& d, Length v) {
  const double s = d.inch() ? (2.0_in).value() : 0.05;
  return std::ceil(v.value() / s - 1e-6) * s * si::metre;
}

double ratio(Length a, Length b) { return (a / b).value(); }

Length value_of(const Entry& e, const char* property) {
  const auto it = e.values.find(property);
  return it == e.values.end() ? Length{} : Length::from_value(it->second.measure.si);
}

std::string about_of(const Entry& e, const char* key) {
  const auto it = e.about.find(key);
  return it == e.about.end() ? "" : it->second;
}

bool of_market(const Drawn& d, const Entry& e) {
  const std::string market = about_of(e, "market");
  return market.empty() || (market == "inch") == d.inch();
}

// ---- The text of a node, on one line
// -------------------------------------------------------------

std::string on_one_line(const Node& n) {
  switch (n.kind) {
    case Node::Kind::empty:
      return "";
    case Node::Kind::text:
      return reading::quoted(n.text);
    case Node::Kind::list:
    case Node::Kind::map:
      break;
  }
  const bool map = n.kind == Node::Kind::map;
  std::string out = map ? "{" : "[";
  for (std::size_t i = 0; i < n.items.size(); ++i) {
    if (i > 0) out += ", ";
    if (map) out += n.keys[i] + ": ";
    out += on_one_line(n.items[i]);
  }
  return out + (map ? "}" : "]");
}

// A map with some of its keys set anew.
std::string with_keys(const Node& map,
                      const std::vector<std::pair<std::string, std::string>>& keys) {
  std::string out;
  const auto add = [&](const std::string& key, const std::string& value) {
    out += (out.empty() ? "{" : ", ") + key + ": " + value;
  };
  std::set<std::string> set;
  for (std::size_t i = 0; i < map.items.size(); ++i) {
    const auto own = std::find_if(keys.begin(), keys.end(),
                                  [&](const auto& k) { return k.first == map.keys[i]; });
    if (own == keys.end()) {
      add(map.keys[i], on_one_line(map.items[i]));
    } else {
      set.insert(own->first);
      if (!own->second.empty()) add(own->first, own->second);
    }
  }
  for (const auto& [key, value] : keys) {
    if (set.count(key) == 0 && !value.empty()) add(key, value);
  }
  return out + "}";
}

// ---- Items of the file and what they became
// ------------------------------------------------------

// One item of a list; an item for both sides became two.
template <class T>
struct Item {
  std::string path;
  const Node* node = nullptr;
  std::vector<const T*> made;
  [[nodiscard]] const T& first() const { return *made.front(); }
};

template <class T, class SideOf>
std::vector<Item<T>> items_of(const Drawn& d, const std::string& list, const std::vector<T>& made,
                              SideOf side_of) {
  std::vector<Item<T>> out;
  const Node* n = node_at(d, list);
  if (n == nullptr || n->kind != Node::Kind::list) return out;
  std::size_t next = 0;
  for (std::size_t i = 0; i < n->items.size(); ++i) {
    Item<T> item;
    item.path = item_path(d, list, i);
    item.node = &n->items[i];
    if (item.path.empty()) return {};
    const std::size_t count = side_of(item.path) == "both" ? 2 : 1;
    for (std::size_t k = 0; k < count; ++k) {
      if (next >= made.size()) return {};
      item.made.push_back(&made[next++]);
    }
    out.push_back(std::move(item));
  }
  return next == made.size() ? out : std::vector<Item<T>>{};
}

std::vector<Item<HoldDown>> hold_downs_of(const Drawn& d) {
  return items_of(d, "mount.hold_downs", d.setup.board().hold_downs,
                  [&](const std::string& path) { return text_at(d, path + ".side"); });
}
std::vector<Item<Leg>> legs_of(const Drawn& d) {
  return items_of(d, "mount.legs", d.setup.board().legs,
                  [&](const std::string& path) { return text_at(d, path + ".side"); });
}
std::vector<Item<Gear>> gear_of(const Drawn& d) {
  return items_of(d, "gear", d.setup.gear,
                  [&](const std::string& path) { return text_at(d, path + ".on_board.side"); });
}

struct LedgeAt {
  std::string path;
  std::vector<Side> sides;
  const Ledge* ledge = nullptr;
  [[nodiscard]] int count() const { return int(sides.size()); }
};
std::vector<LedgeAt> ledges_of(const Drawn& d) {
  const CrossBoard& b = d.setup.board();
  if (node_at(d, "mount.ledges.both") != nullptr) {
    return {{"mount.ledges.both", {Side::port, Side::starboard}, &b.port}};
  }
  return {{"mount.ledges.port", {Side::port}, &b.port},
          {"mount.ledges.starboard", {Side::starboard}, &b.starboard}};
}

// ---- Room
// ----------------------------------------------------------------------------------------

// A rectangle on the board, along it and across it.
struct Patch {
  double x0 = 0, x1 = 0;  // from the port end
  double y0 = 0, y1 = 0;  // forward of the middle line
};

Patch patch(const CrossBoard& b, const BoardPlace& at, Length athwart, Length fore_aft) {
  const double x = b.station(at).value();
  const double y = at.forward.value();
  const double a = 0.5 * athwart.value();
  const double f = 0.5 * fore_aft.value();
  return {x - a, x + a, y - f, y + f};
}

// How far two rectangles lie on each other; apart: not above zero.
double overlap(const Patch& p, const Patch& q) {
  return std::min({p.x1 - q.x0, q.x1 - p.x0, p.y1 - q.y0, q.y1 - p.y0});
}

// How far a circle reaches into a rectangle; none: not above zero.
double reach(const CrossBoard& b, const BoardPlace& at, Length diameter, const Patch& p) {
  const double x = b.station(at).value();
  const double y = at.forward.value();
  const double dx = std::max({p.x0 - x, x - p.x1, 0.0});
  const double dy = std::max({p.y0 - y, y - p.y1, 0.0});
  if (dx > 0 || dy > 0) return 0.5 * diameter.value() - std::hypot(dx, dy);
  return 0.5 * diameter.value() + std::min({x - p.x0, p.x1 - x, y - p.y0, p.y1 - y});
}

// Everything that wants the same place on or under the board.
class Room {
 public:
  explicit Room(const Setup& s) : s_(s), b_(s.board()) {}

  struct Clash {
    std::string words;
    double depth = 0;  // metres
  };
  // By what is concerned, whatever it is called.
  std::map<std::string, Clash> clashes() {
    for (std::size_t i = 0; i < b_.hold_downs.size(); ++i) hold_down(i);
    for (std::size_t i = 0; i < b_.legs.size(); ++i) leg(i);
    for (std::size_t i = 0; i < s_.gear.size(); ++i) gear(i);
    if (b_.board.form == BoardForm::plank_with_strip) strip();
    return std::move(out_);
  }

 private:
  void clash(const std::string& key, double depth, const std::string& a, const std::string& b) {
    if (depth < 1e-5) return;
    Clash& c = out_[key];
    if (depth > c.depth) c = {a + " and " + b, depth};
  }
  static std::string key(const char* what, std::size_t i, const char* other, std::size_t j = 0) {
    return std::string(what) + std::to_string(i) + other + std::to_string(j);
  }

  [[nodiscard]] static Length nut(const Thread& t) { return 1.2 * t.head_across_flats; }
  [[nodiscard]] static Length wide(const HoldDown& h) {
    return h.kind == HoldDownKind::pin ? h.hole : std::max(h.washer, h.hole);
  }
  [[nodiscard]] static bool straddles(const HoldDown& h) { return h.kind == HoldDownKind::u_bolt; }

  // What of the foot stands on the board.
  [[nodiscard]] Patch foot_of(const Gear& g) const {
    Length x0{}, x1{}, y0{}, y1{};
    for (const PlanPoint& p : g.foot->outline) {
      x0 = std::min(x0, p.x);
      x1 = std::max(x1, p.x);
      y0 = std::min(y0, p.y);
      y1 = std::max(y1, p.y);
    }
    BoardPlace middle = g.place;
    middle.outboard += 0.5 * (y0 + y1);
    middle.forward += 0.5 * (x0 + x1);
    return patch(b_, middle, y1 - y0, x1 - x0);
  }
  [[nodiscard]] Patch plate_of(const Gear& g) const {
    return patch(b_, g.place, g.foot->plate->athwart, g.foot->plate->fore_aft);
  }
  [[nodiscard]] Patch seat_of(Side side) const {
    const Ledge& l = b_.ledge(side);
    return patch(b_, {side, 0.5 * l.along, Length{}}, l.along, l.fore_aft);
  }
  [[nodiscard]] Patch top_of(const Leg& l) const {
    return patch(b_, l.place, l.athwart, l.fore_aft);
  }
  static BoardPlace hole_of(const Gear& g, const PlanPoint& p) {
    BoardPlace at = g.place;
    at.forward += p.x;
    at.outboard += p.y;
    return at;
  }
  static Length below(const GearFoot& f) { return std::max(f.washer, nut(f.thread)); }

  void hold_down(std::size_t i) {
    const HoldDown& h = b_.hold_downs[i];
    if (straddles(h)) return;
    const double r = 0.5 * wide(h).value();
    const double x = b_.station(h.place).value();
    const std::string washer = "the washer of the " + h.name;
    const double to_edge = 0.5 * b_.board.width.value() - std::abs(h.place.forward.value());
    const double to_end = std::min(x, b_.board.length.value() - x);
    clash(key("hold", i, "edge"), r - std::min(to_edge, to_end), washer, "the edge of the board");
    for (std::size_t j = 0; j < i; ++j) {
      const HoldDown& o = b_.hold_downs[j];
      if (straddles(o)) continue;
      const double dx = x - b_.station(o.place).value();
      const double dy = (h.place.forward - o.place.forward).value();
      clash(key("hold", i, "hold", j), r + 0.5 * wide(o).value() - std::hypot(dx, dy), washer,
            "that of the " + o.name);
    }
    const Ledge& l = b_.ledge(h.place.side);
    const Length least = 1.5 * h.thread.diameter;
    const std::string hole = "the hole of the " + h.name;
    if (l.kind == LedgeKind::angle) {
      // Nut and fillet, and the metal round the hole.
      const Length root = l.root_outboard ? Length(l.along - h.place.outboard) : h.place.outboard;
      const Length needed = 2.0 * l.leg_thickness + 0.5 * nut(h.thread);
      clash(key("hold", i, "fillet"), (needed - root).value(), "the nut of the " + h.name,
            "the fillet of its ledge");
      clash(key("hold", i, "toe"), (least - (l.along - root)).value(), hole,
            "the edge of its ledge");
    }
    clash(key("hold", i, "end"), (least - (0.5 * l.fore_aft - abs(h.place.forward))).value(), hole,
          "the end of its ledge");
  }

  void leg(std::size_t i) {
    const Leg& l = b_.legs[i];
    if (l.beside) return;
    const Patch top = top_of(l);
    const std::string the = "the " + l.name;
    for (const Side side : {Side::port, Side::starboard}) {
      clash(key("leg", i, "seat", std::size_t(side)), overlap(top, seat_of(side)), the,
            "the ledge");
    }
    for (std::size_t j = 0; j < i; ++j) {
      if (b_.legs[j].beside) continue;
      clash(key("leg", i, "leg", j), overlap(top, top_of(b_.legs[j])), the,
            "the " + b_.legs[j].name);
    }
    for (std::size_t j = 0; j < b_.hold_downs.size(); ++j) {
      const HoldDown& h = b_.hold_downs[j];
      if (straddles(h)) continue;
      clash(key("leg", i, "hold", j), reach(b_, h.place, nut(h.thread), top), the,
            "the nut of the " + h.name);
    }
    for (std::size_t j = 0; j < s_.gear.size(); ++j) {
      const Gear& g = s_.gear[j];
      if (!g.foot) continue;
      const std::string what = "what is below the " + g.name;
      if (g.foot->plate) {
        clash(key("leg", i, "plate", j), overlap(top, plate_of(g)), the, what);
      }
      for (const PlanPoint& p : g.foot->holes) {
        clash(key("leg", i, "nuts", j), reach(b_, hole_of(g, p), below(*g.foot), top), the, what);
      }
    }
  }

  // The wire comes down inside the boat where no position takes the tip beyond the side.
  void tip(std::size_t i) {
    const Gear& g = s_.gear[i];
    if (!g.downrigger) return;
    const Downrigger& r = *g.downrigger;
    double across = -1;
    for (const Angle& a : r.boom_angles) across = std::max(across, std::sin(a.value()));
    double level = r.boom_raised.empty() ? 1 : 0;
    for (const Angle& a : r.boom_raised) level = std::max(level, std::cos(a.value()));
    const Length reach = level * across * r.boom_length;
    const Length beyond = g.place.outboard + reach - b_.ledge(g.place.side).along;
    clash(key("tip", i, "side"), (0.15_m - beyond).value(), "the wire of the " + g.name,
          "the side of the boat");
  }

  void gear(std::size_t i) {
    tip(i);
    const Gear& g = s_.gear[i];
    if (!g.foot) return;
    const Patch foot = foot_of(g);
    const std::string the = "the foot of the " + g.name;
    for (std::size_t j = 0; j < i; ++j) {
      if (!s_.gear[j].foot) continue;
      clash(key("gear", i, "gear", j), overlap(foot, foot_of(s_.gear[j])), the,
            "that of the " + s_.gear[j].name);
    }
    for (std::size_t j = 0; j < b_.hold_downs.size(); ++j) {
      const HoldDown& h = b_.hold_downs[j];
      if (straddles(h)) continue;
      clash(key("gear", i, "hold", j), reach(b_, h.place, wide(h), foot), the,
            "the washer of the " + h.name);
    }
    const double half = 0.5 * b_.board.width.value();
    clash(key("gear", i, "edge"),
          std::max({-foot.x0, foot.x1 - b_.board.length.value(), -half - foot.y0, foot.y1 - half}),
          the, "the edge of the board");
    for (const Side side : {Side::port, Side::starboard}) {
      const Patch seat = seat_of(side);
      const auto n = std::size_t(side);
      if (g.foot->plate) {
        clash(key("plate", i, "seat", n), overlap(plate_of(g), seat),
              "the plate below the " + g.name, "the ledge");
      }
      for (const PlanPoint& p : g.foot->holes) {
        clash(key("nuts", i, "seat", n), reach(b_, hole_of(g, p), below(*g.foot), seat),
              "the nuts of the " + g.name, "the ledge");
      }
    }
  }

  void strip() {
    const double half = 0.5 * b_.board.strip_thickness.value();
    const double at = b_.board.strip_forward.value();
    const Patch strip{0, b_.board.length.value(), at - half, at + half};
    for (std::size_t i = 0; i < b_.legs.size(); ++i) {
      const Leg& l = b_.legs[i];
      if (!l.beside)
        clash(key("strip", 0, "leg", i), overlap(strip, top_of(l)), "the strip", "the " + l.name);
    }
    for (std::size_t i = 0; i < b_.hold_downs.size(); ++i) {
      const HoldDown& h = b_.hold_downs[i];
      clash(key("strip", 0, "hold", i), reach(b_, h.place, nut(h.thread), strip), "the strip",
            "the " + h.name);
    }
    for (std::size_t i = 0; i < s_.gear.size(); ++i) {
      const Gear& g = s_.gear[i];
      // A ledge ends the strip: nothing stiffens the board outboard of it.
      clash(key("strip", 0, "ledge", i), g.place.outboard.value(), "the strip",
            "the ledge inboard of the " + g.name);
      if (!g.foot) continue;
      // A plate becomes two, and each must reach as far round its bolts as it counts.
      const Length round = g.foot->plate
                               ? Length(nut(g.foot->thread) + 4.0 * g.foot->plate->thickness)
                               : below(*g.foot);
      for (const PlanPoint& p : g.foot->holes) {
        clash(key("strip", 0, "gear", i), reach(b_, hole_of(g, p), round, strip), "the strip",
              "the bolts of the " + g.name);
      }
    }
  }

  const Setup& s_;
  const CrossBoard& b_;
  std::map<std::string, Clash> out_;
};

}  // namespace

std::string lacks_room(const Setup& drawn, const Setup& changed) {
  if (!drawn.on_board() || !changed.on_board()) return "";
  const auto before = Room(drawn).clashes();
  for (const auto& [key, c] : Room(changed).clashes()) {
    const auto was = before.find(key);
    // What was as narrow before is no reason.
    if (was == before.end() || c.depth > was->second.depth + 0.0005) {
      return c.words + " run into each other";
    }
  }
  return "";
}

namespace {

// ---- Making a draft
// ------------------------------------------------------------------------------

class Making {
 public:
  explicit Making(const Drawn& d, std::string words, Cost cost, int trips) : d_(d) {
    draft_.words = std::move(words);
    draft_.trouble.cost = cost;
    draft_.trouble.trips = trips;
  }

  // A new value of a new piece: what was known of the old one does not hold for it.
  void set(const std::string& path, const std::string& value) {
    std::erase_if(draft_.edits, [&](const Edit& e) { return e.path == path; });
    if (value == text_at(d_, path)) return;
    draft_.edits.push_back({path, value});
  }
  void set(const std::string& path, Length v) { set(path, written(d_, v)); }
  // Moved with what was measured.
  void shift(const std::string& path, Length v) { set(value_path(d_, path), written(d_, v)); }
  void drop(const std::string& path) {
    if (node_at(d_, path) != nullptr) draft_.edits.push_back({path, ""});
  }
  void note(const std::string& text) {
    auto& notes = draft_.notes;
    if (std::find(notes.begin(), notes.end(), text) == notes.end()) notes.push_back(text);
  }
  void unsay(std::string_view begin) {
    std::erase_if(draft_.notes, [&](const std::string& n) { return n.starts_with(begin); });
  }
  void words(std::string text) { draft_.words = std::move(text); }
  void holes(int n) { draft_.trouble.holes += n; }
  void cost(Cost c) { draft_.trouble.cost = c; }
  void weigh(const std::string& material, Volume piece, double by) {
    reading::weigh(draft_.trouble, d_.library, material, piece, by);
  }
  // As the assessment weighs it: oven-dry, with the water of its service.
  void weigh(const Wood& wood, bool wet, Volume piece, double by) {
    const double density = 1000 * wood.specific_gravity * (wet ? 1.20 : 1.10);
    draft_.trouble.added += by * density * si::kilogrammes_per_cubic_metre * piece;
  }
  void weigh(const BoardPiece& board, Volume piece, double by) {
    if (board.wood) {
      weigh(*board.wood, board.wet, piece, by);
    } else {
      weigh(board.metal->name, piece, by);
    }
  }
  [[nodiscard]] bool empty() const { return draft_.edits.empty(); }

  // The setup as it would be; nothing where the reader refuses it.
  [[nodiscard]] std::optional<Setup> read() const {
    Document changed = d_.document;
    changed.root = bare(changed.root);
    for (const Edit& e : draft_.edits) {
      if (e.value.empty()) {
        const Target t = find_path(changed.root, e.path);
        if (t.trouble.empty() && t.index < t.parent->items.size()) erase(*t.parent, t.index);
        continue;
      }
      try {
        const Document value = read_yaml(e.value, "");
        if (!put(changed.root, e.path, value.root, {}).empty()) return std::nullopt;
      } catch (const Error&) {
        return std::nullopt;
      }
    }
    try {
      return read_tree(changed, d_.library);
    } catch (const Error&) {
      return std::nullopt;
    }
  }

  // Adds it unless it is none, twice there, or has no room.
  void offer(std::vector<Draft>& out) const {
    if (draft_.edits.empty() || out.size() >= most_drafts) return;
    const bool twice = std::any_of(out.begin(), out.end(),
                                   [&](const Draft& o) { return o.edits == draft_.edits; });
    if (twice) return;
    const auto changed = read();
    if (changed && !lacks_room(d_.setup, *changed).empty()) return;
    out.push_back(draft_);
    Mass& added = out.back().trouble.added;
    if (std::abs(added.value()) < 1e-6) added = Mass{};
    if (changed) old_holes(*changed, out.back());
  }

 private:
  // A hole that runs into the one before it: wood can be plugged, a metal ledge is bought anew.
  void old_holes(const Setup& changed, Draft& draft) const {
    const auto anew = [&](const char* key) {
      return std::any_of(draft_.edits.begin(), draft_.edits.end(),
                         [&](const Edit& e) { return e.path.ends_with(key); });
    };
    if (anew(".angle")) return;
    const CrossBoard& was = d_.setup.board();
    const CrossBoard& now = changed.board();
    bool touches = false;
    bool metal = false;
    for (std::size_t i = 0; i < was.hold_downs.size() && i < now.hold_downs.size(); ++i) {
      const HoldDown& a = was.hold_downs[i];
      const HoldDown& b = now.hold_downs[i];
      if (a.kind == HoldDownKind::u_bolt) continue;
      const double by = std::hypot((a.place.forward - b.place.forward).value(),
                                   (a.place.outboard - b.place.outboard).value());
      const Length room = 0.5 * (a.hole + b.hole) + 0.5 * b.thread.diameter;
      if (by < 1e-4 || by > room.value()) continue;
      touches = true;
      metal = metal || now.ledge(b.place.side).kind == LedgeKind::angle;
    }
    if (!touches) return;
    std::erase_if(draft.notes, [](const std::string& n) {
      return n.starts_with("the old holes") || n.starts_with("new holes in board and ledge") ||
             n.starts_with("drill the holes out");
    });
    draft.notes.emplace_back(
        metal ? "the new holes run into the old ones: plug those in the board with glued dowels, "
                "and take a new piece of the same angle"
              : "the new holes run into the old ones: plug those with glued dowels first");
    if (!metal) return;
    draft.trouble.cost = std::max(draft.trouble.cost, Cost::store);
    draft.trouble.trips = 1;
  }

  const Drawn& d_;
  Draft draft_;
};

void offer(const Making& m, std::vector<Draft>& own) { m.offer(own); }

// ---- Threads, washers and plates
// ------------------------------------------------------------------

std::vector<Thread> threads_above(const Drawn& d, const Thread& than, std::size_t most) {
  const Entry* own = d.library.find("thread", than.name);
  if (own == nullptr) return {};
  const std::string series = about_of(*own, "series") == "UNF" ? "UNC" : about_of(*own, "series");
  std::vector<Thread> out;
  for (const Entry& e : d.library.entries()) {
    if (e.kind != "thread" || about_of(e, "series") != series) continue;
    const bool sold = e.values.count("clearance_normal") > 0 &&
                      e.values.count("head_across_flats") > 0 &&
                      value_of(e, "diameter") > than.diameter + same_size;
    if (sold) out.push_back(d.library.thread(e.name));
  }
  std::sort(out.begin(), out.end(),
            [](const Thread& a, const Thread& b) { return a.diameter < b.diameter; });
  if (out.size() > most) out.resize(most);
  return out;
}

// What lies under a head on wood: a washer of the tables, or a square of flat bar.
struct UnderHead {
  std::string washer;  // name; "" for a plate
  Length width{};
  Length thickness{};
};

// Washers for a thread, and squares of flat bar, wider than `than`, narrowest first. They count up
// to 4 D, so that the last is the first as wide as that.
std::vector<UnderHead> under_heads(const Drawn& d, const Thread& thread, Length than) {
  std::vector<UnderHead> out;
  const Length most = 4.0 * thread.diameter;
  if (than > most - same_size) return out;
  const std::string size = thread.name.substr(0, thread.name.find('-'));
  for (const Entry& e : d.library.entries()) {
    const bool own = e.kind == "washer" && e.name.starts_with(size + " ");
    if (!own || value_of(e, "hole") < thread.diameter) continue;
    const Length outside = value_of(e, "outside");
    if (outside > than + same_size) out.push_back({e.name, outside, value_of(e, "thickness")});
  }
  for (const Length& thickness : stock_sizes(d, "flat_bar", "thickness")) {
    if (thickness < 0.5 * thread.diameter - 0.1_mm) continue;
    for (const Length& width : stock_sizes(d, "flat_bar", "width")) {
      if (width < than + same_size || width < 2.0 * thread.diameter) continue;
      const bool washer_does = std::any_of(out.begin(), out.end(), [&](const UnderHead& o) {
        return !o.washer.empty() && o.width > width - same_size;
      });
      if (!washer_does) out.push_back({"", width, thickness});
      if (width > most - same_size) break;
    }
    break;
  }
  std::sort(out.begin(), out.end(),
            [](const UnderHead& a, const UnderHead& b) { return a.width < b.width; });
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (out[i].width > most - same_size) {
      out.resize(i + 1);
      break;
    }
  }
  return out;
}

std::string in_words(const Drawn& d, const UnderHead& u) {
  return u.washer.empty() ? "squares of " + written(d, u.width) + " cut from flat bar of " +
                                written(d, u.thickness)
                          : u.washer + " washers";
}

void put_under(const Drawn& d, Making& m, const std::string& path, const UnderHead& u) {
  if (u.washer.empty()) {
    m.drop(path + ".washer");
    m.set(path + ".washer_diameter", written(d, u.width));
    m.note("a square counts as a washer as wide as its side, at most 4 times the bolt");
  } else {
    m.drop(path + ".washer_diameter");
    m.set(path + ".washer", reading::quoted(u.washer));
  }
}

constexpr const char* bar_metal = "6061-T6 extrusion";

void weigh_under(Making& m, const UnderHead& u, std::size_t count) {
  if (u.washer.empty()) {
    m.weigh(bar_metal, double(count) * u.width * u.width * u.thickness, 1);
  }
}

// ---- Hold-downs
// ----------------------------------------------------------------------------------

bool straddles(const HoldDown& h) { return h.kind == HoldDownKind::u_bolt; }
bool pulls(const HoldDown& h) { return h.kind != HoldDownKind::pin; }

// How far from the middle line a hold-down may go: 4 D to the edges of wood, 2 D in metal; 1.5 D is
// the least that is left where it is.
Length farthest(const Drawn& d, const HoldDown& h, const Thread& thread, Length width,
                double metal = 2.0) {
  const CrossBoard& b = d.setup.board();
  const Ledge& l = b.ledge(h.place.side);
  const Length in_board = 0.5 * width - (b.board.wood ? 4.0 : metal) * thread.diameter;
  const Length in_ledge =
      0.5 * l.fore_aft - (l.kind == LedgeKind::gunwale_top ? 0.0 : metal) * thread.diameter;
  // A gunwale goes on beyond the board.
  return rounded_down(d,
                      l.kind == LedgeKind::gunwale_top ? in_board : std::min(in_board, in_ledge));
}

// New holes of an item in the boat itself.
int holes_in_boat(const Drawn& d, const Item<HoldDown>& item) {
  int n = 0;
  for (const HoldDown* h : item.made) {
    if (d.setup.board().ledge(h->place.side).kind == LedgeKind::gunwale_top) ++n;
  }
  return n;
}

void move_forward(const Drawn& d, Making& m, const Item<HoldDown>& item, Length to) {
  const Length from = item.first().place.forward;
  if (abs(abs(from) - to) < 0.5 * step_of(d)) return;
  m.set(item.path + ".forward", from.value() < 0 ? Length(-to) : to);
  m.holes(holes_in_boat(d, item));
  m.note("the old holes in the ledge stay beside the new ones: keep two bolt widths between them");
}

// Where the new heads find no room beside the gear, they go toward the inner edge of the ledges,
// to 1.5 D of it in metal.
void offer_with_room(const Drawn& d, Making& m, const std::string& words, const Thread& largest,
                     std::vector<Draft>& own) {
  const auto items = hold_downs_of(d);
  const Length step = step_of(d);
  for (int n = 0; n < 200; ++n) {
    Making tried = m;
    Length to{};
    for (const auto& item : items) {
      const HoldDown& h = item.first();
      if (n == 0 || straddles(h)) continue;
      const bool timber = d.setup.board().ledge(h.place.side).kind == LedgeKind::gunwale_top;
      to = rounded_down(d, h.place.outboard) - double(n) * step;
      if (to < (timber ? 4.0 : 1.5) * std::max(h.thread.diameter, largest.diameter)) return;
      tried.set(item.path + ".outboard", to);
      tried.holes(holes_in_boat(d, item));
    }
    if (n > 0) {
      tried.words(words + ", " + written(d, to) + " from the inner edge of the ledge");
      tried.note("new holes in board and ledge: keep two bolt widths from the old ones");
    }
    const auto changed = tried.read();
    if (changed && !lacks_room(d.setup, *changed).empty()) continue;
    tried.offer(own);
    return;
  }
}

void wider_washers(const Drawn& d, std::vector<Draft>& out) {
  const auto items = hold_downs_of(d);
  std::vector<std::vector<UnderHead>> sizes;
  std::size_t most = 0;
  for (const auto& item : items) {
    const HoldDown& h = item.first();
    sizes.push_back(pulls(h) && !straddles(h) && d.setup.board().board.wood
                        ? under_heads(d, h.thread, h.washer)
                        : std::vector<UnderHead>{});
    most = std::max(most, sizes.back().size());
  }
  for (std::size_t k = 0; k < most; ++k) {
    Making m(d, "", Cost::coins, 1);
    std::string words;
    for (std::size_t i = 0; i < items.size(); ++i) {
      if (sizes[i].empty()) continue;
      const UnderHead& u = sizes[i][std::min(k, sizes[i].size() - 1)];
      put_under(d, m, items[i].path, u);
      weigh_under(m, u, items[i].made.size());
      const std::string own = in_words(d, u);
      if (words.find(own) == std::string::npos) words += (words.empty() ? "" : ", ") + own;
    }
    words += " under the heads of the hold-downs";
    m.words(words);
    if (!m.empty()) offer_with_room(d, m, words, items.front().first().thread, out);
  }
}

// The eye bolt of the same kind in another thread; "" where there is none.
std::string eye_in(const Drawn& d, const std::string& path, const HoldDown& h, const Thread& t) {
  std::string name = text_at(d, path + ".eye");
  for (const std::string& own : {h.thread.name, h.thread.name.substr(0, h.thread.name.find('-'))}) {
    if (name.ends_with(" " + own)) name = name.substr(0, name.size() - own.size() - 1);
  }
  try {
    const EyeRating r = d.library.eye_bolt(name, t);
    return r.rated ? name : "";
  } catch (const Error&) {
    return "";
  }
}

// One thread with what goes under its heads, as eye bolts or as plain bolts: its words; "" where
// there is none.
std::string rethread(const Drawn& d, Making& m, const Thread* thread, bool plates, bool as_bolts) {
  const bool wood = d.setup.board().board.wood.has_value();
  if (plates && !wood) return "";
  std::string washers;
  std::string what;
  std::string size;
  for (const auto& item : hold_downs_of(d)) {
    const HoldDown& h = item.first();
    if (!pulls(h) || straddles(h)) continue;
    const bool eye = h.kind == HoldDownKind::eye_bolt;
    if (as_bolts && !eye) continue;
    const Thread& t = thread != nullptr ? *thread : h.thread;
    if (thread != nullptr && t.diameter < h.thread.diameter + same_size) continue;
    if (eye && !as_bolts) {
      const std::string name = eye_in(d, item.path, h, t);
      if (name.empty()) continue;
      m.set(item.path + ".eye", reading::quoted(name));
    }
    if (as_bolts) {
      m.set(item.path + ".kind", "bolt");
      m.drop(item.path + ".eye");
      if (node_at(d, item.path + ".material") == nullptr) {
        m.set(item.path + ".material", reading::quoted("stainless, unmarked"));
      }
    }
    what = as_bolts ? "bolts with nuts" : eye ? "eye bolts" : "bolts";
    size = t.name;
    if (thread != nullptr) {
      m.set(item.path + ".thread", reading::quoted(t.name));
      m.drop(item.path + ".hole");
      move_forward(
          d, m, item,
          std::min(abs(h.place.forward), farthest(d, h, t, d.setup.board().board.width, 1.5)));
      m.note("drill the holes out to " + written(d, t.clearance));
    }
    const Length least = 2.0 * t.diameter - same_size;
    const Length than = std::max(wood ? Length(h.washer - 2.0 * same_size) : Length{}, least);
    std::vector<UnderHead> sizes = under_heads(d, t, std::min(than, Length(3.9 * t.diameter)));
    std::erase_if(sizes, [&](const UnderHead& u) { return u.washer.empty() != plates; });
    if (sizes.empty()) {
      // Nothing so wide: what lies there now, when the bolt goes through it.
      if (plates || thread != nullptr) return "";
      continue;
    }
    // Metal asks for no wide one.
    const UnderHead* under = &sizes.back();
    for (const UnderHead& u : sizes) {
      if (!wood && u.width < under->width && u.width > 2.4 * t.diameter) under = &u;
    }
    put_under(d, m, item.path, *under);
    weigh_under(m, *under, item.made.size());
    washers = in_words(d, *under);
  }
  if (what.empty()) return "";
  return size + " " + what + (as_bolts ? " in place of the eye bolts" : " as hold-downs") +
         (washers.empty() ? "" : ", " + washers);
}

void other_hold_downs(const Drawn& d, std::vector<Draft>& own, const Thread* thread, bool plates,
                      bool as_bolts) {
  Making m(d, "", Cost::coins, 1);
  const std::string words = rethread(d, m, thread, plates, as_bolts);
  if (words.empty() || m.empty()) return;
  m.words(words);
  offer_with_room(d, m, words,
                  thread != nullptr ? *thread : hold_downs_of(d).front().first().thread, own);
}

// Eyes far within their rating are as good as bolts, and no others are then worth the trip.
bool eyes_do(const Drawn& d) {
  bool any = false;
  for (const HoldDown& h : d.setup.board().hold_downs) {
    if (h.kind == HoldDownKind::eye_bolt && (!h.eye || !h.eye->rated)) return false;
    any = any || h.kind == HoldDownKind::eye_bolt;
  }
  for (const CheckResult& c : d.assessment.checks) {
    if (c.mode == "eye-bolt-rating" &&
        (c.standing != Standing::applies || c.factor < 1.5 * c.needed)) {
      return false;
    }
  }
  return any;
}

bool has_eyes(const Drawn& d) {
  const auto& all = d.setup.board().hold_downs;
  return std::any_of(all.begin(), all.end(),
                     [](const HoldDown& h) { return h.kind == HoldDownKind::eye_bolt; });
}

void larger_hold_downs(const Drawn& d, std::vector<Draft>& own) {
  const auto items = hold_downs_of(d);
  if (items.empty() || (has_eyes(d) && !eyes_do(d))) return;
  for (const Thread& t : threads_above(d, items.front().first().thread, 2)) {
    other_hold_downs(d, own, &t, false, false);
    other_hold_downs(d, own, &t, true, false);
  }
}

void bolts_for_eyes(const Drawn& d, std::vector<Draft>& own) {
  const auto items = hold_downs_of(d);
  const auto eye = std::find_if(items.begin(), items.end(), [](const auto& i) {
    return i.first().kind == HoldDownKind::eye_bolt;
  });
  if (eye == items.end() || eyes_do(d)) return;
  other_hold_downs(d, own, nullptr, false, true);
  other_hold_downs(d, own, nullptr, true, true);
  for (const Thread& t : threads_above(d, eye->first().thread, 2)) {
    other_hold_downs(d, own, &t, false, true);
    other_hold_downs(d, own, &t, true, true);
  }
}

// Every pair of hold-downs to the farthest places; `in`: those too near an edge come nearer.
void spread(const Drawn& d, std::vector<Draft>& own, bool in) {
  Making m(d, "", Cost::nothing, 0);
  Length to_show{};
  for (const auto& item : hold_downs_of(d)) {
    const HoldDown& h = item.first();
    if (straddles(h) || abs(h.place.forward) < 1.0_mm) continue;
    Length to = farthest(d, h, h.thread, d.setup.board().board.width);
    for (const HoldDown* o : item.made) {
      to = std::min(to, farthest(d, *o, o->thread, d.setup.board().board.width));
    }
    if (to < 1.5 * h.thread.diameter) continue;
    const Length by = to - abs(h.place.forward);
    if (in ? by > -step_of(d) : by < 2.0 * step_of(d)) continue;
    move_forward(d, m, item, to);
    to_show = std::max(to_show, to);
  }
  m.words(
      std::string(in ? "hold-downs in from the edges of the board" : "hold-downs farther apart") +
      ", " + written(d, to_show) + " from its middle line");
  offer(m, own);
}
void hold_downs_apart(const Drawn& d, std::vector<Draft>& own) { spread(d, own, false); }
void hold_downs_in(const Drawn& d, std::vector<Draft>& own) { spread(d, own, true); }

void hold_downs_across(const Drawn& d, std::vector<Draft>& own) {
  const CrossBoard& b = d.setup.board();
  for (const bool inner : {true, false}) {
    Making m(d, "", Cost::nothing, 0);
    Length shown{};
    for (const auto& item : hold_downs_of(d)) {
      const HoldDown& h = item.first();
      if (straddles(h)) continue;
      Length least{};
      Length most = 10.0_m;
      for (const HoldDown* o : item.made) {
        const Ledge& l = b.ledge(o->place.side);
        const Length metal = 2.0 * o->thread.diameter;
        const Length wood = 4.0 * o->thread.diameter;
        Length edge = l.kind == LedgeKind::gunwale_top ? wood : metal;
        const Length root = 2.0 * l.leg_thickness + 0.6 * o->thread.head_across_flats;
        const bool angle = l.kind == LedgeKind::angle;
        least = std::max(least, angle && !l.root_outboard ? root : edge);
        most = std::min(most, Length(l.along - (angle && l.root_outboard ? root : edge)));
      }
      if (most < least) continue;
      const Length to = inner ? rounded_up(d, least) : rounded_down(d, most);
      const Length by = to - h.place.outboard;
      if (inner ? by > -5.0_mm : by < 5.0_mm) continue;
      m.set(item.path + ".outboard", to);
      m.holes(holes_in_boat(d, item));
      shown = to;
    }
    m.note("new holes in board and ledge: keep two bolt widths from the old ones");
    m.words("hold-downs nearer to the " + std::string(inner ? "inner" : "outer") +
            " edge of the ledges, " + written(d, shown) + " from the inner one");
    offer(m, own);
  }
}

// Two more on each side, between the outer ones.
void hold_downs_between(const Drawn& d, std::vector<Draft>& own) {
  const auto items = hold_downs_of(d);
  if (items.empty() || d.setup.board().hold_downs.size() > 8) return;
  Making m(d, "", Cost::coins, 1);
  std::size_t next = items.size();
  int added = 0;
  for (const auto& item : items) {
    const HoldDown& h = item.first();
    if (!pulls(h) || straddles(h) || abs(h.place.forward) < 1.0_mm) return;
    const Length apart = std::max(Length(4.0 * h.thread.diameter), h.washer);
    const Length to = rounded_down(d, abs(h.place.forward) - apart);
    if (2.0 * to < apart) return;
    m.set("mount.hold_downs." + std::to_string(next++),
          with_keys(*item.node,
                    {{"forward", written(d, h.place.forward.value() < 0 ? Length(-to) : to)},
                     {"name", ""}}));
    m.holes(holes_in_boat(d, item));
    added += int(item.made.size());
  }
  m.words(std::to_string(added) + " more hold-downs like those there, between them");
  offer(m, own);
}

// A second row of the same, as far along the seat as the distances allow.
void more_hold_downs(const Drawn& d, std::vector<Draft>& own) {
  hold_downs_between(d, own);
  const CrossBoard& b = d.setup.board();
  const auto items = hold_downs_of(d);
  if (items.empty() || b.hold_downs.size() > 8) return;
  Making m(d, "", Cost::coins, 1);
  std::size_t next = items.size();
  int added = 0;
  for (const auto& item : items) {
    const HoldDown& h = item.first();
    if (!pulls(h) || straddles(h)) return;
    const Ledge& l = b.ledge(h.place.side);
    const bool angle = l.kind == LedgeKind::angle;
    const Length D = h.thread.diameter;
    const Length root = 2.0 * l.leg_thickness + 0.6 * h.thread.head_across_flats;
    const Length edge = l.kind == LedgeKind::gunwale_top ? Length(4.0 * D) : Length(2.0 * D);
    const Length least = rounded_up(d, angle && !l.root_outboard ? root : edge);
    const Length most = rounded_down(d, l.along - (angle && l.root_outboard ? root : edge));
    const Length to = h.place.outboard - least > most - h.place.outboard ? least : most;
    if (abs(to - h.place.outboard) < std::max(Length(4.0 * D), h.washer)) return;
    m.set("mount.hold_downs." + std::to_string(next++),
          with_keys(*item.node, {{"outboard", written(d, to)}, {"name", ""}}));
    m.holes(holes_in_boat(d, item));
    added += int(item.made.size());
  }
  m.words("a second row of hold-downs, " + std::to_string(added) + " more like those there");
  offer(m, own);
}

// ---- Ledges
// --------------------------------------------------------------------------------------

struct AngleStock {
  std::string name;
  Length level{};
  Length upright{};
  Length thickness{};
  bool merchant = false;
};

std::vector<AngleStock> angles(const Drawn& d) {
  std::vector<AngleStock> out;
  for (const Entry& e : d.library.entries()) {
    if (e.kind != "angle" || !of_market(d, e)) continue;
    out.push_back({e.name, value_of(e, "leg_a"), value_of(e, "leg_b"), value_of(e, "thickness"),
                   about_of(e, "sold").find("merchant") != std::string::npos});
  }
  return out;
}

bool same(Length a, Length b) { return abs(a - b) < 0.5_mm; }

// The angle of the tables that a ledge is made of.
std::optional<AngleStock> own_angle(const Drawn& d, const LedgeAt& at) {
  const std::string name = text_at(d, at.path + ".angle");
  const Entry* entry = name.empty() ? nullptr : d.library.find("angle", name);
  for (AngleStock a : angles(d)) {
    if (entry != nullptr) {
      if (a.name != entry->name) continue;
    } else if (!(same(a.thickness, at.ledge->leg_thickness) &&
                 (same(a.level, at.ledge->along) || same(a.upright, at.ledge->along)))) {
      continue;
    }
    if (!same(a.level, at.ledge->along)) std::swap(a.level, a.upright);
    return a;
  }
  return std::nullopt;
}

Length upright_of(const Ledge& l, const std::optional<AngleStock>& own) {
  if (own) return own->upright;
  return l.fastening ? l.fastening->foot_below : l.along;
}

// The places of a side when its seat reaches further inboard by `by`.
void shift_places(const Drawn& d, Making& m, Length port, Length starboard) {
  if (port.value() == 0 && starboard.value() == 0) return;
  const CrossBoard& b = d.setup.board();
  m.shift("mount.clear_width", b.clear_width - port - starboard);
  if (node_at(d, "mount.port_overhang") != nullptr) {
    m.shift("mount.port_overhang", b.port_overhang + port);
  }
  const auto by = [&](Side side) { return side == Side::port ? port : starboard; };
  for (const auto& item : hold_downs_of(d)) {
    const BoardPlace& p = item.first().place;
    m.shift(item.path + ".outboard", p.outboard + by(p.side));
  }
  for (const auto& item : gear_of(d)) {
    const BoardPlace& p = item.first().place;
    m.shift(item.path + ".on_board.outboard", p.outboard + by(p.side));
  }
  for (const auto& item : legs_of(d)) {
    const Leg& l = item.first();
    // Where it would stand below the seat it gives way inboard.
    const Length clear = -rounded_up(d, 0.5 * l.athwart);
    const Length to = l.place.outboard + by(l.place.side);
    const bool below = !l.beside && l.place.outboard <= clear && to > clear;
    m.shift(item.path + ".outboard", below ? clear : to);
  }
}

// Both ledges of another angle; false where a ledge is none, or is one already.
bool other_angles(const Drawn& d, Making& m,
                  const std::function<std::optional<AngleStock>(const LedgeAt&)>& pick,
                  std::string& names) {
  Length by[2]{};
  bool any = false;
  for (const LedgeAt& at : ledges_of(d)) {
    const Ledge& l = *at.ledge;
    if (l.kind != LedgeKind::angle) continue;
    const auto a = pick(at);
    if (!a) continue;
    any = true;
    const auto own = own_angle(d, at);
    m.set(at.path + ".angle", reading::quoted(a->name));
    m.drop(at.path + ".leg_thickness");
    if (same(a->level, a->upright)) {
      m.drop(at.path + ".along");
    } else {
      m.set(at.path + ".along", a->level);
    }
    const double n = at.count();
    const std::string metal = l.metal ? l.metal->name : "";
    const Length old_upright = upright_of(l, own);
    m.weigh(metal, l.fore_aft * (a->level + a->upright - a->thickness) * a->thickness, n);
    m.weigh(metal, l.fore_aft * (l.along + old_upright - l.leg_thickness) * l.leg_thickness, -n);
    if (l.fastening) {
      const LedgeFastening& f = *l.fastening;
      m.drop(at.path + ".fastening.foot_below");
      const Length D = f.thread.diameter;
      // The head keeps off the fillet, the metal goes on below the bolts.
      const Length least = 2.0 * a->thickness + 0.6 * f.thread.head_across_flats;
      const Length most = a->upright - 1.5 * D;
      if (f.below_seat <
              std::min(least, Length(2.0 * l.leg_thickness + 0.6 * f.thread.head_across_flats)) ||
          f.below_seat > most) {
        const Length to = rounded_up(d, least);
        if (to > most) return false;
        m.set(at.path + ".fastening.below_seat", to);
        m.holes(f.count * at.count());
      }
      if (a->upright > old_upright + 1.0_mm) {
        m.note("the upright leg needs " + written(d, a->upright) + " of hull below the seat");
      }
    } else {
      m.note("how it is held to the hull is not described: not checked");
    }
    if (l.root_outboard) {
      for (const Side side : at.sides) by[int(side)] = a->level - l.along;
    }
    if (names.find(a->name) == std::string::npos) names += (names.empty() ? "" : ", ") + a->name;
  }
  if (!any) return false;
  if (!same(by[0], by[1])) {
    // What is written once for both sides cannot move by two amounts.
    for (const auto& item : hold_downs_of(d)) {
      if (item.made.size() > 1) return false;
    }
    for (const auto& item : legs_of(d)) {
      if (item.made.size() > 1) return false;
    }
    for (const auto& item : gear_of(d)) {
      if (item.made.size() > 1) return false;
    }
  }
  shift_places(d, m, by[0], by[1]);
  if (by[0].value() != 0 || by[1].value() != 0) {
    m.note(
        "hull, board, gear and bolts stay where they are: the seats reach further inboard, so "
        "the clear width is smaller and the places count from the new inner edge");
  }
  return true;
}

// Up to `most` thicknesses of the same legs.
void thicker_angle(const Drawn& d, std::vector<Draft>& own) {
  for (std::size_t k = 0; k < 3; ++k) {
    std::string names;
    Making m(d, "", Cost::store, 1);
    const auto pick = [&](const LedgeAt& at) -> std::optional<AngleStock> {
      const auto is = own_angle(d, at);
      if (!is) return std::nullopt;
      std::vector<AngleStock> fit;
      for (AngleStock a : angles(d)) {
        if (!same(a.level, is->level)) std::swap(a.level, a.upright);
        if (same(a.level, is->level) && same(a.upright, is->upright) &&
            a.thickness > is->thickness + same_size) {
          fit.push_back(a);
        }
      }
      std::sort(fit.begin(), fit.end(),
                [](const AngleStock& a, const AngleStock& b) { return a.thickness < b.thickness; });
      return k < fit.size() ? std::optional(fit[k]) : std::nullopt;
    };
    if (!other_angles(d, m, pick, names)) break;
    m.words("thicker angle: " + names);
    offer(m, own);
  }
}

// Ledges that are new are drilled anew: with the largest hold-downs beside them, near the new inner
// edge, where there is room for their heads.
void rebolted(const Drawn& d, Making m, const std::string& angle, std::vector<Draft>& own) {
  const auto items = hold_downs_of(d);
  if (items.empty() || !d.setup.board().board.wood) return;
  const auto larger = threads_above(d, items.front().first().thread, 2);
  if (larger.empty()) return;
  const Thread& t = larger.back();
  const std::string bolts = rethread(d, m, &t, true, has_eyes(d) && !eyes_do(d));
  if (bolts.empty()) return;
  const Length to = rounded_up(d, 2.0 * t.diameter);
  for (const auto& item : items) {
    if (!straddles(item.first())) m.set(item.path + ".outboard", to);
  }
  m.words(angle + ", with " + bolts + ", " + written(d, to) + " from the inner edge");
  m.unsay("drill the holes out");
  m.unsay("the old holes in the ledge");
  m.note("new holes in the board: keep four bolt widths from the old ones");
  offer(m, own);
}

// The next larger equal legs.
void larger_angle(const Drawn& d, std::vector<Draft>& own) {
  for (std::size_t leg = 0; leg < 3; ++leg) {
    std::string names;
    Making m(d, "", Cost::store, 1);
    const auto pick = [&](const LedgeAt& at) -> std::optional<AngleStock> {
      const auto is = own_angle(d, at);
      const Length old_thickness = is ? is->thickness : at.ledge->leg_thickness;
      std::vector<AngleStock> fit;
      for (const AngleStock& a : angles(d)) {
        if (same(a.level, a.upright) && a.level > at.ledge->along + 1.0_mm &&
            a.upright > upright_of(*at.ledge, is) - 1.0_mm &&
            a.thickness > old_thickness - same_size) {
          fit.push_back(a);
        }
      }
      // The thinnest of each size that is no thinner than what is there.
      std::sort(fit.begin(), fit.end(), [](const AngleStock& a, const AngleStock& b) {
        if (!same(a.level, b.level)) return a.level < b.level;
        return a.thickness < b.thickness;
      });
      const auto as_wide = [](const AngleStock& a, const AngleStock& b) {
        return same(a.level, b.level);
      };
      fit.erase(std::unique(fit.begin(), fit.end(), as_wide), fit.end());
      return leg < fit.size() ? std::optional(fit[leg]) : std::nullopt;
    };
    if (!other_angles(d, m, pick, names)) continue;
    const std::string words = "larger angle, a wider seat: " + names;
    m.words(words);
    offer(m, own);
    rebolted(d, m, words, own);
  }
}

void other_leg_level(const Drawn& d, std::vector<Draft>& own) {
  std::string names;
  Making m(d, "", Cost::nothing, 0);
  bool longer = false;
  const auto pick = [&](const LedgeAt& at) -> std::optional<AngleStock> {
    auto is = own_angle(d, at);
    if (!is || same(is->level, is->upright)) return std::nullopt;
    std::swap(is->level, is->upright);
    longer = is->level > is->upright;
    return is;
  };
  if (!other_angles(d, m, pick, names)) return;
  m.words("the angle turned: its " + std::string(longer ? "longer" : "shorter") + " leg level");
  offer(m, own);
}

void longer_ledge(const Drawn& d, std::vector<Draft>& own) {
  const Length width = d.setup.board().board.width;
  for (const double more : {1.0, 1.25, 1.5}) {
    Making m(d, "", Cost::store, 1);
    Length shown{};
    for (const LedgeAt& at : ledges_of(d)) {
      const Ledge& l = *at.ledge;
      if (l.kind == LedgeKind::gunwale_top) continue;
      // Blocks count as far as the board covers them.
      const Length to =
          more == 1.0 ? full_step(d, width) : full_step(d, more * std::max(width, l.fore_aft));
      if (to < l.fore_aft + 2.0 * step_of(d) || (l.kind == LedgeKind::saddle && more > 1)) continue;
      m.set(at.path + ".fore_aft", to);
      shown = std::max(shown, to);
      if (l.kind == LedgeKind::angle) {
        const Length other = upright_of(l, own_angle(d, at));
        m.weigh(l.metal ? l.metal->name : "",
                (to - l.fore_aft) * (l.along + other - l.leg_thickness) * l.leg_thickness,
                at.count());
      } else {
        m.note("the weight of the blocks is not counted");
      }
    }
    m.words("longer ledges, " + written(d, shown) + " along the boat");
    offer(m, own);
  }
}

void longer_seat(const Drawn& d, std::vector<Draft>& own) {
  const CrossBoard& b = d.setup.board();
  for (const double more : {1.5, 2.0}) {
    Making m(d, "", Cost::store, 1);
    Length shown{};
    for (const LedgeAt& at : ledges_of(d)) {
      const Ledge& l = *at.ledge;
      if (l.kind != LedgeKind::saddle) continue;
      Length room = b.port_overhang;
      for (const Side side : at.sides) {
        room = std::min(room, side == Side::port
                                  ? b.port_overhang
                                  : Length(b.board.length - b.clear_width - b.port_overhang));
      }
      const Length to = rounded_down(d, std::min(Length(more * l.along), room));
      if (to < l.along + 2.0 * step_of(d)) continue;
      m.set(at.path + ".along", to);
      shown = std::max(shown, to);
      m.note("needs something solid under the whole block, outboard too");
      m.note("the weight of the blocks is not counted");
    }
    m.words("longer blocks under the board, " + written(d, shown) + " along it");
    offer(m, own);
  }
}

// More bolts, or larger ones, through the upright leg.
void more_ledge_bolts(const Drawn& d, std::vector<Draft>& own) {
  for (const int more : {1, 2}) {
    Making m(d, "", Cost::coins, 1);
    int count = 0;
    for (const LedgeAt& at : ledges_of(d)) {
      const Ledge& l = *at.ledge;
      if (l.kind != LedgeKind::angle || !l.fastening) continue;
      const LedgeFastening& f = *l.fastening;
      const int n = f.count + more;
      const Length D = f.thread.diameter;
      const Length row = l.fore_aft - 4.0 * D;
      const Length spacing = rounded_down(d, row / double(n - 1));
      if (spacing < 4.0 * D) continue;
      m.set(at.path + ".fastening.count", std::to_string(n));
      m.set(at.path + ".fastening.spacing", spacing);
      if (f.backing && f.backing->fore_aft < double(n - 1) * spacing + 3.0 * D) {
        m.set(at.path + ".fastening.behind.fore_aft",
              rounded_up(d, double(n - 1) * spacing + 3.0 * D));
        m.cost(Cost::store);
        m.note("a new plate behind the hull");
      }
      // A row of another spacing finds at most its middle hole again.
      m.holes((n - (n % 2 == 1 && f.count % 2 == 1 ? 1 : 0)) * at.count());
      count = n;
      m.note("look behind the hull first; fill the old holes");
    }
    m.words(std::to_string(count) + " bolts in each ledge");
    offer(m, own);
  }
}

void larger_ledge_bolts(const Drawn& d, std::vector<Draft>& own) {
  for (std::size_t k = 0; k < 2; ++k) {
    Making m(d, "", Cost::coins, 1);
    std::string name;
    for (const LedgeAt& at : ledges_of(d)) {
      const Ledge& l = *at.ledge;
      if (l.kind != LedgeKind::angle || !l.fastening) continue;
      const auto larger = threads_above(d, l.fastening->thread, 2);
      if (k >= larger.size()) continue;
      const Thread& t = larger[k];
      m.set(at.path + ".fastening.thread", reading::quoted(t.name));
      if (l.fastening->washer) {
        auto sizes = under_heads(d, t, 1.9 * t.diameter);
        std::erase_if(sizes, [](const UnderHead& u) { return u.washer.empty(); });
        if (sizes.empty()) return;
        m.set(at.path + ".fastening.washer", reading::quoted(sizes.back().washer));
      }
      m.note("drill the holes in ledge and hull out to " + written(d, t.clearance));
      name = t.name;
    }
    m.words(name + " bolts in the ledges");
    offer(m, own);
  }
}

void plate_behind_hull(const Drawn& d, std::vector<Draft>& own) {
  for (std::size_t k = 0; k < 3; ++k) {
    Making m(d, "", Cost::store, 1);
    Length shown{};
    bool thicker = false;
    for (const LedgeAt& at : ledges_of(d)) {
      const Ledge& l = *at.ledge;
      if (l.kind != LedgeKind::angle || !l.fastening) continue;
      const LedgeFastening& f = *l.fastening;
      const std::string path = at.path + ".fastening.behind";
      const std::vector<Length> all = stock_sizes(d, "flat_bar", "thickness");
      if (f.backing) {
        if (f.backing->athwart > stock_sizes(d, "flat_bar", "width").back() + same_size) continue;
        const auto next = above(all, f.backing->thickness, 3);
        if (k >= next.size()) continue;
        m.set(path + ".thickness", next[k]);
        m.weigh(f.backing->metal.name,
                (next[k] - f.backing->thickness) * f.backing->fore_aft * f.backing->athwart,
                at.count());
        shown = next[k];
        thicker = true;
        continue;
      }
      const auto widths = above(stock_sizes(d, "flat_bar", "width"), 4.0 * f.thread.diameter, 1);
      const auto sizes = above(all, 0.4 * f.thread.diameter, 3);
      if (widths.empty() || k >= sizes.size()) continue;
      const Length width = widths.front();
      m.set(path,
            "{material: " + reading::quoted(bar_metal) + ", thickness: " + written(d, sizes[k]) +
                ", fore_aft: " + written(d, l.fore_aft) + ", athwart: " + written(d, width) + "}");
      m.drop(at.path + ".fastening.washer");
      m.weigh(bar_metal, sizes[k] * l.fore_aft * width, at.count());
      m.note("only with access behind the hull; the bolts a plate longer");
      shown = sizes[k];
    }
    m.words(std::string(thicker ? "a thicker plate" : "a plate") +
            " behind the hull under the nuts, " + written(d, shown));
    offer(m, own);
  }
}

// ---- Legs
// ----------------------------------------------------------------------------------------

struct Lumber {
  std::string name;
  std::string market;
  Length thickness{};
  Length width{};
};

std::vector<Lumber> lumber(const Drawn& d) {
  std::vector<Lumber> all;
  for (const Entry& e : d.library.entries()) {
    if (e.kind != "lumber_size") continue;
    const Length a = value_of(e, "thickness");
    const Length b = value_of(e, "width");
    const auto it = e.values.find("thickness");
    if (it == e.values.end() || it->second.written.ends_with("in") != d.inch()) continue;
    all.push_back({e.name, about_of(e, "market"), std::min(a, b), std::max(a, b)});
  }
  // The market that sells the board, where there is just one.
  const BoardPiece& p = d.setup.board().board;
  std::set<std::string> home;
  for (const Lumber& l : all) {
    if (p.wood && abs(l.thickness - std::min(p.width, p.thickness)) < 0.1_mm &&
        abs(l.width - std::max(p.width, p.thickness)) < 0.1_mm) {
      home.insert(l.market);
    }
  }
  if (home.size() == 1) {
    std::erase_if(all, [&](const Lumber& l) { return l.market != *home.begin(); });
  }
  return all;
}

// The smallest that does for a leg: 2x4 or the like.
std::optional<Lumber> leg_stock(const Drawn& d) {
  std::optional<Lumber> best;
  for (const Lumber& l : lumber(d)) {
    if (l.thickness < 38.0_mm || l.width < 88.0_mm) continue;
    if (!best || l.thickness * l.width < best->thickness * best->width) best = l;
  }
  return best;
}

Length edge_for(const Drawn& d, Length fore_aft) {
  return rounded_down(d,
                      std::max(Length(0.5 * (d.setup.board().board.width - fore_aft)), Length{}));
}

// Under the aft edge, as near to the gear as the ledge lets it.
Length nearest_to(const Drawn& d, const Gear& g, Length athwart) {
  return std::min(rounded_down(d, g.place.outboard),
                  Length(-rounded_up(d, 0.5 * athwart + 5.0_mm)));
}

// Inboard until it is clear of nuts and plates.
std::optional<Length> clear_place(const Drawn& d, const Leg& like, Length from) {
  Setup copy = d.setup;
  Leg l = like;
  l.name = "new leg";
  const Length most = -0.5 * copy.board().clear_width + 0.5 * l.athwart;
  for (l.place.outboard = from; l.place.outboard > most; l.place.outboard -= 5.0 * step_of(d)) {
    copy.board().legs = d.setup.board().legs;
    copy.board().legs.push_back(l);
    if (lacks_room(d.setup, copy).empty()) return l.place.outboard;
  }
  return std::nullopt;
}

const Leg* leg_near(const Drawn& d, const Gear& g, bool aft) {
  for (const Leg& l : d.setup.board().legs) {
    if (l.place.side == g.place.side && (l.place.forward.value() < 0) == aft &&
        abs(l.place.outboard - g.place.outboard) < 0.3_m) {
      return &l;
    }
  }
  return nullptr;
}

// A leg below each gear on that edge, like the legs that are there; without any its length is not
// known, and the reader says so.
void legs_below(const Drawn& d, std::vector<Draft>& own, bool aft) {
  const auto items = gear_of(d);
  const auto legs = legs_of(d);
  const BoardPiece& p = d.setup.board().board;
  const auto stock = leg_stock(d);
  if (legs.empty() && (!stock || !p.wood)) return;
  Making m(d, "", Cost::store, 1);
  std::vector<std::string> added;
  for (const auto& item : items) {
    const Gear& g = item.first();
    const bool there = std::all_of(item.made.begin(), item.made.end(),
                                   [&](const Gear* o) { return leg_near(d, *o, aft) != nullptr; });
    if (there) continue;
    const Leg* like = nullptr;
    const Node* node = nullptr;
    for (const auto& l : legs) {
      if (l.first().beside) continue;
      like = &l.first();
      node = l.node;
    }
    if (!legs.empty() && like == nullptr) return;
    Leg l = like != nullptr ? *like : Leg{};
    if (like == nullptr) {
      l.fore_aft = stock->thickness;
      l.athwart = stock->width;
    }
    l.place.side = g.place.side;
    l.place.forward = (aft ? -1.0 : 1.0) * edge_for(d, l.fore_aft);
    if (l.place.forward.value() == 0) return;
    const auto at = clear_place(d, l, nearest_to(d, g, l.athwart));
    if (!at) return;
    const std::string side = item.made.size() > 1 ? "both" : std::string(word_for(g.place.side));
    const std::string outboard = written(d, *at);
    const std::string forward = written(d, l.place.forward);
    if (node != nullptr) {
      added.push_back(with_keys(*node, {{"side", side},
                                        {"outboard", outboard},
                                        {"forward", forward},
                                        {"foot_forward", ""},
                                        {"foot_outboard", ""},
                                        {"gap", ""},
                                        {"name", ""}}));
    } else {
      added.push_back(
          "{side: " + side + ", outboard: " + outboard + ", forward: " + forward +
          ", fore_aft: " + written(d, l.fore_aft) + ", athwart: " + written(d, l.athwart) +
          ", wood: " + reading::quoted(p.wood->name) + ", stands_on: thwart, foot_held: yes}");
    }
    if (l.wood) {
      m.weigh(*l.wood, p.wet, l.fore_aft * l.athwart * l.length, double(item.made.size()));
    } else if (l.metal) {
      const Area inside =
          l.wall ? Area((l.fore_aft - 2.0 * *l.wall) * (l.athwart - 2.0 * *l.wall)) : Area{};
      m.weigh(l.metal->name, (l.fore_aft * l.athwart - inside) * l.length,
              double(item.made.size()));
    }
  }
  if (added.empty()) return;
  const Node* list = node_at(d, "mount.legs");
  if (list == nullptr) {
    std::string all;
    for (const std::string& a : added) all += (all.empty() ? "" : ", ") + a;
    m.set("mount.legs", "[" + all + "]");
    m.note(
        "measure from the underside of the board to something firm and write it down as the "
        "length of the leg: no length is guessed here");
  } else {
    for (std::size_t i = 0; i < added.size(); ++i) {
      m.set("mount.legs." + std::to_string(list->items.size() + i), added[i]);
    }
    m.note("only where they find the same firm footing at the same height; block the feet");
  }
  m.words(aft ? "a leg under the aft edge below each gear"
              : "a leg under the forward edge below each gear");
  offer(m, own);
}

void legs_aft(const Drawn& d, std::vector<Draft>& own) { legs_below(d, own, true); }
void legs_forward(const Drawn& d, std::vector<Draft>& own) {
  // Aft ones come first: a boom astern pulls that edge down.
  if (!d.setup.board().legs.empty()) legs_below(d, own, false);
}

void moved_legs(const Drawn& d, std::vector<Draft>& own) {
  const auto items = legs_of(d);
  const auto move = [&](bool to_edge, bool to_gear, const std::string& words) {
    Making m(d, words, Cost::nothing, 0);
    for (const auto& item : items) {
      const Leg& l = item.first();
      if (l.beside) continue;
      const Length edge = edge_for(d, l.fore_aft);
      if (to_edge && abs(l.place.forward) < edge - 2.0_mm && l.place.forward.value() != 0) {
        m.set(item.path + ".forward", l.place.forward.value() < 0 ? Length(-edge) : edge);
      }
      if (!to_gear) continue;
      std::optional<Length> to;
      for (const Gear& g : d.setup.gear) {
        if (g.place.side != l.place.side) continue;
        const Length near = nearest_to(d, g, l.athwart);
        if (!to || near > *to) to = near;
      }
      if (to && *to > l.place.outboard + 5.0_mm) m.set(item.path + ".outboard", *to);
    }
    m.note("only where they find the same firm footing at the same height; block the feet");
    offer(m, own);
  };
  move(true, false, "legs out to the edges of the board");
  move(false, true, "legs farther outboard, close to the ledges");
  move(true, true, "legs out to the edges of the board and close to the ledges");
}

// ---- Board
// ---------------------------------------------------------------------------------------

bool is_plank(const BoardPiece& p) {
  return p.form == BoardForm::plank || p.form == BoardForm::plank_with_strip;
}

Area area_of(const BoardPiece& p) {
  switch (p.form) {
    case BoardForm::plank:
      return p.width * p.thickness;
    case BoardForm::plank_with_strip:
      return p.width * p.thickness + p.strip_thickness * p.strip_depth;
    case BoardForm::rectangular_tube:
      return rectangular_tube(p.width, p.thickness, p.wall).area;
    case BoardForm::round_tube:
      return round_tube(p.width, p.wall).area;
    case BoardForm::channel_down:
    case BoardForm::channel_up:
      return channel(p.width, p.thickness, p.wall, Flanges::down).area;
  }
  throw InternalError("a form of board without an area");
}

// A plank of another size as it lies now: its keys, what goes with its width, and its weight.
void other_plank(const Drawn& d, Making& m, const Lumber& size, bool on_edge) {
  const BoardPiece& p = d.setup.board().board;
  const Length width = on_edge ? size.thickness : size.width;
  m.set("mount.board.size", reading::quoted(size.name));
  for (const char* key : {"width", "thickness"}) m.drop(std::string("mount.board.") + key);
  if (on_edge) {
    m.set("mount.board.laid", "on_edge");
  } else {
    m.drop("mount.board.laid");
  }
  for (const LedgeAt& at : ledges_of(d)) {
    // Of a gunwale as much was written as the board covers.
    if (at.ledge->kind == LedgeKind::gunwale_top && same(at.ledge->fore_aft, p.width)) {
      m.set(at.path + ".fore_aft", width);
    }
  }
  for (const auto& item : legs_of(d)) {
    const Leg& l = item.first();
    if (!l.beside) continue;
    const Length by = 0.5 * (width - p.width);
    m.set(item.path + ".forward", l.place.forward + (l.place.forward.value() < 0 ? -by : by));
  }
  m.weigh(p, p.length * size.thickness * size.width, 1);
  m.weigh(p, p.length * p.width * p.thickness, -1);
  if (p.wood && p.wood->southern_pine) {
    const std::size_t space = p.wood->name.rfind(' ');
    const std::string other = p.wood->name.substr(0, space + 1) + size.name;
    if (d.library.find("wood_grade", other) != nullptr) {
      m.set("mount.board.wood", "{is: " + reading::quoted(other) + ", known: tagged}");
    }
  }
  m.note("with the same stamp as the board it replaces");
}

// The hold-downs as far out as a wider board lets them.
void spread_to(const Drawn& d, Making& m, Length width) {
  for (const auto& item : hold_downs_of(d)) {
    const HoldDown& h = item.first();
    if (straddles(h) || abs(h.place.forward) < 1.0_mm) continue;
    const Length to = farthest(d, h, h.thread, width);
    if (to > abs(h.place.forward) + step_of(d)) move_forward(d, m, item, to);
  }
}

void bigger_plank(const Drawn& d, std::vector<Draft>& own) {
  const BoardPiece& p = d.setup.board().board;
  if (!is_plank(p)) return;
  const bool edge = p.thickness > p.width;
  const Length thin = std::min(p.width, p.thickness);
  const Length wide = std::max(p.width, p.thickness);
  std::vector<Lumber> fit;
  for (const Lumber& l : lumber(d)) {
    const bool larger = l.thickness > thin + same_size || l.width > wide + same_size;
    if (larger && l.thickness > thin - same_size && l.width > wide - same_size &&
        l.thickness * l.width < 2.5 * thin * wide) {
      fit.push_back(l);
    }
  }
  std::sort(fit.begin(), fit.end(), [](const Lumber& a, const Lumber& b) {
    return a.thickness * a.width < b.thickness * b.width;
  });
  for (const Lumber& l : fit) {
    const std::string words = "a board of " + l.name + " in place of " + written(d, p.thickness) +
                              " x " + written(d, p.width);
    Making m(d, words, Cost::store, 1);
    other_plank(d, m, l, edge);
    offer(m, own);
    Making apart(d, words + ", hold-downs as far apart as it allows", Cost::store, 1);
    other_plank(d, apart, l, edge);
    spread_to(d, apart, edge ? l.thickness : l.width);
    offer(apart, own);
  }
}

void plank_on_edge(const Drawn& d, std::vector<Draft>& own) {
  const BoardPiece& p = d.setup.board().board;
  if (p.form != BoardForm::plank || p.thickness > p.width - same_size) return;
  Making m(d, "the board on edge", Cost::nothing, 0);
  if (node_at(d, "mount.board.size") != nullptr) {
    m.set("mount.board.laid", "on_edge");
  } else {
    m.set("mount.board.width", p.thickness);
    m.set("mount.board.thickness", p.width);
  }
  offer(m, own);
}

void strip_below(const Drawn& d, std::vector<Draft>& own) {
  const BoardPiece& p = d.setup.board().board;
  if (p.form != BoardForm::plank || p.thickness > p.width - same_size) return;
  std::vector<Lumber> fit;
  for (const Lumber& l : lumber(d)) {
    if (l.thickness > 30.0_mm && l.thickness < p.width && l.width <= 4.0 * l.thickness &&
        l.width < 160.0_mm) {
      fit.push_back(l);
    }
  }
  std::sort(fit.begin(), fit.end(), [&](const Lumber& a, const Lumber& b) {
    if (abs(a.width - b.width) > same_size) return a.width < b.width;
    return abs(a.thickness - p.thickness) < abs(b.thickness - p.thickness);
  });
  // One of each depth, as thick as the board or nearly so.
  const auto as_deep = [](const Lumber& a, const Lumber& b) {
    return abs(a.width - b.width) < same_size;
  };
  fit.erase(std::unique(fit.begin(), fit.end(), as_deep), fit.end());
  for (const Lumber& l : fit) {
    Making m(d, "a strip of " + l.name + " on edge below the board, glued and bolted to it",
             Cost::store, 1);
    m.set("mount.board.form", "plank_with_strip");
    m.set("mount.board.strip",
          "{thickness: " + written(d, l.thickness) + ", depth: " + written(d, l.width) + "}");
    m.drop("mount.board.laid");
    m.weigh(p, p.length * l.thickness * l.width, 1);
    m.note("close up to the ledges; a plate below a gear becomes two, one on each side of it");
    m.note("the glue is not checked");
    offer(m, own);
  }
}

void better_wood(const Drawn& d, std::vector<Draft>& own) {
  const BoardPiece& p = d.setup.board().board;
  if (!is_plank(p) || !p.wood) return;
  const Entry* is = d.library.find("wood_grade", p.wood->name);
  const std::string species = is != nullptr ? about_of(*is, "species") : "";
  struct Grade {
    std::string name;
    Wood wood;
    bool same_species = false;
  };
  std::vector<Grade> fit;
  for (const Entry& e : d.library.entries()) {
    if (e.kind != "wood_grade" || e.by_user) continue;
    const Wood w = d.library.wood(e.name);
    // The bases of NDS and EN 338 differ: no wood is better by its rules alone. What was bought
    // without a stamp has none.
    const bool known = text_at(d, "mount.board.wood") != "not known";
    if (w.nds != (known ? p.wood->nds : d.inch()) ||
        (w.southern_pine && w.name.find(text_at(d, "mount.board.size")) == std::string::npos)) {
      continue;
    }
    const bool better = w.compression_perp > 1.001 * p.wood->compression_perp ||
                        w.bending > 1.001 * p.wood->bending;
    const bool worse = w.compression_perp < 0.999 * p.wood->compression_perp ||
                       (known && w.shear < 0.999 * p.wood->shear);
    if (better && !worse) fit.push_back({e.name, w, about_of(e, "species") == species});
  }
  sort_stably(fit, [](const Grade& a, const Grade& b) {
    if (a.same_species != b.same_species) return a.same_species;
    return a.wood.compression_perp < b.wood.compression_perp;
  });
  // The next of the species, then the hardest of the others.
  std::vector<Grade> pick;
  for (const Grade& g : fit) {
    if (g.same_species && pick.size() < 2) pick.push_back(g);
  }
  std::string last;
  for (auto it = fit.rbegin(); it != fit.rend() && pick.size() < 4; ++it) {
    if (it->same_species) continue;
    const std::string kind = it->name.substr(0, it->name.find(' '));
    if (kind == last) continue;
    last = kind;
    pick.push_back(*it);
  }
  for (const Grade& g : pick) {
    Making m(d, "a new board of " + g.name + ", the same size", Cost::store, 1);
    m.set("mount.board.wood", "{is: " + reading::quoted(g.name) + ", known: tagged}");
    m.weigh(g.wood, p.wet, p.length * area_of(p), 1);
    m.weigh(p, p.length * area_of(p), -1);
    m.note("bought with its stamp, or as that wood from a yard; sound and straight");
    offer(m, own);
  }
}

// The overhang that a side needs so that its bolts lie far enough from the end.
Length overhang_for(const Drawn& d, Side side) {
  Length need{};
  for (const HoldDown& h : d.setup.board().hold_downs) {
    if (h.place.side != side || straddles(h)) continue;
    need = std::max(need,
                    Length(h.place.outboard + std::max(Length(7.0 * h.thread.diameter), 100.0_mm)));
  }
  return need;
}

bool ends_short(const Drawn& d) {
  const CrossBoard& b = d.setup.board();
  for (const HoldDown& h : b.hold_downs) {
    const Length x = b.station(h.place);
    if (!straddles(h) && std::min(x, Length(b.board.length - x)) < 7.0 * h.thread.diameter) {
      return true;
    }
  }
  return false;
}

void run_ends_past(const Drawn& d, Making& m) {
  const CrossBoard& b = d.setup.board();
  const Length starboard_is = b.board.length - b.clear_width - b.port_overhang;
  const Length port = std::max(b.port_overhang, overhang_for(d, Side::port));
  const Length starboard = std::max(starboard_is, overhang_for(d, Side::starboard));
  const bool middle = node_at(d, "mount.port_overhang") == nullptr;
  const Length both = middle ? Length(2.0 * std::max(port, starboard)) : Length(port + starboard);
  m.set("mount.board.length", full_step(d, b.clear_width + both));
  if (!middle) m.shift("mount.port_overhang", rounded_up(d, port));
}

void longer_board(const Drawn& d, std::vector<Draft>& own) {
  const CrossBoard& b = d.setup.board();
  if (!b.board.wood || !ends_short(d)) return;
  Making m(d, "", Cost::store, 1);
  run_ends_past(d, m);
  const Length port = std::max(b.port_overhang, overhang_for(d, Side::port));
  m.words("a longer board of the same size, its ends well past the bolts");
  m.weigh(b.board, (2.0 * port + b.clear_width - b.board.length) * area_of(b.board), 1);
  m.note("with the same stamp as the board it replaces; seal the end grain");
  offer(m, own);
}

// Only where the board itself went soft: a sound one answers the question anew.
void new_board(const Drawn& d, std::vector<Draft>& own) {
  const CrossBoard& b = d.setup.board();
  const BoardPiece& p = b.board;
  if (d.setup.condition.soft_wood_or_core != Answer::yes || !is_plank(p) || !p.wood) return;
  const bool edge = p.thickness > p.width;
  const Length thin = std::min(p.width, p.thickness);
  const Length wide = std::max(p.width, p.thickness);
  // Without a stamp the old wood has no name that a store knows.
  const bool named = text_at(d, "mount.board.wood") != "not known";
  const std::vector<std::string> woods =
      named      ? std::vector<std::string>{p.wood->name}
      : d.inch() ? std::vector<std::string>{"Spruce-Pine-Fir No.1/No.2", "Douglas Fir-Larch No.2"}
                 : std::vector<std::string>{"C16", "C24"};
  std::vector<Lumber> sizes;
  for (const Lumber& l : lumber(d)) {
    if (l.thickness > thin - same_size && l.width > wide - same_size && l.width < wide + 30.0_mm) {
      sizes.push_back(l);
    }
  }
  std::sort(sizes.begin(), sizes.end(), [](const Lumber& x, const Lumber& y) {
    return x.thickness * x.width < y.thickness * y.width;
  });
  if (sizes.size() > 2) sizes.resize(2);
  const auto sound = [&](Making& m, const std::string& wood) {
    m.set("mount.board.wood", "{is: " + reading::quoted(wood) + ", known: tagged}");
    m.set("condition.soft_wood_or_core", "no");
    m.note(
        "this takes it that nothing but the board is soft: try ledges and gunwales with an awl "
        "first, and answer yes again where it sinks in");
    m.note("bought with its stamp, sound and dry; seal the end grain and the holes");
  };
  const std::string best = woods.back();
  if (sizes.empty()) {
    Making m(d, "a new sound board of the same size, " + best, Cost::store, 1);
    sound(m, best);
    offer(m, own);
    return;
  }
  for (const Lumber& l : sizes) {
    for (const std::string& wood : woods) {
      if (&l != &sizes.front() && wood != best) continue;
      Making m(d, "a new sound board of " + l.name + ", " + wood, Cost::store, 1);
      other_plank(d, m, l, edge);
      sound(m, wood);
      offer(m, own);
    }
    Making m(d,
             "a new sound board of " + l.name + ", " + best +
                 ", its ends past the bolts, the bolts in from its edges, the widest squares under "
                 "their heads",
             Cost::store, 1);
    other_plank(d, m, l, edge);
    sound(m, best);
    if (ends_short(d)) run_ends_past(d, m);
    for (const auto& item : hold_downs_of(d)) {
      const HoldDown& h = item.first();
      if (straddles(h)) continue;
      const Length to = farthest(d, h, h.thread, edge ? l.thickness : l.width);
      if (to > 1.5 * h.thread.diameter && to < abs(h.place.forward) - 0.5 * step_of(d)) {
        move_forward(d, m, item, to);
      }
      if (const auto heads = under_heads(d, h.thread, h.washer); pulls(h) && !heads.empty()) {
        put_under(d, m, item.path, heads.back());
        weigh_under(m, heads.back(), item.made.size());
      }
    }
    offer(m, own);
  }
}

// ---- Tubes and channels
// --------------------------------------------------------------------------

struct Walled {
  std::string name;
  Length wide{};
  Length high{};
  Length wall{};
};

void bigger_section(const Drawn& d, std::vector<Draft>& own) {
  const BoardPiece& p = d.setup.board().board;
  if (is_plank(p)) return;
  const bool channel_form = p.form == BoardForm::channel_down || p.form == BoardForm::channel_up;
  const bool round = p.form == BoardForm::round_tube;
  const Length wide = channel_form ? p.width : std::max(p.width, p.thickness);
  const Length high = channel_form ? p.thickness : std::min(p.width, p.thickness);
  const bool on_edge = !channel_form && p.thickness > p.width + same_size;
  std::vector<Walled> fit;
  for (const Entry& e : d.library.entries()) {
    if (e.kind != (channel_form ? "channel" : "tube") || !of_market(d, e)) continue;
    if (!channel_form && (about_of(e, "shape") == "round") != round) continue;
    Walled w{e.name, value_of(e, channel_form ? "depth" : "outside_a"),
             value_of(e, channel_form ? "flange" : "outside_b"),
             value_of(e, channel_form ? "thickness" : "wall")};
    if (!channel_form && w.wide < w.high) std::swap(w.wide, w.high);
    const bool no_smaller =
        w.wide > wide - same_size && w.high > high - same_size && w.wall > p.wall - same_size;
    const bool larger =
        w.wide > wide + same_size || w.high > high + same_size || w.wall > p.wall + same_size;
    if (no_smaller && larger) fit.push_back(w);
  }
  const auto piece = [&](const Walled& w) {
    BoardPiece out = p;
    out.width = on_edge ? w.high : w.wide;
    out.thickness = on_edge ? w.wide : w.high;
    out.wall = w.wall;
    return out;
  };
  sort_stably(
      fit, [&](const Walled& a, const Walled& b) { return area_of(piece(a)) < area_of(piece(b)); });
  for (std::size_t i = 0; i < fit.size() && i < 4; ++i) {
    const Walled& w = fit[i];
    Making m(d, std::string(channel_form ? "a channel" : "a tube") + " of " + w.name, Cost::store,
             1);
    m.set("mount.board.size", reading::quoted(w.name));
    for (const char* key : {"width", "thickness", "diameter", "wall"}) {
      m.drop(std::string("mount.board.") + key);
    }
    if (on_edge) m.set("mount.board.laid", "on_edge");
    m.weigh(p, p.length * area_of(piece(w)), 1);
    m.weigh(p, p.length * area_of(p), -1);
    m.note("of the same alloy, with its tag; blocks and bolts to suit");
    offer(m, own);
  }
}

// ---- Gear
// ----------------------------------------------------------------------------------------

void gear_inboard(const Drawn& d, std::vector<Draft>& own) {
  const std::vector<Gear>& all = d.setup.gear;
  std::size_t first = 0;
  for (const auto& item : gear_of(d)) {
    const Gear& g = item.first();
    const std::size_t index = first;
    first += item.made.size();
    const Length step = d.inch() ? Length(0.25_in) : Length(5.0_mm);
    const auto free = [&](Length outboard) {
      Setup copy = d.setup;
      for (std::size_t i = index; i < index + item.made.size(); ++i) {
        copy.gear[i].place.outboard = outboard;
      }
      return lacks_room(d.setup, copy).empty();
    };
    // As far as it goes without a break, half of that, and the first place beyond what is in the
    // way. Judgement: at most 250 mm, and a boom abeam still reaches 300 mm beyond the ledge.
    std::vector<Length> to;
    Length least =
        std::max(Length(g.place.outboard - 0.25_m), Length(-0.25 * d.setup.board().clear_width));
    if (g.downrigger) {
      const Length along = d.setup.board().ledge(g.place.side).along;
      least = std::max(least, Length(along + 0.3_m - g.downrigger->boom_length));
    }
    Length nearest = g.place.outboard;
    while (nearest - step > least && free(nearest - step)) nearest -= step;
    if (g.place.outboard - nearest > 4.0 * step) {
      const double half = std::round(0.5 * ratio(g.place.outboard - nearest, step));
      to.push_back(g.place.outboard - half * step);
    }
    if (nearest < g.place.outboard) to.push_back(nearest);
    Length beyond = nearest - step;
    while (beyond > least && !free(beyond)) beyond -= step;
    if (beyond > least && beyond < nearest - 1.5 * step) to.push_back(beyond);
    for (const Length& place : to) {
      const Length at = rounded_down(d, place);
      const Length by = g.place.outboard - at;
      const std::string name =
          all.size() == item.made.size() && item.made.size() > 1
              ? "each gear"
              : "the " + g.name + (item.made.size() > 1 ? " and its like" : "");
      Making m(d, name + " " + written(d, by) + " further inboard", Cost::nothing, 0);
      m.set(item.path + ".on_board.outboard", at);
      m.note(
          "new holes in the board, and the tip comes in as far: keep the line clear of hull and "
          "motor");
      offer(m, own);
    }
  }
}

// Thicknesses in which a plate of this size is sold.
std::vector<Length> plate_sizes(const Drawn& d, Length fore_aft, Length athwart) {
  const std::vector<Length> widths = stock_sizes(d, "flat_bar", "width");
  const bool bar = !widths.empty() && std::min(fore_aft, athwart) < widths.back() + same_size;
  return bar ? stock_sizes(d, "flat_bar", "thickness")
             : d.library.walls(d.inch() ? "inch" : "metric");
}

void plate_under_gear(const Drawn& d, std::vector<Draft>& own) {
  for (const auto& item : gear_of(d)) {
    const Gear& g = item.first();
    if (!g.foot) continue;
    const std::string path = item.path + ".foot";
    const std::string where =
        " under the board below the " + g.name + (item.made.size() > 1 ? " and its like" : "");
    if (g.foot->plate) {
      const Backing& p = *g.foot->plate;
      for (const Length& t : above(plate_sizes(d, p.fore_aft, p.athwart), p.thickness, 2)) {
        Making m(d, "a plate of " + written(d, t) + where, Cost::store, 1);
        m.set(path + ".plate.thickness", t);
        m.weigh(p.metal.name, (t - p.thickness) * p.fore_aft * p.athwart, double(item.made.size()));
        m.note("bolts longer by as much");
        offer(m, own);
      }
      continue;
    }
    Length along{};
    Length across{};
    for (const PlanPoint& h : g.foot->holes) {
      along = std::max(along, abs(h.x));
      across = std::max(across, abs(h.y));
    }
    const Length round = 6.0 * g.foot->thread.diameter;
    const Length fore_aft = rounded_up(d, 2.0 * along + round);
    const Length athwart = rounded_up(d, 2.0 * across + round);
    for (const Length& t :
         above(plate_sizes(d, fore_aft, athwart), 0.4 * g.foot->thread.diameter, 2)) {
      const std::string metal = "5052-H32 sheet";
      Making m(d, "a plate of " + written(d, t) + where + " in place of washers", Cost::store, 1);
      m.drop(path + ".washer");
      m.drop(path + ".washer_diameter");
      m.set(path + ".plate", "{material: " + metal + ", thickness: " + written(d, t) +
                                 ", fore_aft: " + written(d, fore_aft) +
                                 ", athwart: " + written(d, athwart) + "}");
      m.weigh(metal, t * fore_aft * athwart, double(item.made.size()));
      offer(m, own);
    }
  }
}

void larger_gear_bolts(const Drawn& d, std::vector<Draft>& own) {
  for (const auto& item : gear_of(d)) {
    const Gear& g = item.first();
    if (!g.foot) continue;
    for (const Thread& t : threads_above(d, g.foot->thread, 1)) {
      Making m(d,
               t.name + " bolts through the foot of the " + g.name +
                   (item.made.size() > 1 ? " and its like" : ""),
               Cost::coins, 1);
      m.set(item.path + ".foot.thread", reading::quoted(t.name));
      m.drop(item.path + ".foot.hole");
      if (!g.foot->plate) {
        auto sizes = under_heads(
            d, t, std::min(Length(g.foot->washer - 2.0 * same_size), Length(3.9 * t.diameter)));
        std::erase_if(sizes, [](const UnderHead& u) { return u.washer.empty(); });
        if (sizes.empty()) sizes = under_heads(d, t, g.foot->washer - 2.0 * same_size);
        if (sizes.empty()) continue;
        put_under(d, m, item.path + ".foot", sizes.front());
      }
      m.note("only where the base of the gear takes holes of " + written(d, t.clearance));
      offer(m, own);
    }
  }
}

// ---- Gaps
// ----------------------------------------------------------------------------------------

void packed_gaps(const Drawn& d, std::vector<Draft>& own) {
  Making m(d, "gaps packed: the board bears on its seats, the hold-downs without slack",
           Cost::nothing, 0);
  for (const LedgeAt& at : ledges_of(d)) {
    if (at.ledge->gap.value() > 0) m.drop(at.path + ".gap");
    if (!at.ledge->packed) m.set(at.path + ".packed", "yes");
  }
  for (const auto& item : hold_downs_of(d)) {
    if (item.first().slack.value() > 0) m.drop(item.path + ".slack");
    if (item.first().standoff.value() > 0) m.drop(item.path + ".standoff");
  }
  for (const auto& item : legs_of(d)) {
    if (item.first().gap.value() > 0) m.drop(item.path + ".gap");
  }
  m.note("solid wedges or blocks over the whole seat, glued so that they stay");
  offer(m, own);
}

// ---- The list
// ------------------------------------------------------------------------------------

template <void (*kind)(const Drawn&, std::vector<Draft>&)>
void on_boards(const Drawn& d, std::vector<Draft>& out) {
  if (!d.setup.on_board()) return;
  std::vector<Draft> own;
  kind(d, own);
  std::move(own.begin(), own.end(), std::back_inserter(out));
}

const DraftKind kinds[] = {
    {{"board-washers", "wider washers or plates under the heads of the hold-downs", "board"},
     on_boards<wider_washers>},
    {{"board-larger-hold-downs", "larger hold-downs with washers to suit", "board"},
     on_boards<larger_hold_downs>},
    {{"board-bolts-for-eyes", "bolts with nuts in place of eye bolts", "board"},
     on_boards<bolts_for_eyes>},
    {{"board-hold-downs-apart", "hold-downs farther apart fore and aft", "board"},
     on_boards<hold_downs_apart>},
    {{"board-hold-downs-in", "hold-downs in from the edges of the board", "board"},
     on_boards<hold_downs_in>},
    {{"board-hold-downs-across", "hold-downs nearer to the inner or outer edge of the ledges",
      "board"},
     on_boards<hold_downs_across>},
    {{"board-more-hold-downs", "more hold-downs on each side", "board"},
     on_boards<more_hold_downs>},
    {{"ledge-thicker", "ledges of a thicker angle", "board"}, on_boards<thicker_angle>},
    {{"ledge-larger", "ledges of a larger angle: a wider seat", "board"}, on_boards<larger_angle>},
    {{"ledge-turned", "an unequal angle with its other leg level", "board"},
     on_boards<other_leg_level>},
    {{"ledge-longer", "ledges longer along the boat", "board"}, on_boards<longer_ledge>},
    {{"seat-longer", "blocks longer along the board", "board"}, on_boards<longer_seat>},
    {{"ledge-more-bolts", "more bolts in the ledges", "board"}, on_boards<more_ledge_bolts>},
    {{"ledge-larger-bolts", "larger bolts in the ledges", "board"}, on_boards<larger_ledge_bolts>},
    {{"ledge-plate-behind", "a plate, or a thicker one, behind the hull", "board"},
     on_boards<plate_behind_hull>},
    {{"legs-aft", "a leg under the aft edge below each gear", "board"}, on_boards<legs_aft>},
    {{"legs-forward", "a leg under the forward edge as well", "board"}, on_boards<legs_forward>},
    {{"legs-moved", "legs moved to the edges or toward the gear", "board"}, on_boards<moved_legs>},
    {{"board-bigger", "a thicker or wider board", "board"}, on_boards<bigger_plank>},
    {{"board-on-edge", "the board on edge", "board"}, on_boards<plank_on_edge>},
    {{"board-strip", "a strip on edge below the board", "board"}, on_boards<strip_below>},
    {{"board-wood", "a new board of better wood", "board"}, on_boards<better_wood>},
    {{"board-new", "a new board in place of a soft one", "board"}, on_boards<new_board>},
    {{"board-longer", "a longer board, its ends past the bolts", "board"}, on_boards<longer_board>},
    {{"board-section", "a tube or channel of the next wall or size", "board"},
     on_boards<bigger_section>},
    {{"gear-inboard", "gear further inboard", "board"}, on_boards<gear_inboard>},
    {{"gear-plate", "a plate, or a thicker one, under the board below the gear", "board"},
     on_boards<plate_under_gear>},
    {{"gear-larger-bolts", "larger bolts through the foot of the gear", "board"},
     on_boards<larger_gear_bolts>},
    {{"board-packed", "gaps and slack packed", "board"}, on_boards<packed_gaps>},
};

}  // namespace

std::span<const DraftKind> board_changes() { return kinds; }

}  // namespace thole::reading
