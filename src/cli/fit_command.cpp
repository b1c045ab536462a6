#include <thole/reading.hpp>
#include <thole/report.hpp>

#include "cli/commands.hpp"
#include "cli/support.hpp"

namespace thole::cli {

int fit(const FitArguments& a) {
  return guarded([&] {
    const Setup setup = setup_from(a.setup, library_with(a.tables));
    if (!setup.fit) {
      throw Error(shown(a.setup) +
                  ": no block fit; `thole new` writes one to fill in, and `thole measure` "
                  "lists what to measure for it");
    }
    const FitAnswer answer = look_at_fit(setup);
    if (a.json) {
      say(fit_table_json(setup, answer));
    } else {
      ReportStyle style;
      style.colour = colour_wanted();
      say(fit_table(setup, answer, style));
    }
    return answer.any_hit() ? 1 : 0;
  });
}

}  // namespace thole::cli
