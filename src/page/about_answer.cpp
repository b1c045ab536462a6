// What the page needs once: examples, blank setups, signs and styles of the pictures.

#include <algorithm>

#include <thole/build_info.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/sizing.hpp>

#include "page/answer_parts.hpp"
#include "page/examples.hpp"
#include "reading/quoting.hpp"
#include "report/sheet_style.hpp"
#include "report/wording.hpp"

namespace thole::page {
namespace {

constexpr const char* mounts[] = {"cross_board", "gunwale_plate", "bracket"};

void write_examples(Json& j) {
  j.key("examples").open('[');
  for (std::size_t i = 0; i < example_count; ++i) {
    const reading::Document document = reading::read_yaml(examples[i].text, examples[i].id);
    const auto text_of = [&](const reading::Node* n) { return n == nullptr ? "" : n->text; };
    const reading::Node* mount = document.root.find("mount");
    j.open('{');
    j.key("id").text(examples[i].id);
    j.key("title").text(text_of(document.root.find("title")));
    j.key("mount").text(text_of(mount == nullptr ? nullptr : mount->find("kind")));
    j.key("text").text(examples[i].text);
    j.close('}');
  }
  j.close(']');
}

void write_starters(Json& j) {
  j.key("starters").open('[');
  for (const char* mount : mounts) {
    std::string title = mount;
    std::replace(title.begin(), title.end(), '_', ' ');
    j.open('{');
    j.key("mount").text(mount);
    j.key("title").text(title);
    j.key("inch").text(starter_setup(mount));
    j.key("metric").text(starter_setup(mount, ReaderUnits::metric));
    j.key("measuring").text(measuring_list(mount));
    j.close('}');
  }
  j.close(']');
}

// Names of the tables, for entries that hold one.
void write_names(Json& j) {
  const MaterialLibrary& library = built_in_materials();
  j.key("names").open('{');
  for (const char* kind : {"metal", "fastener_material", "thread", "washer", "wood_grade", "angle",
                           "lumber_size", "tube", "channel"}) {
    j.key(kind).texts(library.names(kind));
  }
  j.close('}');
}

// What `size` takes when nobody says is for the search to choose.
void write_free(Json& j) {
  j.key("free").open('{');
  for (const char* mount : mounts) {
    const bool board = std::string_view(mount) == "cross_board";
    j.key(mount).open('[');
    for (const SizeWord& w : size_words()) {
      if (!(board ? w.on_board : w.on_plate)) continue;
      j.open('{');
      j.key("word").text(std::string(w.word));
      j.key("words").text(std::string(w.what));
      j.key("on").yes_no(false);
      j.close('}');
    }
    j.close(']');
  }
  j.close('}');
}

}  // namespace

std::string_view example_text(std::string_view id) {
  for (std::size_t i = 0; i < example_count; ++i) {
    if (examples[i].id == id) return examples[i].text;
  }
  throw Error("no example is called " + reading::shown(id));
}

std::string about_answer() {
  const BuildInfo& b = build_info();
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(true);
  j.key("version").text(b.version);
  j.key("tables").text(b.tables);
  j.key("commit").text(b.commit);
  j.key("made").text(made_by());
  j.key("units").texts({"inch", "metric"});
  j.key("deferral").text(wording::deferral);
  j.key("style").text(style::of_pictures());
  j.key("signs").open('{');
  for (const html::Mark m :
       {html::Mark::tick, html::Mark::triangle, html::Mark::cross, html::Mark::question}) {
    j.key(sign_of(m)).text(html::mark(m));
  }
  j.close('}');
  write_examples(j);
  write_starters(j);
  write_free(j);
  write_names(j);
  j.close('}');
  return j.take();
}

}  // namespace thole::page
