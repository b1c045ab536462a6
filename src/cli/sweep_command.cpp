#include "cli/commands.hpp"
#include "cli/support.hpp"

namespace thole::cli {

int sweep(const SweepArguments&) { return 2; }
int inputs(const CheckArguments&) { return 2; }

}  // namespace thole::cli
