/** Tables of the hand-over as CSV (RFC 4180): headings carry their unit, lengths are in the unit asked for. */
import { csvRow } from "../../escape/csv.ts";
import { LENGTH_UNITS, type LengthUnit } from "../../model/hand-over-options.ts";
import { rounded } from "../numbers.ts";

export type Cell = string | number | null | undefined;

export function csvTable(headings: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const lines = rows.map((row) => csvRow(row.map((cell) => cell ?? null)));
  return csvRow(headings) + lines.join("");
}

/** Lengths of a table: their heading and their numbers. */
export interface LengthColumns {
  readonly unit: LengthUnit;
  /** `length` to `length_m` or `length_ft`. */
  readonly heading: (name: string) => string;
  /** A length to 0.1 mm or 0.0001 ft; undefined stays so. */
  readonly length: (lengthM: number | undefined) => number | undefined;
  /** An error: centimetres or inches to a tenth. */
  readonly errorHeading: string;
  readonly error: (errorM: number | undefined) => number | undefined;
}

export function lengthColumns(unit: LengthUnit): LengthColumns {
  const perM = 1 / LENGTH_UNITS[unit];
  const errorPerM = unit === "m" ? 100 : 12 * perM;
  const scaled = (value: number | undefined, factor: number, decimals: number) =>
    value === undefined ? undefined : rounded(value * factor, decimals);
  return {
    unit,
    heading: (name) => `${name}_${unit}`,
    length: (lengthM) => scaled(lengthM, perM, 4),
    errorHeading: unit === "m" ? "error_cm" : "error_in",
    // Rounded up: what is stated must hold.
    error: (errorM) =>
      errorM === undefined ? undefined : Math.ceil(errorM * errorPerM * 10 - 1e-9) / 10,
  };
}
