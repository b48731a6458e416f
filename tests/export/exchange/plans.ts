/** Plans to write in other formats: the invented house garden on its own ground, and kinds that it lacks. */
import type { Feature, Geometry } from "geojson";
import { epsgRegistry } from "../../../cli/epsg-registry.ts";
import type { PlanFeature } from "../../../src/export/exchange/drawn-plan.ts";
import { exportPlan } from "../../../src/export/exchange/export-plan.ts";
import type { FormatName } from "../../../src/export/exchange/formats.ts";
import type { OutCrs } from "../../../src/export/exchange/out-crs.ts";
import { planGeojson } from "../../../src/export/plan-geojson.ts";
import { planInputs } from "../../../src/index.ts";
import type { InputFile } from "../../../src/model/features.ts";
import { inputAt } from "../../import/fixtures.ts";

export const GARDEN = inputAt("fixtures/demo/house-garden.geojson");

let garden: ReturnType<typeof planGarden> | undefined;

async function planGarden() {
  const heights = inputAt("fixtures/demo/house-garden-heights.asc");
  const prj = inputAt("fixtures/demo/house-garden-heights.prj");
  const outcome = await planInputs([GARDEN], {
    registry: epsgRegistry,
    terrain: { file: { ...heights, siblings: { ".prj": prj.bytes } } },
  });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const { plan, findings, ground } = outcome.value;
  const { collection } = planGeojson(plan, findings, ground);
  return { result: outcome.value, grid: plan.grid, features: featuresOf(collection.features) };
}

/** The garden's plan; planned once a file. */
export const gardenPlan = () => (garden ??= planGarden());

export function featuresOf(features: readonly Feature<Geometry | null>[]): PlanFeature[] {
  return features.map(({ geometry, properties }) => ({ geometry, properties: properties ?? {} }));
}

const PLACE = {
  score: 0.8125,
  clear_ahead_m: 4.5,
  slope_percent: 2.25,
  hollow_m: null,
  sun_h: 6.5,
  hot_shade: 0.25,
  lead_m: 12.5,
  lead_across_lawn: true,
  corner_m: 3.5,
  passage_m: null,
  island_m: 7.25,
  water_m: null,
  public_m: null,
};

