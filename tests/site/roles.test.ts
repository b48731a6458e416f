import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { totalAreaM2 } from "../../src/geometry/rings.ts";
import { roleOfName } from "../../src/site/role-of-name.ts";
import { box, build, codes, layer, line, point, polygon, rect, siteOf } from "./builder.ts";

beforeAll(() => loadEngine());

const LAWN = [rect(0, 0, 40, 25), { role: "lawn" }] as const;

describe("the order of evidence for a role", () => {
  it("a rule beats the attribute, which beats the layer name, which beats tags", () => {
    const drawn = [rect(5, 5, 2), { role: "water", natural: "scrub" }] as const;
    const tagged = [rect(15, 5, 2), { natural: "scrub" }] as const;
    const lawn = layer("survey", [LAWN]);
    const roles = (rules: Record<string, "gravel">, name: string) => {
      const outcome = build([lawn, layer(name, [drawn, tagged])], rules);
      return outcome.ok && outcome.value.things.map((thing) => thing.role);
    };
    expect(roles({ Ponds: "gravel" }, "Ponds")).toEqual(["gravel", "gravel"]);
    expect(roles({}, "Gravel strips")).toEqual(["water", "gravel"]);
    expect(roles({}, "misc")).toEqual(["water", "bed"]);
  });

  it("takes an outer ring as lawn and what lies in it as beds, and says so", () => {
    const { site, findings } = siteOf(
      [polygon(box(0, 0, 40, 25), box(2, 2, 3))],
      [rect(20, 10, 4)],
    );
    expect(site.lawns).toHaveLength(1);
    expect(totalAreaM2(site.lawns.map((lawn) => lawn.area))).toBe(1000);
    expect(site.things.map((thing) => [thing.role, thing.contact])).toEqual([
      ["bed", "loop"],
      ["bed", "loop"],
    ]);
    expect(site.things.map((thing) => totalAreaM2(thing.areas)).sort()).toEqual([16, 9]);
    expect(codes(findings)).toEqual(["BEDS_BY_SHAPE", "HOLES_TAKEN_AS_BEDS", "LAWNS_BY_SHAPE"]);
  });

  it("leaves out untagged lines and points with a finding each", () => {
    const { site, findings } = siteOf(LAWN, [line([1, 1], [5, 5])], [point(3, 3)], [point(4, 4)]);
    expect(site.things).toEqual([]);
    expect(codes(findings)).toEqual(["LINES_WITHOUT_ROLE", "POINTS_WITHOUT_ROLE"]);
    expect(findings.find((one) => one.code === "POINTS_WITHOUT_ROLE")!.message).toContain(
      "2 points",
    );
  });

  it("reads a closed line without a role as an outline", () => {
    const { site } = siteOf([line(...box(0, 0, 10))]);
    expect(totalAreaM2(site.lawns.map((lawn) => lawn.area))).toBe(100);
  });

  it("leaves out an untagged outline round lawns that have a role", () => {
    const { site, findings } = siteOf([rect(-5, -5, 60)], LAWN);
    expect(totalAreaM2(site.lawns.map((lawn) => lawn.area))).toBe(1000);
    expect(codes(findings)).toContain("OUTLINES_ROUND_LAWNS");
  });

  it("reads kinds and names where nothing else speaks, and says so", () => {
    const { site, findings } = siteOf(
      [rect(0, 0, 40, 25), { name: "Back lawn" }],
      [rect(5, 5, 4), { name: "Lily pond" }],
      [rect(15, 5, 4), { kind: "building", name: "Pond view" }],
      [line([30, -1], [30, 26]), { name: "Untitled Path" }],
    );
    expect(site.lawns.map((lawn) => lawn.name)).toEqual(["Back lawn"]);
    expect(site.things.map((thing) => thing.role)).toEqual(["water", "building"]);
    expect(codes(findings)).toEqual([
      "LINES_WITHOUT_ROLE",
      "ROLES_BY_KIND",
      "ROLES_BY_NAME",
      "ROLES_BY_NAME",
    ]);
  });

  it("a lawn drawn as an open line or a point is none, whatever its size", () => {
    const { site, findings } = siteOf(
      LAWN,
      [line([50, 0], [60, 0], [60, 10]), { role: "lawn", width: 2 }],
      [point(70, 0), { role: "lawn", diameter_m: 3 }],
    );
    expect(site.lawns).toHaveLength(1);
    expect(site.things).toEqual([]);
    expect(codes(findings)).toEqual(["LINE_DOES_NOT_FIT", "POINT_DOES_NOT_FIT"]);
  });

  it("says of a role that is none, and of a rule for a layer that is not there", () => {
    const outcome = build([layer("Lawns", [[rect(0, 0, 10), { role: "lown" }]])], { Beds: "bed" });
    expect(outcome.ok).toBe(true);
    expect(codes(outcome.findings)).toEqual(["ROLE_RULE_UNUSED", "ROLE_UNKNOWN"]);
  });
});

