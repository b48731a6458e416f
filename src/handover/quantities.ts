import type { Loop, Plan } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import type { LoopOnGround, PlanOnGround } from "../model/terrain.ts";
import { type LoopReading, loopReading } from "../physics/reading/loop-reading.ts";

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
  /** What a meter shows across the two ends at 20 °C, ohm: laid wire only, no spare ends. */
  readonly resistanceOhm: number;
  /** What a meter should show once the loop is laid, ends trimmed, and within which bounds. */
  readonly reading: LoopReading;
}

/** What the whole plan takes. */
export interface Quantities {
  readonly loops: readonly LoopQuantities[];
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
    readonly joints: number;
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
 * Reels are used up one after the other, loop after loop, so a joint falls inside a loop where a
 * reel ends there; a loop that begins on a new reel needs none at its start.
 */
export function quantitiesOf(plan: Plan, ground?: PlanOnGround): Quantities {
  const { profile } = plan;
  const loops: LoopQuantities[] = [];
  let leftOnReelM = 0;
  plan.loops.forEach((loop, i) => {
    const laid = laidLengths(loop, ground?.loops[i]);
    const wireToBuyM = wireToBuy(loop, laid, profile);
    const cut = cutFromReels(wireToBuyM, leftOnReelM, profile.wire.reelM);
    leftOnReelM = cut.leftM;
    // A guide wire meets the boundary wire in a coupler.
    const joints = cut.joints + loop.guideWires.length;
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
  return {
    loops,
    totals: {
      wireM: sum(loops, (loop) => loop.wireM),
      wireGroundM: ground && sum(loops, (loop) => loop.wireGroundM ?? 0),
      wireToBuyM,
      pegs,
      pegsToBuy: ceil((pegs + guidePegs) * (1 + profile.pegs.spareShare)),
      reels: ceil(wireToBuyM / profile.wire.reelM),
      joints: sum(loops, (loop) => loop.joints),
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

/** Unrolls one loop from what is left of a reel and then from full ones. */
function cutFromReels(needM: number, leftM: number, reelM: number) {
  let restM = needM;
  let reelLeftM = leftM;
  let pieces = 0;
  while (restM > 1e-9) {
    if (reelLeftM <= 1e-9) reelLeftM = reelM;
    const pieceM = Math.min(restM, reelLeftM);
    restM -= pieceM;
    reelLeftM -= pieceM;
    pieces++;
  }
  return { joints: Math.max(0, pieces - 1), leftM: reelLeftM };
}

function sum<T>(items: readonly T[], measure: (item: T) => number): number {
  return items.reduce((total, item) => total + measure(item), 0);
}

/** Rounds up, forgiving what floating point adds to a whole number. */
function ceil(value: number): number {
  return Math.max(0, Math.ceil(value - 1e-9));
}
