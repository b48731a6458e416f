import type { AreaM, RingM } from "../model/geometry.ts";
import { areasFromRings } from "./overlay.ts";

/** Values at the nodes of a square lattice, row by row from the north. */
export interface LatticeValues {
  readonly westM: number;
  readonly northM: number;
  readonly stepM: number;
  readonly columns: number;
  readonly rows: number;
  readonly values: Float64Array;
}

/**
 * Where values on a lattice are above a level, linear over two triangles a cell. Triangles with an
 * unknown (NaN) corner are left out. Needs `loadEngine()` awaited. Linear in the cells, n log n in
 * those that the level cuts.
 */
export function areasAbove(lattice: LatticeValues, level: number): AreaM[] {
  const { columns, rows, values } = lattice;
  const rings: RingM[] = [];
  for (let row = 0; row + 1 < rows; row++) {
    let runFrom = -1;
    for (let column = 0; column < columns; column++) {
      const corners = cornersOf(columns, column, row);
      const isWhole = column + 1 < columns && corners.every((corner) => values[corner]! > level);
      if (isWhole) {
        if (runFrom < 0) runFrom = column;
        continue;
      }
      if (runFrom >= 0) rings.push(rectangle(lattice, runFrom, column, row));
      runFrom = -1;
      if (column + 1 === columns) break;
      const [a, b, c, d] = corners;
      for (const triangle of [
        [a, d, b],
        [b, d, c],
      ]) {
        const ring = clipped(lattice, triangle, level);
        if (ring.length >= 6) rings.push(ring);
      }
    }
  }
  return areasFromRings(rings, "non-zero");
}

/** Nodes of a cell: north-west, north-east, south-east, south-west. */
function cornersOf(columns: number, column: number, row: number): [number, number, number, number] {
  const first = row * columns + column;
  return [first, first + 1, first + columns + 1, first + columns];
}

function rectangle(
  { westM, northM, stepM }: LatticeValues,
  from: number,
  to: number,
  row: number,
): RingM {
  const [w, e] = [westM + from * stepM, westM + to * stepM];
  const [n, s] = [northM - row * stepM, northM - (row + 1) * stepM];
  return Float64Array.of(w, s, e, s, e, n, w, n);
}

/** The part of a triangle (anticlockwise) with values above the level. */
function clipped(lattice: LatticeValues, triangle: readonly number[], level: number): RingM {
  const { values, columns, westM, northM, stepM } = lattice;
  if (triangle.some((node) => Number.isNaN(values[node]!))) return new Float64Array(0);
  const ring: number[] = [];
  const at = (node: number): [number, number] => [
    westM + (node % columns) * stepM,
    northM - Math.floor(node / columns) * stepM,
  ];
  triangle.forEach((here, i) => {
    const next = triangle[(i + 1) % 3]!;
    if (values[here]! > level) ring.push(...at(here));
    if (values[here]! > level === values[next]! > level) return;
    // From the same end, whichever triangle asks: neighbours share the point to the last digit.
    const [from, to] = here < next ? [here, next] : [next, here];
    const share = (level - values[from]!) / (values[to]! - values[from]!);
    const [[ae, an], [be, bn]] = [at(from), at(to)];
    ring.push(ae + share * (be - ae), an + share * (bn - an));
  });
  return Float64Array.from(ring);
}
