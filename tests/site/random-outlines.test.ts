import { assert as holds, integer, property, tuple, uniqueArray } from "fast-check";
import type { Position } from "geojson";
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { grow, shrink } from "../../src/geometry/offset.ts";
import { difference, intersection, union } from "../../src/geometry/overlay.ts";
import { totalAreaM2 } from "../../src/geometry/rings.ts";
import { soundAreas } from "../../src/geometry/sound-areas.ts";
import { repairPolygon } from "../../src/site/repair-polygon.ts";
import { type Drawn, isValidArea, polygon, ring, siteOf } from "./builder.ts";

beforeAll(() => loadEngine());

/**
 * Area inside an odd number of rings, by horizontal slabs between all vertices and crossings: in a
 * slab nothing crosses, so every second gap is a trapezium whose width at mid-height is its mean.
 */
function evenOddM2(rings: readonly (readonly Position[])[]): number {
  const edges = rings.flatMap((r) => r.slice(1).map((b, i) => [r[i]!, b] as const));
  const levels = new Set<number>();
  for (const [a, b] of edges) {
    levels.add(a[1]!);
    for (const [c, d] of edges) {
      const [re, rn] = [b[0]! - a[0]!, b[1]! - a[1]!];
      const [se, sn] = [d[0]! - c[0]!, d[1]! - c[1]!];
      const cross = re * sn - rn * se;
      const t = ((c[0]! - a[0]!) * sn - (c[1]! - a[1]!) * se) / cross;
      if (cross !== 0 && t > 0 && t < 1) levels.add(a[1]! + t * rn);
    }
  }
  const sorted = [...levels].sort((a, b) => a - b);
  let area = 0;
  for (let i = 1; i < sorted.length; i++) {
    const middle = (sorted[i]! + sorted[i - 1]!) / 2;
    const easts = edges
      .filter(([a, b]) => a[1]! > middle !== b[1]! > middle)
      .map(([a, b]) => a[0]! + ((middle - a[1]!) / (b[1]! - a[1]!)) * (b[0]! - a[0]!))
      .sort((a, b) => a - b);
    for (let k = 1; k < easts.length; k += 2) {
      area += (easts[k]! - easts[k - 1]!) * (sorted[i]! - sorted[i - 1]!);
    }
  }
  return area;
}

const corner = tuple(integer({ min: 0, max: 40 }), integer({ min: 0, max: 40 }));
const outline = uniqueArray(corner, {
  minLength: 3,
  maxLength: 12,
  selector: ([e, n]) => `${e} ${n}`,
});
const settings = { seed: 20, numRuns: 120 };

describe("the measure itself", () => {
  it("knows a square with a square hole", () => {
    const square = (at: number, size: number) =>
      ring([at, at], [at + size, at], [at + size, at + size], [at, at + size]);
    expect(evenOddM2([square(0, 10), square(2, 4)])).toBeCloseTo(84, 9);
  });
});

describe("any closed walk over a grid of points", () => {
  it("becomes valid areas of its even-odd area", () => {
    holds(
      property(outline, (corners) => {
        const walk = ring(...corners);
        const { areas } = repairPolygon([walk], {}, () => {});
        for (const area of areas) expect(isValidArea(area)).toBe(true);
        expect(totalAreaM2(areas)).toBeCloseTo(evenOddM2([walk]), 2);
        expect(totalAreaM2(union(areas))).toBeCloseTo(totalAreaM2(areas), 3);
      }),
      settings,
    );
  });

  it("with another walk as its hole loses what the hole covers, and gains nothing", () => {
    holds(
      property(outline, outline, (shellCorners, holeCorners) => {
        const [shell, hole] = [ring(...shellCorners), ring(...holeCorners)];
        const alone = repairPolygon([shell], {}, () => {}).areas;
        const cover = repairPolygon([hole], {}, () => {}).areas;
        const { areas, bays } = repairPolygon([shell, hole], {}, () => {});
        for (const area of [...areas, ...bays]) expect(isValidArea(area)).toBe(true);
        const coveredM2 = totalAreaM2(intersection(alone, cover));
        expect(totalAreaM2(areas)).toBeCloseTo(totalAreaM2(alone) - coveredM2, 2);
        expect(totalAreaM2(intersection(areas, cover))).toBeLessThan(0.01);
      }),
      settings,
    );
  });

  it("beside others gives lawns that are valid and do not overlap, and keeps their union", () => {
    holds(
      property(outline, outline, outline, (...walks) => {
        // One true square, so that there always is a lawn.
        const square = ring([50, 0], [60, 0], [60, 10], [50, 10]);
        const drawn = [...walks.map((corners) => ring(...corners)), square];
        const { site } = siteOf(
          ...drawn.map((walk) => [polygon(walk), { role: "lawn" }] satisfies Drawn),
        );
        const lawns = site.lawns.map((lawn) => lawn.area);
        for (const lawn of lawns) expect(isValidArea(lawn)).toBe(true);
        const beds = site.things.flatMap((thing) => thing.areas);
        const all = union(drawn.flatMap((walk) => repairPolygon([walk], {}, () => {}).areas));
        const ground = beds.length === 0 ? lawns : difference(lawns, beds);
        // Slivers up to 2 cm wide go to the bed beside them: nothing wider is missing.
        const missing = soundAreas(difference(all, ground));
        expect(totalAreaM2(shrink(missing, 0.0105, "mitre"))).toBeLessThan(0.005);
        // Seams close gaps of 2 cm: nothing is added farther than that from a lawn.
        expect(totalAreaM2(difference(ground, grow(all, 0.0206, "mitre")))).toBeLessThan(0.005);
        expect(Math.abs(totalAreaM2(union(lawns)) - totalAreaM2(lawns))).toBeLessThan(0.001);
      }),
      settings,
    );
  });
});
