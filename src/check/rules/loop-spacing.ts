import type { PointM } from "../../model/geometry.ts";
import type { Case } from "../case.ts";
import { LAWN } from "../ground/pieces.ts";
import { type Gap, gapBetween, shareAt } from "../kernel/plane.ts";
import { measured, notMeasured, type Place, worstPlaces } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** Cuts between loops are planned to a millimetre; wires wander away from them, not over, metres. */
const SLACK_M = 0.002;
/** Loops of parts that the machine cannot drive between may be this near, metres. */
const PARTS_APART_M = 0.05;

/**
 * Wires of different loops keep the machine's spacing where the machine could drive from one to the
 * other: on lawn, away from its edges. Across what is no lawn, and at a gate too narrow for the
 * machine, they must only not touch.
 */
export const loopSpacing: Rule = {
  id: "loop-spacing",
  code: "LOOPS_TOO_NEAR",
  title: "least distance between wires of different loops on open lawn",
  measure(court) {
    const { wires, profile } = court;
    if (wires.loops.length < 2) return notMeasured("m", "at least", "there is one loop");
    const allowed = profile.loop.spacingM;
    const gap: Gap = { distanceM: 0, t: 0, u: 0 };
    const { ends } = wires.tree;
    const places: Place<{ one: string; other: string; isM: number; wantedM: number }>[] = [];
    const fronts = new Fronts(court, allowed - SLACK_M);
    let least = Infinity;
    for (const {
      s,
      from: [ae, an],
      to: [be, bn],
    } of stepsOf(court)) {
      for (const t of wires.tree.around(ae, an, be, bn, allowed)) {
        if (wires.loopOf[t]! <= wires.loopOf[s]!) continue;
        const j = 4 * t;
        gapBetween(ae, an, be, bn, ends[j]!, ends[j + 1]!, ends[j + 2]!, ends[j + 3]!, gap);
        if (gap.distanceM >= allowed - SLACK_M) continue;
        const from: PointM = [ae + gap.t * (be - ae), an + gap.t * (bn - an)];
        const to = wires.pointAt(t, gap.u);
        const isOpen =
          onOpenLawn(court, from, to) &&
          fronts.of(wires.loopOf[s]!, wires.loopOf[t]!) >= profile.passage.driveMinM;
        const wantedM = isOpen ? allowed - SLACK_M : PARTS_APART_M;
        if (isOpen) least = Math.min(least, gap.distanceM);
        if (gap.distanceM >= wantedM) continue;
        least = Math.min(least, gap.distanceM);
        places.push({
          atM: from,
          amount: wantedM - gap.distanceM,
          of: { one: wires.nameOf(s), other: wires.nameOf(t), isM: gap.distanceM, wantedM },
        });
      }
    }
    const breaches = [
      ...nested(court),
      ...worstPlaces(places).map(({ atM, of: { one, other, isM, wantedM } }) => ({
        message: `Wires of loops ${one} and ${other} lie ${isM.toFixed(3)} m apart; at least ${wantedM.toFixed(2)} m are asked.`,
        remedy: "Move one of the two wires away from the other.",
        atM,
      })),
    ];
    return measured("m", "at least", Math.min(least, allowed), allowed - SLACK_M, breaches);
  },
};

/** Wire is looked at this often along it, metres. */
const STEP_M = 0.1;
/** A long stretch may pass open lawn and what is none: each so much of it is asked, metres. */
const STRETCH_M = 0.25;

interface Stretch {
  readonly s: number;
  readonly from: PointM;
  readonly to: PointM;
}

/** The wire that comes near another loop's, in short stretches. */
function* stepsOf({ wires, profile }: Case): Generator<Stretch> {
  for (let s = 0; s < wires.count; s++) {
    const [a, b] = [wires.pointAt(s, 0), wires.pointAt(s, 1)];
    const isNear = wires.tree
      .around(...a, ...b, profile.loop.spacingM)
      .some((t) => wires.loopOf[t]! > wires.loopOf[s]!);
    if (!isNear) continue;
    const steps = Math.max(1, Math.ceil(wires.segmentM(s) / STRETCH_M));
    for (let k = 0; k < steps; k++) {
      yield { s, from: wires.pointAt(s, k / steps), to: wires.pointAt(s, (k + 1) / steps) };
    }
  }
}

/**
 * How much of one loop's wire faces another over open lawn, nearer than allowed. Less than the
 * machine's width is a gate that it cannot drive through, not a border of two loops.
 */
class Fronts {
  readonly #court: Case;
  readonly #nearM: number;
  readonly #known = new Map<string, number>();

  constructor(court: Case, nearM: number) {
    this.#court = court;
    this.#nearM = nearM;
  }

  of(one: number, other: number): number {
    const key = `${one} ${other}`;
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const { wires } = this.#court;
    let lengthM = 0;
    for (let s = wires.starts[one]!; s < wires.starts[one + 1]!; s++) {
      const steps = Math.max(1, Math.ceil(wires.segmentM(s) / STEP_M));
      for (let k = 0; k < steps; k++) {
        if (this.#faces(wires.pointAt(s, (k + 0.5) / steps), other)) {
          lengthM += wires.segmentM(s) / steps;
        }
      }
    }
    this.#known.set(key, lengthM);
    return lengthM;
  }

  #faces(atM: PointM, other: number): boolean {
    const { tree, loopOf } = this.#court.wires;
    const [e, n] = atM;
    let [nearest, nearestM] = [-1, this.#nearM];
    for (const t of tree.around(e, n, e, n, this.#nearM)) {
      if (loopOf[t] !== other) continue;
      const d = tree.distanceM(t, e, n);
      if (d < nearestM) [nearest, nearestM] = [t, d];
    }
    if (nearest < 0) return false;
    const k = 4 * nearest;
    const { ends } = tree;
    const share = shareAt(e, n, ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!);
    return onOpenLawn(this.#court, atM, this.#court.wires.pointAt(nearest, share));
  }
}

/** Loops that lie inside another: the machine of one would mow the other's lawn. */
function nested({ wires }: Case) {
  return wires.loops.flatMap(({ name, wire }, one) =>
    wires.loops.flatMap((other, two) =>
      one !== two && wires.winding(two, wire[0]!, wire[1]!) !== 0
        ? [
            {
              message: `Loop ${name} lies inside loop ${other.name}.`,
              remedy: "Keep loops beside each other.",
              atM: [wire[0]!, wire[1]!] as const,
            },
          ]
        : [],
    ),
  );
}

/** Whether a straight way between two wires runs over lawn with room for the machine beside it. */
function onOpenLawn(
  court: Case,
  [ae, an]: readonly [number, number],
  [be, bn]: readonly [number, number],
): boolean {
  const { ground, profile } = court;
  const { asking, askingTree } = ground;
  const halfM = profile.passage.driveMinM / 2;
  return [0.02, 0.5, 0.98].every((share) => {
    const [e, n] = [ae + share * (be - ae), an + share * (bn - an)];
    if (ground.covers.at(e, n) !== LAWN) return false;
    return !askingTree
      .around(e, n, e, n, ground.mostSetinM + halfM)
      .some((i) => askingTree.distanceM(i, e, n) < asking[i]!.setinM + halfM);
  });
}
