#include <thole/sheet.hpp>

namespace thole {

std::string template_html(const SheetContent&) { return ""; }
std::string template_svg(const SheetContent&, const HoleSet&) { return ""; }

}  // namespace thole
