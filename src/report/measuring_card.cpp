#include <algorithm>
#include <initializer_list>
#include <string>
#include <tuple>
#include <vector>

#include <thole/measuring.hpp>

#include "core/stable_order.hpp"
#include "report/cards.hpp"
#include "report/html.hpp"
#include "report/measuring_sketch.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole::cards {
namespace {

using html::element;

MountKind kind_of(const Setup& s) {
  if (s.on_board()) return MountKind::cross_board;
  return s.plate().bracket ? MountKind::bracket : MountKind::gunwale_plate;
}

std::string pick(const char* word) {
  return "<label class=\"parts-pick\"><input type=\"checkbox\"> " + std::string(word) + "</label>";
}

// ---- What is assumed, the most telling first

enum class Weight { verdict, check, none };

struct Guess {
  const Input* input = nullptr;
  int times = 1;
  Weight weight = Weight::none;
  std::size_t order = 0;  ///< of the check that names it first
};

bool named(const std::vector<std::string>& texts, const std::string& start) {
  return std::any_of(texts.begin(), texts.end(),
                     [&](const std::string& t) { return t.rfind(start, 0) == 0; });
}

void weigh(Guess& g, const Assessment& a) {
  constexpr std::size_t worst_checks = 3;
  std::size_t at = 0;
  for (const CheckResult& c : a.checks) {
    if (c.standing != Standing::applies && c.why != wording::no_figures) continue;
    if (named(c.assumed, g.input->path)) {
      g.order = at;
      g.weight = at < worst_checks ? Weight::verdict : Weight::check;
      break;
    }
    ++at;
  }
  if (named(a.holds_if, g.input->label)) g.weight = Weight::verdict;
}

std::vector<Guess> guesses(const Setup& s, const Assessment& a) {
  std::vector<Guess> out;
  for (const Input& i : s.inputs) {
    if (i.known != Knowledge::assumed) continue;
    const auto same = std::find_if(out.begin(), out.end(), [&](const Guess& g) {
      return std::tie(g.input->path, g.input->label, g.input->value) ==
             std::tie(i.path, i.label, i.value);
    });
    if (same != out.end()) {
      ++same->times;
      continue;
    }
    Guess g;
    g.input = &i;
    weigh(g, a);
    out.push_back(g);
  }
  sort_stably(out, [](const Guess& x, const Guess& y) {
    return std::tuple(int(x.weight), x.order) < std::tuple(int(y.weight), y.order);
  });
  return out;
}

// A question keeps its mark.
std::string how_of(const std::string& path) {
  const std::string how(how_to_measure(path));
  return html::text(!how.empty() && how.back() == '?' ? how : text::sentence(how));
}

std::string lettered(const std::string& letters) {
  return letters.empty() ? "" : " " + element("b", "(" + letters + ")");
}

std::string guess_row(const Guess& g, MountKind kind) {
  const Input& i = *g.input;
  std::string now = "now " + html::users(i.value, 80);
  if (i.defaulted) now += ", not in the file";
  if (g.times > 1) now += ", in " + std::to_string(g.times) + " places";
  const std::string head =
      element("b", html::text(i.label, 120)) + lettered(letters_of_path(kind, i.path)) + ": " + now;
  return "<div class=\"parts-row\">" + element("p", head) + element("p", how_of(i.path)) +
         "<p><span class=\"parts-box\"></span>" + pick("M") + pick("T") + " <code>" +
         html::text(i.path, 160) + "</code></p></div>\n";
}

std::string block(const std::vector<Guess>& all, Weight weight, MountKind kind, const char* title) {
  std::string rows;
  for (const Guess& g : all) {
    if (g.weight == weight) rows += guess_row(g, kind);
  }
  return rows.empty() ? "" : element("h3", title) + element("div", rows, "parts-rows");
}

std::string how_to_type(const Setup& s) {
  const char* const example = s.units == ReaderUnits::inch ? "0.090 in" : "1.8 mm";
  return element("p",
                 "Write the value in the box and tick M where you measured it here, T where "
                 "you read it off a tag, stamp or label. At home, in the file, at the place "
                 "named beside the box:") +
         element("p", "<code>{is: " + std::string(example) + ", known: measured}</code> or <code>" +
                          "known: tagged</code>");
}

// ---- Questions and the fixed list

std::string_view word(Answer a) {
  switch (a) {
    case Answer::no:
      return "no";
    case Answer::yes:
      return "yes";
    case Answer::not_known:
      break;
  }
  return "not known";
}

std::string question(const char* key, const char* ask, Answer now) {
  const std::string path = "condition." + std::string(key);
  return "<div class=\"parts-row\">" + element("p", element("b", ask) + " " + how_of(path)) +
         "<p>" + pick("no") + pick("yes") + " (the file says " + std::string(word(now)) +
         ") <code>" + path + "</code></p></div>\n";
}

std::string condition(const Setup& s) {
  const Condition& c = s.condition;
  std::string out = question("cracks", "Cracks?", c.cracks);
  out += question("loose_rivets", "Loose or missing rivets?", c.loose_rivets);
  out += question("bent_or_corroded", "Bent or corroded fasteners?", c.bent_or_corroded);
  out += question("soft_wood_or_core", "Soft wood or core?", c.soft_wood_or_core);
  out += question("weld_near_base", "A weld near a hole?", c.weld_near_base);
  const std::string tie = c.within_150_mm.empty() ? "nothing" : html::users(c.within_150_mm, 40);
  out += "<div class=\"parts-row\">" +
         element("p", element("b", "Rib, knee, thwart or gusset within 6 in (150 mm)?") +
                          " Which one; the file says " + tie + ".") +
         "<p><span class=\"parts-box\"></span> <code>condition.within_6_in</code></p></div>\n";
  return element("h3", "Condition: look, tap, wiggle") + element("div", out, "parts-rows") +
         element("p", "Anything cracked, soft or loose: stop, mend it first.");
}

// The list of a bracket sends its reader to those of plates and boards for gear and boat.
std::vector<MeasuringRow> walk(const Setup& s, MountKind kind) {
  std::vector<MeasuringRow> out = measuring_rows(kind);
  if (kind != MountKind::bracket) return out;
  const auto elsewhere = [](const MeasuringRow& r) { return r.how.find('`') != r.how.npos; };
  out.erase(std::remove_if(out.begin(), out.end(), elsewhere), out.end());
  const auto take = [&](MountKind from, std::initializer_list<std::string_view> names) {
    for (const MeasuringRow& r : measuring_rows(from)) {
      if (std::find(names.begin(), names.end(), r.what) != names.end()) out.push_back(r);
    }
  };
  const auto any = [&](auto member) {
    return std::any_of(s.gear.begin(), s.gear.end(),
                       [&](const Gear& g) { return (g.*member).has_value(); });
  };
  if (any(&Gear::downrigger)) {
    take(MountKind::cross_board, {"Downrigger", "Ball and wire", "Its mass", "Brake",
                                  "Powered winch", "Boom", "Depth and speed"});
  }
  if (any(&Gear::rod_holder)) {
    take(MountKind::gunwale_plate, {"Rim of the holder", "Rod and line", "Butt in the tube", "Drag",
                                    "Planer, weight", "Rod's butt"});
  }
  take(MountKind::gunwale_plate, {"Boat", "Lean test"});
  return out;
}

std::string listed(const std::vector<MeasuringRow>& rows, MountKind kind) {
  std::string out;
  for (const MeasuringRow& r : rows) {
    const std::string what(r.what);
    out += "<li class=\"parts-tick\"><label><input type=\"checkbox\"> <span>" +
           element("b", html::text(what)) + lettered(letters_of_row(kind, what)) + " " +
           html::text(std::string(r.how)) + "</span></label></li>\n";
  }
  return element("ul", out, "parts-ticks");
}

}  // namespace

