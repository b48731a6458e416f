import type { PointM } from "../../model/geometry.ts";
import { lengthSlackM, PEG_REACH_M, SPAN_SLACK_M } from "../allowances.ts";
import type { Case } from "../case.ts";
import { SegmentTree } from "../kernel/segment-tree.ts";
import {
  type Breach,
  measured,
  notMeasured,
  type Place,
  statedM,
  worstPlaces,
} from "../measure.ts";
import type { Rule } from "../rule.ts";
import type { StatedLoop, StatedPeg } from "../stated/stated-plan.ts";
import type { Wires } from "../wires.ts";

/** Wire is looked for this far round a peg, metres: farther than any part of a plan is from another. */
const FARTHEST_M = 1e8;

const NO_PEGS = "the plan has no pegs";

interface Pegged {
  readonly loop: StatedLoop;
  readonly number: number;
  readonly pegs: readonly StatedPeg[];
}

function peggedLoops({ plan }: Case): Pegged[] {
  return plan.loops.flatMap((loop, number) =>
    loop.pegs && loop.pegs.length > 0 ? [{ loop, number, pegs: loop.pegs }] : [],
  );
}

/** Where the wire comes by a peg: distances along it, one for each time, in order. */
function passesOf(wires: Wires, loop: number, { atM: [e, n] }: StatedPeg): number[] {
  const near = wires.tree
    .around(e, n, e, n, PEG_REACH_M)
    .filter((s) => wires.loopOf[s] === loop && wires.tree.distanceM(s, e, n) <= PEG_REACH_M);
  const total = wires.lengthsM[loop]!;
  const found: number[] = [];
  const beside: number[] = [];
  for (const s of near) {
    // The vertex within reach where there is one: pegs stand at vertices.
    const lengthM = wires.segmentM(s);
    const to = (share: number): number => {
      const [pe, pn] = wires.pointAt(s, share);
      return Math.hypot(pe - e, pn - n);
    };
    const ends = [0, 1].filter((share) => to(share) <= PEG_REACH_M);
    if (ends.length > 0) {
      for (const share of ends) {
        found.push(wires.alongM[s]! + share * lengthM);
      }
    } else beside.push(alongNearest(wires, s, e, n));
  }
  // A wire that merely passes near a peg that holds a bend is another pass only of another peg.
  if (found.length === 0) return beside.sort((a, b) => a - b);
  // Segments that meet at one vertex say the same place twice; so does the seam of the loop.
  const sorted = found.map((alongM) => (alongM > total - 1e-9 ? 0 : alongM)).sort((a, b) => a - b);
  return sorted.filter((alongM, i) => i === 0 || alongM - sorted[i - 1]! > 1e-9);
}

function alongNearest(wires: Wires, s: number, e: number, n: number): number {
  const [ae, an] = wires.pointAt(s, 0);
  const [be, bn] = wires.pointAt(s, 1);
  const lengthM = wires.segmentM(s);
  const along = lengthM === 0 ? 0 : ((e - ae) * (be - ae) + (n - an) * (bn - an)) / lengthM;
  return wires.alongM[s]! + Math.max(0, Math.min(lengthM, along));
}

/** Pegs stand on the wire. */
export const pegsOnWire: Rule = {
  id: "pegs-on-wire",
  code: "PEG_OFF_WIRE",
  title: "greatest distance of a peg from its wire",
  measure(court) {
    const { wires } = court;
    const loops = peggedLoops(court);
    if (loops.length === 0) return notMeasured("m", "at most", NO_PEGS);
    const places: Place<string>[] = [];
    let most = 0;
    for (const { loop, pegs, number } of loops) {
      for (const peg of pegs) {
        const [e, n] = peg.atM;
        let offM = Infinity;
        for (let reachM = PEG_REACH_M; offM > reachM && reachM < FARTHEST_M; reachM *= 10) {
          for (const s of wires.tree.around(e, n, e, n, reachM)) {
            if (wires.loopOf[s] === number) offM = Math.min(offM, wires.tree.distanceM(s, e, n));
          }
        }
        most = Math.max(most, offM);
        if (offM > PEG_REACH_M) {
          places.push({ atM: peg.atM, amount: offM, of: `${peg.number} of loop ${loop.name}` });
        }
      }
    }
    const breaches = worstPlaces(places).map(({ atM, amount, of }) => ({
      message: `Peg ${of} stands ${amount.toFixed(3)} m from its wire.`,
      remedy: "Move the peg onto the wire, or the wire to the peg.",
      atM,
    }));
    return measured("m", "at most", most, PEG_REACH_M, breaches);
  },
};

