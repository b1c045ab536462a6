#include "cli/commands.hpp"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <stdexcept>

#include <thole/build_info.hpp>
#include <thole/comparison.hpp>
#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>
#include <thole/unit_text.hpp>

#include "cli/outputs.hpp"
#include "cli/support.hpp"

namespace thole::cli {
namespace {

std::string lower(std::string s) {
  for (char& c : s) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return s;
}

std::string entry_text(const Entry& e) {
  std::string out = e.name;
  std::string also;
  for (const std::string& a : e.also) also += (also.empty() ? "" : ", ") + a;
  if (!also.empty()) out += "  (also " + also + ")";
  if (e.by_user) out += "  [your table " + e.table + "]";
  out += "\n";
  for (const auto& [name, text] : e.about) out += "    " + name + ": " + text + "\n";
  for (const auto& [name, v] : e.values) {
    out += "    " + name + " " + v.written + ", " + std::string(word_for(v.basis)) + "; " +
           to_text(v.source) + "\n";
  }
  if (!e.note.empty()) out += "    note: " + e.note + "\n";
  return out;
}

}  // namespace

int check(const CheckArguments& arguments) {
  return guarded([&] {
    const MaterialLibrary library = library_with(arguments.tables);
    const Setup setup = setup_from(arguments.setup, library);
    // Without the hardest loaded hold-down a board is searched once more, so only in full reports.
    AssessOptions options;
    options.one_missing = !setup.on_board() || arguments.details || arguments.json;
    options.after_loss = true;
    options.by_direction = true;
    options.margins = true;
    const Assessment result = assess(setup, options);
    say(arguments.json
            ? json_report(setup, result)
            : terminal_report(setup, result,
                              {.colour = colour_wanted(), .details = arguments.details}));
    return result.verdict == Verdict::holds ? 0 : 1;
  });
}

int loads(const CheckArguments& arguments) {
  return guarded([&] {
    const MaterialLibrary library = library_with(arguments.tables);
    const Setup setup = setup_from(arguments.setup, library);
    const std::vector<LoadCase> cases = load_cases(setup);
    const Assessment side = beside_the_checks(setup, cases);
    say(arguments.json ? load_table_json(setup, cases, side)
                       : load_table(setup, cases, side,
                                    {.colour = colour_wanted(), .details = arguments.details}));
    return 0;
  });
}

int booms(const CheckArguments& arguments) {
  return guarded([&] {
    const MaterialLibrary library = library_with(arguments.tables);
    const Setup setup = setup_from(arguments.setup, library);
    if (std::none_of(setup.gear.begin(), setup.gear.end(),
                     [](const Gear& g) { return g.downrigger.has_value(); })) {
      throw Error("booms works on downriggers; this setup has none");
    }
    const std::vector<BoomRow> rows = boom_sweep(setup);
    say(arguments.json
            ? boom_table_json(setup, rows)
            : boom_table(setup, rows, {.colour = colour_wanted(), .details = arguments.details}));
    return 0;
  });
}

int compare(const CompareArguments& arguments) {
  return guarded([&] {
    const MaterialLibrary library = library_with(arguments.tables);
    const Comparison c =
        thole::compare(read_file(arguments.setup), shown(arguments.setup), library);
    say(arguments.json ? comparison_json(c, arguments.as_given)
                       : comparison_table(c, arguments.as_given));
    return c.best_holds() ? 0 : 1;
  });
}

int list_materials(const std::vector<std::string>& words, const std::vector<std::string>& tables) {
  return guarded([&] {
    const MaterialLibrary library = library_with(tables);
    if (words.empty()) {
      std::string out =
          made_by() + "\n\nTables (thole materials WORD... lists entries with their sources)\n";
      for (const KindRule& rule : table_kinds()) {
        std::size_t n = 0;
        for (const Entry& e : library.entries()) {
          if (e.kind == rule.kind) ++n;
        }
        out += "  " + std::string(rule.plural) + ": " + std::to_string(n) + "\n";
      }
      say(out);
      return 0;
    }
    std::string out;
    std::string heading;
    for (const Entry& e : library.entries()) {
      // Every word must be found in the kind, the names or the facts.
      const KindRule& rule = table_kind(e.kind);
      std::string hay = lower(std::string(rule.plural) + " " + e.kind + " " + e.name);
      for (const std::string& a : e.also) hay += " " + lower(a);
      for (const auto& [name, text] : e.about) hay += " " + lower(text);
      bool all = true;
      for (const std::string& w : words) all = all && hay.find(lower(w)) != std::string::npos;
      if (!all) continue;
      if (heading != rule.plural) {
        heading = rule.plural;
        out += (out.empty() ? "" : "\n") + heading + "\n\n";
      }
      out += entry_text(e);
    }
    if (out.empty()) {
      std::string asked;
      for (const std::string& w : words) asked += (asked.empty() ? "" : " ") + w;
      std::vector<std::string> names;
      for (const Entry& e : library.entries()) names.push_back(e.name);
      const std::string near = nearest_spelling(asked, names);
      throw Error("no table entry matches \"" + asked + "\"" +
                  (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
    }
    say(out);
    return 0;
  });
}

int list_modes(const std::vector<std::string>& words) {
  return guarded([&] {
    const std::string out = mode_table(built_in_materials(), words);
    if (out.empty()) throw Error("no failure mode matches these words; thole modes lists all");
    say(out);
    return 0;
  });
}

int write_starter(const std::string& path, const std::string& mount, const std::string& units) {
  return guarded([&] {
    const std::string text = starter_setup(mount, reader_units(units));
    write_new_file(path, text);
    const std::string name = shown(path);
    say("wrote " + name + "; fill it in at the boat, then: thole check " + name + "\n\n" +
        measuring_list(mount));
    return 0;
  });
}

int print_measuring_list(const std::string& mount) {
  return guarded([&] {
    say(measuring_list(mount));
    return 0;
  });
}

int print_schema(const std::string& which) {
  return guarded([&] {
    if (which == "setup") {
      say(setup_schema());
    } else if (which == "report") {
      say(report_schema());
    } else {
      throw Error("\"" + which + "\" is no schema; setup or report is expected");
    }
    return 0;
  });
}

}  // namespace thole::cli
