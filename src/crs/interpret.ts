import type { RawLayer } from "../model/features.ts";
import type { Finding } from "../model/finding.ts";
import type { LonLat } from "../model/geometry.ts";
import { isNear } from "./place.ts";
import type { RawRange } from "./plausible.ts";
import type { SourceCrs } from "./source-crs.ts";

/** How the numbers of a layer become coordinates of its system. */
export interface Interpretation {
  /** Units of the system in one unit of the layer. */
  readonly factor: number;
  /** True where the layer has northing (latitude) before easting (longitude). */
  readonly swapped: boolean;
  readonly finding?: Finding;
}

/**
 * Takes a layer's coordinates as its file says, unless only another reading puts them where the
 * system is used: then the unit of the system in place of the file's, or the axes the other way round.
 * Each such change is a finding. Without a known area of use nothing is changed.
 */
export function interpret(layer: RawLayer, range: RawRange, crs: SourceCrs): Interpretation {
  const stated = crs.isDegrees ? 1 : (layer.unitM ?? crs.metresPerUnit) / crs.metresPerUnit;
  const factor = Math.abs(stated - 1) < 1e-12 ? 1 : stated;
  const asSaid = { factor, swapped: false };
  const { areaOfUse } = crs;
  if (areaOfUse === undefined) return asSaid;
  const [x, y] = [(range.minX + range.maxX) / 2, (range.minY + range.maxY) / 2];
  const fits = (scale: number, swapped: boolean) => {
    const [u, v] = swapped ? [y * scale, x * scale] : [x * scale, y * scale];
    const place: LonLat = crs.toWgs84(u, v);
    return Number.isFinite(place[0]) && Number.isFinite(place[1]) && isNear(place, areaOfUse);
  };
  if (fits(factor, false)) return asSaid;
  const where = { file: layer.file, layer: layer.layer };
  if (factor !== 1 && fits(1, false)) {
    return {
      factor: 1,
      swapped: false,
      finding: {
        ...where,
        code: "DXF_UNIT_DOUBTFUL",
        severity: "warning",
        message: `the drawing's unit (${layer.unitM} m) puts layer ${layer.layer} far outside the area of ${crs.name}; in that system's own unit (${crs.unitName}) it lies inside, so that this unit is taken`,
        remedy: "Check the size of the site; set the drawing's unit right and save it.",
      },
    };
  }
  if (fits(factor, true)) {
    return {
      factor,
      swapped: true,
      finding: {
        ...where,
        code: "CRS_AXES_SWAPPED",
        severity: "warning",
        message: `layer ${layer.layer} lies far outside the area of ${crs.name}, but inside it with its axes the other way round: they are taken as northing (latitude) first`,
        remedy: "Export it with easting (longitude) first, as files of the trade have it.",
      },
    };
  }
  return asSaid;
}
