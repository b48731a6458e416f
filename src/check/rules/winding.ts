import { signedAreaM2 } from "../kernel/plane.ts";
import { measured } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** Every loop is laid anticlockwise as a whole. */
export const winding: Rule = {
  id: "winding",
  code: "WIRE_CLOCKWISE",
  title: "loops laid clockwise",
  measure({ plan }) {
    const breaches = plan.loops
      .filter(({ wire }) => !(signedAreaM2(wire) > 0))
      .map(({ name, wire }) => ({
        message: `Loop ${name} runs clockwise: the machine would take the inside for the outside.`,
        remedy: "Reverse the line, or swap the two ends of the wire at the station.",
        atM: [wire[0]!, wire[1]!] as const,
      }));
    return measured("count", "at most", breaches.length, 0, breaches);
  },
};
