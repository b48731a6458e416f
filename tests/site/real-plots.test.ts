import { readFile } from "node:fs/promises";
import geodesic from "geographiclib-geodesic";
import type { Feature, FeatureCollection, Polygon, Position } from "geojson";
import { beforeAll, describe, expect, it } from "vitest";
import { extentOf, makeSiteGrid } from "../../src/crs/site-grid.ts";
import { loadEngine } from "../../src/geometry/engine.ts";
import { intersection, union } from "../../src/geometry/overlay.ts";
import { totalAreaM2 } from "../../src/geometry/rings.ts";
import type { LonLat } from "../../src/model/geometry.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { buildSite } from "../../src/site/build-site.ts";
import { isValidArea } from "./builder.ts";

beforeAll(() => loadEngine());

/** Sources and licences: tests/fixtures/plots/SOURCES.md. */
const PLOTS = [
  "esplanade-montpellier",
  "golf-kikuoka",
  "osm-harmsworth-park",
  "osm-koernerpark-thomashoehe",
];

type Nested = Position | Nested[];

function mapped(value: unknown, move: (at: LonLat) => readonly number[]): unknown {
  if (!Array.isArray(value)) return value;
  if (typeof value[0] === "number") return [...move([value[0], value[1]])];
  return value.map((one) => mapped(one, move));
}

function positions(value: unknown, into: LonLat[]): LonLat[] {
  const list = value as Nested;
  if (typeof list[0] === "number") into.push([list[0], list[1] as number]);
  else for (const one of list) positions(one, into);
  return into;
}

async function read(plot: string): Promise<FeatureCollection> {
  return JSON.parse(await readFile(`tests/fixtures/plots/${plot}.geojson`, "utf8"));
}

async function siteOfPlot(plot: string) {
  const collection = await read(plot);
  const all: LonLat[] = [];
  for (const { geometry } of collection.features) {
    positions((geometry as Polygon).coordinates, all);
  }
  const grid = makeSiteGrid(extentOf(all)!);
  const features = collection.features.map((feature: Feature, i) => {
    const geometry = feature.geometry as Polygon;
    const coordinates = mapped(geometry.coordinates, grid.forward) as Position[][];
    return {
      number: i + 1,
      geometry: { ...geometry, coordinates },
      properties: feature.properties ?? {},
    };
  });
  const layer = {
    file: `${plot}.geojson`,
    format: "geojson",
    layer: plot,
    features,
    fields: [],
    crs: { kind: "none" as const },
    crsName: "site grid",
    crsFrom: "test",
  };
  return buildSite({ name: plot, layers: [layer], grid, profile: builtInProfile() });
}

describe.each(PLOTS)("%s", (plot) => {
  it("becomes a site whose every shape is valid and whose lawns do not overlap", async () => {
    const outcome = await siteOfPlot(plot);
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const lawns = outcome.value.lawns.map((lawn) => lawn.area);
    const things = outcome.value.things.flatMap((thing) => thing.areas);
    expect(lawns.length).toBeGreaterThan(0);
    expect([...lawns, ...things].filter((area) => !isValidArea(area))).toEqual([]);
    expect(Math.abs(totalAreaM2(union(lawns)) - totalAreaM2(lawns))).toBeLessThan(0.01);
    for (const finding of outcome.findings) {
      expect(finding.message).toMatch(/\.$/);
      expect(finding.remedy).not.toBe("");
      expect(finding.atM === undefined).toBe(finding.at === undefined);
    }
  });

  it("is the same each time", async () => {
    const [a, b] = [await siteOfPlot(plot), await siteOfPlot(plot)];
    expect(JSON.stringify(a)).toBe(JSON.stringify(b));
  });
});

describe("areas against GeographicLib", () => {
  // Ellipsoidal areas by geographiclib-geodesic (Karney 2013), independent of any projection.
  it("the lawns of the esplanade have the area that their outlines have on the ellipsoid", async () => {
    const { features } = await read("esplanade-montpellier");
    const ringM2 = (ring: Position[]) => {
      const sum = geodesic.Geodesic.WGS84.Polygon(false);
      for (const [lon, lat] of ring.slice(1)) sum.AddPoint(lat!, lon!);
      return Math.abs(sum.Compute(false, true).area!);
    };
    const expected = features
      .filter((feature) => feature.properties!.kind === "grass")
      .map((feature) => (feature.geometry as Polygon).coordinates.map(ringM2))
      .reduce((sum, [shell, ...holes]) => sum + shell! - holes.reduce((a, b) => a + b, 0), 0);
    const outcome = await siteOfPlot("esplanade-montpellier");
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const lawns = outcome.value.lawns.map((lawn) => lawn.area);
    const beds = outcome.value.things.filter((thing) => thing.role === "bed");
    const bedM2 = totalAreaM2(
      intersection(
        lawns,
        beds.flatMap((bed) => bed.areas),
      ),
    );
    expect(Math.abs((totalAreaM2(lawns) - bedM2) / expected - 1)).toBeLessThan(2e-6);
  });
});
