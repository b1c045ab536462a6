# The engine as WebAssembly, for workers of a page and for node: thole_engine.js and .wasm. No files,
# no main; memory grows.
add_executable(thole_engine EXCLUDE_FROM_ALL page/page_wasm.cpp)
target_link_libraries(thole_engine PRIVATE thole::page thole_warnings)
target_link_options(thole_engine PRIVATE --no-entry
  -sMODULARIZE=1
  -sEXPORT_NAME=createThole
  -sENVIRONMENT=worker,node
  -sALLOW_MEMORY_GROWTH=1
  -sFILESYSTEM=0
  -sEXPORTED_FUNCTIONS=_thole_answer,_malloc,_free
  -sEXPORTED_RUNTIME_METHODS=UTF8ToString)
