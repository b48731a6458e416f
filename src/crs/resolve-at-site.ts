import type { CrsDeclaration } from "../model/features.ts";
import type { Outcome } from "../model/finding.ts";
import type { SiteGrid } from "../model/site.ts";
import { placeInSource, type RasterPlace } from "./cell-places.ts";
import type { EpsgRegistry } from "./registry.ts";
import { resolveCrs } from "./resolve.ts";
import type { SourceCrs } from "./source-crs.ts";

/** The raster's system, with the datum shift for the site's place, as the outlines have it. */
export function resolveAtSite(
  raster: RasterPlace,
  declared: CrsDeclaration,
  grid: SiteGrid,
  registry: EpsgRegistry,
): Outcome<SourceCrs> {
  const { frame, columns, rows } = raster;
  const first = resolveCrs(declared, registry, [
    frame.x0 + (columns * frame.xPerColumn + rows * frame.xPerRow) / 2,
    frame.y0 + (columns * frame.yPerColumn + rows * frame.yPerRow) / 2,
  ]);
  if (!first.ok || first.value.accuracyM === 0) return first;
  const site = placeInSource(raster, first.value, grid)(0, 0);
  return site.every(Number.isFinite) ? resolveCrs(declared, registry, site) : first;
}
