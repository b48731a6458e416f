/** A plan against the one that is in the ground: what stays, what is lifted, what is laid anew. */
import type { StatedPlan } from "../../check/stated/stated-plan.ts";
import { lineLengthM } from "../../geometry/rings.ts";
import { samePlaces } from "../../geometry/same-places.ts";
import { SegmentIndex } from "../../geometry/segment-index.ts";
import type { LineM, PointM } from "../../model/geometry.ts";
import type { Plan } from "../../model/plan.ts";
import { SAME_PEG_M } from "../../model/plan-options.ts";
import { type LaidLoop, laidLoop } from "../as-laid/laid-loop.ts";
import type { JointPeg } from "../materials/joints.ts";

/** A peg of the new plan or of the old one, and what becomes of it. */
export interface RevisedPeg {
  readonly does: "stays" | "new" | "lifted";
  /** Number in the new plan; in the old one where it is lifted. */
  readonly number: string;
  /** Number in the old plan, of one that stays; another only where it went to another loop. */
  readonly was: string | undefined;
  readonly atM: PointM;
}

/** Wire in one piece. */
export interface RevisedWire {
  readonly does: "stays" | "new" | "lifted";
  readonly loop: string;
  readonly line: LineM;
  readonly lengthM: number;
  /** Pegs that it runs from and to, by the plan that it is of. */
  readonly from: string;
  readonly to: string;
}

export interface Revision {
  readonly pegs: readonly RevisedPeg[];
  readonly wires: readonly RevisedWire[];
  /** Joints of the revised wire: those of the old wire that stay, and its couplers with the new. */
  readonly joints: readonly JointPeg[];
  readonly totals: {
    readonly keptM: number;
    readonly liftedM: number;
    readonly newM: number;
    readonly pegsKept: number;
    readonly pegsLifted: number;
    readonly pegsNew: number;
    /** Couplers where new wire meets old. */
    readonly couplers: number;
    /** To buy, with slack and an end at each coupler, metres. */
    readonly wireToBuyM: number;
    /** New pegs less those lifted, which are used again. */
    readonly pegsToBuy: number;
  };
}

/** Wire for an end at a coupler, metres: common practice. */
const COUPLER_END_M = 0.2;

/**
 * @param old as laid, in the grid of the new plan
 * @returns undefined where the old plan states no pegs
 */
export function revisionOf(old: StatedPlan, plan: Plan): Revision | undefined {
  const changed = wireChanges(old, {
    loops: plan.loops.map((loop) => ({
      ...loop,
      openM: 0,
      direction: undefined,
      pegs: loop.pegs.map((peg) => ({ ...peg, secondChainageM: peg.secondChainageM })),
    })),
    passages: undefined,
    mown: undefined,
  });
  if (!changed) return undefined;
  const { before, after, was, pegs, wires } = changed;
  return {
    pegs,
    wires,
    joints: jointsOf(before, after, was, wires),
    totals: totalsOf(pegs, wires, plan),
  };
}

/** What two plans have in common: the same pegs, and wire from peg to peg. */
export interface WireChanges extends Pick<Revision, "pegs" | "wires"> {
  readonly before: readonly LaidLoop[];
  readonly after: readonly LaidLoop[];
  /** Numbers of the old pegs by those of the new ones that stand where they stand. */
  readonly was: ReadonlyMap<string, string>;
}

/**
 * What becomes of the pegs and the wire of one plan if another takes its place.
 *
 * @param old in the grid of the new one
 * @returns undefined where one of them states no pegs
 */
export function wireChanges(old: StatedPlan, now: StatedPlan): WireChanges | undefined {
  const before = laidLoops(old);
  const after = laidLoops(now);
  if (!before || !after) return undefined;
  const was = samePegs(before, after);
  const stays = new Set(was.values());
  const oldName = (number: string): string => number;
  const newName = (number: string): string => was.get(number) ?? `new ${number}`;
  const fresh = after.flatMap(({ pegs }) => pegs.filter(({ number }) => !was.has(number)));
  const gone = before.flatMap(({ pegs }) => pegs.filter(({ number }) => !stays.has(number)));
  // A peg that is set into wire as it lies, or drawn from it, moves no wire.
  const oldWires = setInto(
    before.map((loop) => courseOf(loop, oldName)),
    named(fresh, newName),
  );
  const newWires = setInto(
    after.map((loop) => courseOf(loop, newName)),
    named(gone, oldName),
  );
  const left = new Map<string, number>();
  for (const key of oldWires.flatMap(spansOf)) left.set(key, (left.get(key) ?? 0) + 1);
  const wires: RevisedWire[] = [
    ...newWires.flatMap((wire) =>
      pieces(
        wire,
        spansOf(wire).map((key) => take(left, key)),
        "stays",
        "new",
      ),
    ),
    ...oldWires.flatMap((wire) =>
      pieces(
        wire,
        spansOf(wire).map((key) => take(left, key)),
        "lifted",
        undefined,
      ),
    ),
  ];
  const pegs: RevisedPeg[] = [
    ...after.flatMap((loop) =>
      loop.pegs.map(({ number, atM }): RevisedPeg => {
        const earlier = was.get(number);
        return { does: earlier === undefined ? "new" : "stays", number, was: earlier, atM };
      }),
    ),
    ...before.flatMap((loop) =>
      loop.pegs
        .filter(({ number }) => !stays.has(number))
        .map(({ number, atM }): RevisedPeg => ({ does: "lifted", number, was: undefined, atM })),
    ),
  ];
  return { before, after, was, pegs, wires };
}

