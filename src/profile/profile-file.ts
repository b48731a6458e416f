/**
 * The machine profile as it stands in a file: JSON, snake_case names that end in their unit.
 *
 * Every field but `name` may be left out; what is missing comes from the built-in profile that
 * `based_on` names. The published JSON Schema (docs/schema/profile.schema.json) is made from this.
 */
import { z } from "zod";
import { RUN_COST_MAX } from "../model/run-ground.ts";
import { DEFAULT_PROFILE, PROFILE_NAMES } from "./names.ts";

const metres = (least: number, most: number, description: string) =>
  z.number().min(least).max(most).describe(`${description}, metres`);
const share = (description: string) =>
  z.number().min(0).max(1).describe(`${description}, as a share (0.05 is 5 %)`);
const runCost = (where: string) =>
  z
    .number()
    .min(1)
    .max(RUN_COST_MAX)
    .describe(`What a metre of paired run costs ${where}, metres on plain lawn`);
const setin = (edge: string) => metres(0, 10, `Distance from edge to wire along ${edge}`);

const setinM = z.strictObject({
  open: setin("soil, a bed, a path or nothing in particular; the default of every edge"),
  wall: setin("a wall or building"),
  fence: setin("a fence"),
  hedge: setin("a hedge"),
  kerb: setin("a raised kerb"),
  flush: setin("firm paving level with the lawn, which the machine may run over"),
  water: setin("open water"),
  drop: setin("a drop or step down"),
});

const passage = z.strictObject({
  drive_min_m: metres(0.1, 20, "Least width between the two wires that the machine drives through"),
  mow_min_m: metres(0.1, 20, "Least width between the two wires that is mown like the rest"),
  report_below_m: metres(0.1, 50, "Narrowings of at least this width are not reported"),
});

const pegs = z.strictObject({
  spacing_max_m: metres(0.1, 5, "Longest span between neighbouring pegs"),
  wander_max_m: metres(0.001, 2, "How much further in than its set-in the wire may lie"),
  spare_share: share("Pegs to buy over the count"),
});

const wire = z.strictObject({
  pair_gap_m: metres(0.002, 0.1, "Distance between the two wires of a paired run"),
  ohm_per_km: z.number().min(0.1).max(1000).describe("Resistance at 20 °C, ohm per kilometre"),
  reel_m: metres(1, 10_000, "Length of wire on a reel"),
  spare_end_m: metres(0, 20, "Wire laid long at each end of a loop, trimmed when it is connected"),
  slack_share: share("Wire to buy over the laid length"),
  run_cost_paving: runCost("in flush paving, where it needs a cut or a joint"),
  run_cost_passage: runCost("in a passage that leads to lawn beyond"),
  run_cost_station: runCost("in the open lawn in front of a station"),
  run_cost_slope: runCost("on ground steeper than run_slope_from_percent"),
  run_slope_from_percent: z
    .number()
    .min(0)
    .max(200)
    .describe("Slopes from this on cost more, percent (100 is 45°)"),
});

const corners = z.strictObject({
  inner_angle_min_deg: z
    .number()
    .min(20)
    .max(170)
    .describe("Inner corners of the wire sharper than this are cut, degrees"),
  bend_radius_min_m: metres(0, 5, "Least radius of the wire's bends; 0 leaves corners as they are"),
});

const guide = z.strictObject({
  wires: z.number().int().min(0).max(1).describe("Guide wires a loop: 0 or 1"),
  clearance_m: metres(0.05, 5, "Least distance of a guide wire from other wire and firm things"),
});

const station = z.strictObject({
  straight_m: metres(0, 20, "Straight wire wanted on each side of the station"),
  clear_ahead_m: metres(0, 20, "Open lawn wanted in front of the wire at the station"),
  fixings: z.number().int().min(0).max(100).describe("Screws or spikes that hold it down"),
  slope_max_percent: z
    .number()
    .min(0.1)
    .max(100)
    .describe("Greatest slope under the station, percent (100 tan of the angle)"),
  lead_half_m: metres(0.1, 1000, "Way of the lead at which a place has half of the marks for it"),
  away_m: metres(0.1, 100, "From here on passages, islands, water do not count against a place"),
});

const weight = (description: string) =>
  z.number().min(0).max(1000).describe(`How much it counts for the station: ${description}`);
