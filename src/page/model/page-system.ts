/** Nine places in the system that the inputs or the outputs are in. */

import type { EpsgRegistry } from "../../crs/registry.ts";
import { shownText } from "../../escape/hidden.ts";
import type { OutCrs } from "../../export/exchange/out-crs.ts";
import { targetCrs } from "../../export/exchange/target-crs.ts";
import type { PlanResult } from "../../export/plan-result.ts";
import type { PageSystem } from "./in-system.ts";

const STEPS = [-1, 0, 1] as const;

/**
 * @param crs a code or definition, as `--crs` and `--out-crs` take it
 * @returns undefined where the system is not known, has no place for the site, or shows degrees of WGS 84
 */
export function pageSystem(
  { plan, site }: PlanResult,
  crs: OutCrs,
  registry: EpsgRegistry,
): PageSystem | undefined {
  const { grid } = plan;
  const found = targetCrs(crs, registry, grid.origin, grid);
  if (!found.ok || found.value.epsg === 4326) return undefined;
  const { name, isDegrees, fromWgs84 } = found.value;
  const places = site.lawns.flatMap(({ area }) => [...area.shell].map(Math.abs));
  const reachM = 100 + places.reduce((most, one) => Math.max(most, one), 0);
  const nodes = STEPS.flatMap((n) =>
    STEPS.map((e) => fromWgs84(...grid.inverse([e * reachM, n * reachM]))),
  );
  if (!nodes.flat().every(Number.isFinite)) return undefined;
  return { name: shownText(name), isDegrees, centre: [0, 0], reachM, nodes };
}
