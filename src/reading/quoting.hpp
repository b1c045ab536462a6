#pragma once

/// How pieces of an input text appear in messages, and in the text itself.

#include <cstddef>
#include <string>
#include <string_view>

namespace thole::reading {

/// Characters (not bytes) of a UTF-8 text.
[[nodiscard]] inline int characters(std::string_view text) {
  int n = 0;
  for (const char c : text) {
    if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) ++n;
  }
  return n;
}

/// The text in quotes, on one line, cut when long: a hostile text must not fill the screen.
[[nodiscard]] inline std::string shown(std::string_view text) {
  constexpr std::size_t most = 60;
  std::size_t end = text.size();
  if (end > most) {
    end = most;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  }
  std::string out = "\"";
  for (const char c : text.substr(0, end)) out += static_cast<unsigned char>(c) < 0x20U ? ' ' : c;
  if (end < text.size()) out += "...";
  return out + '"';
}

/// As YAML's single quotes have it: a quote in it is doubled.
[[nodiscard]] inline std::string in_single_quotes(std::string_view text) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'') out += '\'';
    out += c;
  }
  return out + "'";
}

}  // namespace thole::reading
