/** How much ground lies beyond each passage. */
import type { Triangulation } from "../geometry/triangulate.ts";

/**
 * Cuts the ground at the given portals and weighs what each cut parts from the rest.
 *
 * @param portals one half-edge a passage
 * @returns for each portal the area of the smaller side in m², 0 where the cut separates nothing.
 *   Linear in the triangles (union-find and one bridge search).
 */
export function areasBeyond(mesh: Triangulation, portals: readonly number[]): number[] {
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
  return bridgeSides(areas, edges);
}

function triangleAreaM2(mesh: Triangulation, t: number): number {
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
