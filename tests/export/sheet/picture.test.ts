/** Pictures beneath the drawings lie where they belong, whatever format and system they come in. */
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { unzlibSync } from "fflate";
import { beforeAll, describe, expect, it } from "vitest";
import { epsgRegistry } from "../../../cli/epsg-registry.ts";
import type { PlanResult } from "../../../src/export/plan-result.ts";
import { sheetFiles } from "../../../src/export/sheet-files.ts";
import { loadEngine } from "../../../src/geometry/engine.ts";
import { pngOf } from "../../../src/import/raster/png.ts";
import { type PictureInput, pictureBeneath } from "../../../src/jobs/picture-beneath.ts";
import type { InputFile } from "../../../src/model/features.ts";
import { has, inFolder, planned, rendered } from "./draw.ts";
import { rectangle } from "./invented-sites.ts";

const [WIDTH_M, HEIGHT_M] = [30, 20];
/** Cells of the picture, on the lawn and as wide again on each side. */
const [COLUMNS, ROWS] = [900, 600];

let lawn: PlanResult;
let photo: InputFile;

beforeAll(async () => {
  await loadEngine();
  lawn = await planned(rectangle(WIDTH_M, HEIGHT_M));
  photo = { name: "photo.png", bytes: shot(), siblings: { ".pgw": world(), ".prj": WGS84 } };
});

/** White, with the lawn in black: its middle third in both directions. */
function shot(): Uint8Array {
  const rgb = new Uint8Array(3 * COLUMNS * ROWS).fill(255);
  for (let row = ROWS / 3; row < (2 * ROWS) / 3; row++)
    rgb.fill(0, 3 * (row * COLUMNS + COLUMNS / 3), 3 * (row * COLUMNS + (2 * COLUMNS) / 3));
  return pngOf(rgb, COLUMNS, ROWS);
}

const text = (content: string) => new TextEncoder().encode(content);
const WGS84 = text(
  'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433],AUTHORITY["EPSG","4326"]]',
);

/** The world file in degrees: from the lawn's own corners. */
function world(): Uint8Array {
  const shell = lawn.site.lawns[0]!.area.shell;
  const corners = [0, 1, 2, 3].map((i) =>
    lawn.plan.grid.inverse([shell[2 * i]!, shell[2 * i + 1]!]),
  );
  const lons = corners.map(([lon]) => lon);
  const lats = corners.map(([, lat]) => lat);
  const [west, east] = [Math.min(...lons), Math.max(...lons)];
  const [south, north] = [Math.min(...lats), Math.max(...lats)];
  const x = (3 * (east - west)) / COLUMNS;
  const y = (3 * (north - south)) / ROWS;
  const firstX = west - (east - west) + x / 2;
  const firstY = north + (north - south) - y / 2;
  return text([x, 0, 0, -y, firstX, firstY].join("\n"));
}

const beneath = (picture: PictureInput) =>
  pictureBeneath(picture, lawn.site, lawn.plan, undefined, epsgRegistry);

/** Where the lawn's corners come to lie by the picture's own place, metres in the site grid. */
async function cornersOf(picture: PictureInput): Promise<number[][]> {
  const placed = await beneath(picture);
  if (!placed.ok) throw new Error(placed.problem.message);
  const [a, b, c, d, e, f] = placed.value.toGrid;
  return [
    [1 / 3, 1 / 3],
    [2 / 3, 2 / 3],
  ].map(([u, v]) => [a * u! + c * v! + e, b * u! + d * v! + f]);
}

it("a PNG with a world file lies on the site within a centimetre", async () => {
  const shell = lawn.site.lawns[0]!.area.shell;
  const east = [0, 2, 4, 6].map((i) => shell[i]!);
  const north = [1, 3, 5, 7].map((i) => shell[i]!);
  const [upper, lower] = await cornersOf({ file: photo });
  expect(upper![0]).toBeCloseTo(Math.min(...east), 2);
  expect(upper![1]).toBeCloseTo(Math.max(...north), 2);
  expect(lower![0]).toBeCloseTo(Math.max(...east), 2);
  expect(lower![1]).toBeCloseTo(Math.min(...north), 2);
});

describe.skipIf(!has("pdftoppm"))("on paper (skipped without pdftoppm)", () => {
  it("it ends where the lawn ends, to 0.5 mm", async () => {
    const placed = await beneath({ file: photo });
    if (!placed.ok) throw new Error(placed.problem.message);
    const rules = { paper: "A3", scale: 200 } as const;
    const bytes = async (with_: boolean) => {
      const picture = with_ ? placed.value : undefined;
      const { files } = await sheetFiles(lawn, rules, { picture });
      const pdf = files[0] as { readonly bytes: Uint8Array };
      return rendered(pdf.bytes, 254);
    };
    const [bare, grey] = [await bytes(false), await bytes(true)];
    // On a row through the lawn, the picture darkens what lies between the lawn's edges.
    const y = Math.round(grey.height / 2) + 57;
    const darker: number[] = [];
    for (let x = 210; x < 0.74 * grey.width; x++) {
      const at = y * grey.width + x;
      if (bare.pixels[at]! - grey.pixels[at]! > 35) darker.push(x);
    }
    const [from, to] = [Math.min(...darker), Math.max(...darker)];
    expect(Math.abs(to - from - (10_000 * WIDTH_M) / 200) / 10).toBeLessThan(0.5);
    expect(darker.length).toBeGreaterThan(0.8 * (to - from));
  });
});

