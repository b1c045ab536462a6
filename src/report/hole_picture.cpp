#include "report/pictures.hpp"

namespace thole::pictures {

std::vector<Picture> hole_forces(const SheetContent&) { return {}; }

}  // namespace thole::pictures
