import type { Plan } from "../../model/plan.ts";
import type { StatedPlan } from "./stated-plan.ts";

/** A plan of ours as it is judged: what it says is taken at its word, to be measured. */
export function statedOfPlan(plan: Plan): StatedPlan {
  return {
    loops: plan.loops.map((loop) => ({
      name: loop.name,
      wire: loop.wire,
      openM: 0,
      lengthM: loop.lengthM,
      direction: "anticlockwise",
      pegs: loop.pegs.map((peg) => ({ ...peg, secondChainageM: peg.secondChainageM })),
      numberedTo: loop.numberedTo,
      station: loop.station,
      pairedRuns: loop.pairedRuns,
      exclusionLoops: loop.exclusionLoops,
      guideWires: loop.guideWires,
    })),
    passages: plan.passages.map((passage) => ({
      number: String(passage.number),
      centreLine: passage.centreLine,
      widthM: passage.widthM,
      wireWidthM: Math.max(0, passage.wireWidthM),
      verdict: passage.verdict,
    })),
    mown: plan.mown.map(({ loop, areaM2 }) => ({ loop, areaM2 })),
  };
}
