/** The fast engine's set-in against jsts: areas within 1 cm² for each metre of edge. */
import BufferOp from "jsts/org/locationtech/jts/operation/buffer/BufferOp.js";
import BufferParameters from "jsts/org/locationtech/jts/operation/buffer/BufferParameters.js";
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { grow, shrink } from "../../src/geometry/offset.ts";
import { difference } from "../../src/geometry/overlay.ts";
import { ringLengthM, totalAreaM2 } from "../../src/geometry/rings.ts";
import type { AreaM } from "../../src/model/geometry.ts";
import { multiPolygonOf } from "../support/jsts.ts";
import { organicRing, seeded } from "../support/seeded.ts";

beforeAll(() => loadEngine());

const CM2 = 1e-4;

function edgeM(areas: readonly AreaM[]): number {
  let sum = 0;
  for (const { shell, holes } of areas) {
    for (const ring of [shell, ...holes]) sum += ringLengthM(ring);
  }
  return sum;
}

function lawnWithBeds(random: () => number): AreaM[] {
  const lawn: AreaM = { shell: organicRing(random, [0, 0], 15 + random() * 15, 160), holes: [] };
  const beds = Array.from({ length: 6 }, (): AreaM => {
    const at: [number, number] = [(random() - 0.5) * 18, (random() - 0.5) * 18];
    return { shell: organicRing(random, at, 0.8 + random() * 1.5, 40), holes: [] };
  });
  return difference([lawn], beds);
}

describe("two engines agree on offsets", () => {
  it.each([0.1, 0.3, 0.35, 1])("inwards and outwards by %s m, round and mitred", (distance) => {
    const random = seeded(Math.round(1000 * distance));
    for (let k = 0; k < 6; k++) {
      for (const join of ["round", "mitre"] as const) {
        // Past the mitre limit one engine squares and the other bevels, so mitres are compared on
        // outlines without such corners; beds that overlap make them.
        const smooth: AreaM = { shell: organicRing(random, [0, 0], 12, 120), holes: [] };
        const lawn = join === "round" ? lawnWithBeds(random) : [smooth];
        const given = multiPolygonOf(lawn);
        const bound = CM2 * edgeM(lawn);
        const how = new BufferParameters();
        how.setQuadrantSegments(64);
        if (join === "mitre") {
          how.setJoinStyle(BufferParameters.JOIN_MITRE);
          how.setMitreLimit(2);
        }
        for (const side of [-1, 1]) {
          const theirs = BufferOp.bufferOp(given, side * distance, how).getArea();
          const ours = totalAreaM2(
            side < 0 ? shrink(lawn, distance, join) : grow(lawn, distance, join),
          );
          expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(bound);
        }
      }
    }
  });
});