/** The wire is straight between pegs: each of its vertices has one. */
export const verticesOnPegs: Rule = {
  id: "vertices-on-pegs",
  code: "VERTEX_WITHOUT_PEG",
  title: "greatest distance of a bend of the wire from a peg",
  measure(court) {
    const loops = peggedLoops(court);
    if (loops.length === 0) return notMeasured("m", "at most", NO_PEGS);
    const places: Place<string>[] = [];
    let most = 0;
    for (const { loop, pegs } of loops) {
      const spots = new SegmentTree(pegs.flatMap(({ atM: [e, n] }) => [e, n, e, n]));
      for (let i = 0; i < loop.wire.length; i += 2) {
        const atM: PointM = [loop.wire[i]!, loop.wire[i + 1]!];
        const offM = spots.nearest(atM[0], atM[1], 100)?.distanceM ?? 100;
        most = Math.max(most, offM);
        if (offM > PEG_REACH_M) places.push({ atM, amount: offM, of: loop.name });
      }
    }
    const breaches = worstPlaces(places).map(({ atM, amount, of }) => ({
      message: `The wire of loop ${of} bends ${amount.toFixed(3)} m from the nearest peg: without one it will not lie so.`,
      remedy: "Set a peg there, or draw the wire straight.",
      atM,
    }));
    return measured("m", "at most", most, PEG_REACH_M, breaches);
  },
};

/** Distance along the wire from each peg to the next. */
export const spans: Rule = {
  id: "spans",
  code: "SPAN_TOO_LONG",
  title: "longest span between neighbouring pegs",
  measure(court) {
    const { wires, profile } = court;
    const loops = peggedLoops(court);
    if (loops.length === 0) return notMeasured("m", "at most", NO_PEGS);
    const allowed = profile.pegs.spacingMaxM;
    const places: Place<string>[] = [];
    let most = 0;
    for (const { loop, number, pegs } of loops) {
      const at = pegs
        .flatMap((peg) => passesOf(wires, number, peg).map((alongM) => ({ alongM, peg })))
        .sort((a, b) => a.alongM - b.alongM);
      at.forEach(({ alongM, peg }, i) => {
        const next = at[i + 1]?.alongM ?? at[0]!.alongM + wires.lengthsM[number]!;
        const spanM = next - alongM;
        most = Math.max(most, spanM);
        if (spanM > allowed + SPAN_SLACK_M) {
          places.push({ atM: peg.atM, amount: spanM, of: `${peg.number} of loop ${loop.name}` });
        }
      });
    }
    const breaches = worstPlaces(places).map(({ atM, amount, of }) => ({
      message: `After peg ${of} the wire runs ${amount.toFixed(3)} m without a peg; at most ${allowed.toFixed(2)} m are allowed.`,
      remedy: "Set a peg between.",
      atM,
    }));
    return measured("m", "at most", most, allowed, breaches);
  },
};

/**
 * Pegs are numbered along the wire from the station, without gaps; where a revision kept the numbers of
 * pegs that stay, each number is of the loop and stands once.
 */
