/** Rows of pegs: the fewest from corner to corner, and the fewest round a ring without corners. */
import { type Bounds, Frontier, ROUND_AND_ROUND, type Workings } from "./frontier.ts";
import { type ChordFitOptions, spanHolds, TRACK_SHARE } from "./sight.ts";
import { NONE } from "./trials.ts";

/** A stretch of the track to be pegged, from a peg that stands to another. */
export interface Arc extends Bounds {
  readonly from: number;
  readonly to: number;
}

/** Pegs in order, the first and the last of an arc included. */
export type Row = readonly number[];

/** Pegs this far behind the furthest are followed where rows are short: what is nearer may see further. */
const SETBACKS_M = [0.05, 0.1, 0.15, 0.2, 0.3];
/** Open rows of no more spans than this are sought with one span less in that way, once. */
const FEW_SPANS = 20;

/** The shortest row of pegs between two that stand, or undefined where there is no way. */
export function openRow(workings: Workings, arc: Arc, options: ChordFitOptions): Row | undefined {
  const row = furthestRow(workings, arc, options);
  const spans = row ? row.length - 1 : Infinity;
  if (spans > FEW_SPANS) return row;
  return furthestRow(workings, arc, options, spans - 1, SETBACKS_M) ?? row;
}

/**
 * The row of pegs between two that stand that goes by the furthest.
 *
 * @returns undefined where it has more than `most` spans, or where there is no way
 */
export function furthestRow(
  workings: Workings,
  arc: Arc,
  options: ChordFitOptions,
  most = Infinity,
  setbacksM: readonly number[] = [],
): Row | undefined {
  const { track, trials } = workings;
  const frontier = new Frontier(workings, options, arc, setbacksM);
  let layer = [arc.from];
  for (let count = 1; count <= most && layer.length > 0; count++) {
    for (const last of layer) {
      if (spanHolds(track, trials, last, arc.to, options)) return [...trials.rowTo(last), arc.to];
    }
    if (count < most) layer = frontier.next(layer);
  }
  return undefined;
}

/** A closed row has no fewer pegs: with two it would lie on itself. */
const LEAST_PEGS = 3;
/** Laps after which the search rests content. */
const MOST_LAPS = 60;
/** On rings of more pegs than this a second lap has to do, and closing is tried at its beginning. */
const MANY_PEGS = 80;
/** Closed rows of no more pegs than this are sought with one peg less by pegs set back, for some laps. */
const FEW_PEGS = 10;
const LAPS_SET_BACK = 6;

/** The shortest row of pegs round a ring without corners; its last peg is the first, a lap later. */
export function closedRow(workings: Workings, options: ChordFitOptions): Row | undefined {
  const furthest = new Frontier(workings, options, ROUND_AND_ROUND);
  const row = roundAndRound(workings, furthest, options, Infinity, MOST_LAPS);
  const pegs = row ? row.length - 1 : Infinity;
  if (pegs > FEW_PEGS) return row;
  const more = new Frontier(workings, options, ROUND_AND_ROUND, SETBACKS_M);
  return roundAndRound(workings, more, options, pegs - 1, LAPS_SET_BACK) ?? row;
}

/**
 * A closed row of no more than `most` pegs, the shortest found.
 *
 * The foremost pegs are followed round and round from pegs at every depth beside one place. No
 * closed row can be ahead of them, so n spans for r laps mean (n - 1) / r pegs at least. The rows that
 * lead to the foremost settle, lap by lap, to where spans fit the ring best, and are closed there.
 * Laps are added until the two counts agree (the rotation number of a monotone map of a circle does
 * not depend on where one begins: Poincaré; from memory).
 */
function roundAndRound(
  workings: Workings,
  frontier: Frontier,
  options: ChordFitOptions,
  most: number,
  mostLaps: number,
): Row | undefined {
  const { track, trials } = workings;
  let layer = frontier.atStart();
  let best: Row | undefined;
  let bound = LEAST_PEGS;
  let laps = 0;
  let inLap = 0;
  for (let spans = 0; layer.length > 0; spans++) {
    if (trials.wholeWayM(layer[0]!) > (laps + 1) * track.totalM) {
      laps++;
      inLap = 0;
      bound = Math.max(bound, Math.ceil((spans - 1) / laps));
      if (laps >= (spans > MANY_PEGS * laps ? 2 : mostLaps) || bound > most) break;
    }
    if (laps > 0 && inLap++ < MANY_PEGS) {
      for (const last of layer) {
        best = closedAfter(workings, last, best ? best.length - 2 : most, options) ?? best;
      }
      if (best && best.length - 1 <= bound) break;
    }
    layer = frontier.next(layer);
  }
  return best;
}

/** The shortest closed row whose last peg this is, if one of no more than `most` pegs led to it. */
function closedAfter(
  { track, trials }: Workings,
  last: number,
  most: number,
  options: ChordFitOptions,
): Row | undefined {
  const wayM = trials.wholeWayM(last);
  let first = trials.back(last);
  for (let pegs = 2; first !== NONE && pegs <= most; pegs++, first = trials.back(first)) {
    const aheadM = trials.wholeWayM(first) + track.totalM - wayM;
    if (aheadM <= 0) return undefined;
    if (pegs < LEAST_PEGS || aheadM > TRACK_SHARE * options.spacingM) continue;
    const again = trials.again(first, track.totalM, NONE);
    if (spanHolds(track, trials, last, again, options)) {
      return [...trials.rowTo(last).slice(-pegs), again];
    }
  }
  return undefined;
}
