/**
 * Parts: what of the wire region the machine can reach, each to be ringed by one loop.
 *
 * Morphological opening by the narrowest width the machine drives through: the centres that a disc
 * of that width can take, and all that the disc covers from there. Only the leftovers that are
 * truly narrow are taken away, so everywhere else the outline stays the exact set-in:
 * - a corner keeps its form when it is no sharper than about a right angle;
 * - a sharper corner or a tapering end is cut where it becomes too narrow;
 * - a neck, and a gap between two islands or an island and the edge, is closed. So islands merge,
 *   or become part of the edge, exactly where the machine cannot pass between or behind.
 */
import { grow, growLines, shrink } from "../geometry/offset.ts";
import { areasFromRings, difference } from "../geometry/overlay.ts";
import { areaM2, type BoxTest, boxOf } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { AreaM, LineM } from "../model/geometry.ts";
import { contactArcs, depthM, turnsBackAt } from "./contact-arcs.ts";
import { leftByOpening, leftInWindows } from "./opening.ts";

/** Growing back a little further than shrinking hides what arcs of straight chords leave, metres. */
const ARC_ALLOWANCE_M = 0.002;
/** Cuts reach this far over the edges beside them, so that no hair of ground keeps parts joined, metres. */
const CUT_OVERLAP_M = 0.0001;
/** Corners at least this wide are laid as they are where nothing else is asked, degrees. */
const DEFAULT_INNER_ANGLE_DEG = 85;
/** Half the width of a cut across a place that no disc fits through but several reach into, metres. */
const GATE_HALF_M = 0.15;

/**
 * What a cut leaves too narrow reaches no further from it than this, in widths that the machine
 * needs: a width to what faces the cut, and two more for what is left over round such a place.
 */
export const NEAR_CUT_WIDTHS = 3;

export interface Parts {
  /** What the machine reaches, one area a part, largest first. */
  readonly parts: readonly AreaM[];
  /** What it does not reach of the wire region. */
  readonly narrow: readonly AreaM[];
}

/** How far the tip of a corner lies past a disc that touches both its sides, in disc radii. */
export function cornerReach(angleDeg: number): number {
  return 1 / Math.sin((angleDeg * Math.PI) / 360) - 1;
}

/**
 * @param wireRegion where the wire may lie, metres
 * @param driveMinM narrowest width between wires that the machine drives through
 * @param innerAngleMinDeg corners at least this wide are left as they are, sharper ones are cut
 * @param nearCuts ground of which the machine reached all before it was cut: which edges lie within
 *   `NEAR_CUT_WIDTHS` widths of a cut. It is looked only there
 */
export function findParts(
  wireRegion: readonly AreaM[],
  driveMinM: number,
  innerAngleMinDeg = DEFAULT_INNER_ANGLE_DEG,
  nearCuts?: BoxTest,
): Parts {
  const reach = cornerReach(innerAngleMinDeg);
  // A width of exactly the minimum is wide enough.
  const radiusM = driveMinM / 2 - ARC_ALLOWANCE_M;
  const rings = wireRegion.flatMap((area) => [area.shell, ...area.holes]);
  const edges = new SegmentIndex(rings, true, nearCuts);
  const disc = { radiusM, allowanceM: ARC_ALLOWANCE_M };
  const cornerRad = (innerAngleMinDeg * Math.PI) / 180;
  const leftovers = nearCuts
    ? leftInWindows(wireRegion, edges, disc, cornerRad)
    : leftByOpening(wireRegion, edges, disc, cornerRad);
  const narrow = leftovers.flatMap((piece) => narrowOf(piece, edges, radiusM, reach));
  const left =
    narrow.length === 0
      ? [...wireRegion]
      : difference(wireRegion, grow(narrow, CUT_OVERLAP_M, "mitre"));
  const parts: AreaM[] = [];
  const dropped: AreaM[] = [...narrow];
  for (const area of left) {
    // What has no centre in it is a sliver between two cuts.
    if (areaM2(area) > 4 * radiusM * radiusM || holdsCentre(area, radiusM)) parts.push(area);
    else dropped.push(area);
  }
  parts.sort(largestFirst);
  return { parts, narrow: dropped };
}

/** By area; equal areas from west to east, south to north, so that input order does not matter. */
function largestFirst(a: AreaM, b: AreaM): number {
  const byArea = Math.round(1000 * areaM2(b)) - Math.round(1000 * areaM2(a));
  if (byArea !== 0) return byArea;
  const boxA = boxOf(a.shell);
  const boxB = boxOf(b.shell);
  return boxA.minE - boxB.minE || boxA.minN - boxB.minN;
}

function holdsCentre(area: AreaM, radiusM: number): boolean {
  return shrink([area], radiusM - ARC_ALLOWANCE_M, "round").length > 0;
}

/** The part of a leftover that must go: nothing, some or all of it. */
function narrowOf(piece: AreaM, edges: SegmentIndex, radiusM: number, reach: number): AreaM[] {
  const contacts = [piece.shell, ...piece.holes].flatMap((ring) => contactArcs(ring, edges));
  if (contacts.length !== 1 || piece.holes.length > 0) {
    return [piece, ...contacts.flatMap((contact) => mouthOf(contact, radiusM))];
  }
  const contact = contacts[0]!;
  const gates = gatesIn(contact, radiusM);
  if (gates.length > 0) return [piece, ...growLines(gates, GATE_HALF_M, "round", "round")];
  if (depthM(piece.shell, contact) <= reach * radiusM) return [];
  return difference([piece], growLines([contact], reach * radiusM, "round", "round"));
}

/**
 * Lines across gates that are too narrow and so short that discs on both sides of them overlap: the
 * cover hangs together there although nothing drives through. Each runs from where the arcs of the
 * two discs meet to where their circles meet again.
 */
function gatesIn(contact: LineM, radiusM: number): LineM[] {
  return turnsBackAt(contact).map(({ atM: [e, n], across }) =>
    Float64Array.of(e, n, e + radiusM * across[0], n + radiusM * across[1]),
  );
}

/**
 * The cap between the disc's arc in the mouth of a closed neck and the chord across the mouth: taken
 * away too, so that the wire goes straight across. It lies within one disc, so nothing else is lost.
 */
function mouthOf(contact: LineM, radiusM: number): AreaM[] {
  const n = contact.length;
  const chord = Math.hypot(contact[n - 2]! - contact[0]!, contact[n - 1]! - contact[1]!);
  if (n < 6 || chord > 2.05 * radiusM) return [];
  return areasFromRings([contact], "non-zero").filter((a) => areaM2(a) < 2 * radiusM * radiusM);
}
