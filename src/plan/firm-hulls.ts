/** Firm things in the way of runs, by place. */
import { clearHull } from "../geometry/detour.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import type { Thing } from "../model/site.ts";

/** Least distance of a paired run from a firm thing, metres. */
export const FIRM_CLEARANCE_M = 0.15;

/** Convex hulls of firm things, grown by the clearance of a run, found by place. */
export class FirmHulls {
  readonly #shells: { thing: Thing; ring: RingM }[];
  readonly #index: SegmentIndex;
  readonly #hulls = new Map<number, PointM[]>();

  constructor(firm: readonly Thing[]) {
    this.#shells = firm.flatMap((thing) => thing.areas.map((a) => ({ thing, ring: a.shell })));
    this.#index = new SegmentIndex(this.#shells.map((s) => s.ring));
  }

  /** Hulls near a straight way: within its half and a little more. */
  near(from: PointM, to: PointM, moreM: number): { hull: PointM[]; thing: Thing }[] {
    const half = moreM > 0 ? Math.hypot(to[0] - from[0], to[1] - from[1]) / 2 : 0;
    const reach = 1 + moreM + half;
    const found = new Set(
      this.#index
        .inBox(
          Math.min(from[0], to[0]) - reach,
          Math.min(from[1], to[1]) - reach,
          Math.max(from[0], to[0]) + reach,
          Math.max(from[1], to[1]) + reach,
        )
        .map((s) => this.#index.ringOf[s]!),
    );
    return [...found]
      .sort((a, b) => a - b)
      .map((i) => ({ hull: this.#hullOf(i), thing: this.#shells[i]!.thing }));
  }

  #hullOf(i: number): PointM[] {
    const known = this.#hulls.get(i) ?? clearHull(this.#shells[i]!.ring, FIRM_CLEARANCE_M);
    this.#hulls.set(i, known);
    return known;
  }
}
