import type { Feature } from "geojson";
import { csvRow } from "../escape/csv.ts";
import { jsonText } from "../escape/json.ts";
import { PLOT_COLUMNS, type PlotRow } from "./plot-row.ts";

/** What is known of a plot when it is done: its row, and its plan as text. */
export interface PlotRecord {
  readonly row: PlotRow;
  /** In the form that was asked for; of a plot without a plan empty, or a text without features. */
  readonly text: string;
}

/** `lines`: one feature a line. `sequence`: one text of a GeoJSON text sequence (RFC 8142). */
export type PlotForm = "lines" | "sequence";

const RECORD_SEPARATOR = "\u001e";

/** A plan as text. Each feature says first which plot it belongs to. */
export function plotText(
  form: PlotForm,
  row: PlotRow,
  features: readonly Feature<Feature["geometry"] | null>[],
): string {
  const { number, plot } = row;
  const named = features.map((one) => ({
    ...one,
    properties: { plot, plot_number: number, ...one.properties },
  }));
  if (form === "lines") return named.map((one) => `${jsonText(one)}\n`).join("");
  const text = { type: "FeatureCollection", plot, row, features: named };
  return `${RECORD_SEPARATOR}${jsonText(text)}\n`;
}

/** First line of the table of plots. */
export const PLOT_TABLE_HEAD = csvRow(PLOT_COLUMNS);

export function plotTableRow(row: PlotRow): string {
  return csvRow(PLOT_COLUMNS.map((column) => row[column]));
}
