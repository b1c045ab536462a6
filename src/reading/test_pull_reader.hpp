#pragma once

/// The block `test_pulls` of a setup. Private to reading.

#include <thole/setup.hpp>

#include "reading/fields.hpp"

namespace thole::reading {

/// Reads the list, when it is there, into the setup, whose gear is read already. Its figures are no
/// inputs of the checks and are not listed among them.
void read_test_pulls(Fields& top, Setup& setup);

}  // namespace thole::reading
