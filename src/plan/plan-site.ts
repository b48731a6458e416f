/** From a site to a plan: the decisions in order, each in a module of its own. */
import { AreaIndex } from "../geometry/area-index.ts";
import { grow } from "../geometry/offset.ts";
import { difference } from "../geometry/overlay.ts";
import { areaM2, interiorPoint, totalAreaM2 } from "../geometry/rings.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import type { PartsChoice, Plan } from "../model/plan.ts";
import {
  DEFAULT_LAWN_PER_WIRE_M2,
  DEFAULT_LOADS_WITHIN,
  type PlanOptions,
} from "../model/plan-options.ts";
import type { Profile } from "../model/profile.ts";
import type { RunGround } from "../model/run-ground.ts";
import type { Site, Thing } from "../model/site.ts";
import type { PlaceKnowledge } from "../model/station.ts";
import { joinOf } from "./corner-join.ts";
import { deadEnds } from "./crossings.ts";
import { type EdgeRun, labelEdges } from "./edge-kinds.ts";
import * as say from "./findings.ts";
import { type Ground, makeGround } from "./ground.ts";
import { groundFindings, guideLeftOut } from "./ground-findings.ts";
import { guideOf } from "./guide.ts";
import { mergeIslands } from "./islands.ts";
import { islandsInTheEdge } from "./islands-in-edge.ts";
import { numberedAsBefore } from "./keep-numbers.ts";
import { type LaidLoops, layLoops } from "./lay-loops.ts";
import { leftovers } from "./leftover.ts";
import type { LoopDraft } from "./loop.ts";
import { loopFindings, partFindings } from "./loop-findings.ts";
import { neckGround } from "./neck-ground.ts";
import { joinFirmThings } from "./obstacles.ts";
import { findParts, type Parts } from "./parts.ts";
import { passageChains } from "./passage-chains.ts";
import { findNarrowings, type Narrowings, passagesOf } from "./passages.ts";
import { keptClear, noWireAreas, runGroundOfSite } from "./run-ground.ts";
import { apartFindings, type PartsApart, type SetApart, setApart } from "./set-apart.ts";
import { awayFrom, keepAways, setIn } from "./setin.ts";
import { settleParts } from "./settle-parts.ts";
import { hasPlace } from "./sound-wire.ts";
import { BETWEEN_LOOPS, splitFindings, stripsBetween } from "./split-words.ts";
import { stationGround } from "./station-ground.ts";
import { surroundingsOf } from "./surroundings.ts";

/** A part with less than this inside its wire gets no loop, m². */
const LEAST_LOOP_M2 = 2;

/** Firm things may have to be shut out because a run cannot pass them; tried this often. */
const ROUNDS = 6;

/**
 * Plans the wire of a site.
 *
 * @param known heights and sun, for the place of the station
 * @returns the plan with its findings; a problem (`NO_ROOM_FOR_WIRE`) when nothing of the lawn is
 *   wider than its set-ins, or (`WIRE_WITHOUT_PLACE`) by a fault of the program
 */
export function planSite(
  site: Site,
  profile: Profile,
  options: PlanOptions = {},
  known: PlaceKnowledge = {},
): Outcome<Plan> {
  let laidOut = layOut(site, profile, options, known, new Set());
  const uncrossed = new Set<number>();
  for (let round = 0; round < ROUNDS; round++) {
    const { base, layout } = laidOut;
    const { ground } = base;
    const dead = deadEnds(
      ground.crossings,
      ground.lawn,
      layout.parts.parts,
      profile.passage.driveMinM,
    );
    if (dead.length === 0) break;
    for (const { number } of dead) uncrossed.add(number);
    laidOut = layOut(site, profile, options, known, uncrossed);
  }
  const { base, layout, forced, runGround, layAll } = laidOut;
  const { ground } = base;
  if (layout.drafts.length === 0) {
    return failed({
      code: "NO_ROOM_FOR_WIRE",
      kind: "input",
      message: `No part of the lawn (${totalAreaM2(ground.wireGround).toFixed(1)} m²) is wide enough for the set-in of ${profile.setinM.open} m on both sides and the machine between.`,
      remedy:
        "Check the units and the coordinate system of the input, or choose a smaller machine with --profile.",
    });
  }
  const lost = layout.drafts.find(({ loop }) => !hasPlace(loop.wire));
  if (lost) {
    return failed({
      code: "WIRE_WITHOUT_PLACE",
      kind: "input",
      message: `Loop ${lost.loop.name} could not be drawn: its wire has vertices without a place.`,
      remedy:
        "Please send us the input: this is a fault of the program. Until it is mended, try another profile or another place for the station.",
    });
  }
  const choice = options.parts ?? "own";
  const plan = finish(base, layout, forced, runGround, choice);
  const necks = neckGround(plan);
  if (necks.length === 0) return done(plan);
  // Passages are known once the wire is: runs that lie in one are planned again with its cost.
  const all = [...runGround, ...necks];
  const again = layAll(all);
  if (again.drafts.some((draft) => draft.unsoundAtM)) return done(plan);
  return done(finish(base, again, forced, all, choice));
}

