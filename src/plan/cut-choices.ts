/** Where a piece of lawn may be cut in two by a straight line, the shortest cuts first. */
import { type Chord, LineChords, type TurnedRings } from "../geometry/line-chords.ts";
import { vertexAt } from "../geometry/rings.ts";
import type { AreaM, RingM } from "../model/geometry.ts";

export interface CutWish {
  /** Loops that the two sides are for together, at least 2. */
  readonly loops: number;
  /** Width of the strip that the cut takes, metres. */
  readonly stripM: number;
  /** Narrowest way that the machine drives through, metres. */
  readonly driveMinM: number;
  /** How far a side's area may be off its share for a better place, as a share. */
  readonly slack: number;
  /** Lawn that a hole counts as beyond the area it takes off, m². */
  readonly worthM2: (hole: RingM) => number;
  /** Directions of cuts, those of the whole part. */
  readonly directions: readonly number[];
  /** Holes turned for them before. */
  readonly turned: TurnedRings;
}

export interface CutChoice {
  readonly sweep: LineChords;
  readonly chord: Chord;
  /** Loops for the side below. */
  readonly loopsBelow: number;
  /** What is compared: length of the cut and lawn lost, against what the smaller side gains. */
  readonly cost: number;
}

/** Directions tried, evenly round the half circle from the direction of most of the outline. */
const DIRECTIONS = 12;
/** Levels looked at in each direction. */
const LEVELS = 24;
/** A side further off its share than this is no cut, as a share of the smaller side. */
const WORST_SHARE = 0.05;
const STEPS = 10;
/** A chord that costs more than the best times this is not looked at closely. */
const SETTLED_ABOVE = 1.6;
/** One that has its share and costs more than the best times this is not moved for a better place. */
const MOVED_ABOVE = 1.3;

/**
 * Cuts along chords of the outer ring that give both sides their share of the area, best first.
 *
 * Shares are whole numbers of loops; any division of them will do, and a cut is judged by its
 * length inside the lawn (islands are free) over the root of the smaller number of loops: what a
 * border costs grows so in compact pieces. Does not depend on where rings begin.
 *
 * @param taken rings standing on the lawn whose area does not count
 */
export function cutChoices(region: AreaM, taken: readonly RingM[], wish: CutWish): CutChoice[] {
  const choices: CutChoice[] = [];
  let least = Infinity;
  for (const angle of wish.directions) {
    const sweep = new LineChords(region, taken, angle, wish.worthM2, wish.turned);
    const found = new Map<string, CutChoice>();
    // Where the line has one chord only, each share has one level: it is looked for once.
    const sought = new Set<number>();
    for (let s = 0; s < LEVELS; s++) {
      const level = sweep.minM + ((s + 0.5) / LEVELS) * (sweep.maxM - sweep.minM);
      // Every share has been found on a line with one chord.
      if (sought.size === wish.loops - 1 && sweep.countAt(level) === 1) continue;
      const chords = sweep.at(level);
      for (const seed of chords) {
        if (roughCost(sweep, seed, wish.loops) > SETTLED_ABOVE * least) continue;
        const loopsBelow = nearestShare(sweep, seed, wish.loops);
        if (loopsBelow === undefined || (chords.length === 1 && sought.has(loopsBelow))) continue;
        const choice = settle(sweep, seed, loopsBelow, least, wish);
        if (!choice) continue;
        if (chords.length === 1) sought.add(loopsBelow);
        least = Math.min(least, choice.cost);
        const key = `${choice.loopsBelow} ${choice.chord.levelM.toFixed(1)} ${choice.chord.fromM.toFixed(1)}`;
        if (!found.has(key)) found.set(key, choice);
      }
    }
    choices.push(...found.values());
  }
  return choices.sort((a, b) => a.cost - b.cost);
}

/** Directions in which a part is cut: that of most of its outline first, then evenly round. */
export function cutDirections(part: AreaM): number[] {
  const first = mainDirection(part.shell);
  return Array.from(
    { length: DIRECTIONS },
    (_, d) => (first + (d * Math.PI) / DIRECTIONS + 1e-7) % Math.PI,
  );
}

/** What a chord would cost as it is. */
function roughCost(sweep: LineChords, seed: Chord, loops: number): number {
  const share = Math.min(seed.belowM2, sweep.totalM2 - seed.belowM2) / sweep.totalM2;
  return seed.lengthM / Math.sqrt(Math.max(0.5, share * loops));
}

/** Loops that the side below a chord is nearest to; undefined where it is near no number. */
function nearestShare(sweep: LineChords, seed: Chord, loops: number): number | undefined {
  const shares = (seed.belowM2 / sweep.totalM2) * loops;
  const loopsBelow = Math.min(loops - 1, Math.max(1, Math.round(shares)));
  return Math.abs(shares - loopsBelow) > Math.max(0.6, loops / 8) ? undefined : loopsBelow;
}

