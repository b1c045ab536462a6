#include <thole/changes.hpp>
#include <thole/reading.hpp>

#include "cli/commands.hpp"
#include "cli/counting.hpp"
#include "cli/outputs.hpp"
#include "cli/support.hpp"
#include "report/text.hpp"

namespace thole::cli {

namespace {

// The text of the file with a change in it, read once more as `thole check` would read it.
std::string changed_text(const std::string& text, const std::string& file, const Change& change,
                         const MaterialLibrary& library) {
  std::string out = apply_edits(text, file, change.edits);
  (void)read_setup(out, file, library);
  return out;
}

}  // namespace

int changes(const ChangesArguments& arguments) {
  return guarded([&] {
    if (arguments.writes && arguments.output.empty()) {
      throw Error("--write needs -o with the name of the file to write");
    }
    if (!arguments.writes && !arguments.output.empty()) {
      throw Error("-o needs --write with the number of the change to write");
    }
    if (arguments.writes && arguments.write < 1) throw Error("--write: changes count from 1");
    if (arguments.writes) check_new_file(arguments.output);
    const MaterialLibrary library = library_with(arguments.tables);
    const std::string drawn = read_file(arguments.setup);
    const std::string name = shown(arguments.setup);
    const Setup setup = read_setup(drawn, name, library);
    Counting counting;
    ChangeOptions options;
    options.watch = [&](const Progress& p) {
      counting.tell(p);
      return true;
    };
    const ChangeAnswer answer = suggest_changes(drawn, name, library, options);
    counting.clear();
    bool holds = answer.as_drawn.holds();
    for (const std::size_t i : answer.ranking) {
      const Change& c = answer.changes[i];
      holds = holds || (c.after && c.after->holds());
    }
    if (arguments.writes) {
      const auto n = std::size_t(arguments.write);
      if (n > answer.ranking.size()) {
        throw Error("--write " + std::to_string(n) + ": only " +
                    std::to_string(answer.ranking.size()) + " changes help");
      }
      const Change& c = answer.changes[answer.ranking[n - 1]];
      write_new_file(arguments.output, changed_text(drawn, name, c, library));
      say(text::printable(text::wrapped("", "wrote " + shown(arguments.output) + ": " + c.words)));
      return holds ? 0 : 1;
    }
    say(arguments.json ? change_list_json(setup, answer)
                       : change_list(setup, answer, 3, arguments.all));
    return holds ? 0 : 1;
  });
}

}  // namespace thole::cli
