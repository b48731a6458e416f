/** What a user says of a site: which lawns, what features are, what the edge is, where runs may lie. */
import type { Feature, Geometry } from "geojson";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { siteGridAt } from "../../src/crs/site-grid.ts";
import { readSite } from "../../src/jobs/pegline.ts";
import type { InputFile } from "../../src/model/features.ts";
import type { SiteRules } from "../../src/model/site-rules.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";

const metres = siteGridAt([10, 50]);
const at = (e: number, n: number): [number, number] => [...metres.inverse([e, n])];
const rect = (e: number, n: number, width: number, height = width): Geometry => ({
  type: "Polygon",
  coordinates: [
    [at(e, n), at(e + width, n), at(e + width, n + height), at(e, n + height), at(e, n)],
  ],
});
const feature = (geometry: Geometry, properties: object = {}, id?: string): Feature =>
  ({ type: "Feature", ...(id && { id }), properties, geometry }) as Feature;
const file = (name: string, ...features: Feature[]): InputFile => ({
  name,
  bytes: new TextEncoder().encode(JSON.stringify({ type: "FeatureCollection", features })),
});

async function read(inputs: InputFile[], rules: SiteRules, more: object = {}) {
  const profile = builtInProfile("small");
  return readSite(inputs, { registry: epsgRegistry, profile, rules, ...more });
}
async function site(inputs: InputFile[], rules: SiteRules, more: object = {}) {
  const outcome = await read(inputs, rules, more);
  if (!outcome.ok) throw new Error(`${outcome.problem.code}: ${outcome.problem.message}`);
  const of = (code: string) => outcome.findings.filter((one) => one.code === code);
  return { ...outcome.value, of };
}
async function refused(inputs: InputFile[], rules: SiteRules, more: object = {}) {
  const outcome = await read(inputs, rules, more);
  if (outcome.ok) throw new Error("was not refused");
  return outcome.problem;
}

/** Three lawns in a row, 20 m apart: 10 × 10, 6 × 6 and 3 × 3 m. */
const LAWNS = [
  file(
    "lawns.geojson",
    feature(rect(0, 0, 10), { role: "lawn", name: "North", kind: "park", fid: 71 }),
    feature(rect(30, 0, 6), { role: "lawn", name: "South", kind: "verge" }, "w5"),
    feature(rect(60, 0, 3), { role: "lawn", name: "Yard" }),
  ),
];
const names = async (lawns: NonNullable<SiteRules["lawns"]>) =>
  (await site(LAWNS, { lawns })).lawns.map(({ name }) => name);

