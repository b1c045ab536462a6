#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <utility>

#include <fmt/format.h>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/rod.hpp>
#include <thole/towed_line.hpp>

#include "core/assessment_parts.hpp"
#include "core/load_list.hpp"
#include "core/stable_order.hpp"
#include "core/ties.hpp"

namespace thole {

std::string_view word_for(HeelLevel level) {
  switch (level) {
    case HeelLevel::none:
      return "below the thresholds";
    case HeelLevel::notice:
      return "a third of the freeboard gone";
    case HeelLevel::strong:
      return "leans hard, little freeboard left";
    case HeelLevel::swamping:
      return "gunwale in the water";
  }
  throw InternalError("a level of heel without a word");
}

}  // namespace thole

namespace thole::parts {

using namespace literals;

namespace {

// Numeric kernel: SI numbers, moments about the boat's middle line at the waterline, half the
// draught below it where the water holds the hull.

const Length board_height = 0.5_m;    // above the water, boat not described (judgement)
const Length half_draught = 0.1_m;    // the same
const Angle grid = 5.0_deg;           // misses 0.1 % of a peak
constexpr double brake_sticks = 1.5;  // pull over setting, as in the cases
constexpr double most_pull = 1e5;     // N; above it nothing on a small boat matters

/// Outboard of the middle line, and above the water with half the draught added.
struct Point {
  double y = 0;
  double z = 0;
};

/// One direction of a pull, and one position of the boom.
struct Way {
  double arm = 0;   ///< heeling moment per newton toward the gear's own side, at the point of pull
  double rod = 0;   ///< a straight rod beyond that point: the same
  double bent = 0;  ///< greatest part of a bent rod, per root of a newton; 0: no such bound
  double down = 0;  ///< part of the pull that presses the boat down
};

struct Toward {
  double own = 0;
  double other = 0;
};

Toward moment_of(const Way& w, double pull) {
  const double plain = pull * w.arm;
  double rod = pull * w.rod;
  if (w.bent > 0) {
    const double most = std::sqrt(pull) * w.bent;
    rod = std::clamp(rod, -most, most);
  }
  // A rod's lever is bounded above only: none of it may be there.
  return {std::max({0.0, plain, plain + rod}), std::max({0.0, -plain, -plain - rod})};
}

Way way_at(const Point& p, const Direction<Boat>& d) {
  Way w;
  w.arm = d.y() * p.z - d.z() * p.y;
  w.down = std::max(0.0, -d.z());
  return w;
}

Way way_of_rod(const Point& p, const RodHolder& r, const Direction<Boat>& d) {
  Way w = way_at(p, d);
  const double lean = radians(r.lean);
  const double toward = radians(r.toward);
  const Eigen::Vector3d axis(-std::sin(lean) * std::cos(toward), std::sin(lean) * std::sin(toward),
                             std::cos(lean));
  const Eigen::Vector3d turn = axis.cross(d.si_values());
  const double cosine = std::clamp(axis.dot(d.si_values()), -1.0, 1.0);
  // Heeling is minus the moment about x, as above. A line back along the rod may bend it any way.
  const double share = turn.norm() > 1e-9 ? -turn.x() / turn.norm() : 1.0;
  const Angle beta = std::acos(cosine) * si::radian;
  w.rod = share * rod_lever_bound(r.rod_length, std::nullopt, beta, 1.0_N).value();
  if (r.butt_stiffness) {
    // The second bound of `rod_lever_bound`, times the pull.
    w.bent = std::abs(share) * std::sqrt(2 * r.butt_stiffness->value() * (1 - cosine));
  }
  return w;
}

Direction<Boat> mirrored(const Direction<Boat>& d) {
  return Direction<Boat>(Eigen::Vector3d(d.x(), -d.y(), d.z()));
}

LoadPath own_path(const Gear& g) {
  if (g.downrigger) return LoadPath::tip;
  return g.rod_holder ? LoadPath::line : LoadPath::point;
}

bool acts(const LoadCase& c) {
  return !c.left_out && c.path != LoadPath::ride && c.path != LoadPath::warning;
}

std::vector<DirectionRange> ranges_of(const LoadCase& c) {
  return c.ranges.empty() ? std::vector<DirectionRange>{c.range} : c.ranges;
}

/// The greatest heeling moment of a case.
struct Worst {
  double moment = 0;
  double down = 0;  ///< N
  Direction<Boat> way{Eigen::Vector3d(0, 0, -1)};
  int gear = -1;      ///< whose boom
  int position = -1;  ///< of the boom
};

class Heeling {
 public:
  Heeling(const Setup& s, const std::optional<HeelModel>& model) : s_(s) {
    if (model) beam_ = model->beam.value();
    height_ = model ? model->freeboard.value() + 0.5 * model->draught.value()
                    : (board_height + half_draught).value();
    for (const Gear& g : s.gear) own_points_.push_back(points(g, own_path(g)));
  }

