#include <thole/sheet.hpp>

namespace thole {

std::string plates_svg(const SheetContent&) { return ""; }
std::string plates_dxf(const SheetContent&) { return ""; }

}  // namespace thole
