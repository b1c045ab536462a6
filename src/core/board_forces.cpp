#include <thole/assessment.hpp>
