import { failedRow } from "./plot-row.ts";
import { type PlotForm, type PlotRecord, plotText } from "./plot-text.ts";

/**
 * The record of a plot that a fault of ours, or the machine's limits, kept from being planned.
 *
 * @param message what happened, as far as it is known
 */
export function faultyRecord(
  { number, name }: { readonly number: number; readonly name: string },
  form: PlotForm,
  message: string,
  code: keyof typeof REMEDIES = "INTERNAL_FAULT",
): PlotRecord {
  const problem = { code, kind: "input" as const, message, remedy: REMEDIES[code] };
  const row = failedRow(number, name, problem, []);
  return { row, text: plotText(form, row, []) };
}

const REMEDIES = {
  INTERNAL_FAULT: "Plan this plot alone with PEGLINE_DEBUG=1 and report what it prints.",
  PLOT_TOO_LONG: "Plan this plot alone, or allow more time with --plot-seconds.",
  PLOT_AGAIN: "Sort the stream by that attribute, or name the file as INPUT.",
  PLOT_TOO_LARGE: "Plan this plot alone, or with fewer --jobs, which leaves more memory to each.",
} as const;
