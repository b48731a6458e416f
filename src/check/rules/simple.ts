import { TOUCH_M } from "../allowances.ts";
import { type Gap, gapBetween, turn } from "../kernel/plane.ts";
import { measured, type Place, worstPlaces } from "../measure.ts";
import type { Rule } from "../rule.ts";
import type { Wires } from "../wires.ts";

/** Parts of a wire this near to each other along it are neighbours, metres. */
const NEIGHBOUR_M = 0.005;

/** No wire crosses or touches itself or another, nor turns back on itself. */
export const simple: Rule = {
  id: "simple",
  code: "WIRE_MEETS_ITSELF",
  title: "wire simple: places where it crosses, touches or turns back on itself",
  measure({ wires }) {
    const places = worstPlaces([...meetings(wires), ...spikes(wires)]);
    return measured(
      "count",
      "at most",
      places.length,
      0,
      places.map(({ atM, of }) => ({
        message: `Wire of loop ${of} meets itself or another: a crossing turns the signal over, and the machine takes outside for inside.`,
        remedy: "Draw the wire so that it crosses and touches nothing. Do not lay it as it is.",
        atM,
      })),
    );
  },
};

function meetings(wires: Wires): Place<string>[] {
  const places: Place<string>[] = [];
  const { ends } = wires.tree;
  const gap: Gap = { distanceM: 0, t: 0, u: 0 };
  for (let s = 0; s < wires.count; s++) {
    const k = 4 * s;
    const [ae, an, be, bn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
    for (const t of wires.tree.around(ae, an, be, bn, TOUCH_M)) {
      if (t <= s) continue;
      const same = wires.loopOf[s] === wires.loopOf[t];
      if (same && (wires.next(s) === t || wires.next(t) === s)) continue;
      const j = 4 * t;
      gapBetween(ae, an, be, bn, ends[j]!, ends[j + 1]!, ends[j + 2]!, ends[j + 3]!, gap);
      if (gap.distanceM >= TOUCH_M) continue;
      // Bends of a pair are millimetres long: their ends lie near each other along the wire too.
      if (gap.distanceM > 0 && same && wires.wayM(s, gap.t, t, gap.u) < NEIGHBOUR_M) continue;
      const atM = wires.pointAt(s, gap.t);
      places.push({ atM, amount: TOUCH_M - gap.distanceM, of: wires.nameOf(s) });
    }
  }
  return places;
}

/** Places where the wire turns back along itself. */
function spikes(wires: Wires): Place<string>[] {
  const places: Place<string>[] = [];
  const { ends } = wires.tree;
  for (let s = 0; s < wires.count; s++) {
    const t = wires.next(s);
    const k = 4 * s;
    const j = 4 * t;
    const [ae, an, be, bn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
    const [ce, cn] = [ends[j + 2]!, ends[j + 3]!];
    const one = wires.segmentM(s);
    const other = wires.segmentM(t);
    if (one < TOUCH_M || other < TOUCH_M) continue;
    const cosine = ((be - ae) * (ce - be) + (bn - an) * (cn - bn)) / (one * other);
    if (cosine > -0.9) continue;
    // How far apart the two ways are at the end of the shorter.
    const apart = Math.abs(turn(ae, an, be, bn, ce, cn)) / Math.max(one, other);
    if (apart < TOUCH_M) places.push({ atM: [be, bn], amount: TOUCH_M, of: wires.nameOf(s) });
  }
  return places;
}
