/**
 * Cheapest network over a few rings on ground that is barred or dearer in places, found the long way:
 * a square grid with moves to all 32 neighbours within three cells, each move weighed by sampling
 * the ground under it, and Dreyfus–Wagner over it (Networks 1 (1971), from memory). Shares no code
 * with the program. A grid of 32 directions is at most 1.4 % longer than a straight line, so what it
 * finds is no proof from below; junctions may stand on any of its nodes.
 */
import type { Xy } from "./plane.ts";
import { inside } from "./segments.ts";

export interface CostlyArea {
  readonly ring: readonly Xy[];
  /** Infinity where barred. */
  readonly factor: number;
}

const MOVES: Xy[] = [];
for (let x = -6; x <= 6; x++) {
  for (let y = -6; y <= 6; y++) {
    if ((x || y) && gcd(Math.abs(x), Math.abs(y)) === 1) MOVES.push([x, y]);
  }
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

/** @param rings the outer ring first, then islands; grid nodes outside or in islands stand for them */
export function weightedNetworkCost(
  rings: readonly (readonly Xy[])[],
  areas: readonly CostlyArea[],
  cellM: number,
): number {
  const [outer, ...islands] = rings as [readonly Xy[], ...(readonly Xy[])[]];
  const [minX, maxX] = range(outer.map(([x]) => x));
  const [minY, maxY] = range(outer.map(([, y]) => y));
  const nx = Math.ceil((maxX - minX) / cellM) + 3;
  const ny = Math.ceil((maxY - minY) / cellM) + 3;
  const at = (i: number): Xy => [
    minX + ((i % nx) - 1) * cellM,
    minY + (Math.floor(i / nx) - 1) * cellM,
  ];
  const factor = (p: Xy): number =>
    areas.reduce((most, one) => (inside(p, one.ring) ? Math.max(most, one.factor) : most), 1);
  const count = nx * ny;
  // Which ring a node belongs to: 0 outside, 1… in an island, -1 on the lawn.
  const owner = Int8Array.from({ length: count }, (_, i) => {
    const p = at(i);
    if (!inside(p, outer)) return 0;
    return islands.findIndex((ring) => inside(p, ring)) + 1 || -1;
  });
  const edgeShare = (p: Xy, q: Xy, inP: (x: Xy) => boolean): number => {
    // Share of pq at which it leaves what p lies in, by halving.
    let [low, high] = [0, 1];
    for (let k = 0; k < 30; k++) {
      const m = (low + high) / 2;
      if (inP([p[0] + m * (q[0] - p[0]), p[1] + m * (q[1] - p[1])])) low = m;
      else high = m;
    }
    return high;
  };
  const held = (ring: number) => (p: Xy) =>
    ring === 0 ? !inside(p, outer) : inside(p, islands[ring - 1]!);
  const price = (i: number, j: number): number => {
    const [p, q] = [at(i), at(j)];
    let [from, to] = [0, 1];
    if (owner[i] !== -1) from = edgeShare(p, q, held(owner[i]!));
    if (owner[j] !== -1) to = 1 - edgeShare(q, p, held(owner[j]!));
    if (to <= from) return 0;
    const length = Math.hypot(q[0] - p[0], q[1] - p[1]) * (to - from);
    let sum = 0;
    const samples = 8;
    for (let k = 0; k < samples; k++) {
      const m = from + ((to - from) * (k + 0.5)) / samples;
      sum += factor([p[0] + m * (q[0] - p[0]), p[1] + m * (q[1] - p[1])]);
    }
    return (length * sum) / samples;
  };
  // Nodes of one ring are one node.
  const ringCount = rings.length;
  const node = (i: number): number => (owner[i] === -1 ? ringCount + i : owner[i]!);
  const total = ringCount + count;
  const edges: { to: number; cost: number }[][] = Array.from({ length: total }, () => []);
  for (let i = 0; i < count; i++) {
    const [x, y] = [i % nx, Math.floor(i / nx)];
    for (const [dx, dy] of MOVES) {
      if (x + dx < 0 || x + dx >= nx || y + dy < 0 || y + dy >= ny) continue;
      const j = i + dy * nx + dx;
      if (j < i || node(i) === node(j)) continue;
      const cost = price(i, j);
      if (!Number.isFinite(cost)) continue;
      edges[node(i)]!.push({ to: node(j), cost });
      edges[node(j)]!.push({ to: node(i), cost });
    }
  }
  const k = ringCount - 1;
  const costs = Array.from({ length: 1 << k }, () => new Float64Array(total).fill(Infinity));
  for (let set = 1; set < 1 << k; set++) {
    const cost = costs[set]!;
    for (let t = 0; t < k; t++) if (set === 1 << t) cost[t + 1] = 0;
    for (let part = (set - 1) & set; part > 0; part = (part - 1) & set) {
      const [a, b] = [costs[part]!, costs[set ^ part]!];
      for (let v = 0; v < total; v++) if (a[v]! + b[v]! < cost[v]!) cost[v] = a[v]! + b[v]!;
    }
    spread(cost, edges);
  }
  return costs[(1 << k) - 1]![0]!;
}

function range(values: readonly number[]): [number, number] {
  return [Math.min(...values), Math.max(...values)];
}

/** Dijkstra from all nodes at once, from the costs that they have. */
function spread(
  cost: Float64Array,
  edges: readonly (readonly { to: number; cost: number }[])[],
): void {
  const heap: [number, number][] = [];
  const push = (key: number, value: number): void => {
    let i = heap.length;
    heap.push([key, value]);
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (heap[up]![0] <= key) break;
      heap[i] = heap[up]!;
      i = up;
    }
    heap[i] = [key, value];
  };
  const pop = (): [number, number] | undefined => {
    const top = heap[0];
    const last = heap.pop();
    if (!top || !last || heap.length === 0) return top;
    let i = 0;
    for (;;) {
      let child = 2 * i + 1;
      if (child >= heap.length) break;
      if (child + 1 < heap.length && heap[child + 1]![0] < heap[child]![0]) child++;
      if (heap[child]![0] >= last[0]) break;
      heap[i] = heap[child]!;
      i = child;
    }
    heap[i] = last;
    return top;
  };
  for (let v = 0; v < cost.length; v++) if (Number.isFinite(cost[v]!)) push(cost[v]!, v);
  for (let top = pop(); top; top = pop()) {
    const [key, v] = top;
    if (key > cost[v]!) continue;
    for (const { to, cost: more } of edges[v]!) {
      if (key + more >= cost[to]!) continue;
      cost[to] = key + more;
      push(cost[to]!, to);
    }
  }
}
