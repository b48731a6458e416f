import type { PointM } from "../model/geometry.ts";

/** The wire at a peg is never drawn further from it than this, metres. */
export const PEG_REACH_M = 0.0098;

/**
 * Where the wire lies at a peg `p` between two lines, from `a` and on to `b`, each so far to the left
 * of the peg's own (0 on a ring, half a gap on a pair; less than 0 is to the right), metres.
 */
export function besidePeg(a: PointM, p: PointM, b: PointM, o1: number, o2: number): PointM {
  if (o1 === 0 && o2 === 0) return p;
  const l1 = Math.hypot(p[0] - a[0], p[1] - a[1]);
  const l2 = Math.hypot(b[0] - p[0], b[1] - p[1]);
  const d1: PointM = [(p[0] - a[0]) / l1, (p[1] - a[1]) / l1];
  const d2: PointM = [(b[0] - p[0]) / l2, (b[1] - p[1]) / l2];
  const beside = ([e, n]: PointM, o: number): PointM => [p[0] - n * o, p[1] + e * o];
  const sine = d1[0] * d2[1] - d1[1] * d2[0];
  if (Math.abs(sine) < 1e-4) return beside(d1, Math.abs(o1) > Math.abs(o2) ? o1 : o2);
  // Meeting of the two lines offset to the left: p + (o1 d2 − o2 d1) / sin of the turn.
  const e = (o1 * d2[0] - o2 * d1[0]) / sine;
  const n = (o1 * d2[1] - o2 * d1[1]) / sine;
  const reach = Math.hypot(e, n);
  if (reach > PEG_REACH_M && d1[0] * d2[0] + d1[1] * d2[1] > 0) {
    // Ring and run go almost straight on: the lines meet far off, but beside the peg will do.
    return o1 !== 0 ? beside(d1, o1) : beside(d2, o2);
  }
  const scale = reach > PEG_REACH_M ? PEG_REACH_M / reach : 1;
  return [p[0] + e * scale, p[1] + n * scale];
}
