/** Names of the files that drawings are written to. */

/** More sheets than this are not written one by one; all of them are in the PDF. */
export const SVG_MAX = 400;

/** `sheet.pdf` with all sheets; `sheet.svg`, `sheet-2.svg`, … with one each. */
export function sheetFileName(format: "pdf" | "svg", number = 1): string {
  return number === 1 ? `sheet.${format}` : `sheet-${number}.${format}`;
}

export const SHEET_FILE_NAMES: readonly string[] = [
  sheetFileName("pdf"),
  ...Array.from({ length: SVG_MAX }, (_, i) => sheetFileName("svg", i + 1)),
];
