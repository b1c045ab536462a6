#pragma once

/// The boat as a whole, as far as it is known: what running, waves and heel need.

#include <optional>

#include <thole/quantities.hpp>

namespace thole {

/// A mass moved straight across the boat, and how far the boat leaned by it.
struct LeanTest {
  Mass moved{};
  Length across{};  ///< from its first place to its second
  Angle heel{};     ///< change of heel
};

/// Afloat and loaded as when fishing.
struct BoatData {
  Length length{};                      ///< of the hull, without motor and platform
  Length beam{};                        ///< over the gunwales where the mount is
  Length freeboard{};                   ///< least height of the gunwale above the water there
  Mass loaded_mass{};                   ///< boat, motor, fuel, people, gear
  Length waterline_length{};            ///< default 0.88 of the length
  Length waterline_beam{};              ///< default 0.90 of the beam
  Length chine_beam{};                  ///< default 0.80 of the beam
  Angle deadrise{};                     ///< at 0.4 of the waterline length from aft; default 10 deg
  std::optional<Length> centre_height;  ///< of gravity above the keel, people seated
  std::optional<LeanTest> lean_test;
  std::optional<Speed> top_speed;  ///< the fastest that is run with the gear on board
  Length wave_height{};            ///< the largest that is fished in; default 0.3 m
  Length mount_from_stern{};       ///< default 0: at the stern
  std::optional<Speed> wind;       ///< with `fetch`: cycles per hour from the sea that it raises
  std::optional<Length> fetch;     ///< open water upwind
};

}  // namespace thole
