#include <thole/vector.hpp>

auto sum(const thole::ForceVector<thole::Boat>& at_boat,
         const thole::ForceVector<thole::Base>& at_base,
         const thole::Rotation<thole::Boat, thole::Base>& turn) {
#ifdef THOLE_RIGHT
  return turn * at_boat + at_base;
#else
  static_cast<void>(turn);
  return at_boat + at_base;
#endif
}
