/** What a user can say of a site beside its files: the content of a site file, in our terms. */
import type { Geometry, LineString, MultiLineString, MultiPolygon, Point, Polygon } from "geojson";
import type { PlanOptions } from "./plan-options.ts";
import type { EdgeKind, Role } from "./roles.ts";
import type { SunRules } from "./sun.ts";

/** Ground too steep to mow is told only, or shut out by the wire. */
export const STEEP_CHOICES = ["tell", "shut"] as const;
export type SteepChoice = (typeof STEEP_CHOICES)[number];

/** What a feature's attribute must be. Without any of these: that it is there. */
export interface FieldTest {
  /** Attribute name; capitals do not matter. */
  readonly field: string;
  /** One of these values; text is compared without regard to capitals. */
  readonly is?: readonly (string | number | boolean)[] | undefined;
  readonly atLeast?: number | undefined;
  readonly atMost?: number | undefined;
}

/** Sort of geometry that a rule may ask for. */
export type ShapeKind = "area" | "line" | "point";

/** Attributes that a rule may give to a feature, as docs/roles.md has them. */
export type SetAttributes = Readonly<Record<string, string | number | boolean>>;

/** Gives a role, attributes or both to features that meet all of its conditions. */
export interface RoleRule {
  /** Layer name, or the innermost folder of a path; `*` stands for anything. */
  readonly layer?: string | undefined;
  readonly test?: FieldTest | undefined;
  readonly geometry?: ShapeKind | undefined;
  readonly role?: Role | undefined;
  readonly set?: SetAttributes | undefined;
}

/** A geometry that stands in a site file, as in GeoJSON. */
export type DrawnGeometry = Point | LineString | MultiLineString | Polygon | MultiPolygon;

/** What the user says of one feature of the inputs. */
export interface FeatureRule {
  /** The input's name; any where left out. */
  readonly file?: string | undefined;
  /** Layer name, or the innermost folder; any where left out. */
  readonly layer?: string | undefined;
  /** 1-based place in its layer; this or `id` is given. */
  readonly number?: number | undefined;
  /** The file's own id. */
  readonly id?: string | undefined;
  readonly role?: Role | undefined;
  readonly set?: SetAttributes | undefined;
  /** How far it is moved, metres east and north. */
  readonly moveM?: readonly [east: number, north: number] | undefined;
  /** In place of its own. */
  readonly geometry?: DrawnGeometry | undefined;
  /** System of `geometry`: an EPSG code, PROJ string or WKT; degrees where left out. */
  readonly crs?: number | string | undefined;
  /** Taken out. */
  readonly remove?: boolean | undefined;
}

/** Roles of what may be drawn in a site file; the others have keys of their own. */
export const DRAWN_ROLES = [
  "lawn",
  "bed",
  "water",
  "gravel",
  "paving",
  "building",
  "firm",
  "tree",
  "keep-out",
  "control",
] as const satisfies readonly Role[];
export type DrawnRole = (typeof DRAWN_ROLES)[number];

/** Something that the user draws beside what is in the inputs. */
export interface DrawnThing {
  readonly role: DrawnRole;
  readonly name?: string | undefined;
  readonly geometry: DrawnGeometry;
  /** An EPSG code, PROJ string or WKT; degrees where left out. */
  readonly crs?: number | string | undefined;
  readonly set?: SetAttributes | undefined;
}

/** A place that the user gives, in degrees (WGS 84, longitude first) or in a stated system. */
export interface Spot {
  readonly name?: string | undefined;
  readonly at: readonly [x: number, y: number];
  /** An EPSG code, PROJ string or WKT; degrees where left out. */
  readonly crs?: number | string | undefined;
}

/** What the lawn's edge is along a layer, along a line that the user draws, beside a role. */
export type EdgeRule =
  | { readonly layer: string; readonly edge: EdgeKind; readonly setinM?: number | undefined }
  | { readonly beside: Role; readonly edge: EdgeKind }
  | {
      readonly line: readonly (readonly [x: number, y: number])[];
      readonly crs?: number | string | undefined;
      readonly edge: EdgeKind;
      readonly setinM?: number | undefined;
    };

/** What runs of wire cost in an area: none may lie there, so many times more, or by its slope. */
export interface RunGroundSaid {
  readonly name?: string | undefined;
  readonly wire?: "no" | undefined;
  readonly runCost?: number | undefined;
  readonly slopePercent?: number | undefined;
}

/** Where runs of wire cost more or may not lie: the areas of a layer, or one that the user draws. */
export type RunGroundRule =
  | (RunGroundSaid & { readonly layer: string })
  | (RunGroundSaid & {
      readonly area: readonly (readonly [x: number, y: number])[];
      readonly crs?: number | string | undefined;
    });

/** Which lawns to plan: those that meet everything said here. */
export interface LawnChoice {
  /** Names, ids or `#number`s of features. */
  readonly names?: readonly string[] | undefined;
  readonly test?: FieldTest | undefined;
  readonly leastAreaM2?: number | undefined;
  /** A polygon in degrees, or the name of a layer that holds it: lawns mostly inside it. */
  readonly inside?: Geometry | string | undefined;
  /** The lawns nearest to a place, of those left by all else. */
  readonly nearest?: (Spot & { readonly count?: number | undefined }) | undefined;
}

