#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/measuring.hpp>
#include <thole/reading.hpp>
#include <thole/unit_text.hpp>

#include "reading/starter_metric.hpp"

namespace thole {
namespace {

std::string plate_starter() {
  return R"(# A setup of thole: one file, one mount. Fill in what you measured at the boat.
# A value with its unit: 7 1/4 in, 0.090 in, 184 mm, 15 deg, 40 lbf, 12 lb.
# How you know it: {is: 1.8 mm, known: measured}; measured, tagged (a label) or assumed.
# A verdict that hangs on an assumed value is "holds if". `thole measure` lists what to measure.
thole: 1
title: My rod holder
units: inch            # reports in inch or metric
water: fresh           # fresh or salt

# use:
#   running_peak: 5         # bumps when running, in g; left out: from boat, else 5
#   gear_off_on_road: no    # yes: it travels off its mount
#   hours_per_season: 100
#   water_temperature: 10 C   # or 50 F

# The boat, afloat and loaded as when fishing: for running, waves and heel. Without it the bumps of
# running are 5 g and nothing is said of how far the boat leans.
# boat:
#   length: 14 ft           # of the hull, without motor and platform
#   beam: 58 in             # over the gunwales where the mount is
#   freeboard: 16 in        # least height of the gunwale above the water there
#   loaded_mass: 640 lb     # boat, motor, fuel, people, gear
#   waterline_length: 12 ft 4 in   # these four: usual figures when left out
#   waterline_beam: 52 in
#   chine_beam: 46 in       # where bottom and side meet
#   deadrise: 10 deg        # rise of the bottom to each side
#   centre_height: 28 in    # of gravity above the keel; or better the test:
#   lean_test: {moved: 180 lb, across: 24 in, heel: 4 deg}   # move a person of known weight
#                           # straight across, all others still; phone as a level before and after
#   top_speed: 22 mph       # the fastest that is run with the gear on board: mph, kn or km/h
#   wave_height: 1 ft       # the largest that is fished in
#   mount_from_stern: 0 in
#   wind: 15 kn             # with fetch, the open water upwind: waves in an hour
#   fetch: 12 mi

mount:
  kind: gunwale_plate
  host:
    form: closed_section    # closed_section, open_lip (add root: inboard) or sheet (add to_support)
    alloy: 6063-T5 extrusion   # unknown? keep this soft one; names: thole materials metals
    thickness: {is: 0.070 in, known: assumed}   # caliper at an existing hole; no paint
    flat: 2 in              # width of the flat top
    # to_end: 3 in          # base centre to a free end of the wall, if one is near
    # slope: 5 deg          # how far the top falls toward outboard
    # holes: round          # screw_channel if the fasteners go into an open channel
    # Another host than a metal wall: kind, and its own keys in place of form, alloy and flat.
    # kind: timber          # timber, plywood, laminate or cored_panel
    # wood: not known       # timber: grade as stamped; with width, grain: fore_aft or athwart,
    #                       # service: wet, treated: no, to_edge and to_end from the base centre
    # plies: not_known      # plywood: structural_1, marine, other; with thickness, to_edge
    # punch_shear: {is: 60 MPa, source: least of five coupons}   # plywood, laminate, cored_panel
    # bearing: {is: 150 MPa, source: least of five coupons}      # laminate, cored_panel
    # skin_top: 1/8 in      # cored_panel: with skin_below, core_thickness, core: balsa,
    #                       # core_crush: {is, source} and solid_at_bolts: yes, no or not_known
  base:
    fore_aft: 3 in
    athwart: 1 7/8 in
    material: not known     # metal by name, for example 5052-H32 sheet; plastic: not known
    # thickness: 1/8 in     # needed for a metal base
    # body: 1 1/4 in        # smaller width of the tube or boss where it meets the base
    # from_inboard_edge: 1 in   # base centre on the flat; middle when left out
    # turned: 90 deg
  fastening:
    hold: tapped            # tapped, tapped_bar, through_bolt; in timber lag_screw, wood_screw
    # size: 12              # of a screw in timber: wood screw 6 to 20, lag screw 1/4 to 3/4
    # length: 1 3/4 in      # under its head; threaded: its thread
    thread: 1/4-20          # or M6; a thread that begins with # needs quotes: '#10-24'
    material: stainless, unmarked
    holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}   # or {circle: 60 mm, count: 3}
    # washer: 1/4 fender 1  # under the nuts of through bolts
    # behind: {material: 6061-T6 extrusion, thickness: 1/4 in, fore_aft: 4 in, athwart: 1 3/4 in}

gear:                       # downrigger, rod_holder or plain_load; at most 4 on one plate
  - kind: rod_holder
    name: starboard rod
    height: 4 in            # rim of the tube above the wall
    lean: 60 deg            # tube from upright
    toward: outboard        # astern, outboard, ahead, inboard or degrees from astern to outboard
    rod_length: 7 ft
    # butt_stiffness: {is: 25 N m^2, known: measured}   # pull x length^3 / (3 x droop), butt third
    line_test: 20 lbf
    drag: {is: 7 lbf, known: assumed}   # luggage scale in the line, wet, spool full: read it the
                            # moment the spool creeps; three times, take the largest
    # tube_depth: 8 in      # of the butt in the tube
    # running_pull: {is: 8 lbf, known: measured}   # luggage scale between line and rod, trolling at
    #                       # speed: the largest of a minute. Without a scale, from the planer:
    # planer: {diameter: 124 mm, speed: 2.5 mph}   # or area and speed

condition:                  # no, yes or not known; look before you answer
  cracks: not known
  loose_rivets: not known
  bent_or_corroded: not known
  soft_wood_or_core: not known
  weld_near_base: not known
  within_6_in: not known    # rib, knee, thwart, gusset, nothing

# What you change in the list of load cases; `thole loads` names them. Each needs its reason.
# cases:
#   - change: fish-strike
#     pull: {is: 15 lbf, known: measured}
#     why: read off a luggage scale
#   - leave_out: boarding-grab
#     why: nobody swims from this boat
#   - add: a hand line
#     gear: starboard rod     # on its line; left out: on the rim
#     pull: 10 lbf            # or peak: 4, for a running case, in g
#     azimuth: [-30 deg, 30 deg]   # 0 astern, 90 outboard
#     dip: [0 deg, 20 deg]    # below level
#     category: occasional    # everyday, occasional, accident
#     why: the kids fish too

# factors: {screw: 4}       # raise the factors needed if you like

# What to set beside it: `thole compare` shows these and the setup as drawn, best first.
# variants:
#   - name: through-bolted
#     set:                  # paths in this file; an item of a list by its number from 0 or its name
#       mount.fastening.hold: through_bolt
#       mount.fastening.washer: 1/4 fender 1
#       gear.starboard rod.drag: {is: 5 lbf, known: measured}
#     # drop: [mount.base.body]   # paths that are left out
# patterns:                 # every combination of holes
#   holes_fore_aft: [2, 3]  # in a line along the boat; 2 when left out
#   holes_athwart: 2        # in a line across it
#   fore_aft: [2 in, 2 1/4 in]   # between the outer holes
#   athwart: [1 in, 1 1/8 in]
#   threads: ['#10-24', 1/4-20]  # that of the fastening when left out
#   either_way_round: no    # yes: each also with base and holes turned by 90 deg
)";
}

