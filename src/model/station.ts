import type { PointM } from "./geometry.ts";

/** Direct sun at a place, over the mowing season. */
export interface SunAtPlace {
  /** Hours of direct sun a day, on average. */
  readonly hoursADay: number;
  /** Share of the hot hours in which the place lies in shade, 0 to 1. */
  readonly hotShade: number;
}

/** What is known of ground and sky before planning; each is left out where nothing is known. */
export interface PlaceKnowledge {
  /** Height of the ground, metres; NaN where it is not known. */
  readonly heightAt?: ((eastM: number, northM: number) => number) | undefined;
  readonly sunAt?: ((atM: PointM) => SunAtPlace) | undefined;
}

/** The way of the lead from the nearest outlet to a place on the wire. */
export interface LeadWay {
  readonly lengthM: number;
  /** True where no way leads round the lawn, and the straight line over it is measured. */
  readonly acrossLawn: boolean;
}

/**
 * A place of the station in figures. Distances are undefined from `station.away_m` of the profile
 * on; what needs heights, sun or an outlet is undefined without them.
 */
export interface StationFigures {
  /** Weighted marks of what is known, 0 to 1. */
  readonly score: number;
  /** Straight wire on the shorter side, metres. */
  readonly straightM: number;
  /** Clear lawn in front, metres; looked at up to twice what the profile wants. */
  readonly clearAheadM: number;
  /** Slope of the ground under it, percent. */
  readonly slopePercent?: number | undefined;
  /** How much lower it lies than the ground 3 m round it, metres; 0 where it does not. */
  readonly hollowM?: number | undefined;
  readonly sun?: SunAtPlace | undefined;
  readonly lead?: LeadWay | undefined;
  /** Along the wire to the nearest concave corner, metres. */
  readonly cornerM?: number | undefined;
  /** To the nearest passage that is shut or only driven through, metres. */
  readonly passageM?: number | undefined;
  /** To the nearest island or firm thing on the lawn, metres. */
  readonly islandM?: number | undefined;
  readonly waterM?: number | undefined;
  /** To the nearest edge that is said to be public, metres. */
  readonly publicM?: number | undefined;
}

/** Another place where the station might stand. */
export interface StationOption {
  readonly atM: PointM;
  /** Bearing in which the machine drives in, degrees clockwise from grid north. */
  readonly bearingDeg: number;
  readonly figures: StationFigures;
}
