// The validation table: what became of every comparison with a figure from outside. Written where
// THOLE_VALIDATION says, after all other tests of the run (doctest runs files by name):
//     THOLE_VALIDATION=table.md thole_tests -ts=published,validation

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <thole/check.hpp>

#include "support/validation.hpp"

using namespace thole;
using namespace thole::test;

namespace {

const char* const begin_quote = "<!-- validation: begin -->\n";
const char* const end_quote = "<!-- validation: end -->\n";

/// Comparisons of one kind with one source.
struct Group {
  const Source* source;
  std::string what;
  std::vector<const Row*> rows;

  [[nodiscard]] const Row& worst() const {
    return **std::max_element(rows.begin(), rows.end(), [](const Row* a, const Row* b) {
      return std::abs(a->deviation) < std::abs(b->deviation);
    });
  }
};

/// In the order of the sources, then of the tests.
std::vector<Group> groups() {
  std::vector<Group> out;
  for (const Source& source : sources()) {
    for (const Row& row : rows()) {
      if (row.source != &source) continue;
      const auto at = std::find_if(out.begin(), out.end(), [&](const Group& g) {
        return g.source == &source && g.what == row.what;
      });
      if (at == out.end()) {
        out.push_back({&source, row.what, {&row}});
      } else {
        at->rows.push_back(&row);
      }
    }
  }
  return out;
}

std::vector<FailureMode> all_modes() {
  std::vector<FailureMode> out(catalogue().begin(), catalogue().end());
  out.insert(out.end(), board_catalogue().begin(), board_catalogue().end());
  return out;
}

bool proves_mode(const Source& source, const FailureMode& mode) {
  return std::count(source.modes.begin(), source.modes.end(), formula_of(mode.id)) > 0;
}

std::string how_known(Seen seen) {
  return seen == Seen::computed ? "computed apart from this code" : std::string(sentence_for(seen));
}

std::string deviation_of(const Row& row) {
  const double percent = 100 * row.deviation;
  if (std::abs(percent) < 5e-4) return "0 %";
  return fmt::format("{:+.2g} %{}", percent, row.rounding ? ", its rounding" : "");
}

std::string name_of(const FailureMode& mode) {
  return fmt::format("{} (`{}`)", mode.gives_way, mode.id);
}

std::string line_of(const Row& row) {
  return fmt::format("{} | {} | {} | {}", row.published, row.ours, deviation_of(row),
                     how_known(row.source->seen));
}

/// The row of a group: where it deviates most.
std::string line_of(const Group& g) {
  const std::string count = g.rows.size() == 1 ? "" : fmt::format(" ({} figures)", g.rows.size());
  return fmt::format("{} | {}{} | {}", g.source->document, g.what, count, line_of(g.worst()));
}

const char* const columns =
    "outside source | what is compared | published | ours | deviation | seen or from memory |\n";
const char* const rule = "---|---|---|---|---|---|\n";

/// Sources that can be looked up or computed again, with a figure of this run: what a mode may
/// claim at most.
int outside_sources(const FailureMode& mode, const std::vector<Group>& all) {
  std::set<const Source*> found;
  for (const Group& g : all) {
    if (proves_mode(*g.source, mode) && g.source->seen != Seen::memory) found.insert(g.source);
  }
  return int(found.size());
}

/// What DEVELOPERS.md quotes.
std::string quoted(const std::vector<Group>& all) {
  int two = 0;
  int one = 0;
  std::map<Seen, int> by_seen;
  for (const Row& r : rows()) ++by_seen[r.source->seen];
  std::string table = "| failure mode | " + std::string(columns) + "|---|" + rule;
  std::string none;
  for (const FailureMode& mode : all_modes()) {
    two += mode.outside_checks >= 2;
    one += mode.outside_checks == 1;
    const Group* worst = nullptr;
    for (const Group& g : all) {
      if (!proves_mode(*g.source, mode)) continue;
      const auto off = [](const Group& x) { return std::abs(x.worst().deviation); };
      if (worst == nullptr || off(g) > off(*worst)) worst = &g;
    }
    if (worst != nullptr) {
      table += fmt::format("| {} | {} |\n", name_of(mode), line_of(*worst));
    } else {
      none += (none.empty() ? "`" : ", `") + std::string(mode.id) + "`";
    }
  }
  return fmt::format(
      "{} comparisons with figures of {} sources: {} page seen, {} seen in copies only, {} from "
      "memory, {} computed apart from this code (by hand or by other programs). Of {} failure "
      "modes {} count as proved by two outside sources or more, {} by one, {} by none that can be "
      "looked up; those with fewer than two say `formula seen, not proved outside`.\n\n"
      "The figure that deviates most, for each mode that has one:\n\n{}\n"
      "No outside figure: {}.\n",
      rows().size(),
      std::count_if(sources().begin(), sources().end(),
                    [&](const Source& s) {
                      return std::any_of(all.begin(), all.end(),
                                         [&](const Group& g) { return g.source == &s; });
                    }),
      by_seen[Seen::page], by_seen[Seen::copy], by_seen[Seen::memory], by_seen[Seen::computed],
      all_modes().size(), two, one, int(all_modes().size()) - two - one, table, none);
}

std::string by_mode(const std::vector<Group>& all) {
  std::string out = "| failure mode | formula | " + std::string(columns) + "|---|---|" + rule;
  for (const FailureMode& mode : all_modes()) {
    const std::string head = fmt::format("| {} | {} |", name_of(mode), sentence_for(mode.seen));
    bool any = false;
    for (const Group& g : all) {
      if (!proves_mode(*g.source, mode)) continue;
      any = true;
      out += head + " " + line_of(g) + " |\n";
    }
    if (!any) out += head + " formula seen, not proved outside | | | | | |\n";
    if (any && mode.outside_checks < 2) {
      out += head + " all in all: formula seen, not proved outside | | | | | |\n";
    }
  }
  return out;
}

std::string beside(const std::vector<Group>& all) {
  std::string out = "| " + std::string(columns) + "|" + rule;
  for (const Group& g : all) {
    if (g.source->modes.empty()) out += "| " + line_of(g) + " |\n";
  }
  return out;
}

std::string every_figure(const std::vector<Group>& all) {
  std::string out = "| " + std::string(columns) + "|" + rule;
  for (const Group& g : all) {
    for (const Row* r : g.rows) {
      out += fmt::format("| {} | {} | {} |\n", g.source->document, g.what, line_of(*r));
    }
  }
  return out;
}

std::string table_of(const std::vector<Group>& all) {
  return "# thole against figures from outside\n\n"
         "Made by a run of the tests. Each row is a figure that a document prints, or that another "
         "program or a hand computation gave, and what thole gives for the same input in the same "
         "unit; deviation is ours over theirs. Where many figures are compared, the one that "
         "deviates most is shown; all follow at the end. Laboratory tests and finite elements are "
         "met from the cautious side, which the test demands. `its rounding`: ours rounds to the "
         "figure as "
         "printed. A mode with fewer than two sources "
         "that can be looked up counts as `formula seen, not proved outside`.\n\n## In short\n\n" +
         quoted(all) + "\n## Every failure mode\n\n" + by_mode(all) +
         "\n## Formulas and data beside the modes\n\n" + beside(all) + "\n## Every figure\n\n" +
         every_figure(all);
}

std::string text_of(const std::string& path) {
  std::ifstream in(path);
  REQUIRE_MESSAGE(in, path);
  return {std::istreambuf_iterator<char>(in), {}};
}

const char* const wanted = std::getenv("THOLE_VALIDATION");

}  // namespace

