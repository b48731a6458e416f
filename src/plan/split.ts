/**
 * Divides a part that is more than one loop may have into the fewest loops.
 *
 * For each number of loops from the bound on, sketches are made in several manners. Where a sketch
 * keeps the limits, or nearly, the division is made in earnest; if a loop of it breaks a limit after
 * all, the next manner is tried, then more loops.
 */
import { simplified } from "../geometry/simplified.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import { type Region, regionOf, type Standing } from "./cut-region.ts";
import { type Division, divide, type Manner, ROUGH_M, sketch } from "./divide.ts";
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
import { type Breach, FIRST_TRY, type Learnt, Tries } from "./split-tries.ts";

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
  /** Why more loops than the bound are needed; what one fewer would break. */
  readonly more?: Breach;
}

const ROUNDS = 30;
/** Pieces of a sketch whose links are measured, as a share, and at least. */
const MEASURED_SHARE = 0.25;
const MEASURED_LEAST = 4;
/** A sketch that is over a limit by no more than this may keep it in earnest. */
const SKETCH_MARGIN = { area: 1.005, wire: 1.02, cut: 1 };
/** A division whose outlines are over a limit by more than this is over it with taut wire too. */
const OUTLINE_MARGIN = 1.06;
/** More loops are looked at after a breach by this share of what lawn and wire would need. */
const JUMP = 0.5;

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
  const lawnOnly = { m2PerWireM: 0, linkM: 0 };
  const { lawnM2 } = regionOf(part, standing, lawnOnly);
  const { wireM, worst } = loadOf(part, lawnM2, profile);
  if (!known && worst <= 1) return undefined;
  const bound = loopBound(part, lawnM2, profile);
  const least = Math.max(bound.byArea, bound.byWire);
  let loops = Math.max(2, least, (known?.loops ?? 0) + 1);
  const alone: Breach = {
    loops: 1,
    limit: "wire",
    value: wireM,
    ratio: wireM / profile.loop.lengthMaxM,
  };
  let more = known ?? (loops > least ? alone : undefined);
  let best: Made | undefined;
  /** The sketch that breaks least, for when none keeps the limits. */
  let nearest: { manner: Manner; cuts: Division["cuts"]; ratio: number } | undefined;
  const few = simplified(part, ROUGH_M);
  const linkM = meanLinkM(few);
  let learnt: Learnt = FIRST_TRY;
  const attempt = (manner: Manner): Breach | undefined => {
    const cannot: Breach = { loops, limit: "cut", value: 0, ratio: 1 };
    const drawn = sketch(regionOf(few, standing, manner.evened), manner, profile);
    if (!drawn) {
      // Outlines that cannot be cut in the rough may be cut as they are.
      const made = divideInEarnest(manner, new Map());
      return made ? made.breach : cannot;
    }
    const rough = roughBreach(drawn, linkM, profile);
    if (rough && rough.ratio > SKETCH_MARGIN[rough.limit]) {
      if (!nearest || rough.ratio < nearest.ratio)
        nearest = { manner, cuts: drawn.cuts, ratio: rough.ratio };
      return rough;
    }
    const made = divideInEarnest(manner, drawn.cuts);
    return made ? made.breach : cannot;
  };
  const divideInEarnest = (manner: Manner, cuts: Division["cuts"]): Made | undefined => {
    const division = divide(regionOf(part, standing, manner.evened), manner, cuts, profile);
    if (!division) return undefined;
    const wireEvened = manner.evened.m2PerWireM > 0;
    const made: Made = { division, wireEvened, breach: worstBreach(division, profile), more };
    if (!best || (made.breach?.ratio ?? 0) < (best.breach?.ratio ?? 0)) best = made;
    return made;
  };
  for (let round = 0; round < ROUNDS; round++) {
    const tries = new Tries(loops, lawnM2, linkM, learnt);
    let breach: Breach | undefined;
    for (let manner: Manner | undefined = tries.first(); manner; ) {
      const found = attempt(manner);
      if (!breach || !found || (found.ratio < breach.ratio && found.limit !== "cut"))
        breach = found;
      if (!found) break;
      manner = tries.next(manner, found);
    }
    if (!breach) break;
    learnt = tries.learnt;
    more = { ...breach, loops };
    // Wire of a loop falls no faster than its lawn: fewer than this will hardly do.
    loops += Math.max(1, Math.floor(JUMP * (breach.ratio - 1) * loops));
  }
  const made = best ?? (nearest && divideInEarnest(nearest.manner, nearest.cuts));
  if (!made) return undefined;
  const { division, wireEvened, more: why } = made;
  return { ...division, bound, lawnM2, wireM, wireEvened, ...(why && { more: why }) };
}

/** A division in earnest, what it breaks, and what fewer loops broke. */
interface Made {
  readonly division: Division;
  readonly wireEvened: boolean;
  readonly breach: Breach | undefined;
  readonly more: Breach | undefined;
}

/**
 * The worst breach by the outlines of a sketch. The links between islands are measured in the pieces
 * that have most wire by their rings and a mean link for each island.
 */
function roughBreach({ regions }: Division, linkM: number, profile: Profile): Breach | undefined {
  const about = regions.map(({ area, lawnM2 }) => {
    const wireM = ringsM(area) + 2 * linkM * area.holes.length;
    return { area, lawnM2, wireM };
  });
  const most = Math.max(MEASURED_LEAST, Math.ceil(MEASURED_SHARE * regions.length));
  const longest = [...about].sort((a, b) => b.wireM - a.wireM).slice(0, most);
  return worstOf(
    [
      ...longest.map(({ area, lawnM2 }) => roughLoad(area, lawnM2, profile)),
      ...about.map(({ area, lawnM2 }) => ({ lawnM2: lawnKeptM2(area, lawnM2, profile), wireM: 0 })),
    ],
    profile,
  );
}

/** The worst breach by the outlines; if all keep the limits, or nearly, the first by the taut wire. */
function worstBreach({ regions }: Division, profile: Profile): Breach | undefined {
  const rough = regions.map((region) => roughLoad(region.area, region.lawnM2, profile));
  const far = worstOf(rough, profile);
  if (far && far.ratio > OUTLINE_MARGIN) return far;
  const order = regions.map((_, i) => i).sort((a, b) => rough[b]!.worst - rough[a]!.worst);
  for (const i of order) {
    const { area, lawnM2 }: Region = regions[i]!;
    const breach = worstOf([loadOf(area, lawnM2, profile)], profile);
    if (breach) return breach;
  }
  return undefined;
}

function worstOf(loads: readonly Omit<Load, "worst">[], profile: Profile): Breach | undefined {
  let worst: Breach | undefined;
  const offer = (limit: "area" | "wire", value: number, most: number): void => {
    const ratio = value / most;
    if (ratio > 1 && ratio > (worst?.ratio ?? 1)) worst = { loops: 0, limit, value, ratio };
  };
  for (const { lawnM2, wireM } of loads) {
    offer("area", lawnM2, profile.loop.areaMaxM2);
    offer("wire", wireM, profile.loop.lengthMaxM);
  }
  return worst;
}
