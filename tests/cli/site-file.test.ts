import { copyFile, mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { siteGridAt } from "../../src/crs/site-grid.ts";
import { demo, emptyFolder, pegline } from "./run.ts";

// biome-ignore lint/suspicious/noExplicitAny: tests look into whatever was printed
type Json = any;

const grid = siteGridAt([10, 50]);
/** A rectangle of metres as a GeoJSON feature in degrees. */
function rect(properties: object, e: number, n: number, width: number, height = width) {
  const corners = [
    [e, n],
    [e + width, n],
    [e + width, n + height],
    [e, n + height],
    [e, n],
  ] as const;
  const ring = corners.map((corner) => [...grid.inverse(corner)]);
  return {
    type: "Feature",
    properties,
    geometry: { type: "Polygon", coordinates: [ring] },
  };
}
const collection = (...features: object[]) =>
  JSON.stringify({ type: "FeatureCollection", features });

/** Three lawns, a terrace along the first, a bed in the second. */
const TOWN = collection(
  rect({ name: "Front", role: "lawn", kept: "yes" }, 0, 0, 20),
  rect({ name: "Back", role: "lawn", kept: "no" }, 50, 0, 30),
  rect({ name: "Far", role: "lawn", kept: "yes" }, 200, 0, 40),
  rect({ name: "Terrace", kind: "patio" }, 0, 20, 20, 3),
  rect({ name: "Roses", role: "bed" }, 60, 10, 4),
);

let cwd: string;
beforeEach(async () => {
  cwd = await emptyFolder();
  await mkdir(join(cwd, "survey"));
  await writeFile(join(cwd, "survey/town.geojson"), TOWN);
});

async function site(file: object | string, name = "pegline.json"): Promise<void> {
  await writeFile(join(cwd, name), typeof file === "string" ? file : JSON.stringify(file));
}
const plan = async (...args: string[]) => pegline(["plan", ...args, "--json"], { cwd });
const codesOf = (json: Json): string[] => json.findings.map((one: Json) => one.code);
const wireOf = (json: Json): number[] => json.loops.map((loop: Json) => loop.length_m);

describe("a site file", () => {
  it("plans from its own folder: inputs and results relative to it", async () => {
    await mkdir(join(cwd, "site"));
    await site(
      '{ // the town\n "name": "Town", "inputs": ["../survey/town.geojson"], "out": "plan", }',
      "site/pegline.json",
    );
    const ran = await plan("site/pegline.json");
    expect(ran.code).toBe(0);
    expect(ran.json().site.name).toBe("Town");
    expect(ran.json().loops).toHaveLength(3);
    expect(await readdir(join(cwd, "site"))).toEqual(["pegline.json", "plan"]);
  });

  it("says what may stand on the command line; --site and the file by itself are the same", async () => {
    await site({
      inputs: ["survey/town.geojson"],
      profile: "small",
      roles: [{ field: "kind", is: "Patio", role: "paving", set: { edge: "flush" } }],
    });
    const alone = await plan("pegline.json", "--out", "a");
    const named = await plan("--site", "pegline.json", "--out", "b");
    expect(alone.json()).toEqual(named.json());
    expect(alone.json().profile).toBe("small");
  });

  it("is beaten by the command line, and that is said", async () => {
    await site({
      inputs: ["survey/none.geojson"],
      profile: "small",
      lawns: ["Far"],
      out: "there",
    });
    const ran = await plan(
      ...["survey/town.geojson", "--site", "pegline.json", "--profile", "large"],
      ...["--lawn", "back", "--out", "here"],
    );
    expect(ran.code).toBe(0);
    expect(ran.json().profile).toBe("large");
    expect(ran.json().site.area_m2).toBeCloseTo(900 - 16, 1);
    expect(await readdir(cwd)).toEqual(["here", "pegline.json", "survey"]);
    const said = ran.json().findings.find((one: Json) => one.code === "SITE_FILE_OVERRIDDEN");
    for (const word of ["the inputs named", "--profile", "--lawn", "--out"])
      expect(said.message).toContain(word);
  });

  it("may ask for JSON and for quiet, on failure too", async () => {
    await site({ inputs: ["survey/town.geojson"], json: true, quiet: true });
    const ran = await pegline(["plan", "pegline.json"], { cwd });
    expect(ran.json().tool).toBe("pegline");
    expect(ran.stderr).toBe("");
    await site({ inputs: ["survey/none.geojson"], json: true });
    const failed = await pegline(["plan", "pegline.json"], { cwd });
    expect(failed.code).toBe(3);
    expect(failed.json().error.code).toBe("INPUT_NOT_FOUND");
  });

  it("holds values over a built-in profile, without a finding for what it leaves", async () => {
    await site({
      inputs: ["survey/town.geojson"],
      lawns: ["Front"],
      profile: { based_on: "small", setin_m: { open: 0.5 } },
    });
    const ran = await plan("pegline.json");
    expect(ran.json().profile_values.setin_m).toMatchObject({ open: 0.5 });
    expect(codesOf(ran.json())).not.toContain("PROFILE_FILLED");
    // A square of 20 m set in by 0.5 m all round.
    expect(wireOf(ran.json())[0]).toBeCloseTo(4 * 19, 1);
  });

  it("gives each input its own system, in place of what it states", async () => {
    const shapes = ["areas", "lines", "points"].map((name) => `${name}.shp`);
    for (const name of ["areas", "lines", "points"])
      for (const part of ["shp", "dbf"])
        await copyFile(demo(`shapefile/${name}.${part}`), join(cwd, `${name}.${part}`));
    const expected = await pegline(["plan", demo("house-garden.geojson"), "--json"], { cwd });
    await site({ inputs: shapes.map((file) => ({ file, crs: "EPSG:32626" })), out: "shapes" });
    const ran = await plan("pegline.json");
    expect(ran.code).toBe(0);
    wireOf(ran.json()).forEach((length, i) => {
      expect(Math.abs(length - wireOf(expected.json())[i]!)).toBeLessThan(0.005);
    });
  });
});

describe("lawns", () => {
  const at = (e: number, n: number) => [...grid.inverse([e, n])];
  const outline = {
    type: "Polygon",
    coordinates: [[at(-5, -5), at(85, -5), at(85, 40), at(-5, -5)]],
  };
  it.each([
    ["all", "all", [400, 884, 1600]],
    ["by name", ["front", "Far"], [400, 1600]],
    ["by number", ["#2"], [884]],
    ["by attribute", { field: "kept", is: "yes" }, [400, 1600]],
    ["by least area", { least_area_m2: 900 }, [884, 1600]],
    ["inside an outline", { inside: outline }, [884]],
    ["nearest to a place", { nearest: { at: at(30, 5) } }, [400]],
    ["by all of it", { field: "kept", is: "yes", nearest: { at: at(300, 5), count: 1 } }, [1600]],
  ])("%s", async (_, lawns, areas) => {
    await site({
      inputs: ["survey/town.geojson"],
      roles: [{ field: "kind", role: "paving" }],
      lawns,
    });
    const ran = await plan("pegline.json");
    expect(ran.code).toBe(0);
    const total = areas.reduce((sum, area) => sum + area, 0);
    expect(ran.json().site.area_m2).toBeCloseTo(total, 1);
    expect(ran.json().loops).toHaveLength(areas.length);
    const left = ran.json().findings.find((one: Json) => one.code === "LAWNS_LEFT_OUT");
    if (areas.length === 3) expect(left).toBeUndefined();
    else expect(left.message).toContain(`${areas.length} of 3 lawns planned`);
  });

  it("inside a named layer, which is no part of the site itself", async () => {
    await writeFile(join(cwd, "order.geojson"), collection(rect({}, 40, -10, 50)));
    await site({ inputs: ["survey/town.geojson", "order.geojson"], lawns: { inside: "order" } });
    const ran = await plan("pegline.json");
    expect(ran.json().site.area_m2).toBeCloseTo(884, 1);
  });

  it("of which none fits are refused with the nearest name", async () => {
    const ran = await plan("survey/town.geojson", "--lawn", "Fromt");
    expect(ran.code).toBe(2);
    expect(ran.json().error).toMatchObject({ code: "LAWNS_NONE_CHOSEN" });
    expect(ran.json().error.remedy).toContain("Did you mean Front?");
    await site({ inputs: ["survey/town.geojson"], lawns: { inside: "ordre" } });
    expect((await plan("pegline.json")).json().error.code).toBe("OUTLINE_LAYER_MISSING");
  });
});

describe("rules", () => {
  const base = { inputs: ["survey/town.geojson"], lawns: ["Front"] };
  const wire = async (more: object): Promise<number> => {
    await site({ ...base, ...more });
    const ran = await plan("pegline.json");
    expect(ran.code).toBe(0);
    return wireOf(ran.json())[0]!;
  };

  // Front is 20 m square, with the terrace along its north edge; set-ins 0.30 m open, 0.10 m flush.
  it("edges: beside a role, along a line, along a layer", async () => {
    const open = 4 * 19.4;
    expect(await wire({})).toBeCloseTo(open, 1);
    expect(await wire({ edges: [{ beside: "paving", edge: "flush" }] })).toBeCloseTo(open + 0.4, 1);
    const south = [0, 20].map((e) => [...grid.inverse([e, 0])]);
    const drop = { edges: [{ line: south, edge: "drop" }] };
    expect(await wire(drop)).toBeCloseTo(open - 1.4, 1);
    const deep = { edges: [{ line: south, edge: "drop", setin_m: 2 }] };
    expect(await wire(deep)).toBeCloseTo(open - 3.4, 1);
    const kerbs = {
      type: "Feature",
      properties: {},
      geometry: { type: "LineString", coordinates: south },
    };
    await writeFile(join(cwd, "kerbs.geojson"), collection(kerbs));
    const inputs = ["survey/town.geojson", "kerbs.geojson"];
    const layer = { inputs, edges: [{ layer: "kerb*", edge: "drop" }] };
    expect(await wire(layer)).toBeCloseTo(open - 1.4, 1);
  });

  it("set-ins: by edge kind, by role, by name, the name first", async () => {
    expect(await wire({ setin_m: { edges: { open: 0.5 } } })).toBeCloseTo(4 * 19, 1);
    expect(await wire({ setin_m: { things: { Terrace: 1.3 } } })).toBeCloseTo(4 * 19.4 - 2, 1);
    const both = { setin_m: { things: { terrace: 1.3 }, roles: { paving: 0.8 } } };
    expect(await wire(both)).toBeCloseTo(4 * 19.4 - 2, 1);
    await site({ ...base, setin_m: { things: { Terase: 1 } } });
    const found = (await plan("pegline.json")).json().findings;
    const unused = found.find((one: Json) => one.code === "SETIN_NAME_UNUSED");
    expect(unused.remedy).toBe('Did you mean "Terrace"?');
  });

  it("roles: the first that fits decides; one that fits nothing is told", async () => {
    const roles = [
      { geometry: "area", field: "name", is: "Terrace", role: "lawn" },
      { layer: "town", field: "kind", role: "paving" },
      { layer: "nowhere", role: "bed" },
    ];
    await site({ ...base, roles });
    const ran = await plan("pegline.json");
    expect(ran.json().site.area_m2).toBeCloseTo(460, 1);
    const unused = ran.json().findings.filter((one: Json) => one.code === "ROLE_RULE_UNUSED");
    const said = unused.map((one: Json) => one.message).join();
    expect(said).toContain('layer "nowhere" → bed');
    expect(said).toContain("kind given → paving");
  });

  it("lawn may be given up for wire, at the rate they say", async () => {
    const beds = [rect({ role: "bed" }, 5, 8, 3), rect({ role: "bed" }, 10.5, 8, 3)];
    await writeFile(
      join(cwd, "beds.geojson"),
      collection(rect({ role: "lawn" }, 0, 0, 20), ...beds),
    );
    const loops: number[] = [];
    for (const rate of [0, 50]) {
      await site({ inputs: ["beds.geojson"], lawn_per_wire_m2: rate });
      const ran = await plan("pegline.json");
      expect(ran.code).toBe(0);
      loops.push(ran.json().loops[0].exclusion_loops);
    }
    // Together, at the higher rate: in one loop, or as part of the edge.
    expect(loops[0]).toBe(2);
    expect(loops[1]).toBeLessThan(2);
  });

  it("the station stands where they say, in degrees or in a grid", async () => {
    const [lon, lat] = grid.inverse([10, 0.3]);
    for (const station of [{ at: [lon, lat] }, { at: [10, 0.3], crs: grid.projString }]) {
      await site({ ...base, station, out: "plan" });
      expect((await plan("pegline.json")).code).toBe(0);
      const text = await readFile(join(cwd, "plan/plan.geojson"), "utf8");
      const found = JSON.parse(text).features.find(
        (one: Json) => one.properties.kind === "station",
      );
      expect(found.properties.given).toBe(true);
      const [e, n] = grid.forward(found.geometry.coordinates);
      expect(Math.hypot(e - 10, n - 0.3)).toBeLessThan(0.01);
    }
    await site({ ...base, station: { at: [1, 2], crs: "EPSG:999999" } });
    expect((await plan("pegline.json")).json().error.code).toBe("SPOT_NOT_PLACED");
  });

  it("prices give a total in the summary, for people too", async () => {
    const items = [
      { name: "Wire", per: "wire_m", unit_price: 0.5 },
      { name: "Station", per: "station", unit_price: 100 },
    ];
    await site({ ...base, prices: { currency: "EUR", tax_rate: 0.2, items }, out: "plan" });
    const summary = (await plan("pegline.json")).json();
    const { prices, totals } = summary;
    const wireCost = Math.round(totals.wire_to_buy_m * 50) / 100;
    expect(prices.net).toBeCloseTo(wireCost + 100, 6);
    expect(prices.total).toBeCloseTo(prices.net * 1.2, 2);
    const text = await pegline(["plan", "pegline.json"], { cwd });
    expect(text.stdout).toContain("Price in EUR");
    expect(text.stdout).toMatch(new RegExp(`total +${prices.total.toFixed(2)}`));
  });
});

describe("survey points", () => {
  it("are read by the code words and the chord tolerance of the site file", async () => {
    // A half disc of radius 10 m on a rectangle of 20 m × 10 m; the words are this crew's own.
    const rows = [
      ["LAWN NEW", 0, 0],
      ["LAWN", 20, 0],
      ["LAWN BOW", 20, 10],
      ["LAWN", 10, 20],
      ["LAWN UNBOW", 0, 10],
      ["LAWN SHUT", 0, 5],
    ].map(([code, e, n], i) => `${i + 1},${500_000 + Number(e)},${5_500_000 + Number(n)},${code}`);
    await writeFile(join(cwd, "points.csv"), ["number,easting,northing,code", ...rows].join("\n"));
    await site({
      inputs: [{ file: "points.csv", crs: "EPSG:32632" }],
      survey_codes: { start: ["new"], close: ["SHUT"], arc_start: ["BOW"], arc_end: ["UNBOW"] },
      repair: { chord_tolerance_m: 0.02 },
    });
    const ran = await plan("pegline.json");
    expect(ran.code).toBe(0);
    const chords = ran.json().findings.find((one: Json) => one.code === "CURVES_AS_CHORDS");
    expect(chords.message).toContain("20 mm");
    // UTM's scale on its central meridian is 0.9996: a grid metre is 1/0.9996 m.
    const area = (200 + 50 * Math.PI) / 0.9996 ** 2;
    const found = ran.json().site.area_m2;
    // Chords of 20 mm sagitta take at most two thirds of it along the arc.
    expect(found).toBeLessThan(area);
    expect(found).toBeGreaterThan(area - (2 / 3) * 0.02 * Math.PI * 10 - 0.01);
    expect(found).toBeLessThan(area - 0.05);
  });
});

describe("a site file that is wrong exits 2 with line and path, and writes nothing", () => {
  it.each([
    ["a wrong key", '{\n"inputs": ["a.geojson"],\n"lawn": "all"\n}', "SITE_FILE_INVALID", 3],
    ["broken JSON", '{\n"inputs": ["a.geojson"\n', "SITE_FILE_BROKEN", 3],
    ["no inputs", "{}", "INPUT_MISSING", undefined],
  ])("%s", async (_, text, code, line) => {
    await site(text);
    const ran = await plan("pegline.json");
    expect(ran.code).toBe(2);
    expect(ran.json().error).toMatchObject({ code, file: "pegline.json" });
    expect(ran.json().error.line).toBe(line);
    if (line) expect(ran.stderr).toContain(`pegline.json:${line}`);
    expect(await readdir(cwd)).toEqual(["pegline.json", "survey"]);
  });

  it("and so does a survey given in its place", async () => {
    const small = await plan("--site", "survey/town.geojson");
    expect(small.code).toBe(2);
    expect(small.json().error).toMatchObject({ code: "SITE_FILE_INVALID", path: "type" });
    await writeFile(join(cwd, "large.geojson"), TOWN + " ".repeat(1_100_000));
    const large = await plan("--site", "large.geojson");
    expect(large.json().error.code).toBe("SITE_FILE_TOO_LARGE");
  });

  it("and so do two of them, a folder, and one that is not there", async () => {
    expect((await plan("--site", "survey")).json().error.code).toBe("SITE_FILE_NOT_FOUND");
    await site({ inputs: ["survey/town.geojson"] });
    await site({ inputs: ["survey/town.geojson"] }, "other.json");
    expect((await plan("pegline.json", "other.json")).json().error.code).toBe("SITE_FILE_TWICE");
    const absent = await plan("--site", "none.json");
    expect(absent.code).toBe(2);
    expect(absent.json().error.code).toBe("SITE_FILE_NOT_FOUND");
  });
});

describe("pegline inspect", () => {
  it("takes a site file too, and says of each layer what gave its role", async () => {
    await site({ inputs: ["survey/town.geojson"], roles: [{ layer: "town", role: "lawn" }] });
    const ran = await pegline(["inspect", "pegline.json", "--json"], { cwd });
    expect(ran.code).toBe(0);
    const [layer] = ran.json().inputs[0].layers;
    expect(layer).toMatchObject({ role: "lawn", roles: { lawn: 5 } });
    expect(layer.role_from).toBe('a rule layer "town" → lawn');
    expect(layer.extent_m[0]).toBeCloseTo(240, 0);
    const text = await pegline(["inspect", "survey/town.geojson"], { cwd });
    expect(text.stdout).toContain("by the attribute role=lawn (3)");
    expect(text.stdout).toContain("extent: 240.0 m × 40.0 m");
  });
});

describe("pegline init", () => {
  it("writes a site file that plans as the inputs do without it", async () => {
    for (const input of ["house-garden.geojson", "house-garden.kml"]) {
      await copyFile(demo(input), join(cwd, input));
      const direct = await plan(input, "--out", "direct");
      const made = await pegline(["init", input, "--out", `${input}.json`], { cwd });
      expect(made.code).toBe(0);
      expect(made.stdout).toContain(`Wrote ${input}.json`);
      const ran = await plan(`${input}.json`, "--out", "ruled");
      expect(ran.code).toBe(0);
      expect(wireOf(ran.json())).toEqual(wireOf(direct.json()));
      expect(ran.json().totals).toEqual(direct.json().totals);
    }
  });

  it("says of each layer counts, role and why, and gives a rule to edit", async () => {
    await copyFile(demo("house-garden.kml"), join(cwd, "garden.kml"));
    const ran = await pegline(["init", "garden.kml", "--json"], { cwd });
    expect(ran.json()).toMatchObject({ tool: "pegline", file: "pegline.json", layers: 8 });
    const text = await readFile(join(cwd, "pegline.json"), "utf8");
    expect(text).toContain('"inputs": [\n    "garden.kml", // kml, 8 layers');
    expect(text).toContain('// "garden.kml", layer "bed": 3 features (3 Polygon)');
    expect(text).toContain("//   is 3 bed, by the layer name");
    expect(text).toContain('\n    { "layer": "bed", "role": "bed" },\n');
  });

  it("never overwrites without --force, and leaves nothing half-written", async () => {
    await writeFile(join(cwd, "pegline.json"), "mine");
    const ran = await pegline(["init", "survey/town.geojson", "--json"], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.json().error).toMatchObject({ code: "INIT_FILE_EXISTS", file: "pegline.json" });
    expect(await readFile(join(cwd, "pegline.json"), "utf8")).toBe("mine");
    const forced = await pegline(["init", "survey/town.geojson", "--force"], { cwd });
    expect(forced.code).toBe(0);
    expect(await readFile(join(cwd, "pegline.json"), "utf8")).toContain("survey/town.geojson");
    const nowhere = ["init", "survey/town.geojson", "--out", "no/such/folder.json", "--json"];
    expect((await pegline(nowhere, { cwd })).json().error.code).toBe("INIT_NOT_WRITABLE");
    expect((await readdir(cwd)).sort()).toEqual(["pegline.json", "survey"]);
  });

  it("is refused for a site file, and writes one where the system is not known (exit 1)", async () => {
    await site({ inputs: ["survey/town.geojson"] });
    const again = await pegline(["init", "pegline.json", "--out", "b.json", "--json"], { cwd });
    expect(again.json().error.code).toBe("INIT_FROM_SITE_FILE");
    for (const part of ["shp", "dbf"])
      await copyFile(demo(`shapefile/areas.${part}`), join(cwd, `areas.${part}`));
    const ran = await pegline(["init", "areas.shp", "--out", "c.json"], { cwd });
    expect(ran.code).toBe(1);
    expect(ran.stderr).toContain("CRS_MISSING");
    expect(await readFile(join(cwd, "c.json"), "utf8")).toContain('//   "areas.shp": not known');
  });
});
