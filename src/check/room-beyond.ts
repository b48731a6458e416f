/**
 * Whether the ground on one side of a gap widens to a room before it narrows again. Two answers, each
 * sure of one thing: `surelyLeads` follows the middle of the ground and is right when it says yes;
 * `mayLead` fills the ground in a grid, forgives a cell, and is right when it says no.
 */
import type { PointM } from "../model/geometry.ts";
import type { GroundEdges, GroundGap } from "./gaps.ts";

/** A way is no narrower than its gap, to this, metres. */
const NARROWER_M = 0.002;
/** Steps along the middle of the ground, and places tried across it for each. */
const STEP_M = 0.06;
const STEP_SHARE = 1 / 12;
const STEPS = 240;
const ACROSS = 12;
/** Cells looked at; more ground than they cover is room enough. */
const CELLS = 1500;

/** 1: on the left of the way from the gap's first place to its second; -1: on its right. */
export type Side = 1 | -1;

export function surelyLeads(
  edges: GroundEdges,
  { a, b, middle, widthM }: GroundGap,
  side: Side,
  roomM: number,
): boolean {
  let [ue, un] = [(-side * (b[1] - a[1])) / widthM, (side * (b[0] - a[0])) / widthM];
  let [e, n] = middle;
  const stepM = Math.max(STEP_M, STEP_SHARE * widthM);
  for (let step = 0; step < STEPS; step++) {
    const [qe, qn] = [e + stepM * ue, n + stepM * un];
    // Back to the middle: the place across the way that is farthest from the edges.
    let [low, high] = [-stepM / 2, stepM / 2];
    const clear = (off: number): number => edges.clearanceM(qe - off * un, qn + off * ue, roomM);
    for (let k = 0; k < ACROSS; k++) {
      const third = (high - low) / 3;
      if (clear(low + third) < clear(high - third)) low += third;
      else high -= third;
    }
    const off = (low + high) / 2;
    const [pe, pn] = [qe - off * un, qn + off * ue];
    if (edges.crosses(e, n, pe, pn) || !edges.isLawn(pe, pn)) return false;
    const clearM = edges.clearanceM(pe, pn, roomM);
    if (clearM < widthM / 2 - NARROWER_M) return false;
    if (clearM >= roomM) return true;
    const lengthM = Math.hypot(pe - e, pn - n);
    [ue, un] = [(pe - e) / lengthM, (pn - n) / lengthM];
    [e, n] = [pe, pn];
  }
  return false;
}

export function mayLead(
  edges: GroundEdges,
  { a, b, middle, widthM }: GroundGap,
  side: Side,
  roomM: number,
): boolean {
  const cellM = Math.max(0.05, Math.min(0.12, widthM / 4));
  // Cells count along the way out of the gap, and across it.
  const [ue, un] = [(-side * (b[1] - a[1])) / widthM, (side * (b[0] - a[0])) / widthM];
  const at = (i: number, j: number): PointM => [
    middle[0] + cellM * (i * ue - j * un),
    middle[1] + cellM * (i * un + j * ue),
  ];
  const leastM = Math.max(0, widthM / 2 - cellM);
  const half = widthM / 2 / cellM;
  const seen = new Set<string>(["1 0"]);
  const queue: [number, number][] = [[1, 0]];
  for (let q = 0; q < queue.length; q++) {
    if (q >= CELLS) return true;
    const [i, j] = queue[q]!;
    const here = at(i, j);
    for (const [k, l] of [
      [i + 1, j],
      [i - 1, j],
      [i, j + 1],
      [i, j - 1],
    ] as const) {
      // Not back through the gap.
      if (k === 0 && i === 1 && Math.abs(j) <= half) continue;
      if (seen.has(`${k} ${l}`)) continue;
      const there = at(k, l);
      if (edges.crosses(...here, ...there)) {
        // Whether the machine drives over paving is the plan's choice.
        if (edges.isPaving(...there)) return true;
        continue;
      }
      seen.add(`${k} ${l}`);
      const clearM = edges.clearanceM(...there, roomM);
      if (clearM >= roomM - cellM) return true;
      if (clearM >= leastM) queue.push([k, l]);
    }
  }
  return false;
}
