/**
 * The route of one loop: a walk that is one closed simple curve by construction.
 *
 * Rings of wire and paired runs form a plane graph whose nodes are the pegs. Walking it with the
 * mown ground always on the left (at each peg, the next way clockwise from where one came) goes
 * anticlockwise round the outer edge, out and back on each run, clockwise round each island. On a
 * run the wire lies half the pair gap to the left of the pegs, so the two passes never touch.
 */
import { spansOf } from "../geometry/chord-fit/chord-fit.ts";
import { vertexAt } from "../geometry/rings.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import { besidePeg, PEG_REACH_M } from "./beside-peg.ts";
import type { RingPlace } from "./ring-place.ts";
import type { Run, RunEnd } from "./run-ends.ts";
import { pegSpacingM } from "./spacing.ts";

/** A node of the walk: where a peg stands. */
export interface RouteNode {
  readonly atM: PointM;
  readonly isStation: boolean;
  /** On a paired run or where one begins. */
  readonly onPair: boolean;
  /** A vertex of a fitted ring, where the wire may bend. */
  readonly isCorner: boolean;
}

/** One passing of the wire by a node. */
export interface RouteStop {
  readonly node: number;
  /** Where the wire itself lies: at the peg, or half a gap beside it. */
  readonly atM: PointM;
}

export interface Route {
  readonly nodes: readonly RouteNode[];
  /** In laying order from the station; the first is not repeated. */
  readonly stops: readonly RouteStop[];
  /** Nodes along each run, in the order in which the wire first goes out. */
  readonly runNodes: readonly (readonly number[])[];
  /** For each run whether the wire goes out from its `from` ring. */
  readonly outward: readonly boolean[];
}

/** Pairs are drawn this much wider than asked, so that rounding to 0.1 mm leaves no gap too small. */
export const GAP_ALLOWANCE_M = 0.0003;

interface Way {
  readonly to: number;
  readonly pair: boolean;
}

interface Draft {
  readonly nodes: { atM: PointM; isStation: boolean; onPair: boolean; isCorner: boolean }[];
  readonly ways: Way[][];
}

/**
 * @param rings outer ring (anticlockwise) first, then exclusion loops (clockwise)
 * @throws never for rings that do not meet and runs that form a tree over them
 */
export function routeLoop(
  rings: readonly RingM[],
  runs: readonly Run[],
  station: RingPlace,
  profile: Profile,
): Route {
  const draft: Draft = { nodes: [], ways: [] };
  const ends = new Map<string, number>();
  rings.forEach((ring, r) => {
    addRing(draft, ring, r, runs, r === 0 ? station : undefined, ends, pegSpacingM(profile));
  });
  const endNode = (end: RunEnd, key: string): number => {
    const place = "ring" in end ? key : `junction ${end.junction}`;
    const known = ends.get(place);
    if (known !== undefined) return known;
    if ("ring" in end) throw new Error("a run ends on a ring that has no such place");
    const node = addNode(draft, end.atM, true, true);
    ends.set(place, node);
    return node;
  };
  const runNodes = runs.map((run, i) => {
    const from = endNode(run.from, `${i}:from`);
    const to = endNode(run.to, `${i}:to`);
    return addRun(draft, run, from, to, pegSpacingM(profile));
  });
  const start = draft.nodes.findIndex((node) => node.isStation);
  const stops = walk(draft, start, (profile.wire.pairGapM + GAP_ALLOWANCE_M) / 2);
  const firstStop = new Map<number, number>();
  stops.forEach((stop, i) => {
    if (!firstStop.has(stop.node)) firstStop.set(stop.node, i);
  });
  const outward = runNodes.map((list) => {
    const first = firstStop.get(list[0]!) ?? 0;
    const last = firstStop.get(list[list.length - 1]!) ?? 0;
    return first <= last;
  });
  return {
    nodes: draft.nodes,
    stops,
    runNodes: runNodes.map((list, i) => (outward[i] ? list : [...list].reverse())),
    outward,
  };
}

function addNode(draft: Draft, atM: PointM, isCorner: boolean, onPair = false): number {
  draft.nodes.push({ atM, isStation: false, onPair, isCorner });
  draft.ways.push([]);
  return draft.nodes.length - 1;
}

