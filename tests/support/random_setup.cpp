#include "support/random_setup.hpp"

#include <algorithm>
#include <cmath>
#include <exception>

#include <fmt/format.h>

#include <thole/loads.hpp>
#include <thole/reading.hpp>

namespace thole::test {

// ---- Choices
// ------------------------------------------------------------------------------------------

namespace {

// FNV-1a over the name, then the mixer of splitmix64: both are public domain and the same anywhere.
std::uint64_t mixed(std::uint64_t seed, const std::string& name) {
  std::uint64_t h = 14695981039346656037ULL ^ (seed * 0x9e3779b97f4a7c15ULL);
  for (const char ch : name) h = (h ^ static_cast<unsigned char>(ch)) * 1099511628211ULL;
  h += 0x9e3779b97f4a7c15ULL;
  h = (h ^ (h >> 30U)) * 0xbf58476d1ce4e5b9ULL;
  h = (h ^ (h >> 27U)) * 0x94d049bb133111ebULL;
  return h ^ (h >> 31U);
}

}  // namespace

bool Choices::decided(const std::string& name, double& share) {
  if (std::find(made_.begin(), made_.end(), name) == made_.end()) made_.push_back(name);
  if (genome_.plain.count(name) != 0) return false;
  share = double(mixed(genome_.seed, name) >> 11U) / 9007199254740992.0;  // 53 bits
  return true;
}

int Choices::below(const std::string& name, int n) {
  double share = 0;
  return decided(name, share) ? int(share * n) : 0;
}

double Choices::between(const std::string& name, double plain, double from, double to) {
  double share = 0;
  return decided(name, share) ? from + (to - from) * share : plain;
}

double Choices::spread(const std::string& name, double plain, double from, double to) {
  double share = 0;
  return decided(name, share) ? from * std::pow(to / from, share) : plain;
}

std::string_view Choices::pick(const std::string& name,
                               const std::vector<std::string_view>& words) {
  return words[std::size_t(below(name, int(words.size())))];
}

// ---- Values
// -------------------------------------------------------------------------------------------

namespace {

// Three figures are enough to tell setups apart, and plain to read.
std::string figures(double v) {
  std::string out = fmt::format("{:.3g}", v);
  if (out.find('e') != std::string::npos) out = fmt::format("{:.0f}", v);
  return out == "-0" ? "0" : out;
}

}  // namespace

Size Draft::size(double mm) const {
  const std::string number = figures(inch ? mm / 25.4 : mm);
  return {std::stod(number) * (inch ? 25.4 : 1.0), number + (inch ? " in" : " mm")};
}

Size Draft::length(const std::string& name, double plain, double from, double to) {
  return size(c.between(name, plain, from, to));
}

std::string Draft::force(double newtons) const {
  return inch ? figures(newtons / 4.4482216152605) + " lbf" : figures(newtons) + " N";
}

std::string Draft::mass(double kg) const {
  return inch ? figures(kg / 0.45359237) + " lb" : figures(kg) + " kg";
}

std::string Draft::moment(double newton_metres) const {
  return inch ? figures(newton_metres / 0.1129848290276167) + " in-lbf"
              : figures(newton_metres) + " N m";
}

std::string Draft::stress(double mpa) const {
  return inch ? figures(mpa / 6.894757293168361) + " ksi" : figures(mpa) + " MPa";
}

std::string Draft::speed(double metres_per_second) const {
  return inch ? figures(metres_per_second / 0.44704) + " mph"
              : figures(metres_per_second * 3600 / 1852) + " kn";
}

std::string Draft::angle(double degrees) const { return figures(std::round(degrees)) + " deg"; }

std::string Draft::known(const std::string& name, const std::string& text) {
  switch (c.below(name + " known", 8)) {
    case 5:
      return text;
    case 6:
      return "{is: " + text + ", known: tagged}";
    case 7:
      return "{is: " + text + ", known: assumed}";
    default:
      return "{is: " + text + ", known: measured}";
  }
}

std::string scalar(std::string_view text) {
  const bool bare = !text.empty() && text.find_first_of("#:,{}[]'\"&*!|>%@`\\\n") == text.npos &&
                    text.front() != '-' && text.front() != ' ' && text.back() != ' ';
  if (bare) return std::string(text);
  std::string out = "'";
  for (const char ch : text) out += ch == '\'' ? "''" : std::string(1, ch);
  return out + "'";
}

const ThreadSize& thread_of(Draft& d, const std::string& name) {
  static const std::vector<ThreadSize> inch{
      {"1/4-20", 6.35, "1/4 fender 1", 12},       {"'#10-24'", 4.83, "'#10 fender 3/4'", 10},
      {"5/16-18", 7.94, "5/16 fender 1 1/4", 15}, {"1/4-28", 6.35, "1/4 plain", 12},
      {"'#8-32'", 4.17, "'#8 fender 3/4'", 8},    {"3/8-16", 9.53, "3/8 fender 1 1/2", 18}};
  static const std::vector<ThreadSize> metric{
      {"M6", 6, "M6 penny 18", 12}, {"M5", 5, "M5 plain", 10},  {"M8", 8, "M8 penny 24", 16},
      {"M8", 8, "M8 plain", 15},    {"M4", 4, "'#8 plain'", 8}, {"M10", 10, "M10 penny 30", 19}};
  // Either kind is sold everywhere: the units of the file do not decide.
  const bool other = d.c.one_in(name + " of the other kind", 8);
  const std::vector<ThreadSize>& list = d.inch != other ? inch : metric;
  return list[std::size_t(d.c.below(name, int(list.size())))];
}

std::string_view fastener_material(Draft& d, const std::string& name) {
  return d.c.pick(name, {"A4-70", "A2-50", "'stainless, unmarked'", "F593 group 2 CW1",
                         "F593 group 1 AF", "SAE J429 grade 2", "ISO 898-1 8.8", "A4-80",
                         "silicon bronze C651", "2024-T4 aluminium bolt"});
}

std::string metal(Draft& d, const std::string& name, bool steel_too) {
  const bool steel = steel_too && d.c.one_in(name + " of steel", 8);
  const int n = steel ? 9 + d.c.below(name + " steel", 3) : d.c.below(name, 9);
  static const std::vector<std::string> names{
      "5052-H32 sheet",  "6061-T6 extrusion", "6063-T5 extrusion",
      "5086-H116 sheet", "3003-H14 sheet",    "EN 6063-T6 extrusion",
      "6061-T6 sheet",   "5083-H321 sheet",   "",
      "304 stainless",   "A36 plate",         "316L stainless"};
  if (n != 8) return names[std::size_t(n)];
  const double yield = d.c.between(name + " yield", 120, 80, 300);
  const double more = d.c.between(name + " ultimate", 1.3, 1.05, 1.8);
  return "{name: bar of the yard, ultimate: " + d.stress(yield * more) +
         ", yield: " + d.stress(yield) + ", source: its certificate}";
}

// ---- Boat, use, condition
// -----------------------------------------------------------------------------

namespace {

std::string boat_block(Draft& d) {
  Choices& c = d.c;
  if (c.below("boat", 2) == 0) return "";
  const double length = c.between("boat.length", 4500, 3000, 7000);
  const double beam = c.between("boat.beam", 0.37, 0.28, 0.45) * length;
  std::string out = "boat:\n  length: " + d.size(length).text +
                    "\n  beam: " + d.known("boat.beam", d.size(beam).text) + "\n  freeboard: " +
                    d.known("boat.freeboard", d.length("boat.freeboard", 450, 150, 900).text) +
                    "\n  loaded_mass: " + d.mass(c.spread("boat.loaded_mass", 500, 150, 2500)) +
                    "\n";
  if (c.one_in("boat.lean_test", 3)) {
    out += "  lean_test: {moved: " + d.mass(c.between("boat.moved", 80, 40, 120)) +
           ", across: " + d.size(0.5 * beam).text +
           ", heel: " + d.angle(c.between("boat.heel", 5, 1, 15)) + "}\n";
  } else if (c.one_in("boat.centre_height", 3)) {
    out += "  centre_height: " + d.length("boat.centre", 700, 300, 1200).text + "\n";
  }
  if (c.one_in("boat.top_speed", 2)) {
    out += "  top_speed: " + d.speed(c.between("boat.fastest", 8, 2, 20)) + "\n";
  }
  if (c.one_in("boat.waterline", 4)) {
    out += "  waterline_length: " + d.size(0.85 * length).text +
           "\n  waterline_beam: " + d.size(0.8 * beam).text +
           "\n  chine_beam: " + d.size(0.7 * beam).text +
           "\n  deadrise: " + d.angle(c.between("boat.deadrise", 10, 0, 30)) + "\n";
  }
  if (c.one_in("boat.waves", 2)) {
    out += "  wave_height: " + d.length("boat.wave_height", 300, 50, 1200).text + "\n";
  }
  if (c.one_in("boat.sea", 4)) {
    out += "  wind: " + d.speed(c.between("boat.wind", 8, 2, 20)) +
           "\n  fetch: " + fmt::format("{:.3g}", c.spread("boat.fetch", 5, 0.2, 200)) +
           (d.inch ? " mi\n" : " km\n");
  }
  if (c.one_in("boat.aft", 3)) {
    out += "  mount_from_stern: " +
           d.size(c.between("boat.from_stern", 0.1, 0.02, 0.9) * length).text + "\n";
  }
  return out;
}

std::string use_block(Draft& d, bool on_board) {
  Choices& c = d.c;
  std::string out;
  if (on_board && c.below("use.seat", 3) != 1) out += "  not_a_seat: yes\n";
  if (c.one_in("use.peak", 3)) {
    out += "  running_peak: " +
           d.known("use.peak", fmt::format("{:.2g}", c.between("use.running_peak", 3, 0.5, 8))) +
           "\n";
  }
  if (c.one_in("use.off", 4)) out += "  gear_off_on_road: yes\n";
  if (c.one_in("use.hours", 4)) {
    out +=
        "  hours_per_season: " + fmt::format("{:.0f}", c.spread("use.season", 100, 5, 1000)) + "\n";
  }
  if (c.one_in("use.road", 6)) {
    out += "  road_hours_per_season: " +
           fmt::format("{:.0f}", c.between("use.road_hours", 20, 0, 200)) + "\n";
  }
  if (c.one_in("use.temperature", 8))
    out += d.inch ? "  water_temperature: 60 F\n" : "  water_temperature: 12 C\n";
  return out.empty() ? "" : "use:\n" + out;
}

// What somebody saw: mostly that all is well, now and then not answered or a reason to refuse.
std::string condition_block(Choices& c) {
  std::string out = "condition:\n";
  for (const char* key :
       {"cracks", "loose_rivets", "bent_or_corroded", "soft_wood_or_core", "weld_near_base"}) {
    const int n = c.below(std::string("condition.") + key, 200);
    if (n >= 190 && n < 195) continue;
    const char* answer = n >= 198 ? "yes" : n >= 195 ? "not known" : "no";
    out += std::string("  ") + key + ": " + answer + "\n";
  }
  out += "  within_6_in: " +
         std::string(c.pick("condition.within",
                            {"rib", "knee", "thwart", "gusset", "nothing", "not known"})) +
         "\n";
  return out;
}

// Groups as the file names them; low ones are marked by the report.
std::string factors_block(Choices& c) {
  if (!c.one_in("factors", 6)) return "";
  const std::string group(
      c.pick("factors.group", {"metal_yield", "fastener", "screw", "wood_bending",
                               "wood_connection", "laminate", "fatigue", "friction"}));
  return "factors:\n  " + group + ": " +
         fmt::format("{:.2f}", c.between("factors.value", 4, 1, 6)) + "\n";
}

// Directions of a pull: one, or a range.
std::string directions(Draft& d, const std::string& name) {
  const double azimuth = std::round(d.c.between(name + ".azimuth", 0, -180, 180));
  const double dip = std::round(d.c.between(name + ".dip", 20, -90, 90));
  const bool range = d.c.one_in(name + ".range", 3);
  const double wide = range ? std::round(d.c.between(name + ".wide", 60, 5, 360)) : 0;
  const double high = range ? std::round(d.c.between(name + ".high", 20, 0, 90)) : 0;
  if (!range) return "azimuth: " + d.angle(azimuth) + ", dip: " + d.angle(dip);
  return "azimuth: [" + d.angle(azimuth) + ", " + d.angle(std::min(azimuth + wide, 360.0)) +
         "], dip: [" + d.angle(dip) + ", " + d.angle(std::min(dip + high, 90.0)) + "]";
}

// What its owner does to the list: the ids are those that the list has.
std::string case_block(Draft& d, const std::string& text) {
  Choices& c = d.c;
  const int kind = c.below("cases", 8);
  if (kind < 5) return "";
  if (kind == 5) {
    return "cases:\n  - {add: towing a float, why: a test, pull: " +
           d.force(c.spread("cases.pull", 60, 10, 400)) + ", " + directions(d, "cases") +
           ", category: " +
           std::string(c.pick("cases.category", {"everyday", "occasional", "accident"})) +
           (c.one_in("cases.shown", 4) ? ", decides: no" : "") + "}\n";
  }
  std::vector<LoadCase> list;
  try {
    list = load_cases(read_setup(text, "setup.yaml", built_in_materials()));
  } catch (const std::exception&) {
    return "";  // the reader will say why
  }
  if (list.empty()) return "";
  const LoadCase& one = list[std::size_t(c.below("cases.which", int(list.size())))];
  if (kind == 6) return "cases:\n  - {leave_out: " + one.id + ", why: it never happens here}\n";
  if (one.path == LoadPath::warning) return "";
  std::string what = ", category: " +
                     std::string(c.pick("cases.category", {"everyday", "occasional", "accident"}));
  if (one.path != LoadPath::ride) {
    what += ", pull: " + d.force(one.pull.value() * c.between("cases.times", 1.2, 0.5, 2) + 1);
  } else if (one.kind.substr(0, 7) == "running") {
    what += ", peak: " + fmt::format("{:.2g}", c.between("cases.peak", 3, 0.5, 8));
  }
  return "cases:\n  - {change: " + one.id + ", why: measured" + what + "}\n";
}

}  // namespace

// ---- Gear
// ---------------------------------------------------------------------------------------------

namespace {

std::string rating(Draft& d, const std::string& name) {
  const bool pull = d.c.one_in(name + ".rating.pull", 2);
  return std::string("{") +
         (pull ? "pull: " + d.force(d.c.spread(name + ".rating", 400, 60, 3000))
               : "moment: " + d.moment(d.c.spread(name + ".rating", 100, 10, 1000))) +
         ", source: its maker}";
}

std::string plain_load(Draft& d, const std::string& n, bool on_board) {
  Choices& c = d.c;
  const double reach = on_board ? 60 : 40;
  std::string out = "    at: {forward: " + d.length(n + ".forward", 0, -reach, reach).text +
                    ", outboard: " + d.length(n + ".outboard", 0, -reach, reach).text +
                    ", up: " + d.length(n + ".up", 100, -20, 350).text + "}\n";
  out += "    pull: " + d.known(n + ".pull", d.force(c.spread(n + ".pull", 60, 8, 900))) + "\n";
  std::string ways = directions(d, n);
  const std::size_t comma = ways.find(", dip");
  out += "    " + ways.substr(0, comma) + "\n    " + ways.substr(comma + 2) + "\n";
  if (c.below(n + ".category given", 3) != 0) {
    out += "    category: " +
           std::string(c.pick(n + ".category", {"everyday", "occasional", "accident"})) + "\n";
  }
  if (c.one_in(n + ".weighs", 3)) {
    out += "    mass: " + d.mass(c.between(n + ".mass", 2, 0.3, 10)) + "\n";
  }
  return out;
}

std::string rod_holder(Draft& d, const std::string& n) {
  Choices& c = d.c;
  std::string out = "    height: " + d.length(n + ".height", 100, 20, 350).text + "\n";
  if (c.one_in(n + ".aside", 3)) {
    out += "    forward: " + d.length(n + ".forward", 10, -80, 80).text +
           "\n    outboard: " + d.length(n + ".outboard", 10, -80, 80).text + "\n";
  }
  out += "    lean: " + d.angle(c.between(n + ".lean", 45, 0, 85)) + "\n    toward: ";
  const int toward = c.below(n + ".toward", 6);
  const char* const words[] = {"astern", "outboard", "ahead", "inboard"};
  out += toward < 4 ? words[toward] : d.angle(c.between(n + ".toward angle", 45, -180, 180));
  out += "\n    rod_length: " + d.length(n + ".rod_length", 2100, 1200, 3600).text + "\n";
  if (c.one_in(n + ".tube", 2)) {
    out += "    tube_depth: " + d.length(n + ".tube_depth", 200, 50, 400).text + "\n";
  }
  if (c.one_in(n + ".stiff", 2)) {
    out += "    butt_stiffness: {is: " + fmt::format("{:.3g}", c.spread(n + ".butt", 25, 4, 150)) +
           " N m^2, known: measured}\n";
  }
  out += "    line_test: " + d.force(c.spread(n + ".line_test", 90, 25, 400)) +
         "\n    drag: " + d.known(n + ".drag", d.force(c.spread(n + ".drag", 25, 5, 120))) + "\n";
  const int growth = c.below(n + ".growth", 3);
  if (growth != 0) {
    out += "    spool_growth: " +
           d.known(n + ".spool", fmt::format("{:.2f}", c.between(n + ".spool", 1.3, 1, 2))) + "\n";
  }
  if (c.one_in(n + ".planer", 6)) {
    out += "    planer: {diameter: " + d.length(n + ".disc", 80, 30, 150).text +
           ", speed: " + d.speed(c.between(n + ".planer speed", 1, 0.5, 2)) + "}\n";
  } else if (c.below(n + ".runs", 3) != 2) {
    out += "    running_pull: " +
           d.known(n + ".running", d.force(c.spread(n + ".running", 15, 3, 60))) + "\n";
  }
  if (c.one_in(n + ".link", 5)) {
    out += "    weak_link: " + d.force(c.spread(n + ".weak_link", 90, 70, 300)) + "\n";
  }
  if (c.one_in(n + ".rated", 4)) out += "    holder_rating: " + rating(d, n) + "\n";
  if (c.below(n + ".weighs", 3) != 2) {
    out += "    mass: " + d.known(n + ".mass", d.mass(c.between(n + ".mass", 1.8, 0.4, 4))) + "\n";
  }
  return out;
}

std::string angles(Draft& d, const std::string& n, double plain, double from, double to, int most) {
  const int count = 1 + d.c.below(n + " count", most);
  std::string out;
  for (int i = 0; i < count; ++i) {
    const std::string one = n + " " + std::to_string(i + 1);
    out += (i == 0 ? "" : ", ") + d.angle(d.c.between(one, plain + 30 * i, from, to));
  }
  return count == 1 ? out : "[" + out + "]";
}

std::string downrigger(Draft& d, const std::string& n) {
  Choices& c = d.c;
  const double ball = c.between(n + ".ball", 4, 1, 7);
  const double weight = ball * 9.80665;
  std::string out = "    mass: " + d.mass(c.between(n + ".mass", 5, 1.5, 12)) +
                    "\n    mass_height: " + d.length(n + ".mass_height", 120, 0, 250).text + "\n";
  const Size boom = d.length(n + ".boom_length", 600, 250, 1300);
  if (c.one_in(n + ".reaches", 2)) {
    out +=
        "    mass_reach: " + d.size(c.between(n + ".mass_reach", 0.3, -0.1, 0.6) * boom.mm).text +
        "\n";
  }
  out += "    boom_length: " + boom.text +
         "\n    tip_height: " + d.length(n + ".tip_height", 200, -100, 500).text +
         "\n    boom_angles: " + angles(d, n + ".boom", 0, -45, 135, 2) + "\n";
  if (c.one_in(n + ".raised", 4)) {
    out += "    boom_raised: " + angles(d, n + ".up", 0, -10, 80, 2) + "\n";
  }
  if (c.below(n + ".stows", 4) != 3) {
    out += "    stowed_angles: " + angles(d, n + ".stowed", 0, -180, 180, 2) + "\n";
  }
  out += "    ball: " + d.mass(ball) + "\n";
  if (c.below(n + ".metal told", 3) != 2) {
    out +=
        "    ball_metal: " +
        d.known(
            n + ".ball_metal",
            std::string(c.pick(n + ".ball_metal", {"lead", "hard lead", "steel", "cast iron"}))) +
        "\n";
  }
  if (c.one_in(n + ".drags", 4)) {
    out += "    ball_drag: " + fmt::format("{:.2f}", c.between(n + ".ball_drag", 0.5, 0.2, 1.5)) +
           "\n";
  }
  if (c.one_in(n + ".fin", 4)) out += "    finned: yes\n";
  out +=
      "    wire: " + std::string(c.pick(n + ".wire", {"strand_7x7", "strand_1x7", "braid"})) +
      "\n    wire_diameter: " + fmt::format("{:.2f} mm", c.between(n + ".thick", 0.8, 0.4, 1.2)) +
      "\n";
  if (c.below(n + ".wire breaks", 3) != 2) {
    out += "    wire_break: " +
           d.force(std::max(3.1 * weight, c.spread(n + ".wire_break", 660, 250, 1300))) + "\n";
  }
  out += "    depth: " + fmt::format("{:.3g}", c.spread(n + ".depth", 20, 3, 60)) + " m\n";
  const double slow = c.between(n + ".slow", 0.8, 0.3, 1.5);
  const double fast = slow * c.between(n + ".fast", 1.4, 1.05, 2);
  out += "    speed: " +
         (c.one_in(n + ".one speed", 4) ? d.speed(slow)
                                        : "[" + d.speed(slow) + ", " + d.speed(fast) + "]") +
         "\n";
  if (c.one_in(n + ".current", 5)) {
    out += "    speed_at_ball: [" + d.speed(0.3 * slow) + ", " + d.speed(1.2 * fast) + "]\n";
  }
  if (c.below(n + ".slips", 4) != 3) {
    const double slip = weight * c.spread(n + ".brake_slip", 3, 1.3, 10);
    out += "    brake_slip: " + d.known(n + ".slip", d.force(slip)) + "\n";
  }
  if (c.one_in(n + ".link", 5)) {
    out +=
        "    weak_link: " + d.force(3.1 * weight * c.between(n + ".weak_link", 1.2, 1, 3)) + "\n";
  }
  if (c.below(n + ".winch told", 3) != 2) {
    const bool hand = c.below(n + ".winch", 2) == 0;
    out += hand ? "    winch: hand\n" : "    winch: powered\n";
    if (!hand && c.one_in(n + ".stalls", 2)) {
      out +=
          "    winch_stall: " + d.force(weight * c.between(n + ".winch_stall", 2, 1.1, 5)) + "\n";
    }
  }
  if (c.one_in(n + ".rated", 4)) out += "    body_rating: " + rating(d, n) + "\n";
  return out;
}

// The foot of a gear on a board: it must lie on it.
std::string gear_foot(Draft& d, const std::string& n, double board_width) {
  const ThreadSize& t = thread_of(d, n + ".foot.thread");
  const double x = std::min(d.c.between(n + ".foot.x", 130, 70, 200), 0.9 * board_width);
  const double y = d.c.between(n + ".foot.y", 120, 70, 200);
  const Size hx = d.size(d.c.between(n + ".foot.hx", 0.7, 0.5, 0.8) * x);
  const Size hy = d.size(d.c.between(n + ".foot.hy", 0.7, 0.5, 0.8) * y);
  std::string out = "    foot:\n      fore_aft: " + d.size(x).text +
                    "\n      athwart: " + d.size(y).text + "\n      holes: {fore_aft: " + hx.text +
                    ", athwart: " + hy.text + "}\n      thread: " + std::string(t.name) +
                    "\n      material: " + std::string(fastener_material(d, n + ".foot.material")) +
                    "\n";
  if (d.c.below(n + ".foot.under", 2) == 0) {
    return out + "      washer_diameter: " +
           d.size(t.mm * d.c.between(n + ".foot.washer", 3, 2, 4.5)).text + "\n";
  }
  return out + "      plate: {material: " + metal(d, n + ".foot.plate") +
         ", thickness: " + d.length(n + ".foot.plate thick", 6, 2, 12).text +
         ", fore_aft: " + d.size(x).text + ", athwart: " + d.size(y).text + "}\n";
}

}  // namespace

std::string gear_list(Draft& d, const BoardSizes* board) {
  Choices& c = d.c;
  // Mostly one: two to four are what people have on a long board.
  const int n = c.below("gears", 12);
  const int count = n < 9 ? 1 : n < 11 ? 2 : 3 + c.below("gears more", 2);
  std::string out = "gear:\n";
  int on_board = 0;
  for (int i = 0; i < count && on_board < 4; ++i) {
    const std::string name = "gear" + std::to_string(i + 1);
    const int kind = std::max(c.below(name + ".kind", 5) - 2, 0);
    out += kind == 0   ? "  - kind: plain_load\n"
           : kind == 1 ? "  - kind: rod_holder\n"
                       : "  - kind: downrigger\n";
    if (c.one_in(name + ".named", 3)) {
      out += "    name: " + scalar("gear no. " + std::to_string(i + 1) + ", mine") + "\n";
    }
    if (board != nullptr) {
      const bool both = on_board < 3 && c.one_in(name + ".both", 4);
      on_board += both ? 2 : 1;
      // Each on a place of its own: those further in the list further inboard.
      const double inboard = 230.0 * i;
      out +=
          "    on_board: {side: " +
          std::string(both                              ? "both"
                      : c.below(name + ".side", 2) == 0 ? "port"
                                                        : "starboard") +
          ", outboard: " +
          d.size(c.between(name + ".outboard", 0.2, -0.5, 0.6) * board->overhang - inboard).text +
          (c.one_in(name + ".off", 3)
               ? ", forward: " +
                     d.size(c.between(name + ".forward", 0.05, -0.1, 0.1) * board->width).text
               : "") +
          "}\n";
    } else {
      ++on_board;
    }
    out += kind == 0   ? plain_load(d, name, board != nullptr)
           : kind == 1 ? rod_holder(d, name)
                       : downrigger(d, name);
    if (board != nullptr && c.below(name + ".has foot", 3) != 2) {
      out += gear_foot(d, name, board->width);
    }
  }
  return out;
}

// ---- The whole
// ----------------------------------------------------------------------------------------

std::string setup_text(Choices& c) {
  Draft d(c, c.below("units", 2) == 0);
  std::string out = "thole: 1\n";
  if (c.below("titled", 3) != 0) {
    out += "title: " +
           scalar(c.pick("title", {"a mount", "№ 7: <b>\"port\" & 'starboard'</b>, αβγ",
                                   "ends in a tab and a # mark"})) +
           "\n";
  }
  out += d.inch ? "units: inch\n" : "units: metric\n";
  if (c.below("water", 3) != 0) out += c.one_in("salt", 2) ? "water: salt\n" : "water: fresh\n";
  const int mount = c.below("mount", 8);
  const bool on_board = mount == 7;
  out += use_block(d, on_board) + boat_block(d);
  BoardSizes sizes;
  if (on_board) {
    out += board_mount(d, sizes);
  } else {
    out += mount >= 5 ? bracket_mount(d) : plate_mount(d);
  }
  out += gear_list(d, on_board ? &sizes : nullptr);
  out += condition_block(c) + factors_block(c);
  return out + case_block(d, out);
}

std::string setup_text(const Genome& genome) {
  Choices choices(genome);
  return setup_text(choices);
}

// ---- Shrinking
// ----------------------------------------------------------------------------------------

Genome shrunk(const Genome& genome, const std::function<bool(const std::string&)>& breaks,
              int most_tries) {
  Genome out = genome;
  int tries = 0;
  // Halves, quarters and so on down to single choices, for as long as one of them helps.
  for (bool better = true; better && tries < most_tries;) {
    better = false;
    Choices last(out);
    (void)setup_text(last);
    std::vector<std::string> open;
    for (const std::string& name : last.made()) {
      if (out.plain.count(name) == 0) open.push_back(name);
    }
    for (std::size_t chunk = std::max<std::size_t>(open.size() / 2, 1); chunk > 0; chunk /= 2) {
      for (std::size_t from = 0; from < open.size() && tries < most_tries; from += chunk) {
        Genome next = out;
        const std::size_t to = std::min(from + chunk, open.size());
        for (std::size_t i = from; i < to; ++i) next.plain.insert(open[i]);
        if (next.plain.size() == out.plain.size()) continue;
        const std::string text = setup_text(next);
        if (text == setup_text(out)) {
          out = next;  // the choice meant nothing
          continue;
        }
        ++tries;
        if (!breaks(text)) continue;
        out = next;
        better = true;
      }
    }
  }
  return out;
}

}  // namespace thole::test
