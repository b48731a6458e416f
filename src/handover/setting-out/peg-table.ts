/** Every peg of a plan in one table: where it stands and why. */
import type { LonLat, PointM } from "../../model/geometry.ts";
import type { PegPlace, Plan } from "../../model/plan.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import { keptFor } from "../kept-for.ts";

export interface PegRow {
  /** As on the plan; pegs of a guide wire after their loop: `A-G1`. */
  readonly number: string;
  readonly loop: string;
  readonly wire: "boundary" | "guide";
  /** Along its wire from the station, metres: flat. */
  readonly chainageM: number;
  /** Where the wire comes by a second time (pegs of a pair). */
  readonly secondChainageM: number | undefined;
  /** The first along the ground, where heights are given. */
  readonly groundChainageM: number | undefined;
  /** In the site grid. */
  readonly atM: PointM;
  /** Height of the ground in its own datum, where it is known. */
  readonly heightM: number | undefined;
  readonly lonLat: LonLat;
  /** Why it stands there. */
  readonly reason: PegPlace;
}

/** Pegs loop by loop in laying order, those of guide wires after those of their loop. */
export const pegTable: (plan: Plan, ground?: PlanOnGround) => readonly PegRow[] = keptFor(rowsOf);

function rowsOf(plan: Plan, ground?: PlanOnGround): PegRow[] {
  return plan.loops.flatMap((loop, l) => {
    const under = ground?.loops[l];
    const pegs = loop.pegs.map((peg, k): PegRow => {
      const on = under?.pegs[k];
      return {
        number: peg.number,
        loop: loop.name,
        wire: "boundary",
        chainageM: peg.chainageM,
        secondChainageM: peg.secondChainageM,
        groundChainageM: on?.chainageM,
        atM: peg.atM,
        heightM: on?.heightM,
        lonLat: plan.grid.inverse(peg.atM),
        reason: peg.on,
      };
    });
    const guides = loop.guideWires.flatMap((guide, g) =>
      guide.pegs.map((peg, k): PegRow => {
        const on = under?.guideWires[g]?.pegs[k];
        return {
          number: `${loop.name}-${peg.number}`,
          loop: loop.name,
          wire: "guide",
          chainageM: peg.chainageM,
          secondChainageM: undefined,
          groundChainageM: on?.chainageM,
          atM: peg.atM,
          heightM: on?.heightM,
          lonLat: plan.grid.inverse(peg.atM),
          reason: peg.on,
        };
      }),
    );
    return [...pegs, ...guides];
  });
}