/** Puts a ring's pegs in: corners, ends of runs, the station, and pegs between them. */
function addRing(
  draft: Draft,
  ring: RingM,
  r: number,
  runs: readonly Run[],
  station: RingPlace | undefined,
  ends: Map<string, number>,
  spacingM: number,
): void {
  const n = ring.length >> 1;
  type Stop = { share: number; atM: PointM; key: string };
  const stopsOf = new Map<number, Stop[]>();
  const put = (place: RingPlace, key: string): void => {
    const atEnd = place.share > 1 - 1e-9;
    const vertex = atEnd ? (place.vertex + 1) % n : place.vertex;
    const stop = { share: atEnd ? 0 : place.share, atM: place.atM, key };
    const list = stopsOf.get(vertex);
    if (list) list.push(stop);
    else stopsOf.set(vertex, [stop]);
  };
  runs.forEach((run, i) => {
    for (const [end, key] of [
      [run.from, `${i}:from`],
      [run.to, `${i}:to`],
    ] as const) {
      if ("ring" in end && end.ring === r) put(end.place, key);
    }
  });
  if (station) put(station, "station");
  const order: number[] = [];
  for (let i = 0; i < n; i++) {
    const corner = vertexAt(ring, i);
    order.push(addNode(draft, corner, true));
    for (const stop of (stopsOf.get(i) ?? []).sort((a, b) => a.share - b.share)) {
      let node = order[order.length - 1]!;
      const at = draft.nodes[node]!.atM;
      if (Math.hypot(stop.atM[0] - at[0], stop.atM[1] - at[1]) > 1e-4) {
        node = addNode(draft, stop.atM, false);
        order.push(node);
      }
      if (stop.key === "station") draft.nodes[node]!.isStation = true;
      else {
        draft.nodes[node]!.onPair = true;
        ends.set(stop.key, node);
      }
    }
  }
  for (let i = 0; i < order.length; i++) {
    const chain = between(draft, order[i]!, order[(i + 1) % order.length]!, spacingM, false);
    for (let k = 0; k + 1 < chain.length; k++) {
      draft.ways[chain[k]!]!.push({ to: chain[k + 1]!, pair: false });
    }
  }
}

/** Nodes from one node to another along a straight line, pegs put between them. */
function between(
  draft: Draft,
  from: number,
  to: number,
  spacingM: number,
  pair: boolean,
): number[] {
  const a = draft.nodes[from]!.atM;
  const b = draft.nodes[to]!.atM;
  // Beside the end of a pair the wire itself may lie a little further on than the peg.
  const pairEnds = Number(draft.nodes[from]!.onPair) + Number(draft.nodes[to]!.onPair);
  const lengthM = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const spans = spansOf(lengthM, spacingM - pairEnds * PEG_REACH_M);
  const chain = [from];
  for (let k = 1; k < spans; k++) {
    const share = k / spans;
    const at: PointM = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
    chain.push(addNode(draft, at, false, pair));
  }
  chain.push(to);
  return chain;
}

function addRun(draft: Draft, run: Run, from: number, to: number, spacingM: number): number[] {
  const corners = [from, ...run.via.map((at) => addNode(draft, at, true, true)), to];
  const chain = [from];
  for (let i = 0; i + 1 < corners.length; i++) {
    chain.push(...between(draft, corners[i]!, corners[i + 1]!, spacingM, true).slice(1));
  }
  for (let k = 0; k + 1 < chain.length; k++) {
    draft.ways[chain[k]!]!.push({ to: chain[k + 1]!, pair: true });
    draft.ways[chain[k + 1]!]!.push({ to: chain[k]!, pair: true });
  }
  return chain;
}

function walk(draft: Draft, start: number, halfGapM: number): RouteStop[] {
  const stops: RouteStop[] = [];
  const first = draft.ways[start]!.find((way) => !way.pair)!;
  let from = start;
  let way = first;
  const limit = 2 * draft.ways.reduce((sum, list) => sum + list.length, 0) + 2;
  for (let guard = 0; guard < limit; guard++) {
    const at = way.to;
    const next = at === start ? first : nextWay(draft, from, at);
    stops.push({ node: at, atM: wireAt(draft, from, way, next, halfGapM) });
    if (at === start) break;
    from = at;
    way = next;
  }
  // The walk arrives at the station last; the wire begins there.
  const station = stops.pop();
  return station ? [station, ...stops] : stops;
}

/** At a node: the way that comes first clockwise from the one just walked. */
function nextWay(draft: Draft, from: number, at: number): Way {
  const ways = draft.ways[at]!;
  if (ways.length === 1) return ways[0]!;
  const here = draft.nodes[at]!.atM;
  const angleTo = (node: number): number => {
    const p = draft.nodes[node]!.atM;
    return Math.atan2(p[1] - here[1], p[0] - here[0]);
  };
  const back = angleTo(from);
  let best = ways[0]!;
  let least = Infinity;
  for (const way of ways) {
    let clockwise = back - angleTo(way.to);
    while (clockwise <= 1e-12) clockwise += 2 * Math.PI;
    if (way.to === from) clockwise = 2 * Math.PI;
    if (clockwise < least) {
      least = clockwise;
      best = way;
    }
  }
  return best;
}

/** Where the wire lies at the node between two ways, each half a gap to the left if it is a pair. */
function wireAt(
  draft: Draft,
  from: number,
  incoming: Way,
  outgoing: Way,
  halfGapM: number,
): PointM {
  const p = draft.nodes[incoming.to]!.atM;
  const a = draft.nodes[from]!.atM;
  const b = draft.nodes[outgoing.to]!.atM;
  const o1 = incoming.pair ? halfGapM : 0;
  const o2 = outgoing.pair ? halfGapM : 0;
  return besidePeg(a, p, b, o1, o2);
}
