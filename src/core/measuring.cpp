// What a person measures at the boat. Common practice, no source.

#include <thole/measuring.hpp>

#include <thole/error.hpp>
#include <thole/unit_text.hpp>

namespace thole {
namespace {

// What every list asks of the boat itself.
MeasuringRow boat() {
  return {"Boat",
          "length of the hull, beam over the gunwales, least height of the gunwale above "
          "the water at the mount, mass with motor, fuel, people and gear; top speed with "
          "the gear on board."};
}

MeasuringRow lean_test() {
  return {"Lean test",
          "move a person of known weight a measured distance straight across, all others "
          "still; phone as a level before and after. 3 to 8 deg is best. Not known: leave "
          "it out."};
}

const std::vector<MeasuringRow>& of_plate() {
  static const std::vector<MeasuringRow> rows{
      {"Gunwale flat", "across the flat, edge to edge; ruler. No default."},
      {"Wall thickness",
       "look in at the end cap; caliper at an existing hole; drill-bit depth in a hole "
       "that will be used anyway. Metal only: no paint, no rubbing strip. If unknown: "
       "0.070 in (1.8 mm) closed extrusion, 0.063 in (1.6 mm) sheet."},
      {"Alloy and temper",
       "mill stamp; else unknown. If unknown: 6063-T5 extrusion, 5052-H32 sheet."},
      {"Slope of the top", "phone as a level."},
      {"Wooden gunwale",
       "thickness and width across the grain, way of the grain, base centre to the "
       "nearest edge and end; grade stamp. No stamp: \"not known\"."},
      {"Fibreglass",
       "thickness at a hole or hatch edge; coin tap: a dull or thick edge is a core. "
       "What skins and core carry is in no table: a yard's test, the builder's sheet."},
      {"Base", "size, hole spacing both ways, thickness, width of the foot."},
      {"Rim of the holder", "height above the gunwale; how far it leans and to which side."},
      {"Rod and line", "rod length, test on the label of the line."},
      {"Butt in the tube", "from the rim to where the butt stands. If unknown: 8 in (0.2 m)."},
      {"Drag",
       "hook a luggage scale into the line, drag as you fish it and wet, spool full; "
       "pull steadily; read it the moment the spool creeps; three times, take the "
       "largest."},
      {"Planer, weight",
       "tie a luggage scale between line and rod, troll at your fastest speed, read "
       "the largest of a minute. No scale: the planer's diameter. If unknown: 8 lbf "
       "(36 N)."},
      {"Rod's butt",
       "clamp the rod, pull the butt third with a scale: pull x length^3 / (3 x "
       "droop). Without it the rod counts as rigid."},
      boat(),
      lean_test(),
      {"Condition",
       "awl in wood, magnifier at bends and old holes, wiggle every rivet within 12 in "
       "(300 mm). Anything cracked, soft or loose: stop."},
      {"What ties it", "rib, knee, thwart or gusset within 6 in (150 mm) of the base?"},
      {"Behind the hole", "fuel tank, fill, vent; wires; cables; foam; outer hull; water trap."}};
  return rows;
}

const std::vector<MeasuringRow>& of_bracket() {
  static const std::vector<MeasuringRow> rows{
      {"Plate",
       "length, width and thickness (caliper); alloy stamp. Unknown: the softest in "
       "the tables."},
      {"Where it bears",
       "lay it in its place and draw round all that finds the boat; from the middle of "
       "the plate, forward and outboard. A gap of a sheet of paper bears nothing."},
      {"What is firm",
       "which of it lies over a rib, a knee, the turned edge; knock: a dull sound is "
       "firm."},
      {"Edge",
       "from the middle of the plate to the edge it leaves; how far the foot of the "
       "gear stands beyond."},
      {"Wall",
       "thickness where its fasteners or those of the cleat are; from their middle to "
       "the nearest rib or bend."},
      {"Fasteners", "size, mark on the head, pattern, what lies behind."},
      {"Cleat, U-bolts",
       "size and spacing of the cleat's own screws, what lies under their nuts: reach "
       "below and feel. Its foot; height of what the U-bolts go over. Mark on the "
       "U-bolts, rod diameter, spacing, plate under their nuts."},
      {"Clamps", "maker and figure for what one holds; where its jaw grips."},
      {"Stop",
       "what keeps it from sliding and turning: lip, pin, bolt. Push the tip by hand "
       "along and across: does it creep?"},
      {"Angles", "legs, thickness, alloy, where they run and end."},
      {"Gear, boat", "as `thole measure` and `thole measure --mount cross_board` list them."},
      {"Condition",
       "magnifier at bends, welds and old holes of bracket and corner; wiggle the "
       "cleat and every rivet within 12 in (300 mm). Anything cracked, soft or loose: "
       "stop."}};
  return rows;
}

const std::vector<MeasuringRow>& of_board() {
  static const std::vector<MeasuringRow> rows{
      {"Clear width",
       "between the inner edges of the ledges, where the board lies; at its forward "
       "and at its after edge, take the larger. No default, and port need not equal "
       "starboard."},
      {"Height of seats", "level across: is starboard higher? Phone as a level along the boat."},
      {"Board",
       "width, thickness and length by ruler; grade stamp. No stamp: \"not known\". "
       "Treated (green)? Rows of small slits?"},
      {"Overhang", "each end of the board beyond the inner edge of its ledge."},
      {"Ledges",
       "angle: both legs, thickness (caliper), length along the boat, alloy stamp. "
       "Unknown: 6063-T5 extrusion. Flare: cardboard folded to shape; about 10 deg if "
       "unknown."},
      {"Ledge bolts",
       "size, mark on the head, how many, spacing, how far below the seat, what lies "
       "under the nuts."},
      {"Hull there",
       "thickness at a hole or hatch edge; laminate with a core: coin tap. Unknown: "
       "0.063 in (1.6 mm) sheet."},
      {"Hold-downs",
       "from the inner edge of the ledge, and forward of the middle line; thread; mark "
       "on the eye; washer or shoulder across; how far the board lifts by hand before "
       "they hold."},
      {"Legs",
       "place of the top, length, section, where the foot stands, slope there, gap by "
       "a feeler or a coin."},
      {"Downrigger",
       "weigh it without the ball; boom from the middle of the base to the tip; tip "
       "above the board; stops of the swivel."},
      {"Ball and wire", "mass stamped on the ball; wire kind, diameter, label."},
      {"Its mass",
       "how far its middle lies toward the tip, and above the board: balance it on an "
       "edge. If unknown: 1 ft (0.3 m) toward it."},
      {"Brake",
       "hook a luggage scale into the clip, brake as you fish it, wet; pull steadily "
       "along the wire; read it the moment the drum creeps; three times, take the "
       "largest. Set nothing by feel. Not measured: the wire counts."},
      {"Powered winch",
       "pull at which it stalls, on its plate; or luggage scale between the clip and a "
       "strong cleat, haul in, the largest before the motor stops. If unknown: 60 lbf "
       "(270 N)."},
      {"Boom", "where it may point when fishing and when stowed; how far it is raised."},
      {"Depth and speed",
       "the deepest, the slowest, the fastest: mph, knots or km/h, do not mix them. "
       "Current at the ball, if it differs."},
      {"Rod holders",
       "height of the rim above the board, lean; rod, line and drag as for a gunwale "
       "plate. Drag: luggage scale in the line, read it the moment the spool creeps; "
       "three times, the largest. Planer: scale between line and rod, troll, the "
       "largest of a minute. Butt in the tube: how deep."},
      {"Base of the gear", "size, hole spacing both ways, washers under the board."},
      boat(),
      lean_test(),
      {"Condition",
       "awl in the plank, at the ends and under every washer; magnifier at bends and "
       "old holes. Anything cracked, soft or loose: stop."}};
  return rows;
}

const std::vector<MeasuringRow>& round_it() {
  static const std::vector<MeasuringRow> rows{
      {"Where it stands", "forward of the transom's inner face; off the middle line."},
      {"Motor",
       "cowl down, fully tilted, hard over to each side: chalk on a board held at the "
       "transom. Steering axis to the foremost part, width, heights above the gunwale. "
       "No default."},
      {"Tiller, cord",
       "handle through full lock, the hand with it; path of the starting cord, fuel "
       "bulb, cables."},
      {"Cranks", "radius, how far beside the boom and behind the base."},
      {"Hands and people",
       "where the hip of who cranks is; where one stands to clip the line; where one "
       "climbs back in; a clear stretch for the net."},
      {"Round it",
       "cleats, hatch and lid with their arcs, seat backs, oars with the full stroke, "
       "cover, fuel fill and vent, drain, transducer, wires, stern light and its "
       "height."}};
  return rows;
}

}  // namespace

MountKind mount_kind(std::string_view word) {
  if (word == "gunwale_plate") return MountKind::gunwale_plate;
  if (word == "bracket") return MountKind::bracket;
  if (word == "cross_board") return MountKind::cross_board;
  std::string message = "\"" + std::string(word) +
                        "\" is no kind of mount; gunwale_plate, bracket or cross_board is expected";
  const std::string near = nearest_spelling(word, {"gunwale_plate", "bracket", "cross_board"});
  if (!near.empty()) message += "; did you mean \"" + near + "\"?";
  throw UnknownName(message);
}

const std::vector<MeasuringRow>& measuring_rows(MountKind kind) {
  switch (kind) {
    case MountKind::gunwale_plate:
      return of_plate();
    case MountKind::bracket:
      return of_bracket();
    case MountKind::cross_board:
      return of_board();
  }
  throw InternalError("a kind of mount without a list");
}

const std::vector<MeasuringRow>& rows_of_the_surroundings() { return round_it(); }

}  // namespace thole
