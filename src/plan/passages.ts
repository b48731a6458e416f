/**
 * Passages: every narrowing of the ground with room for the machine on both its sides.
 *
 * The triangulation of the ground with its boundary sampled is a discrete medial axis: a triangle's
 * circumcircle is a largest empty disc, two triangles meet across a portal whose clearance is half
 * its length where the discs lie on either side of it. Triangles with room for the widest reported
 * passage are rooms; blind alleys of the rest are pruned; what is left joins room to room and is a
 * passage. Its width is then measured exactly, bank to bank, not from the samples.
 *
 * Cost: n log n for the triangulation, linear after it.
 */
import { lineLengthM } from "../geometry/rings.ts";
import { pointSegmentM } from "../geometry/segments.ts";
import { type BoundaryChain, nextHalfedge, triangulate } from "../geometry/triangulate.ts";
import type { LineM, PointM } from "../model/geometry.ts";
import type { Passage, Verdict } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import { type Banks, type BankWidth, banksOf, measureBanks } from "./bank-width.ts";
import type { BankFinder } from "./banks.ts";
import { groundBeyond, type Island, triangleAreaM2 } from "./beyond.ts";
import { type NarrowChain, type NarrowGraph, narrowChains, roomCentre } from "./narrow-graph.ts";
import { openingsOf } from "./openings.ts";
import { type LoopAround, passageCost } from "./passage-cost.ts";

/** Longest boundary edge of the triangulation, metres. Widths do not depend on it, finding them does. */
const SAMPLE_STEP_M = 0.3;

/** Ground that hangs together by less than this does not: outlines touch there, metres. */
const LEAST_WIDTH_M = 0.01;

/** Rounds of smoothing of a centre line. */
const SMOOTHING_PASSES = 12;

export function verdictOf(wireWidthM: number, profile: Profile): Verdict {
  if (wireWidthM < profile.passage.driveMinM - 1e-6) return "shut";
  return wireWidthM < profile.passage.mowMinM - 1e-6 ? "drive" : "mow";
}

/** What is known round the passages, for what lies beyond and what would open them. */
export interface Surroundings {
  readonly bankAt: BankFinder;
  readonly islands: readonly Island[];
  /** The loop that holds a place, or undefined. */
  readonly loopAt: (at: PointM) => LoopAround | undefined;
}

/** A narrow way with its measured width. */
interface Narrowing {
  readonly chain: NarrowChain;
  readonly banks: Banks;
  readonly width: BankWidth;
}

/** The narrowings of a ground, before anything is said of them. */
export interface Narrowings {
  readonly graph: NarrowGraph;
  readonly kept: readonly Narrowing[];
}

/** Middle of the way through each narrowing that is not mown like the rest. */
export function narrowWays({ graph, kept }: Narrowings, profile: Profile): LineM[] {
  return kept
    .filter(({ width }) => verdictOf(width.wireWidthM, profile) !== "mow")
    .map(({ chain }) => withoutRepeats(chain.portals.map((h) => portalMiddle(graph, h))));
}

/**
 * @param chains the ground's boundary; each chain's label is its set-in in metres (0: no wire there)
 * @returns the narrowings that the profile reports; undefined where there is no ground
 */
export function findNarrowings(
  chains: readonly BoundaryChain[],
  profile: Profile,
): Narrowings | undefined {
  if (chains.length === 0) return undefined;
  const graph: NarrowGraph = narrowChains(
    triangulate(chains, SAMPLE_STEP_M),
    profile.passage.reportBelowM,
  );
  const measured = graph.chains.flatMap((chain) => {
    const banks = banksOf(graph.mesh, chain.portals);
    const width = measureBanks(banks);
    return width ? [{ chain, banks, width }] : [];
  });
  const waysFrom = new Map<number, Narrowing[]>();
  for (const one of measured) {
    for (const junction of [one.chain.start, one.chain.end]) {
      const known = waysFrom.get(junction);
      if (known) known.push(one);
      else waysFrom.set(junction, [one]);
    }
  }
  const found = measured.filter(
    ({ width: { widthM, wireWidthM } }) =>
      wireWidthM < profile.passage.reportBelowM && widthM >= LEAST_WIDTH_M,
  );
  const kept = found.filter(
    (one) =>
      [one.chain.start, one.chain.end].every((end) => end < 0 || leadsToRoom(one, end, waysFrom)) &&
      [one.chain.start, one.chain.end].every((junction, side) => {
        if (junction < 0) return true;
        const { chain, width } = one;
        const atJunction =
          side === 0 ? width.portal === 0 : width.portal === chain.portals.length - 1;
        if (!atJunction) return true;
        return !found.some(
          (other) =>
            other.chain !== chain &&
            (other.chain.start === junction || other.chain.end === junction) &&
            other.width.widthM < width.widthM,
        );
      }),
  );
  return { graph, kept };
}

/**
 * Whether a room can be reached from a junction at the end of a narrow way by others that are no
 * narrower: else there is no room for the machine on that side of it.
 */
function leadsToRoom(
  from: Narrowing,
  junction: number,
  waysFrom: ReadonlyMap<number, readonly Narrowing[]>,
): boolean {
  const seen = new Set([junction]);
  const queue = [junction];
  for (const at of queue) {
    for (const { chain, width } of waysFrom.get(at)!) {
      if (chain === from.chain) continue;
      if (width.widthM < from.width.widthM - 1e-6) continue;
      const next = chain.start === at ? chain.end : chain.start;
      if (next < 0) return true;
      if (seen.has(next)) continue;
      seen.add(next);
      queue.push(next);
    }
  }
  return false;
}

