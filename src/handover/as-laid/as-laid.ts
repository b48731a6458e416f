/** The wire as it was laid, against the plan. */
import type { StatedLoop, StatedPlan } from "../../check/stated/stated-plan.ts";
import { lineLengthM } from "../../geometry/rings.ts";
import type { Finding } from "../../model/finding.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import type { LineM, PointM, RingM } from "../../model/geometry.ts";
import { fitShifts, type PegShift, REACH_M } from "./fit-shifts.ts";
import { type LaidLoop, laidLoop } from "./laid-loop.ts";
import { shiftAsWhole } from "./shift-as-whole.ts";
import type { Track } from "./track.ts";

/** A peg as laid. */
export interface LaidPeg {
  readonly number: string;
  /** Where it stands; where planned, if the difference lies within what the receiver can tell. */
  readonly atM: PointM;
  /** From where planned, metres; left of the wire (into the lawn) positive. */
  readonly leftM: number;
  readonly awayM: number;
  /** Whether that is more than the receiver's error explains. */
  readonly moved: boolean;
  readonly measured: boolean;
}

/** Pegs in a row that were laid to one side. */
export interface MovedStretch {
  readonly loop: string;
  readonly from: string;
  readonly to: string;
  readonly pegs: number;
  /** The most, metres; left of the wire (into the lawn) positive. */
  readonly mostLeftM: number;
  readonly atM: PointM;
}

export interface LoopAsLaid {
  readonly name: string;
  readonly plannedM: number;
  readonly laidM: number;
  readonly wire: RingM;
  readonly pegs: readonly LaidPeg[];
  /** Pegs near which nothing was measured. */
  readonly unmeasured: number;
  /** Of measured pegs, metres: root mean square and greatest distance from the plan. */
  readonly rmsM: number;
  readonly mostM: number;
}

export interface AsLaid {
  readonly loops: readonly LoopAsLaid[];
  readonly stretches: readonly MovedStretch[];
  /** The plan with wire, pegs, runs and rings where they were laid, to be judged. */
  readonly plan: StatedPlan;
  /** Shift that all measurements have in common, metres east and north, where there is one. */
  readonly wholeM: PointM | undefined;
  readonly aligned: boolean;
  readonly findings: readonly Finding[];
}

export interface CompareOptions {
  /** Standard error of the receiver, metres. */
  readonly noiseM: number;
  /** Takes a shift that all measurements have in common off first. */
  readonly align: boolean;
}

/** Standard errors of a receiver by default, metres: a corrected receiver on open ground. */
export const DEFAULT_NOISE_M = 0.02;
/** A difference counts from this many standard errors on: two axes, 1 in 450 by chance. */
const SIGNIFICANT = 3.5;
/** Smaller differences are not worth a word, metres. */
const LEAST_TOLD_M = 0.02;
/** Moved stretches told at most. */
const TOLD = 40;

export function compareAsLaid(
  plan: StatedPlan,
  track: Track,
  { noiseM, align }: CompareOptions,
): Outcome<AsLaid> {
  const loops = plan.loops.map(laidLoop);
  if (!loops.every((one) => one !== undefined)) {
    return failed({
      code: "PLAN_WITHOUT_PEGS",
      kind: "usage",
      message: "The plan does not state a peg for each vertex of its wire.",
      remedy: "Give the plan.geojson that `pegline plan` wrote.",
    });
  }
  if (track.points.length === 0 && track.lines.length === 0) {
    return failed({
      code: "TRACK_EMPTY",
      kind: "input",
      message: "The track holds no points and no lines.",
      remedy: "Give a walked track, surveyed pegs, or a plan edited in a map tool.",
    });
  }
  const whole = shiftAsWhole(loops, track, noiseM);
  const fitted = fitShifts(loops, align && whole ? moved(track, whole) : track, noiseM);
  const laid = loops.map((loop, l) => loopAsLaid(loop, fitted.shifts[l]!));
  if (laid.every((one) => one.pegs.every((peg) => !peg.measured))) {
    return failed({
      code: "TRACK_ELSEWHERE",
      kind: "input",
      message: `Nothing of the track lies within ${REACH_M} m of the planned wire.`,
      remedy: "Check the reference system of the track (--crs) and that it belongs to this plan.",
    });
  }
  const stretches = laid.flatMap(movedStretches);
  const findings = [
    ...wholeFinding(whole, align),
    ...strayFindings(fitted, laid),
    ...stretches.slice(0, TOLD).map(stretchFinding),
  ];
  return done(
    {
      loops: laid,
      stretches,
      plan: planAsLaid(plan, loops, laid, fitted.joints),
      wholeM: whole,
      aligned: align && whole !== undefined,
      findings,
    },
    findings,
  );
}