std::string bracket_starter() {
  return R"(# A setup of thole: one file, one mount. Fill in what you measured at the boat.
# A value with its unit: 7 1/4 in, 0.090 in, 184 mm, 15 deg, 40 lbf, 12 lb.
# How you know it: {is: 1.8 mm, known: measured}; measured, tagged (a label) or assumed.
# A verdict that hangs on an assumed value is "holds if". `thole measure --mount bracket` lists what
# to measure.
#
# Places on a bracket are given from the middle of its plate: forward (aft is negative) and outboard
# (inboard is negative).
thole: 1
title: My bracket over the edge
units: inch            # reports in inch or metric
water: fresh           # fresh or salt

# use: and boat: as `thole new` writes them for a gunwale_plate

mount:
  kind: bracket
  host:                     # what plate and fasteners find: as for a gunwale_plate
    form: sheet             # closed_section and open_lip need flat, and base.from_inboard_edge
    alloy: 5052-H32 sheet
    thickness: {is: 0.063 in, known: assumed}
    to_support: 4 in        # from the middle of the fasteners, as to_end and to_edge
  base:                     # the plate
    fore_aft: 6 in
    athwart: 14 in
    material: 6061-T6 sheet
    thickness: 3/8 in
  bears_on:                 # parts of the plate that find the boat: [from, to]
    - {fore_aft: [-3 in, 3 in], athwart: [-7 in, 1 in]}
    - {fore_aft: [-3 in, 3 in], athwart: [1 in, 2 1/2 in], firm: yes}   # a rib, knee, edge
  gear_foot: {outboard: 5 in, width: 3 in}   # forward: 0 in; width: the smaller one
  fastening:
    hold: through_bolt      # any kind of a gunwale_plate, through the host; or u_bolt, clamp
    thread: 5/16-18
    material: stainless, unmarked
    holes: {points: [[-2 in, -6 in], [2 in, -6 in], [-2 in, -1 in], [2 in, -1 in]]}
    behind: {material: 6061-T6 sheet, thickness: 1/4 in, fore_aft: 6 in, athwart: 7 in}
  # hold: u_bolt: holes are the middle of each bolt, and what they go over has fasteners of its own
  # fitting:
  #   name: cleat
  #   outboard: -2 in
  #   height: 1 1/4 in      # middle of what the U-bolts go over, above the wall
  #   foot: {fore_aft: 4 1/4 in, athwart: 1 1/4 in}
  #   fastening: {hold: through_bolt, thread: 1/4-20, material: "stainless, unmarked",
  #               holes: {fore_aft: 3 in}, washer: 1/4 plain}
  # hold: clamp: holes are where their screws press
  # clamp: {jaw: under_edge, tightened: 5 lbf ft, holds: {is: 400 lbf, source: its maker}}
  # angles:                 # fastened along the plate
  #   - {alloy: 6061-T6 extrusion, leg: 1 1/2 in, thickness: 1/8 in, runs: athwart,
  #      ends: [-6 1/2 in, 6 1/2 in], at: 2 in}
  # stop: yes               # a lip, pin or bolt keeps U-bolts or clamps from sliding and turning;
  #                         # friction alone is no hold
  # friction: 0.15          # measured wet; counts up to 0.2, and only for the figure that is shown

gear:                       # rod_holder, downrigger or plain_load; at most 4 on one bracket
  - kind: rod_holder
    name: starboard rod
    height: 4 in            # rim of the tube above the plate
    lean: 60 deg            # tube from upright
    toward: outboard        # astern, outboard, ahead, inboard or degrees from astern to outboard
    rod_length: 7 ft
    line_test: 20 lbf
    drag: {is: 7 lbf, known: assumed}   # luggage scale in the line, wet, spool full: read it the
                            # moment the spool creeps; three times, take the largest

condition:                  # no, yes or not known; look before you answer
  cracks: not known
  loose_rivets: not known
  bent_or_corroded: not known
  soft_wood_or_core: not known
  weld_near_base: not known
  within_6_in: not known    # rib, knee, thwart, gusset, nothing

# cases:, factors: and variants: as `thole new` writes them for a gunwale_plate
)";
}

