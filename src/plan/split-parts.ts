/** The parts of a site, those that are more than one loop may have divided. */
import { grow } from "../geometry/offset.ts";
import { difference } from "../geometry/overlay.ts";
import { areaM2, boxesMeet, boxOf } from "../geometry/rings.ts";
import { withoutShortEdges } from "../geometry/short-edges.ts";
import { soundAreas } from "../geometry/sound-areas.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { Thing } from "../model/site.ts";
import { joinOf } from "./corner-join.ts";
import { reached, type Standing } from "./cut-region.ts";
import { joinFirmThings, setinOf } from "./obstacles.ts";
import { keptApart } from "./spaced.ts";
import { type Sharing, type Split, splitPart } from "./split.ts";
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
 * @param sharing how lawn is shared out between loops
 * @param known what a division broke that was tried before
 */
export function piecesOf(
  part: AreaM,
  free: readonly Thing[],
  crossed: readonly AreaM[],
  profile: Profile,
  sharing: Sharing,
  known: Breach | undefined,
): PartPieces {
  const standing = [
    ...free.flatMap((thing) => thing.areas.map((area) => stands(area, setinOf(thing, profile)))),
    ...crossed.map((area) => stands(area, undefined)),
  ];
  const split = splitPart(part, standing, profile, sharing, known);
  if (!split) return { pieces: [part], joined: [], lost: [] };
  const { joined } = joinFirmThings(free, split.pieces, profile);
  const walls = joined.flatMap((thing) =>
    grow(thing.areas, setinOf(thing, profile), joinOf(profile)),
  );
  const apart = keptApart(split.pieces, profile.loop.spacingM);
  const pieces: AreaM[] = [];
  const lost: AreaM[] = [...split.lost];
  split.pieces.forEach((piece, i) => {
    const own = apart[i]!;
    const near = walls.filter((wall) => boxesMeet(boxOf(wall.shell), boxOf(piece.shell)));
    if (near.length === 0 && own.length === 1 && own[0] === piece) {
      // Opened where it was cut.
      pieces.push(...cleaned(piece));
      return;
    }
    // Shut out and opened: still one piece, but for rare crumbs, which are left out.
    const opened = reached(difference(own, near), profile);
    pieces.push(...opened.parts.slice(0, 1).flatMap(cleaned));
    lost.push(...opened.narrow, ...opened.parts.slice(1));
  });
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
