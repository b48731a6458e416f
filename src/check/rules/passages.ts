import type { PointM } from "../../model/geometry.ts";
import type { Case } from "../case.ts";
import { SegmentTree } from "../kernel/segment-tree.ts";
import { Winding } from "../kernel/winding.ts";
import { measured, type Place, worstPlaces } from "../measure.ts";
import type { BoundaryPlace, Neck } from "../necks.ts";
import type { Rule } from "../rule.ts";

/** Widths are judged to this by whoever plans, metres. */
const JUDGED_M = 0.004;
/** A planner may let the wire wander in from its set-in by a sixth of the narrowest passage. */
const WANDER_SHARE = 1 / 6;
/** A side of a neck with more lawn than this, in squares of the machine's width, has room for it. */
const SURELY_ROOM = 8;
/** A smaller side is looked at on a grid of so many places each way. */
const GRID = 24;

/** Least width that two wires with lawn between them may have. */
export function leastWidthM({ profile }: Case): number {
  const { driveMinM } = profile.passage;
  return driveMinM - 2 * Math.min(profile.pegs.wanderMaxM, WANDER_SHARE * driveMinM) - JUDGED_M;
}

/**
 * Two wires that are no pair, with mown ground between them, are never nearer than the machine
 * drives through. Where one side of the place has no room for the machine it is a corner, no passage.
 */
export const passages: Rule = {
  id: "passages",
  code: "WIRES_TOO_NEAR",
  title: "narrowest way between two wires that are no pair",
  measure(court) {
    const allowed = leastWidthM(court);
    const { driveMinM } = court.profile.passage;
    const areas = new SideAreas(court);
    const places: Place<Neck>[] = [];
    let least = driveMinM;
    for (const neck of court.necks) {
      if (neck.b.segment >= court.wires.count || neck.a.segment >= court.wires.count) continue;
      if (neck.widthM >= allowed && neck.widthM >= least) continue;
      const part = court.carried.partOf(neck.a.segment);
      // Between wires of two parts no machine drives: it is carried over.
      if (part === undefined || court.carried.partOf(neck.b.segment) !== part) continue;
      const side = areas.smaller(neck);
      if (side.areaM2 < SURELY_ROOM * driveMinM ** 2 && !hasRoom(court, side, driveMinM / 2))
        continue;
      least = Math.min(least, neck.widthM);
      if (neck.widthM < allowed) {
        places.push({ atM: neck.a.atM, amount: allowed - neck.widthM, of: neck });
      }
    }
    const breaches = worstPlaces(places).map(({ atM, of: { a, widthM } }) => ({
      message: `Two wires of loop ${court.wires.nameOf(a.segment)} with lawn between them lie ${widthM.toFixed(2)} m apart; the machine drives through ${driveMinM.toFixed(2)} m (at least ${allowed.toFixed(2)} m where wires wander).`,
      remedy: "Shut the passage off, or move the wires apart.",
      atM,
    }));
    return measured(
      "m",
      "at least",
      least,
      allowed,
      breaches,
      `up to ${driveMinM} m is looked for`,
    );
  },
};

/** Area that a chord cuts off the inside of a loop, by prefix sums of the shoelace formula. */
class SideAreas {
  readonly #court: Case;
  readonly #sums: Float64Array;

  constructor(court: Case) {
    this.#court = court;
    const { ends, count } = court.wires.tree;
    this.#sums = new Float64Array(count + 1);
    for (let s = 0; s < count; s++) {
      const k = 4 * s;
      const twice = ends[k]! * ends[k + 3]! - ends[k + 2]! * ends[k + 1]!;
      this.#sums[s + 1] = this.#sums[s]! + twice;
    }
  }

  /** The smaller side of a neck between two wires of one loop, less parts that hang on it by a run. */
  smaller({ a, b }: Neck): Side {
    const { wires, carried } = this.#court;
    if (carried.segments.size > 0) {
      const sides = [
        { from: a, to: b },
        { from: b, to: a },
      ].map((side) => ({ ...side, areaM2: areaM2(sideRing(this.#court, side)) }));
      return sides[0]!.areaM2 <= sides[1]!.areaM2 ? sides[0]! : sides[1]!;
    }
    const loop = wires.loopOf[a.segment]!;
    const total = this.#sums[wires.starts[loop + 1]!]! - this.#sums[wires.starts[loop]!]!;
    const [first, second] = a.segment <= b.segment ? [a, b] : [b, a];
    const cross = (p: PointM, q: PointM): number => p[0] * q[1] - q[0] * p[1];
    const twice =
      cross(first.atM, wires.pointAt(first.segment, 1)) +
      this.#sums[second.segment]! -
      this.#sums[first.segment + 1]! +
      cross(wires.pointAt(second.segment, 0), second.atM) +
      cross(second.atM, first.atM);
    const [one, other] = [Math.abs(twice), Math.abs(total - twice)];
    return one <= other
      ? { areaM2: one / 2, from: first, to: second }
      : { areaM2: other / 2, from: second, to: first };
  }
}

/** What a neck cuts off: the wire from one of its places on to the other. */
interface Side {
  readonly areaM2: number;
  readonly from: BoundaryPlace;
  readonly to: BoundaryPlace;
}

/** The wire of a side, without parts that hang on it by a run. */
function sideRing({ wires, carried }: Case, { from, to }: Omit<Side, "areaM2">): Float64Array {
  const part = carried.partOf(from.segment);
  const points: number[] = [...from.atM];
  for (let s = from.segment; s !== to.segment; s = wires.next(s)) {
    if (carried.partOf(s) === part) points.push(...wires.pointAt(s, 1));
  }
  points.push(...to.atM);
  return Float64Array.from(points);
}

function areaM2(ring: Float64Array): number {
  let twice = 0;
  for (let i = 0, n = ring.length; i < n; i += 2) {
    const j = (i + 2) % n;
    twice += ring[i]! * ring[j + 1]! - ring[j]! * ring[i + 1]!;
  }
  return Math.abs(twice) / 2;
}

/** Whether a disc has room on a side, as far as the wire of that side says; to a grid's step. */
function hasRoom(court: Case, side: Side, radiusM: number): boolean {
  const ring = sideRing(court, side);
  const points = [...ring];
  const inside = new Winding([ring]);
  const ends: number[] = [];
  for (let i = 0; i + 3 < points.length; i += 2) ends.push(...points.slice(i, i + 4));
  const tree = new SegmentTree(ends);
  const [minE, minN, maxE, maxN] = inside.box;
  const stepM = Math.max(0.03, Math.max(maxE - minE, maxN - minN) / GRID);
  for (let e = minE + stepM / 2; e < maxE; e += stepM) {
    for (let n = minN + stepM / 2; n < maxN; n += stepM) {
      if (inside.at(e, n) === 0) continue;
      const near = tree.around(e, n, e, n, radiusM);
      if (near.every((s) => tree.distanceM(s, e, n) >= radiusM)) return true;
    }
  }
  return false;
}
