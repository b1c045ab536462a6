#include <algorithm>
#include <cmath>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/unit_text.hpp>

#include "core/assessment_parts.hpp"
#include "core/load_list.hpp"

namespace thole {

// Its directions where they are few, else the first.
static std::string ways_of(const LoadCase& c) {
  const std::vector<std::string> parts = describe_ranges(c);
  return parts.front() + (parts.size() > 1 ? " and more" : "");
}

namespace load_list {
namespace {

bool rides_by_peak(const LoadCase& c) {
  return c.path == LoadPath::ride && c.kind.starts_with("running");
}

std::string kebab(const std::string& words) {
  std::string out;
  for (const char ch : words) {
    const bool letter = (ch >= 'a' && ch <= 'z') || (ch >= '0' && ch <= '9');
    const bool capital = ch >= 'A' && ch <= 'Z';
    if (letter) {
      out += ch;
    } else if (capital) {
      out += static_cast<char>(ch - 'A' + 'a');
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out;
}

class Editor {
 public:
  Editor(const Setup& s, std::vector<LoadCase>& cases) : s_(s), cases_(cases) {}

  void run() {
    for (std::size_t i = 0; i < s_.case_edits.size(); ++i) {
      at_ = "case_edits[" + std::to_string(i) + "]: ";
      const CaseEdit& e = s_.case_edits[i];
      if (e.what == CaseEdit::What::add) {
        add(e);
        continue;
      }
      bool found = false;
      for (LoadCase& c : cases_) {
        if (c.id != e.name && c.kind != e.name) continue;
        if (c.origin != CaseOrigin::listed && c.id != e.name) continue;
        found = true;
        if (e.what == CaseEdit::What::leave_out) {
          if (c.origin == CaseOrigin::changed) refuse(c.id + " is changed already");
          c.left_out = true;
          c.owners_why = e.why;
        } else {
          change(c, e);
        }
      }
      if (!found) unknown(e.name);
    }
  }

 private:
  [[noreturn]] void unknown(const std::string& name) const {
    std::vector<std::string> names;
    for (const LoadCase& c : cases_) {
      names.push_back(c.id);
      if (c.kind != c.id) names.push_back(c.kind);
    }
    const std::string near = nearest_spelling(name, names);
    throw UnknownName(
        at_ + "no load case is called \"" + name + "\"" +
        (near.empty() ? "; `thole loads` lists them" : "; did you mean \"" + near + "\"?"));
  }

  void refuse(const std::string& text) const { throw DomainError(at_ + text); }

  // On a board itself nobody says which side is outboard: to either.
  static std::vector<DirectionRange> owners_ways(const LoadCase& c, const DirectionRange& range) {
    constexpr double slack = 1e-9;
    const bool like_both = std::abs((range.azimuth_from + range.azimuth_to).value()) < slack;
    if (c.path != LoadPath::board || like_both) return {range};
    return {range, {-range.azimuth_to, -range.azimuth_from, range.dip_from, range.dip_to}};
  }

  void change(LoadCase& c, const CaseEdit& e) const {
    if (c.path == LoadPath::warning) {
      refuse(c.id + " is a warning, not calculated: leave it out or keep it");
    }
    if (e.pull && c.path == LoadPath::ride) {
      refuse(c.id + " is given by accelerations: " +
             (rides_by_peak(c) ? "write peak, in g on top of gravity, not pull"
                               : "leave it out or keep it"));
    }
    if (e.peak && !rides_by_peak(c)) {
      refuse(c.id + " has no peak acceleration" +
             (c.path == LoadPath::ride ? ": leave it out or keep it" : ": write pull"));
    }
    if (e.range && c.path == LoadPath::ride) refuse(c.id + " has no direction of a pull");
    if (!e.pull && !e.peak && !e.range && !e.category && !e.decides) {
      refuse("nothing of " + c.id +
             " is changed: write pull, peak, category, decides, or azimuth "
             "and dip");
    }
    if (c.left_out) refuse(c.id + " is left out already");
    if (e.pull && *e.pull < Force::from_value(0.1)) {
      refuse("a pull of " + show(*e.pull, s_.units) + " is none: leave the case out");
    }
    if (c.before.empty()) c.before = in_words(c);
    if (c.origin == CaseOrigin::listed) c.origin = CaseOrigin::changed;
    c.owners_why = e.why;
    c.left_out = false;
    if (e.pull) {
      // All that pull at once, in the same proportion.
      const double share = c.pull.value() > 0 ? (*e.pull / c.pull).value() : 1.0;
      for (Force& f : c.pulls) f *= share;
      c.pull = *e.pull;
    }
    if (e.peak) c.shakes = running_shakes(*e.peak);
    if (e.range) {
      c.ranges = owners_ways(c, *e.range);
      c.range = about(c.ranges);
    }
    if (e.category) c.category = *e.category;
    if (e.decides) c.decides = *e.decides;
    c.why = "changed by the owner: " + e.why;
  }

  void add(const CaseEdit& e) {
    LoadCase c;
    c.id = c.kind = kebab(e.name);
    if (c.id.empty()) refuse("\"" + e.name + "\" has no letters: a name in words is expected");
    for (const LoadCase& o : cases_) {
      if (o.id == c.id || o.kind == c.id) {
        refuse("a load case " + c.id + " is there already: write change, or another name");
      }
    }
    c.title = e.name;
    c.why = "added by the owner: " + e.why;
    c.owners_why = e.why;
    c.origin = CaseOrigin::added;
    c.category = e.category.value_or(Category::everyday);
    c.decides = e.decides.value_or(true);
    if (e.peak) {
      if (e.pull || e.range || !e.gear.empty()) {
        refuse("a peak acceleration takes no pull, direction or gear");
      }
      c.path = LoadPath::ride;
      c.shakes = running_shakes(*e.peak);
      c.ranges = {DirectionRange{}};
      cases_.push_back(std::move(c));
      return;
    }
    if (!e.pull) refuse("a new case needs pull (or peak, when it is an acceleration)");
    c.pull = *e.pull;
    if (e.gear.empty()) {
      if (s_.on_board()) {
        c.path = LoadPath::board;
      } else {
        c.gear = 0;
        const Gear& g = s_.gear.front();
        c.path = g.downrigger ? LoadPath::post : g.rod_holder ? LoadPath::rim : LoadPath::point;
      }
      c.ranges = {every_way()};
    } else {
      std::vector<std::string> names;
      for (std::size_t i = 0; i < s_.gear.size(); ++i) {
        names.push_back(s_.gear[i].name);
        if (s_.gear[i].name == e.gear) c.gear = int(i);
      }
      if (c.gear < 0) {
        std::string list;
        for (const std::string& n : names) list += (list.empty() ? "" : ", ") + n;
        const std::string near = nearest_spelling(e.gear, names);
        throw UnknownName(
            at_ + "no gear is called \"" + e.gear + "\"" +
            (near.empty() ? "; there are: " + list : "; did you mean \"" + near + "\"?"));
      }
      const Gear& g = s_.gear[std::size_t(c.gear)];
      c.path = g.downrigger ? LoadPath::tip : g.rod_holder ? LoadPath::line : LoadPath::point;
      if (g.downrigger) {
        c.ranges = hung_up();
      } else if (g.rod_holder) {
        c.ranges = {strike_cone()};
      } else {
        c.ranges = {g.plain_load->range};
      }
    }
    if (e.range) c.ranges = owners_ways(c, *e.range);
    c.range = about(c.ranges);
    cases_.push_back(std::move(c));
  }

  [[nodiscard]] std::string in_words(const LoadCase& c) const;

  const Setup& s_;
  std::vector<LoadCase>& cases_;
  std::string at_;
};

// "24 lbf, everyday", "5 g, occasional, shown".
std::string Editor::in_words(const LoadCase& c) const {
  const std::string size =
      c.path == LoadPath::ride ? show_number(peak_of(c)) + " g" : show(c.pull, s_.units);
  return size + ", " + ways_of(c) + ", " + std::string(word_for(c.category)) +
         (c.decides ? "" : ", shown");
}

}  // namespace

void apply_edits(const Setup& s, std::vector<LoadCase>& cases) { Editor(s, cases).run(); }

}  // namespace load_list

namespace parts {

namespace {

std::string size_of(const Setup& s, const LoadCase& c) {
  return c.path == LoadPath::ride ? show_number(load_list::peak_of(c)) + " g"
                                  : show(c.pull, s.units);
}

}  // namespace

std::vector<std::string> case_changes(const Setup& s, const std::vector<LoadCase>& cases) {
  std::vector<std::string> out;
  for (const LoadCase& c : cases) {
    if (c.left_out) {
      out.push_back("left out: " + c.title + " (" + c.owners_why + ")");
    } else if (c.origin == CaseOrigin::changed) {
      out.push_back("changed: " + c.title + ", " + size_of(s, c) + ", " + ways_of(c) + ", " +
                    std::string(word_for(c.category)) + (c.decides ? "" : ", shown") +
                    " in place of " + c.before + " (" + c.owners_why + ")");
    } else if (c.origin == CaseOrigin::added) {
      out.push_back("added: " + c.title + ", " + size_of(s, c) + ", " +
                    std::string(word_for(c.category)) + (c.decides ? "" : ", shown") + " (" +
                    c.owners_why + ")");
    }
  }
  return out;
}

std::vector<std::string> owners_conditions(const Setup& s, const std::vector<LoadCase>& cases) {
  std::vector<std::string> out;
  // A peak of one's own below what the boat's data or the cautious default say.
  if (s.use.running_peak) {
    Setup usual = s;
    usual.use.running_peak.reset();
    const RunningPeak r = running_peak(usual);
    if (*s.use.running_peak < r.peak - 1e-9) {
      add_condition(out, "bumps when running stay within " + show_number(*s.use.running_peak) +
                             " g (" + show_number(std::round(10 * r.peak) / 10) +
                             " g is usual here)");
    }
  }
  if (std::none_of(cases.begin(), cases.end(), [](const LoadCase& c) {
        return c.left_out || c.origin == CaseOrigin::changed;
      })) {
    return out;
  }
  const std::vector<LoadCase> listed = listed_cases(s);
  for (const LoadCase& c : cases) {
    const auto was =
        std::find_if(listed.begin(), listed.end(), [&](const LoadCase& l) { return l.id == c.id; });
    if (was == listed.end() || !was->decides || was->left_out) {
      if (was != listed.end() && was->left_out) {
        add_condition(out, was->owners_why + " (" + c.title + " is not counted)");
      }
      continue;
    }
    if (c.left_out) {
      add_condition(out, "this never happens: " + c.title);
    } else if (c.origin == CaseOrigin::changed) {
      // Everything but a greater pull in all the listed directions may be milder.
      const bool harder =
          c.decides && c.category == was->category && c.ranges == was->ranges &&
          (c.path == LoadPath::ride ? load_list::peak_of(c) >= load_list::peak_of(*was)
                                    : c.pull >= was->pull);
      if (!harder) add_condition(out, c.title + " is no worse than its owner says");
    }
  }
  return out;
}

// Where nothing is given the cautious end counts, or it hardly counts at all.
bool only_beside(std::string_view path) {
  return path == "gear.tube_depth" || path == "gear.stowed_angles" || path == "gear.finned" ||
         path == "gear.ball_drag";
}

}  // namespace parts

namespace {

std::string degrees_text(double radian) {
  return std::to_string(std::lround(radian * 180 / std::numbers::pi));
}

}  // namespace

std::vector<std::string> describe_ranges(const LoadCase& c) {
  std::vector<std::string> out;
  if (c.path == LoadPath::ride) {
    double down = 0, up = 0, side = 0, fore = 0;
    for (const Shake& s : c.shakes) {
      down = std::max(down, -s.up);
      up = std::max(up, s.up);
      side = std::max(side, std::abs(s.starboard));
      fore = std::max(fore, std::abs(s.forward));
    }
    const auto g = [](double v) { return show_number(std::round(100 * v) / 100) + " g"; };
    out.push_back("down " + g(down) + " with gravity, up " + g(up) + ", sideways " + g(side) +
                  ", fore and aft " + g(fore));
    return out;
  }
  constexpr double half = 0.5 * std::numbers::pi;
  for (const DirectionRange& r : c.ranges) {
    const double from = r.azimuth_from.value();
    const double to = r.azimuth_to.value();
    const double low = r.dip_from.value();
    const double high = r.dip_to.value();
    std::string text;
    if (to - from >= 2 * std::numbers::pi - 1e-6 && high - low >= std::numbers::pi - 1e-6) {
      out.emplace_back("any way");
      continue;
    }
    if (c.path == LoadPath::tip) {
      // As people see a wire: from straight down.
      text =
          degrees_text(half - high) + " to " + degrees_text(half - low) + " deg from straight down";
    } else if (low >= -1e-9) {
      text = high - low < 1e-9
                 ? degrees_text(low) + " deg below level"
                 : degrees_text(low) + " to " + degrees_text(high) + " deg below level";
    } else {
      text = degrees_text(-low) + " deg above to " + degrees_text(high) + " deg below level";
    }
    if (to - from >= 2 * std::numbers::pi - 1e-6) {
      text += ", all round";
    } else if (std::abs(to + from) < 1e-6) {
      text += to < 1e-9 ? ", astern" : ", within " + degrees_text(to) + " deg of astern";
    } else {
      const auto side = [](double a) {
        const std::string size = degrees_text(std::abs(a));
        if (std::abs(a) > 0.5 * std::numbers::pi + 1e-6 && a < 1.5 * std::numbers::pi - 1e-6) {
          return std::abs(std::abs(a) - std::numbers::pi) < 1e-6 ? std::string("ahead")
                                                                 : size + " deg by way of outboard";
        }
        if (a > std::numbers::pi) return degrees_text(2 * std::numbers::pi - a) + " deg inboard";
        return std::abs(a) < 1e-9 ? std::string("astern")
                                  : size + (a > 0 ? " deg outboard" : " deg inboard");
      };
      text += ", from " + side(from) + " to " + side(to);
      if (from < std::numbers::pi && to > std::numbers::pi) text += " by way of ahead";
    }
    out.push_back(std::move(text));
  }
  return out;
}

}  // namespace thole
