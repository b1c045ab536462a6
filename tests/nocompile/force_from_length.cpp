#include <thole/quantities.hpp>

thole::Force grow(thole::Force force, thole::Length length) {
#ifdef THOLE_RIGHT
  force = force * (length / length);
#else
  force = length;
#endif
  return force;
}
