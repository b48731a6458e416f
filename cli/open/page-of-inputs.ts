import { planFiles } from "../../src/export/plan-files.ts";
import { planInputs } from "../../src/jobs/pegline.ts";
import type { Finding } from "../../src/model/finding.ts";
import { pageModel } from "../../src/page/model/build-model.ts";
import type { PageData } from "../../src/page/model/page-data.ts";
import { chooseProfile } from "../choose-profile.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { openInputs, openTerrain } from "../open-inputs.ts";
import type { PlanCommandOptions } from "../plan-job.ts";
import { Refusal } from "../refusal.ts";
import type { SiteJob } from "../site-job.ts";

/** What the page of a site holds, planned as `pegline plan` plans it. */
export async function pageOfInputs(
  job: SiteJob,
  given: PlanCommandOptions,
): Promise<{ readonly data: PageData; readonly findings: readonly Finding[] }> {
  const chosen = await chooseProfile(job.profile, job.siteFile);
  const inputs = await openInputs(job.paths);
  const { file: raster, ...said } = job.terrain ?? {};
  const terrain = raster === undefined ? undefined : { file: await openTerrain(raster), ...said };
  const outcome = await planInputs(inputs, {
    ...job.options,
    profile: chosen.profile,
    signal: given.signal,
    coverage: given.coverage,
    terrain,
    registry: epsgRegistry,
  });
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const findings = [...job.findings, ...chosen.findings, ...outcome.value.findings];
  const { result } = planFiles({ ...outcome.value, findings });
  return { data: { model: pageModel(result, job.handOver) }, findings: result.findings };
}
