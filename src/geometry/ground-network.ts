/**
 * A short network over rings where ground is barred or dearer in places: the cheapest spanning tree,
 * shortened by junctions, its bends polished.
 *
 * Wherever two ways leave one ring or junction, three ways to a new junction take their place if that
 * saves enough: the Fermat point where plain ground lies between, else the best place that a pattern
 * search finds with ways measured in the graph of waypoints (Hooke and Jeeves 1961, from memory).
 * Greedy by gain, so never dearer than the tree.
 */
import type { PointM, RingM } from "../model/geometry.ts";
import type { CostGround } from "./cost-ground.ts";
import { type GroundLink, groundTree } from "./ground-tree.ts";
import { type Field, type Foot, type FoundWay, type GroundWay, GroundWays } from "./ground-ways.ts";
import { polishWays } from "./polish-ways.ts";
import { SegmentIndex } from "./segment-index.ts";
import { segmentsMeet } from "./segments.ts";
import type { RingLink } from "./spanning-network.ts";
import { fermatPoint } from "./steiner-network.ts";

export interface GroundNetwork {
  /** Nodes `rings.length`, `rings.length + 1`, … */
  readonly junctions: readonly PointM[];
  readonly ways: readonly GroundWay[];
  /** What all ways cost, metres of plain ground, and how long they are, metres. */
  readonly cost: number;
  readonly lengthM: number;
  /** What the cheapest spanning tree costs before junctions. */
  readonly treeCost: number;
}

export interface GroundOptions {
  /** Segments of rings on which no way may end. */
  readonly barred: (ring: number, vertex: number) => boolean;
  /** Where ways may bend: corners of barred areas, places along the borders of dearer ones. */
  readonly waypoints: readonly PointM[];
  /** Least saving that is worth a junction, metres of plain ground. */
  readonly worthM: number;
  /** Least saving that is worth a bend, metres of plain ground; 0.02 where left out. */
  readonly worthBendM?: number;
}

const PASSES = 8;
/** Legs of a junction are no shorter than this, metres. */
const LEAST_LEG_M = 0.3;
/** Sizes of the steps of the pattern search, metres. */
const DIRECTIONS = 6;
const STEPS_M = [1, 0.5, 0.25, 0.12, 0.06, 0.03, 0.015];
/** No search begins at a place that is this much worse than no junction, metres. */
const SEARCH_WITHIN_M = 1;
/** Two ways that leave a bend of others at less than this are parted by a junction, radians. */
const WIDE_RAD = (2 * Math.PI) / 3;

/**
 * @param rings rings that do not meet, metres
 * @param links their shortest spanning network over plain ground
 */
export function groundNetwork(
  rings: readonly RingM[],
  links: readonly RingLink[],
  ground: CostGround,
  options: GroundOptions,
): GroundNetwork {
  const ways = new GroundWays(rings, ground, options.waypoints, options.barred);
  const tree = groundTree(ways, links);
  const builder = new Builder(ways, tree, options);
  return builder.run(tree.reduce((sum, link) => sum + link.cost, 0));
}

interface Star {
  readonly first: Way;
  readonly second: Way;
  readonly hub: number;
  readonly at: PointM;
  readonly ways: readonly { readonly node: number; readonly way: FoundWay }[];
  readonly gain: number;
}

interface Way {
  readonly a: number;
  readonly b: number;
  readonly points: readonly PointM[];
  readonly cost: number;
}

class Builder {
  readonly #graph: GroundWays;
  readonly #options: GroundOptions;
  readonly #rings: number;
  readonly #segments: SegmentIndex;
  readonly #placeFields = new Map<string, Field>();
  /** Pairs of ways that no junction shortens. */
  readonly #none = new Set<string>();
  /** Places of junctions by node. */
  #places = new Map<number, PointM>();
  #ways: Way[];
  #next: number;

