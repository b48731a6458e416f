import type { PointM } from "../model/geometry.ts";
import type { BoxM } from "./rings.ts";
import { pointSegmentM } from "./segments.ts";

/**
 * The stretch of segment a→b within `reachM` of segment c→d, as shares of its length, or undefined
 * where there is none. The distance along it is convex, so the stretch is one; found by bisection.
 */
export function stretchWithin(
  a: PointM,
  b: PointM,
  c: PointM,
  d: PointM,
  reachM: number,
): [from: number, to: number] | undefined {
  const at = (t: number) =>
    pointSegmentM(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), c[0], c[1], d[0], d[1]);
  let low = 0;
  let high = 1;
  for (let i = 0; i < 60 && high - low > 1e-9; i++) {
    const m1 = low + (high - low) / 3;
    const m2 = high - (high - low) / 3;
    if (at(m1) <= at(m2)) high = m2;
    else low = m1;
  }
  // Ends come first: on a flat stretch of the distance the search may stop anywhere.
  const nearest = [0, 1, (low + high) / 2].sort((p, q) => at(p) - at(q))[0]!;
  if (at(nearest) > reachM) return undefined;
  const edge = (outside: number): number => {
    if (at(outside) <= reachM) return outside;
    let inT = nearest;
    let outT = outside;
    for (let i = 0; i < 40; i++) {
      const middle = (inT + outT) / 2;
      if (at(middle) <= reachM) inT = middle;
      else outT = middle;
    }
    return inT;
  };
  return [edge(0), edge(1)];
}

/**
 * The stretch of segment a→b that lies in a box, as shares of its length; undefined where none does
 * (Liang and Barsky 1984).
 */
export function stretchInBox(
  a: PointM,
  b: PointM,
  { minE, minN, maxE, maxN }: BoxM,
): [from: number, to: number] | undefined {
  let [from, to] = [0, 1];
  for (const [start, run, least, most] of [
    [a[0], b[0] - a[0], minE, maxE],
    [a[1], b[1] - a[1], minN, maxN],
  ] as const) {
    if (run === 0) {
      if (start < least || start > most) return undefined;
      continue;
    }
    const [one, other] = [(least - start) / run, (most - start) / run];
    from = Math.max(from, Math.min(one, other));
    to = Math.min(to, Math.max(one, other));
  }
  return from <= to ? [from, to] : undefined;
}
