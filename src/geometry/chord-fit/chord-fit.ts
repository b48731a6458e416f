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
import type { PointM, RingM } from "../../model/geometry.ts";
import { type Arc, type ChordFitOptions, reach, spanHolds, type Trial } from "./reach.ts";
import { begunAt, fromLowest, withoutCollinear, withoutShortEdges } from "./tidy-ring.ts";
import { Track } from "./track.ts";

export type { ChordFitOptions } from "./reach.ts";

/** Beside a corner bent towards the lawn pegs keep near the ring: the way past it lies close by. */
const TIP_SLOPE = 0.25;
/** Pegs nearer than this to each other are one, metres: less than a peg is thick. */
const SAME_PEG_M = 0.005;
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
