/**
 * Where and how a paired run leaves a ring of wire.
 *
 * The two wires keep their gap only where they leave the ring at a fair angle: at less than 32° the
 * bend of the wire would lie further from the peg than a peg holds. So runs end square where they
 * can, on a corner's peg where one is all but there, and never two on one peg at a sharp angle.
 */

import { vertexAt } from "../geometry/rings.ts";
import type { NetworkEnd } from "../geometry/steiner-network.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import { directionsAt, nearestPlace, type RingPlace } from "./ring-place.ts";

/** An end of a run: on a ring of wire (0 is the outer one), or at a junction of runs. */
export type RunEnd =
  | { readonly ring: number; readonly place: RingPlace }
  | { readonly junction: number; readonly atM: PointM };

export interface Run {
  readonly from: RunEnd;
  readonly to: RunEnd;
  /** Bends between the ends: round something firm, or to leave the ring squarely. */
  readonly via: readonly PointM[];
}

export function placeOf(end: RunEnd): PointM {
  return "ring" in end ? end.place.atM : end.atM;
}

/** The points of a run, both ends included. */
export function wayOf(run: Run): PointM[] {
  return [placeOf(run.from), ...run.via, placeOf(run.to)];
}

/** A run that would end this near a corner of the wire ends on the corner's peg, metres. */
export const SNAP_TO_CORNER_M = 0.12;
/** Pegs of the wire nearer than this to each other are no place for a run to end, metres. */
const CROWDED_M = 0.05;
/** Least angle between a run and the wire it leaves, degrees. */
const LEAST_ANGLE_DEG = 36;
/** A run that would leave too sharply goes out this far squarely first, metres. */
const SQUARE_M = 0.25;
/** Least angle between two runs on one peg, degrees. */
const LEAST_BETWEEN_DEG = 66;
/** Runs too sharp to each other end this far apart, metres. */
const APART_M = 0.2;

/**
 * A run along a way, its ends on rings settled.
 *
 * @param ends which ring or junction the way's first and last point lie on
 * @param way the run's points
 * @param free whether a straight way passes through nothing that it must not
 * @param polished whether the ends stand at their best already
 */
export function settledRun(
  rings: readonly RingM[],
  ends: readonly [NetworkEnd, NetworkEnd],
  way: readonly PointM[],
  free: (from: PointM, to: PointM) => boolean,
  polished = false,
): Run {
  const points = [...way];
  const settle = (end: NetworkEnd): RunEnd => {
    if (end.node >= rings.length) return { junction: end.node - rings.length, atM: end.atM };
    return { ring: end.node, place: endOf(rings[end.node]!, points, free, polished) };
  };
  const from = settle(ends[0]);
  points.reverse();
  const to = settle(ends[1]);
  points.reverse();
  return { from, to, via: points.slice(1, -1) };
}

/** Settles the first point of a way on its ring; may put a bend in behind it. */
function endOf(
  ring: RingM,
  points: PointM[],
  free: (from: PointM, to: PointM) => boolean,
  polished: boolean,
): RingPlace {
  const next = points[1]!;
  let place = nearestPlace(ring, points[0]!);
  if (points.length > 2 && !polished) {
    // After a way round something the end need not be where the straight way had it.
    const nearer = nearestPlace(ring, next);
    if (free(nearer.atM, next)) place = nearer;
  }
  const corner = nearCorner(ring, place);
  const beside = corner && besideCrowded(ring, corner.vertex);
  if (beside) {
    if (free(beside.atM, next)) place = beside;
  } else if (
    corner &&
    sharpestDeg(ring, corner, next) >= LEAST_ANGLE_DEG &&
    free(corner.atM, next)
  ) {
    place = corner;
  } else if (corner) {
    const off = clearOfCorner(ring, place, corner.atM);
    if (free(off.atM, next)) place = off;
  }
  points[0] = place.atM;
  if (sharpestDeg(ring, place, next) >= LEAST_ANGLE_DEG) return place;
  const { on, back } = directionsAt(ring, place);
  // Squarely is half way between the two directions of the ring, on its left (mown) side.
  let e = on[0] + back[0];
  let n = on[1] + back[1];
  const length = Math.hypot(e, n);
  if (length < 0.2) {
    e = -on[1];
    n = on[0];
  } else {
    const leftward = on[0] * n - on[1] * e >= 0 ? 1 : -1;
    e = (leftward * e) / length;
    n = (leftward * n) / length;
  }
  const bend: PointM = [place.atM[0] + SQUARE_M * e, place.atM[1] + SQUARE_M * n];
  const room = Math.hypot(next[0] - place.atM[0], next[1] - place.atM[1]) > 2 * SQUARE_M;
  if (room && free(place.atM, bend) && free(bend, next)) points.splice(1, 0, bend);
  return place;
}

