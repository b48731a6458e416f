import type { Case } from "../case.ts";
import { type Cover, FLUSH, LAWN, NOTHING } from "../ground/pieces.ts";
import { crossingShare, meet } from "../kernel/plane.ts";
import { measured, type Place, worstPlaces } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** Wire off the lawn for less than this is rounding, metres. */
const OFF_SLACK_M = 0.002;
/** Nor is wire on an outline itself, where a thing asks for no set-in: off it by less than this, metres. */
const OFF_DEPTH_M = 0.0005;
/** Between lawn and flush path there may be a digitising gap of 0.10 m; askew it is longer. */
const GAP_MAX_M = 0.2;

/** A stretch of wire on one sort of ground. */
interface Arc {
  readonly cover: Cover;
  /** Where it begins along its loop, metres. */
  readonly fromM: number;
  readonly lengthM: number;
  readonly atM: readonly [number, number];
}

/** The wire lies on lawn; it may cross flush paving. */
export const onLawn: Rule = {
  id: "on-lawn",
  code: "WIRE_OFF_LAWN",
  title: "wire on the lawn: metres off it",
  measure(court) {
    const places: Place<{ loop: string; cover: Cover }>[] = [];
    let offM = 0;
    court.plan.loops.forEach(({ name }, loop) => {
      const arcs = arcsOf(court, loop);
      arcs.forEach((arc, i) => {
        if (arc.cover === LAWN || arc.cover === FLUSH || arc.lengthM < OFF_SLACK_M) return;
        const beside = [arcs.at(i - 1)!, arcs[(i + 1) % arcs.length]!];
        const isGap =
          arc.cover === NOTHING &&
          arc.lengthM <= GAP_MAX_M &&
          beside.some((other) => other.cover === FLUSH);
        if (isGap || liesOnEdge(court, loop, arc)) return;
        offM += arc.lengthM;
        places.push({ atM: arc.atM, amount: arc.lengthM, of: { loop: name, cover: arc.cover } });
      });
    });
    const breaches = worstPlaces(places).map(({ atM, amount, of }) => ({
      message: `Wire of loop ${of.loop} is off the lawn for ${amount.toFixed(2)} m.`,
      remedy: "Move it onto the lawn.",
      atM,
    }));
    return measured("m", "at most", offM, 0, breaches);
  },
};

/** Stretches of a loop between the outlines that it crosses, in order. */
function arcsOf({ wires, ground }: Case, loop: number): Arc[] {
  const tree = ground.pieceTree;
  const cuts: { s: number; share: number }[] = [];
  const { ends } = wires.tree;
  for (let s = wires.starts[loop]!; s < wires.starts[loop + 1]!; s++) {
    const k = 4 * s;
    const [ae, an, be, bn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
    const here: number[] = [];
    for (const p of tree.around(ae, an, be, bn, 0)) {
      const { ae: ce, an: cn, be: de, bn: dn } = ground.pieces[p]!;
      if (meet(ae, an, be, bn, ce, cn, de, dn)) {
        here.push(crossingShare(ae, an, be, bn, ce, cn, de, dn));
      }
    }
    for (const share of here.sort((x, y) => x - y)) cuts.push({ s, share });
  }
  const first = wires.starts[loop]!;
  const cutsOf = cuts.length === 0 ? [{ s: first, share: 0 }] : cuts;
  const total = wires.lengthsM[loop]!;
  const alongOf = ({ s, share }: { s: number; share: number }): number =>
    wires.alongM[s]! + share * wires.segmentM(s);
  return cutsOf.map((cut, i) => {
    const next = cutsOf[(i + 1) % cutsOf.length]!;
    const from = alongOf(cut);
    let lengthM = alongOf(next) - from;
    if (lengthM < 0 || cutsOf.length === 1) lengthM += total;
    const atM = pointAlong(wires, loop, (from + lengthM / 2) % total);
    return { cover: ground.covers.at(atM[0], atM[1]), fromM: from, lengthM, atM };
  });
}

const EDGE_SAMPLES = 8;

/** Whether a stretch lies on the edge of lawn or paving all along, to rounding. */
function liesOnEdge({ wires, ground }: Case, loop: number, { fromM, lengthM }: Arc): boolean {
  const isGround = (cover: Cover): boolean => cover === LAWN || cover === FLUSH;
  for (let k = 0; k < EDGE_SAMPLES; k++) {
    const alongM = fromM + ((k + 0.5) / EDGE_SAMPLES) * lengthM;
    const [e, n] = pointAlong(wires, loop, alongM % wires.lengthsM[loop]!);
    const onEdge = ground.pieceTree.around(e, n, e, n, OFF_DEPTH_M).some((p) => {
      const { left, right } = ground.pieces[p]!;
      if (!isGround(left) && !isGround(right)) return false;
      return ground.pieceTree.distanceM(p, e, n) <= OFF_DEPTH_M;
    });
    if (!onEdge) return false;
  }
  return true;
}

function pointAlong(wires: Case["wires"], loop: number, alongM: number) {
  let [low, high] = [wires.starts[loop]!, wires.starts[loop + 1]! - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (wires.alongM[middle]! <= alongM) low = middle;
    else high = middle - 1;
  }
  const lengthM = wires.segmentM(low);
  return wires.pointAt(low, lengthM === 0 ? 0 : (alongM - wires.alongM[low]!) / lengthM);
}
