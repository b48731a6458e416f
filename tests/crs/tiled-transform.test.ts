import type { Geometry, Position } from "geojson";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { resolveCrs } from "../../src/crs/resolve.ts";
import { makeSiteGrid, siteGridAt } from "../../src/crs/site-grid.ts";
import { TILE_DEG, TILE_M, TileCounts, TiledTransform } from "../../src/crs/tiled-transform.ts";
import { toSiteGrid } from "../../src/crs/to-site-grid.ts";
import { PositionStore, packedOf } from "../../src/import/position-store.ts";
import type { CrsDeclaration, RawLayer } from "../../src/model/features.ts";
import { seeded } from "../../src/physics/coverage/seeded.ts";

/** Systems with a place in their area of use, in their own unit; the last ones in degrees. */
const SYSTEMS: readonly [what: string, epsg: number, x: number, y: number][] = [
  ["UTM", 25832, 566_000, 5_540_000],
  ["UTM, high north, far from its meridian", 25833, 120_000, 8_800_000],
  ["Lambert-93", 2154, 652_000, 6_862_000],
  ["British grid, Helmert shift", 27700, 530_600, 179_600],
  ["Lambert conic in US survey feet", 2278, 3_111_000, 13_820_000],
  ["transverse Mercator in US survey feet", 2263, 998_000, 194_000],
  ["Krovak, axes south and west", 5514, -740_000, -1_044_000],
  ["oblique stereographic, Helmert shift", 28992, 155_000, 463_000],
  ["oblique Mercator, Helmert shift", 21781, 600_000, 200_000],
  ["Lambert equal area", 3035, 4_121_000, 3_310_000],
  ["web map", 3857, 1_113_000, 6_446_000],
  ["degrees of WGS 84", 4326, 10.02, 50.01],
  ["degrees of WGS 84, southern, high", 4326, -68.01, -54.83],
  ["degrees, Helmert shift", 4277, -2.1, 52.3],
];

const POINTS = 4000;
const TOLERANCE_M = 5e-6;

function crsOf(epsg: number) {
  const outcome = resolveCrs({ kind: "epsg", code: epsg, from: "a test" }, epsgRegistry);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.value;
}

describe("a transformation by patches", () => {
  // Against proj4's own chain, which other tests hold against PROJ.
  it.each(SYSTEMS)("%s (EPSG:%i) within 0.01 mm of the chain itself", (_, epsg, x0, y0) => {
    const crs = crsOf(epsg);
    const grid = siteGridAt(crs.toWgs84(x0, y0));
    const exact = (x: number, y: number) => grid.forward(crs.toWgs84(x, y));
    const side = crs.isDegrees ? TILE_DEG : TILE_M / crs.metresPerUnit;
    const counts = new TileCounts(side);
    const random = seeded(epsg);
    const points = Array.from({ length: POINTS }, (_, i) => {
      // Half of them close together, half over several tiles.
      const width = side * (i % 2 === 0 ? 0.5 : 3);
      return [x0 + (random() - 0.5) * width, y0 + (random() - 0.5) * width] as const;
    });
    for (const [x, y] of points) counts.add(x, y);
    const tiled = new TiledTransform(exact, counts, TOLERANCE_M);
    let farthestM = 0;
    for (const [x, y] of points) {
      const [e, n] = tiled.at(x, y);
      const [exactE, exactN] = exact(x, y);
      farthestM = Math.max(farthestM, Math.hypot(e - exactE, n - exactN));
    }
    expect(farthestM).toBeLessThan(1e-5);
    // Patches were used: nothing would be compared without them.
    expect(tiled.tiles.patched).toBeGreaterThan(0);
    expect(tiled.tiles.refused).toBe(0);
  });

  it("is the transformation itself where few positions lie", () => {
    const exact = (x: number, y: number) => [Math.sin(x), y / 3] as const;
    const counts = new TileCounts(1);
    for (let i = 0; i < 20; i++) counts.add(0.5, 0.5);
    const tiled = new TiledTransform(exact, counts, 1e-3);
    expect(tiled.at(0.3, 0.7)).toEqual([Math.sin(0.3), 0.7 / 3]);
    expect(tiled.tiles).toEqual({ patched: 0, refused: 0 });
  });

  it("is the transformation itself where no patch holds", () => {
    const jump = (x: number, y: number) => [x < 0.37 ? x : x + 360, y] as const;
    const none = (x: number, y: number) => [x < 0.37 ? x : Number.NaN, y] as const;
    for (const exact of [jump, none]) {
      const counts = new TileCounts(1);
      for (let i = 0; i < 1000; i++) counts.add(i / 1000, 0.5);
      const tiled = new TiledTransform(exact, counts, 1e-6);
      for (const x of [0.1, 0.36999, 0.37, 0.9]) expect(tiled.at(x, 0.2)).toEqual(exact(x, 0.2));
      expect(tiled.tiles).toEqual({ patched: 0, refused: 1 });
    }
  });

  it("has no tile for what is no number or out of reach", () => {
    const counts = new TileCounts(1);
    const tiled = new TiledTransform((x, y) => [x, y], counts, 1e-6);
    for (const x of [Number.NaN, Infinity, -1e300]) {
      for (let i = 0; i < 1000; i++) counts.add(x, 0);
      expect(tiled.at(x, 0)).toEqual([x, 0]);
    }
    expect(tiled.tiles).toEqual({ patched: 0, refused: 0 });
  });
});

