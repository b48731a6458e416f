/**
 * Polishes the ways of a network: bends on borders of dearer ground slide to where the way is
 * refracted (Snell's law: the sines of the angles to the border's normal are as the factors, turned
 * round), ends slide along their rings, junctions move to their weighted Fermat points.
 *
 * One point after the other, until none moves: for ways through the same pieces of ground the cost
 * is convex, so this comes to the best. No step is taken that costs more on the true ground.
 */
import type { PointM } from "../model/geometry.ts";
import { BARRED_FACTOR, type CostGround } from "./cost-ground.ts";
import type { GroundWay, GroundWays } from "./ground-ways.ts";

const ROUNDS = 300;
/** Nothing moves further than this: done, metres. */
const STILL_M = 1e-6;
/** A point this near to a border lies on it, metres. */
const ON_BORDER_M = 1e-5;

export interface Polished {
  readonly ways: readonly GroundWay[];
  readonly places: ReadonlyMap<number, PointM>;
}

/**
 * @param places junctions by node
 * @param worthM bends that save less than this are left out, metres of plain ground
 */
export function polishWays(
  graph: GroundWays,
  ways: readonly GroundWay[],
  places: ReadonlyMap<number, PointM>,
  worthM = 0.02,
): Polished {
  const polisher = new Polisher(graph, ways, places);
  return polisher.run(worthM);
}

class Polisher {
  readonly #graph: GroundWays;
  readonly #ground: CostGround;
  readonly #ways: { a: number; b: number; points: PointM[] }[];
  readonly #places: Map<number, PointM>;
  readonly #rings: number;

  constructor(graph: GroundWays, ways: readonly GroundWay[], places: ReadonlyMap<number, PointM>) {
    this.#graph = graph;
    this.#ground = graph.ground;
    this.#rings = graph.rings.length;
    this.#places = new Map(places);
    this.#ways = ways.map(({ a, b, points }) => ({ a, b, points: this.#withBorders(points) }));
  }

