/** Rasters of a result: the sun on the lawn, the signal of the wire. */
import { esriGrid, gridPrj } from "./esri-grid.ts";
import type { PlanResult } from "./plan-result.ts";

/** Names of the files that `rasterFiles` may give. */
export const RASTER_FILE_NAMES = ["sun.asc", "sun.prj", "signal.asc", "signal.prj"] as const;

/** ESRI ASCII grids with their reference system, where sun or signal were asked for. */
export function rasterFiles({ plan, sun, signalMap }: PlanResult) {
  const prj = gridPrj(plan.grid);
  const files: { name: (typeof RASTER_FILE_NAMES)[number]; text: string }[] = [];
  if (sun) {
    const { hours: values, ...frame } = sun.map;
    files.push({ name: "sun.asc", text: esriGrid({ ...frame, values }, 2) });
    files.push({ name: "sun.prj", text: prj });
  }
  if (signalMap) {
    files.push({ name: "signal.asc", text: esriGrid(signalMap, 4) });
    files.push({ name: "signal.prj", text: prj });
  }
  return files;
}