/** Set-ins that override those of the profile, metres. The name wins over the role. */
export interface SetinRules {
  readonly roles?: Readonly<Partial<Record<Role, number>>> | undefined;
  readonly edges?: Readonly<Partial<Record<EdgeKind, number>>> | undefined;
  readonly things?: Readonly<Record<string, number>> | undefined;
}

/** How far a repair may go, metres (docs/repair.md). */
export interface RepairTolerances {
  /** Lawns with at most this between them along a front are one ground. */
  readonly joinGapM: number;
  /** Out and back within this is a spike. */
  readonly spikeWidthM: number;
  /** Lawn narrower than this between a thing and the lawn's edge, or by itself, is a sliver. */
  readonly sliverWidthM: number;
  /** A thing that sticks out over the lawn's edge by no more than this is cut back to it. */
  readonly overhangM: number;
  /** Shared area over area together from which two features of one role are the same one. */
  readonly sameShare: number;
  /** Ends of lines at most this far apart meet, where lines are put together to outlines. */
  readonly lineGapM: number;
  /** A lawn farther than this from every other is a stray one. */
  readonly farM: number;
  /** How far the chords of a curve (an arc, a circle) may lie from it. */
  readonly chordM: number;
}

export const REPAIR_TOLERANCES: RepairTolerances = {
  joinGapM: 0.02,
  spikeWidthM: 0.001,
  sliverWidthM: 0.02,
  overhangM: 0.15,
  sameShare: 0.98,
  lineGapM: 0.05,
  farM: 1000,
  chordM: 0.001,
};

/** Everything that a user says of a site beside its files. */
export interface SiteRules {
  /** Name of the file that says so, for messages. */
  readonly file?: string | undefined;
  readonly rules?: readonly RoleRule[] | undefined;
  /** Of single features; they come before `rules`. */
  readonly features?: readonly FeatureRule[] | undefined;
  readonly things?: readonly DrawnThing[] | undefined;
  readonly edges?: readonly EdgeRule[] | undefined;
  readonly runGround?: readonly RunGroundRule[] | undefined;
  readonly lawns?: LawnChoice | undefined;
  /** They take the place of those in the inputs. */
  readonly stations?: readonly Spot[] | undefined;
  readonly outlets?: readonly Spot[] | undefined;
  readonly setins?: SetinRules | undefined;
  readonly repair?: Partial<RepairTolerances> | undefined;
  readonly prices?: PriceList | undefined;
  /** When the machines may be out; by day from Monday to Saturday where left out. */
  readonly schedule?: ScheduleRules | undefined;
  /** Where given, even empty, the sun is computed. */
  readonly sun?: SunRules | undefined;
  /** What becomes of ground steeper than the profile allows; `tell` where left out. */
  readonly steep?: SteepChoice | undefined;
  /** What is decided about the plan as a whole. */
  readonly plan?: PlanOptions | undefined;
  /** Code words of survey points in place of the usual ones, list by list. */
  readonly surveyCodes?: SurveyCodeWords | undefined;
}

/** Lists of code words by what they do (docs/formats/survey-points.md), in lower case. */
export interface SurveyCodeWords {
  readonly start?: readonly string[];
  readonly end?: readonly string[];
  readonly close?: readonly string[];
  readonly arc?: readonly string[];
  readonly arcStart?: readonly string[];
  readonly arcEnd?: readonly string[];
  readonly points?: readonly string[];
}

/** When machines may be out. Clock times on the spot, `HH:MM`. */
export interface ScheduleRules {
  readonly from: string;
  readonly to: string;
  readonly days: readonly Weekday[];
  /** Times kept free, on all days or some. */
  readonly quiet: readonly {
    readonly from: string;
    readonly to: string;
    readonly days?: readonly Weekday[] | undefined;
  }[];
  /** First day of the season, `YYYY-MM-DD`: with it the timetable is also written as a calendar. */
  readonly start?: string | undefined;
}

/** By day, not on Sundays: common practice; local rules decide. */
export const SCHEDULE_DEFAULT: ScheduleRules = {
  from: "08:00",
  to: "20:00",
  days: ["mon", "tue", "wed", "thu", "fri", "sat"],
  quiet: [],
};

export const WEEKDAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"] as const;
export type Weekday = (typeof WEEKDAYS)[number];

/** What one piece of the price list counts. */
export const PRICED_UNITS = [
  "wire_m",
  "reel",
  "peg",
  "coupler",
  "connector",
  "station",
  "fixing",
  "lead_m",
  "outlet",
  "exclusion_loop",
  "lawn_m2",
  "plan",
] as const;
export type PricedUnit = (typeof PRICED_UNITS)[number];

/** Prices by unit, without tax. */
export interface PriceList {
  /** ISO 4217 code, e.g. `EUR`. */
  readonly currency: string;
  /** Tax on top, as a share; 0 where left out. */
  readonly taxRate: number;
  readonly items: readonly {
    readonly name: string;
    readonly per: PricedUnit;
    readonly unitPrice: number;
    /** Size of a reel, metres: the price counts where reels of this size are bought. */
    readonly reelM?: number | undefined;
  }[];
}
