#include "page/page_engine.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>

#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "page/answer_parts.hpp"
#include "page/examples.hpp"
#include "page/text_edits.hpp"
#include "reading/quoting.hpp"
#include "reading/tree_edits.hpp"

namespace thole::page {
namespace {

// The last drawings: a drag asks again and again from the text that it began with. Only what was
// drawn afresh is kept, so that the answers do not depend on it.
class Recent {
 public:
  [[nodiscard]] std::shared_ptr<const Drawn> find(const Question& q) const {
    for (const auto& d : kept_) {
      if (d != nullptr && d->read->text == q.text && d->read->document.file == q.file) return d;
    }
    return nullptr;
  }
  void keep(std::shared_ptr<const Drawn> d) { kept_[next_++ % kept_.size()] = std::move(d); }

 private:
  std::array<std::shared_ptr<const Drawn>, 3> kept_;
  std::size_t next_ = 0;
};

Recent& recent() {
  thread_local Recent r;
  return r;
}

std::string refused(const ReadText& read) {
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(false);
  write_problems(j, read.problems, &read);
  j.key("text").text(read.text);
  write_fields(j, read);
  j.close('}');
  return j.take();
}

// The drawing of the text as asked, kept or made; nothing where it is no setup, which `bad` tells.
std::shared_ptr<const Drawn> drawing_of(const Question& q, std::string& bad) {
  if (std::shared_ptr<const Drawn> d = recent().find(q)) return d;
  std::unique_ptr<ReadText> read = read_text(q.text, q.file, q.library);
  if (!read->setup) {
    bad = refused(*read);
    return nullptr;
  }
  std::shared_ptr<const Drawn> d = drawn(std::move(read), q.library);
  recent().keep(d);
  return d;
}

std::string draw_answer(const Question& q) {
  std::string bad;
  const std::shared_ptr<const Drawn> d = drawing_of(q, bad);
  if (d == nullptr) return bad;
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(true);
  write_drawing(j, *d);
  j.close('}');
  return j.take();
}

std::unique_ptr<ReadText> read_with(const Question& q, const reading::Document& before,
                                    const std::vector<Edit>& edits) {
  reading::EditedText after = reading::edited(before, std::string(q.text), edits);
  return read_text(std::move(after.text), std::move(after.document), q.library);
}

// The text that has `edits` in it, drawn: in the scale of `held` where there is one.
std::string edited(const Question& q, std::unique_ptr<ReadText> read,
                   const std::vector<Edit>& edits, const Drawn* held = nullptr) {
  if (!read->setup) return refused(*read);
  const std::shared_ptr<const Drawn> d = drawn(std::move(read), q.library, held);
  if (held == nullptr) recent().keep(d);
  const std::string& text = d->read->text;
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(true);
  j.key("text").text(text);
  write_edits(j, edits);
  j.key("draw").open('{');
  j.key("ok").yes_no(true);
  write_drawing(j, *d);
  j.close('}');
  j.close('}');
  return j.take();
}

std::string edited(const Question& q, const reading::Document& before,
                   const std::vector<Edit>& edits, const Drawn* held = nullptr) {
  return edited(q, read_with(q, before, edits), edits, held);
}

// The first draft that fits; where none does, why the likeliest does not.
std::string another(const Question& q, const ReadText& read, const std::string& path) {
  std::string why;
  for (const std::vector<Edit>& draft : others_like(read, path)) {
    std::unique_ptr<ReadText> tried = read_with(q, read.document, draft);
    if (tried->setup) return edited(q, std::move(tried), draft);
    if (why.empty()) why = refused(*tried);
  }
  return why;
}

std::string entry_answer(const Question& q, std::string_view what) {
  const std::shared_ptr<const Drawn> d = recent().find(q);
  std::unique_ptr<ReadText> fresh;
  if (d == nullptr) fresh = read_text(q.text, q.file, q.library);
  const ReadText* read = d == nullptr ? fresh.get() : d->read.get();
  if (read->document.root.kind != reading::Node::Kind::map) return refused(*read);
  if (what == "units") {
    const std::string units = q.request.text("units");
    (void)reader_units(units);
    return edited(q, read->document, typed(*read, "units", units));
  }
  if (what == "mark" && q.request.has("marks")) {  // several in one step
    std::vector<Edit> all;
    for (const Edit& m : q.request.edits("marks")) {
      for (Edit& e : marked(*read, m.path, m.value)) all.push_back(std::move(e));
    }
    return edited(q, read->document, all);
  }
  const std::string path = q.request.text("path");
  if (what == "mark")
    return edited(q, read->document, marked(*read, path, q.request.text_or("known", "measured")));
  if (what == "another") return another(q, *read, path);
  std::vector<Edit> edits = not_measured_now(*read, typed(*read, path, q.request.text("value")));
  if (!q.request.has("known") || edits.empty()) return edited(q, read->document, edits);
  const std::unique_ptr<ReadText> after = read_with(q, read->document, edits);
  for (Edit& e : marked(*after, path, q.request.text("known"))) edits.push_back(std::move(e));
  return edited(q, read->document, edits);
}

std::string handle_answer(const Question& q, std::string_view what) {
  std::string bad;
  const std::shared_ptr<const Drawn> d = drawing_of(q, bad);
  if (d == nullptr) return bad;
  const std::string id = q.request.text("handle");
  const auto handle = std::find_if(d->handles.begin(), d->handles.end(),
                                   [&](const Handle& h) { return h.id == id; });
  if (handle == d->handles.end()) throw Error("no handle is called " + reading::shown(id));
  if (what == "step") {
    const double steps = q.request.number("steps");
    if (std::abs(steps) > 1000) throw Error("steps: at most 1000");
    std::vector<Edit> step = stepped(*d, *handle, std::lround(steps), q.request.text_or("key", ""));
    return edited(q, d->read->document, not_measured_now(*d->read, std::move(step)));
  }
  std::vector<Edit> move = moved(*d, *handle, q.request.number("x"), q.request.number("y"));
  return edited(q, d->read->document, not_measured_now(*d->read, std::move(move)),
                q.request.yes("hold") ? d.get() : nullptr);
}

std::string answered(std::string_view what, const Question& q) {
  if (what == "about") return about_answer();
  if (what == "draw") return draw_answer(q);
  if (what == "move" || what == "step") return handle_answer(q, what);
  if (what == "edit" || what == "mark" || what == "units" || what == "another")
    return entry_answer(q, what);
  if (what == "apply") {
    return edited(q, reading::read_yaml(q.text, q.file), q.request.edits("edits"));
  }
  if (what == "check") return check_answer(q);
  if (what == "sheet") return sheet_answer(q);
  if (what == "template") return template_answer(q);
  if (what == "csv" || what == "dxf" || what == "svg") return file_answer(q, what);
  if (what == "changes") return changes_answer(q);
  if (what == "size") return size_answer(q);
  if (what == "compare") return compare_answer(q);
  throw Error("no question is called " + reading::shown(what));
}

std::string trouble(const std::string& message, std::string_view text) {
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(false);
  j.key("problems").open('[');
  j.open('{');
  j.key("message").text(message);
  j.key("text").text(message);
  j.close('}');
  j.close(']');
  j.key("text").text(std::string(text));
  j.close('}');
  return j.take();
}

std::string trouble(const InputError& e, std::string_view text) {
  const std::unique_ptr<ReadText> read =
      read_text(text, std::string(no_file), built_in_materials());
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(false);
  write_problems(j, e.problems(), read.get());
  j.key("text").text(std::string(text));
  j.close('}');
  return j.take();
}

}  // namespace

std::string answer(std::string_view what, std::string_view setup_text, std::string_view request,
                   const Watch& watch) {
  try {
    const Request asked(request);
    if (asked.has("example")) setup_text = example_text(asked.text("example"));
    const Question q{setup_text, asked, built_in_materials(), watch,
                     asked.text_or("file", no_file)};
    return answered(what, q);
  } catch (const InputError& e) {
    return trouble(e, setup_text);
  } catch (const std::exception& e) {
    return trouble(std::string(e.what()), setup_text);
  }
}

}  // namespace thole::page
