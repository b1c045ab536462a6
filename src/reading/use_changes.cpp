// What may be set, kept to or hung on otherwise, on any mount: brakes, drags, weak links, booms,
// rods, the road.

#include <algorithm>
#include <array>
#include <cmath>

#include <thole/display.hpp>

#include "reading/change_kinds.hpp"
#include "reading/tree_edits.hpp"

namespace thole::reading {

using namespace literals;

namespace {

using Drafts = std::vector<Draft>;

// One item of the list `gear` of the file; of one for both sides of a board the first, and its
// twin.
struct Item {
  std::string path;
  const Gear* gear = nullptr;
  std::vector<const GearLimit*> limits;
  std::vector<const HeelPull*> heels;
  std::string name;  // "", or " of the port rod" where there are several
};

std::vector<Item> items_of(const Drawn& d) {
  std::vector<Item> out;
  const Node* list = d.document.root.find("gear");
  if (list == nullptr || list->kind != Node::Kind::list) return out;
  std::size_t next = 0;
  for (std::size_t i = 0; i < list->items.size(); ++i) {
    const Node* place = list->items[i].find("on_board");
    const Node* side = place != nullptr ? place->find("side") : nullptr;
    const bool both = d.setup.on_board() && side != nullptr && side->text == "both";
    Item item;
    item.path = item_path(d, "gear", i);
    for (int k = 0; k < (both ? 2 : 1) && next < d.setup.gear.size(); ++k, ++next) {
      const Gear& g = d.setup.gear[next];
      if (item.gear == nullptr) item.gear = &g;
      for (const GearLimit& l : d.assessment.gear_limits) {
        if (l.gear == g.name) item.limits.push_back(&l);
      }
      for (const HeelPull& p : d.assessment.boat.pulls) {
        if (p.gear == g.name) item.heels.push_back(&p);
      }
    }
    if (item.gear == nullptr || item.path.empty()) continue;
    if (list->items.size() > 1) item.name = " of the " + item.gear->name;
    out.push_back(std::move(item));
  }
  return out;
}

// Cut to what a scale shows: two figures, down.
std::string force_text(const Drawn& d, Force v) { return about(v, d.setup.units, Rounding::down); }

// Edits that set a figure by a scale: it counts as measured, for setting it so is the change.
Edit by_scale(const Drawn& d, const std::string& path, const std::string& value, bool measured) {
  if (measured) return {value_path(d, path), value};
  return {path, "{is: " + value + ", known: measured}"};
}

struct Setting {
  Force mount{};  // largest that the mount allows
  bool by_mount = false;
  std::optional<Force> boat;
};

// What the limits say of a gear; nothing by the mount where there is no figure.
Setting setting_of(const Item& item) {
  Setting s;
  bool all = !item.limits.empty();
  for (const GearLimit* l : item.limits) {
    if (!l->setting) {
      all = false;
      continue;
    }
    s.mount = s.by_mount ? std::min(s.mount, *l->setting) : *l->setting;
    s.by_mount = true;
  }
  s.by_mount = s.by_mount && all;
  for (const HeelPull* h : item.heels) {
    if (h->setting && (!s.boat || *h->setting < *s.boat)) s.boat = *h->setting;
  }
  return s;
}

Force least_useful(const Item& item) {
  Force out{};
  for (const GearLimit* l : item.limits) out = std::max(out, l->least_useful);
  return out;
}

void put_setting(const Drawn& d, const Item& item, const std::string& value, Draft& x) {
  const Gear& g = *item.gear;
  if (g.rod_holder) {
    x.edits.push_back(
        by_scale(d, item.path + ".drag", value, g.rod_holder->drag.known == Knowledge::measured));
  } else {
    x.edits.push_back(by_scale(d, item.path + ".brake_slip", value,
                               g.downrigger->brake_slip->known == Knowledge::measured));
  }
}

void lower_setting(const Drawn& d, Drafts& out) {
  Draft all;
  std::size_t several = 0;
  for (const Item& item : items_of(d)) {
    const Gear& g = *item.gear;
    const bool rod = g.rod_holder.has_value();
    if (!rod && !(g.downrigger && g.downrigger->brake_slip)) continue;
    const Force now = rod ? g.rod_holder->drag.value : g.downrigger->brake_slip->value;
    const Setting s = setting_of(item);
    std::vector<Force> values;
    if (s.by_mount) {
      values.push_back(s.mount);
      if (s.boat && *s.boat < s.mount) values.push_back(*s.boat);
    } else {
      values = {0.7 * now, 0.5 * now};  // a refusal, or nothing holds: no figure to aim at
      if (s.boat) values.push_back(*s.boat);
    }
    const Force useful = rod ? g.rod_holder->running_pull : least_useful(item);
    for (const Force& v : values) {
      const std::string text = force_text(d, v);
      const Force set = parse<Force>(text);
      if (set > 0.97 * now || set < useful || !(set.value() > 0)) continue;
      Draft x;
      put_setting(d, item, text, x);
      x.words = std::string(rod ? "set the drag" : "set the brake") + item.name + " to " + text +
                " in place of " + about(now, d.setup.units) + ", by a scale at the " +
                (rod ? "line" : "clip");
      x.notes = {"measured wet, three times, the largest counts"};
      if (!rod && !g.downrigger->weak_link) {
        x.notes.push_back("a weak link at the clip of " + about(1.5 * set, d.setup.units) +
                          " or a little more keeps the order if the brake seizes");
      }
      x.trouble.given_up = std::min(1.0, 1 - double(set / now));
      x.of_use = true;
      if (&v == &values.front()) {
        all.edits.insert(all.edits.end(), x.edits.begin(), x.edits.end());
        all.words += (all.words.empty() ? "" : "; ") + x.words;
        all.notes = x.notes;
        all.trouble.given_up = std::max(all.trouble.given_up, x.trouble.given_up);
        ++several;
      }
      out.push_back(std::move(x));
    }
  }
  if (several < 2) return;
  all.of_use = true;
  out.push_back(std::move(all));
}

// A brake that nobody has read with a scale does not count at all.
void measured_brake(const Drawn& d, Drafts& out) {
  for (const Item& item : items_of(d)) {
    const Gear& g = *item.gear;
    if (!g.downrigger) continue;
    const auto& slip = g.downrigger->brake_slip;
    if (slip && slip->known == Knowledge::measured) continue;
    const Setting s = setting_of(item);
    std::vector<Force> values;
    if (s.by_mount) values.push_back(s.mount);
    if (s.boat && (!s.by_mount || *s.boat < s.mount)) values.push_back(*s.boat);
    for (const Force& v : values) {
      const std::string text = force_text(d, v);
      const Force set = parse<Force>(text);
      if (set < least_useful(item) || !(set.value() > 0)) continue;
      Draft x;
      x.edits = {by_scale(d, item.path + ".brake_slip", text, false)};
      x.words = "set the brake" + item.name + " by a scale at the clip, to slip at " + text;
      x.notes = {"until it is read with a scale the breaking load of the wire counts"};
      x.trouble.cost = Cost::coins;
      x.trouble.given_up = 0.1;
      x.of_use = true;
      out.push_back(std::move(x));
    }
  }
}

void weak_link(const Drawn& d, Drafts& out) {
  for (const Item& item : items_of(d)) {
    const Gear& g = *item.gear;
    if (!g.downrigger) continue;
    std::optional<Force> limit;
    for (const GearLimit* l : item.limits) {
      if (l->hold_limit && (!limit || *l->hold_limit < *limit)) limit = *l->hold_limit;
    }
    if (!limit) continue;
    const Downrigger& r = *g.downrigger;
    // Its upper bound below the limit of the mount, itself above the working pull.
    const std::string text = force_text(d, *limit / 1.2);
    const Force link = parse<Force>(text);
    if (r.weak_link && *r.weak_link <= link) continue;
    const bool slips = r.brake_slip && r.brake_slip->known == Knowledge::measured;
    if (link < (slips ? 1.2 * r.brake_slip->value : least_useful(item))) continue;
    Draft x;
    x.edits = {{value_path(d, item.path + ".weak_link"), text}};
    x.words = "a weak link at the clip" + item.name + " that breaks at " + text + " or less";
    x.notes = {"a length of line of that strength by its label, new each season"};
    x.trouble.cost = Cost::coins;
    x.trouble.trips = 1;
    x.trouble.given_up = slips ? 0.02 : 0.1;
    out.push_back(std::move(x));
  }
}

// Common line tests in pounds (common practice, no source).
void lighter_line(const Drawn& d, Drafts& out) {
  constexpr std::array<double, 12> tests{4, 6, 8, 10, 12, 15, 17, 20, 25, 30, 40, 50};
  for (const Item& item : items_of(d)) {
    if (!item.gear->rod_holder) continue;
    const RodHolder& r = *item.gear->rod_holder;
    int drafted = 0;
    for (std::size_t i = tests.size(); i-- > 0 && drafted < 2;) {
      const Force test = tests[i] * 1.0_lbf;
      if (test > 0.95 * r.line_test || test < 2.0 * r.drag.value) continue;
      const std::string text = d.inch() ? show(test, ReaderUnits::inch) : force_text(d, test);
      Draft x;
      x.edits = {{value_path(d, item.path + ".line_test"), text}};
      x.words = "lighter line" + item.name + ", " + text + " in place of " +
                about(r.line_test, d.setup.units);
      x.trouble.cost = Cost::coins;
      x.trouble.trips = 1;
      x.trouble.given_up = 0.5 * (1 - double(test / r.line_test));
      x.of_use = true;
      out.push_back(std::move(x));
      ++drafted;
    }
  }
}

// Lengths that booms are sold in, and two that longer ones slide in or are cut to (common practice,
// no source).
void shorter_boom(const Drawn& d, Drafts& out) {
  std::vector<Length> lengths;
  if (d.inch()) {
    for (const double v : {12.0, 18.0, 24.0, 30.0, 36.0, 42.0, 48.0}) lengths.push_back(v * 1.0_in);
  } else {
    for (const double v : {300.0, 450.0, 600.0, 750.0, 900.0, 1050.0, 1200.0}) {
      lengths.push_back(v * 1.0_mm);
    }
  }
  for (const Item& item : items_of(d)) {
    if (!item.gear->downrigger) continue;
    const Downrigger& r = *item.gear->downrigger;
    for (const Length& v : below(lengths, r.boom_length, 2)) {
      if (v < 0.45 * r.boom_length) continue;
      Draft x;
      x.edits = {{value_path(d, item.path + ".boom_length"), written(d, v)}};
      x.words = "a shorter boom" + item.name + ", tip " + written(d, v) +
                " from the middle of its base in place of " + written(d, r.boom_length);
      x.notes = {"line and wire must stay clear of propeller and hull"};
      if (r.mass_reach > 0.5 * v) {
        x.notes.emplace_back("mass_reach is left as it stands: measure it again");
      }
      x.trouble.cost = Cost::store;
      x.trouble.trips = 1;
      x.trouble.given_up = 0.3 * (1 - double(v / r.boom_length));
      out.push_back(std::move(x));
    }
  }
}

std::string angles_text(const std::vector<Angle>& list) {
  std::string out;
  for (const Angle& a : list) out += (out.empty() ? "" : ", ") + show(a);
  return "[" + out + "]";
}

// Without the boom angles at one end of the list.
void boom_sector(const Drawn& d, Drafts& out) {
  for (const Item& item : items_of(d)) {
    if (!item.gear->downrigger) continue;
    std::vector<Angle> all = item.gear->downrigger->boom_angles;
    std::sort(all.begin(), all.end());
    const std::size_t n = all.size();
    for (std::size_t drop = 1; drop < n && drop < 3; ++drop) {
      for (const bool low : {false, true}) {
        const auto first = all.begin() + std::ptrdiff_t(low ? drop : 0);
        const std::vector<Angle> kept(first, first + std::ptrdiff_t(n - drop));
        Draft x;
        x.edits = {{item.path + ".boom_angles", angles_text(kept)}};
        x.words =
            "keep the boom" + item.name +
            (kept.size() == 1 ? " at " + show(kept.front())
                              : " between " + show(kept.front()) + " and " + show(kept.back())) +
            " from astern";
        x.notes = {"a pin or stop in the swivel, so that nobody forgets"};
        const Angle widest = *std::max_element(kept.begin(), kept.end(), [](Angle a, Angle b) {
          return std::sin(a.value()) < std::sin(b.value());
        });
        if (std::sin(widest.value()) * item.gear->downrigger->boom_length < 0.15_m) {
          x.notes.push_back(
              "only where the base stands at the stern: elsewhere the wire comes down on the boat");
        }
        x.trouble.given_up = 0.6 * double(drop) / double(n);
        x.of_use = true;
        out.push_back(std::move(x));
      }
    }
  }
}

// A rod that points along the boat turns the base about its longer axis, and one that stands more
// upright lets the fish pull on a shorter lever, or not: tried.
void rod_angle(const Drawn& d, Drafts& out) {
  for (const Item& item : items_of(d)) {
    if (!item.gear->rod_holder) continue;
    const RodHolder& r = *item.gear->rod_holder;
    const double now = in_degrees(r.toward);
    for (const double to : {45.0, 0.0}) {
      if (std::abs(now) <= to + 5) continue;
      Draft x;
      const double signed_to = now < 0 ? -to : to;
      x.edits = {{value_path(d, item.path + ".toward"),
                  to == 0 ? std::string("astern") : show(degrees(signed_to))}};
      x.words = to == 0
                    ? "point the rod" + item.name + " astern"
                    : "angle the rod" + item.name + " aft, " + show(degrees(to)) + " off astern";
      x.notes = {"by the holder's own swivel; a fixed one is turned with its base"};
      x.trouble.given_up = to == 0 ? 0.3 : 0.15;
      x.of_use = true;
      out.push_back(std::move(x));
    }
    const double lean = in_degrees(r.lean);
    for (const double to : {lean - 30, lean + 20}) {
      if (to < 10 || to > 80) continue;
      Draft x;
      x.edits = {{value_path(d, item.path + ".lean"), show(degrees(to))}};
      x.words = "lean the rod" + item.name + " " + show(degrees(to)) +
                " from upright in place of " + show(r.lean);
      x.trouble.given_up = 0.15;
      x.of_use = true;
      out.push_back(std::move(x));
    }
  }
}

void off_on_road(const Drawn& d, Drafts& out) {
  if (d.setup.use.gear_off_on_road) return;
  const bool towed =
      std::any_of(d.assessment.cases.begin(), d.assessment.cases.end(), [](const CaseResult& c) {
        return c.load_case.kind == "on-the-trailer" && !c.load_case.left_out;
      });
  if (!towed) return;
  Draft x;
  const bool there = node_at(d, "use") != nullptr;
  x.edits = {there ? Edit{value_path(d, "use.gear_off_on_road"), "yes"}
                   : Edit{"use", "{gear_off_on_road: yes}"}};
  x.words = "take the gear off for the road";
  x.trouble.given_up = 0.1;
  x.of_use = true;
  out.push_back(std::move(x));
}

constexpr std::array<DraftKind, 8> kinds{{
    {{"lower-setting", "brake or drag set lower", "all"}, lower_setting},
    {{"measured-brake", "brake set by a scale", "all"}, measured_brake},
    {{"weak-link", "weak link at the clip", "all"}, weak_link},
    {{"lighter-line", "lighter line on the rod", "all"}, lighter_line},
    {{"shorter-boom", "next shorter boom", "all"}, shorter_boom},
    {{"boom-sector", "boom kept within a sector", "all"}, boom_sector},
    {{"rod-angle", "rod angled aft, or leaning otherwise", "all"}, rod_angle},
    {{"off-on-road", "gear off for the road", "all"}, off_on_road},
}};

}  // namespace

std::span<const DraftKind> use_changes() { return kinds; }

}  // namespace thole::reading
