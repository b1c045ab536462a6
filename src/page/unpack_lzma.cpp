// Unpacks LZMA in the browser, which has no way of its own: made into a few hundred letters of the
// page by examples/page.sh, with no library, and no part of the engine. By Igor Pavlov's
// specification of the format (public domain).
//
// Raw integers and pointers: a kernel between two ranges of bytes.

namespace {

using Byte = unsigned char;
using Odds = unsigned short;

constexpr unsigned states = 16;   // 12 of them used
constexpr unsigned places = 16;   // by the last bits of what is written already
constexpr unsigned is_match = 0;  // where each kind of bit has its odds
constexpr unsigned is_long = is_match + states * places;
constexpr unsigned is_repeat = is_long + states * places;  // four of these: of which distance
constexpr unsigned slots = is_repeat + 4 * states;
constexpr unsigned near = slots + 4 * 64;
constexpr unsigned aligned = near + 128;
constexpr unsigned of_length = 2 + 2 * 8 * places + 256;
constexpr unsigned match_length = aligned + 16;
constexpr unsigned repeat_length = match_length + of_length;
constexpr unsigned literals = repeat_length + of_length;
constexpr unsigned most_literal_bits = 4;

Odds odds[literals + (0x300U << most_literal_bits)];
unsigned range = 0;
unsigned code = 0;
const Byte* in = nullptr;

void narrowed() {
  if (range >= 0x1000000) return;
  range <<= 8;
  code = code << 8 | *in++;
}

unsigned bit(unsigned i) {
  const unsigned bound = (range >> 11) * odds[i];
  const bool one = code >= bound;
  if (one) {
    range -= bound;
    code -= bound;
    odds[i] = Odds(odds[i] - (odds[i] >> 5));
  } else {
    range = bound;
    odds[i] = Odds(odds[i] + ((2048U - odds[i]) >> 5));
  }
  narrowed();
  return one ? 1 : 0;
}

unsigned tree(unsigned first, unsigned count) {
  unsigned symbol = 1;
  for (unsigned i = 0; i < count; ++i) symbol = symbol << 1 | bit(first + symbol);
  return symbol - (1U << count);
}

unsigned backwards(unsigned first, unsigned count) {
  unsigned symbol = 1;
  unsigned value = 0;
  for (unsigned i = 0; i < count; ++i) {
    const unsigned one = bit(first + symbol);
    symbol = symbol << 1 | one;
    value |= one << i;
  }
  return value;
}

unsigned length_by(unsigned first, unsigned place) {
  if (bit(first) == 0) return tree(first + 2 + 8 * place, 3);
  if (bit(first + 1) == 0) return 8 + tree(first + 2 + 8 * (places + place), 3);
  return 16 + tree(first + 2 + 2 * 8 * places, 8);
}

unsigned distance_by(unsigned length) {
  const unsigned slot = tree(slots + 64 * (length < 3 ? length : 3), 6);
  if (slot < 4) return slot;
  const unsigned count = (slot >> 1) - 1;
  const unsigned base = (2 | (slot & 1)) << count;
  if (slot < 14) return base + backwards(near + base - slot, count);
  unsigned value = 0;
  for (unsigned i = 4; i < count; ++i) {
    range >>= 1;
    const bool one = code >= range;
    if (one) code -= range;
    narrowed();
    value = value << 1 | (one ? 1 : 0);
  }
  return base + (value << 4) + backwards(aligned, 4);
}

}  // namespace

/// Writes what `from` (its 13 bytes of head included) to `end` holds, at `to`, below `limit`.
/// Returns how many bytes; 0 where the packed bytes are damaged or do not fit. Reads up to a few
/// bytes beyond `end`.
extern "C" __attribute__((export_name("unpack"))) unsigned unpack(const Byte* from, const Byte* end,
                                                                  Byte* to, const Byte* limit) {
  constexpr unsigned longest = 273;
  const unsigned literal_bits = from[0] % 9;
  const unsigned literal_places = (1U << from[0] / 9 % 5) - 1;
  const unsigned place_mask = (1U << from[0] / 45) - 1;
  if (literal_bits + from[0] / 9 % 5 > most_literal_bits || place_mask >= places) return 0;
  for (Odds& one : odds) one = 1024;
  in = from + 18;
  range = 0xffffffff;
  code = unsigned(from[14]) << 24 | unsigned(from[15]) << 16 | unsigned(from[16]) << 8 | from[17];
  Byte* out = to;
  unsigned state = 0;
  unsigned back[4] = {0, 0, 0, 0};
  for (;;) {
    if (in > end + 4 || limit - out < long(longest)) return 0;
    const unsigned size = unsigned(out - to);
    const unsigned place = size & place_mask;
    if (bit(is_match + places * state + place) == 0) {
      const unsigned before = size == 0 ? 0 : out[-1];
      const unsigned first = literals + 0x300 * (((size & literal_places) << literal_bits) +
                                                 (before >> (8 - literal_bits)));
      unsigned symbol = 1;
      if (state >= 7) {
        unsigned match = to[size - back[0] - 1];
        while (symbol < 256) {
          const unsigned wanted = match >> 7 & 1;
          match <<= 1;
          const unsigned found = bit(first + ((1 + wanted) << 8) + symbol);
          symbol = symbol << 1 | found;
          if (found != wanted) break;
        }
      }
      while (symbol < 256) symbol = symbol << 1 | bit(first + symbol);
      *out++ = Byte(symbol);
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    unsigned length = 0;
    if (bit(is_repeat + state) != 0) {
      unsigned which = 0;
      while (which < 3 && bit(is_repeat + states * (1 + which) + state) != 0) ++which;
      if (which == 0 && bit(is_long + places * state + place) == 0) {
        *out = to[size - back[0] - 1];
        ++out;
        state = state < 7 ? 9 : 11;
        continue;
      }
      const unsigned distance = back[which];
      for (; which > 0; --which) back[which] = back[which - 1];
      back[0] = distance;
      length = length_by(repeat_length, place);
      state = state < 7 ? 8 : 11;
    } else {
      for (unsigned i = 3; i > 0; --i) back[i] = back[i - 1];
      length = length_by(match_length, place);
      state = state < 7 ? 7 : 10;
      back[0] = distance_by(length);
      if (back[0] == 0xffffffff) return size;
    }
    if (back[0] >= size) return 0;
    for (unsigned i = 0; i < length + 2; ++i) {
      *out = *(out - back[0] - 1);
      ++out;
    }
  }
}
