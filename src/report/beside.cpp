
#include <thole/test_pull.hpp>

#include "report/beside.hpp"

#include <algorithm>
#include <cmath>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "report/text.hpp"

namespace thole::beside {
namespace {

using text::alike;
using text::between;
using text::far;
using text::lesser;
using text::pace;

const char* in_words(HeelLevel level) {
  switch (level) {
    case HeelLevel::none:
      return "below the notice";
    case HeelLevel::notice:
      return "notice";
    case HeelLevel::strong:
      return "strong heel";
    case HeelLevel::swamping:
      return "may swamp or capsize";
  }
  throw InternalError("a level of heel without a word");
}

// The mount is not tested harder than what is then set asks for.
Setting lowered(const std::optional<Force>& mount, const std::optional<Force>& test_pull,
                const std::optional<Force>& boat) {
  Setting out{mount, test_pull, false};
  if (!mount || !boat || !(*boat < *mount)) return out;
  out.pull = boat;
  out.by_boat = true;
  if (test_pull) out.test_pull = std::min<Force>(*test_pull, 1.25 * *boat);
  return out;
}

bool same(Length a, Length b) {
  return std::abs(a.value() - b.value()) <= 0.02 * std::max(a.value(), b.value());
}

bool same(const TowingRow& a, const TowingRow& b) {
  return a.too_flat == b.too_flat && same(a.depth, b.depth) && same(a.wire_out, b.wire_out) &&
         same(a.layback, b.layback) && same(a.greatest_wire_out, b.greatest_wire_out) &&
         alike(a.least_pull, b.least_pull) && alike(a.greatest_pull, b.greatest_pull) &&
         show(a.least_angle) == show(b.least_angle) &&
         show(a.greatest_angle) == show(b.greatest_angle) &&
         std::abs(a.fastest.value() - b.fastest.value()) < 1e-6 &&
         std::abs(a.slowest.value() - b.slowest.value()) < 1e-6;
}

struct Rows {
  TowingRow row;
  std::vector<std::string> names;
};

std::vector<Rows> grouped(const std::vector<TowingRow>& rows) {
  std::vector<Rows> out;
  for (const TowingRow& r : rows) {
    const auto known =
        std::find_if(out.begin(), out.end(), [&](const Rows& g) { return same(g.row, r); });
    if (known != out.end()) {
      known->names.push_back(r.gear);
    } else {
      out.push_back({r, {r.gear}});
    }
  }
  return out;
}

std::string pulls(const TowingRow& r, ReaderUnits u) {
  return "pulls " + between(r.least_pull, r.greatest_pull, u) + ", " +
         between(r.least_angle, r.greatest_angle) + " from straight down";
}

std::string person(ReaderUnits u) { return "a person of " + show(one_person, u); }

std::string heels_like(const HeelRow& r, ReaderUnits u, bool whole) {
  std::string text = about(r.pull, u, Rounding::up) + " heels like " + person(u) + " " +
                     far(r.person_off_middle, u) + " off the middle";
  // The cautions have the angle.
  if (!r.level || !whole) return text;
  text += r.heel ? "; " + show(*r.heel) + " with that person at that side"
                 : "; with that person at that side more than the boat can right";
  if (r.heel_alone) text += ", " + show(*r.heel_alone) + " without";
  return text + ": " + in_words(*r.level);
}

std::string from(Force pull, ReaderUnits u) {
  using namespace literals;
  return pull < 0.5_lbf ? "at any pull" : "from " + about(pull, u, Rounding::down);
}

// The first without a person at that side, the others with one: strong may come before notice.
std::string levels(const HeelPull& p, ReaderUnits u) {
  std::string text = "a third of the freeboard gone " + from(p.notice, u);
  if (!p.strong && !p.swamping) return text;
  text += ", with a person at that side ";
  if (p.strong) text += "strong heel " + from(*p.strong, u);
  if (p.strong && p.swamping) text += ", ";
  if (p.swamping) text += "may swamp " + from(*p.swamping, u);
  return text;
}

// What the boat allows to set: neither the notice nor the water over the gunwale is reached.
std::optional<Force> boat_setting(const HeelPull& p) { return p.setting; }

}  // namespace

Force boat_limit(const HeelPull& p) { return *lesser(p.notice, p.swamping); }

std::string first_level(const HeelPull& p, ReaderUnits u) {
  const bool swamps = p.swamping && *p.swamping <= p.notice;
  return (swamps ? "may swamp " : "a third of the freeboard gone ") + from(boat_limit(p), u);
}

const HeelPull* heel_pull(const Assessment& a, const std::string& gear) {
  if (!a.boat.described) return nullptr;
  for (const HeelPull& p : a.boat.pulls) {
    if (p.gear == gear) return &p;
  }
  return nullptr;
}

Setting setting_of(const Assessment& a, const GearLimit& limit) {
  const HeelPull* heel = heel_pull(a, limit.gear);
  Setting out =
      lowered(limit.setting, limit.test_pull, heel == nullptr ? std::nullopt : boat_setting(*heel));
  out.least_useful = limit.least_useful;
  return out;
}

Setting setting_of(const Assessment& a) {
  std::optional<Force> boat;
  if (a.boat.described) {
    for (const HeelPull& p : a.boat.pulls) boat = lesser(boat, boat_setting(p));
  }
  return lowered(a.setting, a.test_pull, boat);
}

bool of_use(const Setting& setting) {
  using namespace literals;
  return setting.pull && !(*setting.pull < 0.5_lbf) && !(*setting.pull < setting.least_useful);
}

std::string none_of_use(const Setting& set, ReaderUnits u) {
  std::string why = set.by_boat ? "the boat heels too far first" : "change the mount";
  if (set.pull && set.pull->value() > 0 && *set.pull < set.least_useful) {
    why = "a brake that slips at " + about(*set.pull, u, Rounding::down) +
          " cannot hold the ball in waves (" + about(set.least_useful, u) + "); " + why;
  }
  return why;
}

std::vector<GearGroup> gear_groups(const Setup& s, const Assessment& a, double within,
                                   bool either) {
  std::vector<GearGroup> out;
  for (const GearLimit& l : a.gear_limits) {
    const Gear* gear = gear_called(s, l.gear);
    if (gear == nullptr || !l.hold_limit) continue;
    const Setting setting = setting_of(a, l);
    const HeelPull* heel = heel_pull(a, l.gear);
    const auto alike_with = [&](const GearGroup& g) {
      const bool same_boat =
          g.heel.has_value() == (heel != nullptr) &&
          (heel == nullptr || (alike(boat_limit(*g.heel), boat_limit(*heel), within) &&
                               g.heel->setting.has_value() == heel->setting.has_value())) &&
          (either || g.setting.by_boat == setting.by_boat);
      return same_boat && kind_of(*g.gear) == kind_of(*gear) &&
             alike(g.limit.hold_limit, l.hold_limit, within) &&
             alike(g.limit.not_before, l.not_before, within) &&
             alike(g.setting.pull, setting.pull, within) &&
             alike(g.setting.test_pull, setting.test_pull, within);
    };
    const auto known = std::find_if(out.begin(), out.end(), alike_with);
    if (known == out.end()) {
      out.push_back({l, gear, {l.gear}, setting, std::nullopt});
      if (heel != nullptr) out.back().heel = *heel;
      continue;
    }
    GearLimit& own = known->limit;
    if (*l.hold_limit < *own.hold_limit) own.set_by = l.set_by;
    own.hold_limit = lesser(own.hold_limit, l.hold_limit);
    own.not_before = lesser(own.not_before, l.not_before);
    own.all_hung_up = lesser(own.all_hung_up, l.all_hung_up);
    own.setting = lesser(own.setting, l.setting);
    if (setting.pull && *setting.pull < *known->setting.pull) {
      known->setting.by_boat = setting.by_boat;
    }
    known->setting.pull = lesser(known->setting.pull, setting.pull);
    known->setting.test_pull = lesser(known->setting.test_pull, setting.test_pull);
    if (heel != nullptr) {
      known->heel->notice = std::min(known->heel->notice, heel->notice);
      known->heel->strong = lesser(known->heel->strong, heel->strong);
      known->heel->swamping = lesser(known->heel->swamping, heel->swamping);
      known->heel->setting = lesser(known->heel->setting, heel->setting);
    }
    known->names.push_back(l.gear);
  }
  return out;
}

std::vector<std::string> to_do(const Setup& s, const Assessment& a) {
  bool other = a.gear_limits.empty() && setting_of(a).by_boat;
  for (const GearLimit& l : a.gear_limits) {
    const Setting set = setting_of(a, l);
    other = other || set.by_boat || (set.pull && *set.pull < set.least_useful);
  }
  if (!other) return a.to_do;
  std::vector<std::string> out;
  for (const std::string& t : a.to_do) {
    if (t.rfind("as it stands: set the ", 0) != 0) out.push_back(t);
  }
  const auto add = [&](const Gear& g, const std::optional<Force>& setting) {
    if (!setting) return;
    std::string t;
    if (g.rod_holder && *setting < g.rod_holder->drag.value) {
      t = "as it stands: set the drag to " + about(*setting, s.units, Rounding::down) +
          " or less, measured with a scale at the line";
    } else if (g.downrigger && g.downrigger->brake_slip &&
               *setting < g.downrigger->brake_slip->value) {
      t = "as it stands: set the brake to slip at " + about(*setting, s.units, Rounding::down) +
          " or less, measured with a scale at the clip";
    }
    if (!t.empty() && std::find(out.begin(), out.end(), t) == out.end()) out.push_back(t);
  };
  for (const GearLimit& l : a.gear_limits) {
    const Setting set = setting_of(a, l);
    if (set.pull && *set.pull < set.least_useful) continue;  // no brake can be set so
    if (const Gear* g = gear_called(s, l.gear)) add(*g, set.pull);
  }
  if (a.gear_limits.empty() && !s.gear.empty()) add(s.gear.front(), setting_of(a).pull);
  return out;
}

std::vector<std::string> cautions(const Assessment& a, bool after_boat) {
  const std::string said = "a comparison with published figures, no stability check";
  std::vector<std::string> out = a.cautions;
  for (std::string c : a.boat.cautions) {
    if (after_boat && c.rfind(said, 0) == 0) {
      c.erase(0, std::min(c.size(), said.size() + 2));
      if (c.empty()) continue;
    }
    if (std::find(out.begin(), out.end(), c) == out.end()) out.push_back(c);
  }
  return out;
}

std::vector<std::string> failed_pulls(const Setup& s, const Assessment& a) {
  std::vector<std::string> out;
  for (const TestPullAnswer& t : judge_test_pulls(s, a)) {
    if (t.agreement == Agreement::softer || t.agreement == Agreement::came_short) {
      out.push_back("test pull of the " + t.measured.gear + ", " + t.measured.toward + ": " +
                    t.words);
    }
  }
  return out;
}

int kind_of(const Gear& g) { return g.downrigger ? 0 : g.rod_holder ? 1 : 2; }

std::string word_for_kind(const Gear& g) {
  return g.downrigger ? "downrigger" : g.rod_holder ? "rod holder" : "load";
}

const Gear* gear_called(const Setup& s, const std::string& name) {
  for (const Gear& g : s.gear) {
    if (g.name == name) return &g;
  }
  return nullptr;
}

std::string whose(const Setup& s, const std::vector<std::string>& names) {
  if (s.gear.size() < 2 || names.empty()) return "";
  if (const Gear* first = gear_called(s, names.front())) {
    const auto of_kind = std::count_if(s.gear.begin(), s.gear.end(), [&](const Gear& other) {
      return kind_of(other) == kind_of(*first);
    });
    if (names.size() > 1 && std::size_t(of_kind) == names.size()) {
      return "each " + word_for_kind(*first) + ": ";
    }
  }
  return text::joined(names) + ": ";
}

std::vector<std::string> wires(const Setup& s, const std::vector<TowingRow>& rows, bool brief) {
  const ReaderUnits u = s.units;
  std::vector<std::string> out;
  for (const auto& [r, names] : grouped(rows)) {
    // Where all are alike it need not be said.
    const std::string of = whose(s, names);
    std::string t = brief && of.rfind("each ", 0) == 0 ? std::string() : of;
    if (r.too_flat) {
      t += "the ball will not reach " + far(r.depth, u) + " at " + pace(r.fastest, u) +
           ", its wire goes flat: slower, a heavier ball or a thinner wire";
    } else {
      t += far(r.depth, u) + " down needs about " + far(r.wire_out, u) + " of wire at " +
           pace(r.fastest, u) + ", trails " + far(r.layback, u);
    }
    if (!brief) t += "; " + pulls(r, u);
    out.push_back(t);
  }
  return out;
}

std::vector<std::string> wires_in_full(const Setup& s, const std::vector<TowingRow>& rows) {
  const ReaderUnits u = s.units;
  std::vector<std::string> out;
  for (const auto& [r, names] : grouped(rows)) {
    std::string t = whose(s, names) + far(r.depth, u) + " down, ";
    t += pace(r.slowest, u) == pace(r.fastest, u)
             ? "at " + text::both_paces(r.fastest, u)
             : "from " + text::both_paces(r.slowest, u) + " to " + text::both_paces(r.fastest, u);
    t += ": " + pulls(r, u) + "; ";
    if (r.too_flat) {
      t += "at the fastest the ball does not reach that depth, the wire goes flat: slower, a "
           "heavier ball or a thinner wire";
    } else {
      t += "at the fastest about " + far(r.wire_out, u) + " of wire out, the ball " +
           far(r.layback, u) + " behind the tip; with weed or a strumming wire up to " +
           far(r.greatest_wire_out, u) + " of wire";
    }
    out.push_back(t);
  }
  return out;
}

std::string socket(const SocketRow& r, ReaderUnits u) {
  const bool out_of = r.along.value() >= 0;
  std::string t = r.gear + ", " + r.case_title + ", " + show(r.pull, u) + " on the line: " +
                  (out_of ? "pulls the rod out of its tube with "
                          : "pushes the rod into its tube "
                            "with ") +
                  show(Force(out_of ? r.along : -r.along), u) + ", across it " + show(r.across, u) +
                  ", bends the butt with " + show(r.bending, u);
  if (r.at_rim.value() != 0 || r.at_foot.value() != 0) {
    t += "; the tube takes " + show(r.at_rim, u) + " at its rim and " + show(r.at_foot, u) +
         " at the foot of the butt";
  }
  return t + "; twists the mount about the upright with " + show(r.twist, u);
}

std::string boat(const Setup& s, const BoatSide& b, bool brief) {
  if (!b.described) return "";
  const ReaderUnits u = s.units;
  std::string t = brief ? "no stability check" : "a comparison, no stability check";
  // Gears whose pulls agree share one.
  std::vector<std::pair<HeelPull, std::vector<std::string>>> groups;
  for (const HeelPull& p : b.pulls) {
    const auto known = std::find_if(groups.begin(), groups.end(), [&](const auto& g) {
      return alike(g.first.notice, p.notice) && alike(g.first.strong, p.strong) &&
             alike(g.first.swamping, p.swamping);
    });
    if (known == groups.end()) {
      groups.push_back({p, {p.gear}});
      continue;
    }
    HeelPull& own = known->first;
    own.notice = std::min(own.notice, p.notice);
    own.strong = lesser(own.strong, p.strong);
    own.swamping = lesser(own.swamping, p.swamping);
    known->second.push_back(p.gear);
  }
  for (const auto& [p, names] : groups) {
    t += brief && groups.size() == 1 ? ": " : "; " + whose(s, names);
    t += levels(p, u);
  }
  if (!brief && !b.rows.empty()) {
    t += "; worst: " + b.rows.front().title + ", " + heels_like(b.rows.front(), u, false);
  }
  return t;
}

std::vector<std::string> boat_in_full(const Setup& s, const BoatSide& b) {
  const ReaderUnits u = s.units;
  std::vector<std::string> out;
  if (b.described) {
    out.push_back("height of the metacentre above the centre of gravity, as used: " + far(b.gm, u) +
                  (b.gm_from.empty() ? "" : " (" + b.gm_from + ")") +
                  "; the gunwale meets the water at " + show(b.edge_angle) +
                  "; the published threshold, a moment of " + show(b.threshold, u));
    for (const HeelPull& p : b.pulls) {
      std::string t = p.gear + ": " + levels(p, u);
      if (const auto set = boat_setting(p)) {
        t += "; setting for the boat " + about(*set, u, Rounding::down);
      }
      out.push_back(t);
    }
  }
  // Mirrored gears share a row.
  struct Shared {
    const HeelRow* row;
    std::string title;  // without the gear
    std::vector<std::string> gears;
  };
  std::vector<Shared> rows;
  for (const HeelRow& r : b.rows) {
    const std::string end = ", " + r.gear;
    std::string title = r.title;
    const bool named = !r.gear.empty() && text::ends_with(title, end);
    if (named) title.resize(title.size() - end.size());
    const auto same = std::find_if(rows.begin(), rows.end(), [&](const Shared& o) {
      return named && !o.gears.empty() && o.title == title && alike(o.row->pull, r.pull) &&
             o.row->level == r.level &&
             std::abs((o.row->moment - r.moment).value()) <= 0.01 * o.row->moment.value();
    });
    if (same != rows.end()) {
      same->gears.push_back(r.gear);
    } else {
      rows.push_back(
          {&r, title, named ? std::vector<std::string>{r.gear} : std::vector<std::string>{}});
    }
  }
  for (const Shared& r : rows) {
    const std::string of = whose(s, r.gears);
    std::string t = r.title + (of.size() > 2 ? ", " + of.substr(0, of.size() - 2) : "") + ": " +
                    heels_like(*r.row, u, true) + "; moment " + show(r.row->moment, u);
    if (!r.row->direction.empty()) t += ", " + r.row->direction;
    out.push_back(t);
  }
  return out;
}

}  // namespace thole::beside
