/** Plain plane arithmetic for the judge, and a hash grid to find segments near a place. */
import type { Xy } from "./plane.ts";

export interface Segment<T> {
  readonly a: Xy;
  readonly b: Xy;
  readonly data: T;
}

export const distance = (a: Xy, b: Xy): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

/** Nearest point of segment ab to p. */
export function nearestOn(p: Xy, a: Xy, b: Xy): Xy {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square;
  const k = Math.min(1, Math.max(0, t));
  return [a[0] + k * dx, a[1] + k * dy];
}

function side(p: Xy, q: Xy, r: Xy): number {
  return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
}

export function cross(a: Xy, b: Xy, c: Xy, d: Xy): boolean {
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

/** Least distance between two segments, and where on the second it is. */
export function between(a: Xy, b: Xy, c: Xy, d: Xy): { distance: number; onSecond: Xy } {
  if (cross(a, b, c, d)) return { distance: 0, onSecond: nearestOn(a, c, d) };
  const candidates: { distance: number; onSecond: Xy }[] = [
    ...[a, b].map((p) => {
      const q = nearestOn(p, c, d);
      return { distance: distance(p, q), onSecond: q };
    }),
    ...[c, d].map((q) => ({ distance: distance(q, nearestOn(q, a, b)), onSecond: q })),
  ];
  return candidates.reduce((best, one) => (one.distance < best.distance ? one : best));
}

/** Where the line through p along direction u meets segment ab, as the signed distance from p. */
export function along(p: Xy, u: Xy, a: Xy, b: Xy): number | undefined {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const denominator = u[0] * dy - u[1] * dx;
  if (denominator === 0) return undefined;
  const t = ((a[0] - p[0]) * dy - (a[1] - p[1]) * dx) / denominator;
  const k = ((a[0] - p[0]) * u[1] - (a[1] - p[1]) * u[0]) / denominator;
  return k >= 0 && k <= 1 ? t : undefined;
}

export function ringArea(ring: readonly Xy[]): number {
  let twice = 0;
  const o = ring[0]!;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i]!;
    const b = ring[(i + 1) % ring.length]!;
    twice += (a[0] - o[0]) * (b[1] - o[1]) - (b[0] - o[0]) * (a[1] - o[1]);
  }
  return twice / 2;
}

export function lineLength(line: readonly Xy[]): number {
  let length = 0;
  for (let i = 1; i < line.length; i++) length += distance(line[i - 1]!, line[i]!);
  return length;
}

/** Whether a point lies inside a ring, by winding number (Sunday 2001; from memory). */
export function inside(p: Xy, ring: readonly Xy[]): boolean {
  let winding = 0;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i]!;
    const b = ring[(i + 1) % ring.length]!;
    if (a[1] <= p[1] && b[1] > p[1] && side(a, b, p) > 0) winding++;
    else if (a[1] > p[1] && b[1] <= p[1] && side(a, b, p) < 0) winding--;
  }
  return winding !== 0;
}

export function insidePolygon(p: Xy, rings: readonly (readonly Xy[])[]): boolean {
  return inside(p, rings[0]!) && !rings.slice(1).some((hole) => inside(p, hole));
}

export function segmentsOf<T>(line: readonly Xy[], data: T): Segment<T>[] {
  return line.slice(1).map((b, i) => ({ a: line[i]!, b, data }));
}

/** Segments by the square cells that they may touch. */
export class SegmentGrid<T> {
  readonly #cells = new Map<string, number[]>();
  readonly all: readonly Segment<T>[];
  readonly #size: number;

  constructor(all: readonly Segment<T>[], size = 1) {
    this.all = all;
    this.#size = size;
    all.forEach(({ a, b }, i) => {
      for (const key of this.#keys(a, b, 0)) {
        const list = this.#cells.get(key);
        if (list) list.push(i);
        else this.#cells.set(key, [i]);
      }
    });
  }

  /** Cells of a segment's surroundings, walked in short steps so that long diagonals stay cheap. */
  #keys(a: Xy, b: Xy, reach: number): Set<string> {
    const keys = new Set<string>();
    const steps = Math.max(1, Math.ceil(distance(a, b) / this.#size));
    for (let s = 0; s < steps; s++) {
      const p = [0, 1].map((k) => a[k]! + ((b[k]! - a[k]!) * s) / steps);
      const q = [0, 1].map((k) => a[k]! + ((b[k]! - a[k]!) * (s + 1)) / steps);
      const [x0, y0] = [0, 1].map((k) => Math.floor((Math.min(p[k]!, q[k]!) - reach) / this.#size));
      const [x1, y1] = [0, 1].map((k) => Math.floor((Math.max(p[k]!, q[k]!) + reach) / this.#size));
      for (let x = x0!; x <= x1!; x++) for (let y = y0!; y <= y1!; y++) keys.add(`${x},${y}`);
    }
    return keys;
  }

  /** Numbers of the segments that may come within `reach` of segment ab, in order. */
  near(a: Xy, b: Xy, reach: number): number[] {
    const found = new Set<number>();
    for (const key of this.#keys(a, b, reach)) {
      for (const i of this.#cells.get(key) ?? []) found.add(i);
    }
    return [...found].sort((x, y) => x - y);
  }
}
