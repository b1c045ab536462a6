#include <algorithm>
#include <string>
#include <vector>

#include <thole/build_info.hpp>
#include <thole/sheet.hpp>

#include "report/html.hpp"
#include "report/plates_made.hpp"
#include "report/template_drawing.hpp"
#include "report/text.hpp"

namespace thole {
namespace plates_made {

std::vector<HoleSet> of(const SheetContent& c) {
  std::vector<HoleSet> out;
  if (!template_drawing::refusal(c.assessment).empty()) return out;
  for (HoleSet& s : hole_sets(c.setup, c.library)) {
    if (s.made) out.push_back(std::move(s));
  }
  return out;
}

Box box_of(const HoleSet& set) {
  Box b{set.part.front(), set.part.front()};
  for (const PlanPoint& p : set.part) {
    b.low = {std::min(b.low.x, p.x), std::min(b.low.y, p.y)};
    b.high = {std::max(b.high.x, p.x), std::max(b.high.y, p.y)};
  }
  return b;
}

std::vector<std::string> broken(const std::vector<std::string>& lines, std::size_t most) {
  std::vector<std::string> out;
  for (const std::string& line : lines) {
    std::string rest = line;
    while (text::width(rest) > most) {
      std::size_t at = rest.rfind(' ', most);
      if (at == std::string::npos || at < most / 2) at = most;
      while (at > 0 && (static_cast<unsigned char>(rest[at]) & 0xc0U) == 0x80U) --at;
      out.push_back(rest.substr(0, at));
      rest = rest.substr(rest[at] == ' ' ? at + 1 : at);
    }
    out.push_back(rest);
  }
  return out;
}

}  // namespace plates_made

namespace {

using svg::Anchor;
using svg::Drawing;

constexpr double step = 5;  // mm, from line to line
constexpr double letters = 3.4;

std::vector<std::string> words_of(const HoleSet& set, ReaderUnits u) {
  const plates_made::Box b = plates_made::box_of(set);
  std::vector<std::string> out{
      text::plain(set.name, 70) + ": make " + std::to_string(set.made->count),
      text::plain(set.made->material, 60) + ", " + html::both_decimal(set.made->thickness, u) +
          " thick",
      "Over all " + html::both(b.high.x - b.low.x, u) + " " + set.x_is + " by " +
          html::both(b.high.y - b.low.y, u) + " " + set.y_is,
      "Seen " + set.face,
      "Dimensions of holes from the corner that is aft and " +
          std::string(set.y_is == "up" ? "low" : "inboard"),
      text::sentence(set.made->advice)};
  for (const Drill& d : set.drills) out.push_back(template_drawing::drill_words(d, u));
  for (const std::string& n : set.notes) out.push_back(text::sentence(n));
  if (!set.other_side.empty()) out.push_back(text::sentence(set.other_side));
  if (set.assumed) out.emplace_back("A place or size in the file is a guess: measure first.");
  return out;
}

}  // namespace

std::string plates_svg(const SheetContent& c) {
  const ReaderUnits u = c.setup.units;
  std::vector<HoleSet> sets = plates_made::of(c);
  if (sets.empty()) return "";
  std::vector<template_drawing::Pattern> patterns;
  double width = 190;
  for (HoleSet& s : sets) {
    s.datum_at = plates_made::box_of(s).low;
    patterns.emplace_back(s, u,
                          template_drawing::Layout{s.y_left ? template_drawing::Turn::x_right
                                                            : template_drawing::Turn::x_left});
    width = std::max(width, patterns.back().width());
  }
  std::vector<std::string> head{"Plates to make: " + text::plain(c.setup.title, 70),
                                text::plain(c.file, 50) + ", " + text::plain(c.date, 20) + ", " +
                                    made_by() + ", drawn at 1:1, a unit is a millimetre"};
  const std::string band = template_drawing::band(c.assessment);
  if (!band.empty()) head.insert(head.begin(), band);
  const auto most = std::size_t((width - 4) / (0.6 * letters));
  std::vector<std::vector<std::string>> words;
  double height = step * double(head.size() + 1) + template_drawing::bars_height + 6;
  for (std::size_t i = 0; i < sets.size(); ++i) {
    words.push_back(plates_made::broken(words_of(sets[i], u), most));
    height += step * double(words[i].size() + 1) + patterns[i].height() + 6;
  }
  Drawing d("plates", width, height, "Plates to make",
            std::to_string(sets.size()) + " flat pieces with their holes", true);
  double y = 0;
  const auto write = [&](const std::vector<std::string>& lines) {
    for (std::size_t i = 0; i < lines.size(); ++i) {
      y += step;
      d.text({2, y}, lines[i], letters, Anchor::start,
             i == 0 ? "template-words template-band" : "template-words");
    }
  };
  write(head);
  for (std::size_t i = 0; i < sets.size(); ++i) {
    y += step;
    d.line({0, y - 3}, {width, y - 3}, "template-dim");
    write(words[i]);
    patterns[i].draw(d, {0, 0, patterns[i].width(), patterns[i].height()}, {0, y + 3});
    y += patterns[i].height() + 6;
  }
  template_drawing::bars(d, {2, y + 2});
  return d.file(template_drawing::style());
}

}  // namespace thole
