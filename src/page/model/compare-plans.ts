/** What differs between the plan that is shown and another one of the same site. Pure. */
import type { StatedPlan } from "../../check/stated/stated-plan.ts";
import { type RevisedPeg, wireChanges } from "../../handover/revision/revision.ts";
import type { PointM } from "../../model/geometry.ts";
import { type Differences, differences } from "../edits/differences.ts";
import { flatLine } from "./flat.ts";
import type { SeenPlan } from "./page-data.ts";
import type { FlatM, PageModel, PageTotals } from "./page-model.ts";

const TOTALS = [
  "wireM",
  "wireToBuyM",
  "pegs",
  "pegsToBuy",
  "reels",
  "joints",
  "stations",
  "islands",
  "groundM2",
  "mownM2",
  "handTrimM2",
  "cutOffM2",
] as const satisfies readonly (keyof PageTotals)[];

/** In which of two plans something is. */
export type In = "both" | "here" | "there";

export interface ComparedPeg {
  readonly in: In;
  /** In the plan that is shown; in the other one for a peg that is only there. */
  readonly number: string;
  readonly at: PointM;
}

export interface ComparedWire {
  readonly in: In;
  readonly loop: string;
  readonly line: FlatM;
  readonly lengthM: number;
}

export interface PlanComparison {
  /** From the other plan to the one that is shown; NaN for totals that a plan does not tell. */
  readonly figures: Differences;
  /** Undefined where a plan does not say which pegs hold its wire. */
  readonly wire?: {
    readonly pegs: readonly ComparedPeg[];
    readonly wires: readonly ComparedWire[];
    readonly lengthM: Readonly<Record<In, number>>;
    readonly pegCount: Readonly<Record<In, number>>;
  };
}

const IN: Readonly<Record<RevisedPeg["does"], In>> = {
  stays: "both",
  new: "here",
  lifted: "there",
};

/**
 * @param here the plan that is shown
 * @param there the other one, in the same grid (`placedAt`)
 */
export function comparePlans(here: SeenPlan, there: SeenPlan): PlanComparison {
  const figures = differences(filled(there), filled(here));
  const changes = wireChanges(statedOf(there), statedOf(here));
  if (!changes) return { figures };
  const pegs = changes.pegs.map(
    ({ does, number, atM }): ComparedPeg => ({ in: IN[does], number, at: atM }),
  );
  const wires = changes.wires.map(
    ({ does, loop, line, lengthM }): ComparedWire => ({
      in: IN[does],
      loop,
      line: flatLine(line),
      lengthM,
    }),
  );
  const sum = <T extends { readonly in: In }>(list: readonly T[], of: (one: T) => number) => {
    const total = { both: 0, here: 0, there: 0 };
    for (const one of list) total[one.in] += of(one);
    return total;
  };
  return {
    figures,
    wire: {
      pegs,
      wires,
      lengthM: sum(wires, (one) => one.lengthM),
      pegCount: sum(pegs, () => 1),
    },
  };
}

/** What is not known is no number. */
function filled({ totals, prices, findings }: SeenPlan): Parameters<typeof differences>[0] {
  const known = TOTALS.map((key) => [key, totals[key] ?? Number.NaN]);
  const priced = prices && { ...prices, lines: [] };
  return {
    totals: Object.fromEntries(known) as unknown as PageTotals,
    ...(priced && { prices: priced as unknown as NonNullable<PageModel["prices"]> }),
    findings,
  };
}

/** A model's wire and pegs in the terms of what plans state. */
function statedOf({ shapes, pegs }: SeenPlan): StatedPlan {
  const loops = shapes.flatMap(({ kind, place, loop = "" }) => {
    if (kind !== "boundary-wire" || place.form !== "line") return [];
    const own = pegs.filter((peg) => peg.loop === loop && peg.wire === "boundary");
    return [
      {
        name: loop,
        wire: Float64Array.from(opened(place.line)),
        openM: 0,
        lengthM: undefined,
        direction: undefined,
        pegs:
          own.length === 0
            ? undefined
            : own.map(({ number, at, chainageM, secondChainageM, reason }) => ({
                number,
                atM: at,
                chainageM,
                secondChainageM,
                on: reason,
              })),
        station: undefined,
        pairedRuns: undefined,
        exclusionLoops: undefined,
        guideWires: [],
      },
    ];
  });
  return { loops, passages: undefined, mown: undefined };
}

/** Without a last vertex that repeats the first. */
function opened(line: FlatM): FlatM {
  const n = line.length;
  const isClosed = n > 2 && line[0] === line[n - 2] && line[1] === line[n - 1];
  return isClosed ? line.slice(0, n - 2) : line;
}
