/**
 * Shortest ways between rings over ground that is barred or dearer in places.
 *
 * A graph of waypoints: corners of barred areas, round which a taut way bends, and places along the
 * borders of dearer ones, at which it is refracted. Any two are joined by the straight way between
 * them, at what it costs; a ring is reached by the cheapest straight way to it. Rings themselves bar
 * nothing: where a way met one it would end on it.
 *
 * Among barred areas alone the ways are exact (visibility graph; Lozano-Pérez and Wesley 1979, from
 * memory). Across dearer ground a bend stands at most half a step of the waypoints from the best
 * place, until the way is polished (`polish-ways.ts`).
 */
import type { PointM, RingM } from "../model/geometry.ts";
import type { CostGround } from "./cost-ground.ts";
import { type BoxM, boxOf, vertexAt } from "./rings.ts";
import { SegmentIndex } from "./segment-index.ts";
import { nearestOfSegments, nearestShare } from "./segments.ts";

/** Where a straight way from a place ends on a ring. */
export interface Foot {
  readonly ring: number;
  readonly atM: PointM;
  readonly cost: number;
}

/** Cheapest ways from one ring, from several or from a place to all waypoints. */
export interface Field {
  readonly cost: Float64Array;
  /** The waypoint before each, on the way back; -1 where the way goes straight to its foot. */
  readonly via: Int32Array;
  readonly feet: readonly (Foot | undefined)[];
}

/** A way from a place to a ring or place: its points in order, both ends included. */
export interface FoundWay {
  readonly cost: number;
  readonly points: readonly PointM[];
}

/** A way of the network: between rings (below the number of rings) and junctions (from there on). */
export interface GroundWay {
  readonly a: number;
  readonly b: number;
  /** Both ends included. */
  readonly points: readonly PointM[];
}

const SLACK_M = 1e-9;

export class GroundWays {
  readonly rings: readonly RingM[];
  readonly ground: CostGround;
  readonly waypoints: readonly PointM[];
  readonly #barred: (ring: number, vertex: number) => boolean;
  readonly #boxes: readonly BoxM[];
  readonly #indexes: (SegmentIndex | undefined)[];
  readonly #all: SegmentIndex;
  readonly #between = new Map<number, number>();
  readonly #fields = new Map<number, Field>();

  /**
   * @param barred segments of rings on which no way may end
   * @param waypoints on lawn; their order does not matter
   */
  constructor(
    rings: readonly RingM[],
    ground: CostGround,
    waypoints: readonly PointM[],
    barred: (ring: number, vertex: number) => boolean,
  ) {
    this.rings = rings;
    this.ground = ground;
    this.waypoints = [...waypoints].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
    this.#barred = barred;
    this.#boxes = rings.map((ring) => boxOf(ring));
    this.#indexes = rings.map(() => undefined);
    this.#all = new SegmentIndex(rings);
  }

  /** What the straight way between two waypoints costs. */
  costBetween(u: number, v: number): number {
    const key = u < v ? u * this.waypoints.length + v : v * this.waypoints.length + u;
    const known = this.#between.get(key);
    if (known !== undefined) return known;
    const cost = this.ground.cost(this.waypoints[u]!, this.waypoints[v]!);
    this.#between.set(key, cost);
    return cost;
  }

  /** The cheapest straight way from a place to a ring (to any where none is named), below a cost. */
  foot(from: PointM, ring: number | undefined, below = Infinity): Foot | undefined {
    const index = ring === undefined ? this.#all : this.#indexOf(ring);
    const ringOf = (s: number): number => ring ?? index.ringOf[s]!;
    const open = (s: number): boolean => !this.#barred(ringOf(s), index.vertexOf[s]!);
    const first = index.nearest(from[0], from[1], below, open);
    if (!first) return undefined;
    let best: Foot | undefined;
    let limit = below;
    const offer = (s: number): void => {
      const atM = nearestOn(index, s, from);
      const cost = this.ground.cost(from, atM);
      if (cost >= limit) return;
      best = { ring: ringOf(s), atM, cost };
      limit = cost;
    };
    offer(first.segment);
    if (best && limit <= first.distanceM + SLACK_M) return best;
    const tried = new Set([first.segment]);
    for (let reach = 2 * first.distanceM + 1; ; reach *= 2) {
      const r = Math.min(reach, limit);
      const near = index
        .inBox(from[0] - r, from[1] - r, from[0] + r, from[1] + r)
        .filter((s) => !tried.has(s) && open(s))
        .map((s) => ({ s, distanceM: index.distanceM(s, from[0], from[1]) }))
        .filter(({ distanceM }) => distanceM <= r)
        .sort((a, b) => a.distanceM - b.distanceM || a.s - b.s);
      for (const { s, distanceM } of near) {
        if (distanceM >= limit) break;
        tried.add(s);
        offer(s);
      }
      if (limit <= reach || tried.size >= index.count || reach > 1e7) return best;
    }
  }

  /** The place on a ring nearest to another place, whatever the ground between. */
  nearestOn(ring: number, from: PointM): PointM | undefined {
    const index = this.#indexOf(ring);
    const open = (s: number): boolean => !this.#barred(ring, index.vertexOf[s]!);
    const near = index.nearest(from[0], from[1], Infinity, open);
    return near && nearestOn(index, near.segment, from);
  }

