/** The parts of a site, those that are more than one loop may have divided. */
import { AreaIndex } from "../geometry/area-index.ts";
import { grow } from "../geometry/offset.ts";
import { difference } from "../geometry/overlay.ts";
import { areaM2, interiorPoint } from "../geometry/rings.ts";
import { withoutShortEdges } from "../geometry/short-edges.ts";
import { soundAreas } from "../geometry/sound-areas.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { Thing } from "../model/site.ts";
import { joinOf } from "./corner-join.ts";
import { reached, type Standing } from "./cut-region.ts";
import { joinFirmThings, setinOf } from "./obstacles.ts";
import { keptApart } from "./spaced.ts";
import { type Split, splitPart } from "./split.ts";
import type { Breach } from "./split-tries.ts";

/** Where a cut passes close by a corner, edges shorter than this are taken off, metres. */
const SHORT_EDGE_M = 0.003;

/** What one part became: itself, or one piece a loop. */
export interface PartPieces {
  readonly pieces: readonly AreaM[];
  readonly split?: Split;
  /** Firm things that stand too near a cut: the wire goes round them. */
  readonly joined: readonly Thing[];
  /** What the machine no longer reaches. */
  readonly lost: readonly AreaM[];
}

/**
 * @param free firm things standing free in the part
 * @param crossed paving in it that the machine crosses but does not mow
 * @param known what a division broke that was tried before
 */
export function piecesOf(
  part: AreaM,
  free: readonly Thing[],
  crossed: readonly AreaM[],
  profile: Profile,
  known: Breach | undefined,
): PartPieces {
  const standing = [
    ...free.flatMap((thing) => thing.areas.map((area) => stands(area, setinOf(thing, profile)))),
    ...crossed.map((area) => stands(area, undefined)),
  ];
  const split = splitPart(part, standing, profile, known);
  if (!split) return { pieces: [part], joined: [], lost: [] };
  const { joined } = joinFirmThings(free, split.pieces, profile);
  const walls = joined.flatMap((thing) =>
    grow(thing.areas, setinOf(thing, profile), joinOf(profile)),
  );
  const apart = keptApart(split.pieces, profile.loop.spacingM);
  const opened = reached(difference(apart.flat(), walls), profile);
  // Cut, shut out and opened: still one piece each, but for rare crumbs, which are left out.
  const origin = new AreaIndex(split.pieces);
  const found: AreaM[][] = split.pieces.map(() => []);
  for (const piece of opened.parts) found[origin.locate(...interiorPoint(piece))]?.push(piece);
  const lost = [...split.lost, ...opened.narrow, ...found.flatMap((list) => list.slice(1))];
  const pieces = found.flatMap((list) => list.slice(0, 1).flatMap(cleaned));
  return { pieces, split, joined, lost };
}

/** Paving that is crossed has no set-in: a wire may lie across it. */
function stands(area: AreaM, setinM: number | undefined): Standing {
  return { area, areaM2: areaM2(area), ...(setinM === undefined ? {} : { setinM }) };
}

/** A piece without hairs: holes of no area, edges of millimetres, what hangs on it by a point. */
function cleaned(piece: AreaM): AreaM[] {
  const sound = soundAreas([piece]).sort((a, b) => areaM2(b) - areaM2(a));
  return sound.slice(0, 1).map((one) => withoutShortEdges(one, SHORT_EDGE_M));
}
