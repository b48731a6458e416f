import Flatbush from "flatbush";
import { boxOf } from "../geometry/rings.ts";
import type { AreaM, LineM, PointM, RingM } from "../model/geometry.ts";
import { segmentsM } from "./segmentDistance.ts";

/** The edges of areas by place: which is near, what lies inside. Build n log n, ask log n. */
export class EdgeIndex {
  private readonly index: Flatbush | undefined;
  private readonly ends: Float64Array;
  private readonly owners: Int32Array;

  /** @param groups areas by owner; the owner's number is what `near` gives */
  constructor(groups: readonly (readonly AreaM[])[]) {
    const rings = groups.flatMap((areas, owner) =>
      areas.flatMap((area) => [area.shell, ...area.holes].map((ring) => ({ ring, owner }))),
    );
    const total = rings.reduce((sum, { ring }) => sum + (ring.length >> 1), 0);
    this.ends = new Float64Array(4 * total);
    this.owners = new Int32Array(total);
    if (total === 0) return;
    const index = new Flatbush(total);
    let k = 0;
    for (const { ring, owner } of rings) {
      for (let i = 0; i < ring.length; i += 2) {
        const j = (i + 2) % ring.length;
        const [ae, an, be, bn] = [ring[i]!, ring[i + 1]!, ring[j]!, ring[j + 1]!];
        index.add(Math.min(ae, be), Math.min(an, bn), Math.max(ae, be), Math.max(an, bn));
        this.ends.set([ae, an, be, bn], 4 * k);
        this.owners[k] = owner;
        k++;
      }
    }
    index.finish();
    this.index = index;
  }

  /** Numbers of the edges within `reachM` of a segment. */
  edgesNear(a: PointM, b: PointM, reachM: number): number[] {
    if (!this.index) return [];
    return this.index.search(
      Math.min(a[0], b[0]) - reachM,
      Math.min(a[1], b[1]) - reachM,
      Math.max(a[0], b[0]) + reachM,
      Math.max(a[1], b[1]) + reachM,
      (k) => {
        const [from, to] = this.edge(k);
        return segmentsM(a[0], a[1], b[0], b[1], from[0], from[1], to[0], to[1]) <= reachM;
      },
    );
  }

  edge(k: number): [PointM, PointM] {
    const e = this.ends;
    return [
      [e[4 * k]!, e[4 * k + 1]!],
      [e[4 * k + 2]!, e[4 * k + 3]!],
    ];
  }

  owner(k: number): number {
    return this.owners[k]!;
  }

  /** Whether a point lies inside an odd number of the rings: inside one of disjoint areas. */
  contains(e: number, n: number): boolean {
    return this.containers(e, n).length > 0;
  }

  /** Owners of which an odd number of rings hold the point. */
  containers(e: number, n: number): number[] {
    if (!this.index) return [];
    const odd = new Set<number>();
    this.index.search(e, n, Infinity, n, (k) => {
      const [[ae, an], [be, bn]] = this.edge(k);
      if (an > n !== bn > n && e < ((be - ae) * (n - an)) / (bn - an) + ae) {
        const owner = this.owners[k]!;
        if (!odd.delete(owner)) odd.add(owner);
      }
      return false;
    });
    return [...odd];
  }

  /** Whether any segment of a line or ring comes within `reachM` of an edge. */
  reaches(line: LineM | RingM, closed: boolean, reachM: number): boolean {
    if (!this.index) return false;
    const box = boxOf(line);
    const { minX, minY, maxX, maxY } = this.index;
    if (box.minE - reachM > maxX || box.maxE + reachM < minX) return false;
    if (box.minN - reachM > maxY || box.maxN + reachM < minY) return false;
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