function moved(track: Track, [e, n]: PointM): Track {
  return {
    points: track.points.map((one) => ({ ...one, atM: [one.atM[0] - e, one.atM[1] - n] })),
    lines: track.lines.map((line) => line.map((value, k) => value - (k % 2 === 0 ? e : n))),
  };
}

function loopAsLaid(loop: LaidLoop, shifts: readonly (PegShift | undefined)[]): LoopAsLaid {
  const { lefts } = loop;
  const pegs = loop.pegs.map(({ number, atM }, i): LaidPeg => {
    const shift = shifts[i];
    if (!shift) {
      return { number, atM, leftM: 0, awayM: 0, moved: false, measured: false };
    }
    const [e, n] = shift.byM;
    const awayM = Math.hypot(e, n);
    const isMoved = shift.errors > SIGNIFICANT && awayM > LEAST_TOLD_M / 2;
    return {
      number,
      atM: isMoved ? [atM[0] + e, atM[1] + n] : atM,
      leftM: e * lefts[2 * i]! + n * lefts[2 * i + 1]!,
      awayM,
      moved: isMoved,
      measured: true,
    };
  });
  const wire = wireWith(loop, pegs);
  const measured = pegs.filter((peg) => peg.measured);
  const square = measured.reduce((sum, { awayM }) => sum + awayM * awayM, 0);
  return {
    name: loop.name,
    plannedM: lineLengthM(closed(loop.wire)),
    laidM: lineLengthM(closed(wire)),
    wire,
    pegs,
    unmeasured: pegs.length - measured.length,
    rmsM: measured.length > 0 ? Math.sqrt(square / measured.length) : 0,
    mostM: measured.reduce((most, { awayM }) => Math.max(most, awayM), 0),
  };
}

/** Vertices go with the pegs that hold them. */
function wireWith({ wire, pegs, pegOf }: LaidLoop, laid: readonly LaidPeg[]): RingM {
  return wire.map((value, k) => {
    const peg = pegOf[k >> 1]!;
    return value + laid[peg]!.atM[k % 2]! - pegs[peg]!.atM[k % 2]!;
  });
}

const closed = (ring: RingM): LineM => Float64Array.from([...ring, ring[0]!, ring[1]!]);

function movedStretches(loop: LoopAsLaid): MovedStretch[] {
  const found: MovedStretch[] = [];
  let open: LaidPeg[] = [];
  const close = (): void => {
    const worst = [...open].sort((a, b) => b.awayM - a.awayM)[0];
    if (worst && worst.awayM >= LEAST_TOLD_M) {
      const [from, to] = [open[0]!.number, open[open.length - 1]!.number];
      const mostLeftM = Math.sign(worst.leftM || 1) * worst.awayM;
      found.push({ loop: loop.name, from, to, pegs: open.length, mostLeftM, atM: worst.atM });
    }
    open = [];
  };
  for (const peg of loop.pegs) {
    if (open.length > 0 && (!peg.moved || peg.leftM > 0 !== open[0]!.leftM > 0)) close();
    if (peg.moved) open.push(peg);
  }
  close();
  return found.sort((a, b) => Math.abs(b.mostLeftM) - Math.abs(a.mostLeftM));
}

function planAsLaid(
  plan: StatedPlan,
  loops: readonly LaidLoop[],
  laid: readonly LoopAsLaid[],
  joints: readonly ReadonlyMap<number, string>[],
): StatedPlan {
  return {
    loops: plan.loops.map((loop, l) => loopMoved(loop, loops[l]!, laid[l]!, joints[l]!)),
    passages: undefined,
    mown: undefined,
  };
}

function loopMoved(
  loop: StatedLoop,
  planned: LaidLoop,
  laid: LoopAsLaid,
  joints: ReadonlyMap<number, string>,
): StatedLoop {
  const at = new Map(planned.pegs.map((peg, i) => [placeKey(peg.atM), i]));
  const follow = <T extends Float64Array>(line: T): T =>
    line.map((value, k) => {
      const v = k - (k % 2);
      const peg = at.get(placeKey([line[v]!, line[v + 1]!]));
      if (peg === undefined) return value;
      return value + laid.pegs[peg]!.atM[k % 2]! - planned.pegs[peg]!.atM[k % 2]!;
    }) as T;
  const along = chainages(laid.wire, planned.pegOf, planned.pegs.length);
  return {
    ...loop,
    wire: laid.wire,
    lengthM: laid.laidM,
    pegs: planned.pegs.map((peg, i) => ({
      ...peg,
      joint: joints.get(i) ?? peg.joint,
      atM: laid.pegs[i]!.atM,
      chainageM: along.first[i],
      secondChainageM: peg.secondChainageM === undefined ? undefined : along.second[i],
    })),
    station: loop.station && { ...loop.station, atM: laid.pegs[planned.pegOf[0]!]!.atM },
    pairedRuns: loop.pairedRuns?.map((run) => ({
      ...run,
      line: follow(run.line),
      lengthM: undefined,
    })),
    exclusionLoops: loop.exclusionLoops?.map((one) => ({
      ...one,
      ring: follow(one.ring),
      lengthM: undefined,
    })),
  };
}

