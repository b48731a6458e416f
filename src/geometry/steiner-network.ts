/**
 * Junction points (Steiner points) that shorten a spanning network over rings.
 *
 * Starting from the spanning tree, two edges that leave one ring are replaced by three edges to a
 * junction wherever that saves length; junctions then move until each is the Fermat point of what
 * it joins. Rings are joined wherever it suits: an edge may slide along its ring. Greedy by gain, so
 * never longer than the tree. A bound from below is `leastShareOfTree` times the tree.
 *
 * Cost: a few passes over the edges, each with R-tree lookups.
 * Compare Gilbert and Pollak, Steiner minimal trees, SIAM J. Appl. Math. 16 (1968) (from memory).
 */
import Flatbush from "flatbush";
import type { PointM, RingM } from "../model/geometry.ts";
import { SegmentIndex } from "./segment-index.ts";
import { nearestShare, segmentsMeet } from "./segments.ts";
import type { RingLink } from "./spanning-network.ts";

/**
 * A shortest network is at least this share of the shortest spanning tree: proved by Chung and
 * Graham, A new bound for Euclidean Steiner minimal trees (1985) (from memory; conjectured √3/2).
 * It holds for rings too: cut a network at the rings it meets, and each piece is a network of points.
 */
export const STEINER_RATIO = 0.8241;

/** For this many points and fewer √3/2 is proved: the share of a triangle with equal sides. */
const CONJECTURE_PROVED = 6;

/**
 * The share of the shortest spanning tree below which no network over so many rings can come: all of
 * it for two; √3/2 for up to six (Gilbert and Pollak 1968; Pollak 1978; Du, Hwang and Yao 1985;
 * Rubinstein and Thomas 1991; all from memory); `STEINER_RATIO` for more.
 */
export function leastShareOfTree(rings: number): number {
  if (rings <= 2) return 1;
  return rings <= CONJECTURE_PROVED ? Math.sqrt(3) / 2 : STEINER_RATIO;
}

/** One end of an edge: on ring `node` where that is less than the number of rings, else a junction. */
export interface NetworkEnd {
  readonly node: number;
  readonly atM: PointM;
}

export interface NetworkEdge {
  readonly a: NetworkEnd;
  readonly b: NetworkEnd;
}

export interface SteinerNetwork {
  /** Nodes `rings.length`, `rings.length + 1`, … */
  readonly junctions: readonly PointM[];
  readonly edges: readonly NetworkEdge[];
  readonly lengthM: number;
}

export interface SteinerOptions {
  /** Segments on which no edge may end. */
  readonly barred: (ring: number, vertex: number) => boolean;
  /** Least saving that is worth a junction, metres. */
  readonly worthM: number;
  /** Whether a straight way is open as far as the caller knows (obstacles that are no rings). */
  readonly open?: (from: PointM, to: PointM) => boolean;
}

/** Passes over all pairs of edges at rings. */
const PASSES = 6;
/** Junctions nearer than this to a ring or to each other are not made, metres. */
const LEAST_EDGE_M = 0.3;

/**
 * The point with the least sum of distances to three points (Torricelli's construction).
 * Where a corner of the triangle has 120° or more, that corner.
 */
export function fermatPoint(p: PointM, q: PointM, r: PointM): PointM {
  const corners = [p, q, r] as const;
  const angles = corners.map((at, i) => {
    const a = corners[(i + 1) % 3]!;
    const b = corners[(i + 2) % 3]!;
    const cross = (a[0] - at[0]) * (b[1] - at[1]) - (a[1] - at[1]) * (b[0] - at[0]);
    const dot = (a[0] - at[0]) * (b[0] - at[0]) + (a[1] - at[1]) * (b[1] - at[1]);
    return Math.abs(Math.atan2(cross, dot));
  });
  const wide = angles.findIndex((angle) => angle >= (2 * Math.PI) / 3 - 1e-9);
  if (wide !== -1) return corners[wide]!;
  const weights = corners.map((_, i) => {
    const a = corners[(i + 1) % 3]!;
    const b = corners[(i + 2) % 3]!;
    return Math.hypot(a[0] - b[0], a[1] - b[1]) / Math.sin(angles[i]! + Math.PI / 3);
  });
  const total = weights[0]! + weights[1]! + weights[2]!;
  if (!(total > 0) || !Number.isFinite(total)) return p;
  return [
    (weights[0]! * p[0] + weights[1]! * q[0] + weights[2]! * r[0]) / total,
    (weights[0]! * p[1] + weights[1]! * q[1] + weights[2]! * r[1]) / total,
  ];
}

