/**
 * Parts with loops of their own, kept apart by the spacing that the profile wants between loops: the
 * smaller of two is set in further on the side where they are too near.
 *
 * A part that would fall apart by it, or lose more than a share of its lawn, stays as it is; that its
 * wire is too near is told (`LOOPS_NEAR`).
 */
import { grow } from "../geometry/offset.ts";
import { difference } from "../geometry/overlay.ts";
import { areaContains, areaM2, totalAreaM2 } from "../geometry/rings.ts";
import { withoutShortEdges } from "../geometry/short-edges.ts";
import { soundAreas } from "../geometry/sound-areas.ts";
import type { Finding } from "../model/finding.ts";
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { Thing } from "../model/site.ts";
import { joinOf } from "./corner-join.ts";
import { reached } from "./cut-region.ts";
import type { LaidLoops } from "./lay-loops.ts";
import { joinFirmThings, setinOf } from "./obstacles.ts";
import { keptApart, pairsNearer } from "./spaced.ts";

/** A part that would lose more of its lawn than this share is not set in. */
const MOST_LOST_SHARE = 0.2;
/** Edges shorter than this, which a cut leaves close by a corner, are taken off, metres. */
const SHORT_EDGE_M = 0.003;
/** Parts may come nearer than the spacing by this, metres. */
const TOLERANCE_M = 0.001;

/** A part that was set in further. */
export interface SetApart {
  /** Its number among the parts, and that of the one it was nearest to. */
  readonly part: number;
  readonly beside: number;
  /** How near it came, and where. */
  readonly distanceM: number;
  readonly atM: PointM;
  /** What its wire no longer holds. */
  readonly givenUp: readonly AreaM[];
}

export interface PartsApart {
  readonly parts: readonly AreaM[];
  readonly set: readonly SetApart[];
  /** Firm things that stand too near the new edges: the wire goes round them. */
  readonly joined: readonly Thing[];
}

/**
 * @param parts what the machine reaches, largest first, metres
 * @param free firm things standing free on them
 */
export function setApart(
  parts: readonly AreaM[],
  free: readonly Thing[],
  profile: Profile,
): PartsApart {
  const now = [...parts];
  const set: SetApart[] = [];
  const joined: Thing[] = [];
  const near = pairsNearer(parts.map(ringsOf), profile.loop.spacingM - TOLERANCE_M);
  // Each gives way to larger ones, which are settled by then.
  for (let part = 1; part < parts.length; part++) {
    const pairs = near.filter(({ second }) => second === part);
    const [worst] = [...pairs].sort((a, b) => a.distanceM - b.distanceM);
    if (!worst) continue;
    const fitted = fittedIn(
      now[part]!,
      pairs.map(({ first }) => now[first]!),
      free,
      profile,
    );
    if (!fitted) continue;
    const { distanceM, atM, first: beside } = worst;
    const givenUp = difference([now[part]!], [fitted.part]);
    set.push({ part, beside, distanceM, atM, givenUp });
    joined.push(...fitted.joined);
    now[part] = fitted.part;
  }
  return { parts: now, set, joined };
}

function ringsOf({ shell, holes }: AreaM): RingM[] {
  return [shell, ...holes];
}

/** A part kept clear of others; undefined where that leaves too little of it. */
function fittedIn(
  part: AreaM,
  others: readonly AreaM[],
  free: readonly Thing[],
  profile: Profile,
): { part: AreaM; joined: readonly Thing[] } | undefined {
  const cut = keptApart([...others, part], profile.loop.spacingM)[others.length]!;
  const standing = free.filter(({ areas: [area] }) =>
    areaContains(part, area!.shell[0]!, area!.shell[1]!),
  );
  const { joined } = joinFirmThings(standing, cut, profile);
  const walls = joined.flatMap((thing) =>
    grow(thing.areas, setinOf(thing, profile), joinOf(profile)),
  );
  const { parts } = reached(walls.length > 0 ? difference(cut, walls) : cut, profile);
  const [sound] = soundAreas(parts).sort((a, b) => areaM2(b) - areaM2(a));
  if (!sound || areaM2(sound) < (1 - MOST_LOST_SHARE) * areaM2(part)) return undefined;
  return { part: withoutShortEdges(sound, SHORT_EDGE_M), joined };
}

/** What was given up, loop by loop. */
export function apartFindings(
  set: readonly SetApart[],
  { drafts, partOf }: LaidLoops,
  spacingM: number,
): Finding[] {
  const loopsOf = (part: number): string => {
    const names = drafts.filter((_, i) => partOf[i] === part).map(({ loop }) => loop.name);
    return names.length === 1 ? `loop ${names[0]}` : `loops ${names.join(", ")}`;
  };
  return set.map(({ part, beside, distanceM, atM, givenUp }) => ({
    code: "LOOPS_SET_APART",
    severity: "info",
    message: `The wire of ${loopsOf(part)} would come within ${distanceM.toFixed(2)} m of ${loopsOf(beside)}: it is set in further there, ${spacingM} m from it as the profile wants, and ${totalAreaM2(givenUp).toFixed(1)} m² of lawn are given up.`,
    remedy:
      "Nothing. Where the machines tell their loops apart at less, a smaller loop.spacing_m gives the lawn back.",
    atM,
  }));
}
