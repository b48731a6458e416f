import type { PointM, RingM } from "./geometry.ts";
import type { PartsChoice } from "./plan.ts";

/** Wire of an earlier plan that is in the ground. */
export interface KeptWire {
  /** Pegs in laying order, one for each time that the wire comes by; in the site grid, metres. */
  readonly wire: RingM;
  /** For each: whether it is only there for a paired run or the station, which find their own. */
  readonly loose: readonly boolean[];
}

/** A loop of an earlier plan, for its name and the numbers of its pegs. */
export interface NumberedLoop {
  readonly name: string;
  readonly pegs: readonly { readonly number: string; readonly atM: PointM }[];
  /** The highest number that a peg of it ever had. */
  readonly numberedTo: number;
}

/** Pegs nearer than this to each other are the same peg, metres: as well as one is found again. */
export const SAME_PEG_M = 0.02;

/** What the user decides about the plan as a whole, beyond site and machine. All have defaults. */
export interface PlanOptions {
  /**
   * Lawn that may be given up for each metre of wire that it saves, m²: islands then share a loop
   * or join the edge although the machine could pass between. Default 0.1; 0 never gives up any.
   */
  readonly lawnPerWireM2?: number;
  /** Whether lawn that is more than one loop may have is divided between loops. Default true. */
  readonly split?: boolean;
  /**
   * How much more lawn the largest loop of a divided part may have than the smallest, as a share.
   * Default 0.15. A greater one may do with fewer loops where wire, not lawn, decides.
   */
  readonly loadsWithin?: number;
  /**
   * What becomes of parts that the machine cannot drive to and for which no station is given: a
   * loop and a station of their own, a place on the main loop's wire to which the machine is
   * carried, or nothing. Default `own`.
   */
  readonly parts?: PartsChoice;
  /** Wire in the ground: what of it keeps the rules stays. None where left out. */
  readonly keep?: readonly KeptWire[];
  /** Loops whose names and peg numbers are kept. None where left out. */
  readonly numbered?: readonly NumberedLoop[];
}

export const DEFAULT_LAWN_PER_WIRE_M2 = 0.1;
export const DEFAULT_LOADS_WITHIN = 0.15;
