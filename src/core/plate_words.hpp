#pragma once

/// Sentences of the report on a gunwale plate or bracket. Private to the core.

#include <optional>
#include <string>
#include <vector>

#include <thole/assessment.hpp>

namespace thole::plate {

/// The wall as its host is called: "wall", "timber" ...
[[nodiscard]] std::string host_word(const Setup& s);
/// What of a host that is no metal wall is not checked here; "" when nothing is left out.
[[nodiscard]] std::string bending_of_host(const Setup& s, const std::vector<CheckResult>& checks);

/// An edge that clamps pull at and no check covers; of a lip its bending is looked at.
[[nodiscard]] bool clamped_edge(const GunwalePlate& mount);

/// `all_hung_up`: pull of each gear at which the first goes when all balls hang up at once.
void write_ladder(const Setup& s, const std::vector<std::optional<Force>>& all_hung_up,
                  Assessment& out);
/// `hand`: where one tears the mount off first, "a hand at the rim of port rod"; "" where none
/// does.
void write_cautions(const Setup& s, const std::string& hand, Assessment& out);
void write_not_checked(const Setup& s, const std::vector<LoadCase>& cases, Assessment& out);
void write_sources(const Setup& s, Assessment& out);
void write_to_do(const Setup& s, Assessment& out);
/// Adds to a refusal for want of a stop the pull at which friction gives way.
void write_slip(const Setup& s, Assessment& out);
void write_sentence(const Setup& s, const std::vector<LoadCase>& cases, Assessment& out);
/// Verdicts with the wall one size thinner and thicker.
void write_walls(const Setup& s, const AssessOptions& options, Assessment& out);

}  // namespace thole::plate
