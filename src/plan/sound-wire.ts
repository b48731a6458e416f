/** The last look at a wire before it is written: it has a place, and nowhere meets itself. */
import type { PointM, RingM } from "../model/geometry.ts";
import { whereRingsMeet } from "./rings-meet.ts";

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
