/** Which places of two lists are the same, one to one, nearest first. */
import type { PointM } from "../model/geometry.ts";

/**
 * @param withinM places no farther apart than this are the same; at most 1
 * @returns for each place of `now` its number in `before`; -1 where it is none of them
 */
export function samePlaces(
  before: readonly PointM[],
  now: readonly PointM[],
  withinM: number,
): Int32Array {
  const cells = new Map<string, number[]>();
  const cell = (e: number, n: number): string => `${Math.floor(e)} ${Math.floor(n)}`;
  before.forEach(([e, n], i) => {
    const key = cell(e, n);
    const list = cells.get(key);
    if (list) list.push(i);
    else cells.set(key, [i]);
  });
  const pairs: { was: number; is: number; apartM: number }[] = [];
  now.forEach(([e, n], is) => {
    for (const de of [-1, 0, 1]) {
      for (const dn of [-1, 0, 1]) {
        for (const was of cells.get(cell(e + de, n + dn)) ?? []) {
          const apartM = Math.hypot(before[was]![0] - e, before[was]![1] - n);
          if (apartM <= withinM) pairs.push({ was, is, apartM });
        }
      }
    }
  });
  pairs.sort((a, b) => a.apartM - b.apartM);
  const found = new Int32Array(now.length).fill(-1);
  const taken = new Set<number>();
  for (const { was, is } of pairs) {
    if (found[is] !== -1 || taken.has(was)) continue;
    found[is] = was;
    taken.add(was);
  }
  return found;
}
