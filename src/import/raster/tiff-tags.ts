/** The tags of a TIFF's first image, looked at before the file is given to a library that believes them. */

/** Bytes of a value, by the type of its field (TIFF 6.0, page 15; BigTIFF has 16 to 18). */
const BYTES_OF_TYPE = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8];

/**
 * How many values each tag of the first image has; or what is wrong with the tags: each value must
 * lie within the file, so that nobody makes room for more than there is.
 */
export function tagCounts(bytes: Uint8Array): ReadonlyMap<number, number> | string {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const little = bytes[0] === 0x49;
  const isBig = bytes.length >= 4 && view.getUint16(2, little) === 43;
  const long = (at: number) => Number(view.getBigUint64(at, little));
  const [headBytes, entryBytes, inlineBytes] = isBig ? [16, 20, 8] : [8, 12, 4];
  if (bytes.length < headBytes) return "the TIFF ends in its header";
  const at = isBig ? long(8) : view.getUint32(4, little);
  const countBytes = isBig ? 8 : 2;
  if (at + countBytes > bytes.length) return "the TIFF ends before its tags";
  const entries = isBig ? long(at) : view.getUint16(at, little);
  const first = at + countBytes;
  if (first + entries * entryBytes > bytes.length) return "the TIFF ends within its tags";
  const counts = new Map<number, number>();
  for (let i = 0; i < entries; i++) {
    const entry = first + i * entryBytes;
    const tag = view.getUint16(entry, little);
    const size = BYTES_OF_TYPE[view.getUint16(entry + 2, little)] ?? 0;
    const count = isBig ? long(entry + 4) : view.getUint32(entry + 4, little);
    const value = entry + (isBig ? 12 : 8);
    const where = isBig ? long(value) : view.getUint32(value, little);
    const isInline = count * size <= inlineBytes;
    if (!isInline && where + count * size > bytes.length) {
      return `tag ${tag} of the TIFF has ${count} values, more than the file holds`;
    }
    counts.set(tag, count);
  }
  return counts;
}

const [STRIP_OFFSETS, TILE_OFFSETS] = [273, 324];

/** How many blocks (strips or tiles) the first image has places for. */
export function blockCount(counts: ReadonlyMap<number, number>): number {
  return Math.max(counts.get(STRIP_OFFSETS) ?? 0, counts.get(TILE_OFFSETS) ?? 0);
}
