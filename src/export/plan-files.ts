import type { FeatureCollection, Geometry } from "geojson";
import { jsonText } from "../escape/json.ts";
import { plannedJoints } from "../handover/materials/joints.ts";
import type { Finding } from "../model/finding.ts";
import { collectionText } from "./collection-text.ts";
import { EXCHANGE_FILE_NAMES } from "./exchange/formats.ts";
import { HAND_OVER_FILE_NAMES } from "./hand-over-names.ts";
import { icalendar } from "./icalendar.ts";
import { PAGE_FILE_NAME } from "./page-name.ts";
import { planGeojson } from "./plan-geojson.ts";
import type { PlanResult } from "./plan-result.ts";
import { RASTER_FILE_NAMES, rasterFiles } from "./raster-files.ts";
import { REVISION_FILE_NAME } from "./revision-name.ts";
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
  ...new Set([
    "plan.geojson",
    "summary.json",
    PAGE_FILE_NAME,
    "schedule.ics",
    ...RASTER_FILE_NAMES,
    ...HAND_OVER_FILE_NAMES,
    REVISION_FILE_NAME,
    ...SHEET_FILE_NAMES,
    ...EXCHANGE_FILE_NAMES,
  ]),
];

/** A plan as it is drawn. */
export interface Drawn {
  readonly collection: FeatureCollection<Geometry | null>;
  /** The plan with what was noticed while it was drawn. */
  readonly result: PlanResult;
}

/**
 * The files of a plan, as text. Same plan, same bytes.
 *
 * @param also findings about drawings and lists, which stand in the summary alone: the plan itself is
 *   the same whatever else is made of it
 */
export function planFiles(result: PlanResult, also: readonly Finding[] = []): PlanFiles {
  return filesOf(drawPlan(result), also);
}

export function drawPlan(result: PlanResult): Drawn {
  const { plan, quantities, ground } = result;
  const joints = result.joints ?? plannedJoints(plan, quantities, ground);
  const { collection, findings } = planGeojson(plan, result.findings, ground, joints);
  return { collection, result: { ...result, findings: [...result.findings, ...findings] } };
}

/**
 * @param also findings about the files themselves, which stand in the summary alone
 */
export function filesOf(drawn: Drawn, also: readonly Finding[]): PlanFiles {
  const result = { ...drawn.result, findings: [...drawn.result.findings, ...also] };
  const summary = summaryOf(result);
  const files: PlanFile[] = [
    { name: "plan.geojson", text: collectionText(drawn.collection.features) },
    { name: "summary.json", text: `${jsonText(summary, 2)}\n` },
  ];
  const { plan, schedule, season } = result;
  if (season !== undefined) {
    files.push({ name: "schedule.ics", text: icalendar(plan.siteName, schedule, season) });
  }
  files.push(...rasterFiles(result));
  return { files, summary, result };
}
