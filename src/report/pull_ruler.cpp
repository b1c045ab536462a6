#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "report/chart_labels.hpp"
#include "report/html.hpp"
#include "report/pictures.hpp"
#include "report/pull_scale.hpp"
#include "report/pull_strip.hpp"
#include "report/text.hpp"

namespace thole::pictures {
namespace {

using charts::Block;
using charts::line_height;
using charts::text_size;
using ruler::Item;
using ruler::Look;
using ruler::Ruler;
using ruler::Scale;
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
constexpr std::size_t most_beyond = 8;

struct Label {
  const Item* item;
  std::vector<std::string> lines;
  std::size_t bold = 0;  // the first of them: the figure
  [[nodiscard]] double height() const { return line_height * double(lines.size()); }
};

Label label_of(const Item& i) {
  const double room = labels_to - margin;
  const double beside_mark = room - (ruler::is_marked(i) ? 16 : 0);
  Label out{&i, charts::lines_of(i.figure, beside_mark, 2, true)};
  out.bold = out.lines.size();
  const std::size_t most = i.look == Look::setting ? more_lines : most_lines;
  for (const std::string& line : charts::lines_of(ruler::words_of(i), room, most)) {
    out.lines.push_back(line);
  }
  return out;
}

class Picturer {
 public:
  Picturer(const SheetContent& c, const Ruler& r, std::string id)
      : s_(c.setup), r_(r), id_(std::move(id)), scale_(r, height(), between_ticks) {
    for (const Item& i : r.items) labels(i.left).push_back(label_of(i));
  }

  Picture picture() {
    const std::string title = "Pull ruler: " + ruler::heading(s_, r_);
    Drawing d(id_, charts::drawing_width, bottom() + (scale_.even() ? 22 : 38), title,
              ruler::in_words(r_));
    heads(d);
    staff(d);
    if (unknown_left()) unknown(d);
    place(d, left_, true);
    place(d, right_, false);
    return {id_, title, d.element(), caption()};
  }

 private:
  std::vector<Label>& labels(bool left) { return left ? left_ : right_; }

  // It may go anywhere.
  [[nodiscard]] bool unknown_left() const { return !r_.unknown.empty() || r_.refused; }

  [[nodiscard]] double bottom() const { return scale_top + scale_.length(); }
  [[nodiscard]] double y(double newtons) const { return bottom() - scale_.along(newtons); }
  [[nodiscard]] double y(Force f) const { return y(f.value()); }

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
      add(fmt::format("{} more, higher up: see below", r_.beyond.size()), 3);
    }
    if (r_.refused) add("? no verdict: something else may go first", 4);
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
    d.text({middle, 42}, ruler::where_pulled(*r_.gear), text_size, Anchor::middle, "text");
  }

  // Blocks in turn, as on a staff that stands in the water; their joints are the round numbers.
  void edge(Drawing& d, bool left, double newtons, const char* unit) const {
    const bool thousands = scale_.in_thousands(newtons);
    const double by = thousands ? 1000 : 1;
    const std::vector<double> ticks = scale_.ticks(newtons);
    const double x = left ? staff_left : staff_right - stripe;
    for (std::size_t i = 0; i < ticks.size(); ++i) {
      const double at = y(ticks[i] * newtons);
      const double upper = i + 1 < ticks.size() ? y(ticks[i + 1] * newtons) : scale_top;
      if (i % 2 == 0) d.rectangle({x, upper}, stripe, at - upper, "ruler-block");
      if (crossed(at) || at < scale_top + text_size / 2) continue;
      const double number_at = left ? staff_left + stripe + 2 : staff_right - stripe - 2;
      d.text({number_at, at + (i == 0 ? -1 : 4)}, show_number(ticks[i] / by), text_size,
             left ? Anchor::start : Anchor::end, "ruler-number");
    }
    const double unit_at = left ? staff_left + 2 : staff_right - 2;
    d.text({unit_at, scale_top - 5}, (thousands ? "k" : "") + std::string(unit), text_size,
           left ? Anchor::start : Anchor::end, "strong");
  }

  // A line across the staff goes through here.
  [[nodiscard]] bool crossed(double height) const {
    return std::any_of(r_.items.begin(), r_.items.end(), [&](const Item& i) {
      const bool line = i.look == Look::setting || i.look == Look::limit || i.look == Look::test;
      return line && std::abs(y(*i.low) - height) < text_size / 2 + 1;
    });
  }

  void staff(Drawing& d) const {
    d.rectangle({staff_left, scale_top}, staff_right - staff_left, bottom() - scale_top,
                "ruler-staff");
    const bool inch = s_.units == ReaderUnits::inch;
    edge(d, inch, charts::newtons_in_a_pound, "lbf");
    edge(d, !inch, 1, "N");
    if (scale_.even()) return;
    d.text({charts::drawing_width / 2, bottom() + 30}, "the scale is drawn closer toward its top",
           text_size, Anchor::middle, "note");
  }

  // It may go anywhere: the whole length is hatched.
  void unknown(Drawing& d) const {
    const double width = 7;
    const double x = staff_left - width - 1;
    d.rectangle({x, scale_top}, width, bottom() - scale_top, "ruler-unknown");
    charts::hatch(d, {x, scale_top}, width, bottom() - scale_top, 7, "ruler-hatch");
  }

