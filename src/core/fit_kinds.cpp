// THE list of what may be in the way: one row for each kind.

#include <algorithm>

#include <thole/error.hpp>
#include <thole/fit.hpp>
#include <thole/unit_text.hpp>

namespace thole {

using namespace literals;

const std::vector<FitKind>& fit_kinds() {
  constexpr bool boat = true;
  constexpr bool mount = false;
  constexpr bool away = true;
  constexpr bool stays = false;
  constexpr auto clear = FitRule::keep_clear;
  // key, name, rule, clearance, close, of the boat, boom and rod come away, advice, help
  static const std::vector<FitKind> kinds{
      // ---- The boat's, as its owner describes it
      {"motor", "motor", clear, 50, 25, boat, stays,
       "move the mount forward or outboard, or keep the boom out of that sector",
       "cowl down and tilted up, at full lock both ways"},
      {"hand", "tiller hand", clear, 75, 0, boat, stays,
       "move the mount, or shorten the tiller, so that a fist passes at full lock",
       "the tiller's handle through full lock"},
      {"cord", "starting cord", clear, 75, 0, boat, stays, "keep the pull of the cord free",
       "the path of hand and cord when it is pulled"},
      {"hose", "fuel bulb and cables", clear, 75, 0, boat, stays,
       "lead hose and cables away from it, with their slack at full lock",
       "fuel bulb, hose and cables through full lock"},
      {"cleat", "cleat", clear, 75, 0, boat, away,
       "leave room for a line and a gloved hand, or move the cleat",
       "cleats, chocks, bow and stern eyes"},
      {"hatch", "hatch", clear, 13, 0, boat, away, "move the mount off the arc of the lid",
       "hatch or well lid, with the full arc that it swings"},
      {"seat", "seat", clear, 13, 0, boat, stays,
       "move the mount, or let the seat turn the other way",
       "seat back, swivel seat, knees that face aft"},
      {"oar", "oar", clear, 50, 0, boat, stays,
       "move the mount out of the stroke, or row with the gear off",
       "sweep of handle and loom, full stroke", Seen::judgement},
      {"cover", "cover", clear, 25, 0, boat, away,
       "round its corners and pad them, or tie the cover down with the mount off",
       "the space above the cloth", Seen::judgement},
      {"boarding", "boarding place", clear, 0, 0, boat, stays,
       "never block it: a swimmer will grab the mount", "where one climbs back in"},
      {"filler", "fuel filler or vent", clear, 75, 0, boat, away,
       "leave filler and vent free, and room for a hand", "fuel fill, vent", Seen::judgement},
      {"outlet", "outlet or transducer", clear, 25, 0, boat, stays,
       "do not cover it and do not drill near it", "bilge outlet, drain, transducer",
       Seen::judgement},
      {"wiring", "wiring", clear, 25, 0, boat, stays,
       "find the run before you drill; lead it round", "where wires and cables run",
       Seen::judgement},
      {"light", "stern light", clear, 0, 0, boat, stays,
       "the light must show 67.5 deg to each side of dead astern: lower what hides it or raise "
       "the light",
       "the light itself: at and height"},
      {"trailer", "strap, post or lamp of the trailer", clear, 25, 0, boat, away,
       "move the mount, the strap or the post", "straps, winch post, guide posts, lamps",
       Seen::judgement},
      {"other", "thing", clear, 25, 0, boat, stays, "move the mount or the thing",
       "anything else that is fixed", Seen::judgement},
      {"sitting", "place to sit", FitRule::reach, 650, 0, boat, stays,
       "bring the crank nearer, or sit nearer: shoulders stay inboard of the gunwale",
       "hip of the person seated who cranks: at"},
      {"standing", "place to stand", FitRule::reach, 650, 0, boat, stays,
       "let the boom swing or tilt in until its tip comes to hand without leaning out",
       "where one stands to clip the line: at", Seen::judgement},
      {"net", "rail for the net", FitRule::stretch, 1500, 0, boat, away,
       "leave one clear stretch for the net, on a side or across the stern",
       "a line along the rail where one could stand with the net"},
      // ---- Rules of the mount's own parts
      {"spacing", "rod holders", FitRule::spacing, 600, 450, mount, stays,
       "set the holders farther apart", ""},
      {"propeller", "propeller", FitRule::propeller, 450, 0, mount, stays,
       "in a hard turn the line drifts to the propeller: boom tip well aft or well outboard of "
       "the motor",
       ""},
      {"road", "road width", FitRule::width, 0, 0, mount, stays,
       "take the gear off, or swing the booms in, for the road", ""},
      {"rail", "rub rail", FitRule::width, 0, 0, mount, stays,
       "nothing should stand proud of the rub rail at a dock: shorten it or stow it inboard", ""},
      // ---- Parts of the mount, with what they want round themselves
      {"board", "board", clear, 0, 0, mount, stays, "", ""},
      {"ledge", "ledge", clear, 0, 0, mount, stays, "", ""},
      {"leg", "leg", clear, 0, 0, mount, stays, "", ""},
      {"base", "base", clear, 0, 0, mount, stays, "", ""},
      {"winch", "winch", clear, 0, 0, mount, stays, "", ""},
      {"crank", "crank", clear, 50, 0, mount, stays,
       "turn the winch or move it: knuckles want room all round the crank", ""},
      {"boom", "boom", clear, 0, 0, mount, stays, "", ""},
      {"line", "line at the tip", clear, 0, 0, mount, stays, "", ""},
      {"holder", "holder", clear, 0, 0, mount, stays, "", ""},
      {"reel", "reel", clear, 50, 0, mount, stays,
       "turn the holder or move it: knuckles want room round the reel", "", Seen::judgement},
      {"butt", "rod butt", clear, 50, 0, mount, stays,
       "leave 300 to 350 mm free below or behind the tube", ""},
      {"rod", "rod", clear, 0, 0, mount, stays,
       "splay the rods 10 to 30 deg outward, going forward", ""},
      {"lifted", "rod lifted out", clear, 0, 0, mount, stays,
       "splay the rods 10 to 30 deg outward, going forward", ""},
  };
  return kinds;
}

const FitKind& fit_kind(std::string_view key) {
  const std::vector<FitKind>& kinds = fit_kinds();
  const auto it =
      std::find_if(kinds.begin(), kinds.end(), [&](const FitKind& k) { return k.key == key; });
  if (it != kinds.end()) return *it;
  std::vector<std::string> names;
  for (const FitKind& k : kinds) names.emplace_back(k.key);
  const std::string near = nearest_spelling(std::string(key), names);
  throw UnknownName("\"" + std::string(key) + "\" is no kind of thing that fit knows" +
                    (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
}

FitThing fit_thing(std::string_view kind, std::string name, std::vector<FitShape> shapes) {
  const FitKind& k = fit_kind(kind);
  FitThing t;
  t.kind = std::string(k.key);
  t.name = name.empty() ? std::string(k.name) : std::move(name);
  t.shapes = std::move(shapes);
  t.clearance = k.clearance / 1000 * si::metre;
  t.close = k.close / 1000 * si::metre;
  t.of_mount = !k.of_boat;
  t.source = {k.seen == Seen::judgement ? "judgement" : "", "", k.seen};
  t.advice = std::string(k.advice);
  return t;
}

std::string_view word_for(Clear c) {
  switch (c) {
    case Clear::clear:
      return "clear";
    case Clear::close:
      return "close";
    case Clear::hits:
      return "hits";
  }
  throw InternalError("a clearance without a word");
}

std::string_view word_for(const FitRow& row) {
  struct Words {
    FitRule rule;
    std::string_view clear, close, hits;
  };
  static constexpr Words words[] = {
      {FitRule::keep_clear, "clear", "close", "hits"},
      {FitRule::reach, "in reach", "far", "too far"},
      {FitRule::spacing, "apart", "tight", "too near"},
      {FitRule::stretch, "free", "short", "too short"},
      {FitRule::propeller, "clear", "close", "fouls"},
      {FitRule::width, "within", "unsure", "too wide"},
  };
  for (const Words& w : words) {
    if (w.rule != row.rule) continue;
    return row.clear == Clear::clear ? w.clear : row.clear == Clear::close ? w.close : w.hits;
  }
  throw InternalError("a rule of fit without words");
}

bool FitAnswer::any_hit() const {
  return std::any_of(rows.begin(), rows.end(),
                     [](const FitRow& r) { return r.clear == Clear::hits; });
}

}  // namespace thole
