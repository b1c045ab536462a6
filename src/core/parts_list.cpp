#include <thole/parts_list.hpp>

#include <thole/error.hpp>

#include "core/parts.hpp"

namespace thole {

std::string_view word_for(PartKind kind) {
  switch (kind) {
    case PartKind::cut:
      return "cut";
    case PartKind::fastener:
      return "fasteners";
    case PartKind::isolation:
      return "isolation";
    case PartKind::sealing:
      return "sealing";
    case PartKind::safety:
      return "safety";
    case PartKind::tool:
      return "tools";
  }
  throw InternalError("a kind of part without a word");
}

PartsList parts_list(const Setup& setup, const MaterialLibrary& library) {
  parts::Builder b(setup, library);
  if (setup.on_board()) {
    parts::add_board(b);
  } else {
    parts::add_plate(b);
  }
  parts::add_between(b);
  parts::add_safety(b);
  parts::add_tools(b);
  return b.finish();
}

}  // namespace thole
