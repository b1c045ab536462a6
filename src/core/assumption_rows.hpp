#pragma once

// The rows behind `assumptions.hpp`: one table for each part of the program.

#include <span>

#include <thole/assumptions.hpp>

namespace thole {

struct AssumptionRow {
  bool (*applies)(const Setup&);
  const char* id;
  const char* about;
  const char* text;
  Errs errs;
  const char* why;
  const char* said;
};

[[nodiscard]] std::span<const AssumptionRow> assumptions_of_loads();  // boat and answers as well
[[nodiscard]] std::span<const AssumptionRow> assumptions_of_boards();
[[nodiscard]] std::span<const AssumptionRow> assumptions_of_plates();

}  // namespace thole
