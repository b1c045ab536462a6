// From the text of a script element to bytes: 16 bits to a letter, then LZMA (as `xz --format=lzma`
// writes it), which no browser unpacks by itself. It makes a third less of the engine than gzip does.

// In blocks: a letter of ten bits of key and six of length (half of it, less one), then letters that
// are two bytes with the key added. It makes none of them one that a page may not hold (NUL, carriage
// return, half of a pair, <).
function bytesOfLetters(text) {
  const out = new Uint8Array(2 * text.length);
  let size = 0;
  let key = 0;
  let left = 0;
  for (let i = 0; i < text.length; i += 1) {
    const letter = text.charCodeAt(i);
    if (left === 0) {
      key = letter & ~63;
      left = 2 * (letter & 63) + 2;
    } else {
      out[size++] = letter - key & 255;
      out[size++] = letter - key >> 8 & 255;
      left -= 1;
    }
  }
  return out.subarray(0, size);
}

// Igor Pavlov's LZMA, by its specification (public domain).
function unpackLzma(packed) {
  const literalBits = packed[0] % 9;
  const placeBits = Math.floor(packed[0] / 9);
  const literalPlaces = (1 << placeBits % 5) - 1;
  const places = (1 << Math.floor(placeBits / 5)) - 1;
  let at = 18;
  let range = 0xffffffff;
  let code = new DataView(packed.buffer, packed.byteOffset).getUint32(14);
  let out = new Uint8Array(1 << 20);
  let size = 0;

  const odds = (count) => new Uint16Array(count).fill(1024);
  const isMatch = odds(12 << 4);
  const isRepeat = odds(12);
  const isRepeat0 = odds(12);
  const isRepeat1 = odds(12);
  const isRepeat2 = odds(12);
  const isLong0 = odds(12 << 4);
  const slots = odds(4 << 6);
  const near = odds(128);
  const aligned = odds(16);
  const literals = odds(0x300 << literalBits + placeBits % 5);
  const lengthOdds = () => ({choice: odds(2), low: odds(16 << 3), mid: odds(16 << 3), high: odds(256)});
  const matchLength = lengthOdds();
  const repeatLength = lengthOdds();

  const fill = () => {
    if (range >= 0x1000000) return;
    range = range << 8 >>> 0;
    code = (code << 8 | packed[at++]) >>> 0;
  };
  const bit = (from, i) => {
    const bound = (range >>> 11) * from[i];
    const one = code >= bound;
    if (one) {
      range -= bound;
      code -= bound;
      from[i] -= from[i] >> 5;
    } else {
      range = bound;
      from[i] += 2048 - from[i] >> 5;
    }
    fill();
    return one ? 1 : 0;
  };
  const tree = (from, first, count) => {
    let symbol = 1;
    for (let i = 0; i < count; i += 1) symbol = symbol << 1 | bit(from, first + symbol);
    return symbol - (1 << count);
  };
  const backwards = (from, first, count) => {
    let symbol = 1;
    let value = 0;
    for (let i = 0; i < count; i += 1) {
      const one = bit(from, first + symbol);
      symbol = symbol << 1 | one;
      value |= one << i;
    }
    return value;
  };
  const direct = (count) => {
    let value = 0;
    for (let i = 0; i < count; i += 1) {
      range >>>= 1;
      const one = code >= range ? 1 : 0;
      if (one) code -= range;
      fill();
      value = value << 1 | one;
    }
    return value;
  };
  const lengthBy = (of, place) => {
    if (!bit(of.choice, 0)) return tree(of.low, place << 3, 3);
    if (!bit(of.choice, 1)) return 8 + tree(of.mid, place << 3, 3);
    return 16 + tree(of.high, 0, 8);
  };
  const distanceBy = (length) => {
    const slot = tree(slots, Math.min(length, 3) << 6, 6);
    if (slot < 4) return slot;
    const count = (slot >> 1) - 1;
    const base = (2 | slot & 1) << count;
    if (slot < 14) return base + backwards(near, base - slot, count);
    return (base + (direct(count - 4) << 4) + backwards(aligned, 0, 4)) >>> 0;
  };
  const put = (byte) => {
    if (size === out.length) {
      const larger = new Uint8Array(2 * out.length);
      larger.set(out);
      out = larger;
    }
    out[size++] = byte;
  };

  let state = 0;
  let [back0, back1, back2, back3] = [0, 0, 0, 0];
  const literal = () => {
    const before = size > 0 ? out[size - 1] : 0;
    const first = 0x300 * (((size & literalPlaces) << literalBits) + (before >> 8 - literalBits));
    let symbol = 1;
    if (state >= 7) {
      let match = out[size - back0 - 1];
      while (symbol < 256) {
        const wanted = match >> 7 & 1;
        match <<= 1;
        const found = bit(literals, first + (1 + wanted << 8) + symbol);
        symbol = symbol << 1 | found;
        if (found !== wanted) break;
      }
    }
    while (symbol < 256) symbol = symbol << 1 | bit(literals, first + symbol);
    put(symbol & 255);
    state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
  };
  // Which of the last four distances; true where it is one byte alone.
  const repeated = (place) => {
    if (!bit(isRepeat0, state)) return !bit(isLong0, (state << 4) + place);
    if (!bit(isRepeat1, state)) {
      [back0, back1] = [back1, back0];
    } else if (!bit(isRepeat2, state)) {
      [back0, back1, back2] = [back2, back0, back1];
    } else {
      [back0, back1, back2, back3] = [back3, back0, back1, back2];
    }
    return false;
  };

  for (;;) {
    if (at > packed.length + 4) throw new Error('this copy of the page is damaged');
    const place = size & places;
    if (!bit(isMatch, (state << 4) + place)) {
      literal();
      continue;
    }
    let length;
    if (bit(isRepeat, state)) {
      if (repeated(place)) {
        state = state < 7 ? 9 : 11;
        put(out[size - back0 - 1]);
        continue;
      }
      length = lengthBy(repeatLength, place);
      state = state < 7 ? 8 : 11;
    } else {
      [back1, back2, back3] = [back0, back1, back2];
      length = lengthBy(matchLength, place);
      state = state < 7 ? 7 : 10;
      back0 = distanceBy(length);
      if (back0 === 0xffffffff) return out.subarray(0, size);
    }
    for (let i = 0; i < length + 2; i += 1) put(out[size - back0 - 1]);
  }
}
