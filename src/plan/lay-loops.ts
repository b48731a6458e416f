/** From parts to loops: a part that is more than one loop may have is divided, each piece is wired. */
import { AreaIndex } from "../geometry/area-index.ts";
import { areaM2, totalAreaM2 } from "../geometry/rings.ts";
import type { AreaM } from "../model/geometry.ts";
import type { KeptWire, NumberedLoop } from "../model/plan-options.ts";
import type { Profile } from "../model/profile.ts";
import type { RunGround } from "../model/run-ground.ts";
import type { PlacedPoint, Thing } from "../model/site.ts";
import { namesAsBefore } from "./keep-numbers.ts";
import { type LoopDraft, planLoop } from "./loop.ts";
import { loopName } from "./loop-name.ts";
import { shareStations } from "./share-stations.ts";
import type { Sharing } from "./split.ts";
import { lawnKeptM2 } from "./split-bound.ts";
import { type PartPieces, piecesOf } from "./split-parts.ts";
import type { Breach } from "./split-tries.ts";
import type { StationGround } from "./station-ground.ts";

export interface LoopsWanted {
  /** Parts to be ringed, metres. */
  readonly parts: readonly AreaM[];
  /** Firm things standing free. */
  readonly free: readonly Thing[];
  /** Everything that wires go round. */
  readonly shutOut: readonly Thing[];
  /** Paving that is crossed but not mown. */
  readonly crossed: readonly AreaM[];
  readonly stations: readonly PlacedPoint[];
  /** Where runs cost more or may not lie. */
  readonly runGround: readonly RunGround[];
  /** What is known round the places of stations. */
  readonly stationGround: StationGround;
  /** Whether a part that is more than one loop may have is divided. */
  readonly split: boolean;
  readonly sharing: Sharing;
  /** Wire of an earlier plan, which stays where it may. */
  readonly keep: readonly KeptWire[];
  /** Loops of an earlier plan, whose names stay. */
  readonly numbered: readonly NumberedLoop[];
}

export interface LaidLoops {
  readonly drafts: readonly LoopDraft[];
  /** Number of the part of each loop. */
  readonly partOf: readonly number[];
  readonly divided: readonly PartPieces[];
  /** Firm things that still stand free, and those that a cut came too near. */
  readonly free: readonly Thing[];
  readonly joined: readonly Thing[];
  readonly unusedStations: readonly PlacedPoint[];
}

/** Wire that comes out longer than reckoned divides a part anew; this often at most. */
const ROUNDS = 5;

/** Loops A, B, C … by part, largest first; the loops of one part follow each other. */
export function layLoops(wanted: LoopsWanted, profile: Profile): LaidLoops {
  const { parts } = wanted;
  const freeIn = thingsIn(parts, wanted.free);
  const crossedIn = areasIn(parts, wanted.crossed);
  const pieces = (i: number, known?: Breach): PartPieces =>
    wanted.split
      ? piecesOf(parts[i]!, freeIn[i]!, crossedIn[i]!, profile, wanted.sharing, known)
      : { pieces: [parts[i]!], joined: [], lost: [] };
  const divided = parts.map((_, i) => pieces(i));
  let laid = draw(wanted, divided, profile);
  for (let round = 0; round < ROUNDS && wanted.split; round++) {
    const worst = worstByPart(laid, wanted.crossed, profile);
    let more = false;
    for (const [part, { limit, value, ratio }] of worst) {
      const before = divided[part]!.pieces.length;
      const after = pieces(part, { loops: before, limit, value, ratio });
      if (after.pieces.length <= before) continue;
      divided[part] = after;
      more = true;
    }
    if (!more) break;
    laid = draw(wanted, divided, profile);
  }
  const names = namesAsBefore(
    laid.drafts.map(({ loop }) => loop),
    wanted.numbered,
  );
  const drafts = laid.drafts.map((draft, i) => ({
    ...draft,
    loop: { ...draft.loop, name: names[i]! },
  }));
  return { ...laid, drafts };
}

function draw(wanted: LoopsWanted, divided: readonly PartPieces[], profile: Profile): LaidLoops {
  const all = divided.flatMap(({ pieces }, part) => pieces.map((piece) => ({ piece, part })));
  const areas = all.map(({ piece }) => piece);
  const joined = divided.flatMap((one) => one.joined);
  const free = wanted.free.filter((thing) => !joined.includes(thing));
  const freeIn = thingsIn(areas, free);
  const { wanted: places, unused } = shareStations(areas, wanted.stations);
  const shutOut = [...wanted.shutOut, ...joined];
  return {
    drafts: areas.map((area, i) =>
      planLoop(
        loopName(i),
        area,
        shutOut,
        freeIn[i]!,
        places[i],
        profile,
        wanted.runGround,
        wanted.stationGround,
        wanted.keep,
      ),
    ),
    partOf: all.map(({ part }) => part),
    divided: [...divided],
    free,
    joined,
    unusedStations: unused,
  };
}

/** For each part the loop that is furthest over a limit, where one is. */
function worstByPart(
  laid: LaidLoops,
  crossed: readonly AreaM[],
  profile: Profile,
): Map<number, Omit<Breach, "loops">> {
  const insides = laid.drafts.map((draft) => draft.inside);
  const firm = thingsIn(insides, laid.free);
  const paved = areasIn(insides, crossed);
  const worst = new Map<number, Omit<Breach, "loops">>();
  laid.drafts.forEach(({ loop, inside }, i) => {
    const standingM2 = firm[i]!.reduce((sum, thing) => sum + totalAreaM2(thing.areas), 0);
    const lawnM2 = areaM2(inside) - standingM2 - totalAreaM2(paved[i]!);
    const keptM2 = lawnKeptM2(inside, lawnM2, profile);
    const { areaMaxM2, lengthMaxM } = profile.loop;
    const breaches = [
      { limit: "area" as const, value: keptM2, ratio: keptM2 / areaMaxM2 },
      { limit: "wire" as const, value: loop.lengthM, ratio: loop.lengthM / lengthMaxM },
    ];
    for (const breach of breaches) {
      const known = worst.get(laid.partOf[i]!);
      if (breach.ratio > Math.max(1, known?.ratio ?? 1)) worst.set(laid.partOf[i]!, breach);
    }
  });
  return worst;
}

function thingsIn(areas: readonly AreaM[], things: readonly Thing[]): Thing[][] {
  const index = new AreaIndex(areas);
  const found: Thing[][] = areas.map(() => []);
  for (const thing of things) {
    const ring = thing.areas[0]!.shell;
    found[index.locate(ring[0]!, ring[1]!)]?.push(thing);
  }
  return found;
}

function areasIn(areas: readonly AreaM[], inner: readonly AreaM[]): AreaM[][] {
  const index = new AreaIndex(areas);
  const found: AreaM[][] = areas.map(() => []);
  for (const one of inner) found[index.locate(one.shell[0]!, one.shell[1]!)]?.push(one);
  return found;
}
