#include "report/pull_strip.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "report/chart_labels.hpp"
#include "report/html.hpp"
#include "report/pull_flags.hpp"
#include "report/pull_scale.hpp"
#include "report/text.hpp"

namespace thole::ruler {
namespace {

using pictures::Picture;
using svg::Anchor;
using svg::Drawing;
using svg::Point;

constexpr double width = 720;
constexpr double from = 30;  // of the staff, behind its units
constexpr double to = 714;
constexpr double between_ticks = 36;
constexpr double row_height = 12;
constexpr double head_height = 13;
constexpr double lean_height = 7;  // from stem to mark
constexpr double mark_height = 8;
constexpr double staff_height = 27;
constexpr double stripe = 3;
constexpr std::size_t most_named = 3;  // items of the mount

// Words of a label, from all that may help down to hardly enough.
constexpr double rooms[] = {260, 200, 150, 110};

struct Side {
  std::vector<Item> items;  // in order
  std::vector<Flag> flags;
  std::size_t more = 0;
  std::size_t more_wrong = 0;
  [[nodiscard]] std::size_t rows() const {
    std::size_t out = 0;
    for (const Flag& f : flags) out = std::max(out, f.row + 1);
    return out;
  }
};

// What is left out first where there is no room: far up, of the mount, not in a wrong order.
double worth(const Item& i, bool first_of_mount) {
  if (is_marked(i) || i.look == Look::setting) return 5;
  if (i.look == Look::limit || i.look == Look::band) return 4;
  if (i.look == Look::item) return first_of_mount ? 3 : 1;
  return 2;
}

class Strip {
 public:
  Strip(const Setup& s, const Ruler& r, std::string id, bool low)
      : s_(s), r_(r), id_(std::move(id)), low_(low), scale_(r, to - from, between_ticks) {
    take();
    const std::size_t rows = low ? 2 : 3;
    arrange(above_, rows);
    arrange(below_, rows);
    find_lanes();
    staff_top_ = head_height * double(heads()) + row_height * double(above_.rows()) + lean_height +
                 mark_height;
    height_ = staff_top_ + staff_height + mark_height +
              (below_.flags.empty() ? 2 : lean_height + row_height * double(below_.rows()) + 2);
  }

  Picture picture() const {
    const std::string title = "Pull ruler: " + heading(s_, r_);
    Drawing d(id_, width, height_, title, in_words(r_));
    head(d);
    staff(d);
    if (!r_.unknown.empty() || r_.refused) unknown(d);
    for (std::size_t i = 0; i < above_.items.size(); ++i) mark_above(d, above_.items[i]);
    for (std::size_t i = 0; i < below_.items.size(); ++i) mark_below(d, below_.items[i], lane_[i]);
    for (const Flag& f : above_.flags) flag(d, f, true);
    for (const Flag& f : below_.flags) flag(d, f, false);
    return {id_, title, d.element(), caption()};
  }

 private:
  [[nodiscard]] double x(Force f) const { return from + scale_.along(f); }
  [[nodiscard]] double x(double newtons) const { return from + scale_.along(newtons); }
  [[nodiscard]] double staff_bottom() const { return staff_top_ + staff_height; }

  void take() {
    std::size_t named = 0;
    for (const Item& i : r_.items) {
      Side& side = i.left ? above_ : below_;
      if (i.look == Look::item && ++named > most_named) {
        leave_out(side, i);
        continue;
      }
      side.items.push_back(i);
    }
    for (const Item& i : r_.beyond) leave_out(above_, i);
  }

  static void leave_out(Side& side, const Item& i) { ++(i.wrong ? side.more_wrong : side.more); }

  static std::optional<std::vector<Flag>> placed_somehow(const std::vector<Flag>& flags,
                                                         std::size_t rows) {
    for (const bool far : {false, true}) {
      for (const double room : rooms) {
        if (auto found = placed(flags, rows, room, width, far)) return found;
      }
    }
    return std::nullopt;
  }

  void arrange(Side& side, std::size_t rows) const {
    while (!side.items.empty()) {
      std::vector<Flag> flags;
      for (const Item& i : side.items) {
        Flag f;
        f.figure = i.figure;
        f.what = words_of(i);
        f.cross = is_marked(i);
        f.mark = x(*i.low);
        flags.push_back(f);
      }
      if (auto found = placed_somehow(flags, rows)) {
        side.flags = std::move(*found);
        return;
      }
      const auto first = std::find_if(side.items.begin(), side.items.end(),
                                      [](const Item& i) { return i.look == Look::item; });
      std::size_t least = side.items.size() - 1;
      for (std::size_t k = side.items.size(); k-- > 0;) {
        const auto worth_of = [&](std::size_t n) {
          return worth(side.items[n], side.items.begin() + std::ptrdiff_t(n) == first);
        };
        if (worth_of(k) < worth_of(least)) least = k;
      }
      leave_out(side, side.items[least]);
      side.items.erase(side.items.begin() + std::ptrdiff_t(least));
    }
  }

