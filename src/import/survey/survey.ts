import type { Position } from "geojson";
import type { CrsDeclaration, InputFile, RawFeature, RawLayer } from "../../model/features.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import { CHORD_TOLERANCE_M } from "../chords.ts";
import { fieldsOf } from "../members.ts";
import { FindingList, inputProblem, type ReadContext, type Reader, stemOf } from "../reader.ts";
import { decodeText, headOf, isHtml } from "../text.ts";
import { isWktTable } from "../wkt/wkt-table.ts";
import { SURVEY_CODES, type SurveyCodes } from "./codes.ts";
import { columnsOf } from "./columns.ts";
import { drawString, type SurveyPoint, type SurveyString, stringsOf } from "./strings.ts";
import { pointsOf, reportTable, tableOf } from "./table.ts";

/** Metres in a degree along a meridian (roughly), for the tolerance of arcs. */
const DEGREE_M = 111_320;

const REMEDY =
  "Give it a first row of headings, such as number, easting, northing, height, code (or longitude, latitude).";

function positionsOf(points: readonly (readonly number[])[], hasHeights: boolean): Position[] {
  return points.map(([x, y, z]) => (hasHeights ? [x!, y!, z!] : [x!, y!]));
}

/** The attributes of a line: each the first that any of its points has. */
function propertiesOf({ points }: SurveyString): Record<string, unknown> {
  const properties: Record<string, unknown> = {};
  const first = points[0]!;
  if (points.length === 1) properties.number = first.number;
  else properties.numbers = `${first.number}–${points.at(-1)!.number}`;
  const { base, string } = first.code;
  if (base !== "") properties.code = `${base}${string}`;
  const note = points.map(({ code }) => code.note).find((text) => text !== "");
  if (note !== undefined) properties.note = note;
  for (const { attributes } of points) {
    for (const [name, value] of Object.entries(attributes)) {
      if (value !== "") properties[name] ??= value;
    }
  }
  return properties;
}

interface Drawn {
  readonly features: RawFeature[];
  readonly arcs: number;
  readonly arcsLost: number;
}

function featuresOf(
  strings: readonly SurveyString[],
  scale: readonly [number, number],
  chordToleranceM: number,
): Drawn {
  let [arcs, arcsLost] = [0, 0];
  const features = strings.map((string, index): RawFeature => {
    const hasHeights = string.points.every((point) => point.hasHeight);
    const properties = propertiesOf(string);
    const number = index + 1;
    if (string.points.length === 1) {
      const [coordinates] = positionsOf([string.points[0]!.at], hasHeights);
      return { number, geometry: { type: "Point", coordinates: coordinates! }, properties };
    }
    const drawn = drawString(string, scale, chordToleranceM);
    arcs += drawn.arcs;
    arcsLost += drawn.arcsLost;
    const coordinates = positionsOf(drawn.positions, hasHeights);
    return { number, geometry: { type: "LineString", coordinates }, properties };
  });
  return { features, arcs, arcsLost };
}

function scaleOf(points: readonly SurveyPoint[], isDegrees: boolean, unitM: number | undefined) {
  if (!isDegrees) return [unitM ?? 1, unitM ?? 1] as const;
  const latitude = ((points[0]?.at[1] ?? 0) * Math.PI) / 180;
  return [DEGREE_M * Math.cos(latitude), DEGREE_M] as const;
}

async function readSurvey(input: InputFile, context: ReadContext): Promise<Outcome<RawLayer[]>> {
  const file = input.name;
  const fail = (code: string, message: string, remedy = REMEDY) =>
    failed<RawLayer[]>(inputProblem(file, code, message, remedy));
  if (input.bytes.length > context.textBytesMax) {
    return fail(
      "FILE_TOO_LARGE",
      `the file is ${input.bytes.length} bytes long; at most ${context.textBytesMax} are read`,
      "Cut it to the site.",
    );
  }
  const { text } = decodeText(input.bytes);
  if (isHtml(text)) {
    return fail("FILE_IS_WEB_PAGE", "this is a web page (HTML), not a table of points");
  }
  const table = await tableOf(text);
  if (table === undefined) {
    return fail("SURVEY_NO_HEADINGS", "no row of headings names an easting and a northing");
  }
  const findings = new FindingList(file);
  const codes: SurveyCodes = { ...SURVEY_CODES, ...context.surveyCodes };
  const points = pointsOf(table, codes, findings);
  reportTable(table, findings);
  if (points.length === 0) {
    return failed(
      inputProblem(file, "SURVEY_NO_POINTS", "the table holds no point that can be used", REMEDY),
      findings.all,
    );
  }
  const { isDegrees, unitM } = table.columns;
  const chordToleranceM = context.chordToleranceM ?? CHORD_TOLERANCE_M;
  const strings = stringsOf(points, new Set(codes.points.map((word) => word.toLowerCase())));
  const byLayer = new Map<string, SurveyString[]>();
  const names = new Map<string, string>();
  for (const string of strings) {
    const { base } = string.points[0]!.code;
    const key = base.toLowerCase();
    if (!names.has(key)) names.set(key, base === "" ? stemOf(file) : base);
    byLayer.set(key, [...(byLayer.get(key) ?? []), string]);
  }
  const crs: CrsDeclaration = isDegrees
    ? { kind: "wgs84", from: "headings longitude and latitude" }
    : { kind: "none" };
  let [arcs, arcsLost] = [0, 0];
  const layers = [...byLayer].map(([key, held]): RawLayer => {
    const drawn = featuresOf(held, scaleOf(points, isDegrees, unitM), chordToleranceM);
    arcs += drawn.arcs;
    arcsLost += drawn.arcsLost;
    const { features } = drawn;
    const about = { file, format: "survey-points", layer: names.get(key)! };
    return {
      ...about,
      features,
      fields: fieldsOf(features),
      crs,
      ...(unitM === undefined || isDegrees ? {} : { unitM }),
    };
  });
  reportArcs(arcs, arcsLost, chordToleranceM, findings);
  return done(layers, findings.all);
}

function reportArcs(
  arcs: number,
  arcsLost: number,
  chordToleranceM: number,
  findings: FindingList,
): void {
  if (arcs > 0) {
    findings.add({
      code: "CURVES_AS_CHORDS",
      severity: "info",
      message: `${arcs} arc(s) are read as chords, none farther than ${Number((chordToleranceM * 1000).toFixed(3))} mm from the arc`,
      remedy: "Nothing to do.",
    });
  }
  if (arcsLost > 0) {
    findings.add({
      code: "SURVEY_ARC_WITHOUT_END",
      severity: "warning",
      message: `${arcsLost} point(s) are said to lie on an arc, but lack the point before or after: they are joined by straight lines`,
      remedy: "Give each arc a point before it, one on it and one after it.",
    });
  }
}

/** Measured points with codes, as a table. See docs/formats/survey-points.md. */
export const surveyReader: Reader = {
  id: "survey-points",
  label: "survey points",
  extensions: [".csv", ".tsv"],
  bytesMax: "textBytesMax",
  // A table with whole shapes is no table of points, even where it has their coordinates too.
  looksLike: (bytes) =>
    !isWktTable(bytes) &&
    headOf(bytes)
      .split(/\r?\n/)
      .some((row) => /[,;\t]/.test(row) && columnsOf(row.split(/[,;\t]/)) !== undefined),
  read: readSurvey,
};
