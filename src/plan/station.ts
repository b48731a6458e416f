/** Where the station stands: where the user says, or on the longest straight clear run of wire. */

import { spansOf } from "../geometry/chord-fit/chord-fit.ts";
import { vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { RingPlace } from "./ring-place.ts";
import { pegSpacingM } from "./spacing.ts";

export interface StationPlace extends RingPlace {
  readonly given: boolean;
  /** Straight wire on the shorter side, metres. */
  readonly straightM: number;
  /** Whether the lawn in front is clear as far as the profile wants. */
  readonly clear: boolean;
}

/** Longest edges tried, at most. */
const EDGES_TRIED = 60;

/** Places tried on one edge, at most. */
const PLACES_TRIED = 40;

/** Peg positions of an edge, so that the station costs no extra peg; from its middle outwards. */
function placesOf(ring: RingM, vertex: number, profile: Profile): RingPlace[] {
  const n = ring.length >> 1;
  const a = vertexAt(ring, vertex);
  const b = vertexAt(ring, (vertex + 1) % n);
  const spans = spansOf(Math.hypot(b[0] - a[0], b[1] - a[1]), pegSpacingM(profile));
  const shares =
    spans < 2
      ? [0.5, 0.35, 0.65, 0.2, 0.8]
      : Array.from({ length: Math.min(spans - 1, PLACES_TRIED) }, (_, i) => {
          const off = (i + 1) >> 1;
          const middle = spans >> 1;
          // Of an odd number of spans the farther of the two pegs beside the middle comes first.
          const k = spans % 2 === 1 ? middle + 1 : middle;
          return (i % 2 === 1 ? k - off : k + off) / spans;
        });
  return shares.map((share) => ({
    vertex,
    share,
    atM: [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])],
  }));
}

function judge(
  ring: RingM,
  place: RingPlace,
  given: boolean,
  others: SegmentIndex,
  profile: Profile,
): StationPlace {
  const n = ring.length >> 1;
  const a = vertexAt(ring, place.vertex);
  const b = vertexAt(ring, (place.vertex + 1) % n);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const straightM = Math.min(place.share, 1 - place.share) * length;
  const de = (b[0] - a[0]) / length;
  const dn = (b[1] - a[1]) / length;
  const half = Math.min(straightM, profile.station.straightM);
  const clear = !meetsAhead(others, place.atM, de, dn, half, profile.station.clearAheadM);
  return { ...place, given, straightM, clear };
}

/** Whether any segment enters the rectangle on the left of the wire in front of the station. */
function meetsAhead(
  index: SegmentIndex,
  at: PointM,
  de: number,
  dn: number,
  halfM: number,
  depthM: number,
): boolean {
  const reach = Math.hypot(halfM, depthM);
  for (const s of index.inBox(at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach)) {
    const local = [index.from(s), index.to(s)].map(([e, n]): PointM => {
      const x = e - at[0];
      const y = n - at[1];
      return [x * de + y * dn, -x * dn + y * de];
    });
    if (entersBox(local[0]!, local[1]!, -halfM, 0.02, halfM, depthM)) return true;
  }
  return false;
}

/** Liang–Barsky clipping: whether a segment has a part inside a box. */
function entersBox(
  a: PointM,
  b: PointM,
  minX: number,
  minY: number,
  maxX: number,
  maxY: number,
): boolean {
  let t0 = 0;
  let t1 = 1;
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  for (const [p, q] of [
    [-dx, a[0] - minX],
    [dx, maxX - a[0]],
    [-dy, a[1] - minY],
    [dy, maxY - a[1]],
  ] as const) {
    if (p === 0) {
      if (q < 0) return false;
      continue;
    }
    const r = q / p;
    if (p < 0) t0 = Math.max(t0, r);
    else t1 = Math.min(t1, r);
    if (t0 > t1) return false;
  }
  return true;
}

/**
 * @param shell outer ring of wire, anticlockwise
 * @param holes rings of the exclusion loops and firm things inside
 * @param wanted where the user put it, if at all; it is moved onto the nearest peg of the wire
 */
export function placeStation(
  shell: RingM,
  holes: readonly RingM[],
  wanted: PointM | undefined,
  profile: Profile,
): StationPlace {
  const all = new SegmentIndex([shell, ...holes]);
  const n = shell.length >> 1;
  if (wanted) {
    const near = all.nearest(wanted[0], wanted[1], Infinity, (s) => all.ringOf[s] === 0)!;
    const vertex = all.vertexOf[near.segment]!;
    const a = vertexAt(shell, vertex);
    const b = vertexAt(shell, (vertex + 1) % n);
    const squared = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
    const t = ((wanted[0] - a[0]) * (b[0] - a[0]) + (wanted[1] - a[1]) * (b[1] - a[1])) / squared;
    const share = Math.min(1, Math.max(0, t));
    return judge(shell, givenPlace(shell, vertex, share), true, all, profile);
  }
  const edges = Array.from({ length: n }, (_, i) => {
    const a = vertexAt(shell, i);
    const b = vertexAt(shell, (i + 1) % n);
    return { vertex: i, length: Math.hypot(b[0] - a[0], b[1] - a[1]), at: a };
  }).sort((a, b) => b.length - a.length || a.at[1] - b.at[1] || a.at[0] - b.at[0]);
  let best: { place: StationPlace; score: number } | undefined;
  for (const edge of edges.slice(0, EDGES_TRIED)) {
    for (const at of placesOf(shell, edge.vertex, profile)) {
      const place = judge(shell, at, false, all, profile);
      const enough = Math.min(1, place.straightM / profile.station.straightM);
      if (enough === 1 && place.clear) return place;
      // A clear place counts for more, but never a mere stub of wire.
      const score = enough * (place.clear ? 1.5 : 1);
      if (!best || score > best.score + 1e-9) best = { place, score };
    }
  }
  return best!.place;
}

/** The user's place to the centimetre, but never on a corner itself. */
function givenPlace(ring: RingM, vertex: number, share: number): RingPlace {
  const n = ring.length >> 1;
  const a = vertexAt(ring, vertex);
  const b = vertexAt(ring, (vertex + 1) % n);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const margin = Math.min(0.5, 0.05 / length);
  const k = Math.min(1 - margin, Math.max(margin, share));
  return { vertex, share: k, atM: [a[0] + k * (b[0] - a[0]), a[1] + k * (b[1] - a[1])] };
}

/** Off the line by no more than this, metres, a vertex is on it. */
const ON_LINE_M = 0.001;

/** Straight wire on the shorter side of a ring's first vertex, metres. */
export function straightAlong(wire: RingM): number {
  const n = wire.length >> 1;
  const [e, n0] = vertexAt(wire, 0);
  const next = vertexAt(wire, 1);
  const lengthM = Math.hypot(next[0] - e, next[1] - n0);
  const ue = (next[0] - e) / lengthM;
  const un = (next[1] - n0) / lengthM;
  const side = (step: 1 | -1): number => {
    let farM = 0;
    for (let k = 1; k < n; k++) {
      const [ve, vn] = vertexAt(wire, step === 1 ? k : n - k);
      const alongM = step * ((ve - e) * ue + (vn - n0) * un);
      if (alongM <= farM || Math.abs((ve - e) * un - (vn - n0) * ue) > ON_LINE_M) break;
      farM = alongM;
    }
    return farM;
  };
  return Math.min(side(1), side(-1));
}
