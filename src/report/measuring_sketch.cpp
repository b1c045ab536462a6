#include "report/measuring_sketch.hpp"

#include <cmath>

#include "report/svg.hpp"

namespace thole::cards {
namespace {

using svg::Anchor;
using svg::Drawing;
using svg::Point;

// Units of the drawings are pixels of a phone.
constexpr double width = 340;
constexpr double letter_size = 15;
constexpr double ring = 10;

// A size: ends marked by strokes, the letter in a ring on its middle or `along` of it.
void size(Drawing& d, Point a, Point b, const char* letter, double along = 0.5) {
  const double l = std::hypot(b.x - a.x, b.y - a.y);
  const double nx = -(b.y - a.y) / l * 5, ny = (b.x - a.x) / l * 5;
  d.line(a, b, "dim");
  for (const Point& p : {a, b}) d.line({p.x - nx, p.y - ny}, {p.x + nx, p.y + ny}, "dim");
  const Point middle{a.x + along * (b.x - a.x), a.y + along * (b.y - a.y)};
  d.circle(middle, ring, "part");
  d.text({middle.x, middle.y + 5}, letter, letter_size, Anchor::middle, "strong");
}

void note(Drawing& d, Point at, const char* words, Anchor anchor = Anchor::start) {
  d.text(at, words, 13, anchor, "note");
}

void bolt(Drawing& d, Point at) { d.circle(at, 3, "part2"); }

std::string board() {
  Drawing d("measure-board", width, 342, "Where to measure: board",
            "Board across the boat from above and from astern. A: between the inner edges of the "
            "ledges. B: board's width. C: its length. D: overhang. E: ledge along the boat. F: "
            "hold-down from the inner edge. G: hold-downs fore and aft. H: leg. I: thickness.");
  note(d, {8, 14}, "from above, forward is up");
  d.rectangle({50, 62}, 44, 100, "part2");
  d.rectangle({246, 62}, 44, 100, "part2");
  d.rectangle({24, 78}, 292, 68, "part");
  d.line({94, 62}, {94, 162}, "hidden");
  d.line({246, 62}, {246, 162}, "hidden");
  d.line({24, 112}, {316, 112}, "centre");
  for (const double x : {68.0, 272.0}) {
    for (const double y : {92.0, 132.0}) bolt(d, {x, y});
  }
  d.line({94, 30}, {94, 62}, "thin");
  d.line({246, 30}, {246, 62}, "thin");
  size(d, {94, 38}, {246, 38}, "A");
  size(d, {150, 78}, {150, 146}, "B", 0.26);
  d.line({24, 146}, {24, 208}, "thin");
  d.line({316, 146}, {316, 208}, "thin");
  size(d, {24, 202}, {316, 202}, "C");
  d.line({94, 162}, {94, 182}, "thin");
  size(d, {24, 176}, {94, 176}, "D");
  size(d, {328, 62}, {328, 162}, "E");
  d.line({290, 62}, {332, 62}, "thin");
  d.line({290, 162}, {332, 162}, "thin");
  d.line({272, 92}, {272, 60}, "thin");
  size(d, {246, 58}, {272, 58}, "F");
  size(d, {206, 112}, {206, 92}, "G");
  d.line({206, 92}, {272, 92}, "thin");

  note(d, {8, 232}, "from astern");
  d.rectangle({24, 250}, 292, 16, "part");
  for (const double side : {1.0, -1.0}) {
    const double x = side > 0 ? 50 : 290;
    d.polygon({{x, 266},
               {x + side * 44, 266},
               {x + side * 44, 272},
               {x + side * 6, 272},
               {x + side * 6, 300},
               {x, 300}},
              "part2");
    d.polyline({{x, 244}, {x, 336}}, "hull");
    d.rectangle({side > 0 ? 100.0 : 228.0, 266}, 12, 66, "part");
  }
  size(d, {132, 266}, {132, 332}, "H");
  d.line({112, 332}, {138, 332}, "thin");
  size(d, {170, 236}, {170, 250}, "I", -0.4);
  d.line({170, 266}, {170, 280}, "dim");
  return d.element();
}

std::string plate() {
  Drawing d("measure-plate", width, 316, "Where to measure: gunwale and base",
            "Base on the gunwale from above, and gunwale in section. A: flat. B: thickness of the "
            "wall. C and D: base. E and F: between the holes. G: to the free end. H: height of the "
            "rim.");
  note(d, {8, 14}, "from above, forward to the right");
  d.rectangle({10, 62}, 316, 84, "hull");
  d.rectangle({112, 74}, 110, 60, "part");
  for (const double x : {130.0, 204.0}) {
    for (const double y : {88.0, 120.0}) bolt(d, {x, y});
  }
  d.line({167, 66}, {167, 196}, "centre");
  size(d, {36, 62}, {36, 146}, "A");
  d.line({112, 134}, {112, 172}, "thin");
  d.line({222, 134}, {222, 172}, "thin");
  size(d, {112, 166}, {222, 166}, "C", 0.26);
  d.line({222, 74}, {254, 74}, "thin");
  d.line({222, 134}, {254, 134}, "thin");
  size(d, {248, 74}, {248, 134}, "D");
  d.line({130, 88}, {130, 36}, "thin");
  d.line({204, 88}, {204, 36}, "thin");
  size(d, {130, 42}, {204, 42}, "E");
  d.line({78, 88}, {130, 88}, "thin");
  d.line({78, 120}, {130, 120}, "thin");
  size(d, {84, 88}, {84, 120}, "F");
  d.line({326, 146}, {326, 196}, "thin");
  size(d, {167, 190}, {326, 190}, "G");

  note(d, {8, 222}, "cut across");
  d.rectangle({60, 262}, 90, 48, "part2");
  d.rectangle({66, 268}, 78, 36, "hull");
  d.rectangle({78, 254}, 54, 8, "part");
  d.polygon({{98, 254}, {112, 254}, {152, 226}, {144, 214}}, "gear");
  size(d, {190, 262}, {190, 220}, "H");
  d.line({150, 262}, {196, 262}, "thin");
  d.line({148, 220}, {196, 220}, "thin");
  d.line({108, 268}, {108, 262}, "dim");
  size(d, {230, 292}, {112, 266}, "B", 0);
  return d.element();
}

std::string bracket() {
  Drawing d("measure-bracket", width, 200, "Where to measure: bracket",
            "Plate of a bracket over the edge of the boat, from above. A and B: plate. C: middle "
            "of the fasteners to the edge. D: middle of the fasteners to the foot of the gear. E: "
            "between the fasteners.");
  note(d, {8, 14}, "from above, outboard to the right");
  d.rectangle({8, 40}, 196, 110, "hull");
  d.rectangle({40, 62}, 280, 64, "part");
  d.line({204, 40}, {204, 150}, "hidden");
  d.rectangle({244, 74}, 40, 40, "gear");
  for (const double x : {74.0, 130.0}) {
    for (const double y : {76.0, 112.0}) bolt(d, {x, y});
  }
  d.line({102, 56}, {102, 178}, "centre");
  d.line({264, 114}, {264, 178}, "thin");
  d.line({40, 62}, {40, 28}, "thin");
  d.line({320, 62}, {320, 28}, "thin");
  size(d, {40, 34}, {320, 34}, "A");
  size(d, {304, 62}, {304, 126}, "B");
  size(d, {102, 160}, {204, 160}, "C");
  d.line({204, 150}, {204, 164}, "thin");
  size(d, {102, 184}, {264, 184}, "D", 0.8);
  size(d, {74, 94}, {130, 94}, "E");
  return d.element();
}

struct Letter {
  MountKind kind;
  std::string_view what;  ///< of a row, or end of a path
  std::string_view letters;
};

constexpr auto on_board = MountKind::cross_board;
constexpr auto on_plate = MountKind::gunwale_plate;
constexpr auto on_bracket = MountKind::bracket;

constexpr Letter rows[] = {{on_board, "Clear width", "A"},   {on_board, "Board", "B, C, I"},
                           {on_board, "Overhang", "D"},      {on_board, "Ledges", "E"},
                           {on_board, "Hold-downs", "F, G"}, {on_board, "Legs", "H"},
                           {on_plate, "Gunwale flat", "A"},  {on_plate, "Wall thickness", "B"},
                           {on_plate, "Base", "C, D, E, F"}, {on_plate, "Rim of the holder", "H"},
                           {on_bracket, "Plate", "A, B"},    {on_bracket, "Edge", "C, D"},
                           {on_bracket, "Fasteners", "E"}};

constexpr Letter paths[] = {{on_board, "mount.clear_width", "A"},
                            {on_board, "mount.board.width", "B"},
                            {on_board, "mount.board.length", "C"},
                            {on_board, "mount.board.thickness", "I"},
                            {on_board, "mount.port_overhang", "D"},
                            {on_board, "mount.ledges.both.fore_aft", "E"},
                            {on_board, "mount.ledges.port.fore_aft", "E"},
                            {on_board, "mount.ledges.starboard.fore_aft", "E"},
                            {on_board, "mount.hold_downs.outboard", "F"},
                            {on_board, "mount.hold_downs.forward", "G"},
                            {on_board, "mount.legs.length", "H"},
                            {on_plate, "mount.host.flat", "A"},
                            {on_plate, "mount.host.thickness", "B"},
                            {on_plate, "mount.host.to_end", "G"},
                            {on_plate, "mount.base.fore_aft", "C"},
                            {on_plate, "mount.base.athwart", "D"},
                            {on_plate, "mount.fastening.holes.fore_aft", "E"},
                            {on_plate, "mount.fastening.holes.athwart", "F"},
                            {on_plate, "gear.height", "H"},
                            {on_bracket, "mount.base.athwart", "A"},
                            {on_bracket, "mount.base.fore_aft", "B"},
                            {on_bracket, "mount.gear_foot.outboard", "D"}};

template <std::size_t n>
std::string find(const Letter (&table)[n], MountKind kind, std::string_view what) {
  for (const Letter& l : table) {
    if (l.kind == kind && l.what == what) return std::string(l.letters);
  }
  return "";
}

}  // namespace

std::string measuring_sketch(MountKind kind) {
  switch (kind) {
    case MountKind::cross_board:
      return board();
    case MountKind::bracket:
      return bracket();
    case MountKind::gunwale_plate:
      break;
  }
  return plate();
}

std::string letters_of_row(MountKind kind, std::string_view what) { return find(rows, kind, what); }

std::string letters_of_path(MountKind kind, std::string_view path) {
  return find(paths, kind, path);
}

}  // namespace thole::cards
