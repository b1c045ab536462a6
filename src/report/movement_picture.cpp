#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "core/stable_order.hpp"
#include "report/chart_labels.hpp"
#include "report/html.hpp"
#include "report/pictures.hpp"
#include "report/text.hpp"

namespace thole::pictures {
namespace {

using charts::line_height;
using charts::text_size;
using svg::Anchor;
using svg::Drawing;
using svg::Point;

constexpr double margin = 12;
constexpr double most_drawn = 34;        // of a movement, in units of the drawing
constexpr double most_turned = 0.35;     // of a turn, in radians as drawn
constexpr double least_movement = 1e-6;  // m: what is less is none
constexpr double least_turn = 1e-6;
constexpr double hardly_turns = 1e-3;  // radians: not drawn larger

// "1.2 mm (0.05 in)", the reader's first.
std::string both(Length v, ReaderUnits u) {
  const double size = std::abs(v.value());
  const auto two_figures = [](double x) {
    return x >= 10  ? fmt::format("{:.0f}", x)
           : x >= 1 ? fmt::format("{:.1f}", x)
                    : fmt::format("{:.2f}", x);
  };
  const std::string mm = two_figures(size * 1000) + " mm";
  const std::string in = fmt::format("{:.{}f} in", size / 0.0254, size < 0.00254 ? 3 : 2);
  return u == ReaderUnits::inch ? in + " (" + mm + ")" : mm + " (" + in + ")";
}

std::string up_or_down(Length v, ReaderUnits u) {
  if (std::abs(v.value()) < 5e-6) return "not up or down";
  return (v.value() > 0 ? "up " : "down ") + both(v, u);
}

std::string degrees_in_words(Angle a) {
  const double deg = std::abs(in_degrees(a));
  return deg < 0.05 ? "less than 0.1 deg" : fmt::format("{:.1f} deg", deg);
}

// The greatest of 1, 2, 5, 10, 20 ... 500 that draws `size` no larger than `room`.
double round_factor(double size, double room) {
  if (!(size > 0)) return 1;
  const double most = room / size;
  double out = 1;
  for (double ten = 1; ten <= 100; ten *= 10) {
    for (const double m : {1.0, 2.0, 5.0}) {
      if (m * ten <= most) out = m * ten;
    }
  }
  return out;
}

struct Moved {
  const CaseForces* forces = nullptr;
  std::string load;  // case and direction
};

// Of a person, whose words do not tell: "890 N up".
std::string person_pulls(const Loading& l, ReaderUnits u) {
  if (!l.person_at || !l.way) return "";
  const double up = l.way->z();
  return ", " + about(l.pull, u, Rounding::up) +
         (up > 0.5    ? " up"
          : up < -0.5 ? " down"
                      : " to one side");
}

std::optional<Moved> worst_of(const Assessment& a, ReaderUnits u) {
  if (!a.worst_forces || *a.worst_forces >= a.forces.size()) return std::nullopt;
  Moved out;
  out.forces = &a.forces[*a.worst_forces];
  const Loading& l = out.forces->loading;
  if (l.load_case < a.cases.size()) out.load = a.cases[l.load_case].load_case.title;
  if (!l.words.empty()) out.load += (out.load.empty() ? "" : ", ") + l.words;
  out.load += person_pulls(l, u);
  return out;
}

bool is_rough(const Assessment& a) {
  return std::any_of(a.movements.begin(), a.movements.end(),
                     [](const MovementRow& r) { return r.rough; });
}

// "; up to 9.1 mm (0.36 in) under 450 N of its own", where that is more than `drawn`.
std::string most_of_all(const Assessment& a, const std::string& gear, Length drawn, ReaderUnits u) {
  const MovementRow* most = nullptr;
  for (const MovementRow& r : a.movements) {
    if (r.gear == gear && (most == nullptr || r.tip > most->tip)) most = &r;
  }
  if (most == nullptr || !(most->tip > drawn)) return "";
  return "; up to " + both(most->tip, u) + " under its own pull of " +
         about(most->pull, u, Rounding::up);
}

std::string caption_of(const std::string& load, const std::string& how,
                       const std::vector<std::string>& rows, const Assessment& a) {
  std::string list;
  for (const std::string& r : rows) list += html::element("li", html::text(r, 200));
  std::string words = html::text(text::sentence(load), 200) + " " + how;
  if (is_rough(a)) words += " It moves too far for the figures to be more than rough.";
  return html::element("p", words, "note") + html::element("ul", list);
}

// ---- A board, seen from astern ----

class BoardMoved {
 public:
  BoardMoved(const SheetContent& c, const Moved& moved)
      : s_(c.setup), a_(c.assessment), moved_(moved), cuts_(moved.forces->cuts) {
    double most_lift = 0;
    double most_turn = 0;
    for (const CutForce& cut : cuts_) {
      most_lift = std::max(most_lift, std::abs(cut.lift.value()));
      most_turn = std::max(most_turn, std::abs(cut.turn.value()));
    }
    length_ = s_.board().board.length.value();
    scale_ = (charts::drawing_width - 2 * margin) / length_;
    lift_factor_ = round_factor(most_lift * scale_, most_drawn);
    turns_ = most_turn > hardly_turns;
    if (turns_) turn_factor_ = round_factor(most_turn, most_turned);
    find_stations();
  }

