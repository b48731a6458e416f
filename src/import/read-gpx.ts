import toGeoJson from "@mapbox/togeojson";
import type { Element } from "@xmldom/xmldom";
import type { Feature, Geometry, Position } from "geojson";
import type { InputFile, RawFeature, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { GPX_KINDS, type GpxKind, singleItem } from "./gpx-clean.ts";
import { planAttributes } from "./gpx-plan.ts";
import { childElements, localName } from "./kml-clean.ts";
import { fieldsOf, reportNullGeometries } from "./members.ts";
import { FindingList, inputProblem, type ReadContext } from "./reader.ts";
import { takeFeature } from "./take-feature.ts";
import { parseXml } from "./xml.ts";

/** Layer by element, as people call them. */
const LAYER_NAMES: Readonly<Record<GpxKind, string>> = {
  wpt: "waypoints",
  rte: "routes",
  trk: "tracks",
};

/** Latitude and longitude are on WGS 84 (GPX 1.1 schema, latitudeType and longitudeType). */
const WGS84 = { kind: "wgs84", from: "GPX" } as const;

/** One waypoint, route or track as a feature; its geometry is null where it has too few points. */
function readItem(item: Element, number: number): RawFeature {
  const feature = toGeoJson.gpx(singleItem(item)).features[0] as Feature | undefined;
  const own = planAttributes(item);
  if (feature === undefined) {
    const name = childElements(item).find((child) => localName(child) === "name")?.textContent;
    return { number, geometry: null, properties: { ...(name ? { name } : {}), ...own } };
  }
  // A line has no time of its own: the converter gives that of its first point (kept in coordTimes).
  const { links, time, ...rest } = feature.properties ?? {};
  const properties = localName(item) === "wpt" && time ? { ...rest, time } : rest;
  const hrefs = (Array.isArray(links) ? links : []).map((link: { href?: string }) => link.href);
  return {
    number,
    geometry: feature.geometry,
    properties: {
      ...properties,
      ...(hrefs.length > 0 ? { links: hrefs.join(" ") } : {}),
      ...own,
    },
  };
}

/** Tracks that come back to where they began are kept as lines: what they bound is for roles to say. */
function layerOf(
  file: string,
  kind: GpxKind,
  items: readonly Element[],
  findings: FindingList,
): RawLayer {
  const layer = LAYER_NAMES[kind];
  const features: RawFeature[] = [];
  let short = 0;
  for (const [index, item] of items.entries()) {
    const raw = readItem(item, index + 1);
    short += shortSegments(item, kind, raw.geometry);
    for (const feature of takeFeature(raw, findings, layer)) features.push(feature);
  }
  if (short > 0) {
    findings.add({
      code: "GPX_SEGMENT_SHORT",
      severity: "info",
      layer,
      message: `${short} segment(s) of a single point are left out: a line needs two`,
      remedy: "Nothing to do, unless the device lost its fix there: then walk that stretch again.",
    });
  }
  reportNullGeometries(features, findings, layer);
  return {
    file,
    format: "gpx",
    layer,
    features,
    featuresInFile: items.length,
    fields: fieldsOf(features),
    crs: WGS84,
  };
}

/** Segments of a track that have a point but are not in its geometry. */
function shortSegments(track: Element, kind: GpxKind, geometry: Geometry | null): number {
  if (kind !== "trk") return 0;
  const segments = childElements(track).filter(
    (child) =>
      localName(child) === "trkseg" &&
      childElements(child).some((point) => localName(point) === "trkpt"),
  ).length;
  const kept =
    geometry === null
      ? 0
      : geometry.type === "MultiLineString"
        ? (geometry.coordinates as Position[][]).length
        : 1;
  return segments - kept;
}

/** The layers of a GPX file: waypoints, routes, tracks. */
export function readGpx(input: InputFile, context: ReadContext): Outcome<RawLayer[]> {
  const file = input.name;
  const parsed = parseXml(file, input.bytes, context);
  if (!parsed.ok) return parsed;
  const root = parsed.value.documentElement as Element;
  if (localName(root) !== "gpx") {
    return failed(
      inputProblem(
        file,
        "NOT_GPX",
        `XML, but not GPX: its root element is <${root.nodeName}>`,
        "Export the tracks as GPX, KML or GeoJSON.",
      ),
    );
  }
  const findings = new FindingList(file);
  const layers: RawLayer[] = [];
  for (const kind of GPX_KINDS) {
    const items = childElements(root).filter((child) => localName(child) === kind);
    if (items.length > 0) layers.push(layerOf(file, kind, items, findings));
  }
  const all = [...parsed.findings, ...findings.all];
  if (layers.length > 0) return done(layers, all);
  return failed(
    inputProblem(
      file,
      "GPX_EMPTY",
      "the GPX file holds no waypoint, route or track",
      "Save the track on the device first, then export it.",
    ),
    all,
  );
}
