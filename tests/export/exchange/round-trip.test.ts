/** What is written in each format is read back by the readers of inputs to the same plan. */
import type { Geometry, Position } from "geojson";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../../cli/epsg-registry.ts";
import { siteGridAt } from "../../../src/crs/site-grid.ts";
import type { PlanFeature } from "../../../src/export/exchange/drawn-plan.ts";
import { FORMAT_NAMES, type FormatName } from "../../../src/export/exchange/formats.ts";
import { checkInputs } from "../../../src/index.ts";
import { readPlanFeatures } from "../../../src/jobs/convert-plan.ts";
import { PLAN_KINDS } from "../../../src/model/plan-fields.ts";
import { everyKind, exported, GARDEN, gardenPlan } from "./plans.ts";

/** What a format does not hold, by its losses. */
const isHeld = (format: FormatName, { geometry, properties }: PlanFeature): boolean => {
  if (format === "gpx") return geometry !== null && isGpxKind(String(properties.kind));
  return geometry !== null || !["dxf", "flatgeobuf"].includes(format);
};
const isGpxKind = (kind: string) => PLAN_KINDS[kind]!.shape !== "area" || kind === "exclusion-loop";

const positionsOf = (geometry: Geometry): Position[] =>
  geometry.type === "Point"
    ? [geometry.coordinates]
    : ((geometry as { coordinates: unknown[] }).coordinates.flat(
        { LineString: 0, MultiLineString: 1, Polygon: 1, MultiPolygon: 2 }[
          geometry.type as "Polygon"
        ] as 1,
      ) as Position[]);

/** A name without value says as much as a name that is not there. */
const said = (properties: PlanFeature["properties"]) =>
  Object.fromEntries(Object.entries(properties).filter(([, value]) => value !== null));
const keyOf = ({ properties }: PlanFeature) =>
  JSON.stringify(Object.entries(said(properties)).sort(([a], [b]) => (a < b ? -1 : 1)));
const sorted = (features: readonly PlanFeature[]) =>
  [...features].sort((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));

const METRES = 111_320;
/** Distance of two places, metres; rough in scale, which is of no matter at a millimetre. */
const apartM = (a: Position, b: Position) =>
  METRES * Math.hypot((a[0]! - b[0]!) * Math.cos((a[1]! * Math.PI) / 180), a[1]! - b[1]!);

/** Farthest that a vertex lies from where it was; areas may begin elsewhere. */
function movedM(was: Geometry, is: Geometry): number {
  const [before, after] = [positionsOf(was), positionsOf(is)];
  expect(after).toHaveLength(before.length);
  const isArea = was.type.endsWith("Polygon");
  return Math.max(
    ...before.map((at, i) =>
      isArea ? Math.min(...after.map((other) => apartM(at, other))) : apartM(at, after[i]!),
    ),
  );
}

async function compare(
  features: readonly PlanFeature[],
  grid: Parameters<typeof exported>[1],
  format: FormatName,
  outCrs?: string | number,
) {
  const { input, about } = await exported(features, grid, format, outCrs);
  const back = await readPlanFeatures(input, { registry: epsgRegistry });
  if (!back.ok) throw new Error(`${back.problem.code}: ${back.problem.message}`);
  const held = sorted(features.filter((one) => isHeld(format, one)));
  const read = sorted(back.value.features);
  expect(read).toHaveLength(held.length);
  expect(about.features).toBe(held.length);
  let farthestM = 0;
  for (const [i, was] of held.entries()) {
    expect(said(read[i]!.properties)).toEqual(said(was.properties));
    expect(read[i]!.geometry?.type).toBe(was.geometry?.type);
    if (was.geometry) farthestM = Math.max(farthestM, movedM(was.geometry, read[i]!.geometry!));
  }
  return { farthestM, findings: back.findings };
}

describe("written and read back", () => {
  for (const format of FORMAT_NAMES) {
    it(`${format} holds a feature of every kind with all its attributes`, async () => {
      const kinds = everyKind([-28.5, 47.25]);
      expect(new Set(kinds.map(({ properties }) => properties.kind))).toEqual(
        new Set(Object.keys(PLAN_KINDS)),
      );
      const grid = siteGridAt([-28.5, 47.25]);
      const { farthestM, findings } = await compare(kinds, grid, format);
      expect(farthestM).toBeLessThan(0.001);
      const doubts = findings.filter(
        ({ code, severity }) => severity !== "info" && code !== "NULL_GEOMETRY",
      );
      expect(doubts).toEqual([]);
    });
  }

  // UTM; transverse Mercator with a datum shift; swapped axes in the register; US feet; a PROJ string.
  const SYSTEMS = [
    ["EPSG:32633", [15.2, 48.1]],
    ["EPSG:27700", [-1.5, 52.4]],
    ["EPSG:31467", [9.1, 48.7]],
    ["EPSG:5514", [14.5, 50.1]],
    ["EPSG:2263", [-73.9, 40.7]],
    ["EPSG:2193", [174.8, -36.9]],
    [
      "+proj=lcc +lat_1=44 +lat_2=49 +lat_0=46.5 +lon_0=3 +x_0=700000 +y_0=6600000 +ellps=GRS80",
      [2.3, 48.8],
    ],
    ["+proj=utm +zone=33 +south +datum=WGS84 +units=m", [15.5, -22.5]],
    ["site-grid", [7.5, 51.5]],
  ] as const;
  for (const [system, place] of SYSTEMS) {
    it(`comes back to the millimetre by way of ${system}`, async () => {
      for (const format of ["gpkg", "shapefile", "dxf", "flatgeobuf", "csv"] as const) {
        const { farthestM } = await compare(everyKind(place), siteGridAt(place), format, system);
        expect(farthestM, format).toBeLessThan(0.001);
      }
    });
  }
});

describe("the plan of the house garden", () => {
  it("has no attribute that the table of kinds lacks", async () => {
    const { features } = await gardenPlan();
    for (const { properties } of features) {
      const known = PLAN_KINDS[String(properties.kind)]!.fields.map((field) => field.name);
      const named = Object.keys(properties).filter((name) => name !== "kind");
      expect(named.filter((name) => !known.includes(name))).toEqual([]);
      const always = PLAN_KINDS[String(properties.kind)]!.fields.filter((field) => field.always);
      expect(always.map((field) => field.name).filter((name) => !named.includes(name))).toEqual([]);
    }
  });

  for (const format of FORMAT_NAMES) {
    it(`is judged from ${format} as it is judged itself`, async () => {
      const { features, grid, result } = await gardenPlan();
      const { input } = await exported(features, grid, format);
      const outcome = await checkInputs(input, [GARDEN], { registry: epsgRegistry });
      if (!outcome.ok) throw new Error(outcome.problem.message);
      expect(outcome.value.verdict).toBe("holds");
      const expected = result.check!;
      for (const measure of outcome.value.measures) {
        const own = expected.measures.find((one) => one.rule === measure.rule)!;
        // GPX has no areas: what is said of the mown area cannot be held against anything there.
        if (format === "gpx" && measure.holds === null) continue;
        expect(measure.holds, measure.rule).toBe(own.holds);
        if (typeof own.measured !== "number") continue;
        expect(measure.measured, measure.rule).toBeCloseTo(own.measured, 2);
      }
    });
  }
});