describe.skipIf(!has("gdalwarp"))("a GeoTIFF (skipped without GDAL)", () => {
  it.each(["EPSG:4326", "EPSG:32626", "EPSG:3857"])("in %s shows the same place", async (crs) => {
    const bytes = inFolder((folder) => {
      writeFileSync(join(folder, "in.png"), photo.bytes);
      writeFileSync(join(folder, "in.pgw"), photo.siblings![".pgw"]!);
      const run = (program: string, ...args: string[]) =>
        execFileSync(program, ["-q", ...args], { cwd: folder, stdio: "pipe" });
      run("gdal_translate", "-a_srs", "EPSG:4326", "in.png", "a.tif");
      run("gdalwarp", "-t_srs", crs, "-co", "COMPRESS=DEFLATE", "-r", "near", "a.tif", "b.tif");
      return new Uint8Array(readFileSync(join(folder, "b.tif")));
    });
    const placed = await beneath({ file: { name: "b.tif", bytes } });
    if (!placed.ok) throw new Error(placed.problem.message);
    expect(placed.value.format).toBe("png");
    const [a, b, c, d, e, f] = placed.value.toGrid;
    const { u, v, share } = dark(placed.value.bytes);
    // The middle of what is black is the middle of the lawn; it is as large as the lawn.
    const shell = lawn.site.lawns[0]!.area.shell;
    const mean = (k: number) => (shell[k]! + shell[k + 2]! + shell[k + 4]! + shell[k + 6]!) / 4;
    expect(Math.abs(a * u + c * v + e - mean(0))).toBeLessThan(0.1);
    expect(Math.abs(b * u + d * v + f - mean(1))).toBeLessThan(0.1);
    const sizeM2 = share * Math.abs(a * d - b * c);
    expect(Math.abs(sizeM2 / (WIDTH_M * HEIGHT_M) - 1)).toBeLessThan(0.02);
  });
});

/** Middle of the black of a PNG of ours, and how much of it is black; the rims do not count. */
function dark(png: Uint8Array): { u: number; v: number; share: number } {
  const view = new DataView(png.buffer, png.byteOffset);
  const [columns, rows] = [view.getUint32(16), view.getUint32(20)];
  const lines = unzlibSync(png.subarray(41, 41 + view.getUint32(33)));
  let [count, sumU, sumV] = [0, 0, 0];
  for (let row = 0; row < rows; row++) {
    const line = lines.subarray(row * (3 * columns + 1) + 1, (row + 1) * (3 * columns + 1));
    let red = 0;
    for (let column = 0; column < columns; column++) {
      red = (red + line[3 * column]!) & 255;
      const [u, v] = [(column + 0.5) / columns, (row + 0.5) / rows];
      // Beyond the rims of what was warped it is black, too.
      if (red > 127 || Math.min(u, v, 1 - u, 1 - v) < 0.1) continue;
      count++;
      sumU += u;
      sumV += v;
    }
  }
  return { u: sumU / count, v: sumV / count, share: count / (columns * rows) };
}

describe("what cannot be a picture beneath", () => {
  const code = async (picture: PictureInput) => {
    const placed = await beneath(picture);
    return placed.ok ? "fine" : placed.problem.code;
  };

  it("is refused with a code", async () => {
    const { siblings = {}, ...bare } = photo;
    expect(await code({ file: photo })).toBe("fine");
    expect(await code({ file: bare })).toBe("PICTURE_NOT_PLACED");
    expect(await code({ file: { name: "a.png", bytes: text("none") } })).toBe("PICTURE_NOT_READ");
    const far = { ...siblings, ".pgw": text("0.0001 0 0 -0.0001 12 50") };
    expect(await code({ file: { ...bare, siblings: far } })).toBe("PICTURE_ELSEWHERE");
    const noSystem = { ".pgw": siblings[".pgw"]! };
    expect(await code({ file: { ...bare, siblings: noSystem } })).not.toBe("fine");
    expect(await code({ file: { ...bare, siblings: noSystem }, crs: 4326 })).toBe("fine");
    const broken = { name: "b.tif", bytes: Uint8Array.of(0x49, 0x49, 42, 0, 8, 0, 0, 0, 1, 0) };
    expect(await code({ file: broken })).toBe("PICTURE_BROKEN");
  });
});
