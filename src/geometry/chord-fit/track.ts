import type { PointM, RingM } from "../../model/geometry.ts";
import { pointSegmentM } from "../segments.ts";

/** A vertex is a corner from this turn on, where it also stands out by `CORNER_STANDS_OUT_M`. */
const CORNER_TURN = (40 * Math.PI) / 180;
/** Standing out: distance from the chord between the places this far before and after it, metres. */
const CORNER_REACH_M = 0.4;
const CORNER_STANDS_OUT_M = 0.04;
/** Edges this near along the ring are looked at when a peg leaves it sideways, metres. */
const NEARBY_M = 0.6;

/**
 * A ring as a track with a length along it, in flat arrays. Vertices and lengths count on past the
 * end of the ring for a second round, so that an arc over the ring's start needs no special case.
 */
export class Track {
  readonly n: number;
  readonly totalM: number;
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
    for (let i = 0; i < m; i++) this.convex[i] = this.turn(i) > 0 ? 1 : 0;
    this.totalM = this.along[n]!;
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
      const a = this.place(this.along[k]! - CORNER_REACH_M, 0, k);
      const c = this.place(this.along[k]! + CORNER_REACH_M, 0, k);
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

  /** Whether the way from a place on edge i to a place in the band crosses no other edge nearby. */
  depthIsFree(i: number, onM: number, e: number, n: number): boolean {
    const fe = this.e[i]! + onM * this.de[i]!;
    const fn = this.north[i]! + onM * this.dn[i]!;
    const at = this.along[i]! + onM;
    for (let j = i - 1; j >= 0 && at - this.along[j + 1]! < NEARBY_M; j--) {
      if (this.#crosses(j, fe, fn, e, n)) return false;
    }
    for (let j = i + 1; j + 1 < this.e.length && this.along[j]! - at < NEARBY_M; j++) {
      if (this.#crosses(j, fe, fn, e, n)) return false;
    }
    return true;
  }

  #crosses(j: number, ae: number, an: number, be: number, bn: number): boolean {
    const ce = this.e[j]!;
    const cn = this.north[j]!;
    const de = this.e[j + 1]! - ce;
    const dn = this.north[j + 1]! - cn;
    const sideA = de * (an - cn) - dn * (ae - ce);
    const sideB = de * (bn - cn) - dn * (be - ce);
    if (sideB > 0 || sideA < 0) return false;
    const ue = be - ae;
    const un = bn - an;
    const sideC = ue * (cn - an) - un * (ce - ae);
    const sideD = ue * (cn + dn - an) - un * (ce + de - ae);
    return sideC * sideD <= 0;
  }

  /** The place at a length along the track, moved to the left by a depth. */
  place(alongM: number, depthM: number, near: number): PointM {
    const i = this.edgeAt(alongM, near);
    const on = alongM - this.along[i]!;
    return [
      this.e[i]! + on * this.de[i]! - depthM * this.dn[i]!,
      this.north[i]! + on * this.dn[i]! + depthM * this.de[i]!,
    ];
  }
}
