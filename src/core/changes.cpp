#include <algorithm>

#include <thole/changes.hpp>

// In the core, because the reports show it too.

namespace thole {

double Trouble::points() const {
  double out = 3;
  switch (cost) {
    case Cost::nothing:
      break;
    case Cost::coins:
      out += 1;
      break;
    case Cost::store:
      out += 2.5;
      break;
    case Cost::yard_job:
      out += 6;
      break;
  }
  out += 0.5 * trips + 0.5 * holes + 8 * given_up;
  out += mass_known ? 0.5 * std::max(added.value(), 0.0) : 0.5;
  return out;
}

}  // namespace thole