  [[nodiscard]] Worst worst(const LoadCase& c) const {
    Worst w;
    if (c.path == LoadPath::board) {
      people(c, w);
    } else if (c.others == Others::together) {
      together(c, w);
    } else {
      for (std::size_t i = 0; i < s_.gear.size(); ++i) {
        if (c.gear < 0 || c.gear == int(i)) alone(c, i, w);
      }
      // A hand on a mount without such a part.
      if (c.gear < 0 && w.moment == 0 && !load_list::is_a_pull(c.path)) people(c, w);
    }
    return w;
  }

  /// Every way in which a gear's own line may pull by the cases: straight pulls grow in proportion,
  /// so that the worst to either side stands for all of them.
  [[nodiscard]] std::vector<Way> own_ways(std::size_t gear, const std::vector<LoadCase>& cases,
                                          const std::optional<DirectionRange>& only = {}) const {
    const Gear& g = s_.gear[gear];
    std::vector<DirectionRange> ranges;
    if (only) ranges.push_back(*only);
    // What a pull does to the boat does not ask what the owner leaves out or narrows.
    if (listed_.empty()) listed_ = listed_cases(s_);
    for (const auto* list : {&std::as_const(listed_), &cases}) {
      if (only) break;
      for (const LoadCase& c : *list) {
        if (c.gear != int(gear) || c.path != own_path(g)) continue;
        if (list == &cases && !acts(c)) continue;
        for (const DirectionRange& r : ranges_of(c)) {
          if (std::find(ranges.begin(), ranges.end(), r) == ranges.end()) ranges.push_back(r);
        }
      }
    }
    std::vector<Way> all;
    for (const DirectionRange& r : ranges) {
      for (const Direction<Boat>& d : directions(r, grid)) {
        for (const Point& p : own_points_[gear]) all.push_back(way(g, own_path(g), p, d));
      }
    }
    if (all.empty() || own_path(g) == LoadPath::line) return all;
    const auto less = [](const Way& a, const Way& b) { return a.arm < b.arm; };
    const auto [least, most] = std::minmax_element(all.begin(), all.end(), less);
    return {*least, *most};
  }

  /// What the other gears on that side do meanwhile: balls at their tips, rods running; with
  /// `hung_up` (of a downrigger) only what is no downrigger.
  [[nodiscard]] double towing_beside(std::size_t gear, bool hung_up = false) const {
    double sum = 0;
    for (std::size_t i = 0; i < s_.gear.size(); ++i) {
      if (i == gear || !same_side(s_.gear[i], s_.gear[gear])) continue;
      if (!hung_up || !s_.gear[i].downrigger) sum += towing(i);
    }
    return sum;
  }

  /// The other downriggers of that side, hung up as well.
  [[nodiscard]] std::vector<std::size_t> downriggers_beside(std::size_t gear) const {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < s_.gear.size(); ++i) {
      if (i != gear && s_.gear[i].downrigger && same_side(s_.gear[i], s_.gear[gear])) {
        out.push_back(i);
      }
    }
    return out;
  }

  [[nodiscard]] bool two_on_a_side() const {
    for (std::size_t i = 1; i < s_.gear.size(); ++i) {
      for (std::size_t k = 0; k < i; ++k) {
        if (same_side(s_.gear[i], s_.gear[k])) return true;
      }
    }
    return false;
  }

 private:
  [[nodiscard]] bool same_side(const Gear& a, const Gear& b) const {
    return !s_.on_board() || a.place.side == b.place.side;
  }

