#include "report/pictures.hpp"

namespace thole::pictures {

Picture plan(const SheetContent&) { return {}; }
Picture side(const SheetContent&) { return {}; }
Picture stern(const SheetContent&) { return {}; }

}  // namespace thole::pictures