/** @returns passages narrower than the profile reports, numbered from north to south */
export function passagesOf(
  narrowings: Narrowings | undefined,
  profile: Profile,
  around: Surroundings,
): Passage[] {
  if (narrowings === undefined) return [];
  const { graph, kept } = narrowings;
  const beyond = groundBeyond(
    graph.mesh,
    kept.map(({ chain, width }) => chain.portals[width.portal]!),
    around.islands,
  );
  return kept
    .map(({ chain, banks, width }, i) => {
      const verdict = verdictOf(width.wireWidthM, profile);
      const { areaM2: beyondM2, islands: islandsBeyond } = beyond[i]!;
      const middles = chain.portals.map((h) => portalMiddle(graph, h));
      const line = smoothed(withoutRepeats(middles));
      return {
        number: 0,
        centreLine: line.length >= 4 ? line : stubAcross(width.first, width.second),
        widthM: width.widthM,
        wireWidthM: width.wireWidthM,
        lengthM: lineLengthM(line),
        bearingDeg: acrossDeg(width.first, width.second),
        verdict,
        beyondM2,
        islandsBeyond,
        openings: openingsOf(banks, width, verdict, around.bankAt, profile),
        cost: passageCost(verdict, endsOf(graph, chain).map(around.loopAt), {
          passageM2: groundInM2(graph, chain),
          beyondM2,
        }),
        atM: [
          (width.first[0] + width.second[0]) / 2,
          (width.first[1] + width.second[1]) / 2,
        ] as PointM,
      };
    })
    .sort((a, b) => b.atM[1] - a.atM[1] || a.atM[0] - b.atM[0])
    .map((passage, i) => ({ ...passage, number: i + 1 }));
}

/** Direction square to the line between the two nearest places, degrees from grid north, 0 to 180. */
function acrossDeg(first: PointM, second: PointM): number {
  const deg = (Math.atan2(-(second[1] - first[1]), second[0] - first[0]) * 180) / Math.PI;
  return ((deg % 180) + 180) % 180;
}

/** Middles of the rooms at the two ends of a chain; none for an end that is a junction. */
function endsOf(graph: NarrowGraph, { portals, start, end }: NarrowChain): PointM[] {
  const { mesh } = graph;
  const last = portals[portals.length - 1]!;
  return [
    ...(start === -1 ? [roomCentre(mesh, Math.floor(portals[0]! / 3))] : []),
    ...(end === -1 ? [roomCentre(mesh, Math.floor(mesh.halfedges[last]! / 3))] : []),
  ];
}

/** Ground between the rooms at the two ends of a chain, m². */
function groundInM2({ mesh }: NarrowGraph, { portals }: NarrowChain): number {
  return portals
    .slice(1)
    .reduce((sum, portal) => sum + triangleAreaM2(mesh, Math.floor(portal / 3)), 0);
}

function portalMiddle({ mesh }: NarrowGraph, h: number): PointM {
  const a = 2 * mesh.triangles[h]!;
  const b = 2 * mesh.triangles[nextHalfedge(h)]!;
  return [(mesh.coords[a]! + mesh.coords[b]!) / 2, (mesh.coords[a + 1]! + mesh.coords[b + 1]!) / 2];
}

function withoutRepeats(points: readonly PointM[]): LineM {
  const flat: number[] = [];
  for (const [e, n] of points) {
    const k = flat.length;
    if (k >= 2 && Math.hypot(e - flat[k - 2]!, n - flat[k - 1]!) < 1e-3) continue;
    flat.push(e, n);
  }
  return Float64Array.from(flat);
}

/** Portals lean to one bank and the other; the middle between neighbours takes the zigzag out. */
function smoothed(line: LineM): LineM {
  let flat = line;
  for (let pass = 0; pass < SMOOTHING_PASSES && flat.length > 4; pass++) {
    const next = Float64Array.from(flat);
    for (let i = 2; i + 2 < flat.length; i++) {
      next[i] = (flat[i - 2]! + 2 * flat[i]! + flat[i + 2]!) / 4;
    }
    flat = next;
  }
  return thinned(flat);
}

/** Leaves out what lies within a centimetre of the chord past it. */
function thinned(line: LineM): LineM {
  const keep: number[] = [line[0]!, line[1]!];
  let anchor = 0;
  for (let i = 4; i < line.length; i += 2) {
    let straight = true;
    for (let k = anchor + 2; k < i && straight; k += 2) {
      const off = pointSegmentM(
        line[k]!,
        line[k + 1]!,
        line[anchor]!,
        line[anchor + 1]!,
        line[i]!,
        line[i + 1]!,
      );
      straight = off < 0.01;
    }
    if (straight) continue;
    anchor = i - 2;
    keep.push(line[anchor]!, line[anchor + 1]!);
  }
  if (line.length > 2) keep.push(line[line.length - 2]!, line[line.length - 1]!);
  return Float64Array.from(keep);
}

/** A passage of no length is drawn as 0.2 m of centre line through its narrowest place. */
function stubAcross(first: PointM, second: PointM): LineM {
  const e = (first[0] + second[0]) / 2;
  const n = (first[1] + second[1]) / 2;
  const width = Math.hypot(second[0] - first[0], second[1] - first[1]) || 1;
  const de = (-(second[1] - first[1]) / width) * 0.1;
  const dn = ((second[0] - first[0]) / width) * 0.1;
  return Float64Array.of(e - de, n - dn, e + de, n + dn);
}
