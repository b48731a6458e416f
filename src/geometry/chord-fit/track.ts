import type { PointM, RingM } from "../../model/geometry.ts";
import { pointSegmentM } from "../segments.ts";
import { Overhangs } from "./overhangs.ts";

/** A vertex is a corner from this turn on, where it also stands out by `CORNER_STANDS_OUT_M`. */
const CORNER_TURN = (40 * Math.PI) / 180;
/** Standing out: distance from the chord between the places this far before and after it, metres. */
const CORNER_REACH_M = 0.4;
const CORNER_STANDS_OUT_M = 0.04;

/**
 * A ring as a track with a length along it, in flat arrays. Vertices and lengths count on past the
 * end of the ring for a second round, so that an arc over the ring's start needs no special case.
 */
export class Track {
  readonly n: number;
  readonly totalM: number;
  readonly #overhangs: Overhangs;
  /** Vertices, twice round. */
  readonly e: Float64Array;
  readonly north: Float64Array;
  /** Length along the track at each vertex. */
  readonly along: Float64Array;
  /** Unit direction of the edge that leaves each vertex. */
  readonly de: Float64Array;
  readonly dn: Float64Array;
  /** 1 for vertices that turn left. */
  readonly convex: Uint8Array;

  constructor(ring: RingM) {
    const n = ring.length >> 1;
    const m = 2 * n + 2;
    this.n = n;
    this.e = new Float64Array(m);
    this.north = new Float64Array(m);
    this.along = new Float64Array(m);
    this.de = new Float64Array(m);
    this.dn = new Float64Array(m);
    this.convex = new Uint8Array(m);
    for (let i = 0; i < m; i++) {
      this.e[i] = ring[2 * (i % n)]!;
      this.north[i] = ring[2 * (i % n) + 1]!;
    }
    for (let i = 0; i + 1 < m; i++) {
      const de = this.e[i + 1]! - this.e[i]!;
      const dn = this.north[i + 1]! - this.north[i]!;
      const length = Math.hypot(de, dn);
      this.along[i + 1] = this.along[i]! + length;
      this.de[i] = length > 0 ? de / length : 0;
      this.dn[i] = length > 0 ? dn / length : 0;
    }
    for (let i = 0; i < m; i++) {
      const k = (i % n) + n;
      const cross = this.de[k - 1]! * this.dn[k]! - this.dn[k - 1]! * this.de[k]!;
      this.convex[i] = cross > 0 ? 1 : 0;
    }
    this.totalM = this.along[n]!;
    this.#overhangs = new Overhangs(this);
  }

  vertex(i: number): PointM {
    return [this.e[i]!, this.north[i]!];
  }

  /** Turn at a vertex in radians, positive to the left. */
  turn(i: number): number {
    const k = (i % this.n) + this.n;
    const cross = this.de[k - 1]! * this.dn[k]! - this.dn[k - 1]! * this.de[k]!;
    const dot = this.de[k - 1]! * this.de[k]! + this.dn[k - 1]! * this.dn[k]!;
    return Math.atan2(cross, dot);
  }

  /** Vertices that must keep a peg of their own. */
  corners(): number[] {
    const found: number[] = [];
    for (let i = 0; i < this.n; i++) {
      if (Math.abs(this.turn(i)) < CORNER_TURN) continue;
      const k = i < this.n / 2 ? i + this.n : i;
      const [a, c] = [-CORNER_REACH_M, CORNER_REACH_M].map((reachM) => {
        const alongM = this.along[k]! + reachM;
        return this.beside(this.edgeAt(alongM, k), alongM, 0);
      }) as [PointM, PointM];
      const off = pointSegmentM(this.e[i]!, this.north[i]!, a[0], a[1], c[0], c[1]);
      if (off >= CORNER_STANDS_OUT_M) found.push(i);
    }
    return found;
  }

  /** Number of the edge that holds a length along the track, sought from a vertex near it. */
  edgeAt(alongM: number, near: number): number {
    let i = near;
    while (i + 2 < this.e.length && this.along[i + 1]! <= alongM) i++;
    while (i > 0 && this.along[i]! > alongM) i--;
    return i;
  }

  /** Whether pegs may stand at a depth beside the whole of an edge. */
  isClear(i: number, depthM: number): boolean {
    return depthM <= this.#overhangs.clearM[i % this.n]!;
  }

  /** The last place on an edge, no further than given, beside which a peg may stand at a depth. */
  freeUpTo(i: number, depthM: number, mostM: number): number {
    return this.#overhangs.freeUpTo(i % this.n, depthM, mostM);
  }

  /** The place at a length along the track on an edge, moved to the left by a depth. */
  beside(edge: number, alongM: number, depthM: number): PointM {
    const on = alongM - this.along[edge]!;
    return [
      this.e[edge]! + on * this.de[edge]! - depthM * this.dn[edge]!,
      this.north[edge]! + on * this.dn[edge]! + depthM * this.de[edge]!,
    ];
  }
}
