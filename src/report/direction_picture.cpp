#include "report/pictures.hpp"

namespace thole::pictures {

std::vector<Picture> directions(const SheetContent&) { return {}; }

}  // namespace thole::pictures
