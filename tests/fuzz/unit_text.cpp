// A value with its unit, in every dimension.

#include <thole/display.hpp>
#include <thole/unit_text.hpp>

#include "oracle.hpp"

using namespace thole;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const bool whole = [&] {
    // What reaches it from files is text already; messages repeat it.
    for (const char c : text) {
      if (static_cast<unsigned char>(c) < 0x20U || static_cast<unsigned char>(c) > 0x7EU)
        return false;
    }
    return true;
  }();
  const auto read = [&](auto parse) {
    try {
      parse();
    } catch (const UnitError& e) {
      if (whole) fuzz::require_text("words of an error", e.what());
    } catch (const std::exception& e) {
      fuzz::found("another error than UnitError left", e.what());
    }
  };
  read([&] {
    const Measure m = parse_measure(text);
    fuzz::require_finite("a value", m.si);
    const Measure again = parse_measure(text, m.dimension);
    if (!(again == m)) fuzz::found("read with its own dimension it is another value", text);
    for (const ReaderUnits units : {ReaderUnits::inch, ReaderUnits::metric}) {
      fuzz::require_text("a value shown", show(m, units));
    }
  });
  for (int d = 0; d <= int(Dimension::bending_stiffness); ++d) {
    read([&] {
      const Measure m = parse_measure(text, Dimension(d));
      fuzz::require_finite("a value", m.si);
      if (m.dimension != Dimension(d)) fuzz::found("another dimension than asked for", text);
    });
  }
  read([&] { fuzz::require_finite("a number", parse_number(text)); });
  std::vector<std::string> words;
  for (const UnitRow& row : unit_table()) words.emplace_back(row.name);
  (void)nearest_spelling(text, words);
  return 0;
}
