// A cross-board with its ledges, hold-downs and legs. Frame: middle line of the board, half way
// between the ledges, at its lower face. A slope of the seats shears the frame, so that distances
// in plan stay true.

#include <algorithm>
#include <cmath>

#include <thole/check.hpp>
#include <thole/error.hpp>

#include "report/scene.hpp"

namespace thole::scene {
namespace {

using Form = Solid::Form;

constexpr double cut_off = 0.12;  // pieces of the hull beyond the board

double sign_of(Side s) { return s == Side::starboard ? 1 : -1; }

class BoardScene {
 public:
  BoardScene(const SheetContent& content, bool on_board)
      : content_(content),
        s_(content.setup),
        b_(content.setup.board()),
        half_(0.5 * b_.clear_width.value()),
        width_(b_.board.width.value()),
        thick_(b_.board.thickness.value()),
        on_board_(on_board) {}

  Scene made() {
    hull();
    for (const Side side : {Side::port, Side::starboard}) ledge(side);
    board();
    for (const Leg& l : b_.legs) leg(l);
    for (const HoldDown& h : b_.hold_downs) hold_down(h);
    name_hold_downs();
    std::vector<Stand> stands;
    for (const Gear& g : s_.gear) stands.push_back(stand_of(g));
    if (s_.fit && on_board_) add_things(scene_, content_, transom(), middle());
    add_gear(scene_, content_, stands);
    dimensions();
    worst();
    slope();
    scene_.what = name() + ", " + show(b_.board.length, s_.units) + " long, across " +
                  show(b_.clear_width, s_.units);
    return scene_;
  }

 private:
  void put(std::vector<Spot> corners, const char* look, Layer layer = Layer::mount,
           Set views = everywhere, Form form = Form::hull, bool frames = true) {
    scene_.solids.push_back({look, layer, std::move(corners), form, views, whole, frames});
  }

  [[nodiscard]] double inner(Side side) const { return sign_of(side) * half_; }
  [[nodiscard]] double across(const BoardPlace& p) const {
    return sign_of(p.side) * (half_ + p.outboard.value());
  }
  [[nodiscard]] double port_end() const { return -half_ - b_.port_overhang.value(); }
  [[nodiscard]] double starboard_end() const { return port_end() + b_.board.length.value(); }
  [[nodiscard]] double transom() const { return -s_.fit->mount_at.x.value(); }
  [[nodiscard]] double middle() const { return s_.fit ? -s_.fit->mount_at.y.value() : 0; }
  [[nodiscard]] Stand stand_of(const Gear& g) const {
    return {{g.place.forward.value(), across(g.place), thick_}, sign_of(g.place.side), 0};
  }
  [[nodiscard]] bool gunwale_known() const {
    return (s_.fit && s_.fit->board_top) || b_.port.kind == LedgeKind::gunwale_top;
  }
  [[nodiscard]] double gunwale() const {
    return s_.fit && s_.fit->board_top ? thick_ - s_.fit->board_top->value() : 0;
  }

  [[nodiscard]] std::string name() const {
    const BoardPiece& p = b_.board;
    const auto size = [&] { return show(p.thickness, s_.units) + " x " + show(p.width, s_.units); };
    switch (p.form) {
      case BoardForm::plank:
        return "plank " + size();
      case BoardForm::plank_with_strip:
        return "plank " + size() + " with strip";
      case BoardForm::rectangular_tube:
        return "tube " + size();
      case BoardForm::round_tube:
        return "round tube " + show(p.width, s_.units);
      case BoardForm::channel_down:
      case BoardForm::channel_up:
        return "channel " + size();
    }
    throw InternalError("a board without a word");
  }

  void board() {
    const BoardPiece& p = b_.board;
    const double x = 0.5 * width_;
    const Spot low{-x, port_end(), 0};
    const Spot high{x, starboard_end(), thick_};
    if (p.form == BoardForm::round_tube) {
      put(box(low, high), "part", Layer::mount, in_plan | in_stern);
      put(ring(0.5 * width_), "part", Layer::mount, in_side, Form::outline);
      put(ring(0.5 * width_ - p.wall.value()), "thin", Layer::mount, in_side, Form::outline);
    } else if (p.form == BoardForm::channel_down || p.form == BoardForm::channel_up) {
      put(box(low, high), "part", Layer::mount, in_plan | in_stern);
      put(channel(), "part", Layer::mount, in_side, Form::outline);
    } else {
      put(box(low, high), "part");
    }
    if (p.form == BoardForm::rectangular_tube) {
      const double w = p.wall.value();
      put(box({w - x, 0, w}, {x - w, 0, thick_ - w}), "thin", Layer::mount, in_side);
    }
    if (p.form == BoardForm::plank_with_strip) {
      const double f = p.strip_forward.value();
      const double h = 0.5 * p.strip_thickness.value();
      put(box({f - h, -half_, -p.strip_depth.value()}, {f + h, half_, 0}), "part2");
    }
    const double y = 0.4 * half_;
    scene_.labels.push_back({{name()},
                             {x * 0.4, -y, thick_},
                             "text",
                             in_plan | in_stern,
                             whole,
                             Spot{x * 0.4, y, thick_}});
    scene_.labels.push_back(
        {{name(), "seen end-on"}, {-x * 0.6, 0, 0.5 * thick_}, "text", in_side, whole});
  }