/** What every round of laying begins with. */
interface Base {
  readonly site: Site;
  readonly profile: Profile;
  readonly options: PlanOptions;
  readonly known: PlaceKnowledge;
  readonly ground: Ground;
  /** Labelled edges of the ground. */
  readonly runs: readonly EdgeRun[];
  readonly plainRegion: readonly AreaM[];
}

/** Narrowings of the ground, and the firm things that were shut out when they were measured. */
interface Narrowed {
  readonly found: Narrowings | undefined;
  readonly joined: readonly Thing[];
}

interface LaidOut {
  readonly base: Base;
  readonly runGround: readonly RunGround[];
  readonly layout: Layout;
  /** Firm things shut out because they were in the way of a paired run. */
  readonly forced: ReadonlySet<Thing>;
  /** Lays all loops again over the same ground, with other costs of runs. */
  layAll(runGround: readonly RunGround[]): Layout;
}

/** Loops over the ground without some crossings. */
function layOut(
  site: Site,
  profile: Profile,
  options: PlanOptions,
  known: PlaceKnowledge,
  uncrossed: ReadonlySet<number>,
): LaidOut {
  const ground = makeGround(site, uncrossed);
  const runs = labelEdges(ground.wireGround, site, profile);
  const plainRegion = setIn(ground.wireGround, runs, keepAways(site, profile), joinOf(profile));
  const base = { site, profile, options, known, ground, runs, plainRegion };
  const forced = new Set<Thing>();
  let narrowed: Narrowed | undefined;
  const layAll = (runGround: readonly RunGround[]): Layout => {
    let layout = lay(base, forced, runGround, narrowed);
    narrowed = layout.narrowed;
    for (let round = 0; round < ROUNDS && layout.blockedBy.length > 0; round++) {
      for (const thing of layout.blockedBy) forced.add(thing);
      layout = lay(base, forced, runGround, narrowed);
    }
    return layout;
  };
  const runGround = runGroundOfSite(site, ground, profile);
  return { base, runGround, layout: layAll(runGround), forced, layAll };
}

interface Layout {
  readonly narrowed: Narrowed;
  readonly joined: readonly Thing[];
  readonly free: readonly Thing[];
  readonly parts: Parts;
  /** Lawn given up so that islands share a loop or join the edge. */
  readonly givenUp: readonly AreaM[];
  readonly islandFindings: readonly Finding[];
  /** Parts that are too small for a loop. */
  readonly tooSmall: readonly AreaM[];
  readonly drafts: readonly LoopDraft[];
  readonly laid: LaidLoops;
  /** Parts that were set in further to keep their loops apart. */
  readonly apart: readonly SetApart[];
  readonly stationFindings: readonly Finding[];
  readonly blockedBy: readonly Thing[];
}

