/** Areas cut down to many boxes, and rings in rows: against the plain ways over the whole. */
import { beforeAll, describe, expect, it } from "vitest";
import { AreaIndex } from "../../src/geometry/area-index.ts";
import { loadEngine } from "../../src/geometry/engine.ts";
import { areasNearBoxes } from "../../src/geometry/near-boxes.ts";
import { difference, intersection } from "../../src/geometry/overlay.ts";
import { areaContains, boxOf, discRing, totalAreaM2 } from "../../src/geometry/rings.ts";
import { RowedRings } from "../../src/geometry/rowed-rings.ts";
import type { AreaM } from "../../src/model/geometry.ts";
import { organicRing, seeded } from "../support/seeded.ts";

beforeAll(() => loadEngine());

function ground(seed: number): { areas: AreaM[]; random: () => number } {
  const random = seeded(seed);
  const shell = organicRing(random, [0, 0], 60, 700);
  const beds = Array.from({ length: 40 }, (): AreaM => {
    const at = [120 * (random() - 0.5), 120 * (random() - 0.5)] as const;
    return { shell: organicRing(random, at, 1 + 3 * random(), 20), holes: [] };
  });
  return { areas: difference([{ shell, holes: [] }], beds), random };
}

describe("ground near boxes", () => {
  it.each([1, 2, 3])("%i: holds all of the ground that lies in each", (seed) => {
    const { areas, random } = ground(seed);
    const discs = Array.from({ length: 30 }, () =>
      discRing([110 * (random() - 0.5), 110 * (random() - 0.5)], 2 + 8 * random()),
    );
    const near = areasNearBoxes(
      areas,
      discs.map((disc) => boxOf(disc)),
    );
    discs.forEach((shell, i) => {
      const disc = [{ shell, holes: [] }];
      const whole = totalAreaM2(intersection(disc, areas));
      expect(totalAreaM2(intersection(disc, near[i]!))).toBeCloseTo(whole, 3);
    });
  });

  it("keeps the whole for a few boxes, and nothing for none", () => {
    const { areas } = ground(4);
    expect(areasNearBoxes(areas, [boxOf(areas[0]!.shell)])).toEqual([areas]);
    expect(areasNearBoxes(areas, [])).toEqual([]);
  });
});

describe("rings in rows", () => {
  it.each([1, 2, 3])("%i: hold the points that an even-odd test over all edges finds", (seed) => {
    const { areas, random } = ground(seed);
    const index = new AreaIndex(areas);
    const rows = areas.map(({ shell, holes }) => new RowedRings([shell, ...holes]));
    for (let k = 0; k < 3000; k++) {
      const [e, n] = [150 * (random() - 0.5), 150 * (random() - 0.5)];
      const inside = areas.map((area) => areaContains(area, e, n));
      expect(rows.map((one) => one.contains(e, n))).toEqual(inside);
      expect(index.locate(e, n)).toBe(inside.indexOf(true));
    }
  });
});
