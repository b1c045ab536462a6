#pragma once

/// One base ready for any load: its contacts, the parts with fasteners of their own, and the
/// failure modes of each. Private to the core.

#include <deque>
#include <limits>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <thole/base_contact.hpp>
#include <thole/check.hpp>
#include <thole/loads.hpp>
#include <thole/setup.hpp>

#include "core/bracket.hpp"
#include "core/known_loads.hpp"

namespace thole::plate {

inline constexpr double infinite = std::numeric_limits<double>::infinity();

/// A failure mode of one part of the mount.
struct Standby {
  const FailureMode* mode = nullptr;
  std::size_t stage = 0;
  std::string part;  ///< of a mount with several
  Applicability applicable;
  double needed = 0;
  double full = 0;  ///< never below the stored one: limits are at full factors
  bool lowered = false;
};

/// Position of the boom of each gear; when it is stowed, which of its stowed angles.
using Booms = std::vector<std::size_t>;

/// What acts beside a pull that is looked at: gears that pull in proportion to it, and all that
/// stays as it is.
struct Setting {
  std::vector<std::pair<std::size_t, double>> pulling;  ///< gear, its pull over that of the case
  Booms booms;
  BaseLoad steady;
  std::size_t shake = 0;  ///< ride: which of the accelerations of the case
};

/// Category of a limit. At full factors it must allow the everyday pull too, where pull-over is
/// halved; a wire pulls hard for minutes only, as on boards. What goes once is not halved.
[[nodiscard]] Category category_of_limits(LoadPath path, bool full_factors);

/// Where the search for a position starts on one bed: of the base, and of a fitting.
struct Start {
  ContactStart base;
  ContactStart fitting;
};

/// What acts on the fasteners of each part of the mount.
using Acting = std::vector<Actions>;

/// Fasteners that share a load in their plane: `share_in_plane`, made ready for many loads.
class InPlane {
 public:
  InPlane(const std::vector<PlanPoint>& fasteners, const std::vector<LinearStiffness>& stiffness);
  /// False: fasteners in one point, which a twist turns.
  [[nodiscard]] bool share(const ForceVector<Base>& force, Moment twist, PlaneForce* out) const;
  [[nodiscard]] bool one_point() const { return one_point_; }

 private:
  struct One {
    double weight = 0, x = 0,
           y = 0;  ///< share of a straight push; place from the centre over polar
  };
  std::vector<One> each_;
  double cx_ = 0, cy_ = 0;
  bool one_point_ = false;
};

/// One base. A plate with one kind of fasteners is one part. Fasteners of a second kind are a part
/// of their own, and all together are one for what looks at the whole base; a fitting that U-bolts
/// go over is one more, loaded by the U-bolts.
class Engine {
 public:
  /// `known`: the same that would be derived from the setup, for many plates under the same gear.
  explicit Engine(const Setup& s, const KnownLoads* known = nullptr);

  [[nodiscard]] const std::vector<Standby>& modes() const { return modes_; }
  [[nodiscard]] const std::vector<Standby>& all() const { return all_; }
  /// Looks no more at these modes of these parts: what bent already ends no pull.
  void leave_out(const std::set<std::pair<std::string, std::string>>& modes_of_parts) {
    std::erase_if(modes_, [&](const Standby& w) {
      return modes_of_parts.count({std::string(w.mode->id), w.part}) > 0;
    });
  }
  /// The setup as the checks of a part see it.
  [[nodiscard]] const Setup& view(std::size_t stage) const { return *stages_[stage].view; }
  [[nodiscard]] double needed(const Standby& w, Category c) const {
    return needed_factor(*w.mode, w.needed, c, accident_least_);
  }
  /// The same for a limit: never lowered, and wood for as long as its category lasts.
  [[nodiscard]] double full_factor(const Standby& w, LoadPath path) const {
    return needed_factor(*w.mode, w.full, category_of_limits(path, true), accident_least_);
  }

  /// The gear with others that pull or do not: they may load the base or relieve it. Every position
  /// of its boom with every one of the others.
  [[nodiscard]] std::vector<Setting> beside(std::size_t gear) const;
  [[nodiscard]] std::vector<Setting> settings(const LoadCase& c) const;
  /// Two downriggers that load the base alike: what is found for one holds for the other.
  [[nodiscard]] bool load_alike(std::size_t a, std::size_t b) const;
  /// A rod may bend any way where its line runs back along it, so that the load jumps there.
  [[nodiscard]] std::vector<Direction<Boat>> jumps(std::span<const Setting> settings,
                                                   LoadPath path) const;

  [[nodiscard]] Use use(const Standby& w, const Acting& a, Category c) const {
    return w.mode->use(view(w.stage), a[w.stage], c);
  }

  /// The setting under which `visit` of `act` is called.
  [[nodiscard]] const Setting& now() const { return *now_; }
  /// "boom 45 deg from astern, wire astern, 60 deg down": of a pull of the gear in that setting.
  [[nodiscard]] std::string describe(const Setting& s, int gear, LoadPath path,
                                     const Direction<Boat>& d) const;

