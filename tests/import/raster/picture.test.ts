/** Pictures: what is read of PNG, JPEG and GeoTIFF, and what is refused with a code. */
import { writeArrayBuffer } from "geotiff";
import { describe, expect, it } from "vitest";
import { openPicture } from "../../../src/import/raster/picture.ts";
import { pngOf } from "../../../src/import/raster/png.ts";
import type { InputFile } from "../../../src/model/features.ts";

const text = (words: string) => new TextEncoder().encode(words);
const WORLD = text("0.1 0 0 -0.1 1000.05 1999.95");
const input = (bytes: Uint8Array, siblings?: InputFile["siblings"]): InputFile => ({
  name: "photo",
  bytes,
  ...(siblings && { siblings }),
});
const code = async (one: InputFile) => {
  const opened = await openPicture(one);
  return opened.ok ? "read" : `${opened.problem.code}: ${opened.problem.message}`;
};
const png = (columns = 4, rows = 3) => pngOf(new Uint8Array(3 * columns * rows), columns, rows);

/** Segments of a JPEG up to its frame header (ISO/IEC 10918-1, B.2.2): size in bytes 5 to 8. */
const jpeg = (marker = 0xc0, before: readonly number[] = [0xff, 0xe0, 0, 4, 1, 2]) =>
  Uint8Array.from([0xff, 0xd8, ...before, 0xff, marker, 0, 11, 8, 0, 3, 0, 4, 1, 0, 0, 0]);

describe("PNG and JPEG", () => {
  it("lie where the world file says, its place being the middle of the first cell", async () => {
    for (const ending of [".pgw", ".jgw", ".wld"]) {
      const opened = await openPicture(input(png(), { [ending]: WORLD }));
      if (!opened.ok) throw new Error(opened.problem.code);
      expect(opened.value).toMatchObject({ columns: 4, rows: 3, crs: { kind: "none" } });
      expect(opened.value.frame.x0).toBeCloseTo(1000, 9);
      expect(opened.value.frame.y0).toBeCloseTo(2000, 9);
      const taken = await opened.value.take({ left: 0, top: 0, right: 4, bottom: 3 }, 100);
      expect(taken).toMatchObject({ ok: true, value: { format: "png" } });
    }
    const prj = text('GEOGCS["x"]');
    const opened = await openPicture(input(png(), { ".pgw": WORLD, ".prj": prj }));
    expect(opened).toMatchObject({
      ok: true,
      value: { crs: { kind: "definition", from: ".prj" } },
    });
  });

  it("a JPEG's size stands in its frame header, behind other segments", async () => {
    const opened = await openPicture(input(jpeg(), { ".jgw": WORLD }));
    expect(opened).toMatchObject({ ok: true, value: { columns: 4, rows: 3 } });
    // Progressive, and a fill byte between segments.
    expect(await code(input(jpeg(0xc2, [0xff, 0xff, 0xe0, 0, 2]), { ".jgw": WORLD }))).toBe("read");
    // Tables of Huffman codes and the like are no frames.
    for (const marker of [0xc4, 0xc8, 0xcc, 0xbf, 0xd0]) {
      const tables = [0xff, marker, 0, 11, 8, 0, 9, 0, 9, 1, 0, 0, 0];
      const one = await openPicture(input(jpeg(0xc0, tables), { ".jgw": WORLD }));
      expect(one).toMatchObject({ ok: true, value: { columns: 4, rows: 3 } });
    }
    expect(await code(input(Uint8Array.of(0xff, 0xd8, 0xff)))).toMatch(/^PICTURE_NOT_READ/);
    expect(await code(input(Uint8Array.of(0xff, 0xd9, ...jpeg().slice(2))))).toMatch(
      /^PICTURE_NOT_READ/,
    );
    // What follows the first segment is none.
    expect(await code(input(jpeg(0xc0, [0xff, 0xe0, 0, 3, 7, 7])))).toMatch(/^PICTURE_NOT_READ/);
  });

  it("without a place on earth, or without a size, are refused", async () => {
    expect(await code(input(png()))).toMatch(/^PICTURE_NOT_PLACED/);
    expect(await code(input(png(), { ".pgw": text("1 2 3") }))).toMatch(/^PICTURE_NOT_PLACED/);
    expect(await code(input(png(), { ".pgw": text("1 1 1 1 0 0") }))).toMatch(
      /^PICTURE_NOT_PLACED/,
    );
    const none = png();
    none.fill(0, 16, 20);
    expect(await code(input(none, { ".pgw": WORLD }))).toBe(
      "PICTURE_BROKEN: the picture says 0 columns and 3 rows",
    );
    const huge = png();
    huge.fill(0x7f, 16, 24);
    expect(await code(input(huge, { ".pgw": WORLD }))).toMatch(
      /^PICTURE_BROKEN: the picture says 2139062143/,
    );
    expect(await code(input(text("GIF89a")))).toMatch(/^PICTURE_NOT_READ/);
  });
});

describe("GeoTIFF", () => {
  /** Red in the west, blue in the east, a cell of 0.5 m. */
  async function tiff(more: object = {}, columns = 8, rows = 4): Promise<Uint8Array> {
    const values = new Uint8Array(3 * columns * rows);
    for (let i = 0; i < columns * rows; i++)
      values[3 * i + (i % columns < columns / 2 ? 0 : 2)] = 255;
    const metadata = {
      width: columns,
      height: rows,
      ModelPixelScale: [0.5, 0.5, 0],
      ModelTiepoint: [0, 0, 0, 1000, 2000, 0],
      GTModelTypeGeoKey: 1,
      GTRasterTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 25832,
      ...more,
    };
    return new Uint8Array(await writeArrayBuffer(values, metadata as never));
  }

  it("is cut to the window that is wanted, and shrunk to the side that is wanted", async () => {
    const opened = await openPicture(input(await tiff()));
    if (!opened.ok) throw new Error(`${opened.problem.code}: ${opened.problem.message}`);
    expect(opened.value).toMatchObject({ columns: 8, rows: 4, isDivisible: true });
    expect(opened.value.frame).toMatchObject({ x0: 1000, y0: 2000, xPerColumn: 0.5 });
    for (const sideMax of [100, 4]) {
      const taken = await opened.value.take({ left: 4, top: 0, right: 8, bottom: 4 }, sideMax);
      expect(taken).toMatchObject({ ok: true, value: { format: "png" } });
    }
    const shrunk = await opened.value.take({ left: 0, top: 0, right: 8, bottom: 4 }, 2);
    if (!shrunk.ok) throw new Error(shrunk.problem.code);
    const { bytes } = shrunk.value;
    const view = new DataView(bytes.buffer, bytes.byteOffset);
    expect([view.getUint32(16), view.getUint32(20)]).toEqual([2, 1]);
  });

  it("of too many cells round a site is refused, not read", async () => {
    const opened = await openPicture(input(await tiff()));
    if (!opened.ok) throw new Error(opened.problem.code);
    const taken = await opened.value.take({ left: 0, top: 0, right: 20_000, bottom: 20_000 }, 100);
    expect(taken).toMatchObject({ ok: false, problem: { code: "PICTURE_TOO_FINE" } });
    if (!taken.ok) expect(taken.problem.message).toContain("400 million cells");
  });

  it("that is broken is refused with a code", async () => {
    const whole = await tiff();
    expect(await code(input(whole.slice(0, 60)))).toMatch(/^PICTURE_BROKEN/);
    expect(await code(input(whole.slice(0, 8)))).toMatch(/^PICTURE_BROKEN/);
  });
});
