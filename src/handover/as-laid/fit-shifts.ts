/**
 * How far each peg stands from where it was planned, from points at pegs and lines along the wire.
 *
 * Between pegs the wire is straight, so a place on it moves by its share of its two pegs' shifts.
 * Each sample of a line tells how far the wire lies to one side there; the shifts are the least
 * squares of all samples (conjugate gradients on the normal equations: Hestenes and Stiefel 1952).
 * Along a straight run nothing is told of a shift along the wire: there the least shift is taken.
 */
import { type BoxM, boxOf } from "../../geometry/rings.ts";
import { SegmentIndex } from "../../geometry/segment-index.ts";
import { stretchInBox } from "../../geometry/stretch.ts";
import type { PointM } from "../../model/geometry.ts";
import type { LaidLoop } from "./laid-loop.ts";
import type { Track } from "./track.ts";

export interface PegShift {
  /** East and north, metres. */
  readonly byM: PointM;
  /** How many standard errors that is, in the directions in which it was seen. */
  readonly errors: number;
}

export interface FittedShifts {
  /** By loop, by peg; undefined where nothing was measured near a peg. */
  readonly shifts: readonly (readonly (PegShift | undefined)[])[];
  /** Length of track that lies by no wire, metres, and its place. */
  readonly strayM: number;
  readonly strayAtM: PointM | undefined;
  /** Points that belong to no peg. */
  readonly strayPoints: readonly { readonly atM: PointM; readonly name: string | undefined }[];
  /** Joints that were found, by loop, by peg. */
  readonly joints: readonly ReadonlyMap<number, string>[];
}

/** What lies further from the plan than this is not taken for its wire, metres. */
export const REACH_M = 1.5;
/** Lines are sampled in steps of this at most, metres. */
const STEP_M = 0.2;
/** Errors of a walked track hang together: more samples than this make no peg surer. */
const SURE_SAMPLES = 4;
/** Weight of staying where planned, in samples: fixes what is not told. */
const RIDGE = 0.01;
/** Where the wire turns by less than this, lines tell nothing of a shift along it, radians. */
const TELLING_TURN = 0.5;
/** Weight of not moving along the wire there, in samples. */
const ALONG_RIDGE = 100;
const ROUNDS = 200;
/** A peg with less weight of samples than this was not measured. */
const LEAST_WEIGHT = 0.25;

/** @param noiseM standard error of the receiver, metres */
export function fitShifts(loops: readonly LaidLoop[], track: Track, noiseM: number): FittedShifts {
  const measured = byPoints(loops, track, noiseM);
  const samples = sampled(loops, track);
  const shifts = loops.map((loop, l) =>
    solve(loop, samples.byLoop[l]!, measured.shifts[l]!, noiseM),
  );
  return {
    shifts,
    strayM: samples.strayM,
    strayAtM: samples.strayAtM,
    strayPoints: measured.stray,
    joints: measured.joints,
  };
}

type Shifts = Map<number, PegShift>;

/** Points by the number that they are called by, else by the nearest peg. */
function byPoints(loops: readonly LaidLoop[], { points, lines }: Track, noiseM: number) {
  const shifts: Shifts[] = loops.map(() => new Map());
  const joints: Map<number, string>[] = loops.map(() => new Map());
  const stray: { atM: PointM; name: string | undefined }[] = [];
  const byNumber = new Map<string, [number, number]>();
  loops.forEach(({ pegs }, l) => {
    pegs.forEach(({ number }, p) => {
      byNumber.set(number.toUpperCase(), [l, p]);
    });
  });
  for (const { atM, name, joint } of points) {
    const named = name === undefined ? undefined : byNumber.get(name.trim().toUpperCase());
    const place = named ?? nearestPeg(loops, atM);
    const peg = place && loops[place[0]]!.pegs[place[1]]!;
    const byM: PointM | undefined = peg && [atM[0] - peg.atM[0], atM[1] - peg.atM[1]];
    if (!place || !byM || Math.hypot(...byM) > (named ? 10 * REACH_M : REACH_M)) {
      stray.push({ atM, name });
      continue;
    }
    if (joint !== undefined) joints[place[0]]!.set(place[1], joint);
    // In an edited plan the pegs that were not moved tell nothing: the line does.
    if (named && lines.length > 0 && Math.hypot(...byM) < 0.005) continue;
    const known = shifts[place[0]]!.get(place[1]);
    if (known && Math.hypot(...known.byM) <= Math.hypot(...byM)) continue;
    shifts[place[0]]!.set(place[1], { byM, errors: Math.hypot(...byM) / noiseM });
  }
  return { shifts, stray, joints };
}

