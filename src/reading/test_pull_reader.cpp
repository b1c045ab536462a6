// The block `test_pulls`: pulls by hand on the trailer, as somebody measured them.

#include "reading/test_pull_reader.hpp"

#include <algorithm>
#include <cmath>

#include <thole/test_pull.hpp>

#include "reading/quoting.hpp"
#include "reading/setup_parts.hpp"

namespace thole::reading {

using namespace literals;

namespace {

const Gear* find_gear(Fields& f, const Setup& s, const std::string& name) {
  std::vector<std::string> names;
  for (const Gear& g : s.gear) {
    if (g.name == name) return &g;
    names.push_back(g.name);
  }
  if (names.empty()) return nullptr;  // the gear is in trouble itself
  const std::string near = nearest_spelling(name, names);
  complain_value(
      f, "gear",
      "is the name of no gear" + (near.empty() ? "" : "; did you mean " + shown(near) + "?"));
  return nullptr;
}

void check_boom(Fields& f, const Gear& g, Angle boom) {
  if (!g.downrigger) {
    complain_at(f, "boom", ": belongs to a downrigger; this gear has no boom");
    return;
  }
  std::string angles;
  for (const Angle& a : g.downrigger->boom_angles) {
    if (std::abs(in_degrees(a) - in_degrees(boom)) < 1e-6) return;
    angles += (angles.empty() ? "" : ", ") + show(a);
  }
  complain_value(f, "boom", "is none of its boom_angles: " + angles);
}

void read_one(Fields& f, Setup& s) {
  const auto gear = f.text({"gear", "gear that was pulled", "its name"}, true);
  const std::vector<std::string> ways(test_pull_ways.begin(), test_pull_ways.end());
  TestPull t;
  t.toward = f.choice({"toward", "way of the test pull", "as on the card"}, ways, true).value;
  const auto boom = f.optional<Angle>({"boom", "boom at the test pull",
                                       "of a downrigger, from astern toward outboard; left out: "
                                       "where the card has it"},
                                      Sign::any);
  t.pull = f.need<Force>({"pull", "test pull", "as read on the scale", Knowledge::measured}).value;
  const auto moved =
      f.need<Length>({"moved", "movement at the test pull",
                      "at the place on the card, the way that counts", Knowledge::measured},
                     Sign::not_negative);
  t.moved = moved.value;
  const auto stayed = f.optional<Length>(
      {"stayed", "movement that stayed", "at the same place after letting go", Knowledge::measured},
      Sign::not_negative);
  f.finish();
  if (f.describing()) return;
  refuse_outside<Force>(f, "pull", Known<Force>{t.pull}, 1.0_N, 5000.0_N,
                        "1 and 5000 N (0.2 and 1100 lbf)");
  refuse_outside<Length>(f, "moved", moved, Length{}, 1.0_m, "0 and 1 m (39 in)");
  if (stayed && f.has("moved") && stayed->value > moved.value) {
    complain_value(f, "stayed", "is more than moved: what stayed is a part of it");
  }
  if (stayed) t.stayed = stayed->value;
  if (boom) t.boom = boom->value;
  if (!gear) return;
  t.gear = gear->value;
  const Gear* g = find_gear(f, s, t.gear);
  if (g != nullptr && boom) check_boom(f, *g, boom->value);
  s.test_pulls.push_back(t);
}

}  // namespace

void read_test_pulls(Fields& top, Setup& setup) {
  const std::vector<Input> inputs = top.reading().inputs;
  ObjectSchema schema;
  const Key key{
      "test_pulls", "test pulls",
      "pulls by hand on the trailer as measured: for thole sheet; they change no verdict"};
  for (Fields& f : top.list(key, false, &schema)) {
    if (f.node() != nullptr || f.describing()) read_one(f, setup);
  }
  top.close_list(key, schema);
  top.reading().inputs = inputs;
}

}  // namespace thole::reading
