#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <thole/metal_strength.hpp>
#include <thole/thread.hpp>

#include "checks/checks.hpp"
#include "core/bracket.hpp"
#include "core/geometry.hpp"

namespace thole::checks {

using namespace literals;

namespace {

bool held_by(const Setup& s, HoldBy hold) { return s.plate().fastening.hold == hold; }

// Every direction square to a side of the plate; of an outline with many corners, along and across.
struct Normals {
  std::array<std::array<double, 2>, 8> n{};
  std::size_t count = 0;
  explicit Normals(const Outline& o) {
    if (o.size() > n.size()) {
      n = {{{1, 0}, {0, 1}}};
      count = 2;
      return;
    }
    for (std::size_t i = 0; i < o.size(); ++i) {
      const PlanPoint& a = o[i];
      const PlanPoint& b = o[(i + 1) % o.size()];
      const double x = (b.y - a.y).value();
      const double y = (a.x - b.x).value();
      const double size = std::hypot(x, y);
      if (!(size > 1e-9)) continue;
      const std::array<double, 2> one{x / size, y / size};
      // A cut is looked at from both sides of the gear.
      const bool known = std::any_of(n.begin(), n.begin() + std::ptrdiff_t(count), [&](auto& k) {
        return std::abs(k[0] * one[1] - k[1] * one[0]) < 1e-6;
      });
      if (!known) n[count++] = one;
    }
  }
};

// A straight cut through the plate on one side of its gear. SI numbers.
struct Cut {
  double nx = 0, ny = 0;
  double at = 0;
  [[nodiscard]] double along(const PlanPoint& p) const {
    return nx * p.x.value() + ny * p.y.value();
  }
  [[nodiscard]] double aside(const PlanPoint& p) const {
    return nx * p.y.value() - ny * p.x.value();
  }
};

struct Width {
  double low = 0, high = 0;
  [[nodiscard]] double size() const { return std::max(high - low, 0.0); }
};

// Where the plate lies on the cut.
Width chord_of(const Outline& o, const Cut& c) {
  Width w{1e300, -1e300};
  for (std::size_t i = 0; i < o.size(); ++i) {
    const PlanPoint& a = o[i];
    const PlanPoint& b = o[(i + 1) % o.size()];
    const double la = c.along(a) - c.at;
    const double lb = c.along(b) - c.at;
    if ((la < 0) == (lb < 0)) continue;
    const double aside = c.aside(a) + la / (la - lb) * (c.aside(b) - c.aside(a));
    w.low = std::min(w.low, aside);
    w.high = std::max(w.high, aside);
  }
  return w;
}

// 45 degrees from something `half` wide to each side, `away` before the cut.
Width spread(const Width& chord, double from, double half, double away) {
  return {std::max(chord.low, from - half - away), std::min(chord.high, from + half + away)};
}

// What a part of the cut has left of its width beside the holes that it goes through.
double left_of(const Width& part, const Fastening& f, const Cut& c) {
  double left = part.size();
  const double half = 0.5 * f.thread.clearance.value();
  for (const PlanPoint& p : f.holes) {
    const double off = c.along(p) - c.at;
    if (!(std::abs(off) < half)) continue;
    const double reach = std::sqrt(half * half - off * off);
    const double aside = c.aside(p);
    left -= Width{std::max(part.low, aside - reach), std::min(part.high, aside + reach)}.size();
  }
  return left;
}

// Fasteners that pull beyond a cut. Each works the width that 45 degrees from its head reach: a far
// one much of the cut, a near one little.
class Pulling {
 public:
  // What the cut carries, and the hardest pull of all.
  struct Cuts {
    double moment = 0, twist = 0;  // of all that acts beyond it
    double hardest = 0;
  };
  Pulling(const Fastening& f, const ContactResult& r, const Cut& c, const Width& chord,
          const Cuts& cut)
      // Pulls may bend it one way beside a bed that bends it the other.
      : most_(std::hypot(cut.moment, 0.5 * std::numbers::sqrt3 * cut.twist)),
        most_shifted_(std::max(-cut.moment, 0.0)) {
    const double head = 0.5 * f.head.value();
    for (std::size_t i = 0; i < f.holes.size(); ++i) {
      const double beyond = c.along(f.holes[i]) - c.at;
      if (!(beyond > 1e-9)) continue;
      const double aside = c.aside(f.holes[i]);
      One one{beyond, r.tension[i].value() * beyond, cut.hardest * beyond,
              spread(chord, aside, head, beyond), 0};
      one.left = left_of(one.reaches, f, c);
      all_.pull += one.pull;
      all_.shifted += one.shifted;
      narrowest_ = std::min(narrowest_, one.left);
      int at = count_++;
      for (; at > 0 && each_[std::size_t(at - 1)].beyond > beyond; --at) {
        each_[std::size_t(at)] = each_[std::size_t(at - 1)];
      }
      each_[std::size_t(at)] = one;
    }
  }
  // No part of them works its width harder than this.
  [[nodiscard]] double moment() const { return bends(all_); }
  [[nodiscard]] double narrowest() const { return count_ > 0 ? narrowest_ : 0.0; }

