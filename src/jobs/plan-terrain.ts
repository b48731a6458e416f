/** The terrain under a finished plan. Pure; loaded only where heights are given. */
import type { Finding } from "../model/finding.ts";
import type { Plan } from "../model/plan.ts";
import type { HeightLattice, PlanOnGround } from "../model/terrain.ts";
import { groundFindings } from "../physics/terrain/findings.ts";
import { planOnGround } from "../physics/terrain/plan-on-ground.ts";

/** A plan on the ground, and what a fitter should know of that. */
export interface TerrainOfPlan {
  readonly ground: PlanOnGround;
  readonly findings: readonly Finding[];
}

/** Lays a plan on the ground. */
export function terrainOfPlan(plan: Plan, lattice: HeightLattice): TerrainOfPlan {
  const { ground, unknownAtM } = planOnGround(plan, lattice);
  const withPlace = (one: Finding): Finding =>
    one.atM ? { ...one, at: plan.grid.inverse(one.atM) } : one;
  return { ground, findings: groundFindings(plan, ground, unknownAtM).map(withPlace) };
}
