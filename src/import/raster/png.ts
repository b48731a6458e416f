import { zlibSync } from "fflate";

/** A PNG (ISO/IEC 15948) of red, green and blue, 8 bits each, row by row. */
export function pngOf(rgb: Uint8Array, columns: number, rows: number): Uint8Array {
  const lineBytes = 3 * columns;
  const lines = new Uint8Array(rows * (lineBytes + 1));
  for (let row = 0; row < rows; row++) {
    const at = row * (lineBytes + 1);
    // Filter 1: the difference to the cell on the left, which packs better.
    lines[at] = 1;
    for (let i = 0; i < lineBytes; i++) {
      const left = i < 3 ? 0 : rgb[row * lineBytes + i - 3]!;
      lines[at + 1 + i] = rgb[row * lineBytes + i]! - left;
    }
  }
  const header = new Uint8Array(13);
  const view = new DataView(header.buffer);
  view.setUint32(0, columns);
  view.setUint32(4, rows);
  header.set([8, 2, 0, 0, 0], 8);
  const parts = [
    Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk("IHDR", header),
    chunk("IDAT", zlibSync(lines, { level: 6 })),
    chunk("IEND", new Uint8Array(0)),
  ];
  const png = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    png.set(part, at);
    at += part.length;
  }
  return png;
}

function chunk(kind: string, data: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(data.length + 12);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, data.length);
  for (let i = 0; i < 4; i++) bytes[4 + i] = kind.charCodeAt(i);
  bytes.set(data, 8);
  view.setUint32(data.length + 8, crc(bytes.subarray(4, data.length + 8)));
  return bytes;
}

let table: Uint32Array | undefined;

/** CRC-32 as PNG has it (annex D). */
function crc(bytes: Uint8Array): number {
  table ??= Uint32Array.from({ length: 256 }, (_, n) => {
    let value = n;
    for (let k = 0; k < 8; k++) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
    return value;
  });
  let value = 0xffffffff;
  for (const byte of bytes) value = table[(value ^ byte) & 255]! ^ (value >>> 8);
  return (value ^ 0xffffffff) >>> 0;
}
