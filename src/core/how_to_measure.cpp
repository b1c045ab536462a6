// How a person gets one input of a setup. Common practice, no source.

#include <thole/measuring.hpp>

namespace thole {
namespace {

struct HowRow {
  std::string_view end;  ///< of the path
  std::string_view how;
};

constexpr std::string_view by_caliper = "caliper on the bare piece, no paint";
constexpr std::string_view by_ruler = "ruler or tape; read it twice";
constexpr std::string_view by_level = "phone as a level; laid on the part, then turned end for end";
constexpr std::string_view by_stamp = "stamp or colour on the stock, else the bill of the merchant";
constexpr std::string_view by_count = "count them over some trips and take the larger figure";
constexpr std::string_view by_look = "look and write down which";
constexpr std::string_view by_test =
    "a test of it, its maker's sheet or its builder, with their name";
constexpr std::string_view by_scale = "luggage scale; three times, take the largest";

// The first that fits counts: longer ends before shorter ones.
constexpr HowRow rows[] = {
    {"host.thickness",
     "caliper at an old hole or the open end; drill-bit depth in a hole that will be used; metal "
     "only, no paint"},
    {"hull_thickness", "caliper at an old hole or hatch edge; no paint, no core"},
    {"skin_top", "caliper at an old hole or hatch edge: the skin alone"},
    {"skin_below", "caliper at an old hole or hatch edge: the skin alone"},
    {"core_thickness", "depth of an old hole less both skins"},
    {"host.alloy", "mill stamp; else leave this soft one"},
    {"hull_alloy", "mill stamp or builder's plate; else leave this soft one"},
    {"alloy", by_stamp},
    {"host.flat", "ruler across the flat, edge to edge"},
    {"slope", by_level},
    {"flare", "cardboard folded to the shape of the side, or a phone as a level"},
    {"foot_slope", by_level},
    {"bow_up", "phone as a level along the boat, on the seats"},
    {"starboard_higher", "straight edge and level across, both seats"},
    {"clear_width", "tape between the inner edges, at the forward and the after edge: the larger"},
    {"port_overhang", "tape from the inner edge of the port ledge to the end of the board"},
    {"to_support", "tape from the middle of the fasteners to the nearest rib, bend or stiffener"},
    {"to_edge", "tape from the middle of the base to the nearest edge"},
    {"to_end", "tape from the middle of the base to the nearest end"},
    {"between_ties", "tape from the rib, knee or thwart ahead to the one behind"},
    {"wood", "grade stamp or end tag; no stamp: leave it"},
    {"service", "any open boat: wet"},
    {"treated", "end tag; green or brown, rows of small slits"},
    {"incised", "rows of small slits in the face"},
    {"fastening.material", "mark on each head: A2-70, A4-80, grade lines; no mark: unmarked"},
    {"hold_downs.material", "mark on the head or the eye; no mark: unmarked"},
    {"foot.material", "mark on each head; no mark: unmarked"},
    {"material", by_stamp},
    {"eye", "mark and shape of the eye: forged, shoulder or collar; a gap in the loop: bent wire"},
    {"root", "Is the upright leg of the angle outboard or inboard of the seat?"},
    {"lubricated", "Paste or oil on the threads when they went in?"},
    {"locking", "Locking nut, thread locker or nothing?"},
    {"bedding", "what lies under it: nothing, sealant, plastic, rubber or wood"},
    {"head", "caliper across the head or its washer"},
    {"washer_diameter", "caliper across the washer, shoulder or plate"},
    {"gap", "feeler or coins, board unloaded"},
    {"slack", "Lift the board by hand: how far before it holds?"},
    {"standoff", "ruler: free shank between board and seat"},
    {"packing", by_caliper},
    {"leg_thickness", by_caliper},
    {"wall", by_caliper},
    {"below_seat", by_ruler},
    {"spacing", by_ruler},
    {"foot_below", by_ruler},
    {"friction",
     "wet: pull the loaded foot along by a luggage scale; pull / weight as it begins to slide"},
    {"foot_held", by_look},
    {"butt_stiffness", "clamp the rod, pull the butt third: pull x length^3 / (3 x droop)"},
    {"drag", how::drag},
    {"brake_slip", how::brake_slip},
    {"running_pull", how::running_pull},
    {"planer", "ruler across the planer"},
    {"winch_stall", how::winch_stall},
    {"winch", "Is it cranked by hand, or has it a motor?"},
    {"spool_growth", "spool across when full / across when nearly empty"},
    {"tube_depth", "from the rim to where the butt stands"},
    {"line_test", "label of the line"},
    {"wire_break", "label of the wire"},
    {"wire_diameter", by_caliper},
    {"weak_link", "break three with a luggage scale, take the largest"},
    {"mass_reach",
     "balance the gear on an edge: from there to the middle of its foot, out the boom"},
    {"mass_height", "balance the gear on its side on an edge: from there to its foot"},
    {"mass", "luggage or bathroom scale, all that hangs on it"},
    {"ball", "stamp on the ball, or a scale"},
    {"ball_drag", "its shape: 0.5 round, more when blunt or weedy"},
    {"ball_metal", "stamp, or a magnet: lead does not stick"},
    {"finned", "Is there a fin on the ball?"},
    {"boom_raised", by_level},
    {"stowed_angles", "Where does the boom point when you run?"},
    {"boom_angles", "stops of the swivel, from astern"},
    {"boom_length", "tape, middle of the base to the tip, boom level"},
    {"tip_height", "tape, tip above board or wall, boom level"},
    {"depth", "the deepest you fish; the counter"},
    {"speed_at_ball", "current at depth, if it differs"},
    {"speed", "phone or plotter, over the water: slowest and fastest"},
    {"height", by_ruler},
    {"lean", by_level},
    {"rod_length", by_ruler},
    {"running_peak", "a phone's shock reading on the thwart in your worst chop, less 1 g"},
    {"gear_off_on_road", "Does the gear travel off its mount?"},
    {"road_hours_per_season", by_count},
    {"hours_per_season", by_count},
    {"water_temperature", "thermometer, the coldest day you fish"},
    {"not_a_seat", "Is there a notice on the board, and does everybody heed it?"},
    {"waterline_length", "tape along the side, from where the stem meets the water to the stern"},
    {"waterline_beam", "tape across the scum line at the mount"},
    {"chine_beam", "tape across, where bottom and side meet"},
    {"deadrise", "phone as a level on the bottom, on the trailer; keel level"},
    {"centre_height", how::lean},
    {"lean_test", how::lean},
    {"mount_from_stern", "tape from the transom to the middle of the mount"},
    {"loaded_mass", "weighbridge, or builder's plate and all aboard added up"},
    {"freeboard", "tape from the water to the gunwale, crew where they fish"},
    {"beam", "tape over the gunwales at the mount"},
    {"top_speed", "phone or plotter, gear on board"},
    {"wave_height", "the largest you stay out in, trough to crest"},
    {"fetch", "chart: open water upwind"},
    {"wind", "forecast of the day you would still go"},
    {"punch_shear", by_test},
    {"bearing", by_test},
    {"core_crush", by_test},
    {"flexural", by_test},
    {"pull_out", by_test},
    {"turns_at", by_test},
    {"holds", by_test},
    {"ultimate", by_test},
    {"yield", by_test},
    {"pull", by_scale},
    {"condition.cracks", "magnifier at bends, welds and old holes"},
    {"condition.loose_rivets", "wiggle each rivet within 12 in (300 mm); a grey streak: loose"},
    {"condition.bent_or_corroded", "take the worst fastener out and look at its shank"},
    {"condition.soft_wood_or_core", "awl in wood; coin tap on panels: a dull sound is soft"},
    {"condition.weld_near_base", "look within 1 in (25 mm) of each hole"},
    {"thickness", by_caliper},
};

bool fits(std::string_view path, std::string_view end) {
  if (path.size() < end.size() || path.substr(path.size() - end.size()) != end) return false;
  return path.size() == end.size() || path[path.size() - end.size() - 1] == '.';
}

}  // namespace

std::string_view how_to_measure(std::string_view path) {
  for (const HowRow& r : rows) {
    if (fits(path, r.end)) return r.how;
  }
  return "ruler or tape for a size, the label for anything that has one";
}

}  // namespace thole
