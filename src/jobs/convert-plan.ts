/** From a plan in any format that can be read to other formats. Pure: bytes in, bytes out. */
import { mapGeometry } from "../crs/convert.ts";
import { crsForPlan } from "../crs/plan-crs.ts";
import type { EpsgRegistry } from "../crs/registry.ts";
import { toSiteGrid } from "../crs/to-site-grid.ts";
import { roundedLonLat } from "../export/degrees.ts";
import type { PlanFeature } from "../export/exchange/drawn-plan.ts";
import { type ExportedPlan, exportPlan } from "../export/exchange/export-plan.ts";
import type { FormatName } from "../export/exchange/formats.ts";
import { type OutCrs, SITE_GRID } from "../export/exchange/out-crs.ts";
import { withPlanFeatures } from "../import/plan-features.ts";
import { readInputs } from "../import/read-inputs.ts";
import { stemOf } from "../import/reader.ts";
import type { InputFile } from "../model/features.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import { planKindOf } from "../model/plan-fields.ts";
import type { SiteGrid } from "../model/site.ts";

export interface ConvertOptions {
  readonly formats: readonly FormatName[];
  readonly outCrs?: OutCrs | undefined;
  /** Of the plan's file, where that says none. */
  readonly crs?: number | string | undefined;
  readonly registry: EpsgRegistry;
}

/** A plan read back from a file: features as `plan.geojson` has them, in degrees of WGS 84. */
export interface PlanFeatures {
  readonly name: string;
  readonly features: readonly PlanFeature[];
  /** A site grid through the middle of the plan. */
  readonly grid: SiteGrid;
}

/**
 * Reads a plan of ours from any format that it can be in.
 *
 * @returns its features; the problem `PLAN_NOT_OURS` where none is of a kind that plans have
 */
export async function readPlanFeatures(
  plan: InputFile,
  { crs, registry }: Pick<ConvertOptions, "crs" | "registry">,
): Promise<Outcome<PlanFeatures>> {
  const read = await readInputs([plan]);
  if (!read.ok) return read;
  const layers = withPlanFeatures(read.value);
  const override = crsForPlan(layers, crs);
  const placed = toSiteGrid(layers, {
    ...(override === undefined ? {} : { crsOverride: override }),
    registry,
  });
  const findings = [...read.findings, ...placed.findings];
  if (!placed.ok) return failed(placed.problem, findings);
  const { grid } = placed.value;
  const all = placed.value.layers.flatMap((layer) => layer.features);
  const ours = all.filter(({ properties }) => planKindOf(properties) !== undefined);
  if (ours.length === 0) {
    return failed(
      {
        code: "PLAN_NOT_OURS",
        kind: "input",
        file: plan.name,
        message: "no feature in the file has a kind that plans have",
        remedy: "Give a plan.geojson, or a file that was written with --format.",
      },
      findings,
    );
  }
  if (ours.length < all.length) findings.push(leftOut(plan.name, all.length - ours.length));
  const toDegrees = (e: number, n: number) => roundedLonLat(grid.inverse([e, n]));
  const features = ours.map(
    ({ geometry, properties }): PlanFeature => ({
      geometry: geometry && mapGeometry(geometry, toDegrees),
      properties,
    }),
  );
  return done({ name: stemOf(plan.name), features, grid }, findings);
}

/** Converts a plan of ours; see `readPlanFeatures` and `exportPlan`. */
export async function convertPlan(
  plan: InputFile,
  options: ConvertOptions,
): Promise<Outcome<ExportedPlan>> {
  const read = await readPlanFeatures(plan, options);
  if (!read.ok) return read;
  const { name, features, grid } = read.value;
  const exported = await exportPlan(name, features, grid, options);
  const findings = [...read.findings, ...exported.findings];
  if (!exported.ok) return failed(exported.problem, findings);
  const usesGrid =
    options.outCrs === SITE_GRID ||
    exported.value.formats.some(({ crs }) => /^site grid/.test(crs));
  if (usesGrid) findings.push(newGrid(grid));
  return done(exported.value, findings);
}

function leftOut(file: string, count: number): Finding {
  return {
    code: "PLAN_FEATURES_NOT_OURS",
    severity: "warning",
    file,
    message: `${count} feature(s) are of no kind that plans have, and are left out`,
    remedy: "Give each the attribute kind, if it belongs to the plan.",
  };
}

function newGrid({ origin }: SiteGrid): Finding {
  return {
    code: "SITE_GRID_OF_PLAN",
    severity: "info",
    message: `the site grid is laid anew through the middle of the plan, ${origin[1]}, ${origin[0]}: a plan's file does not hold the one it was planned in`,
    remedy:
      "Use `pegline plan` with --format for the grid of summary.json, or name a system with --out-crs.",
  };
}
