/** Where wires are joined: reel to reel, and guide wires to their loop. */
import type { Plan } from "../../model/plan.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import type { Quantities } from "../quantities.ts";
import type { Joint } from "./reels.ts";

/** A peg at which wires are joined. */
export interface JointPeg {
  /** `J1`, `J2`, … */
  readonly number: string;
  readonly loop: string;
  readonly wire: "boundary" | "guide";
  readonly peg: string | undefined;
}

/** A joint or a coupler of a guide wire, numbered through the plan. */
export interface PlannedJoint extends JointPeg {
  /** `J1`, `J2`, … in laying order. */
  readonly number: string;
  readonly joins: "reels" | "guide-wire";
  readonly loop: string;
  /** Peg of the loop's wire, or of the guide wire where two reels meet in one. */
  readonly peg: string | undefined;
  readonly wire: "boundary" | "guide";
  /** Along that wire from the station, metres: along the ground where heights are given. */
  readonly chainageM: number;
  readonly fit: Joint["fit"];
  /** Reels that end and begin here; undefined for a guide wire's coupler. */
  readonly reels: readonly [from: number, to: number] | undefined;
}

/** Joints of the reels and the couplers of guide wires, by loop and then along the wire. */
export function plannedJoints(
  plan: Plan,
  { cutting }: Quantities,
  ground: PlanOnGround | undefined,
): PlannedJoint[] {
  const found = plan.loops.flatMap((loop, l) => {
    const reels = cutting.joints
      .filter((joint) => joint.loop === loop.name)
      .map(({ wire, peg, chainageM, fit, fromReel, toReel }) => ({
        joins: "reels" as const,
        loop: loop.name,
        peg,
        wire,
        chainageM,
        fit,
        reels: [fromReel, toReel] as const,
      }));
    const guides = loop.guideWires.map(({ line }) => {
      const [e, n] = [line[line.length - 2]!, line[line.length - 1]!];
      const away = loop.pegs.map(({ atM }) => Math.hypot(atM[0] - e, atM[1] - n));
      const at = away.indexOf(Math.min(...away));
      return {
        joins: "guide-wire" as const,
        loop: loop.name,
        peg: loop.pegs[at]?.number,
        wire: "boundary" as const,
        chainageM: ground?.loops[l]?.pegs[at]?.chainageM ?? loop.pegs[at]?.chainageM ?? 0,
        fit: "good" as const,
        reels: undefined,
      };
    });
    // A guide wire is laid, and then joined to the loop, when the loop is closed.
    const rank = (one: { readonly wire: string; readonly joins: string }) =>
      one.joins === "guide-wire" ? 2 : one.wire === "guide" ? 1 : 0;
    return [...reels, ...guides].sort((a, b) => rank(a) - rank(b) || a.chainageM - b.chainageM);
  });
  return found.map((joint, i) => ({ number: `J${i + 1}`, ...joint }));
}

/** Looks up the joints at a peg: their numbers, with commas between several; undefined for none. */
export function jointsAtPegs(
  joints: readonly JointPeg[],
): (loop: string, wire: "boundary" | "guide", peg: string) => string | undefined {
  const at = new Map<string, string>();
  for (const { number, loop, wire, peg } of joints) {
    if (peg === undefined) continue;
    const key = `${loop} ${wire} ${peg}`;
    const known = at.get(key);
    at.set(key, known === undefined ? number : `${known}, ${number}`);
  }
  return (loop, wire, peg) => at.get(`${loop} ${wire} ${peg}`);
}
