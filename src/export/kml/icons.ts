/** Icons for the markers of a plan, drawn here: PNG (ISO/IEC 15948), 64 by 64 dots, see-through round them. */
import { zlibSync } from "fflate";
import { joinBytes } from "../exchange/join-bytes.ts";
import { channelsOf } from "../style/palette.ts";
import { type Marker, type MarkerShape, type StyleName, styleNamed } from "../style/plan-style.ts";

const SIDE = 64;
/** Dots of the outline, of half the width of a shape. */
const OUTLINE = 6;
const REACH = SIDE / 2 - 2;

export const iconName = (name: StyleName): string => `icons/${name}.png`;

/** PNG files of those styles that have a marker. */
export function iconFiles(names: readonly StyleName[]): Map<StyleName, Uint8Array> {
  const icons = new Map<StyleName, Uint8Array>();
  for (const name of names) {
    const { marker } = styleNamed(name);
    if (marker) icons.set(name, png(pixels(marker)));
  }
  return icons;
}

/** How far inside a shape of half width 1 a place is, in half widths; negative outside. */
const DEPTHS: Readonly<Record<MarkerShape, (x: number, y: number) => number>> = {
  circle: (x, y) => 1 - Math.hypot(x, y),
  square: (x, y) => 0.9 - Math.max(Math.abs(x), Math.abs(y)),
  diamond: (x, y) => (1 - Math.abs(x) - Math.abs(y)) / Math.SQRT2,
  triangle: (x, y) => Math.min(0.5 - y, (1 + y - Math.sqrt(3) * Math.abs(x)) / 2),
  cross: (x, y) =>
    Math.min(0.3 - Math.min(Math.abs(x), Math.abs(y)), 1 - Math.max(Math.abs(x), Math.abs(y))),
};

function pixels({ shape, fill, stroke }: Marker): Uint8Array {
  const data = new Uint8Array(4 * SIDE * SIDE);
  const [inner, outer] = [channelsOf(fill), channelsOf(stroke.colour)];
  for (let row = 0; row < SIDE; row++) {
    for (let column = 0; column < SIDE; column++) {
      const x = (column + 0.5 - SIDE / 2) / REACH;
      const y = (row + 0.5 - SIDE / 2) / REACH;
      const dots = DEPTHS[shape](x, y) * REACH;
      const covered = Math.min(1, Math.max(0, dots + 0.5));
      const share = Math.min(1, Math.max(0, dots - OUTLINE + 0.5));
      const at = 4 * (row * SIDE + column);
      for (let c = 0; c < 3; c++) data[at + c] = inner[c]! * share + outer[c]! * (1 - share);
      data[at + 3] = 255 * covered;
    }
  }
  return data;
}

function png(rgba: Uint8Array): Uint8Array {
  const rows = new Uint8Array(SIDE * (4 * SIDE + 1));
  for (let row = 0; row < SIDE; row++) {
    rows.set(rgba.subarray(4 * SIDE * row, 4 * SIDE * (row + 1)), row * (4 * SIDE + 1) + 1);
  }
  const header = new Uint8Array(13);
  new DataView(header.buffer).setUint32(0, SIDE);
  new DataView(header.buffer).setUint32(4, SIDE);
  header.set([8, 6, 0, 0, 0], 8);
  return joinBytes([
    Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk("IHDR", header),
    chunk("IDAT", zlibSync(rows, { level: 9 })),
    chunk("IEND", new Uint8Array(0)),
  ]);
}

function chunk(type: string, data: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(12 + data.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, data.length);
  for (let i = 0; i < 4; i++) bytes[4 + i] = type.charCodeAt(i);
  bytes.set(data, 8);
  view.setUint32(8 + data.length, crc32(bytes.subarray(4, 8 + data.length)));
  return bytes;
}

/** ISO 3309, as PNG has it. */
function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}
