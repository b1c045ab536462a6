#include <thole/stability.hpp>

#include <algorithm>
#include <cmath>

#include <thole/error.hpp>

namespace thole {

using namespace literals;

namespace {

constexpr double block_coefficient = 0.6;     // hard chine, loaded
constexpr double inertia_coefficient = 0.6;   // of the waterplane about its middle line
constexpr double area_coefficient = 0.75;     // of the waterplane; low: the boat sinks more
constexpr double length_coefficient = 0.5;    // of its inertia about amidships; low as well
constexpr double low_end = 0.7;               // the estimate is good for 30 %
constexpr double waterline_of_length = 0.88;  // where the waterline is not given
constexpr double waterline_of_beam = 0.90;
const Length seated = 0.7_m;            // centre of gravity above the keel
const Length standing = 0.1_m;          // by so much a crew that stands raises it
const Length usual_wave = 0.3_m;        // where none is given
const Length least_gm = 0.001_m;        // in place of a boat that does not stand up at all
const Angle strong_heel = 14.0_deg;     // people slide, a 14 deg cap is used for passenger boats
const Length least_left = 0.10_m;       // above half a wave
constexpr double pound = 0.45359237;    // kg
constexpr double person_offset = 32.0;  // lb
constexpr double person_share = 141.0;  // lb

void require(bool holds, const char* what) {
  if (!holds) throw DomainError(what);
}

template <class Q>
bool above_zero(Q q) {
  return std::isfinite(q.value()) && q.value() > 0;
}

template <class Q>
bool not_below_zero(Q q) {
  return std::isfinite(q.value()) && q.value() >= 0;
}

struct Waterline {
  Length length;
  Length beam;
};
Waterline waterline(const BoatData& b) {
  return {
      above_zero(b.waterline_length) ? b.waterline_length : Length(waterline_of_length * b.length),
      above_zero(b.waterline_beam) ? b.waterline_beam : Length(waterline_of_beam * b.beam)};
}

}  // namespace

StabilityEstimate estimate_stability(const BoatData& b, Density water) {
  require(
      above_zero(b.length) && above_zero(b.beam) && above_zero(b.loaded_mass) && above_zero(water),
      "stability: length, beam, mass and water must be above zero");
  require(!b.centre_height || not_below_zero(*b.centre_height),
          "stability: the centre of gravity must not be below the keel");
  const Waterline w = waterline(b);
  const Volume displaced = b.loaded_mass / water;
  StabilityEstimate e;
  e.draught = displaced / (w.length * w.beam * block_coefficient);
  e.kb = 0.62 * e.draught;
  e.bm = inertia_coefficient * w.length * w.beam * w.beam * w.beam / (12.0 * displaced);
  e.kg = b.centre_height.value_or(seated);
  e.gm = e.kb + e.bm - e.kg;
  return e;
}

Length gm_from_lean_test(const LeanTest& t, Mass loaded) {
  require(above_zero(t.moved) && above_zero(t.across) && above_zero(t.heel) && above_zero(loaded),
          "lean test: mass, distance, heel and the boat's mass must be above zero");
  require(t.heel < 45.0_deg, "lean test: the heel must be below 45 deg");
  return t.moved * t.across / (loaded * std::tan(radians(t.heel)));
}

Length righting_lever(Length gm, Length bm, Angle heel) {
  require(not_below_zero(heel) && heel < 90.0_deg, "righting lever: heel from 0 to below 90 deg");
  require(std::isfinite(gm.value()) && not_below_zero(bm),
          "righting lever: BM must not be below zero");
  const double tangent = std::tan(radians(heel));
  return std::sin(radians(heel)) * (gm + 0.5 * tangent * tangent * bm);
}

Angle edge_angle(Length freeboard, Length beam) {
  require(above_zero(freeboard) && above_zero(beam),
          "edge angle: freeboard and beam must be above zero");
  return std::atan(double(2.0 * freeboard / beam)) * si::radian;
}

std::optional<Angle> heel_under(Moment moment, Mass displaced, Length gm, Length bm, Angle edge) {
  require(not_below_zero(moment), "heel: the moment must not be below zero");
  require(above_zero(displaced) && above_zero(gm), "heel: mass and GM must be above zero");
  require(above_zero(edge) && edge < 90.0_deg, "heel: the edge angle lies between 0 and 90 deg");
  const Force weight = displaced * standard_gravity;
  const auto rights = [&](Angle a) { return Moment(weight * righting_lever(gm, bm, a)); };
  if (moment > rights(edge)) return std::nullopt;
  // The righting moment rises all the way: bisection, its upper end counts.
  Angle low{}, high = edge;
  for (int i = 0; i < 44 && moment.value() > 0; ++i) {
    const Angle middle = 0.5 * (low + high);
    (rights(middle) < moment ? low : high) = middle;
  }
  return moment.value() > 0 ? high : Angle{};
}

Moment lifting_threshold(Mass displaced, Length gm, Length freeboard, Length beam) {
  require(above_zero(displaced) && above_zero(gm) && above_zero(freeboard) && above_zero(beam),
          "lifting threshold: mass, GM, freeboard and beam must be above zero");
  return 0.67 * (displaced * standard_gravity) * gm * double(freeboard / beam);
}

Angle offset_load_heel_limit(Length hull_length) {
  const double m = hull_length.value();
  require(m >= 6 && m <= 24, "offset-load heel: for hulls of 6 to 24 m");
  return degrees(11.5 + std::pow(24 - m, 3) / 520);
}

Length immersion_allowed(Length freeboard, Length deck, Length cockpit, bool exposed) {
  require(above_zero(freeboard) && above_zero(deck) && not_below_zero(cockpit) && cockpit <= deck,
          "immersion: freeboard and deck above zero, the cockpit no longer than the deck");
  return freeboard * double((2.0 * deck - (exposed ? 1.5 : 1.0) * cockpit) / (4.0 * deck));
}

Moment persons_moment(Mass persons, Length breadth_for_persons) {
  require(above_zero(persons) && above_zero(breadth_for_persons),
          "persons to one side: mass and breadth must be above zero");
  return persons * standard_gravity * breadth_for_persons / 6.0;
}

double persons_number(Mass capacity) {
  require(above_zero(capacity), "persons number: the capacity must be above zero");
  return (capacity.value() / pound + person_offset) / person_share;
}

Mass side_load_to_brim(Mass persons_capacity) {
  require(above_zero(persons_capacity), "side load: the capacity must be above zero");
  return 0.6 * persons_capacity;
}

HeelModel heel_model(const BoatData& b, Density water) {
  const StabilityEstimate e = estimate_stability(b, water);
  require(not_below_zero(b.wave_height), "heel: the wave height must not be below zero");
  require(not_below_zero(b.mount_from_stern) && b.mount_from_stern <= b.length,
          "heel: the mount lies between stern and bow");
  HeelModel m;
  m.measured = b.lean_test.has_value();
  m.bm = low_end * e.bm;
  const Length estimated = low_end * (e.gm - standing);
  m.gm = estimated;
  if (m.measured) {
    // The crew sat in the test and stands with a ball hung up.
    m.gm = std::min(gm_from_lean_test(*b.lean_test, b.loaded_mass), e.bm) - standing;
    // A lean that the reading error swallows, or a boat twice as stiff as its size allows, is not
    // believed beyond the estimate.
    const bool weak = b.lean_test->heel < 2.0_deg || m.gm > 2.0 * (e.gm - standing);
    if (weak && m.gm > estimated) {
      m.gm = estimated;
      m.measured = false;
    }
  }
  m.gm = std::max(m.gm, least_gm);
  m.draught = e.draught;
  m.edge = edge_angle(b.freeboard, b.beam);
  m.threshold = lifting_threshold(b.loaded_mass, m.gm, b.freeboard, b.beam);
  m.loaded = b.loaded_mass;
  m.freeboard = b.freeboard;
  m.beam = b.beam;
  m.wave_height = above_zero(b.wave_height) ? b.wave_height : usual_wave;
  const Waterline w = waterline(b);
  const double weight = water.value() * standard_gravity.value();  // of water, N/m^3
  const double area = area_coefficient * w.length.value() * w.beam.value();
  const double inertia = length_coefficient * w.beam.value() * std::pow(w.length.value(), 3) / 12.0;
  const double off = 0.5 * b.length.value() - b.mount_from_stern.value();
  m.sinking = LinearStiffness::from_value(weight / (1 / area + off * off / inertia));
  return m;
}

Length freeboard_left(const HeelModel& m, Angle heel, Force down) {
  require(not_below_zero(heel) && heel < 90.0_deg, "freeboard left: heel from 0 to below 90 deg");
  require(not_below_zero(down), "freeboard left: the load must not be below zero");
  return m.freeboard - Length(down / m.sinking) - 0.5 * std::tan(radians(heel)) * m.beam;
}

Heel heel_of(const HeelModel& m, Moment moment, Force down) {
  require(not_below_zero(moment) && not_below_zero(down),
          "heel: moment and load must not be below zero");
  Heel out;
  const Length upright = freeboard_left(m, Angle{}, down);
  if (!above_zero(upright)) {
    out.level = HeelLevel::swamping;
    return out;
  }
  const Angle edge = edge_angle(upright, m.beam);
  const Moment person = one_person * standard_gravity * (0.5 * m.beam);
  out.alone = heel_under(moment, m.loaded, m.gm, m.bm, edge);
  out.with_person = heel_under(moment + person, m.loaded, m.gm, m.bm, edge);
  if (!out.with_person || *out.with_person >= edge) {
    out.level = HeelLevel::swamping;
  } else if (*out.with_person >= 0.5 * edge || *out.with_person >= strong_heel ||
             freeboard_left(m, *out.with_person, down) < least_left + 0.5 * m.wave_height) {
    out.level = HeelLevel::strong;
  } else if (moment >= m.threshold) {
    out.level = HeelLevel::notice;
  }
  return out;
}

}  // namespace thole
