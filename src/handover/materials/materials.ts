/** What to buy and where it goes, from the quantities of a plan: figures only, no words. */
import type { PegPlace, Plan } from "../../model/plan.ts";
import type { PriceList } from "../../model/site-rules.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import { type PricedTotal, pricedTotal } from "../prices.ts";
import type { Quantities } from "../quantities.ts";
import { comparedReels, type ReelAlternative } from "./alternatives.ts";
import { type PlannedJoint, plannedJoints } from "./joints.ts";
import type { Reel } from "./reels.ts";

/** What a length of wire is made of, metres. */
export interface WireLengths {
  /** As drawn: flat. Guide wires count. */
  readonly flatM: number;
  /** As it is laid: along the ground where heights are given, else flat. */
  readonly laidM: number;
  readonly slackM: number;
  readonly spareEndsM: number;
  /** The sum of the three: what is cut. */
  readonly toCutM: number;
}

/** What one line of the list counts. */
export const MATERIALS = [
  "wire",
  "reels",
  "pegs",
  "couplers",
  "connectors",
  "stations",
  "fixings",
  "lead",
  "outlets",
] as const;
export type Material = (typeof MATERIALS)[number];

/** One line of the list of materials. */
export interface MaterialLine {
  readonly material: Material;
  readonly unit: "m" | "pieces";
  /** What the plan uses; undefined where it cannot be known (lead without an outlet). */
  readonly used: number | undefined;
  /** What is bought over that, so that `used + spare = toBuy`. */
  readonly spare: number;
  readonly toBuy: number | undefined;
}

export interface Materials {
  readonly lines: readonly MaterialLine[];
  readonly wire: WireLengths;
  readonly loops: readonly ({ readonly loop: string } & WireLengths)[];
  readonly pegs: {
    readonly byPlace: Readonly<Record<PegPlace, number>>;
    readonly guide: number;
    readonly set: number;
    readonly spare: number;
    readonly toBuy: number;
  };
  readonly reels: readonly Reel[];
  readonly leftOnReelsM: number;
  readonly joints: readonly PlannedJoint[];
  /** Straight from each station to its nearest outlet, metres; undefined without an outlet. */
  readonly leads: readonly { readonly loop: string; readonly straightM: number | undefined }[];
  readonly prices: PricedTotal | undefined;
  /** The same plan from reels of other sizes, smallest first; the one of the plan is among them. */
  readonly alternatives: readonly ReelAlternative[];
}

/**
 * The list of materials of a plan. Totals are those of `quantities`, and so of `summary.json`.
 *
 * @param quantities of the same plan and ground
 * @param list prices, for the bill and for what other reels would cost
 */
export function materialsOf(
  plan: Plan,
  quantities: Quantities,
  ground?: PlanOnGround,
  list?: PriceList,
): Materials {
  const { totals, cutting } = quantities;
  const loops = plan.loops.map((loop, i) => {
    const one = quantities.loops[i]!;
    const flatM = one.wireM + one.guideM;
    const laidM = (one.wireGroundM ?? one.wireM) + (one.guideGroundM ?? one.guideM);
    const spareEndsM = (2 + loop.guideWires.length) * plan.profile.wire.spareEndM;
    const toCutM = one.wireToBuyM;
    return {
      loop: loop.name,
      flatM,
      laidM,
      slackM: toCutM - laidM - spareEndsM,
      spareEndsM,
      toCutM,
    };
  });
  const over = (key: keyof WireLengths) => loops.reduce((sum, one) => sum + one[key], 0);
  const wire: WireLengths = {
    flatM: over("flatM"),
    laidM: over("laidM"),
    slackM: over("slackM"),
    spareEndsM: over("spareEndsM"),
    toCutM: totals.wireToBuyM,
  };
  const set = totals.pegs + totals.guidePegs;
  return {
    lines: linesOf(quantities, wire, set),
    wire,
    loops,
    pegs: {
      byPlace: pegsByPlace(plan),
      guide: totals.guidePegs,
      set,
      spare: totals.pegsToBuy - set,
      toBuy: totals.pegsToBuy,
    },
    reels: cutting.reels,
    leftOnReelsM: cutting.leftM,
    joints: plannedJoints(plan, quantities, ground),
    leads: quantities.loops.map(({ loop, leadM }) => ({ loop, straightM: leadM })),
    prices: list && pricedTotal(plan, quantities, list),
    alternatives: comparedReels(plan, quantities, ground, list),
  };
}

function linesOf({ totals }: Quantities, wire: WireLengths, pegs: number): MaterialLine[] {
  const whole = (material: Material, count: number): MaterialLine => ({
    material,
    unit: "pieces",
    used: count,
    spare: 0,
    toBuy: count,
  });
  const spareM = wire.slackM + wire.spareEndsM;
  return [
    { material: "wire", unit: "m", used: wire.laidM, spare: spareM, toBuy: wire.toCutM },
    whole("reels", totals.reels),
    {
      material: "pegs",
      unit: "pieces",
      used: pegs,
      spare: totals.pegsToBuy - pegs,
      toBuy: totals.pegsToBuy,
    },
    whole("couplers", totals.joints),
    whole("connectors", totals.connectors),
    whole("stations", totals.stations),
    whole("fixings", totals.fixings),
    { material: "lead", unit: "m", used: totals.leadM, spare: 0, toBuy: totals.leadM },
    whole("outlets", totals.stations),
  ];
}

function pegsByPlace(plan: Plan): Record<PegPlace, number> {
  const counts: Record<PegPlace, number> = { station: 0, straight: 0, bend: 0, pair: 0 };
  for (const loop of plan.loops) for (const peg of loop.pegs) counts[peg.on]++;
  return counts;
}
