/**
 * Places where the boundary of areas faces itself across less than a width: necks, gaps, sharp
 * corners, tapering ends. Everywhere else a disc of that width rolls along the boundary.
 *
 * Two places of one ring with no more than a certain turn between them (both ways counted as they
 * come, left and right) need not be looked at: a curve that turns by less than t < 180° in all is at
 * most 1 / cos(t / 2) times as long as its chord (Schur's comparison theorem; from memory), so that
 * what lies between it and a disc that touches both places is a corner of at least 180° - t.
 */
import type { AreaM } from "../model/geometry.ts";
import type { BoxM } from "./rings.ts";
import type { SegmentIndex } from "./segment-index.ts";
import { nearestOfSegments } from "./segments.ts";
import { stretchInBox } from "./stretch.ts";

/** Edges that see each other edge-on may be off by rounding, square metres. */
const ROUNDING_M2 = 1e-7;

/** Sums of turns from the first vertex of a ring on: `at[i]` up to and with vertex i; radians. */
interface Turns {
  readonly at: Float64Array;
  readonly whole: number;
}

/**
 * @param edges of the areas' rings: shell, then holes, area by area; places of others are not found
 * @param widthM places this near to each other count
 * @param turnRad on one ring: with more turn than this between them on both ways round; below π
 * @returns boxes that hold every such place, one for each side of each pair of edges
 */
export function facingPlaces(
  areas: readonly AreaM[],
  edges: SegmentIndex,
  widthM: number,
  turnRad: number,
): BoxM[] {
  const rings = areas.flatMap((area) => [area.shell, ...area.holes]);
  const turns: Turns[] = [];
  const isSlightTurn = (ring: number, a: number, b: number): boolean => {
    turns[ring] ??= turnsOf(rings[ring]!);
    return turnBetween(turns[ring], edges, a, b) <= turnRad;
  };
  const found: BoxM[] = [];
  for (let a = 0; a < edges.count; a++) {
    const [from, to] = [edges.from(a), edges.to(a)];
    const minE = Math.min(from[0], to[0]) - widthM;
    const minN = Math.min(from[1], to[1]) - widthM;
    const maxE = Math.max(from[0], to[0]) + widthM;
    const maxN = Math.max(from[1], to[1]) + widthM;
    for (const b of edges.inBox(minE, minN, maxE, maxN)) {
      if (b <= a) continue;
      const ring = edges.ringOf[a]!;
      if (ring === edges.ringOf[b]! && isSlightTurn(ring, a, b)) continue;
      const [c, d] = [edges.from(b), edges.to(b)];
      if (!isLeft(from, to, c, d) || !isLeft(c, d, from, to)) continue;
      if (nearestOfSegments(from, to, c, d).distanceM > widthM) continue;
      found.push(...near([from, to], [c, d], widthM));
    }
  }
  return found;
}

function turnsOf(ring: Float64Array): Turns {
  const n = ring.length >> 1;
  const at = new Float64Array(n);
  let whole = 0;
  for (let i = 0; i < n; i++) {
    const [h, j] = [(i + n - 1) % n, (i + 1) % n];
    const de = ring[2 * i]! - ring[2 * h]!;
    const dn = ring[2 * i + 1]! - ring[2 * h + 1]!;
    const ee = ring[2 * j]! - ring[2 * i]!;
    const en = ring[2 * j + 1]! - ring[2 * i + 1]!;
    whole += Math.abs(Math.atan2(de * en - dn * ee, de * ee + dn * en));
    at[i] = whole;
  }
  return { at, whole };
}

/** The lesser turn between two edges of a ring, one way round or the other. */
function turnBetween({ at, whole }: Turns, edges: SegmentIndex, a: number, b: number): number {
  const turn = at[edges.vertexOf[b]!]! - at[edges.vertexOf[a]!]!;
  return Math.min(turn, whole - turn);
}

type Ends = readonly [number, number];
type Edge = readonly [Ends, Ends];

/** Whether anything of cd lies to the left of the line through ab. */
function isLeft(a: Ends, b: Ends, c: Ends, d: Ends): boolean {
  const de = b[0] - a[0];
  const dn = b[1] - a[1];
  return (
    de * (c[1] - a[1]) - dn * (c[0] - a[0]) > -ROUNDING_M2 ||
    de * (d[1] - a[1]) - dn * (d[0] - a[0]) > -ROUNDING_M2
  );
}

/** Boxes of the stretches of two edges outside of which nothing is within a distance of the other. */
function near(one: Edge, other: Edge, withinM: number): BoxM[] {
  const otherNear = stretchNear(other, one, withinM);
  const oneNear = stretchNear(one, otherNear, withinM);
  return [oneNear, otherNear].map(boxOfEdge);
}

/** The stretch of an edge that lies in the box round another, grown by a distance; all if none does. */
function stretchNear(edge: Edge, other: Edge, withinM: number): Edge {
  const box = boxOfEdge(other);
  const [a, b] = edge;
  const [from, to] = stretchInBox(a, b, {
    minE: box.minE - withinM,
    minN: box.minN - withinM,
    maxE: box.maxE + withinM,
    maxN: box.maxN + withinM,
  }) ?? [0, 1];
  const at = (t: number): Ends => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
  return [at(from), at(to)];
}

function boxOfEdge([a, b]: Edge): BoxM {
  return {
    minE: Math.min(a[0], b[0]),
    minN: Math.min(a[1], b[1]),
    maxE: Math.max(a[0], b[0]),
    maxN: Math.max(a[1], b[1]),
  };
}
