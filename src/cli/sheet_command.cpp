#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <filesystem>

#include <thole/reading.hpp>
#include <thole/sheet.hpp>
#include <thole/unit_text.hpp>

#include "cli/commands.hpp"
#include "cli/counting.hpp"
#include "cli/outputs.hpp"
#include "cli/support.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole::cli {

namespace {

// The digits of `text` from `at`, `count` of them; -1 where something else stands there.
int digits(const std::string& text, std::size_t at, std::size_t count) {
  int out = 0;
  for (std::size_t i = at; i < at + count; ++i) {
    if (i >= text.size() || text[i] < '0' || text[i] > '9') return -1;
    out = 10 * out + (text[i] - '0');
  }
  return out;
}

bool is_date(const std::string& text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  const int year = digits(text, 0, 4);
  const int month = digits(text, 5, 2);
  const int day = digits(text, 8, 2);
  if (year < 1 || month < 1 || month > 12 || day < 1) return false;
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return day <= (month == 2 && leap ? 29 : days[month - 1]);
}

std::string date_of(std::time_t seconds) {
  const std::tm* utc = std::gmtime(&seconds);
  char out[32] = "";
  if (utc == nullptr || std::strftime(out, sizeof out, "%Y-%m-%d", utc) == 0) {
    throw Error("the date cannot be told: give it with --date");
  }
  return out;
}

// As asked for, else of a build that is to come out the same again, else today's.
std::string date_from(const std::string& asked) {
  if (!asked.empty()) {
    if (!is_date(asked)) {
      throw Error("--date: a day as in 2026-11-27 is expected, found \"" + asked + "\"");
    }
    return asked;
  }
  const char* epoch = std::getenv("SOURCE_DATE_EPOCH");
  if (epoch == nullptr || *epoch == '\0') return date_of(std::time(nullptr));
  char* end = nullptr;
  const long long seconds = std::strtoll(epoch, &end, 10);
  const bool begins = *epoch >= '0' && *epoch <= '9';  // no blank, no sign
  // Up to the end of the year 9999.
  if (!begins || *end != '\0' || seconds < 0 || seconds > 253402300799LL) {
    throw Error(std::string("SOURCE_DATE_EPOCH: seconds since 1970 are expected, found \"") +
                epoch + "\"");
  }
  return date_of(static_cast<std::time_t>(seconds));
}

Paper paper_from(const std::string& asked, ReaderUnits units) {
  if (asked.empty()) return units == ReaderUnits::inch ? Paper::letter : Paper::a4;
  std::string word = asked;
  std::transform(word.begin(), word.end(), word.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  if (word == "a4") return Paper::a4;
  if (word == "letter") return Paper::letter;
  const std::string near = nearest_spelling(word, {"a4", "letter"});
  throw Error("--paper: a4 or letter is expected, found \"" + asked + "\"" +
              (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
}

// Places in the list of outputs.
enum Kind : std::size_t { page, holes, forces, drawing };

std::vector<Output> outputs_of(const SheetArguments& a) {
  return {{"-o", a.output, {".html"}, "the shop sheet"},
          {"--holes", a.holes, {".html", ".svg"}, "the hole template"},
          {"--forces", a.forces, {".csv"}, "the table of forces"},
          {"--drawing", a.drawing, {".dxf", ".svg"}, "the drawing of plates"}};
}

// What can be told wrong before anything is read.
void check_arguments(const SheetArguments& a, const std::vector<Output>& outputs) {
  if (std::all_of(outputs.begin(), outputs.end(), [](const Output& o) { return o.path.empty(); })) {
    throw Error("sheet needs something to write: -o, --holes, --forces or --drawing");
  }
  std::vector<std::string> inputs = a.tables;
  inputs.push_back(a.setup);
  check_outputs(outputs, inputs, a.replace);
  const bool one = has_suffix(a.holes, ".svg");
  if (one && a.pattern.empty()) {
    throw Error("--holes " + shown(a.holes) +
                ": an .svg holds one pattern: --pattern with its number; .html holds all");
  }
  if (!one && !a.pattern.empty()) throw Error("--pattern goes with --holes and an .svg");
}

std::string one_pattern(const SheetContent& content, const std::string& asked) {
  const std::vector<HoleSet> sets = hole_sets(content.setup, content.library);
  if (sets.empty()) throw Error("--pattern: this mount has no holes");
  const int n = asked.size() > 4 ? -1 : digits(asked, 0, asked.size());
  if (n < 1 || std::size_t(n) > sets.size()) {
    std::string list;
    for (std::size_t i = 0; i < sets.size(); ++i) {
      list += (i == 0 ? "" : "; ") + std::to_string(i + 1) + " " + text::plain(sets[i].name, 60);
    }
    throw Error("--pattern: a number from 1 to " + std::to_string(sets.size()) +
                " is expected, found \"" + asked + "\": " + list);
  }
  return template_svg(content, sets[std::size_t(n) - 1]);
}

ChangeAnswer changes_of(const std::string& drawn, const SheetArguments& a,
                        const MaterialLibrary& library) {
  Counting counting;
  ChangeOptions options;
  options.watch = [&](const Progress& p) {
    counting.tell(p);
    return true;
  };
  return suggest_changes(drawn, shown(a.setup), library, options);
}

bool has_downrigger(const Setup& s) {
  return std::any_of(s.gear.begin(), s.gear.end(),
                     [](const Gear& g) { return g.downrigger.has_value(); });
}

// All but the page: they need no changes, so that what is wrong with them is told before the
// search.
void make_quick_texts(const SheetArguments& a, const SheetContent& content,
                      std::vector<Output>& outputs) {
  if (!a.holes.empty()) {
    outputs[holes].text =
        a.pattern.empty() ? template_html(content) : one_pattern(content, a.pattern);
  }
  if (!a.forces.empty()) outputs[forces].text = forces_csv(content.setup, content.assessment);
  if (!a.drawing.empty()) {
    outputs[drawing].text =
        has_suffix(a.drawing, ".dxf") ? plates_dxf(content) : plates_svg(content);
  }
  for (const Output& o : outputs) {
    if (o.option != outputs[page].option && !o.path.empty() && o.text.empty()) {
      throw Error(o.option + ": this mount has nothing for " + o.words + "; leave " + o.option +
                  " out");
    }
  }
}

void make_page(const SheetArguments& a, const std::string& drawn, SheetContent& content,
               Output& output) {
  if (a.output.empty()) return;
  if (!a.no_changes) content.changes = changes_of(drawn, a, content.library);
  if (has_downrigger(content.setup)) content.booms = boom_sweep(content.setup);
  output.text = sheet_html(content);
}

}  // namespace

int sheet(const SheetArguments& arguments) {
  return guarded([&] {
    std::vector<Output> outputs = outputs_of(arguments);
    check_arguments(arguments, outputs);
    const std::string date = date_from(arguments.date);
    const MaterialLibrary library = library_with(arguments.tables);
    const std::string drawn = read_file(arguments.setup);
    const Setup setup = read_setup(drawn, shown(arguments.setup), library);
    const Paper paper = paper_from(arguments.paper, setup.units);
    const Assessment result = assess(setup, sheet_options());
    SheetContent content{setup, result, library, {}, {}, "", file_hash(drawn), date, paper};
    content.file = shown(std::filesystem::path(arguments.setup).filename().string());
    make_quick_texts(arguments, content, outputs);
    make_page(arguments, drawn, content, outputs[page]);
    write_outputs(outputs, arguments.replace);
    for (const Output& o : outputs) {
      if (!o.path.empty()) say("wrote " + shown(o.path) + ": " + o.words + "\n");
    }
    say(wording::headline(result.verdict) + "\n");
    return result.verdict == Verdict::holds ? 0 : 1;
  });
}

}  // namespace thole::cli