/** @param earlier narrowings of an earlier round: near enough to keep stations away from them */
function lay(
  { site, profile, ground, runs, plainRegion, options, known: knowledge }: Base,
  forced: ReadonlySet<Thing>,
  runGround: readonly RunGround[],
  earlier: Narrowed | undefined,
): Layout {
  const known = [...forced];
  const before = shutOut(plainRegion, known, site, profile);
  const rest = ground.freeFirm.filter((thing) => !forced.has(thing));
  const { joined: near, free } = joinFirmThings(rest, before, profile);
  const joined = [...known, ...near];
  const region = shutOut(before, near, site, profile);
  const reached = findParts(region, profile.passage.driveMinM, profile.corners.innerAngleMinDeg);
  const rate = options.lawnPerWireM2 ?? DEFAULT_LAWN_PER_WIRE_M2;
  const merged = reached.parts.map((part) => mergeIslands(part, rate));
  const parts: Parts = { parts: merged.map((m) => m.part), narrow: reached.narrow };
  const tooSmall: AreaM[] = [];
  const looped: AreaM[] = [];
  for (const part of parts.parts) {
    if (areaM2(part) < LEAST_LOOP_M2) tooSmall.push(part);
    else looped.push(part);
  }
  // A single small lawn is what was asked for, however small.
  if (looped.length === 0 && tooSmall.length > 0) looped.push(tooSmall.shift()!);
  // Parts that hang on one wire, or are left out, need no spacing.
  const apart: PartsApart =
    (options.parts ?? "own") === "own"
      ? setApart(looped, free, profile)
      : { parts: looped, set: [], joined: [] };
  const narrowed = earlier ?? {
    found: findNarrowings(passageChains(runs, joined, free, site, profile), profile),
    joined,
  };
  const laid = layLoops(
    {
      parts: apart.parts,
      free: free.filter((thing) => !apart.joined.includes(thing)),
      shutOut: [...ground.soft, ...joined, ...apart.joined],
      crossed: ground.crossed,
      stations: site.stations,
      stationGround: stationGround(site, looped, narrowed.found, knowledge, profile),
      runGround,
      split: options.split ?? true,
      sharing: { loadsWithin: options.loadsWithin ?? DEFAULT_LOADS_WITHIN },
      keep: options.keep ?? [],
      numbered: options.numbered ?? [],
    },
    profile,
  );
  return {
    narrowed,
    joined: [...joined, ...apart.joined, ...laid.joined],
    free: laid.free,
    parts,
    laid,
    apart: apart.set,
    givenUp: merged.flatMap((m, i) =>
      m.merges > 0 ? difference([reached.parts[i]!], [m.part]) : [],
    ),
    islandFindings: merged.flatMap((m) =>
      m.merges > 0
        ? say.islandsShare(m.merges, m.savedM, m.givenUpM2, rate, interiorPoint(m.part))
        : [],
    ),
    tooSmall,
    drafts: laid.drafts,
    stationFindings: laid.unusedStations.map((s) => say.stationUnused(s.name, s.atM)),
    blockedBy: laid.drafts.flatMap((draft) => draft.blockedBy),
  };
}

/** The wire region without things that must be shut out, at the set-in of what their edges are. */
function shutOut(
  region: readonly AreaM[],
  things: readonly Thing[],
  site: Site,
  profile: Profile,
): readonly AreaM[] {
  if (things.length === 0) return region;
  const areas = things.flatMap((thing) => thing.areas);
  return difference(region, awayFrom(areas, labelEdges(areas, site, profile), joinOf(profile)));
}

