#pragma once

/// Gunwale plates on inserts, self-tapping screws and rivets.

#include <string>

#include "support/plates.hpp"

namespace thole::test {

inline const std::string bar_line =
    "    behind: {material: 6061-T6 extrusion, thickness: 3/8 in, fore_aft: 4 in, athwart: 1 3/4 "
    "in}\n";
inline const std::string coil_line = "    thread_insert: {kind: coil, length: 3/8 in}\n";
inline const std::string given_pull_out = ", pull_out: {is: 100 lbf, source: a test in scrap}";

inline std::string held(const std::string& hold, const std::string& thread,
                        const std::string& more) {
  const std::string lines = thread.empty() ? "" : "    thread: " + thread + "\n";
  return with(with(light(), "    hold: tapped\n    thread: 1/4-20\n",
                   "    hold: " + hold + "\n" + lines + more),
              "{is: \"stainless, unmarked\", known: tagged}",
              hold == "rivet" ? "6061-T6 aluminium bolt" : "\"stainless, unmarked\"");
}

inline const std::string in_coil = held("thread_insert", "1/4-20", coil_line + bar_line);
inline const std::string blind_insert =
    held("blind_insert", "M6",
         "    blind_insert: {metal: aluminium, flange: 13 mm, bulb: 11 mm, hole: 9 mm" +
             given_pull_out + "}\n");
inline const std::string self_tapping = held("self_tapping", "1/4-14", "");
inline const std::string solid_rivet =
    held("rivet", "", "    rivet: {kind: solid, diameter: 3/16 in}\n");

}  // namespace thole::test
