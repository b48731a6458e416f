/**
 * The fewest straight spans that follow a ring, never to the wrong side.
 *
 * The ring's left side is free, its right side is forbidden. True corners keep a peg where they
 * are. Between two corners the pegs may stand anywhere in a band on the free side: the search keeps,
 * for each of a few depths in the band, the furthest place that k pegs reach, and goes on until the
 * next corner is in reach. That is a dynamic programme over (depth, place) in which further is
 * better; its count is the least possible up to the fineness of depths and places. Afterwards the
 * spacing is tightened as long as the count stays, so that spans come out even.
 *
 * Cost: about (depths)² · (places a span) for each peg; linear in the length of the ring.
 * Compare Guibas, Hershberger, Mitchell and Snoeyink, Approximating polygons and subdivisions with
 * minimum-link paths, IJCGA 3 (1993) (from memory).
 */
import type { PointM, RingM } from "../model/geometry.ts";
import { lineIntersection, pointSegmentM } from "./segments.ts";

export interface ChordFitOptions {
  /** Longest span between neighbouring pegs, metres. */
  readonly spacingM: number;
  /** Furthest from the given ring, to the left, metres. */
  readonly wanderM: number;
}

/** A vertex is a corner from this turn on, where it also stands out by `CORNER_STANDS_OUT_M`. */
const CORNER_TURN = (40 * Math.PI) / 180;
/** Standing out: distance from the chord between the places this far before and after it, metres. */
const CORNER_REACH_M = 0.4;
const CORNER_STANDS_OUT_M = 0.04;
/** Depths tried in the band, as shares of the wander; the smallest one clears mere roughness. */
const DEPTH_SHARES = [0, 0.02, 0.25, 0.5, 0.75, 1];
/** Step between places tried along the ring, metres. */
const STEP_M = 0.025;
/** Edges this near along the ring are looked at when a peg leaves it sideways, metres. */
const NEARBY_M = 0.6;
/** Coarse step in looking for a place, metres. */
const COARSE_STEP_M = 0.1;
/** Trials this far behind the foremost are not followed, metres. */
const LAGGING_M = 0.35;
/** Beside a corner bent towards the lawn pegs keep near the ring: the way past it lies close by. */
const TIP_SLOPE = 0.25;
/** Convex vertices may be cut by this share of the wander. */
const CUT_SHARE = 1 / 3;
/** Pegs nearer than this to each other are one, metres: less than a peg is thick. */
const SAME_PEG_M = 0.005;
/** Edges shorter than this get no peg at each end, metres. */
const SHORT_EDGE_M = 0.03;
const SHORT_EDGE_ROUNDS = 8;
/** Vertices nearer than this to the chord past them carry nothing, metres. */
const COLLINEAR_M = 0.0002;
/** Depths tried when pegs are drawn back, as shares of the depth found. */
const DRAWING_SHARES = [0, 0.2, 0.4, 0.6, 0.8];
const DRAWING_ROUNDS = 2;
/** Depths at which a ring without corners is begun, as shares of the wander. */
const CLOSED_DEPTHS = [0, 0.5];
/** More places at which it is begun, as shares of a span. */
const MORE_STARTS = [0.25, 0.5, 0.75];
const MORE_DEPTHS = [0.5];
/** On rings of more pegs than this a better beginning is not looked for. */
const FEW_PEGS = 40;
/** The shortest way in the band is no shorter than this share of the ring. */
const LEAST_LENGTH_SHARE = 0.985;
/** Rounds of tightening the spacing. */
const EVENING_ROUNDS = 2;

/** Number of spans in which a chord is pegged. */
export function spansOf(lengthM: number, spacingM: number): number {
  return Math.max(1, Math.ceil(lengthM / spacingM - 1e-9));
}

/**
 * @param ring free side on its left, metres; begins anywhere
 * @returns the ring of corners and bends; straight stretches have no vertices in them, so long
 *   edges remain to be pegged at the spacing
 */
