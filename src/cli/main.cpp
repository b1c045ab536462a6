#include <CLI/CLI.hpp>

#include <string>
#include <vector>

#include <thole/build_info.hpp>
#include <thole/unit_text.hpp>

#include "cli/commands.hpp"
#include "cli/support.hpp"

namespace {

using thole::cli::shown;

const std::vector<std::string> command_names{
    "check",   "loads", "booms",     "changes", "size",    "sweep",  "inputs", "fit",
    "compare", "modes", "materials", "new",     "measure", "schema", "sheet",  "assumptions"};

int refuse(const std::string& text) {
  thole::cli::complain(text + "\nsee: thole --help");
  return 2;
}

// CLI11 misreports a mistyped command or option, so leftovers are looked at here.
int refuse_leftover(const CLI::App& app, const std::string& word) {
  std::vector<std::string> candidates;
  if (word.starts_with("-")) {
    for (const CLI::Option* o : app.get_options()) {
      for (const std::string& name : o->get_lnames()) candidates.push_back("--" + name);
    }
    const std::string near = thole::nearest_spelling(word, candidates);
    return refuse("unknown option \"" + shown(word) + "\"" +
                  (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
  }
  return refuse("\"" + shown(word) + "\" is one word too many here");
}

int run(int argc, char** argv) {
  CLI::App app{
      "thole: will a home-made gear mount on a small open boat hold?\n"
      "A calculation is not an inspection; it defers to a marine professional.\n"
      "Exit codes: 0 holds, 1 any other verdict, 2 bad input or output."};
  app.name("thole");
  app.set_version_flag("--version", thole::build_text());
  app.allow_extras();

  thole::cli::CheckArguments arguments;
  std::vector<std::string> tables;
  std::vector<std::string> words;
  std::string path;
  std::string which = "setup";
  std::string mount = "gunwale_plate";
  std::string units = "inch";

  CLI::App* check = app.add_subcommand("check", "Check a setup and print the verdict");
  check->add_option("SETUP", arguments.setup, "setup file (YAML)");
  check->add_flag("--details", arguments.details, "every check, case, input and source");
  check->add_flag("--json", arguments.json, "the complete report as JSON");
  check->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  CLI::App* loads = app.add_subcommand("loads", "List the load cases, to argue with");
  loads->add_option("SETUP", arguments.setup, "setup file (YAML)");
  loads->add_flag("--details", arguments.details, "also rods in their tubes and the boat's side");
  loads->add_flag("--json", arguments.json, "the complete list as JSON");
  loads->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  CLI::App* booms = app.add_subcommand("booms", "Show where the booms of downriggers may point");
  booms->add_option("SETUP", arguments.setup, "setup file (YAML) with a cross_board");
  booms->add_flag("--json", arguments.json, "the complete table as JSON");
  booms->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  thole::cli::ChangesArguments changing;
  CLI::App* changes = app.add_subcommand("changes", "Try single changes and rank those that help");
  changes->footer("Exit codes: 0 it holds with one of them, or as drawn; 1 none is enough.");
  changes->add_option("SETUP", changing.setup, "setup file (YAML)");
  changes->add_flag("--all", changing.all, "every change that was tried");
  changes->add_flag("--json", changing.json, "the complete list as JSON");
  changes->add_option("--write", changing.write, "number of the change to write out as a setup");
  changes->add_option("-o,--output", changing.output, "file to write; never over one that exists");
  changes->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  thole::cli::SweepArguments sweeping;
  CLI::App* sweep = app.add_subcommand("sweep", "Follow one quantity over a range");
  sweep->add_option("SETUP", sweeping.setup, "setup file (YAML)");
  sweep->add_option("--of", sweeping.of,
                    "a path, as in mount.host.thickness, or a name, as in \"boom length\"; "
                    "without values \"wall\" takes the common walls");
  sweep->add_option("--from", sweeping.from, "first value, with its unit");
  sweep->add_option("--to", sweeping.to, "last value");
  sweep->add_option("--steps", sweeping.steps, "how many equal steps between them; 10")
      ->check(CLI::PositiveNumber);
  sweep->add_option("--value", sweeping.values, "one value; may be given again")
      ->allow_extra_args(false);
  sweep->add_flag("--json", sweeping.json, "the table as JSON, for plots");
  sweep->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  CLI::App* inputs = app.add_subcommand("inputs", "Show which inputs decide the verdict");
  inputs->add_option("SETUP", arguments.setup, "setup file (YAML)");
  inputs->add_flag("--json", arguments.json, "the complete table as JSON");
  inputs->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  thole::cli::FitArguments fitting;
  CLI::App* fit = app.add_subcommand("fit", "Show what clears motor, hands, cleats, oars, rods");
  fit->footer("Exit codes: 0 nothing hits, 1 something does, 2 bad input.");
  fit->add_option("SETUP", fitting.setup, "setup file (YAML) with a block fit");
  fit->add_flag("--json", fitting.json, "the complete table as JSON, shapes included");
  fit->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  thole::cli::SizeArguments sizing;
  CLI::App* size =
      app.add_subcommand("size", "Find the smallest and lightest of store sizes that holds");
  size->footer(thole::cli::size_footer());
  size->add_option("SETUP", sizing.setup, "setup file (YAML)");
  size->add_option("--free", sizing.free, "quantities to choose, commas between; see below")
      ->allow_extra_args(false);
  size->add_option("--wood", sizing.woods, "wood and grade to try; may be given again")
      ->allow_extra_args(false);
  size->add_option("--laid", sizing.laid, "flat or on_edge; both when left out");
  size->add_option("--legs", sizing.legs, "none, drawn or below_gear; all when left out");
  size->add_option("--leg-length", sizing.leg_length, "of legs below the gear, as in \"14 in\"");
  size->add_option("--market", sizing.market, "where planks are sold, as in Nordic; or all");
  size->add_flag("--details", sizing.details, "every option, and by what designs are ruled out");
  size->add_flag("--json", sizing.json, "the complete answer as JSON");
  size->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  thole::cli::CompareArguments comparing;
  CLI::App* compare = app.add_subcommand("compare", "Set variants and hole patterns side by side");
  compare->footer("Exit codes: 0 the best row holds, 1 it holds if or less, 2 bad input.");
  compare->add_option("SETUP", comparing.setup, "setup file (YAML) with variants or patterns");
  compare->add_flag("--as-given", comparing.as_given, "in the order of the file");
  compare->add_flag("--json", comparing.json, "the complete table as JSON");
  compare->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  thole::cli::SheetArguments drawing;
  CLI::App* sheet =
      app.add_subcommand("sheet", "Write the shop sheet, templates, cards and tables");
  sheet->footer("Exit codes: 0 it holds, 1 any other verdict, 2 bad input; written either way.");
  sheet->add_option("SETUP", drawing.setup, "setup file (YAML)");
  sheet->add_option("-o,--output", drawing.output, "the sheet, an HTML file");
  sheet->add_option("--holes", drawing.holes,
                    "hole template at 1:1: pages (.html), or one pattern (.svg)");
  sheet->add_option("--pattern", drawing.pattern, "of an .svg template: number of the pattern");
  sheet->add_option("--forces", drawing.forces, "forces on fasteners and members (.csv)");
  sheet->add_option("--drawing", drawing.drawing, "plates for a fabricator (.dxf or .svg)");
  sheet->add_option("--paper", drawing.paper, "a4 or letter; by the units when left out");
  sheet->add_option("--date", drawing.date, "date to print, as in 2026-11-27; today");
  sheet->add_flag("--no-changes", drawing.no_changes, "do not look for changes (quicker)");
  sheet->add_flag("--replace", drawing.replace, "write over files that are there");
  sheet->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  CLI::App* materials = app.add_subcommand("materials", "List and search tables with sources");
  materials->add_option("WORD", words, "words that an entry must hold");
  materials->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  CLI::App* modes =
      app.add_subcommand("modes", "List what can give way, by which source, how proved");
  modes->add_option("WORD", words, "words that a mode must hold");

  CLI::App* assumptions =
      app.add_subcommand("assumptions", "List what is assumed and which way each errs");
  assumptions->add_option("SETUP", arguments.setup, "setup file (YAML): only what bears on it");
  assumptions->add_option("--materials", tables, "a table of your own; may be given again")
      ->allow_extra_args(false);

  CLI::App* start = app.add_subcommand("new", "Write a commented starter setup");
  start->add_option("FILE", path, "file to write; never over one that exists");
  start->add_option("--mount", mount, "gunwale_plate (default), bracket or cross_board");
  start->add_option("--units", units, "inch (default) or metric");

  CLI::App* measure = app.add_subcommand("measure", "Print what to measure at the boat");
  measure->add_option("--mount", mount, "gunwale_plate (default), bracket or cross_board");

  CLI::App* schema = app.add_subcommand("schema", "Print the JSON Schema: setup or report");
  schema->add_option("WHICH", which, "setup (default) or report");

  for (CLI::App* sub : {check, loads, booms, changes, size, sweep, inputs, fit, compare, modes,
                        materials, assumptions, start, measure, schema, sheet})
    sub->allow_extras();

  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    thole::cli::say(app.help());  // of the command, where there is one
    return 0;
  } catch (const CLI::CallForVersion& e) {
    thole::cli::say(std::string(e.what()) + "\n");
    return 0;
  } catch (const CLI::ParseError& e) {
    return refuse(shown(e.what()));
  }

  for (CLI::App* sub : app.get_subcommands()) {
    const std::vector<std::string> left = sub->remaining();
    if (!left.empty()) return refuse_leftover(*sub, left.front());
  }
  const std::vector<std::string> left = app.remaining();
  if (!left.empty()) {
    if (app.get_subcommands().empty() && !left.front().starts_with("-")) {
      const std::string near = thole::nearest_spelling(left.front(), command_names);
      return refuse("unknown command \"" + shown(left.front()) + "\"" +
                    (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
    }
    return refuse_leftover(app, left.front());
  }

  if (check->parsed()) {
    if (arguments.setup.empty()) return refuse("check needs a setup file");
    arguments.tables = tables;
    return thole::cli::check(arguments);
  }
  if (loads->parsed()) {
    if (arguments.setup.empty()) return refuse("loads needs a setup file");
    arguments.tables = tables;
    return thole::cli::loads(arguments);
  }
  if (booms->parsed()) {
    if (arguments.setup.empty()) return refuse("booms needs a setup file");
    arguments.tables = tables;
    return thole::cli::booms(arguments);
  }
  if (changes->parsed()) {
    if (changing.setup.empty()) return refuse("changes needs a setup file");
    changing.tables = tables;
    changing.writes = changes->count("--write") > 0;
    return thole::cli::changes(changing);
  }
  if (sweep->parsed()) {
    if (sweeping.setup.empty()) return refuse("sweep needs a setup file");
    sweeping.tables = tables;
    return thole::cli::sweep(sweeping);
  }
  if (inputs->parsed()) {
    if (arguments.setup.empty()) return refuse("inputs needs a setup file");
    arguments.tables = tables;
    return thole::cli::inputs(arguments);
  }
  if (fit->parsed()) {
    if (fitting.setup.empty()) return refuse("fit needs a setup file");
    fitting.tables = tables;
    return thole::cli::fit(fitting);
  }
  if (size->parsed()) {
    if (sizing.setup.empty()) return refuse("size needs a setup file");
    sizing.tables = tables;
    return thole::cli::size(sizing);
  }
  if (compare->parsed()) {
    if (comparing.setup.empty()) return refuse("compare needs a setup file");
    comparing.tables = tables;
    return thole::cli::compare(comparing);
  }
  if (sheet->parsed()) {
    if (drawing.setup.empty()) return refuse("sheet needs a setup file");
    drawing.tables = tables;
    return thole::cli::sheet(drawing);
  }
  if (assumptions->parsed()) {
    arguments.tables = tables;
    return thole::cli::list_assumptions(arguments);
  }
  if (modes->parsed()) return thole::cli::list_modes(words);
  if (materials->parsed()) return thole::cli::list_materials(words, tables);
  if (start->parsed()) {
    if (path.empty()) return refuse("new needs the name of the file to write");
    return thole::cli::write_starter(path, mount, units);
  }
  if (measure->parsed()) return thole::cli::print_measuring_list(mount);
  if (schema->parsed()) return thole::cli::print_schema(which);
  thole::cli::say(app.help());
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  thole::cli::begin();
  return thole::cli::finish(run(argc, argv));
}
