#include <algorithm>

#include "report/html.hpp"
#include "report/pictures.hpp"
#include "report/scene_render.hpp"
#include "report/text.hpp"

namespace thole::pictures {
namespace {

using scene::Scene;
using scene::View;

struct Words {
  const char* id;
  const char* title;
};

Words words_for(View v) {
  switch (v) {
    case View::plan:
      return {"view-plan", "Seen from above"};
    case View::side:
      return {"view-side", "Seen from starboard"};
    case View::stern:
      break;
  }
  return {"view-stern", "Seen from astern"};
}

bool is_placed(const scene::Worst& w) { return w.at || !w.area.empty(); }

std::string spoken(const Scene& s, const char* title) {
  std::string out = std::string(title) + ": " + s.what + ".";
  out += s.pull ? " Pull of the worst case: " + s.load + "." : " " + text::sentence(s.load);
  if (s.worst) out += " Worst: " + s.worst->words + ".";
  return out;
}

std::string words_for(html::Mark m) {
  switch (m) {
    case html::Mark::tick:
      return "tick: its own pulls hold there";
    case html::Mark::triangle:
      return "triangle: its own pulls hold there if what is assumed is so";
    case html::Mark::question:
      return "question mark: no verdict";
    case html::Mark::cross:
      break;
  }
  return "cross: they do not hold there";
}

std::string sectors(const SheetContent& c) {
  std::vector<std::string> marks;
  for (const BoomRow& r : c.booms) {
    if (!r.allowed) continue;
    const std::string words = words_for(scene::boom_mark(c.assessment, r));
    if (std::find(marks.begin(), marks.end(), words) == marks.end()) marks.push_back(words);
  }
  if (marks.empty()) return "";
  return "Shaded: where the booms of the setup may point; " + text::joined(marks) + ". ";
}

// The first view explains the signs, the others only what is their own.
std::string caption(const SheetContent& content, const Scene& s, View view,
                    const scene::Rendered& drawn) {
  std::string out;
  if (view == View::plan) {
    out += sectors(content);
    if (s.pull) out += "Arrow: the pull of the worst case (crossed ring: away from you). ";
    if (s.pull && !s.pull->sectors.empty()) out += "Shaded round it: where else it may go. ";
    if (s.worst && is_placed(*s.worst)) out += "Double ring or heavy outline: the worst item. ";
    if (s.worst && !is_placed(*s.worst)) {
      out += "Worst item, its place not told: " + html::users(s.worst->words) + ". ";
    }
  }
  if (drawn.panels.size() > 1) out += "Two scales, each with its bars. ";
  if (drawn.guessed) out += "Dashed: hidden, or not to scale. ";
  for (const scene::Note& n : s.notes) {
    if ((n.views & scene::only(view)) != 0) out += html::text(n.words) + " ";
  }
  if (!out.empty()) out.pop_back();
  return out;
}

Picture view_of(const SheetContent& content, View view, Form form) {
  const bool paper = form == Form::paper;
  const Words words = words_for(view);
  const std::string id = std::string(words.id) + (paper ? "-paper" : "");
  const Scene s = scene::scene_of(content, !paper);
  const scene::Rendered drawn =
      scene::render(s, view, {id, words.title, spoken(s, words.title)}, form);
  if (drawn.element.empty()) return {};
  return {id, words.title, drawn.element, caption(content, s, view, drawn)};
}

}  // namespace

Picture plan(const SheetContent& content, Form form) { return view_of(content, View::plan, form); }
Picture side(const SheetContent& content, Form form) { return view_of(content, View::side, form); }
Picture stern(const SheetContent& content, Form form) {
  return view_of(content, View::stern, form);
}

}  // namespace thole::pictures
