#include <algorithm>

#include "core/assumption_rows.hpp"
#include "core/geometry.hpp"
#include "core/metal_hold.hpp"

namespace thole {

namespace {

bool plate(const Setup& s) { return !s.on_board(); }

bool on(const Setup& s, HostKind kind) { return plate(s) && s.plate().host.kind == kind; }

bool metal(const Setup& s) { return on(s, HostKind::metal_wall); }
bool timber(const Setup& s) { return on(s, HostKind::timber); }
bool cored(const Setup& s) { return on(s, HostKind::cored_panel); }
bool wooden(const Setup& s) { return timber(s) || on(s, HostKind::plywood); }
bool panel(const Setup& s) { return plate(s) && !metal(s) && !timber(s); }

bool formed(const Setup& s, WallForm form) { return metal(s) && s.plate().host.form == form; }
bool lip(const Setup& s) { return formed(s, WallForm::open_lip); }
bool sheet(const Setup& s) { return formed(s, WallForm::sheet); }
bool flat(const Setup& s) { return metal(s) && !sheet(s); }
bool barred(const Setup& s) { return metal(s) && s.plate().host.bar; }
bool no_end(const Setup& s) { return metal(s) && !s.plate().host.to_end; }

// Either kind of fasteners of the base.
template <class Is>
bool any_fastening(const Setup& s, Is is) {
  if (!plate(s)) return false;
  return is(s.plate().fastening) || (s.plate().second && is(*s.plate().second));
}

bool tapped(const Setup& s) { return any_fastening(s, is_tapped); }
bool spaced(const Setup& s) {
  return any_fastening(s, [](const Fastening& f) { return f.hold == HoldBy::self_tapping; });
}
bool bolted(const Setup& s) {
  return any_fastening(s, [](const Fastening& f) { return f.hold == HoldBy::through_bolt; });
}
bool backed(const Setup& s) {
  return any_fastening(s, [](const Fastening& f) { return f.backing.has_value(); });
}
bool coil(const Setup& s) {
  return any_fastening(s, [](const Fastening& f) { return f.insert && !f.insert->solid; });
}
bool as_given(const Setup& s) {
  return any_fastening(
      s, [](const Fastening& f) { return f.blind || f.rivet || f.insert.has_value(); });
}
bool screws_in_wood(const Setup& s) {
  return any_fastening(s, [](const Fastening& f) { return in_wood(f.hold); });
}
bool soft_under_heads(const Setup& s) { return screws_in_wood(s) && !s.plate().base.metal; }
bool enters(const Setup& s) { return plate(s) && !geometry::is_clasped(s.plate()); }
bool bedding_not_said(const Setup& s) {
  return plate(s) && !s.plate().fastening.assembly.bedding &&
         !(s.plate().fastening.packing.value() > 0);
}
bool in_one_group(const Setup& s) {
  return any_fastening(s, [](const Fastening& f) { return f.instantaneous_centre; });
}
bool two_kinds(const Setup& s) { return plate(s) && s.plate().second.has_value(); }

bool metal_base(const Setup& s) { return plate(s) && s.plate().base.metal; }
bool other_base(const Setup& s) { return plate(s) && !s.plate().base.metal; }
bool no_body(const Setup& s) {
  return plate(s) && !s.plate().bracket && s.plate().base.metal && !s.plate().base.body;
}

bool bracket(const Setup& s) { return plate(s) && s.plate().bracket; }
bool metal_bracket(const Setup& s) { return bracket(s) && metal_base(s); }
bool stiffened(const Setup& s) { return bracket(s) && !s.plate().bracket->stiffeners.empty(); }
bool fitting(const Setup& s) { return bracket(s) && s.plate().bracket->fitting; }
bool clasped(const Setup& s) { return plate(s) && geometry::is_clasped(s.plate()); }
bool stopped(const Setup& s) { return clasped(s) && s.plate().bracket->stop; }
bool firm(const Setup& s) {
  if (!bracket(s)) return false;
  const auto& f = s.plate().bracket->firm;
  return std::find(f.begin(), f.end(), true) != f.end();
}

// THE list for plates, brackets, hosts and fastenings.
constexpr AssumptionRow rows[] = {
    // ---- What reaches a fastener
    {plate, "plate-no-friction", "plate", "friction between base and host holds nothing",
     Errs::cautious, "the fasteners take the whole shear; friction could only take some of it",
     "only here"},
    {plate, "plate-no-preload", "plate", "fasteners are not drawn up: they carry the whole pull",
     Errs::cautious, "in a tight joint of metal a half to a fifth of a pull reaches them",
     "range of a check"},
    {plate, "plate-bed-range", "plate",
     "bed 20, 4 and 1 times as stiff as all fasteners, on wood, panels and pads 1/4 as well",
     Errs::cautious, "every check takes its bad end of a range of 20 (80)", "only here"},
    {plate, "plate-rigid-base", "plate",
     "a rigid base shares the pull; what bending of it adds is a factor", Errs::cautious,
     "fitted to solid models that it does not undercut, up to the bound of prying; a base of "
     "plastic takes the bound",
     "range of a check"},
    {plate, "plate-elastic-shear", "plate",
     "side loads go to like fasteners elastically, none with play", Errs::either,
     "play may leave one fastener alone at first; by yielding they share again, rivets and wood "
     "less so",
     "only here"},
    {plate, "plate-growth-on-all", "plate", "bending of the base adds to every fastener alike",
     Errs::cautious, "the nearest ones feel it most", "only here"},
    {two_kinds, "plate-two-kinds", "plate",
     "the second kind of fasteners 1/4, 1 and 4 times as stiff as the first", Errs::cautious,
     "every check takes its bad end; the wall sees all as the less helpful kind", "note"},
    {in_one_group, "plate-instantaneous-centre", "plate",
     "all bolts reach their strength in shear together", Errs::either,
     "true of steel bolts in steel that is thick enough to bear; the owner asked for it",
     "range of a check"},
    {bedding_not_said, "plate-no-pad", "plate", "no pad under the base, as nobody spoke of one",
     Errs::unsafe,
     "over a pad as thick as they are wide fasteners keep a quarter of their side strength or less",
     "caution"},
    // ---- Fasteners
    {plate, "plate-threads-in-shear", "plate", "threads lie in the plane of shear", Errs::cautious,
     "root area throughout; a plain shank has 1.5 to 1.7 times as much", "range of a check"},
    {plate, "plate-least-hardware", "plate", "fasteners of the least strength of their grade",
     Errs::cautious,
     "unmarked stainless is the lowest grade; a grade used beyond its sizes counts "
     "no more than that",
     "input"},
    {tapped, "plate-thread-least", "plate", "threads at the loose end of their limits",
     Errs::cautious, "least metal of hole and screw; 0.9 and a cut below two threads",
     "range of a check"},
    {tapped, "plate-no-chamfer", "plate", "tapped holes without a chamfer unless one is given",
     Errs::unsafe, "a chamfer takes half a thread: a quarter of the hold in two threads",
     "card of threads"},
    {tapped, "plate-round-hole", "plate",
     "screws stand in drilled, round holes unless host.holes says screw_channel", Errs::unsafe,
     "published tests in open channels lie below the rule of tapped holes", "refusal when said"},
    {spaced, "plate-spaced-hole", "plate", "self-tapping screws in holes as their maker asks",
     Errs::either, "a wider hole costs thread: how much is not known", "caution"},
    {coil, "plate-coil-chart", "plate", "wire inserts hold by the low end of one maker's chart",
     Errs::either, "other makers were not compared; never above the strip area of the hole",
     "range of a check"},
    {as_given, "plate-as-given", "plate",
     "strengths of inserts and rivets are as their owner has "
     "them",
     Errs::either, "halved everyday, capped by what the sheet stands; as good as that figure",
     "range of a check"},
    {bolted, "plate-nut-holds", "plate", "nuts hold what their bolts hold", Errs::either,
     "true of nuts of the grade of the bolt; thin ones and wing nuts hold less",
     "range of a check"},
    {bolted, "plate-washer-in-manual", "plate",
     "washers pull through by the lower of two editions of the manual, 5/8 in counted",
     Errs::cautious, "the forms differ by 2 to 3; halved everyday", "range of a check"},
    {enters, "plate-heads-hexagon", "plate", "heads as wide as the hexagon unless a width is given",
     Errs::either, "pan heads are wider, countersunk ones are not covered at all", "only here"},
    // ---- Metal walls
    {metal, "plate-minimum-metal", "plate", "metal at the minimum of its specification",
     Errs::cautious,
     "typical metal is 7 to 18 % stronger; between inch and metric columns "
     "rounding leaves up to 2 %",
     "input"},
    {metal, "plate-thickness-range", "plate",
     "metals beyond the thickness of their table entry "
     "count at 0.84 of it",
     Errs::cautious, "neighbouring entries differ by up to 0.85; told as assumed", "input"},
    {metal, "plate-limit-load", "plate",
     "walls yield round a boss by limit loads below those of finite elements", Errs::cautious,
     "0.8 to 1.01 of values that lie below the true load; straight hinges without the 15 % that a "
     "strip has more",
     "range of a check"},
    {sheet, "plate-sheet-support", "plate",
     "other supports of the sheet lie within three times the distance of the nearest", Errs::either,
     "farther ones: a little less, nearer ones: more", "range of a check"},
    {lip, "plate-lip-resting", "plate",
     "a lip rests at its root as if that turned freely, and a base at its very end bends it",
     Errs::cautious,
     "2 pi in place of 10 in the limit load; 0.76 of the reach beside the load, where 1.96 of it "
     "works in mid-length (Jaramillo 1950)",
     "range of a check"},
    {flat, "plate-bends-hold", "plate", "the bends of the wall hold until the flat yields",
     Errs::either, "walls beyond the bend are as thick; a lone, thin or riveted side wall is not",
     "range of a check"},
    {flat, "plate-wall-rotation", "plate",
     "the wall folds along straight lines under the turning base", Errs::cautious,
     "0.4 to 0.8 of the limit load by finite elements", "range of a check"},
    {metal, "plate-shear-to-edge", "plate", "the whole shear acts toward the nearest free edge",
     Errs::cautious, "it mostly points elsewhere", "range of a check"},
    {no_end, "plate-no-end", "plate", "no free end of the gunwale near the base, as none is given",
     Errs::unsafe, "within two diameters of an end holes tear out; give host.to_end", "only here"},
    {flat, "plate-base-in-middle", "plate",
     "the base stands where base.from_inboard_edge says, in "
     "the middle of the flat when left out",
     Errs::either, "on a lip farther out bends more, nearer to a bend less", "drawing"},
    {barred, "plate-roll", "plate",
     "the whole torque on the gunwale goes to one tie, the hull below holds nothing",
     Errs::cautious, "two ties share it, and the hull side holds most", "range of a check"},
    {barred, "plate-roll-ties", "plate", "the ties of the gunwale hold it fully", Errs::unsafe,
     "a knee on three rivets may give first; its rivets are not checked", "not checked"},
    {metal, "plate-metal-fatigue", "plate",
     "cracks grow by design curves from memory, on a life that is judgement", Errs::either,
     "worst details, sums kept high; corrosion is not in it", "caution"},
    {metal, "plate-written-out", "plate", "a metal written out in the file counts as aluminium",
     Errs::either, "its strengths are as its owner has them; stiffness and pairs are aluminium's",
     "only here"},
    // ---- Bases and what lies behind
    {metal_base, "plate-base-bearing", "plate", "the base bears as screws do, factor 3",
     Errs::cautious, "bolts need 1.95", "range of a check"},
    {other_base, "plate-other-base", "plate", "a base that is no metal is strong enough",
     Errs::unsafe, "nothing of it is checked", "holds if"},
    {no_body, "plate-no-body", "plate", "the base plate does not bend, as its body is not given",
     Errs::unsafe, "bending of the base is not checked without base.body", "not checked"},
    {backed, "plate-backing-stiff", "plate",
     "a plate behind is stiff three times its thickness beyond the nut, two on wood", Errs::either,
     "judgement; at that lever it must carry the whole pull in bending", "range of a check"},
    {backed, "plate-backing-centred", "plate",
     "the plate behind is centred under the base and "
     "lies flat",
     Errs::either, "shifted it loses what it overlaps; on a curved wall it bears at two edges",
     "range of a check"},
    // ---- Timber, plywood, panels
    {wooden, "plate-wet-wood", "plate", "wood is wet unless its owner says dry", Errs::cautious,
     "wet connections have 0.7, bearing 0.67 of dry ones", "input"},
    {timber, "plate-not-incised", "plate", "timber is neither treated nor incised unless said",
     Errs::either, "slits for preservative leave 0.8 of the strengths", "only here"},
    {timber, "plate-stamped", "plate", "timber is what its stamp says and straight-grained",
     Errs::either, "a resawn piece has no grade; \"not known\" takes the lowest softwood", "input"},
    {timber, "plate-timber-between", "plate",
     "timber between what holds it bears the mount: bending, twist, what holes take away",
     Errs::unsafe, "a gunwale of 2 x 4 in loses a tenth to a hole; its span is not asked",
     "holds if"},
    {timber, "plate-tear-nearest", "plate", "all rows push to the nearest end and edge",
     Errs::cautious, "no end or edge is taken as the far one", "range of a check"},
    {screws_in_wood, "plate-lead-holes", "plate",
     "screws in drilled lead holes, side grain, tip "
     "not counted",
     Errs::cautious, "0.6 to 0.74 of the mean of tests", "caution"},
    {soft_under_heads, "plate-screw-head", "plate",
     "heads of wood screws do not come through a base that is no metal", Errs::unsafe,
     "of a soft wood 1/4 in thick a No. 10 head has an NDS reference value of 49 lbf", "holds if"},
    {panel, "plate-panel-as-given", "plate", "strengths of the panel are as their owner has them",
     Errs::either, "soaked samples are asked for; one yard's laminate reached half of a table",
     "caution"},
    {panel, "plate-panel-round", "plate",
     "panels bend as round ones that rest at 4/pi of the nearest support", Errs::either,
     "held edges: up to 0.3 less; a support three times as far on the other side: a quarter more",
     "range of a check"},
    {panel, "plate-laminate-edge", "plate", "3 D from the edge is enough for a bolt in laminate",
     Errs::either, "common practice, no source", "range of a check"},
    {cored, "plate-core-shear", "plate", "the core takes the shear round the base", Errs::unsafe,
     "not checked: no source of a least strength; light balsa has 1.8 MPa on one data sheet",
     "holds if"},
    {cored, "plate-core-pressure", "plate", "the skin spreads nothing over the core",
     Errs::cautious, "any skin spreads it over more than the base", "range of a check"},
    // ---- Brackets
    {metal_bracket, "plate-bracket-cuts", "plate",
     "brackets yield on straight cuts, bending and twist by von Mises", Errs::cautious,
     "0.56 to 0.94 of a limit load by finite elements that lies below the true one, in nine "
     "directions of one plate, diagonal ones among them",
     "range of a check"},
    {stiffened, "plate-angles-beside", "plate", "angles work beside the plate, not with it",
     Errs::cautious, "riveted along it both are stiffer together", "range of a check"},
    {bracket, "plate-bracket-flat", "plate", "the bracket is one flat plate", Errs::unsafe,
     "bends, heels of angles and welds are weaker than it: weld zones of 6061-T6 yield at 0.43",
     "not checked"},
    {bracket, "plate-bracket-gear", "plate", "the gear's own bolts hold it to the bracket",
     Errs::unsafe, "they are not described, so not checked", "not checked"},
    {firm, "plate-firm", "plate", "what lies under a firm part of the bracket does not give",
     Errs::either, "as its owner has it", "input"},
    {fitting, "plate-fitting", "plate", "the fitting itself holds, its fasteners are checked",
     Errs::unsafe, "body and foot of a cleat have no published strength", "holds if"},
    {fitting, "plate-u-bolt-tight", "plate", "U-bolts do not pull at the fitting while idle",
     Errs::unsafe,
     "two M8 drawn up to a fifth of their yield pull 4 kN at its fasteners all the "
     "time",
     "caution"},
    {fitting, "plate-u-bolt-share", "plate",
     "one leg of a U-bolt takes 0.65 of its pull and all of its side load", Errs::cautious,
     "even legs take half of each", "range of a check"},
    {clasped, "plate-clasp-slips", "plate", "friction of 0.1 and half of the clamping are left",
     Errs::cautious, "and it is refused as a hold all the same", "refusal"},
    {stopped, "plate-stop", "plate", "the stop against sliding takes the pull", Errs::unsafe,
     "it is not described, so not checked", "holds if"},
    // ---- Tightening, metals, holes
    {enters, "plate-torque", "plate", "a torque draws as hard as K allows at its low end",
     Errs::cautious, "K 0.11 oiled to 0.48 dry; ceilings by the low, floors by the high end",
     "card of tightening"},
    {enters, "plate-pairs", "plate", "pairs of metals by one list of potentials", Errs::either,
     "lists differ by up to 0.25 V; pairs are told, nothing is refused", "caution"},
    {enters, "plate-one-missing", "plate", "one fastener less at a time, the hardest eight tried",
     Errs::either, "two may go together: see the order of losses", "note"},
    {enters, "plate-holes-true", "plate", "holes are drilled where the template has them",
     Errs::either, "edge distances have no reserve for a wandering drill: 1 mm of 10 is a tenth",
     "template"},
    {plate, "plate-tagged", "plate",
     "sizes whose file does not say how they are known are as "
     "tagged",
     Errs::either,
     "wall, alloy and fastener grade are assumed unless said; a size misread is not "
     "seen",
     "inputs"},
};

}  // namespace

std::span<const AssumptionRow> assumptions_of_plates() { return rows; }

}  // namespace thole
