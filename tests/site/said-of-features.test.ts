/** What a site file says of single features gives the plan of inputs in which the same is drawn. */
import type { Feature, Geometry, Position } from "geojson";
import { describe, expect, it } from "vitest";
import { siteGridAt } from "../../src/crs/site-grid.ts";
import type { PlanResult } from "../../src/export/plan-result.ts";
import { inspectInputs, planInputs } from "../../src/jobs/pegline.ts";
import type { InputFile } from "../../src/model/features.ts";
import { readSiteFile } from "../../src/sitefile/read-site-file.ts";
import { optionsOfSiteFile } from "../../src/sitefile/site-options.ts";

const metres = siteGridAt([10, 50]);
const at = (e: number, n: number): Position => [...metres.inverse([e, n])];
const ring = (e: number, n: number, width: number, height = width) =>
  [
    [e, n],
    [e + width, n],
    [e + width, n + height],
    [e, n + height],
    [e, n],
  ].map(([x, y]) => at(x!, y!));
const rect = (...args: Parameters<typeof ring>): Geometry => ({
  type: "Polygon",
  coordinates: [ring(...args)],
});
const feature = (properties: object, geometry: Geometry, id?: string): Feature =>
  ({ type: "Feature", ...(id && { id }), properties, geometry }) as Feature;

function file(name: string, ...features: Feature[]): InputFile {
  const text = JSON.stringify({ type: "FeatureCollection", features });
  return { name, bytes: new TextEncoder().encode(text) };
}

const LAWN = feature({ role: "lawn", name: "Lawn" }, rect(0, 0, 30, 20));
const BED = (e = 8, n = 8) => feature({ role: "bed", name: "Bed" }, rect(e, n, 3), "b7");
const OAK = (more = {}) =>
  feature(
    { role: "tree", name: "Oak", diameter_m: 0.6, ...more },
    { type: "Point", coordinates: at(20, 10) },
  );

async function planned(inputs: InputFile[], siteFile: object = {}): Promise<PlanResult> {
  const read = readSiteFile(JSON.stringify(siteFile), "pegline.json");
  if (!read.ok) throw new Error(read.problem.message);
  const { rules } = optionsOfSiteFile(read.value, "pegline.json");
  const outcome = await planInputs(inputs, { rules });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.value;
}

const codes = (result: PlanResult) => result.findings.map((one) => one.code);
/** Wires in millimetres, so that plans from numbers of other origin compare. */
const wires = ({ plan }: PlanResult) =>
  plan.loops.map((loop) => [...loop.wire].map((x) => Math.round(1000 * x)));
const islands = ({ plan }: PlanResult) => plan.loops.flatMap((loop) => loop.exclusionLoops.length);

function sameWire(a: PlanResult, b: PlanResult) {
  const [x, y] = [wires(a).flat(), wires(b).flat()];
  expect(x).toHaveLength(y.length);
  expect(Math.max(...x.map((one, i) => Math.abs(one - y[i]!)))).toBeLessThanOrEqual(1);
}

const GARDEN = [file("garden.geojson", LAWN, BED(), OAK())];

