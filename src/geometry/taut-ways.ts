/**
 * Shortest ways inside areas: triangles that lead from place to place (Dijkstra), then the string
 * pulled taut in the sleeve that they form (funnel; Lee and Preparata 1984, Chazelle 1982; from
 * memory).
 *
 * Exact where there is one way round everything; where there are several the sleeve is chosen by the
 * middles of the triangles' sides, so a way may come out a little longer than the shortest.
 */
import type { AreaM, LineM, PointM } from "../model/geometry.ts";
import { lineLengthM } from "./rings.ts";
import { nextHalfedge, type Triangulation, triangulate } from "./triangulate.ts";

/** Longest side of the triangulation along the areas' edges, metres. */
const STEP_M = 2;

export class TautWays {
  readonly #mesh: Triangulation;
  readonly #inside: number[] = [];

  constructor(areas: readonly AreaM[]) {
    const chains = areas.flatMap((area) =>
      [area.shell, ...area.holes].map((ring) => ({
        line: Float64Array.from([...ring, ring[0]!, ring[1]!]),
        label: 0,
      })),
    );
    this.#mesh = triangulate(chains, STEP_M);
    for (let t = 0; t < this.#mesh.inside.length; t++)
      if (this.#mesh.inside[t]) this.#inside.push(t);
  }

  /** The taut way between two places, both included; undefined where none leads there. */
  between(from: PointM, to: PointM): LineM | undefined {
    const start = this.#triangleAt(from);
    const end = this.#triangleAt(to);
    if (start === -1 || end === -1) return undefined;
    const { via } = this.#spread(start, from, end);
    return this.#pulled(from, to, start, end, via);
  }

  /** Whether a place lies in the areas. */
  holds(at: PointM): boolean {
    return this.#triangleAt(at) !== -1;
  }

  /** Lengths of the taut ways from one place to others, metres; undefined where none leads there. */
  lengthsFrom(from: PointM): (to: PointM) => number | undefined {
    const start = this.#triangleAt(from);
    if (start === -1) return () => undefined;
    const { via } = this.#spread(start, from, -1);
    return (to) => {
      const end = this.#triangleAt(to);
      const way = end === -1 ? undefined : this.#pulled(from, to, start, end, via);
      return way && lineLengthM(way);
    };
  }

  /**
   * The place hardest to reach of some, by the length of the taut way to it.
   *
   * @param tried how many of those that look farthest are measured exactly
   */
  farthest(from: PointM, places: readonly PointM[], tried = 12): LineM | undefined {
    const start = this.#triangleAt(from);
    if (start === -1) return undefined;
    const { via, distanceM } = this.#spread(start, from, -1);
    const reached = places
      .map((place) => ({ place, t: this.#triangleAt(place) }))
      .filter(({ t }) => t !== -1 && Number.isFinite(distanceM[t]!))
      .sort((a, b) => distanceM[b.t]! - distanceM[a.t]!)
      .slice(0, tried);
    let best: { way: LineM; lengthM: number } | undefined;
    for (const { place, t } of reached) {
      const way = this.#pulled(from, place, start, t, via);
      const lengthM = way ? lineLengthM(way) : 0;
      if (way && (!best || lengthM > best.lengthM + 1e-6)) best = { way, lengthM };
    }
    return best?.way;
  }

  #triangleAt([e, n]: PointM): number {
    const { coords, triangles } = this.#mesh;
    let best = -1;
    let least = 1e-9;
    for (const t of this.#inside) {
      let outside = 0;
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const a = 2 * triangles[h]!;
        const b = 2 * triangles[nextHalfedge(h)]!;
        const c = 2 * triangles[nextHalfedge(nextHalfedge(h))]!;
        const side = (x: number, y: number): number =>
          (coords[b]! - coords[a]!) * (y - coords[a + 1]!) -
          (coords[b + 1]! - coords[a + 1]!) * (x - coords[a]!);
        const own = side(coords[c]!, coords[c + 1]!);
        outside = Math.max(outside, -side(e, n) * Math.sign(own));
      }
      if (outside < least) {
        least = outside;
        best = t;
        if (outside === 0) break;
      }
    }
    return best;
  }

  /** Dijkstra over triangles by the middles of their sides; stops at `end` where that is one. */
  #spread(start: number, from: PointM, end: number): { via: Int32Array; distanceM: Float64Array } {
    const { coords, triangles, halfedges, boundary, inside } = this.#mesh;
    const count = inside.length;
    const distanceM = new Float64Array(count).fill(Infinity);
    const via = new Int32Array(count).fill(-1);
    const place = new Float64Array(2 * count);
    const settled = new Uint8Array(count);
    distanceM[start] = 0;
    place.set(from, 2 * start);
    const heap = new Heap();
    heap.push(start, 0);
    for (let t = heap.pop(); t !== -1; t = heap.pop()) {
      if (settled[t]) continue;
      settled[t] = 1;
      if (t === end) break;
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const twin = halfedges[h]!;
        if (boundary[h] || twin === -1) continue;
        const u = Math.floor(twin / 3);
        if (!inside[u] || settled[u]) continue;
        const a = 2 * triangles[h]!;
        const b = 2 * triangles[nextHalfedge(h)]!;
        const e = (coords[a]! + coords[b]!) / 2;
        const n = (coords[a + 1]! + coords[b + 1]!) / 2;
        const length = distanceM[t]! + Math.hypot(e - place[2 * t]!, n - place[2 * t + 1]!);
        if (length >= distanceM[u]!) continue;
        distanceM[u] = length;
        via[u] = h;
        place[2 * u] = e;
        place[2 * u + 1] = n;
        heap.push(u, length);
      }
    }
    return { via, distanceM };
  }

  #pulled(
    from: PointM,
    to: PointM,
    start: number,
    end: number,
    via: Int32Array,
  ): LineM | undefined {
    const { coords, triangles } = this.#mesh;
    const at = (p: number): PointM => [coords[2 * p]!, coords[2 * p + 1]!];
    const portals: [PointM, PointM][] = [];
    for (let t = end; t !== start; ) {
      const h = via[t]!;
      if (h === -1) return undefined;
      const a = at(triangles[h]!);
      const b = at(triangles[nextHalfedge(h)]!);
      const c = at(triangles[nextHalfedge(nextHalfedge(h))]!);
      // Leaving the triangle of h across it, away from c: left and right as one walks.
      portals.push(turn(a, b, c) > 0 ? [b, a] : [a, b]);
      t = Math.floor(h / 3);
    }
    return Float64Array.from(funnel(from, to, portals.reverse()).flat());
  }
}