/** A feature of every kind, near a place, with text in it that is given. */
export function everyKind([lon, lat]: readonly [number, number], text = "Pond"): PlanFeature[] {
  const at = (e: number, n: number) => [
    Number((lon + e / 1e5).toFixed(9)),
    Number((lat + n / 1e5).toFixed(9)),
  ];
  const point = (e: number, n: number): Geometry => ({ type: "Point", coordinates: at(e, n) });
  const line = (...places: [number, number][]): Geometry => ({
    type: "LineString",
    coordinates: places.map(([e, n]) => at(e, n)),
  });
  const ring = (e: number, n: number, side: number) =>
    [
      [e, n],
      [e + side, n],
      [e + side, n + side],
      [e, n + side],
      [e, n],
    ].map(([x, y]) => at(x!, y!));
  const hole = (e: number, n: number, side: number) => ring(e, n, side).reverse();
  const one: Geometry = { type: "Polygon", coordinates: [ring(0, 0, 30), hole(10, 10, 5)] };
  const two: Geometry = {
    type: "MultiPolygon",
    coordinates: [[ring(0, 0, 30), hole(10, 10, 5)], [ring(40, 0, 3)]],
  };
  const loop = { loop: "A" };
  const ground = { height_m: 12.345, ground_chainage_m: 10.1 };
  return [
    {
      geometry: { type: "LineString", coordinates: ring(1, 1, 28) },
      properties: {
        kind: "boundary-wire",
        ...loop,
        length_m: 112.125,
        ground_length_m: 112.25,
        direction: "anticlockwise",
        numbered_to: 214,
      },
    },
    {
      geometry: { type: "Polygon", coordinates: [ring(9, 9, 7)] },
      properties: {
        kind: "exclusion-loop",
        ...loop,
        name: text,
        role: "water",
        length_m: 28,
        ground_length_m: 28.1,
        things: [text, "Reeds"],
      },
    },
    {
      geometry: line([1, 12], [9, 12]),
      properties: { kind: "paired-run", ...loop, from: "boundary", to: text, length_m: 8 },
    },
    {
      geometry: line([1, 1], [20, 5], [29, 29]),
      properties: { kind: "guide-wire", ...loop, length_m: 45.5, clearance_m: 1.2, pegs: 3 },
    },
    {
      geometry: point(20, 5),
      properties: {
        kind: "guide-peg",
        ...loop,
        number: "G1",
        chainage_m: 19.4,
        ...ground,
        on: "bend",
        joint: "J3",
      },
    },
    {
      geometry: point(1, 12),
      properties: {
        kind: "peg",
        ...loop,
        number: "A1",
        chainage_m: 10,
        second_chainage_m: 60.004,
        ...ground,
        second_ground_chainage_m: 60.25,
        on: "pair",
        joint: "J1, J2",
      },
    },
    {
      geometry: point(1, 1),
      properties: { kind: "station", ...loop, bearing_deg: 12.25, given: true, straight_m: 3.5 },
    },
    {
      geometry: point(29, 1),
      properties: {
        kind: "station",
        loop: "B",
        bearing_deg: 270,
        given: false,
        straight_m: 2,
        ...PLACE,
      },
    },
    {
      geometry: point(29, 8),
      properties: {
        kind: "station-option",
        ...loop,
        rank: 1,
        bearing_deg: 270,
        straight_m: 2,
        ...PLACE,
        reasons: [text, "in shade at noon"],
      },
    },
    {
      geometry: line([15, 1], [15, 20]),
      properties: {
        kind: "passage",
        number: 1,
        width_m: 1.25,
        wire_width_m: 0.65,
        length_m: 19,
        bearing_deg: 0,
        verdict: "shut",
        beyond_m2: 120.5,
        islands_beyond: [text],
        openings: [{ means: "widen", amount_m: 0.5, gives: "drive" }],
        cost: { comes_to: "loop", area_m2: 120.5, loop: "B", wire_m: 80, pegs: 20 },
      },
    },
    {
      geometry: two,
      properties: { kind: "mown-area", ...loop, area_m2: 875.5, part: 1 },
    },
    { geometry: one, properties: { kind: "cut-off-area", area_m2: 7.5, reason: text } },
    {
      geometry: { type: "Polygon", coordinates: [ring(20, 20, 4)] },
      properties: { kind: "steep-area", ...loop, area_m2: 16, slope_percent: 38.5 },
    },
    { geometry: two, properties: { kind: "hand-trim", area_m2: 12.25 } },
    {
      geometry: line([1, 29], [29, 29]),
      properties: { kind: "edge-fall", ...loop, length_m: 28, fall_percent: 55.5 },
    },
    {
      geometry: point(15, 10),
      properties: {
        kind: "finding",
        code: "PASSAGE_NARROW",
        severity: "warning",
        message: text,
        remedy: "Widen it.",
        file: "garden.geojson",
        layer: null,
        feature: "#3",
        east_m: 1.5,
        north_m: -2.25,
      },
    },
    {
      geometry: null,
      properties: {
        kind: "finding",
        code: "LENGTHS_FLAT",
        severity: "info",
        message: "Lengths are flat.",
        remedy: "Give heights.",
        file: null,
        layer: null,
        feature: null,
        east_m: null,
        north_m: null,
      },
    },
  ];
}

/** Files of one format, as inputs; and what it could not hold. */
export async function exported(
  features: readonly PlanFeature[],
  grid: Parameters<typeof exportPlan>[2],
  format: FormatName,
  outCrs?: OutCrs,
  name = "Garden",
) {
  const outcome = await exportPlan(name, features, grid, {
    formats: [format],
    outCrs,
    registry: epsgRegistry,
  });
  if (!outcome.ok) throw new Error(`${outcome.problem.code}: ${outcome.problem.message}`);
  const [about] = outcome.value.formats;
  const [main] = outcome.value.files;
  const input: InputFile = { name: main!.name, bytes: main!.bytes };
  return { input, files: outcome.value.files, about: about!, findings: outcome.findings };
}
