#include <thole/cross_board.hpp>

#include <thole/error.hpp>

namespace thole {

std::string_view word_for(Side side) {
  switch (side) {
    case Side::port:
      return "port";
    case Side::starboard:
      return "starboard";
  }
  throw InternalError("a side without a word");
}

std::string_view word_for(LegFoot foot) {
  switch (foot) {
    case LegFoot::ledge:
      return "ledge";
    case LegFoot::hull:
      return "hull";
    case LegFoot::thwart:
      return "thwart";
    case LegFoot::floor:
      return "floor";
  }
  throw InternalError("a foot without a word");
}

std::string_view word_for(Bedding bedding) {
  switch (bedding) {
    case Bedding::none:
      return "none";
    case Bedding::sealant:
      return "sealant";
    case Bedding::plastic:
      return "plastic";
    case Bedding::rubber:
      return "rubber";
    case Bedding::wood:
      return "wood";
  }
  throw InternalError("a bedding without a word");
}

Length CrossBoard::station(const BoardPlace& p) const {
  return p.side == Side::port ? port_overhang - p.outboard
                              : port_overhang + clear_width + p.outboard;
}

}  // namespace thole
