/** The ground that paired runs of a site respect, brought into a form that ways can be priced on. */
import { BARRED_FACTOR, type CostArea, CostGround } from "../geometry/cost-ground.ts";
import { grow } from "../geometry/offset.ts";
import { difference, union } from "../geometry/overlay.ts";
import { boxOf, vertexAt } from "../geometry/rings.ts";
import { simplified } from "../geometry/simplified.ts";
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { RunGround } from "../model/run-ground.ts";
import type { Site } from "../model/site.ts";
import type { Ground } from "./ground.ts";
import type { StationPlace } from "./station.ts";

/** Runs and guides are planned this far from ground where none may lie, metres. */
export const NO_WIRE_CLEARANCE_M = 0.1;
/** Its outline is made simpler by at most this, which the clearance covers twice, metres. */
const SIMPLER_M = 0.05;

/** Drawn ground, and paving that the machine crosses. */
export function runGroundOfSite(site: Site, ground: Ground, profile: Profile): RunGround[] {
  const factor = profile.wire.runCostPaving;
  const paving =
    factor > 1
      ? union(ground.crossed).map(
          (area): RunGround => ({ area, factor, why: "paving", name: "paving", source: {} }),
        )
      : [];
  return [...(site.runGround ?? []), ...paving];
}

/** The open lawn in front of a station. */
export function stationFront(
  shell: RingM,
  station: StationPlace,
  { station: wanted, wire }: Profile,
): RunGround[] {
  const half = Math.min(station.straightM, wanted.straightM);
  if (wire.runCostStation <= 1 || half < 0.05 || wanted.clearAheadM < 0.05) return [];
  const a = vertexAt(shell, station.vertex);
  const b = vertexAt(shell, (station.vertex + 1) % (shell.length >> 1));
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const on: PointM = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const corner = (along: number, in_: number): PointM => [
    station.atM[0] + along * on[0] - in_ * on[1],
    station.atM[1] + along * on[1] + in_ * on[0],
  ];
  const depth = wanted.clearAheadM;
  const ring = [corner(-half, 0), corner(half, 0), corner(half, depth), corner(-half, depth)];
  const area = { shell: Float64Array.from(ring.flat()), holes: [] };
  const name = "the open lawn in front of the station";
  return [{ area, factor: wire.runCostStation, why: "station", name, source: {} }];
}

/** What of the ground lies in a box round a ring. */
export function groundNear(ground: readonly RunGround[], shell: RingM): RunGround[] {
  const box = boxOf(shell);
  return ground.filter(({ area }) => {
    const b = boxOf(area.shell);
    return b.minE <= box.maxE && b.maxE >= box.minE && b.minN <= box.maxN && b.maxN >= box.minN;
  });
}

/** Areas where no run may lie, as drawn. */
export function noWireAreas(ground: readonly RunGround[]): AreaM[] {
  return ground.flatMap((one) => (one.factor === "barred" ? [one.area] : []));
}

/** The same with the clearance that runs keep, in as few corners as that allows. */
export function keptClear(areas: readonly AreaM[]): AreaM[] {
  if (areas.length === 0) return [];
  const grown = grow(areas, NO_WIRE_CLEARANCE_M, "mitre");
  const simple = union(grown.map((area) => simplified(area, SIMPLER_M)));
  // Making an outline simpler must not bring it nearer than half the clearance.
  const bare = difference(grow(areas, NO_WIRE_CLEARANCE_M - SIMPLER_M, "mitre"), simple);
  return bare.length === 0 ? simple : grown;
}

/** Ground for pricing ways: barred areas with their clearance, dearer ones as drawn. */
export function costGround(
  ground: readonly RunGround[],
  more: readonly CostArea[] = [],
): CostGround {
  return new CostGround([...barredCosts(ground), ...dearerCosts(ground), ...more]);
}

export function barredCosts(ground: readonly RunGround[]): CostArea[] {
  return keptClear(noWireAreas(ground)).map((area) => ({ area, factor: BARRED_FACTOR }));
}

export function dearerCosts(ground: readonly RunGround[]): CostArea[] {
  return ground.flatMap(({ area, factor }) => (factor === "barred" ? [] : [{ area, factor }]));
}
