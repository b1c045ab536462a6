#include <algorithm>
#include <cmath>

#include <thole/check.hpp>
#include <thole/report.hpp>

#include "core/json_text.hpp"
#include "report/wording.hpp"

namespace thole {

namespace {

// A writer with indentation; the caller keeps objects and lists balanced.
class Json {
 public:
  void open(char bracket) {
    comma();
    out_ += bracket;
    ++depth_;
    fresh_ = true;
  }
  void close(char bracket) {
    --depth_;
    if (!fresh_) line();
    out_ += bracket;
    fresh_ = false;
  }
  Json& key(const char* name) {
    comma();
    out_ += json_text(name) + ": ";
    after_key_ = true;
    return *this;
  }
  void text(const std::string& v) { put(json_text(v)); }
  void number(double v) { put(exact_number(v)); }
  void integer(long v) { put(std::to_string(v)); }
  void yes_no(bool v) { put(v ? "true" : "false"); }
  void null() { put("null"); }
  template <class Q>
  void maybe(const std::optional<Q>& q) {
    if (q) {
      number(q->value());
    } else {
      null();
    }
  }
  void texts(const std::vector<std::string>& list) {
    open('[');
    for (const std::string& t : list) text(t);
    close(']');
  }
  std::string take() { return out_ + "\n"; }

 private:
  void put(const std::string& v) {
    comma();
    out_ += v;
    fresh_ = false;
  }
  void comma() {
    if (after_key_) {
      after_key_ = false;
      return;
    }
    if (depth_ == 0) return;
    if (!fresh_) out_ += ',';
    line();
    fresh_ = false;
  }
  void line() { out_ += '\n' + std::string(std::size_t(depth_) * 2, ' '); }

