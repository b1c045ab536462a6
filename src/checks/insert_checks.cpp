// Inserts, self-tapping screws and rivets in a metal wall.

#include <algorithm>

#include <thole/display.hpp>
#include <thole/metal_strength.hpp>
#include <thole/thread.hpp>

#include "checks/checks.hpp"
#include "core/geometry.hpp"
#include "core/metal_hold.hpp"

namespace thole::checks {

namespace {

// Waves and towing pull again and again: half, as of sheet that heads are pulled through (EN
// 1993-1-3 Table 8.2, the row for repeated wind load).
double repeated(Category c) { return c == Category::everyday ? 0.5 : 1.0; }

constexpr const char* no_insert = "no thread inserts";
constexpr const char* no_blind_insert = "no blind inserts";
constexpr const char* no_rivet = "no rivets";
constexpr const char* no_channel = "a rivet needs a flat wall, not a screw channel";

// Area x strength of the metal of a solid rivet; of any rivet not above what is given.
std::optional<Force> rivet_shear_strength(const Fastening& f) {
  std::optional<Force> out;
  if (!f.rivet->blind) out = root_area(f.thread) * f.material.shear_ultimate;
  if (f.rivet->shear && (!out || f.rivet->shear->value < *out)) out = f.rivet->shear->value;
  return out;
}

// As given, but no more than it takes to draw the head behind through the wall or the plate there,
// counted 1.3 D wide, the least that it is driven to (MIL-HDBK-5H, 8.1.2).
Force rivet_tension_strength(const Fastening& f, const Host& h) {
  const Length sheet = f.backing ? f.backing->thickness : h.thickness;
  const Metal& metal = f.backing ? f.backing->metal : h.metal;
  const Force over = pull_over(sheet, 1.3 * f.thread.diameter, f.thread.clearance, metal).strength;
  return std::min(f.rivet->tension->value, over);
}

}  // namespace

// ---- Thread inserts
// ------------------------------------------------------------------------------

Applicability insert_pull_out_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  if (!f.insert) return {Standing::not_concerned, no_insert};
  const bool bar = geometry::in_bar(f);
  if (h.screw_channel && !bar) {
    return {Standing::refused,
            "a screw channel of an extrusion is no tapped hole: no published rule covers it"};
  }
  const Length metal = bar ? f.backing->thickness : h.thickness;
  if (metal < (1 - 1e-6) * f.insert->length) {
    return {Standing::refused, "impossible in " + show(metal, s.units) +
                                   ": an insert needs metal at least as thick as it is long, " +
                                   show(f.insert->length, s.units)};
  }
  if (!(geometry::thread_depth(f, h).value() > 0)) {
    return {Standing::refused, "the countersink leaves no thread"};
  }
  if (f.insert->solid && !f.insert->pull_out) {
    return {Standing::refused,
            "no published source for solid inserts: their maker's area times the shear strength "
            "of this metal, as thread_insert.pull_out"};
  }
  if (!geometry::threaded_metal(f, h).aluminium && !f.insert->solid) {
    return {Standing::refused,
            "the rule for coil inserts is for aluminium: no published source for this metal"};
  }
  return {};
}

Use insert_pull_out(const Setup& s, const Actions& a, Category) {
  const Force strength = held_in_metal(s.plate().fastening, s.plate().host).value_or(Force{});
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

// ---- Blind inserts
// -------------------------------------------------------------------------------

Applicability blind_insert_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!f.blind) return {Standing::not_concerned, no_blind_insert};
  if (s.plate().host.screw_channel) {
    return {Standing::refused, "a blind insert needs a flat wall, not a screw channel"};
  }
  if (!f.blind->pull_out) {
    return {Standing::refused,
            "no published source for what pulls a blind insert out of a sheet: its maker's figure "
            "for such a wall, or a test in scrap, as blind_insert.pull_out"};
  }
  return {};
}

Use blind_insert_pull_out(const Setup& s, const Actions& a, Category c) {
  const Force strength =
      repeated(c) * held_in_metal(s.plate().fastening, s.plate().host).value_or(Force{});
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Applicability insert_thread_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!f.blind) return {Standing::not_concerned, no_blind_insert};
  if (!insert_thread_strength(*f.blind)) {
    return {Standing::not_checked, "the proof load of their thread is not given"};
  }
  return {};
}

Use insert_thread(const Setup& s, const Actions& a, Category) {
  const Force strength = insert_thread_strength(*s.plate().fastening.blind).value_or(Force{});
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

// ---- Screws pushed sideways
// ----------------------------------------------------------------------

Applicability tilting_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!is_screw(f)) return {Standing::not_concerned, "nothing is screwed into the wall"};
  if (geometry::in_bar(f)) return {Standing::not_concerned, "the threads are behind the wall"};
  return {};
}

Use screw_tilting(const Setup& s, const Actions& a, Category) {
  const Host& h = s.plate().host;
  const Force strength = tilting(s.plate().fastening.thread.diameter, h.thickness, h.metal);
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.shear[std::size_t(i)].size()), measured(strength), i};
  });
}

// ---- Rivets
// --------------------------------------------------------------------------------------

Applicability rivet_applies(const Setup& s) {
  if (!s.plate().fastening.rivet) return {Standing::not_concerned, no_rivet};
  return {};
}

Applicability rivet_shear_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!f.rivet) return {Standing::not_concerned, no_rivet};
  if (s.plate().host.screw_channel) return {Standing::refused, no_channel};
  if (!rivet_shear_strength(f)) {
    return {Standing::refused,
            "no published source for blind rivets: their maker's figure as rivet.shear"};
  }
  return {};
}

Use rivet_shear(const Setup& s, const Actions& a, Category) {
  const Force strength = rivet_shear_strength(s.plate().fastening).value_or(Force{});
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.shear[std::size_t(i)].size()), measured(strength), i};
  });
}

Applicability rivet_tension_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!f.rivet) return {Standing::not_concerned, no_rivet};
  if (!f.rivet->tension) {
    return {Standing::refused,
            "no published source for rivets in tension, and the base of a mount always pulls: "
            "through bolts with a plate behind, or screws tapped in a bar; or rivet.tension from "
            "a test"};
  }
  return {};
}

Use rivet_tension(const Setup& s, const Actions& a, Category c) {
  // As of sheet and heads: again and again, half.
  const Force strength = repeated(c) * rivet_tension_strength(s.plate().fastening, s.plate().host);
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Applicability rivet_both_applies(const Setup& s) {
  const Applicability shear = rivet_shear_applies(s);
  return shear.standing == Standing::applies ? rivet_tension_applies(s) : shear;
}

Use rivet_tension_and_shear(const Setup& s, const Actions& a, Category c) {
  const Fastening& f = s.plate().fastening;
  const Force tension = repeated(c) * rivet_tension_strength(f, s.plate().host);
  const Force shear = rivet_shear_strength(f).value_or(Force{});
  return worst_fastener(a, [&](int i) {
    const double sum = a.tension[std::size_t(i)] / tension + a.shear[std::size_t(i)].size() / shear;
    return Use{{sum, Dimension::number}, {1.0, Dimension::number}, i};
  });
}

}  // namespace thole::checks