describe("which lawns", () => {
  it("by name, id or number, whatever their capitals", async () => {
    expect(await names({ names: ["north", " YARD "] })).toEqual(["North", "Yard"]);
    expect(await names({ names: ["71"] })).toEqual(["North"]);
    expect(await names({ names: ["w5"] })).toEqual(["South"]);
  });

  it("by an attribute, by area, and by all that is said together", async () => {
    expect(await names({ test: { field: "kind" } })).toEqual(["North", "South"]);
    expect(await names({ test: { field: "Kind", is: ["VERGE"] } })).toEqual(["South"]);
    expect(await names({ leastAreaM2: 36 })).toEqual(["North", "South"]);
    expect(await names({ leastAreaM2: 36.1 })).toEqual(["North"]);
    expect(await names({ leastAreaM2: 20, names: ["South", "Yard"] })).toEqual(["South"]);
  });

  it("by most of it lying inside an outline", async () => {
    const outline = (width: number) => ({ inside: rect(-1, -1, width, 20) });
    expect(await names(outline(6.1))).toEqual(["North"]);
    expect(await names(outline(45))).toEqual(["North", "South"]);
    expect((await refused(LAWNS, { lawns: outline(5.9) })).message).toBe(
      "None of the 3 lawns is as the choice wants it: inside the outline: 0 of 3.",
    );
    const layered = [...LAWNS, file("plot.geojson", feature(rect(25, -5, 20)))];
    const { lawns } = await site(layered, { lawns: { inside: "plot" } });
    expect(lawns.map(({ name }) => name)).toEqual(["South"]);
  });

  it("nearest to a place: the one that holds it, then by the distance of their edges", async () => {
    const near = (e: number, n: number, count?: number) =>
      names({ nearest: { at: at(e, n), count } });
    expect(await near(5, 5)).toEqual(["North"]);
    // 9 m from North's edge, 11 m from South's.
    expect(await near(19, 5)).toEqual(["North"]);
    expect(await near(21, 5)).toEqual(["South"]);
    expect(await near(61, 1, 2)).toEqual(["South", "Yard"]);
    expect(
      await names({ nearest: { at: at(61, 1), count: 1 }, names: ["North", "South"] }),
    ).toEqual(["South"]);
  });

  it("tells what is left out, and why", async () => {
    const { of } = await site(LAWNS, { lawns: { names: ["North"], leastAreaM2: 20 } });
    expect(of("LAWNS_LEFT_OUT").map(({ message }) => message)).toEqual([
      "1 of 3 lawns planned, 100.00 m² of 145.00 m²; 2 left out as chosen (named North: 1 of 3; at least 20 m²: 1 of 3), the first being South.",
    ]);
    const all = await site(LAWNS, { lawns: { leastAreaM2: 1 } });
    expect(all.of("LAWNS_LEFT_OUT")).toEqual([]);
  });

  it("a name that is none is told with the nearest that is", async () => {
    const { of } = await site(LAWNS, { lawns: { names: ["North", "Sauth", "Quay"] } });
    expect(of("LAWN_NAME_UNUSED").map(({ message, remedy }) => `${message} ${remedy}`)).toEqual([
      'There is no lawn "Sauth". Did you mean "South"?',
      'There is no lawn "Quay". The lawns are: North, South, Yard.',
    ]);
    const none = await refused(LAWNS, { lawns: { names: ["Nort"] } });
    expect(none).toMatchObject({ code: "LAWNS_NONE_CHOSEN", kind: "usage" });
    expect(none.remedy).toBe(
      "Did you mean North? Choose otherwise; the largest are North (100.00 m²), South (36.00 m²), Yard (9.00 m²).",
    );
    const far = await refused(LAWNS, { lawns: { leastAreaM2: 1000 } });
    expect(far.remedy).toMatch(/^Choose otherwise; the largest are North/);
  });

  it("stations of lawns that are left out are left out too, and told", async () => {
    const stations = [at(0, 5), at(33, 3), at(58, 1)].map((place, i) => ({
      at: place,
      ...(i === 1 && { name: "Middle" }),
    }));
    const chosen = await site(LAWNS, { lawns: { names: ["North"] }, stations });
    expect(chosen.stations.map(({ name }) => name)).toEqual(["station 1"]);
    expect(chosen.of("STATIONS_LEFT_OUT").map(({ message }) => message)).toEqual([
      "2 stations left out that belong to lawns which are not planned: Middle, station 3.",
    ]);
    const all = await site(LAWNS, { stations });
    expect(all.stations).toHaveLength(3);
    expect(all.of("STATIONS_LEFT_OUT")).toEqual([]);
  });
});

const LAWN = feature(rect(0, 0, 40, 20), { role: "lawn" });
const things = async (inputs: InputFile[], rules: SiteRules, more: object = {}) =>
  (await site(inputs, rules, more)).things.map(({ name, role }) => `${name}: ${role}`);