  // Bands that overlap stand below each other.
  void find_lanes() {
    std::vector<double> free;
    for (const Item& i : below_.items) {
      lane_.push_back(0);
      if (i.look != Look::band) continue;
      while (lane_.back() < free.size() && x(*i.low) < free[lane_.back()]) ++lane_.back();
      if (lane_.back() == free.size()) free.push_back(0);
      free[lane_.back()] = x(i.high.value_or(*i.low));
    }
    lanes_ = std::max<std::size_t>(1, free.size());
  }

  [[nodiscard]] std::string notes() const {
    std::vector<std::string> out;
    if (r_.refused) out.emplace_back("? no verdict: something else may go first");
    for (const Item& i : r_.unknown) {
      out.push_back("? " + charts::short_name(i.what, 40) + ": not known");
    }
    const std::size_t wrong = above_.more_wrong + below_.more_wrong;
    const std::size_t more = above_.more + below_.more;
    if (wrong > 0) out.push_back(fmt::format("{} more too early", wrong));
    if (more > 0) out.push_back(fmt::format("{} more in the checks", more));
    if (!scale_.even()) out.emplace_back("scale closer toward its right end");
    return text::joined(out, "; ");
  }

  [[nodiscard]] int heads() const { return low_ || notes().empty() ? 1 : 2; }

  void head(Drawing& d) const {
    const std::string whose = heading(s_, r_) + ", " + where_pulled(*r_.gear);
    const double half = width / 2 - 8;
    const double scaled = charts::text_size / flag_text;
    const std::string name = charts::fitted(whose, half * scaled, true);
    d.text({2, 10}, name, flag_text, Anchor::start, "strong");
    const double next = 2 + flag_width(name, true) + 8;
    const double rest = (width - 2 - next) * scaled;
    if (low_) {
      d.text({next, 10}, charts::fitted(notes(), rest), flag_text, Anchor::start, "note");
      return;
    }
    d.text({next, 10},
           charts::fitted("above: mount and boat; should lie right of all that is below", rest),
           flag_text, Anchor::start, "text");
    if (heads() == 1) return;
    d.text({2, 10 + head_height}, charts::fitted(notes(), (width - 4) * scaled), flag_text,
           Anchor::start, "note");
  }

  void numbers(Drawing& d, bool upper, double newtons, const char* unit) const {
    const bool thousands = scale_.in_thousands(newtons);
    const double by = thousands ? 1000 : 1;
    const std::vector<double> ticks = scale_.ticks(newtons);
    const double y = upper ? staff_top_ + stripe + 9 : staff_bottom() - stripe - 2;
    for (std::size_t i = 0; i < ticks.size(); ++i) {
      const double at = x(ticks[i] * newtons);
      const double next = i + 1 < ticks.size() ? x(ticks[i + 1] * newtons) : to;
      if (i % 2 == 0) {
        d.rectangle({at, upper ? staff_top_ : staff_bottom() - stripe}, next - at, stripe,
                    "ruler-block");
      }
      const std::string figure = show_number(ticks[i] / by);
      const double half = flag_width(figure, false) / 2;
      if (i == 0 || at + half > to - 1 || crossed(at - half, at + half)) continue;
      d.text({at, y}, figure, flag_text, Anchor::middle, "ruler-number");
    }
    d.text({from - 3, y}, (thousands ? "k" : "") + std::string(unit), flag_text, Anchor::end,
           "strong");
  }

  // A line across the staff goes through here.
  [[nodiscard]] bool crossed(double left, double right) const {
    return std::any_of(r_.items.begin(), r_.items.end(), [&](const Item& i) {
      const bool line = i.look == Look::setting || i.look == Look::limit || i.look == Look::test;
      return line && x(*i.low) > left - 2 && x(*i.low) < right + 2;
    });
  }

  void staff(Drawing& d) const {
    d.rectangle({from, staff_top_}, to - from, staff_height, "ruler-staff");
    const bool inch = s_.units == ReaderUnits::inch;
    numbers(d, inch, charts::newtons_in_a_pound, "lbf");
    numbers(d, !inch, 1, "N");
  }

  // It may go anywhere: the whole length is hatched.
  void unknown(Drawing& d) const {
    const double high = 5;
    const Point corner{from, staff_top_ - high - 1};
    d.rectangle(corner, to - from, high, "ruler-unknown");
    charts::hatch(d, corner, to - from, high, 7, "ruler-hatch");
  }

