/** What an opening leaves over, and where the disc's cover touches it. */
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { LineM, PointM, RingM } from "../model/geometry.ts";

/** A cover turns back by at least this where two discs meet short of a gate, degrees. */
const TURN_BACK_DEG = 8;
/** Over less than this rounding to 0.01 mm may turn a line by degrees, metres. */
const TELLS_M = 0.002;

/** Stretches of a ring that do not lie on the wire region's edge: there the disc's cover begins. */
export function contactArcs(ring: RingM, edges: SegmentIndex): LineM[] {
  const n = ring.length >> 1;
  const onEdge: boolean[] = [];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const e = (ring[2 * i]! + ring[2 * j]!) / 2;
    const north = (ring[2 * i + 1]! + ring[2 * j + 1]!) / 2;
    onEdge.push(edges.nearest(e, north, 1e-4) !== undefined);
  }
  const start = onEdge.indexOf(true);
  if (start === -1) return [Float64Array.from([...ring, ring[0]!, ring[1]!])];
  const arcs: LineM[] = [];
  let points: number[] = [];
  for (let k = 1; k <= n; k++) {
    const i = (start + k) % n;
    if (onEdge[i]) {
      if (points.length > 0) arcs.push(Float64Array.from(points));
      points = [];
      continue;
    }
    const j = (i + 1) % n;
    if (points.length === 0) points.push(ring[2 * i]!, ring[2 * i + 1]!);
    points.push(ring[2 * j]!, ring[2 * j + 1]!);
  }
  return arcs;
}

/** Greatest distance of a ring's vertices from a line, metres. */
export function depthM(ring: RingM, line: LineM): number {
  const index = new SegmentIndex([line], false);
  let depth = 0;
  for (let i = 0; i < ring.length; i += 2) {
    const near = index.nearest(ring[i]!, ring[i + 1]!, Infinity);
    if (near) depth = Math.max(depth, near.distanceM);
  }
  return depth;
}

/**
 * Where the rim of the cover turns back: the arcs of two discs meet there, and no disc rolls from
 * the one to the other, or it would cover the place.
 *
 * @param contact with what is left over on its left
 * @returns the places, each with the sum of the unit vectors to the two discs' centres
 */
export function turnsBackAt(contact: LineM): { atM: PointM; across: PointM }[] {
  const found: { atM: PointM; across: PointM }[] = [];
  for (let i = 2; i + 3 < contact.length; i += 2) {
    const [e, n] = [contact[i]!, contact[i + 1]!];
    const back = awayAlong(contact, i, -2);
    const on = awayAlong(contact, i, 2);
    if (!back || !on) continue;
    const before = direction(back[0], back[1], e, n);
    const after = direction(e, n, on[0], on[1]);
    const sine = before[0] * after[1] - before[1] * after[0];
    const cosine = before[0] * after[0] + before[1] * after[1];
    // A disc is on the right: along its arc the rim turns right.
    if ((Math.atan2(sine, cosine) * 180) / Math.PI < TURN_BACK_DEG) continue;
    found.push({ atM: [e, n], across: [before[1] + after[1], -before[0] - after[0]] });
  }
  return found;
}

/** The first vertex before or after one that is far enough away to tell a direction. */
function awayAlong(line: LineM, i: number, step: 2 | -2): PointM | undefined {
  for (let k = i + step; k >= 0 && k < line.length; k += step) {
    const farM = Math.hypot(line[k]! - line[i]!, line[k + 1]! - line[i + 1]!);
    if (farM >= TELLS_M) return [line[k]!, line[k + 1]!];
  }
  return undefined;
}

function direction(ae: number, an: number, be: number, bn: number): [number, number] {
  const length = Math.hypot(be - ae, bn - an) || 1;
  return [(be - ae) / length, (bn - an) / length];
}
