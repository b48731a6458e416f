/** A plan as writers of formats take it: features in the coordinates that are to be written. */
import type { Feature, Geometry, Position } from "geojson";
import { mapGeometry } from "../../crs/convert.ts";
import { REPLACEMENT } from "../../escape/hidden.ts";
import { type FieldType, PLAN_KINDS, type ShapeOfKind } from "../../model/plan-fields.ts";
import { type StyleName, styleNameOf } from "../style/plan-style.ts";
import type { TargetCrs } from "./target-crs.ts";

export type Properties = Readonly<Record<string, unknown>>;

/** One feature of a plan. */
export interface PlanFeature {
  readonly geometry: Geometry | null;
  /** As in `plan.geojson`, `kind` first. */
  readonly properties: Properties;
}

export interface DrawnFeature extends PlanFeature {
  readonly kind: string;
  /** How it is drawn; undefined for kinds that have no style. */
  readonly style: StyleName | undefined;
}

/** A column of a table that holds all attributes of some features. */
export interface Column {
  readonly name: string;
  readonly type: FieldType;
}

export interface DrawnPlan {
  /** Name of the site; text of others. */
  readonly name: string;
  readonly crs: TargetCrs;
  readonly features: readonly DrawnFeature[];
}

/** Features of a `plan.geojson` in the coordinates of a system. */
export function drawnPlan(
  name: string,
  features: readonly (PlanFeature | Feature<Geometry | null>)[],
  crs: TargetCrs,
): DrawnPlan {
  return {
    name,
    crs,
    features: features.map(({ geometry, properties }) => ({
      kind: String(properties?.kind),
      style: styleNameOf(properties ?? {}),
      geometry: geometry && inTarget(geometry, crs),
      properties: properties ?? {},
    })),
  };
}

function inTarget(geometry: Geometry, crs: TargetCrs): Geometry {
  return crs.epsg === 4326 ? geometry : mapGeometry(geometry, crs.fromWgs84);
}

/** Features of each kind, kinds in the order in which they are drawn in `plan.geojson`. */
export function byKind(features: readonly DrawnFeature[]): Map<string, DrawnFeature[]> {
  const kinds = new Map<string, DrawnFeature[]>();
  for (const feature of features) {
    const list = kinds.get(feature.kind);
    if (list) list.push(feature);
    else kinds.set(feature.kind, [feature]);
  }
  return kinds;
}

/** Point, line or area: of our kinds by the table of kinds, of others by what they hold. */
export function shapeOf({ kind, geometry }: DrawnFeature): ShapeOfKind | undefined {
  if (Object.hasOwn(PLAN_KINDS, kind)) return PLAN_KINDS[kind]!.shape;
  if (geometry === null || geometry.type === "GeometryCollection") return undefined;
  if (geometry.type.endsWith("Point")) return "point";
  return geometry.type.endsWith("String") ? "line" : "area";
}

/**
 * The columns that hold the attributes of features: ours in the order of the table of kinds with its
 * types, then any others by the values they have. A name that is a number in one kind and text in
 * another is text.
 */
export function columnsOf(features: readonly DrawnFeature[]): Column[] {
  const columns = new Map<string, FieldType>([["kind", "text"]]);
  const kinds = new Set(features.map((feature) => feature.kind));
  const held = new Set(features.flatMap(({ properties }) => Object.keys(properties)));
  const add = (name: string, type: FieldType) => {
    const known = columns.get(name);
    columns.set(name, known === undefined || known === type ? type : "text");
  };
  for (const kind of kinds) {
    for (const { name, type } of fieldsOf(kind)) if (held.has(name)) add(name, type);
  }
  for (const { kind, properties } of features) {
    const ours = new Set(fieldsOf(kind).map((field) => field.name));
    for (const [name, value] of Object.entries(properties)) {
      if (name === "kind" || ours.has(name) || value === null || value === undefined) continue;
      add(name, typeOfValue(value));
    }
  }
  return [...columns].map(([name, type]) => ({ name, type }));
}

const fieldsOf = (kind: string) =>
  Object.hasOwn(PLAN_KINDS, kind) ? PLAN_KINDS[kind]!.fields : [];

function typeOfValue(value: unknown): FieldType {
  if (typeof value === "number") return "number";
  if (typeof value === "boolean") return "flag";
  return typeof value === "string" ? "text" : "data";
}

/** Halves of letters, which no UTF-8 can hold. */
const LONE_SURROGATES = /\p{Cs}/gu;

/** A value as a column of some type holds it: values of several parts as JSON text. */
export function cellOf(properties: Properties, { name, type }: Column) {
  const value = properties[name];
  if (value === null || value === undefined) return null;
  if (type === "number") return typeof value === "number" && Number.isFinite(value) ? value : null;
  if (type === "flag") return typeof value === "boolean" ? value : null;
  const text = typeof value === "object" ? JSON.stringify(value) : String(value);
  return text.replace(LONE_SURROGATES, REPLACEMENT);
}

/** Polygons of a geometry. */
export function polygonsOf(geometry: Geometry): Position[][][] {
  if (geometry.type === "Polygon") return [geometry.coordinates];
  return geometry.type === "MultiPolygon" ? geometry.coordinates : [];
}
