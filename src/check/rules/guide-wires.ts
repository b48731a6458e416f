import { PEG_REACH_M } from "../allowances.ts";
import { type Gap, gapBetween } from "../kernel/plane.ts";
import { type Breach, measured, notMeasured } from "../measure.ts";
import { Boundaries } from "../necks.ts";
import type { Rule } from "../rule.ts";

/** Stated clearances are rounded to 0.1 mm, positions too; metres. */
const SLACK_M = 0.001;

/** A guide wire begins at the station, ends on the wire, and keeps the clearance that it states. */
export const guideWires: Rule = {
  id: "guide-wires",
  code: "GUIDE_WIRE_WRONG",
  title: "guide wires: least clearance over the one stated",
  measure(court) {
    const { plan, wires } = court;
    if (plan.loops.every((loop) => loop.guideWires.length === 0)) {
      return notMeasured("m", "at least", "the plan has no guide wire");
    }
    const bounds = new Boundaries(court);
    const { ends } = bounds.tree;
    const gap: Gap = { distanceM: 0, t: 0, u: 0 };
    const breaches: Breach[] = [];
    let worst = Infinity;
    for (const loop of plan.loops) {
      for (const { line, clearanceM } of loop.guideWires) {
        const n = line.length;
        for (const [i, what] of [
          [0, "begins"],
          [n - 2, "ends"],
        ] as const) {
          const offM = wires.tree.nearest(line[i]!, line[i + 1]!, 100)?.distanceM ?? 100;
          if (offM <= PEG_REACH_M) continue;
          breaches.push({
            message: `The guide wire of loop ${loop.name} ${what} ${offM.toFixed(3)} m from the wire.`,
            remedy: "Lead it to the station and to the boundary wire.",
            atM: [line[i]!, line[i + 1]!],
          });
        }
        // Its first and last stretch lead away from the wire and to it.
        let clearM = Infinity;
        let at: readonly [number, number] = [line[0]!, line[1]!];
        for (let i = 0; i + 3 < n; i += 2) {
          const isEnd = i === 0 || i + 4 >= n;
          const [ae, an, be, bn] = [line[i]!, line[i + 1]!, line[i + 2]!, line[i + 3]!];
          const reachM = (clearanceM ?? 0) + 0.05;
          for (const s of bounds.tree.around(ae, an, be, bn, reachM)) {
            const k = 4 * s;
            gapBetween(ae, an, be, bn, ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!, gap);
            const touchesAtEnd =
              isEnd &&
              ((i === 0 && gap.t * Math.hypot(be - ae, bn - an) < 0.02) ||
                (i + 4 >= n && (1 - gap.t) * Math.hypot(be - ae, bn - an) < 0.02));
            if (isEnd ? gap.distanceM > 0 || touchesAtEnd : false) continue;
            if (gap.distanceM < clearM) {
              clearM = gap.distanceM;
              at = [ae + gap.t * (be - ae), an + gap.t * (bn - an)];
            }
          }
        }
        const over = Math.min(clearM, (clearanceM ?? 0) + 0.05) - (clearanceM ?? 0);
        worst = Math.min(worst, over);
        const crosses = clearM === 0;
        if (crosses || (clearanceM !== undefined && over < -SLACK_M)) {
          breaches.push({
            message: crosses
              ? `The guide wire of loop ${loop.name} crosses other wire or a firm thing.`
              : `The guide wire of loop ${loop.name} is stated to keep ${clearanceM!.toFixed(3)} m; it keeps ${clearM.toFixed(3)} m.`,
            remedy: "Lead it clear of all other wire and of firm things.",
            atM: at,
          });
        }
      }
    }
    return measured("m", "at least", worst, -SLACK_M, breaches);
  },
};
