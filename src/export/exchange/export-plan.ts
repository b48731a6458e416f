/** A plan in the formats of other tools, and what each of them could not hold. */
import type { Position } from "geojson";
import type { EpsgRegistry } from "../../crs/registry.ts";
import { done, type Finding, failed, type Outcome } from "../../model/finding.ts";
import type { LonLat } from "../../model/geometry.ts";
import { linesOf } from "../../model/lines-of.ts";
import type { SiteGrid } from "../../model/site.ts";
import { drawnPlan, type PlanFeature } from "./drawn-plan.ts";
import { EXCHANGE_FORMATS, type ExchangeFormat, type FormatName } from "./formats.ts";
import type { OutCrs } from "./out-crs.ts";
import { siteGridTarget, type TargetCrs, targetCrs, WGS84_TARGET } from "./target-crs.ts";
import type { ExchangeFile, Loss } from "./written.ts";

export interface ExportOptions {
  readonly formats: readonly FormatName[];
  /** WGS 84 where left out, and the site grid for formats that need lengths. */
  readonly outCrs?: OutCrs | undefined;
  readonly registry: EpsgRegistry;
}

/** One format as it was written. */
export interface ExportedFormat {
  readonly format: FormatName;
  readonly files: readonly string[];
  readonly crs: string;
  readonly features: number;
  readonly losses: readonly Loss[];
}

export interface ExportedPlan {
  readonly files: readonly ExchangeFile[];
  readonly formats: readonly ExportedFormat[];
}

/**
 * Writes a plan in other formats.
 *
 * @param name of the site
 * @param features of its `plan.geojson`, degrees of WGS 84
 * @param grid the site grid
 * @returns the files, and as findings what each format could not hold; problems of kind `usage` for a
 *   reference system that cannot be used
 */
export async function exportPlan(
  name: string,
  features: readonly PlanFeature[],
  grid: SiteGrid,
  { formats, outCrs, registry }: ExportOptions,
): Promise<Outcome<ExportedPlan>> {
  const findings: Finding[] = [];
  let asked: TargetCrs | undefined;
  if (outCrs !== undefined) {
    const target = targetCrs(outCrs, registry, placeOf(features) ?? grid.origin, grid);
    if (!target.ok) return failed(target.problem, target.findings);
    asked = target.value;
    findings.push(...target.findings);
  }
  const files: ExchangeFile[] = [];
  const written: ExportedFormat[] = [];
  for (const format of new Set(formats)) {
    const about: ExchangeFormat = EXCHANGE_FORMATS[format];
    const { crs, finding } = systemFor(about, asked, grid);
    if (finding) findings.push(finding);
    const write = await about.load();
    const made = await write(drawnPlan(name, features, crs));
    files.push(...made.files);
    const names = made.files.map((file) => file.name);
    written.push({ ...made, format, files: names, crs: crs.name });
    if (made.losses.length > 0) findings.push(cannotHold(about, names[0]!, made.losses));
  }
  return done({ files, formats: written }, findings);
}

/** The system that a format is written in. */
function systemFor(
  { label, crs: kind }: ExchangeFormat,
  asked: TargetCrs | undefined,
  grid: SiteGrid,
): { crs: TargetCrs; finding?: Finding } {
  if (kind === "wgs84") {
    const isOther = asked !== undefined && asked.epsg !== 4326;
    return { crs: WGS84_TARGET, ...(isOther ? { finding: keepsWgs84(label) } : {}) };
  }
  if (kind === "lengths" && (asked === undefined || asked.isDegrees)) {
    const crs = siteGridTarget(grid);
    return { crs, ...(asked === undefined ? {} : { finding: needsLengths(label) }) };
  }
  return { crs: asked ?? WGS84_TARGET };
}

function keepsWgs84(label: string): Finding {
  return {
    code: "FORMAT_KEEPS_WGS84",
    severity: "info",
    message: `--out-crs is not used for ${label}, which is in degrees of WGS 84 by its own rule.`,
    remedy: "Nothing to do.",
  };
}

function needsLengths(label: string): Finding {
  return {
    code: "FORMAT_NEEDS_LENGTHS",
    severity: "warning",
    message: `--out-crs is not used for ${label}: a drawing in degrees is of no use. It is in the site grid, in metres.`,
    remedy: "Name a projected system with --out-crs, if the drawing is to lie in one.",
  };
}

function cannotHold({ label }: ExchangeFormat, file: string, losses: readonly Loss[]): Finding {
  const list = losses.map(({ features, what }) => `${what} (${features} feature(s))`);
  return {
    code: "FORMAT_CANNOT_HOLD",
    severity: "info",
    file,
    message: `${label} does not hold all of the plan: ${list.join("; ")}.`,
    remedy: "Nothing to do, unless you need that: plan.geojson and the GeoPackage have all of it.",
  };
}

/** The middle of the first wire, near which everything lies. */
function placeOf(features: readonly PlanFeature[]): LonLat | undefined {
  const positions: Position[] = [];
  for (const { geometry } of features) {
    if (geometry === null || positions.length > 0) continue;
    if (geometry.type === "Point") positions.push(geometry.coordinates);
    else positions.push(...linesOf(geometry).flat());
  }
  if (positions.length === 0) return undefined;
  const middle = (axis: 0 | 1) => {
    const values = positions.map((position) => position[axis]!);
    return (values.reduce((a, b) => Math.min(a, b)) + values.reduce((a, b) => Math.max(a, b))) / 2;
  };
  return [middle(0), middle(1)];
}
