/** Paired runs: the shortest network that ties the islands of a part to its edge. */
import { clearHull, wayRound } from "../geometry/detour.ts";
import { vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { spanningNetwork } from "../geometry/spanning-network.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import type { Thing } from "../model/site.ts";
import type { RingPlace } from "./ring-place.ts";
import { type RunEnds, squareEnds, standApart } from "./run-ends.ts";

/** A paired run between two rings; ring 0 is the part's outer ring. */
export interface Run extends RunEnds {
  readonly fromRing: number;
  readonly toRing: number;
}

export interface Network {
  readonly runs: readonly Run[];
  /** Firm things that no run could be led round; they must be shut out. */
  readonly blockedBy: readonly Thing[];
}

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
  if (rings.length === 1) return { runs: [], blockedBy: [] };
  const { ring: outer, barred } = withStationStretch(rings[0]!, station, clearM);
  const links = spanningNetwork([outer, ...rings.slice(1)], new Set([0]), (r, v) =>
    r === 0 ? barred(v) : false,
  );
  const shells = firm.flatMap((thing) => thing.areas.map((a) => ({ thing, ring: a.shell })));
  const obstacles = new SegmentIndex(shells.map((s) => s.ring));
  const wires = new SegmentIndex(rings);
  const hulls = new Map<number, PointM[]>();
  const hullOf = (i: number): PointM[] => {
    const known = hulls.get(i) ?? clearHull(shells[i]!.ring, FIRM_CLEARANCE_M);
    hulls.set(i, known);
    return known;
  };
  const blockedBy = new Set<Thing>();
  const runs = links.map((link): Run => {
    const reach = 5 + link.lengthM / 2;
    const near = new Set(
      obstacles
        .inBox(
          Math.min(link.from[0], link.to[0]) - reach,
          Math.min(link.from[1], link.to[1]) - reach,
          Math.max(link.from[0], link.to[0]) + reach,
          Math.max(link.from[1], link.to[1]) + reach,
        )
        .map((s) => obstacles.ringOf[s]!),
    );
    const order = [...near].sort((a, b) => a - b);
    const around = order.map(hullOf);
    const via = wayRound(link.from, link.to, around);
    if (!via || (via.length > 0 && meetsWire([link.from, ...via, link.to], wires))) {
      const straight = order.filter((i) => wayRound(link.from, link.to, [hullOf(i)])?.length !== 0);
      for (const i of straight) blockedBy.add(shells[i]!.thing);
    }
    const ends = squareEnds(
      rings[link.fromRing]!,
      rings[link.toRing]!,
      [link.from, ...(via ?? []), link.to],
      around,
    );
    return { fromRing: link.fromRing, toRing: link.toRing, ...ends };
  });
  return { runs: standApart(rings, runs), blockedBy: [...blockedBy] };
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
