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
/** Pieces for no more loops than this are cut in other ways where one of these is over a limit: */
const OTHERS_FOR_LOOPS = { inTheRough: 8, inEarnest: 4 };
/** where it is so by no more than this, */
const OTHERS_HELP = 1.12;
/** so often each, */
const OTHER_CUTS = 4;
/** with so many cuts in all, as a share of the number of loops. */
const OTHERS_SHARE = { inTheRough: 1, inEarnest: 0.5 };
/** Pieces that fall off and are less than this share of a loop's lawn are left out. */
const LEAST_LOOP_SHARE = 0.2;
/** A cut that leaves or misses no more than this share of a loop's lawn is clean. */
const CLEAN = 0.01;
/** A cut moves aside in steps of this, so often at most, metres. */
const ASIDE_M = 0.01;
const ASIDE_STEPS = 20;

/** How far a piece for one loop is over a limit: its share of the worst one. */
export type OverLimit = (piece: Region) => number;

/** A division in the rough, of outlines of few vertices. */
export function sketch(
  whole: Region,
  manner: Manner,
  directions: Directions,
  profile: Profile,
  over: OverLimit,
): Division | undefined {
  return new Bisection(whole, manner, directions, profile, over).divided();
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
  over: OverLimit,
): Division | undefined {
  return new Bisection(whole, manner, directions, profile, over, cuts).divided();
}

/** What became of one piece for some loops. */
interface Branch extends Omit<Division, "cuts"> {
  readonly cuts: readonly (readonly [way: string, place: CutPlace])[];
  /** Share of a limit that its worst loop has. */
  readonly worst: number;
}

/** One division: the first clean cut everywhere, and others where a loop would be over a limit. */
class Bisection {
  readonly #whole: Region;
  readonly #manner: Manner;
  readonly #directions: Directions;
  readonly #profile: Profile;
  readonly #over: OverLimit;
  readonly #sketched: CutPlaces | undefined;
  readonly #meanM2: number;
  readonly #othersFor: number;
  /** Cuts that may still be made in place of others. */
  #cutsLeft: number;

  constructor(
    whole: Region,
    manner: Manner,
    directions: Directions,
    profile: Profile,
    over: OverLimit,
    sketched?: CutPlaces,
  ) {
    this.#whole = whole;
    this.#manner = manner;
    this.#directions = directions;
    this.#profile = profile;
    this.#over = over;
    this.#sketched = sketched;
    this.#meanM2 = whole.lawnM2 / manner.loops;
    const way = sketched ? "inEarnest" : "inTheRough";
    this.#cutsLeft = Math.ceil(OTHERS_SHARE[way] * manner.loops);
    this.#othersFor = OTHERS_FOR_LOOPS[way];
  }

  divided(): Division | undefined {
    const branch = this.#branch(this.#whole, this.#manner.loops, "");
    return branch && { ...branch, cuts: new Map(branch.cuts) };
  }

  /** @param isMended within a piece that is cut in another way already */
  #branch(region: Region, loops: number, way: string, isMended = false): Branch | undefined {
    if (loops === 1) {
      const own = { regions: [region], pieces: [region.area], strips: [], lost: [], cuts: [] };
      return { ...own, worst: this.#over(region) };
    }
    const cutter = new Cutter(
      region,
      loops,
      this.#meanM2,
      this.#manner,
      this.#directions,
      this.#profile,
    );
    const isFirst = region === this.#whole;
    const cuts = this.#sketched
      ? cutter.inEarnest(isFirst ? this.#manner.skipped : 0, this.#sketched.get(way))
      : cutter.inTheRough(isFirst);
    let best: Branch | undefined;
    let others = 0;
    for (const cut of cuts) {
      const branch = this.#below(cut, region, loops, way, isMended || others > 0);
      if (branch && (!best || branch.worst < best.worst)) best = branch;
      // A loop over a limit among many: other cuts round it rather than another division of all.
      if (!best || best.worst <= 1 || best.worst > OTHERS_HELP || isMended) break;
      if (loops > this.#othersFor || others === OTHER_CUTS || this.#cutsLeft < loops) break;
      this.#cutsLeft -= loops - 1;
      others++;
    }
    return best;
  }

  /** What becomes of the sides of a cut, and of what falls off. */
  #below(
    { halves, place }: Cut,
    region: Region,
    loops: number,
    way: string,
    isMended: boolean,
  ): Branch | undefined {
    const loopsAbove = loops - place.loopsBelow;
    const below = this.#branch(halves.below, place.loopsBelow, `${way}b`, isMended);
    const above = below && this.#branch(halves.above, loopsAbove, `${way}a`, isMended);
    if (!above) return undefined;
    const lost = [...halves.narrow];
    const alone: Branch[] = [];
    for (const area of halves.fallen) {
      if (areaM2(area) < LEAST_LOOP_SHARE * this.#meanM2) lost.push(area);
      else alone.push(this.#branch(regionOf(area, region.standing, this.#manner.evened), 1, way)!);
    }
    const all = [below, above, ...alone];
    return {
      regions: all.flatMap((one) => one.regions),
      pieces: all.flatMap((one) => one.pieces),
      strips: [...halves.strips, ...all.flatMap((one) => one.strips)],
      lost: [...lost, ...all.flatMap((one) => one.lost)],
      cuts: [[way, place], ...all.flatMap((one) => one.cuts)],
      worst: Math.max(...all.map((one) => one.worst)),
    };
  }
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

  /** Cuts in the rough: clean ones, or where there is none the one that leaves least behind. */
  *inTheRough(isFirst: boolean): Generator<Cut> {
    const { evened, skipped } = this.#manner;
    const look = (): CutChoice[] => this.#choices(this.#region.area);
    const choices = isFirst
      ? this.#directions.firstCuts(this.#manner, look).slice(skipped)
      : look();
    for (const choice of choices.slice(0, CUTS_SKETCHED)) {
      const { sweep, chord } = choice;
      const halves = cutRoughly(this.#region, sweep, chord, evened, this.#profile);
      yield* this.#clean(halves, placeOf(choice));
    }
    yield* this.#leastFaulty();
  }

  /** The same in earnest: that of a sketch first. */
  *inEarnest(skip: number, sketched: CutPlace | undefined): Generator<Cut> {
    if (sketched) yield* this.#clean(this.#exactCut(sketched), sketched);
    const choices = this.#choices(simplified(this.#region.area, ROUGH_M));
    for (const choice of choices.slice(skip, skip + CUTS_TRIED)) {
      const place = placeOf(choice);
      yield* this.#clean(this.#exactCut(place), place);
    }
    yield* this.#leastFaulty();
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

  /** A cut if it is clean; if not it is kept where it is the best so far. */
  *#clean(halves: Halves | undefined, place: CutPlace): Generator<Cut> {
    if (!halves) return;
    const left = totalAreaM2([...halves.fallen, ...halves.narrow]) / this.#meanM2;
    const off = offShare(halves, place.loopsBelow, this.#loops) - this.#manner.slack;
    const fault = left + Math.max(0, off);
    if (!this.#best || fault < this.#best.fault - 1e-6) this.#best = { halves, place, fault };
    if (fault < CLEAN) yield { halves, place };
  }

  *#leastFaulty(): Generator<Cut> {
    if (this.#best && this.#best.fault >= CLEAN) yield this.#best;
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
