import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import { type ExportOptions, exportPlan } from "./exchange/export-plan.ts";
import { drawPlan, filesOf, type PlanFiles, type ResultFile } from "./plan-files.ts";
import type { PlanResult } from "./plan-result.ts";

/** Everything written for a plan, the formats of other tools among it. */
export interface ResultFiles extends Omit<PlanFiles, "files"> {
  readonly files: readonly ResultFile[];
}

/**
 * The files of a plan in all the formats that are wanted. Same plan, same bytes.
 *
 * @param also findings about drawings and lists, which stand in the summary alone
 * @returns the files, and a summary that says what each format could not hold; problems of kind
 *   `usage` for a reference system that cannot be used
 */
export async function resultFiles(
  result: PlanResult,
  options: ExportOptions,
  also: readonly Finding[] = [],
): Promise<Outcome<ResultFiles>> {
  const drawn = drawPlan(result);
  const { siteName, grid } = result.plan;
  const features = drawn.collection.features.map(({ geometry, properties }) => ({
    geometry,
    properties: properties ?? {},
  }));
  // The plan's own file is always there.
  const formats = options.formats.filter((format) => format !== "geojson");
  const exported = await exportPlan(siteName, features, grid, { ...options, formats });
  if (!exported.ok) return failed(exported.problem, exported.findings);
  const plan = filesOf(drawn, [...also, ...exported.findings]);
  return done({ ...plan, files: [...plan.files, ...exported.value.files] });
}
