#include <algorithm>
#include <cmath>

#include <thole/assumptions.hpp>
#include <thole/cautions.hpp>
#include <thole/check.hpp>
#include <thole/report.hpp>

#include "report/beside.hpp"
#include "report/json_writer.hpp"
#include "report/ladder_block.hpp"
#include "report/limits_block.hpp"
#include "report/tightening_block.hpp"
#include "report/wording.hpp"

namespace thole {

namespace {

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

const char* word_for(LoadPath p) {
  switch (p) {
    case LoadPath::line:
      return "line";
    case LoadPath::rim:
      return "rim";
    case LoadPath::post:
      return "post";
    case LoadPath::point:
      return "point";
    case LoadPath::tip:
      return "tip";
    case LoadPath::ride:
      return "ride";
    case LoadPath::board:
      return "board";
    case LoadPath::warning:
      return "nothing";
  }
  return "";
}

const char* word_for(CaseOrigin o) {
  switch (o) {
    case CaseOrigin::listed:
      return "listed";
    case CaseOrigin::changed:
      return "changed";
    case CaseOrigin::added:
      return "added";
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
  j.key("part").text(c.part);
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

void write_assumptions(Json& j, const Setup& s) {
  j.key("assumptions").open('[');
  for (const Assumption& a : assumptions_of(s)) {
    j.open('{');
    j.key("id").text(a.id);
    j.key("about").text(a.about);
    j.key("text").text(a.text);
    j.key("errs").text(std::string(word_for(a.errs)));
    j.key("why").text(a.why);
    j.key("said").text(a.said);
    j.close('}');
  }
  j.close(']');
}

}  // namespace

void write_load_case(Json& j, const Setup& s, const LoadCase& c) {
  j.key("id").text(c.id);
  j.key("kind").text(c.kind);
  j.key("title").text(c.title);
  j.key("category").text(std::string(word_for(c.category)));
  j.key("decides").yes_no(c.decides && !wording::not_calculated(c));
  j.key("why").text(c.why);
  j.key("acts_on").text(word_for(c.path));
  j.key("pull_N").number(c.pull.value());
  j.key("pulls_N").open('[');
  for (const Force& f : c.pulls) j.number(f.value());
  j.close(']');
  j.key("range_deg");
  range(j, c.range);
  j.key("ranges_deg").open('[');
  for (const DirectionRange& r : c.ranges) range(j, r);
  j.close(']');
  j.key("directions").texts(wording::directions_of(c));
  j.key("gear");
  if (c.gear >= 0 && std::size_t(c.gear) < s.gear.size()) {
    j.text(s.gear[std::size_t(c.gear)].name);
  } else {
    j.null();
  }
  j.key("others").text(c.others == Others::together ? "together" : "towing");
  j.key("shakes_g").open('[');
  for (const Shake& k : c.shakes) {
    j.open('{');
    j.key("forward").number(k.forward);
    j.key("starboard").number(k.starboard);
    j.key("up").number(k.up);
    j.close('}');
  }
  j.close(']');
  j.key("ball_on_tip").yes_no(c.ball_on_tip);
  j.key("heave_g").number(c.heave);
  j.key("cycles_per_hour").number(c.cycles_per_hour);
  j.key("times_per_season").number(c.times_per_season);
  j.key("depends_on").texts(c.depends_on);
  j.key("origin").text(word_for(c.origin));
  j.key("left_out").yes_no(c.left_out);
  j.key("owners_why").text(c.owners_why);
  j.key("before").text(c.before);
}

void write_towing(Json& j, const std::vector<TowingRow>& rows) {
  j.key("towing").open('[');
  for (const TowingRow& r : rows) {
    j.open('{');
    j.key("gear").text(r.gear);
    j.key("depth_m").number(r.depth.value());
    j.key("wire_out_m").number(r.wire_out.value());
    j.key("layback_m").number(r.layback.value());
    j.key("greatest_wire_out_m").number(r.greatest_wire_out.value());
    j.key("pull_N").open('[');
    j.number(r.least_pull.value());
    j.number(r.greatest_pull.value());
    j.close(']');
    j.key("from_straight_down_rad").open('[');
    j.number(r.least_angle.value());
    j.number(r.greatest_angle.value());
    j.close(']');
    j.key("speed_m_s").open('[');
    j.number(r.slowest.value());
    j.number(r.fastest.value());
    j.close(']');
    j.key("too_flat").yes_no(r.too_flat);
    j.close('}');
  }
  j.close(']');
}

void write_sockets(Json& j, const std::vector<SocketRow>& rows) {
  j.key("sockets").open('[');
  for (const SocketRow& r : rows) {
    j.open('{');
    j.key("gear").text(r.gear);
    j.key("case").text(r.case_title);
    j.key("pull_N").number(r.pull.value());
    j.key("out_of_tube_N").number(r.along.value());
    j.key("across_N").number(r.across.value());
    j.key("bending_Nm").number(r.bending.value());
    j.key("at_rim_N").number(r.at_rim.value());
    j.key("at_foot_N").number(r.at_foot.value());
    j.key("twist_Nm").number(r.twist.value());
    j.close('}');
  }
  j.close(']');
}

void write_boat(Json& j, const BoatSide& b) {
  j.key("boat").open('{');
  j.key("stability_check").yes_no(false);
  j.key("described").yes_no(b.described);
  const auto known = [&](double v) {
    if (b.described) {
      j.number(v);
    } else {
      j.null();
    }
  };
  j.key("gm_m");
  known(b.gm.value());
  j.key("gm_from").text(b.gm_from);
  j.key("edge_angle_rad");
  known(b.edge_angle.value());
  j.key("threshold_Nm");
  known(b.threshold.value());
  j.key("rows").open('[');
  for (const HeelRow& r : b.rows) {
    j.open('{');
    j.key("id").text(r.load_case);
    j.key("title").text(r.title);
    j.key("gear").text(r.gear);
    j.key("pull_N").number(r.pull.value());
    j.key("moment_Nm").number(r.moment.value());
    j.key("direction").text(r.direction);
    j.key("person_off_middle_m").number(r.person_off_middle.value());
    j.key("heel_with_person_rad").maybe(r.heel);
    j.key("heel_alone_rad").maybe(r.heel_alone);
    j.key("level");
    if (r.level) {
      j.text(std::string(word_for(*r.level)));
    } else {
      j.null();
    }
    j.close('}');
  }
  j.close(']');
  j.key("pulls").open('[');
  for (const HeelPull& p : b.pulls) {
    j.open('{');
    j.key("gear").text(p.gear);
    j.key("notice_N").number(p.notice.value());
    j.key("strong_N").maybe(p.strong);
    j.key("swamping_N").maybe(p.swamping);
    j.key("setting_N").maybe(p.setting);
    j.close('}');
  }
  j.close(']');
  j.key("cautions").texts(b.cautions);
  j.key("sources").open('[');
  for (const Citation& c : b.sources) citation(j, c);
  j.close(']');
  j.close('}');
}

void write_build(Json& j) {
  const BuildInfo& b = build_info();
  j.key("build").open('{');
  j.key("name").text("thole");
  j.key("version").text(b.version);
  j.key("tables").text(b.tables);
  j.key("commit").text(b.commit);
  j.key("compiler").text(b.compiler);
  j.key("build_type").text(b.build_type);
  j.close('}');
}

std::string json_report(const Setup& s, const Assessment& a) {
  Json j;
  j.open('{');
  j.key("format").integer(report_format);
  j.key("thole").text(version());
  write_build(j);
  j.key("title").text(s.title);
  j.key("verdict").text(std::string(word_for(a.verdict)));
  j.key("sentence").text(a.sentence);
  j.key("reasons").texts(a.reasons);
  j.key("holds_if").texts(a.holds_if);
  j.key("limits").open('{');
  j.key("hold_limit_N").maybe(a.hold_limit);
  j.key("not_before_about_N").maybe(a.not_before);
  const beside::Setting whole = beside::setting_of(a);
  j.key("setting_N").maybe(whole.pull);
  j.key("mount_setting_N").maybe(a.setting);
  j.key("test_pull_N").maybe(whole.test_pull);
  j.key("handhold_gives_way_N").maybe(a.handhold);
  j.close('}');
  j.key("checks").open('[');
  for (const CheckResult& c : a.checks) check(j, s, c);
  j.close(']');
  // A board that moves as a whole has no forces: what was met before is no result.
  const bool mechanism =
      s.on_board() && std::any_of(a.cases.begin(), a.cases.end(), [](const CaseResult& c) {
        return c.load_case.decides && !c.motion.empty();
      });
  j.key("cases").open('[');
  for (const CaseResult& c : a.cases) {
    j.open('{');
    write_load_case(j, s, c.load_case);
    const bool no_figures = wording::not_calculated(c.load_case) ||
                            (c.motion.empty() && (mechanism || c.worst_mode.empty()));
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
    j.key("factor_needed");
    if (wording::not_calculated(c.load_case)) {
      j.null();
    } else {
      j.number(c.needed);
    }
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
  ladder::write(j, a);
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
  limits::write_margins(j, a);
  if (a.one_missing) {
    const MissingRow& m = *a.one_missing;
    j.key("one_missing").open('{');
    j.key("what").text(m.what);
    j.key("tried").integer(m.tried);
    j.key("of").integer(m.of);
    j.key("verdict").text(std::string(word_for(m.verdict)));
    j.key("reasons").texts(m.reasons);
    j.key("factor_over_needed").number(m.worst_ratio);
    j.key("gives_way").text(m.gives_way);
    j.key("hold_limit_N").maybe(m.hold_limit);
    j.close('}');
  }
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
    j.key("first_mode").text(l.first_mode);
    j.key("all_hung_up_N").maybe(l.all_hung_up);
    j.key("holder_takes_N").maybe(l.holder);
    const beside::Setting setting = beside::setting_of(a, l);
    j.key("setting_N").maybe(setting.pull);
    j.key("setting_by").text(setting.by_boat ? "boat" : "mount");
    j.key("mount_setting_N").maybe(l.setting);
    j.key("test_pull_N").maybe(setting.test_pull);
    const HeelPull* heel = beside::heel_pull(a, l.gear);
    j.key("boat_limit_N");
    if (heel != nullptr) {
      j.number(beside::boat_limit(*heel).value());
    } else {
      j.null();
    }
    limits::write(j, l);
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
  write_towing(j, a.towing);
  write_sockets(j, a.sockets);
  tightening::write(j, a.tightening);
  write_boat(j, a.boat);
  j.key("look_again").texts(a.look_again);
  j.key("case_changes").texts(a.case_changes);
  j.key("what_to_do").texts(beside::to_do(s, a));
  j.key("cautions").texts(beside::cautions(a));
  j.key("standing_cautions").texts(standing_cautions(s));
  write_assumptions(j, s);
  j.key("failed_test_pulls").texts(beside::failed_pulls(s, a));
  write_fit_line(j, s);
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
"title": "thole report, format 2",
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
  "properties": {"mode": {"type": "string"},
   "part": {"description": "of a mount with several; else empty", "type": "string"},
   "gives_way": {"type": "string"},
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
 "supports", "movements", "towing", "sockets", "boat", "look_again", "case_changes", "cautions", "not_checked", "notes", "inputs", "sources", "deferral"],
"properties": {
 "format": {"const": 2}, "thole": {"type": "string"}, "title": {"type": "string"},
 "build": {"description": "which thole this is, and a hash of the tables compiled in",
  "type": "object", "additionalProperties": false,
  "required": ["name", "version", "tables", "commit", "compiler", "build_type"],
  "properties": {"name": {"const": "thole"}, "version": {"type": "string"},
   "tables": {"type": "string", "pattern": "^[0-9a-f]{8}$"}, "commit": {"type": "string"},
   "compiler": {"type": "string"}, "build_type": {"type": "string"}}},
 "mount": {"enum": ["gunwale_plate", "bracket", "cross_board"]},
 "verdict": {"enum": ["holds", "holds if", "does not hold", "no verdict"]},
 "sentence": {"type": "string"}, "reasons": {"$ref": "#/$defs/texts"},
 "holds_if": {"$ref": "#/$defs/texts"},
 "limits": {"type": "object", "additionalProperties": {"$ref": "#/$defs/maybe"},
  "required": ["hold_limit_N", "not_before_about_N", "setting_N"]},
 "checks": {"type": "array", "items": {"$ref": "#/$defs/check"}},
 "cases": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["id", "kind", "title", "category", "decides", "acts_on", "pull_N", "pulls_N",
   "gear", "others", "ranges_deg", "directions", "shakes_g", "cycles_per_hour",
   "times_per_season", "origin", "left_out", "owners_why", "before", "holds"],
  "properties": {"id": {"type": "string"}, "kind": {"type": "string"},
   "title": {"type": "string"},
   "category": {"enum": ["everyday", "occasional", "accident"]},
   "decides": {"type": "boolean"}, "why": {"type": "string"},
   "acts_on": {"enum": ["line", "rim", "post", "point", "tip", "ride", "board", "nothing"]},
   "pull_N": {"type": "number"},
   "pulls_N": {"description": "together: of every gear, 0 for those that only tow",
    "type": "array", "items": {"type": "number"}},
   "range_deg": {"$ref": "#/$defs/range"},
   "ranges_deg": {"description": "all parts of the range",
    "type": "array", "items": {"$ref": "#/$defs/range"}},
   "directions": {"description": "the same in words", "$ref": "#/$defs/texts"},
   "gear": {"description": "whose pull it is", "type": ["string", "null"]},
   "others": {"description": "what the other gears do meanwhile",
    "enum": ["towing", "together"]},
   "shakes_g": {"description": "accelerations to try, gravity included; at rest up is -1",
    "type": "array", "items": {"type": "object", "additionalProperties": false,
    "required": ["forward", "starboard", "up"],
    "properties": {"forward": {"type": "number"}, "starboard": {"type": "number"},
     "up": {"type": "number"}}}},
   "ball_on_tip": {"type": "boolean"},
   "heave_g": {"description": "up and down on the weights meanwhile", "type": "number"},
   "cycles_per_hour": {"type": "number"}, "times_per_season": {"type": "number"},
   "depends_on": {"$ref": "#/$defs/texts"},
   "origin": {"enum": ["listed", "changed", "added"]},
   "left_out": {"description": "by the owner: not calculated", "type": "boolean"},
   "owners_why": {"type": "string"},
   "before": {"description": "what the list has for a changed case", "type": "string"},
   "holds": {"description": "null: no figures", "type": ["boolean", "null"]},
   "worst_mode": {"type": "string"}, "factor": {"$ref": "#/$defs/maybe"},
   "factor_needed": {"$ref": "#/$defs/maybe"}, "direction": {"type": "string"},
   "goes_at_N": {"$ref": "#/$defs/maybe"}, "motion": {"type": "string"}}}},
 "fasteners": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["forward_m", "outboard_m", "tension_N", "shear_N"],
  "properties": {"forward_m": {"type": "number"}, "outboard_m": {"type": "number"},
   "tension_N": {"type": "number"}, "shear_N": {"type": "number"}}}},
 "ladder": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["what", "link", "gear", "mode", "part", "known", "too_early", "low_N", "high_N"],
  "properties": {"what": {"type": "string"},
   "link": {"description": "brake, drag, line, holder: no part of the mount", "type": "boolean"},
   "gear": {"description": "whose link", "type": "string"},
   "mode": {"description": "of an item of the mount", "type": "string"},
   "part": {"type": "string"},
   "known": {"description": "false: nobody has given its strength", "type": "boolean"},
   "too_early": {"description": "may go before what should let go first", "type": "boolean"},
   "low_N": {"$ref": "#/$defs/maybe"}, "high_N": {"$ref": "#/$defs/maybe"}}}},
 "ladder_verdict": {"type": "string"},
 "orders": {"description": "who goes before whom, by bounds, for each gear", "type": "array",
  "items": {"type": "object", "additionalProperties": false,
  "required": ["gear", "order", "words"],
  "properties": {"gear": {"type": "string"},
   "order": {"enum": ["wanted", "not certain", "wrong"]}, "words": {"type": "string"}}}},
 "losses": {"description": "under a pull on one gear: what goes, each with those before it gone",
  "type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["gear", "what", "mode", "at_N", "then", "next", "holds_to_N", "words"],
  "properties": {"gear": {"type": "string"}, "what": {"type": "string"},
   "mode": {"description": "empty: it moves", "type": "string"}, "at_N": {"type": "number"},
   "then": {"enum": ["holds", "follows", "drops", "tears", "gear off", "bends", "unknown"]},
   "next": {"description": "of the rest", "type": "string"},
   "holds_to_N": {"description": "the rest", "$ref": "#/$defs/maybe"},
   "words": {"type": "string"}}}},
 "walls": {"type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["thickness_m", "position", "verdict"],
  "properties": {"thickness_m": {"type": "number"}, "position": {"type": "string"},
   "verdict": {"type": "string"}, "factor_over_needed": {"$ref": "#/$defs/maybe"},
   "gives_way": {"type": "string"}, "hold_limit_N": {"$ref": "#/$defs/maybe"}}}},
 "margins": {"description": "the same a little worse off: more load, a part one size thinner",
  "type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["what", "more_load", "verdict", "factor_over_needed", "gives_way", "hold_limit_N"],
  "properties": {"what": {"type": "string"}, "more_load": {"type": "boolean"},
   "verdict": {"type": "string"}, "factor_over_needed": {"$ref": "#/$defs/maybe"},
   "gives_way": {"type": "string"}, "hold_limit_N": {"$ref": "#/$defs/maybe"}}}},
 "one_missing": {"description": "the mount without the fastener or hold-down that is missed most",
  "type": "object", "additionalProperties": false, "required": ["what", "tried", "of", "verdict"],
  "properties": {"what": {"type": "string"},
   "tried": {"description": "taken away in turn", "type": "integer"},
   "of": {"description": "how many there are", "type": "integer"},
   "verdict": {"type": "string"},
   "reasons": {"type": "array", "items": {"type": "string"}},
   "factor_over_needed": {"type": "number"}, "gives_way": {"type": "string"},
   "hold_limit_N": {"$ref": "#/$defs/maybe"}}},
 "gear_limits": {"description": "of each gear, where they are told apart", "type": "array",
  "items": {"type": "object", "additionalProperties": false,
  "required": ["gear", "hold_limit_N", "not_before_about_N", "setting_N", "setting_by",
   "mount_setting_N", "test_pull_N"],
  "properties": {"gear": {"type": "string"}, "hold_limit_N": {"$ref": "#/$defs/maybe"},
   "set_by": {"type": "string"}, "tips": {"type": "string"}, "direction": {"type": "string"},
   "not_before_about_N": {"$ref": "#/$defs/maybe"}, "first_to_go": {"type": "string"},
   "first_mode": {"type": "string"},
   "all_hung_up_N": {"description": "its pull when all balls hang up at once",
    "$ref": "#/$defs/maybe"},
   "holder_takes_N": {"description": "its own holder or body, by the rating given",
    "$ref": "#/$defs/maybe"},
   "setting_N": {"description": "the lower of mount and boat", "$ref": "#/$defs/maybe"},
   "setting_by": {"enum": ["mount", "boat"]}, "mount_setting_N": {"$ref": "#/$defs/maybe"},
   "test_pull_N": {"$ref": "#/$defs/maybe"},
   "by_direction": {"description": "where the boom points, or a sector of the pull", "type": "array",
    "items": {"type": "object", "additionalProperties": false,
    "required": ["where", "boom_rad", "hold_limit_N", "set_by", "tips", "not_before_about_N",
     "first_to_go", "setting_N", "mount_setting_N", "boat_setting_N"],
    "properties": {"where": {"type": "string"},
     "boom_rad": {"description": "from astern toward outboard", "$ref": "#/$defs/maybe"},
     "range": {"$ref": "#/$defs/range"}, "hold_limit_N": {"$ref": "#/$defs/maybe"},
     "set_by": {"type": "string"}, "tips": {"type": "string"},
     "not_before_about_N": {"$ref": "#/$defs/maybe"}, "first_to_go": {"type": "string"},
     "setting_N": {"description": "the lower of mount and boat", "$ref": "#/$defs/maybe"},
     "mount_setting_N": {"$ref": "#/$defs/maybe"}, "boat_setting_N": {"$ref": "#/$defs/maybe"}}}},
   "boat_limit_N": {"description": "pull at the notice, or where it may swamp if less",
    "$ref": "#/$defs/maybe"}}}},
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
 "towing": {"description": "what the line of each downrigger does", "type": "array",
  "items": {"type": "object", "additionalProperties": false,
  "required": ["gear", "depth_m", "wire_out_m", "layback_m", "greatest_wire_out_m", "pull_N",
   "from_straight_down_rad", "speed_m_s", "too_flat"],
  "properties": {"gear": {"type": "string"}, "depth_m": {"type": "number"},
   "wire_out_m": {"description": "at the fastest, drag coefficient 1.5",
    "$ref": "#/$defs/maybe"},
   "layback_m": {"$ref": "#/$defs/maybe"},
   "greatest_wire_out_m": {"$ref": "#/$defs/maybe"},
   "pull_N": {"$ref": "#/$defs/between"},
   "from_straight_down_rad": {"$ref": "#/$defs/between"},
   "speed_m_s": {"$ref": "#/$defs/between"},
   "too_flat": {"description": "some speed cannot reach the depth", "type": "boolean"}}}},
 "sockets": {"description": "what the butt of each rod does to its tube", "type": "array",
  "items": {"type": "object", "additionalProperties": false,
  "required": ["gear", "case", "pull_N", "out_of_tube_N", "across_N", "bending_Nm", "at_rim_N",
   "at_foot_N", "twist_Nm"],
  "properties": {"gear": {"type": "string"}, "case": {"type": "string"},
   "pull_N": {"type": "number"},
   "out_of_tube_N": {"description": "below zero: pushes the rod in", "type": "number"},
   "across_N": {"type": "number"}, "bending_Nm": {"type": "number"},
   "at_rim_N": {"$ref": "#/$defs/maybe"}, "at_foot_N": {"$ref": "#/$defs/maybe"},
   "twist_Nm": {"type": "number"}}}},
 "tightening": {"description": "how tight each kind of fastening, and what keeps it so",
  "type": "array", "items": {"type": "object", "additionalProperties": false,
  "required": ["what", "joint", "thread", "count", "to", "ceiling_Nm", "floor_Nm", "kept_tight"],
  "properties": {"what": {"enum": ["base", "ledge", "hold-down", "gear"]},
   "names": {"$ref": "#/$defs/texts"}, "joint": {"type": "string"}, "thread": {"type": "string"},
   "count": {"type": "integer"},
   "lubricated": {"description": "null: not said", "type": ["boolean", "null"]},
   "locking": {"enum": ["none", "nut", "thread_locker"]},
   "bedding": {"description": "between the parts; null: not said",
    "enum": ["none", "sealant", "plastic", "rubber", "wood", null]},
   "to": {"description": "snug: no figure in hand; loose: left with lift",
    "enum": ["torque", "snug", "loose"]},
   "why": {"type": "string"},
   "ceiling_Nm": {"description": "null unless to a torque", "$ref": "#/$defs/maybe"},
   "layer": {"description": "that sets the ceiling or has no figure", "type": "string"},
   "limits": {"description": "of every layer with a figure, lowest torque first", "type": "array",
    "items": {"type": "object", "additionalProperties": false,
    "required": ["layer", "preload_N", "torque_Nm"],
    "properties": {"layer": {"type": "string"}, "preload_N": {"type": "number"},
     "torque_Nm": {"type": "number"}}}},
   "nut_factor": {"description": "low and high end of K", "$ref": "#/$defs/between"},
   "holds_preload": {"description": "metal from head to nut", "type": "boolean"},
   "separating_N": {"description": "pull on one fastener", "$ref": "#/$defs/maybe"},
   "separating_from": {"type": "string"},
   "floor_Nm": {"description": "keeps the joint closed; null: no preload is counted",
    "$ref": "#/$defs/maybe"},
   "kept_tight": {"description": "by a torque between floor and ceiling", "type": "boolean"},
   "engagement": {"type": ["object", "null"], "additionalProperties": false,
    "properties": {"drawing_m": {"type": "number"}, "tolerance": {"type": "number"},
     "lead_in_m": {"type": "number"}, "threads": {"type": "number"},
     "least_threads": {"type": "number"}, "advice": {"type": "string"}}},
   "lock": {"description": "never counted", "type": "string"},
   "look_again": {"$ref": "#/$defs/texts"}, "cautions": {"$ref": "#/$defs/texts"}}}},
 "boat": {"description": "the boat's side of the pulls: a comparison, no stability check",
  "type": "object", "additionalProperties": false,
  "required": ["stability_check", "described", "gm_m", "gm_from", "edge_angle_rad",
   "threshold_Nm", "rows", "pulls", "cautions", "sources"],
  "properties": {"stability_check": {"const": false}, "described": {"type": "boolean"},
   "gm_m": {"$ref": "#/$defs/maybe"}, "gm_from": {"type": "string"},
   "edge_angle_rad": {"$ref": "#/$defs/maybe"}, "threshold_Nm": {"$ref": "#/$defs/maybe"},
   "rows": {"description": "worst first", "type": "array",
    "items": {"type": "object", "additionalProperties": false,
    "required": ["id", "title", "gear", "pull_N", "moment_Nm", "person_off_middle_m",
     "heel_with_person_rad", "level"],
    "properties": {"id": {"type": "string"}, "title": {"type": "string"},
     "gear": {"type": "string"}, "pull_N": {"type": "number"}, "moment_Nm": {"type": "number"},
     "direction": {"type": "string"},
     "person_off_middle_m": {"description": "85 kg there heels the boat as much",
      "type": "number"},
     "heel_with_person_rad": {"description": "null: not described, or beyond its curve",
      "$ref": "#/$defs/maybe"},
     "heel_alone_rad": {"$ref": "#/$defs/maybe"},
     "level": {"description": "null: the boat is not described", "type": ["string", "null"]}}}},
   "pulls": {"type": "array", "items": {"type": "object", "additionalProperties": false,
    "required": ["gear", "notice_N", "strong_N", "swamping_N", "setting_N"],
    "properties": {"gear": {"type": "string"}, "notice_N": {"$ref": "#/$defs/maybe"},
     "strong_N": {"$ref": "#/$defs/maybe"}, "swamping_N": {"$ref": "#/$defs/maybe"},
     "setting_N": {"$ref": "#/$defs/maybe"}}}},
   "cautions": {"$ref": "#/$defs/texts"},
   "sources": {"type": "array", "items": {"$ref": "#/$defs/source"}}}},
 "look_again": {"description": "figures that look like another quantity",
  "$ref": "#/$defs/texts"},
 "case_changes": {"description": "what the owner did to the list of cases",
  "$ref": "#/$defs/texts"},
 "what_to_do": {"$ref": "#/$defs/texts"}, "cautions": {"$ref": "#/$defs/texts"},
 "standing_cautions": {"description": "what every user of such a mount is told",
  "$ref": "#/$defs/texts"},
 "failed_test_pulls": {"description": "of the file: moved too far, or did not come back",
  "$ref": "#/$defs/texts"},
 "assumptions": {"description": "of the models, those that bear on this setup", "type": "array",
  "items": {"type": "object", "additionalProperties": false,
  "required": ["id", "about", "text", "errs", "why", "said"],
  "properties": {"id": {"type": "string"}, "about": {"type": "string"},
   "text": {"type": "string"}, "errs": {"enum": ["cautious", "either way", "not cautious"]},
   "why": {"type": "string"}, "said": {"type": "string"}}}},
 "fit": {"description": "what is in the way, counted; thole fit has all of it; no part of the verdict",
  "type": "object", "additionalProperties": false,
  "required": ["described", "hits", "close", "clear", "worst"],
  "properties": {"described": {"type": "boolean"}, "hits": {"type": "integer"},
   "close": {"type": "integer"}, "clear": {"type": "integer"}, "worst": {"type": "string"}}},
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
