# THOLE_QUICK_BUILD halves the time of a build from scratch. Builds without it notice an include that
# is missing, and serve ccache.

# thole_precompile(target [header...]): the headers that nearly every source of `target` reads, and
# those given, are compiled once.
function(thole_precompile target)
  if(THOLE_QUICK_BUILD)
    target_precompile_headers(${target} PRIVATE
      <algorithm> <array> <cmath> <functional> <map> <optional> <string> <string_view> <vector>
      <fmt/format.h>
      <thole/quantities.hpp> <thole/vector.hpp>
      ${ARGN})
    if(CMAKE_CXX_COMPILER_ID STREQUAL GNU)
      # GCC 12 forgets in a precompiled header what is the system's, and warns of its own strings.
      target_compile_options(${target} PRIVATE
        -Wno-array-bounds -Wno-stringop-overread -Wno-stringop-overflow -Wno-restrict)
    endif()
  endif()
endfunction()

# thole_quick_tests(target [header...]): the same for tests, which are not optimised either: what
# computes is in the libraries. These stand first for the linker, or it would take what both have, such
# as Eigen's templates, from the tests: five times slower.
function(thole_quick_tests target)
  thole_precompile(${target} ${ARGN})
  if(THOLE_QUICK_BUILD)
    target_compile_options(${target} PRIVATE -O0)
    set(libraries $<TARGET_FILE:thole_core> $<TARGET_FILE:thole_reading> $<TARGET_FILE:thole_page>)
    target_link_options(${target} PRIVATE
      LINKER:--whole-archive ${libraries} LINKER:--no-whole-archive)
  endif()
endfunction()
