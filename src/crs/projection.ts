import proj4 from "proj4";
import type { LonLat } from "../model/geometry.ts";

/** What is used of a proj4 projection object. */
interface ProjObject {
  projName: string;
  a: number;
  b: number;
  to_meter?: number;
  axis: string;
  datumCode?: string;
  local?: boolean;
  datum: { datum_type: number; datum_params?: number[] };
  datum_params?: (number | string)[] | null;
  datumName?: string;
  nadgrids?: string;
}

/** proj4's mark for "no datum": its converter then leaves degrees on their own ellipsoid. */
const NO_DATUM = 5;

/** A projection taken apart: degrees on its own ellipsoid, without any datum shift. */
export interface Projection {
  readonly isDegrees: boolean;
  /** Metres in one unit of the projected coordinates; 1 for degrees. */
  readonly metresPerUnit: number;
  readonly semiMajorM: number;
  readonly semiMinorM: number;
  /** Shift in the definition itself (or in proj4's table for the datum it names). */
  readonly definedShift?: readonly number[];
  /** A grid file that the definition asks for and nobody has. */
  readonly gridFile?: string;
  /** Source coordinates to degrees on the own ellipsoid, from Greenwich; NaN where undefined. */
  toOwnDegrees(x: number, y: number): LonLat;
}

/** Parses a PROJ string or WKT. Throws proj4's message where it cannot. */
export function parseProjection(definition: string): Projection {
  const parsed = new proj4.Proj(definition) as unknown as ProjObject;
  if (parsed.local || parsed.projName === "identity")
    throw "a local system without a place on earth";
  const isDegrees = parsed.projName === "longlat";
  const metresPerUnit = isDegrees ? 1 : (parsed.to_meter ?? 1);
  if (!(metresPerUnit > 0 && metresPerUnit < Infinity)) throw `a unit of ${metresPerUnit} metres`;
  const { a, b } = parsed;
  const params = parsed.datum_params?.map(Number);
  const gridFile = parsed.nadgrids;
  parsed.datum = { ...parsed.datum, datum_type: NO_DATUM };
  const own = new proj4.Proj(`+proj=longlat +a=${a} +b=${b} +no_defs`) as unknown as ProjObject;
  own.datum = { ...own.datum, datum_type: NO_DATUM };
  const converter = proj4(parsed as never, own as never);
  // South- or west-pointing axes change signs and order; north-east order is ignored, as all files
  // of the trade hold easting (longitude) first.
  const enforceAxis = /[ws]/.test(parsed.axis ?? "enu");
  return {
    isDegrees,
    metresPerUnit,
    semiMajorM: a,
    semiMinorM: b,
    ...(params === undefined ? {} : { definedShift: params }),
    ...(gridFile === undefined ? {} : { gridFile }),
    toOwnDegrees: (x, y) => {
      try {
        return converter.forward([x, y], enforceAxis) as [number, number];
      } catch {
        return [Number.NaN, Number.NaN];
      }
    },
  };
}

/** Degrees on an ellipsoid to WGS 84 by a Helmert shift of three or seven numbers. */
export function helmertToWgs84(
  semiMajorM: number,
  semiMinorM: number,
  shift: readonly number[],
): (lonLat: LonLat) => LonLat {
  const converter = proj4(
    `+proj=longlat +a=${semiMajorM} +b=${semiMinorM} +towgs84=${shift.join(",")} +no_defs`,
    "WGS84",
  );
  return (lonLat) => {
    if (!Number.isFinite(lonLat[0]) || !Number.isFinite(lonLat[1])) return lonLat;
    return converter.forward([lonLat[0], lonLat[1]]) as [number, number];
  };
}
