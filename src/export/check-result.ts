import type { Verdict } from "../check/check-plan.ts";
import type { Measure } from "../check/measure.ts";
import type { SiteGrid } from "../model/site.ts";
import { TOOL, VERSION } from "../version.ts";
import { rounded } from "./numbers.ts";
import { orderedFindings, writtenFinding } from "./ordered-findings.ts";

/** A measure as `--json` and `summary.json` have it (docs/commands/check.md). */
export function writtenMeasure(measure: Measure) {
  const { rule, unit, bound, note } = measure;
  const figure = (value: number | null) => (value === null ? null : rounded(value, 4));
  return {
    rule,
    measured: figure(measure.measured),
    allowed: figure(measure.allowed),
    holds: measure.holds,
    bound,
    unit,
    ...(note === undefined ? {} : { note }),
  };
}

/** What `pegline check --json` prints. */
export function checkResult({ verdict, measures, findings }: Verdict, grid?: SiteGrid) {
  return {
    tool: TOOL,
    version: VERSION,
    verdict,
    measures: measures.map(writtenMeasure),
    findings: orderedFindings(findings).map((finding) => writtenFinding(finding, grid)),
  };
}
