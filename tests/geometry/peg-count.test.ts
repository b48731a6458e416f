/** The count of pegs against a plain dynamic programme over the same rules, on small rings. */
import { describe, expect, it } from "vitest";
import { fitChords, spansOf } from "../../src/geometry/chord-fit/chord-fit.ts";
import { discRing, reversed, vertexCount } from "../../src/geometry/rings.ts";
import type { RingM } from "../../src/model/geometry.ts";
import { fewestPegs } from "../support/peg-programme.ts";
import { organicRing, seeded } from "../support/seeded.ts";

const OPTIONS = { spacingM: 1, wanderM: 0.15 };
const RULES = { ...OPTIONS, cutM: 0.05 };

function pegsOf(ring: RingM): number {
  let pegs = 0;
  const n = vertexCount(ring);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const length = Math.hypot(ring[2 * j]! - ring[2 * i]!, ring[2 * j + 1]! - ring[2 * i + 1]!);
    pegs += spansOf(length, OPTIONS.spacingM);
  }
  return pegs;
}

describe("peg count", () => {
  it("equals the programme's round discs, from inside and from outside", () => {
    for (const radius of [0.8, 1.3]) {
      for (const ring of [
        discRing([0, 0], radius, 1e-3),
        reversed(discRing([0, 0], radius, 1e-3)),
      ]) {
        expect(pegsOf(fitChords(ring, OPTIONS))).toBeLessThanOrEqual(fewestPegs(ring, RULES));
      }
    }
  });

  it("is within one of the programme's on organic rings, and mostly the same", () => {
    const random = seeded(8);
    let more = 0;
    const rings = 10;
    for (let k = 0; k < rings; k++) {
      const drawn = organicRing(random, [0, 0], 1.2 + random() * 0.8, 60);
      const ring = k % 2 === 0 ? drawn : reversed(drawn);
      const made = pegsOf(fitChords(ring, OPTIONS));
      const best = fewestPegs(ring, RULES);
      expect(made).toBeLessThanOrEqual(best + 1);
      if (made > best) more++;
    }
    expect(more).toBeLessThanOrEqual(rings / 5);
  });
});
