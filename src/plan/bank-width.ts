/** Exact width of a chain of portals, bank to bank. */
import { nearestOfSegments } from "../geometry/segments.ts";
import { nextHalfedge, type Triangulation } from "../geometry/triangulate.ts";
import type { PointM } from "../model/geometry.ts";

export interface BankWidth {
  /** Least distance from bank to bank, metres. */
  readonly widthM: number;
  /** Least distance less the set-ins of the two banks, metres; may be negative. */
  readonly wireWidthM: number;
  /** The two places that are nearest. */
  readonly first: PointM;
  readonly second: PointM;
  /** The two places, one on each bank, between which the wires come nearest. */
  readonly atWires: readonly [left: PointM, right: PointM];
  /** Number in the chain of the portal nearest to them. */
  readonly portal: number;
}

/** A piece of bank met at some portal: a boundary edge, or a lone corner (both ends the same). */
export interface BankPiece {
  readonly from: PointM;
  readonly to: PointM;
  readonly setinM: number;
  readonly portal: number;
  readonly lengthM: number;
}

/** Pieces of the other bank this many portals before and after are compared. */
const WINDOW = 24;

/** The two banks of a chain, in the order of its portals. */
export interface Banks {
  readonly left: readonly BankPiece[];
  readonly right: readonly BankPiece[];
}

/**
 * @param portals half-edges of one chain, each seen from the triangle being left
 */
export function banksOf(mesh: Triangulation, portals: readonly number[]): Banks {
  const left: BankPiece[] = [];
  const right: BankPiece[] = [];
  const seenLeft = new Set<number>();
  const seenRight = new Set<number>();
  portals.forEach((h, k) => {
    // Leaving triangle t across h: its first point is on the right hand or the left by winding.
    addPieces(left, seenLeft, mesh, mesh.triangles[h]!, h, k);
    addPieces(right, seenRight, mesh, mesh.triangles[nextHalfedge(h)]!, h, k);
  });
  return { left, right };
}

/** Least width of a passage between its banks; undefined where there is none to measure. */
export function measureBanks(banks: Banks): BankWidth | undefined {
  let best: BankWidth | undefined;
  let leastWire = Infinity;
  let atWires: readonly [PointM, PointM] = [
    [0, 0],
    [0, 0],
  ];
  eachFacing(banks, (a, b) => {
    const mostM = Math.max(best?.widthM ?? Infinity, leastWire + a.setinM + b.setinM);
    if (atLeastApartM(a, b) > mostM) return;
    const pair = nearestOfSegments(a.from, a.to, b.from, b.to);
    if (pair.distanceM === 0) return;
    const wireM = pair.distanceM - a.setinM - b.setinM;
    if (wireM < leastWire - 1e-9) {
      leastWire = wireM;
      atWires = [pair.first, pair.second];
    }
    if (!best || pair.distanceM < best.widthM - 1e-9) {
      best = {
        widthM: pair.distanceM,
        wireWidthM: 0,
        first: pair.first,
        second: pair.second,
        atWires,
        portal: Math.round((a.portal + b.portal) / 2),
      };
    }
  });
  return best ? { ...(best as BankWidth), wireWidthM: leastWire, atWires } : undefined;
}

/** Two pieces are no nearer to each other than this, metres: cheaper than their distance. */
export function atLeastApartM(a: BankPiece, b: BankPiece): number {
  const apartM = Math.hypot(a.from[0] - b.from[0], a.from[1] - b.from[1]);
  return apartM - a.lengthM - b.lengthM - ROUNDING_M;
}

const ROUNDING_M = 1e-6;

/** Calls for every two pieces of the two banks that face each other. */
export function eachFacing(
  { left, right }: Banks,
  visit: (left: BankPiece, right: BankPiece) => void,
): void {
  let start = 0;
  for (const a of left) {
    while (start < right.length && right[start]!.portal < a.portal - WINDOW) start++;
    for (let j = start; j < right.length && right[j]!.portal <= a.portal + WINDOW; j++) {
      visit(a, right[j]!);
    }
  }
}

/** Adds the boundary edges that end at a portal's end point, in the two triangles beside the portal. */
function addPieces(
  pieces: BankPiece[],
  seen: Set<number>,
  mesh: Triangulation,
  point: number,
  portal: number,
  k: number,
): void {
  const place = (p: number): PointM => [mesh.coords[2 * p]!, mesh.coords[2 * p + 1]!];
  for (const t of [Math.floor(portal / 3), Math.floor(mesh.halfedges[portal]! / 3)]) {
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      if (!mesh.boundary[h] || seen.has(h)) continue;
      const p = mesh.triangles[h]!;
      const q = mesh.triangles[nextHalfedge(h)]!;
      if (p !== point && q !== point) continue;
      seen.add(h);
      const [from, to] = [place(p), place(q)];
      const lengthM = Math.hypot(to[0] - from[0], to[1] - from[1]);
      pieces.push({ from, to, setinM: mesh.edgeLabel[h]!, portal: k, lengthM });
    }
  }
  const key = -1 - point;
  if (seen.has(key)) return;
  seen.add(key);
  const at = place(point);
  pieces.push({ from: at, to: at, setinM: mesh.pointLabel[point]!, portal: k, lengthM: 0 });
}
