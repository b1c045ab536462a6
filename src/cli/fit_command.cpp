#include "cli/commands.hpp"
#include "cli/support.hpp"

namespace thole::cli {

int fit(const FitArguments&) { return 2; }

}  // namespace thole::cli
