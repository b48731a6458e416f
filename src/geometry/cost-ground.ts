/**
 * Ground on which a metre of way costs more than a metre: areas with a factor each.
 *
 * Where areas overlap the dearest counts; a way along a border is on the cheaper side of it.
 */
import Flatbush from "flatbush";
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import { areaContains, boxOf } from "./rings.ts";
import { SegmentIndex } from "./segment-index.ts";

/** An area and what a metre of way costs in it, in metres of plain ground (1 or more). */
export interface CostArea {
  readonly area: AreaM;
  readonly factor: number;
}

/** A stretch of a straight way on ground of one factor, as shares of the way. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly factor: number;
}

/** Ground of this factor and more is barred: a way through it is a breach, not a choice. */
export const BARRED_FACTOR = 1000;

/** Within this of a border a way lies on the border, metres. */
const ON_BORDER_M = 1e-5;

export class CostGround {
  readonly areas: readonly CostArea[];
  /** The borders of all areas. */
  readonly borders: SegmentIndex;
  readonly #areaOfRing: number[] = [];
  readonly #boxes: Flatbush | undefined;

  constructor(areas: readonly CostArea[]) {
    this.areas = areas.filter(({ factor }) => factor > 1);
    const rings: RingM[] = [];
    this.areas.forEach(({ area }, i) => {
      for (const ring of [area.shell, ...area.holes]) {
        rings.push(ring);
        this.#areaOfRing.push(i);
      }
    });
    this.borders = new SegmentIndex(rings);
    if (this.areas.length === 0) return;
    this.#boxes = new Flatbush(this.areas.length);
    for (const { area } of this.areas) {
      const box = boxOf(area.shell);
      this.#boxes.add(box.minE, box.minN, box.maxE, box.maxN);
    }
    this.#boxes.finish();
  }

  /** Number of the area whose border a segment of `borders` is. */
  areaOf(segment: number): number {
    return this.#areaOfRing[this.borders.ringOf[segment]!]!;
  }

  /** What a straight way costs, metres of plain ground. */
  cost(a: PointM, b: PointM): number {
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const stretches = this.stretches(a, b);
    if (stretches.length === 0) return length;
    return stretches.reduce((sum, { from, to, factor }) => sum + (to - from) * factor, 0) * length;
  }

  /** What a way of several points costs, metres of plain ground. */
  costOfWay(way: readonly PointM[]): number {
    let sum = 0;
    for (let i = 0; i + 1 < way.length; i++) sum += this.cost(way[i]!, way[i + 1]!);
    return sum;
  }

  /** The stretches of a straight way in order; none where it comes near no area at all. */
  stretches(a: PointM, b: PointM): Stretch[] {
    const near = this.#near(a, b);
    if (near.length === 0) return [];
    const shares = [0, ...this.#crossings(a, b), 1].sort((x, y) => x - y);
    const stretches: Stretch[] = [];
    for (let i = 0; i + 1 < shares.length; i++) {
      const [from, to] = [shares[i]!, shares[i + 1]!];
      if (to - from < 1e-12) continue;
      const middle = (from + to) / 2;
      const e = a[0] + middle * (b[0] - a[0]);
      const n = a[1] + middle * (b[1] - a[1]);
      const factor = this.#factorAmong(near, e, n);
      const last = stretches[stretches.length - 1];
      if (last && last.factor === factor) stretches[stretches.length - 1] = { ...last, to };
      else stretches.push({ from, to, factor });
    }
    return stretches;
  }

  /** The factor at a place; 1 on borders to plain ground. */
  factorAt(e: number, n: number): number {
    return this.#factorAmong(this.#near([e, n], [e, n]), e, n);
  }

  #near(a: PointM, b: PointM): number[] {
    if (!this.#boxes) return [];
    return this.#boxes.search(
      Math.min(a[0], b[0]),
      Math.min(a[1], b[1]),
      Math.max(a[0], b[0]),
      Math.max(a[1], b[1]),
    );
  }

  #factorAmong(near: readonly number[], e: number, n: number): number {
    let factor = 1;
    for (const i of near) {
      const one = this.areas[i]!;
      if (one.factor <= factor || !areaContains(one.area, e, n)) continue;
      const onBorder = this.borders.nearest(e, n, ON_BORDER_M, (s) => this.areaOf(s) === i);
      if (!onBorder) factor = one.factor;
    }
    return factor;
  }

  /** Where a straight way meets borders, as shares of it. */
  #crossings(a: PointM, b: PointM): number[] {
    const found: number[] = [];
    const de = b[0] - a[0];
    const dn = b[1] - a[1];
    for (const s of this.borders.inBox(
      Math.min(a[0], b[0]),
      Math.min(a[1], b[1]),
      Math.max(a[0], b[0]),
      Math.max(a[1], b[1]),
    )) {
      const c = this.borders.from(s);
      const d = this.borders.to(s);
      const se = d[0] - c[0];
      const sn = d[1] - c[1];
      const across = de * sn - dn * se;
      if (Math.abs(across) < 1e-12 * Math.hypot(de, dn) * Math.hypot(se, sn)) continue;
      const t = ((c[0] - a[0]) * sn - (c[1] - a[1]) * se) / across;
      const u = ((c[0] - a[0]) * dn - (c[1] - a[1]) * de) / across;
      if (t > 0 && t < 1 && u > -1e-9 && u < 1 + 1e-9) found.push(t);
    }
    return found;
  }
}
