/** The files that a crew works by: guide, materials, pegs; further lists on demand. */
import { terminalName } from "../../escape/terminal.ts";
import { guideOf } from "../../handover/guide/build-guide.ts";
import { materialsOf } from "../../handover/materials/materials.ts";
import { offsetsOf } from "../../handover/setting-out/offsets.ts";
import { type PegRow, pegTable } from "../../handover/setting-out/peg-table.ts";
import { TAPE_REACH_M, type Ties, tiesOf } from "../../handover/setting-out/ties.ts";
import { messagesOf, speaker } from "../../handover/words/catalogue.ts";
import { measuresOf } from "../../handover/words/measures.ts";
import type { Finding } from "../../model/finding.ts";
import type { HandOverOptions } from "../../model/hand-over-options.ts";
import type { PlanFile } from "../plan-files.ts";
import type { PlanResult } from "../plan-result.ts";
import { guideText } from "./guide-text.ts";
import { billCsv, materialsCsv, reelSizesCsv, reelsCsv } from "./material-tables.ts";
import { pointsCsv, pointsGpx, pointsText } from "./points.ts";
import { controlsCsv, offsetsCsv, pegsCsv, tiesCsv } from "./setting-out-tables.ts";
import { lengthColumns } from "./table.ts";

/** Files and what was noticed while they were made. */
export interface HandOver {
  readonly files: readonly PlanFile[];
  readonly findings: readonly Finding[];
}

/**
 * Guide, materials and pegs of a plan as text, and the lists that are asked for. Same plan and
 * options, same bytes. Needs `loadEngine()` awaited, as `planInputs` does.
 */
export async function handOverFiles(
  result: PlanResult,
  { language = "en", units = "m", lists = [] }: HandOverOptions = {},
): Promise<HandOver> {
  const { site, plan, ground, quantities, cautions, priceList, findings } = result;
  const { grid } = plan;
  const errors = findings.filter(({ severity }) => severity === "error").length;
  const measures = measuresOf(language, units);
  const columns = lengthColumns(units);
  const messages = await messagesOf(language);
  const speak = speaker(language, messages, measures, terminalName);
  const materials = materialsOf(plan, quantities, ground, priceList);
  const pegs = pegTable(plan, ground);
  const guide = guideOf({ site, plan, ground, quantities, cautions, errors });
  const bill = billCsv(materials);
  const files: PlanFile[] = [
    { name: "guide.txt", text: guideText(guide, speak, measures) },
    {
      name: "materials.csv",
      text: materialsCsv(materials, plan.profile.wire.reelM, speak, columns),
    },
    ...(bill === undefined ? [] : [{ name: "bill.csv", text: bill }]),
    { name: "pegs.csv", text: pegsCsv(pegs, grid, columns) },
  ];
  const wants = new Set(lists);
  if (wants.has("reels")) {
    files.push(
      { name: "reels.csv", text: reelsCsv(materials, columns) },
      { name: "reel-sizes.csv", text: reelSizesCsv(materials, columns) },
    );
  }
  if (!["ties", "offsets", "points", "gpx"].some((one) => wants.has(one as never))) {
    return { files, findings: [] };
  }
  const ties = tiesOf(site, pegs);
  files.push({ name: "controls.csv", text: controlsCsv(ties.controls, grid, columns) });
  if (wants.has("ties")) files.push({ name: "ties.csv", text: tiesCsv(ties, columns) });
  if (wants.has("offsets")) {
    const offsets = offsetsOf(site, pegs, ties.controls);
    files.push({ name: "offsets.csv", text: offsetsCsv(offsets, columns) });
  }
  if (wants.has("points")) {
    files.push(
      { name: "points.csv", text: pointsCsv(pegs, ties.controls, units) },
      { name: "points.txt", text: pointsText(pegs, ties.controls, units) },
    );
  }
  if (wants.has("gpx")) {
    files.push({ name: "pegs.gpx", text: pointsGpx(plan.siteName, pegs, ties.controls, grid) });
  }
  return { files, findings: wants.has("ties") ? untied(ties, pegs) : [] };
}

/** Pegs that no two tapes reach. */
function untied({ rows }: Ties, pegs: readonly PegRow[]): Finding[] {
  const open = rows.flatMap(({ tapes }, i) => (tapes ? [] : [pegs[i]!]));
  const [first] = open;
  if (!first) return [];
  return [
    {
      code: "TIES_INCOMPLETE",
      severity: "info",
      atM: first.atM,
      at: first.lonLat,
      message: `${open.length} of ${rows.length} pegs cannot be taped from two fixed points with ${TAPE_REACH_M} m of tape in sight, ${first.number} the first of them.`,
      remedy:
        "Set them out from coordinates or by the guide, or give fixed points near them: points with role control.",
    },
  ];
}