  // Calls `take(moment, reaches, left of the width)` for each alone and for the nearest one, two,
  // three ... of them together: what the far ones reach does not help a near one that pulls hard.
  template <class Take>
  void each_part(const Fastening& f, const Cut& c, Take take) const {
    std::array<Width, max_fasteners> worked{};  // apart from one another
    int parts = 0;
    One sum;
    for (int i = 0; i < count_; ++i) {
      const One& one = each_[std::size_t(i)];
      take(bends(one), one.reaches, one.left);
      sum.pull += one.pull;
      sum.shifted += one.shifted;
      Width joined = one.reaches;
      int kept = 0;
      for (int k = 0; k < parts; ++k) {
        const Width& w = worked[std::size_t(k)];
        if (w.high < joined.low || w.low > joined.high) {
          worked[std::size_t(kept++)] = w;
        } else {
          joined = {std::min(w.low, joined.low), std::max(w.high, joined.high)};
        }
      }
      worked[std::size_t(kept)] = joined;
      parts = kept + 1;
      if (i == 0) continue;
      double left = 0;
      Width hull = joined;
      for (int k = 0; k < parts; ++k) {
        const Width& w = worked[std::size_t(k)];
        left += left_of(w, f, c);
        hull = {std::min(hull.low, w.low), std::max(hull.high, w.high)};
      }
      take(bends(sum), hull, left);
    }
  }

