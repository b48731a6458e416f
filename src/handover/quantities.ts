import type { Loop, Plan } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import type { PlacedPoint } from "../model/site.ts";
import type { LoopOnGround, PlanOnGround } from "../model/terrain.ts";
import { type LoopReading, loopReading } from "../physics/reading/loop-reading.ts";
import { type Cutting, cutFromReels } from "./materials/reels.ts";
import { wiresOf } from "./materials/wires.ts";

/** What one loop takes. Lengths in metres. */
export interface LoopQuantities {
  readonly loop: string;
  /** Wire to lay, along the wire as drawn: flat. */
  readonly wireM: number;
  /** The same along the ground; undefined where no heights were given. */
  readonly wireGroundM: number | undefined;
  /** Wire to cut: laid length, slack and the two spare ends; guide wire with slack and one. */
  readonly wireToBuyM: number;
  readonly pegs: number;
  /** Length of paired runs, counted once; each metre takes two of wire. */
  readonly pairedRunM: number;
  /** What runs come to where ground is dearer, metres on plain lawn. */
  readonly pairedRunCostM: number;
  readonly exclusionLoops: number;
  /** Guide wire to lay, and its pegs. */
  readonly guideM: number;
  readonly guideGroundM: number | undefined;
  readonly guidePegs: number;
  /** Couplers: where one reel ends and the next begins, and where a guide wire meets the loop. */
  readonly joints: number;
  /** Terminals at the station: two of the loop, one of each guide wire. */
  readonly connectors: number;
  /** Screws or spikes that hold the station down. */
  readonly fixings: number;
  /** From the station to the nearest outlet, round lawn and buildings where that is known; undefined where no outlet is given. */
  readonly leadM: number | undefined;
  /** What a meter shows across the two ends at 20 °C, ohm: laid wire only, no spare ends. */
  readonly resistanceOhm: number;
  /** What a meter should show once the loop is laid, ends trimmed, and within which bounds. */
  readonly reading: LoopReading;
}

/** What the whole plan takes. */
export interface Quantities {
  readonly loops: readonly LoopQuantities[];
  /** Which piece of wire comes from which reel, and where the joints fall. */
  readonly cutting: Cutting;
  readonly totals: {
    /** Wire to lay, without spare: flat, and along the ground where heights were given. */
    readonly wireM: number;
    readonly wireGroundM: number | undefined;
    /** With spare ends and slack. */
    readonly wireToBuyM: number;
    readonly pegs: number;
    /** With spares. */
    readonly pegsToBuy: number;
    readonly reels: number;
    /** What the cut leaves on all reels together, in however many rests. */
    readonly leftOnReelsM: number;
    readonly joints: number;
    readonly stations: number;
    readonly connectors: number;
    readonly fixings: number;
    /** The same of all stations. */
    readonly leadM: number | undefined;
    readonly pairedRunM: number;
    readonly pairedRunCostM: number;
    readonly guideM: number;
    readonly guideGroundM: number | undefined;
    readonly guidePegs: number;
    readonly mownM2: number;
    readonly handTrimM2: number;
    readonly cutOffM2: number;
  };
}

/**
 * Wire, pegs, reels, joints and resistance of a plan, by loop and in all.
 *
 * Where the plan's lengths on the ground are given, those are bought, cut and measured.
 *
 * Joints and reels are those of the cut (`cutFromReels`): fewest reels, then fewest joints, each on
 * a peg fit for it.
 *
 * @param outlets outdoor sockets, for the lead of each station
 */
