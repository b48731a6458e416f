import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { totalAreaM2 } from "../../src/geometry/rings.ts";
import { lengthM } from "../../src/site/lengths.ts";
import { box, codes, line, point, polygon, rect, siteOf } from "./builder.ts";

beforeAll(() => loadEngine());

const LAWN = [rect(0, 0, 40, 25), { role: "lawn" }] as const;

describe("lengths", () => {
  // The international foot is 0.3048 m and the inch 0.0254 m exactly (1959 agreement).
  it.each([
    [2, 2],
    ["2", 2],
    ["2 m", 2],
    ["0,35", 0.35],
    ["35 cm", 0.35],
    ["350mm", 0.35],
    ["6'", 1.8288],
    [`25'8"`, 25 * 0.3048 + 8 * 0.0254],
    ["5 ft", 1.524],
    ["1e-1", 0.1],
  ])("%j is %d m", (value, metres) => {
    expect(lengthM(value)).toBeCloseTo(metres, 12);
  });

  it.each(["wide", "", "2;3", "1-2", -1, "-0.3", Number.NaN, null, [2], "3 miles"])(
    "%j is no length",
    (value) => {
      expect(lengthM(value)).toBeUndefined();
    },
  );
});

/** The table of contacts in docs/roles.md. */
describe("what gets a loop", () => {
  const at = rect(10, 10, 2);
  it.each([
    ["bed", {}, "loop", "open"],
    ["water", {}, "loop", "water"],
    ["gravel", {}, "loop", "open"],
    ["keep-out", {}, "loop", "open"],
    ["paving", {}, "loop", "open"],
    ["paving", { edge: "flush" }, "flush", "flush"],
    ["paving", { edge: "Kerb" }, "loop", "kerb"],
    ["building", {}, "firm", "wall"],
    ["firm", {}, "firm", "wall"],
    ["firm", { height_m: "0,05" }, "loop", "open"],
    ["firm", { height_m: 0.5 }, "firm", "wall"],
    ["firm", { loop: "yes" }, "loop", "wall"],
    ["firm", { loop: "no", height_m: 0.05 }, "firm", "open"],
    ["building", { loop: "YES" }, "loop", "wall"],
    ["bed", { loop: "no" }, "firm", "open"],
    ["bed", { loop: false }, "firm", "open"],
    ["paving", { loop: "no" }, "flush", "flush"],
    ["bed", { edge: "drop" }, "loop", "drop"],
    ["tree", { diameter_m: 0.4 }, "firm", "open"],
    ["tree", { diameter_m: "8 cm" }, "loop", "open"],
    ["tree", { diameter_m: 0.4, soil_radius_m: 0.6 }, "loop", "open"],
  ])("%s with %j: %s, edge %s", (role, attributes, contact, edgeKind) => {
    const { site } = siteOf(LAWN, [at, { role, ...attributes }]);
    expect(site.things).toMatchObject([{ role, contact, edgeKind }]);
  });

  it("carries setin_m, height_m and the name, and numbers what has none", () => {
    const { site } = siteOf(
      LAWN,
      [at, { role: "bed", setin_m: "0.5", height_m: "1 m", NAME: "Roses" }],
      [rect(20, 10, 2), { role: "bed" }],
    );
    expect(site.things).toMatchObject([
      { id: "bed-1", name: "Roses", setinM: 0.5, heightM: 1 },
      { id: "bed-2", name: "bed 2" },
    ]);
  });

  it("says which attribute it did not understand", () => {
    const { findings } = siteOf(LAWN, [at, { role: "bed", setin_m: "some", loop: "maybe" }]);
    expect(codes(findings)).toEqual(["ATTRIBUTE_NOT_UNDERSTOOD", "ATTRIBUTE_NOT_UNDERSTOOD"]);
  });
});

describe("trees and posts drawn as points", () => {
  const disc = (radiusM: number) => Math.PI * radiusM ** 2;

  // OpenStreetMap wiki, Key:circumference: metres at 1.3 m above ground.
  it.each([
    [{ role: "tree", diameter_m: 0.5 }, 0.25, "firm"],
    [{ natural: "tree", circumference: "1.57" }, 0.25, "firm"],
    [{ natural: "tree", circumference: "0.2" }, 0.1 / Math.PI, "loop"],
    [{ natural: "tree", diameter: "300" }, 0.15, "firm"],
    [{ role: "tree", soil_radius_m: 0.75 }, 0.75, "loop"],
    [{ role: "firm", diameter_m: 0.8 }, 0.4, "firm"],
  ])("%j is a disc", (properties, radiusM, contact) => {
    const { site, findings } = siteOf(LAWN, [point(20, 12), properties]);
    const areaM2 = totalAreaM2(site.things[0]!.areas);
    // Chords lie at most 1 mm inside the circle.
    expect(areaM2).toBeLessThanOrEqual(disc(radiusM) * 1.001);
    expect(areaM2).toBeGreaterThan(disc(radiusM - 0.0015));
    expect(site.things[0]!.contact).toBe(contact);
    expect(findings).toEqual([]);
  });

  it("assumes a grown trunk and the size of posts, and counts them", () => {
    const { site, findings } = siteOf(
      LAWN,
      [point(10, 10), { natural: "tree" }],
      [point(12, 10), { natural: "tree" }],
      [point(14, 10), { role: "firm" }],
    );
    expect(site.things.map((thing) => thing.contact)).toEqual(["firm", "firm", "firm"]);
    expect(codes(findings)).toEqual(["POINT_SIZE_ASSUMED", "TREE_TRUNK_ASSUMED"]);
    expect(findings.find((one) => one.code === "TREE_TRUNK_ASSUMED")!.message).toMatch(/^2 trees/);
  });

  it("a bed cannot be a point", () => {
    const { site, findings } = siteOf(LAWN, [point(10, 10), { role: "bed" }]);
    expect(site.things).toEqual([]);
    expect(codes(findings)).toEqual(["POINT_DOES_NOT_FIT"]);
  });
});