std::string board_starter() {
  return R"(# A setup of thole: one file, one mount. Fill in what you measured at the boat.
# A value with its unit: 7 1/4 in, 0.090 in, 184 mm, 15 deg, 40 lbf, 12 lb, 2.5 mph.
# How you know it: {is: 1.8 mm, known: measured}; measured, tagged (a label) or assumed.
# A verdict that hangs on an assumed value is "holds if". `thole measure --mount cross_board` lists
# what to measure.
#
# Places on the board are given as outboard (of the inner edge of the ledge on that side; inboard is
# negative) and forward (of the middle line of the board). side: both is the same on each side.
thole: 1
title: My board across the boat
units: inch            # reports in inch or metric
water: fresh           # fresh or salt

use:
  not_a_seat: no       # yes: a notice on the board says so; people still lean on it
  # running_peak: 5    # bumps when running, in g; left out: from boat, else 5
  # gear_off_on_road: no   # yes: the gear travels off the board
  # hours_per_season: 100
  # water_temperature: 10 C   # or 50 F

# The boat, afloat and loaded as when fishing: for running, waves and heel. Without it the bumps of
# running are 5 g and nothing is said of how far the boat leans.
# boat:
#   length: 14 ft           # of the hull, without motor and platform
#   beam: 58 in             # over the gunwales where the mount is
#   freeboard: 16 in        # least height of the gunwale above the water there
#   loaded_mass: 640 lb     # boat, motor, fuel, people, gear
#   waterline_length: 12 ft 4 in   # these four: usual figures when left out
#   waterline_beam: 52 in
#   chine_beam: 46 in       # where bottom and side meet
#   deadrise: 10 deg        # rise of the bottom to each side
#   centre_height: 28 in    # of gravity above the keel; or better the test:
#   lean_test: {moved: 180 lb, across: 24 in, heel: 4 deg}   # move a person of known weight
#                           # straight across, all others still; phone as a level before and after
#   top_speed: 22 mph       # the fastest that is run with the gear on board: mph, kn or km/h
#   wave_height: 1 ft       # the largest that is fished in
#   mount_from_stern: 0 in
#   wind: 15 kn             # with fetch, the open water upwind: waves in an hour
#   fetch: 12 mi

mount:
  kind: cross_board
  board:
    form: plank             # plank, plank_with_strip, rectangular_tube, round_tube, channel_...
    size: 2x8               # by name: thole materials lumber sizes; or width and thickness
    laid: flat              # flat or on_edge
    length: 7 ft
    wood: not known         # grade as stamped, for example Spruce-Pine-Fir No.1/No.2
    service: wet            # any open boat
    treated: no             # yes: green, with preservative
    # alloy: 6061-T6 extrusion   # tubes and channels, in place of wood
  clear_width: 70 in        # between the inner edges of the ledges, where the board lies
  # port_overhang: 7 in     # port end beyond the inner edge of its ledge; else in the middle
  # starboard_higher: 1/4 in
  # bow_up: 2 deg
  ledges:
    both:                   # or port: and starboard:
      kind: angle           # angle, gunwale_top or saddle
      angle: 2 x 2 x 3/16 in     # by name, or along and leg_thickness
      alloy: 6063-T5 extrusion   # shelf angle: this soft one
      fore_aft: 10 in       # length of the ledge
      root: outboard        # upright leg on the outboard side of the seat, or inboard
      flare: {is: 0 deg, known: assumed}   # how far the seat rises toward its inner edge
      # packed: yes         # with flare: a wedge takes it up
      fastening:            # leave it out and the bolts of the ledge are not checked
        hull: metal_wall    # metal_wall, laminate or timber
        hull_thickness: {is: 0.063 in, known: assumed}
        hull_alloy: 5052-H32 sheet
        thread: 1/4-20
        material: stainless, unmarked
        count: 3
        spacing: 3 in
        below_seat: 1 1/4 in     # row of bolts below what the board rests on
        # washer: 1/4 fender 1   # behind the hull
        behind: {material: 5052-H32 sheet, thickness: 1/8 in, fore_aft: 9 in, athwart: 2 in}
  hold_downs:               # what keeps the board down and in its place
    - side: both
      kind: eye_bolt        # eye_bolt, bolt, u_bolt or pin
      outboard: 1 in
      forward: 2 1/2 in
      thread: 5/16-18
      eye: forged shoulder  # forged shoulder, forged collar, machinery or bent wire
      washer_diameter: 1 in     # washer or shoulder that presses on the board
    - side: both
      kind: eye_bolt
      outboard: 1 in
      forward: -2 1/2 in
      thread: 5/16-18
      eye: forged shoulder
      washer_diameter: 1 in
  # legs:                   # they push only, and keep the board from twisting
  #   - {side: both, outboard: -10 in, forward: 2 1/2 in, length: 12 in, fore_aft: 1.5 in,
  #      athwart: 3.5 in, wood: not known, stands_on: thwart}

gear:
  - kind: downrigger        # downrigger, rod_holder or plain_load; at most 4 on a board
    on_board: {side: both, outboard: 4 in, forward: 0 in}   # middle of the base
    mass: 13 lb             # without the ball
    mass_height: 6 in       # its middle above the board
    # mass_reach: 8 in      # its middle from the middle of the base, toward the tip
    boom_length: 24 in      # middle of the base to the tip
    tip_height: 8 in
    boom_angles: [0 deg, 45 deg, 90 deg]   # where it may point, from astern toward outboard
    # boom_raised: [0 deg, 60 deg]      # above level when fishing; one or a list
    # stowed_angles: 0 deg  # where it points when running; one or a list; left out: any way
    ball: 10 lb
    ball_metal: lead        # lead, hard lead, steel, cast iron
    # ball_drag: 0.5        # 1 with weed
    # finned: yes           # it tracks to one side
    wire: strand_1x7        # strand_1x7, strand_7x7, braid
    wire_diameter: 0.8 mm
    # wire_break: 150 lbf   # on the label
    depth: 100 ft           # the deepest you fish
    speed: [1.5 mph, 3 mph]   # through the water at the surface: mph, kn or km/h
    # speed_at_ball: [1 mph, 3.5 mph]   # where the current differs down there
    brake_slip: {is: 40 lbf, known: assumed}   # counts only when measured: hook a luggage scale
                            # into the clip, brake as you fish it, wet; pull steadily along the
                            # wire; read it the moment the drum creeps; three times, the largest
    # winch: hand           # hand or powered; left out: powered
    # winch_stall: 50 lbf   # of a powered one: on its plate, or the largest a luggage scale between
    #                       # clip and cleat shows before the motor stops
    # weak_link: 60 lbf     # a link at the clip that parts first
    foot:                   # leave it out and the bolts of the gear are not checked
      fore_aft: 5 1/2 in
      athwart: 4 in
      holes: {fore_aft: 4 in, athwart: 2 1/2 in}
      thread: 5/16-18
      material: stainless, unmarked
      washer_diameter: 1 1/4 in   # under the board; or plate: {material, thickness, ...}

condition:                  # no, yes or not known; look before you answer
  cracks: not known
  loose_rivets: not known
  bent_or_corroded: not known
  soft_wood_or_core: not known
  weld_near_base: not known
  within_6_in: not known    # rib, knee, thwart, gusset, nothing

# What you change in the list of load cases; `thole loads` names them. Each needs its reason.
# cases:
#   - change: trolling-in-waves
#     pull: {is: 30 lbf, known: measured}   # and category, decides: yes or no, azimuth and dip
#     why: read off a luggage scale in a chop
#   - leave_out: boarding-grab
#     why: nobody swims from this boat
#   - add: towing a float behind
#     gear: port downrigger   # at its tip; left out: on the board
#     pull: 40 lbf            # or peak: 4, for a running case, in g
#     azimuth: [-30 deg, 30 deg]   # 0 astern, 90 outboard
#     dip: [0 deg, 20 deg]    # below level
#     category: occasional    # everyday, occasional, accident
#     why: the float of the kids

# factors: {screw: 4}       # raise the factors needed if you like

# What to set beside it: `thole compare` shows these and the setup as drawn, best first.
# variants:
#   - name: wider washers
#     set:                  # paths in this file; an item of a list by its number from 0 or its name
#       mount.hold_downs.0.washer_diameter: 1 1/2 in
#       mount.hold_downs.1.washer_diameter: 1 1/2 in
#     # drop: [mount.legs]  # paths that are left out
)";
}

