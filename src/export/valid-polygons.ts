import type { Position } from "geojson";
import { grow, shrink } from "../geometry/offset.ts";
import { totalAreaM2 } from "../geometry/rings.ts";
import { isValidMultiPolygon } from "../geometry/validity.ts";
import type { AreaM } from "../model/geometry.ts";
import type { SiteGrid } from "../model/site.ts";
import { polygonInDegrees } from "./degrees.ts";

/** Half of this is the least that two edges keep apart once mended, metres. */
const SLIVER_M = 0.001;

/** Polygons ready to be written. */
export interface WrittenPolygons {
  readonly polygons: Position[][][];
  /** Area of slivers that could not be drawn as valid polygons, m². */
  readonly notDrawnM2: number;
}

/**
 * Areas as polygons in degrees that are valid after rounding to 9 decimals.
 *
 * Rounding moves a vertex by up to 0.06 mm, which can fold a sliver over. Where that happens, strips
 * and slits thinner than a millimetre are taken out or closed; where that is not enough, the areas
 * are drawn half a millimetre smaller; what is then still folded is left out. The area lost on the way is returned.
 */
export function validPolygons(areas: readonly AreaM[], grid: SiteGrid): WrittenPolygons {
  let left = areas;
  for (const mend of MENDS) {
    left = mend(left);
    const polygons = left.map((area) => polygonInDegrees(area, grid));
    if (isValidMultiPolygon(polygons)) return { polygons, notDrawnM2: lost(areas, left) };
  }
  const kept = left.filter((area) => isValidMultiPolygon([polygonInDegrees(area, grid)]));
  return {
    polygons: kept.map((area) => polygonInDegrees(area, grid)),
    notDrawnM2: lost(areas, kept),
  };
}

const MENDS = [(areas: readonly AreaM[]): readonly AreaM[] => areas, withoutSlivers, drawnSmaller];

function lost(before: readonly AreaM[], after: readonly AreaM[]): number {
  return before === after ? 0 : Math.max(0, totalAreaM2(before) - totalAreaM2(after));
}

function withoutSlivers(areas: readonly AreaM[]): AreaM[] {
  const half = SLIVER_M / 2;
  const opened = grow(shrink(areas, half, "mitre"), half, "mitre");
  return shrink(grow(opened, half, "mitre"), half, "mitre");
}

function drawnSmaller(areas: readonly AreaM[]): AreaM[] {
  return shrink(areas, SLIVER_M / 2, "mitre");
}
