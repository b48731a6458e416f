/** The whole way from a raster of heights to lengths on the ground. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Geodesic } from "geographiclib-geodesic";
import type { LineString } from "geojson";
import proj4 from "proj4";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../../cli/epsg-registry.ts";
import { placeRaster } from "../../../src/crs/place-raster.ts";
import { resolveCrs } from "../../../src/crs/resolve.ts";
import { siteGridAt } from "../../../src/crs/site-grid.ts";
import { openRaster } from "../../../src/import/raster/open-raster.ts";
import { planFiles, planInputs } from "../../../src/index.ts";
import { GARDEN, type Made, made, planned } from "./garden.ts";
import { type Ground, gridText, HOME, rasterFile, UTM26 } from "./rasters.ts";

const grid = siteGridAt([-28.5, 47.25]);

/** Written wire in degrees. */
const wireOf = ({ plan }: Made): [number, number][] =>
  (plan.features[0].geometry as LineString).coordinates as [number, number][];

/** Length by geodesics on the ellipsoid (Karney) and heights from the formula of the ground. */
function referenceM(wire: [number, number][], height: (lonLat: [number, number]) => number) {
  let sumM = 0;
  for (let i = 1; i < wire.length; i++) {
    const [a, b] = [wire[i - 1]!, wire[i]!];
    const { s12 } = Geodesic.WGS84.Inverse(a[1], a[0], b[1], b[0]);
    sumM += Math.hypot(s12!, height(b) - height(a));
  }
  return sumM;
}

const inUtm = proj4(UTM26);
const overUtm = (ground: Ground) => (lonLat: [number, number]) => {
  const [x, y] = inUtm.forward([...lonLat]) as [number, number];
  return ground(x - HOME[0], y - HOME[1]);
};

describe("a plan on a raster of heights", () => {
  const ramp: Ground = (x, y) => 80 + 0.25 * x - 0.1 * y;

  it.each([
    ["level ground", (() => 80) as Ground],
    ["a ramp", ramp],
  ])("has the length by geodesics on %s, within 2 ppm and 0.3 mm", async (_, ground) => {
    const result = await made(rasterFile(gridText(ground)));
    const expectedM = referenceM(wireOf(result), overUtm(ground));
    const groundM = result.summary.loops[0]!.ground_length_m!;
    expect(Math.abs(groundM - expectedM)).toBeLessThan(2e-6 * expectedM + 3e-4);
    expect(result.plan.features[0].properties.ground_length_m).toBe(groundM);
    expect(result.codes.filter((code) => code.startsWith("TERRAIN"))).toEqual([]);
  });

  it("buys, cuts and measures the wire of the ground, and keeps the flat length beside it", async () => {
    const { summary } = await made(rasterFile(gridText(ramp)));
    const [loop, { totals }] = [summary.loops[0]!, summary];
    expect(loop.ground_length_m).toBeGreaterThan(loop.length_m * 1.01);
    // Two spare ends of 1 m and 2 % slack; 19.5 ohm/km of the medium machine's wire.
    expect(totals.wire_to_buy_m).toBeCloseTo(1.02 * loop.ground_length_m! + 2, 3);
    expect(loop.resistance_ohm).toBeCloseTo(0.0195 * loop.ground_length_m!, 2);
    expect(summary.terrain).toMatchObject({ from: "heights.asc", wire_without_height_m: 0 });
  });

  it("gives pegs heights to a millimetre and chainages along the ground", async () => {
    const { plan } = await made(rasterFile(gridText(ramp)));
    type Peg = { geometry: { coordinates: [number, number] }; properties: Record<string, number> };
    const pegs: Peg[] = plan.features.filter(
      (one: { properties: { kind: string } }) => one.properties.kind === "peg",
    );
    expect(pegs.length).toBeGreaterThan(30);
    for (const { geometry, properties } of pegs) {
      const height = overUtm(ramp)(geometry.coordinates);
      expect(Math.abs(properties.height_m! - height)).toBeLessThan(0.0015);
      expect(properties.ground_chainage_m!).toBeGreaterThanOrEqual(properties.chainage_m!);
    }
  });

  it("says that lengths are flat where no heights are given", async () => {
    const outcome = await planInputs([GARDEN]);
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const { files, summary } = planFiles(outcome.value);
    const { summaryText } = await import("../../../src/index.ts");
    expect(summary.terrain).toBeNull();
    expect(summaryText(summary)).toContain("lengths are flat");
    expect(files[0]!.text).not.toContain("ground_");
  });

  it("takes a raster in degrees, and one in feet", async () => {
    const metres = await made(rasterFile(gridText(ramp)));
    // 0.00001 degrees are 1.11 m north and 0.76 m east here; the same ramp, by proj4.
    const inDegrees: Ground = (lon, lat) => overUtm(ramp)([-28.5 + lon, 47.25 + lat]);
    const at = [-28.5, 47.25];
    const degrees = await made(
      rasterFile(gridText(inDegrees, { at, side: 0.001, cell: 0.00001 }), "EPSG:4326"),
    );
    const feet = await made(rasterFile(gridText((x, y) => ramp(x, y) / 0.3048)), {
      heightUnit: "ft",
    });
    const lengthM = metres.summary.totals.wire_ground_m!;
    expect(degrees.summary.totals.wire_ground_m).toBeCloseTo(lengthM, 3);
    expect(feet.summary.totals.wire_ground_m).toBeCloseTo(lengthM, 3);
  });

  it("keeps cells without a height unknown, and says under how much wire", async () => {
    const holed: Ground = (x, y) => (x > 5 && y < 0 ? Number.NaN : ramp(x, y));
    const { codes, summary } = await made(rasterFile(gridText(holed)));
    expect(codes).toContain("TERRAIN_INCOMPLETE");
    // The wire has some 9.7 m east and 8.7 m north in that quarter.
    expect(summary.terrain!.wire_without_height_m).toBeGreaterThan(16);
    expect(summary.terrain!.wire_without_height_m).toBeLessThan(21);
  });

  it("refuses what is no raster, is elsewhere or does not say where it is", async () => {
    const far = gridText(ramp, { at: [HOME[0] + 5000, HOME[1]] });
    expect(await planned(rasterFile(far))).toMatchObject({ problem: "TERRAIN_ELSEWHERE" });
    expect(await planned(rasterFile("no raster"))).toMatchObject({
      problem: "TERRAIN_NOT_A_RASTER",
    });
    const nowhere = { name: "heights.asc", bytes: rasterFile(gridText(ramp)).bytes };
    expect(await planned(nowhere)).toMatchObject({ problem: "CRS_MISSING" });
    expect(await made(nowhere, { crs: 32626 })).toHaveProperty("summary.terrain.step_m");
  });
});

