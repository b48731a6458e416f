import { FIRM_CLEAR_M, SETIN_SLACK_M } from "../allowances.ts";
import type { Case } from "../case.ts";
import type { Asking } from "../ground/ground.ts";
import { NOTHING } from "../ground/pieces.ts";
import { type Gap, gapBetween, turn } from "../kernel/plane.ts";
import { SegmentTree } from "../kernel/segment-tree.ts";
import { measured, notMeasured, type Place, worstPlaces } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** Margins up to this are measured; what is farther from every edge is far enough, metres. */
const MARGIN_SHOWN_M = 0.1;
/** Wire within this many set-ins of where it crosses flush paving is not asked there. */
const CROSSING_SETINS = 3;
/** Nor where it comes away from the crossing as steeply as this (sine of 17°). */
const CROSSING_SINE = 0.3;

/** What lies beside the end of an edge is told so far from it, metres. */
const STEP_M = 0.002;

interface Short {
  readonly loop: string;
  readonly keptM: number;
  readonly asking: Asking;
}

/** The wire keeps its set-in from every edge, over its whole length, spans and pegs alike. */
export const setIn: Rule = {
  id: "set-in",
  code: "WIRE_TOO_NEAR_EDGE",
  title: "set-in: least distance kept over distance asked",
  measure(court) {
    const { least, places } = marginsOf(court);
    if (least === Infinity) {
      return notMeasured("m", "at least", "no wire comes near an edge that asks for a distance");
    }
    return measured(
      "m",
      "at least",
      least,
      -SETIN_SLACK_M,
      worstPlaces(places).map(({ atM, of: { loop, keptM, asking } }) => ({
        message: `Wire of loop ${loop} lies ${keptM.toFixed(3)} m from ${asking.what}, where ${asking.setinM.toFixed(2)} m are asked.`,
        remedy: `Move it ${(asking.setinM - keptM).toFixed(2)} m further in.`,
        atM,
      })),
    );
  },
};

function marginsOf(court: Case): { least: number; places: Place<Short>[] } {
  const { ground, wires } = court;
  const bySetin = new Map<number, Asking[]>();
  for (const one of ground.asking) {
    const list = bySetin.get(one.setinM);
    if (list) list.push(one);
    else bySetin.set(one.setinM, [one]);
  }
  const carried = court.carried.segments;
  const places: Place<Short>[] = [];
  let least = Infinity;
  const gap: Gap = { distanceM: 0, t: 0, u: 0 };
  const { ends } = wires.tree;
  for (const [setinM, list] of bySetin) {
    const tree = new SegmentTree(list.flatMap(({ ae, an, be, bn }) => [ae, an, be, bn]));
    for (let s = 0; s < wires.count; s++) {
      const asked = carried.has(s) ? Math.min(FIRM_CLEAR_M, setinM) : setinM;
      const k = 4 * s;
      const [ae, an, be, bn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
      for (const i of tree.around(ae, an, be, bn, asked + MARGIN_SHOWN_M)) {
        const edge = list[i]!;
        gapBetween(ae, an, be, bn, edge.ae, edge.an, edge.be, edge.bn, gap);
        const margin = gap.distanceM - asked;
        if (margin > MARGIN_SHOWN_M) continue;
        const atM = wires.pointAt(s, gap.t);
        if (
          edge.leftOnly &&
          gap.distanceM > 0 &&
          turn(edge.ae, edge.an, edge.be, edge.bn, atM[0], atM[1]) < 0
        ) {
          continue;
        }
        if (edge.leftOnly && margin < 0 && !facesGround(court, edge, gap, atM)) continue;
        if (edge.mayCross && margin < 0 && crossesNear(court, s, gap, setinM)) continue;
        if (margin < least) least = margin;
        if (margin < -SETIN_SLACK_M) {
          const of = { loop: wires.nameOf(s), keptM: gap.distanceM, asking: edge };
          places.push({ atM, amount: -margin, of });
        }
      }
    }
  }
  return { least, places };
}

/**
 * Whether the way from an edge's nearest place to the wire begins on ground. At the corner of another
 * lawn it does not: an edge asks of wire on its own side only, and past its end the side says nothing.
 */
function facesGround(
  { ground }: Case,
  edge: Asking,
  { u, distanceM }: Gap,
  [e, n]: readonly [number, number],
): boolean {
  if (distanceM <= STEP_M || (u > 0 && u < 1)) return true;
  const [ce, cn] = u <= 0 ? [edge.ae, edge.an] : [edge.be, edge.bn];
  const share = STEP_M / distanceM;
  return ground.covers.at(ce + share * (e - ce), cn + share * (n - cn)) !== NOTHING;
}

/** Whether the wire crosses flush paving's edge near a place of it. */
function crossesNear({ wires, ground }: Case, s: number, gap: Gap, setinM: number): boolean {
  const [e, n] = wires.pointAt(s, gap.t);
  const reachM = Math.max(CROSSING_SETINS * setinM, gap.distanceM / CROSSING_SINE);
  return ground.flushCrossings.some((at) => Math.hypot(at[0] - e, at[1] - n) <= reachM);
}
