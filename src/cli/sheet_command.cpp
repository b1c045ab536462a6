#include "cli/commands.hpp"
#include "cli/support.hpp"

namespace thole::cli {

int sheet(const SheetArguments&) { return 2; }

}  // namespace thole::cli
