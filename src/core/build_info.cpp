#include <thole/build_info.hpp>

// Written at build time by src/cmake/build_info.cmake; no other file depends on it, so that a
// commit rebuilds this one alone.
#include "build_values.hpp"

namespace thole {

const BuildInfo& build_info() {
  static const BuildInfo info{THOLE_VERSION, build_values::commit, THOLE_COMPILER, THOLE_BUILD_TYPE,
                              build_values::tables};
  return info;
}

std::string version() { return build_info().version; }

std::string made_by() { return "thole " + version() + ", tables " + build_info().tables; }

std::string build_text() {
  const BuildInfo& b = build_info();
  return "thole " + b.version + "\ntables " + b.tables + "\ncommit " + b.commit + "\ncompiler " +
         b.compiler + "\nbuild " + b.build_type;
}

}  // namespace thole
