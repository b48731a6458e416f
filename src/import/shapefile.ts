import type { InputFile, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome, type Problem } from "../model/finding.ts";
import {
  extensionOf,
  FindingList,
  inputProblem,
  type ReadContext,
  type Reader,
  type ReadLimits,
  stemOf,
} from "./reader.ts";
import { readShapefileLayer, type ShapefileSet } from "./shapefile-layer.ts";
import { hasShpCode } from "./shp-records.ts";
import { isZip, unzip, zipNames } from "./zip.ts";

const PARTS = [".shp", ".dbf", ".prj", ".cpg"];

/** Files of one stem, by ending. */
function setOf(
  file: string,
  layer: string,
  shp: Uint8Array,
  others: Readonly<Record<string, Uint8Array>>,
): ShapefileSet {
  const find = (ending: string) =>
    Object.entries(others).find(([name]) => name.toLowerCase() === ending)?.[1];
  const [dbf, prj, cpg] = [find(".dbf"), find(".prj"), find(".cpg")];
  return {
    file,
    layer,
    shp,
    ...(dbf === undefined ? {} : { dbf }),
    ...(prj === undefined ? {} : { prj }),
    ...(cpg === undefined ? {} : { cpg }),
  };
}

/** Path without its ending, in lower case: the same for all parts of one shapefile. */
function pathOf(name: string): string {
  return name.slice(0, name.length - extensionOf(name).length).toLowerCase();
}

/** Data of other formats in the archive, which are not read from there. */
const OTHER_DATA = /\.(kml|kmz|geojson|json|gpkg|gpx|fgb|dxf|csv|zip)$/i;

/** All shapefiles of an archive, in the archive's order. */
function setsInZip(input: InputFile, limits: ReadLimits): Outcome<ShapefileSet[]> {
  const wanted = (name: string) => PARTS.includes(extensionOf(name));
  const entries = unzip(input.name, input.bytes, limits, wanted);
  if (!entries.ok) return entries;
  const byPath = new Map<string, Record<string, Uint8Array>>();
  for (const [name, content] of entries.value) {
    const path = pathOf(name);
    const parts = byPath.get(path) ?? {};
    parts[extensionOf(name)] = content;
    byPath.set(path, parts);
  }
  const sets: ShapefileSet[] = [];
  for (const [name, bytes] of entries.value) {
    if (extensionOf(name) !== ".shp") continue;
    sets.push(setOf(input.name, stemOf(name), bytes, byPath.get(pathOf(name)) ?? {}));
  }
  if (sets.length > 0) return done(sets);
  const held = zipNames(input.bytes).slice(0, 5).join(", ");
  return failed(
    inputProblem(
      input.name,
      "ZIP_WITHOUT_LAYERS",
      `the archive holds no .shp and no .kml${held === "" ? "" : ` (it holds ${held})`}`,
      "Give an archive with the .shp, .dbf and .prj in it, or unpack it and give the files.",
    ),
  );
}

function setsOf(input: InputFile, limits: ReadLimits): Outcome<ShapefileSet[]> {
  if (isZip(input.bytes)) return setsInZip(input, limits);
  const ending = extensionOf(input.name);
  if (ending !== ".shp" && [".dbf", ".shx", ".prj", ".cpg"].includes(ending)) {
    return failed(
      inputProblem(
        input.name,
        "SHAPEFILE_PART",
        `this is the ${ending} of a shapefile; the shapes are in the .shp`,
        "Give the .shp, with the other files beside it, or all of them in one .zip.",
      ),
    );
  }
  return done([setOf(input.name, stemOf(input.name), input.bytes, input.siblings ?? {})]);
}

async function readShapefile(input: InputFile, context: ReadContext): Promise<Outcome<RawLayer[]>> {
  const sets = setsOf(input, context);
  if (!sets.ok) return sets;
  const findings = new FindingList(input.name);
  const layers: RawLayer[] = [];
  const problems: Problem[] = [];
  const total = sets.value.reduce((sum, { shp }) => sum + shp.length, 0);
  let before = 0;
  for (const set of sets.value) {
    const onShare = (share: number) => context.onShare?.((before + share * set.shp.length) / total);
    const layer = await readShapefileLayer(set, findings, onShare);
    if (layer.ok) layers.push(layer.value);
    else problems.push(layer.problem);
    before += set.shp.length;
  }
  if (layers.length === 0) return failed(problems[0]!, findings.all);
  // One bad layer of an archive does not take the others with it.
  for (const { kind: _, file: __, ...problem } of problems) {
    findings.add({ ...problem, severity: "error", message: `left out: ${problem.message}` });
  }
  const others = isZip(input.bytes) ? zipNames(input.bytes).filter((n) => OTHER_DATA.test(n)) : [];
  if (others.length > 0) {
    findings.add({
      code: "ZIP_ENTRIES_NOT_READ",
      severity: "warning",
      message: `beside shapefiles the archive holds ${others.length} file(s) of other formats, which are not read from it: ${others.slice(0, 5).join(", ")}`,
      remedy: "Unpack the archive and give those files too, if they belong to the site.",
    });
  }
  return done(layers, findings.all);
}

/** Shapefile: .shp with .dbf, .prj and .cpg, or the set in a .zip. See docs/formats/shapefile.md. */
export const shapefileReader: Reader = {
  id: "shapefile",
  label: "Shapefile",
  extensions: [".shp", ".zip", ".dbf", ".shx", ".prj", ".cpg"],
  looksLike: (bytes) =>
    isZip(bytes) ? zipNames(bytes).some((name) => extensionOf(name) === ".shp") : hasShpCode(bytes),
  read: readShapefile,
};
