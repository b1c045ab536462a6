# Target yaml-cpp from THOLE_YAML_SOURCE, its unpacked source: for em++, and to fuzz it too.
# Foreign code, not a list of ours: here a glob is right.
file(GLOB yaml_sources ${THOLE_YAML_SOURCE}/src/*.cpp)
add_library(yaml-cpp STATIC EXCLUDE_FROM_ALL ${yaml_sources})
target_compile_features(yaml-cpp PRIVATE cxx_std_17)
target_include_directories(yaml-cpp SYSTEM PUBLIC ${THOLE_YAML_SOURCE}/include)
target_compile_definitions(yaml-cpp PUBLIC YAML_CPP_STATIC_DEFINE)
target_compile_options(yaml-cpp PRIVATE -w)
