/** Blocks of a GeoTIFF: published examples of the packings, and blocks that hold more than they may. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { boundedInflate } from "../../../src/import/raster/bounded-inflate.ts";
import { boundedLzw } from "../../../src/import/raster/bounded-lzw.ts";
import { boundedPackBits } from "../../../src/import/raster/bounded-packbits.ts";
import { openRaster } from "../../../src/import/raster/open-raster.ts";

/** Codes as bits, high bits first, as TIFF has them. */
function packed(codes: readonly number[], width = 9): Uint8Array {
  const bits = codes.map((code) => code.toString(2).padStart(width, "0")).join("");
  const bytes = bits.match(/.{1,8}/g) ?? [];
  return Uint8Array.from(bytes, (byte) => Number.parseInt(byte.padEnd(8, "0"), 2));
}

describe("LZW", () => {
  it("unpacks the example of TIFF 6.0 (page 60)", () => {
    // "7 7 7 8 8 7 7 6 6" comes as <Clear> 7 258 8 8 258 6 6 <End>: the table of section 13.
    const block = packed([256, 7, 258, 8, 8, 258, 6, 6, 257]);
    expect([...boundedLzw(block, 100)]).toEqual([7, 7, 7, 8, 8, 7, 7, 6, 6]);
  });

  it("gives what there is where the end mark is missing", () => {
    expect([...boundedLzw(packed([256, 7, 8]), 100)]).toEqual([7, 8]);
  });

  it("refuses a code before it is made, and a block that holds too much", () => {
    expect(() => boundedLzw(packed([256, 7, 300]), 100)).toThrow(/before it is made/);
    expect(() => boundedLzw(packed([256, 258]), 100)).toThrow(/before it is made/);
    // Each new code is one letter longer than the last: 50 codes hold 1275 letters.
    const growing = [256, 0, ...Array.from({ length: 49 }, (_, i) => 258 + i)];
    expect(boundedLzw(packed(growing), 1275)).toHaveLength(1275);
    expect(() => boundedLzw(packed(growing), 1274)).toThrow(/more than its 1274 bytes/);
  });
});

describe("PackBits", () => {
  // The example of Apple's Technical Note TN1023, which TIFF 6.0 goes by.
  const block = Uint8Array.from([
    0xfe, 0xaa, 0x02, 0x80, 0x00, 0x2a, 0xfd, 0xaa, 0x03, 0x80, 0x00, 0x2a, 0x22, 0xf7, 0xaa,
  ]);
  const unpacked = "aa aa aa 80 00 2a aa aa aa aa 80 00 2a 22 aa aa aa aa aa aa aa aa aa aa";

  it("unpacks the published example", () => {
    const bytes = boundedPackBits(block, 24);
    expect([...bytes].map((b) => b.toString(16).padStart(2, "0")).join(" ")).toBe(unpacked);
  });

  it("refuses a block that holds too much", () => {
    expect(() => boundedPackBits(block, 23)).toThrow(/more than its 23 bytes/);
  });
});

describe("a GeoTIFF whose blocks hold more than they say", () => {
  it("is refused with a code, whatever it is packed by", async () => {
    for (const name of ["heights-lzw", "heights-tiled", "heights-zstd", "heights-degrees"]) {
      const bytes = new Uint8Array(readFileSync(`tests/fuzz/corpus/${name}.tif`));
      const outcome = await openRaster({ name: "heights.tif", bytes: withNarrowBlocks(bytes) });
      if (!outcome?.ok) throw new Error(name);
      const { columns, rows } = outcome.value;
      const read = await outcome.value.read({ left: 0, top: 0, right: columns, bottom: rows });
      expect(read.ok ? "read" : read.problem.code, name).toBe("RASTER_BROKEN");
    }
  });

  it("stops a zlib stream early", () => {
    const bomb = new Uint8Array(readFileSync("tests/fuzz/corpus/heights-tiled.tif"));
    expect(() => boundedInflate(bomb.subarray(8), 10)).toThrow();
  });
});

/** The same file, its rows or tiles said to be one cell high and wide: tags 256, 257, 278, 322, 323. */
function withNarrowBlocks(bytes: Uint8Array): Uint8Array {
  const copy = bytes.slice();
  const view = new DataView(copy.buffer);
  const little = copy[0] === 0x49;
  const isBig = view.getUint16(2, little) === 43;
  const at = isBig ? Number(view.getBigUint64(8, little)) : view.getUint32(4, little);
  const count = isBig ? Number(view.getBigUint64(at, little)) : view.getUint16(at, little);
  for (let i = 0; i < count; i++) {
    const entry = isBig ? at + 8 + 20 * i : at + 2 + 12 * i;
    const value = entry + (isBig ? 12 : 8);
    if (![256, 257, 278, 322, 323].includes(view.getUint16(entry, little))) continue;
    view.setUint32(value, 0, little);
    if (view.getUint16(entry + 2, little) === 3) view.setUint16(value, 1, little);
    else view.setUint32(value, 1, little);
  }
  return copy;
}
