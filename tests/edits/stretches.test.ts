import { describe, expect, it } from "vitest";
import { edgeStretches, nearestOnEdge, nearestStretch } from "../../src/page/edits/stretches.ts";
import type { PageShape } from "../../src/page/model/page-model.ts";

const lawn = (...rings: number[][]): { shapes: PageShape[] } => ({
  shapes: [
    { id: "lawn:1", kind: "lawn", name: "", figures: [], place: { form: "area", areas: [rings] } },
  ],
});

/** A rectangle of 30 m by 20 m whose south side has a vertex in its middle. */
const PLOT = lawn([0, 0, 15, 0, 30, 0, 30, 20, 0, 20]);
const circle = Array.from({ length: 36 }, (_, i) => (2 * Math.PI * i) / 36).flatMap((angle) => [
  5 * Math.cos(angle),
  5 * Math.sin(angle),
]);

describe("the lawn's edge in stretches", () => {
  it("goes from corner to corner, over points on straight sides", () => {
    const lengths = edgeStretches(PLOT).map(({ lengthM }) => lengthM);
    expect(lengths).toEqual([30, 20, 30, 20]);
    expect(edgeStretches(PLOT)[0]!.line).toEqual([
      [0, 0],
      [15, 0],
      [30, 0],
    ]);
  });

  it("without corners is one stretch, as long as a polygon of 36 sides in a circle", () => {
    const [one, ...more] = edgeStretches(lawn(circle));
    expect(more).toEqual([]);
    expect(one!.lengthM).toBeCloseTo(2 * 36 * 5 * Math.sin(Math.PI / 36), 9);
  });

  it("is found by a place beside it", () => {
    const stretches = edgeStretches(PLOT);
    expect(nearestStretch(stretches, [28, 10])).toBe(1);
    expect(nearestStretch(stretches, [10, 19.5])).toBe(2);
    expect(nearestStretch([], [0, 0])).toBe(-1);
    expect(nearestOnEdge(PLOT, [12, -3])).toEqual([12, 0]);
    expect(nearestOnEdge(PLOT, [-4, 25])).toEqual([0, 20]);
    expect(nearestOnEdge({ shapes: [] }, [1, 2])).toEqual([1, 2]);
  });
});
