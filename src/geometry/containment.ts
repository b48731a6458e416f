import type { RingM } from "../model/geometry.ts";
import { boxOf, ringContains } from "./rings.ts";

/**
 * Whether a ring lies in another that it does not cross (it may touch it): the middles of a few of
 * its edges and its vertices vote, so a point that stands on the outer ring decides nothing alone.
 */
export function areaHolds(outer: RingM, inner: RingM): boolean {
  const a = boxOf(outer);
  const b = boxOf(inner);
  const slack = 1e-4;
  if (b.minE < a.minE - slack || b.maxE > a.maxE + slack) return false;
  if (b.minN < a.minN - slack || b.maxN > a.maxN + slack) return false;
  const n = inner.length >> 1;
  const step = Math.max(1, Math.floor(n / 16));
  let inside = 0;
  let asked = 0;
  for (let i = 0; i < n; i += step) {
    const j = (i + 1) % n;
    const middleE = (inner[2 * i]! + inner[2 * j]!) / 2;
    const middleN = (inner[2 * i + 1]! + inner[2 * j + 1]!) / 2;
    if (ringContains(outer, middleE, middleN)) inside++;
    if (ringContains(outer, inner[2 * i]!, inner[2 * i + 1]!)) inside++;
    asked += 2;
  }
  return 2 * inside > asked;
}

/** Share of up to 32 places on the edges of `inner` that lie inside `outer`, 0 to 1. */
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
