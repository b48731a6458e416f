import type { AreaM, LineM, PointM } from "./geometry.ts";

/** Metres in one unit of height. */
export const HEIGHT_UNITS = { m: 1, ft: 0.3048, "us-ft": 1200 / 3937 } as const;
export type HeightUnit = keyof typeof HEIGHT_UNITS;

/**
 * Heights of the ground at the nodes of a square lattice in the site grid, row by row from the
 * north, each row from the west. Between nodes the ground is bilinear.
 */
export interface HeightLattice {
  /** Place of the first node, the north-west one, metres in the site grid. */
  readonly westM: number;
  readonly northM: number;
  readonly stepM: number;
  readonly columns: number;
  readonly rows: number;
  /** Metres; NaN where nothing is known. */
  readonly heightsM: Float64Array;
  /** What the heights come from, as shown to people: a file's name, or the survey. */
  readonly from: string;
}

/** A line or ring measured on the ground. */
export interface LengthOnGround {
  /** Along the ground, metres; flat where no height is known. */
  readonly groundM: number;
  /** Flat length of what lies where no height is known, metres. */
  readonly unknownM: number;
}

/** A peg on the ground; chainages along the ground, metres. */
export interface PegOnGround {
  /** Left out where it is not known. */
  readonly heightM?: number;
  readonly chainageM: number;
  readonly secondChainageM?: number;
}

export interface GuideOnGround extends LengthOnGround {
  readonly pegs: readonly PegOnGround[];
}

/** One loop on the ground; every list is in the order of that of the plan's loop. */
export interface LoopOnGround {
  readonly loop: string;
  readonly wire: LengthOnGround;
  readonly pegs: readonly PegOnGround[];
  readonly pairedRuns: readonly LengthOnGround[];
  readonly exclusionLoops: readonly LengthOnGround[];
  readonly guideWires: readonly GuideOnGround[];
}

/** The lawn of a loop on the ground. */
export interface LawnSlope {
  readonly loop: string;
  /** Mean slope, percent; undefined where no height is known. */
  readonly meanPercent: number | undefined;
  /** Its area on the ground over that on the map. */
  readonly stretch: number;
}

/** Mown lawn steeper than the machine climbs. */
export interface SteepArea {
  readonly loop: string;
  readonly area: AreaM;
  /** On the map, m². */
  readonly areaM2: number;
  /** Greatest slope in it, and where: 100 tan of its angle. */
  readonly slopePercent: number;
  readonly atM: PointM;
}

/** A stretch of wire beyond which the ground falls away from the lawn. */
export interface EdgeFall {
  readonly loop: string;
  readonly line: LineM;
  /** On the map, metres. */
  readonly lengthM: number;
  /** Greatest fall square to the wire, percent, and where. */
  readonly fallPercent: number;
  readonly atM: PointM;
}

/** A finished plan on the ground. Heights are those of the source, to its own datum. */
export interface PlanOnGround {
  readonly from: string;
  /** Distance of the lattice's nodes, metres. */
  readonly stepM: number;
  /** Lowest and highest place of the wire, metres; undefined where no height is known. */
  readonly lowestM: number | undefined;
  readonly highestM: number | undefined;
  readonly loops: readonly LoopOnGround[];
  /** One a loop. */
  readonly lawns: readonly LawnSlope[];
  readonly steep: readonly SteepArea[];
  readonly falls: readonly EdgeFall[];
}
