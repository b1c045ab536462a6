#include <thole/sizing.hpp>

namespace thole {}
