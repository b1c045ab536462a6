// From bytes to a setup.

#include <thole/reading.hpp>

#include "oracle.hpp"

using namespace thole;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  fuzz::reads([&] {
    const Setup setup = read_setup(text, "fuzz.yaml", built_in_materials());
    for (const Input& i : setup.inputs) fuzz::require_finite("an input", i.si);
    validate(setup);  // what the reader takes, the core must take
  });
  return 0;
}
