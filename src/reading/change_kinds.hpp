#pragma once

/// Kinds of single changes: each drafts what could be done to one setup, as edits of its file.
/// Private to reading. Rows for plates and brackets are in plate_changes.cpp, for boards in
/// board_changes.cpp, for gear and its use on any mount in use_changes.cpp; changes.cpp assesses
/// and ranks them and knows none of them by name.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <thole/changes.hpp>

#include "reading/document.hpp"

namespace thole::reading {

/// What a draft may look at.
struct Drawn {
  const Document& document;  ///< with `variants` and `patterns`; edits count on it
  const Setup& setup;
  const Assessment& assessment;  ///< as drawn, without neighbours
  const MaterialLibrary& library;
  [[nodiscard]] bool inch() const { return setup.units == ReaderUnits::inch; }
};

/// One thing to try. Its edits are put into the tree and read: what the reader refuses, or a
/// distance that is too small, is its `why_not`. Draft the sizes of the tables next to what is
/// there, not all of them: a kind drafts at most six. Two drafts of one kind are never paired, nor
/// two whose edits touch.
struct Draft {
  std::string words;  ///< begins small, no full stop: "plate of 6 mm in place of 3 mm"
  std::vector<Edit> edits;
  std::vector<std::string> notes;  ///< the same: "only with access behind the wall"
  Trouble trouble;
  bool of_use = false;
};

struct DraftKind {
  ChangeKind row;
  /// Adds nothing where the kind does not concern the setup.
  void (*draft)(const Drawn&, std::vector<Draft>&) = nullptr;
};

[[nodiscard]] std::span<const DraftKind> plate_changes();
[[nodiscard]] std::span<const DraftKind> board_changes();
[[nodiscard]] std::span<const DraftKind> use_changes();

/// What of a changed board would run into something that it did not before, in words; "" where
/// there is room, and on any other mount (board_changes.cpp).
[[nodiscard]] std::string lacks_room(const Setup& drawn, const Setup& changed);
/// The same of a plate or bracket (plate_changes.cpp).
[[nodiscard]] std::string lacks_room_on_plate(const Setup& drawn, const Setup& changed);

// ---- What drafts share (changes.cpp) ----

/// What stands at a path of the file; nullptr where nothing does.
[[nodiscard]] const Node* node_at(const Drawn& drawn, const std::string& path);
/// The text there, or that of its `is`; "" where there is none.
[[nodiscard]] std::string text_at(const Drawn& drawn, const std::string& path);
/// The path to set a value at: with `.is` where the file says how it is known, so that stays.
[[nodiscard]] std::string value_path(const Drawn& drawn, const std::string& path);
/// "gear.1"; "" where such a path leads elsewhere, because an item has that number for a name.
[[nodiscard]] std::string item_path(const Drawn& drawn, const std::string& list, std::size_t item);

/// As written in a setup, in the reader's units: "3/16 in", "5 mm". It reads back to within what
/// the display rounds, which is nothing for store sizes.
[[nodiscard]] std::string written(const Drawn& drawn, Length v);
/// A name as a value in a map on one line: quoted where it must be.
[[nodiscard]] std::string quoted(std::string_view name);

/// Sizes of one property of all entries of a kind in the reader's market, ascending, each once:
/// stock_sizes(drawn, "flat_bar", "thickness"). Entries of a market are told by `about.market`.
[[nodiscard]] std::vector<Length> stock_sizes(const Drawn& drawn, std::string_view kind,
                                              std::string_view property);
/// The first `most` of ascending sizes above one; those below, nearest first.
[[nodiscard]] std::vector<Length> above(const std::vector<Length>& sizes, Length than,
                                        std::size_t most);
[[nodiscard]] std::vector<Length> below(const std::vector<Length>& sizes, Length than,
                                        std::size_t most);

/// Of a metal, sheet or wood of the tables; nothing where no density is in hand.
[[nodiscard]] std::optional<Density> density_of(const MaterialLibrary& library,
                                                std::string_view material);
/// Adds the weight of a piece, or takes it away (`times` -1); without a density the weight is not
/// known.
void weigh(Trouble& trouble, const MaterialLibrary& library, std::string_view material,
           Volume piece, double times = 1);

}  // namespace thole::reading
