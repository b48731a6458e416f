/** The search for the shortest row of pegs along a stretch of track. */
import type { PointM } from "../../model/geometry.ts";
import { COLLINEAR_M } from "./tidy-ring.ts";
import type { Track } from "./track.ts";

export interface ChordFitOptions {
  /** Longest span between neighbouring pegs, metres. */
  readonly spacingM: number;
  /** Furthest from the given ring, to the left, metres. */
  readonly wanderM: number;
}

/** Depths tried in the band, as shares of the wander; the smallest one clears mere roughness. */
const DEPTH_SHARES = [0, 0.02, 0.25, 0.5, 0.75, 1];
/** Step between places tried along the ring, metres. */
const STEP_M = 0.025;
/** Coarse step in looking for a place, metres. */
const COARSE_STEP_M = 0.1;
/** Trials this far behind the foremost are not followed, metres. */
const LAGGING_M = 0.35;
/** Convex vertices may be cut by this share of the wander. */
const CUT_SHARE = 1 / 3;

/** A stretch of the track to be pegged, between two vertices (the second counted on past n). */
export interface Arc {
  readonly first: number;
  readonly last: number;
  /** Depth at which it begins and ends: 0 at corners. */
  readonly depthM: number;
  /** Greatest depth for each metre from an end that is a corner turning left; no limit elsewhere. */
  readonly startTip: number;
  readonly endTip: number;
}

/** A peg tried: where it stands, how far along, at which depth, and what came before it. */
export interface Trial {
  readonly atM: PointM;
  readonly alongM: number;
  readonly depthM: number;
  /** First vertex after its place. */
  readonly ahead: number;
  readonly back: Trial | undefined;
  readonly count: number;
}

/** Whether a span stays on the free side, and leaves no more than allowed: the vertices it passes tell. */
export function spanHolds(
  track: Track,
  from: Trial,
  toE: number,
  toN: number,
  toAlongM: number,
  spacingM: number,
  wanderM: number,
): boolean {
  const ae = from.atM[0];
  const an = from.atM[1];
  const de = toE - ae;
  const dn = toN - an;
  const squared = de * de + dn * dn;
  if (squared > spacingM * spacingM || squared === 0) return false;
  const length = Math.sqrt(squared);
  const over = COLLINEAR_M * length;
  const under = -wanderM * length;
  const cut = CUT_SHARE * under;
  for (let i = from.ahead; track.along[i]! < toAlongM; i++) {
    const left = de * (track.north[i]! - an) - dn * (track.e[i]! - ae);
    if (left > over || left < (track.convex[i] ? cut : under)) return false;
  }
  return true;
}

/** The last trial of the shortest row of pegs from one corner to another, or undefined past `most`. */
export function reach(
  track: Track,
  arc: Arc,
  options: ChordFitOptions,
  most = Infinity,
): Trial | undefined {
  const { spacingM, wanderM } = options;
  const { first, last, depthM } = arc;
  const endAlong = track.along[last]!;
  const startAlong = track.along[first]!;
  const endAt = depthM === 0 ? track.vertex(last) : track.place(endAlong, depthM, last);
  const start: Trial = {
    atM: depthM === 0 ? track.vertex(first) : track.place(startAlong, depthM, first),
    alongM: startAlong,
    depthM,
    ahead: first + 1,
    back: undefined,
    count: 0,
  };
  let layer: Trial[] = [start];
  const limit = 4 + 8 * Math.ceil((endAlong - startAlong) / spacingM) + 2 * (last - first);
  for (let count = 1; count <= Math.min(limit, most); count++) {
    for (const trial of layer) {
      if (endAlong - trial.alongM > 1.5 * spacingM) continue;
      if (spanHolds(track, trial, endAt[0], endAt[1], endAlong, spacingM, wanderM)) {
        return { atM: endAt, alongM: endAlong, depthM, ahead: last + 1, back: trial, count };
      }
    }
    const next: Trial[] = [];
    for (const share of DEPTH_SHARES) {
      const depth = wanderM * share;
      let furthest: Trial | undefined;
      for (const trial of layer) {
        if (trial.alongM < layer[0]!.alongM - LAGGING_M) break;
        furthest = furthestFrom(track, trial, depth, arc, furthest, count, options) ?? furthest;
      }
      if (furthest) next.push(furthest);
    }
    if (next.length === 0) return undefined;
    layer = next.sort((a, b) => b.alongM - a.alongM);
  }
  return undefined;
}

/**
 * The furthest place at a depth that one span reaches, if it is further than what is known.
 *
 * Sought backwards in coarse steps, then forwards again in fine ones from the first that holds.
 */
function furthestFrom(
  track: Track,
  from: Trial,
  depthM: number,
  arc: Arc,
  known: Trial | undefined,
  count: number,
  { spacingM, wanderM }: ChordFitOptions,
): Trial | undefined {
  const floor = Math.max(from.alongM + STEP_M / 2, known ? known.alongM + 1e-9 : -Infinity);
  // The track is never shorter than the span, but on the inside of a bend the band is.
  const startM = track.along[arc.first]!;
  const endM = track.along[arc.last]!;
  let at = Math.min(endM - 1e-6, from.alongM + 1.5 * spacingM);
  if (at <= floor) return undefined;
  let i = track.edgeAt(at, from.ahead);
  let found: Trial | undefined;
  let step = -COARSE_STEP_M;
  let tried = Infinity;
  for (;;) {
    if (at <= floor) {
      if (found || tried <= floor + STEP_M) return found;
      // The last coarse step went past the floor: look at the places between.
      at = floor + STEP_M / 2;
      step = STEP_M;
    }
    if (step > 0 && at >= Math.min(tried, endM) - 1e-9) return found;
    while (track.along[i]! > at) i--;
    while (track.along[i + 1]! <= at) i++;
    const on = at - track.along[i]!;
    const e = track.e[i]! + on * track.de[i]! - depthM * track.dn[i]!;
    const n = track.north[i]! + on * track.dn[i]! + depthM * track.de[i]!;
    const tooLong = Math.hypot(e - from.atM[0], n - from.atM[1]) - spacingM;
    if (tooLong > 0 && step > 0) return found;
    if (tooLong > STEP_M) {
      at -= 0.8 * tooLong;
      continue;
    }
    const holds =
      tooLong <= 0 &&
      depthM <= arc.endTip * (endM - at) &&
      depthM <= arc.startTip * (at - startM) &&
      spanHolds(track, from, e, n, at, spacingM, wanderM) &&
      (depthM === 0 || track.depthIsFree(i, on, e, n));
    if (holds) {
      found = { atM: [e, n], alongM: at, depthM, ahead: i + 1, back: from, count };
      if (step < 0) step = STEP_M;
    } else if (step > 0) {
      if (found) return found;
    } else tried = at;
    at += step;
  }
}