export const pegNumbers: Rule = {
  id: "peg-numbers",
  code: "PEG_NUMBER_WRONG",
  title: "pegs numbered out of order",
  measure(court) {
    const { wires } = court;
    const loops = peggedLoops(court);
    if (loops.length === 0) return notMeasured("count", "at most", NO_PEGS);
    const breaches: Breach[] = [];
    let count = 0;
    for (const { loop, number, pegs } of loops) {
      const inOrder = pegs
        // What is stated decides where pegs stand millimetres apart; that it is true is measured apart.
        .map((peg) => {
          const first = passesOf(wires, number, peg)[0] ?? Infinity;
          const stated = peg.chainageM ?? first;
          return { peg, alongM: Math.abs(stated - first) <= 2 * PEG_REACH_M ? stated : first };
        })
        .sort((a, b) => a.alongM - b.alongM);
      if (loop.numberedTo !== undefined) {
        const odd = oddNumbers(
          loop,
          inOrder.map(({ peg }) => peg),
        );
        count += odd.length;
        if (odd[0]) breaches.push(oddNumber(odd, loop.name));
        continue;
      }
      const wrong = inOrder.flatMap(({ peg }, i) => {
        const wanted = `${loop.name}${i + 1}`;
        return peg.number === wanted ? [] : [{ peg, wanted }];
      });
      count += wrong.length;
      const first = wrong[0];
      if (first) {
        breaches.push({
          message: `${wrong.length} pegs of loop ${loop.name} are numbered out of order; the first is ${first.peg.number || "without a number"}, which comes as ${first.wanted} along the wire.`,
          remedy: "Number the pegs along the wire from the station.",
          atM: first.peg.atM,
        });
      }
    }
    return measured("count", "at most", count, 0, breaches);
  },
};

/** Pegs whose number is no number of the loop that was given, or is another peg's. */
function oddNumbers({ name, numberedTo = 0 }: StatedLoop, pegs: readonly StatedPeg[]): StatedPeg[] {
  const seen = new Set<string>();
  return pegs.filter(({ number }) => {
    const digits = number.startsWith(name) ? number.slice(name.length) : "";
    const isOdd = !/^[1-9]\d*$/.test(digits) || Number(digits) > numberedTo || seen.has(number);
    seen.add(number);
    return isOdd;
  });
}

const oddNumber = (odd: readonly StatedPeg[], loop: string): Breach => ({
  message: `${odd.length} pegs of loop ${loop} have a number that another peg has, or none of this loop; the first is ${odd[0]!.number || "without a number"}.`,
  remedy: "Give each peg of a revised plan a number of its own: the old one, or the next free one.",
  atM: odd[0]!.atM,
});

/** Stated distances along the wire are true; a peg that the wire comes by twice has both. */
export const chainage: Rule = {
  id: "chainage",
  code: "CHAINAGE_WRONG",
  title: "greatest error of a stated distance along the wire",
  measure(court) {
    const { wires } = court;
    const loops = peggedLoops(court).filter(({ pegs }) =>
      pegs.some((peg) => peg.chainageM !== undefined),
    );
    if (loops.length === 0) return notMeasured("m", "at most", "no peg states its distance");
    const places: Place<string>[] = [];
    let most = 0;
    const say = (peg: StatedPeg, amount: number, of: string): void => {
      most = Math.max(most, amount);
      places.push({ atM: peg.atM, amount, of });
    };
    for (const { loop, number, pegs } of loops) {
      for (const peg of pegs) {
        const passes = passesOf(wires, number, peg);
        const stated = [peg.chainageM, peg.secondChainageM].filter((x) => x !== undefined);
        const name = `Peg ${peg.number} of loop ${loop.name}`;
        for (const value of stated) {
          const error = Math.min(Infinity, ...passes.map((alongM) => Math.abs(alongM - value)));
          if (!(error <= lengthSlackM(value))) {
            say(
              peg,
              Number.isFinite(error) ? error : value,
              `${name} is stated at ${statedM(value)} along the wire; it stands at ${passes.map((x) => x.toFixed(3)).join(" and ") || "no place of it"}.`,
            );
          } else most = Math.max(most, error);
        }
        // Passes that lie millimetres apart are the bend of a pair round its own peg.
        const apart = passes.filter((x, i) => i === 0 || x - passes[i - 1]! > 2 * PEG_REACH_M);
        if (stated.length < Math.min(2, apart.length)) {
          say(
            peg,
            apart[1]!,
            `The wire comes by peg ${peg.number} of loop ${loop.name} ${apart.length} times, of which ${stated.length} are stated.`,
          );
        }
      }
    }
    const breaches = worstPlaces(places).map(({ atM, of }) => ({
      message: of,
      remedy: "Measure the distances along the wire again; setting out goes by them.",
      atM,
    }));
    return measured("m", "at most", most, lengthSlackM(0), breaches);
  },
};
