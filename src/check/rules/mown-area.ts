import { type Breach, measured, notMeasured } from "../measure.ts";
import { mownOf } from "../mown.ts";
import type { Rule } from "../rule.ts";
import type { StatedLoop } from "../stated/stated-plan.ts";

/** Overlays of a planner keep a hundredth of a millimetre along the wire; areas are written to 1 cm². */
const SLACK_M2 = 0.001;
const SLACK_ALONG_M = 0.00005;
/** At its ends and bends a pair opens and turns within its gap, m² for each metre of gap. */
const SLACK_PAIR_M = 0.02;

// Beside each end of a run to a carried part the spans turn by half the gap: two ends with two spans,
// each a triangle of half the gap over a span, are one gap along one span.

/** The mown area that the plan states for each loop is the lawn that its wire goes round. */
export const mownArea: Rule = {
  id: "mown-area",
  code: "MOWN_AREA_WRONG",
  title: "greatest error of a stated mown area",
  measure(court) {
    const { plan, wires, profile } = court;
    const { mown } = plan;
    if (!mown || mown.length === 0) return notMeasured("m²", "at most", "no mown area is stated");
    const areas = mownOf(court);
    // Blades that reach past the wire mow at most that much beside it.
    const past = profile.mowing.pastWireM;
    const stated = new Map<string, number>();
    for (const { loop, areaM2 } of mown) stated.set(loop, (stated.get(loop) ?? 0) + areaM2);
    let most = 0;
    const breaches: Breach[] = [];
    plan.loops.forEach(({ name, wire }, i) => {
      const lengthM = wires.lengthsM[i]!;
      const said = stated.get(name) ?? 0;
      const pairs = pairPegs(plan.loops[i]!);
      const carried = plan.loops[i]!.pairedRuns?.filter(({ to }) => to === "part").length ?? 0;
      const slack =
        SLACK_M2 +
        SLACK_ALONG_M * lengthM +
        profile.wire.pairGapM * (pairs * SLACK_PAIR_M + carried * profile.pegs.spacingMaxM);
      const over = Math.max(areas[i]! - said, said - areas[i]! - past * (lengthM + 8 * past));
      most = Math.max(most, over);
      if (over <= slack) return;
      breaches.push({
        message: `Loop ${name} is stated to mow ${said.toFixed(2)} m²; its wire goes round ${areas[i]!.toFixed(2)} m² of lawn.`,
        remedy: "Correct the area, or the wire.",
        atM: [wire[0]!, wire[1]!],
      });
    });
    const mostLengthM = Math.max(0, ...wires.lengthsM);
    return measured("m²", "at most", most, SLACK_M2 + SLACK_ALONG_M * mostLengthM, breaches);
  },
};

/** Pegs of pairs, or runs where pegs are not stated: at each the pair may bend. */
function pairPegs({ pegs, pairedRuns }: StatedLoop): number {
  const bends = pairedRuns?.reduce((sum, run) => sum + (run.line.length >> 1), 0);
  return bends ?? pegs?.filter((peg) => peg.on === "pair").length ?? 0;
}
