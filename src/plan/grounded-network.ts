/**
 * Paired runs over ground that is barred or dearer in places: round it, through it, or, where no
 * other way leads to an island, with the least breach.
 */
import { BARRED_FACTOR, type CostArea, CostGround } from "../geometry/cost-ground.ts";
import { passesThrough } from "../geometry/detour.ts";
import { type GroundNetwork, groundNetwork } from "../geometry/ground-network.ts";
import { groundTree } from "../geometry/ground-tree.ts";
import { type GroundWay, GroundWays } from "../geometry/ground-ways.ts";
import { areaContains, vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { RingLink } from "../geometry/spanning-network.ts";
import { leastShareOfTree } from "../geometry/steiner-network.ts";
import { waypointsOf } from "../geometry/waypoints.ts";
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import type { RunGround } from "../model/run-ground.ts";
import type { Thing } from "../model/site.ts";
import type { FirmHulls } from "./firm-hulls.ts";
import { type Run, settledRun, standApart } from "./run-ends.ts";
import { barredCosts, costGround, dearerCosts } from "./run-ground.ts";

export interface Network {
  readonly runs: readonly Run[];
  /** No network over these rings has less run than this, metres. */
  readonly boundM: number;
  /** Firm things that no run could be led round; they must be shut out. */
  readonly blockedBy: readonly Thing[];
  /** What runs cost more on; undefined where the shortest network meets none. */
  readonly dearer?: CostGround;
}

/** What a network is looked for among. */
export interface Search {
  /** The rings with the station's stretch cut out of the first. */
  readonly rings: readonly RingM[];
  readonly isBarred: (ring: number, vertex: number) => boolean;
  readonly hulls: FirmHulls;
}

/** Paired run that a junction must save to be worth its pegs, metres. */
export const JUNCTION_WORTH_M = 0.1;
/** A metre through a firm thing: dearer than any way round, cheaper than ground without wire. */
const FIRM_FACTOR = 200;
/** A bend this near to an end is left out where that costs little, metres. */
const NEAR_END_M = 0.3;
/** What it may cost, metres of plain ground. */
const STRAIGHT_END_WORTH_M = 0.15;
const ROUNDS = 8;

/**
 * @param ground what is drawn, and the same for pricing ways
 */
export function groundedNetwork(
  rings: readonly RingM[],
  search: Search,
  links: readonly RingLink[],
  drawn: readonly RunGround[],
  ground: CostGround,
): Network {
  const inside: AreaM = { shell: rings[0]!, holes: rings.slice(1) };
  const inWay = new Map<string, { hull: readonly PointM[]; thing: Thing }>();
  let priced = ground;
  let network = networkOn(splitAtBorders(search, ground), links, ground, inside);
  for (let round = 0; round < ROUNDS; round++) {
    const before = inWay.size;
    for (const way of network.ways) addFirm(way.points, search.hulls, inWay);
    if (inWay.size === before) break;
    priced = costGround(
      drawn,
      [...inWay.values()].map(({ hull }) => hullCost(hull)),
    );
    network = networkOn(splitAtBorders(search, priced), links, priced, inside);
  }
  const split = splitAtBorders(search, priced);
  const breached = breachedAreas(network.ways, priced);
  if (breached.size > 0) network = networkOn(split, links, priced, inside, breached);
  const blockedBy = [...inWay.values()].flatMap(({ hull, thing }) =>
    network.ways.some(({ points }) => passes(points, hull)) ? [thing] : [],
  );
  const free = (a: PointM, b: PointM): boolean =>
    priced.stretches(a, b).every(({ factor }) => factor < FIRM_FACTOR);
  const runs = network.ways.map(({ a, b, points }): Run => {
    const way = straightEnds({ a, b, points }, search, priced, free);
    const ends = [
      { node: a, atM: way[0]! },
      { node: b, atM: way[way.length - 1]! },
    ] as const;
    return settledRun(rings, ends, way, free, true);
  });
  return {
    runs: standApart(rings, runs),
    boundM: breached.size > 0 ? plainBoundM(links) : boundM(search, links, drawn, inside),
    blockedBy: [...new Set(blockedBy)],
    dearer: new CostGround(dearerCosts(drawn)),
  };
}

function networkOn(
  search: Search,
  links: readonly RingLink[],
  ground: CostGround,
  inside: AreaM,
  breached: ReadonlySet<number> = new Set(),
): GroundNetwork {
  return groundNetwork(search.rings, links, ground, {
    barred: search.isBarred,
    waypoints: waypointsOf(ground, inside, breached),
    worthM: JUNCTION_WORTH_M,
  });
}

function plainBoundM(links: readonly RingLink[]): number {
  const treeM = links.reduce((sum, link) => sum + link.lengthM, 0);
  return leastShareOfTree(links.length + 1) * treeM;
}

/**
 * No network keeps clear of barred ground with less: over plain ground it is at least the proved
 * share of the spanning tree there; in any metric it is at least k over 2 (k − 1) of the tree over
 * its k rings (walk round the network and leave out the longest of the k ways between rings that
 * follow each other). Dearer ground is left out of account, so the bound holds for wire and for cost.
 */
function boundM(
  search: Search,
  links: readonly RingLink[],
  drawn: readonly RunGround[],
  inside: AreaM,
): number {
  const plainM = plainBoundM(links);
  const areas = barredCosts(drawn);
  if (areas.length === 0) return plainM;
  const ground = new CostGround(areas);
  const { rings, isBarred } = splitAtBorders(search, ground);
  const ways = new GroundWays(rings, ground, waypointsOf(ground, inside), isBarred);
  const treeM = groundTree(ways, links).reduce((sum, link) => sum + link.cost, 0);
  const k = search.rings.length;
  return Math.max(plainM, (treeM * k) / (2 * (k - 1)));
}

function addFirm(
  points: readonly PointM[],
  hulls: FirmHulls,
  inWay: Map<string, { hull: readonly PointM[]; thing: Thing }>,
): void {
  for (let i = 0; i + 1 < points.length; i++) {
    for (const near of hulls.near(points[i]!, points[i + 1]!, 0)) {
      if (!passesThrough(points[i]!, points[i + 1]!, near.hull)) continue;
      inWay.set(near.hull[0]!.join(), near);
    }
  }
}

function hullCost(hull: readonly PointM[]): CostArea {
  return { area: { shell: Float64Array.from(hull.flat()), holes: [] }, factor: FIRM_FACTOR };
}

function passes(points: readonly PointM[], hull: readonly PointM[]): boolean {
  return points.some((p, i) => i > 0 && passesThrough(points[i - 1]!, p, hull));
}

/** Numbers of the barred areas that ways pass through. */
function breachedAreas(ways: readonly GroundWay[], ground: CostGround): Set<number> {
  const found = new Set<number>();
  for (const { points } of ways) {
    for (let i = 1; i < points.length; i++) {
      const [a, b] = [points[i - 1]!, points[i]!];
      for (const { from, to, factor } of ground.stretches(a, b)) {
        if (factor < BARRED_FACTOR) continue;
        const at = (from + to) / 2;
        const [e, n] = [a[0] + at * (b[0] - a[0]), a[1] + at * (b[1] - a[1])];
        ground.areas.forEach((one, k) => {
          if (one.factor >= BARRED_FACTOR && areaContains(one.area, e, n)) found.add(k);
        });
      }
    }
  }
  return found;
}

/** The rings with a vertex wherever a border of costly ground crosses them: where it can be reached
 *  from one side of the border only, the nearest place is there. */
function splitAtBorders({ rings, isBarred, hulls }: Search, ground: CostGround): Search {
  const sources: number[][] = [];
  const split = rings.map((ring) => {
    const points: number[] = [];
    const from: number[] = [];
    const n = ring.length >> 1;
    for (let i = 0; i < n; i++) {
      const a = vertexAt(ring, i);
      const b = vertexAt(ring, (i + 1) % n);
      points.push(a[0], a[1]);
      from.push(i);
      for (const { to } of ground.stretches(a, b).slice(0, -1)) {
        if (to < 1e-9 || to > 1 - 1e-9) continue;
        points.push(a[0] + to * (b[0] - a[0]), a[1] + to * (b[1] - a[1]));
        from.push(i);
      }
    }
    sources.push(from);
    return Float64Array.from(points);
  });
  return { rings: split, isBarred: (r, v) => isBarred(r, sources[r]![v]!), hulls };
}

/** A way without bends close by its ends, where the end can as well stand a little further on. */
function straightEnds(
  { a, b, points }: GroundWay,
  search: Search,
  ground: CostGround,
  free: (from: PointM, to: PointM) => boolean,
): PointM[] {
  let way = [...points];
  for (const node of [a, b]) {
    if (node < search.rings.length) way = straightEnd(way, node, search, ground, free);
    way.reverse();
  }
  return way;
}

function straightEnd(
  way: PointM[],
  ring: number,
  search: Search,
  ground: CostGround,
  free: (from: PointM, to: PointM) => boolean,
): PointM[] {
  const [at, bend, behind] = way;
  if (!at || !bend || !behind || distance(at, bend) >= NEAR_END_M) return way;
  const index = new SegmentIndex([search.rings[ring]!]);
  const before = ground.cost(at, bend) + ground.cost(bend, behind);
  let best: { at: PointM; cost: number } | undefined;
  for (const s of index.inBox(at[0] - 1, at[1] - 1, at[0] + 1, at[1] + 1)) {
    if (search.isBarred(ring, index.vertexOf[s]!)) continue;
    const c = index.from(s);
    const d = index.to(s);
    const steps = Math.max(1, Math.ceil(distance(c, d) / 0.02));
    for (let k = 0; k <= steps; k++) {
      const place: PointM = [
        c[0] + ((d[0] - c[0]) * k) / steps,
        c[1] + ((d[1] - c[1]) * k) / steps,
      ];
      if (distance(place, at) > 1 || !free(place, behind)) continue;
      const cost = ground.cost(place, behind);
      if (!best || cost < best.cost) best = { at: place, cost };
    }
  }
  if (!best || best.cost > before + STRAIGHT_END_WORTH_M) return way;
  return [best.at, ...way.slice(2)];
}

function distance(a: PointM, b: PointM): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
