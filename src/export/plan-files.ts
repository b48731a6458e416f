import type { Feature, FeatureCollection, Geometry } from "geojson";
import { jsonText } from "../escape/json.ts";
import { icalendar } from "./icalendar.ts";
import { planGeojson } from "./plan-geojson.ts";
import type { PlanResult } from "./plan-result.ts";
import { SHEET_FILE_NAMES } from "./sheet-names.ts";
import { type Summary, summaryOf } from "./summary.ts";

/** One file of a result: a name and its text. */
export interface PlanFile {
  readonly name: string;
  readonly text: string;
}

/** One file of any kind of result. */
export type ResultFile = PlanFile | { readonly name: string; readonly bytes: Uint8Array };

/** Everything written for a plan. */
export interface PlanFiles {
  readonly files: readonly PlanFile[];
  readonly summary: Summary;
  /** The plan with what was noticed while it was drawn. */
  readonly result: PlanResult;
}

/** Names of the files of a result, all of them ours to replace. */
export const PLAN_FILE_NAMES: readonly string[] = [
  "plan.geojson",
  "summary.json",
  "schedule.ics",
  ...SHEET_FILE_NAMES,
];

/** The files of a plan, as text. Same plan, same bytes. */
export function planFiles(result: PlanResult): PlanFiles {
  const drawn = planGeojson(result.plan, result.findings, result.ground);
  const complete = { ...result, findings: [...result.findings, ...drawn.findings] };
  const summary = summaryOf(complete);
  const files: PlanFile[] = [
    { name: "plan.geojson", text: collectionText(drawn.collection) },
    { name: "summary.json", text: `${jsonText(summary, 2)}\n` },
  ];
  const { plan, schedule, season } = result;
  if (season !== undefined) {
    files.push({ name: "schedule.ics", text: icalendar(plan.siteName, schedule, season) });
  }
  return {
    files,
    summary,
    result: complete,
  };
}

/** One feature a line, so that two plans can be compared line by line. */
function collectionText(collection: FeatureCollection<Geometry | null>): string {
  const lines = collection.features.map((one: Feature<Geometry | null>) => jsonText(one));
  return `{"type":"FeatureCollection","features":[\n${lines.join(",\n")}\n]}\n`;
}
