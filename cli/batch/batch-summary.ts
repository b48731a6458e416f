import type { WrittenFinding } from "../../src/export/ordered-findings.ts";
import type { Division } from "../../src/jobs/divide-plots.ts";
import { TOOL, VERSION } from "../../src/version.ts";
import type { Totals } from "./totals.ts";

/** Content of `batch.json`. */
export interface BatchSummary extends Totals {
  readonly tool: string;
  readonly version: string;
  readonly inputs: readonly string[];
  readonly division: { readonly by: string } | { readonly each: "lawn" };
  readonly profile: string;
  /** Of reading and dividing; those of plots stand with the plots. */
  readonly findings: readonly WrittenFinding[];
}

export function batchSummary(
  said: Pick<BatchSummary, "inputs" | "profile" | "findings">,
  division: Division,
  totals: Totals,
): BatchSummary {
  const { inputs, profile, findings } = said;
  const by = division === "each-lawn" ? ({ each: "lawn" } as const) : division;
  return { tool: TOOL, version: VERSION, inputs, division: by, profile, ...totals, findings };
}

/** For people. */
export function batchText(one: Totals): string {
  const lines = [
    `Plots      ${one.plots}: ${one.planned} planned, ${one.failed} not`,
    ...Object.entries(one.problems).map(([code, count]) => `             ${code}: ${count}`),
    ...(one.with_errors > 0
      ? [`           ${one.with_errors} of those planned have errors: do not lay them as they are`]
      : []),
    `Ground     ${one.area_m2.toFixed(0)} m²`,
    `Wire       ${one.wire_m.toFixed(0)} m to lay, ${one.wire_to_buy_m.toFixed(0)} m to buy`,
    `Pegs       ${one.pegs}`,
    `Loops      ${one.loops}`,
    ...Object.entries(one.prices).map(([code, sum]) => `Price      ${sum.toFixed(2)} ${code}`),
  ];
  return `${lines.join("\n")}\n`;
}
