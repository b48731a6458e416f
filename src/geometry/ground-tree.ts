/**
 * The cheapest spanning tree over rings where ground is barred or dearer in places.
 *
 * Ways spread from all rings at once until each waypoint belongs to the ring it is cheapest to
 * reach from; links that cross from one ring's waypoints to another's, with the straight ones from
 * ring to ring, hold a cheapest spanning tree (Mehlhorn, A faster approximation algorithm for the
 * Steiner problem in graphs, 1988; from memory). Only links below the dearest link of the tree known
 * so far between their two rings are weighed.
 */
import type { PointM } from "../model/geometry.ts";
import type { GroundWays } from "./ground-ways.ts";
import type { RingLink } from "./spanning-network.ts";

/** A link between two rings: bends between its ends are waypoints. */
export interface GroundLink {
  readonly a: number;
  readonly b: number;
  readonly cost: number;
  readonly from: PointM;
  readonly to: PointM;
  /** Numbers of the waypoints between, in order from `a` to `b`. */
  readonly nodes: readonly number[];
}

/**
 * @param links the shortest spanning network of the same rings over plain ground
 * @returns one link fewer than rings, cheapest first
 */
export function groundTree(ways: GroundWays, links: readonly RingLink[]): GroundLink[] {
  const plain = links.map(
    (link): GroundLink => ({
      a: link.fromRing,
      b: link.toRing,
      cost: ways.ground.cost(link.from, link.to),
      from: link.from,
      to: link.to,
      nodes: [],
    }),
  );
  const count = ways.rings.length;
  const first = kruskal(count, plain);
  const bent = bentLinks(ways, dearestBetween(count, first));
  const second = kruskal(count, [...first, ...bent]);
  return kruskal(count, [...second, ...straightLinks(ways, dearestBetween(count, second))]);
}

/** Links by way of waypoints that may better a tree. */
function bentLinks(ways: GroundWays, limit: (a: number, b: number) => number): GroundLink[] {
  const field = ways.fromAnyRing();
  const found: GroundLink[] = [];
  const { waypoints, rings } = ways;
  const owner = waypoints.map((_, v) => ways.back(field, v).foot.ring);
  for (let v = 0; v < waypoints.length; v++) {
    const a = owner[v]!;
    const { nodes, foot } = ways.back(field, v);
    const at = waypoints[v]!;
    for (let b = 0; b < rings.length; b++) {
      const below = b === a ? 0 : limit(a, b) - field.cost[v]!;
      if (below <= 0 || ways.apartFrom(at, b) >= below) continue;
      const end = ways.foot(at, b, below);
      if (!end) continue;
      const cost = field.cost[v]! + end.cost;
      found.push({ a, b, cost, from: foot.atM, to: end.atM, nodes: [...nodes].reverse() });
    }
    for (let u = v + 1; u < waypoints.length; u++) {
      const b = owner[u]!;
      if (a === b) continue;
      const other = waypoints[u]!;
      const ends = field.cost[v]! + field.cost[u]!;
      const most = limit(a, b);
      if (ends + Math.hypot(other[0] - at[0], other[1] - at[1]) >= most) continue;
      const cost = ends + ways.costBetween(v, u);
      if (cost >= most) continue;
      const back = ways.back(field, u);
      found.push({
        a,
        b,
        cost,
        from: foot.atM,
        to: back.foot.atM,
        nodes: [...[...nodes].reverse(), ...back.nodes],
      });
    }
  }
  return found;
}

/** Straight links that may better a tree. */
function straightLinks(ways: GroundWays, limit: (a: number, b: number) => number): GroundLink[] {
  const found: GroundLink[] = [];
  for (let a = 0; a < ways.rings.length; a++) {
    for (let b = a + 1; b < ways.rings.length; b++) {
      const below = limit(a, b);
      if (ways.apart(a, b) >= below) continue;
      const way = ways.straight(a, b, below);
      if (!way) continue;
      found.push({ a, b, cost: way.cost, from: way.points[0]!, to: way.points[1]!, nodes: [] });
    }
  }
  return found;
}

function kruskal(count: number, links: readonly GroundLink[]): GroundLink[] {
  const group = Array.from({ length: count }, (_, i) => i);
  const find = (i: number): number => {
    let root = i;
    while (group[root] !== root) root = group[root]!;
    while (group[i] !== root) [group[i], i] = [root, group[i]!];
    return root;
  };
  const tree: GroundLink[] = [];
  for (const link of [...links].sort(cheaperFirst)) {
    const a = find(link.a);
    const b = find(link.b);
    if (a === b) continue;
    group[a] = b;
    tree.push(link);
  }
  return tree;
}

/** By cost to a nanometre, then fewer bends; equal ones by place, so that no order matters. */
function cheaperFirst(x: GroundLink, y: GroundLink): number {
  if (Math.abs(x.cost - y.cost) > 1e-9) return x.cost - y.cost;
  return (
    x.nodes.length - y.nodes.length ||
    Math.min(x.from[0], x.to[0]) - Math.min(y.from[0], y.to[0]) ||
    Math.min(x.from[1], x.to[1]) - Math.min(y.from[1], y.to[1])
  );
}

/** The dearest link of a tree on the way between any two rings. */
function dearestBetween(
  count: number,
  tree: readonly GroundLink[],
): (a: number, b: number) => number {
  const around: { to: number; cost: number }[][] = Array.from({ length: count }, () => []);
  for (const { a, b, cost } of tree) {
    around[a]!.push({ to: b, cost });
    around[b]!.push({ to: a, cost });
  }
  const rows = new Map<number, Float64Array>();
  const rowOf = (a: number): Float64Array => {
    const known = rows.get(a);
    if (known) return known;
    const row = new Float64Array(count).fill(Infinity);
    row[a] = 0;
    const stack = [a];
    const seen = new Set(stack);
    for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
      for (const { to, cost } of around[at]!) {
        if (seen.has(to)) continue;
        seen.add(to);
        row[to] = Math.max(row[at]!, cost);
        stack.push(to);
      }
    }
    rows.set(a, row);
    return row;
  };
  return (a, b) => rowOf(a)[b]!;
}