  void place(Drawing& d, std::vector<Label>& all, bool left) const {
    // The greatest pull stands highest.
    std::reverse(all.begin(), all.end());
    std::vector<Block> blocks;
    for (const Label& l : all) {
      blocks.push_back({y(*l.item->low) - line_height / 2 + l.height() / 2, l.height()});
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
        charts::moved_apart(blocks, between_labels, top, bottom() + 14);
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
    const bool cross = ruler::is_marked(*l.item);
    const double first = top + line_height / 2;
    const double inward = cross ? 16 : 0;
    if (cross) d.raw(html::mark_shape(html::Mark::cross, x + (left ? -6 : 6), first, 12));
    for (std::size_t i = 0; i < l.lines.size(); ++i) {
      const double shift = i < l.bold ? (left ? -inward : inward) : 0;
      d.text({x + shift, top + 11 + line_height * double(i)}, l.lines[i], text_size, anchor,
             i < l.bold ? "strong" : "text");
    }
    const double from = left ? labels_to + 2 : labels_from - 2;
    const double to = left ? staff_left - lanes + 4 : staff_right + lanes - 2;
    d.line({from, first}, {to, y(*l.item->low)}, "thin");
  }

  // Bands that overlap stand beside each other.
  [[nodiscard]] std::vector<std::size_t> lanes_of(const std::vector<Label>& all) const {
    std::vector<std::size_t> out(all.size(), 0);
    std::vector<double> free;  // from the bottom up: where each lane is free
    for (std::size_t k = all.size(); k-- > 0;) {
      const Item& i = *all[k].item;
      if (i.look != Look::band) continue;
      const double low = y(*i.low);
      const double high = y(i.high.value_or(*i.low));
      std::size_t lane = 0;
      while (lane < free.size() && low > free[lane]) ++lane;
      if (lane == free.size()) free.push_back(0);
      free[lane] = high;
      out[k] = lane;
    }
    return out;
  }

  void mark_left(Drawing& d, const Item& i) const {
    const double at = y(*i.low);
    const double x = staff_left;
    if (i.look == Look::limit) {
      d.line({x - 9, at}, {staff_right, at}, "ruler-limit");
    } else if (i.look == Look::boat) {
      const std::string height = svg::number(at);
      d.path("M" + svg::number(x - 10) + " " + height + " q2.5 -5 5 0 t5 0", "ruler-boat");
    } else {
      d.polygon({{x, at}, {x - 9, at - 4.5}, {x - 9, at + 4.5}},
                i.wrong ? "ruler-wedge worst" : "ruler-wedge");
    }
  }

  void mark_right(Drawing& d, const Item& i, std::size_t lane, std::size_t of) const {
    const double at = y(*i.low);
    const double x = staff_right;
    if (i.look == Look::setting) {
      d.line({staff_left, at}, {x + lanes - 2, at}, "ruler-setting");
      d.polygon({{x, at}, {x + 10, at - 5}, {x + 10, at + 5}}, "ruler-setting-head");
    } else if (i.look == Look::test) {
      d.line({x - 14, at}, {x + lanes - 2, at}, "ruler-test");
    } else {
      const double width = (lanes - 3) / double(of);
      const double high = y(i.high.value_or(*i.low));
      d.rectangle({x + 1 + width * double(lane), high}, width - 1, std::max(1.5, at - high),
                  "ruler-band");
    }
  }

  [[nodiscard]] std::string caption() const {
    std::string out;
    if (!r_.order.empty()) {
      out += html::element("p", html::text(text::sentence(r_.order), 400));
    }
    const std::string how =
        "What is set or meant to let go (right) should lie below all of the mount and the boat "
        "(left). A bar runs from its low to its high bound; a wedge says: not before this pull." +
        ruler::cautions_of(r_);
    out += html::element("p", how, "note");
    if (r_.beyond.empty()) return out;
    return out + html::element("p", "Higher up: " + higher_up() + ".");
  }

  // By part, each where its first goes; what goes too early always.
  [[nodiscard]] std::string higher_up() const {
    struct Group {
      std::string part;
      std::string items;
    };
    std::vector<Group> groups;
    std::size_t shown = 0;
    std::size_t more = 0;
    for (const Item& i : r_.beyond) {
      if (shown == most_beyond && !i.wrong) {
        ++more;
        continue;
      }
      ++shown;
      const auto [part, goes] = ruler::part_and_way(i.what);
      auto own = std::find_if(groups.begin(), groups.end(),
                              [of = part](const Group& g) { return g.part == of; });
      if (own == groups.end()) own = groups.insert(own, {part, ""});
      own->items += (own->items.empty() ? " " : ", ") + std::string(i.wrong ? "too early: " : "") +
                    html::text(goes, 120) + (goes.empty() ? "" : " ") + html::text(i.figure);
    }
    std::string out;
    for (const Group& g : groups) {
      out += (out.empty() ? "" : "; ") + html::text(g.part, 120) + g.items;
    }
    if (more > 0) out += fmt::format("; and {} more: see the checks", more);
    return out;
  }

  const Setup& s_;
  const Ruler& r_;
  std::string id_;
  std::vector<Label> left_;
  std::vector<Label> right_;
  Scale scale_;
};

}  // namespace

std::vector<Picture> pull_rulers(const SheetContent& content, Form form) {
  const std::vector<Ruler> all = ruler::rulers(content.setup, content.assessment);
  if (form == Form::paper) return ruler::across_paper(content.setup, all);
  std::vector<Picture> out;
  for (const Ruler& r : all) {
    out.push_back(Picturer(content, r, "pull-ruler-" + std::to_string(out.size() + 1)).picture());
  }
  return out;
}

}  // namespace thole::pictures