export function fitChords(ring: RingM, options: ChordFitOptions): RingM {
  const clean = withoutCollinear(withoutShortEdges(fromLowest(ring)));
  const n = clean.length >> 1;
  if (n < 4 || options.wanderM <= 0) return clean;
  const track = new Track(clean);
  const corners = track.corners();
  const points: PointM[] = [];
  if (corners.length === 0) points.push(...closedRing(clean, options));
  corners.forEach((corner, i) => {
    const next = corners[(i + 1) % corners.length]!;
    const last = next > corner ? next : next + n;
    const from = track.vertex(corner);
    const to = track.vertex(last);
    points.push(from);
    for (const point of openArc(track, corner, last, options)) {
      if (!beside(point, from) && !beside(point, to)) points.push(point);
    }
  });
  return withoutCollinear(Float64Array.from(points.flat()));
}

/** Pegs a few millimetres from a corner's own are the corner's. */
function beside(point: PointM, corner: PointM): boolean {
  return Math.hypot(point[0] - corner[0], point[1] - corner[1]) < SAME_PEG_M;
}

/** The ring begun at its southernmost (then westernmost) vertex, so that where it began before does not matter. */
function fromLowest(ring: RingM): RingM {
  let lowest = 0;
  for (let i = 2; i < ring.length; i += 2) {
    const north = ring[i + 1]! - ring[lowest + 1]!;
    if (north < 0 || (north === 0 && ring[i]! < ring[lowest]!)) lowest = i;
  }
  if (lowest === 0) return ring;
  const out = new Float64Array(ring.length);
  out.set(ring.subarray(lowest), 0);
  out.set(ring.subarray(0, lowest), ring.length - lowest);
  return out;
}

/**
 * Takes out edges too short for a peg at both ends, moving the ring to the left only: a left-turning
 * end is dropped, and between two right turns the neighbours are lengthened until they meet.
 */
function withoutShortEdges(ring: RingM): RingM {
  let points: PointM[] = [];
  for (let i = 0; i < ring.length; i += 2) points.push([ring[i]!, ring[i + 1]!]);
  for (let round = 0; round < SHORT_EDGE_ROUNDS; round++) {
    const before = points.length;
    points = shortEdgesOnce(points);
    if (points.length === before) break;
  }
  return Float64Array.from(points.flat());
}

function shortEdgesOnce(points: readonly PointM[]): PointM[] {
  const n = points.length;
  const kept: PointM[] = [];
  let left = n;
  for (let i = 0; i < n; i++) {
    const b = points[i]!;
    const c = points[(i + 1) % n]!;
    const short = Math.hypot(c[0] - b[0], c[1] - b[1]) < SHORT_EDGE_M;
    if (!short || left <= 4 || i === n - 1) {
      kept.push(b);
      continue;
    }
    const a = kept[kept.length - 1] ?? points[n - 1]!;
    const d = points[(i + 2) % n]!;
    left--;
    if (turnOf(a, b, c) >= 0) continue;
    if (turnOf(b, c, d) >= 0) {
      kept.push(b);
      i++;
      continue;
    }
    const x = lineIntersection(a, b, d, c);
    const near = x && Math.hypot(x[0] - b[0], x[1] - b[1]) < 3 * SHORT_EDGE_M;
    if (!near) {
      kept.push(b);
      left++;
      continue;
    }
    kept.push(x);
    i++;
  }
  return kept;
}

function turnOf(a: PointM, b: PointM, c: PointM): number {
  return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
}

