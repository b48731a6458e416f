import { REPLACEMENT } from "./hidden.ts";

/**
 * What a spreadsheet may take for a formula, first in a cell or after what it passes over (OWASP,
 * CSV Injection): = + - @, the same at full width, tab, carriage return, line feed.
 */
const FORMULA = /^[\s\p{Cf}\p{Default_Ignorable_Code_Point}\ufeff]*[=+\-@＝＋－＠]|^[\t\r\n]|^'/u;

/** Controls that no table needs; line ends and tabs may stand in quotes (RFC 4180). */
const NO_TEXT = /(?![\t\n\r])[\p{Cc}\p{Cs}]/gu;

/** Marks a cell as text for a spreadsheet. Text that begins with it is marked too, so it can be taken off. */
const GUARD = "'";

/**
 * One cell of a CSV table. Numbers stay numbers; text is in quotes always, as other separators and
 * line ends may stand in it, and text that would run as a formula gets an apostrophe before it.
 */
export function csvCell(value: string | number | null): string {
  if (value === null) return "";
  if (typeof value === "number") return Number.isFinite(value) ? String(value) : "";
  const text = value.replace(NO_TEXT, REPLACEMENT);
  return `"${(FORMULA.test(text) ? GUARD + text : text).replace(/"/g, '""')}"`;
}

/** One row, with the line end that RFC 4180 asks for. */
export function csvRow(values: readonly (string | number | null)[]): string {
  return `${values.map(csvCell).join(",")}\r\n`;
}

/** The text that a cell was made from: without its guard. */
export function csvTextOf(cell: string): string {
  return cell.startsWith(GUARD) ? cell.slice(GUARD.length) : cell;
}
