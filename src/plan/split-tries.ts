/**
 * Which manners of dividing are tried for a number of loops, and in what order.
 *
 * Even lawn first: the machines' days are then alike. Where one loop has too much wire, islands count
 * as more lawn than they take, so that loops with many islands become smaller: by more as long as
 * wire is what is broken, by less when area is. Then exact shares, and other first cuts.
 */
import type { Manner } from "./divide.ts";

/** The limit that a division with too few loops breaks worst. */
export interface Breach {
  readonly loops: number;
  readonly limit: "area" | "wire" | "cut";
  /** Lawn, m², or wire, metres, of the worst loop. */
  readonly value: number;
  /** Value over what is allowed. */
  readonly ratio: number;
}

/** Other first cuts tried where a limit is broken by little. */
const OTHER_FIRST_CUTS = 5;
const OTHERS_HELP = 1.05;
/** With so few loops they are tried up to a greater breach. */
const FEW_LOOPS = 8;
const LITTLE_TOO_MUCH = 1.3;
/** Sides may be off their share by this in all, for better places of the cuts. */
const SLACK_IN_ALL = 0.04;
/** Tries to even out the wire round islands too, for one number of loops. */
const EVENING_TRIES = 4;
/** With a breach of more than this so many tries are enough to see that more loops are needed. */
const HOPELESS = 1.08;
const HOPELESS_TRIES = 2;
/** How much of it is evened out at first: 1 as much as a loop's wire varies with its lawn. */
const EVENED_FIRST = 0.12;
/** So much more or less of it is tried as long as only one limit is broken. */
const EVENED_STEP = 1.6;
/** Even lawn alone is not tried where a loop fewer broke the wire's limit by more than this. */
const EVEN_LAWN_FAR_OFF = 1.1;

/** What is carried from the tries for one number of loops to those for the next. */
export interface Learnt {
  /** How much of the wire was evened out at last. */
  readonly share: number;
  /** By how much even lawn alone broke the wire's limit. */
  readonly evenLawn: number;
}

/** What is known before the first number of loops. */
export const FIRST_TRY: Learnt = { share: EVENED_FIRST, evenLawn: 1 };

/**
 * The manners of dividing into a number of loops, best first: even lawn; then even in lawn and wire,
 * more of one or the other by what is broken; then exact shares; then other first cuts.
 */
export class Tries {
  readonly #loops: number;
  readonly #slack: number;
  readonly #perM: number;
  readonly #linkM: number;
  readonly #queue: Manner[] = [];
  #low = 0;
  #high = Infinity;
  #share: number;
  #evenLawn: number;
  #evenings = 0;
  #least = Infinity;
  #bestShare = 0;

  constructor(loops: number, lawnM2: number, linkM: number, { share, evenLawn }: Learnt) {
    this.#loops = loops;
    this.#slack = SLACK_IN_ALL / Math.ceil(Math.log2(loops));
    // Round a square of lawn the wire grows by 2 / side for each square metre.
    this.#perM = Math.sqrt(lawnM2 / loops) / 2;
    this.#linkM = linkM;
    this.#share = share;
    this.#evenLawn = evenLawn;
  }

  get learnt(): Learnt {
    return { share: this.#share, evenLawn: this.#evenLawn };
  }

  first(): Manner {
    // Even lawn is not tried again where it was far off with a loop fewer.
    if (this.#evenLawn <= EVEN_LAWN_FAR_OFF) return this.#manner(0);
    this.#evenLawn *= 1 - 1 / this.#loops;
    this.#evenings = 1;
    return this.#manner(this.#share);
  }

  /** @param found what the last try broke */
  next(tried: Manner, found: Breach): Manner | undefined {
    if (found.limit !== "cut" && found.ratio < this.#least) {
      this.#least = found.ratio;
      this.#bestShare = tried.evened.m2PerWireM / this.#perM;
    }
    if (this.#queue.length > 0) return this.#queue.shift();
    if (this.#evenings === 0) this.#evenLawn = found.limit === "wire" ? found.ratio : 1;
    else this.#narrow(found);
    const most = this.#least > HOPELESS ? HOPELESS_TRIES : EVENING_TRIES;
    const worthwhile = this.#linkM > 0 && (this.#evenings > 0 || found.limit === "wire");
    if (worthwhile && this.#evenings < most) {
      this.#evenings++;
      return this.#manner(this.#share);
    }
    if (this.#evenings === most + 1) return undefined;
    this.#evenings = most + 1;
    if (this.#least > OTHERS_HELP && this.#loops > FEW_LOOPS) return undefined;
    if (this.#bestShare === 0) this.#queue.push(this.#manner(0, 0));
    if (this.#least < LITTLE_TOO_MUCH && (this.#bestShare > 0 || found.limit === "wire"))
      for (let skipped = 1; skipped <= OTHER_FIRST_CUTS; skipped++)
        this.#queue.push(this.#manner(this.#bestShare, this.#slack, skipped));
    return this.#queue.shift();
  }

  #narrow(found: Breach): void {
    if (found.limit === "area") this.#high = this.#share;
    else this.#low = this.#share;
    this.#share =
      this.#high === Infinity
        ? this.#share * EVENED_STEP
        : Math.max((this.#low + this.#high) / 2, this.#high / EVENED_STEP);
  }

  #manner(share: number, slack = this.#slack, skipped = 0): Manner {
    const evened = { m2PerWireM: share * this.#perM, linkM: this.#linkM };
    return { loops: this.#loops, evened, slack, skipped };
  }
}
