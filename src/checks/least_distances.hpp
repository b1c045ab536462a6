#pragma once

/// The least distances of holes that the checks ask for, in one place: the checks compare with
/// them, and a hole template shows them. Private to the core.

#include <thole/wood_strength.hpp>

#include "core/geometry.hpp"

namespace thole::checks {

/// Middle of a hole to a free edge of metal: of the wall, or of the plate or bar behind it.
/// Source: see the check `edge-distance`.
[[nodiscard]] inline Length least_edge_in_wall(const Fastening& f) {
  return 1.5 * geometry::widest_hole(f);
}
/// The base has the hole of the screw, not that of its insert.
[[nodiscard]] inline Length least_edge_in_base(const Fastening& f) {
  return 1.5 * f.thread.diameter;
}
/// From hole to hole in metal. Source: see the check `hole-spacing`.
[[nodiscard]] inline Length least_spacing_in_wall(const Fastening& f) {
  return (f.hold == HoldBy::rivet ? 3.0 : 2.5) * geometry::widest_hole(f);
}
/// Source: see the check `laminate-distance`.
[[nodiscard]] inline Length least_edge_in_laminate(const Fastening& f) {
  return 3.0 * f.thread.diameter;
}

/// So thick that the rules for bolts hold in wood: a quarter inch and above.
[[nodiscard]] inline bool thick(const Fastening& f) {
  using namespace literals;
  return f.thread.diameter >= Length(0.25_in) * (1 - 1e-9);
}
/// A plate on timber or plywood. Loads come from any side: the loaded edge, and half the full
/// distance to the loaded end. Source: see the check `wood-distance`.
[[nodiscard]] inline Length least_edge_in_wood(const Fastening& f) {
  return (thick(f) ? 4.0 : SmallFastenerDistances{}.edge) * f.thread.diameter;
}
[[nodiscard]] inline Length least_end_in_wood(const Fastening& f, bool hardwood) {
  if (!thick(f)) return SmallFastenerDistances{}.loaded_end * f.thread.diameter;
  return (hardwood ? 2.5 : 3.5) * f.thread.diameter;
}
/// Hold-downs through a wooden board, which push either way. Source: NDS Tables 12.5.1A and C, a
/// loaded edge and a loaded end of softwood.
[[nodiscard]] inline Length least_edge_in_board(Length diameter) { return 4.0 * diameter; }
[[nodiscard]] inline Length least_end_in_board(Length diameter) { return 7.0 * diameter; }

}  // namespace thole::checks
