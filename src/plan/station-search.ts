/**
 * The search for the station's place over every peg of the outer ring of wire.
 *
 * Best first: a place begins with the best rank that its straight wire and its distance from the
 * outlet allow, and is looked at more closely only when it comes to the top. What comes out fully
 * looked at is the best of all, and most places are never looked at. n in the pegs, log n each place
 * that is looked at.
 */
import { spansOf } from "../geometry/chord-fit/chord-fit.ts";
import { ringLengthM, vertexAt } from "../geometry/rings.ts";
import type { SegmentIndex } from "../geometry/segment-index.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { StationFigures, StationOption } from "../model/station.ts";
import { BestFirst } from "./best-first.ts";
import type { RingPlace } from "./ring-place.ts";
import { pegSpacingM } from "./spacing.ts";
import { clearDepthM } from "./station-front.ts";
import type { StationGround } from "./station-ground.ts";
import { FULL_AT, leadMark, marksOf, rankOf, scoreOf } from "./station-marks.ts";

/** The wire turns right by more than this at a concave corner, degrees. */
const CORNER_DEG = 30;
/** Heights are asked so far along the wire to both sides and ahead, metres: about the base. */
const BASE_M = 1;
/** A hollow is lower than the ground at this distance round it, metres. */
const HOLLOW_ROUND_M = 3;
/** Next best places are at least so far apart, metres, and this share of the wire. */
const APART_M = 5;
const APART_SHARE = 1 / 12;
/** Places looked at closely for the next best ones, at most. */
const LOOKS = 300;

type Measured = Omit<StationFigures, "score">;

/** A place on its way through the search. */
interface Candidate {
  readonly place: RingPlace;
  /** Rank that it has, or can have at most. */
  readonly rank: number;
  readonly straightM: number;
  /** Measured but for what costs most (sun, lead), or wholly. */
  readonly near?: Measured;
  readonly figures?: StationFigures;
}

/** A place found, in figures. */
export interface Found {
  readonly place: RingPlace;
  readonly figures: StationFigures;
}

export class StationSearch {
  readonly #shell: RingM;
  readonly #all: SegmentIndex;
  readonly #ground: StationGround;
  readonly #profile: Profile;
  /** Chainage of each vertex of the shell, and of its end. */
  readonly #chainages: Float64Array;
  /** Chainages of concave corners, in order. */
  readonly #corners: readonly number[];
  #best: Found | undefined;

  constructor(shell: RingM, all: SegmentIndex, ground: StationGround, profile: Profile) {
    this.#shell = shell;
    this.#all = all;
    this.#ground = ground;
    this.#profile = profile;
    this.#chainages = chainagesOf(shell);
    this.#corners = concaveCorners(shell, this.#chainages);
  }

  /** The best place of all. */
  best(): Found {
    this.#best ??= this.#search([], APART_M, 1, Infinity)[0]!;
    return this.#best;
  }

  /** The next best places, apart from one place and from each other, best first. */
  nextBest(count: number, from: PointM, fromM?: number): StationOption[] {
    const apartM = Math.max(APART_M, APART_SHARE * ringLengthM(this.#shell));
    const besides = [{ atM: from, apartM: fromM ?? apartM }];
    return this.#search(besides, apartM, count, LOOKS).map(({ place, figures }) => ({
      atM: place.atM,
      bearingDeg: bearingDeg(this.#alongAt(place.vertex)),
      figures,
    }));
  }

  /** Any place in figures. */
  figuresAt(place: RingPlace): StationFigures {
    return this.#whole(place, this.#near(place));
  }

