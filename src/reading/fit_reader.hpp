#pragma once

/// The block `fit` of a setup. Private to reading.

#include "reading/fields.hpp"

#include <thole/setup.hpp>

namespace thole::reading {

/// Reads the block, when it is there, into the setup. `kind`: of the mount; "" after a problem. Its
/// figures are no inputs of the checks and are not listed among them.
void read_fit(Fields& top, Setup& setup, const std::string& kind);

}  // namespace thole::reading
