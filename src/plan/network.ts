/** Paired runs: the shortest network that ties the islands of a part to its edge. */
import type { CostGround, Stretch } from "../geometry/cost-ground.ts";
import { passesThrough, wayRound } from "../geometry/detour.ts";
import { vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { type RingLink, spanningNetwork } from "../geometry/spanning-network.ts";
import { leastShareOfTree, steinerNetwork } from "../geometry/steiner-network.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { RunGround } from "../model/run-ground.ts";
import type { Thing } from "../model/site.ts";
import { FIRM_CLEARANCE_M, FirmHulls } from "./firm-hulls.ts";
import {
  groundedNetwork,
  JUNCTION_WORTH_M,
  type Network,
  type Search,
} from "./grounded-network.ts";
import type { RingPlace } from "./ring-place.ts";
import { type Run, settledRun, standApart, wayOf } from "./run-ends.ts";
import { costGround, groundNear, stationFront } from "./run-ground.ts";
import type { StationPlace } from "./station.ts";

/**
 * @param rings outer ring first, then the exclusion loops, all as the wire will lie
 * @param station on ring 0; no run may meet the wire within `clearM` of it along the wire
 * @param firm firm things standing free inside the part
 * @param drawn ground on which runs cost more or may not lie
 */
export function planNetwork(
  rings: readonly RingM[],
  station: StationPlace,
  clearM: number,
  firm: readonly Thing[],
  drawn: readonly RunGround[],
  profile: Profile,
): Network {
  if (rings.length === 1) return { runs: [], boundM: 0, blockedBy: [] };
  const { ring: outer, barred } = withStationStretch(rings[0]!, station, clearM);
  const search: Search = {
    rings: [outer, ...rings.slice(1)],
    isBarred: (ring, vertex) => ring === 0 && barred(vertex),
    hulls: new FirmHulls(firm),
  };
  const links = spanningNetwork(search.rings, new Set([0]), search.isBarred);
  const plain = plainNetwork(rings, search, links);
  const near = [...groundNear(drawn, outer), ...stationFront(rings[0]!, station, profile)];
  if (near.length === 0) return plain;
  // Costs are nowhere less than lengths: what is best over plain ground and meets no other is best.
  const ground = costGround(near);
  if (plain.runs.every((run) => isPlain(wayOf(run), ground))) return plain;
  return groundedNetwork(rings, search, links, near, ground);
}

function isPlain(way: readonly PointM[], ground: CostGround): boolean {
  return way.every((p, i) => i === 0 || ground.stretches(way[i - 1]!, p).every(isLawn));
}

const isLawn = ({ factor }: Stretch): boolean => factor === 1;

function plainNetwork(
  rings: readonly RingM[],
  { rings: searched, isBarred, hulls }: Search,
  links: readonly RingLink[],
): Network {
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
    const free = (p: PointM, q: PointM): boolean => !around.some((h) => passesThrough(p, q, h));
    return settledRun(rings, [a, b], [a.atM, ...(via ?? []), b.atM], free);
  });
  const treeM = links.reduce((sum, link) => sum + link.lengthM, 0);
  return {
    runs: standApart(rings, runs),
    boundM: leastShareOfTree(rings.length) * treeM,
    blockedBy: [...blockedBy],
  };
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
