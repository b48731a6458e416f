/**
 * Fewest pegs by a plain dynamic programme: every place (5 cm apart) at every depth of the band is a
 * state, every span that keeps the rules is a step, and every state that the first span may lead to is a
 * beginning: the fewest over all closed rows of these places, none left out.
 * A state is left out only where no row through it can be short enough: the furthest that any step
 * leads from it or from before it bounds what is left to go. For small rings only.
 */
import type { RingM } from "../../src/model/geometry.ts";

export interface PegRules {
  readonly spacingM: number;
  readonly wanderM: number;
  /** Convex vertices may be cut by this much, metres. */
  readonly cutM: number;
}

/** Vertices nearer than this to a span on its left carry nothing, metres. */
const COLLINEAR_M = 0.0002;
/** Beside a corner that turns left pegs stand no deeper than this for each metre from it. */
const TIP_SLOPE = 0.25;
const DEPTH_SHARES = [0, 0.02, 0.25, 0.5, 0.75, 1];

/** A ring gone round three times, with lengths along it. */
class Way {
  readonly n: number;
  readonly ring: RingM;
  readonly along: Float64Array;
  readonly convex: boolean[];

  constructor(ring: RingM) {
    this.n = ring.length >> 1;
    this.ring = ring;
    this.along = new Float64Array(3 * this.n + 1);
    for (let i = 0; i < 3 * this.n; i++) {
      const length = Math.hypot(this.e(i + 1) - this.e(i), this.north(i + 1) - this.north(i));
      this.along[i + 1] = this.along[i]! + length;
    }
    this.convex = Array.from({ length: this.n }, (_, b) => {
      const [a, c] = [b + this.n - 1, b + 1];
      const first = [this.e(b) - this.e(a), this.north(b) - this.north(a)] as const;
      const then = [this.e(c) - this.e(b), this.north(c) - this.north(b)] as const;
      return first[0] * then[1] - first[1] * then[0] > 0;
    });
  }

  e(i: number): number {
    return this.ring[2 * (i % this.n)]!;
  }

  north(i: number): number {
    return this.ring[2 * (i % this.n) + 1]!;
  }

  /** A place along the way at each depth. */
  column(s: number, depthsM: readonly number[]): Column {
    let i = 0;
    while (this.along[i + 1]! <= s) i++;
    const [length, on] = [this.along[i + 1]! - this.along[i]!, s - this.along[i]!];
    const de = (this.e(i + 1) - this.e(i)) / length;
    const dn = (this.north(i + 1) - this.north(i)) / length;
    return {
      s,
      next: i + 1,
      e: depthsM.map((d) => this.e(i) + on * de - d * dn),
      n: depthsM.map((d) => this.north(i) + on * dn + d * de),
    };
  }

  /** Whether a span keeps the rules: its length, and every vertex that it passes. */
  holds(from: Column, j: number, to: Column, k: number, lapM: number, rules: PegRules): boolean {
    const [pe, pn] = [from.e[j]!, from.n[j]!];
    const [de, dn] = [to.e[k]! - pe, to.n[k]! - pn];
    const length = Math.hypot(de, dn);
    if (length > rules.spacingM || length === 0) return false;
    for (let i = from.next; this.along[i]! < to.s + lapM; i++) {
      const left = (de * (this.north(i) - pn) - dn * (this.e(i) - pe)) / length;
      if (left > COLLINEAR_M) return false;
      if (-left > (this.convex[i % this.n] ? rules.cutM : rules.wanderM)) return false;
    }
    return true;
  }
}

interface Column {
  readonly s: number;
  /** First vertex after it. */
  readonly next: number;
  readonly e: readonly number[];
  readonly n: readonly number[];
}

/** The programme round a ring without corners that must keep a peg of their own. */
export class RingProgramme {
  readonly #columns: number;
  readonly #depths: number;
  /** For each state the states one span leads to: columns ahead times depths, plus the depth. */
  readonly #steps: number[][] = [];
  /** The furthest column that any span leads to from a column or one before it. */
  readonly #furthest: number[] = [];

