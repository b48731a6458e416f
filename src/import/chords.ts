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

const FULL_TURN = 2 * Math.PI;

/**
 * The angle from `startRad` on to `endRad`, anticlockwise: more than nothing, at most one turn. An arc
 * that is said to go round more often goes round once: the rest would lie on itself.
 */
export function sweepBetween(startRad: number, endRad: number): number {
  const turns = (endRad - startRad) / FULL_TURN;
  const share = turns - Math.floor(turns);
  // Rounding leaves a whole turn a little short or a little over.
  return share > 1e-10 && share < 1 - 1e-10 ? share * FULL_TURN : FULL_TURN;
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
 * Points strictly between `from` and `to` on the circle through three points, `by` itself among them;
 * `by` alone where the three lie in a straight line.
 */
export function threePointArc(from: Point3, by: Point3, to: Point3, tolerance: number): Point3[] {
  const cross = (by[0] - from[0]) * (to[1] - by[1]) - (by[1] - from[1]) * (to[0] - by[0]);
  const lengths =
    Math.hypot(by[0] - from[0], by[1] - from[1]) * Math.hypot(to[0] - by[0], to[1] - by[1]);
  if (Math.abs(cross) <= 1e-9 * lengths) return [by];
  // The angle at one end of a chord's arc is half of the arc that it looks at (Euclid III.20).
  const first = Math.sign(cross) * Math.tan(angleAt(to, from, by) / 2);
  const second = Math.sign(cross) * Math.tan(angleAt(from, by, to) / 2);
  return [
    ...bulgePoints(from, by, first, tolerance),
    by,
    ...bulgePoints(by, to, second, tolerance),
  ];
}

function angleAt(corner: Point3, a: Point3, b: Point3): number {
  const [ax, ay] = [a[0] - corner[0], a[1] - corner[1]];
  const [bx, by] = [b[0] - corner[0], b[1] - corner[1]];
  return Math.atan2(Math.abs(ax * by - ay * bx), ax * bx + ay * by);
}
