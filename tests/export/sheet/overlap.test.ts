/** No two texts of a drawing overlap, and none leaves the page: by boxes of the lettering's widths. */
import { beforeAll, describe, expect, it } from "vitest";
import { textCorners } from "../../../src/export/sheet/lettering.ts";
import { sheetsPdf } from "../../../src/export/sheet/pdf.ts";
import { type Sheet, type TextShape, textsOf } from "../../../src/export/sheet/scene.ts";
import { sheetTexts } from "../../../src/export/sheet-files.ts";
import { loadEngine } from "../../../src/geometry/engine.ts";
import { drawn as sketched } from "../../property/sketch.ts";
import { sketchOf } from "../../property/sketches.ts";
import { type Drawn, demoGarden, drawn, drawnOf, has, wordBoxes } from "./draw.ts";
import { estate, school } from "./invented-sites.ts";

beforeAll(() => loadEngine());

/** Random sites to draw; `PEGLINE_SHEETS=40` draws 40 and an estate. */
const LONG = Number(process.env.PEGLINE_SHEETS ?? 0);
const SEEDS = Array.from({ length: LONG || 4 }, (_, i) => i + 1);

/** Boxes may touch: what rounding does is no overlap, millimetres. */
const TOUCH_MM = 0.02;

interface Box {
  readonly text: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

function boxOf(shape: TextShape): Box {
  const corners = textCorners(shape);
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  return {
    text: shape.text,
    left: Math.min(...xs),
    right: Math.max(...xs),
    top: Math.min(...ys),
    bottom: Math.max(...ys),
  };
}

function overlaps(boxes: readonly Box[]): string[] {
  const sorted = [...boxes].sort((a, b) => a.left - b.left);
  const found: string[] = [];
  sorted.forEach((a, i) => {
    for (const b of sorted.slice(i + 1)) {
      if (b.left >= a.right - TOUCH_MM) break;
      if (b.top < a.bottom - TOUCH_MM && b.bottom > a.top + TOUCH_MM)
        found.push(`${a.text} and ${b.text}`);
    }
  });
  return found;
}

function outside({ widthMm, heightMm, items }: Sheet): string[] {
  return textsOf(items)
    .map(boxOf)
    .filter(
      ({ left, top, right, bottom }) =>
        left < 10 || top < 5 || right > widthMm - 5 || bottom > heightMm - 5,
    )
    .map(({ text }) => text);
}

function expectApart({ sheets }: Drawn): void {
  for (const sheet of sheets) {
    expect(overlaps(textsOf(sheet.items).map(boxOf)), sheet.title).toEqual([]);
    expect(outside(sheet), sheet.title).toEqual([]);
  }
}

it("the test itself can fail", () => {
  const text = (x: number, y: number): TextShape => ({
    kind: "text",
    text: "A10",
    x,
    y,
    sizeMm: 3,
  });
  expect(overlaps([boxOf(text(0, 0)), boxOf(text(4, 1))])).toHaveLength(1);
  expect(overlaps([boxOf(text(0, 0)), boxOf(text(8, 0))])).toHaveLength(0);
});

describe("texts on the sheets of", () => {
  it("the demo garden, and the same on A4, where it is tight", async () => {
    const garden = await drawn(demoGarden());
    expectApart(garden);
    const texts = textsOf(garden.sheets[0]!.items).map(({ text }) => text);
    // Every second peg and corners are numbered at 1:200, on a garden of some 200 pegs.
    expect(texts.filter((text) => /^[AB]\d+$/.test(text)).length).toBeGreaterThan(90);
    expect(garden.findings).toEqual([]);
    const german = await sheetTexts(garden.result, { language: "de" });
    const upright = drawnOf(garden.result, { paper: "A4" }, german);
    expect(upright.sheets.length).toBeGreaterThan(4);
    expectApart(upright);
  });

  it("a school: on one sheet, on several, and small", async () => {
    const whole = await drawn(school());
    expectApart(whole);
    const several = drawnOf(whole.result, { paper: "A3", scale: 250 });
    const titles = several.sheets.map(({ title }) => title);
    expect(titles.filter((title) => title.includes("loops and pegs")).length).toBeGreaterThan(3);
    expect(titles[0]).toContain("overview");
    expectApart(several);
    expectApart(drawnOf(whole.result, { paper: "A3", scale: 500 }));
  });

  it.skipIf(!LONG)("an estate (a long run, with PEGLINE_SHEETS=N)", async () => {
    const park = await drawn(estate());
    expect(park.sheets.length).toBeGreaterThan(5);
    expectApart(park);
  });

  it.each(SEEDS)("random site %i", async (seed) => {
    const { features } = sketched(sketchOf(seed));
    const text = JSON.stringify({ type: "FeatureCollection", features });
    const site = await drawn(new TextEncoder().encode(text)).catch((error: Error) => {
      // Some have no room for wire: there is nothing to draw.
      expect(error.message).toMatch(/^NO_ROOM_FOR_WIRE|^NO_LAWN/);
      return undefined;
    });
    if (site) expectApart(site);
  });
});

describe.skipIf(!has("pdftotext"))(
  "boxes of words as poppler finds them (skipped without pdftotext)",
  () => {
    it("do not overlap on the demo garden's sheets", async () => {
      const { sheets } = await drawn(demoGarden());
      const pages = wordBoxes(await sheetsPdf("test", sheets));
      expect(pages.map((words) => words.length > 50)).toEqual(sheets.map(() => true));
      for (const words of pages) {
        // Poppler's boxes reach from the font's highest letter to its lowest; ours leave out the
        // accents of capitals.
        const cut = words.map((one) => {
          const height = one.bottom - one.top;
          return { ...one, top: one.top + 0.2 * height, bottom: one.bottom - 0.05 * height };
        });
        expect(overlaps(cut)).toEqual([]);
      }
    });
  },
);
