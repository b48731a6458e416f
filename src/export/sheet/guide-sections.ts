/** The laying guide as sections of text, for pages of their own. */
import {
  DEPTH_SHOWN_MOST,
  type Guide,
  type GuideSection,
  type GuideStep,
} from "../../handover/guide/guide.ts";
import type { Speak } from "../../handover/words/catalogue.ts";
import type { Measures } from "../../handover/words/measures.ts";
import { LINE_MM, paragraph, type Row, type Section, text } from "./flow.ts";
import { CAPITALS_EM, LETTERS } from "./lettering.ts";

/** Columns for the number of a step and for the wire laid when it is done. */
const NUMBER_MM = 6;
const LAID_MM = 15;
/** How far a step on a paired run stands in. */
const DEPTH_MM = 3;

/** @param speak of the language, with names made fit for drawings (`lettered`) */
export function guideSections(
  guide: Guide,
  speak: Speak,
  measures: Measures,
  width: number,
): Section[] {
  return guide.sections.map((section, i) => ({
    title: i === 0 ? `${speak(guide.title)}. ${speak(section.title)}` : speak(section.title),
    isApart: i === 0,
    rows: rowsOf(section, speak, measures, width),
  }));
}

function rowsOf(section: GuideSection, speak: Speak, measures: Measures, width: number): Row[] {
  const { steps, isNumbered } = section;
  const isLaid = steps.some(({ chainageM }) => chainageM !== undefined);
  let number = 0;
  return steps.flatMap((step) => {
    const isCounted = isNumbered && step.kind !== "note";
    if (isCounted) number++;
    const content = step.say.map(speak).join(" ");
    if (!isNumbered) return [paragraph(content, width, { bullet: "•" })];
    const from =
      NUMBER_MM + (isLaid ? LAID_MM : 0) + DEPTH_MM * Math.min(step.depth, DEPTH_SHOWN_MOST);
    const laid = isLaid ? laidText(step, measures) : "";
    return [stepRow(isCounted ? `${number}.` : "", laid, content, from, width)];
  });
}

const laidText = ({ chainageM }: GuideStep, measures: Measures) =>
  chainageM === undefined || chainageM === 0 ? "" : measures.length(chainageM);

function stepRow(mark: string, laid: string, content: string, from: number, width: number): Row {
  const body = paragraph(content, width - from);
  return {
    heightMm: Math.max(LINE_MM, body.heightMm),
    draw: (x, y) => {
      const base = y + LETTERS.small * CAPITALS_EM;
      const right = { anchor: "end" as const };
      return [
        ...(mark === "" ? [] : [text(mark, x + NUMBER_MM - 1, base, right)]),
        ...(laid === "" ? [] : [text(laid, x + NUMBER_MM + LAID_MM - 1.5, base, right)]),
        ...body.draw(x + from, y),
      ];
    },
  };
}
