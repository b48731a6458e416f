/** KML 2.2 (OGC 07-147r2) and KMZ: a plan with styles, in folders by loop and kind. */
import { strToU8, zipSync } from "fflate";
import type { Geometry, Position } from "geojson";
import { kmlDescription, kmlText } from "../../escape/kml.ts";
import { xmlAttribute } from "../../escape/xml.ts";
import { decimalText } from "../exchange/decimals.ts";
import {
  byKind,
  type Column,
  cellOf,
  columnsOf,
  type DrawnFeature,
  type DrawnPlan,
  polygonsOf,
} from "../exchange/drawn-plan.ts";
import { labelOf } from "../exchange/label.ts";
import type { Loss, Written } from "../exchange/written.ts";
import { ZIP_TIME } from "../exchange/zip-time.ts";
import { STYLE_NAMES, type StyleName, styleNamed } from "../style/plan-style.ts";
import { iconFiles, iconName } from "./icons.ts";
import { kmlStyle } from "./kml-style.ts";

/** One KML document. Icons lie in a KMZ only: nothing is fetched from anywhere. */
export function writeKml(plan: DrawnPlan): Written {
  const bytes = strToU8(document(plan, { isTyped: true, icon: () => undefined }));
  const losses = [...drawingLosses(plan), ...markerLosses(plan)];
  return {
    files: [{ name: "plan.kml", bytes }],
    features: plan.features.length,
    losses,
  };
}

/**
 * The same in an archive, with icons of our own for the markers. Attributes are plain `Data`, as readers
 * in wide use look for types in a KML file, but not in an archive.
 */
export function writeKmz(plan: DrawnPlan): Written {
  const used = new Set(plan.features.flatMap(({ style }) => style ?? []));
  const icons = iconFiles([...used]);
  const icon = (name: StyleName) => (icons.has(name) ? iconName(name) : undefined);
  const main = strToU8(document(plan, { isTyped: false, icon }));
  const entries: Record<string, Uint8Array> = { "doc.kml": main };
  for (const [name, png] of icons) entries[iconName(name)] = png;
  return {
    files: [{ name: "plan.kmz", bytes: zipSync(entries, { mtime: ZIP_TIME }) }],
    features: plan.features.length,
    losses: [
      ...drawingLosses(plan),
      { features: plan.features.length, what: "types of attributes, which are text in KMZ" },
    ],
  };
}

function drawingLosses({ features }: DrawnPlan): Loss[] {
  const plain = features.filter(({ style }) => {
    const { stroke, fill } = style === undefined ? {} : styleNamed(style);
    return stroke?.dashMm !== undefined || fill?.hatch !== undefined;
  });
  return plain.length === 0
    ? []
    : [{ features: plain.length, what: "dashes and hatches: KML draws solid lines and fills" }];
}

function markerLosses({ features }: DrawnPlan): Loss[] {
  const marked = features.filter(({ style }) => style && styleNamed(style).marker);
  return marked.length === 0
    ? []
    : [
        {
          features: marked.length,
          what: "shapes of markers: a KML file holds no icons (KMZ does), and shows those of the viewer",
        },
      ];
}

interface Means {
  /** Whether attributes have their types, by a Schema. */
  readonly isTyped: boolean;
  /** Where a style's icon lies. */
  readonly icon: (name: StyleName) => string | undefined;
}

function document(plan: DrawnPlan, { isTyped, icon }: Means): string {
  const kinds = byKind(plan.features);
  const schemas = new Map(
    [...kinds].map(([kind, features], i) => [
      kind,
      { id: /^[a-z][a-z-]*$/.test(kind) ? kind : `kind-${i + 1}`, columns: columnsOf(features) },
    ]),
  );
  const used = STYLE_NAMES.filter((name) => plan.features.some(({ style }) => style === name));
  const placemark = (feature: DrawnFeature) =>
    placemarkOf(feature, schemas.get(feature.kind)!, isTyped);
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<kml xmlns="http://www.opengis.net/kml/2.2">',
    "<Document>",
    `<name>${kmlText(plan.name)}</name>`,
    "<open>1</open>",
    ...used.map((name) => kmlStyle(name, icon(name))),
    ...(isTyped ? [...schemas.values()].map(schemaOf) : []),
    ...folders(plan.features).map((folder) => folderText(folder, placemark)),
    "</Document>",
    "</kml>",
    "",
  ].join("\n");
}

interface Folder {
  readonly name: string;
  readonly folders: readonly Folder[];
  readonly features: readonly DrawnFeature[];
}

