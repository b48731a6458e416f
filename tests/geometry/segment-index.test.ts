import { describe, expect, it } from "vitest";
import { discRing } from "../../src/geometry/rings.ts";
import { SegmentIndex } from "../../src/geometry/segment-index.ts";
import { lineIntersection, nearestOfSegments, pointSegmentM } from "../../src/geometry/segments.ts";
import { seeded } from "../support/seeded.ts";

describe("segments", () => {
  it("measures a point to a segment by its foot or its nearer end (elementary)", () => {
    expect(pointSegmentM(3, 4, 0, 0, 10, 0)).toBe(4);
    expect(pointSegmentM(13, 4, 0, 0, 10, 0)).toBe(5);
    expect(pointSegmentM(1, 1, 2, 2, 2, 2)).toBeCloseTo(Math.SQRT2, 12);
  });

  it("finds the nearest pair of two segments, 0 where they cross", () => {
    const pair = nearestOfSegments([0, 0], [10, 0], [4, 3], [4, 9]);
    expect(pair.distanceM).toBe(3);
    expect(pair.first).toEqual([4, 0]);
    expect(pair.second).toEqual([4, 3]);
    expect(nearestOfSegments([0, 0], [10, 10], [0, 10], [10, 0]).distanceM).toBe(0);
  });

  it("meets two lines, and says when they are parallel", () => {
    expect(lineIntersection([0, 0], [1, 1], [0, 4], [1, 3])).toEqual([2, 2]);
    expect(lineIntersection([0, 0], [1, 0], [0, 1], [5, 1])).toBeUndefined();
  });
});

describe("SegmentIndex", () => {
  it("finds the same nearest segment as looking at every one", () => {
    const random = seeded(7);
    const rings = Array.from({ length: 40 }, () =>
      discRing([random() * 100, random() * 100], 0.5 + random() * 6),
    );
    const index = new SegmentIndex(rings);
    for (let k = 0; k < 300; k++) {
      const e = random() * 120 - 10;
      const n = random() * 120 - 10;
      let least = Infinity;
      for (let s = 0; s < index.count; s++) least = Math.min(least, index.distanceM(s, e, n));
      expect(index.nearest(e, n, Infinity)?.distanceM).toBe(least);
    }
  });

  it("finds nothing beyond the limit, and nothing in an empty index", () => {
    const index = new SegmentIndex([discRing([0, 0], 1)]);
    expect(index.nearest(10, 0, 8)).toBeUndefined();
    expect(new SegmentIndex([]).nearest(0, 0, Infinity)).toBeUndefined();
  });
});
