/** What passages lie between. */
import { union } from "../geometry/overlay.ts";
import type { BoundaryChain } from "../geometry/triangulate.ts";
import type { Profile } from "../model/profile.ts";
import type { Site, Thing } from "../model/site.ts";
import { type EdgeRun, labelEdges } from "./edge-kinds.ts";

/** The boundary of the ground the machine moves on, each chain with its set-in (0 along free firm things). */
export function passageChains(
  runs: readonly EdgeRun[],
  joined: readonly Thing[],
  free: readonly Thing[],
  site: Site,
  profile: Profile,
): BoundaryChain[] {
  const shut = union(joined.flatMap((t) => t.areas));
  const chains: BoundaryChain[] = [...runs, ...labelEdges(shut, site, profile)].map((run) => ({
    line: run.line,
    label: run.label.setinM,
  }));
  for (const area of union(free.flatMap((t) => t.areas))) {
    for (const ring of [area.shell, ...area.holes]) {
      chains.push({ line: Float64Array.from([...ring, ring[0]!, ring[1]!]), label: 0 });
    }
  }
  return chains;
}