 private:
  struct One {
    double beyond = 0;
    double pull = 0;     // moment about the cut as a plate that does not bend shares
    double shifted = 0;  // and if bending makes it the hardest
    Width reaches;
    double left = 0;
  };
  [[nodiscard]] double bends(const One& o) const {
    return std::max(std::min(o.pull, most_), std::min(o.shifted, most_shifted_));
  }
  double most_, most_shifted_;
  std::array<One, max_fasteners> each_{};
  int count_ = 0;
  One all_;
  double narrowest_ = 1e300;
};

// A pull twists a cut no more than 45 degrees from it reach across: what is to be taken off.
double not_twisted(const Fastening& f, const ContactResult& r, const Cut& c, const Width& width) {
  const double middle = 0.5 * (width.low + width.high);
  double out = 0;
  for (std::size_t i = 0; i < f.holes.size(); ++i) {
    const double beyond = c.along(f.holes[i]) - c.at;
    if (!(beyond > 1e-9) || !(r.tension[i].value() > 0)) continue;
    const double reached = std::min(1.0, 2 * beyond / width.size());
    out -= (1 - reached) * r.tension[i].value() * (c.aside(f.holes[i]) - middle);
  }
  return out;
}

// Moment that an angle takes about an axis along the plate: first yield at the tip of its free leg,
// less for a thin one (EN 1999-1-1 6.1.5, Tables 6.2 and 6.3, outstand of class B: beyond 5, 9 and
// 20; from memory). Round toes leave 0.95 of a sharp section (DIN 1028, 40 x 40 x 3: 1.18 of 1.24
// cm3).
double moment_of(const Stiffener& a) {
  constexpr double round_toes = 0.95;
  const double l = a.leg.value();
  const double t = a.thickness.value();
  const double flat = l * t;
  const double stem = (l - t) * t;
  const double middle = (flat * 0.5 * t + stem * 0.5 * (l + t)) / (flat + stem);
  const double inertia = l * t * t * t / 12 + flat * std::pow(middle - 0.5 * t, 2) +
                         t * std::pow(l - t, 3) / 12 + stem * std::pow(0.5 * (l + t) - middle, 2);
  const double epsilon = std::sqrt(250e6 / a.metal.yield.value() * a.metal.modulus.value() / 70e9);
  const double slender = l / t / epsilon;
  const double works = slender > 5 ? 9 / slender - 20 / (slender * slender) : 1.0;
  return round_toes * std::max(works, 0.0) * a.metal.yield.value() * inertia / (l - middle);
}

// What the angles take that reach through the cut by their own depth to either side, where the
// plate works, and lie no more than 20 degrees askew.
double angles_across(const Bracket& b, const std::vector<double>& moments, const Cut& c,
                     const Width& works) {
  double out = 0;
  for (std::size_t i = 0; i < b.stiffeners.size(); ++i) {
    const Stiffener& a = b.stiffeners[i];
    const double from = c.along(a.from) - c.at;
    const double to = c.along(a.to) - c.at;
    const double leg = a.leg.value();
    if (std::max(from, to) < leg || std::min(from, to) > -leg) continue;
    const double aside = c.aside(a.from) + from / (from - to) * (c.aside(a.to) - c.aside(a.from));
    if (aside < works.low - 0.5 * leg || aside > works.high + 0.5 * leg) continue;
    const double slant =
        std::abs(to - from) / std::hypot((a.to.x - a.from.x).value(), (a.to.y - a.from.y).value());
    if (slant > 0.94) out += slant * moments[i];
  }
  return out;
}

// Cuts on the way from the gear to the far edge: at its foot, where the plate finds the host, at
// each line of fasteners and twice between.
struct Stations {
  std::array<double, 64> at{};
  std::size_t count = 0;
  void add(double d) {
    if (count < at.size()) at[count++] = d;
  }
};

Stations stations_of(const GunwalePlate& m, const std::vector<Outline>& bed, const Cut& c,
                     double foot, double reach) {
  Stations s;
  s.add(foot);
  const auto add = [&](double d) {
    if (d > foot + 1e-9 && d < reach - 1e-9 && s.count < 20) s.add(d);
  };
  for (const Outline& o : bed) {
    double nearest = 1e300;
    double farthest = -1e300;
    for (const PlanPoint& p : o) {
      nearest = std::min(nearest, c.along(p));
      farthest = std::max(farthest, c.along(p));
    }
    add(nearest);
    add(farthest);
  }
  for (const PlanPoint& p : m.fastening.holes) add(c.along(p));
  std::sort(s.at.begin(), s.at.begin() + std::ptrdiff_t(s.count));
  const std::size_t lines = s.count;
  for (std::size_t i = 0; i + 1 < lines; ++i) {
    const double gap = s.at[i + 1] - s.at[i];
    if (gap < 1e-6) continue;
    s.add(s.at[i] + gap / 3);
    s.add(s.at[i] + 2 * gap / 3);
  }
  return s;
}

}  // namespace

Applicability bracket_bends_applies(const Setup& s) {
  if (!s.plate().bracket) return {Standing::not_concerned, "no bracket"};
  return base_metal_applies(s);
}

Use bracket_bends(const Setup& s, const Actions& a, Category) {
  // All that bed and fasteners do beyond a cut, the gear on its other side: bending about the cut
  // and twist about the way to it. The plate yields by both (von Mises, a thin plate), over the
  // width that 45 degrees from the middle of the gear's foot reach, over which the moment comes in;
  // angles along it, side by side with the plate and not joined to one section, count where they
  // take more than it does. Fasteners bend besides what is near them: as a plate that does not bend
  // shares among them, or with any of them the hardest.
  const GunwalePlate& m = s.plate();
  const Bracket& b = *m.bracket;
  const std::vector<Outline> bed = geometry::bed_of(m);
  const double mp = plate_moment(m.base.thickness, *m.base.metal).value();
  const double half = 0.5 * b.gear_width.value();
  Use worst{measured(Moment{}), measured(Moment::from_value(mp * b.gear_width.value())), -1};
  const auto take = [&](double moment, double twist, double width, double angles) {
    const double plate = mp * width;
    if (!(plate > 0)) return;
    // Twist that yields a strip: 2 w Mp / sqrt(3).
    const double twisted = 0.5 * std::numbers::sqrt3 * twist / plate;
    const double bent = moment / std::max(plate, angles);
    // Told as a moment beside what plate or angles take, whichever is worked harder.
    const double strength = std::abs(twisted) > std::abs(bent) ? plate : std::max(plate, angles);
    const Use use{measured(Moment::from_value(std::hypot(bent, twisted) * strength)),
                  measured(Moment::from_value(strength)), -1};
    if (use.factor() < worst.factor()) worst = use;
  };
  std::vector<double> of_angles;
  of_angles.reserve(b.stiffeners.size());
  for (const Stiffener& one : b.stiffeners) of_angles.push_back(moment_of(one));
  double hardest = 0;
  for (int i = 0; i < a.count; ++i) {
    hardest = std::max(hardest, a.tension[std::size_t(i)].value());
  }
  const bracket::Reactions reactions(m, a.result);
  const Normals normals(m.base.outline);
  for (std::size_t k = 0; k < normals.count; ++k) {
    for (const double way : {1.0, -1.0}) {
      Cut c{way * normals.n[k][0], way * normals.n[k][1], 0};
      const double gear = c.aside(b.gear_at);
      const double foot = c.along(b.gear_at) + half;
      double reach = foot;
      for (const PlanPoint& p : m.base.outline) reach = std::max(reach, c.along(p));
      if (!(reach > foot + 1e-6)) continue;
      // What a part of the bed beside the gear does comes to the gear from the side: it works the
      // cut over its own width as well as what 45 degrees reach.
      std::vector<Width> beside;
      for (std::size_t i = 0; i < bed.size(); ++i) {
        if (!(reactions.parts()[i].force.value() > 0)) continue;
        Width reaches{1e300, -1e300};
        Width aside{1e300, -1e300};
        for (const PlanPoint& p : bed[i]) {
          reaches = {std::min(reaches.low, c.along(p)), std::max(reaches.high, c.along(p))};
          aside = {std::min(aside.low, c.aside(p)), std::max(aside.high, c.aside(p))};
        }
        const double at = c.along(b.gear_at);
        if (reaches.low < at - 1e-9 && reaches.high > at + 1e-9) beside.push_back(aside);
      }
      const Stations stations = stations_of(m, bed, c, foot, reach);
      for (std::size_t i = 0; i < stations.count; ++i) {
        c.at = stations.at[i];
        const bracket::Push p = reactions.beyond(c.nx, c.ny, Length::from_value(c.at));
        if (p.force.value() == 0 && p.about_x.value() == 0 && p.about_y.value() == 0) {
          continue;  // nothing acts beyond it
        }
        const Width chord = chord_of(m.base.outline, c);
        const Width from_gear = spread(chord, gear, half, c.at - foot + half);
        Width width = from_gear;
        double works = from_gear.size();
        for (const Width& part : beside) {
          const Width on{std::max(part.low, chord.low), std::min(part.high, chord.high)};
          if (!(on.size() > 0)) continue;
          works += on.size();
          width = {std::min(width.low, on.low), std::max(width.high, on.high)};
        }
        works = std::min(works, width.size());
        const double force = p.force.value();
        const double moment = c.nx * p.about_y.value() + c.ny * p.about_x.value() - c.at * force;
        const double twist = c.nx * p.about_x.value() - c.ny * p.about_y.value() -
                             0.5 * (width.low + width.high) * force;
        take(moment, twist - not_twisted(m.fastening, a.result, c, width),
             works - (width.size() - left_of(width, m.fastening, c)),
             angles_across(b, of_angles, c, width));
        const Pulling pulling(m.fastening, a.result, c, chord, {moment, twist, hardest});
        // Mostly the rest of the plate is worked harder.
        if (!(mp * pulling.narrowest() < pulling.moment() * worst.factor())) continue;
        pulling.each_part(m.fastening, c, [&](double pulls, const Width& part, double left) {
          take(pulls, 0, left, angles_across(b, of_angles, c, part));
        });
      }
    }
  }
  return worst;
}

Applicability u_bolt_applies(const Setup& s) {
  if (!held_by(s, HoldBy::u_bolt)) return {Standing::not_concerned, "no U-bolts"};
  return {};
}

Use u_bolt_breaks(const Setup& s, const Actions& a, Category) {
  // One leg: its share of the pull, the whole side force of its U-bolt, bent over the way from the
  // plate to what the bolt goes over.
  const Fastening& f = s.plate().fastening;
  const Fitting& fitting = *s.plate().bracket->fitting;
  const double area = root_area(f.thread).value();
  const double root = std::sqrt(4 * area / std::numbers::pi);
  const double bends = std::pow(root, 3) / 6 * f.material.yield.value();
  const double stand = std::max(fitting.height.value() - s.plate().base.thickness.value(), 0.0);
  return worst_fastener(a, [&](int i) {
    const double side = a.shear[std::size_t(i)].size().value();
    const double tension = bracket::share_of_leg * a.tension[std::size_t(i)].value() /
                           (area * f.material.ultimate.value());
    const double both = std::hypot(tension + side * stand / bends,
                                   side / (area * f.material.shear_ultimate.value()));
    return Use{{both, Dimension::number}, {1.0, Dimension::number}, i};
  });
}

Applicability clamp_applies(const Setup& s) {
  if (!held_by(s, HoldBy::clamp)) return {Standing::not_concerned, "no clamps"};
  const Clamp& c = *s.plate().bracket->clamp;
  if (!c.under_edge) {
    return {Standing::refused,
            "a clamp that grips two faces holds down by friction only: no calculation makes that "
            "a hold; a jaw under the edge, or bolts"};
  }
  if (!c.holds) {
    return {Standing::refused,
            "no published source for what a clamp holds, pulled open: mount.clamp.holds with its "
            "source"};
  }
  return {};
}

Use clamp_opens(const Setup& s, const Actions& a, Category) {
  const Force strength = s.plate().bracket->clamp->holds->value;
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Applicability slip_applies(const Setup& s) {
  if (!geometry::is_clasped(s.plate())) {
    return {Standing::not_concerned, "bolts keep it from sliding"};
  }
  const Bracket& b = *s.plate().bracket;
  if (b.stop) return {Standing::not_concerned, "a stop keeps it from sliding"};
  if (b.clamp && !(b.clamp->tightened.value() > 0)) {
    return {Standing::not_checked, "how tight the clamps are is not given"};
  }
  return {};
}

Use bracket_slip(const Setup& s, const Actions& a, Category) {
  // Force and turning about the middle of what clamps it, in one sum: within the curve that a
  // sliding body follows. What lifts the bracket takes from the clamping.
  const GunwalePlate& m = s.plate();
  const bracket::Slip slip = bracket::slip_of(m);
  const auto& holes = m.fastening.holes;
  PlanPoint middle;
  for (const PlanPoint& p : holes) middle = {middle.x + p.x, middle.y + p.y};
  middle = {middle.x / double(holes.size()), middle.y / double(holes.size())};
  const Force clamped = double(holes.size()) * slip.each;
  const Force left = std::max<Force>(clamped - std::max(a.load.force.z(), Force{}), Force{});
  Length radius{};
  for (const PlanPoint& p : holes) {
    radius += std::hypot((p.x - middle.x).value(), (p.y - middle.y).value()) * si::metre;
  }
  radius /= double(holes.size());
  const Force aside = std::hypot(a.load.force.x().value(), a.load.force.y().value()) * si::newton;
  const Moment turning =
      a.load.moment.z() - (middle.x * a.load.force.y() - middle.y * a.load.force.x());
  const Force holds = slip.friction * left;
  // One U-bolt or clamp turns on itself: the radius of its own seat.
  const Length seat = std::max<Length>(radius, m.fastening.thread.diameter);
  const Force demand = aside + abs(turning) / seat;
  return {measured(demand), measured(holds), -1};
}

Applicability stop_applies(const Setup& s) {
  if (!geometry::is_clasped(s.plate())) {
    return {Standing::not_concerned, "bolts keep it from sliding"};
  }
  if (s.plate().bracket->stop) {
    return {Standing::not_checked,
            "what keeps the bracket from sliding and turning is its owner's"};
  }
  return {Standing::refused,
          std::string(plural_of(s.plate().fastening.hold)) +
              " keep the bracket from sliding and turning by friction only and there is no stop: "
              "no calculation makes that a hold"};
}

}  // namespace thole::checks
