import type { Finding, Severity } from "../model/finding.ts";
import type { SiteGrid } from "../model/site.ts";
import { roundedLonLat } from "./degrees.ts";
import { lengthM } from "./numbers.ts";

const RANK: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2 };

/** Findings as they are shown: errors, warnings, then the rest; otherwise in the order found. */
export function orderedFindings(findings: readonly Finding[]): Finding[] {
  return [...findings].sort((a, b) => RANK[a.severity] - RANK[b.severity]);
}

/** A finding as data files and `--json` have it. Place in degrees and in metres of the site grid. */
export interface WrittenFinding {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly remedy: string;
  readonly file: string | null;
  readonly layer: string | null;
  readonly feature: string | null;
  readonly at: readonly [number, number] | null;
  readonly east_m: number | null;
  readonly north_m: number | null;
}

/** Fills the place in degrees from the place in metres, and the other way round where it can. */
export function writtenFinding(finding: Finding, grid?: SiteGrid): WrittenFinding {
  const at = finding.at ?? (finding.atM && grid?.inverse(finding.atM));
  const atM = finding.atM ?? (finding.at && grid?.forward(finding.at));
  return {
    code: finding.code,
    severity: finding.severity,
    message: finding.message,
    remedy: finding.remedy,
    file: finding.file ?? null,
    layer: finding.layer ?? null,
    feature: finding.feature ?? null,
    at: at?.every(Number.isFinite) ? roundedLonLat(at) : null,
    east_m: atM && Number.isFinite(atM[0]) ? lengthM(atM[0]) : null,
    north_m: atM && Number.isFinite(atM[1]) ? lengthM(atM[1]) : null,
  };
}
