/** The way of `pegline inspect` and `pegline plan`, in process, with every answer held to its rules. */
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import type { EpsgRecord, EpsgRegistry } from "../../src/crs/registry.ts";
import { writtenFinding } from "../../src/export/ordered-findings.ts";
import { planFiles } from "../../src/export/plan-files.ts";
import type { PlanResult } from "../../src/export/plan-result.ts";
import { summaryText } from "../../src/export/summary-text.ts";
import { ringLengthM } from "../../src/geometry/rings.ts";
import {
  inspectInputs,
  type PlanOptions,
  planInputs,
  readSite as readSiteAlone,
} from "../../src/jobs/pegline.ts";
import type { InputFile } from "../../src/model/features.ts";
import type { Site } from "../../src/model/site.ts";
import { BadAnswer, checkFindings, checkOutcome, checkWritable } from "./answers.ts";
import type { Reached } from "./target.ts";

const known = new Map<number, EpsgRecord | undefined>();
let all: readonly EpsgRecord[] | undefined;

/** The register, each record read from the disk once. */
export const registry: EpsgRegistry = (code) => {
  if (!known.has(code)) known.set(code, epsgRegistry(code));
  return known.get(code);
};
registry.all = () => {
  all ??= [...(epsgRegistry.all?.() ?? [])];
  return all;
};

/** Larger lawns, as a moved digit makes them, are read but not planned: that is honest work of minutes. */
const PLANNED_EDGE_MAX_M = 3000;

function lawnEdgeM(site: Site): number {
  return site.lawns.reduce((sum, { area }) => sum + ringLengthM(area.shell), 0);
}

/** Reads inputs as far as inspection or planning goes. Throws where an answer breaks its rules. */
export async function readSite(
  inputs: readonly InputFile[],
  given: PlanOptions,
  plan: boolean,
): Promise<Reached> {
  const options = { ...given, registry };
  if (!plan) {
    const outcome = await inspectInputs(inputs, options);
    const codes = checkOutcome(outcome);
    if (!outcome.ok) return refused(outcome.problem, inputs, codes);
    const { grid, findings, ...rest } = outcome.value;
    checkFindings(findings);
    checkWritable({ ...rest, findings: findings.map((one) => writtenFinding(one, grid)) });
    return { end: "read", codes: [...codes, ...findings.map(({ code }) => code)] };
  }
  const site = await readSiteAlone(inputs, options);
  if (site.ok && lawnEdgeM(site.value) > PLANNED_EDGE_MAX_M)
    return { end: "read", codes: checkOutcome(site) };
  const outcome = await planInputs(inputs, options);
  const codes = checkOutcome(outcome);
  if (!outcome.ok) return refused(outcome.problem, inputs, codes);
  checkFiles(outcome.value);
  return { end: "planned", codes };
}

/** Throws where the files of a plan, or what is said of it, hold what they must not. */
export function checkFiles(result: PlanResult): void {
  const { files, summary } = planFiles(result);
  checkFindings(result.findings);
  checkWritable(summary);
  for (const { name, text } of files) {
    if (/\bNaN\b|Infinity/.test(text.replace(/"(?:[^"\\]|\\.)*"/g, '""')))
      throw new BadAnswer(`${name} holds what is no number`);
    if (/json$/.test(name)) JSON.parse(text);
  }
  if (summaryText(summary).trim() === "") throw new BadAnswer("the summary says nothing");
}

/** A problem of an input names it, unless it is about all of them together. */
function refused(
  problem: { readonly code: string; readonly file?: string },
  inputs: readonly InputFile[],
  codes: readonly string[],
): Reached {
  if (problem.file !== undefined && !inputs.some(({ name }) => name === problem.file))
    throw new BadAnswer(`${problem.code} names ${problem.file}, which is none of the inputs`);
  return { end: "refused", codes };
}
