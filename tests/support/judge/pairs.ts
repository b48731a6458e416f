import type { Xy } from "../plane.ts";
import { along, distance, lineLength, SegmentGrid, segmentsOf } from "../segments.ts";
import { type Court, ofKind, positions, type WireLoop } from "./types.ts";

/** The two wires of a pair lie up to 2 mm wider apart than asked, metres. */
const GAP_OVER_M = 0.002;
/** Coordinates are rounded to 0.1 mm, metres. */
const ROUNDING_M = 0.0001;
/** Not measured this near to the pegs at a pair's ends, where the wires part, metres. */
const END_CLEAR_M = 0.03;
/** Nor this near to a bend of the pair, where a cut across it is no width, metres. */
const BEND_CLEAR_M = 0.015;
const STEP_M = 0.05;
/** Wires of a pair are looked for this far to either side of its centre line, metres. */
const LOOK_M = 0.02;

/** Paired runs: two wires a gap apart all along, one out and one back. */
export function judgePairs(court: Court, loop: WireLoop): void {
  const say = (rule: string, more: Parameters<Court["breach"]>[1] = {}) =>
    court.breach(rule, { loop: loop.name, ...more });
  const spans = segmentsOf(loop.wire, 0);
  const grid = new SegmentGrid(spans, 1);
  for (const run of ofKind(court, "paired-run", loop.name)) {
    const line = positions(run).map((at) => court.plane.toPlane(at));
    const length = lineLength(line);
    const stated = Number(run.properties?.length_m);
    if (!(Math.abs(stated - length) <= 0.001 + 2e-6 * length)) {
      say("pair-length", { at: line[0]!, measured: stated, allowed: length });
    }
    let walked = 0;
    for (let i = 1; i < line.length; i++) {
      const a = line[i - 1]!;
      const b = line[i]!;
      const span = distance(a, b);
      const u: Xy = [(b[0] - a[0]) / span, (b[1] - a[1]) / span];
      for (let s = STEP_M / 2; s < span; s += STEP_M) {
        const fromEnds = Math.min(walked + s, length - walked - s);
        const fromBends = Math.min(
          i === 1 ? Infinity : s,
          i + 1 === line.length ? Infinity : span - s,
        );
        if (fromEnds < END_CLEAR_M || fromBends < BEND_CLEAR_M) continue;
        cut([a[0] + u[0] * s, a[1] + u[1] * s], u, fromEnds);
      }
      walked += span;
    }
  }

  /** Measures the two wires along a line square to the run. */
  function cut(at: Xy, u: Xy, fromEnds: number): void {
    const across: Xy = [-u[1], u[0]];
    const hits: { off: number; forward: boolean }[] = [];
    for (const s of grid.near(at, at, LOOK_M)) {
      const { a, b } = spans[s]!;
      const off = along(at, across, a, b);
      if (off === undefined || Math.abs(off) > LOOK_M) continue;
      hits.push({ off, forward: (b[0] - a[0]) * u[0] + (b[1] - a[1]) * u[1] > 0 });
    }
    const byNearness = (x: { off: number }, y: { off: number }) =>
      Math.abs(x.off) - Math.abs(y.off);
    const left = hits.filter((hit) => hit.off > 0).sort(byNearness)[0];
    const right = hits.filter((hit) => hit.off <= 0).sort(byNearness)[0];
    if (!left || !right) {
      say("pair-wire-missing", { at, measured: hits.length, allowed: 2 });
      return;
    }
    court.figures.pairSamples++;
    const gap = left.off - right.off;
    court.figures.minGapM = Math.min(court.figures.minGapM, gap);
    court.figures.maxGapM = Math.max(court.figures.maxGapM, gap);
    const asked = court.limits.pairGapM;
    if (gap < asked - ROUNDING_M || gap > asked + GAP_OVER_M + ROUNDING_M)
      say("pair-gap", { at, measured: gap, allowed: `${fromEnds.toFixed(2)} m from the end` });
    if (left.forward === right.forward) say("pair-direction", { at });
  }
}
