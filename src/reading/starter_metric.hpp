#pragma once

#include <string>

namespace thole::reading {

/// A starter setup in inches, feet and pounds made one in millimetres, metres, kilograms and
/// newtons: measures rounded as one would measure them, what is bought by name (threads, washers,
/// sections) replaced by what a shop of the other market has in about that size. Comments keep
/// their columns.
[[nodiscard]] std::string in_metric(std::string text);

}  // namespace thole::reading
