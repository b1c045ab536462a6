// From bytes to entries of a table of the user's own.

#include <thole/reading.hpp>

#include "oracle.hpp"

using namespace thole;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  // Without the built-in entries a table of materials/ can be read as it is.
  MaterialLibrary library;
  const bool read = fuzz::reads([&] { add_table(library, text, "fuzz.yaml"); });
  if (!read && !library.entries().empty()) fuzz::found("a refused table left entries", text);
  for (const Entry& e : library.entries()) {
    if (library.find(e.kind, e.name) == nullptr) fuzz::found("an entry is not found", e.name);
    for (const auto& [name, v] : e.values) fuzz::require_finite("a value", v.measure.si);
    // The typed views: an entry that lacks something is refused, never read as something else.
    fuzz::reads([&] { (void)library.metal(e.name); });
    fuzz::reads([&] { (void)library.metal(e.name, true); });
    fuzz::reads([&] { (void)library.fastener_material(e.name); });
    fuzz::reads([&] { (void)library.washer(e.name); });
    fuzz::reads([&] { (void)library.wood(e.name); });
    fuzz::reads([&] { (void)library.spaced_thread(e.name); });
    fuzz::reads([&] { (void)library.required_factor(e.name); });
    fuzz::reads([&] {
      const Thread t = library.thread(e.name);
      fuzz::reads([&] { (void)library.blind_insert("steel", t); });
      fuzz::reads([&] { (void)library.eye_bolt("forged collar", t); });
    });
  }
  fuzz::reads([&] { (void)library.walls("inch"); });
  return 0;
}