function turn(a: PointM, b: PointM, c: PointM): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

const same = (a: PointM, b: PointM): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-9;

/**
 * The taut string through a sleeve of portals, each [left, right] as one walks through it: two
 * chains from the last fixed point, one along each bank, that never cross. Linear.
 */
function funnel(
  from: PointM,
  to: PointM,
  portals: readonly (readonly [PointM, PointM])[],
): PointM[] {
  const way: PointM[] = [from];
  const left: PointM[] = [from];
  const right: PointM[] = [from];
  /** Adds a point to one chain; `sign` is 1 on the left, where the string can only turn left. */
  const add = (own: PointM[], other: PointM[], point: PointM, sign: number): void => {
    if (same(own[own.length - 1]!, point)) return;
    while (own.length >= 2 && sign * turn(own[own.length - 2]!, own[own.length - 1]!, point) <= 0) {
      own.pop();
    }
    if (own.length === 1) {
      while (other.length >= 2 && sign * turn(other[0]!, other[1]!, point) < -1e-12) {
        other.shift();
        own[0] = other[0]!;
        way.push(other[0]!);
      }
      if (same(own[0]!, point)) return;
    }
    own.push(point);
  };
  for (const [nextLeft, nextRight] of portals) {
    add(left, right, nextLeft, 1);
    add(right, left, nextRight, -1);
  }
  add(left, right, to, 1);
  return [...way, ...left.slice(1), to].filter((p, i, all) => i === 0 || !same(p, all[i - 1]!));
}

/** A binary heap of numbers by key, least first. */
class Heap {
  readonly #items: { value: number; key: number }[] = [];

  push(value: number, key: number): void {
    const items = this.#items;
    let i = items.length;
    items.push({ value, key });
    while (i > 0) {
      const parent = (i - 1) >> 1;
      if (items[parent]!.key <= key) break;
      items[i] = items[parent]!;
      i = parent;
    }
    items[i] = { value, key };
  }

  /** The value of the least key, or -1. */
  pop(): number {
    const items = this.#items;
    const top = items[0];
    const last = items.pop();
    if (!top || !last) return -1;
    if (items.length > 0) {
      let i = 0;
      for (;;) {
        let child = 2 * i + 1;
        if (child >= items.length) break;
        if (child + 1 < items.length && items[child + 1]!.key < items[child]!.key) child++;
        if (items[child]!.key >= last.key) break;
        items[i] = items[child]!;
        i = child;
      }
      items[i] = last;
    }
    return top.value;
  }
}
