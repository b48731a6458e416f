/** The drawings of a plan as files: one PDF with all sheets, and each sheet as SVG. Loaded on demand. */
import { guideOf } from "../handover/guide/build-guide.ts";
import { messagesOf, type Speak, speaker } from "../handover/words/catalogue.ts";
import { type Measures, measuresOf } from "../handover/words/measures.ts";
import type { Finding } from "../model/finding.ts";
import type { HandOverOptions } from "../model/hand-over-options.ts";
import type { SheetRules } from "../model/sheet.ts";
import type { PlanResult } from "./plan-result.ts";
import type { Section } from "./sheet/flow.ts";
import { guideSections } from "./sheet/guide-sections.ts";
import { lettered } from "./sheet/lettering.ts";
import { sheetsPdf } from "./sheet/pdf.ts";
import { drawSheets, type SheetInput, type SitePicture } from "./sheet/sheets.ts";
import { sheetSvg } from "./sheet/svg.ts";
import { sheetWords } from "./sheet/words.ts";
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

export interface SheetExtras {
  /** Lies beneath every window. */
  readonly picture?: SitePicture | undefined;
  /** Language of the sheets; units of the laying guide. */
  readonly handOver?: Pick<HandOverOptions, "language" | "units"> | undefined;
}

/**
 * Draws a plan: `sheet.pdf`, and `sheet.svg`, `sheet-2.svg`, … Same plan and rules, same bytes.
 * Needs `loadEngine()` awaited, as `planInputs` does.
 *
 * @param rules paper, scale and title block; what is left out is chosen or stays blank
 */
export async function sheetFiles(
  result: PlanResult,
  rules: SheetRules,
  { picture, handOver = {} }: SheetExtras = {},
): Promise<SheetFiles> {
  const summary = summaryOf(result);
  const { site } = result;
  const input = { site, result, summary, rules, picture, ...(await sheetTexts(result, handOver)) };
  const { sheets, findings } = drawSheets(input);
  const pdf = await sheetsPdf(sheets[0]!.title, sheets);
  return {
    files: [
      { name: sheetFileName("pdf"), bytes: pdf },
      ...sheets.slice(0, SVG_MAX).map((sheet, i) => ({
        name: sheetFileName("svg", i + 1),
        text: sheetSvg(sheet),
      })),
    ],
    findings,
  };
}

/** What is written on sheets: words of the language, and the laying guide for pages of its own. */
export async function sheetTexts(
  result: PlanResult,
  { language = "en", units = "m" }: Pick<HandOverOptions, "language" | "units">,
): Promise<Required<Pick<SheetInput, "words" | "appendix">>> {
  const measures = measuresOf(language, units);
  const speak = speaker(language, await messagesOf(language), measures, lettered);
  const words = sheetWords(language, speak, measures);
  return { words, appendix: guidePages(result, speak, measures) };
}

/** The laying guide, to be set in columns of any width. */
function guidePages(
  { site, plan, ground, quantities, cautions, findings }: PlanResult,
  speak: Speak,
  measures: Measures,
): (widthMm: number) => readonly Section[] {
  const errors = findings.filter(({ severity }) => severity === "error").length;
  const guide = guideOf({ site, plan, ground, quantities, cautions, errors });
  return (widthMm) => guideSections(guide, speak, measures, widthMm);
}
