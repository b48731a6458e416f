/**
 * Shortest network over a few rings, found the long way: every subset of rings is joined in every
 * way by the Dreyfus–Wagner recursion (Dreyfus & Wagner, The Steiner problem in graphs, Networks 1
 * (1971), from memory) over the rings and a rich set of candidate junctions: the Fermat point of
 * every three rings, and of every two rings and one of those. Shares no code with the program but
 * the distance of a point from a ring.
 */
import { SegmentIndex } from "../../src/geometry/segment-index.ts";
import type { PointM, RingM } from "../../src/model/geometry.ts";

/** Weiszfeld's iteration (1937): the point with the least sum of distances to three others. */
function weiszfeld(points: readonly PointM[]): PointM {
  let e = points.reduce((s, p) => s + p[0], 0) / points.length;
  let n = points.reduce((s, p) => s + p[1], 0) / points.length;
  for (let k = 0; k < 60; k++) {
    let w = 0;
    let we = 0;
    let wn = 0;
    for (const p of points) {
      const d = Math.max(1e-9, Math.hypot(p[0] - e, p[1] - n));
      w += 1 / d;
      we += p[0] / d;
      wn += p[1] / d;
    }
    const moved = Math.hypot(we / w - e, wn / w - n);
    e = we / w;
    n = wn / w;
    if (moved < 1e-7) break;
  }
  return [e, n];
}

class Ring {
  readonly #index: SegmentIndex;
  readonly start: PointM;

  constructor(ring: RingM) {
    this.#index = new SegmentIndex([ring]);
    this.start = [ring[0]!, ring[1]!];
  }

  nearest(at: PointM): PointM {
    const { segment } = this.#index.nearest(at[0], at[1], Infinity)!;
    const a = this.#index.from(segment);
    const b = this.#index.to(segment);
    const squared = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
    const t = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / squared;
    const s = Math.max(0, Math.min(1, t));
    return [a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1])];
  }

  distance(at: PointM): number {
    const p = this.nearest(at);
    return Math.hypot(p[0] - at[0], p[1] - at[1]);
  }
}

type Target = (at: PointM) => PointM;

function junction(targets: readonly Target[], guess: PointM): PointM {
  let at = guess;
  for (let k = 0; k < 25; k++) {
    const next = weiszfeld(targets.map((target) => target(at)));
    const moved = Math.hypot(next[0] - at[0], next[1] - at[1]);
    at = next;
    if (moved < 1e-6) break;
  }
  return at;
}

function middle(points: readonly PointM[]): PointM {
  return [
    points.reduce((s, p) => s + p[0], 0) / points.length,
    points.reduce((s, p) => s + p[1], 0) / points.length,
  ];
}

/**
 * @param rings at most nine rings that do not meet
 * @param ringDistance exact distance of two rings by number
 */
export function exhaustiveNetworkM(
  rings: readonly RingM[],
  ringDistance: (a: number, b: number) => number,
  mostCandidates = 220,
): number {
  const terminals = rings.map((ring) => new Ring(ring));
  const k = terminals.length;
  if (k < 2) return 0;
  const found: { at: PointM; cost: number }[] = [];
  const centres = terminals.map((t) => t.start);
  for (let a = 0; a < k; a++) {
    for (let b = a + 1; b < k; b++) {
      for (let c = b + 1; c < k; c++) {
        const three = [a, b, c];
        const at = junction(
          three.map((t) => (p: PointM) => terminals[t]!.nearest(p)),
          middle(three.map((t) => centres[t]!)),
        );
        found.push({ at, cost: three.reduce((s, t) => s + terminals[t]!.distance(at), 0) });
      }
    }
  }
  const first = found.map(({ at }) => at);
  for (const fixed of first) {
    for (let a = 0; a < k; a++) {
      for (let b = a + 1; b < k; b++) {
        const at = junction(
          [
            (p: PointM) => terminals[a]!.nearest(p),
            (p: PointM) => terminals[b]!.nearest(p),
            () => fixed,
          ],
          fixed,
        );
        found.push({
          at,
          cost:
            terminals[a]!.distance(at) +
            terminals[b]!.distance(at) +
            Math.hypot(at[0] - fixed[0], at[1] - fixed[1]),
        });
      }
    }
  }
  const candidates = found
    .sort((x, y) => x.cost - y.cost)
    .filter(
      ({ at }, i, all) =>
        !all
          .slice(Math.max(0, i - 40), i)
          .some((other) => Math.hypot(other.at[0] - at[0], other.at[1] - at[1]) < 0.02),
    )
    .slice(0, mostCandidates)
    .map(({ at }) => at);
  return dreyfusWagner(terminals, candidates, ringDistance);
}

function dreyfusWagner(
  terminals: readonly Ring[],
  candidates: readonly PointM[],
  ringDistance: (a: number, b: number) => number,
): number {
  const k = terminals.length;
  const nodes = k + candidates.length;
  const gap = new Float64Array(nodes * nodes);
  for (let i = 0; i < nodes; i++) {
    for (let j = i + 1; j < nodes; j++) {
      let d: number;
      if (j < k) d = ringDistance(i, j);
      else if (i < k) d = terminals[i]!.distance(candidates[j - k]!);
      else {
        const [p, q] = [candidates[i - k]!, candidates[j - k]!];
        d = Math.hypot(p[0] - q[0], p[1] - q[1]);
      }
      gap[i * nodes + j] = d;
      gap[j * nodes + i] = d;
    }
  }
  // Rings cost nothing to go along: distances by way of rings (Floyd over the terminals only).
  for (let t = 0; t < k; t++) {
    for (let i = 0; i < nodes; i++) {
      for (let j = 0; j < nodes; j++) {
        const by = gap[i * nodes + t]! + gap[t * nodes + j]!;
        if (by < gap[i * nodes + j]!) gap[i * nodes + j] = by;
      }
    }
  }
  const full = 1 << (k - 1);
  const cost = new Float64Array(full * nodes).fill(Infinity);
  for (let t = 0; t < k - 1; t++) {
    for (let v = 0; v < nodes; v++) cost[(1 << t) * nodes + v] = gap[t * nodes + v]!;
  }
  const joined = new Float64Array(nodes);
  for (let set = 1; set < full; set++) {
    if ((set & (set - 1)) === 0) continue;
    joined.fill(Infinity);
    for (let part = (set - 1) & set; part > 0; part = (part - 1) & set) {
      const rest = set ^ part;
      if (part < rest) break;
      for (let v = 0; v < nodes; v++) {
        const c = cost[part * nodes + v]! + cost[rest * nodes + v]!;
        if (c < joined[v]!) joined[v] = c;
      }
    }
    for (let v = 0; v < nodes; v++) {
      let best = joined[v]!;
      for (let u = 0; u < nodes; u++) {
        const c = joined[u]! + gap[u * nodes + v]!;
        if (c < best) best = c;
      }
      cost[set * nodes + v] = best;
    }
  }
  return cost[(full - 1) * nodes + (k - 1)]!;
}
