import type { Geometry } from "geojson";
import type { CrsDeclaration, RawFeature, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { type DbfTable, readDbf } from "./dbf.ts";
import { fieldsOf, reportNullGeometries } from "./members.ts";
import { PositionStore } from "./position-store.ts";
import { firstUnsound } from "./positions.ts";
import { type FindingList, inputProblem } from "./reader.ts";
import { ShapeNotes } from "./shape-notes.ts";
import {
  HEADER_BYTES,
  hasShpCode,
  READABLE_TYPES,
  readStructure,
  type ShpStructure,
  shapeTypeName,
} from "./shp-records.ts";
import { readShapes } from "./shp-shapes.ts";
import { decodeText } from "./text.ts";

/** Progress is told once in so many records. */
const RECORDS_A_STEP = 2000;

/** The files of one shapefile. */
export interface ShapefileSet {
  readonly file: string;
  readonly layer: string;
  readonly shp: Uint8Array;
  readonly dbf?: Uint8Array;
  readonly prj?: Uint8Array;
  readonly cpg?: Uint8Array;
}

function declaredCrs(set: ShapefileSet, findings: FindingList): CrsDeclaration {
  const text = set.prj === undefined ? "" : decodeText(set.prj).text.trim();
  if (text !== "") return { kind: "definition", text, from: ".prj" };
  findings.add({
    code: "PRJ_MISSING",
    severity: "warning",
    layer: set.layer,
    message:
      set.prj === undefined
        ? "there is no .prj file, so nothing says what the coordinates mean"
        : "the .prj file is empty, so nothing says what the coordinates mean",
    remedy: "Put the .prj beside the .shp, or pass --crs EPSG:N.",
  });
  return { kind: "none" };
}

function headerFault(set: ShapefileSet): string | undefined {
  if (set.shp.length < HEADER_BYTES) {
    return `it is ${set.shp.length} bytes long, less than its header of ${HEADER_BYTES}`;
  }
  return undefined;
}

/** The faults of the file as a whole, before any record is read. */
function fileProblem(set: ShapefileSet, structure: ShpStructure | undefined) {
  const short = headerFault(set);
  const truncated = short ?? structure?.truncated;
  const fail = (code: string, message: string, remedy: string) =>
    inputProblem(set.file, code, message, remedy, set.layer);
  if (set.shp.length >= 4 && !hasShpCode(set.shp)) {
    return fail(
      "NOT_SHAPEFILE",
      "it does not begin like a shapefile (file code 9994)",
      "Check that the file was downloaded whole and unpacked rightly.",
    );
  }
  if (truncated !== undefined) {
    return fail("SHP_TRUNCATED", `the .shp is cut short: ${truncated}`, "Copy or export it again.");
  }
  if (structure !== undefined && !READABLE_TYPES.has(structure.type)) {
    return fail(
      "SHAPE_TYPE_NOT_READ",
      `it holds shapes of ${shapeTypeName(structure.type)}, which are surfaces in space, not outlines`,
      "Export the outlines as polygons, lines or points.",
    );
  }
  return undefined;
}

/** One shapefile as a layer. Heights are the third number of a position, measures stand beside. */
export async function readShapefileLayer(
  set: ShapefileSet,
  findings: FindingList,
  onShare?: (share: number) => void,
): Promise<Outcome<RawLayer>> {
  const { file, layer } = set;
  const structure = headerFault(set) === undefined ? readStructure(set.shp) : undefined;
  const problem = fileProblem(set, structure);
  if (problem !== undefined || structure === undefined) {
    return failed(problem!, findings.all);
  }
  const { records } = structure;
  const crs = declaredCrs(set, findings);
  const table = await attributesOf(set, records.length, findings);
  const store = new PositionStore();
  const notes = new ShapeNotes(findings, layer);
  const features: RawFeature[] = [];
  let index = -1;
  for await (const shape of readShapes(set.shp, structure)) {
    index++;
    if (index % RECORDS_A_STEP === 0) onShare?.(records[index]!.offset / set.shp.length);
    const number = index + 1;
    if (table?.deleted.has(index)) {
      notes.deleted.push(number);
      continue;
    }
    const { state } = records[index]!;
    const fault = state.kind === "damaged" ? state.why : unsoundFault(shape.geometry);
    if (fault !== undefined) {
      notes.leftOut(number, state.kind === "damaged", fault);
      continue;
    }
    notes.note(number, shape);
    const { geometry, measures } = shape;
    const properties = table?.rows[index] ?? {};
    const feature = {
      number,
      geometry,
      properties,
      ...(measures === undefined ? {} : { measures }),
    };
    features.push(store.packed(feature));
  }
  const firstFault = findings.all.find((f) => f.severity === "error" && f.layer === layer);
  if (features.length === 0 && firstFault !== undefined) {
    return failed(
      inputProblem(
        file,
        firstFault.code,
        `none of its ${records.length} records can be used; ${firstFault.message}`,
        firstFault.remedy,
        layer,
      ),
      findings.all,
    );
  }
  notes.report();
  reportNullGeometries(features, findings, layer);
  const featuresInFile = records.length - notes.deleted.length;
  const fields = fieldsOf(features);
  return done({ file, format: "shapefile", layer, features, featuresInFile, fields, crs });
}

function unsoundFault(geometry: Geometry | null): string | undefined {
  const unsound = geometry === null ? undefined : firstUnsound(geometry);
  return unsound && `position ${unsound.place} is [${unsound.position.slice(0, 2).join(", ")}]`;
}

async function attributesOf(
  set: ShapefileSet,
  records: number,
  findings: FindingList,
): Promise<DbfTable | undefined> {
  if (set.dbf === undefined) {
    findings.add({
      code: "DBF_MISSING",
      severity: "warning",
      layer: set.layer,
      message: "there is no .dbf file: the shapes are read, but all attributes are missing",
      remedy: "Put the .dbf beside the .shp, or give roles with --role LAYER=ROLE.",
    });
    return undefined;
  }
  const table = await readDbf(set.dbf, set.cpg, findings, set.layer, set.file);
  const rows = table?.rows;
  if (rows !== undefined && rows.length !== records) {
    findings.add({
      code: "DBF_COUNT_DIFFERS",
      severity: "warning",
      layer: set.layer,
      message: `the .dbf holds ${rows.length} rows for ${records} shapes; they are matched in order`,
      remedy: "Check that .shp and .dbf belong together; export the layer again.",
    });
  }
  return table;
}
