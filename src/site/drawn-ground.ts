/** Areas that tell where runs of wire cost more or may not lie, from attributes and the site file. */
import type { SourceRef } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { RunGround } from "../model/run-ground.ts";
import type { RunGroundSaid } from "../model/site-rules.ts";
import { type Attributes, readAttributes, saysRunGround } from "./attributes.ts";
import { counted, listed, type Note } from "./notes.ts";
import { repairPolygon } from "./repair-polygon.ts";
import type { RawShape } from "./sort-features.ts";

/** An area with what is said of it. */
export interface DrawnGround extends RunGroundSaid {
  readonly name: string;
  readonly areas: readonly AreaM[];
  readonly source: SourceRef;
}

/**
 * Splits shapes: those that only tell what runs cost there are no things; those that have a role
 * beside may tell it too.
 */
export function takeDrawnGround(
  shapes: readonly RawShape[],
  note: Note,
): { rest: RawShape[]; drawn: DrawnGround[] } {
  const rest = shapes.filter((shape) => shape.assigned.by !== "ground");
  const told = shapes.filter((shape) => shape.shape === "area" && saysRunGround(shape.fields));
  const drawn = told.flatMap((shape): DrawnGround[] => {
    const alone = shape.assigned.by === "ground";
    // What else has a role is read, and repaired, a second time as a thing: told there.
    const silent: Note = () => {};
    const attributes = readAttributes(shape.fields, shape.source, alone ? note : silent);
    const said = saidOf(attributes);
    if (!said) return [];
    const areas = shape.polygons.flatMap(
      (rings) => repairPolygon(rings, shape.source, alone ? note : silent).areas,
    );
    const name = attributes.name ?? shape.source.feature ?? "an area";
    return areas.length === 0 ? [] : [{ ...said, name, areas, source: shape.source }];
  });
  reportAlone(
    told.filter((shape) => shape.assigned.by === "ground"),
    note,
  );
  return { rest, drawn };
}

function saidOf({ wire, runCost, slopePercent }: Attributes): RunGroundSaid | undefined {
  if (wire !== false && runCost === undefined && slopePercent === undefined) return undefined;
  return { ...(wire === false && { wire: "no" }), runCost, slopePercent };
}

function reportAlone(shapes: readonly RawShape[], note: Note): void {
  const [first] = shapes;
  if (!first) return;
  const at = first.polygons[0]?.[0]?.[0];
  note({
    code: "RUN_GROUND_TAKEN",
    severity: "info",
    message: `${counted(shapes.length, "area")} with wire, run_cost or slope_percent and no role tell where paired runs and guide wires may lie; they take no lawn away: ${listed(shapes.map((one) => one.source.feature ?? ""))}.`,
    remedy: "Give the attribute role too where the machine is to keep off.",
    ...(at && { atM: [at[0]!, at[1]!] as const }),
    ...first.source,
  });
}

/** The ground that runs respect, by what the profile says of slopes. */
export function runGroundOf(drawn: readonly DrawnGround[], { wire }: Profile): RunGround[] {
  return drawn.flatMap(({ name, areas, source, ...said }) =>
    areas.flatMap((area): RunGround[] => {
      const one = { area, name, source };
      if (said.wire === "no") return [{ ...one, factor: "barred", why: "no-wire" }];
      const steep = said.slopePercent !== undefined && said.slopePercent > wire.runSlopeFromPercent;
      const slope = steep ? wire.runCostSlope : 1;
      const cost = said.runCost ?? 1;
      if (Math.max(slope, cost) <= 1) return [];
      return slope > cost
        ? [{ ...one, factor: slope, why: "slope" }]
        : [{ ...one, factor: cost, why: "drawn-cost" }];
    }),
  );
}
