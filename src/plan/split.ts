/**
 * Divides a part that is more than one loop may have into the fewest loops of like load.
 *
 * For each number of loops from the bound on, sketches are made in several manners. Where a sketch
 * keeps the limits, or nearly, the division is made in earnest; if a loop of it breaks a limit after
 * all, the next manner is tried, then more loops. Where loads within the spread that is asked for
 * take many more loops than the limits do, or cannot be had, loads are let be.
 */
import { simplified } from "../geometry/simplified.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import { type Region, regionOf, type Standing } from "./cut-region.ts";
import { Directions, type Division, divide, type Manner, ROUGH_M, sketch } from "./divide.ts";
import {
  type Load,
  type LoopBound,
  lawnKeptM2,
  loadOf,
  loopBound,
  meanLinkM,
  ringsM,
  roughLoad,
} from "./split-bound.ts";
import { type Breach, FIRST_TRY, type Learnt, type Shares, Tries } from "./split-tries.ts";

/** A part divided. */
export interface Split {
  /** One piece a loop, neighbours near each other in the list. */
  readonly pieces: readonly AreaM[];
  /** Ground between their wires. */
  readonly strips: readonly AreaM[];
  /** What the cuts made too narrow or too small. */
  readonly lost: readonly AreaM[];
  readonly bound: LoopBound;
  /** Lawn and wire of the part as one loop. */
  readonly lawnM2: number;
  readonly wireM: number;
  /** Whether loops with many islands hold less lawn, so that their wire is not too long. */
  readonly wireEvened: boolean;
  /** Greatest load over least, by the outlines. */
  readonly spread: number;
  /** Why more loops than the bound are needed; what one fewer would break. */
  readonly more?: Breach;
}

const ROUNDS = 30;
/** Links in pieces of a sketch are measured from this share of the wire's limit on. */
const MEASURED_FROM = 0.85;
/** A sketch of few loops that is over a limit by no more than this may keep it in earnest. */
const SKETCH_MARGIN: Shares = { area: 1.005, wire: 1.02, loads: 1.01 };
/** Other cuts are looked for in a sketch where a loop comes nearer to a limit than this in earnest. */
const SKETCH_SPARE = 1.01;
/** With so many loops one of the next sketches will do: none is tried in earnest that breaks a limit. */
const MANY_LOOPS = 16;
/** By how much the worst loop of a division may be worse than that of a luckier one. */
const LUCK = 1.05;
/** Loads are evened out by at most so many more loops than the limits alone take, as a share. */
const MORE_FOR_LOADS = 0.3;
/** Loads are reckoned by outlines; by wire as it will lie they are apart a little further. */
const LOADS_MARGIN = 0.02;

/** How lawn is shared out between the loops of a part. */
export interface Sharing {
  /** How much more lawn the largest loop of a part may have than the smallest, as a share. */
  readonly loadsWithin: number;
}

/**
 * @param standing firm things free on the lawn; those near a cut are shut out
 * @param known what a division breaks that was tried before; more loops than that are made
 * @returns undefined when the part is within the limits, or cannot be cut
 */
export function splitPart(
  part: AreaM,
  standing: readonly Standing[],
  profile: Profile,
  { loadsWithin }: Sharing,
  known?: Breach,
): Split | undefined {
  const { lawnM2 } = regionOf(part, standing, { m2PerWireM: 0, linkM: 0 });
  const { wireM, worst } = loadOf(part, lawnM2, profile);
  if (!known && worst <= 1) return undefined;
  const divider = new Divider(part, standing, lawnM2, profile);
  const bound = loopBound(part, lawnM2, profile);
  const least = Math.max(bound.byArea, bound.byWire);
  const first = Math.max(2, least, (known?.loops ?? 0) + 1);
  const ratio = wireM / profile.loop.lengthMaxM;
  const alone: Breach = { loops: 1, limit: "wire", value: wireM, ratio };
  const before = known ?? (first > least ? alone : undefined);
  const made =
    divider.fewest(first, before, 1 + loadsWithin * (1 - LOADS_MARGIN)) ??
    divider.fewest(divider.keptFrom ?? first, before, Infinity) ??
    divider.nearest();
  if (!made) return undefined;
  const { division, wireEvened, more } = made;
  const lawns = division.regions.map((one) => one.lawnM2);
  const spread = Math.max(...lawns) / Math.min(...lawns);
  return { ...division, bound, lawnM2, wireM, wireEvened, spread, ...(more && { more }) };
}

