#include <thole/assessment.hpp>

namespace thole {}
