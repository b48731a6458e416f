/**
 * What is seen from a peg along the ring: how far one straight span can go.
 *
 * A span may leave the vertices that it passes within limits on its right, and on its left not at
 * all. For the directions of a span from one peg each vertex passed is thus two tangents: to a small
 * disc about it (the set-in is kept) and to a wide one (the wander is kept). The directions that hold
 * for all vertices passed so far are a wedge, which only narrows on the way: one pass over the
 * vertices finds it at every edge, and the furthest place at any depth is where wedge, edge moved to
 * that depth and circle of the longest span end. No steps, no search.
 *
 * This is the ordered stabbing of Guibas, Hershberger, Mitchell and Snoeyink, Approximating polygons
 * and subdivisions with minimum-link paths, IJCGA 3 (1993), with one-sided discs and a longest span;
 * the wedge is that of Imai and Iri, Computational-geometric methods for polygonal approximations of
 * a curve, CVGIP 36 (1986) (both from memory).
 */
import { COLLINEAR_M } from "./tidy-ring.ts";
import type { Track } from "./track.ts";
import type { Trials } from "./trials.ts";

export interface ChordFitOptions {
  /** Longest span between neighbouring pegs, metres. */
  readonly spacingM: number;
  /** Furthest from the given ring, to the left, metres. */
  readonly wanderM: number;
}

/** Convex vertices may be cut by this share of the wander. */
const CUT_SHARE = 1 / 3;
/** The track is at most this many times as long as the span that follows it. */
export const TRACK_SHARE = 1.5;
/** Sights keep this much inside the rules, metres, so that a span drawn keeps them after rounding. */
const ROUNDING_M = 1e-8;

/**
 * Whether a span stays on the free side, and leaves no more than allowed: the vertices it passes tell.
 */
export function spanHolds(
  track: Track,
  trials: Trials,
  from: number,
  to: number,
  { spacingM, wanderM }: ChordFitOptions,
): boolean {
  const ae = trials.e(from);
  const an = trials.n(from);
  const de = trials.e(to) - ae;
  const dn = trials.n(to) - an;
  const toAlongM = trials.wholeWayM(to) - trials.lapM(from);
  if (toAlongM - trials.alongM(from) > TRACK_SHARE * spacingM) return false;
  const squared = de * de + dn * dn;
  if (squared > spacingM * spacingM || squared === 0) return false;
  const length = Math.sqrt(squared);
  const over = COLLINEAR_M * length;
  const under = -wanderM * length;
  const cut = CUT_SHARE * under;
  for (let i = trials.edge(from) + 1; track.along[i]! < toAlongM; i++) {
    const left = de * (track.north[i]! - an) - dn * (track.e[i]! - ae);
    if (left > over || left < (track.convex[i] ? cut : under)) return false;
  }
  return true;
}

/** The furthest places found so far, one for each depth of the band. */
export interface Foremost {
  readonly depthsM: readonly number[];
  /** First and last place where a peg may stand, along the track. */
  readonly lowM: readonly number[];
  readonly highM: readonly number[];
  /** Furthest place seen, laps included; minus infinity: none yet. */
  readonly wayM: number[];
  /** The edge it is beside, and the peg it is seen from. */
  readonly edge: number[];
  readonly from: number[];
}

/** A span goes on by this much at least, metres. */
const LEAST_SPAN_M = 0.0125;

/** What one peg after another sees; the arrays are used again and again. */
export class Sight {
  readonly #track: Track;
  readonly #wanderM: number;
  readonly #cutM: number;
  /** Right and left end of the wedge on each edge, from the peg's own on; zero: no end yet. */
  #wedges: Float64Array = new Float64Array(4 * 128);
  /** For each depth: places up to here, in the lap of the peg looked from, are of no interest. */
  readonly #knownM: number[] = [];

  constructor(track: Track, wanderM: number) {
    this.#track = track;
    this.#wanderM = wanderM - ROUNDING_M;
    this.#cutM = CUT_SHARE * wanderM - ROUNDING_M;
  }

