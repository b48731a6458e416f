/** Curves as chords. Any unit; a point is x, y and, where there is one, a height. */

/** x, y, z. */
export type Point3 = readonly [x: number, y: number, z: number];

/** Sagitta that a chord may have, metres: stated in a finding wherever curves are read. */
export const CHORD_TOLERANCE_M = 0.001;

/** Most chords that one curve is given, however large it is. */
const CHORDS_MAX = 20_000;

/**
 * Number of equal chords for an arc of a circle, none farther than `tolerance` from it.
 *
 * A chord over the angle a has the sagitta r(1 − cos a/2) = 2r sin² a/4 (elementary); no chord
 * spans more than an eighth of a turn, so that a small circle stays one.
 */
export function chordCount(radius: number, sweepRad: number, tolerance: number): number {
  const ratio = Math.min(1, tolerance / (2 * Math.abs(radius)));
  const stepRad = Math.min(Math.PI / 4, 4 * Math.asin(Math.sqrt(ratio)));
  const count = Math.ceil(Math.abs(sweepRad) / stepRad - 1e-9);
  return Math.min(CHORDS_MAX, Math.max(1, Number.isFinite(count) ? count : 1));
}

/** Points of an arc, both ends included. `sweepRad` is positive anticlockwise. */
export function arcPoints(
  centre: Point3,
  radius: number,
  startRad: number,
  sweepRad: number,
  tolerance: number,
): Point3[] {
  const count = chordCount(radius, sweepRad, tolerance);
  return Array.from({ length: count + 1 }, (_, i) => {
    const angle = startRad + (sweepRad * i) / count;
    const [x, y, z] = centre;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle), z] as const;
  });
}

/**
 * Points strictly between two ends of an arc given by its bulge: the tangent of a quarter of the
 * swept angle, positive anticlockwise. Heights run evenly from end to end.
 */
export function bulgePoints(from: Point3, to: Point3, bulge: number, tolerance: number): Point3[] {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const chord = Math.hypot(dx, dy);
  if (chord === 0 || bulge === 0 || !Number.isFinite(bulge)) return [];
  const sweep = 4 * Math.atan(bulge);
  const radius = (chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge));
  const toCentre = (1 - bulge * bulge) / (4 * bulge);
  const centre = [
    (from[0] + to[0]) / 2 - dy * toCentre,
    (from[1] + to[1]) / 2 + dx * toCentre,
  ] as const;
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  const points = arcPoints([centre[0], centre[1], 0], radius, start, sweep, tolerance);
  const last = points.length - 1;
  return points
    .slice(1, -1)
    .map(([x, y], i) => [x, y, from[2] + ((to[2] - from[2]) * (i + 1)) / last] as const);
}

/**
 * Points strictly between `from` and `to` on the circle through three points; none where they lie in
 * a straight line. Heights run evenly.
 */
export function threePointArc(from: Point3, by: Point3, to: Point3, tolerance: number): Point3[] {
  const bulge = bulgeThrough(from, by, to);
  return bulge === undefined ? [by] : bulgePoints(from, to, bulge, tolerance);
}

/** Bulge of the arc that leaves `from`, passes `by` and ends at `to`; undefined where straight. */
function bulgeThrough(from: Point3, by: Point3, to: Point3): number | undefined {
  const [ax, ay] = [from[0] - by[0], from[1] - by[1]];
  const [bx, by2] = [to[0] - by[0], to[1] - by[1]];
  const cross = ax * by2 - ay * bx;
  const dot = ax * bx + ay * by2;
  if (Math.abs(cross) <= 1e-9 * Math.hypot(ax, ay) * Math.hypot(bx, by2)) return undefined;
  // The angle at `by` stands on the other arc, so that the swept angle is 2π less twice of it.
  const angle = Math.atan2(Math.abs(cross), dot);
  const sweep = 2 * (Math.PI - angle);
  // Seen from `by`, `to` lies clockwise of `from` where the arc runs anticlockwise.
  return -Math.sign(cross) * Math.tan(sweep / 4);
}
