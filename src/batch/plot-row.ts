import type { Summary } from "../export/summary.ts";
import type { Problem } from "../model/finding.ts";

/** A line of the table of plots (docs/commands/batch.md lists the columns). Null: not known. */
export interface PlotRow {
  readonly number: number;
  readonly plot: string;
  readonly status: "planned" | "failed";
  /** Origin of the plot's grid, degrees. */
  readonly lon: number | null;
  readonly lat: number | null;
  readonly area_m2: number | null;
  readonly mown_m2: number | null;
  readonly hand_trim_m2: number | null;
  readonly cut_off_m2: number | null;
  readonly loops: number | null;
  readonly wire_m: number | null;
  readonly wire_to_buy_m: number | null;
  readonly reels: number | null;
  readonly pegs: number | null;
  readonly pegs_to_buy: number | null;
  /** With tax, in `currency`, where there is a price list. */
  readonly price: number | null;
  readonly currency: string | null;
  /** What the judge says of the wire: `holds` or `broken`. */
  readonly check: string | null;
  readonly errors: number;
  readonly warnings: number;
  readonly infos: number;
  /** Codes of errors and warnings, each once, with blanks between them. */
  readonly findings: string;
  /** Why there is no plan. */
  readonly problem: string | null;
  readonly message: string | null;
  readonly remedy: string | null;
}

const NO_FIGURES = {
  lon: null,
  lat: null,
  area_m2: null,
  mown_m2: null,
  hand_trim_m2: null,
  cut_off_m2: null,
  loops: null,
  wire_m: null,
  wire_to_buy_m: null,
  reels: null,
  pegs: null,
  pegs_to_buy: null,
  price: null,
  currency: null,
  check: null,
};

/** Names of the columns, in order. */
export const PLOT_COLUMNS = Object.keys(
  failedRow(0, "", { code: "", kind: "input", message: "", remedy: "" }, []),
) as (keyof PlotRow)[];

/** The row of a plot that was planned. */
export function plannedRow(number: number, plot: string, summary: Summary): PlotRow {
  const { site, loops, totals, check } = summary;
  const [lon, lat] = site.origin;
  return {
    number,
    plot,
    status: "planned",
    lon,
    lat,
    area_m2: site.area_m2,
    mown_m2: totals.mown_m2,
    hand_trim_m2: totals.hand_trim_m2,
    cut_off_m2: totals.cut_off_m2,
    loops: loops.length,
    wire_m: totals.wire_m,
    wire_to_buy_m: totals.wire_to_buy_m,
    reels: totals.reels,
    pegs: totals.pegs,
    pegs_to_buy: totals.pegs_to_buy,
    price: summary.prices?.total ?? null,
    currency: summary.prices?.currency ?? null,
    check: check?.verdict ?? null,
    ...countsOf(summary.findings),
    problem: null,
    message: null,
    remedy: null,
  };
}

/** The row of a plot that could not be planned. */
export function failedRow(
  number: number,
  plot: string,
  { code, message, remedy }: Problem,
  findings: readonly Noticed[],
): PlotRow {
  return {
    number,
    plot,
    status: "failed",
    ...NO_FIGURES,
    ...countsOf(findings),
    problem: code,
    message,
    remedy,
  };
}

interface Noticed {
  readonly code: string;
  readonly severity: string;
}

function countsOf(findings: readonly Noticed[]) {
  const count = (severity: string) => findings.filter((one) => one.severity === severity).length;
  const codes = findings.filter((one) => one.severity !== "info").map((one) => one.code);
  return {
    errors: count("error"),
    warnings: count("warning"),
    infos: count("info"),
    findings: [...new Set(codes)].join(" "),
  };
}
