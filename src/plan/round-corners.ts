/**
 * Bends of the wire with a least radius.
 *
 * A convex corner of the lawn is rounded by the opening with a disc of that radius: what the disc
 * does not reach is left to the trimmer. Where the opening would take more than a corner (a bay
 * narrower than the disc, a sharp tip) the corner gets half the narrowest passage for its radius.
 * Bends round things that stick out into the lawn have the set-in for their radius and cannot have
 * more: both are told.
 */
import { grow, shrink } from "../geometry/offset.ts";
import { difference, intersection } from "../geometry/overlay.ts";
import { areaM2, interiorPoint } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { AreaM, PointM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import { contactArcs, depthM, turnsBackAt } from "./contact-arcs.ts";
import { cornerReach } from "./parts.ts";

/** Chords of arcs lie this much inside them, and joins are judged to it, metres. */
const ALLOWANCE_M = 0.001;
/** What is left of a bend by its not being round enough, where that is no more than this, passes, metres. */
const SLACK_M = 0.01;
/** Corner pieces smaller than this are left where they are, m². */
const LEAST_PIECE_M2 = 1e-5;

export interface RoundedPart {
  readonly part: AreaM;
  /** Places where the wire bends more tightly than asked. */
  readonly tight: readonly PointM[];
}

/** @param part what the machine reaches, as wide everywhere as the narrowest driven passage */
export function roundCorners(part: AreaM, profile: Profile): RoundedPart {
  const radiusM = profile.corners.bendRadiusMinM;
  if (radiusM <= 0) return { part, tight: [] };
  const reach = cornerReach(profile.corners.innerAngleMinDeg);
  const sharp = cornersPast(part, radiusM);
  const wide = sharp.filter((corner) => corner.isCorner && corner.depthM <= reach * radiusM);
  const deep = sharp.filter((corner) => !wide.includes(corner) && corner.depthM > SLACK_M);
  const smallM = Math.min(radiusM, profile.passage.driveMinM / 2 - 2 * ALLOWANCE_M);
  const small = cornersPast(part, smallM)
    .filter((corner) => corner.isCorner)
    .map((corner) => corner.piece);
  const cut = [
    ...wide.map((corner) => corner.piece),
    ...intersection(
      small,
      deep.map((corner) => corner.piece),
    ),
  ];
  const left = cut.length === 0 ? [part] : difference([part], cut);
  const largest = [...left].sort((a, b) => areaM2(b) - areaM2(a))[0] ?? part;
  return {
    part: largest,
    tight: [...deep.map((corner) => corner.atM), ...tightOutside(largest, radiusM)],
  };
}

interface Corner {
  readonly piece: AreaM;
  readonly depthM: number;
  readonly atM: PointM;
  /** Touched by the disc from one side only, and no gate. */
  readonly isCorner: boolean;
}

/** What a disc does not reach of an area. */
function cornersPast(area: AreaM, radiusM: number): Corner[] {
  const covered = grow(shrink([area], radiusM, "round"), radiusM + ALLOWANCE_M, "round");
  const edges = new SegmentIndex([area.shell, ...area.holes]);
  return difference([area], covered)
    .filter((piece) => areaM2(piece) > LEAST_PIECE_M2)
    .map((piece) => {
      const contacts = [piece.shell, ...piece.holes].flatMap((ring) => contactArcs(ring, edges));
      const [contact] = contacts;
      const isCorner =
        contacts.length === 1 && piece.holes.length === 0 && turnsBackAt(contact!).length === 0;
      const depth = contact ? depthM(piece.shell, contact) : Infinity;
      return { piece, depthM: depth, atM: interiorPoint(piece), isCorner };
    });
}

/** Where the edge of an area bends round something more tightly than a disc of the radius. */
function tightOutside(area: AreaM, radiusM: number): PointM[] {
  const closed = shrink(grow([area], radiusM, "round"), radiusM + ALLOWANCE_M, "round");
  const edges = new SegmentIndex([area.shell, ...area.holes]);
  return difference(closed, [area]).flatMap((piece) => {
    if (areaM2(piece) <= LEAST_PIECE_M2) return [];
    const contacts = [piece.shell, ...piece.holes].flatMap((ring) => contactArcs(ring, edges));
    const deep = contacts.length !== 1 || depthM(piece.shell, contacts[0]!) > SLACK_M;
    return deep ? [interiorPoint(piece)] : [];
  });
}
