/**
 * Tape ties: each peg by its distances from two fixed points, for crews without a receiver.
 *
 * Points are chosen so that tapes meet at fair angles: those that the user gives, then corners of
 * houses, then of other things; two or three on a garden, more where a tape does not reach. For each
 * peg the pair that meets best is taken, a third point checks it, and what error to expect is said.
 */
import type { PointM } from "../../model/geometry.ts";
import type { Site } from "../../model/site.ts";
import { type Candidate, type ControlPoint, controlCandidates } from "./control-points.ts";
import { chooseMarks, type Mark } from "./marks.ts";
import type { PegRow } from "./peg-table.ts";
import { Sight } from "./sight.ts";
import {
  errorOfTapes,
  GOOD_ERROR_M,
  majorOf,
  majorOfTapes,
  TAPE_U_M,
  tieErrorM,
} from "./tape-error.ts";

/** A distance from a control point, level, metres. */
export interface Tape {
  /** Number of the control point. */
  readonly from: string;
  readonly distanceM: number;
}

export interface TieRow {
  /** Number of the peg. */
  readonly peg: string;
  readonly loop: string;
  /** The two tapes; undefined where no two points can be taped from. */
  readonly tapes: readonly [Tape, Tape] | undefined;
  /** Side on which the peg lies, seen from the first point to the second. */
  readonly side: "left" | "right" | undefined;
  /** A third distance that tells whether the first two are right, and a fourth. */
  readonly checks: readonly Tape[];
  /** The peg stands within this of its place with 95 % probability, by the tapes alone, metres. */
  readonly errorM: number | undefined;
  /** The same where it is stood between all of its tapes, checks too: by least squares, metres. */
  readonly allErrorM: number | undefined;
}

export interface Ties {
  readonly controls: readonly ControlPoint[];
  readonly rows: readonly TieRow[];
  /** Longest tape, metres. */
  readonly reachM: number;
}

/** A tape that is common practice reaches this far, metres. */
export const TAPE_REACH_M = 30;
/** Nearer than this to a point no tape gives a direction, metres. */
const LEAST_TAPE_M = 0.3;
/** Pairs whose error is within this of the best one's are as good. */
const AS_GOOD = 1.1;
/** Points are chosen by this many pegs, spread evenly. */
const SAMPLE_PEGS = 300;
const PAIR_CANDIDATES = 60;
const CONTROLS_MAX = 60;
/** A fourth point and more serve only where they mend this share of the pegs. */
const MENDED_SHARE = 0.03;
/** Corners that are drawn less exactly than they look serve only where they help that much. */
const KIND_WEIGHT = { given: 1, building: 1, firm: 1.15, lawn: 1.3, edge: 1.6, mark: 1 };
/** Marks are set where this share of the pegs, and so many, have no pair. */
const UNTIED_SHARE = 0.01;
const UNTIED_LEAST = 3;
/** Distances that check a tie. */
const CHECKS = 2;
/** What a peg without a pair counts, metres. */
const NO_PAIR_M = 0.1;

/**
 * Ties for all pegs of a table, by tapes no longer than `reachM`. Needs `loadEngine()` awaited.
 *
 * Distances are level, as on the plan: on a slope the tape is held level.
 */
export function tiesOf(
  site: Site,
  pegs: readonly PegRow[],
  reachM = TAPE_REACH_M,
  { withMarks = true }: { readonly withMarks?: boolean } = {},
): Ties {
  const tape = new Tapes(new Sight(site), reachM);
  const candidates = controlCandidates(site);
  const chosen = chooseControls(candidates, pegs, tape);
  const controls = numbered(chosen, []);
  const rows = pegs.map((peg) => tieOf(peg, controls, tape));
  const untied = pegs.filter((_, i) => !rows[i]!.tapes);
  if (!withMarks || untied.length < Math.max(UNTIED_LEAST, UNTIED_SHARE * pegs.length)) {
    return { controls: controls.map(plain), rows, reachM };
  }
  const marks = chooseMarks(
    chosen,
    [...chosen, ...candidates.filter((one) => !chosen.includes(one))],
    sampleOf(untied),
    (from, at) => tape.seen(from, at),
    (from, to) => tape.isFree(from, to),
  );
  const withAll = numbered(chosen, marks);
  const taken = new Set(
    pegs.flatMap((peg) => {
      const { tapes, checks } = tieOf(peg, withAll, tape);
      return [...(tapes ?? []), ...checks].map(({ from }) => from);
    }),
  );
  // Marks that no peg is taped from are not set.
  const used = marks.filter((_, i) => taken.has(`M${i + 1}`));
  const all = numbered(chosen, used);
  return {
    controls: all.map(plain),
    rows: pegs.map((peg) => tieOf(peg, all, tape)),
    reachM,
  };
}

