import type { Feature, Geometry } from "geojson";
import type { InputFile, RawFeature, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { featureFault } from "./geojson-check.ts";
import { declaredCrs } from "./geojson-crs.ts";
import { parseJson } from "./json.ts";
import { fieldsOf, reportNullGeometries, splitCollection } from "./members.ts";
import { firstUnsound, positionCount } from "./positions.ts";
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

const REMEDY_EXPORT = "Export the layer as GeoJSON (RFC 7946) from the program that made it.";

/** The features of any GeoJSON object; a string says why it is none. */
function featuresOf(root: unknown): unknown[] | { code: string; message: string; remedy: string } {
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

function asRaw(feature: Feature<Geometry | null>, number: number): RawFeature {
  const { id, properties } = feature;
  const isRecord = properties !== null && typeof properties === "object";
  const geometry = feature.geometry;
  return {
    number,
    ...(id === undefined || id === null || typeof id === "object" ? {} : { id: String(id) }),
    geometry: geometry !== null && positionCount(geometry) === 0 ? null : geometry,
    properties: isRecord && !Array.isArray(properties) ? properties : {},
  };
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
  const features: RawFeature[] = [];
  for (const [index, value] of held.entries()) {
    const number = index + 1;
    const fault = featureFault(value) ?? unsoundFault(value as Feature);
    if (fault !== undefined) {
      findings.add({
        code: fault.code,
        // A ring of two corners encloses nothing: nothing of the site is lost with it.
        severity: fault.code === "TOO_FEW_POSITIONS" ? "warning" : "error",
        layer,
        feature: `#${number}`,
        message: `feature ${number} is left out: ${fault.message}`,
        remedy: "Correct or remove that feature in the file.",
      });
      continue;
    }
    const raw = asRaw(value as Feature<Geometry | null>, number);
    for (const member of splitCollection(raw, findings, layer)) features.push(member);
  }
  const firstFault = findings.all.find(({ feature }) => feature !== undefined);
  if (features.length === 0 && firstFault !== undefined) {
    return failed(
      inputProblem(
        file,
        firstFault.code,
        `none of its ${held.length} features can be used; ${firstFault.message}`,
        REMEDY_EXPORT,
        layer,
      ),
      findings.all,
    );
  }
  reportNullGeometries(features, findings, layer);
  const featuresInFile = held.length;
  const fields = fieldsOf(features);
  return done(
    [{ file, format: "geojson", layer, features, featuresInFile, fields, crs }],
    findings.all,
  );
}

function unsoundFault(feature: Feature): { code: string; message: string } | undefined {
  if (feature.geometry === null) return undefined;
  const unsound = firstUnsound(feature.geometry);
  if (unsound === undefined) return undefined;
  return {
    code: "COORDINATE_NOT_A_NUMBER",
    message: `position ${unsound.place} is [${unsound.position.join(", ")}]`,
  };
}

/** GeoJSON, RFC 7946 and the 2008 format before it. See docs/formats/geojson.md. */
export const geojsonReader: Reader = {
  id: "geojson",
  label: "GeoJSON",
  extensions: [".geojson", ".json"],
  looksLike: (bytes) => /^[\uFEFF\s]*[{[]/.test(headOf(bytes, 64)),
  read: readGeoJson,
};
