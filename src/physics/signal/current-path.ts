import type { RingM } from "../../model/geometry.ts";

/**
 * Straight pieces of conductor that carry one ampere, `e0, n0, e1, n1` each, in metres, flat on the
 * ground. The current flows from the first end to the second.
 */
export type CurrentPath = Float64Array;

/** A closed wire as a current path, in its own direction. Pieces in one line become one piece. */
export function currentPathOf(wire: RingM): CurrentPath {
  const n = wire.length >> 1;
  const corners: number[] = [];
  for (let i = 0; i < n; i++) {
    if (turns(wire, (i + n - 1) % n, i, (i + 1) % n)) corners.push(i);
  }
  const path = new Float64Array(corners.length * 4);
  corners.forEach((from, k) => {
    const to = corners[(k + 1) % corners.length]!;
    path.set([wire[2 * from]!, wire[2 * from + 1]!, wire[2 * to]!, wire[2 * to + 1]!], 4 * k);
  });
  return path;
}

/** Bends smaller than this are straight: the middle is less than a micrometre off the chord. */
const STRAIGHT_M = 1e-6;

function turns(wire: RingM, a: number, b: number, c: number): boolean {
  const [ae, an] = [wire[2 * a]!, wire[2 * a + 1]!];
  const [ue, un] = [wire[2 * b]! - ae, wire[2 * b + 1]! - an];
  const [ve, vn] = [wire[2 * c]! - ae, wire[2 * c + 1]! - an];
  const chordM = Math.hypot(ve, vn);
  if (chordM === 0) return true;
  const along = (ue * ve + un * vn) / chordM;
  return along < 0 || along > chordM || Math.abs(ue * vn - un * ve) > STRAIGHT_M * chordM;
}
