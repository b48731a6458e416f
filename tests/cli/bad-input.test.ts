import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demo, emptyFolder, pegline } from "./run.ts";

const collection = (geometry: unknown) =>
  JSON.stringify({
    type: "FeatureCollection",
    features: [{ type: "Feature", properties: { role: "lawn" }, geometry }],
  });
const square = (side: number) => ({
  type: "Polygon",
  coordinates: [
    [
      [-28.5, 47.25],
      [-28.5 + side, 47.25],
      [-28.5 + side, 47.25 + side],
      [-28.5, 47.25 + side],
      [-28.5, 47.25],
    ],
  ],
});

const CASES: { what: string; name: string; text: string | undefined }[] = [
  { what: "a missing file", name: "nowhere.geojson", text: undefined },
  { what: "an empty file", name: "empty.geojson", text: "" },
  { what: "no JSON", name: "text.geojson", text: "lawn, bed, water" },
  {
    what: "a web page",
    name: "page.geojson",
    text: "<!doctype html><html><body>Sign in</body></html>",
  },
  {
    what: "KML without placemarks",
    name: "none.kml",
    text: '<kml xmlns="http://www.opengis.net/kml/2.2"><Document/></kml>',
  },
  {
    what: "points only",
    name: "points.geojson",
    text: collection({ type: "Point", coordinates: [-28.5, 47.25] }),
  },
  {
    what: "a lawn smaller than the set-in",
    name: "tiny.geojson",
    text: collection(square(0.000002)),
  },
  {
    what: "coordinates that cannot be degrees",
    name: "metres.geojson",
    text: collection({
      type: "Polygon",
      coordinates: [
        [
          [386504, 5234043],
          [386524, 5234043],
          [386524, 5234063],
          [386504, 5234043],
        ],
      ],
    }),
  },
  { what: "an unknown format", name: "notes.xyz", text: "1 2 3" },
  {
    what: "a lawn as large as a country",
    name: "country.geojson",
    text: collection(square(3)),
  },
];

describe("bad input", () => {
  it.each(CASES)(
    "$what: exit 3, one coded message with file and remedy, no output",
    async ({ name, text }) => {
      const cwd = await emptyFolder();
      if (text !== undefined) await writeFile(join(cwd, name), text);
      const before = await readdir(cwd);
      const ran = await pegline(["plan", name, "--out", "out", "--json"], { cwd });
      expect(ran.code).toBe(3);
      const { error } = ran.json();
      expect(error.code).toMatch(/^[A-Z]+(_[A-Z0-9]+)*$/);
      expect(error.message.length).toBeGreaterThan(10);
      expect(error.remedy.length).toBeGreaterThan(10);
      expect(ran.stderr).toContain(error.code);
      expect(ran.stderr).not.toMatch(/^\s+at /m);
      expect(await readdir(cwd)).toEqual(before);
    },
  );

  it("a folder as input: INPUT_IS_DIRECTORY", async () => {
    const cwd = await emptyFolder();
    await mkdir(join(cwd, "garden"));
    const ran = await pegline(["plan", "garden", "--json"], { cwd });
    expect(ran.code).toBe(3);
    expect(ran.json().error).toMatchObject({ code: "INPUT_IS_DIRECTORY", file: "garden" });
  });

  it("a truncated .shp and a lone .dbf: exit 3", async () => {
    const cwd = await emptyFolder();
    const shp = await readFile(demo("shapefile/areas.shp"));
    await writeFile(join(cwd, "cut.shp"), shp.subarray(0, 60));
    await writeFile(join(cwd, "lone.dbf"), await readFile(demo("shapefile/areas.dbf")));
    for (const name of ["cut.shp", "lone.dbf"]) {
      const ran = await pegline(["plan", name, "--json", "--crs", "EPSG:32626"], { cwd });
      expect(ran.code).toBe(3);
      expect(ran.json().error.file).toBe(name);
    }
  });

  it("a .shp without .prj asks for --crs, which then works", async () => {
    const cwd = await emptyFolder();
    for (const part of ["shp", "dbf"])
      await writeFile(join(cwd, `areas.${part}`), await readFile(demo(`shapefile/areas.${part}`)));
    const without = await pegline(["plan", "areas.shp", "--json"], { cwd });
    expect(without.code).toBe(3);
    expect(without.json().error.remedy).toContain("--crs");
    const looked = await pegline(["inspect", "areas.shp", "--json"], { cwd });
    expect(looked.code).toBe(1);
    expect(looked.json()).toMatchObject({
      inputs: [{ layers: [{ crs: null, crs_from: null, features: 8 }] }],
      extent_m: null,
    });
    const given = await pegline(["plan", "areas.shp", "--crs", "EPSG:32626", "--json"], { cwd });
    expect(given.code).toBe(0);
  });
});

describe("a fault of ours", () => {
  it("exits 4 without a stack, which PEGLINE_DEBUG=1 shows", async () => {
    // Numbers that will not be taken stand for any fault: a preloaded module takes them away.
    const refuse = `data:text/javascript,${encodeURIComponent(
      'Float64Array.from = () => { throw new Error("numbers gone"); };',
    )}`;
    const env = { NODE_OPTIONS: `--import=${refuse}` };
    const args = ["plan", demo("house-garden.geojson"), "--json"];
    const cwd = await emptyFolder();
    const ran = await pegline(args, { cwd, env });
    expect(ran.code).toBe(4);
    expect(ran.json().error.code).toBe("INTERNAL_FAULT");
    expect(ran.stderr).not.toMatch(/^\s+at /m);
    const debug = await pegline(args, { cwd, env: { ...env, PEGLINE_DEBUG: "1" } });
    expect(debug.stderr).toMatch(/^\s+at /m);
    expect(await readdir(cwd)).toEqual([]);
  });
});
