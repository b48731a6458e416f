import type { RawFeature } from "../model/features.ts";
import type { SourceRef } from "../model/finding.ts";
import { EDGE_KINDS, type EdgeKind } from "../model/roles.ts";
import { RUN_COST_MAX } from "../model/run-ground.ts";
import { lengthM } from "./lengths.ts";
import type { Note } from "./notes.ts";

/** Attributes of a feature by lower-case name; empty and null ones left out. */
export type Fields = ReadonlyMap<string, unknown>;

/** What a feature's attributes say, checked and in metres. */
export interface Attributes {
  readonly name?: string;
  readonly heightM?: number;
  /** Of a trunk, a post, a pot. */
  readonly diameterM?: number;
  readonly soilRadiusM?: number;
  readonly setinM?: number;
  /** Of a line that stands for a strip. */
  readonly widthM?: number;
  readonly loop?: boolean;
  /** Diameter of a tree's crown. */
  readonly crownM?: number;
  /** Whether the public comes by. */
  readonly isPublic?: boolean;
  readonly edgeKind?: EdgeKind;
  /** False: no paired run and no guide wire may lie in it. */
  readonly wire?: boolean;
  /** What a metre of paired run costs in it, metres on plain lawn. */
  readonly runCost?: number;
  readonly slopePercent?: number;
}

export function fieldsOf(feature: RawFeature): Fields {
  const fields = new Map<string, unknown>();
  for (const [key, value] of Object.entries(feature.properties)) {
    if (value === null || value === undefined || value === "") continue;
    fields.set(key.trim().toLowerCase(), value);
  }
  return fields;
}

export function textOf(fields: Fields, key: string): string | undefined {
  const value = fields.get(key);
  if (typeof value === "string") return value.trim() === "" ? undefined : value.trim();
  return typeof value === "number" ? String(value) : undefined;
}

const SLOPE_KEYS = ["slope_percent", "slope_perc"];

/** Field names of a .dbf end after ten letters, hence the short form of `soil_radius_m`. */
const LENGTHS = [
  ["heightM", ["height_m"]],
  ["diameterM", ["diameter_m"]],
  ["soilRadiusM", ["soil_radius_m", "soil_radiu"]],
  ["setinM", ["setin_m"]],
  ["widthM", ["width_m", "width"]],
  ["crownM", ["crown_m", "diameter_crown"]],
] as const;

/** OpenStreetMap's `highway` of roads and footways that everyone may use. */
const PUBLIC_WAYS =
  /^(?:residential|living_street|unclassified|road|pedestrian|(?:motorway|trunk|primary|secondary|tertiary)(?:_link)?)$/;

/** Reads the attributes of docs/roles.md; each that cannot be understood becomes a finding. */
export function readAttributes(fields: Fields, source: SourceRef, note: Note): Attributes {
  const read: { -readonly [K in keyof Attributes]: Attributes[K] } = {};
  const name = textOf(fields, "name");
  if (name) read.name = name;
  for (const [property, keys] of LENGTHS) {
    const key = keys.find((candidate) => fields.has(candidate));
    if (key === undefined) continue;
    const metres = lengthM(fields.get(key));
    if (metres !== undefined) read[property] = metres;
    else badValue(key, fields.get(key), "a length in metres, e.g. 0.3 or 30 cm", source, note);
  }
  const height = lengthM(fields.get("height"));
  if (read.heightM === undefined && height !== undefined) read.heightM = height;
  const loop = yesOrNo(fields.get("loop"));
  if (loop !== undefined) read.loop = loop;
  else if (fields.has("loop")) badValue("loop", fields.get("loop"), "yes or no", source, note);
  const isPublic = yesOrNo(fields.get("public"));
  if (isPublic !== undefined) read.isPublic = isPublic;
  else if (fields.has("public")) {
    badValue("public", fields.get("public"), "yes or no", source, note);
  } else if (PUBLIC_WAYS.test(textOf(fields, "highway") ?? "")) read.isPublic = true;
  const edge = fields.get("edge");
  if (edge !== undefined) {
    const kind = edgeKindOf(edge);
    if (kind) read.edgeKind = kind;
    else badValue("edge", edge, `one of ${EDGE_KINDS.join(", ")}`, source, note);
  }
  const wire = yesOrNo(fields.get("wire"));
  if (wire !== undefined) read.wire = wire;
  else if (fields.has("wire")) badValue("wire", fields.get("wire"), "yes or no", source, note);
  const cost = numberOf(fields.get("run_cost"), 1, RUN_COST_MAX);
  if (cost !== undefined) read.runCost = cost;
  else if (fields.has("run_cost")) {
    badValue(
      "run_cost",
      fields.get("run_cost"),
      `a number from 1 to ${RUN_COST_MAX}`,
      source,
      note,
    );
  }
  const slopeKey = SLOPE_KEYS.find((key) => fields.has(key));
  const slope = slopeKey === undefined ? undefined : numberOf(fields.get(slopeKey), 0, 1000);
  if (slope !== undefined) read.slopePercent = slope;
  else if (slopeKey !== undefined) {
    badValue(slopeKey, fields.get(slopeKey), "a number of percent from 0 on", source, note);
  }
  return read;
}

/** Whether attributes say something of the ground for runs of wire. */
export function saysRunGround(fields: Fields): boolean {
  return ["wire", "run_cost", ...SLOPE_KEYS].some((key) => fields.has(key));
}

/** A number from number or text (`2`, `"2,5"`, `"15 %"`) within limits. */
function numberOf(value: unknown, least: number, most: number): number | undefined {
  if (value === undefined) return undefined;
  const text = String(value).trim().replace(",", ".").replace(/\s*%$/, "");
  const number = text === "" ? Number.NaN : Number(text);
  return number >= least && number <= most ? number : undefined;
}

export function edgeKindOf(value: unknown): EdgeKind | undefined {
  const text = String(value).trim().toLowerCase();
  const plain = text === "curb" ? "kerb" : text;
  return EDGE_KINDS.find((kind) => kind === plain);
}

function yesOrNo(value: unknown): boolean | undefined {
  if (typeof value === "boolean") return value;
  const text = String(value).trim().toLowerCase();
  if (/^(yes|y|true|1)$/.test(text)) return true;
  if (/^(no|n|false|0)$/.test(text)) return false;
  return undefined;
}

function badValue(key: string, value: unknown, wanted: string, source: SourceRef, note: Note) {
  note({
    code: "ATTRIBUTE_NOT_UNDERSTOOD",
    severity: "warning",
    message: `Attribute ${key} is ${JSON.stringify(value).slice(0, 200)}, which is not ${wanted}; it was left out of account.`,
    remedy: `Write ${wanted} in ${key}, or remove it.`,
    ...source,
  });
}