describe("a feature that the site file speaks of", () => {
  it("moved is as if it were drawn there, and that is told", async () => {
    const moved = await planned(GARDEN, { features: [{ id: "b7", move_m: [4, -2.5] }] });
    const drawn = await planned([file("garden.geojson", LAWN, BED(12, 5.5), OAK())]);
    sameWire(moved, drawn);
    expect(moved.findings.find((one) => one.code === "FEATURES_CHANGED")?.message).toContain(
      "1 moved",
    );
    expect(codes(drawn)).not.toContain("FEATURES_CHANGED");
  });

  it("taken out is as if it were not there", async () => {
    const without = await planned(GARDEN, { features: [{ number: 2, remove: true }] });
    sameWire(without, await planned([file("garden.geojson", LAWN, OAK())]));
    expect(islands(without)).toEqual([0]);
  });

  it("redrawn has its new outline", async () => {
    const redrawn = await planned(GARDEN, {
      features: [{ layer: "garden", number: 2, geometry: rect(5, 5, 6, 2) }],
    });
    const bed = feature({ role: "bed", name: "Bed" }, rect(5, 5, 6, 2));
    sameWire(redrawn, await planned([file("garden.geojson", LAWN, bed, OAK())]));
  });

  it("gets attributes over those of rules, and keeps what the rules give beside", async () => {
    const rules = [{ field: "role", is: "tree", set: { diameter_m: 0.05, height_m: 4 } }];
    const young = await planned(GARDEN, { roles: rules });
    expect(islands(young)).toEqual([2]);
    const firm = await planned(GARDEN, {
      roles: rules,
      features: [{ layer: "garden", number: 3, set: { loop: "no" } }],
    });
    expect(islands(firm)).toEqual([1]);
    expect(firm.site.things.find((one) => one.role === "tree")).toMatchObject({ heightM: 4 });
  });

  it("may have another role, also against --role for its layer", async () => {
    const inputs = [file("lawn.geojson", LAWN), file("things.geojson", BED())];
    const read = readSiteFile('{"features":[{"layer":"things","number":1,"role":"building"}]}', "");
    if (!read.ok) throw new Error(read.problem.message);
    const { rules } = optionsOfSiteFile(read.value, "pegline.json");
    const outcome = await planInputs(inputs, { rules, roles: { things: "water" } });
    if (!outcome.ok) throw new Error(outcome.problem.message);
    expect(outcome.value.site.things.map((one) => one.role)).toEqual(["building"]);
  });

  it("has its own set-in before that of its name, and its edge before beside", async () => {
    const result = await planned(GARDEN, {
      setin_m: { things: { bed: 1.5 } },
      edges: [{ beside: "bed", edge: "wall" }],
      features: [{ number: 2, set: { setin_m: 0.7, edge: "kerb" } }],
    });
    const bed = result.site.things.find((one) => one.role === "bed");
    expect(bed).toMatchObject({ setinM: 0.7, edgeKind: "kerb" });
  });

  it("is found in its own file where two have a layer of one name", async () => {
    const inputs = [
      file("a/garden.geojson", LAWN, BED()),
      file("b/garden.geojson", feature({ role: "bed" }, rect(20, 3, 2)), OAK()),
    ];
    const said = { layer: "garden", number: 1, remove: true };
    const sure = await planned(inputs, { features: [{ ...said, file: "b/garden.geojson" }] });
    expect(islands(sure)).toEqual([1]);
    expect(codes(sure)).not.toContain("FEATURE_RULE_SHARED");
    const doubtful = await planned(inputs, { features: [{ ...said, number: 2 }] });
    expect(codes(doubtful)).toContain("FEATURE_RULE_SHARED");
    expect(doubtful.site.things.map((one) => one.role).sort()).toEqual(["bed", "tree"]);
  });

  it.each([
    [{ number: 9, remove: true }, "numbered up to 3"],
    [{ layer: "gardn", number: 1, remove: true }, 'Did you mean layer "garden"'],
    [{ id: "b8", remove: true }, "numbered up to 3"],
    [{ file: "other.kml", number: 1, remove: true }, "The layers are"],
  ])("that is not there is told: %j", async (rule, remedy) => {
    const result = await planned(GARDEN, { features: [rule] });
    const found = result.findings.find((one) => one.code === "FEATURE_RULE_UNUSED");
    expect(found?.severity).toBe("warning");
    expect(found?.remedy).toContain(remedy);
    sameWire(result, await planned(GARDEN));
  });

  it("changed leaves the site grid and every other number alone", async () => {
    const before = await planned(GARDEN);
    const after = await planned(GARDEN, { features: [{ number: 3, move_m: [40, 40] }] });
    expect(after.plan.grid.origin).toEqual(before.plan.grid.origin);
    expect(after.site.lawns[0]!.area.shell).toEqual(before.site.lawns[0]!.area.shell);
    expect(codes(after)).toContain("THINGS_FAR_AWAY");
  });

  it("a collection of geometries is moved and taken out whole", async () => {
    const geometry: Geometry = {
      type: "GeometryCollection",
      geometries: [rect(5, 5, 2), rect(12, 5, 2)],
    };
    const inputs = [file("g.geojson", LAWN, feature({ role: "bed" }, geometry))];
    expect(islands(await planned(inputs, { features: [{ number: 2, remove: true }] }))).toEqual([
      0,
    ]);
    const moved = await planned(inputs, { features: [{ number: 2, move_m: [0, 4] }] });
    const beds = moved.site.things.filter((one) => one.role === "bed");
    const souths = beds.map(({ areas }) => areas[0]!.shell[1]!);
    const south = moved.site.lawns[0]!.area.shell[1]!;
    expect(souths.map((n) => Math.round(n - south))).toEqual([9, 9]);
    expect(beds).toHaveLength(2);
  });
});

