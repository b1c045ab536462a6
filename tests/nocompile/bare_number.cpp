#include <thole/quantities.hpp>

using namespace thole::literals;

double newtons(thole::Force force) { return force.value(); }

#ifdef THOLE_RIGHT
double pull() { return newtons(40.0_lbf); }
#else
double pull() { return newtons(40.0); }
#endif
