import type { HeightLattice } from "../../model/terrain.ts";

/**
 * A value given at the nodes of a lattice, at any place: bilinear between the four nodes round it.
 *
 * @param values one a node, in the lattice's order; NaN where unknown
 * @returns NaN outside the lattice, and where a node that counts is unknown
 */
export function valueAtPlace(
  lattice: HeightLattice,
  values: Float64Array,
  eastM: number,
  northM: number,
): number {
  const { columns, rows, stepM } = lattice;
  const c = (eastM - lattice.westM) / stepM;
  const r = (lattice.northM - northM) / stepM;
  if (!(c >= 0 && r >= 0 && c <= columns - 1 && r <= rows - 1)) return Number.NaN;
  const column = Math.min(Math.floor(c), columns - 2);
  const row = Math.min(Math.floor(r), rows - 2);
  const [u, v] = [c - column, r - row];
  const first = row * columns + column;
  const take = (index: number, weight: number) => (weight === 0 ? 0 : values[index]! * weight);
  return (
    take(first, (1 - u) * (1 - v)) +
    take(first + 1, u * (1 - v)) +
    take(first + columns, (1 - u) * v) +
    take(first + columns + 1, u * v)
  );
}

/** Height of the ground at a place, metres; NaN where it is not known. */
export function heightAt(lattice: HeightLattice, eastM: number, northM: number): number {
  return valueAtPlace(lattice, lattice.heightsM, eastM, northM);
}
