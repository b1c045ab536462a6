#pragma once

/// Kinds of single changes: each drafts what could be done to one setup, as edits of its file.
/// Private to reading. Rows for plates and brackets are in plate_changes.cpp, for boards in
/// board_changes.cpp, for gear and its use on any mount in use_changes.cpp; changes.cpp assesses
/// and ranks them and knows none of them by name.

#include <span>
#include <string>
#include <vector>

#include <thole/changes.hpp>

#include "reading/document.hpp"

namespace thole::reading {

/// What a draft may look at.
struct Drawn {
  const Document& document;  ///< with `variants` and `patterns`; edits count on it
  const Setup& setup;
  const Assessment& assessment;  ///< as drawn, with neighbours
  const MaterialLibrary& library;
  [[nodiscard]] bool inch() const { return setup.units == ReaderUnits::inch; }
};

/// One thing to try. Its edits are put into the tree and read: what the reader refuses, or a
/// distance that is too small, is its `why_not`. Draft the sizes of the tables next to what is
/// there, not all of them: a kind drafts at most six.
struct Draft {
  std::string words;
  std::vector<Edit> edits;
  std::vector<std::string> notes;
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

}  // namespace thole::reading