/** A division in earnest, what it comes to, and what fewer loops broke. */
interface Made {
  readonly division: Division;
  readonly wireEvened: boolean;
  readonly shares: Shares;
  readonly more: Breach | undefined;
}

/** Looks for divisions of one part. */
class Divider {
  /** Fewest loops with which a sketch kept all limits but the loads'. */
  keptFrom: number | undefined;
  readonly #part: AreaM;
  readonly #few: AreaM;
  readonly #standing: readonly Standing[];
  readonly #lawnM2: number;
  readonly #profile: Profile;
  readonly #directions: Directions;
  readonly #linkM: number;
  readonly #tried = new Map<string, Shares | undefined>();
  /** The division in earnest that breaks least, and the sketch that does where none is made. */
  #best: Made | undefined;
  #nearest: { manner: Manner; cuts: Division["cuts"]; worst: number } | undefined;

  constructor(part: AreaM, standing: readonly Standing[], lawnM2: number, profile: Profile) {
    this.#part = part;
    this.#few = simplified(part, ROUGH_M);
    this.#standing = standing;
    this.#lawnM2 = lawnM2;
    this.#profile = profile;
    this.#directions = new Directions(part);
    this.#linkM = meanLinkM(this.#few);
  }

  /**
   * The first division that keeps all limits.
   *
   * @param before what fewer loops break
   * @param mostSpread greatest load over least, at most
   */
  fewest(first: number, before: Breach | undefined, mostSpread: number): Made | undefined {
    const { areaMaxM2 } = this.#profile.loop;
    const toShare = { lawnM2: this.#lawnM2, linkM: this.#linkM, areaMaxM2 };
    let learnt: Learnt = FIRST_TRY;
    let loops = first;
    let more = before;
    for (let round = 0; round < ROUNDS; round++) {
      if (mostSpread < Infinity && this.keptFrom !== undefined)
        if (loops > Math.ceil(this.keptFrom * (1 + MORE_FOR_LOADS)) + 1) return undefined;
      const tries = new Tries(loops, { ...toShare, mostSpread }, learnt);
      let least: Breach | undefined;
      for (let manner: Manner | undefined = tries.first(); manner; ) {
        const { shares, made } = this.#attempt(manner, mostSpread, more);
        if (made && shares && worstOf(shares) <= 1) return made;
        const breach = this.#breachOf(shares, loops, mostSpread);
        if (!least || least.limit === "cut" || breach.ratio < least.ratio) least = breach;
        manner = tries.next(manner, shares);
      }
      learnt = tries.learnt;
      more = least!;
      // Wire of a loop falls no faster than its lawn: fewer than this will hardly do.
      loops += Math.max(1, Math.floor((more.ratio / LUCK - 1) * loops));
    }
    return undefined;
  }

  /** What breaks least, where nothing keeps the limits. */
  nearest(): Made | undefined {
    if (this.#best) return this.#best;
    return this.#nearest && this.#inEarnest(this.#nearest.manner, this.#nearest.cuts, Infinity);
  }

  #attempt(
    manner: Manner,
    mostSpread: number,
    more: Breach | undefined,
  ): { shares: Shares | undefined; made?: Made } {
    const key = `${manner.loops} ${manner.evened.m2PerWireM} ${manner.slack} ${manner.skipped} ${mostSpread}`;
    if (this.#tried.has(key)) return { shares: this.#tried.get(key) };
    const whole = regionOf(this.#few, this.#standing, manner.evened);
    const loadIn = reckonedOnce((one) => this.#roughLoad(one));
    const over = (region: Region): number => loadIn(region).worst * SKETCH_SPARE;
    const drawn = sketch(whole, manner, this.#directions, this.#profile, over);
    const rough = drawn && this.#shares(drawn, mostSpread, loadIn);
    this.#tried.set(key, rough);
    if (drawn && rough) {
      const limits = Math.max(rough.area, rough.wire);
      if (limits <= 1) this.keptFrom = Math.min(this.keptFrom ?? Infinity, manner.loops);
      const limitsOf = ["area", "wire", "loads"] as const;
      const most = (limit: keyof Shares): number =>
        manner.loops < MANY_LOOPS ? SKETCH_MARGIN[limit] : 1;
      if (limitsOf.some((limit) => rough[limit] > most(limit))) {
        if (!this.#nearest || limits < this.#nearest.worst)
          this.#nearest = { manner, cuts: drawn.cuts, worst: limits };
        return { shares: rough };
      }
    }
    // Outlines that cannot be cut in the rough may be cut as they are.
    const made = this.#inEarnest(manner, drawn?.cuts ?? new Map(), mostSpread, more);
    return made ? { shares: made.shares, made } : { shares: undefined };
  }

  #inEarnest(
    manner: Manner,
    cuts: Division["cuts"],
    mostSpread: number,
    more?: Breach,
  ): Made | undefined {
    const whole = regionOf(this.#part, this.#standing, manner.evened);
    const loadIn = reckonedOnce(({ area, lawnM2 }) => loadOf(area, lawnM2, this.#profile));
    const over = (region: Region): number => loadIn(region).worst;
    const division = divide(whole, manner, this.#directions, cuts, this.#profile, over);
    if (!division) return undefined;
    const wireEvened = manner.evened.m2PerWireM > 0;
    const shares = this.#shares(division, mostSpread, loadIn);
    const made: Made = { division, wireEvened, shares, more };
    const limits = ({ area, wire }: Shares): number => Math.max(area, wire);
    if (!this.#best || limits(shares) < limits(this.#best.shares)) this.#best = made;
    return made;
  }

  /**
   * What the outline of a sketch's piece comes to. The links between islands are measured where its
   * rings and a mean link for each island come near the limit.
   */
  #roughLoad({ area, lawnM2 }: Region): Load {
    const { lengthMaxM, areaMaxM2 } = this.#profile.loop;
    const wireM = ringsM(area) + 2 * this.#linkM * area.holes.length;
    if (wireM > MEASURED_FROM * lengthMaxM) return roughLoad(area, lawnM2, this.#profile);
    const kept = lawnKeptM2(area, lawnM2, this.#profile);
    return { lawnM2: kept, wireM, worst: Math.max(kept / areaMaxM2, wireM / lengthMaxM) };
  }

  #shares({ regions }: Division, mostSpread: number, loadIn: (region: Region) => Load): Shares {
    const { lengthMaxM, areaMaxM2 } = this.#profile.loop;
    const loads = regions.map(loadIn);
    return {
      area: Math.max(...loads.map((one) => one.lawnM2)) / areaMaxM2,
      wire: Math.max(...loads.map((one) => one.wireM)) / lengthMaxM,
      loads: spreadOf(loads) / mostSpread,
    };
  }

  /** The limit that is broken worst, in the values of the profile. */
  #breachOf(shares: Shares | undefined, loops: number, mostSpread: number): Breach {
    if (!shares) return { loops, limit: "cut", value: 0, ratio: 1 };
    const { area, wire, loads } = shares;
    const { lengthMaxM, areaMaxM2 } = this.#profile.loop;
    const ratio = worstOf(shares);
    if (ratio === wire) return { loops, limit: "wire", value: wire * lengthMaxM, ratio };
    if (ratio === area) return { loops, limit: "area", value: area * areaMaxM2, ratio };
    return { loops, limit: "loads", value: loads * mostSpread, ratio };
  }
}

function worstOf({ area, wire, loads }: Shares): number {
  return Math.max(area, wire, loads);
}

/** Most lawn of a loop over the least. */
function spreadOf(regions: readonly { readonly lawnM2: number }[]): number {
  const lawns = regions.map((one) => one.lawnM2);
  return Math.max(...lawns) / Math.min(...lawns);
}

function reckonedOnce(reckon: (region: Region) => Load): (region: Region) => Load {
  const known = new Map<Region, Load>();
  return (region) => {
    const load = known.get(region) ?? reckon(region);
    known.set(region, load);
    return load;
  };
}
