#pragma once

/// Drills by name, and what all hole patterns share. Private to the core.

#include <string>
#include <vector>

#include <thole/holes.hpp>

namespace thole::hole_parts {

// drills.cpp

/// The drill of that size by its name: millimetres for metric threads, else a fraction, number or
/// letter; the next larger where none is as wide.
[[nodiscard]] Drill drill_of(Length diameter, const Thread& of, const MaterialLibrary& library,
                             std::string use, Citation source);
/// The drill nearest to `aim` within two sizes; the next above `low` where no drill lies there.
[[nodiscard]] Drill drill_between(Length low, Length aim, Length high, const Thread& of,
                                  const MaterialLibrary& library, std::string use, Citation source);
[[nodiscard]] bool is_metric(const Thread& thread);
/// Pilot where the hole is wide enough to need one, tap drill, tap.
[[nodiscard]] std::vector<Drill> tapping(const Thread& thread, const MaterialLibrary& library);
/// Pilot, and the hole that the checks go by; beside it the close fit where a table has it.
[[nodiscard]] std::vector<Drill> clearing(const Thread& thread, const MaterialLibrary& library);
/// Pilot and one hole of that size.
[[nodiscard]] std::vector<Drill> boring(Length diameter, const Thread& thread,
                                        const MaterialLibrary& library, const std::string& use,
                                        const Citation& source);
/// Shank hole and thread hole of a lag or wood screw.
[[nodiscard]] std::vector<Drill> leading(const WoodFastener& screw, double specific_gravity,
                                         const Thread& thread, const MaterialLibrary& library);

// holes.cpp

[[nodiscard]] Citation practice();
/// Both units: "1 1/2 in (38.1 mm)".
[[nodiscard]] std::string size(Length v, ReaderUnits u);
[[nodiscard]] Outline box(Length low_x, Length low_y, Length high_x, Length high_y);
/// Distance of a hole to the nearest point of the line of an outline's side, one for each side
/// within `most`.
void note_sides(HoleSet& set, const Outline& outline, const std::string& words,
                std::optional<Length> least);
/// From each hole to its nearest neighbour.
void note_spacing(HoleSet& set, std::optional<Length> least);
/// To a straight edge at y = `at`, or `across` it at x = `at`.
void note_line(HoleSet& set, bool across, Length at, const std::string& words,
               std::optional<Length> least);
/// To the nearer one of two.
void note_nearer(HoleSet& set, bool across, Length low, Length high, const std::string& words,
                 std::optional<Length> least);
void add_other(HoleSet& set, Outline outline, std::string is);
/// How a plate is made, in words.
[[nodiscard]] std::string corners(const Metal& metal);
/// A sleeve to keep metals apart needs a wider hole than the checks reckon with.
[[nodiscard]] std::string sleeve_note(const Thread& thread, ReaderUnits u);
/// What may lie behind a skin of the boat.
[[nodiscard]] std::vector<std::string> behind_the_skin(bool upward);
/// Whether an assumed input begins with one of `paths` and is a place or size.
[[nodiscard]] bool guessed(const Setup& setup, const std::vector<std::string>& paths);

// holes_of_plate.cpp, holes_of_board.cpp

[[nodiscard]] std::vector<HoleSet> of_plate(const Setup& setup, const MaterialLibrary& library);
[[nodiscard]] std::vector<HoleSet> of_board(const Setup& setup, const MaterialLibrary& library);

}  // namespace thole::hole_parts
