import { execFileSync } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { printLayout } from "../../src/page/app/print/layout.ts";
import { CHROMIUM, NO_CHROMIUM, openPage, pageOf } from "./open-page.ts";

/** A lawn of 30 m by 20 m, drawn in UTM zone 31 N on its central meridian (EPSG:32631). */
const LAWN_M = [30, 20] as const;
const [EAST, NORTH] = [500_000, 5_300_000];
const corners = [
  [0, 0],
  [LAWN_M[0], 0],
  [LAWN_M[0], LAWN_M[1]],
  [0, LAWN_M[1]],
  [0, 0],
].map(([e, n]) => [EAST + e!, NORTH + n!]);
const lawn = {
  type: "FeatureCollection",
  crs: { type: "name", properties: { name: "urn:ogc:def:crs:EPSG::32631" } },
  features: [
    {
      type: "Feature",
      properties: { role: "lawn" },
      geometry: { type: "Polygon", coordinates: [corners] },
    },
  ],
};

/** UTM's scale on its central meridian is 0.9996: on the ground the lawn is that much larger. */
const UTM = 0.9996;
const DPI = 254;
const PER_MM = DPI / 25.4;

const hasPoppler = (() => {
  try {
    execFileSync("pdftoppm", ["-v"], { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
})();
const skipped = CHROMIUM === undefined || !hasPoppler;
const why = NO_CHROMIUM || (hasPoppler ? "" : " (skipped: no pdftoppm here)");

let folder = "";
let html = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "pegline-print-"));
  const { epsgRegistry } = await import("../../cli/epsg-registry.ts");
  const bytes = new TextEncoder().encode(JSON.stringify(lawn));
  html = await pageOf([{ name: "lawn.geojson", bytes }], { registry: epsgRegistry });
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Prints and gives the first sheet as grey values, at 254 dots an inch. */
async function printed(paper: string, scale: string) {
  const { page } = await openPage(html);
  await page.evaluate(() => {
    window.print = () => {};
  });
  await page.getByRole("tab", { name: "Print" }).click();
  await page.locator('select[name="paper"]').selectOption(paper);
  await page.locator('select[name="print-scale"]').selectOption(scale);
  await page.getByRole("button", { name: "Print" }).click();
  const pdf = join(folder, "sheet.pdf");
  await writeFile(pdf, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
  const info = execFileSync("pdfinfo", [pdf], { encoding: "utf8" });
  execFileSync("pdftoppm", [
    "-r",
    String(DPI),
    "-f",
    "1",
    "-l",
    "1",
    "-gray",
    "-singlefile",
    pdf,
    join(folder, "sheet"),
  ]);
  const text = execFileSync("pdftotext", ["-f", "1", "-l", "1", pdf, "-"], { encoding: "utf8" });
  const pgm = await readFile(join(folder, "sheet.pgm"));
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.subarray(0, 40).toString("latin1"))!;
  const [width, height] = [Number(head[1]), Number(head[2])];
  const grey = pgm.subarray(head[0].length);
  return { info, text, width, height, at: (x: number, y: number) => grey[y * width + x]! };
}

type Sheet = Awaited<ReturnType<typeof printed>>;

/** First and last dark dot of some rows, millimetres. */
function darkSpan({ width, at }: Sheet, rowMm: number, fromMm: number, toMm: number, below = 120) {
  const row = Math.round(rowMm * PER_MM);
  const dark: number[] = [];
  for (let x = Math.round(fromMm * PER_MM); x < Math.min(width, toMm * PER_MM); x++) {
    if (at(x, row) < below) dark.push(x);
  }
  return { fromMm: dark[0]! / PER_MM, toMm: (dark.at(-1)! + 1) / PER_MM };
}

describe.skipIf(skipped)(`printing true to scale${why}`, () => {
  it.each([
    ["A4 true", "200", [297, 210]],
    ["A3 true", "100", [420, 297]],
  ] as const)(
    "%s at 1:%s: lawn and bar measure on paper what they should",
    async (paper, scale, size) => {
      const sheet = await printed(paper, scale);
      expect([sheet.width / PER_MM, sheet.height / PER_MM].map(Math.round)).toEqual([...size]);
      expect(sheet.text).toContain(`1:${scale} on`);
      // The lawn's outline, right across the middle of the window (10 mm margin, 27 mm strip below).
      const middleMm = (size[1] - 27) / 2;
      // Off the names and pegs: a quarter of the lawn's height above its middle.
      const row = middleMm - (LAWN_M[1] / 4 / Number(scale)) * 1000 * 0.9;
      const { fromMm, toMm } = darkSpan(sheet, row, 12, size[0] - 12);
      const expectedMm = (LAWN_M[0] / UTM / Number(scale)) * 1000;
      // The line is 0.25 mm wide, half of it outside on each side.
      expect(Math.abs(toMm - fromMm - 0.25 - expectedMm)).toBeLessThan(0.4);
      const said = Number(/this bar measures ([\d.]+) mm/.exec(sheet.text)![1]);
      expect(said).toBeGreaterThan(20);
      expect(Math.abs(barMm(sheet, size[1]) - said)).toBeLessThan(0.3);
    },
  );
});

describe.skipIf(skipped)(`printing by the browser's own menu${why}`, () => {
  it("gives the same sheets, and none are left behind", async () => {
    const { page } = await openPage(html);
    const pdf = join(folder, "menu.pdf");
    await writeFile(pdf, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
    const text = execFileSync("pdftotext", [pdf, "-"], { encoding: "utf8" });
    // 30 m by 20 m on A4 upright: 1:200 takes 150 mm of 190.
    expect(text).toContain("1:200 on A4 upright");
    expect(text).toContain("Cautions");
    await expect.poll(() => page.locator(".sheet").count()).toBe(0);
  });
});

/** Length of the scale bar: the widest dark span of any row of the strip that is dark at both ends. */
function barMm(sheet: Sheet, heightMm: number): number {
  let best = 0;
  for (let y = Math.round((heightMm - 35) * PER_MM); y < (heightMm - 15) * PER_MM; y++) {
    let run = 0;
    for (let x = 0; x < sheet.width; x++) {
      run = sheet.at(x, y) < 128 ? run + 1 : 0;
      // The window's frame goes right across; the bar does not.
      if (run > best && run < (heightMm / 2) * PER_MM) best = run;
    }
  }
  return best / PER_MM;
}

describe("sheets of a print", () => {
  const extent = [0, 0, 100, 60] as const;

  it("one sheet at the largest scale of ISO 5455 (and 1:250, 1:1250, 1:2500) that holds all", () => {
    // 100 m on 277 mm less 12 mm of room: 1:500 takes 200 mm, 1:250 would take 400.
    const layout = printLayout(extent, { paper: "A4", isLying: true, scale: undefined });
    expect([layout.scale, layout.centres]).toEqual([500, [[50, 30]]]);
  });

  it("several sheets cover all and overlap; those with nothing on them are left out", () => {
    const wish = { paper: "A4", isLying: true, scale: 100 } as const;
    const { centres, windowMm } = printLayout(extent, wish);
    expect(centres.length).toBeGreaterThan(4);
    const half = windowMm.map((mm) => (mm * 100) / 2000) as [number, number];
    for (let e = 0; e <= 100; e += 0.5) {
      for (let n = 0; n <= 60; n += 0.5) {
        const isSeen = centres.some(
          ([x, y]) => Math.abs(x - e) < half[0] - 0.1 && Math.abs(y - n) < half[1] - 0.1,
        );
        expect(isSeen || `${e} ${n}`).toBe(true);
      }
    }
    const some = printLayout(extent, wish, ([west]) => west < 10);
    expect(some.centres.length).toBeLessThan(centres.length);
  });
});
