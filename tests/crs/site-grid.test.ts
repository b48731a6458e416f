import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { extentOf, makeSiteGrid, siteGridAt } from "../../src/crs/site-grid.ts";
import type { LonLat } from "../../src/model/geometry.ts";

const WGS84 = geodesic.Geodesic.WGS84;
const ORIGINS: LonLat[] = [
  [0, 0],
  [24.944295, 60.171631],
  [-95.4, 29.7],
  [174.8, -41.3],
  [179.999, -17],
  [15, 78],
];

describe("the reference library that lengths are checked with", () => {
  it("gives the published geodesic 40.6 N 73.8 W to 51.6 N 0.5 W (GeographicLib documentation)", () => {
    const line = WGS84.Inverse(40.6, -73.8, 51.6, -0.5);
    expect(line.s12).toBeCloseTo(5_551_759.400319, 5);
    expect(line.azi1).toBeCloseTo(51.19888284558, 10);
    expect(line.azi2).toBeCloseTo(107.82177673551, 10);
  });
});

describe("site grid", () => {
  it("returns to the same place within 0.1 mm over 20 km", () => {
    for (const origin of ORIGINS) {
      const grid = siteGridAt(origin);
      for (const east of [-10_000, -1, 0, 3_333.3, 10_000]) {
        for (const north of [-10_000, 0, 7_777.7, 10_000]) {
          const [e, n] = grid.forward(grid.inverse([east, north]));
          expect(Math.hypot(e - east, n - north)).toBeLessThan(0.0001);
        }
      }
    }
  });

  it("measures lengths within 2 ppm and 1 mm of the geodesic (GeographicLib)", () => {
    for (const origin of ORIGINS) {
      const grid = siteGridAt(origin);
      for (const azimuthDeg of [0, 37, 90, 200, 315]) {
        for (const lengthM of [1, 100, 1_000, 10_000]) {
          const end = WGS84.Direct(origin[1], origin[0], azimuthDeg, lengthM);
          const [e, n] = grid.forward([end.lon2!, end.lat2!]);
          const error = Math.abs(Math.hypot(e, n) - lengthM);
          expect(error).toBeLessThan(0.001 + 2e-6 * lengthM);
        }
      }
    }
  });

  it("agrees with PROJ 9.1.1 to 0.01 mm", () => {
    // echo "24.95 60.18" | cs2cs -f "%.6f" +proj=longlat +datum=WGS84 +to +proj=tmerc
    //   +lat_0=60.171631 +lon_0=24.944295 +k=1 +x_0=0 +y_0=0 +ellps=WGS84 +units=m
    const [e, n] = siteGridAt([24.944295, 60.171631]).forward([24.95, 60.18]);
    expect(e).toBeCloseTo(316.608124, 5);
    expect(n).toBeCloseTo(932.448072, 5);
  });

  it("has its origin at the middle of the extent, to six decimals", () => {
    const grid = makeSiteGrid({ west: 10, south: 50, east: 10.0000011, north: 50.02 });
    expect(grid.origin).toEqual([10.000001, 50.01]);
    expect(grid.projString).toBe(
      "+proj=tmerc +lat_0=50.01 +lon_0=10.000001 +k=1 +x_0=0 +y_0=0 +ellps=WGS84 +units=m",
    );
  });

  it("takes the short way round for a site across the antimeridian", () => {
    const extent = extentOf([
      [179.999, -17],
      [-179.999, -16.99],
    ])!;
    expect(extent.east - extent.west).toBeCloseTo(0.002, 9);
    const grid = makeSiteGrid(extent);
    expect(Math.abs(grid.origin[0])).toBeCloseTo(180, 6);
    const [e] = grid.forward([-179.999, -17]);
    expect(Math.abs(e)).toBeLessThan(200);
  });
});