/**
 * @param rings the rings of the spanning network, metres
 * @param links its links (`spanningNetwork` of the same rings)
 */
export function steinerNetwork(
  rings: readonly RingM[],
  links: readonly RingLink[],
  options: SteinerOptions,
): SteinerNetwork {
  const builder = new Builder(rings, links, options);
  return builder.run();
}

interface Star {
  readonly first: number;
  readonly second: number;
  readonly hub: number;
  readonly at: PointM;
  readonly ends: readonly NetworkEnd[];
  readonly gainM: number;
}

function lengthOf(edge: NetworkEdge): number {
  return distance(edge.a.atM, edge.b.atM);
}

function distance(a: PointM, b: PointM): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

class Builder {
  readonly #rings: readonly RingM[];
  readonly #options: SteinerOptions;
  readonly #indexes: (SegmentIndex | undefined)[];
  readonly #all: SegmentIndex;
  #edges: NetworkEdge[];
  readonly #junctions: PointM[] = [];

  constructor(rings: readonly RingM[], links: readonly RingLink[], options: SteinerOptions) {
    this.#rings = rings;
    this.#options = options;
    this.#indexes = rings.map(() => undefined);
    this.#all = new SegmentIndex(rings);
    this.#edges = links.map((link) => ({
      a: { node: link.fromRing, atM: link.from },
      b: { node: link.toRing, atM: link.to },
    }));
  }

  run(): SteinerNetwork {
    for (let pass = 0; pass < PASSES; pass++) {
      if (this.#pass() === 0) break;
      this.#relax();
    }
    return {
      junctions: this.#junctions,
      edges: this.#edges,
      lengthM: this.#edges.reduce((sum, edge) => sum + lengthOf(edge), 0),
    };
  }

  /** The place on a node that is nearest to a point. */
  #nearestOn(node: number, to: PointM): PointM | undefined {
    const rings = this.#rings.length;
    if (node >= rings) return this.#junctions[node - rings];
    const index = this.#indexes[node] ?? new SegmentIndex([this.#rings[node]!]);
    this.#indexes[node] = index;
    const near = index.nearest(
      to[0],
      to[1],
      Infinity,
      (s) => !this.#options.barred(node, index.vertexOf[s]!),
    );
    if (!near) return undefined;
    const a = index.from(near.segment);
    const b = index.to(near.segment);
    const share = nearestShare(to[0], to[1], a[0], a[1], b[0], b[1]);
    return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
  }

  /** The best junction for three nodes near a first guess. */
  #settle(nodes: readonly number[], guess: PointM): { at: PointM; ends: NetworkEnd[] } | undefined {
    let at = guess;
    let ends: NetworkEnd[] = [];
    for (let round = 0; round < 40; round++) {
      const places = nodes.map((node) => this.#nearestOn(node, at));
      if (places.some((place) => place === undefined)) return undefined;
      ends = nodes.map((node, i) => ({ node, atM: places[i]! }));
      const next = fermatPoint(places[0]!, places[1]!, places[2]!);
      const moved = distance(next, at);
      at = next;
      if (moved < 1e-6) break;
    }
    return { at, ends };
  }

  /** Makes the junctions that save most and do not get in each other's way. Number made. */
  #pass(): number {
    const stars = this.#candidates().sort((a, b) => b.gainM - a.gainM || a.at[0] - b.at[0]);
    const used = new Set<number>();
    const added: NetworkEdge[] = [];
    const tree = this.#edgeTree();
    for (const star of stars) {
      if (used.has(star.first) || used.has(star.second)) continue;
      const spokes = star.ends.map((end) => ({ end, from: star.at }));
      const clear = spokes.every(
        ({ end, from }) =>
          this.#isOpen(from, end) &&
          !this.#crossesEdges(from, end.atM, tree, new Set([star.first, star.second])) &&
          !added.some((edge) => meetsInside(from, end.atM, edge)),
      );
      if (!clear) continue;
      used.add(star.first);
      used.add(star.second);
      const node = this.#rings.length + this.#junctions.length;
      this.#junctions.push(star.at);
      for (const end of star.ends) added.push({ a: end, b: { node, atM: star.at } });
    }
    if (used.size === 0) return 0;
    this.#edges = [...this.#edges.filter((_, i) => !used.has(i)), ...added];
    return used.size / 2;
  }

  #candidates(): Star[] {
    const at = new Map<number, number[]>();
    this.#edges.forEach((edge, i) => {
      for (const { node } of [edge.a, edge.b]) {
        if (node >= this.#rings.length) continue;
        const list = at.get(node);
        if (list) list.push(i);
        else at.set(node, [i]);
      }
    });
    const stars: Star[] = [];
    for (const [hub, list] of at) {
      for (const [first, second] of nearPairs(list, this.#edges, hub)) {
        const star = this.#star(hub, first, second);
        if (star) stars.push(star);
      }
    }
    return stars;
  }

  #star(hub: number, first: number, second: number): Star | undefined {
    const e = endsFrom(this.#edges[first]!, hub);
    const f = endsFrom(this.#edges[second]!, hub);
    const before = lengthOf(this.#edges[first]!) + lengthOf(this.#edges[second]!);
    // What a junction can save at most is one of the two edges.
    const guess: PointM = [
      (e.near.atM[0] + f.near.atM[0] + e.far.atM[0] + f.far.atM[0]) / 4,
      (e.near.atM[1] + f.near.atM[1] + e.far.atM[1] + f.far.atM[1]) / 4,
    ];
    const found = this.#settle([hub, e.far.node, f.far.node], guess);
    if (!found) return undefined;
    const spokes = found.ends.map((end) => distance(end.atM, found.at));
    if (Math.min(...spokes) < LEAST_EDGE_M) return undefined;
    const gainM = before - (spokes[0]! + spokes[1]! + spokes[2]!);
    if (gainM < this.#options.worthM) return undefined;
    return { first, second, hub, at: found.at, ends: found.ends, gainM };
  }

  /** Whether a straight way to an end meets no ring on its way and nothing else in it. */
  #isOpen(from: PointM, end: NetworkEnd): boolean {
    const to = end.atM;
    const length = distance(from, to);
    const stop = Math.max(0, 1 - 0.01 / length);
    const short: PointM = [from[0] + stop * (to[0] - from[0]), from[1] + stop * (to[1] - from[1])];
    const near = this.#all.inBox(
      Math.min(from[0], short[0]),
      Math.min(from[1], short[1]),
      Math.max(from[0], short[0]),
      Math.max(from[1], short[1]),
    );
    if (near.some((s) => segmentsMeet(from, short, this.#all.from(s), this.#all.to(s)))) {
      return false;
    }
    return this.#options.open?.(from, to) ?? true;
  }

  #edgeTree(): Flatbush {
    const tree = new Flatbush(Math.max(1, this.#edges.length));
    for (const { a, b } of this.#edges) {
      tree.add(
        Math.min(a.atM[0], b.atM[0]),
        Math.min(a.atM[1], b.atM[1]),
        Math.max(a.atM[0], b.atM[0]),
        Math.max(a.atM[1], b.atM[1]),
      );
    }
    if (this.#edges.length === 0) tree.add(0, 0, 0, 0);
    tree.finish();
    return tree;
  }

  #crossesEdges(from: PointM, to: PointM, tree: Flatbush, except: ReadonlySet<number>): boolean {
    const near = tree.search(
      Math.min(from[0], to[0]),
      Math.min(from[1], to[1]),
      Math.max(from[0], to[0]),
      Math.max(from[1], to[1]),
    );
    return near.some(
      (i) => !except.has(i) && this.#edges[i] && meetsInside(from, to, this.#edges[i]!),
    );
  }

  /** Moves every junction to the best place for its neighbours, several times round. */
  #relax(): void {
    const rings = this.#rings.length;
    const around: number[][] = this.#junctions.map(() => []);
    this.#edges.forEach((edge, i) => {
      for (const { node } of [edge.a, edge.b]) if (node >= rings) around[node - rings]!.push(i);
    });
    for (let round = 0; round < 12; round++) {
      let moved = 0;
      for (let j = 0; j < this.#junctions.length; j++) {
        moved = Math.max(moved, this.#moveJunction(j, around[j]!));
      }
      if (moved < 1e-4) break;
    }
  }

  #moveJunction(j: number, edgeNumbers: readonly number[]): number {
    const node = this.#rings.length + j;
    const old = this.#junctions[j]!;
    if (edgeNumbers.length !== 3) return 0;
    const fars = edgeNumbers.map((i) => endsFrom(this.#edges[i]!, node).far);
    const found = this.#settle(
      fars.map((far) => far.node),
      old,
    );
    if (!found) return 0;
    const before = fars.reduce((sum, far) => sum + distance(far.atM, old), 0);
    const after = found.ends.reduce((sum, end) => sum + distance(end.atM, found.at), 0);
    const shortest = Math.min(...found.ends.map((end) => distance(end.atM, found.at)));
    if (after > before - 1e-7 || shortest < LEAST_EDGE_M) return 0;
    if (!found.ends.every((end) => this.#isOpen(found.at, end))) return 0;
    this.#junctions[j] = found.at;
    edgeNumbers.forEach((i, k) => {
      this.#edges[i] = { a: found.ends[k]!, b: { node, atM: found.at } };
      // The other end may be a junction that other edges share: its place has not changed.
    });
    return distance(old, found.at);
  }
}

/** The end of an edge at a node, and the other one. */
function endsFrom(edge: NetworkEdge, node: number): { near: NetworkEnd; far: NetworkEnd } {
  return edge.a.node === node ? { near: edge.a, far: edge.b } : { near: edge.b, far: edge.a };
}

/** Pairs of a ring's edges whose ends lie near enough for a junction to save anything. */
function nearPairs(
  list: readonly number[],
  edges: readonly NetworkEdge[],
  hub: number,
): [number, number][] {
  const ends = list
    .map((i) => ({ i, ...endsFrom(edges[i]!, hub), length: lengthOf(edges[i]!) }))
    .sort((a, b) => a.near.atM[0] - b.near.atM[0]);
  const longest = ends.reduce((most, end) => Math.max(most, end.length), 0);
  const pairs: [number, number][] = [];
  for (let x = 0; x < ends.length; x++) {
    for (let y = x + 1; y < ends.length; y++) {
      const a = ends[x]!;
      const b = ends[y]!;
      if (b.near.atM[0] - a.near.atM[0] > 2 * longest) break;
      // The two edges alone are shorter than any star that must bridge more than they do together.
      if (distance(a.near.atM, b.near.atM) > a.length + b.length) continue;
      pairs.push([a.i, b.i]);
    }
  }
  return pairs;
}

/** Whether a segment crosses an edge other than at a common end. */
function meetsInside(from: PointM, to: PointM, edge: NetworkEdge): boolean {
  const shared = [edge.a.atM, edge.b.atM].some(
    (end) => distance(end, from) < 1e-9 || distance(end, to) < 1e-9,
  );
  return !shared && segmentsMeet(from, to, edge.a.atM, edge.b.atM);
}
