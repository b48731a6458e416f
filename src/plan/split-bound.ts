/** What a loop may have and what a piece of lawn takes. */
import { ringLengthM } from "../geometry/rings.ts";
import { spanningNetwork } from "../geometry/spanning-network.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";

/** Least number of loops, by lawn and by wire. */
export interface LoopBound {
  readonly byArea: number;
  readonly byWire: number;
}

/** Length of the rings of wire of a piece, metres. */
export function ringsM({ shell, holes }: AreaM): number {
  return holes.reduce((sum, hole) => sum + ringLengthM(hole), ringLengthM(shell));
}

/** Wire that a piece takes: its rings, and out and back on the shortest network that ties them. */
export function wireNeededM(area: AreaM): number {
  if (area.holes.length === 0) return ringsM(area);
  const links = spanningNetwork([area.shell, ...area.holes], new Set([0]));
  return ringsM(area) + 2 * links.reduce((sum, link) => sum + link.lengthM, 0);
}

/** Lawn that a machine keeps in a piece: what is inside the wire, and what the blades reach past it. */
export function lawnKeptM2(area: AreaM, lawnM2: number, profile: Profile): number {
  return lawnM2 + profile.mowing.pastWireM * ringsM(area);
}

/**
 * Fewer loops than this cannot do. By lawn: the area of the piece over what one machine keeps. By
 * wire: its rings have to be laid whatever the cuts, and each loop goes round its share of the
 * lawn, which no ring shorter than a circle's does (isoperimetric inequality).
 */
export function loopBound(area: AreaM, lawnM2: number, profile: Profile): LoopBound {
  const { lengthMaxM, areaMaxM2 } = profile.loop;
  const least = (count: number): number => Math.max(1, Math.ceil(count - 1e-9));
  return {
    byArea: least(lawnKeptM2(area, lawnM2, profile) / areaMaxM2),
    byWire: Math.max(
      least(ringsM(area) / lengthMaxM),
      least((4 * Math.PI * lawnM2) / (lengthMaxM * lengthMaxM)),
    ),
  };
}
