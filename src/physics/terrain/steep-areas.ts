import { areasAbove } from "../../geometry/level-areas.ts";
import { intersection } from "../../geometry/overlay.ts";
import { areaContains, areaM2, boxOf, interiorPoint } from "../../geometry/rings.ts";
import type { AreaM } from "../../model/geometry.ts";
import type { Plan } from "../../model/plan.ts";
import type { HeightLattice, SteepArea } from "../../model/terrain.ts";
import { valueAtPlace } from "./height-at.ts";
import type { LatticeSlopes } from "./slopes.ts";

/** Smaller patches are not told: a molehill, a tussock, noise. A guess. */
const LEAST_M2 = 1;

/** Mown lawn that is steeper than the machine climbs, patch by patch. */
export function steepAreas(
  plan: Plan,
  lattice: HeightLattice,
  { percent }: LatticeSlopes,
): SteepArea[] {
  const steep = areasAbove({ ...lattice, values: percent }, plan.profile.terrain.slopeMaxPercent);
  return plan.mown.flatMap(({ loop, areas }) =>
    intersection(steep, areas)
      .map((area) => ({ area, areaM2: areaM2(area) }))
      .filter((patch) => patch.areaM2 >= LEAST_M2)
      .map((patch) => ({ loop, ...patch, ...steepest(patch.area, lattice, percent) })),
  );
}

/** Steepest node in an area; a place inside where no node is. */
function steepest(area: AreaM, lattice: HeightLattice, percent: Float64Array) {
  const { westM, northM, stepM, columns } = lattice;
  const box = boxOf(area.shell);
  let atM = interiorPoint(area);
  let slopePercent = valueAtPlace(lattice, percent, ...atM);
  for (let row = Math.ceil((northM - box.maxN) / stepM); northM - row * stepM >= box.minN; row++) {
    const n = northM - row * stepM;
    for (let c = Math.ceil((box.minE - westM) / stepM); westM + c * stepM <= box.maxE; c++) {
      const here = percent[row * columns + c]!;
      const e = westM + c * stepM;
      if (!(here > slopePercent) || !areaContains(area, e, n)) continue;
      [slopePercent, atM] = [here, [e, n]];
    }
  }
  return { slopePercent, atM };
}
