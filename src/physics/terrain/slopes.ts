import type { HeightLattice } from "../../model/terrain.ts";
import { hornGradients } from "./horn.ts";

/** Rise of the ground at the nodes of a lattice, metres a metre; NaN where a neighbour is unknown. */
export interface LatticeSlopes {
  readonly east: Float64Array;
  readonly north: Float64Array;
  readonly percent: Float64Array;
}

/** Slopes at the nodes by Horn's weights. */
export function slopesOf(lattice: HeightLattice): LatticeSlopes {
  const { heightsM, columns, rows, stepM } = lattice;
  const { perColumn, perRow } = hornGradients(heightsM, columns, rows, "leave");
  const east = perColumn.map((rise) => rise / stepM);
  // Rows run south.
  const north = perRow.map((rise) => -rise / stepM);
  const percent = east.map((rise, i) => 100 * Math.hypot(rise, north[i]!));
  return { east, north, percent };
}
