import { keptRegistry } from "../../src/crs/kept-register.ts";
import { planFiles } from "../../src/export/plan-files.ts";
import { planInputs } from "../../src/jobs/pegline.ts";
import type { Finding } from "../../src/model/finding.ts";
import { pageModel } from "../../src/page/model/build-model.ts";
import type { PageData } from "../../src/page/model/page-data.ts";
import { chooseProfile } from "../choose-profile.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { PAGE_SHOWS_ONLY, pageSource } from "../page-source.ts";
import { openJobFiles, type PlanCommandOptions, pageExtras, planOptions } from "../plan-job.ts";
import { Refusal } from "../refusal.ts";
import type { SiteJob } from "../site-job.ts";

/** What the page of a site holds, planned as `pegline plan` plans it. */
export async function pageOfInputs(
  job: SiteJob,
  given: PlanCommandOptions,
): Promise<{ readonly data: PageData; readonly findings: readonly Finding[] }> {
  const chosen = await chooseProfile(job.profile, job.siteFile);
  const { inputs, terrain, image } = await openJobFiles(job);
  const { registry, records } = keptRegistry(epsgRegistry);
  const options = planOptions(job, given, chosen.profile, { terrain, registry });
  const outcome = await planInputs(inputs, options);
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const read = { inputs, terrain: terrain?.file, records: records() };
  const source = await pageSource(job, read, given);
  const findings = [...job.findings, ...chosen.findings, ...outcome.value.findings];
  const { result } = planFiles(
    { ...outcome.value, findings },
    source === undefined ? [PAGE_SHOWS_ONLY] : [],
  );
  const extras = await pageExtras(result, job, { image, source, outCrs: undefined });
  return {
    data: { model: pageModel(result, job.handOver), ...extras },
    findings: result.findings,
  };
}