  [[nodiscard]] std::vector<Spot> ring(double radius) const {
    std::vector<Spot> out = fan({}, 0, radius, 0, 6.2831853);
    out.resize(out.size() / 2);
    for (Spot& p : out) p = {p.x, 0, 0.5 * thick_ + p.y};
    return out;
  }

  [[nodiscard]] std::vector<Spot> channel() const {
    const double x = 0.5 * width_;
    const double w = b_.board.wall.value();
    const bool down = b_.board.form == BoardForm::channel_down;
    std::vector<Spot> out{
        {-x, 0, 0},    {-x, 0, thick_},        {x, 0, thick_},         {x, 0, 0},
        {x - w, 0, 0}, {x - w, 0, thick_ - w}, {w - x, 0, thick_ - w}, {w - x, 0, 0}};
    if (!down) {
      for (Spot& p : out) p.z = thick_ - p.z;
    }
    return out;
  }

  void ledge(Side side) {
    const Ledge& l = b_.ledge(side);
    const double to = sign_of(side);
    const double x = 0.5 * l.fore_aft.value();
    const double in = inner(side);
    const double out = in + to * l.along.value();
    if (l.kind == LedgeKind::angle) {
      const double leg = l.leg_thickness.value();
      put(box({-x, in, -leg}, {x, out, 0}), "part2");
      const bool told = l.fastening.has_value();
      const double foot = told ? l.fastening->foot_below.value() : l.along.value();
      const double root = l.root_outboard ? out : in;
      const double inward = l.root_outboard ? -to : to;
      put(box({-x, root, -foot}, {x, root + inward * leg, 0}), told ? "part2" : "hidden");
    } else if (l.kind == LedgeKind::saddle) {
      put(box({-x, in, -0.6 * l.along.value()}, {x, out, 0}), "views-guess");
      put(box({-x, in, 0}, {x, out, 0}), "part2", Layer::mount, in_plan);
    } else {
      put(box({-x, in, 0}, {x, out, 0}), "hidden", Layer::mount, in_plan);
    }
    if (side == Side::port) return;
    const char* word = l.kind == LedgeKind::angle    ? "ledge (angle)"
                       : l.kind == LedgeKind::saddle ? "saddle"
                                                     : "gunwale";
    scene_.labels.push_back({{word}, {-0.9 * x, 0.5 * (in + out), 0}, "note", in_plan, whole});
    scene_.labels.push_back({{word}, {0, 0.5 * (in + out), -0.002}, "note", in_stern, whole});
  }

  void hold_down(const HoldDown& h) {
    const double y = across(h.place);
    const double x = h.place.forward.value();
    const double radius = 0.5 * h.thread.diameter.value();
    const double wide = std::max(0.5 * h.washer.value(), radius);
    const Ledge& l = b_.ledge(h.place.side);
    const double below = 0.02 + l.leg_thickness.value() + h.standoff.value();
    put(drum({x, y, -below}, below + thick_, radius), "part2", Layer::gear, in_side | in_stern);
    put(drum({x, y, thick_}, 0.004, wide), "part2", Layer::gear);
    put(drum({x, y, thick_ + 0.004}, 0, radius), "axis", Layer::gear, in_plan);
  }

  void name_hold_downs() {
    if (b_.hold_downs.empty()) return;
    const HoldDown& h = b_.hold_downs.back();
    const char* kind = h.kind == HoldDownKind::eye_bolt ? "eye bolt "
                       : h.kind == HoldDownKind::u_bolt ? "U-bolt "
                       : h.kind == HoldDownKind::pin    ? "pin "
                                                        : "bolt ";
    scene_.labels.push_back({{kind + brief(h.thread.name)},
                             {h.place.forward.value(), across(h.place), thick_},
                             "note",
                             in_plan | in_stern,
                             whole});
  }

