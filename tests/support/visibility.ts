/**
 * Shortest way between two places among polygons, the long way: every pair of corners that see each
 * other, and Dijkstra over them (Lozano-Pérez and Wesley, CACM 22 (1979), from memory). Whether two
 * see each other is asked of jsts: a line's inside must not meet a polygon's inside (DE-9IM). Shares
 * no code with the program.
 */
import RelateOp from "jsts/org/locationtech/jts/operation/relate/RelateOp.js";
import type { Xy } from "./plane.ts";
import { lineShape, polygonShape } from "./topology.ts";

/** @param polygons open rings; @returns the length, Infinity where no way leads there */
export function shortestAmong(from: Xy, to: Xy, polygons: readonly (readonly Xy[])[]): number {
  const shapes = polygons.map((ring) => polygonShape([[...ring, ring[0]!]]));
  const nodes = [from, to, ...polygons.flat()];
  const sees = (a: Xy, b: Xy): boolean =>
    shapes.every((shape) => !RelateOp.relate(lineShape([a, b]), shape).matches("T********"));
  const best = nodes.map((_, i) => (i === 0 ? 0 : Infinity));
  const open = new Set(nodes.keys());
  while (open.size > 0) {
    let at = -1;
    for (const i of open) if (at < 0 || best[i]! < best[at]!) at = i;
    if (at === 1 || best[at] === Infinity) break;
    open.delete(at);
    for (const i of open) {
      const [a, b] = [nodes[at]!, nodes[i]!];
      const lengthM = best[at]! + Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (lengthM < best[i]! && sees(a, b)) best[i] = lengthM;
    }
  }
  return best[1]!;
}
