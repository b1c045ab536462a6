#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "report/chart_labels.hpp"
#include "report/html.hpp"
#include "report/pictures.hpp"
#include "report/pull_items.hpp"
#include "report/text.hpp"

namespace thole::pictures {
namespace {

using charts::Block;
using charts::line_height;
using charts::text_size;
using ruler::Item;
using ruler::Look;
using ruler::Ruler;
using svg::Anchor;
using svg::Drawing;
using svg::Point;

// Places across the drawing, in its units.
constexpr double staff_left = 132;
constexpr double staff_right = 208;
constexpr double stripe = 4;  // along either edge, its joints are the marks of the scale
constexpr double lanes = 13;  // beside the staff: room for wedges and bands
constexpr double labels_to = 111;
constexpr double labels_from = charts::drawing_width - labels_to;
constexpr double margin = 2;
constexpr double scale_top = 62;
constexpr double least_height = 300;
constexpr double between_ticks = 20;
constexpr double between_labels = 5;
constexpr std::size_t most_lines = 4;  // of an item
constexpr std::size_t more_lines = 6;  // of a setting: why there is none
constexpr double least_part = 0.005;   // of the top: a smaller round number says nothing
constexpr double linear_from = 0.06;   // of the top: the lowest mark that an even scale can show

// From pulls to places on the page, in drawing units.
class Scale {
 public:
  Scale(const Ruler& r, double height) : height_(height) {
    top_ = r.top.value() * 1.02;
    if (!(top_ > 0) || !std::isfinite(top_)) top_ = 1;
    for (const Item& i : r.items) {
      const double v = i.low->value();
      if (v > 1e-9 && v < linear_from * top_) even_ = false;
    }
  }
  [[nodiscard]] double y(double newtons) const {
    const double part = std::clamp(newtons / top_, 0.0, 1.0);
    return scale_top + height_ * (1 - (even_ ? part : std::sqrt(part)));
  }
  [[nodiscard]] double y(Force f) const { return y(f.value()); }
  [[nodiscard]] double bottom() const { return scale_top + height_; }
  [[nodiscard]] bool even() const { return even_; }
  [[nodiscard]] double top() const { return top_; }

  // Round numbers in a unit of so many newtons, never nearer than `between_ticks`.
  [[nodiscard]] std::vector<double> ticks(double newtons) const {
    std::vector<double> out{0};
    if (even_) {
      const double room = between_ticks / height_ * top_ / newtons;
      const double step = charts::round_up(room);
      for (double v = step; v * newtons <= top_; v += step) out.push_back(v);
      return out;
    }
    const auto offer = [&](double v) {
      const bool free = std::all_of(out.begin(), out.end(), [&](double other) {
        return std::abs(y(v * newtons) - y(other * newtons)) >= between_ticks;
      });
      if (v * newtons <= top_ && v * newtons >= least_part * top_ && free) out.push_back(v);
    };
    for (const auto& step : {std::vector<double>{1}, {2, 5}, {3, 4, 1.5}, {6, 7, 8, 9, 2.5, 3.5}}) {
      // From above: the largest number is worth most.
      for (int k = 6; k >= -2; --k) {
        for (const double m : step) offer(m * std::pow(10.0, k));
      }
    }
    std::sort(out.begin(), out.end());
    return out;
  }

