import type { PlotRow } from "../../src/batch/plot-row.ts";

/** What all plots of a batch come to. Sums of what stands in the table. */
export interface Totals {
  readonly plots: number;
  readonly planned: number;
  readonly failed: number;
  /** Plots that were planned with a finding of severity `error`. */
  readonly with_errors: number;
  readonly area_m2: number;
  readonly wire_m: number;
  readonly wire_to_buy_m: number;
  readonly pegs: number;
  readonly loops: number;
  /** Sum of prices by currency. */
  readonly prices: Readonly<Record<string, number>>;
  /** How many plots failed for which reason. */
  readonly problems: Readonly<Record<string, number>>;
}

export const NO_TOTALS: Totals = {
  plots: 0,
  planned: 0,
  failed: 0,
  with_errors: 0,
  area_m2: 0,
  wire_m: 0,
  wire_to_buy_m: 0,
  pegs: 0,
  loops: 0,
  prices: {},
  problems: {},
};

/** Ten thousandths are what the table has; more digits would only be those of the adding. */
const sum = (a: number, b: number | null) => Number((a + (b ?? 0)).toFixed(4));

export function withRow(totals: Totals, row: PlotRow): Totals {
  const { price, currency, problem } = row;
  const isPlanned = row.status === "planned";
  return {
    plots: totals.plots + 1,
    planned: totals.planned + (isPlanned ? 1 : 0),
    failed: totals.failed + (isPlanned ? 0 : 1),
    with_errors: totals.with_errors + (isPlanned && row.errors > 0 ? 1 : 0),
    area_m2: sum(totals.area_m2, row.area_m2),
    wire_m: sum(totals.wire_m, row.wire_m),
    wire_to_buy_m: sum(totals.wire_to_buy_m, row.wire_to_buy_m),
    pegs: sum(totals.pegs, row.pegs),
    loops: sum(totals.loops, row.loops),
    prices:
      price === null || currency === null
        ? totals.prices
        : { ...totals.prices, [currency]: sum(totals.prices[currency] ?? 0, price) },
    problems:
      problem === null
        ? totals.problems
        : { ...totals.problems, [problem]: (totals.problems[problem] ?? 0) + 1 },
  };
}