describe("what features are", () => {
  const marks = file(
    "marks.geojson",
    feature(rect(3, 3, 2), { name: "One", kind: "pond", depth: "1.5 m" }),
    feature(rect(13, 3, 2), { name: "Two", kind: "rose", depth: 0.2 }),
    feature({ type: "Point", coordinates: at(23, 10) }, { name: "Three", kind: "rose" }),
  );
  const inputs = [file("lawn.geojson", LAWN), marks];

  it("the first rule that fits decides: layer, attribute, figures, shape", async () => {
    const bed = { role: "bed" } as const;
    const of = (...rules: NonNullable<SiteRules["rules"]>) => things(inputs, { rules });
    expect(
      await of(
        { test: { field: "kind", is: ["Pond"] }, role: "water" },
        { test: { field: "kind" }, geometry: "area", ...bed },
        { test: { field: "kind" }, geometry: "point", role: "tree", set: { soil_radius_m: 0.5 } },
      ),
    ).toEqual(["One: water", "Two: bed", "Three: tree"]);
    expect(
      await of(
        { test: { field: "depth", atLeast: 1 }, role: "water" },
        { test: { field: "depth", atMost: 0.2 }, role: "gravel" },
        { layer: "m*ks", role: "ignore" },
      ),
    ).toEqual(["One: water", "Two: gravel"]);
    expect(
      await of(
        { test: { field: "depth", atLeast: 0.1, atMost: 1 }, ...bed },
        { layer: "marks", role: "ignore" },
      ),
    ).toEqual(["Two: bed"]);
  });

  it("roles by layer of the command line come first", async () => {
    const rules = [{ layer: "marks", role: "bed" }] as const;
    expect(await things(inputs, { rules }, { roles: { marks: "gravel" } })).toContain(
      "One: gravel",
    );
  });

  it("rules that fit nothing are told, in words", async () => {
    const { of } = await site(
      inputs,
      {
        rules: [
          { layer: "beds", role: "bed" },
          { test: { field: "kind", is: ["hut"] }, geometry: "line", set: { height_m: 2 } },
          { role: "bed", layer: "marks" },
        ],
        edges: [{ layer: "walls", edge: "wall" }],
        runGround: [{ layer: "slopes", runCost: 2 }],
      },
      { roles: { ponds: "water" } },
    );
    expect(of("ROLE_RULE_UNUSED").map(({ message }) => message)).toEqual([
      'A rule gives layer "ponds" the role water, but there is no such layer.',
      'No feature fits the rule layer "beds" → bed.',
      expect.stringMatching(
        /^No feature fits the rule kind .*hut.*, geometry line → height_m=2\.$/,
      ),
      'An edge rule names layer "walls", but there is no such layer.',
      'A rule of run_ground names layer "slopes", but there is no such layer.',
    ]);
    expect(of("ROLE_RULE_UNUSED")[0]!.remedy).toBe('The layers are: "lawn", "marks".');
  });

  it("set-ins of a role, an edge or a name; the name wins", async () => {
    const rules = [{ layer: "marks", role: "bed" }] as const;
    const setins = { roles: { bed: 0.45 }, things: { Two: 0.8 } };
    const { things: made } = await site(inputs, { rules, setins });
    expect(made.map(({ name, setinM }) => [name, setinM])).toContainEqual(["One", 0.45]);
    expect(made.map(({ name, setinM }) => [name, setinM])).toContainEqual(["Two", 0.8]);
  });
});

describe("what the edge is", () => {
  const line: Geometry = { type: "LineString", coordinates: [at(0, 0), at(40, 0)] };
  const inputs = [file("lawn.geojson", LAWN), file("walls.geojson", feature(line))];
  const pond = file("pond.geojson", feature(rect(5, 5, 5), { role: "water", name: "Pond" }));

  it("by a layer's lines, by a line that is drawn, beside a role", async () => {
    const { edgeLines, things: made } = await site([...inputs, pond], {
      edges: [
        { layer: "walls", edge: "wall", setinM: 0.5 },
        { line: [at(0, 20), at(40, 20)], edge: "drop" },
        { line: [at(0, 0), at(0, 20)], edge: "hedge", setinM: 0.7 },
        { beside: "water", edge: "kerb" },
      ],
    });
    expect(edgeLines.map(({ kind, setinM }) => [kind, setinM]).sort()).toEqual([
      ["drop", undefined],
      ["hedge", 0.7],
      ["wall", 0.5],
    ]);
    expect(made[0]).toMatchObject({ name: "Pond", edgeKind: "kerb" });
  });
});

