import { Unzlib } from "fflate";

/** Unpacks at most so many bytes of a zlib stream; throws where it holds more. */
export function boundedInflate(packed: Uint8Array, bytesMax: number): Uint8Array {
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  const stream = new Unzlib((chunk) => {
    bytes += chunk.length;
    if (bytes > bytesMax) throw new Error(`a block unpacks to more than its ${bytesMax} bytes`);
    chunks.push(chunk);
  });
  // In pieces, so that a block that unpacks to far more is stopped early.
  const pieceBytes = 2 ** 14;
  for (let at = 0; at < packed.length; at += pieceBytes) {
    const end = Math.min(packed.length, at + pieceBytes);
    stream.push(packed.subarray(at, end), end === packed.length);
  }
  const whole = new Uint8Array(bytes);
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return whole;
}
