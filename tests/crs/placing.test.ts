import { existsSync, readFileSync } from "node:fs";
import geodesic from "geographiclib-geodesic";
import type { Position } from "geojson";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { resolveCrs } from "../../src/crs/resolve.ts";
import { toSiteGrid } from "../../src/crs/to-site-grid.ts";
import { readInputs } from "../../src/import/read-inputs.ts";
import type { CrsDeclaration, InputFile, RawLayer } from "../../src/model/features.ts";
import { inputAt } from "../import/fixtures.ts";

const registry = epsgRegistry;

function layerAt(
  crs: CrsDeclaration,
  points: readonly Position[],
  more: Partial<RawLayer> = {},
): RawLayer {
  const features = points.map((coordinates, i) => ({
    number: i + 1,
    geometry: { type: "Point" as const, coordinates },
    properties: {},
  }));
  return { file: "x", format: "dxf", layer: "x", features, fields: [], crs, ...more };
}

function placed(...layers: RawLayer[]) {
  const outcome = toSiteGrid(layers, { registry });
  if (!outcome.ok) throw new Error(`${outcome.problem.code}: ${outcome.problem.message}`);
  const { grid } = outcome.value;
  const at = outcome.value.layers.map(({ features }) =>
    features.map(({ geometry }) => (geometry as { coordinates: Position }).coordinates),
  );
  return { at, grid, codes: outcome.findings.map(({ code }) => code) };
}

const epsg = (code: number): CrsDeclaration => ({ kind: "epsg", code, from: "--crs" });
const text = (definition: string): CrsDeclaration => ({
  kind: "definition",
  text: definition,
  from: ".prj",
});

describe("a layer's own unit", () => {
  // EPSG:25832, metres: 480 000 E 5 550 000 N, near its meridian.
  const metres: Position[] = [
    [480_000, 5_550_000, 12],
    [480_010, 5_550_020, 13],
  ];
  it.each([
    ["millimetres", 0.001],
    ["feet", 0.3048],
    ["US survey feet", 1200 / 3937],
  ])("%s come to the same place and height as metres", (_, unitM) => {
    const inUnit = metres.map((position) => position.map((value) => value / unitM));
    const { at, codes } = placed(
      layerAt(epsg(25832), metres),
      layerAt(epsg(25832), inUnit, { unitM }),
    );
    expect(codes).toEqual([]);
    for (const [i, position] of at[0]!.entries()) {
      for (const [k, value] of position.entries()) expect(at[1]![i]![k]).toBeCloseTo(value, 6);
    }
  });

  it("is not scaled where a system in feet and a drawing in the same feet meet", () => {
    const feet: Position[] = [[3_111_197.83, 13_819_651.73]];
    const both = placed(
      layerAt(epsg(2278), feet),
      layerAt(epsg(2278), feet, { unitM: 1200 / 3937 }),
    );
    expect(both.at[1]).toEqual(both.at[0]);
  });

  it("is left out where only the system's own puts the drawing into its area", () => {
    const { codes, at } = placed(layerAt(epsg(25832), metres, { unitM: 0.0254 }));
    expect(codes).toContain("DXF_UNIT_DOUBTFUL");
    const [a, b] = at[0] as [Position, Position];
    expect(Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!)).toBeCloseTo(Math.hypot(10, 20), 1);
  });
});