/** A folder for each loop with one for each kind in it; then what belongs to no loop, by kind. */
function folders(features: readonly DrawnFeature[]): Folder[] {
  const loops = new Map<string, DrawnFeature[]>();
  const others: DrawnFeature[] = [];
  for (const feature of features) {
    const { loop } = feature.properties;
    if (typeof loop !== "string") others.push(feature);
    else if (loops.has(loop)) loops.get(loop)!.push(feature);
    else loops.set(loop, [feature]);
  }
  return [
    ...[...loops].map(([loop, held]) => ({
      name: `Loop ${loop}`,
      folders: kindFolders(held),
      features: [],
    })),
    ...kindFolders(others),
  ];
}

function kindFolders(features: readonly DrawnFeature[]): Folder[] {
  return [...byKind(features)].map(([kind, held]) => ({
    name: kind.charAt(0).toUpperCase() + kind.slice(1).replaceAll("-", " "),
    folders: [],
    features: held,
  }));
}

function folderText(folder: Folder, placemark: (feature: DrawnFeature) => string): string {
  return [
    "<Folder>",
    `<name>${kmlText(folder.name)}</name>`,
    ...folder.folders.map((inner) => folderText(inner, placemark)),
    ...folder.features.map(placemark),
    "</Folder>",
  ].join("\n");
}

interface Schema {
  readonly id: string;
  readonly columns: readonly Column[];
}

const TYPES = { text: "string", number: "double", flag: "bool", data: "string" } as const;

function schemaOf({ id, columns }: Schema): string {
  const fields = columns.map(
    ({ name, type }) => `<SimpleField type="${TYPES[type]}" name="${xmlAttribute(name)}"/>`,
  );
  return `<Schema name="${id}" id="${id}">${fields.join("")}</Schema>`;
}

/** Elements in the order of the schema: name, description, styleUrl, ExtendedData, geometry. */
function placemarkOf(feature: DrawnFeature, { id, columns }: Schema, isTyped: boolean): string {
  const { properties, style, geometry } = feature;
  const cells = columns.flatMap((column) => {
    const value = cellOf(properties, column);
    if (value === null) return [];
    const [name, text] = [xmlAttribute(column.name), kmlText(String(value))];
    return isTyped
      ? [`<SimpleData name="${name}">${text}</SimpleData>`]
      : [`<Data name="${name}"><value>${text}</value></Data>`];
  });
  const data = isTyped
    ? `<SchemaData schemaUrl="#${id}">${cells.join("")}</SchemaData>`
    : cells.join("");
  const told = [properties.message, properties.remedy, properties.reason]
    .filter((text) => typeof text === "string")
    .map((text) => kmlDescription(text));
  return [
    "<Placemark>",
    `<name>${kmlText(labelOf(feature))}</name>`,
    told.length > 0 ? `<description>${told.join(" ")}</description>` : "",
    style === undefined ? "" : `<styleUrl>#${style}</styleUrl>`,
    `<ExtendedData>${data}</ExtendedData>`,
    geometry === null ? "" : geometryText(geometry),
    "</Placemark>",
  ].join("");
}

function geometryText(geometry: Geometry): string {
  switch (geometry.type) {
    case "Point":
      return `<Point>${coordinates([geometry.coordinates])}</Point>`;
    case "LineString":
      return `<LineString><tessellate>1</tessellate>${coordinates(geometry.coordinates)}</LineString>`;
    case "Polygon":
      return polygonText(geometry.coordinates);
    case "MultiPolygon":
      return `<MultiGeometry>${polygonsOf(geometry).map(polygonText).join("")}</MultiGeometry>`;
    case "MultiPoint":
      return `<MultiGeometry>${geometry.coordinates.map((at) => geometryText({ type: "Point", coordinates: at })).join("")}</MultiGeometry>`;
    case "MultiLineString":
      return `<MultiGeometry>${geometry.coordinates.map((line) => geometryText({ type: "LineString", coordinates: line })).join("")}</MultiGeometry>`;
    default:
      return `<MultiGeometry>${geometry.geometries.map(geometryText).join("")}</MultiGeometry>`;
  }
}

function polygonText([shell, ...holes]: readonly Position[][]): string {
  const ring = (positions: readonly Position[]) =>
    `<LinearRing>${coordinates(positions)}</LinearRing>`;
  const outer = `<outerBoundaryIs>${ring(shell ?? [])}</outerBoundaryIs>`;
  const inner = holes.map((hole) => `<innerBoundaryIs>${ring(hole)}</innerBoundaryIs>`);
  return `<Polygon><tessellate>1</tessellate>${outer}${inner.join("")}</Polygon>`;
}

function coordinates(positions: readonly Position[]): string {
  const text = positions.map(([lon, lat]) => `${decimalText(lon!, 9)},${decimalText(lat!, 9)}`);
  return `<coordinates>${text.join(" ")}</coordinates>`;
}
