#pragma once

/// A setup that a plank of store size holds, as text.

namespace thole::test {

// A light pull on a plank on two blocks.
inline const char* const plank = R"(thole: 1
units: inch
water: fresh
use: {not_a_seat: yes}
mount:
  kind: cross_board
  board:
    form: plank
    size: 2x8
    length: 72 in
    wood: {is: Douglas Fir-Larch No.2, known: tagged}
  clear_width: {is: 56 in, known: measured}
  ledges:
    both: {kind: saddle, along: 7 in, fore_aft: 14 in}
  hold_downs:
    - side: both
      kind: bolt
      outboard: 3 in
      forward: 1 1/4 in
      thread: 1/2-13
      material: {is: "stainless, unmarked", known: tagged}
      washer_diameter: 2 1/2 in
    - side: both
      kind: bolt
      outboard: 3 in
      forward: -1 1/4 in
      thread: 1/2-13
      material: {is: "stainless, unmarked", known: tagged}
      washer_diameter: 2 1/2 in
gear:
  - kind: plain_load
    name: rod
    on_board: {side: port, outboard: -6 in}
    at: {forward: 0 in, outboard: 0 in, up: 3 in}
    pull: {is: 30 lbf, known: measured}
    azimuth: [0 deg, 180 deg]
    dip: [0 deg, 60 deg]
condition: {cracks: no, loose_rivets: no, bent_or_corroded: no, soft_wood_or_core: no,
            weld_near_base: no, within_6_in: knee}
)";

}  // namespace thole::test
