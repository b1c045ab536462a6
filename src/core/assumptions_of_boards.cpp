#include <algorithm>

#include "core/assumption_rows.hpp"

namespace thole {

namespace {

bool board(const Setup& s) { return s.on_board(); }
bool wooden(const Setup& s) { return board(s) && s.board().board.wood.has_value(); }
bool metal(const Setup& s) { return board(s) && !wooden(s); }
bool strip(const Setup& s) {
  return board(s) && s.board().board.form == BoardForm::plank_with_strip;
}
bool legs(const Setup& s) { return board(s) && !s.board().legs.empty(); }
bool loose_legs(const Setup& s) {
  return legs(s) && std::any_of(s.board().legs.begin(), s.board().legs.end(),
                                [](const Leg& l) { return !l.foot_held || !l.beside; });
}
bool beside(const Setup& s) {
  return legs(s) && std::any_of(s.board().legs.begin(), s.board().legs.end(),
                                [](const Leg& l) { return l.beside; });
}

template <class Is>
bool any_ledge(const Setup& s, Is is) {
  return board(s) && (is(s.board().port) || is(s.board().starboard));
}
bool angles(const Setup& s) {
  return any_ledge(s, [](const Ledge& l) { return l.kind == LedgeKind::angle; });
}
bool other_seats(const Setup& s) {
  return any_ledge(s, [](const Ledge& l) { return l.kind != LedgeKind::angle; });
}
bool bolted_ledges(const Setup& s) {
  return any_ledge(s, [](const Ledge& l) { return l.fastening.has_value(); });
}
bool no_metal_hull(const Setup& s) {
  return any_ledge(
      s, [](const Ledge& l) { return l.fastening && l.fastening->hull != HullKind::metal_wall; });
}
bool feet(const Setup& s) {
  return board(s) && std::any_of(s.gear.begin(), s.gear.end(),
                                 [](const Gear& g) { return g.foot.has_value(); });
}
bool wooden_feet(const Setup& s) { return wooden(s) && feet(s); }
bool plates_below(const Setup& s) {
  return wooden_feet(s) && std::any_of(s.gear.begin(), s.gear.end(), [](const Gear& g) {
           return g.foot && g.foot->plate.has_value();
         });
}
bool hold_downs(const Setup& s) { return board(s) && !s.board().hold_downs.empty(); }
bool eyes(const Setup& s) {
  return hold_downs(s) &&
         std::any_of(s.board().hold_downs.begin(), s.board().hold_downs.end(),
                     [](const HoldDown& h) { return h.kind == HoldDownKind::eye_bolt; });
}
bool wire_on_wood(const Setup& s) {
  return wooden(s) && std::any_of(s.gear.begin(), s.gear.end(),
                                  [](const Gear& g) { return g.downrigger.has_value(); });
}

// THE list for cross-boards.
constexpr AssumptionRow rows[] = {
    {board, "board-no-friction", "board", "friction under the board holds nothing", Errs::cautious,
     "the hold-downs take the whole push along and across; friction could only take some of it",
     "note"},
    {hold_downs, "board-no-preload", "board", "bolts pull from nothing: no preload is counted",
     Errs::cautious, "preload hides part of the range from a bolt and is lost in wood",
     "tightening"},
    {board, "board-one-end-along", "board", "one end holds the board along itself, each in turn",
     Errs::cautious, "every check takes the worse; friction at the other end could only help",
     "note"},
    {hold_downs, "board-bolts-together", "board",
     "along the board the bolts of one end act together at their middle", Errs::either,
     "in holes without play they feel a couple: in a trial it halved the factor of wood crushed "
     "sideways, by movements of 0.02 mm, after which it is gone",
     "only here"},
    {board, "board-stiffness-alike", "board",
     "seats, legs and bolts are a third, once or three times as stiff as guessed, all alike",
     Errs::either,
     "one that is softer than the others hands its load on to them: with legs that may be more "
     "than the range tells",
     "note"},
    {board, "board-hull-rigid", "board", "the hull under the ledges does not turn or give",
     Errs::unsafe,
     "where it turns the board rests farther out: its bending grows by up to the width of both "
     "seats over the clear width",
     "not checked: the hull round the ledges"},
    {angles, "board-thin-angle", "board",
     "a thinner angle is softer, and the others carry more for it", Errs::either,
     "checks of other parts may come out better with a thinner angle, its own never do",
     "only here"},
    {angles, "board-angle-heel", "board",
     "the upright leg of an angle stays upright, and its heel and bends are as strong as its legs",
     Errs::either,
     "an upright leg that turns eases the level leg and loads its bolts; a sharp inner bend is "
     "weaker",
     "range of a check"},
    {bolted_ledges, "board-ledge-bed", "board",
     "the upright leg lies on a bed of middle stiffness, with prying at its bound", Errs::either,
     "the bed itself moves the pull on the bolts by less than prying, which is taken in full",
     "range of a check"},
    {no_metal_hull, "board-hull-material", "board",
     "laminate or timber round the bolts of a ledge holds", Errs::unsafe,
     "no published strength is in hand: it is a condition of the verdict", "holds if"},
    {other_seats, "board-below-hold-downs", "board",
     "what hold-downs enter below the board holds them, and is as hard as the board sideways",
     Errs::unsafe,
     "a gunwale top or block is not described: nothing checks that a nut or screw stays in it",
     "holds if"},
    {hold_downs, "board-hold-down-nuts", "board",
     "every hold-down goes through and has a nut of its own grade", Errs::either,
     "a screw without a nut holds by its thread, which nothing here checks", "range of a check"},
    {wooden, "board-wood-sound", "board",
     "the wood is of its grade, without cracks, rot or knots at an edge beyond it", Errs::either,
     "an ungraded plank may be half as strong", "range of a check"},
    {wooden, "board-hole-raiser", "board",
     "a hole takes its width off the section and raises no stress beside it", Errs::either,
     "code practice for round holes in wood; a notch or a square hole is worse",
     "range of a check"},
    {wire_on_wood, "board-minutes", "board",
     "the hold limit of a downrigger is that of a pull of minutes", Errs::unsafe,
     "wood under the same pull for days holds less, by 1.6 over 1.15 to weeks", "limits"},
    {wooden_feet, "board-cross-grain", "board",
     "a gear's foot does not split the board by bending it across the grain", Errs::unsafe,
     "a short foot with a long boom on a thin wide plank may: a plate below, as wide as the board, "
     "ends it",
     "not checked"},
    {feet, "board-foot-rigid", "board", "the foot of a gear does not bend", Errs::unsafe,
     "a foot that bends pries: its bolts may feel up to a third more", "range of a check"},
    {wooden_feet, "board-foot-sideways", "board",
     "sideways a gear's bolts bear in the board and in a foot of 4 mm soft cast aluminium",
     Errs::either, "judgement: of a plastic foot they tear less out", "range of a check"},
    {plates_below, "board-plate-spreads", "board",
     "a plate below the board spreads twice its thickness round each bolt", Errs::either,
     "judgement; thin plates dish and spread less", "range of a check"},
    {strip, "board-strip-glued", "board", "strip and plank work as one piece", Errs::unsafe,
     "a strip that is only bolted, or whose glue fails, leaves little more than the plank",
     "holds if"},
    {strip, "board-strip-ends", "board",
     "over its seats the plank is as stiff as with the strip, and as strong as it is alone",
     Errs::either,
     "the strip ends there: the softer ends turn a little more, and its own end is not checked",
     "only here"},
    {metal, "board-walls", "board", "walls of a tube or channel bear its bolts and its seats",
     Errs::unsafe, "thin walls dish there first", "holds if"},
    {board, "board-slender", "board", "walls that may buckle first have no verdict", Errs::cautious,
     "beyond the compact limits nothing is calculated", "refusal"},
    {board, "board-small-turns", "board", "movements are small", Errs::cautious,
     "where a boom tip swings by a tenth of its boom there is no verdict that holds", "caution"},
    {board, "board-people-places", "board",
     "people are in the middle, at the ends and at the quarters of the board, on either edge",
     Errs::either, "between these places a check may be a few per cent worse", "only here"},
    {board, "board-people-dips", "board", "the search finds the worst way of a person's push",
     Errs::unsafe, "a factor may dip by up to 4 % within a few degrees, which it may miss",
     "only here"},
    {wooden, "board-seat-points", "board", "a seat is eight points with weights of a sum",
     Errs::either, "forces lay within 2.5 % of the largest in solid models, the tip within 10 %",
     "range of a check"},
    {hold_downs, "board-washer", "board", "a washer counts up to four bolt diameters wide",
     Errs::cautious, "its thickness is not asked; a thin wide washer dishes", "range of a check"},
    {eyes, "board-eye-angle", "board", "an eye bolt holds by its rating at the angle of its pull",
     Errs::cautious, "from 45 deg on the rating at 45 deg; it contains a factor of its own",
     "range of a check"},
    {loose_legs, "board-leg-top", "board",
     "friction keeps the top of a leg under the board in its place", Errs::either,
     "2 % out of plumb asks for friction of 0.02, less than wet wood has; a knock asks for more",
     "range of a check"},
    {legs, "board-legs-on", "board", "what a leg stands on holds", Errs::unsafe,
     "hull, thwart or floor under a foot is not checked", "holds if"},
    {beside, "board-leg-bolts", "board", "the bolts of a leg beside the board hold it",
     Errs::unsafe, "not checked", "holds if"},
};

}  // namespace

std::span<const AssumptionRow> assumptions_of_boards() { return rows; }

}  // namespace thole
