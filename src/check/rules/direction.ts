import { measured, notMeasured } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** What the plan says of its direction of laying is what the wire does. */
export const direction: Rule = {
  id: "direction",
  code: "DIRECTION_MISSTATED",
  title: "loops whose stated direction is not anticlockwise",
  measure({ plan }) {
    const stated = plan.loops.filter((loop) => loop.direction !== undefined);
    if (stated.length === 0) return notMeasured("count", "at most", "no direction is stated");
    const breaches = stated
      .filter((loop) => loop.direction !== "anticlockwise")
      .map(({ name, wire, direction: said }) => ({
        message: `Loop ${name} is stated to run ${said}; wires are laid anticlockwise.`,
        remedy: "Set direction to anticlockwise, and check that the line runs so.",
        atM: [wire[0]!, wire[1]!] as const,
      }));
    return measured("count", "at most", breaches.length, 0, breaches);
  },
};
