/**
 * Bends of the wire with a least radius.
 *
 * A convex corner of the lawn is rounded by the opening with a disc of that radius: what the disc
 * does not reach is left to the trimmer. Where the opening would take more than a corner (a bay
 * narrower than the disc, a sharp tip) the corner gets half the narrowest passage for its radius.
 * Both come from what the discs cover, as one area: the outline cannot cross or double back.
 * Bends round things that stick out into the lawn have the set-in for their radius and cannot have
 * more: both are told.
 */
import { grow, shrink } from "../geometry/offset.ts";
import { difference, intersection, union } from "../geometry/overlay.ts";
import { areaM2, interiorPoint, totalAreaM2 } from "../geometry/rings.ts";
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
  const wide = openedBy(part, radiusM);
  const asked = wide.corners.filter(
    (corner) => !corner.isCorner || corner.depthM > reach * radiusM,
  );
  const deep = asked.filter((corner) => corner.depthM > SLACK_M);
  const shallow = asked.filter((corner) => corner.depthM <= SLACK_M);
  const smallM = Math.min(radiusM, profile.passage.driveMinM / 2 - 2 * ALLOWANCE_M);
  const small = openedBy(part, smallM);
  const gates = small.corners.filter((corner) => !corner.isCorner);
  const piecesOf = (corners: readonly Corner[]): AreaM[] =>
    grow(
      corners.map((corner) => corner.piece),
      ALLOWANCE_M,
      "round",
    );
  // Covers reach past the part's edge, so that cutting the part by them leaves no hair along it.
  const covered = union([
    ...wide.cover,
    ...intersection(union([...small.cover, ...piecesOf(gates)]), piecesOf(deep)),
    ...piecesOf(shallow),
  ]);
  const [largest, ...rest] = intersection([part], covered).sort((a, b) => areaM2(b) - areaM2(a));
  // Where the discs part the ground or do not fit at all, it is ringed as it is, and told.
  if (!largest || totalAreaM2(rest) > LEAST_PIECE_M2) return leftSharp(part, profile);
  return {
    part: largest,
    tight: [...deep.map((corner) => corner.atM), ...tightOutside(largest, radiusM)],
  };
}

/** The part with its corners as they are, and all that bend more tightly than asked. */
export function leftSharp(part: AreaM, profile: Profile): RoundedPart {
  const radiusM = profile.corners.bendRadiusMinM;
  if (radiusM <= 0) return { part, tight: [] };
  const corners = openedBy(part, radiusM).corners.map((corner) => corner.atM);
  return { part, tight: [...corners, ...tightOutside(part, radiusM)] };
}

interface Corner {
  readonly piece: AreaM;
  readonly depthM: number;
  readonly atM: PointM;
  /** Touched by the disc from one side only, and no gate. */
  readonly isCorner: boolean;
}

/** What a disc covers of an area, a little past its edges, and what it does not reach. */
function openedBy(area: AreaM, radiusM: number): { cover: AreaM[]; corners: Corner[] } {
  const cover = grow(shrink([area], radiusM, "round"), radiusM + ALLOWANCE_M, "round");
  const edges = new SegmentIndex([area.shell, ...area.holes]);
  const corners = difference([area], cover)
    .filter((piece) => areaM2(piece) > LEAST_PIECE_M2)
    .map((piece) => {
      const contacts = [piece.shell, ...piece.holes].flatMap((ring) => contactArcs(ring, edges));
      const [contact] = contacts;
      const isCorner =
        contacts.length === 1 && piece.holes.length === 0 && turnsBackAt(contact!).length === 0;
      const depth = contact ? depthM(piece.shell, contact) : Infinity;
      return { piece, depthM: depth, atM: interiorPoint(piece), isCorner };
    });
  return { cover, corners };
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
