#pragma once

/// What the host and the fasteners do to a bracket, by statics. Private to the core.

#include <array>
#include <span>
#include <vector>

#include <thole/check.hpp>
#include <thole/loads.hpp>

namespace thole::bracket {

/// A leg of a U-bolt may take more than half: rubbing half round a fitting with a coefficient of
/// 0.2 leaves the other leg exp(-0.2 pi) of it (rope on a drum; the coefficient is judgement).
inline constexpr double share_of_leg = 0.652;

/// Upward force on the bracket and its first moments.
struct Push {
  Force force{};
  Moment about_x{};  ///< force x its y
  Moment about_y{};  ///< force x its x; not right-handed
};

/// What bed and fasteners do to a base whose position `BaseContact` found.
///
/// Source: pressure in proportion to how far the rigid base is pressed in, exact integrals.
/// Valid: as the position. Accuracy: all of it adds up to the resultant of the bed.
class Reactions {
 public:
  Reactions(const GunwalePlate& mount, const ContactResult& result);
  /// Of each part of the bed, in the order of `geometry::bed_of`.
  [[nodiscard]] const std::vector<Push>& parts() const { return parts_; }
  /// Of bed and fasteners beyond the line n . r = distance.
  [[nodiscard]] Push beyond(double nx, double ny, Length distance) const;

 private:
  struct Corner {  // SI numbers
    double x = 0, y = 0, pressure = 0;
  };
  using Polygon = std::vector<Corner>;
  class Integral;
  // Calls `corner` for those of the part where level(c) > 0; `level` is linear.
  template <class Level, class Visit>
  static void cut(const Polygon& p, Level level, Visit corner);

  const std::vector<PlanPoint>& holes_;
  const ContactResult& result_;
  std::vector<Polygon> pressed_;
  std::vector<Push> parts_;
};

/// What bending of the plate adds to the hardest pull on a fastener, along one way (nx, ny) over
/// it: for every ratio of force and moment at the gear, wherever the gear stands.
///
/// A thick plate turns as one piece about its edge and the farthest fasteners take most; a thin one
/// curls: the nearest take all, also those under the edge of the foot, or what lies beyond the
/// farthest presses and pries.
///
/// Source:   the plate as a beam on a bed that pushes and fasteners that pull, solved against the
///           same beam without bending; under the foot of the gear it does not bend.
/// Valid:    a metal plate bent along its whole width. Accuracy: that of the bed, the worst of
///           `softness` (see `Engine`); of loads between those of the table what lies between.
class Curl {
 public:
  static constexpr std::size_t ways = 32;
  Curl(const GunwalePlate& mount, const std::vector<PlanPoint>& fasteners, double nx, double ny,
       LinearStiffness each, std::span<const double> softness);
  /// `hardest`: pull without bending. One fastener of a line may take all that bending adds to it.
  [[nodiscard]] Force adds(const BaseLoad& load, Force hardest) const;

 private:
  struct Pull {  // per size of the load, SI numbers
    double bent = 0, rigid = 0;
  };
  double nx_, ny_;
  double gear_x_, gear_y_;
  double length_ = 1;                // by which a moment is measured against a force
  double line_ = 1;                  // most fasteners in one line
  std::array<Pull, ways> of_way_{};  // round the square |force| + |moment| / length = 1
};
[[nodiscard]] std::vector<Curl> curls_of(const GunwalePlate& mount,
                                         const std::vector<PlanPoint>& fasteners,
                                         LinearStiffness each, std::span<const double> softness);

/// Pulls on the fasteners of a bracket, all grown as the hardest does, by `least` or more.
void add_curl(const std::vector<Curl>& curls, const BaseLoad& load, double least,
              const ContactResult& result, Force* tension);

/// What draws a bracket down that U-bolts or clamps hold: by hand, relaxed (see `Slip`).
struct Slip {
  double friction = 0;  ///< low end
  Force each{};         ///< clamping of one U-bolt or clamp that is left
};
/// Source:   judgement: 0.1 (wet, painted or oxidised metal), or as measured if that is lower than
///           0.2; U-bolts drawn up by hand to a fifth of the yield of both legs, clamps by their
///           torque with a dry nut factor of 0.48; half of it is left after some weeks.
/// Valid:    metal on metal. Accuracy: the low end of a wide band.
[[nodiscard]] Slip slip_of(const GunwalePlate& mount);

}  // namespace thole::bracket
