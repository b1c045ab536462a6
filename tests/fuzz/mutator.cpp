// Bytes changed at random hardly ever get past the reader. This changes a setup as a clumsy owner
// would: other numbers, units and words, a line or block gone, twice, or from another setup. One
// change in sixteen is still one of libFuzzer's own.

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <random>
#include <string>
#include <string_view>
#include <vector>

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace {

using Random = std::minstd_rand;
using Lines = std::vector<std::string>;

constexpr std::array numbers{"0",    "-1",   "1",    "2",     "3",    "0.5",    "0.1", "0.001",
                             "1e-9", "1e9",  "1e15", "12",    "25",   "90",     "180", "360",
                             "29.9", "1/16", "1/4",  "7 1/4", "1000", "0.0001", "24",  "60"};
constexpr std::array units{"mm",  "in",  "m",   "ft",  "cm",  "N",   "lbf",
                           "kgf", "kg",  "lb",  "MPa", "ksi", "deg", "mph",
                           "kn",  "m/s", "N m", "km",  "GPa", "",    "N m^2"};
constexpr std::array words{
    "yes",          "no",         "both",        "port",       "starboard",    "inboard",
    "outboard",     "metric",     "inch",        "salt",       "fresh",        "aluminium",
    "steel",        "stainless",  "plywood",     "timber",     "laminate",     "M6",
    "M8",           "M10",        "'1/4-20'",    "'#10-24'",   "tapped",       "through_bolt",
    "lag_screw",    "rivet",      "u_bolt",      "clamp",      "everyday",     "accident",
    "occasional",   "measured",   "assumed",     "C24",        "wet",          "dry",
    "plank",        "tube",       "channel",     "wood_screw", "blind_insert", "thread_insert",
    "self_tapping", "tapped_bar", "cored_panel", "sheet",      "open_lip",     "closed_section",
    "downrigger",   "rod_holder", "plain_load"};

std::size_t below(Random& random, std::size_t n) { return n == 0 ? 0 : random() % n; }

template <std::size_t n>
std::string one_of(Random& random, const std::array<const char*, n>& list) {
  return list[below(random, n)];
}

Lines lines_of(std::string_view text) {
  Lines out;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    out.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return out;
}

bool digit(char c) { return c >= '0' && c <= '9'; }
bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
std::size_t indent(const std::string& line) {
  return std::min(line.find_first_not_of(' '), line.size());
}

/// Where pieces of one kind stand in the text, behind the first colon or dash of their line.
struct Piece {
  std::size_t from = 0;
  std::size_t size = 0;
};

template <class Is>
std::vector<Piece> pieces(const std::string& text, Is is) {
  std::vector<Piece> out;
  for (std::size_t i = 0; i < text.size();) {
    if (!is(text[i])) {
      ++i;
      continue;
    }
    const std::size_t from = i;
    while (i < text.size() && is(text[i])) ++i;
    out.push_back({from, i - from});
  }
  return out;
}

std::string other_number(Random& random, const std::string& old) {
  if (below(random, 3) == 0) return one_of(random, numbers);
  constexpr std::array<double, 10> times{0, 0.1, 0.5, 0.9, 0.99, 1.01, 1.1, 2, 10, 100};
  const double value = std::strtod(old.c_str(), nullptr) * times[below(random, times.size())];
  std::array<char, 40> text{};
  std::snprintf(text.data(), text.size(), "%.6g", value);
  return text.data();
}

void change_number(Random& random, std::string& text) {
  const auto all = pieces(text, [](char c) { return digit(c) || c == '.'; });
  if (all.empty()) return;
  const Piece p = all[below(random, all.size())];
  text.replace(p.from, p.size, other_number(random, text.substr(p.from, p.size)));
}

void change_word(Random& random, std::string& text) {
  const auto all = pieces(text, [](char c) { return letter(c) || c == '_'; });
  if (all.empty()) return;
  const Piece p = all[below(random, all.size())];
  const bool key = p.from + p.size < text.size() && text[p.from + p.size] == ':';
  if (key && below(random, 4) != 0) return;
  const bool unit = p.size <= 3 && p.from > 1 && digit(text[p.from - 2]);
  text.replace(p.from, p.size, unit ? one_of(random, units) : one_of(random, words));
}

/// The line at `at` and all below it that are deeper.
std::size_t block_end(const Lines& lines, std::size_t at) {
  std::size_t end = at + 1;
  while (end < lines.size() && indent(lines[end]) > indent(lines[at])) ++end;
  return end;
}

void change_lines(Random& random, Lines& lines) {
  if (lines.empty()) return;
  const std::size_t at = below(random, lines.size());
  const auto begin = lines.begin() + std::ptrdiff_t(at);
  const auto end = lines.begin() + std::ptrdiff_t(block_end(lines, at));
  const Lines block(begin, end);
  switch (below(random, 4)) {
    case 0:
      lines.erase(begin, end);
      break;
    case 1:
      lines.insert(end, block.begin(), block.end());
      break;
    case 2:
      lines.erase(begin);
      break;
    default: {
      // The value of another line.
      const std::string& other = lines[below(random, lines.size())];
      const std::size_t here = lines[at].find(": ");
      const std::size_t there = other.find(": ");
      if (here == std::string::npos || there == std::string::npos) break;
      lines[at] = lines[at].substr(0, here) + other.substr(there);
    }
  }
}

std::string joined(const Lines& lines) {
  std::string out;
  for (const std::string& line : lines) out += line + "\n";
  return out;
}

std::size_t put(const std::string& text, std::uint8_t* data, std::size_t most) {
  const std::size_t size = std::min(text.size(), most);
  std::memcpy(data, text.data(), size);
  return size;
}

std::string key_of(const std::string& line) {
  return line.substr(0, std::min(line.find(':'), line.size()));
}

}  // namespace

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  Random random(seed);
  if (size == 0 || below(random, 16) == 0) return LLVMFuzzerMutate(data, size, most);
  std::string text(reinterpret_cast<const char*>(data), size);
  const std::size_t times = 1 + below(random, 3);
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t kind = below(random, 8);
    if (kind < 4) {
      change_number(random, text);
    } else if (kind < 6) {
      change_word(random, text);
    } else {
      Lines lines = lines_of(text);
      change_lines(random, lines);
      text = joined(lines);
    }
  }
  return put(text, data, most);
}

/// A block of the second setup in the place of the block of that key in the first, or below it.
extern "C" std::size_t LLVMFuzzerCustomCrossOver(const std::uint8_t* a, std::size_t a_size,
                                                 const std::uint8_t* b, std::size_t b_size,
                                                 std::uint8_t* out, std::size_t most,
                                                 unsigned seed) {
  Random random(seed);
  Lines to = lines_of({reinterpret_cast<const char*>(a), a_size});
  const Lines from = lines_of({reinterpret_cast<const char*>(b), b_size});
  if (to.empty() || from.empty()) return put(joined(to), out, most);
  const std::size_t at = below(random, from.size());
  const Lines block(from.begin() + std::ptrdiff_t(at),
                    from.begin() + std::ptrdiff_t(block_end(from, at)));
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < to.size(); ++i) {
    if (key_of(to[i]) == key_of(block.front())) places.push_back(i);
  }
  if (places.empty()) {
    to.insert(to.end(), block.begin(), block.end());
    return put(joined(to), out, most);
  }
  const std::size_t place = places[below(random, places.size())];
  const auto begin = to.begin() + std::ptrdiff_t(place);
  to.insert(to.erase(begin, to.begin() + std::ptrdiff_t(block_end(to, place))), block.begin(),
            block.end());
  return put(joined(to), out, most);
}
