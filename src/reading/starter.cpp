#include <thole/reading.hpp>

namespace thole {

std::string starter_setup() {
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

std::string measuring_list() {
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

}  // namespace thole
