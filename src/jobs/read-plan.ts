/** A plan read from its file, without the site that it is for. */
import { statedOfLayers } from "../check/stated/from-layers.ts";
import { outOfReach } from "../check/stated/reach.ts";
import type { StatedPlan } from "../check/stated/stated-plan.ts";
import { crsForPlan } from "../crs/plan-crs.ts";
import type { EpsgRegistry } from "../crs/registry.ts";
import { toSiteGrid } from "../crs/to-site-grid.ts";
import { withPlanFeatures } from "../import/plan-features.ts";
import { readInputs } from "../import/read-inputs.ts";
import type { InputFile } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import type { SiteGrid } from "../model/site.ts";

/** What a plan's file states, in a grid of its own. */
export interface ReadPlan {
  readonly plan: StatedPlan;
  readonly grid: SiteGrid;
}

export interface ReadPlanOptions {
  /** Reference system of a file that states none. */
  readonly crs?: number | string | undefined;
  /** Where EPSG codes are looked up. */
  readonly registry: EpsgRegistry;
  /** The grid of the site, in place of one of the plan's own. */
  readonly grid?: SiteGrid;
}

/**
 * @param file a plan.geojson of ours, or any format with a line that is wire
 */
export async function readPlan(
  file: InputFile,
  { crs, registry, grid }: ReadPlanOptions,
): Promise<Outcome<ReadPlan>> {
  const layers = await readInputs([file], {});
  if (!layers.ok) return layers;
  const restored = withPlanFeatures(layers.value);
  const override = crsForPlan(restored, crs);
  const placed = toSiteGrid(restored, {
    ...(override === undefined ? {} : { crsOverride: override }),
    ...(grid === undefined ? {} : { grid }),
    registry,
  });
  const noticed = [...layers.findings, ...placed.findings];
  if (!placed.ok) return failed(placed.problem, noticed);
  const stated = statedOfLayers(placed.value.layers);
  if (!stated.ok) return failed(stated.problem, noticed);
  noticed.push(...stated.findings);
  const elsewhere = outOfReach(stated.value, undefined, file.name);
  if (elsewhere !== undefined) return failed(elsewhere, noticed);
  return done({ plan: stated.value, grid: placed.value.grid }, noticed);
}
