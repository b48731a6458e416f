/** The same wire from reels of other sizes: what each takes, leaves and costs. */
import type { Plan } from "../../model/plan.ts";
import type { PriceList } from "../../model/site-rules.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import { pricedTotal } from "../prices.ts";
import type { Quantities } from "../quantities.ts";
import { cutFromReels } from "./reels.ts";
import { wiresOf } from "./wires.ts";

export interface ReelAlternative {
  readonly reelM: number;
  readonly reels: number;
  /** Couplers, those of guide wires among them. */
  readonly joints: number;
  /** Wire on all those reels, and what is left of it, metres. */
  readonly boughtM: number;
  readonly leftM: number;
  /** With tax, by the price list; undefined without one, and where it has no price for this size. */
  readonly total: number | undefined;
  /** True for the size that the plan is made with. */
  readonly chosen: boolean;
}

/** Sizes that are compared where the price list names none, metres: common practice. */
const USUAL_REELS_M = [100, 150, 200, 250, 300, 500];

/**
 * Compares reel sizes: those of the price list where it names some, else usual ones; and always the
 * profile's own.
 */
export function comparedReels(
  plan: Plan,
  quantities: Quantities,
  ground: PlanOnGround | undefined,
  list: PriceList | undefined,
): ReelAlternative[] {
  if (plan.loops.length === 0) return [];
  const priced = new Set((list?.items ?? []).flatMap(({ reelM }) => reelM ?? []));
  const own = plan.profile.wire.reelM;
  const sizes = new Set([own, ...(priced.size > 0 ? priced : USUAL_REELS_M)]);
  const wires = wiresOf(plan, ground);
  const couplers = plan.loops.reduce((sum, loop) => sum + loop.guideWires.length, 0);
  const isPriced = (reelM: number) =>
    list !== undefined && (priced.size === 0 ? reelM === own : priced.has(reelM));
  return [...sizes]
    .sort((a, b) => a - b)
    .map((reelM) => {
      const cutting = cutFromReels(wires, reelM);
      const reels = cutting.reels.length;
      const joints = cutting.joints.length + couplers;
      const totals = { ...quantities.totals, reels, joints, leftOnReelsM: cutting.leftM };
      return {
        reelM,
        reels,
        joints,
        boughtM: reels * reelM,
        leftM: cutting.leftM,
        total:
          list && isPriced(reelM)
            ? pricedTotal(plan, { ...quantities, cutting, totals }, list).total
            : undefined,
        chosen: reelM === own,
      };
    });
}
