import type { Finding } from "./finding.ts";
import type { AreaM, LineM, PointM, RingM } from "./geometry.ts";
import type { Profile } from "./profile.ts";
import type { Role } from "./roles.ts";
import type { SiteGrid } from "./site.ts";
import type { StationFigures, StationOption } from "./station.ts";

/** Why a peg stands where it stands. */
export type PegPlace = "straight" | "bend" | "pair" | "station";

export interface Peg {
  /** `A1`, `A2`, … in laying order of first touch. */
  readonly number: string;
  readonly atM: PointM;
  /** Distance along the wire from the station, metres. */
  readonly chainageM: number;
  /** Where the wire comes by a second time (pegs of a pair), metres. */
  readonly secondChainageM?: number;
  readonly on: PegPlace;
}

/** Two wires, out and back, between two rings of wire. */
export interface PairedRun {
  /** Centre line between the two wires. */
  readonly line: LineM;
  /** What it leaves: `boundary` or an exclusion loop's name. */
  readonly from: string;
  readonly to: string;
  readonly lengthM: number;
  /** What it comes to where ground is dearer, metres on plain lawn; never less than its length. */
  readonly costM: number;
}

/** A ring of wire round one or more things inside the lawn. */
export interface ExclusionLoop {
  /** What the wire shuts out, bounded by the wire. Wound anticlockwise. */
  readonly ring: RingM;
  readonly name: string;
  /** Role of what it shuts out; of the largest where there are several. */
  readonly role: Role;
  /** Names of everything it shuts out. */
  readonly things: readonly string[];
  readonly lengthM: number;
}

export interface Station {
  readonly atM: PointM;
  /** Bearing in which the machine drives in, degrees clockwise from grid north. */
  readonly bearingDeg: number;
  /** True where the user placed it. */
  readonly given: boolean;
  /** Straight wire found on each side of it, metres. */
  readonly straightM: number;
  /** Its place in figures. */
  readonly figures?: StationFigures;
  /** The next best places, best first. */
  readonly options?: readonly StationOption[];
}

/** A peg of a guide wire; its two ends share pegs of the boundary wire. */
export interface GuidePeg {
  /** `G1`, `G2`, … from the station on. */
  readonly number: string;
  readonly atM: PointM;
  /** Distance along the guide wire from the station, metres. */
  readonly chainageM: number;
  readonly on: "straight" | "bend";
}

/** A wire from the station to the far part of the loop's lawn, where it meets the boundary wire. */
export interface GuideWire {
  readonly line: LineM;
  readonly lengthM: number;
  /** Least distance kept from other wire and firm things between its two ends, metres. */
  readonly clearanceM: number;
  readonly pegs: readonly GuidePeg[];
}

/** One loop of wire, from its station and back to it. */
export interface Loop {
  /** `A`, `B`, … */
  readonly name: string;
  /** The wire as it will lie: closed (first vertex not repeated), anticlockwise, from the station. */
  readonly wire: RingM;
  readonly lengthM: number;
  /**
   * No network of paired runs between these rings can bring the loop below this, metres: the rings
   * and twice the proved least share of the shortest spanning tree.
   */
  readonly boundM: number;
  readonly station: Station;
  readonly pegs: readonly Peg[];
  /**
   * The highest number that a peg of this loop ever had, where a revision kept the numbers of pegs;
   * left out where pegs are numbered along the wire.
   */
  readonly numberedTo?: number;
  readonly pairedRuns: readonly PairedRun[];
  readonly exclusionLoops: readonly ExclusionLoop[];
  readonly guideWires: readonly GuideWire[];
}

export type Verdict = "mow" | "drive" | "shut";

/** One way to open a passage. */
export interface Opening {
  /**
   * `widen`: move either bank; `move-edge`: move the edge of the thing named; `flush-edging`: make
   * an edge flush, so that the wire may lie nearer to it.
   */
  readonly means: "widen" | "move-edge" | "flush-edging";
  /** How far the bank or edge moves, or how much wider the way between the wires gets, metres. */
  readonly amountM: number;
  /** What the passage is afterwards. */
  readonly gives: "drive" | "mow";
  /** The thing or edge that it is done to; left out for `widen`. */
  readonly of?: string;
  /** Sides that get flush edging. */
  readonly sides?: 1 | 2;
  /** Flush edging to lay, metres. */
  readonly lengthM?: number;
}

/** What it comes to when a passage is left as it is. */
export interface PassageCost {
  /**
   * `loop`: what lies beyond has a loop and a station of its own; `cut-off`: lawn is cut off from
   * the machine; `hand-trim`: the passage itself is mown by hand.
   */
  readonly comesTo: "loop" | "cut-off" | "hand-trim";
  /** Lawn that the other loop holds, that is cut off, or that is mown by hand, m². */
  readonly areaM2: number;
  /** The other loop, its wire (metres) and its pegs. */
  readonly loop?: string;
  readonly wireM?: number;
  readonly pegs?: number;
}

/** A narrowing with room for the machine on both sides. */
export interface Passage {
  readonly number: number;
  readonly centreLine: LineM;
  /** Least width edge to edge, metres. */
  readonly widthM: number;
  /**
   * Least width between the wires (or a wire and a firm thing), metres; negative where the two
   * set-ins overlap, by how much. Outputs show 0 there.
   */
  readonly wireWidthM: number;
  readonly lengthM: number;
  /** Direction of the way through its narrowest place, degrees clockwise from grid north, 0 to 180. */
  readonly bearingDeg: number;
  readonly verdict: Verdict;
  /** Lawn on the smaller side of it, m²; 0 where it separates nothing. */
  readonly beyondM2: number;
  /** Names of the islands on that side. */
  readonly islandsBeyond: readonly string[];
  /** What would open it; empty for `mow`. */
  readonly openings: readonly Opening[];
  /** What leaving it comes to; undefined for `mow`. */
  readonly cost: PassageCost | undefined;
  /** Where it is narrowest, metres in the site grid. */
  readonly atM: PointM;
}

/** What becomes of parts that the machine cannot drive to; see docs/site-file.md. */
export const PARTS_CHOICES = ["own", "carried", "none"] as const;
export type PartsChoice = (typeof PARTS_CHOICES)[number];

/** What one choice comes to. */
export interface PartsFigures {
  readonly parts: PartsChoice;
  readonly wireM: number;
  readonly pegs: number;
  readonly stations: number;
  readonly mownM2: number;
}

export interface MownArea {
  readonly loop: string;
  /** 1, 2, … within the plan. */
  readonly part: number;
  readonly areas: readonly AreaM[];
  readonly areaM2: number;
}

export interface CutOffArea {
  readonly area: AreaM;
  readonly areaM2: number;
  /** In plain words, e.g. `narrower than the machine`. */
  readonly reason: string;
}

export interface HandTrim {
  readonly areas: readonly AreaM[];
  readonly areaM2: number;
}

/** Everything decided: what to lay and what it leaves. All geometry in the site grid, metres. */
export interface Plan {
  readonly siteName: string;
  readonly grid: SiteGrid;
  readonly profile: Profile;
  /** Area of the ground: lawn less everything that is not lawn, m². */
  readonly groundM2: number;
  readonly loops: readonly Loop[];
  readonly passages: readonly Passage[];
  /** What becomes of parts that the machine cannot drive to, and what else might. */
  readonly parts: {
    readonly choice: PartsChoice;
    /** Empty where every part is reached. */
    readonly compared: readonly PartsFigures[];
  };
  readonly mown: readonly MownArea[];
  readonly cutOff: readonly CutOffArea[];
  readonly handTrim: HandTrim;
  readonly findings: readonly Finding[];
}
