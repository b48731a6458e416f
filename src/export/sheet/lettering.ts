/** The lettering of drawings: how wide text is, and which characters there are. */
import { shownText } from "../../escape/hidden.ts";
import { BOLD_WIDTHS, REGULAR_WIDTHS } from "./font/arimo-widths.data.ts";
import type { BoxMm, TextShape } from "./scene.ts";

const UNITS_PER_EM = 2048;

/** Height of capitals, and how far letters reach below the base line, in em (from the font). */
export const CAPITALS_EM = 1409 / UNITS_PER_EM;
export const ABOVE_EM = 0.76;
export const BELOW_EM = 0.22;

/** Sizes of letters whose capitals have the heights of ISO 3098: 1.8, 2.5, 3.5 and 5 mm. */
export const LETTERS = {
  small: 1.8 / CAPITALS_EM,
  normal: 2.5 / CAPITALS_EM,
  large: 3.5 / CAPITALS_EM,
  huge: 5 / CAPITALS_EM,
} as const;

/** Stands for a character that the font has not. */
export const MISSING = "□";

let tables: { regular: Map<number, number>; bold: Map<number, number> } | undefined;

function table(bold: boolean): Map<number, number> {
  tables ??= { regular: widthsOf(REGULAR_WIDTHS), bold: widthsOf(BOLD_WIDTHS) };
  return bold ? tables.bold : tables.regular;
}

function widthsOf(runs: readonly string[]): Map<number, number> {
  const widths = new Map<number, number>();
  for (const run of runs) {
    const [first, list] = run.split(":");
    list!.split(" ").forEach((width, i) => {
      widths.set(Number.parseInt(first!, 36) + i, Number.parseInt(width, 36));
    });
  }
  return widths;
}

/** Text of an input as it stands on a drawing: composed, nothing in it acts. */
export function lettered(text: string): string {
  return shownText(text).normalize("NFC");
}

/** Characters of a text that the font has not. */
export function missingIn(text: string): string[] {
  const widths = table(false);
  return [...text].filter((char) => !widths.has(char.codePointAt(0)!));
}

/** The same text with a box for each character that the font has not. */
export function inFont(text: string): string {
  const widths = table(false);
  return Array.from(text, (char) => (widths.has(char.codePointAt(0)!) ? char : MISSING)).join("");
}

/** Width of a text, without kerning, as it is drawn. */
export function widthMm(text: string, sizeMm: number, bold = false): number {
  const widths = table(bold);
  const missing = widths.get(MISSING.codePointAt(0)!)!;
  let units = 0;
  for (const char of text) units += widths.get(char.codePointAt(0)!) ?? missing;
  return (units / UNITS_PER_EM) * sizeMm;
}

/** Breaks a text at spaces, and inside words where one alone is too wide. */
export function wrappedLines(text: string, widthMax: number, sizeMm: number, bold = false) {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/).filter((one) => one !== "")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (widthMm(longer, sizeMm, bold) <= widthMax) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    const pieces = cutWord(word, widthMax, sizeMm, bold);
    lines.push(...pieces.slice(0, -1));
    line = pieces.at(-1)!;
  }
  return line === "" ? lines : [...lines, line];
}

function cutWord(word: string, widthMax: number, sizeMm: number, bold: boolean): string[] {
  const pieces = [""];
  for (const char of word) {
    const longer = pieces.at(-1)! + char;
    if (pieces.at(-1) !== "" && widthMm(longer, sizeMm, bold) > widthMax) pieces.push(char);
    else pieces[pieces.length - 1] = longer;
  }
  return pieces;
}

/** A text made short enough, with an ellipsis where something was cut off. */
export function fitted(text: string, widthMax: number, sizeMm: number, bold = false): string {
  if (widthMm(text, sizeMm, bold) <= widthMax) return text;
  const chars = [...text];
  while (chars.length > 0 && widthMm(`${chars.join("")}…`, sizeMm, bold) > widthMax) chars.pop();
  return `${chars.join("").trimEnd()}…`;
}

/** Corners of the box round a text, in order. */
export function textCorners(shape: TextShape): [number, number][] {
  const { left, top, right, bottom } = uprightBox(shape);
  const angle = (-(shape.angleDeg ?? 0) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const turned = (x: number, y: number): [number, number] => {
    const [dx, dy] = [x - shape.x, y - shape.y];
    return [shape.x + dx * cos - dy * sin, shape.y + dx * sin + dy * cos];
  };
  return [turned(left, top), turned(right, top), turned(right, bottom), turned(left, bottom)];
}

/** The box of a text before it is turned. */
export function uprightBox({ text, x, y, sizeMm, bold, anchor = "start" }: TextShape): BoxMm {
  const width = widthMm(text, sizeMm, bold);
  const left = anchor === "start" ? x : anchor === "middle" ? x - width / 2 : x - width;
  return { left, right: left + width, top: y - ABOVE_EM * sizeMm, bottom: y + BELOW_EM * sizeMm };
}