  Picture picture() const {
    const std::vector<std::string> words = rows();
    const std::string title = fmt::format("Movement, drawn {:g} x", lift_factor_);
    Drawing d("movement", charts::drawing_width, section_y + 78, title, description(words));
    d.text({margin, 14}, "port", text_size, Anchor::start, "strong");
    d.text({charts::drawing_width / 2, 14}, "seen from astern", text_size, Anchor::middle, "note");
    d.text({charts::drawing_width - margin, 14}, "starboard", text_size, Anchor::end, "strong");
    board(d);
    supports(d);
    sections(d);
    const std::string how =
        fmt::format("Seen from astern; the dashed line is the board at rest. Lift is drawn {:g} x",
                    lift_factor_) +
        (turns_ ? fmt::format(", the turn about its length {:g} x, in sections with forward to "
                              "the right.",
                              turn_factor_)
                : "; it hardly turns about its length.");
    return {"movement", title, d.element(), caption_of(moved_.load, how, words, a_)};
  }

 private:
  static constexpr double rest_y = 80;
  static constexpr double labels_y = rest_y + most_drawn + 26;
  static constexpr double section_y = 204;
  static constexpr std::size_t most_sections = 5;

  struct Station {
    std::string name;
    double x = 0;  // from the port end
  };

  [[nodiscard]] double page_x(double x) const { return margin + scale_ * x; }
  [[nodiscard]] double page_y(double lift) const { return rest_y - scale_ * lift_factor_ * lift; }

  // Between the cuts as a straight line.
  template <class Of>
  [[nodiscard]] double between(double x, Of of) const {
    for (std::size_t i = 0; i + 1 < cuts_.size(); ++i) {
      const double a = cuts_[i].from_port.value();
      const double b = cuts_[i + 1].from_port.value();
      if (x > b) continue;
      const double part = b > a ? std::clamp((x - a) / (b - a), 0.0, 1.0) : 0;
      return of(cuts_[i]) + part * (of(cuts_[i + 1]) - of(cuts_[i]));
    }
    return of(cuts_.back());
  }
  [[nodiscard]] double lift_at(double x) const {
    return between(x, [](const CutForce& c) { return c.lift.value(); });
  }
  [[nodiscard]] double turn_at(double x) const {
    return between(x, [](const CutForce& c) { return c.turn.value(); });
  }

  [[nodiscard]] bool is_ledge(const SupportForce& f) const {
    return text::ends_with(f.name, " ledge");
  }

  // Gears and ledges, from port to starboard; of two near each other the gear.
  void find_stations() {
    const CrossBoard& b = s_.board();
    for (const Gear& g : s_.gear) {
      stations_.push_back({charts::short_name(g.name, 30), b.station(g.place).value()});
    }
    const std::size_t gears = stations_.size();
    for (const SupportForce& f : moved_.forces->supports) {
      if (!is_ledge(f)) continue;
      const double x = f.at.x().value();
      const bool near =
          std::any_of(stations_.begin(), stations_.begin() + std::ptrdiff_t(gears),
                      [&](const Station& o) { return scale_ * std::abs(o.x - x) < 14; });
      if (!near && stations_.size() < most_sections) stations_.push_back({f.name, x});
    }
    sort_stably(stations_, [](const Station& x, const Station& y) { return x.x < y.x; });
  }

