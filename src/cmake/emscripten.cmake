# The dependencies for em++, which must not see the include directories of the host:
#   THOLE_STAGE        a directory with links to Eigen, boost, fmt and doctest
#   THOLE_YAML_SOURCE  the unpacked source of yaml-cpp
# Exceptions are needed, and every part must be compiled with the same flag for them.
set(THOLE_WASM_EXCEPTIONS -fwasm-exceptions CACHE STRING "How em++ throws: -fwasm-exceptions or -fexceptions")
foreach(need THOLE_STAGE THOLE_YAML_SOURCE THOLE_EMBED)
  if(NOT EXISTS "${${need}}")
    message(FATAL_ERROR "Building with Emscripten needs -D${need}=...; see tests/run.sh")
  endif()
endforeach()
add_compile_options(${THOLE_WASM_EXCEPTIONS})
add_link_options(${THOLE_WASM_EXCEPTIONS})

foreach(name Boost::headers Eigen3::Eigen fmt::fmt-header-only doctest::doctest)
  add_library(${name} INTERFACE IMPORTED)
  target_include_directories(${name} INTERFACE ${THOLE_STAGE})
endforeach()

include(${CMAKE_CURRENT_LIST_DIR}/yaml_source.cmake)
