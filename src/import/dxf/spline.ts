import type { Point3 } from "../chords.ts";

/** A B-spline curve as CAD writes it; weights are 1 where there are none. */
export interface Spline {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly controls: readonly Point3[];
  readonly weights?: readonly number[];
}

/** Halvings of one knot span at most: 4096 chords. */
const HALVINGS_MAX = 12;

/** True where degree, knots and control points fit together, and knots never fall. */
export function isSound({ degree, knots, controls, weights }: Spline): boolean {
  return (
    Number.isInteger(degree) &&
    degree >= 1 &&
    degree <= 25 &&
    controls.length > degree &&
    knots.length === controls.length + degree + 1 &&
    knots.every((knot, i) => i === 0 || knot >= knots[i - 1]!) &&
    knots[degree]! < knots[controls.length]! &&
    (weights === undefined || weights.length === controls.length)
  );
}

/**
 * A point of the curve, by de Boor's algorithm in homogeneous coordinates (de Boor, A Practical
 * Guide to Splines, 1978, chapter X; from memory).
 */
export function pointAt(spline: Spline, parameter: number): Point3 {
  const { degree, knots, controls, weights } = spline;
  let span = degree;
  while (span < controls.length - 1 && parameter >= knots[span + 1]!) span++;
  const local: number[][] = [];
  for (let i = 0; i <= degree; i++) {
    const index = span - degree + i;
    const weight = weights?.[index] ?? 1;
    const [x, y, z] = controls[index]!;
    local.push([x * weight, y * weight, z * weight, weight]);
  }
  for (let level = 1; level <= degree; level++) {
    for (let i = degree; i >= level; i--) {
      const low = knots[span - degree + i]!;
      const high = knots[span + 1 + i - level]!;
      const share = high === low ? 0 : (parameter - low) / (high - low);
      local[i] = local[i]!.map((value, k) => (1 - share) * local[i - 1]![k]! + share * value);
    }
  }
  const [x, y, z, w] = local[degree] as [number, number, number, number];
  return [x / w, y / w, z / w];
}

/** Chords of the curve, both ends included, none farther than about `tolerance` from it. */
export function splinePoints(spline: Spline, tolerance: number): Point3[] {
  const { degree, knots, controls } = spline;
  const spans = [...new Set(knots.slice(degree, controls.length + 1))];
  const points: Point3[] = [pointAt(spline, spans[0]!)];
  for (let i = 1; i < spans.length; i++) {
    const [from, to] = [spans[i - 1]!, spans[i]!];
    // A quarter of a span first: a curve that winds back on itself may look flat from end to end.
    for (let k = 0; k < 4; k++) {
      const [a, b] = [from + ((to - from) * k) / 4, from + ((to - from) * (k + 1)) / 4];
      halve(spline, a, points.at(-1)!, b, pointAt(spline, b), tolerance, HALVINGS_MAX - 2, points);
    }
  }
  return points;
}

function halve(
  spline: Spline,
  a: number,
  from: Point3,
  b: number,
  to: Point3,
  tolerance: number,
  left: number,
  points: Point3[],
): void {
  const middle = (a + b) / 2;
  const by = pointAt(spline, middle);
  if (left > 0 && distanceToChord(by, from, to) > tolerance) {
    halve(spline, a, from, middle, by, tolerance, left - 1, points);
    halve(spline, middle, by, b, to, tolerance, left - 1, points);
  } else {
    points.push(to);
  }
}

function distanceToChord(p: Point3, a: Point3, b: Point3): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const squared = dx * dx + dy * dy;
  const along = squared === 0 ? 0 : ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / squared;
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}
