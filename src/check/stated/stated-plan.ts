/**
 * A plan as it is judged: wire from anywhere, with whatever is said of it. What is not said is
 * undefined, and rules that need it are not measured. All geometry in the site grid, metres.
 */
import type { LineM, PointM, RingM } from "../../model/geometry.ts";

export interface StatedPeg {
  readonly number: string;
  readonly atM: PointM;
  readonly chainageM: number | undefined;
  readonly secondChainageM: number | undefined;
  readonly on: string | undefined;
  /** Joints that lie at it, `J1` or `J1, J4`; undefined for none. */
  readonly joint?: string | undefined;
}

export interface StatedRun {
  readonly line: LineM;
  readonly from: string;
  readonly to: string;
  readonly lengthM: number | undefined;
}

export interface StatedExclusion {
  readonly ring: RingM;
  readonly name: string;
  readonly lengthM: number | undefined;
}

export interface StatedStation {
  readonly atM: PointM;
  readonly bearingDeg: number | undefined;
  /** True where the user placed it; undefined where nothing says who did. */
  readonly given: boolean | undefined;
  readonly straightM: number | undefined;
}

export interface StatedGuide {
  readonly line: LineM;
  readonly lengthM: number | undefined;
  readonly clearanceM: number | undefined;
}

export interface StatedLoop {
  readonly name: string;
  /** Vertices in laying order; a last one that repeats the first is left out. */
  readonly wire: RingM;
  /** What the line lacks from its last vertex back to its first, metres; 0 where it is closed. */
  readonly openM: number;
  readonly lengthM: number | undefined;
  readonly direction: string | undefined;
  readonly pegs: readonly StatedPeg[] | undefined;
  /** The highest number that a peg of it ever had, where a revision kept numbers; else undefined. */
  readonly numberedTo?: number | undefined;
  readonly station: StatedStation | undefined;
  readonly pairedRuns: readonly StatedRun[] | undefined;
  readonly exclusionLoops: readonly StatedExclusion[] | undefined;
  readonly guideWires: readonly StatedGuide[];
}

export interface StatedPassage {
  readonly number: string;
  readonly centreLine: LineM;
  readonly widthM: number | undefined;
  readonly wireWidthM: number | undefined;
  readonly verdict: string | undefined;
}

export interface StatedMown {
  readonly loop: string;
  readonly areaM2: number;
}

export interface StatedPlan {
  readonly loops: readonly StatedLoop[];
  readonly passages: readonly StatedPassage[] | undefined;
  readonly mown: readonly StatedMown[] | undefined;
}