 private:
  double height_;
  double top_ = 1;
  bool even_ = true;
};

struct Label {
  const Item* item;
  std::vector<std::string> lines;
  std::size_t bold = 0;  // the first of them: the figure
  [[nodiscard]] double height() const { return line_height * double(lines.size()); }
};

Label label_of(const Item& i) {
  const double room = labels_to - margin;
  const double beside_mark = room - (i.wrong || i.useless ? 16 : 0);
  Label out{&i, charts::lines_of(i.figure, beside_mark, 2, true)};
  out.bold = out.lines.size();
  const std::string what = (i.wrong ? "too early: " : "") + i.what;
  const std::size_t most = i.look == Look::setting ? more_lines : most_lines;
  for (const std::string& line : charts::lines_of(what, room, most)) {
    out.lines.push_back(line);
  }
  return out;
}

std::string heading(const Setup& s, const Ruler& r) {
  std::vector<std::string> names;
  for (const std::string& n : r.names) names.push_back(charts::short_name(n, 30));
  std::string of = beside::whose(s, r.names);
  if (of.rfind("each ", 0) != 0) of = text::joined(names) + ": ";
  of.resize(of.size() - 2);
  return of.empty() ? beside::word_for_kind(*r.gear) : of;
}

const char* where_pulled(const Gear& g) {
  return g.downrigger ? "pull at the boom tip" : g.rod_holder ? "pull on the line" : "pull";
}

class Picturer {
 public:
  Picturer(const SheetContent& c, const Ruler& r, std::string id)
      : s_(c.setup),
        refused_(c.assessment.verdict == Verdict::no_verdict),
        r_(r),
        id_(std::move(id)),
        scale_(r, height()) {
    for (const Item& i : r.items) labels(i.left).push_back(label_of(i));
  }

  Picture picture() {
    Drawing d(id_, charts::drawing_width, scale_.bottom() + (scale_.even() ? 22 : 38),
              "Pull ruler: " + heading(s_, r_), description());
    heads(d);
    staff(d);
    if (unknown_left()) unknown(d);
    place(d, left_, true);
    place(d, right_, false);
    return {id_, "Pull ruler: " + heading(s_, r_), d.element(), caption()};
  }

 private:
  std::vector<Label>& labels(bool left) { return left ? left_ : right_; }

  [[nodiscard]] bool unknown_left() const { return !r_.unknown.empty(); }

  // Lines over the topmost label on the left: what is not known, and how much lies beyond.
  [[nodiscard]] std::vector<std::string> over_left() const {
    std::vector<std::string> out;
    const double room = labels_to - margin;
    const auto add = [&](const std::string& t, std::size_t most) {
      for (const std::string& line : charts::lines_of(t, room, most)) {
        out.push_back(line);
      }
    };
    if (!r_.beyond.empty()) {
      add(fmt::format("{} more, higher up: listed below", r_.beyond.size()), 3);
    }
    for (const Item& i : r_.unknown) add("? " + i.what + ": not known", 4);
    return out;
  }

  [[nodiscard]] double height() const {
    double both[2] = {double(over_left().size()) * line_height + 2 * between_labels, 0};
    for (const Item& i : r_.items) both[i.left ? 0 : 1] += label_of(i).height() + between_labels;
    return std::max({least_height, both[0], both[1]});
  }

  void heads(Drawing& d) const {
    d.text({margin, 14}, "Mount and boat", text_size, Anchor::start, "strong");
    d.text({margin, 28}, "should lie higher", text_size, Anchor::start, "text");
    const double right = charts::drawing_width - margin;
    d.text({right, 14}, "Set, or lets go", text_size, Anchor::end, "strong");
    d.text({right, 28}, "should lie lower", text_size, Anchor::end, "text");
    const double middle = (staff_left + staff_right) / 2;
    d.text({middle, 42}, where_pulled(*r_.gear), text_size, Anchor::middle, "text");
  }

  // Blocks in turn, as on a staff that stands in the water; their joints are the round numbers.
  void edge(Drawing& d, bool left, double newtons, const char* unit) const {
    const bool thousands = scale_.top() / newtons >= 9999;
    const double by = thousands ? 1000 : 1;
    const std::vector<double> ticks = scale_.ticks(newtons);
    const double x = left ? staff_left : staff_right - stripe;
    for (std::size_t i = 0; i < ticks.size(); ++i) {
      const double y = scale_.y(ticks[i] * newtons);
      const double upper = i + 1 < ticks.size() ? scale_.y(ticks[i + 1] * newtons) : scale_top;
      if (i % 2 == 0) d.rectangle({x, upper}, stripe, y - upper, "ruler-block");
      if (crossed(y) || y < scale_top + text_size / 2) continue;
      const double number_at = left ? staff_left + stripe + 2 : staff_right - stripe - 2;
      d.text({number_at, y + (i == 0 ? -1 : 4)}, show_number(ticks[i] / by), text_size,
             left ? Anchor::start : Anchor::end, "ruler-number");
    }
    const double at = left ? staff_left + 2 : staff_right - 2;
    d.text({at, scale_top - 5}, (thousands ? "k" : "") + std::string(unit), text_size,
           left ? Anchor::start : Anchor::end, "strong");
  }

