/**
 * A plan of ours as it was before a format held it: names of attributes at full length, numbers and
 * truth values as such, shapes of the type that their kind has.
 */
import type { Geometry, Position } from "geojson";
import { csvTextOf } from "../escape/csv.ts";
import type { RawFeature, RawLayer } from "../model/features.ts";
import { longName, type PlanField, type PlanKind, planKindOf } from "../model/plan-fields.ts";

/** What readers of these formats add to the attributes of a feature. */
const OF_FORMAT: Readonly<Record<string, RegExp>> = {
  kml: /^(name|description|visibility|icon|altitudeMode|tessellate|style(Url|Hash|MapHash)|(stroke|fill)(-width|-opacity)?)$/,
  gpx: /^(name|cmt|desc|type|time|keywords|sym|links|coordTimes|ele)$/,
  dxf: /^(entity|handle|block|joined)$/,
  "wkt-table": /^(easting|northing|longitude|latitude|crs)$/,
};

/** The layers with every feature of a plan's kinds restored; other features as they are. */
export function withPlanFeatures(layers: readonly RawLayer[]): RawLayer[] {
  return layers.map((layer) => ({
    ...layer,
    features: layer.features.map((feature) => restored(feature, layer.format)),
  }));
}

function restored(feature: RawFeature, format: string): RawFeature {
  const kind = planKindOf(feature.properties);
  if (kind === undefined) return feature;
  const { number, id, geometry } = feature;
  return {
    number,
    ...(id === undefined ? {} : { id }),
    geometry: geometry === null ? null : shapeOf(geometry, kind),
    properties: attributesOf(feature.properties, kind, format),
  };
}

function attributesOf(
  held: Readonly<Record<string, unknown>>,
  kind: PlanKind,
  format: string,
): Record<string, unknown> {
  const values = new Map(
    Object.entries(held).map(([name, value]) => [
      format === "shapefile" ? longName(name) : name,
      format === "wkt-table" && typeof value === "string" ? csvTextOf(value) : value,
    ]),
  );
  const properties: Record<string, unknown> = { kind: held.kind };
  const isSaid = (name: string | undefined) =>
    name !== undefined && ![undefined, null, ""].includes(values.get(name) as string | null);
  for (const field of kind.fields) {
    const value = typed(values.get(field.name), field);
    if (value !== undefined) properties[field.name] = value;
    else if (field.always || isSaid(field.with)) properties[field.name] = null;
  }
  for (const field of kind.fields) values.delete(field.name);
  values.delete("kind");
  for (const [name, value] of values) {
    const isNothing = value === null || value === undefined || value === "";
    if (!isNothing && !OF_FORMAT[format]?.test(name)) properties[name] = value;
  }
  return properties;
}

/** The value as the field's type has it; undefined for none. What does not fit stays what it is. */
function typed(value: unknown, { type }: PlanField): unknown {
  if (value === undefined || value === null || value === "") return undefined;
  if (type === "text") return typeof value === "object" ? value : String(value);
  if (type === "number") {
    const number = typeof value === "object" ? Number.NaN : Number(value);
    return Number.isFinite(number) ? number : value;
  }
  if (type === "flag") {
    if (typeof value === "boolean") return value;
    if (/^(1|true|t|yes|y)$/i.test(String(value))) return true;
    return /^(0|false|f|no|n)$/i.test(String(value)) ? false : value;
  }
  return typeof value === "string" ? dataOf(value) : value;
}

function dataOf(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return text;
  }
}

const flat = ([x, y]: Position): Position => [x!, y!];

/** Lines from rings and areas from closed lines, as formats hold them; heights are no part of a plan. */
function shapeOf(geometry: Geometry, { shape }: PlanKind): Geometry {
  switch (geometry.type) {
    case "Point":
      return { type: "Point", coordinates: flat(geometry.coordinates) };
    case "LineString": {
      const line = geometry.coordinates.map(flat);
      return shape === "area" && isRing(line)
        ? { type: "Polygon", coordinates: [wound(line, true)] }
        : { type: "LineString", coordinates: line };
    }
    case "MultiLineString":
      return geometry.coordinates.length === 1
        ? shapeOf(
            { type: "LineString", coordinates: geometry.coordinates[0]! },
            { shape, fields: [] },
          )
        : {
            type: "MultiLineString",
            coordinates: geometry.coordinates.map((one) => one.map(flat)),
          };
    case "Polygon":
      return shape === "line" && geometry.coordinates.length === 1
        ? { type: "LineString", coordinates: geometry.coordinates[0]!.map(flat) }
        : { type: "Polygon", coordinates: rings(geometry.coordinates) };
    case "MultiPolygon":
      return geometry.coordinates.length === 1
        ? shapeOf({ type: "Polygon", coordinates: geometry.coordinates[0]! }, { shape, fields: [] })
        : { type: "MultiPolygon", coordinates: geometry.coordinates.map(rings) };
    default:
      return geometry;
  }
}

/** Exterior anticlockwise, holes clockwise (RFC 7946, 3.1.6); some formats want the reverse. */
function rings(polygon: readonly Position[][]): Position[][] {
  return polygon.map((ring, i) => wound(ring.map(flat), i === 0));
}

function isRing(line: readonly Position[]): boolean {
  const [first, last] = [line[0], line.at(-1)];
  return line.length > 3 && first?.[0] === last?.[0] && first?.[1] === last?.[1];
}

function wound(ring: Position[], anticlockwise: boolean): Position[] {
  const [x0, y0] = ring[0] ?? [0, 0];
  let twice = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [x1, y1] = ring[i]!;
    const [x2, y2] = ring[i + 1]!;
    twice += (x1! - x0!) * (y2! - y0!) - (x2! - x0!) * (y1! - y0!);
  }
  return twice > 0 === anticlockwise ? ring : ring.reverse();
}
