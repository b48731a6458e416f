/** Opening in windows against opening all at once, on seeded grounds with gaps, necks and tips. */
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { ARC_TOLERANCE_M, shrink } from "../../src/geometry/offset.ts";
import { difference, intersection, union } from "../../src/geometry/overlay.ts";
import { areaM2, discRing, ringLengthM, toPoints, totalAreaM2 } from "../../src/geometry/rings.ts";
import { SegmentIndex } from "../../src/geometry/segment-index.ts";
import type { AreaM, PointM, RingM } from "../../src/model/geometry.ts";
import { leftInWindows, leftOf } from "../../src/plan/opening.ts";
import { cornerReach } from "../../src/plan/parts.ts";
import { organicRing, seeded } from "../support/seeded.ts";

beforeAll(() => loadEngine());

const DISC = { radiusM: 0.448, allowanceM: 0.002 };
const CORNER_DEG = 85;

const spot = (random: () => number, within: number): PointM => {
  const [angle, r] = [2 * Math.PI * random(), within * Math.sqrt(random())];
  return [r * Math.cos(angle), r * Math.sin(angle)];
};
const area = (shell: RingM): AreaM => ({ shell, holes: [] });

/** A wedge with its tip anywhere, 4 m long. */
function wedge(random: () => number, [e, n]: PointM): AreaM {
  const [to, half] = [2 * Math.PI * random(), 0.15 + 0.6 * random()];
  const at = (turn: number): [number, number] => [
    e + 4 * Math.cos(to + turn),
    n + 4 * Math.sin(to + turn),
  ];
  return area(Float64Array.of(e, n, ...at(-half), ...at(half)));
}

/** A wide organic lawn of islands, some in twos with a gap; bays with tips are cut into its rim. */
function ground(seed: number): AreaM[] {
  const random = seeded(seed);
  const shell = organicRing(random, [0, 0], 90, 1800);
  const islands = Array.from({ length: 14 }, () =>
    area(organicRing(random, spot(random, 86), 0.7 + 2 * random(), 40)),
  );
  const twos = Array.from({ length: 12 }, () => {
    const [e, n] = spot(random, 70);
    const gapM = 0.3 + random();
    const other = [e + 2 + gapM, n] as const;
    return [area(discRing([e, n], 1, 1e-3)), area(discRing(other, 1, 1e-3))];
  });
  const wedges = Array.from({ length: 16 }, () => wedge(random, spot(random, 86)));
  return difference([area(shell)], union([...islands, ...twos.flat(), ...wedges]));
}

/** How far the furthest vertex of a piece lies past the disc that comes nearest. */
function pastDiscM(piece: AreaM, centres: SegmentIndex): number {
  const far = toPoints(piece.shell).map(
    ([e, n]) => centres.nearest(e, n, Infinity)?.distanceM ?? Infinity,
  );
  return Math.max(...far) - DISC.radiusM;
}

/** What chords instead of arcs may come to along a piece, shrinking and growing: m². */
function hairM2(piece: AreaM): number {
  return 2 * ARC_TOLERANCE_M * ringLengthM(piece.shell);
}

describe("opening in windows", () => {
  it.each([1, 2, 3, 4, 5, 6])("leaves what opening all at once leaves, ground %i", (seed) => {
    const areas = ground(seed);
    const edges = new SegmentIndex(areas.flatMap(({ shell, holes }) => [shell, ...holes]));
    const whole = leftOf(areas, DISC);
    const found = leftInWindows(areas, edges, DISC, (CORNER_DEG * Math.PI) / 180);
    // It looks in windows at all, and so has pieces to give.
    expect(found?.length).toBeGreaterThan(0);
    // Nothing but what is left over: arcs may have their chords elsewhere.
    for (const piece of found!) {
      expect(totalAreaM2(difference([piece], whole))).toBeLessThan(hairM2(piece));
    }
    const centres = new SegmentIndex(
      shrink(areas, DISC.radiusM, "round").flatMap(({ shell, holes }) => [shell, ...holes]),
    );
    const tipM = cornerReach(CORNER_DEG) * DISC.radiusM;
    let deep = 0;
    for (const piece of whole) {
      const missingM2 = areaM2(piece) - totalAreaM2(intersection([piece], found!));
      const isTip = pastDiscM(piece, centres) < tipM;
      if (!isTip) deep++;
      if (!isTip) expect(missingM2).toBeLessThan(hairM2(piece));
    }
    expect(deep).toBeGreaterThan(1);
  });
});
