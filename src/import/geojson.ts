import type { InputFile, RawLayer } from "../model/features.ts";
import { failed, type Outcome } from "../model/finding.ts";
import { declaredCrs } from "./geojson-crs.ts";
import { layerOfFeatures, REMEDY_EXPORT } from "./geojson-layer.ts";
import { parseJson } from "./json.ts";
import { FindingList, inputProblem, type Reader, type ReadLimits, stemOf } from "./reader.ts";
import { headOf } from "./text.ts";

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

function readGeoJson(input: InputFile, limits: ReadLimits): Outcome<RawLayer[]> {
  const file = input.name;
  const parsed = parseJson(file, input.bytes, limits);
  if (!parsed.ok) return parsed;
  const root = parsed.value;
  const held = featuresOf(root);
  if (!Array.isArray(held)) {
    return failed(inputProblem(file, held.code, held.message, held.remedy));
  }
  const findings = new FindingList(file);
  const name = (root as { name?: unknown }).name;
  const layer = typeof name === "string" && name.trim() !== "" ? name.trim() : stemOf(file);
  const crs = declaredCrs(root as object, findings, layer);
  return layerOfFeatures({ file, format: "geojson", layer, crs }, held, findings);
}

/** GeoJSON, RFC 7946 and the 2008 format before it. See docs/formats/geojson.md. */
export const geojsonReader: Reader = {
  id: "geojson",
  label: "GeoJSON",
  extensions: [".geojson", ".json"],
  looksLike: (bytes) => /^[\uFEFF\s]*[{[]/.test(headOf(bytes, 64)),
  read: readGeoJson,
};
