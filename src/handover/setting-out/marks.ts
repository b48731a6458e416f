/**
 * Marks between fixed points, for pegs that no two tapes reach: every 20 m along a straight line from
 * one fixed point to another, where a line can be stretched or sighted. Each is tied by its distance
 * from both ends of its line.
 */
import type { PointM } from "../../model/geometry.ts";
import type { Candidate } from "./control-points.ts";
import { majorOfTapes, type SeenTape, TAPE_U_M } from "./tape-error.ts";

/** A mark, and the line that it stands on. */
export interface Mark extends Candidate {
  readonly kind: "mark";
  readonly on: { readonly from: Candidate; readonly to: Candidate; readonly lengthM: number };
  /** From the first end of the line, metres. */
  readonly alongM: number;
  /** Standard uncertainty of its place from the ends of its line, metres. */
  readonly uM: number;
}

interface MarkedLine {
  readonly marks: readonly Mark[];
  /** For the pegs that it helps: how they see its marks. */
  readonly seen: ReadonlyMap<number, readonly SeenTape[]>;
}

const STEP_M = 20;
/** No mark stands nearer to an end of its line than this, metres. */
const FROM_END_M = 5;
/** A tape is laid down again after this length along a line, metres. */
const PIECE_M = 30;
const LINE_M = { least: 25, most: 200 } as const;
/** Lines run between the first so many fixed points. */
const ENDS_MAX = 60;
const LINES_MAX = 40;
/** A line serves only where it mends this share of the pegs that need it. */
const MENDED_SHARE = 0.02;
/** What a peg without a pair counts, metres. */
const NO_PAIR_M = 0.1;
/** Errors are mended where they get smaller by this share. */
const MENDED = 0.8;

/**
 * @param ends fixed points, those that serve already first
 * @param pegs that need marks
 * @param seenFrom how a peg is taped from a place; undefined where it cannot be
 * @param isFree whether a line can be stretched between two places
 * @returns marks of the lines that help most, one line after the other
 */
export function chooseMarks(
  chosen: readonly Candidate[],
  ends: readonly Candidate[],
  pegs: readonly PointM[],
  seenFrom: (from: Candidate & { readonly uM?: number }, peg: PointM) => SeenTape | undefined,
  isFree: (from: PointM, to: PointM) => boolean,
): Mark[] {
  const seen = pegs.map((peg) => chosen.flatMap((one) => seenFrom(one, peg) ?? []));
  const cost = seen.map((tapes) => Math.min(NO_PAIR_M, bestPairM(tapes, [])));
  const lines = linesBetween(ends.slice(0, ENDS_MAX), isFree).map(
    (marks): MarkedLine => ({
      marks,
      seen: new Map(
        pegs.flatMap((peg, p): [number, SeenTape[]][] => {
          const tapes = marks.flatMap((mark) => seenFrom(mark, peg) ?? []);
          return tapes.length > 0 ? [[p, tapes]] : [];
        }),
      ),
    }),
  );
  const open = new Set(lines);
  const found: Mark[] = [];
  const least = Math.max(2, MENDED_SHARE * pegs.length);
  for (let k = 0; k < LINES_MAX; k++) {
    let best: MarkedLine | undefined;
    let most = 0;
    for (const line of open) {
      let [gain, mended] = [0, 0];
      for (const [p, tapes] of line.seen) {
        const after = bestPairM(tapes, seen[p]!);
        if (after < cost[p]!) gain += cost[p]! - after;
        if (after <= MENDED * cost[p]!) mended++;
      }
      if (mended >= least && gain > most) [best, most] = [line, gain];
    }
    if (!best) break;
    open.delete(best);
    found.push(...best.marks);
    for (const [p, tapes] of best.seen) {
      cost[p] = Math.min(cost[p]!, bestPairM(tapes, seen[p]!));
      seen[p]!.push(...tapes);
    }
  }
  return found;
}

/** Error of the best pair with at least one of some tapes in it, metres. */
function bestPairM(some: readonly SeenTape[], others: readonly SeenTape[]): number {
  let best = NO_PAIR_M;
  some.forEach((one, i) => {
    for (const other of some.slice(i + 1)) best = Math.min(best, majorOfTapes([one, other]));
    for (const other of others) best = Math.min(best, majorOfTapes([one, other]));
  });
  return best;
}

function linesBetween(
  ends: readonly Candidate[],
  isFree: (from: PointM, to: PointM) => boolean,
): Mark[][] {
  return ends.flatMap((from, i) =>
    ends.slice(i + 1).flatMap((to) => {
      const [de, dn] = [to.atM[0] - from.atM[0], to.atM[1] - from.atM[1]];
      const lengthM = Math.hypot(de, dn);
      if (lengthM < LINE_M.least || lengthM > LINE_M.most || !isFree(from.atM, to.atM)) return [];
      const marks: Mark[] = [];
      for (let alongM = STEP_M; alongM <= lengthM - FROM_END_M; alongM += STEP_M) {
        const share = alongM / lengthM;
        const pieces = Math.ceil(Math.min(alongM, lengthM - alongM) / PIECE_M);
        marks.push({
          kind: "mark",
          name: "",
          side: undefined,
          atM: [from.atM[0] + share * de, from.atM[1] + share * dn],
          on: { from, to, lengthM },
          alongM,
          uM: TAPE_U_M * Math.sqrt(pieces),
        });
      }
      return [marks];
    }),
  );
}
