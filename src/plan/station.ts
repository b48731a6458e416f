/** Where the station stands: where the user says, or at the best of all places on the wire. */

import { vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { nearestShare } from "../geometry/segments.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { StationFigures } from "../model/station.ts";
import type { RingPlace } from "./ring-place.ts";
import { NOTHING_KNOWN, type StationGround } from "./station-ground.ts";
import { type Found, StationSearch } from "./station-search.ts";

export interface StationPlace extends RingPlace {
  readonly given: boolean;
  /** Straight wire on the shorter side, metres. */
  readonly straightM: number;
  /** Whether the lawn in front is clear as far as the profile wants. */
  readonly clear: boolean;
  readonly figures: StationFigures;
  /** What it was found by, for the next best places. */
  readonly search: StationSearch;
}

/**
 * @param shell outer ring of wire, anticlockwise
 * @param holes rings of the exclusion loops and firm things inside
 * @param wanted where the user put it, if at all; it is moved onto the nearest place of the wire
 */
export function placeStation(
  shell: RingM,
  holes: readonly RingM[],
  wanted: PointM | undefined,
  profile: Profile,
  ground: StationGround = NOTHING_KNOWN,
): StationPlace {
  const all = new SegmentIndex([shell, ...holes]);
  const search = new StationSearch(shell, all, ground, profile);
  const { place, figures } = wanted ? givenAt(wanted, shell, all, search) : search.best();
  return {
    ...place,
    given: wanted !== undefined,
    straightM: figures.straightM,
    clear: figures.clearAheadM >= profile.station.clearAheadM - 1e-9,
    figures,
    search,
  };
}

function givenAt(wanted: PointM, shell: RingM, all: SegmentIndex, search: StationSearch): Found {
  const n = shell.length >> 1;
  const near = all.nearest(wanted[0], wanted[1], Infinity, (s) => all.ringOf[s] === 0)!;
  const vertex = all.vertexOf[near.segment]!;
  const a = vertexAt(shell, vertex);
  const b = vertexAt(shell, (vertex + 1) % n);
  const share = nearestShare(wanted[0], wanted[1], a[0], a[1], b[0], b[1]);
  const place = givenPlace(shell, vertex, share);
  return { place, figures: search.figuresAt(place) };
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
