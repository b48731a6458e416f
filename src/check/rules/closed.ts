import { TOUCH_M } from "../allowances.ts";
import { measured } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** The wire ends where it begins. */
export const closed: Rule = {
  id: "closed",
  code: "WIRE_NOT_CLOSED",
  title: "wire closed: gap between its ends",
  measure({ plan }) {
    const breaches = plan.loops.flatMap(({ name, openM, wire }) =>
      openM <= TOUCH_M
        ? []
        : [
            {
              message: `Loop ${name} is open: its two ends lie ${openM.toFixed(3)} m apart.`,
              remedy: "Draw the wire back to where it begins.",
              atM: [wire[wire.length - 2]!, wire[wire.length - 1]!] as const,
            },
          ],
    );
    const most = Math.max(0, ...plan.loops.map(({ openM }) => openM));
    return measured("m", "at most", most, TOUCH_M, breaches);
  },
};
