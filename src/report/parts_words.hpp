#pragma once

/// What stands above lists that cost money. Private to the reports.

#include <string>

#include <thole/assessment.hpp>

#include "report/html.hpp"

namespace thole::cards {

/// Nothing is cut or bought for a design that does not hold.
[[nodiscard]] inline std::string before_spending(Verdict v) {
  const auto line = [&](const char* words) {
    return html::element("p", html::mark(html::mark_of(v)) + " " + html::element("b", words));
  };
  switch (v) {
    case Verdict::holds:
      return "";
    case Verdict::holds_if:
      return line("Measure first what the answer hangs on; then cut and buy.");
    case Verdict::does_not_hold:
      return line("This design does not hold: change it before you cut or buy.");
    case Verdict::no_verdict:
      break;
  }
  return line("There is no verdict on this design: settle that before you cut or buy.");
}

}  // namespace thole::cards
