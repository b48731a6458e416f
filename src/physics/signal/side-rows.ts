import { boxOf } from "../../geometry/rings.ts";
import { rowCrossings } from "../../geometry/row-crossings.ts";
import type { RingM } from "../../model/geometry.ts";

/** Called for a point of the grid: where it is, whether inside, and how near the wire on its row. */
export type AtPoint = (eastM: number, northM: number, inside: boolean, alongRowM: number) => void;

/** The grid goes this far beyond the wire, metres. */
const BEYOND_M = 2;

/**
 * Visits a square grid of points over a wire and a little beyond, row by row from the south, west to
 * east, each with its side.
 *
 * The side comes from the crossings of each row with the wire, by the even-odd rule. That rule knows
 * nothing of directions, so it holds against the sign of a field, which does.
 *
 * @param points points inside and around, about
 */
export function eachSide(wire: RingM, points: number, visit: AtPoint): void {
  const box = boxOf(wire);
  const [westM, southM] = [box.minE - BEYOND_M, box.minN - BEYOND_M];
  const [widthM, heightM] = [box.maxE + BEYOND_M - westM, box.maxN + BEYOND_M - southM];
  const stepM = Math.sqrt((widthM * heightM) / points);
  const rows = Math.max(1, Math.round(heightM / stepM));
  const columns = Math.max(1, Math.round(widthM / stepM));
  const rowM = heightM / rows;
  rowCrossings([wire], { southM, heightM: rowM, count: rows }).forEach((here, row) => {
    const northM = southM + (row + 0.5) * rowM;
    let passed = 0;
    for (let column = 0; column < columns; column++) {
      const eastM = westM + ((column + 0.5) * widthM) / columns;
      while (passed < here.length && here[passed]! <= eastM) passed++;
      const before = passed > 0 ? eastM - here[passed - 1]! : Infinity;
      const after = passed < here.length ? here[passed]! - eastM : Infinity;
      visit(eastM, northM, passed % 2 === 1, Math.min(before, after));
    }
  });
}
