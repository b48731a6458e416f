/**
 * Few straight chords for a ring of many short ones, never to the wrong side.
 *
 * The ring's left side is free, its right side is forbidden. Two moves take an edge away and only
 * ever move the ring to the left: a left-turning vertex is dropped (the chord cuts across free
 * ground), and an edge between two right turns gives way to the point where its neighbours meet
 * when lengthened. A move counts when it saves spans and stays within `wanderM` of the given ring;
 * moves that save nothing are made only where they hardly move the ring, to let later ones save.
 * Greedy by least movement; n log n.
 *
 * This is one-sided polygonal approximation; compare Guibas, Hershberger, Mitchell and Snoeyink,
 * Approximating polygons and subdivisions with minimum-link paths, IJCGA 3 (1993) (from memory).
 */
import type { PointM, RingM } from "../model/geometry.ts";
import { lineIntersection, pointSegmentM } from "./segments.ts";

export interface ChordFitOptions {
  /** Longest span between neighbouring pegs, metres. */
  readonly spacingM: number;
  /** Furthest from the given ring, to the left, metres. */
  readonly wanderM: number;
}

/** Moves that save no span may go this far, metres. */
const FREE_MOVE_M = 0.03;
/** Vertices nearer than this to the chord past them carry nothing, metres. */
const COLLINEAR_M = 0.0002;

/** Number of spans in which a chord is pegged. */
export function spansOf(lengthM: number, spacingM: number): number {
  return Math.max(1, Math.ceil(lengthM / spacingM - 1e-9));
}

interface Move {
  readonly kind: "drop" | "meet";
  readonly vertex: number;
  readonly stamp: number;
  readonly offM: number;
  readonly to?: PointM;
}

/**
 * @param ring free side on its left, metres
 * @returns a ring of fewer vertices; the same one where nothing can be saved
 */
export function fitChords(ring: RingM, options: ChordFitOptions): RingM {
  const fitter = new Fitter(withoutCollinear(fromLowest(ring)), options);
  return fitter.run();
}

/** The ring begun at its southernmost (then westernmost) vertex, so that where it began before does not matter. */
function fromLowest(ring: RingM): RingM {
  let lowest = 0;
  for (let i = 2; i < ring.length; i += 2) {
    const north = ring[i + 1]! - ring[lowest + 1]!;
    if (north < 0 || (north === 0 && ring[i]! < ring[lowest]!)) lowest = i;
  }
  if (lowest === 0) return ring;
  const out = new Float64Array(ring.length);
  out.set(ring.subarray(lowest), 0);
  out.set(ring.subarray(0, lowest), ring.length - lowest);
  return out;
}

/** Leaves out vertices that lie on the line of their neighbours, to 0.2 mm. */
function withoutCollinear(ring: RingM): RingM {
  const n = ring.length >> 1;
  if (n < 4) return ring;
  const keep: number[] = [];
  const at = (i: number): PointM => [ring[2 * (i % n)]!, ring[2 * (i % n) + 1]!];
  // Start at a true corner so that the first vertex is not on a straight run.
  let start = 0;
  let sharpest = -1;
  for (let i = 0; i < n; i++) {
    const a = at(i + n - 1);
    const b = at(i);
    const c = at(i + 1);
    const off = pointSegmentM(b[0], b[1], a[0], a[1], c[0], c[1]);
    if (off > sharpest) {
      sharpest = off;
      start = i;
    }
  }
  let anchor = start;
  keep.push(start);
  for (let k = 1; k < n; k++) {
    const i = start + k;
    const a = at(anchor);
    const c = at(i + 1);
    let straight = true;
    for (let m = anchor + 1; m <= i && straight; m++) {
      const b = at(m);
      straight = pointSegmentM(b[0], b[1], a[0], a[1], c[0], c[1]) <= COLLINEAR_M;
    }
    if (!straight || i - anchor > 200) {
      keep.push(i);
      anchor = i;
    }
  }
  return Float64Array.from(keep.flatMap((i) => [...at(i)]));
}

