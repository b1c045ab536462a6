#include "page/answer_parts.hpp"

#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "page/entry_fields.hpp"

namespace thole::page {
namespace {

const char* word_for_moves(const Handle& h) {
  if (h.axes.size() > 1) return "xy";
  switch (h.axes.front().way) {
    case Axis::Way::across:
      return "x";
    case Axis::Way::upright:
      return "y";
    case Axis::Way::turning:
      return "turn";
    case Axis::Way::outward:
      break;
  }
  return "xy";
}

void write_point(Json& j, svg::Point p) {
  j.key("x").number(std::round(10 * p.x) / 10);
  j.key("y").number(std::round(10 * p.y) / 10);
}

void write_handle(Json& j, const Drawn& d, const Handle& h) {
  const Axis& first = h.axes.front();
  j.open('{');
  j.key("id").text(h.id);
  j.key("view").text(std::string(word_for(h.view)));
  write_point(j, place_of(d, h));
  j.key("label").text(h.label);
  j.key("path").text(first.path);
  j.key("field").text(first.path);
  std::string words;
  for (const Axis& a : h.axes) {
    words += (words.empty() ? "" : ", ") + (a.there ? a.like : words_of(d, a, a.value));
  }
  j.key("text").text(words);
  j.key("moves").text(word_for_moves(h));
  if (first.way == Axis::Way::turning || first.way == Axis::Way::outward) {
    j.key("about").open('{');
    write_point(j, place_of(d, h, h.about));
    j.close('}');
  }
  j.key("low").text(words_of(d, first, first.low));
  j.key("high").text(words_of(d, first, first.high));
  j.key("step_text").text(step_of(d, first));
  j.close('}');
}

void write_view(Json& j, scene::View view, const scene::Rendered& r) {
  j.key(std::string(word_for(view)).c_str()).open('{');
  j.key("svg").text(r.element);
  j.close('}');
}

std::string mount_of(const Setup& s) {
  if (s.on_board()) return "cross_board";
  return s.plate().bracket ? "bracket" : "gunwale_plate";
}

}  // namespace

Setup Question::setup() const { return read_setup(text, file, library); }

const char* sign_of(html::Mark m) {
  switch (m) {
    case html::Mark::tick:
      return "tick";
    case html::Mark::triangle:
      return "triangle";
    case html::Mark::cross:
      return "cross";
    case html::Mark::question:
      break;
  }
  return "question";
}

void write_problems(Json& j, const std::vector<Problem>& problems, const ReadText* read) {
  j.key("problems").open('[');
  for (const Problem& p : problems) {
    j.open('{');
    j.key("path").text(read == nullptr ? "" : read->path_of(p));
    j.key("line").integer(p.line);
    j.key("column").integer(p.column);
    j.key("message").text(p.message);
    j.key("excerpt").text(p.excerpt);
    j.key("text").text(to_text(p));
    j.close('}');
  }
  j.close(']');
}

void write_edits(Json& j, const std::vector<Edit>& edits) {
  j.key("edits").open('[');
  for (const Edit& e : edits) {
    j.open('{');
    j.key("path").text(e.path);
    j.key("value").text(e.value);
    j.close('}');
  }
  j.close(']');
}

void write_views(Json& j, const std::array<scene::Rendered, 2>& views) {
  j.key("views").open('{');
  write_view(j, scene::View::plan, views[0]);
  write_view(j, scene::View::stern, views[1]);
  j.close('}');
}

void write_handles(Json& j, const Drawn& d) {
  j.key("handles").open('[');
  for (const Handle& h : d.handles) write_handle(j, d, h);
  j.close(']');
}

void write_fields(Json& j, const ReadText& read) {
  j.key("fields").open('[');
  for (const EntryField& f : entry_fields(read)) {
    j.open('{');
    j.key("path").text(f.path);
    j.key("label").text(f.label);
    j.key("group").text(f.group);
    j.key("text").text(f.text);
    j.key("kind").text(f.kind);
    if (!f.choices.empty()) j.key("choices").texts(f.choices);
    if (!f.names.empty()) j.key("names").text(f.names);
    if (!f.part.empty()) j.key("part").text(f.part);
    j.key("known");
    if (f.known.empty()) {
      j.null();
    } else {
      j.text(f.known);
    }
    j.key("required").yes_no(f.required);
    j.key("line").integer(f.line);
    j.key("help").text(f.help);
    j.close('}');
  }
  j.close(']');
}

void write_drawing(Json& j, const Drawn& d) {
  const Setup& s = *d.read->setup;
  j.key("title").text(s.title);
  j.key("units").text(s.units == ReaderUnits::inch ? "inch" : "metric");
  j.key("mount").text(mount_of(s));
  write_views(j, d.views);
  write_handles(j, d);
  write_fields(j, *d.read);
}

}  // namespace thole::page
