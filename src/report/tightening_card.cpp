#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "report/cards.hpp"
#include "report/html.hpp"
#include "report/short_names.hpp"
#include "report/text.hpp"
#include "report/tightening_block.hpp"

namespace thole::cards {
namespace {

// Materials have names of their owner's too, of any length.
std::string said(const std::string& any) { return html::text(any, 600); }

std::string in_both(Moment m, ReaderUnits u, Rounding r) {
  const ReaderUnits other = u == ReaderUnits::inch ? ReaderUnits::metric : ReaderUnits::inch;
  return tightening::torque(m, u, r) + " (" + tightening::torque(m, other, r) + ")";
}

std::string fact(const std::string& name, const std::string& html) {
  return "<dt>" + name + "</dt><dd>" + html + "</dd>";
}

std::string how_tight(const TighteningRow& r, ReaderUnits u) {
  if (r.to == TightenTo::loose) {
    return fact("How tight", "<b>Left loose on purpose</b>: " + said(r.why));
  }
  if (r.to == TightenTo::snug) {
    return fact("How tight",
                "<b>Snug only</b>: turn until the parts touch all round and nothing rattles, then "
                "stop; if it dents, bulges or creaks, back off. No figure: " +
                    said(r.why));
  }
  const std::string most = "<b>" + in_both(*r.ceiling, u, Rounding::down) + "</b>, " +
                           tightening::feel(*r.ceiling) + "; set by: " + said(r.layer);
  if (!r.kept_tight) return fact("At most", most);
  return fact("At least", "<b>" + in_both(*r.floor, u, Rounding::up) + "</b>") +
         fact("At most", most);
}

// What a snug joint must not be given in any case.
std::string lowest_layer(const TighteningRow& r, ReaderUnits u) {
  if (r.to != TightenTo::snug || r.limits.empty()) return "";
  const TighteningLimit& l = r.limits.front();
  return fact("Never above", in_both(l.torque, u, Rounding::down) +
                                 ", whatever happens: " + said(l.layer) + " gives way");
}

std::string cautions_of(const std::vector<TighteningRow>& rows, const TighteningRow& r) {
  std::string out;
  for (const std::string& c : r.cautions) {
    if (!tightening::in_all(rows, c)) out += (out.empty() ? "" : " ") + text::sentence(c);
  }
  return out.empty() ? "" : fact("Mind", said(out));
}

std::string joint(const SheetContent& c, const TighteningRow& r) {
  const ReaderUnits u = c.setup.units;
  std::string title = text::sentence(ShortNames(c.setup).in(tightening::called(c.assessment, r)));
  title.pop_back();
  std::string threads = tightening::state(r);
  if (r.engagement && !r.engagement->advice.empty()) threads += "; " + r.engagement->advice;
  return "<li><label><input type=\"checkbox\"> <b>" + html::users(title) + "</b>, " +
         std::to_string(r.count) + " x " + said(r.joint) + "</label><dl>" + how_tight(r, u) +
         lowest_layer(r, u) + fact("Stays tight?", said(text::sentence(tightening::stays(r, u)))) +
         fact("Threads", said(threads)) + fact("Lock", said(r.lock)) +
         fact("Look again", said(text::joined(r.look_again))) +
         cautions_of(c.assessment.tightening, r) + "</dl></li>";
}

std::string steps(const std::vector<TighteningRow>& rows) {
  std::string shared;
  const std::vector<std::string> none;
  for (const std::string& c : rows.empty() ? none : rows.front().cautions) {
    if (tightening::in_all(rows, c)) shared += "<li>" + said(text::sentence(c)) + "</li>";
  }
  return "<ul><li>First all by hand, then from the middle outward and crosswise, in two rounds: "
         "half first, then all of it.</li>"
         "<li>A torque wrench or screwdriver; no power or impact driver, on stainless least of "
         "all: it seizes.</li>"
         "<li>A locking nut needs what it takes to turn it on top of the figure.</li>"
         "<li>By hand a torque gives its preload within 25 % either way; \"at most\" counts the "
         "slippery end, \"at least\" the sticky one.</li>" +
         shared +
         "<li>Then a line of paint across nut, bolt and part: it shows what has turned.</li></ul>";
}

std::string sources(const std::vector<TighteningRow>& rows) {
  std::vector<std::string> seen;
  for (const TighteningRow& r : rows) {
    for (const Citation& source : r.sources) {
      const std::string words = said(to_text(source));
      if (std::find(seen.begin(), seen.end(), words) == seen.end()) seen.push_back(words);
    }
  }
  const std::string figures = seen.empty() ? "" : "Figures: " + text::joined(seen, "; ") + ". ";
  return "<p class=\"fine\">" + figures + "Order and feel: common practice, no source.</p>";
}

}  // namespace

Card tightening(const SheetContent& c) {
  const std::vector<TighteningRow>& rows = c.assessment.tightening;
  std::string list;
  if (rows.empty()) {
    list =
        "<li><b>Snug only</b>: no figure is known for what holds this mount. Turn until the parts "
        "touch all round and nothing rattles, then stop.</li>";
  }
  for (const TighteningRow& r : rows) list += joint(c, r);
  return {"tightening", "Tightening card",
          "<ul class=\"joints\">" + list + "</ul>" + steps(rows) + sources(rows)};
}

}  // namespace thole::cards
