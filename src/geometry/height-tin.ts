/** Heights between surveyed points: a triangulated network (Delaunay), linear over each triangle. */
import Delaunator from "delaunator";
import type { LatticeFrame } from "./lattice.ts";

/** Triangles with a longer side bridge ground that nobody surveyed: they are left out. */
export const TIN_SIDE_MAX_M = 50;

/**
 * Heights at the nodes of a lattice from points with heights.
 *
 * @param spots east, north, height, … in metres; of points in one place the first counts
 * @returns heights node by node, NaN outside the network; n log n in the points, linear in the nodes
 */
export function heightsFromSpots(spots: Float64Array, lattice: LatticeFrame): Float64Array {
  const { columns, rows } = lattice;
  const heightsM = new Float64Array(columns * rows).fill(Number.NaN);
  const flat = new Float64Array((spots.length / 3) * 2);
  for (let i = 0, j = 0; i < spots.length; i += 3) {
    flat[j++] = spots[i]!;
    flat[j++] = spots[i + 1]!;
  }
  const { triangles } = new Delaunator(flat);
  for (let t = 0; t < triangles.length; t += 3) {
    fill(heightsM, lattice, spots, 3 * triangles[t]!, 3 * triangles[t + 1]!, 3 * triangles[t + 2]!);
  }
  return heightsM;
}

/** Sets the nodes in one triangle; a, b, c are places in the list of spots. */
function fill(
  heightsM: Float64Array,
  { westM, northM, stepM, columns, rows }: LatticeFrame,
  spots: Float64Array,
  a: number,
  b: number,
  c: number,
): void {
  const [ae, an, az] = [spots[a]!, spots[a + 1]!, spots[a + 2]!];
  const [ue, un, uz] = [spots[b]! - ae, spots[b + 1]! - an, spots[b + 2]! - az];
  const [ve, vn, vz] = [spots[c]! - ae, spots[c + 1]! - an, spots[c + 2]! - az];
  const sideM = Math.max(Math.hypot(ue, un), Math.hypot(ve, vn), Math.hypot(ve - ue, vn - un));
  const cross = ue * vn - un * ve;
  if (sideM > TIN_SIDE_MAX_M || cross === 0) return;
  const rowOf = (north: number) => (northM - north) / stepM;
  const columnOf = (east: number) => (east - westM) / stepM;
  const slack = 1e-9;
  const top = Math.max(0, Math.ceil(rowOf(an + Math.max(0, un, vn)) - slack));
  const bottom = Math.min(rows - 1, Math.floor(rowOf(an + Math.min(0, un, vn)) + slack));
  const left = Math.max(0, Math.ceil(columnOf(ae + Math.min(0, ue, ve)) - slack));
  const right = Math.min(columns - 1, Math.floor(columnOf(ae + Math.max(0, ue, ve)) + slack));
  for (let row = top; row <= bottom; row++) {
    const dn = northM - row * stepM - an;
    for (let column = left; column <= right; column++) {
      const de = westM + column * stepM - ae;
      const s = (de * vn - dn * ve) / cross;
      const t = (ue * dn - un * de) / cross;
      if (s < -slack || t < -slack || s + t > 1 + slack) continue;
      heightsM[row * columns + column] = az + s * uz + t * vz;
    }
  }
}
