/**
 * Changes that must not change the wire: turning, moving, mirroring, another order, points on edges, a
 * far lawn, another format or reference system. More set-in never encloses more; one island more
 * never breaks a rule. The long run is `npm run property -- --changes`.
 */
import { describe, expect, it } from "vitest";
import { seeded } from "../../src/physics/coverage/seeded.ts";
import { brokenBy, farthestM, type Laid } from "./metamorphic.ts";
import { sketchOf } from "./sketches.ts";

const SEEDS = Array.from({ length: 18 }, (_, i) => i + 1);

describe("what does not change the wire", () => {
  for (const seed of SEEDS) {
    it(`seed ${seed}`, async () => {
      expect((await brokenBy(sketchOf(seed), seeded(seed))).broken).toEqual([]);
    }, 60_000);
  }
});

describe("the comparison", () => {
  it("sees wire that lies elsewhere, and leaves pairs aside where only single wire counts", () => {
    const square = (side: number): Laid => ({
      wires: [
        [
          [0, 0],
          [side, 0],
          [side, side],
          [0, side],
          [0, 0],
        ],
      ],
      runs: [],
      islands: 0,
    });
    expect(farthestM(square(4), square(4), true)).toBe(0);
    expect(farthestM(square(4.2), square(4), true)).toBeCloseTo(Math.hypot(0.2, 0.2), 9);
    const paired: Laid = {
      ...square(4.2),
      runs: [
        [
          [4.2, 0],
          [4.2, 4.2],
        ],
        [
          [0, 4.2],
          [4.2, 4.2],
        ],
      ],
    };
    expect(farthestM(paired, square(4), true)).toBe(0);
  });
});
