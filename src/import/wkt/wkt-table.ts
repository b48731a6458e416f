import { csvTextOf } from "../../escape/csv.ts";
import type { CrsDeclaration, InputFile, RawFeature, RawLayer } from "../../model/features.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import { fieldsOf, reportNullGeometries } from "../members.ts";
import { isUnsafeName, unsafeNameFinding } from "../names.ts";
import { FindingList, inputProblem, type ReadContext, type Reader, stemOf } from "../reader.ts";
import { takeFeature } from "../take-feature.ts";
import { decodeText, headOf } from "../text.ts";
import { readWkt } from "./wkt-geometry.ts";

const DELIMITERS = [",", ";", "\t"] as const;
const SHAPE_HEADING = /^\uFEFF?"?(wkt|geom|geometry|the_geom)"?$/i;
const CRS_HEADING = /^(crs|srs)$/i;

/** The delimiter by which the first row has a heading for shapes; undefined where none gives one. */
function delimiterOf(head: string): string | undefined {
  const first = /^[^\r\n]*/.exec(head)?.[0] ?? "";
  return DELIMITERS.find((delimiter) =>
    first.split(delimiter).some((heading) => SHAPE_HEADING.test(heading.trim())),
  );
}

/** Whether a text is a table with a column of shapes. */
export function isWktTable(bytes: Uint8Array): boolean {
  return delimiterOf(headOf(bytes)) !== undefined;
}

/** The system that a column names, where all rows name the same. */
function crsOf(values: readonly string[]): CrsDeclaration {
  const names = new Set(values.filter((value) => value !== "").map(csvTextOf));
  const [name] = names;
  if (name === undefined || names.size > 1) return { kind: "none" };
  const code = /^EPSG:(\d+)$/i.exec(name)?.[1];
  return code === undefined
    ? { kind: "definition", text: name, from: "column crs" }
    : { kind: "epsg", code: Number(code), from: "column crs" };
}

async function readWktTable(input: InputFile, context: ReadContext): Promise<Outcome<RawLayer[]>> {
  const file = input.name;
  if (input.bytes.length > context.textBytesMax) {
    return failed(
      inputProblem(
        file,
        "FILE_TOO_LARGE",
        `the file is ${input.bytes.length} bytes long; at most ${context.textBytesMax} are read`,
        "Cut it to the site.",
      ),
    );
  }
  const { text } = decodeText(input.bytes);
  const { default: parser } = await import("papaparse");
  const { data } = parser.parse(text, { delimiter: delimiterOf(text) ?? "," });
  const headings = (data[0] ?? []).map((heading) => heading.replace(/^\uFEFF/, "").trim());
  const shapeAt = headings.findIndex((heading) => SHAPE_HEADING.test(heading));
  const crsAt = headings.findIndex((heading) => CRS_HEADING.test(heading));
  const layer = stemOf(file);
  const findings = new FindingList(file);
  if (headings.some(isUnsafeName)) findings.all.push(unsafeNameFinding(file, layer));
  const rows = data.slice(1).filter((row) => row.some((cell) => cell !== ""));
  const features: RawFeature[] = [];
  for (const [index, row] of rows.entries()) {
    const number = index + 1;
    const cell = row[shapeAt]?.trim() ?? "";
    const read = cell === "" ? ({ kind: "geometry", geometry: null } as const) : readWkt(cell);
    if (read.kind === "damaged") {
      findings.add({
        code: "GEOMETRY_DAMAGED",
        severity: "error",
        layer,
        feature: `#${number}`,
        message: `feature ${number} is left out: its shape cannot be read: ${read.why}`,
        remedy: "Correct the text of that shape, or export the table again.",
      });
      continue;
    }
    const properties: Record<string, unknown> = {};
    for (const [place, heading] of headings.entries()) {
      if (place === shapeAt || heading === "" || isUnsafeName(heading)) continue;
      properties[heading] ??= row[place] ?? "";
    }
    const raw = { number, geometry: read.geometry, properties };
    for (const feature of takeFeature(raw, findings, layer)) features.push(feature);
  }
  reportNullGeometries(features, findings, layer);
  const crs = crsAt < 0 ? ({ kind: "none" } as const) : crsOf(rows.map((row) => row[crsAt] ?? ""));
  const about = { file, format: "wkt-table", layer, features, featuresInFile: rows.length };
  return done([{ ...about, fields: fieldsOf(features), crs }], findings.all);
}

/** A table (CSV) in which a column has shapes as well-known text. See docs/formats/csv-wkt.md. */
export const wktTableReader: Reader = {
  id: "wkt-table",
  label: "table with WKT",
  extensions: [".csv"],
  bytesMax: "textBytesMax",
  looksLike: isWktTable,
  read: readWktTable,
};