/** Moves a chord until the side below has a whole number of shares, then a little for a better place. */
function settle(
  sweep: LineChords,
  seed: Chord,
  loopsBelow: number,
  least: number,
  wish: CutWish,
): CutChoice | undefined {
  const { loops, slack } = wish;
  const total = sweep.totalM2;
  const smaller = (Math.min(loopsBelow, loops - loopsBelow) / loops) * total;
  const chord = moveTo(sweep, seed, (loopsBelow / loops) * total, 1e-4 * smaller);
  const off = (one: Chord): number =>
    Math.abs(one.belowM2 - (loopsBelow / loops) * total) / smaller;
  if (off(chord) > WORST_SHARE) return undefined;
  const costOf = (one: Chord): number => {
    const lost = sweep.grazedM2(one, wish.stripM / 2, wish.driveMinM);
    const share = 1 + Math.max(0, off(one) - slack) * 4;
    return ((one.lengthM + lost) * share) / Math.sqrt(Math.min(loopsBelow, loops - loopsBelow));
  };
  let best = { chord, cost: costOf(chord) };
  const reach = (slack * smaller) / Math.max(1, chord.lengthM);
  const promising = slack > 0 && best.cost < MOVED_ABOVE * least;
  for (let k = 1; k <= 4 && promising; k++) {
    for (const side of [-1, 1]) {
      const moved = chordAt(sweep, chord, wholeMm(chord.levelM + (side * k * reach) / 4));
      if (!moved || off(moved) > slack) continue;
      const cost = costOf(moved);
      if (cost < best.cost * 0.98) best = { chord: moved, cost };
    }
  }
  // Costs that differ by a rounding are the same: the first direction wins.
  const cost = Math.round(best.cost * 1e4) / 1e4;
  return { sweep, chord: best.chord, loopsBelow, cost };
}

/** Follows a chord to the level where the area below it is as wanted, or as near as it gets. */
export function moveTo(sweep: LineChords, from: Chord, belowM2: number, withinM2: number): Chord {
  let best = from;
  let now = from;
  // Levels between which the wanted one lies, as far as is known.
  let [low, high] = [-Infinity, Infinity];
  for (let k = 0; k < STEPS; k++) {
    const missing = belowM2 - now.belowM2;
    if (missing > 0) low = Math.max(low, now.levelM);
    else high = Math.min(high, now.levelM);
    if (Math.abs(missing) < Math.abs(belowM2 - best.belowM2)) best = now;
    if (Math.abs(missing) <= withinM2) break;
    const width = Math.max(now.lengthM, 0.2 * (now.toM - now.fromM), 0.5);
    const step = now.levelM + missing / width;
    const level = step > low && step < high ? step : (low + high) / 2;
    const next = chordAt(sweep, now, wholeMm(level));
    if (!next || next.levelM === now.levelM) break;
    now = next;
  }
  return Math.abs(belowM2 - now.belowM2) < Math.abs(belowM2 - best.belowM2) ? now : best;
}

/** The chord of a level that shares most with another. */
export function chordAt(sweep: LineChords, like: Chord, levelM: number): Chord | undefined {
  let best: Chord | undefined;
  let most = 0;
  for (const chord of sweep.at(levelM)) {
    const shared = Math.min(chord.toM, like.toM) - Math.max(chord.fromM, like.fromM);
    if (shared <= most) continue;
    most = shared;
    best = chord;
  }
  return best;
}

/** To the millimetre; half a millimetre is no place of tie where sites are drawn in millimetres. */
function wholeMm(levelM: number): number {
  return Math.floor(levelM * 1000 + 0.3137) / 1000;
}

/** Direction that most of a ring's length has, up to right angles, radians from 0 to a right angle. */
function mainDirection(ring: RingM): number {
  const n = ring.length >> 1;
  let cos = 0;
  let sin = 0;
  for (let i = 0; i < n; i++) {
    const a = vertexAt(ring, i);
    const b = vertexAt(ring, (i + 1) % n);
    const de = b[0] - a[0];
    const dn = b[1] - a[1];
    const angle = 4 * Math.atan2(dn, de);
    const length = Math.hypot(de, dn);
    cos += length * Math.cos(angle);
    sin += length * Math.sin(angle);
  }
  const angle = Math.atan2(sin, cos) / 4;
  // A nanometre's rounding must not turn the order of directions.
  return Math.round(((angle + Math.PI / 2 + 1e-5) % (Math.PI / 2)) * 1e6) / 1e6;
}
