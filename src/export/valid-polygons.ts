import type { Position } from "geojson";
import { grow, shrink } from "../geometry/offset.ts";
import { areaM2, totalAreaM2 } from "../geometry/rings.ts";
import { isValidMultiPolygon } from "../geometry/validity.ts";
import type { AreaM } from "../model/geometry.ts";
import type { SiteGrid } from "../model/site.ts";
import { polygonInDegrees, windsRight } from "./degrees.ts";

/**
 * How much smaller areas are drawn where rounding breaks them, metres; the next is tried where one
 * is not enough. Rounding to 9 decimals moves a vertex by up to 0.07 mm.
 */
const SMALLER_M = [0.000125, 0.00025, 0.0005];

/** Polygons ready to be written. */
export interface WrittenPolygons {
  readonly polygons: Position[][][];
  /** Area of slivers that could not be drawn as valid polygons, m². */
  readonly notDrawnM2: number;
}

/**
 * Areas as polygons in degrees that are valid after rounding to 9 decimals, each and together.
 *
 * Where rounding folds a sliver over, or makes neighbours that touch overlap, strips thinner than
 * half a millimetre are taken out and the area is drawn an eighth of a millimetre smaller (up to
 * half a millimetre where that is not enough). What is then still no polygon is left out. The area
 * lost on the way is returned.
 */
export function validPolygons(areas: readonly AreaM[], grid: SiteGrid): WrittenPolygons {
  const drawn = drawable(areas, grid);
  return {
    polygons: drawn.map((area) => polygonInDegrees(area, grid)),
    notDrawnM2: Math.max(0, totalAreaM2(areas) - totalAreaM2(drawn)),
  };
}

function drawable(areas: readonly AreaM[], grid: SiteGrid): readonly AreaM[] {
  const sound = areas.flatMap((area) => (areValid([area], grid) ? area : mended(area, grid)));
  if (areValid(sound, grid)) return sound;
  for (const smallerM of SMALLER_M) {
    const apart = areas
      .flatMap((area) => smaller(area, smallerM))
      .filter((one) => areValid([one], grid));
    if (areValid(apart, grid)) return apart;
  }
  return withoutClashes(sound, grid);
}

function areValid(areas: readonly AreaM[], grid: SiteGrid): boolean {
  const polygons = areas.map((area) => polygonInDegrees(area, grid));
  return polygons.every(windsRight) && isValidMultiPolygon(polygons);
}

/** One area as none, one or several that are valid. */
function mended(area: AreaM, grid: SiteGrid): AreaM[] {
  for (const smallerM of SMALLER_M) {
    const parts = smaller(area, smallerM);
    if (parts.every((one) => areValid([one], grid))) return parts;
  }
  return [];
}

/** Without strips thinner than four times the distance, then shrunk by it: slits become wider. */
function smaller(area: AreaM, distanceM: number): AreaM[] {
  // Part by part: one may lie in a hole of another.
  const opened = shrink([area], 2 * distanceM, "mitre").flatMap((part) =>
    grow([part], 2 * distanceM, "mitre"),
  );
  return opened.flatMap((part) => shrink([part], distanceM, "mitre"));
}

/** The larger ones that get along with each other. */
function withoutClashes(areas: readonly AreaM[], grid: SiteGrid): AreaM[] {
  const kept: AreaM[] = [];
  for (const one of [...areas].sort((a, b) => areaM2(b) - areaM2(a))) {
    if (areValid([...kept, one], grid)) kept.push(one);
  }
  return kept;
}