// The same for every mount but for where it stands.
std::string fit_starter(bool board) {
  const char* const on_board = R"(
#   board_forward: 18 in    # middle line of the board
#   board_top: 0 in         # top of the board above the gunwale
)";
  const char* const on_gunwale = R"(
#   mount_at: {forward: 30 in, off_middle: 27 in, side: port}   # middle of the base
)";
  return std::string(R"(
# What is round it, for `thole fit`: geometry only, no part of the verdict. Places are [forward of
# the transom's inner face, to starboard of the middle line], port negative; heights above the
# gunwale, left out: every height.
# fit:)") +
         (board ? on_board : on_gunwale) +
         R"(#   motor:                  # chalk on a board held at the transom
#     forward: -5 in        # steering axis; behind the transom: negative
#     width: 12 in
#     cowl_forward: 8 in    # from the axis, motor down
#     cowl_aft: 10 in
#     heights: [4 in, 18 in]
#     lock: 35 deg          # to each side
#     tilted_forward: 18 in # fully tilted: from the axis to the foremost part
#     tilted_heights: [3 in, 20 in]
#     propeller: 9 in
#     propeller_aft: 6 in
#     tiller: 30 in
#     tiller_heights: [3 in, 9 in]
#   things:                 # cleat, hatch, seat, oar, cord, hose, cover, boarding, filler, outlet,
#                           # wiring, trailer, other: box, circle, arc, line or outline
#     - {kind: cleat, box: {forward: [10 in, 16 in], athwart: [26 in, 28 in]},
#        heights: [0 in, 2 in], both_sides: yes}
#     - {kind: hatch, arc: {at: [40 in, 0 in], radius: 16 in, from: -90 deg, to: 90 deg}}
#     - {kind: oar, line: {from: [40 in, 10 in], to: [34 in, 60 in], width: 3 in},
#        both_sides: yes}
#     - {kind: sitting, at: [36 in, -18 in]}    # hip of who cranks; standing: who clips the line
#     - {kind: net, line: {from: [40 in, -27 in], to: [110 in, -27 in]}}   # rail for the net
#     - {kind: light, at: [0 in, 20 in], height: 24 in}
#   clearances: {motor: 2 in}   # your own in place of the usual ones
#   none: [cover]           # what the boat does not have
)";
}