/** Leaves out vertices that lie on the line of their neighbours, to 0.2 mm. */
export function withoutCollinear(ring: RingM): RingM {
  const n = ring.length >> 1;
  if (n < 4) return ring;
  const at = (i: number): PointM => [ring[2 * (i % n)]!, ring[2 * (i % n) + 1]!];
  // Start at the sharpest vertex, which is never on a straight run.
  let start = 0;
  let sharpest = -1;
  for (let i = 0; i < n; i++) {
    const [a, b, c] = [at(i + n - 1), at(i), at(i + 1)];
    const off = pointSegmentM(b[0], b[1], a[0], a[1], c[0], c[1]);
    if (off > sharpest + 1e-9) {
      sharpest = off;
      start = i;
    }
  }
  const keep: number[] = [...at(start)];
  let anchor = start;
  for (let i = start + 1; i < start + n; i++) {
    const a = at(anchor);
    const c = at(i + 1);
    let straight = i - anchor < 200;
    for (let m = anchor + 1; m <= i && straight; m++) {
      const b = at(m);
      straight = pointSegmentM(b[0], b[1], a[0], a[1], c[0], c[1]) <= COLLINEAR_M;
    }
    if (straight) continue;
    keep.push(...at(i));
    anchor = i;
  }
  return Float64Array.from(keep);
}

/**
 * A ring as a track with a length along it, in flat arrays. Vertices and lengths count on past the
 * end of the ring for a second round, so that an arc over the ring's start needs no special case.
 */
class Track {
  readonly n: number;
  readonly totalM: number;
  /** Vertices, twice round. */
  readonly e: Float64Array;
  readonly north: Float64Array;
  /** Length along the track at each vertex. */
  readonly along: Float64Array;
  /** Unit direction of the edge that leaves each vertex. */
  readonly de: Float64Array;
  readonly dn: Float64Array;
  /** 1 for vertices that turn left. */
  readonly convex: Uint8Array;

  constructor(ring: RingM) {
    const n = ring.length >> 1;
    const m = 2 * n + 2;
    this.n = n;
    this.e = new Float64Array(m);
    this.north = new Float64Array(m);
    this.along = new Float64Array(m);
    this.de = new Float64Array(m);
    this.dn = new Float64Array(m);
    this.convex = new Uint8Array(m);
    for (let i = 0; i < m; i++) {
      this.e[i] = ring[2 * (i % n)]!;
      this.north[i] = ring[2 * (i % n) + 1]!;
    }
    for (let i = 0; i + 1 < m; i++) {
      const de = this.e[i + 1]! - this.e[i]!;
      const dn = this.north[i + 1]! - this.north[i]!;
      const length = Math.hypot(de, dn);
      this.along[i + 1] = this.along[i]! + length;
      this.de[i] = length > 0 ? de / length : 0;
      this.dn[i] = length > 0 ? dn / length : 0;
    }
    for (let i = 0; i < m; i++) this.convex[i] = this.turn(i) > 0 ? 1 : 0;
    this.totalM = this.along[n]!;
  }

  vertex(i: number): PointM {
    return [this.e[i]!, this.north[i]!];
  }

  /** Turn at a vertex in radians, positive to the left. */
  turn(i: number): number {
    const k = (i % this.n) + this.n;
    const cross = this.de[k - 1]! * this.dn[k]! - this.dn[k - 1]! * this.de[k]!;
    const dot = this.de[k - 1]! * this.de[k]! + this.dn[k - 1]! * this.dn[k]!;
    return Math.atan2(cross, dot);
  }

  /** Vertices that must keep a peg of their own. */
  corners(): number[] {
    const found: number[] = [];
    for (let i = 0; i < this.n; i++) {
      if (Math.abs(this.turn(i)) < CORNER_TURN) continue;
      const k = i < this.n / 2 ? i + this.n : i;
      const a = this.place(this.along[k]! - CORNER_REACH_M, 0, k);
      const c = this.place(this.along[k]! + CORNER_REACH_M, 0, k);
      const off = pointSegmentM(this.e[i]!, this.north[i]!, a[0], a[1], c[0], c[1]);
      if (off >= CORNER_STANDS_OUT_M) found.push(i);
    }
    return found;
  }

  /** Number of the edge that holds a length along the track, sought from a vertex near it. */
  edgeAt(alongM: number, near: number): number {
    let i = near;
    while (i + 2 < this.e.length && this.along[i + 1]! <= alongM) i++;
    while (i > 0 && this.along[i]! > alongM) i--;
    return i;
  }