  std::string out_;
  int depth_ = 0;
  bool fresh_ = true;
  bool after_key_ = false;
};

const char* word_for(Standing s) {
  switch (s) {
    case Standing::applies:
      return "assessed";
    case Standing::not_concerned:
      return "not concerned";
    case Standing::not_checked:
      return "not checked";
    case Standing::refused:
      return "refused";
  }
  return "";
}

const char* unit_of(Dimension d) {
  switch (d) {
    case Dimension::number:
      return "1";
    case Dimension::length:
      return "m";
    case Dimension::area:
      return "m2";
    case Dimension::force:
      return "N";
    case Dimension::moment:
      return "N m";
    case Dimension::stress:
      return "Pa";
    case Dimension::mass:
      return "kg";
    case Dimension::density:
      return "kg/m3";
    case Dimension::speed:
      return "m/s";
    case Dimension::angle:
      return "rad";
    case Dimension::bending_stiffness:
      return "N m2";
  }
  return "";
}

void citation(Json& j, const Citation& c) {
  j.open('{');
  j.key("title").text(c.title + (c.place.empty() ? "" : ", " + c.place));
  j.key("seen").text(std::string(sentence_for(c.seen)));
  j.close('}');
}

// A range of directions, without the key.
void range(Json& j, const DirectionRange& r) {
  j.open('{');
  j.key("azimuth").open('[');
  j.number(in_degrees(r.azimuth_from));
  j.number(in_degrees(r.azimuth_to));
  j.close(']');
  j.key("dip").open('[');
  j.number(in_degrees(r.dip_from));
  j.number(in_degrees(r.dip_to));
  j.close(']');
  j.close('}');
}

bool limit_of_use(const Setup& s, const CheckResult& c) {
  const auto list = catalogue_for(s);
  return std::any_of(list.begin(), list.end(),
                     [&](const FailureMode& m) { return m.spoils && m.id == c.mode; });
}

void check(Json& j, const Setup& s, const CheckResult& c) {
  j.open('{');
  j.key("mode").text(c.mode);
  j.key("gives_way").text(c.gives_way);
  j.key("standing").text(word_for(c.standing));
  if (c.standing != Standing::applies) {
    j.key("why").text(c.why);
    j.close('}');
    return;
  }
  j.key("unit").text(unit_of(c.strength.dimension));
  j.key("demand").number(c.demand.si);
  j.key("strength").number(c.strength.si);
  j.key("factor").number(c.factor);
  j.key("factor_needed").number(c.needed);
  j.key("factor_needed_lowered").yes_no(c.lowered);
  j.key("holds").yes_no(c.holds);
  j.key("fastener");
  if (c.fastener >= 0) {
    j.integer(c.fastener + 1);
  } else {
    j.null();
  }
  j.key("where").text(c.where);
  j.key("limit_of_use").yes_no(limit_of_use(s, c));
  j.key("case").text(c.case_title);
  j.key("direction").text(c.direction);
  j.key("goes_at_N").maybe(c.goes_at);
  j.key("limit_at_N").maybe(c.limit_at);
  j.key("assumed_inputs").texts(c.assumed);
  j.key("source");
  citation(j, c.source);
  j.key("valid").text(c.valid);
  j.key("accuracy").text(c.accuracy);
  j.key("outside_checks").integer(c.outside_checks);
  j.key("proof").text(c.outside_checks >= 2 ? "checked against outside sources"
                                            : "formula seen, not proved outside");
  j.key("advice").text(c.advice);
  j.close('}');
}

}  // namespace

std::string json_report(const Setup& s, const Assessment& a) {
  Json j;
  j.open('{');
  j.key("format").integer(report_format);
  j.key("thole").text(version());
  j.key("title").text(s.title);
  j.key("verdict").text(std::string(word_for(a.verdict)));
  j.key("sentence").text(a.sentence);
  j.key("reasons").texts(a.reasons);
  j.key("holds_if").texts(a.holds_if);
  j.key("limits").open('{');
  j.key("hold_limit_N").maybe(a.hold_limit);
  j.key("not_before_about_N").maybe(a.not_before);
  j.key("setting_N").maybe(a.setting);
  j.key("test_pull_N").maybe(a.test_pull);
  j.key("handhold_gives_way_N").maybe(a.handhold);
  j.close('}');
  j.key("checks").open('[');
  // A board that moves as a whole has no forces: what was met before is no result.
  const bool mechanism =
      s.on_board() && std::any_of(a.cases.begin(), a.cases.end(), [](const CaseResult& c) {
        return c.load_case.decides && !c.motion.empty();
      });
  for (CheckResult c : a.checks) {
    if (mechanism && c.standing == Standing::applies && !wording::of_distances(c)) {
      c.standing = Standing::not_checked;
      c.why = wording::no_figures;
    }
    check(j, s, c);
  }
  j.close(']');
  j.key("cases").open('[');
  for (const CaseResult& c : a.cases) {
    j.open('{');
    j.key("id").text(c.load_case.id);
    j.key("title").text(c.load_case.title);
    j.key("category").text(std::string(word_for(c.load_case.category)));
    j.key("decides").yes_no(c.load_case.decides);
    j.key("why").text(c.load_case.why);
    j.key("pull_N").number(c.load_case.pull.value());
    j.key("range_deg");
    range(j, c.load_case.range);
    j.key("ranges_deg").open('[');
    for (const DirectionRange& r : c.load_case.ranges) range(j, r);
    j.close(']');
    j.key("gear");
    if (c.load_case.gear >= 0 && std::size_t(c.load_case.gear) < s.gear.size()) {
      j.text(s.gear[std::size_t(c.load_case.gear)].name);
    } else {
      j.null();
    }
    j.key("all_gears").yes_no(c.load_case.all_gears);
    j.key("peak_g");
    if (c.load_case.path == LoadPath::ride) {
      j.number(c.load_case.peak);
    } else {
      j.null();
    }
    const bool no_figures = s.on_board() && c.motion.empty() && (mechanism || c.worst_mode.empty());
    j.key("holds");
    if (no_figures) {
      j.null();
    } else {
      j.yes_no(c.holds);
    }
    j.key("worst_mode").text(no_figures ? std::string() : c.worst_mode);
    j.key("factor");
    if (c.motion.empty() && !no_figures) {
      j.number(c.factor);
    } else {
      j.null();
    }
    j.key("factor_needed").number(c.needed);
    j.key("direction").text(no_figures ? std::string() : c.direction);
    j.key("goes_at_N").maybe(c.goes_at);
    j.key("motion").text(c.motion);
    j.close('}');
  }
  j.close(']');
  j.key("fasteners").open('[');
  for (const FastenerRow& f : a.fasteners) {
    j.open('{');
    j.key("forward_m").number(f.at.x.value());
    j.key("outboard_m").number(f.at.y.value());
    j.key("tension_N").number(f.tension.value());
    j.key("shear_N").number(f.shear.value());
    j.close('}');
  }
  j.close(']');
  j.key("ladder").open('[');
  for (const LadderStep& step : a.ladder) {
    j.open('{');
    j.key("what").text(step.what);
    j.key("link").yes_no(step.link);
    j.key("low_N").maybe(step.low);
    j.key("high_N").maybe(step.high);
    j.close('}');
  }
  j.close(']');
  j.key("ladder_verdict").text(a.ladder_verdict);
  j.key("walls").open('[');
  for (const WallRow& w : a.walls) {
    j.open('{');
    j.key("thickness_m").number(w.thickness.value());
    j.key("position").text(w.position);
    j.key("verdict").text(w.verdict);
    j.key("factor_over_needed").number(w.worst_ratio);
    j.key("gives_way").text(w.gives_way);
    j.key("hold_limit_N").maybe(w.hold_limit);
    j.close('}');
  }
  j.close(']');
  j.key("gear_limits").open('[');
  for (const GearLimit& l : a.gear_limits) {
    j.open('{');
    j.key("gear").text(l.gear);
    j.key("hold_limit_N").maybe(l.hold_limit);
    j.key("set_by").text(l.set_by);
    j.key("tips").text(l.tips);
    j.key("direction").text(l.direction);
    j.key("not_before_about_N").maybe(l.not_before);
    j.key("first_to_go").text(l.first);
    j.key("setting_N").maybe(l.setting);
    j.key("test_pull_N").maybe(l.test_pull);
    j.close('}');
  }
  j.close(']');
  j.key("supports").open('[');
  for (const SupportRow& r : a.supports) {
    j.open('{');
    j.key("name").text(r.name);
    j.key("force_N").number(r.force.value());
    j.key("open").yes_no(r.open);
    j.close('}');
  }
  j.close(']');
  j.key("movements").open('[');
  for (const MovementRow& m : a.movements) {
    j.open('{');
    j.key("gear").text(m.gear);
    j.key("pull_N").number(m.pull.value());
    j.key("tip_m").number(m.tip.value());
    j.key("base_m").number(m.base.value());
    j.key("turn_rad").number(m.turn.value());
    j.key("feel").text(m.feel);
    j.close('}');
  }
  j.close(']');
  j.key("what_to_do").texts(a.to_do);
  j.key("cautions").texts(a.cautions);
  j.key("not_checked").texts(a.not_checked);
  j.key("notes").texts(a.notes);
  j.key("inputs").open('[');
  for (const Input& i : s.inputs) {
    j.open('{');
    j.key("path").text(i.path);
    j.key("label").text(i.label);
    if (i.is_text) {
      j.key("value").text(i.value);
    } else {
      j.key("si").number(i.si);
    }
    j.key("known").text(std::string(word_for(i.known)));
    j.key("in_file").yes_no(!i.defaulted);
    j.close('}');
  }
  j.close(']');
  j.key("sources").open('[');
  for (const Citation& c : a.sources) citation(j, c);
  j.close(']');
  j.key("scope").text(s.on_board() ? wording::board_scope : wording::scope);
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

std::string report_schema() {
  // Kept beside the writer; a test validates every example's report against it.
  return R"({"$schema": "https://json-schema.org/draft/2020-12/schema",
"title": "thole report, format 1",
"description": "SI values. A value of null is not known or does not apply.",
"$comment": "Keys may be added within a format; none is taken away or changed.",
"type": "object",
"$defs": {
 "texts": {"type": "array", "items": {"type": "string"}},
 "maybe": {"type": ["number", "null"]},
 "between": {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2},
 "range": {"type": "object", "additionalProperties": false, "required": ["azimuth", "dip"],
  "properties": {"azimuth": {"$ref": "#/$defs/between"}, "dip": {"$ref": "#/$defs/between"}}},
 "source": {"type": "object", "additionalProperties": false, "required": ["title", "seen"],
  "properties": {"title": {"type": "string"}, "seen": {"type": "string"}}},
 "check": {"type": "object", "additionalProperties": false,
  "required": ["mode", "gives_way", "standing"],
  "properties": {"mode": {"type": "string"}, "gives_way": {"type": "string"},
   "standing": {"enum": ["assessed", "not concerned", "not checked", "refused"]},
   "why": {"type": "string"}, "unit": {"type": "string"}, "demand": {"$ref": "#/$defs/maybe"},
   "strength": {"$ref": "#/$defs/maybe"}, "factor": {"$ref": "#/$defs/maybe"},
   "factor_needed": {"type": "number"}, "factor_needed_lowered": {"type": "boolean"},
   "holds": {"type": "boolean"}, "fastener": {"type": ["integer", "null"]},
   "where": {"type": "string"}, "limit_of_use": {"type": "boolean"},
   "case": {"type": "string"}, "direction": {"type": "string"},
   "goes_at_N": {"$ref": "#/$defs/maybe"}, "limit_at_N": {"$ref": "#/$defs/maybe"},
   "assumed_inputs": {"$ref": "#/$defs/texts"}, "source": {"$ref": "#/$defs/source"},
   "valid": {"type": "string"}, "accuracy": {"type": "string"},
   "outside_checks": {"type": "integer"}, "proof": {"type": "string"},
   "advice": {"type": "string"}}}},
"additionalProperties": false,
"required": ["format", "thole", "verdict", "sentence", "limits", "checks", "cases", "gear_limits",
 "supports", "movements", "cautions", "not_checked", "notes", "inputs", "sources", "deferral"],
"properties": {
 "format": {"const": 1}, "thole": {"type": "string"}, "title": {"type": "string"},
 "verdict": {"enum": ["holds", "holds if", "does not hold", "no verdict"]},
 "sentence": {"type": "string"}, "reasons": {"$ref": "#/$defs/texts"},
 "holds_if": {"$ref": "#/$defs/texts"},
 "limits": {"type": "object", "additionalProperties": {"$ref": "#/$defs/maybe"},
  "required": ["hold_limit_N", "not_before_about_N", "setting_N"]},
 "checks": {"type": "array", "items": {"$ref": "#/$defs/check"}},
 "cases": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["id", "title", "category", "decides", "pull_N", "gear", "all_gears", "ranges_deg",
   "holds"],
  "properties": {"id": {"type": "string"}, "title": {"type": "string"},
   "category": {"enum": ["everyday", "occasional", "accident"]},
   "decides": {"type": "boolean"}, "why": {"type": "string"}, "pull_N": {"type": "number"},
   "range_deg": {"$ref": "#/$defs/range"},
   "ranges_deg": {"description": "all parts of the range, of a board",
    "type": "array", "items": {"$ref": "#/$defs/range"}},
   "gear": {"description": "whose pull it is, of a board", "type": ["string", "null"]},
   "all_gears": {"description": "every gear pulls at once", "type": "boolean"},
   "peak_g": {"description": "vertical acceleration on top of gravity, in g",
    "$ref": "#/$defs/maybe"},
   "holds": {"description": "null: no figures", "type": ["boolean", "null"]},
   "worst_mode": {"type": "string"}, "factor": {"$ref": "#/$defs/maybe"},
   "factor_needed": {"type": "number"}, "direction": {"type": "string"},
   "goes_at_N": {"$ref": "#/$defs/maybe"}, "motion": {"type": "string"}}}},
 "fasteners": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["forward_m", "outboard_m", "tension_N", "shear_N"],
  "properties": {"forward_m": {"type": "number"}, "outboard_m": {"type": "number"},
   "tension_N": {"type": "number"}, "shear_N": {"type": "number"}}}},
 "ladder": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["what", "low_N", "high_N"],
  "properties": {"what": {"type": "string"}, "link": {"type": "boolean"},
   "low_N": {"$ref": "#/$defs/maybe"}, "high_N": {"$ref": "#/$defs/maybe"}}}},
 "ladder_verdict": {"type": "string"},
 "walls": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["thickness_m", "position", "verdict"],
  "properties": {"thickness_m": {"type": "number"}, "position": {"type": "string"},
   "verdict": {"type": "string"}, "factor_over_needed": {"$ref": "#/$defs/maybe"},
   "gives_way": {"type": "string"}, "hold_limit_N": {"$ref": "#/$defs/maybe"}}}},
 "gear_limits": {"description": "of each gear of a board", "type": "array",
  "items": {"type": "object", "additionalProperties": false,
  "required": ["gear", "hold_limit_N", "not_before_about_N", "setting_N", "test_pull_N"],
  "properties": {"gear": {"type": "string"}, "hold_limit_N": {"$ref": "#/$defs/maybe"},
   "set_by": {"type": "string"}, "tips": {"type": "string"}, "direction": {"type": "string"},
   "not_before_about_N": {"$ref": "#/$defs/maybe"}, "first_to_go": {"type": "string"},
   "setting_N": {"$ref": "#/$defs/maybe"}, "test_pull_N": {"$ref": "#/$defs/maybe"}}}},
 "supports": {"description": "of a board, in the worst deciding case; a name may come twice",
  "type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["name", "force_N", "open"],
  "properties": {"name": {"type": "string"}, "force_N": {"type": "number"},
   "open": {"type": "boolean"}}}},
 "movements": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["gear", "pull_N", "tip_m", "base_m", "turn_rad", "feel"],
  "properties": {"gear": {"type": "string"}, "pull_N": {"type": "number"},
   "tip_m": {"type": "number"}, "base_m": {"type": "number"}, "turn_rad": {"type": "number"},
   "feel": {"type": "string"}}}},
 "what_to_do": {"$ref": "#/$defs/texts"}, "cautions": {"$ref": "#/$defs/texts"},
 "not_checked": {"$ref": "#/$defs/texts"}, "notes": {"$ref": "#/$defs/texts"},
 "inputs": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["path", "label", "known", "in_file"],
  "properties": {"path": {"type": "string"}, "label": {"type": "string"},
   "value": {"type": "string"}, "si": {"$ref": "#/$defs/maybe"}, "known": {"type": "string"},
   "in_file": {"type": "boolean"}}}},
 "sources": {"type": "array", "items": {"$ref": "#/$defs/source"}},
 "scope": {"type": "string"}, "deferral": {"type": "string"}}}
)";
}

}  // namespace thole
