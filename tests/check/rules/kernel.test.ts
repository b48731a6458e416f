/** The judge's plane geometry: lengths, shares and windings that are known by hand. */
import { describe, expect, it } from "vitest";
import {
  crossingShare,
  gapBetween,
  lineM,
  meet,
  shareAt,
  signedAreaM2,
  toSegmentM,
  turn,
} from "../../../src/check/kernel/plane.ts";
import { endsOfRings, SegmentTree } from "../../../src/check/kernel/segment-tree.ts";
import { insideOf, Winding } from "../../../src/check/kernel/winding.ts";

describe("turns and shares", () => {
  it("left is positive, right negative, on the line nothing", () => {
    expect(turn(0, 0, 4, 0, 2, 1)).toBeGreaterThan(0);
    expect(turn(0, 0, 4, 0, 2, -1)).toBeLessThan(0);
    expect(turn(0, 0, 4, 0, 9, 0)).toBeCloseTo(0, 15);
  });

  it("the nearest share of a segment is kept between its ends", () => {
    expect(shareAt(1, 5, 0, 0, 4, 0)).toBe(0.25);
    expect(shareAt(-3, 5, 0, 0, 4, 0)).toBe(0);
    expect(shareAt(9, 5, 0, 0, 4, 0)).toBe(1);
    expect(shareAt(2, 6, 1, 2, 3, 10)).toBeCloseTo(0.5, 12);
    expect(shareAt(9, 5, 2, 2, 2, 2)).toBe(0);
  });

  it("distances are those of Pythagoras", () => {
    expect(toSegmentM(1, 3, 0, 0, 4, 0)).toBe(3);
    expect(toSegmentM(7, 4, 0, 0, 4, 0)).toBe(5);
    expect(toSegmentM(-3, -4, 0, 0, 4, 0)).toBe(5);
    // Beside a 3-4-5 slope: its unit normal is (−0.8, 0.6).
    expect(toSegmentM(3 - 1.6, 4 + 1.2, 0, 0, 6, 8)).toBeCloseTo(2, 12);
  });
});

