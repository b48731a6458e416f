/**
 * Unpacks at most so many bytes of PackBits (TIFF 6.0, section 9): a count, then that many bytes, or
 * one byte to be repeated. Throws where the block holds more.
 */
export function boundedPackBits(packed: Uint8Array, bytesMax: number): Uint8Array {
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  for (let at = 0; at + 1 < packed.length; ) {
    const head = (packed[at++]! << 24) >> 24;
    if (head === -128) continue;
    const count = head < 0 ? 1 - head : 1 + head;
    const chunk =
      head < 0 ? new Uint8Array(count).fill(packed[at]!) : packed.subarray(at, at + count);
    at += head < 0 ? 1 : count;
    bytes += chunk.length;
    if (bytes > bytesMax) throw new Error(`a block unpacks to more than its ${bytesMax} bytes`);
    chunks.push(chunk);
  }
  const whole = new Uint8Array(bytes);
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return whole;
}
