#include "report/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include <thole/quantities.hpp>

namespace thole::text {
namespace {

constexpr double foot = 0.3048;
constexpr double mile_per_hour = 0.44704;
constexpr double knot = 1852.0 / 3600.0;
constexpr double bucket = 10 * 9.80665;        // N, of water
constexpr double grown_person = 85 * 9.80665;  // N, as in the comparison of heel

std::string few_decimals(double v) {
  if (!std::isfinite(v)) return "?";
  return std::abs(v) < 10 ? show_number(std::round(v * 10) / 10) : fmt::format("{:.0f}", v);
}

// C1 controls (U+0080 to U+009F) are obeyed by some terminals as well.
bool ends_a_c1(const std::string& out, unsigned char u) {
  return u >= 0x80 && u <= 0x9f && !out.empty() && out.back() == '\xc2';
}

}  // namespace

std::string plain(const std::string& text, std::size_t most) {
  std::string out;
  for (const char c : text) {
    const auto u = static_cast<unsigned char>(c);
    if (ends_a_c1(out, u)) {
      out.pop_back();
      continue;
    }
    if (u >= 0x20 && u != 0x7f) out += c;
    if (out.size() >= most) {
      while (!out.empty() && (static_cast<unsigned char>(out.back()) & 0xc0) == 0x80) {
        out.pop_back();
      }
      if (!out.empty() && (static_cast<unsigned char>(out.back()) & 0x80) != 0) out.pop_back();
      return out + "...";
    }
  }
  return out;
}

std::string printable(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const auto u = static_cast<unsigned char>(c);
    if (ends_a_c1(out, u)) {
      out.pop_back();
    } else if (u == '\n' || (u >= 0x20 && u != 0x7f)) {
      out += c;
    }
  }
  // Characters that only steer the direction or joining of text: a name could read as another.
  const auto drop = [&](const std::string& lead, unsigned char from, unsigned char to) {
    for (std::size_t at = out.find(lead); at != std::string::npos; at = out.find(lead, at)) {
      const std::size_t last = at + lead.size();
      const auto u = last < out.size() ? static_cast<unsigned char>(out[last]) : 0U;
      if (u >= from && u <= to) {
        out.erase(at, lead.size() + 1);
      } else {
        at += lead.size();
      }
    }
  };
  drop("\xe2\x80", 0x8b, 0x8f);
  drop("\xe2\x80", 0xa8, 0xae);
  drop("\xe2\x81", 0xa0, 0xaf);
  drop("\xef\xbb", 0xbf, 0xbf);
  return out;
}

std::size_t width(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xc0) != 0x80;
  }));
}

std::string padded(const std::string& text, std::size_t to) {
  return text + std::string(to - std::min(to, width(text)), ' ');
}

std::string aligned(const std::string& text, std::size_t to) {
  return std::string(to - std::min(to, width(text)), ' ') + text;
}

std::string wrapped(const std::string& lead, const std::string& text) {
  std::string out = lead;
  const std::size_t indent = width(lead);
  std::size_t at = indent;
  bool first = true;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t end = std::min(text.find(' ', i), text.size());
    std::string word = text.substr(i, end - i);
    i = end + 1;
    if (word.empty()) continue;
    if (!first && at + 1 + width(word) > columns) {
      out += "\n" + std::string(indent, ' ');
      at = indent;
      first = true;
    }
    if (!first) {
      out += ' ';
      ++at;
    }
    // A word of the user's may be longer than a line.
    while (width(word) > columns - at) {
      std::size_t bytes = 0;
      for (std::size_t room = columns - at; bytes < word.size(); ++bytes) {
        if ((static_cast<unsigned char>(word[bytes]) & 0xc0) == 0x80) continue;
        if (room-- == 0) break;
      }
      out += word.substr(0, bytes) + "\n" + std::string(indent, ' ');
      word.erase(0, bytes);
      at = indent;
    }
    out += word;
    at += width(word);
    first = false;
  }
  return out + "\n";
}

std::string sentence(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  }
  return text.empty() || text.back() == '.' ? text : text + ".";
}

std::string joined(const std::vector<std::string>& list, std::string_view between) {
  std::string out;
  for (const std::string& t : list) {
    if (!out.empty()) out += between;
    out += t;
  }
  return out;
}

bool ends_with(const std::string& text, const std::string& end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

bool alike(const std::optional<Force>& a, const std::optional<Force>& b, double within) {
  if (!a || !b) return !a && !b;
  return std::abs(a->value() - b->value()) <=
         within * std::max(std::abs(a->value()), std::abs(b->value()));
}

std::optional<Force> lesser(const std::optional<Force>& a, const std::optional<Force>& b) {
  if (!a || !b) return a ? a : b;
  return *b < *a ? b : a;
}

std::string far(Length v, ReaderUnits u) {
  return u == ReaderUnits::inch ? few_decimals(v.value() / foot) + " ft"
                                : few_decimals(v.value()) + " m";
}

std::string pace(const Speed& v, ReaderUnits u) {
  return u == ReaderUnits::inch ? few_decimals(v.value() / mile_per_hour) + " mph"
                                : few_decimals(v.value() / knot) + " kn";
}

std::string both_paces(const Speed& v, ReaderUnits u) {
  const ReaderUnits other = u == ReaderUnits::inch ? ReaderUnits::metric : ReaderUnits::inch;
  return pace(v, u) + " (" + pace(v, other) + ")";
}

std::string between(Force low, Force high, ReaderUnits u) {
  const std::string a = about(low, u, Rounding::down);
  std::string b = about(high, u, Rounding::up);
  if (about(low, u) == about(high, u)) return b;
  return a.substr(0, a.find(' ')) + " to " + b;
}

std::string between(Angle low, Angle high) {
  const std::string a = show(low);
  std::string b = show(high);
  return a == b ? b : a.substr(0, a.find(' ')) + " to " + b;
}

std::string in_plain_terms(Force v) {
  constexpr std::array<const char*, 7> words{"", "one", "two", "three", "four", "five", "six"};
  const double force = v.value();
  if (!(force >= 0.4 * bucket)) return "";
  if (force < 0.75 * bucket) return "about half a bucket of water";
  if (force < 0.75 * grown_person) {
    const long n = std::max(1L, std::lround(force / bucket));
    return "about " + std::string(words[std::size_t(n)]) +
           (n == 1 ? " full bucket of water" : " full buckets of water");
  }
  const long people = std::lround(force / grown_person);
  if (people == 1) return "about the weight of a grown person";
  if (people > 6) return "";
  return "about the weight of " + std::string(words[std::size_t(people)]) + " grown people";
}

}  // namespace thole::text