describe("placed points and edge lines", () => {
  it("stations, outlets and control points are listed, areas by their middle", () => {
    const { site } = siteOf(
      LAWN,
      [point(0, 5), { role: "station", name: "Dock" }],
      [rect(0, 10, 2), { role: "station" }],
      [point(-3, 5), { role: "outlet" }],
      [point(100, 100), { role: "control" }],
    );
    expect(site.stations.map((one) => [one.name, ...one.atM])).toEqual([
      ["Dock", 0, 5],
      ["station 2", 1, 11],
    ]);
    expect(site.outlets.map((one) => one.atM)).toEqual([[-3, 5]]);
    expect(site.controls.map((one) => one.name)).toEqual(["control 1"]);
  });

  it("edge lines carry kind and set-in; one without a kind is open, with a finding", () => {
    const { site, findings } = siteOf(
      LAWN,
      [line([0, 0], [40, 0]), { role: "edge", edge: "wall", setin_m: 0.4 }],
      [line([0, 25], [40, 25]), { role: "edge" }],
    );
    expect(site.edgeLines).toMatchObject([{ kind: "wall", setinM: 0.4 }, { kind: "open" }]);
    expect(codes(findings)).toEqual(["EDGE_WITHOUT_KIND"]);
  });
});

describe("what is near enough to matter", () => {
  it("drops what is farther than a metre from every lawn, with one finding", () => {
    const { site, findings } = siteOf(
      LAWN,
      [rect(40.9, 0, 5), { role: "building", name: "near" }],
      [rect(41.1, 10, 5), { role: "building", name: "far" }],
      [rect(60, 0, 5), { role: "bed" }],
    );
    expect(site.things.map((thing) => thing.name)).toEqual(["near"]);
    expect(codes(findings)).toEqual(["THINGS_FAR_AWAY"]);
    expect(findings[0]!.message).toMatch(/^2 features/);
  });

  it("tells of an island over the edge how much sticks out, but not of a house", () => {
    const { findings } = siteOf(
      LAWN,
      [rect(38, 5, 4), { role: "bed", name: "Bay" }],
      [rect(38, 15, 4), { role: "building" }],
      [rect(40, 20, 4), { role: "bed" }],
    );
    expect(codes(findings)).toEqual(["ISLAND_OVER_EDGE"]);
    expect(findings[0]!.message).toContain("8.00 m² of its 16.00 m²");
  });
});

describe("holes in lawns", () => {
  it("become what is drawn in them where that fills them", () => {
    const { site, findings } = siteOf(
      [polygon(box(0, 0, 40, 25), box(10, 5, 10)), { role: "lawn" }],
      [rect(10.03, 5.02, 9.94, 9.96), { role: "building", name: "House" }],
    );
    expect(site.things.map((thing) => [thing.name, thing.role])).toEqual([["House", "building"]]);
    expect(totalAreaM2(site.things[0]!.areas)).toBeCloseTo(100, 2);
    expect(codes(findings)).toEqual(["HOLES_TAKEN_AS_BEDS"]);
  });

  it("are beds less what is drawn in them where that does not fill them", () => {
    const { site } = siteOf(
      [polygon(box(0, 0, 40, 25), box(10, 5, 10)), { role: "lawn", name: "Front" }],
      [rect(12, 5.5, 4), { role: "water" }],
    );
    const bed = site.things.find((thing) => thing.role === "bed")!;
    expect(bed.name).toBe("Front hole 1");
    expect(totalAreaM2(bed.areas)).toBeCloseTo(84, 6);
  });

  it("keep the lawn of a courtyard", () => {
    const { site } = siteOf(
      [polygon(box(0, 0, 40, 25), box(10, 5, 10)), { role: "lawn" }],
      [rect(13, 8, 4), { role: "lawn" }],
    );
    expect(totalAreaM2(site.lawns.map((lawn) => lawn.area))).toBe(1000 - 100 + 16);
    expect(site.things).toHaveLength(1);
    expect(totalAreaM2(site.things[0]!.areas)).toBeCloseTo(84, 6);
  });
});
