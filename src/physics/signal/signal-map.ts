/** The signal of all loops together as a raster, for those who want to see it. */
import { boxOf } from "../../geometry/rings.ts";
import type { Plan } from "../../model/plan.ts";
import { currentPathOf } from "./current-path.ts";
import { upwardFieldUtPerA } from "./field.ts";

/** Upward field at the middles of cells, microtesla per ampere, row by row from the north. */
export interface SignalMap {
  readonly westM: number;
  readonly southM: number;
  readonly cellM: number;
  readonly columns: number;
  readonly rows: number;
  readonly values: Float64Array;
}

/** Finest cells, metres. */
const CELL_M = 0.25;
/** Ground shown beyond the wires, metres. */
const BEYOND_M = 2;
/** Pieces of wire times cells, at most: about a second's work. */
const WORK_MAX = 60e6;

/**
 * The strongest loop's field at each place, height 0: the sign is that of its side. Cells are as fine
 * as the length of the wires allows.
 */
export function signalMap(plan: Plan): SignalMap | undefined {
  if (plan.loops.length === 0) return undefined;
  const paths = plan.loops.map(({ wire }) => currentPathOf(wire));
  const box = boxOf(...plan.loops.map(({ wire }) => wire));
  const [westM, southM] = [box.minE - BEYOND_M, box.minN - BEYOND_M];
  const [widthM, heightM] = [box.maxE + BEYOND_M - westM, box.maxN + BEYOND_M - southM];
  const pieces = paths.reduce((sum, path) => sum + path.length / 4, 0);
  const leastM = Math.sqrt((widthM * heightM * pieces) / WORK_MAX);
  const cellM = Math.ceil(Math.max(CELL_M, leastM) * 20 - 1e-9) / 20;
  const columns = Math.ceil(widthM / cellM);
  const rows = Math.ceil(heightM / cellM);
  const values = new Float64Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    const northM = southM + (rows - row - 0.5) * cellM;
    for (let column = 0; column < columns; column++) {
      const eastM = westM + (column + 0.5) * cellM;
      let strongest = 0;
      for (const path of paths) {
        const field = upwardFieldUtPerA(path, eastM, northM);
        if (Math.abs(field) > Math.abs(strongest)) strongest = field;
      }
      values[row * columns + column] = strongest;
    }
  }
  return { westM, southM, cellM, columns, rows, values };
}
