/**
 * Which manners of dividing are tried for a number of loops, and in what order.
 *
 * Even lawn first: the machines' days are then alike. Where one loop has too much wire, islands count
 * as more lawn than they take, so that loops with many islands become smaller: by more as long as
 * wire is what is broken, by less when it is area or the spread of the loads. Then other first cuts.
 */
import type { Manner } from "./divide.ts";

/** A limit of a loop, the spread of the loads of all, or cuts that cannot be made. */
export type BreachLimit = "area" | "wire" | "loads" | "cut";

/** The limit that a division with too few loops breaks worst. */
export interface Breach {
  readonly loops: number;
  readonly limit: BreachLimit;
  /** Lawn, m², or wire, metres, of the worst loop; of loads, the greatest over the least. */
  readonly value: number;
  /** Value over what is allowed. */
  readonly ratio: number;
}

/** What a division comes to: each value over what is allowed, the worst of its loops. */
export interface Shares {
  readonly area: number;
  readonly wire: number;
  readonly loads: number;
}

/** Other first cuts tried where a limit is broken by little. */
const OTHER_FIRST_CUTS = 4;
const OTHERS_HELP = 1.04;
/** With so few loops they are tried up to a greater breach. */
const FEW_LOOPS = 8;
const LITTLE_TOO_MUCH = 1.3;
/** Sides may be off their share by this in all, for better places of the cuts. */
const SLACK_IN_ALL = 0.04;
/** Tries to even out the wire round islands too, for one number of loops. */
const EVENING_TRIES = 4;
/** Wire over its limit by more than this where lawn is nearly as uneven as may be: no use to go on. */
const HOPELESS = 1.06;
const NEARLY = 0.95;
/** How much of it is evened out at first: 1 as much as a loop's wire varies with its lawn. */
const EVENED_FIRST = 0.04;
/** Aimed at: so much of what area and loads may be. */
const AIM = 0.985;
/** Loads of a division into even lawn: greatest over least. Areas: greatest over mean. */
const EVEN_LOADS = 1.04;
const EVEN_AREAS = 1.02;
/** Shares nearer to each other than this are the same. */
const SAME = 1.05;
/** Even lawn alone is not tried where a loop fewer broke the wire's limit by more than this. */
const EVEN_LAWN_FAR_OFF = 1.1;

/** What is carried from the tries for one number of loops to those for the next. */
export interface Learnt {
  /** By how much area and loads grow with the share of wire that is evened out. */
  readonly areaByShare: number;
  readonly loadsByShare: number;
  /** By how much even lawn alone broke the wire's limit. */
  readonly evenLawn: number;
}

/** What is known before the first number of loops. */
export const FIRST_TRY: Learnt = { areaByShare: 0, loadsByShare: 0, evenLawn: 1 };

/** The part that is divided and its limits. */
export interface ToShare {
  readonly lawnM2: number;
  /** Length of the link that ties an island to the next, at a mean, metres. */
  readonly linkM: number;
  readonly areaMaxM2: number;
  /** Greatest load over least, at most. */
  readonly mostSpread: number;
}

/**
 * The manners of dividing into a number of loops, best first: even lawn; then even in lawn and wire,
 * as much of the wire as area and loads allow; then exact shares; then other first cuts.
 */
export class Tries {
  readonly #loops: number;
  readonly #slack: number;
  readonly #perM: number;
  readonly #linkM: number;
  readonly #evenAreas: number;
  readonly #evenLoads: number;
  readonly #queue: Manner[] = [];
  /** Shares of the wire evened out: too little at the one, too much at the other. */
  #low = 0;
  #high = Infinity;
  #learnt: Learnt;
  #evenings = 0;
  #othersTried = false;
  #least = Infinity;
  #bestShare = 0;
  /** Wire too long although lawn is as uneven as it may be: nothing but more loops will do. */
  #stuck = false;

  constructor(loops: number, { lawnM2, linkM, areaMaxM2, mostSpread }: ToShare, learnt: Learnt) {
    this.#loops = loops;
    this.#slack = SLACK_IN_ALL / Math.ceil(Math.log2(loops));
    // Round a square of lawn the wire grows by 2 / side for each square metre.
    this.#perM = Math.sqrt(lawnM2 / loops) / 2;
    this.#linkM = linkM;
    this.#evenAreas = (EVEN_AREAS * lawnM2) / loops / areaMaxM2;
    this.#evenLoads = EVEN_LOADS / mostSpread;
    this.#learnt = learnt;
  }

