// From the text of a script element to bytes: 16 bits to a letter, then LZMA (as `xz --format=lzma`
// writes it), which no browser unpacks by itself. It makes a third less of the engine than gzip does.

// In blocks: a letter of ten bits of key and six of length (half of it, less one), then letters that
// are two bytes with the key added. It makes none of them one that a page or a string may not hold
// (NUL, line feed, carriage return, half of a pair, <, quote, backslash).
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

// unpack_lzma.cpp as WebAssembly, in such letters: `pack.py` puts it here, so that the security policy
// knows it with this script.
const decoder = 'DECODER';

function unpackLzma(packed) {
  const {unpack, memory, __heap_base: base} =
      new WebAssembly.Instance(new WebAssembly.Module(bytesOfLetters(decoder))).exports;
  const from = base.value;
  const end = from + packed.length;
  const to = end + 16;
  const limit = to + (1 << 23);
  memory.grow((limit >> 16) + 1);
  const bytes = new Uint8Array(memory.buffer);
  bytes.set(packed, from);
  let size = 0;
  try {
    size = unpack(from, end, to, limit);
  } finally {
    if (size === 0) throw new Error('this copy of the page is damaged');
  }
  return bytes.subarray(to, to + size);
}
