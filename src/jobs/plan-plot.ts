import type { Plot } from "../batch/plot.ts";
import { failedRow, plannedRow } from "../batch/plot-row.ts";
import { type PlotForm, type PlotRecord, plotText } from "../batch/plot-text.ts";
import { drawPlan, filesOf } from "../export/plan-files.ts";
import type { PlanResult } from "../export/plan-result.ts";
import type { InputFile } from "../model/features.ts";
import { type PlanOptions, planInputs, planLayers } from "./pegline.ts";

/** A plot as a text of a stream: a file that holds it alone. */
export interface PlotFile {
  readonly number: number;
  readonly name: string;
  readonly file: InputFile;
}

/**
 * Plans one plot. What stops it is told in its row; nothing that a plot holds stops the others.
 *
 * @returns the same plan that `planInputs` makes of a file with this plot alone
 */
export async function planPlot(
  plot: Plot | PlotFile,
  form: PlotForm,
  options: PlanOptions = {},
): Promise<PlotRecord> {
  const { number, name } = plot;
  const own = { ...options, name };
  const outcome = await ("file" in plot
    ? planInputs([plot.file], own)
    : planLayers(plot.layers, own));
  if (!outcome.ok) {
    const row = failedRow(number, name, outcome.problem, outcome.findings);
    return { row, text: plotText(form, row, []) };
  }
  return recordOf(number, name, form, outcome.value);
}

function recordOf(number: number, name: string, form: PlotForm, result: PlanResult): PlotRecord {
  const drawn = drawPlan(result);
  const { summary } = filesOf(drawn, []);
  const row = plannedRow(number, name, summary);
  return { row, text: plotText(form, row, drawn.collection.features as never) };
}