  constructor(graph: GroundWays, tree: readonly GroundLink[], options: GroundOptions) {
    this.#graph = graph;
    this.#options = options;
    this.#rings = graph.rings.length;
    this.#segments = new SegmentIndex(graph.rings);
    this.#next = this.#rings + graph.waypoints.length;
    this.#ways = this.#chained(pieces(graph, tree));
  }

  run(treeCost: number): GroundNetwork {
    this.#polish();
    for (let pass = 0; pass < PASSES; pass++) {
      if (this.#pass() === 0) break;
      this.#merge();
      this.#polish();
    }
    const nodes = [...this.#places.keys()].sort((x, y) => x - y);
    const number = new Map(nodes.map((node, i) => [node, this.#rings + i]));
    const named = (node: number): number => number.get(node) ?? node;
    return {
      junctions: nodes.map((node) => this.#places.get(node)!),
      ways: this.#ways.map(({ a, b, points }) => ({ a: named(a), b: named(b), points })),
      cost: this.#ways.reduce((sum, way) => sum + way.cost, 0),
      lengthM: this.#ways.reduce((sum, way) => sum + lengthOf(way.points), 0),
      treeCost,
    };
  }

  #polish(): void {
    const polished = polishWays(this.#graph, this.#ways, this.#places, this.#options.worthBendM);
    this.#places = new Map(polished.places);
    this.#ways = polished.ways.map((way) => this.#priced(way));
  }

  #priced(way: GroundWay): Way {
    return { ...way, cost: this.#graph.ground.costOfWay(way.points) };
  }

  /** Ways between rings and junctions from single pieces; what only bends is no junction. */
  #chained(all: readonly Piece[]): Way[] {
    const around = new Map<number, Piece[]>();
    for (const piece of all) {
      for (const node of [piece.a, piece.b]) {
        around.set(node, [...(around.get(node) ?? []), piece]);
      }
    }
    const isKey = (node: number): boolean =>
      node < this.#rings || (around.get(node)?.length ?? 0) !== 2;
    const used = new Set<Piece>();
    const ways: Way[] = [];
    for (const start of all) {
      for (const from of [start.a, start.b]) {
        if (used.has(start) || !isKey(from)) continue;
        const points: PointM[] = [from === start.a ? start.from : start.to];
        let piece: Piece | undefined = start;
        let node = from;
        while (piece) {
          used.add(piece);
          const forward: boolean = piece.a === node;
          points.push(forward ? piece.to : piece.from);
          node = forward ? piece.b : piece.a;
          const done: Piece = piece;
          piece = isKey(node) ? undefined : around.get(node)!.find((one) => one !== done);
        }
        ways.push(this.#priced({ a: from, b: node, points }));
        if (from >= this.#rings) this.#places.set(from, points[0]!);
        if (node >= this.#rings) this.#places.set(node, points[points.length - 1]!);
      }
    }
    return ways;
  }

  /** Junctions that lost a way become bends. */
  #merge(): void {
    const bends = new Map<PointM, number>();
    const bend = (at: PointM): number => {
      const known = bends.get(at) ?? this.#next++;
      bends.set(at, known);
      return known;
    };
    const parts = this.#ways.flatMap(({ a, b, points }): Piece[] =>
      points.slice(1).map((to, i) => ({
        a: i === 0 ? a : bend(points[i]!),
        b: i + 2 === points.length ? b : bend(to),
        from: points[i]!,
        to,
      })),
    );
    this.#places = new Map();
    this.#ways = this.#chained(parts);
  }

  /** Makes the junctions that save most and do not get in each other's way. Number made. */
  #pass(): number {
    const stars = this.#candidates().sort((x, y) => y.gain - x.gain || x.at[0] - y.at[0]);
    const gone = new Set<Way>();
    const added: Way[] = [];
    let made = 0;
    for (const star of stars) {
      if (gone.has(star.first) || gone.has(star.second)) continue;
      const others = [...this.#ways, ...added].filter(
        (way) => !gone.has(way) && way !== star.first && way !== star.second,
      );
      if (!star.ways.every(({ way }) => this.#clear(way.points, others))) continue;
      const node = this.#next++;
      this.#places.set(node, star.at);
      gone.add(star.first);
      gone.add(star.second);
      for (const { node: end, way } of star.ways) {
        added.push({ a: node, b: end, points: way.points, cost: way.cost });
      }
      made++;
    }
    this.#ways = [...this.#ways.filter((way) => !gone.has(way)), ...added];
    return made;
  }

  #candidates(): Star[] {
    const at = new Map<number, Way[]>();
    for (const way of this.#ways) {
      for (const node of [way.a, way.b]) at.set(node, [...(at.get(node) ?? []), way]);
    }
    const stars: Star[] = [];
    for (const [hub, list] of at) {
      for (let i = 0; i < list.length; i++) {
        for (let j = i + 1; j < list.length; j++) {
          const star = this.#knownStar(hub, list[i]!, list[j]!);
          if (star) stars.push(star);
        }
      }
    }
    return stars;
  }

  /** Stars are looked for once as long as their two ways stay as they are. */
  #knownStar(hub: number, first: Way, second: Way): Star | undefined {
    const key = [hub, ...first.points.flat(), ...second.points.flat()]
      .map((value) => value.toFixed(4))
      .join();
    if (this.#none.has(key)) return undefined;
    const star = this.#star(hub, first, second);
    if (!star) this.#none.add(key);
    return star;
  }

  #star(hub: number, first: Way, second: Way): Star | undefined {
    const e = from(first, hub);
    const f = from(second, hub);
    const before = first.cost + second.cost;
    const startsApart = distance(e.points[0]!, f.points[0]!);
    // Three legs of a star bridge the two starts; two ways alone are cheaper than more.
    if (startsApart > before || e.far === f.far) return undefined;
    const isPlace = hub >= this.#rings;
    if (isPlace && angle(e.points, f.points) >= WIDE_RAD - 0.01) return undefined;
    const nodes = [hub, e.far, f.far];
    const worth = isPlace ? 1e-4 : this.#options.worthM;
    const found = this.#bestPlace(nodes, e.points, f.points, before - worth);
    if (!found) return undefined;
    const gain = before - found.cost;
    if (gain < worth) return undefined;
    if (found.ways.some(({ way }) => lengthOf(way.points) < LEAST_LEG_M)) return undefined;
    return { first, second, hub, at: found.at, ways: found.ways, gain };
  }

  /** The place from which three nodes are reached at the least cost. */
  #bestPlace(
    nodes: readonly number[],
    one: readonly PointM[],
    two: readonly PointM[],
    below: number,
  ): Placed | undefined {
    const guess = middle([one[0]!, two[0]!, one[one.length - 1]!, two[two.length - 1]!]);
    const plain = this.#plainPlace(nodes, guess);
    if (plain && !(plain.straightM < below)) return undefined;
    const first = plain && this.#reach(plain.at, nodes);
    // Over plain ground the Fermat point is the best there is.
    if (first && first.cost <= plain.straightM + 1e-9) return first;
    const starts = [...(plain ? [plain.at] : []), ...along(one), ...along(two)];
    const ranked = starts
      .flatMap((at) => this.#reach(at, nodes) ?? [])
      .sort((x, y) => x.cost - y.cost)
      .slice(0, 2);
    let best: Placed | undefined;
    for (const start of ranked) {
      if (start.cost > below + SEARCH_WITHIN_M) break;
      const found = this.#search(start, nodes);
      if (!best || found.cost < best.cost - 1e-9) best = found;
    }
    return best;
  }

  /** Where the sum of straight lengths to three nodes is least. */
  #plainPlace(
    nodes: readonly number[],
    guess: PointM,
  ): { at: PointM; straightM: number } | undefined {
    let at = guess;
    let straightM = Infinity;
    for (let round = 0; round < 40; round++) {
      const ends = nodes.map((node) => this.#nearest(node, at));
      if (ends.some((end) => end === undefined)) return undefined;
      const next = fermatPoint(ends[0]!, ends[1]!, ends[2]!);
      const moved = distance(next, at);
      at = next;
      straightM = ends.reduce((sum, end) => sum + distance(end!, at), 0);
      if (moved < 1e-6) break;
    }
    return { at, straightM };
  }

  #nearest(node: number, at: PointM): PointM | undefined {
    if (node >= this.#rings) return this.#places.get(node);
    return this.#graph.nearestOn(node, at);
  }

  #search(start: Placed, nodes: readonly number[]): Placed {
    let best = start;
    for (const step of STEPS_M) {
      // The direction that last helped is tried first.
      let turn = 0;
      for (let failed = 0; failed < DIRECTIONS; ) {
        const angle = (2 * Math.PI * turn) / DIRECTIONS;
        const at: PointM = [
          best.at[0] + step * Math.cos(angle),
          best.at[1] + step * Math.sin(angle),
        ];
        const found = this.#reach(at, nodes);
        if (found && found.cost < best.cost - 1e-6) [best, failed] = [found, 0];
        else [turn, failed] = [turn + 1, failed + 1];
      }
    }
    return best;
  }

  /** The cheapest ways from a place to some nodes. */
  #reach(at: PointM, nodes: readonly number[]): Placed | undefined {
    let cost = 0;
    const ways: { node: number; way: FoundWay }[] = [];
    for (const node of nodes) {
      const way = this.#wayTo(at, node);
      if (!way) return undefined;
      cost += way.cost;
      ways.push({ node, way });
    }
    return { at, cost, ways };
  }

  #wayTo(at: PointM, node: number): FoundWay | undefined {
    if (node < this.#rings) {
      const straight = this.#graph.foot(at, node);
      if (straight && straight.cost <= distance(at, straight.atM) + 1e-9) {
        return { cost: straight.cost, points: [at, straight.atM] };
      }
      return this.#graph.wayTo(at, this.#graph.fromRing(node), straight);
    }
    const place = this.#places.get(node)!;
    const straight: Foot = { ring: -1, atM: place, cost: this.#graph.ground.cost(at, place) };
    if (straight.cost <= distance(at, place) + 1e-9) {
      return { cost: straight.cost, points: [at, place] };
    }
    const key = `${place[0]},${place[1]}`;
    const field = this.#placeFields.get(key) ?? this.#graph.fromPlace(place);
    this.#placeFields.set(key, field);
    return this.#graph.wayTo(at, field, straight);
  }

  /** Whether a way meets no ring between its ends and crosses no other way. */
  #clear(points: readonly PointM[], others: readonly Way[]): boolean {
    for (let i = 0; i + 1 < points.length; i++) {
      const [p, q] = [points[i]!, points[i + 1]!];
      const length = distance(p, q);
      const cut = Math.min(0.4, 0.01 / Math.max(length, 1e-6));
      const to: PointM =
        i + 2 === points.length ? [q[0] - cut * (q[0] - p[0]), q[1] - cut * (q[1] - p[1])] : q;
      const near = this.#segments.inBox(
        Math.min(p[0], to[0]),
        Math.min(p[1], to[1]),
        Math.max(p[0], to[0]),
        Math.max(p[1], to[1]),
      );
      if (near.some((s) => segmentsMeet(p, to, this.#segments.from(s), this.#segments.to(s)))) {
        return false;
      }
      if (others.some((other) => meetsWay(p, q, other.points))) return false;
    }
    return true;
  }
}

interface Placed {
  readonly at: PointM;
  readonly cost: number;
  readonly ways: readonly { readonly node: number; readonly way: FoundWay }[];
}

interface Piece {
  readonly a: number;
  readonly b: number;
  readonly from: PointM;
  readonly to: PointM;
}

/**
 * The straight pieces of a tree's links, each once, without rings of pieces: links share waypoints,
 * and where they part there is a junction. Waypoint `v` is node `rings + v`.
 */
function pieces(graph: GroundWays, tree: readonly GroundLink[]): Piece[] {
  const rings = graph.rings.length;
  const all: (Piece & { cost: number })[] = [];
  const known = new Set<string>();
  const put = (a: number, b: number, from: PointM, to: PointM): void => {
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    // A ring and a waypoint, or two waypoints, are joined in one way only; two rings once a tree.
    if (known.has(key)) return;
    known.add(key);
    all.push({ a, b, from, to, cost: graph.ground.cost(from, to) });
  };
  for (const link of tree) {
    const places = [link.from, ...link.nodes.map((v) => graph.waypoints[v]!), link.to];
    const nodes = [link.a, ...link.nodes.map((v) => rings + v), link.b];
    for (let i = 0; i + 1 < nodes.length; i++) {
      put(nodes[i]!, nodes[i + 1]!, places[i]!, places[i + 1]!);
    }
  }
  const group = new Map<number, number>();
  const find = (i: number): number => {
    const up = group.get(i) ?? i;
    return up === i ? i : find(up);
  };
  let kept: Piece[] = [];
  const order = [...all].sort((x, y) => x.cost - y.cost || x.from[0] - y.from[0]);
  for (const piece of order) {
    const [a, b] = [find(piece.a), find(piece.b)];
    if (a === b) continue;
    group.set(a, b);
    kept.push(piece);
  }
  for (;;) {
    const degree = new Map<number, number>();
    for (const { a, b } of kept) {
      degree.set(a, (degree.get(a) ?? 0) + 1);
      degree.set(b, (degree.get(b) ?? 0) + 1);
    }
    const left = kept.filter(({ a, b }) =>
      [a, b].every((node) => node < rings || degree.get(node)! > 1),
    );
    if (left.length === kept.length) return kept;
    kept = left;
  }
}

/** A way as seen from one of its nodes. */
function from(way: Way, node: number): { far: number; points: readonly PointM[] } {
  return way.a === node
    ? { far: way.b, points: way.points }
    : { far: way.a, points: [...way.points].reverse() };
}

/** Places along a way where a junction may be looked for. */
function along(points: readonly PointM[]): PointM[] {
  const found: PointM[] = points.slice(1, -1);
  for (let i = 0; i + 1 < points.length; i++) {
    for (const share of [0.25, 0.5, 0.75]) {
      const [p, q] = [points[i]!, points[i + 1]!];
      found.push([p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])]);
    }
  }
  return found;
}

function angle(one: readonly PointM[], two: readonly PointM[]): number {
  const [at, p, q] = [one[0]!, one[1]!, two[1]!];
  const turn = Math.abs(
    Math.atan2(p[1] - at[1], p[0] - at[0]) - Math.atan2(q[1] - at[1], q[0] - at[0]),
  );
  return Math.min(turn, 2 * Math.PI - turn);
}

function meetsWay(p: PointM, q: PointM, way: readonly PointM[]): boolean {
  for (let i = 0; i + 1 < way.length; i++) {
    const [c, d] = [way[i]!, way[i + 1]!];
    const shared = [c, d].some((end) => distance(end, p) < 1e-9 || distance(end, q) < 1e-9);
    if (!shared && segmentsMeet(p, q, c, d)) return true;
  }
  return false;
}

function lengthOf(points: readonly PointM[]): number {
  let sum = 0;
  for (let i = 0; i + 1 < points.length; i++) sum += distance(points[i]!, points[i + 1]!);
  return sum;
}

function middle(points: readonly PointM[]): PointM {
  return [
    points.reduce((sum, p) => sum + p[0], 0) / points.length,
    points.reduce((sum, p) => sum + p[1], 0) / points.length,
  ];
}

function distance(a: PointM, b: PointM): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
