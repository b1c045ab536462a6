#include <thole/assumptions.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>

#include "cli/commands.hpp"
#include "cli/support.hpp"

namespace thole::cli {

int list_assumptions(const CheckArguments& arguments) {
  return guarded([&] {
    if (arguments.setup.empty()) {
      say(assumption_table(all_assumptions()));
      return 0;
    }
    const Setup setup = setup_from(arguments.setup, library_with(arguments.tables));
    say(assumption_table(assumptions_of(setup)));
    return 0;
  });
}

}  // namespace thole::cli
