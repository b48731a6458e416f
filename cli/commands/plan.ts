import { planInputs } from "../../src/jobs/pegline.ts";
import { type MakePlan, type PlanCommandOptions, planJob } from "../plan-job.ts";

/** `pegline plan INPUT…`: plans, writes the results, says what to lay and to buy. */
export function planCommand(args: readonly string[], given: PlanCommandOptions): Promise<number> {
  return planJob(args, given, planAnew);
}

const planAnew: MakePlan = async (inputs, options) => {
  const outcome = await planInputs(inputs, options);
  if (!outcome.ok) return outcome;
  const nothingMore = { files: [], findings: [], text: "", json: {}, isFresh: true };
  return { ...outcome, value: { result: outcome.value, ...nothingMore } };
};
