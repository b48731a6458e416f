/** The laying guide tied to the pegs that it is walked by. */
import type { Guide, GuideStep } from "../../handover/guide/guide.ts";
import { walkOf } from "../../handover/walk.ts";
import type { Plan } from "../../model/plan.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import { flatPoint } from "./flat.ts";
import type { Walk, WalkStop } from "./page-model.ts";

/** Chainages within this of each other are one, metres. */
const SAME_M = 1e-6;

/** Each loop stop by stop; the last stop is the station again. */
export function walksOf(plan: Plan, guide: Guide, ground: PlanOnGround | undefined): Walk[] {
  return plan.loops.flatMap((loop, l) => {
    const section = guide.sections.findIndex((one) => one.part === "lay" && one.loop === loop.name);
    if (section < 0) return [];
    const { steps } = guide.sections[section]!;
    const spans = walkOf(loop, ground?.loops[l]);
    const last = spans.at(-1);
    if (!last) return [];
    const stops = [
      ...spans.map(({ from, to }) => ({ from, to })),
      { from: last.to, to: undefined },
    ];
    return [
      {
        loop: loop.name,
        section,
        stops: stops.map(({ from, to }): WalkStop => {
          const { peg, atM, chainageM } = from;
          return {
            peg: peg.number,
            at: flatPoint(atM),
            chainageM,
            steps: to ? stepsFrom(steps, chainageM, to.chainageM) : stepsAtEnd(steps),
          };
        }),
      },
    ];
  });
}

/** Where the closing step of a loop stands. */
const closeOf = (steps: readonly GuideStep[]) => {
  const at = steps.findIndex(({ kind }) => kind === "close");
  return at < 0 ? steps.length : at;
};

/**
 * The step in which the wire between two stops is laid; where it begins with the first of them, what
 * stands before it without a length of its own comes along.
 */
function stepsFrom(steps: readonly GuideStep[], fromM: number, toM: number): number[] {
  const middleM = (fromM + toM) / 2;
  const close = closeOf(steps);
  const at = steps.findIndex(
    ({ chainageM, laidM }, i) =>
      i < close &&
      chainageM !== undefined &&
      laidM !== undefined &&
      chainageM - laidM <= middleM &&
      middleM <= chainageM,
  );
  if (at < 0) return fromM === 0 ? [0] : [];
  const found = [at];
  const { chainageM = 0, laidM = 0 } = steps[at]!;
  if (fromM > chainageM - laidM + SAME_M) return found;
  for (let i = at - 1; i >= 0 && steps[i]!.laidM === undefined; i--) found.unshift(i);
  return found;
}

/** Back at the station: closing, and the guide wires that are laid after it. */
function stepsAtEnd(steps: readonly GuideStep[]): number[] {
  const close = closeOf(steps);
  return steps.flatMap((_, i) => (i >= close ? [i] : []));
}
