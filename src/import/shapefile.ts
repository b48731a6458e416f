import type { InputFile, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import {
  extensionOf,
  FindingList,
  inputProblem,
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

/** All shapefiles of an archive, in the archive's order. */
function setsInZip(input: InputFile, limits: ReadLimits): Outcome<ShapefileSet[]> {
  const wanted = (name: string) => PARTS.includes(extensionOf(name));
  const entries = unzip(input.name, input.bytes, limits, wanted);
  if (!entries.ok) return entries;
  const sets: ShapefileSet[] = [];
  for (const [name, bytes] of entries.value) {
    if (extensionOf(name) !== ".shp") continue;
    const path = name.slice(0, -4).toLowerCase();
    const others: Record<string, Uint8Array> = {};
    for (const [other, content] of entries.value) {
      const ending = extensionOf(other);
      if (other.slice(0, other.length - ending.length).toLowerCase() === path) {
        others[ending] = content;
      }
    }
    sets.push(setOf(input.name, stemOf(name), bytes, others));
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

async function readShapefile(input: InputFile, limits: ReadLimits): Promise<Outcome<RawLayer[]>> {
  const sets = setsOf(input, limits);
  if (!sets.ok) return sets;
  const findings = new FindingList(input.name);
  const layers: RawLayer[] = [];
  for (const set of sets.value) {
    const layer = await readShapefileLayer(set, findings);
    if (!layer.ok) return layer;
    layers.push(layer.value);
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