  void board(Drawing& d) const {
    d.line({page_x(0), rest_y}, {page_x(length_), rest_y}, "hidden");
    const double half = std::max(2.0, scale_ * s_.board().board.thickness.value() / 2);
    std::vector<Point> upper;
    std::vector<Point> lower;
    for (const CutForce& c : cuts_) {
      const double x = page_x(c.from_port.value());
      const double y = page_y(c.lift.value());
      upper.push_back({x, y - half});
      lower.push_back({x, y + half});
    }
    upper.insert(upper.end(), lower.rbegin(), lower.rend());
    d.polygon(upper, "moved");
    for (std::size_t i = 0; i < stations_.size(); ++i) {
      const double x = page_x(stations_[i].x);
      const double y = page_y(lift_at(stations_[i].x)) - half - 5;
      d.text({x, y}, letter(i), text_size, Anchor::middle, "strong chart-figure");
    }
  }

  [[nodiscard]] static std::string letter(std::size_t i) { return {char('A' + int(i))}; }

  // A wedge below the board at rest; where nothing touches, hollow and said.
  void supports(Drawing& d) const {
    for (const SupportForce& f : moved_.forces->supports) {
      if (!is_ledge(f)) continue;
      const double x = page_x(f.at.x().value());
      const double top = rest_y + std::max(2.0, scale_ * s_.board().board.thickness.value() / 2);
      d.polygon({{x, top}, {x + 9, top + 14}, {x - 9, top + 14}},
                f.open ? "moved-open" : "moved-seat");
      const bool left = x < charts::drawing_width / 2;
      const double edge = left ? margin : charts::drawing_width - margin;
      const Anchor anchor = left ? Anchor::start : Anchor::end;
      d.text({edge, labels_y}, f.name, text_size, anchor, "text");
      d.text({edge, labels_y + line_height}, f.open ? "lifts off here" : "presses here", text_size,
             anchor, f.open ? "strong" : "note");
    }
  }

  // Little cross-sections in a row, a letter for each.
  void sections(Drawing& d) const {
    const BoardPiece& b = s_.board().board;
    const double room = (charts::drawing_width - 2 * margin) / double(stations_.size());
    const double size = std::min(52.0, room - 16) / std::max(1e-6, b.width.value());
    const double half_width = size * b.width.value() / 2;
    const double half_height = std::min(18.0, std::max(1.5, size * b.thickness.value() / 2));
    for (std::size_t i = 0; i < stations_.size(); ++i) {
      const Point at{margin + room * (double(i) + 0.5), section_y};
      const double turn = turn_factor_ * turn_at(stations_[i].x);
      section(d, at, half_width, half_height, 0, "hidden");
      section(d, at, half_width, half_height, turn, "moved");
      d.text({at.x, section_y + 42}, letter(i), text_size, Anchor::middle, "strong");
      d.text({at.x, section_y + 56},
             fmt::format("{:.1f} deg",
                         std::abs(in_degrees(Angle::from_value(turn_at(stations_[i].x))))),
             text_size, Anchor::middle, "text");
    }
    d.text({charts::drawing_width - margin, section_y + 72},
           turns_ ? fmt::format("turn drawn {:g} x, forward to the right", turn_factor_)
                  : "it hardly turns about its length",
           text_size, Anchor::end, "note");
  }

  // Seen from the port end, where forward is to the left, it would be the mirror image.
  // Forward edge up is a turn above zero.
  static void section(Drawing& d, Point at, double half_width, double half_height, double turn,
                      std::string_view of) {
    std::vector<Point> corners;
    for (const auto& [x, y] : {std::pair{-1.0, -1.0}, {1.0, -1.0}, {1.0, 1.0}, {-1.0, 1.0}}) {
      const double u = x * half_width;
      const double v = y * half_height;
      corners.push_back({at.x + u * std::cos(turn) + v * std::sin(turn),
                         at.y - u * std::sin(turn) + v * std::cos(turn)});
    }
    d.polygon(corners, of);
  }