/** Places to a millimetre. */
const placeKey = ([e, n]: PointM): string => `${Math.round(e * 1e3)} ${Math.round(n * 1e3)}`;

function chainages(wire: RingM, pegOf: Int32Array, count: number) {
  const first: (number | undefined)[] = Array.from({ length: count }, () => undefined);
  const second: (number | undefined)[] = Array.from({ length: count }, () => undefined);
  let along = 0;
  for (let v = 0; v < pegOf.length; v++) {
    const peg = pegOf[v]!;
    if (first[peg] === undefined) first[peg] = along;
    else second[peg] ??= along;
    const w = (v + 1) % pegOf.length;
    along += Math.hypot(wire[2 * w]! - wire[2 * v]!, wire[2 * w + 1]! - wire[2 * v + 1]!);
  }
  return { first, second };
}

const cm = (m: number): string => `${(100 * m).toFixed(0)} cm`;

function wholeFinding(whole: PointM | undefined, align: boolean): Finding[] {
  if (!whole) return [];
  const [e, n] = whole;
  const by = `${cm(Math.abs(e))} to the ${e < 0 ? "west" : "east"} and ${cm(Math.abs(n))} to the ${n < 0 ? "south" : "north"}`;
  return [
    {
      code: "TRACK_SHIFTED",
      severity: align ? "info" : "warning",
      message: align
        ? `All that was measured lay ${by} of the plan; that was taken off.`
        : `All that was measured lies ${by} of the plan: rather the receiver's reference than the wire.`,
      remedy: align
        ? "Check a control point if the place on earth matters."
        : "Check the reference on a control point, or compare with --align.",
    },
  ];
}

function strayFindings(
  { strayM, strayAtM, strayPoints }: ReturnType<typeof fitShifts>,
  laid: readonly LoopAsLaid[],
): Finding[] {
  const findings: Finding[] = [];
  if (strayM > 1 && strayAtM) {
    findings.push({
      code: "TRACK_OFF_WIRE",
      severity: "warning",
      message: `${strayM.toFixed(1)} m of the track lie further than ${REACH_M} m from any planned wire and were left out.`,
      remedy: "If the wire does lie there, plan the site anew as it is.",
      atM: strayAtM,
    });
  }
  const point = strayPoints[0];
  if (point) {
    findings.push({
      code: "POINTS_WITHOUT_PEG",
      severity: "warning",
      message: `${strayPoints.length} measured point${strayPoints.length > 1 ? "s belong" : " belongs"} to no peg${point.name ? `, the first is ${point.name}` : ""}.`,
      remedy: "Give points the numbers of their pegs.",
      atM: point.atM,
    });
  }
  for (const { name, unmeasured, pegs } of laid) {
    if (unmeasured === 0) continue;
    const none = pegs.find((peg) => !peg.measured)!;
    findings.push({
      code: "WIRE_NOT_MEASURED",
      severity: unmeasured === pegs.length ? "warning" : "info",
      message: `Nothing was measured near ${unmeasured} of ${pegs.length} pegs of loop ${name}, the first is ${none.number}: they are taken to stand as planned.`,
      remedy: "Walk the rest of the wire, or accept it as planned.",
      atM: none.atM,
    });
  }
  return findings;
}

function stretchFinding({ from, to, pegs, mostLeftM, atM }: MovedStretch): Finding {
  const which = pegs === 1 ? `Peg ${from} stands` : `Pegs ${from} to ${to} (${pegs}) stand`;
  const side = mostLeftM > 0 ? "further into the lawn" : "nearer to the edge";
  return {
    code: "LAID_OFF_PLAN",
    severity: "info",
    message: `${which} up to ${cm(Math.abs(mostLeftM))} from the plan, ${side}.`,
    remedy: "Keep the record; move the wire where a rule no longer holds.",
    atM,
  };
}
