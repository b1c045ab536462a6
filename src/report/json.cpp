#include <cmath>

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

void check(Json& j, const CheckResult& c) {
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
  for (const CheckResult& c : a.checks) check(j, c);
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
    j.key("range_deg").open('{');
    j.key("azimuth").open('[');
    j.number(in_degrees(c.load_case.range.azimuth_from));
    j.number(in_degrees(c.load_case.range.azimuth_to));
    j.close(']');
    j.key("dip").open('[');
    j.number(in_degrees(c.load_case.range.dip_from));
    j.number(in_degrees(c.load_case.range.dip_to));
    j.close(']');
    j.close('}');
    j.key("holds").yes_no(c.holds);
    j.key("worst_mode").text(c.worst_mode);
    j.key("factor");
    if (c.motion.empty()) {
      j.number(c.factor);
    } else {
      j.null();
    }
    j.key("factor_needed").number(c.needed);
    j.key("direction").text(c.direction);
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
  j.key("what_to_do").texts(a.to_do);
  j.key("cautions").texts(a.cautions);
  j.key("not_checked").texts(a.not_checked);
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
  j.key("scope").text(wording::scope);
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

std::string report_schema() {
  // Kept beside the writer; a test validates every example's report against it.
  return R"({"$schema": "https://json-schema.org/draft/2020-12/schema",
"title": "thole report, format 1",
"description": "SI values. A value of null is not known or does not apply.",
"type": "object",
"$defs": {
 "texts": {"type": "array", "items": {"type": "string"}},
 "maybe": {"type": ["number", "null"]},
 "source": {"type": "object", "additionalProperties": false, "required": ["title", "seen"],
  "properties": {"title": {"type": "string"}, "seen": {"type": "string"}}},
 "check": {"type": "object", "additionalProperties": false,
  "required": ["mode", "gives_way", "standing"],
  "properties": {"mode": {"type": "string"}, "gives_way": {"type": "string"},
   "standing": {"enum": ["assessed", "not concerned", "not checked", "refused"]},
   "why": {"type": "string"}, "unit": {"type": "string"}, "demand": {"type": "number"},
   "strength": {"type": "number"}, "factor": {"$ref": "#/$defs/maybe"},
   "factor_needed": {"type": "number"}, "factor_needed_lowered": {"type": "boolean"},
   "holds": {"type": "boolean"}, "fastener": {"type": ["integer", "null"]},
   "case": {"type": "string"}, "direction": {"type": "string"},
   "goes_at_N": {"$ref": "#/$defs/maybe"}, "limit_at_N": {"$ref": "#/$defs/maybe"},
   "assumed_inputs": {"$ref": "#/$defs/texts"}, "source": {"$ref": "#/$defs/source"},
   "valid": {"type": "string"}, "accuracy": {"type": "string"},
   "outside_checks": {"type": "integer"}, "proof": {"type": "string"},
   "advice": {"type": "string"}}}},
"additionalProperties": false,
"required": ["format", "thole", "verdict", "sentence", "limits", "checks", "cases", "cautions",
 "not_checked", "inputs", "sources", "deferral"],
"properties": {
 "format": {"const": 1}, "thole": {"type": "string"}, "title": {"type": "string"},
 "verdict": {"enum": ["holds", "holds if", "does not hold", "no verdict"]},
 "sentence": {"type": "string"}, "reasons": {"$ref": "#/$defs/texts"},
 "holds_if": {"$ref": "#/$defs/texts"},
 "limits": {"type": "object", "additionalProperties": {"$ref": "#/$defs/maybe"},
  "required": ["hold_limit_N", "not_before_about_N", "setting_N"]},
 "checks": {"type": "array", "items": {"$ref": "#/$defs/check"}},
 "cases": {"type": "array", "items": {"type": "object",
  "required": ["id", "title", "category", "decides", "pull_N", "holds"]}},
 "fasteners": {"type": "array", "items": {"type": "object",
  "required": ["forward_m", "outboard_m", "tension_N", "shear_N"]}},
 "ladder": {"type": "array", "items": {"type": "object", "required": ["what", "low_N", "high_N"]}},
 "ladder_verdict": {"type": "string"},
 "walls": {"type": "array", "items": {"type": "object",
  "required": ["thickness_m", "position", "verdict"]}},
 "what_to_do": {"$ref": "#/$defs/texts"}, "cautions": {"$ref": "#/$defs/texts"},
 "not_checked": {"$ref": "#/$defs/texts"},
 "inputs": {"type": "array", "items": {"type": "object",
  "required": ["path", "label", "known", "in_file"]}},
 "sources": {"type": "array", "items": {"$ref": "#/$defs/source"}},
 "scope": {"type": "string"}, "deferral": {"type": "string"}}}
)";
}

}  // namespace thole
