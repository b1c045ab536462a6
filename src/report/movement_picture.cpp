#include "report/pictures.hpp"

namespace thole::pictures {

Picture movement(const SheetContent&) { return {}; }

}  // namespace thole::pictures
