// How the fasteners of a base hold.

#include <algorithm>
#include <array>
#include <cmath>

#include <thole/thread.hpp>
#include <thole/wood_strength.hpp>

#include "reading/setup_parts.hpp"

namespace thole::reading {

using namespace literals;

namespace {

// Lag and wood screws by their size in the tables, and how deep they reach.
void read_screw(Fields& f, Fastening& out, const Host& host) {
  const bool lag = out.hold == HoldBy::lag_screw;
  const bool wood = in_wood(out.hold);
  const auto size = f.text(
      {"size", "size of the screw", "lag_screw: 1/4 to 3/4; wood_screw: its number, 6 to 20"},
      false, wood);
  const auto length = f.optional<Length>({"length", "length of the screw", "under the head"});
  const auto threaded = f.optional<Length>(
      {"threaded", "length of its thread", "with the tip; the standard one when left out"});
  if (f.describing() || f.node() == nullptr) return;
  if (!wood) {
    for (const char* key : {"size", "length", "threaded"}) {
      complain_at(f, key, ": belongs to hold: lag_screw or wood_screw");
    }
    return;
  }
  if (f.has("thread")) {
    complain_at(f, "thread", ": belongs to bolts and tapped holes; a screw in wood has a size");
  }
  if (!host.is_metal() && host.kind != HostKind::timber) {
    complain_at(
        f, "hold",
        ": no published source for screws in a panel or laminate; through_bolt is possible");
  }
  if (!f.has("size")) {
    complain_missing(
        f, "size",
        lag ? "size of the lag screw, as in 5/16" : "number of the wood screw, as in 12");
  }
  if (!f.has("length")) {
    complain_missing(f, "length", "length of the screw under its head, for example 2 in");
  }
  if (size) {
    out.screw = look_up(f, "size", [&] {
      if (lag) return lag_screw(size->value);
      const std::size_t at = size->value.find_first_not_of("#No. ");
      const std::string digits = at == std::string::npos ? "" : size->value.substr(at);
      const bool number = !digits.empty() && digits.size() < 3 &&
                          digits.find_first_not_of("0123456789") == std::string::npos;
      if (!number) {
        throw UnknownName("\"" + size->value +
                          "\" is no number of a wood screw; 6 to 20 are known");
      }
      return wood_screw(std::stoi(digits));
    });
  }
  if (length) {
    out.length = length->value;
    refuse_above(f, "length", out.length, 12.0_in, "above 12 in (300 mm), no such screw");
  }
  if (!out.screw) return;
  const WoodFastener& s = *out.screw;
  Thread& t = out.thread;
  t.name = lag ? size->value + " in" : s.name.substr(0, s.name.find(" wood"));
  t.diameter = s.diameter;
  t.pitch = (s.diameter - s.root) / 1.191;  // so that its root is that of the screw
  t.clearance = s.diameter + (1.0 / 32) * 1.0_in;
  // Hexagons of lag screws are those of the bolts of their size (ASME B18.2.1, from memory).
  t.head_across_flats = !lag                   ? s.head
                        : s.diameter < 0.45_in ? Length(s.diameter + 3.0 / 16 * 1.0_in)
                                               : Length(1.5 * s.diameter);
  t.source = {lag ? "NDS 2018 Appendix L2 and Table I1" : "NDS 2018 Appendix L3 and Table I1", "",
              Seen::copy};
  if (!length) return;
  if (out.length <= s.tip + s.diameter) {
    complain_at(f, "length", ": hardly longer than the tip of the screw");
    return;
  }
  out.threaded = threaded ? threaded->value : thread_length(s, out.length);
  if (out.threaded > out.length) complain_at(f, "threaded", ": longer than the screw");
}

struct HoldWord {
  std::string_view word;
  HoldBy hold;
};
constexpr std::array<HoldWord, 9> hold_words{{{"tapped", HoldBy::tapped},
                                              {"tapped_bar", HoldBy::tapped_bar},
                                              {"through_bolt", HoldBy::through_bolt},
                                              {"lag_screw", HoldBy::lag_screw},
                                              {"wood_screw", HoldBy::wood_screw},
                                              {"thread_insert", HoldBy::thread_insert},
                                              {"blind_insert", HoldBy::blind_insert},
                                              {"self_tapping", HoldBy::self_tapping},
                                              {"rivet", HoldBy::rivet}}};

std::string read_hold(Fields& f, const Host& host, HoldBy& hold) {
  std::vector<std::string> words;
  for (const HoldWord& w : hold_words) words.emplace_back(w.word);
  if (!f.describing()) {  // told what they belong to, not that there is no such thing
    words.insert(words.end(), {"u_bolt", "clamp"});
  }
  const std::string word =
      f.choice({"hold", "how the fasteners hold",
                "tapped: threads in the wall; tapped_bar: threads in a bar behind it; "
                "through_bolt: nuts behind; lag_screw and wood_screw: in timber; thread_insert: a "
                "coil or solid insert in tapped metal; blind_insert: a threaded rivet; "
                "self_tapping: screws that make their own thread; rivet"},
               words, true)
          .value;
  if (word == "u_bolt" || word == "clamp") {
    complain_at(f, "hold", ": " + word + " holds a bracket only, not a gunwale_plate");
    return "";
  }
  for (const HoldWord& w : hold_words) {
    if (w.word == word) hold = w.hold;
  }
  if (host.is_metal() && in_wood(hold)) {
    complain_at(f, "hold", ": holds in timber only, and the host is a metal wall");
  }
  if (!host.is_metal() && (word == "tapped" || word == "tapped_bar")) {
    complain_at(f, "hold",
                ": threads are tapped in metal only; through_bolt, or in timber lag_screw and "
                "wood_screw");
  } else if (!host.is_metal() && hold != HoldBy::through_bolt && !in_wood(hold) && !word.empty()) {
    complain_at(
        f, "hold",
        ": holds in a metal wall only; through_bolt, or in timber lag_screw and wood_screw");
  }
  return word;
}

// A machine thread or, of self-tapping screws, a spaced one as well.
Thread read_any_thread(Fields& f, const MaterialLibrary& library, bool self_tapping) {
  if (!self_tapping) return read_thread(f, library);
  const auto name = f.text({"thread", "thread", ""}, true);
  if (!name) return {};
  const auto t = look_up(f, "thread", [&] {
    return library.find("thread", name->value) != nullptr ? library.thread(name->value)
                                                          : library.spaced_thread(name->value);
  });
  return t ? *t : Thread{};
}

void read_thread_insert(Fields& f, Fastening& out) {
  ObjectSchema schema;
  const Key key{"thread_insert", "thread insert",
                "hold: thread_insert: a coil of wire or a solid, keyed insert in tapped metal"};
  Fields i = f.map(key, false, &schema);
  if (i.node() != nullptr || i.describing()) {
    const std::string kind =
        i.choice({"kind", "kind of thread insert", "coil: of wire; solid: in one piece, keyed"},
                 {"coil", "solid"}, true)
            .value;
    const auto length = i.need<Length>({.name = "length",
                                        .label = "length of the insert",
                                        .help = "coil: 1, 1 1/2, 2, 2 1/2 or 3 times the diameter",
                                        .example = "3/8 in"});
    ThreadInsert insert;
    insert.solid = kind == "solid";
    insert.length = length.value;
    insert.pull_out = read_given<GivenForce>(
        i, {.name = "pull_out",
            .label = "pull-out of the insert",
            .help = "out of this metal: its maker or a test; a solid insert needs it",
            .example = "2000 lbf"});
    const Length d = out.thread.diameter;
    if (kind == "coil" && d.value() > 0 && length.value.value() > 0) {
      const double times = 2.0 * double(length.value / d);
      const double whole = std::round(times);
      if (whole < 2 || whole > 6 || std::abs(times - whole) > 0.06) {
        complain_at(i, "length",
                    ": coils are 1, 1 1/2, 2, 2 1/2 or 3 times as long as their thread is wide");
      }
    }
    i.finish();
    if (!i.describing()) out.insert = insert;
  }
  f.close(key, schema);
}

void read_blind_insert(Fields& f, Fastening& out, const MaterialLibrary& library) {
  ObjectSchema schema;
  const Key key{"blind_insert", "blind insert", "hold: blind_insert: a threaded rivet"};
  Fields i = f.map(key, false, &schema);
  if (i.node() != nullptr || i.describing()) {
    BlindInsert b;
    const std::string metal = i.choice({"metal", "metal of the insert", "what it is made of"},
                                       {"aluminium", "steel", "stainless"}, true)
                                  .value;
    b.metal = metal == "steel"       ? BlindInsert::Metal::steel
              : metal == "stainless" ? BlindInsert::Metal::stainless
                                     : BlindInsert::Metal::aluminium;
    b.flange = i.need<Length>({"flange", "flange of the insert", "diameter under the base"}).value;
    b.bulb = i.need<Length>({"bulb", "bulb of the insert",
                             "diameter behind the wall, as set: measure one set in scrap"})
                 .value;
    b.hole = i.need<Length>({"hole", "hole for the insert", "diameter"}).value;
    b.pull_out = read_given<GivenForce>(
        i, {.name = "pull_out",
            .label = "pull-out of the insert",
            .help = "out of such a wall: its maker or a test in scrap; no verdict without it",
            .example = "800 lbf"});
    b.thread_holds = read_given<GivenForce>(i, {.name = "thread_holds",
                                                .label = "proof load of the insert's thread",
                                                .help = "of the insert's own thread",
                                                .example = "7.8 kN"});
    b.turns_at =
        read_given<GivenMoment>(i, {.name = "turns_at",
                                    .label = "torque at which the insert turns",
                                    .help = "in such a wall; sets how tight the screw may be",
                                    .example = "3.5 N m"});
    const Length d = out.thread.diameter;
    if (d.value() > 0 && b.hole.value() > 0 && (b.hole <= d || b.hole > 2.0 * d)) {
      complain_at(i, "hole", ": the hole of an insert is 1 to 2 times as wide as its thread");
    }
    for (const auto& [name, width] : {std::pair{"bulb", b.bulb}, std::pair{"flange", b.flange}}) {
      if (!(b.hole.value() > 0) || !(width.value() > 0)) continue;
      if (width <= b.hole || width > 2.0 * b.hole) {
        complain_at(i, name, ": it is 1 to 2 times as wide as the hole");
      }
    }
    i.finish();
    if (!i.describing()) {
      b.like = library.blind_insert(metal == "aluminium" ? "aluminium" : "steel", out.thread);
      out.blind = b;
    }
  }
  f.close(key, schema);
}

// Its thread stands for the rivet: no pitch, and a clearance as wide as its hole may be.
void read_rivet(Fields& f, Fastening& out) {
  ObjectSchema schema;
  const Key key{"rivet", "rivet", "hold: rivet"};
  Fields i = f.map(key, false, &schema);
  if (i.node() != nullptr || i.describing()) {
    RivetKind r;
    r.blind = i.choice({"kind", "kind of rivet", "solid; blind: pulled from one side"},
                       {"solid", "blind"}, true)
                  .value == "blind";
    const auto diameter = i.need<Length>({.name = "diameter",
                                          .label = "diameter of the rivet",
                                          .help = "of its shank",
                                          .example = "3/16 in"});
    const auto hole = i.optional<Length>(
        {"hole", "hole for the rivet", "at most 4 % wider than the rivet; that when left out"});
    r.tension = read_given<GivenForce>(
        i, {.name = "tension",
            .label = "strength of the rivet in tension",
            .help = "its maker or a test: no published source; no verdict without it",
            .example = "300 lbf"});
    r.shear = read_given<GivenForce>(
        i, {.name = "shear",
            .label = "strength of the rivet in shear",
            .help = "its maker or a test; a blind rivet needs it, a solid one has its area",
            .example = "300 lbf"});
    refuse_above(i, "diameter", diameter.value, 0.5_in, "above 1/2 in (13 mm), no such rivet");
    const Length d = diameter.value;
    if (hole && d.value() > 0 && (hole->value < d || hole->value > 1.0401 * d)) {
      complain_at(i, "hole", ": a hole is as wide as its rivet or up to 4 % wider");
    }
    i.finish();
    if (!i.describing()) {
      out.rivet = r;
      Thread& t = out.thread;
      t.name = show(d, f.reading().units);
      t.diameter = d;
      t.clearance = hole ? hole->value : 1.04 * d;
      t.head_across_flats = 1.75 * d;
      t.source = {"Aluminum Design Manual 2020, J.4 (rivets)", "", Seen::page};
    }
  }
  f.close(key, schema);
}

// The maps of the kinds that need one: there with their kind, and with no other.
void read_kinds(Fields& f, const std::string& hold, Fastening& out,
                const MaterialLibrary& library) {
  read_thread_insert(f, out);
  read_blind_insert(f, out, library);
  read_rivet(f, out);
  if (f.describing() || f.node() == nullptr) return;
  refuse_foreign(f, "hold", hold,
                 {{"thread_insert", {"thread_insert"}},
                  {"blind_insert", {"blind_insert"}},
                  {"rivet", {"rivet"}}});
  if (out.hold != HoldBy::thread_insert) out.insert.reset();
  if (out.hold != HoldBy::blind_insert) out.blind.reset();
  if (out.hold != HoldBy::rivet) out.rivet.reset();
  const std::pair<const char*, const char*> needs[] = {
      {"thread_insert", "its kind and length, as in {kind: coil, length: 3/8 in}"},
      {"blind_insert", "its metal, flange, bulb and hole, and what pulls it out"},
      {"rivet", "its kind and diameter, as in {kind: solid, diameter: 3/16 in}"}};
  for (const auto& [key, what] : needs) {
    if (hold == key && !f.has(key)) complain_missing(f, key, what);
  }
}

// How the shear of the group is counted.
void read_in_plane(Fields& f, const GunwalePlate& on, Fastening& out) {
  out.instantaneous_centre =
      f.choice({"in_plane", "how the bolts share a side load",
                "elastic (when left out); instantaneous_centre: strength of the whole group, for "
                "steel through bolts between a steel base and a steel wall"},
               {"elastic", "instantaneous_centre"}, false)
          .value == "instantaneous_centre";
  if (!out.instantaneous_centre) return;
  const bool steel = on.host.is_metal() && !on.host.metal.aluminium && on.base.metal &&
                     !on.base.metal->aluminium && out.material.modulus > 22000.0_ksi &&
                     out.hold == HoldBy::through_bolt;
  if (!steel) {
    complain_at(f, "in_plane",
                ": for steel through bolts between a steel base and a steel wall only; other metal "
                "may crack before its bolts have shared the load");
  }
}

// In the wall or in what is set into it at the full depth of the metal.
bool is_threaded(HoldBy hold) {
  return hold == HoldBy::tapped || hold == HoldBy::tapped_bar || hold == HoldBy::self_tapping ||
         hold == HoldBy::thread_insert;
}

// Nuts and plates behind the wall belong to some kinds only.
void refuse_behind(Fields& f, const std::string& hold, const Fastening& out) {
  if (out.washer && !hold.empty() && out.hold != HoldBy::through_bolt) {
    complain_at(f, "washer", ": lies under a nut, but there is none; hold: through_bolt");
  }
  if (!out.backing) return;
  if (in_wood(out.hold)) {
    complain_at(f, "behind", ": screws in wood leave the plate behind it unused; through_bolt");
  } else if (hold == "tapped") {
    complain_at(f, "behind",
                ": threads in the wall itself leave the plate behind it unused; hold: tapped_bar "
                "or through_bolt");
  } else if (hold == "blind_insert" || hold == "self_tapping") {
    complain_at(f, "behind",
                ": " + hold +
                    " holds in the wall alone and leaves it unused; hold: tapped_bar "
                    "or through_bolt");
  }
}

}  // namespace

Fastening read_fastening(Fields f, const MaterialLibrary& library, const GunwalePlate& on,
                         Angle turned) {
  Fastening out;
  const std::string hold = read_hold(f, on.host, out.hold);
  const bool screws = in_wood(out.hold);
  const bool rivet = out.hold == HoldBy::rivet;
  if (f.describing() || screws || rivet) {
    (void)f.text({"thread", "thread",
                  "1/4-20, '#10-24' (quoted) or M6; self_tapping: '#10-16', 1/4-14 or ST4.8"},
                 false);
  } else {
    out.thread = read_any_thread(f, library, out.hold == HoldBy::self_tapping);
  }
  if (rivet) complain_at(f, "thread", ": a rivet has no thread; rivet.diameter");
  read_screw(f, out, on.host);
  read_kinds(f, hold, out, library);
  out.material = read_fastener_material(f, library);
  if (auto v = f.optional<Length>({"head", "head or washer on the base",
                                   "diameter; the hexagon of the thread when left out"})) {
    out.head = v->value;
    const Length d = out.thread.diameter;
    if (d.value() > 0 && (out.head <= d || out.head > 10.0 * d)) {
      complain_at(f, "head", ": a head or washer is 1 to 10 times as wide as its thread");
    }
  } else {
    out.head = out.thread.head_across_flats;
  }
  out.assembly = read_assembly(f);
  if (auto v = f.optional<Length>(
          {"packing", "pad between base and host", "its thickness; the fasteners bend over it"})) {
    out.packing = v->value;
    refuse_above(f, "packing", out.packing, 2.0_in, "above 2 in (50 mm), no pad of a small mount");
  }
  out.countersunk_wall =
      f.choice({"countersunk_wall", "chamfer on the tapped hole", "takes half a thread away"},
               {"yes", "no"}, false)
          .value == "yes";
  if (out.countersunk_wall && !hold.empty() && !is_threaded(out.hold)) {
    complain_at(f, "countersunk_wall",
                ": belongs to threads in metal, as of hold: tapped; " + hold + " has none");
  }
  if (auto name = f.text({"washer", "washer under the nut", "through_bolt: its name in the tables"},
                         false)) {
    out.washer = look_up(f, "washer", [&] { return library.washer(name->value); });
  }
  const Holes holes = read_holes(f);
  out.holes = holes.points;
  out.rows_along_sides = holes.rows_along_sides;
  turn(out.holes, turned);
  out.backing = read_backing(f,
                             {"behind", "plate or bar behind the wall",
                              "backing plate of through bolts and rivets, or the bar that is "
                              "tapped for screws or thread inserts"},
                             out.hold == HoldBy::tapped_bar, library, "behind the wall");
  read_in_plane(f, on, out);
  refuse_behind(f, hold, out);
  f.finish();
  return out;
}

}  // namespace thole::reading
