/** A loop of a stated plan, with the peg that holds each vertex of its wire. */
import type { StatedLoop, StatedPeg } from "../../check/stated/stated-plan.ts";
import type { RingM } from "../../model/geometry.ts";

export interface LaidLoop {
  readonly name: string;
  readonly wire: RingM;
  readonly pegs: readonly StatedPeg[];
  /** Place in `pegs` for each vertex of the wire. */
  readonly pegOf: Int32Array;
  /** Unit vectors to the left of the wire at its pegs, east and north, where it first comes by. */
  readonly lefts: Float64Array;
  /** How sharply it turns there, radians. */
  readonly turns: Float64Array;
}

/** @returns undefined where the plan states no pegs, or one of its vertices has none near */
export function laidLoop({ name, wire, pegs }: StatedLoop): LaidLoop | undefined {
  if (!pegs) return undefined;
  const cells = new Map<string, number[]>();
  const key = (e: number, n: number): string => `${Math.floor(e)} ${Math.floor(n)}`;
  pegs.forEach(({ atM: [e, n] }, i) => {
    const list = cells.get(key(e, n));
    if (list) list.push(i);
    else cells.set(key(e, n), [i]);
  });
  const pegOf = new Int32Array(wire.length >> 1);
  for (let v = 0; v < pegOf.length; v++) {
    const [e, n] = [wire[2 * v]!, wire[2 * v + 1]!];
    let best = -1;
    let least = HELD_M;
    for (let de = -1; de <= 1; de++) {
      for (let dn = -1; dn <= 1; dn++) {
        for (const i of cells.get(key(e + de, n + dn)) ?? []) {
          const { atM } = pegs[i]!;
          const away = Math.hypot(atM[0] - e, atM[1] - n);
          if (away < least) [least, best] = [away, i];
        }
      }
    }
    if (best < 0) return undefined;
    pegOf[v] = best;
  }
  return { name, wire, pegs, pegOf, ...directions(wire, pegOf, pegs.length) };
}

function directions(wire: RingM, pegOf: Int32Array, pegs: number) {
  const lefts = new Float64Array(2 * pegs);
  const turns = new Float64Array(pegs);
  const n = pegOf.length;
  const at = (v: number): readonly [number, number] => [wire[2 * v]!, wire[2 * v + 1]!];
  for (let v = n - 1; v >= 0; v--) {
    const [a, b, c] = [at((v + n - 1) % n), at(v), at((v + 1) % n)];
    const [de, dn] = [c[0] - a[0], c[1] - a[1]];
    const length = Math.hypot(de, dn) || 1;
    lefts.set([-dn / length, de / length], 2 * pegOf[v]!);
    const turn = Math.atan2(c[1] - b[1], c[0] - b[0]) - Math.atan2(b[1] - a[1], b[0] - a[0]);
    turns[pegOf[v]!] = Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn)));
  }
  return { lefts, turns };
}

/** A peg holds the wire within this, metres: 10 mm by contract, and half a pair's gap. */
const HELD_M = 0.05;
