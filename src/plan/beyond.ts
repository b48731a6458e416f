/** What lies beyond each passage: how much ground, and which islands. */
import type { Triangulation } from "../geometry/triangulate.ts";
import type { PointM } from "../model/geometry.ts";
import { nearestPoints } from "./nearest-points.ts";

/** An island by its name and some corners of its edge. */
export interface Island {
  readonly name: string;
  readonly corners: readonly PointM[];
}

export interface Beyond {
  /** Area of the smaller side, m²; 0 where the cut separates nothing. */
  readonly areaM2: number;
  /** Names of the islands on that side, in the order given. */
  readonly islands: readonly string[];
}

/** How far an island's corner may lie from the sampled edge of the ground, metres. */
const CORNER_REACH_M = 0.4;

/**
 * Cuts the ground at the given portals and weighs what each cut parts from the rest.
 *
 * @param portals one half-edge a passage
 * @returns for each portal what is on its smaller side. Linear in the triangles (flood and one
 *   bridge search), and one walk over the pieces for each portal that separates something.
 */
export function groundBeyond(
  mesh: Triangulation,
  portals: readonly number[],
  islands: readonly Island[],
): Beyond[] {
  const count = mesh.triangles.length / 3;
  const cut = new Set<number>();
  for (const h of portals) {
    cut.add(h);
    cut.add(mesh.halfedges[h]!);
  }
  const part = new Int32Array(count).fill(-1);
  const areas: number[] = [];
  for (let seed = 0; seed < count; seed++) {
    if (!mesh.inside[seed] || part[seed] !== -1) continue;
    const number = areas.length;
    areas.push(0);
    const queue = [seed];
    part[seed] = number;
    while (queue.length > 0) {
      const t = queue.pop()!;
      areas[number] = areas[number]! + triangleAreaM2(mesh, t);
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const twin = mesh.halfedges[h]!;
        if (mesh.boundary[h] || twin === -1 || cut.has(h)) continue;
        const u = Math.floor(twin / 3);
        if (!mesh.inside[u] || part[u] !== -1) continue;
        part[u] = number;
        queue.push(u);
      }
    }
  }
  const edges = portals.map((h): [number, number] => [
    part[Math.floor(h / 3)]!,
    part[Math.floor(mesh.halfedges[h]! / 3)]!,
  ]);
  const sides = bridgeSides(areas, edges);
  if (islands.length === 0 || !sides.some((side) => side > 0)) {
    return sides.map((areaM2) => ({ areaM2, islands: [] }));
  }
  const pieceOf = piecesOfIslands(mesh, part, islands);
  return sides.map((areaM2, i) => {
    if (areaM2 === 0) return { areaM2, islands: [] };
    const pieces = smallerSide(areas, edges, i);
    return {
      areaM2,
      islands: islands.flatMap(({ name }, k) => (pieces.has(pieceOf[k]!) ? [name] : [])),
    };
  });
}

/** The piece of ground that each island borders on, or -1. */
function piecesOfIslands(
  mesh: Triangulation,
  part: Int32Array,
  islands: readonly Island[],
): number[] {
  const points: PointM[] = [];
  const pieces: number[] = [];
  for (let h = 0; h < mesh.triangles.length; h++) {
    const piece = part[Math.floor(h / 3)]!;
    if (!mesh.boundary[h] || piece === -1) continue;
    const p = 2 * mesh.triangles[h]!;
    points.push([mesh.coords[p]!, mesh.coords[p + 1]!]);
    pieces.push(piece);
  }
  const corners = islands.flatMap((island) => island.corners);
  const nearest = nearestPoints(points, corners, CORNER_REACH_M);
  let next = 0;
  return islands.map((island) => {
    const found = island.corners.map(() => nearest[next++]!).find((point) => point !== -1);
    return found === undefined ? -1 : pieces[found]!;
  });
}

/** The pieces on the lighter side of a bridge. */
function smallerSide(
  weights: readonly number[],
  edges: readonly (readonly [number, number])[],
  bridge: number,
): Set<number> {
  const around = new Map<number, number[]>();
  edges.forEach(([a, b], i) => {
    if (i === bridge) return;
    around.set(a, [...(around.get(a) ?? []), b]);
    around.set(b, [...(around.get(b) ?? []), a]);
  });
  const [first, second] = edges[bridge]!.map((start) => {
    const side = new Set([start]);
    for (const piece of side) for (const next of around.get(piece) ?? []) side.add(next);
    return side;
  });
  const weigh = (side: Set<number>): number =>
    [...side].reduce((sum, piece) => sum + weights[piece]!, 0);
  return weigh(first!) <= weigh(second!) ? first! : second!;
}

export function triangleAreaM2(mesh: Triangulation, t: number): number {
  const a = 2 * mesh.triangles[3 * t]!;
  const b = 2 * mesh.triangles[3 * t + 1]!;
  const c = 2 * mesh.triangles[3 * t + 2]!;
  const { coords } = mesh;
  const ae = coords[a]!;
  const an = coords[a + 1]!;
  return (
    Math.abs(
      (coords[b]! - ae) * (coords[c + 1]! - an) - (coords[c]! - ae) * (coords[b + 1]! - an),
    ) / 2
  );
}

/** For each edge of a weighted graph: the lighter side if it is a bridge, else 0. */
export function bridgeSides(
  weights: readonly number[],
  edges: readonly (readonly [number, number])[],
): number[] {
  const around: { to: number; edge: number }[][] = weights.map(() => []);
  edges.forEach(([a, b], edge) => {
    around[a]!.push({ to: b, edge });
    around[b]!.push({ to: a, edge });
  });
  const order = new Int32Array(weights.length).fill(-1);
  const low = new Int32Array(weights.length);
  const below = Float64Array.from(weights);
  const sides = new Array<number>(edges.length).fill(0);
  let clock = 0;
  for (let root = 0; root < weights.length; root++) {
    if (order[root] !== -1) continue;
    const bridges: { edge: number; weight: number }[] = [];
    const stack = [{ node: root, by: -1, next: 0 }];
    order[root] = low[root] = clock++;
    while (stack.length > 0) {
      const top = stack[stack.length - 1]!;
      const link = around[top.node]![top.next++];
      if (!link) {
        stack.pop();
        const parent = stack[stack.length - 1];
        if (!parent) continue;
        below[parent.node] = below[parent.node]! + below[top.node]!;
        low[parent.node] = Math.min(low[parent.node]!, low[top.node]!);
        if (low[top.node]! > order[parent.node]!) {
          bridges.push({ edge: top.by, weight: below[top.node]! });
        }
      } else if (link.edge !== top.by) {
        if (order[link.to] === -1) {
          order[link.to] = low[link.to] = clock++;
          stack.push({ node: link.to, by: link.edge, next: 0 });
        } else {
          low[top.node] = Math.min(low[top.node]!, order[link.to]!);
        }
      }
    }
    for (const { edge, weight } of bridges) {
      sides[edge] = Math.min(weight, below[root]! - weight);
    }
  }
  return sides;
}
