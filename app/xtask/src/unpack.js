// Unpacks the calculation module: a checksum (CRC-32, little end first) and then an LZMA
// stream with its header, as the public-domain specification of LZMA describes it. A
// quarter smaller than what browsers can unpack themselves, and the page stays one file.
const unpackModule = (packed) => {
  const checksum = new DataView(packed.buffer, packed.byteOffset).getUint32(0, true);
  const input = packed.subarray(4);
  const head = new DataView(input.buffer, input.byteOffset);
  const literalContext = input[0] % 9;
  const literalPosition = Math.floor(input[0] / 9) % 5;
  const positionMask = (1 << Math.floor(input[0] / 45)) - 1;
  const literalMask = (1 << literalPosition) - 1;
  const size = head.getUint32(5, true);
  const out = new Uint8Array(size);

  // Where each group of probabilities begins.
  const MATCH = 0, REP = 192, REP_0 = 204, REP_1 = 216, REP_2 = 228, REP_0_LONG = 240;
  const SLOT = 432, SPECIAL = 688, ALIGN = 803, LENGTH = 819, REP_LENGTH = 1333, LITERAL = 1847;
  const odds = new Uint16Array(LITERAL + (0x300 << (literalContext + literalPosition))).fill(1024);

  let at = 18;
  let range = 0xffffffff;
  let code = head.getUint32(14, false);
  const bit = (index) => {
    const odd = odds[index];
    const bound = (range >>> 11) * odd;
    let value = 0;
    if (code < bound) {
      range = bound;
      odds[index] = odd + ((2048 - odd) >> 5);
    } else {
      range -= bound;
      code -= bound;
      odds[index] = odd - (odd >> 5);
      value = 1;
    }
    if (range < 0x1000000) {
      range *= 256;
      code = code * 256 + input[at++];
    }
    return value;
  };
  const directBits = (count) => {
    let value = 0;
    for (; count > 0; count--) {
      range >>>= 1;
      value <<= 1;
      if (code >= range) {
        code -= range;
        value |= 1;
      }
      if (range < 0x1000000) {
        range *= 256;
        code = code * 256 + input[at++];
      }
    }
    return value;
  };
  const tree = (base, bits) => {
    let node = 1;
    for (let i = 0; i < bits; i++) node = (node << 1) | bit(base + node);
    return node - (1 << bits);
  };
  const treeFromLow = (base, bits) => {
    let node = 1, value = 0;
    for (let i = 0; i < bits; i++) {
      const one = bit(base + node);
      node = (node << 1) | one;
      value |= one << i;
    }
    return value;
  };
  const lengthAt = (base, position) => {
    if (!bit(base)) return tree(base + 2 + (position << 3), 3);
    if (!bit(base + 1)) return 8 + tree(base + 130 + (position << 3), 3);
    return 16 + tree(base + 258, 8);
  };

  let state = 0, back0 = 0, back1 = 0, back2 = 0, back3 = 0, n = 0;
  while (n < size) {
    const position = n & positionMask;
    if (!bit(MATCH + (state << 4) + position)) {
      const before = n ? out[n - 1] : 0;
      const base = LITERAL + 0x300 * (((n & literalMask) << literalContext) + (before >> (8 - literalContext)));
      let symbol = 1;
      if (state >= 7) {
        let match = out[n - back0 - 1];
        do {
          const expected = (match >> 7) & 1;
          match <<= 1;
          const one = bit(base + ((1 + expected) << 8) + symbol);
          symbol = (symbol << 1) | one;
          if (one !== expected) break;
        } while (symbol < 0x100);
      }
      while (symbol < 0x100) symbol = (symbol << 1) | bit(base + symbol);
      out[n++] = symbol;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let length;
    if (bit(REP + state)) {
      if (!bit(REP_0 + state)) {
        if (!bit(REP_0_LONG + (state << 4) + position)) {
          state = state < 7 ? 9 : 11;
          out[n] = out[n - back0 - 1];
          n++;
          continue;
        }
      } else {
        let back = back1;
        if (bit(REP_1 + state)) {
          back = back2;
          if (bit(REP_2 + state)) {
            back = back3;
            back3 = back2;
          }
          back2 = back1;
        }
        back1 = back0;
        back0 = back;
      }
      length = lengthAt(REP_LENGTH, position);
      state = state < 7 ? 8 : 11;
    } else {
      [back3, back2, back1] = [back2, back1, back0];
      length = lengthAt(LENGTH, position);
      state = state < 7 ? 7 : 10;
      const slot = tree(SLOT + (Math.min(length, 3) << 6), 6);
      back0 = slot;
      if (slot >= 4) {
        const bits = (slot >> 1) - 1;
        back0 = (2 | (slot & 1)) << bits;
        if (slot < 14) back0 += treeFromLow(SPECIAL + back0 - slot, bits);
        else back0 += (directBits(bits - 4) << 4) + treeFromLow(ALIGN, 4);
      }
    }
    if (back0 >= n) throw new Error("the packed module points before its beginning");
    for (length += 2; length > 0 && n < size; length--, n++) out[n] = out[n - back0 - 1];
  }

  let crc = -1;
  const table = Int32Array.from({ length: 256 }, (_, i) => {
    for (let k = 0; k < 8; k++) i = i & 1 ? (i >>> 1) ^ 0xedb88320 : i >>> 1;
    return i;
  });
  for (let i = 0; i < size; i++) crc = (crc >>> 8) ^ table[(crc ^ out[i]) & 0xff];
  if (~crc >>> 0 !== checksum) throw new Error("the checksum of the module is wrong");
  return out;
};
