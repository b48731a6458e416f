import type { Loop, Plan } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";

/** What one loop takes. Lengths in metres. */
export interface LoopQuantities {
  readonly loop: string;
  /** Wire to lay, along the wire as drawn. */
  readonly wireM: number;
  /** Wire to cut: laid length, slack and the two spare ends. */
  readonly wireToBuyM: number;
  readonly pegs: number;
  /** Length of paired runs, counted once; each metre takes two of wire. */
  readonly pairedRunM: number;
  readonly exclusionLoops: number;
  /** Couplers inside this loop, where one reel ends and the next begins. */
  readonly joints: number;
  /** What a meter shows across the two ends at 20 °C, ohm: laid wire only, no spare ends. */
  readonly resistanceOhm: number;
}

/** What the whole plan takes. */
export interface Quantities {
  readonly loops: readonly LoopQuantities[];
  readonly totals: {
    /** Wire to lay, without spare. */
    readonly wireM: number;
    /** With spare ends and slack. */
    readonly wireToBuyM: number;
    readonly pegs: number;
    /** With spares. */
    readonly pegsToBuy: number;
    readonly reels: number;
    readonly joints: number;
    readonly pairedRunM: number;
    readonly mownM2: number;
    readonly handTrimM2: number;
    readonly cutOffM2: number;
  };
}

/**
 * Wire, pegs, reels, joints and resistance of a plan, by loop and in all.
 *
 * Reels are used up one after the other, loop after loop, so a joint falls inside a loop where a
 * reel ends there; a loop that begins on a new reel needs none at its start.
 */
export function quantitiesOf(plan: Plan): Quantities {
  const { profile } = plan;
  const loops: LoopQuantities[] = [];
  let leftOnReelM = 0;
  for (const loop of plan.loops) {
    const wireToBuyM = wireToBuy(loop, profile);
    const cut = cutFromReels(wireToBuyM, leftOnReelM, profile.wire.reelM);
    leftOnReelM = cut.leftM;
    loops.push({
      loop: loop.name,
      wireM: loop.lengthM,
      wireToBuyM,
      pegs: loop.pegs.length,
      pairedRunM: sum(loop.pairedRuns, (run) => run.lengthM),
      exclusionLoops: loop.exclusionLoops.length,
      joints: cut.joints,
      resistanceOhm: (profile.wire.ohmPerKm * loop.lengthM) / 1000,
    });
  }
  const wireToBuyM = sum(loops, (loop) => loop.wireToBuyM);
  const pegs = sum(loops, (loop) => loop.pegs);
  return {
    loops,
    totals: {
      wireM: sum(loops, (loop) => loop.wireM),
      wireToBuyM,
      pegs,
      pegsToBuy: ceil(pegs * (1 + profile.pegs.spareShare)),
      reels: ceil(wireToBuyM / profile.wire.reelM),
      joints: sum(loops, (loop) => loop.joints),
      pairedRunM: sum(loops, (loop) => loop.pairedRunM),
      mownM2: sum(plan.mown, (part) => part.areaM2),
      handTrimM2: plan.handTrim.areaM2,
      cutOffM2: sum(plan.cutOff, (area) => area.areaM2),
    },
  };
}

function wireToBuy(loop: Loop, { wire }: Profile): number {
  return loop.lengthM * (1 + wire.slackShare) + 2 * wire.spareEndM;
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
