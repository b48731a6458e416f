import type { Finding } from "../model/finding.ts";
import type { SiteGrid } from "../model/site.ts";

/** Takes a finding; its place in metres is given in degrees too. */
export type Note = (finding: Finding) => void;

/** A list of findings and the function that adds to it, each with its place in degrees. */
export function noteBook(grid: SiteGrid): { note: Note; findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const note: Note = (finding) => {
    const atM = finding.atM;
    findings.push(atM && !finding.at ? { ...finding, at: grid.inverse(atM) } : finding);
  };
  return { note, findings };
}

/** `1 thing`, `3 things`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** Square metres as people read them: two decimals for small areas, none for large ones. */
export function squareMetres(areaM2: number): string {
  const decimals = areaM2 < 0.1 ? 4 : areaM2 < 1000 ? 2 : 0;
  return `${areaM2.toFixed(decimals)} m²`;
}

/** Up to `limit` of the names, the rest counted. */
export function listed(names: readonly string[], limit = 4): string {
  const shown = names.slice(0, limit).join(", ");
  return names.length > limit ? `${shown} and ${names.length - limit} more` : shown;
}
