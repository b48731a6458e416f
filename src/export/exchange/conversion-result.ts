import type { Finding } from "../../model/finding.ts";
import { TOOL, VERSION } from "../../version.ts";
import { orderedFindings, writtenFinding } from "../ordered-findings.ts";
import type { ExportedPlan } from "./export-plan.ts";
import { EXCHANGE_FILE_NAMES } from "./formats.ts";

/** Names of the files of a conversion. */
export const CONVERSION_NAMES: readonly string[] = ["conversion.json", ...EXCHANGE_FILE_NAMES];

/** What `pegline convert --json` prints, which is also `conversion.json`. */
export function conversionResult(
  plan: string,
  { formats }: ExportedPlan,
  findings: readonly Finding[],
) {
  return {
    tool: TOOL,
    version: VERSION,
    plan,
    formats: formats.map(({ format, files, crs, features, losses }) => ({
      format,
      files,
      crs,
      features,
      cannot_hold: losses,
    })),
    findings: orderedFindings(findings).map((finding) => writtenFinding(finding)),
  };
}
