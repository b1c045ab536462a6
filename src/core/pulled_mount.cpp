#include "core/pulled_mount.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/assessment_parts.hpp"
#include "core/board_engine.hpp"
#include "core/plate_engine.hpp"

namespace thole {

namespace {

// Index of the greatest by size, and its sign.
template <class Values>
TapePlace greatest(const Values& values) {
  TapePlace out;
  for (std::size_t i = 1; i < values.size(); ++i) {
    if (std::abs(values[i]) > std::abs(values[out.place])) out.place = i;
  }
  out.backward = values[out.place] < 0;
  return out;
}

class Spread {
 public:
  void add(double v) {
    least_ = any_ ? std::min(least_, v) : v;
    most_ = any_ ? std::max(most_, v) : v;
    any_ = true;
  }
  [[nodiscard]] Movement movement(bool rough) const {
    return {std::max(least_, 0.0) * si::metre, std::max(most_, 0.0) * si::metre, rough};
  }

 private:
  double least_ = 0;
  double most_ = 0;
  bool any_ = false;
};

// ---- Boards
// ---------------------------------------------------------------------------------------

class PulledBoard : public PulledMount {
 public:
  explicit PulledBoard(const Setup& s) : setup_(s), engine_(s) {}

  double factor(const HandPull& p) override {
    double worst = plate::infinite;
    each(p, [&](int variant, const board::Trial& t) {
      const board::Vector F = engine_.load(case_of(p), t, p.pull.value());
      worst =
          std::min(worst, engine_.worst_ratio(variant, t, F, Category::occasional, false, nullptr));
      return worst > 0;
    });
    return worst;
  }

  std::optional<TapePlace> place_to_watch(const HandPull& p) override {
    const auto m = motion(p, 0, trial_of(p));
    if (!m) return std::nullopt;
    return greatest(at_places(p, *m));
  }

  std::optional<Movement> movement(const HandPull& p, const TapePlace& w) override {
    Spread spread;
    bool rough = false;
    const bool stays = each(p, [&](int variant, const board::Trial& t) {
      const auto m = motion(p, variant, t);
      if (!m) return false;
      // As for the boom tip in the report: then rotations are no longer small.
      rough = rough || (variant == 0 && m->tail<3>().norm() >= 0.10);
      spread.add((w.backward ? -1 : 1) * at_places(p, *m)[w.place]);
      return true;
    });
    if (!stays) return std::nullopt;
    return spread.movement(rough);
  }

  std::string words(const TapePlace& w) const override {
    return std::string("end of the batten past the ") + (w.place == 0 ? "aft" : "forward") +
           " edge: " + (w.backward ? "down counts" : "up counts");
  }

  std::string how_to_watch() const override {
    const std::string reach = setup_.units == ReaderUnits::inch ? "20 in" : "500 mm";
    return "clamp a straight batten flat across the board, close beside the gear, with " + reach +
           " of it past both edges; the tape reads the height of its ends above the boat, not "
           "above the ground";
  }

  bool wall_gives() const override { return false; }

 private:
  using Motion = Eigen::Matrix<double, 6, 1>;

  [[nodiscard]] LoadCase case_of(const HandPull& p) const {
    LoadCase c;
    c.path = parts::path_of_pull(setup_.gear[p.gear]);
    c.gear = int(p.gear);
    c.pull = p.pull;
    return c;
  }

  [[nodiscard]] board::Trial trial_of(const HandPull& p) const {
    board::Trial t;
    t.gear = int(p.gear);
    t.boom = int(p.position);
    t.others = 0;
    t.alone = true;
    t.way = p.way;
    t.near = setup_.gear[p.gear].place.side;
    return t;
  }

  // Every guess of stiffness and slack, the board held along itself at either end. False: `visit`
  // gave up.
  template <class Visit>
  bool each(const HandPull& p, Visit visit) {
    board::Trial t = trial_of(p);
    for (int variant = 0; variant < board::Engine::variants(); ++variant) {
      for (const Side near : {Side::port, Side::starboard}) {
        t.near = near;
        if (!visit(variant, t)) return false;
      }
    }
    return true;
  }

  // From the board under its own weight.
  std::optional<Motion> motion(const HandPull& p, int variant, const board::Trial& t) {
    const LoadCase c = case_of(p);
    if (engine_.act(variant, t, engine_.load(c, t, 0)).mechanism) return std::nullopt;
    const Motion rest = engine_.base_motion(int(p.gear));
    if (engine_.act(variant, t, engine_.load(c, t, p.pull.value())).mechanism) return std::nullopt;
    return Motion(engine_.base_motion(int(p.gear)) - rest);
  }