describe("axes, areas and several systems", () => {
  it("turns round northing first where only that lies in the area of use", () => {
    const turned = placed(layerAt(epsg(2193), [[5_426_376.623, 1_750_697.521]]));
    expect(turned.codes).toEqual(["CRS_AXES_SWAPPED"]);
    const [lon, lat] = turned.grid.inverse(turned.at[0]![0] as [number, number]);
    expect(lon).toBeCloseTo(174.8, 6);
    expect(lat).toBeCloseTo(-41.3, 6);
  });

  it("says that a system is the wrong one where nothing puts the layer into its area", () => {
    const { codes } = placed(layerAt(epsg(25832), [[480_000, 1_000_000]]));
    expect(codes).toContain("CRS_OUTSIDE_AREA");
  });

  it("knows the area of a .prj without a code by its name or parameters", () => {
    const prj =
      'PROJCS["Surveyed_by_us",GEOGCS["GCS_NZGD_2000",DATUM["D_NZGD_2000",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",1600000.0],PARAMETER["False_Northing",10000000.0],PARAMETER["Central_Meridian",173.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]';
    expect(placed(layerAt(text(prj), [[1_750_697, 5_426_376]])).codes).toEqual([]);
    expect(placed(layerAt(text(prj), [[350_000, 9_000_000]])).codes).toContain("CRS_OUTSIDE_AREA");
  });

  it("brings one place in five systems to one spot", () => {
    // 8.7° E 50.1° N by cs2cs of PROJ 9.1.1, from EPSG:4326.
    const place = [8.7, 50.1] as const;
    const { at } = placed(
      layerAt({ kind: "wgs84", from: "RFC 7946" }, [[...place]]),
      layerAt(epsg(25832), [[478_544.5238, 5_549_792.34837]]),
      layerAt(epsg(4258), [[...place]]),
      layerAt(text("+proj=utm +zone=32 +ellps=GRS80 +units=m"), [[478_544.5238, 5_549_792.34837]]),
      layerAt(text("+proj=utm +zone=32 +ellps=GRS80 +units=us-ft"), [
        [(478_544.5238 * 3937) / 1200, (5_549_792.34837 * 3937) / 1200],
      ]),
    );
    for (const [spot] of at.slice(1)) {
      expect(Math.hypot(spot![0]! - at[0]![0]![0]!, spot![1]! - at[0]![0]![1]!)).toBeLessThan(
        0.001,
      );
    }
  });
});

describe("kinds of definitions", () => {
  it.each([
    ["a compound system by its code", epsg(7405)],
    ["degrees with heights by their code", epsg(4979)],
    [
      "a compound system in WKT",
      text(
        'COMPD_CS["both",GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],VERT_CS["h",VERT_DATUM["h",2005],UNIT["metre",1]]]',
      ),
    ],
  ])("uses the horizontal part of %s, and says so", (_, declaration) => {
    const outcome = resolveCrs(declaration, registry);
    expect(outcome.ok).toBe(true);
    expect(outcome.findings.map(({ code }) => code)).toContain("CRS_HORIZONTAL_PART");
  });

  it("counts grads as 0.9 degrees, from Paris too (EPSG:4807; Paris is 2.5969213 grads east)", () => {
    const wkt =
      'GEOGCS["NTF (Paris)",DATUM["D_NTF",SPHEROID["Clarke_1880_IGN",6378249.2,293.466021293627]],PRIMEM["Paris",2.33722917],UNIT["Grad",0.0157079632679489]]';
    for (const declaration of [text(wkt), epsg(4807)]) {
      const outcome = resolveCrs(declaration, registry);
      if (!outcome.ok) throw new Error(outcome.problem.message);
      expect(outcome.value.unitName).toBe("grad");
      // 54.27 and 0.01 grads are 48.843° and 2.34622917° from Greenwich on the same datum;
      // echo 48.843 2.34622917 | cs2cs -f %.8f EPSG:4275 EPSG:4326 (PROJ 9.1.1, which has a grid
      // for it: within the 2 m that are said of the parameters).
      const [lon, lat] = outcome.value.toWgs84(0.01, 54.27);
      expect(Math.abs(lon - 2.34552465) * 73_000).toBeLessThan(2);
      expect(Math.abs(lat - 48.84293359) * 111_000).toBeLessThan(2);
    }
  });
});

/** Ellipsoidal area of a ring of degrees, Karney's algorithm in the library geographiclib-geodesic. */
function geodesicOf(ring: readonly Position[]): { areaM2: number; lengthM: number } {
  const polygon = geodesic.Geodesic.WGS84.Polygon(false);
  for (const [lon, lat] of ring.slice(0, -1)) polygon.AddPoint(lat!, lon!);
  const { area, perimeter } = polygon.Compute(false, true);
  return { areaM2: Math.abs(area ?? Number.NaN), lengthM: perimeter };
}