function nearestPeg(loops: readonly LaidLoop[], [e, n]: PointM): [number, number] | undefined {
  let best: [number, number] | undefined;
  let least = Infinity;
  loops.forEach(({ pegs }, l) => {
    pegs.forEach(({ atM }, p) => {
      const away = Math.hypot(atM[0] - e, atM[1] - n);
      if (away >= least) return;
      least = away;
      best = [l, p];
    });
  });
  return best;
}

/** A place where the wire was seen to lie to one side. */
interface Sample {
  /** The two pegs that hold it, and the share of the second. */
  readonly from: number;
  readonly to: number;
  readonly share: number;
  /** Unit vector to the left of the wire, and how far it lies that way, metres. */
  readonly leftE: number;
  readonly leftN: number;
  readonly asideM: number;
}

function withinReach({ minE, minN, maxE, maxN }: BoxM): BoxM {
  return {
    minE: minE - REACH_M,
    minN: minN - REACH_M,
    maxE: maxE + REACH_M,
    maxN: maxN + REACH_M,
  };
}

function sampled(loops: readonly LaidLoop[], { lines }: Track) {
  const byLoop: Sample[][] = loops.map(() => []);
  let strayM = 0;
  let strayAtM: PointM | undefined;
  const index = new SegmentIndex(loops.map(({ wire }) => wire));
  const box = withinReach(boxOf(...loops.map(({ wire }) => wire)));
  for (const line of lines) {
    for (let i = 0; i + 3 < line.length; i += 2) {
      const [ae, an, be, bn] = [line[i]!, line[i + 1]!, line[i + 2]!, line[i + 3]!];
      const wholeM = Math.hypot(be - ae, bn - an);
      // A track may come from far away: what lies outside the box of the wires is not looked at.
      const [from, to] = stretchInBox([ae, an], [be, bn], box) ?? [0, 0];
      const lengthM = (to - from) * wholeM;
      if (lengthM < wholeM) {
        strayM += wholeM - lengthM;
        strayAtM ??= from > 0 || to === 0 ? [ae, an] : [be, bn];
      }
      if (lengthM === 0) continue;
      const steps = Math.max(1, Math.ceil(lengthM / STEP_M));
      for (let k = 0; k < steps; k++) {
        const share = from + ((to - from) * k) / steps;
        const at: PointM = [ae + (be - ae) * share, an + (bn - an) * share];
        const near = index.nearest(...at, REACH_M);
        if (!near) {
          strayM += lengthM / steps;
          strayAtM ??= at;
          continue;
        }
        const l = index.ringOf[near.segment]!;
        const sample = sampleAt(loops[l]!, index, near.segment, at);
        if (sample) byLoop[l]!.push(sample);
      }
    }
  }
  return { byLoop, strayM, strayAtM };
}

function sampleAt(
  { pegOf }: LaidLoop,
  index: SegmentIndex,
  segment: number,
  at: PointM,
): Sample | undefined {
  const [a, b] = [index.from(segment), index.to(segment)];
  const [de, dn] = [b[0] - a[0], b[1] - a[1]];
  const length = Math.hypot(de, dn);
  if (length < 1e-6) return undefined;
  const share = ((at[0] - a[0]) * de + (at[1] - a[1]) * dn) / (length * length);
  const vertex = index.vertexOf[segment]!;
  const from = pegOf[vertex]!;
  const to = pegOf[(vertex + 1) % pegOf.length]!;
  const [leftE, leftN] = [-dn / length, de / length];
  const asideM = (at[0] - a[0]) * leftE + (at[1] - a[1]) * leftN;
  return { from, to, share: Math.min(1, Math.max(0, share)), leftE, leftN, asideM };
}

