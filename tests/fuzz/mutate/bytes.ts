/** Mutations that know nothing of the format: bits, bytes, stretches and numbers that may be counts. */
import type { Chance } from "../random.ts";

/** No mutated file grows beyond this, bytes: what is tested is behaviour, not throughput. */
export const BYTES_MAX = 64 * 1024;

export type ByteMutation = (bytes: Uint8Array, chance: Chance, other: Uint8Array) => Uint8Array;

/** The parts one behind the other, cut off at `BYTES_MAX`. */
export function joined(...parts: readonly Uint8Array[]): Uint8Array {
  const length = Math.min(
    BYTES_MAX,
    parts.reduce((sum, part) => sum + part.length, 0),
  );
  const all = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    if (at >= length) break;
    all.set(part.subarray(0, length - at), at);
    at += part.length;
  }
  return all;
}

const flipBits: ByteMutation = (bytes, chance) => {
  const copy = bytes.slice();
  for (let n = chance.size(16); n > 0 && copy.length > 0; n--) {
    copy[chance.int(copy.length)]! ^= 1 << chance.int(8);
  }
  return copy;
};

const INTERESTING_BYTES = [0, 1, 2, 4, 8, 9, 10, 13, 32, 34, 44, 0x7f, 0x80, 0xc0, 0xfe, 0xff];

const setBytes: ByteMutation = (bytes, chance) => {
  const copy = bytes.slice();
  for (let n = chance.size(8); n > 0 && copy.length > 0; n--) {
    copy[chance.int(copy.length)] = chance.oneIn(2)
      ? chance.pick(INTERESTING_BYTES)
      : chance.int(256);
  }
  return copy;
};

const truncate: ByteMutation = (bytes, chance) => bytes.slice(0, chance.int(bytes.length));

const cutOut: ByteMutation = (bytes, chance) => {
  const from = chance.int(bytes.length);
  const to = Math.min(bytes.length, from + chance.size(bytes.length));
  return joined(bytes.subarray(0, from), bytes.subarray(to));
};

const repeat: ByteMutation = (bytes, chance) => {
  const from = chance.int(bytes.length);
  const part = bytes.subarray(from, from + chance.size(bytes.length));
  const copies = Array.from({ length: chance.size(chance.oneIn(20) ? 4096 : 8) }, () => part);
  return joined(bytes.subarray(0, from), ...copies, bytes.subarray(from));
};

const moveStretch: ByteMutation = (bytes, chance) => {
  const copy = bytes.slice();
  const length = chance.size(copy.length);
  copy.copyWithin(chance.int(copy.length), chance.int(copy.length), chance.int(length) + length);
  return copy;
};

const insertNoise: ByteMutation = (bytes, chance) => {
  const at = chance.int(bytes.length + 1);
  const noise = Uint8Array.from({ length: chance.size(64) }, () => chance.int(256));
  return joined(bytes.subarray(0, at), noise, bytes.subarray(at));
};

/** The beginning of one file and the end of another of the same format. */
const splice: ByteMutation = (bytes, chance, other) =>
  joined(bytes.subarray(0, chance.int(bytes.length)), other.subarray(chance.int(other.length)));

/** Numbers that break sums, products and comparisons of counts and lengths. */
const INTERESTING_INTS = [
  0, 1, 2, 3, 4, 7, 8, 16, 127, 128, 255, 256, 1000, 32_767, 32_768, 65_535, 65_536, 0x7fff_fffc,
  0x7fff_ffff, 0x8000_0000, 0xffff_fff0, 0xffff_ffff,
];

/** A field of 1, 2, 4 or 8 bytes, at its natural place, made extreme or moved by a little. */
const attackNumber: ByteMutation = (bytes, chance) => {
  if (bytes.length < 8) return bytes;
  const copy = bytes.slice();
  const view = new DataView(copy.buffer);
  const little = chance.oneIn(2);
  const at = chance.int(copy.length - 7) & ~chance.pick([0, 1, 3, 3]);
  const nudge = chance.int(9) - 4;
  switch (chance.int(4)) {
    case 0:
      view.setUint16(
        at,
        chance.oneIn(2) ? chance.pick(INTERESTING_INTS) : view.getUint16(at, little) + nudge,
        little,
      );
      break;
    case 1:
      view.setFloat64(at, chance.pick(INTERESTING_DOUBLES), little);
      break;
    default:
      view.setUint32(
        at,
        chance.oneIn(2) ? chance.pick(INTERESTING_INTS) : view.getUint32(at, little) + nudge,
        little,
      );
  }
  return copy;
};

const INTERESTING_DOUBLES = [
  0,
  -0,
  Number.NaN,
  Infinity,
  -Infinity,
  1e308,
  -1e308,
  5e-324,
  1e-10,
  90,
  180,
  -180,
  360,
  1e6,
  2 ** 53,
  1e15,
  -1e22,
];

/** Numbers that look like lengths, small as they are against the file's, made extreme. */
const attackLength: ByteMutation = (bytes, chance) => {
  if (bytes.length < 8) return bytes;
  const copy = bytes.slice();
  const view = new DataView(copy.buffer);
  const start = chance.int(copy.length - 4);
  for (let i = 0; i < copy.length - 4; i++) {
    const at = (start + i) % (copy.length - 4);
    for (const little of [true, false]) {
      const value = view.getUint32(at, little);
      if (value === 0 || value > copy.length) continue;
      view.setUint32(at, chance.pick([...INTERESTING_INTS, value - 1, value + 1, -value]), little);
      return copy;
    }
  }
  return copy;
};

export const BYTE_MUTATIONS: readonly ByteMutation[] = [
  flipBits,
  setBytes,
  truncate,
  cutOut,
  repeat,
  moveStretch,
  insertNoise,
  splice,
  attackNumber,
  attackLength,
  attackLength,
];

/** Any of the mutations above within a stretch that begins with one of some marks, the rest as it is. */
export function within(marks: readonly string[], reach: number): ByteMutation {
  return (bytes, chance, other) => {
    const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
    const at = text.indexOf(chance.pick(marks), chance.int(bytes.length), "latin1");
    if (at < 0) return attackLength(bytes, chance, other);
    const end = Math.min(bytes.length, at + reach);
    const change = chance.pick([flipBits, setBytes, attackNumber, attackNumber, attackLength]);
    return joined(
      bytes.subarray(0, at),
      change(bytes.slice(at, end), chance, other),
      bytes.subarray(end),
    );
  };
}
