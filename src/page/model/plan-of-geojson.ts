/** A plan from its plan.geojson and summary.json, as far as they tell it. Pure. */
import { siteGridAt } from "../../crs/site-grid.ts";
import { shownText } from "../../escape/hidden.ts";
import { boxOf } from "../../geometry/rings.ts";
import { done, failed, type Outcome, type Problem } from "../../model/finding.ts";
import type { PointM } from "../../model/geometry.ts";
import { flatPoint } from "./flat.ts";
import type { SeenPlan } from "./page-data.ts";
import type {
  FlatM,
  PageFinding,
  PagePeg,
  PageShape,
  PageTotals,
  Place,
  ShapeKind,
} from "./page-model.ts";

type Properties = Readonly<Record<string, unknown>>;
interface Feature {
  readonly geometry: { readonly type: string; readonly coordinates: unknown } | null;
  readonly properties: Properties;
}

/** Kinds of plan.geojson that are shapes; others are pegs, findings, or not drawn. */
const SHAPES: readonly string[] = [
  "boundary-wire",
  "exclusion-loop",
  "paired-run",
  "guide-wire",
  "station",
  "passage",
  "mown-area",
  "cut-off-area",
  "steep-area",
  "hand-trim",
] satisfies readonly ShapeKind[];

/**
 * @param plan content of plan.geojson
 * @param summary content of summary.json; without it some totals are not known
 * @param name of the file, for messages
 * @returns problems: OTHER_PLAN_UNREADABLE
 */
export function planOfGeojson(plan: unknown, summary: unknown, name: string): Outcome<SeenPlan> {
  const features = featuresOf(plan);
  const wires = features.filter(({ properties }) => properties.kind === "boundary-wire");
  const first = wires.map(({ geometry }) => positions(geometry)[0]).find((one) => one);
  if (!first) return failed(unreadable(name));
  const origin = originOf(summary) ?? first;
  const grid = siteGridAt(origin);
  const toGrid = (at: readonly [number, number]): PointM => flatPoint(grid.forward(at));
  const counts = new Map<string, number>();
  const shapes: PageShape[] = [];
  const pegs: PagePeg[] = [];
  const findings: PageFinding[] = [];
  for (const { geometry, properties } of features) {
    const kind = String(properties.kind);
    const place = placeOf(geometry, toGrid);
    const n = (counts.get(kind) ?? 0) + 1;
    counts.set(kind, n);
    if (kind === "finding") findings.push(findingOf(properties, place, n));
    else if (!place) continue;
    else if (kind === "peg" && place.form === "point") pegs.push(pegOf(properties, place.at));
    else if (SHAPES.includes(kind)) shapes.push(shapeOf(kind as ShapeKind, properties, place, n));
  }
  const lines = shapes.flatMap(({ place }) => linesOf(place));
  const { minE, minN, maxE, maxN } = boxOf(...lines.map((line) => Float64Array.from(line)));
  const { prices } = asRecord(summary) as { prices?: { total?: unknown; currency?: unknown } };
  const hasPrice = typeof prices?.total === "number" && typeof prices.currency === "string";
  return done({
    siteName: shownText(textOf(asRecord(asRecord(summary).site), "name")),
    grid: { origin, proj: grid.projString },
    extent: [minE, minN, maxE, maxN],
    loops: [],
    shapes,
    pegs,
    passages: [],
    walks: [],
    findings,
    totals: totalsOf(summary, shapes, pegs, features),
    ...(hasPrice && {
      prices: { total: prices.total as number, currency: (prices.currency as string).slice(0, 3) },
    }),
  });
}

function featuresOf(value: unknown): Feature[] {
  const { features } = asRecord(value);
  if (!Array.isArray(features)) return [];
  return features.map(asRecord).map(({ geometry, properties }) => ({
    geometry: (geometry ?? null) as Feature["geometry"],
    properties: asRecord(properties),
  }));
}

const asRecord = (value: unknown): Properties =>
  typeof value === "object" && value !== null && !Array.isArray(value) ? (value as Properties) : {};

const textOf = (properties: Properties, key: string): string =>
  typeof properties[key] === "string" ? properties[key] : "";
const numberOf = (properties: Properties, key: string): number | undefined =>
  Number.isFinite(properties[key]) ? (properties[key] as number) : undefined;

type Position = readonly [number, number];
const isPosition = (value: unknown): value is Position =>
  Array.isArray(value) && Number.isFinite(value[0]) && Number.isFinite(value[1]);

/** All positions of a line or a ring; none where one is broken. */
function row(value: unknown): Position[] {
  return Array.isArray(value) && value.every(isPosition) ? (value as Position[]) : [];
}

function positions(geometry: Feature["geometry"]): Position[] {
  return geometry?.type === "LineString" ? row(geometry.coordinates) : [];
}

