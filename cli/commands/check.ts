import { checkResult } from "../../src/export/check-result.ts";
import { checkText } from "../../src/export/check-text.ts";
import { checkInputs } from "../../src/jobs/pegline.ts";
import { chooseProfile } from "../choose-profile.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { EXIT, exitOf } from "../exit-codes.ts";
import { openInputs } from "../open-inputs.ts";
import { planFileOf } from "../plan-file.ts";
import { misuse, Refusal } from "../refusal.ts";
import { type SiteOptions, siteJob } from "../site-job.ts";
import { Terminal } from "../terminal.ts";

/** `pegline check PLAN INPUT…`: measures a wire against the site that it is for. */
export async function checkCommand(args: readonly string[], given: SiteOptions): Promise<number> {
  const [first, ...rest] = args;
  if (first === undefined) {
    throw misuse(
      "INPUT_MISSING",
      "No plan is named.",
      "Name the plan, then the files of the site: `pegline check garden/plan.geojson garden.kml`.",
    );
  }
  const job = await siteJob(rest, given);
  const terminal = new Terminal(job.common);
  const chosen = await chooseProfile(job.profile, job.siteFile);
  terminal.progress("Reading");
  const [plan] = await openInputs([await planFileOf(first)]);
  const inputs = await openInputs(job.paths);
  terminal.progress("Measuring");
  const outcome = await checkInputs(plan!, inputs, {
    ...job.options,
    onProgress: ({ share }) => terminal.progress(`Reading ${Math.round(100 * share)} %`),
    profile: chosen.profile,
    registry: epsgRegistry,
  });
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const { value } = outcome;
  const findings = [...job.findings, ...chosen.findings, ...value.findings];
  const result = checkResult({ ...value, findings }, value.grid);
  terminal.result(result, () => checkText(value, value.profile.name));
  terminal.findings(result.findings);
  return result.verdict === "broken" ? EXIT.errorStands : exitOf(result.findings);
}
