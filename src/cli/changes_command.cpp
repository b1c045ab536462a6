#include "cli/commands.hpp"
#include "cli/support.hpp"

namespace thole::cli {

int changes(const ChangesArguments&) { return 2; }

}  // namespace thole::cli