function placeOf(
  geometry: Feature["geometry"],
  toGrid: (at: Position) => PointM,
): Place | undefined {
  if (!geometry) return undefined;
  const { type, coordinates } = geometry;
  const flat = (value: unknown): FlatM => row(value).flatMap((at) => [...toGrid(at)]);
  if (type === "Point") {
    return isPosition(coordinates) ? { form: "point", at: toGrid(coordinates) } : undefined;
  }
  if (type === "LineString") {
    const line = flat(coordinates);
    return line.length >= 4 ? { form: "line", line } : undefined;
  }
  const polygons = type === "Polygon" ? [coordinates] : type === "MultiPolygon" ? coordinates : [];
  if (!Array.isArray(polygons)) return undefined;
  const areas = polygons
    .map((rings) => (Array.isArray(rings) ? rings.map((ring) => flat(ring).slice(0, -2)) : []))
    .filter(([shell]) => shell && shell.length >= 6);
  return areas.length > 0 ? { form: "area", areas } : undefined;
}

function linesOf(place: Place): FlatM[] {
  if (place.form === "point") return [place.at];
  return place.form === "line" ? [place.line] : place.areas.flat();
}

function shapeOf(kind: ShapeKind, properties: Properties, place: Place, n: number): PageShape {
  const loop = shownText(textOf(properties, "loop"));
  const number = numberOf(properties, "number");
  const bearingDeg = numberOf(properties, "bearing_deg");
  const verdict = (["mow", "drive", "shut"] as const).find((one) => one === properties.verdict);
  return {
    id: `there:${kind}:${n}`,
    kind,
    name: shownText(number === undefined ? textOf(properties, "name") || loop : String(number)),
    place,
    figures: [],
    ...(loop !== "" && { loop }),
    ...(bearingDeg !== undefined && { bearingDeg }),
    ...(kind === "passage" && { verdict: verdict ?? "shut" }),
  };
}

function pegOf(properties: Properties, at: PointM): PagePeg {
  const number = shownText(textOf(properties, "number"));
  const secondChainageM = numberOf(properties, "second_chainage_m");
  const on = (["straight", "bend", "pair", "station"] as const).find((o) => o === properties.on);
  return {
    id: `peg:${number}`,
    number,
    loop: shownText(textOf(properties, "loop")),
    wire: "boundary",
    at,
    chainageM: numberOf(properties, "chainage_m") ?? 0,
    ...(secondChainageM !== undefined && { secondChainageM }),
    reason: on ?? "straight",
  };
}

function findingOf(properties: Properties, place: Place | undefined, n: number): PageFinding {
  const text = (key: string) => shownText(textOf(properties, key));
  const where = ["file", "layer", "feature"].map(text).filter((one) => one !== "");
  const severity = (["error", "warning"] as const).find((one) => one === properties.severity);
  return {
    id: `finding:${n}`,
    code: text("code"),
    severity: severity ?? "info",
    message: text("message"),
    remedy: text("remedy"),
    where: [...new Set(where)].join(" · "),
    ...(place?.form === "point" && { at: place.at }),
  };
}

function originOf(summary: unknown): Position | undefined {
  const { origin } = asRecord(asRecord(summary).site);
  return isPosition(origin) ? [origin[0], origin[1]] : undefined;
}

/** From the summary where there is one; else what can be added up from what is drawn. */
function totalsOf(
  summary: unknown,
  shapes: readonly PageShape[],
  pegs: readonly PagePeg[],
  features: readonly Feature[],
): Partial<PageTotals> {
  const of = (kind: string) => features.filter(({ properties }) => properties.kind === kind);
  const sum = (kind: string, key: string) =>
    of(kind).reduce((all, { properties }) => all + (numberOf(properties, key) ?? 0), 0);
  const count = (kind: ShapeKind) => shapes.filter((one) => one.kind === kind).length;
  const drawn: Partial<PageTotals> = {
    wireM: sum("boundary-wire", "length_m"),
    pegs: pegs.length + of("guide-peg").length,
    stations: count("station"),
    islands: count("exclusion-loop"),
    mownM2: sum("mown-area", "area_m2"),
    handTrimM2: sum("hand-trim", "area_m2"),
    cutOffM2: sum("cut-off-area", "area_m2"),
  };
  const { totals, site } = asRecord(summary);
  const stated = asRecord(totals);
  const known: [keyof PageTotals, number | undefined][] = [
    ["wireM", numberOf(stated, "wire_ground_m") ?? numberOf(stated, "wire_m")],
    ["wireToBuyM", numberOf(stated, "wire_to_buy_m")],
    ["pegsToBuy", numberOf(stated, "pegs_to_buy")],
    ["reels", numberOf(stated, "reels")],
    ["joints", numberOf(stated, "joints")],
    ["mownM2", numberOf(stated, "mown_m2")],
    ["handTrimM2", numberOf(stated, "hand_trim_m2")],
    ["cutOffM2", numberOf(stated, "cut_off_m2")],
    ["groundM2", numberOf(asRecord(site), "area_m2")],
  ];
  return { ...drawn, ...Object.fromEntries(known.filter(([, value]) => value !== undefined)) };
}

const unreadable = (file: string): Problem => ({
  code: "OTHER_PLAN_UNREADABLE",
  kind: "input",
  file,
  message: "there is no plan in the file that can be compared",
  remedy:
    "Give a plan.html, or a plan.geojson with the summary.json beside it, as they were written.",
});