/** A fixed point as it is reckoned with: its own uncertainty too, metres. */
type Reckoned = ControlPoint & { readonly uM?: number };

const plain = ({ uM: _, ...control }: Reckoned): ControlPoint => control;

/** Fixed points P1, P2, …, the ends of marked lines after those that serve by themselves; marks M1, M2, …. */
function numbered(chosen: readonly Candidate[], marks: readonly Mark[]): Reckoned[] {
  const ends = marks.flatMap(({ on }) => [on.from, on.to]);
  const points = [...new Set([...chosen, ...ends])];
  const number = (one: Candidate): string => `P${points.indexOf(one) + 1}`;
  return [
    ...points.map((one): Reckoned => ({ number: number(one), ...one })),
    ...marks.map(({ name, atM, kind, side, on, alongM, uM }, i): Reckoned => {
      const mark = { from: number(on.from), to: number(on.to), alongM, lengthM: on.lengthM };
      return { number: `M${i + 1}`, name, atM, kind, side, uM, mark };
    }),
  ];
}

const distanceM = (a: PointM, b: PointM): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Which tapes can be drawn. */
class Tapes {
  private readonly sight: Sight;
  private readonly reachM: number;

  constructor(sight: Sight, reachM: number) {
    this.sight = sight;
    this.reachM = reachM;
  }

  reaches(from: PointM, to: PointM): boolean {
    const lengthM = distanceM(from, to);
    return lengthM >= LEAST_TAPE_M && lengthM <= this.reachM && this.sight.isFree(from, to);
  }

  isFree(from: PointM, to: PointM): boolean {
    return this.sight.isFree(from, to);
  }

  /** The tape from a fixed point; undefined where none can be drawn. */
  seen({ atM, uM = 0 }: { readonly atM: PointM; readonly uM?: number }, at: PointM) {
    if (!this.reaches(atM, at)) return undefined;
    const lengthM = distanceM(atM, at);
    const unit = [(at[0] - atM[0]) / lengthM, (at[1] - atM[1]) / lengthM] as const;
    return { unit, variance: TAPE_U_M ** 2 + uM ** 2 };
  }
}

function tieOf(peg: PegRow, controls: readonly Reckoned[], tapes: Tapes): TieRow {
  const { atM, number, loop } = peg;
  const reached = controls.flatMap((control) => {
    const seen = tapes.seen(control, atM);
    return seen ? [{ control, seen, tapeM: distanceM(control.atM, atM) }] : [];
  });
  const pairs = reached.flatMap((first, i) =>
    reached.slice(i + 1).map((second) => ({
      ends: [first, second] as const,
      majorM: majorOfTapes([first.seen, second.seen]),
      tapeM: first.tapeM + second.tapeM,
    })),
  );
  const least = Math.min(...pairs.map(({ majorM }) => majorM));
  // Of pairs that are as good as equal the one with the shorter tapes.
  const [best] = pairs
    .filter(({ majorM }) => Number.isFinite(least) && majorM <= AS_GOOD * least)
    .sort((p, q) => p.tapeM - q.tapeM);
  if (!best) {
    const none = { tapes: undefined, side: undefined, checks: [] };
    return { peg: number, loop, ...none, errorM: undefined, allErrorM: undefined };
  }
  const [a, b] = best.ends;
  const tape = ({ control, tapeM }: (typeof reached)[number]): Tape => ({
    from: control.number,
    distanceM: tapeM,
  });
  const held = [a, b];
  for (let k = 0; k < CHECKS; k++) {
    const others = reached.filter((one) => !held.includes(one));
    const errors = others.map(({ seen }) => majorOfTapes([...held.map((one) => one.seen), seen]));
    const most = Math.min(...errors);
    const next = others
      .filter((_, i) => errors[i]! <= AS_GOOD * most)
      .sort((p, q) => p.tapeM - q.tapeM)[0];
    if (next) held.push(next);
  }
  return {
    peg: number,
    loop,
    tapes: [tape(a), tape(b)],
    side: sideOf(a.control.atM, b.control.atM, atM),
    checks: held.slice(2).map(tape),
    errorM: errorOfTapes([a.seen, b.seen]),
    allErrorM: errorOfTapes(held.map((one) => one.seen)),
  };
}

/** Side of the line from a to b on which a place lies. */
export function sideOf(a: PointM, b: PointM, at: PointM): "left" | "right" {
  const cross = (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]);
  return cross >= 0 ? "left" : "right";
}

/** Places of some pegs, spread evenly. */
function sampleOf(pegs: readonly PegRow[]): PointM[] {
  const step = Math.max(1, Math.ceil(pegs.length / SAMPLE_PEGS));
  return pegs.filter((_, i) => i % step === 0).map(({ atM }) => atM);
}

