#include "reading/change_kinds.hpp"

namespace thole::reading {

std::span<const DraftKind> plate_changes() { return {}; }

}  // namespace thole::reading