  // A line across the staff goes through here.
  [[nodiscard]] bool crossed(double y) const {
    return std::any_of(r_.items.begin(), r_.items.end(), [&](const Item& i) {
      const bool line = i.look == Look::setting || i.look == Look::limit || i.look == Look::test;
      return line && std::abs(scale_.y(*i.low) - y) < text_size / 2 + 1;
    });
  }

  void staff(Drawing& d) const {
    d.rectangle({staff_left, scale_top}, staff_right - staff_left, scale_.bottom() - scale_top,
                "ruler-staff");
    const bool inch = s_.units == ReaderUnits::inch;
    edge(d, inch, charts::newtons_in_a_pound, "lbf");
    edge(d, !inch, 1, "N");
    if (scale_.even()) return;
    d.text({charts::drawing_width / 2, scale_.bottom() + 30},
           "the scale is drawn closer toward its top", text_size, Anchor::middle, "note");
  }

  // It may go anywhere: the whole length is hatched.
  void unknown(Drawing& d) const {
    const double width = 7;
    const double x = staff_left - width - 1;
    d.rectangle({x, scale_top}, width, scale_.bottom() - scale_top, "ruler-unknown");
    charts::hatch(d, {x, scale_top}, width, scale_.bottom() - scale_top, 7, "ruler-hatch");
  }

  void place(Drawing& d, std::vector<Label>& all, bool left) const {
    // The greatest pull stands highest.
    std::reverse(all.begin(), all.end());
    std::vector<Block> blocks;
    for (const Label& l : all) {
      const double y = scale_.y(*l.item->low);
      blocks.push_back({y - line_height / 2 + l.height() / 2, l.height()});
    }
    double top = scale_top;
    if (left) {
      for (const std::string& line : over_left()) {
        d.text({labels_to, top + 10}, line, text_size, Anchor::end, "note");
        top += line_height;
      }
      if (top > scale_top) top += 2 * between_labels;
    }
    const std::vector<double> middles =
        charts::moved_apart(blocks, between_labels, top, scale_.bottom() + 14);
    std::vector<double> taken;  // upper end of the last band in each lane
    const std::vector<std::size_t> lane = left ? std::vector<std::size_t>{} : lanes_of(all);
    for (std::size_t i = 0; i < all.size(); ++i) {
      write(d, all[i], middles[i] - all[i].height() / 2, left);
      if (left) {
        mark_left(d, *all[i].item);
      } else {
        mark_right(d, *all[i].item, lane[i], *std::max_element(lane.begin(), lane.end()) + 1);
      }
    }
  }

  void write(Drawing& d, const Label& l, double top, bool left) const {
    const double x = left ? labels_to : labels_from;
    const Anchor anchor = left ? Anchor::end : Anchor::start;
    const bool cross = l.item->wrong || l.item->useless;
    const double first = top + line_height / 2;
    const double inward = cross ? 16 : 0;
    if (cross) d.raw(html::mark_shape(html::Mark::cross, x + (left ? -6 : 6), first, 12));
    for (std::size_t i = 0; i < l.lines.size(); ++i) {
      const double shift = i < l.bold ? (left ? -inward : inward) : 0;
      d.text({x + shift, top + 11 + line_height * double(i)}, l.lines[i], text_size, anchor,
             i < l.bold ? "strong" : "text");
    }
    const double y = scale_.y(*l.item->low);
    const double from = left ? labels_to + 2 : labels_from - 2;
    const double to = left ? staff_left - lanes + 4 : staff_right + lanes - 2;
    d.line({from, first}, {to, y}, "thin");
  }

