import type { EdgeKind } from "./roles.ts";

/** What speaks for and against a place of the station (docs/station.md). */
export const STATION_REASONS = [
  "straight",
  "front",
  "level",
  "shade",
  "lead",
  "corner",
  "passage",
  "island",
  "water",
  "public",
] as const;
export type StationReason = (typeof STATION_REASONS)[number];

/**
 * What the planner must know of the machine. Read from a JSON file (docs/profile.md) and checked by
 * a schema; the built-in ones are invented and typical, to be replaced from the machine's manual.
 */
export interface Profile {
  readonly name: string;
  readonly label: string;
  readonly note: string;
  /** Distance from edge to wire by edge kind, metres. `open` is the default of every lawn edge. */
  readonly setinM: Readonly<Record<EdgeKind, number>>;
  /** Widths between the two wires of a passage, metres. */
  readonly passage: {
    /** Narrower: shut. */
    readonly driveMinM: number;
    /** Narrower: driven through only; at least this: mown like the rest. */
    readonly mowMinM: number;
    /** Wider narrowings are not reported as passages. */
    readonly reportBelowM: number;
  };
  readonly pegs: {
    /** Longest span between neighbouring pegs, metres. */
    readonly spacingMaxM: number;
    /** How much further in than its set-in the wire may wander between edges, metres. */
    readonly wanderMaxM: number;
    /** Pegs to buy over the count, as a share. */
    readonly spareShare: number;
  };
  readonly wire: {
    /** Distance between the two wires of a paired run, metres. */
    readonly pairGapM: number;
    readonly ohmPerKm: number;
    readonly reelM: number;
    /** Wire kept at each end of a loop for connecting, metres. */
    readonly spareEndM: number;
    /** Slack to buy over the laid length, as a share. */
    readonly slackShare: number;
    /** What a metre of paired run costs in flush paving, metres on plain lawn (1: no more). */
    readonly runCostPaving: number;
    /** … in a passage that the machine drives through to lawn beyond. */
    readonly runCostPassage: number;
    /** … in the open lawn in front of a station. */
    readonly runCostStation: number;
    /** … on ground steeper than `runSlopeFromPercent`. */
    readonly runCostSlope: number;
    readonly runSlopeFromPercent: number;
  };
  /** What the machine follows along the wire. */
  readonly corners: {
    /** Inner corners of the wire sharper than this are cut, degrees. */
    readonly innerAngleMinDeg: number;
    /** Least radius of the wire's bends, metres; 0 leaves corners as they are. */
    readonly bendRadiusMinM: number;
  };
  readonly guide: {
    /** Guide wires a loop: 0 or 1. */
    readonly wires: number;
    /** Least distance of a guide wire from other wire and from firm things, metres. */
    readonly clearanceM: number;
  };
  readonly station: {
    /** Straight wire wanted on each side of the station, metres. */
    readonly straightM: number;
    /** Open lawn wanted in front of the wire at the station, metres. */
    readonly clearAheadM: number;
    /** Screws or spikes that hold it down. */
    readonly fixings: number;
    /** Greatest slope of the ground under it, percent. */
    readonly slopeMaxPercent: number;
    /** Way of the lead from the outlet at which a place has half of the marks for it, metres. */
    readonly leadHalfM: number;
    /** From this distance on passages, islands, water and the like do not count against it, metres. */
    readonly awayM: number;
  };
  /** How much each reason counts where the station's place is chosen; only their ratios matter. */
  readonly stationWeights: Readonly<Record<StationReason, number>>;
  readonly loop: {
    readonly lengthMaxM: number;
    readonly areaMaxM2: number;
    /** Least distance between the wires of neighbouring loops, metres. */
    readonly spacingM: number;
  };
  readonly mowing: {
    /** How far past the wire the blades reach, metres; 0 counts only what lies inside the wire. */
    readonly pastWireM: number;
  };
  /** How the machine works; for timetable and coverage. */
  readonly work: {
    readonly speedMPerS: number;
    readonly cutWidthM: number;
    /** Mowing on one charge, and charging after it, minutes. */
    readonly runMin: number;
    readonly chargeMin: number;
    /** Mowing time more on the steepest lawn that it mows, as a share; in proportion below. */
    readonly slopeTimeShare: number;
    /** Times that the blades go over the lawn in a week, on average. */
    readonly passesPerWeek: number;
  };
  /** Slopes in percent: 100 tan of the angle. */
  readonly terrain: {
    /** Steepest lawn that the machine mows. */
    readonly slopeMaxPercent: number;
    /** Steepest fall outwards at the wire. */
    readonly edgeSlopeMaxPercent: number;
  };
  readonly obstacles: {
    /** Firm things lower than this are climbed and need a loop, metres. */
    readonly lowHeightM: number;
    /** Trunks thinner than this are young trees and need a loop, metres. */
    readonly youngTrunkM: number;
  };
}
