import type { PostedPlot } from "../../src/batch/plot.ts";
import type { PlotForm } from "../../src/batch/plot-text.ts";
import type { PlanOptions } from "../../src/jobs/pegline.ts";
import type { PlotFile } from "../../src/jobs/plan-plot.ts";

/** What every worker is told when it starts: plain values, without functions. */
export interface PlotSetting {
  readonly form: PlotForm;
  readonly options: Omit<PlanOptions, "name" | "registry" | "onProgress">;
}

/** What a worker is sent for one plot. */
export type PlotTask = { readonly posted: PostedPlot } | { readonly file: PlotFile };