  void leg(const Leg& l) {
    const double to = sign_of(l.place.side);
    const double x = l.place.forward.value();
    const double y = across(l.place);
    const double dx = 0.5 * l.fore_aft.value();
    const double dy = 0.5 * l.athwart.value();
    const double top = l.beside ? thick_ : 0;
    const double fx = x + l.foot_forward.value();
    const double fy = y + to * l.foot_outboard.value();
    std::vector<Spot> corners = box({x - dx, y - dy, top}, {x + dx, y + dy, top});
    for (const Spot& p : box({fx - dx, fy - dy, 0}, {fx + dx, fy + dy, 0})) {
      corners.push_back(p + Spot{0, 0, top - l.length.value()});
    }
    put(corners, "part2", Layer::mount, in_side | in_stern);
    put(corners, "hidden", Layer::gear, in_plan);
    if (&l != &b_.legs.front()) return;
    const Spot at{0.5 * (x + fx), 0.5 * (y + fy), top - 0.6 * l.length.value()};
    scene_.labels.push_back({{"leg"}, at, "text", everywhere, whole});
  }

  // Outboard side of what the ledge stands against, and of the gunwale where the beam is known.
  [[nodiscard]] double hull_at(Side side) const {
    const Ledge& l = b_.ledge(side);
    const double along = l.kind == LedgeKind::angle ? l.along.value() : 0;
    return inner(side) + sign_of(side) * along;
  }
  [[nodiscard]] double edge_at(Side side) const {
    const double to = sign_of(side);
    if (s_.boat) return middle() + to * 0.5 * s_.boat->beam.value();
    const Ledge& l = b_.ledge(side);
    const double least = l.kind == LedgeKind::gunwale_top ? l.along.value() : 0.06;
    return hull_at(side) + to * least;
  }

  void hull() {
    const bool boat = s_.boat.has_value();
    const double ahead = 0.5 * width_ + cut_off;
    const double aft = s_.fit ? transom() : -ahead;
    for (const Side side : {Side::port, Side::starboard}) gunwale(side, aft, ahead);
    if (boat && s_.fit) {
      put({{aft, edge_at(Side::port), gunwale()}, {aft, edge_at(Side::starboard), gunwale()}},
          "axis", Layer::boat, in_plan, Form::line);
      scene_.labels.push_back(
          {{"transom"}, {aft, 0.35 * edge_at(Side::starboard), 0}, "note", in_plan, whole});
    }
    if (on_board_ && boat) scene_.water = gunwale() - s_.boat->freeboard.value();
    side_of_hull(aft, ahead);
  }

  void gunwale(Side side, double aft, double ahead) {
    const double in = hull_at(side);
    const double out = edge_at(side);
    const double to = sign_of(side);
    const double z = gunwale();
    put(box({aft, in, z}, {ahead, out, z}), "hull", Layer::boat, in_plan);
    const Spot tooth{0.02, 0, 0};
    put_break({ahead, in, z}, {ahead, out, z}, tooth, in_plan);
    if (!s_.fit) put_break({aft, in, z}, {aft, out, z}, tooth, in_plan);
    if (side == Side::starboard && !s_.fit && b_.starboard.kind != LedgeKind::gunwale_top) {
      scene_.labels.push_back({{"gunwale"}, {0.9 * aft, 0.7 * out + 0.3 * in, z}, "note", in_plan});
    }
    // In the section: thickness known at a ledge that is bolted on, else nothing but a face.
    const Ledge& l = b_.ledge(side);
    const double low = l.fastening ? -l.fastening->foot_below.value() - 0.04 : z - 0.1;
    const double wall = l.fastening ? l.fastening->hull_thickness.value() : 0;
    if (wall > 0)
      put(box({aft, in, low}, {ahead, in + to * wall, z}), "hull", Layer::boat, in_stern);
    put({{0, in, z}, {0, out, z}}, l.kind == LedgeKind::gunwale_top ? "axis" : "hidden",
        Layer::boat, in_stern, Form::line);
    const double down = on_board_ && s_.boat ? z - s_.boat->freeboard.value() - 0.05 : z - 0.15;
    put({{0, out, z}, {0, out, down}}, "hidden", Layer::boat, in_stern, Form::line);
    if (wall == 0) put({{0, in, z}, {0, in, low}}, "hidden", Layer::boat, in_stern, Form::line);
  }

  void put_break(const Spot& a, const Spot& b, const Spot& tooth, Set views) {
    scene_.solids.push_back(break_line(a, b, tooth, views));
    scene_.solids.back().panels = whole;
  }

  void side_of_hull(double aft, double ahead) {
    const double z = gunwale();
    const double down = on_board_ && s_.boat ? z - s_.boat->freeboard.value() - 0.04 : z - 0.15;
    put(box({aft, 0, down}, {ahead, 0, z}), "hull", Layer::boat, in_side);
    const Spot tooth{0.02, 0, 0};
    put_break({ahead, 0, z}, {ahead, 0, down}, tooth, in_side);
    if (!s_.fit) put_break({aft, 0, z}, {aft, 0, down}, tooth, in_side);
    put_break({aft, 0, down}, {ahead, 0, down}, {0, 0, 0.02}, in_side);
    const char* word = gunwale_known() ? "hull side" : "hull side, height not known";
    scene_.labels.push_back(
        {{word}, {0.5 * (aft + ahead), 0, 0.5 * (z + down)}, "note", in_side, whole});
    if (!gunwale_known())
      scene_.note("Gunwale drawn level with the seats: not known.", in_side | in_stern);
  }