describe("where segments meet", () => {
  it.each([
    ["crossing", [0, 0, 4, 0, 1, -1, 1, 1], true],
    ["one short of the other", [0, 0, 4, 0, 1, 1, 1, 3], false],
    ["the other short of the one", [1, 1, 1, 3, 0, 0, 4, 0], false],
    ["below it", [0, 0, 4, 0, 1, -1, 1, -3], false],
    ["end on the middle", [0, 0, 4, 0, 1, 0, 1, 3], true],
    ["the middle on an end", [1, 0, 1, 3, 0, 0, 4, 0], true],
    ["beyond the end", [0, 0, 4, 0, 5, -1, 5, 1], false],
    ["before the beginning", [0, 0, 4, 0, -1, -1, -1, 1], false],
    ["on one line, overlapping", [0, 0, 4, 0, 3, 0, 6, 0], true],
    ["on one line, end to end", [0, 0, 4, 0, 4, 0, 6, 0], true],
    ["on one line, apart", [0, 0, 4, 0, 5, 0, 6, 0], false],
    ["on one line, apart, the other first", [5, 0, 6, 0, 0, 0, 4, 0], false],
    ["upright on one line, apart", [0, 0, 0, 4, 0, 5, 0, 6], false],
    ["upright on one line, apart, the other first", [0, 5, 0, 6, 0, 0, 0, 4], false],
    ["upright on one line, end to end", [0, 4, 0, 6, 0, 0, 0, 4], true],
    ["upright on one line, end to end, the lower first", [0, 0, 0, 4, 0, 4, 0, 6], true],
    ["on one line, end to end, the other first", [4, 0, 6, 0, 0, 0, 4, 0], true],
  ] as const)("%s", (_, s, meets) => {
    const [a, b, c, d, e, f, g, h] = s;
    expect(meet(a, b, c, d, e, f, g, h)).toBe(meets);
    expect(meet(e, f, g, h, a, b, c, d)).toBe(meets);
    expect(meet(c, d, a, b, g, h, e, f)).toBe(meets);
  });

  it("the share of a crossing counts along the first", () => {
    expect(crossingShare(0, 0, 4, 0, 1, -1, 1, 1)).toBe(0.25);
    expect(crossingShare(1, -1, 1, 3, 0, 0, 4, 0)).toBe(0.25);
    expect(crossingShare(2, 2, 6, 10, 0, 4, 20, 4)).toBe(0.25);
    // Beyond its ends it is held at them.
    expect(crossingShare(0, 0, 4, 0, 6, -1, 6, 1)).toBe(1);
    expect(crossingShare(0, 0, 4, 0, -6, -1, -6, 1)).toBe(0);
    // On one line: the end of the other that lies within.
    expect(crossingShare(0, 0, 4, 0, 1, 0, 9, 0)).toBe(0.25);
    expect(crossingShare(0, 0, 4, 0, 9, 0, 3, 0)).toBe(0.75);
    expect(crossingShare(0, 0, 4, 0, 0, 0, 3, 0)).toBe(0.75);
    expect(crossingShare(0, 0, 4, 0, 4, 0, 3, 0)).toBe(0.75);
  });

  it("gaps tell how far, and where on both", () => {
    const out = { distanceM: 9, t: 9, u: 9 };
    expect(gapBetween(0, 0, 4, 0, 1, 2, 1, 5, out)).toEqual({ distanceM: 2, t: 0.25, u: 0 });
    expect(gapBetween(0, 0, 4, 0, 1, 5, 1, 2, out)).toEqual({ distanceM: 2, t: 0.25, u: 1 });
    expect(gapBetween(1, 2, 1, 5, 0, 0, 4, 0, out)).toEqual({ distanceM: 2, t: 0, u: 0.25 });
    expect(gapBetween(1, 5, 1, 2, 0, 0, 4, 0, out)).toEqual({ distanceM: 2, t: 1, u: 0.25 });
    expect(gapBetween(0, 0, 4, 0, 7, 4, 9, 4, out)).toEqual({ distanceM: 5, t: 1, u: 0 });
    // Crossing: no gap, at a quarter of one and half of the other.
    expect(gapBetween(0, 0, 4, 0, 1, -1, 1, 1, out)).toEqual({ distanceM: 0, t: 0.25, u: 0.5 });
    expect(out.distanceM).toBe(0);
  });

  it("areas by the shoelace formula, signed, and lengths", () => {
    const triangle = Float64Array.of(1000, 2000, 1006, 2000, 1006, 2008);
    expect(signedAreaM2(triangle)).toBe(24);
    expect(signedAreaM2(Float64Array.of(1006, 2008, 1006, 2000, 1000, 2000))).toBe(-24);
    expect(signedAreaM2(Float64Array.of(0, 0, 4, 0, 4, 4, 2, 1, 0, 4))).toBe(10);
    expect(lineM(triangle)).toBe(14);
    expect(lineM(triangle, true)).toBe(24);
    expect(lineM(Float64Array.of(3, 4), true)).toBe(0);
    expect(lineM(new Float64Array(0), true)).toBe(0);
  });
});

describe("segments by place", () => {
  const tree = new SegmentTree([0, 0, 10, 0, 10, 0, 10, 10, 0, 5, 1, 5]);

  it("rings become segments, the last back to the first", () => {
    const rings = [Float64Array.of(0, 0, 4, 0, 4, 3), Float64Array.of(7, 7, 9, 7)];
    expect([...endsOfRings(rings)]).toEqual([
      0, 0, 4, 0, 4, 0, 4, 3, 4, 3, 0, 0, 7, 7, 9, 7, 9, 7, 7, 7,
    ]);
  });

  it("what lies within reach of a box", () => {
    expect(tree.count).toBe(3);
    expect(tree.around(0, 4, 2, 6, 0)).toEqual([2]);
    expect(tree.around(2, 6, 0, 4, 0)).toEqual([2]);
    expect(tree.around(3, 1, 3, 1, 0.9)).toEqual([]);
    expect(tree.around(3, 1, 3, 1, 1)).toEqual([0]);
    expect(tree.around(11, 9, 12, 9, 1)).toEqual([1]);
    expect(tree.around(5, -2, 5, -2, 2)).toEqual([0]);
    expect(tree.around(-1, 5, -1, 5, 1)).toEqual([2]);
    expect(tree.around(0.5, 7, 0.5, 7, 2)).toEqual([2]);
    expect(new SegmentTree([]).around(0, 0, 1, 1, 9)).toEqual([]);
  });

  it("the nearest, within its limit", () => {
    expect(tree.nearest(3, 2, 5)).toEqual({ segment: 0, distanceM: 2 });
    expect(tree.nearest(3, 2, 2)).toEqual({ segment: 0, distanceM: 2 });
    expect(tree.nearest(3, 2, 1.9)).toBeUndefined();
    expect(tree.nearest(9, 2, 5)).toEqual({ segment: 1, distanceM: 1 });
    // As far from both: the one that comes first.
    expect(tree.nearest(8, 2, 5)).toEqual({ segment: 0, distanceM: 2 });
    expect(tree.nearest(0.5, 5.01, 5)?.segment).toBe(2);
    expect(tree.distanceM(2, 4, 9)).toBe(5);
    expect(new SegmentTree([]).nearest(0, 0, 3)).toBeUndefined();
    // A long slope whose box holds a place that it is far from.
    const slope = new SegmentTree([0, 0, 100, 100, 40, 0, 41, 0]);
    expect(slope.nearest(40, 1.5, 90)).toEqual({ segment: 1, distanceM: 1.5 });
  });
});

