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
    const laid = new LaidSteps(guide.sections[section]!.steps);
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
            steps: to ? laid.from(chainageM, to.chainageM) : laid.atEnd(),
          };
        }),
      },
    ];
  });
}

/** The steps of one loop by the wire that is laid in them. */
class LaidSteps {
  readonly #steps: readonly GuideStep[];
  /** Where the closing step stands. */
  readonly #close: number;
  /** Steps before it in which wire is laid; each begins where the last one ended. */
  readonly #laid: readonly { readonly at: number; readonly fromM: number; readonly toM: number }[];

  constructor(steps: readonly GuideStep[]) {
    this.#steps = steps;
    const at = steps.findIndex(({ kind }) => kind === "close");
    this.#close = at < 0 ? steps.length : at;
    this.#laid = steps.flatMap(({ chainageM, laidM }, i) =>
      i < this.#close && chainageM !== undefined && laidM !== undefined
        ? [{ at: i, fromM: chainageM - laidM, toM: chainageM }]
        : [],
    );
  }

  /**
   * The step in which the wire between two stops is laid; where it begins with the first of them,
   * what stands before it without a length of its own comes along.
   */
  from(fromM: number, toM: number): number[] {
    const middleM = (fromM + toM) / 2;
    let [low, high] = [0, this.#laid.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#laid[middle]!.toM < middleM) low = middle + 1;
      else high = middle;
    }
    const step = this.#laid[low];
    if (!step || step.fromM > middleM) return fromM === 0 ? [0] : [];
    const found = [step.at];
    if (fromM > step.fromM + SAME_M) return found;
    for (let i = step.at - 1; i >= 0 && this.#steps[i]!.laidM === undefined; i--) found.unshift(i);
    return found;
  }

  /** Back at the station: closing, and the guide wires that are laid after it. */
  atEnd(): number[] {
    return this.#steps.flatMap((_, i) => (i >= this.#close ? [i] : []));
  }
}
