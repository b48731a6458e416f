import { rowCrossings } from "../../geometry/row-crossings.ts";
import type { Plan } from "../../model/plan.ts";
import type { HeightLattice, LawnSlope } from "../../model/terrain.ts";
import type { LatticeSlopes } from "./slopes.ts";

/** Mean slope of the lawn that each loop mows, over the nodes of the lattice in it; NaN-free. */
export function lawnSlopes(
  plan: Plan,
  lattice: HeightLattice,
  { percent }: LatticeSlopes,
): LawnSlope[] {
  const { westM, northM, stepM, columns, rows } = lattice;
  // Rows of nodes as the middles of rows of cells, from the south.
  const southM = northM - (rows - 0.5) * stepM;
  return plan.loops.map(({ name }) => {
    const rings = plan.mown
      .filter(({ loop }) => loop === name)
      .flatMap(({ areas }) => areas.flatMap((area) => [area.shell, ...area.holes]));
    let [nodes, slope, stretch] = [0, 0, 0];
    rowCrossings(rings, { southM, heightM: stepM, count: rows }).forEach((here, fromSouth) => {
      const first = (rows - 1 - fromSouth) * columns;
      for (let i = 0; i + 1 < here.length; i += 2) {
        const last = Math.min(columns - 1, Math.floor((here[i + 1]! - westM) / stepM));
        for (let c = Math.max(0, Math.ceil((here[i]! - westM) / stepM)); c <= last; c++) {
          const value = percent[first + c]!;
          if (Number.isNaN(value)) continue;
          nodes++;
          slope += value;
          stretch += Math.hypot(1, value / 100);
        }
      }
    });
    return nodes === 0
      ? { loop: name, meanPercent: undefined, stretch: 1 }
      : { loop: name, meanPercent: slope / nodes, stretch: stretch / nodes };
  });
}
