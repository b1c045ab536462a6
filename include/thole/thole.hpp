#pragma once

/// Front door of thole: will a home-made gear mount on a small open boat hold?
///
///     const auto setup = thole::read_setup(text, "my.yaml", thole::built_in_materials());
///     const auto result = thole::assess(setup);
///     std::cout << thole::terminal_report(setup, result);
///
/// The core (this header) knows no YAML, no files and no terminal; <thole/reading.hpp> turns texts
/// into setups. A calculation is not an inspection: every report defers to a marine professional.

#include <thole/assessment.hpp>
#include <thole/report.hpp>
#include <thole/setup.hpp>
