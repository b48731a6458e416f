import type { Geometry, Position } from "geojson";
import { openShp } from "shapefile";
import type { CrsDeclaration, RawFeature, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { readDbf } from "./dbf.ts";
import { fieldsOf, reportNullGeometries } from "./members.ts";
import { firstUnsound } from "./positions.ts";
import { type FindingList, inputProblem } from "./reader.ts";
import { groupRings } from "./rings.ts";
import {
  HEADER_BYTES,
  hasShpCode,
  readStructure,
  type ShpStructure,
  shapeTypeName,
  soundCopy,
} from "./shp-records.ts";
import { decodeText } from "./text.ts";

/** The files of one shapefile. */
export interface ShapefileSet {
  readonly file: string;
  readonly layer: string;
  readonly shp: Uint8Array;
  readonly dbf?: Uint8Array;
  readonly prj?: Uint8Array;
  readonly cpg?: Uint8Array;
}

/** Points, lines, polygons and multipoints, plain, with height or with measure. */
const READABLE = new Set([0, 1, 3, 5, 8, 11, 13, 15, 18, 21, 23, 25, 28]);

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

/** Rings of a record as the library gives them, regrouped; other geometry as it is. */
function regrouped(geometry: Geometry): { geometry: Geometry | null; contrary: number } {
  let rings: Position[][];
  if (geometry.type === "Polygon") rings = geometry.coordinates;
  else if (geometry.type === "MultiPolygon") rings = geometry.coordinates.flat();
  else {
    const empty =
      (geometry.type === "MultiLineString" || geometry.type === "MultiPoint") &&
      geometry.coordinates.length === 0;
    return { geometry: empty ? null : geometry, contrary: 0 };
  }
  const sound = rings.filter((ring) => ring.length > 0);
  return sound.length === 0 ? { geometry: null, contrary: 0 } : groupRings(sound);
}

async function readGeometries(
  set: ShapefileSet,
  structure: ShpStructure,
): Promise<(Geometry | null)[]> {
  const source = await openShp(soundCopy(set.shp, structure));
  const geometries: (Geometry | null)[] = [];
  for (let next = await source.read(); !next.done; next = await source.read()) {
    geometries.push(next.value);
  }
  return geometries;
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
  if (structure !== undefined && !READABLE.has(structure.type)) {
    return fail(
      "SHAPE_TYPE_NOT_READ",
      `it holds shapes of ${shapeTypeName(structure.type)}, which are surfaces in space, not outlines`,
      "Export the outlines as polygons, lines or points.",
    );
  }
  return undefined;
}

/** One shapefile as a layer. Heights and measures of the Z and M types are not read. */
export async function readShapefileLayer(
  set: ShapefileSet,
  findings: FindingList,
): Promise<Outcome<RawLayer>> {
  const { file, layer } = set;
  const structure = headerFault(set) === undefined ? readStructure(set.shp) : undefined;
  const problem = fileProblem(set, structure);
  if (problem !== undefined || structure === undefined) {
    return failed(problem!, findings.all);
  }
  const crs = declaredCrs(set, findings);
  const rows = await attributesOf(set, structure.records.length, findings);
  const geometries = await readGeometries(set, structure);
  const features: RawFeature[] = [];
  for (const [index, record] of structure.records.entries()) {
    const number = index + 1;
    const read = geometries[index] ?? null;
    const fault = record.state.kind === "damaged" ? record.state.why : unsoundFault(read);
    if (fault !== undefined) {
      findings.add({
        code: record.state.kind === "damaged" ? "SHP_RECORD_DAMAGED" : "COORDINATE_NOT_A_NUMBER",
        severity: "error",
        layer,
        feature: `#${number}`,
        message: `record ${number} is left out: ${fault}`,
        remedy: "Repair the layer in the program that made it, and export it again.",
      });
      continue;
    }
    const { geometry, contrary } =
      read === null ? { geometry: null, contrary: 0 } : regrouped(read);
    if (contrary > 0 && geometry?.type === "MultiPolygon") reportWinding(contrary);
    else if (contrary > 0 && geometry?.type === "Polygon" && geometry.coordinates.length > 1) {
      reportWinding(contrary);
    }
    features.push({ number, geometry, properties: rows?.[index] ?? {} });

    function reportWinding(rings: number): void {
      findings.add({
        code: "RING_WINDS_OTHERWISE",
        severity: "info",
        layer,
        feature: `#${number}`,
        message: `${rings} ring(s) of record ${number} wind the other way than the format says; which are holes was told by what lies inside what`,
        remedy: "Check that the holes of that shape are where they belong.",
      });
    }
  }
  const firstFault = findings.all.find((f) => f.severity === "error" && f.layer === layer);
  if (features.length === 0 && firstFault !== undefined) {
    return failed(
      inputProblem(
        file,
        firstFault.code,
        `none of its ${structure.records.length} records can be used; ${firstFault.message}`,
        firstFault.remedy,
        layer,
      ),
      findings.all,
    );
  }
  reportNullGeometries(features, findings, layer);
  return done({
    file,
    format: "shapefile",
    layer,
    features,
    featuresInFile: structure.records.length,
    fields: fieldsOf(features),
    crs,
  });
}

function unsoundFault(geometry: Geometry | null): string | undefined {
  const unsound = geometry === null ? undefined : firstUnsound(geometry);
  return unsound && `position ${unsound.place} is [${unsound.position.slice(0, 2).join(", ")}]`;
}

async function attributesOf(
  set: ShapefileSet,
  records: number,
  findings: FindingList,
): Promise<Record<string, unknown>[] | undefined> {
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
  const rows = await readDbf(set.dbf, set.cpg, findings, set.layer);
  if (rows !== undefined && rows.length !== records) {
    findings.add({
      code: "DBF_COUNT_DIFFERS",
      severity: "warning",
      layer: set.layer,
      message: `the .dbf holds ${rows.length} rows for ${records} shapes; they are matched in order`,
      remedy: "Check that .shp and .dbf belong together; export the layer again.",
    });
  }
  return rows;
}