  #search(
    besides: readonly { readonly atM: PointM; readonly apartM: number }[],
    apartM: number,
    count: number,
    mostLooks: number,
  ): Found[] {
    const taken = [...besides];
    const found: Found[] = [];
    const queue = new BestFirst(this.#candidates(), before);
    let looks = 0;
    for (let one = queue.pop(); one; one = queue.pop()) {
      const { place, figures, near } = one;
      const { atM } = place;
      if (taken.some((t) => Math.hypot(t.atM[0] - atM[0], t.atM[1] - atM[1]) < t.apartM)) continue;
      if (figures) {
        found.push({ place, figures });
        if (found.length === count) break;
        taken.push({ atM, apartM });
      } else if (near) {
        const whole = this.#whole(place, near);
        queue.push({ ...one, rank: rankOf(whole, whole.score, this.#profile), figures: whole });
      } else if (looks < mostLooks) {
        looks++;
        const measured = this.#near(place);
        queue.push({ ...one, rank: this.#mostRank(measured, atM), near: measured });
      }
    }
    return found;
  }

  /** Every peg between two bends, so that the station costs no peg; the middle of short edges. */
  #candidates(): Candidate[] {
    const shell = this.#shell;
    const n = shell.length >> 1;
    const list: Candidate[] = [];
    const spacingM = pegSpacingM(this.#profile);
    const { station } = this.#profile;
    for (let vertex = 0; vertex < n; vertex++) {
      const a = vertexAt(shell, vertex);
      const b = vertexAt(shell, (vertex + 1) % n);
      const lengthM = this.#chainages[vertex + 1]! - this.#chainages[vertex]!;
      if (lengthM === 0) continue;
      const spans = Math.max(2, spansOf(lengthM, spacingM));
      for (let k = 1; k < spans; k++) {
        const share = k / spans;
        const atM: PointM = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
        const straightM = Math.min(share, 1 - share) * lengthM;
        const clearAheadM = FULL_AT * station.clearAheadM;
        const rank = this.#mostRank({ straightM, clearAheadM }, atM);
        list.push({ place: { vertex, share, atM }, rank, straightM });
      }
    }
    return list;
  }

  /** The rank that a place can have at most when shade and lead are measured, too. */
  #mostRank(measured: Measured, atM: PointM): number {
    const { leads, known } = this.#ground;
    const { leadHalfM } = this.#profile.station;
    const marks = {
      ...marksOf(measured, measured.slopePercent !== undefined, this.#profile),
      ...(known.heightAt && measured.slopePercent === undefined ? { level: 1 } : {}),
      ...(known.sunAt ? { shade: 1 } : {}),
      ...(leads ? { lead: leadMark(leads.leastM(atM), false, leadHalfM) } : {}),
    };
    return rankOf(measured, scoreOf(marks, this.#profile), this.#profile);
  }

  /** All that is cheap to measure. */
  #near(place: RingPlace): Measured {
    const { vertex, share, atM } = place;
    const [e, n] = atM;
    const { station } = this.#profile;
    const lengthM = this.#chainages[vertex + 1]! - this.#chainages[vertex]!;
    const straightM = Math.min(share, 1 - share) * lengthM;
    const along = this.#alongAt(vertex);
    const { passages, water, publicEdges, known } = this.#ground;
    const { awayM } = station;
    const isInner = (s: number) => this.#all.ringOf[s] !== 0;
    const halfM = Math.min(straightM, station.straightM);
    return {
      straightM,
      clearAheadM: clearDepthM(this.#all, atM, along, halfM, FULL_AT * station.clearAheadM),
      ...(known.heightAt && groundAt(known.heightAt, atM, along)),
      cornerM: this.#cornerM(this.#chainages[vertex]! + share * lengthM),
      passageM: passages.nearest(e, n, awayM)?.distanceM,
      islandM: this.#all.nearest(e, n, awayM, isInner)?.distanceM,
      waterM: water.nearest(e, n, awayM)?.distanceM,
      publicM: publicEdges.nearest(e, n, awayM)?.distanceM,
    };
  }

  #whole({ atM }: RingPlace, near: Measured): StationFigures {
    const { leads, known } = this.#ground;
    const measured: Measured = {
      ...near,
      ...(known.sunAt && { sun: known.sunAt(atM) }),
      ...(leads && { lead: leads.to(atM) }),
    };
    const marks = marksOf(measured, known.heightAt !== undefined, this.#profile);
    return { score: scoreOf(marks, this.#profile), ...measured };
  }

  #alongAt(vertex: number): PointM {
    const n = this.#shell.length >> 1;
    const a = vertexAt(this.#shell, vertex);
    const b = vertexAt(this.#shell, (vertex + 1) % n);
    const lengthM = Math.hypot(b[0] - a[0], b[1] - a[1]);
    return [(b[0] - a[0]) / lengthM, (b[1] - a[1]) / lengthM];
  }

  /** Along the wire to the nearest concave corner, undefined from `away_m` on. */
  #cornerM(chainageM: number): number | undefined {
    const corners = this.#corners;
    if (corners.length === 0) return undefined;
    const wholeM = this.#chainages[this.#chainages.length - 1]!;
    let [low, high] = [0, corners.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (corners[middle]! < chainageM) low = middle + 1;
      else high = middle;
    }
    const around = (i: number) => corners[(i + corners.length) % corners.length]!;
    const gap = (to: number) => {
      const off = Math.abs(to - chainageM);
      return Math.min(off, wholeM - off);
    };
    const nearest = Math.min(gap(around(low)), gap(around(low - 1)));
    return nearest < this.#profile.station.awayM ? nearest : undefined;
  }
}

/** Best first; of two alike the longer straight run, then the southern, then the western place. */
function before(a: Candidate, b: Candidate): boolean {
  const rank = Math.round((a.rank - b.rank) * 1e6);
  if (rank !== 0) return rank > 0;
  const straight = Math.round((a.straightM - b.straightM) * 1e3);
  if (straight !== 0) return straight > 0;
  const north = Math.round((a.place.atM[1] - b.place.atM[1]) * 1e4);
  return north !== 0 ? north < 0 : a.place.atM[0] < b.place.atM[0];
}

/** Bearing of a direction, degrees clockwise from grid north. */
export function bearingDeg([de, dn]: PointM): number {
  return ((Math.atan2(de, dn) * 180) / Math.PI + 360) % 360;
}

function chainagesOf(ring: RingM): Float64Array {
  const n = ring.length >> 1;
  const chainages = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    chainages[i + 1] =
      chainages[i]! + Math.hypot(ring[2 * j]! - ring[2 * i]!, ring[2 * j + 1]! - ring[2 * i + 1]!);
  }
  return chainages;
}

/** Where the wire, with the lawn on its left, turns right. */
function concaveCorners(ring: RingM, chainages: Float64Array): number[] {
  const n = ring.length >> 1;
  const found: number[] = [];
  const sine = Math.sin((CORNER_DEG * Math.PI) / 180);
  for (let i = 0; i < n; i++) {
    const [ae, an] = vertexAt(ring, (i + n - 1) % n);
    const [be, bn] = vertexAt(ring, i);
    const [ce, cn] = vertexAt(ring, (i + 1) % n);
    const [ue, un, ve, vn] = [be - ae, bn - an, ce - be, cn - bn];
    const size = Math.hypot(ue, un) * Math.hypot(ve, vn);
    const turn = ue * vn - un * ve;
    const back = ue * ve + un * vn < 0;
    if (turn < 0 && (back || -turn > sine * size)) found.push(chainages[i]!);
  }
  return found;
}

/** Slope of the plane under the station, and how much lower it lies than the ground round it. */
function groundAt(
  heightAt: (e: number, n: number) => number,
  [e, n]: PointM,
  [de, dn]: PointM,
): { slopePercent: number | undefined; hollowM: number | undefined } {
  const at = (along: number, ahead: number) =>
    heightAt(e + along * de - ahead * dn, n + along * dn + ahead * de);
  const riseAlong = (at(BASE_M, BASE_M) - at(-BASE_M, BASE_M)) / (2 * BASE_M);
  const riseAhead = (at(0, 2 * BASE_M) - at(0, 0)) / (2 * BASE_M);
  const slope = 100 * Math.hypot(riseAlong, riseAhead);
  const hereM = heightAt(e, n);
  let [sum, known] = [0, 0];
  for (let k = 0; k < 8; k++) {
    const angle = (k * Math.PI) / 4;
    const z = at(HOLLOW_ROUND_M * Math.cos(angle), HOLLOW_ROUND_M * Math.sin(angle));
    if (Number.isNaN(z)) continue;
    sum += z;
    known++;
  }
  const isKnown = !Number.isNaN(slope) && !Number.isNaN(hereM);
  return {
    slopePercent: isKnown ? slope : undefined,
    // Half a ring says nothing on a slope.
    hollowM: isKnown && known === 8 ? Math.max(0, sum / 8 - hereM) : undefined,
  };
}
