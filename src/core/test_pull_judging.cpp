// What was measured against the model.

#include <algorithm>
#include <cmath>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/test_pull.hpp>

#include "core/test_puller.hpp"

namespace thole {

using namespace literals;

namespace {

// What a scale and a tape tell (judgement).
constexpr double scale_share = 0.05;
const Length tape = 1.0_mm;
// What may stay of a movement before it counts as not come back (judgement).
constexpr double stay_share = 0.1;
const Length stay_least = 0.5_mm;
// A wall that is to hold a mount gives less at its base (judgement).
const Length much_of_wall = 3.0_mm;

std::string where_to_look(const Setup& s) {
  if (s.on_board()) {
    return "seats and ledges, hold-downs and their play, legs, the wood and the thickness of the "
           "board";
  }
  return "fasteners and their threads, the wall and its thickness, what ties it to the hull, the "
         "foot of the gear";
}

// "2.5 x"; a softest of next to nothing has no ratio.
std::string times(Length moved, Length most) {
  const double ratio = moved.value() / std::max(most.value(), 0.5 * tape.value());
  const double step = ratio < 10 ? 0.1 : 1;
  return (most < tape ? "at least " : "") + show_number(step * std::round(ratio / step)) + " x";
}

class Judge {
 public:
  Judge(const Setup& s, const Assessment& a) : setup_(s), assessment_(a), puller_(s, a) {}

  [[nodiscard]] TestPullAnswer judged(const TestPull& t) {
    TestPullAnswer out;
    out.measured = t;
    const auto g = std::find_if(setup_.gear.begin(), setup_.gear.end(),
                                [&](const Gear& gear) { return gear.name == t.gear; });
    if (g == setup_.gear.end()) {
      out.words = "No gear of the setup has that name.";
      return out;
    }
    const auto gear = std::size_t(g - setup_.gear.begin());
    const std::optional<Force> card = puller_.pull_of(gear);
    expect(t, gear, card.value_or(t.pull), out);
    if (const std::string stayed = too_much_stayed(t); !stayed.empty()) {
      out.agreement = Agreement::came_short;
      out.words = stayed;
    }
    const bool harm = out.agreement == Agreement::came_short || out.agreement == Agreement::softer;
    if (!harm && !card && !g->plain_load) {
      out.agreement = Agreement::cannot_say;
      out.words = "The mount has no test pull as it stands, and a pull that it stood says nothing.";
    } else if (!harm && assessment_.verdict == Verdict::no_verdict) {
      out.agreement = Agreement::cannot_say;
      out.words = "There is no verdict, and a pull that the mount stood says nothing.";
    }
    add_size_of_pull(t, card, out);
    if (!t.stayed) {
      out.words +=
          " What stayed after letting go is not in the file: pull once more and write it down.";
    }
    return out;
  }

 private:
  void expect(const TestPull& t, std::size_t gear, Force as_on_card, TestPullAnswer& out) {
    const auto way = puller_.way(gear, t.toward);
    if (!way) {
      out.words = "No load case of this gear pulls that way: pull as the card says.";
      return;
    }
    // The place to watch is that of the card, wherever the boom was.
    HandPull p = puller_.hardest(gear, *way, as_on_card, std::nullopt);
    puller_.lower(p);
    if (!(p.pull.value() > 0)) p.pull = t.pull;
    PulledMount& mount = puller_.mount();
    const auto watch = mount.place_to_watch(p);
    if (t.boom) p = puller_.hardest(gear, *way, p.pull, t.boom);
    const auto at = [&](double share) -> std::optional<Movement> {
      if (!watch) return std::nullopt;
      p.pull = share * t.pull;
      return mount.movement(p, *watch);
    };
    const auto low = at(1 - scale_share);
    const auto high = at(1 + scale_share);
    const auto middle = at(1);
    if (!low || !high || !middle) {
      out.words = "By the sum the mount moves as a whole under this pull: it must be held first.";
      return;
    }
    out.least = middle->least;
    out.most = middle->most;
    if (mount.wall_gives()) return of_plate(t, high->most, out);
    of_board(t, *low, *high, out);
  }

