import { DATUM_SHIFT_ROWS } from "./datum-shifts.data.ts";

/** A published shift from a national datum to WGS 84. */
export interface DatumShift {
  /** As PROJ's `+towgs84`: metres, arc seconds (position vector), parts per million. */
  readonly toWgs84: readonly number[];
  readonly accuracyM: number;
  /** Which transformation it is, e.g. `EPSG transformation 1314`. */
  readonly source: string;
  /** All names of the datum. */
  readonly names?: readonly string[];
}

/** Comparable form of a datum name: no case, no punctuation, no leading `D_` or `GCS_`. */
export function plainDatumName(name: string): string {
  return name
    .toLowerCase()
    .replace(/^(d|gcs)_/, "")
    .replace(/[^a-z0-9+]/g, "");
}

let byName: Map<string, DatumShift> | undefined;

function table(): Map<string, DatumShift> {
  if (byName !== undefined) return byName;
  byName = new Map();
  for (const [names, numbers, accuracyM, code] of DATUM_SHIFT_ROWS) {
    const toWgs84 = numbers.split(" ").map(Number);
    // WGS 84 itself is not known to the place better than a metre in such work.
    const shift = {
      toWgs84,
      accuracyM: Math.max(1, accuracyM),
      source: `EPSG transformation ${code}`,
      names: names.split("|"),
    };
    for (const name of shift.names) byName.set(plainDatumName(name), shift);
  }
  return byName;
}

/** The published shift of a datum, by the first of these names that is known. */
export function datumShiftOf(names: readonly (string | undefined)[]): DatumShift | undefined {
  for (const name of names) {
    const shift = name === undefined ? undefined : table().get(plainDatumName(name));
    if (shift !== undefined) return shift;
  }
  return undefined;
}