  [[nodiscard]] std::vector<std::string> rows() const {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < stations_.size(); ++i) {
      const Length lift = Length::from_value(lift_at(stations_[i].x));
      const double turn = turn_at(stations_[i].x);
      std::string row = letter(i) + ", " + stations_[i].name + ": " + up_or_down(lift, s_.units) +
                        ", turned " + degrees_in_words(Angle::from_value(turn));
      if (std::abs(turn) > 1e-4) row += turn > 0 ? ", forward edge up" : ", forward edge down";
      for (const GearMotion& m : moved_.forces->motions) {
        if (charts::short_name(m.gear, 30) != stations_[i].name) continue;
        row += "; its tip moves " + both(m.tip.norm(), s_.units) +
               most_of_all(a_, m.gear, m.tip.norm(), s_.units);
      }
      out.push_back(row);
    }
    return out;
  }

  [[nodiscard]] std::string description(const std::vector<std::string>& words) const {
    std::string out = charts::short_name(moved_.load, 100) + ". " + text::joined(words, "; ");
    for (const SupportForce& f : moved_.forces->supports) {
      if (is_ledge(f) && f.open) out += "; lifts off the " + f.name;
    }
    return out + ".";
  }

  const Setup& s_;
  const Assessment& a_;
  const Moved& moved_;
  const std::vector<CutForce>& cuts_;
  double length_ = 1;
  double scale_ = 1;
  double lift_factor_ = 1;
  double turn_factor_ = 1;
  bool turns_ = false;
  std::vector<Station> stations_;
};

// ---- A base with its gear, seen square to the plane in which its tip moves ----

class BaseMoved {
 public:
  BaseMoved(const SheetContent& c, const Moved& moved, const GearMotion& motion, const Gear& gear)
      : s_(c.setup), a_(c.assessment), moved_(moved), motion_(motion), gear_(gear) {
    aim();
    size();
  }

  Picture picture() const {
    const std::string title = fmt::format("Movement, drawn {:g} x", factor_);
    const std::vector<std::string> words = rows();
    Drawing d("movement", charts::drawing_width, floor_ + most_drawn + 38, title,
              charts::short_name(moved_.load, 100) + ". " + text::joined(words, "; ") + ".");
    d.line({margin, floor_}, {charts::drawing_width - margin, floor_}, "hull");
    shape(d, 0, "hidden");
    shape(d, factor_, "moved");
    d.text({margin, floor_ + most_drawn + 14}, toward_words(), text_size, Anchor::start, "note");
    d.text({margin, floor_ + most_drawn + 30},
           fmt::format("movement drawn {:g} x; dashed: at rest", factor_), text_size, Anchor::start,
           "strong");
    return {"movement", title, d.element(),
            caption_of(moved_.load,
                       "Base and gear as one rigid piece on its bed; what bends in the gear or in "
                       "the boat comes on top.",
                       words, a_)};
  }

 private:
  // Along the boom, or the way that the tip moves.
  void aim() {
    const auto& tip = motion_.tip;
    double x = tip.x().value();
    double y = tip.y().value();
    if (gear_.downrigger && moved_.forces->loading.boom) {
      const double azimuth = radians(*moved_.forces->loading.boom);
      x = -std::cos(azimuth);
      y = std::sin(azimuth);
    }
    const double length = std::hypot(x, y);
    if (length > 0) way_ = {x / length, y / length};
    height_ = 0.1;
    if (gear_.rod_holder) height_ = gear_.rod_holder->height.value();
    if (gear_.plain_load) height_ = gear_.plain_load->at.z().value();
    if (gear_.downrigger) {
      height_ = gear_.downrigger->tip_height.value();
      reach_ = gear_.downrigger->boom_length.value();
    }
    height_ = std::max(height_, 0.03);
    // About the gear's foot, which on a bracket is not in the middle.
    const auto& bracket = s_.plate().bracket;
    const PlanPoint foot = bracket ? bracket->gear_at : PlanPoint{};
    for (const PlanPoint& p : s_.plate().base.outline) {
      const double at = (p.x - foot.x).value() * way_.x + (p.y - foot.y).value() * way_.y;
      base_from_ = std::min(base_from_, at);
      base_to_ = std::max(base_to_, at);
    }
  }

  void size() {
    const double left = std::min(base_from_, 0.0);
    const double right = std::max(base_to_, reach_);
    scale_ = std::min((charts::drawing_width - 2 * margin - 2 * most_drawn) / (right - left),
                      150 / height_);
    double most = 0;
    for (const auto& [x, z] :
         {std::pair{reach_, height_}, {0.0, 0.0}, {base_from_, 0.0}, {base_to_, 0.0}}) {
      const Point m = moved(x, z);
      most = std::max(most, std::hypot(m.x, m.y));
    }
    factor_ = round_factor(most * scale_, most_drawn);
    floor_ = most_drawn + 20 + scale_ * height_;
    middle_ = charts::drawing_width / 2 - scale_ * (left + right) / 2;
  }

