/**
 * Divides a part that is more than one loop may have into the fewest loops.
 *
 * Recursive bisection: a piece for n loops is cut by a straight strip, as wide as the spacing
 * between loops, into two that share the n loops by their lawn, until each is for one. Each cut is
 * made on what earlier ones left, so shares are exact. If a loop breaks a limit the part is divided
 * anew for more loops.
 */
import type { Chord, LineChords } from "../geometry/line-chords.ts";
import { areaM2, totalAreaM2 } from "../geometry/rings.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import { type CutChoice, chordAt, cutChoices, moveTo } from "./cut-choices.ts";
import {
  cutRegion,
  type Halves,
  type Region,
  regionOf,
  STRIP_ALLOWANCE_M,
  type Standing,
} from "./cut-region.ts";
import { type LoopBound, loadOf, loopBound } from "./split-bound.ts";

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
  /** Why more loops than the bound are needed; what one fewer would break. */
  readonly more?: Breach;
}

/** The limit that a division with too few loops breaks worst. */
export interface Breach {
  readonly loops: number;
  readonly limit: "area" | "wire" | "cut";
  /** Lawn, m², or wire, metres, of the worst loop. */
  readonly value: number;
  /** Value over what is allowed. */
  readonly ratio: number;
}

/** Cuts tried in earnest for one piece, at most. */
const CUTS_TRIED = 14;
/** Other first cuts tried where a loop has a little too much wire, and up to how many loops. */
const OTHER_FIRST_CUTS = 5;
const OTHERS_UP_TO_LOOPS = 24;
const LITTLE_TOO_MUCH = 1.3;
/** Sides may be off their share by this in all, for better places of the cuts. */
const SLACK_IN_ALL = 0.04;
/** A side further off its share than this is put right by a second cut, as a share. */
const OFF_SHARE = 0.003;
/** Pieces that fall off and are less than this share of a loop's lawn are left out. */
const LEAST_LOOP_SHARE = 0.2;
const ROUNDS = 30;
/** A cut moves aside in steps of this, so often at most, metres. */
const ASIDE_M = 0.01;
const ASIDE_STEPS = 20;

/**
 * @param standing firm things free on the lawn; those near a cut are shut out
 * @param known what a division breaks that was tried before; more loops than that are made
 * @returns undefined when the part is within the limits, or cannot be cut
 */
export function splitPart(
  part: AreaM,
  standing: readonly Standing[],
  profile: Profile,
  known?: Breach,
): Split | undefined {
  const whole = regionOf(part, standing);
  const { wireM, worst } = loadOf(part, whole.lawnM2, profile);
  if (!known && worst <= 1) return undefined;
  const bound = loopBound(part, whole.lawnM2, profile);
  const least = Math.max(bound.byArea, bound.byWire);
  let loops = Math.max(2, least, (known?.loops ?? 0) + 1);
  const alone: Breach = {
    loops: 1,
    limit: "wire",
    value: wireM,
    ratio: wireM / profile.loop.lengthMaxM,
  };
  let more = known ?? (loops > least ? alone : undefined);
  let best: { made: Division; worst: number; more: Breach | undefined } | undefined;
  for (let round = 0; round < ROUNDS; round++) {
    let breach: Breach | undefined;
    for (const { slack, skipped } of waysToDivide(loops)) {
      if (breach && skipped > 0 && !(breach.limit === "wire" && breach.ratio < LITTLE_TOO_MUCH)) {
        break;
      }
      const made = divide(whole, loops, slack, skipped, profile);
      const found: Breach | undefined = made
        ? worstBreach(made, profile)
        : { loops, limit: "cut", value: 0, ratio: 1 };
      if (made && (!best || (found?.ratio ?? 0) < best.worst)) {
        best = { made, worst: found?.ratio ?? 0, more };
      }
      if (!breach || !found || (found.ratio < breach.ratio && found.limit !== "cut"))
        breach = found;
      if (!breach) break;
    }
    if (!breach) break;
    more = { ...breach, loops };
    // Wire of a loop falls no faster than its lawn: fewer than this cannot do.
    loops += Math.max(1, Math.floor(0.8 * (breach.ratio - 1) * loops));
  }
  if (!best) return undefined;
  return {
    ...best.made,
    bound,
    lawnM2: whole.lawnM2,
    wireM,
    ...(best.more && { more: best.more }),
  };
}

/** The best cuts first, then exact shares, then other first cuts. */
function waysToDivide(loops: number): { slack: number; skipped: number }[] {
  const slack = SLACK_IN_ALL / Math.ceil(Math.log2(loops));
  const others = loops > OTHERS_UP_TO_LOOPS ? 0 : OTHER_FIRST_CUTS;
  return [
    { slack, skipped: 0 },
    { slack: 0, skipped: 0 },
    ...Array.from({ length: others }, (_, i) => ({ slack, skipped: i + 1 })),
  ];
}

