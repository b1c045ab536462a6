// Invariants of random setups over all that the reader takes, written as text, read and assessed.
//
// THOLE_PROPERTY_SETUPS: how many are assessed in all four quarters together (10000 when left out);
// THOLE_PROPERTY_SEED: a number that makes them other ones. What breaks an invariant is shrunk and
// printed: save it in tests/data/found/, where it is asked everything for good.

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <map>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "property_setups_invariants.hpp"
#include "support/random_setup.hpp"

using namespace thole;
using namespace thole::test;

namespace {

constexpr long quarters = 4;
constexpr int most_failures = 3;  // shrinking takes long

long from_environment(const char* name, long otherwise) {
  const char* text = std::getenv(name);
  return text != nullptr ? std::strtol(text, nullptr, 10) : otherwise;
}

// Fewer where nothing is optimised, or node runs it.
long wanted() {
#if defined(NDEBUG) && !defined(__EMSCRIPTEN__)
  return from_environment("THOLE_PROPERTY_SETUPS", 10000) / quarters;
#else
  return from_environment("THOLE_PROPERTY_SETUPS", 400) / quarters;
#endif
}

std::uint64_t first_seed() {
  return 1000000U * std::uint64_t(from_environment("THOLE_PROPERTY_SEED", 0));
}

// Nothing where the text is no setup, which is no complaint.
Complaint complaint_of(const Invariant& invariant, const std::string& text, bool whole) {
  try {
    return broken(invariant, sample_of(text, whole));
  } catch (const InputError&) {
    return std::nullopt;
  } catch (const std::exception& e) {
    return std::string("reading or assessment throws ") + e.what();
  }
}

void report(std::uint64_t seed, std::string_view name, const std::string& complaint,
            const std::function<bool(const std::string&)>& breaks) {
  const std::string text = setup_text(shrunk({seed, {}}, breaks));
  FAIL_CHECK("seed " << seed << ": " << name << ": " << complaint
                     << "\nShrunk, for tests/data/found/:\n"
                     << text);
}

// What the reader says must have a place and words.
void check_refusal(std::uint64_t seed, const InputError& e) {
  CAPTURE(seed);
  CHECK_FALSE(e.problems().empty());
  for (const Problem& p : e.problems()) {
    CHECK(p.line >= 1);
    CHECK(p.column >= 1);
    CHECK_FALSE(p.message.empty());
  }
}

struct Counts {
  long setups = 0;   ///< random ones that the reader took
  long refused = 0;  ///< by the reader: no setups
  std::map<std::string, long> verdicts;
};

void one(std::uint64_t seed, Counts& counts, int& failures) {
  const std::string text = setup_text({seed, {}});
  const bool whole = seed % 4 == 3;
  Sample sample;
  try {
    sample = sample_of(text, whole);
  } catch (const InputError& e) {
    ++counts.refused;
    return check_refusal(seed, e);
  } catch (const std::exception& e) {
    ++failures;
    return report(seed, "reading and assessment throw nothing else", e.what(),
                  [&](const std::string& t) {
                    return complaint_of(invariants().front(), t, whole).has_value();
                  });
  }
  ++counts.setups;
  ++counts.verdicts[std::string(word_for(sample.assessment.verdict))];
  for (std::size_t i = 0; i < invariants().size() && failures < most_failures; ++i) {
    const Invariant& invariant = invariants()[i];
    // Each its own part of the seeds, so that one setup is not asked all that is dear.
    if ((seed / quarters + i) % std::uint64_t(invariant.one_in) != 0) continue;
    const Complaint complaint = broken(invariant, sample);
    if (!complaint) continue;
    ++failures;
    report(seed, invariant.name, *complaint,
           [&](const std::string& t) { return complaint_of(invariant, t, whole).has_value(); });
  }
}

void quarter(long which) {
  Counts counts;
  int failures = 0;
  const long before = setups_assessed();
  for (std::uint64_t n = 0; setups_assessed() - before < wanted() && failures < most_failures;
       ++n) {
    one(first_seed() + n * quarters + std::uint64_t(which), counts, failures);
    REQUIRE(counts.refused <= 20 + counts.setups / 10);  // else the generator is no good
  }
  const long assessed = setups_assessed() - before;
  CHECK(assessed >= wanted());
  std::string verdicts;
  for (const auto& [word, n] : counts.verdicts) verdicts += ", " + std::to_string(n) + " " + word;
  MESSAGE(assessed << " setups assessed, of " << counts.setups << " random ones" << verdicts << "; "
                   << counts.refused << " texts were none");
}

std::vector<std::string> kinds_of(const Setup& s) {
  std::vector<std::string> out;
  const auto hold = [&](const Fastening& f) {
    out.push_back("held by " + std::string(plural_of(f.hold)) +
                  (f.insert ? f.insert->solid ? ", solid" : ", coil" : "") +
                  (f.rivet ? f.rivet->blind ? ", blind" : ", solid" : ""));
  };
  if (s.on_board()) {
    const CrossBoard& b = s.board();
    out.push_back("board of form " + std::to_string(int(b.board.form)));
    out.push_back(b.legs.empty() ? "board without legs" : "board with legs");
    for (const Ledge* l : {&b.port, &b.starboard}) {
      out.push_back("ledge of kind " + std::to_string(int(l->kind)));
      if (l->fastening) out.push_back("ledge on hull " + std::to_string(int(l->fastening->hull)));
    }
    for (const HoldDown& h : b.hold_downs) {
      out.push_back("hold-down of kind " + std::to_string(int(h.kind)));
    }
    for (const Gear& g : s.gear) out.emplace_back(g.foot ? "gear with foot" : "gear without foot");
  } else {
    const GunwalePlate& m = s.plate();
    out.emplace_back(m.bracket ? "bracket" : "plate");
    out.push_back("on " + std::string(word_for(m.host.kind)) +
                  (m.host.is_metal() ? " " + std::to_string(int(m.host.form)) : ""));
    hold(m.fastening);
    if (m.second) out.emplace_back("two kinds of fasteners");
    if (m.bracket && m.bracket->fitting) out.emplace_back("bracket over a fitting");
    if (m.bracket && !m.bracket->stiffeners.empty()) out.emplace_back("bracket with angles");
    if (m.host.bar) out.emplace_back("gunwale that rolls");
    if (m.fastening.backing) out.emplace_back("plate behind");
  }
  for (const Gear& g : s.gear) {
    out.emplace_back(g.downrigger ? "downrigger" : g.rod_holder ? "rod holder" : "plain load");
  }
  out.push_back(std::to_string(s.gear.size()) + " gears");
  out.emplace_back(s.boat ? "boat" : "no boat");
  for (const CaseEdit& e : s.case_edits) out.push_back("edit " + std::to_string(int(e.what)));
  out.emplace_back(s.units == ReaderUnits::inch ? "inch" : "metric");
  if (!s.factor_overrides.empty()) out.emplace_back("factors of its owner");
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

}  // namespace

TEST_SUITE("property") {
  TEST_CASE("setups: every invariant holds on random setups of the first quarter") { quarter(0); }
  TEST_CASE("setups: every invariant holds on random setups of the second quarter") { quarter(1); }
  TEST_CASE("setups: every invariant holds on random setups of the third quarter") { quarter(2); }
  TEST_CASE("setups: every invariant holds on random setups of the last quarter") { quarter(3); }

  TEST_CASE("setups: every setup that once broke an invariant keeps them all") {
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(THOLE_ROOT "/tests/data/found")) {
      if (entry.path().extension() != ".yaml") continue;
      std::ifstream in(entry.path());
      const std::string text{std::istreambuf_iterator<char>(in), {}};
      const std::string file = entry.path().filename().string();
      CAPTURE(file);
      REQUIRE_FALSE(text.empty());
      ++files;
      for (const bool whole : {false, true}) {
        const Sample sample = sample_of(text, whole);  // still a setup
        for (const Invariant& invariant : invariants()) {
          const Complaint complaint = broken(invariant, sample);
          INFO(invariant.name << ": " << complaint.value_or("kept"));
          CHECK_FALSE(complaint.has_value());
        }
      }
    }
    CHECK(files > 0);
  }