describe("winding numbers", () => {
  const square = Float64Array.of(0, 0, 4, 0, 4, 4, 0, 4);
  const clockwise = Float64Array.of(1, 1, 1, 3, 3, 3, 3, 1);

  it("count turns: anticlockwise up, clockwise down", () => {
    expect(new Winding([square]).at(2, 2)).toBe(1);
    expect(new Winding([clockwise]).at(2, 2)).toBe(-1);
    expect(new Winding([square, clockwise]).at(2, 2)).toBe(0);
    expect(new Winding([square, clockwise]).at(0.5, 2)).toBe(1);
    expect(new Winding([square, square]).at(0.5, 2)).toBe(2);
    expect(new Winding([square]).box).toEqual([0, 0, 4, 4]);
  });

  it("places outside are outside on every side", () => {
    const winding = new Winding([square]);
    for (const [e, n] of [
      [-1, 2],
      [5, 2],
      [2, -1],
      [2, 5],
      [-1, 0],
      [5, 4],
    ] as const) {
      expect(winding.at(e, n)).toBe(0);
    }
    expect(winding.at(Number.NaN, 2)).toBe(0);
  });

  it("every place of a comb is told, by many slabs", () => {
    // Ten teeth, each 1 m wide and 8 m high on a 1 m back, 1 m between them.
    const comb: number[] = [];
    for (let i = 0; i < 10; i++) comb.push(2 * i, 9, 2 * i, 1, 2 * i + 1, 1, 2 * i + 1, 9);
    const ring = Float64Array.from([-1, 9, -1, 0, 20, 0, 20, 9, ...reversed(comb)]);
    const winding = new Winding([ring]);
    for (let e = -0.5; e < 20; e++) {
      expect([e, winding.at(e, 0.5)]).toEqual([e, 1]);
      const isTooth = Math.floor(e) % 2 !== 0;
      for (const n of [1.5, 4.25, 8.9])
        expect([e, n, winding.at(e, n)]).toEqual([e, n, isTooth ? 1 : 0]);
    }
  });

  it("each segment is left by the half-open rule: one of two neighbours has the place between", () => {
    const [left, right] = [
      new Winding([Float64Array.of(0, 0, 2, 0, 2, 4, 0, 4)]),
      new Winding([Float64Array.of(2, 0, 4, 0, 4, 4, 2, 4)]),
    ];
    for (const n of [0, 1, 2, 3.5]) expect(left.at(2, n) + right.at(2, n)).toBe(1);
    const [low, high] = [
      new Winding([Float64Array.of(0, 0, 4, 0, 4, 2, 0, 2)]),
      new Winding([Float64Array.of(0, 2, 4, 2, 4, 4, 0, 4)]),
    ];
    for (const e of [0, 1, 2, 3.5]) expect(low.at(e, 2) + high.at(e, 2)).toBe(1);
    // A place level with the tip of a diamond.
    const diamond = new Winding([Float64Array.of(0, 2, 2, 0, 4, 2, 2, 4)]);
    expect([diamond.at(1, 2), diamond.at(3, 2), diamond.at(-1, 2), diamond.at(5, 2)]).toEqual([
      1, 1, 0, 0,
    ]);
  });

  it("a flat ring has no inside", () => {
    expect(new Winding([Float64Array.of(0, 1, 4, 1, 2, 1)]).at(1, 1)).toBe(0);
    expect(new Winding([]).at(0, 0)).toBe(0);
  });

  it("an area is odd turns of shell and holes, however they are wound", () => {
    const holes = [Float64Array.of(1, 1, 3, 1, 3, 3, 1, 3)];
    const inside = insideOf({ shell: square, holes });
    expect(inside.at(2, 2) & 1).toBe(0);
    expect(inside.at(0.5, 2) & 1).toBe(1);
  });
});

function reversed(vertices: readonly number[]): number[] {
  const points: number[][] = [];
  for (let i = 0; i < vertices.length; i += 2) points.push([vertices[i]!, vertices[i + 1]!]);
  return points.reverse().flat();
}
