/** One loop of wire for one part: rings, station, runs, route, pegs. */
import { AreaIndex } from "../geometry/area-index.ts";
import { fitChords } from "../geometry/chord-fit/chord-fit.ts";
import type { CostGround } from "../geometry/cost-ground.ts";
import {
  anticlockwise,
  lineLengthM,
  ringLengthM,
  toPoints,
  totalAreaM2,
  vertexAt,
} from "../geometry/rings.ts";
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import type { ExclusionLoop, Loop, PairedRun } from "../model/plan.ts";
import type { KeptWire } from "../model/plan-options.ts";
import type { Profile } from "../model/profile.ts";
import type { RunGround } from "../model/run-ground.ts";
import type { Thing } from "../model/site.ts";
import { keepPegs } from "./keep-pegs.ts";
import { planNetwork } from "./network.ts";
import { chainages, numberPegs, wireOf } from "./pegs.ts";
import { whereRingsMeet } from "./rings-meet.ts";
import { leftSharp, roundCorners } from "./round-corners.ts";
import { routeLoop } from "./route.ts";
import { type RunEnd, SNAP_TO_CORNER_M } from "./run-ends.ts";
import { hasPlace, leftOutAt, unsoundAt } from "./sound-wire.ts";
import { pegSpacingM } from "./spacing.ts";
import { placeStation, type StationPlace, straightAlong } from "./station.ts";
import { NOTHING_KNOWN, type StationGround } from "./station-ground.ts";
import { bearingDeg } from "./station-search.ts";

export interface LoopDraft {
  readonly loop: Loop;
  /** What lies inside the wire. */
  readonly inside: AreaM;
  readonly station: StationPlace;
  /** Firm things no run could be led round. */
  readonly blockedBy: readonly Thing[];
  /** Places where the wire bends more tightly than the profile asks. */
  readonly tightBends: readonly PointM[];
  /** Where the wire meets itself, leaves out a peg or has no place: it must not be laid. */
  readonly unsoundAtM?: PointM;
}

/** Chords of a part's outline may wander this share of the narrowest passage at most. */
const WANDER_SHARE_OF_PASSAGE = 1 / 6;

/** The rings of wire of a part, taut between pegs: outer ring first, then exclusion loops. */
export function tautRings(part: AreaM, profile: Profile, kept: readonly KeptWire[] = []): RingM[] {
  const rings = [part.shell, ...part.holes];
  const spacingM = pegSpacingM(profile);
  const most = Math.min(
    profile.pegs.wanderMaxM,
    profile.passage.driveMinM * WANDER_SHARE_OF_PASSAGE,
  );
  // In a pocket of a few hand's breadths two sides may wander into each other: then less wander.
  for (const share of [1, 1 / 3]) {
    const options = { spacingM, wanderM: share * most };
    const taut = rings.map((ring) => fitChords(ring, options));
    if (whereRingsMeet(taut)) continue;
    if (kept.length === 0) return taut;
    const stays = taut.map((fitted, i) => keepPegs(fitted, rings[i]!, kept, options));
    return whereRingsMeet(stays) ? taut : stays;
  }
  return rings.map((ring) => fitChords(ring, { spacingM, wanderM: 0 }));
}

/**
 * Draws a loop; one that came out unsound is drawn again with its corners as they are, then with its
 * pegs on the outline itself. The least unsound is returned, with where it is so.
 *
 * @param part what the machine reaches, metres
 * @param shutOut things that wires may have to go round, for the loops' names
 * @param firm firm things standing free in this part
 * @param ground where runs cost more or may not lie
 * @param wantedStation where the user put this part's station
 * @param around what is known round the place of a station
 * @param kept wire of an earlier plan, which stays where it may
 */
export function planLoop(
  name: string,
  part: AreaM,
  shutOut: readonly Thing[],
  firm: readonly Thing[],
  wantedStation: PointM | undefined,
  profile: Profile,
  ground: readonly RunGround[] = [],
  around: StationGround = NOTHING_KNOWN,
  kept: readonly KeptWire[] = [],
): LoopDraft {
  const rings = [part.shell, ...part.holes];
  const ways: { rounded: boolean; rings: (rounded: AreaM) => readonly RingM[] }[] = [
    { rounded: true, rings: (rounded) => tautRings(rounded, profile, kept) },
    { rounded: false, rings: () => tautRings(part, profile) },
    { rounded: false, rings: () => rings },
  ];
  let best: LoopDraft | undefined;
  for (const way of ways) {
    const rounding = way.rounded ? roundCorners(part, profile) : leftSharp(part, profile);
    const taut = way.rings(rounding.part);
    const drawn = drawLoop(name, taut, shutOut, firm, wantedStation, profile, ground, around);
    const draft = { ...drawn, tightBends: rounding.tight };
    if (!draft.unsoundAtM) return draft;
    if (!best || (!hasPlace(best.loop.wire) && hasPlace(draft.loop.wire))) best = draft;
  }
  return best!;
}

