/**
 * The fewest straight spans that follow a ring, never to the wrong side.
 *
 * The ring's left side is free, its right side is forbidden. True corners keep a peg where they
 * are. Between two corners, or round a ring without any, the pegs may stand anywhere in a band on
 * the free side; `rows.ts` finds the fewest. Then the spacing is tightened as long as the count
 * stays, so that spans come out even, and the pegs are drawn back towards the ring.
 */
import type { PointM, RingM } from "../../model/geometry.ts";
import { ROUND_AND_ROUND, type Workings } from "./frontier.ts";
import { type Arc, closedRow, openRow } from "./rows.ts";
import { settled } from "./settle-row.ts";
import { type ChordFitOptions, Sight } from "./sight.ts";
import { fromLowest, ringOf, withoutCollinear, withoutShortEdges } from "./tidy-ring.ts";
import { Track } from "./track.ts";
import { NONE, Trials } from "./trials.ts";

export type { ChordFitOptions } from "./sight.ts";

/** Beside a corner bent towards the lawn pegs keep near the ring: the way past it lies close by. */
const TIP_SLOPE = 0.25;
/** Pegs nearer than this to each other are one, metres: less than a peg is thick. */
const SAME_PEG_M = 0.005;
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
  const known = lastFits.get(ring);
  if (known?.spacingM === options.spacingM && known.wanderM === options.wanderM) return known.fit;
  const fit = fitted(ring, options);
  lastFits.set(ring, { ...options, fit });
  return fit;
}

/**
 * The last fit of each ring: divisions of a lawn share most of its islands, and a piece is measured
 * before it is laid.
 */
const lastFits = new WeakMap<RingM, ChordFitOptions & { readonly fit: RingM }>();

function fitted(ring: RingM, options: ChordFitOptions): RingM {
  const clean = withoutCollinear(withoutShortEdges(fromLowest(ring)));
  const n = clean.length >> 1;
  if (n < 4 || options.wanderM <= 0) return clean;
  const track = new Track(clean);
  const workings = { track, trials: new Trials(), sight: new Sight(track, options.wanderM) };
  const corners = track.corners();
  const points = corners.length === 0 ? closedRing(workings, options) : [];
  corners.forEach((corner, i) => {
    const next = corners[(i + 1) % corners.length]!;
    const last = next > corner ? next : next + n;
    const from = track.vertex(corner);
    const to = track.vertex(last);
    points.push(from);
    for (const point of openArc(workings, corner, last, options)) {
      if (!beside(point, from) && !beside(point, to)) points.push(point);
    }
  });
  return withoutCollinear(ringOf(points));
}

/** Pegs a few millimetres from a corner's own are the corner's. */
function beside(point: PointM, corner: PointM): boolean {
  return Math.hypot(point[0] - corner[0], point[1] - corner[1]) < SAME_PEG_M;
}

/** Fewest pegs strictly between two corners. */
function openArc(
  workings: Workings,
  first: number,
  last: number,
  options: ChordFitOptions,
): PointM[] {
  if (last === first + 1) return [];
  const { track, trials } = workings;
  trials.clear();
  const tip = (vertex: number): number => (track.convex[vertex] ? TIP_SLOPE : Infinity);
  const pegAt = (vertex: number): number => {
    const [e, n] = track.vertex(vertex);
    return trials.add(e, n, track.along[vertex]!, 0, 0, vertex, NONE);
  };
  const arc: Arc = {
    from: pegAt(first),
    to: pegAt(last),
    startM: track.along[first]!,
    endM: track.along[last]!,
    startTip: tip(first),
    endTip: tip(last),
  };
  const row = openRow(workings, arc, options);
  if (!row) return verticesBetween(track, first, last);
  const pegs = settled(workings, arc, row, options).slice(1, -1);
  return pegs.map((peg) => trials.at(peg));
}

/** Fewest pegs round a ring without corners. */
function closedRing(workings: Workings, options: ChordFitOptions): PointM[] {
  const { track, trials } = workings;
  const row = closedRow(workings, options);
  if (!row) return verticesBetween(track, -1, track.n);
  const from = trials.again(row[0]!, 0, NONE);
  const arc: Arc = { ...ROUND_AND_ROUND, from, to: row[row.length - 1]! };
  const pegs = settled(workings, arc, row, options).slice(0, -1);
  return pegs.map((peg) => trials.at(peg));
}

function verticesBetween(track: Track, first: number, last: number): PointM[] {
  const points: PointM[] = [];
  for (let i = first + 1; i < last; i++) points.push(track.vertex(i));
  return points;
}
