import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { RESULT_FILES } from "./lawn.ts";
import { demo, emptyFolder, pegline } from "./run.ts";

const GARDEN = demo("house-garden.geojson");

describe("pegline plan --format", () => {
  it("writes the formats beside the plan, says what they cannot hold, and is replaced whole", async () => {
    const cwd = await emptyFolder();
    const args = ["plan", GARDEN, "--out", "r", "--json"];
    const ran = await pegline([...args, "--format", "gpkg,GPX", "--format", "dxf"], { cwd });
    expect(ran.code).toBe(0);
    expect((await readdir(join(cwd, "r"))).sort()).toEqual(
      [...RESULT_FILES, "plan.dxf", "plan.gpkg", "plan.gpx"].sort(),
    );
    const losses = ran
      .json()
      .findings.filter((one: { code: string }) => one.code === "FORMAT_CANNOT_HOLD");
    expect(losses.map((one: { file: string }) => one.file)).toEqual(["plan.gpx", "plan.dxf"]);
    expect(JSON.parse(await readFile(join(cwd, "r/summary.json"), "utf8"))).toEqual(ran.json());
    const plain = await pegline(args, { cwd });
    expect(plain.code).toBe(0);
    expect((await readdir(join(cwd, "r"))).sort()).toEqual(RESULT_FILES);
  });

  it.each([
    [["--format", "gpkgs"], "FORMAT_OPTION_INVALID", /gpkg/],
    [["--format", ","], "FORMAT_OPTION_INVALID", /names no format/],
    [["--out-crs", "EPSG:32626"], "OUT_CRS_WITHOUT_FORMAT", /--format/],
    [["--format", "gpkg", "--out-crs", "somewhere"], "OUT_CRS_UNKNOWN", /EPSG:27700/],
    [["--format", "gpkg", "--out-crs", "EPSG:999999"], "OUT_CRS_UNKNOWN", /EPSG:999999/],
    [["--format", "csv", "--out-crs", "+proj=moll +ellps=WGS84"], "OUT_CRS_NO_WKT", /WKT/],
  ])("refuses %j", async (args, code, words) => {
    const cwd = await emptyFolder();
    const ran = await pegline(["plan", GARDEN, "--json", ...args], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.json().error.code).toBe(code);
    expect(ran.json().error.message + ran.json().error.remedy).toMatch(words);
    expect(await readdir(cwd)).toEqual([]);
  });
});

describe("pegline convert", () => {
  it("goes from the plan to every format and back to the same plan; check takes each", async () => {
    const cwd = await emptyFolder();
    expect((await pegline(["plan", GARDEN, "--out", "garden", "--quiet"], { cwd })).code).toBe(0);
    const text = await readFile(join(cwd, "garden/plan.geojson"), "utf8");
    const features = JSON.parse(text).features.length;
    const to = ["--format", "gpkg,csv", "--out-crs", "EPSG:32626", "--out", "g"];
    const first = await pegline(["convert", "garden", ...to, "--json"], { cwd });
    expect(first.code).toBe(0);
    expect(first.json().formats).toMatchObject([
      { format: "gpkg", files: ["plan.gpkg"], features, cannot_hold: [] },
      { format: "csv", files: ["plan.csv", "plan.csvt", "plan.prj"], features },
    ]);
    expect(first.json().formats[0].crs).toContain("UTM zone 26N");
    const back = await pegline(["convert", "g/plan.gpkg", "--format", "geojson"], { cwd });
    expect(back.code).toBe(0);
    const lines = async (path: string) =>
      (await readFile(join(cwd, path), "utf8")).split("\n").sort();
    expect(await lines("g-formats/plan.geojson")).toEqual(await lines("garden/plan.geojson"));
    const check = await pegline(["check", "g/plan.csv", GARDEN, "--json"], { cwd });
    expect(check.json().verdict).toBe("holds");
    // The same folder again: an earlier conversion is ours to replace, other things are not.
    expect((await pegline(["convert", "garden", ...to], { cwd })).code).toBe(0);
    await writeFile(join(cwd, "g", "notes.txt"), "mine");
    const refused = await pegline(["convert", "garden", ...to, "--json"], { cwd });
    expect(refused.json().error.code).toBe("OUT_NOT_OURS");
  });

  it("keeps the system that the plan says, whatever --crs says of the site", async () => {
    const cwd = await emptyFolder();
    const files = (await readdir(demo("shapefile"))).filter((name) => name.endsWith(".shp"));
    expect(files.length).toBeGreaterThan(0);
    const inputs = files.map((name) => demo(`shapefile/${name}`));
    const plan = await pegline(["plan", ...inputs, "--out", "r", "--format", "gpkg", "--quiet"], {
      cwd,
    });
    expect(plan.code).toBeLessThan(2);
    const check = await pegline(
      ["check", "r/plan.gpkg", ...inputs, "--crs", "EPSG:32626", "--json"],
      { cwd },
    );
    expect(check.json().verdict).toBe("holds");
  });

  it.each([
    [["convert"], "INPUT_MISSING"],
    [["convert", GARDEN], "FORMAT_MISSING"],
  ])("%j is wrong use", async (args, code) => {
    const ran = await pegline([...args, "--json"], { cwd: await emptyFolder() });
    expect(ran.code).toBe(2);
    expect(ran.json().error.code).toBe(code);
  });

  it("a file that is no plan is refused", async () => {
    const cwd = await emptyFolder();
    const ran = await pegline(["convert", GARDEN, "--format", "kml", "--json"], { cwd });
    expect(ran.code).toBe(3);
    expect(ran.json().error.code).toBe("PLAN_NOT_OURS");
    expect(await readdir(cwd)).toEqual([]);
  });
});
