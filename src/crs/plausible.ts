import type { RawLayer } from "../model/features.ts";
import type { Problem } from "../model/finding.ts";
import { forEachXYOf } from "./convert.ts";

/** Extent of a layer's own coordinates, and where it first leaves the range of degrees. */
export interface RawRange {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
  /** 1-based number of the first feature that cannot be in degrees. */
  readonly firstBeyond?: number;
}

/** Range of x and y; undefined where the layer has no coordinates. */
export function rangeOf(layer: RawLayer): RawRange | undefined {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  let firstBeyond: number | undefined;
  for (const feature of layer.features) {
    forEachXYOf(feature, (x, y) => {
      minX = Math.min(minX, x);
      maxX = Math.max(maxX, x);
      minY = Math.min(minY, y);
      maxY = Math.max(maxY, y);
      if (Math.abs(x) > 180 || Math.abs(y) > 90) firstBeyond ??= feature.number;
    });
  }
  if (minX === Infinity) return undefined;
  return { minX, minY, maxX, maxY, ...(firstBeyond === undefined ? {} : { firstBeyond }) };
}

/** True where every position can be longitude and latitude. */
export function fitsDegrees(range: RawRange): boolean {
  return range.firstBeyond === undefined;
}

function figures(range: RawRange): string {
  const short = (value: number) => Number(value.toPrecision(9));
  return `x from ${short(range.minX)} to ${short(range.maxX)}, y from ${short(range.minY)} to ${short(range.maxY)}`;
}

/** What the size of the numbers suggests, in words. */
export function likelyUnit(range: RawRange): string {
  if (fitsDegrees(range)) return "they look like degrees (EPSG:4326, if they are WGS 84)";
  const size = Math.max(
    Math.abs(range.minX),
    Math.abs(range.maxX),
    Math.abs(range.minY),
    Math.abs(range.maxY),
  );
  if (size < 10_000) return "they look like metres or feet of a local survey";
  if (range.minX >= 100_000 && range.maxX < 900_000 && size < 10_000_000) {
    return "they look like metres of a national grid or a UTM zone (or feet of a state plane)";
  }
  return "they look like metres or feet of a national grid, a state plane or a web map";
}

/** Why coordinates cannot be the degrees that the layer's CRS says they are. */
export function notDegreesProblem(layer: RawLayer, range: RawRange, crsName: string): Problem {
  const where = { file: layer.file, layer: layer.layer };
  const feature = `#${range.firstBeyond}`;
  const swapped = range.minY >= -180 && range.maxY <= 180 && range.minX >= -90 && range.maxX <= 90;
  if (swapped) {
    return {
      ...where,
      code: "COORDINATES_SWAPPED",
      kind: "input",
      feature,
      message: `latitudes beyond 90 degrees (${figures(range)}): longitude and latitude are swapped`,
      remedy: "Export the file with longitude first, as RFC 7946 and KML want it.",
    };
  }
  return {
    ...where,
    code: "COORDINATES_NOT_DEGREES",
    kind: "input",
    feature,
    message: `coordinates cannot be degrees, as ${crsName} would have them: ${figures(range)}; ${likelyUnit(range)}`,
    remedy: "Pass --crs EPSG:N with the number of the system that they are in.",
  };
}

/** The message of a layer without a CRS, with the likely cause. */
export function missingCrsProblem(layer: RawLayer, range: RawRange): Problem {
  return {
    file: layer.file,
    layer: layer.layer,
    code: "CRS_MISSING",
    kind: "input",
    message: `nothing says which coordinate reference system its coordinates are in (${figures(range)}; ${likelyUnit(range)})`,
    remedy: fitsDegrees(range)
      ? "Pass --crs EPSG:4326 if they are longitude and latitude of WGS 84, or put the .prj beside the .shp."
      : "Pass --crs EPSG:N with the number of the system that they are in, or put the .prj beside the .shp.",
  };
}
