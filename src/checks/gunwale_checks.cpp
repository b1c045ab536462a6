#include <thole/gunwale_bar.hpp>

#include "checks/checks.hpp"

namespace thole::checks {

Applicability gunwale_applies(const Setup& s) {
  const Host& h = s.plate().host;
  if (h.form == WallForm::sheet) return {Standing::not_concerned, "a sheet is no bar"};
  if (!h.bar) {
    return {Standing::not_checked, "host.bar (its ties and its depth) is not given"};
  }
  return {};
}

Use gunwale_roll(const Setup& s, const Actions& a, Category) {
  // Where between its ties the base stands is not asked: the whole torque goes to one of them.
  return {measured(abs(bar_torque(s.plate(), a.load))),
          measured(bar_torsion(s.plate().host).yields_at), -1};
}

}  // namespace thole::checks