describe("dense layers in the site grid", () => {
  const CRS: CrsDeclaration = { kind: "epsg", code: 27700, from: "a test" };

  function rings(): Position[][] {
    const random = seeded(7);
    return Array.from({ length: 40 }, () => {
      const [x, y] = [530_000 + random() * 6000, 179_000 + random() * 6000];
      const ring = Array.from({ length: 60 }, (_, i): Position => {
        const angle = (i / 30) * Math.PI;
        return [x + 20 * Math.cos(angle), y + 20 * Math.sin(angle), 30 + i, i];
      });
      return [...ring, ring[0]!];
    });
  }

  function layerOf(isPacked: boolean): RawLayer {
    const store = new PositionStore();
    const features = rings().map((ring, index) => {
      const geometry: Geometry = { type: "Polygon", coordinates: [ring] };
      const feature = { number: index + 1, id: `f${index}`, geometry, properties: { index } };
      return isPacked ? store.packed(feature) : feature;
    });
    return { file: "a.shp", format: "shapefile", layer: "a", features, fields: [], crs: CRS };
  }

  it("are the same packed or not: places, heights, measures, ids, closed rings", () => {
    const outcomes = [true, false].map((isPacked) =>
      toSiteGrid([layerOf(isPacked)], { registry: epsgRegistry }),
    );
    const [packed, plain] = outcomes.map((outcome) => {
      if (!outcome.ok) throw new Error(outcome.problem.message);
      return outcome.value;
    });
    expect(packed!.grid.origin).toEqual(plain!.grid.origin);
    expect(packed!.layers[0]!.features).toEqual(plain!.layers[0]!.features);
    expect(packed!.layers[0]!.features.every((one) => packedOf(one) !== undefined)).toBe(true);
    expect(outcomes[0]!.findings).toEqual(outcomes[1]!.findings);
    // The chain itself, with the origin at the middle of its own degrees.
    const crs = crsOf(27700);
    const all = rings().flat();
    const lonLats = all.map(([x, y]) => crs.toWgs84(x!, y!));
    const [lons, lats] = [lonLats.map(([lon]) => lon), lonLats.map(([, lat]) => lat)];
    const grid = makeSiteGrid({
      west: Math.min(...lons),
      east: Math.max(...lons),
      south: Math.min(...lats),
      north: Math.max(...lats),
    });
    expect(packed!.grid.origin).toEqual(grid.origin);
    const got = packed!.layers[0]!.features.flatMap(({ geometry }) =>
      geometry?.type === "Polygon" ? geometry.coordinates[0]! : [],
    );
    expect(got.length).toBe(all.length);
    for (const [index, [x, y, ...more]] of all.entries()) {
      const [e, n] = grid.forward(crs.toWgs84(x!, y!));
      const position = got[index]!;
      expect(Math.hypot(position[0]! - e, position[1]! - n)).toBeLessThan(1e-5);
      expect(position.slice(2)).toEqual(more);
    }
    for (const { geometry } of packed!.layers[0]!.features) {
      const ring = geometry?.type === "Polygon" ? geometry.coordinates[0]! : [];
      expect(ring.at(-1)).toEqual(ring[0]);
    }
  });
});
