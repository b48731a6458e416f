import { boxOf } from "../../geometry/rings.ts";
import { rowCrossings } from "../../geometry/row-crossings.ts";
import type { AreaM, PointM } from "../../model/geometry.ts";
import type { SunMap } from "../../model/sun.ts";

/** Finest cells, metres. */
const CELL_M = 0.5;
/** Cells on the lawn, at most about; larger lawns get larger cells. */
const CELLS_MAX = 10_000;
/** Cells in the whole map, lawn or not. */
const FRAME_MAX = 1_000_000;

/**
 * A map of the lawns, asked at the middle of each cell.
 *
 * @param lawns areas that do not overlap
 */
export function sunMap(
  lawns: readonly AreaM[],
  lawnM2: number,
  hoursAt: (at: PointM) => number,
): SunMap {
  const rings = lawns.flatMap((area) => [area.shell, ...area.holes]);
  const box = boxOf(...rings);
  const frameM2 = (box.maxE - box.minE) * (box.maxN - box.minN);
  const leastM = Math.max(CELL_M, Math.sqrt(lawnM2 / CELLS_MAX), Math.sqrt(frameM2 / FRAME_MAX));
  const cellM = Math.ceil(leastM * 10 - 1e-9) / 10;
  const [westM, southM] = [
    Math.floor(box.minE / cellM) * cellM,
    Math.floor(box.minN / cellM) * cellM,
  ];
  const columns = Math.max(1, Math.ceil((box.maxE - westM) / cellM));
  const rows = Math.max(1, Math.ceil((box.maxN - southM) / cellM));
  const hours = new Float64Array(columns * rows).fill(Number.NaN);
  rowCrossings(rings, { southM, heightM: cellM, count: rows }).forEach((here, fromSouth) => {
    const row = rows - 1 - fromSouth;
    const northM = southM + (fromSouth + 0.5) * cellM;
    let passed = 0;
    for (let column = 0; column < columns; column++) {
      const eastM = westM + (column + 0.5) * cellM;
      while (passed < here.length && here[passed]! <= eastM) passed++;
      if (passed % 2 === 1) hours[row * columns + column] = hoursAt([eastM, northM]);
    }
  });
  return { westM, southM, cellM, columns, rows, hours };
}
