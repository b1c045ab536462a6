#pragma once

/// Metal under loads that come and go: stress ranges against numbers of cycles.

#include <array>
#include <span>
#include <string_view>

#include <thole/quantities.hpp>
#include <thole/source.hpp>

namespace thole {

/// Details by how they crack. Letters are those of the Aluminum Design Manual, Appendix 3.
enum class FatigueDetail {
  plain_metal,     ///< A
  bolted_flat,     ///< B: net section, loads in the plane of the metal
  attachment,      ///< C: short attachments, stiffeners
  bolted,          ///< D
  bolted_bending,  ///< E: holes with bending out of the plane, ends of fillet welds
  weld_throat,     ///< F: shear on the throat of a fillet weld
  thread_tension,  ///< steel bolts and screws in tension, EN 1993-1-9 category 50
};
inline constexpr std::size_t fatigue_details = 7;

/// Allowed range S = Cf N^(-1/m), extended without end: no range is too small to count.
struct FatigueCurve {
  std::string_view category;
  Stress at_one_cycle{};  ///< Cf
  double slope = 0;       ///< m
  Stress limit{};         ///< published limit under a constant range, 5e6 cycles; not used
  Seen seen = Seen::memory;
};

/// Source:   Aluminum Design Manual, Appendix 3 (B and C seen in worked example 17 of 2020; A, D, E
///           and F from memory, they reproduce their own limits within 2 %); EN 1993-1-9 Table 8.1
///           detail 14 (notes on the text seen).
/// Valid:    aluminium whatever its alloy; steel parts are better than these. In air: a bare metal
///           in salt water lives shorter.
/// Accuracy: design curves, about 2 standard deviations below the mean.
[[nodiscard]] const FatigueCurve& fatigue_curve(FatigueDetail detail);

/// Range that the detail may see so many times. Throws DomainError unless cycles >= 1.
/// Source, Valid, Accuracy: as `fatigue_curve`.
[[nodiscard]] Stress fatigue_range(FatigueDetail detail, double cycles);

/// Cycles of a range until it may crack; infinite without a range.
/// Source, Valid, Accuracy: as `fatigue_curve`.
[[nodiscard]] double fatigue_cycles(FatigueDetail detail, Stress range);

struct RangeCount {
  Stress range{};
  double cycles = 0;
};

/// Share of the life used up, sum of n/N (Palmgren and Miner), the sloping line without an end.
/// Source:   Miner 1945, as in Aluminum Design Manual App. 3.3 (worked example seen).
/// Valid:    any order of ranges. Accuracy: tests scatter from 0.3 to 3.
[[nodiscard]] double miner_sum(FatigueDetail detail, std::span<const RangeCount> ranges);

/// The one range that does the same harm in as many cycles: (sum a_i S_i^m)^(1/m), a_i the shares.
/// Source, Valid, Accuracy: as `miner_sum`. Throws DomainError when there are no cycles.
[[nodiscard]] Stress equivalent_range(FatigueDetail detail, std::span<const RangeCount> ranges);

/// Mean amplitude, fully reversed, of smooth specimens of 6061-T6: 2.1e6/sqrt(N) + 14 000 psi.
/// Not a design value: it shows how far a bolted detail lies below the metal itself.
/// Source:   fit of a research-reactor design basis, page seen. Valid: 1e3 to 1e8 cycles.
/// Accuracy: a mean; the design curve is half of it or a twentieth of the cycles.
/// Throws DomainError unless cycles >= 1.
[[nodiscard]] Stress smooth_6061_mean_amplitude(double cycles);

/// How a load comes.
enum class FatigueWay {
  straight,  ///< with the waves, the way the boat tows all day
  turning,   ///< with the waves, more than 45 deg to a side: a part of the hours
  riding,    ///< the running boat, or the road, shakes the mount
};
inline constexpr std::size_t fatigue_ways = 3;

/// What the parts of a mount may see over its life; filled by `fatigue_life_of` (check.hpp).
struct FatigueLife {
  struct Way {
    double cycles = 0;
    /// Stress under the load at hand over the range that does the harm of all cycles, by detail.
    std::array<double, fatigue_details> share{};
    /// Stress allowed under the load at hand, by detail: each way has its own share of the life.
    std::array<Stress, fatigue_details> allowed{};
  };
  std::array<Way, fatigue_ways> ways;
  double road_hours = 0;  ///< of a season, counted among `riding`
  [[nodiscard]] const Way& of(FatigueWay way) const { return ways[std::size_t(way)]; }
};

}  // namespace thole
