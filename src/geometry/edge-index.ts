import type { AreaM, LineM, PointM, RingM } from "../model/geometry.ts";
import { boxOf } from "./rings.ts";
import { SegmentIndex } from "./segment-index.ts";
import { nearestOfSegments } from "./segments.ts";
import { stretchInBox } from "./stretch.ts";

/** The edges of areas of several owners by place: which is near, who holds a point. */
export class EdgeIndex {
  readonly #segments: SegmentIndex;
  readonly #ownerOfRing: number[] = [];
  readonly #box;

  /** @param groups areas by owner; the owner's number is what `owner` and `holders` give */
  constructor(groups: readonly (readonly AreaM[])[]) {
    const rings: RingM[] = [];
    groups.forEach((areas, owner) => {
      for (const area of areas) {
        for (const ring of [area.shell, ...area.holes]) {
          rings.push(ring);
          this.#ownerOfRing.push(owner);
        }
      }
    });
    this.#segments = new SegmentIndex(rings);
    this.#box = boxOf(...rings);
  }

  /** Numbers of the edges within `reachM` of a segment. */
  edgesNear(a: PointM, b: PointM, reachM: number): number[] {
    return this.#segments
      .inBox(
        Math.min(a[0], b[0]) - reachM,
        Math.min(a[1], b[1]) - reachM,
        Math.max(a[0], b[0]) + reachM,
        Math.max(a[1], b[1]) + reachM,
      )
      .filter((k) => nearestOfSegments(a, b, ...this.edge(k)).distanceM <= reachM);
  }

  /**
   * The stretch of a segment that lies in the box round all edges, as shares of its length;
   * undefined where none does.
   */
  stretchNear(a: PointM, b: PointM): [from: number, to: number] | undefined {
    return stretchInBox(a, b, this.#box);
  }

  edge(k: number): [PointM, PointM] {
    return [this.#segments.from(k), this.#segments.to(k)];
  }

  owner(k: number): number {
    return this.#ownerOfRing[this.#segments.ringOf[k]!]!;
  }

  /** Whether any owner holds the point. */
  contains(e: number, n: number): boolean {
    return this.holders(e, n).length > 0;
  }

  /** Owners of which an odd number of rings hold the point, by a ray to the east. */
  holders(e: number, n: number): number[] {
    const odd = new Set<number>();
    for (const k of this.#segments.inBox(e, n, Infinity, n)) {
      const [[ae, an], [be, bn]] = this.edge(k);
      if (an > n !== bn > n && e < ((be - ae) * (n - an)) / (bn - an) + ae) {
        const owner = this.owner(k);
        if (!odd.delete(owner)) odd.add(owner);
      }
    }
    return [...odd];
  }

  /** Owners that hold any of up to 32 middles of a ring's edges, each with the share it holds. */
  sharesHolding(ring: RingM): Map<number, number> {
    const count = ring.length >> 1;
    const step = Math.max(1, Math.floor(count / 32));
    const asked = Math.ceil(count / step);
    const shares = new Map<number, number>();
    for (let s = 0; s < count; s += step) {
      const t = (s + 1) % count;
      const [e, n] = [(ring[2 * s]! + ring[2 * t]!) / 2, (ring[2 * s + 1]! + ring[2 * t + 1]!) / 2];
      for (const owner of this.holders(e, n)) {
        shares.set(owner, (shares.get(owner) ?? 0) + 1 / asked);
      }
    }
    return shares;
  }

  /** Whether any segment of a line or ring comes within `reachM` of an edge. */
  reaches(line: LineM | RingM, closed: boolean, reachM: number): boolean {
    const box = boxOf(line);
    const { minE, minN, maxE, maxN } = this.#box;
    if (box.minE - reachM > maxE || box.maxE + reachM < minE) return false;
    if (box.minN - reachM > maxN || box.maxN + reachM < minN) return false;
    const count = line.length >> 1;
    const segments = closed || count === 1 ? count : count - 1;
    for (let s = 0; s < segments; s++) {
      const t = (s + 1) % count;
      const a: PointM = [line[2 * s]!, line[2 * s + 1]!];
      const b: PointM = [line[2 * t]!, line[2 * t + 1]!];
      if (this.edgesNear(a, b, reachM).length > 0) return true;
    }
    return false;
  }
}
