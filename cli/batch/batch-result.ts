import type { ResultKind } from "../results/claim-folder.ts";

/** Files of a finished batch. */
export const BATCH_FILES = {
  plans: "plans.geojsonl",
  table: "plots.csv",
  summary: "batch.json",
} as const;

export const BATCH_RESULT: ResultKind = {
  names: Object.values(BATCH_FILES),
  mark: BATCH_FILES.summary,
};