  /// A point of a gear that is given from the middle of its foot.
  [[nodiscard]] Point point(const Gear& g, const Position<Base>& at) const {
    if (s_.on_board()) {
      const double base = (0.5 * s_.board().clear_width + g.place.outboard).value();
      return {base + at.y().value(), height_ + at.z().value()};
    }
    const GunwalePlate& m = s_.plate();
    const PlanPoint foot = m.bracket ? m.bracket->gear_at : PlanPoint{};
    const Position<Base> from_middle = at + Position<Base>(foot.x, foot.y, Length{});
    const Position<Boat> level = to_base(m.host).inverse() * from_middle;
    return {0.5 * beam_ + level.y().value(), height_ + level.z().value()};
  }

  /// Where a pull of this kind acts on a gear: one point for each position of a boom.
  [[nodiscard]] std::vector<Point> points(const Gear& g, LoadPath path) const {
    std::vector<Point> out;
    if (g.downrigger && path == LoadPath::tip) {
      const Downrigger& d = *g.downrigger;
      for (std::size_t i = 0; i < d.positions(); ++i) out.push_back(point(g, boom_tip(d, i)));
    } else if (g.downrigger && path == LoadPath::post) {
      out.push_back(point(g, post_of(*g.downrigger)));
    } else if (g.rod_holder && (path == LoadPath::line || path == LoadPath::rim)) {
      const RodHolder& r = *g.rod_holder;
      out.push_back(point(g, {r.forward, r.outboard, r.height}));
    } else if (g.plain_load && path == LoadPath::point) {
      out.push_back(point(g, g.plain_load->at));
    }
    return out;
  }

  [[nodiscard]] static Way way(const Gear& g, LoadPath path, const Point& p,
                               const Direction<Boat>& d) {
    return path == LoadPath::line ? way_of_rod(p, *g.rod_holder, d) : way_at(p, d);
  }

  [[nodiscard]] double towing(std::size_t gear) const {
    const Gear& g = s_.gear[gear];
    const Direction<Boat> down(Eigen::Vector3d(0, 0, -1));
    double pull = 0;
    if (g.downrigger) pull = (g.downrigger->ball * standard_gravity).value();
    if (g.rod_holder) pull = g.rod_holder->running_pull.value();
    double most = 0;
    if (g.plain_load) {
      // A load of every day stands in its own directions.
      if (g.plain_load->category != Category::everyday) return 0;
      for (const Direction<Boat>& d : directions(g.plain_load->range, grid)) {
        for (const Point& p : own_points_[gear]) {
          most =
              std::max(most, moment_of(way(g, own_path(g), p, d), g.plain_load->pull.value()).own);
        }
      }
      return most;
    }
    for (const Point& p : own_points_[gear]) {
      most = std::max(most, moment_of(way(g, own_path(g), p, down), pull).own);
    }
    return most;
  }

  // Whoever pushes up stands on the same boat: what counts of people is weight that goes there.
  static bool from_within(const LoadCase& c, const Direction<Boat>& d) {
    return !load_list::is_a_pull(c.path) && d.z() > 1e-9;
  }

  void alone(const LoadCase& c, std::size_t gear, Worst& worst) const {
    const Gear& g = s_.gear[gear];
    const double beside = load_list::is_a_pull(c.path) ? towing_beside(gear) : 0;
    const std::vector<Point> all = points(g, c.path);
    for (const DirectionRange& r : ranges_of(c)) {
      for (const Direction<Boat>& d : directions(r, grid)) {
        if (from_within(c, d)) continue;
        for (std::size_t i = 0; i < all.size(); ++i) {
          const Way w = way(g, c.path, all[i], d);
          const Toward m = moment_of(w, c.pull.value());
          const double most = std::max(m.own + beside, m.other);
          if (parts::above(most, worst.moment)) {
            worst = {most, c.pull.value() * w.down, d, int(gear), int(i)};
          }
        }
      }
    }
  }

