#pragma once

/// How tight: a window of torque for every kind of fastening of a mount, the layer that sets its
/// upper end, and what keeps the fastening tight. Nothing here counts as strength.

#include <optional>
#include <string>
#include <vector>

#include <thole/metal_strength.hpp>
#include <thole/setup.hpp>

namespace thole {

/// K of T = K D F for one state of the threads: the low end turns most of a torque into preload,
/// the high end least.
struct NutFactor {
  double low = 0;
  double high = 0;
};

/// Ends of the nut factor; `lubricated` nothing: not known, the widest range.
///
///     lubricated            0.11 to 0.28
///     dry, stainless        0.19 (0.11 / 0.59) to 0.48
///     dry, other steel      0.15 to 0.25 (0.20 less and more a quarter)
///
/// Source:   NASA TM-106943 (page seen): 0.11 to 0.15 lubricated, about 0.20 dry, 25 % either way
///           by hand; ratio 0.59 of lubricated to dry and the high ends from its torques of
///           300-series screws at 0.65 of 30 ksi, read as coarse threads.
/// Valid:    plain threads under a plain or locking nut, tightened by hand. A locking nut needs its
///           own running torque on top.
/// Accuracy: ends of a scatter, chosen outward.
[[nodiscard]] NutFactor nut_factor(bool stainless, std::optional<bool> lubricated);

/// Low end of K for threads tapped in a wall or bar, where twice the preload would strip them.
/// Source: NASA TM-106943, upper end of lubricated threads; chosen with the half in
/// `tapped_preload_limit` (judgement). Accuracy: at K = 0.11 the preload is 0.68 of the pull-out.
inline constexpr double tapped_nut_factor = 0.15;

/// T = K D F, and back. Source: NASA TM-106943 (page seen). Valid: K of `nut_factor`.
/// Accuracy: that of K. Throws DomainError unless k > 0 and D > 0.
[[nodiscard]] Moment torque_for(Force preload, Length diameter, double k);
[[nodiscard]] Force preload_of(Moment torque, Length diameter, double k);

/// Preload that a bolt takes: 0.65 of yield on the tensile stress area.
/// Source: NASA TM-106943 Eq. 3 (page seen). Valid: a nut of the bolt's grade and full height.
/// Accuracy: 0.70 of the proof load of SAE J429 grade 5.
[[nodiscard]] Force bolt_preload_limit(const Thread& thread, const FastenerMaterial& material);

/// Preload that threads or an insert in metal take: half of their pull-out.
/// Source: judgement. Valid, Accuracy: as the pull-out.
[[nodiscard]] Force tapped_preload_limit(Force pull_out);

/// Preload that keeps a joint closed: 1.2 of the load that pulls it apart.
/// Source: NASA TM-106943 Eq. 68 (page seen). Valid: metal from head to nut; never wood, plastic,
/// laminate or threads in a wall below 1/4 in (6.35 mm), which hold no preload.
[[nodiscard]] Force closing_preload(Force separating);

/// Threads in a wall: what the drawing says and what is left of it.
struct Engagement {
  Length drawing{};          ///< thickness as in the setup
  double tolerance = 0;      ///< share of it that the metal may be thinner
  Length lead_in{};          ///< lost to chamfers, half a pitch each
  double threads = 0;        ///< of the drawing, less the lead-in
  double least_threads = 0;  ///< of the thinnest metal, less the lead-in
  /// On `least_threads`: below 1 no joint, below 1.5 advised against, below 2 no margin for wear.
  std::string advice;
};

/// Source:   lead-in and the limits of 1, 1.5 and 2 threads: judgement after tests at few threads
///           (catalogue figures of drilling screws, seen); tolerance of sheet: no figure in hand,
///           10 % (judgement) unless the metal was measured.
/// Valid:    a round tapped hole. Accuracy: half a thread.
/// Throws DomainError unless the thickness and the pitch are above zero.
[[nodiscard]] Engagement engagement(const Thread& thread, Length thickness, int chamfers,
                                    bool measured);

/// What is fastened.
enum class Fastened { base, ledge, hold_down, gear };
[[nodiscard]] std::string_view word_for(Fastened f);  ///< "base", "ledge", "hold-down", "gear"

/// One layer of the stack with a figure, and the torque at which it is used up.
struct TighteningLimit {
  std::string layer;  ///< "threads in the wall", "wood under the washer"
  Force preload{};
  Moment torque{};
};

enum class TightenTo {
  torque,  ///< not above `ceiling`
  snug,    ///< no figure in hand, see `why`
  loose,   ///< left with lift on purpose
};

/// Fastenings that are alike.
struct TighteningRow {
  Fastened what = Fastened::base;
  std::vector<std::string> names;  ///< of hold-downs, ledges, gears
  std::string joint;               ///< "1/4-20 tapped in 0.090 in wall"
  Thread thread;
  int count = 0;
  std::optional<bool> lubricated;  ///< nothing: not said
  std::optional<Locking> locking;  ///< nothing: not said, taken as none
  std::optional<Bedding> bedding;  ///< nothing: not said, nor known to stay tight
  NutFactor k;
  TightenTo to = TightenTo::snug;
  std::string why;                      ///< of snug and loose
  std::vector<TighteningLimit> limits;  ///< lowest torque first; of snug: what else there is
  std::optional<Moment> ceiling;
  std::string layer;                  ///< that sets the ceiling, or that has no figure
  bool holds_preload = false;         ///< metal from head to nut
  std::optional<Force> separating;    ///< on one fastener
  std::string separating_from;        ///< "everyday cases"
  std::optional<Moment> floor;        ///< keeps the joint closed
  std::optional<Moment> floor_oiled;  ///< the same with oiled threads, where nobody said
  bool kept_tight = false;            ///< by a torque between floor and ceiling
  std::optional<Engagement> engagement;
  std::string lock;                     ///< what to fit, or what is fitted
  std::vector<std::string> look_again;  ///< when to tighten again
  std::vector<std::string> cautions;
  std::vector<Citation> sources;
};

/// A row for the base of a plate, for ledge bolts, hold-downs and gear bolts of a board; pins are
/// left out, they hold nothing down. Without floors, see `set_floor`.
///
/// Source:   `bolt_preload_limit`, `tapped_preload_limit`, `washer_bearing` of wet wood under the
///           washer and, spread at 45 degrees through the board, on the seat; mean pressure under
///           head, nut and washer at yield of the metal, rated load of an eye (judgement).
/// Valid:    hand tools. Laminate, plastic, timber of unknown kind and hollow sections have no
///           figure: snug. Blind inserts: three quarters of the torque at which they turn (by hand
///           25 % either way, NASA TM-106943). Rivets have no row.
/// Accuracy: low side; published torques for good threads are 1.3 to 7 times the ceilings.
[[nodiscard]] std::vector<TighteningRow> tightening_rows(const Setup& setup);

/// Floor of a row from the load that pulls one fastener's joint apart.
/// Source, Valid: `closing_preload` with the high end of K. Accuracy: high side.
void set_floor(TighteningRow& row, Force separating, const std::string& from);

}  // namespace thole
