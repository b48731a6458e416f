/** A row of the fewest pegs made good to lay: spans come out even, pegs stand as near to the ring as may be. */
import type { Workings } from "./frontier.ts";
import { type Arc, furthestRow, type Row } from "./rows.ts";
import { type ChordFitOptions, spanHolds } from "./sight.ts";
import { NONE } from "./trials.ts";

/**
 * Spacing is tightened until it is known to this share. Every centimetre counts: where a run ends
 * beside a peg, the spans there must be that much shorter.
 */
const EVEN_SHARE = 0.005;
/** Depths tried when pegs are drawn back, as shares of the depth found. */
const DRAWING_SHARES = [0, 0.2, 0.4, 0.6, 0.8];
const DRAWING_ROUNDS = 2;
/** Less is not worth drawing a peg back, metres. */
const LEAST_DRAWING_M = 1e-4;

/** @returns a row of no more pegs, with the same ends */
export function settled(workings: Workings, arc: Arc, row: Row, options: ChordFitOptions): Row {
  return drawnBack(workings, evened(workings, arc, row, options), options);
}

/** Tightens the spacing while the count stays: no further than to the mean span. */
function evened(workings: Workings, arc: Arc, row: Row, options: ChordFitOptions): Row {
  let kept = row;
  const spans = row.length - 1;
  let low = meanSpanM(workings, row);
  let high = options.spacingM;
  while (high - low > EVEN_SHARE * options.spacingM) {
    const spacingM = (low + high) / 2;
    const tried = furthestRow(workings, arc, { ...options, spacingM }, spans);
    if (tried) {
      kept = tried;
      high = spacingM;
    } else low = spacingM;
  }
  return kept;
}

function meanSpanM({ trials }: Workings, row: Row): number {
  let sum = 0;
  for (let i = 0; i + 1 < row.length; i++) {
    const [a, b] = [row[i]!, row[i + 1]!];
    sum += Math.hypot(trials.e(b) - trials.e(a), trials.n(b) - trials.n(a));
  }
  return sum / (row.length - 1);
}

/** Draws the pegs between the ends back towards the ring as far as their spans allow. */
function drawnBack({ track, trials }: Workings, given: Row, options: ChordFitOptions): Row {
  const row = [...given];
  for (let round = 0; round < DRAWING_ROUNDS; round++) {
    for (let i = 1; i + 1 < row.length; i++) {
      const peg = row[i]!;
      const depthM = trials.depthM(peg);
      for (const share of DRAWING_SHARES) {
        if (depthM * (1 - share) < LEAST_DRAWING_M) break;
        const moved = atDepth(peg, depthM * share);
        if (!spanHolds(track, trials, row[i - 1]!, moved, options)) continue;
        if (!spanHolds(track, trials, moved, row[i + 1]!, options)) continue;
        row[i] = moved;
        break;
      }
    }
  }
  return row;

  function atDepth(peg: number, depthM: number): number {
    const [edge, alongM] = [trials.edge(peg), trials.alongM(peg)];
    const [e, n] = track.beside(edge, alongM, depthM);
    return trials.add(e, n, alongM, trials.lapM(peg), depthM, edge, NONE);
  }
}
