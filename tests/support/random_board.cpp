// Cross-boards of every form, on every ledge, with hold-downs and legs.

#include <algorithm>
#include <string>

#include "support/random_setup.hpp"

namespace thole::test {

namespace {

std::string wood(Draft& d, const std::string& name) {
  return d.known(
      name, std::string(d.c.pick(name, {"C24", "Douglas Fir-Larch No.2", "C16", "White Oak No.1",
                                        "not known", "Hem-Fir No.1"})));
}

std::string board_piece(Draft& d, BoardSizes& s, double length) {
  Choices& c = d.c;
  const int form = c.below("board.form", 10);
  std::string out = "  board:\n";
  const std::string rest = "\n    length: " + d.size(length).text + "\n";
  if (form < 6) {
    const bool strip = form == 5;
    out += strip ? "    form: plank_with_strip\n" : "    form: plank\n";
    if (c.below("board.size", 2) == 0) {
      struct Stock {
        const char* name;
        double width;
      };
      static constexpr Stock list[] = {{"48x198", 198}, {"2x8", 184}, {"2x10", 235},
                                       {"45x190", 190}, {"2x6", 140}, {"48x148", 148}};
      const Stock& one = list[c.below("board.stock", 6)];
      const bool on_edge = !strip && c.one_in("board.on edge", 12);
      s.width = on_edge ? 38 : one.width;
      out += std::string("    size: ") + one.name + (on_edge ? "\n    laid: on_edge" : "");
    } else {
      const Size width = d.length("board.width", 190, 120, 300);
      s.width = width.mm;
      out += "    width: " + d.known("board.width", width.text) + "\n    thickness: " +
             d.known("board.thickness", d.length("board.thickness", 45, 30, 75).text);
    }
    out += rest + "    wood: " + wood(d, "board.wood") + "\n";
    if (c.one_in("board.dry", 5)) out += "    service: dry\n";
    if (c.one_in("board.treated", 6)) out += "    treated: yes\n";
    if (strip) {
      out += "    strip: {thickness: " + d.length("board.strip", 45, 35, 60).text +
             ", depth: " + d.length("board.deep", 90, 50, 130).text + "}\n";
    }
    return out;
  }
  const char* const forms[] = {"rectangular_tube", "round_tube", "channel_down", "channel_up"};
  out += std::string("    form: ") + forms[form - 6] +
         "\n    wall: " + d.known("board.wall", d.length("board.wall", 5, 3, 8).text) + "\n";
  if (form == 7) {
    const Size wide = d.length("board.diameter", 60, 40, 80);
    s.width = wide.mm;
    out += "    diameter: " + wide.text;
  } else {
    const Size wide = d.length("board.wide", 90, 50, 120);
    s.width = wide.mm;
    out +=
        "    width: " + wide.text + "\n    thickness: " + d.length("board.high", 50, 25, 60).text;
  }
  return out + rest + "    alloy: " + metal(d, "board.alloy") + "\n";
}

std::string ledge(Draft& d, const std::string& n, double along, double fore_aft) {
  Choices& c = d.c;
  const int kind = c.below(n + ".kind", 3);
  const Size deep = d.size(along);
  std::string out = "      kind: " +
                    std::string(kind == 0   ? "angle"
                                : kind == 1 ? "saddle"
                                            : "gunwale_top") +
                    "\n      along: " + deep.text + "\n      fore_aft: " + d.size(fore_aft).text +
                    "\n";
  if (kind != 2 && c.one_in(n + ".gap", 6)) {
    out += "      gap: " + d.length(n + ".gap", 1, 0.1, 4).text + "\n";
  }
  if (kind != 0) return out;
  const Size leg = d.length(n + ".leg", 6, 4, 10);
  out +=
      "      leg_thickness: " + d.known(n + ".leg", leg.text) +
      "\n      alloy: " + metal(d, n + ".alloy") +
      "\n      root: " + d.known(n + ".root", c.one_in(n + ".root", 4) ? "inboard" : "outboard") +
      "\n      flare: " +
      d.known(n + ".flare",
              c.one_in(n + ".flares", 5) ? d.angle(c.between(n + ".flare", 5, 1, 20)) : "0 deg") +
      "\n      packed: " + (c.one_in(n + ".unpacked", 5) ? "no" : "yes") + "\n";
  if (c.below(n + ".bolted", 3) == 2) return out;
  const ThreadSize& t = thread_of(d, n + ".bolts");
  const int count = 2 + c.below(n + ".count", 3);
  const double spacing = (fore_aft - 4 * t.mm) / (count - 1) * 0.9;
  const double foot = 1.0 * along + 25;
  out += "      fastening:\n        hull: ";
  const int hull = c.below(n + ".hull", 3);
  out += hull == 0   ? "metal_wall\n        hull_alloy: " + metal(d, n + ".hull alloy")
         : hull == 1 ? "timber"
                     : "laminate";
  out += "\n        hull_thickness: " +
         d.known(n + ".hull", d.length(n + ".hull", hull == 0 ? 3 : 20, 2, 30).text) +
         "\n        thread: " + std::string(t.name) +
         "\n        material: " + std::string(fastener_material(d, n + ".bolt material")) +
         "\n        count: " + std::to_string(count) +
         "\n        spacing: " + d.size(spacing).text + "\n        below_seat: " +
         d.size(leg.mm + 1.5 * t.mm + c.between(n + ".below", 6, 0, 10)).text +
         "\n        foot_below: " + d.size(foot + leg.mm).text + "\n";
  if (c.below(n + ".washer", 2) == 0) out += "        washer: " + std::string(t.washer) + "\n";
  if (c.one_in(n + ".behind", 3)) {
    out += "        behind: {material: " + metal(d, n + ".behind") +
           ", thickness: " + d.length(n + ".behind thick", 5, 3, 10).text +
           ", fore_aft: " + d.size(fore_aft + 10).text + ", athwart: 50 mm}\n";
  }
  return out;
}

// Two on each side or one, each pair alike.
std::string hold_downs(Draft& d, double along, double half, double half_seat) {
  Choices& c = d.c;
  const int pairs = 3 - c.below("hold_downs", 4);
  if (pairs == 0) return "";
  std::string out = "  hold_downs:\n";
  for (int i = 0; i < std::min(pairs, 2); ++i) {
    const std::string n = "hold_down" + std::to_string(i + 1);
    const int kind = c.below(n + ".kind", 8);
    const bool u_bolt = kind == 6;
    const bool pin = kind == 7;
    const bool eye = kind < 3;
    const ThreadSize& t = thread_of(d, n + ".thread");
    const double room = std::min(half, half_seat) - 1.5 * t.mm;
    const double forward = (i == 0 ? 1 : -1) * c.between(n + ".forward", 0.75, 0.2, 0.9) * room;
    out += "    - side: both\n      kind: " +
           std::string(u_bolt ? "u_bolt"
                       : pin  ? "pin"
                       : eye  ? "eye_bolt"
                              : "bolt") +
           "\n      outboard: " + d.size(c.between(n + ".outboard", 0.5, 0.3, 0.7) * along).text +
           "\n      forward: " + d.size(u_bolt ? (i == 0 ? 1 : -1) * 5 : forward).text +
           "\n      thread: ";
    if (eye) {
      struct Eye {
        const char* thread;
        const char* kind;
      };
      static constexpr Eye eyes[] = {{"M8", "forged collar"},  {"1/4-20", "forged shoulder"},
                                     {"M10", "forged collar"}, {"5/16-18", "forged shoulder"},
                                     {"M8", "machinery"},      {"5/16-18", "bent wire"}};
      const Eye& one = eyes[c.below(n + ".eye", 6)];
      out += std::string(one.thread) + "\n      eye: " + d.known(n + ".eye", one.kind) +
             "\n      washer_diameter: " + d.length(n + ".washer", 28, 20, 50).text + "\n";
    } else {
      out += std::string(t.name) + "\n";
      if (!pin) {
        out +=
            "      washer_diameter: " + d.size(t.mm * c.between(n + ".washer", 3.2, 2.2, 5)).text +
            "\n";
      }
    }
    out += "      material: " + std::string(fastener_material(d, n + ".material")) + "\n";
    if (!pin && c.one_in(n + ".slack", 6)) {
      out += "      slack: " + d.length(n + ".slack", 0.5, 0.1, 3).text + "\n";
    }
    if (c.one_in(n + ".standoff", 6)) {
      out += "      standoff: " + d.length(n + ".standoff", 5, 1, 30).text + "\n";
    }
  }
  return out;
}

std::string legs(Draft& d, const BoardSizes& s) {
  Choices& c = d.c;
  const int n = std::max(c.below("legs", 6) - 2, 0);
  if (n == 0) return "";
  std::string out = "  legs:\n";
  for (int i = 0; i < n; ++i) {
    const std::string name = "leg" + std::to_string(i + 1);
    const int stands = c.below(name + ".on", 16);
    const bool leans = c.one_in(name + ".leans", 16);
    const bool tube = c.one_in(name + ".metal", 4);
    const Size x = d.length(name + ".fore_aft", 45, 30, 90);
    const Size y = d.length(name + ".athwart", 70, 30, 100);
    out +=
        "    - side: " +
        std::string(c.below(name + ".side", 3) == 1   ? "port"
                    : c.below(name + ".side", 3) == 2 ? "starboard"
                                                      : "both") +
        "\n      outboard: " + d.size(-60 - 130 * i - c.between(name + ".inboard", 0, 0, 60)).text +
        "\n      forward: " +
        d.size(c.between(name + ".forward", -0.35, -0.45, 0.45) * s.width).text +
        "\n      length: " + d.length(name + ".length", 450, 200, 800).text + "\n";
    if (leans) out += "      foot_forward: " + d.length(name + ".foot", 30, -80, 80).text + "\n";
    out += "      fore_aft: " + x.text + "\n      athwart: " + y.text + "\n";
    if (tube) {
      out += "      alloy: " + metal(d, name + ".alloy") +
             "\n      wall: " + d.length(name + ".wall", 4, 3, 6).text + "\n";
    } else {
      out += "      wood: " + wood(d, name + ".wood") + "\n";
    }
    out += "      stands_on: ";
    if (stands == 6) {
      out += "hull\n      foot_slope: " + d.angle(c.between(name + ".slope", 10, 0, 30)) + "\n";
    } else {
      out += stands == 5 ? "thwart\n" : stands == 7 ? "ledge\n" : "floor\n";
    }
    if (c.below(name + ".held", 4) != 3) out += "      foot_held: yes\n";
    if (c.one_in(name + ".rubs", 4)) {
      out += "      friction: " + d.known(name + ".friction", "0.3") + "\n";
    }
    if (c.one_in(name + ".gap", 6)) {
      out += "      gap: " + d.length(name + ".gap", 1, 0.1, 4).text + "\n";
    }
  }
  return out;
}

}  // namespace

std::string board_mount(Draft& d, BoardSizes& s) {
  Choices& c = d.c;
  const Size clear = d.length("clear_width", 1300, 900, 1900);
  s.clear = clear.mm;
  s.overhang = c.between("overhang", 200, 110, 320);
  const double other = s.overhang * c.between("other overhang", 1, 0.8, 1.2);
  const std::string board = board_piece(d, s, clear.mm + s.overhang + other + 2);
  const double along = std::min(c.between("ledge.along", 70, 40, 100), 0.7 * s.overhang);
  const double seat = c.between("ledge.fore_aft", 1.2, 0.8, 1.6) * std::max(s.width, 60.0);
  s.half_seat = 0.5 * seat;
  std::string out = "mount:\n  kind: cross_board\n" + board +
                    "  clear_width: " + d.known("clear_width", clear.text) + "\n";
  if (c.below("overhang given", 3) != 2) {
    out += "  port_overhang: " + d.size(s.overhang).text + "\n";
  }
  if (c.one_in("higher", 5)) {
    out += "  starboard_higher: " + d.length("starboard_higher", 10, -40, 40).text + "\n";
  }
  if (c.one_in("bow_up", 5)) {
    out += "  bow_up: " + d.angle(c.between("bow_up angle", 2, -8, 8)) + "\n";
  }
  out += "  ledges:\n";
  if (c.one_in("unlike ledges", 4)) {
    out += "    port:\n" + ledge(d, "port", along, seat) + "    starboard:\n" +
           ledge(d, "starboard", along, seat);
  } else {
    out += "    both:\n" + ledge(d, "both", along, seat);
  }
  return out + hold_downs(d, along, 0.5 * s.width, s.half_seat) + legs(d, s);
}

}  // namespace thole::test
