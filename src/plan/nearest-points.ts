/** Nearest of many points to few places, by square cells. */
import type { PointM } from "../model/geometry.ts";

/**
 * @param reachM farther points do not count, metres
 * @returns for each place the number of the point nearest to it, or -1
 */
export function nearestPoints(
  points: readonly PointM[],
  places: readonly PointM[],
  reachM: number,
): number[] {
  const key = (column: number, row: number): string => `${column},${row}`;
  const cells = new Map<string, number[]>();
  places.forEach(([e, n], i) => {
    const column = Math.floor(e / reachM);
    const row = Math.floor(n / reachM);
    for (let c = column - 1; c <= column + 1; c++) {
      for (let r = row - 1; r <= row + 1; r++) {
        const cell = cells.get(key(c, r));
        if (cell) cell.push(i);
        else cells.set(key(c, r), [i]);
      }
    }
  });
  const found = places.map(() => -1);
  const least = places.map(() => reachM);
  points.forEach(([e, n], p) => {
    for (const i of cells.get(key(Math.floor(e / reachM), Math.floor(n / reachM))) ?? []) {
      const distanceM = Math.hypot(e - places[i]![0], n - places[i]![1]);
      if (distanceM >= least[i]!) continue;
      least[i] = distanceM;
      found[i] = p;
    }
  });
  return found;
}