  template <class V>
  [[nodiscard]] double along(const V& v) const {
    return v.x().value() * way_.x + v.y().value() * way_.y;
  }
  template <class V>
  [[nodiscard]] static double up(const V& v) {
    return v.z().value();
  }

  // How a place of the rigid piece moves: foot and tip are given, the rest turns with them.
  [[nodiscard]] Point moved(double x, double z) const {
    const double dx = along(motion_.tip) - along(motion_.foot);
    const double dz = up(motion_.tip) - up(motion_.foot);
    const double turn = (dx * height_ - dz * reach_) / (height_ * height_ + reach_ * reach_);
    return {along(motion_.foot) + turn * z, up(motion_.foot) - turn * x};
  }

  [[nodiscard]] Point page(double x, double z, double factor) const {
    const Point m = moved(x, z);
    return {middle_ + scale_ * (x + factor * m.x), floor_ - scale_ * (z + factor * m.y)};
  }

  void shape(Drawing& d, double factor, std::string_view of) const {
    const double thick = std::max(3.0 / scale_, s_.plate().base.thickness.value());
    d.polygon({page(base_from_, 0, factor), page(base_to_, 0, factor),
               page(base_to_, thick, factor), page(base_from_, thick, factor)},
              of);
    d.polyline({page(0, thick, factor), page(0, height_, factor), page(reach_, height_, factor)},
               of == "moved" ? "moved-line" : of);
    d.circle(page(reach_, height_, factor), 3, of);
  }

  [[nodiscard]] std::string toward_words() const {
    if (gear_.downrigger) return "to the right: the way the boom points";
    return "to the right: the way its top moves";
  }

  [[nodiscard]] std::vector<std::string> rows() const {
    const char* what = gear_.downrigger ? "boom tip" : gear_.rod_holder ? "rim" : "point pulled";
    const std::string name = charts::short_name(gear_.name, 30);
    return {name + ": " + what + " moves " + both(motion_.tip.norm(), s_.units) +
                most_of_all(a_, gear_.name, motion_.tip.norm(), s_.units),
            "base: " + up_or_down(motion_.foot.z(), s_.units) + " in its middle, turned " +
                degrees_in_words(motion_.turn)};
  }

  const Setup& s_;
  const Assessment& a_;
  const Moved& moved_;
  const GearMotion& motion_;
  const Gear& gear_;
  Point way_{0, 1};       // forward, outboard
  double height_ = 0.1;   // m, of what moves above the bed
  double reach_ = 0;      // m
  double base_from_ = 0;  // m, from the foot of the gear
  double base_to_ = 0;
  double scale_ = 1;
  double factor_ = 1;
  double floor_ = 0;
  double middle_ = 0;
};

bool moves(const CutForce& c) {
  return std::abs(c.lift.value()) > least_movement || std::abs(c.turn.value()) > least_turn;
}

}  // namespace

Picture movement(const SheetContent& content) {
  const std::optional<Moved> moved = worst_of(content.assessment, content.setup.units);
  if (!moved) return {};
  const CaseForces& f = *moved->forces;
  if (content.setup.on_board()) {
    if (f.cuts.size() < 2 || std::none_of(f.cuts.begin(), f.cuts.end(), moves)) return {};
    return BoardMoved(content, *moved).picture();
  }
  // The gear that is pulled, or the one that moves most.
  const GearMotion* motion = nullptr;
  for (const GearMotion& m : f.motions) {
    if (!(m.tip.norm().value() > least_movement)) continue;
    const bool own = m.gear == f.loading.gear;
    if (motion == nullptr || own ||
        (motion->gear != f.loading.gear && m.tip.norm() > motion->tip.norm())) {
      motion = &m;
    }
  }
  if (motion == nullptr) return {};
  for (const Gear& g : content.setup.gear) {
    if (g.name == motion->gear) return BaseMoved(content, *moved, *motion, g).picture();
  }
  return {};
}

}  // namespace thole::pictures