  get learnt(): Learnt {
    return this.#learnt;
  }

  first(): Manner {
    // Even lawn is not tried again where it was far off with a loop fewer.
    const { evenLawn } = this.#learnt;
    if (evenLawn <= EVEN_LAWN_FAR_OFF) return this.#manner(0);
    this.#learnt = { ...this.#learnt, evenLawn: evenLawn * (1 - 1 / this.#loops) };
    this.#evenings = 1;
    return this.#manner(this.#aim());
  }

  /** @param found what the last try came to; undefined where it could not be cut */
  next(tried: Manner, found: Shares | undefined): Manner | undefined {
    const worst = found ? Math.max(found.area, found.wire, found.loads) : Infinity;
    const share = tried.evened.m2PerWireM / this.#perM;
    if (worst < this.#least) {
      this.#least = worst;
      this.#bestShare = share;
    }
    if (this.#queue.length > 0) return this.#queue.shift();
    if (this.#othersTried) return undefined;
    if (found) this.#learn(share, found);
    const tooMuchWire = found !== undefined && found.wire > 1;
    const worthwhile = this.#linkM > 0 && (this.#evenings > 0 || tooMuchWire) && !this.#stuck;
    const next = this.#between();
    if (worthwhile && next !== undefined && this.#evenings < EVENING_TRIES) {
      this.#evenings++;
      return this.#manner(next);
    }
    this.#othersTried = true;
    if (this.#least > (this.#loops > FEW_LOOPS ? OTHERS_HELP : LITTLE_TOO_MUCH)) return undefined;
    if (this.#bestShare === 0) this.#queue.push(this.#manner(0, 0));
    const areaOnly = found !== undefined && found.wire <= 1 && found.loads <= 1;
    if (this.#bestShare > 0 || !areaOnly)
      for (let skipped = 1; skipped <= OTHER_FIRST_CUTS; skipped++)
        this.#queue.push(this.#manner(this.#bestShare, this.#slack, skipped));
    return this.#queue.shift();
  }

  #learn(share: number, { area, wire, loads }: Shares): void {
    const uneven = Math.max(area, loads);
    if (share === 0) this.#learnt = { ...this.#learnt, evenLawn: Math.max(1, wire) };
    else {
      const areaByShare = Math.max(0, (area - this.#evenAreas) / share);
      const loadsByShare = Math.max(0, (loads - this.#evenLoads) / share);
      this.#learnt = { ...this.#learnt, areaByShare, loadsByShare };
    }
    if (wire > 1) this.#low = Math.max(this.#low, share);
    if (uneven > 1) this.#high = Math.min(this.#high, share);
    if (wire > HOPELESS && uneven > NEARLY) this.#stuck = true;
  }

  /** The share with which area and loads come to what is aimed at. */
  #aim(): number {
    const { areaByShare, loadsByShare } = this.#learnt;
    const most = Math.min(
      areaByShare > 0 ? (AIM - this.#evenAreas) / areaByShare : Infinity,
      loadsByShare > 0 ? (AIM - this.#evenLoads) / loadsByShare : Infinity,
    );
    return most === Infinity ? EVENED_FIRST : Math.max(most, EVENED_FIRST / 2);
  }

  /** The next share to try: what is aimed at, if it lies between what was too little and too much. */
  #between(): number | undefined {
    if (this.#low >= this.#high) return undefined;
    const aim = this.#aim();
    if (aim > this.#low * SAME && aim * SAME < this.#high) return aim;
    if (this.#high === Infinity) return undefined;
    const middle = (this.#low + this.#high) / 2;
    return middle > this.#low * SAME ? middle : undefined;
  }

  #manner(share: number, slack = this.#slack, skipped = 0): Manner {
    const evened = { m2PerWireM: share * this.#perM, linkM: this.#linkM };
    return { loops: this.#loops, evened, slack, skipped };
  }
}
