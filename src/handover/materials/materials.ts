/** What to buy and where it goes, from the quantities of a plan: figures only, no words. */
import type { PegPlace, Plan } from "../../model/plan.ts";
import type { PriceList } from "../../model/site-rules.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import { type PricedTotal, pricedTotal } from "../prices.ts";
import type { Quantities } from "../quantities.ts";
import { comparedReels, type ReelAlternative } from "./alternatives.ts";
import type { Joint, Reel } from "./reels.ts";

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

/** A joint or a coupler of a guide wire, numbered through the plan. */
export interface PlannedJoint {
  /** `J1`, `J2`, … in laying order. */
  readonly number: string;
  readonly joins: "reels" | "guide-wire";
  readonly loop: string;
  /** Peg of the loop's wire, or of the guide wire where two reels meet in one. */
  readonly peg: string | undefined;
  readonly wire: "boundary" | "guide";
  /** Along that wire from the station, metres: along the ground where heights are given. */
  readonly chainageM: number;
  readonly fit: Joint["fit"];
  /** Reels that end and begin here; undefined for a guide wire's coupler. */
  readonly reels: readonly [from: number, to: number] | undefined;
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

/** Joints of the reels and the couplers of guide wires, by loop and then along the wire. */
function plannedJoints(
  plan: Plan,
  { cutting }: Quantities,
  ground: PlanOnGround | undefined,
): PlannedJoint[] {
  const found = plan.loops.flatMap((loop, l) => {
    const reels = cutting.joints
      .filter((joint) => joint.loop === loop.name)
      .map(({ wire, peg, chainageM, fit, fromReel, toReel }) => ({
        joins: "reels" as const,
        loop: loop.name,
        peg,
        wire,
        chainageM,
        fit,
        reels: [fromReel, toReel] as const,
      }));
    const guides = loop.guideWires.map(({ line }) => {
      const [e, n] = [line[line.length - 2]!, line[line.length - 1]!];
      const away = loop.pegs.map(({ atM }) => Math.hypot(atM[0] - e, atM[1] - n));
      const at = away.indexOf(Math.min(...away));
      return {
        joins: "guide-wire" as const,
        loop: loop.name,
        peg: loop.pegs[at]?.number,
        wire: "boundary" as const,
        chainageM: ground?.loops[l]?.pegs[at]?.chainageM ?? loop.pegs[at]?.chainageM ?? 0,
        fit: "good" as const,
        reels: undefined,
      };
    });
    // A guide wire is laid, and then joined to the loop, when the loop is closed.
    const rank = (one: { readonly wire: string; readonly joins: string }) =>
      one.joins === "guide-wire" ? 2 : one.wire === "guide" ? 1 : 0;
    return [...reels, ...guides].sort((a, b) => rank(a) - rank(b) || a.chainageM - b.chainageM);
  });
  return found.map((joint, i) => ({ number: `J${i + 1}`, ...joint }));
}
