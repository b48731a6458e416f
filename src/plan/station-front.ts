/** Clear lawn in front of a place on the wire. */
import type { SegmentIndex } from "../geometry/segment-index.ts";
import type { PointM } from "../model/geometry.ts";

/** The wire at the place itself is no obstacle: what lies within this of it, metres. */
const ON_WIRE_M = 0.02;

/**
 * How deep the lawn on the left of the wire is clear in front of a place.
 *
 * @param along unit vector of the wire in laying order
 * @param halfM half of the width looked at
 * @param mostM it is looked no deeper than this
 */
export function clearDepthM(
  index: SegmentIndex,
  at: PointM,
  along: PointM,
  halfM: number,
  mostM: number,
): number {
  const [de, dn] = along;
  // The box round the rectangle in front: along the wire to both sides, and ahead.
  const [we, wn] = [Math.abs(halfM * de), Math.abs(halfM * dn)];
  const [ae, an] = [-dn * mostM, de * mostM];
  let depthM = mostM;
  const found = index.inBox(
    at[0] - we + Math.min(0, ae),
    at[1] - wn + Math.min(0, an),
    at[0] + we + Math.max(0, ae),
    at[1] + wn + Math.max(0, an),
  );
  for (const s of found) {
    const [fe, fn] = index.from(s);
    const [te, tn] = index.to(s);
    const x0 = (fe - at[0]) * de + (fn - at[1]) * dn;
    const y0 = (fn - at[1]) * de - (fe - at[0]) * dn;
    const x1 = (te - at[0]) * de + (tn - at[1]) * dn;
    const y1 = (tn - at[1]) * de - (te - at[0]) * dn;
    depthM = Math.min(depthM, nearestAhead(x0, y0, x1, y1, halfM));
  }
  return depthM;
}

/** Least depth over the wire of the part of a segment that lies ahead and within the width. */
function nearestAhead(x0: number, y0: number, x1: number, y1: number, halfM: number): number {
  let [t0, t1] = [0, 1];
  const [dx, dy] = [x1 - x0, y1 - y0];
  for (const [p, q] of [
    [-dx, x0 + halfM],
    [dx, halfM - x0],
    [-dy, y0 - ON_WIRE_M],
  ] as const) {
    if (p === 0) {
      if (q < 0) return Infinity;
      continue;
    }
    if (p < 0) t0 = Math.max(t0, q / p);
    else t1 = Math.min(t1, q / p);
    if (t0 > t1) return Infinity;
  }
  return Math.max(0, Math.min(y0 + t0 * dy, y0 + t1 * dy));
}
