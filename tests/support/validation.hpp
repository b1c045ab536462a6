#pragma once

/// Figures from outside the project, where they come from, and what became of each comparison.
///
/// A source that proves failure modes is named once, at namespace scope of a test file; one that
/// proves none, where it is used:
///     const Source& example_30 = proves({"pull-over"}, "Aluminum ... example 30", Seen::page);
///     const Against against(example_30);
///     const Against against("ISO 898-1, column A_s,nom", Seen::page);
/// While an `Against` lives, each `==` with a published figure leaves one row of the validation
/// table (validation_test.cpp); what is compared is the name of the test, or the text given.

#include <doctest/doctest.h>

#include <deque>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <thole/source.hpp>

namespace thole::test {

struct Source {
  std::vector<std::string> modes;  ///< formulas of modes (`formula_of`) that it proves
  std::string document;            ///< and the place in it
  Seen seen;                       ///< `computed`: by hand or by other programs than this one
};

/// References into it stay good.
inline std::deque<Source>& sources() {
  static std::deque<Source> all;
  return all;
}

inline const Source& proves(std::vector<std::string> modes, const char* document, Seen seen) {
  return sources().emplace_back(Source{std::move(modes), document, seen});
}

/// The formula behind a mode, where several modes share one: what a source proves.
inline std::string formula_of(std::string_view mode) {
  static const std::map<std::string_view, std::string> shared = {
      {"pull-over-behind", "pull-over"},
      {"ledge-bolt-pull-through", "pull-over"},
      {"screw-tension", "bolt-tension"},
      {"gear-bolt-tension", "bolt-tension"},
      {"ledge-bolt-tension", "bolt-tension"},
      {"screw-shear", "bolt-shear"},
      {"gear-bolt-shear", "bolt-shear"},
      {"hold-down-shear", "bolt-shear"},
      {"ledge-bolt-shear", "bolt-shear"},
      {"wall-bearing-screw", "bearing"},
      {"wall-bearing-bolt", "bearing"},
      {"wall-bearing-rivet", "bearing"},
      {"ledge-bolt-bearing", "bearing"},
      {"base-bearing", "bearing"},
      {"gear-washer-dent", "washer-dent"},
      {"leg-dent", "ledge-dent"},
      {"washer-crushing", "wood-washer-crushing"},
      {"gear-washer-crushing", "wood-washer-crushing"},
      {"ledge-leg-lift", "ledge-leg-bending"}};
  const auto at = shared.find(mode);
  return at == shared.end() ? std::string(mode) : at->second;
}

struct Row {
  const Source* source;
  std::string what;
  std::string published;  ///< as printed, with its unit
  std::string ours;       ///< in the same unit
  double deviation;       ///< ours / published - 1; 0 where 0 is printed
  bool rounding;          ///< ours rounds to what is printed
};

inline std::vector<Row>& rows() {
  static std::vector<Row> all;
  return all;
}

/// Comparisons made where no source was named, by test.
inline std::vector<std::string>& nameless() {
  static std::vector<std::string> all;
  return all;
}

class Against {
 public:
  explicit Against(const Source& source, std::string what = "")
      : source_(&source), what_(std::move(what)), outer_(current()) {
    current() = this;
  }
  Against(const char* document, Seen seen, std::string what = "")
      : Against(known(document, seen), std::move(what)) {}
  Against(const Against&) = delete;
  Against& operator=(const Against&) = delete;
  ~Against() { current() = outer_; }
  [[nodiscard]] const Source& source() const { return *source_; }

  static void leave_row(std::string published, std::string ours, double deviation, bool rounding) {
    const std::string test = doctest::getContextOptions()->currentTest->m_name;
    const Against* here = current();
    if (here == nullptr) {
      nameless().push_back(test);
      return;
    }
    const std::size_t colon = test.find(": ");
    std::string what = here->what_;
    if (what.empty()) what = colon == std::string::npos ? test : test.substr(colon + 2);
    rows().push_back({here->source_, std::move(what), std::move(published), std::move(ours),
                      deviation, rounding});
  }

 private:
  static const Against*& current() {
    static const Against* innermost = nullptr;
    return innermost;
  }
  static const Source& known(const char* document, Seen seen) {
    for (const Source& s : sources()) {
      if (s.modes.empty() && s.document == document && s.seen == seen) return s;
    }
    return proves({}, document, seen);
  }

  const Source* source_;
  std::string what_;
  const Against* outer_;
};

/// `unit` begins with a space.
inline void leave_row(std::string_view published, std::string_view unit, double ours,
                      double printed, bool rounding) {
  Against::leave_row(std::string(published) + std::string(unit),
                     fmt::format("{:.5g}{}", ours, unit), printed == 0 ? 0 : ours / printed - 1,
                     rounding);
}

/// Leaves a row where the test itself says how near is near enough; gives ours / published.
inline double compared(double ours, double published, const std::string& unit = "") {
  leave_row(fmt::format("{:g}", published), unit.empty() ? unit : " " + unit, ours, published,
            false);
  return ours / published;
}

}  // namespace thole::test
