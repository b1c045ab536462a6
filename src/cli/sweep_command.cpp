#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <string>
#include <thread>

#include <thole/reading.hpp>
#include <thole/sweep.hpp>

#include "cli/commands.hpp"
#include "cli/support.hpp"

namespace thole::cli {
namespace {

// On a terminal only, and gone when done.
SweepOptions options_of() {
  SweepOptions out;
  out.threads = std::max(1U, std::min(std::thread::hardware_concurrency(), 64U));
  if (isatty(STDERR_FILENO) != 0) {
    out.watch = [](const Progress& p) {
      std::fprintf(stderr, "\r%zu of %zu%s", p.done, p.all, p.done == p.all ? "\r\033[K" : "");
      std::fflush(stderr);
      return true;
    };
  }
  return out;
}

}  // namespace

int sweep(const SweepArguments& arguments) {
  return guarded([&] {
    const MaterialLibrary library = library_with(arguments.tables);
    const std::string text = read_file(arguments.setup);
    const SweepAnswer answer = thole::sweep(text, shown(arguments.setup), library,
                                            {.of = arguments.of,
                                             .values = arguments.values,
                                             .from = arguments.from,
                                             .to = arguments.to,
                                             .steps = arguments.steps},
                                            options_of());
    const Setup setup = read_setup(text, shown(arguments.setup), library);
    say(arguments.json ? sweep_json(setup, answer) : sweep_table(setup, answer));
    return 0;
  });
}

int inputs(const CheckArguments& arguments) {
  return guarded([&] {
    const MaterialLibrary library = library_with(arguments.tables);
    const std::string text = read_file(arguments.setup);
    const InputAnswer answer =
        which_inputs_decide(text, shown(arguments.setup), library, options_of());
    const Setup setup = read_setup(text, shown(arguments.setup), library);
    say(arguments.json ? input_json(setup, answer) : input_table(setup, answer));
    return 0;
  });
}

}  // namespace thole::cli
