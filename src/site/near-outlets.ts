import { boxOf } from "../geometry/rings.ts";
import type { Lawn, PlacedPoint } from "../model/site.ts";
import type { Note } from "./notes.ts";

/**
 * Outlets from which a lead could be laid: no farther than `farM` from the box round some lawn.
 * Those beyond are a slip of a digit, and no lead is sought over so much country.
 */
export function nearOutlets(
  outlets: readonly PlacedPoint[],
  lawns: readonly Lawn[],
  farM: number,
  note: Note,
): readonly PlacedPoint[] {
  const boxes = lawns.map(({ area }) => boxOf(area.shell));
  const isNear = ({ atM: [e, n] }: PlacedPoint) =>
    boxes.some(
      ({ minE, minN, maxE, maxN }) =>
        Math.hypot(Math.max(minE - e, 0, e - maxE), Math.max(minN - n, 0, n - maxN)) <= farM,
    );
  const far = outlets.filter((one) => !isNear(one));
  for (const { source } of far) {
    note({
      code: "OUTLET_FAR_AWAY",
      severity: "warning",
      ...source,
      message: `An outlet lies farther than ${farM} m from every lawn; it was left out, and no lead is reckoned from it.`,
      remedy: "Correct its place or its reference system.",
    });
  }
  return far.length === 0 ? outlets : outlets.filter(isNear);
}
