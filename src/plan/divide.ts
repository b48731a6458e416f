/**
 * Recursive bisection: a piece for n loops is cut by a straight strip, as wide as the spacing
 * between loops, into two that share the n loops by their load, until each is for one. Each cut is
 * made on what earlier ones left, so shares are exact.
 *
 * A sketch does so on outlines of few vertices and opens nothing; a division in earnest takes its
 * cuts from a sketch, each put where the share is the same.
 */
import { type Chord, LineChords, TurnedRings } from "../geometry/line-chords.ts";
import { areaM2, totalAreaM2 } from "../geometry/rings.ts";
import { simplified } from "../geometry/simplified.ts";
import type { AreaM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import { type CutChoice, chordAt, cutChoices, cutDirections, moveTo } from "./cut-choices.ts";
import {
  cutRegion,
  cutRoughly,
  type Evened,
  type Halves,
  holeWorthM2,
  type Region,
  regionOf,
  STRIP_ALLOWANCE_M,
} from "./cut-region.ts";

/** How a part is divided. */
export interface Manner {
  readonly loops: number;
  readonly evened: Evened;
  /** How far sides may be off their share for better places, as a share. */
  readonly slack: number;
  /** Best first cuts passed over. */
  readonly skipped: number;
}

/** A cut by its place: which line, which of its chords, and how much of the load lies below it. */
interface CutPlace {
  readonly angle: number;
  readonly levelM: number;
  readonly fromM: number;
  readonly toM: number;
  readonly share: number;
  readonly loopsBelow: number;
}

/** Cuts by the piece that they divide: the way there from the whole, `b` below and `a` above a cut. */
type CutPlaces = ReadonlyMap<string, CutPlace>;

export interface Division {
  readonly regions: readonly Region[];
  readonly pieces: readonly AreaM[];
  readonly strips: readonly AreaM[];
  readonly lost: readonly AreaM[];
  readonly cuts: CutPlaces;
}

/** What all divisions of one part share: the directions of cuts, and what was reckoned for them. */
export class Directions {
  readonly angles: readonly number[];
  readonly turned = new TurnedRings();
  /** First cuts of the last number of loops, by how they were looked for. */
  #first = new Map<string, CutChoice[]>();
  #loops = 0;

  constructor(part: AreaM) {
    this.angles = cutDirections(part);
  }

  /** First cuts of sketches that differ only in which of them they take: looked for once. */
  firstCuts({ loops, evened, slack }: Manner, look: () => CutChoice[]): CutChoice[] {
    if (loops !== this.#loops) this.#first = new Map();
    this.#loops = loops;
    const key = `${evened.m2PerWireM} ${slack}`;
    const choices = this.#first.get(key) ?? look();
    this.#first.set(key, choices);
    return choices;
  }
}

/** How far outlines for looking for cuts may be off, metres. */
export const ROUGH_M = 0.1;
/** Cuts tried in earnest for one piece, at most. */
const CUTS_TRIED = 14;
/** Cuts tried in a sketch for one piece, at most. */
const CUTS_SKETCHED = 5;
/** A side further off its share than this is put right by a second cut, as a share. */
const OFF_SHARE = 0.003;
/** Pieces that fall off and are less than this share of a loop's lawn are left out. */
const LEAST_LOOP_SHARE = 0.2;
/** A cut that leaves or misses no more than this share of a loop's lawn is clean. */
const CLEAN = 0.01;
/** A cut moves aside in steps of this, so often at most, metres. */
const ASIDE_M = 0.01;
const ASIDE_STEPS = 20;

/** A division in the rough, of outlines of few vertices. */
export function sketch(
  whole: Region,
  manner: Manner,
  directions: Directions,
  profile: Profile,
): Division | undefined {
  return divided(whole, manner, directions, profile, undefined);
}

/**
 * A division in earnest.
 *
 * @param cuts those of a sketch; where one is no clean cut, others are looked for
 */
export function divide(
  whole: Region,
  manner: Manner,
  directions: Directions,
  cuts: CutPlaces,
  profile: Profile,
): Division | undefined {
  return divided(whole, manner, directions, profile, cuts);
}

function divided(
  whole: Region,
  manner: Manner,
  directions: Directions,
  profile: Profile,
  sketched: CutPlaces | undefined,
): Division | undefined {
  const { loops, evened } = manner;
  const regions: Region[] = [];
  const strips: AreaM[] = [];
  const lost: AreaM[] = [];
  const cuts = new Map<string, CutPlace>();
  const meanM2 = whole.lawnM2 / loops;
  const work: { region: Region; loops: number; way: string }[] = [
    { region: whole, loops, way: "" },
  ];
  while (work.length > 0) {
    const { region, loops: share, way } = work.pop()!;
    if (share === 1) {
      regions.push(region);
      continue;
    }
    const cutter = new Cutter(region, share, meanM2, manner, directions, profile);
    const isFirst = region === whole;
    const cut = sketched
      ? cutter.inEarnest(isFirst ? manner.skipped : 0, sketched.get(way))
      : cutter.inTheRough(isFirst);
    if (!cut) return undefined;
    const { halves, place } = cut;
    cuts.set(way, place);
    strips.push(...halves.strips);
    lost.push(...halves.narrow);
    for (const area of halves.fallen) {
      if (areaM2(area) < LEAST_LOOP_SHARE * meanM2) lost.push(area);
      else {
        const alone = regionOf(area, region.standing, evened);
        work.push({ region: alone, loops: 1, way: "" });
      }
    }
    work.push({ region: halves.above, loops: share - place.loopsBelow, way: `${way}a` });
    work.push({ region: halves.below, loops: place.loopsBelow, way: `${way}b` });
  }
  return { regions, pieces: regions.map((one) => one.area), strips, lost, cuts };
}

interface Cut {
  readonly halves: Halves;
  readonly place: CutPlace;
}

/** Looks for the first clean cut of a piece, or the one that leaves least behind. */
class Cutter {
  readonly #region: Region;
  readonly #loops: number;
  readonly #meanM2: number;
  readonly #manner: Manner;
  readonly #directions: Directions;
  readonly #profile: Profile;
  readonly #taken: readonly RingM[];
  readonly #worthM2: (hole: RingM) => number;
  /** Exact sweeps by their angles. */
  readonly #sweeps = new Map<number, LineChords>();
  #best: (Cut & { readonly fault: number }) | undefined;

  constructor(
    region: Region,
    loops: number,
    meanM2: number,
    manner: Manner,
    directions: Directions,
    profile: Profile,
  ) {
    this.#directions = directions;
    this.#region = region;
    this.#loops = loops;
    this.#meanM2 = meanM2;
    this.#manner = manner;
    this.#profile = profile;
    this.#taken = region.standing.map((thing) => thing.area.shell);
    const worth = new Map<RingM, number>();
    this.#worthM2 = (hole) => {
      const known = worth.get(hole) ?? holeWorthM2(hole, manner.evened);
      worth.set(hole, known);
      return known;
    };
  }

  inTheRough(isFirst: boolean): Cut | undefined {
    const { evened, skipped } = this.#manner;
    const look = (): CutChoice[] => this.#choices(this.#region.area);
    const choices = isFirst
      ? this.#directions.firstCuts(this.#manner, look).slice(skipped)
      : look();
    for (const choice of choices.slice(0, CUTS_SKETCHED)) {
      const { sweep, chord } = choice;
      const halves = cutRoughly(this.#region, sweep, chord, evened, this.#profile);
      if (this.#offer(halves, placeOf(choice))) break;
    }
    return this.#best;
  }

  inEarnest(skip: number, sketched: CutPlace | undefined): Cut | undefined {
    if (sketched && this.#offer(this.#exactCut(sketched), sketched)) return this.#best;
    const choices = this.#choices(simplified(this.#region.area, ROUGH_M));
    for (const choice of choices.slice(skip, skip + CUTS_TRIED)) {
      const place = placeOf(choice);
      if (this.#offer(this.#exactCut(place), place)) break;
    }
    return this.#best;
  }

  #choices(area: AreaM): CutChoice[] {
    const wish = {
      loops: this.#loops,
      stripM: this.#profile.loop.spacingM,
      driveMinM: this.#profile.passage.driveMinM,
      slack: this.#manner.slack,
      worthM2: this.#worthM2,
      directions: this.#directions.angles,
      turned: this.#directions.turned,
    };
    return cutChoices(area, this.#taken, wish);
  }

  /** Keeps a cut if it is the best so far; true if it is clean. */
  #offer(halves: Halves | undefined, place: CutPlace): boolean {
    if (!halves) return false;
    const left = totalAreaM2([...halves.fallen, ...halves.narrow]) / this.#meanM2;
    const off = offShare(halves, place.loopsBelow, this.#loops) - this.#manner.slack;
    const fault = left + Math.max(0, off);
    if (!this.#best || fault < this.#best.fault - 1e-6) this.#best = { halves, place, fault };
    return fault < CLEAN;
  }

  /** Cuts, and cuts again a little aside where the opening took more from one side. */
  #exactCut(place: CutPlace): Halves | undefined {
    const { evened, slack } = this.#manner;
    const { loopsBelow } = place;
    const { spacingM } = this.#profile.loop;
    const sweep = this.#sweep(place.angle);
    const like: Chord = { ...place, fromEdge: 0, toEdge: 0, belowM2: 0, lengthM: 0 };
    const there = chordAt(sweep, like, place.levelM);
    if (!there) return undefined;
    const total = sweep.totalM2;
    const smaller = (Math.min(loopsBelow, this.#loops - loopsBelow) / this.#loops) * total;
    const chord = moveTo(sweep, there, place.share * total, 1e-4 * smaller);
    const cutAt = (at: Chord): Halves | undefined =>
      cutRegion(this.#region, sweep, offVertices(sweep, at, spacingM), evened, this.#profile);
    const first = cutAt(chord);
    const offBy = (halves: Halves): number => offShare(halves, loopsBelow, this.#loops);
    if (!first || offBy(first) <= slack + OFF_SHARE) return first;
    const { below, above } = first;
    const wanted = ((below.loadM2 + above.loadM2) * loopsBelow) / this.#loops;
    const second = cutAt(moveTo(sweep, chord, chord.belowM2 + wanted - below.loadM2, 0.01));
    return second && offBy(second) < offBy(first) ? second : first;
  }

  #sweep(angle: number): LineChords {
    let sweep = this.#sweeps.get(angle);
    if (!sweep) {
      const { turned } = this.#directions;
      sweep = new LineChords(this.#region.area, this.#taken, angle, this.#worthM2, turned);
      this.#sweeps.set(angle, sweep);
    }
    return sweep;
  }
}

function placeOf({ sweep, chord, loopsBelow }: CutChoice): CutPlace {
  const { levelM, fromM, toM } = chord;
  return {
    angle: sweep.angle,
    levelM,
    fromM,
    toM,
    share: chord.belowM2 / sweep.totalM2,
    loopsBelow,
  };
}

/** The chord a few millimetres aside, where an edge of the strip would pass close by a vertex. */
function offVertices(sweep: LineChords, chord: Chord, stripM: number): Chord {
  const half = stripM / 2 + STRIP_ALLOWANCE_M;
  for (let step = 0; step < 2 * ASIDE_STEPS; step++) {
    const aside = Math.ceil(step / 2) * ASIDE_M * (step % 2 === 0 ? 1 : -1);
    const level = chord.levelM + aside;
    const meets = [level - half, level + half].some((one) => sweep.hasVertexNear(one, ASIDE_M / 2));
    if (!meets) return aside === 0 ? chord : (chordAt(sweep, chord, level) ?? chord);
  }
  return chord;
}

/** How far the loads of the two sides are off their shares, as a share of the smaller. */
function offShare({ below, above }: Halves, loopsBelow: number, loops: number): number {
  const total = below.loadM2 + above.loadM2;
  const smaller = Math.min(loopsBelow, loops - loopsBelow) / loops;
  return Math.abs(below.loadM2 / total - loopsBelow / loops) / smaller;
}