  // The same way over the ground. What pulls the boat the other way is not counted: it may let go.
  void together(const LoadCase& c, Worst& worst) const {
    const std::size_t main = c.gear < 0 ? 0 : std::size_t(c.gear);
    double beside = 0;
    for (std::size_t k = 0; k < s_.gear.size(); ++k) {
      if (pull_of(c, k) <= 0 && same_side(s_.gear[k], s_.gear[main])) beside += towing(k);
    }
    for (const DirectionRange& r : ranges_of(c)) {
      for (const Direction<Boat>& d : directions(r, grid)) {
        const Direction<Boat> back = mirrored(d);
        double own = beside, other = 0, down = 0;
        int boom = -1;
        for (std::size_t k = 0; k < s_.gear.size(); ++k) {
          const Gear& g = s_.gear[k];
          const double pull = pull_of(c, k);
          if (pull <= 0) continue;
          const bool same = same_side(g, s_.gear[main]);
          Toward most;
          double heaviest = 0;
          for (std::size_t i = 0; i < own_points_[k].size(); ++i) {
            const Way w = way(g, own_path(g), own_points_[k][i], same ? d : back);
            const Toward m = moment_of(w, pull);
            if (k == main && !parts::below(m.own, most.own)) boom = int(i);
            most = {std::max(most.own, m.own), std::max(most.other, m.other)};
            heaviest = std::max(heaviest, pull * w.down);
          }
          (same ? own : other) += most.own;
          (same ? other : own) += most.other;
          down += heaviest;
        }
        if (parts::above(std::max(own, other), worst.moment)) {
          worst = {std::max(own, other), down, d, int(main), boom};
        }
      }
    }
  }

  [[nodiscard]] static double pull_of(const LoadCase& c, std::size_t gear) {
    return gear < c.pulls.size() ? c.pulls[gear].value() : c.pull.value();
  }

  // At the farther end of the board, or on the gunwale; both ways across.
  void people(const LoadCase& c, Worst& worst) const {
    Point p{0.5 * beam_, height_};
    if (s_.on_board()) {
      const CrossBoard& b = s_.board();
      const Length half = 0.5 * b.clear_width;
      const Length port = half + b.port_overhang;
      const Length starboard = b.board.length - b.port_overhang - half;
      p.y = std::max({half, port, starboard}).value();
    }
    for (const DirectionRange& r : ranges_of(c)) {
      for (const Direction<Boat>& given : directions(r, grid)) {
        if (from_within(c, given)) continue;
        for (const Direction<Boat>& d : {given, mirrored(given)}) {
          const Way w = way_at(p, d);
          const Toward m = moment_of(w, c.pull.value());
          const double most = std::max(m.own, m.other);
          if (parts::above(most, worst.moment)) worst = {most, c.pull.value() * w.down, d, -1, -1};
        }
      }
    }
  }

