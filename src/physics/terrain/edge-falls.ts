import { pointSegmentM } from "../../geometry/segments.ts";
import type { PointM } from "../../model/geometry.ts";
import type { Loop, PairedRun, Plan } from "../../model/plan.ts";
import type { EdgeFall, HeightLattice } from "../../model/terrain.ts";
import { valueAtPlace } from "./height-at.ts";
import type { LatticeSlopes } from "./slopes.ts";

/** The wire is asked every so often, metres. */
const PIECE_M = 0.5;
/** Shorter stretches are not told: noise, a single stone. A guess. */
const LEAST_M = 1;

interface Piece {
  readonly from: PointM;
  readonly to: PointM;
  readonly lengthM: number;
  /** Fall square to the wire, out of the lawn, percent. */
  readonly fallPercent: number;
}

/**
 * Stretches of wire beyond which the ground falls away from the lawn more than the profile's limit
 * for edges. Outwards is to the right of travel, round the boundary and round islands alike; paired
 * runs have no outside.
 */
export function edgeFalls(plan: Plan, lattice: HeightLattice, slopes: LatticeSlopes): EdgeFall[] {
  const limit = plan.profile.terrain.edgeSlopeMaxPercent;
  const besideM = plan.profile.wire.pairGapM + 1e-3;
  return plan.loops.flatMap((loop) => {
    const pieces = piecesOf(loop, lattice, slopes);
    const isFall = pieces.map(
      ({ fallPercent, from, to }) =>
        fallPercent > limit && !isPaired(middle(from, to), loop.pairedRuns, besideM),
    );
    return stretches(isFall)
      .map((run) =>
        stretchOf(
          loop.name,
          run.map((i) => pieces[i]!),
        ),
      )
      .filter(({ lengthM }) => lengthM >= LEAST_M);
  });
}

function piecesOf({ wire }: Loop, lattice: HeightLattice, slopes: LatticeSlopes): Piece[] {
  const pieces: Piece[] = [];
  const count = wire.length / 2;
  for (let i = 0; i < count; i++) {
    const j = (i + 1) % count;
    const [e, n] = [wire[2 * i]!, wire[2 * i + 1]!];
    const [de, dn] = [wire[2 * j]! - e, wire[2 * j + 1]! - n];
    const lengthM = Math.hypot(de, dn);
    if (lengthM === 0) continue;
    const cuts = Math.ceil(lengthM / PIECE_M);
    const at = (k: number): PointM => [e + (de * k) / cuts, n + (dn * k) / cuts];
    for (let k = 0; k < cuts; k++) {
      const place = at(k + 0.5);
      const riseEast = valueAtPlace(lattice, slopes.east, ...place);
      const riseNorth = valueAtPlace(lattice, slopes.north, ...place);
      // The right of (de, dn) is (dn, -de).
      const riseOut = (riseEast * dn - riseNorth * de) / lengthM;
      pieces.push({
        from: at(k),
        to: at(k + 1),
        lengthM: lengthM / cuts,
        fallPercent: -100 * riseOut,
      });
    }
  }
  return pieces;
}

/** Runs of neighbouring pieces that hold, round the closed wire. */
function stretches(holds: readonly boolean[]): number[][] {
  const runs: number[][] = [];
  holds.forEach((one, i) => {
    if (!one) return;
    const last = runs[runs.length - 1];
    if (last && last[last.length - 1] === i - 1) last.push(i);
    else runs.push([i]);
  });
  const [first, last] = [runs[0], runs[runs.length - 1]];
  if (!first || !last || first === last) return runs;
  if (first[0] !== 0 || last[last.length - 1] !== holds.length - 1) return runs;
  return [...runs.slice(1, -1), [...last, ...first]];
}

function stretchOf(loop: string, pieces: readonly Piece[]): EdgeFall {
  const worst = pieces.reduce((a, b) => (b.fallPercent > a.fallPercent ? b : a));
  return {
    loop,
    line: Float64Array.from([...pieces[0]!.from, ...pieces.flatMap(({ to }) => to)]),
    lengthM: pieces.reduce((sum, { lengthM }) => sum + lengthM, 0),
    fallPercent: worst.fallPercent,
    atM: middle(worst.from, worst.to),
  };
}

const middle = (a: PointM, b: PointM): PointM => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

/** Whether a place lies on one of the two wires of a paired run. */
function isPaired([e, n]: PointM, runs: readonly PairedRun[], withinM: number): boolean {
  return runs.some(({ line }) => {
    for (let i = 0; i + 3 < line.length; i += 2) {
      if (pointSegmentM(e, n, line[i]!, line[i + 1]!, line[i + 2]!, line[i + 3]!) <= withinM) {
        return true;
      }
    }
    return false;
  });
}
