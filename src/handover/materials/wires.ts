/** The wires of a plan as they are cut from reels: each loop's own, and its guide wires. */
import type { PointM } from "../../model/geometry.ts";
import type { Loop, PegPlace, Plan } from "../../model/plan.ts";
import type { Profile } from "../../model/profile.ts";
import type { LoopOnGround, PlanOnGround } from "../../model/terrain.ts";

/** A peg at which two reels may be joined. */
export interface JointPlace {
  readonly peg: string;
  readonly atM: PointM;
  /** Along the wire from the station, metres: along the ground where that is known. */
  readonly chainageM: number;
  readonly on: PegPlace;
  /**
   * `good`: in a single wire, clear of the station. `pair`: in a paired run, where a coupler lies
   * beside the other wire. `station`: under the station or on its straight run.
   */
  readonly fit: "good" | "pair" | "station";
}

/** One wire without a joint by plan: from the station to the station, or a guide wire. */
export interface WireToCut {
  readonly loop: string;
  readonly wire: "boundary" | "guide";
  /** To lay, metres: along the ground where that is known. */
  readonly laidM: number;
  /** Slack, spread evenly, as a share of the laid length. */
  readonly slackShare: number;
  readonly startSpareM: number;
  readonly endSpareM: number;
  /** Places for joints by chainage. */
  readonly places: readonly JointPlace[];
}

/** Wire to unroll from the start of a wire to a chainage, metres; its spare end counts. */
export function unrolledM(wire: WireToCut, chainageM: number): number {
  return wire.startSpareM + chainageM * (1 + wire.slackShare);
}

/** Wire to cut for the whole of it, spare ends included, metres. */
export function wholeM(wire: WireToCut): number {
  return unrolledM(wire, wire.laidM) + wire.endSpareM;
}

/** All wires in the order of work: loop by loop, its boundary wire, then its guide wires. */
export function wiresOf(plan: Plan, ground?: PlanOnGround): WireToCut[] {
  return plan.loops.flatMap((loop, i) => wiresOfLoop(loop, plan.profile, ground?.loops[i]));
}

function wiresOfLoop(
  loop: Loop,
  { wire, station }: Profile,
  ground: LoopOnGround | undefined,
): WireToCut[] {
  const laidM = ground?.wire.groundM ?? loop.lengthM;
  const shared = { loop: loop.name, slackShare: wire.slackShare, startSpareM: wire.spareEndM };
  const fitOf = (on: PegPlace, chainageM: number): JointPlace["fit"] => {
    const clearM = Math.max(station.straightM, LEAST_CLEAR_M);
    if (on === "station" || chainageM < clearM || chainageM > laidM - clearM) return "station";
    return on === "pair" ? "pair" : "good";
  };
  const places = loop.pegs.map((peg, k): JointPlace => {
    const chainageM = ground?.pegs[k]?.chainageM ?? peg.chainageM;
    const { number, atM, on } = peg;
    return { peg: number, atM, chainageM, on, fit: fitOf(on, chainageM) };
  });
  const guides = loop.guideWires.map((guide, g): WireToCut => {
    const on = ground?.guideWires[g];
    return {
      ...shared,
      wire: "guide",
      laidM: on?.groundM ?? guide.lengthM,
      endSpareM: 0,
      places: guide.pegs.map((peg, k) => {
        const chainageM = on?.pegs[k]?.chainageM ?? peg.chainageM;
        const fit = chainageM < station.straightM ? "station" : "good";
        return { peg: peg.number, atM: peg.atM, chainageM, on: peg.on, fit };
      }),
    };
  });
  const boundary: WireToCut = {
    ...shared,
    wire: "boundary",
    laidM,
    endSpareM: wire.spareEndM,
    places: places.sort((a, b) => a.chainageM - b.chainageM),
  };
  return [boundary, ...guides];
}

/** A station covers at least this much wire to each side, metres: common practice. */
const LEAST_CLEAR_M = 0.5;
