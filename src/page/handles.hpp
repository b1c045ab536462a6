#pragma once

/// What a person may move on the drawing of a setup.

#include <vector>

#include "page/setup_drawing.hpp"

namespace thole::page {

[[nodiscard]] std::vector<Handle> board_handles(const ReadText& read);
[[nodiscard]] std::vector<Handle> plate_handles(const ReadText& read);

// ---- What both share (handles.cpp)
// ---------------------------------------------------------------

/// A length of the file; `otherwise` where it is left out.
[[nodiscard]] Axis length_axis(const ReadText& read, const std::string& path, double otherwise,
                               double low, double high);
/// Moved from `at`: as far as the place moves along `way`, times `sign`.
void follows(Axis& axis, const scene::Spot& at, const scene::Spot& way);
/// The handles of one gear on its stand: booms, tip, rim and lean of a rod. `path`: "gear.0".
void add_gear_handles(const ReadText& read, const Gear& gear, const scene::Stand& stand,
                      const std::string& path, const std::string& id_end, std::vector<Handle>& out);
/// Which item of a list of the file each item of the setup comes from; empty where the two do not
/// agree. `sides`: one for both sides of a board is two.
[[nodiscard]] std::vector<std::size_t> items_of(const ReadText& read, const std::string& list,
                                                bool sides, std::size_t count);

}  // namespace thole::page
