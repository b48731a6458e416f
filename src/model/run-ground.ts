import type { SourceRef } from "./finding.ts";
import type { AreaM } from "./geometry.ts";

/** Why paired runs and guide wires cost more in an area, or may not lie in it. */
export const RUN_GROUND_REASONS = [
  "no-wire",
  "drawn-cost",
  "slope",
  "paving",
  "passage",
  "station",
] as const;
export type RunGroundReason = (typeof RUN_GROUND_REASONS)[number];

/**
 * Ground on which paired runs and guide wires cost more than on plain lawn, or may not lie at all.
 * It takes no lawn away: the machine mows or drives over it.
 */
export interface RunGround {
  readonly area: AreaM;
  /** What a metre of run costs there, in metres on plain lawn (1 or more); or none may lie there. */
  readonly factor: number | "barred";
  readonly why: RunGroundReason;
  /** What it is called in findings. */
  readonly name: string;
  readonly source: SourceRef;
}

/** Largest factor that a user may give. */
export const RUN_COST_MAX = 100;
