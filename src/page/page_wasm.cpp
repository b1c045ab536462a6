// The door of the engine in a browser or node: texts in, one text out, which the caller frees.

#include <emscripten.h>

#include <cstdlib>
#include <cstring>
#include <string>

#include "page/page_engine.hpp"

// clang-format off
EM_JS(void, thole_tell, (const char* words, double done, double all), {
  if (typeof postMessage === 'function') {
    postMessage({progress: {words: UTF8ToString(words), done: done, of: all}});
  }
});
// clang-format on

namespace {

std::string words_of(const thole::Progress& p) {
  std::string out = std::to_string(p.done) + " of " + std::to_string(p.all) + " looked at";
  if (!p.best.empty()) out += "; best so far: " + p.best;
  return out;
}

// Stopped by ending the worker, so the search always goes on.
bool tell(const thole::Progress& p) {
  thole_tell(words_of(p).c_str(), double(p.done), double(p.all));
  return true;
}

}  // namespace

extern "C" EMSCRIPTEN_KEEPALIVE char* thole_answer(const char* what, const char* text,
                                                   const char* request) {
  const std::string out = thole::page::answer(what, text, request, tell);
  char* copy = static_cast<char*>(std::malloc(out.size() + 1));
  if (copy != nullptr) std::memcpy(copy, out.c_str(), out.size() + 1);
  return copy;
}
