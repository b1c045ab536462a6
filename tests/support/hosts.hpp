#pragma once

/// Bases on timber, plywood, laminate and cored panels for tests.

#include <string>
#include <string_view>

#include <thole/check.hpp>

#include "support/plates.hpp"

namespace thole::test {

inline const char* const timber_text = R"(thole: 1
title: Rod holder on an oak gunwale
units: inch
mount:
  kind: gunwale_plate
  host:
    kind: timber
    wood: {is: White Oak No.1, known: tagged}
    thickness: {is: 1 1/2 in, known: measured}
    width: {is: 4 in, known: measured}
    grain: {is: fore_aft, known: measured}
    to_edge: 2 in
    to_end: 4 ft
  base:
    fore_aft: 4 in
    athwart: 2 1/2 in
    material: 6061-T6 extrusion
    thickness: 1/4 in
    body: 2 in
  fastening:
    hold: through_bolt
    thread: 1/4-20
    material: {is: F593 group 2 CW1, known: tagged}
    washer: 1/4 fender 1
    head: 5/8 in
    holes: {fore_aft: 3 in, athwart: 1 1/2 in}
gear:
  - kind: plain_load
    at: {forward: 0 in, outboard: 1 in, up: 4 in}
    pull: 20 lbf
    azimuth: [-90 deg, 90 deg]
    dip: [0 deg, 40 deg]
condition:
  cracks: no
  loose_rivets: no
  bent_or_corroded: no
  soft_wood_or_core: no
  weld_near_base: no
  within_6_in: rib
)";

/// Another host in place of the timber, lines of keys.
inline std::string on_host(const std::string& keys) {
  const std::string text = timber_text;
  const std::size_t from = text.find("    kind: timber");
  const std::size_t to = text.find("  base:");
  return text.substr(0, from) + keys + text.substr(to);
}

inline const char* const laminate_keys = R"(    kind: laminate
    thickness: {is: 6 mm, known: measured}
    to_edge: 3 in
    punch_shear: {is: 60 MPa, source: five coupons of the yard}
    bearing: {is: 150 MPa, source: five coupons of the yard}
)";

inline const char* const core_keys = R"(    kind: cored_panel
    skin_top: {is: 1/8 in, known: measured}
    skin_below: {is: 1/8 in, known: measured}
    core_thickness: {is: 1/2 in, known: measured}
    core: balsa
    solid_at_bolts: yes
    to_edge: 3 in
    punch_shear: {is: 60 MPa, source: five coupons of the yard}
    bearing: {is: 150 MPa, source: five coupons of the yard}
    core_crush: {is: 4 MPa, source: data sheet of the core}
)";

inline const char* const plywood_keys = R"(    kind: plywood
    plies: {is: marine, known: tagged}
    thickness: {is: 3/4 in, known: measured}
    to_edge: 3 in
    punch_shear: {is: 3 MPa, source: coupons of the owner}
)";

/// Screws in place of the bolts of `timber_text`.
inline std::string with_screws(const char* hold, const char* size, const char* length) {
  std::string text = with(timber_text, "hold: through_bolt", std::string("hold: ") + hold);
  text = with(text, "thread: 1/4-20", std::string("size: ") + size + "\n    length: " + length);
  return with(text, "    washer: 1/4 fender 1\n", "");
}

inline const FailureMode& mode_of(std::string_view id) {
  for (const FailureMode& m : catalogue()) {
    if (m.id == id) return m;
  }
  throw std::runtime_error("no mode " + std::string(id));
}

/// The same pull, or push along or across the boat, on every fastener.
inline Actions pulled() {
  Actions a;
  a.tension.fill(1.0_lbf);
  return a;
}
inline Actions pushed(bool across) {
  Actions a;
  for (PlaneForce& p : a.shear) (across ? p.y : p.x) = 1.0_lbf;
  return a;
}

/// What a mode says a part carries, under actions on all fasteners.
inline double strength(const Setup& s, std::string_view mode, Actions a, Force unit) {
  a.count = int(s.plate().fastening.holes.size());
  const Use u = mode_of(mode).use(s, a, Category::occasional);
  return u.strength.si / unit.value();
}

}  // namespace thole::test
