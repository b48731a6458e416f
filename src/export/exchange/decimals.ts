import type { TargetCrs } from "./target-crs.ts";

/** A number with at most so many decimals, never with an exponent, without zeros at its end. */
export function decimalText(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const short = decimals > 0 ? text.replace(/\.?0+$/, "") : text;
  return short === "-0" ? "0" : short;
}

/** Decimals of coordinates in text: 0.1 mm at least. */
export function coordinateDecimals({ isDegrees }: TargetCrs): number {
  return isDegrees ? 9 : 5;
}
