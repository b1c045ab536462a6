#include "report/ladder_block.hpp"

#include <algorithm>
#include <utility>

#include <thole/display.hpp>

#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole::ladder {

namespace {

// Equal links of several gears become one.
std::vector<LadderStep> rungs(const Setup& s, const Assessment& a, bool details) {
  struct Link {
    std::size_t at;  // in `out`
    std::string what;
    std::vector<std::string> whose;
  };
  std::vector<LadderStep> out;
  std::vector<Link> links;
  std::vector<std::string> every;
  for (const LadderStep& step : a.ladder) {
    if (!step.link || (!s.on_board() && s.gear.size() < 2)) {
      out.push_back(step);
      // On one screen without its place, which the sentence or the checks have.
      for (const CheckResult& c : a.checks) {
        if (s.on_board() && !details && !c.where.empty() &&
            step.what == c.gives_way + " (" + c.where + ")") {
          out.back().what = c.gives_way;
        }
      }
      continue;
    }
    std::string what = step.what;
    const std::string end = " (" + step.gear + ")";
    if (text::ends_with(what, end)) what.resize(what.size() - end.size());
    every.push_back(what);
    const auto same = std::find_if(links.begin(), links.end(), [&](const Link& l) {
      return l.what == what && text::alike(out[l.at].low, step.low) &&
             text::alike(out[l.at].high, step.high);
    });
    if (same != links.end()) {
      same->whose.push_back(step.gear);
      out[same->at].wrong = out[same->at].wrong || step.wrong;
      continue;
    }
    links.push_back({out.size(), what, {step.gear}});
    out.push_back(step);
  }
  for (const Link& l : links) {
    if (l.whose.size() < 2) continue;
    const auto all = std::size_t(std::count(every.begin(), every.end(), l.what));
    std::string& text = out[l.at].what;
    text = wording::of_several(l.what);
    if (all != l.whose.size()) text += " (" + text::joined(l.whose) + ")";
  }
  return out;
}

// The first loss under a pull on each gear.
std::vector<const LossRow*> firsts(const Assessment& a) {
  std::vector<const LossRow*> out;
  for (const LossRow& r : a.losses) {
    if (out.empty() || out.back()->gear != r.gear) out.push_back(&r);
  }
  return out;
}

}  // namespace

std::vector<std::string> steps(const Setup& s, const Assessment& a, std::size_t items,
                               bool details) {
  std::vector<std::string> out;
  std::size_t shown = 0;
  const std::vector<LadderStep> all = rungs(s, a, details);
  const auto unknown =
      std::count_if(all.begin(), all.end(), [](const LadderStep& step) { return !step.known; });
  for (const LadderStep& step : all) {
    if (!step.link && ++shown > items && !details) continue;
    // The verdict says that it is not known.
    if (!step.known && items < 2 && unknown > 1 && !details) continue;
    out.push_back((step.wrong ? "! " : "") + step.what + " ");
    out.back() += !step.low   ? std::string("?")
                  : step.high ? about(*step.low, s.units, Rounding::down) + " to " +
                                    about(*step.high, s.units, Rounding::up)
                              : "from " + about(*step.low, s.units, Rounding::down);
  }
  return out;
}

std::string order(const Setup& s, const Assessment& a, std::size_t items, bool details) {
  return text::joined(steps(s, a, items, details), " > ");
}

std::string after_first(const Setup& s, const Assessment& a) {
  const std::vector<const LossRow*> all = firsts(a);
  if (all.empty()) return "";
  const LossRow* first = all.front();
  for (const LossRow* r : all) {
    if (r->at < first->at) first = r;
  }
  const bool one = std::all_of(all.begin(), all.end(),
                               [&](const LossRow* r) { return r->words == first->words; });
  return "when the first goes" +
         (one && (all.size() > 1 || s.gear.size() < 2) ? std::string()
                                                       : " under a pull on " + first->gear) +
         ": " + first->words;
}

std::vector<std::string> in_full(const Setup& s, const Assessment& a) {
  std::vector<std::string> out;
  const bool many = s.gear.size() > 1;
  for (const LossRow& r : a.losses) {
    out.push_back((many ? r.gear + ": " : "") + "from " + about(r.at, s.units, Rounding::down) +
                  " " + r.what + "; " + r.words);
  }
  const bool dented = std::any_of(a.losses.begin(), a.losses.end(), [](const LossRow& r) {
    return r.then == Then::bends && r.holds_to;
  });
  if (dented) {
    out.emplace_back(
        "what is dented or crushed counts as it was, so that all that comes after it holds for "
        "small dents only");
  }
  const bool same = std::all_of(a.orders.begin(), a.orders.end(), [&](const OrderRow& r) {
    return r.words == a.orders.front().words;
  });
  for (const OrderRow& r : a.orders) {
    if (many && !same) out.push_back(r.gear + ": " + r.words);
  }
  return out;
}

void write(Json& j, const Assessment& a) {
  j.key("ladder").open('[');
  for (const LadderStep& step : a.ladder) {
    j.open('{');
    j.key("what").text(step.what);
    j.key("link").yes_no(step.link);
    j.key("gear").text(step.gear);
    j.key("mode").text(step.mode);
    j.key("part").text(step.part);
    j.key("known").yes_no(step.known);
    j.key("too_early").yes_no(step.wrong);
    j.key("low_N").maybe(step.low);
    j.key("high_N").maybe(step.high);
    j.close('}');
  }
  j.close(']');
  j.key("ladder_verdict").text(a.ladder_verdict);
  j.key("orders").open('[');
  for (const OrderRow& r : a.orders) {
    j.open('{');
    j.key("gear").text(r.gear);
    j.key("order").text(std::string(word_for(r.order)));
    j.key("words").text(r.words);
    j.close('}');
  }
  j.close(']');
  j.key("losses").open('[');
  for (const LossRow& r : a.losses) {
    j.open('{');
    j.key("gear").text(r.gear);
    j.key("what").text(r.what);
    j.key("mode").text(r.mode);
    j.key("at_N").number(r.at.value());
    j.key("then").text(std::string(word_for(r.then)));
    j.key("next").text(r.next);
    j.key("holds_to_N").maybe(r.holds_to);
    j.key("words").text(r.words);
    j.close('}');
  }
  j.close(']');
}

}  // namespace thole::ladder
