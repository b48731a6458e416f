/** The laying guide as plain text: numbered steps, wire laid so far in a column of its own. */
import { DEPTH_SHOWN_MOST, type Guide, type GuideSection } from "../../handover/guide/guide.ts";
import type { Speak } from "../../handover/words/catalogue.ts";
import type { Measures } from "../../handover/words/measures.ts";
import { wrapped } from "../plain-text.ts";

const WIDTH = 96;

/** @param speak of the language, with names made fit for text (`terminalName`) */
export function guideText(guide: Guide, speak: Speak, measures: Measures): string {
  const title = speak(guide.title);
  const sections = guide.sections.map((section) => sectionText(section, speak, measures));
  return `${[underlined(title, "="), ...sections].join("\n\n")}\n`;
}

const underlined = (text: string, line: string) => `${text}\n${line.repeat([...text].length)}`;

function sectionText(section: GuideSection, speak: Speak, measures: Measures): string {
  const isLaid = section.steps.some(({ chainageM }) => chainageM !== undefined);
  const columnWidth = isLaid ? columnOf(section, measures) : 0;
  let number = 0;
  const lines = section.steps.map((step) => {
    const isCounted = section.isNumbered && step.kind !== "note";
    if (isCounted) number++;
    const mark = section.isNumbered ? (isCounted ? `${number}.` : "").padStart(4) : "-";
    const laid =
      step.chainageM === undefined || step.chainageM === 0 ? "" : measures.length(step.chainageM);
    const column = isLaid ? `${laid.padStart(columnWidth)}  ` : "";
    const head = `${mark} ${column}${"   ".repeat(Math.min(step.depth, DEPTH_SHOWN_MOST))}`;
    const text = step.say.map(speak).join(" ");
    return `${head}${wrapped(text, " ".repeat(head.length), WIDTH)}`;
  });
  const heads = isLaid
    ? [
        `${speak({ key: "guide.step" }).padStart(4)} ${speak({ key: "guide.laid" }).padStart(columnWidth)}`,
      ]
    : [];
  return [underlined(speak(section.title), "-"), ...heads, ...lines].join("\n");
}

function columnOf({ steps }: GuideSection, measures: Measures): number {
  return Math.max(...steps.map(({ chainageM = 0 }) => measures.length(chainageM).length));
}
