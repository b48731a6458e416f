/** A loop walked stop by stop in laying order: which peg, how far on, ring or paired run. */
import { lineLengthM, toPoints } from "../geometry/rings.ts";
import type { PointM } from "../model/geometry.ts";
import type { Loop, Peg } from "../model/plan.ts";
import type { LoopOnGround } from "../model/terrain.ts";
import { stopsOf } from "../plan/join-loops.ts";
import { keptFor } from "./kept-for.ts";

/** One passing of the wire by a peg. */
export interface WalkStop {
  /** Where the wire itself lies: at the peg, or half a gap beside it. */
  readonly atM: PointM;
  readonly peg: Peg;
  /** Distance along the wire from the station, metres: along the ground where that is known. */
  readonly chainageM: number;
}

/** The wire from one stop to the next. */
export interface WalkSpan {
  readonly from: WalkStop;
  readonly to: WalkStop;
  readonly lengthM: number;
  /** Paired run that it belongs to (place in the loop's list) and which way; undefined on a ring. */
  readonly run: { readonly index: number; readonly way: "out" | "back" } | undefined;
}

/**
 * The spans of a loop in laying order from the station; the last one ends at the station again.
 *
 * Their lengths add up to the length of the wire: along the ground where it is given, else flat.
 * Vertices of the wire without a peg (there are none in a plan of ours) are passed over.
 */
export const walkOf: (loop: Loop, ground?: LoopOnGround) => readonly WalkSpan[] = keptFor(spansOf);

function spansOf(loop: Loop, ground?: LoopOnGround): WalkSpan[] {
  const stops = stopsWithChainage(loop, ground);
  const totalM = ground?.wire.groundM ?? loop.lengthM;
  const runOf = runsByPegs(loop);
  const passed = new Set<string>();
  return stops.map((from, i) => {
    const isLast = i + 1 === stops.length;
    const to = isLast ? { ...stops[0]!, chainageM: totalM } : stops[i + 1]!;
    const key = pairKey(from.peg, to.peg);
    const index = runOf.get(key);
    const way = passed.has(key) ? "back" : "out";
    passed.add(key);
    return {
      from,
      to,
      lengthM: to.chainageM - from.chainageM,
      run: index === undefined ? undefined : { index, way },
    };
  });
}

function stopsWithChainage(loop: Loop, ground: LoopOnGround | undefined): WalkStop[] {
  const vertices = stopsOf(loop);
  const touches = touchesOf(loop);
  const along = chainageMap(loop, ground);
  let flatM = 0;
  return vertices.flatMap(({ atM, peg: place }, i) => {
    const chainageM = flatM;
    const next = vertices[(i + 1) % vertices.length]!.atM;
    flatM += Math.hypot(next[0] - atM[0], next[1] - atM[1]);
    // Pegs may stand within a centimetre of each other: chainage says which; else the nearest.
    const peg = touches(chainageM) ?? loop.pegs[place];
    return peg ? [{ atM, peg, chainageM: along(chainageM) }] : [];
  });
}

/** The peg that the wire touches at a flat chainage, the first or the second time. */
function touchesOf({ pegs }: Loop): (chainageM: number) => Peg | undefined {
  const touches = pegs
    .flatMap((peg) =>
      [peg.chainageM, peg.secondChainageM].flatMap((at) => (at === undefined ? [] : [{ at, peg }])),
    )
    .sort((a, b) => a.at - b.at);
  return (chainageM) => {
    let low = 0;
    let high = touches.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (touches[middle]!.at < chainageM - SAME_M) low = middle + 1;
      else high = middle;
    }
    const found = touches[low];
    return found && found.at <= chainageM + SAME_M ? found.peg : undefined;
  };
}

/** Chainages within this of each other are one, metres. */
const SAME_M = 1e-6;

/** From flat chainages to those on the ground: known at pegs, in proportion between them. */
function chainageMap(loop: Loop, ground: LoopOnGround | undefined): (flatM: number) => number {
  if (!ground) return (flatM) => flatM;
  const known: [flat: number, ground: number][] = loop.pegs.flatMap((peg, i) => {
    const on = ground.pegs[i]!;
    const second: [number, number][] =
      peg.secondChainageM === undefined || on.secondChainageM === undefined
        ? []
        : [[peg.secondChainageM, on.secondChainageM]];
    return [[peg.chainageM, on.chainageM] as [number, number], ...second];
  });
  known.push([loop.lengthM, ground.wire.groundM]);
  known.sort((a, b) => a[0] - b[0]);
  const flats = known.map(([flat]) => flat);
  return (flatM) => {
    let low = 0;
    let high = flats.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (flats[middle]! <= flatM) low = middle;
      else high = middle;
    }
    const [a, ga] = known[low]!;
    const [b, gb] = known[high]!;
    return b > a ? ga + ((flatM - a) / (b - a)) * (gb - ga) : ga;
  };
}

const pairKey = (a: Peg, b: Peg): string =>
  a.number < b.number ? `${a.number} ${b.number}` : `${b.number} ${a.number}`;

/** Which paired run lies between two pegs, for every two neighbouring pegs of a run. */
function runsByPegs(loop: Loop): Map<string, number> {
  const at = new Map(loop.pegs.map((peg) => [placeKey(peg.atM), peg]));
  const runOf = new Map<string, number>();
  loop.pairedRuns.forEach((run, index) => {
    const pegs = pegsAlong(run.line, at);
    for (let i = 0; i + 1 < pegs.length; i++) runOf.set(pairKey(pegs[i]!, pegs[i + 1]!), index);
  });
  return runOf;
}

/** Places to 0.1 mm: vertices of a run are places of pegs. */
const placeKey = ([e, n]: PointM): string => `${Math.round(e * 1e4)} ${Math.round(n * 1e4)}`;

function pegsAlong(line: Float64Array, at: ReadonlyMap<string, Peg>): Peg[] {
  if (lineLengthM(line) === 0) return [];
  return toPoints(line).flatMap((point) => at.get(placeKey(point)) ?? []);
}
