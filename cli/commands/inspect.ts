import { writtenFinding } from "../../src/export/ordered-findings.ts";
import { inspectInputs } from "../../src/jobs/pegline.ts";
import { TOOL, VERSION } from "../../src/version.ts";
import { chooseProfile } from "../choose-profile.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { exitOf } from "../exit-codes.ts";
import { inspectionText } from "../inspection-text.ts";
import { openInputs } from "../open-inputs.ts";
import { Refusal } from "../refusal.ts";
import { type SiteOptions, siteJob } from "../site-job.ts";
import { Terminal } from "../terminal.ts";

/** `pegline inspect INPUT…`: what is in the files, and what is repaired or missing. */
export async function inspectCommand(args: readonly string[], given: SiteOptions): Promise<number> {
  const job = await siteJob(args, given);
  const terminal = new Terminal(job.common);
  const chosen = await chooseProfile(job.profile, job.siteFile);
  terminal.progress("Reading");
  const inputs = await openInputs(job.paths);
  const outcome = await inspectInputs(inputs, {
    ...job.options,
    onProgress: ({ share }) => terminal.progress(`Reading ${Math.round(100 * share)} %`),
    profile: chosen.profile,
    registry: epsgRegistry,
  });
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const { inputs: inspected, extentM, grid } = outcome.value;
  const findings = [...job.findings, ...chosen.findings, ...outcome.value.findings];
  const json = {
    tool: TOOL,
    version: VERSION,
    inputs: inspected,
    extent_m: extentM,
    findings: findings.map((finding) => writtenFinding(finding, grid)),
  };
  terminal.result(json, () => inspectionText(inspected, extentM));
  terminal.findings(json.findings);
  return exitOf(json.findings);
}
