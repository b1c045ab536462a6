#pragma once

/// SI to the reader's inches-and-fractions or metric: the only place that chooses display units.
/// No locale; the same value gives the same text on every machine.

#include <string>

#include <thole/quantities.hpp>
#include <thole/unit_text.hpp>

namespace thole {

enum class ReaderUnits { inch, metric };
/// By its word in the file. Throws UnknownName with the nearest spelling.
[[nodiscard]] ReaderUnits reader_units(std::string_view word);

/// Which way prose rounds to two significant figures: limits down, demands up.
enum class Rounding { down, nearest, up };

/// `7 1/4 in` within 0.0005 in of a sixteenth, else `0.090 in`; `184.2 mm`.
[[nodiscard]] std::string show(Length v, ReaderUnits u);
/// Two significant figures: `96 lbf`, `430 N`.
[[nodiscard]] std::string about(Force v, ReaderUnits u, Rounding r = Rounding::nearest);
/// Three significant figures.
[[nodiscard]] std::string show(Force v, ReaderUnits u);
[[nodiscard]] std::string show(Moment v, ReaderUnits u);
[[nodiscard]] std::string show(Stress v, ReaderUnits u);
[[nodiscard]] std::string show(Mass v, ReaderUnits u);
[[nodiscard]] std::string show(Angle v);
[[nodiscard]] std::string show(const Measure& m, ReaderUnits u);

/// A safety factor, rounded down: 2.996 prints as 2.99. Above 100: `> 100`.
[[nodiscard]] std::string show_factor(double factor);
/// A plain number with up to three decimals, no trailing zeros.
[[nodiscard]] std::string show_number(double v);
/// Shortest decimal that reads back to the same double, for JSON.
[[nodiscard]] std::string exact_number(double v);

}  // namespace thole
