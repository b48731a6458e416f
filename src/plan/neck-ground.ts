/** Passages that the machine must drive through to lawn beyond: runs in them cost more. */
import { CostGround } from "../geometry/cost-ground.ts";
import { growLines } from "../geometry/offset.ts";
import { toPoints } from "../geometry/rings.ts";
import type { Plan } from "../model/plan.ts";
import type { RunGround } from "../model/run-ground.ts";

/**
 * Ground of the passages in which a paired run of the plan lies, as wide as passages are looked for;
 * none where no run does, or where runs in passages cost no more. A gap beside an island leads to
 * nothing that is not reached otherwise: a run straight across it is where it belongs.
 */
export function neckGround({ passages, loops, profile }: Plan): RunGround[] {
  const factor = profile.wire.runCostPassage;
  if (factor <= 1) return [];
  const halfM = profile.passage.reportBelowM / 2 + profile.setinM.open;
  return passages
    .filter(({ beyondM2 }) => beyondM2 > 0)
    .flatMap(({ centreLine, number }) => {
      const areas = growLines([centreLine], halfM, "butt", "round");
      const ground = new CostGround(areas.map((area) => ({ area, factor })));
      const met = loops.some(({ pairedRuns }) =>
        pairedRuns.some((run) => ground.costOfWay(toPoints(run.line)) > run.lengthM + 0.01),
      );
      if (!met) return [];
      const name = `passage ${number}`;
      return areas.map((area): RunGround => ({ area, factor, why: "passage", name, source: {} }));
    });
}