interface Division {
  readonly regions: readonly Region[];
  readonly pieces: readonly AreaM[];
  readonly strips: readonly AreaM[];
  readonly lost: readonly AreaM[];
}

/** Recursive bisection into a number of loops. */
function divide(
  whole: Region,
  loops: number,
  slack: number,
  skipped: number,
  profile: Profile,
): Division | undefined {
  const regions: Region[] = [];
  const strips: AreaM[] = [];
  const lost: AreaM[] = [];
  const meanM2 = whole.lawnM2 / loops;
  const work: { region: Region; loops: number }[] = [{ region: whole, loops }];
  while (work.length > 0) {
    const { region, loops: share } = work.pop()!;
    if (share === 1) {
      regions.push(region);
      continue;
    }
    const skip = region === whole ? skipped : 0;
    const cut = bestCut(region, share, slack, skip, meanM2, profile);
    if (!cut) return undefined;
    const { halves, loopsBelow } = cut;
    strips.push(...halves.strips);
    lost.push(...halves.narrow);
    for (const area of halves.fallen) {
      if (areaM2(area) < LEAST_LOOP_SHARE * meanM2) lost.push(area);
      else work.push({ region: regionOf(area, region.standing), loops: 1 });
    }
    work.push({ region: halves.above, loops: share - loopsBelow });
    work.push({ region: halves.below, loops: loopsBelow });
  }
  return { regions, pieces: regions.map((one) => one.area), strips, lost };
}

/** The first clean cut of the best places, or the one that leaves least behind. */
function bestCut(
  region: Region,
  loops: number,
  slack: number,
  skip: number,
  meanM2: number,
  profile: Profile,
): { halves: Halves; loopsBelow: number } | undefined {
  const taken = region.standing.map((thing) => thing.area.shell);
  const wish = {
    loops,
    stripM: profile.loop.spacingM,
    driveMinM: profile.passage.driveMinM,
    slack,
  };
  let best: { halves: Halves; loopsBelow: number } | undefined;
  let least = Infinity;
  for (const choice of cutChoices(region.area, taken, wish).slice(skip, skip + CUTS_TRIED)) {
    const halves = exactCut(region, choice, loops, slack, profile);
    if (!halves) continue;
    const { loopsBelow } = choice;
    const left = totalAreaM2([...halves.fallen, ...halves.narrow]) / meanM2;
    const fault = left + Math.max(0, offShare(halves, loopsBelow, loops) - slack);
    if (fault < least - 1e-6) {
      least = fault;
      best = { halves, loopsBelow };
    }
    if (fault < 0.01) break;
  }
  return best;
}

/** Cuts, and cuts again a little aside where the opening took more from one side. */
function exactCut(
  region: Region,
  { sweep, chord, loopsBelow }: CutChoice,
  loops: number,
  slack: number,
  profile: Profile,
): Halves | undefined {
  const { spacingM } = profile.loop;
  const first = cutRegion(region, sweep, offVertices(sweep, chord, spacingM), profile);
  if (!first || offShare(first, loopsBelow, loops) <= slack + OFF_SHARE) return first;
  const { below, above } = first;
  const wanted = ((below.lawnM2 + above.lawnM2) * loopsBelow) / loops;
  const moved = moveTo(sweep, chord, chord.belowM2 + wanted - below.lawnM2, 0.01);
  const aside = offVertices(sweep, moved, spacingM);
  const second = cutRegion(region, sweep, aside, profile);
  if (!second) return first;
  return offShare(second, loopsBelow, loops) < offShare(first, loopsBelow, loops) ? second : first;
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

/** How far the lawn of the two sides is off their shares, as a share of the smaller. */
function offShare({ below, above }: Halves, loopsBelow: number, loops: number): number {
  const total = below.lawnM2 + above.lawnM2;
  const smaller = Math.min(loopsBelow, loops - loopsBelow) / loops;
  return Math.abs(below.lawnM2 / total - loopsBelow / loops) / smaller;
}

function worstBreach({ regions }: Division, profile: Profile): Breach | undefined {
  let worst: Breach | undefined;
  const offer = (limit: "area" | "wire", value: number, most: number): void => {
    const ratio = value / most;
    if (ratio > 1 && ratio > (worst?.ratio ?? 1)) worst = { loops: 0, limit, value, ratio };
  };
  for (const region of regions) {
    const { lawnM2, wireM } = loadOf(region.area, region.lawnM2, profile);
    offer("area", lawnM2, profile.loop.areaMaxM2);
    offer("wire", wireM, profile.loop.lengthMaxM);
  }
  return worst;
}
