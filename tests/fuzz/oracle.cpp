#include "oracle.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>

namespace thole::fuzz {
namespace {

unsigned byte(char c) { return static_cast<unsigned char>(c); }

/// Code point of the UTF-8 character at `at`, which moves behind it; -1: none.
long decode(std::string_view s, std::size_t& at) {
  const unsigned a = byte(s[at++]);
  if (a < 0x80U) return static_cast<long>(a);
  const int more = a >= 0xF0U ? 3 : a >= 0xE0U ? 2 : 1;
  if (a < 0xC2U || a > 0xF4U) return -1;
  long code = static_cast<long>(a & (0x3FU >> static_cast<unsigned>(more)));
  for (int i = 0; i < more; ++i) {
    if (at >= s.size() || (byte(s[at]) & 0xC0U) != 0x80U) return -1;
    code = code * 64 + static_cast<long>(byte(s[at++]) & 0x3FU);
  }
  constexpr long least[] = {0, 0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  return code < least[more] || code > 0x10FFFF || surrogate ? -1 : code;
}

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool has_word(std::string_view text, std::string_view word) {
  for (std::size_t i = 0; i + word.size() <= text.size(); ++i) {
    if (i > 0 && is_letter(text[i - 1])) continue;
    if (i + word.size() < text.size() && is_letter(text[i + word.size()])) continue;
    std::size_t k = 0;
    while (k < word.size() && lower(text[i + k]) == word[k]) ++k;
    if (k == word.size()) return true;
  }
  return false;
}

}  // namespace

void found(const char* rule, std::string_view text) {
  constexpr std::size_t most = 4000;
  std::fprintf(stderr, "FOUND: %s\n%.*s\n", rule, static_cast<int>(std::min(most, text.size())),
               text.data());
  std::abort();
}

void require_text(const char* what, std::string_view text, bool tabs) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t from = at;
    const long code = decode(text, at);
    const bool control =
        (code < 0x20 && code != '\n' && (code != '\t' || !tabs)) || (code >= 0x7F && code < 0xA0);
    if (code >= 0 && !control) continue;
    std::fprintf(stderr, "%s: byte 0x%02X at %zu\n", code < 0 ? "not UTF-8" : "control character",
                 byte(text[from]), from);
    const std::size_t begin = from < 200 ? 0 : from - 200;
    found(what, text.substr(begin, 400));
  }
}

void require_json(const char* what, std::string_view text) {
  std::string outside;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '"') {
      outside += text[i];
      continue;
    }
    for (++i; i < text.size() && text[i] != '"'; ++i) {
      if (text[i] == '\\') ++i;
    }
  }
  for (const char* word : {"true", "false", "null"}) {
    for (std::size_t at = 0; (at = outside.find(word, at)) != std::string::npos;) {
      outside.erase(at, std::string_view(word).size());
    }
  }
  for (std::size_t i = 0; i < outside.size(); ++i) {
    const bool power = outside[i] == 'e' && i > 0 && outside[i - 1] >= '0' && outside[i - 1] <= '9';
    if (is_letter(outside[i]) && !power) {
      found(what, std::string_view(outside).substr(i < 20 ? 0 : i - 20, 60));
    }
  }
}

void require_numbers(const char* what, std::string_view text, std::string_view input) {
  for (const char* word : {"nan", "inf"}) {
    if (!has_word(text, word) || has_word(input, word)) continue;
    found(what, text);
  }
}

void require_finite(const char* what, double value) {
  if (!std::isfinite(value)) found(what, std::to_string(value));
}

}  // namespace thole::fuzz
