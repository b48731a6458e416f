/** A plan in the site grid of another one, so that both lie on one map. */
import { siteGridAt } from "../../crs/site-grid.ts";
import type { LonLat, PointM } from "../../model/geometry.ts";
import { flatPoint } from "./flat.ts";
import type { SeenPlan } from "./page-data.ts";
import type { FlatM, Place } from "./page-model.ts";

/** Farther apart than this two plans are of different sites, metres. */
const APART_MAX_M = 20_000;

/**
 * @returns the plan with the coordinates of a grid with that origin; undefined where it lies so far
 *   away that nothing could be compared
 */
export function placedAt(plan: SeenPlan, origin: LonLat): SeenPlan | undefined {
  const [lon, lat] = plan.grid.origin;
  if (lon === origin[0] && lat === origin[1]) return plan;
  const [from, to] = [siteGridAt(plan.grid.origin), siteGridAt(origin)];
  const move = (at: PointM): PointM => flatPoint(to.forward(from.inverse(at)));
  const [east, north] = move([0, 0]);
  if (!(Math.hypot(east, north) <= APART_MAX_M)) return undefined;
  const line = (flat: FlatM): FlatM => {
    const moved: number[] = [];
    for (let i = 0; i + 1 < flat.length; i += 2) moved.push(...move([flat[i]!, flat[i + 1]!]));
    return moved;
  };
  const place = (one: Place): Place => {
    if (one.form === "point") return { form: "point", at: move(one.at) };
    if (one.form === "line") return { form: "line", line: line(one.line) };
    return { form: "area", areas: one.areas.map((rings) => rings.map(line)) };
  };
  const [west, south, right, top] = plan.extent;
  const corners = [
    move([west, south]),
    move([right, top]),
    move([west, top]),
    move([right, south]),
  ];
  const [es, ns] = [corners.map(([e]) => e), corners.map(([, n]) => n)];
  return {
    ...plan,
    grid: { origin, proj: to.projString },
    extent: [Math.min(...es), Math.min(...ns), Math.max(...es), Math.max(...ns)],
    shapes: plan.shapes.map((one) => ({ ...one, place: place(one.place) })),
    pegs: plan.pegs.map((one) => ({ ...one, at: move(one.at) })),
    passages: plan.passages.map((one) => ({ ...one, at: move(one.at) })),
    walks: plan.walks.map((walk) => ({
      ...walk,
      stops: walk.stops.map((stop) => ({ ...stop, at: move(stop.at) })),
    })),
    findings: plan.findings.map((one) => (one.at ? { ...one, at: move(one.at) } : one)),
  };
}