export function quantitiesOf(
  plan: Plan,
  ground?: PlanOnGround,
  outlets: readonly PlacedPoint[] = [],
): Quantities {
  const { profile } = plan;
  const loops: LoopQuantities[] = [];
  const cutting = cutFromReels(wiresOf(plan, ground), profile.wire.reelM);
  plan.loops.forEach((loop, i) => {
    const laid = laidLengths(loop, ground?.loops[i]);
    const wireToBuyM = wireToBuy(loop, laid, profile);
    // A guide wire meets the boundary wire in a coupler.
    const joints =
      cutting.joints.filter((joint) => joint.loop === loop.name).length + loop.guideWires.length;
    loops.push({
      loop: loop.name,
      wireM: loop.lengthM,
      wireGroundM: ground && laid.wireM,
      wireToBuyM,
      pegs: loop.pegs.length,
      pairedRunM: sum(loop.pairedRuns, (run) => run.lengthM),
      pairedRunCostM: sum(loop.pairedRuns, (run) => run.costM),
      exclusionLoops: loop.exclusionLoops.length,
      guideM: sum(loop.guideWires, (guide) => guide.lengthM),
      guideGroundM: ground && laid.guideM,
      guidePegs: sum(loop.guideWires, (guide) => guide.pegs.length),
      joints,
      connectors: 2 + loop.guideWires.length,
      fixings: profile.station.fixings,
      leadM: leadM(loop, outlets),
      resistanceOhm: (profile.wire.ohmPerKm * laid.wireM) / 1000,
      reading: loopReading({
        wireM: laid.wireM,
        slackShare: profile.wire.slackShare,
        ohmPerKm: profile.wire.ohmPerKm,
        joints,
      }),
    });
  });
  const wireToBuyM = sum(loops, (loop) => loop.wireToBuyM);
  const pegs = sum(loops, (loop) => loop.pegs);
  const guidePegs = sum(loops, (loop) => loop.guidePegs);
  const leads = loops.flatMap((loop) => loop.leadM ?? []);
  return {
    loops,
    cutting,
    totals: {
      wireM: sum(loops, (loop) => loop.wireM),
      wireGroundM: ground && sum(loops, (loop) => loop.wireGroundM ?? 0),
      wireToBuyM,
      pegs,
      pegsToBuy: ceil((pegs + guidePegs) * (1 + profile.pegs.spareShare)),
      reels: cutting.reels.length,
      leftOnReelsM: cutting.leftM,
      joints: sum(loops, (loop) => loop.joints),
      stations: loops.length,
      connectors: sum(loops, (loop) => loop.connectors),
      fixings: sum(loops, (loop) => loop.fixings),
      leadM: outlets.length > 0 ? sum(leads, (one) => one) : undefined,
      pairedRunM: sum(loops, (loop) => loop.pairedRunM),
      pairedRunCostM: sum(loops, (loop) => loop.pairedRunCostM),
      guideM: sum(loops, (loop) => loop.guideM),
      guideGroundM: ground && sum(loops, (loop) => loop.guideGroundM ?? 0),
      guidePegs,
      mownM2: sum(plan.mown, (part) => part.areaM2),
      handTrimM2: plan.handTrim.areaM2,
      cutOffM2: sum(plan.cutOff, (area) => area.areaM2),
    },
  };
}

interface LaidLengths {
  readonly wireM: number;
  readonly guideM: number;
}

/** What is laid: along the ground where that is known, else flat. */
function laidLengths(loop: Loop, ground: LoopOnGround | undefined): LaidLengths {
  return {
    wireM: ground?.wire.groundM ?? loop.lengthM,
    guideM: ground
      ? sum(ground.guideWires, (guide) => guide.groundM)
      : sum(loop.guideWires, (guide) => guide.lengthM),
  };
}

function wireToBuy({ guideWires }: Loop, laid: LaidLengths, { wire }: Profile): number {
  const laidM = laid.wireM + laid.guideM;
  return laidM * (1 + wire.slackShare) + (2 + guideWires.length) * wire.spareEndM;
}

/** The lead's way round lawn and buildings where it is known, else straight to an outlet, metres. */
function leadM({ station }: Loop, outlets: readonly PlacedPoint[]): number | undefined {
  const way = station.figures?.lead?.lengthM;
  if (way !== undefined) return way;
  const [e, n] = station.atM;
  const ways = outlets.map(({ atM }) => Math.hypot(atM[0] - e, atM[1] - n));
  return ways.length > 0 ? Math.min(...ways) : undefined;
}

function sum<T>(items: readonly T[], measure: (item: T) => number): number {
  return items.reduce((total, item) => total + measure(item), 0);
}

/** Rounds up, forgiving what floating point adds to a whole number. */
function ceil(value: number): number {
  return Math.max(0, Math.ceil(value - 1e-9));
}
