// Gunwale plates on every host and with every fastening, and brackets.

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "support/random_setup.hpp"

namespace thole::test {

namespace {

struct Point {
  double x = 0;
  double y = 0;
};

double reach_x(const std::vector<Point>& points) {
  double out = 0;
  for (const Point& p : points) out = std::max(out, std::abs(p.x));
  return out;
}

double reach_y(const std::vector<Point>& points) {
  double out = 0;
  for (const Point& p : points) out = std::max(out, std::abs(p.y));
  return out;
}

std::vector<Point> turned(std::vector<Point> points, double degrees) {
  const double a = degrees * 0.017453292519943295;
  for (Point& p : points) {
    p = {std::cos(a) * p.x - std::sin(a) * p.y, std::sin(a) * p.x + std::cos(a) * p.y};
  }
  return points;
}

// A base with its holes: what both look like, and how far they reach once turned.
struct Base {
  std::string lines;  ///< of the shape
  std::string holes;
  std::vector<Point> at;  ///< turned
  double x = 0;           ///< half sizes, not turned
  double y = 0;
  bool has_room = false;  ///< in the middle, for others
};

std::string point_list(Draft& d, const std::vector<Point>& points) {
  std::string out;
  for (const Point& p : points) {
    out += (out.empty() ? "[" : ", [") + d.size(p.x).text + ", " + d.size(p.y).text + "]";
  }
  return "[" + out + "]";
}

Base base_of(Draft& d, double width) {
  Choices& c = d.c;
  Base b;
  const double x = 0.5 * c.between("base.fore_aft", 90, 55 + 2 * width, 170);
  const double y = 0.5 * c.between("base.athwart", 70, 45 + 2 * width, 120);
  const int shape = c.below("base.shape", 6);
  const double turn =
      c.one_in("base.turned", 6) ? std::round(c.between("base.turn", 20, -90, 90)) : 0.0;
  double share = 0.5;  // of the half sizes that a square of holes may use
  if (shape == 4) {
    b.x = b.y = x;
    b.lines = "shape: round, diameter: " + d.size(2 * x).text;
  } else if (shape == 5) {
    b.x = x;
    b.y = y;
    const std::vector<Point> corners{{-x, -0.5 * y}, {-0.5 * x, -y}, {0.5 * x, -y}, {x, -0.5 * y},
                                     {x, 0.5 * y},   {0.5 * x, y},   {-0.5 * x, y}, {-x, 0.5 * y}};
    b.lines = "shape: outline, outline: " + point_list(d, corners);
    share = 0.55;
  } else {
    b.x = x;
    b.y = y;
    b.lines = "fore_aft: " + d.size(2 * x).text + ", athwart: " + d.size(2 * y).text;
    share = 0.72;
  }
  if (turn != 0) b.lines += ", turned: " + d.angle(turn);
  const double hx = c.between("holes.x", share, 0.5 * share, share) * b.x;
  const double hy = c.between("holes.y", share, 0.5 * share, share) * b.y;
  const std::vector<Point> four{{-hx, -hy}, {hx, -hy}, {hx, hy}, {-hx, hy}};
  switch (c.below("holes", 8)) {
    case 4: {
      b.holes = "{fore_aft: " + d.size(2 * hx).text + "}";
      b.at = {{-hx, 0}, {hx, 0}};
      break;
    }
    case 5: {
      const int n = 3 + c.below("holes.count", 4);
      const double r = std::min(hx, hy);
      b.holes = "{circle: " + d.size(2 * r).text + ", count: " + std::to_string(n) + "}";
      b.at = {{-r, -r}, {r, r}};
      break;
    }
    case 6: {
      std::vector<Point> five = four;
      five.push_back({0, 0});
      b.holes = "{points: " + point_list(d, five) + "}";
      b.at = five;
      break;
    }
    case 7: {
      // No two alike: one drawn in, one left out.
      std::vector<Point> some = four;
      some[0].x *= c.between("holes.drawn", 0.9, 0.5, 1);
      if (c.one_in("holes.three", 3)) some.pop_back();
      b.holes = "{points: " + point_list(d, some) + "}";
      b.at = some;
      break;
    }
    default:
      b.holes = "{fore_aft: " + d.size(2 * hx).text + ", athwart: " + d.size(2 * hy).text + "}";
      b.at = four;
      b.has_room = true;
  }
  b.at = turned(b.at, turn);
  return b;
}

enum class On { metal, timber, plywood, laminate, cored };

// What a strength that no table has looks like; now and then it is not to be had.
std::string given(Draft& d, const std::string& key, double plain, double from, double to) {
  if (d.c.one_in(key + " not given", 30)) return "";
  return "    " + key + ": {is: " + d.stress(d.c.between(key, plain, from, to)) +
         ", source: coupons of the yard}\n";
}

struct Where {
  double x = 0;  ///< how far the holes reach from the middle
  double y = 0;
  double edge = 0;  ///< least from a hole to an edge
};

// Lines of `host:` and, for a flat, where the base stands on it.
struct HostText {
  std::string lines;
  On on = On::metal;
  double room = 1e9;  ///< clear width inside a closed section, mm
  std::string inboard_edge;
};

HostText metal_host(Draft& d, const Where& w) {
  Choices& c = d.c;
  HostText out;
  const int form = c.below("host.form", 3);
  const Size wall = d.length("host.thickness", 2.5, 1.2, 7);
  const char* const forms[] = {"sheet", "closed_section", "open_lip"};
  std::string alloy = metal(d, "host.alloy", true);
  if (alloy.front() != '{') alloy = d.known("host.alloy", alloy);
  out.lines = "  host:\n    form: " + std::string(forms[form]) + "\n    alloy: " + alloy +
              "\n    thickness: " + d.known("host.thickness", wall.text) + "\n";
  if (form == 0) {
    const double least = std::hypot(w.x, w.y) + w.edge;
    out.lines +=
        "    to_support: " + d.size(least + c.spread("host.to_support", 60, 5, 200)).text + "\n";
  } else {
    const double flat = 2 * (w.y + w.edge + wall.mm) + c.between("host.flat", 15, 1, 60);
    out.lines += "    flat: " + d.size(flat).text + "\n";
    out.room = flat - 2 * wall.mm - 0.5;
    if (c.one_in("host.off the middle", 4)) {
      out.inboard_edge = d.size(0.5 * flat + c.between("host.inboard", 0, -0.4, 0.4) *
                                                 (flat - 2 * w.y - 2 * w.edge))
                             .text;
    }
    if (form == 2) {
      out.lines += std::string("    root: ") +
                   (c.below("host.root", 2) == 0 ? "inboard" : "outboard") + "\n";
    }
    if (c.one_in("host.bar", 3)) {
      out.lines += "    bar: {between_ties: " + d.length("host.ties", 600, 250, 2000).text +
                   ", depth: " + d.length("host.depth", 35, 20, 80).text + "}\n";
    }
    if (form == 1 && c.one_in("host.channel", 40)) out.lines += "    holes: screw_channel\n";
  }
  if (c.one_in("host.ends", 4)) {
    out.lines +=
        "    to_end: " + d.size(w.x + w.edge + c.spread("host.to_end", 60, 2, 400)).text + "\n";
  }
  return out;
}

HostText wooden_host(Draft& d, const Where& w, bool timber) {
  Choices& c = d.c;
  HostText out;
  out.on = timber ? On::timber : On::plywood;
  if (timber) {
    const bool along = c.below("host.grain", 2) == 0;
    const double across = (along ? w.y : w.x) + w.edge + c.spread("host.to_edge", 15, 2, 60);
    const double end = (along ? w.x : w.y) + w.edge + c.spread("host.to_end", 300, 10, 1500);
    const double width = 2 * across + (c.one_in("host.wide", 3) ? 40 : 1);
    out.lines =
        "  host:\n    kind: timber\n    wood: " +
        d.known("host.wood",
                std::string(c.pick("host.wood", {"White Oak No.1", "C24", "Douglas Fir-Larch No.2",
                                                 "Spruce-Pine-Fir No.1/No.2", "not known",
                                                 "Western Cedars No.2", "C16"}))) +
        "\n    thickness: " +
        d.known("host.thickness", d.length("host.thickness", 50, 25, 120).text) +
        "\n    width: " + d.known("host.width", d.size(width).text) +
        "\n    grain: " + d.known("host.grain", along ? "fore_aft" : "athwart") +
        "\n    to_edge: " + d.size(across).text + "\n    to_end: " + d.size(end).text + "\n";
    if (c.one_in("host.incised", 8)) out.lines += "    incised: yes\n";
  } else {
    out.lines =
        "  host:\n    kind: plywood\n    plies: " +
        d.known(
            "host.plies",
            std::string(c.pick("host.plies", {"marine", "structural_1", "other", "not_known"}))) +
        "\n    thickness: " +
        d.known("host.thickness", d.length("host.thickness", 18, 6, 40).text) + "\n    to_edge: " +
        d.size(std::hypot(w.x, w.y) + w.edge + c.spread("host.to_edge", 40, 5, 200)).text + "\n";
    out.lines += given(d, "punch_shear", 3, 1, 6) + given(d, "flexural", 20, 8, 50);
    if (c.below("host.supported", 3) != 2) {
      out.lines += "    to_support: " + d.length("host.to_support", 150, 60, 400).text + "\n";
    }
  }
  if (c.one_in("host.dry", 4)) out.lines += "    service: dry\n";
  if (c.one_in("host.treated", 6)) out.lines += "    treated: yes\n";
  return out;
}

HostText glass_host(Draft& d, const Where& w, bool cored) {
  Choices& c = d.c;
  HostText out;
  out.on = cored ? On::cored : On::laminate;
  out.lines = std::string("  host:\n    kind: ") + (cored ? "cored_panel\n" : "laminate\n");
  if (cored) {
    out.lines +=
        "    skin_top: " + d.known("host.top", d.length("host.top", 3, 1.5, 6).text) +
        "\n    skin_below: " + d.known("host.below", d.length("host.below", 3, 1.5, 6).text) +
        "\n    core_thickness: " +
        d.known("host.core_thickness", d.length("host.core_thickness", 12, 5, 30).text) +
        "\n    core: " + std::string(c.pick("host.core", {"balsa", "foam"})) +
        "\n    solid_at_bolts: " +
        (c.one_in("host.hollow", 12) ? "no" : d.known("host.solid", "yes")) + "\n" +
        given(d, "core_crush", 4, 1, 12);
  } else {
    out.lines +=
        "    thickness: " + d.known("host.thickness", d.length("host.thickness", 6, 3, 20).text) +
        "\n";
  }
  out.lines += "    to_edge: " +
               d.size(std::hypot(w.x, w.y) + w.edge + c.spread("host.to_edge", 40, 5, 200)).text +
               "\n";
  out.lines += given(d, "punch_shear", 60, 20, 120) + given(d, "bearing", 150, 60, 350) +
               given(d, "flexural", 120, 50, 300);
  if (c.below("host.supported", 3) != 2) {
    out.lines += "    to_support: " + d.length("host.to_support", 150, 60, 400).text + "\n";
  }
  return out;
}

HostText host_of(Draft& d, const Where& w) {
  const int kind = d.c.below("host.kind", 8);
  HostText out = kind < 4    ? metal_host(d, w)
                 : kind == 4 ? wooden_host(d, w, true)
                 : kind == 5 ? wooden_host(d, w, false)
                             : glass_host(d, w, kind == 7);
  if (d.c.one_in("host.slopes", 3)) {
    out.lines += "    slope: " + d.angle(d.c.between("host.slope", 15, -10, 90)) + "\n";
  }
  return out;
}

// A plate or bar behind the wall over all holes.
std::string behind(Draft& d, const std::string& n, const Where& w, double room, double least) {
  const double x = 2 * (w.x + w.edge) + d.c.between(n + ".x", 10, 1, 60);
  const double y = std::min(2 * (w.y + w.edge) + d.c.between(n + ".y", 10, 1, 60), room);
  return "    behind: {material: " + metal(d, n + ".material") +
         ", thickness: " + d.size(least * d.c.between(n + ".thickness", 1.3, 1, 3)).text +
         ", fore_aft: " + d.size(x).text + ", athwart: " + d.size(y).text + "}\n";
}

// `hold:` and what belongs to it; the holes are written by others.
std::string fasteners(Draft& d, const std::string& n, const HostText& host, const Where& w,
                      double packing_room, const ThreadSize& t) {
  Choices& c = d.c;
  std::string out;
  const auto thread = [&] { return "    thread: " + std::string(t.name) + "\n"; };
  const auto source = std::string(", source: its maker}");
  const auto force = [&](const std::string& key, double plain) {
    if (c.one_in(n + "." + key + " not given", 30)) return std::string();
    return ", " + key + ": {is: " + d.force(plain * c.between(n + "." + key, 1, 0.3, 2)) + source;
  };
  int kind = 2;
  if (host.on == On::metal) kind = c.below(n + ".hold", 10);
  if (host.on == On::timber)
    kind = c.pick(n + ".hold", {"t", "l", "w"}) == "t"   ? 2
           : c.pick(n + ".hold", {"t", "l", "w"}) == "l" ? 20
                                                         : 21;
  switch (kind) {
    case 0:
      out = "    hold: tapped\n" + thread();
      if (c.one_in(n + ".chamfer", 5)) out += "    countersunk_wall: yes\n";
      break;
    case 1:
      out = "    hold: tapped_bar\n" + thread() + behind(d, n + ".bar", w, host.room, 4);
      break;
    case 4:
    case 5: {
      const bool solid = kind == 5;
      const char* const times[] = {"1.5", "1", "2"};
      const double length = t.mm * std::stod(times[c.below(n + ".insert", 3)]);
      out = "    hold: thread_insert\n" + thread() +
            "    thread_insert: {kind: " + (solid ? "solid" : "coil") +
            ", length: " + std::to_string(length) + " mm" + (solid ? force("pull_out", 6000) : "") +
            "}\n";
      if (!c.one_in(n + ".insert in the wall", 8)) {
        out += behind(d, n + ".bar", w, host.room, 1.05 * length);
      }
      break;
    }
    case 6: {
      const double hole = 1.45 * t.mm;
      out = "    hold: blind_insert\n" + thread() + "    blind_insert: {metal: " +
            std::string(c.pick(n + ".insert metal", {"aluminium", "steel", "stainless"})) +
            ", flange: " + d.size(1.5 * hole).text +
            ", bulb: " + d.size(c.between(n + ".bulb", 1.4, 1.15, 1.7) * hole).text +
            ", hole: " + d.size(hole).text + force("pull_out", 3000) + force("thread_holds", 6000);
      if (c.one_in(n + ".turns", 2)) {
        out += ", turns_at: {is: " + d.moment(c.between(n + ".turns_at", 4, 1, 15)) + source;
      }
      out += "}\n";
      break;
    }
    case 7:
      out = "    hold: self_tapping\n    thread: " +
            std::string(c.pick(n + ".spaced",
                               {"1/4-14", "'#10-16'", "ST4.8", "'#12-14'", "ST6.3", "5/16-12"})) +
            "\n";
      break;
    case 8:
    case 9: {
      const bool blind = kind == 9;
      out = "    hold: rivet\n    rivet: {kind: " + std::string(blind ? "blind" : "solid") +
            ", diameter: " + d.length(n + ".rivet", 4.8, 3.2, 6.4).text + force("tension", 1500) +
            (blind || c.one_in(n + ".shear told", 3) ? force("shear", 1500) : "") + "}\n";
      if (c.one_in(n + ".plate", 4)) out += behind(d, n + ".plate", w, host.room, 2.5);
      break;
    }
    case 20:
      out = "    hold: lag_screw\n    size: " +
            std::string(c.pick(n + ".lag", {"1/4", "5/16", "3/8"})) +
            "\n    length: " + d.length(n + ".length", 75, 50 + packing_room, 120).text + "\n";
      break;
    case 21:
      out = "    hold: wood_screw\n    size: " +
            std::string(c.pick(n + ".wood screw", {"12", "8", "10", "14", "18"})) +
            "\n    length: " + d.length(n + ".length", 50, 25 + packing_room, 80).text + "\n";
      break;
    default:
      out = "    hold: through_bolt\n" + thread();
      if (c.below(n + ".washered", 5) != 4) out += "    washer: " + std::string(t.washer) + "\n";
      if (c.one_in(n + ".plate", 3)) out += behind(d, n + ".plate", w, host.room, 2.5);
  }
  out += "    material: " +
         d.known(n + ".material", std::string(fastener_material(d, n + ".material"))) + "\n";
  if (c.one_in(n + ".head", 2)) {
    out += "    head: " + d.size(t.head * c.between(n + ".head size", 1.3, 1, 1.8)).text + "\n";
  }
  if (c.one_in(n + ".oil", 4)) {
    out += std::string("    lubricated: ") + (c.one_in(n + ".oiled", 2) ? "yes\n" : "no\n");
  }
  if (c.one_in(n + ".locked", 4)) {
    out += "    locking: " + std::string(c.pick(n + ".locking", {"nut", "thread_locker", "none"})) +
           "\n";
  }
  return out;
}

std::string bedding(Draft& d) {
  std::string out;
  if (d.c.one_in("bedded", 3)) {
    out += "    bedding: " +
           std::string(d.c.pick("bedding", {"none", "sealant", "plastic", "rubber", "wood"})) +
           "\n";
  }
  if (d.c.one_in("packed", 12)) {
    out += "    packing: " + d.length("packing", 4, 1, 15).text + "\n";
  }
  return out;
}

// Its metal and thickness; a body now and then.
std::string made_of(Draft& d, bool thickness_needed, double smaller) {
  const bool unknown = d.c.one_in("base.unknown", 6);
  std::string out =
      unknown ? ", material: not known" : ", material: " + metal(d, "base.material", true);
  if (!unknown || thickness_needed) {
    out += ", thickness: " + d.length("base.thickness", 5, 2.5, 12).text;
  }
  if (d.c.below("base.body given", 3) != 2) {
    out += ", body: " + d.size(d.c.between("base.body", 0.5, 0.2, 0.9) * smaller).text;
  }
  return out;
}

}  // namespace

std::string plate_mount(Draft& d) {
  Choices& c = d.c;
  const ThreadSize& t = thread_of(d, "fastening.thread");
  const Base base = base_of(d, t.mm);
  const Where w{reach_x(base.at), reach_y(base.at), 1.2 * t.mm};
  const HostText host = host_of(d, w);
  const bool wood = host.on == On::timber || host.on == On::plywood;
  std::string out = "mount:\n  kind: gunwale_plate\n" + host.lines + "  base: {" + base.lines +
                    made_of(d, wood, 1.4 * std::min(base.x, base.y));
  if (!host.inboard_edge.empty()) out += ", from_inboard_edge: " + host.inboard_edge;
  out += "}\n  fastening:\n" + fasteners(d, "fastening", host, w, 10, t) + bedding(d) +
         "    holes: " + base.holes + "\n";
  if (base.has_room && base.x > 25 && base.y > 25 && c.one_in("also_fastened", 8)) {
    const Where near{0.3 * base.x, 0, w.edge};
    const ThreadSize& small = thread_of(d, "also.thread");
    out += "  also_fastened:\n" + fasteners(d, "also", host, near, 10, small) +
           "    holes: {fore_aft: " + d.size(0.5 * base.x).text + "}\n";
  }
  return out;
}

std::string bracket_mount(Draft& d) {
  Choices& c = d.c;
  const ThreadSize& t = thread_of(d, "fastening.thread");
  const double x = 0.5 * c.between("base.fore_aft", 150, 90, 220);
  const double y = 0.5 * c.between("base.athwart", 300, 180, 420);
  // How much of the plate lies on the boat, from its inboard side.
  const double on = c.between("bracket.on", 0.5, 0.4, 0.85) * 2 * y;
  const int kind = c.below("bracket.hold", 4);  // bolts, U-bolts, clamps, bolts
  const bool u_bolt = kind == 1;
  const bool clamp = kind == 2;
  const double from_edge = std::max(2.2 * t.mm, c.between("bracket.rows", 0.25, 0.15, 0.45) * on);
  const double hx = c.between("bracket.apart", 0.5, 0.3, 0.75) * x;
  const double row1 = -y + from_edge;
  const double row2 = -y + on - from_edge;
  const bool one_row = u_bolt || clamp || row2 - row1 < 3 * t.mm;
  std::vector<Point> holes{{-hx, row1}, {hx, row1}};
  if (!one_row) {
    holes.push_back({hx, row2});
    holes.push_back({-hx, row2});
  }
  const double middle = one_row ? row1 : 0.5 * (row1 + row2);
  const double half = one_row ? 0 : 0.5 * (row2 - row1);
  const double foot_x = hx + 2 * t.mm + c.between("fitting.more", 10, 2, 30);
  const Where w{u_bolt ? foot_x : hx, u_bolt ? 20 : half, 1.2 * t.mm};
  HostText host = host_of(d, w);
  const bool flat = host.lines.find("    flat: ") != std::string::npos;
  std::string out =
      "mount:\n  kind: bracket\n" + host.lines + "  base: {fore_aft: " + d.size(2 * x).text +
      ", athwart: " + d.size(2 * y).text + ", material: " + metal(d, "base.material", true) +
      ", thickness: " + d.length("base.thickness", 6, 2.5, 12).text;
  if (flat) {
    // The flat is as wide as its holes need, about the middle of the fasteners.
    const std::size_t at = host.lines.find("    flat: ") + 10;
    const double width = std::stod(host.lines.substr(at)) * (d.inch ? 25.4 : 1);
    const double centre = 0.5 * width - middle;
    out += ", from_inboard_edge: " + d.size(std::max(centre, 0.0)).text;
  }
  out += "}\n";
  const bool two = c.one_in("bracket.two parts", 4);
  const bool firm = c.one_in("bracket.firm", 3);
  const auto part = [&](double from, double to) {
    return "{fore_aft: [" + d.size(-0.95 * x).text + ", " + d.size(0.95 * x).text +
           "], athwart: [" + d.size(from).text + ", " + d.size(to).text + "]" +
           (firm ? ", firm: yes}" : "}");
  };
  const double edge = -y + on;
  out += "  bears_on: [" +
         (two ? part(-0.99 * y, -y + 0.4 * on) + ", " + part(-y + 0.6 * on, edge)
              : part(-0.99 * y, edge)) +
         "]\n";
  const double width = c.between("bracket.foot", 0.6, 0.3, 0.9) * std::min(x, y);
  const double least = -y + 0.6 * width;
  const double most = y - 0.6 * width;
  out += "  gear_foot: {outboard: " +
         d.size(least + c.between("bracket.gear", 0.8, 0.3, 1) * (most - least)).text +
         ", width: " + d.size(width).text + "}\n";
  const std::string points = "    holes: {points: " + point_list(d, holes) + "}\n";
  if (u_bolt || clamp) {
    out += std::string("  fastening:\n    hold: ") + (u_bolt ? "u_bolt" : "clamp") +
           "\n    thread: " + std::string(t.name) + "\n    material: " +
           d.known("fastening.material", std::string(fastener_material(d, "fastening.material"))) +
           "\n" + points;
  } else {
    out += "  fastening:\n" + fasteners(d, "fastening", host, w, 10, t) + bedding(d) + points;
  }
  if (u_bolt) {
    const ThreadSize& own = thread_of(d, "fitting.thread");
    const Where stand{0.7 * foot_x, 0, 1.2 * own.mm};
    out += "  fitting:\n    outboard: " + d.size(row1).text +
           "\n    height: " + d.length("fitting.height", 30, 10, 80).text +
           "\n    foot: {fore_aft: " + d.size(2 * foot_x).text +
           ", athwart: " + d.size(30 + 2 * t.mm).text +
           ", material: " + metal(d, "fitting.material", true) +
           ", thickness: " + d.length("fitting.thickness", 5, 3, 10).text + "}\n    fastening:\n";
    std::string lines = fasteners(d, "fitting.fastening", host, stand, 10, own) +
                        "    holes: {fore_aft: " + d.size(1.4 * foot_x).text + "}\n";
    for (std::size_t at = 0; (at = lines.find("    ", at)) != std::string::npos;) {
      lines.insert(at, "  ");
      at = lines.find('\n', at);
      if (at == std::string::npos) break;
    }
    out += lines;
  }
  if (clamp) {
    out += std::string("  clamp: {jaw: ") +
           (c.one_in("clamp.jaw", 8) ? "two_faces" : "under_edge") +
           (c.one_in("clamp.unknown", 16)
                ? ""
                : ", holds: {is: " + d.force(c.between("clamp.holds", 2000, 500, 5000)) +
                      ", source: its maker}") +
           (c.one_in("clamp.loose", 2)
                ? ", tightened: " + d.moment(c.between("clamp.tightened", 5, 1, 15))
                : "") +
           "}\n";
  }
  if (c.one_in("bracket.angles", 3)) {
    out += "  angles:\n    - {alloy: " + metal(d, "angle.alloy") +
           ", leg: " + d.length("angle.leg", 25, 15, 40).text +
           ", thickness: " + d.length("angle.thickness", 3, 1.5, 5).text +
           ", runs: athwart, ends: [" + d.size(-0.9 * y).text + ", " + d.size(0.9 * y).text + "]" +
           (c.one_in("angle.aside", 2)
                ? ", at: " + d.size(c.between("angle.at", 0.5, -0.9, 0.9) * x).text
                : "") +
           "}\n";
  }
  if (!c.one_in("bracket.no stop", 8)) out += "  stop: yes\n";
  if (c.one_in("bracket.friction", 4)) out += "  friction: 0.2\n";
  return out;
}

}  // namespace thole::test