  /// Calls `visit(acting)` for each setting and each end of what is not known of stiffness; returns
  /// the motion of a mechanism, or "".
  template <class Visit>
  [[nodiscard]] std::string act(std::span<const Setting> settings, LoadPath path, Force pull,
                                const Direction<Boat>& d, Visit visit) {
    for (const Setting& s : settings) {
      put_on(s, path, pull, d);
      for (std::size_t v = 0; v < contacts_.size(); ++v) {
        std::string motion = on_bed(v, starts_[v]);
        if (!motion.empty()) return motion;
        visit(static_cast<const Acting&>(acting_));
      }
    }
    return "";
  }

  /// The parts of `act`, for a search that looks at some beds only: puts a load on; what it does on
  /// one bed, which is then in `acting`.
  void put_on(const Setting& s, LoadPath path, Force pull, const Direction<Boat>& d) {
    now_ = &s;
    begin(s, path, pull, d);
  }
  [[nodiscard]] std::string on_bed(std::size_t bed, Start& start);
  [[nodiscard]] std::size_t beds() const { return contacts_.size(); }
  /// The bed of `on_bed`, or of the visit of `act`.
  [[nodiscard]] std::size_t bed_now() const { return bed_now_; }
  [[nodiscard]] const Acting& acting() const { return acting_; }
  /// No load at all makes a mechanism of the mount. False: not known.
  [[nodiscard]] bool never_moves() const { return never_moves_; }

  /// One over the largest share of use of the modes, or of one; 0 for a mechanism.
  double worst_ratio(std::span<const Setting> settings, LoadPath path, Force pull,
                     const Direction<Boat>& d, const Standby* only, bool full_factors,
                     const Standby** which = nullptr, const Setting** where = nullptr);

  /// Actions without load, for checks of distances.
  [[nodiscard]] Acting at_rest() const;
  /// Number of a fastener of a part among those of the base; of a fitting its own. -1 stays.
  [[nodiscard]] int number_of(std::size_t stage, int fastener) const {
    const Stage& s = stages_[stage];
    return fastener < 0 || s.fitting ? fastener : int(s.items[std::size_t(fastener)]);
  }
  /// All fasteners of the base, the second kind after the first, and what acts on them.
  [[nodiscard]] const std::vector<PlanPoint>& fasteners() const { return fasteners_; }
  [[nodiscard]] const Actions& on_base() const { return base_; }
  /// The same of a fitting under U-bolts, null without one.
  [[nodiscard]] const Actions* on_fitting() const {
    return stages_.back().fitting ? &acting_.back() : nullptr;
  }

 private:
  /// Modes of the whole base: none, all, those that bend or press it, those that need room.
  enum class Sees { none, all, bends, room };
  struct Stage {
    std::string part;
    const Setup* view = nullptr;
    std::vector<std::size_t> items;  ///< fasteners of the base that it has
    Sees base = Sees::all;           ///< looks at which modes of the whole base
    bool own_fasteners = true;       ///< looks at modes of fasteners
    bool fitting = false;
  };

  void make_stages();
  void make_contacts();
  void add_modes(std::size_t stage);
  [[nodiscard]] double base_growth() const;
  [[nodiscard]] std::vector<Setting> rides(const LoadCase& c) const;
  [[nodiscard]] std::vector<Setting> at_once(const LoadCase& c) const;
  [[nodiscard]] std::vector<Booms> booms() const;
  [[nodiscard]] BaseLoad weights(const Booms& booms) const;
  [[nodiscard]] BaseLoad towing(const Gear& g, const PullRange& wire, std::size_t boom) const;
  void begin(const Setting& s, LoadPath path, Force pull, const Direction<Boat>& d);
  [[nodiscard]] std::string act_on_fitting(std::size_t bed, ContactStart& start, Actions& out);

  const Setup& setup_;
  std::deque<Setup> views_;  ///< of the parts, where they see another setup
  std::vector<Stage> stages_;
  std::vector<PlanPoint> fasteners_;  ///< of the base, the second kind after the first
  std::vector<BaseContact> contacts_;
  std::vector<InPlane> in_plane_;  ///< of each contact
  std::vector<Start> starts_;      ///< of each contact
  std::vector<BaseContact> fitting_contacts_;
  std::optional<InPlane> fitting_in_plane_;
  bool never_moves_ = false;
  Actions base_;
  Acting acting_;
  std::vector<Standby> modes_;
  std::vector<Standby> all_;
  // Of each gear, for each position of its boom.
  std::vector<std::vector<BaseLoad>> at_rest_;  ///< its weight
  std::vector<std::vector<BaseLoad>> towing_;
  const Setting* now_ = nullptr;
  std::size_t bed_now_ = 0;
  double growth_ = 1;
  std::vector<bracket::Curl> curls_;
  double accident_least_ = 1.25;
};

}  // namespace thole::plate
