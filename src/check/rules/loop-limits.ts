import { signedAreaM2 } from "../kernel/plane.ts";
import { measured } from "../measure.ts";
import { mownOf } from "../mown.ts";
import type { Rule } from "../rule.ts";

/** No loop has more wire than the machine's signal carries. */
export const loopLength: Rule = {
  id: "loop-length",
  code: "LOOP_OVER_LENGTH",
  title: "longest loop",
  measure({ plan, wires, profile }) {
    const allowed = profile.loop.lengthMaxM;
    const breaches = plan.loops.flatMap(({ name, wire }, i) =>
      wires.lengthsM[i]! <= allowed
        ? []
        : [
            {
              message: `Loop ${name} has ${wires.lengthsM[i]!.toFixed(1)} m of wire; at most ${allowed} m are allowed.`,
              remedy: "Divide the lawn between several loops, or take a larger machine.",
              atM: [wire[0]!, wire[1]!] as const,
            },
          ],
    );
    return measured("m", "at most", Math.max(0, ...wires.lengthsM), allowed, breaches);
  },
};

/** No loop has more lawn than the machine mows. */
export const loopArea: Rule = {
  id: "loop-area",
  code: "LOOP_OVER_AREA",
  title: "largest mown area of a loop",
  measure(court) {
    const { plan, profile } = court;
    const allowed = profile.loop.areaMaxM2;
    let most = 0;
    const breaches = plan.loops.flatMap(({ name, wire }, i) => {
      // What the wire goes round is an upper bound that needs no more: islands are shut out of it.
      const bound = Math.abs(signedAreaM2(wire));
      const areaM2 = bound <= allowed ? bound : mownOf(court)[i]!;
      most = Math.max(most, areaM2);
      if (areaM2 <= allowed) return [];
      return [
        {
          message: `Loop ${name} holds ${areaM2.toFixed(1)} m² of lawn; at most ${allowed} m² are allowed.`,
          remedy: "Divide the lawn between several loops, or take a larger machine.",
          atM: [wire[0]!, wire[1]!] as const,
        },
      ];
    });
    return measured("m²", "at most", most, allowed, breaches);
  },
};