class Fitter {
  readonly #given: RingM;
  readonly #n: number;
  readonly #e: number[];
  readonly #north: number[];
  readonly #next: number[];
  readonly #prev: number[];
  /** Given vertices that the edge from a vertex stands for: first and last, counted on past n. */
  readonly #first: number[];
  readonly #last: number[];
  readonly #stamp: number[];
  readonly #options: ChordFitOptions;
  #alive: number;
  #heap: Move[] = [];

  constructor(given: RingM, options: ChordFitOptions) {
    this.#given = given;
    this.#n = given.length >> 1;
    this.#options = options;
    const n = this.#n;
    this.#e = Array.from({ length: n }, (_, i) => given[2 * i]!);
    this.#north = Array.from({ length: n }, (_, i) => given[2 * i + 1]!);
    this.#next = Array.from({ length: n }, (_, i) => (i + 1) % n);
    this.#prev = Array.from({ length: n }, (_, i) => (i + n - 1) % n);
    this.#first = Array.from({ length: n }, (_, i) => i);
    this.#last = Array.from({ length: n }, (_, i) => i + 1);
    this.#stamp = new Array<number>(n).fill(0);
    this.#alive = n;
  }

  run(): RingM {
    if (this.#n < 4) return this.#given;
    for (let v = 0; v < this.#n; v++) this.#offer(v);
    for (;;) {
      const move = this.#pop();
      if (!move) break;
      if (move.stamp !== this.#stamp[move.vertex] || this.#alive <= 3) continue;
      this.#make(move);
    }
    const start = this.#stamp.findIndex((s) => s >= 0);
    const flat: number[] = [];
    let v = start;
    do {
      flat.push(this.#e[v]!, this.#north[v]!);
      v = this.#next[v]!;
    } while (v !== start);
    return Float64Array.from(flat);
  }

  #point(v: number): PointM {
    return [this.#e[v]!, this.#north[v]!];
  }

  #givenPoint(i: number): PointM {
    const k = ((i % this.#n) + this.#n) % this.#n;
    return [this.#given[2 * k]!, this.#given[2 * k + 1]!];
  }

  #turn(v: number): number {
    const a = this.#point(this.#prev[v]!);
    const b = this.#point(v);
    const c = this.#point(this.#next[v]!);
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
  }

  #spans(a: PointM, b: PointM): number {
    return spansOf(Math.hypot(b[0] - a[0], b[1] - a[1]), this.#options.spacingM);
  }

  #offer(v: number): void {
    const move = this.#turn(v) > 0 ? this.#dropOf(v) : this.#meetOf(v);
    if (move) this.#push(move);
  }

  /** Dropping a left-turning vertex: how far the given vertices then lie from the new chord. */
  #dropOf(v: number): Move | undefined {
    const p = this.#prev[v]!;
    const a = this.#point(p);
    const b = this.#point(v);
    const c = this.#point(this.#next[v]!);
    const saved = this.#spans(a, b) + this.#spans(b, c) - this.#spans(a, c);
    const limit = this.#limit(saved);
    let off = pointSegmentM(b[0], b[1], a[0], a[1], c[0], c[1]);
    for (let i = this.#first[p]!; i <= this.#last[v]! && off <= limit; i++) {
      const g = this.#givenPoint(i);
      off = Math.max(off, pointSegmentM(g[0], g[1], a[0], a[1], c[0], c[1]));
    }
    if (off > limit) return undefined;
    return { kind: "drop", vertex: v, stamp: this.#stamp[v]!, offM: off };
  }

  /** Replacing the edge from v, when both its ends turn right, by the meeting of its neighbours. */
  #meetOf(v: number): Move | undefined {
    const w = this.#next[v]!;
    if (this.#turn(w) >= 0) return undefined;
    const p = this.#prev[v]!;
    const q = this.#next[w]!;
    if (p === w || q === v || p === q) return undefined;
    const a = this.#point(p);
    const b = this.#point(v);
    const c = this.#point(w);
    const d = this.#point(q);
    const x = lineIntersection(a, b, d, c);
    if (!x) return undefined;
    const ahead = (x[0] - b[0]) * (b[0] - a[0]) + (x[1] - b[1]) * (b[1] - a[1]);
    const behind = (x[0] - c[0]) * (c[0] - d[0]) + (x[1] - c[1]) * (c[1] - d[1]);
    if (ahead < 0 || behind < 0) return undefined;
    const saved =
      this.#spans(a, b) +
      this.#spans(b, c) +
      this.#spans(c, d) -
      this.#spans(a, x) -
      this.#spans(x, d);
    const limit = this.#limit(saved);
    let off = Infinity;
    for (let i = this.#first[v]!; i < this.#last[v]!; i++) {
      const g = this.#givenPoint(i);
      const h = this.#givenPoint(i + 1);
      off = Math.min(off, pointSegmentM(x[0], x[1], g[0], g[1], h[0], h[1]));
    }
    if (off > limit) return undefined;
    return { kind: "meet", vertex: v, stamp: this.#stamp[v]!, offM: off, to: x };
  }

  #limit(savedSpans: number): number {
    if (savedSpans < 0) return -1;
    return savedSpans === 0 ? Math.min(FREE_MOVE_M, this.#options.wanderM) : this.#options.wanderM;
  }

  #make(move: Move): void {
    const v = move.vertex;
    const p = this.#prev[v]!;
    if (move.kind === "drop") {
      const q = this.#next[v]!;
      this.#last[p] = this.#last[v]!;
      this.#unlink(v);
      this.#refresh(p, q);
      return;
    }
    const w = this.#next[v]!;
    const x = move.to!;
    const middle = this.#nearestGiven(x, this.#first[v]!, this.#last[v]!);
    this.#e[v] = x[0];
    this.#north[v] = x[1];
    this.#last[p] = middle;
    this.#first[v] = middle;
    this.#last[v] = this.#last[w]!;
    this.#unlink(w);
    this.#refresh(v, v);
  }

  #nearestGiven(x: PointM, first: number, last: number): number {
    let best = first;
    let least = Infinity;
    for (let i = first; i <= last; i++) {
      const g = this.#givenPoint(i);
      const d = Math.hypot(g[0] - x[0], g[1] - x[1]);
      if (d < least) {
        least = d;
        best = i;
      }
    }
    return best;
  }

  #unlink(v: number): void {
    const p = this.#prev[v]!;
    const q = this.#next[v]!;
    this.#next[p] = q;
    this.#prev[q] = p;
    this.#stamp[v] = -1;
    this.#alive--;
  }

  /** Offers anew every move that a change between two vertices can have touched. */
  #refresh(from: number, to: number): void {
    let v = this.#prev[this.#prev[from]!]!;
    const end = this.#next[this.#next[to]!]!;
    const seen = new Set<number>();
    for (;;) {
      if (!seen.has(v)) {
        seen.add(v);
        this.#stamp[v] = this.#stamp[v]! + 1;
        this.#offer(v);
      } else if (v === end) break;
      if (v === end) break;
      v = this.#next[v]!;
      if (seen.size >= this.#alive) break;
    }
  }

  #push(move: Move): void {
    const heap = this.#heap;
    heap.push(move);
    let i = heap.length - 1;
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (!before(heap[i]!, heap[up]!)) break;
      [heap[i], heap[up]] = [heap[up]!, heap[i]!];
      i = up;
    }
  }

  #pop(): Move | undefined {
    const heap = this.#heap;
    const top = heap[0];
    const last = heap.pop();
    if (!top || !last || heap.length === 0) return top;
    heap[0] = last;
    let i = 0;
    for (;;) {
      let least = i;
      for (const child of [2 * i + 1, 2 * i + 2]) {
        if (child < heap.length && before(heap[child]!, heap[least]!)) least = child;
      }
      if (least === i) return top;
      [heap[i], heap[least]] = [heap[least]!, heap[i]!];
      i = least;
    }
  }
}

function before(a: Move, b: Move): boolean {
  return a.offM < b.offM || (a.offM === b.offM && a.vertex < b.vertex);
}
