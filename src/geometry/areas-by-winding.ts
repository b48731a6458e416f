import type { AreaM, RingM } from "../model/geometry.ts";
import { pointInside } from "./containment.ts";
import { type BoxM, boxOf, ringContains, signedAreaM2 } from "./rings.ts";
import { RowedRings } from "./rowed-rings.ts";

/** A shell that is asked about more holes than this is sorted into rows first. */
const FEW_HOLES = 3;
/** Rings that touch may reach this far past each other by the engine's grid, metres. */
const SLACK_M = 1e-4;

interface Shell {
  readonly area: AreaM & { readonly holes: RingM[] };
  readonly box: BoxM;
  readonly areaM2: number;
}

/**
 * Areas from rings that do not cross, in the order of their shells: anticlockwise rings are shells,
 * each clockwise one is a hole of the smallest shell round it, and goes where there is none. Rings
 * without area are left out. Linear in the vertices but for shells whose boxes lie in each other.
 */
export function areasByWinding(rings: readonly RingM[]): AreaM[] {
  const shells: Shell[] = [];
  const holes: RingM[] = [];
  for (const ring of rings) {
    const signed = signedAreaM2(ring);
    if (signed > 0)
      shells.push({ area: { shell: ring, holes: [] }, box: boxOf(ring), areaM2: signed });
    else if (signed < 0) holes.push(ring);
  }
  if (holes.length > 0) {
    const holders = [...shells]
      .sort((a, b) => a.areaM2 - b.areaM2)
      .map(({ area, box }) => ({ area, box, asked: 0, rows: undefined as RowedRings | undefined }));
    for (const hole of holes) {
      const box = boxOf(hole);
      const [e, n] = pointInside(hole);
      const round = holders.find((one) => {
        if (!holds(one.box, box)) return false;
        one.asked++;
        if (one.asked > FEW_HOLES) one.rows ??= new RowedRings([one.area.shell]);
        return one.rows ? one.rows.contains(e, n) : ringContains(one.area.shell, e, n);
      });
      round?.area.holes.push(hole);
    }
  }
  return shells.map(({ area }) => area);
}

function holds(outer: BoxM, inner: BoxM): boolean {
  return (
    inner.minE >= outer.minE - SLACK_M &&
    inner.maxE <= outer.maxE + SLACK_M &&
    inner.minN >= outer.minN - SLACK_M &&
    inner.maxN <= outer.maxN + SLACK_M
  );
}
