/**
 * Fewest pegs round a ring by a plain dynamic programme: every place (5 cm apart) at every depth of
 * the band is a state, every span that keeps the rules is an edge, and the shortest closed row is
 * sought from every state of the first span. No pruning: for small rings only.
 */
import type { PointM, RingM } from "../../src/model/geometry.ts";

interface State {
  readonly at: PointM;
  readonly along: number;
}

export interface PegRules {
  readonly spacingM: number;
  readonly wanderM: number;
  /** Convex vertices may be cut by this much, metres. */
  readonly cutM: number;
}

/**
 * @param ring free side on its left; no corners that must keep a peg of their own
 * @returns the least number of pegs of a closed row
 */
export function fewestPegs(ring: RingM, rules: PegRules, stepM = 0.05): number {
  const n = ring.length >> 1;
  const vertex = (i: number): PointM => [ring[2 * (i % n)]!, ring[2 * (i % n) + 1]!];
  const along: number[] = [0];
  for (let i = 0; i < 2 * n; i++) {
    const [a, b] = [vertex(i), vertex(i + 1)];
    along.push(along[i]! + Math.hypot(b[0] - a[0], b[1] - a[1]));
  }
  const total = along[n]!;
  const convex = Array.from({ length: n }, (_, i) => {
    const [a, b, c] = [vertex(i + n - 1), vertex(i), vertex(i + 1)];
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0;
  });
  const depths = [0, 0.02, 0.25, 0.5, 0.75, 1].map((share) => share * rules.wanderM);
  const columns = Math.round(total / stepM);
  const states: State[][] = Array.from({ length: columns }, (_, c) => {
    const s = (c * total) / columns;
    let i = 0;
    while (along[i + 1]! <= s) i++;
    const [a, b] = [vertex(i), vertex(i + 1)];
    const length = along[i + 1]! - along[i]!;
    const [de, dn] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    return depths.map((d) => ({
      at: [a[0] + (s - along[i]!) * de - d * dn, a[1] + (s - along[i]!) * dn + d * de] as PointM,
      along: s,
    }));
  });
  const holds = (p: PointM, from: number, q: PointM, to: number): boolean => {
    const [de, dn] = [q[0] - p[0], q[1] - p[1]];
    const length = Math.hypot(de, dn);
    if (length > rules.spacingM || length === 0) return false;
    for (let i = 0; i <= 2 * n; i++) {
      if (along[i]! <= from) continue;
      if (along[i]! >= to) break;
      const v = vertex(i);
      const left = (de * (v[1] - p[1]) - dn * (v[0] - p[0])) / length;
      if (left > 0.0002 || -left > (convex[i % n] ? rules.cutM : rules.wanderM)) return false;
    }
    return true;
  };
  const reachColumns = Math.ceil((1.5 * rules.spacingM) / (total / columns));
  let best = Infinity;
  const firstSpan = Math.ceil(rules.spacingM / (total / columns));
  for (let c0 = 0; c0 < firstSpan; c0++) {
    for (const start of states[c0]!) best = Math.min(best, shortestFrom(c0, start));
  }
  return best;

  function shortestFrom(c0: number, start: State): number {
    const count: number[][] = Array.from({ length: columns + 1 }, () => depths.map(() => Infinity));
    for (let k = 1; k <= columns; k++) {
      const here = k === columns ? [start] : states[(c0 + k) % columns]!;
      here.forEach((state, d) => {
        const to = start.along + (k * total) / columns;
        for (let j = Math.max(0, k - reachColumns); j < k; j++) {
          const before = j === 0 ? [start] : states[(c0 + j) % columns]!;
          before.forEach((other, e) => {
            const known = j === 0 ? 0 : count[j]![e]!;
            if (known + 1 >= Math.min(count[k]![d]!, best)) return;
            const from = start.along + (j * total) / columns;
            if (holds(other.at, from, state.at, to)) count[k]![d] = known + 1;
          });
        }
      });
    }
    return count[columns]![0]!;
  }
}
