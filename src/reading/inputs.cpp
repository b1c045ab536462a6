#include <thole/sweep.hpp>

namespace thole {}
