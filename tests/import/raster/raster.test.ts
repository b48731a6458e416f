/** Rasters are written by GDAL (general-purpose reference), and slopes held against its own. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openRaster } from "../../../src/import/raster/open-raster.ts";
import type { CellWindow, RawRaster } from "../../../src/model/raster.ts";
import {
  aspectDeg,
  type EdgeCells,
  hornGradients,
  slopeDeg,
  slopePercent,
} from "../../../src/physics/terrain/horn.ts";

const [COLUMNS, ROWS, CELL_M] = [41, 33, 0.5];
let hasGdal = true;
try {
  execFileSync("gdal_translate", ["--version"], { stdio: "ignore" });
} catch {
  hasGdal = false;
}

/** An invented hillside with a dip, and cells without a height. */
function heightText(withHoles: boolean): string {
  const rows: string[] = [];
  for (let r = 0; r < ROWS; r++) {
    const row: string[] = [];
    for (let c = 0; c < COLUMNS; c++) {
      const z =
        20 + 3 * Math.sin(c / 7) * Math.cos(r / 5) + 0.05 * c + ((c * 31 + r * 17) % 13) / 40;
      const isHole = withHoles && ((c > 10 && c < 14 && r > 8 && r < 11) || (c === 0 && r < 3));
      row.push(isHole ? "-9999" : z.toFixed(3));
    }
    rows.push(row.join(" "));
  }
  return `ncols ${COLUMNS}\nnrows ${ROWS}\nxllcorner 500000\nyllcorner 4900000\ncellsize ${CELL_M}\nNODATA_value -9999\n${rows.join("\n")}\n`;
}

const whole = (raster: RawRaster): CellWindow => ({
  left: 0,
  top: 0,
  right: raster.columns,
  bottom: raster.rows,
});

async function opened(path: string): Promise<RawRaster> {
  const outcome = await openRaster({ name: path, bytes: readFileSync(path) });
  if (!outcome?.ok) throw new Error(outcome?.problem.message ?? "no raster");
  return outcome.value;
}

async function heightsIn(path: string): Promise<Float64Array> {
  const raster = await opened(path);
  const read = await raster.read(whole(raster));
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}

describe.skipIf(!hasGdal)(
  "rasters and slopes against GDAL (skipped where gdaldem is missing)",
  () => {
    let dir = "";
    const at = (name: string) => join(dir, name);
    const run = (tool: string, ...args: string[]) => execFileSync(tool, ["-q", ...args]);
    beforeAll(() => {
      dir = mkdtempSync(join(tmpdir(), "raster-"));
      writeFileSync(at("holes.asc"), heightText(true));
      writeFileSync(at("full.asc"), heightText(false));
    });
    afterAll(() => rmSync(dir, { recursive: true, force: true }));

    it.each([
      ["DEFLATE", "-co", "COMPRESS=DEFLATE", "-co", "PREDICTOR=3", "-co", "TILED=YES"],
      ["LZW", "-co", "COMPRESS=LZW"],
      ["NONE", "-co", "BIGTIFF=YES"],
      ["ZSTD", "-co", "COMPRESS=ZSTD"],
      ["PACKBITS", "-co", "COMPRESS=PACKBITS"],
    ])("reads a GeoTIFF with %s as the text grid it was made from", async (name, ...options) => {
      const tif = at(`${name}.tif`);
      run(
        "gdal_translate",
        "-a_srs",
        "EPSG:25830",
        "-ot",
        "Float32",
        ...options,
        at("holes.asc"),
        tif,
      );
      const raster = await opened(tif);
      expect(raster.crs).toMatchObject({ kind: "epsg", code: 25830 });
      expect(raster.frame).toMatchObject({
        x0: 500000,
        y0: 4900000 + ROWS * CELL_M,
        yPerRow: -CELL_M,
      });
      const [ours, text] = [await heightsIn(tif), await heightsIn(at("holes.asc"))];
      expect(ours.filter(Number.isNaN).length).toBe(9);
      ours.forEach((z, i) => {
        if (Number.isNaN(text[i]!)) expect(z).toBeNaN();
        else expect(Math.abs(z - text[i]!)).toBeLessThan(2e-6);
      });
    });

    const cases = ["full", "holes"].flatMap((grid) =>
      (["leave", "compute"] as const).flatMap((edges) =>
        (["percent", "degrees", "aspect"] as const).map((what) => [grid, edges, what] as const),
      ),
    );
    it.each(cases)("%s, edges %s: %s equals gdaldem cell by cell", async (grid, edges, what) => {
      const tif = at(`${grid}-${edges}-${what}.tif`);
      execFileSync("gdaldem", [
        what === "aspect" ? "aspect" : "slope",
        "-q",
        ...(what === "percent" ? ["-p"] : []),
        ...(edges === "compute" ? ["-compute_edges"] : []),
        at(`${grid}.asc`),
        tif,
      ]);
      const theirs = await heightsIn(tif);
      const ours = ourValues(await heightsIn(at(`${grid}.asc`)), edges, what);
      let compared = 0;
      theirs.forEach((value, i) => {
        if (Number.isNaN(value)) {
          expect(ours[i]).toBeNaN();
          return;
        }
        compared++;
        const off = Math.abs(ours[i]! - value);
        // gdaldem computes in floats of 24 bits on heights near 20 m.
        expect(what === "aspect" ? Math.min(off, 360 - off) : off).toBeLessThan(
          what === "aspect" ? 0.02 : 1e-3,
        );
      });
      expect(compared).toBeGreaterThan(1000);
    });
  },
);

function ourValues(
  heights: Float64Array,
  edges: EdgeCells,
  what: "percent" | "degrees" | "aspect",
): number[] {
  const { perColumn, perRow } = hornGradients(heights, COLUMNS, ROWS, edges);
  const measure = { percent: slopePercent, degrees: slopeDeg, aspect: aspectDeg }[what];
  return Array.from(perColumn, (dx, i) => measure(dx, perRow[i]!, CELL_M, CELL_M));
}

describe("hostile and broken rasters", () => {
  const asc = async (text: string) => {
    const outcome = await openRaster({ name: "a.asc", bytes: new TextEncoder().encode(text) });
    if (!outcome?.ok) return outcome?.problem.code;
    const read = await outcome.value.read(whole(outcome.value));
    return read.ok ? "read" : read.problem.code;
  };
  const head = "ncols 2\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n";

  it("reads a sound grid, and says of others that they are broken", async () => {
    expect(await asc(`${head}1 2 3 4`)).toBe("read");
    expect(await asc(`${head}1 2 3`)).toBe("RASTER_BROKEN");
    expect(await asc(`${head}1 2 3 4 5`)).toBe("RASTER_BROKEN");
    expect(await asc(`${head}1 2 x 4`)).toBe("RASTER_BROKEN");
    expect(await asc("ncols 2\nnrows 2\ncellsize 1\n1 2 3 4")).toBe("RASTER_BROKEN");
    expect(await asc("ncols 100000\nnrows 100000\nxllcorner 0\nyllcorner 0\ncellsize 1\n1")).toBe(
      "RASTER_BROKEN",
    );
  });

  it("never throws on a cut or altered GeoTIFF", async () => {
    const bytes = new Uint8Array(400);
    bytes.set([0x49, 0x49, 42, 0, 8, 0, 0, 0, 200, 255]);
    const outcome = await openRaster({ name: "a.tif", bytes });
    expect(outcome).toMatchObject({ ok: false, problem: { code: "RASTER_BROKEN" } });
  });
});
