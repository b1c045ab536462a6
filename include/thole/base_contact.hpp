#pragma once

/// A rigid base on a one-way bed: the bed only pushes, the fasteners only pull.
///
/// The base lifts by u = w + tx y - ty x at the point (x, y). The bed answers with a pressure
/// p = kf max(0, -u) over the contact outline (base and host wall together), fastener i with a pull
/// T = kb max(0, u). The position is the minimum of a convex potential; the zone of contact comes
/// out exactly, as the outline cut at u = 0. A bed may be several patches: a base over a gap, on
/// two rails. Signs: the load acts on the base, its force along +z lifts, right-handed moments
/// about the origin of `Base`.

#include <array>
#include <string>
#include <vector>

#include <thole/quantities.hpp>
#include <thole/vector.hpp>

namespace thole {

inline constexpr int max_fasteners = 24;
inline constexpr int max_outline = 56;  ///< 48 of an outline, and what clipping adds
inline constexpr int max_patches = 6;

/// Convex polygon in counter-clockwise order.
using Outline = std::vector<PlanPoint>;

/// Signed area, positive when counter-clockwise.
[[nodiscard]] Area area_of(const Outline& outline);
[[nodiscard]] bool is_convex(const Outline& outline);
/// The part of `outline` inside the rectangle. Empty when they do not meet.
[[nodiscard]] Outline clip_to(const Outline& outline, PlanPoint low, PlanPoint high);

enum class Balance {
  stable,
  mechanism,  ///< nothing holds the load: the motion is described
};

struct ContactResult {
  Balance balance = Balance::stable;
  std::string motion;  ///< for a mechanism: "the base tips about its aft edge"
  int count = 0;       ///< fasteners
  std::array<Force, max_fasteners> tension{};
  Force bed_force{};          ///< resultant of the pressure
  Stress highest_pressure{};  ///< at a corner of a patch
  PlanPoint pressed_corner{};
  double contact_fraction = 0;  ///< contact area / area of all patches
  Length lift{};                ///< w
  Angle tilt_x{};               ///< tx
  Angle tilt_y{};               ///< ty
};

/// Where the search for a position starts: the position under a load alike, of size one.
struct ContactStart {
  std::array<double, 3> position{};
  bool known = false;
};

/// The geometry of one base; `solve` may be called for any number of loads.
class BaseContact {
 public:
  /// Throws DomainError: outline not convex or without area, a stiffness not above zero, more than
  /// `max_fasteners` fasteners or `max_outline` corners. An empty outline means no bed at all.
  BaseContact(const Outline& bed, BedStiffness bed_stiffness,
              const std::vector<PlanPoint>& fasteners, LinearStiffness fastener_stiffness);
  /// A bed of several patches, and fasteners with a stiffness each. Empty outlines count for
  /// nothing; patches may touch. Throws DomainError besides: more than `max_patches` patches,
  /// patches that overlap, not as many stiffnesses as fasteners.
  BaseContact(const std::vector<Outline>& beds, BedStiffness bed_stiffness,
              const std::vector<PlanPoint>& fasteners,
              const std::vector<LinearStiffness>& stiffness);

  /// Source:   potential of one-way springs with exact polygon integrals; the bearing-only limits
  ///           are the footing formulas p = 2P/(3L(b/2 - e)) and p = 6P/(ab).
  /// Valid:    a base so thick that it does not bend (see `flexible_base_factor`).
  /// Accuracy: balance of forces to 1e-11 of the load; a mechanism is decided by whether any
  ///           pushes and pulls can balance the load, not by a small pivot.
  /// Throws InternalError if the minimum is not reached although one exists.
  [[nodiscard]] ContactResult solve(Force up, Moment mx, Moment my) const;
  /// The same from the position that `start` holds, where the new one is left: faster for loads
  /// that change little from one to the next, and the same to 1e-10 of the largest force.
  void solve(Force up, Moment mx, Moment my, ContactStart& start, ContactResult& result) const;

  /// Moment about a line that the pressed bed and the pulling fasteners beyond it exert on the
  /// part of the base beyond the line. The line has the outward normal (nx, ny) and lies at
  /// `distance` from the origin. Used for base-plate bending.
  [[nodiscard]] Moment moment_beyond(const ContactResult& result, double nx, double ny,
                                     Length distance) const;

 private:
  struct Patch {
    int first = 0, count = 0;       // of the corners
    std::array<double, 6> whole{};  // integrals over it, scaled by `length`
  };
  struct Kernel {  // SI numbers
    std::array<double, max_patches * max_outline> x{}, y{};
    std::array<double, max_patches * max_outline> sx{}, sy{};  // over `length`
    int corners = 0;
    std::array<Patch, max_patches> patch{};
    int patches = 0;
    std::array<double, max_fasteners> bx{}, by{}, kb{};
    int bolts = 0;
    double kf = 0;
    double stiff = 0;   // of all fasteners and the whole bed
    double length = 1;  // a length to scale tilts by
    double area = 0;
  };
  struct Tangent;
  [[nodiscard]] bool can_balance(double n, double mx, double my, std::string* motion) const;
  void evaluate(const std::array<double, 3>& q, const std::array<double, 3>& load,
                Tangent& out) const;
  [[nodiscard]] bool minimise(const std::array<double, 3>& load, std::array<double, 3>& q,
                              Tangent& at, bool& runs_away) const;

  Kernel k_;
};

}  // namespace thole