TEST_SUITE("validation") {
  TEST_CASE("validation: every claim is backed by figures and the table is as quoted" *
            doctest::skip(wanted == nullptr)) {
    const std::vector<Group> all = groups();
    std::ofstream out(wanted);
    out << table_of(all);
    out.close();
    CHECK(out);
    for (const Source& s : sources()) {
      if (s.modes.empty()) continue;
      CHECK_MESSAGE(
          std::any_of(all.begin(), all.end(), [&](const Group& g) { return g.source == &s; }),
          "no figure was compared with: " << s.document);
    }
    for (const FailureMode& mode : all_modes()) {
      CAPTURE(mode.id);
      CHECK(std::min(2, mode.outside_checks) <= outside_sources(mode, all));
    }
    for (const std::string& test : nameless()) {
      FAIL_CHECK("a figure is compared, but its source is not named: " << test);
    }
    const std::string guide = text_of(THOLE_ROOT "/DEVELOPERS.md");
    const std::size_t from = guide.find(begin_quote);
    const std::size_t to = guide.find(end_quote);
    REQUIRE(from != std::string::npos);
    REQUIRE(to != std::string::npos);
    const std::size_t text = from + std::string(begin_quote).size();
    CHECK_MESSAGE(guide.substr(text, to - text) == quoted(all),
                  "DEVELOPERS.md quotes another table than " << wanted << " has under `In short`");
  }
}