/** What a candidate sees: direction from each peg of the sample, or nothing. */
interface Seen {
  readonly candidate: Candidate;
  readonly weight: number;
  readonly units: readonly (readonly [number, number] | undefined)[];
}

function chooseControls(
  candidates: readonly Candidate[],
  pegs: readonly PegRow[],
  tapes: Tapes,
): Candidate[] {
  const sample = sampleOf(pegs);
  const seen = candidates.map((candidate): Seen => {
    const units = sample.map((at) => {
      if (!tapes.reaches(candidate.atM, at)) return undefined;
      const lengthM = distanceM(candidate.atM, at);
      return [(at[0] - candidate.atM[0]) / lengthM, (at[1] - candidate.atM[1]) / lengthM] as const;
    });
    return { candidate, weight: KIND_WEIGHT[candidate.kind], units };
  });
  const given = seen.filter(({ candidate }) => candidate.kind === "given");
  const others = seen
    .filter(({ candidate, units }) => candidate.kind !== "given" && units.some(Boolean))
    .sort((a, b) => countOf(b) / b.weight - countOf(a) / a.weight);
  const start = given.length >= 2 ? given : bestPair(given, others, sample.length);
  return withMore(start, others, sample.length).map(({ candidate }) => candidate);
}

const countOf = ({ units }: Seen): number =>
  units.reduce((count, unit) => count + (unit ? 1 : 0), 0);

/** Weighted error of each peg by the best pair that has a given candidate in it. */
function costWith(one: Seen, other: Seen, peg: number): number {
  const [a, b] = [one.units[peg], other.units[peg]];
  if (!a || !b) return NO_PAIR_M;
  const cosine = Math.abs(a[0] * b[0] + a[1] * b[1]);
  return Math.min(NO_PAIR_M, majorOf(cosine) * Math.max(one.weight, other.weight));
}

function bestPair(given: readonly Seen[], others: readonly Seen[], pegs: number): Seen[] {
  const pool = [...given, ...others.slice(0, PAIR_CANDIDATES)];
  let best = pool.slice(0, 2);
  let least = Infinity;
  for (let i = 0; i < pool.length; i++) {
    if (given.length === 1 && i > 0) break;
    for (let k = i + 1; k < pool.length; k++) {
      let sum = 0;
      for (let p = 0; p < pegs && sum < least; p++) sum += costWith(pool[i]!, pool[k]!, p);
      if (sum < least) {
        least = sum;
        best = [pool[i]!, pool[k]!];
      }
    }
  }
  return [...best];
}

/** A third point where it helps at all; further ones while they help pegs that have no good pair. */
function withMore(start: readonly Seen[], others: readonly Seen[], pegs: number): Seen[] {
  const chosen: Seen[] = [];
  const cost = new Float64Array(pegs).fill(NO_PAIR_M);
  // What each would bring each peg together with those chosen so far.
  const open = others.filter((one) => !start.includes(one));
  const withChosen = new Map(
    [...start, ...open].map((one) => [one, new Float64Array(pegs).fill(NO_PAIR_M)]),
  );
  const choose = (one: Seen): void => {
    const own = withChosen.get(one)!;
    for (let p = 0; p < pegs; p++) cost[p] = Math.min(cost[p]!, own[p]!);
    chosen.push(one);
    withChosen.delete(one);
    for (const [other, costs] of withChosen) {
      for (let p = 0; p < pegs; p++) costs[p] = Math.min(costs[p]!, costWith(one, other, p));
    }
  };
  for (const one of start) choose(one);
  while (chosen.length < CONTROLS_MAX) {
    let best: Seen | undefined;
    let most = 1e-9;
    for (const [one, costs] of withChosen) {
      let gain = 0;
      for (let p = 0; p < pegs; p++) gain += Math.max(0, cost[p]! - costs[p]!);
      if (gain > most) [best, most] = [one, gain];
    }
    if (!best) return chosen;
    const costs = withChosen.get(best)!;
    if (chosen.length >= 3 && mendedBy(costs, cost) < Math.max(2, MENDED_SHARE * pegs)) {
      return chosen;
    }
    choose(best);
  }
  return chosen;
}

/** How many pegs that have no good pair so far a point would help. */
function mendedBy(costs: Float64Array, now: Float64Array): number {
  goodM ??= goodMajorM();
  let count = 0;
  for (let p = 0; p < now.length; p++) if (now[p]! > goodM && costs[p]! <= 0.8 * now[p]!) count++;
  return count;
}

let goodM: number | undefined;

/** Larger standard deviation of a pair that keeps the peg within 1 cm (95 %); by halving. */
function goodMajorM(): number {
  let [low, high] = [0, 1];
  for (let i = 0; i < 20; i++) {
    const middle = (low + high) / 2;
    if (tieErrorM(middle) <= GOOD_ERROR_M) low = middle;
    else high = middle;
  }
  return majorOf(low);
}