  /** The cheapest straight way between two rings, below a cost. */
  straight(a: number, b: number, below: number): FoundWay | undefined {
    const [few, many] = this.rings[a]!.length <= this.rings[b]!.length ? [a, b] : [b, a];
    const ring = this.rings[few]!;
    const index = this.#indexOf(many);
    const n = ring.length >> 1;
    const pairs: { distanceM: number; p: PointM; q: PointM }[] = [];
    for (let i = 0; i < n; i++) {
      if (this.#barred(few, i)) continue;
      const p = vertexAt(ring, i);
      const q = vertexAt(ring, (i + 1) % n);
      for (const s of index.inBox(
        Math.min(p[0], q[0]) - below,
        Math.min(p[1], q[1]) - below,
        Math.max(p[0], q[0]) + below,
        Math.max(p[1], q[1]) + below,
      )) {
        if (this.#barred(many, index.vertexOf[s]!)) continue;
        const pair = nearestOfSegments(p, q, index.from(s), index.to(s));
        if (pair.distanceM >= below) continue;
        pairs.push({ distanceM: pair.distanceM, p: pair.first, q: pair.second });
      }
    }
    pairs.sort((x, y) => x.distanceM - y.distanceM || x.p[0] - y.p[0] || x.p[1] - y.p[1]);
    let best: FoundWay | undefined;
    for (const { distanceM, p, q } of pairs) {
      if (distanceM >= (best?.cost ?? below)) break;
      const cost = this.ground.cost(p, q);
      if (cost < (best?.cost ?? below)) best = { cost, points: few === a ? [p, q] : [q, p] };
    }
    return best;
  }

  /** A length that no way between two rings is shorter than. */
  apart(a: number, b: number): number {
    return boxesApart(this.#boxes[a]!, this.#boxes[b]!);
  }

  /** The same for a place and a ring. */
  apartFrom([e, n]: PointM, ring: number): number {
    return boxesApart({ minE: e, maxE: e, minN: n, maxN: n }, this.#boxes[ring]!);
  }

  /** Ways from whichever ring is cheapest to all waypoints. */
  fromAnyRing(): Field {
    return this.#spread(this.waypoints.map((at) => this.foot(at, undefined)));
  }

  /** Ways from one ring to all waypoints. */
  fromRing(ring: number): Field {
    const known = this.#fields.get(ring);
    if (known) return known;
    const field = this.#spread(this.waypoints.map((at) => this.foot(at, ring)));
    this.#fields.set(ring, field);
    return field;
  }

  /** Ways from a place to all waypoints. */
  fromPlace(at: PointM): Field {
    const feet = this.waypoints.map(
      (p): Foot => ({ ring: -1, atM: at, cost: this.ground.cost(p, at) }),
    );
    return this.#spread(feet);
  }

  /** The points of the way from a waypoint back to where a field began. */
  back(field: Field, waypoint: number): { nodes: number[]; foot: Foot } {
    const nodes = [waypoint];
    for (let v = field.via[waypoint]!; v !== -1; v = field.via[v]!) nodes.push(v);
    return { nodes, foot: field.feet[nodes[nodes.length - 1]!]! };
  }

  /**
   * The cheapest way from a place to where a field began.
   *
   * @param straight the best straight way there
   */
  wayTo(from: PointM, field: Field, straight: Foot | undefined): FoundWay | undefined {
    let best = straight ? { cost: straight.cost, waypoint: -1 } : undefined;
    const bounds = this.waypoints
      .map((p, v) => ({
        v,
        bound: field.cost[v]! + Math.hypot(p[0] - from[0], p[1] - from[1]),
      }))
      .filter(({ bound }) => bound < (best?.cost ?? Infinity))
      .sort((x, y) => x.bound - y.bound);
    for (const { v, bound } of bounds) {
      if (best && bound >= best.cost) break;
      const cost = field.cost[v]! + this.ground.cost(from, this.waypoints[v]!);
      if (cost < (best?.cost ?? Infinity) - SLACK_M) best = { cost, waypoint: v };
    }
    if (!best) return undefined;
    if (best.waypoint === -1) return { cost: best.cost, points: [from, straight!.atM] };
    const { nodes, foot } = this.back(field, best.waypoint);
    return { cost: best.cost, points: [from, ...nodes.map((v) => this.waypoints[v]!), foot.atM] };
  }

  /** Dijkstra; the straight way between two waypoints is only weighed where it could be better. */
  #spread(feet: readonly (Foot | undefined)[]): Field {
    const count = this.waypoints.length;
    const cost = Float64Array.from(feet, (foot) => foot?.cost ?? Infinity);
    const via = new Int32Array(count).fill(-1);
    const settled = new Uint8Array(count);
    for (;;) {
      let u = -1;
      for (let v = 0; v < count; v++) {
        if (!settled[v] && cost[v]! < (u === -1 ? Infinity : cost[u]!)) u = v;
      }
      if (u === -1) return { cost, via, feet };
      settled[u] = 1;
      const [e, n] = this.waypoints[u]!;
      for (let v = 0; v < count; v++) {
        if (settled[v]) continue;
        const p = this.waypoints[v]!;
        if (cost[u]! + Math.hypot(p[0] - e, p[1] - n) >= cost[v]! - SLACK_M) continue;
        const by = cost[u]! + this.costBetween(u, v);
        if (by >= cost[v]! - SLACK_M) continue;
        cost[v] = by;
        via[v] = u;
      }
    }
  }

  #indexOf(ring: number): SegmentIndex {
    const known = this.#indexes[ring] ?? new SegmentIndex([this.rings[ring]!]);
    this.#indexes[ring] = known;
    return known;
  }
}

function nearestOn(index: SegmentIndex, s: number, [e, n]: PointM): PointM {
  const a = index.from(s);
  const b = index.to(s);
  const share = nearestShare(e, n, a[0], a[1], b[0], b[1]);
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

function boxesApart(a: BoxM, b: BoxM): number {
  const e = Math.max(0, a.minE - b.maxE, b.minE - a.maxE);
  const n = Math.max(0, a.minN - b.maxN, b.minN - a.maxN);
  return Math.hypot(e, n);
}
