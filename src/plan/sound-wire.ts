/** The last look at a wire before it is written: it has a place, and nowhere meets itself. */
import type { PointM, RingM } from "../model/geometry.ts";
import { whereRingsMeet } from "./rings-meet.ts";
import type { Route } from "./route.ts";

/** Whether every vertex of a wire is at a place at all. */
export function hasPlace(wire: RingM): boolean {
  return wire.every(Number.isFinite);
}

/** Where a wire is unsound: the last place before it has none, or where it meets itself. */
export function unsoundAt(wire: RingM): PointM | undefined {
  const lost = wire.findIndex((x) => !Number.isFinite(x)) >> 1;
  if (lost < 0) return whereRingsMeet([wire]);
  return lost === 0 ? [0, 0] : [wire[2 * lost - 2]!, wire[2 * lost - 1]!];
}

/** A peg that the walk never came to: rings or runs meet there, or hang together nowhere. */
export function leftOutAt({ nodes, stops }: Pick<Route, "nodes" | "stops">): PointM | undefined {
  const reached = new Set(stops.map((stop) => stop.node));
  return nodes.find((_, node) => !reached.has(node))?.atM;
}
