import type { RawLayer } from "../model/features.ts";
import { fitsDegrees, rangeOf } from "./plausible.ts";

/** What `--crs` says holds for a plan only where its file says nothing of its own that can be so. */
export function crsForPlan(
  layers: readonly RawLayer[],
  crs: number | string | undefined,
): number | string | undefined {
  const saysItself = (layer: RawLayer) => {
    if (layer.crs.kind !== "wgs84") return layer.crs.kind !== "none";
    const range = rangeOf(layer);
    return range === undefined || fitsDegrees(range);
  };
  return layers.every(saysItself) ? undefined : crs;
}