let hasGdal = true;
try {
  execFileSync("gdalwarp", ["--version"], { stdio: "ignore" });
} catch {
  hasGdal = false;
}

describe.skipIf(!hasGdal)("placing against gdalwarp (skipped where it is missing)", () => {
  it("gives a node the height of gdalwarp's bilinear resampling, within 2 mm", async () => {
    const dir = mkdtempSync(join(tmpdir(), "placed-"));
    try {
      const hills: Ground = (x, y) => 50 + 2 * Math.sin(x / 6) * Math.cos(y / 9) + 0.03 * x;
      const text = gridText(hills);
      writeFileSync(join(dir, "in.asc"), text);
      const raster = await openRaster(rasterFile(text));
      const crs = resolveCrs({ kind: "epsg", code: 32626, from: "test" }, epsgRegistry);
      if (!raster?.ok || !crs.ok) throw new Error("no raster");
      const box = { minE: -20, minN: -20, maxE: 20, maxN: 20 };
      const placed = await placeRaster(raster.value, crs.value, grid, box, 1);
      if (!placed.ok) throw new Error(placed.problem.message);
      const { westM, northM, stepM, columns, rows, heightsM } = placed.value;
      const half = stepM / 2;
      const box4 = [
        westM - half,
        northM + half - rows * stepM,
        westM - half + columns * stepM,
        northM + half,
      ];
      execFileSync("gdalwarp", [
        ...["-q", "-s_srs", "EPSG:32626", "-t_srs", `${grid.projString} +type=crs`],
        ...["-r", "bilinear", "-et", "0", "-ot", "Float64", "-te", ...box4.map(String)],
        ...["-ts", String(columns), String(rows), join(dir, "in.asc"), join(dir, "out.tif")],
      ]);
      const out = await openRaster({
        name: "out.tif",
        bytes: readFileSync(join(dir, "out.tif")),
      });
      if (!out?.ok) throw new Error("no raster");
      const theirs = await out.value.read({ left: 0, top: 0, right: columns, bottom: rows });
      if (!theirs.ok) throw new Error(theirs.problem.message);
      expect(heightsM.length).toBeGreaterThan(1500);
      const off = heightsM.map((height, i) => Math.abs(height - theirs.value[i]!));
      expect(Math.max(...off)).toBeLessThan(0.002);
    } finally {
      rmSync(dir, { recursive: true, force: true });
    }
  });
});
