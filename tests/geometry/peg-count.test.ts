/**
 * The count of pegs against a plain dynamic programme over the same rules, on small rings.
 *
 * The programme's places stand on a grid (5 cm by six depths), ours anywhere along the ring: ours may
 * be fewer, and must never be more. `PEG_RINGS=5000 npx vitest run tests/geometry/peg-count.test.ts`
 * looks at as many rings of each kind.
 */
import { describe, expect, it } from "vitest";
import { fitChords, spansOf } from "../../src/geometry/chord-fit/chord-fit.ts";
import { discRing, reversed, vertexCount } from "../../src/geometry/rings.ts";
import type { RingM } from "../../src/model/geometry.ts";
import { fewestPegs, fewestSpans, RingProgramme } from "../support/peg-programme.ts";
import { organicRing, seeded } from "../support/seeded.ts";

const OPTIONS = { spacingM: 1, wanderM: 0.15 };
const RULES = { ...OPTIONS, cutM: 0.05 };
const RINGS = Number(process.env.PEG_RINGS ?? 60);
const TIME_LIMIT_MS = 60_000 + 400 * RINGS;

function lengthM(ring: RingM, i: number): number {
  const j = (i + 1) % vertexCount(ring);
  return Math.hypot(ring[2 * j]! - ring[2 * i]!, ring[2 * j + 1]! - ring[2 * i + 1]!);
}

function pegsOf(ring: RingM): number {
  let pegs = 0;
  for (let i = 0; i < vertexCount(ring); i++) pegs += spansOf(lengthM(ring, i), OPTIONS.spacingM);
  return pegs;
}

/** An organic ring of a radius between two, seen from inside and from outside in turn. */
function drawn(random: () => number, k: number, leastM: number, mostM: number): RingM {
  const ring = organicRing(random, [0, 0], leastM + random() * (mostM - leastM), 60);
  return k % 2 === 0 ? ring : reversed(ring);
}

/** Two thirds of an organic ring closed by a straight edge: two corners, the first at vertex 0. */
function withTwoCorners(ring: RingM): RingM {
  return ring.slice(0, 2 * Math.round(vertexCount(ring) * 0.66));
}

describe("peg count", () => {
  it("is not above the programme's round discs, from inside and from outside", () => {
    for (const radius of [0.8, 1.3]) {
      const disc = discRing([0, 0], radius, 1e-3);
      for (const ring of [disc, reversed(disc)]) {
        expect(pegsOf(fitChords(ring, OPTIONS))).toBeLessThanOrEqual(fewestPegs(ring, RULES));
      }
    }
  });

  it.each([
    ["tiny", 5, 0.5, 1.2],
    ["small", 8, 1.2, 2],
    ["larger", 6, 2, 4],
  ])(
    "is never above the programme's on %s organic rings",
    (_, seed, leastM, mostM) => {
      const random = seeded(seed);
      const more: number[] = [];
      let equal = 0;
      for (let k = 0; k < RINGS; k++) {
        const ring = drawn(random, k, leastM, mostM);
        const made = pegsOf(fitChords(ring, OPTIONS));
        const programme = new RingProgramme(ring, RULES);
        if (programme.closesWith(made - 1)) more.push(k);
        else if (programme.closesWith(made)) equal++;
      }
      expect(more).toEqual([]);
      // The programme is no straw man: on most rings its grid does as well.
      expect(equal).toBeGreaterThan(RINGS / 3);
    },
    TIME_LIMIT_MS,
  );

  it(
    "is never above the programme's between corners",
    () => {
      const random = seeded(12);
      const more: number[] = [];
      let equal = 0;
      for (let k = 0; k < RINGS; k++) {
        const ring = withTwoCorners(drawn(random, k, 1, 4));
        const last = vertexCount(ring) - 1;
        const straight = spansOf(lengthM(ring, last), OPTIONS.spacingM);
        const made = pegsOf(fitChords(ring, OPTIONS)) - straight;
        const least = fewestSpans(ring, 0, last, RULES);
        if (made > least) more.push(k);
        if (made === least) equal++;
      }
      expect(more).toEqual([]);
      expect(equal).toBeGreaterThan(RINGS / 3);
    },
    TIME_LIMIT_MS,
  );
});
