/** Everything that puts the pegs of a plan on the ground. */
import type { Plan } from "../../model/plan.ts";
import type { Site } from "../../model/site.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import { type Offsets, offsetsOf } from "./offsets.ts";
import { type PegRow, pegTable } from "./peg-table.ts";
import { type Ties, tiesOf } from "./ties.ts";

export interface SettingOut {
  readonly pegs: readonly PegRow[];
  readonly ties: Ties;
  readonly offsets: Offsets;
}

/** Peg table, tape ties and offsets of a plan. Needs `loadEngine()` awaited. */
export function settingOut(site: Site, plan: Plan, ground?: PlanOnGround): SettingOut {
  const pegs = pegTable(plan, ground);
  const ties = tiesOf(site, pegs);
  return { pegs, ties, offsets: offsetsOf(site, pegs, ties.controls) };
}
