// From bytes to a verdict and to every report that is drawn from it.

#include <thole/reading.hpp>
#include <thole/report.hpp>
#include <thole/sheet.hpp>

#include "oracle.hpp"

using namespace thole;

namespace {

/// Of the bytes, so that the same input does the same work: which of the dear parts are done too.
unsigned choice(std::string_view text) {
  unsigned h = 2166136261U;
  for (const char c : text) h = (h ^ static_cast<unsigned char>(c)) * 16777619U;
  return h >> 8U;
}

/// A factor of a check that nothing loads is infinite; the reports have words for it.
void require_factor(const std::string& of, double factor, double demand) {
  if (demand == 0 && factor > 0) return;
  fuzz::require_finite(of.c_str(), factor);
}

template <class Q>
void require_limit(const char* of, const std::optional<Q>& limit) {
  if (!limit) return;
  fuzz::require_finite(of, limit->value());
  if (limit->value() < 0) fuzz::found("a limit below zero", of);
}

// The reports write NaN as "?" and null, so it is looked for before them.
void require_sound(const Assessment& a) {
  if (a.verdict == Verdict::no_verdict) {
    // Of a mount that moves no check was finished; the reports show none.
    if (a.reasons.empty()) fuzz::found("no verdict and no reason", a.sentence);
    return;
  }
  for (const CheckResult& c : a.checks) {
    if (c.standing != Standing::applies) continue;
    fuzz::require_finite(c.mode.c_str(), c.demand.si);
    fuzz::require_finite(c.mode.c_str(), c.strength.si);
    require_factor(c.mode, c.factor, c.demand.si);
    require_limit(c.mode.c_str(), c.goes_at);
    require_limit(c.mode.c_str(), c.limit_at);
    if (c.holds && c.factor < c.needed * (1 - 1e-9)) fuzz::found("holds below its factor", c.mode);
    if (!(c.needed > 0)) fuzz::found("a check without a factor needed", c.mode);
    if (a.verdict == Verdict::holds && !c.holds && c.mode.find("fatigue") == std::string::npos) {
      fuzz::found("the verdict is holds, and a check fails", c.mode);
    }
  }
  for (const auto& limit : {a.hold_limit, a.not_before, a.setting, a.test_pull, a.handhold}) {
    require_limit("a limit of the mount", limit);
  }
  for (const GearLimit& g : a.gear_limits) {
    for (const auto& limit : {g.hold_limit, g.not_before, g.setting, g.test_pull}) {
      require_limit("a limit of a gear", limit);
    }
  }
  for (const FastenerRow& f : a.fasteners) {
    fuzz::require_finite("tension of a fastener", f.tension.value());
    fuzz::require_finite("shear of a fastener", f.shear.value());
  }
  for (const SupportRow& s : a.supports) {
    fuzz::require_finite("force of a support", s.force.value());
  }
  for (const MovementRow& m : a.movements) fuzz::require_finite("a movement", m.tip.value());
  for (const TowingRow& t : a.towing) {
    fuzz::require_finite("a towed wire", t.greatest_pull.value());
    fuzz::require_finite("a towed wire", t.wire_out.value());
  }
  for (const HeelRow& h : a.boat.rows) fuzz::require_finite("a moment", h.moment.value());
  for (const SocketRow& s : a.sockets) {
    fuzz::require_finite("a tube", s.at_rim.value());
    fuzz::require_finite("a tube", s.bending.value());
  }
}

void report(const Setup& setup, const Assessment& a, std::string_view input) {
  const std::string brief = terminal_report(setup, a);
  const std::string full = terminal_report(setup, a, {.colour = false, .details = true});
  fuzz::require_text("terminal report", brief);
  fuzz::require_text("terminal report with details", full);
  fuzz::require_numbers("terminal report", full, input);
  const std::string json = json_report(setup, a);
  fuzz::require_text("JSON report", json);
  fuzz::require_json("JSON report", json);

  SheetContent content{setup,       a,  built_in_materials(), {},       {},
                       "fuzz.yaml", "", "2026-01-01",         Paper::a4};
  for (const std::string& page : {sheet_html(content), template_html(content)}) {
    fuzz::require_text("sheet", page);
    fuzz::require_numbers("sheet", page, input);
  }
  for (const std::string& drawn : {plates_svg(content), plates_dxf(content)}) {
    fuzz::require_text("drawing", drawn, true);
    fuzz::require_numbers("drawing", drawn, input);
  }
  const std::string csv = forces_csv(setup, a);
  for (std::size_t from = 0; from < csv.size();) {
    const std::size_t end = std::min(csv.find("\r\n", from), csv.size());
    fuzz::require_text("table of forces", csv.substr(from, end - from));
    from = end + 2;
  }
  fuzz::require_numbers("table of forces", csv, input);
}

void report_cases(const Setup& setup, std::string_view input) {
  const std::vector<LoadCase> cases = load_cases(setup);
  const Assessment side = beside_the_checks(setup, cases);
  const std::string table = load_table(setup, cases, side, {.colour = false, .details = true});
  fuzz::require_text("table of cases", table);
  fuzz::require_numbers("table of cases", table, input);
  fuzz::require_json("cases as JSON", load_table_json(setup, cases, side));
  if (!setup.fit) return;
  const FitAnswer answer = look_at_fit(setup);
  fuzz::require_text("table of what is near", fit_table(setup, answer));
  fuzz::require_json("what is near as JSON", fit_table_json(setup, answer));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  std::optional<Setup> setup;
  if (!fuzz::reads([&] { setup = read_setup(text, "fuzz.yaml", built_in_materials()); })) return 0;
  fuzz::reads([&] { report_cases(*setup, text); });
  const unsigned dear = choice(text) % 8U;
  AssessOptions options = dear == 0U ? sheet_options() : AssessOptions{};
  options.step = degrees(30);
  options.forces = true;
  options.neighbours = dear < 4U;
  fuzz::reads([&] {
    const Assessment a = assess(*setup, options);
    require_sound(a);
    report(*setup, a, text);
  });
  return 0;
}