  void of_board(const TestPull& t, const Movement& low, const Movement& high,
                TestPullAnswer& out) const {
    if (t.moved > high.most + tape) {
      too_soft(times(t.moved, out.most) + " what the softest of the model gives", out);
    } else if (high.rough) {
      out.words = "The movement is too large for the model, which is for small ones.";
    } else if (t.moved + tape < low.least) {
      out.agreement = Agreement::stiffer;
      out.words =
          "It moves less than the stiffest of the model: other parts share the load, and forces "
          "may go elsewhere. No harm shown, and no proof: no figure becomes better by it.";
    } else {
      out.agreement = Agreement::agrees;
      out.words =
          "It moves as the model says, as far as a tape tells: no proof that it holds, and the "
          "verdict stays as it is.";
    }
  }

  void of_plate(const TestPull& t, Length base_alone, TestPullAnswer& out) const {
    if (t.moved > much_of_wall + tape && t.moved > 3.0 * base_alone) {
      too_soft("more than " + show(much_of_wall, setup_.units) +
                   " at its base, which is much for a wall that is to hold it (judgement)",
               out);
      return;
    }
    out.words =
        "How far the wall itself gives is not known, so there is no figure to agree with. Keep "
        "this one: at the same pull next season it must be the same.";
  }

  void too_soft(const std::string& by, TestPullAnswer& out) const {
    out.agreement = Agreement::softer;
    out.words = "It moves " + by +
                ": something is looser, thinner or softer than the file says. Do not use it until "
                "that is found. Look at: " +
                where_to_look(setup_) + ".";
  }

  [[nodiscard]] std::string too_much_stayed(const TestPull& t) const {
    if (!t.stayed || *t.stayed <= std::max<Length>(stay_share * t.moved, stay_least)) return "";
    if (*t.stayed <= tape) {
      return "It may not have come back, though a tape tells no less: pull once more, and if more "
             "stays, something slips, bends or crushes. Do not use it until that is clear. Look "
             "at: " +
             where_to_look(setup_) + ".";
    }
    return "It did not come back: something slipped, bent or crushed. Do not use it until that is "
           "found and mended, then pull again. Look at: " +
           where_to_look(setup_) + ".";
  }

  void add_size_of_pull(const TestPull& t, const std::optional<Force>& card,
                        TestPullAnswer& out) const {
    constexpr double far_beyond = 1.25;
    constexpr double too_light = 0.8;
    if (!card) return;
    const std::string asked = about(*card, setup_.units, Rounding::down);
    if (t.pull > far_beyond * *card) {
      if (out.agreement == Agreement::agrees || out.agreement == Agreement::stiffer) {
        out.agreement = Agreement::cannot_say;
        out.words = "It was pulled too hard to say anything.";
      }
      out.words += " The card asks for " + asked +
                   " at most: look everything over for harm, and do not pull so hard again.";
    } else if (t.pull < too_light * *card) {
      if (out.agreement == Agreement::agrees && out.most < tape) {
        out.agreement = Agreement::cannot_say;
        out.words = "Under so light a pull nothing moves that a tape would show.";
      }
      out.words += " The card asks for " + asked + ": this pull says nothing of a harder one.";
    }
  }

  const Setup& setup_;
  const Assessment& assessment_;
  TestPuller puller_;
};

}  // namespace

std::string_view word_for(Agreement a) {
  switch (a) {
    case Agreement::agrees:
      return "agrees";
    case Agreement::stiffer:
      return "stiffer";
    case Agreement::softer:
      return "softer";
    case Agreement::came_short:
      return "did not come back";
    case Agreement::cannot_say:
      return "cannot say";
  }
  throw InternalError("an agreement without a word");
}

std::vector<TestPullAnswer> judge_test_pulls(const Setup& setup, const Assessment& assessment) {
  std::vector<TestPullAnswer> out;
  if (setup.test_pulls.empty()) return out;
  Judge judge(setup, assessment);
  for (const TestPull& t : setup.test_pulls) out.push_back(judge.judged(t));
  return out;
}

}  // namespace thole