  TEST_CASE("setups: random texts are setups of every kind and most come to a verdict") {
    std::map<std::string, int> kinds;
    int setups = 0;
    int refused = 0;
    int judged = 0;
    int asked = 0;
    for (std::uint64_t seed = 0; seed < 3000; ++seed) {
      const std::string text = setup_text({seed, {}});
      try {
        const Setup s = read_setup(text, "setup.yaml", built_in_materials());
        ++setups;
        for (const std::string& kind : kinds_of(s)) ++kinds[kind];
        if (seed % 10 != 0) continue;
        ++asked;
        AssessOptions o;
        o.step = degrees(45);
        o.neighbours = false;
        if (assess(s, o).verdict != Verdict::no_verdict) ++judged;
      } catch (const InputError&) {
        ++refused;
      }
    }
    std::string spread;
    for (const auto& entry : kinds) {
      const std::string& kind = entry.first;
      CAPTURE(kind);
      CHECK(entry.second >= setups / 200);
      spread += "\n  " + std::to_string(entry.second) + " " + kind;
    }
    MESSAGE(setups << " setups, " << refused << " texts were none; " << judged << " of " << asked
                   << " come to a verdict" << spread);
    CHECK(kinds.size() >= 55);
    CHECK(refused <= setups / 20);
    CHECK(judged >= 6 * asked / 10);
  }

  TEST_CASE("setups: one genome is one text and plain choices change nothing else") {
    for (std::uint64_t seed = 0; seed < 40; ++seed) {
      CAPTURE(seed);
      CHECK(setup_text({seed, {}}) == setup_text({seed, {}}));
      CHECK(setup_text({seed, {}}) != setup_text({seed + 1, {}}));
      CHECK(setup_text({seed, {"no choice of this name"}}) == setup_text({seed, {}}));
    }
  }

  TEST_CASE("setups: shrinking keeps what breaks and makes all else plain") {
    const auto has_rivets = [](const std::string& text) {
      return text.find("hold: rivet") != std::string::npos;
    };
    std::string first;
    int found = 0;
    for (std::uint64_t seed = 0; seed < 400; ++seed) {
      if (!has_rivets(setup_text({seed, {}}))) continue;
      ++found;
      const std::string text = setup_text(shrunk({seed, {}}, has_rivets));
      CAPTURE(text);
      CHECK(has_rivets(text));
      CHECK(std::count(text.begin(), text.end(), '\n') <= 45);
      CHECK(text.find("kind: plain_load") != std::string::npos);
    }
    CHECK(found > 5);
  }
}
