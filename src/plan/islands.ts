/**
 * Which islands share a loop or join the edge although the machine could pass between.
 *
 * Two rings in one need less wire than two rings and a paired run, but give up the lawn between
 * them. How much lawn a metre of wire is worth is the user's to say; a merge is made when the wire
 * it saves, at that rate, is worth the lawn it gives up. Judged on the exact shapes, the shortest
 * links of the spanning network first, until nothing more is gained.
 */
import { convexHull } from "../geometry/detour.ts";
import { difference } from "../geometry/overlay.ts";
import { areaM2, boxOf, fromPoints, ringLengthM, toPoints } from "../geometry/rings.ts";
import { type RingLink, spanningNetwork } from "../geometry/spanning-network.ts";
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import { directionsAt, nearestPlace } from "./ring-place.ts";

export interface IslandMerges {
  readonly part: AreaM;
  readonly merges: number;
  /** Wire saved, metres, and lawn given up for it, m². */
  readonly savedM: number;
  readonly givenUpM2: number;
}

const ROUNDS = 4;
/** Lawn given up for a metre of wire is never less than this share of the gap's width. */
const LEAST_COST_SHARE = 0.7;
/** How far along the edge the wire leaves it to pass behind an island, in half widths of it. */
const EDGE_REACHES = [0.5, 1, 1.5, 2.5];

/**
 * @param part what the machine reaches, metres
 * @param lawnPerWireM2 lawn that may be given up for a metre of wire saved, m²; 0 merges nothing
 */
export function mergeIslands(part: AreaM, lawnPerWireM2: number): IslandMerges {
  let merges = 0;
  let savedM = 0;
  let givenUpM2 = 0;
  let now = part;
  for (let round = 0; round < ROUNDS && lawnPerWireM2 > 0 && now.holes.length > 0; round++) {
    const links = spanningNetwork([now.shell, ...now.holes], new Set([0])).filter(
      (link) => LEAST_COST_SHARE * link.lengthM < lawnPerWireM2,
    );
    const touched = new Set<number>();
    let merged = now;
    for (const link of links.sort((a, b) => a.lengthM - b.lengthM)) {
      if (touched.has(link.fromRing) || touched.has(link.toRing)) continue;
      const found = bestMerge(merged, now, link, lawnPerWireM2);
      if (!found) continue;
      // The outer ring may take in several islands in one round.
      for (const ring of [link.fromRing, link.toRing]) if (ring !== 0) touched.add(ring);
      merged = found.part;
      merges++;
      savedM += found.savedM;
      givenUpM2 += found.givenUpM2;
    }
    if (merged === now) break;
    now = merged;
  }
  return { part: now, merges, savedM, givenUpM2 };
}

interface Merge {
  readonly part: AreaM;
  readonly savedM: number;
  readonly givenUpM2: number;
}

function bestMerge(
  part: AreaM,
  drawn: AreaM,
  link: RingLink,
  lawnPerWireM2: number,
): Merge | undefined {
  let best: Merge | undefined;
  const worth = (merge: Merge): number => merge.savedM * lawnPerWireM2 - merge.givenUpM2;
  for (const taken of candidates(drawn, link)) {
    const merge = taking(part, taken, link.lengthM);
    if (merge && worth(merge) > 0 && (!best || worth(merge) > worth(best))) best = merge;
  }
  return best;
}

/** Pieces of lawn that could be given up to make one ring of two. */
function candidates(part: AreaM, link: RingLink): RingM[] {
  const ringOf = (ring: number): RingM => (ring === 0 ? part.shell : part.holes[ring - 1]!);
  if (link.fromRing !== 0 && link.toRing !== 0) {
    const points = [...toPoints(ringOf(link.fromRing)), ...toPoints(ringOf(link.toRing))];
    return [fromPoints(convexHull(points))];
  }
  const island = ringOf(link.fromRing === 0 ? link.toRing : link.fromRing);
  const at = link.fromRing === 0 ? link.from : link.to;
  const { on } = directionsAt(part.shell, nearestPlace(part.shell, at));
  const box = boxOf(island);
  const half = Math.max(box.maxE - box.minE, box.maxN - box.minN) / 2;
  return EDGE_REACHES.map((reach) => {
    // A hand's breadth past the edge, so that nothing is left between.
    const ends = [-1, 1].flatMap((side): PointM[] => {
      const e = at[0] + side * reach * half * on[0];
      const n = at[1] + side * reach * half * on[1];
      return [
        [e, n],
        [e + 0.1 * on[1], n - 0.1 * on[0]],
      ];
    });
    return fromPoints(convexHull([...toPoints(island), ...ends]));
  });
}

/** The part without a piece, if it stays in one; with what that saves and costs. */
function taking(part: AreaM, taken: RingM, runM: number): Merge | undefined {
  const left = difference([part], [{ shell: taken, holes: [] }]);
  const [only] = left;
  if (!only || left.length !== 1 || only.holes.length >= part.holes.length) return undefined;
  const wireM = (area: AreaM): number =>
    [area.shell, ...area.holes].reduce((sum, ring) => sum + ringLengthM(ring), 0);
  return {
    part: only,
    savedM: wireM(part) + 2 * runM - wireM(only),
    givenUpM2: areaM2(part) - areaM2(only),
  };
}
