import type { Plots } from "../batch/plot.ts";
import { plotsByField } from "../batch/plots-by-field.ts";
import { plotsByLawn } from "../batch/plots-by-lawn.ts";
import { loadEngine } from "../geometry/engine.ts";
import type { RawLayer } from "../model/features.ts";
import { failed, type Outcome } from "../model/finding.ts";
import { type PlanOptions, placeLayers } from "./pegline.ts";

/** What makes a plot: an attribute's value, or each lawn. */
export type Division = { readonly by: string } | "each-lawn";

/** Divides the layers of some inputs into plots. See `plotsByField` and `plotsByLawn`. */
export async function dividePlots(
  layers: readonly RawLayer[],
  division: Division,
  options: PlanOptions = {},
): Promise<Outcome<Plots>> {
  if (division !== "each-lawn") return plotsByField(layers, division.by);
  await loadEngine();
  const placed = placeLayers(layers, options);
  return placed.ok ? plotsByLawn(layers, placed.value) : failed(placed.problem, placed.findings);
}
