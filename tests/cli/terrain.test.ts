import { copyFile, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { demo, emptyFolder, pegline } from "./run.ts";

const GARDEN = demo("house-garden.geojson");
const HEIGHTS = demo("house-garden-heights.asc");

it("--terrain buys the wire of the ground, with the .prj from beside the grid", async () => {
  const cwd = await emptyFolder();
  const ran = await pegline(["plan", GARDEN, "--terrain", HEIGHTS, "--out", "r"], { cwd });
  expect(ran.code).toBe(0);
  expect(ran.stdout).toContain("on the ground");
  expect(ran.stdout).not.toContain("lengths are flat");
  const { loops, terrain, totals } = JSON.parse(
    await readFile(join(cwd, "r/summary.json"), "utf8"),
  );
  expect(terrain).toMatchObject({ from: HEIGHTS, wire_without_height_m: 0 });
  for (const loop of loops) expect(loop.ground_length_m).toBeGreaterThan(loop.length_m);
  expect(totals.wire_ground_m).toBeGreaterThan(totals.wire_m);
  // The bank in the back lawn falls 1.40 m within 4 m: 35 % on average, 52 % in its middle.
  expect(terrain.steep_m2).toBeGreaterThan(5);
  expect(terrain.steepest_percent).toBeGreaterThan(35);
  expect(terrain.steepest_percent).toBeLessThan(53);
  expect(terrain.edge_falls_m).toBeGreaterThan(5);
  for (const code of ["GROUND_STEEP", "EDGE_FALLS_AWAY"]) expect(ran.stderr).toContain(code);
  expect(ran.stdout).toMatch(/a\s+wire\s+does\s+not\s+hold\s+it/);
});

it("a site file names it from its own folder; the command line wins", async () => {
  const cwd = await emptyFolder();
  await copyFile(HEIGHTS, join(cwd, "heights.asc"));
  await writeFile(
    join(cwd, "pegline.json"),
    JSON.stringify({
      inputs: [GARDEN],
      terrain: { file: "heights.asc", crs: "EPSG:32626", height_unit: "ft" },
    }),
  );
  const inFeet = (await pegline(["plan", "pegline.json", "--json"], { cwd })).json();
  const line = ["plan", "pegline.json", "--terrain", HEIGHTS, "--json"];
  const inMetres = (await pegline(line, { cwd })).json();
  const rise = ({ terrain }: typeof inFeet) => terrain.wire_highest_m - terrain.wire_lowest_m;
  expect(rise(inFeet)).toBeCloseTo(0.3048 * rise(inMetres), 2);
  expect(inMetres.findings.map((one: { code: string }) => one.code)).toContain(
    "SITE_FILE_OVERRIDDEN",
  );
});

it("refuses a raster that is not there or does not say where it is", async () => {
  const cwd = await emptyFolder();
  await copyFile(HEIGHTS, join(cwd, "bare.asc"));
  const code = async (raster: string) =>
    (await pegline(["plan", GARDEN, "--terrain", raster, "--json"], { cwd })).json().error.code;
  expect(await code("gone.tif")).toBe("INPUT_NOT_FOUND");
  expect(await code("bare.asc")).toBe("CRS_MISSING");
});
