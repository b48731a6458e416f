import type { LineM } from "../model/geometry.ts";
import { MERGE_M } from "./clean-ring.ts";

/** The line without points that repeat the one before (to 1 mm). May be left with one point. */
export function cleanLine(flat: Float64Array): LineM {
  const kept: number[] = [];
  for (let i = 0; i < flat.length; i += 2) {
    const [e, n] = [flat[i]!, flat[i + 1]!];
    const last = kept.length;
    if (last > 0 && Math.hypot(e - kept[last - 2]!, n - kept[last - 1]!) <= MERGE_M) continue;
    kept.push(e, n);
  }
  return Float64Array.from(kept);
}