function drawLoop(
  name: string,
  rings: readonly RingM[],
  shutOut: readonly Thing[],
  firm: readonly Thing[],
  wantedStation: PointM | undefined,
  profile: Profile,
  ground: readonly RunGround[],
  around: StationGround,
): Omit<LoopDraft, "tightBends"> {
  const shell = rings[0]!;
  const inside: AreaM = { shell, holes: rings.slice(1) };
  const firmRings = firm.flatMap((thing) => thing.areas.map((a) => a.shell));
  const inner = [...inside.holes, ...firmRings];
  const station = placeStation(shell, inner, wantedStation, profile, around);
  // Run ends move onto corners: they keep that much farther from the station's own stretch.
  const clearM = profile.station.straightM + SNAP_TO_CORNER_M;
  const network = planNetwork(rings, station, clearM, firm, ground, profile);
  const { runs, blockedBy } = network;
  const route = routeLoop(rings, runs, station, profile);
  const loops = exclusionLoops(inside.holes, shutOut);
  const names = ["boundary", ...loops.map((l) => l.name)];
  const pairedRuns = runs.map((run, i): PairedRun => {
    const line = Float64Array.from(
      route.runNodes[i]!.flatMap((node) => [...route.nodes[node]!.atM]),
    );
    const nameOf = (end: RunEnd): string =>
      "ring" in end ? names[end.ring]! : `junction ${end.junction + 1}`;
    const [from, to] = route.outward[i] ? [run.from, run.to] : [run.to, run.from];
    const lengthM = lineLengthM(line);
    const costM = network.dearer ? costOfLine(network.dearer, line) : lengthM;
    return { line, from: nameOf(from), to: nameOf(to), lengthM, costM };
  });
  const { lengthM } = chainages(route.stops);
  const wire = wireOf(route.stops);
  // A paired run may leave the edge that the station stands on, past the straight run asked for.
  const straightM = Math.min(station.straightM, straightAlong(wire) + profile.wire.pairGapM);
  const loop: Loop = {
    name,
    wire,
    lengthM,
    boundM: lengthM - 2 * (sumOfLengths(pairedRuns) - network.boundM),
    station: {
      atM: station.atM,
      bearingDeg: edgeBearingDeg(shell, station.vertex),
      given: station.given,
      straightM,
    },
    pegs: numberPegs(name, route),
    pairedRuns,
    exclusionLoops: loops,
    guideWires: [],
  };
  const unsoundAtM = unsoundAt(loop.wire) ?? leftOutAt(route);
  return {
    loop,
    inside,
    station: { ...station, straightM },
    blockedBy,
    ...(unsoundAtM ? { unsoundAtM } : {}),
  };
}

function costOfLine(ground: CostGround, line: Float64Array): number {
  return ground.costOfWay(toPoints(line));
}

function sumOfLengths(runs: readonly PairedRun[]): number {
  return runs.reduce((sum, run) => sum + run.lengthM, 0);
}

/** Bearing of an edge of a ring in laying order, degrees clockwise from grid north. */
function edgeBearingDeg(ring: RingM, vertex: number): number {
  const [ae, an] = vertexAt(ring, vertex);
  const [be, bn] = vertexAt(ring, (vertex + 1) % (ring.length >> 1));
  return bearingDeg([be - ae, bn - an]);
}

/** Loops named by what they shut out; the largest thing gives the role. */
function exclusionLoops(holes: readonly RingM[], shutOut: readonly Thing[]): ExclusionLoop[] {
  const index = new AreaIndex(holes.map((ring) => ({ shell: ring, holes: [] })));
  const within: Thing[][] = holes.map(() => []);
  for (const thing of shutOut) {
    const found = new Set(thing.areas.map((a) => index.locate(a.shell[0]!, a.shell[1]!)));
    for (const hole of found) if (hole !== -1) within[hole]!.push(thing);
  }
  return holes.map((ring, i) => {
    const things = within[i]!;
    const size = (thing: Thing): number => totalAreaM2(thing.areas);
    const largest = [...things].sort((a, b) => size(b) - size(a))[0];
    const names = things.map((thing) => thing.name);
    return {
      ring: anticlockwise(ring),
      name: names.length > 0 ? names.join(" + ") : `opening ${i + 1}`,
      role: largest?.role ?? "bed",
      things: names,
      lengthM: ringLengthM(ring),
    };
  });
}