/** One part in a million; of a few square metres no more than the round-off of the geodesic area. */
function ppm(areaM2: number): number {
  return Math.max(1e-6 * areaM2, 2e-5);
}

function planeOf(ring: readonly Position[]): { areaM2: number; lengthM: number } {
  let [twice, lengthM] = [0, 0];
  const [e0, n0] = ring[0] as [number, number];
  for (let i = 1; i < ring.length; i++) {
    const [a, b] = [ring[i - 1]!, ring[i]!];
    twice += (a[0]! - e0) * (b[1]! - n0) - (b[0]! - e0) * (a[1]! - n0);
    lengthM += Math.hypot(b[0]! - a[0]!, b[1]! - a[1]!);
  }
  return { areaM2: Math.abs(twice / 2), lengthM };
}

function ringsOf(layers: readonly RawLayer[]): Position[][] {
  return layers.flatMap(({ features }) =>
    features.flatMap(({ geometry }) => {
      if (geometry?.type === "Polygon") return geometry.coordinates;
      return geometry?.type === "MultiPolygon" ? geometry.coordinates.flat() : [];
    }),
  );
}

describe("area and perimeter of any polygon", () => {
  const files = [
    "tests/fixtures/plots/esplanade-montpellier.geojson",
    "tests/fixtures/plots/osm-harmsworth-park.geojson",
    "tests/fixtures/plots/golf-kikuoka.geojson",
    "fixtures/demo/house-garden.geojson",
  ].filter((path) => existsSync(path));

  it.each(files)("%s: within 1 ppm of the geodesic ones", async (path) => {
    const input: InputFile = inputAt(path);
    const read = await readInputs([input]);
    if (!read.ok) throw new Error(read.problem.message);
    const outcome = toSiteGrid(read.value, { registry });
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const source = ringsOf(read.value);
    const grid = ringsOf(outcome.value.layers);
    expect(grid).toHaveLength(source.length);
    for (const [i, ring] of source.entries()) {
      const [want, have] = [geodesicOf(ring), planeOf(grid[i]!)];
      expect(Math.abs(have.areaM2 - want.areaM2), `${path} ring ${i}`).toBeLessThan(
        ppm(want.areaM2),
      );
      expect(Math.abs(have.lengthM / want.lengthM - 1), `${path} ring ${i}`).toBeLessThan(1e-6);
    }
  });

  const CSV = "../shared/data/reference/geodesic-areas.csv";
  const missing = existsSync(CSV) ? "" : " (skipped: the list is not beside this checkout)";
  it.skipIf(missing !== "")(
    `agrees with a list of areas computed elsewhere${missing}`,
    async () => {
      const rows = readFileSync(CSV, "utf8").trim().split("\n").slice(1);
      const byFile = new Map<string, { areaM2: number; lengthM: number }[]>();
      for (const row of rows) {
        const [file = "", index, , area, length] = row.split(",");
        const list = byFile.get(file) ?? [];
        list[Number(index)] = { areaM2: Number(area), lengthM: Number(length) };
        byFile.set(file, list);
      }
      let compared = 0;
      for (const [file, wanted] of byFile) {
        if (!/^plots\/.*\.geojson$/.test(file) || !existsSync(`../shared/data/${file}`)) continue;
        const read = await readInputs([inputAt(`../shared/data/${file}`)]);
        if (!read.ok) continue;
        const outcome = toSiteGrid(read.value, { registry });
        if (!outcome.ok) continue;
        for (const { geometry, number } of outcome.value.layers[0]!.features) {
          const want = wanted[number - 1];
          if (geometry?.type !== "Polygon" || want === undefined) continue;
          const [shell, ...holes] = geometry.coordinates.map(planeOf);
          const area = shell!.areaM2 - holes.reduce((sum, hole) => sum + hole.areaM2, 0);
          expect(Math.abs(area - want.areaM2), `${file} ${number}`).toBeLessThan(ppm(want.areaM2));
          expect(Math.abs(shell!.lengthM / want.lengthM - 1), `${file} ${number}`).toBeLessThan(
            1e-6,
          );
          compared++;
        }
      }
      expect(compared).toBeGreaterThan(50);
    },
  );
});
