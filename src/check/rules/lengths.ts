import { lengthSlackM } from "../allowances.ts";
import { lineM } from "../kernel/plane.ts";
import { type Breach, measured, notMeasured, statedM } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** Lengths that the plan states are those of its lines. */
export const lengths: Rule = {
  id: "lengths",
  code: "LENGTH_WRONG",
  title: "greatest error of a stated length",
  measure({ plan }) {
    let most = -1;
    const breaches: Breach[] = [];
    const look = (what: string, stated: number | undefined, line: Float64Array, ring: boolean) => {
      if (stated === undefined) return;
      const trueM = lineM(line, ring);
      const error = Math.abs(stated - trueM);
      most = Math.max(most, error);
      if (error <= lengthSlackM(trueM)) return;
      breaches.push({
        message: `${what} is stated to be ${statedM(stated)} long; it is ${trueM.toFixed(3)} m.`,
        remedy: "Correct the length: wire is bought and cut by it.",
        atM: [line[0]!, line[1]!],
      });
    };
    for (const loop of plan.loops) {
      look(`The wire of loop ${loop.name}`, loop.lengthM, loop.wire, true);
      for (const run of loop.pairedRuns ?? []) {
        look(`The paired run from ${run.from} to ${run.to}`, run.lengthM, run.line, false);
      }
      for (const ring of loop.exclusionLoops ?? []) {
        look(`The exclusion loop ${ring.name}`, ring.lengthM, ring.ring, true);
      }
      for (const guide of loop.guideWires) {
        look(`The guide wire of loop ${loop.name}`, guide.lengthM, guide.line, false);
      }
    }
    if (most < 0) return notMeasured("m", "at most", "no length is stated");
    return measured("m", "at most", most, lengthSlackM(0), breaches);
  },
};
