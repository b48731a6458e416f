/** A loop's wire as it is tested for a break: places where a meter can be clipped on, in order. */
import type { PointM } from "../../model/geometry.ts";

/** A peg as the plan states it. */
export interface TestPeg {
  readonly number: string;
  readonly atM: PointM;
  readonly chainageM: number;
  /** Where the wire comes by a second time, metres; pegs of a pair. */
  readonly secondChainageM?: number | undefined;
}

/** Where the wire passes a peg. */
export interface WirePlace {
  /** `A12`; `A12/2` where the wire comes by for the second time; `start` and `end` at the station. */
  readonly name: string;
  readonly atM: PointM;
  readonly chainageM: number;
}

/** The wire between two places next to each other. */
export interface Stretch {
  readonly from: WirePlace;
  readonly to: WirePlace;
  readonly lengthM: number;
  /** Places of joints that lie in it, by name. */
  readonly joints: readonly string[];
}

export interface TestedWire {
  readonly loop: string;
  readonly lengthM: number;
  readonly pegs: number;
  /** All places, joints included. */
  readonly places: readonly WirePlace[];
  /** Pegs that stand where the wire begins: other names of the start. */
  readonly alsoStart: readonly WirePlace[];
  /** From place to place, those with joints left out: nobody clips on at a joint. */
  readonly stretches: readonly Stretch[];
}

/** Places nearer to each other along the wire than this are one, metres. */
const SAME_M = 0.02;

/**
 * @param joints pegs with a joint, as places (`A12` or `A12/2`)
 * @param stationM where the wire begins and ends
 */
export function testedWire(
  loop: string,
  lengthM: number,
  stationM: PointM,
  pegs: readonly TestPeg[],
  joints: ReadonlySet<string>,
): TestedWire {
  const passings = pegs.flatMap((peg): WirePlace[] => [
    { name: peg.number, atM: peg.atM, chainageM: peg.chainageM },
    ...(peg.secondChainageM === undefined
      ? []
      : [{ name: `${peg.number}/2`, atM: peg.atM, chainageM: peg.secondChainageM }]),
  ]);
  passings.sort((a, b) => a.chainageM - b.chainageM);
  const inner = passings.filter(
    ({ chainageM }) => chainageM > SAME_M && chainageM < lengthM - SAME_M,
  );
  const alsoStart = passings.filter(({ chainageM }) => chainageM <= SAME_M);
  const start: WirePlace = { name: "start", atM: stationM, chainageM: 0 };
  const end: WirePlace = { name: "end", atM: stationM, chainageM: lengthM };
  const places = [start, ...inner, end];
  const stretches: Stretch[] = [];
  let from = start;
  let held: string[] = [];
  for (const place of places.slice(1)) {
    if (joints.has(place.name)) {
      held.push(place.name);
      continue;
    }
    const along = place.chainageM - from.chainageM;
    stretches.push({ from, to: place, lengthM: along, joints: held });
    from = place;
    held = [];
  }
  return { loop, lengthM, pegs: pegs.length, places, alsoStart, stretches };
}