  /** @param ring free side on its left */
  constructor(ring: RingM, rules: PegRules, stepM = 0.05) {
    const way = new Way(ring);
    const total = way.along[way.n]!;
    const depthsM = DEPTH_SHARES.map((share) => share * rules.wanderM);
    const count = Math.round(total / stepM);
    const columns = Array.from({ length: count }, (_, c) =>
      way.column((c * total) / count, depthsM),
    );
    const most = Math.min(count - 1, Math.ceil((1.5 * rules.spacingM * count) / total));
    this.#columns = count;
    this.#depths = depthsM.length;
    const reach = columns.map((from, c) => {
      let furthest = 0;
      for (let j = 0; j < depthsM.length; j++) {
        const steps: number[] = [];
        for (let ahead = 1; ahead <= most; ahead++) {
          const to = columns[(c + ahead) % count]!;
          const lapM = c + ahead >= count ? total : 0;
          for (let k = 0; k < depthsM.length; k++) {
            if (!way.holds(from, j, to, k, lapM, rules)) continue;
            steps.push(ahead * depthsM.length + k);
            furthest = Math.max(furthest, ahead);
          }
        }
        this.#steps.push(steps);
      }
      return furthest;
    });
    for (let c = 0, furthest = 0; c < 2 * count + most; c++) {
      furthest = Math.max(furthest, c + reach[c % count]!);
      this.#furthest.push(furthest);
    }
  }

  /** Whether a closed row of no more than so many pegs keeps the rules. */
  closesWith(pegs: number): boolean {
    // Each row has a peg among the columns that spans from before the first column lead to.
    const mostC = Math.min(this.#furthest[this.#columns - 1]!, 2 * this.#columns - 1);
    for (let c = 0; c <= mostC - this.#columns; c++) {
      const least = this.#leastColumns(c + this.#columns, pegs);
      if (least[pegs]! > c) continue;
      for (let j = 0; j < this.#depths; j++) if (this.#closesFrom(c, j, pegs, least)) return true;
    }
    return false;
  }

  /** The columns that must be reached to have so many spans left to a goal. */
  #leastColumns(goal: number, pegs: number): number[] {
    const least = [goal];
    for (let left = 1; left <= pegs; left++) {
      let c = least[left - 1]!;
      while (c > 0 && this.#furthest[c - 1]! >= least[left - 1]!) c--;
      least.push(c);
    }
    return least;
  }

  #closesFrom(c0: number, j0: number, pegs: number, least: readonly number[]): boolean {
    const goal = (c0 + this.#columns) * this.#depths + j0;
    let states = new Set([c0 * this.#depths + j0]);
    for (let left = pegs - 1; left >= 0; left--) {
      const next = new Set<number>();
      for (const state of states) {
        for (const step of this.#steps[state % this.#steps.length]!) {
          const j = state % this.#depths;
          const to = state - j + step;
          if (to === goal) return true;
          if (to < goal && to >= least[left]! * this.#depths) next.add(to);
        }
      }
      states = next;
    }
    return false;
  }
}

/** Fewest pegs round a ring without corners. */
export function fewestPegs(ring: RingM, rules: PegRules): number {
  const programme = new RingProgramme(ring, rules);
  let pegs = 3;
  while (!programme.closesWith(pegs)) pegs++;
  return pegs;
}

/**
 * Fewest spans from one corner of a ring to a later one, with no corner between them.
 *
 * @param first number of a vertex; `last` counts on past the ring's end
 */
export function fewestSpans(
  ring: RingM,
  first: number,
  last: number,
  rules: PegRules,
  stepM = 0.05,
): number {
  const way = new Way(ring);
  const [startM, endM] = [way.along[first]!, way.along[last]!];
  const depthsM = DEPTH_SHARES.map((share) => share * rules.wanderM);
  const count = Math.ceil((endM - startM) / stepM);
  const tips = [first, last].map((corner) => (way.convex[corner % way.n] ? TIP_SLOPE : Infinity));
  const corner = (vertex: number): Column => ({
    s: way.along[vertex]!,
    next: vertex + 1,
    e: [way.e(vertex)],
    n: [way.north(vertex)],
  });
  const columns: Column[] = [corner(first)];
  for (let c = 1; c < count; c++) {
    const s = startM + (c * (endM - startM)) / count;
    const deepest = Math.min((s - startM) * tips[0]!, (endM - s) * tips[1]!);
    columns.push(
      way.column(
        s,
        depthsM.filter((depthM) => depthM <= deepest),
      ),
    );
  }
  columns.push(corner(last));
  const spans = columns.map((column) => column.e.map(() => Infinity));
  spans[0]![0] = 0;
  columns.forEach((to, t) => {
    for (let f = t - 1; f >= 0 && to.s - columns[f]!.s <= 1.5 * rules.spacingM; f--) {
      for (let j = 0; j < columns[f]!.e.length; j++) {
        for (let k = 0; k < to.e.length; k++) {
          if (spans[f]![j]! + 1 >= spans[t]![k]!) continue;
          if (way.holds(columns[f]!, j, to, k, 0, rules)) spans[t]![k] = spans[f]![j]! + 1;
        }
      }
    }
  });
  return spans[count]![0]!;
}
