import type { InputFile, RawLayer } from "../model/features.ts";
import { failed, type Outcome } from "../model/finding.ts";
import { declaredCrs } from "./geojson-crs.ts";
import { layerOfFeatures, REMEDY_EXPORT } from "./geojson-layer.ts";
import { jsonRefusal, jsonValue, parseJson, tooDeepProblem } from "./json.ts";
import { FindingList, inputProblem, type ReadContext, type Reader, stemOf } from "./reader.ts";
import { type SplitFeatures, splitFeatures } from "./split-features.ts";
import { asUtf8, headOf } from "./text.ts";

/** Progress is told once in so many features (bounds count twice). */
const FEATURES_A_STEP = 4000;

const GEOMETRY_TYPES = new Set([
  "Point",
  "MultiPoint",
  "LineString",
  "MultiLineString",
  "Polygon",
  "MultiPolygon",
  "GeometryCollection",
]);

/** The features of any GeoJSON object, or why it is none. */
export function featuresOf(
  root: unknown,
): unknown[] | { code: string; message: string; remedy: string } {
  const notGeoJson = (message: string, remedy = REMEDY_EXPORT) => ({
    code: "NOT_GEOJSON",
    message,
    remedy,
  });
  if (root === null || typeof root !== "object") {
    return notGeoJson("JSON, but not GeoJSON: a GeoJSON file holds one object with a type");
  }
  if (Array.isArray(root)) {
    return notGeoJson(
      "JSON, but not GeoJSON: a bare list, where a FeatureCollection would hold the list",
      'Put the list into {"type": "FeatureCollection", "features": […]}.',
    );
  }
  const { type, features } = root as { type?: unknown; features?: unknown };
  if (type === "FeatureCollection") {
    if (Array.isArray(features)) return features;
    return notGeoJson('a FeatureCollection whose "features" is not a list');
  }
  if (type === "Feature") return [root];
  if (typeof type === "string" && GEOMETRY_TYPES.has(type)) {
    return [{ type: "Feature", properties: {}, geometry: root }];
  }
  if (type === "Topology") {
    return {
      code: "TOPOJSON_NOT_READ",
      message: "this is TopoJSON, which shares edges between shapes, not GeoJSON",
      remedy: "Convert it to GeoJSON first.",
    };
  }
  return type === undefined
    ? notGeoJson('JSON, but not GeoJSON: it has no member "type"')
    : notGeoJson(
        `JSON, but not GeoJSON: its type is ${JSON.stringify(type)}`,
        "A GeoJSON type is FeatureCollection, Feature or a geometry type, spelt exactly so.",
      );
}

/** A feature's text that is no JSON: the file is then parsed whole, which says what is wrong. */
class BrokenText extends Error {
  readonly place: string;

  constructor(bytes: Uint8Array, number: number, offset: number) {
    super();
    let line = 1;
    for (let at = bytes.indexOf(0x0a); at >= 0 && at < offset; at = bytes.indexOf(0x0a, at + 1))
      line++;
    this.place = `feature ${number}, which begins on line ${line}`;
  }
}

/** The features of a collection, parsed one by one. */
function* parsedFeatures(
  bytes: Uint8Array,
  { bounds }: SplitFeatures,
  context: ReadContext,
): Generator<unknown> {
  const decoder = new TextDecoder();
  for (let i = 0; i < bounds.length; i += 2) {
    const text = decoder.decode(bytes.subarray(bounds[i], bounds[i + 1]));
    let value: unknown;
    try {
      value = jsonValue(text);
    } catch {
      throw new BrokenText(bytes, i / 2 + 1, bounds[i]!);
    }
    yield value;
    if (i % FEATURES_A_STEP === 0) context.onShare?.(bounds[i]! / bytes.length);
  }
}

/** The layer of any GeoJSON object. */
function layerOfRoot(
  file: string,
  root: unknown,
  features: Iterable<unknown> | undefined,
): Outcome<RawLayer[]> {
  const held = featuresOf(root);
  if (!Array.isArray(held)) {
    return failed(inputProblem(file, held.code, held.message, held.remedy));
  }
  const findings = new FindingList(file);
  const name = (root as { name?: unknown }).name;
  const layer = typeof name === "string" && name.trim() !== "" ? name.trim() : stemOf(file);
  const crs = declaredCrs(root as object, findings, layer);
  return layerOfFeatures({ file, format: "geojson", layer, crs }, features ?? held, findings);
}

/** A FeatureCollection feature by feature; undefined, or where it is broken, if it has to be parsed whole. */
function readCollection(
  input: InputFile,
  context: ReadContext,
): Outcome<RawLayer[]> | BrokenText | undefined {
  const bytes = asUtf8(input.bytes);
  const split = splitFeatures(bytes, context.nestingMax);
  if (split === "deep") return failed(tooDeepProblem(input.name, context.nestingMax));
  if (split === undefined) return undefined;
  try {
    const root = JSON.parse(new TextDecoder().decode(split.frame)) as unknown;
    if ((root as { type?: unknown }).type !== "FeatureCollection") return undefined;
    return layerOfRoot(input.name, root, parsedFeatures(bytes, split, context));
  } catch (error) {
    if (error instanceof BrokenText) return error;
    if (error instanceof SyntaxError) return undefined;
    throw error;
  }
}

function readGeoJson(input: InputFile, context: ReadContext): Outcome<RawLayer[]> {
  const refusal = jsonRefusal(input.name, input.bytes, context);
  if (refusal !== undefined) return failed(refusal);
  const collection = readCollection(input, context);
  if (collection !== undefined && !(collection instanceof BrokenText)) return collection;
  const parsed = parseJson(input.name, input.bytes, context);
  if (parsed.ok) return layerOfRoot(input.name, parsed.value, undefined);
  if (collection === undefined) return parsed;
  const message = `${parsed.problem.message} (in ${collection.place})`;
  return failed({ ...parsed.problem, message }, parsed.findings);
}

/** GeoJSON, RFC 7946 and the 2008 format before it. See docs/formats/geojson.md. */
export const geojsonReader: Reader = {
  id: "geojson",
  label: "GeoJSON",
  extensions: [".geojson", ".json"],
  bytesMax: "textBytesMax",
  looksLike: (bytes) => /^[\uFEFF\s]*[{[]/.test(headOf(bytes, 64)),
  read: readGeoJson,
};
