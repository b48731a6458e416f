import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { areaM2, discRing, reversed, ringLengthM } from "../../src/geometry/rings.ts";
import type { AreaM, RingM } from "../../src/model/geometry.ts";
import { mergeIslands } from "../../src/plan/islands.ts";

beforeAll(() => loadEngine());

const SHELL = Float64Array.of(0, 0, 40, 0, 40, 30, 0, 30);

function lawn(...holes: RingM[]): AreaM {
  return { shell: SHELL, holes: holes.map(reversed) };
}

function square(e: number, n: number, side: number): RingM {
  return Float64Array.of(e, n, e + side, n, e + side, n + side, e, n + side);
}

function wireM({ shell, holes }: AreaM): number {
  return [shell, ...holes].reduce((sum, ring) => sum + ringLengthM(ring), 0);
}

describe("mergeIslands", () => {
  // Two 3 m squares 1 m apart: apart they need 24 m and 2 m of pair, together 20 m: 6 m saved for
  // 3 m² of lawn, half a square metre a metre (elementary).
  const pair = lawn(square(10, 10, 3), square(14, 10, 3));

  it("leaves islands apart where lawn is worth more than the wire", () => {
    expect(mergeIslands(pair, 0.49)).toMatchObject({ part: pair, merges: 0 });
    expect(mergeIslands(pair, 0)).toMatchObject({ part: pair, merges: 0 });
  });

  it("makes one of two where the wire saved is worth the lawn between them", () => {
    const merged = mergeIslands(pair, 1.5);
    expect(merged.merges).toBe(1);
    expect(merged.part.holes).toHaveLength(1);
    expect(merged.savedM).toBeCloseTo(6, 3);
    expect(merged.givenUpM2).toBeCloseTo(3, 3);
    expect(wireM(merged.part)).toBeCloseTo(140 + 20, 3);
  });

  it("takes an island into the edge where passing behind it is shorter", () => {
    // A 4 m square 1 m from the edge: 16 m and 2 m of pair, or 10 m more edge less 4 m of it.
    const near = lawn(square(18, 1, 4));
    const merged = mergeIslands(near, 3);
    expect(merged.merges).toBe(1);
    expect(merged.part.holes).toHaveLength(0);
    expect(merged.savedM).toBeGreaterThan(16 + 2 - 10);
    expect(areaM2(merged.part)).toBeCloseTo(areaM2(near) - merged.givenUpM2, 6);
  });

  it("never gives up more than the rate allows", () => {
    const discs = Array.from({ length: 12 }, (_, i) =>
      discRing([5 + 5.2 * (i % 6), 8 + 8 * Math.floor(i / 6)], 2.1),
    );
    for (const rate of [0.2, 0.8, 2, 5]) {
      const merged = mergeIslands(lawn(...discs), rate);
      expect(merged.givenUpM2).toBeLessThanOrEqual(rate * merged.savedM + 1e-6);
    }
  });
});
