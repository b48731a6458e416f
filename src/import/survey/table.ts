import type { FindingList } from "../reader.ts";
import { readCode, type SurveyCodes } from "./codes.ts";
import { type Columns, type ColumnUse, columnsOf } from "./columns.ts";
import { degreesOfText, hasDecimalComma, numberOfText } from "./numbers.ts";
import type { SurveyPoint } from "./strings.ts";

/** Rows among which the headings are looked for: reports have a few lines above them. */
const HEADINGS_WITHIN = 20;

/** A table of points as read. */
export interface Table {
  readonly columns: Columns;
  readonly rows: readonly (readonly string[])[];
  /** 1-based row of the file in which `rows` begins. */
  readonly firstRow: number;
}

/** The table in a text, parted by whichever of semicolon, tab and comma gives headings. */
export async function tableOf(text: string): Promise<Table | undefined> {
  const { default: parser } = await import("papaparse");
  let best: { columns: Columns; place: number; delimiter: string } | undefined;
  for (const delimiter of ["\t", ";", ","]) {
    const { data } = parser.parse(text, { delimiter, preview: HEADINGS_WITHIN });
    const place = data.findIndex((row) => columnsOf(row) !== undefined);
    const columns = place < 0 ? undefined : columnsOf(data[place]!)!;
    if (columns === undefined) continue;
    const used = (one: Columns) => Object.keys(one.places).length;
    if (best === undefined || used(columns) > used(best.columns))
      best = { columns, place, delimiter };
  }
  if (best === undefined) return undefined;
  const { data } = parser.parse(text, { delimiter: best.delimiter });
  const { columns, place } = best;
  return { columns, rows: data.slice(place + 1), firstRow: place + 2 };
}

/** The points of a table; a row without a place is a finding and left out. */
export function pointsOf(table: Table, codes: SurveyCodes, findings: FindingList): SurveyPoint[] {
  const { columns, rows, firstRow } = table;
  const { places, isDegrees } = columns;
  const points: SurveyPoint[] = [];
  for (const [index, row] of rows.entries()) {
    if (row.every((cell) => cell.trim() === "") || row[0]?.startsWith("#")) continue;
    const cell = (use: ColumnUse) => {
      const place = places[use];
      return place === undefined ? "" : (row[place] ?? "").trim();
    };
    const [x, y] = isDegrees
      ? [degreesOfText(cell("longitude")), degreesOfText(cell("latitude"))]
      : [numberOfText(cell("easting")), numberOfText(cell("northing"))];
    const number = cell("number") || String(index + 1);
    if (!Number.isFinite(x) || !Number.isFinite(y)) {
      findings.add({
        code: "SURVEY_POINT_BROKEN",
        severity: "error",
        feature: number,
        message: `the point in row ${firstRow + index} is left out: its place is "${isDegrees ? cell("longitude") : cell("easting")}", "${isDegrees ? cell("latitude") : cell("northing")}"`,
        remedy: "Correct or remove that row.",
      });
      continue;
    }
    const z = numberOfText(cell("height"));
    points.push({
      number,
      at: [x, y, Number.isFinite(z) ? z : 0],
      hasHeight: Number.isFinite(z),
      code: readCode(cell("code"), cell("control"), codes),
      attributes: Object.fromEntries(
        columns.others.map(({ name, place }) => [name, (row[place] ?? "").trim()]),
      ),
    });
  }
  return points;
}

/** What was taken for granted of the table as a whole. */
export function reportTable({ columns, rows }: Table, findings: FindingList): void {
  const { places, isDegrees, isXY } = columns;
  if (isXY) {
    findings.add({
      code: "SURVEY_XY_TAKEN",
      severity: "info",
      message:
        "column x is taken as easting and y as northing; some countries' surveys mean the reverse",
      remedy: "Name the columns easting and northing if it is the other way round.",
    });
  }
  if (isDegrees) {
    findings.add({
      code: "SURVEY_DEGREES_TAKEN",
      severity: "info",
      message:
        "longitude and latitude are taken as degrees of WGS 84: the table does not say of which datum they are",
      remedy: "Pass --crs EPSG:N if they are of another.",
    });
  }
  const place = isDegrees ? places.longitude! : places.easting!;
  const comma = rows.filter((row) => hasDecimalComma(row[place] ?? "")).length;
  if (comma > 0) {
    findings.add({
      code: "SURVEY_DECIMAL_COMMA",
      severity: "info",
      message: `${comma} row(s) have a decimal comma`,
      remedy: "Nothing to do.",
    });
  }
}
