#include <thole/fit.hpp>

namespace thole {}