describe("where runs may lie", () => {
  const ring = (e: number, n: number, size: number) =>
    [at(e, n), at(e + size, n), at(e + size, n + size), at(e, n + size)] as const;

  it("by drawn areas, layers and attributes", async () => {
    const inputs = [
      file("lawn.geojson", LAWN),
      file("slopes.geojson", feature(rect(20, 2, 4), { name: "Bank" })),
      file("play.geojson", feature(rect(30, 2, 4), { name: "Sand", wire: "no" })),
    ];
    const { runGround = [] } = await site(inputs, {
      runGround: [
        { area: ring(2, 2, 4), wire: "no" },
        { area: ring(8, 2, 4), runCost: 3, name: "Dear" },
        { area: ring(14, 2, 4), runCost: 1 },
        { area: ring(14, 8, 4), slopePercent: 30, runCost: 7 },
        { area: ring(14, 14, 4), slopePercent: 19 },
        { layer: "slopes", slopePercent: 30 },
      ],
    });
    // On slopes over 20 % a metre counts as two.
    expect(runGround.map(({ name, factor, why }) => [name, factor, why]).sort()).toEqual([
      ["Bank", 2, "slope"],
      ["Dear", 3, "drawn-cost"],
      ["Sand", "barred", "no-wire"],
      ["run_ground 1", "barred", "no-wire"],
      ["run_ground 4", 7, "drawn-cost"],
    ]);
  });
});

describe("places that a user gives", () => {
  const inputs = [file("lawn.geojson", LAWN)];

  it("in degrees, in a system of their own, or in that of the site", async () => {
    // UTM zone 32 north: the central meridian, 9°, is 500 km east; at 10° E, 50° N published tables
    // have E 571 666.4, N 5 539 109.8 (from memory).
    const utm = { at: [571_666.4, 5_539_109.8] as const, crs: 25832 };
    const { stations, outlets } = await site(inputs, {
      stations: [{ at: [10, 50] }, { ...utm, name: "Utm" }],
      outlets: [{ at: [10.0001, 50] }],
    });
    expect(stations.map(({ name }) => name)).toEqual(["station 1", "Utm"]);
    const [one, two] = stations.map(({ atM }) => atM);
    expect(Math.hypot(one![0] - two![0], one![1] - two![1])).toBeLessThan(0.2);
    expect(outlets[0]!.name).toBe("outlet 1");
    const corner = (e: number, n: number) => [571_650 + e, 5_539_090 + n];
    const outline = [corner(0, 0), corner(40, 0), corner(40, 30), corner(0, 30), corner(0, 0)];
    const drawn = file(
      "utm.geojson",
      feature({ type: "Polygon", coordinates: [outline] }, { role: "lawn" }),
    );
    const same = await site([drawn], { stations: [{ at: utm.at }] }, { crs: 25832 });
    const [lon, lat] = same.grid.inverse(same.stations[0]!.atM);
    // 0.1 m in degrees.
    expect(Math.abs(lon - 10)).toBeLessThan(1.4e-6);
    expect(Math.abs(lat - 50)).toBeLessThan(0.9e-6);
  });

  it("that are none are refused", async () => {
    const of = async (spot: { at: readonly [number, number]; crs?: number | string }) =>
      refused(inputs, { file: "pegline.json", stations: [spot] });
    expect(await of({ at: [500_000, 5_000_000] })).toMatchObject({
      code: "SPOT_NOT_PLACED",
      kind: "usage",
      file: "pegline.json",
      message: "500000, 5000000 cannot be degrees.",
    });
    expect((await of({ at: [10, 50], crs: 999_999 })).message).toMatch(/^The crs 999999: /);
    expect((await of({ at: [1e30, 1e30], crs: 25832 })).message).toContain("has no place on earth");
    const bare = await refused(inputs, { stations: [{ at: [500_000, 5_000_000] }] });
    expect("file" in bare).toBe(false);
  });
});
