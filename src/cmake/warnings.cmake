# Linked as $<BUILD_INTERFACE:thole_warnings>, so that the installed package knows nothing of it.
# Warnings become errors only where the caller sets CMAKE_COMPILE_WARNING_AS_ERROR.
# Left out: -Wnull-dereference, which GCC 12 reports inside CLI11 and the standard library.
add_library(thole_warnings INTERFACE)
target_compile_options(thole_warnings INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wold-style-cast
  -Wnon-virtual-dtor -Woverloaded-virtual -Wcast-qual -Wformat=2 -Wdouble-promotion
  $<$<CXX_COMPILER_ID:GNU>:-Wduplicated-cond>
  $<$<CXX_COMPILER_ID:GNU>:-Wlogical-op>)