  void dimensions() {
    const double edge = -0.5 * width_;
    const auto across_boat = [&](double a, double b, const std::string& words, Length v,
                                 View view) {
      scene_.dimensions.push_back(
          {{edge, a, 0}, {edge, b, 0}, words + show(v, s_.units), view, false, whole});
    };
    if (std::abs(b_.port_overhang.value()) > 1e-6) {
      across_boat(port_end(), -half_, "overhang ", b_.port_overhang, View::plan);
    }
    for (const View v : {View::plan, View::stern}) {
      across_boat(-half_, half_, "clear ", b_.clear_width, v);
    }
    across_boat(port_end(), starboard_end(), "length ", b_.board.length, View::plan);
    scene_.dimensions.push_back({{-0.5 * width_, 0, 0},
                                 {0.5 * width_, 0, 0},
                                 show(b_.board.width, s_.units),
                                 View::side,
                                 false,
                                 whole});
    if (!scene_.water) return;
    scene_.dimensions.push_back({{0, edge_at(Side::port), *scene_.water},
                                 {0, edge_at(Side::port), gunwale()},
                                 show(s_.boat->freeboard, s_.units),
                                 View::stern,
                                 true,
                                 whole});
  }

  void worst() {
    scene_.worst = worst_of(content_);
    if (!scene_.worst) return;
    const CheckResult& c = content_.assessment.checks.front();
    scene_.worst->at = place_of(c);
    if (c.where.empty()) return;
    scene_.worst->words += ", " + brief(c.where);
    if (scene_.worst->at) scene_.worst->in_short = brief(c.where);
  }

  [[nodiscard]] std::optional<Spot> place_of(const CheckResult& c) const {
    for (const FailureMode& m : board_catalogue()) {
      if (m.id == c.mode) return place_of(m.item, c.where);
    }
    return std::nullopt;
  }

  [[nodiscard]] std::optional<Spot> place_of(Item item, const std::string& where) const {
    switch (item) {
      case Item::cut:
        return cut_at(where);
      case Item::hold_down:
        for (const HoldDown& h : b_.hold_downs) {
          if (h.name == where) return Spot{h.place.forward.value(), across(h.place), thick_};
        }
        return std::nullopt;
      case Item::ledge:
        for (const Side side : {Side::port, Side::starboard}) {
          if (where != std::string(word_for(side)) + " ledge") continue;
          return Spot{0, inner(side) + sign_of(side) * 0.5 * b_.ledge(side).along.value(), 0};
        }
        return std::nullopt;
      case Item::leg:
        for (const Leg& l : b_.legs) {
          if (l.name == where) return Spot{l.place.forward.value(), across(l.place), 0};
        }
        return std::nullopt;
      case Item::gear:
        for (const Gear& g : s_.gear) {
          if (g.name == where) return stand_of(g).foot;
        }
        return std::nullopt;
      case Item::fastener:
        break;
    }
    return std::nullopt;
  }

  // "310 mm from the port end", as the assessment writes it.
  [[nodiscard]] std::optional<Spot> cut_at(const std::string& where) const {
    const std::size_t end = where.find(" from the port end");
    if (end == std::string::npos) return std::nullopt;
    try {
      const double x = parse<Length>(where.substr(0, end)).value();
      if (x < -1e-3 || x > b_.board.length.value() + 1e-3) return std::nullopt;
      return Spot{0, port_end() + x, thick_};
    } catch (const Error&) {
      return std::nullopt;
    }
  }

  // Mount and gear follow their seats.
  void slope() {
    const double rise = half_ > 0 ? 0.5 * b_.starboard_higher.value() / half_ : 0;
    const double fore = std::tan(b_.bow_up.value());
    if (rise == 0 && fore == 0) return;
    const auto turn = [&](Spot& p) { p.z += rise * p.y + fore * p.x; };
    for (Solid& s : scene_.solids) {
      if (s.layer == Layer::boat) continue;
      for (Spot& p : s.corners) turn(p);
    }
    for (Label& l : scene_.labels) turn(l.at);
    for (Sign& g : scene_.signs) turn(g.at);
    if (scene_.pull) turn(scene_.pull->at);
    if (scene_.worst && scene_.worst->at) turn(*scene_.worst->at);
  }

  const SheetContent& content_;
  const Setup& s_;
  const CrossBoard& b_;
  double half_, width_, thick_;
  bool on_board_;
  Scene scene_;
};

}  // namespace

Scene board_scene(const SheetContent& content, bool on_board) {
  return BoardScene(content, on_board).made();
}

}  // namespace thole::scene
