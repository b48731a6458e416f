/** Measures and small changes of flat rings and lines (metres). All are linear in the vertices. */
import type { AreaM, LineM, PointM, RingM } from "../model/geometry.ts";

/** Number of vertices of a ring or line. */
export function vertexCount(ring: RingM | LineM): number {
  return ring.length >> 1;
}

export function vertexAt(ring: RingM | LineM, index: number): PointM {
  return [ring[2 * index]!, ring[2 * index + 1]!];
}

/** Flat coordinates from points; a repeated last point of a closed ring is kept as given. */
export function fromPoints(points: readonly PointM[]): Float64Array {
  const flat = new Float64Array(points.length * 2);
  for (let i = 0; i < points.length; i++) {
    flat[2 * i] = points[i]![0];
    flat[2 * i + 1] = points[i]![1];
  }
  return flat;
}

export function toPoints(ring: RingM | LineM): PointM[] {
  const points: PointM[] = [];
  for (let i = 0; i < ring.length; i += 2) points.push([ring[i]!, ring[i + 1]!]);
  return points;
}

/** Area by the shoelace formula about the first vertex, m²; positive when anticlockwise. */
export function signedAreaM2(ring: RingM): number {
  const n = ring.length;
  if (n < 6) return 0;
  const e0 = ring[0]!;
  const n0 = ring[1]!;
  let twice = 0;
  for (let i = 2; i + 3 < n; i += 2) {
    twice += (ring[i]! - e0) * (ring[i + 3]! - n0) - (ring[i + 2]! - e0) * (ring[i + 1]! - n0);
  }
  return twice / 2;
}

/** Area of a polygon less its holes, m². */
export function areaM2(area: AreaM): number {
  let total = Math.abs(signedAreaM2(area.shell));
  for (const hole of area.holes) total -= Math.abs(signedAreaM2(hole));
  return total;
}

export function totalAreaM2(areas: readonly AreaM[]): number {
  let total = 0;
  for (const area of areas) total += areaM2(area);
  return total;
}

/** Length of an open line, metres. */
export function lineLengthM(line: LineM): number {
  let length = 0;
  for (let i = 0; i + 3 < line.length; i += 2) {
    length += Math.hypot(line[i + 2]! - line[i]!, line[i + 3]! - line[i + 1]!);
  }
  return length;
}

/** Length of a ring, closing segment included, metres. */
export function ringLengthM(ring: RingM): number {
  const n = ring.length;
  if (n < 4) return 0;
  return lineLengthM(ring) + Math.hypot(ring[0]! - ring[n - 2]!, ring[1]! - ring[n - 1]!);
}

export function reversed(ring: RingM): RingM {
  const n = ring.length;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i += 2) {
    out[i] = ring[n - 2 - i]!;
    out[i + 1] = ring[n - 1 - i]!;
  }
  return out;
}

/** The ring wound anticlockwise; the same array where it already is. */
export function anticlockwise(ring: RingM): RingM {
  return signedAreaM2(ring) < 0 ? reversed(ring) : ring;
}

/** The ring wound clockwise; the same array where it already is. */
export function clockwise(ring: RingM): RingM {
  return signedAreaM2(ring) > 0 ? reversed(ring) : ring;
}

/** Axis-parallel box. */
export interface BoxM {
  minE: number;
  minN: number;
  maxE: number;
  maxN: number;
}

/** Tells of a box, given by its bounds, whether it is near something. */
export type BoxTest = (minE: number, minN: number, maxE: number, maxN: number) => boolean;

/** Whether two boxes have a point in common. */
export function boxesMeet(a: BoxM, b: BoxM): boolean {
  return a.minE <= b.maxE && b.minE <= a.maxE && a.minN <= b.maxN && b.minN <= a.maxN;
}

export function boxOf(...rings: readonly (RingM | LineM)[]): BoxM {
  const box = { minE: Infinity, minN: Infinity, maxE: -Infinity, maxN: -Infinity };
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const e = ring[i]!;
      const n = ring[i + 1]!;
      if (e < box.minE) box.minE = e;
      if (e > box.maxE) box.maxE = e;
      if (n < box.minN) box.minN = n;
      if (n > box.maxN) box.maxN = n;
    }
  }
  return box;
}

/** Even-odd test by crossing count; points on the ring may fall either way. */
export function ringContains(ring: RingM, east: number, north: number): boolean {
  let inside = false;
  const n = ring.length;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    const ni = ring[i + 1]!;
    const nj = ring[j + 1]!;
    if (ni > north !== nj > north) {
      const ei = ring[i]!;
      const ej = ring[j]!;
      if (east < ((ej - ei) * (north - ni)) / (nj - ni) + ei) inside = !inside;
    }
  }
  return inside;
}

export function areaContains(area: AreaM, east: number, north: number): boolean {
  if (!ringContains(area.shell, east, north)) return false;
  for (const hole of area.holes) if (ringContains(hole, east, north)) return false;
  return true;
}

/** The level itself, or where a vertex lies on it (an edge may), halfway to the next vertex above. */
function betweenVertices(area: AreaM, north: number): number {
  let [isVertex, above] = [false, Infinity];
  for (const ring of [area.shell, ...area.holes]) {
    for (let i = 1; i < ring.length; i += 2) {
      const n = ring[i]!;
      if (n === north) isVertex = true;
      else if (n > north && n < above) above = n;
    }
  }
  return isVertex && above < Infinity ? (north + above) / 2 : north;
}

/** A point well inside an area: the middle of its widest stretch on a level through its middle. */
export function interiorPoint(area: AreaM): PointM {
  const box = boxOf(area.shell);
  for (const share of [0.5, 0.37, 0.63, 0.21, 0.79, 0.08, 0.92]) {
    const north = betweenVertices(area, box.minN + share * (box.maxN - box.minN));
    const cuts: number[] = [];
    for (const ring of [area.shell, ...area.holes]) {
      const n = ring.length;
      for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
        const ni = ring[i + 1]!;
        const nj = ring[j + 1]!;
        if (ni > north === nj > north) continue;
        cuts.push(((ring[j]! - ring[i]!) * (north - ni)) / (nj - ni) + ring[i]!);
      }
    }
    cuts.sort((a, b) => a - b);
    let best: PointM | undefined;
    let widest = 1e-6;
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const width = cuts[k + 1]! - cuts[k]!;
      if (width <= widest) continue;
      widest = width;
      best = [(cuts[k]! + cuts[k + 1]!) / 2, north];
    }
    if (best) return best;
  }
  return vertexAt(area.shell, 0);
}

/** Most corners of a disc, however large it is. */
const DISC_STEPS_MAX = 20_000;

/** Regular polygon round a centre with its vertices on the circle, anticlockwise. */
export function discRing(centre: PointM, radiusM: number, chordToleranceM = 0.001): RingM {
  const half = Math.acos(Math.max(-1, 1 - chordToleranceM / Math.max(radiusM, chordToleranceM)));
  const steps = Math.min(DISC_STEPS_MAX, Math.max(12, 4 * Math.ceil(Math.PI / half / 4)));
  const ring = new Float64Array(2 * steps);
  for (let i = 0; i < steps; i++) {
    const angle = (2 * Math.PI * i) / steps;
    ring[2 * i] = centre[0] + radiusM * Math.cos(angle);
    ring[2 * i + 1] = centre[1] + radiusM * Math.sin(angle);
  }
  return ring;
}