Card measuring(const SheetContent& content) {
  const Setup& s = content.setup;
  const MountKind kind = kind_of(s);
  Card card{"measuring", "Measuring sheet", ""};
  const std::vector<Guess> all = guesses(s, content.assessment);
  if (all.empty()) {
    card.html = element("p",
                        "Nothing in the file is a guess. Measure again before you cut or drill: "
                        "both sides, since port and starboard differ, and each thickness at the "
                        "very place.");
  } else {
    card.html = element("p",
                        "This much of the file is a guess. Take a tape, a caliper, a luggage "
                        "scale, a phone as a level and this page to the boat.") +
                how_to_type(s);
  }
  card.html += "<figure class=\"parts-sketch\">" + measuring_sketch(kind) +
               "<figcaption>Where to measure. Not to scale.</figcaption></figure>";
  card.html += block(all, Weight::verdict, kind, "First: the answer hangs on these");
  card.html += block(all, Weight::check, kind, "Then: some check takes these in");
  card.html += block(all, Weight::none, kind, "Usual figures, better as yours");
  card.html += condition(s);
  card.html += element("h3", "The whole walk round the boat") + listed(walk(s, kind), kind);
  if (!s.fit) {
    card.html += element("h3", "What is round it") + listed(rows_of_the_surroundings(), kind);
  }
  return card;
}

}  // namespace thole::cards
