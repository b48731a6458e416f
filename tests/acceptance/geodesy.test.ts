/** Lengths and places against published values. */
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import type { RawLayer } from "../../src/index.ts";
import { toSiteGrid } from "../../src/index.ts";
import { geodesicAreaM2, geodesicBetween, geodesicLengthM, planeAt } from "../support/plane.ts";
import { judgeWritten, planDrawn } from "../support/planning.ts";
import { Pen, rectangle } from "../support/sites.ts";

function layerAt(lon: number, lat: number, crs: RawLayer["crs"]): RawLayer {
  return {
    file: "points",
    format: "geojson",
    layer: "points",
    fields: [],
    crs,
    features: [{ number: 1, geometry: { type: "Point", coordinates: [lon, lat] }, properties: {} }],
  };
}

describe("the measuring rod of these tests", () => {
  it("agrees with the geodesic of GeographicLib's documentation", () => {
    // 40.6 N 73.8 W to 51.6 N 0.5 W on WGS 84: 5 551 759.400319 m, azimuth 51.19888284558°
    // (GeographicLib documentation; recomputed with GeodSolve 2.1.2).
    const { distanceM, azimuthDeg } = geodesicBetween([-73.8, 40.6], [-0.5, 51.6]);
    expect(distanceM).toBeCloseTo(5551759.400319, 5);
    expect(azimuthDeg).toBeCloseTo(51.19888284558, 10);
  });

  it("lays out a square kilometre that is one", () => {
    const plane = planeAt([12, 48]);
    const ring = [...rectangle(1000, 1000, [-500, -500]), [-500, -500] as const].map((at) =>
      plane.toDegrees(at),
    );
    expect(geodesicLengthM(ring)).toBeCloseTo(4000, 3);
    expect(geodesicAreaM2(ring)).toBeCloseTo(1e6, 1);
  });
});

describe("the site grid", () => {
  it.each([
    [0, 0],
    [-73.8, 40.6],
    [15.6, 78.2],
    [151.2, -33.9],
    [179.9999, -17.5],
  ])("at %f, %f: distances are geodesic to 1 ppm within 5 km", (lon, lat) => {
    const placed = toSiteGrid([layerAt(lon, lat, { kind: "wgs84", from: "test" })], {
      registry: epsgRegistry,
    });
    if (!placed.ok) throw new Error(placed.problem.code);
    const { grid } = placed.value;
    const plane = planeAt([lon, lat]);
    for (const r of [10, 300, 5000]) {
      for (let a = 0; a < 8; a++) {
        const [one, other] = [a, a + 1].map((k) =>
          plane.toDegrees([r * Math.sin((k * Math.PI) / 4), r * Math.cos((k * Math.PI) / 4)]),
        );
        const [p, q] = [
          grid.forward(one as [number, number]),
          grid.forward(other as [number, number]),
        ];
        const flat = Math.hypot(p[0] - q[0], p[1] - q[1]);
        const { distanceM } = geodesicBetween(one!, other!);
        expect(Math.abs(flat - distanceM)).toBeLessThan(1e-6 * distanceM + 1e-6);
        const back = grid.inverse(p);
        expect(geodesicBetween(back, one!).distanceM).toBeLessThan(1e-6);
      }
    }
  });
});

describe("length_m of the wire", () => {
  it.each([
    [0.01, 0.01],
    [-155.5, 19.9],
    [25.5, 66.9],
    [-68.3, -54.8],
    [179.99, -17.5],
  ])("at %f, %f is the geodesic length within 2 ppm and 1 mm", async (lon, lat) => {
    const drawn = new Pen({ origin: [lon, lat], turnDeg: 10 }).lawn(rectangle(300, 120)).drawn;
    // One loop round all of it, longer than the machine may have: the length is what is tested.
    const written = await planDrawn(drawn, { rules: { plan: { split: false } } });
    const { breaches, figures } = judgeWritten(written, drawn.truth);
    expect(breaches).toEqual([]);
    expect(Math.abs(figures.lengthErrorM)).toBeLessThan(0.001 + 2e-6 * figures.wireM);
    expect(figures.wireM).toBeCloseTo(2 * (299.4 + 119.4), 1);
  });
});

describe("national systems", () => {
  // EPSG Guidance Note 7-2 (from memory; recomputed with PROJ 9.1.1).
  it("Transverse Mercator example: British National Grid on the Airy datum", () => {
    const osgb =
      "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy +no_defs";
    const at = positionOf(577274.99, 69740.5, osgb);
    // Without a datum shift: φ 50°30′ N, λ 0°30′ E, to the centimetre that the note gives.
    expect(geodesicBetween(at, [0.5, 50.5]).distanceM).toBeLessThan(0.015);
  });

  it("Lambert Conic Conformal 2SP example: Texas South Central on NAD27, US survey feet", () => {
    const texas =
      "+proj=lcc +lat_1=28.3833333333333 +lat_2=30.2833333333333 +lat_0=27.8333333333333 +lon_0=-99 +x_0=609601.219202438 +y_0=0 +ellps=clrk66 +units=us-ft +no_defs";
    const at = positionOf(2963503.91, 254759.8, texas);
    expect(geodesicBetween(at, [-96, 28.5]).distanceM).toBeLessThan(0.01);
  });

  function positionOf(x: number, y: number, text: string): readonly [number, number] {
    const layer = layerAt(x, y, { kind: "definition", text, from: "test" });
    const placed = toSiteGrid([layer], { registry: epsgRegistry });
    if (!placed.ok) throw new Error(`${placed.problem.code}: ${placed.problem.message}`);
    const [feature] = placed.value.layers[0]!.features;
    const { coordinates } = feature!.geometry as unknown as { coordinates: [number, number] };
    return placed.value.grid.inverse(coordinates);
  }
});
