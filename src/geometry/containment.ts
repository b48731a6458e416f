import type { PointM, RingM } from "../model/geometry.ts";
import { boxOf, ringContains } from "./rings.ts";

/** Whether a ring lies in another that it does not cross; they may touch, even along edges. */
export function ringHolds(outer: RingM, inner: RingM): boolean {
  const a = boxOf(outer);
  const b = boxOf(inner);
  const slackM = 1e-4;
  if (b.minE < a.minE - slackM || b.maxE > a.maxE + slackM) return false;
  if (b.minN < a.minN - slackM || b.maxN > a.maxN + slackM) return false;
  const [e, n] = pointInside(inner);
  return ringContains(outer, e, n);
}

/**
 * A point well inside a ring: on the level in the middle of the widest gap between its vertices'
 * northings, in the middle of the widest stretch of that level inside the ring. n log n.
 */
export function pointInside(ring: RingM): PointM {
  const levels: number[] = [];
  for (let i = 1; i < ring.length; i += 2) levels.push(ring[i]!);
  levels.sort((a, b) => a - b);
  let level = levels[0]!;
  let gapM = 0;
  for (let i = 1; i < levels.length; i++) {
    if (levels[i]! - levels[i - 1]! <= gapM) continue;
    gapM = levels[i]! - levels[i - 1]!;
    level = (levels[i]! + levels[i - 1]!) / 2;
  }
  const easts: number[] = [];
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    const [ai, aj] = [ring[i + 1]!, ring[j + 1]!];
    if (ai > level === aj > level) continue;
    easts.push(ring[j]! + ((level - aj) / (ai - aj)) * (ring[i]! - ring[j]!));
  }
  easts.sort((a, b) => a - b);
  let east = ring[0]!;
  let widthM = -1;
  for (let i = 1; i < easts.length; i += 2) {
    if (easts[i]! - easts[i - 1]! <= widthM) continue;
    widthM = easts[i]! - easts[i - 1]!;
    east = (easts[i]! + easts[i - 1]!) / 2;
  }
  return [east, level];
}

/** Share of up to 32 middles of edges of `inner` that lie inside `outer`, 0 to 1. */
export function shareInside(outer: RingM, inner: RingM): number {
  const n = inner.length >> 1;
  const step = Math.max(1, Math.floor(n / 32));
  let inside = 0;
  let asked = 0;
  for (let i = 0; i < n; i += step) {
    const j = (i + 1) % n;
    const middleE = (inner[2 * i]! + inner[2 * j]!) / 2;
    const middleN = (inner[2 * i + 1]! + inner[2 * j + 1]!) / 2;
    if (ringContains(outer, middleE, middleN)) inside++;
    asked++;
  }
  return inside / asked;
}
