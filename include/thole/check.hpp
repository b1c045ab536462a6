#pragma once

/// Failure modes: one function each, one table.

#include <array>
#include <span>
#include <string>
#include <string_view>

#include <thole/base_contact.hpp>
#include <thole/fastener_group.hpp>
#include <thole/fatigue.hpp>
#include <thole/loads.hpp>
#include <thole/setup.hpp>

namespace thole {

/// What acts on the fasteners of one base under one load, for one assumed bed stiffness.
struct Actions {
  int count = 0;
  std::array<Force, max_fasteners> tension{};  ///< with the growth by a bending base
  std::array<PlaneForce, max_fasteners> shear{};
  BaseLoad load;
  const BaseContact* contact = nullptr;
  ContactResult result;
  FatigueLife life;  ///< of the setup
  FatigueWay way = FatigueWay::straight;
};

/// Demand against strength in one unit, at the fastener where their ratio is worst (-1: none).
struct Use {
  Measure demand;
  Measure strength;
  int fastener = -1;
  [[nodiscard]] double factor() const;  ///< strength / demand, infinity without demand
};

enum class Standing {
  applies,
  not_concerned,  ///< this mount has no such part
  not_checked,    ///< concerned, but something is missing; named in the report
  refused,        ///< concerned, and no calculation can answer: `no verdict`
};

struct Applicability {
  Standing standing = Standing::applies;
  std::string why;
};

struct BoardActions;  // src/checks/board_model.hpp

/// What `Use::fastener` counts.
enum class Item {
  fastener,  ///< of the base plate
  cut,       ///< a place along a board
  hold_down,
  ledge,  ///< 0 port, 1 starboard
  leg,
  gear,
};

/// What is gone when a mode has happened.
enum class Loss {
  fastener,  ///< one fastener, hold-down or leg: the rest takes over
  mount,     ///< board, base or bracket: nothing holds the gear any more
  boat,      ///< the boat's own wall, panel, timber or rail is torn
  gear,      ///< the gear comes off the mount
  bends,     ///< bent, dented or crushed, it stays where it is
};

/// Has no default, so that no mode is left without.
struct Gone {
  constexpr Gone(Loss loss) : is(loss) {}         // NOLINT(google-explicit-constructor)
  constexpr operator Loss() const { return is; }  // NOLINT(google-explicit-constructor)
  Loss is;
};

/// Kinds of host that a mode belongs to, as bits.
using Hosts = unsigned;
[[nodiscard]] constexpr Hosts host_bit(HostKind kind) { return 1U << unsigned(kind); }
inline constexpr Hosts any_host = ~0U;

struct FailureMode {
  std::string_view id;         ///< kebab-case, stable
  std::string_view gives_way;  ///< "threads pull out of the wall"
  Gone loss;                   ///< what is gone with it; the worst that is possible when in doubt
  std::string_view group;      ///< row of the table of factors needed
  bool metal_yields = false;   ///< the accident reduction applies
  std::string_view source;
  Seen seen = Seen::memory;
  std::string_view valid;
  std::string_view accuracy;
  int outside_checks = 0;                        ///< published checks in tests/, counted by a test
  std::string_view advice;                       ///< what helps, in the order to try it
  std::array<std::string_view, 8> depends_on{};  ///< paths of inputs, unused ones empty
  Applicability (*applies)(const Setup&) = nullptr;
  Use (*use)(const Setup&, const Actions&, Category) = nullptr;
  bool needs_load = true;  ///< false: a matter of distances only
  bool spoils = false;   ///< a dent: a limit of use that counts for the verdict and the hold limit,
                         ///< but nothing goes by it
  bool fatigue = false;  ///< a limit of life: counts for the verdict by the everyday cases, never
                         ///< for a pull that is held or at which something goes
  bool whole_base = false;  ///< looks at all fasteners of the base together, or at the base itself
  bool whole_host = false;  ///< bends or turns the host round the base, as fasteners of a fitting
                            ///< alone do not
  bool by_kind = false;     ///< and at those of each kind by themselves: of a piece that they share
  Item item = Item::fastener;
  Use (*use_on_board)(const BoardActions&, Category) = nullptr;  ///< of a cross-board
  Hosts hosts = any_host;                                        ///< of a gunwale plate
  bool clasped = false;  ///< also of a bracket that U-bolts or clamps hold: nothing enters the host
};

/// Whether a mode belongs to the host of a setup: others are no part of its assessment at all.
[[nodiscard]] bool is_of_host(const FailureMode& mode, const Setup& setup);

/// THE list of failure modes: of a gunwale plate and of a cross-board.
[[nodiscard]] std::span<const FailureMode> catalogue();
[[nodiscard]] std::span<const FailureMode> board_catalogue();
[[nodiscard]] std::span<const FailureMode> catalogue_for(const Setup& setup);

/// What the parts may see over the life of the mount: 20 seasons.
///
/// Waves: the cycles of the load cases by the hours of a season, a tenth of them in turns. The pull
/// of an everyday case is the crest of the highest wave; waves of all heights do the harm of half
/// its range or a little more (Rayleigh), so that 1 - mean/crest of the pull counts. A plain load
/// counts from slack to its pull each time. Strikes and brake jerks, from slack, count as the waves
/// that do the same harm (Miner), stress in proportion to pull. Running: 1 Hz for a tenth of the
/// hours, peaks by an exponential law whose mean is the peak of the hardest case over 5.6. Straight
/// towing gets half of the life, turns and running a quarter each (all of it where nothing else
/// comes), so that their sum is kept; salt water (splashed)
/// counts twice. The road, where the gear stays on for it: 1 Hz, peaks by the same law from the
/// trailer's 1 g on top of gravity, half of it along and across; counted as running bumps that do
/// the same harm to the part that feels it most. Not counted where no running case is left.
/// Source:   laws of Rayleigh and, for bumps, Fridsma 1971 (from memory); numbers: judgement.
/// Valid:    the everyday cases of the list. Accuracy: on the cautious side. Throws as
/// `load_cases`.
[[nodiscard]] FatigueLife fatigue_life_of(const Setup& setup);
/// Of a wire or line: turning from 46 deg to either side on, but not when it hangs steeper than 75
/// deg.
[[nodiscard]] FatigueWay fatigue_way_of(const Direction<Boat>& pull);

/// Factor that a mode needs in a category, from the factor of its group: metal yielding in an
/// accident three quarters of it, never below `accident_least`; wood under everyday loads times
/// 1.6/1.15 for their duration, except dents and buckling.
/// Source: NDS Table 2.3.2 (load duration); the accident reduction is the one-third increase long
/// given by allowable-stress codes (from memory).
[[nodiscard]] double needed_factor(const FailureMode& mode, double group_factor, Category category,
                                   double accident_least);

}  // namespace thole