describe("roleOfName", () => {
  it.each([
    ["lawns", "lawn"],
    ["garden_lawns_2024", "lawn"],
    ["Front lawn", "lawn"],
    ["Site/Planting/Flower beds", "bed"],
    ["Site/Ponds/Folder 1", "water"],
    ["flowerBeds", "bed"],
    ["bed by the pond", "bed"],
    ["Bushes", "bed"],
    ["play area", "keep-out"],
    ["Keep-out zones", "keep-out"],
    ["Paths and terraces", "paving"],
    ["pool house", "building"],
    ["hedges", "firm"],
    ["tree trunks", "tree"],
    ["charging station", "station"],
  ])("%s says %s", (name, role) => {
    expect(roleOfName(name)?.role).toBe(role);
  });

  it.each(["house garden", "lawns, paths, trees", "main green", "survey", "Park", "Waterloo", ""])(
    "%s says nothing",
    (name) => {
      expect(roleOfName(name)).toBeUndefined();
    },
  );
});

/** Tags and their meaning: https://wiki.openstreetmap.org/wiki/Map_features. */
describe("OpenStreetMap tags", () => {
  it.each([
    [{ landuse: "grass" }, "lawn"],
    [{ landuse: "village_green" }, "lawn"],
    [{ natural: "grassland" }, "lawn"],
    [{ golf: "fairway" }, "lawn"],
    [{ golf: "green" }, "lawn"],
    [{ golf: "tee" }, "lawn"],
    [{ leisure: "pitch", sport: "soccer" }, "lawn"],
    [{ leisure: "pitch", sport: "tennis" }, "paving"],
    [{ leisure: "pitch", sport: "soccer", surface: "artificial_turf" }, "paving"],
    [{ golf: "bunker" }, "bed"],
    [{ landuse: "flowerbed" }, "bed"],
    [{ natural: "scrub" }, "bed"],
    [{ natural: "water" }, "water"],
    [{ golf: "lateral_water_hazard" }, "water"],
    [{ leisure: "swimming_pool" }, "water"],
    [{ building: "yes" }, "building"],
    [{ leisure: "playground" }, "keep-out"],
    [{ highway: "footway", area: "yes", surface: "gravel" }, "gravel"],
    [{ "area:highway": "footway" }, "paving"],
  ])("an area with %j is %s", (tags, role) => {
    const { site } = siteOf([rect(0, 0, 40, 25), { landuse: "grass" }], [rect(39, 5, 3), tags]);
    if (role === "lawn") {
      expect(totalAreaM2(site.lawns.map((lawn) => lawn.area))).toBeCloseTo(1006, 4);
    } else expect(site.things).toMatchObject([{ role }]);
  });

  it("a path across a lawn is paving as wide as its width says", () => {
    for (const [width, widthM] of [
      ["2 m", 2],
      ["2,5", 2.5],
      ["6'", 6 * 0.3048],
      [`3'6"`, 42 * 0.0254],
      ["150 cm", 1.5],
    ] as const) {
      const path = line([-1, 12], [41, 12]);
      const { site, findings } = siteOf(LAWN, [path, { highway: "footway", width }]);
      expect(totalAreaM2(site.things[0]!.areas)).toBeCloseTo(42 * widthM, 3);
      expect(site.things[0]).toMatchObject({ role: "paving", contact: "loop" });
      expect(findings).toEqual([]);
    }
  });

  it("assumes a width for each class of way once, with the count", () => {
    const way = (n: number, highway: string) => [line([-1, n], [41, n]), { highway }] as const;
    const { site, findings } = siteOf(LAWN, way(5, "footway"), way(10, "footway"), way(15, "path"));
    expect(codes(findings)).toEqual(["LINE_WIDTH_ASSUMED", "LINE_WIDTH_ASSUMED"]);
    expect(findings[0]!.message).toContain("2 lines (highway=footway)");
    expect(totalAreaM2(site.things[0]!.areas)).toBeCloseTo(42 * 1.5, 3);
  });

  it("tunnels, indoor ways and shops are no concern of a lawn", () => {
    const { site, findings } = siteOf(
      LAWN,
      [line([-1, 12], [41, 12]), { highway: "footway", tunnel: "yes" }],
      [line([-1, 13], [41, 13]), { highway: "corridor", indoor: "yes" }],
      [point(5, 5), { shop: "bakery", name: "Tree" }],
    );
    expect(site.things).toEqual([]);
    expect(codes(findings)).toEqual(["TAGS_WITHOUT_ROLE"]);
  });

  it("a way that ends where it began is a path, not what it encloses", () => {
    const loop = rect(5, 5, 10);
    const { site } = siteOf(LAWN, [loop, { highway: "footway", width: "1" }]);
    // A strip 1 m wide along a square of 10 m: outside rounded at the corners (πr², r = 0.5 m).
    const expected = 4 * 10 * 1 - 4 * 0.25 + Math.PI * 0.25;
    expect(Math.abs(totalAreaM2(site.things[0]!.areas) - expected)).toBeLessThan(0.02);
  });

  it("a park is left to the grass drawn in it, or is lawn where none is", () => {
    const park = [rect(0, 0, 100), { leisure: "park" }] as const;
    const alone = siteOf(park);
    expect(totalAreaM2(alone.site.lawns.map((lawn) => lawn.area))).toBe(10000);
    expect(codes(alone.findings)).toEqual(["PARK_TAKEN_AS_LAWN"]);
    const drawn = siteOf(park, [rect(10, 10, 50), { landuse: "grass" }]);
    expect(totalAreaM2(drawn.site.lawns.map((lawn) => lawn.area))).toBe(2500);
    expect(codes(drawn.findings)).toEqual(["PARK_LEFT_TO_ITS_GRASS"]);
  });

  it("grass drawn wholly inside a square is on top of it", () => {
    const { site, findings } = siteOf(
      [rect(0, 0, 30), { highway: "pedestrian", area: "yes" }],
      [rect(10, 10, 10), { landuse: "grass" }],
    );
    expect(totalAreaM2(site.lawns.map((lawn) => lawn.area))).toBe(100);
    expect(totalAreaM2(site.things[0]!.areas)).toBeCloseTo(800, 6);
    expect(codes(findings)).toEqual(["LAWN_ON_TOP"]);
  });

  it("a hedge is one whether the tag, the role, the layer or the edge says so", () => {
    const along = line([0, 0], [40, 0]);
    const hedge = (name: string, properties: object, rules = {}) => {
      const outcome = build(
        [layer("survey", [LAWN]), layer(name, [[along, properties as Record<string, unknown>]])],
        rules,
      );
      return outcome.ok && outcome.value.edgeLines.map((edge) => edge.kind);
    };
    expect(hedge("x", { barrier: "hedge" })).toEqual(["hedge"]);
    expect(hedge("x", { role: "hedge" })).toEqual(["hedge"]);
    expect(hedge("x", { role: "firm", edge: "hedge" })).toEqual(["hedge"]);
    expect(hedge("x", { role: "firm", barrier: "hedge" })).toEqual(["hedge"]);
    expect(hedge("Hedges", {})).toEqual(["hedge"]);
    expect(hedge("Hedges", {}, { Hedges: "firm" })).toEqual(["hedge"]);
    expect(hedge("Walls", { edge: "hedge" })).toEqual(["hedge"]);
  });

  it("a fence along the edge tells its kind; one across the lawn takes its strip away too", () => {
    const along = siteOf(LAWN, [line([0, 0], [40, 0]), { barrier: "fence" }]);
    expect(along.site.edgeLines.map((edge) => edge.kind)).toEqual(["fence"]);
    expect(along.site.things).toEqual([]);
    const across = siteOf(LAWN, [line([20, -1], [20, 26]), { barrier: "fence" }]);
    expect(across.site.edgeLines.map((edge) => edge.kind)).toEqual(["fence"]);
    expect(across.site.things).toMatchObject([
      { role: "firm", contact: "firm", edgeKind: "fence" },
    ]);
  });
});
