#include "report/inspection_card.hpp"

#include <algorithm>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <thole/check.hpp>
#include <thole/error.hpp>
#include <thole/metal_pairs.hpp>
#include <thole/test_pull.hpp>

#include "core/stable_order.hpp"
#include "report/cards.hpp"
#include "report/html.hpp"
#include "report/short_names.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole::cards {
namespace {

constexpr std::string_view trip = "before each trip";
constexpr std::string_view month = "each month";
constexpr std::string_view season = "each season";

struct LookRow {
  std::vector<std::string_view> modes;
  Look look;
};

// THE table: modes that show in the same way share a line.
const std::vector<LookRow>& looks() {
  static const std::vector<LookRow> rows{
      {{"thread-pull-out", "thread-strip-hole", "thread-strip-screw", "pull-out-with-bearing",
        "self-tapping-pull-out", "screw-tilting", "thread-fatigue"},
       {"screws and their threads in the metal",
        "rock the base by hand; two fingers on a short spanner: does a screw turn on or stand "
        "proud?",
        trip,
        "a screw that turns without getting tight, stands crooked, or comes out with metal in its "
        "threads: no new screw in that hole"}},
      {{"thread-insert-pull-out", "blind-insert-pull-out", "insert-thread"},
       {"thread inserts", "does an insert turn with its screw, or stand above the metal?", month,
        "an insert that turns or has lifted at all"}},
      {{"rivet-shear", "rivet-tension", "rivet-tension-and-shear", "wall-bearing-rivet"},
       {"rivets", "a grey streak or black dust at a head; a head that moves under the thumb", month,
        "one rivet that is loose, weeps or is missing"}},
      {{"pull-over"},
       {"base under the heads", "dimples round the heads, cracks that start there", month,
        "a dimple deeper than 1 mm (1/32 in), any crack"}},
      {{"pull-over-behind"},
       {"wall under the washers, from behind",
        "washers bent like a saucer, the wall drawn in, a gap at the rim", month,
        "a gap of 1 mm (1/32 in) under the rim of a washer, any crack round it"}},
      {{"screw-tension", "screw-shear", "screw-tension-and-shear", "wood-screw-breaks"},
       {"screws", "rust, a neck below the head, a head that sits askew; take the worst one out",
        season, "a bent or necked shank, rust pits, a crack: all screws of the row are changed"}},
      {{"bolt-tension", "bolt-shear", "bolt-tension-and-shear", "ledge-bolt-tension",
        "ledge-bolt-shear", "ledge-bolt-tension-and-shear", "gear-bolt-tension", "gear-bolt-shear",
        "gear-bolt-tension-and-shear", "hold-down-tension", "hold-down-shear",
        "hold-down-tension-and-shear"},
       {"bolts",
        "lines of paint on nut and bolt in one; take the worst bolt out: shank and threads", season,
        "a bent or notched shank, rust pits, a crack, a nut that runs on by hand"}},
      {{"bolt-bending", "hold-down-bending"},
       {"free shanks between the parts", "look along each shank against a straight edge", month,
        "a shank that is bent so that you can see it, or a nut that sits askew"}},
      {{"wall-bearing-screw", "wall-bearing-bolt", "base-bearing", "ledge-bolt-bearing",
        "wood-lateral", "board-bolt-bearing", "gear-bolt-bearing", "laminate-bearing"},
       {"sides of the holes", "push the part to and fro: does it slide on its fasteners?", month,
        "it slides by 1 mm (1/32 in), or a hole is longer than wide"}},
      {{"tear-out", "block-shear", "net-section", "edge-distance"},
       {"metal between holes and edge", "a bulge at the edge, a line in the paint from a hole",
        month, "any crack or bulge"}},
      {{"hole-spacing"},
       {"metal between the holes", "a line in the paint from hole to hole", month, "any crack"}},
      {{"wall-yield", "wall-press", "wall-rotation", "lip-bending"},
       {"wall round the base", "a straight edge laid over it: dished or turned up?", trip,
        "it has moved by 1 mm (1/32 in) since the first season's look, or oil-cans under the "
        "thumb"}},
      {{"gunwale-roll"},
       {"gunwale along its length", "look along it; grey streaks at the rivets of its ribs", month,
        "a twist that you can see, a rivet that weeps"}},
      {{"base-bending", "bracket-bends", "backing-bending"},
       {"plates and bars of the mount", "a straight edge laid on, both ways", month,
        "a gap of 1 mm (1/32 in) that was not there at first: bent metal is not straightened"}},
      {{"wall-fatigue"},
       {"wall at its holes", "wipe dry, look with a lens at every hole and bend nearby", month,
        "any hairline in paint or metal: a crack is not drilled out here, the yard looks at it"}},
      {{"base-fatigue", "backing-fatigue", "metal-board-fatigue", "ledge-leg-fatigue"},
       {"metal at holes, bends and welds of the mount",
        "wipe dry, look with a lens for a hairline or a dark line in the paint", month,
        "any crack: the piece is changed, not welded"}},
      {{"fastener-fatigue", "hold-down-fatigue", "ledge-bolt-fatigue", "gear-bolt-fatigue"},
       {"threads where the nut or the metal begins",
        "take the worst one out; a lens on the first threads and below the head", season,
        "any crack, or one that broke before its time: all of that row are changed"}},
      {{"u-bolt-breaks", "clamp-opens"},
       {"U-bolts and clamps", "legs straight, jaws not spread, lines of paint on nuts in one", trip,
        "a bent leg, jaws that gape, a crack"}},
      {{"bracket-slip", "bracket-stop"},
       {"place of the bracket", "a line of paint across bracket and boat: is it still one line?",
        trip, "the halves of the line have parted by 1 mm (1/32 in)"}},
      {{"wood-withdrawal", "wood-screw-combined", "wood-lifts"},
       {"screws in the timber", "does one turn on, stand proud, or weep brown?", trip,
        "a screw that turns without getting tight: no longer screw in the same hole"}},
      {{"washer-dent", "washer-crushing", "wood-washer-dent", "wood-washer-crushing",
        "gear-washer-dent", "gear-washer-crushing"},
       {"wood under the washers", "a washer sunk in, wood fibres torn at its rim", month,
        "a dent deeper than 2 mm (1/16 in), or one that grows from month to month"}},
      {{"wood-base-dent", "wood-base-crushing", "ledge-dent", "ledge-crushing", "leg-dent",
        "gear-foot-dent"},
       {"wood under seats and feet", "the print of the part in the wood; does it rock now?", month,
        "a dent deeper than 2 mm (1/16 in), or one that grows from month to month"}},
      {{"wood-splits", "wood-tear-out", "wood-distance", "board-splits", "board-bolt-distance",
        "gear-bolt-splits"},
       {"wood from the holes along the grain",
        "a crack from a hole to an end or edge, on both faces", trip,
        "a crack that takes a sheet of paper"}},
      {{"core-crushing", "panel-punch", "panel-bending", "laminate-distance"},
       {"panel round the base",
        "tap with a coin all round, look for star cracks, a dip, a brown weep", month,
        "a dull sound, a soft place, a crack, a dip of 1 mm (1/32 in): the yard looks at it"}},
      {{"board-bending", "board-net-section", "board-edge-stress", "board-torsion", "board-shear"},
       {"plank", "cracks across the grain below, splits along it, a sag or twist that stays", trip,
        "a crack across the grain, a split longer than the plank is wide, an awl that sinks in"}},
      {{"metal-board-yield", "metal-board-net-section"},
       {"tube or channel", "look along it; dents, a kink, ovals at the holes", trip,
        "a bend that you can see, a dent, any crack"}},
      {{"ledge-leg-bending", "ledge-leg-lift"},
       {"angle of the ledge", "a gap at its heel; is its level leg still level?", month,
        "it has moved by 1 mm (1/32 in) at its toe, any crack at the heel"}},
      {{"ledge-bolt-pull-through"},
       {"hull at the bolts of the ledge", "from both sides: dimples, star cracks, wet streaks",
        month, "a gap of 1 mm (1/32 in) under a washer, any crack or weep"}},
      {{"eye-bolt-rating"},
       {"eye bolts", "is the eye round, the shank straight, the nut flat?", trip,
        "an eye that is no longer round, a bent shank, a tilted nut"}},
      {{"leg-crushing", "leg-buckling", "leg-slides", "leg-tips"},
       {"legs", "upright, tight top and foot; a polished or moved foot", trip,
        "a foot that has moved by 5 mm (3/16 in), a bowed, split or crushed leg"}},
  };
  return rows;
}

struct Line {
  const Look* look = nullptr;
  std::vector<std::string> places;  // HTML
  double ratio = 0;                 // least of its checks, factor over what it needs
  bool fatigue = false;
  bool fails = false;
  bool guessed = false;  // hangs on a guess
  bool unknown = false;  // no figure for it
};

// HTML. Numbers count as on the drawings; names are the user's own.
std::string place_of(const ShortNames& names, const CheckResult& c) {
  std::string out;
  if (c.fastener >= 0 && c.where.empty()) out = "no. " + std::to_string(c.fastener + 1);
  if (!c.where.empty()) out = html::users(names.in(c.where));
  if (c.part.empty()) return out;
  return html::users(names.in(c.part)) + (out.empty() ? "" : ", " + out);
}

bool is_fatigue(const Setup& s, const std::string& mode) {
  const auto modes = catalogue_for(s);
  return std::any_of(modes.begin(), modes.end(),
                     [&](const FailureMode& m) { return m.fatigue && m.id == mode; });
}

void add(std::vector<Line>& lines, const Setup& s, const ShortNames& names, const CheckResult& c) {
  const Look& look = look_for(c.mode);
  auto line =
      std::find_if(lines.begin(), lines.end(), [&](const Line& l) { return l.look == &look; });
  const bool counts = c.standing == Standing::applies;
  const double ratio = counts && c.needed > 0 ? c.factor / c.needed : 0;
  if (line == lines.end()) {
    lines.push_back({&look, {}, ratio});
    line = lines.end() - 1;
  }
  line->ratio = std::min(line->ratio, ratio);
  line->fatigue = line->fatigue || is_fatigue(s, c.mode);
  line->fails = line->fails || (counts && !c.holds);
  line->guessed = line->guessed || !c.assumed.empty();
  line->unknown = line->unknown || !counts;
  const std::string at = place_of(names, c);
  if (at.empty() || line->places.size() >= 3) return;
  if (std::find(line->places.begin(), line->places.end(), at) == line->places.end()) {
    line->places.push_back(at);
  }
}

// A card is read standing up.
constexpr std::size_t most_lines = 8;
// Beyond it there is as much again in hand as was asked for.
constexpr double plenty = 2;

// Worst first; cracks in time are never crowded out by what breaks at once.
std::vector<Line> weakest(const SheetContent& c) {
  const ShortNames names(c.setup);
  std::vector<Line> all;
  for (const CheckResult& r : c.assessment.checks) {
    const bool matters = r.standing == Standing::applies || r.standing == Standing::refused ||
                         r.why == wording::no_figures;
    if (matters) add(all, c.setup, names, r);
  }
  sort_stably(all, [](const Line& a, const Line& b) { return a.ratio < b.ratio; });
  std::vector<Line> out;
  for (const Line& l : all) {
    const bool weak = l.ratio < plenty || l.unknown || out.size() < 3;
    if (weak && (out.size() < most_lines || l.fatigue)) out.push_back(l);
  }
  return out;
}

std::string why(const Line& l) {
  if (l.unknown) return "no figure for it: look harder";
  if (l.fails) return l.fatigue ? "may crack in time" : "does not hold as drawn";
  if (l.guessed) return "hangs on a guess";
  return "";
}

std::string item(const std::string& what, const std::string& how, std::string_view when,
                 const std::string& reject) {
  return "<li><b>" + what + "</b><br>" + how + " <i>" + std::string(when) + "</i><br>" +
         "<b>Ends its use:</b> " + reject + ".</li>";
}

std::string first_letter_large(std::string_view words) {
  const std::string out = text::sentence(std::string(words));
  const bool question = !words.empty() && words.back() == '?';
  return question ? out.substr(0, words.size()) : out;
}

std::string item(const Line& l) {
  std::string what = text::sentence(std::string(l.look->what));
  what.pop_back();
  if (!l.places.empty()) what += ", first " + text::joined(l.places, "; ");
  const std::string reason = why(l);
  if (!reason.empty()) what += "</b> (" + reason + ")<b>";
  return item(what, first_letter_large(l.look->how), l.look->when, std::string(l.look->reject));
}

void add_materials(std::vector<std::string>& out, const Setup& s) {
  const std::string twice = s.salt_water ? "twice a season" : "each season";
  const auto pairs = metal_pairs(s);
  const auto bad = std::find_if(pairs.begin(), pairs.end(),
                                [](const MetalPair& p) { return p.rule != PairRule::fine; });
  const std::vector<std::string> pair_texts = pair_cautions(s);
  if (bad != pairs.end() || !pair_texts.empty()) {
    std::string what = "Where unlike metals, or treated wood and metal, touch";
    if (bad != pairs.end()) {
      what += ": " + html::text(bad->part, 200) + " on " + html::text(bad->other, 200);
    }
    out.push_back(item(what,
                       "White or brown powder, blisters in the paint; take one fastener out and "
                       "look into its hole.",
                       twice,
                       "pits that a fingernail finds, a fastener that has seized, metal thinner "
                       "by a tenth"));
  }
  const bool wood = s.on_board() ? s.board().board.wood.has_value()
                                 : s.plate().host.kind == HostKind::timber ||
                                       s.plate().host.kind == HostKind::plywood;
  if (wood) {
    out.push_back(item("Wood at holes, ends and under every washer",
                       "Press an awl in, there and in a sound place; look for dark stains.",
                       "each season and after lying wet",
                       "an awl that sinks in deeper than in sound wood: the piece is replaced, no "
                       "figure stands for soft wood"));
  }
  const bool panel = !s.on_board() && (s.plate().host.kind == HostKind::cored_panel ||
                                       s.plate().host.kind == HostKind::laminate);
  if (panel) {
    out.push_back(item("Sealing of every hole, from below too",
                       "Brown or wet streaks, a dull sound by the coin, a moisture check by a yard "
                       "if in doubt.",
                       twice,
                       "water in the panel: nothing is fished from it until it is dry and "
                       "sound"));
  }
}

void add_condition(std::vector<std::string>& out, const Condition& c) {
  std::string open;
  const auto ask = [&](Answer a, const char* what) {
    if (a == Answer::not_known) open += (open.empty() ? "" : ", ") + std::string(what);
  };
  ask(c.cracks, "cracks at or near the base");
  ask(c.loose_rivets, "loose or weeping rivets in reach");
  ask(c.bent_or_corroded, "bent or corroded hardware");
  ask(c.soft_wood_or_core, "soft wood or core");
  ask(c.weld_near_base, "a weld near the base");
  if (open.empty()) return;
  out.insert(out.begin(), item("Nobody has looked yet: " + open, "Look, and put it in the file.",
                               "before the first trip", "any of them, until it is judged anew"));
}

void add_of_gear(std::vector<std::string>& out, const Setup& s) {
  const bool links = std::any_of(s.gear.begin(), s.gear.end(), [](const Gear& g) {
    return (g.downrigger && g.downrigger->weak_link) || (g.rod_holder && g.rod_holder->weak_link);
  });
  const bool riggers = std::any_of(s.gear.begin(), s.gear.end(),
                                   [](const Gear& g) { return g.downrigger.has_value(); });
  out.push_back(item("Body of the gear: foot, socket, swivel, pin",
                     "Hairlines, play, teeth that slip. It is not part of these figures.", trip,
                     "a crack, or more play than when new"));
  if (!riggers) return;
  out.push_back(item(links ? "Brake, wire and weak link" : "Brake and wire",
                     "Read the slip with a scale at the clip; run the wire through a cloth.",
                     "each month",
                     links ? "a slip above the setting, a broken strand, a link of another strength"
                           : "a slip above the setting, a broken strand"));
}

// A mount that is not to be pulled at all has no pull to be made again.
bool has_test_pull(const Assessment& a) {
  return a.verdict != Verdict::no_verdict &&
         std::any_of(a.gear_limits.begin(), a.gear_limits.end(),
                     [&](const GearLimit& l) { return test_pull_of(a, l).has_value(); });
}

std::string dates(std::size_t lines) {
  std::string head = "<tr><th scope=\"col\">Line</th>";
  for (int k = 1; k <= 6; ++k) head += "<th scope=\"col\">" + std::to_string(k) + "</th>";
  const auto row = [](const std::string& name) {
    std::string out = "<tr><th scope=\"row\">" + name + "</th>";
    for (int k = 0; k < 6; ++k) out += "<td>&nbsp;</td>";
    return out + "</tr>";
  };
  std::string body = row("date");
  for (std::size_t k = 1; k <= lines; ++k) body += row(std::to_string(k));
  return "<table class=\"seasons\"><caption>Six seasons: the date, and a tick for each line that "
         "is "
         "sound</caption><thead>" +
         head + "</tr></thead><tbody>" + body + "</tbody></table>";
}

}  // namespace

