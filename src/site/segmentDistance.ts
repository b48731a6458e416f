/** Distance from a point to a segment, metres. */
export function pointSegmentM(
  e: number,
  n: number,
  ae: number,
  an: number,
  be: number,
  bn: number,
): number {
  const [de, dn] = [be - ae, bn - an];
  const length2 = de * de + dn * dn;
  const t = length2 === 0 ? 0 : ((e - ae) * de + (n - an) * dn) / length2;
  const s = Math.min(Math.max(t, 0), 1);
  return Math.hypot(e - ae - s * de, n - an - s * dn);
}

/** Distance between two segments, metres; 0 where they cross. */
export function segmentsM(
  ae: number,
  an: number,
  be: number,
  bn: number,
  ce: number,
  cn: number,
  de: number,
  dn: number,
): number {
  const side = (pe: number, pn: number, qe: number, qn: number, re: number, rn: number) =>
    (qe - pe) * (rn - pn) - (qn - pn) * (re - pe);
  const c = side(ae, an, be, bn, ce, cn);
  const d = side(ae, an, be, bn, de, dn);
  const a = side(ce, cn, de, dn, ae, an);
  const b = side(ce, cn, de, dn, be, bn);
  if (c * d < 0 && a * b < 0) return 0;
  return Math.min(
    pointSegmentM(ae, an, ce, cn, de, dn),
    pointSegmentM(be, bn, ce, cn, de, dn),
    pointSegmentM(ce, cn, ae, an, be, bn),
    pointSegmentM(de, dn, ae, an, be, bn),
  );
}

/**
 * The stretch of segment a→b within `reachM` of segment c→d, as shares of its length, or undefined
 * where there is none. The distance along it is convex, so the stretch is one; found by bisection.
 */
export function stretchWithin(
  a: readonly [number, number],
  b: readonly [number, number],
  c: readonly [number, number],
  d: readonly [number, number],
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
