/** From a stated plan and what is known of a fault to the state of the search. */
import type { StatedLoop, StatedPlan } from "../../check/stated/stated-plan.ts";
import { ringLengthM } from "../../geometry/rings.ts";
import { done, failed, type Outcome, type Problem } from "../../model/finding.ts";
import { type Answer, type SearchProblem, type SearchState, searchBreak } from "./break-search.ts";
import { byCapacitance, byLeak, type FaultEstimate } from "./fault-reading.ts";
import { type TestedWire, testedWire } from "./wire-places.ts";

/** What is known of a fault. */
export interface FaultKnown {
  /** Loop that does not work; may be left out where there is only one. */
  readonly loop?: string | undefined;
  readonly answers: readonly Answer[];
  /** Pegs at which there is a joint that the plan does not state. */
  readonly joints: readonly string[];
  /** Capacitance to earth from both ends, nanofarad. */
  readonly capacitanceNf?: readonly [start: number, end: number] | undefined;
  /** Resistance to earth from both ends of wire that is whole, ohm. */
  readonly leakOhm?: readonly [start: number, end: number] | undefined;
  /** Of the conductor at 20 °C. */
  readonly ohmPerKm: number;
}

export interface Mending {
  readonly wire: TestedWire;
  readonly state: SearchState;
  readonly estimate: FaultEstimate | undefined;
  readonly ohmPerKm: number;
  /** Places of the joints that are known, by name, in order along the wire. */
  readonly joints: readonly string[];
}

/** @returns the state of the search, or the problem that answers and plan do not fit together */
export function mendLoop(plan: StatedPlan, known: FaultKnown): Outcome<Mending> {
  const chosen = loopOf(plan, known.loop);
  if (!chosen.ok) return chosen;
  const loop = chosen.value;
  const pegs = (loop.pegs ?? []).flatMap((peg) =>
    peg.chainageM === undefined ? [] : [{ ...peg, chainageM: peg.chainageM }],
  );
  if (pegs.length < 2) {
    return failed(
      problem(
        "PLAN_WITHOUT_PEGS",
        `The plan states no pegs with chainage for loop ${loop.name}.`,
        "Give the plan.geojson that `pegline plan` wrote.",
      ),
    );
  }
  const lengthM = loop.lengthM ?? ringLengthM(loop.wire);
  const stationM = loop.station?.atM ?? [loop.wire[0]!, loop.wire[1]!];
  const unknown = known.joints.find((name) => !pegs.some((peg) => placesOf(peg).includes(name)));
  if (unknown !== undefined) return failed(unknownPlace(unknown, loop.name));
  const stated = pegs.flatMap(({ number, joint }) => (joint === undefined ? [] : [number]));
  const joints = new Set([...stated, ...known.joints]);
  const wire = testedWire(loop.name, lengthM, stationM, pegs, joints);
  const { capacitanceNf, leakOhm, ohmPerKm } = known;
  let estimate: FaultEstimate | undefined;
  if (capacitanceNf) estimate = byCapacitance(lengthM, ...capacitanceNf);
  else if (leakOhm) {
    estimate = byLeak(lengthM, ohmPerKm, ...leakOhm);
    if (!estimate) {
      return failed(
        problem(
          "READINGS_IMPOSSIBLE",
          `Readings of ${leakOhm[0]} and ${leakOhm[1]} ohm differ by more than the ${((lengthM * ohmPerKm) / 1000).toFixed(1)} ohm of the whole wire.`,
          "Measure both ends again to the same earth pin; give the wire's own resistance with --ohm-per-km.",
        ),
      );
    }
  }
  const state = searchBreak(wire, known.answers, estimate);
  if ("kind" in state) return failed(refusal(state, loop.name));
  const named = wire.places.flatMap(({ name }) => (joints.has(name) ? [name] : []));
  return done({ wire, state, estimate, ohmPerKm, joints: named });
}

function loopOf({ loops }: StatedPlan, name: string | undefined): Outcome<StatedLoop> {
  const names = loops.map((one) => one.name);
  if (name === undefined && loops.length > 1) {
    return failed(
      problem(
        "LOOP_NOT_CHOSEN",
        `The plan has ${loops.length} loops: ${names.join(", ")}.`,
        "Say which one does not work with --loop; its station shows it.",
      ),
    );
  }
  const loop = name === undefined ? loops[0] : loops.find((one) => one.name === name);
  if (loop) return done(loop);
  return failed(
    problem("LOOP_UNKNOWN", `The plan has no loop ${name}.`, `Its loops are ${names.join(", ")}.`),
  );
}

const placesOf = (peg: { number: string; secondChainageM?: number | undefined }): string[] =>
  peg.secondChainageM === undefined ? [peg.number] : [peg.number, `${peg.number}/2`];

function refusal(found: SearchProblem, loop: string): Problem {
  switch (found.kind) {
    case "unknown-place":
      return unknownPlace(found.name, loop);
    case "backwards":
      return problem(
        "STRETCH_BACKWARDS",
        `${found.answer.from} does not come before ${found.answer.to} along the wire.`,
        "Name the stretch in laying order, the lower chainage first; a peg of a pair is passed twice, the second time as in A12/2.",
      );
    case "contradiction":
      return problem(
        "ANSWERS_CONTRADICT",
        "By these answers no stretch of the wire can hold the break.",
        "One of them is mistaken, or a clip did not reach the copper: test the dead stretches again.",
      );
  }
}

function unknownPlace(name: string, loop: string): Problem {
  return problem(
    "PEG_UNKNOWN",
    `Loop ${loop} has no peg ${name}.`,
    "Write pegs as on the plan: A12; A12/2 for the second time that the wire comes by; start and end at the station.",
  );
}

function problem(code: string, message: string, remedy: string): Problem {
  return { code, kind: "usage", message, remedy };
}
