/** Pegs of one loop, numbered in the order in which the wire first touches them. */

import type { RingM } from "../model/geometry.ts";
import type { Peg, PegPlace } from "../model/plan.ts";
import type { Route, RouteNode, RouteStop } from "./route.ts";

/** A peg stands on a bend where the wire turns by at least this, degrees. */
const BEND_DEG = 5;

/** Chainage of every stop of a route, metres from the station, and the length of the loop. */
export function chainages(stops: readonly RouteStop[]): { atM: Float64Array; lengthM: number } {
  const atM = new Float64Array(stops.length);
  let total = 0;
  for (let i = 0; i < stops.length; i++) {
    atM[i] = total;
    const a = stops[i]!.atM;
    const b = stops[(i + 1) % stops.length]!.atM;
    total += Math.hypot(b[0] - a[0], b[1] - a[1]);
  }
  return { atM, lengthM: total };
}

export function wireOf(stops: readonly RouteStop[]): RingM {
  return Float64Array.from(stops.flatMap((stop) => [...stop.atM]));
}

function turnDeg(stops: readonly RouteStop[], i: number): number {
  const n = stops.length;
  const a = stops[(i + n - 1) % n]!.atM;
  const b = stops[i]!.atM;
  const c = stops[(i + 1) % n]!.atM;
  const before = Math.atan2(b[1] - a[1], b[0] - a[0]);
  const after = Math.atan2(c[1] - b[1], c[0] - b[0]);
  const turn = Math.abs(after - before);
  return ((turn > Math.PI ? 2 * Math.PI - turn : turn) * 180) / Math.PI;
}

function placeOf(node: RouteNode, turn: number): PegPlace {
  if (node.isStation) return "station";
  if (node.onPair) return "pair";
  return turn >= BEND_DEG ? "bend" : "straight";
}

export function numberPegs(loopName: string, route: Route): Peg[] {
  const { atM } = chainages(route.stops);
  const pegOf = new Map<number, number>();
  const pegs: (Peg & { secondChainageM?: number })[] = [];
  route.stops.forEach((stop, i) => {
    const known = pegOf.get(stop.node);
    if (known === undefined) {
      const node = route.nodes[stop.node]!;
      pegOf.set(stop.node, pegs.length);
      pegs.push({
        number: `${loopName}${pegs.length + 1}`,
        atM: node.atM,
        chainageM: atM[i]!,
        on: placeOf(node, turnDeg(route.stops, i)),
      });
    } else if (pegs[known]!.secondChainageM === undefined) {
      pegs[known] = { ...pegs[known]!, secondChainageM: atM[i]! };
    }
  });
  return pegs;
}
