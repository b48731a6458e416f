/** GPX 1.1: points as waypoints, wire and other lines as tracks, for handheld receivers. */
import { strToU8 } from "fflate";
import type { Position } from "geojson";
import { xmlText } from "../../escape/xml.ts";
import { GPX_PLAN_NAMESPACE } from "../../import/gpx-plan.ts";
import { linesOf } from "../../model/lines-of.ts";
import { decimalText } from "../exchange/decimals.ts";
import {
  type Column,
  cellOf,
  columnsOf,
  type DrawnFeature,
  type DrawnPlan,
  shapeOf,
} from "../exchange/drawn-plan.ts";
import { labelOf } from "../exchange/label.ts";
import type { Loss, Written } from "../exchange/written.ts";

export function writeGpx(plan: DrawnPlan): Written {
  const columns = columnsOf(plan.features).filter(({ name }) => isXmlName(name));
  const points = plan.features.filter((one) => one.geometry?.type === "Point");
  const tracks = plan.features.filter(isTrack);
  const unnamed = columnsOf(plan.features).length - columns.length;
  const areas = plan.features.filter((one) => shapeOf(one) === "area" && !isTrack(one));
  const placeless = plan.features.filter((one) => one.geometry === null);
  const rest =
    plan.features.length - points.length - tracks.length - areas.length - placeless.length;
  const losses: readonly Loss[] = [
    { features: areas.length, what: "areas: GPX has points and lines only" },
    { features: placeless.length, what: "features without a place" },
    { features: rest, what: "shapes of several points or lines" },
    {
      features: unnamed > 0 ? plan.features.length : 0,
      what: `${unnamed} attribute(s) whose names cannot be names in XML`,
    },
    { features: points.length + tracks.length, what: "styles: GPX has no colours of its own" },
  ];
  const text = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<gpx version="1.1" creator="pegline" xmlns="http://www.topografix.com/GPX/1/1" xmlns:p="${GPX_PLAN_NAMESPACE}">`,
    `<metadata><name>${xmlText(plan.name)}</name></metadata>`,
    ...points.map((point) => waypoint(point, columns)),
    ...tracks.map((track) => trackText(track, columns)),
    "</gpx>",
    "",
  ].join("\n");
  return {
    files: [{ name: "plan.gpx", bytes: strToU8(text) }],
    features: points.length + tracks.length,
    losses: losses.filter(({ features }) => features > 0),
  };
}

/** Lines, and areas of one ring, which is how exclusion loops lie. */
function isTrack(feature: DrawnFeature): boolean {
  const { geometry, kind } = feature;
  if (geometry === null) return false;
  if (geometry.type === "LineString" || geometry.type === "MultiLineString") return true;
  return kind === "exclusion-loop" && linesOf(geometry).length === 1;
}

/** Names of attributes become names of elements. */
const isXmlName = (name: string) => /^[A-Za-z_][\w.-]*$/.test(name);

/** Children in the order of the schema (wptType): ele, name, desc, type, extensions. */
function waypoint(feature: DrawnFeature, columns: readonly Column[]): string {
  const { geometry, properties } = feature;
  const [lon, lat] = (geometry as { coordinates: Position }).coordinates;
  const { height_m: heightM } = properties;
  const ele = typeof heightM === "number" ? `<ele>${decimalText(heightM, 3)}</ele>` : "";
  return `<wpt ${place(lon!, lat!)}>${ele}${about(feature, columns)}</wpt>`;
}

/** Children in the order of the schema (trkType): name, desc, type, extensions, trkseg. */
function trackText(feature: DrawnFeature, columns: readonly Column[]): string {
  const segments = linesOf(feature.geometry!).map((line) => {
    const points = line.map(([lon, lat]) => `<trkpt ${place(lon!, lat!)}/>`);
    return `<trkseg>${points.join("")}</trkseg>`;
  });
  return `<trk>${about(feature, columns)}${segments.join("")}</trk>`;
}

const place = (lon: number, lat: number) =>
  `lat="${decimalText(lat, 9)}" lon="${decimalText(lon, 9)}"`;

function about(feature: DrawnFeature, columns: readonly Column[]): string {
  const { properties, kind } = feature;
  const told = [properties.message, properties.remedy].filter((one) => typeof one === "string");
  const cells = columns.flatMap((column) => {
    const value = cellOf(properties, column);
    return value === null ? [] : [`<p:${column.name}>${xmlText(String(value))}</p:${column.name}>`];
  });
  return [
    `<name>${xmlText(labelOf(feature))}</name>`,
    told.length > 0 ? `<desc>${xmlText(told.join(" "))}</desc>` : "",
    `<type>${xmlText(kind)}</type>`,
    `<extensions>${cells.join("")}</extensions>`,
  ].join("");
}
