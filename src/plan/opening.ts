/**
 * Morphological opening: what no disc inside areas covers.
 *
 * Discs matter only where the boundary faces itself nearer than their width, so on large ground only
 * windows round those places are opened. A disc that covers a point reaches no further than its
 * width from there: what is further than that from a window's rim comes out as if all were opened.
 */
import { facingPlaces } from "../geometry/facing-places.ts";
import { mergedBoxes } from "../geometry/merged-boxes.ts";
import { grow, shrink } from "../geometry/offset.ts";
import { difference, intersection } from "../geometry/overlay.ts";
import { type BoxM, boxOf } from "../geometry/rings.ts";
import type { SegmentIndex } from "../geometry/segment-index.ts";
import type { AreaM } from "../model/geometry.ts";

export interface Disc {
  readonly radiusM: number;
  /** The cover is grown this much further, metres: it hides what arcs of straight chords leave. */
  readonly allowanceM: number;
}

/** Windows are worth their while below this share of all edges. */
const SHARE_OF_EDGES = 0.5;
/** Ground of fewer edges is opened as a whole. */
const FEW_EDGES = 500;
/**
 * What is left over round a facing place ends within this many radii of it: it lies within ellipses
 * over chords of two radii, with paths of at most π/2 times that: (π/2 + 1) radii.
 */
const REACH_RADII = 3;
/** Windows reach this much further than discs do, metres. */
const SPARE_M = 0.05;
/** With more turn than this between two places a path may lead round a disc that touches both. */
const TURN_MOST_RAD = (100 * Math.PI) / 180;
/** Corners this much wider than those that may be left are looked at all the same. */
const TURN_SPARE_RAD = Math.PI / 180;

/**
 * What an opening by a disc leaves of areas, each piece whole and exact.
 *
 * @param edges of the areas' rings, in order
 * @param cornerRad pieces that are but the tips of corners as wide as this may be missing
 */
export function leftByOpening(
  areas: readonly AreaM[],
  edges: SegmentIndex,
  disc: Disc,
  cornerRad: number,
): AreaM[] {
  if (edges.count < FEW_EDGES) return leftOf(areas, disc);
  const windows = windowsOf(areas, edges, disc, cornerRad);
  let inWindows = 0;
  for (const { minE, minN, maxE, maxN } of windows) {
    inWindows += edges.inBox(minE, minN, maxE, maxN).length;
    if (inWindows > SHARE_OF_EDGES * edges.count) return leftOf(areas, disc);
  }
  return leftIn(windows, areas, disc);
}

/** What opening all at once leaves. */
export function leftOf(areas: readonly AreaM[], { radiusM, allowanceM }: Disc): AreaM[] {
  const centres = shrink(areas, radiusM, "round");
  return difference(areas, grow(centres, radiusM + allowanceM, "round"));
}

/**
 * The same, looked for only where the boundary faces itself.
 *
 * @param edges all, or those between which it is looked for
 */
export function leftInWindows(
  areas: readonly AreaM[],
  edges: SegmentIndex,
  disc: Disc,
  cornerRad: number,
): AreaM[] {
  return leftIn(windowsOf(areas, edges, disc, cornerRad), areas, disc);
}

/** How much further than what is looked for a window reaches, metres. */
function rimOf({ radiusM, allowanceM }: Disc): number {
  return 2 * (radiusM + allowanceM) + SPARE_M;
}

function windowsOf(
  areas: readonly AreaM[],
  edges: SegmentIndex,
  disc: Disc,
  cornerRad: number,
): BoxM[] {
  const turnRad = Math.min(Math.PI - cornerRad - TURN_SPARE_RAD, TURN_MOST_RAD);
  const places = facingPlaces(areas, edges, 2 * (disc.radiusM + disc.allowanceM), turnRad);
  return mergedBoxes(places, REACH_RADII * disc.radiusM + rimOf(disc));
}

function leftIn(windows: readonly BoxM[], areas: readonly AreaM[], disc: Disc): AreaM[] {
  if (windows.length === 0) return [];
  const cores = windows.map((box) => shrunk(box, rimOf(disc)));
  return leftOf(intersection(areas, windows.map(areaOf)), disc).filter((piece) => {
    const box = boxOf(piece.shell);
    return cores.some((core) => isWithin(box, core));
  });
}

function shrunk({ minE, minN, maxE, maxN }: BoxM, byM: number): BoxM {
  return { minE: minE + byM, minN: minN + byM, maxE: maxE - byM, maxN: maxN - byM };
}

function areaOf({ minE, minN, maxE, maxN }: BoxM): AreaM {
  return { shell: Float64Array.of(minE, minN, maxE, minN, maxE, maxN, minE, maxN), holes: [] };
}

function isWithin(box: BoxM, core: BoxM): boolean {
  return (
    box.minE >= core.minE && box.minN >= core.minN && box.maxE <= core.maxE && box.maxN <= core.maxN
  );
}