  /** Whether the way from a place on edge i to a place in the band crosses no other edge nearby. */
  depthIsFree(i: number, onM: number, e: number, n: number): boolean {
    const fe = this.e[i]! + onM * this.de[i]!;
    const fn = this.north[i]! + onM * this.dn[i]!;
    const at = this.along[i]! + onM;
    for (let j = i - 1; j >= 0 && at - this.along[j + 1]! < NEARBY_M; j--) {
      if (this.#crosses(j, fe, fn, e, n)) return false;
    }
    for (let j = i + 1; j + 1 < this.e.length && this.along[j]! - at < NEARBY_M; j++) {
      if (this.#crosses(j, fe, fn, e, n)) return false;
    }
    return true;
  }

  #crosses(j: number, ae: number, an: number, be: number, bn: number): boolean {
    const ce = this.e[j]!;
    const cn = this.north[j]!;
    const de = this.e[j + 1]! - ce;
    const dn = this.north[j + 1]! - cn;
    const sideA = de * (an - cn) - dn * (ae - ce);
    const sideB = de * (bn - cn) - dn * (be - ce);
    if (sideB > 0 || sideA < 0) return false;
    const ue = be - ae;
    const un = bn - an;
    const sideC = ue * (cn - an) - un * (ce - ae);
    const sideD = ue * (cn + dn - an) - un * (ce + de - ae);
    return sideC * sideD <= 0;
  }

  /** The place at a length along the track, moved to the left by a depth. */
  place(alongM: number, depthM: number, near: number): PointM {
    const i = this.edgeAt(alongM, near);
    const on = alongM - this.along[i]!;
    return [
      this.e[i]! + on * this.de[i]! - depthM * this.dn[i]!,
      this.north[i]! + on * this.dn[i]! + depthM * this.de[i]!,
    ];
  }
}

/** A stretch of the track to be pegged, between two vertices (the second counted on past n). */
interface Arc {
  readonly first: number;
  readonly last: number;
  /** Depth at which it begins and ends: 0 at corners. */
  readonly depthM: number;
  /** Greatest depth for each metre from an end that is a corner turning left; no limit elsewhere. */
  readonly startTip: number;
  readonly endTip: number;
}

/** A peg tried: where it stands, how far along, at which depth, and what came before it. */
interface Trial {
  readonly atM: PointM;
  readonly alongM: number;
  readonly depthM: number;
  /** First vertex after its place. */
  readonly ahead: number;
  readonly back: Trial | undefined;
  readonly count: number;
}

/** Whether a span stays on the free side, and leaves no more than allowed: the vertices it passes tell. */
function spanHolds(
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

/** Fewest pegs strictly between two corners. */
function openArc(track: Track, first: number, last: number, options: ChordFitOptions): PointM[] {
  if (last === first + 1) return [];
  const tip = (vertex: number): number => (track.convex[vertex] ? TIP_SLOPE : Infinity);
  const arc: Arc = { first, last, depthM: 0, startTip: tip(first), endTip: tip(last) };
  const best = reach(track, arc, options);
  return best
    ? pegsOf(track, evened(track, arc, options, best), options)
    : verticesBetween(track, first, last);
}

/** Tightens the spacing while the count stays: spans come out even. */
function evened(track: Track, arc: Arc, options: ChordFitOptions, best: Trial): Trial {
  let kept = best;
  let low = options.spacingM * (1 - 1 / Math.max(best.count, 2));
  let high = options.spacingM;
  for (let round = 0; round < EVENING_ROUNDS; round++) {
    const spacingM = (low + high) / 2;
    const tried = reach(track, arc, { ...options, spacingM }, best.count);
    if (tried) {
      kept = tried;
      high = spacingM;
    } else low = spacingM;
  }
  return kept;
}

function verticesBetween(track: Track, first: number, last: number): PointM[] {
  const points: PointM[] = [];
  for (let i = first + 1; i < last; i++) points.push(track.vertex(i));
  return points;
}

/** The pegs of a row, each drawn back towards the ring as far as its two spans allow. */
function pegsOf(track: Track, end: Trial, options: ChordFitOptions): PointM[] {
  const row: Trial[] = [];
  for (let trial: Trial | undefined = end; trial; trial = trial.back) row.unshift(trial);
  for (let round = 0; round < DRAWING_ROUNDS; round++) {
    for (let i = 1; i + 1 < row.length; i++) row[i] = drawnBack(track, row, i, options);
  }
  return row.slice(1, -1).map((trial) => trial.atM);
}

function drawnBack(
  track: Track,
  row: readonly Trial[],
  i: number,
  { spacingM, wanderM }: ChordFitOptions,
): Trial {
  const peg = row[i]!;
  const before = row[i - 1]!;
  const after = row[i + 1]!;
  for (const share of DRAWING_SHARES) {
    const depthM = peg.depthM * share;
    if (peg.depthM - depthM < 1e-4) break;
    const atM = track.place(peg.alongM, depthM, peg.ahead - 1);
    const moved: Trial = { ...peg, atM, depthM };
    if (
      spanHolds(track, before, atM[0], atM[1], peg.alongM, spacingM, wanderM) &&
      spanHolds(track, moved, after.atM[0], after.atM[1], after.alongM, spacingM, wanderM)
    ) {
      return moved;
    }
  }
  return peg;
}

/** The last trial of the shortest row of pegs from one corner to another, or undefined past `most`. */
function reach(
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

/**
 * A ring without corners: begun where the row of pegs closes with the fewest.
 *
 * From its first vertex at two depths; and where that takes more than the ring's length asks for,
 * from some more places of the first span.
 */
function closedRing(ring: RingM, options: ChordFitOptions): PointM[] {
  let best = closedFrom(new Track(ring), CLOSED_DEPTHS, options, Infinity);
  const length = new Track(ring).totalM;
  const bound = Math.ceil((LEAST_LENGTH_SHARE * length) / options.spacingM);
  for (const share of MORE_STARTS) {
    if (best && (best.count <= bound || best.count > FEW_PEGS)) break;
    const begun = new Track(begunAt(ring, share * options.spacingM));
    const found = closedFrom(begun, MORE_DEPTHS, options, best ? best.count - 1 : Infinity);
    if (found) best = found;
  }
  if (!best) return verticesBetween(new Track(ring), -1, ring.length >> 1);
  const { track, arc } = best;
  const end = evened(track, arc, options, best.end);
  const start = arc.depthM === 0 ? track.vertex(0) : track.place(0, arc.depthM, 0);
  return [start, ...pegsOf(track, end, options)];
}

interface ClosedRow {
  readonly track: Track;
  readonly arc: Arc;
  readonly end: Trial;
  readonly count: number;
}

function closedFrom(
  track: Track,
  depthShares: readonly number[],
  options: ChordFitOptions,
  most: number,
): ClosedRow | undefined {
  let best: ClosedRow | undefined;
  for (const share of depthShares) {
    const depthM = share * options.wanderM;
    const arc = { first: 0, last: track.n, depthM, startTip: Infinity, endTip: Infinity };
    const end = reach(track, arc, options, best ? best.count - 1 : most);
    if (end) best = { track, arc, end, count: end.count };
  }
  return best;
}

/** The ring begun some way along its first edges; a vertex is put in there. */
function begunAt(ring: RingM, alongM: number): RingM {
  const n = ring.length >> 1;
  let left = alongM;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const de = ring[2 * j]! - ring[2 * i]!;
    const dn = ring[2 * j + 1]! - ring[2 * i + 1]!;
    const length = Math.hypot(de, dn);
    if (left < length) {
      const share = left / length;
      const on = [...ring.subarray(2 * i + 2), ...ring.subarray(0, 2 * i + 2)];
      return Float64Array.of(ring[2 * i]! + share * de, ring[2 * i + 1]! + share * dn, ...on);
    }
    left -= length;
  }
  return ring;
}