function finish(
  base: Base,
  layout: Layout,
  forced: ReadonlySet<Thing>,
  runGround: readonly RunGround[],
  choice: PartsChoice,
): Plan {
  const { site, profile, ground, runs, known, options } = base;
  const { joined, parts, tooSmall, free } = layout;
  const firm = [...joined, ...free].flatMap((t) => t.areas);
  const mowable = difference(ground.wireGround, [...firm, ...ground.crossed]);
  const paving = site.things.filter((t) => t.contact === "flush").flatMap((t) => t.areas);
  const noWire = keptClear(noWireAreas(runGround));
  // What is shut out may lie over a path: a run to a carried part keeps off it there too.
  const shutAreas = ground.soft.flatMap((t) => t.areas);
  const carried = [...ground.wireGround, ...difference(paving, shutAreas)];
  const carry = { areas: noWire.length > 0 ? difference(carried, noWire) : carried, firm };
  const settled = settleParts(layout.laid, choice, mowable, carry, profile);
  const { divided } = settled.laid;
  const freeAreas = free.flatMap((t) => t.areas);
  const guided = settled.laid.drafts.map((draft) =>
    withGuide(withOptions(draft), freeAreas, noWire, profile),
  );
  const drafts = guided.map(({ draft }) => draft);
  const loops = [
    ...drafts.map((d) => ({ name: d.loop.name, inside: d.inside })),
    ...settled.carried,
  ];
  const insides = loops.map((loop) => loop.inside);
  const unwired = groundWithout(ground.wireGround, insides);
  const withoutLoop = groundWithout(unwired, settled.leftOut);
  const leftOut = unwired.filter((area) => !withoutLoop.includes(area));
  const backToEdge = (areas: readonly AreaM[]): AreaM[] =>
    grow(areas, profile.setinM.open, "round");
  const left = leftovers(
    mowable,
    loops,
    [
      {
        areas: [
          ...stripsBetween(settled.laid),
          ...backToEdge(layout.apart.flatMap(({ givenUp }) => givenUp)),
        ],
        reason: BETWEEN_LOOPS,
      },
      {
        areas: [...leftOut, ...backToEdge(settled.leftOut)],
        reason: "cannot be driven to, left out as asked",
      },
      {
        areas: backToEdge([...parts.narrow, ...divided.flatMap((one) => one.lost)]),
        reason: "narrower than the machine drives through",
      },
      { areas: layout.givenUp, reason: "given up to save wire" },
      {
        areas: [...withoutLoop, ...backToEdge(tooSmall)],
        reason: "too small or too narrow for a loop of its own",
      },
    ],
    profile,
  );
  const passages = passagesOf(
    measuredWith(base, layout),
    profile,
    surroundingsOf(site, ground, runs, drafts, loops, left.mown),
  );
  const findings: Finding[] = [
    ...passages.flatMap((p) => say.passageFinding(p, profile) ?? []),
    ...partFindings(drafts, settled.laid.partOf),
    ...settled.findings,
    ...splitFindings(settled.laid, left, profile),
    ...apartFindings(layout.apart, layout.laid, profile.loop.spacingM),
    ...tooSmall.map((part) => say.partTooSmall(areaM2(part), interiorPoint(part))),
    ...withoutLoop.map((area) => say.lawnTooNarrow(areaM2(area), interiorPoint(area))),
    ...joined.map((thing) =>
      forced.has(thing)
        ? say.firmBlocksRun(thing, interiorPoint(thing.areas[0]!))
        : say.firmJoined(thing, profile.passage.driveMinM, interiorPoint(thing.areas[0]!)),
    ),
    ...ground.crossings.map(({ paths, between }) => say.pathCrossed(paths, between)),
    ...layout.stationFindings,
    ...layout.islandFindings,
    ...islandsInTheEdge(ground, insides).map((thing) =>
      say.islandJoinsEdge(thing, interiorPoint(thing.areas[0]!)),
    ),
    ...drafts.flatMap((draft) => {
      const own = left.mown.filter((area) => area.loop === draft.loop.name);
      const mownM2 = own.reduce((sum, area) => sum + area.areaM2, 0);
      return [
        ...loopFindings(draft, mownM2, site, runGround, profile, known),
        ...groundFindings(draft, runGround, profile),
      ];
    }),
    ...guided.flatMap(({ draft: { loop, station }, blocked }) =>
      blocked ? [guideLeftOut(loop.name, station.atM)] : [],
    ),
  ];
  return {
    siteName: site.name,
    grid: site.grid,
    profile,
    groundM2: totalAreaM2(mowable),
    loops: drafts.map((d) => numberedAsBefore(d.loop, options.numbered ?? [])),
    passages,
    parts: { choice, compared: settled.compared },
    ...left,
    findings: findings.map((f) => (f.atM ? { ...f, at: site.grid.inverse(f.atM) } : f)),
  };
}

/** Next best places shown for a station. */
const OPTIONS = 3;
/** From a station that the user placed a better place may be this near, metres. */
const FROM_GIVEN_M = 1;

/** A loop with its station's place in figures, and the next best places. */
function withOptions(draft: LoopDraft): LoopDraft {
  const { loop, station } = draft;
  const { search, given, straightM } = station;
  const figures = { ...station.figures, straightM };
  const options = search.nextBest(OPTIONS, station.atM, given ? FROM_GIVEN_M : undefined);
  return { ...draft, loop: { ...loop, station: { ...loop.station, figures, options } } };
}

/** The narrowings as they are with what is shut out in the end: mostly those of the first round. */
function measuredWith(
  { site, profile, runs }: Base,
  { narrowed, joined, free }: Layout,
): Narrowings | undefined {
  const same =
    joined.length === narrowed.joined.length &&
    joined.every((thing, i) => thing === narrowed.joined[i]);
  if (same) return narrowed.found;
  return findNarrowings(passageChains(runs, joined, free, site, profile), profile);
}

/** A loop with its guide wire, where the profile has one and it leads somewhere. */
function withGuide(
  draft: LoopDraft,
  firm: readonly AreaM[],
  noWire: readonly AreaM[],
  profile: Profile,
): { draft: LoopDraft; blocked: boolean } {
  if (profile.guide.wires === 0) return { draft, blocked: false };
  const guide = guideOf(draft, firm, noWire, profile);
  if (guide) {
    return { draft: { ...draft, loop: { ...draft.loop, guideWires: [guide] } }, blocked: false };
  }
  const blocked = noWire.length > 0 && guideOf(draft, firm, [], profile) !== undefined;
  return { draft, blocked };
}

/** Pieces of ground in which no loop lies. */
function groundWithout(ground: readonly AreaM[], insides: readonly AreaM[]): AreaM[] {
  const index = new AreaIndex(ground);
  const used = new Set(insides.map((inside) => index.locate(inside.shell[0]!, inside.shell[1]!)));
  return ground.filter((_, i) => !used.has(i));
}