  // Bands that overlap stand beside each other.
  [[nodiscard]] std::vector<std::size_t> lanes_of(const std::vector<Label>& all) const {
    std::vector<std::size_t> out(all.size(), 0);
    std::vector<double> free;  // from the bottom up: where each lane is free
    for (std::size_t k = all.size(); k-- > 0;) {
      const Item& i = *all[k].item;
      if (i.look != Look::band) continue;
      const double low = scale_.y(*i.low);
      const double high = scale_.y(i.high.value_or(*i.low));
      std::size_t lane = 0;
      while (lane < free.size() && low > free[lane]) ++lane;
      if (lane == free.size()) free.push_back(0);
      free[lane] = high;
      out[k] = lane;
    }
    return out;
  }

  void mark_left(Drawing& d, const Item& i) const {
    const double y = scale_.y(*i.low);
    const double x = staff_left;
    if (i.look == Look::limit) {
      d.line({x - 9, y}, {staff_right, y}, "ruler-limit");
    } else if (i.look == Look::boat) {
      const std::string at = svg::number(y);
      d.path("M" + svg::number(x - 10) + " " + at + " q2.5 -5 5 0 t5 0", "ruler-boat");
    } else {
      d.polygon({{x, y}, {x - 9, y - 4.5}, {x - 9, y + 4.5}},
                i.wrong ? "ruler-wedge worst" : "ruler-wedge");
    }
  }

  void mark_right(Drawing& d, const Item& i, std::size_t lane, std::size_t of) const {
    const double y = scale_.y(*i.low);
    const double x = staff_right;
    if (i.look == Look::setting) {
      d.line({staff_left, y}, {x + lanes - 2, y}, "ruler-setting");
      d.polygon({{x, y}, {x + 10, y - 5}, {x + 10, y + 5}}, "ruler-setting-head");
    } else if (i.look == Look::test) {
      d.line({x - 14, y}, {x + lanes - 2, y}, "ruler-test");
    } else {
      const double width = (lanes - 3) / double(of);
      const double high = scale_.y(i.high.value_or(*i.low));
      d.rectangle({x + 1 + width * double(lane), high}, width - 1, std::max(1.5, y - high),
                  "ruler-band");
    }
  }

  [[nodiscard]] std::string description() const {
    std::string out = std::string(where_pulled(*r_.gear)) + ", from the least up: ";
    bool begun = false;
    for (const Item& i : r_.items) {
      out += (begun ? "; " : "") + std::string(i.wrong ? "too early: " : "") +
             charts::short_name(i.what, 60) + " " + i.figure;
      begun = true;
    }
    for (const Item& i : r_.unknown) out += "; not known: " + charts::short_name(i.what, 60);
    return out + ".";
  }

  [[nodiscard]] std::string caption() const {
    std::string out;
    if (!r_.order.empty()) {
      out += html::element("p", html::text(text::sentence(r_.order), 400));
    }
    std::string how =
        "What is set or meant to let go (right) should lie below all of the mount and the boat "
        "(left). A bar runs from its low to its high bound; a wedge says: not before this pull.";
    if (unknown_left()) how += " Hatched: nobody has said what that takes.";
    if (refused_) how += " There is no verdict: what cannot be calculated may go before all of it.";
    if (r_.mixed)
      how +=
          " Items of the mount stand at the least pull of any gear, but not below the first to go "
          "under "
          "this one.";
    out += html::element("p", how, "note");
    if (r_.beyond.empty()) return out;
    std::string list;
    for (const Item& i : r_.beyond) {
      list += (list.empty() ? "" : "; ") + std::string(i.wrong ? "too early: " : "") +
              html::text(i.what, 120) + " " + html::text(i.figure);
    }
    return out + html::element("p", "Higher up, in order: " + list + ".");
  }

  const Setup& s_;
  bool refused_;
  const Ruler& r_;
  std::string id_;
  std::vector<Label> left_;
  std::vector<Label> right_;
  Scale scale_;
};

}  // namespace

std::vector<Picture> pull_rulers(const SheetContent& content, Form) {
  const std::vector<Ruler> all = ruler::rulers(content.setup, content.assessment);
  std::vector<Picture> out;
  for (const Ruler& r : all) {
    out.push_back(Picturer(content, r, "pull-ruler-" + std::to_string(out.size() + 1)).picture());
  }
  return out;
}

}  // namespace thole::pictures
