#pragma once

/// What a person measures at the boat, and how. Common practice, no source.

#include <string_view>
#include <vector>

namespace thole {

enum class MountKind { gunwale_plate, bracket, cross_board };
/// By its word in the file. Throws UnknownName with the nearest spelling.
[[nodiscard]] MountKind mount_kind(std::string_view word);

struct MeasuringRow {
  std::string_view what;
  std::string_view how;
};
/// What belongs to a kind of mount, in the order of a walk round the boat.
[[nodiscard]] const std::vector<MeasuringRow>& measuring_rows(MountKind kind);
/// What may be in its way.
[[nodiscard]] const std::vector<MeasuringRow>& rows_of_the_surroundings();

/// How to get one input, by its path in the file.
[[nodiscard]] std::string_view how_to_measure(std::string_view path);

/// Texts that the reader's help shares.
namespace how {
inline constexpr std::string_view drag =
    "hook a luggage scale into the line, drag as you fish it and wet, spool full; pull steadily; "
    "read the scale the moment the spool creeps; three times, take the largest";
inline constexpr std::string_view brake_slip =
    "hook a luggage scale into the clip, brake as you fish it, wet; pull steadily along the wire; "
    "read the scale the moment the drum creeps; three times, take the largest";
inline constexpr std::string_view running_pull =
    "tie a luggage scale between line and rod, troll at your fastest speed, read the largest of a "
    "minute";
inline constexpr std::string_view winch_stall =
    "hook a luggage scale between the clip and a strong cleat, haul in, read the largest before "
    "the motor stops";
inline constexpr std::string_view lean =
    "move a person of known weight a measured distance straight across, all others still; a phone "
    "held as a level, before and after; 3 to 8 deg is best";
}  // namespace how

}  // namespace thole
