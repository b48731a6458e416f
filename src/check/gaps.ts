/**
 * Gaps between the edges of the ground: where two edges face each other with nothing but ground between
 * and nothing nearer. Such a place is a saddle of the distance from the edges: the disc over the line
 * between the two places is empty (Gabriel and Sokal's condition, 1969, from memory).
 */
import type { PointM } from "../model/geometry.ts";
import type { Case } from "./case.ts";
import { FLUSH, LAWN } from "./ground/pieces.ts";
import { meet, shareAt } from "./kernel/plane.ts";
import { SegmentTree } from "./kernel/segment-tree.ts";

/** A disc counts as empty where nothing reaches farther than this into it, metres. */
const EMPTY_M = 1e-5;
/** Edges nearer than this touch: the ground does not hang together there, metres. */
export const TOUCHING_M = 0.011;

export interface GroundGap {
  readonly widthM: number;
  readonly a: PointM;
  readonly b: PointM;
  readonly middle: PointM;
  /** Sum of the set-ins asked at the two places: where several edges meet, the least. */
  readonly leastSetinsM: number;
}

/** Edges of the ground with what each asks. Firm things ask for nothing where the wire takes them in. */
export class GroundEdges {
  readonly tree: SegmentTree;
  readonly setinsM: readonly number[];
  readonly #court: Case;

  constructor(court: Case) {
    this.#court = court;
    const ends: number[] = [];
    const setinsM: number[] = [];
    for (const { ae, an, be, bn, setinM, leftOnly } of court.ground.asking) {
      if (!leftOnly) continue;
      ends.push(ae, an, be, bn);
      setinsM.push(setinM);
    }
    for (const { ae, an, be, bn, left, right, thing } of court.ground.pieces) {
      if (thing?.contact !== "firm" || (left !== LAWN && right !== LAWN)) continue;
      ends.push(ae, an, be, bn);
      setinsM.push(0);
    }
    this.tree = new SegmentTree(ends);
    this.setinsM = setinsM;
  }

  /** Distance from the nearest edge, metres; at most the limit. */
  clearanceM(e: number, n: number, limitM: number): number {
    return this.tree.nearest(e, n, limitM)?.distanceM ?? limitM;
  }

  isLawn(e: number, n: number): boolean {
    return this.#court.ground.covers.at(e, n) === LAWN;
  }

  /** Whether flush paving lies there: what of it is ground is the plan's choice. */
  isPaving(e: number, n: number): boolean {
    return this.#court.ground.covers.at(e, n) === FLUSH;
  }

  /** Whether an edge lies across the way between two places. */
  crosses(ae: number, an: number, be: number, bn: number): boolean {
    const { ends } = this.tree;
    return this.tree.around(ae, an, be, bn, 0).some((s) => {
      const k = 4 * s;
      return meet(ae, an, be, bn, ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!);
    });
  }

  /** Gaps that leave less than so much between the set-ins. */
  gaps(betweenM: number): GroundGap[] {
    const { ends, count } = this.tree;
    const mostM = this.setinsM.reduce((most, setinM) => Math.max(most, setinM), 0);
    const found: GroundGap[] = [];
    const seen = new Set<string>();
    for (let s = 0; s < count; s++) {
      const ownM = betweenM + this.setinsM[s]!;
      for (const end of [0, 2]) {
        const [e, n] = [ends[4 * s + end]!, ends[4 * s + end + 1]!];
        const place = `${Math.round(1e4 * e)} ${Math.round(1e4 * n)}`;
        if (seen.has(place)) continue;
        seen.add(place);
        const near = this.tree
          .around(e, n, e, n, ownM + mostM)
          .map((t) => ({ t, farM: this.tree.distanceM(t, e, n) }))
          .sort((x, y) => x.farM - y.farM);
        for (const { t, farM } of near) {
          if (farM < TOUCHING_M || farM - this.setinsM[t]! >= ownM) continue;
          const k = 4 * t;
          const [ce, cn, de, dn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
          const u = shareAt(e, n, ce, cn, de, dn);
          const gap = this.#gapBetween([e, n], [ce + u * (de - ce), cn + u * (dn - cn)], near);
          if (gap) found.push(gap);
        }
      }
    }
    return found;
  }

  /** @param near edges round the first place, from near to far */
  #gapBetween(
    a: PointM,
    b: PointM,
    near: readonly { t: number; farM: number }[],
  ): GroundGap | undefined {
    const widthM = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const middle: PointM = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    for (const { t, farM } of near) {
      if (farM >= widthM) break;
      if (this.tree.distanceM(t, ...middle) < widthM / 2 - EMPTY_M) return undefined;
    }
    if (!this.isLawn(...middle)) return undefined;
    return { widthM, a, b, middle, leastSetinsM: this.#setinAt(a) + this.#setinAt(b) };
  }

  #setinAt([e, n]: PointM): number {
    return this.tree
      .around(e, n, e, n, 0.001)
      .filter((s) => this.tree.distanceM(s, e, n) < 0.001)
      .reduce((least, s) => Math.min(least, this.setinsM[s]!), Infinity);
  }
}
