/**
 * What the page shows, as one JSON value: made from a finished plan, by the command line for the
 * first paint and by the page itself after each replanning. Coordinates are metres in the site
 * grid, east then north, flat (`e0, n0, e1, n1, …`), to 0.1 mm.
 */
import type { Caution } from "../../handover/cautions.ts";
import type { Guide } from "../../handover/guide/guide.ts";
import type { Material } from "../../handover/materials/materials.ts";
import type { PricedTotal } from "../../handover/prices.ts";
import type { Severity, SourceRef } from "../../model/finding.ts";
import type { LonLat, PointM } from "../../model/geometry.ts";
import type { Language, LengthUnit } from "../../model/hand-over-options.ts";
import type { PegPlace, Verdict } from "../../model/plan.ts";
import type { EdgeKind, Role } from "../../model/roles.ts";
import type { FullProfileFile } from "../../profile/profile-file.ts";
import type { WordKey } from "../words/catalogue.ts";

export type FlatM = readonly number[];

/** Where something lies. */
export type Place =
  | { readonly form: "point"; readonly at: PointM }
  | { readonly form: "line"; readonly line: FlatM }
  /** Polygons, each a shell and its holes; no ring repeats its first vertex. */
  | { readonly form: "area"; readonly areas: readonly (readonly FlatM[])[] };

/** A value to be shown, in the language and unit of the reader. */
export type FigureValue =
  | { readonly lengthM: number }
  | { readonly areaM2: number }
  | { readonly ohm: number }
  | { readonly percent: number }
  | { readonly deg: number }
  | { readonly hours: number }
  | { readonly count: number }
  /** Text of the inputs or of ours, as it is. */
  | { readonly text: string }
  /** One of our words. */
  | { readonly word: WordKey };

export interface Figure {
  readonly label: WordKey;
  readonly value: FigureValue;
}

/** What there is on the map, from the ground up: the order in which it is drawn. */
export const SHAPE_KINDS = [
  "lawn",
  "mown-area",
  "hand-trim",
  "cut-off-area",
  "steep-area",
  "exclusion-loop",
  "thing",
  "run-ground",
  "edge-line",
  "edge-fall",
  "passage",
  "boundary-wire",
  "paired-run",
  "guide-wire",
  "outlet",
  "control",
  "joint",
  "station-option",
  "station",
] as const;
export type ShapeKind = (typeof SHAPE_KINDS)[number];

/** One thing on the map apart from pegs and findings. */
export interface PageShape {
  /** Stable within a plan and, for what is on the site, from plan to plan: `thing:bed-3`. */
  readonly id: string;
  readonly kind: ShapeKind;
  /** Its own name, fit to be shown; empty where it has none. */
  readonly name: string;
  readonly place: Place;
  readonly figures: readonly Figure[];
  readonly loop?: string;
  readonly role?: Role;
  readonly edge?: EdgeKind;
  readonly contact?: "loop" | "firm" | "flush";
  readonly verdict?: Verdict;
  /** Bearing in which the machine drives in (stations). */
  readonly bearingDeg?: number;
  /** The feature of the input that it comes from, not fit to be shown. */
  readonly source?: SourceRef;
  /** What a hole in a lawn left; its source is the lawn's. */
  readonly isHole?: boolean;
  /** Whether the user placed it (stations). */
  readonly given?: boolean;
  /** What the user calls it, not fit to be shown (stations). */
  readonly ownName?: string;
  /** Set-in of its own, metres. */
  readonly setinM?: number;
}

/** One peg, of a loop's wire or of a guide wire. */
export interface PagePeg {
  /** `peg:` and its number. */
  readonly id: string;
  readonly number: string;
  readonly loop: string;
  readonly wire: "boundary" | "guide";
  readonly at: PointM;
  /** Along its wire from the station, metres: along the ground where that is known. */
  readonly chainageM: number;
  readonly secondChainageM?: number;
  readonly heightM?: number;
  readonly reason: PegPlace;
}

export interface PagePassage {
  /** Of its shape. */
  readonly id: string;
  readonly number: number;
  readonly widthM: number;
  /** Between the wires; 0 where they would meet. */
  readonly wireWidthM: number;
  readonly lengthM: number;
  readonly verdict: Verdict;
  readonly beyondM2: number;
  readonly at: PointM;
}

export interface PageFinding {
  /** `finding:` and its place in the list. */
  readonly id: string;
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly remedy: string;
  /** File, layer and feature in one line; empty where it concerns none. */
  readonly where: string;
  readonly at?: PointM;
}

export interface PageLoop {
  readonly name: string;
  readonly wireM: number;
  readonly pegs: number;
  readonly pairedRunM: number;
  readonly islands: number;
  readonly mownM2: number;
  readonly wireToBuyM: number;
  /** What a meter should show at 20 °C, ohm, and within which bounds. */
  readonly ohm: number;
  readonly leastOhm: number;
  readonly mostOhm: number;
}

export interface PageMaterial {
  readonly material: Material;
  readonly unit: "m" | "pieces";
  readonly used?: number;
  readonly spare: number;
  readonly toBuy?: number;
}

export interface PageJoint {
  /** `J1`, … */
  readonly number: string;
  readonly loop: string;
  readonly peg: string;
  readonly chainageM: number;
  readonly joins: "reels" | "guide-wire";
}

/** The wire comes by a peg. */
export interface WalkStop {
  /** Number of the peg. */
  readonly peg: string;
  readonly at: PointM;
  readonly chainageM: number;
  /** Steps of the guide that are done from here to the next stop: places in its section. */
  readonly steps: readonly number[];
}

/** A loop walked from its station and back to it. */
export interface Walk {
  readonly loop: string;
  /** Place of its section in the guide. */
  readonly section: number;
  readonly stops: readonly WalkStop[];
}

export interface PageTotals {
  readonly wireM: number;
  readonly wireToBuyM: number;
  readonly pegs: number;
  readonly pegsToBuy: number;
  readonly reels: number;
  readonly joints: number;
  readonly stations: number;
  readonly islands: number;
  readonly groundM2: number;
  readonly mownM2: number;
  readonly handTrimM2: number;
  readonly cutOffM2: number;
}

/** What of a model lies on the map. */
export type DrawnModel = Pick<
  PageModel,
  "grid" | "extent" | "loops" | "shapes" | "pegs" | "findings" | "walks"
>;

export interface PageModel {
  readonly tool: string;
  readonly version: string;
  readonly siteName: string;
  readonly grid: { readonly origin: LonLat; readonly proj: string };
  /** West, south, east, north, metres: all that is drawn. */
  readonly extent: readonly [number, number, number, number];
  readonly machine: {
    readonly name: string;
    readonly label: string;
    /** Its values, as a profile file has them. */
    readonly values: FullProfileFile;
  };
  /** Language and unit that the plan was written for; the reader may choose others. */
  readonly language: Language;
  readonly units: LengthUnit;
  /** Whether lengths are along the ground. */
  readonly onGround: boolean;
  readonly totals: PageTotals;
  readonly loops: readonly PageLoop[];
  /** From the ground up. */
  readonly shapes: readonly PageShape[];
  readonly pegs: readonly PagePeg[];
  readonly passages: readonly PagePassage[];
  readonly findings: readonly PageFinding[];
  readonly cautions: readonly Caution[];
  readonly materials: readonly PageMaterial[];
  readonly reelM: number;
  readonly joints: readonly PageJoint[];
  readonly prices?: PricedTotal;
  readonly guide: Guide;
  readonly walks: readonly Walk[];
  /** What the judge says of the finished wire. */
  readonly verdict?: "holds" | "broken";
}