// A name and how to get it, wrapped beside it.
std::string as_text(const std::vector<MeasuringRow>& rows) {
  constexpr std::size_t indent = 18, columns = 79;
  std::string out;
  for (const MeasuringRow& r : rows) {
    std::string line(r.what);
    line.resize(std::max(indent, line.size() + 1), ' ');
    std::istringstream words{std::string(r.how)};
    bool first = true;
    for (std::string word, rest; words >> word; first = false) {
      // "(1.8 mm)" stays on one line.
      if (word.size() > 1 && word[0] == '(' && word.find_first_of("0123456789") == 1 &&
          word.find(')') == std::string::npos && words >> rest) {
        word += " " + rest;
      }
      if (!first && line.size() + 1 + word.size() > columns) {
        out += line + '\n';
        line.assign(indent, ' ');
        first = true;
      }
      line += (first ? "" : " ") + word;
    }
    out += line + '\n';
  }
  return out;
}

std::string_view title_of(MountKind kind) {
  switch (kind) {
    case MountKind::gunwale_plate:
      return "What to measure at the boat (common practice, no source)";
    case MountKind::bracket:
      return "What to measure for a bracket (common practice, no source)";
    case MountKind::cross_board:
      return "What to measure for a board across the boat (common practice, no source)";
  }
  throw InternalError("a kind of mount without a list");
}

}  // namespace

std::string starter_setup(std::string_view mount_kind, ReaderUnits units) {
  const MountKind kind = thole::mount_kind(mount_kind);
  std::string text = kind == MountKind::gunwale_plate ? plate_starter()
                     : kind == MountKind::bracket     ? bracket_starter()
                                                      : board_starter();
  text += fit_starter(kind == MountKind::cross_board);
  return units == ReaderUnits::inch ? text : reading::in_metric(std::move(text));
}

std::string measuring_list(std::string_view mount_kind) {
  const MountKind kind = thole::mount_kind(mount_kind);
  return std::string(title_of(kind)) + "\n\n" + as_text(measuring_rows(kind)) +
         "\nFor what is round it (thole fit)\n" + as_text(rows_of_the_surroundings());
}

}  // namespace thole