function laidLoops({ loops }: StatedPlan): LaidLoop[] | undefined {
  const laid = loops.map(laidLoop);
  return laid.every((one) => one !== undefined) ? laid : undefined;
}

/** Numbers of the old pegs by those of the new ones that stand where they stand. */
function samePegs(before: readonly LaidLoop[], after: readonly LaidLoop[]): Map<string, string> {
  const [old, now] = [before, after].map((loops) => loops.flatMap(({ pegs }) => pegs));
  const was = samePlaces(old!.map(placeOf), now!.map(placeOf), SAME_PEG_M);
  return new Map(
    now!.flatMap(({ number }, i): [string, string][] =>
      was[i] === -1 ? [] : [[number, old![was[i]!]!.number]],
    ),
  );
}

const placeOf = ({ atM }: { readonly atM: PointM }): PointM => atM;

/** Joints by the pegs of the new plan; couplers off a peg are put down to the nearest one. */
function jointsOf(
  before: readonly LaidLoop[],
  after: readonly LaidLoop[],
  was: ReadonlyMap<string, string>,
  wires: readonly RevisedWire[],
): JointPeg[] {
  const old = new Map(before.flatMap(({ pegs }) => pegs.map((peg) => [peg.number, peg.joint])));
  const held = new Set(wires.filter((one) => one.does === "stays").map((one) => one.loop));
  const fresh = wires.filter((one) => one.does === "new" && held.has(one.loop));
  const isInside = (at: PointM): boolean =>
    fresh.some(({ line }) => {
      for (let k = 2; k + 2 < line.length; k += 2) {
        if (Math.hypot(line[k]! - at[0], line[k + 1]! - at[1]) < SAME_PEG_M) return true;
      }
      return false;
    });
  const stay = after.flatMap(({ name, pegs }) =>
    pegs.flatMap(({ number, atM }): JointPeg[] => {
      const joint = old.get(was.get(number) ?? "");
      if (joint === undefined || !held.has(name) || isInside(atM)) return [];
      return [{ number: joint, loop: name, wire: "boundary", peg: number }];
    }),
  );
  let last = Math.max(
    0,
    ...[...old.values()].map((one) => Number(/\d+/.exec(one ?? "")?.[0] ?? 0)),
  );
  const couplers = fresh.flatMap(({ loop, line }) => {
    const pegs = after.find(({ name }) => name === loop)?.pegs ?? [];
    const ends: PointM[] = [
      [line[0]!, line[1]!],
      [line[line.length - 2]!, line[line.length - 1]!],
    ];
    return ends.map(([e, n]): JointPeg => {
      const away = pegs.map(({ atM }) => Math.hypot(atM[0] - e, atM[1] - n));
      const peg = pegs[away.indexOf(Math.min(...away))]?.number;
      return { number: `J${++last}`, loop, wire: "boundary", peg };
    });
  });
  return [...stay, ...couplers];
}

/** A wire as places in laying order, closed. */
interface Course {
  readonly loop: string;
  readonly stops: readonly Stop[];
}

interface Stop {
  /** Number of the old peg that stands there, or `new` and a number of the new plan. */
  readonly name: string;
  /** Number of the peg; one that is new or lifted has a number that no other peg has. */
  readonly number: string;
  readonly atM: PointM;
}

function courseOf(
  { name, wire, pegs, pegOf }: LaidLoop,
  nameOf: (number: string) => string,
): Course {
  const stops = Array.from(pegOf, (peg, v): Stop => {
    const { number } = pegs[peg]!;
    return { name: nameOf(number), number, atM: [wire[2 * v]!, wire[2 * v + 1]!] };
  });
  return { loop: name, stops };
}

