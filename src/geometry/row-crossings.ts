import type { RingM } from "../model/geometry.ts";

/** Rows of a grid by their middles: row r lies at `southM + (r + 0.5) heightM`. */
export interface Rows {
  readonly southM: number;
  readonly heightM: number;
  readonly count: number;
}

/**
 * For each row the eastings at which rings cross its middle, ascending. By the even-odd rule the
 * places inside lie between the first and the second, the third and the fourth, and so on.
 */
export function rowCrossings(
  rings: readonly RingM[],
  { southM, heightM, count }: Rows,
): number[][] {
  const out: number[][] = Array.from({ length: count }, () => []);
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [ae, an, be, bn] = [ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!];
      const first = Math.ceil((Math.min(an, bn) - southM) / heightM - 0.5);
      const last = Math.ceil((Math.max(an, bn) - southM) / heightM - 0.5) - 1;
      for (let row = Math.max(0, first); row <= Math.min(last, count - 1); row++) {
        const northM = southM + (row + 0.5) * heightM;
        out[row]!.push(ae + ((northM - an) / (bn - an)) * (be - ae));
      }
    }
  }
  for (const row of out) row.sort((a, b) => a - b);
  return out;
}
