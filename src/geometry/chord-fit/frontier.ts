/**
 * The furthest pegs that a number of spans reaches, one for each depth in the band: the layers of a
 * dynamic programme in which further is better.
 */
import { type ChordFitOptions, type Foremost, type Sight, spanHolds } from "./sight.ts";
import type { Track } from "./track.ts";
import { NONE, type Trials } from "./trials.ts";

/** Depths at which pegs may stand, as shares of the wander; the smallest one clears mere roughness. */
const DEPTH_SHARES = [0, 0.02, 0.125, 0.25, 0.5, 0.75, 1];
/** Pegs keep this far from the end of their stretch, metres. */
const BEFORE_END_M = 1e-6;

/** What every search along one ring works with. */
export interface Workings {
  readonly track: Track;
  readonly trials: Trials;
  readonly sight: Sight;
}

/** Where pegs may stand on a stretch of track. */
export interface Bounds {
  /** Ends of the stretch along the track, metres; infinite on a ring that is gone round and round. */
  readonly startM: number;
  readonly endM: number;
  /** Greatest depth for each metre from an end that is a corner turning left; no limit elsewhere. */
  readonly startTip: number;
  readonly endTip: number;
}

export const ROUND_AND_ROUND: Bounds = {
  startM: -Infinity,
  endM: Infinity,
  startTip: Infinity,
  endTip: Infinity,
};

/** Steps from one layer of foremost pegs to the next. */
export class Frontier {
  readonly #track: Track;
  readonly #trials: Trials;
  readonly #sight: Sight;
  readonly #options: ChordFitOptions;
  readonly #setbacksM: readonly number[];
  readonly #isRound: boolean;
  readonly #foremost: Foremost;

  /** @param setbacksM pegs this far behind the furthest are followed too: what is nearer may see further */
  constructor(
    { track, trials, sight }: Workings,
    options: ChordFitOptions,
    { startM, endM, startTip, endTip }: Bounds,
    setbacksM: readonly number[] = [],
  ) {
    this.#track = track;
    this.#trials = trials;
    this.#sight = sight;
    this.#options = options;
    this.#setbacksM = setbacksM;
    this.#isRound = endM === Infinity;
    const depthsM = DEPTH_SHARES.map((share) => share * options.wanderM);
    this.#foremost = {
      depthsM,
      lowM: depthsM.map((depthM) => startM + depthM / startTip),
      highM: depthsM.map((depthM) => endM - Math.max(BEFORE_END_M, depthM / endTip)),
      wayM: depthsM.map(() => -Infinity),
      edge: depthsM.map(() => NONE),
      from: depthsM.map(() => NONE),
    };
  }

  /** Pegs at every depth beside the first vertex, from which a ring without corners is begun. */
  atStart(): number[] {
    return this.#foremost.depthsM.map((depthM) => {
      const [e, n] = this.#track.beside(0, 0, depthM);
      return this.#trials.add(e, n, 0, 0, depthM, 0, NONE);
    });
  }

  /** The furthest pegs one more span reaches, foremost first; none where the way ends. */
  next(layer: readonly number[]): number[] {
    const trials = this.#trials;
    const { wayM } = this.#foremost;
    for (let d = 0; d < wayM.length; d++) wayM[d] = -Infinity;
    for (const from of layer) {
      this.#sight.look(trials, from, this.#options.spacingM, this.#foremost);
    }
    const found: number[] = [];
    for (let d = 0; d < wayM.length; d++) {
      if (wayM[d]! === -Infinity) continue;
      this.#putIn(found, this.#peg(d, 0));
      for (const setbackM of this.#setbacksM) this.#putIn(found, this.#peg(d, setbackM));
    }
    return found;
  }

  /** Puts a peg into a row where it belongs, foremost first: there are a handful, mostly in order. */
  #putIn(row: number[], peg: number): void {
    if (peg === NONE) return;
    const wayM = this.#trials.wholeWayM(peg);
    let k = row.push(peg) - 1;
    for (; k > 0 && this.#trials.wholeWayM(row[k - 1]!) < wayM; k--) row[k] = row[k - 1]!;
    row[k] = peg;
  }

  /**
   * The furthest peg found at a depth, or one as much behind it, or `NONE` where that is not in sight;
   * past the ring's first vertex a new lap begins.
   */
  #peg(d: number, setbackM: number): number {
    const trials = this.#trials;
    const { along, n, totalM } = this.#track;
    const depthM = this.#foremost.depthsM[d]!;
    const from = this.#foremost.from[d]!;
    let edge = this.#foremost.edge[d]!;
    let lapM = trials.lapM(from);
    let alongM = this.#foremost.wayM[d]! - lapM - setbackM;
    if (alongM <= trials.alongM(from)) return NONE;
    while (along[edge]! > alongM) edge--;
    const [e, north] = this.#track.beside(edge, alongM, depthM);
    if (this.#isRound && edge >= n) {
      alongM -= totalM;
      lapM += totalM;
      edge -= n;
    }
    const peg = trials.add(e, north, alongM, lapM, depthM, edge, from);
    const inSight =
      setbackM === 0 ||
      (this.#track.isClear(edge, depthM) &&
        spanHolds(this.#track, trials, from, peg, this.#options));
    return inSight ? peg : NONE;
  }
}
