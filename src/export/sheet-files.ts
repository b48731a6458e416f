/** The drawings of a plan as files: one PDF with all sheets, and each sheet as SVG. Loaded on demand. */
import type { Finding } from "../model/finding.ts";
import type { SheetRules } from "../model/sheet.ts";
import type { PlanResult } from "./plan-result.ts";
import { sheetsPdf } from "./sheet/pdf.ts";
import { drawSheets, type SitePicture } from "./sheet/sheets.ts";
import { sheetSvg } from "./sheet/svg.ts";
import { SVG_MAX, sheetFileName } from "./sheet-names.ts";
import { summaryOf } from "./summary.ts";

export interface SheetFiles {
  readonly files: readonly (
    | { readonly name: string; readonly bytes: Uint8Array }
    | { readonly name: string; readonly text: string }
  )[];
  /** What could not be drawn, and what was chosen. */
  readonly findings: readonly Finding[];
}

/**
 * Draws a plan: `sheet.pdf`, and `sheet.svg`, `sheet-2.svg`, … Same plan and rules, same bytes.
 *
 * @param rules paper, scale and title block; what is left out is chosen or stays blank
 * @param picture lies beneath every window, where there is one
 */
export async function sheetFiles(
  result: PlanResult,
  rules: SheetRules,
  picture?: SitePicture,
): Promise<SheetFiles> {
  const summary = summaryOf(result);
  const { site } = result;
  const { sheets, findings } = drawSheets({ site, result, summary, rules, picture });
  const pdf = await sheetsPdf(sheets[0]!.title, sheets);
  return {
    files: [
      { name: sheetFileName("pdf"), bytes: pdf },
      ...sheets
        .slice(0, SVG_MAX)
        .map((sheet, i) => ({ name: sheetFileName("svg", i + 1), text: sheetSvg(sheet) })),
    ],
    findings,
  };
}