describe("what the site file draws", () => {
  it("is as if an input held it, whatever rules say of features", async () => {
    const drawn = await planned([file("garden.geojson", LAWN, OAK())], {
      roles: [{ geometry: "area", role: "lawn" }],
      things: [
        { role: "bed", name: "Bed", geometry: rect(8, 8, 3) },
        { role: "tree", geometry: { type: "Point", coordinates: at(25, 4) }, set: { loop: "yes" } },
      ],
    });
    const young = feature({ role: "tree", loop: "yes" }, { type: "Point", coordinates: at(25, 4) });
    sameWire(drawn, await planned([file("garden.geojson", LAWN, OAK(), BED(), young)]));
    expect(drawn.site.things.map((one) => one.source)).toContainEqual({
      file: "pegline.json",
      layer: "things",
      feature: "Bed",
      number: 1,
    });
  });

  it("may be more lawn, in any system, and lines and posts", async () => {
    const more = await planned([file("garden.geojson", LAWN)], {
      things: [
        { role: "lawn", geometry: rect(30, 0, 10, 20) },
        {
          role: "paving",
          geometry: { type: "LineString", coordinates: [at(0, 10), at(40, 10)] },
          set: { width_m: 1.5, edge: "flush" },
        },
        { role: "firm", geometry: { type: "Point", coordinates: at(35, 15) } },
      ],
    });
    expect(more.plan.groundM2).toBeGreaterThan(700);
    expect(more.site.things.map((one) => one.contact).sort()).toEqual(["firm", "flush"]);
    const utm = await planned([file("garden.geojson", LAWN)], {
      things: [
        {
          role: "bed",
          crs: `+proj=tmerc +lat_0=50 +lon_0=10 +k=1 +x_0=1000 +y_0=0 +ellps=WGS84 +units=m`,
          geometry: {
            type: "Polygon",
            coordinates: [
              [
                [1008, 8],
                [1011, 8],
                [1011, 11],
                [1008, 11],
                [1008, 8],
              ],
            ],
          },
        },
      ],
    });
    sameWire(utm, await planned([file("garden.geojson", LAWN, BED())]));
  });

  it("shows in the roles of the layers that inspect lists", async () => {
    const read = readSiteFile('{"features":[{"number":2,"role":"water"}]}', "");
    if (!read.ok) throw new Error(read.problem.message);
    const { rules } = optionsOfSiteFile(read.value, "pegline.json");
    const outcome = await inspectInputs(GARDEN, { rules });
    if (!outcome.ok) throw new Error(outcome.problem.message);
    expect(outcome.value.inputs[0]!.layers[0]!.roles).toEqual({ lawn: 1, water: 1, tree: 1 });
  });
});

describe("edge lines of the site file", () => {
  const south = [at(0, 0), at(30, 0)];
  const line = (properties: object) => [
    file("lawn.geojson", LAWN),
    file("edges.geojson", feature(properties, { type: "LineString", coordinates: south })),
  ];
  const setinOf = (result: PlanResult) => {
    const norths = [...result.plan.loops[0]!.wire].filter((_, i) => i % 2 === 1);
    const lawn = [...result.site.lawns[0]!.area.shell].filter((_, i) => i % 2 === 1);
    return Math.min(...norths) - Math.min(...lawn);
  };

  it("beat those of the inputs, and the first of them the others", async () => {
    const inputs = line({ edge: "kerb", setin_m: 0.28 });
    expect(setinOf(await planned(inputs))).toBeCloseTo(0.28, 2);
    const fence = await planned(inputs, { edges: [{ line: south, edge: "fence", setin_m: 0.2 }] });
    expect(setinOf(fence)).toBeCloseTo(0.2, 2);
    const both = await planned(inputs, {
      edges: [
        { line: south, edge: "fence", setin_m: 0.22 },
        { line: south, edge: "hedge", setin_m: 0.3 },
      ],
    });
    expect(setinOf(both)).toBeCloseTo(0.22, 2);
    expect(both.check?.findings ?? []).toEqual([]);
  });

  it("bring the wire no nearer to a drop: that asks for its distance wherever it lies", async () => {
    const inputs = line({ edge: "drop" });
    const open = await planned(inputs, { edges: [{ line: south, edge: "open", setin_m: 0.2 }] });
    expect(setinOf(open)).toBeCloseTo(1, 2);
    const gone = await planned(inputs, { features: [{ layer: "edges", number: 1, remove: true }] });
    expect(setinOf(gone)).toBeCloseTo(0.3, 2);
  });
});

describe("where things come from", () => {
  it("every thing, lawn and station has file, layer and number of its feature", async () => {
    const station = feature({ role: "station" }, { type: "Point", coordinates: at(15, 0.2) });
    const holed = feature(
      { role: "lawn" },
      { type: "Polygon", coordinates: [ring(30, 0, 10, 20), ring(33, 5, 3)] },
    );
    const { site } = await planned([file("garden.geojson", LAWN, BED(), OAK(), station, holed)]);
    const numbers = site.things.map(({ source, isHole }) => [source.number, isHole ?? false]);
    expect(numbers.sort()).toEqual([
      [1, true],
      [2, false],
      [3, false],
    ]);
    expect(site.stations[0]!.source.number).toBe(4);
    expect(site.lawns[0]!.sources?.map((one) => one.number)).toEqual([1, 5]);
  });
});