function named(
  pegs: readonly { number: string; atM: PointM }[],
  nameOf: (number: string) => string,
): Stop[] {
  return pegs.map(({ number, atM }) => ({ name: nameOf(number), number, atM }));
}

/** Wires with stops added where a peg of the other plan stands on them. */
function setInto(courses: readonly Course[], pegs: readonly Stop[]): Course[] {
  const rings = courses.map(({ stops }) => Float64Array.from(stops.flatMap(({ atM }) => [...atM])));
  const index = new SegmentIndex(rings);
  const added = new Map<string, { stop: Stop; alongM: number }[]>();
  for (const stop of pegs) {
    const [e, n] = stop.atM;
    const reach = SAME_PEG_M;
    for (const s of index.inBox(e - reach, n - reach, e + reach, n + reach)) {
      if (index.distanceM(s, e, n) > reach) continue;
      const from = index.from(s);
      const key = `${index.ringOf[s]} ${index.vertexOf[s]}`;
      const entry = { stop, alongM: Math.hypot(e - from[0], n - from[1]) };
      added.set(key, [...(added.get(key) ?? []), entry]);
    }
  }
  return courses.map(({ loop, stops }, r) => ({
    loop,
    stops: stops.flatMap((stop, v) => {
      const inside = [...(added.get(`${r} ${v}`) ?? [])].sort((a, b) => a.alongM - b.alongM);
      return [stop, ...inside.map((one) => one.stop)];
    }),
  }));
}

/** Spans of wire from stop to stop; the same for both ways round. */
function spansOf({ stops }: Course): string[] {
  return stops.map(({ name }, v) => {
    const next = stops[(v + 1) % stops.length]!.name;
    return name < next ? `${name} ${next}` : `${next} ${name}`;
  });
}

function take(left: Map<string, number>, key: string): boolean {
  const count = left.get(key) ?? 0;
  if (count > 0) left.set(key, count - 1);
  return count > 0;
}

/** Spans in a row with the same fate, as lines. A row that runs over the station is one. */
function pieces(
  { loop, stops }: Course,
  kept: readonly boolean[],
  yes: RevisedWire["does"],
  no: RevisedWire["does"] | undefined,
): RevisedWire[] {
  const n = stops.length;
  // Between the two wires of a pair, and the like, nothing is lifted or laid.
  const marked = kept.map((one, v) => {
    const [a, b] = [stops[v]!.atM, stops[(v + 1) % n]!.atM];
    const isShort = Math.hypot(b[0] - a[0], b[1] - a[1]) < SAME_PEG_M;
    return yes === "lifted" ? one && !isShort : one || isShort;
  });
  const start = marked.findIndex((one, v) => one !== marked[(v + n - 1) % n]);
  const first = Math.max(0, start);
  const found: RevisedWire[] = [];
  let k = 0;
  while (k < n) {
    const from = (first + k) % n;
    const fate = marked[from]!;
    const flat = [...stops[from]!.atM];
    let to = from;
    while (k < n && marked[(first + k) % n] === fate) {
      k++;
      to = (first + k) % n;
      flat.push(...stops[to]!.atM);
    }
    const does = fate ? yes : no;
    if (!does) continue;
    const line = Float64Array.from(flat);
    const ends = { from: stops[from]!.number, to: stops[to]!.number };
    found.push({ does, loop, line, lengthM: lineLengthM(line), ...ends });
  }
  return found;
}

function totalsOf(
  pegs: readonly RevisedPeg[],
  wires: readonly RevisedWire[],
  { profile }: Plan,
): Revision["totals"] {
  const lengthOf = (does: RevisedWire["does"]): number =>
    wires.reduce((sum, one) => sum + (one.does === does ? one.lengthM : 0), 0);
  const count = (does: RevisedPeg["does"]): number =>
    pegs.filter((one) => one.does === does).length;
  const held = new Set(wires.filter((one) => one.does === "stays").map((one) => one.loop));
  const fresh = wires.filter((one) => one.does === "new");
  // A loop that is all new ends at its station, not at couplers.
  const couplers = 2 * fresh.filter((one) => held.has(one.loop)).length;
  const newM = lengthOf("new");
  return {
    keptM: lengthOf("stays"),
    liftedM: lengthOf("lifted"),
    newM,
    pegsKept: count("stays"),
    pegsLifted: count("lifted"),
    pegsNew: count("new"),
    couplers,
    wireToBuyM: newM * (1 + profile.wire.slackShare) + couplers * COUPLER_END_M,
    pegsToBuy: Math.max(0, count("new") - count("lifted")),
  };
}
