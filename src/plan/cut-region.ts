/** Cutting a piece of lawn in two, and what of it the machine still reaches. */
import { AreaIndex } from "../geometry/area-index.ts";
import type { Chord, LineChords } from "../geometry/line-chords.ts";
import { grow } from "../geometry/offset.ts";
import { difference, intersection, union } from "../geometry/overlay.ts";
import {
  areaM2,
  type BoxTest,
  boxesMeet,
  boxOf,
  interiorPoint,
  ringContains,
  ringLengthM,
} from "../geometry/rings.ts";
import type { AreaM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import { joinOf } from "./corner-join.ts";
import { findParts, NEAR_CUT_WIDTHS, type Parts } from "./parts.ts";

/** Something firm that stands free on the lawn, or paving that the machine crosses. */
export interface Standing {
  readonly area: AreaM;
  readonly areaM2: number;
  /** Set-in of a wire that has to go round it; a wire may lie across what has none. */
  readonly setinM?: number;
}

/** What is shared out evenly between loops: lawn, or lawn and the wire round islands. */
export interface Evened {
  /** Lawn that a metre of wire round an island counts as, m². */
  readonly m2PerWireM: number;
  /** Length of the link that ties an island to the next, at a mean, metres. */
  readonly linkM: number;
}

/** A connected piece of wire region, with what stands on it. */
export interface Region {
  readonly area: AreaM;
  readonly standing: readonly Standing[];
  /** Lawn in it: its area less what stands on it, m². */
  readonly lawnM2: number;
  /** Lawn, with what its islands count for, m². */
  readonly loadM2: number;
}

export interface Halves {
  readonly below: Region;
  readonly above: Region;
  /** Pieces that hang on neither side. */
  readonly fallen: readonly AreaM[];
  /** Ground between the two sides' wires. */
  readonly strips: readonly AreaM[];
  /** What became too narrow for the machine. */
  readonly narrow: readonly AreaM[];
}

/**
 * A strip reaches this much further on all sides: rounding brings no wire nearer than the spacing,
 * and leaves no hair of ground along the edge where the strip ends. Metres.
 */
export const STRIP_ALLOWANCE_M = 0.0015;

export function regionOf(area: AreaM, standing: readonly Standing[], evened: Evened): Region {
  const within = standing.length === 0 ? standing : standingIn(area, standing);
  const taken = within.reduce((sum, thing) => sum + thing.areaM2, 0);
  const lawnM2 = areaM2(area) - taken;
  const loadM2 = area.holes.reduce((sum, hole) => sum + holeWorthM2(hole, evened), lawnM2);
  return { area, standing: within, lawnM2, loadM2 };
}

function standingIn(area: AreaM, standing: readonly Standing[]): Standing[] {
  const index = new AreaIndex([area]);
  return standing.filter(
    ({ area: thing }) => index.locate(thing.shell[0]!, thing.shell[1]!) !== -1,
  );
}

/** Lawn that an island counts as: for the wire round it and that which ties it in, out and back. */
export function holeWorthM2(hole: RingM, { m2PerWireM, linkM }: Evened): number {
  return m2PerWireM === 0 ? 0 : m2PerWireM * (ringLengthM(hole) + 2 * linkM);
}

/**
 * Cuts along a chord of the outer ring: a strip as wide as the spacing goes, what is left is opened
 * by the machine's width. A piece that an island pinches off its side goes to the other side where
 * only the strip lies between.
 *
 * @returns undefined when a side has nothing left
 */
export function cutRegion(
  region: Region,
  sweep: LineChords,
  chord: Chord,
  evened: Evened,
  profile: Profile,
): Halves | undefined {
  const { spacingM } = profile.loop;
  const { driveMinM } = profile.passage;
  const strip = stripAlong(region.area.shell, sweep, chord, spacingM);
  if (!strip) return undefined;
  const across = grow([strip], STRIP_ALLOWANCE_M, "mitre")[0]!;
  const inWay = standingNear(region.standing, across, driveMinM);
  const walls = inWay.flatMap(({ area: thing, setinM }) =>
    setinM === undefined ? [] : grow([thing], setinM, joinOf(profile)),
  );
  const nearM = NEAR_CUT_WIDTHS * driveMinM;
  const nearChord = sweep.nearTest(chord, spacingM / 2 + STRIP_ALLOWANCE_M + nearM);
  const wallBoxes = walls.map(({ shell }) => boxOf(shell));
  const isNear: BoxTest = (minE, minN, maxE, maxN) =>
    nearChord(minE, minN, maxE, maxN) ||
    wallBoxes.some(
      (wall) =>
        minE <= wall.maxE + nearM &&
        maxE >= wall.minE - nearM &&
        minN <= wall.maxN + nearM &&
        maxN >= wall.minN - nearM,
    );
  const { area, far } = withoutFarHoles(region.area, isNear);
  const side = sweep.ringBelow(chord);
  const isBelow = (one: AreaM): boolean => ringContains(side, ...interiorPoint(one));
  const opened = reached(difference([area], [across, ...walls]), profile, isNear);
  const sides = withHoles(opened.parts, far);
  let below = sides.filter(isBelow);
  let above = sides.filter((one) => !isBelow(one));
  if (below.length === 0 || above.length === 0) return undefined;
  let strips = intersection([area], [across]);
  const narrow = [...opened.narrow];
  if (below.length + above.length > 2) {
    const given = handOver(below, above, strips, profile);
    below = given.below;
    above = given.above;
    strips = given.strips;
  }
  return { ...halvesOf(below, above, region, evened), strips, narrow };
}

/** What of the band about a chord hangs together with the chord. */
function stripAlong(
  shell: RingM,
  sweep: LineChords,
  { fromM, toM, levelM }: Chord,
  widthM: number,
): AreaM | undefined {
  const [midE, midN] = sweep.point((fromM + toM) / 2, levelM);
  const band = { shell: sweep.band(levelM, widthM), holes: [] };
  return intersection([{ shell, holes: [] }], [band]).find((one) =>
    ringContains(one.shell, midE, midN),
  );
}

/** The same in the rough: the strip is taken away, nothing is opened and nothing is shut out. */
export function cutRoughly(
  region: Region,
  sweep: LineChords,
  chord: Chord,
  evened: Evened,
  profile: Profile,
): Halves | undefined {
  const { spacingM } = profile.loop;
  const { driveMinM } = profile.passage;
  const { area, far } = withoutFarHoles(region.area, sweep.nearTest(chord, spacingM));
  const alone = sweep.at(chord.levelM).length === 1;
  const strip = alone
    ? { shell: sweep.band(chord.levelM, spacingM), holes: [] }
    : stripAlong(area.shell, sweep, chord, spacingM);
  if (!strip) return undefined;
  const side = sweep.ringBelow(chord);
  const sides = withHoles(difference([area], [strip]), far);
  const below: AreaM[] = [];
  const above: AreaM[] = [];
  const narrow: AreaM[] = [];
  for (const one of sides) {
    if (areaM2(one) < driveMinM * driveMinM) narrow.push(one);
    else (ringContains(side, ...interiorPoint(one)) ? below : above).push(one);
  }
  if (below.length === 0 || above.length === 0) return undefined;
  return { ...halvesOf(below, above, region, evened), strips: [], narrow };
}

/** The largest piece of either side goes on; the others have fallen off. */
function halvesOf(
  [below, ...belowRest]: readonly AreaM[],
  [above, ...aboveRest]: readonly AreaM[],
  { standing }: Region,
  evened: Evened,
) {
  return {
    below: regionOf(below!, standing, evened),
    above: regionOf(above!, standing, evened),
    fallen: [...belowRest, ...aboveRest],
  };
}

/** Holes that no cut comes near need not be cut, only shared out. */
function withoutFarHoles(whole: AreaM, isNear: BoxTest) {
  const far: RingM[] = [];
  const near: RingM[] = [];
  for (const hole of whole.holes) {
    const { minE, minN, maxE, maxN } = boxOf(hole);
    if (isNear(minE, minN, maxE, maxN)) near.push(hole);
    else far.push(hole);
  }
  return { area: { shell: whole.shell, holes: near }, far };
}

/** Areas with further holes, each in the area that it lies in, largest first. */
function withHoles(areas: readonly AreaM[], holes: readonly RingM[]): AreaM[] {
  const index = new AreaIndex(areas);
  const inside: RingM[][] = areas.map(() => []);
  for (const hole of holes) inside[index.locate(hole[0]!, hole[1]!)]?.push(hole);
  return areas
    .map(({ shell, holes: own }, i): AreaM => ({ shell, holes: [...own, ...inside[i]!] }))
    .sort((a, b) => areaM2(b) - areaM2(a));
}

/** What the machine reaches of some ground, by the widths and angles of its profile. */
export function reached(
  ground: readonly AreaM[],
  { passage, corners }: Profile,
  nearCuts?: BoxTest,
): Parts {
  return findParts(ground, passage.driveMinM, corners.innerAngleMinDeg, nearCuts);
}

function standingNear(
  standing: readonly Standing[],
  strip: AreaM,
  reachM: number,
): readonly Standing[] {
  if (standing.length === 0) return standing;
  const near = grow([strip], reachM, "mitre");
  const box = boxOf(...near.map((one) => one.shell));
  return standing.filter(
    ({ area }) => boxesMeet(boxOf(area.shell), box) && intersection(near, [area]).length > 0,
  );
}

/**
 * Pieces that fell off one side, joined to the other over the strip between them. Where the strip
 * also borders on the side that they fell off, they stay alone.
 */
function handOver(
  below: readonly AreaM[],
  above: readonly AreaM[],
  strips: readonly AreaM[],
  profile: Profile,
): { below: AreaM[]; above: AreaM[]; strips: AreaM[] } {
  let left = [...strips];
  const give = (pieces: readonly AreaM[], own: AreaM, main: AreaM) => {
    let joined = main;
    const kept: AreaM[] = [];
    for (const piece of pieces) {
      const bridge = left.filter(
        (strip) => touches(strip, piece) && touches(strip, joined) && !touches(strip, own),
      );
      const made = union([joined, piece, ...bridge.flatMap((one) => grow([one], 1e-4, "mitre"))]);
      const opened = bridge.length > 0 ? reached(made, profile).parts : [];
      if (opened.length === 1) {
        joined = opened[0]!;
        left = left.filter((strip) => !bridge.includes(strip));
      } else kept.push(piece);
    }
    return { main: joined, kept };
  };
  const up = give(below.slice(1), below[0]!, above[0]!);
  const down = give(above.slice(1), above[0]!, below[0]!);
  return {
    below: [down.main, ...up.kept],
    above: [up.main, ...down.kept],
    strips: left,
  };
}

function touches(a: AreaM, b: AreaM): boolean {
  return intersection(grow([a], 2e-3, "mitre"), [b]).length > 0;
}
