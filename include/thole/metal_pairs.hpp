#pragma once

/// Metals that touch in a mount, in water: which one suffers, and what is done about it.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/setup.hpp>

namespace thole {

using Voltage = units::quantity<si::electric_potential>;

enum class GalvanicKind {
  zinc,  ///< galvanised, as long as the coat lasts
  aluminium,
  steel,            ///< plain or thinly plated
  aluminium_2xxx,   ///< alloyed with copper: bolts of 2024
  stainless,        ///< 18 % chromium, passive
  brass_or_bronze,  ///< silicon bronze too
  copper,
};

struct GalvanicEntry {
  GalvanicKind kind = GalvanicKind::aluminium;
  std::string_view name;
  Voltage index{};  ///< anodic index: the larger one of a pair corrodes
  Seen seen = Seen::memory;
  std::optional<Voltage> sea_water;  ///< measured potential, least noble value of the range
};

/// Source:   anodic index as in MIL-DTL-14072 (stainless, 2xxx, brass, copper: pages seen; wrought
///           aluminium and steel: copies; zinc from memory); sea-water series of two tables (seen).
/// Valid:    clean metal; stainless in a wet crevice falls to about -0.55 V and suffers itself.
/// Accuracy: two decimals of a list; sources differ by 0.05 V.
[[nodiscard]] const std::vector<GalvanicEntry>& galvanic_series();
[[nodiscard]] const GalvanicEntry& galvanic_entry(GalvanicKind kind);

/// Difference that bare contact allows: 0.15 V in salt water, 0.25 V in fresh.
/// Source:   the usual rule for harsh and for normal surroundings (two pages seen, no clause).
/// Valid:    metals of like size. Accuracy: rule.
[[nodiscard]] Voltage permitted_difference(bool salt_water);

/// From the name of a stored or written-out metal; nothing where the name does not tell.
[[nodiscard]] std::optional<GalvanicKind> galvanic_kind(const Metal& metal);
[[nodiscard]] std::optional<GalvanicKind> galvanic_kind(const FastenerMaterial& material);

enum class PairRule {
  fine,           ///< within the permitted difference
  small_cathode,  ///< a noble fastener in much baser metal: the accepted order, isolated
  large_cathode,  ///< a noble plate on baser metal: bad
  small_anode,    ///< a base fastener in nobler metal: it goes first
  never_bare,     ///< copper and its alloys on aluminium
  coat_first,     ///< zinc on aluminium: the coat goes first
};

/// Source:   MIL-STD-1250A 5.6 and 5.7, MIL-DTL-14072F 3.13 (pages seen): area rule, isolation.
/// Valid:    wet or splashed. Accuracy: rule.
[[nodiscard]] PairRule pair_rule(GalvanicKind fastener_or_plate, bool is_fastener,
                                 GalvanicKind large, bool salt_water);

struct MetalPair {
  std::string part;   ///< "the fasteners"
  std::string other;  ///< "the wall"
  GalvanicKind kind = GalvanicKind::aluminium;
  GalvanicKind other_kind = GalvanicKind::aluminium;
  bool fastener = false;  ///< the part is small against the other
  Voltage difference{};
  PairRule rule = PairRule::fine;
};

/// Every pair of metals that touch in a mount as described; parts of an unknown metal are left out.
/// Source, Valid, Accuracy: as `pair_rule`.
[[nodiscard]] std::vector<MetalPair> metal_pairs(const Setup& setup);

/// What to tell about them and about treated wood on metal, one text for each kind of pair.
/// Source:   USDA Forest Service 0677-2809 for wood with copper preservatives (page seen); the rest
///           as `pair_rule`. Valid, Accuracy: rule.
[[nodiscard]] std::vector<std::string> pair_cautions(const Setup& setup);

}  // namespace thole