  const Setup& s_;
  double beam_ = 0;
  double height_ = 0;
  std::vector<std::vector<Point>> own_points_;
  mutable std::vector<LoadCase> listed_;  ///< when first asked for
};

std::string where(const Setup& s, const LoadCase& c, const Worst& w) {
  std::string line = describe(w.way);
  if (w.gear < 0 || w.position < 0) return line;
  const Gear& g = s.gear[std::size_t(w.gear)];
  if (!g.downrigger || c.path != LoadPath::tip || g.downrigger->positions() < 2) return line;
  const Downrigger::Position p = g.downrigger->position(std::size_t(w.position));
  const std::string raised = p.raised.value() != 0 ? " and raised " + show(p.raised) : "";
  return "boom " + show(p.azimuth) + " from astern" + raised + ", wire " + line;
}

// As people measure along a seat.
std::string off_middle(Length v, ReaderUnits u) {
  if (u == ReaderUnits::inch) return fmt::format("{} in", std::lround(v.value() / 0.0254));
  return fmt::format("{:.1f} m", v.value());
}

std::string person(ReaderUnits u) { return "a person of " + show(one_person, u); }

Length person_at(double moment) {
  return Length::from_value(moment / (one_person * standard_gravity).value());
}

Density water_of(const Setup& s) {
  // Lighter water floats the boat lower and wider by little: the usual one will do beyond a table.
  const double usual = s.salt_water ? 15 : 10;
  const double given = s.use.water_temperature.value_or(usual);
  const WaterTemperature t{given >= 0 && given <= 35 ? given : usual};
  return (s.salt_water ? sea_water(t) : fresh_water(t)).density;
}

// Smallest pull at which `reached` holds, from below.
std::optional<Force> least_pull(const std::function<bool(double)>& reached) {
  if (reached(0)) return Force{};
  if (!reached(most_pull)) return std::nullopt;
  double low = 0, high = most_pull;
  for (int i = 0; i < 36; ++i) {
    const double middle = 0.5 * (low + high);
    (reached(middle) ? high : low) = middle;
  }
  return low * si::newton;
}

// Of one gear; `only`: in a part of its directions.
std::optional<HeelPull> heel_pull(const Setup& s, const std::vector<LoadCase>& cases,
                                  const Heeling& heeling, const HeelModel& model, std::size_t i,
                                  const std::optional<DirectionRange>& only = {}) {
  const Gear& g = s.gear[i];
  if (g.plain_load) return std::nullopt;
  const std::vector<Way> ways = heeling.own_ways(i, cases, only);
  if (ways.empty()) return std::nullopt;
  // Every downrigger of that side hung up at the same pull: a snag may take them all.
  const bool hung_up = g.downrigger.has_value();
  std::vector<std::vector<Way>> others;
  if (hung_up) {
    for (const std::size_t k : heeling.downriggers_beside(i)) {
      others.push_back(heeling.own_ways(k, cases));
    }
  }
  const double idle = heeling.towing_beside(i, hung_up);
  const auto at = [&](double pull) {
    Worst worst;
    double beside = idle;
    for (const std::vector<Way>& other : others) {
      double most = 0;
      for (const Way& w : other) most = std::max(most, moment_of(w, pull).own);
      beside += most;
    }
    for (const Way& w : ways) {
      const Toward m = moment_of(w, pull);
      const double most = std::max(m.own + beside, m.other);
      if (most >= worst.moment) {
        worst.moment = most;
        worst.down = pull * w.down;
      }
    }
    return worst;
  };
  const auto level_at = [&](double pull) {
    const Worst w = at(pull);
    return heel_of(model, Moment::from_value(w.moment), w.down * si::newton).level;
  };
  const auto notice =
      least_pull([&](double pull) { return at(pull).moment >= model.threshold.value(); });
  if (!notice) return std::nullopt;
  HeelPull p;
  p.gear = g.name;
  p.notice = *notice;
  p.strong = least_pull([&](double pull) { return level_at(pull) >= HeelLevel::strong; });
  p.swamping = least_pull([&](double pull) { return level_at(pull) >= HeelLevel::swamping; });
  const double growth = g.rod_holder ? g.rod_holder->spool_growth : 1.0;
  p.setting = std::min(p.notice, p.swamping.value_or(p.notice)) / (brake_sticks * growth);
  return p;
}

std::vector<HeelPull> heel_pulls(const Setup& s, const std::vector<LoadCase>& cases,
                                 const Heeling& heeling, const HeelModel& model) {
  std::vector<HeelPull> out;
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    if (const auto p = heel_pull(s, cases, heeling, model, i)) out.push_back(*p);
  }
  return out;
}

// What the worst row says to the owner.
std::string caution_of(const HeelRow& r, const BoatSide& side, ReaderUnits u) {
  const std::string one = person(u) + " at that side";
  if (*r.level != HeelLevel::swamping) {
    return r.title + ": heels the boat about " + show(*r.heel) + " with " + one +
           "; the gunwale meets the water at " + show(side.edge_angle);
  }
  if (!r.heel_alone) return r.title + ": puts the gunwale in the water, even with nobody there";
  return r.title + ": puts the gunwale in the water with " + one + "; heels the boat about " +
         show(*r.heel_alone) + " without";
}

struct Row {
  const LoadCase* load_case;
  HeelRow row;
};

