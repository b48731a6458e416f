/** Where ways over costly ground may bend: corners of barred areas, places along dearer borders. */
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import { BARRED_FACTOR, type CostArea, type CostGround } from "./cost-ground.ts";
import { areaContains, ringLengthM, vertexAt } from "./rings.ts";

/** Places along the borders of dearer ground are this far apart, or further where there are many. */
const STEP_M = 0.5;
/** Places along borders, at most. */
const MOST = 900;

/**
 * @param inside ground that ways may lie on
 * @param breached numbers of barred areas that some way must pass: places along their borders are
 *   wanted too, for the least breach
 */
export function waypointsOf(
  ground: CostGround,
  inside: AreaM,
  breached: ReadonlySet<number> = new Set(),
): PointM[] {
  const isSampled = ({ factor }: CostArea, i: number): boolean =>
    factor < BARRED_FACTOR || breached.has(i);
  const sampled = ground.areas.filter(isSampled);
  const borderM = sampled.reduce(
    (sum, { area }) => sum + ringsOf(area).reduce((total, ring) => total + ringLengthM(ring), 0),
    0,
  );
  const stepM = Math.max(STEP_M, borderM / MOST);
  const found = ground.areas.flatMap((one, i) =>
    ringsOf(one.area).flatMap((ring) =>
      isSampled(one, i) ? sampledRing(ring, stepM) : corners(ring),
    ),
  );
  const seen = new Set<string>();
  return found.filter(([e, n]) => {
    const key = `${e},${n}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return areaContains(inside, e, n) && ground.factorAt(e, n) < BARRED_FACTOR;
  });
}

function ringsOf(area: AreaM): RingM[] {
  return [area.shell, ...area.holes];
}

/** Corners round which a taut way may bend: those that stick out of the area. */
function corners(ring: RingM): PointM[] {
  const n = ring.length >> 1;
  return Array.from({ length: n }, (_, i) => vertexAt(ring, i)).filter((at, i) => {
    const before = vertexAt(ring, (i + n - 1) % n);
    const after = vertexAt(ring, (i + 1) % n);
    const turn =
      (at[0] - before[0]) * (after[1] - at[1]) - (at[1] - before[1]) * (after[0] - at[0]);
    return turn > 0;
  });
}

function sampledRing(ring: RingM, stepM: number): PointM[] {
  const n = ring.length >> 1;
  const found: PointM[] = [];
  for (let i = 0; i < n; i++) {
    const a = vertexAt(ring, i);
    const b = vertexAt(ring, (i + 1) % n);
    const steps = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / stepM));
    for (let k = 0; k < steps; k++) {
      found.push([a[0] + ((b[0] - a[0]) * k) / steps, a[1] + ((b[1] - a[1]) * k) / steps]);
    }
  }
  return found;
}
