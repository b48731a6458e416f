/** Drawings are true to scale: pages as poppler draws them are measured, pixel by pixel. */
import { beforeAll, describe, expect, it } from "vitest";
import { sheetsPdf } from "../../../src/export/sheet/pdf.ts";
import { barLengthM } from "../../../src/export/sheet/title-block.ts";
import { loadEngine } from "../../../src/geometry/engine.ts";
import { PAPERS } from "../../../src/model/sheet.ts";
import { drawn, type Grey, has, rendered } from "./draw.ts";
import { rectangle } from "./invented-sites.ts";

beforeAll(() => loadEngine());

/** 10 pixels a millimetre. */
const DPI = 254;
const TOLERANCE_MM = 0.5;

/** Middles of the runs of columns in which at least a share of the rows between two is dark. */
function darkColumns(grey: Grey, fromRow: number, toRow: number, share: number): number[] {
  const runs: [number, number][] = [];
  for (let x = 0; x < grey.width; x++) {
    let dark = 0;
    for (let y = Math.round(fromRow); y < toRow; y++)
      if (grey.pixels[y * grey.width + x]! < 128) dark++;
    if (dark < share * (toRow - fromRow)) continue;
    if (runs.at(-1)?.[1] === x - 1) runs.at(-1)![1] = x;
    else runs.push([x, x]);
  }
  return runs.map(([from, to]) => (from + to) / 2);
}

type Pair = readonly [number, number];
const pairs = (found: readonly number[]): Pair[] =>
  found.flatMap((a, i) => found.slice(i + 1).map((b): Pair => [a, b]));

/** The two lines whose distance is nearest to a length. */
const nearest = (found: readonly Pair[], length: number): Pair =>
  found.reduce((best, one) =>
    Math.abs(one[1] - one[0] - length) < Math.abs(best[1] - best[0] - length) ? one : best,
  );

const turned = ({ width, height, pixels }: Grey): Grey => {
  const out = new Uint8Array(pixels.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) out[x * height + y] = pixels[y * width + x]!;
  return { width: height, height: width, pixels: out };
};

describe.skipIf(!has("pdftoppm"))("a page as poppler draws it (skipped without pdftoppm)", () => {
  it.each([
    ["A4", 100, 12, 9],
    ["A3", 200, 30, 20],
    ["A2", 500, 60, 45],
    ["A1", 1000, 70, 50],
  ] as const)(
    "%s at 1:%i: a lawn of %i m by %i m measures that on paper",
    async (paper, scale, widthM, heightM) => {
      const { sheets } = await drawn(rectangle(widthM, heightM), { paper, scale });
      const grey = rendered(await sheetsPdf("test", sheets), DPI);
      // ISO 216.
      const sides = paper === "A4" ? PAPERS.A4 : [...PAPERS[paper]].reverse();
      expect([grey.width / 10, grey.height / 10].map(Math.round)).toEqual([...sides]);
      const [wide, high] = [(10_000 * widthM) / scale, (10_000 * heightM) / scale];
      // The lawn's edges are drawn black, from side to side.
      const middle = windowMiddle(grey, paper);
      const columns = pairs(darkColumns(grey, middle - 0.45 * high, middle + 0.45 * high, 0.8));
      const [west, east] = nearest(columns, wide);
      expect(Math.abs(east - west - wide) / 10).toBeLessThan(TOLERANCE_MM);
      const rows = pairs(darkColumns(turned(grey), west + 0.05 * wide, east - 0.05 * wide, 0.8));
      const [north, south] = nearest(rows, high);
      expect(Math.abs(south - north - high) / 10).toBeLessThan(TOLERANCE_MM);
      // The test itself can fail: a lawn 3 % larger is not found.
      const [a, b] = nearest(columns, 1.03 * wide);
      expect(Math.abs(b - a - 1.03 * wide) / 10).toBeGreaterThan(TOLERANCE_MM);
    },
  );

  it("the scale bar is as long as it says", async () => {
    const { sheets, scale } = await drawn(rectangle(30, 20), { paper: "A3", scale: 200 });
    expect(scale).toBe(200);
    const grey = rendered(await sheetsPdf("test", sheets), DPI);
    const lengthMm = (1000 * barLengthM(scale)) / scale;
    // Black from edge to edge in its first, third and fifth part: a row through it is 60 % dark.
    const found: number[] = [];
    for (let y = Math.round(0.6 * grey.height); y < grey.height; y++) {
      const row = grey.pixels.subarray(y * grey.width, (y + 1) * grey.width);
      const dark = [...row.keys()].filter((x) => row[x]! < 128 && x > 0.75 * grey.width);
      const runs = dark.filter((x, i) => dark[i - 1] !== x - 1);
      const first = runs.find((x) => {
        const end = x + 2 * lengthMm;
        return row.subarray(x, end - 2).every((value) => value < 128) && row[x - 5]! > 200;
      });
      if (first === undefined) continue;
      const last = dark.filter((x) => x >= first && x <= first + 10 * lengthMm + 10).at(-1)!;
      found.push((last - first) / 10);
    }
    const typical = found.sort((a, b) => a - b)[Math.floor(found.length / 2)]!;
    expect(Math.abs(typical - lengthMm)).toBeLessThan(TOLERANCE_MM);
  });
});

/** Row in the middle of the window, where the site's middle lies: text stands beside it, on A4 below. */
const windowMiddle = (grey: Grey, paper: keyof typeof PAPERS): number =>
  paper === "A4" ? (100 + grey.height - 100 - 1080) / 2 : grey.height / 2;
