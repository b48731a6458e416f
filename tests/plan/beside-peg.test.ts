/** Where the wire lies beside the peg at the end of a pair: plane geometry done by hand. */
import { describe, expect, it } from "vitest";
import type { PointM } from "../../src/model/geometry.ts";
import { besidePeg, PEG_REACH_M } from "../../src/plan/beside-peg.ts";

const half = 0.00515;
const toward = (deg: number): PointM => [
  Math.cos((deg * Math.PI) / 180),
  Math.sin((deg * Math.PI) / 180),
];

describe("the wire beside a peg", () => {
  it("is at the peg where no pair begins", () => {
    expect(besidePeg([-1, 0], [0, 0], [1, 1], 0, 0)).toEqual([0, 0]);
  });

  it("is where the ring's line meets the pair's at a square turn", () => {
    const [e, n] = besidePeg([-1, 0], [0, 0], [0, 1], 0, half);
    expect(e).toBeCloseTo(-half, 12);
    expect(n).toBeCloseTo(0, 12);
  });

  it.each([2, 6, 15, 25, -2, -6, -15, -25])(
    "keeps half a gap from a pair that turns off by only %i°, to either side",
    (deg) => {
      for (const offset of [half, -half]) {
        const d = toward(deg);
        const [e, n] = besidePeg([-1, 0], [0, 0], d, 0, offset);
        expect(d[0] * n - d[1] * e).toBeCloseTo(offset, 12);
        expect(Math.hypot(e, n)).toBeLessThanOrEqual(PEG_REACH_M);
      }
    },
  );
});
