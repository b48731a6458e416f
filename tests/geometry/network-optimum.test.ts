/**
 * The network of paired runs against the best there is, on small random sites. `SITES=1000` in the
 * environment asks for more of them than every run can afford.
 */
import { describe, expect, it } from "vitest";
import { reversed, ringLengthM } from "../../src/geometry/rings.ts";
import { spanningNetwork } from "../../src/geometry/spanning-network.ts";
import { STEINER_RATIO, steinerNetwork } from "../../src/geometry/steiner-network.ts";
import type { PointM, RingM } from "../../src/model/geometry.ts";
import { exhaustiveNetworkM } from "../support/exhaustive-network.ts";
import { polygonOf } from "../support/jsts.ts";
import { organicRing, seeded } from "../support/seeded.ts";

const SITES = Number(process.env.SITES ?? 40);

function randomRings(random: () => number): RingM[] {
  const width = 15 + random() * 30;
  const height = 12 + random() * 20;
  const rings: RingM[] = [Float64Array.of(0, 0, width, 0, width, height, 0, height)];
  const placed: { at: PointM; reach: number }[] = [];
  const wanted = 1 + Math.floor(random() * 8);
  for (let tries = 0; tries < 400 && placed.length < wanted; tries++) {
    const radius = 0.6 + random() * 1.6;
    const reach = radius * 1.45;
    const at: PointM = [
      reach + 0.9 + random() * (width - 2 * reach - 1.8),
      reach + 0.9 + random() * (height - 2 * reach - 1.8),
    ];
    const near = placed.some(
      (other) => Math.hypot(other.at[0] - at[0], other.at[1] - at[1]) < other.reach + reach + 0.9,
    );
    if (near) continue;
    placed.push({ at, reach });
    rings.push(reversed(organicRing(random, at, radius, 14)));
  }
  return rings;
}

describe("networks of up to eight islands", () => {
  it(`are within 1 % of the best wire on average and never 3 % above it (${SITES} sites)`, () => {
    const random = seeded(20261125);
    let sum = 0;
    let worst = 0;
    let worstNetwork = 0;
    for (let site = 0; site < SITES; site++) {
      const rings = randomRings(random);
      const links = spanningNetwork(rings, new Set([0]));
      const treeM = links.reduce((total, link) => total + link.lengthM, 0);
      const made = steinerNetwork(rings, links, { barred: () => false, worthM: 0.1 }).lengthM;
      const shapes = rings.map((ring) => polygonOf(ring).getBoundary());
      const best = Math.min(
        made,
        exhaustiveNetworkM(rings, (a, b) => shapes[a]!.distance(shapes[b]!)),
      );
      expect(made).toBeLessThanOrEqual(treeM + 1e-9);
      expect(best).toBeGreaterThanOrEqual(STEINER_RATIO * treeM - 1e-6);
      const ringsM = rings.reduce((total, ring) => total + ringLengthM(ring), 0);
      const above = (ringsM + 2 * made) / (ringsM + 2 * best) - 1;
      sum += above;
      worst = Math.max(worst, above);
      worstNetwork = Math.max(worstNetwork, made / best - 1);
    }
    expect(sum / SITES).toBeLessThan(0.01);
    expect(worst).toBeLessThan(0.03);
  });
});
