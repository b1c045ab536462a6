#pragma once

/// What must hold of every text that thole gives back, whatever it was given. A target that finds
/// otherwise aborts, which libFuzzer takes for a finding.

#include <cstddef>
#include <cstdint>
#include <exception>
#include <string>
#include <string_view>

#include <thole/error.hpp>

namespace thole::fuzz {

/// Says what does not hold and aborts.
[[noreturn]] void found(const char* rule, std::string_view text);

/// Valid UTF-8 (RFC 3629) without control characters but line ends. Tabs only where `tabs`.
void require_text(const char* what, std::string_view text, bool tabs = false);

/// JSON outside of its strings holds numbers, true, false, null and brackets: no NaN, no infinity.
void require_json(const char* what, std::string_view text);

/// No word "nan" or "inf" in `text`, unless `input` has it too.
void require_numbers(const char* what, std::string_view text, std::string_view input);

void require_finite(const char* what, double value);

/// The part of a target that reads: anything but thole's own errors is a finding, and their words
/// must be text as well. False when an error came out.
template <class Work>
bool reads(Work work) {
  try {
    work();
    return true;
  } catch (const InternalError& e) {
    found("an internal error left", e.what());
  } catch (const Error& e) {
    require_text("words of an error", e.what());
    return false;
  } catch (const std::exception& e) {
    found("an exception that is not ours left", e.what());
  }
}

}  // namespace thole::fuzz