  run(worthM: number): Polished {
    for (let round = 0; round < ROUNDS; round++) {
      let moved = 0;
      for (const way of this.#ways) {
        for (let i = 1; i + 1 < way.points.length; i++) {
          moved = Math.max(moved, this.#slide(way.points, i));
        }
        moved = Math.max(moved, this.#slideEnd(way.a, way.points, 0, 1));
        const last = way.points.length - 1;
        moved = Math.max(moved, this.#slideEnd(way.b, way.points, last, last - 1));
      }
      for (const node of this.#places.keys()) moved = Math.max(moved, this.#moveJunction(node));
      if (moved < STILL_M) break;
    }
    for (const way of this.#ways) this.#dropBends(way.points, worthM);
    return { ways: this.#ways, places: this.#places };
  }

  /** The points of a way with one more wherever it passes a border. */
  #withBorders(points: readonly PointM[]): PointM[] {
    const found: PointM[] = [points[0]!];
    for (let i = 0; i + 1 < points.length; i++) {
      const [p, q] = [points[i]!, points[i + 1]!];
      for (const { from } of this.#ground.stretches(p, q)) {
        if (from > 1e-9 && from < 1 - 1e-9) {
          found.push([p[0] + from * (q[0] - p[0]), p[1] + from * (q[1] - p[1])]);
        }
      }
      found.push(q);
    }
    return found;
  }

  #slide(points: PointM[], i: number): number {
    const [before, at, after] = [points[i - 1]!, points[i]!, points[i + 1]!];
    let best = at;
    let least = this.#ground.cost(before, at) + this.#ground.cost(at, after);
    const one = this.#factorBetween(before, at);
    const two = this.#factorBetween(at, after);
    for (const [c, d] of this.#bordersAt(at)) {
      const place = (t: number): PointM => [c[0] + t * (d[0] - c[0]), c[1] + t * (d[1] - c[1])];
      const cost = (t: number): number => {
        const p = place(t);
        return one * distance(before, p) + two * distance(p, after);
      };
      const to = place(leastBetween(cost));
      const really = this.#ground.cost(before, to) + this.#ground.cost(to, after);
      if (really < least - 1e-12) [best, least] = [to, really];
    }
    points[i] = best;
    return distance(at, best);
  }

  /** Border segments through a place along which a bend may slide; none at barred corners. */
  #bordersAt([e, n]: PointM): [PointM, PointM][] {
    const { borders } = this.#ground;
    const found: [PointM, PointM][] = [];
    for (const s of borders.inBox(
      e - ON_BORDER_M,
      n - ON_BORDER_M,
      e + ON_BORDER_M,
      n + ON_BORDER_M,
    )) {
      if (borders.distanceM(s, e, n) > ON_BORDER_M) continue;
      const c = borders.from(s);
      const d = borders.to(s);
      const barred = this.#ground.areas[this.#ground.areaOf(s)]!.factor >= BARRED_FACTOR;
      const corner = Math.min(distance(c, [e, n]), distance(d, [e, n])) < ON_BORDER_M;
      if (barred && corner) return [];
      found.push([c, d]);
    }
    return found;
  }

  #factorBetween(a: PointM, b: PointM): number {
    return this.#ground.factorAt((a[0] + b[0]) / 2, (a[1] + b[1]) / 2);
  }

  /** An end on a ring moves to the place nearest to the point behind it. */
  #slideEnd(node: number, points: PointM[], end: number, behind: number): number {
    if (node >= this.#rings) return 0;
    const at = points[end]!;
    const to = this.#graph.nearestOn(node, points[behind]!);
    if (!to || this.#ground.cost(points[behind]!, to) >= this.#ground.cost(points[behind]!, at)) {
      return 0;
    }
    points[end] = to;
    return distance(at, to);
  }

  /** Weiszfeld's step (1937) with the factors of the ground for weights. */
  #moveJunction(node: number): number {
    const around = this.#ways.flatMap(({ a, b, points }) => [
      ...(a === node ? [{ points, end: 0, next: points[1]! }] : []),
      ...(b === node ? [{ points, end: points.length - 1, next: points[points.length - 2]! }] : []),
    ]);
    const old = this.#places.get(node)!;
    let at = old;
    const weights = around.map(({ next }) => this.#factorBetween(old, next));
    for (let k = 0; k < 20; k++) {
      let [sum, e, n] = [0, 0, 0];
      around.forEach(({ next }, i) => {
        const w = weights[i]! / Math.max(1e-9, distance(at, next));
        sum += w;
        e += w * next[0];
        n += w * next[1];
      });
      at = [e / sum, n / sum];
    }
    const cost = (p: PointM): number =>
      around.reduce((sum, { next }) => sum + this.#ground.cost(p, next), 0);
    if (cost(at) >= cost(old) - 1e-12) return 0;
    this.#places.set(node, at);
    for (const { points, end } of around) points[end] = at;
    return distance(old, at);
  }

  /** Takes bends out, the least useful first, as long as that costs less than they are worth. */
  #dropBends(points: PointM[], worthM: number): void {
    for (;;) {
      let least = worthM;
      let drop = -1;
      for (let i = 1; i + 1 < points.length; i++) {
        const [p, q, r] = [points[i - 1]!, points[i]!, points[i + 1]!];
        const more = this.#ground.cost(p, r) - this.#ground.cost(p, q) - this.#ground.cost(q, r);
        if (more <= least) [least, drop] = [more, i];
      }
      if (drop === -1) return;
      points.splice(drop, 1);
    }
  }
}

/** Where a convex function of one share is least, by sections of a third. */
function leastBetween(cost: (share: number) => number): number {
  let [low, high] = [0, 1];
  for (let k = 0; k < 80; k++) {
    const a = low + (high - low) / 3;
    const b = high - (high - low) / 3;
    if (cost(a) <= cost(b)) high = b;
    else low = a;
  }
  return (low + high) / 2;
}

function distance(a: PointM, b: PointM): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