  // Up at either end of a batten across the board that nothing loads: a tape would tell nothing of
  // the board's own edges. Axes of the board.
  [[nodiscard]] std::array<double, 2> at_places(const HandPull& p, const Motion& m) const {
    const double reach = 0.5 * setup_.board().board.width.value() +
                         (setup_.units == ReaderUnits::inch ? 0.508 : 0.5);
    const double y = setup_.gear[p.gear].place.forward.value();
    return {m(2) + m(3) * (-reach - y), m(2) + m(3) * (reach - y)};
  }

  const Setup& setup_;
  board::Engine engine_;
};

// ---- Plates and brackets
// --------------------------------------------------------------------------

class PulledPlate : public PulledMount {
 public:
  explicit PulledPlate(const Setup& s) : setup_(s), engine_(s), starts_(engine_.beds()) {
    const Outline& outline = s.plate().base.outline;
    for (const PlanPoint& p : outline) {
      aft_ = std::min(aft_, p.x.value());
      forward_ = std::max(forward_, p.x.value());
      inboard_ = std::min(inboard_, p.y.value());
      outboard_ = std::max(outboard_, p.y.value());
    }
  }

  double factor(const HandPull& p) override {
    std::vector<plate::Setting> settings = engine_.beside(p.gear);
    std::erase_if(settings, [&](const plate::Setting& s) { return s.booms[p.gear] != p.position; });
    return engine_.worst_ratio(settings, path_of(p), p.pull, p.way, nullptr, false);
  }

  std::optional<TapePlace> place_to_watch(const HandPull& p) override {
    const auto lifts = lift_of(p, engine_.beds() / 2);
    if (!lifts) return std::nullopt;
    // Only an edge that lifts: one that is pressed down shows nothing.
    const auto most = std::max_element(lifts->begin(), lifts->end());
    return TapePlace{std::size_t(most - lifts->begin()), false};
  }

  std::optional<Movement> movement(const HandPull& p, const TapePlace& w) override {
    Spread spread;
    for (std::size_t bed = 0; bed < engine_.beds(); ++bed) {
      const auto lifts = lift_of(p, bed);
      if (!lifts) return std::nullopt;
      spread.add((*lifts)[w.place]);
    }
    return spread.movement(true);
  }

  std::string words(const TapePlace& w) const override {
    const std::array<const char*, 4> edges{"aft", "forward", "inboard", "outboard"};
    return std::string(edges[w.place]) + " edge of the base: up counts";
  }

  std::string how_to_watch() const override {
    return "lay a straightedge on the gunwale beside the base so that it does not touch the base; "
           "read how far the edge of the base lifts above it";
  }

  bool wall_gives() const override { return true; }

 private:
  [[nodiscard]] LoadPath path_of(const HandPull& p) const {
    return parts::path_of_pull(setup_.gear[p.gear]);
  }

  // Of the aft, forward, inboard and outboard edge, from the base under its own weights.
  std::optional<std::array<double, 4>> lift_of(const HandPull& p, std::size_t bed) {
    const auto still = at(p, Force{}, bed);
    const auto pulled = at(p, p.pull, bed);
    if (!still || !pulled) return std::nullopt;
    std::array<double, 4> out{};
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = (*pulled)[i] - (*still)[i];
    return out;
  }

  std::optional<std::array<double, 4>> at(const HandPull& p, Force pull, std::size_t bed) {
    const std::vector<plate::Setting> settings = engine_.beside(p.gear);
    // The first with that boom: the other gears hang still.
    const auto setting =
        std::find_if(settings.begin(), settings.end(),
                     [&](const plate::Setting& s) { return s.booms[p.gear] == p.position; });
    if (setting == settings.end()) return std::nullopt;
    engine_.put_on(*setting, path_of(p), pull, p.way);
    if (!engine_.on_bed(bed, starts_[bed]).empty()) return std::nullopt;
    const ContactResult& r = engine_.on_base().result;
    const double w = r.lift.value();
    const double tx = radians(r.tilt_x);
    const double ty = radians(r.tilt_y);
    return std::array<double, 4>{w - ty * aft_, w - ty * forward_, w + tx * inboard_,
                                 w + tx * outboard_};
  }

  const Setup& setup_;
  plate::Engine engine_;
  std::vector<plate::Start> starts_;
  double aft_ = 0, forward_ = 0, inboard_ = 0, outboard_ = 0;
};

}  // namespace

std::unique_ptr<PulledMount> pulled_mount(const Setup& setup) {
  if (setup.on_board()) return std::make_unique<PulledBoard>(setup);
  return std::make_unique<PulledPlate>(setup);
}

}  // namespace thole
