/** What a loop may have and what a piece of lawn takes. */
import { areaM2, ringLengthM } from "../geometry/rings.ts";
import { spanningNetwork } from "../geometry/spanning-network.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import { tautRings } from "./loop.ts";

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

/** Mean length of the links of the shortest network that ties the rings of a piece, metres. */
export function meanLinkM({ shell, holes }: AreaM): number {
  if (holes.length === 0) return 0;
  const links = spanningNetwork([shell, ...holes], new Set([0]));
  return links.reduce((sum, link) => sum + link.lengthM, 0) / holes.length;
}

/** Lawn that a machine keeps in a piece: what is inside the wire, and what the blades reach past it. */
export function lawnKeptM2(area: AreaM, lawnM2: number, profile: Profile): number {
  return lawnM2 + profile.mowing.pastWireM * ringsM(area);
}

/** Lawn kept, m², and wire, metres, of a piece as one loop; `worst` is the greater share of a limit. */
export interface Load {
  readonly lawnM2: number;
  readonly wireM: number;
  readonly worst: number;
}

/** Shares of a limit between which the wire as it will lie decides, not the piece's outline. */
const CLOSE: readonly [number, number] = [0.96, 1.06];

/** @param lawnM2 the piece's area less what stands on it */
export function loadOf(area: AreaM, lawnM2: number, profile: Profile): Load {
  const rough = roughLoad(area, lawnM2, profile);
  if (rough.worst < CLOSE[0] || rough.worst > CLOSE[1]) return rough;
  const [shell, ...holes] = tautRings(area, profile);
  const taut = { shell: shell!, holes };
  return roughLoad(taut, lawnM2 - areaM2(area) + areaM2(taut), profile);
}

/** The same by the outline alone. */
export function roughLoad(area: AreaM, lawnM2: number, profile: Profile): Load {
  const { areaMaxM2, lengthMaxM } = profile.loop;
  const kept = lawnKeptM2(area, lawnM2, profile);
  const wireM = wireNeededM(area);
  return { lawnM2: kept, wireM, worst: Math.max(kept / areaMaxM2, wireM / lengthMaxM) };
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
