/**
 * The way of a paired run from one loop to another, where the machine does not drive.
 *
 * Over lawn and flush paving only, outside all loops, clear of firm things; straight where it can,
 * else taut round what is in the way.
 */
import { grow, shrink } from "../geometry/offset.ts";
import { difference, union } from "../geometry/overlay.ts";
import { areaContains, lineLengthM } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { segmentsMeet } from "../geometry/segments.ts";
import { simplifiedLine } from "../geometry/simplified.ts";
import { TautWays } from "../geometry/taut-ways.ts";
import type { AreaM, LineM, PointM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import { PEG_REACH_M } from "./beside-peg.ts";
import type { LoopDraft } from "./loop.ts";
import { GAP_ALLOWANCE_M } from "./route.ts";

/** Distances from the edges that are tried, widest first, metres. */
const CLEARANCES_M = [0.3, 0.2, 0.1, 0.03];
/** A run keeps this distance from firm things and from wires that it does not end on, metres. */
const FIRM_CLEARANCE_M = 0.15;
/** A way that is not straight leaves a wire this far before it bends, metres. */
const STUB_M = 0.25;
/** Least angle between the run and the wire that it ends on, degrees; more for a wide gap. */
const LEAST_ANGLE_DEG = 40;
/** A way never turns by more than this at a peg, degrees. */
const MOST_TURN_DEG = 100;
/** Kept from the angle at which half a gap beside a peg lies as far from it as a peg holds, degrees. */
const ANGLE_ROOM_DEG = 1;
/** Such a turn is made in two, this far before and after it, metres. */
const EASED_M = 0.1;
/** The two must lie this far apart, metres. */
const LEAST_CUT_M = 0.03;
/** Bends of a taut way round an arc are left out where the way then lies this near to it, metres. */
const BENDS_WITHIN_M = 0.005;
/** Places between pegs are this far apart, metres. */
const BETWEEN_PEGS_M = 0.2;
/** Places of each wire that are tried as ends. */
const ENDS_TRIED = 60;
/** A straight way's distance from the edges is measured at so many places. */
const SAMPLES = 13;
/** A way may be so much longer for each metre that it keeps further from the edges. */
const NEARNESS_COSTS = 20;

/** What the gap of the pair allows: nearer to straight back, its wires would lie off their peg. */
interface Angles {
  readonly leastDeg: number;
  readonly mostTurnDeg: number;
}

function anglesOf(profile: Profile): Angles {
  const share = Math.min(1, (profile.wire.pairGapM + GAP_ALLOWANCE_M) / 2 / PEG_REACH_M);
  const limitDeg = (Math.asin(share) * 180) / Math.PI;
  return {
    leastDeg: Math.max(LEAST_ANGLE_DEG, limitDeg + ANGLE_ROOM_DEG),
    mostTurnDeg: Math.min(MOST_TURN_DEG, 2 * (90 - limitDeg - ANGLE_ROOM_DEG)),
  };
}

export interface CarryGround {
  /** Where a run may lie: lawn, and flush paving. */
  readonly areas: readonly AreaM[];
  /** Firm things. */
  readonly firm: readonly AreaM[];
}

export interface WirePlace {
  readonly atM: PointM;
  /** Whether a peg stands there already. */
  readonly onPeg: boolean;
  /** Unit vector out of the loop, half way between the two directions of the wire. */
  readonly out: PointM;
  /** Directions of the wire there, on and back. */
  readonly wire: readonly [PointM, PointM];
}

/**
 * @param others what lies inside all loops, these two included
 * @returns the way from the first loop's outer wire to the second's, or undefined
 */
export function carryWay(
  first: LoopDraft,
  second: LoopDraft,
  others: readonly AreaM[],
  ground: CarryGround,
  profile: Profile,
): LineM | undefined {
  const from = placesOnWire(first, profile.station.straightM);
  const to = placesOnWire(second, 0);
  const loops = others.map(({ shell }) => ({ shell, holes: [] }));
  const free = difference(union(ground.areas), [
    ...loops,
    ...grow(ground.firm, FIRM_CLEARANCE_M, "round"),
  ]);
  if (free.length === 0) return undefined;
  const angles = anglesOf(profile);
  return (
    straightWay(from, to, free, union(ground.areas), angles) ??
    bentWay(from, to, ground, loops, angles)
  );
}

/** Places on a loop's outer wire where a run may end. */
export function placesOnWire({ loop, inside }: LoopDraft, keepM: number): WirePlace[] {
  const shell = new SegmentIndex([inside.shell]);
  const n = loop.wire.length >> 1;
  const vertex = (i: number): PointM => [loop.wire[2 * (i % n)]!, loop.wire[2 * (i % n) + 1]!];
  const ends: WirePlace[] = [];
  let chainageM = 0;
  for (let i = 0; i < n; i++) {
    const atM = vertex(i);
    const clear = Math.min(chainageM, loop.lengthM - chainageM) >= keepM;
    const next = vertex(i + 1);
    const before = vertex(i + n - 1);
    chainageM += Math.hypot(next[0] - atM[0], next[1] - atM[1]);
    if (i === 0 && keepM > 0) continue;
    const alone = [before, atM, next].every(([e, north]) => shell.nearest(e, north, 1e-3));
    if (!clear || !alone) continue;
    const on = unit(atM, next);
    const back = unit(atM, before);
    // Half way between the two on the right, where the lawn is not.
    const across: PointM = [on[1] - back[1], -on[0] + back[0]];
    const length = Math.hypot(...across);
    if (length < 0.2) continue;
    ends.push({
      atM,
      onPeg: true,
      out: [across[0] / length, across[1] / length],
      wire: [on, back],
    });
    // Between two pegs a run may have a peg of its own.
    const spanM = distance(atM, next);
    const steps = shell.nearest(next[0], next[1], 1e-3) ? Math.floor(spanM / BETWEEN_PEGS_M) : 0;
    for (let k = 1; k < steps; k++) {
      const share = k / steps;
      const between: PointM = [
        atM[0] + share * (next[0] - atM[0]),
        atM[1] + share * (next[1] - atM[1]),
      ];
      ends.push({ atM: between, onPeg: false, out: [on[1], -on[0]], wire: [on, [-on[0], -on[1]]] });
    }
  }
  return ends;
}

/** The best straight way: short, and no nearer to the edges than an ordinary wire if it can. */
function straightWay(
  from: readonly WirePlace[],
  to: readonly WirePlace[],
  free: readonly AreaM[],
  ground: readonly AreaM[],
  { leastDeg }: Angles,
): LineM | undefined {
  const goals = nearestTo(to, from);
  const pairs = nearestTo(from, to)
    .flatMap((a) => goals.map((b) => ({ a, b, lengthM: distance(a.atM, b.atM) })))
    .sort((x, y) => x.lengthM - y.lengthM);
  const freeEdges = new SegmentIndex(free.flatMap((area) => [area.shell, ...area.holes]));
  const edges = new SegmentIndex(ground.flatMap((area) => [area.shell, ...area.holes]));
  const inside = (p: PointM): boolean => free.some((area) => areaContains(area, p[0], p[1]));
  let best: { a: WirePlace; b: WirePlace; score: number } | undefined;
  for (const { a, b, lengthM } of pairs) {
    if (best && lengthM >= best.score) break;
    if (lengthM < 0.05 || !fair(a, b.atM, leastDeg) || !fair(b, a.atM, leastDeg)) continue;
    const at = (m: number): PointM => [
      a.atM[0] + ((b.atM[0] - a.atM[0]) * m) / lengthM,
      a.atM[1] + ((b.atM[1] - a.atM[1]) * m) / lengthM,
    ];
    // The ends themselves lie on the edge of what is free.
    const p = at(0.01);
    const q = at(lengthM - 0.01);
    if (!inside(p) || !inside(q) || crosses(p, q, freeEdges)) continue;
    const clearM = Math.min(
      ...Array.from({ length: SAMPLES }, (_, k) => {
        const [e, n] = at((lengthM * k) / (SAMPLES - 1));
        return edges.nearest(e, n, CLEARANCES_M[0]!)?.distanceM ?? CLEARANCES_M[0]!;
      }),
    );
    const score = lengthM + NEARNESS_COSTS * (CLEARANCES_M[0]! - clearM);
    if (!best || score < best.score) best = { a, b, score };
  }
  return best && Float64Array.of(...best.a.atM, ...best.b.atM);
}

function bentWay(
  from: readonly WirePlace[],
  to: readonly WirePlace[],
  ground: CarryGround,
  loops: readonly AreaM[],
  { leastDeg, mostTurnDeg }: Angles,
): LineM | undefined {
  for (const clearM of CLEARANCES_M) {
    const free = difference(shrink(union(ground.areas), clearM, "round"), [
      ...grow(loops, FIRM_CLEARANCE_M, "round"),
      ...grow(ground.firm, FIRM_CLEARANCE_M, "round"),
    ]);
    const open = (end: WirePlace): boolean =>
      fair(end, stub(end), leastDeg) && free.some((area) => areaContains(area, ...stub(end)));
    const starts = nearestTo(from.filter(open), to);
    const goals = nearestTo(to.filter(open), from);
    if (starts.length === 0 || goals.length === 0) continue;
    const ways = new TautWays(free);
    let best: { way: LineM; lengthM: number } | undefined;
    for (const a of starts.filter((_, i) => i % 6 === 0)) {
      for (const b of goals.filter((_, i) => i % 15 === 0)) {
        const taut = ways.between(stub(a), stub(b));
        if (!taut) continue;
        const way = simplifiedLine(taut, BENDS_WITHIN_M);
        const whole = eased(Float64Array.of(...a.atM, ...way, ...b.atM), free, mostTurnDeg);
        if (!whole) continue;
        const lengthM = lineLengthM(whole);
        if (!best || lengthM < best.lengthM) best = { way: whole, lengthM };
      }
    }
    if (best) return best.way;
  }
  return undefined;
}

/** The way with each turn that is too sharp cut into two; undefined where there is no room for that. */
function eased(way: LineM, free: readonly AreaM[], mostTurnDeg: number): LineM | undefined {
  const points: number[] = [way[0]!, way[1]!];
  const last = way.length - 2;
  for (let i = 2; i < last; i += 2) {
    const at: PointM = [way[i]!, way[i + 1]!];
    const [back, on] = [i - 2, i + 2].map((k): PointM => [way[k]!, way[k + 1]!]) as [
      PointM,
      PointM,
    ];
    const toBack = unit(at, back);
    const toOn = unit(at, on);
    const turnDeg = 180 - angleDeg(toBack, toOn);
    if (turnDeg <= mostTurnDeg) {
      points.push(...at);
      continue;
    }
    const cut = (d: PointM, lengthM: number): PointM => {
      const m = Math.min(EASED_M, lengthM / 2);
      return [at[0] + m * d[0], at[1] + m * d[1]];
    };
    const p = cut(toBack, distance(at, back));
    const q = cut(toOn, distance(at, on));
    if (turnDeg / 2 > mostTurnDeg || distance(p, q) < LEAST_CUT_M) return undefined;
    const middle: PointM = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    if (!free.some((area) => areaContains(area, ...middle))) return undefined;
    points.push(...p, ...q);
  }
  return Float64Array.from([...points, way[last]!, way[last + 1]!]);
}

function stub({ atM, out }: WirePlace): [number, number] {
  return [atM[0] + STUB_M * out[0], atM[1] + STUB_M * out[1]];
}

/** Some of the ends, nearest to any of the others first, spread out. */
function nearestTo(ends: readonly WirePlace[], others: readonly WirePlace[]): WirePlace[] {
  const step = Math.max(1, Math.floor(others.length / 60));
  const some = others.filter((_, i) => i % step === 0);
  const ranked = ends
    .map((end) => ({
      end,
      lengthM: some.reduce((least, { atM }) => Math.min(least, distance(end.atM, atM)), Infinity),
    }))
    .sort((a, b) => a.lengthM - b.lengthM);
  return ranked.slice(0, ENDS_TRIED).map(({ end }) => end);
}

/** Whether a way leaves the wire on its outer side at a fair angle. */
function fair({ atM, out, wire }: WirePlace, toward: PointM, leastDeg: number): boolean {
  const d = unit(atM, toward);
  if (d[0] * out[0] + d[1] * out[1] <= 0) return false;
  const most = Math.cos((leastDeg * Math.PI) / 180);
  return wire.every((w) => d[0] * w[0] + d[1] * w[1] <= most);
}

function crosses(a: PointM, b: PointM, edges: SegmentIndex): boolean {
  return edges
    .inBox(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1]))
    .some((s) => segmentsMeet(a, b, edges.from(s), edges.to(s)));
}

/** Angle between two unit vectors, degrees. */
function angleDeg(a: PointM, b: PointM): number {
  return (Math.acos(Math.max(-1, Math.min(1, a[0] * b[0] + a[1] * b[1]))) * 180) / Math.PI;
}

function unit(a: PointM, b: PointM): PointM {
  const length = distance(a, b) || 1;
  return [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
}

function distance(a: PointM, b: PointM): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}
