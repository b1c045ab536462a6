#include "report/cards.hpp"

namespace thole::cards {

Card measuring(const SheetContent&) { return {}; }

}  // namespace thole::cards