std::vector<std::string> cautions(const Setup& s, const std::vector<Row>& rows,
                                  const BoatSide& side, const Heeling& heeling,
                                  const std::optional<HeelModel>& model) {
  std::vector<std::string> out;
  const auto pulls = [](const Row& r) { return load_list::is_a_pull(r.load_case->path); };
  if (!side.described) {
    std::string text =
        "the same pull heels the boat: not compared, because boat: is not in the file";
    const auto worst = [&](bool decides) {
      return std::find_if(rows.begin(), rows.end(), [&](const Row& r) {
        return pulls(r) && (!decides || r.load_case->decides);
      });
    };
    auto r = worst(true);
    if (r == rows.end()) r = worst(false);
    if (r != rows.end()) {
      text += "; " + about(r->row.pull, s.units, Rounding::up) + " (" + r->row.title +
              ") heels it like " + person(s.units) + " sitting " +
              off_middle(r->row.person_off_middle, s.units) + " off the middle";
    }
    return {text + "; no stability check"};
  }
  // The worst that decides, and the worst mishap where it is worse.
  std::optional<HeelLevel> said;
  for (const bool decides : {true, false}) {
    const auto r = std::find_if(rows.begin(), rows.end(), [&](const Row& row) {
      return pulls(row) && row.load_case->decides == decides && *row.row.level != HeelLevel::none;
    });
    if (r == rows.end() || (said && *r->row.level <= *said)) continue;
    said = r->row.level;
    out.push_back(caution_of(r->row, side, s.units));
  }
  const Heel person_alone = heel_of(*model, Moment{}, Force{});
  std::string text = "a comparison with published figures, no stability check";
  text += ": " + person(s.units) + " at the gunwale alone ";
  text += person_alone.with_person ? "heels it about " + show(*person_alone.with_person)
                                   : std::string("puts it in the water");
  if (!model->measured)
    text += "; the boat's stiffness is the low end of an estimate: a lean test tells";
  if (heeling.two_on_a_side()) text += "; pulls of gears on one side add up";
  out.push_back(text);
  return out;
}

}  // namespace

BoatSide boat_side(const Setup& s, const std::vector<LoadCase>& cases) {
  BoatSide out;
  std::optional<HeelModel> model;
  if (s.boat) {
    model = heel_model(*s.boat, water_of(s));
    out.described = true;
    out.gm = model->gm;
    out.gm_from = model->measured ? "lean test" : "estimate, low end";
    out.edge_angle = model->edge;
    out.threshold = model->threshold;
    add_source(out.sources, {"46 CFR 173.005, lifting: hook moment 0.67 W GM F/B", "", Seen::page});
    if (!model->measured) {
      add_source(out.sources,
                 {"height of the metacentre from main sizes, textbook", "", Seen::memory});
    }
    add_source(out.sources,
               {"heel that counts as strong: half the edge angle, 14 deg, 0.10 m and half a wave",
                "", Seen::judgement});
  }
  add_source(out.sources,
             {"ISO 12217-1:2013, offset-load test, a person of 85 kg", "", Seen::copy});
  const Heeling heeling(s, model);
  std::vector<Row> rows;
  // On a plate nothing tells where the boat's middle line is.
  const bool placed = s.on_board() || model.has_value();
  for (const LoadCase& c : cases) {
    if (!placed || !acts(c)) continue;
    const Worst w = heeling.worst(c);
    if (w.moment <= 0) continue;
    HeelRow r;
    r.load_case = c.id;
    r.title = c.title;
    if (c.gear >= 0) r.gear = s.gear[std::size_t(c.gear)].name;
    r.pull = c.pull;
    r.moment = Moment::from_value(w.moment);
    r.direction = where(s, c, w);
    r.person_off_middle = person_at(w.moment);
    if (model) {
      const Heel h = heel_of(*model, r.moment, w.down * si::newton);
      r.heel = h.with_person;
      r.heel_alone = h.alone;
      r.level = h.level;
    }
    rows.push_back({&c, r});
  }
  sort_stably(rows, [](const Row& a, const Row& b) {
    return parts::steady(a.row.moment.value()) > parts::steady(b.row.moment.value());
  });
  if (model) out.pulls = heel_pulls(s, cases, heeling, *model);
  out.cautions = cautions(s, rows, out, heeling, model);
  for (const Row& r : rows) out.rows.push_back(r.row);
  return out;
}

std::optional<Force> boat_setting(const Setup& s, const std::vector<LoadCase>& cases,
                                  std::size_t gear, const RangeLimit& part) {
  if (!s.boat || s.gear[gear].plain_load) return std::nullopt;
  Setup there = s;
  if (part.boom) there.gear[gear].downrigger->boom_angles = {*part.boom};
  const HeelModel model = heel_model(*s.boat, water_of(s));
  const auto p = heel_pull(there, cases, Heeling(there, model), model, gear, part.range);
  return p ? p->setting : std::nullopt;
}

}  // namespace thole::parts