const stationWeights = z.strictObject({
  straight: weight("straight wire on each side"),
  front: weight("clear lawn in front"),
  level: weight("level ground"),
  shade: weight("shade through the hot hours"),
  lead: weight("a short lead from the outlet"),
  corner: weight("distance from concave corners"),
  passage: weight("distance from passages and gates"),
  island: weight("distance from islands"),
  water: weight("distance from water"),
  public: weight("distance from public edges"),
});

const loop = z.strictObject({
  length_max_m: metres(1, 100_000, "Longest wire that one station drives"),
  area_max_m2: z
    .number()
    .min(1)
    .max(10_000_000)
    .describe("Largest lawn that one machine keeps, square metres"),
  spacing_m: metres(0, 20, "Least distance between the wires of neighbouring loops"),
});

const mowing = z.strictObject({
  past_wire_m: metres(0, 2, "How far past the wire the blades reach; 0 counts only what is inside"),
});

const minutes = (description: string) =>
  z.number().min(1).max(10_000).describe(`${description}, minutes`);

const work = z.strictObject({
  speed_m_per_s: z.number().min(0.01).max(5).describe("Speed while mowing, metres per second"),
  cut_width_m: metres(0.05, 3, "Width that the blades cut"),
  run_min: minutes("Mowing on one charge"),
  charge_min: minutes("Charging after it"),
  slope_time_share: z
    .number()
    .min(0)
    .max(10)
    .describe("Mowing time more on the steepest lawn that it mows, as a share (0.3 is 30 %)"),
  passes_per_week: z
    .number()
    .min(0.1)
    .max(50)
    .describe("Times that the blades go over the lawn in a week, on average"),
});

const percent = (description: string) =>
  z.number().min(1).max(100).describe(`${description}, percent (100 tan of the angle)`);

const terrain = z.strictObject({
  slope_max_percent: percent("Steepest lawn that the machine mows"),
  edge_slope_max_percent: percent("Steepest fall outwards at the wire"),
});

const obstacles = z.strictObject({
  low_height_m: metres(0, 1, "Firm things lower than this are climbed and need a loop"),
  young_trunk_m: metres(0, 2, "Trunks thinner than this are young trees and need a loop"),
});

const names = {
  $schema: z.string().optional().describe("Where the JSON Schema of this file is, for editors"),
  name: z
    .string()
    .regex(/^[\p{L}\p{N}][\p{L}\p{N} ._-]{0,63}$/u)
    .describe("Short name shown in results: letters, digits, spaces, dots, dashes"),
  label: z.string().max(200).optional().describe("The name in plain words"),
  note: z.string().max(2000).optional().describe("Where the numbers come from"),
  based_on: z
    .enum(PROFILE_NAMES)
    .optional()
    .describe(`Built-in profile that fills what is missing; ${DEFAULT_PROFILE} where left out`),
};

/** What a profile file may hold. Unknown keys are refused, so that a misspelt one cannot hide. */
export const profileFileSchema = z.strictObject({
  ...names,
  setin_m: setinM.partial().optional(),
  passage: passage.partial().optional(),
  pegs: pegs.partial().optional(),
  wire: wire.partial().optional(),
  corners: corners.partial().optional(),
  guide: guide.partial().optional(),
  station: station.partial().optional(),
  station_weights: stationWeights.partial().optional(),
  loop: loop.partial().optional(),
  mowing: mowing.partial().optional(),
  work: work.partial().optional(),
  terrain: terrain.partial().optional(),
  obstacles: obstacles.partial().optional(),
});
export type ProfileFile = z.infer<typeof profileFileSchema>;

/** A profile file with nothing left out, as the built-in ones are and as `pegline profiles` prints. */
export const fullProfileSchema = z.strictObject({
  ...names,
  label: z.string(),
  note: z.string(),
  setin_m: setinM,
  passage,
  pegs,
  wire,
  corners,
  guide,
  station,
  station_weights: stationWeights,
  loop,
  mowing,
  work,
  terrain,
  obstacles,
});
export type FullProfileFile = z.infer<typeof fullProfileSchema>;

/** JSON Schema (draft 2020-12) of a profile file, as published under docs/schema. */
export function profileJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(profileFileSchema) as Record<string, unknown>;
  const { $schema, ...rest } = schema;
  return {
    $schema,
    title: "pegline machine profile",
    description: "What the planner must know of a robotic mower. See docs/profile.md.",
    ...rest,
  };
}
