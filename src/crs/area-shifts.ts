import type { LonLat } from "../model/geometry.ts";
import { AREA_SHIFT_ROWS } from "./area-shifts.data.ts";
import { type DatumShift, plainDatumName } from "./datum-shifts.ts";
import type { LonLatExtent } from "./site-grid.ts";

interface AreaShift extends DatumShift {
  readonly statedM: number;
  readonly area: LonLatExtent;
}

let byName: Map<string, AreaShift[]> | undefined;

function table(): Map<string, AreaShift[]> {
  if (byName !== undefined) return byName;
  byName = new Map();
  for (const [names, rows] of Object.entries(AREA_SHIFT_ROWS)) {
    const shifts = rows.map(parsed);
    for (const name of names.split("|")) byName.set(plainDatumName(name), shifts);
  }
  return byName;
}

function parsed(row: string): AreaShift {
  const [about = "", numbers = "", box = ""] = row.split("; ");
  const [accuracyM = 0, code] = about.split(" ").map(Number);
  const [west = 0, south = 0, east = 0, north = 0] = box.split(" ").map(Number);
  return {
    toWgs84: numbers.split(" ").map(Number),
    statedM: accuracyM,
    accuracyM: Math.max(1, accuracyM),
    source: `EPSG transformation ${code}`,
    area: { west, south, east, north },
  };
}

function holds({ west, south, east, north }: LonLatExtent, lon: number, lat: number): boolean {
  const within = west <= east ? lon >= west && lon <= east : lon >= west || lon <= east;
  return within && lat >= south && lat <= north;
}

function sizeOf({ west, south, east, north }: LonLatExtent): number {
  return (east >= west ? east - west : east - west + 360) * (north - south);
}

/**
 * The published shift of a datum for a place in degrees: of those made for it the most accurate one,
 * of equal ones that of the smaller area, as PROJ chooses. `none` where the datum is known, but no
 * shift is made for the place; undefined where the datum is not known.
 */
export function areaShiftOf(
  names: readonly (string | undefined)[],
  [lon, lat]: LonLat,
): DatumShift | "none" | undefined {
  const shifts = names
    .map((name) => (name === undefined ? undefined : table().get(plainDatumName(name))))
    .find((found) => found !== undefined);
  if (shifts === undefined) return undefined;
  const fit = shifts.filter((shift) => holds(shift.area, lon, lat));
  fit.sort((a, b) => a.statedM - b.statedM || sizeOf(a.area) - sizeOf(b.area));
  return fit[0] ?? "none";
}