  /** Puts the furthest places that a peg sees in, where they are further than those known. */
  look(trials: Trials, from: number, spacingM: number, foremost: Foremost): void {
    const spanM = spacingM - ROUNDING_M;
    const last = this.#lastEdge(trials, from, spanM);
    const first = trials.edge(from);
    const { lowM, wayM } = foremost;
    const lapM = trials.lapM(from);
    const leastM = trials.alongM(from) + LEAST_SPAN_M;
    const known = this.#knownM;
    for (let d = 0; d < wayM.length; d++) {
      known[d] = Math.max(leastM, lowM[d]!, wayM[d]! - lapM + 1e-9);
    }
    for (let i = last; i >= first; i--) {
      if (!this.#lookBeside(i, first, trials, from, spanM, foremost)) return;
    }
  }

  /** Narrows the wedge along the track; the last edge on which anything is in sight. */
  #lastEdge(trials: Trials, from: number, spanM: number): number {
    const { e, north, along, convex } = this.#track;
    const pe = trials.e(from);
    const pn = trials.n(from);
    const over = COLLINEAR_M - ROUNDING_M;
    const wander = this.#wanderM;
    const cut = this.#cutM;
    const farM = spanM + wander;
    const endM = trials.alongM(from) + TRACK_SHARE * spanM;
    const first = trials.edge(from);
    let wedges = this.#wedges;
    let re = 0;
    let rn = 0;
    let le = 0;
    let ln = 0;
    for (let i = first; ; ) {
      const k = 4 * (i - first);
      if (k === wedges.length) wedges = this.#longer();
      wedges[k] = re;
      wedges[k + 1] = rn;
      wedges[k + 2] = le;
      wedges[k + 3] = ln;
      i++;
      if (i + 1 >= e.length || along[i]! > endM) return i - 1;
      const ve = e[i]! - pe;
      const vn = north[i]! - pn;
      const squared = ve * ve + vn * vn;
      if (squared > farM * farM) return i - 1;
      // Tangents: the way to the vertex, turned by the angle at which its disc appears.
      if (squared > over * over) {
        const root = Math.sqrt(squared - over * over);
        const te = ve * root + vn * over;
        const tn = vn * root - ve * over;
        if (re * tn - rn * te >= 0) {
          re = te;
          rn = tn;
        }
      }
      const under = convex[i] ? cut : wander;
      if (squared > under * under) {
        const root = Math.sqrt(squared - under * under);
        const te = ve * root - vn * under;
        const tn = vn * root + ve * under;
        if (le * tn - ln * te <= 0) {
          le = te;
          ln = tn;
        }
      }
      if (re * ln - rn * le < 0) return i - 1;
    }
  }

  #longer(): Float64Array {
    const longer = new Float64Array(2 * this.#wedges.length);
    longer.set(this.#wedges);
    this.#wedges = longer;
    return longer;
  }

  /**
   * Puts the furthest places in sight beside an edge in: where wedge, edge moved to a depth and circle
   * of the longest span end.
   *
   * @returns whether anything further than what is known may yet lie beside an earlier edge
   */
  #lookBeside(
    i: number,
    first: number,
    trials: Trials,
    from: number,
    spanM: number,
    { depthsM, highM, wayM, edge, from: seenFrom }: Foremost,
  ): boolean {
    const track = this.#track;
    const { e, north, along, de, dn } = track;
    const known = this.#knownM;
    const start = along[i]!;
    const end = along[i + 1]!;
    const ue = de[i]!;
    const un = dn[i]!;
    const ve = e[i]! - trials.e(from);
    const vn = north[i]! - trials.n(from);
    // Beside the edge at depth d and t along it: v + t u + d w, with w to the left of u.
    const half = ve * ue + vn * un;
    const aside = vn * ue - ve * un;
    const k = 4 * (i - first);
    const re = this.#wedges[k]!;
    const rn = this.#wedges[k + 1]!;
    const le = this.#wedges[k + 2]!;
    const ln = this.#wedges[k + 3]!;
    const gainRight = re * un - rn * ue;
    const gainLeft = le * un - ln * ue;
    let isOpen = false;
    for (let d = 0; d < depthsM.length; d++) {
      const low = known[d]!;
      if (end <= low) continue;
      isOpen = true;
      if (start > highM[d]!) continue;
      const depthM = depthsM[d]!;
      // Within the circle of the longest span.
      const under = spanM * spanM - (aside + depthM) * (aside + depthM);
      if (under < 0) continue;
      const root = Math.sqrt(under);
      let least = Math.max(low - start, 0, -half - root);
      let most = Math.min(highM[d]! - start, end - start, root - half);
      // Left of the wedge's right end, right of its left end.
      const overRight = re * vn - rn * ve + depthM * (re * ue + rn * un);
      if (gainRight > 0) least = Math.max(least, -overRight / gainRight);
      else if (gainRight < 0) most = Math.min(most, -overRight / gainRight);
      else if (overRight < 0) continue;
      const overLeft = le * vn - ln * ve + depthM * (le * ue + ln * un);
      if (gainLeft > 0) most = Math.min(most, -overLeft / gainLeft);
      else if (gainLeft < 0) least = Math.max(least, -overLeft / gainLeft);
      else if (overLeft > 0) continue;
      if (most > least && !track.isClear(i, depthM)) most = track.freeUpTo(i, depthM, most);
      if (most <= least) continue;
      known[d] = Infinity;
      wayM[d] = trials.lapM(from) + start + most;
      edge[d] = i;
      seenFrom[d] = from;
    }
    return isOpen;
  }
}