const Look& look_for(std::string_view mode) {
  for (const LookRow& r : looks()) {
    if (std::find(r.modes.begin(), r.modes.end(), mode) != r.modes.end()) return r.look;
  }
  throw InternalError("a failure mode without an inspection text: " + std::string(mode));
}

Card inspection(const SheetContent& c) {
  std::vector<std::string> items;
  for (const Line& l : weakest(c)) items.push_back(item(l));
  add_materials(items, c.setup);
  items.push_back(item("Every nut, screw and wing nut",
                       "Draw a line of paint across nut, bolt and part when it is tight; the line "
                       "must stay one line.",
                       trip,
                       "a line that has parted: find out why, then tighten anew; a lost nut"));
  add_of_gear(items, c.setup);
  if (has_test_pull(c.assessment)) {
    items.push_back(
        item("How far it moves", "The test pull again, at the same point and the same pull.",
             season, "it moves more than at the first test pull by half, or does not come back"));
  }
  add_condition(items, c.setup.condition);
  return {"inspection", "Inspection card",
          html::element("p",
                        "From the weakest items of this design, worst first. Stop using the "
                        "mount at the first sign; signs and limits: common practice, no "
                        "source.") +
              html::element("ol", text::joined(items, ""), "inspect") + dates(items.size()) +
              html::element("p",
                            "In doubt a marine professional looks at it. Looking finds what "
                            "shows: it does not prove that the rest is sound.")};
}

}  // namespace thole::cards
