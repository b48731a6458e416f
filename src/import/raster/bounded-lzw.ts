/** LZW as TIFF has it (TIFF 6.0, section 13): codes of 9 to 12 bits, high bits first. */

const [CLEAR, END, FIRST_FREE] = [256, 257, 258];
const CODES = 4096;

/**
 * Unpacks at most so many bytes; throws where the block holds more, or a code that cannot be.
 * A block that ends without the end mark gives what it holds.
 */
export function boundedLzw(packed: Uint8Array, bytesMax: number): Uint8Array {
  let out = new Uint8Array(Math.min(bytesMax, Math.max(256, 4 * packed.length)));
  let length = 0;
  // What a code stands for: a stretch of what has been unpacked already.
  const startOf = new Int32Array(CODES);
  const lengthOf = new Int32Array(CODES);
  let next = FIRST_FREE;
  let width = 9;
  let [bits, held] = [0, 0];
  let [lastStart, lastLength] = [0, 0];
  for (let at = 0; ; ) {
    while (held < width && at < packed.length) {
      bits = ((bits << 8) | packed[at++]!) & 0xfffff;
      held += 8;
    }
    if (held < width) break;
    const code = (bits >> (held - width)) & ((1 << width) - 1);
    held -= width;
    if (code === END) break;
    if (code === CLEAR) {
      [next, width, lastLength] = [FIRST_FREE, 9, 0];
      continue;
    }
    const isNew = code === next && lastLength > 0;
    if (code >= next && !isNew)
      throw new Error(`an LZW block holds code ${code} before it is made`);
    const size = code < CLEAR ? 1 : isNew ? lastLength + 1 : lengthOf[code]!;
    if (length + size > bytesMax)
      throw new Error(`a block unpacks to more than its ${bytesMax} bytes`);
    if (length + size > out.length) out = grown(out, Math.min(bytesMax, 2 * (length + size)));
    if (code < CLEAR) out[length] = code;
    else {
      // The new code repeats the last string and its first letter: byte by byte, it reads itself.
      const from = isNew ? lastStart : startOf[code]!;
      for (let i = 0; i < size; i++) out[length + i] = out[from + i]!;
    }
    if (lastLength > 0 && next < CODES) {
      startOf[next] = lastStart;
      lengthOf[next] = lastLength + 1;
      next++;
    }
    [lastStart, lastLength] = [length, size];
    length += size;
    // The encoder widens its codes one early.
    if (next + 1 >= 1 << width && width < 12) width++;
  }
  return out.slice(0, length);
}

function grown(bytes: Uint8Array, length: number): Uint8Array<ArrayBuffer> {
  const larger = new Uint8Array(length);
  larger.set(bytes);
  return larger;
}