function solve(
  { pegs, lefts, turns }: LaidLoop,
  samples: readonly Sample[],
  fixed: Shifts,
  noiseM: number,
): (PegShift | undefined)[] {
  const n = pegs.length;
  // What was seen of each peg: weights by direction (east-east, east-north, north-north).
  const seen = new Float64Array(3 * n);
  for (const { from, to, share, leftE, leftN } of samples) {
    for (const [peg, weight] of [
      [from, (1 - share) ** 2],
      [to, share ** 2],
    ] as const) {
      seen[3 * peg]! += weight * leftE * leftE;
      seen[3 * peg + 1]! += weight * leftE * leftN;
      seen[3 * peg + 2]! += weight * leftN * leftN;
    }
  }
  const x = new Float64Array(2 * n);
  for (const [peg, { byM }] of fixed) x.set(byM, 2 * peg);
  const free = (i: number): boolean => !fixed.has(i);
  /** Normal equations applied; fixed pegs stay. */
  const apply = (v: Float64Array): Float64Array => {
    const out = new Float64Array(2 * n);
    for (const { from, to, share, leftE, leftN } of samples) {
      const aside =
        (1 - share) * (v[2 * from]! * leftE + v[2 * from + 1]! * leftN) +
        share * (v[2 * to]! * leftE + v[2 * to + 1]! * leftN);
      add(out, from, (1 - share) * aside, leftE, leftN);
      add(out, to, share * aside, leftE, leftN);
    }
    for (let i = 0; i < n; i++) {
      const [leftE, leftN] = [lefts[2 * i]!, lefts[2 * i + 1]!];
      const alongM = v[2 * i]! * leftN - v[2 * i + 1]! * leftE;
      const held = turns[i]! < TELLING_TURN ? ALONG_RIDGE * alongM : 0;
      const stay = [held * leftN, -held * leftE];
      for (const k of [0, 1]) {
        const at = 2 * i + k;
        out[at] = free(i) ? out[at]! + RIDGE * v[at]! + stay[k]! : 0;
      }
    }
    return out;
  };
  const right = new Float64Array(2 * n);
  for (const { from, to, share, leftE, leftN, asideM } of samples) {
    add(right, from, (1 - share) * asideM, leftE, leftN);
    add(right, to, share * asideM, leftE, leftN);
  }
  const start = apply(x);
  const r = right.map((value, k) => (free(k >> 1) ? value - start[k]! : 0));
  let p = r.slice();
  let rr = dot(r, r);
  const enough = 1e-20 * (rr + 1e-12);
  for (let round = 0; round < ROUNDS && rr > enough; round++) {
    const ap = apply(p);
    const step = rr / dot(p, ap);
    for (let k = 0; k < x.length; k++) {
      x[k]! += step * p[k]!;
      r[k]! -= step * ap[k]!;
    }
    const next = dot(r, r);
    p = r.map((value, k) => value + (next / rr) * p[k]!);
    rr = next;
  }
  return pegs.map((_, i) => {
    const known = fixed.get(i);
    if (known) return known;
    const [ee, en, nn] = [seen[3 * i]!, seen[3 * i + 1]!, seen[3 * i + 2]!];
    const weight = ee + nn;
    if (weight < LEAST_WEIGHT) return undefined;
    const [e, north] = [x[2 * i]!, x[2 * i + 1]!];
    const squared = ee * e * e + 2 * en * e * north + nn * north * north;
    const sure = Math.min(1, SURE_SAMPLES / weight);
    return { byM: [e, north], errors: Math.sqrt(sure * squared) / noiseM };
  });
}

function add(out: Float64Array, peg: number, by: number, leftE: number, leftN: number): void {
  out[2 * peg]! += by * leftE;
  out[2 * peg + 1]! += by * leftN;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
