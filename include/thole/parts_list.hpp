#pragma once

/// What to buy and to cut: every piece of a mount in store sizes, with what isolates and seals it
/// and spares. Geometry and tables only; no strengths.

#include <optional>
#include <string>
#include <vector>

#include <thole/setup.hpp>

namespace thole {

enum class PartKind {
  cut,        ///< cut from stock: board, angle, plate, bar
  fastener,   ///< bolts, screws, nuts, washers, eyes
  isolation,  ///< sleeves, pads, paste between metals
  sealing,    ///< bedding, plugs, end grain
  safety,     ///< weak links, cutter, lanyard
  tool,       ///< drill, tap: what is not in every box
};
[[nodiscard]] std::string_view word_for(PartKind kind);

struct PartRow {
  PartKind kind = PartKind::cut;
  std::string what;              ///< "machine screw 1/4-20 x 2 in", "board"
  std::string material;          ///< alloy and temper, wood and grade; "" where it does not matter
  int count = 1;                 ///< needed
  int spare = 0;                 ///< on top of it
  std::optional<Length> length;  ///< cut: finished; bolts: under the head, of a store's lengths
  std::optional<Length> width;   ///< cut
  std::optional<Length> thickness;
  std::string stock;     ///< cut: what to ask for, "1 x 8 ft of 2x8"
  std::string why;       ///< "grip 1.3 in + nut + two threads"
  bool assumed = false;  ///< a size hangs on an input that is a guess
  std::string shelf;     ///< where a store has it: "lumber", "metal", "bolts" ...
  /// Cut: pieces of that length hold this row and those that say so; 0: cut from another row's
  /// stock, or from an offcut.
  int stock_count = 0;
  std::optional<Length> stock_length;
};

struct PartsList {
  std::vector<PartRow> rows;       ///< in the order of `PartKind`
  std::vector<std::string> notes;  ///< what the file does not describe
};

/// Sawn off with every piece. Source: common practice, no source.
inline const Length saw_kerf = 0.003 * si::metre;

/// What a bolt needs beyond what it clamps: a locking nut and washers as thick as they come, two
/// threads showing.
/// Source:   heights of locking nuts with a plastic ring, ASME B18.16.6 and ISO 7040 from memory;
///           washers: common practice, no source.
/// Valid:    #8 to 1/2 in, M5 to M12. Accuracy: high side, by less than 2 mm.
[[nodiscard]] Length nut_height(const Thread& thread);
[[nodiscard]] Length washer_thickness(const Thread& thread);

/// The next longer bolt or screw of the stores, in the steps of its thread's own units; nothing
/// where it is longer than all of them.
[[nodiscard]] std::optional<Length> store_bolt_length(const MaterialLibrary& library,
                                                      const Thread& thread, Length least);

/// Source:   the setup and the tables; spares and lengths of bolts: common practice, no source.
/// Valid:    what the setup describes; what it leaves out is in `notes`.
/// Accuracy: sizes as in the file; bolt lengths the next longer of the stores' steps.
[[nodiscard]] PartsList parts_list(const Setup& setup, const MaterialLibrary& library);

}  // namespace thole