  void mark_above(Drawing& d, const Item& i) const {
    const double at = x(*i.low);
    const double y = staff_top_;
    if (i.look == Look::limit) {
      d.line({at, y - mark_height}, {at, staff_bottom()}, "ruler-limit");
    } else if (i.look == Look::boat) {
      d.path("M" + svg::number(at) + " " + svg::number(y) + " q-4 -2 0 -4 t0 -4", "ruler-boat");
    } else {
      d.polygon({{at, y}, {at - 4, y - mark_height}, {at + 4, y - mark_height}},
                i.wrong ? "ruler-wedge worst" : "ruler-wedge");
    }
  }

  void mark_below(Drawing& d, const Item& i, std::size_t lane) const {
    const double at = x(*i.low);
    const double y = staff_bottom();
    if (i.look == Look::setting) {
      d.line({at, staff_top_}, {at, y + mark_height}, "ruler-setting");
      d.polygon({{at, y}, {at - 4.5, y + mark_height}, {at + 4.5, y + mark_height}},
                "ruler-setting-head");
    } else if (i.look == Look::test) {
      d.line({at, y - staff_height / 2}, {at, y + mark_height}, "ruler-test");
    } else {
      const double high = (mark_height - 1) / double(lanes_);
      const double end = x(i.high.value_or(*i.low));
      d.rectangle({at, y + 1 + high * double(lane)}, std::max(1.5, end - at), high - 0.5,
                  "ruler-band");
    }
  }

  void flag(Drawing& d, const Flag& f, bool above) const {
    const double way = above ? -1 : 1;
    const double mark = (above ? staff_top_ : staff_bottom()) + way * mark_height;
    const double foot = mark + way * lean_height;
    const double nearest = foot + way * row_height * double(f.row);
    const double base = above ? nearest - 3 : nearest + 9;
    d.polyline({{f.mark, mark}, {f.stem, foot}, {f.stem, nearest + way * (row_height - 2)}},
               "thin");
    const double side = f.left ? -1 : 1;
    const Anchor anchor = f.left ? Anchor::end : Anchor::start;
    double at = f.stem + side * flag_gap;
    if (f.cross) {
      d.raw(html::mark_shape(html::Mark::cross, at + side * 5, base - 4, 10));
      at += side * cross_room;
    }
    d.text({at, base}, f.figure, flag_text, anchor, "strong");
    if (f.what.empty()) return;
    at += side * (flag_width(f.figure, true) + word_gap);
    d.text({at, base}, f.what, flag_text, anchor, "text");
  }

  [[nodiscard]] std::string caption() const {
    std::string words = r_.order.empty() ? "" : html::text(text::sentence(r_.order), 400) + " ";
    words += "A bar: from its low to its high bound; a wedge: not before this pull.";
    words += cautions_of(r_);
    if (above_.more + above_.more_wrong + below_.more + below_.more_wrong > 0) {
      words += " All items: the checks on page 2, the ruler on the screen.";
    }
    return html::element("p", words, "note");
  }

  const Setup& s_;
  const Ruler& r_;
  std::string id_;
  bool low_;
  Scale scale_;
  Side above_;
  Side below_;
  std::vector<std::size_t> lane_;
  std::size_t lanes_ = 1;
  double staff_top_ = 0;
  double height_ = 0;
};

// What must be told of first: a wrong order, nothing to set, then the least hold limit beside what
// the mount must take.
std::pair<int, double> trouble(const Ruler& r) {
  int kind = 2;
  double hold = r.top.value();
  double taken = 0;
  for (const Item& i : r.items) {
    if (i.wrong) kind = 0;
    if (i.useless || i.over) kind = std::min(kind, 1);
    if (i.look == Look::limit) hold = std::min(hold, i.low->value());
    if (i.look == Look::band && taken <= 0) taken = i.high.value_or(*i.low).value();
  }
  return {kind, hold / std::max(taken, 1e-9)};
}

}  // namespace

std::vector<Picture> across_paper(const Setup& s, const std::vector<Ruler>& all) {
  if (all.empty()) return {};
  const auto draw = [&](std::size_t i, bool low) {
    return Strip(s, all[i], fmt::format("pull-ruler-{}-paper", i + 1), low).picture();
  };
  if (all.size() == 1) return {draw(0, false)};
  if (all.size() == 2) return {draw(0, true), draw(1, true)};
  const auto worst = std::min_element(all.begin(), all.end(), [](const Ruler& a, const Ruler& b) {
    return trouble(a) < trouble(b);
  });
  Picture out = draw(std::size_t(worst - all.begin()), false);
  out.caption += html::element(
      "p", fmt::format("The worst of {} gears that differ; the others on the screen.", all.size()),
      "note");
  return {out};
}

}  // namespace thole::ruler