function nearCorner(ring: RingM, place: RingPlace): RingPlace | undefined {
  const n = ring.length >> 1;
  const next = (place.vertex + 1) % n;
  const a = vertexAt(ring, place.vertex);
  const b = vertexAt(ring, next);
  const toA = Math.hypot(place.atM[0] - a[0], place.atM[1] - a[1]);
  const toB = Math.hypot(place.atM[0] - b[0], place.atM[1] - b[1]);
  if (Math.min(toA, toB) >= SNAP_TO_CORNER_M) return undefined;
  return toA <= toB
    ? { vertex: place.vertex, share: 0, atM: a }
    : { vertex: next, share: 0, atM: b };
}

/**
 * Where two pegs stand within a few centimetres of each other no run may end on either: a place on
 * the longer edge beside them. Undefined where the corner stands alone.
 */
function besideCrowded(ring: RingM, corner: number): RingPlace | undefined {
  const n = ring.length >> 1;
  const before = (corner + n - 1) % n;
  const at = vertexAt(ring, corner);
  const edgeM = (to: number): number => {
    const p = vertexAt(ring, to % n);
    return Math.hypot(p[0] - at[0], p[1] - at[1]);
  };
  const [back, on] = [edgeM(before), edgeM(corner + 1)];
  if (Math.min(back, on) >= CROWDED_M || Math.max(back, on) < 2 * SNAP_TO_CORNER_M)
    return undefined;
  const vertex = back > on ? before : corner;
  const share = back > on ? 1 - SNAP_TO_CORNER_M / back : SNAP_TO_CORNER_M / on;
  const a = vertexAt(ring, vertex);
  const b = vertexAt(ring, (vertex + 1) % n);
  return {
    vertex,
    share,
    atM: [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])],
  };
}

/**
 * The place moved along its edge to a peg's room from a corner: half a gap beside a peg that stood
 * on the corner's own would lie past it.
 */
function clearOfCorner(ring: RingM, place: RingPlace, corner: PointM): RingPlace {
  const a = vertexAt(ring, place.vertex);
  const b = vertexAt(ring, (place.vertex + 1) % (ring.length >> 1));
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length < 2 * SNAP_TO_CORNER_M) return place;
  const atStart = Math.hypot(corner[0] - a[0], corner[1] - a[1]) < 1e-9;
  const share = atStart ? SNAP_TO_CORNER_M / length : 1 - SNAP_TO_CORNER_M / length;
  return {
    vertex: place.vertex,
    share,
    atM: [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])],
  };
}

/** The smaller of the angles between the way to a point and the ring's two directions, degrees. */
function sharpestDeg(ring: RingM, place: RingPlace, toward: PointM): number {
  const { on, back } = directionsAt(ring, place);
  const e = toward[0] - place.atM[0];
  const n = toward[1] - place.atM[1];
  const length = Math.hypot(e, n) || 1;
  const angle = (d: PointM): number =>
    (Math.acos(Math.max(-1, Math.min(1, (d[0] * e + d[1] * n) / length))) * 180) / Math.PI;
  return Math.min(angle(on), angle(back));
}

/** Moves ends apart that would stand on one peg at too sharp an angle to each other. */
export function standApart(rings: readonly RingM[], runs: readonly Run[]): Run[] {
  const settled: Settled[] = [];
  return runs.map((run) => {
    const from = apart(rings, run.from, run.via[0] ?? placeOf(run.to), settled);
    const to = apart(rings, run.to, run.via[run.via.length - 1] ?? placeOf(from), settled);
    return { ...run, from, to };
  });
}

interface Settled {
  readonly ring: number;
  readonly atM: PointM;
  readonly next: PointM;
}

function apart(rings: readonly RingM[], end: RunEnd, next: PointM, settled: Settled[]): RunEnd {
  if (!("ring" in end)) return end;
  const { ring, place } = end;
  const clash = settled.some((other) => {
    if (other.ring !== ring) return false;
    const gap = Math.hypot(other.atM[0] - place.atM[0], other.atM[1] - place.atM[1]);
    return gap < 0.02 && angleDeg(place.atM, next, other.next) < LEAST_BETWEEN_DEG;
  });
  const found = clash ? moved(rings[ring]!, place, next) : place;
  settled.push({ ring, atM: found.atM, next });
  return { ring, place: found };
}

function angleDeg(at: PointM, a: PointM, b: PointM): number {
  const turn = Math.atan2(a[1] - at[1], a[0] - at[0]) - Math.atan2(b[1] - at[1], b[0] - at[0]);
  const wrapped = Math.abs(turn) % (2 * Math.PI);
  return ((wrapped > Math.PI ? 2 * Math.PI - wrapped : wrapped) * 180) / Math.PI;
}

/** The place moved along the ring towards where its run goes. */
function moved(ring: RingM, place: RingPlace, next: PointM): RingPlace {
  const { on, back } = directionsAt(ring, place);
  const toward = (d: PointM): number =>
    d[0] * (next[0] - place.atM[0]) + d[1] * (next[1] - place.atM[1]);
  const d = toward(on) >= toward(back) ? on : back;
  const found = nearestPlace(ring, [place.atM[0] + APART_M * d[0], place.atM[1] + APART_M * d[1]]);
  const corner = nearCorner(ring, found);
  return corner ? clearOfCorner(ring, found, corner.atM) : found;
}
