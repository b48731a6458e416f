/** Numbers as they are written in data files, so that the same plan gives the same bytes. */

/** Rounded to `decimals`, never −0. */
export function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}

/** Lengths to 0.1 mm. */
export const lengthM = (value: number): number => rounded(value, 4);

/** Areas to a square centimetre. */
export const areaM2 = (value: number): number => rounded(value, 4);
