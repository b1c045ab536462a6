#include <thole/changes.hpp>

namespace thole {}
