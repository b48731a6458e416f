/** Paired runs: the shortest network that ties the islands of a part to its edge. */
import { clearHull, passesThrough, wayRound } from "../geometry/detour.ts";
import { vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { spanningNetwork } from "../geometry/spanning-network.ts";
import { steinerNetwork } from "../geometry/steiner-network.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import type { Thing } from "../model/site.ts";
import type { RingPlace } from "./ring-place.ts";
import { type Run, settledRun, standApart } from "./run-ends.ts";

export interface Network {
  readonly runs: readonly Run[];
  /** Length of the shortest spanning tree, without junctions, metres: what the bound is stated on. */
  readonly treeM: number;
  /** Firm things that no run could be led round; they must be shut out. */
  readonly blockedBy: readonly Thing[];
}

/** Paired run that a junction must save to be worth its pegs, metres. */
const JUNCTION_WORTH_M = 0.1;
/** Least distance of a paired run from a firm thing, metres. */
const FIRM_CLEARANCE_M = 0.15;

/**
 * @param rings outer ring first, then the exclusion loops, all as the wire will lie
 * @param station on ring 0; no run may meet the wire within `clearM` of it along the wire
 * @param firm firm things standing free inside the part
 */
export function planNetwork(
  rings: readonly RingM[],
  station: RingPlace,
  clearM: number,
  firm: readonly Thing[],
): Network {
  if (rings.length === 1) return { runs: [], treeM: 0, blockedBy: [] };
  const { ring: outer, barred } = withStationStretch(rings[0]!, station, clearM);
  const searched = [outer, ...rings.slice(1)];
  const isBarred = (ring: number, vertex: number): boolean => ring === 0 && barred(vertex);
  const links = spanningNetwork(searched, new Set([0]), isBarred);
  const hulls = new FirmHulls(firm);
  const network = steinerNetwork(searched, links, {
    barred: isBarred,
    worthM: JUNCTION_WORTH_M,
    open: (from, to) => hulls.near(from, to, 0).every(({ hull }) => !passesThrough(from, to, hull)),
  });
  const wires = new SegmentIndex(rings);
  const blockedBy = new Set<Thing>();
  const runs = network.edges.map(({ a, b }): Run => {
    const near = hulls.near(a.atM, b.atM, 5);
    const around = near.map(({ hull }) => hull);
    const via = wayRound(a.atM, b.atM, around);
    if (!via || (via.length > 0 && meetsWire([a.atM, ...via, b.atM], wires))) {
      for (const { hull, thing } of near) {
        if (wayRound(a.atM, b.atM, [hull])?.length !== 0) blockedBy.add(thing);
      }
    }
    return settledRun(rings, [a, b], [a.atM, ...(via ?? []), b.atM], around);
  });
  const treeM = links.reduce((sum, link) => sum + link.lengthM, 0);
  return { runs: standApart(rings, runs), treeM, blockedBy: [...blockedBy] };
}

/** Convex hulls of firm things, grown by the clearance of a run, found by place. */
class FirmHulls {
  readonly #shells: { thing: Thing; ring: RingM }[];
  readonly #index: SegmentIndex;
  readonly #hulls = new Map<number, PointM[]>();

  constructor(firm: readonly Thing[]) {
    this.#shells = firm.flatMap((thing) => thing.areas.map((a) => ({ thing, ring: a.shell })));
    this.#index = new SegmentIndex(this.#shells.map((s) => s.ring));
  }

  /** Hulls near a straight way: within its half and a little more. */
  near(from: PointM, to: PointM, moreM: number): { hull: PointM[]; thing: Thing }[] {
    const half = moreM > 0 ? Math.hypot(to[0] - from[0], to[1] - from[1]) / 2 : 0;
    const reach = 1 + moreM + half;
    const found = new Set(
      this.#index
        .inBox(
          Math.min(from[0], to[0]) - reach,
          Math.min(from[1], to[1]) - reach,
          Math.max(from[0], to[0]) + reach,
          Math.max(from[1], to[1]) + reach,
        )
        .map((s) => this.#index.ringOf[s]!),
    );
    return [...found]
      .sort((a, b) => a - b)
      .map((i) => ({ hull: this.#hullOf(i), thing: this.#shells[i]!.thing }));
  }

  #hullOf(i: number): PointM[] {
    const known = this.#hulls.get(i) ?? clearHull(this.#shells[i]!.ring, FIRM_CLEARANCE_M);
    this.#hulls.set(i, known);
    return known;
  }
}

/** Whether a way with bends meets any ring of wire between its ends. */
function meetsWire(way: readonly PointM[], wires: SegmentIndex): boolean {
  for (let k = 0; k + 1 < way.length; k++) {
    const a = way[k]!;
    const b = way[k + 1]!;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const steps = Math.max(2, Math.ceil(length / 0.1));
    for (let i = 0; i <= steps; i++) {
      const first = k === 0 && i * (length / steps) < 0.2;
      const last = k + 2 === way.length && length - i * (length / steps) < 0.2;
      if (first || last) continue;
      const e = a[0] + ((b[0] - a[0]) * i) / steps;
      const n = a[1] + ((b[1] - a[1]) * i) / steps;
      if (wires.nearest(e, n, FIRM_CLEARANCE_M)) return true;
    }
  }
  return false;
}

/** The ring with vertices put in where the station's own stretch begins and ends. */
function withStationStretch(
  ring: RingM,
  station: RingPlace,
  clearM: number,
): { ring: RingM; barred: (vertex: number) => boolean } {
  const n = ring.length >> 1;
  const around: number[] = [0];
  for (let i = 0; i < n; i++) {
    const a = vertexAt(ring, i);
    const b = vertexAt(ring, (i + 1) % n);
    around.push(around[i]! + Math.hypot(b[0] - a[0], b[1] - a[1]));
  }
  const total = around[n]!;
  const reach = Math.min(clearM, total / 8);
  const first = vertexAt(ring, station.vertex);
  const at =
    around[station.vertex]! + Math.hypot(station.atM[0] - first[0], station.atM[1] - first[1]);
  const cuts = [at - reach, at + reach].map((d) => ((d % total) + total) % total);
  const points: number[] = [];
  const starts: number[] = [];
  for (let i = 0; i < n; i++) {
    const a = vertexAt(ring, i);
    const b = vertexAt(ring, (i + 1) % n);
    points.push(a[0], a[1]);
    starts.push(around[i]!);
    const length = around[i + 1]! - around[i]!;
    for (const cut of [...cuts].sort((x, y) => x - y)) {
      if (cut <= around[i]! + 1e-6 || cut >= around[i + 1]! - 1e-6) continue;
      const share = (cut - around[i]!) / length;
      points.push(a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]));
      starts.push(cut);
    }
  }
  const barred = (vertex: number): boolean => {
    const from = starts[vertex]!;
    const to = starts[vertex + 1] ?? total;
    const middle = (from + to) / 2;
    const off = Math.abs(((middle - at + 1.5 * total) % total) - total / 2);
    return off < reach;
  };
  return { ring: Float64Array.from(points), barred };
}
