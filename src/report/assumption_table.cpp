#include <algorithm>

#include <thole/report.hpp>

#include "report/text.hpp"

namespace thole {

namespace {

std::string entry(const Assumption& a) {
  return text::wrapped("", a.id + ": " + a.text) +
         text::wrapped("  errs    ", std::string(word_for(a.errs)) + ": " + a.why) +
         text::wrapped("  said    ", a.said);
}

std::string counted(const std::vector<Assumption>& all) {
  std::string out = std::to_string(all.size()) + " assumptions: ";
  for (const Errs e : {Errs::cautious, Errs::either, Errs::unsafe}) {
    const auto n =
        std::count_if(all.begin(), all.end(), [&](const Assumption& a) { return a.errs == e; });
    out += (e == Errs::cautious ? "" : ", ") + std::to_string(n) + " " + std::string(word_for(e));
  }
  return out;
}

}  // namespace

std::string assumption_table(const std::vector<Assumption>& assumptions) {
  std::string out;
  std::vector<std::string> told;
  for (const Assumption& first : assumptions) {
    if (std::find(told.begin(), told.end(), first.about) != told.end()) continue;
    told.push_back(first.about);
    out += "WHAT IS ASSUMED ABOUT: " + first.about + "\n";
    for (const Assumption& a : assumptions) {
      if (a.about == first.about) out += "\n" + entry(a);
    }
    out += "\n";
  }
  return out + text::wrapped("", counted(assumptions) +
                                     "; what does not err to the cautious side is told in every "
                                     "report that it concerns (thole check --details)");
}

}  // namespace thole
