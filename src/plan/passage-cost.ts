/** What it comes to when a passage is left as it is. */
import type { PassageCost, Verdict } from "../model/plan.ts";

/** A loop at one end of a passage. */
export interface LoopAround {
  readonly name: string;
  readonly areaM2: number;
  readonly wireM: number;
  readonly pegs: number;
}

/**
 * @param ends the loops at its ends, as far as they are known: undefined where no loop is
 * @param sizes ground of the passage itself and on the smaller side of it, m²
 */
export function passageCost(
  verdict: Verdict,
  ends: readonly (LoopAround | undefined)[],
  sizes: { readonly passageM2: number; readonly beyondM2: number },
): PassageCost | undefined {
  if (verdict === "mow") return undefined;
  if (verdict === "drive") return { comesTo: "hand-trim", areaM2: sizes.passageM2 };
  const [first, second] = ends;
  if (first && second && first.name !== second.name) {
    const smaller = second.areaM2 < first.areaM2 ? second : first;
    const { name: loop, areaM2, wireM, pegs } = smaller;
    return { comesTo: "loop", areaM2, loop, wireM, pegs };
  }
  const beyond = ends.length === 2 && !(first && second) && sizes.beyondM2 > 0;
  return { comesTo: "cut-off", areaM2: beyond ? sizes.beyondM2 : sizes.passageM2 };
}
