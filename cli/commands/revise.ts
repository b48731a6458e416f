import { revisionFile, revisionResult, revisionText } from "../../src/export/revision-files.ts";
import { reviseInputs } from "../../src/jobs/revise.ts";
import { openInputs } from "../open-inputs.ts";
import { planFileOf } from "../plan-file.ts";
import { type PlanCommandOptions, planJob } from "../plan-job.ts";
import { misuse } from "../refusal.ts";

/** `pegline revise OLD INPUT…`: plans a changed site with as little change to its wire as may be. */
export async function reviseCommand(
  args: readonly string[],
  given: PlanCommandOptions,
): Promise<number> {
  const [old, ...inputs] = args;
  if (old === undefined) {
    throw misuse(
      "INPUT_MISSING",
      "No plan is named.",
      "Name the plan that was laid, then the files of the site as it is now: `pegline revise garden new-garden.kml`.",
    );
  }
  const path = await planFileOf(old);
  const make: Parameters<typeof planJob>[2] = async (files, options) => {
    const [plan] = await openInputs([path]);
    const outcome = await reviseInputs(plan!, files, options);
    if (!outcome.ok) return outcome;
    const { result, revision, findings } = outcome.value;
    return {
      ...outcome,
      value: {
        result,
        findings,
        files: [revisionFile(revision, result.plan.grid)],
        text: revisionText(revision),
        json: { revision: revisionResult(revision) },
      },
    };
  };
  return planJob(inputs, given, make, [path]);
}
