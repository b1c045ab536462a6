#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/unit_text.hpp>

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
  base:
    fore_aft: 3 in
    athwart: 1 7/8 in
    material: not known     # metal by name, for example 5052-H32 sheet; plastic: not known
    # thickness: 1/8 in     # needed for a metal base
    # body: 1 1/4 in        # smaller width of the tube or boss where it meets the base
    # from_inboard_edge: 1 in   # base centre on the flat; middle when left out
    # turned: 90 deg
  fastening:
    hold: tapped            # tapped, tapped_bar or through_bolt
    thread: 1/4-20          # or M6; a thread that begins with # needs quotes: '#10-24'
    material: stainless, unmarked
    holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}   # or {circle: 60 mm, count: 3}
    # washer: 1/4 fender 1  # under the nuts of through bolts
    # behind: {material: 6061-T6 extrusion, thickness: 1/4 in, fore_aft: 4 in, athwart: 1 3/4 in}

gear:
  - kind: rod_holder
    name: starboard rod
    height: 4 in            # rim of the tube above the wall
    lean: 60 deg            # tube from upright
    toward: outboard        # astern, outboard, ahead, inboard or degrees from astern to outboard
    rod_length: 7 ft
    # butt_stiffness: {is: 25 N m^2, known: measured}   # pull x length^3 / (3 x droop), butt third
    line_test: 20 lbf
    drag: {is: 7 lbf, known: assumed}   # luggage scale on the line, read when the spool creeps

condition:                  # no, yes or not known; look before you answer
  cracks: not known
  loose_rivets: not known
  bent_or_corroded: not known
  soft_wood_or_core: not known
  weld_near_base: not known
  within_6_in: not known    # rib, knee, thwart, gusset, nothing

# factors: {screw: 4}       # raise the factors needed if you like
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
  not_a_seat: no       # yes: nobody sits, steps or leans on the board, and it says so on it
  # running_peak: 5    # bumps when running, in g

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
    boom_length: 24 in      # middle of the base to the tip
    tip_height: 8 in
    boom_angles: [0 deg, 45 deg, 90 deg]   # where it may point, from astern toward outboard
    ball: 10 lb
    ball_metal: lead        # lead, hard lead, steel, cast iron
    wire: strand_1x7        # strand_1x7, strand_7x7, braid
    wire_diameter: 0.8 mm
    # wire_break: 150 lbf   # on the label
    depth: 100 ft           # the deepest you fish
    speed: [1.5 mph, 3 mph]
    brake_slip: {is: 40 lbf, known: assumed}   # luggage scale; counts only when measured
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

# factors: {screw: 4}       # raise the factors needed if you like
)";
}

std::string plate_list() {
  return R"(What to measure at the boat (common practice, no source)

Gunwale flat      across the flat, edge to edge; ruler. No default.
Wall thickness    look in at the end cap; caliper at an existing hole; drill-bit
                  depth in a hole that will be used anyway. Metal only: no
                  paint, no rubbing strip. If unknown: 0.070 in (1.8 mm) closed
                  extrusion, 0.063 in (1.6 mm) sheet.
Alloy and temper  mill stamp; else unknown. If unknown: 6063-T5 extrusion,
                  5052-H32 sheet.
Slope of the top  phone as a level.
Base              size, hole spacing both ways, thickness, width of the foot.
Rim of the holder height above the gunwale; how far it leans and to which side.
Rod and line      rod length, test on the label of the line.
Drag              luggage scale on the line; read it when the spool creeps.
Rod's butt        clamp the rod, pull the butt third with a scale: pull x
                  length^3 / (3 x droop). Without it the rod counts as rigid.
Condition         awl in wood, magnifier at bends and old holes, wiggle every
                  rivet within 12 in (300 mm). Anything cracked, soft or loose:
                  stop.
What ties it      rib, knee, thwart or gusset within 6 in (150 mm) of the base?
Behind the hole   fuel tank, fill, vent; wires; cables; foam; outer hull; water
                  trap.
)";
}

std::string board_list() {
  return R"(What to measure for a board across the boat (common practice, no source)

Clear width       between the inner edges of the ledges, where the board lies;
                  at its forward and at its after edge, take the larger. No
                  default, and port need not equal starboard.
Height of seats   level across: is starboard higher? Phone as a level along
                  the boat.
Board             width, thickness and length by ruler; grade stamp. No stamp:
                  "not known". Treated (green)? Rows of small slits?
Overhang          each end of the board beyond the inner edge of its ledge.
Ledges            angle: both legs, thickness (caliper), length along the
                  boat, alloy stamp. Unknown: 6063-T5 extrusion. Flare:
                  cardboard folded to shape; about 10 deg if unknown.
Ledge bolts       size, mark on the head, how many, spacing, how far below
                  the seat, what lies under the nuts.
Hull there        thickness at a hole or hatch edge; laminate with a core:
                  coin tap. Unknown: 0.063 in (1.6 mm) sheet.
Hold-downs        from the inner edge of the ledge, and forward of the middle
                  line; thread; mark on the eye; washer or shoulder across;
                  how far the board lifts by hand before they hold.
Legs              place of the top, length, section, where the foot stands,
                  slope there, gap by a feeler or a coin.
Downrigger        weigh it without the ball; boom from the middle of the base
                  to the tip; tip above the board; stops of the swivel.
Ball and wire     mass stamped on the ball; wire kind, diameter, label.
Brake             luggage scale on the wire; read it when it slips, wet, three
                  times, and set nothing by feel. Otherwise the wire counts.
Depth and speed   the deepest, the slowest, the fastest.
Rod holders       height of the rim above the board, lean; rod, line and drag
                  as for a gunwale plate.
Base of the gear  size, hole spacing both ways, washers under the board.
Condition         awl in the plank, at the ends and under every washer;
                  magnifier at bends and old holes. Anything cracked, soft or
                  loose: stop.
)";
}

// True for a board; throws for a kind that does not exist.
bool is_board(std::string_view mount_kind) {
  if (mount_kind == "gunwale_plate") return false;
  if (mount_kind == "cross_board") return true;
  std::string message = "\"" + std::string(mount_kind) +
                        "\" is no kind of mount; gunwale_plate or cross_board is expected";
  const std::string near = nearest_spelling(mount_kind, {"gunwale_plate", "cross_board"});
  if (!near.empty()) message += "; did you mean \"" + near + "\"?";
  throw UnknownName(message);
}

}  // namespace

std::string starter_setup(std::string_view mount_kind) {
  return is_board(mount_kind) ? board_starter() : plate_starter();
}

std::string measuring_list(std::string_view mount_kind) {
  return is_board(mount_kind) ? board_list() : plate_list();
}

}  // namespace thole
