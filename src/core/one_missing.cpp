#include <algorithm>

#include <thole/error.hpp>

#include "core/assessment_parts.hpp"

namespace thole::parts {

namespace {

// The fastener of a plate that pulls hardest in the worst deciding case; sheared hardest when none
// pulls.
std::optional<std::size_t> hardest_fastener(const Assessment& a) {
  if (a.fasteners.empty()) return std::nullopt;
  const auto harder = [](const FastenerRow& x, const FastenerRow& y) {
    return x.tension != y.tension ? x.tension < y.tension : x.shear < y.shear;
  };
  return std::size_t(std::max_element(a.fasteners.begin(), a.fasteners.end(), harder) -
                     a.fasteners.begin());
}

// The hold-down of a board that pulls hardest; a U-bolt counts as one.
std::optional<std::size_t> hardest_hold_down(const Setup& s, const Assessment& a) {
  std::optional<std::size_t> out;
  Force most{};
  const auto& all = s.board().hold_downs;
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (const SupportRow& r : a.supports) {
      if (r.name != all[i].name || !(r.force > most)) continue;
      most = r.force;
      out = i;
    }
  }
  return out;
}

}  // namespace

std::optional<MissingRow> one_missing(const Setup& s, const Assessment& a,
                                      const AssessOptions& options) {
  Setup other = s;
  MissingRow row;
  if (s.on_board()) {
    const auto lost = hardest_hold_down(s, a);
    if (!lost) return std::nullopt;
    auto& all = other.board().hold_downs;
    row.what = all[*lost].name;
    all.erase(all.begin() + std::ptrdiff_t(*lost));
  } else {
    const auto lost = hardest_fastener(a);
    if (!lost) return std::nullopt;
    row.what = "fastener no. " + std::to_string(*lost + 1);
    auto& holes = other.plate().fastening.holes;
    holes.erase(holes.begin() + std::ptrdiff_t(*lost));
  }
  // It is missed at the next look, after a season at most: of twenty that parts shall last.
  other.use.hours_per_season /= 20;
  AssessOptions quick = options;
  quick.neighbours = false;
  quick.one_missing = false;
  try {
    validate(other);
    const Assessment rest =
        other.on_board() ? assess_board(other, quick) : assess_plate(other, quick);
    row.verdict = rest.verdict;
    row.reasons = rest.reasons;
    row.hold_limit = rest.hold_limit;
    for (const CheckResult& c : rest.checks) {
      // A matter of distances is no worse for a lost fastener.
      if (c.standing != Standing::applies || c.case_title.empty()) continue;
      row.worst_ratio = c.factor / c.needed;
      row.gives_way = c.gives_way;
      break;
    }
  } catch (const DomainError& e) {
    row.verdict = Verdict::no_verdict;
    row.reasons = {e.what()};
  }
  return row;
}

}  // namespace thole::parts
