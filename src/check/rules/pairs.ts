import type { PointM } from "../../model/geometry.ts";
import type { Case } from "../case.ts";
import { type Breach, measured, notMeasured, type Place, worstPlaces } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** Pairs are drawn a little wider than the profile's gap, for rounding; and round their pegs, metres. */
const GAP_OVER_M = 0.0021;
const GAP_UNDER_M = 0.0001;
/** A map tool cannot draw a gap of millimetres: pairs that are not stated may be this wide, metres. */
const DRAWN_GAP_M = 0.03;
/** Not measured this near to a run's ends, where the wires part, nor to its bends, metres. */
const END_CLEAR_M = 0.03;
const BEND_CLEAR_M = 0.015;
const STEP_M = 0.25;
/** The two wires are looked for this far to either side of the centre line, metres. */
const LOOK_M = 0.5;

/** A cut across a run: the wires nearest to its centre on either side. */
interface Cut {
  readonly atM: PointM;
  readonly of: string;
  /** Infinity where one of the two is not there. */
  readonly gapM: number;
  readonly opposite: boolean;
}

const cutsOf = new WeakMap<Case, readonly Cut[]>();

function cutsAcross(court: Case): readonly Cut[] {
  const known = cutsOf.get(court);
  if (known) return known;
  const cuts = court.plan.loops.flatMap((loop, number) =>
    (loop.pairedRuns ?? []).flatMap(({ line, from, to }) =>
      placesAlong(line).map(({ atM, ue, un }) =>
        cutAt(court, number, atM, ue, un, `from ${from} to ${to} of loop ${loop.name}`),
      ),
    ),
  );
  cutsOf.set(court, cuts);
  return cuts;
}

function placesAlong(line: Float64Array): { atM: PointM; ue: number; un: number }[] {
  const found: { atM: PointM; ue: number; un: number }[] = [];
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [ae, an, be, bn] = [line[i]!, line[i + 1]!, line[i + 2]!, line[i + 3]!];
    const lengthM = Math.hypot(be - ae, bn - an);
    const from = i === 0 ? END_CLEAR_M : BEND_CLEAR_M;
    const to = lengthM - (i + 4 === line.length ? END_CLEAR_M : BEND_CLEAR_M);
    if (to <= from) continue;
    const steps = Math.max(2, Math.ceil((to - from) / STEP_M));
    const [ue, un] = [(be - ae) / lengthM, (bn - an) / lengthM];
    for (let k = 0; k <= steps; k++) {
      const d = from + ((to - from) * k) / steps;
      found.push({ atM: [ae + d * ue, an + d * un], ue, un });
    }
  }
  return found;
}

function cutAt(
  { wires }: Case,
  loop: number,
  atM: PointM,
  ue: number,
  un: number,
  of: string,
): Cut {
  const { ends } = wires.tree;
  let [left, right] = [Infinity, Infinity];
  let [leftGoes, rightGoes] = [0, 0];
  const from: PointM = [atM[0] - LOOK_M * un, atM[1] + LOOK_M * ue];
  const to: PointM = [atM[0] + LOOK_M * un, atM[1] - LOOK_M * ue];
  for (const s of wires.tree.around(from[0], from[1], to[0], to[1], 0)) {
    if (wires.loopOf[s] !== loop) continue;
    const k = 4 * s;
    const along0 = (ends[k]! - atM[0]) * ue + (ends[k + 1]! - atM[1]) * un;
    const along1 = (ends[k + 2]! - atM[0]) * ue + (ends[k + 3]! - atM[1]) * un;
    if (along0 > 0 === along1 > 0) continue;
    const off0 = -(ends[k]! - atM[0]) * un + (ends[k + 1]! - atM[1]) * ue;
    const off1 = -(ends[k + 2]! - atM[0]) * un + (ends[k + 3]! - atM[1]) * ue;
    const off = off0 + ((off1 - off0) * along0) / (along0 - along1);
    const goes = along1 > along0 ? 1 : -1;
    if (off > 0 && off < left) [left, leftGoes] = [off, goes];
    if (off <= 0 && -off < right) [right, rightGoes] = [-off, goes];
  }
  const gapM = left + right <= 2 * LOOK_M ? left + right : Infinity;
  return { atM, of, gapM, opposite: leftGoes !== rightGoes };
}

/** The two wires of a pair lie the profile's gap apart, all along. */
export const pairGap: Rule = {
  id: "pair-gap",
  code: "PAIR_APART",
  title: "widest gap between the two wires of a pair",
  measure(court) {
    const gapM = court.profile.wire.pairGapM;
    const isStated = court.plan.loops.some((loop) => loop.pairedRuns !== undefined);
    const cuts = isStated ? cutsAcross(court) : foundPairs(court);
    if (cuts.length === 0) {
      const why = isStated ? "the plan has no paired runs" : "no two wires run as a pair";
      return notMeasured("m", "at most", why);
    }
    const mostM = isStated ? gapM + GAP_OVER_M : Math.max(DRAWN_GAP_M, gapM + GAP_OVER_M);
    const leastM = isStated ? gapM - GAP_UNDER_M : 0;
    const places: Place<Cut>[] = [];
    let widest = 0;
    for (const cut of cuts) {
      widest = Math.max(widest, Math.min(cut.gapM, 2 * LOOK_M));
      const amount = Math.max(cut.gapM - mostM, leastM - cut.gapM);
      if (amount > 0) places.push({ atM: cut.atM, amount, of: cut });
    }
    const breaches = worstPlaces(places).map(({ atM, of: { of, gapM: is } }) => ({
      message: Number.isFinite(is)
        ? `The two wires of the pair ${of} lie ${(1000 * is).toFixed(1)} mm apart; ${(1000 * leastM).toFixed(1)} to ${(1000 * mostM).toFixed(1)} mm are allowed.`
        : `A wire of the pair ${of} is not beside its centre line.`,
      remedy: "Lay the two wires side by side on shared pegs, so that their fields cancel.",
      atM,
    }));
    return measured("m", "at most", widest, mostM, breaches);
  },
};

/** Pairs as the wire itself shows them. */
function foundPairs({ wires }: Case): Cut[] {
  return [...wires.paired].flatMap(([s, stretches]) =>
    stretches.map(({ from, to, gapM }) => ({
      atM: wires.pointAt(s, (from + to) / 2),
      of: `of loop ${wires.nameOf(s)}`,
      gapM,
      opposite: true,
    })),
  );
}

/** One wire of a pair runs out, the other back. */
export const pairOpposite: Rule = {
  id: "pair-opposite",
  code: "PAIR_SAME_WAY",
  title: "places where the two wires of a pair run the same way",
  measure(court) {
    const cuts = cutsAcross(court).filter(({ gapM }) => Number.isFinite(gapM));
    if (cuts.length === 0) return notMeasured("count", "at most", "no paired runs are stated");
    const places = cuts
      .filter((cut) => !cut.opposite)
      .map((cut): Place<Cut> => ({ atM: cut.atM, amount: 1, of: cut }));
    const breaches: Breach[] = worstPlaces(places).map(({ atM, of: { of } }) => ({
      message: `The two wires of the pair ${of} run the same way: their fields add up.`,
      remedy: "Lay one wire out and the other back.",
      atM,
    }));
    return measured("count", "at most", breaches.length, 0, breaches);
  },
};
